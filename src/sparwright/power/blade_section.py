"""Section data of a propeller's blade at any angle and Reynolds number, out of the house's own section flow.

Polars are those of air/polars.py, at its fixed Reynolds numbers, so that wings and blades of all models share them.
Between Reynolds numbers data go straight in log Re. Beyond the last angle that settled on either side, or at which a
thin nose lets go (air/nose_stall.py), lift and drag go straight to a stalled plate's at 30 deg. From 50 down to 5
thousand, which only the roots of models reach, the polar at 50 thousand stands. Elsewhere: NaN. How it compares with
measured propellers: docs/decisions/propeller.md. Not in it: the rise of lift with Mach number, and what rotation does
to a stalled section.

Symbols: a angle of attack of the chord, rad; cl, cd section coefficients; Re Reynolds number; CN force on a plate.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np

from sparwright.air import nose_stall
from sparwright.air.behaviour import GRID, column, knots
from sparwright.air.polars import KNOTS, Asked, Polars, Table, Told, table
from sparwright.base.record import locked, number
from sparwright.family.model import Section
from sparwright.power.blade import Blade
from sparwright.power.gas import Gas
from sparwright.shape.section import thickness_ratio

PLATE = np.radians(30.0)  # a stalled plate from here on (common practice, no source)
ANGLES = np.radians(np.arange(-360, 361) / 4.0)  # rad
STEP = float(ANGLES[1] - ANGLES[0])
CARRIED = 5e3  # least Reynolds number at which the polar of KNOTS[0] stands
MOST_ADVANCE = 1.6  # V/(nD) up to which Reynolds numbers are provided for
LiftDrag = Callable[[np.ndarray], tuple[np.ndarray, np.ndarray]]


class SectionData(Protocol):
    """What blade elements ask: sections at their Reynolds numbers, the last axis being the elements."""

    def at(self, reynolds: np.ndarray) -> LiftDrag:
        """A function that gives (cl, cd) at angles of the same shape."""


@dataclass(frozen=True)
class BladeSection:
    """One section over Reynolds numbers and the angles of ANGLES."""

    reynolds: np.ndarray  # (r,)
    lift: np.ndarray  # (r, a)
    drag: np.ndarray  # (r, a)
    least: float = number("1", "least Reynolds number it is used at", KNOTS[0])

    def at(self, reynolds: np.ndarray) -> LiftDrag:
        """(cl, cd) at such Reynolds numbers; NaN outside the range."""
        r, count = self.reynolds, ANGLES.size
        inside = (reynolds >= self.least) & (reynolds <= r[-1])
        held = np.clip(reynolds, r[0], r[-1])
        i = np.clip(np.searchsorted(r, held) - 1, 0, max(r.size - 2, 0))
        above = np.minimum(i + 1, r.size - 1)
        with np.errstate(divide="ignore", invalid="ignore"):
            part = np.where(above > i, np.log(held / r[i]) / np.log(r[above] / r[i]), 0.0)
        part = np.where(inside, part, np.nan)
        lift, drag = self.lift.ravel(), self.drag.ravel()

        def lift_drag(alpha: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
            place = (alpha - ANGLES[0]) / STEP
            j = np.clip(place.astype(int), 0, count - 2)
            f = place - j
            low, high = i * count + j, above * count + j
            cl, cd = ((t[low] + f * (t[low + 1] - t[low])) * (1 - part) + (t[high] + f * (t[high + 1] - t[high])) * part
                      for t in (lift, drag))  # fmt: skip
            return cl, cd

        return lift_drag


@dataclass(frozen=True)
class Along:
    """The sections of a blade along its elements."""

    sections: tuple[BladeSection, ...]
    shares: np.ndarray  # (elements, sections)

    def at(self, reynolds: np.ndarray) -> LiftDrag:
        """(cl, cd): where two sections meet, each by its part."""
        on = [(s, np.flatnonzero(share > 0), share[share > 0])
              for s, share in zip(self.sections, self.shares.T, strict=True)]  # fmt: skip
        each = [(s.at(reynolds[..., k]), k, share) for s, k, share in on if k.size]

        def lift_drag(alpha: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
            if len(each) == 1:
                return each[0][0](alpha)
            cl, cd = np.zeros(alpha.shape), np.zeros(alpha.shape)
            for of, k, share in each:
                lift, drag = of(alpha[..., k])
                cl[..., k] += share * lift
                cd[..., k] += share * drag
            return cl, cd

        return lift_drag


@lru_cache(maxsize=256)
def _table(asked: Asked) -> Table:
    return table(asked)


def worked_out_once(asked: Sequence[Asked], told: Told | None = None) -> Mapping[Asked, Table]:
    """Polars for whoever has none kept: each worked out the first time it is asked for, some seconds."""
    found = {}
    for i, one in enumerate(asked):
        if told:
            told(i / len(asked), f"{one.section.name} at Re {one.reynolds / 1e6:.2g} million, {one.surface}")
        found[one] = _table(one)
    return found


def plate(alpha: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(cl, cd) of a stalled flat plate: CN = 1/(0.222 + 0.283/sin a), cl = CN cos a, cd = CN sin a.

    Source: hoerner-drag, ch. 3 (memory). Range: fully stalled, here from 30 deg.
    """
    size = np.maximum(np.abs(np.sin(alpha)), 1e-9)
    normal = 1.0 / (0.222 + 0.283 / size)
    return np.sign(alpha) * normal * np.cos(alpha), normal * size


def sections_along(blade: Blade, turning: tuple[float, float], air: Gas, polars: Polars = worked_out_once,
                   told: Told | None = None) -> Along:  # fmt: skip
    """The section data of a blade between two turning rates (rev/s), standing and up to V/(nD) 1.6."""
    wanted = asked(blade, turning, air)
    found = polars(wanted, told)
    r, _, _, _ = blade.elements()
    shares = [np.interp(r, blade.r, share) for share in np.transpose(blade.shares)]  # type: ignore[arg-type]
    return Along(tuple(of_polars(s, found) for s in blade.sections), locked(np.transpose(shares)))


def asked(blade: Blade, turning: tuple[float, float], air: Gas) -> tuple[Asked, ...]:
    """The polars that a blade wants between two turning rates, rev/s: each section where it stands."""
    r, _, chord, _ = blade.elements()
    found: dict[Asked, None] = {}
    for section, share in zip(blade.sections, np.transpose(blade.shares), strict=True):  # type: ignore[arg-type]
        here = np.interp(r, blade.r, share) > 0
        slow, fast = (np.hypot(2 * np.pi * n * r, j * n * blade.diameter) * chord * air.density / air.viscosity
                      for n, j in ((turning[0], 0.0), (turning[1], MOST_ADVANCE)))  # fmt: skip
        if np.any(here):
            plain = Section(name=section.name, naca=section.naca, points=section.points, surface=section.surface)
            for re in knots(float(slow[here].min()), float(fast[here].max())):
                found[Asked(plain, section.surface, re)] = None
    return tuple(found)


def of_polars(section: Section, found: Mapping[Asked, Table]) -> BladeSection:
    """A section's data out of its polars. ValueError where none is among them."""
    want = (section.naca, section.points, section.surface)
    mine = {a.reynolds: t for a, t in found.items() if (a.section.naca, a.section.points, a.surface) == want}
    if not mine:
        raise ValueError(f"no polar of the blade's section {section.name} was worked out")
    reynolds = sorted(mine)
    rows = [_all_round(mine[re], re, thickness_ratio(section)) for re in reynolds]
    lift, drag = (locked([row[i] for row in rows]) for i in (0, 1))
    return BladeSection(locked(reynolds), lift, drag, CARRIED if reynolds[0] == KNOTS[0] else reynolds[0])


def _all_round(table: Table, reynolds: float, thickness: float) -> tuple[np.ndarray, np.ndarray]:
    """(lift, drag) at ANGLES: the settled polar, straight on to the plate, the plate."""
    lift, drag = column(table, "lift"), column(table, "drag")
    known = np.isfinite(lift) & np.isfinite(drag)
    if thickness < nose_stall.THIN:
        low, high = nose_stall.ends(GRID, lift, column(table, "peak"), reynolds)
        known &= ~(low > GRID) & ~(high < GRID)
    if not known.any():
        nothing = np.full(ANGLES.size, np.nan)
        return nothing, nothing
    ends, stalled = np.array([-PLATE, PLATE]), np.abs(ANGLES) > PLATE
    at = np.concatenate([ends[:1], GRID[known], ends[1:]])
    found = []
    for settled, at_ends, beyond in zip((lift, drag), plate(ends), plate(ANGLES), strict=True):
        values = np.concatenate([at_ends[:1], settled[known], at_ends[1:]])
        found.append(np.where(stalled, beyond, np.interp(ANGLES, at, values)))
    return found[0], found[1]
