"""What the lattice works out past its range is told as unknown, and the reason for the range is measured."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from sparwright.air.lattice import LINEAR_TO, beyond, lay
from sparwright.family.model import Family
from sparwright.run import RunResult
from sparwright.shape.lifting import camber, planforms
from sparwright.shape.planform import Planform


def test_the_range_is_told_beyond_it_only() -> None:
    assert beyond(LINEAR_TO) == "" == beyond(-LINEAR_TO)
    assert "0.21 rad" in beyond(0.21)


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_checks_of_a_stall_past_the_range_are_unknown(ran: Callable[[str], RunResult], name: str) -> None:
    result = ran(name)
    past = bool(beyond(result.flight.flown.cases["max_mass"].stall.alpha))
    assert bool(result.result("flight.stall.max_mass").outside_range) == past
    stalls = [c for c in result.checks if "flight.stall.max_mass" in c.parents and c.id.startswith("rules.")]
    assert stalls
    for c in stalls:
        if past:
            assert c.verdict == "unknown"
        elif "IAS" not in c.rule:
            assert c.verdict != "unknown"
    for by_wing in result.loads:
        for load in by_wing.values():
            mine = [c for c in result.checks if c.id.startswith("strength.") and f"case {load.case.key}" in c.case]
            assert all(c.verdict == "unknown" for c in mine if load.outside)


def turned(p: Planform, angle: float) -> Planform:
    x, y, z = p.leading_edge
    edge = np.array([x * np.cos(angle) + z * np.sin(angle), y, z * np.cos(angle) - x * np.sin(angle)])
    return replace(p, leading_edge=edge, angle=p.angle + angle)


@pytest.mark.parametrize(("name", "moves"), [("W1", 0.0), ("W2", 0.03), ("W3", 0.035)])
def test_turned_into_the_stream_lift_moves_down_the_cell(
    whinchat: Family, ran: Callable[[str], RunResult], name: str, moves: float
) -> None:
    """Wakes along the stream instead of the thrust line, at the stall: how much lift leaves the top wing."""
    model, cell = whinchat.models[name], ran(name).cell
    alpha = ran(name).flight.flown.cases["max_mass"].stall.alpha
    along = lay(tuple(turned(p, alpha) for p in planforms(model)), camber(model)).state(0.0)
    top = model.wings[0].name
    lost = cell.state(alpha).wing_share[top] - along.wing_share[top]
    np.testing.assert_allclose(lost, moves, rtol=0, atol=0.01)
