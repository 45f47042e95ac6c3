"""What static holes out in the open read wrong: an estimate by the potential flow of wings and nose.

Symbols: V the wind, u what wings and body add to it at the holes; L lift, b span, S area of a wing; G circulation; r
from a vortex or source; D of a circle with the area of the body's greatest section; cp over the dynamic pressure; e
what the indicator reads less calibrated airspeed.

    each wing      a horseshoe at its quarter chord, pi b/4 wide, G = V CL S/(2 pi b/4), its legs down the wind
    a straight vortex a to b      u = G/(4 pi h) (cos A - cos B), square to it
    body           a source D/4 behind its nose, u = (D/4)^2 V/r^2, away from it (half body of revolution)
    cp = 1 - |V + u|^2/V^2;   e = V (sqrt(1 - cp) - 1)

Each wing is taken to carry lift by its area. Thickness of wings, struts, the fuselage behind its nose and what the
propeller does are left out, so half of cp either way and the holes' own error OWN stand as a band. Sources:
katz-plotkin-2001 sec. 2.12 (straight vortex), 3.5 (source, half body), glauert-1926 (horseshoe of pi b/4). Range: open
air half a chord or more from the quarter chord of wings, outside the slipstream; none for a hole in the
skin or the cockpit.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Result, Step
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.model import Model, Place, Wing, spoken
from sparwright.flight.slow import told
from sparwright.flight.work import Flown

OWN = 0.02  # of the dynamic pressure: what holes in a plain tube read wrong (common practice, no source)
HALF = 0.5  # of cp: what is left out (common practice, no source)
SOURCE = "katz-plotkin-2001 sec. 2.12, 3.5; glauert-1926 (systems/pitot.py)"
SKIN = "no published pressure fits a hole in this skin: calibrate in flight"
COCKPIT = "an open cockpit's pressure hangs on windscreen, gaps and slip: calibrate in flight"
NO_PITOT = "the file has no [pitot]"


def straight(a: np.ndarray, b: np.ndarray, p: np.ndarray, circulation: float) -> np.ndarray:
    """Velocity (3,) at p of a straight vortex from a to b, all (3,) m; nought on its line.

    u = G/(4 pi) (r1 x r2)/|r1 x r2|^2 r0.(r1/|r1| - r2/|r2|). Source: katz-plotkin-2001 eq. 2.72.
    """
    r1, r2, r0 = p - a, p - b, b - a
    cross = np.cross(r1, r2)
    square = float(cross @ cross)
    if square < 1e-12:
        return np.zeros(3)
    size = float(r0 @ (r1 / np.linalg.norm(r1) - r2 / np.linalg.norm(r2)))
    return circulation / (4 * math.pi) * size / square * cross


def half_body(nose: np.ndarray, wind: np.ndarray, across: float, p: np.ndarray) -> np.ndarray:
    """Velocity (3,) at p that a half body of revolution adds to a wind (3,); across: its diameter far back, m.

    >>> added = half_body(np.zeros(3), np.array([10.0, 0, 0]), 0.8, np.array([0.0, 0, 0]))
    >>> [round(float(v), 9) for v in added]  # the wind stands still at the nose
    [-10.0, 0.0, 0.0]
    """
    speed = float(np.linalg.norm(wind))
    away = p - (nose + across / 4 * wind / speed)
    r = float(np.linalg.norm(away))
    return speed * (across / 4) ** 2 / r**3 * away


def _wing(wing: Wing, lift: float, wind: np.ndarray, p: np.ndarray) -> np.ndarray:
    """What the horseshoe of a wing adds at p; lift: its CL."""
    speed, area, half = float(np.linalg.norm(wind)), wing_area(wing), tip(wing)
    width = math.pi / 4 * half
    x, _, z = wing.leading_edge
    x += wing.panels[0].root_chord / 4
    right, left = np.array([x, width, z]), np.array([x, -width, z])
    far = 100 * half * wind / speed
    circulation = speed * lift * area / (2 * 2 * width)
    legs = ((left + far, left), (left, right), (right, right + far))
    return np.asarray(sum(straight(a, b, p, circulation) for a, b in legs))


def tip(wing: Wing) -> float:
    """Buttline of a wing's tip, m."""
    return max(p.tip_buttline for p in wing.panels)


def wing_area(wing: Wing) -> float:
    """Area of both sides of a wing, m2, without what the fuselage cuts out."""
    return 2 * math.fsum(
        (p.root_chord + p.tip_chord) / 2 * (p.tip_buttline - p.root_buttline) for p in wing.panels
    )  # fmt: skip


def pressure(model: Model, place: Place, lift: float, alpha: float) -> float:
    """cp at a place, the whole cell at a lift coefficient and the thrust line at alpha, rad, to the wind."""
    wind, p = np.array([math.cos(alpha), 0.0, math.sin(alpha)]), np.array(place)
    body = model.fuselage.body
    nose = np.array([body[0].station, 0.0, (body[0].top + body[0].bottom) / 2])
    across = math.sqrt(max((b.width * (b.top - b.bottom)) for b in body))
    added = half_body(nose, wind, across, p) + sum(_wing(w, lift, wind, p) for w in model.wings)
    total = wind + added
    return 1 - float(total @ total)


def banded(cp: float) -> Band:
    """cp with what is left out."""
    wide = HALF * abs(cp) + OWN
    return Band(cp, cp - wide, cp + wide)


def error(cp: Band, speed: float) -> Band:
    """What the indicator reads less calibrated airspeed, m/s; a pressure too high reads slow.

    >>> round(error(Band.exact(0.19), 10.0).value, 9)
    -1.0
    """
    value, high, low = (speed * (math.sqrt(max(1 - c, 0.0)) - 1) for c in (cp.value, cp.low, cp.high))
    return Band(value, low, high)


def beyond(model: Model) -> str:
    """Why the estimate cannot be had at the file's static holes; empty where it can."""
    pitot = model.pitot
    if pitot is None:
        return NO_PITOT
    if pitot.static != "tube":
        return SKIN if pitot.static == "flush" else COCKPIT
    x, y, z = pitot.static_place
    prop = model.propeller
    if math.hypot(y - prop.place[1], z - prop.place[2]) < prop.diameter / 2:
        return "the static holes lie in the propeller's slipstream: move them out"
    for wing in model.wings:
        chord, (front, _, height) = wing.panels[0].root_chord, wing.leading_edge
        if abs(y) < tip(wing) and math.hypot(x - front - chord / 4, z - height) < chord / 2:
            return f"the static holes lie within half a chord of the quarter chord of the {spoken(wing.name)}"
    return ""


def pitot_results(flown: Flown) -> Iterator[Result]:
    """`pitot.error.stall` and `.top`: the estimated position error, beside the designer's limits.position_error."""
    model, heavy, top = flown.model, flown.cases["max_mass"], flown.performance.top
    drag = flown.performance.drag
    stall = (heavy.stall.speed.value, heavy.stall.lift.value, heavy.stall.alpha)
    fast = top.speed.value
    if math.isfinite(fast):
        alpha = float(np.interp(fast, drag.speed, drag.states.alpha))
        weight = model.limits.max_mass * GRAVITY
        level = (fast, weight / (flown.air.density / 2 * fast**2 * flown.plane.area), alpha)
    else:
        level = (math.nan, math.nan, math.nan)
    yield _told(model, "stall", "at the stall, greatest take-off mass", *stall)
    yield _told(model, "top", "at the greatest level speed", *level)


def _told(model: Model, name: str, words: str, speed: float, lift: float, alpha: float) -> Result:
    id, title = f"pitot.error.{name}", f"position error by estimate, {words}"
    why = beyond(model) or ("" if all(map(math.isfinite, (speed, lift, alpha))) else "lift or speed is unknown")
    if why or model.pitot is None:
        return told(UNKNOWN, id, title, "m/s", SOURCE, why)
    cp = banded(pressure(model, model.pitot.static_place, lift, alpha))
    e = error(cp, speed)
    given = (("CL", lift, "1"), ("alpha", alpha, "rad"))
    steps = (Step("static pressure at the holes", "cp = 1 - |V + u|^2/V^2", given, cp.value, "1", SOURCE),
             Step("error", "e = V (sqrt(1 - cp) - 1)", (("V", speed, "m/s"), ("cp", cp.value, "1")), e.value, "m/s",
                  "definition of indicated airspeed"))  # fmt: skip
    stated = model.limits.position_error
    beside = "the designer states none" if not stated else "the designer's limits.position_error stands, not this"
    return told(e, id, title, "m/s", SOURCE, f"an estimate, to be flown; {beside}", steps)
