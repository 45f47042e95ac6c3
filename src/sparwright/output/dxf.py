"""One sheet as a DXF (R2018), real millimetres, one layer for each of ours, closed outlines as closed polylines."""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO
from typing import TYPE_CHECKING, Any

from sparwright.base.look import LOOK
from sparwright.output.fonts import FILES
from sparwright.plans.drawing import LAYERS, Area, Circle, Dimension, Line, Polyline, Sheet, Stroke, Text
from sparwright.plans.lettering import width

if TYPE_CHECKING:
    from ezdxf.document import Drawing

MILLIMETRES = 4  # $INSUNITS
DIMENSIONS = "SHEET_DIMENSIONS"
STYLES = {False: "SHEET", True: "SHEET_BOLD"}
LINETYPES = {"solid": "CONTINUOUS", "dash": "SW_DASH", "chain": "SW_CHAIN"}


def dxf(sheet: Sheet) -> bytes:
    """The sheet as DXF text, UTF-8; the same sheet gives the same bytes."""
    from ezdxf.document import Drawing

    with _fixed_dates():
        doc = Drawing.new("R2018")
        doc.units = MILLIMETRES
        _tables(doc)
        space = doc.modelspace()
        shown = {s for d in sheet.dimensions for s in d.strokes}
        for stroke in sheet.strokes:
            if isinstance(stroke, Dimension):
                _dimension(doc, stroke)
            elif stroke not in shown:
                _draw(space, stroke)
        doc.header["$EXTMIN"], doc.header["$EXTMAX"] = (0, 0, 0), (sheet.width, sheet.height, 0)
        doc.header["$LIMMIN"], doc.header["$LIMMAX"] = (0, 0), (sheet.width, sheet.height)
        doc.set_modelspace_vport(sheet.height, (sheet.width / 2, sheet.height / 2))
        _ordered_classes(doc)
        buffer = StringIO()
        doc.write(buffer)
    return buffer.getvalue().encode("utf-8")


@contextmanager
def _fixed_dates() -> Iterator[None]:
    """ezdxf writes the clock and random ids into a file unless told not to."""
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _ordered_classes(doc: Drawing) -> None:
    """Put the class entries in order of name; ezdxf takes some from a set, whose order is another in each process."""
    doc.classes.add_required_classes(doc.dxfversion)
    entries = sorted(doc.classes.classes.items())
    doc.classes.classes.clear()
    doc.classes.classes.update(entries)


def _tables(doc: Drawing) -> None:
    doc.header["$MEASUREMENT"], doc.header["$LUNITS"] = 1, 2
    for bold, name in STYLES.items():
        doc.styles.add(name, font=FILES[bold])
    for dash, name in LINETYPES.items():
        lengths = LOOK.dash(dash)
        if lengths:
            signed = [v if i % 2 == 0 else -v for i, v in enumerate(lengths)]
            doc.linetypes.add(name, [sum(lengths), *signed], description=dash)
    style = doc.dimstyles.add(DIMENSIONS)
    style.dxf.dimtxsty, style.dxf.dimtxt = STYLES[False], LOOK.small
    for layer in LAYERS:
        entry = doc.layers.add(layer.name.upper())
        entry.rgb = _rgb(getattr(LOOK, layer.colour))
        entry.dxf.lineweight = round(LOOK.thin * 100)
        entry.description = layer.meaning


def _rgb(colour: str) -> tuple[int, int, int]:
    r, g, b = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return r, g, b


def _draw(space: Any, stroke: Stroke) -> None:
    if isinstance(stroke, Text):
        _text(space, stroke)
        return
    if isinstance(stroke, Area | Dimension):
        raise TypeError("an area belongs to a picture and is not cut; a dimension stands on the sheet alone")
    style = {"layer": stroke.layer.upper(), "linetype": LINETYPES[stroke.dash]}
    if stroke.weight == "thick":
        style["lineweight"] = round(LOOK.thick * 100)  # type: ignore[assignment]
    match stroke:
        case Line():
            space.add_line(stroke.start, stroke.end, style)
        case Circle():
            space.add_circle(stroke.centre, stroke.radius, style)
        case Polyline():
            space.add_lwpolyline(stroke.points, close=stroke.closed, dxfattribs=style)


def _dimension(doc: Drawing, d: Dimension) -> None:
    """A dimension of the format's own kind, its picture our strokes, its words ours, its measure the true length.

    Group codes as the DXF reference gives them (DIMENSION): kind 0 along a direction, 6 by ordinate from a datum, with
    32 for a picture of its own; 10 a point on the dimension line or the datum, 13 and 14 the points measured or the
    feature and its leader's end, 42 the measure, 1 the words in its place.
    """
    block = doc.blocks.new_anonymous_block(type_char="D")
    for stroke in d.strokes:
        _draw(block, stroke)
    attributes: dict[str, Any] = {
        "layer": d.layer.upper(), "dimstyle": DIMENSIONS, "geometry": block.name, "text": _escaped(d.words),
        "actual_measurement": d.value * 1000, "text_midpoint": d.at,
    }  # fmt: skip
    if d.kind == "along":
        attributes |= {"dimtype": 32, "defpoint": d.at, "defpoint2": d.start, "defpoint3": d.end, "angle": d.turn}
    else:
        along_x = 64 if abs(math.sin(math.radians(d.turn))) < 0.5 else 0
        attributes |= {"dimtype": 32 + 6 + along_x, "defpoint": d.start, "defpoint2": d.end, "defpoint3": d.at}
    doc.modelspace().new_entity("DIMENSION", attributes)


def _text(space: Any, text: Text) -> None:
    """Placed at its left end by our own width, so that another font at the reader's does not move the start."""
    back = {"left": 0.0, "middle": 0.5, "right": 1.0}[text.align] * width(text.content, text.size, text.bold)
    turn = math.radians(text.turn)
    at = (text.anchor[0] - back * math.cos(turn), text.anchor[1] - back * math.sin(turn))
    style = {"layer": text.layer.upper(), "style": STYLES[text.bold], "insert": at, "rotation": text.turn}
    space.add_text(_escaped(text.content), height=text.size, dxfattribs=style)


def _escaped(content: str) -> str:
    """DXF reads %% as the start of a code."""
    return content.replace("%%", "% %")
