"""The stick fore and aft: force and way in steady flight and in a pull-up or turn, stick free, by the trimmed lines.

Symbols: P force of the hand, pull positive; g surface over hand; H aerodynamic moment about the hinge, trailing edge
down positive, both sides; W the elevator's own weight moment; T what the trim's spring draws the stick aft with; n load
factor; e elevator, trailing edge down; f what a real elevator does of the lattice's (EFFECTIVE); r rate of turning in
pitch over speed, rad/m.

    P = g (H + n W) - T                                     virtual work
    H = 2 q [ka A + ke E e/f]                               A, E of flap.py at the trimmed state, e by the lattice
    r = G (n - 1)/V^2 in a pull-up, G (n - 1/n)/V^2 in a turn

In curved flight the stream turns along the aeroplane: a strip at x meets r (x - xcg) more. Angle and elevator follow
from lift n times the weight and no moment, straight from the trimmed state at that lift. Stick free: the elevator goes
with the angle by  de/da = -(dH/da)/(dH/de), and with it neutral and manoeuvre points move.

Power off; attached flow, rigid controls, no friction; the tail in the free stream's pressure. Weight of stick and rods
is not in it. Sources: anderson-flight ch. 7 (stick free); naca-tr-711 (curved flight, memory); worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from sparwright.air.mesh import turned_by
from sparwright.air.stance import slopes_of
from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.trim import Line
from sparwright.flight.work import Case, place
from sparwright.handling.flap import Flap
from sparwright.handling.gear import Gear
from sparwright.handling.spread import Sure, spread

Spring = Callable[[float, float], float]  # (stick's angle, lever's angle), rad -> N drawing aft
STEP = math.radians(0.2)
DEGREE = math.radians(1.0)
SECANTS, NOTHING = 3, 0.5  # rounds; N


@dataclass(frozen=True)
class Pitch:
    """The elevator with what moves it."""

    flap: Flap
    gear: Gear | None = None
    weight: Band = UNKNOWN  # N m, trailing edge down, level flight
    spring: Spring | None = None
    lever: tuple[float, float] = number("rad", "how far the trim's lever goes forward (negative) and aft", (0.0, 0.0))

    def drawn(self, up: float, lever: float) -> float:
        """What the spring draws aft with, N, elevator up by an angle."""
        if self.spring is None or self.gear is None:
            return 0.0
        return self.spring(self.gear.lever_of(up), lever)


@dataclass(frozen=True)
class Flying:
    """One state of flight: what the hinge feels, before what is not sure is put in."""

    elevator: float = number("rad", "by the lattice, trailing edge down", math.nan)
    angle: float = number("N m", "moment of the stream, both sides, thin aerofoil", math.nan)
    flap: float = number("N m/rad", "moment for each radian of the elevator, both sides, thin aerofoil", math.nan)
    speed: float = number("m/s", "true speed", math.nan)
    factor: float = number("1", "load factor", 1.0)
    alpha: float = number("rad", "angle of the thrust line", math.nan)

    @property
    def known(self) -> bool:
        """Whether there is such a state."""
        return math.isfinite(self.elevator)


@dataclass(frozen=True)
class Held:
    """What the hand holds at one state; N, pull positive."""

    state: Flying
    force: float = number("N", "without the spring")
    trimmed: Band = UNKNOWN  # N, with it, its lever where it was set, and its band
    way: float = number("m", "of the hand from neutral, aft positive", math.nan)


def level(case: Case, flap: Flap, speed: float, density: float) -> Flying:
    """Steady straight flight at a speed (m/s)."""
    return pulled(case, flap, speed, 1.0, density)


def pulled(case: Case, flap: Flap, speed: float, factor: float, density: float, turn: bool = False) -> Flying:
    """A pull-up, or a turn, with a load factor at a speed (m/s)."""
    line, q = case.line, density * speed**2 / 2
    lift = factor * line.mass * GRAVITY / (q * line.plane.area)
    at = line.states(lift)
    alpha, e = float(at.alpha[0]), float(at.elevator[0])
    if not math.isfinite(alpha):
        return Flying(speed=speed, factor=factor)
    c = amounts(line, e, at.twist[0])
    r = GRAVITY * (factor - (1 / factor if turn else 1.0)) / speed**2
    c = c + r * _curved(line, case, alpha, c) if r else c
    p = flap.at(alpha).parts(c, r)
    return Flying(float(c[flap.place]), 2 * q * p.angle, 2 * q * p.flap, speed, factor, alpha)


def amounts(line: Line, elevator: float, twist: np.ndarray | None = None) -> np.ndarray:
    """(b,) amounts of a company with its elevator turned, rad, and its strips twisted (stance.py)."""
    strips = np.zeros(line.company.chords.size) if twist is None else twist
    hinges = [elevator if name == line.plane.tail else 0.0 for name in line.company.hinged]
    return np.concatenate([[1.0], hinges, strips])


def _curved(line: Line, case: Case, alpha: float, c: np.ndarray) -> np.ndarray:
    """(b,) amounts for each radian a metre of turning in pitch."""
    bent = np.zeros(c.size)
    bent[1 + len(line.company.hinged) :] = far_aft(line, alpha, place(case.loading))
    return _balanced(line, case, alpha, c, bent)


def _balanced(line: Line, case: Case, alpha: float, c: np.ndarray, bent: np.ndarray) -> np.ndarray:
    """(b,) a change of the amounts, and with it the angle and the elevator that leave lift and moment as they were.

    The angle is taken as a twist of all strips alike.
    """
    stance, plane = line.fitted.stances.at(alpha), line.plane
    whole, held = np.zeros(c.size), np.zeros(c.size)
    whole[1 + len(line.company.hinged) :], held[1 + line.company.hinged.index(plane.tail)] = 1.0, 1.0
    lift, moment = slopes_of(stance.up.sum(0), c), slopes_of(stance.moment_form(*place(case.loading)), c)
    matrix = np.array([[lift @ whole, lift @ held], [moment @ whole + plane.body_slopes[0], moment @ held]])
    angle, elevator = np.linalg.solve(matrix, -np.array([lift @ bent, moment @ bent]))
    return np.asarray(bent + angle * whole + elevator * held)


def inclined(case: Case, flap: Flap, speed: float, density: float, angle: float) -> Flying:
    """Steady straight flight with the tailplane set by an angle (rad, nose up) more."""
    line, q = case.line, density * speed**2 / 2
    at = line.states(line.mass * GRAVITY / (q * line.plane.area))
    alpha = float(at.alpha[0])
    if not math.isfinite(alpha):
        return Flying(speed=speed)
    c = amounts(line, float(at.elevator[0]), at.twist[0])
    bent = np.zeros(c.size)
    tail = line.company.strip_slices[line.plane.tail]
    bent[1 + len(line.company.hinged) :][tail] = 1.0
    c = c + angle * _balanced(line, case, alpha, c, bent)
    p = flap.at(alpha).parts(c)
    return Flying(float(c[flap.place]), 2 * q * p.angle, 2 * q * p.flap, speed, 1.0, alpha)


def between(a: Flying, b: Flying, part: float) -> Flying:
    """A state on the straight line from one to another, a part of the way."""
    values = {k: getattr(a, k) + part * (getattr(b, k) - getattr(a, k)) for k in ("elevator", "angle", "flap")}
    return replace(a, **values)


def hands_off(pitch: Pitch, case: Case, speed: float, density: float, lever: float) -> Band:
    """How much more the tailplane would have to be set, rad, nose up, for nothing to hold at a speed.

    By a secant, elevator and moments taken as straight through no change and a degree, with the trim's lever at an
    angle; unknown where there are no forces.
    """
    still, turned = (inclined(case, pitch.flap, speed, density, x) for x in (0.0, DEGREE))
    if pitch.gear is None or not still.known:
        return UNKNOWN

    def of(s: Sure) -> float:
        def left(angle: float) -> float:
            at = between(still, turned, angle / DEGREE)
            return force(pitch, at, s) - drawn(pitch, at, s, lever)

        a, b = 0.0, DEGREE
        pa, pb = left(a), left(b)
        for _ in range(SECANTS):
            if not (math.isfinite(pb) and pa != pb):
                return math.nan
            a, b, pa = b, b - pb * (b - a) / (pb - pa), pb
            pb = left(b)
        return b if abs(pb) < NOTHING else math.nan

    return spread(of, pitch.flap.real, pitch.weight)


def far_aft(line: Line, alpha: float, cg: tuple[float, float]) -> np.ndarray:
    """(strips,) m, along the stream from the centre of gravity to three quarters of each strip's chord."""
    x, found = float(turned_by(np.array([cg[0], 0.0, cg[1]]), alpha)[0]), []
    for s in line.company.mesh.surfaces:
        at = s.middle + 0.75 * s.chord * np.array([np.cos(s.angle), 0 * s.angle, -np.sin(s.angle)])
        found.append(turned_by(at, alpha)[0] - x)
    return np.concatenate(found)


# ------------------------------------------------------------------ the hand


def held(pitch: Pitch, at: Flying, lever: float) -> Held:
    """The hand's force at a state, with the trim's lever at an angle."""
    if pitch.gear is None or not at.known:
        return Held(at, math.nan)
    real, weight = pitch.flap.real, pitch.weight
    whole = spread(lambda s: force(pitch, at, s) - drawn(pitch, at, s, lever), real, weight)
    return Held(
        at,
        force(pitch, at, Sure(real, EFFECTIVE.value, weight.value)),
        whole,
        float(pitch.gear.way_of(-at.elevator / EFFECTIVE.value)),
    )


def force(pitch: Pitch, at: Flying, s: Sure) -> float:
    """N, the hand's force at a state without the spring; NaN past the elevator's travel."""
    assert pitch.gear is not None
    e = at.elevator / s.effect
    moment = s.real.angle * at.angle + s.real.flap * at.flap * e + at.factor * s.weight
    return moment * float(pitch.gear.at(-e))


def drawn(pitch: Pitch, at: Flying, s: Sure, lever: float) -> float:
    """N, what the spring draws aft with at a state."""
    return pitch.drawn(-at.elevator / s.effect, lever)


def more(pitch: Pitch, at: Flying, than: Flying, lever: float) -> Band:
    """N, the force at one state over that at another, the lever as it is."""
    if pitch.gear is None or not (at.known and than.known):
        return UNKNOWN

    def of(s: Sure) -> float:
        one, two = (force(pitch, x, s) - drawn(pitch, x, s, lever) for x in (at, than))
        return one - two

    return spread(of, pitch.flap.real, pitch.weight)


def best_lever(pitch: Pitch, at: Flying) -> float:
    """The lever's angle that leaves the hand least to hold at a state, rad; its middle where nothing is known."""
    low, high = pitch.lever
    if pitch.spring is None or not at.known:
        return (low + high) / 2
    wanted = force(pitch, at, Sure(pitch.flap.real, EFFECTIVE.value, pitch.weight.value))
    up, levers = -at.elevator / EFFECTIVE.value, np.linspace(low, high, 9)
    left = wanted - np.array([pitch.drawn(up, v) for v in levers])
    if not np.isfinite(left).all():
        return (low + high) / 2
    if left.min() <= 0 <= left.max():
        order = np.argsort(left)
        return float(np.interp(0.0, left[order], levers[order]))
    return float(levers[np.argmin(np.abs(left))])


# ------------------------------------------------------------------ stick free


@dataclass(frozen=True)
class Free:
    """What letting go of the stick does to neutral and manoeuvre points, fractions of the mean chord."""

    neutral: Band  # shift, forward negative
    floats: Band  # de/da, true elevator for the angle of attack
    damping: float = number("1", "manoeuvre point aft of the neutral point, stick fixed", math.nan)
    damping_free: Band = UNKNOWN  # the same, stick free
    hinge_angle: float = number("m3/rad", "dH/q da, both sides, thin aerofoil, elevator held", math.nan)
    hinge_flap: float = number("m3/rad", "dH/q de of the flap alone, both sides, thin aerofoil", math.nan)
    lift_slope: float = number("1/rad", "dCL/da", math.nan)
    moment_elevator: float = number("1/rad", "dCM/de by the lattice, about the centre of gravity", math.nan)
    lift_elevator: float = number("1/rad", "dCL/de by the lattice", math.nan)
    stiff: float = number(
        "m3/rad", "dH/q de, both sides, a real elevator with what it does to its own stream", math.nan
    )
    static: float = number("1", "static margin, stick fixed, that it was worked out for", math.nan)


def free(case: Case, flap: Flap, lift: float, density: float, static: float) -> Free:
    """Stick free at a level lift; static: the stick-fixed margin of the case, a fraction of the chord.

    ValueError where there is no trim at that lift.
    """
    s = Sums.at(case, flap, lift)
    mass = density * case.line.plane.area / (2 * case.line.mass)
    bands = [spread(lambda x, i=i: s.points(x, static, mass)[i], flap.real) for i in range(3)]  # type: ignore[misc]
    return Free(bands[0], bands[1], s.damping(static, mass), bands[2], 2 * s.hinge_angle,
                2 * s.hinge_flap, s.lift_angle, s.moment_elevator, s.lift_elevator,
                2 * s.stiff(Sure(flap.real)), static)  # fmt: skip


@dataclass(frozen=True)
class Sums:
    """Slopes at a state by angle, elevator (lattice) and turning in pitch; H/q of one side."""

    lift_angle: float = number("1/rad", "CL by angle")
    lift_elevator: float = number("1/rad", "CL by elevator")
    lift_turn: float = number("m", "CL by rad/m")
    moment_elevator: float = number("1/rad", "CM by elevator")
    moment_turn: float = number("m", "CM by rad/m")
    hinge_angle: float = number("m3/rad", "stream's part by angle")
    hinge_elevator: float = number("m3/rad", "stream's part by elevator")
    hinge_turn: float = number("m4", "stream's part by rad/m")
    hinge_flap: float = number("m3/rad", "flap's own part")

    @staticmethod
    def at(case: Case, flap: Flap, lift: float) -> Sums:
        """By differences of the lattice at the trimmed angle and elevator, its own lift line."""
        line, plane = case.line, case.line.plane
        at = line.states(lift)
        alpha, e, skip = float(at.alpha[0]), float(at.elevator[0]), 1 + len(line.company.hinged)
        if not math.isfinite(alpha):
            raise ValueError(f"no trim at CL {lift:.2f}")
        stance = line.fitted.stances.at(alpha)
        c = amounts(line, e)
        held, bent = np.zeros(c.size), np.zeros(c.size)
        held[flap.place], bent[skip:] = 1.0, far_aft(line, alpha, place(case.loading))
        up, turning = (
            slopes_of(stance.up.sum(0), c) / plane.area,
            slopes_of(stance.moment_form(*place(case.loading)), c),
        )
        now, h = flap.at(alpha), 1e-4
        here = [flap.at(alpha + d).parts(c).angle for d in (STEP, -STEP)]
        by_e = [now.parts(c + d * held).angle for d in (h, -h)]
        by_r = [now.parts(c + d * bent, d).angle for d in (h, -h)]
        sides = [line.fitted.stances.at(alpha + d) for d in (STEP, -STEP)]
        return Sums(
            float(sides[0].lift(c) - sides[1].lift(c)) / (2 * STEP), float(up @ held), float(up @ bent),
            float(turning @ held), float(turning @ bent), (here[0] - here[1]) / (2 * STEP),
            (by_e[0] - by_e[1]) / (2 * h), (by_r[0] - by_r[1]) / (2 * h), now.parts(c).flap,
        )  # fmt: skip

    def points(self, sure: Sure, static: float, mass: float) -> tuple[float, float, float]:
        """(shift of the neutral point, de/da true, manoeuvre point aft of the free neutral point)."""
        ka, f = sure.real.angle, sure.effect
        stiff = self.stiff(sure)
        by_angle, by_turn = -ka * self.hinge_angle / stiff, -ka * self.hinge_turn / stiff
        slope = self.lift_angle + f * self.lift_elevator * by_angle
        margin = (static * self.lift_angle - f * self.moment_elevator * by_angle) / slope
        moment = self.moment_turn + f * self.moment_elevator * by_turn
        lift = self.lift_turn + f * self.lift_elevator * by_turn
        return margin - static, by_angle, -(moment + margin * lift) * mass

    def stiff(self, sure: Sure) -> float:
        """dH/q de of one side, m3/rad, true elevator: its own and what it does to its own stream."""
        return sure.real.flap * self.hinge_flap + sure.real.angle * sure.effect * self.hinge_elevator

    def damping(self, static: float, mass: float) -> float:
        """Manoeuvre point aft of the neutral point, stick fixed: -(CM_r + margin CL_r) rho S/(2 m)."""
        return -(self.moment_turn + static * self.lift_turn) * mass
