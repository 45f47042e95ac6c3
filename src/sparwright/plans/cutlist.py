"""What to cut and what to buy, one row a part."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from sparwright.base.quantity import QuantityError, parse
from sparwright.base.record import number as figure
from sparwright.parts.part import Formed, Part, Plate, Run, Skin, Straight
from sparwright.plans.split import bounds
from sparwright.shape.tube import Tube


@dataclass(frozen=True, kw_only=True)
class CutRow:
    """One part of the cut list. A size that the part does not have, or that is not known, is NaN."""

    number: str
    name: str
    hand: str
    count: int
    form: str
    group: str
    material: str
    stock: str
    length: float = figure("m", "longest size as cut")
    width: float = figure("m", "second size: depth of a plate, wide side or outside diameter of a section")
    thickness: float = figure("m", "thickness, or wall of a tube")
    place: str = ""
    mass: float = figure("kg", "mass of one")
    note: str = ""


def cut_list(parts: Iterable[Part]) -> tuple[CutRow, ...]:
    """A row for each part, in the order of the parts."""
    return tuple(_row(part) for part in parts)


def _row(part: Part) -> CutRow:
    length, wide, thick = _sizes(part)
    return CutRow(
        number=part.number, name=part.name, hand=part.hand, count=part.count, form=part.form, group=part.group,
        material=part.material, stock=part.stock, length=length, width=wide, thickness=thick, place=part.at,
        mass=part.mass, note=part.note,
    )  # fmt: skip


def _sizes(part: Part) -> tuple[float, float, float]:
    match part.shape:
        case Plate():
            x0, y0, x1, y1 = bounds(part.shape)
            return (x1 - x0) / 1000, (y1 - y0) / 1000, part.shape.thickness
        case Tube():
            return part.shape.length, part.shape.outside, part.shape.wall or math.nan
        case Straight():
            return part.shape.length, *section_sizes(part.shape.section)
        case Skin():
            return part.shape.length, part.shape.width, part.shape.thickness
        case Formed():
            return part.shape.length, part.shape.outside, math.nan
        case Run():
            return part.shape.length, part.shape.outside, math.nan
        case None:
            return math.nan, math.nan, math.nan


def section_sizes(section: str) -> tuple[float, float]:
    """Wide and narrow of "1-1/4 in x 1 in", or outside and wall of "3/4 in x 0.035 in", m; NaN where not said.

    >>> section_sizes("3/4 in x 0.035 in")[0]
    0.01905
    """
    sizes = []
    for words in section.replace("×", "x").split(" x ")[:2]:
        try:
            sizes.append(parse(words, "length"))
        except QuantityError:
            sizes.append(math.nan)
    return (sizes[0], sizes[1]) if len(sizes) == 2 else (sizes[0], math.nan)
