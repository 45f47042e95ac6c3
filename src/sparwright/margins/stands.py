"""Whether the frame as a whole stands: how far every case is from the load at which it buckles.

    f (K_g(N)) v = -K v: the case's axial forces times f; at ultimate load f must be 1 or more

The cases that press most are looked at, and every one that would not settle in second order; their axial forces are
then those of first order. A single tube's own buckling is its column check. Source: maths/frame/buckling.py.
"""

from __future__ import annotations

import math

import numpy as np

from sparwright.base.check import Check, Step, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.maths.frame.buckling import buckling
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare
from sparwright.structure.answered import RIGGED, ULTIMATE, Answered, by_name

SOURCE = "timoshenko-gere ch. 2"
LOOKED_AT = 4  # cases that press most
RULE = "cfr-23-2014 23.305(b)"
METHOD = "linear buckling of the frame, first-order axial forces"
TITLE = "the whole frame's buckling load over ultimate load"


def stands_check(answer: Answered) -> Check:
    """The least buckling factor of the cases that press most, as rigged. Unknown where no case is worked out."""
    known = [i for i, x in enumerate(answer.laid) if not x.why]
    if not known:
        return check("strength.frame.buckling", TITLE, UNKNOWN, 1.0, ">=", "1", rule=RULE, method=METHOD,
                     outside_range="no case is worked out")  # fmt: skip
    prepared = prepare(answer.skeleton.frame)
    loads = ULTIMATE * np.array([answer.laid[i].loads / _over(answer, i) for i in known])
    plain = solve(prepared, loads, second_order=False)
    lost = [k for k, i in enumerate(known) if not answer.ultimate[0].good[i]]
    pressed = np.argsort(-_pressed(answer, plain.pull))
    chosen = dict.fromkeys([*lost[:LOOKED_AT], *(int(k) for k in pressed[:LOOKED_AT])])
    found = {k: buckling(prepared, plain, k) for k in chosen}
    finite = {k: f for k, f in found.items() if math.isfinite(f[0])}
    if not finite:
        why = next((w for w in plain.why if w), "no factor was found")
        if "mechanism" in why:
            return check("strength.frame.buckling", TITLE, Band.exact(0.0), 1.0, ">=", "1", rule=RULE, method=METHOD,
                         caveat=f"does not stand: {by_name(why, answer.skeleton)}")  # fmt: skip
        return check(
            "strength.frame.buckling", TITLE, UNKNOWN, 1.0, ">=", "1", rule=RULE, method=METHOD, outside_range=why
        )
    worst = min(finite, key=lambda k: finite[k][0])
    factor, shape = finite[worst]
    case = answer.laid[known[worst]].case
    keys = {k: answer.laid[known[k]].case.key for k in finite}
    steps = tuple(Step(f"case {keys[k]}", "f K_g v = -K v", (), float(f), "1", SOURCE) for k, (f, _) in finite.items())
    moves = answer.skeleton.names[int(np.argmax(np.linalg.norm(shape[:, :3], axis=1)))]
    return check("strength.frame.buckling", TITLE, Band.exact(factor), 1.0, ">=", "1", case=f"{case.title}, {RIGGED}",
                 rule=RULE, method=METHOD,
                 caveat=f"moves most at {moves}", steps=steps)  # fmt: skip


def _over(answer: Answered, i: int) -> float:
    return ULTIMATE if answer.laid[i].case.level == "ultimate" else 1.0


def _pressed(answer: Answered, pull: np.ndarray) -> np.ndarray:
    """(k,) how much each case presses: sum of thrust times length squared."""
    frame = answer.skeleton.frame
    ends = frame.place[frame.ends] + frame.arm
    long = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    return np.asarray(np.nansum(np.maximum(-pull, 0.0) * long**2, axis=1))
