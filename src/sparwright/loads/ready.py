"""An aeroplane made ready to have its load cases laid out: its lattice above and below, balanced at any lift.

Symbols of flight/trim.py: a angle of the thrust line to the stream, e elevator by the lattice, trailing edge down.

    balanced      CM(a, e) + CM_body a = 0 and CL(a, e) = CL        the elevator holds it
    held          CL(a, e) = CL at an elevator that stays           a gust meets it

For one angle both are quadratic in e (air/stance.py), so e is in closed form and only a is looked for. Between its
angles the lattice's forms go by a spline through forces, the state that forces are laid from by one through
circulations: what the state has more, some 1e-4, is added to the forms and all looked for again, so that the state
itself has the lift and no moment, to 1e-9. The lattice alone: no friction, no stall. Range: -12 to 28 degrees by the
aeroplane's own lattice, down to -24 by another laid for that; beyond is a ValueError. Past their greatest lift real
sections carry less: the lattice's distribution stands there too (flight/wings_stall.py knows where). Sources:
air/turned.py, air/node.py.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from scipy.optimize import brentq

from sparwright.air.atmosphere import Air
from sparwright.air.item import DragItem
from sparwright.air.stance import Stances, stances
from sparwright.air.strips import Fitted, fitted
from sparwright.air.turned import CompanyState, turned
from sparwright.air.upright import Upright
from sparwright.base.record import number
from sparwright.family.model import Model
from sparwright.flight.aeroplane import Aeroplane, Strips, section_names
from sparwright.flight.sides import fin_of
from sparwright.loads.halves import Cut, cuts
from sparwright.loads.places import Taken, drag_places
from sparwright.shape.lifting import camber, planforms, thickness

BELOW = tuple(np.radians((-24.0, -20.0, -16.0, -12.0, -8.0)).tolist())  # rad, nodes of the lattice laid for down loads
Cg = tuple[float, float]
CORRECTED = 2  # each time takes the rest down some thousand times


@dataclass(frozen=True)
class Lattice:
    """One lattice of the aeroplane with its strips."""

    fitted: Fitted = field(repr=False)
    cut: Mapping[str, Cut] = field(repr=False)
    strips: Mapping[str, Strips] = field(repr=False)

    @property
    def stances(self) -> Stances:
        """At any of its angles."""
        return self.fitted.stances


@dataclass(frozen=True)
class Poised:
    """One state that forces are taken from."""

    lattice: Lattice = field(repr=False)
    state: CompanyState = field(repr=False)
    tail: str
    elevator: float = number("rad", "by the lattice, trailing edge down")

    @property
    def alpha(self) -> float:
        """rad, of the thrust line."""
        return self.state.alpha

    @property
    def turned(self) -> dict[str, float]:
        """Hinges by surface, rad."""
        return {self.tail: self.elevator}

    @property
    def slopes(self) -> np.ndarray:
        """(n,) what the elevator adds to the slope of the mean line."""
        return np.asarray(self.state.company.mesh.hinges[self.tail] * self.elevator)


@dataclass(frozen=True)
class Ready:
    """An aeroplane ready for its cases."""

    plane: Aeroplane = field(repr=False)
    air: Air = field(repr=False)

    @property
    def model(self) -> Model:
        """The model."""
        return self.plane.model

    @cached_property
    def upper(self) -> Lattice:
        """The aeroplane's own lattice."""
        cut = cuts(self.plane.company, camber(self.model))
        return Lattice(self.plane.fitted, cut, self.plane.strips)

    @cached_property
    def lower(self) -> Lattice:
        """The lattice laid for angles below."""
        lines = camber(self.model)
        company = turned(planforms(self.model), lines, thickness(self.model), alphas=BELOW)
        named = dict(zip(section_names(self.model), self.plane.fitted.behaviours, strict=True))
        whole = fitted(stances(company), lines, named)
        cut = cuts(company, lines)
        strips = {n: Strips(c.y, c.chord, c.area, ~c.inside, whole.shares[company.strip_slices[n]], whole.behaviours)
                  for n, c in cut.items()}  # fmt: skip
        return Lattice(whole, cut, strips)

    @cached_property
    def places(self) -> dict[str, tuple[Taken, ...]]:
        """Where items of drag are taken."""
        return drag_places(self.model)

    def parasite(self, speed: float) -> tuple[DragItem, ...]:
        """Drag of all but wings and tailplane at a speed, m/s."""
        if speed not in self._parasite:
            self._parasite[speed] = self.plane.parasite(speed, self.air)
        return self._parasite[speed]

    @cached_property
    def _parasite(self) -> dict[float, tuple[DragItem, ...]]:
        """Those asked for before: many cases have one speed."""
        return {}

    @cached_property
    def fin(self) -> Upright:
        """Fin and rudder in panels."""
        return fin_of(self.model, self.plane.company.mesh.chordwise)


def balanced(ready: Ready, CL: float, cg: Cg) -> Poised:
    """Balanced by the elevator at a CL, about a station and waterline, m. ValueError where that cannot be."""
    return _poised(ready, CL, lambda forms: forms.elevator(), cg)


def held(ready: Ready, CL: float, elevator: float, cg: Cg) -> Poised:
    """The aeroplane at a CL with the elevator at an angle (rad, by the lattice), not balanced."""
    return _poised(ready, CL, lambda forms: elevator, cg)


def pitched(ready: Ready, at: Poised, coefficient: float, cg: Cg) -> Poised:
    """The same angle with the elevator turned until CM about a point is a coefficient. ValueError where it cannot."""
    forms = _forms(ready, at.lattice, at.alpha, cg).more((0.0, -coefficient))
    e = forms.elevator()
    if not math.isfinite(e):
        raise ValueError("no elevator gives such a moment")
    found = _state(ready, at.lattice, at.alpha, e)
    for _ in range(CORRECTED):
        found = _state(ready, at.lattice, at.alpha, forms.more(_over(ready, found, cg)).elevator())
    return found


def at_angle(ready: Ready, alpha: float, elevator: float) -> Poised:
    """The aeroplane at an angle of the thrust line and of the elevator by the lattice, rad."""
    low = ready.plane.company.range[0]
    return _state(ready, ready.lower if alpha < low else ready.upper, alpha, elevator)


@dataclass(frozen=True)
class _Forms:
    """Lift and moment of one angle as quadratics in the elevator: (3,) each, constant first."""

    lift: np.ndarray
    moment: np.ndarray

    def elevator(self) -> float:
        """The elevator without moment: the root that goes on from a small one. NaN where there is none."""
        c, b, a = self.moment
        root = b * b - 4 * a * c
        return float(-2 * c / (b + math.copysign(math.sqrt(root), b))) if root >= 0 else math.nan

    def CL(self, e: float) -> float:
        """Lift coefficient at an elevator."""
        return float(self.lift @ [1.0, e, e * e])

    def more(self, own: tuple[float, float]) -> _Forms:
        """With so much more lift and moment at any elevator."""
        return _Forms(self.lift + [own[0], 0.0, 0.0], self.moment + [own[1], 0.0, 0.0])


def _forms(ready: Ready, lattice: Lattice, alpha: float, cg: Cg) -> _Forms:
    stance = lattice.stances.at(alpha)
    hinge = 1 + stance.company.hinged.index(ready.plane.tail)

    def three(q: np.ndarray) -> np.ndarray:
        return np.array([q[0, 0], q[0, hinge] + q[hinge, 0], q[hinge, hinge]])

    moment = three(stance.moment_form(*cg))
    moment[0] += ready.plane.body_slopes[0] * alpha
    return _Forms(three(stance.whole) / stance.company.reference.area, moment)


def _over(ready: Ready, at: Poised, cg: Cg) -> tuple[float, float]:
    """What a state's lift and moment by its own circulations are over those of the forms."""
    forms, e = _forms(ready, at.lattice, at.alpha, cg), at.elevator
    body = ready.plane.body_slopes[0] * at.alpha
    return at.state.lift - forms.CL(e), at.state.moment_about(*cg) + body - float(forms.moment @ [1.0, e, e * e])


@dataclass(frozen=True)
class _Aim:
    """What is looked for on one lattice. own: what is added to the forms' lift and moment."""

    ready: Ready
    lattice: Lattice
    CL: float
    elevator: Callable[[_Forms], float]
    cg: Cg

    def forms(self, alpha: float, own: tuple[float, float]) -> _Forms:
        """Lift and moment at an angle, with `own` more."""
        return _forms(self.ready, self.lattice, alpha, self.cg).more(own)

    def off(self, alpha: float, own: tuple[float, float] = (0.0, 0.0)) -> float:
        """How much more lift than is looked for."""
        forms = self.forms(alpha, own)
        return forms.CL(self.elevator(forms)) - self.CL

    def at(self, own: tuple[float, float] = (0.0, 0.0)) -> Poised:
        """The state where the forms with `own` have the lift."""
        alpha = float(brentq(self.off, *self.lattice.stances.company.range, (own,), xtol=1e-11))
        return _state(self.ready, self.lattice, alpha, self.elevator(self.forms(alpha, own)))


def _poised(ready: Ready, CL: float, elevator: Callable[[_Forms], float], cg: Cg) -> Poised:
    for which in ("upper", "lower"):  # the lower is laid only where it is asked for
        aim = _Aim(ready, getattr(ready, which), CL, elevator, cg)
        ends = [aim.off(a) for a in aim.lattice.stances.company.range]
        if ends[0] <= 0 <= ends[1]:
            found = aim.at()
            for _ in range(CORRECTED):
                found = aim.at(_over(ready, found, cg))
            return found
        if not math.isfinite(CL) or ends[1] < 0:
            break
    raise ValueError(f"no state of the lattice at CL {CL:.2f}")


def _state(ready: Ready, lattice: Lattice, alpha: float, e: float) -> Poised:
    company = lattice.stances.company
    return Poised(lattice, company.state(alpha, {ready.plane.tail: e}), ready.plane.tail, e)
