"""Strips of the vortex lattice: how every surface is cut along the span.

Only the right half is laid; the left is its mirror. The panels along the chord are mesh.py's. Along the span
y = s sin(pi t/2): strips are equal in t, so they close up towards the tip, breaks and hinge ends fall on edges, and a
strip's control point lies at its middle t, not its middle y. With that point the far-wake drag of an elliptic wing
comes out right for any number of strips; with the middle y it does not.

A wake that meets another surface must do so between control points: a control point on the line of a
trailing leg is washed without limit. So surfaces that lie in each other's wake, within one strip's width in
height, are cut at the same buttlines: the larger span takes over the strips of the smaller.

Source of the spacing along the span: lan-1974.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.shape.planform import Planform

LEAST = 8  # strips of the smallest of several surfaces that share theirs
OUTSIDE, ALONE = 3, 6  # least strips outside another's tip: among several angles, at one
Cuts = tuple[np.ndarray, np.ndarray]  # strip edges and control stations along y, m


@dataclass(frozen=True)
class Surface:
    """One surface cut into strips: m strips, right half, root to tip. Metres and radians."""

    name: str
    is_tail: bool
    edge: np.ndarray  # (3, m+1) leading edge at the strip edges
    edge_chord: np.ndarray  # (m+1,)
    middle: np.ndarray  # (3, m) leading edge at the strips' control stations
    chord: np.ndarray  # (m,)
    angle: np.ndarray  # (m,)
    blend: np.ndarray  # (m, k) share of each break's section in the strip's section
    hinged: np.ndarray  # (m,) 1 where the hinged part is, else 0
    width: np.ndarray  # (m,) along y


def strip_edges(breaks: np.ndarray, strips: int) -> tuple[np.ndarray, np.ndarray]:
    """(edges, control stations) along y, m, for about `strips` strips with every break on an edge.

    t = 2/pi asin(y/s); each stretch between breaks gets strips in proportion to its length in t, at
    least one, and they are equal in t. breaks: rising, the first nought or the root, the last the tip.
    """
    t = 2 / np.pi * np.arcsin(np.clip(breaks / breaks[-1], 0, 1))
    counts = _shared_out(np.diff(t), strips)
    at = np.concatenate(
        [np.linspace(a, b, n + 1)[:-1] for a, b, n in zip(t[:-1], t[1:], counts, strict=True)] + [t[-1:]]
    )
    edges = breaks[-1] * np.sin(np.pi / 2 * at)
    edges[np.concatenate([[0], np.cumsum(counts)])] = breaks  # to the last bit
    return edges, breaks[-1] * np.sin(np.pi / 4 * (at[1:] + at[:-1]))


def _shared_out(lengths: np.ndarray, total: int) -> np.ndarray:
    """Whole numbers, at least one each, in proportion to lengths, of the wanted sum where that can be."""
    counts = np.maximum(1, np.floor(lengths / lengths.sum() * total).astype(int))
    while counts.sum() < total:
        counts[np.argmax(lengths / counts)] += 1
    return np.asarray(counts)


def _marks(planform: Planform) -> np.ndarray:
    """Buttlines that must be strip edges: breaks and hinge ends. Two closer than a millionth of the span are one."""
    y = planform.leading_edge[1]
    ends = [v for v in (planform.hinge_from, planform.hinge_to) if planform.hinge < 1 and y[0] < v < y[-1]]
    kept = [v for v in ends if np.min(np.abs(y - v)) > 1e-6 * y[-1]]
    return np.unique(np.concatenate([y, kept]))


def lay_out(planforms: tuple[Planform, ...], strips: int, angles: Sequence[float] = (0.0,)) -> tuple[Surface, ...]:
    """Every surface cut into strips, those in each other's wake at the same buttlines.

    angles: rad, of the stream to the thrust line, at which the wakes are looked at. Over several angles nearly every
    surface meets another's wake; then the smallest gets only its part of the strips, so that they do not pile up.
    """
    several = len(angles) > 1
    found: dict[str, Surface] = {}
    for group in _in_wake(planforms, strips, angles):
        shared = np.unique(np.concatenate([_marks(p) for p in group]))
        inner: Cuts | None = None
        tips = sorted(float(p.leading_edge[1, -1]) for p in group)
        part = round(strips * 2 / np.pi * np.arcsin(tips[0] / tips[-1]))
        first = min(strips, max(LEAST, part)) if several else strips
        for p in sorted(group, key=lambda p: float(p.leading_edge[1, -1])):
            inner = _cuts(p, shared, strips if inner else first, inner, OUTSIDE if several else ALONE)
            found[p.name] = cut(p, *inner)
    return tuple(found[p.name] for p in planforms)


def _cuts(planform: Planform, marks: np.ndarray, strips: int, inner: Cuts | None, least: int) -> Cuts:
    """Edges and control stations of a surface; inside the span of `inner` they are that surface's own.

    Outside it strips close up towards both ends: y = y0 + (s - y0)(1 - cos pi t)/2.
    """
    tip = float(planform.leading_edge[1, -1])
    if inner is None:
        return strip_edges(marks[marks <= tip], strips)
    edges, middle = inner
    start = edges[-1]
    if tip <= start:
        return inner
    n = max(least, round(strips * (1 - 2 / np.pi * np.arcsin(start / tip))))
    between = marks[(marks > start) & (marks < tip)]
    t = np.arccos(1 - 2 * (np.concatenate([[start], between, [tip]]) - start) / (tip - start)) / np.pi
    counts = _shared_out(np.diff(t), n)
    at = np.concatenate(
        [np.linspace(a, b, k + 1)[:-1] for a, b, k in zip(t[:-1], t[1:], counts, strict=True)] + [[1.0]]
    )
    outside = start + (tip - start) * (1 - np.cos(np.pi * at)) / 2
    outside[np.concatenate([[0], np.cumsum(counts)])] = [start, *between, tip]  # to the last bit
    centres = start + (tip - start) * (1 - np.cos(np.pi / 2 * (at[1:] + at[:-1]))) / 2
    return np.concatenate([edges, outside[1:]]), np.concatenate([middle, centres])


def _in_wake(planforms: tuple[Planform, ...], strips: int, angles: Sequence[float]) -> list[list[Planform]]:
    """The surfaces in groups; within a group each lies in the wake of another or the other in its."""
    groups: list[list[Planform]] = []
    for p in planforms:
        met = [g for g in groups if any(_near(p, q, strips, angles) for q in g)]
        groups = [g for g in groups if g not in met] + [[p, *(q for g in met for q in g)]]
    return groups


def _near(p: Planform, q: Planform, strips: int, angles: Sequence[float]) -> bool:
    """Whether two surfaces come within one strip's width of the larger across the stream, or cross, where both are.

    Among several angles a surface that passes from one side of the other to the other side counts as crossing.
    """
    tips = p.leading_edge[1, -1], q.leading_edge[1, -1]
    y = np.unique(np.concatenate([p.leading_edge[1], q.leading_edge[1]]))
    y = y[y <= min(tips)]
    aft, up = (np.interp(y, p.leading_edge[1], p.leading_edge[i]) - np.interp(y, q.leading_edge[1], q.leading_edge[i])
               for i in (0, 2))  # fmt: skip
    turned = np.asarray(angles)[:, None]
    apart = up * np.cos(turned) - aft * np.sin(turned)
    return bool(np.min(np.abs(apart)) < np.pi / 2 * max(tips) / strips or np.min(apart) * np.max(apart) < 0)


def cut(planform: Planform, edges: np.ndarray, middle: np.ndarray) -> Surface:
    """A planform cut into strips at `edges`, with control stations at `middle`."""
    y = planform.leading_edge[1]

    def at(v: np.ndarray, where: np.ndarray) -> np.ndarray:
        return np.asarray(np.interp(where, y, v))

    edge = np.array([at(planform.leading_edge[0], edges), edges, at(planform.leading_edge[2], edges)])
    part = (middle - edges[:-1]) / np.diff(edges)
    lead = edge[:, :-1] * (1 - part) + edge[:, 1:] * part  # on the strip's own line, to the last bit
    blend = np.array([at(row, middle) for row in np.eye(y.size)]).T
    inside = (middle > planform.hinge_from) & (middle < planform.hinge_to) & (planform.hinge < 1)
    return Surface(
        planform.name, planform.is_tail, edge, at(planform.chord, edges), lead, at(planform.chord, middle),
        at(planform.angle, middle), blend, inside.astype(float), np.diff(edge[1]),
    )  # fmt: skip


@dataclass(frozen=True)
class Strips:
    """The load along one surface, right half, root to tip: m strips."""

    y: np.ndarray  # (m,) m, control station of each strip
    width: np.ndarray  # (m,) m, along y
    chord: np.ndarray  # (m,) m
    area: np.ndarray  # (m,) m2, of one side
    circulation: np.ndarray  # (m,) m, Gamma over flight speed
    onset: np.ndarray  # (m,) 1 + u, flow along the stream from all but the strip's own surface
    lift_coefficient: np.ndarray  # (m,) the section's: on the local chord and the local onset, 2 Gamma/((1 + u) c)
    lift: np.ndarray  # (m,) m2, lift of the strip over q
    centre: np.ndarray  # (m,) centre of pressure, fraction of the chord; NaN where there is no load


def shares(strips: Mapping[str, Strips], names: Sequence[str]) -> dict[str, float]:
    """Each of the named surfaces' part of their lift together; they sum to one."""
    lift = np.array([strips[name].lift.sum() for name in names])
    return dict(zip(names, (lift / lift.sum()).tolist(), strict=True))
