"""Brakes as parts and joints: drum on the wheel, shoes on a plate round the axle, the link that takes their torque.

From the wheel inwards, across the aeroplane:

    wheel's face | drum and back plate, as wide as the file says | plate on the axle | link | bush on the guide's ear

The bush is as long as what is left to the guide. The plate's arm stands up from the axle; the link runs ahead from it
to the ear. All this rises with the axle, each thing in its own plane across, clear of the others. The plate turns on
the axle by its hub: welded on, the links of both sides would twist the axle whenever one wheel rises alone. Lines have
a length and no body. Drums and shoes are bought; their bodies are for the room they take.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from shapely import LineString, Point, Polygon

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import decimal_inches, inches
from sparwright.base.record import locked, number
from sparwright.data.loader import fasteners, material
from sparwright.family.brakes import BrakeLine, Brakes
from sparwright.family.fitted import Undercarriage
from sparwright.family.model import Model
from sparwright.family.stock import Sheet
from sparwright.parts.bolts import bolt_for, bolt_mass
from sparwright.parts.bought import HUB_HALF, axle_diameter
from sparwright.parts.control_bodies import number as control_number
from sparwright.parts.flat_sheets import tube_numbers
from sparwright.parts.part import Formed, Hand, Joint, Part, Plate, Run
from sparwright.parts.soft import clips, laid_run
from sparwright.parts.undercarriage import GROUP, ROUND, gear_number, guide, main_wheel, ring
from sparwright.shape.solid import Pose, as_place, turned
from sparwright.shape.tube import Tube

ROOM = 1e-3  # m between what turns and what stands, for the bodies only
WEB, BACK, SHOE = 3e-3, 2.5e-3, 0.012  # m: web of the drum, back plate, depth of a shoe; for the bodies only
EDGE = 2.0  # diameters of a bolt from its middle to the edge of a plate (common practice, no source)
WIDE = 0.45  # of the drum's inside diameter: that of the plate the back plate is bolted to
BOLTS = 4  # of the back plate, and of the drum (common practice, no source)
SIDES: tuple[tuple[Hand, float], ...] = (("R", 1.0), ("L", -1.0))


@dataclass(frozen=True)
class Stack:
    """Where the brake's faces lie on the right, and the link's two bolts."""

    outer: float = number("m", "buttline of the plate's outer face, on which the back plate lies")
    plate: float = number("m", "buttline of the plate's middle")
    link: float = number("m", "buttline of the link's middle")
    inner: float = number("m", "buttline of the link's inner face")
    guide: float = number("m", "buttline of the guide's outer face")
    axle: tuple[float, float] = number("m", "station and waterline of the axle's middle")
    hole: tuple[float, float] = number("m", "station and waterline of the link's bolt in the arm")
    ear: tuple[float, float] = number("m", "station and waterline of the link's bolt in the ear")


def brakes_of(model: Model) -> tuple[Undercarriage, Brakes] | None:
    """The undercarriage and its brakes; None where there are none."""
    gear = model.undercarriage
    return (gear, gear.brakes) if gear and gear.brakes else None


def stack(model: Model, gear: Undercarriage, b: Brakes, tubes: Sequence[Part]) -> Stack:
    """The faces of a brake. DesignProblem where there is no room between wheel and guide."""
    wheel = main_wheel(model)
    assert wheel and gear.guide
    x, y, z = wheel.place
    outer = y - HUB_HALF * wheel.width - b.width
    inner = outer - b.plate.thickness - b.link.thickness
    face = guide(model, gear, gear.guide, tubes).middle + gear.guide.sheet.thickness / 2
    if inner < face:
        raise DesignProblem(f"{model.name} undercarriage.brakes: link and brake reach {inches(face - inner)} into the "
                            "guide; a narrower brake is wanted")  # fmt: skip
    room, bore = outer - b.plate.thickness - face, b.hub.outside - 2 * b.hub.wall
    if b.hub_width > room:
        raise DesignProblem(f"{model.name} undercarriage.brakes.hub_width: the guide leaves {inches(room)}")
    if bore < axle_diameter(model, wheel):
        raise DesignProblem(f"{model.name} undercarriage.brakes.hub: its bore, {inches(bore)}, is less than the axle")
    plate, link = outer - b.plate.thickness / 2, inner + b.link.thickness / 2
    return Stack(outer, plate, link, inner, face, (x, z), (x, z + b.arm), (x - b.ahead, z + b.above))


def brake_parts(model: Model, tubes: Sequence[Part]) -> Iterator[Part]:
    """Drums, shoes, plates, links, bushes, bolts and lines; nothing where the file has no brakes."""
    found = brakes_of(model)
    if found is None:
        return
    gear, b = found
    s = stack(model, gear, b, tubes)
    for hand, side in SIDES:
        yield from _bought(model, b, s, hand, side)
        yield from _held(model, b, s, hand, side)
    for line in b.lines:
        yield _line(model, b, s, line, tubes)


def _bought(model: Model, b: Brakes, s: Stack, hand: Hand, side: float) -> Iterator[Part]:
    """Drum and back plate with shoes, turned about the axle from the plate's face out to the wheel's."""
    wheel = main_wheel(model)
    assert wheel
    bore, out, rub, web = axle_diameter(model, wheel) / 2 + ROOM, b.outside / 2, b.drum / 2, b.width - WEB
    rim, shoe = BACK + ROOM, rub - ROOM / 2
    cup = [(bore, b.width), (out, b.width), (out, rim), (rub, rim), (rub, web), (bore, web)]
    deep = web - ROOM
    plate = [(bore, 0.0), (out, 0.0), (out, BACK), (shoe, BACK), (shoe, deep), (shoe - SHOE, deep),
             (shoe - SHOE, BACK), (bore, BACK)]  # fmt: skip
    at = (s.axle[0], side * s.outer, s.axle[1])
    for kind, name, profile, mass in (("BRAKE-DRUM", "brake drum", cup, b.drum_mass),
                                      ("BRAKE-SHOES", "brake back plate with shoes", plate, b.shoes_mass)):  # fmt: skip
        body = turned(np.array(profile), at, (0.0, side, 0.0))
        yield Part(number=gear_number(model, kind, hand), name=name, form="item", group=GROUP, purpose="brake",
                   material="bought", stock=f"drum {inches(b.drum)} inside", places=(as_place(body.centre),), mass=mass,
                   band=0.1, mark="designer", hand=hand, shape=Formed(body=body))  # fmt: skip


def _held(model: Model, b: Brakes, s: Stack, hand: Hand, side: float) -> Iterator[Part]:
    """The plate on the axle, the link, the ear's bush and the two bolts."""
    wheel = main_wheel(model)
    assert wheel
    d, face = fasteners()[b.bolt].diameter, s.plate - b.plate.thickness / 2
    eye = EDGE * d
    assert model.undercarriage and model.undercarriage.guide
    thick = model.undercarriage.guide.sheet.thickness
    bore = b.hub.outside - 2 * b.hub.wall
    disc = Point(s.axle).buffer(WIDE * b.drum, quad_segs=ROUND)
    arm = disc.union(LineString([s.axle, s.hole]).buffer(eye, quad_segs=ROUND))
    yield _plate(model, "BRAKE-PLATE", "plate of the brake, on the axle", arm, ((s.axle, bore / 2), (s.hole, d / 2)),
                 b.plate, s.plate, hand, side)  # fmt: skip
    bar = LineString([s.ear, s.hole]).buffer(eye, quad_segs=ROUND)
    yield _plate(model, "BRAKE-LINK", "link that takes the brake's torque", bar, ((s.ear, d / 2), (s.hole, d / 2)),
                 b.link, s.link, hand, side)  # fmt: skip
    for kind, name, at, low, high, outside, wall in (
        ("BRAKE-HUB", "hub of the brake's plate", s.axle, face - b.hub_width, face, b.hub.outside, b.hub.wall),
        ("BRAKE-BUSH", "bush on the guide's ear", s.ear, s.guide, s.inner, b.bush.outside, b.bush.wall),
        ("BRAKE-EAR-BOLT", f"bolt {b.bolt}, link to ear", s.ear, s.guide - thick, s.inner + b.link.thickness, d, 0.0),
        ("BRAKE-ARM-BOLT", f"bolt {b.bolt}, link to arm", s.hole, s.inner, s.outer, d, 0.0),
    ):
        if high - low < ROOM:
            continue  # the link lies on the ear: no bush
        path = np.array([(at[0], side * y, at[1]) for y in (low, high)])
        tube = Tube(path=locked(path), outside=outside, wall=wall, section=f"{inches(outside)} round")
        stuff = material((b.hub if kind == "BRAKE-HUB" else b.bush).material)
        mass = tube.solid().volume * stuff.density if wall else bolt_mass(b.bolt, high - low)
        yield Part(number=gear_number(model, kind, hand), name=name, form="tube", group=GROUP, purpose="brake",
                   material=stuff.key if wall else "bought", hand=hand, places=(as_place(path.mean(axis=0)),),
                   mass=mass, stock=f"{stuff.title}, {inches(outside)} x {decimal_inches(wall)}" if wall else b.bolt,
                   shape=tube)  # fmt: skip


def _plate(model: Model, kind: str, name: str, whole: Polygon, holes: Sequence[tuple[tuple[float, float], float]],
           sheet: Sheet, at: float, hand: Hand, side: float) -> Part:  # fmt: skip
    """A flat plate in a plane of station and waterline."""
    cut = [Point(p).buffer(r, quad_segs=ROUND) for p, r in holes]
    solid, stuff = Polygon(whole.exterior, [c.exterior for c in cut]), material(sheet.material)
    pose = Pose((0.0, side * at, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    shape = Plate(outline=locked(ring(whole, True)), holes=tuple(locked(ring(c, False)) for c in cut),
                  thickness=sheet.thickness)  # fmt: skip
    return Part(number=gear_number(model, kind, hand), name=name, form="plate", group=GROUP, purpose="brake",
                material=sheet.material, stock=f"{stuff.title}, {decimal_inches(sheet.thickness)}", hand=hand,
                shape=shape, poses=(pose,), places=(pose.place(solid.centroid.x, solid.centroid.y),),
                mass=solid.area * sheet.thickness * stuff.density)  # fmt: skip


def lever_hole(model: Model, line: BrakeLine) -> np.ndarray:
    """(3,) the hole of a line's lever. DesignProblem for a lever that the model's controls do not have."""
    name, _, hole = line.lever.partition(".")
    crank = next((k for k in (model.controls.cranks if model.controls else ()) if k.name == name), None)
    if crank is None or hole not in crank.holes:
        raise DesignProblem(f"{model.name} undercarriage.brakes.lines.{line.name}: no lever {line.lever} in [controls]")
    return np.array(crank.holes[hole])


def _line(model: Model, b: Brakes, s: Stack, line: BrakeLine, tubes: Sequence[Part]) -> Part:
    """From the lever by its places to the leg's end and the back plate."""
    side, hand = (1.0, "R") if line.name == "right" else (-1.0, "L")
    leg = _leg(model, tubes, side)
    end = (s.axle[0], side * s.outer, s.axle[1] + b.drum / 2)
    run, middle = laid_run([as_place(lever_hole(model, line)), *line.run.values(), leg, end], b.cable)
    return Part(number=gear_number(model, f"BRAKE-LINE-{line.name.upper()}"), name=f"brake line, {line.name}",
                form="soft", group=GROUP, purpose="draws a brake", material="bought", places=(middle,), shape=run,
                stock=f"cable in housing {inches(b.cable)}, {inches(run.length)}", band=0.15,
                mass=b.lineal * run.length,
                note=f"lever to {' to '.join(line.run)} to leg to brake {hand}; slack for the axle's rise")  # fmt: skip


def _leg(model: Model, tubes: Sequence[Part], side: float) -> tuple[float, float, float]:
    """Lower end of the first leg on a side."""
    gear = model.undercarriage
    assert gear and gear.guide
    known = {t.number: t for t in tubes}
    ends = [t.shape.end for n in tube_numbers(model, gear.guide.held[0], known)
            if isinstance((t := known[n]).shape, Tube)]  # fmt: skip
    return next(e for e in ends if e[1] * side > 0)


# ------------------------------------------------------------------ joints


def brake_joints(model: Model, tubes: Sequence[Part]) -> Iterator[Joint]:
    """How they are held; nothing where the file has no brakes."""
    found, wheel = brakes_of(model), main_wheel(model)
    if found is None or wheel is None:
        return
    gear, b = found
    s, known = stack(model, gear, b, tubes), {t.number: t for t in tubes}
    axle = tube_numbers(model, gear.axle, known)[0]
    for hand, side in SIDES:
        yield from _joints(model, b, s, hand, side, axle)
    lines = {p.number: p for p in brake_parts(model, tubes) if p.form == "soft"}
    for line in b.lines:
        part = lines[gear_number(model, f"BRAKE-LINE-{line.name.upper()}")]
        yield from clips(model, part, line.held, tubes)
        crank = control_number(model, "CRANK", line.lever.partition(".")[0])
        shoes = gear_number(model, "BRAKE-SHOES", "R" if line.name == "right" else "L")
        assert isinstance(part.shape, Run)
        for word, other, place in (("LEVER", crank, lever_hole(model, line)), ("BRAKE", shoes, part.shape.path[-1])):
            note = "clevis, pin and cotter; housing against its stop"
            yield Joint(number=f"{part.number}-{word}", kind="wire end", parts=(other, part.number), primary=True,
                        place=as_place(place), note=note)  # fmt: skip


def _joints(model: Model, b: Brakes, s: Stack, hand: Hand, side: float, axle: str) -> Iterator[Joint]:
    """Those of one side."""

    def own(kind: str) -> str:
        return gear_number(model, kind, hand)

    wheel = main_wheel(model)
    assert wheel
    place = (s.axle[0], side * s.outer, s.axle[1])
    ear, hole = ((p[0], side * s.link, p[1]) for p in (s.ear, s.hole))
    yield Joint(number=f"{own('BRAKE-DRUM')}-JOINT", kind="bolt", place=place, primary=True, fastener="unknown",
                parts=(gear_number(model, f"WHEEL-{wheel.name.upper()}"), own("BRAKE-DRUM")), fasteners=BOLTS,
                note="bolts and torque by the brake's maker")  # fmt: skip
    yield Joint(number=f"{own('BRAKE-SHOES')}-JOINT", kind="bolt", place=place, primary=True, fastener="unknown",
                parts=(own("BRAKE-PLATE"), own("BRAKE-SHOES")), fasteners=BOLTS,
                note="bolts and torque by the brake's maker")  # fmt: skip
    yield Joint(number=f"{own('BRAKE-HUB')}-WELD", kind="weld", parts=(own("BRAKE-PLATE"), own("BRAKE-HUB")),
                place=place, primary=True, length=math.pi * b.hub.outside, note="all round")  # fmt: skip
    yield Joint(number=f"{own('BRAKE-HUB')}-AXLE", kind="hinge", parts=(axle, own("BRAKE-HUB")), place=place,
                primary=True, fastener="none", note="turns a little on it as it rises; a collar inboard")  # fmt: skip
    link, bush = ("link", b.link.thickness), s.inner - s.guide
    there = bush >= ROOM
    if there:
        yield Joint(number=f"{own('BRAKE-BUSH')}-WELD", kind="weld", parts=(own("GUIDE"), own("BRAKE-BUSH")), place=ear,
                    primary=True, length=math.pi * b.bush.outside, note="all round")  # fmt: skip
    assert model.undercarriage and model.undercarriage.guide
    plates = [("guide", model.undercarriage.guide.sheet.thickness), *([("bush", bush)] if there else []), link]
    for kind, on, under, at in (("EAR", "BRAKE-BUSH" if there else "GUIDE", plates, ear),
                                ("ARM", "BRAKE-PLATE", [("plate", b.plate.thickness), link], hole)):  # fmt: skip
        bolt = bolt_for(b.bolt, under, "outboard", turns=True, limit="the link must turn")
        yield Joint(number=f"{own('BRAKE-LINK')}-{kind}", kind="hinge", place=at, primary=True, fastener=b.bolt,
                    parts=(own(on), own("BRAKE-LINK"), own(f"BRAKE-{kind}-BOLT")), fasteners=1, bolt=bolt,
                    note="turns a little as the axle rises")  # fmt: skip
