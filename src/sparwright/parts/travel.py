"""Elevator, rudder and ailerons turned to full travel, the tail wheel right round: how near they come to the rest.

The bodies of a movable surface, with the hinge parts that go with it, are turned about their hinge line; the gap is
measured to every other body within LOOK, and a gap of nought is a part in a part. From one stance to the next no point
moves further than the surface is thick, and tubes count as filled, so that no tube or wire is stepped over:

    steps = R travel/d      R from the hinge line to the trailing edge or the horn's end, d outside of the front tube,
                            of an aileron the depth of its nose

The other movable surface of a tail stands in the middle, at both ends of its travel and half way; other ailerons as
drawn. Of a pair of ailerons the right one is turned: the left is its mirror, and so is the wing. The tail wheel turns
with its fork about the fork's bolt, in steps of half its tyre's width, the leaf as drawn. What is of one hinge turns in
each other and is left out against each other; so are fabric and the controls, which move along
(controls/clearance.py). The least clearance wanted is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.check import Check, Step, check
from sparwright.base.problem import DesignProblem
from sparwright.base.record import locked, number
from sparwright.base.source import Band
from sparwright.family.model import Model, spoken
from sparwright.parts.aileron import Hinged, ailerons
from sparwright.parts.aileron_fittings import hinge_axes
from sparwright.parts.beside import Boxes, boxes
from sparwright.parts.part import Assembly, Part, Skin
from sparwright.parts.solids import closed, exact, gap, solids
from sparwright.parts.tail_fittings import axis
from sparwright.parts.tail_frame import Surface, surfaces
from sparwright.parts.undercarriage import fork_numbers, pivot, tail_wheel
from sparwright.shape.solid import Solid, turning
from sparwright.shape.tube import Tube

CLEAR = 1.5e-3  # m
LOOK = 0.05  # m
HALVES = 2  # steps each way of the other surface


@dataclass(frozen=True)
class Nearest:
    """Where a turned surface comes nearest to something."""

    gap: float = number("m", "least gap; nought for parts in one place; LOOK when nothing was nearer")
    one: str = ""
    other: str = ""
    stance: str = ""  # "up 28 deg, rudder left 25 deg"


@dataclass(frozen=True)
class _Body:
    part: str
    solid: Solid


@dataclass(frozen=True)
class _Stance:
    """Bodies as they stand at one angle."""

    bodies: Sequence[_Body]
    boxes: Boxes
    said: str


@dataclass(frozen=True)
class Turning:
    """A surface that is turned."""

    name: str  # "elevator", "aileron lower"
    start: str | tuple[str, ...]  # of the numbers of its parts
    place: np.ndarray = number("m", "(3,) a point of its hinge line")
    along: np.ndarray = number("1", "(3,) direction of its hinge line, outward or up")
    up: float = number("rad", "travel, trailing edge up or left")
    down: float = number("rad", "travel, trailing edge down or right")
    reach: float = number("m", "from the hinge line to the farthest of its points")
    thick: float = number("m", "thickness no step is longer than")
    words: tuple[str, str] = ("up", "down")
    right: bool = False  # only the one on the right is turned
    meets: tuple[str, ...] = ()  # names of others that it is turned against

    @property
    def said(self) -> str:
        """How it is called in a sentence."""
        kind, _, wing = self.name.partition(" ")
        return f"{kind} of the {spoken(wing)}" if wing else kind


def movable(model: Model) -> tuple[Turning, ...]:
    """Elevator and rudder that have a frame, then ailerons that have one."""
    tails = surfaces(model)
    found = [
        Turning(
            s.name("movable"), f"{model.name}-{s.name('movable')}-", *axis(s), s.tail.up, s.tail.down,
            max((1 - s.tail.hinge) * max(s.tail.root_chord, s.tail.tip_chord), s.frame.horn.arm, _tail_weight(s)),
            s.frame.movable.front.outside, ("up", "down") if s.flat else ("left", "right"),
            meets=tuple(x.name("movable") for x in tails if x is not s),
        )
        for s in tails
    ]  # fmt: skip
    return (*found, *(_aileron(h) for h in ailerons(model)))


def _aileron(h: Hinged) -> Turning:
    aileron, axes = h.wing.aileron, hinge_axes(h)
    assert aileron is not None
    cuts = [h.at(y) for y in (h.root, h.tip)]
    reach = max(s.chord - p.hinge[0] for s, p in cuts)
    deep = min(p.radius or h.frame.setback for _, p in cuts)
    return Turning(f"aileron {h.wing.name}", h.number(""), axes.start, axes.along, aileron.up, aileron.down,
                   max(reach, h.frame.horn.arm, *(math.hypot(w.ahead, w.below) + w.diameter / 2
                                                  for w in h.frame.weights)), deep, right=True)  # fmt: skip


def _tail_weight(s: Surface) -> float:
    """From the hinge line to the foremost point of a surface's weight, m; nought without one."""
    w = s.frame.weight
    return w.ahead + w.diameter / 2 if w else 0.0


def castor(model: Model) -> tuple[Turning, ...]:
    """The tail wheel in its fork, free to turn right round; none without a fork."""
    numbers, wheel, gear = fork_numbers(model), tail_wheel(model), model.undercarriage
    if not (numbers and wheel and gear and gear.tail):
        return ()
    place, along = pivot(gear.tail)
    off = float(np.linalg.norm(np.cross(np.array(wheel.place) - place, along)))
    every = tuple(s.name("movable") for s in surfaces(model))
    return (Turning("castor", numbers, place, along, math.pi, math.pi, off + wheel.diameter / 2, wheel.width / 2,
                    ("left", "right"), meets=every),)  # fmt: skip


def travel_checks(model: Model, assembly: Assembly) -> Iterator[Check]:
    """Least gap of all that turns through its travel; none of a surface that has no frame, or of no fork."""
    every = (*movable(model), *castor(model))
    groups = _groups(every, assembly) if every else {}
    for t in every:
        found = _through(t, every, groups, assembly)
        least = min(found.values(), key=lambda f: f.gap)
        told = tuple(Step(f"to {n or 'what stands still'}: {_said(f)}", "least gap", (), f.gap, "m")
                     for n, f in found.items())  # fmt: skip
        yield check(
            f"parts.travel.{t.name.replace(' ', '.')}", f"least gap of the {t.said} through its travel",
            Band.exact(least.gap), CLEAR, ">=", "m", rule=f"{CLEAR * 1e3:.1f} mm, common practice, no source",
            steps=told, method="measured on the bodies of the parts, turned about the hinge line",
            caveat=f"{_said(least)}; at rest, not under load, without fabric",
        )  # fmt: skip


def _said(found: Nearest) -> str:
    return f"{found.one} and {found.other}, {found.stance}" if found.one else f"nothing within {LOOK * 1e3:.0f} mm"


def nearest(t: Turning, every: Sequence[Turning], assembly: Assembly) -> Mapping[str, Nearest]:
    """The least gap through a surface's travel: to what stands still (""), and to each other it is turned against.

    every: all that turn. DesignProblem for an assembly without bodies of the surface or of what stands still.
    """
    return _through(t, every, _groups(every, assembly), assembly)


def _through(
    t: Turning, every: Sequence[Turning], groups: Mapping[str, list[_Body]], assembly: Assembly
) -> Mapping[str, Nearest]:
    """As `nearest`, of bodies already grouped."""
    others = [x for x in every if x.name in t.meets]
    stands = [b for name, g in groups.items() if name not in (t.name, *t.meets) for b in g]
    if not (groups[t.name] and stands):
        raise DesignProblem(f"{assembly.model}: no body of the {t.said}, or none beside it, can be measured")
    hinges = _hinges(assembly)
    still = _stance(stands, "")
    theirs = {x.name: [_stance(_turned(x, groups[x.name], a), said) for a, said in _angles(x, (HALVES, HALVES))]
              for x in others}  # fmt: skip
    least = {n: Nearest(LOOK) for n in ("", *theirs)}
    for angle, word in _angles(t, steps(t)):
        turned = _turned(t, groups[t.name], angle)
        least[""] = _nearer(least[""], turned, still, word, hinges)
        for other, stances in theirs.items():
            for s in stances:
                least[other] = _nearer(least[other], turned, s, f"{word}, {other} {s.said}", hinges)
    return least


def _hinges(assembly: Assembly) -> Mapping[str, set[str]]:
    """Numbers of the hinge joints each part is in."""
    found: dict[str, set[str]] = {}
    for j in assembly.joints:
        for n in j.parts if j.kind == "hinge" else ():
            found.setdefault(n, set()).add(j.number)
    return found


def _stance(bodies: Sequence[_Body], said: str) -> _Stance:
    return _Stance(bodies, boxes([b.solid for b in bodies]), said)


def steps(t: Turning) -> tuple[int, int]:
    """Steps up (or left) and down (or right) in which no point moves further than the surface is thick."""
    up, down = (math.ceil(t.reach * travel / t.thick) for travel in (t.up, t.down))
    return max(up, 1), max(down, 1)


def _angles(t: Turning, count: tuple[int, int]) -> tuple[tuple[float, str], ...]:
    """Neutral, and in even steps to full travel both ways: (rad, trailing edge up or left positive; words)."""
    up, down = t.words
    ways = ((t.up, 1.0, up, count[0]), (t.down, -1.0, down, count[1]))
    return ((0.0, "neutral"), *((travel * i / n * side, f"{word} {math.degrees(travel * i / n):.0f} deg")
                                for travel, side, word, n in ways for i in range(n, 0, -1)))  # fmt: skip


def _groups(every: Sequence[Turning], assembly: Assembly) -> Mapping[str, list[_Body]]:
    """Bodies by the movable surface they turn with; "" for those that stand still."""
    found: dict[str, list[_Body]] = {"": [], **{t.name: [] for t in every}}
    for part in assembly.parts:
        if (isinstance(part.shape, Skin) and part.shape.thickness == 0) or part.group == "controls":
            continue
        t = next((t for t in every if part.number.startswith(t.start)), None)
        for body in solids(_filled(part)):
            turns = t is not None and not (t.right and body.centre[1] < 0)
            found[t.name if t is not None and turns else ""].append(closed_body(part, body))
    return found


def _filled(part: Part) -> Part:
    """A tube without its bore: what stands in the bore at one stance was met by the wall on the way there."""
    return replace(part, shape=replace(part.shape, wall=0.0)) if isinstance(part.shape, Tube) else part


def closed_body(part: Part, solid: Solid) -> _Body:
    """A body in the library of solids. DesignProblem for one that is not closed: it would be nowhere in the way."""
    if not closed(exact(solid)):
        raise DesignProblem(f"{part.number}: its body is not closed and cannot be measured")
    return _Body(part.number, solid)


def _turned(t: Turning, bodies: Sequence[_Body], angle: float) -> list[_Body]:
    """Bodies turned about the hinge line, trailing edge up or left for a positive angle."""
    place = t.place
    turn = turning(t.along, -angle)
    found = []
    for b in bodies:
        found.append(_Body(b.part, Solid(locked((b.solid.points - place) @ turn.T + place), b.solid.faces)))
    return found


def _nearer(
    least: Nearest, turned: Sequence[_Body], others: _Stance, said: str, hinges: Mapping[str, set[str]]
) -> Nearest:
    """The nearer of what is known and what a pair of these bodies gives; parts of one hinge are left out."""
    for one in turned:
        for i, floor in others.boxes.near(one.solid, least.gap):
            other = others.bodies[i]
            if floor >= least.gap:
                break
            if hinges.get(one.part, set()) & hinges.get(other.part, set()):
                continue
            off = gap(one.solid, other.solid, least.gap, moves=True)
            if off < least.gap:
                least = Nearest(off, one.part, other.part, said)
    return least
