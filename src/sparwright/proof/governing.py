"""Which case a test stands for: of those that load both sides alike, the one that uses most of what is tested.

The use of a case is the greatest of the strength checks of the tested members under that case's limit forces alone, the
frame as rigged: the same checks as of the margins. Cases whose inner forces are not known are told: one of them might
use more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from sparwright.base.check import Check
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.loads.laid_out import LaidOut, SpanLoad
from sparwright.margins.braces import Strengths, brace_checks
from sparwright.margins.chain import grained, strengths
from sparwright.margins.metal_spars import metal_spar_checks
from sparwright.margins.spar_run import Strengths as Grained
from sparwright.margins.tubes import tube_checks
from sparwright.margins.wood_spars import wood_spar_checks
from sparwright.maths.frame.record import Solved
from sparwright.structure.answered import RIGGED, Answered, by_name
from sparwright.structure.bar import Skeleton
from sparwright.structure.laid import Laid

UNEVEN = 0.02  # sides that differ by more are not loaded by the same bags


@dataclass(frozen=True)
class Governing:
    """The case of a test."""

    place: int = number("1", "place among the cases")
    use: float = number("1", "of ultimate strength at limit load, of the tested member that is used most")
    member: str = ""  # title of its check


@dataclass(frozen=True)
class Asked:
    """The cases that a test may stand for, the one that uses most first."""

    known: tuple[Governing, ...] = ()
    lost: tuple[str, ...] = ()  # those that are not known, with the reason


Uses = Callable[[int], tuple[Check, ...]]  # the strength checks of every member under one case's limit forces


def uses_of(model: Model, answer: Answered) -> Uses:
    """The checks of each case, worked out once."""
    held = Held.of(model)
    return cache(lambda i: tuple(used(model, answer.skeleton, answer.laid[i], at(answer.limit[0], i), held)))


def asked(answer: Answered, laid: Sequence[LaidOut], uses: Uses, wanted: Callable[[LaidOut], bool],
          tested: Callable[[Check], bool]) -> Asked:  # fmt: skip
    """The cases that are wanted, by how much they use of the tested members."""
    found, lost = list[Governing](), list[str]()
    for i, one in enumerate(laid):
        if not wanted(one):
            continue
        if not answer.limit[0].good[i]:
            lost.append(f"{one.case.key}: {by_name(answer.laid[i].why or answer.limit[0].why[i], answer.skeleton)}")
            continue
        mine = [(c.value, c.title) for c in uses(i) if tested(c) and np.isfinite(c.value)]
        if mine:
            found.append(Governing(i, *max(mine)))
    return Asked(tuple(sorted(found, key=lambda g: (-g.use, g.place))), tuple(lost))


@dataclass(frozen=True)
class Held:
    """Where a model's strengths come from."""

    tubes: Strengths
    spars: Grained

    @staticmethod
    def of(model: Model) -> Held:
        """Of a model."""
        return Held(strengths(model), grained(model))


def used(model: Model, skeleton: Skeleton, laid: Laid, solved: Solved, held: Held) -> Iterator[Check]:
    """The strength checks of every member under one state of the frame, at its own level of load."""
    one = Answered(skeleton, (laid,), (RIGGED,), (solved,), (solved,))
    yield from tube_checks(one, held.tubes.material)
    for wing in model.wings:
        for spar in wing.spars:
            wooden = material(spar.cap.material).kind == "wood"
            yield from (wood_spar_checks if wooden else metal_spar_checks)(model, one, wing, spar, held.spars)
    yield from brace_checks(model, one, held.tubes)


def at(s: Solved, i: int) -> Solved:
    """One case of a solution."""
    row = slice(i, i + 1)
    return replace(s, moved=s.moved[row], force=s.force[row], pull=s.pull[row], slack=s.slack[row],
                   reaction=s.reaction[row], good=s.good[row], why=s.why[row], turns=s.turns[row])  # fmt: skip


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
