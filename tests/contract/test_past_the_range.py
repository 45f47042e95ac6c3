"""Stalls and high-lift cases lie within the range of the lattice, and why it is turned into the stream is measured."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from sparwright.air.turned import NODES, beyond, turned
from sparwright.family.model import Family
from sparwright.run import RunResult
from sparwright.shape.lifting import camber, planforms, thickness


def test_the_range_is_told_beyond_it_only() -> None:
    assert beyond(NODES[0]) == "" == beyond(NODES[-1])
    assert "0.50 rad" in beyond(0.5)
    assert "-0.22 rad" in beyond(-0.22)


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_stall_and_its_load_cases_are_results(ran: Callable[[str], RunResult], name: str) -> None:
    result = ran(name)
    for case in result.flight.flown.cases.values():
        assert beyond(case.stall.alpha) == "" and not case.stall.reason
    stalls = [c for c in result.checks if "flight.stall.max_mass" in c.parents and c.id.startswith("rules.")]
    assert stalls
    assert all(c.verdict != "unknown" for c in stalls if "IAS" not in c.rule)
    assert all(c.verdict != "unknown" for c in result.checks if "elevator.authority" in c.id)
    assert result.margins.laid and result.envelope.speeds


@pytest.mark.parametrize(
    ("name", "alpha", "moves"), [("W2", 0.25, 0.037), ("W2", 0.37, 0.050), ("W3", 0.25, 0.043), ("W3", 0.37, 0.059)]
)
def test_turned_into_the_stream_lift_moves_up_the_cell(
    whinchat: Family, ran: Callable[[str], RunResult], name: str, alpha: float, moves: float
) -> None:
    """Near the stall the top wing carries more than linear theory says, which knows no speed added by neighbours.

    Linear theory is the limit of the same cell without thickness, all its angles and mean lines a thousandth.

    Turned as a flat picture the cell seemed to move lift down; the flow that each wing's circulation adds over the wing
    above it, and takes from the wing below, is of the same order and more.
    """
    result, model = ran(name), whinchat.models[name]
    top = model.wings[0].name
    company = result.flight.flown.plane.company
    small = 1e-3
    flat = tuple(replace(p, angle=small * p.angle) for p in planforms(model))
    lines, thick = ({n: v * [[1.0], [by]] for n, v in camber(model).items()} for by in (small, 0.0))
    linear = turned(flat, lines, thick, [small * alpha]).state(small * alpha)
    gained = company.state(alpha).wing_share[top] - linear.wing_share[top]
    np.testing.assert_allclose(gained, moves, rtol=0, atol=0.003)


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_refined_at_the_end_of_the_range(whinchat: Family, ran: Callable[[str], RunResult], name: str) -> None:
    """Twice the panels each way, and laid at the very angle: what the usual lattice says at its ends holds.

    At -0.2 rad W1's tail, at -6 deg, works near the wing's wake: 14 strips put the drag of the far wake 1.5 % low.
    """
    model = whinchat.models[name]
    company = ran(name).flight.flown.plane.company
    for alpha in (-0.2, 0.34, 0.45):
        fine = turned(planforms(model), camber(model), thickness(model), [alpha], chordwise=10, spanwise=24)
        a, b = company.state(alpha), fine.state(alpha)
        np.testing.assert_allclose(
            [a.lift, a.induced_drag], [b.lift, b.induced_drag], rtol=0.01 if alpha > 0 else 0.02, atol=0
        )
        np.testing.assert_allclose(list(a.wing_share.values()), list(b.wing_share.values()), rtol=0, atol=0.005)
