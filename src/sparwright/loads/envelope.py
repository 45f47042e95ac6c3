"""The limit load cases of the first strength checks: manoeuvre and gust, upwards, at three speeds.

Symbols: W weight, S wing area, n load factor, VS stalling speed, VA, VC, VD design speeds, rho air density at
sea level, a lift slope of the aeroplane, C mean chord, mu mass ratio, Kg gust alleviation, U gust.
The gust line is computed, never assumed below the manoeuvre line. Negative cases, flaps, rolling, tail and
ground loads are not here yet: the full proof is a later step.

    VA = VS sqrt(n)          VC = 2.4 sqrt(W/S) m/s          VD = 1.4 VC
    mu = 2 (W/S)/(rho C a g)      Kg = 0.88 mu/(5.3 + mu)      n = 1 + rho V a Kg U/(2 W/S)

Source: CS-VLA 333, 335, 337, 341 (memory, high); the gust formula is that of 14 CFR 23.341(c), 2014 (read).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Step
from sparwright.base.record import number

GUST_CRUISE, GUST_DIVE = 15.24, 7.62  # m/s at VC and VD, CS-VLA 333(c)
DENSITY = 1.225  # kg/m3, sea level, ISO 2533
RULE = "cs-vla 333, 335, 337, 341"


@dataclass(frozen=True)
class Case:
    """One symmetrical case."""

    key: str
    title: str
    speed: float = number("m/s", "equivalent airspeed")
    factor: float = number("1", "limit load factor, the larger of manoeuvre and gust")
    mass: float = number("kg", "mass")
    lift: float = number("1", "CL of the whole aeroplane")
    steps: tuple[Step, ...] = ()


def gust_factor(speed: float, gust: float, loading: float, slope: float, chord: float) -> tuple[float, float, float]:
    """(n, mu, Kg) in an upward gust: speed and gust m/s, loading W/S in Pa, slope per rad, chord m."""
    mu = 2 * loading / (DENSITY * chord * slope * GRAVITY)
    relief = 0.88 * mu / (5.3 + mu)
    return 1 + DENSITY * speed * slope * relief * gust / (2 * loading), mu, relief


def cases(mass: float, area: float, chord: float, slope: float, factor: float, stall: float) -> tuple[Case, ...]:
    """The cases at VA, VC and VD. mass kg, area m2, chord m, slope 1/rad, factor the designer's limit, stall m/s.

    Empty where the stalling speed is unknown: nothing is computed from a guess.
    """
    if not math.isfinite(stall):
        return ()
    loading = mass * GRAVITY / area
    cruise = 2.4 * math.sqrt(loading)
    rows = (
        ("A", "pulled up at VA", stall * math.sqrt(factor), 0.0),
        ("C", "gust or manoeuvre at VC", cruise, GUST_CRUISE),
        ("D", "gust or manoeuvre at VD", 1.4 * cruise, GUST_DIVE),
    )
    return tuple(_case(*row, mass, loading, slope, chord, factor) for row in rows)


def _case(
    key: str,
    title: str,
    speed: float,
    gust: float,
    mass: float,
    loading: float,
    slope: float,
    chord: float,
    factor: float,
) -> Case:
    in_gust, mu, relief = gust_factor(speed, gust, loading, slope, chord)
    n = max(factor, in_gust)
    q = DENSITY * speed**2 / 2
    steps = (
        Step(
            "load factor in the gust",
            "n = 1 + rho V a Kg U/(2 W/S)",
            (
                ("V", speed, "m/s"),
                ("a", slope, "1/rad"),
                ("mu", mu, "1"),
                ("Kg", relief, "1"),
                ("U", gust, "m/s"),
                ("W/S", loading, "Pa"),
            ),
            in_gust,
            "1",
            RULE,
        ),
        Step(
            "load factor of the case",
            "larger of manoeuvre and gust",
            (("manoeuvre", factor, "1"), ("gust", in_gust, "1")),
            n,
            "1",
            RULE,
        ),
    )
    return Case(key, title, speed, n, mass, n * loading / q, steps)
