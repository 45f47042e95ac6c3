"""Where the whole ribs of a wing stand: ends of panels and ailerons, extra ribs, and evenly between at most a pitch."""

from __future__ import annotations

import math
from itertools import pairwise

from sparwright.family.model import Wing

SAME = 1e-4  # m: two ribs nearer than this are one


def rib_lines(wing: Wing) -> list[float]:
    """Buttlines of the whole ribs of the right wing, m, from the root out; none of a wing without panels."""
    fixed = {p.root_buttline for p in wing.panels} | {p.tip_buttline for p in wing.panels} | set(wing.ribs.extra)
    if wing.aileron is not None:
        fixed |= {wing.aileron.inboard, wing.aileron.outboard}
    ends = _distinct(sorted(fixed)) if wing.panels else []
    found: list[float] = []
    for a, b in pairwise(ends):
        bays = max(1, math.ceil((b - a) / wing.ribs.pitch - 1e-6))
        found += [a + (b - a) * i / bays for i in range(bays)]
    return [*found, *ends[-1:]]


def _distinct(values: list[float]) -> list[float]:
    kept = values[:1]
    for v in values[1:]:
        if v - kept[-1] > SAME:
            kept.append(v)
    return kept
