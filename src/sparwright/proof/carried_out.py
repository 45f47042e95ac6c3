"""One test from its plan to its bags, trestles and movements."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.problem import DesignProblem
from sparwright.base.record import locked
from sparwright.family.model import Model
from sparwright.loads.laid_out import LaidOut, SpanLoad
from sparwright.maths.frame.record import Solved
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare
from sparwright.proof.against import Along, along, by_statics, spars_of
from sparwright.proof.bags import in_steps, step_parts
from sparwright.proof.bays import Outline, Own, acceleration, bays, in_bays, outside, own_mass
from sparwright.proof.boards import Rope, boards, laid_boards, laid_ropes, rope
from sparwright.proof.fine import finer, laid_span
from sparwright.proof.governing import Governing, Held, asked, at, half, used
from sparwright.proof.loaded import Loaded, empty, laid_bags, loaded, own_weight
from sparwright.proof.outlines import FIN, TAIL, fin_outline, of_tail, on_wing, tail_outline, wing_outline
from sparwright.proof.plan import Plan, tested, wanted
from sparwright.proof.points import measured_at
from sparwright.proof.proved import members
from sparwright.proof.record import BagTest, Point
from sparwright.proof.trestles import trestles
from sparwright.structure.answered import Answered
from sparwright.structure.laid import Laid
from sparwright.structure.masses import Carriers, Lumps

ENOUGH = 0.95  # of the greatest use: a case that bags can lie for may stand for one that they cannot
HINGED = {TAIL: (TAIL, "elevator"), FIN: (FIN, "rudder")}


@dataclass(frozen=True)
class Known:
    """What all tests of a model share."""

    model: Model
    answer: Answered
    laid: tuple[LaidOut, ...]
    lumps: Lumps
    carriers: Carriers
    held: Held


def carried_out(known: Known, test: BagTest) -> BagTest:
    """A test out of its plan and its bag. One that cannot be has its reason in `why`."""
    fits, mine = wanted(test.plan), tested(known.model, test.plan)

    def able(i: int) -> bool:
        if known.answer.laid[i].why:
            return True  # not known: it may be
        return _bagged(known, replace(test, governing=Governing(i, np.nan))).wanted > 0

    try:
        found = asked(known.model, known.answer, known.laid, known.held, fits, mine, ENOUGH, able)
        if not found.known:
            why = "; ".join(found.lost[:2]) or "no load case presses that way by more than the structure's own weight"
            return replace(test, asked=found, why=why)
        tests = [_bagged(known, replace(test, asked=found, governing=g)) for g in found.known]
        return _solved(known, next((t for t in tests if t.reached), tests[0]))
    except DesignProblem as fault:
        return replace(test, why=str(fault))


def _bagged(known: Known, test: BagTest) -> BagTest:
    """Its case in bags, before the frame is asked."""
    plan, model, answer = test.plan, known.model, known.answer
    assert test.governing is not None
    one, on_frame = known.laid[test.governing.place], answer.laid[test.governing.place]
    flip = _flip(plan, one)
    outlines = [_outline(model, answer, one, s) for s in plan.surfaces]
    spans = [_turned(outside(_span(one, s), o), flip) for s, o in zip(plan.surfaces, outlines, strict=True)]
    weights = empty(known.lumps)
    own = [_own(known, o, weights) for o in outlines]
    acc = [flip * acceleration(o, on_frame, _centre(one)) for o in outlines]
    down = _down(plan, outlines, spans, own, acc)
    surfaces = tuple(bays(o, s, m, a, down) for o, s, m, a in zip(outlines, spans, own, acc, strict=True))
    factor = abs(float(on_frame.acceleration[2])) / GRAVITY if not plan.of_tail else np.nan
    parts = step_parts(factor)
    counts = tuple(in_steps(b.net, b.weight, parts, test.bag_force, b.outline.hinge < 1) for b in surfaces)
    across = tuple(b for s in surfaces for b in boards(s, parts, test.bag_force))
    return replace(test, case=one.case, factor=factor, down=locked(down), parts=parts, surfaces=surfaces,
                   counts=counts, flip=flip, boards=across)  # fmt: skip


def _ropes(known: Known, test: BagTest) -> tuple[Rope, ...]:
    """On its side, the tailplane hangs from its root: a rope at its upper tip carries it and stands for its inertia."""
    bones = known.answer.skeleton
    tips = [n for n in bones.names if n.startswith(f"{TAIL}.SP")]
    if test.plan.surfaces != (FIN,) or not tips:
        return ()
    assert test.governing is not None
    up = min(tips, key=lambda n: float(bones.frame.place[bones.node[n]] @ test.down))
    mine = [i for n, i in bones.node.items() if n.startswith(tuple(f"{w}." for w in HINGED[TAIL]))]
    weight = own_weight(known.lumps, test.down, True)[mine, :3].sum(axis=0) @ test.down
    inertia = abs(float(known.answer.laid[test.governing.place].loads[mine, :3].sum(axis=0) @ test.down))
    return (rope(up, "upper tip of the tailplane's spar", float(weight), inertia, test.parts, test.bag_force),)


def _span(one: LaidOut, surface: str) -> SpanLoad:
    found = half(one, surface, "" if surface == FIN else "R")
    if found is None:
        raise DesignProblem(f"the case {one.case.key} says nothing of the {surface}'s load along its span")
    return found


def _outline(model: Model, answer: Answered, one: LaidOut, surface: str) -> Outline:
    if surface == TAIL:
        return tail_outline(model, answer.skeleton)
    if surface == FIN:
        return fin_outline(model, answer.skeleton, _span(one, FIN), one.pushes)
    return wing_outline(model.wing(surface))


def _own(known: Known, outline: Outline, weights: np.ndarray) -> Own:
    if outline.name in HINGED:
        return own_mass(outline, of_tail(known.model, known.lumps, weights, HINGED[outline.name]))
    return own_mass(outline, (on_wing(outline.name, known.lumps, weights, known.answer.skeleton),))


def _centre(one: LaidOut) -> np.ndarray:
    return np.array([one.case.station, 0.0, one.case.waterline])


def _flip(plan: Plan, one: LaidOut) -> float:
    """-1 for a fin's case that presses to the other side: the test is its mirror. Its normal points to the left."""
    if plan.surfaces != (FIN,):
        return 1.0
    span = _span(one, FIN)
    return 1.0 if float(span.normal @ span.width) < 0 else -1.0


def _turned(span: SpanLoad, flip: float) -> SpanLoad:
    """The load of the mirrored case on the same strips."""
    return replace(
        span, normal=locked(flip * span.normal), torsion=locked(flip * span.torsion),
        hinged=locked(flip * span.hinged), hinge=locked(flip * span.hinge),
    )  # fmt: skip


def _down(plan: Plan, outlines: Sequence[Outline], spans: Sequence[SpanLoad], own: Sequence[Own],
          acc: Sequence[np.ndarray]) -> np.ndarray:  # fmt: skip
    """(3,) unit vector along what all the wings carry, air less inertia; of the tail square to the aeroplane.

    Each bay counts with its distance from the middle, so that both bending moments of the wings come out right: the
    pull along the chord lies further in than the lift.
    """
    if plan.of_tail:
        return plan.press
    force = np.zeros(3)
    for o, s, m, a in zip(outlines, spans, own, acc, strict=True):
        normal, chordwise = (in_bays(s.y, s.width, v, o.edges) for v in (s.normal, s.chordwise))
        each = normal[:, None] * o.normal + chordwise[:, None] * o.along - m.mass.sum(1)[:, None] * a
        force += o.middle @ each
    force = force * np.array([1.0, 0.0, 1.0])
    return np.asarray(force / np.linalg.norm(force))


def _solved(known: Known, test: BagTest) -> BagTest:
    """The frame under its bags."""
    bones, model = known.answer.skeleton, known.model
    assert test.governing is not None
    stands, place = trestles(model, bones, test.down), test.governing.place
    test = replace(test, trestles=stands, ropes=_ropes(known, test))
    bags = laid_bags(bones, known.carriers, test.surfaces, test.counts, test.bag_force, test.down)
    bags = bags + laid_boards(bones, known.carriers, test.boards, test.bag_force, test.down, len(bags))
    bags = bags + laid_ropes(bones, test.ropes, test.bag_force, test.down, len(bags))
    wings_off = test.plan.surfaces == (FIN,)
    loads = own_weight(known.lumps, test.down, wings_off) + np.concatenate([np.zeros_like(bags[:1]), bags])
    state = loaded(model, bones, stands, loads, test.down)
    if state.why:
        return replace(test, loaded=state, why=f"on its trestles: {state.why}")
    case = even_case(known, test)
    last = at(state.limit, [len(loads) - 1])
    held = tuple(used(model, bones, [_as_laid(test, known.answer)], last, known.held))
    mine, own = tested(model, test.plan), known.answer.laid[place]
    under = used(model, bones, [own], case, known.held, mine)
    return replace(test, loaded=state, along=_members(test, known.answer, np.asarray(case.force[0]), state), held=held,
                   members=members(test.asked.uses, under, held, mine),
                   points=tuple(_points(model, known.answer, test, state)))  # fmt: skip


def even_case(known: Known, test: BagTest) -> Solved:
    """The frame under the case at limit load, its air spread evenly over each strip of the wings' span.

    The margins' own solution has each strip's air in its middle, which steps the shear from strip to strip.
    """
    bones, answer = known.answer.skeleton, known.answer
    assert test.governing is not None
    one, loads = known.laid[test.governing.place], np.array(answer.laid[test.governing.place].loads)
    if test.plan.of_tail:
        return at(answer.limit[0], [test.governing.place])
    for surface, side in product(test.plan.surfaces, ("R", "L")):
        span = half(one, surface, side)
        if span is not None:
            o = _outline(known.model, answer, one, surface)
            loads += laid_span(bones, known.carriers, o, finer(span), side) - laid_span(
                bones, known.carriers, o, span, side
            )
    return solve(prepare(bones.frame), loads[None])


def _members(test: BagTest, answer: Answered, case: np.ndarray, state: Loaded) -> tuple[Along, ...]:
    if test.plan.of_tail:
        return tuple(by_statics(b, c[-1], test.bag_force) for b, c in zip(test.surfaces, test.counts, strict=True))
    found = []
    for surface in test.surfaces:
        o = surface.outline
        for name, bars in spars_of(answer.skeleton, o.name).items():
            found.append(along(answer.skeleton, f"{o.name}.{name}", bars, case, state.limit.force[-1], test.down,
                               o.across))  # fmt: skip
    return tuple(found)


def _as_laid(test: BagTest, answer: Answered) -> Laid:
    assert test.governing is not None and test.case is not None
    own = replace(test.case, key=f"proof.{test.plan.key}", title=f"proof load, {test.plan.title}", caveat="")
    return replace(answer.laid[test.governing.place], case=own)


def _points(model: Model, answer: Answered, test: BagTest, state: Loaded) -> list[Point]:
    bones = answer.skeleton
    return [
        Point(
            key,
            title,
            bones.frame.place[bones.node[node]],
            locked(state.moved[:, 1:, bones.node[node], :3] @ test.down),
        )
        for key, title, node in measured_at(model, bones, test.plan)
    ]
