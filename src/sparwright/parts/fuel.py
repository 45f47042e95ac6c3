"""The fuel system as parts and joints: the tank's sheets and baffles, lines, vent, valve, filter, pumps.

Sheets of a box stand outside its inside sizes: top and bottom go over the four others, front and rear over the sides.
Lines run straight from place to place, in pieces where a pump stands between. Valve, filter and pumps are bought and
stand as balls of BODY in radius, for the room they take; under the tank stands its sump, a cylinder down to the outlet.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import gauge, inches
from sparwright.base.record import locked
from sparwright.data.loader import material
from sparwright.family.fuel import Fuel, FuelLine, Tank, Vent
from sparwright.family.model import Model, Place
from sparwright.parts.number import part_number
from sparwright.parts.part import Formed, Hand, Joint, Part, Plate
from sparwright.parts.solids import ball, united
from sparwright.shape.solid import CORNERS, Pose, cylinder, round_radius
from sparwright.shape.tube import Tube

GROUP = "fuel"
AFT, RIGHT, UP = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
PAIR = "hose and fitting are bought as a pair; tightened, then marked across with paint"
BODY = 0.02  # m from the middle of a valve, filter, pump or outlet to the end of its line (common practice, no source)
DEVICES = ("valve", "filter", "pump", "emergency")
CORNER = 0.025  # m cut off each corner of a baffle, so that fuel, water and air pass
FUEL_NOT_DRAWN = (
    "fuel tank: its neck and cap",
    "fuel lines: clips, grommets in the firewall, fittings one by one, fire sleeve, the end at the carburettor",
)


def fuel_not_drawn(model: Model) -> tuple[str, ...]:
    """What of the fuel system is not drawn."""
    if model.fuel is None:
        return ()
    loose = "fuel tank: bearers, pads and straps; until then no joint holds the tank to the frame"
    return (*(() if model.fuel.tank.hold else (loose,)), *FUEL_NOT_DRAWN)


def tank_number(model: Model) -> str:
    """The number of the tank: of what its sheets do not show."""
    return _number(model, "TANK")


def fuel_replaces(model: Model) -> tuple[str, ...]:
    """Items and allowances that count no more once the parts of the fuel system do."""
    return model.fuel.replaces if model.fuel else ()


def fuel_parts(model: Model) -> tuple[Part, ...]:
    """Every part of the fuel system; none where the file has none."""
    return tuple(_parts(model, model.fuel)) if model.fuel else ()


def fuel_joints(model: Model) -> tuple[Joint, ...]:
    """Every joint of the fuel system: seams of the tank, lines at tank, valve, filter, pumps and vent."""
    return tuple(_joints(model, model.fuel)) if model.fuel else ()


def _number(model: Model, kind: str, key: str = "", hand: str = "") -> str:
    return part_number(model.name, GROUP, kind, key, hand)


def _parts(model: Model, fuel: Fuel) -> Iterator[Part]:
    sheets = tuple(_box(model, fuel) if fuel.tank.shape == "box" else _cylinder(model, fuel))
    yield from sheets
    yield from _baffles(model, fuel)
    yield Part(
        number=tank_number(model), name="fuel tank, what its sheets do not show", form="item", group=GROUP,
        purpose="flanges, seams, neck, cap, sump, straps", material=fuel.tank.material, stock="a fraction of its walls",
        places=(fuel.tank.place,), mass=fuel.tank.extra * sum(p.mass for p in sheets), band=0.5, mark="designer",
        shape=_sump(fuel),
    )  # fmt: skip
    for line in fuel.lines:
        for key, places in _pieces(fuel, line):
            name = f"fuel line, {line.name.replace('_', ' ')}"
            yield _tube(model, key, name, "fuel to the engine", places, line.outside, line.bore, line.material)
    if fuel.vent:
        yield _tube(model, "VENT", "tank vent", f"air to the tank, faces {fuel.vent.faces}: {fuel.vent.reason}",
                    list(fuel.vent.run.values()), fuel.vent.outside, fuel.vent.bore, fuel.vent.material)  # fmt: skip
    yield from _bought(model, fuel)


def _pieces(fuel: Fuel, line: FuelLine) -> list[tuple[str, list[Place]]]:
    """(key, places) of each piece of a line: parted at pumps, ended BODY short of whatever stands at its ends.

    DesignProblem where two things stand so near that no line is left between them.
    """
    cuts, names = [0], list(line.run)
    places = list(line.run.values())
    cuts += [i for i in range(1, len(places) - 1) if any(_stands_at(fuel, k, places[i]) for k in ("pump", "emergency"))]
    cuts.append(len(places) - 1)
    found = []
    for a, b in pairwise(cuts):
        key = _line_key(line) + (f"-{names[b].upper().replace('_', '-')}" if len(cuts) > 2 else "")
        found.append((key, _short(fuel, line, places[a : b + 1])))
    return found


def _short(fuel: Fuel, line: FuelLine, places: list[Place]) -> list[Place]:
    """Places of a piece, its ends drawn in from what stands there."""
    held, found = {"outlet": fuel.tank.outlet}, list(places)
    held.update({k: getattr(fuel, k).place for k in DEVICES if getattr(fuel, k)})
    for end, inner in ((0, 1), (-1, -2)):
        if any(math.dist(p, places[end]) < 1e-4 for p in held.values()):
            a, b = np.array(places[end]), np.array(found[inner])
            far = float(np.linalg.norm(b - a))
            if far <= BODY:
                said = f"no line is left between two things {inches(math.dist(places[end], places[inner]))} apart"
                raise DesignProblem(f"fuel.lines.{line.name}: {said}, which take {inches(BODY)} each")
            x, y, z = a + BODY * (b - a) / far
            found[end] = (float(x), float(y), float(z))
    return found


def _line_key(line: FuelLine) -> str:
    return f"LINE-{line.name.upper().replace('_', '-')}"


def _sump(fuel: Fuel) -> Formed:
    """The sump from the bottom's outside down to the outlet, with the boss the first line begins at.

    Its diameter is that of its volume over its depth; of the boss's where the tank has no sump.
    """
    tank = fuel.tank
    low = tank.place[2] - tank.height / 2
    depth = low - tank.outlet[2]
    boss = 0.6 * BODY
    bottom = low - tank.wall
    wide = math.sqrt(tank.sump / (math.pi * depth)) if tank.sump and depth > 1e-3 else boss
    x, y, z = tank.outlet
    bodies = [ball(tank.outlet, BODY)]
    if bottom - z > 1e-4:
        bodies.append(cylinder((x, y, (bottom + z) / 2), UP, wide, bottom - z))
    return Formed(body=united(bodies))


# ------------------------------------------------------------------ the tank


def _box(model: Model, fuel: Fuel) -> Iterator[Part]:
    tank, t = fuel.tank, fuel.tank.wall
    (x, y, z), a, b, c = tank.place, tank.length / 2, tank.width / 2, tank.height / 2
    top, cover = (x, y, z + c + t / 2), _rectangle(a + t, b + t)
    holes = (_vent_hole(fuel.vent, x, y),) if fuel.vent else ()
    yield _sheet(model, tank, "TANK-TOP", "top", cover, Pose(top, AFT, RIGHT), holes=holes)
    yield _sheet(model, tank, "TANK-BOTTOM", "bottom", cover, Pose((x, y, z - c - t / 2), AFT, RIGHT))
    for name, side in (("FRONT", -1), ("REAR", 1)):
        pose = Pose((x + side * (a + t / 2), y, z), RIGHT, UP)
        yield _sheet(model, tank, f"TANK-{name}", name.lower(), _rectangle(b + t, c), pose)
    hands: tuple[tuple[Hand, int], ...] = (("R", 1), ("L", -1))
    for hand, side in hands:
        pose = Pose((x, y + side * (b + t / 2), z), AFT, UP)
        yield _sheet(model, tank, "TANK-SIDE", "right side" if side > 0 else "left side", _rectangle(a, c), pose, hand)


def _cylinder(model: Model, fuel: Fuel) -> Iterator[Part]:
    tank, t, across = fuel.tank, fuel.tank.wall, fuel.tank.axis == "across"
    axis = np.array(RIGHT if across else AFT)
    half = (tank.width if across else tank.length) / 2
    ends = [np.array(tank.place) - half * axis, np.array(tank.place) + half * axis]
    outside = tank.height + 2 * t
    section = f"{inches(outside)} outside, {1000 * t:.2f} mm, rolled"
    barrel = Tube(path=locked(ends), outside=outside, wall=t, section=section)
    mass = math.pi * (tank.height + t) * t * 2 * half * material(tank.material).density
    yield Part(number=_number(model, "TANK-BARREL"), name="fuel tank, barrel", form="tube", group=GROUP,
               purpose="holds fuel", material=tank.material, stock=_stock(tank), places=(tank.place,), mass=mass,
               shape=barrel)  # fmt: skip
    angle = np.linspace(0, 2 * math.pi, CORNERS, endpoint=False)
    disc = round_radius(outside / 2) * np.array([np.cos(angle), np.sin(angle)]).T
    words: tuple[tuple[str, Hand], ...] = (
        (("left end", "L"), ("right end", "R")) if across else (("front", ""), ("rear", ""))
    )
    for (name, hand), side in zip(words, (-1, 1), strict=True):
        origin = np.array(tank.place) + side * (half + t / 2) * axis
        pose = Pose((float(origin[0]), float(origin[1]), float(origin[2])), AFT if across else RIGHT, UP)
        kind = "TANK-END" if hand else f"TANK-{name.upper()}"
        yield _sheet(model, tank, kind, name, disc, pose, hand)


def _baffles(model: Model, fuel: Fuel) -> Iterator[Part]:
    """Sheets across a box, evenly along it, corners cut off; none drawn for a cylinder."""
    tank = fuel.tank
    if tank.shape != "box":
        return
    b, c = tank.width / 2, tank.height / 2
    cut = min(CORNER, b / 2, c / 2)
    outline = np.array([(-b + cut, -c), (b - cut, -c), (b, -c + cut), (b, c - cut), (b - cut, c), (-b + cut, c),
                        (-b, c - cut), (-b, -c + cut)])  # fmt: skip
    for i in range(tank.baffles):
        x = tank.place[0] - tank.length / 2 + tank.length * (i + 1) / (tank.baffles + 1)
        pose = Pose((x, tank.place[1], tank.place[2]), RIGHT, UP)
        yield _sheet(model, tank, f"BAFFLE-{i + 1}", f"baffle {i + 1}, corners cut off", outline, pose)


def _sheet(model: Model, tank: Tank, kind: str, name: str, outline: np.ndarray, pose: Pose, hand: Hand = "",
           holes: Sequence[np.ndarray] = ()) -> Part:  # fmt: skip
    area = _area(outline) - sum(abs(_area(h)) for h in holes)
    shape = Plate(outline=locked(outline), holes=tuple(map(locked, holes)), thickness=tank.wall)
    return Part(
        number=_number(model, kind, hand=hand), name=f"fuel tank, {name}", form="plate", group=GROUP,
        purpose="keeps fuel from surging" if "baffle" in name else "holds fuel", material=tank.material,
        stock=_stock(tank), places=(pose.place(0.0, 0.0),), mass=area * tank.wall * material(tank.material).density,
        hand=hand, shape=shape, poses=(pose,),
    )  # fmt: skip


def _stock(tank: Tank) -> str:
    return f"{material(tank.material).title}, {gauge(tank.wall)}"


def _rectangle(a: float, b: float) -> np.ndarray:
    return np.array([(-a, -b), (a, -b), (a, b), (-a, b)])


def _vent_hole(vent: Vent, x: float, y: float) -> np.ndarray:
    """Clockwise hole for the vent in the top, in the sheet's axes about the tank's middle."""
    angle = -np.linspace(0, 2 * math.pi, CORNERS, endpoint=False)
    return round_radius(vent.outside / 2) * np.array([np.cos(angle), np.sin(angle)]).T + (
        vent.inside[0] - x, vent.inside[1] - y)  # fmt: skip


def _area(outline: np.ndarray) -> float:
    x, y = np.asarray(outline).T
    return float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)) / 2)


# ------------------------------------------------------------------ lines and bought things


def _tube(model: Model, kind: str, name: str, purpose: str, places: Sequence[Place], outside: float, bore: float,
          key: str) -> Part:  # fmt: skip
    path = np.array(places)
    steps = np.linalg.norm(np.diff(path, axis=0), axis=1)
    middle = steps @ ((path[1:] + path[:-1]) / 2) / steps.sum()
    section = f"{inches(outside)} outside, {inches(bore)} bore"
    mass = math.pi / 4 * (outside**2 - bore**2) * float(steps.sum()) * material(key).density
    return Part(
        number=_number(model, kind), name=name, form="tube", group=GROUP, purpose=purpose, material=key,
        stock=f"{material(key).title}, {section}", places=((float(middle[0]), float(middle[1]), float(middle[2])),),
        mass=mass, band=0.15,
        shape=Tube(path=locked(path), outside=outside, wall=(outside - bore) / 2, section=section),
    )  # fmt: skip


def _bought(model: Model, fuel: Fuel) -> Iterator[Part]:
    words = {"valve": "fuel valve", "filter": "fuel filter", "pump": "fuel pump", "emergency": "second fuel pump"}
    for key, name in words.items():
        thing = getattr(fuel, key)
        if thing:
            yield Part(number=_number(model, key.upper()), name=name, form="item", group=GROUP, purpose="bought",
                       material="bought", stock="bought", places=(thing.place,), mass=thing.mass, band=0.1,
                       mark="designer", shape=Formed(body=ball(thing.place, BODY)))  # fmt: skip


# ------------------------------------------------------------------ joints


def _joints(model: Model, fuel: Fuel) -> Iterator[Joint]:
    yield from _seams(model, fuel.tank)
    yield from _line_joints(model, fuel)
    if fuel.vent:
        lid = "TANK-TOP" if fuel.tank.shape == "box" else "TANK-BARREL"
        held, girth = (_number(model, lid), _number(model, "VENT")), math.pi * fuel.vent.outside
        yield Joint(number=_number(model, "VENT-JOINT"), kind="weld", parts=held, place=fuel.vent.inside,
                    primary=False, length=girth)  # fmt: skip


def _line_joints(model: Model, fuel: Fuel) -> Iterator[Joint]:
    """Each piece of line to what it begins at, and to the piece before it there."""
    before, at = tank_number(model), fuel.tank.outlet
    for line in fuel.lines:
        places, passed = list(line.run.values()), 0
        for key, piece in _pieces(fuel, line):
            number = _number(model, key)
            device = next((k.upper() for k in DEVICES if _stands_at(fuel, k, at)), "")
            held = (_number(model, device), before, number) if device else (before, number)
            yield _joined(model, f"{key}-START", held, at)
            passed += len(piece) - 1
            before, at = number, places[passed]


def _stands_at(fuel: Fuel, key: str, place: Place) -> bool:
    thing = getattr(fuel, key)
    return thing is not None and math.dist(thing.place, place) < 1e-4


def _joined(model: Model, key: str, parts: tuple[str, ...], place: Place) -> Joint:
    return Joint(number=_number(model, f"{key}-JOINT"), kind="bolt", parts=parts, place=place, primary=False,
                 fastener="unknown", note=PAIR)  # fmt: skip


def _seams(model: Model, tank: Tank) -> Iterator[Joint]:
    """Welded all round, fuel tight; pressed with air under soapy water afterwards, a hand's height of water at most."""
    if tank.shape == "cylinder":
        ends = (
            (("TANK-END", "L"), ("TANK-END", "R")) if tank.axis == "across" else (("TANK-FRONT", ""), ("TANK-REAR", ""))
        )
        girth = {_number(model, k, hand=h): math.pi * tank.height for k, h in ends}
        yield from _welds(model, tank, _number(model, "TANK-BARREL"), girth)
        return
    side = [_number(model, "TANK-SIDE", hand=h) for h in ("R", "L")]
    across = [_number(model, k) for k in ("TANK-FRONT", "TANK-REAR")]
    edge = {**dict.fromkeys(across, tank.width), **dict.fromkeys(side, tank.length)}
    yield from _welds(model, tank, _number(model, "TANK-TOP"), edge)
    yield from _welds(model, tank, _number(model, "TANK-BOTTOM"), {**edge, tank_number(model): 0.0})
    for number in across:
        yield from _welds(model, tank, number, dict.fromkeys(side, tank.height))
    for i in range(tank.baffles):
        yield from _welds(model, tank, _number(model, f"BAFFLE-{i + 1}"), dict.fromkeys(side, tank.height - 2 * CORNER))


def _welds(model: Model, tank: Tank, to: str, others: Mapping[str, float]) -> Iterator[Joint]:
    for number, length in others.items():
        key = number.removeprefix(f"{model.name}-{GROUP}-")
        yield Joint(number=f"{to}-{key}-JOINT", kind="weld", parts=(to, number), place=tank.place, primary=False,
                    length=length, note="fuel tight")  # fmt: skip
