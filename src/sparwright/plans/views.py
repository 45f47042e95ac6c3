"""Flat views of the whole aeroplane: what lies nearer hides what lies behind it.

Each thing is seen as a shadow (the area it covers, perhaps none) with its lines and how near it is.
Lines are cut away where a nearer shadow covers them. Exact for things that do not pass through each
other; where they do, the nearer middle wins. Coordinates are metres in the view's own plane.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sparwright.base.record import number

Xyz = tuple[float, float, float]


@dataclass(frozen=True)
class View:
    """How space falls on the paper, and which way is near."""

    name: str
    across: Callable[[np.ndarray], np.ndarray]  # (3, n) -> (2, n)
    near: Callable[[np.ndarray], np.ndarray]  # (3, n) -> (n,), larger is nearer


TOP = View("from above", lambda p: np.array([-p[1], p[0]]), lambda p: p[2])
FRONT = View("from ahead", lambda p: np.array([-p[1], p[2]]), lambda p: -p[0])
SIDE = View("from the left", lambda p: np.array([p[0], p[2]]), lambda p: -p[1])


@dataclass(frozen=True)
class Thing:
    """Something to be seen: closed faces that hide, and lines drawn on them or in the air."""

    faces: tuple[np.ndarray, ...] = ()  # each (3, n)
    lines: tuple[np.ndarray, ...] = ()  # each (3, n)
    width: float = number("m", "width of the lines' own shadow; nought for none", 0.0)
    dashed: bool = False
    only: str = ""  # name of the one view its lines are seen in; empty for all


@dataclass(frozen=True)
class Seen:
    """One visible stretch of line in a view, m."""

    points: np.ndarray  # (2, n)
    dashed: bool = False


def seen(things: Iterable[Thing], view: View) -> tuple[Seen, ...]:
    """Every visible line of the things in a view."""
    ordered = sorted(things, key=lambda t: -_nearness(t, view))
    hidden: BaseGeometry = shapely.Polygon()
    found: list[Seen] = []
    for thing in ordered:
        shadow, edges = _flat(thing, view)
        for edge in edges:
            found += [Seen(points, thing.dashed) for points in _strings(edge.difference(hidden))]
        hidden = hidden.union(shadow)
    return tuple(found)


def _nearness(thing: Thing, view: View) -> float:
    return float(np.mean(np.concatenate([view.near(p) for p in (*thing.faces, *thing.lines)])))


def _flat(thing: Thing, view: View) -> tuple[BaseGeometry, list[BaseGeometry]]:
    """(shadow, lines): a face gives its rim as a line as well; a thick line gives the outline of its strip."""
    whole: BaseGeometry = shapely.union_all([g for f in thing.faces for g in _areas(view.across(f))])
    edges: list[BaseGeometry] = [whole.boundary] if not whole.is_empty else []
    for line in thing.lines if thing.only in ("", view.name) else ():
        flat = shapely.LineString(view.across(line).T)
        if thing.width > 0 and flat.length > 0:
            strip = flat.buffer(thing.width / 2, cap_style="flat")
            whole = whole.union(strip)
            edges.append(strip.boundary)
        else:
            edges.append(flat)
    return whole, edges


def _areas(rim: np.ndarray) -> Iterator[BaseGeometry]:
    """What a face covers; a face seen edge on covers nothing."""
    shape = shapely.make_valid(shapely.Polygon(rim.T))
    yield from (
        g for g in getattr(shape, "geoms", [shape]) if g.geom_type in ("Polygon", "MultiPolygon") and g.area > 1e-9
    )


def _strings(shape: BaseGeometry) -> Iterator[np.ndarray]:
    merged = shapely.line_merge(shape) if shape.geom_type == "MultiLineString" else shape
    for part in getattr(merged, "geoms", [merged]):
        if part.geom_type in ("LineString", "LinearRing") and part.length > 1e-6:
            yield np.array(part.coords).T
