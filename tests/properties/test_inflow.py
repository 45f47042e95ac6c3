"""Horseshoes and line sources, one pair at a time with the left half laid out, against the compiled kernel."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.integrate import quad

from sparwright.air.inflow import inflow

ROWS, STRIPS = 2, np.array([3, 2])
MIRROR = np.array([1.0, -1.0, 1.0])


def segment(p: np.ndarray, a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Velocity at p of a unit vortex from a to b: r1 x r2/|r1 x r2|^2 (r0 . (r1/|r1| - r2/|r2|))/(4 pi)."""
    r1, r2 = p - a, p - b
    c = np.cross(r1, r2)
    return c / (c @ c) * ((b - a) @ (r1 / np.linalg.norm(r1) - r2 / np.linalg.norm(r2))) / (4 * np.pi)


def endless(p: np.ndarray, a: np.ndarray) -> np.ndarray:
    """Velocity at p of a unit vortex from a along +x: a segment 1e6 long."""
    return segment(p, a, a + np.array([1e6, 0.0, 0.0]))


def line_source(p: np.ndarray, a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Velocity at p of a line source of unit strength a metre, by quadrature."""
    long = np.linalg.norm(b - a)

    def at(s: float, i: int) -> float:
        r = p - a - (b - a) * s / long
        return float(r[i] / np.linalg.norm(r) ** 3 / (4 * np.pi))

    return np.array([quad(at, 0, long, args=(i,), epsabs=1e-12)[0] for i in range(3)])


def corners(seed: int) -> np.ndarray:
    """Two surfaces, each with two bent rows and a trailing edge."""
    pick = np.random.default_rng(seed)
    parts = []
    for m, z in zip(STRIPS, (0.0, 1.0), strict=True):
        y = np.sort(pick.uniform(0.1, 3, m + 1))
        for row in range(ROWS + 1):
            parts.append([row * 0.4 + pick.uniform(-0.1, 0.1, m + 1), y, z + pick.uniform(-0.1, 0.1, m + 1)])
    return np.hstack([np.array(p) for p in parts])


def horseshoe(p: np.ndarray, at: np.ndarray, row: int, j: int) -> np.ndarray:
    """Bound segment and both legs of one horseshoe and of its mirror; at (3, ROWS + 1, m + 1)."""
    found = np.zeros(3)
    for flip in (np.ones(3), MIRROR):
        points = at * flip[:, None, None]
        v = segment(p, points[:, row, j], points[:, row, j + 1])
        for e, sign in ((j + 1, 1), (j, -1)):
            path = [segment(p, points[:, r, e], points[:, r + 1, e]) for r in range(row, ROWS)]
            v = v + sign * (sum(path) + endless(p, points[:, ROWS, e]))
        found += v if flip[1] > 0 else -v  # mirrored, the same sense of turning runs from tip to root
    return found


@pytest.mark.parametrize("seed", range(4))
def test_kernel_is_the_printed_law(seed: int) -> None:
    at, pick = corners(seed), np.random.default_rng(seed + 100)
    points, source = pick.uniform(-2, 3, (3, 5)), pick.uniform(-1, 1, int(ROWS * STRIPS.sum()))
    kept = pick.integers(0, 2, (2, 5)).astype(float)
    found, push = inflow(at, ROWS, STRIPS, source, points, kept)
    v, start, wanted = 0, 0, np.zeros((3, 5))
    for k, m in enumerate(STRIPS):
        mine = at[:, start : start + (ROWS + 1) * (m + 1)].reshape(3, ROWS + 1, m + 1)
        for row in range(ROWS):
            for j in range(m):
                for i in range(5):
                    p = points[:, i]
                    assert_allclose(found[v, :, i], horseshoe(p, mine, row, j), rtol=1e-6, atol=1e-7)
                    ends = mine[:, row, j], mine[:, row, j + 1]
                    both = line_source(p, *ends) + line_source(p, *(MIRROR * e for e in ends))
                    wanted[:, i] += source[v] * kept[k, i] * both
                v += 1
        start += (ROWS + 1) * (m + 1)
    assert_allclose(push, wanted, rtol=1e-6, atol=1e-8)


def test_a_bound_segment_does_nothing_on_itself() -> None:
    """Along its own line, where the law is 0/0."""
    at = np.array([[0.0, 0.0, 1.0, 1.0], [0.0, 2.0, 0.0, 2.0], [0.0] * 4])
    found, _ = inflow(at, 1, np.array([1]), np.zeros(1), np.array([[0.0], [1.0], [0.0]]), np.zeros((1, 1)))
    assert np.all(np.isfinite(found))
    assert_allclose(found[0, 0], 0, rtol=0, atol=1e-9)
