"""The chain: one model in, a frozen result out. Each stage takes the results it needs and gives one new record.

>>> import sparwright as sw
>>> family = sw.load("examples/whinchat/whinchat.toml")   # doctest: +SKIP
>>> sw.run(family, "W1").verdict                          # doctest: +SKIP
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from sparwright import __version__
from sparwright.air.atmosphere import atmosphere
from sparwright.air.drag import StrutForDrag
from sparwright.air.lattice import Cell, lay
from sparwright.base.check import Check, Result, Step, Verdict, overall
from sparwright.base.problem import DesignProblem
from sparwright.family.model import Family, Model
from sparwright.flight.fly import Flight, fly
from sparwright.loads.envelope import Case, cases
from sparwright.loads.spanwise import WingLoad, wing_loads
from sparwright.mass.record import Balance
from sparwright.mass.told import mass_checks, mass_results
from sparwright.mass.weigh import weigh
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Assembly, Part, Straight
from sparwright.rules.categories import licence_checks
from sparwright.shape.lifting import camber, planforms
from sparwright.strength.prove import prove

PROGRAM = f"Sparwright {__version__}"
Told = Callable[[float, str], None]


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
    cell: Cell
    flight: Flight
    loads: tuple[Mapping[str, WingLoad], ...]

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


def run(family: Family, model: str, progress: Told | None = None) -> RunResult:
    """Work out one model of a family.

    progress is called with how far it is (0 to 1) and the stage that begins. Raises KeyError for a model the family has not,
    DesignProblem for a shape that cannot be made.
    """
    told = progress or (lambda done, stage: None)
    chosen = family.models[model]
    told(0.0, "parts")
    assembly = lay_out(chosen)
    told(0.4, "weights")
    balance = weigh(chosen, assembly)
    told(0.45, "air")
    cell = lay(planforms(chosen), camber(chosen))
    told(0.5, "flight")
    try:
        flight = fly(chosen, cell, balance, in_the_wind(chosen, assembly), atmosphere(0.0))
    except ValueError as fault:
        raise DesignProblem(f"{model}: {fault}") from fault
    told(0.8, "strength")
    loads = tuple(_loads(chosen, cell, flight))
    results = (*mass_results(chosen, balance), *flight.results, *load_results(loads))
    by_id = {r.id: r for r in results}
    checks = (*mass_checks(chosen, balance), *flight.checks, *prove(chosen, loads), *licence_checks(chosen, by_id))
    return RunResult(
        family.name, model, PROGRAM, family.sha256, results, checks, assembly, balance, cell, flight, loads
    )


def in_the_wind(model: Model, assembly: Assembly) -> tuple[StrutForDrag, ...]:
    """What the wind sees of struts and wires: name, length, width across the wind, shape, how many."""
    by_name = {p.number.rsplit("-", 1)[1]: p for p in assembly.parts if p.purpose in ("strut", "wire")}
    struts = [
        (
            s.name,
            _length(by_name[s.name.upper()]),
            s.faired_width if s.fairing == "streamline" else s.tube.outside,
            s.fairing,
            by_name[s.name.upper()].count,
        )
        for s in model.struts
    ]
    wires = [
        (w.name, _length(by_name[w.name.upper()]), w.diameter, "wire", by_name[w.name.upper()].count)
        for w in model.wires
    ]
    return (*struts, *wires)  # type: ignore[arg-type]


def _length(part: Part) -> float:
    assert isinstance(part.shape, Straight)
    return part.shape.length


def _loads(model: Model, cell: Cell, flight: Flight) -> Iterator[Mapping[str, WingLoad]]:
    flown = flight.flown
    heavy = flown.cases["max_mass"]
    area = cell.reference.area
    found: tuple[Case, ...] = cases(
        model.limits.max_mass,
        area,
        cell.reference.chord,
        cell.lift_slope,
        model.limits.n_positive,
        heavy.stall.speed.value,
    )
    for case in found:
        yield wing_loads(cell, heavy.line, flown.plane.tail, case)


def load_results(loads: tuple[Mapping[str, WingLoad], ...]) -> Iterator[Result]:
    """Load factors, speeds and each wing's share."""
    for by_wing in loads:
        case = next(iter(by_wing.values())).case
        yield Result(
            f"loads.{case.key}.speed",
            f"speed of case {case.key}, {case.title}",
            case.speed,
            "m/s",
            source="cs-vla 335 (memory, high)",
        )
        yield Result(
            f"loads.{case.key}.factor",
            f"limit load factor of case {case.key}",
            case.factor,
            "1",
            source="cs-vla 337, 341",
            steps=case.steps,
        )
        for wing, load in by_wing.items():
            step = Step("share", "L/sum L", (("L", load.total, "N"),), load.share, "1", "lattice, trimmed")
            yield Result(
                f"loads.{case.key}.share.{wing}",
                f"{wing}: share of the wings' lift, case {case.key}",
                load.share,
                "1",
                source="vortex lattice",
                steps=(step,),
            )
