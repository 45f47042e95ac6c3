"""Sizes that would pass, as text for a terminal and as JSON, of the same records."""

from __future__ import annotations

import json
import math
import textwrap
from collections.abc import Iterator, Sequence
from typing import Any

from sparwright.margins.sizes import AGAIN, OFFERED, Choice, Sized
from sparwright.output.json import plainly
from sparwright.output.shown import JOINED, margin, unit_of
from sparwright.output.text import Ink, plain

LIGHTER = 12  # members told that could be lighter
LEAST = 0.05  # kg: less is not worth another size on the list


def told(title: str, sized: Sequence[Sized], units: str, chosen: bool, width: int = 100, ink: Ink = plain) -> str:
    """Members short of margin with what would pass, then those that could be lighter; all of them where `chosen`."""
    wanted = sized[0].wanted if sized else 0.0
    lines = [ink(f"{title}: sizes that keep {margin(wanted)}", "strong").replace(JOINED, " "),
             *textwrap.wrap(f"{AGAIN}.", width)]  # fmt: skip
    short, lighter = split(sized)
    blocks = [("", sized)] if chosen else [("short of margin, or not known", short), ("could be lighter", lighter)]
    for head, rows in blocks:
        if head:
            lines += ["", ink(head if rows else f"{head}: none", "strong")]
        lines += [line for s in rows for line in _member(s, units, width, lighter=rows is lighter)]
    return "\n".join(lines).replace(JOINED, " ") + "\n"


def split(sized: Sequence[Sized]) -> tuple[list[Sized], list[Sized]]:
    """(those short of margin, worst first; those that could be lighter, by what it saves, kept ones left out)."""
    short = sorted((s for s in sized if s.short), key=lambda s: (math.isfinite(s.margin), s.margin))
    able = (s for s in sized if not s.short and not s.kept and s.saves > LEAST)
    return short, sorted(able, key=lambda s: -s.saves)[:LIGHTER]


def _member(s: Sized, units: str, width: int, lighter: bool) -> Iterator[str]:
    choices = [c for c in s.choices if c.mass < 0 or not lighter]
    yield ""
    yield f"  {s.title}: {s.stock}, margin {margin(s.margin)}"
    yield f"    {s.part}, {s.id}"
    if s.kept:
        yield from _wrapped(f"kept: {s.kept}", width)
    yield from (f"    {_choice(c, units)}" for c in choices[:OFFERED])
    if len(choices) > OFFERED:
        yield f"    and {len(choices) - OFFERED} heavier"
    for note in dict.fromkeys(c.note for c in choices[:OFFERED] if c.note):
        yield from _wrapped(f"* {note}", width)
    if s.why:
        yield from _wrapped(s.why, width)


def _choice(c: Choice, units: str) -> str:
    shift, weight = unit_of("m", units, "size.station"), unit_of("kg", units, "size.mass")
    said = f"{c.stock + (' *' if c.note else ''):22} {margin(c.margin):>7}"
    if math.isfinite(c.mass):
        mass, station = c.mass * weight.factor, c.station * shift.factor
        said += f"  {mass:+.2f} {weight.name}, centre of gravity {station:+.3f} {shift.name}"
    return said


def _wrapped(text: str, width: int) -> list[str]:
    return textwrap.wrap(text, width, initial_indent=" " * 4, subsequent_indent=" " * 8, break_on_hyphens=False)


def as_json(head: dict[str, str], sized: Sequence[Sized]) -> str:
    """Every member with all its choices, in SI."""
    return json.dumps(head | {"note": AGAIN, "members": [_body(s) for s in sized]}, indent=2, allow_nan=False) + "\n"


def _body(s: Sized) -> dict[str, Any]:
    choices = [
        {"stock": c.stock, "margin": plainly(c.margin), "mass_change": plainly(c.mass),
         "station_change": plainly(c.station), "note": c.note} for c in s.choices
    ]  # fmt: skip
    return {
        "check": s.id, "title": s.title, "part": s.part, "stock": s.stock, "margin": plainly(s.margin),
        "wanted": plainly(s.wanted), "kept": s.kept, "why": s.why, "choices": choices,
    }  # fmt: skip
