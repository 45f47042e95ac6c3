"""The seat that is drawn: its pieces and sag by hand, planes against those sat on, what is told when wrong."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from families import DEMO_FILE
from numpy.testing import assert_allclose

from sparwright.base.problem import DesignProblem, FileProblems
from sparwright.family.model import Family, Model
from sparwright.family.reader import read
from sparwright.occupant.fit import fits
from sparwright.occupant.shell import off_plane, over_tunnel, section, shell_checks
from sparwright.parts.flat_sheets import Laid, laid_sheets
from sparwright.parts.frame import frame_tubes
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Assembly, Straight
from sparwright.parts.seat import seat_parts, seat_tunnel_line
from sparwright.parts.solids import closed, exact, solids

DEMO = DEMO_FILE.read_text("utf-8")
INCH = 0.0254
MODELS = ("W1", "W2", "W3")


@pytest.fixture
def w1(whinchat: Family) -> Model:
    return whinchat.models["W1"]


def laid_of(model: Model) -> dict[str, Laid]:
    return {s.sheet.name: s for s in laid_sheets(model, frame_tubes(model))}


def with_shell(model: Model, **changes: Any) -> Model:
    """The model with another shell of its seat."""
    assert model.seat is not None and model.seat.shell is not None
    return replace(model, seat=replace(model.seat, shell=replace(model.seat.shell, **changes)))


def seat_only(model: Model) -> Assembly:
    """The seat, its tubes and their joints."""
    whole = lay_out(model)
    words = ("-seat-", "-SHEET-SEAT", "TUBE-T1", "TUBE-T2", "TUBE-D1R-D1L")
    parts = tuple(p for p in whole.parts if any(w in p.number for w in words))
    names = {p.number for p in parts}
    return replace(whole, parts=parts, joints=tuple(j for j in whole.joints if set(j.parts) <= names))


# ------------------------------------------------------------------ parts


def test_pieces_weigh_what_their_sections_say(w1: Model) -> None:
    """An L of 1 by 0.080 in, 10.3 in of stations along a pan that rises 8 deg: (2 x 1 - 0.080) x 0.080 in2 of 6061."""
    parts = {p.number: p for p in seat_parts(w1, laid_sheets(w1, frame_tubes(w1)))}
    long = 10.3 * INCH / math.cos(math.radians(8))
    assert_allclose(parts["W1-seat-STIFFENER-R"].mass, (2 - 0.080) * 0.080 * INCH**2 * long * 2713, rtol=5e-3)
    assert_allclose(parts["W1-seat-STIFFENER-L"].mass, parts["W1-seat-STIFFENER-R"].mass, rtol=1e-12)
    angle = parts["W1-seat-ANGLE-R"].shape
    assert isinstance(angle, Straight)
    assert_allclose(angle.length, 3.5 * INCH, rtol=1e-9)
    assert "83 deg" in parts["W1-seat-ANGLE-R"].note  # back 14.754 deg aft of upright, pan 8 deg up forward: 83.25


@pytest.mark.parametrize("name", MODELS)
def test_every_piece_is_closed_touches_and_runs_into_nothing(whinchat: Family, name: str) -> None:
    whole = seat_only(whinchat.models[name])
    assert all(closed(exact(s)) for p in whole.parts for s in solids(p))
    found = measure(whole)
    assert not found.clashes and not found.apart and not found.adrift


def test_the_tunnel_stands_on_the_pan_and_against_the_back(w1: Model) -> None:
    """Its top is 0.10 in over the pan at its front and 0.85 in at the back, square to the pan."""
    line = seat_tunnel_line(w1, tuple(laid_of(w1).values()))
    assert line is not None and w1.seat is not None
    normal = np.array([math.sin(w1.seat.pan), math.cos(w1.seat.pan)])
    over = (line - [w1.seat.place[0], w1.seat.place[2]]) @ normal
    assert_allclose(over, [0.10 * INCH, 0.85 * INCH], atol=5e-5)  # corners of the file are rounded to 0.001 in


def test_a_tube_through_the_seat_is_told_with_part_numbers(w1: Model) -> None:
    """The rear tube an inch higher stands in the pan's corner."""
    nodes = dict(w1.fuselage.nodes)
    x, y, z = nodes["T2"]
    nodes["T2"] = (x, y, z + 1.6 * INCH)
    assert w1.seat is not None and w1.seat.harness is not None
    bare = replace(w1.seat, harness=replace(w1.seat.harness, lug=None))  # the tubes it stands on move
    high = replace(w1, fuselage=replace(w1.fuselage, nodes=nodes), seat=bare)
    found = measure(seat_only(high))
    said = {frozenset((c.one, c.other)) for c in found.clashes}
    assert any("W1-fuselage-TUBE-T2R-T2L" in pair and any("SEAT" in n or "-seat-" in n for n in pair) for pair in said)


def test_without_a_shell_the_seat_is_said_not_to_be_drawn(w1: Model) -> None:
    assert w1.seat is not None
    bare = lay_out(replace(w1, seat=replace(w1.seat, shell=None)))
    assert "seat" in bare.unknowns and not [p for p in bare.parts if "-seat-ANGLE" in p.number]
    assert "seat" not in lay_out(w1).unknowns


def test_sheets_the_wrong_way_round_are_told(w1: Model) -> None:
    assert w1.seat is not None and w1.seat.shell is not None
    turned = with_shell(w1, pan="seat_back", back="seat_pan")
    with pytest.raises(DesignProblem, match="the pan lies to = 'up'"):
        list(seat_parts(turned, laid_sheets(turned, frame_tubes(turned))))


# ------------------------------------------------------------------ who sits on it


@pytest.mark.parametrize("name", MODELS)
def test_the_seat_is_where_the_pilot_is_reckoned_to_sit(whinchat: Family, name: str) -> None:
    model = whinchat.models[name]
    told = {c.id: c for c in shell_checks(model, fits(model))}
    assert set(told) == {f"occupant.seat.{w}" for w in ("pan", "back", "sag", "stress", "tunnel")}
    assert all(c.verdict == "pass" for c in told.values())


def test_a_seat_reckoned_elsewhere_fails(w1: Model) -> None:
    """Half an inch lower: the pan lies 1/2 in cos 8 deg over it, the back 1/2 in tan 14.754 deg cos 15 deg."""
    assert w1.seat is not None
    x, y, z = w1.seat.place
    low = replace(w1, seat=replace(w1.seat, place=(x, y, z - 0.5 * INCH)))
    told = {c.id: c for c in shell_checks(low, fits(low))}
    assert told["occupant.seat.pan"].verdict == "fail" and told["occupant.seat.back"].verdict == "fail"
    assert_allclose(told["occupant.seat.pan"].value, 0.5 * INCH * math.cos(math.radians(8)), atol=5e-5)
    one, assumed = laid_of(low)["seat_back"], np.array([-math.cos(math.radians(15)), math.sin(math.radians(15))])
    near, _ = off_plane(one, np.array([x, z - 0.5 * INCH]), assumed, np.array([0.0, 1.0]))
    assert_allclose(near, 0.5 * INCH * math.tan(math.radians(14.754)) * math.cos(math.radians(15)), atol=5e-5)


def test_sag_by_hand(w1: Model) -> None:
    """A square bar of 1 by 1 has I = 1/12; and 225 lb at 3.8 over 11.3 in on two strips of 6061."""
    area, low = section(1.0, 1.0, 1e-12)
    assert_allclose((area, low), (1 / 12, 0.5), rtol=1e-9)
    told = {c.id: c for c in shell_checks(w1, fits(w1))}
    one, _ = section(1 * INCH, 0.080 * INCH, 0.063 * INCH)
    load, span = 225 * 4.4482216152605 * 3.8, (64.5 - 53.308) / math.cos(math.radians(8)) * INCH
    assert_allclose(told["occupant.seat.sag"].value, 5 * load * span**3 / (384 * 68.3e9 * 2 * one), rtol=1e-2)
    assert w1.seat is not None and w1.seat.shell is not None
    thin = replace(w1.seat.shell.stiffener, leg=0.4 * INCH)
    weak = {c.id: c for c in shell_checks(with_shell(w1, stiffener=thin), fits(w1))}
    assert weak["occupant.seat.sag"].verdict == "fail" and weak["occupant.seat.stress"].verdict == "fail"


def test_a_higher_tunnel_comes_to_the_hip(w1: Model) -> None:
    """A line through the hip's joint lies its whole round deep; the largest man sits on no cushion and is nearest."""
    found = fits(w1)
    line = seat_tunnel_line(w1, tuple(laid_of(w1).values()))
    assert line is not None
    key, gap = over_tunnel(line, found)
    assert key == "male_95" and gap > 0
    hip = np.array(found["male_95"].sitting.hip)
    through = np.array([hip - [0.1, 0.0], hip + [0.1, 0.0]])
    assert_allclose(over_tunnel(through, {"male_95": found["male_95"]})[1], -found["male_95"].who.hip_up, atol=1e-12)


# ------------------------------------------------------------------ what is told


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('pan = "seat_pan"', 'pan = "seat_pen"', "nearest known is 'seat_pan'"),
        ('back = "seat_back"\n', 'back = "floor"\n', "seat.shell.pan"),
        ('inner = "3 in", outer', 'inner = "1 in", outer', "seat.shell.angle.inner"),
        ('outer = "6-1/2 in"', 'outer = "2 in"', "seat.shell.angle.outer"),
        ('bolt = "AN3", bolts = 4', 'bolt = "AN33", bolts = 4', "seat.shell.angle.bolt"),
        ('leg = "3/4 in", inner', 'leg = "1/16 in", inner', "seat.shell.angle.leg"),
        ('buttline = "1.8 in"', 'buttline = "1 in"', "seat.shell.stiffener.buttline"),
        ('buttline = "1.8 in"', 'buttline = "7-1/2 in"', "runs out of the pan's side"),
        ('front = "53.9 in", rear', 'front = "64.9 in", rear', "seat.shell.stiffener.rear"),
        ('leg = "1 in", buttline', 'leg = "0.1 in", buttline', "seat.shell.stiffener.leg"),
        ('front = "60-1/2 in", width', 'front = "65 in", width', "seat.shell.tunnel.front"),
        ('front = "60-1/2 in", width', 'front = "48 in", width', "behind its front edge"),
        ('rear_height = "0.85 in"', 'rear_height = "0.03 in"', "seat.shell.tunnel.rear_height"),
        ('flange = "1/2 in", rivet = "blind-steel-1/8"', 'flange = "1/2 in", rivet = "blind"', "tunnel.rivet"),
    ],
)
def test_what_is_wrong_is_told_by_key(old: str, new: str, said: str) -> None:
    assert DEMO.count(old) >= 1
    with pytest.raises(FileProblems) as told:
        read(DEMO.replace(old, new, 1).encode(), str(DEMO_FILE))
    assert said in str(told.value)
