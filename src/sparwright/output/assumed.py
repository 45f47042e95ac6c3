"""The register of assumptions as text for a terminal, as JSON and as CSV, all of the same records."""

from __future__ import annotations

import csv
import json
import math
import textwrap
from collections.abc import Iterator, Sequence
from io import StringIO
from typing import Any

from sparwright.base.check import Result
from sparwright.margins.assumed import HEAD, End, Studied, assumption_results, assumption_rows, worst_first
from sparwright.output.json import RESULT, plainly
from sparwright.output.shown import margin
from sparwright.output.text import Ink, plain

INDENT = " " * 11


def told(title: str, studied: Sequence[Studied], width: int = 100, ink: Ink = plain) -> str:
    """What each end of each range does to the least margin, the worst first; then what is not varied, with its why."""
    ordered = worst_first(studied)
    varied, left = [s for s in ordered if s.ends], [s for s in ordered if not s.ends]
    lines = [ink(f"{title}: what the proof of strength takes for granted", "strong")]
    if varied:
        s = varied[0]
        lost = f" {s.unknown} more are not known, and nothing is told of them." if s.unknown else ""
        lines += textwrap.wrap(
            f"Least margin as proved: {margin(s.least)}, {s.least_id}.{lost} In front of each row: what the worse end "
            "of its range takes off that. Ranges without a source are judgement.", width)  # fmt: skip
    lines += [line for s in varied for line in _varied(s, width)]
    if left:
        lines += ["", ink("not varied", "strong")]
        lines += [x for s in left for x in _wrapped(f"{s.assumption.title}: {s.assumption.why}", width, " " * 2)]
    return "\n".join(lines) + "\n"


def _varied(s: Studied, width: int) -> Iterator[str]:
    row = s.assumption
    yield ""
    front = points(s.change) if math.isfinite(s.change) else "unknown"
    yield f"{front:>9}  {row.title}: {row.used:g} ({row.low:g} to {row.high:g})"
    for e in s.ends:
        yield from _wrapped(_end(s, e), width)
    yield from _wrapped("; ".join(x for x in (row.range, str(row.source)) if x), width)


def _end(s: Studied, e: End) -> str:
    if e.note and math.isnan(e.least):
        return e.note
    was, then = s.margins.get(s.touched, math.nan), e.margins.get(s.touched, math.nan)
    said = f"with {e.value:g}: least {margin(e.least)} {e.least_id}"
    if s.touched and s.touched != e.least_id and abs(then - was) > 5e-4:
        said += f"; most moved {s.touched} {margin(was)} to {margin(then)}"
    return "; ".join(x for x in (said, e.note) if x)


def points(change: float) -> str:
    """A change of a margin in hundredths: what is left of +1.9 % after -4.5 is -2.6 %.

    >>> points(-0.0447), points(0.0)
    ('-4.5', '0')
    """
    return f"{100 * change:+.1f}" if abs(change) >= 5e-4 else "0"


def _wrapped(text: str, width: int, indent: str = INDENT) -> list[str]:
    return textwrap.wrap(
        text, width, initial_indent=indent, subsequent_indent=indent + "  ", break_on_hyphens=False,
        break_long_words=False,
    )  # fmt: skip


def as_json(head: dict[str, str], studied: Sequence[Studied]) -> str:
    """Every assumption with its ends and its result, after what the report is of."""
    rows = [_body(s, r) for s, r in zip(studied, assumption_results(studied), strict=True)]
    return json.dumps(head | {"assumptions": rows}, indent=2, allow_nan=False) + "\n"


def _body(s: Studied, r: Result) -> dict[str, Any]:
    row = s.assumption
    ends = [
        {"value": plainly(e.value), "least_margin": plainly(e.least), "least_check": e.least_id,
         "touched_margin": plainly(e.margins.get(s.touched, math.nan)), "note": e.note} for e in s.ends
    ]  # fmt: skip
    return {k: plainly(getattr(r, k)) for k in RESULT} | {
        "enters": row.enters, "used": plainly(row.used), "range_low": plainly(row.low),
        "range_high": plainly(row.high), "range_from": row.range, "why_not_varied": row.why,
        "least_margin": plainly(s.least), "least_check": s.least_id, "not_known": s.unknown, "touched_check": s.touched,
        "touched_margin": plainly(s.margins.get(s.touched, math.nan)) if s.ends else None, "ends": ends,
    }  # fmt: skip


def as_csv(studied: Sequence[Studied]) -> bytes:
    """The register as a table, what touches the least margin most first."""
    buffer = StringIO(newline="")
    out = csv.writer(buffer)
    out.writerow(HEAD)
    out.writerows(assumption_rows(studied))
    return buffer.getvalue().encode("utf-8")
