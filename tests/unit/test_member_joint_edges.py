"""Where the formulas for tubes and joints end: NaN with the reason, workings that add up, tables with their rows."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.base.check import Step
from sparwright.data.columns import curves, every_curve
from sparwright.data.factors import highest, table
from sparwright.data.loader import cable_strength, fasteners, material
from sparwright.strength.joints import group, lug, pin, plate, rivet, weld, wood
from sparwright.strength.members import cable, column, crush, section, tube
from sparwright.strength.members.margin import margin, worst

STEEL = material("4130N")
LUG = lug.Lug(width=0.0254, hole=0.00635, pin=0.00635, edge=0.0127, thickness=0.0023, tension=STEEL.tension,
              yields=STEEL.yield_tension, shear=STEEL.shear, bearing=STEEL.bearing)  # fmt: skip
BOLT = fasteners()["AN4"]


def ends(steps: tuple[Step, ...], use: float) -> None:
    """A working ends in the use that the function gives, and its margin; each line has numbers put in."""
    assert_allclose(steps[-2].value, use, rtol=1e-12)
    assert_allclose(steps[-1].value, 1 / use - 1, rtol=1e-12)
    assert all(s.title and s.formula and s.given for s in steps)


def test_workings_give_what_the_functions_give() -> None:
    size = (0.0254, 0.000889)
    col = (3e3, 0.9, *size, 2.0, curves("4130N"), STEEL.youngs, STEEL.compression)
    ends(column.working(*col), float(column.use(*col)))
    bowed = (*col, float(column.bow(0.9, *size)))
    ends(column.working(*bowed), float(column.use(*bowed)))
    assert len(column.working(*bowed)) == len(column.working(*col)) + 1
    F_b = tube.rupture(*size, STEEL.youngs, STEEL.compression)
    F_s = tube.torsion_stress(*size, STEEL.youngs, STEEL.compression, STEEL.shear)
    whole = tube.together(0.2, tube.bending_use(60.0, *size, F_b), tube.torsion_use(30.0, *size, F_s))
    steps = tube.working(0.2, 60.0, 30.0, *size, STEEL.youngs, STEEL.compression, STEEL.shear)
    ends(steps, float(whole))
    force = crush.clamping(6.0, 0.00635)
    ends(crush.working(6.0, 0.00635, 0.0381, 0.00147, 0.0127, 241e6),
         float(crush.use(force, 0.0381, 0.00147, 0.0127, 241e6)))  # fmt: skip
    ends(cable.working(4e3, 9e3, 0.9, 1.0), float(cable.use(4e3, 9e3, 0.9, 1.0)))
    ends(lug.working(9e3, 0.3, LUG, 0.6), float(lug.use(9e3, 0.3, LUG, 0.6)))
    bent = pin.bending_use(9e3, pin.arm(0.0023, 0.02, 0.0005), BOLT.diameter, 862e6)
    both = pin.shear_and_bending(pin.shear_use(9e3, BOLT.shear, 2), bent)
    ends(pin.working(9e3, 2, BOLT.shear, BOLT.diameter, 862e6, 0.0023, 0.02, 0.0005), float(both))
    square = group.square(0.03)
    ends(group.working(square, (3e3, 1e3), 40.0, BOLT.shear), float(group.use(square, (3e3, 1e3), 40.0, BOLT.shear)))
    each = rivet.strength(2e3, 0.00326, 0.001, plate.bearing_strength(0.006 / 0.00326, 834e6))
    ends(rivet.working(4e3, 3, 2e3, 0.00326, 0.001, 834e6, 0.006), float(rivet.use(4e3, each, 3)))
    ends(weld.working(9e3, *size, 0.7, 331e6, 552e6), float(weld.tube_use(9e3, *size, 0.7, 331e6, 552e6)))
    bears = plate.bearing_use(5e3, 0.00635, 0.0023, plate.bearing_strength(1.8, STEEL.bearing))
    ends(plate.working(5e3, 1.8 * 0.00635, 0.00635, 0.0023, STEEL.bearing), float(bears))
    ends(wood.working(2e3, 0.4, 0.00635, 0.03, 380, 862e6), float(wood.use(2e3, 0.4, 0.00635, 0.03, 380, 862e6)))


def test_tubes_out_of_range() -> None:
    E, F, rows = STEEL.youngs, STEEL.compression, curves("4130N")
    assert np.isnan(section.area([0.02, 0.02, 0.02], [0.0, 0.011, -0.001])).all()
    assert np.isnan(column.use(1e3, 0.5, 0.1, 0.0005, 1.0, rows, E, F))
    assert "D/t 200" in column.outside_range(0.5, 0.1, 0.0005, 1.0, rows, E, F)
    assert np.isnan(column.use(1e3, 0.5, 0.02, 0.001, 1.0, curves("no such metal"), E, F))
    assert "no column curve" in column.outside_range(0.5, 0.02, 0.001, 1.0, (), E, F)
    assert "not known: length" in column.outside_range(math.nan, 0.02, 0.001, 1.0, rows, E, F)
    assert "half the diameter" in column.outside_range(0.5, 0.02, 0.0, 1.0, rows, E, F)
    assert "positive" in column.outside_range(0.5, 0.02, 0.001, 0.0, rows, E, F)
    assert np.isnan(column.use(1e3, 0.5, 0.02, 0.001, 0.0, rows, E, F))
    assert column.outside_range(0.5, 0.02, 0.001, 1.0, rows, E, F) == "" and column.caveat(150) == ""
    unknown = column.working(1e3, 0.5, 0.1, 0.0005, 1.0, rows, E, F)
    assert math.isnan(unknown[-2].value) and "D/t 200" in unknown[-2].title
    assert np.isnan(tube.rupture(0.1, 0.0005, E, F)) and "D/t 200" in tube.outside_range(0.1, 0.0005, E, F)
    assert tube.outside_range(0.02, 0.001, E, F) == "" and "half" in tube.outside_range(0.02, 0.0, E, F)
    assert np.isnan(tube.rupture_without_plastic(3.02, 0.001, E, F))
    assert tube.rupture_without_plastic(0.01, 0.003, E, F) == F == column.local(0.01, 0.003, E, F)
    assert np.isnan(section.net_area(0.02, 0.001, 0.0195))
    assert np.isnan(crush.use(1e3, 0.01, 0.002, 0.012, F))
    assert "no thin ring" in crush.working(6.0, 0.006, 0.01, 0.002, 0.012, F)[-2].title
    assert tube.tension_use(-1e3, 0.02, 0.001, F) == 0


def test_local_buckling_is_asked_where_the_source_asks() -> None:
    E, F, rows = STEEL.youngs, STEEL.compression, curves("4130N")
    assert_allclose(column.allowable(5.0, 0.049, 0.001, rows, E, F), column.lowest(5.0, rows))
    assert_allclose(column.allowable(5.0, 0.051, 0.001, rows, E, F), column.local(0.051, 0.001, E, F))
    light = curves("6061-T6")
    assert_allclose(column.allowable(5.0, 0.03, 0.001, light, 68e9, 234e6), column.local(0.03, 0.001, 68e9, 234e6))


def test_cables() -> None:
    breaking, _ = cable_strength("1x19", 0.0254 / 8)
    assert_allclose(cable.use(0.9 * breaking, breaking, table("cable_end")["wrapped"].used), 1.0)
    assert np.isnan(cable.use(1.0, 1.0, 1.1)) and np.isnan(cable.use(1.0, 1.0, 1.0, 0.0))
    assert np.isnan(cable.stiffness("6x6", 0.003)) and math.isnan(cable.metal("6x6"))
    assert_allclose(cable.pulley_load(10.0, [0.0, np.pi / 2, np.pi]), [0, 10 * 2**0.5, 20], atol=1e-12)
    assert np.isnan(cable.pulley_load(10.0, 4.0)) and cable.pulley_caveat(0.1, 0.003) == ""
    assert "not known: breaking" in cable.working(1e3, math.nan, 0.9)[-2].title
    assert "at most one" in cable.working(1e3, 5e3, 1.2)[-2].title


@pytest.mark.parametrize(
    ("change", "said"),
    [({"edge": 0.006}, "edge distance"), ({"edge": 0.03}, "edge distance"), ({"width": 0.008}, "width"),
     ({"thickness": 0.001}, "t/D"), ({"pin": 0.0048}, "pin over hole"), ({"pin": 0.007}, "pin over hole"),
     ({"tension": math.nan}, "not known: tension"), ({"hole": math.nan}, "not known: hole")],
)  # fmt: skip
def test_lugs_out_of_range(change: dict[str, float], said: str) -> None:
    bad = replace(LUG, **change)
    assert said in lug.outside_range(bad)
    assert math.isnan(lug.along(bad)) and math.isnan(lug.across(bad)) and np.isnan(lug.use(1e3, 0.2, bad))
    assert said in lug.working(1e3, 0.2, bad)[-2].title
    assert lug.outside_range(LUG) == ""


def test_other_edges_of_joints() -> None:
    assert np.isnan(lug.use(1e3, 0.0, LUG, 1.2)) and np.isnan(lug.use(math.nan, 0.0, LUG))
    assert np.isnan(lug.out_of_plane_use(1e3, 2.0, 0.02, 0.002, 0.01, 1e8))
    upright = lug.out_of_plane_use(1e3, 0.0, 0.02, 0.002, 0.01, 1e8)
    assert_allclose(upright, 1e3 / (0.02 * 0.002 * 1e8))
    assert_allclose(lug.out_of_plane_use(1e3, np.pi / 2, 0.02, 0.002, 0.01, 1e8), 6 * 10 / (0.02 * 4e-6 * 1e8))
    assert_allclose(lug.bush_use(1.85e8 * 0.006 * 0.02, 0.006, 0.02, 1e8), 1.0)
    assert np.isnan(pin.shear_and_tension(-0.1, 0.2)) and np.isnan(pin.shear_and_tension(math.nan, 0.2))
    assert np.isnan(pin.arm(0.002, 0.02, -0.001)) and pin.tension_use(-5.0, 10.0) == 0
    heap = np.zeros((3, 2))
    assert np.isnan(group.use(heap, (1.0, 0.0), 2.0, 1.0)) and group.use(heap, (3.0, 0.0), 0.0, 1.0) == 1.0
    assert math.isnan(group.working(heap, (1.0, 0.0), 2.0, 1.0)[-2].value)
    assert np.isnan(rivet.strength(1e3, 0.004, 0.0005, 1e9)) and np.isnan(rivet.use(1.0, 1.0, 1, 0.5))
    assert np.isnan(rivet.pull_use(100.0, math.nan, 4)) and rivet.pull_use(-1.0, 50.0, 4) == 0
    assert "t/D" in rivet.working(4e3, 3, 2e3, 0.004, 0.0005, 834e6, 0.008)[-2].title
    assert len(rivet.rules(0.004, 0.008, 0.004)) == 2 and rivet.rules(0.008, 0.012, 0.004) == ()
    assert np.isnan(weld.seam_length(1.0, [0.2, 1.6])).all() and "not in 15 to 90" in weld.outside_range(0.2)
    assert weld.outside_range(np.pi / 2) == "" and np.isnan(weld.seam_use(1.0, 0.0, 1.0, 1.0))
    assert_allclose(weld.rosette_use(np.pi, 4, 1.0, 1.0), 1.0)
    push, pull = weld.tube_use([-1e3, 1e3], 0.0254, 0.000889, 0.7, 331e6, 55e6)
    assert push < pull
    assert np.isnan(plate.bearing_strength(0.9, 1.0)) and np.isnan(plate.loose_hole(0.7, 1.0))
    assert (
        np.isnan(plate.net_use(1.0, 0.01, 0.001, 0.006, 1e8, 2)) and plate.net_use(-1.0, 0.02, 0.001, 0.006, 1e8) == 0
    )
    assert "below 1" in plate.outside_range(0.005, 0.006, 0.002) and "t/D" in plate.outside_range(0.012, 0.006, 0.001)
    assert plate.outside_range(0.012, 0.006, 0.002) == "" and plate.caveat(0.012, 0.006) == ""
    assert "two are the rule" in plate.caveat(0.01, 0.006)
    assert_allclose(plate.block_strength(3e-5, 1e-5, 1e-5, 600e6, 400e6), 0.6 * 6e3 + 6e3)
    assert_allclose(plate.block_strength(1.2e-5, 1e-5, 1e-5, 600e6, 400e6), 0.6 * 4.8e3 + 6e3)
    assert np.isnan(wood.use(1e3, 0.0, 0.004, 0.03, 400, 862e6)) and "4.0 mm" in wood.outside_range(0.004, 400)
    assert "density 200" in wood.outside_range(0.00635, 200) and wood.outside_range(0.00635, 400) == ""
    assert len(wood.rules(0.01, 0.02, 0.01, 0.00635)) == 3
    assert wood.effective(2, 1.0, 0.006) == 2


def test_special_factors() -> None:
    assert highest(()) == (1.0, "none") and highest(["fitting", "cable-joint"]) == (2.0, "cable-joint")
    with pytest.raises(KeyError):
        highest(["no such factor"])
    assert table("fixity")["welded"].used == 2.0 and math.isnan(table("fixity")["welded"].low)
    assert all(0 < f.used <= f.value for k in ("special", "fixity", "cable_end", "weld") for f in table(k).values())


def test_margins_and_worst() -> None:
    assert math.isnan(margin(math.nan)) and margin(2.0) == -0.5
    assert_allclose(worst([0.1, 0.5], [0.4, 0.2], 0.3), [0.4, 0.5])


def test_curves_have_sources() -> None:
    assert len(every_curve()) >= 14 and curves("no such metal") == ()
    assert all(c.source.key and c.source.mark in ("read", "memory", "computed") for c in every_curve())
