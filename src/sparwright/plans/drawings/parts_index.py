"""The last drawings of a set: every part by its number, and the sheets on which it is drawn or has its template."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sparwright.parts.part import Part
from sparwright.plans.block import Drawing, field_of
from sparwright.plans.drawing import Sheet
from sparwright.plans.paper import paper
from sparwright.plans.ruled import Ruled, ruled, wide

KEY = "parts"
FULL = {"templates": "ribs", "tube-ends": "ends", "flat-parts": "flat"}  # kind of full-size sheet, as the index has it
NOTES = (
    "Each number goes on from the line above its group. R/L: one of each hand.",
    "Full size: number of the sheet among those of ribs, of ends of tubes, of flat parts. A dash: the part is cut to a "
    "length that the lists of bars and tubes give, or bought.",
)


def parts_index(model: str, parts: Sequence[Part], drawings: Sequence[Drawing], full_size: Sequence[Sheet],
                paper_name: str = "24x36") -> tuple[Drawing, ...]:  # fmt: skip
    """As many drawings as the list needs. drawings: the set without these, in order; full_size: sheets of one paper."""
    field = field_of(paper(paper_name))
    rows, made = list(_rows(parts, drawings, full_size)), []
    while rows:
        count = len(rows)
        while wide(_table(model, rows[:count]), field.height) > field.width:
            count -= max(1, count // 20)
        set_down = ruled(_table(model, rows[:count]), field.left, field.top, field.height)
        made.append(set_down.strokes)
        group = next(r for r in reversed(rows[:count]) if not any(r[1:]))
        rows = rows[count:] if count == len(rows) or not any(rows[count][1:]) else [group, *rows[count:]]
    keys = [f"{KEY}.{i}" for i in range(1, len(made) + 1)]
    title = "Index of parts"
    return tuple(Drawing(key, title if len(made) == 1 else f"{title} {i} of {len(made)}", strokes, "none",
                         comes_from=("general",), notes=NOTES, paper=paper_name)
                 for i, (key, strokes) in enumerate(zip(keys, made, strict=True), 1))  # fmt: skip


def _table(model: str, rows: Sequence[tuple[str, ...]]) -> Ruled:
    return Ruled(f"Parts of {model}", ("Part", "Drawing", "Full size"), tuple(rows))


def _rows(parts: Sequence[Part], drawings: Sequence[Drawing], full_size: Sequence[Sheet]) -> Iterator[tuple[str, ...]]:
    """A row for each part in order of number, both hands in one where they are on the same sheets."""
    drawn: dict[str, list[str]] = {}
    full: dict[str, dict[str, list[str]]] = {}
    for i, d in enumerate(drawings, 1):
        for number in dict.fromkeys(d.shows):
            drawn.setdefault(number, []).append(str(i))
    for s in full_size:
        for number in s.shows:
            full.setdefault(number, {}).setdefault(FULL.get(s.kind, s.kind), []).append(str(s.number))
    both: dict[tuple[str, str, str, str], list[str]] = {}
    for p in parts:
        stem = p.number[:-2] if p.hand and p.number.endswith(("-R", "-L")) else p.number
        sizes = "; ".join(f"{kind} {', '.join(on)}" for kind, on in full.get(p.number, {}).items())
        where = ", ".join(drawn.get(p.number, ())) or "–", sizes or "–"
        model, group, own = stem.split("-", 2)
        both.setdefault((f"{model}-{group}-", own, *where), []).append(p.hand)
    before = ""
    for (group, own, *on), found in sorted(both.items()):
        if group != before:
            yield group, "", ""
            before = group
        hands = "/".join(dict.fromkeys(filter(None, found)))
        yield f"{own}{'-' if hands else ''}{hands}", *on
