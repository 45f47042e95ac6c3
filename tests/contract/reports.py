"""A run made by hand, with a pass, a fail and an unknown, for the tests of screen, JSON and why."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sparwright.base.check import Check, Result, Step, check
from sparwright.base.source import Band
from sparwright.output.report import Report, report

SPEED = Step(
    "stalling speed", "V = sqrt(2 m g/(rho S CL))",
    (("m", 400.0, "kg"), ("g", 9.80665, "m/s2"), ("rho", 1.225, "kg/m3"), ("S", 12.5, "m2"), ("CL", 1.4, "1")),
    19.130594, "m/s", "definition",
)  # fmt: skip
RESULTS = (
    Result("flight.stall", "stalling speed", 19.130594, "m/s", 18.1, 20.2, "naca-tr-572", "calibrated", (SPEED,),
           ("mass.most",)),
    Result("mass.most", "greatest mass", 400.0, "kg", 390.0, 410.0, "ac-43-13-1b ch. 10"),
    Result("flight.spin", "turns to recover from a spin", math.nan, "1", source="none", caveat="cannot be computed"),
)  # fmt: skip
CHECKS = (
    check("rules.mass", "greatest mass", Band(400.0, 390.0, 410.0), 600.0, "<=", "kg", rule="the category"),
    check("rules.stall", "stalling speed", Band(19.13, 18.1, 20.2), 20.0, "<=", "m/s", rule="the category",
          case="heaviest", steps=(SPEED,), parents=("flight.stall", "gone.away")),
    check("strength.strut", "buckling of the strut", Band.exact(math.nan), 1.0, ">=", "1", part="W1-STRUT",
          caveat="the strut's ends are not drawn"),
    check("strength.spar", "bending of the spar", Band(1.05, 1.0001, 1.1), 1.0, ">=", "1"),
)  # fmt: skip


@dataclass(frozen=True)
class Ran:
    """As much of a run as a report needs."""

    family: str = "Wren"
    model: str = "W1"
    program: str = "Sparwright 0.0.0"
    file_sha256: str = "ab" * 32
    results: tuple[Result, ...] = RESULTS
    checks: tuple[Check, ...] = CHECKS


def made(model: str = "W1", units: str = "inch", checks: tuple[Check, ...] = CHECKS) -> Report:
    """The report of the run made by hand."""
    return report(Ran(model=model, checks=checks), "one wing, wood", units, ("spin recovery is not known",))
