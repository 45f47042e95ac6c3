"""Section data of a propeller blade: lift and drag at any angle and Reynolds number.

Symbols: a angle of attack to the flat under side, rad; cl, cd section coefficients; Re Reynolds number;
A aspect ratio; tau, delta Glauert's corrections of a rectangular wing; CN force normal to a plate.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sparwright.base.record import locked, number
from sparwright.data.blades import clark_y_wing

ASPECT, TAU, DELTA = 6.0, 0.1607, 0.0483  # rectangular wing of aspect ratio 6 by lifting line, computed (glauert-1926)
PLATE, ATTACHED = np.radians(30.0), np.radians(15.0)  # a stalled plate from 30 deg (common practice, no source)


@dataclass(frozen=True)
class Polar:
    """A section measured at one Reynolds number, carried to others by two stated laws."""

    alpha: np.ndarray  # (n,), rad, to the line the blade angle is measured from, -pi/2 to pi/2
    lift: np.ndarray  # (n,)
    drag: np.ndarray  # (n,), at the reference Reynolds number
    zero_lift: float = number("rad", "angle without lift")
    reynolds: float = number("1", "Reynolds number of the measurement", 3e6)
    drag_power: float = number("1", "exponent of drag with Reynolds number", -0.2)
    stall_fall: float = number("1", "part of the maximum lift lost for each tenfold fall of Reynolds number", 0.0)
    least: float = number("1", "least Reynolds number the laws are used at", 0.0)
    most: float = number("1", "greatest Reynolds number the laws are used at", np.inf)

    def lift_drag(self, alpha: np.ndarray, reynolds: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(cl, cd) at angles (rad) and Reynolds numbers of one shape; NaN outside the laws' range.

        The attached curve keeps its slope and shrinks about the angle without lift with
        s = 1 - k log10(Re0/Re): cl = s C(a0 + (a - a0)/s), cd = D(same angle) (Re/Re0)^m. Between 15 and
        30 deg both laws fade out; the plate beyond does not know the Reynolds number.
        """
        inside = (reynolds >= self.least) & (reynolds <= self.most)
        ratio = np.where(inside, reynolds, self.reynolds) / self.reynolds
        attached = 1.0 - np.clip((np.abs(alpha) - ATTACHED) / (PLATE - ATTACHED), 0.0, 1.0)
        s = 1.0 + attached * self.stall_fall * np.log10(ratio)
        like = self.zero_lift + (alpha - self.zero_lift) / s
        cl = s * np.interp(like, self.alpha, self.lift)
        cd = ratio ** (attached * self.drag_power) * np.interp(like, self.alpha, self.drag)
        return np.where(inside, cl, np.nan), np.where(inside, cd, np.nan)


def plate(alpha: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(cl, cd) of a stalled flat plate: CN = 1/(0.222 + 0.283/sin a), cl = CN cos a, cd = CN sin a.

    Source: hoerner-drag, ch. 3 (memory). Range: fully stalled, here from 30 deg.
    """
    size = np.maximum(np.abs(np.sin(alpha)), 1e-9)
    normal = 1.0 / (0.222 + 0.283 / size)
    return np.sign(alpha) * normal * np.cos(alpha), normal * size


@lru_cache(maxsize=1)
def clark_y() -> Polar:
    """The Clark Y section, 11.7 % thick, from the measured wing of aspect ratio 6.

    a = alpha - CL (1 + tau)/(pi A), cd = CD - CL^2 (1 + delta)/(pi A). Below the measured angles the lift
    goes on with its slope to cl -0.3 and the drag to 0.013 (memory), then to the plate at -30 deg.
    Drag goes with Re^-0.2, as a turbulent plate's (blasius-1913 law: 0.074 Re^-0.2). Maximum lift falls from
    1.56 to 1.15 from Re 3 million to 0.1 million (the low end memory: small-model tunnel tests of the section).
    Sources: jones-aerodynamics fig. 8.8 (read); glauert-1926 ch. 11 for the reduction. Range: Re 0.005 to
    6 million, Mach below about 0.7.
    """
    alpha, lift, drag = clark_y_wing()
    angle = alpha - lift * (1 + TAU) / (np.pi * ASPECT)
    profile = drag - lift**2 * (1 + DELTA) / (np.pi * ASPECT)
    slope = (lift[2] - lift[0]) / (angle[2] - angle[0])
    zero = float(angle[0] - lift[0] / slope)
    far = np.radians(np.linspace(30.0, 90.0, 25))
    cl, cd = plate(far)
    low = zero - 0.3 / slope
    return Polar(
        locked(np.concatenate([-far[::-1], [low], angle, far])),
        locked(np.concatenate([-cl[::-1], [-0.3], lift, cl])),
        locked(np.concatenate([cd[::-1], [0.013], profile, cd])),
        zero,
        stall_fall=(1 - 1.15 / 1.56) / float(np.log10(30.0)),
        least=5e3,
        most=6e6,
    )
