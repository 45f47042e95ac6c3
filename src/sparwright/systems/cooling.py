"""How large the openings of the cooling air must be, by power and speed of the climb.

    A = q P/V      q = 20 cubic feet a minute for each horsepower; V the flying speed, which the air keeps

Source: thorp-1963, read as quoted: small air-cooled engines want about 20 cubic feet a minute and horsepower, 0.325
square inches a horsepower at 100 mph, for inlet and outlet alike, a first proportion before corrections for the shape
of inlet and outlet. Those were not seen; the band 0.8 to 1.3 stands for them (common practice, no source). Range:
four-stroke engines cooled by ram air through a cowling; fans, liquids and two-strokes are their maker's.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from sparwright.base.check import Check, Result, Step, check
from sparwright.base.quantity import to
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.model import Engine
from sparwright.flight.slow import told
from sparwright.flight.work import Flown

PER_HP = 20.0  # ft3/min each horsepower
FLOW = PER_HP / to(1.0, "ft") ** 3 / 60 / (1 / to(1.0, "hp"))  # m3/s each W
ROUND = (0.8, 1.3)  # of A
SOURCE = "thorp-1963"
EXHAUST = "bore and length of the exhaust pipe are not worked out: the engine's maker gives them"


def area(power: float, speed: float) -> Band:
    """Area of inlet, or of outlet, m2, of a power in W at a flying speed in m/s.

    >>> from sparwright.base.quantity import parse
    >>> round(to(area(parse("100 hp", "power"), parse("100 mph", "speed")).value, "in2"), 1)
    32.7
    """
    likely = FLOW * power / speed
    return Band(likely, ROUND[0] * likely, ROUND[1] * likely)


def outside(engine: Engine) -> str:
    """Why the rule does not hold for an engine; empty where it does."""
    if engine.cooled == "":
        return "the file does not say how the engine is cooled: engine.cooled"
    if engine.cooled == "fan":
        return "a fan's air is not that of the flying speed: ask the engine's maker for the openings"
    if engine.cooled == "liquid":
        return "a radiator's face and duct hang on its core: ask its maker"
    return "the rule is of four-stroke engines; ask the maker of a two-stroke" if engine.strokes == 2 else ""


def cooling_results(flown: Flown) -> Iterator[Result]:
    """`cooling.area`: what inlet and outlet want at full throttle in the best climb."""
    engine, climb = flown.model.engine, flown.performance.climb
    power = max((p.power for p in engine.curve), default=math.nan)
    why = outside(engine) or (climb.reason if not climb.speed.known else "")
    band = area(power, climb.speed.value) if not why else UNKNOWN
    given = (("q", FLOW, "m3/s/W"), ("P", power, "W"), ("V", climb.speed.value, "m/s"))
    step = Step("openings", "A = q P/V", given, band.value, "m2", SOURCE)
    note = why or f"a first proportion; measure cylinder heads in the first climbs; {EXHAUST}"
    yield told(band, "cooling.area", "inlet, and outlet, for cooling air in the best climb at full throttle", "m2",
               SOURCE, note, (step,) if not why else (), ("flight.climb.rate",))  # fmt: skip


def cooling_checks(flown: Flown) -> Iterator[Check]:
    """`cooling.inlet` and `cooling.outlet`: the file's openings against the high end of what is wanted."""
    (want,) = cooling_results(flown)
    for name in ("inlet", "outlet"):
        there = getattr(flown.model.engine, f"cooling_{name}")
        why = want.caveat if not want.band.known else "" if there is not None else f"the file gives no cooling_{name}"
        yield check(f"cooling.{name}", f"{name} of the cooling air, against the most it may want",
                    Band.exact(math.nan if there is None else there), want.high, ">=", "m2", rule=SOURCE, method=SOURCE,
                    caveat=why or "a fast climb at low speed wants more", steps=want.steps,
                    parents=("cooling.area",))  # fmt: skip
