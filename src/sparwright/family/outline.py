"""Aerofoil sections of a family file: refused, with the reason, when they cannot be built from."""

from __future__ import annotations

import math
from itertools import pairwise

from sparwright.family.entry import Entry, Faults
from sparwright.family.model import Measured, Section

FEWEST = 20  # points
FEWEST_ANGLES = 5  # of a measured table
WIDEST_TAIL = 0.02  # chords: an opening at the trailing edge wider than this is an open section
OFF_END = 0.005  # chords: how far the table may begin and end off x = 1 and its nose off x = 0


def check_section(section: Section, entry: Entry, faults: Faults) -> None:
    """A section is one of the NACA families we make, or a table of points that is closed, smooth and not crossed."""
    if bool(section.naca) == bool(section.points):
        wanted = "has both naca and points; one of them is wanted" if section.naca else "needs naca or points"
        faults.add(entry, wanted, example='naca = "4412"')
    elif section.naca:
        if not makeable(section.naca):
            wanted = "is not a NACA number of the four- or five-digit families we make; give the section as points"
            faults.add(entry["naca"], wanted, repr(section.naca), 'naca = "4412" or naca = "23012"')
    else:
        reason = unfit(section.points)
        if reason:
            faults.wrong(entry["points"], reason)
    if section.measured:
        check_measured(section.measured, entry["measured"], faults)


def check_measured(tables: tuple[Measured, ...], entry: Entry, faults: Faults) -> None:
    """Measured tables rise in Reynolds number; each has five angles or more, rising, and a value at each of them."""
    for i, table in enumerate(tables):
        spot = entry[i]
        if len(table.angle) < FEWEST_ANGLES:
            faults.wrong(spot["angle"], f"is too short: at least {FEWEST_ANGLES} angles are wanted")
        fall = next((j for j, (a, b) in enumerate(pairwise(table.angle), 1) if b <= a), None)
        if fall:
            faults.wrong(spot["angle"][fall], "must be more than the angle before it")
        for name in ("lift", "drag", "moment"):
            values = getattr(table, name)
            if name in spot and len(values) != len(table.angle):
                faults.wrong(
                    spot[name], f"has {len(values)} values; one for each of the {len(table.angle)} angles is wanted"
                )
        if i and table.reynolds <= tables[i - 1].reynolds:
            faults.wrong(spot["reynolds"], f"must be more than that of the table before, {tables[i - 1].reynolds:,.0f}")


def makeable(digits: str) -> bool:
    """Whether a NACA number is of the four-digit family, or the five-digit one with a plain or reflexed line.

    Source: NACA TR 460 (1933), NACA TR 537 (1935) table I.

    >>> makeable("4412"), makeable("23012"), makeable("64212"), makeable("4012")
    (True, True, False, False)
    """
    if not (digits.isascii() and digits.isdigit()) or int(digits[-2:]) == 0:
        return False
    if len(digits) == 4:
        return (digits[0] == "0") == (digits[1] == "0")
    places = {"0": "12345", "1": "2345"}
    return len(digits) == 5 and digits[0] != "0" and digits[1] in places.get(digits[2], "")


def unfit(points: tuple[tuple[float, float], ...]) -> str:
    """Why a table of points cannot be a section, in words; empty when it can.

    Points run from the upper tail over the nose to the lower tail, x and y in chords.
    """
    if len(points) < FEWEST:
        return f"is too coarse: {len(points)} points, at least {FEWEST} are wanted"
    (x0, y0), (x1, y1) = points[0], points[-1]
    gap = math.hypot(x0 - x1, y0 - y1)
    if gap > WIDEST_TAIL:
        return f"is open: first and last point lie {gap:.3f} chords apart, {WIDEST_TAIL:g} at most"
    xs = [x for x, _ in points]
    if min(abs(x0 - 1), abs(x1 - 1)) > OFF_END or abs(min(xs)) > OFF_END or max(xs) > 1 + OFF_END:
        return f"must go from x = 1 to 0 and back to 1; it goes from {x0:g} to {min(xs):g} and back to {x1:g}"
    nose = xs.index(min(xs))
    for i in range(1, len(xs)):
        if points[i] == points[i - 1]:
            return f"has point {i + 1} twice, ({xs[i]:g}, {points[i][1]:g})"
        if (xs[i] > xs[i - 1]) if i <= nose else (xs[i] < xs[i - 1]):
            return f"turns back at point {i + 1}, x = {xs[i]:g}: x falls from tail to nose, then rises"
    return _crossed(points)


def _crossed(points: tuple[tuple[float, float], ...]) -> str:
    from shapely import LinearRing, LineString  # only tables of points need it

    closed = points[1:] if points[0] == points[-1] else points
    if not LinearRing(closed).is_simple or not LineString(points).is_simple:
        return "is crossed: its outline cuts itself"
    if sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(closed, (*closed[1:], closed[0]), strict=True)) <= 0:
        return "begins with the lower side: the upper tail comes first, then the nose, then the lower tail"
    return ""
