"""The thin section that heaves, turns and has a flap, in air that remembers: Theodorsen's functions.

Symbols of the source: k = w b/V reduced frequency, b half the chord, c hinge in half chords aft of the middle, T1 to
T13 functions of c (those that hold the axis are taken here for an axis at mid-chord, a = 0).

    C(k) = H1(k)/(H1(k) + i H0(k))        Hankel functions of the second kind

Range: thin section, attached flow, no compressibility, small motions that have gone on for long (C is of a steady
oscillation; for one that grows or dies slowly it stands in). Source: naca-tr-496 (memory, high; checked by another way
to the same forces, kussner-schwarz-1940, in tests/outside/test_oscillating_section.py).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.special import hankel2

from sparwright.base.record import number

SMALL = 1e-8  # under this C is one to seven digits


def lag(k: np.ndarray | float) -> np.ndarray:
    """C(k), complex, of k >= 0, any shape: how much of the steady lift there is, and how late. C(0) = 1.

    >>> complex(np.round(lag(0.5), 4))
    (0.5979-0.1507j)
    """
    k = np.asarray(k, dtype=float)
    safe = np.maximum(k, SMALL)
    one, nought = hankel2(1, safe), hankel2(0, safe)
    return np.where(k > SMALL, one / (one + 1j * nought), 1.0 + 0j)


@dataclass(frozen=True)
class Flap:
    """Theodorsen's functions of a hinge, axis at mid-chord; arrays of one shape, all nought without a flap."""

    hinge: np.ndarray = number("1", "c, half chords aft of the middle; 1 without a flap")
    t1: np.ndarray = number("1", "T1")
    t3: np.ndarray = number("1", "T3")
    t4: np.ndarray = number("1", "T4")
    t5: np.ndarray = number("1", "T5")
    t7: np.ndarray = number("1", "T7")
    t8: np.ndarray = number("1", "T8")
    t9: np.ndarray = number("1", "T9")
    t10: np.ndarray = number("1", "T10")
    t11: np.ndarray = number("1", "T11")
    t12: np.ndarray = number("1", "T12")
    t13: np.ndarray = number("1", "T13")


def flap(hinge: np.ndarray | float) -> Flap:
    """The functions of hinges at fractions of the chord, 0 to 1 (1: no flap). ValueError outside.

    >>> round(float(flap(0.75).t10), 4)
    1.9132
    """
    c = 2 * np.asarray(hinge, dtype=float) - 1
    if np.any((c < -1) | (c > 1)):
        raise ValueError("a hinge lies between nose and tail: 0 to 1 of the chord")
    r, a = np.sqrt(1 - c**2), np.arccos(c)
    t1 = -r * (2 + c**2) / 3 + c * a
    t4 = -a + c * r
    t7 = -(1 / 8 + c**2) * a + c * r * (7 + 2 * c**2) / 8
    return Flap(
        hinge=c, t1=t1, t3=-(1 / 8 + c**2) * a**2 + c * r * a * (7 + 2 * c**2) / 4 - (1 - c**2) * (5 * c**2 + 4) / 8,
        t4=t4, t5=-(1 - c**2) - a**2 + 2 * c * r * a, t7=t7, t8=-r * (2 * c**2 + 1) / 3 + c * a, t9=r**3 / 6,
        t10=r + a, t11=a * (1 - 2 * c) + r * (2 - c), t12=r * (2 + c) - a * (2 * c + 1), t13=-(t7 + c * t1) / 2,
    )  # fmt: skip
