"""Picture of who sits in the cockpit: the smallest woman and the largest man from the left, on one seat.

To one scale, in the aeroplane's own axes: each with the cushions and pedals chosen, right foot at full pedal, left foot
at the other end, hand on the stick in its middle. Lines of sight run over the nose, straps to their anchors, dotted
the way of the head thrown forward in its straps. Figures are those of the results `occupant.*`. Links, head and leg
outlines are what is measured; trunk and arms are filled out to be seen.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sparwright.base.quantity import inches, millimetres
from sparwright.base.record import number
from sparwright.base.source import Band
from sparwright.charts.label import Name, place
from sparwright.charts.page import CHARTING, Heading, Picture, page, words
from sparwright.charts.ticks import figure
from sparwright.charts.units import UNITS, Units
from sparwright.data.occupant import bodies, rule
from sparwright.family.model import Model, spoken
from sparwright.family.occupant import Seat
from sparwright.occupant.cockpit import edge, nose, tops, wings_over
from sparwright.occupant.fit import Fit, fits, head_way, hip_crease, outline, over_shoulder
from sparwright.occupant.sit import Leg, Point
from sparwright.occupant.told import NO_SEAT, PEOPLE
from sparwright.parts.flat_sheets import laid_sheets
from sparwright.parts.frame import frame_tubes
from sparwright.parts.seat import seat_tunnel_line
from sparwright.plans.drawing import Box as Room
from sparwright.plans.drawing import Circle, Dash, Polyline, Stroke, Weight
from sparwright.plans.lettering import wrapped
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.tube import Tube

WIDTH = 230.0  # mm
BEFORE, BEHIND = 0.75, 0.45  # m of aeroplane ahead of the pedals and behind the shoulder strap's first half metre
OVER, BELOW = 0.12, 0.10  # m above the highest and below the lowest drawn
NECK, CHEST, WRIST = 0.055, 0.115, 0.035  # m, half the thickness of what is filled out
STATE = (
    "Seen from the left in the aeroplane's own axes. Largest man: solid; smallest woman: dashed; each with the "
    "cushions and pedals chosen. Chained: lines of sight over the nose. Dotted: way of the head thrown forward in its "
    "straps."
)
DASHES: dict[str, Dash] = {"female_5": "dash", "male_95": "solid"}


@dataclass(frozen=True)
class Panel:
    """What is drawn: strokes with their names, and what names keep clear of."""

    scale: float = number("mm/m", "of the picture", 1.0)
    origin: Point = (0.0, 0.0)
    window: BaseGeometry = field(default_factory=shapely.Polygon)  # m
    strokes: list[Stroke] = field(default_factory=list)
    names: list[Name] = field(default_factory=list)
    walls: list[BaseGeometry] = field(default_factory=list)

    def at(self, points: np.ndarray) -> np.ndarray:
        """(n, 2) station and waterline to mm on the page."""
        return np.asarray(self.scale * (points - np.array(self.origin)))

    def draw(self, shape: BaseGeometry, layer: str = "line", weight: Weight = "thin", dash: Dash = "solid",
             name: str = "") -> None:  # fmt: skip
        """The lines of a shape, m, as far as they lie in the window; named where they have a name."""
        lines = shape.boundary if shape.geom_type.endswith("Polygon") else shape
        inside = shapely.transform(lines.intersection(self.window), self.at)
        for part in shapely.get_parts(inside):
            if part.length > 0:
                points = tuple((float(x), float(y)) for x, y in part.coords)
                self.strokes.append(Polyline(points, layer, weight=weight, dash=dash))
        if name and not inside.is_empty:
            self.names.append(Name(name, inside))
        elif not inside.is_empty:
            self.walls.append(inside)

    def dot(self, at: Point, radius: float = 0.7) -> None:
        """A small circle, mm."""
        x, y = self.at(np.array([at]))[0]
        self.strokes.append(Circle((float(x), float(y)), radius, "point"))
        self.walls.append(shapely.Point(x, y).buffer(radius))


def cockpit_pictures(model: Model, origin: str, units: str = "inch") -> dict[str, Picture]:
    """The picture of a model by its short name; origin for its foot, units "inch", "millimetre" or "si"."""
    heading = Heading(f"{model.name}: who sits in it", STATE, origin)
    if model.seat is None:
        text = words(f"Unknown: {NO_SEAT}", (CHARTING.margin, -6.0))
        return {"cockpit": page(heading, WIDTH, [text], -10.0, 0.0, f"Who sits in it: unknown, {NO_SEAT}.")}
    return {"cockpit": cockpit_picture(heading, model, model.seat, UNITS[units])}


def cockpit_picture(heading: Heading, model: Model, seat: Seat, units: Units) -> Picture:
    """The picture of a model that has a seat."""
    found = {key: f for key, f in fits(model).items() if key in PEOPLE}
    panel = _panel(model, seat, found)
    _aeroplane(panel, model)
    _seat(panel, model, seat)
    _controls(panel, seat)
    for key, f in found.items():
        _person(panel, seat, f, DASHES[key])
    _sights(panel, model, found)
    low = float(panel.at(np.array(panel.window.bounds).reshape(2, 2))[0, 1])
    room = Room(CHARTING.margin, low, WIDTH - CHARTING.margin, -1.0)
    placed, unplaced = place(panel.names, room, panel.walls)
    lettered: list[Stroke] = [s for p in placed for s in (p.text, p.leader, p.dot) if s is not None]
    low -= 4.0
    for text in (*(n.text for n in unplaced), *told(found, units)):
        for line in wrapped(text, CHARTING.small, WIDTH - 2 * CHARTING.margin):
            lettered.append(words(line, (CHARTING.margin, low)))
            low -= CHARTING.pitch * CHARTING.small
    return page(
        heading, WIDTH, [*panel.strokes, *lettered], low, 0.0, "In the cockpit. " + " ".join(told(found, units))
    )


def _panel(model: Model, seat: Seat, found: dict[str, Fit]) -> Panel:
    """The window, m, and where it lies on the page."""
    ahead = seat.pedals.place[0] if seat.pedals else seat.place[0] - 1.2
    left = min(ahead - BEFORE, model.fuselage.body[0].station + BEFORE)
    right = max(seat.place[0] + 0.5, *(f.sitting.top[0] + BEHIND for f in found.values()))
    body = [b for b in model.fuselage.body if left <= b.station <= right] or list(model.fuselage.body)
    high = max(w.bounds[3] for w in wings_over(model).values()) if wings_over(model) else -math.inf
    high = max(high, *(f.sitting.top[1] + 0.15 for f in found.values())) + OVER
    low = min(b.bottom for b in body) - BELOW
    scale = (WIDTH - 2 * CHARTING.margin) / (right - left)
    return Panel(scale, (left - CHARTING.margin / scale, high), shapely.box(left, low, right, high))


def _aeroplane(panel: Panel, model: Model) -> None:
    """Body, frame, wings and the edge of the opening."""
    body = sorted(model.fuselage.body, key=lambda b: b.station)
    panel.draw(shapely.LineString(tops(model.fuselage.body).T), "frame")
    panel.draw(shapely.LineString([(b.station, b.bottom) for b in body]), "frame")
    for name, wing in wings_over(model).items():
        panel.draw(wing, "frame", name=spoken(name))
    seat = model.seat
    if seat and seat.coaming:
        panel.draw(edge(seat.coaming), "frame", "thick", name="edge of the opening" + _door(seat))


def _door(seat: Seat) -> str:
    return ", flap down" if seat.coaming and seat.coaming.door else ""


def _seat(panel: Panel, model: Model, seat: Seat) -> None:
    """The seat's sheets, tubes and tunnel in the middle plane as they are drawn, or the planes that are sat on."""
    if seat.shell:
        tubes = frame_tubes(model)
        laid = laid_sheets(model, tubes)
        sat_on = [one for one in laid if one.sheet.name in (seat.shell.pan, seat.shell.back)]
        for one in sat_on:
            u = one.outline[:, 1]
            ends = [one.pose.place(0.0, float(v))[::2] for v in (u.min(), u.max())]
            named = "seat" if one.sheet.name == seat.shell.back else ""
            panel.draw(shapely.LineString(ends), "frame", "thick", name=named)
        for tube in (t for t in tubes if any(t.number in one.tubes for one in sat_on)):
            if isinstance(tube.shape, Tube) and abs(tube.places[0][1]) < ON_CENTRE:
                panel.draw(shapely.Point(tube.places[0][::2]).buffer(tube.shape.outside / 2), "frame")
        tunnel = seat_tunnel_line(model, laid)
        if tunnel is not None:
            panel.draw(shapely.LineString(tunnel), "frame")
        return
    x, _, z = seat.place
    back = np.array([math.sin(seat.back), math.cos(seat.back)])
    pan = np.array([-math.cos(seat.pan), math.sin(seat.pan)])
    at = np.array([x, z])
    line = shapely.LineString([at + 0.42 * pan, at, at + 0.55 * back])
    panel.draw(line, "frame", "thick", name="seat, pressed in")


def _controls(panel: Panel, seat: Seat) -> None:
    """Panel, stick and pedals."""
    if seat.panel:
        p = seat.panel
        panel.draw(shapely.LineString([(p.station, p.lower), (p.station, p.upper)]), "frame", "thick", name="panel")
    if seat.stick:
        x, _, z = seat.stick.place
        foot = (x, seat.place[2] - 0.05)
        for shift in (-seat.stick.forward, 0.0, seat.stick.aft):
            panel.draw(shapely.LineString([foot, (x + shift, z)]), "frame", "thin" if shift else "thick")


def _person(panel: Panel, seat: Seat, f: Fit, dash: Dash) -> None:
    """Somebody's outline, joints, straps and the way of the head."""
    s, who = f.sitting, f.who
    round_ = who.head + (rule("helmet").value if seat.helmet else 0.0)
    pieces: list[BaseGeometry] = [shapely.Point(s.head).buffer(round_), _trunk(f)]
    for leg in (f.reached, f.folded):
        if leg is not None and math.isfinite(leg.angle):
            panel.draw(shapely.union_all([outline(who, s.hip, leg), _foot(leg)]), "line", dash=dash)
            panel.dot(leg.knee)
    if seat.stick:
        pieces.append(_arm(f, (seat.stick.place[0], seat.stick.place[2])))
    panel.draw(shapely.union_all(pieces), "line", dash=dash, name=_title(f))
    for joint in (s.hip, s.shoulder, s.eye):
        panel.dot(joint)
    if seat.harness:
        lap = seat.harness.lap
        panel.draw(shapely.LineString([hip_crease(s.hip), (lap[0], lap[2])]), "leader", "thick")
        if seat.harness.shoulder:
            h = seat.harness.shoulder
            name = "shoulder straps" if f.who.key == PEOPLE[-1] else ""
            panel.draw(shapely.LineString([over_shoulder(s), (h[0], h[2])]), "leader", "thick", name=name)
        panel.draw(shapely.LineString(head_way(seat.harness, s)), "line", dash="dots")


def _trunk(f: Fit) -> BaseGeometry:
    """Trunk and neck filled out round hip, chest and neck."""
    s = f.sitting
    t = np.array([math.sin(s.lean), math.cos(s.lean)])
    ahead = np.array([-t[1], t[0]])
    seat, size = np.array(s.seat), f.who.shoulder_up
    hip = shapely.Point(s.hip).buffer(min(f.who.hip_ahead, f.who.hip_up) * 0.98)
    chest = shapely.Point(seat + 0.78 * size * t + CHEST * ahead).buffer(CHEST * 0.98)
    neck = shapely.Point(np.array(s.neck) + 0.06 * ahead).buffer(NECK)
    head = shapely.Point(s.head).buffer(NECK)
    return shapely.union_all([shapely.union_all(p).convex_hull for p in ((hip, chest), (chest, neck), (neck, head))])


def _foot(leg: Leg) -> BaseGeometry:
    """Heel, ball and ankle, and the toes beyond."""
    heel, ball = np.array(leg.heel), np.array(leg.ball)
    toe = ball + 0.35 * (ball - heel)
    return shapely.MultiPoint([heel, toe, leg.ankle]).convex_hull.buffer(0.008)


def _arm(f: Fit, grip: Point) -> BaseGeometry:
    """Upper arm and forearm to the stick, elbow down; in the picture's plane."""
    upper = bodies()[f.who.key].shoulder_elbow - WRIST
    fore = f.who.arm - upper
    (x, z), (gx, gz) = f.sitting.shoulder, grip
    far = math.hypot(gx - x, gz - z)
    reach = min(far, (upper + fore) * 0.999)
    cosine = (upper**2 + reach**2 - fore**2) / (2 * upper * reach)
    aim = math.atan2(gz - z, -(gx - x)) - math.acos(min(max(cosine, -1.0), 1.0))
    elbow = (x - upper * math.cos(aim), z + upper * math.sin(aim))
    joints = [shapely.Point(p).buffer(r) for p, r in (((x, z), 0.05), (elbow, 0.042), (grip, WRIST))]
    return shapely.union_all([shapely.union_all(joints[i : i + 2]).convex_hull for i in (0, 1)])


def _sights(panel: Panel, model: Model, found: dict[str, Fit]) -> None:
    """From each eye over what hides most, to the window's edge."""
    for f in found.values():
        eye = f.sitting.eye
        angle, _ = nose(model, eye)
        if math.isfinite(angle):
            far = panel.window.bounds[2] - panel.window.bounds[0]
            end = (eye[0] - far, eye[1] - far * math.tan(angle))
            text = f"{_degrees(f.view)} down over the nose"
            panel.draw(shapely.LineString([eye, end]), "leader", dash="chain", name=text)


def _title(f: Fit) -> str:
    return f.who.title.replace("percentile ", "percentile, ")


def _degrees(band: Band) -> str:
    return f"{figure(math.degrees(band.value), 1)}°"


def _length(metres: float, units: Units) -> str:
    """A length as a builder reads it, rounded to the nearest eighth or millimetre."""
    if units.length.name == "in":
        return inches(round(metres * units.length.factor * 8) / 8 / units.length.factor)
    return millimetres(round(metres * 1000) / 1000)


def told(found: dict[str, Fit], units: Units) -> Iterator[str]:
    """What the picture shows, in words."""
    for f in found.values():
        parts: Sequence[tuple[str, Band]] = (
            ("eye at waterline", f.eye),
            ("to the wing", f.above),
            ("knee to panel", f.knees),
            ("arm left over at the stick", f.stick),
            ("at the throttle", f.throttle),
        )
        said = [f"{name} {_length(b.value, units)}" for name, b in parts if b.known]
        said += [f"{name} {_degrees(b)}" for name, b in (("shoulder strap", f.strap), ("lap strap", f.lap)) if b.known]
        c = f.cushions
        cushions = f"cushions {_length(c.under, units)} under, {_length(c.behind, units)} behind"
        yield f"{_title(f)}: {', '.join((*said, cushions))}."
