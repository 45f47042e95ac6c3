"""Fittings of the drag bracing: a tube's pull and a wire's pull on its plate by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from handmade import answer_of

from sparwright.base.check import Check
from sparwright.data.loader import fasteners
from sparwright.family.model import Family, Model
from sparwright.margins import sources
from sparwright.margins.braces import Strengths
from sparwright.margins.drag_fittings import drag_fitting_checks, held_at, lean, on_plate
from sparwright.parts.drag_bracing import crossings, posts
from sparwright.structure.answered import Answered
from sparwright.structure.whole import skeleton

INCH = 0.0254


@pytest.fixture(scope="module")
def w1(whinchat: Family) -> Model:
    """A model with drag bracing in wood."""
    return whinchat.models["W1"]


def pulled(model: Model, **pulls: float) -> Answered:
    """Bars of the right side with a pull, N; names with _ for -."""
    bones = skeleton(model)
    given = {}
    for name, pull in pulls.items():
        i = bones.which(lambda b, n=name: b.part == f"W1-wing-{n.replace('_', '-')}" and b.at[2] == "R")[0]
        given[int(i)] = [-pull, 0, 0, 0, 0, 0, pull, 0, 0, 0, 0, 0]
    return answer_of(model, given, bones)


def found(model: Model, answer: Answered, strengths: Strengths | None = None) -> dict[str, Check]:
    """By id."""
    return {c.id: c for c in drag_fitting_checks(model, answer, strengths or sources.strengths(model))}


def test_a_tube_that_pulls_by_hand(w1: Model) -> None:
    """4000 N straight off both plates: a quarter on each bolt, in tension alone."""
    checks = found(w1, pulled(w1, DRAG_TUBE_53=4000.0))
    strong = sources.strengths(w1).fastener("AN3", "tension").value
    for spar in ("front", "rear"):
        assert checks[f"strength.drag.wing.{spar}.bolts"].value == pytest.approx(1.15 * 1000 / strong)
    assert checks["strength.drag.wing.lug"].value == 0.0


def test_a_wire_that_pulls_by_hand(w1: Model) -> None:
    """2000 N in one wire: force, moment about the plate's middle, then the bolts of its front plate one by one."""
    wing = w1.wings[0]
    drag = wing.drag_bracing
    assert drag is not None
    answer = pulled(w1, DRAG_WIRE_15=2000.0)
    post = posts(w1, wing, drag.bays[0])[0]
    wire = next(c for c in crossings(w1, wing) if c.level == 1 and c.start == drag.bays[0])
    force, moment = (v[0, 0, 0] for v in on_plate(held_at(w1, wing, post, answer), answer))
    F = 1.15 * 2000 * wire.ends[0].way
    own = np.array([post.axes.aft, post.axes.along, post.axes.up])
    np.testing.assert_allclose(force, own @ F, atol=1e-6)
    np.testing.assert_allclose(moment, own @ np.cross(wire.ends[0].pin - post.at(0.0), F), atol=1e-6)
    half, d = drag.pitch / 2, fasteners()["AN3"].diameter
    bolts = [(x, y) for x in (-half, half) for y in (-half, half)]
    turn = moment[0] / (4 * 2 * half**2)
    shear = max(math.hypot(force[1] / 4 - turn * y, force[2] / 4 + turn * x) for x, y in bolts)
    e = 2 * d
    pull = max(force[0], 0) / 4 + (abs(moment[1]) + abs(moment[2])) * (e + drag.pitch) / (
        2 * e**2 + 2 * (e + drag.pitch) ** 2
    )
    told = {s.title: s.value for s in found(w1, answer)["strength.drag.wing.front.bolts"].steps}
    assert told["shear of the worst bolt"] == pytest.approx(shear)
    assert told["pull of the worst bolt"] == pytest.approx(pull)
    P_s, P_t = (sources.strengths(w1).fastener("AN3", n).value for n in ("shear", "tension"))
    u = told["bolt in shear and pull"]
    assert (shear / P_s / u) ** 3 + (pull / P_t / u) ** 2 == pytest.approx(1.0)


def test_a_lug_lies_in_the_plane_of_its_wire(w1: Model) -> None:
    """The wire leaves its lug between straight out of the spar and along it, by the bay's own slope."""
    wing = w1.wings[0]
    assert wing.drag_bracing is not None
    a, b = wing.drag_bracing.bays[:2]
    apart = (0.62 - 0.2) * 62 * INCH
    wire = crossings(w1, wing)[0]
    assert lean(wire.ends[0]) == pytest.approx(math.atan2(b - a, apart), abs=0.15)  # from pins, not from spars' middles


def test_what_is_not_known_does_not_pass(w1: Model) -> None:
    known = sources.strengths(w1)
    lost = replace(known, material=lambda *a: replace(known.material(*a), value=math.nan),
                   fastener=lambda *a: replace(known.fastener(*a), value=math.nan))  # fmt: skip
    assert {c.verdict for c in found(w1, pulled(w1, DRAG_WIRE_15=2000.0), lost).values()} == {"unknown"}
