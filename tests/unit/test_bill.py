"""The bill of materials: sums that must close, prices that are not said, hardware counted from joints, its pages."""

from __future__ import annotations

import csv
import math
from io import StringIO

import numpy as np
import pytest

from sparwright.base.quantity import inches
from sparwright.family.buying import Buying, read_buying
from sparwright.output.bill_csv import BILL, bill_csv, stick_csv
from sparwright.parts.bolts import bolt_for
from sparwright.parts.part import Assembly, Joint, Part, Plate, Skin
from sparwright.plans.bill_page import bill_pages
from sparwright.plans.clash import clashes
from sparwright.plans.paper import TitleBlock
from sparwright.shape.tube import Tube
from sparwright.stock.bill import COVERING, TESTS, bill, item_of, kit_of
from sparwright.stock.hardware import hardware
from sparwright.stock.needs import needs
from sparwright.stock.nests import nests
from sparwright.stock.sticks import stick_lists

TITLE = TitleBlock("Wren", "T1", "Sparwright 0.1.0", "ab" * 32)


def part(
    number, shape=None, form="item", material="bought", stock="bought", count=1, group="fuselage", mass=0.5, **more
):
    return Part(number=number, name=more.pop("name", "thing"), form=form, group=group, purpose="", material=material,
                stock=stock, places=((0.0, 0.0, 0.0),) * count, mass=mass, shape=shape, **more)  # fmt: skip


def tube(number, long, group, count=1):
    shape = Tube(path=np.array([[0.0, 0, 0], [long, 0, 0]]), outside=0.015875, wall=0.000889)
    return part(number, shape, "tube", "4130N", "4130 tube", count, group, mass=0.3267 * long)


def wire(number, long, stock, group="controls"):
    shape = Tube(path=np.array([[0.0, 0, 0], [long, 0, 0]]), outside=0.003, wall=0.0)
    return part(number, shape, "tube", "bought", stock, group=group)


RIB = Plate(outline=np.array([[0, 0], [0.5, 0], [0.5, 0.2], [0, 0.2]]), holes=(), thickness=0.004)
PARTS = (
    tube("A", 1.0, "fuselage", 3),
    tube("B", 0.5, "tail", 2),
    part("R", RIB, "plate", "okoume-ply", "Okoume plywood, 4 mm", 4, "wing upper", 0.2),
    wire("C1", 2.0, "7x19 carbon steel cable, 1/8″"),
    wire("C2", 3.0, "7x19 carbon steel cable, 1/8″", "wing upper"),
    part("W", stock="bought", name="main wheel", count=2, group="gear", mass=3.0),
    part("K", stock="cushioned loop clamp for 1/2″ tube, with AN3, 4 of"),
    part("P", stock="4 AN3-5, self-locking nut, metal to metal or fibre; never used twice"),
    part("Q", Skin(length=1.0, width=0.9, thickness=0.0), "skin", "fabric", "fabric", 2, "tail", 0.4),
)
BOLT = bolt_for("AN3", [("a", 0.003), ("b", 0.002)], "up")
PIN = bolt_for("AN4", [("a", 0.03)], "up", turns=True)


def joint(number, kind, fastener, fasteners, **more):
    return Joint(number=number, kind=kind, parts=("A", "B"), place=(0, 0, 0), primary=True, fastener=fastener,
                 fasteners=fasteners, **more)  # fmt: skip


JOINTS = (
    joint("J1", "bolt", "AN3", 2, count=2, bolt=BOLT),
    joint("J2", "bolt", "AN4", 1, count=3, bolt=PIN),
    joint("J3", "rivet", "blind-steel-1/8", 7),
    joint("J4", "bolt", "unknown", 5),
)
PRICED = """
currency = "crowns"
[[price]]
form = "tube"
material = "4130N"
size = "5/8 in x 0.035 in"
length = "12 ft"
price = 60
[[price]]
form = "item"
item = "7x19 carbon steel cable, 1/8″"
length = "1 m"
price = 4
"""


def made(text=PRICED, parts=PARTS, joints=JOINTS):
    buying = read_buying(text, "x.toml") if text else Buying()
    assembly = Assembly(model="T1", parts=tuple(parts), joints=tuple(joints))
    all_needs = needs(assembly.to_cut)
    return bill(assembly, all_needs, stick_lists(all_needs, buying), nests(all_needs, buying), buying)


def line(found, what):
    (only,) = [x for x in found.lines if x.what == what]
    return only


def test_used_and_left_make_what_is_bought():
    (tubes,) = [x for x in made().lines if x.kind == "tube"]
    assert (tubes.bought, tubes.quantity) == (2, pytest.approx(4.0))
    assert tubes.used == pytest.approx(4.0 / (2 * 3.6576))
    whole = math.pi * 0.000889 * (0.015875 - 0.000889) * 2 * 3.6576 * 7850
    assert tubes.mass + tubes.wasted == pytest.approx(whole, rel=5e-3), "4130 weighs 7,830 to 7,850 kg/m3"
    assert tubes.price == 120


def test_kits_make_up_the_whole_and_share_its_price():
    found = made()
    for x in (x for x in found.lines if x.kind in ("tube", "sheet", "cable", "cloth")):
        own = [k for k in found.kits if k.what == x.what]
        assert sum(k.quantity for k in own) == pytest.approx(x.quantity)
        assert sum(k.mass for k in own) == pytest.approx(x.mass)
        if math.isfinite(x.price):
            assert sum(k.price for k in own) == pytest.approx(x.price)
    by_kit = {k.kit: k for k in found.kits if "tube" in k.what and "loop" not in k.what}
    assert by_kit["fuselage"].price == pytest.approx(120 * 3 / 4) and by_kit["tail"].parts == 2


def test_a_price_that_is_not_said_is_not_nought():
    found = made()
    assert math.isnan(line(found, "main wheel").price) and found.open > 0
    assert found.known == pytest.approx(120 + 4 * 6), "5 m and a tenth more are 6 lengths of a metre"
    bare = made("")
    assert bare.known == 0 and bare.open == len(bare.lines)
    assert math.isnan(line(bare, "7x19 carbon steel cable, 1/8″").bought), "how it is sold is not on file"


def test_hardware_is_counted_from_the_joints():
    counts = {h.name: h.count for h in hardware(Assembly(model="T", parts=PARTS, joints=JOINTS))}
    assert counts[BOLT.stock] == 4 and counts[PIN.stock] == 3
    assert counts["AN3 self-locking nut"] == 4 and counts["AN4 castellated nut"] == counts["cotter for AN4"] == 3
    assert counts["AN3 plain washer"] == 4 * (1 + BOLT.washers)
    assert counts["blind-steel-1/8"] == 7 and counts["not chosen"] == 5
    assert "AN3, in no joint" not in counts, "the parts' four are the joints' four"


def test_bolts_that_no_joint_counts_are_bought_too():
    parts = (*PARTS, part("P2", stock="3 AN3-5; 2 AN6"))
    counts = {h.name: h.count for h in hardware(Assembly(model="T", parts=parts, joints=JOINTS))}
    assert counts["AN3, in no joint"] == 3 and counts["AN6, in no joint"] == 2


@pytest.mark.parametrize(
    ("stock", "name", "much", "unit"),
    [
        ("1x19 steel cable, 1/8″, cut 35 49/64″, pin to pin 3′ 6″", "1x19 steel cable, 1/8″", 35.765625 * 0.0254, "m"),
        ("cable in housing 13/64″, 5′ 9″", "cable in housing 13/64″", 69 * 0.0254, "m"),
        ("no. 20 tin-plated copper, two side by side", "no. 20 tin-plated copper", 4.0, "m"),
        ("loop clamp for 3/4″ tube, with AN3, 3 of", "loop clamp for 3/4″ tube, with AN3", 3, "each"),
        ("bought", "thing", 1, "each"),
    ],
)  # fmt: skip
def test_what_bought_parts_are_and_how_much(stock, name, much, unit):
    found = item_of(wire("X", 2.0, stock))
    assert found == (name, pytest.approx(much), unit)


def test_cloth_by_widths_of_its_roll():
    text = PRICED + '[[price]]\nform = "cloth"\nmaterial = "fabric"\nwidth = "0.5 m"\nlength = "1 m"\nprice = 9\n'
    cloth = line(made(text), "fabric")
    assert cloth.bought == 5, "two pieces of two widths of a metre, a tenth more, in whole metres"
    assert cloth.quantity == pytest.approx(1.8) and cloth.price == 45


def test_kits_by_group():
    assert kit_of(PARTS[8]) == COVERING and kit_of(PARTS[2]) == "wings" and kit_of(PARTS[5]) == "gear"
    assert kit_of(part("W1-test-GLUE-A")) == TESTS and kit_of(part("Z", group="nowhere")) == "other"


def test_a_part_on_no_list_is_told_and_is_no_part_of_the_sticks():
    found = made(parts=(*PARTS, tube("LONG", 9.0, "fuselage")))
    assert any("LONG is" in t for t in found.told)
    assert sum(k.parts for k in found.kits if k.what == "4130N tube 5/8″ × 0.035 in" and k.kit == "fuselage") == 3


def test_csv_has_the_same_figures_and_empty_cells_for_the_unknown():
    found = made()
    rows = list(csv.DictReader(StringIO(bill_csv(found).decode("utf-8"))))
    assert tuple(rows[0]) == BILL and len(rows) == len(found.lines) + len(found.kits) + len(found.told)
    priced = [float(r["price"]) for r in rows if r["kit"] == "all" and r["price"]]
    assert sum(priced) == pytest.approx(found.known)
    assert next(r for r in rows if r["what"] == "main wheel")["price"] == ""
    sticks = stick_lists(needs(PARTS), Buying()).lists
    cut = list(csv.DictReader(StringIO(stick_csv(sticks).decode("utf-8"))))
    assert [r["part"] for r in cut].count("A") == 3 and {r["of"] for r in cut} == {"2"}


@pytest.mark.parametrize("units", ["inch", "millimetre"])
def test_pages_are_clean_and_hold_every_line(units):
    found = made(
        parts=(*PARTS, tube("LONG", 9.0, "fuselage"), *(wire(f"X{i}", 1.0, f"thing no. {i}") for i in range(60)))
    )
    sheets = bill_pages(found, TITLE, units)
    words = [s.content for sheet in sheets for s in sheet.strokes if hasattr(s, "content")]
    assert all(any(x.what.split(" (")[0] in w for w in words) for x in found.lines if len(x.what) < 30)
    assert not [c for sheet in sheets for c in clashes(sheet)]
    assert [s.number for s in sheets] == list(range(1, len(sheets) + 1)) and len(sheets) > 3


def test_what_is_longer_than_its_stock_is_to_be_ordered_with_its_number_and_weight():
    found = made(parts=(*PARTS, tube("LONG-1", 9.0, "fuselage"), tube("LONG-2", 9.0, "fuselage", 2)))
    (order,) = [x for x in found.lines if x.kind == "order"]
    assert order.what.startswith("4130N tube 5/8″ × 0.035 in, in one piece of 29′ 6") and order.note == "LONG-1, LONG-2"
    assert (order.bought, order.sold) == (3, "to order") and math.isnan(order.price)
    assert order.mass == pytest.approx(3 * 0.3267 * 9.0) and order.quantity == pytest.approx(27.0)
    (kit,) = [k for k in found.kits if k.what == order.what]
    assert (kit.kit, kit.parts) == ("fuselage", 3) and kit.mass == pytest.approx(order.mass)
    words = " ".join(s.content for p in bill_pages(found, TITLE, "inch") for s in p.strokes if hasattr(s, "content"))
    assert "To order" in words and "LONG-1" in words


def test_bolts_say_their_grip_and_rivets_by_their_standard_are_rivets():
    parts = (*PARTS, part("RV", stock="36 MS20470AD4", count=2))
    found = {h.name: h for h in hardware(Assembly(model="T", parts=parts, joints=JOINTS))}
    assert found[BOLT.stock].note == f"grip {inches(BOLT.stock_grip)}" and BOLT.stock_grip >= BOLT.grip
    assert found["MS20470AD4, in no joint"].count == 72 and found["MS20470AD4, in no joint"].kind == "rivet"
