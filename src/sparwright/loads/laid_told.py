"""Laid out cases as results: what each half of a wing and each hinged part carries.

    normal, chordwise     Sum over the strips of a half, N          torsion    about the quarter chord, nose up, N m
    hinge                 about the hinge, trailing edge down, N m  (a rudder: to the right)

A half is told for the left only where it differs from the right one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.check import Result
from sparwright.family.model import spoken
from sparwright.loads.laid_out import LaidOut, SpanLoad

SOURCE = "falkner-1943, lattice over all surfaces; glauert-1926 ch. VII, IX"
SIDES = {"R": "right half", "L": "left half", "": ""}
WHAT = {
    "normal": ("load square to the chord", "N"),
    "chordwise": ("load along the chord, aft", "N"),
    "torsion": ("torsion about the quarter chord, nose up", "N·m"),
    "hinge": ("hinge moment, trailing edge down", "N·m"),
}


def laid_results(laid: Sequence[LaidOut]) -> tuple[Result, ...]:
    """`loads.CASE.WHAT.SURFACE.SIDE` of every surface in every case."""
    return tuple(r for one in laid for s in _different(one.spans) for r in _of(one, s))


def _different(spans: Sequence[SpanLoad]) -> Iterator[SpanLoad]:
    """Right halves, and left ones that carry something else."""
    right = {s.surface: s for s in spans if s.side != "L"}
    for s in spans:
        if s.side != "L" or not np.allclose(s.normal, right[s.surface].normal, rtol=1e-9, atol=1e-6):
            yield s


def _of(one: LaidOut, s: SpanLoad) -> Iterator[Result]:
    for what, (words, unit) in WHAT.items():
        running = getattr(s, what)
        if what == "hinge" and not running.any():
            continue
        where = ", ".join(x for x in (spoken(s.surface) if s.surface != "fin" else "fin", SIDES[s.side]) if x)
        id = ".".join(x for x in ("loads", one.case.key, what, s.surface, s.side) if x)
        caveat = "; ".join((*one.notes, one.outside)) if one.outside else "; ".join(one.notes)
        yield Result(id, f"{where}: {words}, case {one.case.key}", float(running @ s.width), unit, source=SOURCE,
                     caveat=caveat, outside_range=one.outside)  # fmt: skip
