"""Controls as parts and as a mechanism: stops met at full travel, reversed controls and tubes in the way are told."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from families import reading
from numpy.testing import assert_allclose
from steered import STEERED, controls_alone, steered

from sparwright.controls.chain import controls_told, moving
from sparwright.controls.checks import wanted_ratio
from sparwright.controls.motion import lost, pull, stiffness
from sparwright.family.controls import ControlCable, Controls
from sparwright.family.model import Model
from sparwright.mass.weigh import ledger
from sparwright.parts.layout import lay_out
from sparwright.parts.linkage import swing
from sparwright.parts.measured import measure
from sparwright.parts.solids import exact, solids
from sparwright.shape.solid import Solid


def controls(model: Model) -> Controls:
    assert model.controls is not None
    return model.controls


def spoiled(old: str, new: str) -> Model:
    at = STEERED.index(old, STEERED.index("[controls]"))
    return reading(STEERED[:at] + new + STEERED[at + len(old) :]).models["P1"]


def test_every_part_is_held_and_touches_and_none_is_in_another() -> None:
    found = measure(controls_alone())
    assert found.clashes == () and found.apart == () and found.adrift == () and found.not_closed == ()
    assert [n for n in found.loose if "-controls-" in n] == []
    assert len([p for p in controls_alone().parts if p.group == "controls"]) > 60


def test_left_and_right_are_parts_of_their_own() -> None:
    parts = {p.number: p for p in controls_alone().parts if p.group == "controls"}
    for number, part in parts.items():
        if part.hand == "R":
            other = parts[number[:-1] + "L"]
            assert_allclose(other.mass, part.mass, rtol=1e-6)
            assert_allclose(np.array(other.places) * (1, -1, 1), part.places, rtol=0, atol=1e-6)


@pytest.mark.parametrize(("word", "lever", "pin"), [
    ("up", "middle", "P1-controls-STOP-UP-MIDDLE"), ("down", "middle", "P1-controls-STOP-DOWN-MIDDLE"),
    ("left", "rudder", "P1-controls-STOP-LEFT-RUDDER"), ("right", "rudder", "P1-controls-STOP-RIGHT-RUDDER"),
])  # fmt: skip
def test_the_stop_is_met_at_full_travel_and_not_before(word: str, lever: str, pin: str) -> None:
    model, assembly = steered(), controls_alone()
    motion = next(m for m in moving(model, controls(model))[1] if any(e.word == word for e in m.ends))
    travel = {"up": 1, "left": 1}.get(word, -1) * next(e.travel for e in motion.ends if e.word == word)
    plate = "P1-controls-CRANK-MIDDLE" if lever == "middle" else "P1-rudder-HORN"
    stop = exact(solids(assembly.part(pin))[0])
    for share, low, high in ((1.0, 0.0, 0.1e-3), (0.9, 0.5e-3, 0.05)):
        angle = swing(motion.run, motion.surface, share * travel)[-1].angles[lever]
        turn = motion.run.levers[lever]
        gap = min(exact(Solid(turn.turned(s.points, angle), s.faces)).min_gap(stop, 0.1)
                  for s in solids(assembly.part(plate)))  # fmt: skip
        assert low <= gap <= high, (share, gap)


def test_reversed_controls_fail_and_are_told() -> None:
    """The bell-crank's input below its pivot: stick aft would put the elevator down."""
    model = spoiled('in = ["117 in", "1-1/4 in", "-7.8 in"]', 'in = ["117 in", "1-1/4 in", "-11.2 in"]')
    told = {c.id: c for c in controls_told(model, controls_alone(), measured=False).checks}
    for word in ("up", "down"):
        assert told[f"controls.elevator.reach.{word}"].verdict == "fail"
        assert "reversed" in told[f"controls.elevator.reach.{word}"].caveat


def test_a_surface_that_does_not_get_to_its_stop_fails() -> None:
    model = steered()
    assert model.seat is not None and model.seat.stick is not None
    short = replace(model, seat=replace(model.seat, stick=replace(model.seat.stick, aft=0.05)))
    told = {c.id: c for c in controls_told(short, controls_alone(), measured=False).checks}
    assert told["controls.elevator.reach.up"].verdict == "fail"
    assert told["controls.elevator.reach.down"].verdict == "pass"


def test_a_rod_that_runs_into_a_tube_is_told_with_both_numbers() -> None:
    """The probe's rear rod passes the side diagonal too near at some elevator angles."""
    told = {c.id: c for c in controls_told(steered(), controls_alone()).checks}
    clear = told["controls.elevator.clear"]
    assert clear.verdict == "fail" and "P1-controls-ROD-REAR and P1-fuselage-TUBE-E2R-S1" in clear.caveat
    assert told["controls.rudder.clear"].verdict == "pass"


def test_the_allowance_goes_and_the_parts_weigh() -> None:
    model = steered()
    rows = {line.name: line for line in ledger(model, lay_out(model))}
    assert rows["controls"].mass.value == 0 and "parts of the controls" in rows["controls"].source
    assert sum(line.mass.value for line in rows.values() if line.group == "controls") > 2.0


def test_without_controls_one_check_is_unknown_and_says_so() -> None:
    told = controls_told(replace(steered(), controls=None), controls_alone())
    assert told.results == () and [c.verdict for c in told.checks] == ["unknown"]
    assert "[controls]" in told.checks[0].caveat


def test_a_pulley_out_of_its_cables_plane_fails() -> None:
    model = spoiled('guard = "1/32 in"', 'guard = "1/32 in"\naxis = [0.0, 1.0, 0.0]')
    told = {c.id: c for c in controls_told(model, controls_alone(), measured=False).checks}
    assert told["controls.rudder.askew"].verdict == "fail" and "PULLEY-LOW" in told["controls.rudder.askew"].part


def test_a_thin_cable_and_a_cable_nobody_lists_are_told() -> None:
    thin = {
        c.id: c
        for c in controls_told(spoiled('diameter = "1/8 in"', 'diameter = "3/32 in"'), controls_alone(), False).checks
    }
    assert thin["controls.rudder.cable"].verdict == "fail"
    odd = {
        c.id: c
        for c in controls_told(spoiled('diameter = "1/8 in"', 'diameter = "0.14 in"'), controls_alone(), False).checks
    }
    assert odd["controls.rudder.strength"].verdict == "unknown"


def test_stretch_is_that_of_a_bar_and_unknown_for_another_construction() -> None:
    model = steered()
    motion = next(m for m in moving(model, controls(model))[1] if m.name == "rudder")
    link = next(k for k in motion.run.links if k.key == "rudder-R")
    assert isinstance(link.made, ControlCable)
    ea = stiffness(link.made)
    assert 0.75 < ea.low / ea.high < 0.9  # the two sources
    band = lost(motion, link, 500.0, 0.0)
    per, length = pull(motion, link, motion.stances[motion.neutral]), link.way(link.ends).length
    assert_allclose(band.high, per**2 * 500.0 * length / ea.low, rtol=1e-9)
    twice = lost(motion, link, 1000.0, 0.0)
    assert_allclose(twice.value, 2 * band.value, rtol=1e-9)
    seven = replace(link, made=replace(link.made, construction="7x7"))
    assert not lost(motion, seven, 500.0, 0.0).known


def test_pulley_size_is_read_between_the_rows_and_unknown_past_them() -> None:
    assert_allclose(
        [wanted_ratio(s) for s in (0.005, 0.01, 0.055, 0.10, 0.15, 0.20)], [10, 10, 15, 20, 24, 28], rtol=1e-12
    )
    assert math.isnan(wanted_ratio(0.21))
