"""The fuselage frame as nodes and straight tubes, and the outside of the body."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

import numpy as np

from sparwright.family.model import Body, FrameTube, Model, Place, RoundTube, StrutEnd
from sparwright.shape.flat_frame import tail_spot
from sparwright.shape.lifting import cut
from sparwright.shape.solid import as_place

CLEAR = 0.05  # m, how far outside the body's box a tube's end must be to count as out in the wind
ON_CENTRE = 1e-6  # m: a node nearer to the centreline than this is on it


@dataclass(frozen=True)
class Stretch:
    """A tube from one node to the next."""

    name: str
    start: str
    end: str
    tube: RoundTube


@dataclass(frozen=True)
class Run:
    """One tube of the frame through all the nodes it passes."""

    name: str
    nodes: tuple[str, ...]
    tube: RoundTube


class Welded(Protocol):
    """A frame of tubes between nodes: the fuselage's, the engine mount's."""

    @property
    def nodes(self) -> Mapping[str, Place]:
        """Where tubes meet, m, by name; off the centreline stands for a pair."""

    @property
    def tubes(self) -> Sequence[FrameTube]:
        """Runs of tube."""


def mirrored(place: Place) -> Place:
    """The same place on the other side."""
    return (place[0], -place[1], place[2])


def nodes(frame: Welded) -> dict[str, Place]:
    """Every node by its full name: `B1R`, `B1L` for a pair `B1`; the plain name on the centreline."""
    found: dict[str, Place] = {}
    for name, place in frame.nodes.items():
        if abs(place[1]) < ON_CENTRE:
            found[name] = place
        else:
            found[f"{name}R"] = place
            found[f"{name}L"] = mirrored(place)
    return found


def runs(frame: Welded) -> tuple[Run, ...]:
    """Every tube of a frame, right and left."""
    known = nodes(frame)
    return tuple(r for tube in frame.tubes for r in _sides(tube, known))


def _sides(tube: FrameTube, known: Mapping[str, Place]) -> Iterator[Run]:
    pairs = [name for name in tube.run if name not in known]
    for side in ("R", "L") if pairs else ("",):
        yield Run(tube.name, tuple(name if name in known else name + side for name in tube.run), tube.tube)


def stretches(frame: Welded) -> tuple[Stretch, ...]:
    """Every stretch of tube from one node to the next, both sides."""
    return tuple(Stretch(r.name, a, b, r.tube) for r in runs(frame) for a, b in pairwise(r.nodes))


def end_place(model: Model, end: StrutEnd) -> Place:
    """Where the right-hand end of a strut or wire lies: a node, the middle of a spar, or that of a tail's tube."""
    if end.node:
        known = nodes(model.fuselage)
        return known.get(end.node) or known[f"{end.node}R"]
    if end.tail:
        return as_place(tail_spot(model, end).place)
    wing = model.wing(end.wing)
    spar = next(s for s in wing.spars if s.name == end.spar)
    station = cut(wing, model.sections, end.buttline)
    points = station.points
    assert points is not None
    n = points.shape[1] // 2
    middle = (
        np.interp(spar.at, points[0, n::-1], points[1, n::-1]) + np.interp(spar.at, points[0, n:], points[1, n:])
    ) / 2
    return station.place(spar.at * station.chord, float(middle) * station.chord)


def within_body(body: Sequence[Body], place: Place) -> bool:
    """Whether a place is in the box round the body at its station, or nearer to it than CLEAR."""
    x = [b.station for b in body]
    half, top, bottom = (float(np.interp(place[0], x, v)) for v in
                         ([b.width / 2 for b in body], [b.top for b in body], [b.bottom for b in body]))  # fmt: skip
    return abs(place[1]) <= half + CLEAR and bottom - CLEAR <= place[2] <= top + CLEAR


def perimeter(width: float, height: float) -> float:
    """Perimeter of an ellipse. Source: Ramanujan 1914, second approximation; below 1e-4 at these shapes."""
    a, b = width / 2, height / 2
    h = ((a - b) / (a + b)) ** 2
    return float(np.pi * (a + b) * (1 + 3 * h / (10 + np.sqrt(4 - 3 * h))))


def _around(body: Sequence[Body], start: float) -> np.ndarray:
    """(3, n): station, perimeter and middle waterline of each cross-section aft of `start`, one at `start` itself."""
    ordered = sorted(body, key=lambda b: b.station)
    rows = [(b.station, perimeter(b.width, b.top - b.bottom), (b.top + b.bottom) / 2) for b in ordered]
    x, around, middle = np.array(rows).T
    first = max(start, float(x[0]))
    at = np.concatenate([[first], x[x > first]])
    return np.array([at, np.interp(at, x, around), np.interp(at, x, middle)])


def outside_area(body: Sequence[Body], start: float = -np.inf) -> float:
    """Outside area of the oval body aft of `start`, m2: perimeter integrated along the station by trapezoids.

    The slope of the sides is left out: below 2 % at a half-angle of 11 degrees.
    """
    x, around, _ = _around(body, start)
    return float(np.trapezoid(around, x))


def area_centre(body: Sequence[Body], start: float = -np.inf) -> Place:
    """Centre of the outside area aft of `start`, on the centreline."""
    x, around, middle = _around(body, start)
    total = np.trapezoid(around, x)
    return (float(np.trapezoid(around * x, x) / total), 0.0, float(np.trapezoid(around * middle, x) / total))
