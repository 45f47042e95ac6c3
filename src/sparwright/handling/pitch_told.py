"""The stick fore and aft told: neutral and manoeuvre points stick free, trim, forces over speed, force per g."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Result, Step, by_hand
from sparwright.base.record import locked, number
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.slow import TITLES, told
from sparwright.flight.work import LEVEL_CL
from sparwright.handling.flap import KEY
from sparwright.handling.hand import hand_of
from sparwright.handling.made import CASE, ENDS, Made
from sparwright.handling.pitch import (
    Flying,
    Free,
    best_lever,
    drawn,
    force,
    free,
    hands_off,
    held,
    level,
    more,
    pulled,
)
from sparwright.handling.spread import Sure

METHOD = f"lattice's stream at the tail, thin-aerofoil hinge moments; {KEY}"
NOT_IN = "power off; friction, slipstream, wakes at the tail, weight of stick and rods, and what gives are not in it"
FREE = "anderson-flight ch. 7 (stick free), hinge moments by the lattice's stream"
WORDS = {
    "approach": "1.3 of the stalling speed",
    "cruise": "a cruising speed",
    "manoeuvre": "the manoeuvring speed",
    "top": "the top level speed",
}
POINTS, CLOSER = 10, 1.6  # speeds of a curve, closer together near the stall


@dataclass(frozen=True)
class Curve:
    """Stick force over speed, straight flight, n speeds; the trim's lever where it leaves least to hold at cruise."""

    case: str
    speed: np.ndarray = field(repr=False)  # (n,) m/s
    force: np.ndarray = field(repr=False)  # (3, n) N, pull positive: value, low, high
    way: np.ndarray = field(repr=False)  # (n,) m of the hand from neutral, aft positive
    elevator: np.ndarray = field(repr=False)  # (n,) rad, true, trailing edge down
    wanted: np.ndarray = field(repr=False)  # (n,) N, without the spring
    lever: float = number("rad", "of the trim, aft positive", math.nan)
    set_for: float = number("m/s", "speed the trim is set for", math.nan)

    def at(self, speed: float) -> float:
        """N, force at a speed; NaN outside."""
        return float(np.interp(speed, self.speed, self.force[0], left=math.nan, right=math.nan))

    def gradient(self, speed: float) -> float:
        """N s/m, push more for each metre a second faster: -dP/dV; NaN outside."""
        if self.speed.size < 3:
            return math.nan
        slope = -np.gradient(self.force[0], self.speed)
        return float(np.interp(speed, self.speed, slope, left=math.nan, right=math.nan))


def curve(m: Made, name: str) -> Curve:
    """Force over speed of a loading, from its stall to the top speed."""
    case, flap = m.case(name), m.pitch.flap
    slow, fast = case.stall.speed.value, m.speeds["top"]
    fast = fast if math.isfinite(fast) else 1.5 * m.speeds["cruise"]
    lever = best_lever(m.pitch, level(case, flap, m.speeds["cruise"], m.density))
    if not (math.isfinite(slow) and slow < fast):
        none = locked(np.zeros(0))
        return Curve(name, none, locked(np.zeros((3, 0))), none, none, none, lever, m.speeds["cruise"])
    speed = 1.02 * slow + (fast - 1.02 * slow) * np.linspace(0, 1, POINTS) ** CLOSER
    states = [level(case, flap, float(v), m.density) for v in speed]
    hands = [held(m.pitch, s, lever) for s in states]
    return Curve(
        name, locked(speed), locked([[getattr(h.trimmed, k) for h in hands] for k in ("value", "low", "high")]),
        locked([h.way for h in hands]), locked([s.elevator / EFFECTIVE.value for s in states]),
        locked([h.force for h in hands]), lever, m.speeds["cruise"],
    )  # fmt: skip


# ------------------------------------------------------------------ stick free


def freed(m: Made) -> Free | None:
    """Stick free at the lift the neutral point is told for, about the heaviest loading."""
    case = m.case("heaviest")
    try:
        return free(case, m.pitch.flap, LEVEL_CL, m.density, m.flown.neutral_point.value - case.loading.fraction)
    except ValueError:
        return None


def free_results(m: Made, found: Free | None) -> Iterator[Result]:
    """`flight.neutral_point.free`, margins, manoeuvre points."""
    hn, shift = m.flown.neutral_point, found.neutral if found else UNKNOWN
    why = "" if found else "there is no trimmed state at that lift"
    point = added(hn, shift)
    steps = _free_steps(m, found) if found else ()
    yield told(point, "flight.neutral_point.free", "neutral point, stick free, power off", "1", FREE,
               why or f"air's hinge moments alone: the elevator's weight and the trim's spring count in the force over "
               f"speed; {NOT_IN}", steps, ("flight.neutral_point",))  # fmt: skip
    for name, case in m.flown.cases.items():
        h = case.loading
        fixed = Band(hn.value - h.fraction, hn.low - h.fraction_high, hn.high - h.fraction_low)
        margin = added(fixed, shift)
        step = Step("static margin", "hn free - h", (("hn free", point.value, "1"), ("h", h.fraction, "1")),
                    margin.value, "1", "anderson-flight ch. 7")  # fmt: skip
        yield told(margin, f"flight.free_margin.{name}", f"static margin, stick free, {TITLES[name]}", "1", FREE, why,
                   (step,), ("flight.neutral_point.free", f"mass.case.{name}"))  # fmt: skip
    yield from _manoeuvre(m, found, hn, point, why)


def _free_steps(m: Made, found: Free) -> tuple[Step, ...]:
    real, hand = m.pitch.flap.real, hand_of(m)
    floats = Step(
        "elevator with the angle of attack, let go",
        "de/da = -ka H_a/H_e",
        (("ka", real.angle, "1"), ("H_a/q", found.hinge_angle, "m3/rad"), ("H_e/q", found.stiff, "m3/rad")),
        found.floats.value, "1", METHOD,
    )  # fmt: skip
    step = Step(
        "neutral point's shift", "(M CLa - f CMe de/da)/(CLa + f CLe de/da) - M",
        (("M", found.static, "1"), ("CLa", found.lift_slope, "1/rad"), ("CMe", found.moment_elevator, "1/rad"),
         ("CLe", found.lift_elevator, "1/rad"), ("f", EFFECTIVE.value, "1"), ("de/da", found.floats.value, "1")),
        found.neutral.value, "1", FREE,
    )  # fmt: skip
    return (floats, step, *by_hand("-(1 - F) VH at/a (1 - de)", hand.free_given(), hand.free_shift, found.neutral.value,
                                   "1", "anderson-flight eq. 7.46, 7.49; slopes by helmbold-1942"))  # fmt: skip


def _manoeuvre(m: Made, found: Free | None, hn: Band, point: Band, why: str) -> Iterator[Result]:
    damping = found.damping if found else math.nan
    fixed = Band(hn.value + damping, hn.low + damping, hn.high + damping)
    hand = hand_of(m)
    steps = by_hand("hn + VH at lt rho S/(2 m)", hand.damping_given(), hand.damping, damping, "1",
                    "damping of the tail in curved flight, naca-tr-711 (memory)") if found else ()  # fmt: skip
    note = why or f"at the heaviest loading and a lift coefficient of {LEVEL_CL}; {NOT_IN}"
    yield told(fixed, "flight.manoeuvre_point", "manoeuvre point, stick fixed, power off", "1",
               "lattice with strips turned by the stream of curved flight", note, steps,
               ("flight.neutral_point",))  # fmt: skip
    loose = added(point, found.damping_free) if found else UNKNOWN
    yield told(loose, "flight.manoeuvre_point.free", "manoeuvre point, stick free, power off", "1", FREE, note, (),
               ("flight.neutral_point.free",))  # fmt: skip


def added(a: Band, b: Band) -> Band:
    """a + b, their bands independent: ends as root of squares (jcgm-100 5.1.2)."""
    value = a.value + b.value
    low, high = (math.hypot(getattr(a, k) - a.value, getattr(b, k) - b.value) for k in ("low", "high"))
    return Band(value, value - low, value + high)


# ------------------------------------------------------------------ forces


def force_results(m: Made, curves: dict[str, Curve]) -> Iterator[Result]:
    """Force over speed, trim, gradient, per g, to the limit load factor, to the stall."""
    for name in ENDS:
        yield from _over_speed(m, curves[name])
        yield from _per_g(m, name, curves[name])
    yield from _trimmed(m, curves[CASE])
    yield _stalled(m)


def _over_speed(m: Made, c: Curve) -> Iterator[Result]:
    case = m.case(c.case)
    for key in ("approach", "cruise", "top"):
        at = level(case, m.pitch.flap, m.speeds[key], m.density)
        found = held(m.pitch, at, c.lever)
        title = f"stick force at {WORDS[key]}, pull positive, trim set as well as it goes for cruise, {TITLES[c.case]}"
        yield told(found.trimmed, f"flight.force.elevator.{c.case}.{key}", title, "N", METHOD, _why(m, at) or NOT_IN,
                   _force_steps(m, at, c.lever), ("mass.hinge.elevator", "controls.elevator.gearing"))  # fmt: skip
    slope = c.gradient(m.speeds["cruise"])
    title = f"stick force over speed at cruise, push for faster positive, {TITLES[c.case]}"
    yield told(Band(slope, math.nan, math.nan), f"flight.force.gradient.{c.case}", title, "N s/m", METHOD,
               _why(m) or f"no band of its own; {NOT_IN}", _curve_steps(c))  # fmt: skip
    travel = float(np.ptp(c.way)) if c.way.size and np.isfinite(c.way).all() else math.nan
    yield told(Band.exact(travel), f"flight.stick.travel.{c.case}", "way of the stick from near the stall to the top "
               f"speed, {TITLES[c.case]}", "m", METHOD, _why(m) or NOT_IN)  # fmt: skip


def _curve_steps(c: Curve) -> tuple[Step, ...]:
    return tuple(
        Step(f"{v:.1f} m/s", "P = g (H + W) - T", (("V", v, "m/s"), ("e", e, "rad"), ("way aft", w, "m")), p, "N")
        for v, p, w, e in zip(c.speed.tolist(), c.force[0].tolist(), c.way.tolist(), c.elevator.tolist(), strict=True)
    )


def _force_steps(m: Made, at: Flying, lever: float) -> tuple[Step, ...]:
    pitch = m.pitch
    if pitch.gear is None or not at.known or not math.isfinite(pitch.weight.value):
        return ()
    s, real = Sure(pitch.flap.real, EFFECTIVE.value, pitch.weight.value), pitch.flap.real
    e = at.elevator / EFFECTIVE.value
    moment = real.angle * at.angle + real.flap * at.flap * e
    spring = drawn(pitch, at, s, lever)
    hand = hand_of(m)
    return (
        Step("moment of the air", "ka A + ke E e", (("ka", real.angle, "1"), ("A", at.angle, "N m"),
             ("ke", real.flap, "1"), ("E", at.flap, "N m/rad"), ("e", e, "rad")), moment, "N m", METHOD),
        Step("stick force", "g (H + n W) - T", (("g", float(pitch.gear.at(-e)), "rad/m"), ("H", moment, "N m"),
             ("n", at.factor, "1"), ("W", pitch.weight.value, "N m"), ("T", spring, "N")),
             force(pitch, at, s) - spring, "N", "virtual work"),
        *by_hand("q 2 Int cf^2 dy ke Ce", hand.stiff_given(at.speed), hand.stiffness(at.speed) * real.flap,
                 at.flap * real.flap, "N m/rad", "glauert-1926 ch. IX on the chord at half the half-span"),
    )  # fmt: skip


def _per_g(m: Made, name: str, c: Curve) -> Iterator[Result]:
    case, flap = m.case(name), m.pitch.flap
    for key in ("manoeuvre", "cruise"):
        one, two = (pulled(case, flap, m.speeds[key], n, m.density) for n in (1.0, 2.0))
        words = f"for 1 g more in a pull-up at {WORDS[key]}, {TITLES[name]}"
        why = _why(m, two) or NOT_IN
        band = more(m.pitch, two, one, c.lever)
        yield told(band, f"flight.force.per_g.{name}.{key}", f"stick force {words}", "N", METHOD, why,
                   _g_steps(m, name, one, two, band.value),
                   ("mass.hinge.elevator", "controls.elevator.gearing"))  # fmt: skip
        turned = (two.elevator - one.elevator) / EFFECTIVE.value
        ends = sorted((two.elevator - one.elevator) / f for f in (EFFECTIVE.low, EFFECTIVE.high))
        band = Band(turned, *ends)
        yield told(band, f"flight.elevator.per_g.{name}.{key}", f"elevator, trailing edge down, {words}", "rad", METHOD,
                   _why(m, two, forces=False) or NOT_IN)  # fmt: skip
        ways = [held(m.pitch, s, c.lever).way for s in (two, one)]
        yield told(Band.exact(ways[0] - ways[1]), f"flight.stick.per_g.{name}.{key}", f"way of the stick {words}", "m",
                   METHOD, why)  # fmt: skip
    for key in ("manoeuvre", "top"):
        yield _limit(m, name, key)


def _g_steps(m: Made, name: str, one: Flying, two: Flying, ours: float) -> tuple[Step, ...]:
    if not (one.known and two.known and math.isfinite(ours)):
        return ()
    hand = hand_of(m)
    value = hand.per_g(m, name)
    return (
        Step("elevator for it, by the lattice", "lift 2 W, no moment, strips turned by r (x - xcg)",
             (("e at 1 g", one.elevator, "rad"), ("e at 2 g", two.elevator, "rad"),
              ("r", GRAVITY / one.speed**2, "rad/m")), two.elevator - one.elevator, "rad", METHOD),
        *by_hand("g [W + q 2 Int cf^2 dy (ka Ca da + ke Ce de)]", hand.g_given(m, name), value, ours, "N",
                 "naca-tr-711 (memory), glauert-1926; slopes by helmbold-1942"),
    )  # fmt: skip


def _limit(m: Made, name: str, key: str) -> Result:
    """Force in a turn to the positive limit load factor, trimmed for level flight there as well as it goes."""
    case, n, v = m.case(name), m.flown.model.limits.n_positive, m.speeds[key]
    flat = level(case, m.pitch.flap, v, m.density)
    most = case.stall.lift.value * m.density * v**2 / 2 * m.flown.plane.area / (case.line.mass * GRAVITY)
    at = pulled(case, m.pitch.flap, v, min(n, most) if math.isfinite(most) else n, m.density, turn=True)
    lever = best_lever(m.pitch, flat)
    found = more(m.pitch, at, flat, lever)
    title = f"stick force to the positive limit load factor in a turn at {WORDS[key]}, {TITLES[name]}"
    note = f"over what is held in level flight there; the wings stall at {most:.2f} g" if most < n else (
        "over what is held in level flight there")  # fmt: skip
    return told(found, f"flight.force.limit.{name}.{key}", title, "N", METHOD, _why(m, at) or f"{note}; {NOT_IN}",
                (Step("load factor", "limit, or where the wings stall", (("limit", n, "1"), ("stall", most, "1")),
                      at.factor, "1"),))  # fmt: skip


def _trimmed(m: Made, c: Curve) -> Iterator[Result]:
    """What is left to hold with the trim at its best, and the speeds it trims, at the heaviest loading."""
    case = m.case("heaviest")
    for key in ("approach", "cruise"):
        at = level(case, m.pitch.flap, m.speeds[key], m.density)
        found = held(m.pitch, at, best_lever(m.pitch, at))
        yield told(found.trimmed, f"flight.force.trim.{key}", f"stick force left at {WORDS[key]}, trim set as well as "
                   "it goes, pull positive, heaviest loading", "N", METHOD, _why(m, at) or NOT_IN,
                   _force_steps(m, at, best_lever(m.pitch, at)))  # fmt: skip
    yield _incidence(m)
    slow, fast = trim_range(m, c)
    why = _why(m) or ("" if math.isfinite(slow) else "at no speed between stall and top does the trim take all of it")
    for key, v, word in (("slow", slow, "slowest"), ("fast", fast, "fastest")):
        yield told(Band(v, math.nan, math.nan), f"flight.stick.trim.{key}", f"{word} speed trimmed hands off, heaviest "
                   "loading", "m/s", METHOD, why or f"no band of its own; {NOT_IN}")  # fmt: skip


def _incidence(m: Made) -> Result:
    """How the tailplane would have to be set for hands off at cruise, the trim's lever in the middle."""
    case, tail = m.case(CASE), m.flown.model.tailplane.incidence
    more_up = hands_off(m.pitch, case, m.speeds["cruise"], m.density, sum(m.pitch.lever) / 2)
    band = Band(tail + more_up.value, tail + more_up.low, tail + more_up.high)
    why = _why(m) or (
        "" if math.isfinite(band.value) else "no angle within the elevator's travel leaves nothing to hold"
    )
    given = (("it now", tail, "rad"), ("more", more_up.value, "rad"))
    step = Step("tailplane", "it now + what it wants", given, band.value, "rad", METHOD)
    return told(band, "flight.stick.incidence", "tailplane's incidence that would leave nothing to hold at cruise, "
                "trim's lever in the middle, heaviest loading, nose up", "rad", METHOD,
                why or f"what it does to the elevator at the stall is another matter; {NOT_IN}", (step,))  # fmt: skip


def trim_range(m: Made, c: Curve) -> tuple[float, float]:
    """(slowest, fastest) speed, m/s, that the trim's lever takes all the force at; NaN where there is none."""
    if m.pitch.gear is None or m.pitch.spring is None or not c.speed.size or not np.isfinite(c.wanted).all():
        return math.nan, math.nan
    left = []
    for wanted, e in zip(c.wanted, c.elevator, strict=True):
        ends = [m.pitch.drawn(-float(e), x) for x in m.pitch.lever]
        left.append((wanted - max(ends), wanted - min(ends)))
    over, under = np.array(left).T  # what is wanted more than it can give; more than the least it gives
    fine = np.linspace(c.speed[0], c.speed[-1], 400)
    good = (np.interp(fine, c.speed, over) <= 0) & (np.interp(fine, c.speed, under) >= 0)
    return (float(fine[good][0]), float(fine[good][-1])) if good.any() else (math.nan, math.nan)


def _stalled(m: Made) -> Result:
    """The pull that stalls the foremost loading, trim as it was set for the approach."""
    case, flap = m.case("foremost"), m.pitch.flap
    slow = level(case, flap, m.speeds["approach"], m.density)
    lift = case.stall.lift.value * (1 - 1e-6)
    speed = math.sqrt(2 * case.line.mass * GRAVITY / (m.density * m.flown.plane.area * lift)) if lift > 0 else math.nan
    at = level(case, flap, speed, m.density) if math.isfinite(speed) else Flying()
    found = held(m.pitch, at, best_lever(m.pitch, slow))
    return told(found.trimmed, "flight.force.stall", "stick force at the stall, trim set as well as it goes for the "
                f"approach, {TITLES['foremost']}", "N", METHOD, _why(m, at) or NOT_IN, (),
                ("flight.stall.foremost",))  # fmt: skip


def _why(m: Made, at: Flying | None = None, forces: bool = True) -> str:
    """Why a force is unknown; empty where it is not."""
    if forces and m.pitch.gear is None:
        return m.why
    if forces and not math.isfinite(m.pitch.weight.value):
        return "the elevator is not drawn, so its weight about the hinge is unknown"
    if at is not None and not at.known:
        return "there is no trimmed state there"
    return ""


def curves_of(m: Made) -> dict[str, Curve]:
    """Force over speed of the loadings told."""
    return {name: curve(m, name) for name in (*ENDS, CASE)}
