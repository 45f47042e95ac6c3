"""The air's forces on an aeroplane that stands on its three wheels in a wind along the ground, controls held neutral.

Symbols: q dynamic pressure, C coefficient, A area seen by the wind, e unit vector along a thin thing, w along the wind.

    ahead      the lattice at the attitude on the ground, with the ground as its mirror image (air/node.py); drag of the
               rest as in flight. No stall: past its greatest lift a section carries less (the CL is told)
    behind     wings at the lift coefficient of the rule for wind from behind, square to the chord, its load falling
               straight from the trailing edge to nought at the leading one: 2 x of the mean at x of the chord. The
               tailplane, of which the rule says nothing, at -2 pi A/(A + 2) a, a the angle of its chord to the ground,
               A its aspect ratio (a wing lifts alike backwards), no more than the rule's, along the chord as a wing.
               The rest drags as from ahead, too little for a body seen from behind; its couple is left out
    side       drag alone: C q A on the body's side, on the fin, on the wheels' discs; on each strut, wire and leg
               C q d l |w x e| (w - (w . e) e), the flow across it (naca-tr-884), d its width across the wind in flight.
               Lift and rolling moment of wings with dihedral, and what lies in the lee, are left out

Range: steady wind along the ground, from one of four sides; no gust, no gradient; the air at sea level.
Sources: naca-tm-77 (image); cs-vla 369 and cfr-23-2014 23.369 (behind); anderson-flight ch. 5 (slope by aspect ratio;
that it is alike backwards: Munk's reversed flow, memory, high); data/pushes.toml (across).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np

from sparwright.air.drag import outside_tubes
from sparwright.air.node import node
from sparwright.data.pushes import PARTS
from sparwright.family.model import Model
from sparwright.loads.air_forces import flown, names, others, pressure
from sparwright.loads.case import LoadCase, Pushes
from sparwright.loads.ground_forces import Standing
from sparwright.loads.halves import Cut, Half, laid
from sparwright.loads.laid_out import LaidOut, span_load
from sparwright.loads.places import Taken, pair, taken_at
from sparwright.loads.ready import Poised, Ready
from sparwright.loads.together import joined, push, scaled

ARM = 2 / 3 - 1 / 4  # chords, from the quarter to the middle of a load that falls from the trailing edge
ASIDE = "wind from the side: drag alone; lift and rolling moment of the wings are left out"
ALONE = "wind from behind on the wings alone: tail and drag are left out, the whole gives way to it"
BEHIND = "wind from behind: tailplane by its angle; drag of the rest as from ahead, its couple left out"


def from_ahead(ready: Ready, case: LoadCase, on: Standing) -> LaidOut:
    """Wind on the nose. ValueError where the attitude is outside the lattice's range."""
    alpha, lattice = on.pose.attitude, ready.upper
    company, tail = lattice.stances.company, ready.plane.tail
    low, high = company.range
    if not low <= alpha <= high:
        raise ValueError(f"it stands at {math.degrees(alpha):.0f} deg, outside the lattice's range")
    near = replace(company, nodes=(node(company.mesh, alpha, on.pose.ground),))
    state = near.state(alpha, {tail: 0.0})
    note = f"CL {state.lift:.2f} by the lattice near the ground, without a stall"
    return flown(ready, case, Poised(lattice, state, tail, 0.0), notes=(note,))


def from_behind(ready: Ready, case: LoadCase, on: Standing, lift: float) -> LaidOut:
    """Wind on the tail. lift: coefficient of the wings, upwards. ValueError where it is not known."""
    if not math.isfinite(lift):
        raise ValueError("the code has no lift coefficient for wind from behind")
    q, pieces, spans = pressure(case), [], []
    for cut in ready.upper.cut.values():
        half = reversed_half(cut, tail_backwards(ready.model, on.pose.attitude, lift) if cut.is_tail else lift)
        for side in ("R", "L"):
            pieces.append(laid(half, side, q, *names(half, side)))
            spans.append(span_load(half, side, q, case.key))
    rest, missing = others(ready, case, on.pose.attitude)
    return LaidOut(case, joined([*pieces, scaled(rest, -1.0)]), tuple(spans), (BEHIND, *missing))


def on_truss(ready: Ready, case: LoadCase, lift: float) -> LaidOut:
    """Wind from behind on the wings alone, as the rule for a rear lift truss has it; what is not a wing is left out.

    lift: coefficient of the wings, upwards. ValueError where it is not known.
    """
    if not math.isfinite(lift):
        raise ValueError("the code has no lift coefficient for wind from behind")
    q = pressure(case)
    halves = [(reversed_half(cut, lift), side) for cut in ready.upper.cut.values() if not cut.is_tail for side in "RL"]
    spans = tuple(span_load(half, side, q, case.key) for half, side in halves)
    return LaidOut(case, joined([laid(half, side, q, *names(half, side)) for half, side in halves]), spans, (ALONE,))


def tail_backwards(model: Model, attitude: float, most: float) -> float:
    """Lift coefficient of the tailplane in a wind from behind, upwards; no greater than `most` either way.

    attitude: rad, of the thrust line to the ground, nose up.
    """
    t = model.tailplane
    aspect = 2 * t.span / (t.root_chord + t.tip_chord)
    found = -2 * math.pi * aspect / (aspect + 2) * (attitude + t.incidence)
    return max(-abs(most), min(abs(most), found))


def reversed_half(cut: Cut, lift: float) -> Half:
    """Half a surface over q whose strips carry a coefficient from behind, 2 x of the mean at x of the chord.

    Behind the hinge x: lift (1 - x^2), and about it lift c (2/3 - x + x^3/3).
    """
    x, area = cut.hinge if 0 < cut.hinge < 1 else 1.0, cut.area
    force = lift * area * cut.normal
    moment = np.cross(ARM * cut.chord * cut.along, force, axis=0)
    behind = lift * area * (1 - x * x) * cut.hinged
    hinge = -lift * cut.square * (2 / 3 - x + x**3 / 3) * cut.hinged
    return Half(cut, force, moment, behind, hinge)


def from_side(ready: Ready, case: LoadCase, left: bool) -> LaidOut:
    """Wind from the right, or from the left."""
    to, q = np.array([0.0, 1.0 if left else -1.0, 0.0]), PARTS["across"].value * pressure(case)
    plates = [*_body(ready.model), *_fin(ready.model), *_wheels(ready.model)]
    pieces = [push(on, at, q * area * to) for (on, at), area in plates]
    pieces += [p for width, a, b in thin_things(ready.model) for p in across(a, b, q * width * to)]
    return LaidOut(case, joined(pieces), notes=(ASIDE,))


def _body(model: Model) -> Iterator[tuple[Taken, float]]:
    """The body's side, from each cross-section to the next."""
    for a, b in pairwise(model.fuselage.body):
        area = (a.top - a.bottom + b.top - b.bottom) / 2 * (b.station - a.station)
        at = (a.station + b.station) / 2, 0.0, (a.top + a.bottom + b.top + b.bottom) / 4
        yield ("body", at), area


def _fin(model: Model) -> Iterator[tuple[Taken, float]]:
    """Fin and rudder, at the middle of the area."""
    f = model.fin
    up = f.span / 3 * (f.root_chord + 2 * f.tip_chord) / (f.root_chord + f.tip_chord)
    chord = f.root_chord + (f.tip_chord - f.root_chord) * up / f.span
    at = f.leading_edge[0] + up * math.tan(f.sweep) + chord / 2, 0.0, f.leading_edge[2] + up
    yield ("fin", at), f.span * (f.root_chord + f.tip_chord) / 2


def _wheels(model: Model) -> Iterator[tuple[Taken, float]]:
    for w in model.wheels:
        for taken in pair(f"wheel:{w.name}", w.place, joint=":"):
            yield taken, math.pi * w.diameter**2 / 4


def thin_things(model: Model) -> Iterator[tuple[float, Taken, Taken]]:
    """(width m, its two ends) of every strut, wire and leg outside, right and left."""
    braces: list[tuple[float, list[tuple[Taken, ...]]]] = [
        (s.faired_width if s.fairing == "streamline" else s.tube.outside, [tuple(taken_at(model, e)) for e in s.ends])
        for s in model.struts
    ]
    braces += [(w.diameter, [tuple(taken_at(model, e)) for e in w.ends]) for w in model.wires]
    for leg in outside_tubes(model.fuselage):
        ends = zip(leg.name.split()[-3::2], leg.ends or (), strict=True)
        braces.append((leg.width, [tuple(pair(f"node:{n}", p, n in model.fuselage.nodes)) for n, p in ends]))
    for width, (a, b) in braces:
        for i in range(max(len(a), len(b))):
            yield width, a[i % len(a)], b[i % len(b)]


def across(a: Taken, b: Taken, force: np.ndarray) -> list[Pushes]:
    """A thin thing's force, half at either end. force: N for each metre square to the wind, along it."""
    line = np.subtract(b[1], a[1])
    length = float(np.linalg.norm(line))
    square = force - (force @ line) * line / length**2
    lean = float(np.linalg.norm(square) / np.linalg.norm(force))
    return [push(on, at, square * lean * length / 2) for on, at in (a, b)]
