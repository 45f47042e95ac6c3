"""Derivatives of an aeroplane in sideslip, roll and yaw, part by part, at a few lift coefficients and between them.

Coefficients on the area S of all wings and the greatest span b, stability axes; names as in flight/motion.py, R for the
rudder (to the right) and A for all ailerons (up on the right), for each radian by the lattice.

    wings       all wings and the tailplane, and fin, in one lattice with odd loads     air/sideways.py
    fin         fin and rudder in it, the tailplane beside it
    body        CYb = -2 k S0/S, Cnb = -k pi/2 Int h^2 dx/(S b): k apparent mass (air/body.py), h height of the body,
                S0 its section at x0 = 0.378 l + 0.527 x1, x1 where it narrows fastest: up to there the flow is whole
    drag        CYb = -CD without the induced: what drags along the wind pulls across the body's axis in a sideslip
    sections    Cnr = -4 Sum cd A y^2 2/(S b^2), Cnp = 2 Sum cd' A y^2 2/(S b^2), cd' slope of the section drag

Doubts, each a part of its part, all added straight (common practice, no source): DOUBT. The body's side force goes from
none to -2 k Smax/S. Not in it: side faces of struts and wires (they add side force and some damping), the propeller
(a tractor takes Cnb down), the body's flow at the fin, wings meeting the body high or low.
Sources: air/sideways.py; munk's apparent mass naca-tr-184; body in sideslip datcom-1978 5.2.1 (memory).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from sparwright.air.body import apparent_mass
from sparwright.air.drag import body_sizes
from sparwright.air.sideways import sideways
from sparwright.air.turned import CompanyState
from sparwright.air.upright import Chord, Upright, upright
from sparwright.base.record import number
from sparwright.base.source import Band
from sparwright.family.model import Body as Section
from sparwright.family.model import Model
from sparwright.flight.aeroplane import Aeroplane
from sparwright.flight.trim import Line
from sparwright.flight.work import Case, Flown, place

DOUBT = {"wings": 0.10, "fin": 0.20, "body": 0.25, "drag": 0.15, "sections": 0.30}
NAMES = {"sideslip": "b", "roll": "p", "yaw": "r", "rudder": "R"}
TURN = math.radians(0.5)  # over which the slope of section drag is taken


@dataclass(frozen=True)
class Piece:
    """What one part of the aeroplane gives to a derivative."""

    part: str
    value: float = number("1", "of the derivative")
    low: float = number("1", "least it may be", math.nan)
    high: float = number("1", "most it may be", math.nan)


@dataclass(frozen=True)
class Sides:
    """All derivatives at one lift coefficient."""

    lift: float = number("1", "CL")
    alpha: float = number("rad", "angle of the thrust line to the stream", math.nan)
    pieces: Mapping[str, tuple[Piece, ...]] = field(default_factory=dict)

    def value(self, name: str) -> float:
        """The likely value."""
        return sum(p.value for p in self.pieces[name])

    def of(self, name: str, part: str) -> float:
        """What one part gives."""
        return sum(p.value for p in self.pieces[name] if p.part == part)

    def band(self, name: str) -> Band:
        """With its ends: those of all parts together."""
        found = self.pieces[name]
        return Band(self.value(name), sum(p.low for p in found), sum(p.high for p in found))

    @property
    def known(self) -> bool:
        """Whether there is anything."""
        return math.isfinite(self.alpha)


def fin_of(model: Model, rows: int) -> Upright:
    """Fin and rudder laid in panels beside the tailplane."""
    f, t = model.fin, model.tailplane
    beside = Chord(t.leading_edge[0], t.leading_edge[2], t.incidence)
    return upright(f.leading_edge, f.span, (f.root_chord, f.tip_chord), f.sweep, f.hinge, beside, rows)


def span_of(plane: Aeroplane) -> float:
    """The greatest span, m."""
    return plane.company.reference.span


def slopes_of(line: Line, CL: float) -> np.ndarray:
    """(n,) what elevator and twists of a state add to the slope of the mean line."""
    at, mesh = line.states(CL), line.company.mesh
    return np.asarray(mesh.hinges[line.plane.tail] * float(at.elevator[0]) - at.twist[0][mesh.strip])


def sides_at(flown: Flown, case: Case, CL: float, state: CompanyState | None = None) -> Sides:
    """Derivatives at a lift coefficient of a case; `known` is False where there is none. state: its own, if at hand."""
    line, plane = case.line, flown.plane
    at = line.states(CL)
    if not math.isfinite(float(at.alpha[0])):
        return Sides(CL)
    S, b = plane.area, span_of(plane)
    fin = fin_of(flown.model, plane.company.mesh.chordwise)
    found = sideways(state or line.state(CL), place(case.loading), fin, slopes_of(line, CL))
    pieces: dict[str, list[Piece]] = {}

    def add(name: str, part: str, value: float, ends: tuple[float, float] | None = None) -> None:
        wide = abs(value) * DOUBT[part]
        pieces.setdefault(name, []).append(Piece(part, value, *(ends or (value - wide, value + wide))))

    tail = plane.tail
    ailerons = [w.name for w in flown.model.wings if w.aileron]
    for motion, by in NAMES.items():
        rate = 2 / b if motion in ("roll", "yaw") else 1.0
        for part, moments in (("wings", found.wings[motion]), ("fin", found.fin[motion])):
            for letter, value in (("Y", moments.side / S), ("l", moments.roll / (S * b)), ("n", moments.yaw / (S * b))):
                add(f"C{letter}{by}", part, value * rate)
    for wing in ailerons:
        m = found.both(wing)
        for letter, value in (("Y", m.side / S), ("l", m.roll / (S * b)), ("n", m.yaw / (S * b))):
            add(f"C{letter}A", "wings", value)
    force, most, moment = body_in_sideslip(flown.model.fuselage.body)
    add("CYb", "body", -force / S, (-most / S, 0.0))
    add("Cnb", "body", -moment / (S * b))
    add("CYb", "drag", -still_drag(flown, CL))
    rubbing, turning = section_yaw(plane, line, CL, tail)
    add("Cnr", "sections", -4 * rubbing * 2 / (S * b * b))
    add("Cnp", "sections", 2 * turning * 2 / (S * b * b))
    return Sides(CL, float(at.alpha[0]), {k: tuple(v) for k, v in pieces.items()})


def body_in_sideslip(body: tuple[Section, ...]) -> tuple[float, float, float]:
    """(side force m2, the most it may be m2, yawing moment m3) over q for each radian, against a stable fin's.

    2 k S0, 2 k Smax and k pi/2 Int h^2 dx; see the head of this file.
    """
    length, most, _ = body_sizes(body)
    k = apparent_mass(length / math.sqrt(4 * most / math.pi))
    at = np.array([s.station for s in body])
    height, width = np.array([s.top - s.bottom for s in body]), np.array([s.width for s in body])
    x = np.unique(np.concatenate([at, np.linspace(at[0], at[-1], 201)]))
    h, w = np.interp(x, at, height), np.interp(x, at, width)
    section = math.pi / 4 * h * w
    narrows = float(x[int(np.argmin(np.gradient(section, x)))] - x[0])
    whole = float(np.interp(x[0] + 0.378 * length + 0.527 * narrows, x, section))
    return 2 * k * whole, 2 * k * most, k * math.pi / 2 * float(np.trapezoid(h**2, x))


def still_drag(flown: Flown, CL: float) -> float:
    """Drag coefficient without the induced, level flight, greatest mass, at a CL; NaN outside the table."""
    drag = flown.performance.drag
    lifts = drag.states.lift
    rest = (drag.total[0] - drag.items["induced"][0]) / (flown.air.density / 2 * drag.speed**2 * flown.plane.area)
    return float(np.interp(-CL, -lifts, rest, left=np.nan, right=np.nan))


def section_yaw(plane: Aeroplane, line: Line, CL: float, tail: str) -> tuple[float, float]:
    """(Sum cd A y^2, Sum cd' A y^2) over one side of all wings, m4 and m4 a radian, outside the body."""
    at, rubbing, turning = line.states(CL), 0.0, 0.0
    for name in plane.wings:
        strips, here = plane.strips[name], plane.company.strip_slices[name]
        re, works = line.per_metre(CL) * strips.chord, at.works[:, here]
        turned = works + np.array([[-TURN], [0.0], [TURN]])
        low, now, high = strips.drag(turned, np.broadcast_to(re, turned.shape))[0]
        weight = (strips.area * strips.y**2 * at.onset[0, here] ** 2)[strips.outside]
        rubbing += float(now[strips.outside] @ weight)
        turning += float(((high - low) / (2 * TURN))[strips.outside] @ weight)
    return rubbing, turning


def between(known: Sequence[Sides], CL: float) -> Sides:
    """Derivatives at a lift coefficient between (or a little past) those worked out: the polynomial through them."""
    if not all(k.known for k in known):
        return Sides(CL)
    at = np.array([k.lift for k in known])
    weights = [math.prod((CL - b) / (a - b) for b in at if b != a) for a in at]

    def mixed(values: Sequence[float]) -> float:
        return float(np.dot(weights, values))

    pieces = {
        name: tuple(
            Piece(
                piece.part,
                *(mixed([getattr(k.pieces[name][i], end) for k in known]) for end in ("value", "low", "high")),
            )
            for i, piece in enumerate(known[0].pieces[name])
        )
        for name in known[0].pieces
    }
    return Sides(CL, mixed([k.alpha for k in known]), pieces)
