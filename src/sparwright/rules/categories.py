"""Licence categories: each limit held against what other rooms have worked out, in the unit of its paragraph.

A limit from memory settles nothing until the designer has read it (`[[confirmed]]` of the family file).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from sparwright.base.check import Check, Result, Step, check
from sparwright.base.quantity import to
from sparwright.base.source import Band
from sparwright.data.categories import ASK, Category, Limit, categories
from sparwright.family.model import Model
from sparwright.rules.conditions import evidence, met
from sparwright.rules.quantities import INDICATED, Known, of, seats, worked_out

TITLES = {
    "max_mass": "greatest take-off mass",
    "useful_load": "useful load",
    "stall_landing": "stall, landing configuration",
    "stall_clean": "stall, clean",
    "level_speed": "level speed at full power",
    "seats": "seats",
    "passenger_seats": "seats besides the pilot's",
    "empty_mass": "empty mass",
    "fuel_volume": "fuel",
    "wing_loading": "wing loading",
    "power": "rated power",
}
SI = {"kt": "m/s", "km/h": "m/s", "mph": "m/s", "kg": "kg", "lb": "kg", "gal": "m3", "L": "m3", "hp": "W", "kW": "W",
      "kg/m2": "kg/m2", "lb/ft2": "kg/m2", "": "1"}  # fmt: skip
SAME = 1e-12  # of the limit: what a sum in floating point may be off by; nearer than this is at the limit


def licence_checks(model: Model, results: Mapping[str, Result]) -> tuple[Check, ...]:
    """One check for each limit of each category the family names, and one for what is asked that is no number."""
    return tuple(c for key in model.categories for c in _category(model, categories()[key], results))


def _category(model: Model, category: Category, results: Mapping[str, Result]) -> Iterator[Check]:
    yield from (limit_check(model, category, limit, results) for limit in category.limits)
    if category.conditions or category.until:
        yield conditions_check(model, category)


def limit_check(model: Model, category: Category, limit: Limit, results: Mapping[str, Result]) -> Check:
    """One limit of one category, at the unfavourable end of what is known."""
    found = speed_known(model, limit, results) if limit.speed else worked_out(model, limit.quantity, results)
    allowed = limit.value(seats(model)) + limit.per_power * rated(model)
    unsettled = "; ".join(x for x in (_from_memory(model, category, limit), _no_limit(model, limit), found.why) if x)
    said = (evidence(model, category, limit.key), found.said, f"limit {limit.source}", category.in_force, ASK)
    band = snapped(found.band, allowed)
    return check(
        f"rules.{category.key}.{limit.key}",
        f"{category.title}: {name_of(limit)}",
        band,
        allowed,
        limit.sense,
        SI[limit.unit],
        rule=f"{limit.paragraph}: {limit.sense} {wording(limit, seats(model))}",
        method="compared, not computed",
        caveat="; ".join(x for x in said if x),
        outside_range=unsettled,
        steps=_steps(model, limit, band),
        parents=found.parents,
    )


def conditions_check(model: Model, category: Category) -> Check:
    """What a category asks for that is no number: how many conditions are not met or not settled, nought wanted."""
    judged = [(c, *met(model, category, c)) for c in category.conditions]
    failed = [f"{c.key}: {c.says} ({why})" for c, verdict, why in judged if verdict == "fail"]
    open_ = [f"{c.key}: {c.says}" for c, verdict, _ in judged if verdict == "unknown"]
    past = f"{category.in_force}: ask what stands in its place" if category.until else ""
    unsettled = "; ".join(x for x in (past, f"not confirmed: {'; '.join(open_)}" if open_ else "") if x)
    settled = "; ".join(f"{c.key}: {why}" for c, verdict, why in judged if verdict == "pass")
    return check(
        f"rules.{category.key}.conditions",
        f"{category.title}: what is asked besides numbers, not met or not settled",
        Band.exact(float(len(failed) + len(open_))),
        0.0,
        "<=",
        "1",
        rule="; ".join(dict.fromkeys(c.paragraph for c in category.conditions)),
        method="answered by the family file, or confirmed in it",
        caveat="; ".join(x for x in (*failed, f"settled: {settled}" if settled else "", ASK) if x),
        outside_range="" if failed else unsettled,
    )


def name_of(limit: Limit) -> str:
    """What the limit is of; with its unit where a category has a second limit of the same."""
    return TITLES[limit.quantity] + (f", in {limit.unit}" if limit.key != limit.quantity else "")


def wording(limit: Limit, count: int) -> str:
    """The limit as the paragraph has it for that many seats: "39 kt IAS", "175 lb + 0.5 lb/hp"."""
    kind = "" if limit.speed == "unnamed" else limit.speed
    power = f" + {limit.per_power_text}" if limit.per_power_text else ""
    return f"{limit.text(count) or 'no limit for that many seats'} {kind}".strip() + power


def in_words(value: float, limit: Limit) -> float:
    """An SI value in the unit the paragraph is written in."""
    return to(value, limit.unit) if limit.unit else value


def as_written(model: Model, limit: Limit) -> float:
    """What the limit allows the model, as the paragraph counts it (39 kt is 39); NaN when it says nothing."""
    text = limit.text(seats(model))
    power = in_words(limit.per_power * rated(model), limit) if limit.per_power else 0.0
    return float(text.split()[0]) + power if text else math.nan


def rated(model: Model) -> float:
    """Rated power, W: the greatest of the engine's curve."""
    return max(p.power for p in model.engine.curve)


def snapped(band: Band, allowed: float) -> Band:
    """The band with an end that is at the limit but for rounding put on it, so that strict and not strict differ.

    >>> snapped(Band.exact(9 + 1e-15), 9.0).high == 9.0, snapped(Band.exact(9.0001), 9.0).high
    (True, 9.0001)
    """
    near = SAME * abs(allowed)
    return Band(*(allowed if abs(x - allowed) <= near else x for x in (band.value, band.low, band.high)))


def speed_known(model: Model, limit: Limit, results: Mapping[str, Result]) -> Known:
    """The speed of the kind the paragraph names; of both kinds where it names none, which must then agree."""
    calibrated = worked_out(model, limit.quantity, results)
    if limit.speed == "CAS" or calibrated.why:
        return calibrated
    indicated = _indicated(model, limit.quantity, calibrated, results)
    if limit.speed == "IAS" or indicated.why:
        return indicated
    allowed = limit.value(seats(model))
    verdicts = {check("", "", k.band, allowed, limit.sense, "m/s").verdict for k in (calibrated, indicated)}
    apart = "the paragraph names neither airspeed; calibrated and indicated do not agree" if len(verdicts) > 1 else ""
    worse = max(calibrated, indicated, key=lambda k: k.band.high)
    said = "; ".join(x for x in (indicated.said, "the paragraph names neither airspeed; the greater is told") if x)
    return Known(worse.band, (*calibrated.parents, *indicated.parents), apart, said)


def _indicated(model: Model, quantity: str, calibrated: Known, results: Mapping[str, Result]) -> Known:
    """A limit in indicated airspeed. The position error is one near the stall: it can be used for a stall alone."""
    stall = quantity.startswith("stall")
    if stall and model.limits.position_error:
        found = of(results, INDICATED)
        return Known(found.band, found.parents, found.why, "" if found.why else results[INDICATED].caveat)
    near = ", position_error in [limits] would settle it" if stall else ""
    low, high = (to(x, "kt") for x in (calibrated.band.low, calibrated.band.high))
    why = (
        f"the paragraph is in indicated airspeed and the position error is unknown until flown{near}; "
        f"calibrated it is {low:.1f} to {high:.1f} kt"
    )
    return Known(calibrated.band, calibrated.parents, why)


def _from_memory(model: Model, category: Category, limit: Limit) -> str:
    """Why a limit from memory settles nothing; empty for one that was read, or that the designer has confirmed."""
    if limit.source.mark != "memory" or evidence(model, category, limit.key):
        return ""
    return (
        "this limit is recalled, nobody here has read it; [[confirmed]] with "
        f'category = "{category.key}", row = "{limit.key}" settles it'
    )


def _no_limit(model: Model, limit: Limit) -> str:
    count = seats(model)
    return "" if limit.text(count) else f"the paragraph gives no limit for {count} seat{'s' if count != 1 else ''}"


def _steps(model: Model, limit: Limit, band: Band) -> tuple[Step, ...]:
    """The value and what is allowed, in the paragraph's unit, to be compared by eye; SI needs no turning."""
    if not limit.unit:
        return ()
    value, si = band.low if limit.sense == ">=" else band.high, SI[limit.unit]
    given = (("value", value, si), (f"1 {limit.unit}", 1.0 / in_words(1.0, limit), si))
    told = Step(f"the value in {limit.unit}", f"value / 1 {limit.unit}", given, in_words(value, limit), limit.unit)
    power = (("P", rated(model), "W"),) if limit.per_power else ()
    words, source = wording(limit, seats(model)) + (" P" if power else ""), f"{limit.paragraph}; {limit.source}"
    allowed = Step("what is allowed", words, power, as_written(model, limit), limit.unit, source)
    return (allowed,) if limit.unit == si else (told, allowed)
