"""A wing of 8 % thickness: its stall is known, ends with the nose, and says from where and how surely that is known."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest
from families import DEMO_FILE, reading
from shelf import shelf

from sparwright.base.check import Result
from sparwright.family.model import Model
from sparwright.output.report import report
from sparwright.output.why import why
from sparwright.run import RunResult, run

pytestmark = pytest.mark.long
SAYS = "the thin nose of a section lets go (valarezo-chin-1994, memory)"


@cache
def ran() -> RunResult:
    """W1 with a thin wing; fittings, hinges and drive, which need the depth they were drawn for, left out."""
    family = reading(DEMO_FILE.read_text("utf-8").replace('naca = "4412"', 'naca = "2408"'))
    model = without_fittings(family.models["W1"])
    gear = model.undercarriage and replace(model.undercarriage, brakes=None)
    model = replace(model, controls=None, undercarriage=gear)
    return run(replace(family, models={"W1": model}), "W1", polars=shelf, measured=False)


def without_fittings(model: Model) -> Model:
    bare = [
        replace(
            w, inspection=None, splice=None, drag_bracing=None, aileron=w.aileron and replace(w.aileron, frame=None)
        )
        for w in model.wings
    ]
    ends = [replace(s, ends=tuple(replace(e, fitting="", piece="") for e in s.ends))
            for s in model.struts if not any(e.tail for e in s.ends)]  # fmt: skip
    wires = tuple(w for w in model.wires if not any(e.tail for e in w.ends))
    return replace(model, wings=tuple(bare), struts=tuple(ends), wires=wires, roots=(), fittings=())


def result(id: str) -> Result:
    return next(r for r in ran().results if r.id == id)


@pytest.mark.parametrize("case", ["heaviest", "lightest", "max_mass"])
def test_the_stall_is_known_and_says_that_a_nose_ends_it(case: str) -> None:
    stall = result(f"flight.stall.{case}")
    assert stall.low < stall.value < stall.high and math.isfinite(stall.high)
    assert SAYS in stall.caveat and SAYS in result(f"flight.elevator.stall.{case}").caveat
    assert "its nose lets go by valarezo-chin-1994, memory" in stall.steps[0].source


def test_why_tells_it() -> None:
    told = " ".join(why(report(ran(), "thin", "inch"), "flight.stall.heaviest").split())
    assert SAYS in told and "its nose lets go by valarezo-chin-1994, memory" in told


def test_near_the_ground_nothing_is_told_past_the_nose() -> None:
    """At the attitude of the stall in free air the wings carry more near the ground: a nose has let go by then."""
    near = result("flight.ground.elevator.stall.max_mass")
    assert math.isnan(near.value) and "the thin nose of a section lets go before" in near.caveat
