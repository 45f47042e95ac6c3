"""Stock of a market in place of what is written, of the same records as text, as CSV by part, as JSON."""

from __future__ import annotations

import csv
import json
import math
import textwrap
from collections.abc import Iterator
from io import StringIO

from sparwright.market.rechosen import HARDWARE, InMarket, Rechosen
from sparwright.output.json import plainly
from sparwright.output.shown import JOINED, margin, unit_of
from sparwright.output.text import Ink, plain

HEAD = ("part number", "written at", "material", "stock as written", "stock of the market",
        "weight change of the place kg", "least margin before", "least margin after", "remark")  # fmt: skip
METAL = (
    "Tube and sheet are taken to be of the metal that the file names. Ask the mill for it: metal of another standard "
    "has strengths of its own. Sizes on file are from memory: hold them against a supplier's list."
)
NUMBERS = 6  # numbers of parts told of a place


def told(found: InMarket, units: str, width: int = 100, ink: Ink = plain) -> str:
    """What is bought in place of what, what is not to be had, what keeps less than it must."""
    title = f"{found.model}: stock of the {found.market} market"
    if not found.changed and not found.without:
        return ink(f"{title}: it is in that market already, nothing is chosen again", "strong") + "\n"
    lines = [ink(title, "strong"), *_wrapped(f"{METAL} Kept as they are: {HARDWARE}.", width, 0), ""]
    lines += [line for r in found.changed for line in _row(r, units, width)]
    kept = "not to be had in that market, kept as written" if found.without else "nothing is kept for want of stock"
    lines += ["", ink(kept, "strong")]
    lines += [line for r in found.without for line in _none(r, width)]
    lines += ["", ink("keeps less margin than it must" if found.lost else "no check keeps less than it must", "strong")]
    for before, after in found.lost:
        now = f"{margin(after.margin)}, {after.verdict}" if after else "not there any more"
        was = f"{margin(before.margin)}, {before.verdict}, before"
        lines += _wrapped(f"{before.title}: {was}; {now}; {before.part or before.id}", width, 2)
    weight = unit_of("kg", units, "mass.empty")
    old, new = (v * weight.factor for v in (found.empty_before, found.empty_after))
    counts = f"{len(found.changed)} places with other stock, {len(found.without)} without"
    lines += ["", f"{counts}; empty weight {old:.1f} {weight.name} as written, {new:.1f} {weight.name} in "
              f"{found.market} stock ({new - old:+.1f})"]  # fmt: skip
    return "\n".join(lines).replace(JOINED, " ") + "\n"


def _row(r: Rechosen, units: str, width: int) -> Iterator[str]:
    weight = unit_of("kg", units, "size.mass")
    yield (f"  {r.place.words:>22} -> {r.words:16} {r.place.material:9} {r.mass * weight.factor:+6.2f} {weight.name}"
           f"  {margin(r.before):>6} -> {margin(r.after):>6}")  # fmt: skip
    yield from _wrapped(f"{r.place.key}: {_numbers(r)}", width, 8)


def _none(r: Rechosen, width: int) -> Iterator[str]:
    stuff = f" {r.place.material}" if r.place.material else ""
    yield from _wrapped(
        f"{r.place.key}, {r.place.words}{stuff}: {r.why}; {', '.join(r.parts) or 'no part of its own'}", width, 2
    )


def _numbers(r: Rechosen) -> str:
    more = f" and {len(r.parts) - NUMBERS} more" if len(r.parts) > NUMBERS else ""
    return (", ".join(r.parts[:NUMBERS]) or "no part of its own") + more


def _wrapped(text: str, width: int, indent: int) -> list[str]:
    return textwrap.wrap(text, width, initial_indent=" " * indent, subsequent_indent=" " * (indent + 2),
                         break_on_hyphens=False)  # fmt: skip


def as_csv(found: InMarket) -> str:
    """A line a part, of every place whose stock changes or is not to be had."""
    buffer = StringIO(newline="")
    out = csv.writer(buffer)
    out.writerow(HEAD)
    for r in (*found.changed, *found.without):
        margins = [f"{m:.4f}" if math.isfinite(m) else "" for m in (r.before, r.after)]
        place = (r.place.key, r.place.material, r.place.words, r.words if r.changed else "", f"{r.mass:.4f}")
        for part in r.parts or ("",):
            out.writerow((part, *place, *margins, r.why))
    return buffer.getvalue()


def as_json(head: dict[str, str], found: InMarket) -> str:
    """Every place, in SI."""
    rows = [
        {"place": r.place.key, "material": r.place.material, "size": list(r.place.size), "bought": list(r.size),
         "mass_change": plainly(r.mass), "margin_before": plainly(r.before), "margin_after": plainly(r.after),
         "parts": list(r.parts), "why": r.why} for r in found.rows
    ]  # fmt: skip
    lost = [{"check": b.id, "part": b.part, "margin_before": plainly(b.margin), "verdict_before": b.verdict,
             "margin_after": plainly(a.margin) if a else None, "verdict_after": a.verdict if a else None}
            for b, a in found.lost]  # fmt: skip
    body = {"market": found.market, "model": found.model, "empty_before": plainly(found.empty_before),
            "empty_after": plainly(found.empty_after), "rows": rows, "lost": lost}  # fmt: skip
    return json.dumps(head | body, indent=2, allow_nan=False) + "\n"
