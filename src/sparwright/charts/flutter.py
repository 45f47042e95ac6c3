"""Picture of flutter: how damping and frequency of the modes that matter go with the speed, and what must be reached.

Two charts, the same lines in both: at most five branches, those that come nearest to feeding on the air up to what must
be reached. Damping in parts of critical: below nought a movement grows. A line ends where its movement swings no more.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from sparwright.aeroelastic.swept import Branch
from sparwright.aeroelastic.told import TIMES, branch_name
from sparwright.aeroelastic.work import Worked
from sparwright.charts.chart import Axis, Chart, Curve, Limit, Note
from sparwright.charts.page import MOST, Heading, Picture, line_style
from sparwright.charts.panels import charted
from sparwright.charts.power_curves import shown
from sparwright.charts.ticks import figure
from sparwright.charts.units import Units

HEADS = ("Damping over speed", "Frequency over speed")
SEEN = (-0.15, 0.25)  # parts of critical that the picture goes over


def flutter_picture(heading: Heading, work: Worked | None, units: Units, unknown: str = "") -> Picture:
    """The picture of one model. unknown: why there is none."""
    x = Axis("True airspeed at sea level", units.speed.name, low=0.0)
    if work is None:
        why = unknown or "flutter is not worked out"
        charts = [Chart(head, x, Axis(""), unknown=why) for head in HEADS]
        return charted(heading, charts, 2, f"Flutter: unknown, {why}.")
    chosen = governing(work)
    names = _names(work, chosen)
    speed = units.speed.of(np.asarray(work.swept.speeds))
    over, hertz = [], []
    for i, (name, b) in enumerate(zip(names, chosen, strict=True)):
        over.append(Curve(name, speed, _seen(-b.growth), dash=line_style(i)))
        hertz.append(Curve(name, speed, b.frequency / (2 * math.pi), dash=line_style(i)))
    damped = Axis("Part of critical damping")
    charts = [
        Chart(HEADS[0], x, damped, tuple(over), limits=_limits(work, units), notes=_notes(work, units)),
        Chart(HEADS[1], x, Axis("Frequency", "Hz", low=0.0), tuple(hertz)),
    ]
    return charted(heading, charts, 2, told(work, names, units))


def _seen(damping: np.ndarray) -> np.ndarray:
    with np.errstate(invalid="ignore"):
        return np.where((damping >= SEEN[0]) & (damping <= SEEN[1]), damping, np.nan)


def governing(work: Worked) -> tuple[Branch, ...]:
    """Branches with the least damping at any speed up to 1.2 VD, the worst first; at most five."""
    near = np.asarray(work.swept.speeds) <= TIMES * work.dive

    def least(b: Branch) -> float:
        found = -b.growth[near]
        return float(np.nanmin(found)) if np.isfinite(found).any() else math.inf

    return tuple(sorted(work.swept.branches, key=least)[:MOST])


def _names(work: Worked, chosen: Sequence[Branch]) -> list[str]:
    """A name each; two that would be called alike are told apart by their frequency at rest."""
    found = [branch_name(work, b) for b in chosen]
    return [n if found.count(n) == 1 else f"{n}, {b.frequency[0] / (2 * math.pi):.1f} Hz"
            for n, b in zip(found, chosen, strict=True)]  # fmt: skip


def _limits(work: Worked, units: Units) -> tuple[Limit, ...]:
    """No damping, from rest to what must be reached."""
    ends = units.speed.of(np.array([0.0, TIMES * work.dive]))
    return (Limit("grows", ends, np.zeros(2), "below"),)


def _notes(work: Worked, units: Units) -> tuple[Note, ...]:
    reach = TIMES * work.dive
    found = [Note(f"{TIMES:g} VD {shown(reach, units.speed)}", float(units.speed.of(np.array(reach))), 0.0)]
    if math.isfinite(work.swept.flutter):
        at = work.swept.flutter
        found.append(Note(f"flutter {shown(at, units.speed)}", float(units.speed.of(np.array(at))), 0.0))
    return tuple(found)


def told(work: Worked, names: Sequence[str], units: Units) -> str:
    """The picture in words."""
    s = work.swept
    if not math.isfinite(s.flutter):
        last = shown(float(s.speeds[-1]), units.speed)
        return f"Damping and frequency of {len(names)} movements over speed: none grows up to {last}."
    name = branch_name(work, s.branches[s.which])
    return (f"Damping and frequency of {len(names)} movements over speed: {name} grows from "
            f"{shown(s.flutter, units.speed)} on, at {figure(s.frequency / (2 * math.pi), 1)} Hz; "
            f"{shown(TIMES * work.dive, units.speed)} must be reached.")  # fmt: skip
