"""What the flight room knows of one aeroplane: the cell, its strips with their section data, and the rest's drag."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from sparwright.air.atmosphere import Air
from sparwright.air.behaviour import Behaviour, behaviour, needed
from sparwright.air.body import body_moment_slope
from sparwright.air.drag import DragItem, StrutForDrag, parasite
from sparwright.air.grid import Surface
from sparwright.air.polars import Polars, Told, worked_out
from sparwright.air.stance import Stances, stances
from sparwright.air.strips import Fitted, fitted, mixed
from sparwright.air.turned import Company, turned
from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.base.source import Band, Source
from sparwright.family.model import Model, Section
from sparwright.shape.lifting import camber, planforms, thickness
from sparwright.shape.planform import Planform

# Part of the lattice's elevator effect a real plain flap gives at moderate angles (common practice, no source).
EFFECTIVE = Band(0.85, 0.75, 0.90)
SLOWEST, FASTEST = 12.0, 75.0  # m/s, speeds that sections are worked out for
SHARE = 1e-6  # of a break's section in a strip's, below which it is left out


@dataclass(frozen=True)
class Strips:
    """The strips of the right half of one surface, with the sections that stand there."""

    y: np.ndarray  # (m,), m
    chord: np.ndarray  # (m,), m
    area: np.ndarray  # (m,), m2, of one side
    outside: np.ndarray  # (m,), True where the strip is outside the fuselage side
    shares: np.ndarray  # (m, sections) part of each section
    behaviours: tuple[Behaviour, ...]

    @property
    def source(self) -> str:
        """Where the section data come from."""
        used = self.shares.max(axis=0) > SHARE
        return "; ".join(dict.fromkeys(b.source for b, u in zip(self.behaviours, used, strict=True) if u))

    def lift_limit(self, reynolds: np.ndarray, end: str) -> np.ndarray:
        """Greatest section lift (m,) at the "value", "low" or "high" end; between two sections straight."""
        return self._mixed(lambda b: getattr(b.lift_limit(reynolds), end))

    def drag(self, effective: np.ndarray, reynolds: np.ndarray) -> np.ndarray:
        """Section drag (3, n, m): value, low, high at effective angles and Reynolds numbers (n, m)."""
        bands = [b.drag(effective, reynolds) for b in self.behaviours]
        ends = ("value", "low", "high")
        return np.array([mixed([getattr(band, end) for band in bands], self.shares.T) for end in ends])

    def place(self, name: str, effective: np.ndarray, reynolds: np.ndarray) -> np.ndarray:
        """A column of the sections' behaviour, such as "parts_upper", at (m,) angles and Reynolds numbers."""
        return self._mixed(lambda b: b.at(name, effective, reynolds))

    def stall_angle(self, reynolds: np.ndarray) -> np.ndarray:
        """(m,) rad, the effective angle of greatest section lift."""
        return self._mixed(lambda b: b.stall_angle(reynolds))

    def why_unknown(self, reynolds: np.ndarray) -> str:
        """Why a strip's section is not known there, in a sentence; empty when all are."""
        used = self.shares[self.outside].max(axis=0) > SHARE
        clear = reynolds[self.outside]
        reasons = (b.reason(float(re)) for b, u in zip(self.behaviours, used, strict=True) if u
                   for re in (clear.min(), clear.max()))  # fmt: skip
        return next((r for r in reasons if r), "")

    @property
    def why_no_drag(self) -> str:
        """Which of its sections has a table without drag, in a sentence; empty where all have drag."""
        used = self.shares[self.outside].max(axis=0) > SHARE
        bare = (b for b, u in zip(self.behaviours, used, strict=True) if u and not np.isfinite(b.columns["drag"]).any())
        return next((f"the table of {b.name} has no drag" for b in bare), "")

    def _mixed(self, of: Callable[[Behaviour], np.ndarray]) -> np.ndarray:
        return mixed([of(b) for b in self.behaviours], self.shares.T)


@dataclass(frozen=True)
class Aeroplane:
    """One model, ready to be flown."""

    model: Model
    fitted: Fitted  # all surfaces turned into the stream, with the wings' sections
    tail: str
    strips: Mapping[str, Strips]
    fin: Behaviour  # the section of fin and rudder
    struts: tuple[StrutForDrag, ...] = ()
    body_slopes: tuple[float, float, float] = number("1/rad", "fuselage moment slope: likely, low, high", (0.0,) * 3)

    @property
    def name(self) -> str:
        """The model's name."""
        return self.model.name

    @property
    def area(self) -> float:
        """Area of all wings, carried through the fuselage, m2."""
        return self.company.reference.area

    @property
    def chord(self) -> float:
        """Mean chord of the cell, m."""
        return self.company.reference.chord

    @property
    def chord_station(self) -> float:
        """Station of its leading edge, m."""
        return self.company.reference.station

    @property
    def wings(self) -> tuple[str, ...]:
        """Names of the wings."""
        return tuple(name for name in self.strips if name != self.tail)

    @property
    def stances(self) -> Stances:
        """All surfaces at any angle."""
        return self.fitted.stances

    @property
    def company(self) -> Company:
        """All surfaces, turned into the stream."""
        return self.fitted.stances.company

    def per_metre(self, CL: float, mass: float, air: Air) -> float:
        """Reynolds number a metre of chord in level flight at a CL and a mass (kg), no faster than FASTEST."""
        slow = 2 * mass * GRAVITY / (air.density * self.area * FASTEST**2)
        return math.sqrt(2 * mass * GRAVITY / (air.density * self.area * max(CL, slow))) / air.kinematic

    def parasite(self, speed: float, air: Air) -> tuple[DragItem, ...]:
        """Drag areas of all that is neither wing nor tailplane: the fin, and the air room's items."""
        return (fin(self, speed, air), *parasite(self.model, air, speed, self.struts))


def turned_in_truth(e: float) -> Band:
    """The angle a real elevator is turned by, rad, for one that the lattice says: EFFECTIVE of the lattice's effect.

    >>> turned_in_truth(-0.17).value
    -0.2
    """
    return Band(e / EFFECTIVE.value, *sorted((e / EFFECTIVE.low, e / EFFECTIVE.high)))


def aeroplane(model: Model, struts: Sequence[StrutForDrag], air: Air, polars: Polars = worked_out,
              told: Told | None = None) -> Aeroplane:  # fmt: skip
    """A model made ready to fly with its struts and wires in the wind.

    Lays and solves the lattice turned into the stream, and has the polars of its sections worked out.
    """
    company = turned(planforms(model), camber(model), thickness(model))
    found = polars(needed(reynolds_wanted(model, company, air)), told)
    behaviours = {name: behaviour(model.sections[name], found) for name in section_names(model)}
    tail = next(p.name for p in company.planforms if p.is_tail)
    whole = fitted(stances(company), camber(model), behaviours)
    strips = {p.name: _strips(p, s, whole) for p, s in zip(company.planforms, company.mesh.surfaces, strict=True)}
    slope = body_moment_slope(model.fuselage.body, company)
    scale = company.reference.area * company.reference.chord
    body = (slope.value / scale, slope.low / scale, slope.high / scale)
    fin = behaviours[model.fin.section]
    return Aeroplane(model, whole, tail, MappingProxyType(strips), fin, tuple(struts), body)


def staggered(plane: Aeroplane, wing: str, ahead: float) -> Aeroplane:
    """The same aeroplane with one wing moved ahead by a length (m), its lattice laid anew; the rest stays where it is.

    The fuselage's moment is taken as it was. KeyError for a wing it has not.
    """
    if wing not in plane.wings:
        raise KeyError(wing)
    wings = tuple(
        replace(w, leading_edge=(w.leading_edge[0] - ahead, *w.leading_edge[1:])) if w.name == wing else w
        for w in plane.model.wings
    )
    model = replace(plane.model, wings=wings)
    company = turned(planforms(model), camber(model), thickness(model))
    named = dict(zip(section_names(model), plane.fitted.behaviours, strict=True))
    return replace(plane, model=model, fitted=fitted(stances(company), camber(model), named))


def section_names(model: Model) -> tuple[str, ...]:
    """The sections of wings, tailplane and fin, each once."""
    panels = (n for w in model.wings for p in w.panels for n in (p.root_section, p.tip_section))
    return tuple(dict.fromkeys((*panels, model.tailplane.section, model.fin.section)))


def reynolds_wanted(model: Model, company: Company, air: Air) -> list[tuple[Section, float, float]]:
    """Each section with the least and the greatest Reynolds number it may be flown at, SLOWEST to FASTEST."""
    chords: dict[str, list[float]] = {model.fin.section: [(model.fin.root_chord + model.fin.tip_chord) / 2]}
    for p, s in zip(company.planforms, company.mesh.surfaces, strict=True):
        for i, name in enumerate(p.sections):
            chords.setdefault(name, []).extend(s.chord[s.blend[:, i] > SHARE].tolist())
    return [(model.sections[name], SLOWEST * min(c) / air.kinematic, FASTEST * max(c) / air.kinematic)
            for name, c in chords.items()]  # fmt: skip


def fin(plane: Aeroplane, speed: float, air: Air) -> DragItem:
    """Fin and rudder at no lift: cd(0, Re) S, Re on its mean chord; NaN where the section is not known."""
    f = plane.model.fin
    area, chord = f.span * (f.root_chord + f.tip_chord) / 2, (f.root_chord + f.tip_chord) / 2
    re = np.array(speed * chord / air.kinematic)
    cd = plane.fin.drag(plane.fin.angle_of(np.array(0.0), re), re)
    band = Band(*(float(c) * area for c in (cd.value, cd.low, cd.high)))
    return DragItem("fin", band, Source(plane.fin.key, plane.fin.place_in_it, "computed"), plane.fin.reason(float(re)))


def _strips(planform: Planform, surface: Surface, whole: Fitted) -> Strips:
    y, here = surface.middle[1], whole.stances.company.strip_slices[planform.name]
    area = (surface.edge_chord[1:] + surface.edge_chord[:-1]) / 2 * surface.width
    return Strips(y, surface.chord, area, y > planform.side, whole.shares[here], whole.behaviours)
