"""The modes of an aeroplane at three speeds, with the give or take of what they are made of.

Phases: climb at full throttle, cruise level, approach level; heaviest loading, sea level. Coefficients come from
flight/sides.py and flight/pitching.py; inertia from the parts, turned into the stream (mass/weigh.py).

Each coefficient is moved to either end of its own band and the modes found again; the changes are taken as independent
and put together as the root of the sum of their squares. Bands not said elsewhere are parts of the number (common
practice, no source): ENDS. Cma moves with the neutral point's band; TV from none to twice the likely.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.lateral import Lateral, spread
from sparwright.flight.motion import ACROSS, Body, Modes, modes_of
from sparwright.flight.pitching import Pitching, pitching, trim_drag
from sparwright.flight.roll import turned_inertia

PHASES = {"climb": "B", "cruise": "B", "approach": "C"}
ENDS = {"CLa": 0.07, "CD": 0.15, "CDa": 0.20, "CLq": 0.20, "Cmq": 0.15, "Cmadot": 0.30}
INERTIA = 0.10  # what is bought, not drawn or aboard counts as points


@dataclass(frozen=True)
class Phase:
    """One speed: what moves, its coefficients with bands, its modes."""

    key: str
    body: Body
    coefficients: Mapping[str, Band] = field(default_factory=dict)
    modes: Modes | None = None
    changed: tuple[Modes, ...] = ()  # with one thing after the other at an end of its band
    pitching: Pitching | None = None
    lift: float = number("1", "CL", math.nan)

    def band(self, of: Callable[[Modes], float]) -> Band:
        """A number of the modes with its give or take; unknown where it is not there, or some end has none."""
        likely = of(self.modes) if self.modes else math.nan
        others = np.array([of(m) for m in self.changed])
        if not math.isfinite(likely):
            return UNKNOWN
        if not np.all(np.isfinite(others)):
            return Band(likely, math.nan, math.nan)
        return spread(likely, others - likely)


def phases(lat: Lateral) -> dict[str, Phase]:
    """Every phase that can be flown; empty where sideways motion is not known."""
    return {k: _phase(lat, k) for k in PHASES if k in lat.speeds} if not lat.reason else {}


def _phase(lat: Lateral, key: str) -> Phase:
    V, CL = lat.speeds[key], lat.lift(lat.speeds[key])
    along = pitching(lat.case, CL, lat.states.get(key))
    body = _body(lat, key, V)
    coefficients = _coefficients(lat, key, CL, along, body)
    likely = {n: b.value for n, b in coefficients.items()}
    cases = [(body, {**likely, n: end}) for n, b in coefficients.items() for end in (b.low, b.high) if end != b.value]
    for name in ("rolling", "pitching", "yawing"):
        cases += [(replace(body, **{name: getattr(body, name) * (1 + k)}), likely) for k in (-INERTIA, INERTIA)]
    found, *changed = modes_of([(body, likely), *cases])
    return Phase(key, body, coefficients, found, tuple(changed), along, CL)


def _body(lat: Lateral, key: str, V: float) -> Body:
    plane, loading = lat.flown.plane, lat.case.loading
    turned = turned_inertia(loading.inertia, lat.sides(key).alpha)
    climb = math.asin(min(1.0, lat.flown.performance.climb.value.value / V)) if key == "climb" else 0.0
    return Body(loading.mass, V, lat.flown.air.density, plane.area, lat.span, plane.chord, float(turned[0, 0]),
                float(turned[1, 1]), float(turned[2, 2]), -float(turned[0, 2]), climb)  # fmt: skip


def _coefficients(lat: Lateral, key: str, CL: float, along: Pitching, body: Body) -> dict[str, Band]:
    sides, flown = lat.sides(key), lat.flown
    CD, per_lift = trim_drag(flown, CL)
    found = {n: sides.band(n) for n in ACROSS}
    likely = {"CLa": along.slope, "CD": CD, "CDa": per_lift * along.slope, "CLq": along.lift_rate, "Cmq": along.damping,
              "Cmadot": along.lag}  # fmt: skip
    found |= {n: Band.relative(v, ENDS[n]) for n, v in likely.items()}
    hn = flown.neutral_point
    found["CL"] = Band.exact(CL * math.cos(body.climb))
    found["Cma"] = Band(along.moment, *(along.moment - along.slope * (x - hn.value) for x in (hn.high, hn.low)))
    thrust = CD * body.force + body.mass * GRAVITY * math.sin(body.climb)
    found["TV"] = Band(-thrust / body.speed, -2 * thrust / body.speed, 0.0)
    return found
