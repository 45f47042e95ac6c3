"""Ribs: the chordwise load has the frame's force and torsion; shear and moment by quadrature; sheet by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from handmade import CASE, answer_of
from scipy.integrate import quad

from sparwright.base.check import Check
from sparwright.family.model import Family, Model, Wing
from sparwright.loads.laid_out import SpanLoad
from sparwright.margins import sources
from sparwright.margins.rib_loads import Beam, amounts, carried, hinge_forces
from sparwright.margins.rib_torque import cells_part
from sparwright.margins.ribs import Cut, rib_checks, use_of, whole_ribs
from sparwright.structure.answered import Answered
from sparwright.structure.whole import skeleton

N, T = 1500.0, -180.0  # N/m, N m/m
X = np.linspace(0.0, 1.5, 3001)
BEAM = Beam(X, 1.5, 1.5, (0.3, 0.93))


def span(side: str = "R", normal: float = N, torsion: float = T, hinged: float = 0.0, wing: str = "wing") -> SpanLoad:
    """The same load all along a half of 5 m."""
    y = (np.arange(20) + 0.5) / 4
    one = np.ones(20)
    return SpanLoad(surface=wing, side=side, case=CASE.key, y=y, width=one / 4, chord=1.5 * one, normal=normal * one,
                    chordwise=0 * one, torsion=torsion * one, hinged=hinged * one, hinge=0 * one)  # fmt: skip


def ahead(x: float) -> float:
    """Of 1 N on the chord of 1.5 m by thin aerofoil theory: (2/pi) sqrt((1 - s)/s)/c."""
    return 2 / math.pi * math.sqrt((1 - x / 1.5) / (x / 1.5)) / 1.5


def middle(x: float) -> float:
    """The half ellipse of a mean line."""
    return 4 / math.pi * math.sqrt(1 - (2 * x / 1.5 - 1) ** 2) / 1.5


@pytest.mark.parametrize("which", [0, 1])
@pytest.mark.parametrize("at", [0.2, 0.6, 1.2])
def test_shear_and_moment_are_those_of_quadrature(which: int, at: float) -> None:
    load, V, M = (ahead, middle)[which], *(v[which] for v in carried(BEAM))
    k = int(np.argmin(np.abs(at - X)))
    total = [quad(load, 0, at)[0], quad(lambda x: load(x) * (at - x), 0, at)[0]]
    about_rear = quad(lambda x: load(x) * (0.93 - x), 0, 1.5)[0]
    front = about_rear / 0.63
    for x, r in ((0.3, front), (0.93, 1 - front)):
        total = [total[0] - r * (at > x), total[1] - r * max(at - x, 0.0)]
    assert V[k] == pytest.approx(total[0], abs=1e-5)
    assert M[k] == pytest.approx(total[1], abs=1e-5)


def test_nothing_is_left_at_the_tail() -> None:
    for spars in ((0.3, 0.93), (0.42,)):
        V, M = carried(Beam(X, 1.5, 1.5, spars))
        np.testing.assert_allclose(V[:2, -1], 0.0, atol=1e-9)
        np.testing.assert_allclose(M[:2, -1], 0.0, atol=1e-9)


def test_a_ribs_load_has_the_force_and_torsion_of_its_bay(whinchat: Family) -> None:
    model = whinchat.models["W1"]
    answer = answer_of(model, {})
    wing = model.wings[0]
    ahead_, middle_, hinge = amounts(wing, BEAM, 1.0, 0.3, False, answer, {CASE.key: (span(),)}, "R")[:, 0]
    assert ahead_ + middle_ == pytest.approx(1.5 * N * 0.3)
    assert -middle_ * 1.5 / 4 == pytest.approx(1.5 * T * 0.3)  # ahead stands at the quarter, the other at the half
    assert hinge == 0.0
    none = amounts(wing, BEAM, 1.0, 0.3, False, answer, {CASE.key: (span("L"),)}, "R")
    np.testing.assert_array_equal(none, 0.0)


def test_what_is_behind_the_hinge_comes_by_the_hinge(whinchat: Family) -> None:
    """Force and torsion of the fixed part and the hinged part together are the strip's."""
    model = whinchat.models["W1"]
    wing = model.wings[0]
    b = Beam(X, 1.5, 1.1, (0.3, 0.93))
    found = amounts(wing, b, 3.0, 0.3, True, answer_of(model, {}), {CASE.key: (span(hinged=200.0),)}, "R")[:, 0]
    assert found[0] + found[1] == pytest.approx(1.5 * (N - 200.0) * 0.3)
    own = -found[0] * (1.1 / 4 - 0.375) - found[1] * (1.1 / 2 - 0.375)
    assert own - 1.5 * 200.0 * 0.3 * (0.75 - 0.25) * 1.5 == pytest.approx(1.5 * T * 0.3)
    assert wing.aileron and wing.aileron.frame
    places = wing.aileron.frame.hinges.places
    each = hinge_forces(places, wing.aileron.inboard, wing.aileron.outboard, span(hinged=200.0))
    assert sum(each) == pytest.approx(200.0 * (wing.aileron.outboard - wing.aileron.inboard))
    assert found[2] == pytest.approx(1.5 * max(each))


def test_ribs_of_the_wing_take_all_of_its_air(whinchat: Family) -> None:
    wing = whinchat.models["W1"].wings[0]
    ribs = whole_ribs(whinchat.models["W1"], wing)
    on_one_side = sum(r.width for r in ribs) - ribs[0].width / 2
    assert on_one_side == pytest.approx(wing.panels[-1].tip_buttline - wing.panels[0].root_buttline)
    assert ribs[3].cut.hole.max() > 0.05 and ribs[3].cut.chord.min() >= 0.0


def test_sheet_by_hand(whinchat: Family) -> None:
    """100 N m on 0.15 m of 4 mm: 6 M/(t h^2 F); at a hole that leaves 25 mm, V c/4 on a chord."""
    model = whinchat.models["W1"]
    wing = model.wings[0]
    known = sources.grained(model)
    given = lambda *a: replace(known(*a), value=20e6, open="")  # noqa: E731
    cut = Cut(np.array([0.4, 0.5]), np.array([0.15, 0.15]), np.array([0.075, 0.025]), np.array([0.0, 0.1]))
    use = use_of(wing.ribs, cut, np.array([0.0, 300.0]), np.array([100.0, 0.0]), given)
    assert use[0] == pytest.approx(6 * 100 / (0.004 * 0.15**2 * 20e6))
    assert use[1] == pytest.approx(6 * (300 * 0.1 / 4) / (0.004 * 0.025**2 * 20e6))


def worked(model: Model, value: float) -> list[str]:
    """Verdicts of W1's ribs with sheet of that strength."""
    known = sources.grained(model)
    given = lambda *a: replace(known(*a), value=value, open="")  # noqa: E731
    answer = answer_of(model, {}, skeleton(model))
    spans = {CASE.key: (span(), span("L"))}
    return [c.verdict for c in rib_checks(model, answer, model.wings[0], spans, given)]


def test_strong_ribs_pass_weak_ones_fail_unknown_ones_do_neither(whinchat: Family) -> None:
    model = whinchat.models["W1"]
    assert worked(model, 1e9) == ["pass"] * 3
    assert worked(model, 1e5) == ["fail"] * 3
    assert worked(model, math.nan) == ["unknown"] * 3


def test_ribs_that_hold_an_aileron_do_not_pass_over_the_wind_on_it(whinchat: Family) -> None:
    """A case of wind has no air along the span: behind the front spar that is told; ahead of it nothing hangs on it."""
    model = whinchat.models["W2"]
    wing = replace(next(w for w in model.wings if w.aileron), stouter_ribs=())
    bare, of = answer_of(model, {}), sources.grained(model)
    wind = replace(bare.laid[0], case=replace(CASE, key="control.wind.aileron.upper.middle", kind="control"))
    windy = replace(bare, laid=(wind,))

    def verdicts(answer: Answered, key: str) -> dict[str, tuple[str, bool]]:
        some = {key: (span(wing=wing.name, normal=1.0, torsion=0.0),)} if key else {}
        found = rib_checks(model, answer, wing, some, of)
        return {c.id.rpartition(".")[2]: (c.verdict, "wind and hand" in c.caveat) for c in found}

    assert {told for _, told in verdicts(bare, CASE.key).values()} == {False}
    found = verdicts(windy, "")
    assert not found["rib_nose"][1] and found["rib_tail"] == ("unknown", True) == found["rib_middle"]
    assert {told for _, told in verdicts(windy, wind.case.key).values()} == {False}


def test_the_frame_s_moment_goes_into_the_nose_and_into_its_own_stouter_rib(whinchat: Family) -> None:
    """W2's rib at the cabane, 100 N m at its front end: the cell's part ahead, M/h at the joint; two bear half each."""
    model = whinchat.models["W2"]
    wing = model.wing("upper")
    bones, of = skeleton(model), sources.grained(model)
    bar = int(bones.which(lambda b: b.what == "rib" and b.at[0] == "upper" and b.at[3] == 0.0)[0])
    force = [0.0] * 12
    force[4] = 100.0

    def uses(w: Wing) -> dict[str, Check]:
        answer = answer_of(model, {bar: force}, bones)
        return {c.id: c for c in rib_checks(model, answer, w, {}, of)}

    one = uses(wing)
    nose, middle = (one[f"strength.upper.rib_{k}.cabane"] for k in ("nose", "middle"))
    share = cells_part(model, wing, wing.spars[0], 0.0)
    moment = next(s.value for s in nose.steps if s.title.startswith("moment"))
    assert 0.5 < share < 1.0 and share * 90 < moment < share * 100  # at the last place ahead of the spar
    assert one["strength.upper.rib_nose.outer"].value == 0.0
    passed = next(s for s in middle.steps if "joint on the front spar" in s.title)
    assert passed.value == pytest.approx(100.0 / passed.given[1][1])
    two = replace(wing, stouter_ribs=tuple(replace(s, back_to_back=True) for s in wing.stouter_ribs))
    both = uses(two)
    assert both["strength.upper.rib_middle.cabane"].value == pytest.approx(middle.value / 2)
