"""A report as text for a terminal: results by room, then checks with the weakest first.

Verdicts: a pass is quiet, a fail is a filled mark and says by how much, an unknown is an open mark and says what is
missing; always a word beside the mark, so nothing hangs on colour. Marks that a terminal cannot write are
changed for plain ones by cli/screen.py.
"""

from __future__ import annotations

import math
import textwrap
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby

from sparwright.base.check import Check, Result
from sparwright.base.safety import CAUTION
from sparwright.output.compared import ROOM as COMPARED
from sparwright.output.compared import TITLE as COMPARED_TITLE
from sparwright.output.compared import compared_lines
from sparwright.output.report import Report
from sparwright.output.shown import JOINED, decimals, enough, figure, margin, unit_of, with_unit

MARKS = {"fail": "■", "unknown": "□", "pass": "·"}
ORDER = {"fail": 0, "unknown": 1, "pass": 2}
ROOMS = {
    "shape": "Shape", "parts": "Parts", "mass": "Weight and balance", "air": "Air", "power": "Engine and propeller",
    "flight": "Flight", "drag": "Drag, item by item", "fuel": "Fuel system", "ground": "On the ground",
    "occupant": "Who sits in it", "cooling": "Cooling", "oil": "Oil", "pitot": "Pitot and static",
    "electrics": "Electrics", "controls": "Controls", "rigging": "Rigging", "ends": "Struts and wires, pin to pin",
    "loads": "Loads", "structure": "How the frame moves and pulls", "strength": "Strength",
    "as_built": "Margins as it may be built", "fatigue": "Fatigue", "aeroelastic": "Aeroelastics",
    "proof": "Proof load", "allowable": "Strengths that are used", "rules": "Rules",
}  # fmt: skip
FLIGHT = {  # the parts of a long room, by the word after it in an id
    "Flight: stall": ("stall", "slipstream"),
    "Flight: balance and trim": (
        "static_margin", "free_margin", "neutral_point", "manoeuvre_point", "elevator", "trim", "pitch", "tail",
        "tail_volume",
    ),
    "Flight: level, fuel and range": ("speed", "fuel", "cruise", "range", "endurance"),
    "Flight: climb and glide": ("climb", "ceiling", "glide"),
    "Flight: the field": ("takeoff", "landing", "ground"),
    "Flight: drag": ("drag", "trim_drag"),
    "Flight: roll, slip and crosswind": ("roll", "sideslip", "crosswind", "torque"),
    "Flight: motion left to itself": ("mode", "level", "spin", "derivative"),
    "Flight: forces on stick and pedals": ("force", "stick", "harmony"),
    "Flight: days of the file": ("day",),
}  # fmt: skip
PARTS = {part: heading for heading, parts in FLIGHT.items() for part in parts}
SHORT = (
    ("flight.stall.max_mass", "stall"),
    ("flight.speed.max", "fastest level"),
    ("flight.climb.rate", "climb"),
    ("mass.empty", "empty"),
)  # what a designer asks first: is it the aeroplane I want?
SENSE = {"<=": "at most", ">=": "at least", "<": "under"}
LEAST_TITLE = 24  # columns of a result's title
Ink = Callable[[str, str], str]  # (words, how: "strong" or "faint") -> words; adds the terminal's weight, or nothing


def plain(words: str, _how: str) -> str:
    """No ink at all."""
    return words


def told(report: Report, width: int = 100, ink: Ink = plain) -> str:
    """The whole report, for a terminal `width` characters wide."""
    blocks = [
        "\n".join(
            (ink(f"{report.family} {report.model}: {report.title}", "strong"), *textwrap.wrap(in_short(report), width))
        ),
        *_rooms(report, width, ink),
        *_compared(report, width, ink),
        "\n".join(_check_lines(report, width, ink)),
        *_not_known(report, width),
        closing(report.model, report.checks),
        textwrap.fill(CAUTION, width),
    ]
    return "\n\n".join(b for b in blocks if b).replace(JOINED, " ") + "\n"


def in_short(report: Report) -> str:
    """The few numbers that say what aeroplane it is, each from low to high; empty when a report has none of them."""
    found = [(word, r) for id, word in SHORT for r in (report.entry(id)[0],) if r is not None]
    return "; ".join(f"{word} {_from_low_to_high(r, report.units)}" for word, r in found)


def _from_low_to_high(r: Result, units: str) -> str:
    if not r.band.known:
        return "unknown"
    unit = unit_of(r.unit, units, r.id)
    low, high = (figure(x * unit.factor, 0) for x in (r.low, r.high))
    return with_unit(low if low == high else f"{low} to {high}", unit.name)


def closing(model: str, checks: Sequence[Check]) -> str:
    """The counts: "W1: 31 pass, 0 fail, 2 unknown."."""
    count = {v: sum(c.verdict == v for c in checks) for v in ORDER}
    if not checks:
        return f"{model}: no checks were made, so nothing is known to pass."
    return f"{model}: {count['pass']} pass, {count['fail']} fail, {count['unknown']} unknown."


def weakest_first(checks: Iterable[Check]) -> list[Check]:
    """Fails by how far they fail, then unknowns, then passes from the least margin."""
    return sorted(checks, key=lambda c: (ORDER[c.verdict], c.margin if math.isfinite(c.margin) else 0.0, c.id))


# ---------------------------------------------------------------- results


def _rooms(report: Report, width: int, ink: Ink) -> Iterator[str]:
    told = [r for r in report.results if r.id.split(".", 1)[0] != COMPARED]
    for name, group in groupby(sorted(told, key=lambda r: _order(heading(r.id))), key=lambda r: heading(r.id)):
        rows = [_row(r, report.units) for r in group]
        head = ("", "value", "", "low to high", "ask why")
        yield "\n".join([ink(name, "strong"), *_table([head, *rows], width, ink)])


def heading(id: str) -> str:
    """What a result stands under; a room that is not known is its own heading.

    >>> [heading(id) for id in ("flight.trim.aftmost.off.top", "mass.empty", "flight.new")]
    ['Flight: balance and trim', 'Weight and balance', 'Flight']
    """
    room, *rest = id.split(".")
    return (PARTS.get(rest[0]) if room == "flight" and rest else None) or ROOMS.get(room, room)


def _order(name: str) -> int:
    """The place of a heading on the screen; what is not known comes last."""
    names = [n for room in ROOMS.values() for n in ((*FLIGHT, room) if room == ROOMS["flight"] else (room,))]
    return names.index(name) if name in names else len(names)


def _compared(report: Report, width: int, ink: Ink) -> Iterator[str]:
    lines = list(compared_lines(report, width))
    if lines:
        yield "\n".join([ink(COMPARED_TITLE, "strong"), *lines])


def _row(r: Result, units: str) -> tuple[str, str, str, str, str]:
    unit = unit_of(r.unit, units, r.id)
    value, low, high = (x * unit.factor for x in (r.value, r.low, r.high))
    known = math.isfinite(low) and math.isfinite(high) and low != high
    places = decimals(value, low, high) if known else enough(decimals(value), value)
    band = f"{figure(low, places)} to {figure(high, places)}" if known else ""
    return r.title, figure(value, places), unit.name if math.isfinite(value) else "unknown", band, r.id


def _table(rows: Sequence[tuple[str, str, str, str, str]], width: int, ink: Ink) -> Iterator[str]:
    widths = [max(len(row[i]) for row in rows) for i in range(5)]
    title = max(LEAST_TITLE, min(widths[0], width - sum(widths[1:]) - 10))
    room = width - title - sum(widths[1:4]) - 9  # for the id; one that is longer stands on a line of its own
    for row in rows:
        first, *more = textwrap.wrap(row[0], title, break_on_hyphens=False) or [""]
        fits = len(row[4]) <= room
        cells = f"{row[1]:>{widths[1]}} {row[2]:<{widths[2]}}  {row[3]:<{widths[3]}}"
        yield f"  {first:<{title}}  {cells}  {ink(row[4], 'faint') if fits else ''}".rstrip()
        yield from (f"    {line}" for line in (*more, *(() if fits else (ink(row[4], "faint"),))))


# ---------------------------------------------------------------- checks


def _check_lines(report: Report, width: int, ink: Ink) -> Iterator[str]:
    yield ink("Checks, weakest first", "strong")
    for c in weakest_first(report.checks):
        yield from check_lines(c, report.units, width, ink)


def check_lines(c: Check, units: str, width: int = 100, ink: Ink = plain) -> Iterator[str]:
    """One check: a quiet line for a pass, and under a fail or unknown what is to be known about it."""
    how = {"fail": "strong", "pass": "faint"}.get(c.verdict, "")
    mark = ink(f"{MARKS[c.verdict]} {c.verdict:<7}", how)
    sums = compared(c, units)
    head = textwrap.wrap(f"{c.title}: {sums}", max(width - 13, 30), break_on_hyphens=False)
    yield f"  {mark}  {head[0]}"
    yield from (f"             {line}" for line in head[1:])
    for line in _under(c):
        yield from (f"             {part}" for part in textwrap.wrap(line, max(width - 13, 30), break_on_hyphens=False))


def compared(c: Check, units: str) -> str:
    """Value, limit and margin in words: "39.0 kt, at most 45.0 kt, margin +13 %"."""
    unit = unit_of(c.unit, units, c.id)
    value, limit = c.value * unit.factor, c.limit * unit.factor
    known = [x for x in (value, limit) if math.isfinite(x)]
    places = enough(max(map(decimals, known), default=0), *known)
    words = [with_unit(figure(x, places), unit.name) if math.isfinite(x) else "unknown" for x in (value, limit)]
    text = f"{words[0]}, {SENSE[c.sense]} {words[1]}"
    if c.verdict == "fail":
        excess = abs(value - limit)
        side = "too little" if c.sense == ">=" else "too much"
        over = f"{with_unit(figure(excess, decimals(excess)), unit.name)} {side}"
        return f"{text}: {over}" + (f" ({margin(c.margin)})" if limit else "")
    return text + (f", margin {margin(c.margin)}" if math.isfinite(c.margin) and limit else "")


def _under(c: Check) -> Iterator[str]:
    if c.verdict == "pass":
        return
    if c.verdict == "unknown":
        yield f"missing: {c.caveat or 'the value or the limit is not known; ask why'}"
    elif c.caveat:
        yield c.caveat
    if c.rule:
        yield f"rule: {c.rule}"
    yield f"ask why: {c.id}"


def _not_known(report: Report, width: int) -> Iterator[str]:
    if report.unknowns:
        lines = [textwrap.fill(u, width, initial_indent="  □ ", subsequent_indent="    ") for u in report.unknowns]
        yield "\n".join(["The file says these are not known yet", *lines])
