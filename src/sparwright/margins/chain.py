"""From the cases' forces to every margin: the frame is built, loaded, solved, and each member held against it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

from sparwright.base.check import Check, Result, check
from sparwright.base.problem import DesignProblem
from sparwright.base.source import UNKNOWN
from sparwright.controls.motion import Motion
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.flight.work import Flown
from sparwright.loads.case import LoadCase, Pushes
from sparwright.loads.engine import THRUST
from sparwright.loads.laid_out import LaidOut
from sparwright.loads.lay import laid_out
from sparwright.loads.ready import Ready
from sparwright.margins.braces import Strengths, brace_checks
from sparwright.margins.metal_spars import metal_spar_checks
from sparwright.margins.spar_run import Strengths as Grained
from sparwright.margins.stands import TITLE, stands_check
from sparwright.margins.told import frame_results
from sparwright.margins.tubes import tube_checks
from sparwright.margins.wood_spars import wood_spar_checks
from sparwright.parts.part import Assembly
from sparwright.strength.allow import allowable, cable_allowable, joint_allowable
from sparwright.strength.allowable import Allowable
from sparwright.structure.answered import Answered, answered
from sparwright.structure.laid import laid
from sparwright.structure.masses import Carriers, lumps
from sparwright.structure.whole import skeleton


@dataclass(frozen=True)
class Margins:
    """The frame's answer and all that it says; no answer where the frame cannot be built or there is no case."""

    answer: Answered | None
    results: tuple[Result, ...]
    checks: tuple[Check, ...]
    laid: tuple[LaidOut, ...] = ()  # the cases' forces


def proved(model: Model, assembly: Assembly, flown: Flown, cases: Sequence[LoadCase], motions: Sequence[Motion]
           ) -> Margins:  # fmt: skip
    """Every margin of a flown model in its cases; unknown with the reason where there is none.

    motions: the controls through their travel, for the forces of hands and feet.
    """
    if not cases:
        return Margins(None, (), (_none("no load case is known"),))
    ready = Ready(flown.plane, flown.air)
    laid = tuple(laid_out(case, ready, thrust_of(case), motions) for case in cases)
    try:
        found = margins(model, assembly, [(x.case if not x.outside else replace(x.case, caveat=x.outside), x.pushes)
                                          for x in laid])  # fmt: skip
    except DesignProblem as fault:
        return Margins(None, (), (_none(str(fault)),), laid)
    return replace(found, laid=laid)


def thrust_of(case: LoadCase) -> float:
    """Thrust of a case, N, as its lines of working say; nought where they say nothing."""
    return next((s.value for s in case.steps if s.title.startswith(THRUST)), 0.0)


def _none(why: str) -> Check:
    return check("strength.frame.buckling", TITLE, UNKNOWN, 1.0, ">=", "1", outside_range=why)


def margins(model: Model, assembly: Assembly, cases: Sequence[tuple[LoadCase, Pushes]]) -> Margins:
    """Every margin of a model in its cases. DesignProblem for a frame that cannot be built."""
    bones = skeleton(model)
    carriers, all_lumps = Carriers(model, bones), lumps(model, assembly, bones)
    answer = answered(model, bones, [laid(bones, carriers, all_lumps, c, p) for c, p in cases])
    return Margins(answer, tuple(frame_results(model, answer)), tuple(_checks(model, answer)))


def _checks(model: Model, answer: Answered) -> Iterator[Check]:
    of = strengths(model)
    yield stands_check(answer)
    yield from tube_checks(answer, of.material)
    for wing in model.wings:
        for spar in wing.spars:
            wooden = material(spar.cap.material).kind == "wood"
            held = wood_spar_checks if wooden else metal_spar_checks
            yield from held(model, answer, wing, spar, grained(model))
    yield from brace_checks(model, answer, of)


def strengths(model: Model) -> Strengths:
    """Where a model's strengths come from, each asked once."""
    return Strengths(
        cache(lambda key, name, thick: allowable(model, key, name, thick)),
        cache(lambda key, name: joint_allowable(model, "bolt", name, fastener=key)),
        cache(lambda construction, diameter: cable_allowable(model, construction, diameter)),
    )


def grained(model: Model) -> Grained:
    """Strength of a wood or ply by material, property, thickness, and the angle of the load to its grain."""

    @cache
    def found(key: str, name: str, thick: float, grain: float) -> Allowable:
        return allowable(model, key, name, thick, grain=grain)

    return found
