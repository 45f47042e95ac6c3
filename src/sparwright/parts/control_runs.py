"""The controls in neutral: what turns about what, and the rods and cables between, right and left.

A lever is anything that turns about a line: stick, torque tube, pedals, bell-cranks, elevator, rudder, ailerons. Its
angle is positive for stick aft or to the right, pedal forward, trailing edge up or left, and right-handed about a
bell-crank's axis; what is on the left has the angle of its mirror.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.record import locked, number
from sparwright.family.controls import DIRECTIONS, ControlCable, Controls, Pulley, Rod
from sparwright.family.model import Model
from sparwright.parts.aileron import ailerons
from sparwright.parts.aileron_fittings import hinge_axes, horn_hole
from sparwright.parts.part import Hand
from sparwright.parts.tail_fittings import axis, horn_holes
from sparwright.parts.tail_frame import Surface, surfaces
from sparwright.shape.cable import Way, Wheel, grown, length, way, wheel_in
from sparwright.shape.solid import as_place, turning

OVER = np.array([1.0, -1.0, 1.0])  # to the other side
TURNED_OVER = -OVER  # an axis of turning, to the other side
HANDS: tuple[Hand, ...] = ("R", "L")


@dataclass(frozen=True)
class Lever:
    """Something that turns about a line."""

    key: str  # "stick", "pedal-R", the bell-crank's name
    pivot: np.ndarray = number("m", "(3,) a point of the line")
    axis: np.ndarray = number("1", "(3,) its direction; angles are right-handed about it")

    def turned(self, points: np.ndarray, angle: float) -> np.ndarray:
        """Points (..., 3) of it when it has turned by an angle, rad."""
        return np.asarray((points - self.pivot) @ turning(self.axis, angle).T + self.pivot)

    def speed(self, point: np.ndarray) -> np.ndarray:
        """(3,) how fast a point of it moves for its angle, m/rad."""
        (a, b, c), (x, y, z) = self.axis, point - self.pivot
        return np.array([b * z - c * y, c * x - a * z, a * y - b * x])


@dataclass(frozen=True)
class Hole:
    """Where a rod or cable is joined."""

    lever: str
    place: np.ndarray = number("m", "(3,) its middle, in the middle of its plate")
    normal: np.ndarray = number("1", "(3,) square to its plate, to the side rods lie on")
    thickness: float = number("m", "of its plate")


@dataclass(frozen=True)
class Link:
    """A rod or cable in neutral."""

    name: str
    hand: Hand
    made: Rod | ControlCable
    holes: tuple[Hole, Hole]
    ends: np.ndarray = number("m", "(2, 3) middles of rod ends, or of the cable's pins")
    over: tuple[Wheel | np.ndarray, ...] = ()  # pulleys and rings of a cable
    names: tuple[str, ...] = ()  # theirs
    sides: tuple[Hand, ...] = ()  # the side each stands on

    @property
    def key(self) -> str:
        """Its name, with its hand where it is one of a pair."""
        return f"{self.name}-{self.hand}" if self.hand else self.name

    @property
    def levers(self) -> tuple[str, str]:
        """The two levers it joins."""
        return self.holes[0].lever, self.holes[1].lever

    def way(self, ends: np.ndarray) -> Way:
        """Its way with its ends (2, 3) there; a rod's is straight. ValueError for an end in a pulley."""
        return way(ends[0], self.over, ends[1])

    def length(self, ends: np.ndarray) -> float:
        """Its length with its ends (2, 3) there, m; ValueError for an end in a pulley."""
        return length(ends[0], self.over, ends[1])

    def grown(self, ends: np.ndarray) -> tuple[float, np.ndarray, np.ndarray]:
        """(its length, m; (3,) the way each end leaves it along its straight part); ValueError as for `length`."""
        return grown(ends[0], self.over, ends[1])


@dataclass(frozen=True)
class Layout:
    """All levers and links of a model by their keys."""

    levers: Mapping[str, Lever] = field(default_factory=dict)
    links: tuple[Link, ...] = ()


def layout(model: Model, controls: Controls) -> Layout:
    """The controls in neutral. DesignProblem for a cable that does not turn at a pulley, or a surface without horn."""
    levers = {lever.key: lever for lever in _levers(model, controls)}
    links = (*_rods(model, controls), *_cables(model, controls))
    for link in links:
        for end in link.holes:
            if end.lever not in levers:
                raise DesignProblem(f"{model.name}: {link.name} is joined to {end.lever}, which does not turn")
    return Layout(levers, links)


def hands(pair: bool) -> tuple[Hand, ...]:
    """Right and left of a pair; one without a hand."""
    return HANDS if pair else ("",)


def over(hand: Hand) -> np.ndarray:
    """(3,) what places are multiplied by for a hand."""
    return OVER if hand == "L" else np.ones(3)


def across(vector: np.ndarray, hand: Hand) -> np.ndarray:
    """An axis of turning on the side of a hand."""
    return vector * TURNED_OVER if hand == "L" else vector


def keyed(name: str, hand: Hand) -> str:
    """A name with its hand."""
    return f"{name}-{hand}" if hand else name


def surface(model: Model, name: str) -> Surface:
    """The tail surface whose movable part has that name. DesignProblem where it has no frame."""
    found = next((s for s in surfaces(model) if s.name("movable") == name), None)
    if found is None:
        raise DesignProblem(f"{model.name}: the {name} has no frame, so it has no horn that controls could pull at")
    return found


def _levers(model: Model, c: Controls) -> Iterator[Lever]:
    pivot = np.array(c.stick.pivot)
    yield Lever("stick", locked(pivot), locked((0.0, 1.0, 0.0)))
    yield Lever("torque_tube", locked(pivot), locked((-1.0, 0.0, 0.0)))
    for name in ("elevator", "rudder"):
        point, along = axis(surface(model, name))
        yield Lever(name, locked(point), locked(-along))
    for h in ailerons(model):
        axes = hinge_axes(h)
        for hand in HANDS:
            turn = across(-axes.along, hand)
            yield Lever(aileron_key(h.wing.name, hand), locked(axes.start * over(hand)), locked(turn))
    for hand in HANDS:
        yield Lever(f"pedal-{hand}", locked(np.array(c.pedals.pivot) * over(hand)), locked((0.0, -1.0, 0.0)))
    for crank in c.cranks:
        for hand in hands(crank.pair):
            turn = across(np.array(DIRECTIONS[crank.axis]), hand)
            yield Lever(keyed(crank.name, hand), locked(np.array(crank.pivot) * over(hand)), locked(turn))


def aileron_key(wing: str, hand: Hand) -> str:
    """The lever of a wing's aileron."""
    return f"aileron.{wing}-{hand}"


def hole(model: Model, c: Controls, said: str, hand: Hand) -> Hole:
    """The hole of that name on the side of a hand; the right one's mirror on the left. KeyError for none."""
    name, _, which = said.partition(".")
    lever, place, normal, thickness = name, None, (0.0, 1.0, 0.0), 0.0
    if said == "stick.arm":
        place, thickness = c.stick.arm, c.stick.lug.thickness
    elif name == "torque_tube" and c.torque_tube.holes and c.torque_tube.arm:
        place, normal, thickness = c.torque_tube.holes[which], (1.0, 0.0, 0.0), c.torque_tube.arm.thickness
    elif said in ("pedal.cable", "pedal.spring"):
        place = c.pedals.cable if which == "cable" else c.pedals.spring
        lever, thickness = f"pedal-{hand}", c.pedals.arm.thickness
    elif said in ("elevator.horn", "rudder.horn"):
        s = surface(model, name)
        holes, along = horn_holes(s)
        right = max(holes, key=lambda p: float(p[1])) if name == "rudder" else holes[0]
        place, normal, thickness = tuple(right), tuple(along), s.frame.horn.sheet.thickness
    elif name == "lug":
        lug = next(k for k in c.lugs if k.name == which)
        lever, place, thickness = aileron_key(lug.wing, hand), lug.hole, lug.sheet.thickness
    elif name == "aileron":
        wing, _, level = which.partition(".")
        h = next(a for a in ailerons(model) if a.wing.name == wing)
        place, normal = horn_hole(model, wing, level == "lower"), as_place(hinge_axes(h).along)
        lever, thickness = aileron_key(wing, hand), h.frame.horn.sheet.thickness
    else:
        crank = next(k for k in c.cranks if k.name == name)
        place, normal, thickness = crank.holes[which], DIRECTIONS[crank.axis], crank.sheet.thickness
        lever = keyed(name, hand if crank.pair else "")
    side = over(hand)
    return Hole(lever, locked(np.array(place) * side), locked(np.array(normal) * side), thickness)


def _rods(model: Model, c: Controls) -> Iterator[Link]:
    for rod in c.rods:
        for hand in hands(rod.pair):
            a, b = (hole(model, c, said, hand) for said in rod.ends)
            ends = [h.place + (h.thickness + c.rod_end.width) / 2 * h.normal for h in (a, b)]
            yield Link(rod.name, hand, rod, (a, b), locked(ends))


def _cables(model: Model, c: Controls) -> Iterator[Link]:
    pulleys, rings = {p.name: p for p in c.pulleys}, {f.name: f for f in c.fairleads}
    for cable in c.cables:
        for hand in hands(cable.pair):
            sides: list[tuple[str, Hand]] = [(n, hand) for n in cable.over]
            if cable.across:
                sides = [*((n, HANDS[0]) for n in cable.over), *((n, HANDS[1]) for n in reversed(cable.over))]
            a = hole(model, c, cable.ends[0], HANDS[0] if cable.across else hand)
            b = hole(model, c, cable.ends[1], HANDS[1] if cable.across else hand)
            corners = [np.array(pulleys[n].turn if n in pulleys else rings[n].place) * over(h) for n, h in sides]
            points = [a.place, *corners, b.place]
            things = tuple(
                _wheel(model, cable, pulleys[n], points[i : i + 3], h) if n in pulleys else locked(corners[i])
                for i, (n, h) in enumerate(sides)
            )
            ends = locked([a.place, b.place])
            yield Link(
                cable.name, hand, cable, (a, b), ends, things, tuple(n for n, _ in sides), tuple(h for _, h in sides)
            )


def _wheel(model: Model, cable: ControlCable, pulley: Pulley, points: list[np.ndarray], hand: Hand) -> Wheel:
    own = np.array(pulley.axis) * over(hand) if pulley.axis else None
    try:
        return wheel_in(points[0], points[1], points[2], (pulley.diameter + cable.diameter) / 2, own)
    except ValueError as fault:
        raise DesignProblem(f"{model.name}: cable {cable.name} at pulley {pulley.name}: {fault}") from fault
