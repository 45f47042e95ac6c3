"""Every number of a public record says its unit and its meaning."""

from __future__ import annotations

import dataclasses
import importlib
import typing
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest
from house import PACKAGE, modules

from sparwright.base.record import number

COUNTS = (int, bool)


def records() -> Iterator[type]:
    """Every public dataclass of the package, from the module that defines it."""
    for path in modules():
        name = ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts).removesuffix(".__init__")
        if path.name == "__main__.py":
            continue
        module = importlib.import_module(name)
        for value in vars(module).values():
            if isinstance(value, type) and dataclasses.is_dataclass(value) and value.__module__ == name:
                if not value.__name__.startswith("_"):
                    yield value


def is_number(hint: Any) -> bool:
    """A float, or one that may be None."""
    return hint is float or typing.get_args(hint) in ((float, type(None)), (type(None), float))


def bare(record: type) -> list[str]:
    """Number fields of a record that do not say unit and meaning, and records that can be written to."""
    hints = typing.get_type_hints(record)
    faults = [
        f"{record.__module__}.{record.__name__}.{f.name}"
        for f in dataclasses.fields(record)
        if is_number(hints[f.name]) and not (f.metadata.get("unit") and f.metadata.get("meaning"))
    ]
    if not record.__dataclass_params__.frozen:  # type: ignore[attr-defined]
        faults.append(f"{record.__module__}.{record.__name__} is not frozen")
    return faults


def test_every_number_says_unit_and_meaning() -> None:
    found = list(records())
    assert len(found) > 30
    faults = [fault for r in found for fault in bare(r)]
    assert not faults, "\n".join(faults)


@dataclass(frozen=True)
class Good:
    a: float = number("m", "length")
    count: int = 1


@dataclass
class Bad:
    a: float
    b: float | None = None


@pytest.mark.parametrize(("record", "faults"), [(Good, 0), (Bad, 3)])
def test_the_rule_finds_a_bare_number(record: type, faults: int) -> None:
    assert len(bare(record)) == faults
