"""Polars as the house asks for them and keeps them: one section, one surface, one Reynolds number, 39 angles.

    asked = Asked(Section(name="lifting", naca="4412"), "built", KNOTS[8])
    found = worked_out([asked])[asked]

Whoever runs the chain hands it a `Polars`: this module's `worked_out`, which computes, or one that keeps what was
computed (cli). What is asked for stands at fixed Reynolds numbers, KNOTS, so that models share it. The angles go past
the section flow's own, to 26 degrees: in a close cell one wing is long past its greatest lift when the whole reaches
its own, and what a wing far past it still carries then counts for a few parts in a hundred of the whole.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np

from sparwright.air.flow.polar import ANGLES as CHECKED
from sparwright.air.flow.polar import REYNOLDS, Polar, Surface, polar, prepared
from sparwright.base.record import locked, number
from sparwright.base.source import Source
from sparwright.data.files import tables
from sparwright.family.model import Section

COUNT = 14
KNOTS = tuple(float(f"{re:.3g}") for re in np.geomspace(*REYNOLDS, COUNT))  # 50 thousand to 9 million, by 1.49
ANGLES = (*CHECKED, *(math.radians(a) for a in range(21, 27)))
COLUMNS = ("alpha", "lift", "drag", "moment", "turns_upper", "turns_lower", "parts_upper", "parts_lower", "left",
           "peak")  # fmt: skip
Told = Callable[[float, str], None]


@dataclass(frozen=True)
class Setting:
    """How true a surface is, from data/surfaces.toml."""

    title: str
    surface: Surface
    source: Source
    lift_low: float = number("1", "factor on the low end of greatest lift", 1.0)


@dataclass(frozen=True)
class Asked:
    """What a polar is of."""

    section: Section
    surface: str
    reynolds: float = number("1", "on the chord")


@dataclass(frozen=True)
class Table:
    """A polar as plain columns, (k,) each, NaN where the flow did not settle; `alpha` and `left` are always there."""

    alpha: np.ndarray  # rad, chord to the stream
    lift: np.ndarray
    drag: np.ndarray
    moment: np.ndarray  # about the quarter chord, nose up
    turns_upper: np.ndarray  # chords, where it turns turbulent
    turns_lower: np.ndarray
    parts_upper: np.ndarray  # chords, where it separates for good; 1 where it does not
    parts_lower: np.ndarray
    left: np.ndarray  # greatest relative change in the last sweep
    peak: np.ndarray  # pressure coefficient at the tail less the least one


class Polars(Protocol):
    """Gives the polars asked for; calls `told` with the part done (0 to 1) and what is being done."""

    def __call__(self, asked: Sequence[Asked], told: Told | None = None) -> Mapping[Asked, Table]:
        """Every one asked for, in any order."""


@lru_cache(maxsize=1)
def surfaces() -> dict[str, Setting]:
    """The settings by name."""
    raw = tables("surfaces.toml")
    return {
        name: Setting(
            row["title"],
            Surface(name, row["waves"], row["upper"], row["lower"]),
            Source(row["source"], row["place"], row["mark"]),
            row["lift_low"],
        )
        for name, row in raw.items()
    }


def table(asked: Asked) -> Table:
    """Work out one polar. Raises KeyError for a surface that is not known, ValueError outside the Reynolds range."""
    return columns(polar(prepared(asked.section), asked.reynolds, surfaces()[asked.surface].surface, ANGLES))


def columns(found: Polar) -> Table:
    """A polar's columns."""
    places = np.array([p.turns + p.parts if p.settled else (np.nan,) * 4 for p in found.points], dtype=float).T
    alpha, lift, drag, moment, left = (found.column(name) for name in ("alpha", "lift", "drag", "moment", "left"))
    turns_upper, turns_lower, parts_upper, parts_lower = map(locked, places)
    peak = locked(np.array([_peak(p.pressure) if p.settled else np.nan for p in found.points], dtype=float))
    return Table(alpha, lift, drag, moment, turns_upper, turns_lower, parts_upper, parts_lower, left, peak)


def _peak(pressure: np.ndarray) -> float:
    """Pressure coefficient at the tail, the mean of its two panels, less the least one."""
    return float((pressure[0] + pressure[-1]) / 2 - pressure.min())


def worked_out(asked: Sequence[Asked], told: Told | None = None) -> Mapping[Asked, Table]:
    """Each of the polars, computed one after the other."""
    found: dict[Asked, Table] = {}
    for i, one in enumerate(asked):
        if told:
            told(i / len(asked), f"{one.section.name} at Re {one.reynolds / 1e6:.2g} million, {one.surface}")
        if one not in found:
            found[one] = table(one)
    return found
