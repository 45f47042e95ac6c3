"""The probe family with ailerons that have a frame, for tests of those alone. Its sizes are not the demo's."""

from __future__ import annotations

from functools import cache

from families import PROBE, reading

from sparwright.family.model import Model
from sparwright.parts.aileron import Hinged, ailerons

BUSH = '{ material = "4130N", outside = "1/4 in", wall = "0.028 in" }'
PLATE = '{ material = "4130N", thickness = "0.071 in" }'
STRIP = '{ material = "spruce", width = "3/8 in", depth = "1/4 in" }'
WEB = f'{{ material = "birch-ply", thickness = "2.5 mm", strip = {STRIP} }}'
CHANNEL = '{ material = "6061-T6", thickness = "0.025 in", flange = "1/2 in", bend_radius = "3/32 in" }'
BOLTS = 'foot = "1-1/8 in"\nfastener = "AN3"\nfasteners = 2\npitch = "0.6 in"\nedge = "0.4 in"'
RIVETS = 'foot = "7/8 in"\nfastener = "MS20470AD4"\nfasteners = 3\npitch = "3/8 in"\nedge = "1/4 in"'


def _frame(where: str, nose: str, false_spar: str, spar: str, feet: str, places: str, horn: str) -> str:
    return f"""
[models.{where}.aileron.frame]
setback = "0.7 in"
nose = {nose}
false_spar = {false_spar}
spar = {spar}
horn = {{ sheet = {PLATE}, along = "{horn}", arm = "3 in", arms = 2, hole = "3/16 in" }}

[models.{where}.aileron.frame.hinges]
places = {places}
sheet = {PLATE}
bend_radius = "3/16 in"
{feet}
pin = "AN3"
bush = {BUSH}
play = "0.008 in"
"""


FRAMES = {
    "P1.wings.wing": _frame("P1.wings.wing", '{ material = "birch-ply", thickness = "1.2 mm" }', WEB,
                            '{ material = "spruce", thickness = "1/2 in" }', BOLTS, '["107 in", "161 in"]', "131 in"),
    "P2.wings.lower": _frame("P2.wings.lower", '{ material = "6061-T6", thickness = "0.016 in" }', CHANNEL, CHANNEL,
                             RIVETS, '["53 in", "83 in", "115 in"]', "75 in"),
    "P3.wings.upper": _frame("P3.wings.upper", '{ material = "glass-epoxy", thickness = "0.015 in" }', WEB, WEB, BOLTS,
                             '["70-1/2 in", "114 in"]', "90 in"),
}  # fmt: skip
PAINT = '\n[paint]\nareal = "0.1 kg/m2"\nlow = "0.05 kg/m2"\nhigh = "0.3 kg/m2"\n'


def _made() -> str:
    text = PROBE.replace("\n[wheels.main]", f"{PAINT}\n[wheels.main]", 1)
    for where, frame in FRAMES.items():
        at = text.index("down =", text.index(f"[models.{where}.aileron]"))
        end = text.index("\n", at) + 1
        text = text[:end] + frame + text[end:]
    return text


HINGED = _made()


@cache
def hinged(name: str) -> Model:
    """P1 of wood, P2 of metal, P3 of glass."""
    return reading(HINGED).models[name]


def aileron(name: str) -> Hinged:
    """The first aileron of a model."""
    return ailerons(hinged(name))[0]
