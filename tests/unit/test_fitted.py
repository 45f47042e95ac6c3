"""Sheets on the frame, the engine's mount, bought things, sprung wheels: by hand, and what is told when wrong."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from numpy.testing import assert_allclose
from shapely import LinearRing, Polygon

from sparwright.base.problem import DesignProblem, FileProblems
from sparwright.family.fitted import FlatSheet, Rubber
from sparwright.family.model import Family, Model
from sparwright.family.reader import read
from sparwright.ground.springs import cord_band, cord_pull, cord_rise, sprung
from sparwright.parts.bought import lump
from sparwright.parts.flat_sheets import clip_mass, laid_sheets
from sparwright.parts.frame import frame_tubes
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Assembly, Plate
from sparwright.parts.solids import closed, exact, solids
from sparwright.run import RunResult
from sparwright.shape.solid import as_place, turned
from sparwright.shape.tube import Tube

FILE = Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml"
DEMO = FILE.read_text(encoding="utf-8")
INCH = 0.0254
CORD = Rubber(source="made up", cord=0.016, turns=3, strand=0.1, stretched=0.12, stretch=(0.1, 0.5, 1.0),
              pull=(100.0, 300.0, 500.0), band=0.1)  # fmt: skip


@pytest.fixture(scope="module")
def w1(whinchat: Family) -> Model:
    return whinchat.models["W1"]


# ------------------------------------------------------------------ sheets


def test_a_sheet_lies_on_its_tubes(w1: Model) -> None:
    """The firewall on the front of 5/8 in tubes and sockets at station 0; the panel behind a 5/8 in tube at 33-5/8."""
    laid = {s.sheet.name: s for s in laid_sheets(w1, frame_tubes(w1))}
    assert_allclose(laid["firewall"].pose.origin[0], -(5 / 16 + 0.009) * INCH, atol=1e-6)
    assert_allclose(laid["panel"].pose.origin[0], (33.625 + 5 / 16 + 0.0315) * INCH, atol=1e-6)
    floor = laid["floor"]
    drop = np.array([22, 0, -1]) / np.hypot(22, 1)  # B2 to C2
    over = np.array([-drop[2], 0, drop[0]])
    b2 = np.array([24, 0, -15])
    away = (np.array(floor.pose.origin) / INCH - b2) @ over
    assert_allclose(away, 3 / 8 + 3 / 25.4 / 2, atol=1e-4)


def test_a_sheet_s_outline_is_its_own_mirror_and_holes_are_where_they_are_said(w1: Model) -> None:
    for one in laid_sheets(w1, frame_tubes(w1)):
        ring = Polygon(one.outline)
        assert ring.exterior.is_ccw and ring.is_valid
        assert_allclose(ring.symmetric_difference(Polygon(one.outline * (-1, 1))).area, 0, atol=1e-12)
    firewall = next(s for s in laid_sheets(w1, frame_tubes(w1)) if s.sheet.name == "firewall")
    (hole,) = firewall.holes
    middle = firewall.pose.place(*Polygon(hole).centroid.coords[0])
    assert_allclose(middle[1:], (5 * INCH, -11.5 * INCH), atol=1e-9)
    assert_allclose(Polygon(hole).area, np.pi / 4 * (0.75 * INCH) ** 2, rtol=1e-9)


def test_a_sheet_that_stands_on_another_is_cut_to_its_face(w1: Model) -> None:
    """The windscreen touches the panel's face and is not in it, however far down its foot is written."""
    for lower in (0.0, 0.5):
        sheets = tuple(_longer(s, lower * INCH) if s.name == "windscreen" else s for s in w1.sheets)
        laid = {s.sheet.name: s for s in laid_sheets(replace(w1, sheets=sheets), frame_tubes(w1))}
        screen, panel = laid["windscreen"], laid["panel"]
        half = screen.sheet.sheet.thickness / 2
        foot = [(0.0, u, w) for u in screen.outline[:, 1] for w in (-half, half)]
        over = (screen.pose.at(np.array(foot)) - panel.pose.origin) @ np.cross(panel.pose.x, panel.pose.y)
        assert_allclose(over.min(), panel.sheet.sheet.thickness / 2, atol=1e-6)


def _longer(sheet: FlatSheet, by: float) -> FlatSheet:
    """A sheet whose foot is written further down along its slope."""
    low, high = (np.array(sheet.corners[k]) for k in ("bottom", "top"))
    step = by * (low - high) / np.linalg.norm(high - low)
    corners = {k: as_place(np.array(p) + step) if "bottom" in k else p for k, p in sheet.corners.items()}
    return replace(sheet, corners=corners)


def test_clips_by_hand(w1: Model) -> None:
    """Along 16 in of cross tube and a margin at both ends under the floor, 8 in apart at most: four; two at least."""
    assembly = lay_out(w1)
    joint = next(j for j in assembly.joints if j.number == "W1-fuselage-SHEET-FLOOR-CLIPS-B2R-B2L-JOINT")
    assert joint.fasteners == 4 and joint.kind == "bolt" and joint.fastener == "AN3"
    part = assembly.part("W1-fuselage-SHEET-FLOOR-CLIPS-B2R-B2L")
    tube = assembly.part("W1-fuselage-TUBE-B2R-B2L").shape
    assert isinstance(tube, Tube)
    assert_allclose(part.mass, 4 * clip_mass(tube, "AN3", 0.003), rtol=1e-9)
    assert 0.005 < clip_mass(tube, "AN3", 0.003) < 0.03


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('held = ["P1R-P1L"]', 'held = ["P9R-P9L"]', "sheets.panel.held.0"),
        ('to = "forward"\nheld = ["A1R-A1L"', 'to = "sideways"\nheld = ["A1R-A1L"', "sheets.firewall.to"),
        ('side = ["33-5/8 in", "11 in", "11 in"]', 'side = ["34-5/8 in", "11 in", "11 in"]', "lie in one plane"),
        ('stands_on = ["panel"]', 'stands_on = ["penel"]', "nearest known is 'panel'"),
        ('top = ["33-5/8 in", "0 in", "16-1/2 in"]', 'top = ["33-5/8 in", "1 in", "16-1/2 in"]', "on the centreline"),
        ('through = "firewall"', 'through = "fire"', "mount.through"),
        ('upper = { node = "V", to = "A0" }', 'upper = { node = "X", to = "A0" }', "mount.feet.upper.node"),
        ('upper = { node = "V", to = "A0" }', 'upper = { node = "V", to = "B9" }', "mount.feet.upper.to"),
        ('pads = ["Q", "T"]', 'pads = ["Q", "Z"]', "mount.pads.1"),
        ('axle = "AWR-AWL"', 'axle = "AWR-AXL"', "undercarriage.axle"),
        ('held = ["A2-AX", "B2-AX"]', 'held = ["A2-AX", "B3-AX"]', "undercarriage.guide.held.1"),
        ("stretch = [0.1, 0.25, 0.5, 0.75, 1.0, 1.3]", "stretch = [0.1, 0.25]", "one pull for each stretch"),
        ("stretch = [0.1, 0.25, 0.5", "stretch = [0.25, 0.1, 0.5", "must rise"),
        ('stretched = "5-1/2 in"', 'stretched = "3 in"', "must not be less than the slack strand"),
        ('held = ["K2R-K2L", "S1-S3"]', 'held = ["K2R-K2L"]', "two tubes"),
        ('rest = ["172 in"', 'rest = ["178 in"', "follow one another aft"),
        ('held = ["firewall"], size', 'held = ["firewell"], size', "items.battery.held.0"),
        ('beside = "1/8 in"', 'beside = "1/8 in"\nbolt = "AN55"', "undercarriage.tail.bolt"),
    ],
)
def test_what_is_wrong_is_told_by_key(old: str, new: str, said: str) -> None:
    assert old in DEMO
    with pytest.raises(FileProblems) as told:
        read(DEMO.replace(old, new, 1).encode(), str(FILE))
    assert said in str(told.value)


def test_a_tube_that_does_not_run_beneath_is_told(w1: Model) -> None:
    far = tuple(replace(s, held=("D1R-D1L",)) if s.name == "panel" else s for s in w1.sheets)
    with pytest.raises(DesignProblem, match=r"sheets\.panel: tube D1R-D1L does not run beneath it"):
        laid_sheets(replace(w1, sheets=far), frame_tubes(w1))


# ------------------------------------------------------------------ bought things and the mount


def test_lumps_by_hand() -> None:
    assert_allclose(lump((1, 2, 3), (2, 4, 6), "box").volume, 48, rtol=1e-12)
    rod = lump((0, 0, 0), (3, 2, 2), "along")
    assert_allclose(rod.volume, np.pi * 3, rtol=1e-9)
    assert_allclose(np.ptp(rod.box, axis=0)[0], 3, rtol=1e-12)


def test_a_turned_ring_by_hand() -> None:
    """A square section 0.1 by 0.2 at radius 1: Pappus 2 pi R A, closed."""
    square = np.array([[0.95, -0.1], [1.05, -0.1], [1.05, 0.1], [0.95, 0.1]])
    ring = turned(square, (0, 0, 0), (0, 1, 0))
    assert_allclose(ring.volume, 2 * np.pi * 1.0 * 0.02, rtol=1e-3)
    assert closed(exact(ring)) and exact(ring).genus() == 1


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_every_bought_thing_is_closed_and_held(ran: Callable[[str], RunResult], name: str) -> None:
    assembly = ran(name).assembly
    held = {n for j in assembly.joints for n in j.parts}
    for part in assembly.parts:
        assert part.number in held, part.number
        if part.form == "item":
            assert all(closed(exact(s)) for s in solids(part)), part.number
    assert assembly.part(f"{name}-power-ENGINE").shape and assembly.part(f"{name}-power-PROPELLER").shape


def test_an_instrument_lies_against_the_panel(w1: Model) -> None:
    body = solids(lay_out(w1).part("W1-systems-ALTIMETER"))[0]
    assert_allclose(body.box[1, 0], (33.625 + 5 / 16) * INCH, atol=1e-6)


def only(assembly: Assembly, *words: str) -> Assembly:
    """The parts with one of the words in their number, and the joints among them."""
    parts = tuple(p for p in assembly.parts if any(w in p.number for w in words))
    names = {p.number for p in parts}
    return replace(assembly, parts=parts, joints=tuple(j for j in assembly.joints if set(j.parts) <= names))


def test_an_engine_further_forward_leaves_its_pads(w1: Model) -> None:
    """Moved by 1 mm it touches no more; moved back by 5 mm it runs into them."""
    for by, apart, clash in ((-1e-3, True, False), (5e-3, False, True)):
        lumps = tuple(replace(x, place=(x.place[0] + by, *x.place[1:])) for x in w1.engine.lumps)
        moved = lay_out(replace(w1, engine=replace(w1.engine, lumps=lumps)))
        found = measure(only(moved, "-mount-", "-ENGINE"))
        assert any("-PAD-" in a.joint for a in found.apart) is apart
        assert any("-ENGINE" in c.one + c.other for c in found.clashes) is clash


def test_the_axle_stands_in_its_slot(w1: Model) -> None:
    """The guide's slot is cut for the axle there is, with its fit, and as long as the file's stop."""
    assembly = lay_out(w1)
    guide = assembly.part("W1-gear-GUIDE-R").shape
    assert isinstance(guide, Plate)
    slot = np.ptp(guide.holes[0], axis=0) / INCH
    assert_allclose(slot, [1.5 + 1 / 32, 1.5 + 1 / 32 + 4.75], rtol=1e-3)
    found = measure(only(assembly, "-GUIDE-", "-TUBE-AW", "-AXR", "-AXL", "-CORD-"))
    assert not found.clashes and not [a for a in found.apart if "SLOT" in a.joint and "CORD" not in a.other]


def test_a_flange_goes_round_the_guide_from_leg_to_leg(w1: Model) -> None:
    """One strip of the sheet's thickness, as deep as the file says, inboard of the plate; its ends lie on the legs."""
    gear = w1.undercarriage
    assert gear and gear.guide and gear.guide.flange
    assembly = lay_out(w1)
    plate, flange = (assembly.part(f"W1-gear-{k}-R") for k in ("GUIDE", "GUIDE-FLANGE"))
    assert isinstance(plate.shape, Plate) and isinstance(flange.shape, Plate)
    assert flange.shape.thickness == gear.guide.flange and np.ptp(flange.shape.outline[:, 1]) > 5 * INCH
    t, long = gear.guide.sheet.thickness, LinearRing(flange.shape.outline).length / 2
    assert_allclose(flange.mass, long * t * gear.guide.flange * 7850, rtol=0.03)
    assert_allclose(plate.poses[0].origin[1] - flange.poses[0].origin[1], (t + gear.guide.flange) / 2, rtol=1e-9)
    found = measure(only(assembly, "-GUIDE", "-TUBE-AW", "-AXR", "-AXL", "-TUBE-AXR-B0", "-TUBE-AXL-B0"))
    assert not found.clashes
    joint = next(j for j in assembly.joints if j.number == "W1-gear-GUIDE-R-FLANGE-WELD")
    assert joint.kind == "weld" and joint.length > 2 * 4.75 * INCH
    bare = replace(gear, guide=replace(gear.guide, flange=None))
    assert not [
        p for p in lay_out(replace(w1, undercarriage=bare)).parts if "FLANGE" in p.number and "gear" in p.number
    ]


# ------------------------------------------------------------------ springs


def test_a_cord_by_hand() -> None:
    """Three turns are six strands; at 0.12 m a strand of 0.1 is stretched by 0.2: 150 N each, 900 N before it moves."""
    assert_allclose(cord_pull(CORD, 0.0), 900, rtol=1e-12)
    assert_allclose(cord_pull(CORD, 0.03), 6 * 300, rtol=1e-12)
    assert cord_rise(CORD, 800.0, 0.05) == 0.0 and cord_rise(CORD, 1e4, 0.05) == 0.05
    assert_allclose(cord_rise(CORD, 1800.0, 0.05), 0.03, rtol=1e-9)
    band = cord_band(CORD, 1800.0, 0.05)
    assert band.low < 0.03 < band.high
    assert_allclose([cord_pull(CORD, band.low, 1.1), cord_pull(CORD, band.high, 0.9)], 1800, rtol=1e-9)


def test_a_cord_stretched_further_than_it_was_pulled_is_unknown() -> None:
    assert np.isnan(cord_pull(CORD, 0.09)) and not cord_band(CORD, 1800.0, 0.09).known


def test_the_rise_in_the_file_beside_that_of_the_parts(ran: Callable[[str], RunResult]) -> None:
    """The springs' parts give some 3/4 in; the check tells both figures."""
    run = ran("W1")
    check = next(c for c in run.checks if c.id == "ground.spring.tail")
    assert check.verdict == "pass" and "the file 3/4" in check.caveat
    assert run.result("ground.spring.main.rise").value > 0 and run.result("ground.spring.main.stop").value > 1.5
    assert sprung  # told from the same record
