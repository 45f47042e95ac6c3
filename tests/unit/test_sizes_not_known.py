"""Sizes at loads made by hand: what is not known of one case keeps every size from being told as one that passes."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from handmade import CASE, answer_of
from test_rib_margins import span

from sparwright.base.check import check
from sparwright.base.source import Band
from sparwright.family.model import Family, Model
from sparwright.margins.candidates import candidates
from sparwright.margins.rib_candidates import rib_candidates, wing_ribs
from sparwright.margins.rib_loads import ON_THE_GROUND
from sparwright.margins.worst import LOST, known_margin
from sparwright.maths.frame.record import Solved
from sparwright.parts.part import Assembly
from sparwright.structure.answered import Answered
from sparwright.structure.laid import Laid

AIR = {CASE.key: tuple(span(s, 300.0, -30.0, wing="upper") for s in ("R", "L"))}
KINDS = ("rib_nose", "rib_middle", "rib_tail")


@pytest.fixture(scope="module")
def model(whinchat: Family) -> Model:
    """Ribs of metal, whose strength is known."""
    return whinchat.models["W2"]


BARE = Assembly(model="W2", parts=(), joints=())


def margins(model: Model, answer: Answered, *kinds: str) -> dict[str, float]:
    """By stock."""
    of = wing_ribs(model, answer, model.wing("upper"), AIR)
    found = rib_candidates(model, of, "", kinds or KINDS, BARE).found
    assert found
    return {c.stock: c.margin for c in found}


def rib_bar(answer: Answered) -> int:
    """The first of the frame's ribs."""
    return int(answer.skeleton.which(lambda b: b.what == "rib" and b.at[0] == "upper" and b.at[2] == "R")[0])


def test_a_load_that_is_not_known_leaves_no_size_known(model: Model) -> None:
    """The frame's forces in one rib of one case are not worked out: no sheet is known to pass."""
    bare = answer_of(model, {})
    plain = margins(model, bare)
    assert sum(map(math.isfinite, plain.values())) > 2, "some sheets are outside the method's range"
    lost = answer_of(model, {rib_bar(bare): [math.nan] * 12}, bare.skeleton)
    assert all(math.isnan(m) for m in margins(model, lost).values())


def test_a_wind_that_is_not_laid_on_them_leaves_no_size_known(model: Model) -> None:
    bare = answer_of(model, {})
    wind = replace(bare.laid[0], case=replace(CASE, key="control.wind.aileron.upper.middle", kind="control"))
    windy = replace(bare, laid=(*bare.laid, wind), ultimate=(_twice(bare),), limit=(_twice(bare),))
    of = wing_ribs(model, windy, model.wing("upper"), AIR)
    told = rib_candidates(model, of, "", KINDS, BARE)
    assert not told.found and told.why == ON_THE_GROUND
    assert rib_candidates(model, of, "", ("rib_nose",), BARE).found, "nothing hangs on it there"


def _twice(bare: Answered) -> Solved:
    """Both cases with the same forces."""
    one = bare.ultimate[0]
    return replace(one, **{k: np.concatenate([v, v]) if isinstance(v, np.ndarray) else v + v
                           for k, v in vars(one).items()})  # fmt: skip


@pytest.mark.parametrize(("what", "kind"), [("tube", "tube"), ("wire", "wire")])
def test_a_tube_or_wire_whose_force_is_not_known_has_no_size_known(model: Model, what: str, kind: str) -> None:
    """One of two cases is not worked out: the greatest of the other says nothing of it."""
    bare = answer_of(model, {})
    i = next(i for i, b in enumerate(bare.skeleton.bars) if b.what == what and not b.part.endswith("-L"))
    id = f"strength.{kind}." + bare.skeleton.bars[i].part.split("-", 1)[-1].removesuffix("-R").replace("+", "_")
    force = [-500.0, *[0.0] * 5, 500.0, *[0.0] * 5]
    known = answer_of(model, {i: force}, bare.skeleton)
    case = replace(known.laid[0], case=replace(CASE, key="other"))
    two, lost = (_with(known, case, part) for part in (1.0, math.nan))
    plain, gone = ({c.stock: c.margin for c in candidates(model, x, [id], BARE).found} for x in (two, lost))
    assert plain and all(math.isfinite(m) for m in plain.values()) and set(plain) == set(gone)
    assert all(map(math.isnan, gone.values()))


def _with(known: Answered, case: Laid, part: float) -> Answered:
    """A second case with so much of the first one's forces."""
    one = known.ultimate[0]
    both = _twice(known)
    force, pull = np.concatenate([one.force, one.force * part]), np.concatenate([one.pull, one.pull * part])
    return replace(known, laid=(*known.laid, case), ultimate=(replace(both, force=force, pull=pull),))


def test_a_check_that_passes_but_for_a_lost_case_has_no_margin() -> None:
    """What fails on what is known keeps its margin; a strength that may not decide yet is not a load."""
    plain = check("a", "a", Band.exact(0.5), 1.0, "<=", "1")
    lost = replace(plain, verdict="unknown", caveat=f"strut: {LOST}gust: does not settle")
    fails = replace(lost, verdict="fail", margin=-0.2)
    open_ = replace(plain, verdict="unknown", caveat="webs of 6061-T6: how they share a load is not worked out yet")
    assert math.isnan(known_margin(lost)) and known_margin(fails) == -0.2
    assert known_margin(plain) == known_margin(open_) == 0.5
