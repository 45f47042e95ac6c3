"""Sheets that were measured: cut for it, strong as the lower, bought as sold; the nominal one changes nothing."""

from __future__ import annotations

import demo
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sparwright.base.problem import DesignProblem, FileProblems
from sparwright.family.measured_sheets import MeasuredSheet, at_strength, thicknesses, with_sheets
from sparwright.family.model import Family
from sparwright.family.reader import read
from sparwright.output.svg import svg
from sparwright.parts.from_measured import counted_in, measured_results
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Part, Plate
from sparwright.plans.paper import TitleBlock
from sparwright.plans.templates import templates
from sparwright.stock.needs import needs

TEXT = demo.WHINCHAT.read_text("utf-8")
TITLE = TitleBlock("Whinchat", "W1", "x", "0" * 64)
OKOUME = ("okoume-ply", "4 mm", 0.004)


def family(*rows: tuple[str, str, str]) -> Family:
    """The demo with sheets measured."""
    said = (f'\n[[measured_sheets]]\nmaterial = "{m}"\nthickness = "{t}"\nmeasured = "{x}"\n' for m, t, x in rows)
    return read((TEXT + "".join(said)).encode(), "x.toml")


def parts_of(found: Family) -> dict[str, Part]:
    """Parts of W1 by number."""
    return {p.number: p for p in lay_out(found.models["W1"]).parts}


def drawn(found: Family, number: str) -> bytes:
    """The sheets with one rib's template, as SVG."""
    return b"".join(svg(s) for s in templates([parts_of(found)[number]], "24x36", TITLE))


def test_measured_as_nominal_changes_nothing() -> None:
    same = family(("okoume-ply", "4 mm", "4 mm"), ("birch-ply", "3 mm", "3 mm"))
    assert [p for p in parts_of(same).values() if p.measured] == [] and not measured_results(same.models["W1"])
    assert drawn(same, "W1-wing-RIB-24") == drawn(demo.whinchat(), "W1-wing-RIB-24")
    assert set(thicknesses(same.models["W1"])) == set(thicknesses(demo.whinchat().models["W1"]))


def test_a_thinner_sheet_is_cut_and_counted_as_measured_and_bought_as_sold() -> None:
    found = family(("okoume-ply", "4 mm", "3.8 mm"))
    before, after = parts_of(demo.whinchat()), parts_of(found)
    rib = after["W1-wing-RIB-24"]
    assert isinstance(rib.shape, Plate) and rib.shape.thickness == pytest.approx(0.0038, abs=1e-9)
    assert rib.stock == before[rib.number].stock and rib.mass == pytest.approx(0.95 * before[rib.number].mass, rel=1e-9)
    assert "cut for a measured 3.8 mm (nominal 4 mm)" in rib.note
    assert b"Cut for a measured 3.8 mm (nominal 4 mm)" in drawn(found, rib.number)
    assert needs([rib])[0].stock == needs([before[rib.number]])[0].stock
    assert at_strength(found.models["W1"]) is found.models["W1"]
    (told,) = measured_results(found.models["W1"])
    assert told.value == pytest.approx(0.0038) and told.steps[0].value == pytest.approx(0.0038)


def test_slots_follow_the_web_that_was_measured() -> None:
    before, after = parts_of(demo.whinchat()), parts_of(family(("birch-ply", "3 mm", "2.7 mm")))
    one, other = (p["W1-wing-RIB-24"].shape for p in (before, after))
    assert isinstance(one, Plate) and isinstance(other, Plate)
    assert _slots(one) != pytest.approx(_slots(other), abs=1e-5)


def _slots(plate: Plate) -> float:
    """How much of the rib is cut away: its outline less its holes."""
    import shapely

    return float(shapely.Polygon(plate.outline, plate.holes).area)


def test_a_thicker_sheet_is_no_stronger() -> None:
    found = family(("birch-ply", "3 mm", "3.2 mm"))
    (web,) = (s.web for s in found.models["W1"].wing("wing").spars if s.name == "front")
    (counts,) = (s.web for s in at_strength(found.models["W1"]).wing("wing").spars if s.name == "front")
    assert (web.thickness, counts.thickness) == (pytest.approx(0.0032), pytest.approx(0.003))


@settings(max_examples=12, deadline=None)
@given(st.floats(-0.4, 0.4))
def test_only_what_is_near_its_stock_is_taken(off: float) -> None:
    measured = f"{4 * (1 + off):.4f} mm"
    if abs(float(measured.split()[0]) / 4 - 1) <= 0.15:
        with_sheets(demo.whinchat(), [f"okoume-ply 4 mm = {measured}"])
        return
    with pytest.raises(DesignProblem, match="must lie within 15% of the nominal, 3\\.4 mm to 4\\.6 mm"):
        with_sheets(demo.whinchat(), [f"okoume-ply 4 mm = {measured}"])


def test_what_cannot_be_is_refused_in_a_sentence() -> None:
    with pytest.raises(FileProblems, match="must lie within 15% of the nominal 4 mm"):
        family(("okoume-ply", "4 mm", "3.3 mm"))
    with pytest.raises(FileProblems, match="is a thickness of okoume-ply that no model is cut from"):
        family(("okoume-ply", "5 mm", "4.9 mm"))
    with pytest.raises(FileProblems, match="is measured twice"):
        family(("okoume-ply", "4 mm", "3.9 mm"), ("okoume-ply", "4 mm", "3.8 mm"))
    for said, words in (("oak 4 mm = 3 mm", "is no material we know"), ("okoume-ply 4 mm", "is empty"),
                        ("okoume-ply 5 mm = 4.9 mm", "no part is cut from okoume-ply of 5 mm")):  # fmt: skip
        with pytest.raises(DesignProblem, match=words):
            with_sheets(demo.whinchat(), [said])


def test_the_builders_sheet_is_the_designers() -> None:
    mine = with_sheets(demo.whinchat(), ["okoume-ply 4 mm = 3.8 mm"])
    theirs = family(("okoume-ply", "4 mm", "3.8 mm"))
    assert mine.models["W1"].wings == theirs.models["W1"].wings
    assert mine.sha256 != demo.whinchat().sha256 and with_sheets(demo.whinchat(), []) is demo.whinchat()


def test_the_working_of_a_check_says_what_is_counted() -> None:
    from sparwright.base.check import Check

    sheet = MeasuredSheet(material="okoume-ply", thickness=0.004, measured=0.0043)
    found = family(("okoume-ply", "4 mm", "4.3 mm"))
    part = parts_of(found)["W1-wing-RIB-24"]
    assert part.measured == sheet
    told, other = counted_in([Check("a", "a", 0.0, 0.0, part=part.number), Check("b", "b", 0.0, 0.0)], [part])
    assert told.steps[-1].value == pytest.approx(0.004) and "lower of nominal and measured" in told.steps[-1].formula
    assert not other.steps
