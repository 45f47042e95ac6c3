"""Where panels meet: blocks by hand, spars in one piece, ranges without a scarf; and what cannot be."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from families import PROBE, problems, reading
from numpy.testing import assert_allclose

from sparwright.base.problem import DesignProblem
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Plate, Straight
from sparwright.plans.cutlist import cut_list

INCH = 0.0254
P1, P2, P3 = "[models.P1.wings.wing]", "[models.P2.wings.upper]", "[models.P3.wings.upper]"
SPLICE = 'splice = { material = "spruce", depth = "1/2 in", reach = "5 in" }'


def saying(words: str, table: str = P1, text: str = PROBE) -> str:
    """The probe with a line put into a wing's table."""
    return text.replace(f"{table}\n", f"{table}\n{words}\n", 1)


def two_webs(text: str) -> str:
    """The first wing's rear spar as a box."""
    return text.replace('webs = 1, cap = { material = "spruce"', 'webs = 2, cap = { material = "spruce"', 1)


def spliced(name: str = "P1") -> Model:
    return reading(saying(SPLICE, P1 if name == "P1" else P3, two_webs(PROBE))).models[name]


def test_blocks_by_hand() -> None:
    """P1, at the kink of 1.5 deg at buttline 24: two blocks of 1-1/4 by 1/2 by 10 in in each spar and side."""
    parts = {p.number: p for p in lay_out(spliced()).parts if p.purpose == "spar splice"}
    assert len(parts) == 2 * 2 * 2 and all(n.split("-")[-2:] == ["24", p.hand] for n, p in parts.items())
    for p in parts.values():
        assert_allclose(p.mass, 1.25 * 0.5 * 10 * INCH**3 * material("spruce").density, rtol=1e-3)
        assert p.count == 1 and abs(abs(p.places[0][1]) - 24 * INCH) < 1e-3
        assert "laminated" in p.note


@pytest.mark.parametrize("name", ["P1", "P3"])
def test_they_touch_caps_and_webs_of_both_panels_and_clash_with_nothing(name: str) -> None:
    assembly = lay_out(spliced(name))
    mine = {p.number for p in assembly.parts if p.purpose == "spar splice"}
    found = measure(assembly)
    assert not [c for c in found.clashes if c.drawn and {c.one, c.other} & mine]
    assert not [a for a in found.apart if "SPLICE" in a.joint or "END-JOINT" in a.joint]
    assert not [n for n in found.adrift if "SPLICE" in n]
    joints = [j for j in assembly.joints if "SPLICE" in j.number]
    assert len(joints) == len(mine) and all(len(j.parts) == 5 for j in joints)
    assert not any("splices" in u for u in assembly.unknowns)
    width, deep, reach = (1.25 if name == "P1" else 1.5), 0.5, 5.0
    assert_allclose([j.area for j in joints], 2 * reach * (width + 2 * deep) * INCH**2, rtol=1e-9)


def test_without_a_word_they_are_told_as_not_drawn() -> None:
    told = lay_out(reading(PROBE).models["P2"]).unknowns
    assert "splices of spars where panels meet (upper)" in told


def test_in_one_piece_a_straight_wing_has_one_spar_from_tip_to_tip() -> None:
    """P2's upper wing, 144 in either way: the same weight, no joint at the meeting, and nothing further apart."""
    apart, one = (lay_out(reading(t).models["P2"]) for t in (PROBE, saying("one_piece = true", P2)))
    cap = one.part("P2-upper-FRONT-UPPER-CAP-centre")
    assert isinstance(cap.shape, Straight) and cap.count == 1
    assert_allclose(cap.shape.length, 288 * INCH, rtol=1e-12)
    web = one.part("P2-upper-FRONT-WEB-centre").shape
    assert isinstance(web, Plate) and np.ptp(web.outline[:, 0]) == pytest.approx(288 * INCH)
    for kind in ("CAP", "WEB", "NOSE-BAR"):
        weigh = [
            sum(p.mass * p.count for p in a.parts if "-upper-" in p.number and kind in p.number) for a in (apart, one)
        ]
        assert_allclose(weigh[1], weigh[0], rtol=1e-9)
    numbers = {p.number for p in one.parts}
    assert not [n for n in numbers if "upper-FRONT" in n and "outer" in n]
    assert all(set(j.parts) <= numbers for j in one.joints)
    found = measure(one)
    assert not [a for a in found.apart if "upper" in a.one] and not [n for n in found.adrift if "upper" in n]
    assert not any("splices" in u for u in one.unknowns)


def test_where_no_scarf_may_lie_is_told_on_the_part() -> None:
    """Twelve depths of cap to either side of each strut: 10-1/2 in for 7/8; and as the file says."""
    zone = 'no_scarf = [{ start = "140 in", end = "150 in", reason = "my reason" }], web = {'
    model = reading(PROBE.replace("web = {", zone, 1)).models["P1"]
    parts = {p.number: p for p in lay_out(model).parts}
    note = parts["P1-wing-FRONT-UPPER-CAP-outer-R"].note
    assert "no scarf from BL 85 1/2″ to 106 1/2″ (lift_front)" in note
    assert "no scarf from BL 140″ to 150″ (my reason)" in note
    assert parts["P1-wing-FRONT-WEB-outer"].note == note
    assert "cabane_front" in parts["P1-wing-FRONT-UPPER-CAP-centre"].note
    assert "my reason" not in parts["P1-wing-REAR-UPPER-CAP-outer-R"].note
    row = next(r for r in cut_list(parts.values()) if r.number == "P1-wing-FRONT-WEB-outer")
    assert row.note == note


def test_blocks_too_deep_are_told() -> None:
    model = spliced()
    wing = model.wings[0]
    assert wing.splice
    deep = replace(wing, splice=replace(wing.splice, depth=0.08))
    with pytest.raises(DesignProblem, match=r"splice\.depth: two blocks of"):
        lay_out(replace(model, wings=(deep,)))


@pytest.mark.parametrize(
    ("text", "key", "says"),
    [
        (saying("one_piece = true"), "models.P1.wings.wing.one_piece", "not in line"),
        (saying(f"one_piece = true\n{SPLICE}", P2), "models.P2.wings.upper.splice", "not both"),
        (saying(SPLICE, P2), "models.P2.wings.upper.spars.front", "two webs and wood"),
        (saying(SPLICE), "models.P1.wings.wing.spars.rear", "two webs and wood"),
        (saying(SPLICE.replace("5 in", "30 in"), P3), "models.P3.wings.upper.splice.reach", "shorter of two panels"),
        (saying(SPLICE.replace("spruce", "sprce"), P3), "models.P3.wings.upper.splice.material", "not a material"),
        (PROBE.replace("web = {", 'no_scarf = [{ start = "9 in", end = "8 in", reason = "x" }], web = {', 1),
         "models.P1.wings.wing.spars.front.no_scarf.0.end", "beyond start"),
        (PROBE.replace("web = {", 'no_scarf = [{ start = "9 in", end = "10 in" }], web = {', 1),
         "models.P1.wings.wing.spars.front.no_scarf.0.reason", "is missing"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told_with_its_key(text: str, key: str, says: str) -> None:
    found = [p for p in problems(text) if p.key == key]
    assert found and says in found[0].wanted, [str(p) for p in problems(text)]
