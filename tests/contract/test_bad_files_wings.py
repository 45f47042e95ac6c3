"""Faults in the wings of a family file: sections, panels, spars, skins, ribs, ailerons.

Every case is the family of probe.toml with one thing spoiled; the line wanted is found in the text, not by the reader.
"""

import re
from math import cos, pi, sin

import pytest
from families import PROBE, problems, spoiled, told


def circle(n: int, opening: float = 0.0) -> str:
    """A table of a round section; opened it does not close at the tail, opened the other way it crosses itself."""
    angle = [2 * pi * i / (n - 1) for i in range(n)]
    points = [((1 + cos(a)) / 2, 0.1 * sin(a) + opening * (0.5 - i / (n - 1))) for i, a in enumerate(angle)]
    return "points = [" + ", ".join(f"[{x:.6f}, {y:.6f}]" for x, y in points) + "]"


METAL = "[models.P2.wings.upper.skins]"
CASES = [
    # what, spoiled text, piece on the line, key, words of the message
    (
        "tip not beyond root",
        spoiled('tip_buttline = "24 in"', 'tip_buttline = "0 in"'),
        'tip_buttline = "0 in"',
        "models.P1.wings.wing.panels.centre.tip_buttline",
        "beyond root_buttline",
    ),
    (
        "panels apart",
        spoiled('root_buttline = "24 in"', 'root_buttline = "25 in"'),
        'root_buttline = "25 in"',
        "models.P1.wings.wing.panels.outer.root_buttline",
        "where panel centre ends",
    ),
    (
        "wing begins elsewhere",
        spoiled('["28 in", "12 in", "-14 in"]', '["28 in", "10 in", "-14 in"]'),
        '["28 in", "10 in", "-14 in"]',
        "models.P2.wings.lower.leading_edge.1",
        "buttline is 12″",
    ),
    (
        "section not said",
        spoiled('section = "tail"\nincidence', "incidence"),
        "[tailplane]",
        "tailplane.section",
        "missing",
    ),
    (
        "panel without section",
        spoiled(', tip_section = "lifting" }', " }"),
        'tip_chord = "56 in", root_section = "lifting" }',
        "models.P1.wings.wing.panels.centre.tip_section",
        "missing",
    ),
    ("section not defined", spoiled('section = "tail"', 'section = "tale"'), '"tale"', "tailplane.section", "'tail'"),
    (
        "section twice said",
        spoiled('naca = "4412"', 'naca = "4412"\n' + circle(41)),
        "[sections.lifting]",
        "sections.lifting",
        "both naca and points",
    ),
    (
        "section of nothing",
        spoiled('naca = "4412"\n', ""),
        "[sections.lifting]",
        "sections.lifting",
        "needs naca or points",
    ),
    ("NACA six-series", spoiled('"4412"', '"64212"'), '"64212"', "sections.lifting.naca", "families we make"),
    ("NACA of three digits", spoiled('"4412"', '"441"'), '"441"', "sections.lifting.naca", "families we make"),
    ("NACA with camber nowhere", spoiled('"4412"', '"4012"'), '"4012"', "sections.lifting.naca", "families we make"),
    ("NACA of letters", spoiled('"4412"', '"four"'), '"four"', "sections.lifting.naca", "families we make"),
    ("section too coarse", spoiled('naca = "4412"', circle(15)), "points = ", "sections.lifting.points", "too coarse"),
    ("section open", spoiled('naca = "4412"', circle(41, 0.05)), "points = ", "sections.lifting.points", "is open"),
    (
        "section crossed",
        spoiled('naca = "4412"', circle(41, -0.019)),
        "points = ",
        "sections.lifting.points",
        "is crossed",
    ),
    (
        "section upside down",
        spoiled('naca = "4412"', circle(41).replace(", 0.", ", @").replace(", -0.", ", 0.").replace(", @", ", -0.")),
        "points = ",
        "sections.lifting.points",
        "begins with the lower side",
    ),
    (
        "aileron off the wing",
        spoiled('outboard = "168 in"', 'outboard = "180 in"'),
        '"180 in"',
        "models.P1.wings.wing.aileron.outboard",
        "on the wing",
    ),
    (
        "aileron inside out",
        spoiled('inboard = "102 in"', 'inboard = "170 in"'),
        'outboard = "168 in"',
        "models.P1.wings.wing.aileron.outboard",
        "beyond inboard",
    ),
    (
        "spar outside the chord",
        spoiled("front = { at = 0.2", "front = { at = 1.2"),
        "at = 1.2",
        "models.P1.wings.wing.spars.front.at",
        "less than 1",
    ),
    (
        "two spars in one place",
        spoiled("rear = { at = 0.66", "rear = { at = 0.2"),
        "rear = { at = 0.2",
        "models.P1.wings.wing.spars.rear.at",
        "where spar front",
    ),
    (
        "skin backwards",
        spoiled("nose = { start = 0.0, end = 0.2", "nose = { start = 0.3, end = 0.2"),
        "start = 0.3",
        "models.P1.wings.wing.skins.nose.end",
        "behind start",
    ),
    (
        "fabric without weight",
        spoiled(', areal = "0.07 lb/ft2" }', " }"),
        'material = "fabric" }',
        "models.P1.wings.wing.skins.cover",
        "weight is unknown",
    ),
    (
        "rivets in ply",
        spoiled('thickness = "1.5 mm" }', 'thickness = "1.5 mm", fastener = "MS20470AD3", pitch = "1 in" }'),
        'fastener = "MS20470AD3"',
        "models.P1.wings.wing.skins.nose.fastener",
        "for a skin of metal",
    ),
    (
        "a skin's rivet nobody knows",
        spoiled('thickness = "0.020 in" }', 'thickness = "0.020 in", fastener = "MS20470AD9", pitch = "1 in" }', METAL),
        'fastener = "MS20470AD9"',
        "models.P2.wings.upper.skins.metal.fastener",
        "not a rivet we know",
    ),
    (
        "a skin's rivets on each other",
        spoiled(
            'thickness = "0.020 in" }', 'thickness = "0.020 in", fastener = "MS20470AD3", pitch = "0.2 in" }', METAL
        ),
        'pitch = "0.2 in"',
        "models.P2.wings.upper.skins.metal.pitch",
        "three diameters",
    ),
    (
        "a pitch of no rivets",
        spoiled('thickness = "0.020 in" }', 'thickness = "0.020 in", pitch = "0.9 in" }', METAL),
        'pitch = "0.9 in"',
        "models.P2.wings.upper.skins.metal.pitch",
        "rivets that are not said",
    ),
    (
        "extra rib off the wing",
        spoiled('extra = ["96 in"]', 'extra = ["96 in",\n  "200 in"]'),
        '"200 in"',
        "models.P1.wings.wing.ribs.extra.1",
        "on the wing",
    ),
]


@pytest.mark.parametrize(("text", "piece", "key", "says"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_each_fault_has_its_line_key_and_reason(text: str, piece: str, key: str, says: str) -> None:
    told(text, piece, key, says)


def test_no_wing_and_four_wings() -> None:
    none = PROBE[: PROBE.index("[models.P2.wings.upper]")] + PROBE[PROBE.index("[models.P2.struts]") :]
    assert any(p.key == "models.P2.wings" and "missing" in p.wanted for p in problems(none))
    wing = PROBE[PROBE.index("[models.P3.wings.lower]") : PROBE.index("[models.P3.struts]")]
    four = PROBE.replace("[models.P3.struts]", wing.replace("wings.lower", "wings.fourth") + "\n[models.P3.struts]")
    (found,) = problems(four)
    assert (found.key, found.read) == ("models.P3.wings", "4 wings")


def test_a_wing_without_panels() -> None:
    text = re.sub(r"\[models\.P1\.wings\.wing\.panels\]\n.*\n.*\n", "", PROBE)
    found = problems(text)
    assert any(p.key == "models.P1.wings.wing" and "no panel" in p.wanted for p in found)
