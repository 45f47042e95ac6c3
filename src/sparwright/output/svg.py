"""One sheet or picture as an SVG in real millimetres, with the lettering's font inside."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Sequence
from html import escape

from sparwright.base.look import LOOK
from sparwright.charts.page import CHART_LAYERS, Picture
from sparwright.output.fonts import FAMILY, subset
from sparwright.plans.drawing import LAYERS, Area, Circle, Dimension, Layer, Line, Page, Polyline, Sheet, Stroke, Text
from sparwright.plans.lettering import em


def svg(sheet: Sheet, characters: str = "") -> bytes:
    """The sheet as SVG, UTF-8. `characters` beyond the sheet's own let a set of sheets share one font subset."""
    head = f"<title>{escape(sheet.title)}, sheet {sheet.number} of {sheet.total}</title>\n"
    return _document(sheet, head, LAYERS, _style(characters or lettered((sheet,)), LOOK.dashes))


def picture_svg(picture: Picture) -> bytes:
    """A picture as SVG, UTF-8, with its words for who cannot see it."""
    head = f"<title>{escape(picture.title)}</title>\n<desc>{escape(picture.words)}</desc>\n"
    dashes = (*((name, tuple(v * LOOK.shorter for v in d)) for name, d in LOOK.dashes), *LOOK.chart_dashes)
    return _document(picture, head, CHART_LAYERS, _style(lettered((picture,)), dashes))


def _document(page: Page, head: str, layers: Sequence[Layer], style: str) -> bytes:
    size = f'width="{_n(page.width)}mm" height="{_n(page.height)}mm" viewBox="0 0 {_n(page.width)} {_n(page.height)}"'
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>\n',
        f'<svg xmlns="http://www.w3.org/2000/svg" {size}>\n',
        head,
        f"<style>{style}</style>\n",
    ]
    for layer in layers:
        parts += _layer(layer, [s for s in page.strokes if s.layer == layer.name], page.height)
    parts.append("</svg>\n")
    return "".join(parts).encode("utf-8")


def lettered(sheets: Sequence[Page]) -> str:
    """Every character on the sheets, sorted."""
    return "".join(sorted({c for sheet in sheets for s in sheet.strokes if isinstance(s, Text) for c in s.content}))


def _style(characters: str, lengths: Sequence[tuple[str, tuple[float, ...]]]) -> str:
    faces = [
        f'@font-face{{font-family:"{FAMILY}";font-weight:{600 if bold else 400};'
        f"src:url(data:font/ttf;base64,{b64encode(subset(characters, bold)).decode('ascii')})}}"
        for bold in (False, True)
    ]
    dashes = [f".{name}{{stroke-dasharray:{' '.join(map(_n, d))}}}" for name, d in lengths if d]
    return "".join(
        (
            *faces,
            f"svg{{fill:none;stroke-width:{LOOK.thin};stroke-linejoin:round}}",
            f".thick{{stroke-width:{LOOK.thick}}}",
            *dashes,
            f'text{{font-family:"{FAMILY}",sans-serif;font-kerning:none;font-variant-ligatures:none;stroke:none;white-space:pre}}',
            ".b{font-weight:600}.middle{text-anchor:middle}.right{text-anchor:end}",
        )
    )


def _layer(layer: Layer, strokes: Sequence[Stroke], height: float) -> list[str]:
    if not strokes:
        return []
    colour = getattr(LOOK, layer.colour)
    head = f'<g id="{layer.name}" stroke="{colour}"><desc>{escape(layer.meaning)}</desc>\n'
    return [head, *(_stroke(s, height, colour) for s in strokes), "</g>\n"]


def _stroke(stroke: Stroke, height: float, colour: str) -> str:
    match stroke:
        case Text():
            return _text(stroke, height, colour)
        case Line():
            (ax, ay), (bx, by) = stroke.start, stroke.end
            ends = f'x1="{_n(ax)}" y1="{_n(height - ay)}" x2="{_n(bx)}" y2="{_n(height - by)}"'
            return f"<line{_class(stroke.weight, stroke.dash)} {ends}/>\n"
        case Circle():
            x, y = stroke.centre
            at = f'cx="{_n(x)}" cy="{_n(height - y)}" r="{_n(stroke.radius)}"'
            return f"<circle{_class(stroke.weight, stroke.dash)} {at}/>\n"
        case Polyline():
            points = " ".join(f"{_n(x)},{_n(height - y)}" for x, y in stroke.points)
            kind = "polygon" if stroke.closed else "polyline"
            return f'<{kind}{_class(stroke.weight, stroke.dash)} points="{points}"/>\n'
        case Area():
            points = " ".join(f"{_n(x)},{_n(height - y)}" for x, y in stroke.points)
            return f'<polygon stroke="none" fill="{LOOK.tone(stroke.tone)}" points="{points}"/>\n'
        case Dimension():
            return ""  # its strokes are on the sheet


def _text(text: Text, height: float, colour: str) -> str:
    x, y = text.anchor[0], height - text.anchor[1]
    turn = f' transform="rotate({_n(-text.turn)} {_n(x)} {_n(y)})"' if text.turn else ""
    names = _class("b" if text.bold else "", "" if text.align == "left" else text.align)
    at = f'x="{_n(x)}" y="{_n(y)}" font-size="{_n(em(text.size))}" fill="{colour}"'
    return f"<text{names} {at}{turn}>{escape(text.content)}</text>\n"


def _class(*names: str) -> str:
    kept = [n for n in names if n not in ("", "thin", "solid")]
    return f' class="{" ".join(kept)}"' if kept else ""


def _n(value: float) -> str:
    """A number to a tenth of a micrometre, without trailing noughts."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
