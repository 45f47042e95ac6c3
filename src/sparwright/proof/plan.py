"""The tests that are loaded with bags: what each is of, which way it presses, which checks its members have."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from sparwright.family.model import Model, Strut, Wire
from sparwright.loads.laid_out import LaidOut
from sparwright.proof.governing import alike, carried, half
from sparwright.proof.outlines import FIN, TAIL

FLYING = ("manoeuvre", "gust")
ON_TAIL = (*FLYING, "tail")
MIXED = ("together", "one_half", "one_side", "unsymmetrical")  # words of keys: both surfaces at once, one side less


@dataclass(frozen=True)
class Plan:
    """One test."""

    key: str  # "wings_up"
    title: str
    lies: str  # how the aeroplane lies, in words
    surfaces: tuple[str, ...]  # names of what is loaded
    press: np.ndarray  # (3,) about the way down, aeroplane's axes

    @property
    def of_tail(self) -> bool:
        """Whether tail surfaces are loaded."""
        return self.surfaces[0] in (TAIL, FIN)


BACK, WHEELS, SIDE = "upside down", "upright", "on its right side, wings off"


def plans(model: Model) -> tuple[Plan, ...]:
    """The tests of a model, in the order in which they are carried out."""
    wings, up, right = tuple(w.name for w in model.wings), np.array([0.0, 0, 1]), np.array([0.0, 1, 0])
    return (
        Plan("wings_up", "wings, air from below", BACK, wings, up),
        Plan("wings_down", "wings, air from above", WHEELS, wings, -up),
        Plan("tail_up", "tailplane, air from below", BACK, (TAIL,), up),
        Plan("tail_down", "tailplane, air from above", WHEELS, (TAIL,), -up),
        Plan("fin_side", "fin and rudder, air from the left", SIDE, (FIN,), right),
    )


def wanted(plan: Plan) -> Callable[[LaidOut], bool]:
    """Which cases a test may stand for: those that press that way and load both sides alike."""
    kinds = ON_TAIL if plan.of_tail else FLYING

    def fits(x: LaidOut) -> bool:
        if x.case.level != "limit" or any(word in x.case.key.split(".") for word in MIXED):
            return False
        if plan.surfaces == (FIN,):  # to either side: the test is the mirror where it must be
            return half(x, FIN, "") is not None
        presses = sum(carried(x, s, "R") for s in plan.surfaces) * plan.press[2]
        return x.case.kind in kinds and half(x, FIN, "") is None and alike(x) and presses > 0

    return fits


def tested(model: Model, plan: Plan) -> Callable[[str], bool]:
    """Which strength checks, by id, are of the members that a test is of: spars, and the braces that end on them."""
    starts = tuple(_starts(model, plan))
    return lambda id: id.startswith(starts)


def _starts(model: Model, plan: Plan) -> Iterator[str]:
    parts = {TAIL: (TAIL, "elevator"), FIN: (FIN, "rudder")}
    for surface in plan.surfaces:
        for name in parts.get(surface, (surface,)):
            yield from (f"strength.{name}.", f"strength.tube.{name}-", f"strength.wire.{name}-")
            yield f"strength.bolts.{name}."
    things: tuple[Strut | Wire, ...] = (*model.struts, *model.wires)
    for t in things:
        if any((e.wing or e.tail) in plan.surfaces for e in t.ends):
            kind = "tube.struts" if isinstance(t, Strut) else "wire.wires"
            yield from (f"strength.{kind}-{t.name.upper()}", f"strength.lug.{t.name}.", f"strength.pin.{t.name}.")
