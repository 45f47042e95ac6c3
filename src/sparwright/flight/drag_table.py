"""The whole drag of one aeroplane at cruise, item by item, greatest first: a list that is complete and adds up.

Wings, tailplane and induced drag are those of the untrimmed state (the same lift, none on the tail), and trim is a
row of its own: what the trimmed aeroplane drags more. So the likely values of all rows add up to its drag.

    D/q = sum of the rows' D/q,   share = D/q of a row over that of the aeroplane

Low and high ends are each row's own; they add up to the aeroplane's but for the trim row, whose two states need not
be least and greatest together.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from sparwright.air.item import DragItem
from sparwright.base.check import Result, Step
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.drag import Drag, tail_area
from sparwright.flight.fast import ELEVATOR, UNTRIMMED, cruise_speed
from sparwright.flight.work import Flown

INDUCED_REACH = "attached flow; -2 % near against far wake, +10 % fuselage, gaps and cut-outs (no source)"


@dataclass(frozen=True)
class DragRow:
    """One row of the ranked table; area = coefficient x stands_on where both are known."""

    id: str
    name: str
    group: str  # lift, wings, tail, body, gear, bracing, interference, wing gaps, small
    area: Band  # m2, D/q
    part: float = number("1", "share of the aeroplane's likely drag")
    coefficient: Band = UNKNOWN  # on `stands_on`
    stands_on: float = number("m2", "area the coefficient stands on; NaN where there is none", math.nan)
    on: str = ""
    source: str = ""
    reach: str = ""
    note: str = ""
    of: tuple[str, ...] = ()  # ids of the rows it is a fraction of


@dataclass(frozen=True)
class DragTable:
    """All rows, greatest first, unknown ones last."""

    rows: tuple[DragRow, ...]
    total: Band  # m2, D/q of the trimmed aeroplane
    speed: float = number("m/s", "speed of the table")
    pressure: float = number("Pa", "dynamic pressure q at that speed")

    def of(self, group: str) -> Band:
        """The rows of a group together, m2: low ends with low, high with high."""
        found = [r.area for r in self.rows if r.group == group]
        return Band(*(sum(getattr(a, end) for a in found) for end in ("value", "low", "high")))


def drag_table(flown: Flown, speed: float | None = None) -> DragTable:
    """Every item of drag at a speed (m/s; cruise when not given), greatest take-off mass, level, sea level.

    speed: within the speeds flown, NaN rows outside them.
    """
    V = cruise_speed(flown) if speed is None else speed
    q = flown.air.density * V**2 / 2
    p = flown.performance
    total, free = (_at(d, d.total, V, flown) for d in (p.drag, p.untrimmed))
    told = _by_name(flown.plane.parasite(V, flown.air))
    rows = [_row(flown, name, _at(p.untrimmed, force, V, flown), told, total.value)
            for name, force in p.untrimmed.items.items()]  # fmt: skip
    rows.append(_trim_row(flown, total, free))
    return DragTable(tuple(sorted(rows, key=_greatest)), total, V, q)


def _greatest(row: DragRow) -> tuple[bool, float]:
    return (not math.isfinite(row.area.value), -row.area.value)


def _at(drag: Drag, force: np.ndarray, speed: float, flown: Flown) -> Band:
    """D/q (m2) of a force over speed at one of them, straight between; NaN outside."""
    areas = force / (flown.air.density * drag.speed**2 / 2)
    return Band(*(float(np.interp(speed, drag.speed, a, left=math.nan, right=math.nan)) for a in areas))


def _by_name(items: tuple[DragItem, ...]) -> dict[str, tuple[DragItem, ...]]:
    found: dict[str, tuple[DragItem, ...]] = {}
    for i in items:
        found[i.name] = (*found.get(i.name, ()), i)
    return found


def _row(flown: Flown, name: str, area: Band, told: Mapping[str, tuple[DragItem, ...]], whole: float) -> DragRow:
    """One item of the build-up as a row; what is two things of one name has no coefficient."""
    plane, same = flown.plane, told.get(name, ())
    if name == "induced":
        on, S = "area of all wings, carried through", plane.area
        words = ("lift", on, "naca-tr-121 (far wake)", INDUCED_REACH, "no lift on the tail")
    elif name in plane.strips and not same:
        strips = plane.strips[name]
        S = 2 * float(np.sum(strips.area[strips.outside]))
        group = "tail" if name == plane.tail else "wings"
        words = (
            group,
            "area outside the fuselage",
            strips.source,
            "the section's own",
            strips.why_no_drag or "section drag",
        )
    elif name == "elevator" and not same:
        S = tail_area(plane)
        words = (
            "tail",
            "area of the tailplane",
            ELEVATOR,
            "e up to 12 deg, lift 0.5 of the tail",
            "no lift on the tail",
        )
    elif name == "fin" and len(same) == 1:
        S = flown.model.fin.span * (flown.model.fin.root_chord + flown.model.fin.tip_chord) / 2
        words = ("tail", "its area", str(same[0].source), "the section's own", same[0].note)
    elif len(same) == 1 and name not in plane.strips:
        i, S = same[0], same[0].stands_on
        words = (i.group, i.on, str(i.source), i.reach, i.note)
    else:
        S, words = math.nan, ("bracing", "", "several of one name: see each", "", "")
    group, on, source, reach, note = words
    c = Band(*(a / S if S > 0 else math.nan for a in (area.value, area.low, area.high)))
    of = tuple(f"drag.{slug(n)}" for n in same[0].of) if len(same) == 1 else ()
    return DragRow(f"drag.{slug(name)}", name, group, area, area.value / whole, c, S, on, source, reach, note, of)


def _trim_row(flown: Flown, total: Band, free: Band) -> DragRow:
    ends = sorted(getattr(total, e) - getattr(free, e) for e in ("value", "low", "high"))
    area = Band(total.value - free.value, ends[0], ends[-1])
    S, on = flown.plane.area, "area of all wings, carried through"
    c = Band(area.value / S, area.low / S, area.high / S)
    source = "naca-tr-121 (far wake) and section data, both states"
    return DragRow("drag.trim", "trim", "lift", area, area.value / total.value, c, S, on, source, "attached flow",
                   UNTRIMMED)  # fmt: skip


def slug(name: str) -> str:
    """A name as it stands in an id."""
    return re.sub(r"[^A-Za-z0-9_]+", "_", name).strip("_")


def table_results(flown: Flown) -> Iterator[Result]:
    """Each row of the table as a result in m2, greatest first, and their sum."""
    table = drag_table(flown)
    at = f"at {table.speed:.1f} m/s"
    for row in table.rows:
        name = row.name.replace("_", " ")
        title = f"D/q, {name}, {100 * row.part:.1f} % of all, {at}" if math.isfinite(row.part) else f"D/q, {name}, {at}"
        note = "; ".join(x for x in (row.note, f"holds for {row.reach}" if row.reach else "") if x)
        a = row.area
        yield Result(row.id, title, a.value, "m2", a.low, a.high, row.source, note, _working(row), row.of)
    given = tuple((r.name.replace("_", " "), r.area.value, "m2") for r in table.rows)
    step = Step("drag of the aeroplane", "sum of D/q", given, table.total.value, "m2", "definition")
    parents = tuple(r.id for r in table.rows)
    t = table.total
    title = f"D/q, whole aeroplane, greatest take-off mass, {at}"
    yield Result("drag.total", title, t.value, "m2", t.low, t.high, "sum of the items", "", (step,), parents)


def _working(row: DragRow) -> tuple[Step, ...]:
    if not math.isfinite(row.stands_on):
        return ()
    given = (("C", row.coefficient.value, "1"), (f"S: {row.on}", row.stands_on, "m2"))
    return (Step("drag area", "D/q = C S", given, row.area.value, "m2", row.source),)
