"""Pictures of the controls: their runs on the frame from the left and from above, and how they are geared.

Runs are drawn in neutral to one scale in both views: rods thick, cables thin over their pulleys, levers by their arms,
the frame's tubes faint. Both views show what is on the right; the left is its mirror. The gearing chart is the
surface's angle over the way of the hand, from stop to stop.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

import numpy as np
import shapely

from sparwright.base.problem import DesignProblem
from sparwright.charts.chart import Axis, Chart, Curve
from sparwright.charts.label import Name, place
from sparwright.charts.page import CHARTING, STYLES, Heading, Picture, page, words
from sparwright.charts.panels import charted
from sparwright.charts.units import UNITS, Unit
from sparwright.controls.chain import NO_CONTROLS, moving
from sparwright.controls.motion import Motion
from sparwright.family.controls import Controls, Rod
from sparwright.family.model import Model
from sparwright.parts.control_runs import Layout, Link
from sparwright.parts.control_trim import lever_of
from sparwright.plans.drawing import Box, Polyline, Stroke, Weight
from sparwright.shape.cable import Wheel
from sparwright.shape.frame import nodes, runs

WIDTH = 260.0  # mm
Drawn = tuple[np.ndarray, Weight, bool, str]  # (n, 3) m, its weight, whether dashed, its name
Map = Callable[[np.ndarray], np.ndarray]  # (n, 3) m to (n, 2) mm on the page
LEAST = 0.5  # mm of a line that is drawn
BETWEEN = 8.0  # mm from one view to the other
VIEWS = (("from the left", (0, 2)), ("from above, nose to the left, the right side upwards", (0, 1)))
OVER = 0.3  # m past the centreline that is drawn from above
STATE = (
    "In neutral, to one scale. Thick: push-pull tubes and the stick; thin: cables over their pulleys; dashed: arms to "
    "their pivots; faint: the frame. The left is the mirror of the right."
)


def control_pictures(model: Model, origin: str, units: str = "inch") -> dict[str, Picture]:
    """The two pictures by short name; where there are no controls, one that says so.

    units: of the hand's way, "inch", or "millimetre" or "si" for centimetres.
    """
    heading = Heading(f"{model.name}: the controls on the frame", STATE, origin)
    if model.controls is None:
        text = words(f"Unknown: {NO_CONTROLS}", (CHARTING.margin, -6.0))
        return {"controls": page(heading, WIDTH, [text], -10.0, 0.0, f"The controls: unknown, {NO_CONTROLS}.")}
    layout, found = moving(model, model.controls)
    return {"controls": _runs(heading, model, model.controls, layout), "gearing": _gearing(model, found, origin, units)}


def _lines(model: Model, controls: Controls, layout: Layout) -> Iterator[Drawn]:
    """Everything that is drawn as a line."""
    for link in layout.links:
        named = "" if link.hand == "L" else link.name.replace("_", " ")
        rod = isinstance(link.made, Rod)
        title = f"{named}, {'rod' if rod else 'cable'}" if named else ""
        yield link.way(link.ends).line, "thick" if rod else "thin", False, title
        for hole in link.holes:
            lever = layout.levers[hole.lever]
            out = hole.place - lever.pivot
            yield np.array([lever.pivot + (out @ lever.axis) * lever.axis, hole.place]), "thin", True, ""
    if model.seat and model.seat.stick:
        yield np.array([controls.stick.pivot, model.seat.stick.place]), "thick", False, "stick"
    if controls.trim:
        _, axle, drawn, held = lever_of(controls, controls.trim)
        yield np.array([controls.trim.hook, drawn]), "thin", False, "trim, spring"
        yield np.array([axle, held]), "thick", False, "trim lever"
    tube, pivot = controls.torque_tube, controls.stick.pivot
    yield np.array([(tube.front, pivot[1], pivot[2]), (tube.aft, pivot[1], pivot[2])]), "thick", False, "torque tube"
    for side in (1.0, -1.0):
        if model.seat and model.seat.pedals:
            over = np.array([1.0, side, 1.0])
            ends = np.array([controls.pedals.pivot, model.seat.pedals.place]) * over
            yield ends, "thick", False, "pedal" if side > 0 else ""


def _runs(heading: Heading, model: Model, controls: Controls, layout: Layout) -> Picture:
    lines = list(_lines(model, controls, layout))
    frame = [np.array([nodes(model.fuselage)[n] for n in r.nodes]) for r in runs(model.fuselage)]
    every = np.vstack([points for points, *_ in lines])
    low, high = every.min(axis=0), every.max(axis=0)
    half = float(np.abs(every[:, 1]).max())
    scale = (WIDTH - 2 * CHARTING.margin) / float(high[0] - low[0])
    strokes: list[Stroke] = []
    top, told = 0.0, []
    for name, (i, j) in VIEWS:
        ends = (float(low[2]) - 0.05, float(high[2]) + 0.05) if j == 2 else (-OVER, half + 0.05)
        tall = scale * (ends[1] - ends[0])
        origin = (CHARTING.margin - scale * float(low[0]), top - tall - scale * ends[0])

        def at(points: np.ndarray, o: tuple[float, float] = origin, a: int = i, b: int = j) -> np.ndarray:
            return np.column_stack([o[0] + scale * points[:, a], o[1] + scale * points[:, b]])

        window = shapely.box(CHARTING.margin, top - tall, WIDTH - CHARTING.margin, top)
        strokes += _faint([at(points) for points in frame], window)
        drawn, names = _view(lines, layout, at, j, window)
        strokes += drawn
        room = Box(CHARTING.margin, top - tall, WIDTH - CHARTING.margin, top)
        walls = [shapely.LineString(s.points) for s in drawn if isinstance(s, Polyline) and len(s.points) > 1]
        placed, left = place(names, room, walls)
        strokes += [s for p in placed for s in (p.text, p.leader, p.dot) if s is not None]
        told += [n.text for n in left]
        strokes.append(words(name, (CHARTING.margin, top - tall - 4.0)))
        top -= tall + 4.0 + BETWEEN
    if told:
        strokes.append(words(f"not named for want of room: {', '.join(told)}", (CHARTING.margin, top)))
        top -= 5.0
    said = f"The controls from two sides: {', '.join(n for *_, n in lines if n)}."
    return page(heading, WIDTH, strokes, top, 0.0, said)


def _faint(lines: list[np.ndarray], window: shapely.Polygon) -> Iterator[Stroke]:
    """The frame's tubes, as far as they lie in the view."""
    for points in lines:
        for part in shapely.get_parts(shapely.LineString(points).intersection(window)):
            if part.length > 0:
                yield Polyline(tuple((float(x), float(y)) for x, y in part.coords), "grid")


def _view(
    lines: Sequence[Drawn], layout: Layout, at: Map, j: int, window: shapely.Polygon
) -> tuple[list[Stroke], list[Name]]:
    """(strokes, names) of one view, of what is right or in the middle."""
    strokes: list[Stroke] = []
    names: list[Name] = []
    for points, weight, dashed, name in lines:
        flat = at(points)
        if (j == 2 and points[:, 1].max() < -1e-3) or np.ptp(flat, axis=0).max() < LEAST:
            continue
        seen = shapely.LineString(flat).intersection(window)
        for part in shapely.get_parts(seen):
            if part.length > 0:
                corners = tuple((float(x), float(y)) for x, y in part.coords)
                strokes.append(Polyline(corners, "line", weight=weight, dash="dash" if dashed else "solid"))
        if name and seen.length > 0:
            names.append(Name(name, seen))
    for link in layout.links:
        strokes += _pulleys(link, at, j)
    return strokes, names


def _pulleys(link: Link, at: Map, j: int) -> Iterator[Stroke]:
    """Pulleys as they are seen: a ring of points round each wheel."""
    for thing in link.over:
        if not isinstance(thing, Wheel) or thing.centre[1] < (0.0 if j == 2 else -OVER):
            continue
        first = np.cross(thing.normal, (0.0, 0.0, 1.0))
        first = first / np.linalg.norm(first)
        turn = np.linspace(0.0, 2 * math.pi, 33)[:, None]
        ring = thing.centre + thing.radius * (np.cos(turn) * first + np.sin(turn) * np.cross(thing.normal, first))
        yield Polyline(tuple((float(x), float(y)) for x, y in at(ring)), "line", weight="thin")


# ------------------------------------------------------------------ gearing


def _gearing(model: Model, found: tuple[Motion, ...], origin: str, units: str) -> Picture:
    heading = Heading(f"{model.name}: how the controls are geared", "from stop to stop, without friction", origin)
    charts = [_chart(model, m, UNITS["inch"].length if units == "inch" else Unit("cm", 100.0)) for m in found]
    geared = ((m.name.replace("_", " "), m.gearing[m.neutral]) for m in found)
    told = " ".join(f"{name}: {g:.2f} rad for a metre of the hand in neutral." for name, g in geared)
    return charted(heading, charts, min(len(charts), 2), told)


def _chart(model: Model, motion: Motion, unit: Unit) -> Chart:
    """The surface's angle over the hand's way; the way is the lever's angle times the arm."""
    way = np.array([s.angles[motion.lever] * motion.arm * unit.factor for s in motion.stances])
    angle = np.array([math.degrees(s.angles[motion.surface]) for s in motion.stances])
    order = np.argsort(way)
    first = motion.ends[0]
    x = Axis(f"Way of the hand ({'stick' if motion.lever != 'pedal-R' else 'right pedal'})", unit.name)
    ends = ", ".join(f"{e.word} {math.degrees(e.travel):.0f}" for e in motion.ends)
    title = f"{motion.name.replace('_', ' ').capitalize()}, {ends} deg"
    if not len(way):
        raise DesignProblem(f"{model.name}: the {motion.name} does not move")
    return Chart(
        title, x, Axis(f"{first.word} positive", "deg"), (Curve("", way[order], angle[order], dash=STYLES[0]),)
    )
