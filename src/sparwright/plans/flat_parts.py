"""Full-size templates of every flat part of sheet but the ribs: gussets, lugs, horns, brackets, bulkheads, panel.

Parts alike share one template. A part too large for the sheet is parted at match lines both ways. A bare part of three
or four straight edges that is too large for the sheet is not drawn: its corners stand in a table.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, millimetres
from sparwright.data.loader import fasteners, material
from sparwright.parts.alike import Alike, alike, flat_parts
from sparwright.parts.part import Formed, Joint, Mark, Part, Place, Plate
from sparwright.plans.drawing import DRAFTING, Box, Sheet, Text
from sparwright.plans.flat_block import AWAY, BESIDE, MATCH_OUT, WOOD, flat_block, turned, whole_box
from sparwright.plans.lettering import wrapped
from sparwright.plans.paper import FAR, TitleBlock, field_of, paper
from sparwright.plans.sheets import laid, pack
from sparwright.plans.template import Block, extent
from sparwright.plans.windows import Window, windows
from sparwright.shape.frame import mirrored
from sparwright.shape.solid import Pose

KIND = "flat-parts"
TITLE = "Flat parts, full size"
AXES = "Each part: its own axes, seen from its upper side"
LEGEND = (
    "Solid: cut to the outside, line gone. Dashed: bend lines. Crosses: centres of holes, prick points. Turned over: "
    "lay the template printed side down. One template serves all parts named with it."
)
SPACE = 8.0  # mm of white between templates
COLUMN = 260.0  # mm of the table's width
PITCH = 5.6  # mm
ON_AXIS, NEAR = 5e-4, 0.03  # m: a joint's place off the axis of its hole, and along it


Drawn = dict[tuple[int, tuple[Window, ...]], list[Block]]  # templates by part and how it is parted


def flat_sheets(parts: Iterable[Part], papers: Sequence[str], title: TitleBlock, joints: Sequence[Joint] = ()
                ) -> tuple[Sheet, ...]:  # fmt: skip
    """Template sheets of all flat parts among `parts` but ribs, on each paper, and the table of what is not drawn.

    joints: a place to prick that says no fastener is drilled for the bolt of the joint that lies there.

    Raises DesignProblem for a paper we do not have and for an outline that is not a closed line of finite points.
    """
    every = tuple(parts)
    found = alike(_sound(drilled(flat_parts(every), joints)))
    formed = [p for p in every if p.form == "plate" and isinstance(p.shape, Formed)]
    title = replace(title, title=TITLE, axes=AXES, legend=LEGEND)
    drawn: Drawn = {}
    return tuple(s for p in papers for s in _on(p, found, formed, title, drawn))


def _on(paper_name: str, found: Sequence[Alike], formed: Sequence[Part], title: TitleBlock, drawn: Drawn
        ) -> tuple[Sheet, ...]:  # fmt: skip
    """The sheets of one paper."""
    clear = field_of(paper(paper_name))
    given = [one for one in found if _by_figures(one.plate, clear)]
    made = [one for one in found if not _by_figures(one.plate, clear)]
    listed = _table(given, formed, clear.height)
    blocks = [b for i, one in enumerate(made) for b in _pieces(i, one, {}, clear, drawn)] + listed
    if not blocks:
        return ()
    where = pack(blocks, paper_name, SPACE, nest=True)
    on = {(b.part, b.piece): sheet for b, sheet in zip(blocks, where.sheet, strict=True)}
    told = [b for i, one in enumerate(made) for b in _pieces(i, one, on, clear, drawn)]
    return laid(told + listed, where, title, KIND)


def drilled(found: Iterable[tuple[Part, Plate]], joints: Sequence[Joint]) -> Iterator[tuple[Part, Plate]]:
    """Plates whose marks say the bolt that goes through: of a joint of the part whose axis runs through the mark."""
    known = fasteners()
    by: dict[str, list[Joint]] = {}
    for j in joints:
        for number in j.parts if j.fastener in known else ():
            by.setdefault(_right(number), []).append(j)
    for part, plate in found:
        mine = by.get(_right(part.number), ())
        marks = tuple(m if m.label in known or m.label.startswith("hole")
                      else replace(m, label=_bolt(part, m, mine) or m.label) for m in plate.marks)  # fmt: skip
        yield part, plate if marks == plate.marks else replace(plate, marks=marks)


def _bolt(part: Part, mark: Mark, joints: Sequence[Joint]) -> str:
    """The one fastener of joints whose place is over the mark's only point; "" where there is none, or several."""
    if len(mark.points) != 1:
        return ""
    found = {j.fastener for j in joints for pose in part.poses for place in (j.place, mirrored(j.place))
             if _over(pose, mark.points[0], place)}  # fmt: skip
    return found.pop() if len(found) == 1 else ""


def _right(number: str) -> str:
    """The right hand's number, under which the joints of both are looked for."""
    return f"{number[:-2]}-R" if number.endswith("-L") else number


def _over(pose: Pose, at: tuple[float, float], place: Place) -> bool:
    away = np.subtract(place, pose.place(*at))
    across = np.array([away @ np.array(pose.x), away @ np.array(pose.y)])
    return bool(np.hypot(*across) < ON_AXIS and np.linalg.norm(away) < NEAR)


def _sound(found: Iterable[tuple[Part, Plate]]) -> Iterable[tuple[Part, Plate]]:
    for part, plate in found:
        rings = [plate.outline, *plate.holes, *([] if plate.blank is None else [plate.blank])]
        if not all(np.isfinite(r).all() and len(r) >= 3 for r in rings):
            raise DesignProblem(f"part {part.number} has an outline that is not a closed line of finite points")
        yield part, plate


def _by_figures(plate: Plate, clear: Box) -> bool:
    """Whether a plate is too large for a sheet and its corners say all."""
    b = whole_box(plate)
    bare = len(plate.outline) <= 4 and not plate.holes and not plate.marks and plate.blank is None
    return bare and (max(b.width, b.height) > clear.width or min(b.width, b.height) > clear.height)


def _pieces(i: int, one: Alike, on: Mapping[tuple[str, int], int], clear: Box, drawn: Drawn) -> list[Block]:
    """A part's templates: metal that stands tall is laid along; wood lies as it is drawn, with its grain.

    on: the sheet of each piece, where it is known; a piece that names it takes no other room.
    """
    plate, turn, b = one.plate, 0.0, whole_box(one.plate)
    if b.height > b.width and material(one.part.material).kind not in WOOD and not plate.grain:
        plate, turn = turned(plate), 90.0
        b = whole_box(plate)
    room = clear.width - BESIDE - AWAY - 3 * MATCH_OUT, clear.height - 4 * MATCH_OUT
    parted = windows(b, *room)
    if (i, parted) not in drawn or (on and len(parted) > 1):
        drawn[i, parted] = [flat_block(one, plate, f"F{i + 1}", w, turn, on) for w in parted]
    return drawn[i, parted]


def _table(given: Sequence[Alike], formed: Sequence[Part], tall: float) -> list[Block]:
    """What is cut to figures, and what has no flat pattern; in columns no higher than a sheet."""
    lines: list[tuple[str, bool]] = []
    if given:
        lines.append(("Cut to figures: straight edges, too large for a sheet", True))
    for one in given:
        lines += _figures(one)
    if formed:
        lines.append(("No flat pattern: bodies that are bent or beaten to shape, not laid out", True))
        lines.append((", ".join(p.number for p in formed), False))
    set_ = [(line, bold) for words, bold in lines for line in wrapped(words, DRAFTING.small, COLUMN, bold)]
    many = int(tall // PITCH) - 1
    found = []
    for i in range(0, len(set_), many):
        strokes = [Text(line, (0.0, -k * PITCH), DRAFTING.small, bold=bold)
                   for k, (line, bold) in enumerate(set_[i : i + many])]  # fmt: skip
        also = tuple(p.number for one in given for p in (one.part, *one.same, *one.over)) if i == 0 else ()
        found.append(Block(f"table of flat parts {i // many + 1}", 1, 1, tuple(strokes), Box(*extent(strokes)), also))
    return found


def _figures(one: Alike) -> list[tuple[str, bool]]:
    """A part's corners from the lower left of its box, one after another anticlockwise."""
    part, low = one.part, one.plate.outline.min(axis=0)
    others = "".join(f", {p.number}" for p in (*one.same, *one.over))
    corners = [f"{inches(x, FAR)} , {inches(y, FAR)} ({millimetres(x)[:-3]}, {millimetres(y)})"
               for x, y in one.plate.outline - low]  # fmt: skip
    return [(f"{part.number}{others}: make {sum(one.count)}; {part.stock}; corners {'; '.join(corners)}"
             + (f"; {part.note}" if part.note else ""), False)]  # fmt: skip
