"""Stock that would pass in place of what a member is made of: its own functions at the loads it has now.

Every case is looked at, not only the one that decides now: another may decide for another size. The loads are those of
the frame as it stands; a stiffer member draws more of them, so the frame is run again with the size that is chosen.
Nothing is changed here: the designer writes the size into the file.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check
from sparwright.base.record import number
from sparwright.family.model import Model
from sparwright.margins.candidates import Candidate
from sparwright.margins.chain import Margins
from sparwright.margins.more_candidates import Besides, besides, every_candidate
from sparwright.margins.worst import known_margin
from sparwright.mass.record import Balance
from sparwright.parts.part import Assembly, Part
from sparwright.structure.answered import Answered

AGAIN = "loads as they are now: write the size into the file and run the frame again"
OFFERED = 6  # sizes told of one member


@dataclass(frozen=True)
class Choice:
    """One size that passes."""

    stock: str  # as it is asked for
    margin: float = number("1", "least margin of the member with it, loads as they are")
    mass: float = number("kg", "change of the empty weight; NaN where it is not worked out")
    station: float = number("m", "change of the empty centre of gravity, aft positive; NaN where not worked out")
    note: str = ""


@dataclass(frozen=True)
class Sized:
    """One member with the sizes that would pass."""

    id: str  # of the check that decides it
    title: str
    part: str
    stock: str  # what it is made of now
    margin: float = number("1", "its least margin now; NaN where it is not known")
    wanted: float = number("1", "least margin wanted", 0.0)
    choices: tuple[Choice, ...] = ()  # lightest first
    why: str = ""  # why there is none, or what is to be said of them
    kept: str = ""  # the designer's reason to keep the size

    @property
    def short(self) -> bool:
        """Whether its margin is less than wanted, or not known."""
        return not self.margin >= self.wanted

    @property
    def saves(self) -> float:
        """What the lightest choice takes off, kg, positive; nought where none is lighter."""
        masses = [-c.mass for c in self.choices if math.isfinite(c.mass)]
        return max(0.0, *masses) if masses else 0.0


def sizes(model: Model, assembly: Assembly, balance: Balance, found: Margins, wanted: str = "") -> tuple[Sized, ...]:
    """Every member with its choices, or those whose part, check or title has `wanted` in it. None without an answer."""
    if found.answer is None:
        return ()
    by_id = {c.id: c for c in found.checks}
    asked = [ids for ids in members_of(found.checks) if _is_wanted([by_id[i] for i in ids], wanted)]
    also = besides(model, found.answer, (i for ids in asked for i in ids), found.spans, found.motions)
    rows = (_sized(ids, by_id, model, found.answer, assembly, balance, also) for ids in asked)
    return tuple(rows)


def _is_wanted(checks: Sequence[Check], wanted: str) -> bool:
    return not wanted or any(wanted.lower() in x.lower() for c in checks for x in (c.id, c.part, c.title))


def members_of(checks: Iterable[Check]) -> list[tuple[str, ...]]:
    """Ids of checks by member: caps, webs, a tube, a wire, a lug, a pin, bolts, ribs of one sheet, a skin, a hinge."""
    grouped: dict[str, list[str]] = {}
    for c in checks:
        kind = c.id.split(".")[1]
        if kind in ("cases", "frame", "gone") or not c.part:
            continue
        grouped.setdefault(_member(c.id), []).append(c.id)
    return [tuple(ids) for ids in grouped.values()]


def _member(id: str) -> str:
    head, _, last = id.rpartition(".")
    parts = id.split(".")
    if parts[2].startswith("rib_") and parts[2] != "rib_truss":
        return ".".join((*parts[:2], "ribs", *parts[3:]))
    if len(parts) == 5 and parts[3] in ("skin_shear", "skin_flat", "skin_pressed"):
        return ".".join((*parts[:3], "skin", parts[4]))
    if parts[1] == "hinge" and last in ("bearing", "held"):
        return f"{head}.sheet"
    if last in ("caps", "caps_at_limit", "glue"):
        return f"{head}.caps"
    return f"{head}.webs" if last in ("webs", "buckling") else id


def _sized(ids: tuple[str, ...], by_id: dict[str, Check], model: Model, answer: Answered, assembly: Assembly,
           balance: Balance, also: Besides) -> Sized:  # fmt: skip
    checks = [by_id[i] for i in ids]
    worst = min(checks, key=lambda c: (math.isfinite(known_margin(c)), known_margin(c)))
    offered = every_candidate(model, answer, ids, assembly, also)
    limits, reserve = model.limits, model.limits.least_margin
    passing = [c for c in offered.found if c.margin >= reserve and not c.thick < (limits.least_gauge or 0.0)]
    choices = _few([_choice(c, offered.parts, balance) for c in passing])
    why = offered.why or ("" if choices else _none(offered.found, reserve))
    return Sized(worst.id, worst.title, assembly.right(worst.part), offered.stock, known_margin(worst), reserve,
                 choices, why, kept_for(model, worst.part))  # fmt: skip


def _few(choices: Sequence[Choice]) -> tuple[Choice, ...]:
    """The lightest first, each with more margin than those before it: what is heavier and weaker is no choice.

    All in the order of the file where no weight is worked out.
    """
    if not all(math.isfinite(c.mass) for c in choices):
        return tuple(choices)
    kept: list[Choice] = []
    for c in sorted(choices, key=lambda c: (c.mass, -c.margin)):
        if not kept or c.margin > kept[-1].margin + 1e-9:
            kept.append(c)
    return tuple(kept)


def _none(found: tuple[Candidate, ...], wanted: float) -> str:
    best = max((c.margin for c in found if math.isfinite(c.margin)), default=math.nan)
    if math.isnan(best):
        return "nothing is known of any size on file"
    return f"no size on file keeps {wanted:.0%}; the best has {best:.0%}"


def _choice(c: Candidate, parts: tuple[Part, ...], balance: Balance) -> Choice:
    mass = sum(p.mass * p.count for p in parts) * (c.heavier - 1) if parts else math.nan
    if not math.isfinite(mass):
        return Choice(c.stock, c.margin, math.nan, math.nan, c.note)
    places = np.concatenate([np.atleast_2d(p.places) for p in parts])
    weights = np.concatenate([np.full(p.count, p.mass) for p in parts])
    at = float(np.average(places[:, 0], weights=weights))
    total = balance.empty.value + mass
    return Choice(c.stock, c.margin, mass, mass * (at - balance.empty_station) / total, c.note)


def kept_for(model: Model, part: str) -> str:
    """The designer's reason to keep a part's size; empty where he gives none.

    A part is named by its number, or by how its number begins with a * at the end.
    """
    for row in model.limits.kept:
        if row.part == part or (row.part.endswith("*") and part.startswith(row.part[:-1])):
            return row.reason
    return ""


__all__ = ["AGAIN", "OFFERED", "Choice", "Sized", "kept_for", "members_of", "sizes"]
