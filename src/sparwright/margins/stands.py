"""Whether the frame as a whole stands: how far every case is from the load at which it buckles.

    f (K_g(N)) v = -K v: the case's axial forces times f; at ultimate load f must be 1 or more

Of all cases the factor is estimated; those with the least are worked out, and every one that would not settle in second
order; their axial forces are those of first order. A case that did not settle, or whose factor is not found though it
presses, keeps the check from passing. A single tube's own buckling is its column check. Source:
maths/frame/buckling.py.
"""

from __future__ import annotations

import math

import numpy as np

from sparwright.base.check import Check, Step, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.maths.frame.buckling import buckling, ranked
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare
from sparwright.structure.answered import RIGGED, ULTIMATE, Answered, by_name

SOURCE = "timoshenko-gere ch. 2"
LOOKED_AT = 6  # cases with the least estimates
TOLD = 3  # cases named in a sentence
RULE = "cfr-23-2014 23.305(b)"
METHOD = "linear buckling of the frame, first-order axial forces"
TITLE = "the whole frame's buckling load over ultimate load"


def stands_check(answer: Answered) -> Check:
    """The least buckling factor of all cases, as rigged. Unknown where no case is worked out, or one is left open."""
    known = [i for i, x in enumerate(answer.laid) if not x.why]
    if not known:
        return _unknown("no case is worked out")
    prepared = prepare(answer.skeleton.frame)
    loads = ULTIMATE * np.array([answer.laid[i].loads / _over(answer, i) for i in known])
    plain = solve(prepared, loads, second_order=False)
    lost = [k for k, i in enumerate(known) if not answer.ultimate[0].good[i]]
    least = np.argsort(ranked(prepared, plain.pull))[:LOOKED_AT]  # what is not known stands last
    found = {k: buckling(prepared, plain, k) for k in dict.fromkeys([*lost, *(int(k) for k in least)])}
    finite = {k: f for k, f in found.items() if math.isfinite(f[0])}
    if not finite:
        why = next((w for w in plain.why if w), "no factor was found")
        return _falls(by_name(why, answer.skeleton)) if "mechanism" in why else _unknown(why)
    worst = min(finite, key=lambda k: finite[k][0])
    factor, shape = finite[worst]
    case = answer.laid[known[worst]].case
    keys = [answer.laid[i].case.key for i in known]
    doubt = _doubt(keys, lost, [k for k, pull in enumerate(plain.pull) if _open(pull, k in finite, k in found)])
    steps = tuple(Step(f"case {keys[k]}", "f K_g v = -K v", (), float(f), "1", SOURCE) for k, (f, _) in finite.items())
    moves = answer.skeleton.names[int(np.argmax(np.linalg.norm(shape[:, :3], axis=1)))]
    said = f"moves most at {moves}"
    fails = factor < 1
    return check("strength.frame.buckling", TITLE, Band.exact(factor), 1.0, ">=", "1", case=f"{case.title}, {RIGGED}",
                 rule=RULE, method=METHOD, caveat="; ".join(x for x in (said, doubt if fails else "") if x),
                 outside_range="" if fails else doubt, steps=steps)  # fmt: skip


def _open(pull: np.ndarray, finite: bool, looked_at: bool) -> bool:
    """Whether a case's factor is wanted and not known: its forces are not, or it presses and none was found."""
    return not np.isfinite(pull).all() or (looked_at and not finite and bool(np.any(pull < 0)))


def _doubt(keys: list[str], lost: list[int], open_: list[int]) -> str:
    """Why the least factor may not pass; empty where nothing is left open."""
    said = []
    for those, words in ((lost, "did not settle in second order"), (open_, "factor not found")):
        if those:
            more = f" and {len(those) - TOLD} more" if len(those) > TOLD else ""
            said.append(f"{words}: {', '.join(keys[k] for k in those[:TOLD])}{more}")
    return "; ".join(said)


def _unknown(why: str) -> Check:
    return check("strength.frame.buckling", TITLE, UNKNOWN, 1.0, ">=", "1", rule=RULE, method=METHOD, outside_range=why)


def _falls(why: str) -> Check:
    return check("strength.frame.buckling", TITLE, Band.exact(0.0), 1.0, ">=", "1", rule=RULE, method=METHOD,
                 caveat=f"does not stand: {why}")  # fmt: skip


def _over(answer: Answered, i: int) -> float:
    return ULTIMATE if answer.laid[i].case.level == "ultimate" else 1.0
