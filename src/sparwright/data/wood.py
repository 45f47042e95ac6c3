"""Wood as wood, from wood.toml: elastic ratios, drying, slope of grain, heat, time, glue, scarfs, bolts.

>>> elastic("spruce").tangential
0.043
>>> round(drying("spruce").dry["bending"] / drying("spruce").green["bending"], 3)
1.789
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from sparwright.base.quantity import parse
from sparwright.base.record import locked, number
from sparwright.base.source import Source
from sparwright.data.files import tables
from sparwright.data.loader import source_of

PROPERTIES = ("bending", "compression", "shear", "compression_across", "youngs")  # that drying has rows for


@dataclass(frozen=True, kw_only=True)
class Elastic:
    """Ratios of a wood's elastic values to E along its grain; L along the grain, R across the rings, T along them."""

    tangential: float = number("1", "E_T/E_L")
    radial: float = number("1", "E_R/E_L")
    shear_lr: float = number("1", "G_LR/E_L")
    shear_lt: float = number("1", "G_LT/E_L; of a rotary-cut veneer in its plane")
    poisson_lr: float = number("1", "strain along R for one along L")
    poisson_lt: float = number("1", "strain along T for one along L")
    source: Source


@dataclass(frozen=True, kw_only=True)
class Drying:
    """A species green and at 12 % moisture."""

    meets: float = number("1", "moisture, per cent, below which drying strengthens (Mp)")
    green: Mapping[str, float]  # Pa by property
    dry: Mapping[str, float]  # Pa by property, at 12 %
    source: Source


@dataclass(frozen=True, kw_only=True)
class Grain:
    """Range of Hankinson's exponent and ratio for one property."""

    exponent: tuple[float, float] = number("1", "least and greatest", (2.0, 2.0))
    ratio: tuple[float, float] = number("1", "across over along the grain, least and greatest", (0.04, 0.1))
    source: Source


@dataclass(frozen=True, kw_only=True)
class Curve:
    """A printed table of one number over another, both locked arrays."""

    at: np.ndarray
    value: np.ndarray
    source: Source


@dataclass(frozen=True, kw_only=True)
class Heat:
    """How a property changes from 20 to 50 degrees Celsius."""

    prop: str
    low: float = number("1", "moisture from, per cent")
    high: float = number("1", "moisture to, per cent")
    hot: float = number("1", "relative change at 50 degrees Celsius")
    source: Source


@dataclass(frozen=True, kw_only=True)
class Lasting:
    """Madison curve: per cent = base + factor t^power, t in seconds."""

    base: float = number("1", "per cent")
    factor: float = number("1", "per cent")
    power: float = number("1", "power of the time in seconds")
    standard: float = number("s", "time that the design strengths are for")
    source: Source


@dataclass(frozen=True, kw_only=True)
class Bolting:
    """Bolts in wood: share by slenderness, and where they may stand, in diameters."""

    slenderness: np.ndarray
    share: np.ndarray
    end_pulled: float = number("1", "to the end that the bolt pulls towards")
    end_pressed: float = number("1", "to the end behind a bolt that presses away from it")
    edge_along: float = number("1", "to the edge, load along the grain")
    edge_across: float = number("1", "to the edge the load presses towards, across the grain")
    spacing: float = number("1", "between bolts in a row along the load")
    source: Source


def elastic(species: str) -> Elastic:
    """Elastic ratios of "spruce", "douglas-fir", "birch" or "ash"; KeyError for another."""
    row = tables("wood.toml")["elastic"][species]
    names = ("tangential", "radial", "shear_lr", "shear_lt", "poisson_lr", "poisson_lt")
    return Elastic(source=source_of(row), **{n: float(row[n]) for n in names})


def species_known() -> frozenset[str]:
    """The species `elastic` knows."""
    return frozenset(tables("wood.toml")["elastic"])


def drying(species: str) -> Drying:
    """Green and dry values of a species; KeyError for one that is not on file."""
    row = tables("wood.toml")["drying"][species]
    green, dry = ({p: parse(row[p][when], "pressure") for p in PROPERTIES} for when in ("green", "dry"))
    return Drying(meets=row["meets"], green=MappingProxyType(green), dry=MappingProxyType(dry), source=source_of(row))


def grain(prop: str) -> Grain:
    """Hankinson's range for "tension", "compression", "bending" or "youngs"; KeyError for another."""
    row = tables("wood.toml")["hankinson"][prop]
    return Grain(exponent=tuple(row["exponent"]), ratio=tuple(row["ratio"]), source=source_of(row))


def slope(prop: str) -> Curve:
    """Strength over that of straight grain, by rise over run from nought up, for "bending" or "compression"."""
    row = tables("wood.toml")["slope"]
    return Curve(at=locked([0.0, *(1 / r for r in row["run"])]), value=locked([1.0, *row[prop]]),
                 source=source_of(row))  # fmt: skip


def slope_allowed(prop: str) -> tuple[float, Source]:
    """(run, source): design strengths hold for a slope of 1 in that run; KeyError where none is on file."""
    row = tables("wood.toml")["slope_allowed"]
    return float(row[prop]), source_of(row)


def heat(prop: str) -> tuple[Heat, ...]:
    """The rows of a property, driest first; none where nothing is on file."""
    rows = (r for r in tables("wood.toml")["heat"] if r["property"] == prop)
    return tuple(Heat(prop=prop, low=r["from"], high=r["to"], hot=r["hot"], source=source_of(r)) for r in rows)


def lasting() -> Lasting:
    """The Madison curve."""
    row = tables("wood.toml")["duration"]
    names = ("base", "factor", "power", "standard")
    return Lasting(source=source_of(row), **{n: float(row[n]) for n in names})


def glue_share(angle: float) -> tuple[float, Source]:
    """(share of the shear along the grain, source) of a glued joint, at 0, 45 or 90 degrees; KeyError between."""
    for row in tables("wood.toml")["glue"]:
        if row["angle"] == angle:
            return row["share"], source_of(row)
    raise KeyError(f"no share of a glued joint is on file for {angle:g} degrees")


def scarfs() -> Curve:
    """Share of the tension of clear wood (value) that a scarf of 1 in `at` has, steepest first."""
    rows = sorted(tables("wood.toml")["scarf"], key=lambda r: float(r["run"]))
    return Curve(at=locked([r["run"] for r in rows]), value=locked([r["share"] for r in rows]),
                 source=source_of(rows[-1]))  # fmt: skip


def bolting() -> Bolting:
    """Bolts in softwood."""
    row = tables("wood.toml")["bolt"]
    names = ("end_pulled", "end_pressed", "edge_along", "edge_across", "spacing")
    return Bolting(slenderness=locked(row["slenderness"]), share=locked(row["share"]), source=source_of(row),
                   **{n: float(row[n]) for n in names})  # fmt: skip
