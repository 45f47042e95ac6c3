"""Rudder pedals: foot bar, upright, hub, the shaft both turn on, its rails, and the tabs these are bolted to.

    F        1.5 times the pilot's greatest force; both at once where the code asks for it (CS-VLA 397(c), recalled;
             14 CFR 23.397 has nothing of it, read), each then with its own cable
    bar      M = F b/4: the foot a quarter of the bar off its middle (common practice, no source)
    upright  M = F (r - D/2),  T = F b/4, at its weld on the hub
    hub      T = F r from the upright to the cable's arm
    shaft    each hub presses it at its two ends, as foot and cable ask; it lies in two rails; M from there
    bearing  2 P/(D (w/2) F_br) at a hub's end, 2 P/(D t F_br) in a rail (23.693), of the softer metal
    rail     M = P_up a b/l + P_along/((h - D) t), the hole where the setting is worst
    tab      its bolt in one plane; its plate as a bracket's (control_brackets.py): one tab takes all that is along

With the fitting factor but for the tubes. The cable's arm is one of control_arms.py. Sources: statics; strength.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.controls.motion import Motion
from sparwright.data.loader import fasteners
from sparwright.family.controls import Controls
from sparwright.family.model import Model
from sparwright.family.stock import RoundTube
from sparwright.loads.code import code_of
from sparwright.margins.braces import Strengths
from sparwright.margins.control_brackets import bracket_checks, standing
from sparwright.margins.control_feet import Bracket
from sparwright.margins.control_forces import acting, most
from sparwright.margins.control_told import RULE, special, told_of
from sparwright.margins.tubes import rupture
from sparwright.parts.control_bodies import footing, frame_tube, meets
from sparwright.parts.control_bodies import number as part_of
from sparwright.parts.control_bolts import STAND
from sparwright.parts.control_hand import APART, WASHER
from sparwright.parts.part import Part, Plate
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.joints import pin
from sparwright.strength.members import tube
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import ULTIMATE, Answered

OFF = 0.25  # of the bar's length: the foot off its middle (common practice, no source)
PEDAL_RULE = f"{RULE}; 23.625, 23.693"


@dataclass(frozen=True)
class Pressed:
    """A pedal under the foot, at ultimate load, in n stances."""

    motion: Motion
    doubts: tuple[Allowable, ...]
    words: str
    both: bool  # whether the other one is pressed as well
    foot: float = number("N", "F")
    arm: float = number("m", "r, from the shaft to the foot")
    reactions: np.ndarray = number("N", "(n, 2, 3) on the shaft at the hub's inner and outer end")


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
    yield from _rails(model, answer, c, loads, strengths, parts)


def pressed(model: Model, c: Controls, m: Motion) -> tuple[Pressed, ...]:
    """One pedal, and both where the code asks for it."""
    assert model.seat is not None and model.seat.pedals is not None
    lever, F = m.run.levers["pedal-R"], most(m)
    foot = np.array(model.seat.pedals.place)
    arm = m.arm
    code = code_of(model)
    found: list[tuple[str, float, bool, tuple[Allowable, ...]]] = [
        ("the pilot's greatest force on one pedal", F, False, ())
    ]
    if code.has("both_pedals"):
        why = code.recalled("both_pedals")
        doubts = (not_known("both pedals", "the code", why),) if why else ()
        found.append(("both pedals pressed at once", ULTIMATE * code["both_pedals"], True, doubts))
    cable = acting(m, "pedal-R")
    way = np.cross(lever.axis, foot - lever.pivot)  # pedal forward
    way = way / np.linalg.norm(way)
    pulls = np.max([np.abs(a.force).max(axis=1) for a in cable], axis=0)
    rows = pulls >= np.median(pulls)  # the stances and ways in which the cable pulls against the foot
    made = []
    for words, size, both, said in found:
        forces = [(size * np.tile(way, (int(rows.sum()), 1)), float(foot[1]))]
        forces += [(size / F * a.force[rows], float(a.hole.place[1])) for a in cable]
        low, high = c.pedals.pivot[1] - c.pedals.width / 2, c.pedals.pivot[1] + c.pedals.width / 2
        total = sum(f for f, _ in forces)
        turning = sum(f * y for f, y in forces)
        outer = (turning - low * total) / (high - low)
        made.append(Pressed(m, said, words, both, size, arm, np.stack([total - outer, outer], axis=1)))
    return tuple(made)


def on_rails(c: Controls, p: Pressed) -> tuple[np.ndarray, np.ndarray]:
    """((n,) N m most that bends the shaft, (n, 3) N on the right rail): a beam in two rails under both hubs' ends."""
    half = c.pedals.width / 2
    y = abs(c.pedals.pivot[1])
    rail = y + half + c.pedals.rail.thickness / 2 + WASHER
    at = np.array([y - half, y + half, -(y - half), -(y + half)])
    load = np.concatenate([p.reactions, p.reactions if p.both else np.zeros_like(p.reactions)], axis=1)
    right = np.einsum("nkj,k->nj", load, (at + rail) / (2 * rail))
    bent = []
    for place in at:
        beyond = at > place + 1e-9
        M = right * (rail - place) - np.einsum("nkj,k->nj", load, np.where(beyond, at - place, 0.0))
        bent.append(np.linalg.norm(M, axis=1))
    return np.max(bent, axis=0), right


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


# ------------------------------------------------------------------ bearings and rails


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


def _rails(
    model: Model,
    answer: Answered,
    c: Controls,
    loads: Sequence[tuple[Pressed, tuple[np.ndarray, np.ndarray]]],
    strengths: Strengths,
    parts: Mapping[str, Part],
) -> Iterator[Check]:
    factor, first = special("fitting")
    p, (_, on) = max(loads, key=lambda x: float(np.linalg.norm(x[1][1], axis=1).max()))
    part = parts[part_of(model, "PEDAL-RAIL", hand="R")]
    i = int(np.argmax(np.linalg.norm(on, axis=1)))
    tabs = _tabs(model, c, part)
    along = (tabs[1] - tabs[0]) / np.linalg.norm(tabs[1] - tabs[0])
    up = np.cross(along, (0.0, 1.0, 0.0))
    P_a, P_u, long = abs(float(on[i] @ along)), abs(float(on[i] @ up)), float(np.linalg.norm(tabs[1] - tabs[0]))
    pivot = np.array(c.pedals.pivot)
    a = np.array([float((pivot - tabs[0]) @ along) + k * APART for k in range(c.pedals.settings)])
    lever = np.clip(np.maximum(np.abs(a * (long - a)) / long, 0.0), 0.0, None)
    share = float(np.maximum(np.abs(a) / long, np.abs(long - a) / long).max())
    yield _rail(answer, c, p, part, (P_a, P_u, float(lever.max())), strengths, (factor, first))
    yield _rail_bears(answer, c, p, part, float(np.linalg.norm(on[i])), strengths)
    force = P_a * along + share * P_u * up
    yield _tab_bolt(answer, c, p, part, float(np.linalg.norm(force)), strengths, (factor, first))
    made = []
    for name, place in zip(c.pedals.on, tabs, strict=True):
        tab = parts[part_of(model, "PEDAL-TAB", name, "R")]
        stand = footing(model, parts, name, "R")
        both = np.array([sign * P_a * along + other * share * P_u * up for sign in (1, -1) for other in (1, -1)])
        made.append(standing(model, stand, tab, place, STAND, both, place))
    yield from bracket_checks(
        model,
        answer,
        Bracket("pedal_tab", "tabs of the pedals' rails", p.motion, True, tuple(made)),
        strengths,
        p.doubts,
    )


def _tabs(model: Model, c: Controls, rail: Part) -> list[np.ndarray]:
    """(3,) where each tab's bolt goes through the right rail, front and rear."""
    found = []
    for on in c.pedals.on:
        run = frame_tube(model, on, "R")
        at, _ = meets(model, run, rail.poses[0], (0.0, 0.0))
        found.append(np.array(rail.poses[0].place(at[0], at[1] + (run.tube.outside + c.pedals.depth) / 2)))
    return found


def _rail(
    answer: Answered,
    c: Controls,
    p: Pressed,
    part: Part,
    load: tuple[float, float, float],
    strengths: Strengths,
    factors: tuple[float, Step],
) -> Check:
    assert isinstance(part.shape, Plate)
    factor, first = factors
    P_a, P_u, lever = load
    sheet, h, D = c.pedals.rail, c.pedals.depth, c.pedals.shaft.outside
    found = [strengths.material(sheet.material, "tension", sheet.thickness)]
    F, M = found[0].value, factor * P_u * lever
    inertia = sheet.thickness * (h**3 - D**3) / 12
    by = (factor * P_a / ((h - D) * sheet.thickness * F), M * h / 2 / (inertia * F))
    steps = (
        first,
        Step(
            "pulled along beside the hole",
            "P_a/((h - D) t F)",
            (("P_a", factor * P_a, "N"), ("h", h, "m"), ("D", D, "m"), ("t", sheet.thickness, "m"), ("F", F, "Pa")),
            by[0],
            "1",
            "statics",
        ),
        Step(
            "bent between its tabs",
            "P_u (a b/l) (h/2)/(I F)",
            (("P_u", factor * P_u, "N"), ("a b/l", lever, "m"), ("I", inertia, "m4")),
            by[1],
            "1",
            "statics",
        ),
        *verdict(sum(by), "both", (("pulled", by[0], "1"), ("bent", by[1], "1"))),
    )
    return told_of(
        answer,
        p.motion,
        "pedal.rail",
        "rails of the pedals",
        sum(by),
        part.number,
        [*found, *p.doubts],
        steps,
        "",
        PEDAL_RULE,
    )


def _rail_bears(answer: Answered, c: Controls, p: Pressed, part: Part, P: float, strengths: Strengths) -> Check:
    factor, first = special("cable-joint", "fitting")
    sheet, D = c.pedals.rail, c.pedals.shaft.outside
    bears = strengths.material(sheet.material, "bearing", sheet.thickness)
    use = factor * P / (D * sheet.thickness * bears.value)
    given = (("P", P, "N"), ("D", D, "m"), ("t", sheet.thickness, "m"), ("F_br", bears.value, "Pa"))
    steps = (first, *verdict(use, "2 P/(D t F_br)", given, source="cfr-23-2014 23.693"))
    return told_of(
        answer,
        p.motion,
        "pedal.rail_bearing",
        "shaft of the pedals in its rails",
        use,
        part.number,
        [bears, *p.doubts],
        steps,
        rule=PEDAL_RULE,
    )


def _tab_bolt(
    answer: Answered, c: Controls, p: Pressed, part: Part, P: float, strengths: Strengths, factors: tuple[float, Step]
) -> Check:
    factor, first = factors
    d = fasteners()[STAND].diameter
    sheared = strengths.fastener(STAND, "shear")
    bears = [strengths.material(s.material, "bearing", s.thickness) for s in (c.pedals.rail, c.pedals.arm)]
    by = [
        float(pin.shear_use(factor * P, sheared.value)),
        *(factor * P / (d * s.thickness * b.value) for s, b in zip((c.pedals.rail, c.pedals.arm), bears, strict=True)),
    ]
    use = float(np.max(by))
    given = tuple(zip(("bolt", "rail", "tab"), by, ("1",) * 3, strict=True))
    steps = (
        first,
        Step("on one tab: all along the rail, its share across it", "hypot", (), P, "N", "statics"),
        Step("bolt in one plane", "P/P_s", (("P_s", sheared.value, "N"),), by[0], "1", str(sheared.source)),
        Step("bearing in rail and tab, the worse", "P/(d t F_br)", (("d", d, "m"),), max(by[1:]), "1", "mil-hdbk-5"),
        *verdict(use, "the worst of them", given),
    )
    return told_of(
        answer,
        p.motion,
        "pedal.tab_bolt",
        f"bolts {STAND} of the pedals' rails",
        use,
        part.number,
        [sheared, *bears, *p.doubts],
        steps,
        rule=PEDAL_RULE,
    )
