"""What holds of every router file: paths close, keep to the part within the tolerance, let the tool in everywhere."""

from __future__ import annotations

from dataclasses import replace
from io import StringIO

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from sparwright.family.buying import Buying, Cutting
from sparwright.output.router_dxf import KERF, router_dxf
from sparwright.parts.part import Foot, Mark, Part, Plate
from sparwright.plans.clash import clashes
from sparwright.plans.paper import TitleBlock
from sparwright.plans.router_page import router_pages
from sparwright.shape.arcs import circle_of, drawn, path_of
from sparwright.stock.router import TOLERANCE, file_name, jobs
from sparwright.stock.splice import TooLarge

BUYING = Buying(cutting=Cutting(tool=0.003, relief=True))


def circle(x, y, r, count=160):
    a = np.linspace(0, 2 * np.pi, count, endpoint=False)
    return np.column_stack([x + r * np.cos(a), y - r * np.sin(a)])


def plate(outline, holes=(), number="W1-wing-RIB-47+23", count=2, **more):
    shape = Plate(outline=np.array(outline) / 1000, holes=tuple(h / 1000 for h in holes), thickness=0.004, **more)
    return Part(number=number, name="rib", form="plate", group="wing x", purpose="rib", material="okoume-ply",
                stock="Okoume plywood, 4 mm", places=((0.0, 0.0, 0.0),) * count, mass=0.1, shape=shape)  # fmt: skip


def one(part, buying=BUYING):
    found, told = jobs([part], buying)
    return told[0] if told else found[0]


SQUARE = [(0, 0), (100, 0), (100, 60), (0, 60)]
NOTCHED = [(0, 0), (100, 0), (100, 60), (70, 60), (70, 30), (40, 30), (40, 60), (0, 60)]


@st.composite
def blobs(draw):
    """A rounded star: arcs of a known radius and straight lines."""
    count, r = draw(st.integers(3, 8)), draw(st.floats(2.0, 8.0))
    radii = np.array(draw(st.lists(st.floats(40.0, 90.0), min_size=count, max_size=count)))
    a = np.arange(count) * 2 * np.pi / count
    star = shapely.Polygon(np.column_stack([np.cos(a), np.sin(a)]) * radii[:, None])
    return np.array(star.buffer(r, quad_segs=48).exterior.coords)[:-1]


@settings(max_examples=40, deadline=None)
@given(blobs())
def test_arcs_keep_to_the_line_and_the_path_closes(ring):
    path = path_of(ring, TOLERANCE)
    line, back = shapely.LinearRing(ring), shapely.LinearRing(drawn(path))
    assert shapely.hausdorff_distance(line, back, densify=0.05) <= TOLERANCE + 0.01
    assert back.is_simple and shapely.Polygon(back).area == pytest.approx(shapely.Polygon(ring).area, rel=2e-3)
    assert len(path) < len(ring) / 3 and any(v.bulge for v in path)


@settings(max_examples=25, deadline=None)
@given(blobs(), st.floats(3.0, 9.0))
def test_the_tool_reaches_every_corner_and_takes_little(ring, tool):
    buying = Buying(cutting=Cutting(tool=tool / 1000, relief=True))
    made = one(plate(ring), buying)
    part = shapely.Polygon(drawn(made.outside)).buffer(0)
    whole = shapely.Polygon(ring)
    outside = shapely.box(-300, -300, 300, 300)
    stands = outside.difference(part.buffer(tool / 2 - TOLERANCE))
    missed = outside.difference(part).difference(stands.buffer(tool / 2 + TOLERANCE))
    assert missed.area < 1e-3 * whole.area
    assert part.difference(whole.buffer(2 * TOLERANCE)).area < 1e-6
    assert whole.difference(part).area <= (made.reliefs + 1) * tool**2


def test_a_notch_gets_a_relief_at_each_inside_corner_and_none_outside():
    made = one(plate(NOTCHED))
    assert made.reliefs == 2 and sum(v.bulge != 0 for v in made.outside) >= 2
    part = shapely.Polygon(drawn(made.outside))
    for corner in ((40, 30), (70, 30)):
        assert part.exterior.distance(shapely.Point(corner)) < TOLERANCE, "the tool's edge comes to the corner's point"
    radius = {round(abs(_radius(made.outside, i)), 2) for i, v in enumerate(made.outside) if v.bulge}
    assert radius == {1.5}
    assert one(plate(SQUARE)).reliefs == 0


def _radius(path, i):
    v, w = path[i], path[(i + 1) % len(path)]
    return np.hypot(w.x - v.x, w.y - v.y) * (1 + v.bulge**2) / (4 * v.bulge)


def test_without_relief_an_inside_corner_smaller_than_the_tool_is_told():
    plain = Buying(cutting=Cutting(tool=0.003, relief=False))
    told = one(plate(NOTCHED), plain)
    assert isinstance(told, TooLarge) and told.part == "W1-wing-RIB-47+23"
    assert "W1-wing-RIB-47+23: the inside corner at" in told.sentence and "and 1 more" in told.sentence
    assert one(plate(SQUARE), plain).reliefs == 0


def test_a_corner_as_round_as_the_tool_needs_no_relief_and_a_sharper_does():
    def hole(r):
        inner = shapely.box(20, 15, 60, 45).buffer(-r).buffer(r, quad_segs=64)
        return np.array(inner.exterior.coords)[:-1][::-1]

    assert one(plate(SQUARE, [hole(1.6)])).reliefs == 0
    assert one(plate(SQUARE, [hole(1.0)])).reliefs == 4


def test_a_slot_narrower_than_the_tool_is_told():
    slot = np.array([(20, 20), (20, 22), (60, 22), (60, 20)])
    told = one(plate(SQUARE, [slot]))
    assert isinstance(told, TooLarge) and "narrower than the tool of 3 mm" in told.sentence


def test_a_part_that_its_holes_cut_in_two_is_told():
    band = np.array([(40, -1), (40, 61), (50, 61), (50, -1)])
    assert "falls apart" in one(plate(SQUARE, [band])).sentence


def test_small_round_holes_are_drilled_and_large_ones_cut_as_arcs():
    made = one(plate(SQUARE, [circle(20, 20, 2.4), circle(70, 30, 6.35), circle(45, 30, 10.0)]))
    assert [(round(d.x, 3), round(d.y, 3), round(d.diameter, 3)) for d in made.drills] == [
        (20, 20, 4.8),
        (70, 30, 12.7),
    ]
    (path,) = made.inside
    assert all(v.bulge for v in path) and len(path) <= 4
    assert circle_of(np.array(SQUARE * 3, dtype=float), 0.05) is None


def test_two_holes_that_meet_are_one_path_and_nothing_is_doubled():
    made = one(plate(SQUARE, [circle(40, 30, 10.0), circle(50, 30, 10.0), circle(50, 30, 10.0)]))
    assert len(made.inside) == 1 and not made.drills


def test_the_file_reads_back_as_it_was_meant():
    ezdxf = pytest.importorskip("ezdxf")
    marked = plate(SQUARE, [circle(20, 20, 2.4), circle(60, 30, 15.0)],
                   marks=(Mark(label="chord", points=((0.0, 0.01), (0.1, 0.01))),),
                   foot=Foot(start=(0.0, 0.0), end=(0.1, 0.0), height=0.01))  # fmt: skip
    made = one(marked)
    content = router_dxf(made, "Sparwright")
    doc = ezdxf.read(StringIO(content.decode("ascii")))
    assert not doc.audit().errors
    space = doc.modelspace()
    layers = sorted(e.dxf.layer for e in space)
    assert layers == ["DRILL", "INSIDE_CUT", "MARK", "MARK", "OUTSIDE_CUT"]
    closed = {e.dxf.layer: e.is_closed for e in space.query("POLYLINE")}
    assert closed == {"OUTSIDE_CUT": True, "INSIDE_CUT": True, "MARK": False}
    (drill,) = space.query("CIRCLE")
    assert (drill.dxf.center.x, drill.dxf.radius) == (pytest.approx(20), pytest.approx(2.4, abs=1e-3))
    outline = next(e for e in space.query("POLYLINE") if e.dxf.layer == "OUTSIDE_CUT")
    points = np.array([(v.dxf.location.x, v.dxf.location.y) for v in outline.vertices])
    assert np.ptp(points, axis=0) == pytest.approx([100, 60 + 14], abs=1e-4), "1 : 1, the foot laid out"
    assert KERF.encode() in content and doc.header["$ACADVER"] == "AC1009"
    assert content == router_dxf(one(marked), "Sparwright")


def test_the_name_says_number_material_thickness_and_unit():
    assert file_name(one(plate(SQUARE))) == "W1-wing-RIB-47+23_okoume-ply_4mm_drawn-in-mm.dxf"


def test_the_check_sheet_has_a_row_for_each_file():
    parts = [plate(NOTCHED, number=f"W1-wing-RIB-{i}") for i in range(70)]
    made, told = jobs(
        [*parts, plate(SQUARE, [np.array([(20, 20), (20, 22), (60, 22), (60, 20)])], number="W1-SLOT")], BUYING
    )
    sheets = router_pages(made, told, TitleBlock("Wren", "W1", "Sparwright", "ab" * 32), "inch")
    words = [s.content for sheet in sheets for s in sheet.strokes if hasattr(s, "content")]
    assert all(f"wing-RIB-{i}" in words for i in range(70)) and any("W1-SLOT" in w for w in words)
    assert any("KERF NOT APPLIED" in w for w in words) and not [c for s in sheets for c in clashes(s)]
    assert router_pages((), told, TitleBlock("Wren", "W1", "Sparwright", "ab" * 32), "inch") == ()


def test_a_corner_too_sharp_to_be_relieved_is_told_with_its_place():
    def notched(half):
        return plate([(0, 0), (100, 0), (100, 60), (50 + half, 60), (50, 20), (50 - half, 60), (0, 60)])

    told = one(notched(40 * np.tan(np.radians(12))))
    assert (
        isinstance(told, TooLarge)
        and "W1-wing-RIB-47+23: the inside corner at 50.0, 20.0 mm is too sharp" in told.sentence
    )
    assert one(notched(40 * np.tan(np.radians(17)))).reliefs == 1


def test_an_arc_that_would_cross_the_line_before_it_is_fitted_closer():
    """A bracket with a bite: round at one end, the other cut out by the tube it sits on, so that two horns are left."""
    a = np.arange(64) * np.pi / 32
    disc = 12.7 * np.column_stack([np.cos(a), np.sin(a)])
    ring = np.vstack([disc[np.arange(22, -11, -1)], disc[np.arange(-10, 23)] - (50.8, 35.56)])
    assert shapely.LinearRing(ring).is_simple
    for way in (ring, ring[::-1]):
        path = path_of(way, TOLERANCE)
        line, back = shapely.LinearRing(ring), shapely.LinearRing(drawn(path, 0.004))
        assert back.is_simple, "its horns are so thin that chords may have to stand for the arcs"
        assert shapely.hausdorff_distance(line, back, densify=0.05) <= TOLERANCE + 0.01


def test_only_the_materials_of_the_family_file_have_files_and_the_sheet_says_so():
    wood, metal = plate(SQUARE, number="W1-WOOD"), replace(plate(SQUARE, number="W1-STEEL"), material="4130N")
    assert [j.part.number for j in jobs([wood, metal], BUYING)[0]] == ["W1-WOOD", "W1-STEEL"]
    made, told = jobs([wood, metal], BUYING, ("4130N",))
    assert [j.part.number for j in made] == ["W1-STEEL"] and told == ()
    title = TitleBlock("Wren", "W1", "Sparwright", "ab" * 32)
    for materials in ((), ("4130N",)):
        sheets = router_pages(made, told, title, "inch", materials)
        words = " ".join(s.content for sheet in sheets for s in sheet.strokes if hasattr(s, "content"))
        assert ("Plates of other materials than 4130N" in words) is bool(materials)
        assert not [c for s in sheets for c in clashes(s)]
