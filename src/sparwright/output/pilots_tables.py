"""The pilot's sheet in tables of words: speed beside fuel of an engine speed, roll beside the way over a height."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence

from sparwright.air.atmosphere import atmosphere
from sparwright.data.field import FIELD
from sparwright.family.days import Day
from sparwright.family.model import Model
from sparwright.output.shown import figure, unit_of
from sparwright.plans.form import Column, FormTable
from sparwright.plans.performance import PilotRow
from sparwright.plans.pilots_page import Section

Found = Mapping[str, PilotRow]  # by the end of the id: "climb.rate", "speed.at_rpm.2400"
NAMES = {  # words of a line by the end of its id; any other is told by its own title
    "stall.heaviest": "heaviest loading", "stall.lightest": "lightest loading",
    "stall.max_mass": "greatest mass, forward limit", "stall": "power off",
    "stall.indicated.heaviest": "heaviest, indicated", "stall.indicated.lightest": "lightest, indicated",
    "stall.indicated.max_mass": "greatest mass, indicated",
    "climb.rate": "best rate", "climb.speed": "speed of the best rate", "climb.angle": "steepest climb",
    "climb.angle_speed": "speed of the steepest", "climb.rate.1500": "best rate at {1500}",
    "climb.rate.3000": "best rate at {3000}", "climb.time": "time to {1000}", "ceiling.absolute": "absolute ceiling",
    "ceiling.service": "service ceiling", "glide.ratio": "way over height", "glide.speed": "speed of the flattest",
    "glide.sink": "least sink",
}  # fmt: skip
GROUPS = (("Stall", ("stall",)), ("Climb", ("climb", "ceiling")), ("Glide, propeller stopped", ("glide",)))
CRUISES = {"range": ("goes farthest", "range"), "haste": ("haste and thrift", "range.haste"),
           "time": ("lasts longest", "endurance")}  # of each speed its words and what it reaches  # fmt: skip
FIELDS = {"takeoff.%s.hard": "take-off, concrete", "takeoff.%s.grass": "take-off, short grass",
          "landing.%s.hard": "landing, concrete", "landing.%s.grass": "landing, short grass"}  # fmt: skip
FLOWN, TITLE = "flown", "Pilot's performance sheet, calculated."
TENTHS = ("deg", "h", "min", "s", "m/s", "lb/h", "kg/h", "")  # units told to a tenth, others whole


def pilots_sections(model: Model, rows: Sequence[PilotRow]) -> tuple[Section, ...]:
    """The standard day, then each day of the file, each with its tables; those without rows are left out."""
    units, name = model.drawing_units, f"{model.family} {model.name}"
    days = [(None, "flight."), *((d, f"flight.day.{d.name}.") for d in model.days)]
    found = []
    for day, start in days:
        here = {r.id.removeprefix(start): r for r in rows if r.id.startswith(start)}
        if day is None:
            here = {k: r for k, r in here.items() if not k.startswith("day.")}
        tables = tuple(t for t in _tables(here, units) if t.rows)
        if tables:
            title = name if day is None else f"{name}: {day.name.replace('_', ' ')}"
            found.append(Section(title, _state(model, day, units), tables))
    return tuple(found)


def _state(model: Model, day: Day | None, units: str) -> str:
    shown, own = unit_of("kg", units), None if day is None else day.mass
    mass = f"{figure((own or model.limits.max_mass) * shown.factor, 0)} {shown.name}"
    if day is None:
        return f"{TITLE} Standard day at sea level, {mass} unless a line says other, no wind."
    warm = atmosphere(day.altitude, day.warmer).temperature - 273.15
    height = _height(day.altitude, units)
    return (f"{TITLE} {height} pressure altitude, {figure(warm, 0)} °C, {mass}, "
            "no wind.")  # fmt: skip


def _tables(found: Found, units: str) -> Iterator[FormTable]:
    """Every line of `found` in one of the tables."""
    plain = {name: _plain(name, {k: r for k, r in found.items() if k.split(".")[0] in keys}, units)
             for name, keys in GROUPS}  # fmt: skip
    yield plain.pop("Stall")
    yield _level(found, units)
    yield _cruise(found, units)
    yield from plain.values()
    yield _field(found, units)


def numbers(row: PilotRow | None, units: str) -> tuple[str, str, str]:
    """Likely value, the end to plan with, and their unit, in words; a dash for what is not known.

    The end to plan with is rounded away from the likely value, never to the better side.

    >>> numbers(PilotRow(group="", what="", id="flight.climb.rate", unit="m/s", likely=4.0, plan=2.0), "inch")
    ('787', '393', 'ft/min')
    """
    if row is None:
        return "", "", ""
    shown = unit_of(row.unit, units, row.id)
    likely, plan, far = row.likely * shown.factor, row.plan * shown.factor, row.unit == "m"
    worse = math.ceil if plan > likely else math.floor if plan < likely else round
    ending = _figure(plan, shown.name, far, worse) if row.end else ""
    return _figure(likely, shown.name, far), ending, shown.name


def _figure(value: float, unit: str, far: bool, rounded: Callable[[float], int] = round) -> str:
    """A whole number, or to a tenth; a way or a height of a thousand and more to three figures."""
    places = 1 if unit in TENTHS else 0
    step = 10.0**-places
    if far and math.isfinite(value) and abs(value) >= 1000:
        step = 10.0 ** (math.floor(math.log10(abs(value))) - 2)
    return figure(step * rounded(round(value / step, 6)) if math.isfinite(value) else value, places)


def _height(metres: float, units: str) -> str:
    shown = unit_of("m", units, "flight.ceiling")
    return f"{_figure(metres * shown.factor, shown.name, True)} {shown.name}"


def _plain(name: str, rows: Found, units: str) -> FormTable:
    """What, unit, likely, to plan with, flown."""
    columns = (
        Column("", share=1.0),
        Column("likely"),
        Column("plan with", share=1.3),
        Column(FLOWN, share=2.0, hand=True),
    )
    lines = []
    for key, row in rows.items():
        likely, plan, unit = numbers(row, units)
        lines.append((_named(key, row, units), unit, likely, plan))
    return FormTable(name, columns, tuple(lines), 3.6)


def _named(key: str, row: PilotRow, units: str) -> str:
    """The words of a line; a height in them in the designer's unit."""
    words = NAMES.get(key, row.what)
    for metres in (1000, 1500, 3000):
        words = words.replace(f"{{{metres}}}", _height(float(metres), units))
    return words


def _pair(found: Found, keys: Sequence[str], named: Callable[[str], str], units: str) -> Iterator[tuple[str, ...]]:
    """Lines of two rows each, by two patterns of their ids; a line of which nothing is known is left out."""
    ends = [k.removeprefix(keys[0].split("%s")[0]) for k in found if k.startswith(keys[0].split("%s")[0])]
    for end in ends:
        both = [found.get(k % end) for k in keys]
        if any(r is not None and math.isfinite(r.likely) for r in both):
            first, second = (numbers(r, units) for r in both)
            yield named(end), *first[:2], *second[:2]


def _level(found: Found, units: str) -> FormTable:
    """Speed and fuel for each engine speed; the greatest level speed last."""
    lines = list(_pair(found, ("speed.at_rpm.%s", "fuel.at_rpm.%s"), lambda n: f"{int(n):,} rpm", units))
    top = found.get("speed.max")
    if top:
        lines.append(("fastest", *numbers(top, units)[:2], "", ""))
    speed, fuel = unit_of("m/s", units).name, unit_of("kg/s", units).name
    return FormTable("Level flight", _columns(f"speed, {speed}", f"fuel, {fuel}", (speed, fuel)), tuple(lines), 1.9)


def _columns(first: str, second: str, hands: Sequence[str]) -> tuple[Column, ...]:
    """Two quantities, likely and to plan with, and what was flown of them."""
    plan = Column("plan with", first, 1.35)
    return (Column("likely"), plan, Column("likely", share=1.1), Column("plan with", second, 1.35),
            *(Column(h, FLOWN, 1.5, True) for h in hands))  # fmt: skip


def _cruise(found: Found, units: str) -> FormTable:
    """Engine speed, speed and fuel of the economical speeds, and how far or how long they go."""
    lines = []
    for key, (words, reached) in CRUISES.items():
        rpm, speed, fuel = (found.get(f"cruise.{key}.{what}") for what in ("rpm", "speed", "fuel"))
        if rpm and math.isfinite(rpm.likely):
            likely, plan, unit = numbers(found.get(reached), units)
            goes = (f"{x} {unit}" if x not in ("", "—") else x for x in (likely, plan))
            lines.append((words, numbers(rpm, units)[0], numbers(speed, units)[0], *numbers(fuel, units)[:2], *goes))
    speed_unit, fuel_unit = unit_of("m/s", units).name, unit_of("kg/s", units).name
    columns = (Column("rpm", share=1.0), Column(speed_unit, share=0.9), Column("likely", share=1.1),
               Column("plan with", f"fuel, {fuel_unit}", 1.35), Column("likely", share=1.3),
               Column("plan with", "way or time", 1.5), Column(fuel_unit, FLOWN, 1.4, True))  # fmt: skip
    return FormTable("Cruise", columns, tuple(lines), 2.4)


def _field(found: Found, units: str) -> FormTable:
    """Rolling, and over the height that is cleared."""
    lines = []
    for key, words in FIELDS.items():
        roll, over = (found.get(key % what) for what in ("roll", "over"))
        if roll or over:
            lines.append((words, *numbers(roll, units)[:2], *numbers(over, units)[:2]))
    unit, height = unit_of("m", units, "flight.takeoff").name, FIELD["obstacle"].value
    return FormTable(
        "Field", _columns(f"roll, {unit}", f"over {height:.0f} m, {unit}", (f"over, {unit}",)), tuple(lines), 2.9
    )
