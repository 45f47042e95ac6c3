"""What runs into what, what does not touch, what is loose: by hand on blocks, on the demo family and spoilt copies."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from families import without_stouter
from numpy.testing import assert_allclose

from sparwright.base.check import Check
from sparwright.family.model import Family, Model
from sparwright.family.reader import read
from sparwright.family.writer import set_value
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import DEPTH, Measured, measure
from sparwright.parts.part import Assembly, Joint, Part, Plate, Straight
from sparwright.parts.told import part_checks
from sparwright.shape.solid import Pose, Solid, between
from sparwright.shape.tube import Tube

FILE = Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml"
RING = np.array([[0, 0, 0], [0.1, 0, 0], [0.1, 0, 0.1], [0, 0, 0.1]])


def bar(number: str, station: float, start: float = 0.0, end: float = 1.0) -> Part:
    """A square bar, 0.1 m, along the span from one buttline to another."""
    rings = np.array([RING + (station, start, 0), RING + (station, end, 0)])
    return Part(
        number=number, name=number, form="bar", group="g", purpose="spar cap", material="spruce", stock="",
        places=((station + 0.05, (start + end) / 2, 0.05),), mass=1.0,
        shape=Straight(start=(0, 0, 0), end=(0, 1, 0), section="", rings=rings),
    )  # fmt: skip


def joint(number: str, *parts: str, **more: object) -> Joint:
    return Joint(number=number, kind="glue", parts=parts, place=(0.1, 0.5, 0.05), primary=True, **more)  # type: ignore[arg-type]


def measured(parts: tuple[Part, ...], *joints: Joint) -> Measured:
    return measure(Assembly(model="M", parts=parts, joints=joints))


def test_bars_side_by_side_touch_and_do_not_clash() -> None:
    found = measured((bar("A", 0.0), bar("B", 0.1)), joint("J", "A", "B"))
    assert (found.clashes, found.apart, found.loose, found.bodies) == ((), (), (), 2)


def test_a_bar_in_another_by_hand() -> None:
    """1 cm deep, 1 m long, 0.1 m high: V = 1e-3 m3, A = 2 (0.01 + 0.001 + 0.1) = 0.222 m2, depth 9.009 mm."""
    clash = measured((bar("A", 0.0), bar("B", 0.09)), joint("J", "A", "B")).clashes[0]
    assert (clash.one, clash.other, clash.drawn) == ("A", "B", True)
    assert_allclose((clash.volume, clash.depth), (1e-3, 2e-3 / 0.222), rtol=1e-5)
    assert_allclose(clash.place, (0.095, 0.5, 0.05), rtol=0, atol=1e-6)
    assert not measured((bar("A", 0.0), bar("B", 0.1 - DEPTH / 2)), joint("J", "A", "B")).clashes


def test_a_gap_is_measured_and_a_loose_part_named() -> None:
    parts = (bar("A", 0.0), bar("B", 0.101), bar("C", 0.5))
    found = measured(parts, joint("J", "A", "B"))
    assert_allclose(found.apart[0].gap, 1e-3, rtol=1e-4)
    assert found.loose == ("C",)
    assert np.isinf(measured(parts, joint("J", "A", "C")).apart[0].gap)
    assert not measured(parts, joint("J", "A", "C", through="unknown")).apart


def test_at_an_end_whose_fitting_is_not_drawn_a_clash_is_told_apart() -> None:
    rod = replace(
        bar("R", 0.0),
        form="tube",
        shape=Tube(path=np.array([[0.05, 0.5, 0.05], [0.05, 0.5, 3.0]]), outside=0.03, wall=0),
    )
    end = replace(joint("J", "A", "R", through="unknown"), place=(0.05, 0.5, 0.05))
    assert [c.drawn for c in measured((bar("A", 0.0), rod), end).clashes] == [False]
    assert [c.drawn for c in measured((bar("A", 0.0), rod), joint("J", "A", "R")).clashes] == [True]
    far = replace(end, place=(0.05, 0.5, 3.0))
    assert [c.drawn for c in measured((bar("A", 0.0), rod), far).clashes] == [True]


def test_what_is_on_the_left_as_on_the_right_is_told_once_and_fabric_not_at_all() -> None:
    both = [replace(bar(n, x, 0.5, 1.5), places=((x + 0.05, 1.0, 0.05), (x + 0.05, -1.0, 0.05))) for n, x in
            (("A", 0.0), ("B", 0.09))]  # fmt: skip
    found = measured(tuple(both))
    assert len(found.clashes) == 1 and found.clashes[0].place[1] > 0 and found.bodies == 4


def changed(key: str, value: str, model: str, text: str = "") -> Model:
    text = set_value(text or FILE.read_text(encoding="utf-8"), key, value)
    return read(text.encode(), "changed.toml").models[model]


@pytest.mark.long
@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_the_demo_family_fits_together(whinchat: Family, name: str) -> None:
    """No clash, every joint measured touches, nothing is adrift or loose, nothing waits to be drawn."""
    assembly = lay_out(whinchat.models[name])
    found = measure(assembly)
    assert found.bodies > 150 and not found.apart
    assert not found.clashes
    assert not found.loose and not found.adrift and not found.not_closed
    told = {c.id: c for c in part_checks(assembly, found)}
    assert {told[f"parts.{k}"].verdict for k in ("clash", "touch", "adrift", "held")} == {"pass"}
    assert found.joints > 450 and not found.waiting


@pytest.mark.long
def test_a_lower_wing_that_begins_in_the_longeron_is_told_with_part_numbers() -> None:
    """Where the demo's lower wing began before its parts were measured (diary, day 8)."""
    text = without_stouter(FILE.read_text(encoding="utf-8"))
    assert text.count('"12-1/2 in", "-14 in"') == 1
    text = text.replace('"12-1/2 in", "-14 in"', '"12 in", "-14 in"')
    text = text.replace('buttline = "11-3/4 in"', 'buttline = "11-1/4 in"')
    model = changed("models.W2.wings.lower.panels.outer.root_buttline", "12 in", "W2", text)
    gear = model.undercarriage and replace(model.undercarriage, brakes=None)
    assembly = lay_out(replace(model, controls=None, undercarriage=gear))  # a fairlead's rib has another number there
    found = measure(assembly)
    told = {c.id: c for c in part_checks(assembly, found)}
    assert told["parts.clash"].verdict == "fail" and told["parts.clash"].value >= 4
    pairs = [(c.one, c.other) for c in found.clashes]
    assert any("TUBE-A2R-D2R" in one and "lower-FRONT-LOWER-CAP" in other for one, other in pairs)


@pytest.mark.long
def test_a_bent_edge_that_reaches_across_the_aileron_gap_would_be_told() -> None:
    """Flanges beside the gap point away from it; with both to the tip the two ribs met (3/8 in gap, 5/8 in flange)."""
    model = changed("models.W2.wings.lower.ribs.flange", "1 in", "W2")
    assert not any(c.drawn and "AILERON-RIB" in c.one + c.other for c in measure(lay_out(model)).clashes)


def test_what_is_kept_is_of_the_same_shape_in_the_same_place() -> None:
    """Measured again it is the same; moved by a millimetre it is measured anew."""
    first, again = (measured((bar("A", 0.0), bar("B", 0.09)), joint("J", "A", "B")) for _ in range(2))
    assert first == again
    moved = measured((bar("A", 0.0), bar("B", 0.091)), joint("J", "A", "B")).clashes[0]
    assert_allclose(moved.volume, 0.9e-3, rtol=1e-5)


@pytest.mark.parametrize(("off", "clash"), [(0.0, True), (0.035, True), (0.041, False), (0.5, False)])
def test_tubes_that_pass_one_another(off: float, clash: bool) -> None:
    """Two rods of 4 cm across each other, their middle lines `off` apart: 4 cm is clear."""
    along, across = np.array([[0.0, 0, 0], [1, 0, 0]]), np.array([[0.5, -1, off], [0.5, 1, off]])
    rods = tuple(
        replace(bar(n, 0.0), form="tube", shape=Tube(path=p, outside=0.04, wall=0), places=(tuple(p.mean(axis=0)),))
        for n, p in (("A", along), ("B", across))
    )
    assert bool(measured(rods).clashes) == clash
    assert bool(measured(rods[::-1]).clashes) == clash


def checked(parts: tuple[Part, ...], *joints: Joint) -> dict[str, Check]:
    assembly = Assembly(model="M", parts=parts, joints=joints)
    return {c.id: c for c in part_checks(assembly, measure(assembly))}


def test_what_was_not_measured_does_not_pass() -> None:
    """No joint with two bodies, a joint whose fitting waits, a body that is not closed: unknown, and it says so."""
    two = (bar("A", 0.0), bar("B", 0.1))
    assert [c.verdict for c in checked(two, joint("J", "A", "B")).values()] == ["pass"] * 4
    bare = (bar("A", 0.0), replace(bar("B", 0.1), shape=None))
    nothing = checked(bare, joint("J", "A", "B"))["parts.touch"]
    assert nothing.verdict == "unknown" and "none measured" in nothing.caveat
    waits = checked(two, joint("J", "A", "B"), joint("K", "A", "B", through="unknown"))["parts.touch"]
    assert waits.verdict == "unknown" and "1 joints wait for a fitting or a part: K" in waits.caveat
    whole = two[1].shape
    assert isinstance(whole, Straight)
    torn = replace(two[1], shape=Torn(start=(0, 0, 0), end=(0, 1, 0), section="", rings=whole.rings))
    found = checked((two[0], torn), joint("J", "A", "B"))
    assert [found[f"parts.{k}"].verdict for k in ("clash", "touch")] == ["unknown"] * 2
    assert "bodies that are not closed: B" in found["parts.clash"].caveat


def test_each_piece_must_touch_something_it_is_joined_to() -> None:
    """Two pieces of B, one beside A and one 3 m up: the joint touches at one place, and the other piece is told."""
    near, far = bar("B", 0.1), bar("B", 0.1)
    assert isinstance(near.shape, Straight) and isinstance(far.shape, Straight)
    flat = Plate(outline=np.array([[0, 0], [1, 0], [1, 0.1], [0, 0.1]]), holes=(), thickness=0.1)
    stands = tuple(Pose((0.15, 0, z), (0, 1, 0), (0, 0, 1)) for z in (0.0, 3.0))
    two = replace(near, shape=flat, poses=stands, places=((0.15, 0.5, 0.05), (0.15, 0.5, 3.05)))
    found = measured((bar("A", 0.0), two), joint("J", "A", "B"))
    assert not found.apart and found.adrift == ("B at 0.150, 0.500, 3.050 m",)
    assert checked((bar("A", 0.0), two), joint("J", "A", "B"))["parts.adrift"].verdict == "fail"
    assert not measured((bar("A", 0.0), two), joint("J", "A", "B"), joint("K", "A", "B", through="unknown")).adrift


def test_what_stands_on_the_left_only_is_measured_there() -> None:
    both = replace(bar("A", 0.0, 0.5, 1.5), places=((0.05, 1.0, 0.05), (0.05, -1.0, 0.05)))
    left = bar("B", 0.09, -1.5, -0.5)
    assert [(c.one, c.other) for c in measured((both, left)).clashes] == [("A", "B")]


class Torn(Straight):
    """A bar of which one face is missing."""

    def solid(self) -> Solid:
        whole = between(*self.rings)
        return Solid(whole.points, whole.faces[1:])
