"""Sources, materials, stock and hardware, read once from the files beside this one; licence categories: categories.py.

Each row carries its source. Files are written in the unit the source prints; here everything becomes SI.
A value no source gives is NaN: unknown is missing, not 1.

>>> round(material("spruce").density)
449
>>> str(material("spruce").sources["tension"])
'anc-18-1951 Table 2-6 p. 22, quoted; the same in 1944 (second-hand)'
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from functools import lru_cache
from types import MappingProxyType
from typing import Any, Literal

from sparwright.base.quantity import parse
from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.files import rows, tables
from sparwright.data.printed import BULK, Printed, taken

NO_SOURCE = "common practice"  # stands in a row where the trade's custom is all there is
Market = Literal["inch", "metric", "both"]
MARKETS: tuple[Market, ...] = ("inch", "metric", "both")
Kind = Literal["wood", "plywood", "aluminium", "steel", "glass", "fabric", "rubber", "plastic", "lead"]


@dataclass(frozen=True, kw_only=True)
class Reference:
    """A published source: who, what, when."""

    key: str
    author: str
    title: str
    year: int

    def __str__(self) -> str:
        return f"{self.author}, {self.title}, {self.year}"


@dataclass(frozen=True, kw_only=True)
class Material:
    """A material with its published values; NaN where no source gives one.

    `compression` of a metal is its yield. `sources` tells where each value comes from, `rows` all that is printed
    of it: in several editions, forms, thicknesses. The values here are those of data/printed.py `taken`, for the
    thickness the material is listed for.
    """

    key: str
    title: str
    kind: Kind
    density: float = number("kg/m3", "density", math.nan)
    youngs: float = number("Pa", "Young's modulus, along the grain or face grain", math.nan)
    shear_modulus: float = number("Pa", "shear modulus; panel shear for plywood", math.nan)
    poisson: float = number("1", "Poisson's ratio", math.nan)
    tension: float = number("Pa", "ultimate tension, along the grain", math.nan)
    yield_tension: float = number("Pa", "yield in tension", math.nan)
    compression: float = number("Pa", "ultimate compression along the grain; yield for a metal", math.nan)
    yield_compression: float = number("Pa", "yield in compression", math.nan)
    compression_limit: float = number("Pa", "compression along the grain at the proportional limit", math.nan)
    compression_across: float = number("Pa", "compression across the grain", math.nan)
    bending: float = number("Pa", "modulus of rupture of a solid rectangle", math.nan)
    bending_limit: float = number("Pa", "bending stress at the proportional limit", math.nan)
    shear: float = number("Pa", "ultimate shear: along the grain, or through the thickness of a sheet", math.nan)
    bearing: float = number("Pa", "ultimate bearing, edge distance 2 diameters", math.nan)
    bearing_close: float = number("Pa", "ultimate bearing, edge distance 1.5 diameters", math.nan)
    yield_bearing: float = number("Pa", "yield in bearing, edge distance 2 diameters", math.nan)
    tension_near_weld: float = number("Pa", "ultimate tension beside a fusion weld", math.nan)
    sources: Mapping[str, Source] = field(default_factory=dict)
    rows: Mapping[str, tuple[Printed, ...]] = field(default_factory=dict)
    note: str = ""

    @property
    def source(self) -> Source:
        """Where its tension comes from, or its density where no strength is known."""
        return self.sources.get("tension") or self.sources.get("density") or Source(NO_SOURCE, "", NO_SOURCE)


@dataclass(frozen=True, kw_only=True)
class TubeSize:
    """A round tube as sold."""

    stock: str  # "4130" or "aluminium"
    market: Market
    outside: float = number("m", "outside diameter")
    wall: float = number("m", "wall thickness")
    source: Source


@dataclass(frozen=True, kw_only=True)
class SheetSize:
    """Flat stock as sold."""

    stock: str  # key of a material
    market: Market
    thickness: float = number("m", "thickness")
    width: float = number("m", "width of a whole sheet; NaN when unknown")
    length: float = number("m", "length of a whole sheet, along the face grain; NaN when unknown")
    bend_radius: float = number("m", "least inside radius of a square bend; NaN when unknown")
    source: Source


@dataclass(frozen=True, kw_only=True)
class Cable:
    """A cable or strand with its least breaking strength, without end fittings."""

    construction: str
    diameter: float = number("m", "diameter")
    carbon: float = number("N", "least breaking strength, carbon steel")
    stainless: float = number("N", "least breaking strength, corrosion-resisting steel")
    source: Source  # of the carbon steel
    stainless_source: Source


@dataclass(frozen=True, kw_only=True)
class Fastener:
    """A bolt or rivet."""

    key: str
    kind: str  # "bolt", "solid rivet", "blind rivet"
    diameter: float = number("m", "nominal diameter")
    shear: float = number("N", "ultimate single shear; NaN when unknown")
    tension: float = number("N", "ultimate tension; NaN when unknown")
    source: Source  # of its shear
    tension_source: Source


@lru_cache(maxsize=1)
def sources() -> Mapping[str, Reference]:
    """Every published source by key."""
    return MappingProxyType({k: Reference(key=k, **v) for k, v in tables("sources.toml").items()})


@lru_cache(maxsize=1)
def materials() -> Mapping[str, Material]:
    """Every material by key."""
    return MappingProxyType({k: _material(k, v) for k, v in tables("materials.toml").items()})


def material(key: str) -> Material:
    """The material of that key; KeyError when there is none."""
    return materials()[key]


@lru_cache(maxsize=1)
def tubes() -> tuple[TubeSize, ...]:
    """Round tube as sold, 4130 and aluminium."""
    return tuple(
        TubeSize(
            stock=r["stock"], market=_market(r), outside=_si(r["outside"]), wall=_si(r["wall"]), source=source_of(r)
        )
        for r in rows("tubes.csv")
    )


@lru_cache(maxsize=1)
def sheets() -> tuple[SheetSize, ...]:
    """Flat stock as sold."""
    sizes = ("thickness", "width", "length", "bend_radius")
    return tuple(
        SheetSize(stock=r["stock"], market=_market(r), source=source_of(r), **{s: _si(r[s]) for s in sizes})
        for r in rows("sheets.csv")
    )


@lru_cache(maxsize=1)
def cables() -> tuple[Cable, ...]:
    """Cable and strand with breaking strengths."""
    return tuple(
        Cable(construction=r["construction"], diameter=_si(r["diameter"]), carbon=_si(r["carbon"], "force"),
              stainless=_si(r["stainless"], "force"), source=source_of(r), stainless_source=_own(r, "stainless"))
        for r in rows("cables.csv")
    )  # fmt: skip


@lru_cache(maxsize=1)
def fasteners() -> Mapping[str, Fastener]:
    """Bolts and rivets by key."""
    return MappingProxyType(
        {
            r["key"]: Fastener(key=r["key"], kind=r["kind"], diameter=_si(r["diameter"]), source=source_of(r),
                               shear=_si(r["shear"], "force"), tension=_si(r["tension"], "force"),
                               tension_source=_own(r, "tension"))
            for r in rows("fasteners.csv")
        }
    )  # fmt: skip


def _market(row: Mapping[str, str]) -> Market:
    return next(m for m in MARKETS if m == row["market"])


def sold_in(market: str, size: TubeSize | SheetSize) -> bool:
    """Whether a market has that stock."""
    return size.market in (market, "both")


def tubes_of(key: str, market: str) -> tuple[TubeSize, ...]:
    """Round tube of a metal as a market has it."""
    family = {"steel": "4130", "aluminium": "aluminium"}.get(material(key).kind, "")
    return tuple(t for t in tubes() if t.stock == family and sold_in(market, t))


def sheets_of(key: str, market: str) -> tuple[float, ...]:
    """Thicknesses, m, of flat stock of a material as a market has it, thinnest first."""
    return tuple(sorted({s.thickness for s in sheets() if s.stock == key and sold_in(market, s)}))


def _own(row: Mapping[str, str], value: str) -> Source:
    """Where one value of a row comes from: the row's own words for it, or those for all of it."""
    if not row[f"{value}_source"]:
        return source_of(row)
    return source_of({k: row[f"{value}_{k}"] for k in ("source", "place", "mark", "confidence")})


def cable_strength(construction: str, diameter: float) -> tuple[float, Source | None]:
    """Least breaking strength, N, of carbon-steel cable of that construction and diameter, m, with its source.

    (NaN, None) when the table has no such cable. Diameters agree to a hundredth of a millimetre.

    >>> round(cable_strength("1x19", 0.0254 * 5 / 32)[0])
    14679
    """
    for cable in cables():
        if cable.construction == construction and abs(cable.diameter - diameter) < 1e-5:
            return cable.carbon, cable.source
    return math.nan, None


def plywood_shear(plies: int, thickness: float, veneer_shear: float) -> tuple[float, Source, str]:
    """Shear strength through the thickness of plywood, face grain at 0 or 90 degrees: value, Pa, source, caveat.

    F_s = 55 (n - 1)/t + (9/16) F_v, psi and inches, all plies of one species: the sum of F_v t_i over t is F_v.

    plies: n. thickness: t, m. veneer_shear: F_v, shear along the grain of the solid wood, Pa.
    Range: (n - 1)/t up to 35 per inch, three plies or more; beyond it the value is NaN and the caveat says so.
    Source: ANC-18, 1951, section 2.6; the formula is recalled with medium confidence.

    >>> value, source, caveat = plywood_shear(3, 0.0015, 8.963e6)
    >>> round(value / 6894.757)
    2594
    """
    source = Source("anc-18-1951", "shear of plywood at 0 and 90 degrees, recalled with medium confidence", "memory")
    psi = parse("1 psi", "pressure")
    per_inch = (plies - 1) / (thickness / 0.0254)
    if plies < 3 or not 0 < per_inch <= 35:
        return math.nan, source, f"(n - 1)/t is {per_inch:.1f} per inch; the formula holds for three plies up to 35"
    return 55 * per_inch * psi + 9 / 16 * veneer_shear, source, ""


def _material(key: str, table: dict[str, Any]) -> Material:
    printed = {name: _printed(name, said, table) for name, said in table["values"].items()}
    thickest = _size(table, "most", math.inf)
    chosen = {n: taken(r for r in rows if r.least < thickest) for n, rows in printed.items()}
    values = {n: row.value for n, row in chosen.items() if row}
    origin = MappingProxyType({n: row.source for n, row in chosen.items() if row})
    return Material(key=key, title=table["title"], kind=table["kind"], note=table["note"], sources=origin,
                    rows=MappingProxyType(printed), **values)  # fmt: skip


def _printed(name: str, said: Any, table: Mapping[str, Any]) -> tuple[Printed, ...]:
    """All that is printed of one value: a row says what its material does not say for it."""
    unit = next(f.metadata["unit"] for f in fields(Material) if f.name == name)
    dimension = {"kg/m3": "density", "Pa": "pressure", "1": ""}[unit]
    return tuple(
        Printed(
            name=name, value=_si(row["value"], dimension), unit=unit, source=source_of(row),
            edition=row.get("edition", row["source"]),
            basis=row.get("basis", "mean" if name in BULK else table.get("basis", "")),
            state=row.get("state", table.get("state", "")), form=row.get("form", ""),
            least=_size(row, "least", _size(table, "least", 0.0)),
            most=_size(row, "most", _size(table, "most", math.inf)),
        )
        for row in (said if isinstance(said, list) else [said])
    )  # fmt: skip


def _size(table: Mapping[str, Any], name: str, otherwise: float) -> float:
    return parse(table[name], "length") if name in table else otherwise


def _si(value: str | float, dimension: str = "length") -> float:
    if not dimension:
        return float(value)
    return parse(str(value), dimension) if value != "" else math.nan


def source_of(row: Mapping[str, Any]) -> Source:
    """Where a row says its values come from."""
    sure = row.get("confidence", "")
    place = ", ".join(x for x in (row["place"], f"recalled with {sure} confidence" if sure else "") if x)
    return Source(row["source"], place, row["mark"])
