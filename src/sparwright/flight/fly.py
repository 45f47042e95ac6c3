"""The flight room's one door: a model in; tables, results with their working, and checks out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sparwright.air.atmosphere import Air, atmosphere
from sparwright.air.drag import StrutForDrag
from sparwright.air.polars import Polars, Told, worked_out
from sparwright.base.check import Check, Result, check
from sparwright.base.source import Band
from sparwright.family.model import Model
from sparwright.flight import fast, slow
from sparwright.flight.cruise_told import cruise_results
from sparwright.flight.days_told import day_results
from sparwright.flight.drag_table import table_results
from sparwright.flight.field_told import field_results
from sparwright.flight.indicated import indicated_results
from sparwright.flight.lateral import Lateral, lateral
from sparwright.flight.modes_told import mode_results
from sparwright.flight.near_ground import ground_checks, ground_results, upwards
from sparwright.flight.performance import Row
from sparwright.flight.power_told import power_on_checks, power_on_results, pulls
from sparwright.flight.powered import power_results
from sparwright.flight.propeller_told import flying_results, standing_results
from sparwright.flight.roll import roll_checks, roll_results
from sparwright.flight.slip import slip_checks, slip_results
from sparwright.flight.tail_flow import tail_flows, tail_results
from sparwright.flight.trim_drag import trim_drag_results
from sparwright.flight.wings_stall import wings_stall_results
from sparwright.flight.work import Flown, work_out
from sparwright.mass.record import Balance


@dataclass(frozen=True)
class Flight:
    """The flight of a model: tables for the sheets, results and checks for everybody."""

    flown: Flown
    results: tuple[Result, ...]
    checks: tuple[Check, ...]

    @property
    def rows(self) -> tuple[Row, ...]:
        """Level flight at round engine speeds."""
        return self.flown.performance.rows


def fly(
    model: Model,
    balance: Balance,
    struts: tuple[StrutForDrag, ...],
    air: Air | None = None,
    polars: Polars = worked_out,
    told: Told | None = None,
) -> Flight:
    """Fly a model: `struts` are its struts and wires in the wind.

    air: sea level, standard day, when not given. polars: gives the section polars; told is called while it does. Raises
    ValueError for a model that cannot be trimmed at all.
    """
    flown = work_out(model, balance, struts, air or atmosphere(0.0), polars, told)
    sideways = lateral(flown)
    results = tuple(_results(flown, sideways))
    return Flight(flown, results, tuple(_checks(flown, sideways, {r.id: r for r in results})))


def _results(flown: Flown, sideways: Lateral) -> Iterator[Result]:
    for name, case in flown.cases.items():
        yield slow.stall_result(flown, name, case)
        yield slow.elevator_result(name, case)
        yield slow.margin_result(flown, name, case)
    yield from indicated_results(flown)
    yield from wings_stall_results(flown)
    yield slow.neutral_result(flown)
    flows = tail_flows(flown)
    yield from tail_results(flown, flows)
    yield from power_on_results(flown, pulls(flown, flown.moved, flows))
    ground = tuple(ground_results(flown))
    yield from ground
    yield from power_results(flown)
    yield Result(
        "flight.tail_volume",
        "tail volume",
        flown.tail_volume,
        "1",
        flown.tail_volume,
        flown.tail_volume,
        "anderson-flight eq. 7.16",
    )
    yield from standing_results(flown)
    yield from flying_results(flown, fast.cruise_row(flown))
    yield from fast.speed_results(flown)
    yield from cruise_results(flown)
    yield from fast.drag_results(flown)
    yield from trim_drag_results(flown)
    yield from field_results(flown, {r.id: r for r in ground})
    yield from day_results(flown, {r.id: r for r in ground})
    yield from roll_results(sideways)
    yield from slip_results(sideways)
    yield from mode_results(sideways)
    yield from table_results(flown)


def _checks(flown: Flown, sideways: Lateral, by_id: Mapping[str, Result]) -> Iterator[Check]:
    limits, hn = flown.model.limits, flown.neutral_point
    margin = Band(*(x - limits.aft_cg for x in (hn.value, hn.low, hn.high)))
    yield check(
        "flight.static_margin",
        "static margin, stick fixed, at the aft limit of the balance",
        margin,
        limits.least_static_margin,
        ">=",
        "1",
        case="aft limit",
        rule="the designer's own limit",
        method="anderson-flight ch. 7, by the lattice",
        parents=("flight.neutral_point",),
    )
    for name in ("foremost", "max_mass"):
        wanted = by_id[f"flight.elevator.wake.{name}"]
        yield check(
            f"flight.elevator.authority.{name}",
            f"up elevator wanted to stall, {slow.TITLES[name]}",
            upwards(wanted.band),
            flown.plane.model.tailplane.up,
            "<=",
            "rad",
            case=name,
            rule="the elevator must reach the stall (designer's)",
            method="anderson-flight ch. 7, by the lattice",
            caveat=f"power off, out of ground effect; {wanted.caveat}",
            outside_range="" if wanted.band.known else wanted.caveat,
            parents=(wanted.id,),
        )
    yield from power_on_checks(flown, by_id)
    yield from ground_checks(flown, by_id)
    yield from roll_checks(by_id)
    yield from slip_checks(sideways, by_id)
