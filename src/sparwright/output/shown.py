"""Numbers as a designer reads them: in the drawing's units, as many digits as mean something, never bare.

A value's SI unit and what it is of (its id) settle the unit shown: a climb is read in ft/min, an engine speed in
rpm. What has no row here is shown in SI.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

from sparwright.base.quantity import to

JOINED = "\u00a0"  # between a number and its unit while lines are broken; a plain space when told


class Unit(NamedTuple):
    """How an SI unit is shown."""

    name: str
    factor: float  # shown = SI x factor


def _unit(name: str, *units: str) -> Unit:
    """Shown in the product of `units`; one led by "/" divides."""
    factor = 1.0
    for u in units:
        factor = factor / to(1.0, u[1:]) if u.startswith("/") else factor * to(1.0, u)
    return Unit(name, factor)


INCH = {
    "m": _unit("in", "in"),
    "m2": _unit("ft2", "ft2"),
    "m3": _unit("gal", "gal"),
    "m3/s": _unit("gal/h", "gal/h"),
    "m/s": _unit("kt", "kt"),
    "kg": _unit("lb", "lb"),
    "N": _unit("lbf", "lbf"),
    "N m": _unit("lbf ft", "lbf", "ft"),
    "N m/rad": _unit("lbf ft/deg", "lbf", "ft", "/deg"),
    "N s/m": _unit("lbf/kt", "lbf", "/kt"),
    "N/m": _unit("lbf/ft", "lbf", "/ft"),
    "N/m2": _unit("lbf/ft2", "psf"),
    "Pa": _unit("psi", "psi"),
    "kg/m2": _unit("lb/ft2", "lb/ft2"),
    "kg/m3": _unit("lb/ft3", "lb/ft3"),
    "kg/m": _unit("lb/ft", "lb/ft"),
    "kg m2": _unit("lb ft2", "lb", "ft2"),
    "kg m": _unit("lb in", "lb", "in"),
    "kg/s": _unit("lb/h", "lb", "/h"),
    "kg/J": _unit("lb/hp/h", "lb/hp/h"),
    "W": _unit("hp", "hp"),
    "rev/s": _unit("rpm", "rpm"),
    "rad": _unit("deg", "deg"),
    "1/rad": _unit("per deg", "/deg"),
    "rad/m": _unit("deg/in", "deg", "/in"),
    "rad/s": _unit("deg/s", "deg"),
    "s": _unit("h", "h"),
}
MILLIMETRE = INCH | {
    "m": _unit("mm", "mm"),
    "m2": _unit("m2", "m2"),
    "m3": _unit("L", "L"),
    "m3/s": _unit("L/h", "L/h"),
    "m/s": _unit("km/h", "km/h"),
    "kg": _unit("kg", "kg"),
    "N": _unit("N", "N"),
    "N m": Unit("N m", 1.0),
    "N m/rad": _unit("N m/deg", "/deg"),
    "N s/m": _unit("N/(km/h)", "/km/h"),
    "N/m": Unit("N/m", 1.0),
    "N/m2": Unit("N/m2", 1.0),
    "Pa": _unit("MPa", "MPa"),
    "kg/m2": Unit("kg/m2", 1.0),
    "kg/m3": Unit("kg/m3", 1.0),
    "kg/m": Unit("kg/m", 1.0),
    "kg m2": Unit("kg m2", 1.0),
    "kg m": Unit("kg m", 1.0),
    "kg/s": _unit("kg/h", "kg", "/h"),
    "kg/J": _unit("g/kWh", "g/kWh"),
    "W": _unit("kW", "kW"),
}
TABLES: Mapping[str, Mapping[str, Unit]] = {"inch": INCH, "millimetre": MILLIMETRE, "si": {}}
FAR = ("takeoff", "landing", "ceiling")  # ids that have one of these are of a field or a height
SPECIAL: Mapping[str, Mapping[str, tuple[tuple[str, Unit], ...]]] = {  # unit -> words of the id -> shown as
    "inch": {
        "m/s": (("climb.rate", _unit("ft/min", "ft/min")), ("sink", _unit("ft/min", "ft/min"))),
        "m": (("range", _unit("nmi", "nmi")), *((word, _unit("ft", "ft")) for word in FAR)),
        "s": (
            ("climb.time", Unit("min", 1 / 60)),
            ("roll", Unit("s", 1.0)),
            ("mode", Unit("s", 1.0)),
            ("level", Unit("s", 1.0)),
        ),
        "rad/s": (("frequency", Unit("rad/s", 1.0)), ("level", Unit("rad/s", 1.0))),
    },
    "millimetre": {
        "m/s": (("climb.rate", Unit("m/s", 1.0)), ("sink", Unit("m/s", 1.0))),
        "m": (("range", _unit("km", "km")), *((word, Unit("m", 1.0)) for word in FAR)),
        "s": (
            ("climb.time", Unit("min", 1 / 60)),
            ("roll", Unit("s", 1.0)),
            ("mode", Unit("s", 1.0)),
            ("level", Unit("s", 1.0)),
        ),
        "rad/s": (("frequency", Unit("rad/s", 1.0)), ("level", Unit("rad/s", 1.0))),
    },
}


def unit_of(si: str, units: str, id: str = "") -> Unit:
    """How the SI unit of a value is shown to a designer who draws in `units` ("inch", "millimetre", or "si")."""
    for word, unit in SPECIAL.get(units, {}).get(si, ()):
        if word in id.split(".", 1)[-1]:
            return unit
    return TABLES[units].get(si, Unit("" if si == "1" else si, 1.0))


def with_unit(text: str, unit: str) -> str:
    """A figure and its unit, never parted at the end of a line."""
    return f"{text}{JOINED}{unit}".replace(" ", JOINED) if unit else text


def decimals(value: float, low: float = math.nan, high: float = math.nan) -> int:
    """Places after the point: two figures of the band's width, else four figures of the value; none below nought.

    >>> decimals(39.412, 38.1, 40.7), decimals(0.03125), decimals(120412.0)
    (1, 5, 0)
    """
    width = high - low
    if math.isfinite(width) and width > 0:
        return min(max(1 - math.floor(math.log10(width)), 0), 6)
    if not math.isfinite(value) or value == 0:
        return 0
    return min(max(3 - math.floor(math.log10(abs(value))), 0), 6)


def figure(value: float, places: int) -> str:
    """A number with a true minus sign; a dash for what is unknown; never "-0".

    >>> figure(-1234.5, 1), figure(float("nan"), 2), figure(-0.001, 1)
    ('−1,234.5', '—', '0.0')
    """
    if not math.isfinite(value):
        return "—"
    text = f"{value:,.{places}f}"
    if float(text.replace(",", "")) == 0:
        text = text.lstrip("-")
    return text.replace("-", "−")


def enough(places: int, *values: float) -> int:
    """Fewer places where they would only be noughts in all of the values, which are exact.

    >>> enough(3, 1.0, 2.0), enough(2, 44.08, 45.0)
    (0, 2)
    """
    known = [v for v in values if math.isfinite(v)]
    while places and all(f"{v:.{places}f}".endswith("0") for v in known):
        places -= 1
    return places


def margin(value: float) -> str:
    """A margin in percent, rounded towards failure.

    >>> [margin(x).replace(JOINED, " ") for x in (0.0799, -0.031, -0.00001, float("nan"))]
    ['+7 %', '−4 %', '−1 %', '—']
    """
    if not math.isfinite(value):
        return "—"
    percent = math.floor(value * 100 + 1e-9) if value >= 0 else min(math.floor(value * 100 + 1e-9), -1)
    return f"{'−' if percent < 0 else '+'}{abs(percent):,}{JOINED}%"
