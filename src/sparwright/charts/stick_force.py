"""Picture of the stick fore and aft over speed: what the hand holds and where it stands, at both ends of balance."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sparwright.base.quantity import to
from sparwright.charts.chart import Axis, Chart, Curve
from sparwright.charts.page import Heading, Picture, line_style
from sparwright.charts.panels import charted
from sparwright.charts.ticks import figure
from sparwright.charts.units import UNITS, Unit, Units
from sparwright.handling.pitch_told import Curve as Held

FORCE = {"inch": Unit("lbf", to(1.0, "lbf")), "millimetre": Unit("N"), "si": Unit("N")}
STATE = (
    "Straight flight, power off, sea level; trim's lever where it leaves least to hold at cruise; bands: hinge "
    "moments, the elevator's effect and weight. Friction, slipstream and stretch are not in it"
)
UNKNOWN = "there are no forces: no controls, or the stalling speed is unknown"


def stick_pictures(curves: Sequence[Held], name: str, origin: str, units: str = "inch") -> dict[str, Picture]:
    """The picture by its short name. name: the model's; origin: for the foot; units: "inch", "millimetre" or "si"."""
    heading = Heading(f"{name}: stick force over speed", STATE, origin)
    charts = tuple(_charts(curves, UNITS[units], FORCE[units]))
    return {"stick-force": charted(heading, charts, 1, _told(curves, UNITS[units], FORCE[units]))}


def _charts(curves: Sequence[Held], u: Units, force: Unit) -> list[Chart]:
    speed = Axis("Speed", u.speed.name)
    good = [c for c in curves if c.speed.size and np.isfinite(c.force).all()]
    pull = Axis("Stick force, pull positive", force.name)
    way = Axis("Way of the stick from neutral, aft positive", u.length.name)
    if not good:
        return [Chart("Stick force", speed, pull, unknown=UNKNOWN), Chart("Stick", speed, way, unknown=UNKNOWN)]
    held, stands = [], []
    for i, c in enumerate(good):
        x, (y, low, high) = u.speed.of(c.speed), force.of(c.force)
        held.append(Curve(_named(c), x, y, low, high, line_style(i)))
        stands.append(Curve(_named(c), x, u.length.of(c.way), dash=line_style(i)))
    return [Chart("What the hand holds", speed, pull, tuple(held)), Chart("Where it stands", speed, way, tuple(stands))]


def _named(c: Held) -> str:
    return f"{c.case} balance"


def _told(curves: Sequence[Held], u: Units, force: Unit) -> str:
    said = []
    for c in curves:
        if c.speed.size and np.isfinite(c.force).all():
            ends = [
                f"{figure(float(force.of(p)), 0)} {force.name} at {figure(float(u.speed.of(v)), 0)}"
                for p, v in ((c.force[0, i], c.speed[i]) for i in (0, -1))
            ]
            said.append(f"{_named(c)}: {ends[0]} and {ends[1]} {u.speed.name}")
    return f"Stick force over speed, pull positive. {'; '.join(said) or UNKNOWN}."
