"""Every system besides fuel, in the order it is told: electrics, pitot and static, cooling, oil."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sparwright.base.check import Check, Result
from sparwright.flight.work import Flown
from sparwright.systems.cooling import cooling_checks, cooling_results
from sparwright.systems.electrics_told import electrics_checks, electrics_results
from sparwright.systems.oil import oil_checks, oil_results
from sparwright.systems.pitot import pitot_results


@dataclass(frozen=True)
class SystemsTold:
    """What is said of them."""

    results: tuple[Result, ...]
    checks: tuple[Check, ...]


def systems_told(flown: Flown, by_id: Mapping[str, Result]) -> SystemsTold:
    """Results and checks `electrics.*`, `pitot.*`, `cooling.*`, `oil.*`; by_id: those of flight."""
    model = flown.model
    oil = tuple(oil_results(model, by_id))
    results = (*electrics_results(model), *pitot_results(flown), *cooling_results(flown), *oil)
    checks = (*electrics_checks(model), *cooling_checks(flown), *(c for r in oil for c in oil_checks(model, r)))
    return SystemsTold(results, checks)
