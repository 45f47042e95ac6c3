"""Hinges of elevator, rudder and ailerons: bearing where they turn, pin, straps or plates, rivets or bolts.

    bearing   6.67 P/(D_b w F_br)       D_b bush, w width that turns on it, F_br of the softer of both
    pin       P/(2 P_s)                 double shear between two straps or pairs of plates
    strap     P/(2 (w - n d) t F_tu)    round the bush: two legs, less n rivets or none
    rivets    P/(n P_1)                 of one strap; the tests' strength of one

P at ultimate load, square to the hinge line; the hinge's factor stands besides 1.5, as data/factors.toml has it, on
bearing, the fitting factor on the rest. The tail's P is the frame's; where cables hold a surface the frame lets them
push as well as pull, which no cable does: the pulling one then has both forces, and they are added on whichever hinge.
An aileron's P is the air behind its hinge from half way to half way, and all of the horn's push, hinge moment over arm,
on whichever hinge: the safe side. Its cases of wind and hand have no air along the span and are not in it: what would
pass is then unknown. What pushes along the hinge line is not in it. Sources: strength/joints; statics.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.quantity import place_key
from sparwright.base.record import number
from sparwright.data.factors import highest, table
from sparwright.data.loader import fasteners
from sparwright.family.model import Model, RoundTube, Wing, spoken
from sparwright.family.stock import Sheet
from sparwright.margins.braces import Strengths
from sparwright.margins.rib_loads import ON_THE_GROUND, Spans, hinge_forces
from sparwright.margins.taken import USED, Taken
from sparwright.margins.worst import Worst, told, worst_of
from sparwright.parts.number import part_number
from sparwright.parts.tail_fittings import strap_width
from sparwright.parts.tail_frame import Surface, surfaces
from sparwright.strength.allow import joint_allowable
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.joints import pin, plate, rivet
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import ULTIMATE, Answered

METHOD = "force square to the hinge line, shared by position"


@dataclass(frozen=True, kw_only=True)
class Hinge:
    """What a surface's hinges are made of."""

    name: str  # of the surface
    part: str  # number of one
    sheet: Sheet  # of straps or plates
    pin: str
    bush: RoundTube
    fastener: str
    each: Allowable  # strength of one fastener
    count: int = number("1", "fasteners that hold one strap or one foot")
    turns: float = number("m", "width that turns on the bush")
    legs: float = number("m", "net width of sheet that is pulled, all legs together")


Changed = Callable[[Hinge], Hinge]


def as_built(h: Hinge) -> Hinge:
    """The hinge as it is."""
    return h


def hinge_checks(model: Model, answer: Answered, spans: Spans, strengths: Strengths, changed: Changed = as_built,
                 taken: Taken = USED) -> Iterator[Check]:  # fmt: skip
    """Of the tail's surfaces by the frame, of ailerons by the air. changed: each with what else it could be made of."""
    for s in surfaces(model):
        eye = s.number("fixed", "HINGE-EYE")
        bars = np.array([i for i, b in enumerate(answer.skeleton.bars) if b.part.startswith(eye)], dtype=int)
        if bars.size:
            force = answer.force[:, :, bars, 6:9]
            load = np.hypot(force[..., 0], force[..., 2])  # along the bar and over the plane: not along the hinge
            load = load + taken.hinge_cables * one_cable(model, s, answer)[..., None]
            at_part = {int(i): answer.skeleton.bars[int(i)].part for i in bars}
            yield from _checks(changed(_of_tail(model, s)), load, bars, at_part, answer, strengths)
    for wing in model.wings:
        made = _of_aileron(model, wing)
        if made and wing.aileron and wing.aileron.frame:
            count = len(wing.aileron.frame.hinges.places)
            load = aileron_loads(wing, answer, spans, taken.hinge_push)
            ground = [not_known("hinges of the aileron", made.sheet.material, ON_THE_GROUND)]
            yield from _checks(changed(made), load, np.arange(count), {}, answer, strengths, ground)


def one_cable(model: Model, s: Surface, answer: Answered) -> np.ndarray:
    """(v, c) N that the pulling cable of a surface's horn has where the frame shares it with one that pushes."""
    bars = answer.skeleton.which(lambda b: b.part == f"{model.name}-{s.name('movable')}-CABLE")
    pulls = np.array([x.pull[:, bars] for x in answer.ultimate])
    return np.asarray(np.abs(pulls).sum(axis=2)) if bars.size > 1 else np.zeros(pulls.shape[:2])


def aileron_loads(wing: Wing, answer: Answered, spans: Spans, part: float = 1.0) -> np.ndarray:
    """(1, c, h) N on each hinge of an aileron, the worse side; that part of the horn's push on every one."""
    a = wing.aileron
    assert a is not None and a.frame is not None
    found = np.zeros((1, len(answer.laid), len(a.frame.hinges.places)))
    for k, laid in enumerate(answer.laid):
        level = 1.0 if laid.case.level == "ultimate" else ULTIMATE
        for s in spans.get(laid.case.key, ()):
            if s.surface == wing.name:
                on = np.abs(hinge_forces(a.frame.hinges.places, a.inboard, a.outboard, s))
                push = abs(float((s.hinge * s.width).sum())) / a.frame.horn.arm
                found[0, k] = np.maximum(found[0, k], level * (on + part * push))
    return found


def _of_tail(model: Model, s: Surface) -> Hinge:
    h, g = s.frame.hinges, s.frame.gusset
    tubes = tuple(dict.fromkeys((h.sheet.material, s.frame.fixed.spar.material)))
    wide = strap_width(s)
    return Hinge(name=s.name("movable"), part="", sheet=h.sheet, pin=h.pin, bush=h.bush, fastener=g.rivet,
                 each=joint_allowable(model, "rivet", "shear", fastener=g.rivet, of=tubes), count=2 * g.rivets,
                 turns=wide, legs=2 * (wide - g.rivets * fasteners()[g.rivet].diameter))  # fmt: skip


def _of_aileron(model: Model, wing: Wing) -> Hinge | None:
    if wing.aileron is None or wing.aileron.frame is None:
        return None
    h = wing.aileron.frame.hinges
    kind, count = fasteners()[h.fastener].kind, 2 * h.fasteners  # a pair of plates back to back, a foot each
    each = joint_allowable(model, "bolt" if kind == "bolt" else "rivet", "shear", fastener=h.fastener)
    edge = 2 * 2.0 * h.bush.outside - h.bush.outside  # a disc of two diameters about the hole
    key = place_key(h.places[0])
    return Hinge(name=f"{wing.name}.aileron", part=part_number(model.name, wing.name, "HINGE-PLATE", key),
                 sheet=h.sheet, pin=h.pin, bush=h.bush, fastener=h.fastener, each=each, count=count,
                 turns=2 * h.sheet.thickness, legs=2 * edge)  # fmt: skip


def _checks(h: Hinge, load: np.ndarray, bars: np.ndarray, parts: dict[int, str], answer: Answered,
            strengths: Strengths, doubts: list[Allowable] | None = None) -> Iterator[Check]:  # fmt: skip
    """Bearing, pin, and strap with its fasteners. load (v, c, h) N at ultimate load."""
    at = worst_of(load[..., None], bars)
    P = at.use
    part = parts.get(at.bar, h.part)
    at = replace(at, bar=at.bar if parts else 0)
    found = doubts or []
    bears = [strengths.material(m, "bearing", t) for m, t in ((h.sheet.material, h.sheet.thickness),
                                                              (h.bush.material, h.bush.wall))]  # fmt: skip
    F = float(np.minimum(bears[0].value, bears[1].value))
    factor, first = _factor(["hinge"])
    given = (("P", P, "N"), ("D_b", h.bush.outside, "m"), ("w", h.turns, "m"), ("F_br", F, "Pa"))
    use = factor * P / (h.bush.outside * h.turns * F)
    steps: tuple[Step, ...] = (first, *verdict(use, "6.67 P/(D_b w F_br)", given, source="cfr-23-2014 23.657(a)"))
    yield _told(h, "bearing", "bearing where they turn", at, use, answer, part, [*bears, *found], steps)
    factor, first = _factor(["fitting"])
    sheared = strengths.fastener(h.pin, "shear")
    use = float(pin.shear_use(factor * P, sheared.value, 2))
    loaded = (("P", factor * P, "N"), ("P_s", sheared.value, "N"))
    steps = (first, *verdict(use, "P/(2 P_s)", loaded, source=str(sheared.source)))
    yield _told(h, "pin", f"pin {h.pin} in double shear", at, use, answer, part, [sheared, *found], steps)
    pull, t = strengths.material(h.sheet.material, "tension", h.sheet.thickness), h.sheet.thickness
    uses = (factor * P / (h.legs * t * pull.value), float(rivet.use(factor * P, h.each.value, h.count)))
    steps = (
        first,
        Step("sheet pulled", "P/(w_net t F_tu)", (("P", factor * P, "N"), ("w_net", h.legs, "m"), ("t", t, "m"),
             ("F_tu", pull.value, "Pa")), uses[0], "1", "statics"),
        Step(f"{h.count} of {h.fastener}", "P/(n P_1)", (("P_1", h.each.value, "N"), ("n", h.count, "1")), uses[1],
             "1", str(h.each.source)),
        *verdict(float(np.maximum(*uses)), "the worse of both", (("sheet", uses[0], "1"), ("held", uses[1], "1"))),
    )  # fmt: skip
    yield _told(h, "held", "straps or plates and what holds them", at, float(np.maximum(*uses)), answer, part,
                [pull, h.each, *found], steps)  # fmt: skip


def _factor(keys: list[str]) -> tuple[float, Step]:
    factor, key = highest(keys)
    row = table("special")[key]
    return factor, Step(row.title, "factor on the load besides 1.5", (), factor, "1", str(row.source))


def _told(h: Hinge, kind: str, words: str, at: Worst, use: float, answer: Answered, part: str,
          found: list[Allowable], steps: tuple[Step, ...]) -> Check:  # fmt: skip
    said = ["what pushes along the hinge line is not in it"]
    if kind == "bearing":
        said.append(plate.outside_range(2 * h.bush.outside, h.bush.outside, h.turns))
    surface, _, flap = h.name.rpartition(".")
    title = f"hinges of {f'{spoken(surface)}, {flap}' if surface else f'the {flap}'}: {words}"
    return told(f"strength.hinge.{h.name}.{kind}", title, replace(at, use=use), answer, part, found, steps,
                method=METHOD, caveat="; ".join(x for x in said if x))  # fmt: skip
