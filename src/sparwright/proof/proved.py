"""What a test proves: of each tested member, what it uses in the test against the case and against all of flight.

    r = use at the last step/use in the case            of limit strength, by the margins' own checks
    proved: use at the last step >= 0.95 of the greatest use in any case that a test of its kind may stand for

A member is a strength check: a spar's caps, its webs, a strut, a wire, a lug. For the first the air of the case is
spread evenly over each strip (proof/fine.py). 0.95: whole bags; common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check
from sparwright.base.record import number
from sparwright.proof.governing import of_limit

ENOUGH = 0.95


@dataclass(frozen=True)
class Member:
    """One tested member, all in parts of its limit strength."""

    id: str  # of its strength check
    title: str
    flight: float = number("1", "greatest use at limit load in the cases that a test of its kind may stand for")
    case: float = number("1", "use in the test's own case at limit load")
    test: float = number("1", "use at the last step of the test")
    where: str = ""  # the case of its greatest use

    @property
    def over_case(self) -> float:
        """Test over the test's own case."""
        return self.test / self.case if self.case else np.nan

    @property
    def over_flight(self) -> float:
        """Test over the greatest of flight."""
        return self.test / self.flight if self.flight else np.nan

    @property
    def proved(self) -> bool:
        """Whether this test proves it."""
        return bool(self.over_flight >= ENOUGH)


def members(flight: Iterable[Check], case: Iterable[Check], test: Iterable[Check], mine: Callable[[str], bool]
            ) -> tuple[Member, ...]:  # fmt: skip
    """The tested members, the one that flight uses most first. Checks at limit load; what is not known is left out.

    flight: of all cases together; case, test: of one each; mine: whether an id is of a tested member.
    """
    known = [{c.id: c for c in some if mine(c.id) and np.isfinite(c.value)} for some in (flight, case, test)]
    whole, own, under = known
    found = [
        Member(k, c.title, of_limit(c), of_limit(own[k]), of_limit(under[k]), c.case)
        for k, c in whole.items()
        if k in own and k in under and c.value > 0
    ]
    return tuple(sorted(found, key=lambda m: (-m.flight, m.id)))


def spar_of(id: str) -> str:
    """The spar a strength check is of, "upper.front"; empty for a strut, a wire, a tube, a bolt.

    >>> spar_of("strength.upper.front.caps"), spar_of("strength.lug.lift.upper.front")
    ('upper.front', '')
    """
    words = id.split(".")
    return ".".join(words[1:3]) if len(words) == 4 and words[1] not in KINDS else ""


KINDS = ("tube", "wire", "lug", "pin", "bolts")


def decisive(every: Sequence[Member]) -> dict[str, Member]:
    """Of each spar the member of it that its own case uses most."""
    found: dict[str, Member] = {}
    for m in every:
        spar = spar_of(m.id)
        if spar and (spar not in found or m.case > found[spar].case):
            found[spar] = m
    return found


@dataclass(frozen=True)
class Standing:
    """A member over all tests."""

    member: Member  # of the test that loads it most
    test: str = ""  # key of that test
    flight: float = number("1", "greatest use in any case of any of the tests", np.nan)
    where: str = ""

    @property
    def ratio(self) -> float:
        """Best test over flight."""
        return self.member.test / self.flight

    @property
    def proved(self) -> bool:
        """Whether some test proves it."""
        return bool(self.ratio >= ENOUGH)


def standing(tests: Sequence[tuple[str, Sequence[Member]]]) -> tuple[Standing, ...]:
    """Every member of some tests (key, members) once, the most used first."""
    best: dict[str, Standing] = {}
    for key, every in tests:
        for m in every:
            old = best.get(m.id)
            flight, where = (m.flight, m.where) if old is None or m.flight > old.flight else (old.flight, old.where)
            mine = m if old is None or m.test > old.member.test else old.member
            best[m.id] = Standing(mine, key if old is None or mine is m else old.test, flight, where)
    return tuple(sorted(best.values(), key=lambda s: (-s.flight, s.member.id)))
