"""One vortex lattice over all wings and the tail, and everything a state of flight needs from it.

    cell = lay(planforms, camber)                 once per shape: one matrix, factored once
    state = cell.state(alpha, {"tailplane": d})   any number of times: a few dot products

Conventions. Axes and signs of base/axes.py. Lengths in metres, forces as areas (force over dynamic
pressure, m2). Only the right half is laid; arrays per strip are of the right half, every total is of both.
Coefficients stand on the reference area, the sum of the wings' areas without the tail, and on the mean
chord of the whole wing cell. The theory is linear: panels and wake lie along x (the thrust line), the
chord's angle, camber and hinge angles enter the boundary condition only. Positive deflection is trailing
edge down, on both sides alike. Range: attached flow, low Mach number, small angles: it gives slopes and the
neutral point of the bare cell and least drag; flight uses the lattice turned into the stream (turned.py). A
hinge's full thin-aerofoil effect is in; real gaps lose a part of it, which is the caller's to allow.

Method: horseshoe vortices falkner-1943; far-wake drag naca-tr-121.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from scipy.linalg import lu_factor, lu_solve

from sparwright.air import farwake, thin
from sparwright.air.farwake import LeastDrag, Trace, far_wake_drag, least_drag
from sparwright.air.grid import Grid, Strips, Surface, lay_out, panels, shares
from sparwright.air.wash import Kernel, matrix
from sparwright.base.record import locked, number
from sparwright.shape.planform import Planform, Reference, reference

__all__ = [
    "Cell",
    "LeastDrag",
    "Reference",
    "State",
    "Strips",
    "Trace",
    "far_wake_drag",
    "lay",
    "least_drag",
    "reference",
]


@dataclass(frozen=True)
class Cell:
    """A laid lattice with its basis solutions."""

    planforms: tuple[Planform, ...]
    reference: Reference
    grid: Grid
    basis: tuple[str, ...]  # "shape", "alpha", a surface's name for each hinge, "pitch"
    circulation: np.ndarray  # (basis, panels) m, Gamma over flight speed
    kernel: Kernel = "auto"

    @property
    def reference_point(self) -> tuple[float, float]:
        """Station and waterline of the quarter of the mean chord, m."""
        return self.reference.quarter

    def weights(
        self, alpha: float, deflection: Mapping[str, float] | None = None, pitch_rate: float = 0.0
    ) -> np.ndarray:
        """(basis,) how much of each basis solution a state holds. KeyError for a surface that has no hinge."""
        given = dict(deflection or {})
        values = {"shape": 1.0, "alpha": alpha, "pitch": pitch_rate}
        unknown = set(given) - (set(self.basis) - set(values))
        if unknown:
            raise KeyError(f"no hinged surface named {', '.join(sorted(unknown))}")
        return np.array([values.get(name, given.get(name, 0.0)) for name in self.basis])

    def state(self, alpha: float, deflection: Mapping[str, float] | None = None, pitch_rate: float = 0.0) -> State:
        """The cell at an angle.

        alpha: rad, of the thrust line to the stream, nose up. deflection: rad by surface name, trailing
        edge down. pitch_rate: rad/m, nose-up rate over flight speed, about the reference point.
        """
        c = self.weights(alpha, deflection, pitch_rate)
        return State(self, alpha, c, c @ self.circulation)

    @cached_property
    def panel_width(self) -> np.ndarray:
        """(panels,) width along y of each panel, m."""
        return np.concatenate([np.tile(s.width, self.grid.chordwise) for s in self.grid.surfaces])

    @cached_property
    def of_wings(self) -> np.ndarray:
        """(panels,) 1 on a wing, 0 on the tail."""
        surfaces = self.grid.surfaces
        return np.repeat(
            [0.0 if s.is_tail else 1.0 for s in surfaces], [self.grid.chordwise * s.chord.size for s in surfaces]
        )

    @cached_property
    def traces(self) -> tuple[Trace, ...]:
        """The wake of each surface far behind."""
        return tuple(farwake.surface_trace(s) for s in self.grid.surfaces)

    @cached_property
    def strip_circulation(self) -> np.ndarray:
        """(basis, strips) Gamma of each strip, all rows together."""
        return self.by_strip(self.circulation)

    @cached_property
    def drag_form(self) -> np.ndarray:
        """(basis, basis) Q with far-wake D/q = c . Q c."""
        g = self.strip_circulation
        return np.asarray(g @ farwake.drag_matrix(self.traces) @ g.T)

    @cached_property
    def bound_wash(self) -> np.ndarray:
        """(basis, panels) downward wash at a point of every bound vortex, for the near-field forces."""
        grid = self.grid
        scale = _scale(grid)
        m = matrix(grid.corners / scale, grid.rows, grid.bound / scale, grid.normal, self.kernel) / scale
        return np.asarray(self.circulation @ m)

    def by_strip(self, panel_values: np.ndarray) -> np.ndarray:
        """(..., strips): sum over the rows of each strip of (..., panels)."""
        parts, start = [], 0
        for s in self.grid.surfaces:
            block = panel_values[..., start : start + self.grid.chordwise * s.chord.size]
            parts.append(block.reshape(*panel_values.shape[:-1], self.grid.chordwise, s.chord.size).sum(axis=-2))
            start += block.shape[-1]
        return np.concatenate(parts, axis=-1)

    @property
    def lift_slope(self) -> float:
        """dCL/dalpha of the whole cell, tail included, on the reference area, per rad."""
        i = self.basis.index("alpha")
        return float(4 * self.circulation[i] @ self.panel_width / self.reference.area)

    def neutral_point(self, waterline: float | None = None, alpha: float = 0.0) -> float:
        """Station, m, about which the moment does not change with alpha, hinges held fixed.

        With the forces along x and their arms about `waterline` (the reference point's when not given)
        at the angle `alpha`; without a fuselage or propeller.
        """
        x, z = self.reference_point
        z = z if waterline is None else waterline
        h = 0.01  # rad; moments are quadratic in alpha, so the difference is exact
        up, down = self.state(alpha + h), self.state(alpha - h)
        normal = (up.normal_area - down.normal_area) / (2 * h)
        moment = (up.moment_area_about(x, z) - down.moment_area_about(x, z)) / (2 * h)
        return float(x - moment / normal)


@dataclass(frozen=True)
class State:
    """A cell at one angle, with its deflections: loads, drag, moments."""

    cell: Cell
    alpha: float = number("rad", "angle of the thrust line to the stream")
    weights: np.ndarray = field(default_factory=lambda: np.zeros(0))  # (basis,)
    circulation: np.ndarray = field(default_factory=lambda: np.zeros(0))  # (panels,) m, Gamma over flight speed

    @property
    def normal_area(self) -> float:
        """Force along z over q, both halves, m2."""
        return float(4 * self.circulation @ self.cell.panel_width)

    @property
    def lift(self) -> float:
        """CL on the reference area, tail included."""
        return self.normal_area / self.cell.reference.area

    @property
    def induced_drag(self) -> float:
        """CDi from the far wake (Munk), on the reference area."""
        return float(self.weights @ self.cell.drag_form @ self.weights / self.cell.reference.area)

    @cached_property
    def wash(self) -> np.ndarray:
        """(panels,) downward wash over flight speed at each bound vortex."""
        return np.asarray(self.weights @ self.cell.bound_wash)

    @property
    def induced_drag_near(self) -> float:
        """CDi from the forces on the bound vortices, 2 Gamma w ds, on the reference area: the cross-check."""
        return float(4 * (self.circulation * self._length) @ self.wash / self.cell.reference.area)

    @property
    def _length(self) -> np.ndarray:
        """(panels,) of each bound vortex in the plane across the stream, m."""
        return np.asarray(self.cell.panel_width / self.cell.grid.normal[1])

    def moment_area_about(self, station: float, waterline: float) -> float:
        """Moment over q, m3, nose up positive, both halves: M = z Fx - x Fz over the bound vortices.

        Fz = 2 Gamma dy, Fx = -(2 Gamma)(alpha dy - w ds): along the thrust line the lift leans forward
        by alpha, and back by the wash.
        """
        x, _, z = self.cell.grid.bound
        up = 4 * self.circulation * self.cell.panel_width
        aft = 4 * self.circulation * (self.wash * self._length - self.alpha * self.cell.panel_width)
        return float(np.sum((z - waterline) * aft - (x - station) * up))

    def moment_about(self, station: float, waterline: float) -> float:
        """Moment coefficient on reference area and mean chord about a point, nose up positive."""
        ref = self.cell.reference
        return self.moment_area_about(station, waterline) / (ref.area * ref.chord)

    @property
    def moment(self) -> float:
        """Moment coefficient about the quarter of the mean chord."""
        return self.moment_about(*self.cell.reference_point)

    @cached_property
    def strips(self) -> dict[str, Strips]:
        """The load along each surface, by name."""
        grid, found, start = self.cell.grid, {}, 0
        for s in grid.surfaces:
            stop = start + grid.chordwise * s.chord.size
            found[s.name] = _strips(s, self.circulation[start:stop].reshape(grid.chordwise, -1))
            start = stop
        return found

    @property
    def lift_share(self) -> dict[str, float]:
        """Each surface's part of the lift of all surfaces; they sum to one."""
        return shares(self.strips, [s.name for s in self.cell.grid.surfaces])

    @property
    def wing_share(self) -> dict[str, float]:
        """Each wing's part of the lift of the wings, tail left out; they sum to one."""
        return shares(self.strips, [s.name for s in self.cell.grid.surfaces if not s.is_tail])

    def surface_lift(self, name: str) -> float:
        """Lift of one surface over q, both halves, m2."""
        return float(2 * self.strips[name].lift.sum())


def _strips(s: Surface, gamma: np.ndarray) -> Strips:
    """The load along one surface from the circulation of its panels, (rows, strips)."""
    total = gamma.sum(axis=0)
    at = (np.arange(gamma.shape[0]) + 0.25) / gamma.shape[0]
    centre = np.divide(at @ gamma, total, out=np.full(total.shape, np.nan), where=total != 0)
    area = (s.edge_chord[1:] + s.edge_chord[:-1]) / 2 * s.width
    return Strips(
        locked(s.middle[1]), locked(s.width), locked(s.chord), locked(area),
        locked(total), locked(np.ones_like(total)), locked(2 * total / s.chord), locked(2 * total * s.width),
        locked(centre),
    )  # fmt: skip


def _scale(grid: Grid) -> float:
    return max(float(s.edge_chord.max()) for s in grid.surfaces)


def _names(planforms: tuple[Planform, ...]) -> list[str]:
    return sorted({name for p in planforms for name in p.sections})


def _incidence(
    grid: Grid, planforms: tuple[Planform, ...], camber: Mapping[str, np.ndarray], about: float
) -> dict[str, np.ndarray]:
    """(panels,) local angle at each control point for each basis solution, rad."""
    rows = grid.chordwise
    slopes = {name: thin.control_slopes(np.asarray(camber[name]), rows) for name in _names(planforms)}
    shape, hinges, start = [], {}, 0
    for s, p in zip(grid.surfaces, planforms, strict=True):
        line = np.array([slopes[name] for name in p.sections]).T @ s.blend.T  # (rows, strips)
        shape.append((s.angle - line).ravel())
        if p.hinge < 1:
            turned = np.zeros(grid.panels)
            turned[start : start + line.size] = np.outer(
                -thin.control_slopes(thin.flap_line(p.hinge), rows), s.hinged
            ).ravel()
            hinges[s.name] = turned
        start += line.size
    return {"shape": np.concatenate(shape), "alpha": np.ones(grid.panels), **hinges, "pitch": grid.control[0] - about}


def lay(planforms: tuple[Planform, ...], camber: Mapping[str, np.ndarray], *, chordwise: int = 6, spanwise: int = 14,
        kernel: Kernel = "auto") -> Cell:  # fmt: skip
    """Lay the lattice over all surfaces and solve for shape, angle, each hinge and pitching.

    The normal wash of all horseshoes meets the stream at every control point:
    A Gamma = (alpha + angle - slope + hinge + q x) nz. camber: section name -> (2, m) mean line, chords;
    between breaks the section changes straight. chordwise, spanwise: panels along the chord and strips
    on each half; a surface with more breaks than strips gets a strip a stretch. kernel: see wash.matrix.
    Raises ValueError without a wing or with fewer than one panel or with two surfaces of one name,
    KeyError for a section without mean line.
    """
    if chordwise < 1 or spanwise < 1:
        raise ValueError("the lattice needs at least one panel along the chord and one strip along the span")
    if len({p.name for p in planforms}) < len(planforms):
        raise ValueError("every surface of the lattice needs a name of its own")
    ref = reference(planforms)
    grid = panels(lay_out(planforms, spanwise), chordwise)
    wanted = _incidence(grid, planforms, camber, ref.station + ref.chord / 4)
    scale = _scale(grid)
    turned = matrix(grid.corners / scale, grid.rows, grid.control / scale, grid.normal, kernel)
    factored = lu_factor(turned.T, overwrite_a=True, check_finite=False)
    asked = np.array(list(wanted.values())) * grid.normal[1]
    gamma = lu_solve(factored, asked.T, check_finite=False).T * scale
    return Cell(planforms, ref, grid, tuple(wanted), np.ascontiguousarray(gamma), kernel)
