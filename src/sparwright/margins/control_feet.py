"""What a bracket stands by: welds of its plates on a tube and that tube, or bolts on a wing's part.

    weld     q = hypot(F_a/L + 6 F_b d/L^2, F_b/L) + 6 F_n d/(L t), q/(F_w t), L where plate and tube touch
    tube     under a welded one, from node to node:  M = F a b/l,  T = F e the longer part of l, beside the weld
    bolts    of a foot on a wing's part: F/2 across, F_a/2 + F_b d/p along, p the most that its foot lets them be apart

F_a along a plate from foot to bolt, F_b across it, F_n out of it, with the fitting factor; d from foot to bolt. A foot
on a wing's part is held by an angle whose rivets are not said: what would pass is unknown. Sources: statics;
strength/joints weld, pin.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.controls.motion import Motion
from sparwright.family.model import Model
from sparwright.margins.braces import Strengths
from sparwright.margins.control_arms import Arm
from sparwright.margins.control_pivots import seam
from sparwright.margins.control_told import RULE, special, told_of
from sparwright.margins.tubes import rupture
from sparwright.parts.control_bodies import EDGE, WIDE, bolt, tube_of
from sparwright.parts.control_bolts import STAND
from sparwright.shape.frame import Run, nodes
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.joints import pin, weld
from sparwright.strength.members import tube
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered

FEET = "the rivets of the angle at its foot, and how far apart its bolts stand, are not said"
BRACKET_RULE = f"{RULE}; 23.625"


@dataclass(frozen=True)
class Standing:
    """One plate of a bracket with what it bears."""

    arm: Arm
    force: np.ndarray = number("N", "(n, 3) at ultimate load, on it")
    touch: float = number("m", "length along which it is welded on; nought where it is bolted")


@dataclass(frozen=True)
class Bracket:
    """Both plates of a bracket."""

    key: str
    words: str
    motion: Motion
    welded: bool
    plates: tuple[Standing, ...]
    on: Run | None = None  # the frame's tube it is welded on


def in_axes(s: Standing, factor: float) -> np.ndarray:
    """(n, 3) N along the plate, across it, out of it."""
    return np.asarray(factor * s.force @ s.arm.axes.T)


def foot_check(model: Model, answer: Answered, b: Bracket, strengths: Strengths, doubts: Sequence[Allowable]) -> Check:
    """The weld of a bracket's plates, or the bolts of their feet. doubts: what else keeps it from passing."""
    factor, first = special("fitting")
    if not b.welded:
        return _bolted(answer, b, strengths, factor, first)
    F_w = seam(model, b.plates[0].arm.part.material)
    rows = []
    for s in b.plates:
        F, d, t = in_axes(s, factor), s.arm.long - s.arm.start, s.arm.thick
        flat_on = weld.foot_use(F[:, 0], F[:, 1], F[:, 1] * d, s.touch, t, F_w.value)
        bowed = 6 * np.abs(F[:, 2]) * d / (s.touch * t**2 * F_w.value)
        every = flat_on + bowed
        i = int(np.argmax(np.where(np.isnan(every), np.inf, every)))
        rows.append((float(every[i]), s, F[i], d, float(flat_on[i]), float(bowed[i])))
    use, s, F, d, in_plane, out = max(rows, key=lambda r: (np.isnan(r[0]), r[0]))
    given = (
        ("F_a", float(F[0]), "N"),
        ("F_b", float(F[1]), "N"),
        ("d", d, "m"),
        ("L", s.touch, "m"),
        ("t", s.arm.thick, "m"),
        ("F_w", F_w.value, "Pa"),
    )
    steps = (
        first,
        Step(
            "in the plate's plane", "hypot(F_a/L + 6 F_b d/L^2, F_b/L)/(F_w t)", given, in_plane, "1", str(F_w.source)
        ),
        Step("out of it", "6 F_n d/(L t^2 F_w)", (("F_n", float(F[2]), "N"),), out, "1", str(F_w.source)),
        *verdict(use, "both together", (("in the plane", in_plane, "1"), ("out of it", out, "1"))),
    )
    return told_of(
        answer,
        b.motion,
        f"foot.{b.key}",
        f"{b.words}: weld of its foot",
        use,
        s.arm.part.number,
        [F_w, *doubts],
        steps,
        "the tube under it is not in it",
        BRACKET_RULE,
    )


def _bolted(answer: Answered, b: Bracket, strengths: Strengths, factor: float, first: Step) -> Check:
    """Two bolts through an angle; as far apart as its foot lets them be."""
    sheared, pulled = (strengths.fastener(STAND, n) for n in ("shear", "tension"))
    apart = 2 * WIDE - 2 * EDGE * bolt(STAND)
    rows = []
    for s in b.plates:
        F, d = in_axes(s, factor), s.arm.long
        cut, drawn = np.hypot(F[:, 1], F[:, 2]) / 2, np.abs(F[:, 0]) / 2 + np.abs(F[:, 1]) * d / apart
        every = pin.shear_and_tension(cut / sheared.value, drawn / pulled.value)
        i = int(np.argmax(np.where(np.isnan(every), np.inf, every)))
        rows.append((float(every[i]), s, float(cut[i]), float(drawn[i])))
    use, s, V, T = max(rows, key=lambda r: (np.isnan(r[0]), r[0]))
    R = (V / sheared.value, T / pulled.value)
    steps = (
        first,
        Step("across one of two", "hypot(F_b, F_n)/2", (), V, "N", "statics"),
        Step("along it", "F_a/2 + F_b d/p", (("d", s.arm.long, "m"), ("p", apart, "m")), T, "N", "statics"),
        *verdict(use, "u of (R_s/u)^3 + (R_t/u)^2 = 1", (("R_s", R[0], "1"), ("R_t", R[1], "1")), source="mil-hdbk-5"),
    )
    doubts: list[Allowable] = [sheared, pulled, not_known("foot", s.arm.part.number, FEET)]
    return told_of(
        answer,
        b.motion,
        f"foot.{b.key}",
        f"{b.words}: bolts {STAND} of its foot",
        use,
        s.arm.part.number,
        doubts,
        steps,
        "the web or rib under it is not in it",
        BRACKET_RULE,
    )


def tube_check(
    model: Model, answer: Answered, b: Bracket, run: Run, strengths: Strengths, doubts: Sequence[Allowable]
) -> Check:
    """The tube a bracket is welded on, by the control's forces alone."""
    factor, first = special("fitting")
    total = factor * sum((s.force for s in b.plates), np.zeros(3))
    at = np.mean([s.arm.pose.place(*s.arm.tip) for s in b.plates], axis=0)
    foot, (start, end) = _on_tube(model, run, at)
    long, t = float(np.linalg.norm(end - start)), run.tube
    along = (end - start) / long
    near, far = sorted((float(np.linalg.norm(foot - start)), float(np.linalg.norm(end - foot))))
    across = np.linalg.norm(total - np.outer(total @ along, along), axis=1)
    M, T = across * near * far / long, np.abs(np.cross(at - foot, total) @ along) * far / long
    names = ("youngs", "yield_compression", "shear", "tension", "tension_near_weld")
    found = [strengths.material(t.material, n, t.wall) for n in names]
    E, crush, shear, pulled, beside = (a.value for a in found)
    F_b = rupture(t, E, crush) * beside / pulled
    F_s = float(tube.torsion_stress(t.outside, t.wall, E, crush, shear)) * beside / pulled
    R_b, R_s = tube.bending_use(M, t.outside, t.wall, F_b), tube.torsion_use(T, t.outside, t.wall, F_s)
    every = tube.together(0.0, R_b, R_s)
    i = int(np.argmax(np.where(np.isnan(every), np.inf, every)))
    steps = (
        first,
        Step("across the tube, with the factor", "F", (), float(across[i]), "N", "statics"),
        Step(
            "bent from node to node",
            "F (a b/l)/(Z F_b)",
            (("a", near, "m"), ("b", far, "m"), ("l", long, "m"), ("F_b", F_b, "Pa")),
            float(R_b[i]),
            "1",
            "aisc-360 F8 (memory)",
        ),
        Step(
            "twisted",
            "F e (b/l) D/(2 J F_s)",
            (("T", float(T[i]), "N m"), ("F_s", F_s, "Pa")),
            float(R_s[i]),
            "1",
            "aisc-360 H3.1 (memory)",
        ),
        *verdict(
            float(every[i]),
            "(R_b + sqrt(R_b^2 + 4 R_s^2))/2",
            (("R_b", float(R_b[i]), "1"), ("R_s", float(R_s[i]), "1")),
        ),
    )
    return told_of(
        answer,
        b.motion,
        f"stand.{b.key}",
        f"tube under the {b.words}",
        float(every[i]),
        tube_of(model, run),
        [*found, *doubts],
        steps,
        "what the frame puts on it is not in it; its ends free to turn up and down",
        BRACKET_RULE,
    )


def _on_tube(model: Model, run: Run, place: np.ndarray) -> tuple[np.ndarray, tuple[np.ndarray, np.ndarray]]:
    """((3,) the place of a tube's middle line nearest to a point, the two nodes of the straight part it is on)."""
    known, found = nodes(model.fuselage), []
    for a, b in pairwise(np.array(known[n]) for n in run.nodes):
        part = float(np.clip((place - a) @ (b - a) / ((b - a) @ (b - a)), 0.02, 0.98))
        at = a + part * (b - a)
        found.append((float(np.linalg.norm(at - place)), at, (a, b)))
    _, at, both = min(found, key=lambda x: x[0])
    return at, both
