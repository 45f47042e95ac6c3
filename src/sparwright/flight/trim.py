"""Trim: lift equals weight and no moment about the centre of gravity, with the elevator; up to the greatest lift.

Symbols: CL lift coefficient on the area of all wings, square to the stream, CM moment about the centre of gravity on
the mean chord, a angle of attack of the thrust line, e elevator angle by the lattice, trailing edge down positive.

    CM(a, e) + CM_body a = 0        at every angle, with the wings' real sections (air/strips.py)

The angle is raised a degree at a time from about 2 degrees, at the Reynolds numbers of level flight at the lift found
(no faster than FASTEST), until the lift has fallen; then lowered. Everything a state knows goes over the angle by cubic
splines; the greatest CL is the spline's. Where a strip's thin nose lets go the line ends: what it carries past that is
not known, and the whole's greatest lift is taken to be there, though other wings might go on. Range: the lattice's
angles, and the section polars' own; outside is NaN. Neglected: the upward part of the thrust, the moment of the thrust
line and of parasite drag off the centre of gravity, the slipstream over the tail. Past the greatest lift more than one
state is possible: nothing is built on those.
Source: anderson-flight ch. 7 (the two conditions); the solution is worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial

import numpy as np
from scipy.interpolate import CubicSpline

from sparwright.air import nose_stall
from sparwright.air.atmosphere import Air
from sparwright.air.behaviour import UNSEEN
from sparwright.air.raised import EDGE, lift_of, past_the_nose, raised
from sparwright.air.stance import Stance, slopes_of
from sparwright.air.strips import Fitted, Form, Keep, PerMetre, Settled, plain, reset, settle
from sparwright.air.turned import Company, CompanyState
from sparwright.base.record import locked, number
from sparwright.flight.aeroplane import Aeroplane

Cg = tuple[float, float]  # station, waterline, m
STEP = math.radians(1.0)
FIRST = tuple(math.radians(a) for a in (2.0, 5.0, 8.0, 11.0, 14.0))  # angles to begin from
FEWEST = 4  # states that make a line
CLOSE = 1e-9  # rad, nearer than this two angles are one
FLAT = 0.2  # of the greatest rise of lift: a line cut off where it rises less has come near its greatest lift
NOSE = f"{nose_stall.KEY}, {nose_stall.MARK}"
BELOW = f"below Reynolds number {nose_stall.FIRST:,.0f} that is an upper end, its band {UNSEEN[0] * 100:.0f} % down"
FINE = 40  # points an interval at which the spline of CL is looked at


@dataclass(frozen=True)
class States:
    """Angles along a line of CL, with the loads that go with them; n values of CL, m strips in the company's order."""

    lift: np.ndarray  # (n,) CL
    alpha: np.ndarray  # (n,) rad
    elevator: np.ndarray  # (n,) rad, by the lattice, before its lost effectiveness is allowed for
    induced: np.ndarray  # (n,) CDi
    section: np.ndarray  # (n, m) lift coefficients of the sections, each in its own onset flow
    works: np.ndarray  # (n, m) rad, angles at which the sections work
    onset: np.ndarray  # (n, m) flow along the stream that each meets, over flight speed
    twist: np.ndarray  # (n, m) rad, by which each strip is turned to carry what its section does


@dataclass(frozen=True)
class Line:
    """Trimmed states, angle by angle, of one mass and balance."""

    plane: Aeroplane
    fitted: Fitted
    keep: Keep
    air: Air
    settled: tuple[Settled, ...]  # rising angles
    mass: float = number("kg", "mass the Reynolds numbers are those of")
    reason: str = ""  # why the greatest lift is unknown
    note: str = ""  # what is to be said of it where it is known

    @property
    def company(self) -> Company:
        """The surfaces."""
        return self.plane.company

    @cached_property
    def most(self) -> float:
        """The greatest CL; NaN where it is not reached."""
        return math.nan if self.reason else self.last

    @property
    def last(self) -> float:
        """The CL of the last state on the rising branch, greatest or not; NaN where there is none."""
        return float(self._rising[1][-1]) if self.known else math.nan

    @property
    def known(self) -> bool:
        """Whether there is a line at all."""
        return len(self.settled) >= FEWEST

    def states(self, CL: np.ndarray | float) -> States:
        """The states at lift coefficients, up to the greatest; NaN outside."""
        wanted, m = np.atleast_1d(np.asarray(CL, dtype=float)), self.company.chords.size
        if self.known:
            angles, lifts = self._rising
            alpha = np.interp(wanted, lifts, angles, left=np.nan, right=np.nan)
            found = self._over(alpha)
        else:
            alpha, found = np.full(wanted.shape, np.nan), np.full((wanted.size, 3 + 4 * m), np.nan)
        elevator, induced = found[:, 1], found[:, 2]
        parts = (locked(found[:, 3 + i * m : 3 + (i + 1) * m]) for i in range(4))
        return States(locked(wanted), locked(alpha), locked(elevator), locked(induced), *parts)

    def state(self, CL: float) -> CompanyState:
        """All surfaces panel by panel at a lift coefficient. ValueError where there is no trim."""
        at = self.states(CL)
        if not math.isfinite(float(at.alpha[0])):
            raise ValueError(f"no trim at CL {CL:.2f}")
        return self.company.state(float(at.alpha[0]), {self.plane.tail: float(at.elevator[0])}, at.twist[0])

    def per_metre(self, CL: float) -> float:
        """Reynolds number a metre of chord in level flight at a CL, no faster than FASTEST."""
        return self.plane.per_metre(CL, self.mass, self.air)

    def slopes(self, CL: float) -> tuple[float, float]:
        """(dCL/da, d/da of what is kept nought) at a state with the elevator held, per rad."""
        at = self.states(CL)
        alpha, e, h = float(at.alpha[0]), float(at.elevator[0]), math.radians(0.2)
        ends = []
        for a in (alpha + h, alpha - h):
            stance = self.fitted.stances.at(a)
            found = settle(self.fitted, stance, None, self.per_metre, stance.amounts({self.plane.tail: e}, at.twist[0]))
            if not found.good:
                return math.nan, math.nan
            form, added = self.keep.nought(stance)
            ends.append((stance.lift(found.amounts), float(found.amounts @ form @ found.amounts + added)))
        return (ends[0][0] - ends[1][0]) / (2 * h), (ends[0][1] - ends[1][1]) / (2 * h)

    @cached_property
    def _over(self) -> CubicSpline:
        """All a state knows over the angle: CL, elevator, CDi, then strip by strip."""
        hinge, skip = hinge_of(self.plane), 1 + len(self.company.hinged)
        rows = []
        for s in self.settled:
            c = s.amounts
            numbers = (s.stance.lift(c), c[hinge], s.stance.induced_drag(c))
            rows.append(np.concatenate([numbers, s.stance.section_lift(c), s.works, c @ s.stance.onset, c[skip:]]))
        angles = [s.stance.alpha for s in self.settled]
        return CubicSpline(angles, np.array(rows), extrapolate=False)

    @cached_property
    def _rising(self) -> tuple[np.ndarray, np.ndarray]:
        """(angles, CL) closely spaced, from where the lift begins to rise to where it is greatest."""
        knots = self._over.x
        angles = np.unique(
            np.concatenate([np.linspace(a, b, FINE + 1) for a, b in zip(knots, knots[1:], strict=False)])
        )
        lifts = CubicSpline(knots, self._over(knots)[:, 0])(angles)
        last = int(np.argmax(lifts))
        falls = np.flatnonzero(np.diff(lifts[: last + 1]) <= 0)
        first = int(falls[-1]) + 1 if falls.size else 0
        return angles[first : last + 1], lifts[first : last + 1]


def hinge_of(plane: Aeroplane) -> int:
    """The place of the elevator's angle among the amounts of a stance."""
    return 1 + plane.company.hinged.index(plane.tail)


def trimmed(plane: Aeroplane, cg: Cg, mass: float, air: Air) -> Line:
    """The trimmed states at a centre of gravity and a mass (kg), with real sections up to the greatest lift.

    ValueError when the elevator moves nothing.
    """
    return _line(plane, plane.fitted, _moment(plane, cg), mass, air)


def attached(plane: Aeroplane, cg: Cg, mass: float, air: Air) -> Line:
    """The same by the lattice alone, which knows no friction and no stall: for loads and stability."""
    return _line(plane, plain(plane.fitted), _moment(plane, cg), mass, air)


def decalage(line: Line, wing: str, angle: float) -> Line:
    """A trimmed line's aeroplane with one wing set by an angle (rad, nose up) more, trimmed again."""
    return _line(line.plane, reset(line.fitted, wing, angle), line.keep.nought, line.mass, line.air)


def untrimmed(plane: Aeroplane, mass: float, air: Air) -> Line:
    """The states with no lift on the tail, the moment left to itself: what trim drag is counted from."""
    which = plane.company.place_of(plane.tail)
    return _line(plane, plane.fitted, lambda stance: (stance.up[which] / plane.area, 0.0), mass, air)


def _about(plane: Aeroplane, cg: Cg, stance: Stance) -> Form:
    """Moment of lattice and body about a point."""
    return stance.moment_form(*cg), plane.body_slopes[0] * stance.alpha


def _moment(plane: Aeroplane, cg: Cg) -> Callable[[Stance], Form]:
    nought = partial(_about, plane, cg)
    stance, hinge = plane.stances.at(0.0), hinge_of(plane)
    form, c = nought(stance)[0], stance.amounts()
    if abs(float(slopes_of(form, c)[hinge])) < 1e-6:
        raise ValueError(f"{plane.name}: the elevator does not turn the aeroplane, it cannot be trimmed")
    return nought


def _line(plane: Aeroplane, fitted: Fitted, nought: Callable[[Stance], Form], mass: float, air: Air) -> Line:
    def per_metre(CL: float) -> float:
        return plane.per_metre(CL, mass, air)

    keep, (low, high) = Keep(nought, plane.tail), plane.company.range
    for first in FIRST:
        still = fitted.still(fitted.stances.at(first))
        up = raised(fitted, keep, per_metre, np.append(np.arange(first, high - CLOSE, STEP), high), still)
        if len(up) >= FEWEST:
            break
    else:
        return Line(plane, fitted, keep, air, (), mass, _why_not(plane, mass, air))
    down = raised(
        fitted, keep, per_metre, np.append(np.arange(first - STEP, low + CLOSE, -STEP), low), up[0].amounts, 0.0
    )
    return Line(plane, fitted, keep, air, (*reversed(down), *up), mass, *_ended(plane, fitted, up, per_metre))


def _why_not(plane: Aeroplane, mass: float, air: Air) -> str:
    """Why there is no line."""
    wings = [plane.strips[name] for name in plane.wings]
    reasons = (s.why_unknown(plane.per_metre(CL, mass, air) * s.chord) for s in wings for CL in (0.6, 0.3, 1.2))
    return next((r for r in reasons if r), "no trim is found at small angles")


def _ended(plane: Aeroplane, fitted: Fitted, up: list[Settled], per_metre: PerMetre) -> tuple[str, str]:
    """(why the greatest lift is not known, what is to be said of it where it is)."""
    lifts = np.array([lift_of(s) for s in up])
    if not fitted.real.size:
        return "the lattice alone knows no stall", ""
    if lifts.size > 1 and lifts.max() > lifts[-1]:
        return "", ""
    if up and past_the_nose(fitted, up[-1], per_metre) >= -EDGE:
        at, chords = math.degrees(up[-1].stance.alpha), fitted.stances.company.chords[fitted.real]
        said = f"at {at:.1f} deg the thin nose of a section lets go ({NOSE}): what it carries past that is not known"
        return "", said + (f"; {BELOW}" if per_metre(lifts[-1]) * chords.min() < nose_stall.FIRST else "")
    where = f"{math.degrees(up[-1].stance.alpha):.1f} deg" if up else "the first angle"
    each = np.array([s.stance.surface_lift(s.amounts) for s in up])
    names = [s.name for s in plane.company.mesh.surfaces]
    gone = [n for n in plane.wings if lifts.size > 1 and each[:, names.index(n)].argmax() < lifts.size - 1]
    rises = np.diff(lifts)
    if gone and rises[-1] < FLAT * rises.max():
        known = f"past {where} the strips do not settle or a section is not known"
        return "", f"{known}; {', '.join(gone)} has let go by then"
    return f"past {where} the strips do not settle or a section is not known, where the lift still rises", ""
