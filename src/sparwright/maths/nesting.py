"""Shapes onto sheets, true to outline: bottom-left on a raster, every step fixed, so the same shapes nest the same.

    grown shape of a piece   = outline grown by half the gap, round
    its cells                = every square cell that the grown shape touches
    free places of a piece   = where its cells and the taken cells have none in common: occupied * mirrored cells < 1/2

The product is a convolution, done by fast Fourier transforms on counts below 2^24, so rounding is far from a half.
Two pieces whose cells are apart have grown shapes apart, so their outlines keep the gap; a sheet's free cells begin
half a gap inside its clear edge in the same way. Each piece goes to the first sheet with a free place, there as far to
the left as it can, then as low as it can, over all the ways it may lie. Worked out here; method common practice.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
import shapely

from sparwright.base.record import number

FINE, COARSE = 2.0, 5.0  # mm: smallest and largest cell
CELLS = 20.0  # cells along the side of a square as large as the middle piece of a nest
FIT = 1e-3  # mm by which a piece may be larger than the clear sheet: digits, not steel
SLACK = 0.02  # mm by which outlines are simplified and grown again


@dataclass(frozen=True)
class Way:
    """One way a piece may lie."""

    turn: float = number("deg", "anticlockwise, after turning over")
    over: bool = False  # turned over about its own y axis


@dataclass(frozen=True)
class Shape:
    """An outline with the ways it may lie; `key` says which outlines are one and the same."""

    key: str
    ring: np.ndarray = number("mm", "(n, 2) outline")
    ways: tuple[Way, ...] = (Way(0.0),)


@dataclass(frozen=True)
class Lying:
    """Where a shape lies: its sheet, its way, the lower left corner of its upright box."""

    shape: int
    sheet: int
    way: Way
    x: float = number("mm", "from the sheet's lower left corner")
    y: float = number("mm", "from the sheet's lower left corner")


def laid(ring: np.ndarray, way: Way, x: float = 0.0, y: float = 0.0) -> np.ndarray:
    """(n, 2) an outline turned over, turned, with the lower left corner of its box at (x, y).

    >>> laid(np.array([[0.0, 0], [2, 0], [2, 1]]), Way(90.0)).max(axis=0).tolist()
    [1.0, 2.0]
    """
    points = ring * (-1.0, 1.0) if way.over else ring
    c, s = _exact(way.turn)
    turned = np.column_stack([c * points[:, 0] - s * points[:, 1], s * points[:, 0] + c * points[:, 1]])
    return np.asarray(turned - turned.min(axis=0) + (x, y))


def _exact(degrees: float) -> tuple[float, float]:
    """Cosine and sine, exact at quarter turns."""
    quarter = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}
    a = np.radians(degrees)
    return quarter.get(degrees % 360.0, (float(np.cos(a)), float(np.sin(a))))


@dataclass
class _Sheet:
    taken: np.ndarray
    used: int = 0
    transforms: dict[tuple[int, int], np.ndarray] = field(default_factory=dict)


@dataclass
class _Cells:
    way: Way
    ring: np.ndarray
    gap: float
    cell: float
    last: tuple[int, int]  # furthest cell to the right and up it may begin at and be within the clear sheet
    known: dict[int, tuple[int, int] | None] = field(default_factory=dict)  # by sheet: no place is better than this
    transforms: dict[tuple[int, int], np.ndarray] = field(default_factory=dict)

    @cached_property
    def mask(self) -> np.ndarray:
        """The cells; made when they are first asked for, since many a way is never tried."""
        return _cells(self.ring, self.gap, self.cell)

    @property
    def size(self) -> tuple[int, int]:
        """Cells along and up."""
        nx, ny = (max(1, int(np.ceil(h / self.cell - 1e-9))) for h in self.ring.max(axis=0) + self.gap)
        return nx, ny

    def over(self, size: tuple[int, int]) -> np.ndarray:
        """The transform of the mirrored cells on a grid of that size."""
        from scipy.fft import rfft2

        if size not in self.transforms:
            self.transforms[size] = rfft2(self.mask[::-1, ::-1].astype(np.float32), size)
        return self.transforms[size]


def nest(
    shapes: Sequence[Shape], length: float, width: float, gap: float, margin: float, order: Sequence[int] | None = None,
    fine: float = 1.0,
) -> tuple[Lying, ...]:  # fmt: skip
    """Where each shape lies, in the order they were laid: the given one, or by falling area.

    shapes: each once for every copy. length, width: of a sheet, x along its length; gap: least between two pieces;
    margin: left free along the edges; all mm. fine: how many times smaller the cells are. Raises ValueError for a shape
    that no empty sheet holds.
    """
    area = [float(shapely.Polygon(s.ring).area) for s in shapes]
    cell = float(np.clip(np.sqrt(np.median(area)) / CELLS, FINE, COARSE) / fine) if shapes else COARSE
    clear = length - 2 * margin + gap, width - 2 * margin + gap
    grid = int(np.ceil(clear[0] / cell - 1e-9)), int(np.ceil(clear[1] / cell - 1e-9))
    cells: dict[bytes, list[_Cells]] = {}
    sheets: list[_Sheet] = []
    found: list[Lying] = []
    for i in order if order is not None else sorted(range(len(shapes)), key=lambda i: (-round(area[i], 3), i)):
        shape = shapes[i]
        same = laid(shape.ring, Way(0.0)).round(4).tobytes() + repr(shape.ways).encode()
        if same not in cells:
            cells[same] = _all_cells(shape, gap, cell, clear)
        if not cells[same]:
            raise ValueError(f"{shape.key} does not fit on an empty sheet")
        at, (lie, x, y) = _first_place(cells[same], sheets, grid)
        _take(sheets[at], lie.mask, x, y)
        found.append(Lying(i, at, lie.way, round(margin + x * cell, 3), round(margin + y * cell, 3)))
    return tuple(found)


def _all_cells(shape: Shape, gap: float, cell: float, clear: tuple[float, float]) -> list[_Cells]:
    """The cells of a shape in every way it may lie in which an empty sheet holds it."""
    found = []
    for way in shape.ways:
        ring = laid(shape.ring, way)
        left = np.array(clear) - ring.max(axis=0) - gap
        if np.all(left >= -FIT):
            last = np.floor(np.maximum(left, 0.0) / cell + 1e-9).astype(int)
            found.append(_Cells(way, ring, gap, cell, (int(last[0]), int(last[1]))))
    return found


def _cells(ring: np.ndarray, gap: float, cell: float) -> np.ndarray:
    """Cells that an outline grown by half the gap touches; the corner of its box grown so is the corner of the grid."""
    grown = shapely.Polygon(ring).buffer(0).simplify(SLACK).buffer(gap / 2 + SLACK, quad_segs=8)
    high = ring.max(axis=0) + gap
    nx, ny = (max(1, int(np.ceil(h / cell - 1e-9))) for h in high)
    x, y = np.meshgrid(np.arange(nx) * cell - gap / 2, np.arange(ny) * cell - gap / 2, indexing="ij")
    shapely.prepare(grown)
    return np.asarray(shapely.intersects(grown, shapely.box(x, y, x + cell, y + cell)))


def _first_place(
    ways: list[_Cells], sheets: list[_Sheet], grid: tuple[int, int]
) -> tuple[int, tuple[_Cells, int, int]]:
    """The first sheet with a place, and the place; a new sheet where there is none."""
    for at, sheet in enumerate(sheets):
        where = _place(ways, sheet, at, grid)
        if where is not None:
            return at, where
    sheets.append(_Sheet(np.zeros(grid, dtype=np.float32)))
    where = _place(ways, sheets[-1], len(sheets) - 1, grid)
    assert where is not None, "an empty sheet holds every piece that has a way to lie"
    return len(sheets) - 1, where


def _place(ways: list[_Cells], sheet: _Sheet, at: int, grid: tuple[int, int]) -> tuple[_Cells, int, int] | None:
    """The free place whose right edge is furthest left, then lowest, over all ways; None where there is none.

    A sheet only fills, so what was the best place of a way is a bound for it ever after: a way is looked at again only
    while its bound beats the best that is found.
    """
    best: tuple[tuple[int, int], int, int, int] | None = None
    bounds = [(lie.known.get(at, lie.size), n) for n, lie in enumerate(ways)]
    for bound, n in sorted((b, n) for b, n in bounds if b is not None):
        if best is not None and (bound, n) >= (best[0], best[1]):
            break
        lie = ways[n]
        w, h = lie.mask.shape
        free = _free(sheet, lie, min(grid[0], sheet.used + w), grid[1])[: lie.last[0] + 1, : lie.last[1] + 1]
        columns = np.flatnonzero(free.any(axis=1))
        lie.known[at] = None
        if not len(columns):
            continue
        x = int(columns[0])
        y = int(np.argmax(free[x]))
        lie.known[at] = (x + w, y + h)
        if best is None or ((x + w, y + h), n) < (best[0], best[1]):
            best = (x + w, y + h), n, x, y
    return (ways[best[1]], best[2], best[3]) if best else None


def _free(sheet: _Sheet, lie: _Cells, wide: int, high: int) -> np.ndarray:
    """(wide - w + 1, high - h + 1) where the cells find no taken one; a circular product is enough for these."""
    from scipy.fft import irfft2, next_fast_len, rfft2

    w, h = lie.mask.shape
    if not sheet.used:
        return np.ones((wide - w + 1, high - h + 1), dtype=bool)
    size = next_fast_len(-(-wide // 48) * 48, real=True), next_fast_len(high, real=True)
    if size not in sheet.transforms:
        sheet.transforms[size] = rfft2(sheet.taken[: size[0]], size)
    hits = irfft2(sheet.transforms[size] * lie.over(size), size)
    return np.asarray(hits[w - 1 : wide, h - 1 : high] < 0.5)


def _take(sheet: _Sheet, mask: np.ndarray, x: int, y: int) -> None:
    w, h = mask.shape
    part = sheet.taken[x : x + w, y : y + h]
    np.maximum(part, mask, out=part)
    sheet.used = max(sheet.used, x + w)
    sheet.transforms.clear()


def sheets_at_least(shapes: Sequence[Shape], length: float, width: float, gap: float, margin: float) -> int:
    """No nest needs fewer sheets: outlines grown by half the gap lie apart, within the clear sheet grown so.

        ceil( sum area(grown) / ((length - 2 margin + gap) (width - 2 margin + gap)) )

    Round corners are chords from inside, so a grown area is never taken too large.
    """
    room = (length - 2 * margin + gap) * (width - 2 * margin + gap)
    grown = sum(float(shapely.Polygon(s.ring).buffer(gap / 2, quad_segs=8).area) for s in shapes)
    return int(np.ceil(grown / room - 1e-9))


def faults(
    shapes: Sequence[Shape], lying: Sequence[Lying], length: float, width: float, gap: float, margin: float
) -> tuple[str, ...]:
    """What is wrong with a nest, measured on the outlines themselves: nothing, where it is right."""
    said = [f"{shapes[i].key} is not laid once" for i in range(len(shapes)) if sum(x.shape == i for x in lying) != 1]
    clear = shapely.box(margin - 1e-3, margin - 1e-3, length - margin + 1e-3, width - margin + 1e-3)
    for sheet in sorted({x.sheet for x in lying}):
        here = [x for x in lying if x.sheet == sheet]
        outlines = [shapely.Polygon(laid(shapes[x.shape].ring, x.way, x.x, x.y)).buffer(0) for x in here]
        said += [f"{shapes[x.shape].key} may not lie so" for x in here if x.way not in shapes[x.shape].ways]
        said += [f"{shapes[x.shape].key} leaves the clear sheet"
                 for x, o in zip(here, outlines, strict=True) if not clear.covers(o)]  # fmt: skip
        tree = shapely.STRtree(outlines)
        for a, b in zip(*tree.query(outlines, predicate="dwithin", distance=gap - 1e-3), strict=True):
            if a < b:
                said.append(f"{shapes[here[a].shape].key} and {shapes[here[b].shape].key} are too near")
    return tuple(said)
