"""All lifting surfaces together, the lattice turned into the stream: up to and past the greatest lift.

    company = turned(planforms, camber, thickness)           once: one matrix for each of a few angles
    loads = company.state(alpha, {"tailplane": d}, twist)    any number of times

At each node angle the wings stand at their true angle to the stream and the wakes trail along it; the theory is in
node.py. A strip's onset, 1 + u, is the flow along the stream at its bound vortices from all but its own surface,
weighted as a plate carries its lift; its section sees the lift coefficient 2 G/((1 + u) c). At angles between the nodes
circulations and velocities are carried by the cubic spline through them (scipy, not-a-knot), and forces made of those.

Range: the nodes' own; see node.py. Sources: falkner-1943, glauert-1926 ch. XII, lagally-1922, naca-tr-121, naca-tm-77.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq

from sparwright.air import thin
from sparwright.air.grid import Strips, shares
from sparwright.air.mesh import Mesh, mesh, turned_by
from sparwright.air.node import Node, node
from sparwright.base.record import locked, number
from sparwright.shape.planform import Planform, Reference, reference

NODES = tuple(np.radians(np.linspace(-12.0, 28.0, 11)).tolist())  # rad


@dataclass(frozen=True)
class CompanyState:
    """All surfaces at one angle, with deflections and twists: loads, drag, moments, in stream axes."""

    company: Company
    alpha: float = number("rad", "angle of the thrust line to the stream")
    values: np.ndarray = field(default_factory=lambda: np.zeros(0), repr=False)  # (8, n) as Basis.values
    drag_area: float = number("m2", "induced drag over q, from the far wake", np.nan)

    @property
    def circulation(self) -> np.ndarray:
        """(n,) m, over flight speed."""
        return np.asarray(self.values[0])

    @cached_property
    def bound_force(self) -> np.ndarray:
        """(3, n) m2, force over q on each bound vortex and source of the right half: along the stream, out, up."""
        lattice = self.company.mesh
        d = turned_by(lattice.segment, self.alpha)
        (x, y, z), (a, b, c) = self.values[1:4], d
        across = np.array([y * c - z * b, z * a - x * c, x * b - y * a])
        return np.asarray(2 * (self.circulation * across - lattice.strength * self.values[4:7]))

    @cached_property
    def leg_force(self) -> np.ndarray:
        """(2, n) m2, force over q of the sidewash on the legs of each panel: along the stream and up."""
        return np.asarray(2 * self.company.mesh.on_legs(self.circulation, self.values[7], self.alpha))

    @cached_property
    def totals(self) -> tuple[float, float, float]:
        """Force along the stream and up over q, m2, and moment over q about the axes' origin, m3, of both halves.

        M = Sum of z Fx - x Fz over bound vortices and legs, nose up positive, arms and forces both in stream axes.
        """
        lattice = self.company.mesh
        parts = (lattice.bound, self.bound_force[::2]), (lattice.control, self.leg_force)
        moment = 0.0
        for points, (fx, fz) in parts:
            x, _, z = turned_by(points, self.alpha)
            moment += float(z @ fx - x @ fz)
        fx, fz = self.bound_force[::2].sum(1) + self.leg_force.sum(1)
        return float(2 * fx), float(2 * fz), 2 * moment

    @property
    def lift(self) -> float:
        """CL on the reference area, tail included, square to the stream."""
        return self.totals[1] / self.company.reference.area

    @property
    def lift_far(self) -> float:
        """CL from the wake far behind, 4 Sum Gamma dy: the cross-check."""
        return float(4 * self.circulation @ self.company.mesh.segment[1] / self.company.reference.area)

    @property
    def induced_drag(self) -> float:
        """CDi from the far wake (Munk), on the reference area."""
        return self.drag_area / self.company.reference.area

    @property
    def induced_drag_near(self) -> float:
        """CDi from the forces on the panels: the cross-check."""
        return self.totals[0] / self.company.reference.area

    def moment_about(self, station: float, waterline: float) -> float:
        """Moment coefficient on reference area and mean chord about a point in body axes, nose up positive."""
        x, _, z = turned_by(np.array([station, 0.0, waterline]), self.alpha)
        fx, fz, moment = self.totals
        return float(moment - z * fx + x * fz) / (self.company.reference.area * self.company.reference.chord)

    @property
    def moment(self) -> float:
        """Moment coefficient about the quarter of the mean chord."""
        return self.moment_about(*self.company.reference_point)

    @property
    def body_force(self) -> tuple[float, float]:
        """(CX aft, CZ up) in body axes, on the reference area, from the forces on the panels."""
        x, _, z = turned_by(np.array([self.induced_drag_near, 0.0, self.lift]), -self.alpha)
        return float(x), float(z)

    @cached_property
    def strip_circulation(self) -> np.ndarray:
        """(strips,) m, Gamma of every strip over flight speed, all surfaces in their order."""
        return self.company.mesh.by_strip(self.circulation)

    @cached_property
    def onset(self) -> np.ndarray:
        """(strips,) 1 + u: flow along the stream at a strip from all but its own surface, over flight speed."""
        return self.company.mesh.by_strip(self.values[4] * self.company.plate_weights)

    @cached_property
    def section_lift(self) -> np.ndarray:
        """(strips,) the section's lift coefficient: 2 Gamma/((1 + u) c)."""
        return np.asarray(2 * self.strip_circulation / (self.onset * self.company.chords))

    @cached_property
    def strips(self) -> dict[str, Strips]:
        """The load along each surface, by name."""
        lattice, found, first, start = self.company.mesh, {}, 0, 0
        rows = lattice.chordwise
        lift = lattice.by_strip(self.bound_force[2] + self.leg_force[1])
        for s in lattice.surfaces:
            here, stop = slice(first, first + s.chord.size), start + rows * s.chord.size
            gamma = self.circulation[start:stop].reshape(rows, -1)
            total = gamma.sum(axis=0)
            at = (np.arange(rows) + 0.25) / rows
            centre = np.divide(at @ gamma, total, out=np.full(total.shape, np.nan), where=total != 0)
            area = (s.edge_chord[1:] + s.edge_chord[:-1]) / 2 * s.width
            values = (s.middle[1], s.width, s.chord, area, total, self.onset[here], self.section_lift[here], lift[here])
            found[s.name] = Strips(*(locked(v) for v in (*values, centre)))
            first, start = here.stop, stop
        return found

    def past_wings(self, points: np.ndarray) -> np.ndarray:
        """(3, n) velocity over flight speed of stream and wings, without the tail, at points in stream axes, m."""
        from sparwright.air.inflow import inflow  # loads the compiler

        lattice = self.company.mesh
        wing = np.array([not s.is_tail for s in lattice.surfaces])
        kept = np.tile(wing[:, None].astype(float), (1, points.shape[1]))
        corners, points = turned_by(lattice.corners, self.alpha), np.ascontiguousarray(points)
        air, push = inflow(corners, lattice.chordwise, lattice.counts, lattice.source, points, kept)
        g = np.where(wing[lattice.surface], self.circulation, 0.0)
        return np.asarray(np.array([[1.0], [0.0], [0.0]]) + push + (g @ air.reshape(g.size, -1)).reshape(3, -1))

    def surface_lift(self, name: str) -> float:
        """Lift of one surface over q, both halves, m2."""
        return float(2 * self.strips[name].lift.sum())

    @property
    def lift_share(self) -> dict[str, float]:
        """Each surface's part of the lift of all surfaces; they sum to one."""
        return shares(self.strips, [s.name for s in self.company.mesh.surfaces])

    @property
    def wing_share(self) -> dict[str, float]:
        """Each wing's part of the lift of the wings, tail left out; they sum to one."""
        return shares(self.strips, [s.name for s in self.company.mesh.surfaces if not s.is_tail])


@dataclass(frozen=True)
class Company:
    """All surfaces together, solved at a few angles of the thrust line to the stream."""

    planforms: tuple[Planform, ...]
    reference: Reference
    mesh: Mesh
    nodes: tuple[Node, ...]

    @property
    def range(self) -> tuple[float, float]:
        """Least and greatest angle, rad."""
        return self.nodes[0].alpha, self.nodes[-1].alpha

    @property
    def reference_point(self) -> tuple[float, float]:
        """Station and waterline of the quarter of the mean chord, m."""
        return self.reference.quarter

    @property
    def hinged(self) -> tuple[str, ...]:
        """Names of the surfaces with a hinge, in the order of the basis."""
        return tuple(self.mesh.hinges)

    def place_of(self, surface: str) -> int:
        """A surface's place among the surfaces. ValueError for one that is not there."""
        return [s.name for s in self.mesh.surfaces].index(surface)

    def lift_slope(self, alpha: float) -> float:
        """dCL/dalpha at an angle, hinges held, per rad: the difference over a fifth of a degree either way."""
        h = math.radians(0.2)
        return (self.state(alpha + h).lift - self.state(alpha - h).lift) / (2 * h)

    def angle_of(self, CL: float) -> float:
        """The angle, rad, of a lift coefficient, hinges neutral. Raises ValueError when it lies outside `range`."""
        return float(brentq(lambda a: self.state(a).lift - CL, *self.range, xtol=1e-10))

    @cached_property
    def chords(self) -> np.ndarray:
        """(strips,) m, all surfaces in their order."""
        return np.concatenate([s.chord for s in self.mesh.surfaces])

    @cached_property
    def strip_slices(self) -> Mapping[str, slice]:
        """Where each surface's strips are among all strips."""
        ends = np.cumsum([0, *(s.chord.size for s in self.mesh.surfaces)])
        return MappingProxyType({s.name: slice(int(a), int(b)) for s, a, b
                                 in zip(self.mesh.surfaces, ends[:-1], ends[1:], strict=True)})  # fmt: skip

    @cached_property
    def plate_weights(self) -> np.ndarray:
        """(n,) the part of a plate's lift that each row carries."""
        rows = thin.plate_rows(self.mesh.chordwise)
        return np.concatenate([np.repeat(rows, s.chord.size) for s in self.mesh.surfaces])

    def state(self, alpha: float, deflection: Mapping[str, float] | None = None,
              twist: np.ndarray | None = None) -> CompanyState:  # fmt: skip
        """All surfaces at an angle.

        alpha: rad, of the thrust line to the stream, nose up. deflection: rad by surface name, trailing edge down, both
        sides alike. twist: (strips,) rad, nose up, on top of the built angle, strips in the order of `strip_slices`.
        Raises KeyError for a surface that has no hinge, ValueError outside `range`.
        """
        c = self._amounts(deflection)
        near = self.near(alpha)
        values = np.asarray(sum(w * n.plain.weighed(c) for w, n in near))
        drag = sum(w * (c @ n.far_form @ c) for w, n in near)
        if twist is not None:
            t = np.asarray(twist, dtype=float)
            if t.shape != self.chords.shape:
                raise ValueError(f"twist needs {self.chords.size} strips, not {t.shape}")
            for w, n in near:
                values += n.twists.weighed(w * t)
                cross, alone = n.far_twists
                drag += w * (2 * c @ cross @ t + t @ alone @ t)
        return CompanyState(self, alpha, values, float(drag))

    def response(self, alpha: float) -> np.ndarray:
        """(strips, strips) d(strip circulation)/d(twist), m per rad: row by strip loaded, column by strip twisted."""
        return np.asarray(sum(w * self.mesh.by_strip(n.twists.circulation) for w, n in self.near(alpha))).T

    def onset_response(self, alpha: float) -> np.ndarray:
        """(strips, strips) d(1 + u)/d(twist), per rad: row by strip met, column by strip twisted."""
        met = (w * self.mesh.by_strip(n.twists.others * self.plate_weights) for w, n in self.near(alpha))
        return np.asarray(sum(met)).T

    def _amounts(self, deflection: Mapping[str, float] | None) -> np.ndarray:
        given = dict(deflection or {})
        unknown = set(given) - set(self.hinged)
        if unknown:
            raise KeyError(f"no hinged surface named {', '.join(sorted(unknown))}")
        return np.array([1.0, *(given.get(name, 0.0) for name in self.hinged)])

    @cached_property
    def _cardinal(self) -> CubicSpline | None:
        at = [n.alpha for n in self.nodes]
        return CubicSpline(at, np.eye(len(at)), extrapolate=False) if len(at) > 1 else None

    def near(self, alpha: float) -> list[tuple[float, Node]]:
        """The nodes with their weights at an angle; one alone where the angle is a node's own."""
        return [(w, self.nodes[i]) for w, i in self.weights(alpha)]

    def weights(self, alpha: float) -> list[tuple[float, int]]:
        """The same with the nodes' places. Raises ValueError outside `range`."""
        for i, n in enumerate(self.nodes):
            if abs(n.alpha - alpha) < 1e-12:
                return [(1.0, i)]
        low, high = self.range
        if self._cardinal is None or not low <= alpha <= high:
            raise ValueError(f"{alpha:.3f} rad is outside the lattice's {low:.3f} to {high:.3f} rad")
        return list(zip(self._cardinal(alpha).tolist(), range(len(self.nodes)), strict=True))


def beyond(alpha: float) -> str:
    """Why a state at an angle (rad) is outside the lattice's range of -12 to 28 degrees; empty within it."""
    low, high = NODES[0], NODES[-1]
    return "" if low <= alpha <= high else f"{alpha:.2f} rad is outside the lattice's {low:.2f} to {high:.2f} rad"


def turned(planforms: tuple[Planform, ...], camber: Mapping[str, np.ndarray], thickness: Mapping[str, np.ndarray],
           alphas: Sequence[float] = NODES, *, height: float | None = None, chordwise: int = 6, spanwise: int = 14,
           ) -> Company:  # fmt: skip
    """Lay the lattice turned into the stream at each of `alphas` (rad, rising) and solve it there.

    camber, thickness: section name -> (2, m), mean line and full thickness in chords; between breaks the section
    changes straight. height: m, of the reference point (a quarter of the mean chord) above level ground; None for free
    air. chordwise, spanwise: panels along the chord and strips on each half. Raises ValueError without a wing, without
    panels, with two surfaces of one name, or where a wing would reach into the ground; KeyError for a section without
    mean line or thickness.

    >>> from sparwright.shape.planform import Planform
    >>> edge = np.array([[0.0, 0.0], [0.0, 3.0], [0.0, 0.0]])
    >>> plate = Planform("wing", edge, np.ones(2), np.zeros(2), ("flat", "flat"))
    >>> flat = {"flat": np.array([[0.0, 1.0], [0.0, 0.0]])}
    >>> round(turned((plate,), flat, flat).state(0.1).lift, 2)
    0.42
    """
    ref = reference(planforms)
    spread = np.linspace(min(alphas), max(alphas), 33) if len(alphas) > 1 else np.array(alphas)
    lattice = mesh(planforms, camber, thickness, chordwise=chordwise, spanwise=spanwise, angles=spread)
    about = np.array([ref.station + ref.chord / 4, 0.0, ref.waterline])
    found = []
    for alpha in alphas:
        ground = -np.inf if height is None else float(turned_by(about, alpha)[2]) - height
        if height is not None and turned_by(lattice.control, alpha)[2].min() <= ground:
            raise ValueError(f"a wing reaches into the ground at {alpha:.3f} rad, {height:g} m up")
        found.append(node(lattice, float(alpha), ground))
    return Company(planforms, ref, lattice, tuple(found))
