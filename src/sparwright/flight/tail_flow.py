"""The tailplane in the wake of the wings: the dynamic pressure it works on, and what that asks of the elevator.

Where a wake lies is followed step by step from the trailing edge, in the lattice's own flow of the wings at that state
(thickness, circulation, their straight wakes): dz/dx = w/u in stream axes. The tail's own flow is left out of it. How
much is lost is air/wake.py's. Each wing is taken at the strip nearest to the middle of the tail's half-span, with the
profile drag of its strips in front of the tail at the angles and Reynolds numbers they work at.

Symbols: r dynamic pressure at the tail over the free stream's; L(e) lift of the tail over q with the elevator at e, in
the free stream's pressure; L' its slope; e0 the elevator that trims without a wake, by the lattice.

    r L(e) = L(e0),   so   e = e0 + (1/r - 1) L(e0)/L'

so that the tail carries what it has to. A tail that presses down wants more up elevator behind a wake, one that lifts
wants less. Wings' lift with the elevator is left as it was.
Sources: naca-tr-648, naca-tr-651 (wakes), glauert-1926 ch. XII (flow of vortices); the way of the wake and the
elevator are worked out here. Range: that of air/wake.py: 0.25 to 4 chords behind, section drag to 0.06; else unknown.
What body, struts and cabane shed is not in it, nor the slipstream.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from sparwright.air.mesh import turned_by
from sparwright.air.stance import slopes_of
from sparwright.air.turned import CompanyState
from sparwright.air.wake import LONG, MOST_DRAG, NEAR, Wake, at_tail
from sparwright.base.axes import GRAVITY
from sparwright.base.check import Result, Step
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.aeroplane import EFFECTIVE, Aeroplane
from sparwright.flight.fast import cruise_speed
from sparwright.flight.slow import TITLES, told
from sparwright.flight.trim import Line, hinge_of, trimmed
from sparwright.flight.work import Case, Flown, place
from sparwright.shape.planform import Planform

APPROACH = 1.1  # of the stalling speed
CASES = ("foremost", "max_mass")  # those whose elevator must reach the stall
STEPS = 24  # from trailing edge to tail, shorter near the edge where the flow turns fast
ROUNDS = 4  # the flow along the way, then the way along the flow
SOURCE = "naca-tr-648, naca-tr-651 (constants memory); way of the wake by the lattice"
NOT_IN_IT = "wings only: what body, struts and cabane shed is not in it, nor the slipstream"


@dataclass(frozen=True)
class TailFlow:
    """What the tail stands in at one state."""

    pressure: Band  # mean dynamic pressure over the tailplane, over the free stream's
    wakes: tuple[Wake, ...] = ()  # at the likely section drag
    lift: float = number("1", "CL of the state", math.nan)
    reason: str = ""

    def misses(self, tail: Planform) -> dict[str, float]:
        """By wing, how far the tail's middle lies above the middle of its wake, m."""
        x, z = _quarter(tail)
        return {w.name: z - w.middle(x) for w in self.wakes}


def tail_flow(line: Line, CL: float) -> TailFlow:
    """The dynamic pressure at the tail of a trimmed state, with what section drag and place of the wakes leave open."""
    plane = line.plane
    if not math.isfinite(float(line.states(CL).alpha[0])):
        return TailFlow(UNKNOWN, lift=CL, reason=line.reason or f"there is no trim at CL {CL:.2f}")
    tail = next(p for p in plane.company.planforms if p.name == plane.tail)
    state = line.state(CL)
    wings = [p for p in plane.company.planforms if not p.is_tail]
    ways = [_way(plane, state, p, tail) for p in wings]
    drags = np.array([_drag(line, CL, p, tail) for p in wings])  # (wings, 3)
    each = [tuple(replace(w, drag=float(d)) for w, d in zip(ways, drags[:, i], strict=True)) for i in range(3)]
    bands = [at_tail(wakes, tail) for wakes in each]
    if not all(b.known for b in bands):
        return TailFlow(UNKNOWN, each[0], CL, _why(each, tail))
    return TailFlow(Band(bands[0].value, min(b.low for b in bands), max(b.high for b in bands)), each[0], CL)


def behind(line: Line, CL: float, pressure: Band) -> Band:
    """Elevator wanted at a state behind the wakes, rad: its lost effectiveness and the lost pressure together.

    The value and the ends are the value, least and greatest over the ends of both.
    """
    at, which = line.states(CL), line.company.place_of(line.plane.tail)
    stance, e0 = line.fitted.stances.at(float(at.alpha[0])), float(at.elevator[0])
    amounts = stance.amounts({line.plane.tail: e0}, at.twist[0])
    lift = float(stance.surface_lift(amounts)[which])
    form = stance.up[which]
    slope = float(slopes_of(form, amounts)[hinge_of(line.plane)])
    return wanted(e0, lift / slope, pressure)


def wanted(e0: float, carried: float, pressure: Band) -> Band:
    """Elevator, rad: e = (e0 + (1/r - 1) carried)/f, with the ends of r and of f (EFFECTIVE).

    e0: without a wake, by the lattice. carried: L(e0)/L', rad, what the tail carries as an elevator angle.

    >>> round(wanted(-0.34, -0.17, Band(0.9, 0.8, 1.0)).value, 4)
    -0.4222
    """

    def at(r: float, f: float) -> float:
        return (e0 + (1 / r - 1) * carried) / f

    ends = [at(r, f) for r in (pressure.low, pressure.high) for f in (EFFECTIVE.low, EFFECTIVE.high)]
    if not pressure.known:
        return UNKNOWN
    return Band(at(pressure.value, EFFECTIVE.value), min(ends), max(ends))


def _quarter(tail: Planform) -> tuple[float, float]:
    """Station and waterline of the tail's quarter chord at the middle of its half-span."""
    y, edge = tail.span / 4, tail.leading_edge
    x, z, chord = (float(np.interp(y, edge[1], v)) for v in (edge[0], edge[2], tail.chord))
    return x + chord / 4, z


def _way(plane: Aeroplane, state: CompanyState, wing: Planform, tail: Planform) -> Wake:
    """The wake of a wing from its trailing edge to the tail's quarter chord; its drag is put in afterwards."""
    lattice = plane.company.mesh
    i = plane.company.place_of(wing.name)
    s, edges = lattice.surfaces[i], lattice.edges()[i]
    j = int(np.argmin(np.abs(s.middle[1] - tail.span / 4)))
    start = (edges[:, -1, j] + edges[:, -1, j + 1]) / 2
    end = np.array([_quarter(tail)[0], start[1], _quarter(tail)[1]])
    x0, y, z = turned_by(start, state.alpha)
    reach = float(turned_by(end, state.alpha)[0] - x0) + abs(float(end[2] - start[2]))  # past the tail
    x = float(x0) + reach * np.linspace(0, 1, STEPS + 1) ** 2
    path = np.array([x, np.full(x.size, y), np.full(x.size, z)])
    for _ in range(ROUNDS):
        u, _, w = state.past_wings((path[:, 1:] + path[:, :-1]) / 2)
        path[2, 1:] = z + np.cumsum(w / u * np.diff(x))
    along, _, up = turned_by(path, -state.alpha)
    rise = math.atan2(float(np.interp(end[0], along, up)) - float(start[2]), float(end[0] - start[0]))
    return Wake(wing.name, float(start[0]), float(start[2]), float(s.chord[j]), wing.span / 2, math.nan, rise)


def _drag(line: Line, CL: float, wing: Planform, tail: Planform) -> np.ndarray:
    """(3,) profile drag of the strips in front of the tail on their chords: value, low, high; (1 + u)^2 counted."""
    plane, at = line.plane, line.states(CL)
    strips, here = plane.strips[wing.name], plane.company.strip_slices[wing.name]
    ahead = strips.outside & (strips.y < max(tail.span / 2, float(strips.y[strips.outside][0]) * 1.001))
    cd = strips.drag(at.works[:, here], line.per_metre(CL) * strips.chord)[:, 0] * at.onset[0, here] ** 2
    return np.asarray((cd * strips.area)[:, ahead].sum(1) / strips.area[ahead].sum())


def _why(each: list[tuple[Wake, ...]], tail: Planform) -> str:
    """Why the pressure, or an end of its band, is not known."""
    x = _quarter(tail)[0]
    for w in (w for wakes in each for w in wakes):
        far = (x - w.station) / w.chord
        if not math.isfinite(w.drag):
            return f"the section drag of {w.name} is not known there"
        if w.drag > MOST_DRAG:
            said = f"the section drag of {w.name} may be {w.drag:.3f} in front of the tail"
            return f"{said}, the wake is known to {MOST_DRAG}"
        if not NEAR <= far <= LONG:
            return f"the tail is {far:.1f} chords behind {w.name}, the wake is known from {NEAR} to {LONG}"
    return "a wake is outside what is known of it"


def tail_flows(flown: Flown) -> dict[str, TailFlow]:
    """What the tail stands in at the greatest mass: cruise, approach, stall."""
    case = flown.cases["max_mass"]
    V, rho = cruise_speed(flown), flown.air.density
    cruise = 2 * case.loading.mass * GRAVITY / (rho * V**2 * flown.plane.area)
    slow = case.stall.lift.value
    lifts = {"cruise": cruise, "approach": slow / APPROACH**2, "stall": slow}
    return {name: tail_flow(case.line, CL) for name, CL in lifts.items()}


def tail_results(flown: Flown, flows: Mapping[str, TailFlow]) -> Iterator[Result]:
    """`flight.tail.pressure.<cruise, approach, stall>` at the greatest mass and `flight.elevator.wake.<case>`."""
    for name, found in flows.items():
        yield _pressure(flown, name, found)
    for name in CASES:
        yield _elevator(name, flown.cases[name])


def _pressure(flown: Flown, name: str, found: TailFlow) -> Result:
    tail = next(p for p in flown.plane.company.planforms if p.is_tail)
    misses = found.misses(tail)
    steps = tuple(
        Step(
            f"wake of {w.name}: height of the tail's quarter chord above its middle",
            "dz/dx = w/u from the trailing edge; cd of the strips in front of the tail",
            (("cd", w.drag, "1"), ("c", w.chord, "m"), ("rise", w.rise, "rad"), ("CL", found.lift, "1")),
            misses[w.name], "m", SOURCE,
        )
        for w in found.wakes
    )  # fmt: skip
    where = {"approach": f"{APPROACH} of the stalling speed"}.get(name, name)
    title = f"dynamic pressure at the tailplane over the free stream's, {where}, {TITLES['max_mass']}"
    note, parents = found.reason or NOT_IN_IT, () if name == "cruise" else ("flight.stall.max_mass",)
    return told(found.pressure, f"flight.tail.pressure.{name}", title, "1", SOURCE, note, steps, parents)


@dataclass(frozen=True)
class Wanted:
    """The elevator wanted at a stall, all that is known to add to it counted."""

    elevator: Band  # rad
    pressure: Band = UNKNOWN  # at the tail, over the free stream's, at APPROACH of the stalling speed
    without: float = number("rad", "by the lattice, without a wake, the body's moment at its likely slope", math.nan)
    body: tuple[float, float] = (math.nan, math.nan)  # rad, least and most that the body's moment may turn it by
    reason: str = ""


def elevator_wanted(case: Case) -> Wanted:
    """Elevator wanted at a case's stall: its own band, and what wakes and the body's moment may add to it.

    The tail stands behind the wings' wakes as at APPROACH of the stalling speed, the slowest at which they are known
    (at the stall itself the drag of stalled strips is past what the wake's formula is known for). With the least and
    the greatest slope of the body's moment the aeroplane is trimmed again up to its greatest lift. Unknown, with the
    reason, where a stall or the wake is.
    """
    s, line, plane = case.stall, case.line, case.line.plane
    if not s.elevator.known:
        return Wanted(UNKNOWN, reason=s.reason)
    found = tail_flow(line, s.section_end / APPROACH**2)
    if not found.pressure.known:
        return Wanted(UNKNOWN, reason=found.reason)
    wake, e0 = behind(line, s.section_end, found.pressure), at_greatest(line)
    turns = [0.0]
    for slope in plane.body_slopes[1:]:
        other = trimmed(replace(plane, body_slopes=(slope,) * 3), place(case.loading), line.mass, line.air)
        turns.append((at_greatest(other) - e0) / EFFECTIVE.low)
    if not all(map(math.isfinite, turns)):
        return Wanted(UNKNOWN, reason="with the body's moment at an end of its band the greatest lift is not known")
    low, high = min(s.elevator.low, wake.low) + min(turns), max(s.elevator.high, wake.high) + max(turns)
    return Wanted(Band(s.elevator.value, low, high), found.pressure, e0, (min(turns), max(turns)))


def at_greatest(line: Line) -> float:
    """The elevator, rad, by the lattice, at a line's greatest lift; NaN where that is not known."""
    return float(line.states(line.most).elevator[0])


def _elevator(name: str, case: Case) -> Result:
    title = f"elevator wanted to stall, wakes and the body's moment counted, {TITLES[name]}"
    id, source = f"flight.elevator.wake.{name}", f"anderson-flight ch. 7, by the lattice; {SOURCE}"
    w = elevator_wanted(case)
    if not w.elevator.known:
        return told(UNKNOWN, id, title, "rad", source, w.reason)
    e, r, f = w.elevator, w.pressure, EFFECTIVE
    given = (("e0", w.without, "rad"), ("r", r.value, "1"), ("r low", r.low, "1"), ("f low", f.low, "1"),
             ("body, most up", w.body[0], "rad"), ("body, most down", w.body[1], "rad"))  # fmt: skip
    step = Step("most up elevator", "least of (e0 + (1/r - 1) L(e0)/L')/f, and what the body's moment may add", given,
                e.low, "rad", source)  # fmt: skip
    note = f"tail behind the wings' wakes as at {APPROACH} of the stalling speed; {NOT_IN_IT}"
    return told(e, id, title, "rad", source, "; ".join(x for x in (note, case.stall.note) if x), (step,),
                (f"flight.elevator.stall.{name}",))  # fmt: skip
