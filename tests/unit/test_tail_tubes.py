"""Tubes of the tail surfaces: none without a check, how long each is as a column, what its holes cost, its name."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from handmade import answer_of
from numpy.testing import assert_allclose

from sparwright.base.check import Check
from sparwright.data.columns import curves
from sparwright.family.model import Family, Model, RoundTube
from sparwright.margins.sources import strengths
from sparwright.margins.tubes import groups, lengths, right_of, run_of, title_of, tube_checks
from sparwright.strength.members import column, tube
from sparwright.strength.members.section import net_area, net_modulus
from sparwright.structure.answered import Answered
from sparwright.structure.bar import Bar, Skeleton, assembled
from sparwright.structure.sections import tube_section
from sparwright.structure.whole import skeleton

TUBE = RoundTube(material="6061-T6", outside=0.015875, wall=0.000889)
AFT, OUT = np.array([1.0, 0, 0]), np.array([0, 1.0, 0])
PLACES = {"a": 0 * OUT, "h": 1.0 * OUT, "b": 2.5 * OUT, "c": 3 * OUT, "d": 2.5 * OUT + AFT, "x": 1.0 * OUT - AFT}


def made_up() -> Skeleton:
    """A front tube from a to c; a hinge on it at h, a rib from it at b, a root at a."""
    up = np.array([0, 0, 1.0])

    def tube(part: str, a: str, b: str) -> Bar:
        return Bar(part, "tail tube", (a, b), tube_section(TUBE), up, made=TUBE)

    hinge = Bar("M-elevator-HINGE", "link", ("h", "x"), tube_section(TUBE), up)
    front = [tube("M-elevator-FRONT-R", a, b) for a, b in ("ah", "hb", "bc")]
    return assembled(PLACES, [*front, hinge, tube("M-elevator-RIB-R", "b", "d")], {})


def test_a_hinge_does_not_part_a_column_another_tube_does() -> None:
    bones = made_up()
    assert [run_of(bones.bars, i) for i in range(5)] == [[0, 1], [0, 1], [2], [3], [4]]


def test_a_column_is_as_long_as_its_run(whinchat: Family) -> None:
    answer = answer_of(whinchat.models["W1"], {}, made_up())
    assert_allclose(lengths(answer, np.array([0, 1, 2, 4])), [2.5, 2.5, 0.5, 1.0], rtol=1e-12)


def test_a_strut_of_many_bars_is_not_joined() -> None:
    """Only tubes of the tail run on: a link's run is itself though its part has two bars."""
    bones = made_up()
    two = (*bones.bars, Bar("M-elevator-HINGE", "link", ("x", "a"), tube_section(TUBE), OUT))
    again = assembled(PLACES, two, {})
    assert_allclose(lengths_of(again, [3, 5]), [1.0, np.sqrt(2.0)], rtol=1e-12)


def lengths_of(bones: Skeleton, which: Sequence[int]) -> np.ndarray:
    """As `lengths` has them of an answer that holds no case."""
    return lengths(Answered(bones, (), (), (), ()), np.array(which))


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_no_tube_of_the_tail_is_without_a_check(whinchat: Family, name: str) -> None:
    model = whinchat.models[name]
    answer = answer_of(model, {})
    wanted = {right_of(b.part) for b in answer.skeleton.bars if b.what == "tail tube"}
    checks = {c.part: c for c in tube_checks(answer, strengths(model).material)}
    assert len(wanted) > 25 and wanted <= set(checks)
    assert all(np.isfinite(checks[part].value) for part in wanted)
    assert all(b.hole > 0 for b in answer.skeleton.bars if b.what == "tail tube")


def test_right_and_left_are_one_check(whinchat: Family) -> None:
    """A push on the left tip tube alone is told by the right's check; its number is the left's bar by hand."""
    model = whinchat.models["W1"]
    bones = skeleton(model)
    both = groups(answer_of(model, {}, bones))["W1-elevator-TIP-R"]
    assert [bones.bars[i].part for i in both] == ["W1-elevator-TIP-R", "W1-elevator-TIP-L"]
    left = both[1]
    c = checked(model, bones, left, [-200.0, 0, 0, 0, 0, 0])
    made, length = bones.bars[left].made, float(lengths(answer_of(model, {}, bones), np.array([left]))[0])
    assert isinstance(made, RoundTube) and c.part == "W1-elevator-TIP-R"
    stuff = strengths(model).material
    youngs, crush = (stuff(made.material, p, made.wall).value for p in ("youngs", "yield_compression"))
    by_hand = column.use(200.0, length, made.outside, made.wall, 1.0, curves(made.material), youngs, crush)
    assert c.value == pytest.approx(float(by_hand), rel=1e-9)


def test_holes_are_taken_off_in_tension_and_bending(whinchat: Family) -> None:
    model = whinchat.models["W1"]
    bones = skeleton(model)
    i = groups(answer_of(model, {}, bones))["W1-tailplane-ROOT-R"][0]
    bar, made = bones.bars[i], bones.bars[i].made
    assert isinstance(made, RoundTube) and bar.hole == pytest.approx(0.190 * 0.0254)  # AN3 through a root rib
    D, t, stuff = made.outside, made.wall, strengths(model).material
    F, E, crush = (stuff(made.material, p, t).value for p in ("tension", "youngs", "yield_compression"))
    pulled = checked(model, bones, i, [1000.0, 0, 0, 0, 0, 0])
    assert pulled.value == pytest.approx(1000 / (float(net_area(D, t, bar.hole)) * F), rel=1e-9)
    bent = checked(model, bones, i, [0, 0, 0, 0, 3.0, 4.0])
    Z, F_b = float(net_modulus(D, t, bar.hole)), float(tube.rupture_without_plastic(D, t, E, crush))
    assert bent.value == pytest.approx(5.0 / (Z * F_b), rel=1e-9)
    shown = next(s for s in bent.steps if s.title == "bending")
    assert shown.value == pytest.approx(bent.value, rel=1e-9) and ("Z", Z, "m3") in shown.given


def test_holes_are_of_bolts_where_bolts_go_and_of_rivets_elsewhere(whinchat: Family) -> None:
    """A fin's foot is bolted: its spar and leading edge have bolts' holes; a rib has rivets alone."""
    holes = {b.part: b.hole / 0.0254 for b in skeleton(whinchat.models["W1"]).bars if b.what == "tail tube"}
    bolted = ("fin-SPAR", "fin-LEADING-EDGE", "elevator-FRONT-R", "tailplane-ROOT-L", "rudder-JOIN")
    assert [holes[f"W1-{p}"] for p in bolted] == pytest.approx([0.190] * 5)
    riveted = [h for p, h in holes.items() if "-TIP" in p or "-RIB-" in p or "-TRAILING-EDGE" in p or "-DIAGONAL-" in p]
    assert len(riveted) > 20 and riveted == pytest.approx([0.125] * len(riveted))


def checked(model: Model, bones: Skeleton, bar: int, inner: Sequence[float]) -> Check:
    """The check of one bar's tube when it alone carries something at both ends, N and N m at ultimate load."""
    answer = answer_of(model, {bar: [*(-x for x in inner), *inner]}, bones)
    part = right_of(bones.bars[bar].part)
    return next(c for c in tube_checks(answer, strengths(model).material) if c.part == part)


def test_names(whinchat: Family) -> None:
    bones = made_up()
    assert title_of(bones.bars[0], "M-elevator-FRONT-R") == "tube of the elevator: front"
    fin = next(b for b in skeleton(whinchat.models["W1"]).bars if b.part.startswith("W1-fin-DIAGONAL-"))
    at = fin.part.removeprefix("W1-fin-DIAGONAL-")
    assert title_of(fin, right_of(fin.part)) == f"tube of the fin: diagonal {at}"
