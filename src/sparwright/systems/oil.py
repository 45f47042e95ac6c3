"""Oil for the flight: what a four-stroke burns of it while the fuel lasts, what a two-stroke has in its fuel.

    burnt = use t rho;   in the fuel = fuel/rho_f/ratio rho

Ratio by volume, as makers state it: parts of fuel to one of oil. rho, oil: 880 kg/m3 with 860 to 900 (common practice,
no source). A four-stroke's use is its maker's, or measured; none is guessed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from sparwright.base.check import Check, Result, Step, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.model import Model
from sparwright.flight.slow import told

DENSITY = Band(880.0, 860.0, 900.0)  # kg/m3, engine oil (common practice, no source)
OIL = "engine's maker; density of oil common practice, no source"
BURNT, MIXED = "oil burnt while the fuel lasts", "oil in a full load of fuel"


def mixed(fuel: float, density: float, ratio: float) -> Band:
    """Oil in a mass of fuel, kg, at so many parts of fuel to one of oil by volume.

    >>> round(mixed(27.2, 720.0, 50.0).value, 3)
    0.665
    """
    volume = fuel / density / ratio
    return Band(*(volume * d for d in (DENSITY.value, DENSITY.low, DENSITY.high)))


def oil_results(model: Model, by_id: Mapping[str, Result]) -> Iterator[Result]:
    """`oil.mixed` of a two-stroke, `oil.burnt` of a four-stroke."""
    engine = model.engine
    if engine.strokes == 2:
        fuel = math.fsum(x.most for x in model.loads if x.kind == "fuel")
        band = mixed(fuel, engine.fuel_density, engine.mix) if engine.mix else UNKNOWN
        given = (("fuel", fuel, "kg"), ("rho_f", engine.fuel_density, "kg/m3"), ("ratio", engine.mix or math.nan, "1"))
        step = Step("oil", "fuel/rho_f/ratio rho", given, band.value, "kg", OIL)
        why = "counted in the fuel's mass" if engine.mix else "the file gives no engine.mix; oil may be pumped apart"
        yield told(band, "oil.mixed", MIXED, "kg", OIL, why, (step,) if engine.mix else ())
        return
    time = by_id.get("flight.endurance")
    lasts = time.high if time else math.nan
    use = engine.oil_use
    known = use is not None and math.isfinite(lasts)
    band = Band(*(use * lasts * d for d in (DENSITY.value, DENSITY.low, DENSITY.high))) if known and use else UNKNOWN
    given = (("use", use or math.nan, "m3/s"), ("t", lasts, "s"), ("rho", DENSITY.value, "kg/m3"))
    step = Step("oil", "use t rho", given, band.value, "kg", OIL)
    why = "the file gives no engine.oil_use" if use is None else "" if known else "the endurance is unknown"
    yield told(band, "oil.burnt", BURNT, "kg", OIL, why or "over the longest time the fuel lasts", (step,),
               ("flight.endurance",))  # fmt: skip


def oil_checks(model: Model, burnt: Result) -> Iterator[Check]:
    """`oil.enough`: oil on board over the least, against what is burnt; a two-stroke with oil in its fuel has none."""
    if burnt.id != "oil.burnt":
        return
    loads = [x for x in model.loads if x.kind == "oil"]
    room = math.fsum(x.most - x.least for x in loads) if loads else math.nan
    why = burnt.caveat if not burnt.band.known else "" if loads else "no load of kind oil in the file"
    yield check("oil.enough", "oil between full and least, against what is burnt", Band.exact(room), burnt.high, ">=",
                "kg", rule="cfr-23-2014 23.1011(c) (memory)", method=OIL, caveat=why, parents=(burnt.id,))  # fmt: skip
