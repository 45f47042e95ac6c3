"""Which case a test stands for: of those that load both sides alike, the one that uses most of what is tested.

The use of a case is the greatest of the strength checks of the tested members under that case's limit forces, the frame
as rigged: the same checks as of the margins, which name the case that decides. Cases whose inner forces are not known
are told: one of them might use more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.check import Check
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.loads.laid_out import LaidOut, SpanLoad
from sparwright.margins.braces import Strengths, brace_checks
from sparwright.margins.metal_spars import metal_spar_checks
from sparwright.margins.sources import grained, strengths
from sparwright.margins.spar_run import Strengths as Grained
from sparwright.margins.tubes import tube_checks
from sparwright.margins.wood_spars import wood_spar_checks
from sparwright.maths.frame.record import Solved
from sparwright.structure.answered import RIGGED, ULTIMATE, Answered, by_name
from sparwright.structure.bar import Skeleton
from sparwright.structure.laid import Laid

TRIED = 4  # cases that are looked at in turn
UNEVEN = 0.02  # sides that differ by more are not loaded by the same bags


@dataclass(frozen=True)
class Governing:
    """The case of a test."""

    place: int = number("1", "place among the cases")
    use: float = number("1", "of limit strength at limit load, of the tested member that is used most")
    member: str = ""  # title of its check
    id: str = ""  # of that check


@dataclass(frozen=True)
class Asked:
    """The cases that a test may stand for, the one that uses most first."""

    known: tuple[Governing, ...] = ()
    lost: tuple[str, ...] = ()  # those that are not known, with the reason
    uses: tuple[Check, ...] = ()  # strength checks of the tested members under all known cases together


def asked(
    model: Model,
    answer: Answered,
    laid: Sequence[LaidOut],
    held: Held,
    wanted: Callable[[LaidOut], bool],
    tested: Callable[[str], bool],
    enough: float,
    able: Callable[[int], bool],
) -> Asked:
    """The cases that are wanted, by how much they use of the tested members, down to `enough` of the first.

    able: whether a case asks for any bags at all, more than the structure's own weight.
    """
    left, lost = list[int](), list[str]()
    for i, one in enumerate(laid):
        if not wanted(one) or not able(i):
            continue
        if answer.limit[0].good[i]:
            left.append(i)
        else:
            lost.append(f"{one.case.key}: {by_name(answer.laid[i].why or answer.limit[0].why[i], answer.skeleton)}")
    found, uses = list[Governing](), tuple[Check, ...]()
    while left and len(found) < TRIED:
        checks = tuple(used(model, answer.skeleton, [answer.laid[i] for i in left], at(answer.limit[0], left), held,
                            tested))  # fmt: skip
        uses = uses or checks
        best = _worst(answer, left, checks)
        if best is None or (found and best.use < enough * found[0].use):
            break
        found.append(best)
        left.remove(best.place)
    return Asked(tuple(found), tuple(lost), uses)


def _worst(answer: Answered, among: Sequence[int], checks: Sequence[Check]) -> Governing | None:
    """The case of some that uses most of a tested member: the one that the member's own check names."""
    mine = [c for c in checks if np.isfinite(c.value)]
    if not mine:
        return None
    best = max(mine, key=of_limit)
    title = best.case.removesuffix(f", {RIGGED}")
    place = next(i for i in among if answer.laid[i].case.title == title)
    return Governing(place, of_limit(best), best.title, best.id)


@dataclass(frozen=True)
class Held:
    """Where a model's strengths come from."""

    tubes: Strengths
    spars: Grained

    @staticmethod
    def of(model: Model) -> Held:
        """Of a model."""
        return Held(strengths(model), grained(model))


def used(
    model: Model,
    skeleton: Skeleton,
    laid: Sequence[Laid],
    solved: Solved,
    held: Held,
    asked_for: Callable[[str], bool] = lambda _: True,
) -> Iterator[Check]:
    """The strength checks of every member under some states of the frame as rigged, at their own level of load.

    asked_for: which of them, by their ids.
    """
    one = Answered(skeleton, tuple(laid), (RIGGED,), (solved,), (solved,))
    yield from (c for c in _checks(model, one, held, asked_for) if asked_for(c.id))


def _checks(model: Model, one: Answered, held: Held, asked_for: Callable[[str], bool]) -> Iterator[Check]:
    """Those that are asked for, and others."""
    yield from tube_checks(one, held.tubes.material, asked_for=asked_for)
    for wing in model.wings:
        for spar in wing.spars:
            if not asked_for(f"strength.{wing.name}.{spar.name}."):
                continue
            wooden = material(spar.cap.material).kind == "wood"
            yield from (wood_spar_checks if wooden else metal_spar_checks)(model, one, wing, spar, held.spars)
    yield from brace_checks(model, one, held.tubes)


def of_limit(c: Check) -> float:
    """What a strength check at limit load uses of limit strength: its use of ultimate strength 1.5 times.

    A check that is one of limit load itself, by its title, counts as it is.
    """
    return c.value * (1.0 if "limit load" in c.title else ULTIMATE)


def at(s: Solved, which: Sequence[int]) -> Solved:
    """Some cases of a solution."""
    row = list(which)
    return replace(
        s,
        moved=s.moved[row],
        force=s.force[row],
        pull=s.pull[row],
        slack=s.slack[row],
        reaction=s.reaction[row],
        good=s.good[row],
        why=tuple(s.why[i] for i in row),
        turns=s.turns[row],
    )


def alike(one: LaidOut) -> bool:
    """Whether a case loads both sides of every surface alike, within 2 %."""
    for span in one.spans:
        if span.side != "R":
            continue
        other = half(one, span.surface, "L")
        if other is None:
            return False
        a, b = float(span.normal @ span.width), float(other.normal @ other.width)
        if abs(a - b) > UNEVEN * max(abs(a), abs(b)):
            return False
    return True


def half(one: LaidOut, surface: str, side: str) -> SpanLoad | None:
    """The load along a half of a surface in a case; None where the case has none."""
    return next((s for s in one.spans if s.surface == surface and s.side == side), None)


def carried(one: LaidOut, surface: str, side: str) -> float:
    """N, the whole normal force on a half of a surface; NaN where the case has none."""
    span = half(one, surface, side)
    return float("nan") if span is None else float(span.normal @ span.width)
