"""How true the aeroplane is to be rigged, and the points it is levelled by. What is left out is unknown."""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number

Place = tuple[float, float, float]  # station, buttline, waterline, m


@dataclass(frozen=True, kw_only=True)
class LevelPoint:
    """A point marked on a tube of the frame, for the level, the plumb line and the tape."""

    name: str = number("", "name")
    place: Place = number("m", "where it is")
    on: str = number("", "tube it is marked on, by its first and last node as in its part number: A1R-D1R")


@dataclass(frozen=True, kw_only=True)
class Rigging:
    """Tolerances of rigging, each give or take."""

    incidence: float | None = number("rad", "incidence of each wing, both sides alike", None)
    sides: float | None = number("rad", "incidence of one side of a wing against the other", None)
    washout: float | None = number("rad", "angle of a panel's tip against its root", None)
    dihedral: float | None = number("rad", "dihedral of each panel", None)
    stagger: float | None = number("m", "stagger between two wings", None)
    gap: float | None = number("m", "gap between two wings", None)
    tailplane: float | None = number("rad", "incidence of the tailplane", None)
    travels: float | None = number("rad", "travel of ailerons, elevator and rudder, each way", None)
    tensions: float | None = number("1", "tension of a bracing wire at rest, fraction of it", None)
    points: tuple[LevelPoint, ...] = number("", "levelling points by name; the first two level it fore and aft", ())


RECORDS = (LevelPoint, Rigging)
