"""The two rails that the pedals' shaft lies in, and the tabs they are bolted to.

    rail     in its plane    M = P_up a b/l, at a setting ahead of its front tab P_up c;  P_along/((h - D) t F) beside
                             the hole, or pressed as a strip, P_along/(h t F_c), where that is more
             aside           M_o = P_aside a b/l + P_along e, e from its middle to its tab's; 6 M_o/((h - D) t^2 F),
                             grown by 1/(1 - P_along/P_E) as what is pressed bows
             strip           from tab to tab as if all of it were pressed, ends free to turn; from a setting ahead of
                             the front tab to the rear one as an overhanging bar (members/column.overhung)
    shaft    2 P/(D t F_br) in a rail (23.693)
    tab      its bolt in one plane; its plate as a bracket's (control_brackets.py)

One tab takes all that is along, whichever way, because its bolts have play in their holes; a setting's load across and
aside is shared as on a beam. The greatest of each is taken as if all lay at one place, in the worst setting. The shaft
does not hold the rails upright nor hinder them from bowing together. With the fitting factor. Sources: statics;
joints/plate; timoshenko-gere (memory, high).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.data.loader import fasteners
from sparwright.family.controls import Controls
from sparwright.family.model import Model
from sparwright.margins.braces import Strengths
from sparwright.margins.control_brackets import bracket_checks, standing
from sparwright.margins.control_feet import Bracket
from sparwright.margins.control_told import RULE, special, told_of
from sparwright.margins.pedal_forces import Pressed
from sparwright.parts.control_bodies import footing, frame_tube, meets
from sparwright.parts.control_bodies import number as part_of
from sparwright.parts.control_bolts import STAND
from sparwright.parts.control_hand import APART
from sparwright.parts.part import Part
from sparwright.strength.joints import pin, plate
from sparwright.strength.members.column import overhung
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered

PEDAL_RULE = f"{RULE}; 23.625, 23.693"
NAMES = ("tension", "yield_compression", "youngs")


@dataclass(frozen=True)
class Rail:
    """The right rail between its tabs."""

    c: Controls
    part: Part
    tabs: tuple[np.ndarray, np.ndarray] = number("m", "(3,) where each tab's bolt goes through it, front and rear")

    @property
    def long(self) -> float:
        """l, from bolt to bolt, m."""
        return float(np.linalg.norm(self.tabs[1] - self.tabs[0]))

    @property
    def axes(self) -> np.ndarray:
        """(3, 3) along it, up across it, aside."""
        along = (self.tabs[1] - self.tabs[0]) / self.long
        aside = np.array([0.0, 1.0, 0.0])
        return np.array([along, np.cross(along, aside), aside])

    @property
    def settings(self) -> np.ndarray:
        """(s,) m from the front tab's bolt to each hole for the shaft."""
        first = float((np.array(self.c.pedals.pivot) - self.tabs[0]) @ self.axes[0])
        return first + np.arange(self.c.pedals.settings) * APART

    @property
    def levers(self) -> np.ndarray:
        """(s,) m: bending by each N across it there: a b/l between its tabs, beyond one how far."""
        a, l = self.settings, self.long
        return np.where((a >= 0) & (a <= l), a * (l - a) / l, np.maximum(-a, a - l))

    @property
    def free(self) -> np.ndarray:
        """(s,) m: the strip that what is along presses, as long as a bar pinned at both ends that buckles alike."""
        beyond = np.maximum(np.maximum(-self.settings, self.settings - self.long), 0.0)
        return np.array([overhung(self.long, float(b)) for b in beyond])

    @property
    def share(self) -> float:
        """Greatest part of what is across that one tab bears."""
        a, l = self.settings, self.long
        return float((np.maximum(np.abs(a), np.abs(l - a)) / l).max())

    @property
    def off(self) -> float:
        """e, from its middle to its tabs', m."""
        return (self.c.pedals.rail.thickness + self.c.pedals.arm.thickness) / 2


@dataclass(frozen=True)
class On:
    """What a case puts on the right rail."""

    pressed: Pressed
    force: np.ndarray = number("N", "(n, 3) along it, up across it, aside; without sign")

    @property
    def total(self) -> np.ndarray:
        """(n,) N."""
        return np.asarray(np.linalg.norm(self.force, axis=1))


def rail_checks(
    model: Model,
    answer: Answered,
    c: Controls,
    loads: Sequence[tuple[Pressed, np.ndarray]],
    strengths: Strengths,
    parts: Mapping[str, Part],
) -> Iterator[Check]:
    """Rails, the shaft in them, tabs and their bolts. loads: a case each, (n, 3) N on the right rail."""
    part = parts[part_of(model, "PEDAL-RAIL", hand="R")]
    rail = Rail(c, part, tabs_of(model, c, part))
    cases = [On(p, _in_axes(rail, p, force)) for p, force in loads]
    yield _rail(answer, rail, cases, strengths)
    yield _bears(answer, rail, cases, strengths)
    yield from _tab_checks(model, answer, rail, cases, strengths, parts)


def _in_axes(rail: Rail, p: Pressed, force: np.ndarray) -> np.ndarray:
    found: np.ndarray = np.abs(force @ rail.axes.T)
    found[:, 2] = np.abs(p.aside)
    return found


def tabs_of(model: Model, c: Controls, rail: Part) -> tuple[np.ndarray, np.ndarray]:
    """((3,) m, (3,) m) where each tab's bolt goes through the right rail, front and rear."""
    found = []
    for on in c.pedals.on:
        run = frame_tube(model, on, "R")
        at, _ = meets(model, run, rail.poses[0], (0.0, 0.0))
        found.append(np.array(rail.poses[0].place(at[0], at[1] + (run.tube.outside + c.pedals.depth) / 2)))
    return found[0], found[1]


# ------------------------------------------------------------------ the rail


def _rail(answer: Answered, rail: Rail, cases: Sequence[On], strengths: Strengths) -> Check:
    factor, first = special("fitting")
    sheet, h, D, t = rail.c.pedals.rail, rail.c.pedals.depth, rail.c.pedals.shaft.outside, rail.c.pedals.rail.thickness
    found = [strengths.material(sheet.material, n, t) for n in NAMES]
    F, crush, E = (a.value for a in found)
    rows = []
    for on in cases:
        by = rail_uses(rail, factor * on.force, F, crush, E)
        use = np.maximum(by[0], by[1]) + by[2] + by[3]
        r, s = (int(v) for v in np.unravel_index(int(np.argmax(np.where(np.isnan(use), np.inf, use))), use.shape))
        rows.append((float(use[r, s]), on, factor * on.force[r], s, [float(u[r, s]) for u in by]))
    use_, on, P, s, by_ = max(rows, key=lambda x: (np.isnan(x[0]), x[0]))
    lever, free = float(rail.levers[s]), float(rail.free[s])
    inertia = t * (h**3 - D**3) / 12
    size = (("h", h, "m"), ("D", D, "m"), ("t", t, "m"), ("F", F, "Pa"))
    steps = (
        first,
        Step("in the worst setting, from the front tab", "a", (("l", rail.long, "m"),), float(rail.settings[s]), "m"),
        Step(
            "pulled along beside the hole",
            "P_a/((h - D) t F)",
            (("P_a", float(P[0]), "N"), *size),
            by_[0],
            "1",
            "statics",
        ),
        Step("pressed as a strip", "P_a/(h t F_c)", (("L'", free, "m"),), by_[1], "1", "bruhn; joints/plate.py"),
        Step(
            "bent in its plane",
            "P_u (a b/l) (h/2)/(I F)",
            (("P_u", float(P[1]), "N"), ("a b/l", lever, "m"), ("I", inertia, "m4")),
            by_[2],
            "1",
            "statics",
        ),
        Step(
            "bent aside and bowed",
            "6 (P_s a b/l + P_a e)/((h - D) t^2 F)/(1 - P_a/P_E)",
            (("P_s", float(P[2]), "N"), ("e", rail.off, "m"), ("P_E", _euler(h, t, free, E), "N")),
            by_[3],
            "1",
            "timoshenko-gere",
        ),
        *verdict(
            use_,
            "pulled or pressed, the worse, and both bendings",
            tuple((n, u, "1") for n, u in zip(("pulled", "pressed", "bent", "aside"), by_, strict=True)),
        ),
    )
    return told_of(
        answer,
        on.pressed.motion,
        "pedal.rail",
        "rails of the pedals",
        use_,
        rail.part.number,
        [*found, *on.pressed.doubts],
        steps,
        "the shaft is not counted on to hold them upright",
        PEDAL_RULE,
    )


def rail_uses(rail: Rail, force: np.ndarray, F: float, crush: float, E: float) -> tuple[np.ndarray, ...]:
    """(pulled beside a hole, pressed as a strip, bent in its plane, bent aside), each (n, s) use of its strength.

    force: (n, 3) N along the rail, up across it, aside, with the factor; F in tension, crush in compression, E, Pa.
    What is pressed past P_E is not grown: as a strip it is past its strength already.
    """
    p, t = rail.c.pedals, rail.c.pedals.rail.thickness
    h, D, lever, free = p.depth, p.shaft.outside, rail.levers[None], rail.free[None]
    P_a, P_u, P_s = (v[:, None] for v in np.asarray(force, dtype=float).T)
    part = P_a / _euler(h, t, free, E)
    grown = 1 / np.where(part < 1, 1 - part, 1.0)
    aside = 6 * (P_s * lever + P_a * rail.off) / ((h - D) * t**2 * F) * grown
    pulled = P_a / ((h - D) * t * F) + 0 * lever
    bent = P_u * lever * h / 2 / (t * (h**3 - D**3) / 12 * F)
    return pulled, plate.strip_use(P_a, h, t, free, E, crush), bent, aside


def _euler(h: float, t: float, free: float | np.ndarray, E: float):  # type: ignore[no-untyped-def]
    """P_E = pi^2 E h t^3/(12 L'^2), N."""
    return np.pi**2 * E * h * t**3 / (12 * free**2)


def _bears(answer: Answered, rail: Rail, cases: Sequence[On], strengths: Strengths) -> Check:
    factor, first = special("cable-joint", "fitting")
    on = max(cases, key=lambda x: (bool(np.isnan(x.total).any()), float(x.total.max())))
    P, sheet, D = float(on.total.max()), rail.c.pedals.rail, rail.c.pedals.shaft.outside
    bears = strengths.material(sheet.material, "bearing", sheet.thickness)
    use = factor * P / (D * sheet.thickness * bears.value)
    given = (("P", P, "N"), ("D", D, "m"), ("t", sheet.thickness, "m"), ("F_br", bears.value, "Pa"))
    steps = (first, *verdict(use, "2 P/(D t F_br)", given, source="cfr-23-2014 23.693"))
    return told_of(
        answer,
        on.pressed.motion,
        "pedal.rail_bearing",
        "shaft of the pedals in its rails",
        use,
        rail.part.number,
        [bears, *on.pressed.doubts],
        steps,
        rule=PEDAL_RULE,
    )


# ------------------------------------------------------------------ tabs


def _tab_checks(
    model: Model,
    answer: Answered,
    rail: Rail,
    cases: Sequence[On],
    strengths: Strengths,
    parts: Mapping[str, Part],
) -> Iterator[Check]:
    """The bolt through a tab and the rail, and the tab's plate, foot and tube, in the case that loads them most."""
    shared = [(on.pressed, on.force * np.array([1.0, rail.share, rail.share])) for on in cases]
    p, on_tab = max(shared, key=lambda x: (bool(np.isnan(x[1]).any()), float(np.linalg.norm(x[1], axis=1).max())))
    yield _tab_bolt(answer, rail, p, float(np.linalg.norm(on_tab, axis=1).max()), strengths)
    signs = np.array([(a, b, s) for a in (1, -1) for b in (1, -1) for s in (1, -1)])
    both = (signs[:, None, :] * on_tab[None]).reshape(-1, 3) @ rail.axes
    made = []
    for name, place in zip(rail.c.pedals.on, rail.tabs, strict=True):
        tab, stand = parts[part_of(model, "PEDAL-TAB", name, "R")], footing(model, parts, name, "R")
        made.append(standing(model, stand, tab, place, STAND, both, place))
    bracket = Bracket("pedal_tab", "tabs of the pedals' rails", p.motion, True, tuple(made))
    yield from bracket_checks(model, answer, bracket, strengths, p.doubts)


def _tab_bolt(answer: Answered, rail: Rail, p: Pressed, P: float, strengths: Strengths) -> Check:
    factor, first = special("fitting")
    c, d = rail.c, fasteners()[STAND].diameter
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
        Step("on one tab: all along the rail, its share across and aside", "hypot", (), P, "N", "statics"),
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
        rail.part.number,
        [sheared, *bears, *p.doubts],
        steps,
        rule=PEDAL_RULE,
    )
