"""Fuel: more head more flow, longer line less, thicker fuel less, mirrored slips the same."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.base.axes import GRAVITY, up
from sparwright.family.fuel import Tank
from sparwright.systems.pipe import Liquid, Pipe, gravity_flow, laminar, least_friction, most_friction, pipe_loss
from sparwright.systems.tank import below, height, span, under, volume

PETROL = Liquid(720.0, 3.1e-4)
heads = st.floats(0.02, 1.5)
bores = st.floats(0.003, 0.012)
lengths = st.floats(0.2, 4.0)
angles = st.floats(-0.6, 0.6)


def line(bore: float, length: float) -> Pipe:
    return Pipe(name="line", bore=bore, length=length, fittings=(("entrance", 1), ("elbow", 2)), fixed=1.0)


def tank(middle: float = 0.0, **changed: object) -> Tank:
    box = Tank(shape="box", place=(0.5, middle, 0.1), length=0.4, width=0.5, height=0.25, material="5052-H32",
               wall=0.001, extra=0.1, outlet=(0.6, 0.1, -0.025), filler=(0.5, 0.0, 0.2), drain=(0.6, 0.1, -0.025),
               cap="body", fuels=("avgas",))  # fmt: skip
    return replace(box, **changed)  # type: ignore[arg-type]


@given(heads, bores, lengths)
def test_more_head_more_flow(head: float, bore: float, length: float) -> None:
    a, b = (gravity_flow([line(bore, length)], h, PETROL, GRAVITY) for h in (head, 1.1 * head))
    assert 0 < a < b


@given(heads, bores, lengths)
def test_a_longer_or_narrower_line_gives_less(head: float, bore: float, length: float) -> None:
    flow = gravity_flow([line(bore, length)], head, PETROL, GRAVITY)
    assert gravity_flow([line(bore, 1.1 * length)], head, PETROL, GRAVITY) < flow
    assert gravity_flow([line(0.95 * bore, length)], head, PETROL, GRAVITY) < flow


@given(heads, bores, lengths)
def test_thicker_fuel_gives_less_of_one_kind_of_flow_and_the_band_holds_the_likely(
    head: float, bore: float, length: float
) -> None:
    pipe = line(bore, length)
    flow = gravity_flow([pipe], head, PETROL, GRAVITY)
    slow = gravity_flow([pipe], head, PETROL, GRAVITY, lambda re, _: laminar(re))
    assert gravity_flow([pipe], head, Liquid(720.0, 6e-4), GRAVITY, lambda re, _: laminar(re)) < slow
    worst, best = (gravity_flow([pipe], head, PETROL, GRAVITY, f) for f in (most_friction, least_friction))
    assert worst <= flow * (1 + 1e-9) and flow <= best * (1 + 1e-9)


@given(heads, bores, lengths)
def test_what_flows_uses_the_head_up(head: float, bore: float, length: float) -> None:
    pipe = line(bore, length)
    flow = gravity_flow([pipe], head, PETROL, GRAVITY)
    assert_allclose(pipe_loss(pipe, flow, PETROL), PETROL.density * GRAVITY * head, rtol=1e-8, atol=0)


def test_no_head_no_flow() -> None:
    assert gravity_flow([line(0.008, 1.0)], 0.0, PETROL, GRAVITY) == 0.0
    assert gravity_flow([line(0.008, 1.0)], -0.3, PETROL, GRAVITY) == 0.0


def test_slow_flow_goes_with_the_head_and_the_fourth_power_of_the_bore() -> None:
    """Poiseuille: a long bare capillary, no fittings."""
    a = gravity_flow([Pipe(name="a", bore=0.001, length=2.0)], 0.2, PETROL, GRAVITY)
    b = gravity_flow([Pipe(name="b", bore=0.001, length=2.0)], 0.4, PETROL, GRAVITY)
    c = gravity_flow([Pipe(name="c", bore=0.0012, length=2.0)], 0.2, PETROL, GRAVITY)
    assert_allclose([b / a, c / a], [2.0, 1.2**4], rtol=1e-9, atol=0)


@given(angles, angles)
def test_a_mirrored_slip_leaves_the_same(nose: float, bank: float) -> None:
    box = tank()
    mirrored = replace(box, outlet=(0.6, -0.1, -0.025))
    right, left = under(box, up(nose, bank), box.outlet), under(mirrored, up(nose, -bank), mirrored.outlet)
    assert_allclose(right, left, rtol=1e-9, atol=1e-12)


@given(angles, angles, st.floats(0.0, 1.0), st.sampled_from(("box", "across", "along")))
def test_what_is_below_and_above_is_the_tank(nose: float, bank: float, part: float, form: str) -> None:
    box = tank() if form == "box" else tank(shape="cylinder", axis=form, height=0.4, width=0.4)
    n = up(nose, bank)
    low, high = span(box, n)
    d = low + part * (high - low)
    turned = tuple(-x for x in n)
    assert_allclose(below(box, n, d) + below(box, turned, -d), volume(box), rtol=2e-6, atol=0)  # type: ignore[arg-type]


@given(angles, angles)
def test_a_place_higher_up_leaves_more(nose: float, bank: float) -> None:
    box, n = tank(), up(nose, bank)
    places = sorted(((0.4, 0.0, 0.0), (0.5, 0.1, 0.1), (0.6, -0.1, 0.2)), key=lambda p: height(p, n))
    left = [under(box, n, p) for p in places]
    assert left == sorted(left)


@pytest.mark.parametrize("scale", [0.5, 3.0])
def test_volumes_go_with_the_cube_of_the_size(scale: float) -> None:
    box, n = tank(), up(0.3, -0.2)
    x, y, z = box.place
    big = replace(box, place=(scale * x, scale * y, scale * z), length=scale * box.length, width=scale * box.width,
                  height=scale * box.height)  # fmt: skip
    outlet = tuple(scale * x for x in box.outlet)
    assert_allclose(under(big, n, outlet), scale**3 * under(box, n, box.outlet), rtol=1e-9, atol=0)  # type: ignore[arg-type]
    assert np.isfinite(volume(big))
