"""How the wings of a cell stall together: what each carries then, what decalage does, whether ailerons still hold.

All at the greatest lift of the trimmed aeroplane, greatest take-off mass at the forward limit, power off. Decalage is
worked out by setting one wing a degree nose up and raising the aeroplane again, trimmed; the wings' places stay.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.base.check import Result, Step
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.slow import told
from sparwright.flight.stall import stall
from sparwright.flight.trim import decalage
from sparwright.flight.work import Case, Flown

CASE = "max_mass"
DEGREE = math.radians(1.0)
METHOD = "section flow (drela-giles-1987) strip by strip"
PARENT = (f"flight.stall.{CASE}",)
INDICATION = "past the first strip the strips' answer need not be the only one: an indication"


def wings_stall_results(flown: Flown) -> Iterator[Result]:
    """Shares, decalage and ailerons; unknown with the reason where the stall is."""
    case = flown.cases[CASE]
    known = math.isfinite(case.stall.section_end)
    wings = flown.plane.wings
    for name in wings:
        if len(wings) > 1:
            yield _share(flown, case, name, known)
            yield _decalage(case, name, known)
        planform = next(p for p in flown.plane.company.planforms if p.name == name)
        if planform.hinge < 1 and planform.hinge_to > planform.hinge_from:
            yield _ailerons(flown, case, name, known)


def _share(flown: Flown, case: Case, name: str, known: bool) -> Result:
    value = case.line.state(case.stall.section_end).wing_share[name] if known else math.nan
    return told(Band.exact(value), f"flight.stall.share.{name}", f"part of the wings' lift on the {name} wing at the "
                "greatest lift", "1", METHOD, INDICATION if known else case.stall.reason, (), PARENT)  # fmt: skip


def _decalage(case: Case, name: str, known: bool) -> Result:
    id, title = (
        f"flight.stall.decalage.{name}",
        f"lift at which the first strip lets go: gain by a degree nose up on the {name} wing",
    )
    if not known:
        return told(UNKNOWN, id, title, "1", METHOD, case.stall.reason, (), PARENT)
    other = stall(decalage(case.line, name, DEGREE))
    gained = other.first_lift - case.stall.first_lift
    first = f"the stall then begins on the {other.surface} wing at CL {other.first_lift:.3f}" if other.surface else ""
    step = Step("gain", "CL first with it - CL first", (("with it", other.first_lift, "1"),
                ("CL first", case.stall.first_lift, "1")), gained, "1", METHOD)  # fmt: skip
    note = first or other.reason
    return told(Band.exact(gained), id, title, "1", METHOD, note, (step,), PARENT)


def _ailerons(flown: Flown, case: Case, name: str, known: bool) -> Result:
    """Where the upper side's flow leaves ahead of the aileron, at its worst strip."""
    id, title = (
        f"flight.stall.ailerons.{name}",
        f"place of separation ahead of the {name} ailerons at the greatest lift",
    )
    if not known:
        return told(UNKNOWN, id, title, "1", METHOD, case.stall.reason, (), PARENT)
    line, plane = case.line, flown.plane
    p = next(p for p in plane.company.planforms if p.name == name)
    strips, here = plane.strips[name], plane.company.strip_slices[name]
    over = strips.outside & (strips.y > p.hinge_from) & (strips.y < p.hinge_to)
    CL = case.stall.section_end
    leaves = strips.place("parts_upper", line.states(CL).works[0, here], line.per_metre(CL) * strips.chord)[over]
    if not leaves.size or not np.all(np.isfinite(leaves)):
        return told(UNKNOWN, id, title, "1", METHOD, "the flow there is not known", (), PARENT)
    worst, share = float(leaves.min()), float(strips.area[over][leaves >= p.hinge].sum() / strips.area[over].sum())
    note = f"chords from the nose, 1 for nowhere; hinge at {p.hinge:.2f}: {100 * share:.0f} % of the area before the "
    note += "ailerons keeps its flow up to the hinge"
    return told(Band.exact(worst), id, title, "1", METHOD, f"{note}; {INDICATION}", (), PARENT)
