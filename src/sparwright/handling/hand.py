"""What a person with a slide rule gets for the same numbers: closed forms from the file's sizes alone.

Symbols: A aspect ratio (of all wings: greatest span squared over their area), a, at lift slopes by helmbold-1942, de
downwash slope 2 a/(pi A), VH tail volume, lt arm to the tail's quarter chord, J = 2 Int cf^2 dy of the elevators taken
as a rectangle, E flap's part, tau, Ca, Ce thin-aerofoil coefficients.

    F    = 1 - (1/at)(at tau)(Ch_a/Ch_e)                 Ch_a = ka Ca at/2 pi,  Ch_e = ke Ce - ka Ca tau (1 - at/2 pi)
    free = -(1 - F) VH at/a (1 - de)
    damp = VH at lt rho S/(2 m)
    de/dn = -(CL/(VH at tau f)) (hn + damp - h),  dat = (1 - de) CL/a + lt G/V^2
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.tail import free_elevator_factor, neutral_point
from sparwright.handling.flap import Real
from sparwright.handling.made import Made
from sparwright.handling.yaw import helmbold

Given = tuple[tuple[str, float, str], ...]


@dataclass(frozen=True)
class Hand:
    """Closed forms of one aeroplane."""

    real: Real
    wing: float = number("1/rad", "a")
    tail: float = number("1/rad", "at")
    downwash: float = number("1", "de")
    volume: float = number("1", "VH")
    arm: float = number("m", "lt")
    squares: float = number("m3", "J, both sides")
    part: float = number("1", "tau")
    by_angle: float = number("1/rad", "Ca")
    by_flap: float = number("1/rad", "Ce")
    damping: float = number("1", "of the manoeuvre point")
    mass: float = number("1/m", "rho S/(2 m)")

    @property
    def hinge_angle(self) -> float:
        """Ch_a of the whole tail."""
        return self.real.angle * self.by_angle * self.tail / (2 * math.pi)

    @property
    def hinge_flap(self) -> float:
        """Ch_e of the whole tail."""
        return self.real.flap * self.by_flap - self.real.angle * self.by_angle * self.part * (
            1 - self.tail / (2 * math.pi)
        )

    @property
    def free_factor(self) -> float:
        """F."""
        power = self.tail * self.part * EFFECTIVE.value
        return free_elevator_factor(self.tail, power, self.hinge_angle, self.hinge_flap)

    @property
    def free_shift(self) -> float:
        """Of the neutral point, stick free."""
        return -(1 - self.free_factor) * self.volume * self.tail / self.wing * (1 - self.downwash)

    def free_given(self) -> Given:
        """Numbers put in for it."""
        return (("F", self.free_factor, "1"), ("VH", self.volume, "1"), ("at", self.tail, "1/rad"),
                ("a", self.wing, "1/rad"), ("de", self.downwash, "1"))  # fmt: skip

    def damping_given(self) -> Given:
        """Numbers put in for the damping."""
        return (("VH", self.volume, "1"), ("at", self.tail, "1/rad"), ("lt", self.arm, "m"),
                ("rho S/(2 m)", self.mass, "1/m"))  # fmt: skip

    def stiffness(self, speed: float, density: float = 1.225) -> float:
        """N m/rad, of the flap's own angle, before ke."""
        return density * speed**2 / 2 * self.squares * self.by_flap

    def stiff_given(self, speed: float) -> Given:
        """Numbers put in for it."""
        return (("V", speed, "m/s"), ("2 Int cf^2 dy", self.squares, "m2 m"), ("Ce", self.by_flap, "1/rad"))

    def _pull(self, m: Made, name: str, key: str = "cruise") -> tuple[float, float, float, float]:
        """(CL, elevator, tail's angle for 1 g more, dynamic pressure)."""
        case, v = m.case(name), m.speeds[key]
        q = m.density * v**2 / 2
        lift = case.line.mass * GRAVITY / (q * m.flown.plane.area)
        hn = neutral_point(0.25, self.wing, self.volume, self.tail, self.downwash)
        margin = hn + self.damping - case.loading.fraction
        e = -lift * margin / (self.volume * self.tail * self.part * EFFECTIVE.value)
        return lift, e, (1 - self.downwash) * lift / self.wing + self.arm * GRAVITY / v**2, q

    def per_g(self, m: Made, name: str) -> float:
        """N, for 1 g more at cruise; at another speed nearly the same."""
        if m.pitch.gear is None:
            return math.nan
        _, e, angle, q = self._pull(m, name)
        part = self.part * EFFECTIVE.value * e
        met = self.tail / (2 * math.pi) * (angle + part) - part
        moment = q * self.squares * (self.real.angle * self.by_angle * met + self.real.flap * self.by_flap * e)
        return float(m.pitch.gear.at(0.0)) * (m.pitch.weight.value + moment)

    def g_given(self, m: Made, name: str) -> Given:
        """Numbers put in for it."""
        lift, e, angle, q = self._pull(m, name)
        return (("CL", lift, "1"), ("de", e, "rad"), ("dat", angle, "rad"), ("q", q, "N/m2"),
                ("W", m.pitch.weight.value, "N m"), ("2 Int cf^2 dy", self.squares, "m2 m"),
                ("ka Ca", self.real.angle * self.by_angle, "1/rad"),
                ("ke Ce", self.real.flap * self.by_flap, "1/rad"))  # fmt: skip


def hand_of(m: Made) -> Hand:
    """The closed forms of an aeroplane."""
    plane, flap = m.flown.plane, m.pitch.flap
    tail = next(p for p in plane.company.planforms if p.is_tail)
    ref, f = plane.company.reference, flap.slopes
    a, at = helmbold(ref.span**2 / ref.area), helmbold(tail.span**2 / tail.area)
    volume = m.flown.tail_volume
    arm = volume * ref.area * ref.chord / tail.area
    part = (1 - flap.hinge) * tail.area / tail.span
    mass = m.density * ref.area / (2 * m.case("heaviest").line.mass)
    return Hand(flap.real, a, at, 2 * a / (math.pi * ref.span**2 / ref.area), volume, arm, tail.span * part**2,
                f.flap_part, f.angle, f.flap, volume * at * arm * mass, mass)  # fmt: skip
