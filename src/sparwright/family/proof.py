"""The proof-load test as the builder does it: how heavy the bags are, and what was measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.entry import Entry, Faults
from sparwright.family.stock import words

TestName = Literal["wings_up", "wings_down", "tail_up", "tail_down", "fin_side"]


@dataclass(frozen=True, kw_only=True)
class ProofBags:
    """The bags of the proof-load test."""

    bag: float | None = number("kg", "one bag for the wings; left out: 10 lb", None)
    small_bag: float | None = number("kg", "one bag for the tail; left out: 5 lb", None)


@dataclass(frozen=True, kw_only=True)
class ProofMeasured:
    """One reading of a proof-load test."""

    test: TestName = words("which test")
    step: float = number("1", "part of limit load that lay there, as on the sheet: 0.67")
    point: str = words("point as on the sheet, with R or L at its end")
    value: float = number("m", "moved the way down from the reading without bags, the trestles' settling taken off")
    note: str = words("who, when, how", "")


RECORDS = (ProofBags, ProofMeasured)


def check_measured(measured: tuple[ProofMeasured, ...], whole: Entry, faults: Faults) -> None:
    """Each point once at a step of a test."""
    seen: set[tuple[str, float, str]] = set()
    for i, one in enumerate(measured):
        key = (one.test, round(one.step, 3), one.point)
        if key in seen:
            faults.add(whole.nearest("proof_measured", i), "is read twice; leave one, or their mean", one.point)
        seen.add(key)
