"""Hinge moments of real flaps over those of thin-aerofoil theory, from hinge.toml.

>>> [row.section for row in MEASURED][:1]
['0009']
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from sparwright.base.record import number
from sparwright.base.source import Band, Source
from sparwright.data.files import tables


@dataclass(frozen=True, kw_only=True)
class Measured:
    """One measured plain flap."""

    section: str
    gap: str
    thickness: float = number("1", "of the section, chords")
    chord: float = number("1", "the flap's part of the chord")
    angle: float = number("1/rad", "hinge moment coefficient for each radian of angle of attack")
    flap: float = number("1/rad", "the same for each radian of the flap")
    source: Source


def _row(row: dict[str, Any]) -> Measured:
    per = 180 / math.pi
    return Measured(
        section=row["section"], gap=row["gap"], thickness=row["thickness"], chord=row["chord"],
        angle=row["angle"] * per, flap=row["flap"] * per, source=Source(row["source"], row["place"], row["mark"]),
    )  # fmt: skip


_FILE = tables("hinge.toml")
MEASURED = tuple(_row(r) for r in _FILE["measured"])
TOGETHER = Band(1.0, float(_FILE["band"]["low"]), float(_FILE["band"]["high"]))
RATIO = Band.relative(1.0, float(_FILE["band"]["ratio"]))
