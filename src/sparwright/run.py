"""The chain: one model in, a frozen result out. Each stage takes the results it needs and gives one new record.

`worked_through` is the way of the numbers: every stage whose outcome another one takes. `rooms` is the order in which
they are told: each room gives results and checks.

>>> import sparwright as sw
>>> family = sw.load("examples/whinchat/whinchat.toml")   # doctest: +SKIP
>>> sw.run(family, "W1").verdict                          # doctest: +SKIP
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Protocol

from sparwright import __version__
from sparwright.aeroelastic.told import Aeroelastic, aeroelastic
from sparwright.air.atmosphere import atmosphere
from sparwright.air.polars import Polars, Told, worked_out
from sparwright.air.told import air_results
from sparwright.base.check import Check, Result, Verdict, overall
from sparwright.base.problem import DesignProblem
from sparwright.controls.chain import ControlsTold, controls_told
from sparwright.family.measured_sheets import at_strength
from sparwright.family.model import Family, Model
from sparwright.flight.fly import Flight, fly
from sparwright.flight.in_the_wind import in_the_wind
from sparwright.flight.overspeed_told import overspeed_told
from sparwright.flight.rigging import rigging_results
from sparwright.ground.told import on_ground
from sparwright.handling.chain import HandlingTold, handling
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
from sparwright.parts.cowling import cowling_checks
from sparwright.parts.ends_told import end_results
from sparwright.parts.flat_sheets import laid_sheets
from sparwright.parts.frame import frame_tubes
from sparwright.parts.from_measured import counted_in, measured_results
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Assembly
from sparwright.parts.told import part_checks
from sparwright.parts.travel import travel_checks
from sparwright.parts.trials import tried_check
from sparwright.plans.rigging import setting_results
from sparwright.power.told import engine_results
from sparwright.proof.chain import proof_told
from sparwright.proof.record import Proof
from sparwright.rules.categories import licence_checks
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
    proof: Proof
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
    work = worked_through(family.models[model], told, polars, measured)
    said = rooms(work)
    results = tuple(r for room in said for r in room.results)
    checks = tuple(c for room in said for c in room.checks)
    licences = licence_checks(work.model, _by_id(results))
    return RunResult(family.name, model, PROGRAM, family.sha256, results, (*checks, *licences), work.assembly,
                     work.balance, work.flight, work.envelope, work.margins, work.shaken, work.proof,
                     work.handled.curves)  # fmt: skip


class Room(Protocol):
    """What one room says of a model."""

    @property
    def results(self) -> tuple[Result, ...]: ...
    @property
    def checks(self) -> tuple[Check, ...]: ...


@dataclass(frozen=True)
class Said:
    """What a room says that has no record of its own."""

    results: tuple[Result, ...] = ()
    checks: tuple[Check, ...] = ()


@dataclass(frozen=True)
class Work:
    """A model and what each stage made of it."""

    model: Model
    assembly: Assembly
    fits: Said
    moved: ControlsTold
    balance: Balance
    weights: Said
    flight: Flight
    handled: HandlingTold
    envelope: Envelope
    margins: Margins
    shaken: Aeroelastic
    proof: Proof


def worked_through(model: Model, told: Told, polars: Polars, measured: bool) -> Work:
    """Parts, what they weigh, how it flies, what it bears: each stage from those before it. Arguments as of `run`."""
    told(0.0, "parts")
    assembly = lay_out(model)
    told(0.1, "parts against each other")
    fits = _fits(model, assembly, measured)
    told(0.35, "controls")
    moved = controls_told(model, assembly, measured)
    told(0.4, "weights")
    balance = weigh(model, as_weighed(model, assembly))
    weights = _weights(model, assembly, balance)
    told(0.45, "air")
    flight = _flown(model, assembly, balance, polars, told)
    flown = flight.flown
    told(0.8, "loads and strength")
    handled = handling(flown, moved.found, _by_id(weights.results))
    sized = envelope(flown)
    cases = every_case(model, balance, flown, sized)
    bears = at_strength(model)
    held_up = proved(bears, assembly, balance, flown, cases, moved.found)
    bones, soft = (held_up.answer.skeleton if held_up.answer else None), held_up.wrinkled(bears)
    shaken = aeroelastic(model, assembly, flown, sized, moved.found, bones, held_up.lumps, soft)
    bagged = proof_told(model, assembly, held_up.answer, held_up.laid)
    return Work(model, assembly, fits, moved, balance, weights, flight, handled, sized, held_up, shaken, bagged)


def rooms(work: Work) -> tuple[Room, ...]:
    """What every room says, in the order in which it is told; licences come after, from all results."""
    model, flight, flown, in_flight = work.model, work.flight, work.flight.flown, _by_id(work.flight.results)
    _, on_wheels, wheels_held = on_ground(work.balance, flight)
    stood = stands(flown)
    return (
        work.fits,
        work.weights,
        Said(air_results(flown.plane.company)),
        Said(tuple(engine_results(model.engine))),
        flight,
        Said(*overspeed_told(flown, work.envelope.speed("D"))),
        fuel_told(flown, work.assembly, stood),
        systems_told(flown, in_flight),
        Said(on_wheels, wheels_held),
        occupant_told(flight, on_wheels, stood),
        work.moved,
        work.handled,
        Said(*envelope_told(work.envelope, model.limits)),
        _by_right_part(work.assembly, work.margins),
        work.shaken,
        _by_right_part(work.assembly, work.proof),
        Said(allowed(model)),
        Said(tuple(setting_results(model))),
        Said(tuple(rigging_results(flown, in_flight))),
        Said(measured_results(model)),
        Said(tuple(compared_results(model, work.balance, in_flight["flight.speed.max"].value))),
    )


def _fits(model: Model, assembly: Assembly, measured: bool) -> Said:
    """What is checked on the parts themselves; what is measured against each other is left out where not wanted."""
    bodies = (*part_checks(assembly, measure(assembly)), *travel_checks(model, assembly)) if measured else ()
    laid = laid_sheets(model, frame_tubes(model))
    alone = (tried_check(model, assembly), *cowling_checks(model, laid), *exhaust_checks(model, assembly))
    return Said(checks=(*bodies, *alone))


def _weights(model: Model, assembly: Assembly, balance: Balance) -> Said:
    """Weights, balance, what was weighed, moments about hinge lines, lengths of struts and wires."""
    whole = (*mass_results(model, balance), *weighed_results(model, assembly, balance))
    return Said((*whole, *hinge_results(model, assembly), *end_results(model)), mass_checks(model, balance))


def _flown(model: Model, assembly: Assembly, balance: Balance, polars: Polars, told: Told) -> Flight:
    """The flight of a model; DesignProblem for what no lattice can be laid over."""
    struts = in_the_wind(model, assembly)
    try:
        return fly(model, balance, struts, atmosphere(0.0), polars, lambda done, what: told(0.5 + 0.3 * done, what))
    except ValueError as fault:
        raise DesignProblem(f"{model.name}: {fault}") from fault


def _by_right_part(assembly: Assembly, room: Room) -> Said:
    """The same, each check under the part that is drawn: the right one of a pair."""
    checks = (replace(c, part=assembly.right(c.part)) for c in room.checks)
    return Said(room.results, counted_in(checks, assembly.parts))


def _by_id(results: Iterable[Result]) -> Mapping[str, Result]:
    return {r.id: r for r in results}
