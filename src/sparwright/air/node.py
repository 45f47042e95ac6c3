"""The lattice turned into the stream and solved at one angle: boundary condition and forces to second order.

The wings stand at their true angle to the stream; the legs follow the chords to the trailing edge and trail along the
stream, so that every wing lies at its right height and place among the wakes of the others. Symbols, lengths m, speeds
over flight speed V:

    v      velocity of the air: the stream, all horseshoes, and the thickness of every other surface
    n, m   normal of the chord's plane; what a unit slope of the mean line adds to it
    s      slope of the mean line; f slope a hinge adds a radian; t twist of a strip, rad, nose up
    G, d   circulation over V and length vector of a bound vortex; q source strength over V
    H, l   circulation of the legs on the chord, the sum of G from the nose; length vector of a leg

    control points   (n + s m) . v = 0                                                          (1)
    force            F/(rho V^2) = G v x d + H (v x l) - q v'   v' without the surface's own part   (2)

(1) is the full condition: it holds the (1 + u) of neighbours times the local angle, and cos and sin of the angle. With
(n + s m) at rest the camber is met with the induced flow along the chord too. A hinge and a twist are small changes of
s about that: (n + s m) . v1 = -(f eta - t) m . v0, v0 the flow at no deflection; what a twist does to another twist
by way of u is left out (second order in twist times u).

(2) is Kutta's law with the local velocity, and Lagally's for the sources. A surface's own thickness acts neither on its
vortices nor they on it: that is the section's own affair (it comes with the section's lift curve) and would otherwise
count twice. On the chord a vortex sheet makes no velocity along itself, so nothing of a strip's own circulation is
in its u either. Along the span only the sidewash v_y acts on the legs; it is taken at the control points, straight
between them, nought in the plane of symmetry. All forces between the wings are then equal and opposite and the wakes
carry no drag, so that near-field drag must be the far wake's, 2 Sum G w; lift must be 2 Sum G dy but for what sidewash
does to the wakes.

Ground: the mirrored flow below a plane parallel to the stream. Range: wakes stay straight, low Mach number, attached
flow unless twist says otherwise.

Sources: falkner-1943 (horseshoes); glauert-1926 ch. XII; lagally-1922 (force on a source); naca-tr-121 (far wake);
naca-tm-77 (wing near the ground by its image).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from scipy.linalg import lu_factor, lu_solve

from sparwright.air import farwake
from sparwright.air.farwake import Trace
from sparwright.air.mesh import Mesh, turned_by
from sparwright.base.record import number


@dataclass(frozen=True)
class Basis:
    """What each of b unit changes does at one angle; the first is the wings as they are, the rest add to it.

    Rows of `values`: circulation (m); x, y, z of the flow at the bound vortices; the same three without the surface's
    own part; y of the flow at the control points.
    """

    values: np.ndarray  # (b, 8, n)

    @property
    def circulation(self) -> np.ndarray:
        """(b, n) m."""
        return self.values[:, 0]

    @property
    def others(self) -> np.ndarray:
        """(b, n) flow along the stream without the surface's own part."""
        return self.values[:, 4]

    def weighed(self, c: np.ndarray) -> np.ndarray:
        """(8, n) for amounts c (b,)."""
        return np.asarray((c @ self.values.reshape(len(c), -1)).reshape(self.values.shape[1:]))


@dataclass(frozen=True)
class Node:
    """The lattice solved at one angle."""

    mesh: Mesh
    alpha: float = number("rad", "angle of the thrust line to the stream")
    ground: float = number("m", "height of the ground in stream axes; minus infinity for none", -np.inf)
    factored: tuple[np.ndarray, np.ndarray] = field(default=(np.zeros(0), np.zeros(0)), repr=False)
    at_bound: np.ndarray = field(default_factory=lambda: np.zeros(0), repr=False)  # (n, 3 n) of unit circulations
    side: np.ndarray = field(default_factory=lambda: np.zeros(0), repr=False)  # (n, n) y at the control points
    own: tuple[np.ndarray, ...] = field(default=(), repr=False)  # by surface (m, 3, m): direct, on itself, at_bound's
    push: np.ndarray = field(default_factory=lambda: np.zeros(0), repr=False)  # (3, 2 n) of sources: control, bound
    tilting: np.ndarray = field(default_factory=lambda: np.zeros(0), repr=False)  # (n,) m . v0
    still: np.ndarray = field(default_factory=lambda: np.zeros(0), repr=False)  # (n,) G of the wings as they are

    @cached_property
    def plain(self) -> Basis:
        """As they are, and each hinge."""
        hinged = [self.solve(-slope * self.tilting) for slope in self.mesh.hinges.values()]
        return self._basis(np.array([self.still, *hinged]), first=True)

    @cached_property
    def twists(self) -> Basis:
        """Each strip twisted by a radian, nose up."""
        strips = int(self.mesh.strip[-1]) + 1
        asked = np.zeros((self.mesh.panels, strips))
        asked[np.arange(self.mesh.panels), self.mesh.strip] = self.tilting
        return self._basis(self.solve(asked).T, first=False)

    @cached_property
    def far(self) -> np.ndarray:
        """(strips, strips) K with far-wake D/q = G . K G."""
        return farwake.drag_matrix(_traces(self.mesh, self.alpha), self.ground)

    @cached_property
    def far_form(self) -> np.ndarray:
        """(b, b) the same on the plain basis."""
        g = self.mesh.by_strip(self.plain.circulation)
        return np.asarray(g @ self.far @ g.T)

    @cached_property
    def far_twists(self) -> tuple[np.ndarray, np.ndarray]:
        """(b, strips) and (strips, strips) the same, plain against twists and twists alone."""
        t = self.mesh.by_strip(self.twists.circulation)
        g = self.far @ t.T
        return self.mesh.by_strip(self.plain.circulation) @ g, t @ g

    def solve(self, asked: np.ndarray) -> np.ndarray:
        """(n, ...) circulation for a normal velocity asked for at the control points."""
        return np.asarray(lu_solve(self.factored, asked, check_finite=False) * self.mesh.scale)

    def answer(self, asked: np.ndarray) -> np.ndarray:
        """(8, n) rows of `Basis.values` that a normal velocity (n,) asked for at the control points makes."""
        return np.asarray(self._basis(self.solve(asked)[None], first=False).values[0])

    def _basis(self, g: np.ndarray, first: bool) -> Basis:
        b, n = g.shape
        values = np.empty((b, 8, n))
        values[:, 0], values[:, 7] = g, g @ self.side
        values[:, 1:4] = (g @ self.at_bound).reshape(b, 3, n)
        values[:, 4:7] = values[:, 1:4]
        for here, block in zip(self.mesh.blocks(), self.own, strict=True):
            size = here.stop - here.start
            values[:, 4:7, here] -= (g[:, here] @ block.reshape(size, -1)).reshape(b, 3, size)
        if first:
            values[0, 1] += 1.0
            values[0, 4] += 1.0
            values[0, 1:4] += self.push[:, n:]
            values[0, 4:7] += self.push[:, n:]
            values[0, 7] += self.push[1, :n]
        return Basis(values)


def _traces(lattice: Mesh, alpha: float) -> list[Trace]:
    """The wake of each surface far behind, from its trailing edge."""
    found = []
    for s, corner in zip(lattice.surfaces, lattice.edges(), strict=True):
        edge = turned_by(corner[:, -1], alpha)[1:]
        part = (s.middle[1] - s.edge[1, :-1]) / s.width
        found.append(farwake.trace_of(edge, edge[:, :-1] * (1 - part) + edge[:, 1:] * part))
    return found


def node(lattice: Mesh, alpha: float, ground: float = -np.inf) -> Node:
    """The lattice at one angle: matrix, factors, and the wings as they are.

    ground: height of the ground in stream axes, m; minus infinity for none.
    """
    from sparwright.air.inflow import inflow  # loads the compiler

    scale, n = lattice.scale, lattice.panels
    corners = turned_by(lattice.corners, alpha) / scale
    points = np.hstack([turned_by(p, alpha) for p in (lattice.control, lattice.bound)]) / scale
    kept = np.array([np.tile(lattice.surface != i, 2) for i in range(len(lattice.surfaces))], dtype=float)
    given = corners, lattice.chordwise, lattice.counts, lattice.source / scale
    air, push = inflow(*given, points, kept)
    own = tuple(air[b, :, n + b.start : n + b.stop] / scale for b in lattice.blocks())
    if np.isfinite(ground):
        mirror = np.array([[1.0], [1.0], [-1.0]])
        below = points * mirror + np.array([[0.0], [0.0], [2 * ground / scale]])
        image, pressed = inflow(*given, below, np.ones_like(kept))
        air, push = air + image * mirror, push + pressed * mirror
    normal, tilt = turned_by(lattice.normal, alpha), turned_by(lattice.tilt, alpha)
    met = normal + lattice.slope * tilt
    matrix = sum(met[i] * air[:, i, :n] for i in range(3))
    factored = lu_factor(np.asarray(matrix).T, overwrite_a=True, check_finite=False)
    stream = push[:, :n] + np.array([[1.0], [0.0], [0.0]])
    still = lu_solve(factored, -(met * stream).sum(0), check_finite=False)
    v0 = stream + (still @ air.reshape(n, -1)).reshape(3, -1)[:, :n]
    return Node(
        lattice, alpha, ground, factored, air[:, :, n:].reshape(n, -1) / scale, air[:, 1, :n] / scale, own, push,
        (tilt * v0).sum(0), still * scale,
    )  # fmt: skip
