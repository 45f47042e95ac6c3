"""Joints of the tail surfaces in the frame: gussets with their rivets, tabs and their bolts, horns, clamps of braces.

    rivets of an arm, on each face: f_x = |N|/2 + |M_y'|/D,  f_y = |V_y|/2 + |M_x|/D,  m = |M_z'|/2, as a group
        M_y' = M_y +- V_z l,  M_z' = M_z -+ V_y l     at the group's middle, l from the node; D over the tube
    tab, horn   |N|/(A F) + |M_y| (w/2)/(I_y F) + |M_z| (t/2)/(I_z F), at the strength beside a weld; a horn as wide
                as it is cut
    tab's bolt  one shear plane for each tab;  P/(d t F_br) in the tab
    clamp       two bolts share: P/2 in two planes;  bearing of the bush in both walls of the tube: P/2/(2 D_b t F_br)

The bars' end forces are those of the frame at ultimate load, with the fitting factor on bolts, tabs and clamps. The
strength of a rivet is the designer's test. What pulls a gusset off its tube (V_z) is held by both plates and the tube
between them and is not worked out. Of a horn with two arms one takes what the frame gives both, for no cable pushes.
Right and left are one check, the worse. Sources: strength/joints group, pin, plate; statics.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from shapely import LineString, Polygon

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.data.factors import highest, table
from sparwright.data.loader import fasteners
from sparwright.family.model import Model
from sparwright.margins.braces import Strengths, pulls_of
from sparwright.margins.roots import own_axes
from sparwright.margins.worst import Worst, ends_of, told, worst_of
from sparwright.parts.number import part_number
from sparwright.parts.tail_ends import Clamp, clamps
from sparwright.parts.tail_fittings import HALF_HOLE, horn_outline
from sparwright.parts.tail_frame import Arm, Surface, gusset_number, gussets, surfaces
from sparwright.shape.flat_frame import FlatFrame, in_space
from sparwright.strength.allow import joint_allowable
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.joints import group, pin, plate
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered
from sparwright.structure.tail import laced

METHOD = "frame in second order; elastic groups, plates of one width"
UNPULLED = "what pulls the plates off the tube is not in it"


def tail_joint_checks(model: Model, answer: Answered, strengths: Strengths) -> Iterator[Check]:
    """Gussets of every surface, tabs, horns and clamps."""
    inner = ends_of(answer.force)
    for s in surfaces(model):
        yield from _gussets(model, s, answer)
    yield from _tabs(model, answer, inner, strengths)
    yield from _horns(model, answer, inner, strengths)
    for clamp in clamps(model):
        yield from _clamped(model, clamp, answer, strengths)


def _factor() -> tuple[float, Step]:
    factor, key = highest(["fitting"])
    row = table("special")[key]
    return factor, Step(row.title, "factor on the load besides 1.5", (), factor, "1", str(row.source))


# ------------------------------------------------------------------ gussets


@dataclass(frozen=True)
class RivetedEnd:
    """A tube's end in a gusset: its bar in the frame."""

    gusset: str  # number
    tube: str
    bar: int = number("1", "place in the frame")
    end: int = number("1", "0 or 1")
    middle: float = number("m", "from the node to the middle of the rivets")
    outside: float = number("m", "D of the tube")


def riveted_ends(s: Surface, answer: Answered) -> dict[str, list[RivetedEnd]]:
    """Every tube that ends in a gusset of a surface, by name of its fixed or movable part; bar -1: not in the frame.

    One that runs on through a gusset carries its own forces past it; its rivets take what the others bring, and there
    are twice as many.
    """
    found: dict[str, list[RivetedEnd]] = {}
    every = [one for one in laced(s.model) if one.s.name("fixed") == s.name("fixed")]
    for f, one in zip(s.frames, every, strict=True):
        for node, arms in gussets(s, f):
            for arm in (x for x in arms if node in (x.member.nodes[0], x.member.nodes[-1])):  # not one that runs on
                at = _bar_of(s, f, arm, one.name(node), answer) or (-1, 0)
                middle = arm.first + (s.frame.gusset.rivets - 1) * s.frame.gusset.pitch / 2
                found.setdefault(s.name(f), []).append(
                    RivetedEnd(gusset_number(s, f, node), s.member(f, arm.member), *at, middle, arm.member.tube.outside)
                )
    return found


def _bar_of(s: Surface, f: FlatFrame, arm: Arm, node: str, answer: Answered) -> tuple[int, int] | None:
    """(bar, end) of an arm: its tube's bar that leaves the node the arm's way."""
    bones, part = answer.skeleton, s.member(f, arm.member)
    zero, out = in_space(s.pose, [(0.0, 0.0)])[0], in_space(s.pose, [(float(arm.along[0]), float(arm.along[1]))])[0]
    for i in bones.which(lambda b: b.part == part and node in b.ends):
        end = bones.bars[int(i)].ends.index(node)
        here, there = bones.frame.place[bones.frame.ends[i, end]], bones.frame.place[bones.frame.ends[i, 1 - end]]
        if float((there - here) @ (out - zero)) > 0:
            return int(i), end
    return None


def on_a_face(force: np.ndarray, end: RivetedEnd) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(f_x N, f_y N, m N m) of one face's rivets at their middle, of a bar's end forces (..., 6) on it at its node."""
    N, V_y, V_z, M_x, M_y, M_z = np.moveaxis(force, -1, 0)
    way = end.middle if end.end == 0 else -end.middle
    out, flat = M_y + way * V_z, M_z - way * V_y
    D = end.outside
    return np.abs(N) / 2 + np.abs(out) / D, np.abs(V_y) / 2 + np.abs(M_x) / D, np.abs(flat) / 2


def _gussets(model: Model, s: Surface, answer: Answered) -> Iterator[Check]:
    g = s.frame.gusset
    row = np.array([((i - (g.rivets - 1) / 2) * g.pitch, 0.0) for i in range(g.rivets)])
    joined = tuple(dict.fromkeys((g.sheet.material, s.frame.fixed.spar.material)))
    one = joint_allowable(model, "rivet", "shear", fastener=g.rivet, of=joined)
    force = answer.force
    for name, every in riveted_ends(s, answer).items():
        ends, left = [e for e in every if e.bar >= 0], [e for e in every if e.bar < 0]
        if not ends:
            yield told(f"strength.gusset.{name}", f"{name}: rivets {g.rivet} of the gussets", Worst(np.nan), answer,
                       left[0].gusset, [one, _unheld(left)], (), method=METHOD, caveat=UNPULLED)  # fmt: skip
            continue
        faces = [on_a_face(force[:, :, e.bar, 6 * e.end : 6 * e.end + 6], e) for e in ends]
        fx, fy, m = (np.stack([f[k] for f in faces], axis=-1) for k in range(3))
        use = group.worst_load(row, (fx, fy), m) / one.value
        at = worst_of(use[..., None], np.arange(len(ends)))
        e, here = ends[at.bar], (at.variant, at.case, at.bar)
        load = (float(fx[here]), float(fy[here]))
        steps = (
            Step(f"{e.tube} in {e.gusset}: along the tube on one face", "|N|/2 + |M_y'|/D", (("D", e.outside, "m"),),
                 load[0], "N", "statics"),
            Step("across it", "|V_y|/2 + |M_x|/D", (("D", e.outside, "m"),), load[1], "N", "statics"),
            Step("turning it at the rivets' middle", "|M_z'|/2", (("l", e.middle, "m"),), float(m[here]), "N m",
                 "statics"),
            *group.working(row, load, float(m[here]), one.value),
        )  # fmt: skip
        at = replace(at, bar=e.bar)
        yield told(f"strength.gusset.{name}", f"{name}: rivets {g.rivet} of the gussets", at, answer, e.gusset,
                   [one, *([_unheld(left)] if left else [])], steps, method=METHOD, caveat=UNPULLED)  # fmt: skip


def _unheld(left: list[RivetedEnd]) -> Allowable:
    """Why what would pass is unknown: ends of tubes that the frame has no bar for."""
    names = ", ".join(dict.fromkeys(e.tube for e in left))
    return not_known("rivets", "the gussets", f"forces of {names} are not in the frame")


# ------------------------------------------------------------------ tabs and horns


def plate_use(force: np.ndarray, wide: float, thick: float, strength: float) -> np.ndarray:
    """(..., ) use of a flat plate by inner forces (..., 6): z across its width."""
    N, _, _, _, M_y, M_z = np.moveaxis(force, -1, 0)
    area = wide * thick
    return np.asarray(
        (np.abs(N) / area + 6 * np.abs(M_y) / (thick * wide**2) + 6 * np.abs(M_z) / (wide * thick**2)) / strength
    )


def plate_steps(force: np.ndarray, wide: float, thick: float, strength: float) -> tuple[Step, ...]:
    """The same line by line, forces (6,)."""
    N, M_y, M_z = abs(float(force[0])), abs(float(force[4])), abs(float(force[5]))
    size = (("w", wide, "m"), ("t", thick, "m"), ("F", strength, "Pa"))
    R = (N / (wide * thick * strength), 6 * M_y / (thick * wide**2 * strength), 6 * M_z / (wide * thick**2 * strength))
    return (
        Step("pulled or pressed", "R_1 = N/(w t F)", (("N", N, "N"), *size), R[0], "1", "statics"),
        Step("bent in its plane", "R_2 = 6 M_y/(t w^2 F)", (("M_y", M_y, "N m"), *size), R[1], "1", "statics"),
        Step("bent out of it", "R_3 = 6 M_z/(w t^2 F)", (("M_z", M_z, "N m"), *size), R[2], "1", "statics"),
        *verdict(sum(R), "R_1 + R_2 + R_3", tuple((f"R_{k}", r, "1") for k, r in enumerate(R, 1))),
    )


def _tabs(model: Model, answer: Answered, inner: np.ndarray, strengths: Strengths) -> Iterator[Check]:
    factor, first = _factor()
    for s in surfaces(model):
        for a in s.frame.attach:
            tab, surface = f"{model.name}-tail-TAB-{a.node}-", s.name("fixed")
            bars = enumerate(answer.skeleton.bars)
            foot = np.array([i for i, b in bars if b.part.startswith(tab) and b.ends[1].startswith(surface)], dtype=int)
            if not foot.size:
                continue
            name, number = f"{s.name('fixed')}.{a.name}", part_number(model.name, "tail", "TAB", a.node, "R")
            near = strengths.material(s.frame.tab.material, "tension_near_weld", s.frame.tab.thickness)
            t, wide = s.frame.tab.thickness, answer.skeleton.bars[int(foot[0])].section.area / s.frame.tab.thickness
            loads = factor * inner[:, :, foot]
            at = worst_of(plate_use(loads, wide, t, near.value), foot)
            here = factor * inner[at.variant, at.case, at.bar, at.end]
            yield told(f"strength.tab.{name}", f"tabs on {a.node} that hold the {s.name('fixed')}", at, answer, number,
                       [near], (first, *plate_steps(here, wide, t, near.value)), method=METHOD,
                       caveat="as wide all along as half way; pressed tabs do not buckle: short and thick")  # fmt: skip
            yield _tab_bolt(model, s, a.node, name, number, foot, answer, strengths)


def _tab_bolt(model: Model, s: Surface, node: str, name: str, part: str, bars: np.ndarray, answer: Answered,
              strengths: Strengths) -> Check:  # fmt: skip
    """Each tab's own force on the bolt, square to it; bearing in the tab, two diameters from its edge."""
    factor, first = _factor()
    d, t = fasteners()[s.frame.bolt].diameter, s.frame.tab.thickness
    sheared = strengths.fastener(s.frame.bolt, "shear")
    bears = strengths.material(s.frame.tab.material, "bearing", t)
    force = answer.force[:, :, bars, 6:9]
    on = np.stack([force[:, :, k] @ own_axes(answer, int(i)) for k, i in enumerate(bars)], axis=2)
    P = factor * np.hypot(on[..., 0], on[..., 2])
    F = float(plate.bearing_strength(HALF_HOLE, bears.value))
    use = np.maximum(P / sheared.value, plate.bearing_use(P, d, t, F))
    at = worst_of(use[..., None], bars)
    here = float(P[at.variant, at.case, int(np.flatnonzero(bars == at.bar)[0])])
    by = (here / sheared.value, float(plate.bearing_use(here, d, t, F)))
    steps = (
        first,
        Step("one shear plane", "P/P_s", (("P", here, "N"), ("P_s", sheared.value, "N")), by[0], "1",
             str(sheared.source)),
        Step("bearing in the tab", "P/(d t F_br)", (("d", d, "m"), ("t", t, "m"), ("F_br", F, "Pa")), by[1], "1",
             "mil-hdbk-5"),
        *verdict(max(by), "the worse of both", (("shear", by[0], "1"), ("bearing", by[1], "1"))),
    )  # fmt: skip
    title = f"bolt {s.frame.bolt} of the {s.name('fixed')} at {node}"
    return told(f"strength.tab_bolt.{name}", title, at, answer, part,
                [sheared, bears], steps, method=METHOD,
                caveat="bearing in the tail's tube is not in it; nor the bolt's bending")  # fmt: skip


def horn_width(s: Surface, part: float) -> float:
    """Width of the horn's plate square to its arm at a part of the way from the tube's middle to the hole, m.

    The hole for the joining tube, which is welded in all round, counts as filled.
    """
    y = -part * s.frame.horn.arm
    whole = Polygon(horn_outline(s)[0])
    return float(whole.intersection(LineString([(-1.0, y), (1.0, y)])).length)


def _horns(model: Model, answer: Answered, inner: np.ndarray, strengths: Strengths) -> Iterator[Check]:
    """In its plane, at the tube's edge and out along the arm."""
    factor, first = _factor()
    for s in surfaces(model):
        number, horn = s.number("movable", "HORN"), s.frame.horn
        bars = np.array(
            [i for i, b in enumerate(answer.skeleton.bars) if b.part == number and b.what == "link"], dtype=int
        )
        if not bars.size:
            continue
        t, start = horn.sheet.thickness, s.frame.movable.join.outside / 2 / horn.arm
        near = strengths.material(horn.sheet.material, "tension_near_weld", t)
        parts = np.array([start, 0.4, 0.6, 0.8])
        wide = np.array([horn_width(s, p) for p in parts])
        ends = factor * np.abs(inner[:, :, bars, 0]).sum(axis=2, keepdims=True)  # (v, c, 1, 6): one arm takes all
        N, M = ends[..., 0, None], ends[..., 4, None] * (1 - parts)
        use = (N / (wide * t) + 6 * M / (t * wide**2)) / near.value
        at = worst_of(use, bars[:1])
        b, e = 0, at.end
        here = np.zeros(6)
        here[0], here[4] = N[at.variant, at.case, b, 0], M[at.variant, at.case, b, e]
        steps = (first, Step("moment at the tube's middle", "frame, with the factor", (),
                             float(ends[at.variant, at.case, b, 4]), "N m", "maths/frame"),
                 Step("there, that part of the way to the hole", "M (1 - part)", (("part", float(parts[e]), "1"),),
                      float(here[4]), "N m", "statics"),
                 *plate_steps(here, float(wide[e]), t, near.value))  # fmt: skip
        yield told(f"strength.horn.{s.name('movable')}", f"horn of the {s.name('movable')}", at, answer, number, [near],
                   steps, method=METHOD, caveat="what pulls it sideways is not in it: the frame ends rod or cable at a "
                   "node of the fuselage; nor its seam on the tube")  # fmt: skip


# ------------------------------------------------------------------ clamps


def _clamped(model: Model, c: Clamp, answer: Answered, strengths: Strengths) -> Iterator[Check]:
    """Both bolts of a clamp and their bushes in the tube's walls, under all that ends there on one side."""
    f, pulls = c.fitting, pulls_of(model, answer)
    if f.spacer is None or not c.lugs:
        return
    factor, first = _factor()
    held = [(h, pulls[h.thing.name]) for lugs in c.lugs for h in lugs.held if h.thing.name in pulls]
    if not held:
        return
    P = factor * np.abs(sum(_both(p.pull, c.in_the_middle) for _, p in held))  # as if all pulled one way: safe
    sheared, wall = strengths.fastener(f.bolt, "shear"), c.at.tube
    bears = strengths.material(wall.material, "bearing", wall.wall)
    F = float(plate.bearing_strength(2.0, bears.value))
    each = P / 2
    use = np.maximum(pin.shear_use(each, sheared.value, 2),
                     plate.bearing_use(each / 2, f.spacer.outside, wall.wall, F))  # fmt: skip
    bars = held[0][1].bars
    at = worst_of(use[..., None], bars[: use.shape[2]])
    here = float(each[at.variant, at.case, int(np.flatnonzero(bars == at.bar)[0])])
    by = (
        float(pin.shear_use(here, sheared.value, 2)),
        float(plate.bearing_use(here / 2, f.spacer.outside, wall.wall, F)),
    )
    lost = plate.outside_range(2 * f.spacer.outside, f.spacer.outside, wall.wall)
    steps = (
        first,
        Step("on one bolt of two, all braces as if they pulled one way", "P/2", (("P", 2 * here, "N"),), here, "N",
             "statics, safe side"),
        Step("bolt in double shear", "P/(2 P_s)", (("P_s", sheared.value, "N"),), by[0], "1", str(sheared.source)),
        Step("its bush in both walls", "(P/2)/(D_b t F_br)",
             (("D_b", f.spacer.outside, "m"), ("t", wall.wall, "m"), ("F_br", F, "Pa")), by[1], "1", "mil-hdbk-5"),
        *verdict(float(np.maximum(*by)), "the worse of both", (("shear", by[0], "1"), ("bearing", by[1], "1")), lost),
    )  # fmt: skip
    where = f"{c.tail}.{c.tube}.{c.along / 0.0254:.0f}"
    yield told(f"strength.clamp.{where}", f"bolts of the clamp on the {c.tail}'s {c.tube}", at, answer, held[0][1].part,
               [sheared, bears], steps, method=METHOD, caveat=lost)  # fmt: skip


def _both(pull: np.ndarray, middle: bool) -> np.ndarray:
    """(v, c, b) without sign; both sides' together on a clamp in the plane of symmetry."""
    size = np.abs(pull)
    return np.repeat(size.sum(axis=2, keepdims=True), size.shape[2], axis=2) if middle else size
