"""What many tests share: the demo family, read once, each of its models worked out once, and polars kept on file."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import demo
import pytest
import shared
from shelf import shelf

from sparwright.air.polars import Polars
from sparwright.family.model import Family
from sparwright.run import RunResult


def pytest_configure(config: pytest.Config) -> None:
    """Where the processes of this test run keep what they have worked out for one another."""
    shared.begin(config)


@pytest.hookimpl(optionalhook=True)
def pytest_configure_node(node: Any) -> None:
    """Tells each of pytest-xdist's processes of it."""
    node.workerinput["shared"] = str(shared.folder())


@pytest.fixture(scope="session")
def whinchat() -> Family:
    """The demo family."""
    return demo.whinchat()


@pytest.fixture(scope="session")
def ran() -> Callable[[str], RunResult]:
    """A model of the demo family worked out, once in the whole test run, whatever processes it has."""
    return demo.ran


@pytest.fixture(scope="session")
def polars() -> Polars:
    """Gives polars, kept from one test run to the next."""
    return shelf


@pytest.fixture(autouse=True)
def _doors_share_the_shelf(monkeypatch: pytest.MonkeyPatch) -> None:
    """The terminal's commands take their polars from the tests' shelf too, whatever store a test gives them."""
    monkeypatch.setattr("sparwright.cli.polars.kept", shelf)
