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
MILLIONS = Axis("Reynolds number", "million", low=0.0)
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


@dataclass(frozen=True)
class Greatest:
    """Greatest lift over the Reynolds number with its band: arrays (r,), NaN where it is not reached."""

    reynolds: np.ndarray
    lift: np.ndarray
    low: np.ndarray
    high: np.ndarray


def reynolds_name(reynolds: float) -> str:
    """A Reynolds number as a line's name.

    >>> reynolds_name(2.5e6), reynolds_name(80000.0)
    ('Re 2.5 M', 'Re 0.08 M')
    """
    millions = reynolds / 1e6
    return f"Re {figure(millions, 1 if millions >= 0.1 and round(millions, 1) == round(millions, 3) else 2)} M"


def polar_picture(heading: Heading, polars: Sequence[Polar], measured: Sequence[MeasuredPolar] = (),
                  most: Greatest | None = None) -> Picture:  # fmt: skip
    """The picture: at most five polars, each with its own line, and measured points over them.

    Raises DesignProblem for more than five polars.
    """
    told = f"Polars of a section: {', '.join(p.name for p in polars)}; {_greatest(polars)}."
    state = "; ".join(x for x in (heading.state, "Re: Reynolds number, M: million") if x)
    return charted(replace(heading, state=state), tuple(_charts(polars, measured, most)), 2, told)


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


def _attached(lift: np.ndarray) -> np.ndarray:
    """Whether each place lies from the least lift to the greatest, and not on what doubles back behind them."""
    known, at = np.flatnonzero(np.isfinite(lift)), np.arange(lift.size)
    if not known.size:
        return np.zeros(lift.shape, bool)
    ends = known[int(np.argmin(lift[known]))], known[int(np.argmax(lift[known]))]
    return np.asarray((at >= min(ends)) & (at <= max(ends)))


def _before(c: Curve) -> Curve:
    keep = _attached(c.x)
    low, high = (v if v is None else np.where(keep, v, np.nan) for v in (c.low, c.high))
    return replace(c, x=np.where(keep, c.x, np.nan), y=np.where(keep, c.y, np.nan), low=low, high=high)


def _charts(polars: Sequence[Polar], measured: Sequence[MeasuredPolar], most: Greatest | None) -> Iterator[Chart]:
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
    why = "it was not measured" if measured else ""
    before = tuple(_before(c) for c in lines("lift", "drag", "drag_band"))
    seen = tuple(replace(m, x=np.where(_attached(m.x), m.x, np.nan)) for m in points("lift", "drag"))
    yield Chart("Drag over lift, from least to greatest", LIFT, DRAG, before, seen, unknown=why)
    yield Chart("Moment about the quarter chord", ANGLE, Axis("Moment coefficient, nose up"), lines("angle", "moment"),
                points("angle", "moment"), unknown=why)  # fmt: skip
    if most:
        line = Curve("greatest lift", most.reynolds / 1e6, most.lift, most.low, most.high)
        yield Chart("Greatest lift over Reynolds number", MILLIONS, LIFT, (line,))
    for word, name in (("Turns turbulent", "turns"), ("Separates", "leaves")):
        for side in ("upper", "lower"):
            found = lines("lift", f"{name}_{side}")
            if any(np.any(np.isfinite(c.y)) for c in found):
                yield Chart(f"{word}, {side} surface", LIFT, PLACE, found)
