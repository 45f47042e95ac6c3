"""One part as a DXF for a router: R12, millimetres, closed polylines with true arcs, circles, four layers.

R12 is the oldest form that every machine reads; it has arcs as bulges of polylines. Comments at its head say what the
file is: they are code 999, which readers skip.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sparwright.base.quantity import millimetres
from sparwright.shape.arcs import Vertex
from sparwright.stock.router import Job

LAYERS = (("OUTSIDE_CUT", 1), ("INSIDE_CUT", 5), ("DRILL", 3), ("MARK", 8))
KERF = "KERF NOT APPLIED: every path is the finished edge. Set the tool's offset at the machine."


def router_dxf(made: Job, program: str = "") -> bytes:
    """The file; the same part gives the same bytes."""
    pairs = [*_comments(made, program), *_head(made), *_tables(), (0, "SECTION"), (2, "ENTITIES")]
    pairs += _path(made.outside, "OUTSIDE_CUT")
    for path in made.inside:
        pairs += _path(path, "INSIDE_CUT")
    for d in made.drills:
        pairs += [(0, "CIRCLE"), (8, "DRILL"), (10, _n(d.x)), (20, _n(d.y)), (30, "0.0"), (40, _n(d.diameter / 2))]
    for mark in made.marks:
        pairs += _polyline([Vertex(x, y) for x, y in mark.points], "MARK", 0)
    pairs += [(0, "ENDSEC"), (0, "EOF")]
    return "".join(f"{code}\n{value}\n" for code, value in pairs).encode("ascii", "replace")


Pair = tuple[int, str]


def _comments(made: Job, program: str) -> Iterator[Pair]:
    said = (
        f"{made.part.number}, make {made.part.count}, {made.stock.material}, {made.stock.words}".replace("″", " in"),
        f"1 : 1, millimetres, {made.width:.2f} x {made.height:.2f} over all",
        KERF,
        f"Inside corners opened for a tool of {millimetres(made.smallest / 1000)}: {made.reliefs}",
        program,
    )
    yield from ((999, words) for words in said if words)


def _head(made: Job) -> Iterator[Pair]:
    yield from ((0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1009"), (9, "$INSUNITS"), (70, "4"))
    for name, at in (("$EXTMIN", min), ("$EXTMAX", max)):
        x, y = at(v.x for v in made.outside), at(v.y for v in made.outside)
        yield from ((9, name), (10, _n(x)), (20, _n(y)), (30, "0.0"))
    yield (0, "ENDSEC")


def _tables() -> Iterator[Pair]:
    yield from ((0, "SECTION"), (2, "TABLES"), (0, "TABLE"), (2, "LTYPE"), (70, "1"))
    yield from ((0, "LTYPE"), (2, "CONTINUOUS"), (70, "0"), (3, "Solid line"), (72, "65"), (73, "0"), (40, "0.0"))
    yield from ((0, "ENDTAB"), (0, "TABLE"), (2, "LAYER"), (70, str(len(LAYERS))))
    for name, colour in LAYERS:
        yield from ((0, "LAYER"), (2, name), (70, "0"), (62, str(colour)), (6, "CONTINUOUS"))
    yield from ((0, "ENDTAB"), (0, "ENDSEC"))


def _path(path: tuple[Vertex, ...], layer: str) -> list[Pair]:
    return _polyline(path, layer, 1)


def _polyline(points: Iterable[Vertex], layer: str, closed: int) -> list[Pair]:
    """A polyline with its vertices; closed: 1 where the last one leads to the first."""
    pairs: list[Pair] = [
        (0, "POLYLINE"),
        (8, layer),
        (66, "1"),
        (70, str(closed)),
        (10, "0.0"),
        (20, "0.0"),
        (30, "0.0"),
    ]
    for v in points:
        pairs += [(0, "VERTEX"), (8, layer), (10, _n(v.x)), (20, _n(v.y)), (30, "0.0")]
        pairs += [(42, f"{v.bulge:.9f}")] if v.bulge else []
    return [*pairs, (0, "SEQEND"), (8, layer)]


def _n(value: float) -> str:
    return f"{value + 0.0:.5f}".replace("-0.00000", "0.00000")
