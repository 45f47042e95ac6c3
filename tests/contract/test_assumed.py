"""The proof made again: with nothing changed it is the same; what is changed shows where it must and nowhere else."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from sparwright.data.assumptions import assumptions
from sparwright.data.columns import curves
from sparwright.family.model import Family, RoundTube
from sparwright.margins.assumed import study
from sparwright.margins.chain import Margins
from sparwright.margins.trial import Proof, Trial, first_trial, prove
from sparwright.margins.tubes import groups, lengths
from sparwright.margins.turns import TURNS
from sparwright.output import assumed
from sparwright.run import RunResult
from sparwright.strength.members import column

Ran = Callable[[str], RunResult]


@pytest.fixture(scope="module")
def w1(ran: Ran) -> RunResult:
    """W1, worked out."""
    return ran("W1")


@pytest.fixture(scope="module")
def trial(w1: RunResult, whinchat: Family) -> Trial:
    """Its proof as it was made."""
    return first_trial(whinchat.models["W1"], w1.assembly, w1.margins)


@pytest.fixture(scope="module")
def few(trial: Trial) -> Proof:
    """The same in three cases, one of them a gust."""
    gusts = [x for x in trial.cases if x.case.kind == "gust"][:1]
    others = [x for x in trial.cases if x.case.kind != "gust"][:2]
    return prove(replace(trial, cases=(*gusts, *others)))


def test_the_deciding_cases_alone_give_the_same_margins(trial: Trial, w1: RunResult) -> None:
    again = prove(trial).margins
    proved = {c.id: c.margin for c in w1.checks}
    assert len(again) > 60 and len(trial.cases) < len(w1.margins.laid)
    for id, margin in again.items():
        assert margin == pytest.approx(proved[id], abs=1e-9), id


@pytest.mark.parametrize("key", TURNS)
def test_turned_to_what_is_used_nothing_changes(key: str, few: Proof) -> None:
    turned = prove(TURNS[key](few.trial, assumptions()[key].used), few).margins
    for id, margin in few.margins.items():
        assert turned[id] == pytest.approx(margin, abs=1e-9), (key, id)


def test_fixity_enters_the_column_and_nothing_else(few: Proof) -> None:
    """A tube that is pressed and hardly bent: its use by the column's own function at c 1.5."""
    turned = prove(TURNS["fixity.welded"](few.trial, 1.5), few)
    moved = {k for k, m in few.margins.items() if turned.margins[k] != m}
    assert moved and all(k.startswith("strength.tube.") for k in moved)
    assert all(turned.margins[k] < few.margins[k] for k in moved)
    assert not any("struts-" in k or "mount" in k for k in moved)
    after = {c.id: c for c in turned.checks}
    for part, bars in groups(few.answer).items():
        bar = few.answer.skeleton.bars[bars[0]]
        id = f"strength.tube.{part.split('-', 1)[1]}"
        if bar.what == "tube" and id in moved:
            x = next(s.value for s in after[id].steps if s.title == "slenderness")
            assert isinstance(bar.made, RoundTube) and curves(bar.made.material)
            own = {round(float(column.slenderness(n, bar.made.outside, bar.made.wall, 1.5)), 6)
                   for n in lengths(few.answer, np.array(bars))}  # fmt: skip
            assert round(x, 6) in own


def test_the_fitting_factor_goes_with_the_load_on_lugs_and_pins(few: Proof) -> None:
    turned = {c.id: c.value for c in prove(TURNS["factor.fitting"](few.trial, 2 * 1.15), few).checks}
    before = {c.id: c.value for c in few.checks}
    for id, use in before.items():
        held = id.startswith(("strength.lug.", "strength.pin.", "strength.bolts."))
        assert turned[id] == pytest.approx((2 if held else 1) * use, rel=1e-9, nan_ok=True), id


def test_gusts_alone_are_scaled(few: Proof) -> None:
    turned = TURNS["load.gust"](few.trial, 1.1)
    for old, new in zip(few.trial.cases, turned.cases, strict=True):
        ratio = new.pushes.force[0] / old.pushes.force[0]
        n = old.case.factor
        expected = (1 + 1.1 * (n - 1)) / n if old.case.kind == "gust" else 1.0
        assert ratio[abs(old.pushes.force[0]) > 0] == pytest.approx(expected)


def test_softer_rib_ends_and_stiffer_wires_move_forces(few: Proof) -> None:
    for key, value in (("frame.cables", 0.5), ("frame.wood", 0.5), ("share.skin", 0.0), ("mass.rubbers", 3)):
        turned = prove(TURNS[key](few.trial, value), few).margins
        assert any(abs(turned[k] - m) > 1e-4 for k, m in few.margins.items()), key


def test_told_as_text_json_and_csv_it_is_the_same(w1: RunResult, whinchat: Family) -> None:
    found = study(whinchat.models["W1"], w1.assembly, w1.margins, keys=["fixity.welded", "share.lugs", "left.welds"])
    text, rows = assumed.told("W1", found, 200), assumed.as_csv(found).decode().splitlines()
    body = json.loads(assumed.as_json({"model": "W1"}, found))
    assert [r["id"] for r in body["assumptions"]] == [f"assumption.{s.assumption.key}" for s in found]
    first = body["assumptions"][0]
    assert first["value"] == pytest.approx(found[0].change) and found[0].moves(found[0].touched) > 0
    assert assumed.points(first["value"]) in text and found[0].touched in text
    assert rows[1].startswith("fixity.welded,") and rows[-1].startswith("left.welds,") and len(rows) == 4
    assert first["touched_check"] in rows[1] and body["assumptions"][2]["value"] is None


def test_without_a_case_nothing_can_be_varied(w1: RunResult, whinchat: Family) -> None:
    with pytest.raises(ValueError, match="no load case"):
        study(whinchat.models["W1"], w1.assembly, Margins(None, (), ()))


@pytest.mark.long
def test_what_ribs_hinges_and_controls_lean_on_moves_them_and_nothing_else(trial: Trial) -> None:
    """Each of the shares touches its own checks, the safe side first; friction scales what it enters."""
    base = prove(trial)
    own = {
        "rib.sign": ".rib_", "rib.cell": ".rib_", "rib.hinge": ".rib_", "hinge.push": "aileron",
        "hinge.cables": "hinge.", "control.side": "control.", "control.friction": "control.",
    }  # fmt: skip
    for key, word in own.items():
        row = assumptions()[key]
        turned = prove(TURNS[key](trial, row.low if row.used == row.high else row.high), base)
        moved = {k for k, m in base.margins.items() if turned.margins[k] != m}
        assert all(word in k for k in moved), (key, moved)
    eased = prove(TURNS["control.friction"](trial, 0.8), base)
    rods = [k for k in base.margins if k.startswith("strength.control.rod.")]
    assert rods
    for k in rods:
        assert 1 - eased.margins[k] == pytest.approx(0.8 * (1 - base.margins[k]), rel=1e-9)


def test_the_air_along_the_span_goes_with_its_forces(few: Proof) -> None:
    """Aft by a part of the chord: torsion by that much of the force; farther out: the same force over a longer half."""
    aft, out = (TURNS[k](few.trial, v).cases for k, v in (("load.chordwise", 0.02), ("load.spanwise", 1.03)))
    checked = 0
    for old, a, o in zip(few.trial.cases, aft, out, strict=True):
        for s, t, u in zip(old.spans, a.spans, o.spans, strict=True):
            if s.surface == "wing":
                np.testing.assert_allclose(t.torsion, s.torsion - 0.02 * s.normal * s.chord, rtol=1e-12, atol=1e-12)
                assert (u.normal * u.width).sum() == pytest.approx((s.normal * s.width).sum(), rel=1e-12)
                assert (u.normal * u.width * u.y).sum() == pytest.approx(1.03 * (s.normal * s.width * s.y).sum())
                checked += 1
    assert checked
