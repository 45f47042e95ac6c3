"""Smooth functions of angle of attack and elevator, through what the lattice says at a few angles of each.

    f(a, e) = k0(a) + k1(a) e + k2(a) e^2

Forces are exactly quadratic in the elevator at each angle of attack, because circulation and velocity are straight in
it; k0, k1, k2 go from node to node by cubic splines. A section's lift coefficient is a ratio of two straight functions,
quadratic to 1e-5. Outside the nodes the value is NaN.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline


@dataclass(frozen=True)
class Curve:
    """f(a, e), scalar or an array at each pair of angles."""

    parts: CubicSpline  # of a: (3, ...), k0 to k2
    slope: CubicSpline  # d/da of the same

    def at(self, a: np.ndarray, e: np.ndarray) -> np.ndarray:
        """f at angles of one shape (n,), rad: (n, ...)."""
        return _sum(self.parts(a), np.array([np.ones_like(e), e, e * e]))

    def slopes(self, a: np.ndarray, e: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(df/da, df/de) at angles of one shape (n,), rad."""
        by_a = _sum(self.slope(a), np.array([np.ones_like(e), e, e * e]))
        return by_a, _sum(self.parts(a), np.array([np.zeros_like(e), np.ones_like(e), 2 * e]))

    def plus_straight(self, slope: float) -> Curve:
        """This and `slope` times a, of a scalar f."""
        knots = self.parts.x
        values = np.array(self.parts(knots))
        values[:, 0] += slope * knots
        return _curve(knots, values)


def _sum(parts: np.ndarray, powers: np.ndarray) -> np.ndarray:
    return np.asarray(np.einsum("nk...,kn->n...", parts, powers))


def _curve(knots: np.ndarray, values: np.ndarray) -> Curve:
    spline = CubicSpline(knots, values, extrapolate=False)
    return Curve(spline, spline.derivative())


def through(alphas: Sequence[float], step: float, samples: Sequence[Sequence[float | np.ndarray]]) -> Curve:
    """The curve through samples at each of `alphas` (rad, rising) with the elevator at nought, step and -step (rad)."""
    middle, down, up = (np.array([row[i] for row in samples], dtype=float) for i in range(3))
    parts = np.stack([middle, (down - up) / (2 * step), (down + up - 2 * middle) / (2 * step**2)], axis=1)
    return _curve(np.asarray(alphas, dtype=float), parts)
