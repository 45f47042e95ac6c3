"""The flow before ailerons by hand, and the wings' stall told of the demo family."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.air.turned import turned
from sparwright.flight.aeroplane import staggered
from sparwright.flight.stall import stall
from sparwright.flight.trim import decalage, trimmed
from sparwright.flight.wings_stall import FURTHER, before_ailerons
from sparwright.shape.lifting import camber, planforms, thickness
from sparwright.shape.planform import Planform

EDGES = np.array([0.0, 1.0, 2.0, 3.0, 4.0])
STATIONS = (EDGES[1:] + EDGES[:-1]) / 2
PLAIN = Planform("wing", np.array([[0.0, 0.0], [0.0, 4.0], [0.0, 0.0]]), np.ones(2), np.zeros(2), ("s", "s"))
WING = replace(PLAIN, hinge=0.75, hinge_from=1.5, hinge_to=3.75)
MODELS = ("W1", "W2", "W3")


def test_flow_before_ailerons_by_hand() -> None:
    """Half of the second strip, the third and three quarters of the fourth; the third leaves before the hinge."""
    found = before_ailerons(WING, EDGES, STATIONS, np.array([0.1, 0.8, 0.6, 1.0]))
    assert (found.least, found.station) == (0.6, 2.5)
    assert_allclose(found.held, 1.25 / 2.25, rtol=1e-12)
    assert before_ailerons(WING, EDGES, STATIONS, np.ones(4)).held == 1


def test_an_unknown_strip_before_the_ailerons_makes_it_unknown_and_one_elsewhere_does_not() -> None:
    assert math.isnan(before_ailerons(WING, EDGES, STATIONS, np.array([1.0, 1.0, math.nan, 1.0])).least)
    assert before_ailerons(WING, EDGES, STATIONS, np.array([math.nan, 1.0, 1.0, 1.0])).least == 1
    nowhere = replace(WING, hinge_from=5.0, hinge_to=6.0)
    assert math.isnan(before_ailerons(nowhere, EDGES, STATIONS, np.ones(4)).held)


@pytest.mark.parametrize("name", MODELS)
def test_what_is_told_of_the_wings(ran, name) -> None:
    run = ran(name)
    case, wings = run.flight.flown.cases["max_mass"], run.flight.flown.plane.wings
    told = {r.id: r for r in run.results}
    if len(wings) > 1:
        assert_allclose(sum(told[f"flight.stall.share.{w}"].value for w in wings), 1.0, rtol=1e-9)
    for w in wings if len(wings) > 1 else ():
        gained = told[f"flight.stall.decalage.{w}"]
        other = stall(decalage(case.line, w, math.radians(1.0)))
        assert gained.value == other.first_lift - case.stall.first_lift or (math.isnan(gained.value) and gained.caveat)
    ailerons = [r for id, r in told.items() if id.startswith("flight.stall.ailerons.")]
    assert ailerons and all(0 < r.value <= 1 and "hinge at" in r.caveat for r in ailerons)


def test_setting_back_the_wing_that_stalls_first_brings_the_stall_later(ran) -> None:
    """W2's lower wing lets go first: nose down on it, or nose up on the other, the first strip lets go at more lift."""
    case = ran("W2").flight.flown.cases["max_mass"]
    assert case.stall.surface == "lower"
    for wing, angle in (("lower", -1.0), ("upper", 1.0)):
        other = stall(decalage(case.line, wing, math.radians(angle)))
        assert other.first_lift > case.stall.first_lift


def test_the_whole_aeroplane_set_steeper_is_the_same_at_a_lower_angle(ran) -> None:
    """All wings a degree nose up: the same lift when the first strip lets go, but for the tail, at a degree less."""
    case = ran("W1").flight.flown.cases["max_mass"]
    other = stall(decalage(case.line, "wing", math.radians(1.0)))
    assert_allclose(other.first_lift, case.stall.first_lift, rtol=0.01)
    assert_allclose(math.degrees(case.stall.alpha - other.alpha), 1.0, atol=0.15)


@pytest.mark.parametrize("name", MODELS)
def test_the_demo_lines_go_past_their_greatest_lift(ran, name) -> None:
    """The lift falls again after it, so it is a greatest lift and not the end of what is known."""
    case = ran(name).flight.flown.cases["max_mass"]
    last = case.line.settled[-1]
    assert not case.stall.note and last.stance.alpha > case.stall.alpha
    assert last.stance.lift(last.amounts) < case.stall.section_end


def test_a_wing_moved_ahead_is_the_wing_of_a_changed_file(ran, whinchat) -> None:
    """The same trimmed line as of a model whose file says so; moved by nothing, nothing changes."""
    flown = ran("W2").flight.flown
    plane, case = flown.plane, flown.cases["max_mass"]
    ahead = FURTHER * plane.chord
    wings = tuple(replace(w, leading_edge=(w.leading_edge[0] - ahead, *w.leading_edge[1:])) if w.name == "upper" else w
                  for w in plane.model.wings)  # fmt: skip
    model = replace(plane.model, wings=wings)
    other, moved = turned(planforms(model), camber(model), thickness(model)), staggered(plane, "upper", ahead)
    assert_allclose(moved.chord_station, other.reference.station, rtol=1e-12)
    a, b = (c.state(0.2).lift for c in (moved.company, other))
    assert_allclose(a, b, rtol=1e-12)
    assert a > plane.company.state(0.2).lift  # forward stagger lifts more
    still = trimmed(staggered(plane, "upper", 0.0), (case.loading.station, case.loading.waterline),
                    case.line.mass, case.line.air)  # fmt: skip
    assert_allclose(still.most, case.line.most, rtol=1e-9)
    with pytest.raises(KeyError):
        staggered(plane, "middle", 0.1)


@pytest.mark.parametrize("name", MODELS)
def test_stagger_is_told_where_there_is_more_than_one_wing(ran, name) -> None:
    run = ran(name)
    found = [r for r in run.results if r.id == "flight.stall.stagger"]
    assert len(found) == (len(run.flight.flown.plane.wings) > 1)
    for r in found:
        assert "the upper wing a tenth" in r.title and r.steps[0].value == r.value
        assert 0 < r.value < 0.03 and 0 < r.steps[1].value < 0.03
