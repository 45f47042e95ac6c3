"""Picture of the air's load along each wing in the cases that govern: square to the chord, along it, and torsion.

One row a wing; in each chart one line a case, or a half of it where its halves differ, the same line in the whole
picture, named once in a key under all charts. Aft and nose up are positive. A half governs with the most and the least
load along the normal, the furthest forward and aft, and the most torsion either way about the quarter chord, each
counted from root to tip.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from sparwright.base.quantity import to
from sparwright.charts.chart import Axis, Chart, Curve
from sparwright.charts.page import MOST, Heading, Picture, line_style
from sparwright.charts.panels import charted
from sparwright.charts.ticks import figure
from sparwright.charts.units import Unit, Units
from sparwright.family.model import spoken
from sparwright.loads.laid_out import SpanLoad
from sparwright.plans.drawing import Dash

Half = tuple[str, str]  # key of a case, R or L
SIDES = {"R": "right", "L": "left"}
SHORT = 60.0  # mm of a chart, whose lines are named under all of them
SHOWN = ("normal", "chordwise", "torsion")
WORDS = {"normal": "square to the chord", "chordwise": "along the chord, aft", "torsion": "torsion, nose up"}


def governing(spans: Sequence[SpanLoad], most: int = MOST) -> tuple[Half, ...]:
    """(case, side) of the halves that govern, at most so many. What is not known does not govern.

    spans: both halves of wings in all cases; of two halves alike the right one stands for both.
    """
    found: list[Half] = []
    known = _parted([s for s in spans if np.isfinite(s.normal).all()])
    for what, sign in (
        ("normal", 1),
        ("normal", -1),
        ("chordwise", -1),
        ("torsion", -1),
        ("torsion", 1),
        ("chordwise", 1),
    ):
        for surface in dict.fromkeys(s.surface for s in known):
            own = [s for s in known if s.surface == surface]
            loads = [sign * float(getattr(s, what) @ s.width) for s in own]
            found.append(_half(own[int(np.argmax(loads))]))
    return tuple(dict.fromkeys(found))[:most]


def _half(s: SpanLoad) -> Half:
    return s.case, s.side


def _parted(spans: Sequence[SpanLoad]) -> list[SpanLoad]:
    """Without the left halves of cases that are alike on both sides."""
    right = {(s.case, s.surface): s for s in spans if s.side == "R"}
    alike: dict[str, bool] = {}
    for s in (s for s in spans if s.side == "L"):
        other = right.get((s.case, s.surface))
        same = other is not None and np.allclose(s.normal, other.normal, rtol=1e-9, atol=1e-6)
        alike[s.case] = alike.get(s.case, True) and same
    return [s for s in spans if s.side == "R" or not alike[s.case]]


def wing_loads_picture(heading: Heading, spans: Sequence[SpanLoad], units: Units, titles: Mapping[str, str],
                       unknown: str = "") -> Picture:  # fmt: skip
    """The picture. spans: both halves of wings in all cases, wings in the order they are shown in; titles: what a case
    is called, by key; unknown: why there are none.
    """
    keys = governing(spans)
    if not keys:
        why = unknown or "no case is known"
        charts = [Chart(WORDS[w].capitalize(), _across(units), Axis(""), unknown=why) for w in SHOWN]
        return charted(heading, charts, 3, f"Air loads of the wings: unknown, {why}.")
    dashes = {key: line_style(i) for i, key in enumerate(keys)}
    sided = {s.case for s in _parted(spans) if s.side == "L"}
    names = {k: (f"{SIDES[k[1]]}: " if k[0] in sided else "") + titles.get(k[0], k[0]) for k in keys}
    shown = [s for key in keys for s in spans if _half(s) == key]
    wings = dict.fromkeys(s.surface for s in spans)
    charts = [
        _chart(wing, what, [s for s in shown if s.surface == wing], dashes, units) for wing in wings for what in SHOWN
    ]
    key = [(dashes[k], names[k]) for k in keys]
    return charted(heading, charts, 3, " ".join(_told(s, names[_half(s)]) for s in shown), SHORT, key)


def torsion_unit(units: Units) -> Unit:
    """Of a moment per length of span."""
    return Unit("lbf·ft/ft", to(1.0, "lbf")) if units.per_length.name == "lbf/ft" else Unit("N·m/m")


def _across(units: Units) -> Axis:
    return Axis("Buttline", units.length.name, low=0.0)


def _chart(wing: str, what: str, spans: Sequence[SpanLoad], dashes: Mapping[Half, Dash], units: Units) -> Chart:
    unit = torsion_unit(units) if what == "torsion" else units.per_length
    curves = tuple(Curve("", units.length.of(s.y), unit.of(getattr(s, what)), dash=dashes[_half(s)]) for s in spans)
    axis = "Torsion about the quarter chord" if what == "torsion" else "Load per length of span"
    return Chart(f"{spoken(wing).capitalize()}, {WORDS[what]}", _across(units), Axis(axis, unit.name), curves)


def _told(s: SpanLoad, name: str) -> str:
    """One half in words."""
    most = float(s.normal[np.argmax(np.abs(s.normal))])
    total = figure(float(s.normal @ s.width), 0)
    return f"{spoken(s.surface).capitalize()}, {name}: {total} N on the half, up to {figure(most, 0)} N/m."
