"""The published aeroplanes of published_family.py, flown; not a test itself."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import numpy as np
from published_family import FOOT, HERE, MASS_CENTRE, geometry, model
from shelf import shelf

from sparwright.air.atmosphere import Air, atmosphere
from sparwright.base.source import Band
from sparwright.family.model import Model
from sparwright.flight.aeroplane import Aeroplane, aeroplane
from sparwright.flight.in_the_wind import in_the_wind
from sparwright.flight.performance import most_speed, mover
from sparwright.flight.stall import stall
from sparwright.flight.trim import Cg, trimmed
from sparwright.flight.work import Performance, performance
from sparwright.parts.part import Assembly
from sparwright.parts.struts import strut_parts

ASKED = ("stall", "top", "climb")


@dataclass(frozen=True)
class Predicted:
    """What is foretold of one aeroplane, m/s."""

    stall: Band
    top: Band
    climb: Band
    turning: float  # rev/min of the engine in the fastest level flight at sea level
    diameter: float  # m, of the propeller
    pitch: float  # m


@cache
def made_ready(name: str) -> tuple[Aeroplane, Model]:
    """The aeroplane in the lattice, its struts in the wind."""
    m = model(name)
    return aeroplane(
        m, in_the_wind(m, Assembly(model=m.name, parts=tuple(strut_parts(m)), joints=())), atmosphere(0.0), shelf
    ), m


def mass_centre(plane: Aeroplane) -> Cg:
    """Station and waterline."""
    return plane.chord_station + MASS_CENTRE * plane.chord, 0.0


def flown(plane: Aeroplane, m: Model, air: Air) -> Performance:
    """Level flight and climb in `air` at the published weight."""
    stalled = stall(trimmed(plane, mass_centre(plane), m.limits.max_mass, air))
    moved = mover(m.engine, m.propeller, air, shelf)
    return performance(m, plane, mass_centre(plane), stalled, air, moved)


def matched(plane: Aeroplane, m: Model) -> Model:
    """With the pitch at which the engine turns its rated speed in the fastest level flight at sea level."""
    air = atmosphere(0.0)
    drag = flown(plane, m, air).drag
    rated = m.engine.curve[1].speed

    def over(pitch: float) -> float:
        now = mover(m.engine, replace(m.propeller, pitch=pitch), air, shelf)
        pull = most_speed(now, drag, air).pull
        return (pull.turning if pull else math.nan) / rated - 1

    pitches = np.linspace(0.35, 1.25, 19) * m.propeller.diameter
    found = np.array([over(float(p)) for p in pitches])
    down = [i for i in range(len(found) - 1) if found[i] > 0 >= found[i + 1]]
    i = down[-1]
    pitch = pitches[i] + (pitches[i + 1] - pitches[i]) * found[i] / (found[i] - found[i + 1])
    return replace(m, propeller=replace(m.propeller, pitch=float(pitch)))


@cache
def predicted(name: str) -> Predicted:
    """Stall at sea level, top speed at the height of the report, best climb at sea level."""
    plane, m = made_ready(name)
    low = atmosphere(0.0)
    m = matched(plane, m)
    at_sea = flown(plane, m, low)
    height = geometry()[name]["height"] * FOOT
    top = (flown(plane, m, atmosphere(height)) if height else at_sea).top.speed
    stalled = stall(trimmed(plane, mass_centre(plane), m.limits.max_mass, low)).speed
    turning = at_sea.top.pull.turning * 60 if at_sea.top.pull else math.nan
    return Predicted(stalled, top, at_sea.climb.value, turning, m.propeller.diameter, m.propeller.pitch)


def told(name: str) -> str:
    """The prediction of one aeroplane as predictions.toml has it, metres a second; nan is not known."""
    p = predicted(name)
    bands = "\n".join(f"{k} = [{', '.join(f'{x:.3f}' for x in (b.value, b.low, b.high))}]"
                      for k, b in ((k, getattr(p, k)) for k in ASKED))  # fmt: skip
    return f"[{name}]\n{bands}\nturning = {p.turning:.0f}\ndiameter = {p.diameter:.3f}\npitch = {p.pitch:.3f}\n"


@cache
def committed() -> Mapping[str, Mapping[str, Any]]:
    """The predictions as they were committed, by name."""
    return tomllib.loads((HERE / "predictions.toml").read_text("utf-8"))


UNITS = {"mph": 0.44704, "kt": 1852 / 3600, "ft/min": 0.3048 / 60}


@dataclass(frozen=True)
class Held:
    """One measured speed beside what was foretold of it, m/s."""

    name: str
    asked: str
    measured: float
    foretold: Band
    counts: bool
    key: str
    mark: str

    @property
    def ratio(self) -> float:
        """Measured over likely."""
        return self.measured / self.foretold.value

    @property
    def inside(self) -> bool:
        """Whether it lies in the band; False where the band is not known."""
        return self.foretold.low <= self.measured <= self.foretold.high


@cache
def held() -> tuple[Held, ...]:
    """Every measured value of measured.toml beside the committed prediction."""
    table = tomllib.loads((HERE / "measured.toml").read_text("utf-8"))
    return tuple(
        Held(name, asked, row[asked]["value"] * UNITS[row[asked]["unit"]], Band(*committed()[name][asked]),
             row[asked].get("counts", True), row["key"], row["mark"])
        for name, row in table.items() for asked in ASKED if asked in row
    )  # fmt: skip
