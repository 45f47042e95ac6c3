"""Engine and propeller as the file says them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.fitted import Lump
from sparwright.family.fuel import Place
from sparwright.family.stock import words


@dataclass(frozen=True, kw_only=True)
class CurvePoint:
    """Full throttle at one engine speed, sea level standard day."""

    speed: float = number("rev/s", "crankshaft speed")
    power: float = number("W", "brake power")
    consumption: float = number("kg/J", "specific fuel consumption")


@dataclass(frozen=True, kw_only=True)
class Engine:
    """An engine as bolted on: mass with everything it carries."""

    name: str = words("what it is called")
    strokes: int = words("two or four")
    cylinders: int = words("number of cylinders")
    mass: float = number(
        "kg",
        "installed mass without propeller, with carburettor and gearbox; with mount and exhaust where none is drawn",
    )
    mass_band: float = number("1", "give or take, fraction")
    place: Place = number("m", "centre of mass")
    gear: float = number("1", "crankshaft turns per propeller turn", 1.0)
    curve: tuple[CurvePoint, ...] = words("full-throttle points at rising engine speed", ())
    fuel_density: float = number("kg/m3", "density of its fuel", 720.0)
    exposed: float | None = number(
        "m2", "frontal area of cylinders, exhaust and carburettor out in the wind; nought when all is cowled", None
    )
    cooling_outlet: float | None = number("m2", "area of the openings the cooling air leaves by; nought for none", None)
    cooling_inlet: float | None = number("m2", "area of the openings the cooling air enters by", None)
    cooled: Literal["", "ram", "fan", "liquid"] = words("by wind in a cowling, its own fan, a liquid; or not said", "")
    oil_use: float | None = number("m3/s", "oil that a four-stroke burns at most, by its maker or measured", None)
    mix: float | None = number("1", "of a two-stroke with oil in its fuel: parts of fuel to one of oil", None)
    mark: str = words("how its numbers were had: measured, read, invented, designer", "designer")
    lumps: tuple[Lump, ...] = words("boxes and round blocks it is made up of, for what it would run into", ())


@dataclass(frozen=True, kw_only=True)
class Propeller:
    """A fixed-pitch propeller known by diameter and pitch; the blade is the standard one of power/propeller.py."""

    diameter: float = number("m", "diameter")
    pitch: float = number("m", "geometric pitch at 0.75 radius")
    blades: int = words("number of blades", 2)
    mass: float = number("kg", "mass with hub")
    place: Place = number("m", "middle of the hub")
    hub: float | None = number("m", "length of the hub along its axis; left out: a sixth of the radius", None)
