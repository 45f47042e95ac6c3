"""Bolts that bear on wood: along the grain, across it, or at an angle.

    f = P/(d L)        N = P_b Q_b/(P_b sin^2 a + Q_b cos^2 a)        use = f/(k N)

P load of one bolt, d its diameter, L the length that bears in the wood, P_b and Q_b the bearing strengths of a short
bolt along and across the grain, k what slenderness L/d leaves: a long bolt bends and bears at its ends. k is that of
common bolts along the grain in light softwood (fpl-tb-332, from memory, medium), taken across the grain as well, where
the recalled curves lie higher. Where P_b and Q_b come from: crushing along the grain and compression across it are
what aircraft practice takes (anc-18-1951, from memory, medium: a small bolt bears more across the grain; not taken).
Range: L/d 1 to 13, shorter bolts as 1. Two plates outside (load at both ends of the bolt); with one, half as much.
"""

from __future__ import annotations

import numpy as np

from sparwright.base.check import Step
from sparwright.data.wood import bolting
from sparwright.strength.members.wood_margin import Floats, margin_step
from sparwright.strength.members.wood_state import hankinson


def slenderness_share(ratio: Floats) -> np.ndarray:
    """k at L/d; NaN above 13.

    >>> slenderness_share(np.array([0.5, 4.0, 6.5, 20.0]))
    array([1.   , 0.995, 0.795,   nan])
    """
    b, r = bolting(), np.asarray(ratio, dtype=float)
    return np.asarray(np.where((r > 0) & (r <= b.slenderness[-1]), np.interp(r, b.slenderness, b.share), np.nan))


def bearing(along: Floats, across: Floats, angle: Floats, diameter: Floats, length: Floats) -> np.ndarray:
    """k N, Pa: along P_b and across Q_b Pa, angle rad between load and grain, diameter and length m."""
    return np.asarray(hankinson(along, across, angle) * slenderness_share(np.asarray(length) / diameter))


def use(load: Floats, along: Floats, across: Floats, angle: Floats, diameter: Floats, length: Floats) -> np.ndarray:
    """P/(d L k N), load N of one bolt, ultimate."""
    area = np.asarray(diameter) * length
    return np.asarray(np.abs(load) / (area * bearing(along, across, angle, diameter, length)))


def short_of(
    diameter: float, end: float, edge: float, pitch: float, angle: float, pulls_to_end: bool
) -> tuple[str, ...]:
    """What is too near: end and edge distance and pitch of bolts, m, from the middles, load at an angle, rad.

    Softwood: 7 diameters to an end it pulls to, 4 else; 1.5 to an edge, 4 where it presses on it at over 30 degrees;
    4 between bolts (fpl-tb-332, from memory, medium).
    """
    b = bolting()
    edge_least = b.edge_across if np.sin(angle) > 0.5 else b.edge_along
    wanted = (("end", end, b.end_pulled if pulls_to_end else b.end_pressed), ("edge", edge, edge_least),
              ("pitch", pitch, b.spacing))  # fmt: skip
    return tuple(f"{name}: {have / diameter:.1f} diameters, {need:g} wanted" for name, have, need in wanted
                 if have < need * diameter * (1 - 1e-9))  # fmt: skip


def working(load: float, along: float, across: float, angle: float, diameter: float, length: float
            ) -> tuple[Step, ...]:  # fmt: skip
    """The lines of one bolt."""
    ratio = length / diameter
    k, n = float(slenderness_share(ratio)), float(hankinson(along, across, angle))
    found = float(use(load, along, across, angle, diameter, length))
    size = (("P", load, "N"), ("d", diameter, "m"), ("L", length, "m"))
    return (
        Step("bearing stress", "P/(d L)", size, abs(load) / (diameter * length), "Pa", "common practice: statics"),
        Step("bearing strength at the angle", "P_b Q_b/(P_b sin^2 a + Q_b cos^2 a)",
             (("P_b", along, "Pa"), ("Q_b", across, "Pa"), ("a", angle, "rad")), n, "Pa", "hankinson-1921"),
        Step("part a bolt of this slenderness bears", "k(L/d)", (("L/d", ratio, "1"),), k, "1", str(bolting().source)),
        Step("use", "f/(k N)", size, found, "1", "common practice: statics"),
        margin_step(found),
    )  # fmt: skip
