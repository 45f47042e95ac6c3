"""What surrounds whoever sits in the cockpit: the nose ahead, wings above, the frame beside, the way out.

Symbols: (x, z) station and waterline, e the eye.

    down over the nose      s = least of atan2(z e - z, x e - x) over what stands ahead in the middle plane
    ground first seen       (height of the eye over it)/tan(s - a), a nose up; never where s <= a
    upside down             it rests on what keeps the head off the ground and on the nose or the tail: the upper edge
                            of the hull round the body's tops, the propeller's hub and that point
    between frame tubes     2 y - tube, y by straight lines between the longerons' nodes along and up

Everything by geometry in the middle plane, wings by their section over the head.
"""

from __future__ import annotations

import math

import numpy as np
import shapely

from sparwright.family.model import Body, Model, Place, spoken
from sparwright.family.occupant import Coaming
from sparwright.occupant.sit import Point
from sparwright.shape.frame import ON_CENTRE, nodes, stretches
from sparwright.shape.lifting import cut

OVER_HEAD = 0.15  # m: a wing whose root is nearer to the middle plane passes over the head


def tops(body: tuple[Body, ...]) -> np.ndarray:
    """(2, n) station and waterline of the body's top, from nose to tail."""
    return np.array(sorted((b.station, b.top) for b in body)).T


def nose(model: Model, eye: Point) -> tuple[float, Point]:
    """(angle down over what stands ahead of an eye, rad; the point that bounds it): body and instrument panel."""
    line = tops(model.fuselage.body)
    at = (eye[0], float(np.interp(eye[0], *line)))
    ahead = [(float(x), float(z)) for x, z in line.T if x < eye[0] - 0.05]
    panel = model.seat.panel if model.seat else None
    if panel is not None:
        ahead.append((panel.station, panel.upper))
    if not ahead:
        return math.nan, at
    angles = [math.atan2(eye[1] - z, eye[0] - x) for x, z in ahead]
    i = int(np.argmin(angles))
    return angles[i], ahead[i]


def wings_over(model: Model) -> dict[str, shapely.Polygon]:
    """Section of each wing that passes over the middle plane, by name, in station and waterline."""
    found = {}
    for wing in model.wings:
        root = wing.panels[0].root_buttline
        if root > OVER_HEAD:
            continue
        station = cut(wing, model.sections, root)
        assert station.points is not None
        rim = [station.place(float(x), float(y)) for x, y in (station.points * station.chord).T]
        found[wing.name] = shapely.Polygon([(x, z) for x, _, z in rim])
    return found


def upside_down(model: Model, turnover: Place) -> shapely.Polygon:
    """What room is left when it lies on its back, in station and waterline."""
    x, z = tops(model.fuselage.body)
    low = [(b.station, b.bottom) for b in model.fuselage.body]
    hub = model.propeller.place
    points = [*zip(x, z, strict=True), *low, (hub[0], hub[2]), (turnover[0], turnover[2])]
    hull = shapely.MultiPoint([(float(a), float(b)) for a, b in points]).convex_hull
    assert isinstance(hull, shapely.Polygon)
    return hull


def between_tubes(model: Model, x: float, z: float) -> float:
    """Clear width between the sides of the frame at a station and waterline, m; NaN where there is no frame beside.

    Of the tubes of the side that pass the station, the ones next above and below the waterline count.
    """
    known, beside = nodes(model.fuselage), []
    for s in stretches(model.fuselage):
        (x1, y1, z1), (x2, y2, z2) = sorted((known[s.start], known[s.end]))
        if min(y1, y2) > ON_CENTRE and x1 <= x <= x2 and x2 - x1 > ON_CENTRE:
            f = (x - x1) / (x2 - x1)
            beside.append((z1 + f * (z2 - z1), y1 + f * (y2 - y1) - s.tube.outside / 2))
    above, below = [p for p in beside if p[0] >= z], [p for p in beside if p[0] < z]
    if not above or not below:
        return math.nan
    (zu, yu), (zl, yl) = min(above), max(below)
    return 2 * (yl + (yu - yl) * (z - zl) / (zu - zl))


def edge(coaming: Coaming) -> shapely.LineString:
    """The edge of the cockpit's opening from the side, its door let down."""
    return shapely.LineString([(p[0], p[2] - coaming.door) for p in (coaming.front, coaming.aft)])


def opening(coaming: Coaming, x: float) -> float:
    """Width of the opening at a station, m; NaN before and behind it."""
    (x1, y1, _), (x2, y2, _) = coaming.front, coaming.aft
    return 2 * (y1 + (y2 - y1) * (x - x1) / (x2 - x1)) if x1 <= x <= x2 else math.nan


def way_out(model: Model, coaming: Coaming) -> tuple[float, str]:
    """(least clear way over the side, m; what bounds it): the opening's length, or from its edge to a wing."""
    ways = {
        "the length of the opening": math.hypot(coaming.aft[0] - coaming.front[0], coaming.aft[2] - coaming.front[2])
    }
    ways |= {f"the {spoken(name)} above": _clear(edge(coaming), wing) for name, wing in wings_over(model).items()}
    which = min(ways, key=lambda n: ways[n])
    return ways[which], which


def _clear(line: shapely.LineString, wing: shapely.Polygon) -> float:
    """The widest clear way past a wing from anywhere along the edge: somebody leaves where it is widest."""
    along = [line.interpolate(f, normalized=True) for f in np.linspace(0.0, 1.0, 25)]
    return max(float(p.distance(wing)) for p in along)
