"""Wires against their breaking strength, and what holds struts and wires: lugs, pins, the bolts through a spar.

Loads are the frame's pulls at ultimate load, with the fitting factor on everything but the wire itself. A pair of lugs
is held together by the strut's bush and shares evenly; of two wires side by side one is taken to carry all. At a spar
all that ends there comes together on four bolts in a square, whose plates carry it to caps and block.

Sources: strength/joints, strength/members/cable.py; special factors data/factors.toml.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.quantity import parse
from sparwright.base.record import number
from sparwright.data.factors import highest, table
from sparwright.data.hardware import WireEnd
from sparwright.data.loader import fasteners, material
from sparwright.family.fittings import StrutPiece
from sparwright.family.model import Model, Strut, Wire
from sparwright.margins.taken import USED, Taken
from sparwright.margins.under_bolts import under_bolts
from sparwright.margins.worst import Worst, told, worst_of
from sparwright.parts.ends import SparSpot, spots
from sparwright.parts.struts import Pinned, pinned, strut_number, wire_number
from sparwright.parts.wing import web_number
from sparwright.shape.spar import panel_of
from sparwright.strength.allowable import Allowable
from sparwright.strength.joints import group, lug, pin, wood
from sparwright.strength.members import cable
from sparwright.structure.answered import Answered
from sparwright.structure.bar import Cable
from sparwright.structure.named import called
from sparwright.structure.wings import hand

BOLT_PULL = parse("125 ksi", "pressure")  # of AN bolts: mil-hdbk-5 Table 8.1.5, class seen quoted; bending no more
FORK = "4130N"  # what stands for the steel of swaged ends, whose own is not on file
WIDEST = 5.0  # diameters of the hole: a wider lug is held to be no stronger
PLANES = 2  # shear planes of a pin between two lugs, or of a bolt between two plates
Materials = Callable[[str, str, float], Allowable]  # material, property, thickness
Fasteners = Callable[[str, str], Allowable]  # key, "shear" or "tension"
Cables = Callable[[str, float], Allowable]  # construction, diameter


@dataclass(frozen=True)
class Strengths:
    """Where the strengths come from."""

    material: Materials
    fastener: Fasteners
    cable: Cables


def brace_checks(model: Model, answer: Answered, strengths: Strengths, taken: Taken = USED) -> Iterator[Check]:
    """Wires, then lugs and pins of every end, then the bolts through the spars."""
    for part, bars in _cables(answer).items():
        yield _wire(part, bars, answer, strengths, taken.wire_end)
    pulls = pulls_of(model, answer)
    for (name, which), end in pinned(model).items():
        if name in pulls:
            yield lug_check(model, name, which, end, pulls[name], answer, strengths, taken)
            yield pin_check(model, name, which, end, pulls[name], answer, strengths, taken)
    for spot in spots(model)[0]:
        yield bolts_check(model, spot, pulls, answer, strengths, taken)


# ------------------------------------------------------------------ wires


def _cables(answer: Answered) -> Mapping[str, np.ndarray]:
    found: dict[str, list[int]] = {}
    for i, bar in enumerate(answer.skeleton.bars):
        if isinstance(bar.made, Cable):
            found.setdefault(bar.part, []).append(i)
    return {part: np.array(bars) for part, bars in found.items()}


def _wire(part: str, bars: np.ndarray, answer: Answered, strengths: Strengths, kept: float) -> Check:
    made = answer.skeleton.bars[int(bars[0])].made
    assert isinstance(made, Cable)
    breaking, end = strengths.cable(made.construction, made.diameter), table("cable_end")["swaged"]
    pull = np.array([s.pull[:, bars] for s in answer.ultimate])
    at = worst_of(cable.use(pull, breaking.value, kept)[..., None], bars)
    load = _pull_at(answer, at)
    return told(f"strength.wire.{part.split('-', 1)[1]}", f"{called(part)} in tension", at, answer, part,
                [breaking], cable.working(load, breaking.value, kept),
                method="frame in second order; swaged ends", caveat=f"ends: {end.source}")  # fmt: skip


def _pull_at(answer: Answered, at: Worst) -> float:
    return float(answer.ultimate[at.variant].pull[at.case, at.bar])


# ------------------------------------------------------------------ ends


@dataclass(frozen=True)
class Pulls:
    """The pulls of one strut or wire at ultimate load."""

    part: str
    bars: np.ndarray = number("1", "(b,) places of both sides' bars")
    pull: np.ndarray = number("N", "(v, c, b) pull, positive")


def pulls_of(model: Model, answer: Answered) -> Mapping[str, Pulls]:
    """By name of strut or wire."""
    things: tuple[Strut | Wire, ...] = (*model.struts, *model.wires)
    found = {}
    for thing in things:
        part = strut_number(model, thing) if isinstance(thing, Strut) else wire_number(model, thing)
        bars = answer.skeleton.which(lambda b, part=part: b.part == part)  # type: ignore[misc]
        if bars.size:
            found[thing.name] = Pulls(part, bars, np.array([s.pull[:, bars] for s in answer.ultimate]))
    return found


def _fitting(factor: float) -> tuple[float, Step]:
    row = table("special")[highest(["fitting"])[1]]
    return factor, Step(row.title, "factor on the load besides 1.5", (), factor, "1", str(row.source))


def lug_check(model: Model, name: str, which: int, end: Pinned, pulls: Pulls, answer: Answered, strengths: Strengths,
              taken: Taken) -> Check:  # fmt: skip
    """The lugs of one end: pulled in two, split, sheared out, borne on, pulled across."""
    key = lug_material(model, end)
    made, allowed = lug_of(end, key, strengths.material)
    factor, told_factor = _fitting(taken.fitting)
    share = taken.lug_share if isinstance(end.held.piece, StrutPiece) else 1.0
    angle = lean(end)
    at = worst_of(lug.use(pulls.pull * factor, angle, made, share)[..., None], pulls.bars)
    load = _pull_at(answer, at) * factor
    where = where_of(end)
    return told(f"strength.lug.{name}.{where}", f"lug of {name.replace('_', ' ')} at {place_of(end)}", at, answer,
                end.plates[0] if end.plates else pulls.part, allowed,
                (told_factor, *lug.working(load, angle, made, share)),
                method="net section, split, shear-out, bearing, oblique", caveat=lug.outside_range(made))  # fmt: skip


def lug_material(model: Model, end: Pinned) -> str:
    """Key of the metal of an end's lugs: its fitting's."""
    return next(f for f in model.fittings if f.name == end.held.end.fitting).lug.material


def lug_of(end: Pinned, key: str, strengths: Materials) -> tuple[lug.Lug, tuple[Allowable, ...]]:
    """The lug at an end: a round eye about its pin; its foot is welded, its eye is not near it."""
    names = ("tension", "yield_tension", "shear", "bearing", "bearing_close")
    found = [strengths(key, n, end.thick) for n in names]
    hole = fasteners()[end.held.pin].diameter
    values = [a.value for a in found]
    wide = min(2 * end.edge, WIDEST * hole)
    made = lug.Lug(width=wide, hole=hole, pin=hole, edge=end.edge, thickness=end.thick, tension=values[0],
                   yields=values[1], shear=values[2], bearing=values[3], bearing_close=values[4])  # fmt: skip
    return made, leaned_on(made, found)


def leaned_on(made: lug.Lug, found: Sequence[Allowable]) -> tuple[Allowable, ...]:
    """Of a lug's five strengths those its use asks for; bearing close to the edge only there, where it is printed."""
    close = made.edge < 2 * made.hole and bool(np.isfinite(made.bearing_close))
    return tuple(found[: 5 if close else 4])


def lean(end: Pinned) -> float:
    """Angle in the lug's plane from its middle line to the pull, rad."""
    along = float(end.held.away @ end.lugs.out)
    across = float(end.held.away @ end.lugs.across)
    return float(np.arctan2(abs(across), along))


def pin_check(model: Model, name: str, which: int, end: Pinned, pulls: Pulls, answer: Answered, strengths: Strengths,
         taken: Taken) -> Check:  # fmt: skip
    """A pin in double shear and bending; only as much of each lug bears as its strength asks."""
    sheared, (factor, told_factor) = strengths.fastener(end.held.pin, "shear"), _fitting(taken.fitting)
    load = np.abs(pulls.pull) * factor
    bears, steps, beside = _bent(model, end, strengths)
    use = np.asarray(pin.shear_and_bending(pin.shear_use(load, sheared.value, PLANES), load / bears))
    at = worst_of(use[..., None], pulls.bars)
    here = abs(_pull_at(answer, at)) * factor
    R_s, R_b = float(pin.shear_use(here, sheared.value, PLANES)), here / bears
    title = f"{end.held.pin} pin of {name.replace('_', ' ')} at {place_of(end)}"
    lines = (
        told_factor, *steps,
        Step("shear", "R_s = P/(2 P_s)", (("P", here, "N"), ("P_s", sheared.value, "N")), R_s, "1",
             str(sheared.source)),
        Step("bending", "R_b = P/P_b", (("P", here, "N"), ("P_b", bears, "N")), R_b, "1", "affdl-tr-69-42"),
        Step("use of its ultimate strength", "sqrt(R_s^2 + R_b^2)", (("R_s", R_s, "1"), ("R_b", R_b, "1")),
             float(np.hypot(R_s, R_b)), "1", "en-1993-1-8 Table 3.10"),
    )  # fmt: skip
    return told(f"strength.pin.{name}.{where_of(end)}", title, at, answer, pulls.part, [sheared, *beside], lines,
                method="double shear and bending between lugs, active lugs")  # fmt: skip


def _bent(model: Model, end: Pinned, strengths: Strengths) -> tuple[float, tuple[Step, ...], tuple[Allowable, ...]]:
    """(P_b N, its lines, strengths it leans on): the load at which the pin bends, by what the lugs on it can bear."""
    d, (outer, middle, gap) = fasteners()[end.held.pin].diameter, stack(end)
    key = lug_material(model, end)
    one, _ = lug_of(end, key, strengths.material)
    plates, (between, inside) = 2 * lug.bears(one), _between(end, strengths)
    if isinstance(end.held.piece, WireEnd):
        plates, between = between, lug.bears(one)
    value = float(pin.bending_strength(d, BOLT_PULL, outer, middle, gap, plates, between))
    given = (("M_u", float(pin.moment_strength(d, BOLT_PULL)), "N m"), ("t_1", outer, "m"), ("P_1", plates, "N"),
             ("t_2", middle, "m"), ("P_2", between, "N"), ("g", gap, "m"))  # fmt: skip
    formula = "(sqrt(g^2 + 8 k M_u) - g)/(2 k), k = t_1/(2 P_1) + t_2/(4 P_2)"
    lines = (Step("load at which the pin bends", formula, given, value, "N", "affdl-tr-69-42 (memory)"),)
    return value, lines, (strengths.material(key, "bearing", end.thick), inside)


def _between(end: Pinned, strengths: Strengths) -> tuple[float, Allowable]:
    """(N, by which strength) that bears between the lugs: a bush on its whole length; of a fork its two cheeks."""
    d, piece = fasteners()[end.held.pin].diameter, end.held.piece
    if isinstance(piece, WireEnd):
        found = strengths.material(FORK, "bearing", piece.cheek)
        return 2 * piece.cheek * d * found.value, found
    found = strengths.material(piece.bush.material, "yield_compression", piece.bush.wall)
    return piece.width * d * found.value, found


def stack(end: Pinned) -> tuple[float, float, float]:
    """(outer lug, what lies between, gap on each side), m: lugs outside a bush, or a fork's cheeks outside a lug."""
    piece = end.held.piece
    if isinstance(piece, WireEnd):
        return piece.cheek, end.thick, max((piece.jaw - end.thick) / 2, 0.0)
    return end.thick, piece.width, 0.0


def where_of(end: Pinned) -> str:
    """Where an end is held, as it ends the ids of its checks."""
    e = end.held.end
    return e.node or (f"{e.tail}.{e.tube}" if e.tail else f"{e.wing}.{e.spar}")


def place_of(end: Pinned) -> str:
    """The same in words."""
    e = end.held.end
    if e.tail:
        return f"the {e.tail}'s {e.tube}"
    return f"node {e.node}" if e.node else f"the {e.spar} spar"


# ------------------------------------------------------------------ bolts through a spar


def bolts_check(model: Model, spot: SparSpot, pulls: Mapping[str, Pulls], answer: Answered, strengths: Strengths,
           taken: Taken) -> Check:  # fmt: skip
    """All four bolts of a fitting: shear of the bolt and, in wood, what the grain bears under it."""
    first = next(iter(pulls.values()))
    force = on_spar(model, spot, pulls, answer)  # (v, c, side, 3): along, up, aft
    factor, told_factor = _fitting(taken.fitting)
    places, bolt = group.square(float(spot.fitting.pitch or 0.0)), fasteners()[spot.fitting.bolt]
    plane = np.moveaxis(force[..., :2] * factor, -1, 0)
    load = taken.bolt_share * group.worst_load(places, plane, np.zeros(plane.shape[1:]))
    sheared = strengths.fastener(spot.fitting.bolt, "shear")
    used = [pin.shear_use(load, sheared.value, PLANES)]
    wooden = material(spot.spar.cap.material).kind == "wood"
    angle = np.arctan2(np.abs(plane[1]), np.abs(plane[0]))
    thick = spot.axes.width
    stuff = material(spot.spar.cap.material)
    if wooden:
        used.append(wood.use(load, angle, bolt.diameter, thick, stuff.density, BOLT_PULL))
    use = np.maximum.reduce(used)
    at = worst_of(use[..., None], np.array([0, 1]))
    side = at.bar
    at = Worst(at.use, at.variant, at.case, int(first.bars[0]), 0, at.lost)
    here, turned = float(load[at.variant, at.case, side]), float(angle[at.variant, at.case, side])
    steps: tuple[Step, ...] = (
        told_factor,
        Step("on one bolt of four", "F/4", (("F along the spar", float(plane[0][at.variant, at.case, side]), "N"),
             ("F up", float(plane[1][at.variant, at.case, side]), "N")), here, "N", "statics"),
        Step("bolt in double shear", "P/(2 P_s)", (("P", here, "N"), ("P_s", sheared.value, "N")),
             float(pin.shear_use(here, sheared.value, PLANES)), "1", str(sheared.source)),
    )  # fmt: skip
    if wooden:
        steps += wood.working(here, turned, bolt.diameter, thick, stuff.density, BOLT_PULL)
    doubts = (sheared, under_bolts(spot.spar, "plates"))
    name = f"{spot.wing.name}.{spot.spar.name}.{spot.buttline / 0.0254:.0f}"
    return told(f"strength.bolts.{name}", f"bolts of the fitting on the {spot.wing.name} {spot.spar.name} spar, "
                f"BL {spot.buttline / 0.0254:.0f} in", at, answer, _spar_part(model, spot), doubts, steps,
                method="four bolts share evenly; wood under slender bolts by EN 1995")  # fmt: skip


def _spar_part(model: Model, spot: SparSpot) -> str:
    return web_number(model, spot.wing, panel_of(spot.wing, spot.buttline), spot.spar)


def on_spar(model: Model, spot: SparSpot, pulls: Mapping[str, Pulls], answer: Answered) -> np.ndarray:
    """(v, c, 2 sides, 3) N at ultimate load from all that ends at a place of a spar: along it, up, aft."""
    v, c = len(answer.variants), len(answer.laid)
    found = np.zeros((v, c, 2, 3))
    for _, lugs in spot.lugs:
        for held in lugs.held:
            here = pulls[held.thing.name]
            for side, name in enumerate("RL"):
                mine = [i for i, b in enumerate(here.bars) if answer.skeleton.bars[int(b)].at[2] == name]
                away = hand(held.away, name)
                own = np.array([hand(a, name) for a in (spot.axes.along, spot.axes.up, spot.axes.aft)])
                for i in mine:
                    found[:, :, side] += here.pull[:, :, i, None] * (own @ away)
    return found
