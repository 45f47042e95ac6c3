"""The probe family with framed tail surfaces, a seat and controls. Its sizes are not the demo's."""

from __future__ import annotations

from functools import cache

from families import reading
from tails import TAILED

from sparwright.family.model import Family, Model
from sparwright.parts.controls import controls_made
from sparwright.parts.frame import frame_tubes, weld_clusters
from sparwright.parts.part import Assembly
from sparwright.parts.tail import tail_joints, tail_parts


def _tube(outside: str, wall: str, material: str = "4130N") -> str:
    return f'{{ material = "{material}", outside = "{outside} in", wall = "{wall} in" }}'


def _sheet(thickness: str, material: str = "4130N") -> str:
    return f'{{ material = "{material}", thickness = "{thickness} in" }}'


CONTROLS = f"""
[seat]
place = ["64 in", "0 in", "-9 in"]
back = "15 deg"
pan = "8 deg"
stick = {{ place = ["48 in", "0 in", "5 in"], forward = "4-1/2 in", aft = "4-1/2 in" }}
pedals = {{ place = ["21 in", "5 in", "-9 in"], travel = "3 in", adjust = "6 in" }}

[controls]
replaces = ["controls"]
rod_end = {{ eye = "5/8 in", width = "0.250 in", bolt = "AN3", mass = "0.06 lb", turns = "10 deg" }}
stops = {{ elevator = "middle.stop", pin = {_tube("5/16", "0.035")}, rudder = {_sheet("0.063")} }}

[controls.cable_end]
shackle = {_sheet("0.040")}
width = "3/8 in"
length = "7/8 in"
eye = "1/8 in"
pin = "AN3"
turnbuckle = "4 in"
outside = "3/8 in"
mass = "0.08 lb"

[controls.stick]
pivot = ["43 in", "0 in", "-13 in"]
tube = {_tube("7/8", "0.049")}
arm = ["45-3/4 in", "0 in", "-9 in"]
lug = {_sheet("0.080")}
side = "5 in"

[controls.torque_tube]
tube = {_tube("7/8", "0.049")}
front = "43-3/4 in"
aft = "70-1/2 in"
fork = {_sheet("0.080")}
bearing = {_sheet("0.100")}
on = ["D2R-D2L", "C2R-C2L"]

[controls.pedals]
pivot = ["19-1/2 in", "6 in", "-13.55 in"]
shaft = {_tube("5/8", "0.049")}
hub = {_tube("3/4", "0.058")}
width = "5 in"
tube = {_tube("1/2", "0.035")}
foot = "4 in"
arm = {_sheet("0.080")}
cable = ["19-3/4 in", "8 in", "-10-1/4 in"]
spring = ["19-1/4 in", "8 in", "-11-1/2 in"]
rail = {_sheet("0.125", "6061-T6")}
depth = "1-1/2 in"
on = ["B2R-B2L", "C2R-C2L"]
settings = 3

[controls.spring]
anchor = ["0 in", "4 in", "-13 in"]
on = "A2R-A2L"
force = "10 lbf"
stretch = "4 in"
outside = "1/2 in"
mass = "0.15 lb"

[controls.cranks.middle]
pivot = ["117 in", "1-1/4 in", "-9-1/2 in"]
holes.back = ["117 in", "1-1/4 in", "-6.7 in"]
holes.in = ["117 in", "1-1/4 in", "-7.8 in"]
holes.stop = ["117 in", "1-1/4 in", "-11-1/2 in"]
sheet = {_sheet("0.080")}
hub = {_tube("1/2", "0.049")}
width = "1 in"
bolt = "AN4"
bracket = {_sheet("0.063")}
on = "E2R-E2L"

[controls.rods]
front = {{ ends = ["stick.arm", "middle.in"], tube = {_tube("3/4", "0.035", "6061-T6")} }}
rear = {{ ends = ["middle.back", "elevator.horn"], tube = {_tube("1/2", "0.035", "6061-T6")} }}

[controls.cables.rudder]
ends = ["pedal.cable", "rudder.horn"]
over = ["ring", "low", "high"]
diameter = "1/8 in"
turnbuckle = "38 in"
pair = true

[controls.pulleys.low]
turn = ["76 in", "7 in", "-11-1/2 in"]
diameter = "3 in"
width = "1/2 in"
mass = "0.2 lb"
bolt = "AN4"
bracket = {_sheet("0.063")}
guard = "1/32 in"
on = "D2R-D2L"
pair = true

[controls.pulleys.high]
turn = ["116 in", "2-1/2 in", "8 in"]
diameter = "3 in"
width = "1/2 in"
mass = "0.2 lb"
bolt = "AN4"
bracket = {_sheet("0.063")}
guard = "1/32 in"
on = "E1R-E1L"
pair = true

[controls.fairleads.ring]
place = ["46 in", "7-1/2 in", "-10.85 in"]
bore = "3/16 in"
outside = "1/2 in"
length = "1/2 in"
strip = {_sheet("0.063")}
on = "C2R-C2L"
pair = true
"""
MARK = "# ---------------------------------------------------------------- P1"
STEERED = TAILED.replace(MARK, CONTROLS + "\n" + MARK, 1)


@cache
def family() -> Family:
    """The probe with controls."""
    return reading(STEERED)


@cache
def steered() -> Model:
    """The one-winged probe with controls."""
    return family().models["P1"]


@cache
def controls_alone() -> Assembly:
    """Controls, tail and the fuselage's tubes: all that the controls may meet here."""
    model = steered()
    tubes = frame_tubes(model)
    frame = (*tubes, *tail_parts(model))
    controls = controls_made(model, frame)
    parts = (*frame, *controls.parts)
    joints = (*weld_clusters(model, tubes), *tail_joints(model), *controls.joints)
    return Assembly(model=model.name, parts=parts, joints=joints)
