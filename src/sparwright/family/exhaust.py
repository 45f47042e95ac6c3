"""The exhaust as the file says it: pipes from the engine to silencers and out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.family.fitted import Form
from sparwright.family.stock import words

Place = tuple[float, float, float]
ENGINE, OPEN = "engine", "open"


@dataclass(frozen=True, kw_only=True)
class ExhaustPipe:
    """A pipe from place to place in the order of the flow."""

    name: str = words("name")
    run: Mapping[str, Place] = number("m", "where it goes: named places in the order of the flow")
    begins: str = words("what it begins at: engine, or a silencer by name", ENGINE)
    ends: str = words("what it ends in: a silencer by name, or open", OPEN)
    outside: float = number("m", "outside diameter")
    wall: float = number("m", "wall thickness")
    material: str = words("key of a material", "1025")
    pair: bool = words("whether there is one on the left as well; the right one is said", False)


@dataclass(frozen=True, kw_only=True)
class Silencer:
    """What quiets it: a box or a round block."""

    name: str = words("name")
    place: Place = number("m", "its middle")
    size: Place = number("m", "length, width and height over all")
    form: Form = words("box, or round about a line along, across or upright", "along")
    mass: float = number("kg", "mass")


@dataclass(frozen=True, kw_only=True)
class Exhaust:
    """Pipes and silencers; the engine's mass is then without them."""

    pipes: tuple[ExhaustPipe, ...] = words("pipes")
    silencers: tuple[Silencer, ...] = words("silencers", ())


RECORDS = (ExhaustPipe, Silencer, Exhaust)
