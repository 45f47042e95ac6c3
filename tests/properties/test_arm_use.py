"""What must hold of flat arms and beams on hinges: use goes with the load, more metal is never worse, unknown stays."""

from __future__ import annotations

from dataclasses import asdict

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.margins.aileron_ribs import along_rib
from sparwright.margins.control_rods import bolt_use
from sparwright.strength.members import flat_arm, hinged_beam
from sparwright.strength.members.flat_arm import ArmLoads, flat_cut

NAMES = ("along", "across", "out", "moment", "moment_out", "torque")
LOADS = st.tuples(*(st.floats(0.1, 500.0) for _ in NAMES))
SIZE = st.tuples(st.floats(0.01, 0.06), st.floats(0.001, 0.008))
MORE = st.floats(1.001, 3.0)


def use(loads: ArmLoads, width: float, thick: float, hole: float = 0.0) -> float:
    """Of a bar, with a hole in its middle."""
    pieces = [(-width / 2, -hole / 2), (hole / 2, width / 2)] if hole else [(-width / 2, width / 2)]
    return float(flat_arm.use(loads, flat_cut(pieces, thick), 500e6, 300e6))


@settings(deadline=None)
@given(LOADS, SIZE, MORE)
def test_double_the_force_double_the_use(given_: tuple[float, ...], size: tuple[float, float], more: float) -> None:
    loads = ArmLoads(**dict(zip(NAMES, given_, strict=True)))
    grown = ArmLoads(**{k: more * v for k, v in asdict(loads).items()})
    assert_allclose(use(grown, *size), more * use(loads, *size), rtol=1e-9)


@settings(deadline=None)
@given(LOADS, SIZE, MORE)
def test_more_metal_is_never_worse(given_: tuple[float, ...], size: tuple[float, float], more: float) -> None:
    loads, (w, t) = ArmLoads(**dict(zip(NAMES, given_, strict=True))), size
    assert use(loads, w, min(more * t, w)) <= use(loads, w, t) * (1 + 1e-9)
    assume(t <= w / 4)  # a lug on the end is narrower; thicker than wide it is no flat arm
    assert use(loads, more * w, t) <= use(loads, w, t) * (1 + 1e-9)
    assert use(loads, w, t, w / 4) >= use(loads, w, t) * (1 - 1e-9)


def test_what_is_not_known_or_no_bar_stays_unknown() -> None:
    cut = flat_cut([(0.0, 0.02)], 0.003)
    assert np.isnan(flat_arm.use(ArmLoads(moment=1.0), cut, np.nan, 1e8))
    assert np.isnan(flat_arm.use(ArmLoads(torque=1.0), flat_cut([(0.0, 0.001)], 0.003), 1e8, 1e8)), "thicker than wide"
    with pytest.raises(ValueError, match="piece"):
        flat_cut([], 0.003)


@settings(deadline=None)
@given(st.lists(st.floats(-50, 50), min_size=8, max_size=8), st.floats(-0.01, 0.01), MORE)
def test_a_beam_on_hinges_is_linear_and_in_balance(load: list[float], moved: float, more: float) -> None:
    y, q = np.linspace(0.0, 1.6, 9), np.array([load])
    way = np.array([[0.0, moved, 0.0]])
    M, _, R = hinged_beam.bent(y, q, np.array([1, 4, 7]), way, 40.0)
    again, _, _ = hinged_beam.bent(y, more * q, np.array([1, 4, 7]), more * way, 40.0)
    assert_allclose(again, more * M, rtol=1e-7, atol=1e-7)
    assert_allclose(R.sum(), -float((q * 0.2).sum()), rtol=1e-6, atol=1e-6)
    assert abs(float(M[0, 0])) < 1e-6 and abs(float(M[0, -1])) < 1e-6, "its ends are free"
    mirrored, _, _ = hinged_beam.bent(y, q[:, ::-1], np.array([1, 4, 7]), way, 40.0)
    assert_allclose(mirrored[0, ::-1], M[0], rtol=1e-6, atol=1e-6)


def test_a_beam_that_tilts_on_its_hinges_bends_nowhere() -> None:
    y, hinges = np.linspace(0.0, 1.6, 9), np.array([1, 4, 7])
    M, _, _ = hinged_beam.bent(y, np.zeros((1, 8)), hinges, (0.01 + 0.02 * y[hinges])[None], 40.0)
    assert_allclose(M, 0.0, atol=1e-9)
    with pytest.raises(ValueError, match="two"):
        hinged_beam.bent(y, np.zeros((1, 8)), np.array([3]), np.zeros((1, 1)), 40.0)
    lost, _, _ = hinged_beam.bent(y, np.full((1, 8), np.nan), hinges, np.zeros((1, 3)), 40.0)
    assert np.isnan(lost).all()


@settings(deadline=None)
@given(st.floats(10, 500), st.floats(1, 60), st.floats(0.1, 0.5))
def test_a_ribs_load_is_all_of_it_at_the_hinge(normal: float, hinge: float, chord: float) -> None:
    V, M = along_rib(np.linspace(0, 1, 101), chord, np.array([normal]), np.array([hinge]))
    assert float(V[0, 0]) == pytest.approx(normal)
    assert float(M[0, 0]) == pytest.approx(hinge)
    assert float(V[0, -1]) == pytest.approx(0, abs=1e-9) and float(M[0, -1]) == pytest.approx(0, abs=1e-9)


@settings(deadline=None)
@given(st.floats(100, 9000), MORE)
def test_a_rod_ends_bolt(load: float, more: float) -> None:
    once = bolt_use(load, 0.008, 0.0078, 9e3, 9.8e3)
    assert bolt_use(more * load, 0.008, 0.0078, 9e3, 9.8e3)[0] == pytest.approx(more * once[0], rel=1e-6)
    assert bolt_use(load, 0.008, more * 0.0078, 9e3, 9.8e3)[0] <= once[0] * (1 + 1e-9), "a wider flat pulls it less"
    assert once[0] >= max(once[1:]) * (1 - 1e-9)
