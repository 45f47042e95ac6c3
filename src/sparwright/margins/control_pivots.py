"""What bell-cranks and the stick turn on: the bolt, its bush, the hub and its weld, under all links of the lever.

    R = sum of the lever's forces;  C their couple out of the lever's plane: rods lie beside it
    plates    F_1, F_2 = R/2 +- (C x n)/h                 n the pivot's line, h from plate to plate
    bolt      R_s = max(F_1, F_2)/P_s,  R_b = R/P_b       joints/pin, active lugs on a bush as long as the hub
    bush      3.33 R/(D w F_br), 2 R/(D w F_br) where only cables pull     23.693: what turns, on its softest metal
    hub       C/(Z F_b) beside its weld;  seam q = (R/(2 pi r) + C/(pi r^2))/2 on both faces, q/(F_w t)

The hand pushes the stick aside as well (23.397): its fork bears the push and, between its plates, what it does about
the bolt, F r. Nut and bush hold the plates together, so that each has half of the push along the bolt.

All with the fitting factor, the bush with its own, the highest of both counting alone (23.619). What stands still under
the bolts is in control_brackets.py. Of right and left the right one is told. Sources: statics; strength/joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.quantity import parse
from sparwright.base.record import number
from sparwright.controls.motion import Motion
from sparwright.data.factors import table
from sparwright.data.loader import fasteners
from sparwright.family.controls import Controls
from sparwright.family.model import Model
from sparwright.family.stock import RoundTube, Sheet
from sparwright.margins.braces import BOLT_PULL, Strengths
from sparwright.margins.control_forces import WAYS, acting, couple, most, on_pivot
from sparwright.margins.control_told import RULE, special, told_of
from sparwright.margins.tubes import rupture
from sparwright.parts.control_bodies import number as part_of
from sparwright.parts.part import Part
from sparwright.strength.allow import joint_allowable
from sparwright.strength.allowable import Allowable
from sparwright.strength.joints import pin
from sparwright.strength.members import tube
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered

PSI = parse("1 psi", "pressure")
STICK_BOLT = "AN4"  # as parts/control_hand.py draws it
JOINTS_RULE = f"{RULE}; 23.625, 23.693"


@dataclass(frozen=True)
class Pivot:
    """A lever on its bolt, between two plates."""

    key: str  # "crank_front"
    words: str
    motion: Motion
    bolt: str
    plate: Sheet
    plates: tuple[Part, Part]  # on the side against the line it turns about, and on that it points to
    normal: np.ndarray = number("1", "(3,) the line it turns about")
    place: np.ndarray = number("m", "(3,) the middle between the plates")
    width: float = number("m", "between the plates")
    force: np.ndarray = number("N", "(n, 3) on the pivot, at ultimate load")
    couple: np.ndarray = number("N m", "(n, 3) on it about lines in the lever's plane")
    hub: RoundTube | None = None  # of a bell-crank
    sheet: Sheet | None = None  # of its arms
    rods: bool = True  # whether a rod is joined to it

    @property
    def on_plates(self) -> np.ndarray:
        """(2, n, 3) N on the plates."""
        apart = np.cross(self.couple, self.normal) / (self.width + self.plate.thickness)
        return np.array([self.force / 2 - apart, self.force / 2 + apart])


def pivots(model: Model, c: Controls, motions: Sequence[Motion], parts: Mapping[str, Part]) -> Iterator[Pivot]:
    """Bell-cranks that move with a control, the stick."""
    for crank in c.cranks:
        for m in motions:
            key = f"{crank.name}-R" if crank.pair else crank.name
            plates = [
                parts.get(part_of(model, f"BRACKET-{w}", crank.name, "R" if crank.pair else ""))
                for w in ("FIRST", "SECOND")
            ]
            if key in m.run.levers and plates[0] and plates[1]:
                lever, found = m.run.levers[key], acting(m, key)
                yield Pivot(
                    f"crank_{crank.name}",
                    f"bell-crank, {crank.name.replace('_', ' ')}",
                    m,
                    crank.bolt,
                    crank.bracket,
                    (plates[0], plates[1]),
                    lever.axis,
                    lever.pivot,
                    crank.width,
                    on_pivot(found),
                    couple(found, lever.axis, lever.pivot),
                    crank.hub,
                    crank.sheet,
                    any(not hasattr(a.link.made, "tension") for a in found),
                )
                break
    yield from _stick(model, c, motions, parts)


def _stick(model: Model, c: Controls, motions: Sequence[Motion], parts: Mapping[str, Part]) -> Iterator[Pivot]:
    """The stick in its fork, with the hand's force on it fore and aft, and aside where it moves ailerons."""
    forks = [parts.get(part_of(model, "FORK", hand=h)) for h in ("L", "R")]
    m = next((x for x in motions if "stick" in x.run.levers), None)
    if m is None or forks[0] is None or forks[1] is None or model.seat is None or model.seat.stick is None:
        return
    lever, found = m.run.levers["stick"], acting(m, "stick")
    out = np.array(model.seat.stick.place) - lever.pivot
    way = np.cross(lever.axis, out)
    hand = most(m) * np.tile(np.outer(WAYS, way / np.linalg.norm(way)), (len(m.stances), 1))
    loads = [("stick", "stick", m, on_pivot(found) + hand, couple(found, lever.axis, lever.pivot))]
    to_the_side = next((x for x in motions if x.force == "aileron"), None)
    if to_the_side is not None:
        push = most(to_the_side) * np.outer(WAYS, lever.axis)
        loads.append(("stick_aside", "stick pushed aside", to_the_side, push, np.cross(out, push)))
    for key, words, motion, force, turned in loads:
        yield Pivot(
            key,
            words,
            motion,
            STICK_BOLT,
            c.torque_tube.fork,
            (forks[0], forks[1]),
            lever.axis,
            lever.pivot,
            max(c.stick.tube.outside, c.torque_tube.tube.outside),
            force,
            turned,
        )


def pivot_checks(answer: Answered, pivot: Pivot, strengths: Strengths) -> Iterator[Check]:
    """Bolt, and of a bell-crank its bush and its hub."""
    yield _bolt(answer, pivot, strengths)
    if pivot.hub is not None and pivot.sheet is not None:
        yield _bush(answer, pivot, pivot.hub, strengths)
        yield _hub(answer, pivot, pivot.hub, pivot.sheet, strengths)


def _bolt(answer: Answered, p: Pivot, strengths: Strengths) -> Check:
    factor, first = special("fitting")
    sheared, d = strengths.fastener(p.bolt, "shear"), fasteners()[p.bolt].diameter
    bears = strengths.material(p.plate.material, "bearing", p.plate.thickness)
    inner = p.hub.material if p.hub else "4130N"
    bush = strengths.material(inner, "yield_compression", p.hub.wall if p.hub else p.plate.thickness)
    P_b = float(
        pin.bending_strength(
            d,
            BOLT_PULL,
            p.plate.thickness,
            p.width,
            0.0,
            2 * bears.value * d * p.plate.thickness,
            bush.value * d * p.width,
        )
    )
    most_on = np.linalg.norm(p.on_plates, axis=2).max(axis=0)
    whole = np.maximum(np.linalg.norm(p.force, axis=1), 2 * most_on)  # as if both plates had the more loaded one's
    use = np.asarray(pin.shear_and_bending(factor * most_on / sheared.value, factor * whole / P_b))
    i = int(np.argmax(np.where(np.isnan(use), np.inf, use)))
    R_s, R_b = factor * float(most_on[i]) / sheared.value, factor * float(whole[i]) / P_b
    steps = (
        first,
        Step(
            "on the more loaded plate",
            "|R/2 + (C x n)/h|",
            (
                ("R", float(np.linalg.norm(p.force[i])), "N"),
                ("C", float(np.linalg.norm(p.couple[i])), "N m"),
                ("h", p.width + p.plate.thickness, "m"),
            ),
            float(most_on[i]),
            "N",
            "statics",
        ),
        Step("sheared there", "R_s = 1.15 F/P_s", (("P_s", sheared.value, "N"),), R_s, "1", str(sheared.source)),
        Step(
            "load at which it bends",
            "(sqrt(g^2 + 8 k M_u) - g)/(2 k)",
            (("w", p.width, "m"), ("d", d, "m")),
            P_b,
            "N",
            "affdl-tr-69-42 (memory)",
        ),
        Step("bent", "R_b = 1.15 (2 F)/P_b", (("P_b", P_b, "N"),), R_b, "1", "affdl-tr-69-42"),
        *verdict(
            float(use[i]),
            "sqrt(R_s^2 + R_b^2)",
            (("R_s", R_s, "1"), ("R_b", R_b, "1")),
            source="en-1993-1-8 Table 3.10",
        ),
    )
    return told_of(
        answer,
        p.motion,
        f"pivot.{p.key}",
        f"{p.words}: bolt {p.bolt} it turns on",
        float(use[i]),
        p.plates[0].number,
        [sheared, bears, bush],
        steps,
        "bush as strong as its hub is taken",
        JOINTS_RULE,
    )


def _bush(answer: Answered, p: Pivot, hub: RoundTube, strengths: Strengths) -> Check:
    key = "push-pull-joint" if p.rods else "cable-joint"
    factor, first = special(key, "fitting")
    F, D = strengths.material(hub.material, "bearing", hub.wall), hub.outside - 2 * hub.wall
    R = float(np.linalg.norm(p.force, axis=1).max())
    C = float(np.linalg.norm(p.couple, axis=1).max())
    worst = R + 6 * C / p.width  # the couple as a pressure that goes straight from end to end
    use = factor * worst / (D * p.width * F.value)
    given = (("R", R, "N"), ("C", C, "N m"), ("D", D, "m"), ("w", p.width, "m"), ("F_br", F.value, "Pa"))
    steps = (first, *verdict(use, "factor (R + 6 C/w)/(D w F_br)", given, source="cfr-23-2014 23.693"))
    return told_of(
        answer,
        p.motion,
        f"bush.{p.key}",
        f"{p.words}: bearing of its hub on the bush",
        use,
        p.plates[0].number,
        [F],
        steps,
        "the bush's own metal is not said: no softer than the hub's",
        JOINTS_RULE,
    )


def seam(model: Model | None, key: str) -> Allowable:
    """Strength across a seam, Pa on its length times the thinner sheet: by the designer's tests, else printed."""
    if model is not None:
        tested = joint_allowable(model, "weld", "tension", of=(key,))
        if np.isfinite(tested.value):
            return tested
    row = table("weld")["alloy" if key.startswith("41") else "low-carbon"]
    why = "" if row.source.mark == "read" else f"{row.source}: recalled, not read: break coupons of the seam"
    return Allowable(name="seam", material=key, value=row.value * PSI, source=row.source, open=why)


def _hub(answer: Answered, p: Pivot, hub: RoundTube, sheet: Sheet, strengths: Strengths) -> Check:
    factor, first = special("fitting")
    names = ("youngs", "yield_compression", "tension", "tension_near_weld")
    found = [strengths.material(hub.material, n, hub.wall) for n in names]
    E, crush, pull, near = (a.value for a in found)
    weld = seam(None, hub.material)
    R, C = factor * np.linalg.norm(p.force, axis=1), factor * np.linalg.norm(p.couple, axis=1)
    F_b, r, t = rupture(hub, E, crush) * near / pull, hub.outside / 2, min(hub.wall, sheet.thickness)
    bent = tube.bending_use(C, hub.outside, hub.wall, F_b)
    torn = (R / (2 * np.pi * r) + C / (np.pi * r**2)) / 2 / (weld.value * t)
    use = np.maximum(bent, torn)
    i = int(np.argmax(np.where(np.isnan(use), np.inf, use)))
    steps = (
        first,
        Step(
            "bent by what lies beside the lever's plane",
            "C D/(2 I F_b)",
            (("C", float(C[i]), "N m"), ("D", hub.outside, "m"), ("F_b beside the weld", F_b, "Pa")),
            float(bent[i]),
            "1",
            "statics",
        ),
        Step(
            "seams on both faces",
            "(R/(2 pi r) + C/(pi r^2))/(2 F_w t)",
            (("R", float(R[i]), "N"), ("r", r, "m"), ("t", t, "m"), ("F_w", weld.value, "Pa")),
            float(torn[i]),
            "1",
            str(weld.source),
        ),
        *verdict(float(use[i]), "the worse of both", (("bent", float(bent[i]), "1"), ("seams", float(torn[i]), "1"))),
    )
    return told_of(
        answer,
        p.motion,
        f"hub.{p.key}",
        f"{p.words}: hub and its weld",
        float(use[i]),
        p.plates[0].number,
        [*found, weld],
        steps,
        rule=JOINTS_RULE,
    )
