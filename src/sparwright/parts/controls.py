"""The controls as parts and joints, from the hand and foot to the surface; nothing where the file has none."""

from __future__ import annotations

from collections.abc import Sequence

from sparwright.family.controls import ControlCable, Controls
from sparwright.family.model import Model
from sparwright.parts.control_bolts import with_bolts
from sparwright.parts.control_brackets import crank_parts, fairlead_parts, pulley_parts
from sparwright.parts.control_hand import hand_parts
from sparwright.parts.control_links import Made, cable_parts, rod_parts
from sparwright.parts.control_lugs import lug_parts
from sparwright.parts.control_runs import layout
from sparwright.parts.control_stops import crank_stops, rudder_stops, side_stop_parts, side_stops
from sparwright.parts.control_trim import trim_parts
from sparwright.parts.part import Part

CONTROLS_NOT_DRAWN = (
    "controls: angles and backing plates of brackets on wings, clips of the rudder's stops, bushes in the hubs of "
    "bell-cranks, openings for cables in webs and skins, what holds the trim's lever",
)


def control_replaces(model: Model) -> tuple[str, ...]:
    """Allowances that count no more once the parts of the controls do."""
    return model.controls.replaces if model.controls else ()


def controls_made(model: Model, standing: Sequence[Part]) -> Made:
    """Every part and joint of the controls; none where the file has none.

    standing: the parts they stand on, with their hands.
    """
    made = Made(standing={p.number: p for p in standing})
    return _fill(model, model.controls, made) if model.controls else made


def _fill(model: Model, c: Controls, made: Made) -> Made:
    runs = layout(model, c)
    side = side_stops(model, c, runs)
    hand_parts(model, c, runs, made, {side.stop.on: tuple(side.pins.values())} if side else {})
    if side:
        side_stop_parts(model, c, side, made)
    pins = crank_stops(model, c, runs, made)
    rudder_stops(model, c, made)
    for crank in c.cranks:
        crank_parts(model, c, runs, crank, made, pins)
    for lug in c.lugs:
        lug_parts(model, c, lug, made)
    for link in runs.links:
        (cable_parts if isinstance(link.made, ControlCable) else rod_parts)(model, c, link, made)
    for pulley in c.pulleys:
        pulley_parts(model, c, runs, pulley, made)
    for fairlead in c.fairleads:
        fairlead_parts(model, runs, fairlead, made)
    trim_parts(model, c, made)
    bought, joints = with_bolts(model, made.joints)
    return Made([*made.parts, *bought], joints, made.standing)
