"""Faults in [parked]: ropes, jacks and slings of a family file."""

from __future__ import annotations

import pytest
from families import PROBE, problems, reading, told

GOOD = """
[models.P1.parked]
ropes = [
  { wing = "wing", spar = "front", buttline = "100 in", ahead = "2 ft", outwards = "3 ft" },
  { node = "S2", ahead = "-1 ft", outwards = "1 ft" },
]
jacks = [
  { node = "B2" },
  { place = ["170 in", "0 in", "-6 in"] },
]
jacked = "level"
slings = [
  { wing = "wing", spar = "front", buttline = "12 in" },
  { place = ["70 in", "5 in", "9 in"] },
]
hook = ["45 in", "0 in", "90 in"]
"""
P = "models.P1.parked"
EITHER = "a point is either a node, or a wing with spar and buttline, or a place"

CASES = [
    # what, old, new, piece on the line, key, words of the message
    (
        "no such node",
        '{ node = "B2" }',
        '{ node = "B9" }',
        '"B9"',
        f"{P}.jacks.0.node",
        "names a node of [fuselage.nodes]",
    ),
    (
        "no such wing",
        'wing = "wing", spar = "front", buttline = "100 in"',
        'wing = "wong", spar = "front", buttline = "100 in"',
        '"wong"',
        f"{P}.ropes.0.wing",
        "names a wing",
    ),
    (
        "no such spar",
        'spar = "front", buttline = "100 in"',
        'spar = "frunt", buttline = "100 in"',
        '"frunt"',
        f"{P}.ropes.0.spar",
        "names a spar of wing wing",
    ),
    (
        "past the tip",
        '"100 in", ahead',
        '"200 in", ahead',
        '"200 in", ahead',
        f"{P}.ropes.0.buttline",
        "must lie on wing wing",
    ),
    (
        "no buttline",
        ', buttline = "100 in", ahead',
        ", ahead",
        'spar = "front", ahead',
        f"{P}.ropes.0.buttline",
        "a point on a wing says wing, spar and buttline",
    ),
    (
        "two things",
        '{ node = "B2" }',
        '{ node = "B2", place = ["0 in", "0 in", "0 in"] }',
        '{ node = "B2", place',
        f"{P}.jacks.0",
        EITHER,
    ),
    ("nothing", '{ node = "S2", ahead', "{ ahead", '{ ahead = "-1 ft"', f"{P}.ropes.1", EITHER),
    ("a bare length", 'ahead = "2 ft"', "ahead = 2.0", "ahead = 2.0", f"{P}.ropes.0.ahead", "text with a unit"),
    (
        "a rope's key on a jack",
        '{ node = "B2" }',
        '{ node = "B2", ahead = "4 ft" }',
        'ahead = "4 ft"',
        f"{P}.jacks.0.ahead",
        "is not a key known here",
    ),
    ("another attitude", '"level"', '"flat"', '"flat"', f"{P}.jacked", '"three_point" or "level"'),
    (
        "a hook beside the middle",
        '["45 in", "0 in"',
        '["45 in", "3 in"',
        '"3 in", "90 in"',
        f"{P}.hook.1",
        "lies on the centreline",
    ),
    (
        "a sling above its hook",
        '"9 in"] },',
        '"99 in"] },',
        '"99 in"',
        f"{P}.slings.1.place.2",
        "must lie below the hook",
    ),
]


@pytest.mark.parametrize(("old", "new", "piece", "key", "says"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_each_fault_is_told_with_its_line_and_key(old: str, new: str, piece: str, key: str, says: str) -> None:
    assert GOOD.count(old) == 1
    assert told(PROBE + GOOD.replace(old, new), piece, key, says)


def test_each_fault_shows_what_would_work() -> None:
    """For what is wrong with a whole point, the example is read without a fault when it is put in its place."""
    said = problems(PROBE + GOOD.replace('{ node = "B2" }', "{ }"))
    example = next(p.example for p in said if p.key == f"{P}.jacks.0")
    assert reading(PROBE + GOOD.replace('{ node = "B2" }', example)).models["P1"].parked is not None


def test_a_hook_without_slings_is_told() -> None:
    start, end = GOOD.index("slings"), GOOD.index("hook")
    assert told(PROBE + GOOD[:start] + GOOD[end:], 'hook = ["45', f"{P}.hook", "nothing hangs on it")


def test_a_good_one_is_read() -> None:
    found = reading(PROBE + GOOD).models["P1"].parked
    assert found is not None and len(found.ropes) == 2 and found.jacked == "level"
    assert reading(PROBE).models["P1"].parked is None
    assert found.ropes[1].ahead == pytest.approx(-0.3048) and found.jacks[1].place is not None
