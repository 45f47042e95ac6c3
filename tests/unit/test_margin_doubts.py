"""No check passes while something in it is not worked out: strengths beside, bars that are not there, faults masked."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from handmade import answer_of

from sparwright.base.check import Check, check
from sparwright.base.source import Band
from sparwright.controls.chain import moving
from sparwright.family.model import Family, Model
from sparwright.margins import as_built, chain
from sparwright.margins import candidates as offers
from sparwright.margins.along import check_of, used_by_bars
from sparwright.margins.braces import brace_checks, leaned_on
from sparwright.margins.candidates import NOT_YET, candidates
from sparwright.margins.chain import gone_check, members
from sparwright.margins.controls import control_checks
from sparwright.margins.drag_fittings import drag_fitting_checks
from sparwright.margins.sizes import members_of
from sparwright.margins.sources import strengths
from sparwright.margins.tail_joints import tail_joint_checks
from sparwright.margins.tubes import groups, right_of, tube_checks
from sparwright.parts.layout import lay_out
from sparwright.reports import weakest
from sparwright.reports.page import Table
from sparwright.strength.allowable import Allowable
from sparwright.strength.joints.lug import Lug
from sparwright.structure.answered import Answered
from sparwright.structure.whole import skeleton


@pytest.fixture(scope="module")
def w1(whinchat: Family) -> Model:
    """A model with struts, wires, drag bracing and a framed tail."""
    return whinchat.models["W1"]


def opened(model: Model, *names: str):  # type: ignore[no-untyped-def]
    """Its strengths with some of the materials' told as recalled."""
    of = strengths(model)

    def found(key: str, name: str, thick: float) -> Allowable:
        a = of.material(key, name, thick)
        return replace(a, open="recalled by the test") if name in names else a

    return replace(of, material=found)


# ------------------------------------------------------------------ a wire gone


def told(id: str, value: float, doubt: str = "") -> Check:
    """A check of a use against one."""
    return check(id, f"title of {id}", Band.exact(value), 1.0, "<=", "1", outside_range=doubt)


@pytest.mark.parametrize(
    ("of", "verdict", "id"),
    [
        ((told("a", 0.9), told("b", 0.4)), "pass", "a"),
        ((told("a", 0.9), told("b", 0.4, "not worked out")), "unknown", "a"),
        ((told("a", 0.9), told("b", math.nan)), "unknown", "b"),
        ((told("a", 1.2), told("b", 0.4, "not worked out")), "fail", "a"),
    ],
)
def test_a_wire_gone_passes_only_where_all_do(
    w1: Model, monkeypatch: pytest.MonkeyPatch, of: tuple[Check, ...], verdict: str, id: str
) -> None:
    monkeypatch.setattr(chain, "members", lambda *a: iter(of))
    monkeypatch.setattr(chain, "stands_check", lambda a: told("stands", 0.1))
    c = gone_check(w1, "W1-wires-FIN", answer_of(w1, {}))
    assert c.verdict == verdict and c.title.endswith(f"title of {id}")
    if verdict == "unknown" and id == "a":
        assert "not known: title of b: not worked out" in c.caveat


# ------------------------------------------------------------------ strengths beside


def test_a_pin_leans_on_what_bears_beside_it(w1: Model) -> None:
    answer = answer_of(w1, {})
    plain = [c for c in brace_checks(w1, answer, strengths(w1)) if c.id.startswith("strength.pin.")]
    assert plain and any(c.verdict == "pass" for c in plain)
    for name in ("bearing", "yield_compression"):
        held = [c for c in brace_checks(w1, answer, opened(w1, name)) if c.id.startswith("strength.pin.")]
        told = [c for c in held if "recalled by the test" in c.caveat]
        assert told and {c.verdict for c in told} == {"unknown"}, name
    (drag,) = (c for c in drag_fitting_checks(w1, answer, opened(w1, "bearing")) if c.id == "strength.drag.wing.pin")
    assert drag.verdict == "unknown" and "bearing" in drag.caveat


def test_bearing_close_to_an_edge_counts_where_the_hole_is_close() -> None:
    five = tuple(Allowable(name=str(k), material="", value=1.0, source=None) for k in range(5))  # type: ignore[arg-type]
    near = Lug(width=0.02, hole=0.006, pin=0.006, edge=0.01, thickness=0.003, tension=1.0, yields=1.0, shear=1.0,
               bearing=1.0, bearing_close=1.0)  # fmt: skip
    assert len(leaned_on(near, five)) == 5
    assert len(leaned_on(replace(near, edge=0.012), five)) == 4
    assert len(leaned_on(replace(near, bearing_close=math.nan), five)) == 4  # a stand-in is used


# ------------------------------------------------------------------ bars that are not there


def test_a_tube_without_a_size_is_told_as_unknown(w1: Model) -> None:
    bones = skeleton(w1)
    name = "W1-struts-LIFT_FRONT"
    bars = tuple(replace(b, made=None) if b.part == name else b for b in bones.bars)
    (c,) = (c for c in tube_checks(answer_of(w1, {}, replace(bones, bars=bars)), strengths(w1).material)
            if c.id == "strength.tube.struts-LIFT_FRONT")  # fmt: skip
    assert c.verdict == "unknown" and "not handed over" in c.caveat


def test_a_gusset_with_an_end_that_the_frame_has_not_does_not_pass(w1: Model) -> None:
    bones = skeleton(w1)
    rib = next(b.part for b in bones.bars if b.part.startswith("W1-tailplane-RIB-") and b.part.endswith("-R"))
    bars = tuple(replace(b, part="W1-gone") if b.part == rib else b for b in bones.bars)
    found = {c.id: c for c in tail_joint_checks(w1, answer_of(w1, {}, replace(bones, bars=bars)), strengths(w1))}
    c = found["strength.gusset.tailplane"]
    assert c.verdict == "unknown" and f"{rib} are not in the frame" in c.caveat
    none = tuple(replace(b, part="W1-gone") if b.part.startswith("W1-tailplane-") else b for b in bones.bars)
    found = {c.id: c for c in tail_joint_checks(w1, answer_of(w1, {}, replace(bones, bars=none)), strengths(w1))}
    assert found["strength.gusset.tailplane"].verdict == "unknown"


# ------------------------------------------------------------------ sizes on offer


def test_every_member_has_sizes_or_a_reason(w1: Model) -> None:
    """None breaks what looks for sizes; skins and joints of the tail say that none are offered."""
    answer, assembly = answer_of(w1, {}), lay_out(w1)
    checks = list(members(w1, answer, spans={}))
    some = {ids[0]: candidates(w1, answer, ids, assembly) for ids in members_of(checks)
            if ids[0].split(".")[1] not in ("tube", "pin", "lug", "bolts", "wire")}  # fmt: skip
    assert all(o.found or o.why for o in some.values())
    assert some["strength.gusset.fin"].why == NOT_YET and not some["strength.gusset.fin"].found


def test_a_size_whose_use_is_partly_unknown_is_no_choice(w1: Model, monkeypatch: pytest.MonkeyPatch) -> None:
    """A use that is not known, of known forces or of forces that are lost, leaves a size without a margin."""
    bones, assembly = skeleton(w1), lay_out(w1)
    right, left = next(b for n, b in groups(answer_of(w1, {}, bones)).items() if n.endswith("LIFT_FRONT"))
    push, id = {right: [500.0, 0, 0, 0, 0, 0, -500.0, 0, 0, 0, 0, 0]}, "strength.tube.struts-LIFT_FRONT"
    known = candidates(w1, answer_of(w1, push, bones), [id], assembly).found
    lost = candidates(w1, answer_of(w1, push | {left: [np.nan] * 12}, bones), [id], assembly).found
    assert known and any(math.isfinite(c.margin) for c in known) and all(math.isnan(c.margin) for c in lost)
    plain = offers.use_of

    def without_the_left(*given):  # type: ignore[no-untyped-def]
        use = plain(*given)
        use[:, :, 1] = np.nan
        return use

    monkeypatch.setattr(offers, "use_of", without_the_left)
    found = candidates(w1, answer_of(w1, push, bones), [id], assembly).found
    assert found and all(math.isnan(c.margin) for c in found)


def test_a_bow_whose_price_is_unknown_in_one_bar_has_no_margin(w1: Model, monkeypatch: pytest.MonkeyPatch) -> None:
    bones = skeleton(w1)
    right, left = next(b for n, b in groups(answer_of(w1, {}, bones)).items() if n.endswith("LIFT_FRONT"))
    push = [500.0, 0, 0, 0, 0, 0, -500.0, 0, 0, 0, 0, 0]
    answer = answer_of(w1, {right: push, left: push}, bones)
    held = [c for c in tube_checks(answer, strengths(w1).material) if c.id == "strength.tube.struts-LIFT_FRONT"]

    def bowed() -> list[float]:
        return [r.value for r in as_built.as_built_results(w1, answer, held) if ".bowed_" in r.id]

    assert bowed() and all(math.isfinite(v) for v in bowed())
    plain = as_built.column.price
    monkeypatch.setattr(as_built.column, "price", lambda *a: plain(*a) * [1.0, np.nan])
    assert all(math.isnan(v) for v in bowed())


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_no_bar_of_the_frame_is_without_a_check(whinchat: Family, name: str) -> None:
    """Not one; the report says so."""
    model = whinchat.models[name]
    assert model.controls is not None
    answer = answer_of(model, {})
    pushed = control_checks(model, answer, moving(model, model.controls)[1], strengths(model))
    ids = [c.id for c in (*members(model, answer, spans={}), *pushed)]
    alone = {
        right_of(b.part).split("-", 1)[1]
        for b in answer.skeleton.bars
        if not check_of(b) or not any(i.startswith(check_of(b)) for i in ids)
    }
    assert not alone
    begins = {check_of(b) for b in answer.skeleton.bars}
    assert len(begins) > 100 and all(x.startswith("strength.") and x.count(".") >= 2 for x in begins if x)
    assert not listed(answer, [SimpleNamespace(id=i) for i in ids])
    guides = [SimpleNamespace(id=i) for i in ids if not i.startswith("strength.guide.")]
    assert listed(answer, guides) == {"link": "gear-GUIDE"}


def test_every_tube_and_wire_of_a_picture_has_its_checks_use(w1: Model) -> None:
    """Names with a plus too: a picture would show them as looked at by nothing."""
    answer = answer_of(w1, {})
    checks = tuple(members(w1, answer))
    used = used_by_bars(answer, checks, ())
    bars = answer.skeleton.bars
    assert any("+" in b.part for b in bars if b.what == "tail tube")
    for i, bar in enumerate(bars):
        assert np.isfinite(used[i]) == (bar.what not in ("link", "rib", "spar")), bar.part


def test_the_report_tells_no_tube_as_bare_that_has_a_check(w1: Model) -> None:
    answer = answer_of(w1, {})
    checks = tuple(members(w1, answer))
    assert set(listed(answer, checks)) == {"link", "rib"}  # whose checks want the air along the span, or the controls


def listed(answer: Answered, checks: Sequence[object]) -> dict[str, str]:
    """What the report tells as looked at by no check, by kind."""
    asked = SimpleNamespace(ran=SimpleNamespace(margins=SimpleNamespace(answer=answer)), checks=checks)
    table = list(weakest._bare(asked))[-1]  # type: ignore[arg-type]
    if not isinstance(table, Table):
        return {}
    return {str(row[0]): str(row[2]) for row in table.rows}
