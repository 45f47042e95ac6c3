"""Cut lists of parts: which stock, which lengths, what is told, splices, the buying file."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sparwright.base.problem import FileProblems
from sparwright.base.quantity import inches
from sparwright.family.buying import Buying, Cutting, read_buying
from sparwright.maths.cutting_stock import cut_stock
from sparwright.output.buying_file import load_buying
from sparwright.parts.part import Part, Plate, Skin, Straight
from sparwright.shape.tube import Tube
from sparwright.stock.needs import Stock, needs
from sparwright.stock.splice import TooLarge, forbidden, spans
from sparwright.stock.sticks import stick_lists

INCH = 0.0254


def part(number, shape, form, material, stock, count=1, **more):
    return Part(number=number, name="thing", form=form, group="fuselage", purpose="", material=material, stock=stock,
                places=((0.0, 0.0, 0.0),) * count, mass=1.0, shape=shape, **more)  # fmt: skip


def tube(number, long, count=1, outside=0.015875):
    shape = Tube(path=np.array([[0.0, 0, 0], [long, 0, 0]]), outside=outside, wall=0.000889)
    return part(number, shape, "tube", "4130N", "4130 tube", count)


def bar(number, long, stock="Sitka spruce, 1 1/2″ x 1″", material="spruce", **more):
    shape = Straight(start=(0, 0, 0), end=(long, 0, 0), section=stock.rpartition(", ")[2], rings=np.zeros((2, 4, 3)))
    return part(number, shape, "bar", material, stock, **more)


def test_a_list_names_every_piece_and_keeps_kerf_and_trim():
    buying = Buying(cutting=Cutting(saw_kerf=0.003, end_trim=0.005))
    (found,) = stick_lists(needs([tube("A", 1.2, 3), tube("B", 0.9, 4)]), buying).lists
    assert found.stock == Stock("tube", "4130N", (0.015875, 0.000889)) and found.length == pytest.approx(144 * INCH)
    names = sorted(c.part for s in found.sticks for c in s.cuts)
    assert names == ["A"] * 3 + ["B"] * 4
    for stick in found.sticks:
        used = sum(c.length for c in stick.cuts) + (len(stick.cuts) - 1) * 0.003 + 0.005
        assert stick.left == pytest.approx(found.length - used, abs=1e-6) and stick.left >= 0.005 - 1e-9
    assert found.proof == "proved least" and len(found.sticks) == 2


def test_a_stick_just_long_enough_and_one_tenth_too_short():
    clear = 144 * INCH - 2 * 0.006
    assert not stick_lists(needs([tube("A", clear - 1e-5)]), Buying()).told
    (told,) = stick_lists(needs([tube("W1-LONG", clear + 1e-3)]), Buying()).told
    assert told.part == "W1-LONG" and told.sentence.startswith("W1-LONG is ") and "may be spliced" in told.sentence


def test_a_stock_without_a_length_on_file_is_told():
    shape = Tube(path=np.array([[0.0, 0, 0], [1, 0, 0]]), outside=0.02, wall=0.001)
    found = stick_lists(needs([part("P", shape, "tube", "ash", "ash tube")]), Buying())
    assert not found.lists and "no length of ash tube" in found.told[0].sentence


OFFERS = """
currency = "crowns"
[[price]]
form = "tube"
material = "4130N"
size = "5/8 in x 0.035 in"
length = "6 ft"
price = 20
[[price]]
form = "tube"
material = "4130N"
size = "5/8 in x 0.035 in"
length = "20 ft"
price = 90
"""


def test_of_several_lengths_the_cheapest_is_taken():
    buying = read_buying(OFFERS, "x.toml")
    (short,) = stick_lists(needs([tube("A", 1.7, 3)]), buying).lists
    assert (short.length, short.price, len(short.sticks)) == (pytest.approx(72 * INCH), 20, 3)
    dear = read_buying(OFFERS.replace("price = 20", "price = 50"), "x.toml")
    (long,) = stick_lists(needs([tube("A", 1.7, 3)]), dear).lists
    assert (long.length, len(long.sticks)) == (pytest.approx(240 * INCH), 1)
    (only,) = stick_lists(needs([tube("A", 1.9, 3)]), buying).lists
    assert only.length == pytest.approx(240 * INCH), "the one that holds the part, whatever it costs"


def test_another_wall_has_no_offer_and_a_price_left_out_is_unknown():
    buying = read_buying(OFFERS.replace("price = 20\n", ""), "x.toml")
    assert math.isnan(buying.offers[0].price)
    assert buying.for_stock("tube", "4130N", (0.015875, 0.001245)) == ()


ZONED = "no scarf from BL 24″ to 27″ (brace); no scarf from BL 90″ to 120″ (lift)"


def test_wood_that_names_where_no_scarf_may_lie_is_spliced_elsewhere():
    long = 168 * INCH
    (need,) = needs([bar("CAP", long, note=ZONED, at="BL 24″ to 192″")])
    zones = forbidden(need)
    assert np.array(zones) == pytest.approx(np.array([(0, 3), (66, 96)]) * INCH)
    found = spans(need, 2.4, Buying(), 0.0254)
    scarf = 12 * 0.0254
    assert [s.piece for s in found] == [1, 2, 3] and found[-1].end == long
    assert sum(s.length for s in found) == pytest.approx(long + 2 * scarf)
    for a, b in zip(found, found[1:], strict=False):
        assert a.end - b.start == pytest.approx(scarf) and a.length <= 2.4 + 1e-9
        assert all(a.end <= low + 1e-9 or b.start >= high - 1e-9 for low, high in zones)


def test_a_zone_as_long_as_the_stick_leaves_no_place():
    (need,) = needs([bar("CAP", 3.0, note="no scarf from BL 0″ to 118″ (lift)", at="BL 0″ to 118″")])
    found = spans(need, 2.0, Buying(), 0.02)
    assert isinstance(found, TooLarge) and "no place for a scarf" in found.sentence


def test_both_halves_of_a_part_over_the_middle_have_the_zone():
    (need,) = needs([bar("CAP", 2.0, note="no scarf from BL 0.5 m to 0.7 m (strut)", at="BL 0 m to 1 m")])
    assert np.array(forbidden(need)) == pytest.approx(np.array([(0.3, 0.5), (1.5, 1.7)]))


def test_metal_and_silent_wood_are_spliced_only_by_the_buying_file():
    metal = needs([bar("CAP", 3.0, "Aluminium, 1″ x 3/16″", "6061-T6", note=ZONED, at="BL 24″ to 192″")])[0]
    silent = needs([bar("STRIP", 3.0)])[0]
    assert all(isinstance(spans(n, 2.0, Buying(), 0.01), TooLarge) for n in (metal, silent))
    said = Buying(spliced=("CAP", "STR"))
    edge_to_edge = spans(metal, 2.0, said, 0.01)
    assert edge_to_edge[0].end == edge_to_edge[1].start
    assert spans(silent, 2.0, said, 0.01)[0].end - spans(silent, 2.0, said, 0.01)[1].start == pytest.approx(0.12)


@pytest.mark.parametrize(
    ("stock", "section", "note", "long", "wide", "thick"),
    [
        ("Steel, 0.040 in, 1 1/2″ x 2 3/4″, bent", "1 1/2″ strap", "", 2.75, 1.5, 0.040),
        ("Aluminium, 0.032 in, bent to 3″ x 5/8″, radius 3/32″", "3″ x 5/8″", "", 10 / 0.254, 4.25, 0.032),
        ("Aluminium, 0.032 in, angle 5/8″ x 1/2″", "5/8″ x 1/2″", "", 10 / 0.254, 1.125, 0.032),
        ("Aluminium, 0.063 in, folded", "3/4″ x 0.063 in", "both legs 3/4″, 83 deg", 10 / 0.254, 1.5, 0.063),
        ("Aluminium, 0.032 in, folded", "4″ x 0.032 in", "flat 4″ long, 5″ wide at the front, 6″ at the back",
         4, 6, 0.032),
    ],
)  # fmt: skip
def test_strips_of_sheet_are_laid_flat(stock, section, note, long, wide, thick):
    shape = Straight(start=(0, 0, 0), end=(1.0, 0, 0), section=section, rings=np.zeros((2, 4, 3)))
    (need,) = needs([part("P", shape, "bar", "6061-T6", stock, note=note)])
    assert need.stock.form == "sheet"
    assert (need.length, need.width, need.stock.size[0]) == pytest.approx((long * INCH, wide * INCH, thick * INCH))


def test_folded_without_its_flat_width_is_unclear():
    shape = Straight(start=(0, 0, 0), end=(1.0, 0, 0), section="1″ x 0.063 in", rings=np.zeros((2, 4, 3)))
    (need,) = needs([part("P", shape, "bar", "6061-T6", "Aluminium, 0.063 in, folded")])
    assert need.stock.form == "unclear" and need.why


def test_a_foot_is_laid_out_beyond_its_edge_and_a_skin_of_glass_is_cloth():
    from sparwright.parts.part import Foot

    square = np.array([[0, 0], [0.1, 0], [0.1, 0.05], [0, 0.05]])
    footed = Plate(outline=square, holes=(), thickness=0.001, foot=Foot(start=(0.0, 0.0), end=(0.1, 0.0), height=0.02))
    (need,) = needs([part("P", footed, "plate", "4130N", "Steel, 0.040 in")])
    assert np.ptp(need.outline, axis=0) == pytest.approx([0.1, 0.05 + 0.021])
    assert need.grain is None
    (skin,) = needs([part("S", Skin(length=2.0, width=0.5, thickness=0.0004), "skin", "glass-epoxy", "glass")])
    assert skin.stock.form == "cloth"


def test_the_design_turns_the_face_grain():
    square = np.array([[0, 0], [0.4, 0], [0.4, 0.05], [0, 0.05]])
    plain = part(
        "W1-wing-REAR-WEB-outer", Plate(outline=square, holes=(), thickness=0.003), "plate", "birch-ply", "ply, 3 mm"
    )
    assert needs([plain])[0].grain == 0.0
    assert needs([plain], [("W1-wing-REAR-WEB", 1.5)])[0].grain == 1.5


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ('[[price]]\nform = "tub"', "price.form"),
        ('[[price]]\nform = "tube"\nmaterial = "4130N"\nsize = "5/8 in"', "price.size"),
        ('[[price]]\nform = "sheet"\nmaterial = "m"\nlength = "long"', "price.length"),
        ('[[price]]\nform = "item"\nprice = 3', "price.item"),
        ('[[price]]\nform = "item"\nitem = "x"\nprice = -3', "price.price"),
        ('[[price]]\nform = "item"\nitem = "x"\ncolour = "red"', "price.colour"),
        ('[cutting]\nsaw_kerf = 3', "cutting.saw_kerf"),
        ('[cutting]\nblade = "3 mm"', "cutting.blade"),
        ('prices = 3', "prices"),
        ('spliced = "CAP"', "spliced"),
    ],
)  # fmt: skip
def test_faults_of_the_buying_file_name_their_key(text, key):
    with pytest.raises(FileProblems) as told:
        read_buying(text, "w.buying.toml")
    assert [p.key for p in told.value.problems] == [key]


def test_a_family_without_a_buying_file_has_the_plain_one(tmp_path):
    assert load_buying(tmp_path / "wren.toml") == Buying()
    (tmp_path / "wren.buying.toml").write_text('[cutting]\nsaw_kerf = "1/8 in"\nrelief = false\n', encoding="utf-8")
    said = load_buying(tmp_path / "wren.toml").cutting
    assert said.saw_kerf == pytest.approx(0.003175) and said.relief is False


def test_lengths_that_cannot_be_cut_are_refused():
    with pytest.raises(ValueError, match="no more than the stick"):
        cut_stock([5], [1], 4)
    with pytest.raises(ValueError, match="once or more"):
        cut_stock([3], [0], 4)
    assert cut_stock([], [], 4).sticks == 0


@settings(max_examples=150, deadline=None)
@given(
    st.floats(2.1, 12.0), st.floats(0.0, 0.3), st.lists(st.tuples(st.floats(0, 12), st.floats(0.05, 0.8)), max_size=3)
)
def test_pieces_are_as_few_as_can_be_each_holds_and_none_is_a_sliver(long, scarf, zones):
    from sparwright.stock.splice import SHORTEST, _middles, _no_sliver

    room, shut = 2.0, [(a, a + b) for a, b in zones]
    greedy = _middles(long, room, scarf, shut)
    if greedy is None:
        return
    middles = _no_sliver(greedy, long, room, scarf, shut)
    edges = [0.0, *(m - scarf / 2 for m in middles)], [*(m + scarf / 2 for m in middles), long]
    assert len(middles) == len(greedy), "no more pieces than the longest ones take"
    assert all(b - a <= room + 1e-6 for a, b in zip(*edges, strict=True))
    assert all(m + scarf / 2 <= a + 1e-6 or m - scarf / 2 >= b - 1e-6 for m in middles for a, b in shut)
    assert all(b - a >= scarf - 1e-6 for a, b in pairwise(middles))
    if not shut:
        pieces = [b - a for a, b in zip(*edges, strict=True)]
        assert min(pieces) >= min(max(SHORTEST, 3 * scarf), max(pieces)) - 1e-6


def test_a_part_in_pieces_is_drawn_with_its_joints_lettered_and_told():
    from sparwright.plans.clash import clashes
    from sparwright.plans.paper import TitleBlock
    from sparwright.plans.stick_sheets import stick_sheets

    cap = bar("W9-CAP", 250 * INCH, note=ZONED, at="BL 24″ to 274″")
    metal = bar("W9-TUBE", 5.0, "Aluminium, 1″ x 3/16″", "6061-T6")
    buying = Buying(spliced=("W9-TUBE",))
    found = stick_lists(needs([cap, metal]), buying)
    (wood,) = [s for x in found.lists for s in x.spliced if s.need.part.number == "W9-CAP"]
    sheets = stick_sheets(found, buying, TitleBlock("T", "W9", "S", "0" * 64))
    words = " ".join(s.content for sheet in sheets for s in sheet.strokes if hasattr(s, "content"))
    assert f"P: middle {inches(wood.middles[0])}" in words and "from its end at BL 24″" in words
    assert "scarf 12 : 1 through 1″ = 25.4 mm, 12″ = 304.8 mm long" in words
    assert "CAP 1/2 joint P" in words and "CAP 2/2 joint P" in words and "no scarf: 0″ = 0 mm to 3″" in words
    assert "edge to edge, splice plates not drawn" in words and "Do not build it so" in words
    slanted = [s for sheet in sheets for s in sheet.strokes
               if hasattr(s, "start") and abs(abs(s.end[1] - s.start[1]) - 8.0) < 1e-6 and s.end[0] > s.start[0]
               and s.layer == "cut"]  # fmt: skip
    (scarf,) = slanted
    scale = (scarf.end[0] - scarf.start[0]) / (12 * INCH)
    assert any(abs(scale - 1000 / k) < 1e-6 for k in (2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20, 24, 30)), "to scale"
    assert not [c for sheet in sheets for c in clashes(sheet)]


def test_metal_that_no_stock_holds_is_told_with_what_to_do():
    (told,) = stick_lists(needs([bar("W2-CAP", 7.9, "Aluminium, 1″ x 3/16″", "6061-T6")]), Buying()).told
    assert (
        told.sentence.startswith("W2-CAP is 25′ 11") and "order it in one piece, or ask the designer" in told.sentence
    )


def test_a_price_without_a_length_is_that_of_the_length_on_file():
    whole = '[[price]]\nform = "tube"\nmaterial = "4130N"\nsize = "5/8 in x 0.035 in"\nprice = 30\n'
    half = whole.replace("price = 30", 'length = "6 ft"\nprice = 20')
    (few,) = stick_lists(needs([tube("A", 1.7)]), read_buying(whole + half, "x.toml")).lists
    (many,) = stick_lists(needs([tube("A", 1.7, 2)]), read_buying(whole + half, "x.toml")).lists
    assert (few.price, len(few.sticks)) == (20, 1) and (many.price, len(many.sticks)) == (30, 1)


def test_a_letter_points_into_a_piece_and_not_at_a_cut():
    from sparwright.plans.drawing import Line
    from sparwright.plans.stick_sheets import _bar, lettered_stick

    (found,) = stick_lists(needs([tube("A", 1.2, 2)]), Buying()).lists
    (letter,) = lettered_stick(found.sticks[0].cuts, Buying())
    lines = [s for s in _bar((letter,), found.length * 100, 10, "x") if isinstance(s, Line)]
    (leader,) = [s for s in lines if s.layer == "mark"]
    assert leader.end[0] == pytest.approx((0.006 + 0.6) * 100)
    assert all(abs(s.start[0] - leader.end[0]) > 5 for s in lines if s.layer == "cut")
