"""The loadings that load cases are made for: the corners of the designer's limits and of what may be aboard.

    max_forward, max_aft   greatest take-off mass at the foremost and the aftmost balance promised
    lightest               least mass: gusts throw it about most
    foremost, aftmost      as loaded, where the balance is furthest out

Each has its stall: greatest CL trimmed (flight room), and least CL upside down, from the same trimmed states where they
go so far. max_aft is taken to stall like max_forward, which stalls earlier: the tail presses down more.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.data.loads import RULES
from sparwright.flight.trim import Line
from sparwright.flight.work import Case, Flown
from sparwright.loads.case import Kind, Level, LoadCase
from sparwright.mass.record import Loading

SEA_LEVEL = 1.225  # kg/m3, ISO 2533: equivalent airspeed stands on it
WORDS = {
    "max_forward": "greatest mass, forward limit",
    "max_aft": "greatest mass, aft limit",
    "lightest": "lightest",
    "foremost": "foremost",
    "aftmost": "aftmost",
    "empty": "empty",
}


@dataclass(frozen=True, kw_only=True)
class Laden:
    """One loading with what its stall is."""

    key: str
    loading: Loading
    stall: float = number("m/s", "stalling speed at one g, power off; NaN where unknown")
    lift_least: float = number("1", "least CL upside down")
    why_least: str = ""  # what is to be said of it

    @property
    def words(self) -> str:
        """How it is called."""
        return WORDS[self.key]

    def least_speed(self, factor: float, area: float) -> float:
        """Speed at which a load factor is reached just at the stall, m/s: VS sqrt(n), upside down by its own CL."""
        if factor >= 0:
            return self.stall * math.sqrt(factor)
        weight = self.loading.mass * GRAVITY
        return math.sqrt(2 * factor * weight / (SEA_LEVEL * area * self.lift_least))

    def lift(self, factor: float, speed: float, area: float) -> float:
        """CL = n W/(q S)."""
        return factor * self.loading.mass * GRAVITY / (SEA_LEVEL * speed**2 / 2 * area)


def case_of(
    x: Laden,
    key: str,
    title: str,
    kind: Kind,
    rule: str,
    factor: float,
    *,
    steps: tuple[Step, ...] = (),
    caveat: str = "",
    level: Level = "limit",
    speed: float = 0.0,
    lift: float = math.nan,
    deflection: Mapping[str, float] | None = None,
    alone: bool = False,
) -> LoadCase:
    """A case of one loading; every other argument as in LoadCase.

    alone: no other loading has this case, so that key and title need not say which.
    """
    return LoadCase(
        key=key if alone else f"{key}.{x.key}",
        title=title if alone else f"{title}, {x.words}",
        kind=kind,
        rule=rule,
        level=level,
        loading=x.words,
        mass=x.loading.mass,
        station=x.loading.station,
        waterline=x.loading.waterline,
        speed=speed,
        factor=factor,
        lift=lift,
        deflection=deflection or {},
        steps=steps,
        caveat=caveat,
    )


def laden(flown: Flown) -> Mapping[str, Laden]:
    """The loadings of the load cases by name."""
    most = flown.cases["max_mass"]
    h = flown.model.limits.aft_cg
    station = flown.plane.chord_station + h * flown.plane.chord
    aft = replace(
        most.loading,
        name="greatest take-off mass at the aft limit",
        station=station,
        fraction=h,
        fraction_low=h,
        fraction_high=h,
    )
    found = {"max_forward": _laden("max_forward", most), "max_aft": replace(_laden("max_aft", most), loading=aft)}
    return found | {k: _laden(k, flown.cases[k]) for k in ("lightest", "foremost", "aftmost")}


def _laden(key: str, case: Case) -> Laden:
    least, why = least_lift(case.line)
    return Laden(key=key, loading=case.loading, stall=case.stall.speed.value, lift_least=least, why_least=why)


def least_lift(line: Line) -> tuple[float, str]:
    """(least CL upside down, what is to be said of it).

    That of the trimmed states where the lift turns round within them; else the rule's for want of better information.
    """
    rule = RULES["common"]["lift_least"]
    lifts = np.array([s.stance.lift(s.amounts) for s in line.settled])
    if lifts.size > 2 and int(lifts.argmin()) > 0:
        return float(lifts.min()), ""
    said = f"; they end at CL {lifts.min():.2f}" if lifts.size else ""
    return rule.value, f"the sections' stall upside down is not known{said}: CL {rule.value:g} is that of {rule.source}"
