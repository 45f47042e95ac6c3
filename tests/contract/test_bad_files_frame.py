"""Faults in the frame of a family file: nodes, tubes, body, struts.

Every case is the family of probe.toml with one thing spoiled; the line wanted is found in the text, not by the reader.
"""

import pytest
from families import problems, spoiled, told

CASES = [
    # what, spoiled text, piece on the line, key, words of the message
    (
        "tube to no node",
        spoiled('run = ["A2", "AX"]', 'run = ["A2", "AXE"]'),
        '"AXE"',
        "fuselage.tubes.gear_front.run.1",
        "'AX'",
    ),
    (
        "run in a list to no node",
        spoiled('["B2", "C1"]', '["B2", "Q1"]'),
        '"Q1"',
        "fuselage.tubes.side_diagonals.run.1.1",
        "names a node",
    ),
    (
        "side of a centre node",
        spoiled('run = ["S1", "S2"]', 'run = ["S1R", "S2"]'),
        '"S1R"',
        "fuselage.tubes.sternpost.run.0",
        "'S1'",
    ),
    (
        "half a pair",
        spoiled('["A2R", "B2L"]', '["A2R", "B2"]'),
        "floor_diagonals",
        "fuselage.tubes.floor_diagonals",
        "R or L",
    ),
    (
        "run of one node",
        spoiled('run = ["S1", "S2"]', 'run = ["S1"]'),
        'run = ["S1"]',
        "fuselage.tubes.sternpost.run",
        "two or more",
    ),
    (
        "tube to itself",
        spoiled('run = ["A2", "AX"]', 'run = ["A2", "A2"]'),
        "gear_front = ",
        "fuselage.tubes.gear_front",
        "to itself",
    ),
    (
        "tube built twice",
        spoiled('run = ["A2", "AX"]', 'run = ["B2", "AX"]'),
        "gear_rear = ",
        "fuselage.tubes.gear_rear",
        "already built",
    ),
    (
        "wall too thick",
        spoiled('outside = "1 in", wall = "0.058 in"', 'outside = "1 in", wall = "0.5 in"'),
        'wall = "0.5 in"',
        "fuselage.tubes.gear_front.tube.wall",
        "half the outside",
    ),
    (
        "node on the left",
        spoiled('A1 = ["0 in", "11 in"', 'A1 = ["0 in", "-11 in"'),
        'A1 = ["0 in", "-11 in"',
        "fuselage.nodes.A1",
        "right one",
    ),
    (
        "two nodes in one place",
        spoiled('B1 = ["24 in", "12 in", "11 in"]', 'B1 = ["0 in", "11 in", "9 in"]'),
        'B1 = ["0 in", "11 in", "9 in"]',
        "fuselage.nodes.B1",
        "place of node A1",
    ),
    (
        "place of two numbers",
        spoiled('S2 = ["172 in", "0 in", "-3 in"]', 'S2 = ["172 in", "0 in"]'),
        'S2 = ["172 in", "0 in"]',
        "fuselage.nodes.S2",
        "three lengths",
    ),
    (
        "strut to no node",
        spoiled('{ node = "B1" }', '{ node = "B9" }'),
        '"B9"',
        "models.P1.struts.cabane_front.ends.0.node",
        "names a node",
    ),
    (
        "strut to no wing",
        spoiled('wing = "wing", spar', 'wing = "wings", spar'),
        'wing = "wings"',
        "models.P1.struts.cabane_front.ends.1.wing",
        "'wing'",
    ),
    (
        "strut to no spar",
        spoiled('spar = "front", buttline', 'spar = "frnt", buttline'),
        'spar = "frnt"',
        "models.P1.struts.cabane_front.ends.1.spar",
        "'front'",
    ),
    (
        "strut off the wing",
        spoiled('spar = "front", buttline = "96 in"', 'spar = "front", buttline = "960 in"'),
        '"960 in"',
        "models.P1.struts.lift_front.ends.1.buttline",
        "must lie on wing",
    ),
    (
        "strut with one end",
        spoiled('ends = [{ node = "B1" }, ', "ends = ["),
        "cabane_front = { ends = [{ wing",
        "models.P1.struts.cabane_front.ends",
        "list of 2",
    ),
    (
        "end of both kinds",
        spoiled('{ node = "B1" }', '{ node = "B1", wing = "wing" }'),
        '{ node = "B1", wing',
        "models.P1.struts.cabane_front.ends.0",
        "either a node, or a wing",
    ),
    (
        "streamline without width",
        spoiled(', faired_width = "1 in" }', " }"),
        'wall = "0.035 in" }, fairing = "streamline" }',
        "models.P1.struts.cabane_front",
        "faired_width",
    ),
    (
        "body backwards",
        spoiled('seat = { station = "70 in"', 'seat = { station = "30 in"'),
        'station = "30 in"',
        "fuselage.body.seat.station",
        "rise",
    ),
    (
        "body inside out",
        spoiled('bottom = "-14 in" }', 'bottom = "14 in" }'),
        'bottom = "14 in" }',
        "fuselage.body.cowl.top",
        "above bottom",
    ),
]


@pytest.mark.parametrize(("text", "piece", "key", "says"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_each_fault_has_its_line_key_and_reason(text: str, piece: str, key: str, says: str) -> None:
    told(text, piece, key, says)


@pytest.mark.parametrize("run", ['["B2", "Q1"]', '["B2R", "Q1"]', '["Q2", "Q1"]'])
def test_a_run_to_no_node_is_told_by_its_nodes_alone(run: str) -> None:
    found = problems(spoiled('["B2", "C1"]', run))
    assert len(found) == run.count("Q")
    assert all("names a node" in p.wanted for p in found)
