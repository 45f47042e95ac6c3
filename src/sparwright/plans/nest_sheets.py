"""Nests on paper: every sheet of stock to scale, its pieces numbered where they lie, the table of numbers beside."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from sparwright.base.quantity import inches, millimetres
from sparwright.data.loader import material
from sparwright.family.buying import Buying
from sparwright.maths.nesting import Way, laid
from sparwright.plans.drawing import DRAFTING, Line, Polyline, Sheet, Stroke, Text, moved
from sparwright.plans.lettering import box, paragraph
from sparwright.plans.paper import TitleBlock, paper
from sparwright.plans.shop_sheet import Block, clear_width, lines, shop_sheets
from sparwright.plans.splice_blocks import joint_words, splice_blocks
from sparwright.stock.needs import FACED
from sparwright.stock.nests import Nest, Nests, Placed, size_words

SCALES = (1, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15)
HIGHEST = ((6, 120.0), (14, 160.0), (40, 250.0), (10**9, 490.0))  # (pieces up to, mm on paper a sheet may be high)
COLUMN = 128.0  # mm, of the table
CUT_OFF = 0.7  # of a sheet: what is used less than this far is drawn that far only
BEYOND = 25.0  # mm on paper beyond the last piece
NEAR, FAR = 3.0, 90.0  # mm from a piece to a number that has no room inside


def nest_sheets(found: Nests, buying: Buying, title: TitleBlock, paper_name: str = "24x36") -> tuple[Sheet, ...]:
    """The sheets; none where nothing is nested."""
    if not found.nests:
        return ()
    p = paper(paper_name)
    room = clear_width(p)
    blocks = [_block(n, i, room, title.model) for n in found.nests for i in range(len(n.sheets))]
    blocks += splice_blocks([s for n in found.nests for s in n.spliced], buying, room, title.model)
    blocks += not_placed([t.sentence for t in found.told], "In no nest", room)
    return shop_sheets(blocks, p.name, "Nests of sheet parts", _words(buying, title), title)


def not_placed(sentences: Sequence[str], head: str, room: float) -> list[Block]:
    """What could not be put on stock, a sentence each."""
    if not sentences:
        return []
    words, y = paragraph(head, (0.0, 0.0), DRAFTING.middle, room, DRAFTING.pitch, bold=True)
    texts, y = lines(sentences, (0.0, y), room)
    return [Block(head, (*words, *texts), -y)]


def _words(buying: Buying, title: TitleBlock) -> str:
    c = buying.cutting
    return (
        f"Each nest to the scale beside it; figures govern, and pieces are marked from their templates. {title.model}- "
        f"is left off the part numbers. {millimetres(c.sheet_gap)} between pieces for the cut, "
        f"{millimetres(c.sheet_margin)} free along the edges. Arrow: face grain. *: turned over, marked on its other "
        "face. Per cent used: within the outlines, holes not taken off."
    )


def _block(nest: Nest, at: int, room: float, model: str) -> Block:
    """One sheet of stock: heading, drawing, table."""
    d, placed = DRAFTING, nest.sheets[at]
    numbers = {name: i for i, name in enumerate(sorted({p.blank.name for p in placed}), 1)}
    used = sum(p.blank.area for p in placed) / (nest.length * nest.width)
    reach = max(float(_outline(p)[:, 0].max()) for p in placed)
    for high in (mm for most, mm in HIGHEST if len(placed) <= most):
        scale = next(s for s in SCALES if nest.width * 1000 / s <= high and _drawn_to(nest, reach, s) / s <= room)
        long = _drawn_to(nest, reach, scale)
        drawing, missed = _drawn(nest, placed, numbers, long, scale)
        if not missed:
            break
    name = f"{nest.stock.words}, sheet {at + 1} of {len(nest.sheets)}, {size_words(nest)}"
    proof = f"{nest.proof}; " if at == 0 else ""
    proof += "nested anew: earlier prints of it do not hold; " if nest.anew else ""
    head, y = paragraph(
        f"{name}: {proof}{100 * used:.0f} % used; 1 : {scale:g}", (0.0, 0.0), d.middle, room, d.pitch, bold=True
    )
    low = -nest.width * 1000 / scale
    table = [f"{i}  {_named(n, placed, model)}" for n, i in numbers.items()]
    table += [f"without room for its number: {', '.join(missed)}"] if missed else []
    right = long / scale + 12.0
    beside = int((room - right) // COLUMN)
    if beside >= 1 and len(table) * d.pitch * d.small <= beside * max(-low, 60.0):
        words, bottom = _columns(table, right, y, beside)
    else:
        words, bottom = _columns(table, 0.0, y + low - 8.0, int(room // COLUMN))
    return Block(name, (*head, *(moved(s, 0.0, y + low) for s in drawing), *words), -min(y + low, bottom))


def _drawn_to(nest: Nest, reach: float, scale: float) -> float:
    """How far the sheet is drawn, mm: whole, or a little beyond its last piece where most of it is unused."""
    whole = nest.length * 1000
    return min(reach + BEYOND * scale, whole) if reach < CUT_OFF * whole else whole


def _named(name: str, placed: Sequence[Placed], model: str) -> str:
    count = Counter(p.way.over for p in placed if p.blank.name == name)
    whole = count.total()
    span = next(p.blank.span for p in placed if p.blank.name == name)
    joints = joint_words(span.piece, span.pieces)
    return name.removeprefix(f"{model}-") + joints + (f" × {whole}" if whole > 1 else "")


def _columns(table: Sequence[str], x: float, y: float, columns: int) -> tuple[tuple[Text, ...], float]:
    """The lines of the table in columns side by side; also the y below the longest."""
    share = -(-len(table) // columns)
    texts: list[Text] = []
    low = y
    for c in range(columns):
        more, bottom = lines(table[c * share : (c + 1) * share], (x + c * COLUMN, y), COLUMN - 6.0)
        texts += more
        low = min(low, bottom)
    return tuple(texts), low


def _outline(p: Placed) -> np.ndarray:
    return laid(p.blank.ring, p.way, p.x, p.y)


def _holes(p: Placed) -> Iterator[np.ndarray]:
    """Holes of a whole piece where it lies, mm."""
    if p.blank.span.pieces > 1:
        return
    anchor = laid(p.blank.ring, p.way)[0]
    for hole in p.blank.need.holes:
        both = np.vstack([p.blank.ring[0], hole * 1000.0])
        turned = _turned(both, p.way)
        yield turned[1:] - turned[0] + anchor + (p.x, p.y)


def _turned(points: np.ndarray, way: Way) -> np.ndarray:
    moved_there = laid(points, way)
    return np.asarray(moved_there)


def _drawn(
    nest: Nest, placed: Sequence[Placed], numbers: dict[str, int], long: float, scale: float
) -> tuple[tuple[Stroke, ...], list[str]]:
    """The sheet of stock with its lower left corner at the origin, and numbers that found no room."""
    k, high, wide = 1 / scale, nest.width * 1000 / scale, long / scale
    strokes: list[Stroke] = [*_edge(wide, high, long < nest.length * 1000)]
    rings = [_outline(p) * k for p in placed]
    for p, ring in zip(placed, rings, strict=True):
        strokes.append(Polyline(_points(ring), "cut", closed=True))
        strokes += [Polyline(_points(hole * k), "mark", closed=True) for hole in _holes(p)]
    labels = [f"{numbers[p.blank.name]}{'*' if p.way.over else ''}" for p in placed]
    holes = [shapely.Polygon(h * k) for p in placed for h in _holes(p)]
    lettering, missed = _labels(rings, labels, holes, shapely.box(0, 0, wide, high))
    faced = material(nest.stock.material).kind in FACED
    return (*strokes, *lettering, *(_arrow(wide / 2, high - 1.2, wide) if faced else ())), missed


def _points(ring: np.ndarray) -> tuple[tuple[float, float], ...]:
    """A ring as it is drawn at that scale, simplified to a twentieth of a millimetre on paper."""
    line = shapely.Polygon(ring).simplify(0.05).exterior.coords[:-1]
    return tuple((round(float(x), 3), round(float(y), 3)) for x, y in line)


def _edge(wide: float, high: float, broken: bool) -> Iterator[Stroke]:
    """The sheet's edge; a broken line at the right where it goes on unused."""
    yield Polyline(((wide, 0.0), (0.0, 0.0), (0.0, high), (wide, high)), "frame", weight="thick")
    if broken:
        steps = max(4, int(high // 30) * 2)
        zigzag = [(wide + (3.0 if i % 2 else 0.0), high * i / steps) for i in range(steps + 1)]
        yield Polyline(tuple(zigzag), "frame")
    else:
        yield Line((wide, 0.0), (wide, high), "frame", "thick")


def _arrow(x: float, y: float, wide: float) -> Iterator[Stroke]:
    """The face grain, along the top edge just inside the sheet's margin."""
    half = min(30.0, wide / 4)
    yield Line((x - half, y), (x + half, y), "note", "thick")
    for tip, way in ((x + half, -1), (x - half, 1)):
        for up in (1.0, -1.0):
            yield Line((tip, y), (tip + way * 3.0, y + up), "note", "thick")


def _labels(
    rings: Sequence[np.ndarray], labels: Sequence[str], holes: Sequence[shapely.Polygon], edge: shapely.Polygon
) -> tuple[list[Stroke], list[str]]:
    """Each number inside its piece where it fits, else beside it in the waste with a line to it; those without room."""
    strokes: list[Stroke] = []
    missed: list[str] = []
    outlines = [shapely.Polygon(r).buffer(0) for r in rings]
    solid = [shapely.difference(o, shapely.union_all([h for h in holes if o.intersects(h)])) for o in outlines]
    tree = shapely.STRtree(
        [*(o.exterior for o in outlines if o.geom_type == "Polygon"), *(h.exterior for h in holes), edge.exterior]
    )
    taken: list[shapely.Polygon] = []
    led: list[shapely.LineString] = []
    outside: list[int] = []
    for i, (piece, label) in enumerate(zip(solid, labels, strict=True)):
        text = _inside(piece, label)
        if text is None:
            outside.append(i)
        else:
            taken.append(shapely.Polygon(box(text, 0.3)))
            strokes.append(text)
    for i in outside:
        found = _beside(outlines[i], labels[i], tree, outlines, taken, led, edge)
        if found is None:
            missed.append(labels[i])
            continue
        text, line = found
        taken.append(shapely.Polygon(box(text, 0.3)))
        led.append(shapely.LineString((line.start, line.end)))
        strokes += found
    return strokes, missed


def _inside(piece: shapely.Geometry, label: str) -> Text | None:
    """The number near the middle of the widest part of its piece, level or upright; None where it does not fit."""
    size = DRAFTING.small
    if piece.is_empty:
        return None
    circle = shapely.maximum_inscribed_circle(piece, tolerance=0.5)
    x, y = circle.coords[0]
    for px, py in ((x, y), piece.representative_point().coords[0]):
        for text in (
            Text(label, (px, py - size / 2), size, 0.0, "middle"),
            Text(label, (px + size / 2, py), size, 90.0, "middle"),
        ):
            if piece.contains(shapely.Polygon(box(text, 0.3))):
                return text
    return None


def _beside(
    piece: shapely.Polygon, label: str, tree: shapely.STRtree, outlines: Sequence[shapely.Polygon],
    taken: Sequence[shapely.Polygon], led: Sequence[shapely.LineString], edge: shapely.Polygon,
) -> tuple[Text, Line] | None:  # fmt: skip
    """The nearest clear place for a number without room inside, over rings of places round its piece."""
    size, middle = DRAFTING.small, piece.centroid
    every = shapely.STRtree(outlines)
    busy = shapely.STRtree(taken) if taken else None
    for far in np.arange(NEAR, FAR, 2.0):
        for angle in np.arange(0, 2 * np.pi, np.pi / 12):
            x, y = middle.x + far * np.cos(angle), middle.y + far * np.sin(angle)
            text = Text(label, (round(float(x), 3), round(float(y), 3)), size, 0.0, "middle")
            where = shapely.Polygon(box(text, 0.4))
            if len(tree.query(where, predicate="intersects")) or len(every.query(where, predicate="intersects")):
                continue
            if not edge.contains(where) or any(where.intersects(other) for other in led):
                continue
            if busy is not None and len(busy.query(where, predicate="intersects")):
                continue
            line = _leader((x, y + size / 2), (middle.x, middle.y), text)
            if busy is None or not len(busy.query(shapely.LineString((line.start, line.end)), predicate="intersects")):
                return text, line
    return None


def _leader(middle: tuple[float, float], piece: tuple[float, float], text: Text) -> Line:
    """From the edge of a number to the middle of its piece."""
    whole = shapely.LineString((middle, piece)).difference(shapely.Polygon(box(text, 0.4)))
    points = np.round(np.array(whole.coords), 3)
    return Line((float(points[0][0]), float(points[0][1])), (float(points[-1][0]), float(points[-1][1])), "mark")


def left_words(nest: Nest) -> str:
    """How much of the last sheet is left beyond its pieces, for a bill.

    Along the sheet's length, over its whole width.
    """
    reach = max(float(_outline(p)[:, 0].max()) for p in nest.sheets[-1]) / 1000
    return f"{inches(nest.width)} × {inches(nest.length - reach)}"
