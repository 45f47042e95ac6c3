"""Each control from hand or foot to surface: travel, gearing, forces in its cables and what their stretch loses.

    gearing        d(surface)/ds = (d(surface)/d(lever))/r      s the hand's way, r its distance from the lever's line
    cable          T = F r (d(lever)/d(l))                      F at the hand, l the cable's length, its far end held
    lost at hand   T d/F, d the cable's stretch                 both by virtual work

With both cables of a loop rigged to a tension T0 and the surface held, T parts between them until one is slack:

    d = T L/(2 EA)  for T <= 2 T0,   (T - T0) L/EA beyond

A cable kept tight by a spring starts from the spring's pull. Friction and the give of the frame are not computed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import brentq

from sparwright.base.record import number
from sparwright.base.remembered import remembered
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.controls import RULES
from sparwright.data.loader import material
from sparwright.family.controls import ControlCable, Controls
from sparwright.family.model import Model
from sparwright.parts.control_hand import spring_ends
from sparwright.parts.control_runs import Layout, Link, aileron_key, hole
from sparwright.parts.frame import CABLE_STEEL, FILL
from sparwright.parts.linkage import Locks, Run, Stance, growth, run_of, slope, stand, swing

STANCES = 8  # each way through the travel
INCH, POUND = 0.0254, 4.4482216152605
MOST = math.radians(80)  # of a lever, looked at


@dataclass(frozen=True)
class End:
    """One end of a surface's travel."""

    word: str  # "up"
    hand: str  # "stick aft"
    travel: float = number("rad", "of the surface, at its stop")
    room: float = number("m", "of the hand that way")
    lever: str = ""
    stance: Stance | None = None  # at the stop; None where the run locks before
    moved: float = number("m", "by the hand at the stop; NaN where the run locks before", math.nan)
    reached: float = number("rad", "by the surface when the hand has used its room, or the run locks", math.nan)
    full: float = number("rad", "of the lever when the hand has used its room, with its sign", math.nan)
    locks: str = ""


@dataclass(frozen=True)
class Motion:
    """A control through its travel."""

    name: str  # "elevator"
    surface: str  # the lever of the surface
    force: str  # of data/controls.toml: the pilot's
    run: Run
    ends: tuple[End, End]
    arm: float = number("m", "from the hand to the line its lever turns about")
    stances: tuple[Stance, ...] = ()  # from one stop to the other
    gearing: tuple[float, ...] = number("rad/m", "surface over the hand's way, at each stance", ())

    @property
    def neutral(self) -> int:
        """Which stance is neutral."""
        return next(i for i, s in enumerate(self.stances) if not any(s.angles.values()))

    @property
    def lever(self) -> str:
        """The lever of the hand, or of the right foot."""
        return self.ends[1].lever


@dataclass(frozen=True)
class _Way:
    """How a hand moves one way."""

    word: str
    hand: str
    lever: str
    sign: float
    travel: float
    room: float


def motions(model: Model, controls: Controls, layout: Layout) -> tuple[Motion, ...]:
    """Elevator, rudder and ailerons in turn. ValueError where a surface is driven by no run, or one not determined."""
    assert model.seat is not None and model.seat.stick is not None and model.seat.pedals is not None
    stick, pedals = model.seat.stick, model.seat.pedals
    grip, foot = np.array(stick.place), np.array(pedals.place)
    t, f = model.tailplane, model.fin
    elevator = (
        _Way("up", "stick aft", "stick", 1.0, t.up, stick.aft),
        _Way("down", "stick forward", "stick", -1.0, -t.down, stick.forward),
    )
    rudder = (
        _Way("left", "left pedal forward", "pedal-L", 1.0, f.up, pedals.travel),
        _Way("right", "right pedal forward", "pedal-R", 1.0, -f.down, pedals.travel),
    )
    return (
        _motion(layout, "elevator", "elevator", elevator, grip, 0),
        _motion(layout, "rudder", "rudder", rudder, foot, 0),
        *_ailerons(model, controls, layout, grip),
    )


def _ailerons(model: Model, controls: Controls, layout: Layout, grip: np.ndarray) -> Iterator[Motion]:
    """The right aileron of each wing that has one; none where the torque tube drives none."""
    if not controls.torque_tube.holes:
        return
    for wing in (w for w in model.wings if w.aileron):
        assert wing.aileron is not None
        room = controls.stick.side
        ways = (
            _Way("up", "stick to the right", "torque_tube", 1.0, wing.aileron.up, room),
            _Way("down", "stick to the left", "torque_tube", -1.0, -wing.aileron.down, room),
        )
        yield _motion(layout, f"{wing.name}_aileron", aileron_key(wing.name, "R"), ways, grip, 1, "aileron")


def _motion(
    layout: Layout, name: str, surface: str, ways: tuple[_Way, _Way], hand: np.ndarray, along: int, force: str = ""
) -> Motion:
    """A motion; `along`: the axis, 0 aft or 1 across, that the hand's way is measured along."""
    run = run_of(layout, surface)
    for w in ways:
        if w.lever not in run.levers:
            raise ValueError(f"no rod or cable leads from the {w.lever} to the {name}")
    return _moves(run, name, surface, ways, hand, along, force or name)


@remembered(64)
def _moves(
    run: Run, name: str, surface: str, ways: tuple[_Way, _Way], hand: np.ndarray, along: int, force: str
) -> Motion:
    both = tuple(_end(run, surface, w, _side(hand, w.lever), along) for w in ways)
    first, second = ([*swing(run, surface, w.travel, STANCES)][1:] for w in ways)
    stances = (*reversed(first), Stance(dict.fromkeys(run.levers, 0.0)), *second)
    lever = ways[1].lever
    out = _side(hand, lever) - run.levers[lever].pivot
    arm = float(np.linalg.norm(out - (out @ run.levers[lever].axis) * run.levers[lever].axis))
    gearing = tuple(_geared(run, lever, s, surface) / arm for s in stances)
    return Motion(name, surface, force, run, (both[0], both[1]), arm, stances, gearing)


def _geared(run: Run, lever: str, stance: Stance, surface: str) -> float:
    """Surface over lever at a stance; NaN at a dead centre."""
    try:
        return abs(1 / slope(run, surface, stance, lever))
    except (Locks, ZeroDivisionError):
        return math.nan


def _side(hand: np.ndarray, lever: str) -> np.ndarray:
    return hand * np.array([1.0, -1.0, 1.0]) if lever.endswith("-L") else hand


def _end(run: Run, surface: str, w: _Way, hand: np.ndarray, along: int) -> End:
    """One end of the travel: at the stop, and as far as the hand's room lets it."""
    end = End(w.word, w.hand, abs(w.travel), w.room, w.lever)
    moved = _moved(run, w.lever, hand, along)
    stances = swing(run, surface, w.travel)
    at = stances[-1]
    if at.angles[w.lever] * w.sign < 0:
        end = replace(end, locks=f"reversed: {w.hand} moves the {surface} the other way")
    elif abs(at.angles[surface] - w.travel) < 1e-9:
        end = replace(end, stance=at, moved=moved(at.angles[w.lever]))
    else:
        end = replace(end, locks=f"locks with the {surface} at {math.degrees(at.angles[surface]):.0f} deg")
    full = _full(w, moved)
    return replace(end, full=full, reached=reached(run, surface, w.lever, full, w.travel))


def _moved(run: Run, lever: str, hand: np.ndarray, along: int) -> Callable[[float], float]:
    return lambda angle: abs(float(run.levers[lever].turned(hand, angle)[along] - hand[along]))


def _full(w: _Way, moved: Callable[[float], float]) -> float:
    """The lever's angle with the hand at the end of its room; NaN where none takes it there."""
    if w.room <= 0:
        return 0.0
    if moved(w.sign * MOST) < w.room:
        return math.nan
    return w.sign * float(brentq(lambda a: moved(w.sign * a) - w.room, 0.0, MOST))


def reached(run: Run, surface: str, lever: str, full: float, way: float) -> float:
    """How far a surface goes with a lever turned to an angle, or where the run locks, rad; way: sign of its travel."""
    if not math.isfinite(full):
        return math.nan
    return swing(run, lever, full)[-1].angles[surface] * math.copysign(1.0, way)


# ------------------------------------------------------------------ cables


def stiffness(cable: ControlCable) -> Band:
    """EA of a cable, N; unknown but for 7x19.

    The stiff end: a single wire's over 1.75 (fales-1917), its steel's modulus for the wire's; the soft end: the
    stretch factor of stainless cable (heisler-1998, second-hand). The value is their mean.
    """
    if cable.construction != "7x19":
        return UNKNOWN
    metal = math.pi / 4 * cable.diameter**2 * FILL[cable.construction]
    stiff = material(CABLE_STEEL).youngs * metal / RULES["cable_stretch_stiff"].value
    soft = 100 * (cable.diameter / INCH) ** 2 / (RULES["cable_stretch_soft"].value * 1e-5) * POUND
    return Band((stiff + soft) / 2, min(stiff, soft), max(stiff, soft))


def cables(motion: Motion) -> tuple[Link, ...]:
    """The cables of a run."""
    return tuple(k for k in motion.run.links if isinstance(k.made, ControlCable))


@remembered(4000)
def pull(motion: Motion, link: Link, stance: Stance) -> float:
    """Tension of a cable for each newton at the hand that drives it, its far end held, at a stance."""
    run, near = motion.run, link.levers[0]
    lever = near if near.startswith("pedal") else motion.lever
    per_near = abs(growth(run, link, stance)[0])
    per_lever = 1.0 if lever == near else abs(slope(run, lever, stance, near))
    return motion.arm / (per_near * per_lever) if per_near * per_lever > 1e-12 else math.inf


def lost(motion: Motion, link: Link, force: float, tension: float) -> Band:
    """Way of the hand lost to a cable's stretch at a force, the surface held in neutral, m."""
    cable, ea = link.made, stiffness(link.made) if isinstance(link.made, ControlCable) else UNKNOWN
    assert isinstance(cable, ControlCable)
    per = pull(motion, link, motion.stances[motion.neutral])
    t, length = per * force, link.length(link.ends)

    def way(k: float) -> float:
        shared = motion.run.loop and t <= 2 * tension
        stretch = t * length / (2 * k) if shared else max(t - tension, 0.0) * length / k
        return stretch * per

    return Band(way(ea.value), way(ea.high), way(ea.low)) if ea.known else UNKNOWN


def spring_tension(model: Model, controls: Controls, motion: Motion) -> Iterator[tuple[str, Band]]:
    """(cable, its tension from the return spring, least to greatest through the travel, in neutral between), N."""
    spring = controls.spring
    rate = spring.force / spring.stretch
    for link in cables(motion):
        near = link.levers[0]
        if not near.startswith("pedal"):
            continue
        at = spring_ends(controls, hole(model, controls, "pedal.spring", link.hand))
        rest = float(np.linalg.norm(at[0] - at[1]))
        found = []
        for stance in motion.stances:
            lever = motion.run.levers[near]
            hook = lever.turned(at[0], stance.angles[near])
            along = (at[1] - hook) / np.linalg.norm(at[1] - hook)
            force = max(0.0, spring.force + rate * (float(np.linalg.norm(hook - at[1])) - rest))
            turn = float(np.cross(hook - lever.pivot, along) @ lever.axis) * force
            found.append(turn * _per_turn(motion, link, stance))
        yield link.key, Band(found[motion.neutral], min(found), max(found))


def _per_turn(motion: Motion, link: Link, stance: Stance) -> float:
    """Tension of a pedal's cable for each newton metre on the pedal."""
    return pull(motion, link, stance) / motion.arm


def worst(values: Sequence[float]) -> float:
    """The least of some, NaN where one of them is not known or there is none."""
    return min(values) if values and not any(map(math.isnan, values)) else math.nan


def coupled(model: Model, controls: Controls, motion: Motion, roll: float) -> float:
    """How far the elevator moves when the stick goes over by an angle, its fore-and-aft angle held, rad.

    ValueError where no rod leads from the stick; Locks where it cannot go there.
    """
    axis = np.array([-1.0, 0.0, 0.0])
    pivot = np.array(controls.stick.pivot)
    moved = []
    for link in motion.run.links:
        points = link.ends.copy()
        for i, name in enumerate(link.levers):
            if name == "stick":
                out = points[i] - pivot
                along = (out @ axis) * axis
                points[i] = pivot + along + math.cos(roll) * (out - along) + math.sin(roll) * np.cross(axis, out)
        moved.append(replace(link, ends=points))
    run = replace(motion.run, links=tuple(moved))
    return stand(run, "stick", 0.0).angles[motion.surface]
