"""A group of parts as it stands in the aeroplane: three views in third angle, every part called out, and its list.

One drawing for whatever belongs together: undercarriage, engine mount, controls, seat, fuel, cowling, struts and wires.
Each part has one mark (a pair right and left is one), drawn on the view that shows most of it; what has no body (cloth,
wire, small bought things) stands in the list alone. The list says the part, its stock, how many, and where the middle
of the right one stands, so that it can be found on the frame; what shape it is cut to is on its template.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.parts.part import Part
from sparwright.parts.solids import solids
from sparwright.plans.block import Drawing, field_of
from sparwright.plans.bodies import ABOVE, AHEAD, COARSE, LEFT, Looking, seen
from sparwright.plans.chains import Units, said
from sparwright.plans.drawing import DRAFTING, Box, Point, Stroke, Text
from sparwright.plans.lettering import wrapped
from sparwright.plans.paper import paper
from sparwright.plans.placed import Label, placed
from sparwright.plans.ruled import Ruled, ruled, wide
from sparwright.shape.solid import Solid

SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30)
STOCK = 100.0  # mm for words of stock, which take another line past it
LIST = 0.45  # of the sheet's width: a wider list stands on a sheet of its own
ROUND = 24.0  # mm round each view for marks
FAR = 10**9  # inches without feet
NOTES = (
    "The middle of the right one of a pair is said; the left is its mirror. A part without a figure for its middle has "
    "no shape of its own.",
    "Shapes, holes and bends are on the templates; figures there govern.",
)


@dataclass(frozen=True)
class Group:
    """What is drawn together."""

    key: str
    title: str
    parts: tuple[Part, ...]
    behind: tuple[Part, ...] = ()  # drawn too, as what it is fixed to, without marks
    comes_from: tuple[str, ...] = ("general",)
    goes_to: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Item:
    """One line of the list."""

    mark: str
    name: str
    stock: str
    count: int
    bodies: tuple[Solid, ...]

    @property
    def middle(self) -> np.ndarray | None:
        """(3,) m of the right one."""
        rights = [s for s in self.bodies if s.points[:, 1].mean() > -1e-3] or list(self.bodies)
        return np.asarray((rights[0].points.min(axis=0) + rights[0].points.max(axis=0)) / 2) if rights else None


def together(group: Group, units: Units, paper_name: str = "24x36") -> tuple[Drawing, ...]:
    """The drawing of a group, its list on a sheet of its own where it is long.

    DesignProblem where the views fit at no usual scale, or there is nothing to draw.
    """
    items = listed(group.parts)
    shown = [s for i in items for s in i.bodies]
    if not shown:
        raise DesignProblem(f"{group.title}: nothing of it has a body to draw")
    behind = _near([s for p in group.behind for s in solids(p, COARSE)], shown)
    field, table = field_of(paper(paper_name)), _table(group, items, units)
    apart = wide(table, field.height) > LIST * field.width
    room = Box(field.left, field.bottom, field.right if apart else field.right - wide(table, field.height) - 10.0,
               field.top)  # fmt: skip
    scale, at = _laid(shown, room, group)
    drawn: list[Stroke] = []
    for view in (ABOVE, LEFT, AHEAD):
        window = _window(shown, view, at[view.name], scale)
        drawn += seen([*shown, *behind], view, at[view.name], scale, window)
        drawn.append(Text(view.name, (window.left, window.top + 3.0), DRAFTING.middle, bold=True))
    drawn += placed([_label(i, at, scale) for i in items if i.bodies], drawn, room)
    left = field.left if apart else room.right + 10.0
    rows = ruled(table, left, field.top, field.height).strokes
    numbers, listing = tuple(p.number for p in group.parts), f"{group.key}.list"
    first = Drawing(group.key, group.title, (*drawn, *(() if apart else rows)), f"1 : {scale}", numbers,
                    group.comes_from, (*group.goes_to, *((listing,) if apart else ())), (*NOTES, *group.notes),
                    paper_name)  # fmt: skip
    if not apart:
        return (first,)
    return first, Drawing(listing, f"{group.title}: list", rows, "none", numbers, (group.key,), (), NOTES, paper_name)


def listed(parts: Sequence[Part]) -> tuple[Item, ...]:
    """Every part once, right and left of a pair as one."""
    pairs: dict[str, list[Part]] = {}
    for p in parts:
        pairs.setdefault(p.number[:-2] if p.hand and p.number.endswith(("-R", "-L")) else p.number, []).append(p)
    return tuple(Item(str(i), stem.split("-", 1)[1], both[0].stock, sum(p.count for p in both),
                      tuple(s for p in both for s in solids(p, COARSE)))
                 for i, (stem, both) in enumerate(pairs.items(), 1))  # fmt: skip


def _near(others: Sequence[Solid], shown: Sequence[Solid]) -> list[Solid]:
    """Those others that reach into the box of what is shown."""
    points = np.concatenate([s.points for s in shown])
    low, high = points.min(axis=0) - 0.02, points.max(axis=0) + 0.02
    return [s for s in others if (s.points.max(axis=0) > low).all() and (s.points.min(axis=0) < high).all()]


def _table(group: Group, items: Sequence[Item], units: Units) -> Ruled:
    rows = []
    for i in items:
        at = i.middle
        place = tuple(said(float(v), units, FAR) for v in at) if at is not None else ("", "", "")
        stock = "\n".join(wrapped(i.stock, DRAFTING.small, STOCK))
        rows.append((i.mark, i.name, stock, str(i.count), *place))
    return Ruled(f"{group.title}: parts", ("Mark", "Part", "Stock", "Make", "Station", "BL", "WL"), tuple(rows),
                 (True, False, False, True, True, True, True), "done", 14.0)  # fmt: skip


def _size(shown: Sequence[Solid], view: Looking) -> tuple[np.ndarray, np.ndarray]:
    flat = np.concatenate([s.points for s in shown]) @ view.axes[:, :2]
    return flat.min(axis=0), flat.max(axis=0)


def _laid(shown: Sequence[Solid], room: Box, group: Group) -> tuple[int, dict[str, Point]]:
    """(scale, where the datum falls in each view)."""
    (lx, lz), (hx, hz) = _size(shown, LEFT)
    (_, low), (_, high) = _size(shown, ABOVE)
    (ax, _), (bx, _) = _size(shown, AHEAD)
    for s in SCALES:
        k = 1000 / s
        across = (hx - lx + bx - ax) * k + 4 * ROUND
        up = (hz - lz + high - low) * k + 4 * ROUND + 16.0
        if across <= room.width and up <= room.height:
            x, y = room.left + (bx - ax) * k + 3 * ROUND - lx * k, room.bottom + ROUND - lz * k
            over = y + hz * k + 2 * ROUND + 8.0 - low * k
            beside = room.left + ROUND - ax * k  # third angle: on the side it is seen from
            return s, {LEFT.name: (x, y), ABOVE.name: (x, over), AHEAD.name: (beside, y)}
    raise DesignProblem(f"{group.title}: too big for its sheet at any usual scale")


def _window(shown: Sequence[Solid], view: Looking, at: Point, scale: int) -> Box:
    """What a view shows: its group and a little round it."""
    low, high = (v * 1000 / scale for v in _size(shown, view))
    return Box(at[0] + low[0] - 4.0, at[1] + low[1] - 4.0, at[0] + high[0] + 4.0, at[1] + high[1] + 4.0)


def _label(item: Item, at: dict[str, Point], scale: int) -> Label:
    """The mark on the view in which the part covers most."""
    rights = [s for s in item.bodies if s.points[:, 1].mean() > -1e-3] or list(item.bodies)
    body = rights[0]

    def covered(view: Looking) -> float:
        low, high = _size([body], view)
        return float(np.prod(high - low + 1e-4))

    view = max((LEFT, ABOVE, AHEAD), key=covered)
    middle = (body.points.min(axis=0) + body.points.max(axis=0)) / 2
    nearest = body.points[np.linalg.norm((body.points - middle) @ view.axes[:, :2], axis=1).argmin()]
    return Label(item.mark, view.on(nearest, at[view.name], scale), ringed=True)


CONTROLS = (  # key, title, words of the parts' own names
    ("controls.hand", "Controls: stick and torque tube", ("STICK", "TORQUE", "FORK", "BEARING", "BOLT")),
    ("controls.feet", "Controls: pedals and brakes", ("PEDAL", "BRAKE")),
    ("controls.elevator", "Controls: elevator and trim", ("ELEVATOR", "MIDDLE", "FRONT", "REAR", "TRIM")),
    ("controls.rudder", "Controls: rudder", ("RUDDER",)),
    ("controls.aileron", "Controls: ailerons", ("AILERON", "BALANCE", "LINK", "LUG", "FAIRLEAD")),
)


def _controls(parts: Sequence[Part], frame: tuple[Part, ...]) -> Iterator[Group]:
    """The controls by run; what belongs to none goes with the stick."""
    left = [p for p in parts if p.group == "controls"]
    found: dict[str, list[Part]] = {key: [] for key, _, _ in CONTROLS}
    for p in left:
        words = p.number.split("-", 2)[-1].split("-")
        key = next((k for k, _, named in CONTROLS if set(words) & set(named)), CONTROLS[0][0])
        found[key].append(p)
    for key, title, _ in CONTROLS:
        if any(solids(p, COARSE) for p in found[key]):
            yield Group(key, title, tuple(found[key]), frame, ("general", "fuselage"), ("rigging",))


ROOMS = (  # key, title, what it is built on besides the general sheet
    ("gear", "Undercarriage", ("fuselage",)),
    ("tail_wheel", "Tail wheel", ("fuselage",)),
    ("mount", "Engine mount", ("fuselage",)),
    ("struts", "Struts and wires", ("fuselage",)),
    ("seat", "Seat and straps", ("fuselage",)),
    ("fuel", "Fuel", ("fuselage", "sheets")),
    ("power", "Engine, exhaust and propeller", ("mount",)),
    ("panel", "Instruments, wiring, pitot", ("sheets",)),
)


def _room(p: Part) -> str:
    """Key of the drawing a part is on, by its group; of struts and wires, those of the tail too, by its number."""
    words = p.number.split("-")
    if words[1] in ("struts", "wires"):
        return "struts"
    if p.group == "gear":
        return "tail_wheel" if "TAIL" in words else "gear"
    return "panel" if p.group in ("systems", "electrics", "pitot") else p.group


def groups(parts: Sequence[Part], legs: Sequence[Part] = ()) -> Iterator[Group]:
    """What is drawn together in the set, in the order in which it is built; a group without parts is left out.

    legs: tubes of the frame that stand out of the body, drawn with the undercarriage.
    """
    frame = tuple(p for p in parts if p.group == "fuselage" and p.purpose == "frame")
    for key, title, comes in ROOMS:
        mine = (*(legs if key == "gear" else ()), *(p for p in parts if _room(p) == key))
        if any(solids(p, COARSE) for p in mine):
            yield Group(key, title, mine, frame if key in ("seat", "fuel", "panel", "tail_wheel") else (),
                        ("general", *comes))  # fmt: skip
    yield from _controls(parts, frame)
    sheets = tuple(p for p in parts if p.group == "fuselage" and p.purpose != "frame" and p.form != "skin")
    cowl = tuple(p for p in sheets if p.purpose == "cowling")
    inner = tuple(p for p in sheets if p not in cowl)
    for key, title, mine, comes in (("sheets", "Firewall, floor, panel, decks", inner, ("fuselage",)),
                                    ("cowling", "Cowling", cowl, ("mount", "sheets"))):  # fmt: skip
        if any(solids(p, COARSE) for p in mine):
            yield Group(key, title, mine, (), ("general", *comes))
