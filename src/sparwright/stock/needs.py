"""What each part is cut from: a stick, a sheet, a line off a roll, cloth, or a thing that is bought.

A part says its stock in words (`Part.stock`) and its shape in numbers. Sticks and sheets are told apart by form,
material and sizes; a strip that is bent or folded from sheet is a rectangle of that sheet, laid flat over the sharp
corners of its bends, so never less than it takes.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from sparwright.base.quantity import gauge, parse, stock_size
from sparwright.base.record import number
from sparwright.data.loader import material, sheets
from sparwright.parts.part import Part, Plate, Run, Skin, Straight
from sparwright.shape.tube import Tube

Grains = Sequence[tuple[str, float]]  # how a part's number begins, its face grain from its x, rad
NeedForm = Literal["tube", "bar", "sheet", "line", "cloth", "item", "unclear"]
SOFT = ("fuel-hose", "nylon", "5052-O")  # off a roll
FACED = ("wood", "plywood")  # with a grain
WORDED = 5e-5  # m, by which a thickness written in words may be off


@dataclass(frozen=True, order=True)
class Stock:
    """One stock: what is asked for at the counter."""

    form: NeedForm
    material: str
    size: tuple[float, ...]  # m: outside and wall, wide and narrow side, thickness
    named: str = ""  # of an item or a line: what it is called

    @property
    def words(self) -> str:
        """How it is asked for.

        >>> Stock("tube", "4130N", (0.015875, 0.000889)).words
        '4130N tube 5/8″ × 0.035 in'
        """
        if self.named:
            return self.named
        if self.form == "tube":
            return f"{self.material} tube {stock_size(self.size[0])} × {gauge(self.size[1])}"
        if self.form == "bar":
            return f"{self.material} bar {' × '.join(map(stock_size, self.size))}"
        if not self.size:
            return self.material
        return f"{self.material} {self.form} {gauge(self.size[0])}"


@dataclass(frozen=True, kw_only=True)
class Need:
    """What a part takes of a stock."""

    part: Part
    stock: Stock
    length: float = number("m", "of a stick or line; of a rectangle along its grain", math.nan)
    width: float = number("m", "of a rectangle, across", math.nan)
    outline: np.ndarray | None = None  # (n, 2) m, flat, of a plate; None for a rectangle
    holes: tuple[np.ndarray, ...] = ()
    grain: float | None = number("rad", "face grain from the part's x, to lie along the sheet; None where free", None)
    why: str = ""  # why it is unclear

    @property
    def count(self) -> int:
        """How many of it."""
        return self.part.count


def needs(parts: Iterable[Part], grains: Grains = ()) -> tuple[Need, ...]:
    """What every part takes, in the order of the parts. grains: what the design says of faces (stock/grain.py)."""
    return tuple(_turned(_need(part), grains) for part in parts if part.count)


def _turned(need: Need, grains: Grains) -> Need:
    """The need with its face grain as the design says, where it says it for parts of that number."""
    said = [angle for begins, angle in grains if need.part.number.startswith(begins)]
    return replace(need, grain=said[0]) if said and need.grain is not None else need


def _need(part: Part) -> Need:
    shape = part.shape
    if part.material == "bought" or part.material not in _known():
        return Need(part=part, stock=Stock("item", "", (), part.stock), length=getattr(shape, "length", math.nan))
    if isinstance(shape, Plate):
        return _plate(part, shape)
    if isinstance(shape, Skin):
        return _skin(part, shape)
    if part.material in SOFT and isinstance(shape, Tube | Run):
        named = part.stock.split(", 2 of")[0]
        return Need(part=part, stock=Stock("line", part.material, (), named), length=shape.length)
    if isinstance(shape, Tube):
        return Need(part=part, stock=Stock("tube", part.material, _sizes(shape.outside, shape.wall)),
                    length=shape.length)  # fmt: skip
    if isinstance(shape, Straight):
        return _straight(part, shape)
    return _unclear(part, "its flat shape is not drawn")


def _known() -> frozenset[str]:
    from sparwright.data.loader import materials

    return frozenset(materials())


def _sizes(*sizes: float) -> tuple[float, ...]:
    return tuple(round(float(s), 7) for s in sizes)


def _unclear(part: Part, why: str) -> Need:
    return Need(part=part, stock=Stock("unclear", part.material, (), part.stock), why=why)


def _sheet(part: Part, thickness: float) -> Stock:
    """The sheet of that thickness: of the one on file where it is that by rounding of words; as sold if measured."""
    thickness = part.measured.thickness if part.measured else thickness
    listed = [s.thickness for s in sheets() if s.stock == part.material]
    near = min(listed, key=lambda t: abs(t - thickness), default=thickness)
    return Stock("sheet", part.material, _sizes(near if abs(near - thickness) < WORDED else thickness))


def _grain(part: Part, said: str, otherwise: float) -> float | None:
    """The face grain from the part's x, rad: as said, else along its x for what is of wood; None for the rest."""
    if material(part.material).kind not in FACED:
        return None
    words = said.split()
    if words[:1] == ["across"]:
        return math.pi / 2
    if words[1:2] == ["deg"]:
        return math.radians(float(words[0]))
    return 0.0 if words[:1] == ["along"] else otherwise


def _plate(part: Part, plate: Plate) -> Need:
    flat = flat_outline(plate)
    ring = plate.outline if flat is None else flat
    span = np.ptp(ring, axis=0)
    if material(part.material).kind == "glass":
        return _cloth(part, plate.thickness, *span)
    return Need(part=part, stock=_sheet(part, plate.thickness), outline=ring, holes=plate.holes,
                length=float(span[0]), width=float(span[1]),
                grain=_grain(part, plate.grain, 0.0 if span[0] >= span[1] else math.pi / 2))  # fmt: skip


def flat_outline(plate: Plate) -> np.ndarray | None:
    """The flat outline with its bent edges laid out; None where it is the outline itself.

    A foot and a flange without a blank are laid out over their sharp corner, height and all.
    """
    import shapely

    if plate.blank is not None:
        return plate.blank
    whole = shapely.Polygon(plate.outline)
    if plate.flange:
        whole = whole.buffer(abs(plate.flange), join_style="mitre")
    if plate.foot is not None:
        a, b = np.array(plate.foot.start), np.array(plate.foot.end)
        out = np.array([b[1] - a[1], a[0] - b[0]]) / np.hypot(*(b - a)) * (abs(plate.foot.height) + plate.thickness)
        inward = -out / np.hypot(*out) * min(1e-4, plate.thickness)  # so that the two are one
        whole = whole.union(shapely.Polygon([a + inward, b + inward, b + out, a + out]))
    if not plate.flange and plate.foot is None:
        return None
    return np.array(whole.exterior.coords[:-1]) if whole.geom_type == "Polygon" else None


def _skin(part: Part, skin: Skin) -> Need:
    if not skin.thickness or material(part.material).kind in ("glass", "fabric"):
        return _cloth(part, skin.thickness, skin.length, skin.width)
    return Need(part=part, stock=_sheet(part, skin.thickness), length=skin.length, width=skin.width,
                grain=_grain(part, "", 0.0))  # fmt: skip


def _cloth(part: Part, thickness: float, length: float, width: float) -> Need:
    size = _sizes(thickness) if thickness else ()
    return Need(part=part, stock=Stock("cloth", part.material, size), length=float(length), width=float(width))


_STRIP = re.compile(r", (?P<t>[^,]+), (?P<a>[^,]+) x (?P<b>[^,]+), bent$")
_CHANNEL = re.compile(r", (?P<t>[^,]+), bent to (?P<a>[^,]+) x (?P<b>[^,]+), radius")
_ANGLE = re.compile(r", (?P<t>[^,]+), angle (?P<a>[^,]+) x (?P<b>[^,]+)$")
_FOLDED = re.compile(r", (?P<t>[^,]+), folded$")
_BAR = re.compile(r", (?P<a>[^,x]+) x (?P<b>[^,x]+?)(?: x [^,]+)?(?:, heat treated)?$")
_FLAT = re.compile(r"flat (?P<a>[^,]+) long, .* (?P<b>[^,]+) at the back")
_LEGS = re.compile(r"both legs (?P<a>[^,]+),")


def _straight(part: Part, shape: Straight) -> Need:
    for pattern, width in ((_STRIP, None), (_CHANNEL, (1, 2)), (_ANGLE, (1, 1))):
        if said := pattern.search(part.stock):
            a, b, t = (parse(said[k], "length") for k in "abt")
            t = t if width else _wall(shape, t)
            long, wide = (b, a) if width is None else (shape.length, width[0] * a + width[1] * b)
            return _rectangle(part, t, long, wide)
    if said := _FOLDED.search(part.stock):
        return _folded(part, shape, parse(said["t"], "length"))
    if material(part.material).kind == "plywood":
        across, through = (parse(words, "length") for words in shape.section.split(" x "))
        return _rectangle(part, _said_thickness(part, through), shape.length, across)
    if said := _BAR.search(part.stock):
        size = _sizes(*sorted((parse(said[k], "length") for k in "ab"), reverse=True))
        return Need(part=part, stock=Stock("bar", part.material, size), length=shape.length)
    return _unclear(part, "its stock does not say two sizes")


def _wall(shape: Straight, otherwise: float) -> float:
    """The thickness in its section, which is not rounded to a tenth of a millimetre; else the one of its words."""
    try:
        return parse(shape.section.partition(" x ")[2], "length")
    except ValueError:
        return otherwise


def _said_thickness(part: Part, otherwise: float) -> float:
    """The thickness that stands at the end of its stock; a section in 64ths is rounded."""
    try:
        return parse(part.stock.rpartition(", ")[2], "length")
    except ValueError:
        return otherwise


def _folded(part: Part, shape: Straight, thick: float) -> Need:
    if said := _FLAT.search(part.note):
        return _rectangle(part, thick, parse(said["a"], "length"), parse(said["b"], "length"))
    if said := _LEGS.search(part.note):
        return _rectangle(part, thick, shape.length, 2 * parse(said["a"], "length"))
    return _unclear(part, "how wide it is laid flat is not said")


def _rectangle(part: Part, thick: float, long: float, wide: float) -> Need:
    return Need(part=part, stock=_sheet(part, thick), length=long, width=wide, grain=_grain(part, "", 0.0))


def of_form(all_needs: Iterable[Need], form: NeedForm) -> Iterator[tuple[Stock, tuple[Need, ...]]]:
    """The needs of that form by stock, stocks in order of name and size."""
    found: dict[Stock, list[Need]] = {}
    for need in all_needs:
        if need.stock.form == form:
            found.setdefault(need.stock, []).append(need)
    for stock in sorted(found):
        yield stock, tuple(found[stock])
