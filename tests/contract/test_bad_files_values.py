"""Faults in single values of a family file: units, finite numbers, bounds, names of keys, materials and marks.

Every case is the family of probe.toml with one thing spoiled; the line wanted is found in the text, not by the reader.
"""

import pytest
from families import PROBE, spoiled, told

CASES = [
    # what, spoiled text, piece on the line, key, words of the message
    ("wrong unit", spoiled('span = "112 in"', 'span = "112 lb"'), 'span = "112 lb"', "tailplane.span", "unit of mass"),
    ("bare number", spoiled('span = "112 in"', "span = 112"), "span = 112", "tailplane.span", "not a bare number"),
    (
        "NaN as text",
        spoiled('span = "112 in"', 'span = "nan"'),
        'span = "nan"',
        "tailplane.span",
        "not a finite number",
    ),
    ("infinity as text", spoiled('span = "112 in"', 'span = "inf in"'), '"inf in"', "tailplane.span", "not a finite"),
    (
        "NaN as number",
        spoiled("hinge = 0.5", "hinge = nan"),
        "hinge = nan",
        "tailplane.hinge",
        "must be a finite number",
    ),
    ("text for a ratio", spoiled("hinge = 0.5", 'hinge = "0.5"'), 'hinge = "0.5"', "tailplane.hinge", "bare number"),
    ("whole ratio too large", spoiled("hinge = 0.5", "hinge = 50"), "hinge = 50", "tailplane.hinge", "less than 1"),
    ("huge number", spoiled('span = "112 in"', 'span = "1e9 km"'), "1e9 km", "tailplane.span", "at most 100 m"),
    (
        "negative chord",
        spoiled('root_chord = "36 in"', 'root_chord = "-36 in"'),
        '"-36 in"',
        "tailplane.root_chord",
        "positive",
    ),
    (
        "negative thickness",
        spoiled('thickness = "4 mm"', 'thickness = "-4 mm"'),
        '"-4 mm"',
        "models.P1.wings.wing.ribs.sheet.thickness",
        "positive",
    ),
    ("negative mass", spoiled('mass = "92 lb"', 'mass = "-92 lb"'), '"-92 lb"', "models.P1.engine.mass", "positive"),
    ("silly angle", spoiled('sweep = "2 deg"', 'sweep = "200 deg"'), "200 deg", "tailplane.sweep", "at most 60 deg"),
    (
        "unknown key",
        spoiled('root_chord = "36 in"', 'root_cord = "36 in"'),
        'root_cord = "36 in"',
        "tailplane.root_cord",
        "'root_chord'",
    ),
    ("unknown table", PROBE + '\n[enigne]\nname = "x"\n', "[enigne]", "enigne", "'engine'"),
    (
        "unknown category",
        spoiled('"ca-basic-ultra-light"', '"ca-basic-ultralight"'),
        '"ca-basic-ultralight"',
        "family.categories.2",
        "'ca-basic-ultra-light'",
    ),
    (
        "unknown material",
        spoiled('material = "okoume-ply"', 'material = "okume-ply"'),
        '"okume-ply"',
        "models.P1.wings.wing.ribs.sheet.material",
        "'okoume-ply'",
    ),
    (
        "unknown mark",
        spoiled('mark = "invented"', 'mark = "inventd"'),
        '"inventd"',
        "items.seat_and_harness.mark",
        "'invented'",
    ),
    (
        "strokes as text",
        spoiled("strokes = 2", 'strokes = "2"'),
        'strokes = "2"',
        "models.P1.engine.strokes",
        "whole number",
    ),
    (
        "curve point of a wrong unit",
        spoiled('power = "39 hp"', 'power = "39 lb"'),
        '"39 lb"',
        "models.P1.engine.curve.2.power",
        "unit of mass",
    ),
    (
        "no such cable",
        spoiled('construction = "1x19", tension = "200 lbf"', 'construction = "1x9", tension = "200 lbf"'),
        'construction = "1x9"',
        "models.P2.wires.flying.construction",
        '"1x19" or "7x7" or "7x19"',
    ),
    ("no such kind", spoiled('kind = "pilot"', 'kind = "pilots"'), '"pilots"', "loads.pilot.kind", '"pilot" or "fuel"'),
    (
        "flag in quotes",
        spoiled("open_cockpit = true", 'open_cockpit = "true"'),
        'open_cockpit = "true"',
        "fuselage.open_cockpit",
        "true or false",
    ),
    (
        "table for a value",
        spoiled('span = "112 in"', "span = { a = 1 }"),
        "span = { a",
        "tailplane.span",
        "text with a unit",
    ),
    (
        "value for a table",
        spoiled(
            PROBE[PROBE.index("[models.P1.propeller]") : PROBE.index("\n\n[models.P1.allowances]")],
            '[models.P1.wires]\nflying = "cable"',
        ),
        'flying = "cable"',
        "models.P1.wires.flying",
        "table of keys",
    ),
    (
        "name with a blank",
        spoiled("seat_and_harness = {", '"seat & harness" = {'),
        '"seat & harness"',
        "items.seat & harness",
        "letters, digits",
    ),
    (
        "takes away what is not there",
        spoiled('title = "one wing of wood"', 'title = "x"\nwithout = ["items.batery"]'),
        "items.batery",
        "models.P1.without.0",
        "'battery'",
    ),
    (
        "date for a length",
        spoiled('span = "112 in"', "span = 1918-11-11"),
        "1918-11-11",
        "tailplane.span",
        "text with a unit",
    ),
]


@pytest.mark.parametrize(("text", "piece", "key", "says"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_each_fault_has_its_line_key_and_reason(text: str, piece: str, key: str, says: str) -> None:
    told(text, piece, key, says)
