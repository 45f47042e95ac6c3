"""What was measured in a test against what was predicted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.check import Result, Step
from sparwright.family.proof import ProofMeasured
from sparwright.proof.record import BagTest, Point

NEAR = 0.01  # parts of limit load nearer than this are one step
READING = "the builder's reading"


def measured_results(tests: Sequence[BagTest], measured: Sequence[ProofMeasured]) -> Iterator[Result]:
    """One result for each reading: measured over predicted, with the band of the prediction; NaN where it has none."""
    for i, one in enumerate(measured, 1):
        test = next(t for t in tests if t.plan.key == one.test)
        yield _compared(i, one, test)


def _compared(i: int, one: ProofMeasured, test: BagTest) -> Result:
    id = f"proof.{one.test}.measured.{i:02d}"
    title = f"proof load, {test.plan.title}: {one.point} at {100 * one.step:.0f} % of limit, measured over predicted"
    point, step = _point(test, one.point), _step(test, one.step)
    if point is None or step is None:
        why = test.why or ("no such point on the sheet" if point is None else "no such step on the sheet")
        return Result(id, title, np.nan, "1", source=READING, outside_range=why)
    said, low, high = (float(f(point.moved[:, step])) for f in (lambda v: v[0], np.min, np.max))
    ratio = one.value / said if said else np.nan
    inside = low <= one.value <= high
    given = (("measured", one.value, "m"), ("predicted", said, "m"), ("least", low, "m"), ("most", high, "m"))
    working = Step("against the prediction", "measured/predicted", given, ratio, "1", READING)
    found = sorted(one.value / x for x in (low, high) if x)
    ends = (found[0], found[-1]) if len(found) == 2 and low * high > 0 else (np.nan, np.nan)
    said_of_it = (
        "within the band"
        if inside
        else (
            "more than predicted: stop, look for what gives"
            if abs(one.value) > abs(said)
            else "less than predicted: stiffer"
        )
    )
    return Result(
        id, title, ratio, "1", ends[0], ends[1], READING, "; ".join(x for x in (said_of_it, one.note) if x), (working,)
    )


def _point(test: BagTest, words: str) -> Point | None:
    """By its key, with or without the side's letter."""
    bare = words.removesuffix(".R").removesuffix(".L")
    return next((p for p in test.points if p.key == bare), None)


def _step(test: BagTest, part: float) -> int | None:
    near = [i for i, p in enumerate(test.parts) if abs(p - part) < NEAR]
    return near[0] if near else None
