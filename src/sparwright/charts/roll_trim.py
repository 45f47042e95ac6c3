"""Pictures of handling over speed: rate of roll at full aileron; elevator to trim with and without power."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.base.source import Band
from sparwright.charts.chart import Axis, Chart, Curve, Limit, Note, plot
from sparwright.charts.page import CHARTING, Heading, Picture, page
from sparwright.charts.panels import charted
from sparwright.charts.power_curves import shown
from sparwright.charts.ticks import figure
from sparwright.charts.units import Units
from sparwright.flight.lateral import Lateral
from sparwright.flight.power_told import CASES, Pulls, in_truth
from sparwright.flight.roll import over_speeds, rolls
from sparwright.flight.slow import TITLES
from sparwright.flight.work import Flown
from sparwright.plans.drawing import Box

WIDTH, TALL = 150.0, 92.0  # mm
MARKED = {"takeoff": "1.2 of the stalling speed", "approach": "1.3 of the stalling speed", "climb": "best climb",
          "cruise": "cruise"}  # fmt: skip


def roll_picture(lat: Lateral, heading: Heading, units: Units) -> Picture:
    """Steady rate of roll at full aileron over speed."""
    chart = roll_chart(lat, units)
    box = Box(CHARTING.margin, 0.0, WIDTH - CHARTING.margin, TALL)
    told = "; ".join(n.text for n in chart.notes) or f"unknown, {chart.unknown}"
    return page(heading, WIDTH, plot(chart, box), 0.0, TALL, f"Rate of roll over speed: {told}.")


def roll_chart(lat: Lateral, units: Units) -> Chart:
    """Rate of roll over true speed; marked where the results tell it."""
    head, x = "Rate of roll, full aileron", Axis("True speed", units.speed.name)
    y = Axis("Rate of roll", "deg/s", low=0.0)
    found = over_speeds(lat)
    if not found:
        return Chart(head, x, y, unknown=lat.reason or "no wing has ailerons")
    rate = np.degrees(np.array([[r.rate.value, r.rate.low, r.rate.high] for r in found]).T)
    curve = Curve("likely", units.speed.of(np.array([r.speed for r in found])), *rate)
    each = rolls(lat)
    notes = [Note(f"{said}, {figure(math.degrees(each[k].rate.value), 0)} deg/s", each[k].speed * units.speed.factor,
                  math.degrees(each[k].rate.value)) for k, said in MARKED.items() if k in each]  # fmt: skip
    return Chart(head, x, y, (curve,), notes=tuple(notes))


def elevator_picture(flown: Flown, found: Pulls, heading: Heading, units: Units) -> Picture:
    """Elevator to trim over speed at both ends of the balance."""
    charts = [elevator_chart(flown, found, name, units) for name in CASES]
    return charted(heading, charts, 2, " ".join(_elevator_told(flown, found, units)), TALL)


def elevator_lines(found: Pulls, name: str) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(n,) speed m/s; (3, n) elevator rad with full throttle, power off: value, low, high; trailing edge down."""
    trims = found.lines[name].trims
    on = [in_truth(t.elevator) for t in trims]
    off = [in_truth(Band.exact(t.without)) for t in trims]
    rows = [np.array([[b.value, b.low, b.high] for b in bands]).T for bands in (on, off)]
    return np.array([t.speed for t in trims]), rows[0], rows[1]


def elevator_chart(flown: Flown, found: Pulls, name: str, units: Units) -> Chart:
    """Elevator to trim over true speed, full throttle and power off, between its stops."""
    head, x = TITLES[name].capitalize(), Axis("True speed", units.speed.name)
    y = Axis("Elevator, trailing edge down", "deg")
    if found.why:
        return Chart(head, x, y, unknown=found.why)
    speed, on, off = elevator_lines(found, name)
    across, tail = units.speed.of(speed), flown.model.tailplane
    curves = (Curve("full throttle", across, *np.degrees(on)),
              Curve("power off", across, np.degrees(off[0]), dash="dash"))  # fmt: skip
    ends, (up, down) = across[[0, -1]], (np.full(2, math.degrees(at)) for at in (-tail.up, tail.down))
    limits = (Limit("up stop", ends, up, "below"), Limit("down stop", ends, down, "above"))
    return Chart(head, x, y, curves, limits=limits)


def _elevator_told(flown: Flown, found: Pulls, units: Units) -> Iterator[str]:
    if found.why:
        yield f"Elevator to trim: unknown, {found.why}."
    for name in CASES if not found.why else ():
        speed, on, off = elevator_lines(found, name)
        for i in (0, -1):
            full, none = (figure(math.degrees(e[0, i]), 1) for e in (on, off))
            at = f"{TITLES[name].capitalize()}, {shown(speed[i], units.speed)}"
            yield f"{at}: {full} deg with full throttle, {none} deg without power."
