"""The joints inside a wing: rib to spar, cap to web, skin to rib."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Literal

import numpy as np

from sparwright.data.loader import material
from sparwright.family.model import Bar, Model, Panel, Skin, Spar, Wing
from sparwright.parts.edges import girth
from sparwright.parts.number import part_number
from sparwright.parts.part import Hand, Joint
from sparwright.parts.ribs import (
    AILERON_RIB,
    NOSE_RIB,
    RibGroup,
    RibPlace,
    hands,
    made_of,
    rib_number,
    rib_numbers,
    rib_poses,
    rib_thickness,
    truss_joints,
)
from sparwright.parts.skins import skin_sheets, tape_number
from sparwright.parts.stations import SAME
from sparwright.parts.wing import cap_number, edge_number, ends, in_one, spar_runs, stretches, web_number
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.lifting import panel_at
from sparwright.shape.rib import Slot, slot

Glue = Literal["glue", "rivet"]
METALS = ("aluminium", "steel")
SKIN_JOINT: dict[str, Literal["lacing", "rivet", "bond", "glue"]] = {
    "fabric": "lacing",
    "aluminium": "rivet",
    "glass": "bond",
}


def wing_joints(model: Model, wing: Wing, groups: Sequence[RibGroup]) -> tuple[Joint, ...]:
    """All joints of one wing, both sides counted; groups: the shapes of its ribs."""
    return (
        *_rib_joints(model, wing, groups),
        *_back_joints(model, wing, groups),
        *truss_joints(model, wing, groups),
        *_cap_joints(model, wing),
        *_bar_joints(model, wing, groups),
        *_skin_joints(model, wing, groups),
        *tape_joints(model, wing),
    )


def rivet_or_glue(material_key: str) -> Glue:
    """How a part of that material is fastened along its length."""
    return "rivet" if material(material_key).kind in METALS else "glue"


def _rib_joints(model: Model, wing: Wing, groups: Sequence[RibGroup]) -> Iterator[Joint]:
    """Each rib shape to each spar it meets, by panel: glued on the webs' faces, or riveted to them up and down."""
    for group in groups:
        for spar in wing.spars:
            for panel in wing.panels:
                here = tuple(p for p in group if panel_at(wing, p.where.buttline)[0] is panel)
                for hand in hands(wing) if here else ():
                    joint = _rib_joint(model, wing, spar, panel, group, here, hand)
                    if joint is not None:
                        yield joint


def _rib_joint(
    model: Model, wing: Wing, spar: Spar, panel: Panel, group: RibGroup, here: RibGroup, hand: Hand
) -> Joint | None:
    box, poses = _meets(here[0], wing, spar), rib_poses(here, hand)
    count = len(poses)
    if box is None or not count:
        return None
    kind, number = rivet_or_glue(made_of(wing, here[0]).sheet.material), rib_number(model, wing, group, hand)
    faces = 2 if any(s.spar == spar.name for s in here[0].piece.slots) else 1
    return Joint(
        number=part_number(number, "JOINT", spar.name.upper(), panel.name),
        kind=kind,
        primary=True,
        parts=(web_number(model, wing, panel, spar), *rib_numbers(model, wing, group, hand, spar.name)),
        place=poses[0].place(box.x, box.y),
        area=faces * box.height * rib_thickness(wing, group) if kind == "glue" else 0.0,
        length=faces * box.height,
        fastener="unknown" if kind == "rivet" else "",
        count=count,
    )


def _back_joints(model: Model, wing: Wing, groups: Sequence[RibGroup]) -> Iterator[Joint]:
    """Of two ribs back to back each piece to the other, web on web."""
    for group in groups:
        for front in groups if group[0].back else ():
            met = [p for p in front for q in group if _are_two(p, q)]
            for hand in hands(wing) if met else ():
                number, place = rib_number(model, wing, group, hand), met[0]
                other = rib_number(model, wing, front, {"R": "L", "L": "R"}.get(hand, ""))  # type: ignore[arg-type]
                kind, x = rivet_or_glue(made_of(wing, place).sheet.material), place.piece.outline[:, 0]
                count = len(rib_poses([q for q in group if any(_are_two(p, q) for p in front)], hand))
                if count:
                    yield Joint(
                        number=part_number(number, "JOINT", "BACK", other.split("-", 2)[2]), kind=kind, primary=True,
                        parts=(number, other), place=place.station.place(*place.piece.centre),
                        area=place.piece.area if kind == "glue" else 0.0, length=float(np.ptp(x)),
                        fastener="unknown" if kind == "rivet" else "", count=count,
                    )  # fmt: skip


def _are_two(front: RibPlace, back: RibPlace) -> bool:
    """Whether two pieces stand back to back."""
    at, name = back.where.buttline, back.piece.name
    return not front.back and abs(front.where.buttline - at) < SAME and front.piece.name == name


def _meets(place: RibPlace, wing: Wing, spar: Spar) -> Slot | None:
    """The spar's box where it touches the piece, or nothing."""
    box = slot(place.station, wing, spar)
    x = place.piece.outline[:, 0]
    reach = box.width / 2 + box.height * abs(float(np.sin(box.lean))) + wing.ribs.fit + 1e-4
    return box if x.min() - reach <= box.x <= x.max() + reach else None


def _sides(panel: Panel) -> int:
    return 1 if in_one(panel) else 2


def _cap_joints(model: Model, wing: Wing) -> Iterator[Joint]:
    """Each cap to its webs along the panel; the glued face is the depth of the cap."""
    for panel in spar_runs(wing):
        a, b = ends(model, wing, panel)
        for spar in wing.spars:
            kind = rivet_or_glue(spar.cap.material)
            boxes = [slot(s, wing, spar) for s in (a, b)]
            start, end = (s.place(k.x, k.y) for s, k in zip((a, b), boxes, strict=True))
            length = float(np.linalg.norm(np.subtract(end, start))) * (2 if in_one(panel) else 1)
            for side in ("upper", "lower"):
                cap = cap_number(model, wing, panel, spar, side)
                yield Joint(
                    number=part_number(cap, "", "JOINT"),
                    kind=kind,
                    parts=(cap, web_number(model, wing, panel, spar)),
                    place=start,
                    primary=True,
                    length=length * spar.webs,
                    area=length * spar.cap.depth * spar.webs if kind == "glue" else 0.0,
                    fastener="unknown" if kind == "rivet" else "",
                    count=_sides(panel),
                )


def _bar_joints(model: Model, wing: Wing, groups: Sequence[RibGroup]) -> Iterator[Joint]:
    """Each edge bar to the ribs that stand on it, once for each rib: the face is the rib's thickness by its height."""
    for panel in spar_runs(wing):
        if wing.nose_bar is not None:
            yield from bar_joint(model, wing, groups, edge_number(model, wing, panel, 0), wing.nose_bar, panel, 0)
        for stretch, parted in stretches(wing, panel):
            if wing.tail_bar is not None and not parted:
                number = edge_number(model, wing, panel, 1, stretch)
                yield from bar_joint(model, wing, groups, number, wing.tail_bar, stretch, 1)


def bar_joint(
    model: Model, wing: Wing, groups: Sequence[RibGroup], number: str, bar: Bar, reach: Panel, at: int
) -> Iterator[Joint]:
    """One edge bar at the nose (0) or the tail (1) to the ribs on it."""
    met = [(g, [p for p in g if _on_edge(p, reach, wing, at)]) for g in groups]
    role = ("nose", "tail")[at]
    ribs = [
        n for g, here in met for h in hands(wing) if rib_poses(here, h) for n in rib_numbers(model, wing, g, h, role)
    ]
    if not ribs:
        return
    first = next(here[0] for _, here in met if here)
    x = first.piece.outline[:, 0].min() if at == 0 else first.piece.outline[:, 0].max()
    kind = rivet_or_glue(bar.material)
    yield Joint(
        number=part_number(number, "", "JOINT"),
        kind=kind,
        parts=(number, *ribs),
        place=first.station.place(float(x), 0.0),
        primary=False,
        length=bar.depth,
        area=bar.depth * wing.ribs.sheet.thickness if kind == "glue" else 0.0,
        fastener="unknown" if kind == "rivet" else "",
        count=both_sides(p for _, here in met for p in here),
        note="length and area are for one rib, before the bar is planed",
    )


def both_sides(places: Iterable[RibPlace]) -> int:
    """How many ribs stand there on both sides; one on the centreline is one."""
    return sum(1 if y < ON_CENTRE else 2 for y in {round(p.where.buttline, 6) for p in places})


def _on_edge(place: RibPlace, panel: Panel, wing: Wing, at: int) -> bool:
    """Whether a rib's piece ends on the bar at the nose (0) or the tail (1) of a panel."""
    y, x, chord = place.where.buttline, place.piece.outline[:, 0], place.station.chord
    on = x.min() < wing.ribs.nose_cut + 1e-4 if at == 0 else x.max() > chord - wing.ribs.tail_cut - 1e-4
    return bool(panel.root_buttline - SAME <= y <= panel.tip_buttline + SAME and on)


def _skin_joints(model: Model, wing: Wing, groups: Sequence[RibGroup]) -> Iterator[Joint]:
    """Each skin to the ribs beneath it, once for each rib: the length is the developed edge of one rib."""
    for sheet in (q for p in wing.panels for k in wing.skins for q in skin_sheets(model, wing, p, k)):
        panel, skin = sheet.reach, sheet.skin
        a, b = ends(model, wing, panel)
        if skin:
            beneath = [(g, [p for p in g if _under(p, panel, skin) and not _turns(p, wing)]) for g in groups]
            met = [
                n for g, here in beneath for h in hands(wing) if rib_poses(here, h)
                for n in rib_numbers(model, wing, g, h, "skin")
            ]  # fmt: skip
            kind = SKIN_JOINT.get(material(skin.material).kind, "glue")
            edge = (girth(a, skin.start, skin.end) + girth(b, skin.start, skin.end)) / 2
            edge, number = edge / (2 if sheet.side else 1), sheet.number
            yield Joint(
                number=part_number(number, "", "JOINT"),
                kind=kind,
                parts=(number, *met),
                primary=False,
                length=edge,
                place=a.place(skin.start * a.chord, 0.0),
                fastener="unknown" if kind == "rivet" else "",
                count=both_sides(p for _, here in beneath for p in here),
                area=edge * wing.ribs.sheet.thickness if kind in ("glue", "bond") else 0.0,
                note="length and area are for one rib; a rib where panels meet counts for both",
            )


def tape_joints(model: Model, wing: Wing) -> Iterator[Joint]:
    """Tape over the leading edge of sheets that are laid up flat."""
    for sheet in (q for p in wing.panels for k in wing.skins for q in skin_sheets(model, wing, p, k)):
        if sheet.side != "upper" or sheet.skin.start > 0:
            continue
        assert sheet.skin.laid is not None
        s, _ = ends(model, wing, sheet.reach)
        long = (sheet.reach.tip_buttline - sheet.reach.root_buttline) * (2 if in_one(sheet.reach) else 1)
        number = tape_number(sheet)
        yield Joint(
            number=f"{number}-JOINT", kind="bond", primary=True, length=long, area=long * sheet.skin.laid.tape,
            parts=(number, sheet.number, sheet.number.replace("-UPPER", "-LOWER")), place=s.place(0.0, 0.0),
            count=_sides(sheet.reach),
        )  # fmt: skip


def _turns(place: RibPlace, wing: Wing) -> bool:
    """Whether a piece is of an aileron that has a skin of its own."""
    return bool(wing.aileron and wing.aileron.frame and place.piece.name in (AILERON_RIB, NOSE_RIB))


def _under(place: RibPlace, panel: Panel, skin: Skin) -> bool:
    """Whether a rib's piece lies under the skin of a panel."""
    y, x, chord = place.where.buttline, place.piece.outline[:, 0], place.station.chord
    along = panel.root_buttline - SAME <= y <= panel.tip_buttline + SAME
    return bool(along and x.max() > skin.start * chord and x.min() < skin.end * chord)
