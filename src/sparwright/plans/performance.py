"""What the pilot needs of the performance on one sheet: speeds, fuel, climb, glide, the field, day by day.

Beside each likely value stands the end of its band to plan with: the longer way, the slower climb, the faster stall. A
speed to fly has none: the low end of the speed of best climb may lie at the stall.
Calculated, until the aeroplane is flown; nothing on it is an approval.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from sparwright.base.check import Result
from sparwright.base.record import number
from sparwright.family.model import Model

End = Literal["low", "high", ""]  # empty: a speed to fly, of which no end is the worse
ROWS: tuple[tuple[str, str, End], ...] = (  # (how its id begins, group, the end to plan with)
    ("flight.stall.", "stall", "high"),
    ("flight.speed.at_rpm.", "level flight", "low"),
    ("flight.fuel.at_rpm.", "level flight", "high"),
    ("flight.speed.max", "level flight", "low"),
    ("flight.cruise.", "economical speeds", "high"),
    ("flight.range", "level flight", "low"),
    ("flight.endurance", "level flight", "low"),
    ("flight.climb.rate", "climb", "low"),
    ("flight.climb.speed", "climb", ""),
    ("flight.climb.angle.", "climb", "low"),
    ("flight.climb.angle_speed", "climb", ""),
    ("flight.climb.time", "climb", "high"),
    ("flight.ceiling.", "climb", "low"),
    ("flight.glide.ratio", "glide", "low"),
    ("flight.glide.speed", "glide", ""),
    ("flight.glide.sink", "glide", "high"),
    ("flight.takeoff.", "take-off", "high"),
    ("flight.landing.", "landing", "high"),
)
STALLS = ("heaviest", "lightest", "max_mass")  # of the loadings, those a pilot plans with


@dataclass(frozen=True, kw_only=True)
class PilotRow:
    """One line of the sheet; a number that is not known is NaN."""

    group: str
    what: str
    id: str
    unit: str
    likely: float = number("SI", "best estimate, in `unit`")
    plan: float = number("SI", "the end of the band to plan with; NaN for a speed to fly")
    end: End = "low"  # which end that is
    note: str = ""


def pilots_sheet(model: Model, by_id: Mapping[str, Result]) -> tuple[PilotRow, ...]:
    """The lines in order, the standard day first, then each day of the file; by_id: the model's results."""
    found = list(_rows(by_id, "flight.", ""))
    for day in model.days:
        found += _rows(by_id, f"flight.day.{day.name}.", f"{day.name.replace('_', ' ')}: ")
    return tuple(found)


def _rows(by_id: Mapping[str, Result], start: str, said: str) -> Iterator[PilotRow]:
    for begins, group, end in ROWS:
        for id, r in by_id.items():
            if not f"{id}.".startswith(begins.replace("flight.", start, 1)):
                continue
            if group == "stall" and id.rsplit(".", 1)[-1] not in (*STALLS, "stall"):
                continue
            plan = getattr(r, end) if end else math.nan
            yield PilotRow(group=said + group, what=r.title, id=id, unit=r.unit, likely=r.value, plan=plan,
                           end=end, note=r.caveat)  # fmt: skip
