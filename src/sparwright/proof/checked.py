"""Checks of a test: it stands for the case that uses most, it loads what it is meant to prove, it breaks nothing.

    use in the test/use in the case >= 0.95         of the member that its case uses most, and of each spar it is of
    0.95 <= r <= 1.02                               of a tail: r of proof/against.py, shear and bending by statics
    1.5 x use at the last step <= 1                 limit strength: two thirds of ultimate; what is held at limit: x 1

A test is of a spar where cases of its kind use most of that spar; of the spar's own checks the one that the test's case
uses most counts (proof/proved.py). How far shear and bending follow the case at every cut is told and not held: boards
turn the wing in a few places. A tail that bends less than a quarter as much as in the other test of its surface is
told and not held: the other test is of it.
Rules: 14 CFR 23.305(a), 23.307(a) of 2014 (read): limit load without detrimental set; load tests where analysis alone
is not known to be reliable.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

import numpy as np

from sparwright.base.check import Check, Sense, Step, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.margins.worst import known_margin
from sparwright.proof.against import FLOOR, Along
from sparwright.proof.governing import of_limit
from sparwright.proof.points import line_words
from sparwright.proof.proved import Member, decisive, spar_of
from sparwright.proof.record import BagTest

LEAST, MOST = 0.95, 1.02  # of the case's; common practice, no source
OF_IT = 0.25  # of the bending in the other test
RULE = "cfr-23-2014 23.305(a), 23.307(a)"
METHOD = "bags on the frame, on its trestles, second order, against the case's own solution"
CASES = "the margins' own checks at limit load, both sides alike"
UNDER = "the margins' own checks under the test's forces"
WORDS = ("shear", "bending")


def test_checks(
    test: BagTest, tested: Callable[[str], bool], bends: Mapping[str, float], spars: Mapping[str, str]
) -> Iterator[Check]:
    """The checks of one test.

    bends: greatest bending of each tail surface, N m, over the cases of all tests; spars: the test that each spar is
    proved by, its key.
    """
    yield _case(test)
    if test.why:
        return
    assert test.governing is not None
    first = [m for m in test.members if m.id == test.governing.id]
    yield _loads(test, "governing", first[0] if first else None, "the member that its case uses most")
    for spar, m in decisive(test.members).items():
        if spars.get(spar) == test.plan.key:
            yield _loads(test, f"{spar}.least", m, line_words(spar))
    for one in test.along if test.plan.of_tail else ():
        if np.abs(one.case[:, 1]).max() >= OF_IT * bends.get(one.name, 0.0):
            yield from _against(test, one)
    yield _strength(test, "tested", "the tested members", [c for c in test.held if tested(c.id)])
    yield _strength(test, "others", "all other members", [c for c in test.held if not tested(c.id)])


def bends(tests: Sequence[BagTest]) -> dict[str, float]:
    """Greatest bending of each spar in the cases of the tests, N m."""
    found: dict[str, float] = {}
    for one in (a for t in tests for a in t.along):
        found[one.name] = max(found.get(one.name, 0.0), float(np.abs(one.case[:, 1]).max()))
    return found


def proved_by(tests: Sequence[BagTest]) -> dict[str, str]:
    """Of each spar the key of the test whose kind of case uses most of it."""
    most = dict[str, tuple[float, str]]()
    for t in tests:
        for m in t.members:
            spar = spar_of(m.id)
            if spar and m.flight > most.get(spar, (0.0, ""))[0]:
                most[spar] = (m.flight, t.plan.key)
    return {spar: key for spar, (_, key) in most.items()}


def _loads(test: BagTest, key: str, m: Member | None, words: str) -> Check:
    """Whether a member uses in the test what it does in the test's case."""
    assert test.case is not None
    id, title = f"proof.{test.plan.key}.{key}", _title(test, f"{words}, in the test over in the case")
    if m is None:
        return check(
            id, title, UNKNOWN, LEAST, ">=", "1", rule=RULE, method=METHOD, outside_range="its use is not known"
        )
    given = (("test", m.test, "1"), ("case", m.case, "1"), ("greatest in flight", m.flight, "1"))
    step = Step(m.title, "use of limit strength in the test/in the case", given, m.over_case, "1", METHOD)
    return check(id, title, Band.exact(m.over_case), LEAST, ">=", "1", case=test.case.title, rule=RULE, method=METHOD,
                 caveat=m.title, steps=(step,))  # fmt: skip


def _title(test: BagTest, words: str) -> str:
    return f"proof load, {test.plan.title}: {words}"


def _case(test: BagTest) -> Check:
    """The use of its case at limit load; unknown where a case or a member is not known, or there is no test."""
    words = "limit load of the case that it stands for, of limit strength"
    lost = test.asked.lost
    cases = f"{len(lost)} cases are not known and may use more: {'; '.join(lost[:2])}" if lost else ""
    why = test.why or cases or _not_known(test.asked.uses)
    if test.governing is None or test.case is None:
        return check(f"proof.{test.plan.key}.case", _title(test, words), UNKNOWN, 1.0, "<=", "1", rule=RULE,
                     method=CASES, outside_range=why or "no case")  # fmt: skip
    value = test.governing.use
    words_of = "greatest use of a tested member, of limit strength"
    steps = tuple(Step(f"{g.member}, case {i}", words_of, (), g.use, "1", RULE)
                  for i, g in enumerate(test.asked.known[:5], 1))  # fmt: skip
    return check(f"proof.{test.plan.key}.case", _title(test, words), Band.exact(value), 1.0, "<=", "1", rule=RULE,
                 case=test.case.title, method=CASES,
                 caveat=test.governing.member, outside_range=why if value <= 1 else "", steps=steps)  # fmt: skip


def _against(test: BagTest, one: Along) -> Iterator[Check]:
    """Least and most of the test's inner forces over the case's."""
    assert test.case is not None
    ratio = one.ratio
    ends: tuple[tuple[str, int, float, Sense], ...] = (
        ("least", int(np.argmin(ratio)), LEAST, ">="), ("most", int(np.argmax(ratio)), MOST, "<="),
    )  # fmt: skip
    for word, place, limit, sense in ends:
        i, k = np.unravel_index(place, ratio.shape)
        unit = ("N", "N m")[k]
        peak = float(np.abs(one.case[:, k]).max())
        given = (("test", float(one.test[i, k]), unit), ("case", float(one.case[i, k]), unit),
                 ("greatest along it", peak, unit))  # fmt: skip
        where = f"{WORDS[k]} at {one.at[i] / 0.0254:.1f} in from the {'middle' if test.sides == 2 else 'thrust line'}"
        step = Step(where, f"1 + (test - case)/max(|case|, {FLOOR} greatest)", given, float(ratio[i, k]), "1", METHOD)
        yield check(f"proof.{test.plan.key}.{one.name}.{word}",
                    _title(test, f"{line_words(one.name)}: {word} inner forces of the test over the case's"),
                    Band.exact(float(ratio[i, k])), limit, sense, "1", case=test.case.title, rule=RULE, method=METHOD,
                    caveat=where, steps=(step,))  # fmt: skip


def _strength(test: BagTest, key: str, words: str, held: Sequence[Check]) -> Check:
    """Nothing loaded past its limit strength by the test itself; unknown where one is not known somewhere along it."""
    assert test.case is not None
    known = [(of_limit(c), c) for c in held if np.isfinite(c.value)]
    title, id = _title(test, f"{words} at the last step, of limit strength"), f"proof.{test.plan.key}.{key}"
    if not known:
        return check(
            id,
            title,
            UNKNOWN,
            1.0,
            "<=",
            "1",
            rule=RULE,
            method=UNDER,
            outside_range="none of them has a strength on file",
        )
    use, worst = max(known, key=lambda x: x[0])
    why = _not_known(held)
    given = (("use of ultimate strength", worst.value, "1"),)
    step = Step(worst.title, "1.5 x use, or the use of a check at limit load", given, use, "1", METHOD)
    return check(id, title, Band.exact(use), 1.0, "<=", "1", part=worst.part, case=test.case.title, rule=RULE,
                 method=UNDER, caveat=worst.title,
                 outside_range=why if use <= 1 else "", steps=(step,))  # fmt: skip


def _not_known(held: Sequence[Check]) -> str:
    """Which of some strength checks say nothing, or nothing of some place or case; empty where all do."""
    lost = sorted({c.title for c in held if not (np.isfinite(c.value) and np.isfinite(known_margin(c)))})
    return f"not known: {'; '.join(lost[:2])}{' and more' if len(lost) > 2 else ''}" if lost else ""
