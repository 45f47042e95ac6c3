"""A rib of bent sheet: flanges round it, spars as its bearings, holes that lighten it.

Symbols: H depth over the flanges, t sheet, f flange width, s strip of web left round a hole, a length of the hole along
the rib, p pitch of holes, V shear and M moment of the rib, h_c between the middles of the two chords at a hole.

    I = t (H - 2 t)^3/12 e + 2 f t ((H - t)/2)^2                      e share of the web that carries bending
    flange: M H/(2 I) against crippling of the angle f by H/2, one edge free; at a hole f by s, both free (Needham)
    solid web: V/(H t) against F_su and tau_cr
    hole, as a frame with stiff corners (each chord half of V, no moment in the middle of the hole):
        chord M_c = V a/4, pulled along by M/h_c;  post S = V p/h_c across it, M_p = S s_h/2 at its ends
    flanged round holes, D, at a pitch p:  tau = k [tau_h (1 - (D/h)^2) + tau_c sqrt(D/h) c/p],
        k = 0.85 - 0.0006 h/t, c = p - D less both flanges of holes

The formula for flanged holes wants stresses at collapse, tau_h of a web h deep and tau_c of one c wide, from curves
that were not in hand; here they are the buckling stresses of long flat sheets, held simply, and no more than F_su: a
web bears more before it collapses than when it buckles, so the result is on the safe side of them.
Range: H > 2 s + 2 t at a hole; flanged holes 0.25 <= D/h <= 0.75, 0.3 <= D/p <= 0.7, 40 <= h/t <= 250; NaN outside.
Sources: statics; kuhn-1942 by way of bruhn C10 (memory, medium to high).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.strength.members import crippling
from sparwright.strength.members.web import Many, bent_down, bent_plate, given, margin


@dataclass(frozen=True, kw_only=True)
class SheetRib:
    """A rib at one place; floats or arrays of one shape."""

    depth: Many = number("m", "over the flanges")
    thickness: Many = number("m", "sheet")
    flange: Many = number("m", "width of each flange, bend included")
    left: Many = number("m", "strip of web left between flange and hole; nought without a hole", 0.0)
    hole: Many = number("m", "length of the hole along the rib; nought without", 0.0)
    pitch: Many = number("m", "from hole to hole", math.inf)


@dataclass(frozen=True, kw_only=True)
class RibMetal:
    """Strengths of the sheet."""

    tension: float = number("Pa", "F_tu")
    yield_compression: float = number("Pa", "F_cy")
    shear: float = number("Pa", "F_su")
    youngs: float = number("Pa", "E")
    poisson: float = number("1", "nu", 0.33)


def on_two(x: Many, running: Many, front: float, rear: float) -> tuple[np.ndarray, np.ndarray]:
    """(V, M) along a rib under a running load (n,), N/m up, straight between places x, m, held by two spars.

    V, N, is the sum of all forward of a place, M, N m, its moment. Both are nought behind the last x. ValueError for
    spars outside the rib or on each other.
    """
    x, w = np.asarray(x, float), np.asarray(running, float)
    if not (x[0] <= front < rear <= x[-1]):
        raise ValueError("the spars of a rib must be within it, the front one ahead")
    dx = np.diff(x)
    load = _summed((w[1:] + w[:-1]) / 2 * dx)
    first = _summed(dx / 6 * (x[:-1] * (2 * w[:-1] + w[1:]) + x[1:] * (w[:-1] + 2 * w[1:])))
    back = (first[-1] - load[-1] * front) / (rear - front)
    ahead = load[-1] - back
    shear = load - np.where(x > front, ahead, 0.0) - np.where(x > rear, back, 0.0)
    moment = load * x - first - ahead * np.maximum(x - front, 0.0) - back * np.maximum(x - rear, 0.0)
    return shear, moment


def _summed(parts: Many) -> np.ndarray:
    return np.concatenate([[0.0], np.cumsum(parts)])


def second_moment(rib: SheetRib, share: float = 0.0) -> np.ndarray:
    """I, m4: both flanges, and the share of a web without holes that carries bending."""
    h, t = np.asarray(rib.depth, float), rib.thickness
    return np.asarray(share * t * (h - 2 * t) ** 3 / 12 + 2 * rib.flange * t * ((h - t) / 2) ** 2)


def flange_stress(moment: Many, rib: SheetRib, share: float = 0.0) -> np.ndarray:
    """M H/(2 I), Pa, without sign."""
    return np.asarray(np.abs(moment) * rib.depth / (2 * second_moment(rib, share)))


def flange_crippling(rib: SheetRib, m: RibMetal) -> np.ndarray:
    """F_cc, Pa, of the flange and half the web beside it (safe side in bending), or at a hole the strip, free."""
    args = (rib.thickness, m.youngs, m.yield_compression)
    held = crippling.needham(rib.flange, np.asarray(rib.depth) / 2, *args, "one free")
    free = crippling.needham(rib.flange, rib.left, *args, "both free")
    return np.asarray(np.where(np.asarray(rib.hole) > 0, free, held))


def chord(rib: SheetRib) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Of one chord at a hole, flange and strip as an angle: area m2, I m4, its middle and farthest fibre from it, m."""
    t, s, f = rib.thickness, np.asarray(rib.left, float), rib.flange
    strip = np.maximum(s - t, 0.0)
    a = f * t + strip * t
    low = (f * t * t / 2 + strip * t * (t + strip / 2)) / a  # from the outside in
    own = f * t**3 / 12 + f * t * (low - t / 2) ** 2 + t * strip**3 / 12 + strip * t * (t + strip / 2 - low) ** 2
    return np.asarray(a), np.asarray(own), np.asarray(low), np.asarray(np.maximum(low, s - low))


def use_at_hole(shear: Many, moment: Many, rib: SheetRib, m: RibMetal) -> np.ndarray:
    """(3, n) uses at a hole by shear N and moment N m at ultimate load: chord's stress, its net shear, post.

    Stresses against the lesser of F_tu and the chord's F_cc. NaN where there is no room for a hole.
    """
    v, h, t = np.abs(np.asarray(shear, float)), np.asarray(rib.depth, float), rib.thickness
    a, own, low, far = chord(rib)
    between = h - 2 * low
    least = np.minimum(m.tension, flange_crippling(rib, m))
    along = np.abs(moment) / between / a + v * rib.hole / 4 * far / own
    net = v / (2 * rib.left * t) * 1.5
    wide = np.asarray(rib.pitch - rib.hole, float)
    across = v * np.where(np.isfinite(rib.pitch), rib.pitch, 0.0) / between
    bend = across * (h - 2 * rib.left) / 2 * 6 / (t * wide**2)
    post = np.maximum(1.5 * across / (t * wide) / m.shear, bend / least)
    post = np.where(np.isfinite(rib.pitch), post, 0.0)
    fits = (h > 2 * rib.left + 2 * t) & (rib.hole > 0) & (wide > 0)
    found = np.array(np.broadcast_arrays(along / least, net / m.shear, post))
    return np.asarray(np.where(fits, found, np.nan))


def use(shear: Many, moment: Many, rib: SheetRib, m: RibMetal) -> np.ndarray:
    """(3, n) uses where there is no hole: flange pressed, flange pulled, web in shear (buckling counts as the end)."""
    stress = flange_stress(moment, rib)
    web = np.asarray(rib.depth, float) - 2 * rib.thickness
    elastic = 5.34 * bent_plate(m.youngs, m.poisson) * (rib.thickness / web) ** 2
    limit = np.minimum(bent_down(elastic, m.yield_compression / math.sqrt(3)), m.shear)
    tau = np.abs(shear) / (web * rib.thickness)
    return np.array(np.broadcast_arrays(stress / flange_crippling(rib, m), stress / m.tension, tau / limit))


def flanged_holes(
    height: Many, thickness: Many, diameter: Many, pitch: Many, m: RibMetal, rim: float = 0.0
) -> np.ndarray:
    """Shear flow that a web with a row of flanged round holes bears, N/m, gross; rim: a hole's flange, m."""
    h, d, p, t = (np.asarray(v, float) for v in (height, diameter, pitch, thickness))
    clear = p - d - 2 * rim
    plate = 5.34 * bent_plate(m.youngs, m.poisson)
    yields = m.yield_compression / math.sqrt(3)
    deep, wide = (np.minimum(bent_down(plate * (t / b) ** 2, yields), m.shear) for b in (h, clear))
    tau = (0.85 - 0.0006 * h / t) * (deep * (1 - (d / h) ** 2) + wide * np.sqrt(d / h) * clear / p)
    net = m.shear * np.minimum(1 - d / h, 1 - d / p)
    inside = (d / h >= 0.25) & (d / h <= 0.75) & (d / p >= 0.3) & (d / p <= 0.7) & (h / t >= 40) & (h / t <= 250)
    return np.asarray(np.where(inside & (clear > 0), np.minimum(tau, net) * t, np.nan))


def working(shear: float, moment: float, rib: SheetRib, m: RibMetal) -> tuple[Step, ...]:
    """One place of a rib at ultimate load; at a hole where it has one."""
    if not rib.hole:
        pressed, pulled, web = (float(v) for v in use(np.asarray(shear), np.asarray(moment), rib, m))
        stress, f = float(flange_stress(np.asarray(moment), rib)), float(flange_crippling(rib, m))
        size = given(("H", rib.depth, "m"), ("t", rib.thickness, "m"), ("f", rib.flange, "m"))
        return (
            Step(
                "flange", "M H/(2 I), I = 2 f t ((H - t)/2)^2", (("M", moment, "N m"), *size), stress, "Pa", "statics"
            ),
            Step(
                "crippling of the flange",
                "F_cc = 0.342 sqrt(F_cy E)/(b'/t)^0.75",
                size,
                f,
                "Pa",
                "needham-1954 by way of bruhn",
            ),
            *margin("flange pressed", pressed),
            *margin("flange pulled", pulled),
            *margin("web in shear", web),
        )
    along, net, post = (float(v) for v in use_at_hole(np.asarray(shear), np.asarray(moment), rib, m))
    a, own, _, far = (float(v) for v in chord(rib))
    bent = float(abs(shear) * rib.hole / 4)
    return (
        Step(
            "chord at the hole, bent",
            "M_c = V a/4",
            (("V", shear, "N"), *given(("a", rib.hole, "m"))),
            bent,
            "N m",
            "statics: half of V each, no moment in the middle",
        ),
        Step(
            "its stress by that",
            "M_c c/I_c",
            (("c", far, "m"), ("I_c", own, "m4"), ("A_c", a, "m2")),
            bent * far / own,
            "Pa",
            "statics",
        ),
        *margin("chord at the hole", along),
        *margin("chord in shear", net),
        *margin("post between holes", post),
    )
