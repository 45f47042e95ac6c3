"""The demo's models ready for load cases, without the rest of the flight room; and plain cases."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache

import shared
from demo import whinchat
from shelf import shelf

from sparwright.air.atmosphere import atmosphere
from sparwright.base.axes import GRAVITY
from sparwright.family.model import Family
from sparwright.flight.aeroplane import aeroplane
from sparwright.flight.in_the_wind import in_the_wind
from sparwright.flight.work import loadings
from sparwright.loads.case import Kind, LoadCase
from sparwright.loads.ready import Ready
from sparwright.mass.record import Loading
from sparwright.mass.weigh import weigh
from sparwright.mass.weighed import as_weighed
from sparwright.parts.layout import lay_out

MODELS = ["W1", "W2", "W3"]
Made = tuple[Ready, Loading]


@cache
def family() -> Family:
    return whinchat()


@cache
def made(name: str) -> Made:
    """A model ready, and its greatest mass at the forward limit; once in a whole test run."""
    return shared.once(f"{name} aloft", lambda _: _made(name))


def _made(name: str) -> Made:
    model, air = family().models[name], atmosphere(0.0)
    assembly = lay_out(model)
    plane = aeroplane(model, in_the_wind(model, assembly), air, shelf)
    return Ready(plane, air), loadings(model, weigh(model, as_weighed(model, assembly)), plane)["max_mass"]


def case(of: Made, key: str, kind: Kind, factor: float = 1.0, speed: float = 40.0,
         deflection: Mapping[str, float] | None = None) -> LoadCase:  # fmt: skip
    """A case with the lift of its factor at its speed."""
    ready, h = of
    lift = factor * h.mass * GRAVITY / (1.225 * speed**2 / 2 * ready.plane.area) if speed else math.nan
    return LoadCase(key=key, title=key, kind=kind, rule="", loading="", mass=h.mass, station=h.station,
                    waterline=h.waterline, speed=speed, factor=factor, lift=lift,
                    deflection=deflection or {})  # fmt: skip
