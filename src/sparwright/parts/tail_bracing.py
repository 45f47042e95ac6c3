"""Fittings of struts and wires on the tubes of tail surfaces, as parts and joints: plates, bushes, bolts.

Their places are of tail_ends.py. Bolts and bushes go through holes of the tube that are drilled to fit.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from shapely import Polygon

from sparwright.base.quantity import inches, place_key
from sparwright.base.record import locked
from sparwright.data.loader import fasteners, material
from sparwright.family.model import Model
from sparwright.parts.bolts import bolt_for, bolt_mass, heading
from sparwright.parts.ends import Lugs, pin_diameter
from sparwright.parts.frame import tube_section, tube_stock
from sparwright.parts.lugs import disc, hull, mirrored_places, plate_part
from sparwright.parts.number import part_number
from sparwright.parts.part import Bolt, Joint, Part
from sparwright.parts.tail_ends import Clamp, clamps, pins_of
from sparwright.parts.tail_fittings import HALF_HOLE
from sparwright.parts.tail_frame import GROUP
from sparwright.shape.solid import Pose, as_place
from sparwright.shape.tube import Tube

FORE, AFT = "FORE", "AFT"
KEYS = ("IN", "OUT")
TUBES = {"spar": "SPAR", "leading": "LEADING-EDGE"}


def _number(model: Model, spot: Clamp, kind: str) -> str:
    return part_number(model.name, spot.tail, "CLAMP", f"{spot.tube}-{place_key(spot.along)}", kind)


def tail_tube_number(model: Model, spot: Clamp) -> str:
    """Number of the tube it is on."""
    return part_number(model.name, spot.tail, TUBES[spot.tube])


def clamp_lug_numbers(model: Model, spot: Clamp, lugs: Lugs) -> list[str]:
    """Numbers of the plates that hold a strut, or a wire."""
    return [_number(model, spot, k) for k in (FORE, AFT)[: len(lugs.offsets)]]


def clamp_parts(model: Model) -> Iterator[Part]:
    """Plates, bushes and bolts of every clamp."""
    for spot in clamps(model):
        yield from _plates(model, spot)
        yield from _bolts(model, spot)


def _bolt_places(spot: Clamp) -> tuple[np.ndarray, np.ndarray]:
    half = (spot.fitting.pitch or 0.0) / 2 * spot.at.along
    return spot.at.place - half, spot.at.place + half


def plate_outline(spot: Clamp, aft: bool) -> Polygon:
    """A plate: x along the tube, y out; the hull of a round about each bolt and each pin."""
    around = HALF_HOLE * fasteners()[spot.fitting.bolt].diameter
    bolts = [disc(spot.flat(p), around) for p in _bolt_places(spot)]
    return hull([*bolts, *(disc(spot.flat(p), spot.fitting.edge) for p, _ in pins_of(spot, aft))])


def _plates(model: Model, spot: Clamp) -> Iterator[Part]:
    d = fasteners()[spot.fitting.bolt].diameter
    for kind, side in ((FORE, -1.0), (AFT, 1.0)):
        pose = Pose(as_place(spot.at.place + side * spot.over * spot.normal), as_place(spot.at.along),
                    as_place(spot.out))  # fmt: skip
        holes = [(*spot.flat(p), d) for p in _bolt_places(spot)]
        holes += [(*spot.flat(p), pin_diameter(h)) for p, h in pins_of(spot, kind == AFT)]
        made = plate_part(_number(model, spot, kind), f"plate on the {_at(spot)}, {kind.lower()}", spot.fitting.lug,
                          plate_outline(spot, kind == AFT), pose, holes, at=_at(spot))  # fmt: skip
        yield replace(made, group=GROUP)


def _at(spot: Clamp) -> str:
    word = "BL" if spot.tail == "tailplane" else "height"
    return f"{spot.tail} {'leading edge' if spot.tube == 'leading' else 'spar'} {word} {inches(spot.along, 10**6)}"


def _bolts(model: Model, spot: Clamp) -> Iterator[Part]:
    """Two bushes through the tube, as long as it is thick, and their bolts, drawn a diameter longer at both ends."""
    f, n, through = spot.fitting, spot.normal, (tail_tube_number(model, spot),)
    assert f.spacer is not None
    bolt, d = _bolt(spot), fasteners()[f.bolt].diameter
    for key, at in zip(KEYS, _bolt_places(spot), strict=True):
        bush = Tube(path=locked([at - spot.radius * n, at + spot.radius * n]), outside=f.spacer.outside,
                    wall=f.spacer.wall, section=tube_section(f.spacer))  # fmt: skip
        yield Part(number=_number(model, spot, f"BUSH-{key}"), name=f"bush through the {_at(spot)}", form="tube",
                   group=GROUP, purpose="fitting", material=f.spacer.material, stock=tube_stock(f.spacer), shape=bush,
                   places=mirrored_places(at), mass=bush.solid().volume * material(f.spacer.material).density,
                   passes=through)  # fmt: skip
        long = bolt.grip / 2 + d
        rod = Tube(path=locked([at - long * n, at + long * n]), outside=d, wall=0.0, section=f.bolt)
        yield Part(number=_number(model, spot, f"BOLT-{key}"), name=f"bolt {f.bolt}, nut and washers", form="tube",
                   group=GROUP, purpose="fitting", material="bought", stock=f"{bolt.stock}, {bolt.nut}", shape=rod,
                   places=mirrored_places(at), mass=bolt_mass(f.bolt, bolt.grip), band=0.2, passes=through)  # fmt: skip


def _bolt(spot: Clamp) -> Bolt:
    sheet = spot.fitting.lug.thickness
    under = [("plate", sheet), ("tube, bushed", 2 * spot.radius), ("plate", sheet)]
    return bolt_for(spot.fitting.bolt, under, heading(spot.normal), limit="clamps plates and bush, not the hollow tube")


def clamp_joints(model: Model) -> Iterator[Joint]:
    """Plates, bushes and bolts held to the tube."""
    for spot in clamps(model):
        own = [_number(model, spot, k) for k in (FORE, AFT, *(f"{w}-{k}" for w in ("BUSH", "BOLT") for k in KEYS))]
        yield Joint(
            number=_number(model, spot, "JOINT"), kind="bolt", parts=(tail_tube_number(model, spot), *own),
            place=as_place(spot.at.place), primary=True, fastener=spot.fitting.bolt, fasteners=2,
            count=len(mirrored_places(spot.at.place)), bolt=_bolt(spot), through=own[0],
            note="holes of the bushes reamed through both walls at once; bush flush with the tube on both faces",
        )  # fmt: skip
