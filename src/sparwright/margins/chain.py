"""From the cases' forces to every margin: the frame is built, loaded, solved, and each member held against it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sparwright.base.check import Check, Result, Step, check
from sparwright.base.problem import DesignProblem
from sparwright.base.source import UNKNOWN, Band
from sparwright.controls.motion import Motion
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.flight.work import Flown
from sparwright.loads.case import LoadCase
from sparwright.loads.laid_out import LaidOut
from sparwright.loads.lay import laid_out
from sparwright.loads.ready import Ready
from sparwright.margins.as_built import as_built_results
from sparwright.margins.braces import brace_checks
from sparwright.margins.fatigue import fatigue_results
from sparwright.margins.metal_spars import metal_spar_checks
from sparwright.margins.sources import grained, strengths
from sparwright.margins.stands import METHOD, RULE, TITLE, stands_check
from sparwright.margins.taken import USED, Taken
from sparwright.margins.told import frame_results
from sparwright.margins.tubes import tube_checks
from sparwright.margins.wood_spars import wood_spar_checks
from sparwright.mass.record import Balance
from sparwright.parts.part import Assembly
from sparwright.structure.answered import Answered, answered, wires_gone
from sparwright.structure.laid import laid
from sparwright.structure.masses import Carriers, Lumps, lumps
from sparwright.structure.whole import skeleton

MOST_TOLD = 3  # cases named in a sentence


@dataclass(frozen=True)
class Margins:
    """The frame's answer and all that it says; no answer where the frame cannot be built or no case is worked out."""

    answer: Answered | None
    results: tuple[Result, ...]
    checks: tuple[Check, ...]
    laid: tuple[LaidOut, ...] = ()  # the cases' forces
    lost: tuple[str, ...] = ()  # cases that are not worked out, each with its reason
    lumps: Lumps | None = None  # every mass as the frame carries it


def proved(model: Model, assembly: Assembly, balance: Balance, flown: Flown, cases: Sequence[LoadCase],
           motions: Sequence[Motion]) -> Margins:  # fmt: skip
    """Every margin of a flown model in its cases; unknown with the reason where there is none.

    motions: the controls through their travel, for the forces of hands and feet.
    """
    ready = Ready(flown.plane, flown.air)
    laid = tuple(laid_out(c, ready, motions=motions, inertia=_in_pitch(balance, c)) for c in cases)
    try:
        found = margins(model, assembly, laid)
    except DesignProblem as fault:
        return Margins(None, (), (_unknown(str(fault)), cases_check(len(cases), ())), laid)
    return replace(found, laid=laid)


def _in_pitch(balance: Balance, case: LoadCase) -> float:
    """Inertia in pitch, kg m2, of the loading nearest in mass, by the mass."""
    if not balance.cases:
        return math.nan
    near = min(balance.cases, key=lambda c: abs(c.mass - case.mass) + abs(c.station - case.station))
    return float(near.inertia[1, 1]) * case.mass / near.mass


def margins(model: Model, assembly: Assembly, cases: Sequence[LaidOut]) -> Margins:
    """Every margin of a model in laid out cases. DesignProblem for a frame that cannot be built."""
    bones = skeleton(model)
    carriers, all_lumps = Carriers(model, bones), lumps(model, assembly, bones)
    on_frame = [laid(bones, carriers, all_lumps, replace(x.case, caveat=x.outside), x.pushes) for x in cases]
    lost = tuple(f"{x.case.key}: {x.why}" for x in on_frame if x.why)
    known = [x for x in on_frame if not x.why]
    told = cases_check(len(cases), lost)
    if not known:
        return Margins(None, (), (_unknown("no load case is worked out"), told), lost=lost)
    answer = answered(model, bones, known)
    gone = tuple(gone_check(model, part, x) for part, x in wires_gone(model, bones, known))
    held = tuple(members(model, answer))
    told_of = (frame_results(model, answer), as_built_results(model, answer, held), fatigue_results(model, answer))
    results = tuple(r for some in told_of for r in some)
    return Margins(answer, results, (told, stands_check(answer), *held, *gone), lost=lost, lumps=all_lumps)


def cases_check(count: int, lost: Sequence[str]) -> Check:
    """Whether every case is worked out: the members' margins are those of the others."""
    title = "load cases that are worked out"
    said = "; ".join(lost[:MOST_TOLD]) + ("; and more" if len(lost) > MOST_TOLD else "")
    why = f"{len(lost)} of {count} are not: {said}" if lost else "" if count else "no load case is known"
    done = count - len(lost)
    steps = tuple(Step(x, "not worked out", (), math.nan, "1") for x in lost)
    return check("strength.cases", title, Band.exact(done), max(count, 1), ">=", "1", rule=RULE,
                 method="loads/lay.py", outside_range=why, steps=steps)  # fmt: skip


def _unknown(why: str) -> Check:
    return check("strength.frame.buckling", TITLE, UNKNOWN, 1.0, ">=", "1", rule=RULE, method=METHOD, outside_range=why)


def gone_check(model: Model, part: str, answer: Answered) -> Check:
    """The member that is used most with a wire gone, in flight, at the part of limit load that the designer says."""
    worst = min((stands_check(answer), *members(model, answer)), key=_order)
    name, share = part.split("-", 1)[1].replace("+", "_"), model.limits.wire_gone
    step = Step("part of limit load with a wire gone", "limits.wire_gone", (), share, "1", "common practice, no source")
    return replace(worst, id=f"strength.gone.{name}", title=f"wire {name} or its fitting gone: {worst.title}",
                   steps=(step, *worst.steps))  # fmt: skip


def _order(c: Check) -> tuple[int, float]:
    """A failed check before an unknown one without a number before the least margin."""
    known = math.isfinite(c.margin)
    return (0 if c.verdict == "fail" else 1 if not known else 2, c.margin if known else 0.0)


def members(model: Model, answer: Answered, taken: Taken = USED) -> Iterator[Check]:
    """Every tube, spar, brace and what holds it against its strength."""
    of = strengths(model)
    yield from tube_checks(answer, of.material, taken)
    for wing in model.wings:
        for spar in wing.spars:
            wooden = material(spar.cap.material).kind == "wood"
            held = wood_spar_checks if wooden else metal_spar_checks
            yield from held(model, answer, wing, spar, grained(model), taken)
    yield from brace_checks(model, answer, of, taken)
