"""A rib built up of square strip and gussets, in the outline of a rib cut from sheet.

    caps       a strip inside the upper and the lower edge, from end to end; the lower ends on the upper at the tail
    posts      at both ends, and ahead of and behind each spar, from cap to cap
    diagonals  zigzag in each bay between posts, from cap to cap, about as long again along the chord as the bay is deep
    gussets    round each place where a diagonal or post meets a cap, on both faces; those that meet are one

Every strip is cut to the ones before it in that order. All in the rib's own axes, m. Common practice, no source; the
shapes are worked out here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely import LineString, MultiPolygon, Point, Polygon, affinity, box, unary_union
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from sparwright.base.problem import DesignProblem
from sparwright.base.record import locked
from sparwright.family.model import Truss
from sparwright.shape.rib import Piece, Slot

ACROSS = 160  # places along each edge at which its height is taken
LONG = 1.2  # of a bay's depth: how far along the chord one diagonal goes
SHORT = 1.5  # of a strip's depth: a bay or end that is less deep has neither post nor diagonal
LEAST = 1e-6  # m2: less than this is rounding
REACH = 9.0  # m
OVER = 3.0  # steps an edge is drawn out at its ends


@dataclass(frozen=True)
class Built:
    """What a built-up rib is made of: outlines (n, 2), anticlockwise, by name."""

    sticks: dict[str, np.ndarray]
    gussets: dict[str, np.ndarray]
    at_spars: dict[str, tuple[str, ...]]  # the posts that stand on each spar


def built_up(piece: Piece, slots: Sequence[Slot], truss: Truss, fit: float) -> Built:
    """The strips and gussets of one piece of a rib.

    slots: the spars that pass through it or that it ends on. DesignProblem where a cap does not go round it.
    """
    shell, deep = Polygon(piece.outline), truss.stick.depth
    open_ = unary_union([Polygon(h) for h in piece.holes])
    upper, lower = _edges(shell)
    bands = [shell.intersection(LineString(edge).buffer(deep, cap_style="flat")) for edge in (upper, lower)]
    if max(band.intersection(open_).area for band in bands) > LEAST:
        raise DesignProblem(f"{piece.name}: a cap strip of {deep * 1e3:.1f} mm does not pass over its spars; more land")
    sticks = {"UPPER": _one(bands[0])}
    sticks["LOWER"] = _one(bands[1].difference(bands[0]))
    inner = shell.difference(unary_union([*sticks.values(), open_]))
    posts = dict(_posts(shell, inner, slots, piece, deep, fit))
    sticks |= posts
    nodes = [q for p in posts.values() for q in _ends(p)]
    for name, stick, ends in _diagonals(inner, list(posts.values()), open_, deep):
        sticks[name] = stick
        nodes += ends
    plates = unary_union([Point(q).buffer(truss.reach) for q in nodes]).intersection(shell).difference(open_)
    gussets = {f"GUSSET-{i}": g for i, g in enumerate(sorted(_solid(plates), key=lambda g: g.centroid.x), 1)}
    at = {s.spar: tuple(n for n in posts if n.startswith(f"POST-{s.spar.upper()}-")) for s in slots}
    return Built({n: _ring(p) for n, p in sticks.items()}, {n: _ring(p) for n, p in gussets.items()}, at)


def _edges(shell: Polygon) -> tuple[np.ndarray, np.ndarray]:
    """(n, 2) upper and lower edge from nose to tail."""
    x0, _, x1, _ = shell.bounds
    found = []
    for x in np.linspace(x0 + 1e-6, x1 - 1e-6, ACROSS):
        _, low, _, high = LineString([(x, -REACH), (x, REACH)]).intersection(shell).bounds
        found.append((x, low, high))
    at = np.array(found)
    return _longer(at[:, [0, 2]]), _longer(at[:, [0, 1]])


def _longer(edge: np.ndarray) -> np.ndarray:
    """An edge drawn out straight at both ends, so that a band along it covers them."""
    return np.vstack([edge[0] - OVER * (edge[1] - edge[0]), edge, edge[-1] + OVER * (edge[-1] - edge[-2])])


def _posts(
    shell: Polygon, inner: BaseGeometry, slots: Sequence[Slot], piece: Piece, deep: float, fit: float
) -> Iterator[tuple[str, Polygon]]:
    """(name, outline) at both ends, and at each spar ahead and behind, in order from the nose."""
    x0, _, x1, _ = shell.bounds
    strips: list[tuple[str, BaseGeometry]] = []
    for s in slots:
        for word, side in (("AHEAD", -1.0), ("BEHIND", 1.0)):
            near = side * (s.width / 2 + fit)
            a, b = sorted((near, near + side * deep))
            strip = affinity.rotate(box(s.x + a, s.y - REACH, s.x + b, s.y + REACH), s.lean, origin=(s.x, s.y),
                                    use_radians=True)  # fmt: skip
            strips.append((f"POST-{s.spar.upper()}-{word}", strip))
    through = {s.spar for s in piece.slots}
    if not any(abs(x0 - s.x) < s.width / 2 + deep for s in slots if s.spar not in through):
        strips.append(("END-NOSE", box(x0, -REACH, x0 + deep, REACH)))
    if not any(abs(x1 - s.x) < s.width / 2 + deep for s in slots if s.spar not in through):
        strips.append(("END-TAIL", box(x1 - deep, -REACH, x1, REACH)))
    for name, strip in sorted(strips, key=lambda n: n[1].centroid.x):
        found = _solid(inner.intersection(strip))
        tall = max(found, key=lambda g: g.area) if found else None
        if tall is not None and np.ptp(np.array(tall.exterior.coords)[:, 1]) > SHORT * deep:
            yield name, tall


def _ends(post: Polygon) -> list[tuple[float, float]]:
    """Middle of a post's upper and lower end."""
    (x0, y0, x1, y1) = post.bounds
    return [((x0 + x1) / 2, y0), ((x0 + x1) / 2, y1)]


def _diagonals(inner: BaseGeometry, posts: Sequence[Polygon], open_: BaseGeometry, deep: float) -> Iterator[
        tuple[str, Polygon, list[tuple[float, float]]]]:  # fmt: skip
    """(name, outline, its two ends) of each diagonal, from the nose aft."""
    free = inner.difference(unary_union(list(posts))) if posts else inner
    count = 0
    tail = inner.bounds[2] if not inner.is_empty else 0.0
    marks = [*((p.bounds[0], p.bounds[2]) for p in posts), (tail, tail)]
    for (_, a), (b, _) in pairwise(marks):
        middle = LineString([(a + 1e-6, 0.0), (max(b - 1e-6, a + 2e-6), 0.0)])
        if b - a < 2 * deep or (
            not open_.is_empty and open_.intersects(box(a, -REACH, b, REACH)) and _over(open_, middle)
        ):
            continue
        end = _deep_enough(inner, a, b, SHORT * deep)
        depth = _height(inner, a, end)
        if end - a < 2 * deep or depth < SHORT * deep:
            continue
        panels = max(1, round((end - a) / (LONG * depth)))
        xs = np.linspace(a + deep / 2, end - deep / 2, panels + 1)
        points = [(float(x), _side(inner, float(x), up=bool(i % 2))) for i, x in enumerate(xs)]
        for p, q in pairwise(points):
            way = (np.array(q) - p) / np.hypot(*(np.array(q) - p))
            line = LineString([np.array(p) - 3 * deep * way, np.array(q) + 3 * deep * way])
            stick = max(_solid(free.intersection(line.buffer(deep / 2, cap_style="flat"))), key=lambda g: g.area,
                        default=None)  # fmt: skip
            if stick is None:
                continue
            count += 1
            free = free.difference(stick)
            yield f"DIAGONAL-{count}", stick, [p, q]


def _over(open_: BaseGeometry, line: LineString) -> bool:
    """Whether a spar's opening takes up most of a bay."""
    x0, x1 = line.bounds[0], line.bounds[2]
    return bool(open_.intersection(box(x0, -REACH, x1, REACH)).bounds[2] - x0 > 0.5 * (x1 - x0))


def _deep_enough(inner: BaseGeometry, a: float, b: float, least: float) -> float:
    """How far aft the space between the caps is deep enough for a diagonal."""
    for x in np.linspace(b - 1e-4, a + 1e-4, 60):
        cut = LineString([(x, -REACH), (x, REACH)]).intersection(inner)
        if not cut.is_empty and cut.length > least:
            return float(x)
    return a


def _height(inner: BaseGeometry, a: float, b: float) -> float:
    cut = [LineString([(x, -REACH), (x, REACH)]).intersection(inner).length for x in np.linspace(a + 1e-4, b - 1e-4, 9)]
    return float(np.mean(cut))


def _side(inner: BaseGeometry, x: float, up: bool) -> float:
    cut = LineString([(x, -REACH), (x, REACH)]).intersection(inner)
    return float(cut.bounds[3 if up else 1])


def _solid(shape: BaseGeometry) -> list[Polygon]:
    found = list(shape.geoms) if isinstance(shape, MultiPolygon) or hasattr(shape, "geoms") else [shape]
    return [g for g in found if isinstance(g, Polygon) and g.area > LEAST]


def _one(shape: BaseGeometry) -> Polygon:
    return max(_solid(shape), key=lambda g: g.area, default=Polygon())


def _ring(shape: Polygon) -> np.ndarray:
    return locked(list(orient(Polygon(shape.exterior)).simplify(1e-5).exterior.coords)[:-1])
