"""Skins of ply and glass that close a cell on a spar: Bredt by hand; wrinkled or held by nothing they are unknown."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from handmade import answer_of

from sparwright.base.check import Check
from sparwright.family.model import Family, Model
from sparwright.margins import sources
from sparwright.margins.skins import cell_of, skin_checks
from sparwright.margins.spar_run import Strengths, run_of
from sparwright.structure.answered import Answered
from sparwright.structure.whole import skeleton

TORQUE = 300.0  # N m at ultimate load


def twisted(model: Model, wing: str, spar: str, torque: float = TORQUE) -> tuple[Answered, int]:
    """A torque along every bar of a spar; the place of its middle bar among them."""
    bones = skeleton(model)
    bars = bones.which(lambda b: b.what == "spar" and b.at[:2] == (wing, spar))
    along = [0.0, 0.0, 0.0, -torque, 0.0, 0.0, 0.0, 0.0, 0.0, torque, 0.0, 0.0]
    return answer_of(model, {int(i): along for i in bars}, bones), len(bars) // 4


def of(model: Model, wing: str, spar: str, answer: Answered, strengths: Strengths | None = None) -> dict[str, Check]:
    """By kind."""
    w = model.wing(wing)
    s = next(x for x in w.spars if x.name == spar)
    return {c.id.split(".")[3]: c for c in skin_checks(model, answer, w, s, strengths or sources.grained(model))}


def test_ply_nose_by_hand(whinchat: Family) -> None:
    """q = T_skin/(2 A) with the area of the polygon ahead of the spar, over 1.5 mm of birch; at 45 degrees unknown."""
    drawn = whinchat.models["W1"]
    turned = of(drawn, "wing", "front", twisted(drawn, "wing", "front")[0])["skin_shear"]
    assert turned.verdict == "unknown" and "45 deg" in turned.caveat
    wing = drawn.wings[0]
    along = tuple(replace(s, grain=0.0) for s in wing.skins)
    model = replace(drawn, wings=(replace(wing, skins=along), *drawn.wings[1:]))
    answer, _ = twisted(model, "wing", "front")
    wing = model.wings[0]
    run = run_of(model, answer, wing, wing.spars[0])
    cell = cell_of(run, wing.skins[0])
    chord = wing.panels[0].root_chord
    assert 0.5 * 0.2 * 0.12 * chord**2 < cell.area.min() < 0.2 * 0.16 * chord**2  # between a triangle and its box
    flow = TORQUE * (1 - run.share) / (2 * cell.area)
    strength = sources.grained(model)("birch-ply", "shear", 1.5e-3, 0.0).value
    found = of(model, "wing", "front", answer)
    assert found["skin_shear"].value == pytest.approx(flow.max() / (1.5e-3 * strength), rel=1e-9)
    assert found["skin_shear"].verdict == "pass"


def test_what_wrinkles_is_unknown_in_ply(whinchat: Family) -> None:
    w1 = whinchat.models["W1"]
    ply = of(w1, "wing", "front", twisted(w1, "wing", "front", 5000.0)[0])["skin_flat"]
    assert ply.verdict == "unknown" and math.isnan(ply.value) and "wrinkled" in ply.caveat


def test_an_edge_that_nothing_holds_is_unknown(whinchat: Family) -> None:
    w1 = whinchat.models["W1"]
    over = of(w1, "wing", "front", twisted(w1, "wing", "front", 1.0)[0])["skin_edge"]
    assert over.verdict == "unknown" and "land" in over.caveat


def test_an_edge_glued_to_the_spar_by_hand(whinchat: Family) -> None:
    """Without a land: q over the cap's width against a third of spruce's shear."""
    model = whinchat.models["W1"]
    wing = model.wings[0]
    close = replace(wing, spars=(replace(wing.spars[0], land=0.0), wing.spars[1]))
    glued = replace(model, wings=(close,))
    answer, _ = twisted(model, "wing", "front")
    run = run_of(glued, answer, close, close.spars[0])
    flow = (TORQUE * (1 - run.share) / (2 * cell_of(run, close.skins[0]).area)).max()
    shear = sources.grained(model)("spruce", "shear", 1.25 * 0.0254, 0.0).value
    found = of(glued, "wing", "front", answer)["skin_edge"]
    assert found.value == pytest.approx(flow / (1.5 * 0.0254) / (shear / 3), rel=1e-6)


def test_what_is_not_known_does_not_pass(whinchat: Family) -> None:
    model = whinchat.models["W1"]
    known = sources.grained(model)
    lost = lambda *a: replace(known(*a), value=math.nan)  # noqa: E731
    found = of(model, "wing", "front", twisted(model, "wing", "front", 1.0)[0], lost)
    assert {c.verdict for c in found.values()} == {"unknown"}
