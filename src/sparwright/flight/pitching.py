"""Derivatives along: what angle of attack, pitching and the lag of the wings' downwash do, by the lattice.

Coefficients on the area of all wings and the cell's mean chord; names as in flight/motion.py.

    CLa, Cma    trimmed state with the wings' real sections, elevator held (flight/trim.py); the body's moment in it
    CLq, Cmq    steady pitching Q about the centre of gravity: the air has (-Q z, 0, Q x) more, the wakes stay straight
    Cmadot      -2 (lift slope of the tail/S) (lt/c)^2 de/da: the tail meets the downwash the wings made lt/V ago
    de/da       1 - (slope of the tail's lift with the whole aeroplane)/(with the tail's own angle)
    CD, CDa     drag build-up in level flight; CDa = dCD/dCL CLa
    TV          -T/V, power of the propeller kept; from none to -2 T/V

Range: air/node.py. Sources: glauert-1926 ch. XII; nelson-1998 ch. 3 (lag of the downwash; memory).
"""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass, replace

import numpy as np

from sparwright.air.mesh import turned_by
from sparwright.air.node import Node
from sparwright.air.stance import slopes_of as form_slopes
from sparwright.air.turned import CompanyState
from sparwright.base.record import number
from sparwright.flight.sides import slopes_of
from sparwright.flight.trim import Cg, Line
from sparwright.flight.work import Case, Flown, place

STEP = math.radians(0.2)


@dataclass(frozen=True)
class Pitching:
    """Along, at one lift coefficient."""

    lift: float = number("1", "CL")
    slope: float = number("1/rad", "CLa", math.nan)
    moment: float = number("1/rad", "Cma", math.nan)
    lift_rate: float = number("1", "CLq for q c/2V", math.nan)
    damping: float = number("1", "Cmq for q c/2V", math.nan)
    lag: float = number("1", "Cmadot for adot c/2V", math.nan)
    downwash: float = number("1", "de/da at the tail", math.nan)
    tail: float = number("1/rad", "lift slope of the tail where it stands, on its own area", math.nan)


def pitching(case: Case, CL: float, state: CompanyState | None = None) -> Pitching:
    """Derivatives of a case at a lift coefficient; NaN where it is not flown at. state: the one there, if known."""
    line = case.line
    if not math.isfinite(float(line.states(CL).alpha[0])):
        return Pitching(CL)
    plane, ref, cg = line.plane, line.company.reference, place(case.loading)
    a, m = line.slopes(CL)
    state = state or line.state(CL)
    force, moment = rate(state, cg, slopes_of(line, CL))
    tail = next(p for p in plane.company.planforms if p.is_tail)
    chord, station, _ = tail.mean_chord
    arm = station + chord / 4 - cg[0]
    own, with_all = tail_slopes(line, CL, state)
    lag = -2 * own / ref.area * (arm / ref.chord) ** 2 * (1 - with_all / own)
    scale = 2 / (ref.area * ref.chord)
    return Pitching(CL, a, m, force * scale, moment * scale / ref.chord, lag, 1 - with_all / own, own / tail.area)


def rate(state: CompanyState, cg: Cg, slopes: np.ndarray) -> tuple[float, float]:
    """(lift m3, moment nose up about the centre of gravity m4) over q for each radian a metre of Q/V."""
    mesh, alpha = state.company.mesh, state.alpha
    about = turned_by(np.array([cg[0], 0.0, cg[1]]), alpha)[:, None]
    met = turned_by(mesh.normal, alpha) + (mesh.slope + slopes) * turned_by(mesh.tilt, alpha)
    x, _, z = turned_by(mesh.control, alpha) - about
    asked = met[0] * z - met[2] * x
    values = np.sum([w * n.answer(asked) for w, n in _beside(state)], axis=0)
    x, _, z = turned_by(mesh.bound, alpha) - about
    motion = np.array([-z, 0 * z, x])
    values = np.concatenate([values[:1], values[1:4] + motion, values[4:7] + motion, values[7:]])
    ends = [_sums(replace(state, values=state.values + k * values), about) for k in (0.5, -0.5)]
    return ends[0][0] - ends[1][0], ends[0][1] - ends[1][1]


def _beside(state: CompanyState) -> list[tuple[float, Node]]:
    """The nodes on either side of a state's angle, with straight weights: the answer changes little over 4 degrees."""
    nodes = state.company.nodes
    i = min(max(bisect_right([n.alpha for n in nodes], state.alpha), 1), len(nodes) - 1)
    low, high = nodes[i - 1], nodes[i]
    part = (state.alpha - low.alpha) / (high.alpha - low.alpha)
    return [(1 - part, low), (part, high)]


def _sums(state: CompanyState, about: np.ndarray) -> tuple[float, float]:
    fx, fz, moment = state.totals
    return fz, float(moment - about[2, 0] * fx + about[0, 0] * fz)


def tail_slopes(line: Line, CL: float, state: CompanyState) -> tuple[float, float]:
    """(with its own angle, with the angle of the whole) slope of the tail's lift over q, m2 a radian, elevator held."""
    at, plane = line.states(CL), line.plane
    which, here = plane.company.place_of(plane.tail), plane.company.strip_slices[plane.tail]
    alpha, held = float(at.alpha[0]), {plane.tail: float(at.elevator[0])}
    stance = line.fitted.stances.at(alpha)
    c = stance.amounts(held, at.twist[0])
    skip = c.size - at.twist[0].size
    own = float(form_slopes(stance.up[which], c)[skip:][here].sum())
    on = plane.company.state(alpha + STEP, held, at.twist[0])
    return own, (on.surface_lift(plane.tail) - state.surface_lift(plane.tail)) / STEP


def trim_drag(flown: Flown, CL: float) -> tuple[float, float]:
    """(CD, dCD/dCL) in level flight at a lift coefficient, greatest mass; NaN outside the drag's speeds."""
    drag = flown.performance.drag
    lift, area = drag.states.lift, flown.plane.area
    CD = drag.total[0] / (flown.air.density / 2 * drag.speed**2 * area)
    slope = np.gradient(CD, lift)
    value, rise = (float(np.interp(-CL, -lift, y, left=np.nan, right=np.nan)) for y in (CD, slope))
    return value, rise
