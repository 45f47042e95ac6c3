"""The load cases as results."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sparwright.base.check import Result, Step
from sparwright.loads.envelope import RULE, Case
from sparwright.loads.spanwise import WingLoad


def load_results(loads: Sequence[Mapping[str, WingLoad]]) -> tuple[Result, ...]:
    """Speed and load factor of each case, and each wing's share of the lift."""
    return tuple(r for by_wing in loads for r in _of_case(by_wing))


def _of_case(by_wing: Mapping[str, WingLoad]) -> Iterator[Result]:
    case = next(iter(by_wing.values())).case
    yield from _of_aeroplane(case)
    for wing, load in by_wing.items():
        step = Step("share", "L/sum L", (("L", load.total, "N"),), load.share, "1", "lattice, trimmed")
        yield Result(
            f"loads.{case.key}.share.{wing}",
            f"{wing}: share of the wings' lift, case {case.key}",
            load.share,
            "1",
            source="falkner-1943, lattice over all surfaces",
            steps=(step,),
            parents=(f"loads.{case.key}.factor",),
        )


def _of_aeroplane(case: Case) -> Iterator[Result]:
    speed = f"loads.{case.key}.speed"
    stalled = ("flight.stall.max_mass",) if case.key == "A" else ()
    yield Result(speed, f"speed of case {case.key}, {case.title}", case.speed, "m/s", source=RULE, parents=stalled)
    yield Result(
        f"loads.{case.key}.factor",
        f"limit load factor of case {case.key}",
        case.factor,
        "1",
        source=RULE,
        steps=case.steps,
        parents=(speed,),
    )
