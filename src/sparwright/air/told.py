"""What the lattice says of the bare cell, as results: lift slope, shares, and induced drag worked out twice."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sparwright.air.turned import Company, CompanyState
from sparwright.base.check import Result, Step

CRUISE_LIFT = 0.5  # CL at which the cell is told
LATTICE = "falkner-1943 (vortex lattice)"


def air_results(company: Company) -> tuple[Result, ...]:
    """Lift slope of the cell with its tail, each wing's share, induced drag from the far wake and from the near field.

    Elevator neutral, CL 0.5 on the wings' area. The two induced drags are two sums over one solution: that they
    agree says the lattice is fine enough and nobody stands in somebody else's wake by accident.
    """
    state = company.state(company.angle_of(CRUISE_LIFT))
    return tuple(_results(company, state))


def _results(company: Company, state: CompanyState) -> Iterator[Result]:
    ref, lift_slope = company.reference, company.lift_slope(state.alpha)
    yield Result("air.area", "area of all wings, carried through the fuselage", ref.area, "m2", source="geometry")
    yield Result("air.span", "largest span", ref.span, "m", source="geometry")
    slope = Step("lift slope", "dCL/dalpha", (("S", ref.area, "m2"),), lift_slope, "1/rad", LATTICE)
    title = f"lift slope at CL {CRUISE_LIFT}, all wings and tail"
    yield Result("air.lift_slope", title, lift_slope, "1/rad", source=LATTICE, steps=(slope,))
    for wing, share in state.wing_share.items():
        title = f"{wing}: share of the wings' lift at CL {CRUISE_LIFT}"
        yield Result(f"air.share.{wing}", title, share, "1", source=LATTICE)
    far, near = state.induced_drag, state.induced_drag_near
    yield Result(
        "air.induced.far", f"induced drag coefficient at CL {CRUISE_LIFT}, far wake", far, "1", source="naca-tr-121",
        steps=(_span_factor(company, state, far),), parents=("air.induced.near",),
    )  # fmt: skip
    yield Result(
        "air.induced.near", f"the same from the forces on the wings: {abs(near / far - 1):.1%} apart", near, "1",
        source=LATTICE,
    )  # fmt: skip


def _span_factor(company: Company, state: CompanyState, far: float) -> Step:
    """e on the largest span: e = CL^2 S/(pi b^2 CDi)."""
    ref = company.reference
    e = state.lift**2 * ref.area / (math.pi * ref.span**2 * far)
    given = (("CL", state.lift, "1"), ("S", ref.area, "m2"), ("b", ref.span, "m"), ("CDi", far, "1"))
    return Step("span factor on the largest span", "e = CL^2 S/(pi b^2 CDi)", given, e, "1", "naca-tr-121")
