"""What is bought, as parts: engine, propeller, wheels and items, each with a body where the file gives its shape.

Bodies say how much room a thing takes; its mass is the file's. An item whose first holder is a flat sheet lies on it:
it is moved square to the sheet until it touches, to the side its place is on.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.data.blades import planform
from sparwright.data.loader import fasteners
from sparwright.family.fitted import Form, Lump
from sparwright.family.model import Item, Model, Place, Propeller, Wheel
from sparwright.parts.flat_sheets import Laid, sheet_number, tube_numbers
from sparwright.parts.fuel import fuel_replaces
from sparwright.parts.number import part_number
from sparwright.parts.part import Formed, Joint, Part
from sparwright.parts.solids import united
from sparwright.shape.frame import ON_CENTRE, mirrored
from sparwright.shape.solid import Solid, as_place, block, cylinder, through, turned

AXIS = {"along": (1.0, 0.0, 0.0), "across": (0.0, 1.0, 0.0), "upright": (0.0, 0.0, 1.0)}
BLADE = 0.12  # thickness of a blade in chords; for its body only
HUB = 1 / 6  # of the propeller's radius: length of its hub where the file does not say; and its diameter
HUB_HALF = 0.35  # half width of a wheel's disc, of the tyre's width; for its body only
ROUND = 24  # corners round a tyre's section


def lump(middle: Sequence[float], size: Sequence[float], form: Form) -> Solid:
    """A box, or a round block whose two sizes across its axis are alike (the greater counts)."""
    if form == "box":
        return block(middle, size)
    axis = AXIS[form]
    length = float(np.dot(axis, size))
    across = max(s for s, a in zip(size, axis, strict=True) if not a)
    return cylinder(middle, axis, across / 2, length)


def both_sides(place: Place) -> tuple[Place, ...]:
    """A place, and its mirror where it is off the centreline."""
    return (place,) if abs(place[1]) < ON_CENTRE else (place, mirrored(place))


def bought_parts(model: Model, laid: Sequence[Laid]) -> Iterator[Part]:
    """Engine, propeller, wheels and items of a model."""
    engine, propeller = model.engine, model.propeller
    body = Formed(body=united([s for x in engine.lumps for s in _lumps(x)])) if engine.lumps else None
    yield _part(
        model, "ENGINE", engine.name, "power", (engine.place,), engine.mass, engine.mass_band, engine.mark, body
    )
    yield _part(model, "PROPELLER", "propeller", "power", (propeller.place,), propeller.mass, 0.1, "designer",
                Formed(body=_propeller(propeller)))  # fmt: skip
    for wheel in model.wheels:
        yield _part(model, _key(f"wheel-{wheel.name}"), f"{wheel.name} wheel", "gear", both_sides(wheel.place),
                    wheel.mass, 0.1, "designer", Formed(body=_wheel(wheel, axle_diameter(model, wheel))))  # fmt: skip
    for item in items(model):
        at = _lies(model, item, laid)
        one = _part(model, _key(item.name), item.name.replace("_", " "), "systems", (at,) * item.count, item.mass,
                    item.band, item.mark, _item_body(item, at))  # fmt: skip
        yield replace(one, form="soft") if item.form == "soft" else one


def _item_body(item: Item, at: Place) -> Formed | None:
    return Formed(body=lump(at, item.size, item.form)) if item.size and item.form != "soft" else None


def items(model: Model) -> tuple[Item, ...]:
    """Items that no parts of the fuel system stand for."""
    return tuple(i for i in model.items if i.name not in fuel_replaces(model))


def item_number(model: Model, name: str) -> str:
    """Number of an item."""
    return part_number(model.name, "systems", _key(name))


def _key(name: str) -> str:
    return name.upper().replace("_", "-")


def _part(model: Model, key: str, name: str, group: str, places: tuple[Place, ...], mass: float, band: float,
          mark: str, shape: Formed | None) -> Part:  # fmt: skip
    number = part_number(model.name, group, key)
    return Part(number=number, name=name, form="item", group=group, purpose="bought", material="bought", stock="bought",
                places=places, mass=mass, band=band, mark=mark, shape=shape)  # fmt: skip


def _lumps(one: Lump) -> Iterator[Solid]:
    for place in both_sides(one.place):
        yield lump(place, one.size, one.form)


def _lies(model: Model, item: Item, laid: Sequence[Laid]) -> Place:
    """An item's place; on the first sheet that holds it where it has a size."""
    found = [one for one in laid if item.held and one.sheet.name == item.held[0]]
    if not found or not item.size or item.form == "soft":
        return item.place
    one, at = found[0], np.array(item.place)
    normal = np.cross(one.pose.x, one.pose.y)
    side = 1.0 if (at - one.pose.origin) @ normal >= 0 else -1.0
    over = (lump(item.place, item.size, item.form).points - one.pose.origin) @ (side * normal)
    return as_place(at + side * (one.sheet.sheet.thickness / 2 - float(over.min())) * normal)


def axle_diameter(model: Model, wheel: Wheel) -> float:
    """The bore of a wheel, m: the axle tube for main wheels, a bolt for the tail wheel; a tenth of it where unknown."""
    gear = model.undercarriage
    if gear and gear.tail and abs(wheel.place[1]) <= ON_CENTRE:
        return fasteners()[gear.tail.axle].diameter
    if gear and abs(wheel.place[1]) > ON_CENTRE:
        for tube in model.fuselage.tubes:
            if tube.run[0] + "-" + tube.run[-1] == gear.axle:
                return tube.tube.outside
    return wheel.diameter / 10


def _wheel(wheel: Wheel, bore: float) -> Solid:
    """A tyre of round section on a disc with a bore."""
    ring, r, half = (wheel.diameter - wheel.width) / 2, wheel.width / 2, HUB_HALF * wheel.width
    meet = math.asin(half / r)
    angle = np.linspace(math.pi - meet, meet - math.pi, ROUND)
    tyre = np.column_stack([ring + r * np.cos(angle), r * np.sin(angle)])
    inner = bore / 2
    if ring - r * math.cos(meet) <= inner:
        raise DesignProblem(f"wheels.{wheel.name}: a tyre {inches(wheel.width)} wide leaves no room for its axle")
    return turned(np.vstack([[inner, half], tyre, [inner, -half]]), wheel.place, AXIS["across"])


def _propeller(propeller: Propeller) -> Solid:
    """Hub and blades of the standard plan form at constant pitch, the first blade upright."""
    radius = propeller.diameter / 2
    length = propeller.hub if propeller.hub is not None else HUB * radius
    hub = cylinder(propeller.place, AXIS["along"], HUB * radius / 2, length)
    turns = 2 * np.pi * np.arange(propeller.blades) / propeller.blades
    return united([hub, *(_blade(propeller, float(turn), length) for turn in turns)])


def _blade(propeller: Propeller, turn: float, hub: float) -> Solid:
    """From the hub's middle out: within the first radius known its chord and angle, no wider than the hub is long."""
    radius = propeller.diameter / 2
    share, width, _ = planform()
    r = np.concatenate([[HUB * radius / 4], share * radius])
    chord = np.concatenate([[min(width[0] * radius, 0.9 * hub)], width * radius])
    angle = np.arctan(propeller.pitch / (2 * np.pi * np.concatenate([[r[1]], r[1:]])))
    rings = []
    for at, wide, beta in zip(r, chord, angle, strict=True):
        across, thick = wide / 2, BLADE * wide / 2
        flat = np.array([[-across, 0.0], [0.0, -thick], [across, 0.0], [0.0, thick]])
        aft = flat[:, 0] * np.sin(beta) + flat[:, 1] * np.cos(beta)
        side = flat[:, 0] * np.cos(beta) - flat[:, 1] * np.sin(beta)
        y, z = side * np.cos(turn) + at * np.sin(turn), -side * np.sin(turn) + at * np.cos(turn)
        rings.append(np.array(propeller.place) + np.column_stack([aft, y, z]))
    return through(rings)


# ------------------------------------------------------------------ joints


def bought_joints(model: Model, laid: Sequence[Laid], tubes: Sequence[Part]) -> Iterator[Joint]:
    """The propeller on its engine, and each item on what holds it."""
    engine, propeller = (part_number(model.name, "power", k) for k in ("ENGINE", "PROPELLER"))
    yield Joint(number=f"{propeller}-JOINT", kind="bolt", parts=(engine, propeller), place=model.propeller.place,
                primary=True, fastener="unknown", note="bolts and torque by the propeller's maker")  # fmt: skip
    known, sheets = {t.number: t for t in tubes}, {one.sheet.name for one in laid}
    for item in items(model):
        own = item_number(model, item.name)
        for name in item.held:
            for holder in [sheet_number(model, name)] if name in sheets else tube_numbers(model, name, known):
                key = holder.removeprefix(f"{model.name}-fuselage-")
                yield Joint(number=f"{own}-{key}-JOINT", kind="bolt", parts=(holder, own), place=item.place,
                            primary=False, fastener="unknown")  # fmt: skip
