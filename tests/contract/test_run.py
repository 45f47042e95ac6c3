"""A run of each demo model: ids once, verdicts that mean something, parents and sources there, twice the same."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from itertools import chain

import pytest
import shared
from shelf import shelf

import sparwright as sw
from sparwright.base.check import Check, Result, Step
from sparwright.cli.answers import run as door
from sparwright.data.loader import sources
from sparwright.family.model import Family
from sparwright.run import RunResult, run

MODELS = ["W1", "W2", "W3"]
Ran = Callable[[str], RunResult]
KEY = re.compile(r"\b[a-z]{2,}(?:-[a-z0-9]+)*-(?:[a-z]{1,3}-)?\d[a-z0-9-]*\b")  # cfr-23-2014, naca-tr-181, jcgm-100
WORDS = re.compile(r"^(one|two|three|four)-")


def texts(result: RunResult) -> Iterator[tuple[str, str]]:
    """(id, text) of everything that may name a source."""
    for r in result.results:
        yield r.id, r.source
    for c in result.checks:
        yield from ((c.id, t) for t in (c.rule, c.method, c.caveat))
    for thing in (*result.results, *result.checks):
        yield from ((thing.id, s.source) for s in thing.steps)


def numbers(thing: Result | Check) -> Iterator[float]:
    yield from (thing.value, *((thing.low, thing.high) if isinstance(thing, Result) else (thing.limit, thing.margin)))
    yield from (s.value for s in thing.steps)


@pytest.mark.parametrize("model", MODELS)
def test_ids_are_unique(ran: Ran, model: str) -> None:
    result = ran(model)
    for things in (result.results, result.checks):
        ids = [t.id for t in things]
        assert len(ids) == len(set(ids)) > 20
        assert all(re.fullmatch(r"[a-zA-Z0-9_.-]+", i) for i in ids)


@pytest.mark.parametrize("model", MODELS)
def test_checks_say_what_they_mean(ran: Ran, model: str) -> None:
    for c in ran(model).checks:
        known = math.isfinite(c.value) and math.isfinite(c.limit)
        assert c.verdict in ("pass", "fail", "unknown")
        assert known or c.verdict == "unknown", c.id
        assert c.verdict == "unknown" or math.isfinite(c.margin)
        assert c.verdict != "unknown" or c.caveat, f"{c.id} is unknown and does not say why"
        assert c.title and c.rule and c.method, c.id
        if c.verdict != "unknown":
            better = {"<=": c.value <= c.limit, "<": c.value < c.limit, ">=": c.value >= c.limit}[c.sense]
            assert better == (c.verdict == "pass"), c.id


@pytest.mark.parametrize("model", MODELS)
def test_results_have_bands_in_order_and_a_source(ran: Ran, model: str) -> None:
    for r in ran(model).results:
        assert r.title and r.source, r.id
        if r.band.known:
            assert r.low <= r.value <= r.high, r.id


@pytest.mark.parametrize("model", MODELS)
def test_numbers_are_plain(ran: Ran, model: str) -> None:
    """Python's own floats, so that text and JSON of them are the same everywhere."""
    result = ran(model)
    for thing in (*result.results, *result.checks):
        for value in (*numbers(thing), *(v for s in thing.steps for _, v, _ in s.given)):
            assert type(value) in (float, int), (thing.id, type(value))


@pytest.mark.parametrize("model", MODELS)
def test_parents_are_there(ran: Ran, model: str) -> None:
    result = ran(model)
    known = {t.id for t in chain(result.results, result.checks)}
    lost = [(t.id, p) for t in chain(result.results, result.checks) for p in t.parents if p not in known]
    assert not lost


@pytest.mark.parametrize("model", MODELS)
def test_parents_lead_to_an_end(ran: Ran, model: str) -> None:
    """Nothing is its own ancestor."""
    result = ran(model)
    parents = {t.id: t.parents for t in chain(result.results, result.checks)}

    def walk(id: str, seen: tuple[str, ...]) -> None:
        assert id not in seen, " > ".join((*seen, id))
        for p in parents.get(id, ()):
            walk(p, (*seen, id))

    for id in parents:
        walk(id, ())


@pytest.mark.parametrize("model", MODELS)
def test_sources_are_known(ran: Ran, model: str) -> None:
    """Whatever is spelt like a key of data/sources.toml is one; licence categories' own keys are not sources."""
    found = [(id, key) for id, text in texts(ran(model)) for key in KEY.findall(text) if not WORDS.match(key)]
    assert len(found) > 50
    assert not [(id, key) for id, key in found if key not in sources()]


@pytest.mark.parametrize("model", MODELS)
def test_parts_of_checks_exist(ran: Ran, model: str) -> None:
    result = ran(model)
    known = {p.number for p in result.assembly.parts}
    assert {c.part for c in result.checks if c.part} <= known
    assert any(c.part for c in result.checks)


Again = tuple[RunResult, list[tuple[float, str]]]


@pytest.fixture(scope="module")
def again(whinchat: Family) -> Again:
    """W1 worked out a second time, with the progress it told."""

    def run_again(_: str) -> Again:
        told: list[tuple[float, str]] = []
        return run(whinchat, "W1", lambda done, stage: told.append((done, stage)), shelf, measured=False), told

    return shared.once("W1 again", run_again)


def test_two_runs_are_equal(ran: Ran, again: Again) -> None:
    one, (two, _) = ran("W1"), again
    assert one is not two
    assert repr(one.results) == repr(two.results)
    assert repr(one.checks) == repr(two.checks)
    assert repr(one.assembly) == repr(two.assembly)


def test_the_door_is_the_call_also_after_the_module_was_loaded() -> None:
    import sparwright.run

    assert sw.run is door and callable(sw.load)
    assert sparwright.run is door


def test_progress_rises(again: Again) -> None:
    _, told = again
    assert [d for d, _ in told] == sorted({d for d, _ in told}) and told[0][0] == 0 and told[-1][0] < 1
    assert all(stage for _, stage in told)


def test_a_model_that_is_not_there(whinchat: Family) -> None:
    with pytest.raises(KeyError):
        run(whinchat, "W9")


def test_steps_are_steps(ran: Ran) -> None:
    for thing in chain(ran("W1").results, ran("W1").checks):
        assert all(isinstance(s, Step) and s.title for s in thing.steps)


def test_without_load_cases_strength_is_unknown(whinchat: Family, monkeypatch: pytest.MonkeyPatch) -> None:
    """No load, no proof: the run goes on, strength is unknown, with the reason."""
    monkeypatch.setitem(run.__globals__, "every_case", lambda *_: ())
    lost = [c for c in run(whinchat, "W1", polars=shelf, measured=False).checks if c.id.startswith("strength.")]
    assert {c.id for c in lost} == {"strength.cases", "strength.frame.buckling"}
    assert all(c.verdict == "unknown" and "no load case is" in c.caveat for c in lost)
