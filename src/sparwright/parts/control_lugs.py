"""Lugs on the ribs of ailerons, for the struts that link those of two wings."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from shapely.ops import unary_union

from sparwright.family.controls import Controls, Lug
from sparwright.family.model import Model
from sparwright.parts.control_bodies import EDGE, bolt, disc, flat, footing, in_plane, plate
from sparwright.parts.control_bolts import standing_bolt, web_at
from sparwright.parts.control_links import Made
from sparwright.parts.control_runs import HANDS, over


def lug_parts(model: Model, c: Controls, lug: Lug, made: Made) -> None:
    """A lug on an aileron's rib, right and left."""
    for hand in HANDS:
        stand = footing(model, made.standing, lug.on, hand, np.array(lug.hole) * over(hand))
        pose = in_plane(np.array([0.0, 1.0, 0.0]), np.array(lug.hole) * over(hand))
        edge, foot = EDGE * bolt(c.rod_end.bolt), flat(pose, np.array(lug.foot) * over(hand))
        shape = unary_union([disc((0.0, 0.0), edge), disc(foot, 2 * edge)]).convex_hull
        bores = [((0.0, 0.0), c.rod_end.bolt)]
        part = plate(
            model, "LUG", lug.name, "lug that links an aileron", "control", shape, pose, lug.sheet, hand, bores
        )
        made.parts.append(replace(part, passes=tuple(f"{model.name}-{p}" for p in lug.passes)))
        place = np.array(pose.place(*foot))
        _, way, through = web_at(model, stand, in_plane(np.array([1.0, 0.0, 0.0]), place))
        held = standing_bolt(
            lug.sheet.thickness, ("rib", through), way, "wide washers on wood; the plate behind takes the clamping"
        )
        made.join("bolt", (stand.number, part.number), place, held, "two, a plate on the rib's other face", fasteners=2)
