"""Yawing: the side load of fin and rudder, strip by strip, and what a sideslip does to wings and tailplane.

    rudder       a turned rudder with no sideslip; k d by the lattice, k of data/aileron.toml
    sideslip     the whole aeroplane in a wind from the right; fin, rudder neutral or turned the other way
    gust         the same with b = K U/V
    given        a side load that a rule gives, on the fin's strips as a sideslip or a rudder puts it there

The chordwise place is the lattice's own: near the quarter of the chord in a sideslip, near the half for a rudder. The
couple of the body in a sideslip is on the body (flight/sides.py); its side force is left out, and noted. Lateral loads
are straight in angle and rudder: a fin that stalls carries less. Range and sources: air/sideways.py, behind.py.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from sparwright.air.mesh import turned_by
from sparwright.air.odd_panels import OddPanels, odd_panels
from sparwright.air.upright import Upright
from sparwright.data.aileron import effect
from sparwright.flight.sides import body_in_sideslip
from sparwright.loads.air_forces import cg, flown, pressure, tail_state
from sparwright.loads.case import LoadCase, Pushes
from sparwright.loads.code import asked
from sparwright.loads.halves import Cut, Half, hinged_part, laid, odd
from sparwright.loads.laid_out import LaidOut, span_load
from sparwright.loads.places import body_middle
from sparwright.loads.ready import Poised, Ready
from sparwright.loads.tail import FIN_SPEED, PART
from sparwright.loads.together import joined, push, resultant, scaled
from sparwright.loads.yawing import LOAD

NO_SIDE = "side force of the fuselage left out"


def fin_cut(u: Upright, hinge: float) -> Cut:
    """The strips of a fin: along from nose to tail, normal to the left, axis upwards."""
    rows = u.control.shape[1] // u.strips
    first, second = (u.bound.reshape(3, rows, -1)[:, i] for i in (0, 1))
    chord = (second - first) * rows
    nose = first - chord / rows / 4
    edges = u.corners.reshape(3, rows + 1, -1)
    edge_chord = (edges[:, -1] - edges[:, 0]) / (1 - 0.25 / rows)
    line = edges[:, 0] + (hinge - 0.25 / rows) * edge_chord
    axis, size = np.diff(line, axis=1), np.sqrt((chord**2).sum(0))
    along, width = chord / size, np.diff(edges[2, 0])
    c = np.sqrt((edge_chord**2).sum(0))
    a, b = c[:-1], c[1:]
    none, m = np.zeros(u.strips), u.strips
    return Cut(
        "fin", False, nose + chord / 4, nose + hinge * chord, along, np.array([none, none - 1, none]),
        axis / np.sqrt((axis**2).sum(0)), size, width, (a + b) / 2 * width, (a * a + a * b + b * b) / 3 * width,
        np.ones(m) * (hinge < 1), np.zeros((rows, m)), (none, none), np.zeros(m, bool), hinge,
    )  # fmt: skip


def on_fin(u: Upright, circulation: np.ndarray, rudder: float, hinge: float, alpha: float) -> Half:
    """The fin's strips over q: force to the left 2 f dz, z across the stream (air/sideways.py).

    circulation: (k,) m; rudder: rad by the lattice, to the right; alpha: rad, of the thrust line to the stream.
    """
    c = fin_cut(u, hinge)
    rows = c.own.shape[0]
    across = turned_by(u.segment, alpha)[2]
    force = np.array([0 * circulation, -2 * circulation * across, 0 * circulation])
    quarter = np.tile(c.quarter, (1, rows))
    moment = np.cross(u.bound - quarter, force, axis=0)
    whole, turn = (v.reshape(3, rows, -1).sum(1) for v in (force, moment))
    part, at = hinged_part(c, circulation, np.ones(u.strips), rudder, 0.0)
    return Half(c, whole, turn, part, at)


def yawing(ready: Ready, case: LoadCase, thrust: float = 0.0) -> LaidOut:
    """Balanced flight with rudder (rad, trailing edge left) and sideslip (rad, wind from the right) of the case, and
    its elevator where it has one.

    Numbers of the case: a part of all deflections, a speed of the fin's load that is not the wings', a load on the fin.
    """
    part = asked(case.steps, PART, 1.0)
    at = tail_state(ready, case, part)
    panels = odd_panels(at.state, cg(case), ready.fin, at.slopes)
    q = pressure(case)
    eased = part * asked(case.steps, FIN_SPEED, case.speed) ** 2 / case.speed**2
    amounts = {name: eased * k for name, k in angles(case.deflection).items()}
    whole = flown(ready, case, at, thrust, odd(at.state, at.lattice.cut, panels, amounts))
    half = fin_half(ready, panels, amounts, at.alpha)
    load = asked(case.steps, LOAD)
    if math.isfinite(load):
        half = half.times(load / (q * abs(float(half.force[1].sum()))))
    pieces = [whole.pushes, laid(half, "", q, "fin", "rudder"), _body(ready, q * amounts["sideslip"])]
    notes = (*whole.notes, *((NO_SIDE,) if amounts["sideslip"] else ()))
    spans = (*whole.spans, span_load(half, "", q, case.key))
    return LaidOut(case, joined(pieces), spans, notes, "", at.alpha, at.elevator)


def angles(deflection: Mapping[str, float]) -> dict[str, float]:
    """Rudder by the lattice, to the right, and sideslip, rad, of a case's deflections."""
    rudder = deflection.get("rudder", 0.0)
    return {"rudder": -effect(rudder).value * rudder, "sideslip": deflection.get("sideslip", 0.0)}


def fin_half(ready: Ready, panels: OddPanels, amounts: Mapping[str, float], alpha: float) -> Half:
    """The fin's strips over q for amounts of motions and hinges."""
    f = np.asarray(sum(k * panels.fin[name] for name, k in amounts.items()))
    return on_fin(ready.fin, f, amounts.get("rudder", 0.0), ready.model.fin.hinge, alpha)


def given_load(ready: Ready, at: Poised, case: LoadCase, load: float, by: str) -> Pushes:
    """A side load (N, to the right) on the fin, parted among the strips as a "sideslip" or a "rudder" does."""
    panels = odd_panels(at.state, cg(case), ready.fin, at.slopes)
    unit = laid(fin_half(ready, panels, {by: 1.0}, at.alpha), "", 1.0, "fin", "rudder")
    return scaled(unit, load / float(resultant(unit)[0][1]))


def _body(ready: Ready, pressed: float) -> Pushes:
    """The couple of the fuselage in a sideslip (rad times Pa), which turns the nose out of the wind: left, about +z."""
    _, _, moment = body_in_sideslip(ready.model.fuselage.body)
    return push("body", body_middle(ready.model), moment=(0.0, 0.0, moment * pressed))
