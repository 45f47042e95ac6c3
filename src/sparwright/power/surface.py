"""All that engine and propeller can do together: thrust, power, throttle and fuel over engine and flight speed.

Symbols: n propeller rev/s, g crankshaft turns for one of the propeller, J = V/(nD), CT, CP of the propeller's map.

    T = CT(J) rho n^2 D^4,  P = CP(J) rho n^3 D^5,  throttle = P over full throttle at g n,  fuel = P b of the engine

A fixed pitch leaves one throttle for each pair of speeds. NaN where that would be more than all of it, where the air
turns the propeller (P not above nought), outside the engine's curve and the propeller's map.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.base.record import locked
from sparwright.family.engine import Engine
from sparwright.power.engine import FULL, fastest, fuel_flows, full_throttle_curve, idle_speed
from sparwright.power.gas import Gas
from sparwright.power.propeller import PropellerMap

CRANKS, FASTEST = 41, 75.0  # engine speeds; m/s


@dataclass(frozen=True)
class Surface:
    """Engine and propeller over r engine speeds and s flight speeds; NaN where it cannot be."""

    crank: np.ndarray  # (r,) rev/s, of the crankshaft
    speed: np.ndarray  # (s,) m/s, true
    thrust: np.ndarray  # (r, s) N
    power: np.ndarray  # (r, s) W, at the propeller
    throttle: np.ndarray  # (r, s) part of full throttle at that engine speed
    efficiency: np.ndarray  # (r, s) thrust times speed over power; NaN standing
    fuel: np.ndarray  # (3, r, s) kg/s: value, low, high; NaN also below what the engine's data say

    @property
    def reached(self) -> np.ndarray:
        """(r, s) where it can be."""
        return np.asarray(np.isfinite(self.thrust))


def surface(engine: Engine, chart: PropellerMap, air: Gas, speed: np.ndarray | None = None,
            crank: np.ndarray | None = None) -> Surface:  # fmt: skip
    """The surface of an engine and a propeller's map in some air; speeds of its own choice where none are given.

    speed: (s,) m/s, nought to 75; crank: (r,) rev/s, the engine's curve as far as it may turn. All NaN without a curve.
    """
    V = np.linspace(0.0, FASTEST, int(FASTEST) + 1) if speed is None else np.asarray(speed, dtype=float)
    g = np.linspace(idle_speed(engine), fastest(engine), CRANKS) if crank is None else np.asarray(crank, dtype=float)
    n, D = (g / engine.gear)[:, None], chart.diameter
    ct, cp = chart.coefficients(V / (n * D))
    power, full = cp * air.density * n**3 * D**5, full_throttle_curve(engine, g, air)[:, None]
    tip = np.hypot(V, np.pi * n * D) <= chart.tip * air.sound
    power = np.where(tip & (power > 0) & (power <= full * FULL), power, np.nan)
    thrust = np.where(np.isfinite(power), ct * air.density * n**2 * D**4, np.nan)
    efficiency = np.where(V > 0, thrust * V / power, np.nan)
    fuel = fuel_flows(engine, np.broadcast_to(g[:, None], power.shape), power, air)
    return Surface(*map(locked, (g, V, thrust, power, power / full, efficiency, fuel)))
