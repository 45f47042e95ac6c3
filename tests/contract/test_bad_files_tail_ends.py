"""Faults in ends of struts and wires on a tail's tubes, and in what holds them: what is told, with its key."""

from __future__ import annotations

import pytest
from families import DEMO_FILE, PROBE, problems

TEXT = DEMO_FILE.read_text("utf-8")
END = 'tail = "tailplane", tube = "spar", along = "46-3/4 in", fitting = "tailplane", piece = "tail_upper"'
HOLDS = 'thickness = "0.063 in" }, edge = "1/2 in", bolt = "AN3", pitch = "5/8 in"'
BUSH = ', spacer = { material = "4130N", outside = "1/4 in", wall = "0.028 in" }'
PIECE = 'wall = "0.058 in" }, width = "1 in" }'
ON_A_WING = 'spar = "front", buttline = "12 in", fitting = "cabane", piece = "cabane"'
E = "struts.tail.ends.1"
ALL_THREE = "an end on a tail says tail, tube and along"
ON_IT = "must lie on the tailplane between its root and its tip"

CASES = [
    ("another surface", END, END.replace('"tailplane", tube', '"tailplan", tube'), f"{E}.tail", '"tailplane" or "fin"'),
    ("no tube", END, END.replace('tube = "spar", ', ""), f"{E}.tube", ALL_THREE),
    ("no place", END, END.replace('along = "46-3/4 in", ', ""), f"{E}.along", ALL_THREE),
    ("past the tip", END, END.replace("46-3/4", "65-1/2"), f"{E}.along", ON_IT),
    ("inside the root", END, END.replace("46-3/4", "1/2"), f"{E}.along", ON_IT),
    ("tail and node", END, f'node = "S2", {END}', E, "or a tail with tube and along"),
    ("a node's fitting", END, END.replace('g = "tailplane"', 'g = "tail_foot"'), f"{E}.fitting",
     "an end on a tail's tube names a fitting with bolt, pitch and spacer"),
    ("a tail's fitting on a wing", ON_A_WING, ON_A_WING.replace('g = "cabane"', 'g = "fin"'), "ends.1.fitting",
     "an end on a spar names a fitting with plate"),
    ("a fitting without its bush", HOLDS + BUSH, HOLDS, "fittings.tailplane.plate", "is missing: on a spar"),
    ("a bush loose on its bolt", HOLDS, HOLDS.replace("AN3", "AN4"), "fittings.tailplane.spacer", "it goes over AN4"),
    ("bolts too near", HOLDS, HOLDS.replace("5/8 in", "1/2 in"), "fittings.tailplane.pitch", "three diameters apart"),
    ("a bush longer than the tube is thick", PIECE, PIECE.replace("1 in", "1-1/8 in"), f"{E}.piece",
     "its bush is as long as the tailplane's tube is thick, 1″"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "key", "words"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_each_fault_is_told_with_its_key(old: str, new: str, key: str, words: str) -> None:
    assert old in TEXT
    said = problems(TEXT.replace(old, new, 1))
    assert any(key in p.key and words in f"{p.wanted} {p.example}" for p in said), "\n".join(map(str, said))


def test_an_end_on_a_tail_known_by_area_is_told() -> None:
    brace = (
        '[models.P1.struts]\ntail = { ends = [{ node = "D2" }, { tail = "tailplane", tube = "spar", along = "40 in" }]'
    )
    tube = ', tube = { material = "4130N", outside = "3/4 in", wall = "0.035 in" } }\n'
    said = problems(PROBE.replace("[models.P1.struts]\n", brace + tube, 1))
    assert any(p.key.endswith("ends.1.tail") and "wants [tailplane.frame]" in p.wanted for p in said), said
