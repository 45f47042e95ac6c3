"""What many tests share: the demo family, read once, and each of its models worked out once."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from sparwright.family.model import Family
from sparwright.family.reader import load
from sparwright.run import RunResult, run

WHINCHAT = Path(__file__).parents[1] / "examples" / "whinchat" / "whinchat.toml"


@pytest.fixture(scope="session")
def whinchat() -> Family:
    """The demo family."""
    return load(WHINCHAT)


@pytest.fixture(scope="session")
def ran(whinchat: Family) -> Callable[[str], RunResult]:
    """A model of the demo family worked out, once in the whole test run."""
    return cache(lambda name: run(whinchat, name))
