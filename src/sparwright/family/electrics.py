"""The electrics as the file says them: battery, generator, circuits with their wire and protector, antenna."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.fuel import Place
from sparwright.family.stock import words

PHASES = ("start", "take_off", "cruise", "night", "landing")
Phases = tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Battery:
    """A battery: an item, for its mass and place, and what it gives."""

    item: str = words("name of its item")
    voltage: float = number("V", "its voltage, under load")
    capacity: float = number("C", "charge it holds when new, by its maker")
    usable: float = number("1", "part of that which may be counted on, aged and cold")


@dataclass(frozen=True, kw_only=True)
class Generator:
    """Generator or alternator; its mass is the engine's."""

    voltage: float = number("V", "what the bus is held at")
    power: float = number("W", "what it gives without end, by its maker")
    speed: float | None = number("rev/s", "crankshaft speed from which it gives that", None)
    watched: bool = words("whether a voltmeter, an ammeter or a warning light tells the pilot that it is overloaded")


@dataclass(frozen=True, kw_only=True)
class Circuit:
    """A load with its wire from the bus and its protector."""

    name: str = words("name")
    purpose: str = words("what it feeds, in words")
    feeds: str = words("item or fuel pump it feeds: radio, fuel.pump, fuel.emergency; left out: none of them", "")
    current: float | None = number("A", "what it draws while it is on; or power", None)
    power: float | None = number("W", "what it draws while it is on; or current", None)
    demand: Literal["continuous", "intermittent"] = words("whether it stays on, or comes and goes")
    share: float = number("1", "of an intermittent load: part of the time that it is on", 1.0)
    phases: Phases = words("when it is on: start, take_off, cruise, night, landing; none: it feeds the bus")
    needed: bool = words("whether the flight cannot be ended safely without it", False)
    protector: Literal["breaker", "fuse", "none"] = words("what guards its wire; none for a starter alone")
    rating: float | None = number("A", "rating of the protector", None)
    gauge: int = words("American wire gauge of its wire")
    insulation: Literal["105 C", "150 C", "200 C"] = words("temperature its wire is made for")
    run: Mapping[str, Place] = number("m", "where its wire goes: named places from the bus to the load")
    back: Literal["frame", "wire"] = words("how the current returns: by the metal frame, or a second wire", "frame")
    held: tuple[str, ...] = words(
        "what its wire is clipped to: tubes by their end nodes (B1R-B1L), flat sheets by name"
    )


@dataclass(frozen=True, kw_only=True)
class Antenna:
    """The radio's antenna."""

    place: Place = number("m", "middle of its foot, on the face of what it stands on")
    height: float = number("m", "how far it stands up")
    diameter: float = number("m", "diameter, taken alike from foot to tip")
    mass: float = number("kg", "mass with its foot")
    held: tuple[str, ...] = words("what it stands on: tubes by their end nodes, flat sheets by name")


@dataclass(frozen=True, kw_only=True)
class Electrics:
    """The electrics of a model."""

    battery: Battery | None = words("the battery", None)
    generator: Generator | None = words("generator or alternator; left out: the battery alone feeds everything", None)
    circuits: tuple[Circuit, ...] = words("circuits", ())
    antenna: Antenna | None = words("antenna of the radio", None)


RECORDS = (Battery, Generator, Circuit, Antenna, Electrics)
