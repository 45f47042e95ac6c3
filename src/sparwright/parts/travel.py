"""Elevator and rudder turned to full travel: how near they come to what stands still, and to each other.

The bodies of a movable frame, with the straps that go with it, are turned about their hinge line; the gap is measured
to every other body within LOOK, and a gap of nought is a part in a part. From one stance to the next no point moves
further than the frame's own tubes are thick, and tubes count as filled, so that no tube or wire is stepped over:

    steps = R travel/d      R from the hinge line to the trailing edge or the horn's end, d outside of the front tube

The other movable surface stands in the middle, at both ends of its travel and half way. The straps, bush and pin of one
hinge turn in each other and are left out against each other; so is fabric. The least clearance wanted is common
practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from manifold3d import Manifold

from sparwright.base.check import Check, Step, check
from sparwright.base.problem import DesignProblem
from sparwright.base.record import locked, number
from sparwright.base.source import Band
from sparwright.family.model import Model
from sparwright.parts.part import Assembly, Part, Skin
from sparwright.parts.solids import closed, exact, solids
from sparwright.parts.tail_fittings import axis
from sparwright.parts.tail_frame import Surface, surfaces
from sparwright.shape.solid import Solid
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
    exact: Manifold


@dataclass(frozen=True)
class _Stance:
    """Bodies as they stand at one angle."""

    bodies: Sequence[_Body]
    boxes: np.ndarray  # (n, 2, 3) m, least and greatest along the axes of the surface that is turned
    said: str


def travel_checks(model: Model, assembly: Assembly) -> Iterator[Check]:
    """Least gap of elevator and rudder through their travel; none of a surface that has no frame."""
    for s in surfaces(model):
        found = nearest(s, assembly)
        least = min(found.values(), key=lambda f: f.gap)
        name = s.name("movable")
        told = tuple(Step(f"to {n or 'what stands still'}: {_said(f)}", "least gap", (), f.gap, "m")
                     for n, f in found.items())  # fmt: skip
        yield check(
            f"parts.travel.{name}", f"least gap of the {name} through its travel", Band.exact(least.gap), CLEAR, ">=",
            "m", rule=f"{CLEAR * 1e3:.1f} mm, common practice, no source", steps=told,
            method="measured on the bodies of the parts, turned about the hinge line",
            caveat=f"{_said(least)}; at rest, not under load, without fabric",
        )  # fmt: skip


def _said(found: Nearest) -> str:
    return f"{found.one} and {found.other}, {found.stance}" if found.one else f"nothing within {LOOK * 1e3:.0f} mm"


def nearest(s: Surface, assembly: Assembly) -> Mapping[str, Nearest]:
    """The least gap through a surface's travel: to what stands still (""), and to the other movable surface.

    DesignProblem for an assembly without bodies of the surface or of what stands still.
    """
    groups, axes = _groups(s.model, assembly), _axes(s)
    own = s.name("movable")
    if not (groups[own] and groups[""]):
        raise DesignProblem(f"{s.model.name}: no body of the {own}, or none beside it, can be measured")
    still = _stance(groups[""], axes, "")
    others = {x.name("movable"): [_stance(_turned(x, groups[x.name("movable")], a), axes, said)
                                  for a, said in _angles(x, (HALVES, HALVES))]
              for x in surfaces(s.model) if x.name("movable") != own}  # fmt: skip
    least = {n: Nearest(LOOK) for n in ("", *others)}
    for angle, word in _angles(s, steps(s)):
        moved = _stance(_turned(s, groups[own], angle), axes, word)
        least[""] = _nearer(least[""], moved, still, word)
        for other, stances in others.items():
            for theirs in stances:
                least[other] = _nearer(least[other], moved, theirs, f"{word}, {other} {theirs.said}")
    return least


def _axes(s: Surface) -> np.ndarray:
    """(3, 3) rows: along the hinge line and square to it, so that boxes round tubes along it are narrow."""
    _, along = axis(s)
    return np.array([along, *np.linalg.svd(along[None])[2][1:]])


def _stance(bodies: Sequence[_Body], axes: np.ndarray, said: str) -> _Stance:
    boxes = [(p.min(axis=0), p.max(axis=0)) for p in (b.solid.points @ axes.T for b in bodies)]
    return _Stance(bodies, np.array(boxes).reshape(-1, 2, 3), said)


def steps(s: Surface) -> tuple[int, int]:
    """Steps up (or left) and down (or right) in which no point moves further than the frame's tubes are thick."""
    reach = max((1 - s.tail.hinge) * max(s.tail.root_chord, s.tail.tip_chord), s.frame.horn.arm)
    up, down = (math.ceil(reach * travel / s.frame.movable.front.outside) for travel in (s.tail.up, s.tail.down))
    return max(up, 1), max(down, 1)


def _angles(s: Surface, count: tuple[int, int]) -> tuple[tuple[float, str], ...]:
    """Neutral, and in even steps to full travel both ways: (rad, trailing edge up or left positive; words)."""
    up, down = ("up", "down") if s.flat else ("left", "right")
    ways = ((s.tail.up, 1.0, up, count[0]), (s.tail.down, -1.0, down, count[1]))
    return ((0.0, "neutral"), *((travel * i / n * side, f"{word} {math.degrees(travel * i / n):.0f} deg")
                                for travel, side, word, n in ways for i in range(n, 0, -1)))  # fmt: skip


def _groups(model: Model, assembly: Assembly) -> Mapping[str, list[_Body]]:
    """Bodies by the movable surface they turn with; "" for those that stand still."""
    turning = {s.name("movable"): f"{model.name}-{s.name('movable')}-" for s in surfaces(model)}
    found: dict[str, list[_Body]] = {"": [], **{n: [] for n in turning}}
    for part in assembly.parts:
        if isinstance(part.shape, Skin) and part.shape.thickness == 0:
            continue
        where = next((n for n, start in turning.items() if part.number.startswith(start)), "")
        found[where] += [closed_body(part, body) for body in solids(_filled(part))]
    return found


def _filled(part: Part) -> Part:
    """A tube without its bore: what stands in the bore at one stance was met by the wall on the way there."""
    return replace(part, shape=replace(part.shape, wall=0.0)) if isinstance(part.shape, Tube) else part


def closed_body(part: Part, solid: Solid) -> _Body:
    """A body in the library of solids. DesignProblem for one that is not closed: it would be nowhere in the way."""
    found = exact(solid)
    if not closed(found):
        raise DesignProblem(f"{part.number}: its body is not closed and cannot be measured")
    return _Body(part.number, solid, found)


def _turned(s: Surface, bodies: Sequence[_Body], angle: float) -> list[_Body]:
    """Bodies turned about the hinge line, trailing edge up or left for a positive angle."""
    place, along = axis(s)
    turn = turning(along, -angle)
    found = []
    for b in bodies:
        solid = Solid(locked((b.solid.points - place) @ turn.T + place), b.solid.faces)
        matrix = np.column_stack([turn, place - turn @ place])
        found.append(_Body(b.part, solid, b.exact.transform(matrix)))
    return found


def turning(along: np.ndarray, angle: float) -> np.ndarray:
    """(3, 3) matrix that turns about a unit vector by a right-handed angle, rad (Rodrigues' formula, worked out)."""
    x, y, z = along
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.asarray(np.eye(3) + math.sin(angle) * cross + (1 - math.cos(angle)) * cross @ cross)


def _nearer(least: Nearest, moved: _Stance, others: _Stance, said: str) -> Nearest:
    """The nearer of what is known and what a pair of these bodies gives."""
    for one, (low, high) in zip(moved.bodies, moved.boxes, strict=True):
        near = np.all((others.boxes[:, 0] <= high + least.gap) & (others.boxes[:, 1] >= low - least.gap), axis=1)
        for i in np.flatnonzero(near):
            other = others.bodies[int(i)]
            if _one_hinge(one.part, other.part):
                continue
            gap = one.exact.min_gap(other.exact, least.gap)  # nought where they share any space
            if gap < least.gap:
                least = Nearest(float(gap), one.part, other.part, said)
    return least


def _one_hinge(one: str, other: str) -> bool:
    """Whether two parts are of one hinge: HINGE, kind, place, hand."""
    a, b = (n.split("-")[2:] for n in (one, other))
    return a[:1] == b[:1] == ["HINGE"] and a[2:] == b[2:]
