"""Picture of a section's polars: lift, drag, moment, and where the flow turns turbulent and separates."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.charts.chart import MARKS, Axis, Chart, Curve, Measured
from sparwright.charts.page import Heading, Picture, line_style
from sparwright.charts.panels import charted
from sparwright.charts.ticks import figure

LIFT, DRAG = Axis("Lift coefficient"), Axis("Drag coefficient", low=0.0)
ANGLE = Axis("Angle of attack", "deg")
PLACE = Axis("Place from the leading edge", "chords", low=0.0, high=1.0)


@dataclass(frozen=True)
class Polar:
    """One polar: arrays (n,) in order of the angle; NaN where unknown, and for a place where nothing happens.

    name: what tells it from the others, as "Re 1.0 M". low and high are the band of each, where there is one.
    """

    name: str
    angle: np.ndarray  # deg, chord line to the stream
    lift: np.ndarray
    drag: np.ndarray
    moment: np.ndarray  # about the quarter chord, nose up positive
    turns_upper: np.ndarray  # chords from the leading edge, where flow turns turbulent
    turns_lower: np.ndarray
    leaves_upper: np.ndarray  # chords, where flow separates; NaN where it stays to the trailing edge
    leaves_lower: np.ndarray
    lift_band: tuple[np.ndarray, np.ndarray] | None = None  # low, high over the angle
    drag_band: tuple[np.ndarray, np.ndarray] | None = None  # low, high of drag


@dataclass(frozen=True)
class MeasuredPolar:
    """Measured points of a section: arrays (n,), NaN where a thing was not measured."""

    name: str  # who measured, at which Reynolds number
    angle: np.ndarray  # deg
    lift: np.ndarray
    drag: np.ndarray
    moment: np.ndarray


def reynolds_name(reynolds: float) -> str:
    """A Reynolds number as a line's name.

    >>> reynolds_name(2.5e6), reynolds_name(80000.0)
    ('Re 2.5 M', 'Re 0.08 M')
    """
    millions = reynolds / 1e6
    return f"Re {figure(millions, 1 if millions >= 0.1 and round(millions, 1) == round(millions, 3) else 2)} M"


def polar_picture(heading: Heading, polars: Sequence[Polar], measured: Sequence[MeasuredPolar] = ()) -> Picture:
    """The picture: at most five polars, each with its own line, and measured points over them.

    Raises DesignProblem for more than five polars.
    """
    told = f"Polars of a section: {', '.join(p.name for p in polars)}; {_greatest(polars)}."
    state = "; ".join(x for x in (heading.state, "Re: Reynolds number, M: million") if x)
    return charted(replace(heading, state=state), tuple(_charts(polars, measured)), 2, told)


def _greatest(polars: Sequence[Polar]) -> str:
    """The greatest lift of each in words."""
    found = []
    for p in polars:
        known = np.isfinite(p.lift)
        if known.any():
            i = int(np.nanargmax(p.lift))
            found.append(f"{p.name}: greatest lift shown {figure(float(p.lift[i]), 2)} at "
                         f"{figure(float(p.angle[i]), 1)} deg")  # fmt: skip
        else:
            found.append(f"{p.name}: unknown")
    return "; ".join(found)


def _charts(polars: Sequence[Polar], measured: Sequence[MeasuredPolar]) -> Iterator[Chart]:
    def lines(x: str, y: str, band: str = "") -> tuple[Curve, ...]:
        found = []
        for i, p in enumerate(polars):
            low, high = (getattr(p, band) if band else None) or (None, None)
            found.append(Curve(p.name, getattr(p, x), getattr(p, y), low, high, line_style(i)))
        return tuple(found)

    def points(x: str, y: str) -> tuple[Measured, ...]:
        sets = (Measured(m.name, getattr(m, x), getattr(m, y), MARKS[i]) for i, m in enumerate(measured))
        return tuple(s for s in sets if np.any(np.isfinite(s.x) & np.isfinite(s.y)))

    yield Chart("Lift over angle", ANGLE, LIFT, lines("angle", "lift", "lift_band"), points("angle", "lift"))
    yield Chart("Drag over lift", LIFT, DRAG, lines("lift", "drag", "drag_band"), points("lift", "drag"))
    yield Chart("Moment about the quarter chord", ANGLE, Axis("Moment coefficient, nose up"), lines("angle", "moment"),
                points("angle", "moment"))  # fmt: skip
    for side in ("upper", "lower"):
        yield Chart(f"Turns turbulent, {side} surface", LIFT, PLACE, lines("lift", f"turns_{side}"))
    for side in ("upper", "lower"):
        found = lines("lift", f"leaves_{side}")
        if any(np.any(np.isfinite(c.y)) for c in found):
            yield Chart(f"Separates, {side} surface", LIFT, PLACE, found)
