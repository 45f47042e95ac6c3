"""Cut edges of what follows the section along a wing: edge bars planed to it, skins bent round it.

All in a rib's own axes: x aft along the chord line, y up, m. Two stations of one panel give rings of as many
corners, so that a body runs straight from one to the other.
"""

from __future__ import annotations

import numpy as np
from shapely import LineString

from sparwright.base.problem import DesignProblem
from sparwright.base.record import locked
from sparwright.family.model import Bar, Skin, Wing
from sparwright.shape.lifting import Station
from sparwright.shape.rib import REACH, inside

ACROSS = 16  # places across an edge bar at which its depth is taken
TIP = 0.01  # of a bar's width: it begins this far inside the very edge, where it has no depth
FABRIC = 0.3e-3  # m: how thick fabric is drawn; common practice, no source
POINTS = 121  # along the line under a skin


def bar_ring(station: Station, wing: Wing, bar: Bar, tail: bool) -> np.ndarray:
    """(2 ACROSS, 2) anticlockwise: what is left of a bar's section inside the skin at the nose or the tail.

    Its square face lies on the ribs' cut, `nose_cut` or `tail_cut` from the section's own edge; its other edge is
    planed to the skin, or as far off as the bar is wide.
    """
    body = inside(station, wing.skins)
    if tail:
        face, into, edge = station.chord - wing.ribs.tail_cut, -1.0, min(body.bounds[2], station.chord)
    else:
        face, into, edge = wing.ribs.nose_cut, 1.0, max(body.bounds[0], 0.0)
    width = min(bar.width, abs(face - edge))
    part = (1 - np.cos(np.linspace(0, np.pi, ACROSS))) / 2
    x = face - into * width * (1 - TIP) * (1 - part)
    low, high = [], []
    for at in x:
        cut = LineString([(at, -REACH), (at, REACH)]).intersection(body)
        if cut.is_empty:
            raise DesignProblem(f"wing {wing.name}: nothing is left of the section for its edge bar")
        low.append(max(cut.bounds[1], -bar.depth / 2))
        high.append(min(cut.bounds[3], bar.depth / 2))
    ring = np.vstack([np.column_stack([x, low]), np.column_stack([x, high])[::-1]])
    return locked(ring if into > 0 else ring[::-1])


def skin_rings(station: Station, skin: Skin) -> tuple[np.ndarray, ...]:
    """(n, 2) each sheet of a skin: one round the nose, or an upper and a lower one. Fabric lies on the ribs, not in."""
    return tuple(sheet_ring(line, skin.thickness or -FABRIC) for line in _surfaces(station, skin.start, skin.end))


def one_sided(station: Station, skin: Skin, side: str) -> tuple[np.ndarray, ...]:
    """(n, 2) the upper or lower sheet of a skin by itself; one that begins at the nose, from its foremost point."""
    curve = station.points
    assert curve is not None
    n, index = curve.shape[1] // 2, np.arange(curve.shape[1], dtype=float)
    upper = side == "upper"
    x, at = (curve[0, n::-1], index[n::-1]) if upper else (curve[0, n:], index[n:])
    start = float(n) if skin.start <= 0 else float(np.interp(skin.start, x, at))
    end = float(np.interp(skin.end, x, at))
    places = np.linspace(end, start, POINTS) if upper else np.linspace(start, end, POINTS)
    line = np.column_stack([np.interp(places, index, c) for c in curve]) * station.chord
    return (sheet_ring(line, skin.thickness),)


def run_of_line(line: np.ndarray) -> float:
    """Length along a line (n, 2), m."""
    return float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum())


def _surfaces(station: Station, start: float, end: float) -> tuple[np.ndarray, ...]:
    """(POINTS, 2) each line of the section between two fractions of the chord, walked from tail over nose to tail.

    The points lie evenly among those of the stored curve.
    """
    curve = station.points
    assert curve is not None
    n = curve.shape[1] // 2
    index = np.arange(curve.shape[1], dtype=float)
    upper = [float(np.interp(x, curve[0, n::-1], index[n::-1])) for x in (end, start)]
    lower = [float(np.interp(x, curve[0, n:], index[n:])) for x in (start, end)]
    walks = [(upper[0], lower[1])] if start <= 0 else [(upper[0], upper[1]), (lower[0], lower[1])]
    places = [np.linspace(first, last, POINTS) for first, last in walks]
    return tuple(np.column_stack([np.interp(at, index, c) for c in curve]) * station.chord for at in places)


def nose_line(station: Station, width: float) -> np.ndarray:
    """(POINTS, 2) the section's line round its nose, half a width to either side of it, upper end first."""
    assert station.points is not None
    line = station.points.T * station.chord
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    nose = along[len(line) // 2]
    at = np.linspace(nose - width / 2, nose + width / 2, POINTS)
    return np.column_stack([np.interp(at, along, c) for c in line.T])


def sheet_ring(outer: np.ndarray, thickness: float) -> np.ndarray:
    """(2 n, 2) a sheet of a thickness inside a walked line, tail to nose to tail with the inside to its left."""
    step = np.gradient(outer, axis=0)
    inward = np.column_stack([-step[:, 1], step[:, 0]])
    inner = outer + thickness * inward / np.linalg.norm(inward, axis=1)[:, None]
    return locked(np.vstack([outer, inner[::-1]]))


def girth(station: Station, start: float, end: float) -> float:
    """Developed length of both surfaces between two fractions of the chord, m."""
    return float(sum(np.linalg.norm(np.diff(line, axis=0), axis=1).sum() for line in _surfaces(station, start, end)))


def middle_of(station: Station, skin: Skin) -> tuple[float, float]:
    """Where a skin's weight is: the middle of the lines under it, by length."""
    total, moment = 0.0, np.zeros(2)
    for line in _surfaces(station, skin.start, skin.end):
        length = np.linalg.norm(np.diff(line, axis=0), axis=1)
        moment += length @ ((line[1:] + line[:-1]) / 2)
        total += float(length.sum())
    return float(moment[0] / total), float(moment[1] / total)
