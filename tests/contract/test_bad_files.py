"""Bad family files: each fault is named with file, line, key and reason, all together, and never a traceback.

Every case is the demo family with one thing spoiled, so the line wanted is found in the text and not by the reader.
"""

import os
import random
import re
from pathlib import Path

import pytest

from sparwright.base.problem import FileProblems, Problem
from sparwright.family.reader import load, read

HERE = Path(__file__).parents[2]
GOOD = (HERE / "examples/whinchat/whinchat.toml").read_text("utf-8")


def problems(text: str | bytes) -> tuple[Problem, ...]:
    raw = text.encode("utf-8") if isinstance(text, str) else text
    with pytest.raises(FileProblems) as caught:
        read(raw, "f.toml")
    return caught.value.problems


def line_with(text: str, piece: str) -> int:
    assert text.count(piece) == 1, f"{piece!r} is there {text.count(piece)} times"
    return text[: text.index(piece)].count("\n") + 1


def spoil(old: str, new: str, after: str = "") -> str:
    """The good text with the first `old` after `after` replaced."""
    start = GOOD.index(after)
    at = GOOD.index(old, start)
    return GOOD[:at] + new + GOOD[at + len(old) :]


def circle(n: int, opening: float = 0.0) -> str:
    from math import cos, pi, sin

    angle = [2 * pi * i / (n - 1) for i in range(n)]
    points = [((1 + cos(a)) / 2, 0.1 * sin(a) + opening * (0.5 - i / (n - 1))) for i, a in enumerate(angle)]
    return "points = [" + ", ".join(f"[{x:.6f}, {y:.6f}]" for x, y in points) + "]"


UPPER = "[models.W2.wings.upper"
CASES = [
    # what, spoiled text, piece on the line, key, words of the message
    ("wrong unit", spoil('span = "112 in"', 'span = "112 lb"'), 'span = "112 lb"', "tailplane.span", "unit of mass"),
    ("bare number", spoil('span = "112 in"', "span = 112"), "span = 112", "tailplane.span", "not a bare number"),
    ("NaN as text", spoil('span = "112 in"', 'span = "nan"'), 'span = "nan"', "tailplane.span", "not a finite number"),
    ("infinity as text", spoil('span = "112 in"', 'span = "inf in"'), '"inf in"', "tailplane.span", "not a finite"),
    ("NaN as number", spoil("hinge = 0.5", "hinge = nan"), "hinge = nan", "tailplane.hinge", "must be a finite number"),
    ("text for a ratio", spoil("hinge = 0.5", 'hinge = "0.5"'), 'hinge = "0.5"', "tailplane.hinge", "bare number"),
    ("whole ratio too large", spoil("hinge = 0.5", "hinge = 50"), "hinge = 50", "tailplane.hinge", "less than 1"),
    ("huge number", spoil('span = "112 in"', 'span = "1e9 km"'), "1e9 km", "tailplane.span", "at most 100 m"),
    (
        "negative chord",
        spoil('root_chord = "36 in"', 'root_chord = "-36 in"'),
        '"-36 in"',
        "tailplane.root_chord",
        "positive",
    ),
    (
        "negative thickness",
        spoil('thickness = "4 mm"', 'thickness = "-4 mm"'),
        '"-4 mm"',
        "models.W1.wings.wing.ribs.sheet.thickness",
        "positive",
    ),
    ("negative mass", spoil('mass = "92 lb"', 'mass = "-92 lb"'), '"-92 lb"', "models.W1.engine.mass", "positive"),
    ("silly angle", spoil('sweep = "2 deg"', 'sweep = "200 deg"'), "200 deg", "tailplane.sweep", "at most 60 deg"),
    (
        "unknown key",
        spoil('root_chord = "36 in"', 'root_cord = "36 in"'),
        'root_cord = "36 in"',
        "tailplane.root_cord",
        "'root_chord'",
    ),
    ("unknown table", GOOD + '\n[enigne]\nname = "x"\n', "[enigne]", "enigne", "'engine'"),
    (
        "unknown category",
        spoil('"ca-basic-ultra-light"', '"ca-basic-ultralight"'),
        '"ca-basic-ultralight"',
        "family.categories.2",
        "'ca-basic-ultra-light'",
    ),
    (
        "unknown material",
        spoil('material = "okoume-ply"', 'material = "okume-ply"'),
        '"okume-ply"',
        "models.W1.wings.wing.ribs.sheet.material",
        "'okoume-ply'",
    ),
    (
        "unknown mark",
        spoil('mark = "invented"', 'mark = "inventd"'),
        '"inventd"',
        "items.seat_and_harness.mark",
        "'invented'",
    ),
    (
        "tip not beyond root",
        spoil('tip_buttline = "24 in"', 'tip_buttline = "0 in"'),
        'tip_buttline = "0 in"',
        "models.W1.wings.wing.panels.centre.tip_buttline",
        "beyond root_buttline",
    ),
    (
        "panels apart",
        spoil('root_buttline = "24 in"', 'root_buttline = "25 in"'),
        'root_buttline = "25 in"',
        "models.W1.wings.wing.panels.outer.root_buttline",
        "where panel centre ends",
    ),
    (
        "wing begins elsewhere",
        spoil('["28 in", "12 in", "-14 in"]', '["28 in", "10 in", "-14 in"]'),
        '["28 in", "10 in", "-14 in"]',
        "models.W2.wings.lower.leading_edge.1",
        "buttline is 12″",
    ),
    (
        "section not said",
        spoil('section = "tail"\nincidence', "incidence"),
        "[tailplane]",
        "tailplane.section",
        "missing",
    ),
    (
        "panel without section",
        spoil(', tip_section = "lifting" }', " }"),
        'tip_chord = "56 in", root_section = "lifting" }',
        "models.W1.wings.wing.panels.centre.tip_section",
        "missing",
    ),
    ("section not defined", spoil('section = "tail"', 'section = "tale"'), '"tale"', "tailplane.section", "'tail'"),
    (
        "section twice said",
        spoil('naca = "4412"', 'naca = "4412"\n' + circle(41)),
        "[sections.lifting]",
        "sections.lifting",
        "both naca and points",
    ),
    (
        "section of nothing",
        spoil('naca = "4412"\n', ""),
        "[sections.lifting]",
        "sections.lifting",
        "needs naca or points",
    ),
    ("NACA six-series", spoil('"4412"', '"64212"'), '"64212"', "sections.lifting.naca", "families we make"),
    ("NACA of three digits", spoil('"4412"', '"441"'), '"441"', "sections.lifting.naca", "families we make"),
    ("NACA with camber nowhere", spoil('"4412"', '"4012"'), '"4012"', "sections.lifting.naca", "families we make"),
    ("NACA of letters", spoil('"4412"', '"four"'), '"four"', "sections.lifting.naca", "families we make"),
    ("section too coarse", spoil('naca = "4412"', circle(15)), "points = ", "sections.lifting.points", "too coarse"),
    ("section open", spoil('naca = "4412"', circle(41, 0.05)), "points = ", "sections.lifting.points", "is open"),
    (
        "section crossed",
        spoil('naca = "4412"', circle(41, -0.019).replace("-0.0", "-0.0")),
        "points = ",
        "sections.lifting.points",
        "is crossed",
    ),
    (
        "section upside down",
        spoil('naca = "4412"', circle(41).replace(", 0.", ", @").replace(", -0.", ", 0.").replace(", @", ", -0.")),
        "points = ",
        "sections.lifting.points",
        "begins with the lower side",
    ),
    (
        "tube to no node",
        spoil('run = ["A2", "AX"]', 'run = ["A2", "AXE"]'),
        '"AXE"',
        "fuselage.tubes.gear_front.run.1",
        "'AX'",
    ),
    (
        "run in a list to no node",
        spoil('["B2", "C1"]', '["B2", "Q1"]'),
        '"Q1"',
        "fuselage.tubes.side_diagonals_front.run.1.1",
        "names a node",
    ),
    (
        "side of a centre node",
        spoil('run = ["S1", "S2"]', 'run = ["S1R", "S2"]'),
        '"S1R"',
        "fuselage.tubes.sternpost.run.0",
        "'S1'",
    ),
    (
        "half a pair",
        spoil('["A2R", "B2L"]', '["A2R", "B2"]'),
        "floor_diagonals",
        "fuselage.tubes.floor_diagonals",
        "R or L",
    ),
    (
        "run of one node",
        spoil('run = ["S1", "S2"]', 'run = ["S1"]'),
        'run = ["S1"]',
        "fuselage.tubes.sternpost.run",
        "two or more",
    ),
    (
        "tube to itself",
        spoil('run = ["A2", "AX"]', 'run = ["A2", "A2"]'),
        "gear_front = ",
        "fuselage.tubes.gear_front",
        "to itself",
    ),
    (
        "tube built twice",
        spoil('run = ["A2", "AX"]', 'run = ["B2", "AX"]'),
        "gear_rear = ",
        "fuselage.tubes.gear_rear",
        "already built",
    ),
    (
        "wall too thick",
        spoil('outside = "1 in", wall = "0.058 in"', 'outside = "1 in", wall = "0.5 in"'),
        'wall = "0.5 in"',
        "fuselage.tubes.gear_front.tube.wall",
        "half the outside",
    ),
    (
        "node on the left",
        spoil('A1 = ["0 in", "11 in"', 'A1 = ["0 in", "-11 in"'),
        'A1 = ["0 in", "-11 in"',
        "fuselage.nodes.A1",
        "right one",
    ),
    (
        "two nodes in one place",
        spoil('B1 = ["24 in", "12 in", "11 in"]', 'B1 = ["0 in", "11 in", "9 in"]'),
        'B1 = ["0 in", "11 in", "9 in"]',
        "fuselage.nodes.B1",
        "place of node A1",
    ),
    (
        "place of two numbers",
        spoil('S2 = ["172 in", "0 in", "-3 in"]', 'S2 = ["172 in", "0 in"]'),
        'S2 = ["172 in", "0 in"]',
        "fuselage.nodes.S2",
        "three lengths",
    ),
    (
        "strut to no node",
        spoil('{ node = "B1" }', '{ node = "B9" }'),
        '"B9"',
        "models.W1.struts.cabane_front.ends.0.node",
        "names a node",
    ),
    (
        "strut to no wing",
        spoil('wing = "wing", spar', 'wing = "wings", spar'),
        'wing = "wings"',
        "models.W1.struts.cabane_front.ends.1.wing",
        "'wing'",
    ),
    (
        "strut to no spar",
        spoil('spar = "front", buttline', 'spar = "frnt", buttline'),
        'spar = "frnt"',
        "models.W1.struts.cabane_front.ends.1.spar",
        "'front'",
    ),
    (
        "strut off the wing",
        spoil('spar = "front", buttline = "96 in"', 'spar = "front", buttline = "960 in"'),
        '"960 in"',
        "models.W1.struts.lift_front.ends.1.buttline",
        "must lie on wing",
    ),
    (
        "strut with one end",
        spoil('ends = [{ node = "B1" }, ', "ends = ["),
        "cabane_front = { ends = [{ wing",
        "models.W1.struts.cabane_front.ends",
        "list of 2",
    ),
    (
        "end of both kinds",
        spoil('{ node = "B1" }', '{ node = "B1", wing = "wing" }'),
        '{ node = "B1", wing',
        "models.W1.struts.cabane_front.ends.0",
        "either a node, or a wing",
    ),
    (
        "streamline without width",
        spoil(', faired_width = "1 in" }', " }"),
        'wall = "0.035 in" }, fairing = "streamline" }',
        "models.W1.struts.cabane_front",
        "faired_width",
    ),
    (
        "aileron off the wing",
        spoil('outboard = "168 in"', 'outboard = "180 in"'),
        '"180 in"',
        "models.W1.wings.wing.aileron.outboard",
        "on the wing",
    ),
    (
        "aileron inside out",
        spoil('inboard = "102 in"', 'inboard = "170 in"'),
        'outboard = "168 in"',
        "models.W1.wings.wing.aileron.outboard",
        "beyond inboard",
    ),
    (
        "spar outside the chord",
        spoil("front = { at = 0.2", "front = { at = 1.2"),
        "at = 1.2",
        "models.W1.wings.wing.spars.front.at",
        "less than 1",
    ),
    (
        "two spars in one place",
        spoil("rear = { at = 0.66", "rear = { at = 0.2"),
        "rear = { at = 0.2",
        "models.W1.wings.wing.spars.rear.at",
        "where spar front",
    ),
    (
        "skin backwards",
        spoil("nose = { start = 0.0, end = 0.2", "nose = { start = 0.3, end = 0.2"),
        "start = 0.3",
        "models.W1.wings.wing.skins.nose.end",
        "behind start",
    ),
    (
        "fabric without weight",
        spoil(', areal = "0.07 lb/ft2" }', " }"),
        'material = "fabric" }',
        "models.W1.wings.wing.skins.cover",
        "weight is unknown",
    ),
    (
        "extra rib off the wing",
        spoil('extra = ["96 in"]', 'extra = ["96 in",\n  "200 in"]'),
        '"200 in"',
        "models.W1.wings.wing.ribs.extra.1",
        "on the wing",
    ),
    ("strokes of three", spoil("strokes = 2", "strokes = 3"), "strokes = 3", "models.W1.engine.strokes", "2 or 4"),
    (
        "strokes as text",
        spoil("strokes = 2", 'strokes = "2"'),
        'strokes = "2"',
        "models.W1.engine.strokes",
        "whole number",
    ),
    (
        "curve not rising",
        spoil('speed = "5500 rpm"', 'speed = "4500 rpm"').replace('"27 hp"', '"27.0 hp"'),
        '"39 hp"',
        "models.W1.engine.curve.2.speed",
        "must rise",
    ),
    (
        "curve point of a wrong unit",
        spoil('power = "39 hp"', 'power = "39 lb"'),
        '"39 lb"',
        "models.W1.engine.curve.2.power",
        "unit of mass",
    ),
    (
        "positive negative factor",
        spoil("n_negative = -1.5", "n_negative = 1.5"),
        "n_negative = 1.5",
        "limits.n_negative",
        "negative",
    ),
    (
        "balance limits crossed",
        spoil("forward_cg = 0.18", "forward_cg = 0.38"),
        "forward_cg = 0.38",
        "limits.forward_cg",
        "less than aft_cg",
    ),
    (
        "allowance outside its band",
        spoil('cowling = { mass = "11 lb"', 'cowling = { mass = "16 lb"'),
        'cowling = { mass = "16 lb"',
        "allowances.cowling.mass",
        "between low and high",
    ),
    ("load upside down", spoil('least = "125 lb"', 'least = "325 lb"'), '"325 lb"', "loads.pilot.least", "above most"),
    ("nobody flies", spoil('kind = "pilot"', 'kind = "oil"'), "[models.W1]\n", "loads", "kind pilot"),
    ("no such kind", spoil('kind = "pilot"', 'kind = "pilots"'), '"pilots"', "loads.pilot.kind", '"pilot" or "fuel"'),
    (
        "body backwards",
        spoil('seat = { station = "70 in"', 'seat = { station = "30 in"'),
        'station = "30 in"',
        "fuselage.body.seat.station",
        "rise",
    ),
    (
        "body inside out",
        spoil('bottom = "-14 in" }', 'bottom = "14 in" }'),
        'bottom = "14 in" }',
        "fuselage.body.cowl.top",
        "above bottom",
    ),
    (
        "flag in quotes",
        spoil("open_cockpit = true", 'open_cockpit = "true"'),
        'open_cockpit = "true"',
        "fuselage.open_cockpit",
        "true or false",
    ),
    (
        "table for a value",
        spoil('span = "112 in"', "span = { a = 1 }"),
        "span = { a",
        "tailplane.span",
        "text with a unit",
    ),
    (
        "value for a table",
        spoil(
            GOOD[GOOD.index("[models.W1.propeller]") : GOOD.index("\n\n[models.W1.allowances]")],
            '[models.W1.wires]\nflying = "cable"',
        ),
        'flying = "cable"',
        "models.W1.wires.flying",
        "table of keys",
    ),
    (
        "name with a blank",
        spoil("seat_and_harness = {", '"seat & harness" = {'),
        '"seat & harness"',
        "items.seat & harness",
        "letters, digits",
    ),
    (
        "takes away what is not there",
        spoil('title = "one parasol wing, wood"', 'title = "x"\nwithout = ["items.batery"]'),
        "items.batery",
        "models.W1.without.0",
        "'battery'",
    ),
    (
        "date for a length",
        spoil('span = "112 in"', "span = 1918-11-11"),
        "1918-11-11",
        "tailplane.span",
        "text with a unit",
    ),
]


@pytest.mark.parametrize(("text", "piece", "key", "says"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_each_fault_has_its_line_key_and_reason(text: str, piece: str, key: str, says: str) -> None:
    found = problems(text)
    mine = [p for p in found if p.key == key]
    assert mine, [str(p) for p in found]
    if piece != "[models.W1]\n":
        assert mine[0].line == line_with(text, piece), str(mine[0])
    assert says in mine[0].wanted, str(mine[0])
    assert mine[0].file == "f.toml"
    assert len({p.key for p in found}) <= 6, [str(p) for p in found]  # one fault does not drown in others


@pytest.mark.parametrize("table", ["engine", "propeller"])
def test_a_model_without_engine_or_propeller(table: str) -> None:
    text = re.sub(rf"\[models\.W3\.{table}\]\n(?:[^\[\n].*\n|\]\n)*", "", GOOD)
    (found,) = problems(text)
    assert (found.key, found.line) == (f"models.W3.{table}", line_with(text, "[models.W3]"))
    assert "missing" in found.wanted


def test_a_key_missing_from_a_model_names_the_model() -> None:
    text = spoil('max_mass = "850 lb"', "")
    (found,) = problems(text)
    assert (found.key, found.line) == ("models.W1.limits.max_mass", line_with(text, "[models.W1.limits]"))
    assert 'max_mass = "820 lb"' in found.example


def test_no_wing_and_four_wings() -> None:
    none = GOOD[: GOOD.index("[models.W2.wings.upper]")] + GOOD[GOOD.index("[models.W2.struts]") :]
    assert any(p.key == "models.W2.wings" and "missing" in p.wanted for p in problems(none))
    wing = GOOD[GOOD.index("[models.W3.wings.lower]") : GOOD.index("[models.W3.struts]")]
    four = GOOD.replace("[models.W3.struts]", wing.replace("wings.lower", "wings.fourth") + "\n[models.W3.struts]")
    (found,) = problems(four)
    assert (found.key, found.read) == ("models.W3.wings", "4 wings")


def test_a_wing_without_panels() -> None:
    text = re.sub(r"\[models\.W1\.wings\.wing\.panels\]\n.*\n.*\n", "", GOOD)
    found = problems(text)
    assert any(p.key == "models.W1.wings.wing" and "no panel" in p.wanted for p in found)


def test_a_fault_three_models_inherit_is_told_once() -> None:
    assert len(problems(spoil('span = "112 in"', 'span = "112 lb"'))) == 1


def test_all_problems_come_together_in_the_order_of_the_file() -> None:
    text = spoil('span = "112 in"', "span = 112").replace("n_negative = -1.5", "n_negative = 1.5")
    text = text.replace('mass = "92 lb"', 'mass = "92 mph"').replace("hinge = 0.74", "hinge = 7.4")
    found = problems(text)
    assert [p.line for p in found] == sorted(p.line for p in found)
    assert len(found) == 3 + text.count("hinge = 7.4")


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ("", 1, "empty"),
        ("\n\n# only a remark\n", 1, "empty"),
        ("[family]\nname = 'a'\nname = 'b'\n", 3, "written twice"),
        ("[family]\n\n[family]\n", 3, "opened twice"),
        ('[family]\nname = "a\n', 2, "over the end of the line"),
        ("[family]\nname = Wren\n", 2, "text goes in quotes"),
        ("[family]\nname\n", 2, "equals sign"),
        ("[family]\nx = [1, 2\n", 3, ""),
        ("[family]\nx = " + "[" * 5000, 1, "nested too deep"),
        ("[family]\nx = " + "9" * 5000 + "\n", 1, ""),
        ("just words\n", 1, ""),
    ],
)
def test_broken_toml(text: str, line: int, says: str) -> None:
    (found,) = problems(text)
    assert says in found.wanted
    assert found.line == line or "nested" in found.wanted or "digits" in found.wanted
    assert found.wanted


@pytest.mark.parametrize(
    "raw", [b"\x89PNG\r\n\x1a\n\x00\x00", b"\xff\xfe[\x00", b"[family]\nname = '\xe9'\n", b"\x00" * 200]
)
def test_binary_rubbish(raw: bytes) -> None:
    (found,) = problems(raw)
    assert found.wanted


def test_a_file_that_is_not_there_a_folder_and_one_that_may_not_be_read(tmp_path: Path) -> None:
    for path, says in ((tmp_path / "none.toml", "no such file"), (tmp_path, "is a folder")):
        with pytest.raises(FileProblems, match=says):
            load(path)
    with pytest.raises(FileProblems, match="cannot be read"):
        load("a\0b")
    locked = tmp_path / "locked.toml"
    locked.write_text(GOOD, "utf-8")
    locked.chmod(0)
    if not os.access(locked, os.R_OK):  # root reads everything
        with pytest.raises(FileProblems, match="cannot be read"):
            load(locked)


def test_a_file_with_no_models_and_one_with_no_family() -> None:
    assert any(p.key == "models" for p in problems(GOOD[: GOOD.index("# ====")]))
    assert any(p.key == "family" for p in problems(GOOD.replace("[family]", "[famly]")))
    assert any("table" in p.wanted for p in problems("family = 1\nmodels = 2\nwings = 3\n"))


@pytest.mark.parametrize("seed", range(60))
def test_a_line_lost_or_garbled_never_gives_a_traceback(seed: int) -> None:
    rng = random.Random(seed)
    lines = GOOD.split("\n")
    at = rng.randrange(len(lines))
    garbled = [
        "",
        lines[at][: rng.randrange(len(lines[at]) + 1)],
        lines[at][::-1],
        "x = 1",
        "[a.b]",
        "]",
        lines[rng.randrange(len(lines))],
    ]
    lines[at] = rng.choice(garbled)
    try:
        read("\n".join(lines).encode("utf-8"), "f.toml")
    except FileProblems as faults:
        assert faults.problems
        assert all(p.line <= len(lines) + 1 and p.wanted for p in faults.problems)
