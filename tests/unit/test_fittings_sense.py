"""What a file says wrongly of fittings, ends of struts and roots: each told once with its key."""

from __future__ import annotations

from pathlib import Path

import pytest

from sparwright.base.problem import FileProblems
from sparwright.family.reader import read

FILE = Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml"
BUSH = 'bush = { material = "4130N", outside = "3/8 in", wall = "0.058 in" }'
CABANE = f'cabane = {{ pin = "AN4", {BUSH}, width = "15/16 in" }}'
PLUG = ', plug = { material = "4130N", outside = "1-1/8 in", wall = "0.058 in" }, lap = "2-1/2 in", bolt = "AN3" }'
BLOCK = 'bolt = "AN4", pitch = "1-1/2 in", block = "spruce" }\nlift ='
WIRE_FOOT = 'wire_foot = { lug = { material = "4130N", thickness = "0.125 in" }'
ROOT = 'front = { wing = "lower", spar = "front", node = "L1", buttline = "11-3/4 in"'
ON_SPAR = 'fitting = "cabane", piece = "cabane" }], tube'
WIRE = 'diameter = "5/32 in"'
FORK = 'fitting = "wire_foot", piece = "fork"'
PIN = 'edge = "5/8 in", pin = "AN5", bush'
SPACER = 'spacer = { material = "4130N", outside = "3/8 in", wall = "0.058 in" } }\nrear'
FOOT = 'cabane_foot = { lug = { material = "4130N", thickness = "0.090 in" }, edge = "1/2 in" }'
LIFT = '{ node = "C2", fitting = "lift_foot", piece = "lift" }'


def told(old: str, new: str) -> str:
    text = FILE.read_text(encoding="utf-8")
    assert text.count(old) >= 1, old
    with pytest.raises(FileProblems) as caught:
        read(text.replace(old, new, 1).encode(), "spoilt.toml")
    return str(caught.value)


@pytest.mark.parametrize(
    ("old", "new", "key", "words"),
    [
        (
            LIFT,
            '{ node = "C2", fitting = "lift_fot", piece = "lift" }',
            "lift_front.ends.0.fitting",
            "nearest known is 'lift_foot'",
        ),
        (LIFT, LIFT.replace('"lift"', '"lft"'), "lift_front.ends.0.piece", "strut_pieces"),
        (
            LIFT,
            '{ node = "C2", fitting = "lift_foot" }',
            "lift_front.ends.0.piece",
            "both fitting and piece, or neither",
        ),
        (FOOT, FOOT.replace("1/2 in", "3/8 in"), "fittings.cabane_foot.edge", "two diameters to a lug's edge, 1/2″"),
        (CABANE, CABANE.replace("AN4", "AN9"), "strut_pieces.cabane.pin", "not a bolt we know"),
        (CABANE, CABANE.replace("0.058", "0.035"), "strut_pieces.cabane.bush.wall", "it goes over AN4"),
        (CABANE, CABANE.replace("15/16", "1/2"), "ends.0.piece", "shorter than strut cabane_front is wide"),
        (BLOCK, BLOCK.replace("1-1/2", "1/2"), "fittings.cabane.pitch", "three diameters apart"),
        (BLOCK, BLOCK.replace("spruce", "spruse"), "fittings.cabane.block", "not a material"),
        (BLOCK, BLOCK.replace(', block = "spruce"', ""), "ends.1.fitting", "a block between the caps"),
        ('reach = "11/16 in", bolt = "AN4", pitch', 'bolt = "AN4", pitch', "fittings.cabane.reach", "is missing"),
        (
            'fitting = "cabane", piece = "cabane" }], tube',
            'fitting = "cabane_foot", piece = "cabane" }], tube',
            "ends.1.fitting",
            "on a spar",
        ),
        (PLUG, PLUG.replace("1-1/8", "1-1/4"), "ends.0.piece", "goes into a bore"),
        ('lap = "2-1/2 in", bolt = "AN3" }', 'bolt = "AN3" }', "strut_pieces.interplane.lap", "a plug says its lap"),
        (PLUG, " }", "ends.0.piece", "to which no bush is welded"),
        (
            'fitting = "wire_foot", piece = "fork"',
            'fitting = "wire_foot", piece = "eye"',
            "flying_front.ends.0.piece",
            "fork, turnbuckle",
        ),
        (WIRE_FOOT, WIRE_FOOT.replace("0.125", "0.250"), "flying_front.ends.0.fitting", "does not go into a fork"),
        (
            'diameter = "5/32 in"',
            'diameter = "1/4 in"',
            "flying_front.ends.0.piece",
            "no fork is on file for a wire of 1/4″",
        ),
        (ROOT, ROOT.replace("L1", "L9"), "roots.front.node", "names a node"),
        (ROOT, ROOT.replace("11-3/4", "12-1/2"), "roots.front.buttline", "inside the root rib"),
        (ROOT, ROOT.replace("lower", "lwer"), "roots.front.wing", "nearest known is 'lower'"),
        (ROOT, ROOT.replace('spar = "front"', 'spar = "frnt"'), "roots.front.spar", "names a spar"),
        (
            'edge = "5/8 in", pin = "AN5", bush',
            'edge = "1/2 in", pin = "AN5", bush',
            "roots.front.edge",
            "two diameters",
        ),
        (
            'spacer = { material = "4130N", outside = "3/8 in", wall = "0.058 in" } }\nrear',
            'block = "spruce" }\nrear',
            "roots.front.spar",
            "a spacer on each bolt",
        ),
    ],
)
def test_each_fault_is_told_with_its_key(old: str, new: str, key: str, words: str) -> None:
    said = told(old, new)
    assert any(key in line and words in line for line in said.splitlines()), said
