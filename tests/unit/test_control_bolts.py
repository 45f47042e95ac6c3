"""Bolts of the controls: what lies under them by hand, what turns has a cotter, all of them are bought and weigh."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose
from shapely import Point, Polygon
from steered import controls_alone, steered

from sparwright.data.loader import fasteners
from sparwright.parts.bolts import bolt_mass
from sparwright.parts.control_bodies import Footing, in_plane
from sparwright.parts.control_bolts import web_at
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Joint, Part, Plate
from sparwright.shape.solid import block

INCH = 0.0254


def joint(number: str) -> Joint:
    return next(j for j in controls_alone().joints if j.number == number)


@pytest.mark.parametrize(("number", "grip", "stock", "head"), [
    # wide washer 0.063, ball 0.250, bell-crank 0.080
    ("P1-controls-ROD-END-LAST-FRONT-TO-controls-CRANK-MIDDLE", 0.393, "AN3-7", "outboard"),
    # two legs of 0.040 and the pedal's arm, 0.080
    ("P1-controls-SHACKLE-RUDDER-FIRST-R-TO-controls-PEDAL-ARM-R", 0.160, "AN3-5", "outboard"),
    # two plates of 0.063 and a hub of 1 in
    ("P1-controls-CRANK-HUB-MIDDLE-TO-controls-BRACKET-FIRST-MIDDLE", 1.126, "AN4-15", "outboard"),
    # two plates of 0.080 and the stick's bush, 7/8 in
    ("P1-controls-STICK-TO-controls-FORK-R", 1.035, "AN4-14", "outboard"),
    # rail 1/8 in and tab 0.080
    ("P1-controls-PEDAL-RAIL-R-TO-controls-PEDAL-TAB-B2R-B2L-R", 0.205, "AN3-5", "outboard"),
    # collar of the hub's tube, 3/4 in
    ("P1-controls-PEDAL-COLLAR-L-TO-controls-PEDAL-SHAFT", 0.750, "AN3-11", "up"),
])  # fmt: skip
def test_grips_by_hand(number: str, grip: float, stock: str, head: str) -> None:
    bolt = joint(number).bolt
    assert bolt is not None
    assert_allclose(bolt.grip, grip * INCH, rtol=1e-9)
    assert (bolt.stock, bolt.head) == (stock, head)


def test_what_turns_is_snug_with_a_cotter_and_what_stands_is_tight() -> None:
    turning, standing = 0, 0
    for j in (j for j in controls_alone().joints if j.bolt is not None and "-controls-" in j.number):
        assert j.bolt is not None
        still = any(w in j.number for w in ("STOP-", "PEDAL-RAIL"))
        turning, standing = turning + (not still), standing + still
        assert (j.bolt.locking == "cotter") is not still, j.number
        assert ("castellated" in j.bolt.nut) is not still, j.number
        assert math.isnan(j.bolt.torque[0]) is not still, j.number
    assert turning >= 20 and standing >= 7


def test_bolts_are_parts_once_each_and_of_the_weight_of_a_rod() -> None:
    assembly = controls_alone()
    counted: dict[str, int] = {}
    for j in (j for j in assembly.joints if j.bolt is not None and "-controls-" in j.number):
        assert j.bolt is not None
        counted[j.bolt.stock] = counted.get(j.bolt.stock, 0) + j.fasteners
    bought = {p.stock: p for p in assembly.parts if "-controls-BOLT-" in p.number}
    assert {s: p.count for s, p in bought.items()} == {s: n for s, n in counted.items() if n}
    assert_allclose(bought["AN4-14"].mass, bolt_mass("AN4", 1.035 * INCH), rtol=1e-9)
    guards = [p for p in assembly.parts if "GUARD-PIN" in p.number]
    assert len(guards) == 4 and not any(j.fasteners for j in assembly.joints if "GUARD-PIN" in j.number)


@pytest.mark.parametrize("turn", [0.0, 0.3])
def test_the_web_under_a_foot_is_measured_square_to_its_face(turn: float) -> None:
    """A board 12 x 100 x 80 mm; the plate's plane lies askew to it, its foot at the board's lower edge."""
    stand = Footing("board", "bolt", "", None, block((0.106, 0.0, 0.04), (0.012, 0.1, 0.08)))
    normal = np.array([math.sin(turn), 0.0, math.cos(turn)]) if turn else np.array([0.0, 1.0, 0.0])
    origin = np.array([0.05, 0.0, 0.03 if turn else -0.01])
    foot, way, through = web_at(steered(), stand, in_plane(normal, origin))
    assert_allclose(through, 0.012 / math.cos(turn), rtol=1e-6)
    assert_allclose(way, (math.cos(turn), 0.0, -math.sin(turn)), rtol=0, atol=1e-6)
    assert_allclose(foot[0], 0.1, rtol=0, atol=1e-6)


def test_collars_and_tabs_are_pairs() -> None:
    parts: dict[str, Part] = {p.number: p for p in controls_alone().parts}
    for kind in ("PEDAL-COLLAR", "PEDAL-TAB-B2R-B2L", "PEDAL-TAB-C2R-C2L"):
        right, left = (parts[f"P1-controls-{kind}-{h}"] for h in "RL")
        assert_allclose(np.array(left.places) * (1, -1, 1), right.places, rtol=0, atol=1e-6)
    assert replace(parts["P1-controls-PEDAL-COLLAR-R"], hand="").purpose == "control"


@pytest.mark.parametrize(("key", "holes"), [
    ("MIDDLE", ["AN3", "AN3", "AN4"]),  # the axle, and the elevator's two stops
    ("LOW-R", ["AN3", "AN4"]),  # the axle and the guard
])  # fmt: skip
def test_the_plates_of_a_bracket_have_the_holes_of_their_bolts(key: str, holes: list[str]) -> None:
    """Each mark lies on the bolt of its joint, an edge distance of two diameters within the plate."""
    assembly = controls_alone()
    for which in ("FIRST", "SECOND"):
        part = assembly.part(f"P1-controls-BRACKET-{which}-{key}")
        assert isinstance(part.shape, Plate)
        assert sorted(m.label for m in part.shape.marks) == holes
        joints = [j for j in assembly.joints if part.number in j.parts and j.bolt is not None]
        for mark in part.shape.marks:
            place = np.array(part.poses[0].place(*mark.points[0]))
            off = [np.array(j.place) - place for j in joints if j.fastener == mark.label]
            across = np.cross(part.poses[0].x, part.poses[0].y)
            assert min(float(np.linalg.norm(o - (o @ across) * across)) for o in off) < 1e-9
            edge = Polygon(part.shape.outline).exterior.distance(Point(mark.points[0]))
            assert edge > 1.98 * fasteners()[mark.label].diameter


def test_what_is_in_the_grips_and_not_drawn_is_said() -> None:
    told = " ".join(lay_out(steered()).unknowns)
    assert "angles and backing plates" in told and "bushes in the hubs" in told
    assert "bushes in the hubs" not in " ".join(lay_out(replace(steered(), controls=None)).unknowns)
