"""Licence categories: each limit held against what other rooms have worked out, in the unit of its paragraph."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sparwright.base.check import Check, Result, check
from sparwright.base.quantity import to
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.loader import Category, categories
from sparwright.family.model import Model

TITLES = {
    "max_mass": "greatest take-off mass",
    "useful_load": "useful load",
    "stall_landing": "stall, landing configuration",
    "stall_clean": "stall, clean",
    "level_speed": "level speed at full power",
    "seats": "seats",
    "empty_mass": "empty mass",
    "fuel_volume": "fuel",
}
UNITS = {"max_mass": "kg", "useful_load": "kg", "empty_mass": "kg", "fuel_volume": "m3", "seats": "1"}
STALL = "flight.stall.max_mass"
INDICATED = "flight.stall.indicated.max_mass"


def licence_checks(model: Model, results: Mapping[str, Result]) -> tuple[Check, ...]:
    """One check for each limit of each category the family names."""
    return tuple(c for key in model.categories for c in _category(model, categories()[key], results))


def _category(model: Model, category: Category, results: Mapping[str, Result]) -> Iterator[Check]:
    for limit in category.limits:
        band, parents, why = _value(model, limit.quantity, results)
        said = f"limit {limit.source}"
        if limit.speed == "IAS" and not why:
            band, parents, why, note = _indicated(model, limit.quantity, band, parents, results)
            said = "; ".join(x for x in (note, said) if x)
        allowed = limit.value + limit.per_power * max(p.power for p in model.engine.curve)
        wording = f"{limit.text} {limit.speed}".strip() + (f" + {limit.per_power_text}" if limit.per_power_text else "")
        yield check(
            f"rules.{category.key}.{limit.quantity}",
            f"{category.title}: {TITLES[limit.quantity]}",
            band,
            allowed,
            limit.sense,
            UNITS.get(limit.quantity, "m/s"),
            rule=f"{limit.paragraph}: {limit.sense} {wording}",
            method="compared, not computed",
            caveat=said,
            outside_range=why,
            parents=parents,
        )


def _value(model: Model, quantity: str, results: Mapping[str, Result]) -> tuple[Band, tuple[str, ...], str]:
    """(band, ids it comes from, why it is unknown)."""
    if quantity == "max_mass":
        return Band.exact(model.limits.max_mass), (), ""
    if quantity == "seats":
        return Band.exact(float(sum(1 for x in model.loads if x.kind == "pilot"))), (), ""
    if quantity in ("stall_landing", "stall_clean"):
        return _of(results, STALL)
    if quantity == "empty_mass":
        return _of(results, "mass.empty")
    if quantity == "level_speed":
        return _of(results, "flight.speed.max")
    if quantity == "useful_load":
        empty, parents, why = _of(results, "mass.empty")
        most = model.limits.max_mass
        return Band(most - empty.value, most - empty.high, most - empty.low), parents, why
    if quantity == "fuel_volume":
        fuel = sum(x.most for x in model.loads if x.kind == "fuel") / model.engine.fuel_density
        return Band.exact(fuel), (), ""
    return UNKNOWN, (), f"nothing here works out {quantity}"


def _indicated(
    model: Model, quantity: str, calibrated: Band, parents: tuple[str, ...], results: Mapping[str, Result]
) -> tuple[Band, tuple[str, ...], str, str]:
    """(band, ids it comes from, why it is unknown, what is to be said) of a limit in indicated airspeed.

    The position error is one near the stall, so a stalling speed is all it can be used for.
    """
    if quantity.startswith("stall") and model.limits.position_error:
        band, parents, why = _of(results, INDICATED)
        return band, parents, why, "" if why else results[INDICATED].caveat
    near = ", position_error in [limits] would settle it" if quantity.startswith("stall") else ""
    why = (
        f"the paragraph is in indicated airspeed and the position error is unknown until flown{near}; "
        f"calibrated it is {to(calibrated.low, 'kt'):.1f} to {to(calibrated.high, 'kt'):.1f} kt"
    )
    return calibrated, parents, why, ""


def _of(results: Mapping[str, Result], id: str) -> tuple[Band, tuple[str, ...], str]:
    found = results.get(id)
    if found is None or not found.band.known:
        return UNKNOWN, (id,), found.caveat if found and found.caveat else f"{id} is unknown"
    return found.band, (id,), found.outside_range
