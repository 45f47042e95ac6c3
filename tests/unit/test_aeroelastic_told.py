"""What is told of aeroelastics: every check has its working, an unknown says why, the picture has five lines."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from sparwright.aeroelastic.by_hand import overhung
from sparwright.aeroelastic.circuits import eased
from sparwright.aeroelastic.standing import standing
from sparwright.aeroelastic.strip import Motion, Strips, airs, two_dimensional
from sparwright.aeroelastic.swept import Shaken, swept
from sparwright.aeroelastic.theodorsen import flap, lag
from sparwright.aeroelastic.told import Aeroelastic, _divergence, _flutter, aeroelastic
from sparwright.charts.flutter import flutter_picture, governing
from sparwright.charts.page import MOST, Heading
from sparwright.charts.units import UNITS
from sparwright.controls.chain import controls_told
from sparwright.plans.drawing import Text
from sparwright.run import RunResult

CHECKS = ("aeroelastic.divergence", "aeroelastic.reversal", "aeroelastic.flutter")


@pytest.fixture(scope="module")
def told(ran: Callable[[str], RunResult]) -> Aeroelastic:
    """W1's aeroelastics: nothing flutters up to the end of what is looked at."""
    return of(ran("W1"))


@pytest.fixture(scope="module")
def fluttering(ran: Callable[[str], RunResult]) -> Aeroelastic:
    """W2's: it flutters, past what must be reached."""
    return of(ran("W2"))


def of(r: RunResult) -> Aeroelastic:
    """Worked out again, with the matrices a run does not keep."""
    model = r.flight.flown.model
    motions = controls_told(model, r.assembly, False).found
    return aeroelastic(model, r.assembly, r.flight.flown, r.envelope, motions)


def test_every_check_is_there_with_its_working(told: Aeroelastic) -> None:
    assert tuple(c.id for c in told.checks) == CHECKS
    for c in told.checks:
        assert c.verdict in ("pass", "fail") and c.steps and "no stall" in c.caveat and c.rule.endswith("23.629(c)")
        assert told.work is not None and c.limit == pytest.approx(1.2 * told.work.dive)
        assert c.steps[0].value == pytest.approx(c.value)


def test_modes_are_named_and_rise(told: Aeroelastic) -> None:
    modes = [r for r in told.results if r.id.startswith("aeroelastic.mode.")]
    assert len(modes) == 20
    assert all(a.value <= b.value for a, b in zip(modes, modes[1:], strict=False))
    bent = [r for r in modes if len(r.steps) > 1]
    assert len(bent) == 1 and "wing up and down" in bent[0].title
    assert 0.5 < bent[0].steps[-1].value < 1.1  # struts and cabane give: under the bound by hand


def test_screening_is_never_a_verdict(told: Aeroelastic) -> None:
    found = [r for r in told.results if "screening" in r.id]
    wing = [r for r in found if ".wing." in r.id]
    assert len(wing) == 2 and all("braced" in r.caveat for r in wing)
    assert len(found) == 6 and all("no verdict" in r.caveat for r in found)
    assert not any("screening" in c.id for c in told.checks)


def test_damping_puts_flutter_off(told: Aeroelastic) -> None:
    damped = next(r for r in told.results if r.id == "aeroelastic.flutter.damped")
    assert damped.value >= next(c for c in told.checks if c.id == "aeroelastic.flutter").value


def test_unknown_without_a_dive_speed(ran: Callable[[str], RunResult]) -> None:
    r = ran("W1")
    bare = replace(r.envelope, speeds={}, why="the stalling speed is unknown")
    found = aeroelastic(r.flight.flown.model, r.assembly, r.flight.flown, bare)
    assert [c.verdict for c in found.checks] == ["unknown"] * 3 and found.work is None and not found.results
    assert all("the stalling speed is unknown" in c.caveat for c in found.checks)


def test_without_the_controls_reversal_is_unknown(ran: Callable[[str], RunResult]) -> None:
    r = ran("W1")
    found = aeroelastic(r.flight.flown.model, r.assembly, r.flight.flown, r.envelope)
    by = {c.id: c for c in found.checks}
    assert by["aeroelastic.reversal"].verdict == "unknown" and "circuit" in by["aeroelastic.reversal"].caveat
    assert "elevator: held as stiffly" in by["aeroelastic.flutter"].caveat
    kept = [x for x in found.results if "kept" in x.id]
    assert len(kept) == 3 and all(math.isnan(x.value) and x.outside_range for x in kept)


def test_what_is_missing_makes_no_pass(told: Aeroelastic) -> None:
    """Where an aileron cannot turn, what would pass is unknown and what fails still fails."""
    w = told.work
    assert w is not None
    slow = replace(w, envelope=replace(w.envelope, speeds={"D": replace(w.envelope.speeds["D"], value=5.0)}))
    assert _flutter(slow).verdict == "pass" and _divergence(slow).verdict == "pass"
    held = replace(slow, moving=replace(w.moving, hinged=()))
    assert _flutter(held).verdict == "unknown" and "aileron of the wing does not turn" in _flutter(held).caveat


def test_what_fails_on_what_is_known_fails(fluttering: Aeroelastic) -> None:
    """With a dive speed three tenths higher W2's flutter is too slow, whatever else is not known."""
    w = fluttering.work
    assert w is not None and math.isfinite(w.swept.flutter)
    dive = w.envelope.speeds["D"]
    fast = replace(w, envelope=replace(w.envelope, speeds={"D": replace(dive, value=1.3 * dive.value)}))
    assert _flutter(w).verdict == "pass" and _flutter(fast).verdict == "fail"
    assert _flutter(replace(w, notes=("rudder: held",))).verdict == "unknown"
    assert _flutter(replace(fast, notes=("rudder: held",))).verdict == "fail"


def test_the_picture_has_at_most_five_lines(told: Aeroelastic, fluttering: Aeroelastic) -> None:
    assert told.work is not None
    assert len(governing(told.work)) == MOST
    picture = flutter_picture(Heading("Flutter"), told.work, UNITS["inch"])
    said = [s.content for s in picture.strokes if isinstance(s, Text)]
    assert any("1.2 VD" in x for x in said) and "none grows up to" in picture.words
    assert fluttering.work is not None
    assert "must be reached" in flutter_picture(Heading("Flutter"), fluttering.work, UNITS["inch"]).words
    assert "not known" in flutter_picture(Heading("Flutter"), None, UNITS["inch"], "VD is not known").words


def test_edges_of_the_section() -> None:
    assert complex(lag(0.0)) == 1.0
    assert complex(lag(1e3)).real == pytest.approx(0.5, abs=1e-5)
    with pytest.raises(ValueError, match="between nose and tail"):
        flap(1.2)
    assert all(float(v) == 0.0 for k, v in vars(flap(1.0)).items() if k != "hinge")
    assert overhung(1.0, 1.0, 1.0, 0.5) < overhung(1.0, 1.0, 1.0, 0.2)


def test_a_flap_at_the_nose_is_the_section_itself() -> None:
    """Hinged at its nose the flap's turn is a turn of the whole about the nose: lift and moment alike."""
    one, x, z = np.ones(1), np.array([[1.0, 0, 0]]), np.array([[0.0, 0, 1]])
    s = Strips(0 * x, x, z, 2 * one, one, 0 * one, two_dimensional(2 * one))
    turned = airs(s, Motion(-np.ones((1, 1)), np.ones((1, 1)), np.zeros((1, 1))))  # about the nose, one ahead
    with_flap = airs(s, Motion(np.array([[-1.0, 0.0]]), np.array([[1.0, 0.0]]), np.array([[0.0, 1.0]])))
    for k in (0.0, 0.3):
        still, rate = with_flap.lagged(k)
        plain, plain_rate = turned.lagged(k)
        np.testing.assert_allclose(still, plain[0, 0], rtol=1e-9, atol=1e-12)
        np.testing.assert_allclose(rate, plain_rate[0, 0], rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose(with_flap.mass, turned.mass[0, 0], rtol=1e-9, atol=1e-12)


def test_what_does_not_give_does_not_diverge() -> None:
    one, x, z = np.ones(1), np.array([[1.0, 0, 0]]), np.array([[0.0, 0, 1]])
    s = Strips(0 * x, x, z, one, one, one, two_dimensional(one))
    on = standing(s, np.zeros((3, 3)))
    assert on.divergence == np.inf and not on.diverged.any()
    air = airs(s, Motion(np.ones((1, 1)), np.zeros((1, 1)), np.zeros((1, 1))))
    assert swept(Shaken(np.eye(1), np.eye(1), air, 1.2), np.linspace(1, 9, 4), slowest=5.0).which == -1


def test_loose_circuits_are_looked_at_and_told_without_a_verdict(told: Aeroelastic, fluttering: Aeroelastic) -> None:
    """Elevator, rudder and ailerons of both move on circuits: eased to a tenth, a hundredth and a thousandth."""
    for found in (told, fluttering):
        assert found.work is not None
        w = found.work
        results = {r.id: r for r in found.results}
        plain, damped = (results[f"aeroelastic.flutter.{k}"] for k in ("play", "play.damped"))
        assert [e.part for e in w.eased] == [0.1, 0.01, 0.001]
        least = min(e.swept.flutter for e in w.eased)
        assert plain.value == (least if math.isfinite(least) else 1.2 * w.dive)
        assert plain.value <= damped.value <= 1.2 * w.dive
        assert all("no verdict" in r.caveat and "23.629(a)(1)" in r.caveat for r in (plain, damped))
        assert ("below VD" in plain.caveat) == (plain.value < w.dive)
        assert len(plain.steps) == 1 + sum(math.isfinite(e.swept.flutter) for e in w.eased)


def test_eased_circuits_hold_by_their_part_and_nothing_else_changes(fluttering: Aeroelastic) -> None:
    """Only the bars that stand for rods and cables of elevator and rudder are thinner, by the part."""
    assert fluttering.work is not None
    model, bones = fluttering.work.model, fluttering.work.moving.skeleton
    soft = eased(model, bones, 0.01)
    ratio = np.asarray(soft.frame.area) / np.asarray(bones.frame.area)
    held = np.array([b.part.endswith(("elevator-ROD", "rudder-ROD", "elevator-CABLE", "rudder-CABLE"))
                     for b in bones.bars])  # fmt: skip
    assert held.any()
    np.testing.assert_allclose(ratio[held], 0.01)
    np.testing.assert_allclose(ratio[~held], 1.0)


def test_unbalance_of_the_tail_is_screened_without_a_verdict(told: Aeroelastic) -> None:
    """g = S b/I: S of the parts is that of their moment about the hinge, paint left out."""
    results = {r.id: r for r in told.results}
    for name in ("elevator", "rudder"):
        r = results[f"aeroelastic.screening.{name}.parallel"]
        given = {k: v for k, v, _ in r.steps[0].given}
        assert r.value == pytest.approx(given["S"] * given["b"] / given["I"])
        assert given["S"] > 0 and given["I"] > 0 and "no verdict" in r.caveat
        assert math.isfinite(results[f"aeroelastic.screening.{name}.square"].value)
