"""Every dimension that a set of sheets prints, each with an id by which `why` knows it.

`drawn.wing-buttlines-of-ribs.rib-24`: the row of dimensions, or the number of the part whose template carries it, then
what is measured. A length given twice, on two papers or on two pieces of a template, is one.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.plans.drawing import Dimension, Sheet

PREFIX = "drawn."


@dataclass(frozen=True)
class Printed:
    """One dimension as a builder reads it."""

    id: str
    title: str  # "wing: buttlines of ribs, rib 24"
    words: str  # as printed
    where: str  # "sheet 14 of 23, Wing: plan"
    because: str  # where the length comes from
    value: float = number("m", "true length, before it is rounded to be printed")


def printed(sheets: Iterable[Sheet]) -> tuple[Printed, ...]:
    """Every dimension of the sheets, each id once, in order of the sheets."""
    found: dict[str, Printed] = {}
    for sheet in sheets:
        for d in sheet.dimensions:
            found.setdefault(id_of(d), _told(d, sheet))
    return tuple(found.values())


def id_of(d: Dimension) -> str:
    """What `why` calls a dimension.

    >>> id_of(Dimension("along", (0, 0), (1, 0), (0, 0), "1", (), 1.0, name="root to tip", row="Wing: heights"))
    'drawn.Wing-heights.root-to-tip'
    """
    return f"{PREFIX}{_slug(d.row)}.{_slug(d.name)}"


def _slug(words: str) -> str:
    return re.sub(r"[^A-Za-z0-9_+]+", "-", words).strip("-").replace("+", "_")


def _told(d: Dimension, sheet: Sheet) -> Printed:
    where = f"sheet {sheet.number} of {sheet.total}, {sheet.title}"
    return Printed(id_of(d), f"{d.row}, {d.name}", d.words, where, d.because, d.value)
