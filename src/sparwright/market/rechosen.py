"""A model in stock of the other market: what is bought in place of what, worked out again whole."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from sparwright.base.check import Check
from sparwright.base.problem import DesignProblem, FileProblems
from sparwright.base.quantity import is_metric
from sparwright.base.record import number
from sparwright.family.model import Family, Model
from sparwright.family.reader import read, written
from sparwright.family.writer import with_model
from sparwright.market.choice import Size, kept, matched, wants
from sparwright.market.nearest import has
from sparwright.market.places import Place, marked, places, places_of, size_words
from sparwright.market.taken import Taken
from sparwright.parts.layout import lay_out
from sparwright.run import RunResult

Worked = Callable[[Family, str, bool], RunResult]  # a family, a model of it, whether bodies are measured
Told = Callable[[float, str], None]
ROUNDS = 8  # times the model is worked out again at most
TRIES = 80  # times the file is read again at most until it holds
HARDWARE = "bolts, rivets, cables, their ends: aircraft hardware, bought by its number in either market"
UNLISTED = "no stock of it is on file for that market"


@dataclass(frozen=True)
class Rechosen:
    """What becomes of one place of the file."""

    place: Place
    parts: tuple[str, ...]  # numbers of what is cut from it
    size: Size = number("m", "what is bought instead; what is written where nothing is")
    mass: float = number("kg", "change of the empty weight")
    before: float = number("1", "least margin of its parts before; NaN where none is known")
    after: float = number("1", "least margin of its parts after; NaN where none is known")
    why: str = ""  # why it stays as it is

    @property
    def changed(self) -> bool:
        """Whether other stock is bought."""
        return self.size != self.place.size

    @property
    def words(self) -> str:
        """What is bought."""
        return size_words(self.place.form, self.size)


@dataclass(frozen=True)
class InMarket:
    """A model in stock of a market."""

    model: str
    market: str
    rows: tuple[Rechosen, ...]
    empty_before: float = number("kg", "empty weight as written")
    empty_after: float = number("kg", "empty weight with the stock of that market")
    lost: tuple[tuple[Check, Check | None], ...] = ()  # what keeps less than it must, before and after
    text: str = ""  # the family file with one more model; empty where nothing changes
    name: str = ""  # of that model

    @property
    def changed(self) -> tuple[Rechosen, ...]:
        """Places with other stock."""
        return tuple(r for r in self.rows if r.changed)

    @property
    def without(self) -> tuple[Rechosen, ...]:
        """Places whose stock is not to be had in that market."""
        return tuple(r for r in self.rows if r.why)


def rechoose(raw: bytes, file: str, name: str, market: str, work: Worked, told: Told = lambda done, what: None
             ) -> InMarket:  # fmt: skip
    """A model of a family file in stock of a market. Raises FileProblems, DesignProblem.

    work: gives the run of a model of a family (cli.answers.run). Where the model is in that market already nothing is
    chosen and nothing worked out.
    """
    family = read(raw, file)
    model, found = family.models[name], places(written(raw, file)[name])
    if model.sold_in == market:
        rows = tuple(Rechosen(p, (), p.size, 0.0, float("nan"), float("nan")) for p in found)
        return InMarket(name, market, rows, float("nan"), float("nan"))
    draft = _Draft(raw.decode("utf-8"), file, family, name, market, found)
    return _searched(draft, work, told)


@dataclass(frozen=True)
class _Draft:
    """What the search starts from."""

    text: str
    file: str
    family: Family
    name: str
    market: str
    found: tuple[Place, ...]

    @property
    def model(self) -> Model:
        """As it is written."""
        return self.family.models[self.name]

    @property
    def twin(self) -> str:
        """Name of the model that is added."""
        return f"{self.name}_{self.market}"

    def written(self, sizes: Mapping[str, Size], exact: bool = False) -> str:
        """The file with one more model of those sizes."""
        values: dict[str, tuple[str, str]] = {}
        for p in self.found:
            for n, now, new in zip(p.names, p.size, sizes.get(p.key, p.size), strict=True):
                if new != now:
                    values[f"{p.key}.{n}"] = (_quantity(new, exact), f"in place of {p.words}")
        for key, (new, why) in follows(self.model, sizes).items():
            values[key] = (_quantity(new, exact), why)
        said = {"title": f"{self.model.title}, in {self.market} stock", "market": self.market}
        return with_model(self.text, self.twin, self.name, said, values)

    def made(self, sizes: Mapping[str, Size], exact: bool = False) -> Family:
        """The family with that model alone, under the name it had. Raises FileProblems."""
        whole = read(self.written(sizes, exact).encode("utf-8"), self.file)
        model = replace(whole.models[self.twin], name=self.name)
        return replace(whole, models=MappingProxyType({self.name: model}))


def follows(model: Model, sizes: Mapping[str, Size]) -> dict[str, tuple[float, str]]:
    """Lengths, m, that the file says of other things but that are a stock's: a bush as long as its tube is wide."""
    found: dict[str, tuple[float, str]] = {}
    for end in (e for s in model.struts for e in s.ends if e.tail and e.piece):
        tube = f"{end.tail}.frame.fixed.{'leading' if end.tube == 'leading' else 'spar'}"
        if tube in sizes:
            found[f"strut_pieces.{end.piece}.width"] = (sizes[tube][0], f"as long as {tube} is wide")
    return found


def _quantity(size: float, exact: bool) -> str:
    if exact or is_metric(size):
        return f'"{_plain(size * 1000)} mm"'
    return f'"{_plain(size / 0.0254)} in"'


def _plain(value: float) -> str:
    return f"{value:.12f}".rstrip("0").rstrip(".")


def _searched(draft: _Draft, work: Worked, told: Told) -> InMarket:
    market, found, name = draft.market, draft.found, draft.name
    told(0.0, "which part is cut from what is written where")
    at = places_of(found, lay_out(draft.made(marked(found), exact=True).models[name]).parts)
    told(0.05, f"{name} as it is written")
    first = work(draft.family, name, True)
    before = {c.id: c for c in first.checks}
    said = wants(draft.model, first.assembly, first.margins, at, before, market)
    taken = Taken.first([p for p in found if p.form != "other" and not has(p, market)], market, said)
    for turn in range(ROUNDS):
        told(0.1 + 0.8 * turn / ROUNDS, f"{name} in {market} stock, {turn + 1}")
        family, taken = _held(draft, taken)
        ran = work(family, name, False)
        lost = tuple(after for _, after in _lost(draft, first, ran) if after is not None)
        said = wants(family.models[name], ran.assembly, ran.margins, at, before, market, frozenset(c.id for c in lost))
        new = taken.stouter(lost, at, said)
        if new.sizes == taken.sizes:
            break
        taken = new
    told(0.9, f"{name} in {market} stock, on its bodies")
    family, taken = _held(draft, taken)
    return _told(draft, first, work(family, name, True), at, taken.sizes, taken.why)


def _lost(draft: _Draft, first: RunResult, ran: RunResult) -> list[tuple[Check, Check | None]]:
    """What keeps less than it must; of what is measured on bodies nothing where that was left out."""
    after, reserve = {c.id: c for c in ran.checks}, draft.model.limits.least_margin
    same = matched([c.id for c in first.checks], tuple(after))
    pairs = ((c, after[same[c.id]] if c.id in same else None) for c in first.checks)
    return [(c, a) for c, a in pairs if not kept(c, a, reserve)]


def _held(draft: _Draft, taken: Taken) -> tuple[Family, Taken]:
    """The family with stock that the file holds with: what it refuses is taken back for the next.

    Raises FileProblems or DesignProblem where the fault is with none of the places.
    """
    for _ in range(TRIES):
        try:
            family = draft.made(taken.sizes)
            lay_out(family.models[draft.name])
            return family, taken
        except FileProblems as faults:
            blamed = {p.key: (p, f.wanted) for f in faults.problems if (p := _blamed(draft, taken.sizes, f.key))}
            if not blamed:
                raise
        for place, reason in blamed.values():
            taken = taken.without(place, reason)
    raise DesignProblem(f"{draft.name}: no stock of the {draft.market} market was found that the file holds with")


def _blamed(draft: _Draft, sizes: Mapping[str, Size], key: str) -> Place | None:
    """The changed place a problem of the file is about: the nearest above or below its key."""
    inside = key.removeprefix(f"models.{draft.twin}.").removeprefix(f"models.{draft.name}.")
    changed = [p for p in draft.found if p.key in sizes]
    best = max(changed, key=lambda p: _shared(p.key, inside), default=None)
    return best if best and _shared(best.key, inside) > 1 else None


def _shared(a: str, b: str) -> int:
    """How many names two keys have in common from the first on."""
    pairs = zip(a.split("."), b.split("."), strict=False)
    return sum(1 for _ in itertools.takewhile(lambda p: p[0] == p[1], pairs))


def _told(draft: _Draft, first: RunResult, last: RunResult, at: Mapping[str, Place], sizes: Mapping[str, Size],
          why: Mapping[str, str]) -> InMarket:  # fmt: skip
    chosen = [replace(p, size=sizes.get(p.key, p.size)) for p in draft.found]
    at_last = places_of(chosen, lay_out(draft.made(marked(chosen), exact=True).models[draft.name]).parts)
    was, now = _cut(first, at), _cut(last, at_last)
    rows = []
    for p in draft.found:
        kind = why.get(p.key, "") or ("" if p.key in sizes or has(p, draft.market) else UNLISTED)
        old, new = was.get(p.key, _NOTHING), now.get(p.key, _NOTHING)
        rows.append(Rechosen(p, old.parts, sizes.get(p.key, p.size), new.mass - old.mass, old.margin, new.margin, kind))
    return InMarket(draft.name, draft.market, tuple(rows), first.balance.empty.value, last.balance.empty.value,
                    tuple(_lost(draft, first, last)), draft.written(sizes) if sizes else "", draft.twin)  # fmt: skip


@dataclass(frozen=True)
class _Cut:
    """What is cut from what is written at one place."""

    parts: tuple[str, ...]
    mass: float
    margin: float


_NOTHING = _Cut((), 0.0, math.nan)


def _cut(ran: RunResult, at: Mapping[str, Place]) -> dict[str, _Cut]:
    """Parts, mass and least known margin of strength by place."""
    mass, least = {p.number: p.mass * p.count for p in ran.assembly.parts}, _least(ran)
    parts: dict[str, list[str]] = {}
    for number_, place in at.items():
        parts.setdefault(place.key, []).append(number_)
    return {
        key: _Cut(tuple(mine), sum(mass.get(n, 0.0) for n in mine),
                  min((least[n] for n in mine if n in least), default=math.nan))
        for key, mine in parts.items()
    }  # fmt: skip


def _least(ran: RunResult) -> dict[str, float]:
    """Least known margin of strength by part."""
    found: dict[str, float] = {}
    for c in ran.checks:
        if c.part and c.margin == c.margin and c.id.startswith("strength."):
            found[c.part] = min(found.get(c.part, float("inf")), c.margin)
    return found
