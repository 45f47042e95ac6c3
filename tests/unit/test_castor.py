"""The tail wheel as a castor: trail and lean by hand, the bend of its leaf summed up, what it meets turning round."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.family.fitted import Leaf
from sparwright.family.model import Family, Model
from sparwright.family.stock import Sheet
from sparwright.ground.castor import bend, castor_checks, castor_results, trail
from sparwright.ground.work import work_out
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Part
from sparwright.parts.travel import castor, movable, travel_checks
from sparwright.parts.undercarriage import tail_wheel
from sparwright.run import RunResult
from sparwright.shape.solid import as_place
from sparwright.shape.tube import Tube

STEEL = Sheet(material="4130N", thickness=0.003)
LEVEL = Leaf(material="4130N", width=0.05, thickness=0.004, start=(4.0, 0.0, -0.1), rest=(4.3, 0.0, -0.1),
             end=(4.5, 0.0, -0.1), held=(), fork=STEEL, beside=0.003)  # fmt: skip


@pytest.fixture(scope="module")
def w1(whinchat: Family) -> Model:
    return whinchat.models["W1"]


def test_trail_of_an_upright_pivot_by_hand(w1: Model) -> None:
    """Pivot at 4.475, upright; a wheel 0.1 m behind it. Nose up by a the line leans aft by a."""
    wheel = tail_wheel(w1)
    assert wheel is not None
    wheel = replace(wheel, diameter=0.16, width=0.05, place=(4.575, 0.0, -0.25))
    assert_allclose(trail(LEVEL, wheel, 0.0), (0.1, 0.0), rtol=0, atol=1e-12)
    a = math.radians(10)
    across = 0.1 + 0.08 * math.sin(a)  # contact off the pivot's line, square to it: the tyre's foot goes aft
    assert_allclose(trail(LEVEL, wheel, a), (across / math.cos(a), a), rtol=1e-9)


def test_the_bend_is_what_the_curvature_sums_up_to() -> None:
    """Load at the end: moment P a x/L to the rest, then P (a - s). Deflection nought at start and rest."""
    over, between, n = 0.2, 0.3, 20_000
    x = np.linspace(0.0, between + over, n + 1)
    moment = np.where(x < between, over * x / between, between + over - x)
    step = x[1]
    slope = np.concatenate([[0.0], np.cumsum((moment[1:] + moment[:-1]) / 2 * step)])
    rise = np.concatenate([[0.0], np.cumsum((slope[1:] + slope[:-1]) / 2 * step)])
    turn = np.interp(between, x, rise) / between  # the front slope that brings the rest back to nought
    assert_allclose(bend(LEVEL, float(rise[-1] - turn * x[-1])), slope[-1] - turn, rtol=1e-4)


def swung(model: Model, extra: tuple[Part, ...] = ()) -> tuple[str, float, str]:
    """(verdict, gap, what is nearest) of the castor's swing, with tail, fuselage and gear alone."""
    whole = lay_out(model)
    kept = (*(p for p in whole.parts if p.group in ("gear", "fuselage", "tail")), *extra)
    names = {p.number for p in kept}
    alone = replace(whole, parts=kept, joints=tuple(j for j in whole.joints if set(j.parts) <= names))
    found = next(c for c in travel_checks(replace(model, wings=()), alone) if c.id == "parts.travel.castor")
    return found.verdict, found.value, found.caveat


def test_without_a_washer_the_cheeks_foul_the_leaf(w1: Model) -> None:
    gear = w1.undercarriage
    assert gear is not None and gear.tail is not None
    assert swung(w1)[0] == "pass"
    verdict, gap, told = swung(replace(w1, undercarriage=replace(gear, tail=replace(gear.tail, washer=None))))
    assert verdict == "fail" and gap == 0 and "TAIL-CHEEK" in told and "TAIL-LEAF" in told


def test_a_rod_in_the_way_of_its_swing_is_told(w1: Model) -> None:
    """Ahead of the wheel, where it comes only turned round; the rod stands clear of the wheel as drawn."""
    rod = Tube(path=np.array([[4.4, 0.0, -0.36], [4.4, 0.0, -0.3]]), outside=0.006, wall=0.0)
    stray = Part(number="W1-stray", name="rod", form="tube", group="tail", purpose="test", material="4130N", stock="",
                 places=(as_place(rod.path.mean(axis=0)),), mass=0.0, shape=rod)  # fmt: skip
    verdict, _, told = swung(w1, (stray,))
    assert verdict == "fail" and "W1-WHEEL-TAIL" in told.replace("gear-", "") and "W1-stray" in told


def test_it_turns_right_round_and_its_weight_is_nobodys_hinge_moment(w1: Model) -> None:
    (one,) = castor(w1)
    assert one.up == one.down == math.pi and one.meets == ("elevator", "rudder")
    assert "castor" not in {t.name for t in movable(w1)}
    assert castor(replace(w1, undercarriage=None)) == ()


def test_a_wheel_ahead_of_its_pivot_fails(w1: Model, ran: Callable[[str], RunResult]) -> None:
    balance = ran("W1").balance
    ahead = tuple(replace(w, place=(4.36, *w.place[1:])) if w.place[1] == 0 else w for w in w1.wheels)
    (bad,) = castor_checks(work_out(replace(w1, wheels=ahead), balance))
    (good,) = castor_checks(work_out(w1, balance))
    assert (good.verdict, bad.verdict) == ("pass", "fail")
    assert not list(castor_results(work_out(replace(w1, undercarriage=None), balance)))


def test_without_springing_trail_is_unknown_with_a_reason(w1: Model, ran: Callable[[str], RunResult]) -> None:
    (check,) = castor_checks(work_out(replace(w1, ground=None), ran("W1").balance))
    assert check.verdict == "unknown" and "springing" in check.caveat
