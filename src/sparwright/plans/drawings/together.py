"""A group of parts as it stands in the aeroplane: three views in third angle, every part called out, and its list.

One drawing for whatever belongs together: undercarriage, engine mount, controls, seat, fuel, cowling, struts and wires.
Each part has one mark (a pair right and left is one), drawn on the view that shows most of it; what has no body (cloth,
wire, small bought things) stands in the list alone. The list says the part, its stock, how many, and where the middle
of the right one stands, so that it can be found on the frame; what shape it is cut to is on its template.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.parts.part import Part
from sparwright.parts.solids import solids
from sparwright.plans.block import Drawing, field_of
from sparwright.plans.bodies import ABOVE, AHEAD, COARSE, LEFT, Looking, on_right, seen
from sparwright.plans.chains import Units, said
from sparwright.plans.drawing import DRAFTING, Box, Point, Stroke, Text
from sparwright.plans.lettering import wrapped
from sparwright.plans.paper import paper
from sparwright.plans.placed import Label, placed
from sparwright.plans.ruled import Ruled, ruled, wide
from sparwright.shape.solid import Solid

SAME = 5e-3  # m that a tube may lie off the mirror of its twin: one of them is fitted to the other
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


BRACING = ("struts", "wires")
PINNED = (
    "The right half is drawn. What ends a strut or a wire stands under it in the list; where it is, its name says.",
    "Pin to pin: between the middles of its two pins with the aeroplane rigged. Cut no strut before the wings stand on "
    "their jig and both ends are measured; adjust wires by their turnbuckles.",
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
    nested: bool = False  # what ends a member stands under it in the list and has no mark on the views
    half: bool = False  # only the right half is drawn


@dataclass(frozen=True)
class Item:
    """One line of the list."""

    mark: str
    name: str
    stock: str
    count: int
    bodies: tuple[Solid, ...]

    @property
    def own(self) -> bool:
        """Whether it has a mark of its own, and does not stand under another."""
        return self.mark.isdigit()

    @property
    def middle(self) -> np.ndarray | None:
        """(3,) m of the right one."""
        rights = [s for s in self.bodies if s.points[:, 1].mean() > -1e-3] or list(self.bodies)
        return np.asarray((rights[0].points.min(axis=0) + rights[0].points.max(axis=0)) / 2) if rights else None


def together(group: Group, units: Units, paper_name: str = "24x36") -> tuple[Drawing, ...]:
    """The drawing of a group, its list on a sheet of its own where it is long.

    DesignProblem where the views fit at no usual scale, or there is nothing to draw.
    """
    items = nested(listed(group.parts)) if group.nested else listed(group.parts)
    shown = [s for i in items for s in i.bodies if not group.half or on_right(s)]
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
    drawn += placed([_label(i, at, scale, group.nested) for i in items if i.bodies and i.own], drawn, room)
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
    known = {p.number: p for p in parts}
    for p in parts:
        stem = p.number[:-2] if p.hand and p.number.endswith(("-R", "-L")) else p.number
        twin = known.get(other_tube(p.number))
        if twin is not None and twin.number in pairs and _mirrors(p, twin):
            stem = twin.number
        pairs.setdefault(stem, []).append(p)
    return tuple(Item(str(i), stem.split("-", 1)[1], both[0].stock, sum(p.count for p in both),
                      tuple(s for p in both for s in solids(p, COARSE)))
                 for i, (stem, both) in enumerate(pairs.items(), 1))  # fmt: skip


def other_tube(number: str) -> str:
    """Number of the tube of a welded frame on the other side; "" of what is none.

    >>> other_tube("W1-mount-TUBE-UR-VR"), other_tube("W1-fuselage-TUBE-AXR-B0"), other_tube("W1-gear-GUIDE-R")
    ('W1-mount-TUBE-UL-VL', 'W1-fuselage-TUBE-AXL-B0', '')
    """
    words = number.split("-")
    if words[2] != "TUBE":
        return ""
    return "-".join((*words[:3], *(e[:-1] + {"R": "L", "L": "R"}.get(e[-1], e[-1]) for e in words[3:])))


def _mirrors(a: Part, b: Part) -> bool:
    """Whether two single parts lie right and left of the middle."""
    if a.number == b.number or a.count != 1 or b.count != 1:
        return False
    (x, y, z), other = a.places[0], b.places[0]
    return bool(np.abs(np.subtract((x, -y, z), other)).max() < SAME)


def nested(items: Sequence[Item]) -> tuple[Item, ...]:
    """Items with what ends a member under it, as 1a, 1b: its name goes on where the member's ends."""
    heads = [i for i in items if not any(i.name.startswith(f"{o.name}-") for o in items)]
    found: list[Item] = []
    for n, head in enumerate(heads, 1):
        mine = [i for i in items if i.name.startswith(f"{head.name}-")]
        found.append(replace(head, mark=str(n)))
        found += [replace(i, mark=f"{n}{chr(ord('a') + k)}") for k, i in enumerate(mine)]
    return tuple(found)


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
                 (not group.nested, False, False, True, True, True, True), "done", 14.0)  # fmt: skip


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


def _label(item: Item, at: dict[str, Point], scale: int, long: bool) -> Label:
    """The mark on the view in which the part covers most; long: at its middle, else at a corner near that."""
    rights = [s for s in item.bodies if s.points[:, 1].mean() > -1e-3] or list(item.bodies)
    body = rights[0]

    def covered(view: Looking) -> float:
        low, high = _size([body], view)
        return float(np.prod(high - low + 1e-4))

    view = max((LEFT, ABOVE, AHEAD), key=covered)
    middle = (body.points.min(axis=0) + body.points.max(axis=0)) / 2
    nearest = (
        middle if long else body.points[np.linalg.norm((body.points - middle) @ view.axes[:, :2], axis=1).argmin()]
    )
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
    ("struts", "Struts and wires of the wings", ("fuselage",)),
    ("tail_bracing", "Struts and wires of the tail", ("fuselage", "tail.tailplane", "tail.fin")),
    ("seat", "Seat and straps", ("fuselage",)),
    ("fuel", "Fuel", ("fuselage", "sheets")),
    ("power", "Engine, exhaust and propeller", ("mount",)),
    ("panel", "Instruments, wiring, pitot", ("sheets",)),
)


def _room(p: Part, tail: set[str]) -> str:
    """Key of the drawing a part is on, by its group; of struts and wires by their number. tail: members of the tail."""
    words = p.number.split("-")
    if words[1] in BRACING:
        return "tail_bracing" if words[2] in tail else "struts"
    if p.group == "gear":
        return "tail_wheel" if "TAIL" in words else "gear"
    return "panel" if p.group in ("systems", "electrics", "pitot") else p.group


def groups(parts: Sequence[Part], legs: Sequence[Part] = ()) -> Iterator[Group]:
    """What is drawn together in the set, in the order in which it is built; a group without parts is left out.

    legs: tubes of the frame that stand out of the body, drawn with the undercarriage.
    """
    frame = tuple(p for p in parts if p.group == "fuselage" and p.purpose == "frame")
    tail = {p.number.split("-")[2] for p in parts if p.number.split("-")[1] in BRACING
            and ("-tailplane-" in p.number or "-fin-" in p.number)}  # fmt: skip
    for key, title, comes in ROOMS:
        mine = (*(legs if key == "gear" else ()), *(p for p in parts if _room(p, tail) == key))
        braces = key in ("struts", "tail_bracing")
        if any(solids(p, COARSE) for p in mine):
            yield Group(key, title, mine, frame if key in ("seat", "fuel", "panel", "tail_wheel") else (),
                        ("general", *comes), ("rigging",) if braces else (), PINNED if braces else (), braces,
                        braces)  # fmt: skip
    yield from _controls(parts, frame)
    sheets = tuple(p for p in parts if p.group == "fuselage" and p.purpose != "frame" and p.form != "skin")
    cowl = tuple(p for p in sheets if p.purpose == "cowling")
    inner = tuple(p for p in sheets if p not in cowl)
    for key, title, mine, comes in (("sheets", "Firewall, floor, panel, decks", inner, ("fuselage",)),
                                    ("cowling", "Cowling", cowl, ("mount", "sheets"))):  # fmt: skip
        if any(solids(p, COARSE) for p in mine):
            yield Group(key, title, mine, (), ("general", *comes))
