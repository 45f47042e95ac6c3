"""What a person would reckon with a pencil, from the file's numbers alone, to hold the solved numbers against.

Symbols: b greatest span, S area of all wings, A = b^2/S; a lift slope of the wings, at of the tail, de downwash slope,
VH tail volume, tau flap effect; W weight, q dynamic pressure, f drag area without lift.

    a = 2 pi A/(2 + sqrt(A^2 + 4))        helmbold-1942, all wings as one of that span and area
    de = 2 a/(pi A),  hn = 1/4 + VH at/a (1 - de)         anderson-flight ch. 7
    e = (Cm0 + Cma alpha)/(VH at tau)                     anderson-flight eq. 7.41, alpha from no lift
    Vs = sqrt(2 W/(rho S 0.9 clmax))      a wing reaches about 0.9 of its section (common practice, no source)
    Di = W^2/(pi q b^2)                   one wing of that span, no interference
    V = 0.85 p n                          a fifth to a tenth of slip (common practice, no source)
    V = (2 0.75 P/(rho f))^(1/3)          level at full power, no induced drag (f from the build-up)
    RC = 0.65 P/W - 1.15 D V/W            (efficiency in climb and the trim's share: common practice, no source)
    V = sqrt(2 W/rho) (pi b^2 f)^(-1/4)   where D is least: range

They take no lattice, no boundary layer and no blade element; only f is the sum of the drag items.
"""

from __future__ import annotations

import math

from sparwright.air import thin
from sparwright.base.check import Step, by_hand
from sparwright.family.model import Model
from sparwright.flight.aeroplane import Aeroplane
from sparwright.flight.tail import elevator_to_trim, moment_at_zero_lift, moment_slope, neutral_point
from sparwright.shape.lifting import camber

REACHED, SLIP, ETA, ETA_CLIMB, TRIMMED = 0.9, 0.85, 0.75, 0.65, 1.15
PLAIN = "common practice, no source"


def aspect(plane: Aeroplane) -> float:
    """A of all wings as one."""
    return plane.company.reference.span**2 / plane.area


def slope_of(A: float) -> float:
    """Lift slope, 1/rad, of a wing by itself. Source: helmbold-1942.

    >>> round(slope_of(6.0), 3)
    4.529
    """
    return 2 * math.pi * A / (2 + math.sqrt(A**2 + 4))


def _tail(plane: Aeroplane) -> tuple[float, float]:
    """(at on the tail's own area, tau of its elevator)."""
    tail = next(p for p in plane.company.planforms if p.is_tail)
    flap = thin.lift_and_moment(thin.flap_line(1 - plane.model.tailplane.hinge))[0]
    return slope_of(tail.span**2 / tail.area), abs(flap) / (2 * math.pi)


def neutral_steps(plane: Aeroplane, volume: float, ours: float) -> tuple[Step, Step]:
    """The neutral point by the textbook."""
    A = aspect(plane)
    a, (at, _) = slope_of(A), _tail(plane)
    de = 2 * a / (math.pi * A)
    given = (("A", A, "1"), ("a", a, "1/rad"), ("at", at, "1/rad"), ("VH", volume, "1"), ("de", de, "1"))
    hn = neutral_point(0.25, a, volume, at, de)
    return by_hand("1/4 + VH at/a (1 - de)", given, hn, ours, "1", "anderson-flight eq. 7.30")


def elevator_steps(plane: Aeroplane, volume: float, h: float, CL: float, ours: float) -> tuple[Step, Step]:
    """The elevator to trim at a CL and a balance h by the textbook; ours: what a real elevator loses left out."""
    A, model = aspect(plane), plane.model
    a, (at, tau) = slope_of(A), _tail(plane)
    de = 2 * a / (math.pi * A)
    lift, moment = _mean_line(model)
    alpha = CL / a
    it = -(model.tailplane.incidence - _incidence(model) - lift / (2 * math.pi))  # nose down, from no lift
    Cm0 = moment_at_zero_lift(moment, volume, at, it)
    e = elevator_to_trim(Cm0, moment_slope(a, h - 0.25, volume, at, de), alpha, volume, at * tau)
    given = (("CL", CL, "1"), ("a", a, "1/rad"), ("at", at, "1/rad"), ("tau", tau, "1"), ("VH", volume, "1"),
             ("h", h, "1"), ("it from no lift", it, "rad"), ("Cm,ac", moment, "1"))  # fmt: skip
    return by_hand("(Cm0 + Cma CL/a)/(VH at tau)", given, e, ours, "rad", "anderson-flight eq. 7.41")


def _mean_line(model: Model) -> tuple[float, float]:
    """(lift at no angle, moment) of the first wing's root section. Source: glauert-1926 ch. VII."""
    return thin.lift_and_moment(camber(model)[model.wings[0].panels[0].root_section])


def _incidence(model: Model) -> float:
    """Mean of the wings' incidences, rad."""
    return sum(w.incidence for w in model.wings) / len(model.wings)


def stall_steps(weight: float, density: float, area: float, section: float, ours: float) -> tuple[Step, Step]:
    """The stalling speed from the section's greatest lift."""
    V = math.sqrt(2 * weight / (density * area * REACHED * section))
    given = (("W", weight, "N"), ("rho", density, "kg/m3"), ("S", area, "m2"), ("cl max", section, "1"))
    return by_hand("sqrt(2 W/(rho S 0.9 cl max))", given, V, ours, "m/s", PLAIN)


def induced_steps(weight: float, q: float, span: float, ours: float) -> tuple[Step, Step]:
    """Induced drag as of one wing with the greatest span."""
    given = (("W", weight, "N"), ("q", q, "Pa"), ("b", span, "m"))
    return by_hand("W^2/(pi q b^2)", given, weight**2 / (math.pi * q * span**2), ours, "N", "glauert-1926 ch. XI")


def slip_steps(pitch: float, turning: float, ours: float) -> tuple[Step, Step]:
    """Level speed from pitch and propeller speed."""
    return by_hand("0.85 p n", (("p", pitch, "m"), ("n", turning, "rev/s")), SLIP * pitch * turning, ours, "m/s", PLAIN)


def top_steps(power: float, density: float, area: float, ours: float) -> tuple[Step, Step]:
    """Top speed from power and the drag area without lift."""
    V = (2 * ETA * power / (density * area)) ** (1 / 3)
    given = (("P", power, "W"), ("rho", density, "kg/m3"), ("f", area, "m2"))
    return by_hand("(2 0.75 P/(rho f))^(1/3)", given, V, ours, "m/s", PLAIN)


def climb_steps(power: float, weight: float, drag: float, speed: float, ours: float) -> tuple[Step, Step]:
    """Rate of climb from power and drag at the speed of the best climb."""
    rate = ETA_CLIMB * power / weight - TRIMMED * drag * speed / weight
    given = (("P", power, "W"), ("W", weight, "N"), ("D", drag, "N"), ("V", speed, "m/s"))
    return by_hand("0.65 P/W - 1.15 D V/W", given, rate, ours, "m/s", PLAIN)


def range_steps(weight: float, density: float, span: float, area: float, ours: float) -> tuple[Step, Step]:
    """The speed of least drag of a parabola."""
    V = math.sqrt(2 * weight / density) * (math.pi * span**2 * area) ** -0.25
    given = (("W", weight, "N"), ("rho", density, "kg/m3"), ("b", span, "m"), ("f", area, "m2"))
    return by_hand("sqrt(2 W/rho) (pi b^2 f)^(-1/4)", given, V, ours, "m/s", "anderson-flight ch. 6")
