"""The influence matrix three times: as the law of Biot and Savart is printed, in numpy, and compiled."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose, assert_array_equal

from sparwright.air.wash import compiled, plain


def segment(p: np.ndarray, a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Velocity at p of a unit vortex from a to b: r1 x r2/|r1 x r2|^2 (r0 . (r1/|r1| - r2/|r2|))/(4 pi)."""
    r1, r2 = p - a, p - b
    c = np.cross(r1, r2)
    return c / (c @ c) * ((b - a) @ (r1 / np.linalg.norm(r1) - r2 / np.linalg.norm(r2))) / (4 * np.pi)


def leg(p: np.ndarray, a: np.ndarray) -> np.ndarray:
    """Velocity at p of a unit vortex from a along +x without end."""
    r = p - a
    across = np.array([0.0, r[1], r[2]])
    h2 = across @ across
    return np.cross([1.0, 0, 0], across) / h2 * (1 + r[0] / np.linalg.norm(r)) / (4 * np.pi)


def scalar(corners: np.ndarray, rows: np.ndarray, points: np.ndarray, normal: np.ndarray) -> np.ndarray:
    """Downward normal wash, one pair at a time, the left half as its own vortices."""
    mirror = np.array([1.0, -1.0, 1.0])
    out = np.zeros((rows[-1, 1] + rows[-1, 2], points.shape[1]))
    for first, panel, strips in rows:
        for j in range(strips):
            a, b = corners[:, first + j], corners[:, first + j + 1]
            for i in range(points.shape[1]):
                v = np.zeros(3)
                for inner, outer in ((a, b), (mirror * b, mirror * a)):
                    p = points[:, i]
                    v += segment(p, inner, outer) + leg(p, outer) - leg(p, inner)
                out[panel + j, i] = -(normal[0, i] * v[1] + normal[1, i] * v[2])
    return out


def case(seed: int, points: int = 23) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Two rows of bent horseshoes and points anywhere."""
    pick = np.random.default_rng(seed)
    y = np.concatenate([np.sort(pick.uniform(0, 3, 5)), np.sort(pick.uniform(0, 3, 4))])
    corners = np.array([pick.uniform(-1, 1, 9), y, pick.uniform(-1, 1, 9)])
    tilt = pick.uniform(-0.6, 0.6, points)
    return (
        corners,
        np.array([[0, 0, 4], [5, 4, 3]]),
        pick.uniform(-3, 3, (3, points)),
        np.array([np.sin(tilt), np.cos(tilt)]),
    )


@pytest.mark.parametrize("seed", range(5))
def test_plain_is_the_printed_law(seed: int) -> None:
    given = case(seed)
    assert_allclose(plain(*given), scalar(*given), rtol=1e-6, atol=1e-8)  # CORE and TOUCH are the difference


@pytest.mark.long
@pytest.mark.parametrize("seed", range(5))
def test_compiled_gives_the_same_bits(seed: int) -> None:
    given = case(seed, 301)
    assert_array_equal(compiled()(*given), plain(*given))
