"""The fuel system worked through: how the aeroplane stands, what the tank leaves, what reaches the engine.

Symbols: a nose up of the thrust line, g climb angle, alpha angle of attack, T thrust, D drag, W weight; h height over
the ground, square to gravity; q dynamic pressure, cp pressure at an opening over q; Q flow; rho density.

    steepest climb     a = asin((T - D)/W) + alpha, full throttle, the lightest loading, where asin is greatest
    glide              a = alpha - asin(D/W), no thrust
    what drives        p = rho g0 (h outlet - h carburettor) + cp q - what the carburettor needs (+ what a pump adds)
    flow               p = losses(Q), systems/pipe.py

The head is counted from the outlet itself: the level has just fallen to it. Steady flight is taken, however steep. The
float bowl is taken to be at the air's pressure. Climb and glide use L = W, as flight does.
Sources: anderson-flight ch. 6 (climb, glide); white-2003 ch. 6 (losses in a line). cfr-23-2014 23.955.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Literal

import numpy as np

from sparwright.base.axes import GRAVITY, up
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.fuel import FLUID, OPENINGS, RULES, Value
from sparwright.family.fuel import Fuel, FuelLine, FuelPump
from sparwright.family.model import Engine, Model, Place, Wheel
from sparwright.flight.drag import build
from sparwright.flight.near_ground import stand as on_wheels
from sparwright.flight.work import Flown
from sparwright.power.matching import full_thrust
from sparwright.systems import pipe, tank
from sparwright.systems.pipe import Liquid, Pipe

End = Literal["likely", "worst", "best"]
Pumping = Literal["main", "emergency", "stopped"]
OF: Mapping[End, str] = {"likely": "value", "worst": "high", "best": "low"}  # of what hinders
ENDS: tuple[End, End] = ("worst", "best")
STEEPER = math.radians(RULES["steeper"].value)
APPROACH = 1.3  # of the stalling speed (common practice)
SLOWEST = 1.2  # of the stalling speed: no slower climb is meant (cfr-23-2014 23.65(a), memory)
SPEEDS = 41
MOST = 1e-3  # m3/s, more than any light engine's line carries


@dataclass(frozen=True)
class Stand:
    """How the aeroplane stands, steadily."""

    name: str
    nose: Band  # rad, thrust line nose up
    bank: float = number("rad", "right wing down", 0.0)
    speed: float = number("m/s", "flying speed; nought on the ground", 0.0)
    climb: Band = UNKNOWN  # rad, flight path
    reason: str = ""  # why it is unknown

    def up(self, end: End = "likely") -> tank.Up:
        """The vector up; nose highest for the worst end."""
        return up(getattr(self.nose, OF[end]), self.bank)


@dataclass(frozen=True)
class Reached:
    """What reaches the engine in one stand."""

    stand: Stand
    flow: Band  # m3/s
    head: Band  # m, outlet over carburettor
    vent: Band  # Pa, in the tank over the air's
    losses: tuple[tuple[str, float, float], ...] = ()  # what, Pa at the likely flow, Re (NaN where none)
    reason: str = ""


def missing(fuel: Fuel) -> str:
    """What the file does not say of the way from tank to engine, as a sentence; empty when it says all."""
    gone = [f"[fuel.{k}]" for k in ("lines", "vent", "valve", "filter", "carburettor") if not getattr(fuel, k)]
    carburettor = fuel.carburettor
    if carburettor and carburettor.least is None and carburettor.seat is None:
        gone.append("least or seat of [fuel.carburettor]")
    return f"the file does not say {', '.join(gone)}" if gone else ""


def demand(engine: Engine) -> float:
    """The most fuel the engine burns at full throttle, m3/s: the greatest P b of its curve over the density."""
    return max((p.power * p.consumption for p in engine.curve), default=math.nan) / engine.fuel_density


def liquids(engine: Engine) -> tuple[Liquid, ...]:
    """Its fuel: likely, thinnest, thickest. Thicker fuel may flow faster where it keeps the flow laminar."""
    v = FLUID["viscosity"]
    return tuple(Liquid(engine.fuel_density, x) for x in (v.value, v.low, v.high))


# ------------------------------------------------------------------ how the aeroplane stands


def stands(flown: Flown) -> dict[str, Stand]:
    """Ground, level at the greatest speed, steepest climb, that and 5 deg more, glide, approach and its two slips."""
    fuel = flown.model.fuel
    climb, glide, approach = _climb(flown), _glide(flown), _approach(flown)
    steeper = Band(*(x + STEEPER for x in (climb.nose.value, climb.nose.low, climb.nose.high)))
    test = Stand("climb and 5 deg more", steeper, speed=climb.speed, climb=climb.climb, reason=climb.reason)
    found = {"ground": ground(flown.model.wheels), "level": _level(flown), "climb": climb, "test": test,
             "glide": glide}  # fmt: skip
    if fuel is None or fuel.bank is None:
        lost = Stand("slip", UNKNOWN, reason="the file does not say bank of [fuel]")
        return {**found, "slip_right": lost, "slip_left": lost}
    for side, word in ((1, "right"), (-1, "left")):
        name = f"approach, slipping with the {word} wing down"
        found[f"slip_{word}"] = Stand(name, approach.nose, side * fuel.bank, approach.speed, reason=approach.reason)
    return found


def ground(wheels: tuple[Wheel, ...]) -> Stand:
    """Standing on three wheels, tyres not pressed in: the attitude of flight/near_ground.py."""
    on = on_wheels(wheels)
    if on.reason:
        return Stand("ground", UNKNOWN, reason=on.reason)
    return Stand("on the ground", Band.exact(on.attitude))


def _level(flown: Flown) -> Stand:
    top, drag = flown.performance.top, flown.performance.drag
    if not math.isfinite(top.speed.value):
        return Stand("level", UNKNOWN, reason=top.reason or "the greatest level speed is unknown")
    alpha = float(np.interp(top.speed.value, drag.speed, drag.states.alpha))
    return Stand("level at the greatest speed", Band.exact(alpha), speed=top.speed.value)


def _climb(flown: Flown) -> Stand:
    case, air, name = flown.cases["lightest"], flown.air, "steepest climb, lightest loading"
    maps = flown.moved.maps
    if not case.stall.speed.known or not maps:
        return Stand(name, UNKNOWN, reason=case.stall.reason or "the engine has no power curve")
    weight = case.loading.mass * GRAVITY
    speed = np.linspace(SLOWEST * case.stall.speed.value, flown.performance.drag.speed[-1], SPEEDS)
    drag = build(flown.plane, case.line, case.loading.mass, speed, air)
    found = []
    for chart, total in itertools.product(maps, drag.total):
        thrust = full_thrust(flown.model.engine, chart, speed, air)
        angle = np.arcsin(np.clip((thrust - total) / weight, -1.0, 1.0))
        if not np.isfinite(angle).any():
            return Stand(name, UNKNOWN, reason="thrust or drag unknown at every speed")
        i = int(np.nanargmax(angle))
        found.append((float(angle[i] + drag.states.alpha[i]), float(angle[i]), float(speed[i])))
    noses, climbs, speeds = (np.array(x) for x in zip(*found, strict=True))
    return Stand(name, _ends(noses), speed=float(speeds[0]), climb=_ends(climbs))


def _glide(flown: Flown) -> Stand:
    top = flown.performance.top.speed.value
    if not math.isfinite(top):
        return Stand("glide", UNKNOWN, reason="the greatest level speed is unknown")
    return _gliding(flown, "glide at the greatest level speed, lightest loading", top)


def _approach(flown: Flown) -> Stand:
    stall = flown.cases["lightest"].stall
    if not stall.speed.known:
        return Stand("approach", UNKNOWN, reason=stall.reason)
    return _gliding(flown, "approach", APPROACH * stall.speed.value)


def _gliding(flown: Flown, name: str, speed: float) -> Stand:
    """Without thrust; a stopped or idling propeller holds back besides and steepens it."""
    case = flown.cases["lightest"]
    pair = np.array([speed, speed + 1.0])
    drag = build(flown.plane, case.line, case.loading.mass, pair, flown.air)
    alpha = float(drag.states.alpha[0])
    steep = np.arcsin(np.clip(drag.total[:, 0] / (case.loading.mass * GRAVITY), -1.0, 1.0))
    if not (math.isfinite(alpha) and np.isfinite(steep).all()):
        return Stand(name, UNKNOWN, reason=f"drag or trim unknown at {speed:.1f} m/s")
    return Stand(name, _ends(alpha - steep), speed=speed, climb=_ends(-steep))


def _ends(found: np.ndarray) -> Band:
    return Band(float(found[0]), float(np.min(found)), float(np.max(found)))


# ------------------------------------------------------------------ from the tank to the engine


def pipes(fuel: Fuel, end: End = "likely") -> tuple[Pipe, ...]:
    """Lines and valve, with the entrance at the tank and the speed that is lost in the float bowl."""
    found = [_pipe(line, getattr(FLUID["roughness"], OF[end])) for line in fuel.lines]
    found[0] = replace(found[0], fittings=(("entrance", 1), *found[0].fittings))
    found[-1] = replace(found[-1], fixed=1.0)
    valve = fuel.valve
    if valve is None:
        return tuple(found)
    return (*found, Pipe(name="valve", bore=valve.bore, length=0.0, fittings=((valve.kind, 1),)))


def _pipe(line: FuelLine, rough: float) -> Pipe:
    counts = {"elbow": line.elbows, "bend": line.bends, "half_bend": line.half_bends, "tee": line.tees,
              "side_tee": line.side_tees}  # fmt: skip
    fittings = tuple((kind, n) for kind, n in counts.items() if n)
    return Pipe(name=line.name, bore=line.bore, length=length(line), roughness=rough, fittings=fittings)


def length(line: FuelLine) -> float:
    """Of a line from place to place, m."""
    return sum(math.dist(a, b) for a, b in itertools.pairwise(line.run.values()))


FACTOR: Mapping[End, pipe.Friction] = {
    "likely": pipe.friction, "worst": pipe.most_friction, "best": pipe.least_friction,
}  # fmt: skip


def losses(fuel: Fuel, of: Liquid, end: End) -> dict[str, Callable[[float], float]]:
    """What takes pressure between tank and float bowl, each as a function of the flow, m3/s -> Pa."""
    found: dict[str, Callable[[float], float]] = {}
    for p in pipes(fuel, end):
        found[p.name] = partial(pipe.pipe_loss, p, liquid=of, factor=FACTOR[end])
    if fuel.filter:
        strainer = fuel.filter
        power = {"likely": (1.0, 1.0), "worst": (1.0, 2.0), "best": (2.0, 1.0)}[end]
        found["filter"] = lambda q: pipe.filter_loss(q, strainer.flow, strainer.loss, power[q > strainer.flow])
    seat = fuel.carburettor.seat if fuel.carburettor else None
    if seat is not None and fuel.carburettor and fuel.carburettor.least is None:
        discharge = {"likely": "value", "worst": "low", "best": "high"}[end]
        cd = getattr(FLUID["orifice"], discharge)
        found["float valve"] = lambda q: pipe.seat_loss(seat, q, of, cd)
    return found


def pumped(pump: FuelPump, flow: float) -> float:
    """What a pump adds, Pa: straight from nothing flowing to its stated flow."""
    return pump.shut - (pump.shut - pump.pressure) * flow / pump.flow


def head(fuel: Fuel, stand: Stand) -> Band:
    """How far the outlet lies over the carburettor's inlet, m; nose highest at the low end."""
    carburettor = fuel.carburettor
    if carburettor is None or not stand.nose.known:
        return UNKNOWN
    found = [tank.height(fuel.tank.outlet, n) - tank.height(carburettor.place, n)
             for n in (stand.up(), stand.up("worst"), stand.up("best"))]  # fmt: skip
    return Band(found[0], min(found), max(found))


def opening(value: Value, stand: Stand, density: float) -> Band:
    """Pressure at an opening over the air's, Pa: cp q with its band."""
    q = density * stand.speed**2 / 2
    return Band(value.value * q, value.low * q, value.high * q)


def reached(model: Model, stand: Stand, density: float, *, pump: Pumping = "main", cap: bool = True) -> Reached:
    """The flow that reaches the float bowl; by its pump, the other or none, or with the tank's cap missing, when said.

    density: of the air, kg/m3. Unknown with the reason where the stand or the way is.
    """
    fuel = model.fuel
    why = stand.reason or ("the file has no [fuel]" if fuel is None else missing(fuel))
    if why or fuel is None or fuel.vent is None or fuel.carburettor is None:
        return Reached(stand, UNKNOWN, UNKNOWN, UNKNOWN, reason=why)
    over = head(fuel, stand)
    air = opening(OPENINGS[fuel.vent.faces if cap else fuel.tank.cap], stand, density)
    helped = {"main": fuel.pump, "emergency": fuel.emergency, "stopped": None}[pump]
    of = liquids(model.engine)
    worst, best = ([_flow(fuel, x, _end(over, end), _end(air, end), end, helped) for x in of] for end in ENDS)
    likely = _flow(fuel, of[0], over.value, air.value, "likely", helped)
    if not all(map(math.isfinite, (*worst, *best, likely))):
        return Reached(
            stand, UNKNOWN, over, air, reason=f"more than {MOST} m3/s would flow, which no line here carries"
        )
    band = Band(likely, min(*worst, likely), max(*best, likely))
    each = losses(fuel, of[0], "likely")
    re = {p.name: pipe.reynolds(p, band.value, of[0]) for p in pipes(fuel)}
    told = tuple((name, loss(band.value), re.get(name, math.nan)) for name, loss in each.items())
    return Reached(stand, band, over, air, told)


def _end(band: Band, end: End) -> float:
    """Of what drives: the low end is the worst."""
    return {"likely": band.value, "worst": band.low, "best": band.high}[end]


def _flow(fuel: Fuel, of: Liquid, over: float, air: float, end: End, pump: FuelPump | None) -> float:
    each = tuple(losses(fuel, of, end).values())
    needed = (fuel.carburettor.least if fuel.carburettor else None) or 0.0
    pressure = of.density * GRAVITY * over + air - needed
    if pump is None:
        return pipe.driven(pressure, lambda q: sum(e(q) for e in each), MOST)
    flow = pipe.driven(pressure + pump.shut, lambda q: sum(e(q) for e in each) + pump.shut - pumped(pump, q), MOST)
    return min(flow, pump.flow)  # more than its maker states is not known


def along(fuel: Fuel, engine: Engine, stand: Stand, flow: float, air: float) -> Iterator[tuple[str, float]]:
    """(place, pressure over the air's, Pa) along the way at a flow, m3/s: likely losses, up to the inlet.

    Losses of a line are spread along it by length; valve, filter and pump act at their places.
    """
    n, rho, each = stand.up("worst"), engine.fuel_density, losses(fuel, liquids(engine)[0], "likely")
    start, lost = tank.height(fuel.tank.outlet, n), 0.0
    for line in fuel.lines:
        whole, long = each[line.name](flow), length(line)
        first = line is fuel.lines[0]
        for i, (name, place) in enumerate(places := list(line.run.items())):
            if i:
                lost += whole * math.dist(places[i - 1][1], place) / long
            yield name, air + rho * GRAVITY * (start - tank.height(place, n)) - lost
            if (i or first) and (more := sum(_acts(fuel, each, place, flow))):
                lost += more
                yield f"{name}, behind it", air + rho * GRAVITY * (start - tank.height(place, n)) - lost


def _acts(fuel: Fuel, each: Mapping[str, Callable[[float], float]], place: Place, flow: float) -> Iterator[float]:
    """What the things at a place take, Pa; a pump takes less than nothing."""
    for name in ("valve", "filter", "pump"):
        thing = getattr(fuel, name)
        if thing and math.dist(thing.place, place) < 1e-4:
            yield -pumped(thing, flow) if name == "pump" else each[name](flow)


def hump(fuel: Fuel, n: tank.Up) -> float:
    """How far the line rises to a high point between two lower ones, m: where vapour and air stay; nought for none."""
    high = [tank.height(p, n) for line in fuel.lines for p in line.run.values()]
    rises = [min(h - min(high[:i]), h - min(high[i + 1 :])) for i, h in enumerate(high) if 0 < i < len(high) - 1]
    return max((r for r in rises if r > 0), default=0.0)


def filled(fuel: Fuel, standing: Stand) -> float:
    """What is in the tank filled to the filler's lip on the ground, m3, the sump counted."""
    return tank.under(fuel.tank, standing.up(), fuel.tank.filler) + fuel.tank.sump


def left(fuel: Fuel, stand: Stand) -> Band:
    """What stays in the tank when the outlet falls dry, m3: what lies below the sump's rim, and the sump itself."""
    if not stand.nose.known:
        return UNKNOWN
    over = tank.rim(fuel.tank, fuel.tank.outlet)
    found = [tank.under(fuel.tank, stand.up(end), over) + fuel.tank.sump for end in OF]
    return Band(found[0], min(found), max(found))


def undrained(fuel: Fuel, standing: Stand) -> float:
    """What stays in the tank on the ground with every drain open, m3: below the lower of the drain and the sump's rim.

    A sump empties by a drain in it, or by a filter's drain through the outlet's line.
    """
    t, n = fuel.tank, standing.up()
    runs = fuel.filter is not None and fuel.filter.drains
    in_sump = tank.rim(t, t.drain) != t.drain
    ways = [tank.rim(t, t.drain), *([tank.rim(t, t.outlet)] if runs else [])]
    return min(tank.under(t, n, p) for p in ways) + (0.0 if in_sump or runs else t.sump)
