"""What is on file about a section: greatest lift and drag against Reynolds number, each with its band.

Read from data/sections.toml, where every row has its source and its mark. Outside the Reynolds numbers or
lifts a table covers the answer is NaN and `reason` says why; nothing is held at the last value. Most rows
are from memory and their bands say so; they go when the program computes sections itself.

Symbols: cl section lift, cd section drag, Re Reynolds number on the local chord.
"""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any

import numpy as np

from sparwright.base.record import number
from sparwright.base.source import Band, Source
from sparwright.family.model import Section

Rows = tuple[tuple[float, float], ...]


@dataclass(frozen=True, kw_only=True)
class LiftRow:
    """Greatest section lift at one Reynolds number."""

    reynolds: float = number("1", "Reynolds number")
    value: float = number("1", "greatest lift coefficient of the published model")
    band: float = number("1", "give or take, fraction")
    source: Source


@dataclass(frozen=True, kw_only=True)
class Allowance:
    """From the published model to a wing as built."""

    lift_low: float = number("1", "factor on the low end of greatest lift")
    drag_likely: float = number("1", "factor on least drag, likely")
    drag_high: float = number("1", "factor on least drag, high")
    source: Source


@dataclass(frozen=True, kw_only=True)
class Rise:
    """How section drag rises with lift, the same for all sections on file."""

    rows: Rows  # (r, rise of cd), r as in `SectionTable.drag`
    low: float = number("1", "factor on the rise, low")
    likely: float = number("1", "factor on the rise, likely")
    high: float = number("1", "factor on the rise, high")
    source: Source


@dataclass(frozen=True, kw_only=True)
class SectionTable:
    """One section, as published."""

    name: str
    zero_lift_angle: float = number("rad", "angle of no lift")
    lift_slope: float = number("1/rad", "slope of lift against angle, two-dimensional")
    moment: float = number("1", "moment coefficient about the aerodynamic centre")
    slope_source: Source
    best_lift: float = number("1", "lift coefficient of least drag")
    least_lift: float = number("1", "lift coefficient below which nothing is on file")
    least_drag: float = number("1", "least drag coefficient, smooth, Re 6 million")
    least_drag_band: float = number("1", "give or take, fraction")
    drag_source: Source
    exponent: float = number("1", "least drag goes with Re to minus this power")
    lifts: tuple[LiftRow, ...]
    allowance: Allowance
    rise: Rise

    @property
    def reynolds(self) -> tuple[float, float]:
        """Least and greatest Reynolds number on file."""
        return self.lifts[0].reynolds, self.lifts[-1].reynolds

    def cl_max(self, re: Any) -> Band:
        """Greatest section lift at a Reynolds number, straight in log Re between rows; NaN outside the table.

        The low end is lowered once more by the allowance for a wing as built. re: scalar or array; the
        band then holds arrays of that shape.
        """
        at = np.log(np.array([row.reynolds for row in self.lifts]))
        ends = np.array([[row.value, row.value * (1 - row.band) * self.allowance.lift_low, row.value * (1 + row.band)]
                         for row in self.lifts]).T  # fmt: skip
        with np.errstate(divide="ignore", invalid="ignore"):
            where = np.log(np.asarray(re, dtype=float))
        return _band(*(np.interp(where, at, end, left=np.nan, right=np.nan) for end in ends))

    def drag(self, cl: Any, re: Any) -> Band:
        """Section drag at a lift and a Reynolds number; NaN outside the table or past greatest lift.

        cd = cd6 (6e6/Re)^0.11 x allowance + rise(r), r = |cl - best|/(cl_max - best). The low end is the
        smooth section with the least rise, the high end a rough one with the greatest. cl, re: scalars or
        arrays of one shape. Range: least_lift to cl_max, and `reynolds`. Source: the rows' own.
        """
        cl, re = np.asarray(cl, dtype=float), np.asarray(re, dtype=float)
        r = np.abs(cl - self.best_lift) / (np.asarray(self.cl_max(re).value) - self.best_lift)
        r = np.where(cl < self.least_lift, np.nan, r)
        x, y = np.array(self.rise.rows).T
        risen = np.interp(r, x, y, right=np.nan)
        with np.errstate(divide="ignore", invalid="ignore"):
            smooth = self.least_drag * (6e6 / re) ** self.exponent
        smooth = np.where(np.isfinite(r), smooth, np.nan)
        own, rise, width = self.allowance, self.rise, self.least_drag_band
        return _band(
            smooth * own.drag_likely + risen * rise.likely, smooth * (1 - width) + risen * rise.low,
            smooth * own.drag_high * (1 + width) + risen * rise.high,
        )  # fmt: skip

    def reason(self, re: float, cl: float | None = None) -> str:
        """Why there is no answer there, in a sentence; empty where there is one."""
        low, high = self.reynolds
        if not low <= re <= high:
            return f"{self.name} is on file from Reynolds number {low:,.0f} to {high:,.0f}; {re:,.0f} is outside"
        least, most = self.least_lift, self.cl_max(re).value
        if cl is not None and not least <= cl <= most:
            return (
                f"{self.name} at Reynolds number {re:,.0f} is on file for lifts {least:.2f} to {most:.2f}, not {cl:.2f}"
            )
        return ""


def _band(value: np.ndarray, low: np.ndarray, high: np.ndarray) -> Band:
    if np.ndim(value) == 0:
        return Band(float(value), float(low), float(high))
    return Band(value, low, high)  # type: ignore[arg-type]


def section_table(section: Section) -> SectionTable | None:
    """The table of a section, or None where none is on file (a section given by points has none)."""
    return _tables().get(section.naca) if section.naca else None


@lru_cache(maxsize=1)
def _tables() -> dict[str, SectionTable]:
    raw = tomllib.loads(files("sparwright.data").joinpath("sections.toml").read_text(encoding="utf-8"))
    a, s, scale = raw.pop("allowance"), raw.pop("shape"), raw.pop("scale")
    allowance = Allowance(
        lift_low=a["lift_low"],
        drag_likely=a["drag_likely"],
        drag_high=a["drag_high"],
        source=Source(a["source"], a["note"], a["mark"]),
    )
    rise = Rise(
        rows=tuple((float(r), float(cd)) for r, cd in s["rows"]),
        low=s["low"],
        likely=s["likely"],
        high=s["high"],
        source=Source(s["source"], s["place"], s["mark"]),
    )
    return {name: _table(name, row, scale["exponent"], allowance, rise) for name, row in raw.items()}


def _table(name: str, row: dict[str, Any], exponent: float, allowance: Allowance, rise: Rise) -> SectionTable:
    drag, width, *drag_source = row["least_drag"]
    return SectionTable(
        name=f"NACA {name}",
        zero_lift_angle=math.radians(row["zero_lift_angle"]),
        lift_slope=row["lift_slope"] * 180 / math.pi,
        moment=row["moment"],
        slope_source=Source(**row["slope_source"]),
        best_lift=row["best_lift"],
        least_lift=row["least_lift"],
        least_drag=drag,
        least_drag_band=width,
        drag_source=Source(*drag_source),
        exponent=exponent,
        lifts=tuple(
            LiftRow(reynolds=re * 1e6, value=value, band=band, source=Source(*source))
            for re, value, band, *source in row["greatest_lift"]
        ),
        allowance=allowance,
        rise=rise,
    )
