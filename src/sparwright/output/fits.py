"""Models against every licence category on file: a table for a terminal, JSON, CSV and a page, all of the same records.

Each figure stands in the unit its paragraph is written in. Every one of them says that the paragraph of today and the
authority decide.
"""

from __future__ import annotations

import csv
import json
import math
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from html import escape
from io import StringIO
from typing import Any

from sparwright.base.safety import CAUTION
from sparwright.data.categories import ASK, COUNTRIES, KINDS, Category
from sparwright.output.shown import JOINED, decimals, enough, figure, margin, with_unit
from sparwright.output.text import MARKS, SENSE, Ink, plain
from sparwright.rules.categories import name_of
from sparwright.rules.fits import Fit, FitRow

VERDICTS = {"pass": "meets what is on file", "fail": "misses", "unknown": "open"}
HEAD = (
    "model", "category", "country", "kind", "title", "in force", "named by the file", "row", "what", "value", "must be",
    "limit", "unit", "speed", "limit as written", "margin %", "verdict", "note", "paragraph", "source", "mark",
)  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Matrix:
    """Every model asked for against every category, with what the file and the program are called."""

    family: str
    program: str
    file_sha256: str
    fits: tuple[tuple[Fit, ...], ...]  # a model's fits, in the order of the categories; model by model

    @property
    def models(self) -> tuple[str, ...]:
        """Names of the models."""
        return tuple(each[0].model for each in self.fits)

    @property
    def each(self) -> tuple[Fit, ...]:
        """Model by model, category by category."""
        return tuple(fit for fits in self.fits for fit in fits)

    @property
    def by_category(self) -> tuple[tuple[Fit, ...], ...]:
        """The same, category by category."""
        return tuple(zip(*self.fits, strict=True))


# ---------------------------------------------------------------- terminal


def told(matrix: Matrix, width: int = 100, ink: Ink = plain) -> str:
    """The matrix, each category with the nearest miss of each model, for a terminal `width` wide."""
    head = f"{matrix.family}: what {', '.join(matrix.models)} may be"
    key = ", ".join(f"{MARKS[v]} {words}" for v, words in VERDICTS.items())
    blocks = [ink(head, "strong") + "\n" + textwrap.fill(f"{key}; * named by the file. {ASK}", width)]
    for kind, title in KINDS.items():
        rows = [row for row in matrix.by_category if row[0].category.kind == kind]
        blocks.append("\n".join([ink(title, "strong"), *(line for row in rows for line in _category(row, width))]))
    blocks.append(textwrap.fill(f"{CAUTION} {ASK}", width))
    return "\n\n".join(blocks).replace(JOINED, " ") + "\n"


def _category(row: Sequence[Fit], width: int) -> Iterator[str]:
    category = row[0].category
    marks = " ".join(MARKS[f.verdict] for f in row)
    named = " *" if any(f.named for f in row) else ""
    yield f"  {marks}  {category.title}{named}  ({category.key})"
    for text in _said(category):
        yield from _indented(text, width)
    for fit in row:
        yield from _indented(f"{fit.model} {MARKS[fit.verdict]} {nearest(fit)}", width)
    settle = dict.fromkeys(text for fit in row for text in to_settle(fit))
    yield from (line for text in settle for line in _indented(text, width))


def _said(category: Category) -> Iterator[str]:
    """When it is in force, for what, and what is not on file."""
    yield "; ".join(x for x in (category.applies, category.in_force, category.note.rstrip(".")) if x)
    if category.missing:
        yield f"not on file: {'; '.join(category.missing)}"


def _indented(text: str, width: int) -> list[str]:
    indent = " " * 8
    return textwrap.wrap(text, width, initial_indent=indent, subsequent_indent=indent + "  ", break_on_hyphens=False)


def nearest(fit: Fit) -> str:
    """The nearest miss of a model in one category, after how many limits it misses or leaves open."""
    row = fit.nearest
    if not fit.rows:
        return "no limit in numbers"
    counts = [
        f"{count} of {len(fit.rows)} {word}"
        for verdict, word in (("fail", "missed"), ("unknown", "open"))
        if (count := sum(r.check.verdict == verdict for r in fit.rows))
    ]
    said = "nothing is known of it" if row is None else compared(row, fit)
    return "; ".join((*counts, said))


def compared(row: FitRow, fit: Fit) -> str:
    """Value, limit and how far apart, in the paragraph's unit: "stall 35.6 kt, at most 39 kt IAS, margin +8 %"."""
    unit, c = row.limit.unit, row.check
    text = f"{name_of(row.limit)} {shown(row.value, unit)}, {SENSE[c.sense]} {shown(row.allowed, unit)}"
    kind = "" if row.limit.speed in ("", "unnamed") else f"{JOINED}{row.limit.speed}"
    if c.verdict == "fail" and row.value != row.allowed:
        side = "too little" if c.sense == ">=" else "too much"
        return f"{text}{kind}: {shown(abs(row.value - row.allowed), unit)} {side}"
    return f"{text}{kind}, margin {margin(c.margin)}" + (" (open)" if c.verdict == "unknown" else "")


def shown(value: float, unit: str) -> str:
    """A figure in the paragraph's unit, without noughts that say nothing."""
    places = enough(decimals(value), value)
    return with_unit(figure(value, places), unit) if math.isfinite(value) else "unknown"


def to_settle(fit: Fit) -> Iterator[str]:
    """What is open in a category, and what only the designer can settle of it."""
    for row in fit.rows:
        if row.check.verdict == "unknown" and row.limit.source.mark == "memory":
            yield f"to confirm: {row.limit.key}: {row.check.rule} is recalled, nobody here has read it"
        elif row.check.verdict == "unknown":
            yield f"open: {row.limit.key}: {row.check.caveat.split('; ')[0]}"
    for met in fit.conditions:
        if met.verdict == "unknown":
            yield f"to confirm: {met.condition.key}: {met.condition.says} ({met.condition.paragraph})"
        elif met.verdict == "fail":
            yield f"not so: {met.condition.key}: {met.condition.says}; {met.why} ({met.condition.paragraph})"


# ---------------------------------------------------------------- JSON


def as_json(matrix: Matrix) -> str:
    """Every model, category, limit, condition; figures in the unit of the paragraph, `null` for what is not finite."""
    body = {
        "family": matrix.family,
        "program": matrix.program,
        "file_sha256": matrix.file_sha256,
        "caution": f"{CAUTION} {ASK}",
        "models": [{"model": each[0].model, "categories": [_fit(f) for f in each]} for each in matrix.fits],
    }
    return json.dumps(body, indent=2, allow_nan=False, ensure_ascii=False) + "\n"


def _fit(fit: Fit) -> dict[str, Any]:
    c, near = fit.category, fit.nearest
    plain_keys = ("key", "country", "kind", "title", "applies", "since", "until", "dates", "note")
    return {k: getattr(c, k) for k in plain_keys} | {
        "missing": list(c.missing),
        "named": fit.named,
        "verdict": fit.verdict,
        "nearest": near.limit.key if near else None,
        "limits": [_limit(fit, row) for row in fit.rows],
        "conditions": [_met(fit, i) for i in range(len(fit.conditions))],
    }


def _limit(fit: Fit, row: FitRow) -> dict[str, Any]:
    limit, check = row.limit, row.check
    return {
        "row": limit.key,
        "quantity": limit.quantity,
        "value": _finite(row.value),
        "sense": limit.sense,
        "limit": _finite(row.allowed),
        "unit": limit.unit,
        "speed": limit.speed,
        "margin": _finite(check.margin),
        "verdict": check.verdict,
        "rule": check.rule,
        "caveat": check.caveat,
        "source": limit.source.key,
        "place": limit.source.place,
        "mark": limit.source.mark,
    }


def _met(fit: Fit, i: int) -> dict[str, Any]:
    met = fit.conditions[i]
    source = met.condition.source
    return {
        "row": met.condition.key,
        "says": met.condition.says,
        "verdict": met.verdict,
        "why": met.why,
        "paragraph": met.condition.paragraph,
        "source": source.key,
        "place": source.place,
        "mark": source.mark,
    }


def _finite(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None


# ---------------------------------------------------------------- CSV and page


def as_csv(fits: Iterable[Fit]) -> bytes:
    """One line for each model, category and row; the last line is the caution."""
    buffer = StringIO(newline="")
    out = csv.writer(buffer)
    out.writerow(HEAD)
    for fit in fits:
        out.writerows(_csv_rows(fit))
    out.writerow((f"{CAUTION} {ASK}",))
    return buffer.getvalue().replace(JOINED, " ").encode("utf-8")


def _csv_rows(fit: Fit) -> Iterator[tuple[str, ...]]:
    c = fit.category
    head = (fit.model, c.key, COUNTRIES[c.country], c.kind, c.title, c.in_force, "yes" if fit.named else "no")
    for row in fit.rows:
        x, k = row.limit, row.check
        percent = f"{100 * k.margin:.2f}" if math.isfinite(k.margin) else ""
        told = (x.key, name_of(x), _cell(row.value), x.sense, _cell(row.allowed), x.unit, x.speed, k.rule)
        yield (*head, *told, percent, k.verdict, k.caveat, x.paragraph, x.source.key, x.source.mark)
    for met in fit.conditions:
        said = (met.condition.key, met.condition.says, *[""] * 7, met.verdict, met.why)
        yield (*head, *said, met.condition.paragraph, met.condition.source.key, met.condition.source.mark)


def _cell(value: float) -> str:
    return f"{value:.6g}" if math.isfinite(value) else ""


STYLE = (
    "body{font:15px/1.4 sans-serif;color:#000;background:#fff;max-width:70em;margin:1.5em auto;padding:0 1em}"
    "table{border-collapse:collapse;width:100%}th,td{border:1px solid #888;padding:.25em .5em;text-align:left;"
    "vertical-align:top}td.fail{font-weight:bold;border-width:2px;border-color:#000}td.unknown{border-style:dashed}"
    "tr{break-inside:avoid}td:first-child{width:40%}"
    "small{display:block;font-weight:normal}p.caution{border:2px solid #000;padding:.5em}"
)


def as_page(matrix: Matrix) -> str:
    """The matrix as one page of HTML that needs nothing else and reads in black and white."""
    names = "".join(f"<th>{escape(m)}</th>" for m in matrix.models)
    parts = []
    for kind, title in KINDS.items():
        rows = "".join(_page_row(row) for row in matrix.by_category if row[0].category.kind == kind)
        parts.append(f"<h2>{escape(title)}</h2>\n<table>\n<tr><th>Category</th>{names}</tr>\n{rows}</table>")
    key = ", ".join(f"{MARKS[v]} {words}" for v, words in VERDICTS.items())
    title = escape(f"{matrix.family}: what {', '.join(matrix.models)} may be")
    origin = escape(f"{matrix.program}, design file sha256 {matrix.file_sha256[:12]}")
    caution = f'<p class="caution">{escape(f"{CAUTION} {ASK}")}</p>'
    body = "\n".join((f"<h1>{title}</h1>", caution, f"<p>{escape(key)}; * named by the file.</p>", *parts, caution,
                      f"<p>{origin}</p>"))  # fmt: skip
    return (
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
        f"<style>{STYLE}</style></head>\n<body>\n{body}\n</body></html>\n"
    ).replace(JOINED, " ")


def _page_row(row: Sequence[Fit]) -> str:
    category = row[0].category
    named = " *" if any(f.named for f in row) else ""
    settle = dict.fromkeys(text for fit in row for text in to_settle(fit))
    small = "".join(f"<small>{escape(x)}</small>" for x in (category.key, *_said(category), *settle))
    cells = "".join(
        f'<td class="{f.verdict}">{MARKS[f.verdict]} {VERDICTS[f.verdict]}<small>{escape(nearest(f))}</small></td>'
        for f in row
    )
    return f"<tr><td>{escape(category.title)}{named}{small}</td>{cells}</tr>\n"
