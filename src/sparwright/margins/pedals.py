"""Rudder pedals: foot bar, upright, hub, the shaft both turn on; its rails are in pedal_rails.py.

    F        as foot and cable ask, pedal_forces.py
    bar      M = F b/4: the foot a quarter of the bar off its middle (common practice, no source)
    upright  M = F (r - D/2),  T = F b/4, at its weld on the hub
    hub      T = F r from the upright to the cable's arm
    shaft    each hub presses it at its two ends, as foot and cable ask; it lies in two rails; M from there
    bearing  2 P/(D (w/2) F_br) at a hub's end (23.693), of the softer metal

With the fitting factor but for the tubes. The cable's arm is one of control_arms.py. Sources: statics; strength.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.controls.motion import Motion
from sparwright.family.controls import Controls
from sparwright.family.model import Model
from sparwright.family.stock import RoundTube
from sparwright.margins.braces import Strengths
from sparwright.margins.control_told import RULE, special, told_of
from sparwright.margins.pedal_forces import Pressed, on_rails, pressed
from sparwright.margins.pedal_rails import PEDAL_RULE, rail_checks
from sparwright.margins.tubes import rupture
from sparwright.parts.control_bodies import number as part_of
from sparwright.parts.part import Part
from sparwright.strength.allowable import Allowable
from sparwright.strength.members import tube
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered

OFF = 0.25  # of the bar's length: the foot off its middle (common practice, no source)


def pedal_checks(
    model: Model, answer: Answered, motions: Sequence[Motion], strengths: Strengths, parts: Mapping[str, Part]
) -> Iterator[Check]:
    """Bar, upright, hub, shaft, bearings, rails and tabs of the rudder pedals. parts: of the model, by number."""
    c = model.controls
    m = next((x for x in motions if "pedal-R" in x.run.levers), None)
    if c is None or m is None or model.seat is None or model.seat.pedals is None:
        return
    cases = pressed(model, c, m)
    hard = max(cases, key=lambda p: p.foot)
    yield from _tubes(model, answer, c, hard, strengths)
    loads = [(p, on_rails(c, p)) for p in cases]
    yield _shaft(model, answer, c, loads, strengths)
    yield _hub_bears(model, answer, c, cases, strengths)
    yield from rail_checks(model, answer, c, [(p, right) for p, (_, right) in loads], strengths, parts)


# ------------------------------------------------------------------ tubes


def _metal(t: RoundTube, strengths: Strengths, welded: bool) -> tuple[float, float, list[Allowable]]:
    """(F_b, F_s of a tube, Pa, the strengths they lean on)."""
    names = ("youngs", "yield_compression", "shear", "tension", "tension_near_weld")
    found = [strengths.material(t.material, n, t.wall) for n in names]
    E, crush, shear, pull, near = (a.value for a in found)
    left = near / pull if welded else 1.0
    F_s = float(tube.torsion_stress(t.outside, t.wall, E, crush, shear))
    return rupture(t, E, crush) * left, F_s * left, found if welded else found[:3]


def _tube(
    answer: Answered,
    p: Pressed,
    id: str,
    title: str,
    part: str,
    t: RoundTube,
    moment: float,
    torque: float,
    strengths: Strengths,
    welded: bool,
    formula: str,
    caveat: str = "",
) -> Check:
    F_b, F_s, found = _metal(t, strengths, welded)
    R_b = float(tube.bending_use(moment, t.outside, t.wall, F_b))
    R_s = float(tube.torsion_use(torque, t.outside, t.wall, F_s))
    use = float(tube.together(0.0, R_b, R_s))
    size = (("D", t.outside, "m"), ("t", t.wall, "m"))
    steps = (
        Step("foot", p.words, (), p.foot, "N", RULE),
        Step("moment and torque", formula, (("M", moment, "N m"), ("T", torque, "N m")), moment, "N m", "statics"),
        Step("bent", "R_b = M/(Z F_b)", (*size, ("F_b", F_b, "Pa")), R_b, "1", "aisc-360 F8 (memory)"),
        Step("twisted", "R_s = T D/(2 J F_s)", (("F_s", F_s, "Pa"),), R_s, "1", "aisc-360 H3.1 (memory)"),
        *verdict(use, "(R_b + sqrt(R_b^2 + 4 R_s^2))/2", (("R_b", R_b, "1"), ("R_s", R_s, "1"))),
    )
    said = "; ".join(x for x in ("strength beside the weld" if welded else "", caveat) if x)
    return told_of(answer, p.motion, id, title, use, part, [*found, *p.doubts], steps, said, PEDAL_RULE)


def _tubes(model: Model, answer: Answered, c: Controls, p: Pressed, strengths: Strengths) -> Iterator[Check]:
    t, b, F, r, hub = c.pedals.tube, c.pedals.foot, p.foot, p.arm, c.pedals.hub
    names = [part_of(model, k, hand="R") for k in ("PEDAL-BAR", "PEDAL-UPRIGHT", "PEDAL-HUB")]
    yield _tube(
        answer,
        p,
        "pedal.bar",
        "foot bar of a pedal at its weld",
        names[0],
        t,
        F * OFF * b,
        0.0,
        strengths,
        True,
        "M = F b/4",
    )
    yield _tube(
        answer,
        p,
        "pedal.upright",
        "upright of a pedal at its weld on the hub",
        names[1],
        t,
        F * (r - hub.outside / 2),
        F * OFF * b,
        strengths,
        True,
        "M = F (r - D/2), T = F b/4",
    )
    yield _tube(
        answer,
        p,
        "pedal.hub",
        "hub of a pedal twisted from upright to arm",
        names[2],
        hub,
        0.0,
        F * r,
        strengths,
        True,
        "T = F r",
        "what presses it on the shaft is not in it",
    )


def _shaft(
    model: Model,
    answer: Answered,
    c: Controls,
    loads: Sequence[tuple[Pressed, tuple[np.ndarray, np.ndarray]]],
    strengths: Strengths,
) -> Check:
    p, (M, _) = max(loads, key=lambda x: float(x[1][0].max()))
    return _tube(
        answer,
        p,
        "pedal.shaft",
        "shaft of the pedals bent between its rails",
        part_of(model, "PEDAL-SHAFT"),
        c.pedals.shaft,
        float(M.max()),
        0.0,
        strengths,
        False,
        "M at a hub's end, rails on its ends",
        "hubs stiffen it and are left out",
    )


# ------------------------------------------------------------------ bearings


def _hub_bears(model: Model, answer: Answered, c: Controls, cases: Sequence[Pressed], strengths: Strengths) -> Check:
    factor, first = special("cable-joint", "fitting")
    p = max(cases, key=lambda x: float(np.linalg.norm(x.reactions, axis=2).max()))
    P, D, w = float(np.linalg.norm(p.reactions, axis=2).max()), c.pedals.shaft.outside, c.pedals.width / 2
    found = [strengths.material(t.material, "bearing", t.wall) for t in (c.pedals.hub, c.pedals.shaft)]
    F = float(min(a.value for a in found))
    use = factor * P / (D * w * F)
    steps = (
        first,
        Step("at a hub's end", p.words, (), P, "N", "statics"),
        *verdict(
            use, "2 P/(D (w/2) F_br)", (("D", D, "m"), ("w/2", w, "m"), ("F_br", F, "Pa")), source="cfr-23-2014 23.693"
        ),
    )
    return told_of(
        answer,
        p.motion,
        "pedal.bearing",
        "hubs of the pedals on their shaft",
        use,
        part_of(model, "PEDAL-HUB", hand="R"),
        [*found, *p.doubts],
        steps,
        rule=PEDAL_RULE,
    )
