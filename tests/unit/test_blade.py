"""A blade's table against the standard blade, its sections, and where their data end."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from blades import computed
from numpy.testing import assert_allclose
from shelf import shelf

from sparwright.air.behaviour import GRID, column
from sparwright.air.polars import KNOTS, Asked
from sparwright.data.blades import planform
from sparwright.family.model import BladeStation, Propeller, Section
from sparwright.power.blade import CLARK_Y, blade_of, clark_y, flat_angle, standard_blade
from sparwright.power.blade_section import ANGLES, PLATE, asked, of_polars, plate, worked_out_once
from sparwright.power.propeller import propeller_map, run
from sparwright.shape.section import thickness_ratio

AIR = SimpleNamespace(density=1.225, viscosity=1.78938e-5, sound=340.294)
PLAIN = Propeller(diameter=1.6, pitch=0.9, blades=2, mass=4.0, place=(0.0, 0.0, 0.0))


def stations(measured_on="flat", thickness=CLARK_Y, section="") -> Propeller:
    """The standard blade written as a table."""
    ratio, width, _ = planform()
    lean = flat_angle(clark_y()) if measured_on == "chord" else 0.0
    rows = tuple(BladeStation(radius=float(r), chord=float(c * 0.8), thickness=None if section else thickness,
                              section=section, angle=float(np.arctan(0.9 / (2 * np.pi * r * 0.8)) + lean))
                 for r, c in zip(ratio, width, strict=True))  # fmt: skip
    return replace(PLAIN, blade=rows, measured_on=measured_on)


@pytest.mark.parametrize("measured_on", ["flat", "chord"])
def test_the_standard_blade_written_as_a_table_is_the_standard_blade(measured_on):
    by_table, standard = blade_of(stations(measured_on)), standard_blade(PLAIN)
    assert_allclose(by_table.angle, standard.angle, rtol=1e-12, atol=0)
    one, other = (run(b, 20.0, 40.0, AIR, computed(b, 40.0, 40.0, AIR)) for b in (by_table, standard))
    assert_allclose(one.thrust, other.thrust, rtol=1e-9, atol=0)
    assert_allclose(one.power, other.power, rtol=1e-9, atol=0)


def test_a_thickness_between_two_lies_between_them():
    found = []
    for t in (0.117, 0.13, 0.16):
        b = blade_of(stations(thickness=t))
        found.append(run(b, 20.0, 40.0, AIR, computed(b, 40.0, 40.0, AIR)))
    for of in ("thrust", "power"):
        low, middle, high = sorted(getattr(p, of) for p in found)
        assert low < getattr(found[1], of) == middle < high


def test_a_section_of_the_family_stands_for_itself():
    own = Section(name="own", naca="4412")
    b = blade_of(stations(section="own"), {"own": own})
    assert b.sections == (own,)
    assert {a.section.naca for a in asked(b, (40.0, 40.0), AIR)} == {"4412"}
    with pytest.raises(KeyError):
        blade_of(stations(section="none"), {"own": own})


def test_clark_y_is_as_thick_as_asked_and_flat_beneath():
    assert_allclose(thickness_ratio(clark_y()), CLARK_Y, rtol=0, atol=5e-4)
    assert_allclose(thickness_ratio(clark_y(0.16)), 0.16, rtol=0, atol=1e-3)
    assert_allclose(np.degrees(flat_angle(clark_y())), 2.10, rtol=0, atol=0.01)
    assert flat_angle(clark_y(0.16)) / flat_angle(clark_y()) == pytest.approx(0.16 / CLARK_Y, rel=2e-3)


def test_section_data_are_the_polar_and_then_the_plate():
    section = clark_y()
    wanted = [Asked(section, "smooth", re) for re in (KNOTS[7], KNOTS[8])]
    found = shelf(wanted)
    data, re = of_polars(section, found), np.full(5, KNOTS[7])
    alpha = np.radians([-4.0, 0.0, 4.0, 8.0, 14.0])
    cl, cd = data.at(re)(alpha)
    lift, drag = (np.interp(alpha, GRID, column(found[wanted[0]], name)) for name in ("lift", "drag"))
    assert_allclose(cl, lift, rtol=0, atol=2e-3)  # angles of the table are a quarter degree apart
    assert_allclose(cd, drag, rtol=0, atol=1e-4)
    far = np.array([-1.2, -0.7, PLATE + 0.01, 0.9, 1.5])
    assert_allclose(data.at(re)(far), plate(far), rtol=0, atol=2e-3)
    between = data.at(np.full(5, np.sqrt(KNOTS[7] * KNOTS[8])))(alpha)[0]
    assert_allclose(between, (cl + data.at(np.full(5, KNOTS[8]))(alpha)[0]) / 2, rtol=0, atol=1e-12)
    assert ANGLES[0] == -ANGLES[-1]


def test_a_section_without_polars_is_refused():
    with pytest.raises(ValueError, match="no polar"):
        of_polars(clark_y(), {})


def test_rough_blades_take_more_power_for_less_thrust():
    """At a place of work; how far is told in docs/decisions/propeller.md."""
    best = []
    for surface in ("smooth", "built"):
        b = standard_blade(replace(PLAIN, surface=surface))
        chart = propeller_map(b, 40.0, AIR, computed(b, 40.0, 40.0, AIR))
        best.append(np.nanmax(chart.advance * chart.thrust / chart.power * (chart.thrust > 0)))
    assert 0.01 < best[0] - best[1] < 0.08


def test_without_kept_polars_they_are_worked_out_once_and_are_the_same():
    found: list[float] = []
    wanted = [Asked(Section(name="once", naca="0012"), "smooth", KNOTS[8])]
    first = worked_out_once(wanted, lambda done, what: found.append(done))
    assert worked_out_once(wanted)[wanted[0]] is first[wanted[0]] and found == [0.0]
    assert_allclose(first[wanted[0]].lift, shelf(wanted)[wanted[0]].lift, rtol=1e-6, atol=1e-9, equal_nan=True)
