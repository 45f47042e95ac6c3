"""Tubes that meet at the origin, made for the tests of their ends: what each is fitted to, and as a body of its own."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from manifold3d import Manifold

from sparwright.parts.part import Part
from sparwright.shape.tube import Tube, both_ways, fitted_tube

FAR = 0.6  # m
SEGMENTS = 1024


def unit(*v: float) -> np.ndarray:
    return np.array(v) / np.linalg.norm(v)


@dataclass(frozen=True)
class Meeting:
    """A branch (direction, outside, wall) and the tubes before it: directions, one of a tube that ends, and outside."""

    along: np.ndarray
    outside: float
    wall: float
    others: tuple[tuple[tuple[np.ndarray, ...], float], ...]

    def tube(self, long: float = 0.4) -> Tube:
        """The branch from the origin."""
        fits = [f for ways, outside in self.others for f in both_ways(ways, outside / 2)]
        path = np.array([np.zeros(3), long * self.along])
        return fitted_tube(path, self.outside, self.wall, "a size", (fits, ()))

    def solid(self) -> Manifold:
        """What it is fitted to, by the library of solids: cylinders cut off at a plane through the origin."""
        found = Manifold()
        for ways, outside in self.others:
            for i, way in enumerate(ways):
                plane = way if len(ways) == 1 else unit(*(way - ways[1 - i]))
                rod = Manifold.cylinder(2 * FAR, outside / 2, outside / 2, SEGMENTS, True)
                rod = rod.transform(np.column_stack([*basis(way), np.zeros(3)]))
                found += rod.trim_by_plane(tuple(plane), 0.0)
        return found

    def inside(self, points: np.ndarray) -> np.ndarray:
        """(n,) whether points (n, 3) lie within what it is fitted to, by distances alone."""
        found = np.zeros(len(points), dtype=bool)
        for ways, outside in self.others:
            for i, way in enumerate(ways):
                plane = way if len(ways) == 1 else unit(*(way - ways[1 - i]))
                off = np.linalg.norm(np.cross(points, way), axis=1)
                found |= (points @ plane >= 0) & (off < outside / 2)
        return found


def basis(z: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """x, y, z right-handed, z along a direction."""
    x = unit(*np.cross(z, [0.0, 1.0, 0.0] if abs(z[1]) < 0.9 else [1.0, 0.0, 0.0]))
    return x, np.cross(z, x), z


def passing(*v: float) -> tuple[np.ndarray, ...]:
    """Both ways of a straight tube that passes."""
    return unit(*v), -unit(*v)


MEETINGS = {
    "square": Meeting(unit(0, 0, 1), 0.0127, 0.0009, ((passing(1, 0, 0), 0.01905),)),
    "oblique": Meeting(unit(1, 0.2, 0.8), 0.015875, 0.0009, ((passing(1, 0, 0), 0.01905),)),
    "equal": Meeting(unit(1, 0, 1.7), 0.01905, 0.0009, ((passing(1, 0, 0), 0.01905),)),
    "thick on thin": Meeting(unit(0.8, 0, 1), 0.022225, 0.0009, ((passing(1, 0, 0), 0.015875),)),
    "thick wall": Meeting(unit(1, 0, 1), 0.0254, 0.0048, ((passing(1, 0, 0), 0.028575),)),
    "cluster": Meeting(
        unit(0.4, 0.5, 0.8), 0.0127, 0.0009,
        ((passing(1, 0, 0), 0.01905), ((unit(0, 1, 0),), 0.015875), ((unit(-0.3, 0.6, 0.5),), 0.0127)),
    ),
    "bend": Meeting(unit(0, 0, 1), 0.0127, 0.0009, (((unit(-1, 0, -0.2), unit(1, 0, -0.2)), 0.01905),)),
    "corner": Meeting(unit(0, 0, 1), 0.0127, 0.0009, (((unit(1, 0, 0),), 0.01905),)),
}  # fmt: skip


def part(number: str, tube: Tube, at: str = "A to B", sides: int = 1) -> Part:
    """A tube as a part, on the right alone or on both sides."""
    x, y, z = map(float, tube.solid().centre)
    places = ((x, y, z), (x, -y, z))[:sides]
    return Part(number=number, name="tube", form="tube", group="fuselage", purpose="frame", material="4130N",
                stock="tube", places=places, mass=1.0, at=at, shape=tube)  # fmt: skip
