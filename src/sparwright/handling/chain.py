"""The handling room's one door: what stick and pedals ask of the pilot, as results, checks and curves."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Check, Result, check
from sparwright.base.source import Band
from sparwright.controls.motion import Motion
from sparwright.data.controls import RULES
from sparwright.data.forces import FORCES
from sparwright.flight.slow import told
from sparwright.flight.work import Flown
from sparwright.handling.harmony import bands_of, harmony_results
from sparwright.handling.made import CASE, ENDS, Made, made
from sparwright.handling.pitch_told import METHOD, WORDS, Curve, curves_of, force_results, free_results, freed
from sparwright.handling.side_told import (
    PEDAL,
    SIDE,
    aileron_results,
    coefficient_results,
    friction_results,
    rudder_results,
)


@dataclass(frozen=True)
class HandlingTold:
    """What is said of the forces."""

    results: tuple[Result, ...]
    checks: tuple[Check, ...]
    curves: tuple[Curve, ...] = ()  # stick force over speed


def handling(flown: Flown, motions: tuple[Motion, ...], weights: Mapping[str, Result]) -> HandlingTold:
    """Results and checks of a model that flies. motions: its controls through their travel, none where it has none.

    weights: results by id, with `mass.hinge.elevator` where the elevator is drawn.
    """
    m = made(flown, motions, weights)
    curves = curves_of(m)
    found = [
        *coefficient_results(m),
        *free_results(m, freed(m)),
        *force_results(m, curves),
        *per_g_results(m),
        *aileron_results(m),
        *rudder_results(m),
        *friction_results(m, curves),
    ]
    found += harmony_results(m, bands_of(m, {r.id: r for r in found}))
    by_id = {r.id: r for r in found}
    return HandlingTold(tuple(found), tuple(_checks(m, by_id)), tuple(curves[n] for n in ENDS))


def _checks(m: Made, by_id: Mapping[str, Result]) -> Iterator[Check]:
    free = by_id["flight.free_margin.aftmost"]
    yield _held("free", "free_margin", free, free.band)
    least = least_to_limit(m)
    for key in ("manoeuvre", "top"):
        r = by_id[f"flight.force.limit.aftmost.{key}"]
        yield check(
            f"flight.forces.limit.{key}",
            f"{FORCES['limit_least'].title}, {WORDS[key]}",
            r.band,
            least,
            ">=",
            "N",
            rule=str(FORCES["limit_least"].source),
            method=METHOD,
            caveat=r.caveat,
            parents=(r.id,),
        )
    glide = by_id["flight.force.trim.approach"]
    yield _held("glide", "glide", glide, _size(glide.band))
    yield _flown(
        "elevator",
        [by_id[f"flight.force.elevator.{n}.{k}"] for n in ENDS for k in ("approach", "cruise", "top")]
        + [by_id["flight.force.stall"]],
        METHOD,
    )
    yield _flown("aileron", [by_id["flight.force.aileron.full.manoeuvre"]], SIDE)
    yield _flown("rudder", [by_id["flight.force.rudder.full.manoeuvre"]], PEDAL)


def per_g_results(m: Made) -> Iterator[Result]:
    """`flight.force.per_g.least` and `.most`: what a military rule would ask, a yardstick and no check."""
    note = "written for military aeroplanes: a yardstick, no rule of this category"
    for key, limit in zip(("least", "most"), per_g_limits(m), strict=True):
        rule = FORCES[f"per_g_{key}"]
        title = f"{rule.title.partition(';')[0]}, by a military rule, at a cruising speed"
        why = "" if math.isfinite(limit) else "there is no trim at a cruising speed"
        yield told(Band.exact(limit), f"flight.force.per_g.{key}", title, "N", str(rule.source), why or note)


def per_g_limits(m: Made) -> tuple[float, float]:
    """N: the least and the most force for a g, at cruise and the heaviest loading. Source: mil-f-8785c (memory)."""
    over, line, q = m.flown.model.limits.n_positive - 1, m.case(CASE).line, m.pressure("cruise")
    weight, area = line.mass * GRAVITY, m.flown.plane.area
    alpha = float(line.states(weight / (q * area)).alpha[0])
    if not math.isfinite(alpha):
        return math.nan, math.nan
    per_radian = m.flown.plane.company.lift_slope(alpha) * q * area / weight
    least = max(FORCES["per_g_least"].value / over, FORCES["per_g_floor"].value)
    most = min(FORCES["per_g_most"].value / per_radian, FORCES["per_g_ceiling"].value)
    return least, max(most, FORCES["per_g_ceiling_least"].value / over)


def least_to_limit(m: Made) -> float:
    """N, the least force that may reach the limit load factor: a part of the greatest weight, between two ends."""
    part = FORCES["limit_weight"].value * m.flown.model.limits.max_mass * GRAVITY
    return min(max(part, FORCES["limit_least"].value), FORCES["limit_most"].value)


def _size(b: Band) -> Band:
    """How great a force is whatever its way; its least is nought where the band holds nought."""
    least = 0.0 if b.low < 0 < b.high else min(abs(b.low), abs(b.high))
    return Band(abs(b.value), least, max(abs(b.low), abs(b.high))) if b.known else b


def _held(id: str, row: str, r: Result, band: Band) -> Check:
    rule = FORCES[row]
    return check(
        f"flight.forces.{id}",
        rule.title,
        band,
        rule.value,
        rule.sense,
        r.unit,
        rule=str(rule.source),
        method=METHOD,
        caveat=r.caveat,
        parents=(r.id,),
    )


def _flown(name: str, forces: list[Result], method: str) -> Check:
    """The greatest of some forces against what a pilot gives for a short time."""
    rule = RULES[f"{name}_flown"]
    sizes = [_size(r.band) for r in forces]
    worst = max(range(len(forces)), key=lambda i: sizes[i].high if sizes[i].known else math.inf)
    r = forces[worst]
    return check(
        f"flight.forces.{name}",
        f"{rule.title}: {r.title}",
        sizes[worst],
        rule.value,
        "<=",
        "N",
        rule=str(rule.source),
        method=method,
        caveat=r.caveat,
        parents=(r.id,),
    )
