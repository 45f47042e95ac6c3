"""Pitot and static system as the file says it: the head, where the static air is taken, the lines to the panel."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.fuel import Place
from sparwright.family.stock import words


@dataclass(frozen=True, kw_only=True)
class AirLine:
    """A flexible line from the head or the static holes to the instruments."""

    name: str = words("name")
    run: Mapping[str, Place] = number("m", "where it goes: named places, from the head or holes to the panel")
    bore: float = number("m", "inside diameter")
    outside: float = number("m", "outside diameter")
    material: str = words("key of a material")
    held: tuple[str, ...] = words("what it is clipped to: tubes by their end nodes, flat sheets, struts by name")


@dataclass(frozen=True, kw_only=True)
class Pitot:
    """The head and what hangs on it; right side, or left with a negative buttline."""

    head: Place = number("m", "its open nose")
    mass: float = number("kg", "mass of the head with its mast and clamp")
    outside: float = number("m", "outside diameter of head and mast")
    straight: float = number("m", "how far it runs straight aft from the nose; then it bends to what holds it")
    held: str = words("what it is clamped to: a strut by name, or a tube by its end nodes")
    static: Literal["tube", "flush", "cockpit"] = words(
        "where static air is taken: holes round a tube in the open air, a hole in the skin, or the open cockpit"
    )
    static_place: Place = number("m", "where its holes are")
    lines: tuple[AirLine, ...] = words("lines to the instruments", ())


RECORDS = (AirLine, Pitot)
