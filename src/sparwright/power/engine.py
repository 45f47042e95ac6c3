"""Engine: full-throttle power over speed, height and temperature, and what it burns at any throttle.

Symbols: P brake power, P0 at full throttle, sea level, standard day; n crankshaft speed; s density of the standard air
at the pressure there over that at sea level; T, Ts temperature and that of the standard air at that pressure; L = P
over full throttle at the same speed and air; b specific consumption, b0 of the curve; w part of the full-throttle fuel
that friction and throttling take at no load; e part by which full throttle is richer.

    P = P0(n) [s - (1 - s)/7.55] sqrt(Ts/T)
    b/b0 = (1 - w + w/L)(1 - e),  e fading out from L = 0.85 to 1

Height: gudmundsson-2014 eq. 7-16 (Gagg and Ferrar), quoted. Temperature: naca-tr-190 (memory), and the same root in
sae-j1349 (read, quoted). The line of fuel over power that goes on straight to what turns the engine over at no load is
Willans's. w of a four-stroke: 1 less the mechanical efficiency, 0.12 to 0.17 (naca-tr-103, as quoted by others), and
up to 0.07 for the work of drawing in past a closed throttle (memory: 0.65 bar of 10). Carburettors enrich full throttle
to keep the engine cool (ac-23-8, app. 1); by how much is common practice, no source. A two-stroke with a carburettor
loses fresh charge through its exhaust, less of it when throttled: a measured one burnt at a quarter throttle at most
1.31 times its least (sae-831303, abstract), the rest is common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sparwright.air.atmosphere import BETA, P0, T0, R
from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.engine import Engine
from sparwright.power.gas import Gas, pressure, temperature

SEA_LEVEL_DENSITY = 1.225  # kg/m3, iso-2533
RICH_FROM = 0.85  # of full throttle, above which the mixture goes over to that of full throttle
FULL = 1 + 1e-6  # of full throttle, above which there is no more
SAME = 0.02  # of full throttle: points of a file nearer than that are one load
TOLD_BAND = 0.03  # give or take of consumption read off a maker's curve (common practice, no source)


@dataclass(frozen=True)
class PartLaw:
    """Part throttle of a kind of engine: its law's numbers, and those of the ends of its band."""

    least: float = number("1", "of full throttle, below which it is not said what is burnt")
    idle: Band = UNKNOWN  # w
    rich: Band = UNKNOWN  # e; its high end makes part throttle thrifty


LAWS = {
    4: PartLaw(0.30, Band(0.18, 0.12, 0.24), Band(0.07, 0.0, 0.15)),
    2: PartLaw(0.40, Band(0.15, 0.05, 0.30), Band(0.07, 0.0, 0.15)),
}


def full_throttle(engine: Engine, crank: float, air: Gas | float = SEA_LEVEL_DENSITY) -> float:
    """Brake power in W at a crankshaft speed (rev/s) with the throttle open; NaN outside the engine's curve.

    air: or its density, kg/m3, on a standard day. P0 goes straight between the curve's points, which are taken as
    power at the propeller flange, gear included. Range: the curve's speeds; up to about 6000 m.

    >>> from sparwright.family.model import CurvePoint
    >>> curve = (CurvePoint(speed=40, power=2e4, consumption=1e-7), CurvePoint(speed=60, power=3e4, consumption=1e-7))
    >>> twin = Engine(name="t", strokes=4, cylinders=2, mass=50, mass_band=0, place=(0, 0, 0), curve=curve)
    >>> full_throttle(twin, 50.0)
    25000.0
    """
    return float(full_throttle_curve(engine, np.array(crank), air))


def full_throttle_curve(engine: Engine, crank: np.ndarray, air: Gas | float = SEA_LEVEL_DENSITY) -> np.ndarray:
    """The same for many crankshaft speeds at once, W."""
    return _read(engine, "power", crank) * air_factor(air)


def air_factor(air: Gas | float) -> float:
    """Power over that at sea level on a standard day, in some air or at a density (kg/m3) of a standard day."""
    if isinstance(air, int | float):
        return height_factor(air / SEA_LEVEL_DENSITY)
    here = pressure(air) / P0
    standard = T0 * here ** (-BETA * R / GRAVITY)
    return height_factor(here * T0 / standard) * math.sqrt(standard / temperature(air))


def height_factor(density_ratio: float) -> float:
    """Power of an unblown piston engine over its sea-level power on a standard day: s - (1 - s)/7.55.

    Source: gudmundsson-2014 eq. 7-16 (Gagg and Ferrar), quoted; a 1940s chart lies 0.03 lower at 10 000 ft.

    >>> round(height_factor(1.11164 / 1.225), 4)
    0.8952
    """
    return density_ratio - (1 - density_ratio) / 7.55


def top_speed(engine: Engine) -> float:
    """Highest crankshaft speed of the curve, rev/s; NaN without a curve."""
    return max((p.speed for p in engine.curve), default=math.nan)


def idle_speed(engine: Engine) -> float:
    """Lowest crankshaft speed of the curve, rev/s; NaN without a curve."""
    return min((p.speed for p in engine.curve), default=math.nan)


def greatest_speed(engine: Engine) -> float:
    """Greatest permitted crankshaft speed, rev/s: the file's, or the last of the curve; NaN without either."""
    return top_speed(engine) if engine.greatest_speed is None else engine.greatest_speed


def fastest(engine: Engine) -> float:
    """Highest crankshaft speed it is flown at, rev/s: the greatest permitted one as far as the curve goes."""
    return min(top_speed(engine), greatest_speed(engine))


def least_load(engine: Engine) -> float:
    """Part of full throttle below which it is not known what is burnt."""
    told = [p.power / full_throttle(engine, p.speed) for p in engine.part_throttle]
    return min(told, default=LAWS[engine.strokes].least)


def fuel_flow(engine: Engine, crank: float, power: float, air: Gas | float = SEA_LEVEL_DENSITY) -> Band:
    """Fuel burnt in kg/s at a crankshaft speed (rev/s) and power (W): flow = P b.

    Of full throttle as the curve says, without a band; at part throttle by the file's points, or the law of two- and
    four-strokes with its band. Below `least_load`, above full throttle, or outside the curve: unknown, NaN.
    """
    found = fuel_flows(engine, np.array(crank), np.array(power), air)
    return Band(*(float(x) for x in found))


def fuel_flows(engine: Engine, crank: np.ndarray, power: np.ndarray,
               air: Gas | float = SEA_LEVEL_DENSITY) -> np.ndarray:  # fmt: skip
    """The same for many at once: (3, ...) value, low, high, kg/s."""
    full = full_throttle_curve(engine, crank, air)
    with np.errstate(divide="ignore", invalid="ignore"):
        load = np.minimum(np.where(full > 0, power / full, np.nan), FULL)
    load = np.where(power <= full * FULL, load, np.nan)
    return np.asarray(power * _read(engine, "consumption", crank) * part_throttle(engine, load))


def part_throttle(engine: Engine, load: np.ndarray) -> np.ndarray:
    """(3, ...) b/b0 at parts L of full throttle: value, low, high; NaN below `least_load`.

    With points in the file, straight between their ratios to the curve over L, up to 1 at full throttle; points nearer
    than a fiftieth of full throttle are one, with a band as wide as they lie apart.
    """
    load = np.asarray(load, dtype=float)
    inside = load >= least_load(engine) - 1e-9
    L = np.where(inside & (load > 0), load, np.nan)
    found = _by_points(engine, L) if engine.part_throttle else _by_law(LAWS[engine.strokes], L)
    return np.where(load >= 0.999, 1.0 + 0 * L, found)


def part_words(engine: Engine) -> str:
    """What part throttle stands on."""
    if engine.part_throttle:
        return f"part throttle by {len(engine.part_throttle)} points of the file ({engine.mark})"
    kind = {2: "two", 4: "four"}[engine.strokes]
    return (f"part throttle by Willans's line for a {kind}-stroke, its slope and the richness of full throttle with a "
            f"band (naca-tr-103; common practice, no source); points in part_throttle would narrow it")  # fmt: skip


def _by_law(law: PartLaw, L: np.ndarray) -> np.ndarray:
    fades = np.clip((1 - L) / (1 - RICH_FROM), 0.0, 1.0)
    pairs = ((law.idle.value, law.rich.value), (law.idle.low, law.rich.high), (law.idle.high, law.rich.low))
    return np.array([(1 - w + w / L) * (1 - e * fades) for w, e in pairs])


def _by_points(engine: Engine, L: np.ndarray) -> np.ndarray:
    rows = sorted((p.power / full_throttle(engine, p.speed), p.consumption / float(_read(engine, "consumption",
                  np.array(p.speed)))) for p in engine.part_throttle)  # fmt: skip
    groups: list[list[tuple[float, float]]] = []
    for row in rows:
        if groups and row[0] - groups[-1][0][0] < SAME:
            groups[-1].append(row)
        else:
            groups.append([row])
    at = [*(float(np.mean([x for x, _ in g])) for g in groups), 1.0]
    at[0] = rows[0][0]
    ends = [(float(np.mean(k)), min(k) * (1 - TOLD_BAND), max(k) * (1 + TOLD_BAND))
            for k in ([y for _, y in g] for g in groups)]  # fmt: skip
    return np.array([np.interp(L, at, [*(e[i] for e in ends), 1.0]) + 0 * L for i in range(3)])


def _read(engine: Engine, what: str, crank: np.ndarray) -> np.ndarray:
    if not engine.curve:
        return np.full(np.shape(crank), math.nan)
    points = sorted(engine.curve, key=lambda p: p.speed)
    speeds, values = [p.speed for p in points], [getattr(p, what) for p in points]
    return np.asarray(np.interp(crank, speeds, values, left=math.nan, right=math.nan))
