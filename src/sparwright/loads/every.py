"""The list of all load cases of a model: what the code of its loads asks for, as numbers.

    e = envelope(flown)                          speeds, gusts, corners (loads/diagram.py)
    cases = every_case(model, balance, flown)    one LoadCase each; asked(case.steps, TITLE) gives a number of it

Angles of a case, rad: "elevator" trailing edge down, "aileron" right trailing edge up (rolls to the right), "rudder"
trailing edge left, "sideslip" wind from the right. Numbers of a case that have no field of their own (a force on the
stick, a wheel's load, a torque) are lines of its working, by the titles that the file which makes the case has as
constants.

Not here: flaps (345; the family has none), tabs and secondary controls (405, 409), nose wheels (499), skis and floats,
fatigue, and Appendix A of Part 23: docs/decisions/load-cases.md says why.
"""

from __future__ import annotations

from collections.abc import Iterator

from sparwright.family.model import Model
from sparwright.flight.work import Flown
from sparwright.loads.besides import other_cases
from sparwright.loads.case import LoadCase
from sparwright.loads.diagram import Envelope, envelope
from sparwright.loads.engine import engine_cases
from sparwright.loads.landing import landing_cases
from sparwright.loads.on_controls import control_cases
from sparwright.loads.rolling import rolling_cases
from sparwright.loads.symmetrical import symmetrical_cases
from sparwright.loads.tail import tail_cases
from sparwright.loads.yawing import yawing_cases
from sparwright.mass.record import Balance


def every_case(model: Model, balance: Balance, flown: Flown, known: Envelope | None = None) -> tuple[LoadCase, ...]:
    """Every case, in the order of the code. known: the envelope, where it is at hand.

    Without a stalling speed there are no cases in the air: `envelope(flown).why` says so. Raises ValueError where
    `flown` is another model's.
    """
    if flown.model is not model and flown.model != model:
        raise ValueError(f"{model.name} was not flown here, {flown.model.name} was")
    return tuple(_every(known or envelope(flown), balance, flown))


def _every(e: Envelope, balance: Balance, flown: Flown) -> Iterator[LoadCase]:
    yield from symmetrical_cases(e)
    yield from rolling_cases(e, flown)
    yield from yawing_cases(e, flown)
    yield from engine_cases(e, flown)
    yield from control_cases(e, flown)
    yield from tail_cases(e, flown)
    yield from landing_cases(e, flown)
    yield from other_cases(e, balance, flown)
