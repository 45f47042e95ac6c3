"""A load case and the forces on the aeroplane in it, as other rooms read them.

A case says what the rule says: weight, centre of gravity, speed, load factor, paragraph. Its pushes are every force
from outside but weight: air, ground, thrust, hand and foot. What the masses do in return is not the case's: the whole
is balanced by its own inertia (structure room), so that nothing is held from outside.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from sparwright.base.check import Step
from sparwright.base.record import number

Kind = Literal[
    "manoeuvre", "gust", "roll", "yaw", "tail", "engine", "control", "landing", "ground", "crash", "handling"
]
Level = Literal["limit", "ultimate"]


@dataclass(frozen=True, kw_only=True)
class LoadCase:
    """One case, before its forces are laid out."""

    key: str  # "A", "gust.C.up", "landing.tail_down"
    title: str
    kind: Kind
    rule: str  # key of a source and paragraph: "cs-vla 337(a)"
    level: Level = "limit"
    loading: str  # which loading: "heaviest, foremost"
    mass: float = number("kg", "mass")
    station: float = number("m", "centre of gravity, station")
    waterline: float = number("m", "centre of gravity, waterline")
    speed: float = number("m/s", "equivalent airspeed; nought on the ground", 0.0)
    factor: float = number("1", "load factor along z that the rule asks for", math.nan)
    lift: float = number("1", "CL of the whole aeroplane; NaN where it does not fly", math.nan)
    deflection: Mapping[str, float] = field(default_factory=dict)  # rad: "aileron", "elevator", "rudder"
    steps: tuple[Step, ...] = ()
    caveat: str = ""  # what is not in it, or how a method left its range: its checks are then unknown


@dataclass(frozen=True, kw_only=True)
class Pushes:
    """k forces on an aeroplane, each at a place and with a moment of its own. Limit loads unless the case says more.

    `on` says what takes each: "wing:upper:R", "tailplane:L", "elevator:R", "horn:elevator", "fin", "rudder", "body",
    "mount", "wheel:main:R", "seat", "harness", "stick", "pedals", "node:B1R", "spar:upper:front:R", "item:battery",
    "turnover", "held:R" (a place where a rope, jack or sling holds).
    """

    place: np.ndarray  # (k, 3) m
    force: np.ndarray  # (k, 3) N
    moment: np.ndarray  # (k, 3) N m, about the place
    on: tuple[str, ...]  # (k,)
