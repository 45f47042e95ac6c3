"""Parts of several pieces on paper: each to scale, its joints lettered, where no scarf may lie, what each joint is.

The letter of a joint is the same on both pieces, on cut lists and nests: P between pieces 1 and 2, Q between 2 and 3.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sparwright.base.quantity import gauge, inches, millimetres
from sparwright.data.loader import material
from sparwright.family.buying import Buying
from sparwright.plans.drawing import DRAFTING, Line, Stroke, Text, moved, rectangle
from sparwright.plans.lettering import paragraph, width
from sparwright.plans.shop_sheet import Block, lines
from sparwright.plans.split import match_letter
from sparwright.stock.needs import FACED
from sparwright.stock.splice import Spliced, forbidden

HIGH = 8.0  # mm, of a part as it is drawn
ABOVE = 9.0  # mm over it for letters
SHARE = 0.56  # of the sheet's width, for the part
SCALES = (2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20, 24, 30)
HEAD = "Parts of several pieces"


def joints_of(piece: int, pieces: int) -> tuple[str, ...]:
    """Letters of the joints at a piece's ends.

    >>> joints_of(1, 3), joints_of(2, 3), joints_of(1, 1)
    (('P',), ('P', 'Q'), ())
    """
    return tuple(match_letter(k) for k in (piece - 2, piece - 1) if 0 <= k < pieces - 1)


def joint_words(piece: int, pieces: int) -> str:
    """The same behind a piece's name: " joints P, Q"; nothing for a part in one piece.

    >>> joint_words(2, 3), joint_words(1, 2)
    (' joints P, Q', ' joint P')
    """
    letters = joints_of(piece, pieces)
    return f" joint{'s' if len(letters) > 1 else ''} {', '.join(letters)}" if letters else ""


def splice_blocks(found: Sequence[Spliced], buying: Buying, room: float, model: str) -> list[Block]:
    """A block for the parts that are pieced alike, the first with the heading."""
    groups: dict[tuple[object, ...], list[Spliced]] = {}
    for s in found:
        key = (s.need.stock, tuple((round(p.start, 4), round(p.end, 4)) for p in s.spans), _zones(s), s.from_end)
        groups.setdefault(key, []).append(s)
    blocks = [_block(own, buying, room, model) for own in groups.values()]
    if blocks:
        head, y = paragraph(HEAD, (0.0, 0.0), DRAFTING.middle, room, DRAFTING.pitch, bold=True)
        words, y = lines((_words(found, buying),), (0.0, y), room)
        first = blocks[0]
        strokes = (*head, *words, *(moved(s, 0.0, y - 2.0) for s in first.strokes))
        blocks[0] = Block(first.name, strokes, first.high - y + 2.0)
    return blocks


def _words(found: Sequence[Spliced], buying: Buying) -> str:
    said = []
    if any(s.scarf > 0 for s in found):
        said.append(
            f"Scarf {buying.cutting.scarf:g} : 1, both faces planed together, glued and pressed over their whole "
            "length. Same letter to same letter. Crossed: no scarf may lie there. Glue the pieces before the part is "
            "cut to its template, and lay a joint of a skin over a rib or a backing strip: ask the designer where none "
            "is drawn."
        )
    if any(not s.scarf > 0 for s in found):
        said.append(
            "Pieces without a scarf meet edge to edge and need splice plates and their fasteners: none is drawn here "
            "and no strength check has them. Do not build it so before the designer has."
        )
    return " ".join(said)


def _zones(s: Spliced) -> tuple[tuple[float, float], ...]:
    """Where no scarf may lie along the part, m, those that touch together as one."""
    found: list[tuple[float, float]] = []
    for a, b in sorted(forbidden(s.need)):
        if found and a <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], b))
        else:
            found.append((a, b))
    return tuple(found)


def _block(own: Sequence[Spliced], buying: Buying, room: float, model: str) -> Block:
    """One drawing with its table."""
    s = own[0]
    wide = SHARE * room
    scale = next((k for k in SCALES if s.need.length * 1000 / k <= wide), SCALES[-1])
    names = ", ".join(x.need.part.number.removeprefix(f"{model}-") + (f" × {x.need.count}" if x.need.count > 1 else "")
                      for x in own)  # fmt: skip
    drawing = tuple(_drawn(s, 1000 / scale))
    x = wide + 10.0
    head, y = lines((f"{names}: {s.need.stock.words}; 1 : {scale:g} along, not to scale across",), (0.0, 0.0), wide)
    table, low = lines(tuple(_table(s, buying)), (x, 0.0), room - x)
    y -= 1.0
    return Block(f"the pieces of {s.need.part.number}", (*head, *(moved(d, 0.0, y) for d in drawing), *table),
                 -min(low, y - ABOVE - HIGH - 2.0))  # fmt: skip


def _both(metres: float) -> str:
    return f"{inches(metres)} = {millimetres(metres)}"


def _table(s: Spliced, buying: Buying) -> Iterator[str]:
    """A line for each joint and one for the pieces."""
    stock = s.need.stock
    thick = gauge(stock.size[-1]) if stock.form == "sheet" else _both(stock.size[-1])
    for k, middle in enumerate(s.middles):
        where = f"{match_letter(k)}: middle {_both(middle)} from {s.from_end}"
        if s.scarf > 0:
            yield f"{where}; scarf {buying.cutting.scarf:g} : 1 through {thick}, {_both(s.scarf)} long"
        else:
            yield f"{where}; edge to edge, splice plates not drawn"
    yield "pieces as cut, scarfs in: " + "; ".join(f"{p.piece}/{p.pieces} {_both(p.length)}" for p in s.spans)
    if material(s.need.stock.material).kind in FACED and _zones(s):
        yield "no scarf: " + ", ".join(f"{_both(max(a, 0.0))} to {_both(b)}" for a, b in _zones(s))


def _drawn(s: Spliced, k: float) -> Iterator[Stroke]:
    """The part below the origin: letters, edges, joints as slanted lines, crossed where no scarf may lie."""
    d, top, low = DRAFTING, -ABOVE, -ABOVE - HIGH
    long = s.need.length * k
    yield rectangle(0.0, low, long, top, "cut", "thick")
    for a, b in _zones(s):
        a, b = max(a * k, 0.0), min(b * k, long)
        yield rectangle(a, low, b, top, "measure")
        yield Line((a, low), (b, top), "measure")
        yield Line((a, top), (b, low), "measure")
    for i, middle in enumerate(s.middles):
        half = max(s.scarf * k / 2, 0.0)
        yield Line((middle * k - half, low), (middle * k + half, top), "cut")
        base = top + ABOVE - d.small - 1.5
        yield Text(match_letter(i), (middle * k, base), d.small, align="middle", bold=True)
        yield Line((middle * k, base - 1.6), (middle * k, top), "mark")
    for p in s.spans:
        label = f"{p.piece}/{p.pieces}"
        left, right = (p.start + s.scarf * (p.piece > 1)) * k, (p.end - s.scarf * (p.piece < p.pieces)) * k
        place = _clear((left, right), [(a * k, b * k) for a, b in _zones(s)], width(label, d.small) + 3.0)
        if place is not None:
            yield Text(label, (place, (top + low - d.small) / 2), d.small, align="middle")


def _clear(between: tuple[float, float], zones: Sequence[tuple[float, float]], wide: float) -> float | None:
    """The middle of the widest stretch without a zone; None where none is as wide as that."""
    edges = [between[0]]
    stretches = []
    for a, b in zones:
        if a < between[1] and b > between[0]:
            stretches.append((edges[-1], a))
            edges.append(b)
    stretches.append((edges[-1], between[1]))
    a, b = max(stretches, key=lambda s: s[1] - s[0])
    return (a + b) / 2 if b - a >= wide else None
