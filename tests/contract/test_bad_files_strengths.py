"""Faults in what a family file says of its tests, editions, knock-downs and read values.

Every case is the family of probe.toml with a [strengths] that has one thing spoiled.
"""

from __future__ import annotations

import pytest
from families import PROBE, problems, reading, told

GOOD = """
[[strengths.coupons]]
material = "birch-ply"
property = "shear"
grain = "45 deg"
thickness = "2 mm"
results = ["15.1 MPa", "14.2 MPa", "16.0 MPa", "14.8 MPa", "15.5 MPa"]
temperature = "294 K"
moisture = 0.12
conditioning = "two weeks in the shop"
when = "2026-03-01"
who = "A. Builder"
batch = "sheet 1"
basis = "B"
use = true

[[strengths.coupons]]
joint = "rivet"
fastener = "blind-steel-1/8"
of = ["6061-T6", "4130N"]
property = "shear"
forces = ["255 lbf", "262 lbf", "249 lbf", "266 lbf", "258 lbf"]
temperature = "295 K"
when = "2026-03-02"
who = "A. Builder"
batch = "box 1"

[[strengths.editions]]
material = "spruce"
edition = "anc-18-1951"

[[strengths.knock_downs]]
material = "glass-epoxy"
values = ["compression"]
temperature = "344 K"
factor = 0.7
source = "a test report"

[[strengths.confirmed]]
material = "4130N"
values = ["compression", "bearing"]
edition = "mil-hdbk-5"
who = "A. Reader"
when = "2026-03-03"
read = "MIL-HDBK-5J, Table 2.3.1.0"
"""
TEXT = PROBE + GOOD

CASES = [
    # what, old, new, key, words of the message
    ("wrong unit", '"15.1 MPa"', '"15.1 lbf"', "strengths.coupons.0.results.0", "unit of force, a pressure is wanted"),
    ("bare number", '"15.1 MPa"', "15.1", "strengths.coupons.0.results.0", "not a bare number"),
    (
        "no list",
        'results = ["15.1 MPa", "14.2 MPa", "16.0 MPa", "14.8 MPa", "15.5 MPa"]',
        'results = "15.1 MPa"',
        "strengths.coupons.0.results",
        "is a list of texts with units",
    ),
    ("negative", '"14.2 MPa"', '"-14.2 MPa"', "strengths.coupons.0.results.1", "positive"),
    ("nought", '"14.2 MPa"', '"0 MPa"', "strengths.coupons.0.results.1", "positive"),
    ("mixed units", '"14.2 MPa"', '"2060 psi"', "strengths.coupons.0.results", "mixes units (MPa, psi)"),
    ("a point too far", '"14.2 MPa"', '"142 MPa"', "strengths.coupons.0.results", "more than 5 times the least"),
    (
        "three results only",
        '"14.8 MPa", "15.5 MPa"]',
        "]",
        "strengths.coupons.0.use",
        "cannot be used with 3 results: at least 5 of one test; break 2 more",
    ),
    (
        "one result",
        '["15.1 MPa", "14.2 MPa", "16.0 MPa", "14.8 MPa", "15.5 MPa"]',
        '["15.1 MPa"]',
        "strengths.coupons.0.results",
        "one result says nothing of the scatter",
    ),
    (
        "no results",
        'results = ["15.1 MPa", "14.2 MPa", "16.0 MPa", "14.8 MPa", "15.5 MPa"]\n',
        "",
        "strengths.coupons.0",
        "as stresses or as forces",
    ),
    (
        "unknown material",
        'material = "birch-ply"\nproperty',
        'material = "birch-plie"\nproperty',
        "strengths.coupons.0.material",
        "'birch-ply'",
    ),
    (
        "neither material nor joint",
        'material = "birch-ply"\nproperty',
        "property",
        "strengths.coupons.0",
        "is of a material or of a joint",
    ),
    (
        "material and joint",
        'joint = "rivet"',
        'joint = "rivet"\nmaterial = "4130N"',
        "strengths.coupons.1",
        "is of a material or of a joint",
    ),
    (
        "unknown property",
        'property = "shear"\ngrain',
        'property = "shaer"\ngrain',
        "strengths.coupons.0.property",
        "'shear'",
    ),
    (
        "property of no joint",
        'property = "shear"\nforces',
        'property = "youngs"\nforces',
        "strengths.coupons.1.property",
        "is no value we know here",
    ),
    ("unknown joint", 'joint = "rivet"', 'joint = "nail"', "strengths.coupons.1.joint", '"glue" or "rivet"'),
    (
        "unknown rivet",
        'fastener = "blind-steel-1/8"',
        'fastener = "blind-stel-1/8"',
        "strengths.coupons.1.fastener",
        "'blind-steel-1/8'",
    ),
    ("unknown partner", 'of = ["6061-T6"', 'of = ["6061-T66"', "strengths.coupons.1.of.0", "'6061-T6'"),
    (
        "stresses of a rivet",
        'forces = ["255 lbf", "262 lbf", "249 lbf", "266 lbf", "258 lbf"]',
        'results = ["255 MPa", "262 MPa", "249 MPa", "266 MPa", "258 MPa"]',
        "strengths.coupons.1.results",
        "are forces on one of them",
    ),
    ("no temperature", 'temperature = "294 K"\n', "", "strengths.coupons.0.temperature", "is missing"),
    ("celsius", 'temperature = "294 K"', 'temperature = "21 K"', "strengths.coupons.0.temperature", "at least 200 K"),
    ("percent", "moisture = 0.12", "moisture = 12", "strengths.coupons.0.moisture", "at most 0.4"),
    ("no day", 'when = "2026-03-01"', 'when = "March"', "strengths.coupons.0.when", "year-month-day"),
    ("grain past square", 'grain = "45 deg"', 'grain = "145 deg"', "strengths.coupons.0.grain", "at most 90 deg"),
    ("unknown basis", 'basis = "B"', 'basis = "C"', "strengths.coupons.0.basis", '"A" or "B" or "mean"'),
    ("unknown mark", 'basis = "B"', 'basis = "B"\nmark = "guessed"', "strengths.coupons.0.mark", ""),
    (
        "unknown edition",
        'edition = "anc-18-1951"',
        'edition = "anc-18-1915"',
        "strengths.editions.0.edition",
        "'anc-18-19",
    ),
    ("factor that adds", "factor = 0.7", "factor = 1.7", "strengths.knock_downs.0.factor", "at most 1"),
    (
        "knock-down without a source",
        'source = "a test report"',
        'source = ""',
        "strengths.knock_downs.0.source",
        "text in quotes",
    ),
    (
        "knock-down of nothing",
        'temperature = "344 K"\n',
        "",
        "strengths.knock_downs.0",
        "either the temperature or the moisture",
    ),
    (
        "read value unknown",
        'values = ["compression", "bearing"]',
        'values = ["compression", "baering"]',
        "strengths.confirmed.0.values.1",
        "'bearing'",
    ),
    (
        "read of two things",
        'material = "4130N"\nvalues',
        'material = "4130N"\nfastener = "AN3"\nvalues',
        "strengths.confirmed.0",
        "one of them",
    ),
    (
        "read of no edition",
        'edition = "mil-hdbk-5"',
        'edition = "mil-hdbk-9"',
        "strengths.confirmed.0.edition",
        "is no edition of 4130N",
    ),
    ("no evidence", 'read = "MIL-HDBK-5J, Table 2.3.1.0"', 'read = ""', "strengths.confirmed.0.read", "text in quotes"),
]


def test_the_good_one_is_read() -> None:
    strengths = reading(TEXT).models["P1"].strengths
    assert strengths is not None and [len(c.results or c.forces) for c in strengths.coupons] == [5, 5]
    assert strengths.coupons[0].results[0] == pytest.approx(15.1e6)
    assert strengths.confirmed[0].said == "read by A. Reader, 2026-03-03: MIL-HDBK-5J, Table 2.3.1.0"


@pytest.mark.parametrize(("what", "old", "new", "key", "says"), CASES, ids=[c[0] for c in CASES])
def test_each_slip_is_told_in_a_sentence(what: str, old: str, new: str, key: str, says: str) -> None:
    assert TEXT.count(old) == 1, what
    found = [p for p in problems(TEXT.replace(old, new)) if p.key == key]
    assert found, [str(p) for p in problems(TEXT.replace(old, new))]
    assert says in found[0].wanted, str(found[0])


def test_a_slip_has_its_line() -> None:
    spoiled = TEXT.replace("factor = 0.7", "factor = 1.7")
    assert told(spoiled, "factor = 1.7", "strengths.knock_downs.0.factor", "at most 1")


def test_a_series_told_twice_is_refused_and_two_batches_are_not() -> None:
    first = GOOD[: GOOD.index("\n[[strengths.coupons]]\njoint")]
    assert any("twice" in p.wanted for p in problems(PROBE + first + first))
    both = reading(PROBE + first + first.replace("sheet 1", "sheet 2")).models["P1"].strengths
    assert both is not None and len(both.coupons) == 2


def test_a_short_batch_may_be_used_with_another() -> None:
    first = GOOD[: GOOD.index("\n[[strengths.coupons]]\njoint")].replace('"14.8 MPa", "15.5 MPa"]', "]")
    short = PROBE + first
    assert any("break 2 more" in p.wanted for p in problems(short))
    strengths = reading(short + first.replace("sheet 1", "sheet 2")).models["P1"].strengths
    assert strengths is not None and [c.batch for c in strengths.coupons] == ["sheet 1", "sheet 2"]


def test_a_batch_that_is_not_used_does_not_help_a_short_one() -> None:
    first = GOOD[: GOOD.index("\n[[strengths.coupons]]\njoint")].replace('"14.8 MPa", "15.5 MPa"]', "]")
    other = first.replace("sheet 1", "sheet 2").replace("use = true", "use = false")
    assert any("break 2 more" in p.wanted for p in problems(PROBE + first + other))


def test_a_cable_is_read_by_its_size() -> None:
    word = '\n[[strengths.confirmed]]\ncable = "1x19"\ndiameter = "1/8 in"\nvalues = ["carbon"]\nwho = "A"\n'
    word += 'when = "2026-03-03"\nread = "it"\n'
    strengths = reading(PROBE + word).models["P1"].strengths
    assert strengths is not None
    (mine,) = strengths.confirmed
    assert (mine.cable, mine.values, mine.who) == ("1x19", ("carbon",), "A")
    assert mine.diameter == pytest.approx(0.125 * 0.0254)
    assert any("no cable on file" in p.wanted for p in problems(PROBE + word.replace("1/8 in", "1/7 in")))
    assert any("carbon" in p.wanted for p in problems(PROBE + word.replace('["carbon"]', '["tension"]')))
