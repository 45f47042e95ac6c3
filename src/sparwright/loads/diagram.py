"""The envelope of speed and load factor: design speeds, manoeuvre and gust lines, for every loading.

Symbols: VS stall, VH greatest level speed, VA VC VD design speeds, all equivalent; n1 n2 limit load factors, W/S wing
loading at the greatest mass.

    VC min   k sqrt(W/S), k = 2.4 m/s, N/m2 (cs-vla 335) or 33 kt, lb/ft2 (23.335); need not be more than 0.9 VH
    VD min   the greater of 1.25 VC and 1.40 VC min
    VA min   VS sqrt(n1), need not be more than VC
    n        n1 up to VD; n2 at VC, straight to 0 at VD; +-(V/VS)^2 below the stall lines
    gust     1 +- rise of loads/gust.py, straight from 1 at rest to VC, and from VC to VD

A speed that the designer chooses takes the place of the least one. The gust is worked out for every loading: the
lightest is thrown about most. Range: W/S up to 20 lb/ft2 (past it the factors fall, 23.335(a)(2)); no flaps.
Sources: data/loads.toml.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from sparwright.air.told import CRUISE_LIFT
from sparwright.base.axes import GRAVITY
from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.flight.work import Flown
from sparwright.loads.code import KT, PSF, Code, both, code_of, limit_factors
from sparwright.loads.gust import Cell, Gust, air_at, in_gust
from sparwright.loads.laden import Laden, laden

HEAVIEST = 20 * PSF  # wing loading past which the factors of the speeds are others
NONE_KNOWN = "no load case: the stalling speed is unknown"


@dataclass(frozen=True, kw_only=True)
class DesignSpeed:
    """One design speed: what it is, the least the code allows, and how it came about."""

    value: float = number("m/s", "equivalent airspeed it is designed to")
    least: float = number("m/s", "the least the code allows; NaN where unknown")
    chosen: bool = False  # by the designer
    steps: tuple[Step, ...] = ()
    keys: tuple[str, ...] = ()  # rows of the code that the value stands on

    @property
    def given(self) -> tuple[str, ...]:
        """The rows it stands on; none where the designer chose it."""
        return () if self.chosen else self.keys


@dataclass(frozen=True, kw_only=True)
class Bound:
    """Where one loading's own lines run."""

    laden: Laden
    cruise: Gust  # at VC
    dive: Gust  # at VD
    manoeuvring: Gust  # VC's gust at VA
    top: float = number("m/s", "speed at which it can just be pulled to n1")
    bottom: float = number("m/s", "speed at which it can just be pushed to n2")
    stalled: float = number("m/s", "speed at which VC's gust just stalls it: gust line and stall line cross")
    crossing: float = number("m/s", "speed at which the gust line passes n1; NaN where it does not by VD")

    @property
    def gusts(self) -> tuple[tuple[str, Gust, str], ...]:
        """(speed it is met at, gust, row of the code) of each that the code asks for."""
        return ("C", self.cruise, "gust_cruise"), ("D", self.dive, "gust_dive")

    def gust(self, speed: float) -> float:
        """What the gust adds at a speed up to VD, m/s; NaN past it."""
        c, d = self.cruise, self.dive
        if speed <= c.speed:
            return c.rise * speed / c.speed
        return c.rise + (d.rise - c.rise) * (speed - c.speed) / (d.speed - c.speed) if speed <= d.speed else math.nan


@dataclass(frozen=True, kw_only=True)
class Envelope:
    """The whole diagram of a model. `why` says why there is none."""

    code: Code
    cell: Cell
    positive: float = number("1", "limit load factor it is designed to, n1")
    negative: float = number("1", "the same downwards, n2")
    asked: tuple[float, float] = number("1", "what the code asks for at least, upwards and downwards")
    level: float = number("m/s", "greatest level speed at sea level, VH; NaN where unknown")
    speeds: Mapping[str, DesignSpeed] = field(default_factory=dict)  # "A", "C", "D"
    bounds: Mapping[str, Bound] = field(default_factory=dict)
    why: str = ""
    caveat: str = ""  # how it left the methods' range

    def speed(self, key: str) -> float:
        """VA, VC or VD, m/s; NaN where unknown."""
        return self.speeds[key].value if key in self.speeds else math.nan

    def manoeuvre(self, speed: float, bound: Bound, down: bool = False) -> float:
        """Load factor of the manoeuvre line at a speed up to VD, m/s, the stall lines among it; NaN past VD."""
        if not speed <= self.speed("D"):
            return math.nan
        if not down:
            return min(self.positive, (speed / bound.laden.stall) ** 2)
        c, d = self.speed("C"), self.speed("D")
        line = self.negative * min(1.0, (d - speed) / (d - c))
        return max(line, self.negative * (speed / bound.bottom) ** 2)


def envelope(flown: Flown) -> Envelope:
    """The envelope of a model that was flown; without a stalling speed at the greatest mass there is none."""
    code, limits, every = code_of(flown.model), flown.model.limits, laden(flown)
    cell, most = cell_of(flown), every["max_forward"]
    level = flown.performance.top.speed.value
    asked = limit_factors(code, limits)
    first = Envelope(
        code=code, cell=cell, positive=limits.n_positive, negative=limits.n_negative, asked=asked, level=level
    )
    if not math.isfinite(most.stall):
        return Envelope(**{**vars(first), "why": NONE_KNOWN})
    speeds = design_speeds(flown, code, cell.area, most, level)
    bounds = {k: _bound(code, cell, x, speeds, limits.n_positive, limits.n_negative) for k, x in every.items()}
    return Envelope(**{**vars(first), "speeds": speeds, "bounds": bounds, "caveat": _outside(flown, code, cell, level)})


def cell_of(flown: Flown) -> Cell:
    """What gusts meet: area, mean geometric chord and lift slope of all wings together, tail in the slope."""
    company = flown.plane.company
    wings = [p for p in company.planforms if not p.is_tail]
    area = company.reference.area
    return Cell(
        area=area,
        chord=area / sum(p.span for p in wings),
        slope=company.lift_slope(company.angle_of(CRUISE_LIFT)),
        density=air_at(flown.model.limits.ceiling),
    )


def design_speeds(flown: Flown, code: Code, area: float, most: Laden, level: float) -> Mapping[str, DesignSpeed]:
    """VA, VC, VD with the least of each. area m2, level VH m/s or NaN."""
    limits = flown.model.limits
    loading = most.loading.mass * GRAVITY / area
    cruise_least, step, keys = least_cruise(code, loading, level)
    cruise = limits.design_cruise if limits.design_cruise is not None else cruise_least
    dive_least = max(code["dive_cruise"] * cruise, code["dive_least"] * cruise_least)
    given = (("VC", cruise, "m/s"), ("VC min", cruise_least, "m/s"))
    dive_step = code.step(
        "VD, least", "max(1.25 VC, 1.40 VC min)", given, dive_least, "m/s", "dive_cruise", "dive_least"
    )
    stalled = code["manoeuvring"] * most.stall * math.sqrt(limits.n_positive)
    least = min(stalled, cruise)
    at = (("VS", most.stall, "m/s"), ("n1", limits.n_positive, "1"), ("VC", cruise, "m/s"))
    pull_step = code.step("VA, least", "min(VS sqrt(n1), VC)", at, least, "m/s", "manoeuvring")
    dive_keys = ("dive_cruise", "dive_least", *keys)
    return {
        "A": _speed(limits.design_manoeuvring, least, (pull_step,), ("manoeuvring",)),
        "C": _speed(limits.design_cruise, cruise_least, (step,), keys),
        "D": _speed(limits.design_dive, dive_least, (dive_step,), dive_keys),
    }


def _speed(chosen: float | None, least: float, steps: tuple[Step, ...], keys: tuple[str, ...]) -> DesignSpeed:
    value = least if chosen is None else chosen
    return DesignSpeed(value=value, least=least, chosen=chosen is not None, steps=steps, keys=keys)


def least_cruise(code: Code, loading: float, level: float) -> tuple[float, Step, tuple[str, ...]]:
    """The least VC, its working, and the rows it stands on; loading W/S in Pa."""
    law = code["cruise_law"] * code.of_loading(loading, KT)
    formula = "33 sqrt(W/S) kt, W/S in lb/ft2" if code.imperial else "2.4 sqrt(Mg/S) m/s, Mg/S in N/m2"
    most = code["cruise_part"] * level
    capped = most < law  # not where VH is NaN
    given = (("W/S", loading, "Pa"), ("law", law, "m/s"), ("VH", level, "m/s"))
    keys = ("cruise_law", "cruise_part") if capped else ("cruise_law",)
    least = most if capped else law
    return least, code.step("VC, least", f"{formula}; need not be over 0.9 VH", given, least, "m/s", *keys), keys


def _bound(code: Code, cell: Cell, x: Laden, speeds: Mapping[str, DesignSpeed], up: float, down: float) -> Bound:
    mass, a, c, d = x.loading.mass, *(speeds[k].value for k in "ACD")
    cruise, dive = in_gust(code, cell, mass, c, code["gust_cruise"]), in_gust(code, cell, mass, d, code["gust_dive"])
    slope = cruise.rise / c
    return Bound(
        laden=x,
        cruise=cruise,
        dive=dive,
        manoeuvring=in_gust(code, cell, mass, a, code["gust_cruise"]),
        top=x.least_speed(up, cell.area),
        bottom=x.least_speed(down, cell.area),
        stalled=x.stall**2 * (slope + math.sqrt(slope**2 + 4 / x.stall**2)) / 2,
        crossing=_crossing(cruise, dive, up),
    )


def _crossing(cruise: Gust, dive: Gust, up: float) -> float:
    """Where the gust line first passes n1: before VC, or between VC and VD."""
    if cruise.up >= up:
        return (up - 1) * cruise.speed / cruise.rise
    if dive.up < up:
        return math.nan
    return cruise.speed + (dive.speed - cruise.speed) * (up - cruise.up) / (dive.up - cruise.up)


def _outside(flown: Flown, code: Code, cell: Cell, level: float) -> str:
    return both(*_outsides(flown, code, cell, level))


def _outsides(flown: Flown, code: Code, cell: Cell, level: float) -> Iterator[str]:
    limits = flown.model.limits
    if limits.max_mass * GRAVITY / cell.area > HEAVIEST:
        yield f"wing loading over 20 lb/ft2: the factors of {code.cite('cruise_law')} fall there, not done here"
    if limits.ceiling is None and code.imperial:
        yield "the file does not say limits.ceiling: 23.321(b)(1) asks for every height, gusts are told at sea level"
    if not math.isfinite(level) and limits.design_cruise is None:
        yield "greatest level speed unknown: VC is not cut down to 0.9 of it"
