"""Sheets of fuselage, cowling, tank and seat laid flat: each outline from its own lower left corner, and its openings.

A plate is as it is cut; a body that is flat (a panel of the cowling) is laid down on its outer face. A bent one has no
flat outline here: its length by both legs is in the list. What curves is told, and cut from its template.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.affinity import translate

from sparwright.base.record import number
from sparwright.parts.part import Formed, Part, Plate, Skin
from sparwright.shape.solid import Solid

LEAST = 0.15  # m: a smaller plate is read off its template
FLAT = 2e-5  # m that a corner of a flat body may lie off its two faces
SMOOTH = 1e-4  # m by which an outline is simplified to tell its corners
ROUND = 3e-4  # m by which a hole's corners may lie off a circle
GROUPS = ("fuselage", "fuel", "seat")


@dataclass(frozen=True)
class Hole:
    """An opening of a sheet."""

    middle: tuple[float, float]  # m, from the sheet's lower left corner
    wide: float = number("m", "width, or diameter")
    high: float = number("m", "height; the diameter again of a round one")
    kind: str = "round"  # or "square-cornered", "curved"


@dataclass(frozen=True)
class LaidFlat:
    """One kind of sheet, or a pair."""

    mark: str
    name: str
    stock: str
    count: int
    numbers: tuple[str, ...]
    shape: shapely.Polygon  # m, its box's lower left at nought
    holes: tuple[Hole, ...] = ()

    @property
    def size(self) -> tuple[float, float]:
        """Width and height over all, m."""
        x0, y0, x1, y1 = self.shape.bounds
        return float(x1 - x0), float(y1 - y0)

    @property
    def corners(self) -> np.ndarray:
        """(n, 2) m, of the outline once straight runs are one; a curve has many."""
        return np.array(shapely.simplify(self.shape, SMOOTH).exterior.coords)[:-1]


def laid_flat(parts: Sequence[Part]) -> tuple[LaidFlat, ...]:
    """Every large sheet of fuselage, cowling, tank, seat, right and left of a pair as one."""
    pairs: dict[str, list[tuple[Part, shapely.Polygon]]] = {}
    for p in parts:
        shape = _shape(p) if p.group in GROUPS and p.material != "bought" and p.purpose != "frame" else None
        if shape is not None and max(shape.bounds[2:]) >= LEAST:
            pairs.setdefault(p.number[:-2] if p.hand else p.number, []).append((p, shape))
    found = []
    for i, (stem, both) in enumerate(pairs.items(), 1):
        part, shape = both[0]
        found.append(LaidFlat(str(i), stem.split("-", 1)[1], part.stock, sum(p.count for p, _ in both),
                              tuple(p.number for p, _ in both), shape, tuple(map(_hole, _rings(shape)))))  # fmt: skip
    return tuple(found)


def _shape(part: Part) -> shapely.Polygon | None:
    if isinstance(part.shape, Plate):
        outline = part.shape.outline if part.shape.blank is None else part.shape.blank
        return _down(shapely.Polygon(outline, part.shape.holes))
    if isinstance(part.shape, Formed) and part.form == "plate":
        return flat_face(part.shape.body)
    return None


def _down(shape: shapely.Polygon) -> shapely.Polygon:
    """Its lower left corner at nought, and the longer side along x."""
    x0, y0, x1, y1 = shape.bounds
    if y1 - y0 > x1 - x0:
        shape = shapely.transform(shape, lambda xy: np.column_stack([-xy[:, 1], xy[:, 0]]))
        x0, y0, *_ = shape.bounds
    return translate(shape, -x0, -y0)


def flat_face(body: Solid) -> shapely.Polygon | None:
    """The outer face of a flat body laid on the table, m; None of a body that is not flat."""
    points, faces = body.points, body.faces
    a, b, c = (points[faces[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    area = np.linalg.norm(normal, axis=1)
    n = normal[area.argmax()] / area.max()
    level = points @ n
    ends = level.min(), level.max()
    if np.minimum(abs(level - ends[0]), abs(level - ends[1])).max() > FLAT or ends[1] - ends[0] < FLAT:
        return None
    up = np.eye(3)[np.abs(n).argsort()[1]]  # the axis of the aeroplane that lies best in it, but the longest
    along = np.eye(3)[np.abs(n).argmin()]
    along = along - (along @ n) * n
    along = along / np.linalg.norm(along)
    across = np.cross(n, along)
    across = across if across @ up > 0 else -across
    on = (area > 0) & ((normal / np.maximum(area, 1e-30)[:, None]) @ n > 1 - 1e-9)
    flat = points @ np.column_stack([along, across])
    whole = shapely.union_all([shapely.Polygon(flat[f]).buffer(1e-9) for f in faces[on]])
    if whole.geom_type != "Polygon":
        return None
    return _down(shapely.simplify(whole.buffer(-1e-9), 1e-7))


def _rings(shape: shapely.Polygon) -> Iterator[np.ndarray]:
    yield from (np.array(r.coords)[:-1] for r in shape.interiors)


def _hole(ring: np.ndarray) -> Hole:
    low, high = ring.min(axis=0), ring.max(axis=0)
    middle = (low + high) / 2
    far = np.linalg.norm(ring - middle, axis=1)
    wide, tall = (float(v) for v in high - low)
    here = (float(middle[0]), float(middle[1]))
    if len(ring) >= 12 and np.ptp(far) < max(ROUND, 0.002 * far.mean()):
        across = 2 * math.sqrt(shapely.Polygon(ring).area / math.pi)
        return Hole(here, across, across)
    full = shapely.Polygon(ring).area > 0.999 * wide * tall
    return Hole(here, wide, tall, "square-cornered" if full else "curved")


@dataclass(frozen=True)
class Developed:
    """A sheet that goes round a surface, or is bent along its length, by its sizes laid flat."""

    name: str
    at: str
    stock: str
    count: int
    numbers: tuple[str, ...]
    long: float = number("m", "length")
    wide: float = number("m", "width laid flat: round the surface, or both legs")
    note: str = ""


def developed(parts: Sequence[Part]) -> tuple[Developed, ...]:
    """Skins that are sheet, tapes and angles: rectangles before they are trimmed to what they lie on."""
    pairs: dict[str, list[Part]] = {}
    for p in parts:
        skin = isinstance(p.shape, Skin) and p.shape.thickness > 0
        bent = isinstance(p.shape, Formed) and p.form == "plate" and flat_face(p.shape.body) is None
        if skin or bent:
            pairs.setdefault(p.number[:-2] if p.hand else p.number, []).append(p)
    found = []
    for stem, both in pairs.items():
        s, numbers = both[0].shape, tuple(p.number for p in both)
        assert isinstance(s, Skin | Formed)
        wide = s.width if isinstance(s, Skin) else s.outside
        found.append(Developed(stem.split("-", 1)[1], both[0].at, both[0].stock, sum(p.count for p in both), numbers,
                               s.length, wide, both[0].note))  # fmt: skip
    return tuple(found)
