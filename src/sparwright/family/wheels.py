"""The wheels of a family file: springing that fits its wheel, tyres out of the body, wheels below the propeller."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from sparwright.base.quantity import inches
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.ground import Ground, Springing
from sparwright.family.model import Body, Propeller, Wheel
from sparwright.family.tables import BAD

ON_CENTRE = 1e-6  # m
ROUND = 48  # points round a tyre
RINGS = 9  # circles of points from its middle to its tread


def check_wheels(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """Everything about how the aeroplane stands that no single key can tell."""
    if values["wheels"] is BAD or "wheels" not in whole:
        return
    wheels = {w.name: w for w in values["wheels"]}
    springing = {} if values["ground"] in (BAD, None) else _springing(values["ground"], wheels, whole, faults)
    for wheel in wheels.values():
        spot = whole["wheels"][wheel.name]
        if values["fuselage"] is not BAD:
            _through_the_floor(wheel, springing.get(wheel.name), values["fuselage"].body, spot, faults)
        if values["propeller"] is not BAD and abs(wheel.place[1]) > ON_CENTRE:
            _above_the_propeller(wheel, values["propeller"], spot, faults)


def _springing(ground: Ground, wheels: dict[str, Wheel], whole: Entry, faults: Faults) -> dict[str, Springing]:
    """Those that fit a wheel, by its name."""
    for s in ground.springing:
        spot = whole["ground"].nearest("springing", s.name)
        if s.name not in whole["wheels"]:
            faults.add(spot, f"names a wheel of [wheels]{hint(s.name, whole['wheels'])}", repr(s.name))
        elif s.name in wheels:
            _gives_way(s, wheels[s.name], spot, faults)
    return {s.name: s for s in ground.springing}


def _gives_way(s: Springing, wheel: Wheel, spot: Entry, faults: Faults) -> None:
    """A rim within its tyre, a tyre that is not pressed past its rim, a leg that stands above its stop."""
    if s.rim is not None and s.rim >= wheel.diameter:
        faults.wrong(spot["rim"], f"must be less than the tyre's diameter, {inches(wheel.diameter)}")
    elif s.rim is not None and s.tyre is not None and s.tyre > (wheel.diameter - s.rim) / 2:
        deep = inches((wheel.diameter - s.rim) / 2)
        faults.wrong(spot["tyre"], f"is pressed past its rim, which lies {deep} within the tread")
    if s.leg is not None and s.stop is not None and s.leg > s.stop:
        faults.wrong(spot["leg"], f"must not be above stop, {inches(s.stop)}")


def _through_the_floor(wheel: Wheel, s: Springing | None, body: Sequence[Body], spot: Entry, faults: Faults) -> None:
    """The tyre stays outside the body, as drawn and with its leg at its stop."""
    stop = (s.stop if s else None) or 0.0
    for rise, when in ((0.0, ""), (stop, f" with its leg at its stop, {inches(stop)} up")):
        deep = reach_into(wheel, rise, body)
        if deep > 0:
            where = f"the tyre reaches {inches(deep)} into the fuselage body{when}"
            faults.wrong(spot.nearest("place"), f"{where}; a lower or wider wheel, or a smaller one, is wanted")
            return


def reach_into(wheel: Wheel, rise: float, body: Sequence[Body]) -> float:
    """How deep a tyre reaches into the body, m, its axle raised by `rise`; nought when it stays outside.

    The body is an oval at each station, straight between; the tyre is looked at on its inner face. The depth is from
    the oval straight up to the highest point of that face that lies within it.
    """
    x, side, z = wheel.place
    inner = max(abs(side) - wheel.width / 2, 0.0)
    round_, out = np.linspace(0, 2 * np.pi, ROUND, endpoint=False), np.linspace(0, wheel.diameter / 2, RINGS)
    at = x + np.outer(out, np.cos(round_)).ravel()
    high = z + rise + np.outer(out, np.sin(round_)).ravel()
    stations = np.array([b.station for b in body])
    if len(body) < 2 or np.any(np.diff(stations) <= 0):
        return 0.0  # told elsewhere
    half, top, low = (np.interp(at, stations, [f(b) for b in body]) for f in (_half, _top, _low))
    wide = 1 - (inner / half) ** 2
    share = np.sqrt(np.clip(wide, 0, None))
    middle, tall = (top + low) / 2, (top - low) / 2
    within = (at >= stations[0]) & (at <= stations[-1]) & (wide > 0) & (np.abs(high - middle) < tall * share)
    deep = high - (middle - tall * share)
    return float(np.max(deep[within], initial=0.0))


def _half(b: Body) -> float:
    return b.width / 2


def _top(b: Body) -> float:
    return b.top


def _low(b: Body) -> float:
    return b.bottom


def _above_the_propeller(wheel: Wheel, propeller: Propeller, spot: Entry, faults: Faults) -> None:
    """With the thrust line level, a main wheel reaches lower than the propeller's tip."""
    bottom, tip = wheel.place[2] - wheel.diameter / 2, propeller.place[2] - propeller.diameter / 2
    if bottom >= tip:
        over = inches(bottom - tip)
        wanted = f"stands {over} above the propeller's tip: the propeller would strike the ground before the wheel"
        faults.wrong(spot.nearest("place"), wanted)
