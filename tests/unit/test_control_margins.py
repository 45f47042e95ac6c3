"""Members of the controls: virtual work by hand, then cable, rod, stick."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from handmade import CASE, answer_of

from sparwright.base.check import Check
from sparwright.controls.chain import moving
from sparwright.controls.motion import Motion, pull
from sparwright.data.columns import curves
from sparwright.family.model import Family, Model
from sparwright.margins import controls, sources
from sparwright.margins.control_brackets import pivot_and_bracket_checks
from sparwright.margins.control_pivots import pivots
from sparwright.margins.controls import control_checks, through
from sparwright.parts.layout import lay_out
from sparwright.strength.members import column
from sparwright.structure.answered import Answered

POUND, INCH = 4.4482216, 0.0254


@pytest.fixture(scope="module")
def w1(whinchat: Family) -> Model:
    """A model with controls."""
    return whinchat.models["W1"]


@pytest.fixture(scope="module")
def motions(w1: Model) -> Sequence[Motion]:
    """Its controls through their travel."""
    assert w1.controls is not None
    return moving(w1, w1.controls)[1]


@pytest.fixture(scope="module")
def checks(w1: Model, motions: Sequence[Motion]) -> dict[str, Check]:
    """By what follows strength.control."""
    found = control_checks(w1, with_cases(w1), motions, sources.strengths(w1))
    return {c.id.removeprefix("strength.control."): c for c in found}


def with_cases(model: Model) -> Answered:
    """An answer whose one case is of the elevator."""
    bare = answer_of(model, {})
    return replace(bare, laid=(replace(bare.laid[0], case=replace(CASE, key="control.elevator.pull")),))


def test_the_front_rod_has_the_sticks_lever(w1: Model, motions: Sequence[Motion]) -> None:
    """Moments about the stick's pivot, in neutral: the hand's arm over the way from the pivot to the rod's line."""
    assert w1.controls is not None
    m = next(x for x in motions if x.name == "elevator")
    link = next(k for k in m.run.links if k.name == "elevator_front")
    pivot, (a, b) = np.array(w1.controls.stick.pivot), link.ends
    away, way = a - pivot, (b - a) / np.linalg.norm(b - a)
    lever = abs(away[0] * way[2] - away[2] * way[0])  # about a line across
    at = pull(m, link, m.stances[m.neutral])
    assert at == pytest.approx(m.arm / float(lever), rel=1e-4)
    assert through(m, link) == max(pull(m, link, s) for s in m.stances) >= at


def test_rod_and_cable_by_hand(w1: Model, motions: Sequence[Motion], checks: dict[str, Check]) -> None:
    m = next(x for x in motions if x.name == "elevator")
    rod = next(k for k in m.run.links if k.name == "elevator_front")
    P = 1.5 * 167 * POUND * through(m, rod)
    long, t = float(np.linalg.norm(rod.ends[1] - rod.ends[0])), rod.made.tube  # type: ignore[union-attr]
    of = sources.strengths(w1).material
    E, F = (of(t.material, n, t.wall).value for n in ("youngs", "yield_compression"))
    assert checks["rod.elevator_front"].value == pytest.approx(
        float(column.use(P, long, t.outside, t.wall, 1.0, curves(t.material), E, F))
    )
    euler = math.pi**2 * E * math.pi * (t.outside**4 - (t.outside - 2 * t.wall) ** 4) / 64 / long**2
    assert checks["rod.elevator_front"].value == pytest.approx(P / euler, rel=0.1)
    m = next(x for x in motions if x.name == "wing_aileron")
    cable = next(k for k in m.run.links if k.name == "aileron")
    pulled = 1.5 * 67 * POUND * through(m, cable)
    assert checks["cable.aileron"].value == pytest.approx(
        max(cable.made.tension + pulled / 2, pulled) / (0.849 * 2000 * POUND),  # type: ignore[union-attr]
        rel=1e-3,
    )


def test_stick_by_hand(w1: Model, checks: dict[str, Check]) -> None:
    """M D/(2 I) against what a plain tube bears: no more than the plastic moment over the yield, no less than yield."""
    assert w1.controls is not None and w1.seat is not None and w1.seat.stick is not None
    t = w1.controls.stick.tube
    far = float(np.linalg.norm(np.subtract(w1.seat.stick.place, w1.controls.stick.pivot)))
    M = 1.5 * 167 * POUND * far
    stress = M * t.outside / 2 / (math.pi * (t.outside**4 - (t.outside - 2 * t.wall) ** 4) / 64)
    crush = sources.strengths(w1).material(t.material, "yield_compression", t.wall).value
    assert stress / (1.4 * crush) < checks["stick"].value < stress / crush


def test_without_a_case_or_a_strength_nothing_passes(
    w1: Model, motions: Sequence[Motion], monkeypatch: pytest.MonkeyPatch
) -> None:
    none = control_checks(w1, answer_of(w1, {}), motions, sources.strengths(w1))
    assert {c.verdict for c in none} <= {"unknown", "fail"}
    known = sources.strengths(w1)
    lost = replace(known, material=lambda *a: replace(known.material(*a), value=math.nan),
                   fastener=lambda *a: replace(known.fastener(*a), value=math.nan))  # fmt: skip
    plain = controls.cable_allowable
    monkeypatch.setattr(controls, "cable_allowable", lambda *a: replace(plain(*a), value=math.nan))
    found = list(control_checks(w1, with_cases(w1), motions, lost))
    assert {c.verdict for c in found} == {"unknown"}
    rod = next(c for c in found if c.id.startswith("strength.control.rod."))
    assert "yield_compression" in rod.caveat and "not known" in rod.caveat, "why, though its curve needs no strength"


def test_a_pull_that_is_not_known_at_one_stance_is_not_known(
    motions: Sequence[Motion], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whichever stance: no greatest of those that are."""
    m = next(x for x in motions if x.name == "elevator")
    link, last = m.run.links[0], m.stances[-1]
    assert math.isfinite(through(m, link))
    monkeypatch.setattr(controls, "pull", lambda a, b, s: math.nan if s is last else 1.0)
    assert math.isnan(through(m, link))


def test_stick_and_torque_tube_are_looked_at_whatever_comes_first(w1: Model, motions: Sequence[Motion]) -> None:
    for some in (motions, motions[::-1]):
        ids = [c.id for c in control_checks(w1, with_cases(w1), some, sources.strengths(w1))]
        assert ids.count("strength.control.stick") == 1 and ids.count("strength.control.torque_tube") == 1


def test_the_fork_bears_the_push_aside(w1: Model, motions: Sequence[Motion]) -> None:
    """67 lbf at the grip, 1.5 times: F r/h up on one plate and down on the other, half of F along the bolt on each."""
    parts = {p.number: p for p in lay_out(w1).parts}
    assert w1.controls is not None and w1.seat is not None and w1.seat.stick is not None
    p = next(x for x in pivots(w1, w1.controls, motions, parts) if x.key == "stick_aside")
    c = w1.controls
    F, r = 1.5 * 67 * POUND, np.subtract(w1.seat.stick.place, c.stick.pivot)
    h = c.stick.tube.outside + c.torque_tube.fork.thickness
    one, other = p.on_plates
    np.testing.assert_allclose(one + other, p.force, atol=1e-9)
    np.testing.assert_allclose(np.abs(p.force), [[0, F, 0]] * 2, rtol=1e-7, atol=1e-9)
    np.testing.assert_allclose(np.abs(one[:, 2]), F * r[2] / h, rtol=1e-7)
    np.testing.assert_allclose(np.abs(one[:, 0]), F * abs(r[0]) / h, rtol=1e-7)
    known = {c.id.removeprefix("strength.control."): c for c in pivot_and_bracket_checks(
        w1, with_cases(w1), motions, sources.strengths(w1), parts)}  # fmt: skip
    sheared = sources.strengths(w1).fastener("AN4", "shear").value
    assert known["pivot.stick_aside"].value > 1.15 * F * r[2] / h / sheared
    assert {f"{k}.stick_aside" for k in ("bracket", "bracket_eye", "foot")} <= set(known)
    near = sources.strengths(w1).material("4130N", "tension_near_weld", c.torque_tube.fork.thickness).value
    d, w, t = c.torque_tube.front - c.stick.pivot[0], c.torque_tube.tube.outside, c.torque_tube.fork.thickness
    bent = 6 * 1.15 * F * r[2] / h * d / (t * w**2) + 6 * 1.15 * F / 2 * d / (w * t**2)
    assert known["bracket.stick_aside"].value == pytest.approx(bent / near, rel=0.15)  # shear and its pull besides
