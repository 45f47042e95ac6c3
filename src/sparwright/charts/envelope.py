"""The diagram of speed and load factor: manoeuvre and gust lines, and what the structure must bear outside them.

Manoeuvre line of the greatest mass, gust lines of the greatest and the least mass; what must be borne is the outermost
of all loadings, hatched on the side that no case reaches. Speeds are equivalent. No flaps.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.charts.chart import Axis, Chart, Curve, Limit, Note, plot
from sparwright.charts.page import CHARTING, Heading, Picture, page
from sparwright.charts.power_curves import shown
from sparwright.charts.ticks import figure
from sparwright.charts.units import Units
from sparwright.loads.diagram import Bound, Envelope
from sparwright.plans.drawing import Box

WIDTH, TALL = 170.0, 118.0  # mm
POINTS = 241  # along the speed
ROOM = 1.06  # of VD, for the hatch beyond it
HEAD = "Load factor over speed"
NAMES = {"A": "VA", "C": "VC", "D": "VD"}


def envelope_picture(e: Envelope, heading: Heading, units: Units) -> Picture:
    """The diagram of one model; without a stalling speed it says so."""
    chart = envelope_chart(e, units)
    box = Box(CHARTING.margin, 0.0, WIDTH - CHARTING.margin, TALL)
    return page(heading, WIDTH, plot(chart, box), 0.0, TALL, told(e, units))


def envelope_chart(e: Envelope, units: Units) -> Chart:
    """Manoeuvre line, gust lines, the outermost of all, design speeds."""
    high = ROOM * e.speed("D") * units.speed.factor
    x, y = Axis("Equivalent airspeed", units.speed.name, low=0.0, high=high), Axis("Load factor")
    if e.why:
        return Chart(HEAD, x, y, unknown=e.why)
    heavy, light = e.bounds["max_forward"], e.bounds["lightest"]
    curves = (
        Curve("manoeuvre, greatest mass", *_loop(e, heavy, units)),
        Curve("gust, greatest mass", *_gusts(e, heavy, units), dash="dash"),
        Curve("gust, lightest", *_gusts(e, light, units), dash="chain"),
    )
    return Chart(HEAD, x, y, curves, limits=tuple(_limits(e, units)), notes=tuple(_notes(e, heavy, units)))


def _loop(e: Envelope, b: Bound, units: Units) -> tuple[np.ndarray, np.ndarray]:
    """(speed, load factor) round the manoeuvre line, from rest up, out to VD and back beneath."""
    v = np.linspace(0.0, e.speed("D"), POINTS)
    up = np.array([e.manoeuvre(float(s), b) for s in v])
    down = np.array([e.manoeuvre(float(s), b, down=True) for s in v])
    return units.speed.of(np.concatenate([v, v[::-1]])), np.concatenate([up, down[::-1]])


def _gusts(e: Envelope, b: Bound, units: Units) -> tuple[np.ndarray, np.ndarray]:
    """(speed, load factor) along the gust lines: from VD back to rest and out again beneath."""
    v = np.array([e.speed("D"), e.speed("C"), 0.0, e.speed("C"), e.speed("D")])
    return units.speed.of(v), np.array([b.dive.up, b.cruise.up, 1.0, b.cruise.down, b.dive.down])


def outermost(e: Envelope, speeds: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(greatest, least) load factor that any loading comes to at speeds up to VD, m/s, the stall allowed for."""
    ups, downs = [], []
    for b in e.bounds.values():
        gust = np.array([b.gust(float(v)) for v in speeds])
        stall = (speeds / b.laden.stall) ** 2
        under = e.negative * (speeds / b.bottom) ** 2
        ups.append(np.minimum(stall, np.maximum(e.positive, 1 + gust)))
        line = np.array([e.manoeuvre(float(v), b, down=True) for v in speeds])
        downs.append(np.maximum(under, np.minimum(line, 1 - gust)))
    return np.max(ups, axis=0), np.min(downs, axis=0)


def _limits(e: Envelope, units: Units) -> Iterator[Limit]:
    v = np.linspace(0.0, e.speed("D"), POINTS)
    up, down = outermost(e, v)
    yield Limit("must be borne, any loading", units.speed.of(v), up, "above")
    yield Limit("", units.speed.of(v), down, "below")
    ends = units.speed.of(np.full(2, e.speed("D")))
    yield Limit("", ends, np.array([down[-1], up[-1]]), "above")


def _notes(e: Envelope, heavy: Bound, units: Units) -> Iterator[Note]:
    for key, name in NAMES.items():
        speed = e.speed(key)
        at = float(units.speed.of(np.array(speed)))
        yield Note(f"{name} {shown(speed, units.speed)}", at, e.manoeuvre(speed, heavy))


def told(e: Envelope, units: Units) -> str:
    """The diagram in words."""
    if e.why:
        return f"Load factor over speed: unknown, {e.why}."
    greatest = max((b.cruise.up, b.laden.words) for b in e.bounds.values())
    speeds = ", ".join(f"{name} {shown(e.speed(key), units.speed)}" for key, name in NAMES.items())
    over = max(greatest[0], e.positive)
    what = f"gust at VC, {greatest[1]}" if greatest[0] > e.positive else "manoeuvre"
    crossing = e.bounds["lightest"].crossing
    crossed = (
        f" The lightest's gust line passes the manoeuvre line at {shown(crossing, units.speed)}."
        if math.isfinite(crossing)
        else ""
    )
    return (
        f"Load factor over equivalent airspeed: {speeds}; limit {figure(e.positive, 2)} and {figure(e.negative, 2)}; "
        f"greatest {figure(over, 2)} ({what}).{crossed}"
    )
