"""What comes near the ground and near the tyres: propeller, wings with their ailerons down, tailplane.

    lowest of a propeller's disc   n . c - R sqrt(ny^2 + nz^2) - g

Wings are clouds of points on their real outline from their root (the fuselage side) to the tip, the aileron also
turned down by its whole travel; right side only, since a tilt is taken to the right. By geometry.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise

import numpy as np
from scipy.optimize import brentq

from sparwright.base.record import locked
from sparwright.base.remembered import remembered
from sparwright.family.model import Model, Propeller, Section, Wheel, Wing
from sparwright.ground.pose import Pose
from sparwright.shape.lifting import Station, cut, tail_planform

ACROSS = 9  # sections looked at in a panel, ends included
STEP = 4  # points of a section kept: every fourth
CLOSE = 0.01  # m from point to point beside a wheel: of a gap of 25 mm less than 1 mm is missed
MOST_BANK = math.radians(80)
TRAVEL = 9  # places of a wheel on its way to its stop
Clouds = Mapping[str, np.ndarray]


def clouds(model: Model) -> dict[str, np.ndarray]:
    """Points (3, n) of the right half of each wing by its name, and of the `tailplane`."""
    found = {w.name: _cloud(w, model.sections) for w in model.wings}
    p = tail_planform(model.tailplane)
    aft = p.leading_edge + np.array([p.chord * np.cos(p.angle), 0 * p.chord, -p.chord * np.sin(p.angle)])
    return {**found, "tailplane": np.hstack([p.leading_edge, aft])}


@remembered(32)
def _cloud(wing: Wing, sections: Mapping[str, Section]) -> np.ndarray:
    return locked(np.hstack(list(_wing(wing, sections))))


def _wing(wing: Wing, sections: Mapping[str, Section]) -> Iterator[np.ndarray]:
    """Every section's outline, and the ailerons turned down."""
    for panel in wing.panels:
        for y in np.linspace(panel.root_buttline, panel.tip_buttline, ACROSS):
            yield _outline(cut(wing, sections, float(y)))
    if wing.aileron is not None:
        a = wing.aileron
        for y in np.linspace(a.inboard, a.outboard, ACROSS):
            yield _aileron_down(cut(wing, sections, float(y)), a.hinge, a.down)


def by_the_wheel(model: Model, wing: Wing, wheel: Wheel) -> np.ndarray:
    """(3, n) of a wing beside a wheel, CLOSE apart: a wheel's diameter to either side, or its end that is nearest."""
    ends = wing.panels[0].root_buttline, wing.panels[-1].tip_buttline
    low, high = (min(max(wheel.place[1] + side * wheel.diameter, ends[0]), ends[1]) for side in (-1, 1))
    across = np.linspace(low, high, 1 + math.ceil((high - low) / CLOSE))
    return np.hstack([_finely(cut(wing, model.sections, float(y))) for y in across])


def _finely(station: Station) -> np.ndarray:
    """(3, n) of a section in space, CLOSE apart along its outline."""
    assert station.points is not None
    curve = station.points * station.chord
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(curve)))])
    at = np.linspace(0.0, along[-1], 1 + math.ceil(along[-1] / CLOSE))
    return in_space(station, np.array([np.interp(at, along, v) for v in curve]))


def _outline(station: Station) -> np.ndarray:
    """(3, n) of a section in space."""
    assert station.points is not None
    kept = np.hstack([station.points[:, ::STEP], station.points[:, -1:]]) * station.chord
    return in_space(station, kept)


def in_space(station: Station, points: np.ndarray) -> np.ndarray:
    """(3, n) of points (2, n) of a rib's own axes, m."""
    c, s = np.cos(station.angle), np.sin(station.angle)
    (x, y), (sx, sy, sz) = points, station.leading_edge
    return np.array([sx + x * c + y * s, np.full(x.shape, sy), sz - x * s + y * c])


def _aileron_down(station: Station, hinge: float, down: float) -> np.ndarray:
    """(3, n) of the part behind the hinge, turned about a hinge on the chord line, trailing edge down."""
    assert station.points is not None
    behind = station.points[:, station.points[0] >= hinge]
    x, y = behind[0] - hinge, behind[1]
    c, s = math.cos(down), math.sin(down)
    return in_space(station, np.array([hinge + x * c + y * s, -x * s + y * c]) * station.chord)


def propeller_height(pose: Pose, propeller: Propeller) -> float:
    """Lowest point of the propeller's disc above the ground, m."""
    up = pose.up
    middle = float(up @ np.array(propeller.place)) - pose.ground
    return middle - propeller.diameter / 2 * math.hypot(up[1], up[2])


def lowest_height(pose: Pose, points: np.ndarray) -> float:
    """Height of the lowest of points (3, n), m."""
    return float(np.min(pose.height(points)))


def all_heights(pose: Pose, shapes: Clouds, propeller: Propeller) -> dict[str, float]:
    """Lowest height of each shape and of the propeller, m."""
    return {**{n: lowest_height(pose, p) for n, p in shapes.items()}, "propeller": propeller_height(pose, propeller)}


def bank_at_touch(tilted: Callable[[float], Pose], shapes: Clouds, propeller: Propeller) -> tuple[float, str]:
    """(bank in rad at which something but a wheel first touches, what it is); NaN where nothing does before 80 deg."""

    def least(bank: float) -> float:
        return min(all_heights(tilted(bank), shapes, propeller).values())

    tried = np.linspace(0.0, MOST_BANK, 81)
    found = next(((a, b) for a, b in pairwise(tried) if least(float(b)) <= 0), None)
    if found is None:
        return math.nan, ""
    bank = float(brentq(least, *map(float, found), xtol=1e-12)) if least(float(found[0])) > 0 else 0.0
    heights = all_heights(tilted(bank), shapes, propeller)
    return bank, min(heights, key=lambda n: heights[n])


def tyre_to(wheel: Wheel, stop: float, points: np.ndarray) -> float:
    """Least distance from a tyre, anywhere on its axle's way up to its stop, to points (3, n), m.

    Negative inside the tyre. d = sqrt(max(rho - (r - w/2), 0)^2 + dy^2) - w/2, rho from the axle in its plane.
    """
    least = math.inf
    for rise in np.linspace(0.0, stop, TRAVEL):
        dx, dy, dz = points - (np.array(wheel.place) + np.array([0.0, 0.0, rise]))[:, None]
        out = np.maximum(np.hypot(dx, dz) - (wheel.diameter - wheel.width) / 2, 0.0)
        least = min(least, float(np.min(np.hypot(out, dy))) - wheel.width / 2)
    return least
