"""Where a family file says stock for a model, and which parts are cut from it.

A part does not say where its stock is written. So the model is laid out once with every wall and thickness less by
its own few billionths of a millimetre: too little to change anything, enough to tell each part's place.
"""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from sparwright.base.quantity import QuantityError, gauge, parse, stock_size
from sparwright.base.record import number
from sparwright.data.loader import materials
from sparwright.family.entry import Entry
from sparwright.parts.part import Part, Plate, Skin
from sparwright.shape.tube import Tube

Form = Literal["tube", "sheet", "other"]
BIT = 2e-12  # m, by which one place's wall or thickness differs from the next
NEAR = 0.9e-12  # m
WORDS = 6e-5  # m: sizes in words are no truer than this
SAID_ELSEWHERE = ("strengths", "measured_sheets", "test_pieces")


@dataclass(frozen=True)
class Place:
    """One table of the file that says stock."""

    key: str  # as it is written for the model: struts.lift_front.tube
    form: Form
    material: str
    size: tuple[float, ...] = number("m", "outside and wall of a tube, thickness of a sheet, else what is said")
    names: tuple[str, ...] = ()  # keys of the sizes in the table

    @property
    def words(self) -> str:
        """How the stock is asked for."""
        return size_words(self.form, self.size)


def size_words(form: Form, size: Sequence[float]) -> str:
    """A size as it is asked for.

    >>> size_words("tube", (0.016, 0.001)), size_words("sheet", (0.0254 * 0.09,))
    ('16 mm x 1 mm', '0.090 in')
    """
    if form == "sheet":
        return gauge(size[0])
    wide = (stock_size(s).replace("″", " in") for s in size[:-1])
    return " x ".join((*wide, gauge(size[-1])))


def places(whole: Entry) -> tuple[Place, ...]:
    """Every table of a model that says tube, sheet, or stock that no market has on file, in the order of the file."""
    found = {p.key: p for p in map(_place, whole.walk()) if p is not None}
    return tuple(found.values())


def _place(entry: Entry) -> Place | None:
    key = re.sub(r"^models\.[^.]+\.", "", entry.key)
    if not isinstance(entry.value, dict) or key.split(".")[0] in SAID_ELSEWHERE:
        return None
    said = {n: e.value for n, e in entry.value.items() if isinstance(e.value, str)}
    kind = materials()[m].kind if (m := said.get("material", "")) in materials() else ""
    if kind in ("wood", "glass", "fabric", "lead"):
        return None  # sawn to size, laid up, off a roll, cast: the same in every market
    for form, names in _FORMS:
        if all(n in said for n in names) and (m or form == "other") and not (form == "sheet" and "depth" in said):
            try:
                return Place(key, _form(form, said), m, tuple(parse(said[n], "length") for n in names), names)
            except QuantityError:
                return None
    return None


_FORMS: tuple[tuple[Form, tuple[str, ...]], ...] = (
    ("tube", ("outside", "wall")), ("other", ("outside", "bore")), ("other", ("width", "thickness")),
    ("sheet", ("thickness",)), ("sheet", ("wall",)), ("other", ("outside", "wall")),
)  # fmt: skip


def _form(form: Form, said: Mapping[str, str]) -> Form:
    return form if "material" in said else "other"


def marked(found: Sequence[Place]) -> dict[str, tuple[float, ...]]:
    """Sizes by key, each less by its own bit: a bore that just takes a tube goes on taking it."""
    return {p.key: (*p.size[:-1], p.size[-1] - BIT * (i + 1)) for i, p in enumerate(found) if p.form != "other"}


def places_of(found: Sequence[Place], parts: Sequence[Part]) -> dict[str, Place]:
    """The place of each part's stock by its number; parts as laid out with `marked`. Bought things have none."""
    pairs = ((part, _place_of(found, part)) for part in parts)
    return {part.number: place for part, place in pairs if place is not None}


def _place_of(found: Sequence[Place], part: Part) -> Place | None:
    shape = part.shape
    size = shape.wall if isinstance(shape, Tube) else shape.thickness if isinstance(shape, (Plate, Skin)) else None
    mine = [(i, p) for i, p in enumerate(found) if p.material == part.material]
    exact = (p for i, p in mine if size and p.form != "other" and abs(p.size[-1] - BIT * (i + 1) - size) < NEAR)
    return next(exact, None) or _by_words([p for _, p in mine], part) or _by_name(found, part)


def _by_name(found: Sequence[Place], part: Part) -> Place | None:
    """Of lines, pipes and the like: the place whose name stands in the part's number."""
    words = set(re.findall(r"[a-z]+", f"{part.number} {part.name}".lower()))
    named = (p for p in found if p.form == "other" and p.material in ("", part.material))
    return next((p for p in named if set(_ends(p.key)) <= words), None)


def _ends(key: str) -> Iterator[str]:
    """Words of a key's first and last name."""
    for name in (key.split(".")[0], key.split(".")[-1]):
        yield from re.findall(r"[a-z]+", name.lower())


def _by_words(mine: Sequence[Place], part: Part) -> Place | None:
    """Of what is bent, which says its stock in words: the place of that size whose key shares most with its number."""
    said = tuple(_sizes_in(part.stock))
    same = [p for p in mine if any(abs(p.size[-1] - s) < WORDS for s in said)]
    number, name = (set(re.findall(r"[a-z]+", w.lower())) for w in (part.number, part.name))
    return max(same, key=lambda p: sum(2 * (w in number) + (w in name) for w in set(_singular(p.key))), default=None)


def _sizes_in(stock: str) -> Iterator[float]:
    """Every size that stands by itself in the words of a stock."""
    for words in re.split(r", | x ", stock):
        with contextlib.suppress(QuantityError):
            yield parse(words, "length")


def _singular(key: str) -> Iterator[str]:
    for word in re.findall(r"[a-z]+", key.lower()):
        yield word.removesuffix("s")
        yield word
