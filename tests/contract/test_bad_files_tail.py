"""Faults in the frames of tailplane and fin: what is told, with key and line."""

import pytest
from families import PROBE, line_with, problems, reading
from tails import TAILED

F = "tailplane.frame"


def spoiled(old: str, new: str, after: str = "[tailplane.frame]") -> str:
    at = TAILED.index(old, TAILED.index(after))
    return TAILED[:at] + new + TAILED[at + len(old) :]


CASES = [
    # what, text, piece on the line, key, words of the message
    (
        "a rib outside the surface",
        spoiled('ribs = ["30 in", "44 in"]', 'ribs = ["30 in", "60 in"]'),
        'ribs = ["30 in", "60 in"]',
        f"{F}.movable.ribs.1",
        "between root and tip tube",
    ),
    (
        "a rib within the slanting root",
        spoiled('ribs = ["30 in", "44 in"]', 'ribs = ["10 in", "44 in"]'),
        '"10 in"',
        f"{F}.movable.ribs.0",
        "between root and tip tube",
    ),
    (
        "ribs out of order",
        spoiled('ribs = ["30 in", "44 in"]', 'ribs = ["44 in", "30 in"]'),
        '["44 in"',
        f"{F}.movable.ribs.1",
        "from the inside out",
    ),
    (
        "ribs in one place",
        spoiled('ribs = ["30 in", "44 in"]', 'ribs = ["30 in", "30.005 in"]'),
        '"30.005 in"',
        f"{F}.movable.ribs.1",
        "further apart than they are thick",
    ),
    (
        "a pitch of less than a tube",
        spoiled('pitch = "14 in"', 'pitch = "1/2 in"'),
        'pitch = "1/2 in"',
        f"{F}.fixed.pitch",
        "more than the ribs are thick",
    ),
    (
        "a rib within a root that slants the other way",
        spoiled(
            'root = "3 in"\nroot_aft = "12 in"\nribs = ["30 in"', 'root = "12 in"\nroot_aft = "3 in"\nribs = ["10 in"'
        ),
        '"10 in"',
        f"{F}.movable.ribs.0",
        "between root and tip tube",
    ),
    ("no word of the ribs", spoiled('\npitch = "14 in"', ""), "", f"{F}.fixed.pitch", "pitch or ribs"),
    (
        "a hinge line with no room behind it",
        spoiled("hinge = 0.5", "hinge = 0.96", "[tailplane]"),
        "hinge = 0.96",
        "tailplane.hinge",
        "no room behind",
    ),
    (
        "a hinge line beyond the chord",
        spoiled("hinge = 0.5", "hinge = 1.1", "[tailplane]"),
        "hinge = 1.1",
        "tailplane.hinge",
        "less than 1",
    ),
    (
        "a bent hinge line",
        spoiled('"2.045 deg"', '"4 deg"', "[tailplane]"),
        '"4 deg"',
        "tailplane.sweep",
        "2.045 deg gives it",
    ),
    (
        "a rivet too near an edge",
        spoiled('edge = "1/4 in"', 'edge = "0.2 in"'),
        'edge = "0.2 in"',
        f"{F}.gusset.edge",
        "two diameters from an edge, 1/4″",
    ),
    (
        "rivets too near each other",
        spoiled('pitch = "3/8 in"', 'pitch = "0.3 in"'),
        'pitch = "0.3 in"',
        f"{F}.gusset.pitch",
        "three diameters apart, 3/8″",
    ),
    (
        "no such rivet",
        spoiled('rivet = "blind-steel-1/8"', 'rivet = "blind-steel-1/16"'),
        '"blind-steel-1/16"',
        f"{F}.gusset.rivet",
        "'blind-steel-3/16'",
    ),
    (
        "a bolt for a rivet",
        spoiled('rivet = "blind-steel-1/8"', 'rivet = "AN3"'),
        'rivet = "AN3"',
        f"{F}.gusset.rivet",
        "is not a rivet we know",
    ),
    ("no such pin", spoiled('pin = "AN3"', 'pin = "AN2"'), 'pin = "AN2"', f"{F}.hinges.pin", "is not a bolt we know"),
    ("a hinge on the tip", spoiled('"51 in"', '"55 in"'), '"55 in"', f"{F}.hinges.places.2", "lies on the front tube"),
    (
        "one hinge",
        spoiled('places = ["6-1/2 in", "37 in", "51 in"]', 'places = ["37 in"]'),
        'places = ["37 in"]',
        f"{F}.hinges.places",
        "at least two hinges",
    ),
    (
        "a bush on no pin",
        spoiled('outside = "1/4 in", wall = "0.028 in" }\nplay', 'outside = "5/16 in", wall = "0.028 in" }\nplay'),
        'bush = { material = "4130N", outside = "5/16 in"',
        f"{F}.hinges.bush",
        "turns on the pin AN3",
    ),
    (
        "a gap the straps do not fit in",
        spoiled('gap = "1/2 in"', 'gap = "5/16 in"'),
        "",
        f"{F}.gap",
        "room for the straps",
    ),
    (
        "tubes of two outsides",
        spoiled('rib = { material = "6061-T6", outside = "5/8 in"', 'rib = { material = "6061-T6", outside = "1/2 in"'),
        'rib = { material = "6061-T6", outside = "1/2 in"',
        f"{F}.fixed.rib.outside",
        "5/8″: flat gussets",
    ),
    (
        "a wall of no bore",
        spoiled('wall = "0.049 in" }\nrib', 'wall = "0.32 in" }\nrib'),
        'wall = "0.32 in"',
        f"{F}.fixed.spar.wall",
        "half the outside",
    ),
    (
        "a joining tube too thick",
        spoiled('join = { material = "4130N", outside = "1/2 in"', 'join = { material = "4130N", outside = "5/8 in"'),
        "",
        f"{F}.movable.join.outside",
        "whose bore is",
    ),
    (
        "tabs on no node",
        spoiled('node = "J0"', 'node = "J9"'),
        'node = "J9"',
        f"{F}.attach.front.node",
        "on the centreline",
    ),
    (
        "tabs on a pair of nodes",
        spoiled('node = "J0"', 'node = "J1"'),
        'node = "J1"',
        f"{F}.attach.front.node",
        "on the centreline",
    ),
    (
        "a tailplane held by a foot",
        spoiled('tube = "rib", along = "2-3/4 in"', 'tube = "spar", along = "2-3/4 in"'),
        'tube = "spar", along = "2-3/4 in"',
        f"{F}.attach.front.tube",
        "held by its root ribs",
    ),
    (
        "ribs that stand off the tabs",
        spoiled('root = "0.750 in"', 'root = "0.9 in"'),
        'root = "0.9 in"',
        f"{F}.fixed.root",
        "lie on the tabs at S1",
    ),
    (
        "a fin without a foot",
        spoiled('foot = "1/2 in"\n', "", "[fin.frame]"),
        "",
        "fin.frame.fixed.foot",
        "height its foot",
    ),
    (
        "a foot over the root",
        spoiled('foot = "1/2 in"', 'foot = "4 in"', "[fin.frame]"),
        "",
        "fin.frame.fixed.foot",
        "height its foot",
    ),
    ("no gusset", spoiled('edge = "1/4 in"\n', ""), "", f"{F}.gusset.edge", "is missing"),
    (
        "no such key",
        spoiled('lap = "2-1/2 in"', 'laps = "2-1/2 in"'),
        'laps = "2-1/2 in"',
        f"{F}.movable.laps",
        "'lap'",
    ),
    (
        "no such material",
        spoiled('tab = { material = "4130N"', 'tab = { material = "4130"'),
        'tab = { material = "4130"',
        f"{F}.tab.material",
        "'4130N'",
    ),
    (
        "a root beyond the tip",
        spoiled('root_aft = "12 in"', 'root_aft = "56 in"'),
        'root_aft = "56 in"',
        f"{F}.movable.root_aft",
        "within the tip",
    ),
    ("three arms", spoiled("arms = 1", "arms = 3"), "arms = 3", f"{F}.horn.arms", "at most 2"),
]


def test_the_text_itself_is_good_and_so_is_one_without_frames() -> None:
    assert reading(TAILED).models["P1"].tailplane.frame is not None
    assert reading(PROBE).models["P1"].tailplane.frame is None


@pytest.mark.parametrize(("text", "piece", "key", "says"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_it_is_told_with_its_key(text: str, piece: str, key: str, says: str) -> None:
    found = problems(text)
    mine = [p for p in found if p.key == key]
    assert mine, [str(p) for p in found]
    assert any(says in p.wanted for p in mine), [str(p) for p in mine]
    assert len({p.key for p in found}) <= 3, [str(p) for p in found]
    if piece:
        assert mine[0].line == line_with(text, piece)
