"""An aerofoil as a family file says it: a number, points, or tables that somebody measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.stock import words


@dataclass(frozen=True, kw_only=True)
class Measured:
    """A section as somebody measured it at one Reynolds number; it is taken instead of what we work out."""

    reynolds: float = number("1", "Reynolds number on the chord, rising from table to table")
    source: str = words("who measured it, where it is printed")
    angle: tuple[float, ...] = number("rad", "angles of the chord line to the stream, rising, at least five")
    lift: tuple[float, ...] = number("1", "lift coefficient at each of the angles")
    drag: tuple[float, ...] = number("1", "drag coefficient at each of the angles", ())
    moment: tuple[float, ...] = number("1", "moment coefficient about the quarter chord at each angle, nose up", ())
    give_or_take: float = number("1", "how sure the greatest lift is: give or take, fraction of it")


@dataclass(frozen=True, kw_only=True)
class Section:
    """An aerofoil: a NACA number, or a plain table of x and y (fractions, upper tail to nose to lower tail)."""

    name: str = words("name, used by wings and tail")
    naca: str = words("NACA number of four or five digits", "")
    points: tuple[tuple[float, float], ...] = number("1", "x and y in chords, upper tail to nose to lower tail", ())
    surface: Literal["smooth", "built", "rough"] = words(
        "how true the surface is: polished and clean; home-built, with lap joints, rib sag and a few flies; "
        "grit or flies on the nose",
        "built",
    )
    measured: tuple[Measured, ...] = words("tables measured on this section, one for each Reynolds number", ())
