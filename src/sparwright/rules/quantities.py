"""What licence categories limit, taken from the model and from what other rooms have worked out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from sparwright.base.check import Result
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.model import Model

STALL = "flight.stall.max_mass"
INDICATED = "flight.stall.indicated.max_mass"


class Known(NamedTuple):
    """A quantity as far as it is known."""

    band: Band
    parents: tuple[str, ...] = ()  # ids it comes from
    why: str = ""  # why it is unknown, or does not settle the matter
    said: str = ""  # what is to be said of it


def seats(model: Model) -> int:
    """Seats: one for each load of the kind pilot."""
    return sum(1 for x in model.loads if x.kind == "pilot")


def worked_out(model: Model, quantity: str, results: Mapping[str, Result]) -> Known:
    """A quantity of data/categories.py in SI; a speed is calibrated airspeed."""
    exact = {
        "max_mass": lambda: model.limits.max_mass,
        "seats": lambda: float(seats(model)),
        "passenger_seats": lambda: float(max(seats(model) - 1, 0)),
        "power": lambda: max(p.power for p in model.engine.curve),
    }
    if quantity in exact:
        return Known(Band.exact(exact[quantity]()))
    told = {"stall_landing": STALL, "stall_clean": STALL, "empty_mass": "mass.empty", "level_speed": "flight.speed.max"}
    if quantity in told:
        return of(results, told[quantity])
    more = {"useful_load": _useful_load, "fuel_volume": _fuel, "wing_loading": _wing_loading}
    if quantity in more:
        return more[quantity](model, results)
    return Known(UNKNOWN, why=f"nothing here works out {quantity}")


def of(results: Mapping[str, Result], id: str) -> Known:
    """A result by its id; unknown with its reason where there is none."""
    found = results.get(id)
    if found is None or not found.band.known:
        return Known(UNKNOWN, (id,), found.caveat if found and found.caveat else f"{id} is unknown")
    return Known(found.band, (id,), found.outside_range)


def _useful_load(model: Model, results: Mapping[str, Result]) -> Known:
    """Greatest take-off mass less empty mass; the heaviest empty mass leaves the least."""
    empty, most = of(results, "mass.empty"), model.limits.max_mass
    band = Band(most - empty.band.value, most - empty.band.high, most - empty.band.low)
    return empty._replace(band=band)


def _fuel(model: Model, results: Mapping[str, Result]) -> Known:
    """What the tank holds to the brim, or what is carried at most where no tank is drawn."""
    if "fuel.tank.volume" in results:
        return of(results, "fuel.tank.volume")._replace(said="the tank to the brim, sump counted")
    carried = sum(x.most for x in model.loads if x.kind == "fuel") / model.engine.fuel_density
    return Known(Band.exact(carried), said="the most that is carried; no tank is drawn")


def _wing_loading(model: Model, results: Mapping[str, Result]) -> Known:
    """Greatest take-off mass over the area of all wings, carried through the fuselage."""
    area = results.get("air.area")
    if area is None or not area.value > 0:
        return Known(UNKNOWN, ("air.area",), "air.area is unknown")
    return Known(Band.exact(model.limits.max_mass / area.value), ("air.area",))
