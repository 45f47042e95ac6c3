"""The aeroplane on its wheels' height above the ground: three-point attitude, lift, downwash and the elevator wanted.

Heights in stream axes (x along level ground, z up); a attitude of the thrust line, nose up, which is the angle of
attack in level flight along the ground; (x, z) place and r radius of a wheel.

    bottom of a wheel            h = z cos a - x sin a - r
    three-point attitude         h equal for the main and the tail wheel
    ground at an attitude        the lower h of the two: one of them just touches

The ground is the mirrored flow of the lattice (air/node.py, naca-tm-77), with the wings' real sections (air/strips.py),
the elevator trimmed about the centre of gravity as in trim.py. Everything is held against the same attitude in free
air. Downwash at the tail is the flow of all but the tail itself at its bound vortices, -w/u, mean by area.

Range: wheels rolling or just off the ground; wakes stay straight and level above it; attached flow or what the
sections carry past it; the body's moment as in free air; no slipstream, no wake loss at the tail. Not for aeroplanes
whose third wheel is ahead of the main ones: those land at another attitude. The elevator holds the attitude in steady
flight: rounding out, pitch damping and the weight on the wheels are not in it.
Sources: naca-tm-77 (image); anderson-flight ch. 7 (trim); attitudes by geometry.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from sparwright.air.mesh import turned_by
from sparwright.air.node import node
from sparwright.air.raised import past_the_nose
from sparwright.air.stance import Stances, stances
from sparwright.air.strips import Settled, plain, settle
from sparwright.air.turned import Company, CompanyState
from sparwright.base.axes import GRAVITY
from sparwright.base.check import Check, Result, Step, check
from sparwright.base.record import number
from sparwright.base.source import Band
from sparwright.family.model import Wheel
from sparwright.flight.aeroplane import EFFECTIVE, Aeroplane, turned_in_truth
from sparwright.flight.slow import TITLES, told
from sparwright.flight.trim import Line, hinge_of
from sparwright.flight.work import Flown

SOURCE = "naca-tm-77 (image below the ground), by the lattice with real sections"
RANGE = "power off, steady, wheels just off the ground; straight wakes; body's moment and tail's wake as in free air"
ABREAST = 0.05  # m: wheels whose stations differ by less stand beside each other
CASES = ("foremost", "max_mass")
FACTORS = {"stall": 1.0, "approach": 1.1}  # of the stalling speed


@dataclass(frozen=True)
class Stand:
    """How the aeroplane stands on its wheels."""

    attitude: float = number("rad", "of the thrust line on main and tail wheels, nose up; NaN for none", math.nan)
    main: Wheel | None = None
    tail: Wheel | None = None
    reason: str = ""

    def ground(self, alpha: float) -> float:
        """Height of the ground in stream axes, m, when the lower wheel just touches at an attitude, rad."""
        return min(bottom(w, alpha) for w in (self.main, self.tail) if w)


@dataclass(frozen=True)
class Felt:
    """The trimmed aeroplane at one attitude."""

    lift: float = number("1", "CL, tail included", math.nan)
    downwash: float = number("rad", "at the tail, mean by area", math.nan)
    induced: float = number("1", "CDi/CL^2", math.nan)
    elevator: float = number("rad", "by the lattice, before its lost effectiveness is allowed for", math.nan)


@dataclass(frozen=True)
class Near:
    """One attitude of the trimmed aeroplane near the ground and in free air."""

    alpha: float = number("rad", "attitude")
    ground: Felt = Felt()
    free: Felt = Felt()
    height: float = number("m", "quarter of the mean chord above the ground", math.nan)
    reason: str = ""


def bottom(wheel: Wheel, alpha: float) -> float:
    """Height in stream axes of a wheel's lowest point, m, at an attitude, rad."""
    x, _, z = wheel.place
    return z * math.cos(alpha) - x * math.sin(alpha) - wheel.diameter / 2


def stand(wheels: tuple[Wheel, ...]) -> Stand:
    """The three-point attitude of main wheels (a pair) and one wheel behind them.

    dz cos a - dx sin a = r1 - r2 with dx, dz from the tail wheel to the main one: R cos(a + b) = r1 - r2,
    R = sqrt(dx^2 + dz^2), b = atan2(dx, dz).

    >>> low = Wheel(name="main", diameter=0.4, width=0.1, mass=4, place=(0.5, 0.8, -0.9))
    >>> aft = Wheel(name="tail", diameter=0.2, width=0.1, mass=2, place=(4.5, 0.0, -0.2))
    >>> round(stand((low, aft)).attitude, 4)
    0.1979
    """
    pairs, singles = ([w for w in wheels if (w.place[1] != 0) == off] for off in (True, False))
    if not pairs or not singles:
        return Stand(reason="the three-point attitude wants a pair of main wheels and one on the centreline")
    main, tail = max(pairs, key=lambda w: w.diameter), max(singles, key=lambda w: w.place[0])
    dx, dz = main.place[0] - tail.place[0], main.place[2] - tail.place[2]
    if dx > -ABREAST:
        return Stand(reason=f"{tail.name} stands ahead of the main wheels: it lands on the main wheels, not on three")
    far, less = math.hypot(dx, dz), main.diameter / 2 - tail.diameter / 2
    if far <= abs(less):
        return Stand(reason="one wheel lies within the other")
    return Stand(-math.acos(less / far) - math.atan2(dx, dz), main, tail)


def ground_stances(plane: Aeroplane, alpha: float, ground: float) -> Stances:
    """All surfaces at one attitude above the ground; minus infinity for none. ValueError when one would touch it."""
    lattice = plane.company.mesh
    if turned_by(lattice.control, alpha)[2].min() <= ground:
        raise ValueError(f"a wing would touch the ground at {math.degrees(alpha):.1f} deg")
    return stances(Company(plane.company.planforms, plane.company.reference, lattice, (node(lattice, alpha, ground),)))


def near(line: Line, alpha: float, ground: float, real: bool = True) -> Near:
    """A trimmed line's aeroplane at an attitude near the ground and in free air, its elevator trimmed in both.

    real: with its sections; else the lattice alone. The reason is set where one of the two does not settle.
    """
    plane, found = line.plane, []
    if not line.known or not line.settled[0].stance.alpha <= alpha <= line.settled[-1].stance.alpha:
        return Near(alpha, reason=f"no trim is known at {math.degrees(alpha):.1f} deg in free air")
    start = min(line.settled, key=lambda s: abs(s.stance.alpha - alpha)).amounts
    try:
        for height in (-math.inf, ground):
            found.append(_settled(line, ground_stances(plane, alpha, height), start, real))
            start = found[-1].amounts
    except ValueError as fault:
        return Near(alpha, reason=str(fault))
    if not all(s.good for s in found):
        where = "in free air" if not found[0].good else "near the ground: it may have stalled there"
        return Near(alpha, reason=f"no trim is found at {math.degrees(alpha):.1f} deg {where}")
    if real and max(past_the_nose(line.fitted, s, line.per_metre) for s in found) > 0:
        return Near(alpha, reason=f"the thin nose of a section lets go before {math.degrees(alpha):.1f} deg")
    x, z = plane.company.reference_point
    height = float(turned_by(np.array([x, 0.0, z]), alpha)[2]) - ground
    return Near(alpha, _told(plane, found[1]), _told(plane, found[0]), height)


def _settled(line: Line, made: Stances, start: np.ndarray, real: bool) -> Settled:
    """The aeroplane trimmed at the one angle its stances know."""
    fitted = replace(line.fitted, stances=made) if real else plain(replace(line.fitted, stances=made))
    return settle(fitted, made.nodes[0], line.keep, line.per_metre, start)


def _told(plane: Aeroplane, found: Settled) -> Felt:
    lift, drag = found.stance.lift(found.amounts), found.stance.induced_drag(found.amounts)
    return Felt(lift, _downwash(plane, found), drag / lift**2, float(found.amounts[hinge_of(plane)]))


def _downwash(plane: Aeroplane, found: Settled) -> float:
    """Mean over the tail of -w/u of all but itself, rad."""
    company = found.stance.company
    state = _state(company, plane, found)
    lattice = company.mesh
    i = company.place_of(plane.tail)
    here, s = lattice.blocks()[i], lattice.surfaces[i]
    u, w = (state.values[row, here].reshape(lattice.chordwise, -1).mean(0) for row in (4, 6))
    weight = s.chord * s.width
    return float(weight @ np.arctan2(-w, u) / weight.sum())


def _state(company: Company, plane: Aeroplane, found: Settled) -> CompanyState:
    c, skip = found.amounts, 1 + len(company.hinged)
    deflection = dict(zip(company.hinged, c[1:skip].tolist(), strict=True))
    return company.state(found.stance.alpha, deflection, c[skip:])


def ground_results(flown: Flown) -> Iterator[Result]:
    """`flight.ground.*`: three-point attitude and speed, lift, downwash, induced drag, elevator; greatest mass."""
    on = stand(flown.model.wheels)
    title = "three-point attitude of the thrust line"
    yield told(Band.exact(on.attitude), "flight.ground.attitude", title, "rad", "geometry", on.reason)
    three = {name: _three_point(flown.cases[name].line, on) for name in CASES}
    real, bare = three["max_mass"], _three_point(flown.cases["max_mass"].line, on, False)
    yield _speed(flown, real, bare)
    ratio = "CL near the ground over CL in free air, three-point attitude, trimmed"
    yield _ratio("lift", ratio, [n.ground.lift / n.free.lift for n in (real, bare)], real)
    lost = "downwash at the tail lost near the ground, three-point attitude"
    yield _ratio("downwash", lost, [n.free.downwash - n.ground.downwash for n in (real, bare)], real, "rad")
    less = "induced drag CDi/CL^2 near the ground over that in free air, three-point attitude"
    yield _ratio("induced", less, [n.ground.induced / n.free.induced for n in (real, bare)], real)
    for name in CASES:
        yield from _elevators(flown, on, name, three[name])


def ground_checks(flown: Flown, by_id: Mapping[str, Result]) -> Iterator[Check]:
    """Whether the elevator holds the three-point attitude near the ground; else it lands fast, on the main wheels.

    by_id: the results of `ground_results`.
    """
    for name in CASES:
        wanted = by_id[f"flight.ground.elevator.three_point.{name}"]
        yield check(
            f"flight.ground.elevator.{name}", f"up elevator wanted to hold three points down, {TITLES[name]}",
            upwards(wanted.band), flown.plane.model.tailplane.up, "<=", "rad", case=name, method=SOURCE, caveat=RANGE,
            rule="the elevator must hold the three-point attitude (designer's)",
            outside_range="" if wanted.band.known else wanted.caveat, parents=(wanted.id,),
        )  # fmt: skip


def upwards(elevator: Band) -> Band:
    """Up elevator, positive, of angles that count trailing edge down positive."""
    return Band(-elevator.value, -elevator.high, -elevator.low)


def _three_point(line: Line, on: Stand, real: bool = True) -> Near:
    if on.reason:
        return Near(math.nan, reason=on.reason)
    return near(line, on.attitude, on.ground(on.attitude), real)


def _given(found: Near) -> tuple[tuple[str, float, str], ...]:
    return ("a", found.alpha, "rad"), ("height of the mean quarter chord", found.height, "m")


def _speed(flown: Flown, real: Near, bare: Near) -> Result:
    """Level speed at the three-point attitude near the ground."""
    mass, rho, S = flown.cases["max_mass"].loading.mass, flown.air.density, flown.plane.area
    lifts = [n.ground.lift for n in (real, bare)]
    V = [math.sqrt(2 * mass * GRAVITY / (rho * S * CL)) if CL > 0 else math.nan for CL in lifts]
    stall = flown.cases["max_mass"].stall.speed.value
    given = (*_given(real), ("CL", real.ground.lift, "1"), ("m", mass, "kg"), ("rho", rho, "kg/m3"), ("S", S, "m2"))
    steps = (
        Step("speed", "V = sqrt(2 m g/(rho S CL))", given, V[0], "m/s", "definition of the lift coefficient"),
        Step("over the stalling speed in free air", "V/Vs", (("Vs", stall, "m/s"),), V[0] / stall, "1", "definition"),
    )
    title = "level speed at the three-point attitude near the ground, greatest take-off mass"
    band = Band(V[0], *(float(f(V)) for f in (np.min, np.max)))
    note = real.reason or f"ends: real sections, lattice alone; {RANGE}"
    return told(band, "flight.ground.speed", title, "m/s", SOURCE, note, steps, ("flight.ground.attitude",))


def _ratio(name: str, title: str, ends: list[float], real: Near, unit: str = "1") -> Result:
    """With real sections; the band goes to what the lattice alone says."""
    band = Band(ends[0], *(float(f(ends)) for f in (np.min, np.max)))
    free, ground = real.free, real.ground
    of = {"lift": "lift", "downwash": "downwash", "induced": "induced"}[name]
    given = (*_given(real), ("free air", getattr(free, of), unit), ("near the ground", getattr(ground, of), unit))
    how = "free air - near the ground" if name == "downwash" else "near the ground/free air"
    step = Step(title, how, given, ends[0], unit, SOURCE)
    note = real.reason or f"ends: real sections, lattice alone; {RANGE}"
    return told(band, f"flight.ground.{name}", title, unit, SOURCE, note, (step,), ("flight.ground.attitude",))


def _elevators(flown: Flown, on: Stand, name: str, three: Near) -> Iterator[Result]:
    """Elevator at three points and at the attitudes of the stall and of 1.1 of its speed, the lower wheel touching."""
    case = flown.cases[name]
    found = {"three_point": (three, "three points")}
    for what, factor in FACTORS.items():
        alpha = float(case.line.states(case.stall.lift.value / factor**2).alpha[0])
        at = Near(alpha, reason=on.reason or case.stall.reason)
        if not at.reason:
            at = near(case.line, alpha, on.ground(alpha))
        found[what] = at, f"the attitude of {factor} of the stalling speed"
    for what, (at, words) in found.items():
        first = "main wheels" if at.alpha < on.attitude - 1e-9 else "tail wheel"
        touch = "" if what == "three_point" else f"the {first} would touch first; "
        given = (*_given(at), ("e_lattice", at.ground.elevator, "rad"), ("f", EFFECTIVE.value, "1"),
                 ("e_lattice in free air", at.free.elevator, "rad"))  # fmt: skip
        band = turned_in_truth(at.ground.elevator)
        step = Step("elevator", "e = e_lattice/f, CM = 0 near the ground", given, band.value, "rad", SOURCE)
        title = f"elevator wanted to hold {words} near the ground, {TITLES[name]}"
        id = f"flight.ground.elevator.{what}.{name}"
        yield told(band, id, title, "rad", SOURCE, at.reason or touch + RANGE, (step,), ("flight.ground.attitude",))
