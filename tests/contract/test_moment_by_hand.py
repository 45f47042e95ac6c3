"""A reviewer can redo the bending moment that `why` prints from the numbers beside it."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from sparwright.run import RunResult


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_the_printed_moment_is_what_its_numbers_give(ran: Callable[[str], RunResult], name: str) -> None:
    redone = 0
    for c in ran(name).checks:
        for step in c.steps:
            if step.title == "bending moment":
                put_in = {word: value for word, value, _ in step.given}
                by_hand = put_in["W"] * put_in["a"] + put_in["sum R (y_R - y)"]
                np.testing.assert_allclose(step.value, by_hand, rtol=1e-6, atol=0.5)
                redone += abs(step.value) > 10
    assert redone >= 2
