"""The PDF read back with another library: every template point where it was computed, on the whole sheet."""

from __future__ import annotations

from functools import cache
from io import BytesIO

import numpy as np
import pdfplumber
import pypdf
import pypdfium2
import pytest
from numpy.testing import assert_allclose
from paper_parts import TITLE, parts

from sparwright.output.pdf import pdf
from sparwright.parts.part import Plate
from sparwright.plans.drawing import LAYERS, Placement, Polyline, Sheet, Text
from sparwright.plans.paper import PAPERS, check_corners, squares
from sparwright.plans.templates import templates

ALLOWED = 0.05  # mm: that a template point may be off
MM = 25.4 / 72


@cache
def sheets(paper: str) -> tuple[Sheet, ...]:
    return templates(parts(), paper, TITLE)


@cache
def written(paper: str) -> bytes:
    return pdf(sheets(paper), "test set", TITLE.program)


@cache
def read(paper: str) -> tuple[tuple[np.ndarray, ...], ...]:
    """Of each page: (points of all paths, ends of all lines), mm, y up."""
    pages = []
    with pdfplumber.open(BytesIO(written(paper))) as document:
        for page in document.pages:
            height = float(page.height)
            paths = [*page.curves, *page.lines, *page.rects]
            points = [(x * MM, (height - y) * MM) for path in paths for x, y in path["pts"]]
            pages.append((np.array(points), np.array([float(page.width) * MM, height * MM])))
    return tuple(pages)


def nearest(wanted: np.ndarray, found: np.ndarray) -> np.ndarray:
    """Distance of each wanted point to the nearest found one, mm."""
    return np.array([np.hypot(*(found - w).T).min() for w in wanted])


def plate(number: str) -> Plate:
    return next(p.shape for p in parts() if p.number == number)


def computed(place: Placement) -> np.ndarray:
    """Points of every ring of the part on paper, mm: 1000 * part + shift. Independent of the drawing code."""
    shape = plate(place.part)
    rings = [shape.outline, *shape.holes, *([] if shape.blank is None else [shape.blank])]
    return np.vstack(rings) * 1000.0 + (place.dx, place.dy)


@pytest.mark.parametrize("paper", PAPERS)
def test_every_template_point_lies_where_it_was_computed(paper):
    worst, seen = 0.0, 0
    for sheet, (points, size) in zip(sheets(paper), read(paper), strict=True):
        assert_allclose(size, (sheet.width, sheet.height), rtol=0, atol=1e-3)  # page size written to 1e-4 pt
        for place in (p for p in sheet.placements if p.pieces == 1):
            wanted = computed(place)
            off = nearest(wanted, points)
            worst, seen = max(worst, off.max(initial=0.0)), seen + len(wanted)
    assert seen > 900
    assert worst < ALLOWED


@pytest.mark.parametrize("paper", PAPERS)
def test_pieces_of_a_split_part_hold_every_point_between_them(paper):
    for number in ("T1-wing-RIB-0", "T1-fuselage-SIDE"):
        shape = plate(number)
        wanted = np.vstack([shape.outline, *shape.holes]) * 1000.0
        off = np.full(len(wanted), np.inf)
        pieces = set()
        for sheet, (points, _) in zip(sheets(paper), read(paper), strict=True):
            for place in (p for p in sheet.placements if p.part == number):
                off = np.minimum(off, nearest(wanted + np.array([place.dx, place.dy]), points))
                pieces.add((place.piece, place.pieces))
        count = next(iter(pieces))[1]
        assert count > 1 and pieces == {(i, count) for i in range(1, count + 1)}
        assert off.max() < ALLOWED


@pytest.mark.parametrize("paper", PAPERS)
def test_squares_and_check_lines_are_true_on_every_sheet(paper):
    p = PAPERS[paper]
    a, b, c, d = check_corners(p)
    corners = [a, b, c, d]
    for (x, y), side, _ in squares(p):
        corners += [(x, y), (x + side, y), (x + side, y + side), (x, y + side)]
    assert {side for _, side, _ in squares(p)} == {100.0, 4 * 25.4}
    crossings = np.array([*corners[4:], a, b, d])  # C is the middle of a cross, no end of a line
    for points, _ in read(paper):
        assert nearest(crossings, points).max() < ALLOWED
    halves = np.array([b[0] - a[0], d[1] - a[1]]) / 12.7
    assert_allclose(halves, np.round(halves), rtol=0, atol=1e-9)
    rest = 2 * (12.7 + 6.0) + 12.7  # border and cross at both ends, and less than half an inch left over
    assert b[0] - a[0] > p.width - rest and d[1] - a[1] > p.height - rest


def test_check_line_of_the_24_by_36_is_the_length_printed_beside_it():
    (ax, _), (bx, _), _, _ = check_corners(PAPERS["24x36"])
    assert_allclose(bx - ax, 34.5 * 25.4, rtol=0, atol=1e-9)
    words = [s.content for s in sheets("24x36")[0].on("check") if isinstance(s, Text)]
    assert "Check line A–B: 34 1/2″ = 876.3 mm, ticks 1″" in words


def test_all_fonts_are_embedded_truetype_subsets():
    found = set()
    for page in pypdf.PdfReader(BytesIO(written("24x36"))).pages:
        for font in page["/Resources"]["/Font"].values():
            font = font.get_object()
            descriptor = font["/FontDescriptor"].get_object()
            assert font["/Subtype"] == "/TrueType" and "/FontFile2" in descriptor and "/ToUnicode" in font
            assert "+" in font["/BaseFont"]
            found.add(font["/BaseFont"].split("+")[1])
    assert found == {"SourceSansPro-Regular", "SourceSansPro-Semibold"}


def test_text_can_be_searched_marks_and_fractions_too():
    with pdfplumber.open(BytesIO(written("24x36"))) as document:
        words = "\n".join(page.extract_text() for page in document.pages)
    for part in parts():
        assert part.number in words
    for wanted in (
        "34 1/2″ = 876.3 mm",
        "Figures govern over lines",
        "make 2, right hand",
        "Whinchat T1",
        "0123456789ab",
    ):
        assert wanted in words


def test_text_starts_at_its_anchor_and_has_capitals_of_its_size():
    sheet = sheets("24x36")[0]
    wanted = next(s for s in sheet.strokes if isinstance(s, Text) and s.content == "Before you cut")
    with pdfplumber.open(BytesIO(written("24x36"))) as document:
        page = document.pages[0]
        found = page.search("Before you cut")[0]["chars"][0]
        x, y = found["matrix"][4] * MM, found["matrix"][5] * MM
        assert_allclose((x, y), wanted.anchor, rtol=0, atol=0.01)  # mm: a fifth of what a point may be off
        assert_allclose(found["size"] * MM * 0.660, wanted.size, rtol=0, atol=0.01)


def test_layers_are_named_and_every_mark_of_one_is_closed():
    reader = pypdf.PdfReader(BytesIO(written("24x36")))
    groups = reader.trailer["/Root"]["/OCProperties"]["/OCGs"]
    assert [g.get_object()["/Name"].split(":")[0] for g in groups] == [layer.name for layer in LAYERS]
    for page in reader.pages:
        content = page.get_contents().get_data()
        assert content.count(b" BDC") == content.count(b"EMC") > 5
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_closed_lines_are_closed_paths():
    for sheet, page in zip(sheets("24x36"), pypdf.PdfReader(BytesIO(written("24x36"))).pages, strict=True):
        closed = sum(isinstance(s, Polyline) and s.closed for s in sheet.strokes)
        operators = [op for _, op in pypdf.generic.ContentStream(page.get_contents(), None).operations]
        assert operators.count(b"h") + operators.count(b"s") == closed >= 4


def test_same_sheets_give_the_same_bytes():
    again = pdf(templates(parts(), "24x36", TITLE), "test set", TITLE.program)
    assert again == written("24x36")
    assert b"/CreationDate" not in again or b"D:2000" in again


def test_inked_square_measures_100_mm_in_a_raster():
    """Rendered by a third library at 254 dpi: pixels of 0.1 mm, so a line of 0.18 mm is two or three of them."""
    image = pypdfium2.PdfDocument(written("24x36"))[0].render(scale=254 / 72, grayscale=True).to_numpy()
    (x, y), side, _ = squares(PAPERS["24x36"])[0]
    row = image[round((609.6 - y - 20) * 10), round((x - 5) * 10) : round((x + side + 5) * 10)]
    dark = np.flatnonzero(row < 128)
    assert_allclose((dark.max() - dark.min() + 1) / 10, side, rtol=0, atol=0.35)  # a line's width and a pixel
