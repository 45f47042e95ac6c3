"""What each spar uses of its strengths from root to tip: one chart a spar, one line a strength.

The greatest of both sides, all cases and all variants, so a line is an envelope and no single state.
"""

from __future__ import annotations

import numpy as np

from sparwright.charts.chart import Axis, Chart, Curve, Limit
from sparwright.charts.page import Heading, Picture, line_style
from sparwright.charts.panels import charted
from sparwright.charts.units import Units
from sparwright.margins.along import Along

NAMES = {
    "caps": "caps, ultimate",
    "caps_at_limit": "caps, limit",
    "webs": "webs in shear",
    "buckling": "webs flat",
    "glue": "glue",
}
TALL = 88.0


def spar_reserve_picture(heading: Heading, spars: tuple[Along, ...], units: Units) -> Picture:
    """The picture, two charts in a row."""
    charts = [_chart(s, units) for s in spars]
    return charted(heading, charts, 2, " ".join(_told(s) for s in spars), TALL)


def profile(spar: Along, what: str) -> tuple[np.ndarray, np.ndarray]:
    """(buttline m, use) along one half, root to tip: the greater of both sides, each bar with both its ends."""
    halves: dict[tuple[float, float], np.ndarray] = {}
    for (a, b), u in zip(spar.at, spar.used[what], strict=True):
        key = (round(float(a), 6), round(float(b), 6))
        halves[key] = np.maximum(halves.get(key, np.zeros(2)), u)
    order = sorted(halves)
    return np.array([y for k in order for y in k]), np.array([v for k in order for v in halves[k]])


def _chart(spar: Along, units: Units) -> Chart:
    curves = []
    for i, what in enumerate(spar.used):
        y, use = profile(spar, what)
        curves.append(Curve(NAMES.get(what, what), units.length.of(y), 100 * use, dash=line_style(i)))
    ends = units.length.of(np.array([0.0, float(spar.at.max())]))
    limit = Limit("all of it", ends, np.full(2, 100.0), "above")
    name = spar.spar if "wing" in spar.wing else f"{spar.wing} {spar.spar}"
    return Chart(
        f"{name.capitalize()} spar",
        Axis("Buttline", units.length.name, low=0.0),
        Axis("Used of the strength", "%", low=0.0, high=110.0),
        tuple(curves),
        limits=(limit,),
    )


def _told(spar: Along) -> str:
    most = {NAMES.get(k, k): float(np.nanmax(u)) for k, u in spar.used.items() if np.isfinite(u).any()}
    if not most:
        return f"{spar.wing}, {spar.spar} spar: nothing is known."
    worst = max(most, key=lambda k: most[k])
    return f"{spar.wing}, {spar.spar} spar: most used is {worst}, {most[worst]:.0%}."
