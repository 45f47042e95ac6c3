"""From the cases' forces to every margin: the frame is built, loaded, solved, and each member held against it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from sparwright.base.check import Check, Result
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.loads.case import LoadCase, Pushes
from sparwright.margins.braces import Strengths, brace_checks
from sparwright.margins.metal_spars import metal_spar_checks
from sparwright.margins.spar_run import Strengths as Grained
from sparwright.margins.stands import stands_check
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
    """The frame's answer and all that it says."""

    answer: Answered
    results: tuple[Result, ...]
    checks: tuple[Check, ...]


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
