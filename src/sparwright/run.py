"""The chain: one model in, a frozen result out. Each stage takes the results it needs and gives one new record.

>>> import sparwright as sw
>>> family = sw.load("examples/whinchat/whinchat.toml")   # doctest: +SKIP
>>> sw.run(family, "W1").verdict                          # doctest: +SKIP
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from sparwright import __version__
from sparwright.aeroelastic.told import Aeroelastic, aeroelastic
from sparwright.air.atmosphere import atmosphere
from sparwright.air.drag import Shape as Outside
from sparwright.air.drag import StrutForDrag
from sparwright.air.polars import Polars, Told, worked_out
from sparwright.air.told import air_results
from sparwright.base.check import Check, Result, Verdict, overall
from sparwright.base.problem import DesignProblem
from sparwright.controls.chain import controls_told
from sparwright.family.controls import Rod
from sparwright.family.model import Family, Model, Strut, Wire
from sparwright.flight.fly import Flight, fly
from sparwright.flight.overspeed_told import overspeed_told
from sparwright.flight.rigging import rigging_results
from sparwright.ground.told import on_ground
from sparwright.handling.chain import handling
from sparwright.handling.pitch_told import Curve
from sparwright.loads.diagram import Envelope, envelope
from sparwright.loads.envelope_told import envelope_told
from sparwright.loads.every import every_case
from sparwright.margins.chain import Margins, proved
from sparwright.mass.compared import compared_results
from sparwright.mass.hinged import hinge_results
from sparwright.mass.record import Balance
from sparwright.mass.told import mass_checks, mass_results
from sparwright.mass.weigh import weigh
from sparwright.mass.weighed import as_weighed, weighed_results
from sparwright.occupant.told import occupant_told
from sparwright.parts.control_bodies import number as control_number
from sparwright.parts.cowling import cowling_checks
from sparwright.parts.ends_told import end_results
from sparwright.parts.flat_sheets import laid_sheets
from sparwright.parts.frame import frame_tubes
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Assembly, Part
from sparwright.parts.struts import strut_number, wire_number
from sparwright.parts.told import part_checks
from sparwright.parts.travel import travel_checks
from sparwright.parts.trials import tried_check
from sparwright.plans.rigging import setting_results
from sparwright.power.told import engine_results
from sparwright.rules.categories import licence_checks
from sparwright.shape.tube import Tube
from sparwright.strength.allowed import results as allowed
from sparwright.systems.all_told import systems_told
from sparwright.systems.exhaust import exhaust_checks
from sparwright.systems.fuel import stands
from sparwright.systems.fuel_checks import fuel_told

PROGRAM = f"Sparwright {__version__}"


@dataclass(frozen=True)
class RunResult:
    """Everything known of one model."""

    family: str
    model: str
    program: str
    file_sha256: str
    results: tuple[Result, ...]
    checks: tuple[Check, ...]
    assembly: Assembly
    balance: Balance
    flight: Flight
    envelope: Envelope
    margins: Margins
    shaken: Aeroelastic
    curves: tuple[Curve, ...] = ()  # stick force over speed, of the foremost and the aftmost loading

    @property
    def verdict(self) -> Verdict:
        """All checks together."""
        return overall(self.checks)

    def result(self, id: str) -> Result:
        """The result of that id; KeyError when there is none."""
        for r in self.results:
            if r.id == id:
                return r
        raise KeyError(id)


def run(
    family: Family, model: str, progress: Told | None = None, polars: Polars = worked_out, measured: bool = True
) -> RunResult:
    """Work out one model of a family.

    progress is called with how far it is (0 to 1) and the stage that begins. polars gives the polars of the sections;
    without one they are worked out here, which takes minutes (cli.polars keeps them). measured: whether the parts are
    measured on their bodies, which takes some seconds; without it those checks are left out. Raises KeyError for a
    model the family has not, DesignProblem for a shape that cannot be made.
    """
    told = progress or (lambda done, stage: None)
    chosen = family.models[model]
    told(0.0, "parts")
    assembly = lay_out(chosen)
    told(0.1, "parts against each other")
    fits = _fits(chosen, assembly, measured)
    told(0.35, "controls")
    moved = controls_told(chosen, assembly, measured)
    told(0.4, "weights")
    balance = weigh(chosen, as_weighed(chosen, assembly))
    told(0.45, "air")
    struts = in_the_wind(chosen, assembly)
    try:
        flight = fly(chosen, balance, struts, atmosphere(0.0), polars, lambda done, what: told(0.5 + 0.3 * done, what))
    except ValueError as fault:
        raise DesignProblem(f"{model}: {fault}") from fault
    told(0.8, "loads and strength")
    sized = envelope(flight.flown)
    cases = every_case(chosen, balance, flight.flown, sized)
    held_up = proved(chosen, assembly, balance, flight.flown, cases, moved.found)
    bones = held_up.answer.skeleton if held_up.answer else None
    shaken = aeroelastic(chosen, assembly, flight.flown, sized, moved.found, bones, held_up.lumps)
    of_loads, loads_held = envelope_told(sized, chosen.limits)
    flown, in_flight = flight.flown, {r.id: r for r in flight.results}
    _, on_wheels, wheels_held = on_ground(balance, flight)
    stood = stands(flown)
    fuel, besides = fuel_told(flown, assembly, stood), systems_told(flown, in_flight)
    seated = occupant_told(flight, on_wheels, stood)
    turned, turned_held = overspeed_told(flown, sized.speeds["D"].value if "D" in sized.speeds else math.nan)
    of_mass = _of_mass(chosen, assembly, balance)
    held = handling(flown, moved.found, {r.id: r for r in of_mass})
    results = (
        *of_mass,
        *air_results(flown.plane.company),
        *engine_results(chosen.engine),
        *flight.results,
        *turned,
        *fuel.results,
        *besides.results,
        *on_wheels,
        *seated.results,
        *moved.results,
        *held.results,
        *of_loads,
        *held_up.results,
        *shaken.results,
        *allowed(chosen),
        *setting_results(chosen),
        *rigging_results(flown, in_flight),
        *compared_results(chosen, balance, in_flight["flight.speed.max"].value),
    )
    checks = (
        *fits,
        *mass_checks(chosen, balance),
        *flight.checks,
        *turned_held,
        *fuel.checks,
        *besides.checks,
        *wheels_held,
        *seated.checks,
        *moved.checks,
        *held.checks,
        *loads_held,
        *(replace(c, part=assembly.right(c.part)) for c in held_up.checks),
        *shaken.checks,
        *licence_checks(chosen, {r.id: r for r in results}),
    )
    return RunResult(family.name, model, PROGRAM, family.sha256, results, checks, assembly, balance, flight, sized,
                     held_up, shaken, held.curves)  # fmt: skip


def _fits(model: Model, assembly: Assembly, measured: bool) -> tuple[Check, ...]:
    """What is checked on the parts themselves; what is measured against each other is left out where not wanted."""
    bodies = (*part_checks(assembly, measure(assembly)), *travel_checks(model, assembly)) if measured else ()
    laid = laid_sheets(model, frame_tubes(model))
    return (*bodies, tried_check(model, assembly), *cowling_checks(model, laid), *exhaust_checks(model, assembly))


def _of_mass(model: Model, assembly: Assembly, balance: Balance) -> tuple[Result, ...]:
    """Weights, balance, what was weighed, moments about hinge lines, lengths of struts and wires."""
    whole = (*mass_results(model, balance), *weighed_results(model, assembly, balance))
    return (*whole, *hinge_results(model, assembly), *end_results(model))


def in_the_wind(model: Model, assembly: Assembly) -> tuple[StrutForDrag, ...]:
    """What the wind sees of struts, wires and links: length, width across the wind, shape, how many, where they end."""
    struts = [_in_the_wind(s, assembly.part(strut_number(model, s)), _across(s), s.fairing) for s in model.struts]
    wires = [_in_the_wind(w, assembly.part(wire_number(model, w)), w.diameter, "wire") for w in model.wires]
    return (*struts, *wires, *_links(model, assembly))


def _links(model: Model, assembly: Assembly) -> Iterator[StrutForDrag]:
    """The push-pull tubes from aileron to aileron: what another wing on their way hides of them is not taken off."""
    for rod in model.controls.rods if model.controls else ():
        if all(end.startswith("lug.") for end in rod.ends):
            line = assembly.part(control_number(model, "ROD", rod.name, "R" if rod.pair else "")).shape
            assert isinstance(line, Tube)
            ends, count = (line.start, line.end), 2 if rod.pair else 1
            yield StrutForDrag(rod.name, line.length, _across(rod), rod.fairing, count, ends, len(ends))


def _across(strut: Strut | Rod) -> float:
    return strut.faired_width if strut.fairing == "streamline" else strut.tube.outside


def _in_the_wind(thing: Strut | Wire, part: Part, width: float, shape: Outside) -> StrutForDrag:
    line = part.shape
    assert isinstance(line, Tube)
    on_wings = sum(1 for end in thing.ends if end.wing or end.tail)
    return StrutForDrag(thing.name, line.length, width, shape, part.count, (line.start, line.end), on_wings)
