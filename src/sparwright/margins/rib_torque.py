"""What a rib ahead of the first spar bears when the nose's cell hands its torque over to the rib.

Symbols: M the frame's moment in the rib at the spar, s the part of the spar's torsional stiffness that is the cell's, A
area of the rib ahead of the spar, A(x), h(x) area ahead of a place and depth there.

    q = s M/(2 A)      the flow that the cell's torque loses at the rib, handed to the rib's edge round the nose
    V(x) = q h(x)      M(x) = 2 q A(x) = s M A(x)/A

The flow goes round one way, so a section of the rib bears all of its moment about itself: at the spar s M, which goes
on to the rib between the spars. Without sign. A skin round the whole chord hands over on the whole rib: that is not
worked out here (nought). Source: megson section 23.3, example 23.2 (read): tests/outside.
"""

from __future__ import annotations

import numpy as np

from sparwright.family.model import Model, Spar, Wing
from sparwright.parts.stations import bay
from sparwright.structure.sections import own_twist, skin_twist, stiff_skins
from sparwright.structure.wings import axes_at


def handed_over(x: np.ndarray, depth: np.ndarray, spar: float) -> tuple[np.ndarray, np.ndarray]:
    """((k,) 1/m, (k,) 1): shear and moment at places x, m, of a rib `depth` m deep, of 1 N m of torque of the cell.

    Nought behind the spar at `spar`, and everywhere where nothing lies ahead of it. x from the nose aft, two at least.

    >>> V, M = handed_over(np.linspace(0.005, 0.995, 100), np.full(100, 0.2), 1.0)
    >>> round(float(V[50]), 3), round(float(M[-1]), 3)
    (0.5, 0.995)
    """
    step = np.diff(x)
    wide = np.minimum(np.append(step, step[-1]), np.append(step[0], step))  # a spar's box parts places farther
    strips = np.where(x < spar, depth, 0.0) * wide
    upto = np.cumsum(strips) - strips / 2
    whole = float(strips.sum())
    if whole <= 0:
        return np.zeros_like(depth), np.zeros_like(depth)
    return np.where(x < spar, depth, 0.0) / (2 * whole), np.where(strips > 0, upto, 0.0) / whole


def cells_part(model: Model, wing: Wing, spar: Spar, buttline: float, counted: float = 1.0) -> float:
    """s: the part of a spar's torsional stiffness that is its nose cell's; nought for no cell, or one all round.

    counted: part of the skin's stiffness that is counted on.
    """
    skins = stiff_skins(wing, spar)
    if not skins or any(s.end >= 1 for s in skins):
        return 0.0
    depth = axes_at(model, wing, spar, buttline).depth
    skin = counted * skin_twist(model, wing, spar, buttline, depth)
    return skin / (skin + own_twist(spar, depth, bay(wing, buttline)))
