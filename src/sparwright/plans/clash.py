"""Lettering that runs into other lettering, into a line, or off the paper: a fault of the sheet."""

from __future__ import annotations

import math

import shapely

from sparwright.plans.drawing import Area, Circle, Dimension, Line, Page, Polyline, Stroke, Text, arc, is_line
from sparwright.plans.lettering import box


def clashes(sheet: Page) -> tuple[str, ...]:
    """One sentence for each clash on a sheet; none when it is clean."""
    texts = [s for s in sheet.strokes if isinstance(s, Text)]
    boxes = [shapely.Polygon(box(t)) for t in texts]
    lines = [line_of(s) for s in sheet.strokes if is_line(s)]
    paper = shapely.box(0, 0, sheet.width, sheet.height)
    found = [f"{t.content!r} runs off the paper" for t, b in zip(texts, boxes, strict=True) if not paper.contains(b)]
    tree = shapely.STRtree(boxes)
    for i, j in zip(*tree.query(boxes, predicate="intersects"), strict=True):
        if i < j:
            found.append(f"{texts[i].content!r} runs into {texts[j].content!r}")
    for i in sorted(set(tree.query(lines, predicate="intersects")[1])) if lines else ():
        found.append(f"{texts[i].content!r} runs into a line")
    return tuple(found)


def line_of(stroke: Stroke) -> shapely.LineString:
    """The stroke's line, mm."""
    match stroke:
        case Polyline():
            points = (*stroke.points, stroke.points[0]) if stroke.closed else stroke.points
            return shapely.LineString(points)
        case Line():
            return shapely.LineString((stroke.start, stroke.end))
        case Circle():
            return shapely.LineString(arc(stroke.centre, stroke.radius, 0.0, math.tau))
        case Text() | Area() | Dimension():
            raise TypeError("lettering, areas and dimensions are not lines")
