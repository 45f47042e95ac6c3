"""Spar roots: what goes over the pin is what the straps carry; each use by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from handmade import answer_of

from sparwright.base.check import Check
from sparwright.family.model import Family, Model
from sparwright.margins import sources
from sparwright.margins.roots import own_axes, root_checks, root_loads, shared
from sparwright.parts.roots import RootSpot, root_spots
from sparwright.structure.answered import Answered
from sparwright.structure.whole import skeleton

ALONG, UP, TURN = -4000.0, 1000.0, 20.0  # N, N, N m on the spar at its pin
FACTOR = 1.15


@pytest.fixture(scope="module")
def w2(whinchat: Family) -> Model:
    """A model with roots."""
    return whinchat.models["W2"]


@pytest.fixture(scope="module")
def spot(w2: Model) -> RootSpot:
    """Its front root."""
    return next(s for s in root_spots(w2) if s.root.name == "front")


def loaded(w2: Model, spot: RootSpot, left: bool) -> Answered:
    """The root's link of one side with the forces above."""
    bones = skeleton(w2)
    nothing = answer_of(w2, {}, bones)
    bars = bones.which(lambda b: b.what == "link" and b.part == "W2-LOWER-ROOT-FRONT")
    i = next(int(i) for i in bars if (bones.frame.place[bones.frame.ends[i, 0], 1] < 0) == left)
    over = np.array([1.0, -1.0 if left else 1.0, 1.0])
    F = (ALONG * spot.axes.along + UP * spot.axes.up) * over
    M = TURN * spot.axes.up * over * (-1.0 if left else 1.0)
    axes = own_axes(nothing, i)
    return answer_of(w2, {i: [*(-axes @ F), *(-axes @ M), *np.zeros(6)]}, bones)


def checks_of(w2: Model, answer: Answered) -> dict[str, Check]:
    """By the last word of the id."""
    found = root_checks(w2, answer, sources.strengths(w2))
    return {c.id.rsplit(".", 1)[1]: c for c in found if ".lower.front." in c.id}


@pytest.mark.parametrize("left", [False, True])
def test_straps_carry_what_the_frame_hands_over(w2: Model, spot: RootSpot, left: bool) -> None:
    loads = root_loads(w2, spot, loaded(w2, spot, left))
    fore, aft = (slice(None), slice(None), 2 * left), (slice(None), slice(None), 2 * left + 1)
    apart = spot.axes.width + spot.root.strap.thickness
    assert float((loads.along[fore] + loads.along[aft])[0, 0]) == pytest.approx(FACTOR * ALONG)
    assert float((loads.up[fore] + loads.up[aft])[0, 0]) == pytest.approx(FACTOR * UP)
    assert float((loads.along[aft] - loads.along[fore])[0, 0]) * apart / 2 == pytest.approx(FACTOR * TURN)
    np.testing.assert_allclose(loads.aft, 0.0, atol=1e-9)


def test_a_pair_of_forces_makes_its_moment() -> None:
    """Any force and moment: the straps' sum and the moment of both about the pin's middle, but that about the pin."""
    F, M, s = np.array([300.0, -200.0, 50.0]), np.array([3.0, -5.0, 0.0]), 0.04
    fore, aft = shared(F, M, s)
    np.testing.assert_allclose((fore + aft)[:2], F[:2])
    arms = np.array([[0.0, 0.0, -s / 2], [0.0, 0.0, s / 2]])
    made = np.cross(arms, np.array([[*fore[:2], 0.0], [*aft[:2], 0.0]])).sum(axis=0)
    np.testing.assert_allclose(made, M)


def test_uses_are_those_by_hand(w2: Model, spot: RootSpot) -> None:
    found = checks_of(w2, loaded(w2, spot, False))
    s, t, e = spot.axes.width + spot.root.strap.thickness, spot.root.strap.thickness, spot.root.edge
    along, up = FACTOR * (abs(ALONG) / 2 + TURN / s), FACTOR * UP / 2
    f, d = math.hypot(along, up), 5 / 16 * 0.0254
    sheared = sources.strengths(w2).fastener("AN5", "shear").value
    bent = f * (t + spot.root.lug.thickness) / 2 / (math.pi * d**3 * 125e3 * 6894.757 / 32)
    assert found["pin"].value == pytest.approx(math.hypot(f / sheared, bent), rel=1e-6)
    F = sources.strengths(w2).material("4130N", "tension", t).value
    rib = spot.wing.ribs
    long = (spot.wing.panels[0].root_buttline - spot.root.buttline) / spot.axes.along[1] + rib.sheet.thickness
    neck = along / (2 * e * t * F) + 6 * up * long / (t * (2 * e) ** 2 * F)
    assert neck < found["strap_neck"].value < 1.5 * neck  # the neck is longer by the rib's bent edge


def test_what_is_not_known_does_not_pass(w2: Model, spot: RootSpot) -> None:
    known = sources.strengths(w2)
    lost = replace(known, material=lambda *a: replace(known.material(*a), value=math.nan),
                   fastener=lambda *a: replace(known.fastener(*a), value=math.nan))  # fmt: skip
    assert {c.verdict for c in root_checks(w2, loaded(w2, spot, False), lost)} == {"unknown"}
