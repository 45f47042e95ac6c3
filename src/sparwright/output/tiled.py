"""A tiled set as one PDF: each stroke is put into words once and laid on every page that shows a part of it."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from typing import TYPE_CHECKING

import shapely

from sparwright.output.pdf import POINT, begin, blank, layer_begins, layer_ends, layered, operators, strokes_on
from sparwright.plans.clash import line_of
from sparwright.plans.correction import Matrix
from sparwright.plans.drawing import LAYERS, Box, Stroke, Text
from sparwright.plans.lettering import box
from sparwright.plans.paper import Paper
from sparwright.plans.tile_page import Leaf
from sparwright.plans.tiled import TiledSet, TiledSheet

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas


def tiled_pdf(made: TiledSet, program: str) -> bytes:
    """The page to print first, then each sheet's map and pages, at full size."""
    buffer = BytesIO()
    canvas = blank(buffer)
    turn = _turned(made)
    _leaf(canvas, made.paper, made.first, turn, "first")
    for i, sheet in enumerate(made.sheets):
        for k, leaf in enumerate(sheet.maps):
            _leaf(canvas, made.paper, leaf, "", f"map-{i}-{k}")
        _sheet(canvas, made.paper, sheet, turn)
    canvas.save()
    return layered(buffer.getvalue(), made.title, program)


def _turned(made: TiledSet) -> str:
    """The correction about the middle of the page as an operator; empty for none."""
    if made.undo is None:
        return ""
    return _matrix(made.undo.inverse, made.paper)


def _matrix(inverse: Matrix, paper: Paper) -> str:
    (a, b), (c, d) = inverse
    x, y = paper.width / 2 * POINT, paper.height / 2 * POINT
    e, f = x - a * x - b * y, y - c * x - d * y
    return f"{a:.9f} {c:.9f} {b:.9f} {d:.9f} {e:.6f} {f:.6f} cm"


def _leaf(canvas: Canvas, paper: Paper, leaf: Leaf, turn: str, key: str) -> None:
    """A page that shows nothing of a sheet."""
    begin(canvas, paper.width, paper.height, key, leaf.name)
    _own(canvas, leaf, turn)
    canvas.showPage()


def _own(canvas: Canvas, leaf: Leaf, turn: str) -> None:
    strokes_on(canvas, leaf.fixed)
    if leaf.true:
        canvas._code.append(f"q {turn}".rstrip())
        strokes_on(canvas, leaf.true)
        canvas._code.append("Q")


def _sheet(canvas: Canvas, paper: Paper, sheet: TiledSheet, turn: str) -> None:
    strokes = sheet.tiling.strokes
    written = [operators(canvas, s) for s in strokes]
    tree = shapely.STRtree([shapely.Polygon(box(s)) if isinstance(s, Text) else line_of(s) for s in strokes])
    for leaf in sheet.pages:
        assert leaf.tile is not None
        window = leaf.tile.window
        begin(canvas, paper.width, paper.height)
        _own(canvas, leaf, turn)
        shown = sorted(tree.query(shapely.box(window.left, window.bottom, window.right, window.top), "intersects"))
        canvas._code.append(f"q {turn}".rstrip())
        canvas._code.append(_clipped(window, leaf.tile.dx, leaf.tile.dy))
        _part(canvas, [(strokes[i], written[i]) for i in shown])
        canvas._code.append("Q")
        canvas.showPage()


def _clipped(window: Box, dx: float, dy: float) -> str:
    """Only what is in the window, and the sheet's own place for its lower left corner."""
    at = f"1 0 0 1 {dx * POINT:.6f} {dy * POINT:.6f} cm"
    x, y, w, h = (v * POINT for v in (window.left, window.bottom, window.width, window.height))
    return f"{at} {x:.6f} {y:.6f} {w:.6f} {h:.6f} re W n"


def _part(canvas: Canvas, shown: Sequence[tuple[Stroke, str]]) -> None:
    for i, layer in enumerate(LAYERS):
        code = [words for stroke, words in shown if stroke.layer == layer.name]
        if code:
            layer_begins(canvas, i, layer)
            canvas._code.extend(code)
            layer_ends(canvas)
