"""The probe family with tail surfaces as frames of tube, for tests of those alone. Its sizes are not the demo's."""

from __future__ import annotations

from functools import cache

from families import PROBE, reading

from sparwright.family.model import Model
from sparwright.parts.frame import frame_tubes, weld_clusters
from sparwright.parts.part import Assembly
from sparwright.parts.tail import tail_joints, tail_parts


def _tube(outside: str, wall: str, material: str = "6061-T6") -> str:
    return f'{{ material = "{material}", outside = "{outside} in", wall = "{wall} in" }}'


def _frame(name: str, outside: str, join: str, fixed: str, movable: str, hinges: str, horn: str, attach: str) -> str:
    return f"""
[{name}.frame]
gap = "1/2 in"
covering = "0.06 lb/ft2"
covering_band = 0.2
tab = {{ material = "4130N", thickness = "0.063 in" }}
bolt = "AN3"
spacer = {_tube("1/4", "0.028", "4130N")}

[{name}.frame.gusset]
sheet = {{ material = "6061-T6", thickness = "0.025 in" }}
rivet = "blind-steel-1/8"
rivets = 2
pitch = "3/8 in"
edge = "1/4 in"

[{name}.frame.hinges]
{hinges}
sheet = {{ material = "4130N", thickness = "0.032 in" }}
pin = "AN3"
bush = {_tube("1/4", "0.028", "4130N")}
play = "0.010 in"

[{name}.frame.horn]
sheet = {{ material = "4130N", thickness = "0.063 in" }}
hole = "3/16 in"
{horn}

[{name}.frame.fixed]
{fixed}
leading = {_tube(outside, "0.035")}
spar = {_tube(outside, "0.049")}
rib = {_tube(outside, "0.035")}
ends = {_tube(outside, "0.035")}
diagonal = {_tube(outside, "0.035")}

[{name}.frame.movable]
{movable}
front = {_tube(outside, "0.049")}
trailing = {_tube(outside, "0.035")}
rib = {_tube(outside, "0.035")}
ends = {_tube(outside, "0.035")}
join = {_tube(join, "0.035", "4130N")}
lap = "2-1/2 in"

[{name}.frame.attach]
{attach}
"""


TAILPLANE = _frame(
    "tailplane",
    "5/8",
    "1/2",
    'root = "0.750 in"\npitch = "14 in"',
    'root = "3 in"\nroot_aft = "12 in"\nribs = ["30 in", "44 in"]',
    'places = ["6-1/2 in", "37 in", "51 in"]',
    'along = "1-1/4 in"\narm = "3 in"\narms = 1',
    'front = { node = "J0", tube = "rib", along = "2-3/4 in" }\n'
    'rear = { node = "S1", tube = "rib", along = "15-1/4 in" }',
)
FIN = _frame(
    "fin",
    "3/4",
    "5/8",
    'root = "3-1/2 in"\nfoot = "1/2 in"\npitch = "17 in"',
    'root = "6 in"\nroot_aft = "7 in"\npitch = "23 in"',
    'places = ["11 in", "43 in"]',
    'along = "5-1/4 in"\narm = "3-1/2 in"\narms = 2',
    'front = { node = "H0", tube = "leading", along = "1 in" }\nrear = { node = "S1", tube = "spar", along = "1 in" }',
)


def _made() -> str:
    text = PROBE
    for old, new in (
        ('S1 = ["172 in"', 'H1 = ["152-3/4 in", "2.591 in", "6.055 in"]\nH0 = ["152-3/4 in", "0 in", "6.055 in"]\n'
         'J1 = ["158 in", "1.885 in", "5.904 in"]\nJ0 = ["158 in", "0 in", "5.904 in"]\nS1 = ["172 in"'),
        ('["A1", "B1", "C1", "D1", "E1", "S1"]', '["A1", "B1", "C1", "D1", "E1", "H1", "J1", "S1"]'),
        ('"D2", "E2", "S2"]], tube = { material = "4130N", outside = "3/4 in"',
         '"D2", "E2", "S2"]], tube = { material = "4130N", outside = "5/8 in"'),
        ('["E2R", "E2L"]]', '["E2R", "E2L"], ["H1R", "H0", "H1L"], ["J1R", "J0", "J1L"]]'),
        ('leading_edge = ["154 in", "0 in", "6 in"]\nspan = "112 in"',
         'leading_edge = ["156 in", "0 in", "6-3/4 in"]\nspan = "112 in"'),
        ('sweep = "2 deg"\nsection = "tail"', 'sweep = "2.045 deg"\nsection = "tail"'),
        ('leading_edge = ["154 in", "0 in", "6 in"]\nspan = "52 in"',
         'leading_edge = ["152-1/4 in", "0 in", "6 in"]\nspan = "52 in"'),
        ("areal_band = 0.1\n\n[fin]", f"areal_band = 0.1\n{TAILPLANE}\n[fin]"),
        ("areal_band = 0.1\n\n[wheels.main]", f"areal_band = 0.1\n{FIN}\n[wheels.main]"),
    ):  # fmt: skip
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


TAILED = _made()


@cache
def tailed() -> Model:
    """The one-winged probe with framed tail surfaces."""
    return reading(TAILED).models["P1"]


def tail_alone(model: Model) -> Assembly:
    """The tail and the fuselage's tubes: all that its parts may meet."""
    tubes = frame_tubes(model)
    parts, joints = (*tubes, *tail_parts(model)), (*weld_clusters(model, tubes), *tail_joints(model))
    return Assembly(model=model.name, parts=parts, joints=joints)
