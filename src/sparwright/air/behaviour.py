"""How a section behaves at any angle and Reynolds number, out of its polars, with bands.

Between the angles of a polar a monotone cubic (scipy, PCHIP) goes through those that settled, over gaps of two degrees
at most (five in a designer's own table); between Reynolds numbers the columns go straight in log Re. Beyond the last
angle that settled on either side, past where a stalled section's lift rises again, and outside the Reynolds numbers
worked out, the answer is NaN; `reason` says why where it is the Reynolds number or the greatest lift.

Where the nose of a thin section lets go before (air/nose_stall.py), its greatest lift is what it carries there, and
beyond that angle all is NaN: the flow breaks away at once, and what is left of the lift is not known. Only `lift_at`
goes on with the section flow's own lift, for a solver that steps past that angle and comes back.

Greatest lift, and its band. The value is the greatest of the polar with the surface the designer states, followed by a
fall. Three things may be off, each a fraction of it, and they are taken to be independent:

    method     ours against the measured sections of docs/accuracy.md, METHOD below; UNSEEN for a thin section below
               the Reynolds numbers at which it is known what a nose holds
    surface    the least and greatest among the smooth, the built and the rough polar; unknown where one of them is
    building   what a trip does not show: `lift_low` of data/surfaces.toml, downwards only

    low = value (1 - sqrt(sum of the downward fractions squared)), high alike

A designer's own measured table has its own give or take in place of method and surface, and stands for Reynolds numbers
from its own over REACH to its own times REACH (common practice, no source).

Drag: low and high are the least and greatest among the three surfaces, DRAG wider; moment and places have none.
Symbols: cl, cd, cm section lift, drag, moment about the quarter chord; Re Reynolds number on the chord.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.interpolate import PchipInterpolator

from sparwright.air import nose_stall
from sparwright.air.polars import KNOTS, Asked, Table, surfaces
from sparwright.base.record import locked, number
from sparwright.base.source import Band
from sparwright.family.model import Measured, Section
from sparwright.shape.section import thickness_ratio

GRID = np.radians(np.arange(-120, 261) / 10.0)  # rad, angles the columns are kept at
GAP = math.radians(2.01)  # widest gap between settled angles that is bridged
MEASURED_GAP = math.radians(5.01)  # the same between the angles of a designer's own table
START = math.radians(2.0)  # the run of settled angles is the one about this
DROP = 0.02  # of the lift coefficient: a lift that has fallen by this has stalled
FALL = 0.002  # of the lift coefficient: a greatest lift must be followed by a fall of this
# thinnest, thickest (chords), downward and upward fraction: theirs over ours lies between; docs/accuracy.md
METHOD = ((0.0, nose_stall.THIN, 0.10, 0.10), (nose_stall.THIN, 0.165, 0.10, 0.07), (0.165, 1.0, 0.15, 0.07))
UNSEEN = (0.28, 0.07)  # of the thinnest below nose_stall.FIRST
DRAG = (0.90, 1.15)
REACH = 1.5
DESIGNER = "designer"  # in place of a source's key: a table of the family file
KEPT = ("lift", "drag", "moment", "turns_upper", "turns_lower", "parts_upper", "parts_lower")


@dataclass(frozen=True)
class Place:
    """Where Reynolds numbers stand among those on file."""

    below: np.ndarray  # index of the one below
    above: np.ndarray  # and of the one above
    part: np.ndarray  # of the way from one to the other, in log Re; NaN outside

    def mixed(self, column: np.ndarray, at: np.ndarray | None = None) -> np.ndarray:
        """A row of numbers over the Reynolds numbers, or of columns (..., r, g) at places of GRID, straight between."""
        low, high = (column[i] if at is None else column[..., i, at] for i in (self.below, self.above))
        between = low * (1 - self.part) + high * self.part
        return np.asarray(np.where(self.part == 0, low, np.where(self.part == 1, high, between)))


@dataclass(frozen=True)
class Behaviour:
    """One section: (r, g) columns over r Reynolds numbers and the g angles of GRID."""

    name: str
    key: str  # of the source
    place_in_it: str
    reynolds: np.ndarray  # (r,)
    columns: Mapping[str, np.ndarray]  # by name, (r, g), NaN where unknown
    drag_band: np.ndarray  # (2, r, g) low, high
    greatest: np.ndarray  # (3, r) greatest lift: value, low, high; NaN where it is not reached
    nose: np.ndarray  # (2, r) rad, lower and upper angle at which the nose lets go; NaN where it does not
    reach: float = number("1", "factor by which the Reynolds numbers may be overstepped", 1.0)

    @property
    def source(self) -> str:
        """Where it comes from, in words."""
        return f"{self.key}, {self.place_in_it}{self.of_the_nose}"

    @property
    def of_the_nose(self) -> str:
        """What is to be said of its nose, in words; empty where it ends nothing."""
        if not np.isfinite(self.nose[1]).any():
            return ""
        low = self.reynolds[np.isfinite(self.nose[1])].min() < nose_stall.FIRST
        below = f"; below {nose_stall.FIRST:,.0f} no published curve: an upper end, band {UNSEEN[0] * 100:.0f} % down"
        return f" ({self.name}: its nose lets go by {nose_stall.KEY}, {nose_stall.MARK}{below if low else ''})"

    @property
    def range(self) -> tuple[float, float]:
        """Least and greatest Reynolds number."""
        return float(self.reynolds[0]) / self.reach, float(self.reynolds[-1]) * self.reach

    def place(self, re: np.ndarray) -> Place:
        """Where Reynolds numbers stand among those on file."""
        r, (low, high) = self.reynolds, self.range
        re = np.asarray(re, dtype=float)
        inside, held = (re >= low) & (re <= high), np.clip(re, r[0], r[-1])
        if r.size == 1:
            first = np.zeros(re.shape, int)
            return Place(first, first, np.where(inside, 0.0, np.nan))
        i = np.clip(np.searchsorted(r, held) - 1, 0, r.size - 2)
        part = np.log(held / r[i]) / np.log(r[i + 1] / r[i])
        return Place(i, i + 1, np.where(inside, part, np.nan))

    def at(self, name: str, alpha: np.ndarray, re: np.ndarray) -> np.ndarray:
        """A column at angles (rad) and Reynolds numbers of one shape; NaN where it is not known."""
        return self._look(self.columns[name], alpha, re)

    def ends_at(self, place: Place) -> tuple[np.ndarray, np.ndarray]:
        """(lower, upper) angle, rad, at which the nose lets go; infinite where it does not.

        Between two Reynolds numbers of which it does at one, it is taken to, at the angle of the other's own stall.
        """
        found = []
        for ended, own, far in zip(self.nose, (self._least_angles, self._stall_angles), (-np.inf, np.inf), strict=True):
            does, angle = np.isfinite(ended), np.where(np.isfinite(ended), ended, own)
            counts = (does[place.below] & (place.part < 1)) | (does[place.above] & (place.part > 0))
            found.append(np.where(counts, place.mixed(angle), far))
        return found[0], found[1]

    def within(self, i: int) -> np.ndarray:
        """(g,) which angles of GRID lie short of where the nose lets go, at the i-th Reynolds number."""
        low, high = self.nose[:, i]
        return np.asarray(~(low - GRID > 1e-9) & ~(GRID - high > 1e-9))

    def lift(self, alpha: np.ndarray, re: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(cl, its slope a rad) at angles and Reynolds numbers of one shape; the slope is continuous."""
        place = self.place(re)
        cl, slope = self.lift_at(alpha, place)
        inside = self._inside(alpha, place)
        return np.where(inside, cl, np.nan), np.where(inside, slope, np.nan)

    def lift_at(self, alpha: np.ndarray, place: Place) -> tuple[np.ndarray, np.ndarray]:
        """The same with the Reynolds numbers' places found before, and on past where the nose lets go."""
        k, s = _along(np.asarray(alpha, dtype=float))
        step = GRID[1] - GRID[0]
        (y0, y1), (d0, d1) = place.mixed(self._lift_and_slope, np.array([k, k + 1]))
        d0, d1 = step * d0, step * d1
        rise = y1 - y0
        b, c = 3 * rise - 2 * d0 - d1, d0 + d1 - 2 * rise
        return y0 + s * (d0 + s * (b + s * c)), (d0 + s * (2 * b + 3 * s * c)) / step

    @cached_property
    def _lift_and_slope(self) -> np.ndarray:
        """(2, r, g)."""
        return np.array([self.columns["lift"], self.columns["lift_slope"]])

    def drag(self, alpha: np.ndarray, re: np.ndarray) -> Band:
        """cd with its band at angles and Reynolds numbers of one shape."""
        low, high = (self._look(c, alpha, re) for c in self.drag_band)
        return Band(self.at("drag", alpha, re), low, high)  # type: ignore[arg-type]

    def lift_limit(self, re: np.ndarray) -> Band:
        """Greatest lift with its band at Reynolds numbers."""
        place = self.place(re)
        return Band(*(place.mixed(g) for g in self.greatest))  # type: ignore[arg-type]

    def stall_angle(self, re: np.ndarray) -> np.ndarray:
        """The angle, rad, of greatest lift at Reynolds numbers; NaN where it is not reached."""
        return self.stall_at(self.place(re))

    def stall_at(self, place: Place) -> np.ndarray:
        """The same with the Reynolds numbers' places found before."""
        return place.mixed(self._stall_angles)

    def least_at(self, place: Place) -> np.ndarray:
        """The angle, rad, of least lift at such places."""
        return place.mixed(self._least_angles)

    @cached_property
    def _stall_angles(self) -> np.ndarray:
        """(r,) rad; NaN where the greatest lift is not reached."""
        lift = self.columns["lift"]
        angles = GRID[np.argmax(np.where(np.isfinite(lift), lift, -np.inf), axis=1)]
        angles = np.where(np.isfinite(self.nose[1]), self.nose[1], angles)
        return np.where(np.isfinite(self.greatest[0]), angles, np.nan)

    @cached_property
    def _least_angles(self) -> np.ndarray:
        """(r,) rad, of least lift."""
        lift = self.columns["lift"]
        return np.asarray(GRID[np.argmin(np.where(np.isfinite(lift), lift, np.inf), axis=1)])

    def angle_of(self, cl: np.ndarray, re: np.ndarray) -> np.ndarray:
        """The angle, rad, below greatest lift at which the section has a lift; NaN beyond what is known."""
        cl, re = np.broadcast_arrays(np.asarray(cl, dtype=float), np.asarray(re, dtype=float))
        place = self.place(re)
        found = np.full(cl.shape, np.nan)
        for at in np.ndindex(cl.shape):
            if np.isfinite(place.part[at]):
                lift, part = self.columns["lift"], place.part[at]
                row = lift[place.below[at]] * (1 - part) + lift[place.above[at]] * part
                low, high = (float(end[at]) for end in self.ends_at(place))
                known = np.flatnonzero(np.isfinite(row) & (GRID >= low - 1e-9) & (GRID <= high + 1e-9))
                if len(known):
                    known = known[: int(np.argmax(row[known])) + 1]
                    known = known[int(np.argmin(row[known])) :]
                    found[at] = np.interp(cl[at], row[known], GRID[known], left=np.nan, right=np.nan)
        return found

    def reason(self, re: float) -> str:
        """Why there is no greatest lift at a Reynolds number, in a sentence; empty where there is one."""
        low, high = self.range
        if not low <= re <= high:
            return f"{self.name} is known from Reynolds number {low:,.0f} to {high:,.0f}; {re:,.0f} is outside"
        if not math.isfinite(float(self.lift_limit(np.array(re)).value)):
            what = "its table shows no fall after" if self.key == DESIGNER else "the flow does not settle up to"
            return f"{self.name}: {what} its greatest lift at Reynolds number {re:,.0f}"
        return ""

    def _look(self, column: np.ndarray, alpha: np.ndarray, re: np.ndarray) -> np.ndarray:
        alpha, re = np.broadcast_arrays(np.asarray(alpha, dtype=float), np.asarray(re, dtype=float))
        place, (k, s) = self.place(re), _along(alpha)
        below = place.mixed(column, k)
        found = np.where(s == 0, below, below + s * (place.mixed(column, k + 1) - below))
        return np.asarray(np.where(self._inside(alpha, place), found, np.nan))

    def _inside(self, alpha: np.ndarray, place: Place) -> np.ndarray:
        """Whether angles lie short of where the nose lets go."""
        low, high = self.ends_at(place)
        return np.asarray((alpha >= low - 1e-9) & (alpha <= high + 1e-9))


def _along(alpha: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(place in GRID below an angle, part of the way to the next); NaN part outside."""
    along = (alpha - GRID[0]) / (GRID[1] - GRID[0])
    near = np.rint(along)
    along = np.where(np.abs(along - near) < 1e-9, near, along)  # an angle of GRID is that angle
    outside = ~((along >= 0) & (along <= GRID.size - 1))
    k = np.clip(np.where(outside, 0, along).astype(int), 0, GRID.size - 2)
    return k, np.where(outside, np.nan, along - k)


def needed(sections: Sequence[tuple[Section, float, float]]) -> tuple[Asked, ...]:
    """The polars that sections want, each with its least and greatest Reynolds number: smooth, built and rough.

    A section with tables of its own wants none.
    """
    found: dict[Asked, None] = {}
    for section, low, high in sections:
        if section.measured:
            continue
        for re in knots(low, high):
            for name in surfaces():
                found[Asked(section, name, re)] = None
    return tuple(found)


def knots(low: float, high: float) -> tuple[float, ...]:
    """The Reynolds numbers of KNOTS that two of them stand between, both ends in it as far as KNOTS go."""
    first = max((i for i, k in enumerate(KNOTS) if k <= low), default=0)
    last = min((i for i, k in enumerate(KNOTS) if k >= high), default=len(KNOTS) - 1)
    return KNOTS[first : last + 1]


def behaviour(section: Section, tables: Mapping[Asked, Table]) -> Behaviour:
    """A section out of its polars, or out of the designer's own tables. ValueError when there is neither."""
    if section.measured:
        return _measured(section)
    by_surface = {name: {a.reynolds: t for a, t in tables.items() if a.section == section and a.surface == name}
                  for name in surfaces()}  # fmt: skip
    reynolds = sorted(by_surface[section.surface])
    if not reynolds:
        raise ValueError(f"no polar of {section.name} was worked out")
    own = [by_surface[section.surface][re] for re in reynolds]
    columns = _columns(own)
    every = [[column(by_surface[s][re], "drag") for re in reynolds] for s in surfaces()]
    drags = np.array([np.minimum.reduce(every) * DRAG[0], np.maximum.reduce(every) * DRAG[1]])
    drags = np.where(np.isfinite(columns["drag"]), drags, np.nan)
    thickness = thickness_ratio(section)
    noses = {s: _noses([by_surface[s][re] for re in reynolds], reynolds, thickness) for s in surfaces()}
    most = {
        name: np.array([_greatest(tables[re], end) for re, end in zip(reynolds, noses[name][1], strict=True)])
        for name, tables in by_surface.items()
    }
    down, up = np.array([method(thickness, re) for re in reynolds]).T
    value = most[section.surface]
    fall = 1 - np.minimum.reduce(list(most.values())) / value
    rise = np.maximum.reduce(list(most.values())) / value - 1
    band = _spread(value, section.surface, (down, fall), (up, rise))
    return Behaviour(section.name, "drela-giles-1987", f"section flow, {section.surface}", locked(reynolds),
                     columns, locked(drags), band, noses[section.surface])  # fmt: skip


def method(thickness: float, reynolds: float) -> tuple[float, float]:
    """(downward, upward) fraction by which greatest lift may be off, for a thickness in chords."""
    if thickness < nose_stall.THIN and reynolds < nose_stall.FIRST:
        return UNSEEN
    return next((down, up) for low, high, down, up in METHOD if low <= thickness < high)


def _noses(tables: Sequence[Table], reynolds: Sequence[float], thickness: float) -> np.ndarray:
    """(2, r) rad, lower and upper angle at which the nose lets go; NaN where it does not, or is not thin.

    The nearest of GRID, at which the columns are kept: what is shown and drawn then ends with the greatest lift told.
    """
    if thickness >= nose_stall.THIN:
        return locked(np.full((2, len(tables)), np.nan))
    each = [nose_stall.ends(GRID, column(t, "lift"), column(t, "peak"), re)
            for t, re in zip(tables, reynolds, strict=True)]  # fmt: skip
    found = np.array(each).T
    nearest = np.abs(GRID[:, None, None] - np.where(np.isfinite(found), found, 0.0)).argmin(axis=0)
    return locked(np.where(np.isfinite(found), GRID[nearest], np.nan))


def _greatest(table: Table, nose: float) -> float:
    """Greatest lift of a polar: that at which the nose lets go (rad), or, where it does not, `greatest`."""
    return float(np.interp(nose, GRID, column(table, "lift"))) if math.isfinite(nose) else greatest(table)


def _spread(value: np.ndarray, surface: str, down: Sequence[np.ndarray | float],
            up: Sequence[np.ndarray | float]) -> np.ndarray:  # fmt: skip
    building = 1 - surfaces()[surface].lift_low
    low = np.sqrt(sum(np.square(d) for d in (*down, building)))
    high = np.sqrt(sum(np.square(u) for u in up))
    return locked([value, value * (1 - low), value * (1 + high)])


def greatest(table: Table, gap: float = GAP) -> float:
    """Greatest lift of a polar; NaN when the lift does not fall after it among the settled angles."""
    lift = column(table, "lift", gap=gap)
    known = lift[np.isfinite(lift)]
    if not known.size:
        return math.nan
    i = int(np.argmax(known))
    return float(known[i]) if known[i:].min() < known[i] - FALL else math.nan


def _columns(tables: Sequence[Table], gap: float = GAP) -> dict[str, np.ndarray]:
    found = {name: locked([column(t, name, gap=gap) for t in tables]) for name in KEPT}
    return {**found, "lift_slope": locked([column(t, "lift", 1, gap) for t in tables])}


def column(table: Table, name: str, derivative: int = 0, gap: float = GAP) -> np.ndarray:
    """(g,) a column, or its derivative, at the angles of GRID, NaN beyond the run of settled angles about START."""
    values = np.asarray(getattr(table, name))
    good = np.flatnonzero(np.isfinite(table.lift) & np.isfinite(values))
    nothing = np.full(GRID.size, np.nan)
    if good.size < 2:
        return nothing
    alpha = table.alpha[good]
    breaks = np.flatnonzero(np.diff(alpha) > gap)
    runs = np.split(np.arange(good.size), breaks + 1)
    run = next((r for r in runs if alpha[r[0]] <= START + 1e-9 and alpha[r[-1]] >= START - 1e-9 and r.size > 1), None)
    if run is None:
        return nothing
    run = run[_one_branch(table.lift[good][run], alpha[run])]
    line = PchipInterpolator(alpha[run], values[good][run], extrapolate=False)
    inside = (GRID >= alpha[run[0]] - 1e-9) & (GRID <= alpha[run[-1]] + 1e-9)
    return np.where(inside, line(np.clip(GRID, alpha[run[0]], alpha[run[-1]]), derivative), np.nan)


def _one_branch(lift: np.ndarray, alpha: np.ndarray) -> slice:
    """The angles up to where a lift that has fallen by DROP rises again, on either side of START: past that it is
    another answer of the section flow, or a deep stall."""

    def end(lifts: np.ndarray) -> int:
        top, fallen = -math.inf, False
        for i, cl in enumerate(lifts):
            if fallen and cl > lifts[i - 1] + FALL:
                return i
            top = max(top, cl)
            fallen = fallen or cl < top - DROP
        return lifts.size

    middle = int(np.argmin(np.abs(alpha - START)))
    return slice(middle + 1 - end(-lift[middle::-1]), middle + end(lift[middle:]))


def _measured(section: Section) -> Behaviour:
    rows = section.measured
    tables = [_as_table(m) for m in rows]
    columns = _columns(tables, MEASURED_GAP)
    most = np.array([greatest(t, MEASURED_GAP) for t in tables])
    off = np.array([m.give_or_take for m in rows])
    drags = np.array([columns["drag"] * DRAG[0], columns["drag"] * DRAG[1]])
    source = "; ".join(dict.fromkeys(m.source for m in rows))
    return Behaviour(section.name, DESIGNER, f"measured: {source}", locked([m.reynolds for m in rows]), columns,
                     locked(drags), _spread(most, section.surface, (off,), (off,)),
                     locked(np.full((2, len(rows)), np.nan)), REACH)  # fmt: skip


def _as_table(m: Measured) -> Table:
    nothing = np.full(len(m.angle), np.nan)
    drag, moment = (np.array(v) if v else nothing for v in (m.drag, m.moment))
    return Table(np.array(m.angle), np.array(m.lift), drag, moment, *(nothing,) * 6)
