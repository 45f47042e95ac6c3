"""Potential flow past a section with sources on its surface and along its wake.

The potential inside the section is nothing, so the jump across its surface is the potential outside. It runs straight
from node to node of n panels (mu, n + 1 values), and its jump mu_w is carried away along the wake:

    V . r + sum mu D + mu_w angle/(2 pi) + sum sigma S = 0      at the middle of each panel, inside
    speed of the first panel + speed of the last panel = 0      (Kutta; both count along the walk)
    the two speeds next to the tail lie on their neighbours' line, summed over both sides

The last condition settles the one shape that the others leave free on a symmetrical section. Speeds are differences of
mu, so they belong to the panels' middles; sources stand between neighbouring middles. Source of the kind of method:
katz-plotkin-2001 ch. 11 (Dirichlet condition on the inner potential); the tail conditions are worked out here.

Walk: upper tail, nose, lower tail; lengths in chords, speeds over flight speed. Complex: x + iy, velocity u - iv.
Range: incompressible; a sharp tail (contour.py closes it).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from scipy.linalg import lu_factor, lu_solve

from sparwright.air.flow.closure import quick
from sparwright.base.record import number

PI = math.pi


@quick
def sheet(start: np.ndarray, stop: np.ndarray, at: np.ndarray, own: bool) -> tuple[Any, ...]:
    """Potential at points of straight segments: (first node's doublet, second's, unit source), (points, segments) each.

    own: point i lies in the middle of segment i, on its left (inner) side.
    """
    n, m = len(start), len(at)
    first, second, source = np.empty((m, n)), np.empty((m, n)), np.empty((m, n))
    for j in range(n):
        d = stop[j] - start[j]
        length = abs(d)
        e = d.conjugate() / length
        for i in range(m):
            z = (at[i] - start[j]) * e
            if own and i == j:
                z = complex(0.5 * length, 0.0)
            y = z - length
            near, far = z.real * z.real + z.imag * z.imag, y.real * y.real + y.imag * y.imag
            la = 0.5 * math.log(near) if near > 1e-26 else 0.0
            lb = 0.5 * math.log(far) if far > 1e-26 else 0.0
            ta, tb = math.atan2(z.imag, z.real), math.atan2(y.imag, y.real)
            if own and i == j:
                ta, tb = 0.0, PI
            # q = ln(z/(z - length)); b = (z q - length)/length
            qr, qi = la - lb, ta - tb
            bi = (z.real * qi + z.imag * qr) / length
            first[i, j], second[i, j] = (qi - bi) / (2 * PI), bi / (2 * PI)
            source[i, j] = (z.real * la - z.imag * ta - y.real * lb + y.imag * tb - length) / (2 * PI)
    return first, second, source


@quick
def stream(start: np.ndarray, stop: np.ndarray, at: np.ndarray) -> np.ndarray:
    """(points, segments) complex velocity u - iv of unit sources on straight segments; unit vortices: 1j times it."""
    out = np.empty((len(at), len(start)), np.complex128)
    for j in range(len(start)):
        d = stop[j] - start[j]
        length = abs(d)
        e = d.conjugate() / length
        for i in range(len(at)):
            z = (at[i] - start[j]) * e
            y = z - length
            q = complex(
                0.5 * math.log((z.real**2 + z.imag**2) / (y.real**2 + y.imag**2)),
                math.atan2(z.imag, z.real) - math.atan2(y.imag, y.real),
            )
            out[i, j] = q * e / (2 * PI)
    return out


def halves(nodes: np.ndarray) -> np.ndarray:
    """(2n + 1,) nodes with the panels' middles between them."""
    out = np.empty(2 * len(nodes) - 1, complex)
    out[::2], out[1::2] = nodes, (nodes[1:] + nodes[:-1]) / 2
    return out


def by_node(half_panels: np.ndarray) -> np.ndarray:
    """(..., n + 1): the two half panels that meet at each node together, from (..., 2n)."""
    out = np.zeros((*half_panels.shape[:-1], half_panels.shape[-1] // 2 + 1), half_panels.dtype)
    out[..., :-1] += half_panels[..., ::2]
    out[..., 1:] += half_panels[..., 1::2]
    return out


@dataclass(frozen=True)
class Potential:
    """A section made ready: its panels, its factored matrix, and what unit sources on it do."""

    nodes: np.ndarray  # (n + 1,) complex
    middle: np.ndarray  # (n,) complex
    length: np.ndarray  # (n,)
    slope: np.ndarray  # (n, n + 1): speeds of the panels from mu
    factors: tuple[np.ndarray, np.ndarray]
    unit: np.ndarray  # (n + 1, 2): mu for the stream along x and along y
    lifting: np.ndarray  # (2,): mu_w for the same
    source: np.ndarray  # (n + 1, n + 1): mu for a unit source at each node

    @property
    def panels(self) -> int:
        """How many panels."""
        return len(self.middle)

    def mu(self, alpha: float) -> np.ndarray:
        """(n + 1,) potential at the nodes at an angle, rad, without sources."""
        return np.asarray(self.unit @ np.array([math.cos(alpha), math.sin(alpha)]))

    def speeds(self, alpha: float) -> np.ndarray:
        """(n,) speed along the walk at the panels' middles."""
        return np.asarray(self.slope @ self.mu(alpha))

    def lift(self, alpha: float) -> float:
        """Lift coefficient of the potential flow, 2 Gamma/(V c)."""
        return float(-2 * self.lifting @ np.array([math.cos(alpha), math.sin(alpha)]))

    def answer(self, potential: np.ndarray) -> np.ndarray:
        """(n + 1, k) mu that cancels a potential (n, k) inside."""
        asked = np.zeros((self.panels + 2, potential.shape[1]))
        asked[: self.panels] = -potential
        return np.asarray(lu_solve(self.factors, asked, check_finite=False)[: self.panels + 1])


def potential(nodes: np.ndarray) -> Potential:
    """A section made ready. nodes: (n + 1,) complex, walked, first and last one point, chord 1.

    Cost: one matrix of n + 2, factored once. The angle of the stream costs nothing afterwards.
    """
    n = len(nodes) - 1
    middle, length = (nodes[1:] + nodes[:-1]) / 2, np.abs(np.diff(nodes))
    first, second, _ = sheet(nodes[:-1], nodes[1:], middle, True)
    slope = np.zeros((n, n + 1))
    i = np.arange(n)
    slope[i, i], slope[i, i + 1] = -1 / length, 1 / length
    m = np.zeros((n + 2, n + 2))
    m[:n, :n] += first
    m[:n, 1 : n + 1] += second
    m[:n, n + 1] = np.angle(-(middle - nodes[0]) * np.conj(tail_direction(nodes))) / (2 * PI)
    m[n, : n + 1] = slope[0] + slope[n - 1]
    m[n + 1, : n + 1] = _bend(slope, length, (0, 1, 2)) - _bend(slope, length, (n - 1, n - 2, n - 3))
    factors = lu_factor(m, check_finite=False)
    asked = np.zeros((n + 2, 2))
    asked[:n] = -np.array([middle.real, middle.imag]).T
    unit = lu_solve(factors, asked)
    cut = halves(nodes)
    inside = by_node(sheet(cut[:-1], cut[1:], middle, False)[2])
    asked = np.zeros((n + 2, n + 1))
    asked[:n] = -inside
    return Potential(nodes, middle, length, slope, factors, unit[: n + 1], unit[n + 1],
                     lu_solve(factors, asked)[: n + 1])  # fmt: skip


def _bend(slope: np.ndarray, length: np.ndarray, at: tuple[int, int, int]) -> np.ndarray:
    a, b, c = at
    f = (length[b] + length[a]) / (length[b] + length[c])
    return np.asarray(slope[a] - slope[b] - (slope[b] - slope[c]) * f)


def tail_direction(nodes: np.ndarray) -> complex:
    """Unit vector that halves the tail's angle, downstream."""
    out = (nodes[0] - nodes[1]) / abs(nodes[0] - nodes[1]) + (nodes[-1] - nodes[-2]) / abs(nodes[-1] - nodes[-2])
    return complex(out / abs(out))


@dataclass(frozen=True)
class Flow:
    """A section and its wake at one angle: speeds without sources, and what each source adds."""

    alpha: float = number("rad", "angle of the stream to the chord")
    base: np.ndarray = field(
        default_factory=lambda: np.zeros(0)
    )  # (n + w,) speed along the walk on the section, downstream in the wake
    source: np.ndarray = field(default_factory=lambda: np.zeros(0))  # (n + w, n + 1 + w + 1)
    wake: np.ndarray = field(default_factory=lambda: np.zeros(0))  # (w + 1,) complex nodes


def with_wake(section: Potential, alpha: float, steps: np.ndarray) -> Flow:
    """The section at an angle (rad) with its wake laid along the stream of the potential flow.

    steps: (w,) lengths of the wake's panels, chords.
    """
    mu, n, w = section.mu(alpha), section.panels, len(steps)
    nodes = _wake(section, mu, alpha, steps)
    cut = halves(nodes)
    on_wing = by_node(sheet(cut[:-1], cut[1:], section.middle, False)[2])
    answer = np.hstack([section.source, section.answer(on_wing)])
    along = np.diff(nodes) / steps
    middle = (nodes[1:] + nodes[:-1]) / 2
    vortex = (-1j * stream(section.nodes[:-1], section.nodes[1:], middle) * along[:, None]).real
    wing_cut = halves(section.nodes)
    wing = by_node((stream(wing_cut[:-1], wing_cut[1:], middle) * along[:, None]).real)
    own = np.diff(by_node(sheet(cut[:-1], cut[1:], nodes, False)[2]), axis=0) / steps[:, None]
    base = np.empty(n + w)
    base[:n] = section.slope @ mu
    base[n:] = (np.exp(-1j * alpha) * along).real + vortex @ base[:n]
    source = np.empty((n + w, n + w + 2))
    source[:n] = section.slope @ answer
    source[n:] = vortex @ source[:n] + np.hstack([wing, own])
    return Flow(alpha, base, source, nodes)


def _wake(section: Potential, mu: np.ndarray, alpha: float, steps: np.ndarray) -> np.ndarray:
    """(w + 1,) nodes from the tail down the stream: each step in the direction of the stream at the one before."""
    start, stop, g = section.nodes[:-1], section.nodes[1:], section.slope @ mu
    out = np.empty(len(steps) + 1, complex)
    out[0], way = section.nodes[0], tail_direction(section.nodes)
    for k, step in enumerate(steps):
        if k:
            here = np.exp(-1j * alpha) - 1j * (stream(start, stop, out[k : k + 1] + 0 * way)[0] @ g)
            way = np.conj(here) / abs(here)
        out[k + 1] = out[k] + step * way
    return out
