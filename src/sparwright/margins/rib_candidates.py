"""What else the ribs of a wing, or a group of its stouter ones, could be cut from: sheets on file, with holes or none.

Loads as they are; of each rib the worst place of those parts whose checks are asked. A stiffer rib draws more torque.
Every use is a greatest of sums a V + b M with a and b not negative, so at each place only those cases count that no
other exceeds in shear and moment both. Where a load is not known in some case, no size of the group is known to pass.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.record import number
from sparwright.family.model import Model, Wing
from sparwright.margins.candidates import Candidate, Offered, gauge_of, sheets_like
from sparwright.margins.rib_loads import ON_THE_GROUND, Spans
from sparwright.margins.ribs import WholeRib, behind, loaded, on_the_ground, use_of, whole_ribs, zone
from sparwright.margins.sources import grained
from sparwright.margins.spar_run import Strengths
from sparwright.parts.part import Assembly
from sparwright.parts.passages import opened, passings
from sparwright.parts.ribs import RibGroup, hands, rib_groups, rib_number, stouter_of, trussed
from sparwright.structure.answered import Answered

DRAWS = "flange and bend stay; a stiffer rib draws more of the torque: run the frame again"
HINGED = "; what turns with the aileron changes with it"
THROUGH = "; what goes through its holes wants openings"


@dataclass(frozen=True)
class OfGroup:
    """The pieces of a group."""

    numbers: frozenset[str]
    area: float = number("m2", "of all on the right wing as they are")
    solid: float = number("m2", "without holes")


@dataclass(frozen=True)
class WingRibs:
    """The whole ribs of a wing with what they bear."""

    ribs: tuple[WholeRib, ...]
    solid: tuple[WholeRib, ...]  # the same without holes
    groups: Mapping[str, OfGroup]  # by name of the stouter ribs; empty for the others
    loads: tuple[tuple[np.ndarray, np.ndarray], ...] = number("N, N m", "(p, k) each: shear and moment that may decide")
    lost: tuple[np.ndarray, ...] = number("1", "(k,) each: whether the load is not known there in some case")
    open_: bool = False  # whether cases of wind and hand on an aileron are not in the loads


def wing_ribs(model: Model, answer: Answered, wing: Wing, spans: Spans) -> WingRibs:
    """Everything that sizes of a wing's ribs ask for."""
    whole = replace(wing, ribs=replace(wing.ribs, web_left=0.0),
                    stouter_ribs=tuple(replace(s, holes=False) for s in wing.stouter_ribs))  # fmt: skip
    through = passings(model)
    pieces, solid = (opened(w, rib_groups(model, w), through) for w in (wing, whole))
    ribs = whole_ribs(model, wing, pieces)
    loads = [loaded(model, answer, wing, r, spans) for r in ribs]
    names = ("", *(s.name for s in wing.stouter_ribs))
    groups = {n: OfGroup(_numbers(model, wing, pieces, n), _area(wing, pieces, n), _area(whole, solid, n))
              for n in names}  # fmt: skip
    return WingRibs(tuple(ribs), tuple(whole_ribs(model, whole, solid)), groups,
                    tuple(deciding(of.shear, of.moment) for of in loads),
                    tuple(~np.isfinite(of.shear + of.moment).all(axis=(0, 1, 2)) for of in loads),
                    bool(on_the_ground(answer, spans)))  # fmt: skip


def deciding(shear: np.ndarray, moment: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(p, k) each: of (..., k) shears and moments those that no other case exceeds in both; unknown ones are left out.

    >>> V, M = deciding(np.array([[1.0], [2.0], [0.5]]), np.array([[3.0], [1.0], [2.0]]))
    >>> V.ravel().tolist(), M.ravel().tolist()
    ([1.0, 2.0], [3.0, 1.0])
    """
    known = np.isfinite(shear) & np.isfinite(moment)
    V, M = (np.where(known, v, -1.0).reshape(-1, shear.shape[-1]) for v in (shear, moment))
    order = np.lexsort((-V, -M), axis=0)
    V, M = np.take_along_axis(V, order, 0), np.take_along_axis(M, order, 0)
    most = np.vstack([np.full(V.shape[1], -np.inf), np.maximum.accumulate(V, axis=0)[:-1]])
    first = np.argsort(V <= most, axis=0, kind="stable")[: int((V > most).sum(axis=0).max())]
    return tuple(np.take_along_axis(v, first, 0) for v in (V, M))  # type: ignore[return-value]


def rib_group(model: Model, ids: Sequence[str]) -> tuple[str, str, tuple[str, ...]] | None:
    """(wing, name of its stouter ribs or nothing, kinds of PARTS) that checks of these ids are of; None for others."""
    _, name, kind, *rest = ids[0].split(".")
    if kind not in ("rib_nose", "rib_middle", "rib_tail") or all(w.name != name for w in model.wings):
        return None
    return name, rest[0] if rest else "", tuple(i.split(".")[2] for i in ids)


def rib_candidates(model: Model, of: WingRibs, name: str, kinds: Sequence[str], assembly: Assembly) -> Offered:
    """Every sheet of the same material on file, with the holes they have and, where they have some, without."""
    group, strong = of.groups[name], grained(model)
    made = next(r.made[behind(k)] for r in of.ribs for k in kinds if r.names[behind(k)] == name)
    parts = tuple(p for p in assembly.parts if p.number in group.numbers)
    now = gauge_of(made.sheet.thickness) + ("" if made.web_left else ", no holes")
    if of.open_ and _hinged(of, name, kinds):
        return Offered(now, parts, (), ON_THE_GROUND)
    words, found = DRAWS + ("" if name else HINGED), []
    for thick in (made.sheet.thickness, *sheets_like(model, made.sheet.material, made.sheet.thickness)):
        times = thick / made.sheet.thickness
        if times != 1:
            margin = _margin(of.ribs, of, kinds, name, thick, strong)
            found.append(Candidate(gauge_of(thick), margin, times, thick, words))
        if made.web_left:
            margin = _margin(of.solid, of, kinds, name, thick, strong)
            heavier = times * group.solid / group.area
            found.append(Candidate(f"{gauge_of(thick)}, no holes", margin, heavier, thick, words + THROUGH))
    return Offered(now, parts, tuple(found))


def _hinged(of: WingRibs, name: str, kinds: Sequence[str]) -> bool:
    """Whether a part that is asked holds an aileron: its nose does not, as in ribs.rib_checks."""
    return any(r.hinged and r.names[behind(k)] == name for r in of.ribs for k in kinds if k != "rib_nose")


def _of(wing: Wing, groups: Sequence[RibGroup], name: str) -> list[RibGroup]:
    """The shapes of sheet of a group."""
    mine = ((g, stouter_of(wing, g[0])) for g in groups if not trussed(wing, g))
    return [g for g, s in mine if (s.name if s else "") == name]


def _numbers(model: Model, wing: Wing, groups: Sequence[RibGroup], name: str) -> frozenset[str]:
    return frozenset(rib_number(model, wing, g, h) for g in _of(wing, groups, name) for h in hands(wing))


def _area(wing: Wing, groups: Sequence[RibGroup], name: str) -> float:
    return sum(p.piece.area for g in _of(wing, groups, name) for p in g)


def _margin(ribs: Sequence[WholeRib], of: WingRibs, kinds: Sequence[str], name: str, thick: float,
            strengths: Strengths) -> float:  # fmt: skip
    """Least margin of a group with that sheet; NaN where one use or load is not known, or it has no place at all."""
    worst = []
    for rib, (V, M), lost in zip(ribs, of.loads, of.lost, strict=True):
        for i, k in ((behind(k), k) for k in kinds):
            there = zone(rib, k)
            if rib.names[i] == name and there.any():
                made, n = replace(rib.made[i], sheet=replace(rib.made[i].sheet, thickness=thick)), rib.sheets[i]
                use = use_of(made, rib.cut.where(there), V[:, there] / n, M[:, there] / n, strengths)
                worst.append(math.nan if lost[there].any() else float(use.max()))
    return 1 - max(worst) if worst and not any(map(math.isnan, worst)) else math.nan
