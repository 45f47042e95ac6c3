"""Spar roots on the fuselage: straps on the spar's faces, a bush and a pin fore and aft, lugs on a node.

The straps reach inwards past the root rib, which is notched for them, to a pin on the spar's own middle line; a bush
between them takes its clamping, the lugs stand outside them and saddle the tubes of their node. Inside the spar four
bolts and a block or tubes, as under a fitting for a strut. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from shapely import LineString, Polygon

from sparwright.base.record import locked, number
from sparwright.data.loader import fasteners, material
from sparwright.family.fittings import Root
from sparwright.family.model import Model, Spar, Wing
from sparwright.parts.bolts import bolt_for, bolt_mass
from sparwright.parts.ends import node_tubes_at
from sparwright.parts.frame import tube_section, tube_stock
from sparwright.parts.inside_spar import PAST, between_caps, inside_parts, spar_bolts, through_joints
from sparwright.parts.lugs import GROUP, ROUND_NODE, behind, disc, hull, mirrored_places, plate_part, saddle
from sparwright.parts.node_lugs import node_tubes
from sparwright.parts.number import part_number
from sparwright.parts.part import Bolt, Joint, Part
from sparwright.parts.tail_fittings import HALF_HOLE
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.rib import Slot, flange_reach
from sparwright.shape.solid import Pose, as_place
from sparwright.shape.spar import SparAxes, spar_axes
from sparwright.shape.tube import Fitted, Tube

NOTCH = 0.5e-3  # m a root rib is cut clear of a strap (common practice, no source)
SIDES = (("FORE", -1.0), ("AFT", 1.0))


@dataclass(frozen=True)
class RootSpot:
    """A root as it lies: the spar's axes where its bolts are, its pin, its node with the tubes there."""

    root: Root
    wing: Wing
    spar: Spar
    axes: SparAxes
    pin: np.ndarray = number("m", "(3,) middle of the pin")
    node: np.ndarray = number("m", "(3,) the node, the right one of a pair")
    tubes: tuple[Fitted, ...] = ()

    @property
    def flat_pin(self) -> tuple[float, float]:
        """The pin in the plane of the straps, along the spar and up, m."""
        off = self.pin - self.axes.middle
        return float(off @ self.axes.along), float(off @ self.axes.up)

    @property
    def round_pin(self) -> float:
        """Diameter of the pin, m."""
        return fasteners()[self.root.pin].diameter


def root_spots(model: Model) -> tuple[RootSpot, ...]:
    """Every root of a model."""
    return tuple(_spot(model, r) for r in model.roots)


def _spot(model: Model, root: Root) -> RootSpot:
    wing = model.wing(root.wing)
    spar, panel = next(s for s in wing.spars if s.name == root.spar), wing.panels[0]
    inside = root.pitch / 2 + PAST * fasteners()[root.bolt].diameter + _past_rib(wing)
    slope = float(spar_axes(model, wing, panel, spar, panel.root_buttline).along[1])
    axes = spar_axes(model, wing, panel, spar, panel.root_buttline + inside * slope)
    pin = spar_axes(model, wing, panel, spar, root.buttline).middle
    node, tubes = node_tubes_at(model, root.node)
    return RootSpot(root, wing, spar, axes, pin, node, tubes)


def _past_rib(wing: Wing) -> float:
    """How far from the root its rib and its bent edge reach, m."""
    root = wing.panels[0].root_buttline
    made = wing.rib_at(root)
    return wing.rib_thickness(root) + (flange_reach(made) if made.flange else 0.0)


def _number(model: Model, s: RootSpot, kind: str = "") -> str:
    return part_number(model.name, s.wing.name, "ROOT", s.spar.name, kind)


def strap_outline(s: RootSpot) -> Polygon:
    """A strap about the square of bolts: x along the spar, y up; a neck through the root rib, then round the bolts."""
    around = HALF_HOLE * fasteners()[s.root.bolt].diameter
    x = waist(s)
    line = LineString([(x, -s.root.edge), (x, s.root.edge)])
    bolts = [disc(p, around) for p in spar_bolts(s.root.pitch)]
    return hull([disc(s.flat_pin, s.root.edge), line]).union(hull([line, *bolts]))


def waist(s: RootSpot) -> float:
    """How far along the spar from its bolts the strap begins to widen, past the root rib, m; inwards is minus."""
    root = s.wing.panels[0].root_buttline - float(s.axes.middle[1])
    return root / float(s.axes.along[1]) + _past_rib(s.wing)


def _lug_poses(s: RootSpot) -> Iterator[tuple[str, Pose]]:
    n, off = s.axes.aft, s.pin - s.node
    out = off - (off @ n) * n
    out = out / np.linalg.norm(out)
    for name, side in SIDES:
        far = float(off @ n) + side * (s.axes.width / 2 + s.root.strap.thickness + s.root.lug.thickness / 2)
        yield name, Pose(as_place(s.node + far * n), as_place(np.cross(out, n)), as_place(out))


def root_parts(model: Model) -> Iterator[Part]:
    """Straps, bush, pin, lugs, what lies inside the spar."""
    for s in root_spots(model):
        between_caps(s.root, s.spar, s.axes, f"{model.name} roots.{s.root.name}")
        r, at = s.root, f"{s.wing.name} {s.spar.name} spar, root"
        d = fasteners()[r.bolt].diameter
        holes = (*((x, y, d) for x, y in spar_bolts(r.pitch)), (*s.flat_pin, s.round_pin))
        for name, side in SIDES:
            pose = s.axes.face(side * (s.axes.width + r.strap.thickness) / 2)
            yield plate_part(_number(model, s, f"STRAP-{name}"), f"root strap, {name.lower()}", r.strap,
                             strap_outline(s), pose, holes, at=at)  # fmt: skip
        for name, pose in _lug_poses(s):
            own = _number(model, s, f"LUG-{name}")
            off = s.pin - np.array(pose.origin)
            flat = (float(off @ np.array(pose.x)), float(off @ np.array(pose.y)))
            yield plate_part(own, f"root lug at {r.node}", r.lug, _lug_outline(s, pose, flat, own), pose,
                             [(*flat, s.round_pin)], at=r.node)  # fmt: skip
        yield from _round_parts(model, s, at)
        grip = s.axes.width + 2 * r.strap.thickness
        yield from inside_parts(model, s.wing, s.spar, s.axes, r, _number(model, s), grip)


def _lug_outline(s: RootSpot, pose: Pose, flat: tuple[float, float], own: str) -> Polygon:
    around = ROUND_NODE * 2 * max(t.radius for t in s.tubes)
    whole = hull([disc((0.0, 0.0), around), disc(flat, s.root.edge)]).difference(behind((0.0, 0.0)))
    return saddle(whole, s.tubes, s.node, pose, s.root.lug.thickness, [flat], own)


def _round_parts(model: Model, s: RootSpot, at: str) -> Iterator[Part]:
    bush, half, n = s.root.bush, s.axes.width / 2, s.axes.aft
    bolt = _pin_bolt(s)
    whole = bolt.grip / 2 + s.round_pin
    rods = (("BUSH", "bush between root straps", half, bush.outside, bush.wall, tube_section(bush)),
            ("PIN", f"root bolt {s.root.pin}, nut and washers", whole, s.round_pin, 0.0, s.root.pin))  # fmt: skip
    for kind, name, far, outside, wall, section in rods:
        shape = Tube(path=locked([s.pin - far * n, s.pin + far * n]), outside=outside, wall=wall, section=section)
        bought = kind == "PIN"
        weight = bolt_mass(s.root.pin, bolt.grip)
        yield Part(
            number=_number(model, s, kind), name=name, form="tube", group=GROUP, purpose="fitting", at=at,
            material="bought" if bought else bush.material, places=mirrored_places(s.pin), shape=shape,
            stock=f"{bolt.stock}, {bolt.nut}" if bought else tube_stock(bush), band=0.2 if bought else 0.05,
            mass=weight if bought else shape.solid().volume * material(bush.material).density,
        )  # fmt: skip


def _pin_bolt(s: RootSpot) -> Bolt:
    lug, strap = s.root.lug.thickness, s.root.strap.thickness
    under = [("lug", lug), ("strap", strap), ("bush", s.axes.width), ("strap", strap), ("lug", lug)]
    return bolt_for(
        s.root.pin, under, "forward", turns=True, limit="clamps the bush, not the spar; the wing lifts freely"
    )


def root_joints(model: Model) -> Iterator[Joint]:
    """Pin, welds of the lugs, bolts through the spar."""
    for s in root_spots(model):
        straps, lugs = ([_number(model, s, f"{kind}-{name}") for name, _ in SIDES] for kind in ("STRAP", "LUG"))
        place, count = as_place(s.pin), len(mirrored_places(s.pin))
        yield Joint(
            number=_number(model, s, "PIN-JOINT"), kind="bolt", place=place, primary=True, fastener=s.root.pin,
            parts=(_number(model, s, "PIN"), _number(model, s, "BUSH"), *straps, *lugs), fasteners=1, count=count,
            through=lugs[0], bolt=_pin_bolt(s), note="seen and reached through the gap at the root",
        )  # fmt: skip
        around = ROUND_NODE * 2 * max(t.radius for t in s.tubes)
        yield Joint(
            number=_number(model, s, "LUG-WELD"), kind="weld", parts=(*node_tubes(model, s.root.node), *lugs),
            place=as_place(s.node), primary=True, length=2 * 2 * np.pi * around / 2, count=count,
            note="both faces, along every tube they stand on",
        )  # fmt: skip
        yield from through_joints(model, s.wing, s.spar, s.axes, s.root, _number(model, s), straps,
                                  s.root.strap.thickness)  # fmt: skip


def roots_not_drawn(model: Model) -> tuple[str, ...]:
    """Spars of wings that begin at the fuselage and are not bolted to it."""
    said = {(r.wing, r.spar) for r in model.roots}
    sides = [w for w in model.wings if w.panels[0].root_buttline > ON_CENTRE]
    bare = [f"{w.name} {s.name}" for w in sides for s in w.spars if (w.name, s.name) not in said]
    return (f"roots of spars on the fuselage: {', '.join(bare)}",) if bare else ()


def strap_notches(model: Model, wing: Wing, buttline: float, boxes: tuple[Slot, ...]) -> tuple[Polygon, ...]:
    """What the straps take out of the root rib, in its own axes; boxes: where its spars pass."""
    if abs(buttline - wing.panels[0].root_buttline) > NOTCH:
        return ()
    found = []
    for root in (r for r in model.roots if r.wing == wing.name):
        up = root.edge + NOTCH
        slot = next(b for b in boxes if b.spar == root.spar)
        inner, outer = slot.width / 2 - NOTCH, slot.width / 2 + root.strap.thickness + NOTCH
        for side in (-1.0, 1.0):
            corners = ((inner, -up), (outer, -up), (outer, up), (inner, up))
            found.append(Polygon([slot.corner(side * x, y) for x, y in corners]))
    return tuple(found)
