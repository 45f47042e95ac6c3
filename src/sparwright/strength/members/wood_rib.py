"""Ribs of sheet: beams between the spars with overhanging nose and tail, and what their holes leave.

    V(x) = int_0^x w dx - sum of spar reactions ahead of x      M(x) = int_0^x V dx
    whole section   f = 6 M/(t h^2)         tau = 1.5 V/(t h)
    at a hole: two chords of depth a = (h - g)/2 over the hole's length c
        f = 6 M h/(t (h^3 - g^3))       at the edge
        m = V c/4                       each chord bears half the shear, bent one way and back over c
        use = f/F_a + 6 m/(t a^2 F_b)   tau = 1.5 (V/2)/(t a)

x from the nose aft, w the air load on the rib, N/m, plus up; h depth, t thickness, g height of a hole. F_b, F_s of the
sheet along the rib, F_a the lower of its tension and compression. Source: timoshenko-gere for the beam; the hole is an
open frame with hinges in the middle of each chord (common practice, no source), on the safe side for round holes, whose
chords are thin at one place only. Range: hole lower than the rib; flat sheet that does not buckle: that is not looked
at, nor what the skin holds.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Step
from sparwright.base.record import locked, number
from sparwright.strength.members.wood_margin import Floats, margin_step

SUPPORTS = 2  # spars that hold a rib, at most


@dataclass(frozen=True)
class RibBeam:
    """Shear and moment along a rib."""

    x: np.ndarray = number("m", "from the nose aft")
    shear: np.ndarray = number("N", "just ahead of each place")
    moment: np.ndarray = number("N m", "plus where it pulls the upper edge")
    reactions: tuple[float, ...] = number("N", "of the spars, plus where they hold it down")
    couple: float = number("N m", "what one spar alone must take as torque, nose up plus; nought with two", 0.0)


def beam(x: np.ndarray, running: np.ndarray, spars: tuple[float, ...]) -> RibBeam:
    """A rib under the load `running`, N/m at places x, m, straight between; held by one spar or two at x = spars.

    ValueError for no spar, more than two, or one outside the rib. The moment at each place is exact; the shear jumps at
    a spar and is that just ahead of a place that stands on it. One spar takes the couple about it as torque.

    >>> r = beam(np.linspace(0.0, 1.0, 101), np.full(101, 100.0), (0.25, 0.75))
    >>> [round(v, 6) for v in r.reactions], round(float(r.moment[50]), 6)
    ([50.0, 50.0], 0.0)
    """
    if not 1 <= len(spars) <= SUPPORTS or min(spars) < x[0] or max(spars) > x[-1]:
        raise ValueError("a rib is held by one spar or two within its length")
    x, w = np.asarray(x, dtype=float), np.asarray(running, dtype=float)
    step = np.diff(x)
    lift = np.concatenate([[0.0], np.cumsum((w[1:] + w[:-1]) / 2 * step)])
    turned = np.concatenate([[0.0], np.cumsum(lift[:-1] * step + (2 * w[:-1] + w[1:]) / 6 * step**2)])
    total, about = float(lift[-1]), float(turned[-1])  # about the tail end, nose up
    first, last = min(spars), max(spars)
    if len(spars) == 2:
        ahead = (about - total * (x[-1] - last)) / (last - first)
        holds, couple = {first: ahead, last: total - ahead}, 0.0
    else:
        holds, couple = {first: total}, float(about - total * (x[-1] - first))
    shear, moment = lift.copy(), -turned
    for at, r in holds.items():
        shear = shear - np.where(x > at + 1e-12, r, 0.0)
        moment = moment + r * np.clip(x - at, 0.0, None)
    moment = moment + np.where(x > first + 1e-12, couple, 0.0)
    return RibBeam(locked(x), locked(shear), locked(moment), tuple(float(holds[s]) for s in spars), couple)


@dataclass(frozen=True)
class SheetStrength:
    """What a sheet can do along the rib, Pa; NaN where unknown."""

    bending: Floats = number("Pa", "bending edgewise; the lower of tension and compression along the rib where none")
    along: Floats = number("Pa", "the lower of tension and compression along the rib")
    shear: Floats = number("Pa", "through the thickness")


def whole_use(moment: Floats, shear: Floats, depth: Floats, thickness: Floats, strength: SheetStrength) -> np.ndarray:
    """The worse of bending and shear of a section without a hole."""
    h, t = np.asarray(depth, dtype=float), np.asarray(thickness, dtype=float)
    bent = 6 * np.abs(moment) / (t * h**2) / strength.bending
    return np.asarray(np.maximum(bent, 1.5 * np.abs(shear) / (t * h) / strength.shear))


def hole_use(moment: Floats, shear: Floats, depth: Floats, hole: Floats, length: Floats, thickness: Floats,
             strength: SheetStrength) -> np.ndarray:  # fmt: skip
    """The worse of chords bent and pressed, and chords sheared, at a hole `hole` high and `length` long, m.

    NaN where the hole is as high as the rib. A hole of no height uses no less than `whole_use`.
    """
    h, g, t = (np.asarray(v, dtype=float) for v in (depth, hole, thickness))
    a = np.where((g >= 0) & (g < h), (h - g) / 2, np.nan)
    push = 6 * np.abs(moment) * h / (t * (h**3 - np.where(np.isnan(a), np.nan, g) ** 3))
    bent = 6 * np.abs(shear) * np.asarray(length) / 4 / (t * a**2)
    cut = 1.5 * np.abs(shear) / 2 / (t * a)
    return np.asarray(np.maximum(push / strength.along + bent / strength.bending, cut / strength.shear))


def working(moment: float, shear: float, depth: float, hole: float, length: float, thickness: float,
            strength: SheetStrength) -> tuple[Step, ...]:  # fmt: skip
    """The lines of a rib of sheet at one hole."""
    a = (depth - hole) / 2
    found = float(hole_use(moment, shear, depth, hole, length, thickness, strength))
    size = (("h", depth, "m"), ("g", hole, "m"), ("t", thickness, "m"))
    given = (("M", moment, "N m"), ("V", shear, "N"), ("c", length, "m"), ("a", a, "m"), *size)
    return (
        Step("depth of a chord", "a = (h - g)/2", size, a, "m", "common practice: open frame"),
        Step("stress at the edge", "6 M h/(t (h^3 - g^3))", given,
             6 * abs(moment) * depth / (thickness * (depth**3 - hole**3)), "Pa", "timoshenko-gere"),
        Step("bending stress of a chord", "6 (V c/4)/(t a^2)", given,
             6 * abs(shear) * length / 4 / (thickness * a**2), "Pa", "common practice: open frame"),
        Step("shear stress of a chord", "1.5 (V/2)/(t a)", given, 0.75 * abs(shear) / (thickness * a), "Pa",
             "timoshenko-gere"),
        Step("use", "max(f/F_a + 6 m/(t a^2 F_b), tau/F_s)",
             (("F_a", float(strength.along), "Pa"), ("F_b", float(strength.bending), "Pa"),
              ("F_s", float(strength.shear), "Pa")), found, "1", "common practice, no source"),
        margin_step(found),
    )  # fmt: skip
