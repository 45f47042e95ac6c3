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
class PartPoint:
    """Part throttle at one engine speed, sea level standard day: of a maker's propeller curve, or measured."""

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
    part_throttle: tuple[PartPoint, ...] = words("points below full throttle", ())
    greatest_speed: float | None = number(
        "rev/s", "greatest permitted crankshaft speed, continuously; left out: the last of the curve", None
    )
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
class BladeStation:
    """The blade at one radius; between two, chord, angle and section go straight."""

    radius: float = number("1", "over the tip's radius")
    chord: float = number("m", "chord")
    angle: float = number("rad", "blade angle to the plane of rotation")
    section: str = words("a section of [sections]; or thickness instead", "")
    thickness: float | None = number("1", "thickness over chord of a Clark Y stretched to it", None)


@dataclass(frozen=True, kw_only=True)
class Propeller:
    """A fixed-pitch propeller: its blade by radius, or the standard blade of power/blade.py by diameter and pitch."""

    diameter: float = number("m", "diameter")
    pitch: float = number("m", "geometric pitch at 0.75 radius, measured as the angles are")
    blades: int = words("number of blades", 2)
    mass: float = number("kg", "mass with hub")
    place: Place = number("m", "middle of the hub")
    hub: float | None = number("m", "length of the hub along its axis; left out: a sixth of the radius", None)
    blade: tuple[BladeStation, ...] = words("the blade from its innermost working radius to the tip", ())
    measured_on: Literal["flat", "chord"] = words(
        "what angles and pitch are measured on: the flat of the under side, or the chord from nose to tail", "flat"
    )
    surface: Literal["smooth", "built", "rough"] = words("how true its blades are; as of [sections]", "smooth")
