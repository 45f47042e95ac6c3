"""Where the air says no: ranges, unknown sections, wrong calls; and the simple limits of its formulas."""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.air.atmosphere import atmosphere
from sparwright.air.body import BETWEEN, apparent_mass, body_moment_slope, flow_slope
from sparwright.air.drag import StrutForDrag, body_sizes, cylinder_drag, fuselage, outside_tubes, strut
from sparwright.air.turned import Company, turned
from sparwright.family.model import Body, FrameTube, Fuselage, RoundTube
from sparwright.shape.planform import Planform, reference

FLAT = {"flat": np.array([[0.0, 1.0], [0.0, 0.0]])}


def plate(name: str = "wing", z: float = 0.0, tail: bool = False) -> Planform:
    edge = np.array([[0.0, 0.0], [0.0, 3.0], [z, z]])
    return Planform(name, edge, np.ones(2), np.zeros(2), ("flat", "flat"), is_tail=tail)


@pytest.mark.parametrize("altitude", [-1001.0, 11001.0, math.nan])
def test_atmosphere_range(altitude: float) -> None:
    with pytest.raises(ValueError, match="reaches from"):
        atmosphere(altitude)


def test_hot_day_keeps_the_pressure() -> None:
    cold, hot = atmosphere(1500.0), atmosphere(1500.0, 20.0)
    assert hot.pressure == cold.pressure
    assert_allclose(hot.density / cold.density, cold.temperature / hot.temperature, rtol=1e-12, atol=0)


def test_reference_of_a_cell() -> None:
    ref = reference((plate("lower"), plate("upper", 1.0), plate("tail", 0.5, True)))
    assert_allclose(
        [ref.area, ref.chord, ref.station, ref.waterline, ref.span], [12, 1, 0, 0.5, 6], rtol=1e-12, atol=1e-12
    )
    with pytest.raises(ValueError, match="at least one wing"):
        reference((plate("tail", 0, True),))


@pytest.mark.parametrize("re", [800.0, 9e5, math.nan])
def test_cylinder_range(re: float) -> None:
    assert math.isnan(cylinder_drag(re))


def test_a_strut_outside_its_table_is_unknown_and_says_so() -> None:
    item = strut(StrutForDrag("wire", 1.0, 0.001, "wire", 2), atmosphere(0.0), 5.0)
    assert not item.area.known
    assert "outside the table" in item.note


def test_apparent_mass_limits() -> None:
    assert apparent_mass(200.0) > 0.998
    assert apparent_mass(1.0001) < 1e-3
    with pytest.raises(ValueError, match="longer than it is thick"):
        apparent_mass(1.0)


def spindle(n: int = 41) -> tuple[Body, ...]:
    x = np.linspace(0, 6, n)
    r = 0.5 * np.sqrt(np.clip(1 - ((x - 3) / 3) ** 2, 0, None))
    return tuple(
        Body(station=float(a), width=float(2 * b), top=float(b), bottom=float(-b)) for a, b in zip(x, r, strict=True)
    )


def flown(wing: Planform) -> Company:
    return turned((wing,), FLAT, FLAT, BETWEEN)


def test_a_lone_body_turns_as_munk_says() -> None:
    """Far from any wing: dM/dalpha = 2 q (k2 - k1) volume. Source: naca-tr-184."""
    slope = body_moment_slope(spindle(), flown(plate("wing", 5000.0)))
    volume = 4 / 3 * math.pi * 3 * 0.5**2
    assert_allclose(slope.value, 2 * apparent_mass(6.0) * volume, rtol=0.005, atol=0)
    assert slope.low < slope.value < slope.high


def test_a_wing_ahead_of_the_tail_end_takes_moment_away() -> None:
    edge = np.array([[0.5, 0.5], [0.0, 4.0], [0.8, 0.8]])
    wing = Planform("wing", edge, np.ones(2), np.zeros(2), ("flat", "flat"))
    near, far = (body_moment_slope(spindle(), flown(w)).value for w in (wing, plate("wing", 5000.0)))
    assert near < 0.9 * far


def test_the_flow_turns_faster_ahead_of_a_wing_slower_behind_and_not_at_all_within_it() -> None:
    edge = np.array([[2.0, 2.0], [0.0, 3.0], [0.1, 0.1]])
    wing = Planform("wing", edge, np.ones(2), np.zeros(2), ("flat", "flat"))
    x = np.array([-50.0, 1.5, 1.9, 2.01, 2.5, 2.99, 3.1, 4.0])
    far, ahead, nose, *within, edge_of, behind = flow_slope(flown(wing), x, 0 * x, spindle())
    assert_allclose(far, 1, rtol=0, atol=1e-3)
    assert nose > ahead > 1.05
    assert within == [0.0] * 3
    assert 0 < edge_of < behind < 1
    above = flow_slope(flown(plate("wing", 0.8)), np.array([0.5]), np.zeros(1), spindle())
    assert above[0] > 0.3  # clear of the body nothing is taken out


def test_the_body_s_moment_needs_the_angles_it_is_taken_between() -> None:
    with pytest.raises(ValueError, match="outside the lattice's"):
        body_moment_slope(spindle(), turned((plate(),), FLAT, FLAT, [0.0]))


def test_wetted_area_of_a_cylinder() -> None:
    length, frontal, wetted = body_sizes(tuple(Body(station=s, width=1.0, top=0.5, bottom=-0.5) for s in (0.0, 4.0)))
    assert_allclose([length, frontal, wetted], [4, math.pi / 4, 4 * math.pi], rtol=1e-12, atol=0)


def test_skin_drag_worked_by_hand() -> None:
    """A cylinder 4 m long, 1 m thick, at 30 m/s: Re 8.215e6, Cf 0.0031003, form 1.2969, 12.566 m2, times 1.15."""
    body = tuple(Body(station=s, width=1.0, top=0.5, bottom=-0.5) for s in (0.0, 4.0))
    skin, *others = fuselage(Fuselage(nodes={}, tubes=(), body=body, open_cockpit=False), atmosphere(0.0), 30.0)  # type: ignore[arg-type]
    assert_allclose(skin.area.value, 0.0031003 * 1.296875 * 12.566 * 1.15, rtol=5e-4, atol=0)
    assert not others


def test_cylinder_drag_is_straight_in_the_logarithm() -> None:
    re = math.sqrt(391000 * 503000)
    between = np.interp(math.log(re), np.log([427000, 456000]), [0.547, 0.454])
    assert_allclose(cylinder_drag(re), between, rtol=1e-12, atol=0)


def test_gear_legs_are_found() -> None:
    tube = RoundTube(material="4130N", outside=0.025, wall=0.001)
    fuselage = Fuselage(
        nodes={"A": (0.5, 0.3, -0.4), "B": (1.0, 0.3, -0.4), "AX": (0.5, 0.8, -0.9)},  # type: ignore[arg-type]
        tubes=(
            FrameTube(name="longeron", run=("A", "B"), tube=tube),
            FrameTube(name="gear", run=("A", "AX"), tube=tube),
        ),
        body=tuple(Body(station=s, width=0.64, top=0.4, bottom=-0.42) for s in (0.0, 4.0)),
    )
    (leg,) = outside_tubes(fuselage)
    assert leg.name == "gear A to AX"
    assert_allclose(leg.length, math.sqrt(0.5), rtol=1e-12, atol=0)
    assert leg.count == 2
    assert_allclose(leg.across, 1.0, rtol=1e-12, atol=0)
