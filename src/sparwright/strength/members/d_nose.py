"""The nose of a wing skinned with ply ahead of the first spar: a closed cell that takes torque.

    q = T/(2 A)                       Bredt, all round the cell
    use = q/(t F)                     of skin and web, each with its own t and F
    q_cr of the skin: as a flat panel of its girth between two ribs
    dtheta/dy = T/(4 A^2) sum s/(G t)

T ultimate torque about the shear centre, A area the skin and web enclose, s girth. Source: timoshenko-gere (Bredt,
memory, high). How much more a curved panel of ply bears before it buckles (anc-18-1951 section 2.8) could not be read:
the flat panel is a lower bound, and past it the skin's strength is unknown. Range: closed cell of thin walls; no
cut-outs; a skin whose edges are glued to ribs and spar.
"""

from __future__ import annotations

import numpy as np

from sparwright.base.check import Step
from sparwright.strength.members import ply, ply_buckling
from sparwright.strength.members.wood_margin import STATICS, Floats, margin_step


def flow(torque: Floats, area: Floats) -> np.ndarray:
    """q = T/(2 A), N/m; torque N m, area m2.

    >>> float(flow(np.array(20000.0), 24.0 * 6.0).round(3))     # pounds and inches; a printed box
    69.444
    """
    return np.asarray(np.abs(torque) / (2 * np.asarray(area)))


def girth(outline: np.ndarray) -> float:
    """Length of a skin, m, along its points (n, 2) from spar round the nose to spar."""
    return float(np.sum(np.hypot(*np.diff(np.asarray(outline, dtype=float), axis=0).T)))


def enclosed(outline: np.ndarray) -> float:
    """Area, m2, between a skin's points (n, 2) and the straight web that joins its ends."""
    x, y = np.asarray(outline, dtype=float).T
    return float(abs(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2)


def twist(torque: Floats, area: Floats, lengths: np.ndarray, shear_moduli: np.ndarray, thicknesses: np.ndarray
          ) -> np.ndarray:  # fmt: skip
    """rad/m: T/(4 A^2) sum s/(G t) over the walls (k,) of the cell.

    >>> walls = np.array([24.0, 24.0, 6.0, 6.0]), np.full(4, 4e6), np.array([0.025, 0.025, 0.04, 0.04])
    >>> round(float(np.degrees(twist(20000.0, 144.0, *walls)) * 100), 4)    # degrees in 100 in
    0.7668
    """
    around = np.sum(np.asarray(lengths) / (np.asarray(shear_moduli) * np.asarray(thicknesses)))
    return np.asarray(np.asarray(torque) / (4 * np.asarray(area) ** 2) * around)


def skin_flow(bending: np.ndarray, bay: Floats, round_: Floats) -> np.ndarray:
    """q_cr, N/m, of the skin taken flat: bending D with x along the span, bay between ribs and girth `round_`, m."""
    return ply_buckling.shear_flow(bending, bay, round_)


def use(torque: Floats, area: Floats, thickness: Floats, strength: Floats, critical: Floats) -> np.ndarray:
    """Use of the skin in shear, flat all the way up: the worse of q/(t F) and q/q_cr.

    Above 1 by q_cr alone means unknown, not broken: a curved skin bears more, by how much could not be read.
    """
    q = flow(torque, area)
    return np.asarray(np.maximum(ply.use(q, thickness, strength), ply_buckling.use(q, critical)))


def working(torque: float, area: float, thickness: float, strength: float, critical: float) -> tuple[Step, ...]:
    """The lines of one bay."""
    q, found = float(flow(torque, area)), float(use(torque, area, thickness, strength, critical))
    return (
        Step("shear flow", "q = T/(2 A)", (("T", torque, "N m"), ("A", area, "m2")), q, "N/m", "timoshenko-gere"),
        Step("use of the skin in shear", "q/(t F)", (("t", thickness, "m"), ("F", strength, "Pa")),
             q / (thickness * strength), "1", STATICS),
        Step("use of the skin taken flat", "q/q_cr", (("q_cr", critical, "N/m"),), q / critical, "1",
             "flat panel, a lower bound: anc-18-1951 section 2.8 not read"),
        margin_step(found),
    )  # fmt: skip
