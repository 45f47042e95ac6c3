"""Parts with their weighed masses, and what the scale says of the computed ones.

A weighed part has the mass of the scale and its band; shape and place stay. Told are how much of the empty mass was
weighed, and weighed over computed for those parts: what a builder's hand, glue and paint make of the drawings.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from difflib import get_close_matches

from sparwright.base.check import Result, Step
from sparwright.base.problem import DesignProblem
from sparwright.base.source import Band
from sparwright.family.model import Model
from sparwright.mass.record import Balance
from sparwright.parts.part import Assembly

MARK = "measured"
METHOD = "weighed part by part; one scale: its doubts add up"


def as_weighed(model: Model, assembly: Assembly) -> Assembly:
    """The assembly with the masses of the scale. DesignProblem for a number that is no part of it."""
    if not model.weighed:
        return assembly
    numbers = [p.number for p in assembly.parts]
    for one in model.weighed:
        if one.part not in numbers:
            near = get_close_matches(one.part, numbers, 3, 0.5)
            hint = f"; near it are {', '.join(near)}" if near else ""
            raise DesignProblem(f"{model.name}: weighed {one.part} is not a part of it{hint}")
    by_number = {one.part: one for one in model.weighed}
    parts = tuple(
        replace(p, mass=w.mass, band=w.scale / w.mass, mark=MARK) if (w := by_number.get(p.number)) else p
        for p in assembly.parts
    )
    return replace(assembly, parts=parts)


def weighed_results(model: Model, computed: Assembly, balance: Balance) -> Iterator[Result]:
    """How much was weighed, and weighed over computed; the second only where something was."""
    pairs = [(one, computed.part(one.part)) for one in model.weighed]
    total = sum(one.mass * part.count for one, part in pairs)
    caveat = "" if pairs else "no part has been weighed; put [[models.M.weighed]] tables into the file as they are"
    yield Result("mass.weighed", "part of the empty mass that was weighed", total / balance.empty.value, "1",
                 source=METHOD, caveat=caveat, parents=("mass.empty",))  # fmt: skip
    if not pairs:
        return
    plan = sum(part.mass * part.count for _, part in pairs)
    off = sum(one.scale * part.count for one, part in pairs)  # one scale's error is the same for all
    band = Band(total / plan, (total - off) / plan, (total + off) / plan)
    steps = tuple(
        Step(
            f"{part.number} {part.name}",
            "weighed/computed",
            (("weighed", one.mass, "kg"), ("computed", part.mass, "kg"), ("scale", one.scale, "kg")),
            one.mass / part.mass,
            "1",
            one.note,
        )
        for one, part in pairs
    )
    yield Result(
        "mass.weighed.ratio",
        "weighed over computed, parts that were weighed",
        band.value,
        "1",
        band.low,
        band.high,
        METHOD,
        "a builder's other parts may be off by as much",
        steps,
        ("mass.weighed",),
    )
