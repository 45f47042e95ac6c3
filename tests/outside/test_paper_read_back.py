"""The printed files read back by two libraries that had no part in writing them.

Written by reportlab and pypdf; read by pdfplumber (pdfminer.six) and by pypdfium2 (PDFium). Definitions: 1 in = 25.4 mm
exactly (BIPM SI Brochure, NIST SP 811 B.8), 1 point = 1/72 in, media box and current matrix as ISO 32000-1 7.7.3.3 and
8.3.4 say. Letter is 8 1/2 x 11 in, A4 210 x 297 mm (ISO 216), A1 594 x 841 mm. Tolerance 0.01 mm, a fifth of what a
template point may be off; the files carry numbers to at least 1e-4 point.
"""

from __future__ import annotations

import math
from functools import cache
from io import BytesIO

import numpy as np
import pdfplumber
import pypdfium2
import pytest
import shapely
from numpy.testing import assert_allclose

from sparwright.output.pdf import pdf
from sparwright.output.tiled import tiled_pdf
from sparwright.parts.part import Part, Plate
from sparwright.plans.correction import Correction, Measured, correction
from sparwright.plans.first_page import first_sides
from sparwright.plans.paper import TitleBlock
from sparwright.plans.templates import corrected_sheets, templates
from sparwright.plans.tiled import TiledSet, tiled
from sparwright.plans.tiles import TILE_PAPERS

MM = 25.4 / 72
TITLE = TitleBlock("Whinchat", "T1", "Sparwright 0.1.0", "0123456789abcdef" * 4)
SIZES = {"24x36": (36 * 25.4, 24 * 25.4), "A1": (841.0, 594.0), "letter": (8.5 * 25.4, 11 * 25.4), "A4": (210.0, 297.0)}
LENGTHS = {"24x36": (34.5 * 25.4, 22.5 * 25.4), "A1": (31.5 * 25.4, 21.5 * 25.4)}  # as docs/decisions/paper.md says
ERROR = (0.004, -0.003, 0.003)  # along, across, skew (rad) of a printer


def part(number: str, long: float, deep: float) -> Part:
    ring = np.array([[0, 0], [long, 0.02], [0.9 * long, deep], [0.2 * long, 0.8 * deep]])
    return Part(number=number, name="plate", form="plate", group="g", purpose="p", material="birch-ply", stock="ply",
                places=((0, 0, 0),), mass=0.1, shape=Plate(outline=ring, holes=(), thickness=0.003))  # fmt: skip


PARTS = (part("P1", 0.75, 0.2), part("P2", 0.5, 0.15))


def undone(width: float, height: float) -> Correction:
    """What undoes ERROR, out of lengths by the law of cosines, mm."""
    ab, ad, s = width * (1 + ERROR[0]), height * (1 + ERROR[1]), math.sin(ERROR[2])
    ac, bd = (math.sqrt(ab**2 + ad**2 + k * 2 * ab * ad * s) for k in (1, -1))
    return correction(Measured("sheet", "plotter", "2026-05-04", *(v / 1000 for v in (width, height, ab, ad, ac, bd))))


def printed(xy: np.ndarray) -> np.ndarray:
    """What a printer with ERROR makes of points."""
    x, y = np.asarray(xy).T
    v = y * (1 + ERROR[1])
    return np.column_stack((x * (1 + ERROR[0]) + v * math.sin(ERROR[2]), v * math.cos(ERROR[2])))


@cache
def sheet_file(paper: str, trued: bool = False) -> bytes:
    sheets = templates(PARTS, paper, TITLE)
    if trued:
        sheets = corrected_sheets(sheets, TITLE, undone(*LENGTHS[paper]))
    return pdf(sheets, "t", "p")


@cache
def pages_set(paper: str, trued: bool = False) -> TiledSet:
    undo = undone(*(1000 * v for v in first_sides(TILE_PAPERS[paper]))) if trued else None
    return tiled(templates(PARTS, "24x36", TITLE), TILE_PAPERS[paper], TITLE, undo)


@cache
def pages_file(paper: str, trued: bool = False) -> bytes:
    return tiled_pdf(pages_set(paper, trued), "p")


@cache
def lines(content: bytes, page: int) -> tuple[np.ndarray, np.ndarray]:
    """Straight lines (n, 2, 2) of a page, mm from its lower left corner, and their widths, mm."""
    with pdfplumber.open(BytesIO(content)) as document:
        p = document.pages[page]
        height = float(p.height)
        drawn = [(x["pts"], x["linewidth"]) for x in p.lines if len(x["pts"]) == 2]
    ends = np.array([[(x, height - y) for x, y in pts] for pts, _ in drawn]) * MM
    return ends, np.array([w for _, w in drawn]) * MM


def longest(ends: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The two longest lines that begin at one point: A-B, then A-D, each from A; (2, 2) mm."""
    long = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    one = ends[np.argmax(long)]
    upright = [e for e in ends if abs(e[1, 1] - e[0, 1]) > 100 and np.hypot(*(e[0] - one[0])) < 0.01]
    level = [e for e in ends if abs(e[1, 0] - e[0, 0]) > 100 and np.hypot(*(e[0] - one[0])) < 0.01]
    return max(level, key=lambda e: e[1, 0]), max(upright, key=lambda e: e[1, 1])


@pytest.mark.parametrize("paper", LENGTHS)
def test_sheet_size_and_check_lines_are_what_is_printed_beside_them(paper):
    content = sheet_file(paper)
    document = pypdfium2.PdfDocument(content)
    for i in range(len(document)):
        assert_allclose(np.array(document[i].get_size()) * MM, SIZES[paper], rtol=0, atol=0.01)
        ab, ad = longest(lines(content, i)[0])
        assert_allclose((math.dist(*ab), math.dist(*ad)), LENGTHS[paper], rtol=0, atol=0.01)
        assert abs(np.dot(ab[1] - ab[0], ad[1] - ad[0])) / (math.dist(*ab) * math.dist(*ad)) < 1e-6
        words = document[i].get_textpage().get_text_range()
        for wanted in (f"= {LENGTHS[paper][0]:.1f} mm", f"= {LENGTHS[paper][1]:.1f} mm", "Measured on this print"):
            assert wanted in words


@pytest.mark.parametrize("paper", LENGTHS)
def test_a_corrected_sheet_comes_out_of_the_erring_printer_true(paper):
    true, drawn = (lines(sheet_file(paper, t), 0)[0] for t in (False, True))
    for before, after, wanted in zip(longest(true), longest(drawn), LENGTHS[paper], strict=True):
        assert abs(math.dist(*after) - wanted) > 1.0  # it is drawn wrong on purpose
        assert math.dist(*printed(after)) == pytest.approx(math.dist(*before), abs=0.01)
    ab, ad = (printed(e) for e in longest(drawn))
    assert abs(np.dot(ab[1] - ab[0], ad[1] - ad[0])) / (math.dist(*ab) * math.dist(*ad)) < 1e-5
    words = pypdfium2.PdfDocument(sheet_file(paper, True))[0].get_textpage().get_text_range().replace("\r\n", " ")
    for wanted in ("Corrected for one printer", "For plotter alone", "Measured 2026-05-04", "+0.40 %", "−0.30 %"):
        assert wanted in words


@pytest.mark.parametrize("paper", TILE_PAPERS)
def test_pages_have_their_size_names_and_a_square_of_100_mm_and_4_inches(paper):
    content, made = pages_file(paper), pages_set(paper)
    document = pypdfium2.PdfDocument(content)
    assert len(document) == made.pages
    i = 1
    for sheet in made.sheets:
        assert_allclose(np.array(document[i].get_size()) * MM, SIZES[paper], rtol=0, atol=0.01)
        for k, leaf in enumerate(sheet.pages, i + 1):
            assert_allclose(np.array(document[k].get_size()) * MM, SIZES[paper], rtol=0, atol=0.01)
            words = document[k].get_textpage().get_text_range()
            of = f"sheet {sheet.tiling.sheet.number} of {len(made.sheets)}"
            assert f"{of}, row {leaf.name[0]}, column {leaf.name[1:]}" in words
            assert square(lines(content, k)[0]), leaf.name
        i += 1 + len(sheet.pages)


def square(ends: np.ndarray) -> bool:
    """Whether the page has a slanted cross, and ticks 100 and 101.6 mm from one corner both ways, true to 0.01 mm."""
    slanted = [e for e in ends if np.allclose(np.abs(e[1] - e[0]), 4.0, atol=0.01)]
    ticks = [e for e in ends if abs(math.dist(*e) - 3.0) < 0.01]
    for e in slanted:
        x, y = e.mean(axis=0)
        near = {(round(abs(t[0, 0] - x)), round(abs(t[0, 1] - y))) for t in ticks
                if min(abs(abs(t[0, 0] - x) - v) for v in (0.0, 1.6, 100.0)) < 0.01
                and min(abs(abs(t[0, 1] - y) - v) for v in (0.0, 1.6, 100.0)) < 0.01}  # fmt: skip
        if {(100, 0), (0, 100), (100, 2), (2, 100)} <= near:
            return True
    return False


@pytest.mark.parametrize("trued", (False, True))
@pytest.mark.parametrize("paper", TILE_PAPERS)
def test_pages_laid_cross_on_cross_give_the_check_lines_their_length(paper, trued):
    """As a builder does it: only crosses found in the file join the pages; A, B, D are then measured across them."""
    content, made = pages_file(paper, trued), pages_set(paper, trued)
    first = 2
    for sheet in made.sheets:
        at = {(leaf.tile.row, leaf.tile.column): first + k for k, leaf in enumerate(sheet.pages)}
        place = {(max(at)[0], 0): np.zeros(2)}
        for cell in sorted(at, key=lambda c: (-c[0], c[1])):
            if cell not in place:
                below, beside = (cell[0] + 1, cell[1]), (cell[0], cell[1] - 1)
                other = beside if beside in place else below
                place[cell] = place[other] + joined(content, at[other], at[cell], other == beside, trued)
        right, top, corner = max(c for c in at if c[0] == max(at)[0]), min(c for c in at if c[1] == 0), (max(at)[0], 0)
        a = place[corner] + along(content, at[corner], 0, trued)[0]
        b = place[right] + along(content, at[right], 0, trued)[1]
        d = place[top] + along(content, at[top], 1, trued)[1]
        wanted = [1000 * v for v in sheet.tiling.sides]
        assert_allclose((math.dist(a, b), math.dist(a, d)), wanted, rtol=0, atol=0.02)  # sums of up to five pages
        assert math.dist(b, d) == pytest.approx(math.hypot(*wanted), abs=0.02)
        first += 1 + len(sheet.pages)


def along(content: bytes, page: int, axis: int, trued: bool) -> np.ndarray:
    """The longest line of a page along x or along y, from its beginning, as printed; (2, 2) mm."""
    ends = lines(content, page)[0]
    shift = np.abs(ends[:, 1] - ends[:, 0])
    mine = ends[shift[:, 1 - axis] < 0.01 * shift[:, axis]]
    line = mine[np.argmax(np.abs(mine[:, 1] - mine[:, 0])[:, axis])]
    return out(line[np.argsort(line[:, axis])], trued)


def out(ends: np.ndarray, trued: bool) -> np.ndarray:
    """The lines as the printer of the set prints them: with ERROR where the set is corrected for it."""
    return printed(ends.reshape(-1, 2)).reshape(ends.shape) if trued else ends


def joined(content: bytes, one: int, two: int, level: bool, trued: bool) -> np.ndarray:
    """How far page `two` moves so that its crosses lie on those of page `one`, to its left or below it, mm."""
    p, q = crosses(content, one, trued), crosses(content, two, trued)
    axis = 0 if level else 1
    p, q = p[p[:, axis] > p[:, axis].max() - 0.6], q[q[:, axis] < q[:, axis].min() + 0.6]
    other = 1 - axis
    p, q = p[np.argsort(p[:, other])], q[np.argsort(q[:, other])]
    assert len(p) == len(q) >= 2
    moves = p - q
    assert np.abs(moves - moves[0]).max() < 0.01
    return moves[0]


def crosses(content: bytes, page: int, trued: bool) -> np.ndarray:
    """Middles of thick crosses with arms of 4 mm."""
    ends, wide = lines(content, page)
    long = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    middles = out(ends[(np.abs(long - 8.0) < 0.1) & (wide > 0.3)], trued).mean(axis=1)
    pairs = [m for i, m in enumerate(middles) if any(np.hypot(*(m - n)) < 1e-3 for n in middles[:i])]
    return np.array(pairs)


def test_templates_on_pages_are_where_they_are_on_the_sheet():
    """Read from the page's file: the outline of P1 has the sides it was given."""
    content, made = pages_file("letter"), pages_set("letter")
    ring = PARTS[0].shape.outline * 1000
    wanted = sorted(shapely.LinearRing(ring).length for _ in (0,))
    with pdfplumber.open(BytesIO(content)) as document:
        found = [shapely.LinearRing([(x * MM, y * MM) for x, y in c["pts"][:4]]).length
                 for c in document.pages[2].curves if len(c["pts"]) in (4, 5)]  # fmt: skip
    assert made.sheets[0].pages
    assert min(abs(f - wanted[0]) for f in found) < 0.01
