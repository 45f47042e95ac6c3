"""The stalling speed as the airspeed indicator shows it, by the position error the designer states.

Symbols: V true speed, Vc calibrated, Vi indicated airspeed; rho, rho0 density here and at sea level, standard day; e
what the indicator reads less calibrated airspeed near the stall, a band.

    Vc = V sqrt(rho/rho0),   Vi = Vc + e

The ends add straight: the slowest stall with the least error, the fastest with the greatest; the likely error is half
way between the two. Source: definition of the two speeds; e is the designer's word and not flown. Range: speeds at
which air does not get denser in the pitot tube (below 100 m/s), and the stall alone: e is another at other speeds.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from sparwright.air.atmosphere import Air, atmosphere
from sparwright.base.check import Result, Step
from sparwright.base.quantity import to
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.slow import TITLES, told
from sparwright.flight.work import Case, Flown


def indicated(true: Band, error: Band, air: Air) -> Band:
    """Vi, m/s, of a true speed and a position error, m/s, in an air.

    >>> from sparwright.air.atmosphere import atmosphere
    >>> indicated(Band(20.0, 19.0, 21.0), Band(0.5, -1.0, 2.0), atmosphere(0.0))
    Band(value=20.5, low=18.0, high=23.0)
    """
    less = math.sqrt(air.density / atmosphere(0.0).density)
    return Band(true.value * less + error.value, true.low * less + error.low, true.high * less + error.high)


def stated(ends: tuple[float, ...]) -> Band:
    """The position error with its likely value half way, m/s; unknown where the file states none."""
    return Band((ends[0] + ends[1]) / 2, *ends) if ends else UNKNOWN


def indicated_results(flown: Flown) -> Iterator[Result]:
    """`flight.stall.indicated.<case>` for each case, where the file states a position error; else none."""
    if flown.model.limits.position_error:
        for name, case in flown.cases.items():
            yield _result(flown, name, case)


def _result(flown: Flown, name: str, case: Case) -> Result:
    ends = flown.model.limits.position_error
    error, true, air = stated(ends), case.stall.speed, flown.air
    band = indicated(true, error, air)
    given = ("V", true.value, "m/s"), ("e", error.value, "m/s"), ("rho", air.density, "kg/m3")
    where = "definition of indicated airspeed; e the designer's"
    step = Step("indicated airspeed at the stall", "V sqrt(rho/rho0) + e", given, band.value, "m/s", where)
    low, high = (f"{to(e, 'kt'):.3g}" for e in ends)
    note = f"indicated airspeed by the designer's stated position error of {low} to {high} kt, not flown"
    title = f"stalling speed, indicated, power off, {TITLES[name]}"
    return told(
        band, f"flight.stall.indicated.{name}", title, "m/s", where, case.stall.reason if not true.known else note,
        (step,), (f"flight.stall.{name}",),
    )  # fmt: skip
