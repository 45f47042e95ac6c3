"""The wake behind wings: how much dynamic pressure the tail loses in it, and where it lies.

Symbols: cd profile drag of the section, c chord, xi distance behind the trailing edge in chords, zeta distance from
the middle of the wake in chords, eta greatest loss of dynamic pressure as a part of the free stream's, zw half-width
of the wake in chords.

    eta = 2.42 sqrt(cd)/(xi + 0.30),   zw = 0.68 sqrt(cd (xi + 0.15)),   loss = eta cos^2(pi zeta/(2 zw)) inside

The summaries of both reports were read: width and loss go with profile drag and distance behind the trailing edge,
from measured wakes. The constants are recalled (memory). They do not keep the drag in the wake: with cd 0.01 the
momentum of the wake is 1.31 of the profile drag one chord behind, 1.03 two chords and 0.87 three chords behind
(`momentum`), so the loss has a band: from the formula to the loss at which the wake, as wide as the formula says,
holds the profile drag.

Wakes of several wings that lie over each other: what is left is the product of what each leaves (common practice, no
source). What the body, the struts and the cabane shed is not in it.
Source: naca-tr-651, naca-tr-648 (constants memory). Range: xi 0.25 to 4, cd to 0.06, loss to 0.9; outside is NaN.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from sparwright.base.record import number
from sparwright.base.source import Band
from sparwright.shape.planform import Planform

NEAR, LONG, MOST_DRAG, MOST_LOSS = 0.25, 4.0, 0.06, 0.9
ACROSS = 201  # points over half a wake in the momentum integral
BELL = np.cos(np.linspace(0.0, np.pi / 2, ACROSS)) ** 2
WEIGHT = np.full(ACROSS, 1 / (ACROSS - 1)) * np.where(np.isin(np.arange(ACROSS), (0, ACROSS - 1)), 0.5, 1.0)


@dataclass(frozen=True)
class Wake:
    """The wake of one wing: where it leaves, which way it goes, how much drag is in it."""

    name: str
    station: float = number("m", "station of the trailing edge")
    waterline: float = number("m", "waterline of the trailing edge")
    chord: float = number("m", "chord there")
    half_span: float = number("m", "buttline of the wing's tip")
    drag: float = number("1", "profile drag coefficient of the section")
    rise: float = number("rad", "angle its middle climbs aft of the thrust line: angle of attack less downwash")

    def middle(self, station: float) -> float:
        """Waterline of the wake's middle at a station, m."""
        return self.waterline + (station - self.station) * math.tan(self.rise)


def greatest_loss(drag: float, xi: float) -> float:
    """eta, part of the dynamic pressure lost in the middle of the wake; NaN outside its range.

    >>> round(greatest_loss(0.01, 2.0), 4)
    0.1052
    """
    if not (NEAR <= xi <= LONG and 0 <= drag <= MOST_DRAG):
        return math.nan
    eta = 2.42 * math.sqrt(drag) / (xi + 0.30)
    return eta if eta <= MOST_LOSS else math.nan


def half_width(drag: float, xi: float) -> float:
    """zw in chords; NaN outside its range.

    >>> round(half_width(0.01, 2.0), 4)
    0.0997
    """
    return 0.68 * math.sqrt(drag * (xi + 0.15)) if NEAR <= xi <= LONG and 0 <= drag <= MOST_DRAG else math.nan


def momentum(loss: float, half: float) -> float:
    """Drag coefficient in a wake of a greatest loss and a half-width (chords): 2 Int r (1 - r) dzeta over both halves.

    r = sqrt(1 - loss cos^2(pi zeta/(2 zw))), the wake at the pressure of the free stream (momentum theorem).
    """
    r = np.sqrt(1 - loss * BELL)
    return float(2 * 2 * half * (WEIGHT @ (r * (1 - r))))


def loss_that_keeps(drag: float, half: float) -> float:
    """The greatest loss at which a wake of a half-width (chords) holds a drag coefficient; NaN if none."""
    most = 0.75  # r (1 - r) is greatest at r = 1/2
    if not momentum(most, half) >= drag:
        return math.nan
    return float(brentq(lambda loss: momentum(loss, half) - drag, 0.0, most, xtol=1e-13))


def left(wake: Wake, station: float, waterline: np.ndarray) -> np.ndarray:
    """(3, n) dynamic pressure left behind one wing, over the free stream's: likely, low, high at n waterlines (m).

    Likely by the formula; low and high by it and by the loss that keeps the drag, whichever is more and less. NaN
    outside the range.
    """
    xi = (station - wake.station) / wake.chord
    eta, half = greatest_loss(wake.drag, xi), half_width(wake.drag, xi)
    kept = loss_that_keeps(wake.drag, half) if math.isfinite(eta) and wake.drag > 0 else eta
    shape = _shape((waterline - wake.middle(station)) / wake.chord, half)
    return 1 - np.outer([eta, max(eta, kept), min(eta, kept)], shape)


def _shape(zeta: np.ndarray, half: float) -> np.ndarray:
    if not half > 0:
        return np.full_like(zeta, 0.0 if half == 0 else math.nan)
    return np.where(np.abs(zeta) < half, np.cos(np.pi * np.clip(zeta / half, -1, 1) / 2) ** 2, 0.0)


def at_tail(wakes: Sequence[Wake], tail: Planform, strips: int = 40) -> Band:
    """Mean dynamic pressure over the tailplane behind all wings, over the free stream's, by area.

    Taken at a quarter of the tail's chord. Only the part of the tail within a wing's span lies behind it. low and high
    ends: each wing's, and its wake raised or dropped by a half-width (the wash that places it is not better known than
    that): so a tail that the likely wake misses by less has a low end, and one in its middle a high end, that say so.
    """
    y = (np.arange(strips) + 0.5) / strips * float(tail.leading_edge[1, -1])
    chord = np.interp(y, tail.leading_edge[1], tail.chord)
    x, z = (np.interp(y, tail.leading_edge[1], tail.leading_edge[i]) for i in (0, 2))
    parts = [np.ones((3, strips)) for _ in wakes]
    for part, wake in zip(parts, wakes, strict=True):
        for i in np.flatnonzero(y < wake.half_span):
            part[:, i] = _with_doubt(wake, float(x[i] + chord[i] / 4), float(z[i]))
    kept = np.prod(parts, axis=0) if parts else np.ones((3, strips))
    return Band(*(1 - float((1 - k) @ chord / chord.sum()) for k in kept))


def _with_doubt(wake: Wake, station: float, waterline: float) -> tuple[float, float, float]:
    """Likely, low and high of what one wing leaves at a place."""
    middle = wake.middle(station)
    half = half_width(wake.drag, (station - wake.station) / wake.chord) * wake.chord
    away = waterline - middle
    nearest, furthest = (middle + math.copysign(a, away) for a in (max(abs(away) - half, 0.0), abs(away) + half))
    at = left(wake, station, np.array([waterline, nearest, furthest]))
    return float(at[0, 0]), float(at[1, 1]), float(at[2, 2])
