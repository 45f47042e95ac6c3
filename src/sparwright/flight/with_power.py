"""Trim with the propeller pulling: thrust line, force across its axis, slipstream over wings, tailplane and body.

Symbols: T thrust, N force across the axis, V speed, q = rho V^2/2, a angle of attack of the thrust line, v speed added
at the disc, r = (V + u)^2/V^2 with u the speed added at a place behind it; G lift over q that the wings' strips in the
slipstream gain (powered.py), s width of the slipstream over a wing, CLa lift slope; A, I, E lift of the tailplane over
q, without power, by its angle to the air, its setting and its elevator, A' and E' slopes; P part of its area in the
slipstream, w its downward flow over V; e elevator; rw pressure behind the wings' wakes (tail_flow.py) over q; l arm
of the elevator's lift about the centre of gravity from the lattice; z height of a wing over the tailplane.

    (A + A' b) f1 - A' w P sqrt(r) + (I + E' e) f2 = (A + I + E + X)/rw
    f1 = 1 - P + P sqrt(r),  f2 = 1 - P + P r       air across the stream keeps its speed, so its angle is less
    w = N/(rho A_disc (V + v) V) + sum over the wings of G/(pi s^2)/(1 + (2 z/s)^2)
    b = -(1 - d eps/d a) G/(S CLa)                  the lift is the weight's: the wings' angle is less by G/(S CLa)
    X l q = N (x_cg - x_hub) - T (z_hub - z_cg) + body's moment (sqrt(r_b) - 1)

What the slipstream adds to the wings' lift acts where the lift acts that is taken off with the angle. Torque is not in
pitch. Full throttle in steady flight: the angle of the climb is left out, its cosine is near 1.

Stick fixed with power: elevator and throttle held, the moment over the lift as the speed falls,

    margin = CM_e de/dCL,   CM_e = -rw f2 E' l/(S c)

told as a change from the same sum without power. Ends of the band, each by itself: P a half less and more, G none and
twice as much (common practice, no source), N a quarter less and more.
Sources: glauert-1926 ch. XV (slipstream), ch. XI (flow behind a loaded span); naca-wr-l-219 (N); anderson-flight ch. 7
(the balance); put together here. Range: that of power/slipstream.py and of the trimmed line; NaN outside.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from sparwright.air.mesh import turned_by
from sparwright.air.stance import slopes_of
from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.powered import wetted
from sparwright.flight.trim import Cg, Line, hinge_of
from sparwright.power.fin_rule import GIVE, fin_slope
from sparwright.power.propeller import Blade
from sparwright.power.slipstream import Slipstream, slipstream

Pulls = Callable[[float], float]  # m/s -> N
NOT_IN_IT = (
    "full throttle, slipstream without swirl or mixing; ends: half as much and half more of the tailplane in it, "
    "nothing and twice as much of what it adds to the wings and throws down"
)
VARIANTS = (  # of N, of G, of P; the first is the likely one
    (1.0, 1.0, 1.0), (1 - GIVE, 1.0, 1.0), (1 + GIVE, 1.0, 1.0), (1.0, 0.0, 1.0), (1.0, 2.0, 1.0), (1.0, 1.0, 0.5),
    (1.0, 1.0, 1.5),
)  # fmt: skip


@dataclass(frozen=True)
class Pulling:
    """What pulls: the blade, its hub, and the thrust at a speed."""

    blade: Blade
    hub: tuple[float, float, float]
    thrust: Pulls


@dataclass(frozen=True)
class Tailplane:
    """The tailplane in one trimmed state without power; lifts over q, both halves."""

    speed: float = number("m/s", "speed")
    lift: float = number("1", "CL of the whole")
    alpha: float = number("rad", "angle of attack of the thrust line")
    elevator: float = number("rad", "by the lattice")
    by_angle: float = number("m2", "lift by its angle to the air, A")
    by_setting: float = number("m2", "lift by its setting to the thrust line, I")
    slope: float = number("m2/rad", "by its angle, A'")
    elevator_slope: float = number("m2/rad", "by the elevator, E'")
    arm: float = number("m", "of the elevator's lift behind the centre of gravity, l")
    upwash: float = number("rad", "the air rises by at the propeller, by the wings")

    @property
    def carries(self) -> float:
        """A + I + E, m2."""
        return self.by_angle + self.by_setting + self.elevator_slope * self.elevator

    @property
    def meets(self) -> float:
        """Angle of the air to the thrust line there, rad."""
        return self.by_angle / self.slope


@dataclass(frozen=True)
class PulledTrim:
    """One speed with power; elevators by the lattice."""

    speed: float = number("m/s", "speed")
    lift: float = number("1", "CL")
    thrust: float = number("N", "thrust")
    across: float = number("N", "force across the propeller's axis")
    part: float = number("1", "part of the tailplane in the slipstream, P")
    pressure: float = number("1", "dynamic pressure there over the free stream's, r")
    gained: float = number("m2", "lift over q the wings gain, G")
    added: float = number("m2", "lift over q the tailplane has to carry for power, X")
    without: float = number("rad", "elevator without power")
    meets: float = number("rad", "angle of the air to the thrust line at the tailplane, A/A', b counted")
    down: float = number("1", "downward flow in the slipstream there over V, w")
    wake: float = number("1", "pressure behind the wings' wakes over q, rw")
    tail: Tailplane | None = None  # without power
    elevators: tuple[float, ...] = number("rad", "elevator with power, by VARIANTS", (math.nan,) * len(VARIANTS))
    powers: tuple[float, ...] = number("1/rad", "CM_e with power, by VARIANTS", (math.nan,) * len(VARIANTS))

    @property
    def elevator(self) -> Band:
        """With power, by the lattice, rad."""
        return _band(self.elevators)


@dataclass(frozen=True)
class PowerLine:
    """A case over rising speeds with power."""

    trims: tuple[PulledTrim, ...]
    off: np.ndarray  # (n,) margin without power by the same sum
    on: np.ndarray  # (variants, n) with power

    @property
    def speeds(self) -> np.ndarray:
        """(n,) m/s."""
        return np.array([t.speed for t in self.trims])

    def elevator(self, speed: float) -> Band:
        """With power at a speed, by the lattice, rad; NaN outside the speeds."""
        each = np.array([t.elevators for t in self.trims]).T
        return _band(tuple(self._at(speed, row) for row in each))

    def without(self, speed: float) -> float:
        """Without power at a speed, by the lattice, rad."""
        return self._at(speed, np.array([t.without for t in self.trims]))

    def lift(self, speed: float) -> float:
        """CL at a speed."""
        return self._at(speed, np.array([t.lift for t in self.trims]))

    def change(self, speed: float) -> Band:
        """What power does to the margin at a speed."""
        return _band(tuple(self._at(speed, row - self.off) for row in self.on))

    def _at(self, speed: float, row: np.ndarray) -> float:
        return float(np.interp(speed, self.speeds, row, math.nan, math.nan))


def _band(each: tuple[float, ...]) -> Band:
    """The first as value, the least and the greatest; unknown where one is."""
    return Band(each[0], min(each), max(each)) if all(map(math.isfinite, each)) else UNKNOWN


def tailplane(line: Line, speed: float, cg: Cg) -> Tailplane:
    """The tailplane of a trimmed line at a level speed, m/s; NaN throughout where there is no trim."""
    plane = line.plane
    CL = 2 * line.mass * GRAVITY / (line.air.density * speed**2 * plane.area)
    at = line.states(CL)
    alpha, e = float(at.alpha[0]), float(at.elevator[0])
    if not math.isfinite(alpha):
        return Tailplane(speed, CL, *(math.nan,) * 8)
    which, here, hinge = line.company.place_of(plane.tail), line.company.strip_slices[plane.tail], hinge_of(plane)
    stance = line.fitted.stances.at(alpha)
    c = stance.amounts({plane.tail: e}, at.twist[0])
    by = slopes_of(stance.up[which], c)
    slope, by_elevator = float(by[1 + len(line.company.hinged) :][here].sum()), float(by[hinge])
    turns = float(slopes_of(stance.moment_form(*cg), c)[hinge])
    setting = slope * plane.model.tailplane.incidence
    angle = float(stance.surface_lift(c)[which]) - setting - by_elevator * e
    arm = -turns * plane.area * plane.chord / by_elevator
    return Tailplane(speed, CL, alpha, e, angle, setting, slope, by_elevator, arm, _upwash(line, CL))


def _upwash(line: Line, CL: float) -> float:
    """Rise of the air at the propeller's hub by the wings, rad."""
    state, (x, _, z) = line.state(CL), line.plane.model.propeller.place
    u, _, w = state.past_wings(turned_by(np.array([[x], [0.0], [z]]), state.alpha))[:, 0]
    return math.atan2(float(w), float(u))


def power_line(line: Line, cg: Cg, pulling: Pulling, speeds: np.ndarray, wake: Callable[[float], float]) -> PowerLine:
    """A trimmed line with power over rising speeds, m/s; wake: rw at a CL."""
    tails = [tailplane(line, float(V), cg) for V in speeds]
    alpha, meets, CL = (np.array([getattr(t, n) for t in tails]) for n in ("alpha", "meets", "lift"))
    turns, CLa = np.gradient(meets, alpha), np.gradient(CL, alpha)
    trims = tuple(_trim(line, t, cg, pulling, wake(t.lift), float(k), float(a))
                  for t, k, a in zip(tails, turns, CLa, strict=True))  # fmt: skip
    bare = np.array([-t.elevator_slope * t.arm / (line.plane.area * line.plane.chord) for t in tails])
    off = bare * np.gradient(np.array([t.without for t in trims]), CL)
    each, powers = (np.array([getattr(t, n) for t in trims]).T for n in ("elevators", "powers"))
    return PowerLine(trims, off, powers * np.gradient(each, CL, axis=1))


def _trim(line: Line, t: Tailplane, cg: Cg, pulling: Pulling, wake: float, turns: float, CLa: float) -> PulledTrim:
    if not math.isfinite(t.alpha):
        return PulledTrim(t.speed, t.lift, *(math.nan,) * 10)
    rho, V = line.air.density, t.speed
    T, q = pulling.thrust(V), rho * V**2 / 2
    stream = slipstream(T, V * math.cos(t.alpha), pulling.blade.diameter, pulling.hub, rho)
    N = q * fin_slope(pulling.blade, V, stream.added).value * (t.alpha + t.upwash)
    G, down = _gained(line, t, stream)
    less = turns / (line.plane.area * CLa)
    found = [
        _one(line, t, stream, (T, n * N), cg, wake, t.meets - g * less * G, g * down, p)
        for n, g, p in VARIANTS
    ]  # fmt: skip
    e, powers, parts, ratios, added, downs = zip(*found, strict=True)
    likely = (parts[0], ratios[0], G, added[0], t.elevator, t.meets - less * G, downs[0], wake)
    return PulledTrim(V, t.lift, T, N, *likely, t, e, powers)


def _gained(line: Line, t: Tailplane, stream: Slipstream) -> tuple[float, float]:
    """(G m2, downward flow over V that it leaves at the tailplane): each wing as a pair of vortices s apart."""
    strips = wetted(line, t.lift, np.zeros(0))
    gains, wide = 2 * strips.gains(stream, t.speed, "thin"), strips.widths(strips.parts(stream, t.speed))
    away = 1 + (2 * (strips.waterline - _tail_waterline(line)) / np.maximum(wide, 1e-9)) ** 2
    down = np.divide(gains, np.pi * wide**2 * away, out=np.zeros(gains.size), where=wide > 0)
    return float(gains.sum()), float(down.sum())


def _one(line: Line, t: Tailplane, stream: Slipstream, forces: tuple[float, float], cg: Cg, wake: float, angle: float,
         gained: float, share: float) -> tuple[float, float, float, float, float, float]:  # fmt: skip
    """(elevator, CM_e, P, r, X, w); forces: T, N; angle: the tailplane meets; gained: w of the wings; share: of P."""
    plane, rho, V, (T, N) = line.plane, line.air.density, t.speed, forces
    q, through = rho * V**2 / 2, rho * math.pi * stream.disc**2 * (V + stream.added)
    down = (N / (through * V) if through > 0 else math.nan) + gained
    r = float(stream.pressure_ratio(_station(line))) * math.cos(t.alpha) ** 2 + math.sin(t.alpha) ** 2
    P = min(1.0, share * _immersed(line, t, stream, angle, down))
    f1, f2 = 1 + P * (math.sqrt(r) - 1), 1 + P * (r - 1)
    r_body = float(stream.pressure_ratio(line.company.reference_point[0]))
    body = plane.body_slopes[0] * plane.area * plane.chord * t.alpha * (math.sqrt(r_body) - 1)
    X = ((N * (cg[0] - stream.station) - T * (stream.waterline - cg[1])) / q + body) / t.arm
    lifts = t.slope * (angle * f1 - P * math.sqrt(r) * down)
    e = ((t.carries + X) / wake - lifts - t.by_setting * f2) / (t.elevator_slope * f2)
    return e, -wake * f2 * t.elevator_slope * t.arm / (plane.area * plane.chord), P, r, X, down


def _tail_waterline(line: Line) -> float:
    return float(line.company.mesh.surfaces[line.company.place_of(line.plane.tail)].middle[2].mean())


def _station(line: Line) -> float:
    """Station of the tailplane's quarter chord at the middle of its half-span, m."""
    s = line.company.mesh.surfaces[line.company.place_of(line.plane.tail)]
    return float(np.interp(s.middle[1].max() / 2, s.middle[1], s.middle[0] + s.chord / 4))


def _immersed(line: Line, t: Tailplane, stream: Slipstream, meets: float, down: float) -> float:
    """P: the slipstream bends with the air across it, as far as the wings with a, behind them as the tail meets it."""
    s = line.company.mesh.surfaces[line.company.place_of(line.plane.tail)]
    x, z = s.middle[0] + s.chord / 4 * np.cos(s.angle), s.middle[2] - s.chord / 4 * np.sin(s.angle)
    bend = float(np.clip(line.company.reference_point[0], stream.station, x.min()))
    ahead = (bend - stream.station) * t.speed * math.sin(t.alpha) / float(stream.velocity(bend))
    behind = (x - bend) * t.speed * (meets - down) / stream.velocity(x)
    parts = stream.covers(x, s.edge[1, :-1], s.edge[1, 1:], z - ahead - behind)
    area = s.chord * s.width
    return float(parts @ area / area.sum())
