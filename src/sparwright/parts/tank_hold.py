"""How a box tank is held: pads on cross tubes beneath it, a lined strap over it at each, a tab and a screw at its ends.

Seen from ahead, Y and T half the tank's width and its top outside, l the lining, s the strap:

    lining      a U round the tank's sides and top, l thick
    strap       the like outside it, s thick, down to a tab on the bearer at the left, to a screw over one at the right
    tab         upright beside the strap's outer face, welded across the bearer

Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from shapely import Polygon, box

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import gauge, inches
from sparwright.base.record import locked
from sparwright.data.loader import fasteners, material
from sparwright.family.fuel import Tank, TankHold
from sparwright.family.model import Model
from sparwright.family.stock import Sheet
from sparwright.parts.bolts import bolt_for, bolt_mass
from sparwright.parts.flat_sheets import tube_numbers
from sparwright.parts.lugs import disc
from sparwright.parts.number import part_number
from sparwright.parts.part import Bolt, Formed, Hand, Joint, Part, Plate, Straight
from sparwright.parts.tail_frame import ring_of
from sparwright.parts.wing import sheet_stock
from sparwright.shape.solid import Pose, as_place, between, cylinder
from sparwright.shape.tube import Tube

GROUP = "fuel"
NEAR = 0.4e-3  # m between pad and bearer, or into one another: no more
CLEAR = 2e-3  # m between the strap's end and the bearer
LAP = 0.02  # m that the screw lies along the strap's end
HANDS: tuple[tuple[Hand, float], ...] = (("R", 1.0), ("L", -1.0))


def hold_of(model: Model) -> TankHold | None:
    """How the tank is held; None where the file does not say."""
    return model.fuel.tank.hold if model.fuel else None


def bearers(model: Model, tubes: Sequence[Part]) -> Iterator[tuple[str, Part]]:
    """(its key, the tube) of each bearer. DesignProblem for one that is no tube across, or not beneath its pad."""
    hold, known = hold_of(model), {t.number: t for t in tubes}
    for name in hold.bearers if hold else ():
        assert hold and model.fuel
        found = tube_numbers(model, name, known)
        word = f"{model.name} fuel.tank.hold: bearer {name}"
        if len(found) != 1:
            raise DesignProblem(f"{word} is no tube that runs across the frame")
        tube = known[found[0]]
        a, b = _path(tube)
        tank = model.fuel.tank
        if np.abs((b - a)[[0, 2]]).max() > NEAR:
            raise DesignProblem(f"{word}, {tube.number}, does not run level and square across")
        off = _bottom(tank) - hold.pad.thickness - _radius(tube) - float(a[2])
        if abs(off) > NEAR:
            left, pad, wanted = (inches(v) for v in (off + hold.pad.thickness, hold.pad.thickness, a[2] + off))
            said = f"leaves {left} for a pad of {pad}: its middle is wanted at waterline {wanted}"
            raise DesignProblem(f"{word}, {tube.number}, {said}")
        if abs(float(a[0]) - tank.place[0]) > tank.length / 2:
            raise DesignProblem(f"{word}, {tube.number}, does not run beneath the tank")
        yield name, tube


def _path(tube: Part) -> tuple[np.ndarray, np.ndarray]:
    assert isinstance(tube.shape, Tube)
    return tube.shape.path[0], tube.shape.path[-1]


def _radius(tube: Part) -> float:
    assert isinstance(tube.shape, Tube)
    return tube.shape.outside / 2


def _bottom(tank: Tank) -> float:
    return tank.place[2] - tank.height / 2 - tank.wall


def _number(model: Model, kind: str, key: str, hand: str = "") -> str:
    return part_number(model.name, GROUP, f"TANK-{kind}", key, hand)


def _ends(hold: TankHold, tank: Tank, tube: Part) -> tuple[float, float, float]:
    """(top of a tab, the strap's low end at the left, at the right), m."""
    stand = float(_path(tube)[0][2]) + _radius(tube)
    top = stand + hold.tab_height
    return top, stand + CLEAR, top + hold.take_up


def hold_parts(model: Model, tubes: Sequence[Part]) -> Iterator[Part]:
    """Pads, linings, straps, tabs and screws; nothing where the file does not say how the tank is held."""
    hold = hold_of(model)
    for key, tube in bearers(model, tubes):
        assert hold and model.fuel
        tank, x = model.fuel.tank, float(_path(tube)[0][0])
        top, left, right = _ends(hold, tank, tube)
        if right + LAP > tank.place[2] + tank.height / 2:
            raise DesignProblem(f"{model.name} fuel.tank.hold: tab and take-up are higher than the tank")
        yield _pad(model, hold, tank, key, x)
        low = _bottom(tank)
        yield _band(model, "LINING", "lining of a tank strap", hold.pad, hold.strap_width, key, x, 0.0, low, low)
        yield _band(model, "STRAP", "tank strap", hold.strap, hold.strap_width, key, x, hold.pad.thickness, left, right)
        for hand, side in HANDS:
            yield _tab(model, hold, tank, tube, key, hand, side, top)
        yield _screw(model, hold, tank, key, x, top, right)
        yield _pin(model, hold, key, _left(hold, tank, x, top, left))


def _outer(tank: Tank) -> float:
    return tank.width / 2 + tank.wall


def _pad(model: Model, hold: TankHold, tank: Tank, key: str, x: float) -> Part:
    outline = np.array(box(-hold.strap_width / 2, -_outer(tank), hold.strap_width / 2, _outer(tank)).exterior.coords)
    ring, stuff = ring_of(Polygon(outline)), material(hold.pad.material)
    pose = Pose((x, tank.place[1], _bottom(tank) - hold.pad.thickness / 2), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    return Part(number=_number(model, "PAD", key), name="pad beneath the fuel tank", form="plate", group=GROUP,
                purpose="keeps the tank off its bearer", material=hold.pad.material, poses=(pose,),
                stock=sheet_stock(hold.pad, stuff), places=(pose.place(0.0, 0.0),),
                mass=Polygon(ring).area * hold.pad.thickness * stuff.density,
                shape=Plate(outline=locked(ring), holes=(), thickness=hold.pad.thickness))  # fmt: skip


def _band(model: Model, kind: str, name: str, sheet: Sheet, wide: float, key: str, x: float, off: float, left: float,
          right: float) -> Part:  # fmt: skip
    """A U over the tank, `off` outside it, its ends at waterlines."""
    assert model.fuel
    tank, t = model.fuel.tank, sheet.thickness
    y, top = _outer(tank) + off, tank.place[2] + tank.height / 2 + tank.wall + off
    flat = np.array([(-y - t, left), (-y - t, top + t), (y + t, top + t), (y + t, right), (y, right), (y, top),
                     (-y, top), (-y, left)])[::-1] + (tank.place[1], 0.0)  # fmt: skip
    rings = np.array([np.column_stack([np.full(len(flat), s), flat]) for s in (x - wide / 2, x + wide / 2)])
    body, stuff = between(rings[0], rings[1]), material(sheet.material)
    long = 2 * (y + t / 2) + 2 * (top + t / 2) - left - right
    return Part(number=_number(model, kind, key), name=name, form="bar", group=GROUP, purpose="holds the tank",
                material=sheet.material, places=(as_place(body.centre),), mass=body.volume * stuff.density,
                stock=f"{sheet_stock(sheet, stuff)}, {inches(wide)} x {inches(long)}, bent",
                shape=Straight(start=as_place(rings[0].mean(axis=0)), end=as_place(rings[1].mean(axis=0)),
                               section=f"{inches(wide)} x {gauge(t)}", rings=locked(rings)))  # fmt: skip


def _face(hold: TankHold, tank: Tank) -> float:
    """Half the width over the strap's outer faces, m."""
    return _outer(tank) + hold.pad.thickness + hold.strap.thickness


def _tab(model: Model, hold: TankHold, tank: Tank, tube: Part, key: str, hand: Hand, side: float, top: float) -> Part:
    """A plate across the bearer beside the strap."""
    x, _, z = _path(tube)[0]
    y = tank.place[1] + side * (_face(hold, tank) + hold.tab.thickness / 2)
    pose = Pose((float(x), y, float(z)), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    half = max(hold.strap_width / 2, _radius(tube) + 1e-3)
    whole = box(-half, 0.0, half, top - float(z)).difference(disc((0.0, 0.0), _radius(tube)))
    assert isinstance(whole, Polygon)
    stuff = material(hold.tab.material)
    return Part(number=_number(model, "TAB", key, hand), name="tab of a tank strap", form="plate", group=GROUP,
                purpose="holds the tank", material=hold.tab.material, stock=sheet_stock(hold.tab, stuff), hand=hand,
                places=(pose.place(whole.centroid.x, whole.centroid.y),), poses=(pose,),
                mass=whole.area * hold.tab.thickness * stuff.density,
                shape=Plate(outline=locked(ring_of(whole)), holes=(), thickness=hold.tab.thickness))  # fmt: skip


def _screw(model: Model, hold: TankHold, tank: Tank, key: str, x: float, top: float, right: float) -> Part:
    """The tightening screw: on the right tab's upper edge, along the strap's end."""
    d = fasteners()[hold.bolt].diameter
    y, long = tank.place[1] + _face(hold, tank) + d / 2, right + LAP - top
    middle = (x, y, top + long / 2)
    return Part(number=_number(model, "SCREW", key), name="screw that tightens a tank strap", form="item", group=GROUP,
                purpose="holds the tank", material="bought", stock=f"{hold.bolt} with two trunnions, {inches(long)}",
                places=(middle,), band=0.2, mark="designer", mass=2 * bolt_mass(hold.bolt, long),
                shape=Formed(body=cylinder(middle, (0.0, 0.0, 1.0), d / 2, long), length=long, outside=d))  # fmt: skip


def _left(hold: TankHold, tank: Tank, x: float, top: float, left: float) -> tuple[float, float, float]:
    """Where the strap's left end is bolted to its tab, m."""
    return x, tank.place[1] - _face(hold, tank), (top + left) / 2


def _strap_bolt(hold: TankHold) -> Bolt:
    under = [("tab", hold.tab.thickness), ("strap", hold.strap.thickness)]
    return bolt_for(hold.bolt, under, "outboard", limit="a wide washer on the strap; the screw tightens it, not this")


def _pin(model: Model, hold: TankHold, key: str, place: tuple[float, float, float]) -> Part:
    bolt = _strap_bolt(hold)
    return Part(number=_number(model, "STRAP-PIN", key), name="bolt of a tank strap, nut and washers", form="item",
                group=GROUP, purpose="bought", material="bought", stock=f"{bolt.stock}, {bolt.nut}", places=(place,),
                mass=bolt_mass(hold.bolt, bolt.grip), band=0.2)  # fmt: skip


def hold_joints(model: Model, tubes: Sequence[Part]) -> Iterator[Joint]:
    """Pads on their bearers beneath the tank, straps in tabs and screws."""
    hold = hold_of(model)
    for key, tube in bearers(model, tubes):
        assert hold and model.fuel
        tank, x = model.fuel.tank, float(_path(tube)[0][0])
        pad, lining, strap, screw = (_number(model, k, key) for k in ("PAD", "LINING", "STRAP", "SCREW"))
        tabs = {hand: _number(model, "TAB", key, hand) for hand, _ in HANDS}
        top, left, right = _ends(hold, tank, tube)
        at = (x, tank.place[1], _bottom(tank))
        over = (x, tank.place[1], tank.place[2] + tank.height / 2 + tank.wall)
        area = 2 * hold.strap_width * _outer(tank)
        yield _joint(f"{pad}-BEARER", "glue", (tube.number, pad), at, "contact cement", area)
        yield _joint(f"{pad}-TANK", "glue", (part_number(model.name, GROUP, "TANK-BOTTOM"), pad), at,
                     "lies on it, the strap holds it down", area)  # fmt: skip
        yield _joint(f"{lining}-STRAP", "glue", (strap, lining), over, "contact cement, all along", area)
        yield _joint(f"{lining}-TANK", "bolt", (part_number(model.name, GROUP, "TANK-TOP"), lining), over,
                     "the strap presses it on", fastener="none")  # fmt: skip
        for hand, side in HANDS:
            place = (x, tank.place[1] + side * _face(hold, tank), (top + left) / 2)
            yield _joint(f"{tabs[hand]}-WELD", "weld", (tube.number, tabs[hand]), place, "both faces, round the tube",
                         length=2 * math.pi * _radius(tube))  # fmt: skip
        pin = _number(model, "STRAP-PIN", key)
        yield Joint(number=f"{strap}-LEFT", kind="bolt", parts=(tabs["L"], strap, pin), primary=True,
                    place=_left(hold, tank, x, top, left), fastener=hold.bolt, fasteners=1,
                    bolt=_strap_bolt(hold))  # fmt: skip
        end = (x, tank.place[1] + _face(hold, tank), right)
        yield _joint(f"{screw}-STRAP", "bolt", (strap, screw), end, "trunnion on the strap's end", fastener="bought")
        note = "tightened until the tank cannot be moved by hand, locked with wire"
        yield _joint(f"{screw}-TAB", "bolt", (tabs["R"], screw), end, note, fastener="bought")


def _joint(number: str, kind: str, parts: tuple[str, ...], place: tuple[float, float, float], note: str,
           area: float = 0.0, length: float = 0.0, fastener: str = "") -> Joint:  # fmt: skip
    return Joint(number=number, kind=kind, parts=parts, place=place, primary=True, note=note, area=area,  # type: ignore[arg-type]
                 length=length, fastener=fastener)  # fmt: skip
