"""Parts that repeated loads may crack, and whose crack would end the flight: stress at one g and at limit load.

    lug    share P/(F_tu (W - D) t)              pulled net section, no stress raiser counted
    wire   P/P_b                                 the cable's breaking strength
    tube   max(N, 0)/(A F_tu) + M/(Z F_tu)       pulled side, F_tu beside the weld; struts without weld too
    spar   (|M|/Z + chordwise + pull)/F_tension  pulled edge of the caps at a fitting

Limit loads of the cases in flight; at one g pull-ups over their load factor (one_g.py). A level on file (recalled) says
at which part of the strength at limit load no more proof is asked; it decides nothing, so these are results and no
checks. What is not in it: how often each load comes, fretting under bolts, holes, corrosion, vibration of wires. Wires
of a drag bracing and every strut count; of the welded tubes those most stressed. Sources: data/fatigue.toml.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Result, Step
from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.fatigue import levels, looks
from sparwright.data.loader import fasteners, material
from sparwright.family.fittings import StrutPiece
from sparwright.family.model import Model, RoundTube, Spar, Wing
from sparwright.margins import braces
from sparwright.margins.one_g import at_one_g
from sparwright.margins.sources import grained, strengths
from sparwright.margins.spar_run import run_of
from sparwright.margins.taken import USED
from sparwright.margins.tubes import WELDED, groups, stuff_of, title_of
from sparwright.margins.wood_spars import shape_of
from sparwright.margins.worst import Worst, ends_of
from sparwright.parts.ends import spots
from sparwright.parts.struts import pinned
from sparwright.strength.allowable import Allowable
from sparwright.strength.members import section, wood_box
from sparwright.structure.answered import Answered
from sparwright.structure.bar import Cable
from sparwright.structure.named import called

IN_FLIGHT = ("manoeuvre", "gust", "roll", "yaw", "tail", "engine")
MOST = 8  # welded tubes that are told
OUTSIDE, INSIDE = "in sight from outside", "under a covering: by the inspection holes"


@dataclass(frozen=True)
class Stressed:
    """One place with what it bears again and again."""

    kind: str  # lug, wire, tube, spar
    name: str
    title: str
    part: str
    metal: str  # kind of material
    strength: Allowable
    ratio: np.ndarray = number("1", "(v, c, ...) stress at limit load over its strength at rupture")
    access: str = OUTSIDE


def fatigue_results(model: Model, answer: Answered) -> Iterator[Result]:
    """Every lug, wire, strut and wooden spar at its fittings, and the welded tubes most stressed."""
    flown = np.array([i for i, x in enumerate(answer.laid) if x.case.kind in IN_FLIGHT], dtype=int)
    if not flown.size:
        return
    places = [*_lugs(model, answer), *_wires(model, answer), *_spars(model, answer)]
    tubes = sorted(_tubes(model, answer), key=lambda s: -_most(s.ratio[:, flown]))
    welded = [s for s in tubes if s.access == INSIDE][:MOST]
    for s in (*places, *(s for s in tubes if s.access == OUTSIDE), *welded):
        yield _result(s, answer, flown)


def _most(ratio: np.ndarray) -> float:
    return float(np.nanmax(ratio)) if np.isfinite(ratio).any() else -math.inf


# ------------------------------------------------------------------ places


def _limit_pulls(answer: Answered, bars: np.ndarray) -> np.ndarray:
    """(v, c, b) N at limit load, pull positive."""
    return np.array([s.pull[:, bars] for s in answer.limit])


def _lugs(model: Model, answer: Answered) -> Iterator[Stressed]:
    of, pulls = strengths(model), braces.pulls_of(model, answer)
    for (name, _), end in pinned(model).items():
        if name not in pulls:
            continue
        made, allowed = braces.lug_of(end, braces.lug_material(model, end), of.material)
        share = USED.lug_share if isinstance(end.held.piece, StrutPiece) else 1.0
        pull = np.abs(_limit_pulls(answer, pulls[name].bars)) * share
        hole = fasteners()[end.held.pin].diameter
        where = braces.where_of(end)
        metal = material(braces.lug_material(model, end)).kind
        yield Stressed("lug", f"{name}.{where}", f"lug of {name.replace('_', ' ')} at {braces.place_of(end)}",
                       end.plates[0] if end.plates else pulls[name].part, metal, allowed[0],
                       pull / (made.tension * (made.width - hole) * made.thickness))  # fmt: skip


def _wires(model: Model, answer: Answered) -> Iterator[Stressed]:
    of = strengths(model)
    found: dict[str, list[int]] = {}
    for i, bar in enumerate(answer.skeleton.bars):
        if isinstance(bar.made, Cable):
            found.setdefault(bar.part, []).append(i)
    for part, bars in found.items():
        made = answer.skeleton.bars[bars[0]].made
        assert isinstance(made, Cable)
        breaking = of.cable(made.construction, made.diameter)
        name = part.split("-", 1)[1]
        inside = "DRAG" in name
        yield Stressed("wire", name, f"{called(part)} and its ends", part, "steel", breaking,
                       np.maximum(_limit_pulls(answer, np.array(bars)), 0) / breaking.value,
                       INSIDE if inside else OUTSIDE)  # fmt: skip


def _tubes(model: Model, answer: Answered) -> Iterator[Stressed]:
    of, inner = strengths(model), ends_of(answer.limit_force)
    for name, bars in groups(answer).items():
        bar = answer.skeleton.bars[bars[0]]
        made = bar.made
        assert isinstance(made, RoundTube)
        stuff = stuff_of(made, bar.what in WELDED, of.material)
        loads = inner[:, :, np.array(bars)]
        A, Z = section.area(made.outside, made.wall), section.modulus(made.outside, made.wall)
        stress = np.maximum(loads[..., 0], 0) / A + np.hypot(loads[..., 4], loads[..., 5]) / Z
        ends = "welds of the " if bar.what in WELDED else "ends of the "
        yield Stressed("tube", name.split("-", 1)[1], f"{ends}{title_of(bar, name)}", name,
                       material(made.material).kind, stuff.pull, stress / stuff.pull.value,
                       OUTSIDE if bar.what == "strut" else INSIDE)  # fmt: skip


def _spars(model: Model, answer: Answered) -> Iterator[Stressed]:
    """Wooden caps on the bars that end at a fitting; metal ones have no tension of their caps' rivet holes on file."""
    for wing in model.wings:
        for spar in wing.spars:
            if material(spar.cap.material).kind == "wood":
                at = [s.buttline for s in spots(model)[0] if (s.wing.name, s.spar.name) == (wing.name, spar.name)]
                yield from (_at_fitting(model, answer, wing, spar, y) for y in dict.fromkeys(at))


def _at_fitting(model: Model, answer: Answered, wing: Wing, spar: Spar, buttline: float) -> Stressed:
    run = run_of(model, answer, wing, spar)
    inner = ends_of(answer.limit_force[:, :, run.bars])
    loads = wood_box.CapLoads(inner[..., 4], -inner[..., 0], inner[..., 5])
    _, pulled, across, along = wood_box.stresses(shape_of(run), loads)
    strength = grained(model)(spar.cap.material, "tension", spar.cap.depth, 0.0)
    here = np.array([[abs(_buttline(e) - buttline) < 1e-3 for e in ends] for ends in run.ends])
    stress = (pulled + across + np.maximum(-along, 0))[:, :, here]
    inch = f"{buttline / 0.0254:.0f}"
    part = run.cap(_first(run.bars, here))
    return Stressed("spar", f"{run.name}.{inch}", f"{run.title(f'caps at the fitting, BL {inch} in')}", part, "wood",
                    strength, stress / strength.value, INSIDE)  # fmt: skip


def _first(bars: np.ndarray, here: np.ndarray) -> Worst:
    return Worst(math.nan, 0, 0, int(bars[int(np.flatnonzero(here.any(axis=1))[0])]), 0)


def _buttline(node: str) -> float:
    return float(node.split(".", 3)[3]) * 0.0254


# ------------------------------------------------------------------ told


def _result(s: Stressed, answer: Answered, flown: np.ndarray) -> Result:
    """At limit load of what breaks it; the part at one g and the level that asks for no more proof among its lines."""
    ratio = s.ratio[:, flown]
    most, level, look = _most(ratio), levels().get(s.metal), looks()[s.kind]
    limit = most if math.isfinite(most) else math.nan
    steady = at_one_g(answer, s.ratio)
    one = _most(steady) if steady.size else math.nan
    case = _case(answer, ratio, flown)
    lines = [
        Step(f"at limit load, {case}", "stress/strength at rupture",
             (("strength", s.strength.value, s.strength.unit),), limit, "1", str(s.strength.source)),
        Step("at one g, steady flight", "pull-ups over n", (), one if math.isfinite(one) else math.nan, "1",
             "common practice: in proportion to the load factor"),
    ]  # fmt: skip
    said = "no level is on file for this material: unknown"
    if level:
        lines.append(Step(f"level that asks for no more proof, {level.title}", "part of strength at rupture", (),
                          level.value, "1", str(level.source)))  # fmt: skip
        said = _said(limit, level.value, level.source)
    return Result(f"fatigue.{s.kind}.{s.name}".replace("+", "_"),
                  f"{s.title}: stress at limit load in flight, of its strength", limit, "1",
                  source=str(s.strength.source), steps=tuple(lines),
                  caveat="; ".join((said, f"{s.part}, {s.access}", look.said)))  # fmt: skip


def _said(limit: float, level: float, source: Source) -> str:
    if math.isnan(limit):
        return "stress not known"
    known = "" if source.mark != "memory" else ", a level that is recalled and not read"
    if limit <= level:
        return f"at or under {level:g} of rupture{known}"
    return f"over {level:g} of rupture{known}: a test or a calculation of its fatigue is wanted"


def _case(answer: Answered, ratio: np.ndarray, flown: np.ndarray) -> str:
    if not np.isfinite(ratio).any():
        return "no case known"
    v, c = np.unravel_index(int(np.nanargmax(ratio)), ratio.shape)[:2]
    return f"case {answer.laid[int(flown[int(c)])].case.key}, {answer.variants[int(v)]}"


def by_kind(results: Sequence[Result]) -> Mapping[str, tuple[Result, ...]]:
    """Results of `fatigue_results` by kind of part, the most stressed first: the table a report prints."""
    found: dict[str, list[Result]] = {}
    for r in results:
        if r.id.startswith("fatigue."):
            found.setdefault(r.id.split(".")[1], []).append(r)
    return {k: tuple(sorted(v, key=_by_stress)) for k, v in found.items()}


def _by_stress(r: Result) -> float:
    return -r.value if math.isfinite(r.value) else math.inf
