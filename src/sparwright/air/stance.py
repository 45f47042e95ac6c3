"""All surfaces together at one angle, ready for any elevator and any twist of the strips.

What the lattice turned into the stream says there is straight in the amounts

    c = (1, hinge angles, twist of every strip)          b of them, rad

for circulations and speeds, and a quadratic form in them for forces: F = c . Q c. Here the forms are made once for an
angle, so that a state costs a product of small matrices (turned.py makes the forces of one state panel by panel; the
two are the same sums). Symbols as in node.py; forces over q of both halves, m2, moments over q, m3, nose up.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from sparwright.air.mesh import turned_by
from sparwright.air.node import Node
from sparwright.air.turned import Company
from sparwright.base.record import number


def slopes_of(form: np.ndarray, c: np.ndarray) -> np.ndarray:
    """(b,) d(c . Q c)/dc of a form Q at amounts c."""
    return np.asarray((form + form.T) @ c)


@dataclass(frozen=True)
class Stance:
    """One angle: rows of circulation and onset by strip, and the forms of the forces."""

    company: Company = field(repr=False)
    alpha: float = number("rad", "angle of the thrust line to the stream")
    circulation: np.ndarray = field(repr=False, default_factory=lambda: np.zeros(0))  # (b, strips) m, over flight speed
    onset: np.ndarray = field(repr=False, default_factory=lambda: np.zeros(0))  # (b, strips) 1 + u
    up: np.ndarray = field(repr=False, default_factory=lambda: np.zeros(0))  # (surfaces, b, b) m2, square to the stream
    along: np.ndarray = field(repr=False, default_factory=lambda: np.zeros(0))  # (b, b) m2
    turning: np.ndarray = field(repr=False, default_factory=lambda: np.zeros(0))  # (b, b) m3 about the axes' origin
    far: np.ndarray = field(repr=False, default_factory=lambda: np.zeros(0))  # (b, b) m2, drag from the far wake

    def amounts(self, deflection: Mapping[str, float] | None = None, twist: np.ndarray | None = None) -> np.ndarray:
        """c (b,) of deflections by surface and twists (strips,), rad."""
        hinged = [dict(deflection or {}).get(name, 0.0) for name in self.company.hinged]
        strips = np.zeros(self.circulation.shape[1]) if twist is None else np.asarray(twist, dtype=float)
        return np.concatenate([[1.0], hinged, strips])

    def section_lift(self, c: np.ndarray) -> np.ndarray:
        """(strips,) the section's lift coefficient 2 G/((1 + u) chord)."""
        return np.asarray(2 * (c @ self.circulation) / ((c @ self.onset) * self.company.chords))

    def section_slopes(self, c: np.ndarray) -> np.ndarray:
        """(strips, b) d(section lift)/dc."""
        u, cl = c @ self.onset, self.section_lift(c)
        return np.asarray((2 * self.circulation / self.company.chords - cl * self.onset) / u).T

    def lift(self, c: np.ndarray) -> float:
        """CL on the reference area."""
        return float(c @ self.whole @ c) / self.company.reference.area

    @cached_property
    def whole(self) -> np.ndarray:
        """(b, b) m2, square to the stream, of all surfaces."""
        return np.asarray(self.up.sum(0))

    def surface_lift(self, c: np.ndarray) -> np.ndarray:
        """(surfaces,) m2, lift over q of each surface."""
        return np.asarray(np.einsum("i,sij,j->s", c, self.up, c))

    def induced_drag(self, c: np.ndarray) -> float:
        """CDi from the far wake."""
        return float(c @ self.far @ c) / self.company.reference.area

    def moment_form(self, station: float, waterline: float) -> np.ndarray:
        """(b, b) form of the moment coefficient about a point in body axes."""
        x, _, z = turned_by(np.array([station, 0.0, waterline]), self.alpha)
        ref = self.company.reference
        return np.asarray(self.turning - z * self.along + x * self.whole) / (ref.area * ref.chord)


Weights = np.ndarray | None  # (n,); None for noughts
KEPT = 128  # stances between the nodes that a company keeps
FORMS = ("circulation", "onset", "up", "along", "turning", "far")


@dataclass(frozen=True)
class Stances:
    """The company at its node angles; at angles between, circulations, onsets and forms go by the same spline."""

    company: Company
    nodes: tuple[Stance, ...]

    def at(self, alpha: float) -> Stance:
        """The company at an angle, rad. Raises ValueError outside its range."""
        if alpha not in self._made:
            if len(self._made) >= KEPT:
                self._made.clear()
            self._made[alpha] = self._at(alpha)
        return self._made[alpha]

    @cached_property
    def _made(self) -> dict[float, Stance]:
        """Those asked for before, by their angles: lines of one aeroplane go by the same."""
        return {}

    def _at(self, alpha: float) -> Stance:
        near = self.company.weights(alpha)
        if len(near) == 1:
            return self.nodes[near[0][1]]
        flat, found, start = np.array([w for w, _ in near]) @ self._stacked, {}, 0
        for name in FORMS:
            like = getattr(self.nodes[0], name)
            found[name] = flat[start : start + like.size].reshape(like.shape)
            start += like.size
        return Stance(self.company, alpha, **found)

    @cached_property
    def _stacked(self) -> np.ndarray:
        """(nodes, all numbers of a stance)."""
        return np.array([np.concatenate([getattr(n, name).ravel() for name in FORMS]) for n in self.nodes])


def stances(company: Company) -> Stances:
    """A company ready at every angle of its range."""
    return Stances(company, tuple(_of(company, n) for n in company.nodes))


def _of(company: Company, n: Node) -> Stance:
    """The company at a node's own angle."""
    lattice, alpha = company.mesh, n.alpha
    values = np.concatenate([n.plain.values, n.twists.values])
    g = values[:, 0]
    dx, dy, dz = turned_by(lattice.segment, alpha)
    flow = values[:, 1], values[:, 2], values[:, 3]
    pull_x, pull_z = flow[1] * dz - flow[2] * dy, flow[0] * dy - flow[1] * dx  # (b, n), of a unit circulation
    legs, carried = lattice.pulls(values[:, 7], alpha), lattice.carried(g)
    bound, control = turned_by(lattice.bound, alpha), turned_by(lattice.control, alpha)
    drag_x, drag_z = values[:, 4] * lattice.strength, values[:, 6] * lattice.strength

    def form(here: slice, by_x: Weights, by_z: Weights, x: Weights, z: Weights) -> np.ndarray:
        """Both halves of Sum of by_x Fx + by_z Fz over the panels: weights at bound vortices, then at controls."""
        whole = np.zeros((len(g), len(g)))
        for own, by, other in ((g, by_x, pull_x), (g, by_z, pull_z), (carried, x, legs[0]), (carried, z, legs[1])):
            if by is not None:
                whole += (own[:, here] * by[here]) @ other[:, here].T
        for drag, by in ((drag_x, by_x), (drag_z, by_z)):
            if by is not None:
                whole[0] -= drag[:, here] @ by[here]
        return np.asarray(4 * whole)

    one, none, every = np.ones(lattice.panels), None, slice(None)
    cross, alone = n.far_twists
    return Stance(
        company, alpha, lattice.by_strip(g), lattice.by_strip(values[:, 4] * company.plate_weights),
        np.array([form(b, none, one, none, one) for b in lattice.blocks()]), form(every, one, none, one, none),
        form(every, bound[2], -bound[0], control[2], -control[0]), np.block([[n.far_form, cross], [cross.T, alone]]),
    )  # fmt: skip
