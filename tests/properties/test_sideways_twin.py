"""Small odd motions against a plain lattice of both halves solved at a small motion, twin of the kernel.

The twin lays every horseshoe of both sides and of the fin, turns the endless legs by the sideslip, solves, sums forces
over all panels, and takes the difference of a motion and its opposite. It knows nothing of mirrors or of derivatives.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.air.mesh import Mesh
from sparwright.air.sideways import sideways
from sparwright.air.turned import turned
from sparwright.air.upright import Chord, Upright, upright
from sparwright.shape.planform import Planform

FLAT = {"flat": np.array([[0.0, 1.0], [0.0, 0.0]])}
ROWS, STEP = 3, 1e-4
CENTRE = (0.4, 0.3)


def piece(a: np.ndarray, b: np.ndarray, p: np.ndarray) -> np.ndarray:
    ra, rb, d = p - a, p - b, b - a
    la, lb = np.linalg.norm(ra, axis=-1), np.linalg.norm(rb, axis=-1)
    cross = np.cross(d, ra)
    k = (la + lb) / (la * lb * (la * lb + (ra * rb).sum(-1)) + 1e-10)
    return cross * k[..., None] / (4 * math.pi)


def endless(b: np.ndarray, e: np.ndarray, p: np.ndarray) -> np.ndarray:
    r = p - b
    length, along = np.linalg.norm(r, axis=-1), r @ e
    cross = np.cross(e, r)
    k = (length + along) / (length * ((cross**2).sum(-1) + 1e-12))
    return cross * k[..., None] / (4 * math.pi)


class Panels:
    """One surface of one side: horseshoes from `corners` (rows + 1, strips + 1, 3), both ends of every bound vortex."""

    def __init__(self, corners: np.ndarray, control: np.ndarray, bound: np.ndarray, normal: np.ndarray,
                 stations: np.ndarray) -> None:  # fmt: skip
        self.corners, self.control, self.bound, self.normal, self.stations = corners, control, bound, normal, stations

    def velocity(self, row: int, strip: int, e: np.ndarray, p: np.ndarray) -> np.ndarray:
        left, right = self.corners[row:, strip], self.corners[row:, strip + 1]
        v = piece(left[0], right[0], p)
        for a, b in zip(right[:-1], right[1:], strict=True):
            v = v + piece(a, b, p)
        for a, b in zip(left[:-1], left[1:], strict=True):
            v = v - piece(a, b, p)
        return v + endless(right[-1], e, p) - endless(left[-1], e, p)


def panels_of(mesh: Mesh) -> list[Panels]:
    """Both sides of every surface, each strip from its left end to its right."""
    found, mirror = [], np.array([1.0, -1.0, 1.0])
    for s, here, edge in zip(mesh.surfaces, mesh.blocks(), mesh.edges(), strict=True):
        shape = (mesh.chordwise, s.chord.size, 3)
        corners = np.moveaxis(edge, 0, -1)
        control, bound = (v[:, here].T.reshape(shape) for v in (mesh.control, mesh.bound))
        normal = (mesh.normal + mesh.slope * mesh.tilt)[:, here].T.reshape(shape)
        found.append(Panels(corners, control, bound, normal, s.middle[1]))
        turn = (slice(None), slice(None, None, -1))
        found.append(
            Panels(corners[turn] * mirror, *(v[turn] * mirror for v in (control, bound, normal)), -s.middle[1][::-1])
        )
    return found


def fin_panels(fin: Upright) -> Panels:
    shape = (ROWS, fin.strips, 3)
    corners = np.moveaxis(fin.corners.reshape(3, ROWS + 1, fin.strips + 1), 0, -1)
    normal = np.tile([0.0, 1.0, 0.0], (ROWS, fin.strips, 1))
    return Panels(corners, fin.control.T.reshape(shape), fin.bound.T.reshape(shape), normal, np.zeros(fin.strips))


def sums(surfaces: list[Panels], fin: Panels | None, centre: np.ndarray, slope: np.ndarray, motion: tuple[float, ...]
         ) -> np.ndarray:  # fmt: skip
    """(side, roll, yaw) over q; slope: of the mean line by panel of the fin; motion: sideslip, roll, yaw."""
    beta, p, r = motion
    e = np.array([math.cos(beta), -math.sin(beta), 0.0])
    every = [*surfaces, *([fin] if fin else [])]

    def onset(at: np.ndarray) -> np.ndarray:
        x, y, z = np.moveaxis(at - centre, -1, 0)
        none = np.zeros_like(x)
        return np.asarray(e) + p * np.stack([none, -z, y], -1) + r * np.stack([-y, x, none], -1)

    control = np.concatenate([s.control.reshape(-1, 3) for s in every])
    bound = np.concatenate([s.bound.reshape(-1, 3) for s in every])
    normal = np.concatenate([s.normal.reshape(-1, 3) for s in every])
    shoes = [(s, i, j) for s in every for i in range(ROWS) for j in range(s.control.shape[1])]
    at = np.array([s.velocity(i, j, e, control) for s, i, j in shoes])
    on = np.array([s.velocity(i, j, e, bound) for s, i, j in shoes])
    asked = -(normal * onset(control)).sum(1)
    asked[asked.size - slope.size :] += slope  # on the fin, in the free stream
    g = np.linalg.solve(np.einsum("ni,uni->nu", normal, at), asked)
    v_at, v_on = (onset(q) + np.tensordot(g, u, axes=(0, 0)) for q, u in ((control, at), (bound, on)))
    total, start = np.zeros(3), 0

    def add(where: np.ndarray, force: np.ndarray) -> None:
        (x, y, z), (fx, fy, fz) = where - centre, force
        total[:] += 2 * np.array([fy, z * fy - y * fz, y * fx - x * fy])

    for s in every:
        m = s.control.shape[1]
        own = g[start : start + ROWS * m].reshape(ROWS, m)
        here_on, here_at = (v[start : start + ROWS * m].reshape(ROWS, m, 3) for v in (v_on, v_at))
        carried = np.cumsum(own, axis=0)
        upright_one = s is fin
        for i in range(ROWS):
            for j in range(m):
                d = s.corners[i, j + 1] - s.corners[i, j]
                v = np.array([1.0, 0.0, 0.0]) if upright_one else here_on[i, j]
                add(s.bound[i, j], own[i, j] * np.cross(v, d))
            if upright_one:
                continue
            for k in range(m + 1):
                strength = (carried[i, k - 1] if k > 0 else 0.0) - (carried[i, k] if k < m else 0.0)
                y = s.corners[i, k, 1]
                if abs(y) < 1e-9:  # the two halves' legs lie together: their force is that of the sum
                    continue
                side = np.concatenate([here_at[i, :, 1], _other(surfaces, s, v_at, i)])
                stations = np.concatenate([s.stations, -s.stations])
                order = np.argsort(stations)
                sidewash = _straight(y, stations[order], side[order])
                leg = s.corners[i + 1, k] - s.corners[i, k]
                force = strength * sidewash * np.array([leg[2], 0.0, -leg[0]])
                add((s.corners[i, k] + s.corners[i + 1, k]) / 2, force)
        start += ROWS * m
    return total


def _other(surfaces: list[Panels], s: Panels, v_at: np.ndarray, row: int) -> np.ndarray:
    """Sidewash at the other side's control points, in the order of this side's."""
    k = surfaces.index(s)
    other = k + 1 if k % 2 == 0 else k - 1
    starts = np.cumsum([0, *(ROWS * x.control.shape[1] for x in surfaces)])
    m = s.control.shape[1]
    return np.asarray(v_at[starts[other] : starts[other + 1]].reshape(ROWS, m, 3)[row, ::-1, 1])


def _straight(y: float, at: np.ndarray, v: np.ndarray) -> float:
    i = int(np.clip(np.searchsorted(at, y) - 1, 0, at.size - 2))
    part = (y - at[i]) / (at[i + 1] - at[i])
    return float(v[i] * (1 - part) + v[i + 1] * part)


def wing(name: str, x: float, z: float, sweep: float, dihedral: float, half: float, is_tail: bool = False) -> Planform:
    edge = np.array([[x, x + half * sweep], [0.0, half], [z, z + half * dihedral]])
    return Planform(name, edge, np.array([1.0, 0.7]), np.zeros(2), ("flat", "flat"), is_tail=is_tail)


CASES = {
    "one": ((wing("a", 0.0, 0.0, 0.2, 0.1, 2.5),), False),
    "two and a tail with a fin": (
        (wing("a", 0.0, 0.0, 0.1, 0.05, 2.5), wing("b", -0.4, 1.1, 0.0, 0.0, 2.0),
         wing("t", 4.0, 0.3, 0.2, 0.0, 1.0, True)),
        True,
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_against_the_whole_lattice(case: str) -> None:
    planforms, tailed = CASES[case]
    alpha = 0.08
    lattice = turned(planforms, FLAT, FLAT, [alpha], chordwise=ROWS, spanwise=5)
    state = lattice.state(alpha)
    fin = upright((3.9, 0.0, 0.3), 0.9, (0.9, 0.6), 0.3, 0.6, Chord(4.0, 0.3, 0.0), ROWS) if tailed else None
    ours = sideways(state, CENTRE, fin, spread=False)
    turn = np.array([[math.cos(alpha), 0, math.sin(alpha)], [0, 1, 0], [-math.sin(alpha), 0, math.cos(alpha)]])
    surfaces = panels_of(lattice.mesh)
    upright_one = fin_panels(fin) if fin else None
    for s in [*surfaces, *([upright_one] if upright_one else [])]:
        s.corners, s.control, s.bound, s.normal = (v @ turn.T for v in (s.corners, s.control, s.bound, s.normal))
    centre, none = turn @ [CENTRE[0], 0.0, CENTRE[1]], np.zeros(fin.panels if fin else 0)
    asked = {"sideslip": (none, (STEP, 0, 0)), "roll": (none, (0, STEP, 0)), "yaw": (none, (0, 0, STEP))}
    if fin:
        asked["rudder"] = (-STEP * fin.flap, (0, 0, 0))
    for name, (slope, motion) in asked.items():
        ends = [sums(surfaces, upright_one, centre, k * slope, tuple(k * v for v in motion)) for k in (1, -1)]
        theirs = (ends[0] - ends[1]) / (2 * STEP)
        both = ours.both(name)
        assert_allclose([both.side, both.roll, both.yaw], theirs, rtol=2e-4, atol=2e-5, err_msg=name)
