"""How the wings of a cell stall together: what each carries, what decalage and stagger do, whether ailerons still hold.

All at the greatest lift of the trimmed aeroplane, greatest take-off mass at the forward limit, power off. Decalage is
worked out by setting one wing a degree nose up and raising the aeroplane again, trimmed, to where the first strip lets
go; the wings' places stay. Stagger by laying the lattice again with the top wing FURTHER of the mean chord ahead, the
centre of gravity at the same part of the mean chord of the cell so made, the tail where it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Result, Step
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.aeroplane import staggered
from sparwright.flight.slow import told
from sparwright.flight.stall import stall
from sparwright.flight.trim import decalage, trimmed
from sparwright.flight.work import Case, Flown
from sparwright.shape.planform import Planform

CASE = "max_mass"
DEGREE = math.radians(1.0)
METHOD = "section flow (drela-giles-1987) strip by strip"
PARENT = (f"flight.stall.{CASE}",)
FURTHER = 0.1  # of the mean chord: a tenth
TUNNELS = "tunnels of the 1910s saw about twice as much of it (rathbun-1918; docs/accuracy.md)"
INDICATION = "past the first strip the strips' answer need not be the only one: an indication"


def wings_stall_results(flown: Flown) -> Iterator[Result]:
    """Shares, decalage and ailerons; unknown with the reason where the stall is."""
    case = flown.cases[CASE]
    known = math.isfinite(case.stall.section_end)
    wings = flown.plane.wings
    if len(wings) > 1:
        yield _stagger(flown, case, known)
    for name in wings:
        if len(wings) > 1:
            yield _share(flown, case, name, known)
            yield from _decalage(case, name, known)
        planform = next(p for p in flown.plane.company.planforms if p.name == name)
        if planform.hinge < 1 and planform.hinge_to > planform.hinge_from:
            yield _ailerons(flown, case, name, known)


def _share(flown: Flown, case: Case, name: str, known: bool) -> Result:
    value = case.line.state(case.stall.section_end).wing_share[name] if known else math.nan
    return told(Band.exact(value), f"flight.stall.share.{name}", f"part of the wings' lift on the {name} wing at the "
                "greatest lift", "1", METHOD, _said(case) if known else case.stall.reason, (), PARENT)  # fmt: skip


def _decalage(case: Case, name: str, known: bool) -> Iterator[Result]:
    """What a degree nose up on one wing does to where the first strip lets go, and to the greatest lift."""
    id = f"flight.stall.decalage.{name}"
    title = f"lift at which the first strip lets go: gain by a degree nose up on the {name} wing"
    greatest = f"flight.stall.decalage.greatest.{name}"
    also = f"greatest lift: gain by a degree nose up on the {name} wing"
    if not known:
        yield told(UNKNOWN, id, title, "1", METHOD, case.stall.reason, (), PARENT)
        yield told(UNKNOWN, greatest, also, "1", METHOD, case.stall.reason, (), PARENT)
        return
    other = stall(decalage(case.line, name, DEGREE))
    gained = other.first_lift - case.stall.first_lift
    first = f"the stall then begins on the {other.surface} wing at CL {other.first_lift:.3f}" if other.surface else ""
    step = Step("gain", "CL first with it - CL first", (("with it", other.first_lift, "1"),
                ("CL first", case.stall.first_lift, "1")), gained, "1", METHOD)  # fmt: skip
    note = first or other.reason
    yield told(Band.exact(gained), id, title, "1", METHOD, note, (step,), PARENT)
    more = other.section_end - case.stall.section_end
    step = Step("gain", "CL with it - CL", (("with it", other.section_end, "1"), ("CL", case.stall.section_end, "1")),
                more, "1", METHOD)  # fmt: skip
    yield told(Band.exact(more), greatest, also, "1", METHOD, other.reason, (step,), PARENT)


@dataclass(frozen=True)
class BeforeAilerons:
    """The upper side's flow over the span of a wing's ailerons."""

    least: float = number("1", "foremost place where it leaves, chords; NaN for unknown", math.nan)
    station: float = number("m", "buttline of that", math.nan)
    held: float = number("1", "part of the ailerons' span before which it stays to the hinge line", math.nan)


def before_ailerons(p: Planform, edges: np.ndarray, stations: np.ndarray, leaves: np.ndarray) -> BeforeAilerons:
    """Out of where the flow leaves each strip. edges (m + 1,) and stations (m,) buttlines, leaves (m,) chords."""
    part = np.clip(np.minimum(edges[1:], p.hinge_to) - np.maximum(edges[:-1], p.hinge_from), 0.0, None)
    over = part > 0
    if not np.any(over) or not np.all(np.isfinite(leaves[over])):
        return BeforeAilerons()
    least = int(np.argmin(np.where(over, leaves, np.inf)))
    held = float(part[over & (leaves >= p.hinge)].sum() / part.sum())
    return BeforeAilerons(float(leaves[least]), float(stations[least]), held)


def _stagger(flown: Flown, case: Case, known: bool) -> Result:
    """What the top wing further ahead does to the greatest lift, and to where the first strip lets go."""
    plane, line = flown.plane, case.line
    top = max(plane.model.wings, key=lambda w: w.leading_edge[2]).name
    id = "flight.stall.stagger"
    title = f"greatest lift: gain by the {top} wing a tenth of the mean chord further ahead"
    if not known:
        return told(UNKNOWN, id, title, "1", METHOD, case.stall.reason, (), PARENT)
    moved = staggered(plane, top, FURTHER * plane.chord)
    h = (case.loading.station - plane.chord_station) / plane.chord
    cg = (moved.chord_station + h * moved.chord, case.loading.waterline)
    other = stall(trimmed(moved, cg, line.mass, line.air))
    steps = tuple(
        Step(what, "CL with it - CL without", (("with it", a, "1"), ("without", b, "1")), a - b, "1", METHOD)
        for what, a, b in (("greatest lift", other.section_end, case.stall.section_end),
                           ("first strip lets go", other.first_lift, case.stall.first_lift))
    )  # fmt: skip
    where = f"the stall then begins on the {other.surface} wing" if other.surface else other.reason
    note = f"trimmed about the same part of the mean chord; {where}; {TUNNELS}"
    return told(Band.exact(steps[0].value), id, title, "1", METHOD, note, steps, PARENT)


def _ailerons(flown: Flown, case: Case, name: str, known: bool) -> Result:
    """Where the upper side's flow leaves ahead of the aileron, at its worst strip."""
    id = f"flight.stall.ailerons.{name}"
    title = f"place of separation ahead of the {name} ailerons at the greatest lift"
    if not known:
        return told(UNKNOWN, id, title, "1", METHOD, case.stall.reason, (), PARENT)
    line, company = case.line, flown.plane.company
    p, surface = company.planforms[company.place_of(name)], company.mesh.surfaces[company.place_of(name)]
    strips, CL = flown.plane.strips[name], case.stall.section_end
    works = line.states(CL).works[0, company.strip_slices[name]]
    leaves = np.where(strips.outside, strips.place("parts_upper", works, line.per_metre(CL) * strips.chord), np.nan)
    found = before_ailerons(p, surface.edge[1], strips.y, leaves)
    if not math.isfinite(found.least):
        return told(UNKNOWN, id, title, "1", METHOD, "the flow there is not known", (), PARENT)
    note = f"chords from the nose, 1 for nowhere; hinge at {p.hinge:.2f}: before {100 * found.held:.0f} % of the "
    note += f"ailerons' span the flow keeps to the hinge; {_said(case)}"
    return told(Band.exact(found.least), id, title, "1", METHOD, note, (), PARENT)


def _said(case: Case) -> str:
    """What is to be said of the greatest lift."""
    return "; ".join(x for x in (case.stall.note, INDICATION) if x)
