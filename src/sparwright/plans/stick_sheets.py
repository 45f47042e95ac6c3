"""Cut lists of bars and tubes on paper: each way a stick is cut as a bar to scale, the table beside."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sparwright.base.quantity import inches, millimetres
from sparwright.base.record import number
from sparwright.family.buying import Buying
from sparwright.plans.drawing import DRAFTING, Line, Sheet, Stroke, Text, moved, rectangle
from sparwright.plans.lettering import paragraph, width
from sparwright.plans.paper import TitleBlock, paper
from sparwright.plans.shop_sheet import Block, clear_width, lines, shop_sheets
from sparwright.plans.splice_blocks import joint_words, splice_blocks
from sparwright.stock.sticks import Cut, StickList, Sticks, again

BAR, ABOVE = 6.0, 9.0  # mm: height of a bar, room above it for its letters
SCALES = (10, 12, 15, 16, 20, 24, 30, 32, 40)
SHARE = 0.56  # of the sheet's width, for bars
NAMED = "abcdefghijkmnpqrstuvwxyz"  # without l and o, which look like figures
LEAST = 5.0  # mm between letters


@dataclass(frozen=True)
class Letter:
    """Pieces of one length in a stick, side by side."""

    letter: str
    cuts: tuple[Cut, ...]
    start: float = number("m", "from the stick's end")
    end: float = number("m", "from the stick's end")


def stick_sheets(found: Sticks, buying: Buying, title: TitleBlock, paper_name: str = "24x36") -> tuple[Sheet, ...]:
    """The sheets; none where nothing is cut from sticks."""
    if not found.lists:
        return ()
    p = paper(paper_name)
    room = clear_width(p)
    longest = max(x.length for x in found.lists) * 1000
    scale = next((s for s in SCALES if longest / s <= SHARE * room), SCALES[-1])
    blocks = [b for x in found.lists for b in _blocks(x, buying, scale, room, title.model)]
    blocks += splice_blocks([s for x in found.lists for s in x.spliced], buying, room, title.model)
    blocks += _told([t.sentence for t in found.told], room)
    return shop_sheets(blocks, p.name, "Cut lists of bars and tubes", _words(buying, scale, title), title)


def _words(buying: Buying, scale: int, title: TitleBlock) -> str:
    c = buying.cutting
    return (
        f"Bars 1 : {scale}, figures govern. Part numbers without {title.model}- at their beginning. Cut letter by "
        f"letter from the left; {millimetres(c.saw_kerf)} for the saw between two pieces and "
        f"{millimetres(c.end_trim)} trimmed from each end are allowed for. Lengths go over the longest line of a cut "
        "end: cope and fit afterwards. Hatched: left over."
    )


def _told(sentences: Sequence[str], room: float) -> list[Block]:
    """What could not be put on a list, as a block of its own."""
    if not sentences:
        return []
    head, y = paragraph("Not on any list", (0.0, 0.0), DRAFTING.middle, room, DRAFTING.pitch, bold=True)
    texts, y = lines(sentences, (0.0, y), room)
    return [Block("Not on any list", (*head, *texts), -y)]


def _blocks(found: StickList, buying: Buying, scale: int, room: float, model: str) -> Iterator[Block]:
    """A block for each way the stock is cut; the first carries its heading."""
    for i, (stick, where) in enumerate(again(found.sticks)):
        head: tuple[Stroke, ...] = ()
        y = 0.0
        if i == 0:
            head, y = paragraph(_heading(found), (0.0, 0.0), DRAFTING.middle, room, DRAFTING.pitch, bold=True)
        letters = lettered_stick(stick.cuts, buying)
        whole = f"Stick{'s' if len(where) > 1 else ''} {', '.join(str(n + 1) for n in where)} of {len(found.sticks)}"
        bar = tuple(_bar(letters, found.length * 1000 / scale, scale, whole))
        x = SHARE * room + 10.0
        names = [[c for n in where for c in found.sticks[n].cuts if _in(c, letter)] for letter in letters]
        said = [_row(letter, own, model) for letter, own in zip(letters, names, strict=True)]
        table, low = lines([*said, f"left over {_both(stick.left)}"], (x, y), room - x)
        high = max(y - low, DRAFTING.pitch * DRAFTING.small + ABOVE + BAR + 2.0)
        yield Block(f"the list of {found.stock.words}", (*head, *(moved(s, 0.0, y) for s in bar), *table), high - y)


def _in(cut: Cut, letter: Letter) -> bool:
    return cut.length == letter.cuts[0].length


def _heading(found: StickList) -> str:
    count = len(found.sticks)
    return (f"{found.stock.words}: {count} stick{'s' if count != 1 else ''} of {_both(found.length)}, {found.proof}; "
            f"{100 * found.used / found.bought:.0f} % used")  # fmt: skip


def _both(metres: float) -> str:
    return f"{inches(metres)} = {millimetres(metres)}"


def lettered_stick(cuts: Sequence[Cut], buying: Buying) -> tuple[Letter, ...]:
    """The pieces of a stick from its left end, those of one length together under one letter."""
    groups: dict[float, list[Cut]] = {}
    for cut in cuts:
        groups.setdefault(cut.length, []).append(cut)
    at, found = buying.cutting.end_trim, []
    for i, (length, own) in enumerate(groups.items()):
        end = at + len(own) * length + (len(own) - 1) * buying.cutting.saw_kerf
        found.append(Letter(_name(i), tuple(own), at, end))
        at = end + buying.cutting.saw_kerf
    return tuple(found)


def _name(i: int) -> str:
    """a to z, then aa.

    >>> _name(0), _name(24)
    ('a', 'aa')
    """
    more, rest = divmod(i, len(NAMED))
    return (_name(more - 1) if more else "") + NAMED[rest]


def _row(letter: Letter, cuts: Sequence[Cut], model: str) -> str:
    counts = Counter(c.name.removeprefix(f"{model}-") + joint_words(c.piece, c.pieces) for c in cuts)
    names = ", ".join(f"{name} × {n}" if n > 1 else name for name, n in counts.items())
    each = f"{len(letter.cuts)} × " if len(letter.cuts) > 1 else ""
    return f"{letter.letter}: {each}{_both(letter.cuts[0].length)} – {names}"


def _bar(letters: Sequence[Letter], long: float, scale: int, whole: str) -> Iterator[Stroke]:
    """The stick below the origin: its name, letters, the bar with its cuts, the rest hatched."""
    d = DRAFTING
    top = -d.pitch * d.small - ABOVE
    low = top - BAR
    yield Text(whole, (0.0, -d.small), d.small)
    yield rectangle(0.0, low, long, top, "cut", "thick")
    k = 1000 / scale
    ends = [0.0, *(e * k for letter in letters for e in _cut_lines(letter))]
    for x in sorted({round(x, 3) for x in ends[1:]}):
        if x < long - 0.01:
            yield Line((x, low), (x, top), "cut")
    yield from _hatch(letters[-1].end * k, long, low, top)
    places = spread([_at(a) * k for a in letters], [max(LEAST, width(a.letter, d.small) + 2.5) for a in letters])
    for letter, x in zip(letters, places, strict=True):
        middle = _at(letter) * k
        base = top + ABOVE - d.small - 1.5
        yield Text(letter.letter, (x, base), d.small, align="middle", bold=True)
        yield Line((x, base - 1.6), (middle, top), "mark")


def _at(letter: Letter) -> float:
    """Where a letter points, m: the middle of its first piece, so never a saw cut."""
    return letter.start + letter.cuts[0].length / 2


def _cut_lines(letter: Letter) -> Iterator[float]:
    """Where a line is drawn: both ends of every piece's run, m."""
    count, long = len(letter.cuts), letter.end - letter.start
    for i in range(count + 1):
        yield letter.start + long * i / count


def spread(wanted: Sequence[float], wide: Sequence[float]) -> list[float]:
    """Places near those wanted, in their order, none nearer to its neighbour than their widths ask for."""
    places = list(wanted)
    for _ in range(200):
        moved_any = False
        for i in range(len(places) - 1):
            short = (wide[i] + wide[i + 1]) / 2 - (places[i + 1] - places[i])
            if short > 1e-6:
                places[i], places[i + 1], moved_any = places[i] - short / 2, places[i + 1] + short / 2, True
        if not moved_any:
            break
    push = max(0.0, wide[0] / 2 - places[0]) if places else 0.0
    return [p + push for p in places]


def _hatch(start: float, end: float, low: float, top: float) -> Iterator[Stroke]:
    x = start + 2.0
    while x + (top - low) < end:
        yield Line((x, low), (x + (top - low), top), "measure")
        x += 6.0
