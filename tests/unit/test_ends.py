"""Ends of struts and wires, fittings, lugs, roots, bolts: by hand, and on the demo family."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from families import without_stouter
from numpy.testing import assert_allclose
from shapely import Point, Polygon

from sparwright.base.problem import DesignProblem
from sparwright.data.hardware import WireEnd
from sparwright.data.loader import fasteners
from sparwright.family.model import Family, Model, Strut
from sparwright.family.reader import read
from sparwright.family.writer import set_value
from sparwright.parts.bolts import bolt_for
from sparwright.parts.ends import CLEAR, spots
from sparwright.parts.ends_told import end_results
from sparwright.parts.layout import lay_out
from sparwright.parts.lugs import shadow
from sparwright.parts.part import Assembly, Part, Plate, Skin
from sparwright.parts.roots import root_spots
from sparwright.parts.solids import closed, exact, solids
from sparwright.parts.struts import pinned
from sparwright.run import RunResult
from sparwright.shape.solid import Pose, block, cylinder, less
from sparwright.shape.tube import Fitted, Tube

FILE = Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml"
FLAT = Pose((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
MODELS = ("W1", "W2", "W3")


@pytest.fixture(scope="module")
def laid(ran: Callable[[str], RunResult]) -> dict[str, Assembly]:
    return {m: ran(m).assembly for m in MODELS}


def changed(model: str, *edits: tuple[str, str]) -> Model:
    text = FILE.read_text(encoding="utf-8")
    for key, value in edits:
        text = set_value(text, key, value)
    return read(text.encode(), "changed.toml").models[model]


# ------------------------------------------------------------------ bolts


def test_a_bolt_by_hand() -> None:
    """Two plates of 0.09 in and a bush of 15/16 in: 1.1175 in; the next AN4 is 1.1875, dash 15."""
    plates = [("lug", 0.09 * 0.0254), ("bush", 0.9375 * 0.0254), ("lug", 0.09 * 0.0254)]
    bolt = bolt_for("AN4", plates, "forward", turns=True)
    assert (bolt.dash, bolt.stock, bolt.washers) == ("15", "AN4-15", 2)
    assert_allclose((bolt.grip, bolt.stock_grip), (1.1175 * 0.0254, 1.1875 * 0.0254), rtol=1e-12)
    assert "cotter" in bolt.locking and "castellated" in bolt.nut and all(map(math.isnan, bolt.torque))
    tight = bolt_for("AN4", plates, "up")
    assert_allclose(tight.torque, (50 * 0.1129848, 70 * 0.1129848), rtol=1e-6)
    assert "self-locking" in tight.nut


def test_a_size_whose_grips_are_not_on_file_is_unknown_and_a_grip_past_all_too() -> None:
    assert bolt_for("AN8", [("plate", 0.01)], "up").dash == "unknown"
    assert math.isnan(bolt_for("AN8", [("plate", 0.01)], "up").stock_grip)
    assert bolt_for("AN4", [("plate", 1.0)], "up").dash == "unknown"


@pytest.mark.parametrize("model", MODELS)
def test_every_primary_bolt_says_how_it_goes_in(laid: dict[str, Assembly], model: str) -> None:
    """Each primary joint with a bolt holds it; what the shank is longer than its grip, washers make up."""
    joints = [j for j in laid[model].joints if j.primary and j.fastener.startswith("AN")]
    assert len([j for j in joints if "-controls-" not in j.number]) >= 38
    assert len([j for j in joints if "-controls-" in j.number]) >= 60
    bare = [j for j in laid[model].joints if "-controls-" in j.number and j.kind == "bolt" and j.bolt is None]
    assert all(j.note.startswith(("threaded in", "hook in", "pressed in")) for j in bare)
    for j in joints:
        assert j.bolt is not None, j.number
        assert j.bolt.size == j.fastener and j.bolt.head and j.bolt.limit and j.bolt.locking
        spare = j.bolt.stock_grip - j.bolt.grip
        assert -1e-9 <= spare <= 0.126 * 0.0254 or j.bolt.dash == "unknown", j.number
        assert j.bolt.washers >= 1 and spare <= j.bolt.washers * 0.0016003 + 1e-6, j.number
        assert spare > (j.bolt.washers - 1) * 0.0016 - 1e-5, j.number


# ------------------------------------------------------------------ shapes by hand


def test_less_by_hand() -> None:
    """A block of 4 x 4 x 1 cm with a round hole of 1 cm through it."""
    whole = block((0, 0, 0), (0.04, 0.04, 0.01))
    left = less(whole, [cylinder((0, 0, 0), (0, 0, 1), 0.005, 0.1)])
    assert_allclose(left.volume, 0.04 * 0.04 * 0.01 - math.pi * 0.005**2 * 0.01, rtol=1e-6)
    with pytest.raises(ValueError, match="nothing"):
        less(whole, [block((0, 0, 0), (1, 1, 1))])


def test_a_tube_square_to_a_plate_fills_a_circle() -> None:
    found = shadow(Fitted((0.0, 0.0, 1.0), 0.01), np.array([0.0, 0.0, -0.1]), FLAT, 0.002)
    assert found is not None
    assert_allclose(found.area, math.pi * 0.01**2, rtol=1e-6)


def test_a_tube_in_the_plane_of_a_plate_fills_a_strip_from_where_it_begins() -> None:
    found = shadow(Fitted((1.0, 0.0, 0.0), 0.01), np.zeros(3), FLAT, 0.002)
    assert found is not None
    assert_allclose(found.bounds, (0.0, -0.01, 0.4, 0.01), rtol=0, atol=1e-4)


def test_a_leaning_tube_fills_an_ellipse_drawn_out_by_the_plate() -> None:
    """At 45 deg: r/sin 45 to either side, and half the thickness more."""
    found = shadow(Fitted((math.sqrt(0.5), 0.0, math.sqrt(0.5)), 0.01), np.array([-0.1, 0.0, -0.1]), FLAT, 0.002)
    assert found is not None
    assert_allclose(found.bounds[2], 0.01 * math.sqrt(2) + 0.001, rtol=2e-3)


def test_a_tube_beside_a_plate_fills_nothing() -> None:
    assert shadow(Fitted((1.0, 0.0, 0.0), 0.01), np.array([0.0, 0.0, 0.05]), FLAT, 0.002) is None
    assert shadow(Fitted((0.0, 0.0, 1.0), 0.01), np.array([0.0, 0.0, 0.05]), FLAT, 0.002) is None


# ------------------------------------------------------------------ lines, pins, lugs


@pytest.mark.parametrize("model", MODELS)
def test_every_line_goes_through_the_spars_middle_and_every_pin_is_square_to_it(whinchat: Family, model: str) -> None:
    on_spars, at_nodes = spots(whinchat.models[model])
    places = [(s.axes.middle, lugs) for s in on_spars for _, lugs in s.lugs]
    places += [(n.place, lugs) for n in at_nodes for lugs in n.lugs]
    ends = [e for thing in (*whinchat.models[model].struts, *whinchat.models[model].wires) for e in thing.ends]
    assert sum(len(lugs.held) for _, lugs in places) == sum(not e.tail for e in ends)
    for middle, lugs in places:
        for h, pin in zip(lugs.held, lugs.pins, strict=True):
            off = pin - middle
            assert np.linalg.norm(off - (off @ h.away) * h.away) < 1e-9, h.thing.name
            assert abs(h.away @ lugs.normal) < 0.05
            assert_allclose(lugs.normal @ lugs.out, 0.0, rtol=0, atol=1e-9)
    for s in on_spars:
        for _, lugs in s.lugs:
            assert all(lugs.flat(pin)[1] >= s.fitting.edge + CLEAR - 1e-9 for pin in lugs.pins), s.buttline


@pytest.mark.parametrize("model", MODELS)
def test_a_strut_is_as_long_as_from_pin_to_pin(laid: dict[str, Assembly], whinchat: Family, model: str) -> None:
    """Its tube ends at its bushes: shorter than between the places it joins, by no more than the fittings are deep."""
    ends = pinned(whinchat.models[model])
    for strut in whinchat.models[model].struts:
        a, b = (ends[strut.name, i].pin for i in (0, 1))
        part = laid[model].part(f"{model}-struts-{strut.name.upper()}")
        assert isinstance(part.shape, Tube)
        pins = float(np.linalg.norm(b - a))
        assert pins - 0.03 < part.shape.length <= pins + 1e-9
        area = math.pi * (strut.tube.outside - strut.tube.wall) * strut.tube.wall
        assert part.mass < area * pins * (7850 if strut.tube.material == "4130N" else 2750)


def test_a_wire_is_cut_longer_by_its_sockets_and_shorter_by_its_ends(whinchat: Family) -> None:
    model = whinchat.models["W2"]
    ends, parts = pinned(model), {p.number: p for p in lay_out(model).parts}
    for wire in model.wires:
        a, b = (ends[wire.name, i] for i in (0, 1))
        shape = parts[f"W2-wires-{wire.name.upper()}"].shape
        assert isinstance(shape, Tube) and isinstance(a.held.piece, WireEnd) and isinstance(b.held.piece, WireEnd)
        seen = float(np.linalg.norm(b.pin - a.pin)) - a.held.piece.length - b.held.piece.length
        assert_allclose(shape.length, seen, rtol=1e-9)
        assert "cut" in parts[f"W2-wires-{wire.name.upper()}"].stock


def lug_pins(part: Part) -> list[tuple[Point, float]]:
    assert isinstance(part.shape, Plate)
    return [(Polygon(h).centroid, math.sqrt(4 * Polygon(h).area / math.pi)) for h in part.shape.holes]


@pytest.mark.parametrize("model", MODELS)
def test_lugs_on_spars_keep_two_diameters_to_every_edge(laid: dict[str, Assembly], model: str) -> None:
    lugs = [p for p in laid[model].parts if "-FITTING-" in p.number and "-LUG-" in p.number]
    assert len(lugs) >= 8
    for part in lugs:
        assert isinstance(part.shape, Plate)
        edge = Polygon(part.shape.outline).exterior
        for middle, d in lug_pins(part):
            assert edge.distance(middle) >= 2 * d - 1e-5, part.number


@pytest.mark.parametrize("model", MODELS)
def test_bolts_through_a_spar_lie_between_its_caps(whinchat: Family, model: str) -> None:
    found = spots(whinchat.models[model])[0]
    assert found
    for s in found:
        assert s.fitting.pitch is not None
        reach = s.fitting.pitch / 2 + fasteners()[s.fitting.bolt].diameter
        assert reach <= s.axes.depth / 2 - s.spar.cap.depth + 1e-9
    for r in root_spots(whinchat.models[model]):
        assert r.root.pitch / 2 + fasteners()[r.root.bolt].diameter <= r.axes.depth / 2 - r.spar.cap.depth


@pytest.mark.parametrize("model", MODELS)
def test_every_part_of_the_ends_is_a_closed_body_of_its_weight(laid: dict[str, Assembly], model: str) -> None:
    from sparwright.data.loader import material

    parts = [p for p in laid[model].parts if p.purpose in ("fitting", "strut end", "wire end")]
    assert len(parts) > 30
    for part in parts:
        bodies = solids(part)
        assert bodies and all(closed(exact(b)) for b in bodies), part.number
        assert len({np.sign(round(float(b.centre[1]), 6)) for b in bodies}) == len(bodies), part.number
        if part.material != "bought":
            assert_allclose(part.mass, bodies[0].volume * material(part.material).density, rtol=1e-3)


def test_right_and_left_skins_have_the_same_slots(laid: dict[str, Assembly]) -> None:
    right, left = (laid["W1"].part(f"W1-wing-SKIN-NOSE-outer-{h}") for h in "RL")
    assert isinstance(right.shape, Skin) and right.shape.openings
    a, b = (solids(p)[0].volume for p in (right, left))
    assert_allclose(a, b, rtol=1e-9)
    whole = Skin(length=1, width=1, thickness=0.001, rings=right.shape.rings).solid()
    assert whole is not None and 0 < whole.volume - a < 1e-5


def test_a_root_rib_is_notched_for_its_straps_and_no_other(whinchat: Family) -> None:
    from sparwright.parts.ribs import rib_places

    model = whinchat.models["W3"]
    wing = model.wing("lower")
    root, strap = wing.panels[0].root_buttline, model.roots[1].strap.thickness
    for place in rib_places(model, wing):
        if place.where.kind == "wing" and place.piece.name == "rib":
            slot = place.piece.slots[0] if place.piece.slots else None
            filled = Polygon(place.piece.outline, place.piece.holes)
            assert slot is not None
            beside = Point(slot.corner(slot.width / 2 + wing.ribs.fit + strap / 2, 0.0))
            assert filled.contains(beside) != (abs(place.where.buttline - root) < 1e-6)


def test_struts_without_fittings_stay_unknown_and_go_to_the_bare_places() -> None:
    text = FILE.read_text(encoding="utf-8")
    for words in (', fitting = "lift_foot", piece = "lift"', ', fitting = "lift", piece = "lift"'):
        assert words in text
        text = text.replace(words, "")
    assembly = lay_out(read(text.encode(), "bare.toml").models["W1"])
    ends = [j for j in assembly.joints if "LIFT" in j.number and "-END-" in j.number]
    assert len(ends) == 4 and all(j.fastener == j.through == "unknown" and j.bolt is None for j in ends)
    drawn = [j for j in assembly.joints if "CABANE" in j.number and "-END-" in j.number]
    assert len(drawn) == 6 and all(j.bolt is not None and j.through != "unknown" for j in drawn)


# ------------------------------------------------------------------ what cannot be built


@pytest.mark.parametrize(
    ("edits", "words"),
    [
        ((("models.W1.fittings.lift.pitch", "4 in"),), r"fittings\.lift\.pitch of 4″ puts its bolts into the caps"),
        ((("models.W1.fittings.lift.reach", "1/4 in"),), r"fittings\.lift\.reach of 1/4″ leaves its foot in the wing"),
        ((("models.W3.roots.lower.pitch", "3-1/2 in"),), r"roots\.lower\.pitch of 3 1/2″ puts its bolts into the caps"),
    ],
)
def test_what_cannot_be_built_is_told_with_its_key(edits: tuple[tuple[str, str], ...], words: str) -> None:
    model = edits[0][0].split(".")[1]
    with pytest.raises(DesignProblem, match=words):
        lay_out(changed(model, *edits))


def test_a_rib_in_the_plates_of_a_fitting_is_told() -> None:
    text = FILE.read_text(encoding="utf-8")
    assert text.count('"105-3/4 in"') == 1
    model = read(text.replace('"105-3/4 in"', '"104 in"').encode(), "rib.toml").models["W1"]
    with pytest.raises(DesignProblem, match=r"buttline 97.* meet the rib at 104″|meet the rib at 8′ 8″.*ribs: extra"):
        lay_out(model)


def test_plates_past_the_end_of_a_panel_are_told() -> None:
    """W2's landing wire leaves the upper wing outboard of buttline 12: a centre panel to 17 in is too short."""
    text = without_stouter(FILE.read_text(encoding="utf-8"))
    start = text.index("[models.W2.wings.upper.panels]")
    head, rest = text[:start], text[start:].replace('"20 in"', '"17 in"', 2)
    with pytest.raises(DesignProblem, match=r"reach past panel centre, 0″ to 17″"):
        lay_out(read((head + rest).encode(), "panel.toml").models["W2"])


def test_a_pin_clears_the_tubes_of_its_node(whinchat: Family) -> None:
    for model in whinchat.models.values():
        for spot in spots(model)[1]:
            for lugs in spot.lugs:
                for h, pin in zip(lugs.held, lugs.pins, strict=True):
                    for tube in spot.tubes:
                        way, off = np.array(tube.along), pin - spot.place
                        far = np.linalg.norm(off - max(off @ way, 0.0) * way)
                        assert far >= tube.radius + h.round_pin + CLEAR - 1e-6 or not isinstance(h.thing, Strut)


# ------------------------------------------------------------------ told


def test_what_is_told_of_lines_roots_and_wires(whinchat: Family) -> None:
    """Lines meet in the spar's middle, but the fin's wires; W2's rear root is 0.92 in off its node; one by hand."""
    told = {r.id: r for r in end_results(whinchat.models["W2"])}
    steps = {s.title: s.value for s in told["ends.offset.lines"].steps}
    ahead = {n for n in steps if n.startswith(("fin,", "fin_front,"))}  # before the tube
    assert len(ahead) == 4 and max(v for n, v in steps.items() if n not in ahead) < 1e-9
    assert all(0.52 < steps[n] / 0.0254 < 0.61 for n in ahead)
    root = next(s for s in root_spots(whinchat.models["W2"]) if s.root.name == "rear")
    up = root.pin[2] - root.node[2] - (root.pin[1] - root.node[1]) * math.tan(math.radians(2.5))
    assert_allclose(told["ends.offset.roots"].value, up * math.cos(math.radians(2.5)), rtol=1e-3)
    pins, cut = (told[f"ends.wire.landing.{k}"].value for k in ("pins", "cut"))
    assert_allclose(cut, pins - 0.0254 * (2.2 - 1.3 + 7.5 - 1.3), rtol=1e-9)


def test_a_wire_with_a_bare_end_has_no_length_told() -> None:
    text = FILE.read_text(encoding="utf-8")
    bare = ', fitting = "wire_foot", piece = "fork"'
    assert text.count(bare) >= 2
    told = {r.id: r for r in end_results(read(text.replace(bare, "").encode(), "bare.toml").models["W2"])}
    assert (
        math.isnan(told["ends.wire.flying_front.cut"].value)
        and "not drawn" in told["ends.wire.flying_front.cut"].caveat
    )
    assert "flying_front" in told["ends.offset.lines"].caveat
