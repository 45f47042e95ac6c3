"""Bodies in space as closed triangle meshes: their volume, centre and inertia, and how they are made.

A body is made once, in the aeroplane's axes (x aft, y right, z up, m), from flat outlines, closed rings or the lines
of a tube. Round things are given as many corners as CORNERS, on a radius at which the polygon has the circle's area.

Symbols: for each triangle a, b, c with the origin, d = a . (b x c), s = a + b + c:

    volume         V = sum d/6
    centre         V x = sum d s/24
    second moment  int r r^T dV = sum d (a a^T + b b^T + c c^T + s s^T)/120

Source: the divergence theorem, worked out here for tetrahedra with the origin.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256

import numpy as np
from shapely import Polygon

from sparwright.base.record import locked, number
from sparwright.base.remembered import remembered

CORNERS = 48
FLAT = 1e-12  # m3: six times the tetrahedron of a side's corners, below which the side is flat


@dataclass(frozen=True)
class LongBox:
    """A box along directions of its own."""

    centre: np.ndarray = number("m", "(3,) its middle")
    axes: np.ndarray = number("1", "(3, 3) rows: unit directions square to each other")
    half: np.ndarray = number("m", "(3,) half as long as it is along each")


@dataclass(frozen=True)
class Solid:
    """A closed body: points (n, 3), m, and triangles (k, 3) anticlockwise seen from outside."""

    points: np.ndarray = number("m", "corners")
    faces: np.ndarray = number("1", "three corners of each triangle, by place among the points")

    def __post_init__(self) -> None:
        """Locks the sides too, so that nothing of a body can change."""
        if self.faces.flags.writeable or self.faces.base is not None:
            faces = np.array(self.faces)
            faces.setflags(write=False)
            object.__setattr__(self, "faces", faces)

    @cached_property
    def _corners(self) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
        """a, b, c about a point among them, so that a small body far off loses no digits; d."""
        a, b, c = np.moveaxis(self.points[self.faces] - self.points[0], 1, 0)
        return a, b, c, np.einsum("ij,ij->i", a, _cross(b, c))

    @cached_property
    def volume(self) -> float:
        """Volume, m3."""
        return float(self._corners[3].sum() / 6)

    @cached_property
    def centre(self) -> np.ndarray:
        """(3,) centre of the volume, m."""
        a, b, c, d = self._corners
        return locked(d @ (a + b + c) / (24 * self.volume) + self.points[0])

    @cached_property
    def inertia(self) -> np.ndarray:
        """(3, 3) inertia about its own centre over its mass, m2."""
        a, b, c, d = self._corners
        s = a + b + c
        moments = sum((d * v.T) @ v for v in (a, b, c, s)) / (120 * self.volume)
        arm = self.centre - self.points[0]
        moments = moments - np.outer(arm, arm)
        return locked(np.trace(moments) * np.eye(3) - moments)

    @cached_property
    def box(self) -> np.ndarray:
        """(2, 3) least and greatest of x, y, z."""
        return locked([self.points.min(axis=0), self.points.max(axis=0)])

    @cached_property
    def long_box(self) -> LongBox:
        """The box along the principal directions of its corners."""
        off = self.points - self.points.mean(axis=0)
        axes = np.linalg.eigh(off.T @ off / len(off))[1].T
        along = self.points @ axes.T
        low, high = along.min(axis=0), along.max(axis=0)
        return LongBox(locked((low + high) / 2 @ axes), locked(axes), locked((high - low) / 2))

    @cached_property
    def digest(self) -> bytes:
        """The same for bodies of the same corners and sides, however they were made."""
        return sha256(self.points.tobytes() + np.ascontiguousarray(self.faces).tobytes()).digest()

    def placed(self, pose: Pose) -> Solid:
        """A body drawn in the axes of a flat thing, where that thing stands."""
        return Solid(locked(pose.at(self.points)), self.faces)

    def mirrored(self) -> Solid:
        """The same on the other side of the plane of symmetry."""
        return Solid(locked(self.points * (1.0, -1.0, 1.0)), self.faces[:, ::-1])


@dataclass(frozen=True)
class Pose:
    """Where a flat thing's own axes lie in the aeroplane: its x and y as unit vectors, its z square to both."""

    origin: tuple[float, float, float] = number("m", "place of its own origin")
    x: tuple[float, float, float] = number("1", "direction of its x")
    y: tuple[float, float, float] = number("1", "direction of its y")

    def at(self, points: np.ndarray) -> np.ndarray:
        """(n, 3) places of points (n, 3) of its own axes."""
        return np.asarray(np.array(self.origin) + points @ self.directions.T)

    @property
    def directions(self) -> np.ndarray:
        """(3, 3) columns: its own x, y and z in the aeroplane's axes."""
        (a, b, c), (d, e, f) = self.x, self.y
        return np.array([[a, d, b * f - c * e], [b, e, c * d - a * f], [c, f, a * e - b * d]])

    def across(self) -> Pose:
        """The place of the same flat plate on the other side of the aeroplane: turned over, it is its own mirror."""
        (x, y, z), (a, b, c), (d, e, f) = self.origin, self.x, self.y
        return Pose((x, -y, z), (a, -b, c), (d, -e, f))

    def place(self, x: float, y: float) -> tuple[float, float, float]:
        """Where a point of its own plane lies."""
        return as_place(self.at(np.array([[x, y, 0.0]]))[0])


def _cross(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """(n, 3) products of vectors (n, 3), as np.cross gives them at several times the cost."""
    (ax, ay, az), (bx, by, bz) = a.T, b.T
    return np.column_stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx])


def as_place(point: np.ndarray) -> tuple[float, float, float]:
    """A point (3,) as a place."""
    return (float(point[0]), float(point[1]), float(point[2]))


def joined(solids: Sequence[Solid]) -> Solid:
    """Several bodies, none in another, as one."""
    starts = np.cumsum([0, *(len(s.points) for s in solids)])
    return Solid(
        locked(np.vstack([s.points for s in solids])),
        np.vstack([s.faces + k for s, k in zip(solids, starts, strict=False)]),
    )


@remembered(500)
def less(body: Solid, cutters: Sequence[Solid]) -> Solid:
    """A body with what lies in others taken out; ValueError where that leaves nothing, or a body is not closed."""
    from manifold3d import Error, Manifold, Mesh64

    left, *out = (Manifold(Mesh64(np.array(s.points), np.array(s.faces, dtype=np.uint64))) for s in (body, *cutters))
    for cutter in out:
        left = left - cutter
    if left.status() != Error.NoError or left.is_empty():
        raise ValueError("nothing is left, or a body is not closed")
    mesh = left.to_mesh64()
    return Solid(locked(np.array(mesh.vert_properties)[:, :3]), np.array(mesh.tri_verts, dtype=int))


@remembered(4000)
def between(start: np.ndarray, end: np.ndarray, holes: Sequence[np.ndarray] = ()) -> Solid:
    """The body between two flat closed rings (n, 3) of as many points, joined point to point by straight lines.

    holes: (2, k, 3) each, the same for rings left open. A side whose four corners do not lie in one plane is given its
    middle as a fifth, so that a twisted thin skin keeps its thickness. ValueError for rings of unlike lengths.
    """
    if start.shape != end.shape:
        raise ValueError("two rings of as many points are wanted")
    rings = [np.array([start, end]), *(np.asarray(h) for h in holes)]
    ends = [np.vstack([r[k] for r in rings]) for k in (0, 1)]
    cap = _filled([r[0] for r in rings])
    count = len(ends[0])
    starts = np.cumsum([0, *(r.shape[1] for r in rings)])
    i = np.arange(count)
    j = np.concatenate([at + (np.arange(r.shape[1]) + 1) % r.shape[1] for at, r in zip(starts, rings, strict=False)])
    points = np.vstack(ends)
    a, b, c, d = (points[k] for k in (i, j, j + count, i + count))
    if np.abs(np.einsum("ij,ij->i", _cross(b - a, c - a), d - a)).max() < FLAT:
        sides = [np.array([i, j, j + count]).T, np.array([i, j + count, i + count]).T]
    else:
        middle = 2 * count + i
        points = np.vstack([points, (a + b + c + d) / 4])
        sides = [
            np.array([p, q, middle]).T for p, q in ((i, j), (j, j + count), (j + count, i + count), (i + count, i))
        ]
    found = Solid(locked(points), np.vstack([cap[:, ::-1], cap + count, *sides]))
    return found if found.volume > 0 else Solid(found.points, found.faces[:, ::-1])


def through(rings: Sequence[np.ndarray]) -> Solid:
    """The body through flat closed rings (n, 3) of as many points one after another, closed at both ends.

    ValueError for fewer than two rings, or rings of unlike lengths.
    """
    if len(rings) < 2 or len({r.shape for r in rings}) > 1:
        raise ValueError("two rings or more of as many points are wanted")
    count, last = len(rings[0]), (len(rings) - 1) * len(rings[0])
    i, j = np.arange(count), (np.arange(count) + 1) % count
    sides = [
        np.vstack([np.array([i, j, j + count]).T, np.array([i, j + count, i + count]).T]) + k * count
        for k in range(len(rings) - 1)
    ]
    faces = np.vstack([_filled([rings[0]])[:, ::-1], _filled([rings[-1]]) + last, *sides])
    found = Solid(locked(np.vstack(rings)), faces)
    return found if found.volume > 0 else Solid(found.points, found.faces[:, ::-1])


def _filled(rings: Sequence[np.ndarray]) -> np.ndarray:
    """(k, 3) triangles over flat rings (n, 3), the first the outline, the rest holes, by place in the stack."""
    from manifold3d import triangulate

    outer = rings[0]
    normal = np.sum(np.cross(outer - outer[0], np.roll(outer, -1, axis=0) - outer[0]), axis=0)
    normal = normal / np.linalg.norm(normal)
    x = outer[1] - outer[0]
    x = x - (x @ normal) * normal
    x = x / np.linalg.norm(x)
    plane = np.array([x, np.cross(normal, x)])
    return np.asarray(triangulate([(r - outer[0]) @ plane.T for r in rings]), dtype=int)


def plate(outline: np.ndarray, holes: Sequence[np.ndarray], low: float, high: float) -> Solid:
    """A flat plate from z = low to high (m) in its own axes; outline (n, 2) anticlockwise, holes clockwise."""

    def lifted(ring: np.ndarray) -> np.ndarray:
        return np.array([np.column_stack([ring, np.full(len(ring), z)]) for z in (low, high)])

    start, end = lifted(outline)
    return between(start, end, [lifted(h) for h in holes])


@remembered(2000)
def bent_plate(outline: np.ndarray, holes: Sequence[np.ndarray], thickness: float, flange: float,
               lean: tuple[float, float]) -> Solid:  # fmt: skip
    """A sheet half a thickness to either side of its plane; an edge is bent up all round it where there is a flange.

    flange: m, height of the edge over the sheet along z, negative the other way; lean: how far its top lies to x and y
    over its height.
    """
    half = thickness / 2
    sheet = plate(outline, holes, -half, half)
    if not flange:
        return sheet
    inner = np.array(Polygon(outline).buffer(-thickness, join_style="mitre").exterior.coords)[:-1]
    near, far, over = float(np.copysign(half, flange)), flange + float(np.copysign(half, flange)), np.array(lean)
    rings = [
        (np.column_stack([ring, np.full(len(ring), near)]),
         np.column_stack([ring + over * abs(flange), np.full(len(ring), far)]))
        for ring in (outline, inner)
    ]  # fmt: skip
    return joined([sheet, between(*rings[0], [np.array(rings[1])])])


def simpler(ring: np.ndarray, by: float) -> np.ndarray:
    """A closed outline (n, 2) with fewer points, at most that much off, m."""
    return np.array(Polygon(ring).simplify(by).exterior.coords)[:-1]


def cylinder(middle: Sequence[float], axis: Sequence[float], radius: float, length: float) -> Solid:
    """A round disc or rod about its middle."""
    along = np.array(axis, dtype=float) / np.linalg.norm(axis)
    ring = np.array(middle) + round_radius(radius) * around(along, CORNERS)
    return between(ring - along * length / 2, ring + along * length / 2)


def turned(profile: np.ndarray, middle: Sequence[float], axis: Sequence[float], corners: int = CORNERS) -> Solid:
    """A ring turned about a line: profile (n, 2) closed, from the line out (positive) and along it, m."""
    along = np.array(axis, dtype=float) / np.linalg.norm(axis)
    out = around(along, corners)
    radius = round_radius(1.0, corners) * profile[:, 0]
    rings = np.array(middle) + radius[None, :, None] * out[:, None] + profile[None, :, 1, None] * along
    k, n = rings.shape[:2]
    s, i = (a.ravel() for a in np.mgrid[0:k, 0:n])
    a, b, c, d = (t % k * n + j % n for t, j in ((s, i), (s, i + 1), (s + 1, i + 1), (s + 1, i)))
    faces = np.vstack([np.array([a, b, c]).T, np.array([a, c, d]).T])
    found = Solid(locked(rings.reshape(-1, 3)), faces)
    return found if found.volume > 0 else Solid(found.points, found.faces[:, ::-1])


def block(middle: Sequence[float], size: Sequence[float]) -> Solid:
    """A box along the aeroplane's axes: middle and full sizes, m."""
    x, y, z = np.array(size) / 2
    ring = np.array([[-x, -y, -z], [x, -y, -z], [x, y, -z], [-x, y, -z]]) + np.array(middle)
    return between(ring, ring + np.array([0.0, 0.0, 2 * z]))


def around(along: np.ndarray, corners: int) -> np.ndarray:
    """(corners, 3) unit vectors square to a direction, one after another round it; the first lies level."""
    x, y, z = along
    level = np.array([y, -x, 0.0]) if x * x + y * y > 1e-12 else np.array([0.0, z, -y])
    first = level / np.sqrt(level @ level)
    a, b, c = first
    second = np.array([y * c - z * b, z * a - x * c, x * b - y * a])
    angle = 2 * np.pi * np.arange(corners) / corners
    return np.asarray(np.outer(np.cos(angle), first) + np.outer(np.sin(angle), second))


def round_radius(radius: float, corners: int = CORNERS) -> float:
    """Radius to the corners of a polygon that has the area of a circle, m."""
    turn = 2 * np.pi / corners
    return float(radius * np.sqrt(turn / np.sin(turn)))


def turning(along: np.ndarray, angle: float) -> np.ndarray:
    """(3, 3) matrix that turns about a unit vector by a right-handed angle, rad (Rodrigues' formula, worked out)."""
    x, y, z = map(float, along)
    s, c = math.sin(angle), math.cos(angle)
    k = 1 - c
    return np.array(
        [
            [c + k * x * x, k * x * y - s * z, k * x * z + s * y],
            [k * y * x + s * z, c + k * y * y, k * y * z - s * x],
            [k * z * x - s * y, k * z * y + s * x, c + k * z * z],
        ]
    )
