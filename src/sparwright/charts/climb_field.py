"""Pictures of climb over height, and of take-off and landing over the height of the field.

The field is worked out anew for each height and warmth, as a day of the file is (flight/days_told.py): nothing is
drawn between figures of other days. Full lines are likely; thin broken ones are the end of the band to plan with.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

import numpy as np

from sparwright.base.check import Result
from sparwright.base.source import Band
from sparwright.charts.chart import Axis, Chart, Curve, Note
from sparwright.charts.page import Heading, Picture
from sparwright.charts.panels import charted
from sparwright.charts.power_curves import shown
from sparwright.charts.units import Units
from sparwright.data.field import FIELD
from sparwright.family.days import Day
from sparwright.flight.days_told import field_on, on_day
from sparwright.flight.field_told import SURFACES
from sparwright.flight.heights import BEYOND, SERVICE, Climbs, climbs, height_of, time_to
from sparwright.flight.published import climbs_as_seen
from sparwright.flight.work import Flown

TALL = 92.0  # mm of a chart
STEPS, COUNT = {"ft": 2000 * 0.3048, "m": 600.0}, 5  # m from field to field, how many
WARMER = 20.0  # K over the standard day, the second temperature
ROOM = 1.06  # of the greatest height shown
SMALL = 1e-9  # m/s, of rounding
UNKNOWN_CLIMB = "thrust, drag or stalling speed is unknown"


def climb_of(flown: Flown) -> Climbs:
    """Climb over height as the results tell it."""
    stall = flown.cases["max_mass"].stall.speed
    p = flown.performance
    return climbs_as_seen(climbs(flown.moved, p.drag, flown.model.limits.max_mass, stall.value))


def climb_picture(flown: Flown, heading: Heading, units: Units) -> Picture:
    """Rate of climb over height with the ceilings, and the time to each height."""
    found = climb_of(flown)
    charts = (rate_chart(found, units), time_chart(found, units))
    notes = [n.text for c in charts for n in c.notes]
    told = "; ".join(notes) or f"unknown, {UNKNOWN_CLIMB}"
    return charted(heading, charts, 2, f"Best rate of climb, and time to climb, over pressure altitude: {told}.", TALL)


def _height(units: Units, last: float = math.nan) -> Axis:
    """The axis of heights, with a little room past the last one, m."""
    return Axis("Pressure altitude, standard day", units.height.name, 0.0, ROOM * last * units.height.factor)


def _ends(found: Climbs) -> dict[str, tuple[float, ...]]:
    return {k: tuple(getattr(r, k) for r in found.rates) for k in ("value", "low", "high")}


def rate_at(found: Climbs, height: np.ndarray, which: str = "value") -> np.ndarray:
    """Rates of climb, m/s, at heights, m: straight between those worked out, carried on straight past the last.

    NaN past what `height_of` looks at, and below nought.
    """
    rates = _ends(found)[which]
    (a, b), (p, q) = found.heights[-2:], rates[-2:]
    inside = np.interp(height, found.heights, rates)
    beyond = np.where(height <= b + max(BEYOND, b - a), q + (height - b) * (q - p) / (b - a), math.nan)
    rate = np.where(height <= b, inside, beyond)
    return np.where(rate >= -SMALL, np.maximum(rate, 0.0), math.nan)


def _ceilings(found: Climbs, rate: float) -> Band:
    return Band(*(height_of(rate, found.heights, r) for r in _ends(found).values()))


def _heights(found: Climbs) -> np.ndarray:
    """Heights that are drawn: those worked out, each end's ceiling, and steps between."""
    tops = _ceilings(found, 0.0)
    ends = [h for h in (tops.value, tops.low, tops.high, found.heights[-1]) if math.isfinite(h)]
    last = tops.value if math.isfinite(tops.value) else found.heights[-1]
    steps = np.linspace(0.0, last, 41)
    return np.unique(np.concatenate([steps, [h for h in (*ends, *found.heights) if h <= last]]))


def rate_chart(found: Climbs, units: Units) -> Chart:
    """Best rate of climb over height; the ceilings marked where they are likely."""
    head, y = "Best rate of climb, full throttle", Axis("Rate of climb", units.climb.name, low=0.0)
    if not found.rates[0].known:
        return Chart(head, _height(units), y, unknown=UNKNOWN_CLIMB)
    h = _heights(found)
    likely, low, high = (units.climb.of(rate_at(found, h, k)) for k in ("value", "low", "high"))
    low = np.where(np.isfinite(likely) & ~np.isfinite(low), 0.0, low)  # it climbs no more: the tone goes down to nought
    curve = Curve("likely", units.height.of(h), likely, low, high)
    notes = []
    for said, rate in (("service ceiling", SERVICE), ("absolute ceiling", 0.0)):
        at = height_of(rate, found.heights, _ends(found)["value"])
        if math.isfinite(at):
            notes.append(Note(f"{said}, {_round(at, units)}", at * units.height.factor, rate * units.climb.factor))
    return Chart(head, _height(units, float(h[-1])), y, (curve,), notes=tuple(notes))


def _round(height: float, units: Units) -> str:
    """A height to two figures and a half: 17,600 ft and not 17,576."""
    step = 100.0 if units.height.name == "ft" else 50.0
    return f"{step * round(height * units.height.factor / step):,.0f} {units.height.name}"


def time_chart(found: Climbs, units: Units) -> Chart:
    """Minutes from sea level to each height, up to the service ceiling."""
    head, y = "Time to climb from sea level", Axis("Time", "min", low=0.0)
    top = height_of(SERVICE, found.heights, _ends(found)["value"])
    if not found.rates[0].known:
        return Chart(head, _height(units), y, unknown=UNKNOWN_CLIMB)
    last = min(top if math.isfinite(top) else math.inf, found.heights[-1])
    h = np.linspace(0.0, last, 41)
    rates = _ends(found)
    likely, low, high = (np.array([time_to(float(x), found.heights, rates[k]) for x in h]) / 60
                         for k in ("value", "high", "low"))  # fmt: skip
    slow = np.where(high <= 2 * likely[-1], high, math.nan)  # past it the slow end runs off the chart
    across = units.height.of(h)
    curves = (
        Curve("likely", across, likely),
        Curve("fast end", across, low, dash="dash", weight="thin"),
        Curve("slow end, to plan with", across, slow, dash="chain", weight="thin"),
    )
    return Chart(head, _height(units), y, curves)


# ------------------------------------------------------------------ the field


def field_picture(flown: Flown, by_id: Mapping[str, Result], heading: Heading, units: Units) -> Picture:
    """Way over the height that is cleared, take-off and landing, on both surfaces, over the height of the field.

    by_id: the results of `flight.ground.*`.
    """
    charts = field_charts(flown, by_id, units)
    told = [f"{c.head}: {_field_told(c, units)}" for c in charts]
    return charted(heading, charts, 2, "; ".join(told) + ".", TALL)


def altitudes(units: Units) -> tuple[float, ...]:
    """Pressure altitudes of the fields looked at, m, round in their unit."""
    return tuple(i * STEPS[units.height.name] for i in range(COUNT))


def field_charts(flown: Flown, by_id: Mapping[str, Result], units: Units) -> tuple[Chart, ...]:
    """Take-off on each surface, then landing; standard day and warmer, likely and to plan with."""
    days = {
        k: {r.id.split(".", 3)[-1]: r for h in altitudes(units) for r in _on(flown, by_id, h, k)} for k in (0.0, WARMER)
    }
    return tuple(_field_chart(what, key, days, units) for what in ("takeoff", "landing") for key in SURFACES)


def _on(flown: Flown, by_id: Mapping[str, Result], height: float, warmer: float) -> Iterator[Result]:
    """The field's results on such a day, each with the day's height at its end."""
    found = on_day(flown, Day(name="chart", altitude=height, warmer=warmer))
    for r in field_on(flown, found, by_id):
        yield replace(r, id=f"{r.id}.{height:.0f}")


def _field_chart(what: str, key: str, days: Mapping[float, Mapping[str, Result]], units: Units) -> Chart:
    head = f"{'Take-off' if what == 'takeoff' else 'Landing'} over {FIELD['obstacle'].value:.0f} m, {SURFACES[key]}"
    x, y = Axis("Pressure altitude of the field", units.height.name), Axis("Way", units.height.name)
    across, curves = units.height.of(np.array(altitudes(units))), []
    for warmer, of in days.items():
        found = [of[f"{what}.over.{key}.{h:.0f}"] for h in altitudes(units)]
        likely, plan = (units.height.of(np.array([getattr(r, k) for r in found])) for k in ("value", "high"))
        said = "standard day" if warmer == 0 else f"{warmer:.0f} °C warmer"
        curves.append(Curve(said, across, likely, dash="solid" if warmer == 0 else "dash"))
        curves.append(
            Curve(f"{said}, to plan with", across, plan, weight="thin", dash="chain" if warmer == 0 else "dots")
        )
    why = "stalling speed or thrust is unknown"
    return Chart(head, x, y, tuple(curves), unknown=why)


def _field_told(chart: Chart, units: Units) -> str:
    return ", ".join(f"{c.name} {_ends_told(c, units)}" for c in chart.curves)


def _ends_told(curve: Curve, units: Units) -> str:
    """A curve at sea level and as high as it goes: where it ends early the aeroplane does not get off any higher."""
    known = np.flatnonzero(np.isfinite(curve.y))
    if not known.size:
        return "unknown"
    low, high = (shown(float(curve.y[i]) / units.height.factor, units.height) for i in known[[0, -1]])
    top = float(curve.x[known[-1]]) / units.height.factor
    where = "the highest" if known[-1] == curve.y.size - 1 else f"{shown(top, units.height)}, none higher"
    return f"{low} at sea level, {high} at {where}"
