"""What one test process leaves for the others: made once, read as it was made, and nobody waits who can work."""

from __future__ import annotations

import threading
from pathlib import Path
from types import MappingProxyType

import numpy as np
import pytest
import shared


def test_it_is_made_once(tmp_path: Path) -> None:
    made: list[str] = []

    def make(name: str) -> str:
        made.append(name)
        return name.lower()

    assert [shared.once("A", make, where=tmp_path) for _ in range(3)] == ["a", "a", "a"]
    assert made == ["A"]


def test_what_is_locked_stays_locked(tmp_path: Path) -> None:
    array = np.arange(6.0)[::2]
    array.setflags(write=False)
    thing = {"locked": array, "free": np.arange(2.0), "seen": MappingProxyType({"a": 1})}
    shared.once("A", lambda _: thing, where=tmp_path)
    read = shared.once("A", lambda _: pytest.fail("made again"), where=tmp_path)
    assert read["locked"].tolist() == [0.0, 2.0, 4.0]
    assert not read["locked"].flags.writeable
    assert read["free"].flags.writeable
    assert isinstance(read["seen"], MappingProxyType)
    assert read["seen"] == {"a": 1}


def test_a_fault_leaves_nothing_behind(tmp_path: Path) -> None:
    def breaks(name: str) -> str:
        raise ValueError(name)

    with pytest.raises(ValueError, match="A"):
        shared.once("A", breaks, where=tmp_path)
    assert shared.once("A", str.lower, where=tmp_path) == "a"


def test_who_would_wait_makes_another(tmp_path: Path) -> None:
    begun, made = threading.Event(), []
    other = threading.Event()

    def slow(name: str) -> str:
        begun.set()
        assert other.wait(20)  # until the second has done something else
        return name.lower()

    def make(name: str) -> str:
        made.append(name)
        other.set()
        return name.lower()

    first = threading.Thread(target=lambda: shared.once("A", slow, where=tmp_path))
    first.start()
    assert begun.wait(20)
    assert shared.once("A", make, ("A", "B"), tmp_path) == "a"
    first.join()
    assert made == ["B"]
