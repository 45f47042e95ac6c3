"""Sheets as one PDF: vector lines, embedded TrueType subsets, searchable text, layers, same design same bytes.

PDF optional content (layers) and viewer preferences: iso-32000-1, 8.11 and 12.2 (memory). The file asks
the print dialog not to scale.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from io import BytesIO
from typing import TYPE_CHECKING, Any

from sparwright.base.look import LOOK
from sparwright.output.fonts import NAMES, font_file
from sparwright.plans.drawing import LAYERS, Area, Circle, Dimension, Layer, Line, Polyline, Sheet, Stroke, Text
from sparwright.plans.lettering import em

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

POINT = 72 / 25.4  # points to the millimetre


def pdf(sheets: Sequence[Sheet], title: str, program: str) -> bytes:
    """All sheets as pages of one PDF at full size. Raises ValueError for no sheets."""
    if not sheets:
        raise ValueError("a PDF needs at least one sheet")
    return layered(_pages(sheets, title, program), title, program)


def _pages(sheets: Sequence[Sheet], title: str, program: str) -> bytes:
    buffer = BytesIO()
    canvas = blank(buffer)
    for sheet in sheets:
        named = f"Sheet {sheet.number} of {sheet.total}: {', '.join(sheet.shows) or sheet.title}"
        begin(canvas, sheet.width, sheet.height, f"sheet-{sheet.number}", named)
        strokes_on(canvas, sheet.strokes)
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def blank(buffer: BytesIO) -> Canvas:
    """A canvas without clock or chance, with our lettering."""
    from reportlab import rl_config
    from reportlab.pdfgen.canvas import Canvas

    rl_config.useA85 = 0  # streams as bytes: a fifth smaller, and no time spent on writing them as text
    _register()
    return Canvas(buffer, invariant=1, pageCompression=1, initialFontName=NAMES[False])


def begin(canvas: Canvas, width: float, height: float, key: str = "", bookmark: str = "") -> None:
    """A new page, mm, with a bookmark where it has a key."""
    canvas.setPageSize((width * POINT, height * POINT))
    canvas.setLineCap(0)
    canvas.setLineJoin(1)
    if key:
        canvas.bookmarkPage(key)
        canvas.addOutlineEntry(bookmark, key, level=0)


def strokes_on(canvas: Canvas, strokes: Sequence[Stroke]) -> None:
    """The strokes, layer by layer."""
    for i, layer in enumerate(LAYERS):
        _layer(canvas, i, layer, [s for s in strokes if s.layer == layer.name])


def operators(canvas: Canvas, stroke: Stroke) -> str:
    """What a stroke is in the page's own language, to be put on several pages of one document."""
    kept, canvas._code = canvas._code, []
    _stroke(canvas, stroke)
    written, canvas._code = canvas._code, kept
    return "\n".join(written)


def _register() -> None:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    for bold, name in NAMES.items():
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, str(font_file(bold))))


def _layer(canvas: Canvas, i: int, layer: Layer, strokes: Sequence[Stroke]) -> None:
    if not strokes:
        return
    layer_begins(canvas, i, layer)
    for stroke in strokes:
        _stroke(canvas, stroke)
    layer_ends(canvas)


def layer_begins(canvas: Canvas, i: int, layer: Layer) -> None:
    """What follows is of that layer, the i-th of LAYERS, in its colour."""
    colour = getattr(LOOK, layer.colour)
    canvas._code.append(f"/OC /L{i} BDC")
    canvas.setStrokeColor(colour)
    canvas.setFillColor(colour)


def layer_ends(canvas: Canvas) -> None:
    """No more of that layer."""
    canvas._code.append("EMC")


def _stroke(canvas: Canvas, stroke: Stroke) -> None:
    if isinstance(stroke, Area):
        raise TypeError("an area belongs to a picture; pictures are written as SVG")
    if isinstance(stroke, Text):
        _text(canvas, stroke)
    elif not isinstance(stroke, Dimension):  # whose strokes are on the sheet
        canvas.setLineWidth((LOOK.thick if stroke.weight == "thick" else LOOK.thin) * POINT)
        canvas.setDash([length * POINT for length in LOOK.dash(stroke.dash)])
        _line(canvas, stroke)


def _line(canvas: Canvas, stroke: Polyline | Line | Circle) -> None:
    match stroke:
        case Line():
            canvas.line(*(v * POINT for v in (*stroke.start, *stroke.end)))
        case Circle():
            canvas.circle(stroke.centre[0] * POINT, stroke.centre[1] * POINT, stroke.radius * POINT)
        case Polyline():
            path = canvas.beginPath()
            path.moveTo(stroke.points[0][0] * POINT, stroke.points[0][1] * POINT)
            for x, y in stroke.points[1:]:
                path.lineTo(x * POINT, y * POINT)
            if stroke.closed:
                path.close()
            canvas.drawPath(path)


def _text(canvas: Canvas, text: Text) -> None:
    from reportlab.pdfbase.pdfmetrics import stringWidth

    name, size = NAMES[text.bold], em(text.size) * POINT
    long = stringWidth(text.content, name, size)
    back = {"left": 0.0, "middle": long / 2, "right": long}[text.align]
    c, s = math.cos(math.radians(text.turn)), math.sin(math.radians(text.turn))
    x, y = text.anchor[0] * POINT - back * c, text.anchor[1] * POINT - back * s
    words = canvas.beginText()
    words.setFont(name, size)
    words.setTextTransform(c, s, -s, c, x, y)
    words.textOut(text.content)
    canvas.drawText(words)


def layered(content: bytes, title: str, program: str) -> bytes:
    """The same pages with named layers, honest metadata, and no scaling asked of the printer."""
    from pypdf import PdfReader, PdfWriter
    from pypdf.generic import ArrayObject, DictionaryObject, NameObject, TextStringObject

    writer = PdfWriter(clone_from=PdfReader(BytesIO(content)))
    groups = [_group(writer, layer) for layer in LAYERS]
    listed = ArrayObject(groups)
    writer.root_object[NameObject("/OCProperties")] = DictionaryObject(
        {
            NameObject("/OCGs"): listed,
            NameObject("/D"): DictionaryObject(
                {NameObject("/ON"): ArrayObject(groups), NameObject("/Order"): ArrayObject(groups)}
            ),
        }
    )
    names = DictionaryObject({NameObject(f"/L{i}"): group for i, group in enumerate(groups)})
    held = writer._add_object(names)
    for page in writer.pages:
        resources = page["/Resources"].get_object()
        assert isinstance(resources, DictionaryObject)
        resources[NameObject("/Properties")] = held
    writer.root_object[NameObject("/ViewerPreferences")] = DictionaryObject(
        {NameObject("/PrintScaling"): NameObject("/None")}
    )
    writer.root_object[NameObject("/Lang")] = TextStringObject("en-GB")
    writer.metadata = {"/Title": title, "/Creator": program, "/Producer": program}
    buffer = BytesIO()
    writer.write(buffer)
    return buffer.getvalue()


def _group(writer: Any, layer: Layer) -> Any:
    from pypdf.generic import DictionaryObject, NameObject, TextStringObject

    name = TextStringObject(f"{layer.name}: {layer.meaning}")
    return writer._add_object(DictionaryObject({NameObject("/Type"): NameObject("/OCG"), NameObject("/Name"): name}))
