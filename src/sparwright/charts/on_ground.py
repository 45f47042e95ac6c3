"""Picture of the aeroplane on the ground: from the left and from ahead, level and on three wheels, with clearances.

Everything to one scale, wheels as they stand at rest at the greatest mass. From the side: the propeller's and the
lowest wing's clearance, and from the main wheel's contact the lines to the foremost and aftmost centre of gravity
against the vertical. From ahead: the same clearances, the ground as it lies under a flat tyre, the line to what touches
first when it is tilted, and the centre of gravity between its wheels. Figures are those of the results `ground.*`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sparwright.base.quantity import inches, millimetres
from sparwright.base.record import number
from sparwright.charts.label import Name, place
from sparwright.charts.page import CHARTING, Heading, Picture, page, words
from sparwright.charts.ticks import figure
from sparwright.charts.units import UNITS, Units
from sparwright.family.model import Model, spoken
from sparwright.flight.fly import Flight
from sparwright.ground.clearance import clouds
from sparwright.ground.pose import Feet, Pose, contact, tilted_down, tilted_level
from sparwright.ground.work import OnGround, work_out
from sparwright.mass.record import Balance
from sparwright.plans.drawing import Box, Circle, Dash, Line, Point, Polyline, Stroke, Weight
from sparwright.plans.lettering import box, wrapped
from sparwright.plans.outside import outside
from sparwright.plans.views import FRONT, SIDE, Thing, View, seen

WIDTH = 230.0  # mm
LONGEST = 150.0  # mm of aeroplane seen from the side
HEAD, UNDER, BESIDE = 6.0, 9.0, 24.0  # mm above a view, below its ground, before its nose
TICK = 0.8  # mm, half a tick of a dimension
CROSS = 1.2  # mm, half a mark of a centre of gravity
VIEWS = (
    (SIDE, "level", "From the left, thrust line level"),
    (SIDE, "tail_down", "From the left, on three wheels"),
    (FRONT, "level", "From ahead, thrust line level"),
    (FRONT, "tail_down", "From ahead, on three wheels"),
)
Map = Callable[[np.ndarray], np.ndarray]  # (3, n) over the ground to (2, n) on the page


@dataclass(frozen=True)
class Panel:
    """One view: strokes with their names, and the lines that names keep clear of."""

    strokes: list[Stroke] = field(default_factory=list)
    names: list[Name] = field(default_factory=list)
    walls: list[BaseGeometry] = field(default_factory=list)


@dataclass(frozen=True)
class Ground:
    """What one view is drawn from."""

    on: OnGround
    feet: Feet
    pose: Pose
    which: str
    things: tuple[Thing, ...]
    units: Units
    room: Box
    scale: float = number("mm/m", "of the picture", 1.0)

    def over(self, points: np.ndarray) -> np.ndarray:
        """Points (3, n) of the aeroplane's axes as they lie over the ground: aft along it, right, up."""
        return over_ground(self.pose, points)


def over_ground(pose: Pose, points: np.ndarray) -> np.ndarray:
    """(3, n) aft along the ground, right, height; for a pose without bank."""
    aft = np.array([math.cos(pose.attitude), 0.0, math.sin(pose.attitude)])
    return np.array([aft @ points, points[1], pose.height(points)])


STATE = (
    "Wheels under weight at the greatest mass. Circles with a cross: foremost and aftmost centre of gravity; angles to "
    "the ends of their bands. Clearances with ailerons down."
)


def pictures(balance: Balance, flight: Flight, origin: str, units: str = "inch") -> dict[str, Picture]:
    """The picture of a flown model by its short name; origin for its foot, units "inch", "millimetre" or "si"."""
    model = flight.flown.model
    heading = Heading(f"{model.name}: on the ground", STATE, origin)
    return {"on-the-ground": ground_picture(heading, work_out(model, balance), UNITS[units])}


def ground_picture(heading: Heading, on: OnGround, units: Units) -> Picture:
    """The picture; it says what the file does not say where nothing is known."""
    if on.stood.rest is None:
        text = words(f"Unknown: {on.why}", (CHARTING.margin, -6.0))
        return page(heading, WIDTH, [text], -10.0, 0.0, f"On the ground: unknown, {on.why}.")
    rest = on.stood.rest
    things = outside(_at_rest(on.model, rest))
    scale = _scale(things)
    strokes: list[Stroke] = []
    y = 0.0
    for view, which, head in VIEWS:
        drawn, y = _view(on, rest, things, view, which, head, units, scale, y)
        strokes += drawn
    return page(heading, WIDTH, strokes, y, 0.0, "On the ground. " + " ".join(told(on, units)))


def _at_rest(model: Model, rest: Feet) -> Model:
    """The model with wheels, and the legs' ends at their axles, as they stand at rest."""
    wheels = tuple({rest.right.name: rest.right, rest.tail.name: rest.tail}.get(w.name, w) for w in model.wheels)
    rise = {w.name: w.place[2] for w in wheels}
    hanging = next(w for w in model.wheels if w.name == rest.right.name)
    lowest = min(b.bottom for b in model.fuselage.body)
    up = rise[hanging.name] - hanging.place[2]
    nodes = {n: (x, y, z + (up if z < lowest else 0.0)) for n, (x, y, z) in model.fuselage.nodes.items()}
    return replace(model, wheels=wheels, fuselage=replace(model.fuselage, nodes=nodes))


def _scale(things: tuple[Thing, ...]) -> float:
    """mm to the metre: the span fills the page, the length LONGEST at most."""
    every = np.hstack([p for t in things for p in (*t.faces, *t.lines)])
    long, wide = np.ptp(every[0]), np.ptp(every[1])
    return float(min((WIDTH - 2 * CHARTING.margin - 4.0) / wide, LONGEST / long))


def _view(on: OnGround, feet: Feet, things: tuple[Thing, ...], view: View, which: str, head: str, units: Units,
          scale: float, top: float) -> tuple[list[Stroke], float]:  # fmt: skip
    """(strokes, y below) of one view."""
    pose = on.poses[which]
    turned = tuple(_turned(t, pose) for t in things)
    flat = np.hstack([view.across(p) for t in turned for p in (*t.faces, *t.lines)])
    ground = top - HEAD - scale * float(flat[1].max())
    left = CHARTING.margin + BESIDE if view is SIDE else WIDTH / 2 + scale * float(flat[0].min())
    to_page: Map = partial(_to_page, view, scale, (left - scale * float(flat[0].min()), ground))
    room = Box(CHARTING.margin, ground - UNDER + 1.0, WIDTH - CHARTING.margin, top - HEAD + 4.0)
    g = Ground(on, feet, pose, which, turned, units, room, scale)
    panel = Panel()
    _outlines(panel, g, view, to_page)
    (_side if view is SIDE else _front)(panel, g, to_page)
    _line(panel, ((room.left, ground), (room.right, ground)), weight="thick")
    title = words(head, (CHARTING.margin, top - 3.0), bold=True)
    placed, unplaced = place(panel.names, room, [*panel.walls, shapely.Polygon(box(title))])
    lettered: list[Stroke] = [s for p in placed for s in (p.text, p.leader, p.dot) if s is not None]
    low = ground - UNDER
    for n in unplaced:
        for said in wrapped(n.text, CHARTING.small, room.width):
            lettered.append(words(said, (CHARTING.margin, low)))
            low -= CHARTING.pitch * CHARTING.small
    return [title, *panel.strokes, *lettered], low


def _turned(thing: Thing, pose: Pose) -> Thing:
    faces, lines = (tuple(over_ground(pose, p) for p in ps) for ps in (thing.faces, thing.lines))
    return replace(thing, faces=faces, lines=lines)


def _to_page(view: View, scale: float, origin: Point, points: np.ndarray) -> np.ndarray:
    return np.asarray(scale * view.across(points) + np.array(origin)[:, None])


def _outlines(panel: Panel, g: Ground, view: View, to_page: Map) -> None:
    """What is seen of the aeroplane."""
    origin = to_page(np.zeros((3, 1)))
    for stretch in seen(g.things, view):
        at = g.scale * stretch.points + origin
        panel.strokes.append(Polyline(_points(at), "frame", dash="dash" if stretch.dashed else "solid"))
        panel.walls.append(shapely.LineString(at.T))


def _points(at: np.ndarray) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in at.T)


def _line(panel: Panel, ends: Sequence[Point], name: str = "", weight: Weight = "thin", dash: Dash = "solid",
          layer: str = "line") -> None:  # fmt: skip
    """A line, with a name where it has one."""
    a, b = ends
    panel.strokes.append(Line(a, b, layer, weight, dash))
    of = shapely.LineString((a, b))
    if name:
        panel.names.append(Name(name, of))
    else:
        panel.walls.append(of)


def _upright(panel: Panel, x: float, low: float, high: float, name: str) -> None:
    """A dimension straight up between two heights, ticks at its ends."""
    _line(panel, ((x, low), (x, high)), name, "thick")
    for y in (low, high):
        tick = Line((x - TICK, y - TICK), (x + TICK, y + TICK), "line")
        panel.strokes.append(tick)
        panel.walls.append(shapely.LineString((tick.start, tick.end)))


def _side(panel: Panel, g: Ground, to_page: Map) -> None:
    """Propeller, lowest wing, and the main wheel ahead of the centre of gravity."""
    hub = np.array(g.on.model.propeller.place)[:, None]
    tip = hub - np.array([[0.0], [0.0], [g.on.model.propeller.diameter / 2]])
    foot = contact(g.feet.right, g.pose.up)[:, None]
    (x, y), (_, ground) = to_page(g.over(tip))[:, 0], to_page(g.over(foot))[:, 0]
    _upright(panel, float(x), float(ground), float(y), f"propeller {_size(g, 'propeller')}")
    wing = _lowest_wing(g.on.model)
    cloud = g.over(clouds(g.on.model)[wing])
    x, y = to_page(cloud[:, [int(np.argmin(cloud[2]))]])[:, 0]
    _upright(panel, float(x), float(ground), float(y), f"{spoken(wing)} {_size(g, wing)}")
    _balance(panel, g, to_page, foot)
    if g.which == "tail_down":
        ahead = hub + np.array([[-0.15], [0.0], [0.0]])
        aft = hub + np.array([[g.feet.tail.place[0] - float(hub[0, 0]) + 0.3], [0.0], [0.0]])
        ends = _points(np.hstack([to_page(g.over(p)) for p in (ahead, aft)]))
        _line(panel, ends, f"thrust line {_degrees(g.pose.attitude)} up", dash="chain", layer="leader")


def _balance(panel: Panel, g: Ground, to_page: Map, foot: np.ndarray) -> None:
    """Marks of the foremost and aftmost centre of gravity, and the lines to them from the contact."""
    ends, angles = [], []
    for name in ("foremost", "aftmost"):
        s = g.on.corners[name]
        band = s.band(lambda x: x.ahead, g.which == "level")
        angles.append(band.low if name == "foremost" else band.high)
        cg = np.array([[s.loading.station], [float(foot[1, 0])], [s.loading.waterline]])
        ends.append(_points(to_page(g.over(cg)))[0])
    at = _points(to_page(g.over(foot)))[0]
    for i, end in enumerate(ends):
        word = f"{_degrees(angles[0])} to {_degrees(angles[1])} ahead of the centre of gravity" if i else ""
        _line(panel, (at, end), word)
        panel.strokes.extend([Circle(end, CROSS, "point"), *_plus(end)])
        panel.walls.append(shapely.Point(end).buffer(CROSS))
    high = max(y for _, y in ends)
    _line(panel, (at, (at[0], high)), dash="chain", layer="leader")


def _plus(at: Point) -> Iterator[Line]:
    x, y = at
    yield Line((x - CROSS, y), (x + CROSS, y), "point")
    yield Line((x, y - CROSS), (x, y + CROSS), "point")


def _front(panel: Panel, g: Ground, to_page: Map) -> None:
    """Propeller, wings, the tilt at which something touches, and the ground under a flat tyre or the balance."""
    shapes = clouds(g.on.model)
    ground = float(to_page(np.zeros((3, 1)))[1, 0])
    hub = np.array(g.on.model.propeller.place)[:, None]
    tip = hub - np.array([[0.0], [0.0], [g.on.model.propeller.diameter / 2]])
    x, y = to_page(g.over(tip))[:, 0]
    _upright(panel, float(x), ground, float(y), f"propeller {_size(g, 'propeller')}")
    wing = _lowest_wing(g.on.model)
    cloud = g.over(shapes[wing]) * np.array([[1.0], [-1.0], [1.0]])
    x, y = to_page(cloud[:, [int(np.argmin(cloud[2]))]])[:, 0]
    _upright(panel, float(x), ground, float(y), f"{spoken(wing)} {_size(g, wing)}")
    _tilt(panel, g, to_page, shapes)
    _flat(panel, g, to_page) if g.which == "level" else _beside(panel, g, to_page)


def _tilt(panel: Panel, g: Ground, to_page: Map, shapes: dict[str, np.ndarray]) -> None:
    """The ground as it lies when what touches first touches, on the right of the aeroplane."""
    t = g.on.touches[g.which]
    if not math.isfinite(t.bank):
        return
    tilted = (tilted_level if g.which == "level" else tilted_down)(g.feet, t.bank)
    foot = contact(g.feet.right, tilted.up)[:, None]
    if t.what == "propeller":
        return
    cloud = shapes[t.what]
    touch = cloud[:, [int(np.argmin(tilted.height(cloud)))]]
    ends = _points(np.hstack([to_page(g.over(p)) for p in (foot, touch)]))
    _line(panel, ends, f"tilted {_degrees(t.bank)} the {spoken(t.what)} touches", dash="dash", layer="leader")


def _flat(panel: Panel, g: Ground, to_page: Map) -> None:
    """The ground as it lies under a flat right tyre, its leg at its stop."""
    flat = g.on.poses.get("flat")
    if flat is None:
        return
    up, reach = flat.up, 2.2 * g.feet.right.place[1]
    line = np.array([[0.0, 0.0], [reach, -reach], [(flat.ground - up[1] * y) / up[2] for y in (reach, -reach)]])
    wing = _lowest_wing(g.on.model)
    sizes = (_length(g.on.height("flat", n).value, g.units) for n in ("propeller", wing))
    name = "ground on a flat tyre: propeller {}, {} {}".format(*_between(sizes, spoken(wing)))
    _line(panel, _points(to_page(g.over(line))), name, dash="pairs")


def _between(sizes: Iterator[str], word: str) -> tuple[str, str, str]:
    first, second = sizes
    return first, word, second


def _beside(panel: Panel, g: Ground, to_page: Map) -> None:
    """The centre of gravity that stands highest between the wheels."""
    s = min((g.on.corners[c] for c in g.on.corners), key=lambda s: s.down[0].beside)
    foot = contact(g.feet.right, g.pose.up)[:, None]
    cg = np.array([[s.loading.station], [0.0], [s.loading.waterline]])
    a, b = (_points(to_page(g.over(p)))[0] for p in (foot, cg))
    least = min(x.band(lambda v: v.beside).low for x in g.on.corners.values())
    most = max(x.band(lambda v: v.turn_over).high for x in g.on.corners.values())
    _line(panel, (a, b), f"wheels {_degrees(least)} beside the centre of gravity; turn-over angle {_degrees(most)}")
    panel.strokes.extend([Circle(b, CROSS, "point"), *_plus(b)])
    panel.walls.append(shapely.Point(b).buffer(CROSS))


def _lowest_wing(model: Model) -> str:
    return min(model.wings, key=lambda w: w.leading_edge[2]).name


def _size(g: Ground, what: str) -> str:
    return _length(g.on.height(g.which, what).value, g.units)


def _length(metres: float, units: Units) -> str:
    """A length as a builder reads it: inches and fractions of eighths down, or millimetres."""
    if units.length.name == "in":
        return inches(math.floor(metres * units.length.factor * 8 + 1e-6) / 8 / units.length.factor)
    return millimetres(math.floor(metres * 1000 + 1e-6) / 1000)


def _degrees(rad: float) -> str:
    return f"{figure(math.degrees(rad), 1)}°"


def told(on: OnGround, units: Units) -> Iterator[str]:
    """What the picture shows, in words."""
    wing = _lowest_wing(on.model)
    for which, words_ in (("level", "level"), ("tail_down", "on three wheels"), ("flat", "on a flat tyre")):
        if which in on.poses:
            p, w = (_length(on.height(which, n).value, units) for n in ("propeller", wing))
            yield f"{words_.capitalize()}: propeller {p}, {spoken(wing)} {w} above the ground."
    yield f"On three wheels the thrust line points {_degrees(on.poses['tail_down'].attitude)} up."
    for which, words_ in (("level", "level"), ("tail_down", "tail down")):
        t = on.touches[which]
        if math.isfinite(t.bank):
            yield f"Tilted over one wheel by {_degrees(t.bank)}, {words_}, the {spoken(t.what)} touches first."
