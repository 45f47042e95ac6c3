"""How hard it lands: the load factor from what tyres and elastic cord take up, by energy.

Symbols: m mass, s speed of descent, L wings' lift over the weight, F load on one main wheel, u rise of the axle by its
cord, t how far the tyre is pressed in, k stiffness of the tyre, n load factor of the whole.

    m s^2/2 + m g (1 - L)(u + t) = 2 (Int F du + F^2/2k),  F(u) of the cord as it was pulled (ground/springs.py)
    n = 2 F/(m g) + L

Cord and tyre carry one load; what the axle weighs is left out, and what cord and tyre lose: no damping, so that F is on
the safe side. The tyre is straight through what it is pressed in at rest: a real one stiffens, which takes up less. At
its stop the axle rises no more and the tyre alone takes what is left; on its rim the sum ends: unknown. Both main
wheels at once, the tail wheel takes none. Source: conservation of energy; the same as a drop from s^2/2g with the lift
at the end, 14 CFR 23.725 (read).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.family.fitted import Rubber
from sparwright.family.model import Model
from sparwright.ground.pose import Stood
from sparwright.ground.springs import cord_pull, cord_rise

FINE = 400  # pieces of the cord's way


@dataclass(frozen=True, kw_only=True)
class Legs:
    """One main wheel's springing. `why` says why it is not known."""

    rubber: Rubber | None = None
    stop: float = number("m", "how far the axle can rise", math.nan)
    tyre: float = number("N/m", "stiffness of the tyre", math.nan)
    pressed: float = number("m", "how far the tyre can be pressed in, to its rim", math.nan)
    why: str = ""

    def taken(self, load: float) -> tuple[float, float]:
        """(way, energy) that one wheel takes up to a load, m and J."""
        assert self.rubber is not None
        rise = cord_rise(self.rubber, load, self.stop)
        ways = np.linspace(0.0, rise, FINE + 1)
        by_cord = float(np.trapezoid([cord_pull(self.rubber, float(u)) for u in ways], ways))
        return rise + load / self.tyre, by_cord + load**2 / (2 * self.tyre)


@dataclass(frozen=True, kw_only=True)
class Sunk:
    """A landing. `why` says why it is not known."""

    load: float = number("N", "greatest load on one main wheel", math.nan)
    way: float = number("m", "how far the body sinks after touching", math.nan)
    rise: float = number("m", "of it, how far the axle rises by its cord", math.nan)
    ground: float = number("1", "load of both main wheels over the weight", math.nan)
    why: str = ""


def legs(model: Model, on: Stood, at_rest: float) -> Legs:
    """The main wheels' springing; at_rest: load on one main wheel standing still at the greatest mass, N."""
    wheel = on.hanging.right if on.hanging else None
    gear, ground = model.undercarriage, model.ground
    if wheel is None or on.why:
        return Legs(why=on.why or "it has no pair of main wheels")
    if gear is None or gear.rubber is None:
        return Legs(why="the main wheels have no [undercarriage.rubber]: what springs them is not known")
    said = next((s for s in ground.springing if s.name == wheel.name), None) if ground else None
    if said is None or not said.tyre or said.stop is None or said.rim is None:
        return Legs(why=f"the file does not say ground.springing.{wheel.name}: tyre, stop, rim")
    return Legs(rubber=gear.rubber, stop=said.stop, tyre=at_rest / said.tyre, pressed=(wheel.diameter - said.rim) / 2)


def sinks(leg: Legs, mass: float, speed: float, lift: float) -> Sunk:
    """The landing of a mass, kg, at a speed of descent, m/s, with a lift over the weight."""
    if leg.why:
        return Sunk(why=leg.why)
    weight = mass * GRAVITY

    def left(load: float) -> float:
        way, taken = leg.taken(load)
        return mass * speed**2 / 2 + weight * (1 - lift) * way - 2 * taken

    most = leg.tyre * leg.pressed
    end = left(most)
    if math.isnan(end):
        return Sunk(why="the cord was not pulled as far as it is stretched with the axle at its stop")
    if end > 0:
        way, taken = leg.taken(most)
        wanted = mass * speed**2 / 2 + weight * (1 - lift) * way
        return Sunk(
            why=f"axle at its stop and tyre on its rim with {2 * taken:.0f} J of {wanted:.0f} J taken up, a "
            f"descent at {speed:.2f} m/s: cord and tyre are too hard or too short"
        )
    load = float(brentq(left, 0.0, most))
    assert leg.rubber is not None
    return Sunk(load=load, way=leg.taken(load)[0], rise=cord_rise(leg.rubber, load, leg.stop), ground=2 * load / weight)


def drop_height(speed: float) -> float:
    """Height of a free drop that lands at a speed of descent, m: s^2/2g.

    >>> round(drop_height(3.0), 3)
    0.459
    """
    return speed**2 / (2 * GRAVITY)
