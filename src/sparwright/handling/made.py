"""Everything of an aeroplane that the forces are worked out from, put together once."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Result
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.controls.motion import Motion
from sparwright.controls.trim import stick_force
from sparwright.family.model import Model
from sparwright.flight.fast import cruise_speed
from sparwright.flight.work import Case, Flown
from sparwright.handling.flap import flap
from sparwright.handling.gear import Gear, gear_of
from sparwright.handling.pitch import Pitch
from sparwright.handling.roll import Aileron, Stream, stream
from sparwright.handling.yaw import Rudder, pedal_springs, rudder
from sparwright.shape.lifting import camber, thickness

CASE = "heaviest"  # for aileron and rudder
ENDS = ("foremost", "aftmost")  # loadings that the stick's forces are told for
APPROACH = 1.3  # of the stalling speed
NO_CONTROLS = "the file has no controls"


@dataclass(frozen=True)
class Made:
    """Elevator, ailerons and rudder with what moves them, and the speeds they are told at."""

    flown: Flown
    pitch: Pitch
    ailerons: tuple[Aileron, ...] = ()
    rudder: Rudder | None = None
    speeds: Mapping[str, float] = field(default_factory=dict)  # m/s: approach, cruise, manoeuvre, top
    rolled: Mapping[str, Stream | None] = field(default_factory=dict)  # level flight at those, for the ailerons
    span: float = number("m", "greatest wing span", math.nan)
    why: str = ""  # why there are no forces, where there are none

    @property
    def density(self) -> float:
        """Of the air, kg/m3."""
        return self.flown.air.density

    def pressure(self, key: str) -> float:
        """Dynamic pressure at a speed told, Pa."""
        return self.density * self.speeds[key] ** 2 / 2

    def case(self, name: str) -> Case:
        """A loading."""
        return self.flown.cases[name]


def made(flown: Flown, motions: tuple[Motion, ...], weights: Mapping[str, Result]) -> Made:
    """weights: results by id, with `mass.hinge.elevator` where the elevator is drawn."""
    model, company = flown.model, flown.plane.company
    lines, thick = camber(model), thickness(model)
    frame = model.tailplane.frame
    root = (frame.movable.root, frame.movable.root_aft) if frame else (0.0, 0.0)
    by_name = {m.name: m for m in motions}
    gears = {name: gear_of(m) for name, m in by_name.items()}
    ailerons = tuple(
        Aileron(flap(company, lines, thick, name.removesuffix("_aileron")), gears[name])
        for name, m in by_name.items() if m.force == "aileron"
    )  # fmt: skip
    pitch = Pitch(flap(company, lines, thick, flown.plane.tail, root), gears.get("elevator"), weight_of(weights))
    pitch = _with_trim(pitch, model)
    whole = Made(flown, pitch, ailerons, _rudder(model, flown, by_name, gears), speeds(flown),
                 span=company.reference.span, why="" if motions else NO_CONTROLS)  # fmt: skip
    return replace(whole, rolled=_rolled(whole))


def weight_of(weights: Mapping[str, Result]) -> Band:
    """N m, the elevator's own weight about its hinge, trailing edge down."""
    found = weights.get("mass.hinge.elevator")
    if found is None:
        return UNKNOWN
    return Band(*(x * GRAVITY for x in (found.value, found.low, found.high)))


def _with_trim(pitch: Pitch, model: Model) -> Pitch:
    c = model.controls
    if c is None or c.trim is None or pitch.gear is None:
        return pitch
    return replace(pitch, spring=stick_force(model, c, c.trim), lever=(-c.trim.forward, c.trim.aft))


def _rudder(model: Model, flown: Flown, motions: Mapping[str, Motion], gears: Mapping[str, Gear]) -> Rudder:
    station, gear, c = flown.cases[CASE].loading.station, gears.get("rudder"), model.controls
    springs = pedal_springs(model, c, motions["rudder"], gear) if gear is not None and c is not None else None
    return rudder(model, station, gear, springs)


def speeds(flown: Flown) -> dict[str, float]:
    """Speeds that forces are told at, m/s: NaN where the stall or the top speed is not known."""
    most = flown.cases["max_mass"].stall.speed.value
    return {
        "approach": APPROACH * most,
        "cruise": cruise_speed(flown),
        "manoeuvre": most * math.sqrt(flown.model.limits.n_positive),
        "top": flown.performance.top.speed.value,
    }


def _rolled(m: Made) -> dict[str, Stream | None]:
    """Level flight at each speed; the odd loads are solved once, at cruise."""
    case, found = m.case(CASE), {}
    first = stream(case, m.ailerons, m.speeds["cruise"], m.density)
    for key in ("cruise", "approach", "manoeuvre"):
        v = m.speeds[key]
        found[key] = stream(case, m.ailerons, v, m.density, first.odd if first else None) if math.isfinite(v) else None
    return found
