"""Bolts: which one to take for what lies under it, how tight, how it is kept from coming undone.

    grip of the bolt >= thickness of what lies under it, the rest made up with washers

so that no thread bears in a hole (AC 43.13-1B 7-37, 7-41; dash numbers and torque in data/bolts.csv). A bolt on
which something turns has a castellated nut and a cotter, snug and free; one that clamps a hollow tube or a spar of
wood is no tighter than that, unless a bush or a block takes the clamping. Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from sparwright.data.hardware import bolts
from sparwright.data.loader import fasteners, material
from sparwright.parts.part import Bolt

UNKNOWN = "unknown"
OVER = 5.0  # diameters of a bolt over the grip that its head, nut and washers weigh (common practice, no source)
HEADS = ("forward", "outboard", "up")  # where a head points, by the axis its bolt lies nearest to
PINNED = "castellated nut and cotter"
SELF_LOCKING = "self-locking nut, metal to metal or fibre; never used twice"


def bolt_for(size: str, under: Sequence[tuple[str, float]], head: str, turns: bool = False, limit: str = "") -> Bolt:
    """The bolt for what lies under it.

    size: key of a bolt. under: (what, its thickness, m) from the head to the nut. head: where the head points. turns:
    whether something turns on it, or it clamps what must not be crushed: then it is snug and has a cotter.
    """
    grip, stock = sum(t for _, t in under), bolts().get(size)
    dash, there = stock.stocked(grip) if stock else ("", math.nan)
    washers = max(1, round((there - grip) / stock.washer + 0.499)) if stock and dash else 1
    known = stock.torque if stock and not turns else (math.nan, math.nan)
    return Bolt(
        size=size, dash=dash or UNKNOWN, grip=grip, stock_grip=there, under=tuple(what for what, _ in under), head=head,
        washers=washers, nut=PINNED if turns else SELF_LOCKING, torque=known,
        tight="snug and free to turn" if turns else "tight", limit=limit,
        locking="cotter" if turns else "the nut's own; at least one thread beyond it",
    )  # fmt: skip


def heading(way: np.ndarray) -> str:
    """Where a bolt's head points: forward, outboard or up, whichever is nearest to its line."""
    return HEADS[int(np.argmax(np.abs(way)))]


def bolt_mass(size: str, grip: float) -> float:
    """Mass of a bolt with its nut and washers, kg: a rod of its diameter, grip and OVER diameters long."""
    d = fasteners()[size].diameter
    return math.pi / 4 * d**2 * (grip + OVER * d) * material("4130N").density
