"""Lay out a model: every part and every joint it is made of."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.family.model import Model, Wing
from sparwright.parts.aileron import aileron_joints, aileron_parts, ailerons, bare_ailerons
from sparwright.parts.aileron_closed import closing_joints, closing_parts
from sparwright.parts.aileron_fittings import fitting_joints as hinge_joints
from sparwright.parts.aileron_fittings import fitting_parts as hinge_parts
from sparwright.parts.balance import balance_joints, balance_parts
from sparwright.parts.bought import bought_joints, bought_parts
from sparwright.parts.brakes import brake_joints, brake_parts
from sparwright.parts.controls import CONTROLS_NOT_DRAWN, controls_made
from sparwright.parts.cowling import cowling_joints, cowling_parts
from sparwright.parts.drag_bracing import bared, drag_joints, drag_parts
from sparwright.parts.electrics import ELECTRICS_NOT_DRAWN, electrics_joints, electrics_parts
from sparwright.parts.exhaust import exhaust_joints, exhaust_parts
from sparwright.parts.flat_sheets import laid_sheets, sheet_joints, sheet_number, sheet_parts
from sparwright.parts.formers import stringer_joints, stringer_parts
from sparwright.parts.frame import frame_tubes, weld_clusters
from sparwright.parts.from_measured import from_measured
from sparwright.parts.fuel import fuel_joints, fuel_not_drawn, fuel_parts
from sparwright.parts.handed import handed
from sparwright.parts.inspection import holes, inspection_joints, inspection_parts, with_holes
from sparwright.parts.joints import wing_joints
from sparwright.parts.mount import mount_joints, mount_parts
from sparwright.parts.node_lugs import node_lug_joints, node_lug_parts
from sparwright.parts.part import Assembly, Joint, Part, Skin
from sparwright.parts.passages import Passing, opened, passings
from sparwright.parts.pitot import PITOT_NOT_DRAWN, pitot_joints, pitot_parts
from sparwright.parts.ribs import rib_groups, ribs
from sparwright.parts.roots import root_joints, root_parts, roots_not_drawn
from sparwright.parts.seat import seat_joints, seat_not_drawn, seat_parts
from sparwright.parts.skins import skin_parts
from sparwright.parts.spar_fittings import openings, spar_fitting_joints, spar_fitting_parts
from sparwright.parts.splices import splice_joints, splice_parts, unspliced
from sparwright.parts.strap_lugs import strap_lug_joints, strap_lug_parts
from sparwright.parts.struts import ends_not_drawn, strut_joints, strut_parts
from sparwright.parts.tail import tail_joints, tail_not_drawn, tail_parts
from sparwright.parts.tank_hold import hold_joints, hold_parts
from sparwright.parts.trials import trial_pieces
from sparwright.parts.turnover import turnover_marked
from sparwright.parts.undercarriage import gear_joints, gear_not_drawn, gear_parts
from sparwright.parts.wing import wing_parts
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.solid import Solid, as_place


def lay_out(model: Model) -> Assembly:
    """All parts and joints of one model. DesignProblem when two of them would have one number."""
    tubes = frame_tubes(model)
    parts: list[Part] = [*tubes, *strut_parts(model), *spar_fitting_parts(model), *node_lug_parts(model),
                         *root_parts(model)]  # fmt: skip
    mount, laid = mount_parts(model), laid_sheets(model, tubes)
    joints: list[Joint] = [*weld_clusters(model, tubes), *mount_joints(model, mount)]
    parts += (
        *mount,
        *sheet_parts(model, laid, tubes),
        *gear_parts(model, tubes),
        *brake_parts(model, tubes),
        *bought_parts(model, laid),
    )
    joints += (
        *sheet_joints(model, laid, tubes),
        *gear_joints(model, tubes),
        *brake_joints(model, tubes),
        *bought_joints(model, laid, tubes),
    )
    parts += (*seat_parts(model, laid), *strap_lug_parts(model, tubes))
    joints += (*seat_joints(model, laid), *strap_lug_joints(model, tubes))
    planes = {s.sheet.name: s.pose.origin[0] for s in laid}
    parts += stringer_parts(model, planes)
    joints += stringer_joints(model, planes, {f.name: sheet_number(model, f.name) for f in model.formers})
    through = passings(model)
    for wing in model.wings:
        its_parts, its_joints = _wing(model, wing, through)
        parts += its_parts
        joints += its_joints
    parts += (*fuel_parts(model), *hold_parts(model, tubes), *tail_parts(model), *balance_parts(model))
    parts += (*cowling_parts(model, laid), *exhaust_parts(model))
    joints += cowling_joints(model, laid)
    joints += exhaust_joints(model)
    parts += (*electrics_parts(model), *pitot_parts(model, parts))
    joints += (*electrics_joints(model, tubes), *pitot_joints(model, parts))
    joints += (*strut_joints(model), *spar_fitting_joints(model), *node_lug_joints(model), *root_joints(model))
    cut = openings(model)
    cut = {w.name: (*cut.get(w.name, ()), *holes(model, w)) for w in model.wings}
    parts = [_opened(p, cut) for p in parts]
    joints += (*fuel_joints(model), *hold_joints(model, tubes), *tail_joints(model), *balance_joints(model))
    parts, joints = handed(list(turnover_marked(model, parts)), joints)
    controls = controls_made(model, parts)
    parts += controls.parts  # each of them has its hand
    joints += controls.joints
    _all_different(model, parts)
    _all_different(model, joints)
    tried = trial_pieces(model, parts, joints)
    return Assembly(
        model=model.name,
        parts=from_measured(model, parts),
        joints=tuple(joints),
        test_pieces=tuple(replace(t, halves=from_measured(model, t.halves)) for t in tried),
        unknowns=_not_drawn(model),
    )


def _wing(model: Model, wing: Wing, through: Sequence[Passing]) -> tuple[Sequence[Part], Sequence[Joint]]:
    """One wing with its ailerons: what rods and cables pass is open in ribs and skins."""
    groups = opened(wing, rib_groups(model, wing), through)
    skins = (with_holes(model, wing, p) for p in skin_parts(model, wing))
    parts = [*ribs(model, wing, groups), *wing_parts(model, wing), *skins, *inspection_parts(model, wing),
             *splice_parts(model, wing), *drag_parts(model, wing)]  # fmt: skip
    joints = [*wing_joints(model, wing, groups), *drag_joints(model, wing), *splice_joints(model, wing),
              *inspection_joints(model, wing)]  # fmt: skip
    for h in (a for a in ailerons(model) if a.wing is wing):
        parts += [*aileron_parts(h), *hinge_parts(h), *closing_parts(h)]
        joints += [*aileron_joints(h, groups), *hinge_joints(h), *closing_joints(h, groups)]
    return parts, joints


def _not_drawn(model: Model) -> tuple[str, ...]:
    """What of a model is not drawn."""
    wings = (*bare_ailerons(model), *unspliced(model), *ends_not_drawn(model), *roots_not_drawn(model), *bared(model))
    gear = gear_not_drawn(model)
    gear = (*gear, *(CONTROLS_NOT_DRAWN if model.controls else ()))
    wires = (*(ELECTRICS_NOT_DRAWN if model.electrics else ()), *(PITOT_NOT_DRAWN if model.pitot else ()))
    return (*wings, *fuel_not_drawn(model), *wires, *gear, *tail_not_drawn(model), *seat_not_drawn(model))


def _opened(part: Part, cut: Mapping[str, Sequence[Solid]]) -> Part:
    """A skin of sheet with its slots for the fittings of its wing, where they meet it."""
    skin, wing = part.shape, part.group.removeprefix("wing ")
    if not isinstance(skin, Skin) or not skin.thickness or not cut.get(wing):
        return part
    points = np.vstack([rings.reshape(-1, 3) for rings in skin.rings])
    low, high = points.min(axis=0), points.max(axis=0)
    over = tuple(c for c in cut[wing] if np.all(c.box[0] <= high) and np.all(c.box[1] >= low))
    return _less(part, skin, replace(skin, openings=over)) if over else part


def _less(part: Part, before: Skin, after: Skin) -> Part:
    """A skin with what was cut out of it taken off its mass, and its place where what is left lies."""
    whole, left = before.solid(), after.solid()
    if whole is None or left is None:
        return replace(part, shape=after)
    x, y, z = as_place(left.centre)
    places = tuple((x, math.copysign(y, q[1]) if abs(q[1]) > ON_CENTRE else q[1], z) for q in part.places)
    return replace(part, shape=after, places=places, mass=part.mass * left.volume / whole.volume)


def _all_different(model: Model, things: Sequence[Part] | Sequence[Joint]) -> None:
    twice = [number for number, n in Counter(t.number for t in things).items() if n > 1]
    if twice:
        word = "parts" if isinstance(things[0], Part) else "joints"
        raise DesignProblem(
            f"{model.name}: two {word} would have the number {', '.join(twice)}; rename one, or move stations "
            "nearer than 1/64 in apart or together"
        )
