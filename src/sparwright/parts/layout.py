"""Lay out a model: every part and every joint it is made of."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.family.model import Model, Place
from sparwright.parts.aileron import aileron_joints, aileron_parts, ailerons, bare_ailerons
from sparwright.parts.aileron_fittings import fitting_joints as hinge_joints
from sparwright.parts.aileron_fittings import fitting_parts as hinge_parts
from sparwright.parts.controls import control_joints, control_parts
from sparwright.parts.frame import frame_tubes, weld_clusters
from sparwright.parts.fuel import FUEL_NOT_DRAWN, fuel_joints, fuel_parts, fuel_replaces
from sparwright.parts.handed import handed
from sparwright.parts.inspection import holes, inspection_joints, inspection_parts, with_holes
from sparwright.parts.joints import wing_joints
from sparwright.parts.node_lugs import node_lug_joints, node_lug_parts
from sparwright.parts.number import part_number
from sparwright.parts.part import Assembly, Joint, Part, Skin
from sparwright.parts.ribs import rib_groups, ribs
from sparwright.parts.roots import root_joints, root_parts, roots_not_drawn
from sparwright.parts.skins import skin_parts
from sparwright.parts.spar_fittings import openings, spar_fitting_joints, spar_fitting_parts
from sparwright.parts.splices import splice_joints, splice_parts, unspliced
from sparwright.parts.struts import ends_not_drawn, strut_joints, strut_parts
from sparwright.parts.tail import tail_joints, tail_not_drawn, tail_parts
from sparwright.parts.wing import wing_parts
from sparwright.shape.frame import ON_CENTRE, mirrored
from sparwright.shape.solid import Solid

NOT_DRAWN = ("drag bracing of the wings",)


def lay_out(model: Model) -> Assembly:
    """All parts and joints of one model. DesignProblem when two of them would have one number."""
    tubes = frame_tubes(model)
    parts: list[Part] = [*tubes, *strut_parts(model), *spar_fitting_parts(model), *node_lug_parts(model),
                         *root_parts(model)]  # fmt: skip
    joints: list[Joint] = list(weld_clusters(model, tubes))
    for wing in model.wings:
        groups = rib_groups(model, wing)
        skins = (with_holes(model, wing, p) for p in skin_parts(model, wing))
        parts += [*ribs(model, wing, groups), *wing_parts(model, wing), *skins, *inspection_parts(model, wing)]
        joints += wing_joints(model, wing, groups)
        parts += splice_parts(model, wing)
        joints += (*splice_joints(model, wing), *inspection_joints(model, wing))
        for h in (a for a in ailerons(model) if a.wing is wing):
            parts += [*aileron_parts(h), *hinge_parts(h)]
            joints += [*aileron_joints(h, groups), *hinge_joints(h)]
    parts += (*_bought(model), *fuel_parts(model), *tail_parts(model))
    joints += (*strut_joints(model), *spar_fitting_joints(model), *node_lug_joints(model), *root_joints(model))
    cut = openings(model)
    cut = {w.name: (*cut.get(w.name, ()), *holes(model, w)) for w in model.wings}
    parts = [_opened(p, cut) for p in parts]
    joints += (*fuel_joints(model), *tail_joints(model))
    parts, joints = handed(parts, joints)
    parts += control_parts(model)  # each of them has its hand, and stands on parts that have theirs
    joints += control_joints(model)
    _all_different(model, parts)
    _all_different(model, joints)
    return Assembly(
        model=model.name,
        parts=tuple(parts),
        joints=tuple(joints),
        unknowns=_not_drawn(model),
    )


def _not_drawn(model: Model) -> tuple[str, ...]:
    """What of a model is not drawn."""
    wings = (*bare_ailerons(model), *unspliced(model), *ends_not_drawn(model), *roots_not_drawn(model), *NOT_DRAWN)
    return (*wings, *(FUEL_NOT_DRAWN if model.fuel else ()), *tail_not_drawn(model))


def _opened(part: Part, cut: Mapping[str, Sequence[Solid]]) -> Part:
    """A skin of sheet with its slots for the fittings of its wing, where they meet it."""
    skin, wing = part.shape, part.group.removeprefix("wing ")
    if not isinstance(skin, Skin) or not skin.thickness or not cut.get(wing):
        return part
    points = np.vstack([rings.reshape(-1, 3) for rings in skin.rings])
    low, high = points.min(axis=0), points.max(axis=0)
    over = tuple(c for c in cut[wing] if np.all(c.box[0] <= high) and np.all(c.box[1] >= low))
    return replace(part, shape=replace(skin, openings=over)) if over else part


def _all_different(model: Model, things: Sequence[Part] | Sequence[Joint]) -> None:
    twice = [number for number, n in Counter(t.number for t in things).items() if n > 1]
    if twice:
        word = "parts" if isinstance(things[0], Part) else "joints"
        raise DesignProblem(
            f"{model.name}: two {word} would have the number {', '.join(twice)}; rename one, or move stations "
            "nearer than 1/64 in apart or together"
        )


def _bought(model: Model) -> Iterator[Part]:
    engine, propeller = model.engine, model.propeller
    yield _item(model, "engine", engine.name, "power", (engine.place,), engine.mass, engine.mass_band, engine.mark)
    yield _item(model, "propeller", "propeller", "power", (propeller.place,), propeller.mass, 0.1, "designer")
    for wheel in model.wheels:
        places = (wheel.place,) if abs(wheel.place[1]) < ON_CENTRE else (wheel.place, mirrored(wheel.place))
        yield _item(model, f"wheel-{wheel.name}", f"{wheel.name} wheel", "gear", places, wheel.mass, 0.1, "designer")
    for item in (i for i in model.items if i.name not in fuel_replaces(model)):
        yield _item(
            model,
            item.name,
            item.name.replace("_", " "),
            "systems",
            (item.place,) * item.count,
            item.mass,
            item.band,
            item.mark,
        )


def _item(
    model: Model, key: str, name: str, group: str, places: tuple[Place, ...], mass: float, band: float, mark: str
) -> Part:
    return Part(
        number=part_number(model.name, group, key.upper().replace("_", "-")),
        name=name,
        form="item",
        group=group,
        purpose="bought",
        material="bought",
        stock="bought",
        places=places,
        mass=mass,
        band=band,
        mark=mark,
    )
