"""What a hinged part of a section carries of the section's load, by thin-aerofoil theory.

Symbols of air/hinge.py: x = (1 - cos t)/2 along the chord, A0 A1 ... coefficients of the load, th the hinge, a angle of
attack; N force behind the hinge over q and the section's chord, upwards (along the normal of the chord) positive:

    dCp = 4 (A0 (1 + cos t)/sin t + Sum An sin nt)
    N   = Int dCp dx behind the hinge = 2 A0 (pi - th - sin th) + Sum An (C(n-1) - C(n+1)),   C(k) = Int cos kt dt

With the hinge at the nose that is the whole lift 2 pi (A0 + A1/2). Friction and thickness are not in it: a real flap
carries less for the angle it is turned by, which the angle put in allows for (flight/aeroplane.py, data/aileron.toml).
Source: glauert-1926 ch. VII, IX, integrated here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sparwright.air import hinge as hinge_moment
from sparwright.air import thin
from sparwright.air.hinge import TERMS, stream_of
from sparwright.base.record import number

FINE = 4000  # terms for the kinked line of the flap itself


@dataclass(frozen=True)
class Carries:
    """Force coefficients of a thin flap on the section's chord, along the chord's normal."""

    angle: float = number("1/rad", "for each radian of angle of attack")
    flap: float = number("1/rad", "for each radian of the flap, trailing edge down")
    curve: float = number("1/rad", "for a stream whose angle grows by a radian from nose to tail, nought at half chord")


def of_angle(hinge: float) -> float:
    """N for each radian of angle of attack: 2 (pi - th - sin th), hinge a fraction of the chord.

    >>> round(of_angle(0.0) - 2 * math.pi, 12)
    0.0
    >>> round(of_angle(0.75), 4)
    0.3623
    """
    t = math.acos(1 - 2 * hinge)
    return 2 * (math.pi - t - math.sin(t))


def of_line(line: np.ndarray, hinge: float, terms: int = TERMS) -> float:
    """N at no angle of a mean line (2, m) in chords, straight between its points, behind `hinge`."""
    at = np.arccos(1 - 2 * np.clip(line[0], 0, 1))
    s = np.diff(line[1]) / np.diff(line[0])
    n = np.arange(1, terms + 1)
    a0 = -float(np.sum(s * np.diff(at))) / math.pi
    an = 2 / math.pi * np.diff(np.sin(np.outer(n, at)), axis=1) @ s / n
    return a0 * of_angle(hinge) + float(an @ _each(hinge, terms))


def _each(hinge: float, terms: int) -> np.ndarray:
    """(terms,) C(n-1) - C(n+1)."""
    th, n = math.acos(1 - 2 * hinge), np.arange(1, terms + 1)

    def cosines(k: np.ndarray) -> np.ndarray:
        safe = np.where(k == 0, 1, k)
        return np.where(k == 0, math.pi - th, -np.sin(safe * th) / safe)

    return np.asarray(cosines(n - 1) - cosines(n + 1))


@lru_cache(maxsize=64)
def carries(hinge: float) -> Carries:
    """The coefficients of a hinge. ValueError where it is no hinge.

    >>> c = carries(0.75)
    >>> round(c.angle, 3), round(c.flap, 3)
    (0.362, 0.698)
    """
    if not 0 < hinge < 1:
        raise ValueError(f"a hinge lies between 0 and 1 of the chord, {hinge:g} does not")
    x = np.linspace(0, 1, 201)
    curve = np.array([x, -(x * x - x) / 2])
    return Carries(of_angle(hinge), of_line(thin.flap_line(hinge), hinge, FINE), of_line(curve, hinge))


@dataclass(frozen=True)
class Behind:
    """Along the strips of a surface: what is behind the hinge, over q and (1 + u)^2."""

    force: np.ndarray  # (m,) on the chord, along its normal
    hinge: np.ndarray  # (m,) on the square of the chord behind the hinge, trailing edge down


def behind(rows: np.ndarray, turned: np.ndarray, hinge: float, own: np.ndarray, still: tuple[np.ndarray, np.ndarray],
           ) -> Behind:  # fmt: skip
    """Read from a lattice's rows what the part behind the hinge carries.

    rows: (r, m) circulation over local speed and chord; turned: (m,) rad by the lattice, trailing edge down; own:
    (r, m) slopes of the sections' mean lines; still: (m,) each, force and hinge moment of the mean lines at no angle.
    """
    a, b = stream_of(rows, turned, hinge, own)
    n, h = carries(hinge), hinge_moment.slopes(hinge)
    return Behind(
        n.angle * a + n.curve * b + n.flap * turned + still[0], h.angle * a + h.curve * b + h.flap * turned + still[1]
    )
