"""The flat frame of a tail surface: where its tubes run, in the plane of its chords.

Two axes in that plane: u aft along the root's chord from its leading edge, v along the surface (buttline to the right,
or height over the fin's root). Edge tubes lie within the outline, their outsides on it; spar and front tube lie along
the hinge line, half the gap before and behind it. The tailplane's leading edge and spar run from tip to tip in one
piece, the leading edge bent on the centreline; elevators are two frames.

    leading edge   u = v tan(sweep) + r/cos(sweep)
    hinge line     u = v tan(sweep) + hinge c(v),   c(v) = root + (tip - root) v/length
    trailing edge  u = v tan(sweep) + c(v), less r over the cosine of its own sweep

Source: geometry, worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sparwright.base.quantity import place_key
from sparwright.base.record import number
from sparwright.family.model import Model, RoundTube, StrutEnd, TailSurface
from sparwright.family.tail_frame import FixedFrame, MovableFrame, TailFrame
from sparwright.shape.solid import Pose

Point = tuple[float, float]


@dataclass(frozen=True)
class Line:
    """u = at + slope v."""

    at: float = number("m", "u where v is nought")
    slope: float = number("1", "du/dv")

    def point(self, v: float) -> Point:
        """The point at a v."""
        return (self.at + self.slope * v, v)

    @property
    def along(self) -> np.ndarray:
        """(2,) unit vector towards the tip."""
        return np.array([self.slope, 1.0]) / math.hypot(self.slope, 1.0)

    @property
    def aft(self) -> np.ndarray:
        """(2,) unit vector square to it, aft."""
        return np.array([1.0, -self.slope]) / math.hypot(self.slope, 1.0)

    def moved(self, aft: float) -> Line:
        """Parallel to it, further aft."""
        return Line(self.at + aft * math.hypot(self.slope, 1.0), self.slope)


@dataclass(frozen=True)
class Member:
    """A tube of the frame: the nodes it begins at, passes and ends at; those with a star at its own free ends."""

    name: str
    kind: str  # "leading edge", "spar", "rib", "root", "tip", "diagonal", "front tube", "trailing edge"
    hand: str
    nodes: tuple[str, ...]
    tube: RoundTube


@dataclass(frozen=True)
class FlatFrame:
    """Nodes and tubes of one rigid frame, in the order in which tubes are fitted: each to those before it."""

    name: str  # "fixed", "movable"
    hand: str
    nodes: Mapping[str, Point] = number("m", "u and v of each node")
    members: tuple[Member, ...] = ()

    def at(self, node: str) -> tuple[Member, ...]:
        """The tubes that meet at a node, in the order they are fitted."""
        return tuple(m for m in self.members if node in m.nodes)


def length_of(tail: TailSurface, flat: bool) -> float:
    """Root to tip of one side, m; flat: the tailplane, whose span is tip to tip."""
    return tail.span / 2 if flat else tail.span


def chord_line(tail: TailSurface, fraction: float, flat: bool) -> Line:
    """The line at a fraction of the chord."""
    taper = (tail.tip_chord - tail.root_chord) / length_of(tail, flat)
    return Line(fraction * tail.root_chord, math.tan(tail.sweep) + fraction * taper)


def hinge_line(tail: TailSurface, flat: bool) -> Line:
    """The line elevator or rudder turns about."""
    return chord_line(tail, tail.hinge, flat)


def lines(tail: TailSurface, frame: TailFrame, flat: bool) -> dict[str, Line]:
    """Centre lines of leading edge, spar, front tube and trailing edge."""
    hinge = hinge_line(tail, flat)
    before, behind = frame.fixed.spar.outside / 2, frame.movable.front.outside / 2
    return {
        "LE": chord_line(tail, 0.0, flat).moved(frame.fixed.leading.outside / 2),
        "SP": hinge.moved(-frame.gap / 2 - before),
        "FR": hinge.moved(frame.gap / 2 + behind),
        "TE": chord_line(tail, 1.0, flat).moved(-frame.movable.trailing.outside / 2),
    }


def frames(tail: TailSurface, frame: TailFrame, flat: bool) -> tuple[FlatFrame, ...]:
    """The rigid frames of a surface: tailplane and two elevators, or fin and rudder."""
    along = lines(tail, frame, flat)
    tip = length_of(tail, flat)
    if not flat:
        return (_fin(along, frame.fixed, tip), _movable(along, frame.movable, tip, ""))
    right = _movable(along, frame.movable, tip, "R")
    return (_tailplane(along, frame.fixed, tip), right, _left(right))


def rib_places(part: FixedFrame | MovableFrame, start: float, tip: float) -> tuple[float, ...]:
    """Where the ribs are between a root and a tip tube: as said, or even and no further apart than the pitch."""
    if part.ribs or part.pitch is None:
        return part.ribs
    bays = max(1, math.ceil((tip - start) / part.pitch - 1e-9))
    return tuple(float(v) for v in np.linspace(start, tip, bays + 1)[1:-1])


def _ribs(a: str, b: str, along: Mapping[str, Line], places: Sequence[float], part: FixedFrame | MovableFrame,
          hand: str) -> tuple[dict[str, Point], list[Member]]:  # fmt: skip
    """Nodes on two lines, and the ribs between them: the first place is the root, the last the tip."""
    nodes: dict[str, Point] = {}
    members: list[Member] = []
    for i, v in enumerate(places):
        k = place_key(v) + hand
        nodes |= {f"{a}{k}": along[a].point(v), f"{b}{k}": along[b].point(v)}
        end = i in (0, len(places) - 1)
        kind = ("root" if i == 0 else "tip") if end else "rib"
        name = kind.upper() if end else f"RIB-{place_key(v)}"
        members.append(Member(name, kind, hand, (f"{a}{k}", f"{b}{k}"), part.ends if end else part.rib))
    return nodes, members


def _diagonals(a: str, b: str, places: Sequence[float], tube: RoundTube | None, hand: str) -> Iterator[Member]:
    """In each bay from the inner rib's front to the outer rib's rear."""
    if tube is None:
        return
    for inner, outer in pairwise(places):
        ends = (f"{a}{place_key(inner)}{hand}", f"{b}{place_key(outer)}{hand}")
        yield Member(f"DIAGONAL-{place_key(inner)}", "diagonal", hand, ends, tube)


def _side(along: Mapping[str, Line], fixed: FixedFrame, tip: float, hand: str) -> tuple[list[float], dict[str, Point],
                                                                                       list[Member]]:  # fmt: skip
    last = tip - fixed.ends.outside / 2
    places = [fixed.root, *rib_places(fixed, fixed.root, last), last]
    nodes, members = _ribs("LE", "SP", along, places, fixed, hand)
    members += _diagonals("LE", "SP", places, fixed.diagonal, hand)
    return places, nodes, members


def _fin(along: Mapping[str, Line], fixed: FixedFrame, tip: float) -> FlatFrame:
    places, nodes, members = _side(along, fixed, tip, "")
    foot = fixed.root - fixed.ends.outside / 2 if fixed.foot is None else fixed.foot
    keys = [place_key(v) for v in places]
    for line in ("LE", "SP"):
        nodes |= {f"*{line}foot": along[line].point(foot), f"*{line}end": along[line].point(tip)}
    through = [
        Member(name, kind, "", (f"*{line}foot", *(f"{line}{k}" for k in keys), f"*{line}end"), tube)
        for name, kind, line, tube in (
            ("LEADING-EDGE", "leading edge", "LE", fixed.leading), ("SPAR", "spar", "SP", fixed.spar))
    ]  # fmt: skip
    return FlatFrame("fixed", "", nodes, (*through, *members))


def _tailplane(along: Mapping[str, Line], fixed: FixedFrame, tip: float) -> FlatFrame:
    places, right, members = _side(along, fixed, tip, "R")
    left = {_other(n): (u, -v) for n, (u, v) in right.items()}
    nodes = {**right, **left, "*LEmiddle": along["LE"].point(0.0)}
    for line in ("LE", "SP"):
        u, v = along[line].point(tip)
        nodes |= {f"*{line}endR": (u, v), f"*{line}endL": (u, -v)}
    keys = [place_key(v) for v in places]

    def across(line: str, middle: tuple[str, ...]) -> tuple[str, ...]:
        outward = [f"{line}{k}" for k in keys]
        return (f"*{line}endL", *(f"{n}L" for n in reversed(outward)), *middle, *(f"{n}R" for n in outward),
                f"*{line}endR")  # fmt: skip

    through = (
        Member("LEADING-EDGE", "leading edge", "", across("LE", ("*LEmiddle",)), fixed.leading),
        Member("SPAR", "spar", "", across("SP", ()), fixed.spar),
    )
    return FlatFrame("fixed", "", nodes, (*through, *members, *map(_mirror, members)))


def _movable(along: Mapping[str, Line], part: MovableFrame, tip: float, hand: str) -> FlatFrame:
    """Its tubes go on past its root by their radius, so that the root tube is fitted all round."""
    last = tip - part.ends.outside / 2
    places = [*rib_places(part, part.inner, last), last]
    nodes, members = _ribs("FR", "TE", along, [part.root_aft, *places], part, hand)
    root = {"FR": part.root, "TE": part.root_aft}
    del nodes[f"FR{place_key(part.root_aft)}{hand}"]
    names = {line: f"{line}{place_key(v)}{hand}" for line, v in root.items()}
    nodes |= {names[line]: along[line].point(v) for line, v in root.items()}
    members[0] = Member("ROOT", "root", hand, (names["FR"], names["TE"]), part.ends)
    over = part.ends.outside / 2
    for line, v in root.items():
        nodes |= {
            f"*{line}start{hand}": along[line].point(v - over),
            f"*{line}end{hand}": along[line].point(tip),
        }
    bays = _diagonals("FR", "TE", places, part.diagonal, hand)
    through = [
        Member(name, kind, hand, (f"*{line}start{hand}", names[line], *(f"{line}{place_key(v)}{hand}" for v in places),
                                  f"*{line}end{hand}"), tube)
        for name, kind, line, tube in (
            ("FRONT", "front tube", "FR", part.front), ("TRAILING-EDGE", "trailing edge", "TE", part.trailing))
    ]  # fmt: skip
    return FlatFrame("movable", hand, nodes, (*through, *members, *bays))


def _other(name: str) -> str:
    return f"{name[:-1]}L"


def _mirror(m: Member) -> Member:
    return Member(m.name, m.kind, "L", tuple(map(_other, m.nodes)), m.tube)


def _left(right: FlatFrame) -> FlatFrame:
    nodes = {_other(n): (u, -v) for n, (u, v) in right.nodes.items()}
    return FlatFrame(right.name, "L", nodes, tuple(map(_mirror, right.members)))


def pose_of(tail: TailSurface, flat: bool) -> Pose:
    """Where the plane stands: its x is u, its y is v."""
    if not flat:
        return Pose(tail.leading_edge, (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    return Pose(tail.leading_edge, (math.cos(tail.incidence), 0.0, -math.sin(tail.incidence)), (0.0, 1.0, 0.0))


def in_space(pose: Pose, points: Sequence[Point] | np.ndarray, over: float = 0.0) -> np.ndarray:
    """(n, 3) points (n, 2) of the plane, a height over it."""
    flat = np.asarray(points, dtype=float)
    return pose.at(np.column_stack([flat, np.full(len(flat), over)]))


@dataclass(frozen=True)
class TailSpot:
    """A place on the middle line of a tube of a tail surface's fixed frame, the right one of a pair."""

    tube: RoundTube
    place: np.ndarray = number("m", "(3,) the place")
    along: np.ndarray = number("1", "(3,) along the tube, outward or up")
    aft: np.ndarray = number("1", "(3,) square to it in the surface's plane")


def tail_spot(model: Model, end: StrutEnd) -> TailSpot:
    """Where an end of a strut or wire lies on a tail surface. ValueError for a surface without a frame."""
    tail, flat = (model.tailplane, True) if end.tail == "tailplane" else (model.fin, False)
    if tail.frame is None:
        raise ValueError(f"the {end.tail} has no frame")
    word, tube = ("LE", tail.frame.fixed.leading) if end.tube == "leading" else ("SP", tail.frame.fixed.spar)
    line, pose = lines(tail, tail.frame, flat)[word], pose_of(tail, flat)
    zero, place = in_space(pose, [(0.0, 0.0), line.point(end.along)])
    along, aft = in_space(pose, np.array([line.along, line.aft])) - zero
    return TailSpot(tube, place, along, aft)
