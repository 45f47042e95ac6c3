"""Picture of the lift over the angle of attack: of the whole aeroplane, and each surface's part of it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.record import number
from sparwright.charts.chart import Axis, Chart, Curve, Note, plot
from sparwright.charts.page import CHARTING, MOST, Heading, Picture, page, wing_styles
from sparwright.charts.ticks import figure
from sparwright.plans.drawing import Box, Dash

WIDTH, TALL = 170.0, 105.0  # mm
ANGLE = Axis("Angle of attack of the thrust line", "deg")
LIFT = Axis("Lift over dynamic pressure and area of all wings")
ROOM = 1.12  # of the greatest value, so that words have room over the lines
WHOLE, TAIL = "whole aeroplane", "tailplane"


@dataclass(frozen=True)
class LiftOf:
    """One surface's part of the lift."""

    name: str
    lift: np.ndarray  # (n,) lift over q and the area of all wings
    waterline: float = number("m", "where it stands in the cell, by which its line is chosen", 0.0)
    is_tail: bool = False


@dataclass(frozen=True)
class LiftCurves:
    """The trimmed lift over the angle, up to the greatest; what `first` names passes its greatest lift at `first_at`.

    `unknown` says why there is nothing to show.
    """

    angle: np.ndarray | None = None  # (n,) deg, rising
    parts: tuple[LiftOf, ...] = ()
    first: str = ""  # the surface whose strip passes first
    first_at: float = number("deg", "angle at which it does", math.nan)
    ends_at: float = number("deg", "angle at which the elevator runs out; NaN where it reaches to the end", math.nan)
    unknown: str = ""

    @property
    def whole(self) -> np.ndarray:
        """(n,) lift of all surfaces together."""
        return np.asarray(sum(p.lift for p in self.parts))


def lift_picture(heading: Heading, shown: LiftCurves) -> Picture:
    """The picture. Of more surfaces than a chart has lines left beside the whole, the tail is left out, and told so."""
    box = Box(CHARTING.margin, 0.0, WIDTH - CHARTING.margin, TALL)
    return page(heading, WIDTH, plot(_chart(shown), box), 0.0, TALL, _told(shown))


def _drawn(shown: LiftCurves) -> list[tuple[LiftOf, Dash]]:
    """The surfaces drawn, from above down and the tail last, each with its line."""
    wings = sorted((p for p in shown.parts if not p.is_tail), key=lambda p: -p.waterline)
    styles = wing_styles([(p.name, p.waterline) for p in wings])
    tail: Dash = "pairs"
    return [*((p, styles[p.name]) for p in wings), *((p, tail) for p in shown.parts if p.is_tail)][: MOST - 1]


def _chart(shown: LiftCurves) -> Chart:
    if shown.angle is None:
        return Chart("Lift", ANGLE, LIFT, unknown=shown.unknown)
    angle, whole, drawn = shown.angle, shown.whole, _drawn(shown)
    curves = [Curve(WHOLE, angle, whole), *(Curve(_named(p), angle, p.lift, dash=d, weight="thin") for p, d in drawn)]
    notes = [Note(f"greatest lift, {figure(float(whole[-1]), 2)}", float(angle[-1]), float(whole[-1]))]
    for p in shown.parts:
        if p.name == shown.first:
            y = float(np.interp(shown.first_at, angle, p.lift))
            notes.append(Note(f"first strip of the {_named(p)} lets go", shown.first_at, y))
    if math.isfinite(shown.ends_at):
        y = float(np.interp(shown.ends_at, angle, whole))
        notes.append(Note(f"the elevator runs out, {figure(y, 2)}", shown.ends_at, y))
    left = len(drawn) < len(shown.parts)
    head = "Lift of the whole, and of each wing" + (" (the tailplane's is not drawn)" if left else "")
    top = max(float(np.nanmax(c.y)) for c in curves)
    room = replace(LIFT, high=ROOM * top)
    return Chart(head, ANGLE, room, tuple(curves), notes=tuple(notes))


def _named(p: LiftOf) -> str:
    if p.is_tail:
        return TAIL
    return p.name if "wing" in p.name else f"{p.name} wing"


def _told(shown: LiftCurves) -> str:
    if shown.angle is None:
        return f"Lift over the angle of attack: unknown, {shown.unknown}."
    at = figure(float(shown.angle[-1]), 1)
    said = [f"{_named(p)} {figure(float(p.lift[-1]), 2)}" for p in shown.parts]
    ends = f" The elevator runs out at {figure(shown.ends_at, 1)} deg." if math.isfinite(shown.ends_at) else ""
    return (f"Lift over the angle of attack. Greatest lift {figure(float(shown.whole[-1]), 2)} at {at} deg, of which "
            f"{', '.join(said)}. The first strip to pass its greatest lift is on the {shown.first}, at "
            f"{figure(shown.first_at, 1)} deg.{ends}")  # fmt: skip
