"""All tests of a model: `proof_told(model, assembly, answer, laid)` gives tests, results and checks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sparwright.base.record import locked
from sparwright.family.model import Model
from sparwright.loads.laid_out import LaidOut
from sparwright.parts.part import Assembly
from sparwright.proof.carried_out import Known, carried_out
from sparwright.proof.checked import bends, proved_by, test_checks
from sparwright.proof.governing import Held
from sparwright.proof.measured import measured_results
from sparwright.proof.plan import Plan, plans, tested
from sparwright.proof.record import BagTest, Proof
from sparwright.proof.static import static_results
from sparwright.proof.told import proved_results, test_results
from sparwright.structure.answered import Answered
from sparwright.structure.masses import Carriers, lumps

BAG, SMALL = 10 * 0.45359237, 5 * 0.45359237  # kg: bags where the family file says none; common practice, no source


def proof_told(model: Model, assembly: Assembly, answer: Answered | None, laid: Sequence[LaidOut]) -> Proof:
    """The proof-load tests of a model with their results and checks.

    answer, laid: of the margins (margins/chain.py). Never raises for a frame that does not stand: its tests are then
    unknown, with the reason.
    """
    tests = tests_of(model, assembly, answer, laid) if answer is not None and answer.laid else tuple(
        replace(_empty(model, p), why="the frame is not answered: no load case, or it cannot be built")
        for p in plans(model)
    )  # fmt: skip
    most, spars = bends(tests), proved_by(tests)
    results = (*(r for t in tests for r in test_results(t)), *proved_results(tests),
               *measured_results(tests, model.proof_measured), *static_results(model, laid))  # fmt: skip
    return Proof(tests, results, tuple(c for t in tests for c in test_checks(t, tested(model, t.plan), most, spars)))


def tests_of(model: Model, assembly: Assembly, answer: Answered, laid: Sequence[LaidOut]) -> tuple[BagTest, ...]:
    """Every test with bags."""
    carriers, all_of = Carriers(model, answer.skeleton), lumps(model, assembly, answer.skeleton)
    known = Known(model, answer, tuple(laid), all_of, carriers, Held.of(model))
    return tuple(carried_out(known, _empty(model, p)) for p in plans(model))


def bag_of(model: Model, plan: Plan) -> float:
    """Kg of one bag in a test, as the family file says, else 10 lb for the wings and 5 lb for the tail."""
    own = model.proof
    if plan.of_tail:
        return own.small_bag if own and own.small_bag else SMALL
    return own.bag if own and own.bag else BAG


def _empty(model: Model, plan: Plan) -> BagTest:
    return BagTest(plan, bag_of(model, plan), locked(plan.press))
