"""Faults in [controls]: what is told, with key and line."""

import pytest
from families import line_with, problems, reading
from steered import STEERED

from sparwright.base.problem import DesignProblem
from sparwright.controls.chain import controls_told
from sparwright.parts.layout import lay_out


def spoiled(old: str, new: str, after: str = "[controls]") -> str:
    at = STEERED.index(old, STEERED.index(after))
    return STEERED[:at] + new + STEERED[at + len(old) :]


TRIM = """[controls.trim]
lever = "{lever}"
hook = ["45 in", "0 in", "-11 in"]
lug = {{ material = "4130N", thickness = "2 mm" }}
forward = "20 deg"
aft = "20 deg"
slack = "{slack}"
pull = "40 lbf"
drawn = "2 in"
outside = "3/8 in"
mass = "0.2 lb"

"""

PLUGGED = 'front = { ends = ["stick.arm", "middle.in"]'

CASES = [
    # what, text, piece on the line, key, words of the message
    (
        "a plug held by nothing we know",
        spoiled(PLUGGED, f'{PLUGGED}, plug = "MS20470AD44"'),
        'plug = "MS20470AD44"',
        "controls.rods.front.plug",
        "MS20470AD4",
    ),
    (
        "a plug welded in aluminium",
        spoiled(PLUGGED, f'{PLUGGED}, plug = "weld"'),
        'plug = "weld"',
        "controls.rods.front.plug",
        "6061-T6 is not welded",
    ),
    (
        "a plug with no rivets said",
        spoiled(PLUGGED, f'{PLUGGED}, plug = "MS20470AD4"'),
        'plug = "MS20470AD4"',
        "controls.rods.front.plugs",
        "how many",
    ),
    (
        "a flat wider than its eye",
        spoiled('turns = "10 deg"', 'turns = "10 deg", face = "3/4 in"'),
        'face = "3/4 in"',
        "controls.rod_end.face",
        "less than the eye",
    ),
    (
        "a rod to a hole that is not there",
        spoiled('"middle.in"]', '"middle.inn"]'),
        '"middle.inn"',
        "controls.rods.front.ends.1",
        "nearest known is 'middle.in'",
    ),
    (
        "a rod with one end",
        spoiled('ends = ["stick.arm", "middle.in"]', 'ends = ["stick.arm"]'),
        'ends = ["stick.arm"]',
        "controls.rods.front.ends",
        "two holes",
    ),
    (
        "a cable over nothing",
        spoiled('over = ["ring", "low", "high"]', 'over = ["ring", "low", "hihg"]'),
        '"hihg"',
        "controls.cables.rudder.over.2",
        "nearest known is 'high'",
    ),
    (
        "a pulley twice",
        spoiled('over = ["ring", "low", "high"]', 'over = ["low", "low", "high"]'),
        '["low", "low"',
        "controls.cables.rudder.over.0",
        "leads the cable rudder already",
    ),
    (
        "a pulley of no cable",
        spoiled('over = ["ring", "low", "high"]', 'over = ["ring", "low"]'),
        "[controls.pulleys.high]",
        "controls.pulleys.high",
        "leads no cable",
    ),
    (
        "a single pulley under a pair of cables",
        spoiled("pair = true", "pair = false", "[controls.pulleys.low]"),
        'over = ["ring", "low", "high"]',
        "controls.cables.rudder.over.1",
        "is a pair where its cable is one",
    ),
    (
        "a tube that is not there",
        spoiled('on = "E2R-E2L"', 'on = "E2R-F2L"'),
        'on = "E2R-F2L"',
        "controls.cranks.middle.on",
        "names a tube of the fuselage",
    ),
    (
        "a bolt nobody knows",
        spoiled('bolt = "AN4"', 'bolt = "AN44"'),
        '"AN44"',
        "controls.cranks.middle.bolt",
        "not a bolt",
    ),
    (
        "a wall without bore",
        spoiled('outside = "1/2 in", wall = "0.049 in"', 'outside = "1/2 in", wall = "0.25 in"', "[controls.cranks"),
        'wall = "0.25 in"',
        "controls.cranks.middle.hub.wall",
        "less than half",
    ),
    (
        "a hub that does not turn",
        spoiled('outside = "3/4 in", wall = "0.058 in"', 'outside = "5/8 in", wall = "0.058 in"', "[controls.pedals]"),
        'hub = { material = "4130N", outside = "5/8 in"',
        "controls.pedals.hub.outside",
        "turns on the shaft",
    ),
    (
        "a pulley on the left",
        spoiled('turn = ["76 in", "7 in"', 'turn = ["76 in", "-7 in"'),
        'turn = ["76 in", "-7 in"',
        "controls.pulleys.low.turn",
        "buttline is positive",
    ),
    (
        "stops on no bell-crank",
        spoiled('elevator = "middle.stop"', 'elevator = "midle.stop"'),
        '"midle.stop"',
        "controls.stops.elevator",
        "names a bell-crank",
    ),
    (
        "an allowance that is not there",
        spoiled('replaces = ["controls"]', 'replaces = ["contrls"]'),
        '"contrls"',
        "controls.replaces.0",
        "names an allowance",
    ),
    (
        "one bearing",
        spoiled('on = ["D2R-D2L", "C2R-C2L"]', 'on = ["C2R-C2L"]', "[controls.torque_tube]"),
        'on = ["C2R-C2L"]',
        "controls.torque_tube.on",
        "two bearings",
    ),
    (
        "a tube that ends before it begins",
        spoiled('aft = "70-1/2 in"', 'aft = "40 in"'),
        'aft = "40 in"',
        "controls.torque_tube.aft",
        "must lie behind front",
    ),
    (
        "a faired rod without its width",
        spoiled('front = { ends = ["stick.arm"', 'front = { fairing = "streamline", ends = ["stick.arm"'),
        'front = { fairing = "streamline"',
        "controls.rods.front",
        "needs its faired_width",
    ),
    (
        "a bell-crank called rudder",
        spoiled("[controls.cranks.middle]", "[controls.cranks.rudder]").replace('"middle.', '"rudder.'),
        "[controls.cranks.rudder]",
        "controls.cranks.rudder",
        "turns already",
    ),
    (
        "a ring with no room",
        spoiled('bore = "3/16 in"', 'bore = "1/2 in"'),
        'bore = "1/2 in"',
        "controls.fairleads.ring.bore",
        "must be less than outside",
    ),
    (
        "a rigged cable without tension",
        spoiled('ends = ["pedal.cable", "rudder.horn"]', 'ends = ["middle.in", "rudder.horn"]'),
        "[controls.cables.rudder]",
        "controls.cables.rudder.tension",
        "rigged to a tension",
    ),
    (
        "a horn with one arm",
        STEERED.replace('arm = "3-1/2 in"\narms = 2', 'arm = "3-1/2 in"\narms = 1'),
        "[controls.pedals]",
        "fin.frame.horn.arms",
        "two arms",
    ),
    (
        "no pedals to press",
        STEERED.replace("pedals = { place", "# pedals = { place"),
        "[controls]",
        "seat.pedals",
        "wants the place",
    ),
    (
        "an axis of two numbers",
        spoiled('guard = "1/32 in"', 'guard = "1/32 in"\naxis = [0, 1]', "[controls.pulleys.low]"),
        "axis = [0, 1]",
        "controls.pulleys.low.axis",
        "three bare numbers",
    ),
    (
        "a stop of the stick on a tube that carries no bearing",
        spoiled(
            "stops = {",
            'stops = { side = { on = "E1R-E1L", sheet = { material = "4130N", thickness = "2 mm" }, arm = "2 in" },',
        ),
        'side = { on = "E1R-E1L"',
        "controls.stops.side.on",
        "names a bearing of the torque tube",
    ),
    (
        "a stop of the stick within the torque tube",
        spoiled(
            "stops = {",
            'stops = { side = { on = "D2R-D2L", sheet = { material = "4130N", thickness = "2 mm" }, arm = "1 in" },',
        ),
        'arm = "1 in"',
        "controls.stops.side.arm",
        "no room between torque tube and pins",
    ),
    (
        "a fairlead on a tube without its strip",
        spoiled('strip = { material = "4130N", thickness = "0.063 in" }\non = "C2R-C2L"', 'on = "C2R-C2L"'),
        "[controls.fairleads.ring]",
        "controls.fairleads.ring.strip",
        "wants the strip that holds it to its tube",
    ),
    (
        "a fairlead in a rib with a strip",
        spoiled('on = "C2R-C2L"', 'on = "lower-RIB-24"', "[controls.fairleads.ring]"),
        "[controls.fairleads.ring]",
        "controls.fairleads.ring.strip",
        "stands in a rib and has no strip",
    ),
    (
        "an opening of nothing",
        spoiled("[controls.cables.rudder]", '[controls.cables.rudder]\nopening = "0 in"'),
        'opening = "0 in"',
        "controls.cables.rudder.opening",
        "must be positive",
    ),
    (
        "a trim lever that is no bell-crank",
        spoiled("[controls.rods]", TRIM.format(lever="midle.in", slack="24 in") + "[controls.rods]"),
        'lever = "midle.in"',
        "controls.trim.lever",
        "names a single bell-crank and its hole",
    ),
    (
        "a trim lever that nobody can hold",
        spoiled("[controls.rods]", TRIM.format(lever="middle.in", slack="24 in") + "[controls.rods]"),
        'holes.back = ["117 in"',
        "controls.cranks.middle.holes.grip",
        "has a hole grip",
    ),
    (
        "a spring of no length",
        spoiled("[controls.rods]", TRIM.format(lever="middle.in", slack="0 in") + "[controls.rods]"),
        'slack = "0 in"',
        "controls.trim.slack",
        "must be positive",
    ),
]


@pytest.mark.parametrize(("what", "text", "piece", "key", "says"), CASES, ids=[c[0] for c in CASES])
def test_told_with_key_and_line(what: str, text: str, piece: str, key: str, says: str) -> None:
    assert text != STEERED, what
    found = {p.key: p for p in problems(text)}
    assert key in found, sorted(found)
    assert says in found[key].wanted, found[key].wanted
    assert found[key].line == line_with(text, piece), str(found[key])


DESIGNS = [
    # what, text, words of the sentence
    (
        "a cable that goes straight on",
        spoiled('turn = ["76 in", "7 in", "-11-1/2 in"]', 'turn = ["81 in", "5.0 in", "-1.425 in"]')
        .replace('place = ["46 in", "7-1/2 in", "-10.85 in"]', 'place = ["46 in", "7.5 in", "-10.85 in"]')
        .replace('turn = ["116 in", "2-1/2 in", "8 in"]', 'turn = ["116 in", "2.5 in", "8 in"]'),
        "goes straight on",
    ),
    (
        "a turnbuckle in the shackle",
        spoiled('turnbuckle = "38 in"', 'turnbuckle = "2 in"'),
        "turnbuckle lies within an end",
    ),
    (
        "a bracket along its tube",
        spoiled('on = "E2R-E2L"', 'on = "A2R-S2"').replace(
            '["A2", "B2", "C2", "D2", "E2", "S2"]', '["A2", "B2", "C2", "D2", "E2", "S2"]'
        ),
        "runs along",
    ),
    (
        "a lever nobody holds",
        spoiled('front = { ends = ["stick.arm", "middle.in"]', 'front = { ends = ["middle.stop", "middle.in"]'),
        "rods and cables hold",
    ),
    (
        "a shaft beside its rails",
        spoiled('pivot = ["19-1/2 in", "6 in", "-13.55 in"]', 'pivot = ["19-1/2 in", "6 in", "-12 in"]'),
        "shaft is",
    ),
    (
        "a hole in the stick",
        spoiled('arm = ["45-3/4 in", "0 in", "-9 in"]', 'arm = ["44.1 in", "0 in", "-9 in"]'),
        "lies in the stick",
    ),
    ("settings that are not the seat's", spoiled("settings = 3", "settings = 5"), "settings"),
    ("a torque tube ahead of the stick", spoiled('front = "43-3/4 in"', 'front = "43 in"'), "begins behind the stick"),
]


@pytest.mark.parametrize(("what", "text", "says"), DESIGNS, ids=[c[0] for c in DESIGNS])
def test_what_cannot_be_made_is_one_sentence(what: str, text: str, says: str) -> None:
    model = reading(text).models["P1"]
    with pytest.raises(DesignProblem, match=says):
        controls_told(model, lay_out(model), measured=False)
