"""Stock taken so far for each place, and what was learnt of it: sizes the file refuses, sizes that were too slight."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from sparwright.base.check import Check
from sparwright.base.record import number
from sparwright.market.choice import Size, Want, choose
from sparwright.market.places import Place

REFUSED = "the file refuses every size of that market: {}"
CLOSES = 0.25  # of a missing margin, that a stouter size must win back; else it is not the size that is at fault


@dataclass(frozen=True)
class Tried:
    """A place that was made stouter for a check: which size it had, and the margin of the check with it."""

    size: Size
    check: str
    margin: float = number("1", "margin of the check with that size")


@dataclass(frozen=True)
class Taken:
    """Sizes by key of the place; a place that is not among them keeps what is written."""

    market: str
    sizes: Mapping[str, Size]
    refused: Mapping[str, tuple[Size, ...]] = field(default_factory=dict)
    slight: Mapping[str, Size] = field(default_factory=dict)  # only stouter ones are looked at
    tried: Mapping[str, Tried] = field(default_factory=dict)
    settled: frozenset[str] = frozenset()  # where stouter stock does not help
    why: Mapping[str, str] = field(default_factory=dict)  # a place that keeps what is written

    @classmethod
    def first(cls, places: Sequence[Place], market: str, said: Mapping[str, Sequence[Want]]) -> Taken:
        """The nearest size of each place that keeps what its members keep at the loads as they are."""
        sizes = {p.key: s for p in places if (s := choose(p, market, said.get(p.key, ()))) is not None}
        return cls(market, sizes)

    def without(self, place: Place, reason: str) -> Taken:
        """Another size for a place whose size the file refuses."""
        key, now = place.key, self.sizes[place.key]
        refused = {**self.refused, key: (*self.refused.get(key, ()), now)}
        slight = self.slight.get(key)
        new = choose(place, self.market, (), slight, refused[key]) or slight
        if new is not None and new not in refused[key]:
            settled = self.settled | {key} if new == slight else self.settled
            return replace(self, refused=refused, sizes={**self.sizes, key: new}, settled=settled)
        left = {k: s for k, s in self.sizes.items() if k != key}
        return replace(self, refused=refused, sizes=left, why={**self.why, key: REFUSED.format(reason)})

    def stouter(self, lost: Sequence[Check], at: Mapping[str, Place], said: Mapping[str, Sequence[Want]]) -> Taken:
        """Stouter stock for what lost a margin; back to what it was where stouter stock did not win it back."""
        taken = self
        for key, checks in self._blamed(lost, at).items():
            worst = min(checks, key=lambda c: (math.isfinite(c.margin), c.margin))
            taken = taken._one(at[worst.part], worst, said.get(key, ()))
        return taken

    def _blamed(self, lost: Sequence[Check], at: Mapping[str, Place]) -> dict[str, list[Check]]:
        found: dict[str, list[Check]] = {}
        for c in lost:
            if c.part in at and at[c.part].key in self.sizes and at[c.part].key not in self.settled:
                found.setdefault(at[c.part].key, []).append(c)
        return found

    def _one(self, place: Place, worst: Check, said: Sequence[Want]) -> Taken:
        key, before = place.key, self.tried.get(place.key)
        if before and before.check == worst.id and not _won(before.margin, worst.margin):
            return replace(self, sizes={**self.sizes, key: before.size}, settled=self.settled | {key})
        new = choose(place, self.market, said, self.sizes[key], self.refused.get(key, ()))
        if new is None:
            return replace(self, settled=self.settled | {key})
        tried = {**self.tried, key: Tried(self.sizes[key], worst.id, worst.margin)}
        return replace(self, sizes={**self.sizes, key: new}, slight={**self.slight, key: self.sizes[key]}, tried=tried)


def _won(before: float, now: float) -> bool:
    """Whether a stouter size won back enough of what was missing; yes where it is not known."""
    return not (before < 0 and now - before < CLOSES * -before)
