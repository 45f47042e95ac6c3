"""Aerofoil sections as curves: NACA four- and five-digit families, or a plain table of x and y.

All in fractions of the chord, x from the leading edge aft, y up. A section is walked from the upper
trailing edge over the nose to the lower trailing edge.

Sources: four-digit family NACA TR 460 (Jacobs, Ward, Pinkerton 1933); five-digit family NACA TR 537
(Jacobs, Pinkerton, Greenberg 1935). Symbols as printed there: t greatest thickness, m camber, p its
place, k1 and m of the five-digit mean line.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from scipy.interpolate import CubicSpline

from sparwright.base.problem import DesignProblem
from sparwright.base.record import locked
from sparwright.family.model import Section

# mean-line number -> (m, k1) for a design lift of 0.3; NACA TR 537 table I, and the reflexed lines with k2/k1
PLAIN = {1: (0.0580, 361.4), 2: (0.1260, 51.64), 3: (0.2025, 15.957), 4: (0.2900, 6.643), 5: (0.3910, 3.230)}
REFLEX = {
    2: (0.1300, 51.99, 0.000764),
    3: (0.2170, 15.793, 0.00677),
    4: (0.3180, 6.520, 0.0303),
    5: (0.4410, 3.191, 0.1355),
}
FINE = 400  # intervals over each surface of the stored curve


def half_thickness(t: float, x: np.ndarray) -> np.ndarray:
    """y_t = t/0.20 (0.29690 sqrt x - 0.12600 x - 0.35160 x^2 + 0.28430 x^3 - 0.10150 x^4).

    t and the result in chords. The trailing edge is open by 0.0021 t/0.20. Source: NACA TR 460, eq. on p. 4.
    """
    return np.asarray(t / 0.20 * (0.29690 * np.sqrt(x) + x * (-0.12600 + x * (-0.35160 + x * (0.28430 - 0.10150 * x)))))


def four_digit_line(m: float, p: float, x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Mean line and its slope: two parabolas meeting at the greatest camber m at x = p. Source: NACA TR 460."""
    if m == 0 or p == 0:
        return np.zeros_like(x), np.zeros_like(x)
    ahead = x < p
    scale = np.where(ahead, m / p**2, m / (1 - p) ** 2)
    y = np.where(ahead, scale * (2 * p * x - x**2), scale * (1 - 2 * p + 2 * p * x - x**2))
    return y, scale * 2 * (p - x)


def five_digit_line(digits: str, x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Mean line and slope of a five-digit number such as 23012, design lift 0.15 times the first digit.

    y = k1/6 (x^3 - 3 m x^2 + m^2 (3 - m) x) ahead of m, k1 m^3/6 (1 - x) behind. Source: NACA TR 537.
    """
    scale, place, reflexed = int(digits[0]) * 0.15 / 0.3, int(digits[1]), digits[2] == "1"
    if reflexed:
        m, k1, ratio = REFLEX[place]
        k1 *= scale
        ahead = x < m
        common = -ratio * (1 - m) ** 3 * x - m**3 * x + m**3
        y = k1 / 6 * np.where(ahead, (x - m) ** 3 + common, ratio * (x - m) ** 3 + common)
        slope = k1 / 6 * (np.where(ahead, 3 * (x - m) ** 2, 3 * ratio * (x - m) ** 2) - ratio * (1 - m) ** 3 - m**3)
        return y, slope
    m, k1 = PLAIN[place]
    k1 *= scale
    ahead = x < m
    y = k1 / 6 * np.where(ahead, x**3 - 3 * m * x**2 + m**2 * (3 - m) * x, m**3 * (1 - x))
    slope = k1 / 6 * np.where(ahead, 3 * x**2 - 6 * m * x + m**2 * (3 - m), -(m**3))
    return y, slope


def naca_line(digits: str, x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Mean line and slope of a four- or five-digit number at x."""
    if len(digits) == 4:
        return four_digit_line(int(digits[0]) / 100, int(digits[1]) / 10, x)
    return five_digit_line(digits, x)


@lru_cache(maxsize=64)
def curve(section: Section) -> np.ndarray:
    """(2, 2 FINE + 1) points, upper tail to nose to lower tail, closely and evenly spaced in angle."""
    theta = np.linspace(0, np.pi, FINE + 1)
    if section.naca:
        x = (1 + np.cos(theta)) / 2
        y, slope = naca_line(section.naca, x)
        yt, angle = half_thickness(int(section.naca[-2:]) / 100, x), np.arctan(slope)
        upper = np.array([x - yt * np.sin(angle), y + yt * np.cos(angle)])
        lower = np.array([x + yt * np.sin(angle), y - yt * np.cos(angle)])
        return locked(np.hstack([upper, lower[:, -2::-1]]))
    return locked(_through(np.array(section.points, dtype=float).T, theta))


def _through(points: np.ndarray, theta: np.ndarray) -> np.ndarray:
    """A cubic spline in chord length through a table of points, sampled from tail to nose to tail."""
    length = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(points, axis=1)))])
    spline = CubicSpline(length, points, axis=1, bc_type="natural")
    nose = length[int(np.argmin(points[0]))]
    up = nose * (1 - (1 + np.cos(theta)) / 2)
    down = nose + (length[-1] - nose) * (1 - np.cos(theta)) / 2
    return np.asarray(spline(np.concatenate([up, down[1:]])))


def sides(points: np.ndarray, x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Upper and lower y at x, both in chords, of a walked curve."""
    n = points.shape[1] // 2
    upper, lower = points[:, n::-1], points[:, n:]
    return np.interp(x, upper[0], upper[1]), np.interp(x, lower[0], lower[1])


def mean_line(section: Section) -> np.ndarray:
    """(2, 101) mean line x, y in chords: the formula for a NACA number; for a table from its two sides.

    The thickness stands square on the mean line, so half-way between the sides straight up lies too high by
    slope (y_t^2)'/2, to first order in the slope; that is taken off. In the first hundredth of the chord
    0.13 % is left (4412).
    Worked out here, no source.
    """
    x = (1 - np.cos(np.linspace(0, np.pi, 101))) / 2
    if section.naca:
        return locked([x, naca_line(section.naca, x)[0]])
    upper, lower = sides(curve(section), x)
    half_way, leans = (upper + lower) / 2, np.gradient(((upper - lower) / 2) ** 2, x) / 2
    return locked([x, half_way - np.gradient(half_way, x) * leans])


def thickness_ratio(section: Section) -> float:
    """Greatest thickness in chords."""
    if section.naca:
        return int(section.naca[-2:]) / 100
    upper, lower = sides(curve(section), np.linspace(0, 1, 501))
    return float(np.max(upper - lower))


def outline(points: np.ndarray, chord: float, tolerance: float = 1e-5) -> np.ndarray:
    """Full-size closed outline (n, 2), m, anticlockwise from the upper tail, no repeated last point.

    Points are left out where the chord between those kept strays less than `tolerance` from the curve.
    Raises DesignProblem when the stored curve itself is too coarse for that at this chord.
    """
    full = points.T * chord
    if _sag(full).max() > tolerance * 2:
        raise DesignProblem(f"the section is too coarse for a chord of {chord:.3f} m: give more points round the nose")
    kept = _thin(full, tolerance / 2)
    return kept[:-1] if np.allclose(kept[0], kept[-1], rtol=0, atol=1e-9) else kept


def _sag(full: np.ndarray) -> np.ndarray:
    """How far a smooth curve strays from each chord between neighbours, from the turn at its ends, m."""
    a, b = full[1:-1] - full[:-2], full[2:] - full[1:-1]
    turn = np.abs(np.arctan2(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], np.sum(a * b, axis=1)))
    return np.asarray(np.maximum(np.hypot(*a.T), np.hypot(*b.T)) * turn / 8)


def _thin(full: np.ndarray, tolerance: float) -> np.ndarray:
    from shapely import LineString

    return np.asarray(LineString(full).simplify(tolerance, preserve_topology=False).coords)
