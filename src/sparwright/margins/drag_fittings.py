"""Fittings of the drag bracing: lugs and pins of its wires, and the plates' four bolts on the spars' inner faces.

Symbols: r place of a wire's pin or the tube's end off the middle of the plate on the spar's face (out of it, along the
spar, up), F its pull there, P_s, P_t of a bolt, p pitch, e plate's edge beyond a bolt.

    in the plane    F_along, F_up, M = sum r_along F_up - r_up F_along       four bolts as a group, one plane each
    out of it       T = F_out/4 + sum over both ways |M| y/sum y^2           y from the edge the plate turns about
    bolt            the u of (R_s/u)^3 + (R_t/u)^2 = 1, bearing in the plate, wood under it as of one plate

Pulls of wires and tube are the frame's at ultimate load, with the fitting factor. A plate's own bending between tube,
lugs and bolts is not worked out. Right and left are one check, the worse. Sources: strength/joints lug, pin, group,
wood.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.quantity import place_key
from sparwright.base.record import number
from sparwright.data.factors import highest, table
from sparwright.data.hardware import WireEnd
from sparwright.data.loader import fasteners, material
from sparwright.family.drag_bracing import DragBracing
from sparwright.family.model import Model, Wing
from sparwright.margins.braces import BOLT_PULL, FORK, Strengths, leaned_on
from sparwright.margins.under_bolts import under_bolts
from sparwright.margins.worst import Worst, told, worst_of
from sparwright.parts.drag_bracing import EDGE, WORDS, Post, Pull, crossings, posts
from sparwright.parts.number import part_number
from sparwright.strength.allowable import Allowable
from sparwright.strength.joints import group, lug, pin, plate, wood
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered
from sparwright.structure.wings import SIDES

METHOD = "frame in second order; elastic group of bolts, a rigid plate"
CAVEAT = "the plate's own bending is not in it"


@dataclass(frozen=True)
class Held:
    """One wire's end or the tube's at a plate."""

    bars: tuple[int, ...]  # right and left in the frame
    at: np.ndarray = number("m", "(3,) out of the spar's face, along the spar, up, from the plate's middle")
    way: np.ndarray = number("1", "(3,) of its pull on the plate, the same axes")


def drag_fitting_checks(model: Model, answer: Answered, strengths: Strengths) -> Iterator[Check]:
    """Lugs and pins of the wires of a wing, then the bolts of its plates, on each spar."""
    for wing in model.wings:
        if wing.drag_bracing is not None and _bars(answer, _tube(model, wing)):
            yield from _lugs_and_pins(model, wing, wing.drag_bracing, answer, strengths)
            for spar in sorted(wing.spars, key=lambda s: s.at):
                yield _bolts(model, wing, wing.drag_bracing, spar.name, answer, strengths)


def _tube(model: Model, wing: Wing) -> str:
    assert wing.drag_bracing is not None
    return part_number(model.name, wing.name, "DRAG-TUBE", place_key(wing.drag_bracing.bays[0]))


def _bars(answer: Answered, part: str) -> tuple[int, ...]:
    """Right and left of a part in the frame."""
    found = answer.skeleton.which(lambda b: b.part == part)
    return tuple(int(i) for s in SIDES for i in found if answer.skeleton.bars[int(i)].at[2] == s)


def _factor() -> tuple[float, Step]:
    factor, key = highest(["fitting"])
    row = table("special")[key]
    return factor, Step(row.title, "factor on the load besides 1.5", (), factor, "1", str(row.source))


def _pulls(answer: Answered, bars: tuple[int, ...]) -> np.ndarray:
    """(v, c, 2) N at ultimate load, with the fitting factor."""
    return _factor()[0] * np.array([s.pull[:, list(bars)] for s in answer.ultimate])


# ------------------------------------------------------------------ lugs and pins


def _lugs_and_pins(model: Model, wing: Wing, drag: DragBracing, answer: Answered, strengths: Strengths
                   ) -> Iterator[Check]:  # fmt: skip
    """Of all wires' ends the lug and the pin that are used most."""
    ends = [(w, k, p) for w in crossings(model, wing) for k, p in enumerate(w.ends)]
    if not ends:
        return
    rows = []
    for w, _, p in ends:
        bars = _bars(answer, part_number(model.name, wing.name, f"{WORDS[w.level]}-WIRE", place_key(w.start)))
        rows.append((p, bars, _pulls(answer, bars), lean(p)))
    made, found = _eye(drag, ends[0][2].piece, strengths)
    sheared = strengths.fastener(ends[0][2].piece.pin, "shear")
    bends, bend_step, beside = _pin_bends(drag, ends[0][2].piece, made, strengths)
    load = np.stack([r[2] for r in rows], axis=2)  # (v, c, ends, sides)
    angle = np.array([r[3] for r in rows])[:, None]
    places = np.arange(len(rows))
    first = _factor()[1]
    for kind in ("lug", "pin"):
        if kind == "lug":
            use = lug.use(load, angle, made)
        else:
            use = pin.shear_and_bending(pin.shear_use(load, sheared.value, 2), np.abs(load) / bends)
        at = worst_of(use, places)
        P, turned = float(load[at.variant, at.case, at.bar, at.end]), float(angle[at.bar, 0])
        w, k, _ = ends[at.bar]
        number_ = part_number(model.name, wing.name, f"{WORDS[w.level]}-{kind.upper()}-{('INNER', 'OUTER')[k]}",
                              place_key(w.start))  # fmt: skip
        at = Worst(at.use, at.variant, at.case, rows[at.bar][1][at.end], 0, at.lost)
        if kind == "lug":
            yield told(f"strength.drag.{wing.name}.lug", f"{_name(wing)}: lugs of the drag wires", at, answer, number_,
                       found, (first, *lug.working(P, turned, made)), method="net section, split, shear-out, bearing",
                       caveat=lug.outside_range(made))  # fmt: skip
        else:
            R = (float(pin.shear_use(P, sheared.value, 2)), abs(P) / bends)
            steps = (
                first, bend_step,
                Step("shear", "R_s = P/(2 P_s)", (("P", P, "N"), ("P_s", sheared.value, "N")), R[0], "1",
                     str(sheared.source)),
                Step("bending", "R_b = P/P_b", (("P", P, "N"), ("P_b", bends, "N")), R[1], "1", "affdl-tr-69-42"),
                *verdict(float(np.hypot(*R)), "sqrt(R_s^2 + R_b^2)", (("R_s", R[0], "1"), ("R_b", R[1], "1")),
                         source="en-1993-1-8 Table 3.10"),
            )  # fmt: skip
            yield told(f"strength.drag.{wing.name}.pin", f"{_name(wing)}: pins of the drag wires", at, answer, number_,
                       [sheared, *beside], steps, method="double shear and bending in a fork, active lugs")  # fmt: skip


def _name(wing: Wing) -> str:
    return wing.name if "wing" in wing.name else f"{wing.name} wing"


def lean(p: Pull) -> float:
    """Angle in the lug's plane from its middle line, out of the spar's face, to the wire, rad."""
    out = p.post.inward * p.post.axes.aft
    out = out - (out @ p.normal) * p.normal
    return float(np.arccos(np.clip(p.way @ out / np.linalg.norm(out), -1, 1)))


def _eye(drag: DragBracing, piece: WireEnd, strengths: Strengths) -> tuple[lug.Lug, tuple[Allowable, ...]]:
    names = ("tension", "yield_tension", "shear", "bearing", "bearing_close")
    found = [strengths.material(drag.lug.material, n, drag.lug.thickness) for n in names]
    pull, yields, shear, bears, close = (a.value for a in found)
    d = fasteners()[piece.pin].diameter
    made = lug.Lug(width=min(2 * drag.edge, 5 * d), hole=d, pin=d, edge=drag.edge, thickness=drag.lug.thickness,
                   tension=pull, yields=yields, shear=shear, bearing=bears, bearing_close=close)  # fmt: skip
    return made, leaned_on(made, found)


def _pin_bends(drag: DragBracing, piece: WireEnd, one: lug.Lug, strengths: Strengths
               ) -> tuple[float, Step, tuple[Allowable, ...]]:  # fmt: skip
    """(load at which the pin bends in its fork, N, its line, strengths it leans on)."""
    d, gap = fasteners()[piece.pin].diameter, max((piece.jaw - drag.lug.thickness) / 2, 0.0)
    fork = strengths.material(FORK, "bearing", piece.cheek)
    cheeks = 2 * piece.cheek * d * fork.value
    value = float(pin.bending_strength(d, BOLT_PULL, piece.cheek, drag.lug.thickness, gap, cheeks, lug.bears(one)))
    given = (("t_1", piece.cheek, "m"), ("P_1", cheeks, "N"), ("t_2", drag.lug.thickness, "m"),
             ("P_2", lug.bears(one), "N"), ("g", gap, "m"))  # fmt: skip
    line = Step("load at which the pin bends", "(sqrt(g^2 + 8 k M_u) - g)/(2 k), k = t_1/(2 P_1) + t_2/(4 P_2)",
                given, value, "N", "affdl-tr-69-42 (memory)")  # fmt: skip
    return value, line, (fork, strengths.material(drag.lug.material, "bearing", drag.lug.thickness))


# ------------------------------------------------------------------ bolts


def held_at(model: Model, wing: Wing, post: Post, answer: Answered) -> list[Held]:
    """The tube and every wire that ends at a plate."""
    own = np.array([post.inward * post.axes.aft, post.axes.along, post.axes.up])
    face = post.at(0.0)
    drag = wing.drag_bracing
    assert drag is not None
    tube = part_number(model.name, wing.name, "DRAG-TUBE", place_key(post.buttline))
    found = [Held(_bars(answer, tube), np.array([drag.foot.thickness, 0.0, 0.0]), np.array([1.0, 0.0, 0.0]))]
    for w in crossings(model, wing):
        part = part_number(model.name, wing.name, f"{WORDS[w.level]}-WIRE", place_key(w.start))
        for p in w.ends:
            if p.post.spar.name == post.spar.name and abs(p.post.buttline - post.buttline) < 1e-6:
                found.append(Held(_bars(answer, part), own @ (p.pin - face), own @ p.way))
    return found


def on_plate(held: list[Held], answer: Answered) -> tuple[np.ndarray, np.ndarray]:
    """(force (v, c, 2, 3) N, moment (v, c, 2, 3) N m about the plate's middle): out, along, up; right and left."""
    force, moment = np.zeros((2, len(answer.variants), len(answer.laid), 2, 3))
    for h in held:
        F = _pulls(answer, h.bars)[..., None] * h.way
        force, moment = force + F, moment + np.cross(h.at, F)
    return force, moment


def bolt_loads(drag: DragBracing, force: np.ndarray, moment: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(shear N, its angle to the spar rad, pull N) of the worst bolt, each its own worst."""
    each = group.loads(group.square(drag.pitch), np.moveaxis(force[..., 1:], -1, 0), moment[..., 0])
    size = np.hypot(each[0], each[1])
    k = size.argmax(axis=0)[None]
    angle = np.arctan2(np.abs(np.take_along_axis(each[1], k, 0)[0]), np.abs(np.take_along_axis(each[0], k, 0)[0]))
    e = EDGE * fasteners()[drag.bolt].diameter
    heights = np.array([e, e, e + drag.pitch, e + drag.pitch])
    turned = group.pulls(heights, np.abs(moment[..., 1]) + np.abs(moment[..., 2])).max(axis=0)
    return size.max(axis=0), angle, np.maximum(force[..., 0], 0.0) / 4 + turned


def _bolts(model: Model, wing: Wing, drag: DragBracing, spar: str, answer: Answered, strengths: Strengths) -> Check:
    both = [p for y in drag.bays for p in posts(model, wing, y) if p.spar.name == spar]
    every = [held_at(model, wing, p, answer) for p in both]
    plates = [on_plate(h, answer) for h in every]
    force, moment = (np.stack([p[k] for p in plates], axis=2) for k in range(2))  # (v, c, posts, sides, 3)
    S, angle, T = bolt_loads(drag, force, moment)
    d, t, stuff = fasteners()[drag.bolt].diameter, drag.foot.thickness, material(both[0].spar.cap.material)
    sheared, pulled = (strengths.fastener(drag.bolt, n) for n in ("shear", "tension"))
    bears = strengths.material(drag.foot.material, "bearing", t)
    F, wooden = float(plate.bearing_strength(EDGE, bears.value)), stuff.kind == "wood"
    thick = both[0].axes.width if both[0].spar.webs == 2 else both[0].spar.web.thickness

    def uses(s: np.ndarray, a: np.ndarray, p: np.ndarray) -> list[np.ndarray]:
        bolt = pin.shear_and_tension(s / sheared.value, p / pulled.value)
        found = [bolt, plate.bearing_use(s, d, t, F)]
        return [*found, wood.use(2 * s, a, d, thick, stuff.density, BOLT_PULL)] if wooden else found

    at = worst_of(np.maximum.reduce(uses(S, angle, T)), np.arange(len(both)))
    i, here = at.bar, (at.variant, at.case, at.bar, at.end)
    s, a, p = float(S[here]), float(angle[here]), float(T[here])
    by = [float(u) for u in uses(np.asarray(s), np.asarray(a), np.asarray(p))]
    names = ("bolt in shear and pull", "bearing in the plate", "wood under it, one plate")
    steps: tuple[Step, ...] = (
        _factor()[1],
        *(Step(f"force on the plate {w}", "sum of pulls", (), float(v), "N", "statics")
          for w, v in zip(("off the spar", "along it", "up it"), force[here], strict=True)),
        Step("shear of the worst bolt", "f = F/4 + M r/sum r^2", (("M", float(moment[here][0]), "N m"),), s, "N",
             "shigley"),
        Step("pull of the worst bolt", "F_out/4 + (|M_1| + |M_2|) y/sum y^2",
             (("M_1", float(moment[here][1]), "N m"), ("M_2", float(moment[here][2]), "N m")), p, "N", "statics"),
        *(Step(n, "there/strength", (), u, "1", "strength/joints") for n, u in zip(names, by, strict=False)),
        *verdict(float(np.max(by)), "the worst of them", tuple((n, u, "1") for n, u in zip(names, by, strict=False))),
    )  # fmt: skip
    number_ = part_number(model.name, wing.name, f"DRAG-FOOT-{spar}".upper(), place_key(both[i].buttline))
    at = Worst(at.use, at.variant, at.case, every[i][0].bars[at.end], 0, at.lost)
    return told(f"strength.drag.{wing.name}.{spar}.bolts", f"{_name(wing)}, {spar} spar: bolts of the drag bracing",
                at, answer, number_, [sheared, pulled, bears, under_bolts(both[0].spar, "plate")], steps, method=METHOD,
                caveat=CAVEAT)  # fmt: skip
