"""What the flight room knows of one aeroplane: the cell, its strips with their section data, and the rest's drag."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np

from sparwright.air.atmosphere import Air
from sparwright.air.body import body_moment_slope
from sparwright.air.drag import DragItem, StrutForDrag, parasite
from sparwright.air.grid import Surface
from sparwright.air.lattice import Cell
from sparwright.air.sections import SectionTable, section_table
from sparwright.air.turned import Company, CompanyState, turned
from sparwright.base.record import number
from sparwright.base.source import Band, Source
from sparwright.family.model import Model
from sparwright.flight.curve import Curve, through
from sparwright.shape.lifting import camber, planforms, thickness
from sparwright.shape.planform import Planform

# Part of the lattice's elevator effect a real plain flap gives at moderate angles (common practice, no source).
EFFECTIVE = Band(0.85, 0.75, 0.90)
STEP = 0.15  # rad of elevator; the forces are quadratic in it, so any step is exact
SHARE = 1e-6  # of a break's section in a strip's, below which it is left out


@dataclass(frozen=True)
class Strips:
    """The strips of the right half of one surface, with the section tables that hold there."""

    y: np.ndarray  # (m,), m
    chord: np.ndarray  # (m,), m
    area: np.ndarray  # (m,), m2, of one side
    outside: np.ndarray  # (m,), True where the strip is outside the fuselage side
    sections: tuple[tuple[str, ...], ...]  # one or two names for each strip
    tables: Mapping[str, SectionTable | None]

    @property
    def source(self) -> str:
        """Where the section data come from."""
        rows = [str(t.drag_source) for t in self.tables.values() if t]
        return "; ".join(dict.fromkeys(rows)) or "no section data"

    def lift_limit(self, reynolds: np.ndarray, end: str) -> np.ndarray:
        """Greatest section lift (m,) at the "value", "low" or "high" end; NaN outside the tables.

        Between two sections the lower of the two is used (common practice, no source).
        """
        out = np.full(self.y.shape, np.nan)
        for names, here in self._groups():
            bands = [t.cl_max(reynolds[here]) for t in (self.tables[n] for n in names) if t]
            if len(bands) == len(names):
                out[here] = np.min([getattr(b, end) for b in bands], axis=0)
        return out

    def drag(self, cl: np.ndarray, reynolds: np.ndarray) -> np.ndarray:
        """Section drag (3, n, m): value, low, high at lift and Reynolds number (n, m); NaN outside the tables.

        Between two sections the mean of the two, with the wider band.
        """
        out = np.full((3, *cl.shape), np.nan)
        for names, here in self._groups():
            bands = [t.drag(cl[:, here], reynolds[:, here]) for t in (self.tables[n] for n in names) if t]
            if len(bands) == len(names):
                out[0][:, here] = np.mean([b.value for b in bands], axis=0)
                out[1][:, here] = np.min([b.low for b in bands], axis=0)
                out[2][:, here] = np.max([b.high for b in bands], axis=0)
        return out

    def why_unknown(self, reynolds: np.ndarray) -> str:
        """Why a strip has no greatest lift, in a sentence; empty when all have."""
        for names, here in self._groups():
            for name in names:
                table = self.tables[name]
                if table is None:
                    return f"nothing is on file about the section {name}"
                for re in reynolds[here & self.outside]:
                    if table.reason(float(re)):
                        return table.reason(float(re))
        return ""

    def _groups(self) -> list[tuple[tuple[str, ...], np.ndarray]]:
        return [(names, np.array([s == names for s in self.sections])) for names in dict.fromkeys(self.sections)]


@dataclass(frozen=True)
class Aeroplane:
    """One model, ready to be flown."""

    model: Model
    cell: Cell
    company: Company  # the same surfaces turned into the stream
    tail: str
    strips: Mapping[str, Strips]
    struts: tuple[StrutForDrag, ...] = ()
    body_slopes: tuple[float, float, float] = number("1/rad", "fuselage moment slope: likely, low, high", (0.0,) * 3)

    @property
    def name(self) -> str:
        """The model's name."""
        return self.model.name

    @property
    def area(self) -> float:
        """Area of all wings, carried through the fuselage, m2."""
        return self.cell.reference.area

    @property
    def chord(self) -> float:
        """Mean chord of the cell, m."""
        return self.cell.reference.chord

    @property
    def chord_station(self) -> float:
        """Station of its leading edge, m."""
        return self.cell.reference.station

    @property
    def wings(self) -> tuple[str, ...]:
        """Names of the wings."""
        return tuple(name for name in self.strips if name != self.tail)

    @cached_property
    def sampled(self) -> tuple[tuple[CompanyState, ...], ...]:
        """The air's answer at each node angle with the elevator at nought, STEP and -STEP."""
        return tuple(
            tuple(self.company.state(node.alpha, {self.tail: e}) for e in (0.0, STEP, -STEP))
            for node in self.company.nodes
        )

    def curve(self, of: Callable[[CompanyState], float | np.ndarray]) -> Curve:
        """Something of the state as a smooth function of angle of attack and elevator."""
        alphas = [node.alpha for node in self.company.nodes]
        return through(alphas, STEP, [[of(state) for state in row] for row in self.sampled])

    @cached_property
    def lift(self) -> Curve:
        """CL."""
        return self.curve(lambda state: state.lift)

    @cached_property
    def induced(self) -> Curve:
        """CDi."""
        return self.curve(lambda state: state.induced_drag)

    @cached_property
    def section_lifts(self) -> Mapping[str, Curve]:
        """Lift coefficients of the sections of each surface, in their own onset flow."""
        whole = self.company.strip_slices
        return MappingProxyType({name: self._sections(here) for name, here in whole.items()})

    def _sections(self, here: slice) -> Curve:
        return self.curve(lambda state: state.section_lift[here])

    def parasite(self, speed: float, air: Air) -> tuple[DragItem, ...]:
        """Drag areas of all that is neither wing nor tailplane: the fin, and the air room's items."""
        return (fin(self.model, speed, air), *parasite(self.model, air, speed, self.struts))


def aeroplane(model: Model, cell: Cell, struts: Sequence[StrutForDrag]) -> Aeroplane:
    """A model made ready to fly with its laid cell and its struts and wires in the wind.

    Lays and solves the lattice turned into the stream.
    """
    tail = next(p.name for p in cell.planforms if p.is_tail)
    company = turned(planforms(model), camber(model), thickness(model))
    strips = {p.name: _strips(model, p, s) for p, s in zip(company.planforms, company.mesh.surfaces, strict=True)}
    slope = body_moment_slope(model.fuselage.body, cell)
    scale = cell.reference.area * cell.reference.chord
    body = (slope.value / scale, slope.low / scale, slope.high / scale)
    return Aeroplane(model, cell, company, tail, MappingProxyType(strips), tuple(struts), body)


def fin(model: Model, speed: float, air: Air) -> DragItem:
    """Fin and rudder at no lift: cd(0, Re) S, Re on its mean chord; NaN where the section is not on file."""
    f = model.fin
    area, chord = f.span * (f.root_chord + f.tip_chord) / 2, (f.root_chord + f.tip_chord) / 2
    table = section_table(model.sections[f.section])
    if table is None:
        return DragItem("fin", Band.exact(math.nan), Source(""), f"nothing is on file about {f.section}")
    re = speed * chord / air.kinematic
    cd = table.drag(0.0, re)
    band = Band(cd.value * area, cd.low * area, cd.high * area)
    return DragItem("fin", band, table.drag_source, table.reason(re, 0.0))


def _strips(model: Model, planform: Planform, surface: Surface) -> Strips:
    names = [
        tuple(sorted({n for n, share in zip(planform.sections, row, strict=True) if share > SHARE}))
        for row in surface.blend
    ]
    y = surface.middle[1]
    area = (surface.edge_chord[1:] + surface.edge_chord[:-1]) / 2 * surface.width
    tables = {n: section_table(model.sections[n]) for n in planform.sections}
    return Strips(y, surface.chord, area, y > planform.side, tuple(names), MappingProxyType(tables))
