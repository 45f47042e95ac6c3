"""The cowling: panels and angles by hand, what is cut out, panels that meet and do not clash, bad ones."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from families import PROBE, told
from families import reading as family_of
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.base.check import Check
from sparwright.base.problem import DesignProblem
from sparwright.data.loader import material
from sparwright.family.cowling import CowlEnd
from sparwright.family.model import Model
from sparwright.parts.cowling import cowling_checks, cowling_joints, cowling_parts
from sparwright.parts.flat_sheets import Laid, laid_sheets, sheet_parts
from sparwright.parts.measured import measure
from sparwright.parts.part import Assembly, Formed, Part

INCH = 0.0254
SAID = """
[models.P1.sheets.wall]
purpose = "firewall"
sheet = { material = "6061-T6", thickness = "0.040 in" }
corners = { top = ["-0.020 in", "0 in", "15 in"], right = ["-0.020 in", "14 in", "15 in"], low = ["-0.020 in", "14 in", "-15 in"], foot = ["-0.020 in", "0 in", "-15 in"] }
to = "forward"
held = []

[models.P1.cowling]
sheet = { material = "6061-T6", thickness = "0.025 in" }
angle = { material = "6061-T6", thickness = "0.032 in" }
leg = "3/4 in"
firewall = "wall"
nose = "-30 in"
front = { half = "10 in", top = "8 in", bottom = "-12 in" }
rear = { half = "10 in", top = "8 in", bottom = "-12 in" }
short = "2 in"

[models.P1.cowling.openings]
inlet = { place = ["-30 in", "5 in", "-6 in"], size = ["2 in", "4 in", "4 in"], form = "along", air = "in", reason = "cooling air" }
outlet = { place = ["-4 in", "0 in", "-12 in"], size = ["3 in", "10 in", "2 in"], air = "out", reason = "cooling air" }
"""  # noqa: E501
FRONT, REAR, SHEET, ANGLE, LEG = -29.975, -0.04, 0.025, 0.032, 0.75  # in, as the text says


def model(said: str = SAID) -> Model:
    return family_of(PROBE + said).models["P1"]


def laid(one: Model) -> tuple[Laid, ...]:
    return laid_sheets(one, ())


def parts(one: Model) -> dict[str, Part]:
    return {p.number.split("COWL-")[1]: p for p in cowling_parts(one, laid(one))}


def cubic_inches(part: Part) -> float:
    return part.mass / material("6061-T6").density / INCH**3


def closed(one: Model) -> Model:
    assert one.cowling
    return replace(one, cowling=replace(one.cowling, openings=()))


def test_panels_and_angles_of_a_straight_box_by_hand() -> None:
    """Top and bottom 20 in wide, sides between them; an angle is two legs less the corner that both have."""
    found, long = parts(closed(model())), REAR - FRONT
    angle = (2 * LEG - ANGLE) * ANGLE
    assert_allclose(cubic_inches(found["TOP"]), 20 * SHEET * long)
    assert_allclose(cubic_inches(found["BOTTOM"]), 20 * SHEET * long)
    assert_allclose(cubic_inches(found["NOSE"]), 20 * 20 * SHEET)
    for hand in "RL":
        assert_allclose(cubic_inches(found[f"SIDE-{hand}"]), (20 - 2 * SHEET) * SHEET * long)
        assert_allclose(cubic_inches(found[f"CORNER-UPPER-{hand}"]), angle * long)
        assert_allclose(cubic_inches(found[f"CORNER-LOWER-{hand}"]), angle * long)
    for rim in (f"RIM-{e}-{k}" for e in ("FRONT", "REAR") for k in ("TOP", "BOTTOM", "SIDE-R", "SIDE-L")):
        assert_allclose(cubic_inches(found[rim]), angle * (20 - 4))
    assert len(found) == 17


def test_where_the_straight_box_lies() -> None:
    found = parts(closed(model()))
    middle = (FRONT + REAR) / 2
    for kind, place in {
        "TOP": (middle, 0.0, 8 - SHEET / 2),
        "BOTTOM": (middle, 0.0, -12 + SHEET / 2),
        "SIDE-R": (middle, 10 - SHEET / 2, -2.0),
        "NOSE": (-30 + SHEET / 2, 0.0, -2.0),
    }.items():
        assert_allclose(found[kind].places[0], [v * INCH for v in place], atol=1e-9)


def test_a_panel_that_narrows_is_a_trapezium() -> None:
    one = closed(model())
    assert one.cowling
    end = CowlEnd(half=6 * INCH, top=6 * INCH, bottom=-9 * INCH)
    found = parts(replace(one, cowling=replace(one.cowling, front=end)))
    long = REAR - FRONT
    assert_allclose(cubic_inches(found["TOP"]), (12 + 20) / 2 * SHEET * long)
    assert_allclose(cubic_inches(found["SIDE-R"]), ((15 + 20) / 2 - 2 * SHEET) * SHEET * long)


def test_the_piece_to_cut_from_is_as_long_as_the_slope() -> None:
    """4 in narrower each side, 2 in lower and 3 in higher at the nose over 29.935 in; angles 16 in less at the ends."""
    one = closed(model())
    assert one.cowling
    end = CowlEnd(half=6 * INCH, top=6 * INCH, bottom=-9 * INCH)
    found = parts(replace(one, cowling=replace(one.cowling, front=end)))
    long = REAR - FRONT
    for key, size in {
        "TOP": (math.sqrt(long**2 + 4), 20.0),
        "BOTTOM": (math.sqrt(long**2 + 9), 20.0),
        "SIDE-L": (math.sqrt(long**2 + 16), 20 - 2 * SHEET),
        "NOSE": (15.0, 12.0),
        "CORNER-UPPER-R": (math.sqrt(long**2 + 16 + 4), 1.5),
        "CORNER-LOWER-L": (math.sqrt(long**2 + 16 + 9), 1.5),
        "RIM-FRONT-TOP": (8.0, 1.5),
        "RIM-REAR-SIDE-R": (16.0, 1.5),
    }.items():
        shape = found[key].shape
        assert isinstance(shape, Formed)
        assert_allclose([shape.length / INCH, shape.outside / INCH], size, err_msg=key)


def test_openings_take_their_area_out_of_what_they_meet() -> None:
    """A pair of 4 in holes out of the nose, a slot of 3 x 10 in out of the bottom, nothing out of the rest."""
    whole, cut = parts(closed(model())), parts(model())
    out = {k: cubic_inches(whole[k]) - cubic_inches(cut[k]) for k in whole}
    assert_allclose(out["NOSE"], 2 * math.pi / 4 * 4**2 * SHEET, rtol=2e-3)
    assert_allclose(out["BOTTOM"], 3 * 10 * SHEET, rtol=1e-6)
    assert all(abs(v) < 1e-9 for k, v in out.items() if k not in ("NOSE", "BOTTOM")), out


def checks(inlet: float | None, outlet: float | None) -> dict[str, Check]:
    one = model()
    said = [v and v * INCH**2 for v in (inlet, outlet)]
    engine = replace(one.engine, cooling_inlet=said[0], cooling_outlet=said[1])
    one = replace(one, engine=engine)
    return {c.id: c for c in cowling_checks(one, laid(one))}


def test_open_area_against_that_the_cooling_was_reckoned_with() -> None:
    """8 pi = 25.1 in2 open in front, 30 in2 behind."""
    found = checks(25.0, 30.0)
    assert [found[f"cowling.{k}"].verdict for k in ("in", "out")] == ["pass", "pass"]
    assert found["cowling.out"].value < 1e-6
    found = checks(29.0, 40.0)
    assert [found[f"cowling.{k}"].verdict for k in ("in", "out")] == ["fail", "fail"]
    assert_allclose(found["cowling.out"].value, 0.25, rtol=1e-6)


@settings(max_examples=15, deadline=None)
@given(front=st.tuples(*(st.floats(4, 12),) * 3), rear=st.tuples(*(st.floats(5, 13),) * 3), nose=st.floats(-40, -12))
def test_panels_meet_and_do_not_clash(
    front: tuple[float, float, float], rear: tuple[float, float, float], nose: float
) -> None:
    """Whatever the taper: every joint's parts lie together, none stands alone, none shares room with another."""
    one = closed(model())
    assert one.cowling
    ends = [CowlEnd(half=h * INCH, top=t * INCH, bottom=-b * INCH) for h, t, b in (front, rear)]
    one = replace(one, cowling=replace(one.cowling, front=ends[0], rear=ends[1], nose=nose * INCH))
    sheets = laid(one)
    wall = [p for p in sheet_parts(one, sheets, ()) if p.number.endswith("SHEET-WALL")]
    assert len(wall) == 1
    found = measure(
        Assembly(model="P1", parts=(*cowling_parts(one, sheets), *wall), joints=tuple(cowling_joints(one, sheets)))
    )
    assert not found.clashes
    assert not found.apart
    assert not found.adrift


def test_area_that_nobody_reckoned_with_is_unknown() -> None:
    found = checks(None, 30.0)
    assert [found[f"cowling.{k}"].verdict for k in ("in", "out")] == ["unknown", "pass"]


def test_an_opening_that_cuts_an_angle_is_told() -> None:
    """A 4 in hole 9 in out runs through the right and left corners' edges of the nose; 5 in out it is clear."""
    assert checks(25.0, 30.0)["cowling.angles"].verdict == "pass"
    one = model(SAID.replace('inlet = { place = ["-30 in", "5 in"', 'inlet = { place = ["-30 in", "9 in"'))
    found = next(c for c in cowling_checks(one, laid(one)) if c.id == "cowling.angles")
    assert (found.verdict, found.value) == ("fail", 2.0)
    assert found.part == "P1-fuselage-COWL-RIM-FRONT-SIDE-R, P1-fuselage-COWL-RIM-FRONT-SIDE-L"


def test_fasteners_are_no_further_apart_than_the_pitch() -> None:
    """30 in of corner at 4 in: eight spaces of 3.74 in, nine screws; 16 in of rim: five."""
    found = [(j.number.split("COWL-", 1)[1], j) for j in cowling_joints(model(), laid(model()))]
    assert [j.fasteners for k, j in found if k.startswith("CORNER-UPPER-R")] == [9, 9]
    assert [j.fasteners for k, j in found if k.startswith("RIM-FRONT-TOP")] == [5, 5]


def test_no_cowling_no_parts() -> None:
    one = family_of(PROBE).models["P1"]
    assert not list(cowling_parts(one, ()))
    assert not list(cowling_joints(one, ()))
    assert not list(cowling_checks(one, ()))


def test_a_nose_behind_the_firewall_is_told() -> None:
    one = model(SAID.replace('nose = "-30 in"', 'nose = "3 in"'))
    with pytest.raises(DesignProblem, match=r"P1 cowling\.nose"):
        list(cowling_parts(one, laid(one)))


@pytest.mark.parametrize(
    ("old", "new", "key", "says"),
    [
        ('firewall = "wall"', 'firewall = "wal"', "firewall", "the nearest known is 'wall'"),
        ('leg = "3/4 in"', 'leg = "0.02 in"', "leg", "more than the angle is thick"),
        ('short = "2 in"', 'short = "11 in"', "short", "leaves nothing"),
        (
            'rear = { half = "10 in", top = "8 in"',
            'rear = { half = "10 in", top = "-11 in"',
            "rear.top",
            "over the bottom",
        ),
        ('front = { half = "10 in"', 'front = { half = "1/2 in"', "front.half", "for the angles"),
        ('nose = "-30 in"', 'nose = "-30"', "nose", "length"),
        ('short = "2 in"', 'short = "2 in"\nfastener = "AN33"', "fastener", "AN3"),
    ],
)
def test_what_is_wrong_is_told(old: str, new: str, key: str, says: str) -> None:
    assert SAID.count(old) == 1
    told(PROBE + SAID.replace(old, new), new.splitlines()[-1], f"models.P1.cowling.{key}", says)
