"""The joints inside a wing: rib to spar, cap to web, skin to rib."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

import numpy as np

from sparwright.data.loader import material
from sparwright.family.model import Model, Panel, Spar, Wing
from sparwright.parts.number import part_number
from sparwright.parts.part import Joint
from sparwright.parts.ribs import RibPlace, hands, rib_groups, rib_number
from sparwright.parts.wing import cap_number, ends, girth, skin_number, web_number
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.lifting import panel_at
from sparwright.shape.rib import Slot, slot

Glue = Literal["glue", "rivet"]
SKIN_JOINT: dict[str, Literal["lacing", "rivet", "bond", "glue"]] = {
    "fabric": "lacing",
    "aluminium": "rivet",
    "glass": "bond",
}


def wing_joints(model: Model, wing: Wing) -> tuple[Joint, ...]:
    """All joints of one wing, both sides counted."""
    return (*_rib_joints(model, wing), *_cap_joints(model, wing), *_skin_joints(model, wing))


def _kind(wing: Wing) -> Glue:
    return "rivet" if material(wing.ribs.sheet.material).kind == "aluminium" else "glue"


def _rib_joints(model: Model, wing: Wing) -> Iterator[Joint]:
    """Each rib shape to each spar it meets: glued on the webs' faces, or riveted to them up and down."""
    kind = _kind(wing)
    for group in rib_groups(model, wing):
        for spar in wing.spars:
            box = _meets(group[0], wing, spar)
            if box is None:
                continue
            panel, _ = panel_at(wing, group[0].where.buttline)
            for hand in hands(wing):
                number = rib_number(model, wing, group, hand)
                yield Joint(
                    number=part_number(number, "JOINT", spar.name.upper()),
                    kind=kind,
                    primary=True,
                    parts=(web_number(model, wing, panel, spar), number),
                    place=group[0].station.place(box.x, box.y),
                    area=2 * box.height * wing.ribs.sheet.thickness if kind == "glue" else 0.0,
                    length=box.height,
                    fastener="unknown" if kind == "rivet" else "",
                    count=_count(group, len(hands(wing))),
                )


def _meets(place: RibPlace, wing: Wing, spar: Spar) -> Slot | None:
    """The spar's box where it touches the piece, or nothing."""
    box = slot(place.station, wing, spar)
    x = place.piece.outline[:, 0]
    reach = box.width / 2 + wing.ribs.fit + 1e-4
    return box if x.min() - reach <= box.x <= x.max() + reach else None


def _count(group: tuple[RibPlace, ...], hands_: int) -> int:
    """Places of a shape: both sides, the centreline once; half of them for each of two hands."""
    return sum(1 if p.where.buttline < ON_CENTRE or hands_ == 2 else 2 for p in group)


def _sides(panel: Panel) -> int:
    return 1 if panel.root_buttline < ON_CENTRE else 2


def _cap_joints(model: Model, wing: Wing) -> Iterator[Joint]:
    """Each cap to its webs along the panel; the glued face is the depth of the cap."""
    kind = _kind(wing)
    for panel in wing.panels:
        a, b = ends(model, wing, panel)
        for spar in wing.spars:
            boxes = [slot(s, wing, spar) for s in (a, b)]
            start, end = (s.place(k.x, k.y) for s, k in zip((a, b), boxes, strict=True))
            length = float(np.linalg.norm(np.subtract(end, start))) * (2 if _sides(panel) == 1 else 1)
            for side in ("upper", "lower"):
                cap = cap_number(model, wing, panel, spar, side)
                yield Joint(
                    number=part_number(cap, "", "JOINT"),
                    kind=kind,
                    parts=(cap, web_number(model, wing, panel, spar)),
                    place=start,
                    primary=True,
                    length=length,
                    area=length * spar.cap.depth * spar.webs if kind == "glue" else 0.0,
                    fastener="unknown" if kind == "rivet" else "",
                    count=_sides(panel),
                )


def _skin_joints(model: Model, wing: Wing) -> Iterator[Joint]:
    """Each skin to the ribs beneath it: the length is the developed edge of one rib."""
    for panel in wing.panels:
        a, b = ends(model, wing, panel)
        inner, outer = panel.root_buttline - 1e-6, panel.tip_buttline + 1e-6
        met = tuple(
            rib_number(model, wing, g, h)
            for g in rib_groups(model, wing)
            for h in hands(wing)
            if any(inner <= p.where.buttline <= outer for p in g)
        )
        for skin in wing.skins:
            kind = SKIN_JOINT.get(material(skin.material).kind, "glue")
            edge = (girth(a, skin.start, skin.end) + girth(b, skin.start, skin.end)) / 2
            number = skin_number(model, wing, panel, skin)
            yield Joint(
                number=part_number(number, "", "JOINT"),
                kind=kind,
                parts=(number, *met),
                primary=False,
                length=edge,
                place=a.place(skin.start * a.chord, 0.0),
                fastener="unknown" if kind == "rivet" else "",
                count=_sides(panel),
                area=edge * wing.ribs.sheet.thickness if kind in ("glue", "bond") else 0.0,
                note="length and area are for one rib",
            )
