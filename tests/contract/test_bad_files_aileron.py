"""Faults in an aileron's frame and in [paint]: what is told, with key and line."""

import pytest
from ailerons import HINGED
from families import line_with, problems

W = "models.P1.wings.wing.aileron.frame"
M = "models.P2.wings.lower.aileron.frame"
G = "models.P3.wings.upper.aileron.frame"


def spoiled(old: str, new: str, after: str = f"[{W}]") -> str:
    at = HINGED.index(old, HINGED.index(after))
    return HINGED[:at] + new + HINGED[at + len(old) :]


def closed(where: str, *ends: str) -> str:
    stretches = ", ".join(f'{{ start = "{a}", end = "{b}" }}' for a, b in zip(ends[::2], ends[1::2], strict=True))
    return spoiled('setback = "0.7 in"', f'setback = "0.7 in"\nclosed = [{stretches}]', f"[{where}]")


CASES = [
    # what, text, key, words of the message
    ("a plank that is closed", closed(W, "129 in", "133 in"), f"{W}.closed", "closed already"),
    ("a closed stretch off the aileron", closed(M, "40 in", "52 in"), f"{M}.closed.0", "begins and ends on"),
    ("a closed stretch that cuts feet", closed(M, "52-1/2 in", "60 in"), f"{M}.closed.0", "takes in all of the feet"),
    ("closed stretches into one another", closed(M, "60 in", "68 in", "66 in", "70 in"), f"{M}.closed", "and apart"),
    ("a hinge outside the aileron", spoiled('"161 in"', '"171 in"'), f"{W}.hinges.places.1", "lies on the aileron"),
    ("a hinge in the gap", spoiled('"107 in"', '"102-1/2 in"'), f"{W}.hinges.places.0", "lies on the aileron"),
    ("one hinge", spoiled('["107 in", "161 in"]', '["107 in"]'), f"{W}.hinges.places", "at least two"),
    ("hinges out of order", spoiled('["107 in", "161 in"]', '["161 in", "107 in"]'), f"{W}.hinges.places",
     "inside out"),
    ("a horn off the spar", spoiled('along = "131 in"', 'along = "99 in"'), f"{W}.horn.along", "lies on the aileron"),
    ("a horn at a hinge", spoiled('along = "131 in"', 'along = "108 in"'), f"{W}.horn.along",
     "stands clear of a hinge"),
    ("no room round the bush", spoiled('setback = "0.7 in"', 'setback = "0.4 in"'), f"{W}.setback", "round the bush"),
    ("a bush that is no bush", spoiled('outside = "1/4 in"', 'outside = "3/8 in"'), f"{W}.hinges.bush",
     "turns on the pin"),
    ("an unknown pin", spoiled('pin = "AN3"', 'pin = "AN33"'), f"{W}.hinges.pin", "is not a bolt we know"),
    ("a fastener nobody knows", spoiled('fastener = "AN3"', 'fastener = "nail"'), f"{W}.hinges.fastener",
     "is not a bolt or rivet we know"),
    ("a bolt near the edge", spoiled('edge = "0.4 in"', 'edge = "0.3 in"'), f"{W}.hinges.edge", "two diameters"),
    ("bolts too near", spoiled('pitch = "0.6 in"', 'pitch = "0.5 in"'), f"{W}.hinges.pitch", "three diameters apart"),
    ("a foot too narrow", spoiled('foot = "1-1/8 in"', 'foot = "7/8 in"'), f"{W}.hinges.foot",
     "edge distance either side"),
    ("a bent plank", spoiled('thickness = "1/2 in" }', 'thickness = "1/2 in", flange = "2 in" }'), f"{W}.spar.flange",
     "is not bent"),
    ("a flange within its bend", spoiled('flange = "1/2 in"', 'flange = "1/8 in"', f"[{M}]"), f"{M}.false_spar.flange",
     "goes beyond the bend"),
    ("flange and strips", spoiled('thickness = "2.5 mm", strip', 'thickness = "2.5 mm", flange = "1 in", strip'),
     f"{W}.false_spar.strip", "not both"),
    ("nothing that carries torsion", spoiled('nose = { material = "birch-ply", thickness = "1.2 mm" }\n', ""),
     f"{W}.nose", "nothing carries its torsion"),
    ("a nose of another thickness than the skin", spoiled('"0.015 in"', '"0.030 in"', f"[{G}]"), f"{G}.nose.thickness",
     "as thick as the skin"),
    ("an aileron over two panels", spoiled('inboard = "66 in"', 'inboard = "12 in"', "[models.P3.wings.upper.aileron]"),
     "models.P3.wings.upper.aileron.outboard", "straight hinge line"),
    ("a material nobody knows", spoiled('"birch-ply", thickness = "1.2 mm"', '"birchply", thickness = "1.2 mm"'),
     f"{W}.nose.material", "is not a material we know"),
    ("a horn with three arms", spoiled("arms = 2", "arms = 3"), f"{W}.horn.arms", "at most 2"),
    ("paint lighter than the least", spoiled('areal = "0.1 kg/m2"', 'areal = "0.01 kg/m2"', "[paint]"), "paint.areal",
     "between low and high"),
    ("paint that lifts", spoiled('low = "0.05 kg/m2"', 'low = "-1 kg/m2"', "[paint]"), "paint.low", "nought or more"),
]  # fmt: skip


@pytest.mark.parametrize(("what", "text", "key", "says"), CASES, ids=[c[0] for c in CASES])
def test_it_is_told_with_its_key(what: str, text: str, key: str, says: str) -> None:
    found = [p for p in problems(text) if p.key == key]
    assert found, [str(p) for p in problems(text)]
    assert says in found[0].wanted and found[0].line > 1 and len({p.key for p in problems(text)}) <= 3, str(found[0])


def test_the_line_is_that_of_the_fault() -> None:
    text = spoiled('"161 in"', '"171 in"')
    told = next(p for p in problems(text) if p.key == f"{W}.hinges.places.1")
    assert told.line == line_with(text, '"171 in"')
