"""Somebody on the seat, seen from the side: hip, shoulder, head and eye; knee, ankle and foot on a pedal.

Symbols: (x, z) station aft and waterline; b lean of the back, p rise of the pan; c, d cushions to sit on and behind.

    up the back                 t = (sin b, cos b),  square to it, forward  f = (-cos b, sin b)
    square to the pan           n = (sin p, cos p)
    seat with its cushions      (V - R) . n = c,  (V - R) . f = d,  R the seat reference point
    hip                         (H - V) . n = hip above the seat,  (H - V) . f = hip before the back
    shoulder                    S = V + t (shoulder height - slump) + f (shoulder before the back)
    neck                        N = V + t (shoulder height - slump);  eye and head stand upright on it

The trunk leans with the back, the head is held upright. The leg is two bars from the hip to the ball of the foot:

    bar below the knee          r = hypot(shank + h cos q + a sin q, a cos q - h sin q)
                                h ankle over the shoe's sole, a ball before the ankle, q foot stretched from 90 deg
    knee                        cosine law in thigh, r and L = |hip to pedal|; between thigh and shin less by
                                atan2(a cos q - h sin q, shank + h cos q + a sin q)

Range: in the middle plane, soft tissue not pressed in; whoever splays the knees has them lower. Everything by geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number
from sparwright.occupant.person import Links

Point = tuple[float, float]  # station, waterline, m


@dataclass(frozen=True)
class Cushions:
    """How somebody has made the seat and pedals fit."""

    under: float = number("m", "cushion to sit on", 0.0)
    behind: float = number("m", "cushion behind the back", 0.0)
    nearer: float = number("m", "pedals set aft of their foremost place", 0.0)


@dataclass(frozen=True)
class Sitting:
    """Somebody on the seat; points are (station, waterline), m."""

    seat: Point
    hip: Point
    neck: Point
    shoulder: Point
    eye: Point
    head: Point
    top: Point
    lean: float = number("rad", "lean of the trunk from upright, aft")


@dataclass(frozen=True)
class Leg:
    """A leg on a pedal; NaN where the foot does not get there."""

    knee: Point
    ankle: Point
    heel: Point
    ball: Point
    angle: float = number("rad", "between thigh and shin", math.nan)
    length: float = number("m", "hip to pedal", math.nan)


def sit(
    who: Links, place: Point, back: float, pan: float, cushions: Cushions = Cushions(), slump: float = 0.0
) -> Sitting:
    """Somebody on a seat: angles in radians, slump in m.

    >>> from sparwright.data.occupant import bodies
    >>> from sparwright.occupant.person import links
    >>> round(sit(links(bodies()["male_50"]), (0.0, 0.0), 0.0, 0.0).eye[1], 3)
    0.79
    """
    t, f, n = _axes(back, pan)
    seat = np.array(place) + _offset(n, f, cushions.under, cushions.behind)
    hip = seat + _offset(n, f, who.hip_up, who.hip_ahead)
    neck = seat + t * (who.shoulder_up - slump)
    eye = neck + (-who.eye_ahead, who.eye_over)
    top = neck + (-who.eye_ahead + who.head_behind, who.top_over)
    return Sitting(
        _p(seat),
        _p(hip),
        _p(neck),
        _p(neck + f * who.shoulder_ahead),
        _p(eye),
        _p(top - (0.0, who.head)),
        _p(top),
        back,
    )


def _axes(back: float, pan: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    t = np.array([math.sin(back), math.cos(back)])
    return t, np.array([-t[1], t[0]]), np.array([math.sin(pan), math.cos(pan)])


def _offset(n: np.ndarray, f: np.ndarray, up: float, ahead: float) -> np.ndarray:
    """The point that lies `up` square to the pan and `ahead` square to the back."""
    return np.linalg.solve(np.array([n, f]), np.array([up, ahead]))


def _p(at: np.ndarray) -> Point:
    return float(at[0]), float(at[1])


def below_knee(who: Links, shoe: float, stretched: float) -> tuple[float, float]:
    """(length, m; angle, rad) of the bar from the knee joint to the sole under the ball, against the shin."""
    h, c, s = who.ankle + shoe, math.cos(stretched), math.sin(stretched)
    along, across = who.shank + h * c + who.ball * s, who.ball * c - h * s
    return math.hypot(along, across), math.atan2(across, along)


def leg(who: Links, hip: Point, ball: Point, shoe: float, stretched: float = 0.0) -> Leg:
    """The leg with its sole's ball at a place, knee up; foot stretched by an angle, rad."""
    r, off = below_knee(who, shoe, stretched)
    dx, dz = ball[0] - hip[0], ball[1] - hip[1]
    far = math.hypot(dx, dz)
    if not abs(who.thigh - r) < far < who.thigh + r:
        lost = (math.nan, math.nan)
        return Leg(lost, lost, lost, ball, length=far)
    at_knee = math.acos((who.thigh**2 + r**2 - far**2) / (2 * who.thigh * r))
    at_hip = math.acos((who.thigh**2 + far**2 - r**2) / (2 * who.thigh * far))
    aim = math.atan2(dz, -dx) + at_hip  # above forward
    knee = hip[0] - who.thigh * math.cos(aim), hip[1] + who.thigh * math.sin(aim)
    down = np.array([ball[0] - knee[0], ball[1] - knee[1]]) / r
    shin = _turned(down, off)  # from the ball's line back to the shin
    ankle = np.array(knee) + who.shank * shin
    sole = _turned(shin, stretched)  # square to the sole, out of it
    toes = np.array([sole[1], -sole[0]])
    heel = ankle + (who.ankle + shoe) * sole - who.heel * toes
    return Leg(knee, _p(ankle), _p(heel), ball, at_knee - off, far)


def _turned(v: np.ndarray, angle: float) -> np.ndarray:
    """A vector turned with the toes moving aft and down: from station forward to waterline down."""
    c, s = math.cos(angle), math.sin(angle)
    return np.array([c * v[0] - s * v[1], s * v[0] + c * v[1]])


def reach_of_leg(who: Links, shoe: float, stretched: float, straight: float) -> float:
    """Hip to pedal, m, when the knee is as straight as `straight`, rad, between thigh and shin."""
    r, off = below_knee(who, shoe, stretched)
    at_knee = min(straight + off, math.pi)
    return math.sqrt(who.thigh**2 + r**2 - 2 * who.thigh * r * math.cos(at_knee))
