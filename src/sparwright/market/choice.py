"""Which stock of a market is taken for each place of a model, so that no member keeps less than it must.

First by the members' own functions at the loads as they are (margins/candidates.py and its fellows), nearest stock
first; then the model is worked out again whole, and what lost a margin takes the next stouter stock, until nothing
does or nothing is left to take.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from sparwright.base.check import Check
from sparwright.base.record import number
from sparwright.family.model import Model
from sparwright.margins.candidates import Candidate
from sparwright.margins.chain import Margins
from sparwright.margins.more_candidates import besides, every_candidate
from sparwright.margins.sizes import members_of
from sparwright.market.nearest import nearest, section
from sparwright.market.places import Place
from sparwright.parts.part import Assembly

Size = tuple[float, ...]
_PLACE = re.compile(r"(?<=[-.])(\d+)(?:[_+](\d\d))?")  # base/quantity.py place_key
MOVED = 0.25  # in, by which ribs and hinges move with the tubes beside them
LOST = 1e-9  # a margin is lost when it is lower by more than this
SAME = 1e-6  # m


@dataclass(frozen=True)
class Want:
    """What one member says of the sizes of a place: least margin with each, and the least it must keep."""

    margins: Mapping[Size, float]
    least: float = number("1", "least margin to be kept; minus infinity where none is known")

    def keeps(self, size: Size) -> bool:
        """Whether a size keeps it; one that nobody worked out is left to the whole calculation."""
        found = next((m for s, m in self.margins.items() if _like(s, size)), None)
        return found is None or found >= self.least - LOST or self.least == -math.inf


def kept(before: Check, after: Check | None, reserve: float) -> bool:
    """Whether a check is no worse than it has to be: passes if it passed, no lower margin if it failed.

    One that is unknown though its number is there (a strength that is recalled) keeps a margin of nought or more.
    """
    if after is None:
        return False
    if before.verdict == "pass" and after.verdict != "pass":
        return False
    least = least_of(before.margin, reserve)
    return least == -math.inf or after.margin >= least - LOST


def matched(before: Sequence[str], after: Sequence[str]) -> dict[str, str]:
    """Ids of checks after by ids before; one whose place along a wing or tail moved a little is the nearest such.

    >>> matched(["tube.RIB-48_21-R", "a", "b"], ["tube.RIB-48_20-R", "a"])
    {'a': 'a', 'tube.RIB-48_21-R': 'tube.RIB-48_20-R'}
    """
    found = {i: i for i in before if i in set(after)}
    free = [i for i in after if i not in found]
    for i in (i for i in before if i not in found):
        alike = [j for j in free if _PLACE.sub("#", j) == _PLACE.sub("#", i) and _apart(i, j) <= MOVED]
        if alike:
            found[i] = min(alike, key=lambda j: _apart(i, j))
    return found


def _apart(a: str, b: str) -> float:
    """How far two ids with the same words are apart, in."""
    pairs = zip(_PLACE.finditer(a), _PLACE.finditer(b), strict=True)
    return sum(abs(_inches(x) - _inches(y)) for x, y in pairs)


def _inches(place: re.Match[str]) -> float:
    return int(place[1]) + int(place[2] or 0) / 64


def least_of(margin: float, reserve: float) -> float:
    """The least margin to keep: the reserve where there was as much, else nought, else what there was."""
    if math.isnan(margin):
        return -math.inf
    return reserve if margin >= reserve else min(margin, 0.0) if margin < 0 else 0.0


def wants(model: Model, assembly: Assembly, found: Margins, at: Mapping[str, Place], before: Mapping[str, Check],
          market: str, ids: frozenset[str] | None = None) -> dict[str, tuple[Want, ...]]:  # fmt: skip
    """What every member, or those with one of `ids`, says of the sizes of its place, by key of the place.

    The answer is that of the model as it was worked out last; what is to be kept is that of `before`.
    """
    if found.answer is None:
        return {}
    there = replace(model, market="metric" if market == "metric" else "inch")
    asked = [m for m in members_of(found.checks) if ids is None or ids & set(m)]
    also = besides(there, found.answer, (i for m in asked for i in m), found.spans, found.motions)
    said: dict[str, list[Want]] = {}
    for member in asked:
        offered = every_candidate(there, found.answer, member, assembly, also)
        held = [before[i] for i in member if i in before]
        least = min((least_of(c.margin, model.limits.least_margin) for c in held), default=-math.inf)
        for place in {at[p.number].key: at[p.number] for p in offered.parts if p.number in at}.values():
            margins = dict(_of_place(place, offered.found))
            if margins:
                said.setdefault(place.key, []).append(Want(margins, least))
    return {key: tuple(rows) for key, rows in said.items()}


def _of_place(place: Place, found: Iterable[Candidate]) -> Iterable[tuple[Size, float]]:
    plain = [c for c in found if not c.stock.endswith(", no holes")]
    if place.form == "tube":
        return [((c.outside, c.thick), c.margin) for c in plain if math.isfinite(c.outside)]
    return [((c.thick,), c.margin) for c in plain if math.isfinite(c.thick)]


def choose(place: Place, market: str, said: Sequence[Want], beyond: Size | None = None, without: Sequence[Size] = ()
           ) -> Size | None:  # fmt: skip
    """The nearest size that keeps every member; the stoutest of those on file where none does. None without stock.

    beyond: a size that did not do: only stouter ones are looked at. without: sizes the file refuses.
    """
    sizes = [s for s in nearest(place, market) if not any(_like(s, w) for w in without)]
    if beyond is not None:
        sizes = [s for s in sizes if section(s) > section(beyond) * (1 + LOST)]
    able = [s for s in sizes if all(w.keeps(s) for w in said)]
    if able:
        return able[0]
    return max(sizes, key=section, default=None) if beyond is None else (sizes[0] if sizes else None)


def _like(a: Size, b: Size) -> bool:
    return len(a) == len(b) and all(abs(x - y) < SAME for x, y in zip(a, b, strict=True))
