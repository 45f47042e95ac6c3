"""All tests of a model: `proof_told(model, assembly, answer, laid, envelope)` gives tests, results and checks."""

from __future__ import annotations

from collections.abc import Sequence

from sparwright.family.model import Model
from sparwright.loads.laid_out import LaidOut
from sparwright.parts.part import Assembly
from sparwright.proof.carried_out import Known, carried_out
from sparwright.proof.governing import Held, uses_of
from sparwright.proof.plan import plans
from sparwright.proof.record import Test
from sparwright.structure.answered import Answered
from sparwright.structure.masses import Carriers, lumps

BAG, SMALL = 10 * 0.45359237, 5 * 0.45359237  # kg: bags where the family file says none; common practice, no source


def tests_of(model: Model, assembly: Assembly, answer: Answered, laid: Sequence[LaidOut]) -> tuple[Test, ...]:
    """Every test with bags."""
    carriers, all_of = Carriers(model, answer.skeleton), lumps(model, assembly, answer.skeleton)
    known = Known(model, answer, tuple(laid), all_of, carriers, uses_of(model, answer), Held.of(model))
    return tuple(carried_out(known, p, SMALL if p.of_tail else BAG) for p in plans(model))
