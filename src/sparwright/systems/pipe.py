"""Flow in fuel lines: friction, losses of fittings, and the flow that a pressure drives.

Symbols: Q flow, D bore, A = pi D^2/4, V = Q/A, rho density, mu viscosity, Re = rho V D/mu, e roughness, f friction
factor after Darcy, L length, K loss of a fitting.

    dp = (f L/D + sum K) rho V^2/2
    f = 64/Re                                       Re <= 2000, poiseuille-1846
    1/sqrt(f) = -2 log10(e/(3.7 D) + 2.51/(Re sqrt(f)))   Re >= 4000, colebrook-1939
    between them f may be either: the likely one goes straight in log Re from one to the other, the band holds both
    K = K1/Re + Kinf (1 + 1 in/D)                   hooper-1981
    entrance K = 160/Re + 0.5
    float valve's seat: dp = rho (Q/(Cd A))^2/2

Losses are taken to add, fittings to stand apart, and lines to be full; 1 in/D is beyond the sizes Hooper measured (1/2
in and up) and makes small fittings lossy. Range: round bores, drawn smooth; Re up to 1e8.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from scipy.optimize import brentq

from sparwright.base.record import number
from sparwright.data.fuel import FITTINGS

LAMINAR, TURBULENT = 2000.0, 4000.0
INCH = 0.0254  # m
Friction = Callable[[float, float], float]  # (Re, e/D) -> f


@dataclass(frozen=True, kw_only=True)
class Pipe:
    """A stretch of one bore with its fittings."""

    name: str
    bore: float = number("m", "inside diameter")
    length: float = number("m", "length along it")
    roughness: float = number("m", "roughness of the bore", 0.0)
    fittings: tuple[tuple[str, int], ...] = ()  # kind of data/fuel.toml, how many
    fixed: float = number("1", "loss K that does not change with the flow", 0.0)

    @property
    def area(self) -> float:
        """Of the bore, m2."""
        return math.pi / 4 * self.bore**2


@dataclass(frozen=True)
class Liquid:
    """What flows."""

    density: float = number("kg/m3", "density")
    viscosity: float = number("Pa s", "dynamic viscosity")


def laminar(re: float) -> float:
    """64/Re. Source: poiseuille-1846.

    >>> laminar(640.0)
    0.1
    """
    return 64 / re


def colebrook(re: float, rough: float = 0.0) -> float:
    """f of turbulent flow, rough = e/D; solved by repeated putting in. Source: colebrook-1939.

    >>> round(colebrook(1e5), 4)
    0.018
    """
    x = 1 / math.sqrt(0.316 / re**0.25)  # 1/sqrt(f), Blasius to begin
    for _ in range(60):
        x, before = -2 * math.log10(rough / 3.7 + 2.51 * x / re), x
        if abs(x - before) < 1e-13 * x:
            break
    return 1 / x**2


def friction(re: float, rough: float = 0.0) -> float:
    """The likely friction factor at any Reynolds number."""
    if re <= LAMINAR:
        return laminar(re)
    if re >= TURBULENT:
        return colebrook(re, rough)
    part = math.log(re / LAMINAR) / math.log(TURBULENT / LAMINAR)
    return laminar(LAMINAR) + part * (colebrook(TURBULENT, rough) - laminar(LAMINAR))


def least_friction(re: float, rough: float = 0.0) -> float:
    """The smaller of what it may be: laminar up to 4000."""
    return laminar(re) if re < TURBULENT else colebrook(re, rough)


def most_friction(re: float, rough: float = 0.0) -> float:
    """The greater of what it may be: turbulent from 2000."""
    return laminar(re) if re <= LAMINAR else colebrook(re, rough)


def fitting_loss(kind: str, re: float, bore: float) -> float:
    """K of a fitting of data/fuel.toml at a Reynolds number in a bore, m. Source: hooper-1981.

    >>> round(fitting_loss("globe", 1e4, 2 * 0.0254), 2)
    6.15
    """
    row = FITTINGS[kind]
    return row.k1 / re + row.kinf * (1.0 if kind == "entrance" else 1 + INCH / bore)


def reynolds(pipe: Pipe, flow: float, liquid: Liquid) -> float:
    """Re in a pipe at a flow, m3/s."""
    return liquid.density * flow / pipe.area * pipe.bore / liquid.viscosity


def pipe_loss(pipe: Pipe, flow: float, liquid: Liquid, factor: Friction = friction) -> float:
    """Pressure lost in a pipe and its fittings, Pa, at a flow, m3/s; nought at no flow."""
    if flow <= 0:
        return 0.0
    re = reynolds(pipe, flow, liquid)
    k = factor(re, pipe.roughness / pipe.bore) * pipe.length / pipe.bore + pipe.fixed
    k += sum(n * fitting_loss(kind, re, pipe.bore) for kind, n in pipe.fittings)
    return k * liquid.density * (flow / pipe.area) ** 2 / 2


def seat_loss(bore: float, flow: float, liquid: Liquid, discharge: float) -> float:
    """Pressure lost in a float valve's seat, Pa: rho (Q/(Cd A))^2/2. Source: white-2003 (orifice)."""
    return liquid.density * (flow / (discharge * math.pi / 4 * bore**2)) ** 2 / 2


def filter_loss(flow: float, stated: float, loss: float, power: float) -> float:
    """Pressure lost in a filter, Pa, from what its maker states at one flow: loss (Q/Q0)^power, 1 to 2."""
    return float(loss * (max(flow, 0.0) / stated) ** power)


def driven(pressure: float, loss: Callable[[float], float], most: float = 1.0) -> float:
    """The flow, m3/s, at which the loss is the pressure, Pa; nought where there is none to drive it.

    loss rises with the flow. NaN where even `most`, m3/s, does not use the pressure up.
    """
    if not math.isfinite(pressure):
        return math.nan
    if pressure <= 0:
        return 0.0
    if loss(most) < pressure:
        return math.nan
    return float(brentq(lambda q: loss(q) - pressure, 0.0, most, xtol=1e-18, rtol=1e-12))


def gravity_flow(pipes: Sequence[Pipe], head: float, liquid: Liquid, gravity: float,
                 factor: Friction = friction) -> float:  # fmt: skip
    """The flow, m3/s, that a head, m, drives through pipes one after another: rho g h = sum of losses."""
    each = [partial(pipe_loss, p, liquid=liquid, factor=factor) for p in pipes]
    return driven(liquid.density * gravity * head, lambda q: sum(e(q) for e in each))
