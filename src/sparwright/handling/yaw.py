"""The pedals: force for full rudder, and for a steady sideslip.

The fin is not in the lattice; it is worked out by hand. Symbols: b angle of sideslip, d rudder, A fin's aspect ratio
times what body and tailplane make of it, aF its lift slope, tau angle that a radian of rudder is worth, f, ka, ke as in
pitch.py, Sf area, lf arm from the centre of gravity to its quarter chord, N yawing moment, g rudder over foot.

    aF = 2 pi A/(2 + sqrt(A^2 + 4))                        helmbold-1942
    a  = aF/(2 pi) (b + tau f d) - tau f d                 the angle that a strip's load stands for, all strips alike
    H/q = Int cf^2 dz [ka Ca a + ke Ce d]
    steady: Sf lf aF (b + tau f d) = 2 (k2 - k1) Vol b     the body turns away from the wind (naca-tr-184)
    P = -g H + dU/ds                                       U energy of the pedals' springs, s the foot's way

No sidewash of body and wings, no slipstream, no yaw of wings; rigid cables, no friction. The rudder's cut-out is left
out as the elevator's is.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from sparwright.air.body import apparent_mass
from sparwright.air.drag import body_sizes
from sparwright.air.hinge import Slopes, slopes
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.controls.motion import Motion
from sparwright.data.forces import FORCES
from sparwright.family.controls import Controls
from sparwright.family.model import Body, Model
from sparwright.handling.flap import Real, kept, real
from sparwright.handling.gear import Gear
from sparwright.handling.spread import Number, Sure, spread
from sparwright.parts.control_hand import spring_ends
from sparwright.parts.control_runs import hole

STRIPS = 100
DOUBT = 0.25  # of the body's moment, give or take: common practice for this method, no source
PLATES = tuple(FORCES[k].value for k in ("end_plate", "end_plate_least", "end_plate_most"))


def helmbold(aspect: float) -> float:
    """Lift slope of a straight wing, per rad: 2 pi A/(2 + sqrt(A^2 + 4)). Source: helmbold-1942.

    >>> round(helmbold(6.0), 4)
    4.5287
    """
    return 2 * math.pi * aspect / (2 + math.sqrt(aspect**2 + 4))


@dataclass(frozen=True)
class Rudder:
    """Fin and rudder with the pedals."""

    gear: Gear | None
    slopes: Slopes
    real: Real
    springs: np.ndarray | None = field(repr=False)  # (n,) N, what the springs ask of the foot at the gear's places
    weight: float = number("m3", "Int cf^2 dz of the rudder")
    area: float = number("m2", "fin with rudder")
    aspect: float = number("1", "height squared over area")
    arm: float = number("m", "from the centre of gravity to a quarter of the fin's mean chord")
    body: float = number("m3/rad", "N/q of the body for a radian of sideslip, turning away from the wind")
    stop: float = number("rad", "travel, the lesser of both sides")


def rudder(model: Model, station: float, gear: Gear | None, springs: np.ndarray | None) -> Rudder:
    """Fin and rudder of a model, with a centre of gravity at a station, m."""
    f = model.fin
    z = (np.arange(STRIPS) + 0.5) / STRIPS * f.span
    chord = f.root_chord + (f.tip_chord - f.root_chord) * z / f.span
    edge = f.leading_edge[0] + z * math.tan(f.sweep)
    part, root = 1 - f.hinge, (f.frame.movable.root, f.frame.movable.root_aft) if f.frame else (0.0, 0.0)
    area = float(chord.sum()) * f.span / STRIPS
    thick = _thickness(model, f.section)
    return Rudder(
        gear, slopes(f.hinge), real(part, thick), springs,
        float(np.sum((part * chord) ** 2 * kept(z, *root))) * f.span / STRIPS, area, f.span**2 / area,
        float(np.sum((edge + chord / 4) * chord) / chord.sum()) - station, body_turning(model.fuselage.body),
        min(f.up, f.down),
    )  # fmt: skip


def _thickness(model: Model, section: str) -> float:
    from sparwright.shape.lifting import thickness

    return float(np.max(thickness(model)[section][1]))


def body_turning(body: tuple[Body, ...]) -> float:
    """N/q of a body for a radian of sideslip, m3: 2 (k2 - k1) Vol, ovals straight between. Source: naca-tr-184."""
    length, frontal, _ = body_sizes(body)
    x = np.array([b.station for b in body])
    section = np.array([math.pi / 4 * b.width * (b.top - b.bottom) for b in body])
    return 2 * apparent_mass(length / math.sqrt(4 * frontal / math.pi)) * float(np.trapezoid(section, x))


def pedal_springs(model: Model, c: Controls, motion: Motion, gear: Gear) -> np.ndarray:
    """(n,) N that the return springs ask of the foot at the gear's places, both springs together: dU/ds."""
    rate, energy = c.spring.force / c.spring.stretch, np.zeros(gear.way.size)
    order = sorted(motion.stances, key=lambda s: s.angles[motion.surface])
    for hand in ("R", "L"):
        at = spring_ends(c, hole(model, c, "pedal.spring", hand))
        lever, rest = motion.run.levers[f"pedal-{hand}"], float(np.linalg.norm(at[0] - at[1]))
        turned = (lever.turned(at[0], s.angles[f"pedal-{hand}"]) for s in order)
        drawn = np.array([c.spring.stretch + float(np.linalg.norm(p - at[1])) - rest for p in turned])
        energy += rate * np.maximum(drawn, 0.0) ** 2 / 2
    return np.asarray(np.gradient(energy, gear.way))


def slip_rudder(r: Rudder, effect: float, plate: float, body: float = 1.0) -> float:
    """d/b: rudder for each radian of steady sideslip, against it."""
    power = r.area * r.arm * helmbold(r.aspect * plate)
    return -(1 - body * r.body / power) / (r.slopes.flap_part * effect)


def pedal(r: Rudder, slip: float, turned: float, pressure: float, s: Sure, plate: float) -> float:
    """N, foot's force with the rudder's way at a sideslip and a rudder angle, rad, and a dynamic pressure, Pa."""
    if r.gear is None:
        return math.nan
    lift, part = helmbold(r.aspect * plate) / (2 * math.pi), r.slopes.flap_part * s.effect * turned
    a = lift * (slip + part) - part
    moment = pressure * r.weight * (s.real.angle * r.slopes.angle * a + s.real.flap * r.slopes.flap * turned)
    spring = 0.0 if r.springs is None else float(np.interp(turned, r.gear.surface, r.springs))
    return math.copysign(1.0, turned) * (spring - float(r.gear.at(turned)) * moment)


def full_rudder(r: Rudder, pressure: float) -> Band:
    """N, foot's force for full rudder before the nose has moved."""
    if r.gear is None:
        return UNKNOWN

    def of(plate: float) -> Number:
        return lambda s: pedal(r, 0.0, r.stop, pressure, s, plate)

    return spread(of(PLATES[0]), r.real, besides=[(of(PLATES[1]), of(PLATES[2]))])


def slip_force(r: Rudder, slip: float, pressure: float) -> Band:
    """N, foot's force in a steady sideslip, rad; unknown where the rudder does not hold it."""
    if r.gear is None:
        return UNKNOWN

    def of(plate: float, body: float = 1.0) -> Number:
        def force(s: Sure) -> float:
            turned = slip_rudder(r, s.effect, plate, body) * slip
            return pedal(r, slip, turned, pressure, s, plate) if abs(turned) <= r.stop else math.nan

        return force

    ends = [(of(PLATES[1]), of(PLATES[2])), (of(PLATES[0], 1 - DOUBT), of(PLATES[0], 1 + DOUBT))]
    return spread(of(PLATES[0]), r.real, besides=ends)
