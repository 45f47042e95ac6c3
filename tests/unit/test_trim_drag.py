"""Trim drag: the curve through the trimmed state is the build-up's, its least is had by the lattice laid again."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.flight.drag import build, elevator_drag, tail_area
from sparwright.flight.trim import _line, trimmed
from sparwright.flight.trim_drag import MOVED, trim_cost
from sparwright.flight.work import place

MODELS = ("W1", "W2", "W3")
SHARED = ("induced", "elevator")


@pytest.fixture(params=MODELS)
def flown(ran, request):
    return ran(request.param).flight.flown


def changing(flown, line, V: float) -> float:
    """Of the build-up, N, what the share of the tail changes."""
    drag = build(flown.plane, line, line.mass, np.array([V]), flown.air)
    return float(sum(drag.items[n][0][0] for n in (*SHARED, *flown.plane.strips)))


@pytest.mark.parametrize("V", [22.0, 30.0])
def test_the_trimmed_end_is_the_build_up(flown, V: float) -> None:
    case = flown.cases["max_mass"]
    found = trim_cost(case.line, V, place(case.loading))
    assert_allclose(found.total, changing(flown, case.line, V), rtol=2e-3, atol=0)


@pytest.mark.parametrize("V", [24.0, 32.0])
def test_the_least_is_had_by_a_line_that_carries_it(flown, V: float) -> None:
    """All states settled again with the best lift on the tail: 6 % of the trim drag, 0.3 % of what changes."""
    plane, case = flown.plane, flown.cases["max_mass"]
    found = trim_cost(case.line, V, place(case.loading))
    q, which = flown.air.density * V**2 / 2, plane.company.place_of(plane.tail)
    target = found.best / q / plane.area
    held = _line(plane, plane.fitted, lambda s: (s.up[which] / plane.area, -target), case.line.mass, flown.air)
    least = changing(flown, held, V)
    assert found.cost > 0
    assert_allclose(found.total - least, found.cost, rtol=0.06, atol=0.003 * found.total)
    for other in (target - 0.02, target + 0.02):
        held = _line(plane, plane.fitted, lambda s, m=other: (s.up[which] / plane.area, -m), case.line.mass, flown.air)
        assert changing(flown, held, V) > least - 1e-3 * least


def test_moving_the_wings_is_trimming_about_another_balance(flown) -> None:
    case = flown.cases["max_mass"]
    (x, z), V = place(case.loading), 30.0
    found = trim_cost(case.line, V, (x, z))
    line = trimmed(flown.plane, (x + MOVED * flown.plane.chord, z), case.line.mass, flown.air)
    saved = changing(flown, case.line, V) - changing(flown, line, V)
    assert_allclose(found.by_moving, saved, rtol=0.12, atol=0.001 * found.total)


def test_the_best_setting_leaves_only_the_least_of_the_elevators_own(flown) -> None:
    case = flown.cases["aftmost"]
    found = trim_cost(case.line, 30.0, place(case.loading))
    q = flown.air.density * 30.0**2 / 2
    cl = found.carries / q / tail_area(flown.plane)
    least = q * tail_area(flown.plane) * float(elevator_drag(np.array(0.017 * cl / 0.046), np.array(cl)))
    assert_allclose(found.own - found.by_setting, least, rtol=0, atol=2e-3)


def test_longer_chords_cost_skin(flown) -> None:
    """At high speed, where lift is small, a tenth more chord costs nearly a tenth of the wings' section drag."""
    case, V = flown.cases["max_mass"], 38.0
    drag = build(flown.plane, case.line, case.line.mass, np.array([V]), flown.air)
    wings = sum(float(drag.items[n][0][0]) for n in flown.plane.wings)
    found = trim_cost(case.line, V, place(case.loading))
    assert -0.10 < found.by_area / wings < -0.05


def test_nowhere_to_trim_is_unknown(flown) -> None:
    case = flown.cases["max_mass"]
    found = trim_cost(case.line, 8.0, place(case.loading))
    assert math.isnan(found.cost) and math.isnan(found.by_area)


def test_elevator_drag_is_the_section_flows() -> None:
    """Of the flow worked out at 9 deg: 0.0013 at lift -0.286, 0.0002 at 0.143; 12 deg: 0.0019 at -0.233."""
    e = np.radians([9.0, 9.0, 12.0, 3.0])
    found = elevator_drag(e, np.array([-0.286, 0.143, -0.233, 0.049]))
    assert_allclose(found, [0.00134, 0.00019, 0.00191, 0.00001], rtol=0, atol=4e-4)


def test_results_tell_the_sum_by_hand(ran) -> None:
    for name in MODELS:
        run = ran(name)
        for key in ("slow", "climb", "cruise", "top"):
            r = run.result(f"flight.trim_drag.{key}")
            assert r.low < r.value < r.high and r.value > 0
            assert "by hand" in r.steps[1].title and 0.3 < r.steps[2].value < 1.3
        for key in ("setting", "moving", "area"):
            assert math.isfinite(run.result(f"flight.trim_drag.save.{key}").value)


def test_a_tail_without_known_section_says_so(flown) -> None:
    case = flown.cases["max_mass"]
    tail = flown.plane.strips[flown.plane.tail]
    blind = replace(tail, behaviours=tuple(replace(b, columns={**b.columns, "drag": b.columns["drag"] * np.nan})
                                           for b in tail.behaviours))  # fmt: skip
    plane = replace(flown.plane, strips={**flown.plane.strips, flown.plane.tail: blind})
    found = trim_cost(replace(case.line, plane=plane), 30.0, place(case.loading))
    assert math.isnan(found.cost)
