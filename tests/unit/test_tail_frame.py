"""Tail surfaces as frames: tubes on the outline, rivets in plates, hinges on one line, weights of the bodies.

Nothing is in the way, and the weight by area is gone when the parts are there.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose
from shapely import Point, Polygon
from tails import TAILED, tail_alone, tailed

from sparwright.base.problem import DesignProblem
from sparwright.data.loader import fasteners, material
from sparwright.family.model import Family, Model
from sparwright.mass.weigh import ledger
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Part, Plate, Skin, Straight
from sparwright.parts.solids import solids
from sparwright.parts.tail import tail_joints, tail_not_drawn, tail_parts
from sparwright.parts.tail_fittings import strap
from sparwright.parts.tail_frame import Surface, gussets, surfaces
from sparwright.plans.shells import shells
from sparwright.shape.flat_frame import hinge_line, in_space, lines, rib_places
from sparwright.shape.tube import Tube

INCH = 0.0254


def part(model: Model, number: str) -> Part:
    return next(p for p in tail_parts(model) if p.number == f"{model.name}-{number}")


def framed(model: Model, flat: bool) -> Surface:
    return next(s for s in surfaces(model) if s.flat == flat)


def changed(model: Model, name: str, **new: object) -> Model:
    """A model with keys of one surface's frame changed."""
    tail = getattr(model, name)
    assert tail.frame
    return replace(model, **{name: replace(tail, frame=replace(tail.frame, **new))})  # type: ignore[arg-type]


def test_edge_tubes_lie_within_the_outline_with_their_outsides_on_it() -> None:
    """The fin: leading edge 15 deg back from (152-1/4 in, 6 in), chord 46 in to 30 in, 52 in high."""
    leading, trailing = part(tailed(), "fin-LEADING-EDGE"), part(tailed(), "rudder-TRAILING-EDGE")
    for found, root, tip in ((leading, 152.25, 152.25 + 52 * math.tan(math.radians(15))),
                             (trailing, 152.25 + 46, 152.25 + 52 * math.tan(math.radians(15)) + 30)):  # fmt: skip
        along = np.array([tip - root, 52.0]) / math.hypot(tip - root, 52.0)
        points = solids(found)[0].points[:, [0, 2]] / INCH - np.array([root, 6.0])
        off = points @ np.array([along[1], -along[0]])
        outermost = off.min() if found is leading else -off.max()
        assert_allclose(outermost, 0.0, rtol=0, atol=1e-3)  # 48 corners of equal area stand 0.07 % out


def test_spar_and_front_tube_lie_half_the_gap_from_the_hinge_line() -> None:
    for s in surfaces(tailed()):
        hinge, found = hinge_line(s.tail, s.flat), lines(s.tail, s.frame, s.flat)
        for key, away in (("SP", -s.frame.gap / 2 - s.frame.fixed.spar.outside / 2),
                          ("FR", s.frame.gap / 2 + s.frame.movable.front.outside / 2)):  # fmt: skip
            point = np.array(found[key].point(0.3)) - np.array(hinge.point(0.3))
            assert_allclose(point @ hinge.aft, away, rtol=0, atol=1e-12)


def test_elevators_turn_about_one_straight_line_and_their_front_tubes_are_in_line() -> None:
    hinge = hinge_line(tailed().tailplane, True)
    assert abs(hinge.slope) < 1e-4
    right, left = (part(tailed(), f"elevator-FRONT-{h}").shape for h in "RL")
    assert isinstance(right, Tube) and isinstance(left, Tube)
    assert_allclose(right.path[0] * (1, -1, 1), left.path[0], rtol=0, atol=1e-12)


def test_ribs_are_even_and_no_further_apart_than_the_pitch() -> None:
    fixed = framed(tailed(), True).frame.fixed
    found = np.diff([0.0, *rib_places(fixed, 0.0, 55 * INCH), 55 * INCH])
    assert_allclose(found, 55 / 4 * INCH, rtol=1e-12)  # four bays of 13.75 in, at most 14
    assert rib_places(replace(fixed, ribs=(0.4,)), 0.0, 1.0) == (0.4,)


def test_every_rivet_is_in_its_plate_two_diameters_from_the_edge_and_three_from_the_next() -> None:
    count = 0
    for s in surfaces(tailed()):
        d = fasteners()[s.frame.gusset.rivet].diameter
        for p in tail_parts(tailed()):
            if p.purpose == "tail gusset" and p.number.split("-")[1] in (s.name("fixed"), s.name("movable")):
                assert isinstance(p.shape, Plate) and p.count == 2
                plate, rivets = Polygon(p.shape.outline), [Point(xy) for xy in p.shape.marks[0].points]
                count += 1
                assert all(plate.exterior.distance(r) >= 2 * d - 1e-9 and plate.contains(r) for r in rivets)
                apart = [a.distance(b) for i, a in enumerate(rivets) for b in rivets[:i]]
                assert min(apart) >= 3 * d - 1e-9
    assert count > 40


def test_rivets_of_the_joints_are_those_marked_on_the_plates() -> None:
    model = tailed()
    marked = {p.number: 2 * len(p.shape.marks[0].points) for p in tail_parts(model)
              if p.purpose == "tail gusset" and isinstance(p.shape, Plate)}  # fmt: skip
    joints = [j for j in tail_joints(model) if j.kind == "rivet"]
    assert {j.parts[0]: j.fasteners for j in joints if "GUSSET" in j.parts[0]} == marked
    lots = [p for p in tail_parts(model) if p.number.endswith("RIVETS")]
    assert sum(j.fasteners for j in joints) == sum(int(p.name.split()[0]) for p in lots)


def test_weights_are_those_of_the_bodies() -> None:
    for p in tail_parts(tailed()):
        bodies = solids(p)
        if not bodies or p.material == "bought" or isinstance(p.shape, Skin):
            continue
        own = sum(b.volume for b in bodies) * material(p.material).density
        assert_allclose(p.mass * p.count, own, rtol=0.002, atol=0, err_msg=p.number)
        assert_allclose(np.mean([b.centre for b in bodies], axis=0), np.mean(p.places, axis=0), rtol=0, atol=1e-3)


def test_fabric_weighs_by_its_area_on_both_faces() -> None:
    """Fin: between root and tip at 3-1/2 and 51-5/8 in, from spar to leading edge tube, and round that tube."""
    s = framed(tailed(), False)
    found, along = part(tailed(), "fin-FABRIC"), lines(s.tail, s.frame, False)
    low, high = 3.5 * INCH, 51.625 * INCH
    deep = [along["SP"].point(v)[0] - along["LE"].point(v)[0] for v in (low, high)]
    round_ = math.pi * (0.375 + 0.025) * INCH * math.hypot(high - low, along["LE"].slope * (high - low))
    wanted = (2 * sum(deep) / 2 * (high - low) + round_) * 0.06 * 4.88243
    assert_allclose(found.mass, wanted, rtol=1e-4)
    assert isinstance(found.shape, Skin) and found.shape.thickness == 0


def test_a_strap_lies_on_both_crowns_and_round_its_bush_with_one_thickness() -> None:
    r, inner, t, edge, away = 0.01, 0.003, 0.001, 0.006, 0.016
    ring = Polygon(strap(away, r, inner, t, edge))
    assert ring.is_valid
    assert_allclose([ring.bounds[1], ring.bounds[3]], [-r - t, r + t], rtol=0, atol=1e-12)
    assert_allclose(ring.bounds[2], away + edge, rtol=0, atol=1e-12)
    assert_allclose(-ring.bounds[0], inner + t, rtol=0, atol=2e-5)
    # corners on the circles: the chords between the corners of the turn lie at most 2 % inside
    assert_allclose(Point(0, 0).distance(ring), inner, rtol=0.02)
    corners = strap(away, r, inner, t, edge)
    for leg in (corners[1:3], corners[-2:-4:-1]):  # outer and inner leg leave their circles along tangents
        assert abs((leg[1] - leg[0]) @ leg[1]) < 1e-12
    assert_allclose(ring.area, t * (ring.length / 2 - t), rtol=1e-3)  # one thickness, along its middle line
    assert Polygon(strap(-away, r, inner, t, edge)).equals_exact(
        Polygon(ring.exterior.coords * np.array([-1, 1])), 1e-9
    )
    with pytest.raises(ValueError, match="edge distance"):
        strap(0.009, r, inner, t, edge)


def test_hinge_parts_stand_on_the_hinge_line() -> None:
    for s in surfaces(tailed()):
        for v in s.frame.hinges.places:
            at = in_space(s.pose, [hinge_line(s.tail, s.flat).point(v)])[0]
            near = [p for p in tail_parts(tailed()) if p.purpose == "hinge" and p.number.endswith("PIN-" + _key(s, v))]
            assert len(near) == 1
            assert_allclose(near[0].places[0], at, rtol=0, atol=1e-9)


def test_a_hinge_pin_weighs_its_grip_and_five_diameters_of_head_nut_and_washers() -> None:
    """AN3, 0.190 in, 7.85 g/cm3: a bush of 7/8 in and play, straps of 7/8 in either side of it."""
    pin, d = part(tailed(), "rudder-HINGE-PIN-11"), fasteners()["AN3"].diameter
    grip = (3 * 0.875 + 2 * 0.010) * INCH
    density = material("4130N").density
    assert_allclose(pin.mass, math.pi / 4 * d**2 * (grip + 5 * d) * density, rtol=1e-9)


def test_a_pair_of_tabs_is_welded_half_round_its_tube_on_four_faces() -> None:
    """H0 is on a tube of 5/8 in across: four half turns."""
    weld = next(j for j in tail_joints(tailed()) if j.number == "P1-tail-TAB-WELD-H0")
    tube = next(p for p in tail_alone(tailed()).parts if p.number == weld.parts[0]).shape
    assert isinstance(tube, Tube)
    assert_allclose(weld.length, 4 * math.pi * tube.outside / 2, rtol=1e-12)


def _key(s: Surface, v: float) -> str:
    whole, rest = divmod(round(v / INCH * 64), 64)
    return f"{whole}+{rest:02d}-R" if rest and s.flat else f"{whole}-R" if s.flat else f"{whole}"


def test_nothing_is_in_the_way_every_joint_touches_and_every_part_is_held() -> None:
    found = measure(tail_alone(tailed()))
    assert found.clashes == () and found.apart == ()
    assert all(n.endswith("-TUBE-AWR-AWL") for n in found.loose)  # the axle, without its wheels
    assert found.bodies > 200


def test_a_hinge_in_a_gusset_and_ribs_off_their_tabs_are_found() -> None:
    """The measure can fail."""
    s = framed(tailed(), True)
    spoiled = changed(tailed(), "tailplane", hinges=replace(s.frame.hinges, places=(0.18, 0.76, 1.3)))
    found = measure(tail_alone(spoiled))
    assert any("HINGE" in c.one + c.other and "GUSSET" in c.one + c.other for c in found.clashes)
    wide = changed(tailed(), "tailplane", fixed=replace(s.frame.fixed, root=0.0225))
    assert {a.joint for a in measure(tail_alone(wide)).apart} >= {"P1-tailplane-BOLT-REAR-R"}


def test_a_tube_too_short_for_its_rivets_is_told_with_its_number() -> None:
    s = framed(tailed(), True)
    spoiled = changed(tailed(), "tailplane", gusset=replace(s.frame.gusset, rivets=24))
    with pytest.raises(DesignProblem, match=r"P1-tailplane-ROOT-R: its gusset at LE0\+48R wants"):
        list(tail_parts(spoiled))


def test_a_tube_that_passes_a_gusset_without_room_on_it_is_told() -> None:
    """Ribs 1-1/2 in apart: the plate of the middle one would hold neither front tube nor trailing edge."""
    s = framed(tailed(), True)
    ribs = tuple(v * INCH for v in (28.0, 29.5, 31.0, 44.0))
    spoiled = changed(tailed(), "tailplane", movable=replace(s.frame.movable, ribs=ribs))
    with pytest.raises(DesignProblem, match=r"P1-elevator-FRONT-R: its gusset at FR29\+32R has no room on it"):
        list(tail_parts(spoiled))


def test_ribs_begin_outside_the_root_whichever_way_it_slants() -> None:
    s = framed(tailed(), True)
    other = replace(s.frame.movable, root=12 * INCH, root_aft=3 * INCH, ribs=(), pitch=14 * INCH)
    for movable in (other, replace(other, root=3 * INCH, root_aft=12 * INCH)):
        right = framed(changed(tailed(), "tailplane", movable=movable), True).frames[1]
        for kind in ("front tube", "trailing edge"):
            along = next(m for m in right.members if m.kind == kind)
            v = [right.nodes[n][1] for n in along.nodes]
            assert v == sorted(v)


def test_parts_stand_in_the_ledger_in_place_of_the_weight_by_area() -> None:
    model = tailed()
    lines_ = {x.name: x for x in ledger(model, lay_out(model))}
    for name in ("tailplane and elevator", "fin and rudder"):
        assert lines_[name].kind == "replaced" and lines_[name].mass.value == 0
        assert "by area" in lines_[name].source
    drawn = sum(p.mass * p.count for p in tail_parts(model))
    in_ledger = sum(x.mass.value for x in lines_.values() if x.group == "tail")
    assert_allclose(in_ledger, drawn, rtol=1e-12)
    assert not {"tailplane", "fin"} & {s.name for s in shells(model, ())}


def test_a_surface_without_a_frame_weighs_by_area_and_is_shown_by_its_outline() -> None:
    model = replace(tailed(), fin=replace(tailed().fin, frame=None))
    found = {x.name: x for x in ledger(model, lay_out(model))}
    assert_allclose(found["fin and rudder"].mass.value, 52 * 38 / 144 * 0.62 * 0.45359237, rtol=1e-6)
    assert found["fin and rudder"].kind == "allowance" and found["tailplane and elevator"].kind == "replaced"
    assert "fin" in {s.name for s in shells(model, ())} and any(x.startswith("fin as") for x in tail_not_drawn(model))
    assert not [p for p in tail_parts(model) if "-fin-" in p.number or "-rudder-" in p.number]
    assert set(measure(tail_alone(model)).loose) <= {"W1-fuselage-TUBE-AWR-AWL"}  # the axle, without its wheels


def test_right_and_left_are_parts_of_their_own() -> None:
    numbers = {p.number for p in tail_parts(tailed())}
    right = {n for n in numbers if n.endswith("-R")}
    assert len(right) > 50 and {n[:-1] + "L" for n in right} == {n for n in numbers if n.endswith("-L")}
    assert all(p.hand == p.number[-1] for p in tail_parts(tailed()) if p.number[-2:] in ("-R", "-L"))


def test_gussets_are_cut_for_each_hand_and_straps_and_plates_say_their_stock() -> None:
    right, left = (part(tailed(), f"elevator-GUSSET-FR3-{h}").shape for h in "RL")
    assert isinstance(right, Plate) and isinstance(left, Plate)
    assert not np.allclose(right.outline, left.outline)
    eye = part(tailed(), "fin-HINGE-EYE-11")
    assert isinstance(eye.shape, Straight) and "bent" in eye.stock and eye.material == "4130N"


@pytest.mark.parametrize("name", ["W1", *(pytest.param(n, marks=pytest.mark.long) for n in ("W2", "W3"))])
def test_the_demo_s_tail_is_in_nobody_s_way(whinchat: Family, name: str) -> None:
    found = measure(tail_alone(whinchat.models[name]))
    assert found.clashes == () and found.apart == ()
    assert all(n.endswith("-TUBE-AWR-AWL") for n in found.loose)  # the axle, without its wheels


def test_the_rivets_first_place_is_behind_the_fillet_of_two_tubes() -> None:
    """Square to one another: radius and edge distance from the node."""
    s = framed(tailed(), True)
    movable = s.frames[1]
    arms = dict(gussets(s, movable))["FR30R"]
    g = s.frame.gusset
    square = [a for a in arms if a.member.kind == "front tube"]
    assert len(square) == 2
    for a in square:
        assert_allclose(
            a.first, 0.3125 * INCH + g.edge, rtol=0.02
        )  # the rib stands 2 deg off square: hinge is straight
        assert_allclose(a.reach - a.first, (g.rivets - 1) * g.pitch + g.edge, rtol=1e-12)


def test_the_file_is_the_one_we_think() -> None:
    assert TAILED.count("frame.gusset]") == 2
