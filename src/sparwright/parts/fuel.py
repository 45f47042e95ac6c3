"""The fuel system as parts and joints: the tank's sheets, lines, valve, filter, pumps, vent."""

from __future__ import annotations

from sparwright.family.model import Model
from sparwright.parts.number import part_number


def tank_number(model: Model) -> str:
    """The number of the tank.

    >>> tank_number.__name__
    'tank_number'
    """
    return part_number(model.name, "fuel", "TANK")
