"""Members of the control system under the pilot's greatest force: cables, their pins and pulleys, rods, stick, tube.

    P = 1.5 F k          F at hand or foot (data/controls.toml), k pull for each newton there, most through the travel
    cable in a loop      T = max(T_0 + P/2, P)     T_0 rigged: the other side has gone slack at 2 T_0
    rod                  P pressed as a column from pin to pin, c 1
    stick                M = 1.5 F r at its pivot, r from hand to pivot;   torque tube T = 1.5 F_side r
    pulley's bolt        2 P in double shear: as if its cable turned right back, the safe side

The surface is taken as held, so that one side of a pair has all of the force. Friction is left out. Arms and eyes are
in control_arms.py, what they turn on in control_pivots.py, brackets in control_brackets.py, rod ends in
control_rods.py, pedals in pedals.py. Sources: controls/motion.py (virtual work); strength/members.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.controls.motion import Motion, pull
from sparwright.data.columns import curves
from sparwright.data.controls import RULES
from sparwright.data.factors import table
from sparwright.family.controls import ControlCable, Rod
from sparwright.family.model import Model
from sparwright.margins.braces import Strengths
from sparwright.margins.control_told import RULE, told_of
from sparwright.margins.taken import USED, Taken
from sparwright.margins.tubes import rupture
from sparwright.parts.control_bodies import number
from sparwright.parts.control_runs import Link
from sparwright.strength.allow import cable_allowable
from sparwright.strength.joints import pin
from sparwright.strength.members import cable, column, tube
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import ULTIMATE, Answered

END = "sleeve"  # of a control cable: a sleeve pressed on round a thimble


def control_checks(model: Model, answer: Answered, motions: Sequence[Motion], strengths: Strengths,
                   taken: Taken = USED) -> Iterator[Check]:  # fmt: skip
    """Every cable and rod of the right side, then stick and torque tube."""
    seen: set[str] = set()
    for m in motions:
        for link in m.run.links:
            if link.hand != "L" and link.key not in seen:
                seen.add(link.key)
                yield from link_checks(model, answer, m, link, strengths, taken)
    yield from _stick(model, answer, motions, strengths)


def link_checks(model: Model, answer: Answered, m: Motion, link: Link, strengths: Strengths, taken: Taken = USED
                ) -> Iterator[Check]:  # fmt: skip
    """A cable with its pins and its pulleys' bolts, or a rod."""
    made = _cable if isinstance(link.made, ControlCable) else _rod
    yield from made(model, answer, m, link, strengths, taken)


def through(motion: Motion, link: Link) -> float:
    """Greatest pull or push of a link for each newton at the hand; NaN where any stance's is not known."""
    return float(np.max(np.abs([pull(motion, link, s) for s in motion.stances])))


def _force(motion: Motion, link: Link, taken: Taken) -> tuple[float, tuple[Step, ...]]:
    F, k = RULES[f"{motion.force}_force"].value, through(motion, link)
    P = ULTIMATE * F * k * taken.control_friction * (taken.control_side if link.hand else 1.0)
    return P, (
        Step("pull for each newton at the hand, most through the travel", "r/(dl/ds)", (), k, "1", "virtual work"),
        Step("at ultimate load", "P = 1.5 F k", (("F", F, "N"), ("k", k, "1")), P, "N", RULE),
    )


def _cable(model: Model, answer: Answered, m: Motion, link: Link, strengths: Strengths, taken: Taken
           ) -> Iterator[Check]:  # fmt: skip
    made, controls = link.made, model.controls
    assert isinstance(made, ControlCable) and controls is not None
    P, lines = _force(m, link, taken)
    T = max(made.tension + P / 2, P) if m.run.loop else P + made.tension
    strong, end = cable_allowable(model, made.construction, made.diameter, made.metal), table("cable_end")[END]
    whole = Step("in the cable", "max(T_0 + P/2, P)" if m.run.loop else "P + T_0", (("T_0", made.tension, "N"),
                 ("P", P, "N")), T, "N", "statics")  # fmt: skip
    name, part = link.name, number(model, "CABLE-FIRST", link.name, link.hand)
    words = name.replace("_", " ")
    use = float(cable.use(T, strong.value, end.used))
    yield told_of(answer, m, f"cable.{name}", f"control cable {words}", use, part, [strong],
                (*lines, whole, *cable.working(T, strong.value, end.used)), f"ends: {end.source}")  # fmt: skip
    key = controls.cable_end.pin
    yield _sheared(answer, m, f"cable_pin.{name}", f"pins {key} of the control cable {words}", key, T, (*lines, whole),
                   part, strengths)  # fmt: skip
    bolts = {p.bolt for p in controls.pulleys if p.name in link.names}
    for bolt in sorted(bolts):
        steps = (*lines, whole, Step("on a pulley, at most", "2 T", (("T", T, "N"),), 2 * T, "N", "statics"))
        yield _sheared(answer, m, f"pulley.{name}.{bolt}", f"bolts {bolt} of the pulleys of {words}", bolt, 2 * T,
                       steps, part, strengths)  # fmt: skip


def _sheared(answer: Answered, m: Motion, id: str, title: str, key: str, load: float, lines: tuple[Step, ...],
             part: str, strengths: Strengths) -> Check:  # fmt: skip
    sheared = strengths.fastener(key, "shear")
    use = float(pin.shear_use(load, sheared.value, 2))
    steps = verdict(use, "P/(2 P_s)", (("P", load, "N"), ("P_s", sheared.value, "N")), source=str(sheared.source))
    return told_of(answer, m, id, title, use, part, [sheared], (*lines, *steps), "double shear; bending is not in it")


def _rod(model: Model, answer: Answered, m: Motion, link: Link, strengths: Strengths, taken: Taken
         ) -> Iterator[Check]:  # fmt: skip
    made = link.made
    assert isinstance(made, Rod)
    P, lines = _force(m, link, taken)
    t, long = made.tube, float(np.linalg.norm(link.ends[1] - link.ends[0]))
    youngs, crush = (strengths.material(t.material, n, t.wall) for n in ("youngs", "yield_compression"))
    given = (long, t.outside, t.wall, 1.0, curves(t.material), youngs.value, crush.value)
    words = link.name.replace("_", " ")
    yield told_of(answer, m, f"rod.{link.name}", f"control rod {words} as a column", float(column.use(P, *given)),
                number(model, "ROD", link.name, link.hand), [youngs, crush], (*lines, *column.working(P, *given)),
                column.caveat(float(column.slenderness(long, t.outside, t.wall, 1.0))))  # fmt: skip


def _stick(model: Model, answer: Answered, motions: Sequence[Motion], strengths: Strengths) -> Iterator[Check]:
    """Stick bent fore and aft, torque tube twisted by the side force."""
    c = model.controls
    to_the_side = next((m for m in motions if m.force == "aileron"), None)  # several wings have one torque tube
    for m in motions if c else ():
        assert c is not None
        F = RULES[f"{m.force}_force"].value
        given = (("F", F, "N"), ("r", m.arm, "m"))
        if m.name == "elevator":
            t, M = c.stick.tube, ULTIMATE * F * m.arm
            E, crush = (strengths.material(t.material, n, t.wall) for n in ("youngs", "yield_compression"))
            F_b = rupture(t, E.value, crush.value)
            use = float(tube.bending_use(M, t.outside, t.wall, F_b))
            steps = (Step("moment at the pivot", "M = 1.5 F r", given, M, "N m", "statics"),
                     *verdict(use, "M D/(2 I F_b)", (("M", M, "N m"), ("F_b", F_b, "Pa"))))  # fmt: skip
            yield told_of(answer, m, "stick", "stick bent fore and aft", use, number(model, "STICK"), [E, crush], steps,
                        "holes and welds by the pivot are not in it")  # fmt: skip
        elif m is to_the_side:
            t, T = c.torque_tube.tube, ULTIMATE * F * m.arm
            E, crush, shear = (strengths.material(t.material, n, t.wall)
                               for n in ("youngs", "yield_compression", "shear"))  # fmt: skip
            F_s = float(tube.torsion_stress(t.outside, t.wall, E.value, crush.value, shear.value))
            use = float(tube.torsion_use(T, t.outside, t.wall, F_s))
            steps = (Step("torque", "T = 1.5 F r", given, T, "N m", "statics"),
                     *verdict(use, "T/(2 I/D F_s)", (("T", T, "N m"), ("F_s", F_s, "Pa"))))  # fmt: skip
            yield told_of(answer, m, "torque_tube", "torque tube twisted by the stick to the side", use,
                        number(model, "TORQUE-TUBE"), [E, crush, shear], steps,
                        "its bending by the stick's fork is not in it")  # fmt: skip
