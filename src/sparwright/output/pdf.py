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
from sparwright.plans.drawing import LAYERS, Area, Circle, Layer, Line, Polyline, Sheet, Stroke, Text
from sparwright.plans.lettering import em

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

POINT = 72 / 25.4  # points to the millimetre


def pdf(sheets: Sequence[Sheet], title: str, program: str) -> bytes:
    """All sheets as pages of one PDF at full size. Raises ValueError for no sheets."""
    if not sheets:
        raise ValueError("a PDF needs at least one sheet")
    return _layered(_pages(sheets, title, program), title, program)


def _pages(sheets: Sequence[Sheet], title: str, program: str) -> bytes:
    from reportlab.pdfgen.canvas import Canvas

    _register()
    buffer = BytesIO()
    canvas = Canvas(buffer, invariant=1, pageCompression=1, initialFontName=NAMES[False])
    for sheet in sheets:
        canvas.setPageSize((sheet.width * POINT, sheet.height * POINT))
        canvas.setLineCap(0)
        canvas.setLineJoin(1)
        _bookmark(canvas, sheet)
        for i, layer in enumerate(LAYERS):
            _layer(canvas, i, layer, sheet.on(layer.name))
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _register() -> None:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    for bold, name in NAMES.items():
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, str(font_file(bold))))


def _bookmark(canvas: Canvas, sheet: Sheet) -> None:
    key = f"sheet-{sheet.number}"
    canvas.bookmarkPage(key)
    canvas.addOutlineEntry(
        f"Sheet {sheet.number} of {sheet.total}: {', '.join(sheet.shows) or sheet.title}", key, level=0
    )


def _layer(canvas: Canvas, i: int, layer: Layer, strokes: Sequence[Stroke]) -> None:
    if not strokes:
        return
    colour = getattr(LOOK, layer.colour)
    canvas._code.append(f"/OC /L{i} BDC")
    canvas.setStrokeColor(colour)
    canvas.setFillColor(colour)
    for stroke in strokes:
        if isinstance(stroke, Area):
            raise TypeError("an area belongs to a picture; pictures are written as SVG")
        if isinstance(stroke, Text):
            _text(canvas, stroke)
        else:
            canvas.setLineWidth((LOOK.thick if stroke.weight == "thick" else LOOK.thin) * POINT)
            canvas.setDash([length * POINT for length in LOOK.dash(stroke.dash)])
            _line(canvas, stroke)
    canvas._code.append("EMC")


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


def _layered(content: bytes, title: str, program: str) -> bytes:
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
