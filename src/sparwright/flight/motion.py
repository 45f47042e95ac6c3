"""How an aeroplane moves after it is disturbed, controls fixed: small motions about straight flight, and their modes.

Stability axes: x into the wind, y right, z down. Symbols: u0 speed, q dynamic pressure, S area, b span, c mean chord,
m mass, I inertia, g gravity, G angle of climb; coefficients as everywhere: CL lift, CD drag, CY side force, Cl, Cm, Cn
rolling, pitching, yawing moment; a, b as last letters angle of attack and sideslip, p, r for p b/2u0 and r b/2u0,
q for q c/2u0, adot for adot c/2u0; TV the rate at which thrust changes with the speed, N s/m.

    along       u' = Xu u + Xw w - g cos G t              Xu = -2 CD q S/(m u0) + TV/m    Xw = (CL - CDa) q S/(m u0)
                w' = Zu u + Zw w + (u0 + Zq) Q - g sin G t     Zu = -2 CL q S/(m u0)      Zw = -(CLa + CD) q S/(m u0)
                Q' = Mw w + Mwd w' + MQ Q                 Mw = Cma q S c/(Iy u0)   MQ = Cmq c/(2 u0) q S c/Iy
                t' = Q                                    Mwd = Cmadot c/(2 u0) q S c/(Iy u0)
    across      b' = (Yb b + Yp p + Yr r)/u0 - r + g cos G f/u0
                Ix p' - Ixz r' = rolling moment,  Iz r' - Ixz p' = yawing moment,  f' = p + r tan G

Modes: the two roots of greatest size along are the short period, the two least the phugoid; across, the pair is the
Dutch roll, of the two that are alone the greater is the roll and the lesser the spiral. A pair w, z: roots product w^2,
sum -2 z w; without a w where the product is negative (one of the two grows).
Range: small motions, speeds and angles; air taken as of constant density; what the engine's spin does is left out.
Sources: nelson-1998 ch. 4 and 5 (equations as in its tables; memory); mccormick-1995 ch. 10.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.record import number

ALONG = ("CL", "CD", "CLa", "CDa", "Cma", "CLq", "Cmq", "Cmadot", "TV")
ACROSS = tuple(f"C{m}{by}" for by in "bpr" for m in "Yln")


@dataclass(frozen=True)
class Body:
    """What moves, and how it flies; inertia in stability axes."""

    mass: float = number("kg", "mass")
    speed: float = number("m/s", "true airspeed")
    density: float = number("kg/m3", "of the air")
    area: float = number("m2", "reference area")
    span: float = number("m", "reference span")
    chord: float = number("m", "reference chord")
    rolling: float = number("kg m2", "inertia about x")
    pitching: float = number("kg m2", "inertia about y")
    yawing: float = number("kg m2", "inertia about z")
    product: float = number("kg m2", "Sum m x z, x forward, z down", 0.0)
    climb: float = number("rad", "angle of climb", 0.0)

    @property
    def force(self) -> float:
        """q S, N."""
        return self.density * self.speed**2 / 2 * self.area


@dataclass(frozen=True)
class Pair:
    """A mode of two roots."""

    frequency: float = number("rad/s", "undamped; NaN where one root grows and one falls", math.nan)
    damping: float = number("1", "damping ratio; NaN there too", math.nan)

    @property
    def period(self) -> float:
        """Seconds a swing takes; NaN where it does not swing."""
        inside = self.frequency**2 * (1 - self.damping**2)
        return 2 * math.pi / math.sqrt(inside) if inside > 0 else math.nan

    @property
    def halves(self) -> float:
        """Seconds in which a swing halves, negative where it doubles."""
        return math.log(2) / (self.damping * self.frequency) if self.damping * self.frequency else math.nan


@dataclass(frozen=True)
class Modes:
    """All five; NaN for what is not there."""

    short_period: Pair
    phugoid: Pair
    dutch_roll: Pair
    roll: float = number("1/s", "root of the roll mode", math.nan)
    spiral: float = number("1/s", "root of the spiral mode, positive where it grows", math.nan)


def along(body: Body, c: Mapping[str, float]) -> np.ndarray:
    """(4, 4) of (u, w, Q, t), from coefficients by name (ALONG)."""
    u0, k, arm = body.speed, body.force / (body.mass * body.speed), body.chord / (2 * body.speed)
    turn = body.force * body.chord / (body.pitching if body.pitching > 0 else math.nan)
    drop = np.array([-2 * c["CL"] * k, -(c["CLa"] + c["CD"]) * k, u0 - c["CLq"] * arm * body.force / body.mass,
                     -GRAVITY * math.sin(body.climb)])  # fmt: skip
    pull = [-2 * c["CD"] * k + c["TV"] / body.mass, (c["CL"] - c["CDa"]) * k, 0.0, -GRAVITY * math.cos(body.climb)]
    nose = np.array([0.0, c["Cma"] * turn / u0, c["Cmq"] * arm * turn, 0.0]) + c["Cmadot"] * arm * turn / u0 * drop
    return np.array([pull, drop, nose, [0.0, 0.0, 1.0, 0.0]])


def across(body: Body, c: Mapping[str, float]) -> np.ndarray:
    """(4, 4) of (b, p, r, f), from coefficients by name (ACROSS)."""
    u0, arm = body.speed, body.span / (2 * body.speed)
    scale = np.array([1.0, arm, arm])
    side, roll, yaw = (np.array([c[f"C{m}{by}"] for by in "bpr"]) * scale for m in "Yln")
    whole = body.rolling * body.yawing - body.product**2
    shares = np.array([[body.yawing, body.product], [body.product, body.rolling]]) / (whole if whole > 0 else math.nan)
    turns = body.force * body.span * shares @ np.array([roll, yaw])
    slip = body.force * side / (body.mass * u0) - np.array([0.0, 0.0, 1.0])
    return np.array([
        [*slip, GRAVITY * math.cos(body.climb) / u0], [*turns[0], 0.0], [*turns[1], 0.0],
        [0.0, 1.0, math.tan(body.climb), 0.0],
    ])  # fmt: skip


def pair(roots: np.ndarray) -> Pair:
    """Two roots as frequency and damping ratio.

    >>> found = pair(np.array([-0.601 + 3.03j, -0.601 - 3.03j]))
    >>> round(found.frequency, 2), round(found.damping, 4)
    (3.09, 0.1946)
    """
    square = float(np.prod(roots).real)
    if not square > 0:
        return Pair()
    frequency = math.sqrt(square)
    return Pair(frequency, -float(np.sum(roots).real) / (2 * frequency))


def modes(body: Body, c: Mapping[str, float]) -> Modes:
    """The modes of a body with these coefficients; NaN where a coefficient is."""
    return modes_of([(body, c)])[0]


def modes_of(cases: Sequence[tuple[Body, Mapping[str, float]]]) -> list[Modes]:
    """The same for many at once."""
    long_way, cross = (_roots(np.array([of(*case) for case in cases])) for of in (along, across))
    found = []
    for a, b in zip(long_way, cross, strict=True):
        (short, slow), (dutch, roll, spiral) = _two_pairs(a), _sideways(b)
        found.append(Modes(short, slow, dutch, roll, spiral))
    return found


def _roots(matrices: np.ndarray) -> np.ndarray:
    """(k, 4) roots of (k, 4, 4); NaN where a number is."""
    whole = np.isfinite(matrices).all(axis=(1, 2))
    found = np.full(matrices.shape[:2], np.nan, dtype=complex)
    if whole.any():
        found[whole] = np.linalg.eigvals(matrices[whole])
    return found


def _two_pairs(roots: np.ndarray) -> tuple[Pair, Pair]:
    """Short period and phugoid."""
    if np.isnan(roots).any():
        return Pair(), Pair()
    order = roots[np.argsort(np.abs(roots), kind="stable")]
    return pair(order[2:]), pair(order[:2])


def _sideways(roots: np.ndarray) -> tuple[Pair, float, float]:
    """Dutch roll, roll, spiral; nothing where two pairs swing."""
    alone = roots[np.abs(roots.imag) < 1e-9].real
    if np.isnan(roots).any() or alone.size != 2:
        return Pair(), math.nan, math.nan
    spiral, roll = alone[np.argsort(np.abs(alone))].tolist()
    return pair(roots[np.abs(roots.imag) >= 1e-9]), roll, spiral
