"""Nests of parts: grain, splices, what does not fit, what is kept with the design."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sparwright.base.problem import FileProblems
from sparwright.family.buying import Buying, Cutting, read_buying
from sparwright.maths.nesting import laid
from sparwright.output.nest_file import nest_json, nest_path, read_nests
from sparwright.parts.part import Part, Plate, Skin
from sparwright.stock.blanks import blanks
from sparwright.stock.needs import needs
from sparwright.stock.nests import nests


def plate(number, long, wide, count=1, material="okoume-ply", thick=0.004, **more):
    ring = np.array([[0, 0], [long, 0], [long, wide], [0.2 * long, wide]])
    shape = Plate(outline=ring, holes=(), thickness=thick, grain=more.pop("grain", ""))
    return Part(number=number, name="rib", form="plate", group="wing x", purpose="", material=material,
                stock="ply, 4 mm", places=((0.0, 0.0, 0.0),) * count, mass=1.0, shape=shape, **more)  # fmt: skip


def made(*parts, buying=None, kept=None, grains=()):
    return nests(needs(parts, grains), buying or Buying(), kept)


def test_every_copy_lies_on_some_sheet_with_its_grain_along_it():
    (found,) = made(plate("R", 1.1, 0.3, 5), plate("S", 0.2, 0.5, 2)).nests
    placed = [p for s in found.sheets for p in s]
    assert sorted(p.blank.name for p in placed) == ["R"] * 5 + ["S"] * 2
    assert {p.way.turn % 180 for p in placed if p.blank.name == "R"} == {0.0}
    assert {p.way.turn % 180 for p in placed if p.blank.name == "S"} == {90.0}, "its longer side is up"
    assert len(found.sheets) == found.bound == 1 and found.proof == "no nest needs fewer"


@pytest.mark.long
def test_metal_turns_as_it_likes_and_says_less_than_its_bound_only_where_it_is_so():
    metal = plate("M", 1.1, 0.02, 4, material="4130N", thick=0.0016002)
    assert needs([metal])[0].grain is None
    wide = made(plate("R", 1.3, 1.0, 2)).nests[0]
    assert (len(wide.sheets), wide.bound) == (2, 1) and wide.proof == "no nest needs fewer than 1"


def test_a_plate_larger_than_the_sheet_is_told_with_its_number():
    (told,) = made(plate("W9-BIG", 3.0, 0.5)).told
    assert told.part == "W9-BIG" and "nothing says that it may be spliced" in told.sentence
    (told,) = made(plate("W9-WIDE", 2.0, 1.3)).told
    assert "W9-WIDE is" in told.sentence and "does not fit as its grain lies" in told.sentence


def test_a_web_is_spliced_with_scarfs_and_all_its_pieces_are_nested():
    web = plate("WEB", 3.0, 0.2, 2, note="no scarf from BL 20″ to 30″ (strut)", at="BL 0 m to 3 m")
    (found,) = made(web).nests
    names = sorted(p.blank.name for s in found.sheets for p in s)
    assert names == ["WEB 1/2"] * 2 + ["WEB 2/2"] * 2
    spans = sorted({p.blank.span for s in found.sheets for p in s}, key=lambda s: s.piece)
    assert spans[0].end - spans[1].start == pytest.approx(12 * 0.004)
    for p in (p for s in found.sheets for p in s):
        assert np.ptp(p.blank.ring[:, 0]) == pytest.approx(p.blank.span.length * 1000, abs=1e-6)


def test_a_skin_at_45_degrees_lies_at_45_degrees():
    skin = Part(number="W1-wing-SKIN-NOSE", name="skin", form="skin", group="wing x", purpose="", material="birch-ply",
                stock="ply, 1.5 mm", places=((0.0, 0.0, 0.0),), mass=1.0,
                shape=Skin(length=0.8, width=0.4, thickness=0.0015))  # fmt: skip
    (found,) = made(skin, grains=[("W1-wing-SKIN-NOSE", math.pi / 4)]).nests
    assert found.sheets[0][0].way.turn % 90 == pytest.approx(45.0)


def test_unclear_and_unlisted_parts_are_told():
    rubber = plate("PAD", 0.05, 0.05, material="rubber-sheet", thick=0.003)
    assert "no size of rubber-sheet sheet" in made(rubber).told[0].sentence


SIZES = """
[[price]]
form = "sheet"
material = "okoume-ply"
size = "4 mm"
width = "2 ft"
length = "4 ft"
price = 30
[[price]]
form = "sheet"
material = "okoume-ply"
size = "4 mm"
width = "4 ft"
length = "8 ft"
price = 100
"""


def test_the_size_that_costs_least_is_bought():
    buying = read_buying(SIZES, "x.toml")
    few, many = (
        made(plate("R", 1.0, 0.3), buying=buying).nests[0],
        made(plate("R", 1.0, 0.3, 6), buying=buying).nests[0],
    )
    assert few.length == pytest.approx(1.2192) and many.length == pytest.approx(2.4384)
    assert len(many.sheets) * many.price == 100


def test_a_kept_nest_is_taken_and_a_spoilt_one_is_not(tmp_path):
    parts = (plate("R", 1.1, 0.3, 3), plate("S", 0.5, 0.2, 2))
    first = made(*parts)
    path = nest_path(tmp_path / "wren.toml", "W1")
    path.write_bytes(nest_json(first))
    assert path == tmp_path / "wren.nests.W1.json"
    kept = read_nests(path)
    again = made(*parts, kept=kept)
    assert again.nests[0].kept and nest_json(again) == nest_json(first)
    (words,) = kept
    moved = {
        words: tuple(
            tuple((n, w, x, y - (5.0 if i == 0 else 0.0)) for i, (n, w, x, y) in enumerate(s)) for s in kept[words]
        )
    }
    assert not made(*parts, kept=moved).nests[0].kept
    assert not made(*parts, plate("T", 0.1, 0.1), kept=kept).nests[0].kept, "a part more is nested anew"
    assert not made(parts[0], kept=kept).nests[0].kept, "a part fewer is nested anew"
    wider = Buying(cutting=Cutting(sheet_gap=0.2))
    assert not made(*parts, buying=wider, kept=kept).nests[0].kept, "its gap is measured"


@pytest.mark.parametrize(
    "text",
    ["{", "[]", '{"a": 3}', *(f'{{"a": [[["R", {p}]]]}}' for p in ("0, 0, 1, 1", "0, true, 1", "NaN, true, 1, 1"))],
)
def test_a_damaged_file_is_told(tmp_path, text):
    path = tmp_path / "W1.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(FileProblems, match="nested anew"):
        read_nests(path)
    assert read_nests(tmp_path / "none.json") == {}


@pytest.mark.parametrize(("long", "wide"), [(1.27, 1.27), (2.44, 1.22), (1.22, 2.44)])
@pytest.mark.parametrize("degrees", [30.0, 45.0, 90.0])
def test_the_room_of_a_turned_strip(long, wide, degrees):
    part = plate("P", 5.0, 0.3, note="no scarf from BL 0″ to 1″ (x)", at="BL 0 m to 5 m")
    (need,) = needs([part], [("P", math.radians(degrees))])
    pieces, told = blanks([need], long, wide, Buying())
    assert not told and len(pieces) > 1
    sizes = [np.ptp(laid(b.ring, b.ways[0]), axis=0) for b in pieces]
    clear = np.array([long, wide]) * 1000 - 20.0
    assert all(np.all(size <= clear + 1e-6) for size in sizes)
    fewer, scarf = len(pieces) - 1, 12 * 0.004
    longer = plate("P", (5.0 + (fewer - 1) * scarf) / fewer, 0.3)
    (need,) = needs([longer], [("P", math.radians(degrees))])
    assert len(blanks([need], long, wide, Buying(spliced=("P",)))[0]) > 1, "no fewer pieces are each within the sheet"


def test_a_kept_nest_that_no_longer_fits_is_told_with_the_part_and_why():
    parts = (plate("R", 1.1, 0.3, 3), plate("S", 0.5, 0.2, 2))
    kept = {n.stock.words: tuple(tuple((p.blank.name, p.way, p.x, p.y) for p in s) for s in n.sheets)
            for n in made(*parts).nests}  # fmt: skip
    assert made(*parts, kept=kept).anew == ()
    (more,) = made(*parts, plate("T", 0.1, 0.1), kept=kept).anew
    assert more == "okoume-ply sheet 4 mm: new T"
    (less,) = made(parts[0], kept=kept).anew
    assert less == "okoume-ply sheet 4 mm: gone S, S"
    (grown,) = made(plate("R", 1.1, 0.38, 3), parts[1], kept=kept).anew
    assert "okoume-ply sheet 4 mm: R" in grown
    (idle,) = made(plate("R", 1.1, 0.3, thick=0.006), kept=kept).anew
    assert "nothing is cut from it now" in idle
    assert made(*parts).anew == (), "none was kept"


def test_a_kept_nest_that_no_longer_fits_is_told_on_its_sheet():
    from sparwright.plans.nest_sheets import nest_sheets
    from sparwright.plans.paper import TitleBlock

    parts = (plate("R", 1.1, 0.3, 3),)
    kept = {n.stock.words: tuple(tuple((p.blank.name, p.way, p.x, p.y) for p in s) for s in n.sheets)
            for n in made(*parts).nests}  # fmt: skip
    for others, there in (((), False), ((plate("T", 0.1, 0.1),), True)):
        sheets = nest_sheets(made(*parts, *others, kept=kept), Buying(), TitleBlock("T", "T1", "S", "0" * 64))
        words = " ".join(s.content for sheet in sheets for s in sheet.strokes if hasattr(s, "content"))
        assert ("nested anew" in words) is there


def test_a_plate_that_falls_apart_where_it_is_cut_is_told_and_not_cut_short():
    """A C: past its back the piece is two arms without a joint between them."""
    ring = np.array([[0, 0], [3.0, 0], [3.0, 0.1], [0.3, 0.1], [0.3, 0.4], [3.0, 0.4], [3.0, 0.5], [0, 0.5]])
    shape = Plate(outline=ring, holes=(), thickness=0.004, grain="")
    part = Part(number="W9-C", name="c", form="plate", group="wing x", purpose="", material="okoume-ply",
                stock="ply, 4 mm", places=((0.0, 0.0, 0.0),), mass=1.0, shape=shape)  # fmt: skip
    (told,) = made(part, buying=Buying(spliced=("W9-C",))).told
    assert told.part == "W9-C" and "W9-C: cut into 2 pieces" in told.sentence and "piece 2 falls apart" in told.sentence


HALVES = """
[[price]]
form = "sheet"
material = "okoume-ply"
size = "4 mm"
price = 100
[[price]]
form = "sheet"
material = "okoume-ply"
size = "4 mm"
width = "1220 mm"
length = "1220 mm"
price = 60
"""


def test_a_half_sheet_is_weighed_against_the_whole_one_whose_price_has_no_size():
    buying = read_buying(HALVES, "x.toml")
    (few,) = made(plate("R", 1.0, 0.3), buying=buying).nests
    assert (few.length, few.price, len(few.sheets)) == (pytest.approx(1.22), 60, 1)
    (many,) = made(plate("R", 1.0, 0.3, 6), buying=buying).nests
    assert (many.length, many.price, len(many.sheets)) == (pytest.approx(2.44), 100, 1), "two halves would be 120"
    assert many.origin != "the buying file"


def test_a_cheaper_half_sheet_is_not_bought_with_a_joint_more():
    buying = read_buying(HALVES.replace("price = 60", "price = 1"), "x.toml")
    web = plate("WEB", 2.0, 0.2, note="no scarf from BL 20″ to 30″ (strut)", at="BL 0 m to 2 m")
    (found,) = made(web, buying=buying).nests
    assert found.length == pytest.approx(2.44) and found.spliced == ()
