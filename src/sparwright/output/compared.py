"""Weights against published statistics, as one table for a terminal: ours, each method's, ours over it."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator, Sequence

from sparwright.base.check import Result
from sparwright.output.report import Report
from sparwright.output.shown import decimals, figure, unit_of

ROOM = "compared"
TITLE = "Weights against published statistics"


def compared_lines(report: Report, width: int) -> Iterator[str]:
    """The table; nothing where a report has no such results."""
    found = {r.id: r for r in report.results if r.id.startswith(f"{ROOM}.")}
    groups = [r for id, r in found.items() if id.count(".") == 1 and id != f"{ROOM}.left"]
    marks = dict.fromkeys(r.outside_range for r in found.values() if r.outside_range)
    numbers = {words: str(i) for i, words in enumerate(marks, 1)}
    rows = [row for r in groups for row in _of_group(report, r, found, numbers)]
    if not rows:
        return
    rows = [("", "", "weight", "ours over it", "outside its range", "ask why"), *rows]
    rows = [(f"{a}, {b}" if a else f"  {b}", *rest) for a, b, *rest in rows]
    widths = [max(len(row[i]) for row in rows) for i in range(5)]
    for name, weight, ratio, mark, id in rows:
        line = f"  {name:<{widths[0]}}  {weight:>{widths[1]}}  {ratio:>{widths[2]}}  {mark:<{widths[3]}}"
        yield f"{line}  {id}".rstrip()
    for words, n in numbers.items():
        yield from textwrap.wrap(f"{n}: {words}", width, initial_indent="  ", subsequent_indent="     ")
    left = found.get(f"{ROOM}.left")
    if left:
        yield f"  {left.title}: {100 * left.value:.0f} %"


def _of_group(
    report: Report, ours: Result, found: dict[str, Result], numbers: dict[str, str]
) -> Iterator[Sequence[str]]:
    name = ours.title.removesuffix(": ours")
    yield name, "ours", _weight(ours, report.units), "", "", ours.id
    for id, r in found.items():
        if id.startswith(f"{ours.id}.") and not id.endswith(".ratio"):
            ratio = found[f"{id}.ratio"].value
            over = figure(ratio, 2) if math.isfinite(ratio) else "unknown"
            mark = numbers.get(r.outside_range, "")
            yield "", r.title.removeprefix(f"{name}: "), _weight(r, report.units), over, mark, id


def _weight(r: Result, units: str) -> str:
    unit = unit_of(r.unit, units, r.id)
    value = r.value * unit.factor
    return f"{figure(value, min(1, decimals(value)))} {unit.name}" if math.isfinite(value) else "unknown"
