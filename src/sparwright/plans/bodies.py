"""Parts as they are seen on a drawing: their bodies' edges in sight, at a scale, in a view.

Nearer bodies hide what lies behind them. Right-hand bodies only where a view asks for one side; a body on the middle
counts to both. Fabric and skins are left out where a view looks inside. Source of what is hidden: shape/seen.py.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sparwright.base.record import locked
from sparwright.base.remembered import remembered
from sparwright.parts.part import Part
from sparwright.parts.solids import solids
from sparwright.plans.drawing import Box, Point, Polyline
from sparwright.shape.seen import line_drawing
from sparwright.shape.solid import Solid

COARSE = 2e-4  # m: curves of plates may be simplified by this much; a fiftieth of a millimetre on paper at 1 : 10
MIDDLE = 1e-3  # m: a body nearer to the centreline than this counts to both sides


@dataclass(frozen=True)
class Looking:
    """A view of an aeroplane: which way is right, which up on the paper, from where it is looked at."""

    name: str
    right: tuple[float, float, float]
    up: tuple[float, float, float]

    @property
    def axes(self) -> np.ndarray:
        """(3, 3) columns right, up, towards the eye."""
        right, up = np.array(self.right, float), np.array(self.up, float)
        right, up = right / np.linalg.norm(right), up / np.linalg.norm(up)
        return np.column_stack([right, up, np.cross(right, up)])

    def on(self, place: Sequence[float], at: Point, scale: float) -> Point:
        """Where a place, m, falls on the paper."""
        x, y = np.array(place, float) @ self.axes[:, :2] * 1000 / scale
        return float(at[0] + x), float(at[1] + y)


ABOVE_NOSE_UP = Looking("From above", (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0))  # span to the right, nose up the sheet
ABOVE = Looking("From above", (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))  # nose to the left
LEFT = Looking("From the left", (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
BEHIND = Looking("From behind", (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))  # span to the right
AHEAD = Looking("From ahead", (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))


def bodies(parts: Iterable[Part], wanted: Callable[[Solid], bool] = lambda s: True) -> list[Solid]:
    """Every body of the parts that is wanted."""
    return [s for p in parts for s in solids(p, COARSE) if wanted(s)]


def on_right(solid: Solid) -> bool:
    """Whether a body lies on the right or on the middle."""
    return bool(solid.points[:, 1].max() > -MIDDLE and solid.points[:, 1].mean() > -MIDDLE)


def seen(shown: Sequence[Solid], view: Looking, at: Point, scale: float, window: Box | None = None,
         layer: str = "cut") -> Iterator[Polyline]:  # fmt: skip
    """Edges in sight as strokes. at: where the datum falls on the paper, mm; window: what lies outside is cut off."""
    for line in _lines(tuple(shown), view.right, view.up) if shown else ():
        points = np.array(at) + 1000 / scale * np.asarray(line)
        for piece in [points] if window is None else _inside(points, window):
            yield Polyline(tuple((float(x), float(y)) for x, y in piece), layer)


@remembered(200)
def _lines(shown: tuple[Solid, ...], right: tuple[float, ...], up: tuple[float, ...]) -> tuple[np.ndarray, ...]:
    """Edges in sight, m; on another paper or at another scale they are the same."""
    view = Looking("", (right[0], right[1], right[2]), (up[0], up[1], up[2]))
    return tuple(locked(x) for x in line_drawing(list(shown), view.axes))


def _inside(points: np.ndarray, window: Box) -> list[np.ndarray]:
    """The pieces of a line (k, 2) within a window."""
    (left, low), (right, high) = points.min(axis=0), points.max(axis=0)
    if left >= window.left and right <= window.right and low >= window.bottom and high <= window.top:
        return [points]
    if left > window.right or right < window.left or low > window.top or high < window.bottom:
        return []
    cut = shapely.LineString(points).intersection(shapely.box(window.left, window.bottom, window.right, window.top))
    return [np.array(g.coords) for g in shapely.get_parts(cut) if g.geom_type == "LineString" and not g.is_empty]


def reach(shown: Sequence[Solid], view: Looking) -> tuple[np.ndarray, np.ndarray]:
    """((2,), (2,)) m: least and greatest right and up of bodies in a view."""
    flat = np.concatenate([s.points for s in shown]) @ view.axes[:, :2]
    return flat.min(axis=0), flat.max(axis=0)
