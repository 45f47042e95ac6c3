"""Fuel in a tank that stands at any angle: volume under the fuel's level, level of a volume, its centre.

Symbols: n unit vector up, in the aeroplane's axes (base/axes.py); d height of the level, the plane n.r = d; L sizes of
the tank inside, m.

    box: V = sum over the corners c in {0, 1}^3 of (-1)^(c1+c2+c3) max(0, d - sum c_i |n_i| L_i)^3/(6 |n_1 n_2 n_3|),
         d over the lowest corner
    cylinder: V = integral along its axis of the segment of the circle below the level
    sump: what lies below its rim in the tank's bottom does not flow into it, however deep the sump is

A steady flight path is taken, however steep: the level is then square to gravity alone. In an unsteady slip or turn it
is not; the designer states a bank for that. Source: geometry (inclusion and exclusion), worked out here.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
from scipy.optimize import brentq

from sparwright.family.fuel import Place, Tank

FLAT = 1e-6  # a component of n below this is taken for nought: an error of a millionth of the volume
CUTS = 64  # Gauss points along a cylinder, on each of the pieces its area is smooth in
Up = tuple[float, float, float]


def height(place: Place, n: Up) -> float:
    """How high a place lies, m, over the origin: n.r."""
    return float(np.dot(n, place))


def volume(tank: Tank) -> float:
    """What the tank holds inside to the brim, without its sump, m3."""
    if tank.shape == "box":
        return tank.length * tank.width * tank.height
    long = tank.width if tank.axis == "across" else tank.length
    return math.pi / 4 * tank.height**2 * long


def below(tank: Tank, n: Up, d: float) -> float:
    """Volume of the tank under the plane n.r = d, m3, without the sump."""
    return _box(tank, n, d) if tank.shape == "box" else _cylinder(tank, n, d)


def _box(tank: Tank, n: Up, d: float) -> float:
    size = np.array([tank.length, tank.width, tank.height])
    rise = np.abs(n) * size
    d = d - height(tank.place, n) + float(rise.sum()) / 2  # over the lowest corner
    if d >= rise.sum():
        return float(size.prod())
    turned = np.abs(n) > FLAT
    k = int(turned.sum())
    corners = itertools.product((0, 1), repeat=k)
    total = sum((-1) ** sum(c) * max(0.0, d - float(np.dot(c, rise[turned]))) ** k for c in corners)
    return float(total / (math.factorial(k) * np.prod(np.abs(n)[turned])) * size[~turned].prod())


def _cylinder(tank: Tank, n: Up, d: float) -> float:
    """Sum of segments: at x along the axis the level stands (d - n_axis x)/sqrt(1 - n_axis^2) over the middle."""
    axis, long = (1, tank.width) if tank.axis == "across" else (0, tank.length)
    r, across = tank.height / 2, math.hypot(*np.delete(np.array(n), axis))
    d = d - height(tank.place, n)
    if across < FLAT:  # it stands on end
        return math.pi * r**2 * min(max(d / abs(n[axis]) + long / 2, 0.0), long)
    ends = [-long / 2, long / 2]
    if abs(n[axis]) > FLAT * across:
        ends += [x for x in ((d - r * across) / n[axis], (d + r * across) / n[axis]) if -long / 2 < x < long / 2]
    points, weights = np.polynomial.legendre.leggauss(CUTS)
    total = 0.0
    for a, b in itertools.pairwise(sorted(ends)):
        x = (a + b) / 2 + (b - a) / 2 * points
        total += float(weights @ _segment(r, (d - n[axis] * x) / across)) * (b - a) / 2
    return total


def _segment(r: float, level: np.ndarray) -> np.ndarray:
    """Area of a circle of radius r below a level over its middle."""
    t = np.clip(level / r, -1.0, 1.0)
    return np.asarray(r**2 * (np.arccos(-t) + t * np.sqrt(1 - t**2)))


def level(tank: Tank, n: Up, held: float) -> float:
    """Height of the fuel's level, m, over the origin, with a volume, m3, in the tank. ValueError for more than fits."""
    low, high = span(tank, n)
    if not 0 <= held <= volume(tank) * (1 + 1e-12):
        raise ValueError(f"the tank holds {volume(tank):.4f} m3, not {held:.4f}")
    return float(brentq(lambda d: below(tank, n, d) - held, low - 1e-9, high + 1e-9, xtol=1e-12))


def span(tank: Tank, n: Up) -> tuple[float, float]:
    """(lowest, highest) height of the tank's inside, m."""
    half = np.array([tank.length, tank.width, tank.height]) / 2
    if tank.shape == "box":
        reach = float(np.abs(n) @ half)
    else:
        axis = 1 if tank.axis == "across" else 0
        reach = abs(n[axis]) * float(half[axis]) + tank.height / 2 * math.hypot(*np.delete(np.array(n), axis))
    middle = height(tank.place, n)
    return middle - reach, middle + reach


def under(tank: Tank, n: Up, place: Place) -> float:
    """Fuel, m3, that lies below a place when the level has fallen to it: what an outlet or drain there leaves."""
    return below(tank, n, height(place, n))


def rim(tank: Tank, place: Place) -> Place:
    """Where fuel leaves the tank for a place: the bottom straight over it where it lies in the sump, else the place."""
    x, y, z = place
    deep = tank.height / 2
    if tank.shape == "cylinder":
        off = x - tank.place[0] if tank.axis == "across" else y - tank.place[1]
        deep = math.sqrt(max(deep**2 - off**2, 0.0))
    return x, y, max(z, tank.place[2] - deep) if tank.sump > 0 else z
