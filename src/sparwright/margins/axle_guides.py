"""Guides of the undercarriage: the slotted plates the axle rises in, under what the frame puts on them.

    P_x, P_z   across the slot and along it, of the axle's force on its guide, at the slot's lower end and at its upper
    P_y        sideways: both guides' together, on the one that its collar leans on
    sides      two strips beside the slot, tied by its ends: M = P_x l/4 each, N = P_x l/2/(w + b), l the slot's length;
               out of the plane M_o = P_y l on both
    upper end  a strip over the slot, straight, held on both sides: M = P_z w/8, w the slot's width and a strip's
    bearing    P/(D t F_cy): t/D is far below what MIL-HDBK-5's bearing strengths are for
    weld       of the legs' ends on the plate, as the ring of the widest, radius r:
               q = P/(2 pi r) + M/(2 pi r^2) + M_o/(pi r^2), M and M_o about the ring's middle;  q/(F_w t)

With the fitting factor. The frame takes a guide to be as stiff as the axle: what it then hands from leg to leg through
the axle, one guide against the other, the legs take where the plates give, and it is left out. What the cord's strands
do to the plate's lower edge, and the ear that holds a brake's link, are not in it. Sources: statics; strength/joints.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.family.fitted import AxleGuide
from sparwright.family.model import Model
from sparwright.margins.braces import Strengths
from sparwright.margins.control_pivots import seam
from sparwright.margins.control_told import special
from sparwright.margins.roots import own_axes
from sparwright.margins.worst import told, worst_of
from sparwright.parts.number import part_number
from sparwright.parts.undercarriage import main_wheel, stop
from sparwright.shape.frame import runs
from sparwright.strength.members import tube
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered

METHOD = "frame in second order; strips of the guide's plate, held at both ends"
CAVEAT = "the cord's strands on its lower edge and the ear of the brake's link are not in it"


def guide_checks(model: Model, answer: Answered, strengths: Strengths) -> Iterator[Check]:
    """Metal round the slot, weld on the legs; right and left are one check, the worse."""
    gear, wheel = model.undercarriage, main_wheel(model)
    bars = answer.skeleton.which(lambda b: b.part == f"{model.name}-gear-GUIDE")
    if gear is None or gear.guide is None or wheel is None or not bars.size:
        return
    factor, first = special("fitting")
    force = factor * np.stack([answer.force[:, :, int(i), 6:9] @ own_axes(answer, int(i)) for i in bars], axis=2)
    force[..., 1] = force[..., 1].sum(axis=2, keepdims=True)
    axle = next(r for r in runs(model.fuselage) if set(gear.axle.split("-")) <= set(r.nodes)).tube.outside
    part = part_number(model.name, "gear", "GUIDE", "", "R")
    yield _slot(answer, gear.guide, force, bars, (axle, stop(model, wheel)), strengths, part, first)
    i = int(bars[0])
    down = float(np.abs(np.diff(answer.skeleton.frame.place[answer.skeleton.frame.ends[i]], axis=0))[0, 2])
    yield _weld(model, answer, gear.guide, force, bars, down, part, first)


def _slot(
    answer: Answered,
    g: AxleGuide,
    force: np.ndarray,
    bars: np.ndarray,
    size: tuple[float, float],
    strengths: Strengths,
    part: str,
    first: Step,
) -> Check:
    axle, long = size
    t, b, wide = g.sheet.thickness, g.edge, axle + g.fit + g.edge
    names = ("tension_near_weld", "shear", "yield_compression")
    found = [strengths.material(g.sheet.material, n, t) for n in names]
    F, F_s, crush = (a.value for a in found)
    P_x, P_y, P_z = (np.abs(force[..., k]) for k in range(3))
    bent = 6 * P_x * long / 4 / (t * b**2 * F) + P_x * long / 2 / wide / (b * t * F)
    bowed, end = 6 * P_y * long / (2 * b * t**2 * F), 6 * P_z * wide / 8 / (t * b**2 * F)
    cut, borne = 0.75 * np.hypot(np.maximum(P_x, P_z), P_y) / (t * b * F_s), np.hypot(P_x, P_z) / (axle * t * crush)
    use = np.maximum(tube.together(0.0, np.maximum(bent + bowed, end), cut), borne)
    at = worst_of(use[..., None], bars)
    k = int(np.flatnonzero(bars == at.bar)[0]) if np.isfinite(at.use) else 0
    here = (at.variant, at.case, k)
    sheet = (("t", t, "m"), ("b", b, "m"), ("F", F, "Pa"))
    steps = (
        first,
        *(
            Step(f"{w}, with the factor", n, (), float(P[here]), "N", "maths/frame")
            for w, n, P in (
                ("across the slot", "P_x", P_x),
                ("sideways, both guides' together", "P_y", P_y),
                ("along it", "P_z", P_z),
            )
        ),
        Step(
            "strips beside the slot, in the plane",
            "6 (P_x l/4)/(t b^2 F) + (P_x l/2)/((w + b) b t F)",
            (("l", long, "m"), ("w + b", wide, "m"), *sheet),
            float(bent[here]),
            "1",
            "portal of two stiff ends",
        ),
        Step(
            "the same, out of it",
            "6 P_y l/(2 b t^2 F)",
            (("l", long, "m"), *sheet),
            float(bowed[here]),
            "1",
            "timoshenko-gere",
        ),
        Step(
            "strip over its end",
            "6 (P_z (w + b)/8)/(t b^2 F)",
            (("w + b", wide, "m"), *sheet),
            float(end[here]),
            "1",
            "timoshenko-gere",
        ),
        Step("sheared", "R_s = 1.5 (P/2)/(t b F_s)", (("F_s", F_s, "Pa"),), float(cut[here]), "1", "timoshenko-gere"),
        Step(
            "bearing of the axle, as yield alone",
            "P/(D t F_cy)",
            (("D", axle, "m"), ("F_cy", crush, "Pa")),
            float(borne[here]),
            "1",
            "statics",
        ),
        *verdict(at.use, "(R + sqrt(R^2 + 4 R_s^2))/2 of the sides or the end, or bearing", ()),
    )
    return told(
        "strength.guide.slot",
        "guides of the axle: metal round the slot",
        at,
        answer,
        part,
        found,
        steps,
        method=METHOD,
        caveat=CAVEAT,
    )


def _weld(
    model: Model,
    answer: Answered,
    g: AxleGuide,
    force: np.ndarray,
    bars: np.ndarray,
    down: float,
    part: str,
    first: Step,
) -> Check:
    """down: from the legs' node to the axle at its lowest, m. The legs end at one node: the widest one's ring alone."""
    ends = [{f"{n}R" for n in h.split("-")} for h in g.held]
    legs = [r.tube for r in runs(model.fuselage) if {r.nodes[0], r.nodes[-1]} in ends]
    F_w = seam(model, g.sheet.material)
    t, r = min([g.sheet.thickness, *(leg.wall for leg in legs)]), max(leg.outside for leg in legs) / 2
    P, M, M_o = np.linalg.norm(force, axis=-1), np.abs(force[..., 0]) * down, np.abs(force[..., 1]) * down
    q = P / (2 * np.pi * r) + M / (2 * np.pi * r**2) + M_o / (np.pi * r**2)
    at = worst_of((q / (F_w.value * t))[..., None], bars)
    k = int(np.flatnonzero(bars == at.bar)[0]) if np.isfinite(at.use) else 0
    here = (at.variant, at.case, k)
    given = (("P", float(P[here]), "N"), ("M", float(M[here]), "N m"), ("M_o", float(M_o[here]), "N m"), ("r", r, "m"))
    steps = (
        first,
        Step(
            "flow in the seam", "q = P/(2 pi r) + M/(2 pi r^2) + M_o/(pi r^2)", given, float(q[here]), "N/m", "statics"
        ),
        *verdict(at.use, "q/(F_w t)", (("F_w", F_w.value, "Pa"), ("t", t, "m")), source=str(F_w.source)),
    )
    return told(
        "strength.guide.weld",
        "guides of the axle: weld on the legs",
        at,
        answer,
        part,
        [F_w],
        steps,
        method=METHOD,
        caveat="one leg's ring for all of it: the others help",
    )
