"""The designer's buying file, beside the family file: what stock is sold as, what it costs, how it is cut.

    whinchat.toml  ->  whinchat.buying.toml

It may be left out, and so may any price: a price that is not written is not said, and never nought. Lengths and sheets
it does not list are those of data/stock.csv and data/sheets.csv.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any

from sparwright.base.problem import FileProblems, Problem
from sparwright.base.quantity import QuantityError, parse
from sparwright.base.record import number

FORMS = ("tube", "bar", "sheet", "cloth", "line", "item")


@dataclass(frozen=True, kw_only=True)
class Cutting:
    """How stock is cut: common practice, no source, where the file does not say."""

    saw_kerf: float = number("m", "what the saw takes from a stick at each cut", 0.002)
    end_trim: float = number("m", "left off at each end of a stick", 0.006)
    sheet_gap: float = number("m", "least clear between two parts on a sheet: the kerf and room for it", 0.006)
    sheet_margin: float = number("m", "left free along the edges of a sheet", 0.010)
    scarf: float = number("1", "length of a scarf over the thickness", 12.0)
    tool: float = number("m", "diameter of the router's tool", 0.003175)
    relief: bool = True  # whether inside corners are opened for the tool
    spare: float = number("1", "part more that is bought of lines, cables and cloth", 0.10)


@dataclass(frozen=True, kw_only=True)
class Offer:
    """One line of the price list."""

    form: str
    material: str  # key of a material; empty for an item
    size: tuple[float, ...]  # m: outside and wall, wide and narrow side, thickness; () for an item or for every size
    item: str  # what an item is called, as the bill names it
    width: float = number("m", "width of a sheet or a roll; NaN where it does not matter", math.nan)
    length: float = number("m", "of a stick or a sheet; of one unit of a line; NaN where it does not matter", math.nan)
    price: float = number("1", "for one, in the file's currency; NaN where it is not said", math.nan)


@dataclass(frozen=True, kw_only=True)
class Buying:
    """The whole file."""

    currency: str = ""
    note: str = ""
    cutting: Cutting = Cutting()
    offers: tuple[Offer, ...] = ()
    spliced: tuple[str, ...] = ()  # how numbers of parts begin that the designer lets be spliced

    def for_stock(self, form: str, material: str, size: tuple[float, ...]) -> tuple[Offer, ...]:
        """Offers of that stock, in the order of the file: those of its size before those of every size."""
        here = [o for o in self.offers if (o.form, o.material) == (form, material)]
        exact = tuple(o for o in here if len(o.size) == len(size) and all(map(_same, o.size, size)))
        return exact or tuple(o for o in here if not o.size)

    def for_item(self, name: str) -> Offer | None:
        """The offer of an item of that name; None when there is none."""
        return next((o for o in self.offers if o.form == "item" and o.item == name), None)


def _same(a: float, b: float) -> bool:
    return abs(a - b) < 2e-5  # a fiftieth of a millimetre: 3/64 in and 1.2 mm are two stocks


def read_buying(text: str, name: str) -> Buying:
    """The buying file out of its text. Raises FileProblems with all of its faults."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise FileProblems([Problem(name, 1, "", "", f"cannot be read: {error}")]) from None
    faults: list[Problem] = []
    starts = [i for i, line in enumerate(text.splitlines(), 1) if line.strip().startswith("[[price]]")]
    for key in data.keys() - {"currency", "note", "cutting", "price", "spliced"}:
        faults.append(Problem(name, 1, key, "", "is not a key of a buying file"))
    cutting = _cutting(data.get("cutting", {}), name, faults)
    offers = [_offer(row, name, starts[i] if i < len(starts) else 1, faults)
              for i, row in enumerate(_rows(data.get("price", [])))]  # fmt: skip
    spliced = data.get("spliced", [])
    if not isinstance(spliced, list) or not all(isinstance(s, str) and s for s in spliced):
        faults.append(Problem(name, 1, "spliced", repr(spliced), "a list of how part numbers begin is wanted"))
    if faults:
        raise FileProblems(faults)
    return Buying(currency=str(data.get("currency", "")), note=str(data.get("note", "")), cutting=cutting,
                  offers=tuple(o for o in offers if o), spliced=tuple(spliced))  # fmt: skip


def _rows(said: Any) -> list[Mapping[str, Any]]:
    return [r for r in said if isinstance(r, dict)] if isinstance(said, list) else []


def _cutting(said: Any, name: str, faults: list[Problem]) -> Cutting:
    values: dict[str, Any] = {}
    units = {f.name: f.metadata["unit"] for f in fields(Cutting) if f.metadata}
    for key, value in said.items() if isinstance(said, dict) else ():
        where = f"cutting.{key}"
        if key == "relief" and isinstance(value, bool):
            values[key] = value
        elif units.get(key) == "m":
            values[key] = _length(value, name, 1, where, faults)
        elif units.get(key) == "1" and isinstance(value, int | float) and 0 <= value < 100:
            values[key] = float(value)
        else:
            faults.append(
                Problem(name, 1, where, repr(value), "is not a key of [cutting], or not a number it can take")
            )
    return Cutting(**values)


def _offer(row: Mapping[str, Any], name: str, line: int, faults: list[Problem]) -> Offer | None:
    known = {"form", "material", "size", "item", "width", "length", "price"}
    for key in row.keys() - known:
        faults.append(Problem(name, line, f"price.{key}", "", f"is not a key of a price; there are {sorted(known)}"))
    form, price = row.get("form"), row.get("price", math.nan)
    if form not in FORMS:
        faults.append(Problem(name, line, "price.form", repr(form), f"is one of {', '.join(FORMS)}"))
        return None
    if form == "item" and not isinstance(row.get("item"), str):
        faults.append(Problem(name, line, "price.item", "", "an item says what it is", 'item = "AN3-5"'))
    if not isinstance(price, int | float) or isinstance(price, bool) or price < 0 or math.isinf(price):
        faults.append(Problem(name, line, "price.price", repr(price), "is a number, nought or more", "price = 12.50"))
        return None
    size = [_length(s, name, line, "price.size", faults) for s in str(row.get("size", "")).split(" x ") if s]
    if form in ("tube", "bar", "sheet") and len(size) not in (0, 1 if form == "sheet" else 2):
        faults.append(Problem(name, line, "price.size", repr(row.get("size")), "two sizes, or the thickness of a sheet",
                              'size = "5/8 in x 0.035 in"'))  # fmt: skip
    more = {k: _length(row[k], name, line, f"price.{k}", faults) for k in ("width", "length") if k in row}
    ordered = sorted(size, reverse=True) if form == "bar" else size
    return Offer(form=form, material=str(row.get("material", "")), size=tuple(ordered), item=str(row.get("item", "")),
                 price=float(price), **more)  # fmt: skip


def _length(said: Any, name: str, line: int, key: str, faults: list[Problem]) -> float:
    try:
        value = parse(said, "length")
    except QuantityError as error:
        faults.append(Problem(name, line, key, "", str(error)))
        return math.nan
    if value < 0:
        faults.append(Problem(name, line, key, repr(said), "is nought or more"))
    return value
