"""Why a number is what it is: formula, numbers put in, result, source, and one level down the numbers it came from."""

from __future__ import annotations

import difflib
import math
import textwrap
from collections.abc import Iterator, Sequence

from sparwright.base.check import Check, Result, Step
from sparwright.base.safety import CAUTION
from sparwright.output.report import Report
from sparwright.output.shown import JOINED, decimals, enough, figure, unit_of, with_unit
from sparwright.output.text import MARKS, Ink, compared, plain
from sparwright.plans.printed import Printed


def why(report: Report, id: str, width: int = 100, ink: Ink = plain) -> str:
    """The working of the result and the check of that id. Raises KeyError when the report has neither."""
    result, check = report.entry(id)
    blocks = [ink(f"{report.family} {report.model}: {id}", "strong")]
    if result:
        blocks.append("\n".join(_result(result, report.units, width)))
    if check:
        blocks.append("\n".join(_check(check, report.units, width)))
    if len(blocks) == 1:
        raise KeyError(id)
    parents = dict.fromkeys((*(result.parents if result else ()), *(check.parents if check else ())))
    if parents:
        lines = [line for p in parents for line in _parent(report, p, width)]
        blocks.append("\n".join([ink("It came from", "strong"), *lines]))
    return "\n\n".join([*blocks, textwrap.fill(CAUTION, width)]).replace(JOINED, " ") + "\n"


def why_printed(p: Printed, of: str, width: int = 100, ink: Ink = plain) -> str:
    """Where a dimension on the sheets comes from: what it measures, how it was rounded, which words of the file."""
    lines = [
        *_lines(f"{p.title} = {p.words}", width, 0),
        *_lines(f"true length {_si(p.value, 'm')}, {p.value * 1000:.3f} mm, before it is rounded to be printed", width),
        *_lines(f"printed on {p.where}", width),
        *_lines(f"comes from: {p.because}", width),
    ]
    head = ink(f"{of}: {p.id}", "strong")
    return "\n\n".join([head, "\n".join(lines), textwrap.fill(CAUTION, width)]).replace(JOINED, " ") + "\n"


def ids(report: Report) -> tuple[str, ...]:
    """Every id that can be asked about, once, in order."""
    return tuple(dict.fromkeys((*(r.id for r in report.results), *(c.id for c in report.checks))))


def nearest(id: str, known: Sequence[str], most: int = 5) -> list[str]:
    """The known ids that look most like this one: those that contain it first, then those spelt alike.

    >>> nearest("stall", ["flight.stall.heaviest", "mass.empty"]), nearest("mass.emtpy", ["flight.stall", "mass.empty"])
    (['flight.stall.heaviest'], ['mass.empty'])
    """
    holding = [k for k in known if id.lower() in k.lower()]
    alike = difflib.get_close_matches(id.lower(), known, most, 0.5)
    return list(dict.fromkeys((*holding, *alike)))[:most]


def _result(r: Result, units: str, width: int) -> Iterator[str]:
    yield from _lines(f"{r.title} = {_both(r.value, r.unit, units, r.id)}", width, 0)
    if math.isfinite(r.low) and math.isfinite(r.high) and r.low != r.high:
        yield from _lines(
            f"between {_both(r.low, r.unit, units, r.id)} and {_both(r.high, r.unit, units, r.id)}", width
        )
    yield from _told_about(r.source, r.caveat, width)
    yield from _steps(r.steps, units, width, r.id)


def _check(c: Check, units: str, width: int) -> Iterator[str]:
    yield from _lines(f"{MARKS[c.verdict]} {c.verdict}: {c.title}: {compared(c, units)}", width, 0)
    yield from _lines(f"value {_si(c.value, c.unit)}, limit {_si(c.limit, c.unit)}, must be {c.sense} the limit", width)
    for name, text in (("part", c.part), ("case", c.case), ("rule", c.rule), ("method", c.method)):
        if text:
            yield from _lines(f"{name}: {text}", width)
    yield from _told_about("", c.caveat, width)
    yield from _steps(c.steps, units, width, c.id)


def _told_about(source: str, caveat: str, width: int) -> Iterator[str]:
    if source:
        yield from _lines(f"source: {source}", width)
    if caveat:
        yield from _lines(f"note: {caveat}", width)


def _steps(steps: Sequence[Step], units: str, width: int, id: str) -> Iterator[str]:
    for n, s in enumerate(steps, 1):
        yield ""
        yield from _lines(f"{n}. {s.title}", width)
        yield from _lines(s.formula, width, 5)
        yield from (f"       {name} = {_si(value, unit)}" for name, value, unit in s.given)
        yield from _lines(f"= {_both(s.value, s.unit, units, id)}", width, 5)
        if s.source:
            yield from _lines(f"source: {s.source}", width, 5)


def _parent(report: Report, id: str, width: int) -> Iterator[str]:
    result, check = report.entry(id)
    if result:
        yield from _lines(f"{id}: {result.title} = {_both(result.value, result.unit, report.units, id)}", width)
    elif check:
        yield from _lines(f"{id}: {check.title}: {check.verdict}, {compared(check, report.units)}", width)
    else:
        yield from _lines(f"{id}: not among the numbers kept", width)


def _both(value: float, si: str, units: str, id: str) -> str:
    """In the designer's unit, with SI behind it where that differs."""
    unit = unit_of(si, units, id)
    if not math.isfinite(value):
        return "unknown"
    if unit.factor == 1.0 and not 0.01 <= abs(value) < 1e6:
        return _si(value, si)
    shown = value * unit.factor
    text = with_unit(figure(shown, enough(decimals(shown), shown)), unit.name)
    return text if unit.factor == 1.0 else f"{text} ({_si(value, si)})"


def _si(value: float, unit: str) -> str:
    """Six figures of an SI value, enough to follow the sum by hand.

    >>> [_si(v, u).replace(JOINED, " ") for v, u in ((0.00012345678, "m"), (101325.0, "Pa"), (-2.5, "1"))]
    ['0.000123457 m', '101325 Pa', '−2.5']
    """
    if not math.isfinite(value):
        return "unknown"
    text = f"{value:.6g}".replace("-", "−")
    return text if unit in ("", "1") else with_unit(text, unit)


def _lines(text: str, width: int, indent: int = 2) -> list[str]:
    return textwrap.wrap(text, width, initial_indent=" " * indent, subsequent_indent=" " * (indent + 2),
                         break_on_hyphens=False)  # fmt: skip
