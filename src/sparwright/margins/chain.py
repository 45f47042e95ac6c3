"""From the cases' forces to every margin: the frame is built, loaded, solved, and each member held against it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from sparwright.base.check import Check, Result, Step, check
from sparwright.base.problem import DesignProblem
from sparwright.base.source import UNKNOWN, Band
from sparwright.controls.motion import Motion
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.flight.work import Flown
from sparwright.loads.case import LoadCase
from sparwright.loads.laid_out import LaidOut, SpanLoad
from sparwright.loads.lay import laid_out
from sparwright.loads.ready import Ready
from sparwright.margins.aileron_ribs import aileron_checks
from sparwright.margins.as_built import as_built_results
from sparwright.margins.axle_guides import guide_checks
from sparwright.margins.balance_arms import balance_arm_checks
from sparwright.margins.bent_controls import bent_control_checks
from sparwright.margins.braces import brace_checks
from sparwright.margins.control_arms import arm_checks
from sparwright.margins.control_brackets import pivot_and_bracket_checks
from sparwright.margins.control_rods import rod_end_checks
from sparwright.margins.controls import control_checks
from sparwright.margins.drag_fittings import drag_fitting_checks
from sparwright.margins.fabric import fabric_checks
from sparwright.margins.fatigue import fatigue_results
from sparwright.margins.hinges import hinge_checks
from sparwright.margins.metal_spars import metal_spar_checks
from sparwright.margins.pedals import pedal_checks
from sparwright.margins.rib_loads import Spans
from sparwright.margins.ribs import rib_checks
from sparwright.margins.roots import root_checks
from sparwright.margins.skins import skin_checks
from sparwright.margins.sources import grained, strengths
from sparwright.margins.stands import METHOD, RULE, TITLE, stands_check
from sparwright.margins.tail_joints import tail_joint_checks
from sparwright.margins.taken import USED, Taken
from sparwright.margins.told import frame_results
from sparwright.margins.tubes import tube_checks
from sparwright.margins.wood_spars import wood_spar_checks
from sparwright.margins.wrinkled import softened, with_wrinkles
from sparwright.mass.record import Balance
from sparwright.parts.part import Assembly, Part
from sparwright.structure.answered import Answered, answered, wires_gone
from sparwright.structure.bar import Skeleton
from sparwright.structure.laid import laid
from sparwright.structure.masses import Carriers, Lumps, lumps
from sparwright.structure.named import called
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
    motions: tuple[Motion, ...] = ()  # the controls through their travel

    @property
    def spans(self) -> dict[str, tuple[SpanLoad, ...]]:
        """The air along the span by key of a case."""
        return {x.case.key: x.spans for x in self.laid}

    def wrinkled(self, model: Model) -> Skeleton | None:
        """The frame with its wrinkled metal skins as soft as they are; none where none wrinkles."""
        a = self.answer
        return softened(model, a.skeleton, a.kept) if a and a.kept else None


def proved(model: Model, assembly: Assembly, balance: Balance, flown: Flown, cases: Sequence[LoadCase],
           motions: Sequence[Motion]) -> Margins:  # fmt: skip
    """Every margin of a flown model in its cases; unknown with the reason where there is none.

    motions: the controls through their travel, for the forces of hands and feet.
    """
    ready = Ready(flown.plane, flown.air)
    laid = tuple(laid_out(c, ready, motions=motions, inertia=_in_pitch(balance, c)) for c in cases)
    try:
        found = margins(model, assembly, laid, motions)
    except DesignProblem as fault:
        return Margins(None, (), (_unknown(str(fault)), cases_check(len(cases), ())), laid)
    return replace(found, laid=laid, motions=tuple(motions))


def _in_pitch(balance: Balance, case: LoadCase) -> float:
    """Inertia in pitch, kg m2, of the loading nearest in mass, by the mass."""
    if not balance.cases:
        return math.nan
    near = min(balance.cases, key=lambda c: abs(c.mass - case.mass) + abs(c.station - case.station))
    return float(near.inertia[1, 1]) * case.mass / near.mass


def margins(model: Model, assembly: Assembly, cases: Sequence[LaidOut], motions: Sequence[Motion] = ()) -> Margins:
    """Every margin of a model in laid out cases. DesignProblem for a frame that cannot be built."""
    bones = skeleton(model)
    carriers, all_lumps = Carriers(model, bones), lumps(model, assembly, bones)
    on_frame = [laid(bones, carriers, all_lumps, replace(x.case, caveat=x.outside), x.pushes) for x in cases]
    lost = tuple(f"{x.case.key}: {x.why}" for x in on_frame if x.why)
    known = [x for x in on_frame if not x.why]
    told = cases_check(len(cases), lost)
    if not known:
        return Margins(None, (), (_unknown("no load case is worked out"), told), lost=lost)
    answer = with_wrinkles(model, answered(model, bones, known))
    gone = tuple(gone_check(model, part, x) for part, x in wires_gone(model, bones, known))
    numbers, spans = {p.number for p in assembly.parts}, {x.case.key: x.spans for x in cases}
    pushed = (*_pushed(model, answer, motions, {p.number: p for p in assembly.parts}, spans),
              *bent_control_checks(model, answer, motions), *balance_arm_checks(model, strengths(model)))  # fmt: skip
    held = tuple(_of_right(c, numbers) for c in (*members(model, answer, spans=spans), *pushed))
    told_of = (frame_results(model, answer), as_built_results(model, answer, held), fatigue_results(model, answer))
    results = tuple(r for some in told_of for r in some)
    lost_wires = (_of_right(c, numbers) for c in gone)
    return Margins(answer, results, (told, stands_check(answer), *held, *lost_wires), lost=lost, lumps=all_lumps)


def _pushed(model: Model, answer: Answered, motions: Sequence[Motion], parts: Mapping[str, Part], spans: Spans
            ) -> Iterator[Check]:  # fmt: skip
    """Every member of the controls under the pilot's force, and the ailerons they turn."""
    of = strengths(model)
    yield from control_checks(model, answer, motions, of)
    yield from arm_checks(model, answer, motions, of, parts)
    yield from pivot_and_bracket_checks(model, answer, motions, of, parts)
    yield from rod_end_checks(model, answer, motions, of)
    yield from pedal_checks(model, answer, motions, of, parts)
    yield from aileron_checks(model, answer, spans, motions, grained(model))


def _of_right(c: Check, numbers: set[str]) -> Check:
    """A check of a part that is not the same right and left names the right one."""
    right = f"{c.part}-R"
    return replace(c, part=right) if c.part and c.part not in numbers and right in numbers else c


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
    """The member that is used most with a wire gone, in flight, at the part of limit load that the designer says.

    It passes only where all do: of those that are unknown the first is named.
    """
    every = (stands_check(answer), *members(model, answer))
    worst = min(every, key=_order)
    name, share = part.split("-", 1)[1].replace("+", "_"), model.limits.wire_gone
    step = Step("part of limit load with a wire gone", "limits.wire_gone", (), share, "1", "common practice, no source")
    told = replace(worst, id=f"strength.gone.{name}", title=f"{called(part)} or its fitting gone: {worst.title}",
                   steps=(step, *worst.steps))  # fmt: skip
    open_ = [c for c in every if c.verdict == "unknown"]
    if worst.verdict != "pass" or not open_:
        return told
    first = min(open_, key=_order)
    more = f" and {len(open_) - 1} more" if len(open_) > 1 else ""
    caveat = "; ".join(x for x in (f"not known: {first.title}{more}: {first.caveat}", told.caveat) if x)
    return replace(told, verdict="unknown", caveat=caveat)


def _order(c: Check) -> tuple[int, float]:
    """A failed check before an unknown one without a number before the least margin."""
    known = math.isfinite(c.margin)
    return (0 if c.verdict == "fail" else 1 if not known else 2, c.margin if known else 0.0)


def members(model: Model, answer: Answered, taken: Taken = USED, spans: Spans | None = None) -> Iterator[Check]:
    """Every tube, spar, brace and what holds it against its strength.

    spans: the air along the span by key of a case; left out for a wire gone, with what then tells nothing new.
    Ribs and fabric get the same air; skins that are unknown would stand before every margin.
    """
    of = strengths(model)
    yield from tube_checks(answer, of.material, taken)
    for wing in model.wings:
        for spar in wing.spars:
            wooden = material(spar.cap.material).kind == "wood"
            held = wood_spar_checks if wooden else metal_spar_checks
            yield from held(model, answer, wing, spar, grained(model), taken)
            if spans is not None:
                yield from skin_checks(model, answer, wing, spar, grained(model), taken)
    yield from brace_checks(model, answer, of, taken)
    yield from root_checks(model, answer, of)
    yield from drag_fitting_checks(model, answer, of)
    yield from tail_joint_checks(model, answer, of)
    yield from guide_checks(model, answer, of)
    for wing in model.wings if spans is not None else ():
        yield from rib_checks(model, answer, wing, spans or {}, grained(model), taken)
    if spans is not None:
        yield from hinge_checks(model, answer, spans, of, taken=taken)
        yield from fabric_checks(model, answer, spans)
