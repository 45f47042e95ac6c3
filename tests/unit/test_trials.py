"""Test pieces: one for each sort of joint and laminate, cut from the stock of real joints; not in the weight."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from families import PROBE, problems, reading
from numpy.testing import assert_allclose

from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.mass.weigh import weigh
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Joint, Part, Plate, Straight, TestPiece, Tube
from sparwright.parts.trials import trial_pieces as pieces_of
from sparwright.parts.trials import tried_check
from sparwright.plans.cutlist import cut_list
from sparwright.shape.solid import as_place

INCH = 0.0254
ALL = """
[test_pieces]
glue = { length = "4 in", width = "1-1/2 in", count = 3 }
bond = { length = "6 in", width = "1-1/2 in", count = 3 }
weld = { length = "3 in", width = "2 in", count = 2 }
lay_up = { length = "8 in", width = "8 in", count = 2 }
"""
NO_WELD = ALL.replace('weld = { length = "3 in", width = "2 in", count = 2 }\n', "")


def model(name: str, said: str = ALL) -> Model:
    return reading(PROBE + said).models[name]


def pieces(name: str) -> dict[str, TestPiece]:
    return {p.number: p for p in lay_out(model(name)).test_pieces}


def tube(number: str, outside: float, wall: float) -> Part:
    """A welded tube, sizes in inches."""
    path = np.array([(0.0, 0.0, 0.0), (0.5, 0.0, 0.0)])
    shape = Tube(path=path, outside=outside * INCH, wall=wall * INCH, section=f"{outside} x {wall}")
    return Part(number=number, name="tube", form="tube", group="fuselage", purpose="tube", material="4130N",
                stock="as bought", places=((0.0, 0.0, 0.0),), mass=1.0, shape=shape)  # fmt: skip


def weld(a: str, b: str) -> Joint:
    return Joint(number=f"{a}-{b}", kind="weld", parts=(a, b), place=as_place([0.0, 0.0, 0.0]), primary=True)


def test_every_joint_that_can_be_tried_is_stood_for_once() -> None:
    """Each joint by glue, bond or weld between things cut from stock is in one piece at least; no other is."""
    for name in ("P1", "P2", "P3"):
        assembly = lay_out(model(name))
        stood = {n for p in assembly.test_pieces for n in p.stands_for}
        kinds = {j.number: j.kind for j in assembly.joints}
        assert {kinds[n] for n in stood if n in kinds} <= {"glue", "bond", "weld"}
        assert stood - set(kinds) <= {p.number for p in assembly.parts}  # laminates stand for parts
        assert len(assembly.test_pieces) == len({p.number for p in assembly.test_pieces}) > 1


def test_glue_is_told_apart_by_its_two_woods() -> None:
    found = [p for p in pieces("P1").values() if p.kind == "glue"]
    for p in found:
        a, b = p.halves
        assert {material(h.material).kind for h in p.halves} <= {"wood", "plywood"}
        assert a.count == b.count == 3 and a.purpose == "test piece"
        for h in p.halves:
            if isinstance(h.shape, Plate):
                wide, deep = h.shape.outline.max(axis=0) - h.shape.outline.min(axis=0)
                assert_allclose((wide, deep), (4 * INCH, 1.5 * INCH))
                volume = 4 * 1.5 * INCH**2 * h.shape.thickness
                assert_allclose(h.mass, volume * material(h.material).density, rtol=1e-9)
            else:
                assert isinstance(h.shape, Straight)
                assert_allclose(h.shape.length, 4 * INCH)
    assert len({tuple(h.material for h in p.halves) for p in found}) == len(found) > 1


def test_a_bar_keeps_the_section_of_the_cap_it_stands_for() -> None:
    """P1's caps are 1-1/4 wide; half of the piece of spruce to plywood is a length of one."""
    found = next(p for p in pieces("P1").values() if p.kind == "glue" and "SPRUCE" in p.number and "BIRCH" in p.number)
    bar = next(h for h in found.halves if h.material == "spruce")
    assert isinstance(bar.shape, Straight)
    x, y, z = (float(v) for v in bar.shape.solid().box[1] - bar.shape.solid().box[0])
    assert f"{x / INCH:.2f}" == "4.00" and bar.stock.startswith(material("spruce").title)
    assert_allclose(bar.mass, x * y * z * material("spruce").density, rtol=1e-9)
    assert {p.shape.section for p in lay_out(model("P1")).parts if isinstance(p.shape, Straight)} & {bar.shape.section}


def test_a_weld_is_told_apart_by_its_thinner_wall_and_tried_on_the_thickest_it_meets() -> None:
    thin, like, thick = tube("T", 0.5, 0.035), tube("L", 0.75, 0.035), tube("K", 1.0, 0.125)
    joints = [weld("T", "L"), weld("L", "T"), weld("T", "K"), weld("K", "K")]
    found = pieces_of(model("P1"), [thin, like, thick], joints)
    assert [p.number for p in found] == ["P1-test-WELD-4130N-035", "P1-test-WELD-4130N-125"]
    walls = [sorted(round(h.shape.wall / INCH, 3) for h in p.halves if isinstance(h.shape, Tube)) for p in found]
    assert walls == [[0.035, 0.125], [0.125, 0.125]]
    assert found[0].stands_for == ("T-L", "L-T", "T-K")
    for half in found[0].halves:
        assert isinstance(half.shape, Tube)
        assert_allclose(half.shape.length, 3 * INCH)


def test_a_panel_of_each_laminate() -> None:
    (panel,) = (p for p in pieces("P3").values() if p.kind == "lay_up")
    (half,) = panel.halves
    assert isinstance(half.shape, Plate) and half.count == 2
    assert_allclose(half.mass, (8 * INCH) ** 2 * half.shape.thickness * material(half.material).density)


def test_they_are_in_the_cut_list_and_not_in_the_weight() -> None:
    with_, without = model("P1"), replace(model("P1"), test_pieces=None)
    assembly, bare = lay_out(with_), lay_out(without)
    assert assembly.parts != () and [p.number for p in assembly.parts] == [p.number for p in bare.parts]
    assert weigh(with_, assembly).empty == weigh(without, bare).empty
    rows = {r.number: r for r in cut_list(assembly.to_cut) if r.group == "test"}
    assert len(rows) == sum(len(p.halves) for p in assembly.test_pieces) and len(rows) < len(assembly.to_cut)
    assert all(r.count > 1 and r.length > 0 and r.stock for r in rows.values())


def test_a_kind_left_out_is_told_with_what_lacks() -> None:
    spoiled = model("P1", NO_WELD)
    told = tried_check(spoiled, lay_out(spoiled))
    assert told.verdict == "fail" and "weld of" in told.caveat and "glue of" not in told.caveat
    whole = tried_check(model("P1"), lay_out(model("P1")))
    assert whole.verdict == "pass" and whole.steps
    none = replace(model("P1"), test_pieces=None)
    assert tried_check(none, lay_out(none)).verdict == "unknown"


@pytest.mark.parametrize(
    ("bad", "key"),
    [("count = 3 }\nbond", "test_pieces.glue.count"), ('length = "4 in"', "test_pieces.glue.length")],
)
def test_bad_sizes_are_told_at_their_key(bad: str, key: str) -> None:
    worse = bad.replace("3", "0") if "count" in bad else 'length = "0 in"'
    found = problems(PROBE + ALL.replace(bad, worse, 1))
    assert [p.key for p in found] == [key]
