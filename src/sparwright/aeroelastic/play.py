"""What play in the controls does to flutter: the speeds with every circuit less stiff, down to free.

A surface that swings past its play is held by a part of its circuit's stiffness, from nought within the play to all of
it far beyond (controls/play.py `left`), so its speed of flutter lies among those of circuits between stiff and free; a
movement that grows only within the play is bounded by it and shakes without end. All circuits are eased together, at
the greatest mass, up to 1.2 VD, no verdict: how stiff a loose circuit acts hangs on how far it swings.
14 CFR 23.629(a)(1) (read) wants tolerances of the stiffness of the controls, and gives none.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.aeroelastic.swept import Swept
from sparwright.aeroelastic.work import DAMPING, TOLD, Eased, Worked
from sparwright.base.check import Result, Step

RULE = "cfr-23-2014 23.629(a)(1)"
METHOD = "circuits eased; strips and p-k as flutter itself"


def played(w: Worked) -> Iterator[Result]:
    """The least speed of all parts, without and with structural damping."""
    if not w.eased:
        return
    still = () if np.isfinite(w.circuit).all() else ("the ailerons do not turn here",)
    why = "; ".join((*w.notes, *still))
    for word, said, damped in (("play", "no structural damping", False),
                               ("play.damped", f"structural damping of {DAMPING:g}", True)):  # fmt: skip
        speeds = [_of(e, damped) for e in w.eased]
        first = min(speeds)
        none = not math.isfinite(first)
        value = TOLD * w.dive if none else first
        none_said = f"none up to {TOLD:g} VD, which is what stands here" if none else ""
        yield Result(
            f"aeroelastic.flutter.{word}",
            f"least flutter speed with loose circuits, from a tenth as stiff to free, {said}",
            value, "m/s", source=METHOD, steps=tuple(_steps(w, damped, value)),
            caveat="; ".join(x for x in (none_said, why, _meant(value, w.dive)) if x),
        )  # fmt: skip


def _of(e: Eased, damped: bool) -> float:
    return float((e.damped if damped else e.swept).flutter)


def _steps(w: Worked, damped: bool, value: float) -> Iterator[Step]:
    for e in w.eased:
        s = e.damped if damped else e.swept
        if math.isfinite(s.flutter):
            given = (("part", e.part, "1"), ("w", s.frequency, "rad/s"), ("grows by at most", _growth(s), "1"))
            yield Step(f"a part of {e.part:g} of the stiffness", "Re p = 0", given, float(s.flutter), "m/s")
    yield Step("least of them", "min", (("VD", w.dive, "m/s"),), value, "m/s", METHOD)


def _growth(s: Swept) -> float:
    """The most that what flutters grows by, over its frequency: damping that would hold it, twice that by d."""
    return float(np.nanmax(s.branches[s.which].growth))


def _meant(value: float, dive: float) -> str:
    below = f"below VD, {dive:.1f} m/s: keep circuits taut and joints tight" if value < dive else ""
    return "; ".join(x for x in (below, f"no verdict; {RULE} asks for tolerances and gives no number") if x)
