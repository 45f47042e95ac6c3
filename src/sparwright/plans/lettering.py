"""How much room lettering takes, and where a line of it may break."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from sparwright.base.problem import DesignProblem
from sparwright.plans.drawing import Point, Text
from sparwright.plans.widths import BOLD, REGULAR

CAPITAL = 0.660  # height of capitals in ems: Source Sans Pro, table OS/2, sCapHeight 660 of 1000
ABOVE = 0.734  # highest of b d f h k l ( ) / in ems
BELOW = 0.224  # lowest of g j p q y ( ) , ; in ems

_BREAK = re.compile(r" (?!\d+/\d|mm\b|in\b|%)|(?<!\d) ")  # not within "25 49/64″", "654 mm", "3 in", "2 %"
_WIDTHS = {bold: {c: w for w, text in table.items() for c in text} for bold, table in ((False, REGULAR), (True, BOLD))}


def em(size: float) -> float:
    """The em, mm, of lettering whose capitals are `size` mm tall."""
    return size / CAPITAL


def width(content: str, size: float, bold: bool = False) -> float:
    """Length of one line of lettering, mm, without kerning.

    Raises DesignProblem for a character the lettering does not have.

    >>> round(width("9 3/64″", 3.5), 2)
    15.72
    """
    table = _WIDTHS[bold]
    try:
        return sum(table[c] for c in content) / 1000 * em(size)
    except KeyError as missing:
        raise DesignProblem(
            f"the sheets' lettering has no {missing.args[0]!r}, wanted in {content!r}; "
            "use Latin letters in names that are printed"
        ) from None


def box(text: Text, gap: float = 0.0) -> tuple[Point, Point, Point, Point]:
    """Corners of the rectangle that holds the lettering, grown by `gap` mm, anticlockwise from the lower left."""
    long = width(text.content, text.size, text.bold)
    left = {"left": 0.0, "middle": -long / 2, "right": -long}[text.align]
    x0, x1 = left - gap, left + long + gap
    y0, y1 = -BELOW * em(text.size) - gap, ABOVE * em(text.size) + gap
    c, s = math.cos(math.radians(text.turn)), math.sin(math.radians(text.turn))
    ax, ay = text.anchor
    a, b, d, e = (
        (ax + x * c - y * s, ay + x * s + y * c) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    )  # fmt: skip
    return a, b, d, e


def wrapped(content: str, size: float, room: float, bold: bool = False) -> tuple[str, ...]:
    """The content in lines no longer than `room` mm; a word longer than that is broken.

    A figure stays with its fraction and its unit.

    >>> wrapped("cut to the outside of the line", 3.5, 40.0)
    ('cut to the outside', 'of the line')
    """
    lines: list[str] = []
    line = ""
    for word in _BREAK.split(" ".join(content.split())):
        for piece in _fitting(word, size, room, bold):
            longer = f"{line} {piece}" if line else piece
            if line and width(longer, size, bold) > room:
                lines.append(line)
                longer = piece
            line = longer
    return (*lines, line) if line else tuple(lines)


def _fitting(word: str, size: float, room: float, bold: bool) -> Sequence[str]:
    """The word, or the pieces of one that is longer than the room."""
    pieces: list[str] = []
    while width(word, size, bold) > room and len(word) > 1:
        count = max((n for n in range(1, len(word)) if width(word[:n], size, bold) <= room), default=1)
        count = word.rfind("-", 1, count) + 1 or count  # a number is broken after a hyphen
        pieces.append(word[:count])
        word = word[count:]
    return (*pieces, word)


def paragraph(
    content: str, at: Point, size: float, room: float, pitch: float, *, bold: bool = False, layer: str = "note"
) -> tuple[tuple[Text, ...], float]:
    """The content as lines whose first has its capitals' top at `at`; also the y below the last line's pitch."""
    x, top = at
    texts = []
    for i, line in enumerate(wrapped(content, size, room, bold)):
        texts.append(Text(line, (x, top - size - i * pitch * size), size, bold=bold, layer=layer))
    return tuple(texts), top - len(texts) * pitch * size
