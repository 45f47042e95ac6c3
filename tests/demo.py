"""The demo family and its models worked out, once in a whole test run, for helpers that are no fixtures."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import shared
from shelf import shelf

from sparwright.family.model import Family
from sparwright.family.reader import load
from sparwright.run import RunResult, run

WHINCHAT = Path(__file__).parents[1] / "examples" / "whinchat" / "whinchat.toml"


@cache
def whinchat() -> Family:
    """The demo family."""
    return load(WHINCHAT)


@cache
def ran(name: str) -> RunResult:
    """One of its models worked out, its parts not measured against each other."""
    return shared.once(name, lambda n: run(whinchat(), n, polars=shelf, measured=False), whinchat().models)
