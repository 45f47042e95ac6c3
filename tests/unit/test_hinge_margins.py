"""Hinges: the frame's force on a pin, and the air behind an aileron's hinge, by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from handmade import CASE, answer_of

from sparwright.base.check import Check
from sparwright.family.model import Family, Model
from sparwright.loads.laid_out import SpanLoad
from sparwright.margins import sources
from sparwright.margins.braces import Strengths
from sparwright.margins.hinges import aileron_loads, hinge_checks
from sparwright.margins.rib_loads import Spans
from sparwright.structure.answered import Answered
from sparwright.structure.whole import skeleton

INCH, KSI = 0.0254, 6894757.3


@pytest.fixture(scope="module")
def w1(whinchat: Family) -> Model:
    """A model with hinges everywhere."""
    return whinchat.models["W1"]


def found(model: Model, answer: Answered, spans: Spans, strengths: Strengths | None = None) -> dict[str, Check]:
    """By id."""
    return {c.id: c for c in hinge_checks(model, answer, spans, strengths or sources.strengths(model))}


def held(model: Model, part: str, force: list[float], pull: float = 0.0, cable: str = "") -> Answered:
    """One hinge with a force on its end at the hinge line; both cables of a horn with a pull and a push."""
    bones = skeleton(model)
    given = {int(bones.which(lambda b: b.part == part)[0]): [0.0] * 6 + force}
    for i, sign in zip(bones.which(lambda b: b.part == cable), (1.0, -1.0), strict=False):
        given[int(i)] = [-sign * pull, 0, 0, 0, 0, 0, sign * pull, 0, 0, 0, 0, 0]
    return answer_of(model, given, bones)


def test_an_elevators_hinge_by_hand(w1: Model) -> None:
    """300 N along and 400 N over the plane: 500 N on an AN3 pin, a bush of 1/4 in, straps 1-1/2 in wide of 0.040 in."""
    checks = found(w1, held(w1, "W1-tailplane-HINGE-EYE-24-R", [300.0, 70.0, 400.0, 0, 0, 0]), {})
    of = sources.strengths(w1)
    F = of.material("4130N", "bearing", 0.040 * INCH).value
    wide = (1.0 + 2 * 0.25) * INCH
    assert checks["strength.hinge.elevator.bearing"].value == pytest.approx(6.67 * 500 / (0.25 * INCH * wide * F))
    shear = of.fastener("AN3", "shear").value
    assert checks["strength.hinge.elevator.pin"].value == pytest.approx(1.15 * 500 / (2 * shear))
    assert checks["strength.hinge.elevator.held"].value > 1.15 * 500 / (6 * 330 * 4.448)  # none of the tests gave more


def test_a_cable_does_not_push(w1: Model) -> None:
    """400 N in one cable and 400 N of push in the other: 800 N on a hinge besides its own 100 N."""
    part, cable = "W1-fin-HINGE-EYE-28", "W1-rudder-CABLE"
    checks = found(w1, held(w1, part, [100.0, 0, 0, 0, 0, 0], 400.0, cable), {})
    shear = sources.strengths(w1).fastener("AN3", "shear").value
    assert checks["strength.hinge.rudder.pin"].value == pytest.approx(1.15 * 900 / (2 * shear))


def test_an_ailerons_hinges_by_hand(w1: Model) -> None:
    """120 N/m behind the hinge and 6 N m/m about it, from 112 to 183 in: half way to half way, and the horn's push."""
    wing = w1.wings[0]
    y = (np.arange(200) + 0.5) * wing.panels[-1].tip_buttline / 200
    one, inside = np.ones(200), ((y > 112 * INCH) & (y < 183 * INCH)).astype(float)
    span = SpanLoad(surface="wing", side="L", case=CASE.key, y=y, width=one * y[0] * 2, chord=one, normal=0 * one,
                    chordwise=0 * one, torsion=0 * one, hinged=120.0 * inside, hinge=6.0 * inside)  # fmt: skip
    load = aileron_loads(wing, answer_of(w1, {}), {CASE.key: (span,)})[0, 0]
    a, b, c = 123.75, 135.75, 171.0
    spans = np.array([(a + b) / 2 - 112, (c - a) / 2, 183 - (b + c) / 2]) * INCH
    push = 6.0 * 71 * INCH / (1.75 * INCH)
    np.testing.assert_allclose(load, 1.5 * (120 * spans + push), rtol=0.02)  # the strips' ends are not the aileron's


def test_what_is_not_known_does_not_pass(w1: Model, monkeypatch: pytest.MonkeyPatch) -> None:
    known = sources.strengths(w1)
    lost = replace(known, material=lambda *a: replace(known.material(*a), value=math.nan),
                   fastener=lambda *a: replace(known.fastener(*a), value=math.nan))  # fmt: skip
    assert {c.verdict for c in found(w1, answer_of(w1, {}), {}, lost).values()} == {"unknown"}
    mine = found(w1, answer_of(w1, {}), {})
    assert {c.verdict for k, c in mine.items() if ".aileron." in k} == {"unknown"}  # wind and hand are not in it
