"""The tail wheel as a castor: how far its contact trails the line its fork turns about, and how that line leans.

    trail   t = (c - q) . a     c contact of the tyre, q where the fork's line meets the ground, a aft along the ground
    lean    of the fork's line off the ground's upright, top aft positive
    bend    e = (2 L + 3 a)/(2 a (L + a)) w     slope of an overhanging bar's end that has risen by w;
            a over the rest, L between the supports (mecheng-overhang: slope and rise under a load at the end)

Under weight the leaf's end turns fork and wheel together by the bend. A castor with its contact behind the line it
turns about follows; ahead, it turns round by itself. It steers nothing: one wheel's brake does. Shimmy is not computed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.base.check import Check, Result, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.fitted import Leaf
from sparwright.family.model import Wheel
from sparwright.ground.pose import contact, normal, tail_down
from sparwright.ground.work import OnGround
from sparwright.parts.undercarriage import pivot

METHOD = "geometry of fork, wheel and ground; bend of the leaf (ground/castor.py)"


def bend(leaf: Leaf, rise: float) -> float:
    """Slope the leaf's end takes when it has risen, rad."""
    over, between = math.dist(leaf.rest, leaf.end), math.dist(leaf.start, leaf.rest)
    return rise * (2 * between + 3 * over) / (2 * over * (between + over))


def trail(leaf: Leaf, wheel: Wheel, attitude: float) -> tuple[float, float]:
    """(trail, m; lean, rad) with the ground at an attitude of leaf and wheel, nose up, rad; both as drawn."""
    place, line = pivot(leaf)
    up, aft = normal(attitude, 0.0), np.array([math.cos(attitude), 0.0, math.sin(attitude)])
    foot = contact(wheel, up)
    meets = place + float(up @ (foot - place)) / float(up @ line) * line
    return float(aft @ (foot - meets)), math.atan2(float(aft @ line), float(up @ line))


def _ends(on: OnGround) -> tuple[Band, Band] | None:
    """(trail, lean) on three wheels under weight, with the ends of nothing on the wheels; None where unknown."""
    gear, stood = on.model.undercarriage, on.stood
    if gear is None or gear.tail is None or stood.rest is None or stood.hanging is None:
        return None
    drawn, rest, leaf = stood.hanging.tail, stood.rest.tail, gear.tail
    own = Wheel(name=drawn.name, diameter=rest.diameter, width=drawn.width, mass=drawn.mass, place=drawn.place)
    heavy = trail(leaf, own, on.poses["tail_down"].attitude - bend(leaf, rest.place[2] - drawn.place[2]))
    light = trail(leaf, drawn, tail_down(stood.hanging).attitude)
    first, second = (Band(h, min(h, x), max(h, x)) for h, x in zip(heavy, light, strict=True))
    return first, second


def castor_results(on: OnGround) -> Iterator[Result]:
    """Trail and lean on three wheels; none without a fork."""
    if on.model.undercarriage is None or on.model.undercarriage.tail is None:
        return
    found = _ends(on) or (UNKNOWN, UNKNOWN)
    told = (("trail", "tail wheel's contact behind the line its fork turns about", "m"),
            ("lean", "line the tail wheel's fork turns about, top aft, off the upright", "rad"))  # fmt: skip
    note = ("at rest on three wheels; the other end: nothing on the wheels. It turns right round and steers nothing: "
            "on the ground the brakes steer, and the rudder with air on it; shimmy is not computed")  # fmt: skip
    for (key, title, unit), band in zip(told, found, strict=True):
        yield Result(f"ground.castor.{key}", title, band.value, unit, band.low, band.high, METHOD,
                     note if band.known else on.why)  # fmt: skip


def castor_checks(on: OnGround) -> Iterator[Check]:
    """It trails; none without a fork."""
    for r in castor_results(on):
        if r.id == "ground.castor.trail":
            rule = "a castor follows only with its contact behind its pivot; common practice, no source"
            yield check("ground.castor", r.title, r.band, 0.0, ">=", "m", rule=rule, method=METHOD, caveat=r.caveat,
                        parents=(r.id,))  # fmt: skip
