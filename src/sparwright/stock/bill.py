"""The bill of materials: what is bought, what of it is used, what is left as waste, weight, price; by kit of work.

Stock is bought for the whole aeroplane, since one stick or sheet serves several kits; a kit's share of it goes by what
it uses. A price that the buying file does not say is not said here, and no sum pretends that it was nought.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sparwright.base.quantity import QuantityError, inches, millimetres, parse
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.buying import Buying
from sparwright.parts.part import Assembly, Part
from sparwright.stock.hardware import Hardware, hardware, is_hardware
from sparwright.stock.needs import Need, Stock
from sparwright.stock.nests import Nest, Nests, size_words
from sparwright.stock.sticks import StickList, Sticks

KITS = (
    ("fuselage", ("fuselage", "seat")), ("tail", ("tail",)), ("wings", ("wing",)),
    ("fittings and struts", ("fittings", "struts")), ("controls", ("controls",)), ("gear", ("gear",)),
    ("engine", ("power", "mount")), ("fuel", ("fuel",)),
    ("electrics and instruments", ("electrics", "pitot", "systems")),
)  # fmt: skip
COVERING, TESTS, OTHER = "covering", "test pieces", "other"
CUT = re.compile(r"^(?P<name>\d+x\d+ .*?cable, [^,]+)(?:, cut (?P<cut>[^,]+), .*)?$")
HOUSED = re.compile(r"^(?P<name>cable in housing [^,]+), (?P<cut>.+)$")
WIRE = re.compile(r"^(?P<name>no\. \d+ .*?)(?P<twice>, two side by side)?$")
SEVERAL = re.compile(r"^(?P<name>.*), (?P<count>\d+) of$")


@dataclass(frozen=True, kw_only=True)
class BillLine:
    """One line of the bill."""

    kind: str  # "tube", "bar", "sheet", "line", "cloth", "item", "bolt", "nut", ...
    what: str
    sold: str  # how it is sold: "12 ft", "48 x 96 in", "each"
    bought: float = number("1", "how many are bought; NaN where how it is sold is not on file")
    used: float = number("1", "part of what is bought that ends in the aeroplane; NaN where unknown", math.nan)
    mass: float = number("kg", "of what is used; NaN where unknown", math.nan)
    wasted: float = number("kg", "of what is left over; NaN where unknown", math.nan)
    each: float = number("1", "price of one, NaN where it is not said", math.nan)
    quantity: float = number("SI", "m, m2 or pieces that are used", math.nan)
    unit: str = "each"
    note: str = ""

    @property
    def price(self) -> float:
        """Price of all that is bought; NaN where it is not said."""
        return self.bought * self.each


@dataclass(frozen=True, kw_only=True)
class KitLine:
    """What one kit of work takes of one line of the bill."""

    kit: str
    what: str
    unit: str
    quantity: float = number("SI", "m, m2 or pieces")
    mass: float = number("kg", "mass of it; NaN where unknown")
    price: float = number("1", "its share of the price, by what it uses; NaN where that is not said")
    parts: int = number("1", "how many parts")


@dataclass(frozen=True)
class Bill:
    """The whole bill."""

    lines: tuple[BillLine, ...]
    kits: tuple[KitLine, ...]
    told: tuple[str, ...]  # what is on no list
    currency: str

    @property
    def known(self) -> float:
        """Sum of the prices that are said."""
        return sum(x.price for x in self.lines if math.isfinite(x.price))

    @property
    def open(self) -> int:
        """How many lines have no price."""
        return sum(not math.isfinite(x.price) for x in self.lines)


def kit_of(part: Part) -> str:
    """The kit of work a part belongs to."""
    if "-test-" in part.number:
        return TESTS
    if part.material == "fabric":
        return COVERING
    first = part.group.split(" ")[0]
    return next((kit for kit, groups in KITS if first in groups), OTHER)


def bill(assembly: Assembly, needs: Sequence[Need], sticks: Sticks, found: Nests, buying: Buying) -> Bill:
    """The bill of a model whose parts are on these lists and nests."""
    missed = {t.part for t in (*sticks.told, *found.told)}
    there = [n for n in needs if n.part.number not in missed]
    lines: list[BillLine] = [_stick_line(x, there) for x in sticks.lists]
    lines += [_sheet_line(x, there) for x in found.nests]
    lines += [_line(stock, here, buying) for stock, here in _grouped(there, ("line", "cloth"))]
    things, kits = _things(there, buying)
    lines += things
    lines += [_hardware_line(h, buying) for h in hardware(assembly)]
    by_what = {x.what: x for x in lines}
    ordered, for_kits = _to_order([n for n in needs if n.part.number in missed])
    lines += ordered
    kits = [*_kit_lines(there, by_what), *kits, *for_kits]
    told = tuple(t.sentence for t in (*sticks.told, *found.told))
    return Bill(tuple(lines), tuple(sorted(kits, key=lambda k: (_order(k.kit), k.what))), told, buying.currency)


def _to_order(needs: Sequence[Need]) -> tuple[list[BillLine], list[KitLine]]:
    """Lines and kits of what no stock on file holds but is of a known one: to be ordered in one piece, or spliced."""
    found: dict[str, list[Need]] = {}
    for n in needs:
        if n.stock.form in ("tube", "bar", "sheet"):
            size = inches(n.length) + (f" × {inches(n.width)}" if n.stock.form == "sheet" else "")
            found.setdefault(f"{n.stock.words}, in one piece of {size}", []).append(n)
    lines, kits = [], []
    for what, own in found.items():
        unit, count = "m2" if own[0].stock.form == "sheet" else "m", sum(n.count for n in own)
        mass, much = sum(n.part.mass * n.count for n in own), sum(map(_takes, own))
        numbers = ", ".join(n.part.number for n in own)
        lines.append(BillLine(kind="order", what=what, sold="to order", bought=count, mass=mass, quantity=much,
                              unit=unit, note=numbers))  # fmt: skip
        for kit in dict.fromkeys(kit_of(n.part) for n in own):
            mine = [n for n in own if kit_of(n.part) == kit]
            kits.append(KitLine(kit=kit, what=what, unit=unit, quantity=sum(map(_takes, mine)), price=math.nan,
                                mass=sum(n.part.mass * n.count for n in mine),
                                parts=sum(n.count for n in mine)))  # fmt: skip
    return lines, kits


def _order(kit: str) -> int:
    names = [*(k for k, _ in KITS), COVERING, TESTS, OTHER]
    return names.index(kit)


def _masses(stock: Stock, needs: Iterable[Need]) -> float:
    return sum(n.part.mass * n.count for n in needs if n.stock == stock)


def _stick_line(x: StickList, needs: Sequence[Need]) -> BillLine:
    a, b = x.stock.size
    area = math.pi * b * (a - b) if x.stock.form == "tube" else a * b
    mass = _masses(x.stock, needs)
    whole = area * x.bought * material(x.stock.material).density
    return BillLine(kind=x.stock.form, what=x.stock.words, sold=f"{inches(x.length)} = {millimetres(x.length)}",
                    bought=len(x.sticks), used=x.used / x.bought, mass=mass, wasted=_left(whole, mass), each=x.price,
                    quantity=x.used, unit="m", note=x.proof)  # fmt: skip


def _left(bought: float, used: float) -> float:
    return bought - used if bought >= used else math.nan


def _sheet_line(x: Nest, needs: Sequence[Need]) -> BillLine:
    mass = _masses(x.stock, needs)
    whole = x.bought * x.stock.size[0] * material(x.stock.material).density
    return BillLine(kind="sheet", what=x.stock.words, sold=size_words(x), bought=len(x.sheets), used=x.used / x.bought,
                    mass=mass, wasted=_left(whole, mass), each=x.price, quantity=x.used, unit="m2",
                    note=x.proof)  # fmt: skip


def _grouped(needs: Sequence[Need], forms: tuple[str, ...]) -> list[tuple[Stock, list[Need]]]:
    found: dict[Stock, list[Need]] = {}
    for n in needs:
        if n.stock.form in forms:
            found.setdefault(n.stock, []).append(n)
    return sorted(found.items())


def _line(stock: Stock, needs: Sequence[Need], buying: Buying) -> BillLine:
    """Off a roll: lines by length, cloth by length of its width."""
    mass = sum(n.part.mass * n.count for n in needs)
    if stock.form == "line":
        return _by_length(stock.words, sum(n.length * n.count for n in needs), mass, buying, "line")
    offer = next(iter(buying.for_stock("cloth", stock.material, stock.size)), None)
    area = sum(n.length * n.width * n.count for n in needs)
    if stock.size or offer is None or not (offer.width > 0 and offer.length > 0):
        note = "laid up by the builder: cloth and resin are not said" if stock.size else ""
        return BillLine(kind="cloth", what=stock.words, sold="not on file", bought=math.nan, mass=mass, quantity=area,
                        unit="m2", note=note)  # fmt: skip
    run = sum(n.length * math.ceil(n.width / offer.width - 1e-9) * n.count for n in needs) * (1 + buying.cutting.spare)
    count = math.ceil(run / offer.length - 1e-9)
    return BillLine(kind="cloth", what=stock.words, sold=f"{inches(offer.length)} of {inches(offer.width, 10**9)} wide",
                    bought=count, used=area / (count * offer.length * offer.width), mass=mass, each=offer.price,
                    quantity=area, unit="m2")  # fmt: skip


def _by_length(name: str, length: float, mass: float, buying: Buying, kind: str) -> BillLine:
    offer = buying.for_item(name)
    if offer is None or not offer.length > 0:
        each = offer.price if offer else math.nan
        note = "" if offer is None else "priced each, but used by length" if math.isfinite(each) else ""
        return BillLine(
            kind=kind, what=name, sold="not on file", bought=math.nan, mass=mass, quantity=length, unit="m", note=note
        )
    count = math.ceil(length * (1 + buying.cutting.spare) / offer.length - 1e-9)
    whole = count * offer.length
    return BillLine(kind=kind, what=name, sold=f"{inches(offer.length)} lengths", bought=count, used=length / whole,
                    mass=mass, wasted=mass * (whole / length - 1), each=offer.price, quantity=length,
                    unit="m")  # fmt: skip


def _hardware_line(h: Hardware, buying: Buying) -> BillLine:
    offer = buying.for_item(h.name)
    return BillLine(kind=h.kind, what=h.name, sold="each", bought=h.count, used=1.0, quantity=h.count,
                    each=offer.price if offer else math.nan, note=h.note)  # fmt: skip


def item_of(part: Part) -> tuple[str, float, str]:
    """(name, how much of it one part takes, unit) of a bought part: metres of a cable or wire, else pieces.

    A part whose stock says no more than that it is bought goes by its own name.
    """
    for pattern in (CUT, HOUSED, WIRE):
        if said := pattern.match(part.stock):
            groups = said.groupdict()
            length = getattr(part.shape, "length", math.nan)
            try:
                length = parse(groups["cut"], "length") if groups.get("cut") else length
            except QuantityError:
                pass
            return said["name"], length * (2 if groups.get("twice") else 1), "m"
    if said := SEVERAL.match(part.stock):
        return said["name"], float(said["count"]), "each"
    return (part.name if part.stock == "bought" else part.stock), 1.0, "each"


def _things(needs: Sequence[Need], buying: Buying) -> tuple[list[BillLine], list[KitLine]]:
    """Lines and kits of what is bought ready."""
    found: dict[tuple[str, str], list[tuple[Part, float]]] = {}
    for n in needs:
        if n.stock.form == "item" and not is_hardware(n.part):
            name, much, unit = item_of(n.part)
            found.setdefault((name, unit), []).append((n.part, much * n.count))
    lines, kits = [], []
    for (name, unit), own in sorted(found.items()):
        mass, total = sum(p.mass * p.count for p, _ in own), sum(much for _, much in own)
        line = _by_length(name, total, mass, buying, "cable") if unit == "m" else _each(name, total, mass, buying)
        lines.append(line)
        for kit in dict.fromkeys(kit_of(p) for p, _ in own):
            mine = [(p, much) for p, much in own if kit_of(p) == kit]
            much = sum(m for _, m in mine)
            weight = sum(p.mass * p.count for p, _ in mine)
            count = sum(p.count for p, _ in mine)
            share = line.price * much / total
            kits.append(KitLine(kit=kit, what=name, unit=unit, quantity=much, mass=weight, price=share, parts=count))
    return lines, kits


def _each(name: str, count: float, mass: float, buying: Buying) -> BillLine:
    offer = buying.for_item(name)
    return BillLine(kind="item", what=name, sold="each", bought=count, used=1.0, mass=mass, wasted=0.0,
                    each=offer.price if offer else math.nan, quantity=count)  # fmt: skip


def _takes(n: Need) -> float:
    """How much of its stock one need takes: m of a stick or line, m2 of a sheet or cloth."""
    if n.stock.form in ("tube", "bar", "line"):
        return n.length * n.count
    if n.outline is None:
        return n.length * n.width * n.count
    import shapely

    return float(shapely.Polygon(n.outline).area) * n.count


def _kit_lines(needs: Sequence[Need], lines: dict[str, BillLine]) -> list[KitLine]:
    """What each kit takes of each stock, with its share of the price."""
    found: dict[tuple[str, Stock], list[Need]] = {}
    whole: dict[Stock, float] = {}
    for n in needs:
        if n.stock.form not in ("item", "unclear"):
            found.setdefault((kit_of(n.part), n.stock), []).append(n)
            whole[n.stock] = whole.get(n.stock, 0.0) + _takes(n)
    return [
        KitLine(kit=kit, what=stock.words, unit="m" if stock.form in ("tube", "bar", "line") else "m2",
                quantity=sum(map(_takes, own)), mass=sum(n.part.mass * n.count for n in own),
                price=lines[stock.words].price * sum(map(_takes, own)) / whole[stock], parts=sum(n.count for n in own))
        for (kit, stock), own in found.items()
    ]  # fmt: skip
