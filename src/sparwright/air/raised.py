"""A company raised angle by angle, each from those before it, until its lift has fallen or a section is unknown.

Where the nose of a strip lets go (air/nose_stall.py), the last angle is the one at which the first strip comes to it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from sparwright.air.strips import Fitted, Keep, PerMetre, Settled, settle

HALVINGS = 5  # of the way from one angle to the next
PAST = 1  # angle looked at past the greatest lift
EDGE = math.radians(0.05)  # short of where its nose lets go by no more than this, a strip is there
CUTS = 8  # of the way to the angle at which a strip's nose lets go


def raised(fitted: Fitted, keep: Keep | None, per_metre: PerMetre, angles: Sequence[float] | np.ndarray,
           start: np.ndarray, least: float = -math.inf) -> list[Settled]:  # fmt: skip
    """The company at each of the angles (rad, all rising or all falling) as far as it goes.

    Rising, it ends PAST angles after the greatest lift; falling, when the lift is under
    `least`; both where a strip's nose lets go. start: amounts to begin the first angle from.
    """
    found: list[Settled] = []
    rising, fallen = angles[-1] > angles[0], 0
    for alpha in angles:
        now = _reach(fitted, keep, per_metre, float(alpha), found, start)
        if now is None:
            break
        if past_the_nose(fitted, now, per_metre) > 0:
            found += _edge(fitted, keep, per_metre, now, found)
            break
        fallen = fallen + 1 if found and rising and lift_of(now) < lift_of(found[-1]) else 0
        found.append(now)
        if fallen >= PAST or (not rising and lift_of(now) < least):
            break
    return found


def lift_of(settled: Settled) -> float:
    """CL."""
    return settled.stance.lift(settled.amounts)


def past_the_nose(fitted: Fitted, now: Settled, per_metre: PerMetre) -> float:
    """The greatest angle, rad, by which a strip is past where its nose lets go; minus infinity where none does."""
    return float(np.max(fitted.beyond(now, per_metre), initial=-math.inf))


def _edge(fitted: Fitted, keep: Keep | None, per_metre: PerMetre, past: Settled,
          before: Sequence[Settled]) -> list[Settled]:  # fmt: skip
    """The last angle at which no strip is past its nose, to EDGE of a strip's angle; none without one before."""
    best: Settled | None = None
    low, high = (before[-1].stance.alpha if before else math.nan), past.stance.alpha
    for _ in range(CUTS if before else 0):
        tried = _reach(fitted, keep, per_metre, (low + high) / 2, before, before[-1].amounts)
        if tried is None:
            break
        over = past_the_nose(fitted, tried, per_metre)
        if over > 0:
            high = tried.stance.alpha
        else:
            best, low = tried, tried.stance.alpha
            if over >= -EDGE:
                break
    return [best] if best else []


def _reach(fitted: Fitted, keep: Keep | None, per_metre: PerMetre, alpha: float, before: Sequence[Settled],
           start: np.ndarray) -> Settled | None:  # fmt: skip
    """One angle from those before it, the way halved where it is too far; None where that does not help."""
    near = before[-1] if before else None
    for parts in (2**i for i in range(HALVINGS if near else 1)):
        at, last = near, before[-2] if len(before) > 1 else None
        for part in range(1, parts + 1):
            goal = alpha if near is None else near.stance.alpha + (alpha - near.stance.alpha) * part / parts
            guess = start if at is None else at.amounts
            if at is not None and last is not None:
                ahead = (goal - at.stance.alpha) / (at.stance.alpha - last.stance.alpha)
                guess = guess + ahead * (at.amounts - last.amounts)
            found = settle(fitted, fitted.stances.at(goal), keep, per_metre, guess)
            if not found.good:
                break
            at, last = found, at
        else:
            return at
    return None
