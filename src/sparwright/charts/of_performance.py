"""What the pictures show of a model's performance and handling: power, level flight, climb, field, roll, trim."""

from __future__ import annotations

from sparwright.charts.climb_field import altitudes, climb_picture, field_picture
from sparwright.charts.page import Heading, Picture
from sparwright.charts.power_curves import level_picture, power_picture, shown, state_of
from sparwright.charts.roll_trim import elevator_picture, roll_picture
from sparwright.charts.units import UNITS
from sparwright.flight.fly import Flight
from sparwright.flight.lateral import CASE, lateral
from sparwright.flight.power_told import pulls
from sparwright.flight.tail_flow import tail_flows

BANDS = "tones: the drag's own band, and the propeller's blade 1 deg finer to 1 deg coarser"
SEEN = "Published aeroplanes flew slower and climbed less than foretold: the results' low ends allow for it"
CLIMB = "standard day, no wind; low end no narrower than published aeroplanes missed what was foretold of them"
FIRM = "level firm ground, no wind, a new engine and a practised pilot (half as much again is the usual allowance)"
ROLL = "level flight, sea level, standard day; attached flow, the cables' stretch not in it"
TRIM = "Steady flight at sea level, standard day; tone: band with full throttle."


def performance_pictures(flight: Flight, origin: str, units: str = "inch") -> dict[str, Picture]:
    """Every picture of performance and handling, by its short name.

    origin: family, model, program and file, for the foot. units: "inch", "millimetre" or "si".
    """
    u, flown, by_id = UNITS[units], flight.flown, {r.id: r for r in flight.results}
    state, mass = state_of(flown, u), f"Greatest take-off mass, {shown(flown.performance.mass, u.mass)}"
    steps = f"worked out at every {shown(altitudes(u)[1], u.height)}, straight between"
    heavy = f"Heaviest loading, {shown(flown.cases[CASE].loading.mass, u.mass)}"
    sideways, pulled = lateral(flown), pulls(flown, flown.moved, tail_flows(flown))

    def head(title: str, said: str) -> Heading:
        return Heading(f"{flown.model.name}: {title}", said, origin)

    power, level = head("power over speed", f"{state}; {BANDS}. {SEEN}."), f"{state}; {BANDS}."
    field = head("take-off and landing", f"{mass}, {FIRM}; {steps}.")
    return {
        "power-over-speed": power_picture(flown, power, u),
        "level-flight": level_picture(flown, head("level flight over engine speed", level), u),
        "climb-over-height": climb_picture(flown, head("climb over height", f"{mass}, {CLIMB}."), u),
        "field-over-height": field_picture(flown, by_id, field, u),
        "roll-over-speed": roll_picture(sideways, head("rate of roll over speed", f"{heavy}, {ROLL}."), u),
        "elevator-over-speed": elevator_picture(flown, pulled, head("elevator to trim over speed", TRIM), u),
    }
