"""A hollow tube squeezed by a bolt through it that is tightened, with no spacer inside. Clamping in, use out.

Symbols: F clamping force, R middle radius, t wall, b length of tube that counts, I = b t^3/12, F_y yield, Q torque,
d bolt's diameter, K nut factor.

    F = Q/(K d)                               K 0.2 dry, common practice, no source
    M = F R/pi                                greatest moment of a ring pressed at two points, beneath the load
    yields at   F_1 = pi b t^2 F_y/(6 R)      6 M/(b t^2) = F_y
    collapses at F_2 = b t^2 F_y/R            four hinges of b t^2 F_y/4
    flattens by 0.149 F R^3/(E I)             while elastic; wider the other way by 0.137 F R^3/(E I)

b is the washer's diameter: the wall beside it helps and is left out, on the safe side. Ring formulas: timoshenko-gere
and roark (memory, high); thin ring, R/t 5 or more, else NaN.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sparwright.base.check import Step
from sparwright.strength.members.margin import verdict, within

NUT = 0.2
THIN_RING = 5.0


def clamping(torque: ArrayLike, diameter: ArrayLike, nut: ArrayLike = NUT) -> np.ndarray:
    """F = Q/(K d), N, of a bolt tightened to a torque, N m; it may lie 30 % either way (common practice)."""
    return np.asarray(np.asarray(torque, dtype=float) / (np.asarray(nut, dtype=float) * np.asarray(diameter)))


def _ring(outside: ArrayLike, wall: ArrayLike) -> tuple[np.ndarray, np.ndarray]:
    D, t = np.asarray(outside, dtype=float), np.asarray(wall, dtype=float)
    R = (D - t) / 2
    return within((t > 0) & (R / t >= THIN_RING), R), t


def yield_force(outside: ArrayLike, wall: ArrayLike, washer: ArrayLike, strength: ArrayLike) -> np.ndarray:
    """F_1, N, at which the wall under the bolt's head begins to yield: beyond it the tube stays oval."""
    R, t = _ring(outside, wall)
    return np.asarray(np.pi * np.asarray(washer, dtype=float) * t**2 * np.asarray(strength, dtype=float) / (6 * R))


def collapse_force(outside: ArrayLike, wall: ArrayLike, washer: ArrayLike, strength: ArrayLike) -> np.ndarray:
    """F_2, N, at which the ring folds."""
    R, t = _ring(outside, wall)
    return np.asarray(np.asarray(washer, dtype=float) * t**2 * np.asarray(strength, dtype=float) / R)


def flattened(force: ArrayLike, outside: ArrayLike, wall: ArrayLike, washer: ArrayLike,
              youngs: ArrayLike) -> np.ndarray:  # fmt: skip
    """0.149 F R^3/(E I), m, by which the tube is less high under the bolt, while elastic: (pi/4 - 2/pi) exactly."""
    R, t = _ring(outside, wall)
    stiff = np.asarray(youngs, dtype=float) * np.asarray(washer, dtype=float) * t**3 / 12
    return np.asarray((np.pi / 4 - 2 / np.pi) * np.asarray(force, dtype=float) * R**3 / stiff)


def use(force: ArrayLike, outside: ArrayLike, wall: ArrayLike, washer: ArrayLike, strength: ArrayLike) -> np.ndarray:
    """F/F_1: above one the bolt makes the tube oval for good. Not a use of the strut's strength; a limit on torque."""
    return np.asarray(np.asarray(force, dtype=float) / yield_force(outside, wall, washer, strength))


def working(torque: float, diameter: float, outside: float, wall: float, washer: float,
            strength: float) -> tuple[Step, ...]:  # fmt: skip
    """One bolt's torque, line by line."""
    F = float(clamping(torque, diameter))
    F_1 = float(yield_force(outside, wall, washer, strength))
    R = (outside - wall) / 2
    why = "" if R / wall >= THIN_RING else f"R/t {R / wall:.1f} is below {THIN_RING:g}: no thin ring"
    return (
        Step("clamping force", "F = Q/(K d)", (("Q", torque, "N m"), ("K", NUT, "1"), ("d", diameter, "m")), F, "N",
             "common practice, no source"),
        Step("force at first yield", "F_1 = pi b t^2 F_y/(6 R)",
             (("b", washer, "m"), ("t", wall, "m"), ("F_y", strength, "Pa"), ("R", R, "m")), F_1, "N",
             "roark (memory)"),
        *verdict(float(use(F, outside, wall, washer, strength)), "F/F_1", (("F", F, "N"), ("F_1", F_1, "N")), why),
    )  # fmt: skip
