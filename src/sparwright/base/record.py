"""Number fields that explain themselves.

Every numeric field of a public record says its unit and its meaning, so that documentation,
column heads and tooltips are made from the record and not written twice.

>>> from dataclasses import dataclass
>>> @dataclass(frozen=True)
... class Tube:
...     outside: float = number("m", "outside diameter")
>>> explain(Tube)
[('outside', 'm', 'outside diameter')]
"""

from __future__ import annotations

from dataclasses import MISSING, field, fields
from typing import Any

import numpy as np


def number(unit: str, meaning: str, default: Any = MISSING) -> Any:
    """A dataclass field with its SI `unit` ("1" for a ratio) and `meaning`."""
    if default is MISSING:
        return field(metadata={"unit": unit, "meaning": meaning})
    return field(default=default, metadata={"unit": unit, "meaning": meaning})


def explain(record: type) -> list[tuple[str, str, str]]:
    """(name, unit, meaning) of each number field of a record."""
    return [(f.name, f.metadata["unit"], f.metadata["meaning"]) for f in fields(record) if f.metadata.get("unit")]


def locked(values: Any) -> np.ndarray:
    """A float array, copied, that nobody can write to."""
    array = np.array(values, dtype=float)
    array.setflags(write=False)
    return array
