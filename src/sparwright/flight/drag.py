"""Drag build-up: induced, sections of wings and tail, and the rest item by item, along a line of states.

Symbols: q = rho V^2/2, S area of all wings, CL = W/(q S), cd section drag at its effective angle and Reynolds number,
1 + u flow along the stream that a strip meets, over V.

    D = q [S CDi(CL) + sum of cd (1 + u)^2 c dy over the strips + elevator's own + sum of the items' drag areas]

The elevator's own is what a section with a turned flap drags more than the plain one at the same lift cl,

    S_t (0.023 e^2 - 0.017 e cl)        e elevator, trailing edge down, S_t area of the tailplane

read off this program's own section flow (0009, a flap of 0.45 of the chord, Reynolds number 2 million, built surface:
3, 6, 9 and 12 deg, cl -0.5 to 0.5; it lies within 0.0004 of those). Most when it turns against the lift.

Bands add straight, item by item: every item at its low end, then every item at its high end. Induced drag carries
-2 % (near against far wake) and +10 % (fuselage, gaps and cut-outs, which the lattice does not see; common
practice, no source).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from sparwright.air.atmosphere import Air
from sparwright.base.axes import GRAVITY
from sparwright.base.record import locked
from sparwright.flight.aeroplane import EFFECTIVE, Aeroplane
from sparwright.flight.trim import Line, States

KNOTS = 7  # speeds the parasite items are worked out at
INDUCED = np.array([1.0, 0.98, 1.10])


@dataclass(frozen=True)
class Drag:
    """Drag forces over speed; each item is (3, n): value, low, high in N. NaN where a section is not on file."""

    speed: np.ndarray  # (n,), m/s
    states: States  # (n,) lift, angle of attack, elevator
    items: Mapping[str, np.ndarray]

    @property
    def total(self) -> np.ndarray:
        """(3, n), N: value, low, high."""
        return np.asarray(sum(self.items.values()))


def elevator_drag(e: np.ndarray, cl: np.ndarray) -> np.ndarray:
    """Section drag that a turned elevator (rad) adds at a lift coefficient of the tailplane, above."""
    return np.asarray(0.023 * e**2 - 0.017 * e * cl)


def tail_area(plane: Aeroplane) -> float:
    """Area of the tailplane with elevators, m2, both halves."""
    return 2 * float(plane.strips[plane.tail].area.sum())


Areas = Mapping[str, np.ndarray]  # drag area by item, (3, n): value, low, high, m2


def build(plane: Aeroplane, line: Line, mass: float, speed: np.ndarray, air: Air, rest: Areas | None = None) -> Drag:
    """Drag of the aeroplane at speeds (m/s) in level flight at a mass (kg).

    rest: `parasite_areas` of the same speeds, where they have been worked out already.
    """
    q = air.density * speed**2 / 2
    at = line.states(mass * GRAVITY / (q * plane.area))
    items = {"induced": INDUCED[:, None] * (q * plane.area * at.induced)}
    for name, strips in plane.strips.items():
        here = plane.company.strip_slices[name]
        cd = strips.drag(at.works[:, here], speed[:, None] * strips.chord / air.kinematic)
        items[name] = q * 2 * (cd * at.onset[:, here] ** 2 * strips.area)[..., strips.outside].sum(-1)
    items["elevator"] = q * _elevator(plane, at)
    for name, area in (rest or parasite_areas(plane, speed, air)).items():
        items[name] = items.get(name, 0.0) + q * area  # two things of one name are one item
    return Drag(locked(speed), at, MappingProxyType(items))


def _elevator(plane: Aeroplane, at: States) -> np.ndarray:
    """(3, n) D/q of the elevator's own drag, m2: nothing to twice as much (common practice, no source)."""
    strips, here = plane.strips[plane.tail], plane.company.strip_slices[plane.tail]
    cl = at.section[:, here] @ strips.area / strips.area.sum()
    own = tail_area(plane) * elevator_drag(at.elevator / EFFECTIVE.value, cl)
    return np.array([own, np.minimum(0, 2 * own), np.maximum(0, 2 * own)])


def parasite_areas(plane: Aeroplane, speed: np.ndarray, air: Air) -> Areas:
    """Drag areas of all but wings and tailplane, worked out at a few speeds and straight between them."""
    knots = np.linspace(speed[0], speed[-1], KNOTS)
    lists = [plane.parasite(float(v), air) for v in knots]
    found: dict[str, np.ndarray] = {}
    for same in zip(*lists, strict=True):
        ends = [[getattr(item.area, end) for item in same] for end in ("value", "low", "high")]
        found[same[0].name] = found.get(same[0].name, 0.0) + np.array([np.interp(speed, knots, e) for e in ends])
    return found
