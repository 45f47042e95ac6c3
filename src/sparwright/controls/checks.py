"""The controls held against what they must do: `controls.*`, each with its paragraph or said to be the trade's."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Sense, Step, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.controls.motion import Motion, cables, pull
from sparwright.controls.told import METHOD, REST, UNKNOWN_CABLE, first_of_its_run, tensions
from sparwright.data.controls import RULES
from sparwright.data.limit import Limit
from sparwright.data.loader import cables as known_cables
from sparwright.family.controls import ControlCable, Controls, Pulley
from sparwright.family.model import Model
from sparwright.parts.control_bodies import number
from sparwright.parts.control_runs import Link
from sparwright.parts.linkage import Stance, ends
from sparwright.shape.cable import Way, Wheel

TIGHT = "a two-way cable stays in tension; 1 N stands for more than nothing, common practice, no source"
Found = tuple[float, str, str]  # value, part number, where


def control_checks(model: Model, controls: Controls, found: tuple[Motion, ...]) -> Iterator[Check]:
    """Every check of the mechanism."""
    for motion in found:
        yield from _reach(motion)
        if not first_of_its_run(motion, found):
            continue
        yield _dead_centre(model, motion)
        if cables(motion):
            yield _tight(model, controls, motion)
        yield from _of_rods(model, controls, motion)
        yield from _of_cables(model, controls, motion)
        yield from _of_pulleys(model, controls, motion)


def _reach(motion: Motion) -> Iterator[Check]:
    for end in motion.ends:
        yield check(
            f"controls.{motion.name}.reach.{end.word}",
            f"{motion.name} {end.word} within the hand's room, {end.hand}",
            Band.exact(end.reached),
            end.travel,
            ">=",
            "rad",
            rule="the stop at the surface is met first (designer's travel)",
            method=METHOD,
            caveat="; ".join(x for x in (end.locks, f"room {end.room * 100:.1f} cm", REST) if x),
            outside_range="" if math.isfinite(end.reached) else "the hand's way is short of its room at any angle",
        )


def held(id: str, title: str, rule: Limit, found: Sequence[Found], unit: str, note: str = "") -> Check:
    """The worst of some against a rule; unknown where there is none."""
    sense: Sense = rule.sense
    if not found:
        return check(
            f"controls.{id}",
            title,
            UNKNOWN,
            rule.value,
            sense,
            unit,
            rule=str(rule.source),
            method=METHOD,
            caveat="none there",
        )
    value, part, where = (min if sense == ">=" else max)(found, key=lambda f: (math.isnan(f[0]), f[0]))
    if any(math.isnan(f[0]) for f in found):
        value, part, where = next(f for f in found if math.isnan(f[0]))
    return check(
        f"controls.{id}",
        title,
        Band.exact(value),
        rule.value,
        sense,
        unit,
        part=part,
        rule=str(rule.source),
        method=METHOD,
        caveat="; ".join(x for x in (where, note) if x),
        steps=tuple(Step(f"{p}: {w}", "worst through the travel", (), v, unit) for v, p, w in found[:12]),
    )


def _part(model: Model, kind: str, link: Link) -> str:
    return number(model, kind, link.name, link.hand)


def _at(motion: Motion, stance: Stance) -> str:
    return f"with the {motion.name} at {math.degrees(stance.angles[motion.surface]):+.0f} deg"


def _dead_centre(model: Model, motion: Motion) -> Check:
    found = []
    for link in motion.run.links:
        kind = "CABLE-FIRST" if isinstance(link.made, ControlCable) else "ROD"
        least = min(((_to_arm(motion, link, s), s) for s in motion.stances), key=lambda f: f[0])
        found.append((least[0], _part(model, kind, link), _at(motion, least[1])))
    return held(
        f"{motion.name}.dead_centre",
        f"least angle of a rod or cable to the arm it pulls at, {motion.name}",
        RULES["dead_centre"],
        found,
        "rad",
    )


def _to_arm(motion: Motion, link: Link, stance: Stance) -> float:
    """The lesser angle of a link to its two arms, in each arm's plane of turning, rad, within a right angle."""
    points = ends(motion.run, link, stance.angles)
    straights = link.way(points).straights
    found = []
    for name, at, line in ((link.levers[0], points[0], straights[0]), (link.levers[1], points[1], straights[-1])):
        lever = motion.run.levers[name]
        out, way = at - lever.pivot, line[1] - line[0]
        out, way = (v - (v @ lever.axis) * lever.axis for v in (out, way))
        size = np.linalg.norm(out) * np.linalg.norm(way)
        found.append(math.asin(min(1.0, float(np.linalg.norm(np.cross(out, way)) / size))) if size > 0 else 0.0)
    return min(found)


def _tight(model: Model, controls: Controls, motion: Motion) -> Check:
    found = tensions(model, controls, motion)
    key, least = min(found.items(), key=lambda f: f[1].low) if found else ("", UNKNOWN)
    why = "" if least.known else UNKNOWN_CABLE if found else "no cable that a loop or a spring keeps tight"
    return check(
        f"controls.{motion.name}.tight",
        f"least tension of the {motion.name}'s cables at rest, through the travel",
        Band.exact(least.low),
        1.0,
        ">=",
        "N",
        part=number(model, "CABLE-FIRST", *_keyed(key)),
        rule=TIGHT,
        method=METHOD,
        caveat="rigged in neutral; no temperature",
        outside_range=why,
    )


def _keyed(key: str) -> tuple[str, str]:
    name, _, hand = key.partition("-")
    return name, hand


def _of_rods(model: Model, controls: Controls, motion: Motion) -> Iterator[Check]:
    found = []
    for link in motion.run.links:
        if isinstance(link.made, ControlCable):
            continue
        tilt = max(((_tilt(motion, link, s), s) for s in motion.stances), key=lambda f: f[0])
        found.append((tilt[0], _part(model, "ROD", link), _at(motion, tilt[1])))
    if found:
        value, part, where = max(found)
        yield check(
            f"controls.{motion.name}.rod_ends",
            f"greatest tilt of a rod end on its ball, {motion.name}",
            Band.exact(value),
            controls.rod_end.turns,
            "<=",
            "rad",
            part=part,
            rule="what the rod end allows (designer's)",
            method=METHOD,
            caveat=where,
        )


def _tilt(motion: Motion, link: Link, stance: Stance) -> float:
    """The greater angle of a rod to the planes its two plates turn in, rad."""
    points = ends(motion.run, link, stance.angles)
    along = (points[1] - points[0]) / np.linalg.norm(points[1] - points[0])
    return max(math.asin(min(1.0, abs(float(along @ motion.run.levers[n].axis)))) for n in link.levers)


# ------------------------------------------------------------------ cables


def _of_cables(model: Model, controls: Controls, motion: Motion) -> Iterator[Check]:
    links = cables(motion)
    if not links:
        return
    rows: list[Found] = [(_cable(link).diameter, _part(model, "CABLE-FIRST", link), "") for link in links]
    yield held(f"{motion.name}.cable", f"thinnest cable of the {motion.name}", RULES["cable"], rows, "m")
    yield _strength(model, motion, links)
    yield _turnbuckle(model, controls, motion, links)
    rings = [
        (turn, ring, _at(motion, s))
        for link in links
        for s in motion.stances
        for ring, turn in _rings(model, motion, link, s)
    ]
    if rings:
        title = f"greatest turn of a cable in a fairlead, {motion.name}"
        yield held(f"{motion.name}.fairleads", title, RULES["fairlead"], _worst_each(rings, True), "rad")


def _cable(link: Link) -> ControlCable:
    assert isinstance(link.made, ControlCable)
    return link.made


def _strength(model: Model, motion: Motion, links: Sequence[Link]) -> Check:
    """The cable nearest to its breaking strength."""
    strong = []
    for link in links:
        load = pulled(motion, link, f"{motion.force}_force") * RULES["factor"].value
        strong.append((load / breaking(_cable(link)), link, load))
    share, link, load = max(strong, key=lambda f: (math.isnan(f[0]), f[0]))
    return check(
        f"controls.{motion.name}.strength",
        f"cable of the {motion.name} at the greatest pilot force times 1.5",
        Band.exact(load),
        breaking(_cable(link)),
        "<=",
        "N",
        part=_part(model, "CABLE-FIRST", link),
        rule=f"breaking strength, data/cables.csv; {RULES[f'{motion.force}_force'].source}; {RULES['factor'].source}",
        method="virtual work through the travel",
        caveat="end fittings and rods are not in it",
        outside_range="" if math.isfinite(share) else "its breaking strength is not known",
    )


def _turnbuckle(model: Model, controls: Controls, motion: Motion, links: Sequence[Link]) -> Check:
    """The turnbuckle that comes nearest to what the cable runs through."""
    room, where, link = min(((*_barrel(controls, motion, link), link) for link in links), key=lambda f: f[0])
    return check(
        f"controls.{motion.name}.turnbuckle",
        f"least room of a turnbuckle to pulley or fairlead, {motion.name}",
        Band.exact(room),
        0.0,
        ">=",
        "m",
        part=_part(model, "TURNBUCKLE", link),
        method=METHOD,
        rule="a turnbuckle runs into nothing: 14 CFR 23.685, cfr-23-2014, from memory",
        caveat=where,
    )


def pulled(motion: Motion, link: Link, force: str) -> float:
    """Greatest tension of a cable through the travel at a force of data/controls.toml, N."""
    return max(pull(motion, link, s) for s in motion.stances) * RULES[force].value


def breaking(cable: ControlCable) -> float:
    """Least breaking strength, N; NaN for a size that no table here has."""
    row = next(
        (c for c in known_cables() if c.construction == cable.construction and abs(c.diameter - cable.diameter) < 1e-5),
        None,
    )
    return float(getattr(row, cable.metal)) if row else math.nan


def _ways(motion: Motion, link: Link) -> list[tuple[Stance, Way]]:
    return [(s, link.way(ends(motion.run, link, s.angles))) for s in motion.stances]


def _barrel(controls: Controls, motion: Motion, link: Link) -> tuple[float, str]:
    """(least room along the cable between its turnbuckle and the ends of the straight it is on, where), m."""
    assert isinstance(link.made, ControlCable)
    middle, half, pin = link.made.turnbuckle, controls.cable_end.turnbuckle / 2, controls.cable_end.length
    found = []
    for stance, way in _ways(motion, link):
        at, room, wraps = 0.0, -math.inf, iter(way.wraps)
        for i, s in enumerate(way.straights):
            long = float(np.linalg.norm(s[1] - s[0]))
            low = at + (pin if i == 0 else 0.0)
            high = at + long - (pin if i == len(way.straights) - 1 else 0.0)
            room = max(room, min(middle - half - low, high - middle - half))
            at += long
            if i < len(link.over) and isinstance(link.over[i], Wheel):
                at += link.over[i].radius * next(wraps)  # type: ignore[union-attr]
        found.append((room, _at(motion, stance)))
    return min(found)


def _rings(model: Model, motion: Motion, link: Link, stance: Stance) -> Iterator[tuple[str, float]]:
    """(number of a fairlead, how far the cable turns in it, rad) of each, on the side it stands on."""
    way = link.way(ends(motion.run, link, stance.angles))
    things = zip(link.names, link.sides, link.over, strict=True)
    rings = [number(model, "FAIRLEAD", n, side) for n, side, thing in things if not isinstance(thing, Wheel)]
    yield from zip(rings, way.turns, strict=True)


def _worst_each(rows: Sequence[Found], most: bool) -> list[Found]:
    """One row for each part, its worst."""
    found: dict[str, Found] = {}
    for row in rows:
        if row[1] not in found or (row[0] > found[row[1]][0]) == most:
            found[row[1]] = row
    return list(found.values())


# ------------------------------------------------------------------ pulleys


@dataclass(frozen=True)
class _Over:
    """One pulley that a cable of a motion runs over."""

    link: Link
    i: int  # which of the cable's pulleys
    pulley: Pulley
    part: str


def _pulleys(model: Model, controls: Controls, motion: Motion) -> list[_Over]:
    known = {p.name: p for p in controls.pulleys}
    return [
        _Over(link, i, known[name], number(model, "PULLEY", name, side))
        for link in cables(motion)
        for i, (name, side) in enumerate((n, s) for n, s in zip(link.names, link.sides, strict=True) if n in known)
    ]


def _of_pulleys(model: Model, controls: Controls, motion: Motion) -> Iterator[Check]:
    found = _pulleys(model, controls, motion)
    if not found:
        return
    yield from _along_pulleys(motion, found)
    yield _pulley_size(motion, found)
    yield _guards(motion, found)


def _along_pulleys(motion: Motion, found: Sequence[_Over]) -> Iterator[Check]:
    """How square a cable comes to its pulleys, and whether it lies on them, through the travel."""
    ways = {id(o.link): _ways(motion, o.link) for o in found}
    rows = [(way, o, _at(motion, stance)) for o in found for stance, way in ways[id(o.link)]]
    yield held(
        f"{motion.name}.askew",
        f"greatest angle of a cable to its pulley's plane, {motion.name}",
        RULES["askew"],
        _worst_each([(way.askew[o.i], o.part, where) for way, o, where in rows], True),
        "rad",
        "of both parts of the cable, through the travel",
    )
    least, part, where = min((way.wraps[o.i], o.part, where) for way, o, where in rows)
    yield check(
        f"controls.{motion.name}.on_pulley",
        f"least angle a cable lies round its pulley, {motion.name}",
        Band.exact(least),
        0.0,
        ">=",
        "rad",
        part=part,
        method=METHOD,
        caveat=where,
        rule="the cable stays on its pulley; common practice, no source",
    )


def _pulley_size(motion: Motion, found: Sequence[_Over]) -> Check:
    """The smallest pulley for the load of its cable."""
    rows = []
    for o in found:
        assert isinstance(o.link.made, ControlCable)
        share = pulled(motion, o.link, f"{motion.force}_flown") / breaking(o.link.made)
        rows.append((o.pulley.diameter / o.link.made.diameter, wanted_ratio(share), o.part, share))
    ratio, wanted, part, share = min(rows, key=lambda r: r[0] - r[1] if math.isfinite(r[1]) else -math.inf)
    where = f"{share * 100:.0f} % of breaking"
    return check(
        f"controls.{motion.name}.pulley_size",
        f"pulley over cable diameter, {motion.name}",
        Band.exact(ratio),
        wanted,
        ">=",
        "1",
        part=part,
        rule=str(RULES["ratio_tenth"].source),
        method="read between the table's rows",
        caveat=f"cable at {where}, taken at the force of 23.143(c); beyond the table's 20 % unknown",
        outside_range="" if math.isfinite(wanted) else "the cable's load is past the table",
    )


def _guards(motion: Motion, found: Sequence[_Over]) -> Check:
    """The widest room under a guard pin."""
    made = [(o, o.link.made) for o in found]
    gap, part = max((o.pulley.guard / m.diameter, o.part) for o, m in made if isinstance(m, ControlCable))
    return check(
        f"controls.{motion.name}.guards",
        f"room of a guard pin over the cable's diameter, {motion.name}",
        Band.exact(gap),
        0.5,
        "<=",
        "1",
        part=part,
        method="as the file says",
        rule="closely fitted (cfr-23-2014 23.689(b), from memory); half a diameter is common practice, no source",
    )


def wanted_ratio(share: float) -> float:
    """Least pulley over cable diameter for a share of the cable's breaking strength; NaN past the table's 20 %."""
    x = (0.01, 0.10, 0.20)
    y = [RULES[k].value for k in ("ratio_slack", "ratio_tenth", "ratio_fifth")]
    return float(np.interp(share, x, y)) if share <= x[-1] else math.nan
