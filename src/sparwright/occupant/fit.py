"""Each of the six people put into the cockpit: cushions and pedals chosen, then everything measured.

How somebody makes it fit, in this order:
    1. a cushion to sit on, as thick as brings the eye to that of the largest, up to the thickest there is;
    2. a cushion behind the back until the hands reach stick and throttle with the shoulders held, up to the thickest;
    3. pedals set aft until the knee at full pedal is bent as wanted, up to their last hole;
    4. more of the cushion behind the back for what is still wanted.

Symbols: c cushion, b lean of the back, p rise of the pan; a cushion lifts the eye by c cos b/cos(b - p).

    arm's spare        arm - |shoulder to grip| in space, shoulder held by its strap
    knee clear         least distance of the leg's outline from the panel: rounds at hip, knee, ankle and their hulls
    shoulder strap     elevation of shoulder to anchor over the square to the back, (cos b, -sin b)
    lap strap          atan2(rise, run) from its anchor to the crease of the hip
    head in a crash    straps let the trunk turn forward about the hip until the shoulder has gone as far as they give;
                       then the head turns about the neck, 90 deg at most; a lap strap alone lets the trunk turn about
                       the hip, which has gone forward by what the strap gives, until it lies level

Eye, head and shoulder are given erect and slumped (data/occupant.toml); the middle is half slumped. Legs by geometry
without a band. Nobody rolls, twists or reaches past a held shoulder. Sources: data/bodies.csv, data/occupant.toml.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import numpy as np
import shapely

from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.occupant import bodies, rule
from sparwright.family.model import Model, Place
from sparwright.family.occupant import Harness, InstrumentPanel, Pedals, Seat
from sparwright.occupant.cockpit import between_tubes, nose, opening, upside_down, wings_over
from sparwright.occupant.person import Links, links
from sparwright.occupant.sit import Cushions, Leg, Point, Sitting, leg, reach_of_leg, sit

LARGEST = "male_95"
GRIP = 0.05  # m: knuckles before and behind the middle of what a hand holds
STRAP = 0.02  # m: strap over the bony point of the shoulder
LAP_AHEAD, LAP_UP = 0.05, 0.07  # m, crease of the hip before and above the joint (memory)
TURNS = np.linspace(0.0, math.pi / 2, 46)  # rad, of trunk or head in a crash


@dataclass(frozen=True)
class Fit:
    """Somebody in the cockpit; UNKNOWN where the file does not say what it is measured to."""

    who: Links
    cushions: Cushions
    sitting: Sitting
    reached: Leg | None = None  # full pedal
    folded: Leg | None = None  # the other one
    eye: Band = UNKNOWN  # m, waterline
    view: Band = UNKNOWN  # rad, down over the nose
    straight: Band = UNKNOWN  # rad, knee at full pedal
    legs: Band = UNKNOWN  # m, spare at full pedal
    knees: Band = UNKNOWN  # m, to the panel
    knees_crash: Band = UNKNOWN  # m
    heels: Band = UNKNOWN  # m, over the bottom
    stick: Band = UNKNOWN  # m, spare
    stick_back: Band = UNKNOWN  # m, before the belly
    throttle: Band = UNKNOWN  # m, spare
    above: Band = UNKNOWN  # m, to a wing
    upside_down: Band = UNKNOWN  # m
    shoulders: Band = UNKNOWN  # m, spare width
    hips: Band = UNKNOWN  # m, spare width
    strap: Band = UNKNOWN  # rad
    lap: Band = UNKNOWN  # rad
    head_held: Band = UNKNOWN  # m, to the panel, shoulders held
    head_lap: Band = UNKNOWN  # m, to the panel, lap strap alone
    head_reach: float = number("m", "farthest the head goes from the seat reference point, lap strap alone", math.nan)


def fits(model: Model) -> dict[str, Fit]:
    """Each of the six people in a model that has a seat, by key."""
    assert model.seat is not None
    eye = _eye(links(bodies()[LARGEST]), model.seat, Cushions())
    return {key: fit(model, model.seat, links(body), eye) for key, body in bodies().items()}


def fit(model: Model, seat: Seat, who: Links, eye: float) -> Fit:
    """Somebody put on the seat and measured; eye: waterline aimed at, m."""
    cushions = settle(seat, who, eye)
    slumps = (rule("slump_most").value / 2, 0.0, rule("slump_most").value)
    poses = [_sit(who, seat, cushions, s) for s in slumps]
    likely = poses[0]
    full, other = both = _legs(seat, who, cushions, likely.hip)
    give = seat.harness.give if seat.harness else math.nan
    head_lap, head_reach = _head_lap(seat, who, likely)
    strap, lap = _straps(seat.harness, poses)
    return Fit(
        who,
        cushions,
        likely,
        full,
        other,
        eye=_band([p.eye[1] for p in poses]),
        view=_band([nose(model, p.eye)[0] for p in poses]),
        straight=Band.exact(full.angle) if full else UNKNOWN,
        legs=_legs_spare(who, full),
        knees=_to_panel(seat.panel, who, likely.hip, both, 0.0),
        knees_crash=_to_panel(seat.panel if seat.harness else None, who, likely.hip, both, give),
        heels=_heels(model, both),
        stick=_stick(seat, who, poses),
        stick_back=_belly(seat, who, cushions),
        throttle=_hand(who, poses, seat.throttle.open if seat.throttle else None),
        above=_above(model, seat, who, poses),
        upside_down=_upside_down(model, seat, who, poses),
        shoulders=_shoulders(seat, who, poses),
        hips=Band.exact(between_tubes(model, *likely.hip) - who.hips),
        strap=strap,
        lap=lap,
        head_held=_head_held(seat, who, likely),
        head_lap=head_lap,
        head_reach=head_reach,
    )


def settle(seat: Seat, who: Links, eye: float) -> Cushions:
    """Cushions and setting of the pedals somebody chooses; eye: waterline aimed at, m."""
    lift = math.cos(seat.back) / math.cos(seat.back - seat.pan)
    under = min(max((eye - _eye(who, seat, Cushions())) / lift, 0.0), seat.cushion)
    arms = _first(lambda d: -_arms(seat, who, Cushions(under, d)), seat.behind)
    if seat.pedals is None:
        return Cushions(under, arms)
    stretched = rule("ankle").value
    wanted = reach_of_leg(who, rule("shoe").value, stretched, rule("knee_wanted").value)
    nearer = _first(lambda u: _far(seat, who, Cushions(under, arms, u)) - wanted, seat.pedals.adjust)
    legs = _first(lambda d: _far(seat, who, Cushions(under, arms + d, nearer)) - wanted, seat.behind - arms)
    return Cushions(under, arms + legs, nearer)


def _arms(seat: Seat, who: Links, cushions: Cushions) -> float:
    """What is left of the arm at the farther of stick and throttle, erect or slumped; nought where neither is known."""
    poses = [_sit(who, seat, cushions, slump) for slump in (0.0, rule("slump_most").value)]
    hands = (_stick(seat, who, poses), _hand(who, poses, seat.throttle.open if seat.throttle else None))
    return min((b.low for b in hands if b.known), default=0.0)


def _first(excess: Callable[[float], float], most: float) -> float:
    """The least setting that brings a falling excess to nought; the most there is where none does."""
    if most <= 0 or excess(0.0) <= 0:
        return 0.0
    if excess(most) >= 0:
        return most
    low, high = 0.0, most
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if excess(middle) > 0 else (low, middle)
    return high


def _far(seat: Seat, who: Links, cushions: Cushions) -> float:
    assert seat.pedals is not None
    return math.dist(_sit(who, seat, cushions).hip, _pedal(seat.pedals, cushions, 1.0))


def _pedal(pedals: Pedals, cushions: Cushions, pushed: float) -> Point:
    """Where the ball of the foot is; pushed: 1 full forward, -1 full aft."""
    x, _, z = pedals.place
    return x + cushions.nearer - pushed * pedals.travel, z


def _sit(who: Links, seat: Seat, cushions: Cushions, slump: float = 0.0) -> Sitting:
    return sit(who, (seat.place[0], seat.place[2]), seat.back, seat.pan, cushions, slump)


def _eye(who: Links, seat: Seat, cushions: Cushions) -> float:
    return _sit(who, seat, cushions, rule("slump_most").value / 2).eye[1]


def _band(values: list[float]) -> Band:
    """Half slumped, and the ends."""
    return Band(values[0], min(values), max(values))


# ------------------------------------------------------------------ legs


def _legs(seat: Seat, who: Links, cushions: Cushions, hip: Point) -> tuple[Leg | None, Leg | None]:
    if seat.pedals is None:
        return None, None
    shoe = rule("shoe").value
    full = leg(who, hip, _pedal(seat.pedals, cushions, 1.0), shoe, rule("ankle").value)
    return full, leg(who, hip, _pedal(seat.pedals, cushions, -1.0), shoe)


def _legs_spare(who: Links, full: Leg | None) -> Band:
    if full is None:
        return UNKNOWN
    most = reach_of_leg(who, rule("shoe").value, rule("ankle").value, rule("knee_straight").value)
    return Band.exact(most - full.length)


def outline(who: Links, hip: Point, of: Leg) -> shapely.Geometry:
    """The leg from the side: circles round hip, knee and ankle and what lies between."""
    rounds = [shapely.Point(p).buffer(r) for p, r in ((hip, who.over_hip), (of.knee, who.knee), (of.ankle, who.ankle))]
    return shapely.union_all([shapely.union_all(rounds[i : i + 2]).convex_hull for i in (0, 1)])


def face(panel: InstrumentPanel) -> shapely.LineString:
    """The panel from the side."""
    return shapely.LineString([(panel.station, panel.lower), (panel.station, panel.upper)])


def behind_face(panel: InstrumentPanel) -> shapely.Polygon:
    """What lies ahead of the panel's face, between its edges: instruments, tank, deck."""
    return shapely.box(panel.station - 10.0, panel.lower, panel.station, panel.upper)


def _to_panel(
    panel: InstrumentPanel | None, who: Links, hip: Point, both: tuple[Leg | None, Leg | None], forward: float
) -> Band:
    """Nearer of the two legs to the panel with the body gone forward; less than nought where the leg is in it."""
    if panel is None:
        return UNKNOWN
    return Band.exact(
        min((_clear(outline(who, hip, x), panel, forward) for x in both if x and _there(x)), default=math.nan)
    )


def _clear(leg: shapely.Geometry, panel: InstrumentPanel, forward: float) -> float:
    """Distance to the panel's face; where the leg stands in it, how deep, less than nought."""
    moved = shapely.transform(leg, lambda at: at - np.array([forward, 0.0]))
    if not moved.intersects(face(panel)):
        return float(moved.distance(face(panel)))
    within = moved.intersection(behind_face(panel))
    return float(within.bounds[0] - panel.station) if not within.is_empty else 0.0


def _there(x: Leg) -> bool:
    return math.isfinite(x.angle)


def _heels(model: Model, both: tuple[Leg | None, Leg | None]) -> Band:
    """Lower heel over the outside's bottom."""
    body = sorted((b.station, b.bottom) for b in model.fuselage.body)
    x, z = np.array(body).T
    return Band.exact(
        min((y.heel[1] - float(np.interp(y.heel[0], x, z)) for y in both if y and _there(y)), default=math.nan)
    )


# ------------------------------------------------------------------ hands


def _hand(who: Links, poses: list[Sitting], place: Place | None) -> Band:
    """What is left of the arm with the hand there; either hand is as good as the nearer."""
    if place is None:
        return UNKNOWN
    x, y, z = place
    return _band([who.arm - math.dist((*p.shoulder, who.beside), (x, z, abs(y))) for p in poses])


def _stick(seat: Seat, who: Links, poses: list[Sitting]) -> Band:
    if seat.stick is None:
        return UNKNOWN
    x, y, z = seat.stick.place
    return _hand(who, poses, (x - seat.stick.forward, y, z))


def _belly(seat: Seat, who: Links, cushions: Cushions) -> Band:
    """Room between the hand with the stick full aft and the belly."""
    if seat.stick is None:
        return UNKNOWN
    x, _, z = seat.stick.place
    at = _sit(who, seat, cushions).seat
    f = (-math.cos(seat.back), math.sin(seat.back))
    ahead = (x + seat.stick.aft - at[0]) * f[0] + (z - at[1]) * f[1]
    return Band.exact(ahead - who.belly - GRIP)


# ------------------------------------------------------------------ head and width


def _round(seat: Seat, who: Links) -> float:
    return who.head + (rule("helmet").value if seat.helmet else 0.0)


def _above(model: Model, seat: Seat, who: Links, poses: list[Sitting]) -> Band:
    """Head, in its helmet, to the nearest wing that passes over the middle."""
    wings = wings_over(model).values()
    if not wings:
        return UNKNOWN
    return _band([min(w.distance(shapely.Point(p.head)) for w in wings) - _round(seat, who) for p in poses])


def _upside_down(model: Model, seat: Seat, who: Links, poses: list[Sitting]) -> Band:
    """Head, in its helmet, within what stands on the ground when it lies on its back; less than nought outside."""
    if seat.turnover is None:
        return UNKNOWN
    hull = upside_down(model, seat.turnover)
    found = []
    for p in poses:
        at = shapely.Point(p.head)
        deep = float(hull.exterior.distance(at)) * (1.0 if hull.contains(at) else -1.0)
        found.append(deep - _round(seat, who))
    return _band(found)


def _shoulders(seat: Seat, who: Links, poses: list[Sitting]) -> Band:
    """Width of the opening at the shoulders less the clothed shoulders, which must pass it to get in and out."""
    if seat.coaming is None:
        return UNKNOWN
    return _band([opening(seat.coaming, p.shoulder[0]) - who.shoulders - rule("clothing").value for p in poses])


# ------------------------------------------------------------------ straps


def _straps(harness: Harness | None, poses: list[Sitting]) -> tuple[Band, Band]:
    """(shoulder strap over the square to the back, lap strap against the thrust line), rad."""
    if harness is None:
        return UNKNOWN, UNKNOWN
    crease = hip_crease(poses[0].hip)
    lap = math.atan2(crease[1] - harness.lap[2], harness.lap[0] - crease[0])
    if harness.shoulder is None:
        return UNKNOWN, Band.exact(lap)
    x, _, z = harness.shoulder
    found = []
    for p in poses:
        top = over_shoulder(p)
        found.append(math.atan2(z - top[1], x - top[0]) + p.lean)
    return _band(found), Band.exact(lap)


def hip_crease(hip: Point) -> Point:
    """Where the lap strap lies."""
    return hip[0] - LAP_AHEAD, hip[1] + LAP_UP


def over_shoulder(p: Sitting) -> Point:
    """Where the shoulder strap leaves the shoulder: over its bony point, at the back's surface."""
    return p.neck[0] + STRAP * math.sin(p.lean), p.neck[1] + STRAP * math.cos(p.lean)


# ------------------------------------------------------------------ crash


def _turned(at: Point, about: Point, angle: float) -> Point:
    """A point turned forward about another, rad."""
    c, s = math.cos(angle), math.sin(angle)
    dx, dz = at[0] - about[0], at[1] - about[1]
    return about[0] + c * dx - s * dz, about[1] + s * dx + c * dz


def head_way(harness: Harness, p: Sitting) -> list[Point]:
    """The way of the head's middle, thrown forward: held by the shoulder straps, or by the lap strap alone."""
    if harness.shoulder is None:
        turned = (_turned(p.head, p.hip, float(a)) for a in TURNS * (1 + p.lean / TURNS[-1]))
        return [(x - harness.give, z) for x, z in turned]
    turn = harness.give / math.dist(p.neck, p.hip)
    neck, head = (_turned(x, p.hip, turn) for x in (p.neck, p.head))
    return [_turned(head, neck, float(a)) for a in TURNS]


def _head_held(seat: Seat, who: Links, p: Sitting) -> Band:
    """Head to panel with shoulder straps: trunk turned as far as they give, then the head about the neck."""
    if seat.panel is None or seat.harness is None or seat.harness.shoulder is None:
        return UNKNOWN
    return Band.exact(_nearest(seat, who, head_way(seat.harness, p)))


def _head_lap(seat: Seat, who: Links, p: Sitting) -> tuple[Band, float]:
    """(head to panel with a lap strap alone; farthest the head's front goes from the seat reference point, m)."""
    if seat.harness is None:
        return UNKNOWN, math.nan
    path = head_way(replace(seat.harness, shoulder=None), p)
    far = max(math.dist(x, (seat.place[0], seat.place[2])) for x in path) + who.head
    return (Band.exact(_nearest(seat, who, path)) if seat.panel else UNKNOWN), far


def _nearest(seat: Seat, who: Links, path: list[Point]) -> float:
    """Least distance of a head on its path to the panel and what lies ahead of it; how deep, below nought, in it."""
    assert seat.panel is not None
    line, solid = shapely.LineString(path), behind_face(seat.panel)
    if line.intersects(solid):
        return float(line.intersection(solid).bounds[0]) - seat.panel.station - _round(seat, who)
    return float(line.distance(solid)) - _round(seat, who)


def worst(found: Mapping[str, Fit], of: str, most: bool = False) -> tuple[Band, str]:
    """(the band of a measure nearest to failure, whose): least low end, or greatest high end; unknown before all."""
    bands = {k: getattr(f, of) for k, f in found.items()}
    lost = next((k for k, b in bands.items() if not b.known), None)
    if lost is not None:
        return bands[lost], lost
    who = max(bands, key=lambda k: bands[k].high if most else -bands[k].low)
    return bands[who], who
