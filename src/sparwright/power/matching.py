"""Engine and fixed-pitch propeller together: the speed they turn at, and the thrust that comes of it.

Symbols: n propeller rev/s, g crankshaft turns per propeller turn, J = V/(nD), CP = P/(rho n^3 D^5).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from sparwright.base.record import number
from sparwright.family.model import Engine
from sparwright.power.engine import fastest, full_throttle_curve, idle_speed
from sparwright.power.gas import Gas
from sparwright.power.propeller import PropellerMap, PropellerPoint

Held = Literal["throttle", "engine speed", "nothing"]
STEPS = 161


@dataclass(frozen=True)
class Pull:
    """The most thrust engine and propeller give at one speed."""

    turning: float = number("rev/s", "propeller speed; NaN when there is no match")
    point: PropellerPoint | None = None
    power: float = number("W", "power the engine gives", math.nan)
    held_by: Held = "nothing"
    reason: str = ""

    @property
    def thrust(self) -> float:
        """Thrust in N; NaN when there is no match."""
        return self.point.thrust if self.point else math.nan


def full_pull(engine: Engine, chart: PropellerMap, speed: float, air: Gas) -> Pull:
    """The thrust at a speed (m/s) with the throttle open, or closed just enough to hold its highest speed.

    Where the propeller takes what the engine gives: CP(V/(nD)) rho n^3 D^5 = P(g n). With a propeller too fine
    to hold the engine down the engine speed is the limit; one too coarse for its lowest speed has no match.
    """
    if not engine.curve:
        return Pull(math.nan, reason="the engine has no power curve")
    gear = engine.gear
    n = np.linspace(idle_speed(engine), fastest(engine), STEPS) / gear
    given = full_throttle_curve(engine, n * gear, air)
    taken = chart.coefficients(speed / (n * chart.diameter))[1] * air.density * n**3 * chart.diameter**5
    spare = given - taken
    known = np.isfinite(spare)
    if not known[-1]:
        return Pull(math.nan, reason="speed outside the propeller's chart")
    if spare[-1] > 0:
        point = chart.at(speed, float(n[-1]), air)
        return Pull(float(n[-1]), point, point.power, "engine speed")
    over = np.flatnonzero(known[:-1] & (spare[:-1] > 0))
    if not len(over):
        return Pull(math.nan, reason="the propeller holds the engine below the lowest speed of its curve")
    i = int(over[-1])
    turning = float(n[i] + (n[i + 1] - n[i]) * spare[i] / (spare[i] - spare[i + 1]))
    point = chart.at(speed, turning, air)
    return Pull(turning, point, point.power, "throttle")


def full_thrust(engine: Engine, chart: PropellerMap, speed: np.ndarray, air: Gas) -> np.ndarray:
    """Thrust, N, of `full_pull` at many speeds (m/s) at once; NaN where there is no match."""
    if not engine.curve:
        return np.full(np.shape(speed), math.nan)
    V, D = np.asarray(speed, dtype=float)[:, None], chart.diameter
    n = np.linspace(idle_speed(engine), fastest(engine), STEPS) / engine.gear
    given = full_throttle_curve(engine, n * engine.gear, air)
    spare = given - chart.coefficients(V / (n * D))[1] * air.density * n**3 * D**5
    over = np.isfinite(spare[:, :-1]) & (spare[:, :-1] > 0)
    i = STEPS - 2 - np.argmax(over[:, ::-1], axis=1)
    at = np.arange(V.size)
    with np.errstate(divide="ignore", invalid="ignore"):
        crossed = n[i] + (n[i + 1] - n[i]) * spare[at, i] / (spare[at, i] - spare[at, i + 1])
    turning = np.where(spare[:, -1] > 0, n[-1], np.where(over.any(axis=1), crossed, np.nan))
    turning = np.where(np.isfinite(spare[:, -1]), turning, np.nan)
    slow = np.hypot(V[:, 0], np.pi * turning * D) <= chart.tip * air.sound
    ct, cp = chart.coefficients(V[:, 0] / (turning * D))
    return np.asarray(np.where(slow & np.isfinite(cp), ct * air.density * turning**2 * D**4, np.nan))


def constant_torque_ratio(power_coefficient: float, reference: float) -> float:
    """Engine speed over its reference speed when the torque stays: n/n0 = sqrt(CP0/CP), at any forward speed.

    P = 2 pi n Q = CP rho n^3 D^5, so n^2 CP is constant. Source: jones-aerodynamics ex. 15.2.

    >>> round(constant_torque_ratio(0.093, 0.076), 3)
    0.904
    """
    return math.sqrt(reference / power_coefficient)
