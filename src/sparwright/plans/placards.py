"""What is to be written on the aeroplane, where, and which paragraph asks for it: data/placards.toml filled in.

A number that is not known, and each that a test flight or the scale must give, stays a blank line. The paragraphs are
told in our own words; the wording that counts is the authority's.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sparwright.base.check import Result
from sparwright.base.quantity import to
from sparwright.base.source import Source
from sparwright.data.categories import categories
from sparwright.data.files import tables
from sparwright.family.electrics import Circuit
from sparwright.family.model import Model

BLANK = "____"
FLOWN = f"{BLANK} kt IAS (until flown)"


@dataclass(frozen=True, kw_only=True)
class Placard:
    """One placard or marking."""

    key: str
    text: str
    where: str
    rule: str
    blanks: int = 0  # how many places are left to be filled in by hand


def placards(model: Model, by_id: Mapping[str, Result]) -> tuple[Placard, ...]:
    """Every placard of a model in the order of the table; by_id: its results, where it was worked out."""
    words = _words(model, by_id)
    return tuple(p for key, row in tables("placards.toml").items() for p in _filled(key, row, model, words))


def _filled(key: str, row: Mapping[str, str], model: Model, words: Mapping[str, str]) -> Iterator[Placard]:
    countries = {categories()[c].country for c in model.categories}
    countries |= {"eu"} if countries & {"de", "fr"} else set()
    if row.get("group") and row["group"] not in countries:
        return
    if row.get("when") and not _there(model, row["when"]):
        return
    rule = str(Source(row["source"], row["place"], row["mark"]))
    if row.get("when") != "circuits":
        yield _placard(key, row, words, rule)
        return
    for circuit in model.electrics.circuits if model.electrics else ():
        if circuit.protector != "none":
            yield _placard(f"{key}.{circuit.name}", row, {**words, **_circuit(circuit)}, rule)


def _placard(key: str, row: Mapping[str, str], words: Mapping[str, str], rule: str) -> Placard:
    text = row["text"].format_map(words)
    return Placard(key=key, text=text, where=row["where"].format_map(words), rule=rule, blanks=text.count(BLANK))


def _circuit(c: Circuit) -> dict[str, str]:
    rating = f"{c.rating:g}" if c.rating is not None else BLANK
    return {"circuit": c.name.replace("_", " ").upper(), "rating": rating, "protector": c.protector}


def _there(model: Model, thing: str) -> bool:
    """Whether a model has a thing that a placard is for."""
    fuel, e = model.fuel, model.electrics
    return {
        "tied": model.parked is not None and model.parked.wind is not None,
        "fuel": fuel is not None,
        "no_alcohol": fuel is not None and not any(f.startswith("mogas-e") for f in fuel.tank.fuels),
        "valve": fuel is not None and fuel.valve is not None,
        "emergency": fuel is not None and fuel.emergency is not None,
        "mix": model.engine.mix is not None,
        "oil": any(x.kind == "oil" for x in model.loads),
        "baggage": any(x.kind == "baggage" for x in model.loads),
        "throttle": model.seat is not None and model.seat.throttle is not None,
        "battery": e is not None and e.battery is not None,
        "circuits": e is not None,
        "pitot": model.pitot is not None,
    }[thing]


def _words(model: Model, by_id: Mapping[str, Result]) -> dict[str, str]:
    """What stands for each name in the texts."""
    limits, fuel = model.limits, model.fuel
    oil, baggage = (math.fsum(x.most for x in model.loads if x.kind == k) for k in ("oil", "baggage"))
    return {
        "family": model.family, "model": model.name,
        "never_exceed": FLOWN, "manoeuvring": FLOWN, "stall": FLOWN,
        "max_mass": _mass(limits.max_mass),
        "empty": "BY CALCULATION " + _mass(_value(by_id, "mass.empty")),
        "balance": f"{100 * limits.forward_cg:.1f} TO {100 * limits.aft_cg:.1f} % OF THE MEAN CHORD",
        "wind": _speed(model.parked.wind) if model.parked and model.parked.wind is not None else BLANK,
        "fuels": ", ".join(fuel.tank.fuels).upper() if fuel else BLANK,
        "capacity": "TANK HOLDS " + _volume(_value(by_id, "fuel.tank.filled")),
        "usable": _volume(_low(by_id, "fuel.usable")),
        "unusable": _volume(_high(by_id, "fuel.unusable")),
        "mix": f"{model.engine.mix:g}" if model.engine.mix else BLANK,
        "mixed": _mass(_value(by_id, "oil.mixed")),
        "oil": _mass(oil), "baggage": _mass(baggage),
    }  # fmt: skip


def _value(by_id: Mapping[str, Result], id: str) -> float:
    return by_id[id].value if id in by_id else math.nan


def _low(by_id: Mapping[str, Result], id: str) -> float:
    return by_id[id].low if id in by_id else math.nan


def _high(by_id: Mapping[str, Result], id: str) -> float:
    return by_id[id].high if id in by_id else math.nan


def _speed(ms: float) -> str:
    """In knots and metres a second.

    >>> _speed(15.4333)
    '30 KT (15 M/S)'
    """
    return f"{ms * 3600 / 1852:.0f} kt ({ms:.0f} m/s)".upper()


def _mass(kg: float) -> str:
    """In pounds and kilograms; a blank where it is not known.

    >>> _mass(369.678), _mass(math.nan)
    ('815 lb (370 kg)', '____')
    """
    if not math.isfinite(kg):
        return BLANK
    digits = 0 if kg >= 20 else 1
    return f"{to(kg, 'lb'):.{digits}f} lb ({kg:.{digits}f} kg)"


def _volume(m3: float) -> str:
    return f"{to(m3, 'gal'):.1f} US gal ({to(m3, 'L'):.0f} L)" if math.isfinite(m3) else BLANK
