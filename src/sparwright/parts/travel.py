"""Elevator and rudder turned to full travel: how near they come to what stands still, and to each other.

The bodies of a movable frame, with the straps that go with it, are turned about their hinge line; the gap is measured
to every other body within LOOK, and a gap of nought is a part in a part. The straps, bush and pin of one hinge turn in
each other and are left out against each other. The elevator is measured with the rudder in the middle and at both ends
of its travel and half way. The least clearance wanted is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from manifold3d import Manifold, Mesh64

from sparwright.base.check import Check, Step, check
from sparwright.base.record import locked, number
from sparwright.base.source import Band
from sparwright.family.model import Model
from sparwright.parts.part import Assembly, Part, Skin
from sparwright.parts.solids import solids
from sparwright.parts.tail_fittings import axis
from sparwright.parts.tail_frame import Surface, surfaces
from sparwright.shape.solid import Solid

CLEAR = 1.5e-3  # m
LOOK = 0.05  # m
SHARED = 2e-9  # m3


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
            caveat=f"{_said(least)}; at rest, not under load",
        )  # fmt: skip


def _said(found: Nearest) -> str:
    return f"{found.one} and {found.other}, {found.stance}" if found.one else f"nothing within {LOOK * 1e3:.0f} mm"


def nearest(s: Surface, assembly: Assembly) -> Mapping[str, Nearest]:
    """The least gap through a surface's travel: to what stands still (""), and to the other movable surface."""
    groups = _groups(s.model, assembly)
    own = s.name("movable")
    least = {n: Nearest(LOOK) for n in groups if n != own}
    neighbours = {x.name("movable"): [(_turned(x, groups[x.name("movable")], a), said) for a, said in _angles(x)]
                  for x in surfaces(s.model) if x.name("movable") != own}  # fmt: skip
    for angle, word in _angles(s):
        moved = _turned(s, groups[own], angle)
        least[""] = _nearer(least[""], moved, groups[""], word)
        for other, stances in neighbours.items():
            for theirs, said in stances:
                least[other] = _nearer(least[other], moved, theirs, f"{word}, {other} {said}")
    return least


def _angles(s: Surface) -> tuple[tuple[float, str], ...]:
    """Neutral, half and full travel both ways: (rad, trailing edge up or left positive; words)."""
    up, down = ("up", "down") if s.flat else ("left", "right")
    ways = [(f * t * side, f"{word} {math.degrees(f * t):.0f} deg")
            for t, side, word in ((s.tail.up, 1.0, up), (s.tail.down, -1.0, down)) for f in (1.0, 0.5)]  # fmt: skip
    return ((0.0, "neutral"), *ways)


def _groups(model: Model, assembly: Assembly) -> Mapping[str, list[_Body]]:
    """Bodies by the movable surface they turn with; "" for those that stand still."""
    turning = {s.name("movable"): f"{model.name}-{s.name('movable')}-" for s in surfaces(model)}
    found: dict[str, list[_Body]] = {"": [], **{n: [] for n in turning}}
    for part in assembly.parts:
        if isinstance(part.shape, Skin) and part.shape.thickness == 0:
            continue
        where = next((n for n, start in turning.items() if part.number.startswith(start)), "")
        found[where] += [_body(part, body) for body in solids(part)]
    return found


def _body(part: Part, solid: Solid) -> _Body:
    mesh = Mesh64(np.array(solid.points), np.array(solid.faces, dtype=np.uint64))
    return _Body(part.number, solid, Manifold(mesh))


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


def _nearer(least: Nearest, moved: Sequence[_Body], others: Sequence[_Body], stance: str) -> Nearest:
    """The nearer of what is known and what a pair of these bodies gives."""
    boxes = np.array([b.solid.box for b in others]).reshape(-1, 2, 3)
    for one in moved:
        low, high = one.solid.box
        reach = least.gap
        near = np.all((boxes[:, 0] <= high + reach) & (boxes[:, 1] >= low - reach), axis=1)
        for i in np.flatnonzero(near):
            other = others[int(i)]
            if _one_hinge(one.part, other.part):
                continue
            gap = 0.0 if (one.exact ^ other.exact).volume() > SHARED else one.exact.min_gap(other.exact, least.gap)
            if gap < least.gap:
                least = Nearest(float(gap), one.part, other.part, stance)
    return least


def _one_hinge(one: str, other: str) -> bool:
    """Whether two parts are of one hinge: HINGE, kind, place, hand."""
    a, b = (n.split("-")[2:] for n in (one, other))
    return a[:1] == b[:1] == ["HINGE"] and a[2:] == b[2:]
