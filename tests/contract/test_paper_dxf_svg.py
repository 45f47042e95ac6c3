"""DXF and SVG read back: the same recorded drawing, real millimetres, nothing wrong with the files."""

from __future__ import annotations

import re
from functools import cache
from io import StringIO
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
from ezdxf import recover
from numpy.testing import assert_allclose
from paper_parts import TITLE, parts

from sparwright.output.dxf import dxf
from sparwright.output.svg import svg
from sparwright.plans.chains import Across, Mark, running
from sparwright.plans.drawing import LAYERS, Circle, Line, Polyline, Sheet, Text
from sparwright.plans.lettering import em, width
from sparwright.plans.templates import templates

SVG = "{http://www.w3.org/2000/svg}"


@cache
def sheets() -> tuple[Sheet, ...]:
    return templates(parts(), "24x36", TITLE)


def kinds(sheet: Sheet, kind: type) -> list:
    return [s for s in sheet.strokes if isinstance(s, kind)]


def document(sheet: Sheet):
    return ezdxf.read(StringIO(dxf(sheet).decode("utf-8")))


@pytest.mark.parametrize("i", range(2))
def test_dxf_passes_the_audit_and_is_in_millimetres(i):
    doc = document(sheets()[i])
    auditor = doc.audit()
    assert not auditor.errors and not auditor.fixes
    assert doc.dxfversion == "AC1032" and doc.header["$INSUNITS"] == 4 and doc.header["$MEASUREMENT"] == 1
    names = {layer.dxf.name for layer in doc.layers}
    assert {layer.name.upper() for layer in LAYERS} <= names


def inked(doc) -> list:
    """Everything in a file that has ink: of the sheet, and of the pictures of its dimensions."""
    space = doc.modelspace()
    pictures = [doc.blocks[d.dxf.geometry] for d in space.query("DIMENSION")]
    return [e for e in space if e.dxftype() != "DIMENSION"] + [e for block in pictures for e in block]


def points_of(entity) -> list[tuple[float, float]]:
    if entity.dxftype() == "LINE":
        return [tuple(entity.dxf.start)[:2], tuple(entity.dxf.end)[:2]]
    return [tuple(p) for p in entity.get_points("xy")]


def in_order(rows: list) -> list:
    """(layer, closed, points) by what they are, so that two orders of writing are one."""
    return sorted(rows, key=lambda r: (r[0], r[1], np.round(r[2], 5).tolist()))


def test_dxf_holds_every_stroke_where_it_was_recorded():
    for sheet in sheets():
        found = inked(document(sheet))
        lines = in_order([(e.dxf.layer, e.dxftype() == "LWPOLYLINE" and e.closed, np.array(points_of(e)))
                          for e in found if e.dxftype() in ("LINE", "LWPOLYLINE")])  # fmt: skip
        drawn = [(s.layer.upper(), s.closed, np.array(s.points)) for s in kinds(sheet, Polyline)]
        drawn += [(s.layer.upper(), False, np.array((s.start, s.end))) for s in kinds(sheet, Line)]
        for have, want in zip(lines, in_order(drawn), strict=True):
            assert have[:2] == want[:2]
            assert_allclose(have[2], want[2], rtol=0, atol=1e-6)
        texts = sorted((t.dxf.text, t.dxf.height) for t in found if t.dxftype() == "TEXT")
        assert texts == sorted((t.content, t.size) for t in kinds(sheet, Text))


def test_dimensions_are_the_formats_own_and_measure_the_true_length():
    """Words, true length, ends, picture; the picture is on the sheet once."""
    assert sum(len(sheet.dimensions) for sheet in sheets()) > 5
    for sheet in sheets():
        found = document(sheet).modelspace().query("DIMENSION")
        assert len(found) == len(sheet.dimensions)
        for have, want in zip(found, sheet.dimensions, strict=True):
            assert have.dxf.text == want.words and have.dxf.layer == "MEASURE"
            assert have.dxf.actual_measurement == pytest.approx(want.value * 1000, abs=1e-9)
            assert_allclose([tuple(have.dxf.defpoint2)[:2], tuple(have.dxf.defpoint3)[:2]], [want.start, want.end],
                            rtol=0, atol=1e-9)  # fmt: skip
            assert np.hypot(*np.subtract(want.end, want.start)) == pytest.approx(want.value * 1000, abs=1e-6)


def test_running_dimensions_are_ordinates_from_their_datum():
    row = Across(False, 60.0, 1, "row", "why")
    strokes = running([Mark(20.0, 0.0, 40.0, "a"), Mark(90.0, 0.7, 40.0, "b")], row, "millimetre")
    sheet = Sheet(1, 1, "r", "A1", 200.0, 100.0, strokes)
    doc = document(sheet)
    assert not doc.audit().errors
    first, second = doc.modelspace().query("DIMENSION")
    assert (first.dxf.dimtype & 7, first.dxf.dimtype & 64) == (6, 64)
    assert tuple(second.dxf.defpoint)[:2] == (20.0, 40.0) and tuple(second.dxf.defpoint2)[:2] == (90.0, 40.0)
    assert (second.dxf.text, second.dxf.actual_measurement) == ("700", 700.0)
    assert len(doc.modelspace()) == 3  # the datum's square stays on the sheet


def test_outlines_of_whole_parts_are_closed_polylines():
    sheet = next(s for s in sheets() if "T1-wing-RIB-36+32" in s.shows)
    place = next(p for p in sheet.placements if p.part == "T1-wing-RIB-36+32")
    part = next(p for p in parts() if p.number == place.part)
    wanted = part.shape.outline * 1000 + (place.dx, place.dy)
    same = [
        e for e in document(sheet).modelspace().query('LWPOLYLINE[layer=="CUT"]')
        if e.closed and len(e) == len(wanted) and np.allclose(np.array(e.get_points("xy")), wanted, rtol=0, atol=1e-6)
    ]  # fmt: skip
    assert len(same) == 1


def test_dxf_repeats_to_the_byte_and_leaves_the_librarys_switch_alone():
    before = ezdxf.options.write_fixed_meta_data_for_testing
    assert dxf(sheets()[0]) == dxf(sheets()[0])
    assert ezdxf.options.write_fixed_meta_data_for_testing == before


def test_dxf_can_be_read_by_the_lenient_reader_too(tmp_path):
    path = tmp_path / "a.dxf"
    path.write_bytes(dxf(sheets()[0]))
    _, auditor = recover.readfile(path)
    assert not auditor.has_errors


def test_svg_is_in_real_millimetres_and_holds_every_stroke():
    for sheet in sheets():
        root = ElementTree.fromstring(svg(sheet))
        assert root.get("width") == "914.4mm" and root.get("height") == "609.6mm"
        assert root.get("viewBox") == "0 0 914.4 609.6"
        found = [e for e in root.iter() if e.tag in (f"{SVG}polygon", f"{SVG}polyline")]
        drawn = [s for layer in LAYERS for s in sheet.on(layer.name) if isinstance(s, Polyline)]
        for have, want in zip(found, drawn, strict=True):
            assert (have.tag == f"{SVG}polygon") == want.closed
            assert_allclose(_read(have.get("points"), sheet.height), want.points, rtol=0, atol=1e-4)  # 4 decimals
        assert len(list(root.iter(f"{SVG}line"))) == len(kinds(sheet, Line))
        assert sorted(t.text for t in root.iter(f"{SVG}text")) == sorted(t.content for t in kinds(sheet, Text))


def _read(points: str, height: float) -> list[tuple[float, float]]:
    pairs = [p.split(",") for p in points.split()]
    return [(float(x), height - float(y)) for x, y in pairs]


def test_svg_carries_its_font_and_repeats():
    content = svg(sheets()[0]).decode("utf-8")
    assert content.count("@font-face") == 2 and "data:font/ttf;base64," in content
    assert svg(sheets()[0]) == content.encode("utf-8")


def test_svg_text_is_turned_about_its_anchor_and_escaped():
    sheet = Sheet(1, 1, "a & b", "A1", 100.0, 80.0, (Text("<R & L>", (10.0, 20.0), 3.3, 90.0, "middle", True),))
    content = svg(sheet).decode("utf-8")
    (text,) = ElementTree.fromstring(content.encode("utf-8")).iter(f"{SVG}text")
    assert text.text == "<R & L>" and text.get("transform") == "rotate(-90 10 60)" and text.get("font-size") == "5"
    assert text.get("class") == "b middle" and re.search(r"\.middle\{text-anchor:middle\}", content)


def test_circles_are_true_circles_in_both():
    sheet = Sheet(1, 1, "c", "A1", 100.0, 80.0, (Circle((30.0, 40.0), 12.5, "cut"),))
    (e,) = document(sheet).modelspace().query("CIRCLE")
    assert (e.dxf.center.x, e.dxf.center.y, e.dxf.radius) == (30.0, 40.0, 12.5)
    (c,) = ElementTree.fromstring(svg(sheet)).iter(f"{SVG}circle")
    assert (c.get("cx"), c.get("cy"), c.get("r")) == ("30", "40", "12.5")


def test_dxf_text_starts_where_middle_text_starts():
    text = Text("middle", (50.0, 40.0), 5.0, align="middle")
    (e,) = document(Sheet(1, 1, "t", "A1", 100.0, 80.0, (text,))).modelspace().query("TEXT")
    assert_allclose(e.dxf.insert.x, 50.0 - width("middle", 5.0) / 2, rtol=0, atol=1e-9)
    assert em(5.0) > 7
