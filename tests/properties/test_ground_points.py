"""The aeroplane on the ground: against clouds of points turned and laid on the ground, scaled, mirrored, lowered."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.spatial import ConvexHull, cKDTree
from scipy.spatial.transform import Rotation

from sparwright.family.ground import Ground, Springing
from sparwright.family.model import Model, Wheel
from sparwright.ground.balance import lever
from sparwright.ground.clearance import (
    bank_at_touch,
    by_the_wheel,
    clouds,
    in_space,
    lowest_height,
    propeller_height,
    tyre_to,
)
from sparwright.ground.pose import Feet, Pose, contact, lame, level, normal, stood, tail_down, tilted_down, tilted_level
from sparwright.shape.lifting import cut

MODELS = ("W1", "W2", "W3")
RING, TREAD = 720, 181  # points round a tyre, and round its section
FINE = 2e-5  # m: what such a cloud misses of a round tyre: r (1 - cos(pi/RING))


@pytest.fixture(scope="module", params=MODELS)
def model(whinchat, request) -> Model:
    return whinchat.models[request.param]


def tyre_cloud(wheel: Wheel) -> np.ndarray:
    """(3, n) points on a tyre: a ring of round section."""
    round_ = np.linspace(0, 2 * np.pi, RING, endpoint=False)
    section = np.linspace(0, 2 * np.pi, TREAD)
    tube, ring = wheel.width / 2, (wheel.diameter - wheel.width) / 2
    out = ring + tube * np.cos(section)[:, None]
    x, z = out * np.cos(round_), out * np.sin(round_)
    y = np.broadcast_to(tube * np.sin(section)[:, None], x.shape)
    return np.array([x.ravel(), y.ravel(), z.ravel()]) + np.array(wheel.place)[:, None]


def turned(points: np.ndarray, attitude: float, bank: float) -> np.ndarray:
    """Points as they lie over the ground: first banked about the aeroplane's axis, then pitched nose up."""
    # x aft, y right, z up: right wing low is a turn about x that takes +y down, nose up one about y that takes -x up
    spin = Rotation.from_euler("xy", [-bank, attitude])
    return np.asarray(spin.apply(np.array(points.T)).T)  # a copy: scipy wants one it may write to


def both(feet: Feet) -> np.ndarray:
    return np.hstack([tyre_cloud(w) for w in (feet.right, feet.left, feet.tail)])


def disc(model: Model) -> np.ndarray:
    around = np.linspace(0, 2 * np.pi, 7200)
    x, y, z = model.propeller.place
    r = model.propeller.diameter / 2
    return np.array([np.full(7200, x), y + r * np.cos(around), z + r * np.sin(around)])


def test_three_points_by_the_hull_of_the_tyres_seen_from_the_side(model: Model) -> None:
    """The line under both tyres is an edge of the convex hull of their side view; its slope is the attitude."""
    feet = stood(model).rest
    assert feet is not None
    side = np.hstack([tyre_cloud(feet.right), tyre_cloud(feet.tail)])[[0, 2]].T
    hull = side[ConvexHull(side).vertices]
    steps = np.roll(hull, -1, axis=0) - hull
    low = np.argmax(np.where(steps[:, 0] > 0, steps[:, 0], 0))  # the long edge below: hulls run anticlockwise
    slope = math.atan2(steps[low, 1], steps[low, 0])
    assert_allclose(tail_down(feet).attitude, slope, rtol=0, atol=1e-4)  # 0.5 deg of facet over 4 m of base


@pytest.mark.parametrize("bank", [0.0, 0.1, 0.3])
@pytest.mark.parametrize("attitude", [0.0, 0.2])
def test_heights_by_turning_points(model: Model, attitude: float, bank: float) -> None:
    """A cloud of tyres, propeller and wings is turned and let down until a tyre touches."""
    feet = stood(model).rest
    assert feet is not None
    floor = float(turned(both(feet), attitude, bank)[2].min())
    up = normal(attitude, bank)
    ours = min(_lowest(w, up) for w in (feet.right, feet.left, feet.tail))
    assert_allclose(ours, floor, rtol=0, atol=FINE)
    pose = Pose(attitude, bank, floor)
    theirs = turned(disc(model), attitude, bank)[2].min() - floor
    assert_allclose(propeller_height(pose, model.propeller), theirs, rtol=0, atol=1e-6)
    for points in clouds(model).values():
        theirs = turned(points, attitude, bank)[2].min() - floor
        assert_allclose(lowest_height(pose, points), theirs, rtol=0, atol=1e-12)


def _lowest(wheel: Wheel, up: np.ndarray) -> float:
    return float(up @ contact(wheel, up))


def test_tilted_and_lame_poses_touch_with_the_wheels_they_should(model: Model) -> None:
    on = stood(model)
    assert on.rest is not None and on.flat is not None
    for pose, feet, touching in (
        (tilted_level(on.rest, 0.1), on.rest, ("right",)),
        (tilted_down(on.rest, 0.1), on.rest, ("right", "tail")),
        (lame(on.flat), on.flat, ("right", "left")),
        (tail_down(on.rest), on.rest, ("right", "left", "tail")),
        (level(on.rest), on.rest, ("right", "left")),
    ):
        floor = float(turned(both(feet), pose.attitude, pose.bank)[2].min())
        assert_allclose(pose.ground, floor, rtol=0, atol=FINE)
        for name in touching:
            low = turned(tyre_cloud(getattr(feet, name)), pose.attitude, pose.bank)[2].min()
            assert_allclose(low, floor, rtol=0, atol=2 * FINE, err_msg=name)


def test_a_touch_is_one(model: Model) -> None:
    """At the tilt that is told the lowest point of the nearest thing lies on the ground, short of it above."""
    feet = stood(model).rest
    assert feet is not None
    shapes = clouds(model)
    for tilted in (tilted_level, tilted_down):
        bank, what = bank_at_touch(lambda b, f=tilted: f(feet, b), shapes, model.propeller)
        assert_allclose(lowest_height(tilted(feet, bank), shapes[what]), 0.0, rtol=0, atol=1e-9)
        short = tilted(feet, bank - 0.01)
        assert min(lowest_height(short, p) for p in shapes.values()) > 0
        assert propeller_height(short, model.propeller) > 0


def scaled(model: Model, by: float) -> Model:
    """The same aeroplane, all lengths times `by`."""
    wings = tuple(
        replace(
            w,
            leading_edge=tuple(by * v for v in w.leading_edge),
            panels=tuple(
                replace(
                    p,
                    root_buttline=by * p.root_buttline,
                    tip_buttline=by * p.tip_buttline,
                    root_chord=by * p.root_chord,
                    tip_chord=by * p.tip_chord,
                )
                for p in w.panels
            ),
            aileron=w.aileron and replace(w.aileron, inboard=by * w.aileron.inboard, outboard=by * w.aileron.outboard),
        )
        for w in model.wings
    )
    t, p, g = model.tailplane, model.propeller, model.ground
    assert g is not None
    sizes = {k: by * getattr(t, k) for k in ("span", "root_chord", "tip_chord")}
    tail = replace(t, leading_edge=tuple(by * v for v in t.leading_edge), **sizes)
    wheels = tuple(
        replace(w, diameter=by * w.diameter, width=by * w.width, place=tuple(by * v for v in w.place))
        for w in model.wheels
    )
    springing = tuple(
        replace(s, **{k: by * getattr(s, k) for k in ("rim", "tyre", "leg", "stop")}) for s in g.springing
    )
    propeller = replace(p, diameter=by * p.diameter, place=tuple(by * v for v in p.place))
    return replace(model, wings=wings, tailplane=tail, wheels=wheels, propeller=propeller,
                   ground=replace(g, springing=springing))  # fmt: skip


def test_twice_the_size_twice_the_clearance_and_the_same_angles(model: Model) -> None:
    big = scaled(model, 2.0)
    small_feet, big_feet = stood(model).rest, stood(big).rest
    assert small_feet is not None and big_feet is not None
    assert_allclose(tail_down(big_feet).attitude, tail_down(small_feet).attitude, rtol=1e-12, atol=0)
    for pose in (level, tail_down, lambda f: tilted_down(f, 0.1)):
        a, b = pose(small_feet), pose(big_feet)
        assert_allclose(propeller_height(b, big.propeller), 2 * propeller_height(a, model.propeller), rtol=1e-9)
        for name, points in clouds(model).items():
            assert_allclose(lowest_height(b, clouds(big)[name]), 2 * lowest_height(a, points), rtol=1e-9)


def test_a_wheel_that_stands_lower_lifts_all_by_as_much(model: Model) -> None:
    by = 0.07
    wheels = tuple(replace(w, place=(w.place[0], w.place[1], w.place[2] - by)) for w in model.wheels)
    lower = replace(model, wheels=wheels)
    a, b = stood(model).rest, stood(lower).rest
    assert a is not None and b is not None
    assert_allclose(propeller_height(level(b), model.propeller) - propeller_height(level(a), model.propeller), by)
    for points in clouds(model).values():
        assert_allclose(lowest_height(level(b), points) - lowest_height(level(a), points), by, rtol=1e-9)
    assert_allclose(tail_down(b).attitude, tail_down(a).attitude, rtol=1e-12)


def test_left_and_right_are_alike(model: Model) -> None:
    """Tilted over the left wheel, the mirrored cloud lies as the right one does over the right wheel."""
    feet = stood(model).rest
    assert feet is not None
    right = tilted_down(feet, 0.15)
    up = normal(right.attitude, -0.15)
    left = Pose(right.attitude, -0.15, float(up @ contact(feet.left, up)))
    assert_allclose(left.ground, right.ground, rtol=1e-12)
    for points in clouds(model).values():
        mirrored = points * np.array([[1.0], [-1.0], [1.0]])
        assert_allclose(lowest_height(left, mirrored), lowest_height(right, points), rtol=1e-12)


def test_tipping_by_rotating_the_centre_of_gravity(model: Model) -> None:
    """Turned over the edge of its wheels by its turn-over angle less a right one, the centre stands over the edge.

    An independent construction: the contacts and the centre are turned about the edge as vectors.
    """
    feet = stood(model).rest
    assert feet is not None
    pose = tail_down(feet)
    x = lever(pose, feet, 1.1, 0.1, 0.0)
    up = pose.up
    foot, tail = contact(feet.right, up), contact(feet.tail, up)
    edge = (tail - foot) / np.linalg.norm(tail - foot)
    to_cg = np.array([1.1, 0.0, 0.1]) - foot
    swung = Rotation.from_rotvec(edge * (math.pi / 2 - x.turn_over)).apply(to_cg)
    other = Rotation.from_rotvec(-edge * (math.pi / 2 - x.turn_over)).apply(to_cg)
    sideways = [abs(float(v @ np.cross(edge, up))) for v in (swung, other)]
    assert min(sideways) < 1e-12 < max(sideways)


def test_tyre_distance_by_points(model: Model) -> None:
    """Least distance of the tyre's own points, leg at every place of its way, to 201 sections of the lowest wing."""
    feet = stood(model).hanging
    assert feet is not None
    wing = min(model.wings, key=lambda w: w.leading_edge[2])
    buttlines = np.linspace(wing.panels[0].root_buttline, wing.panels[-1].tip_buttline, 201)
    stations = [cut(wing, model.sections, float(y)) for y in buttlines]
    points = np.hstack([in_space(s, s.points * s.chord) for s in stations if s.points is not None])
    near = cKDTree(points.T)
    tyre = tyre_cloud(feet.right)[:, ::23]
    theirs = min(float(near.query((tyre + np.array([[0], [0], [r]])).T)[0].min()) for r in (0.0, 0.05, 0.1))
    ours = tyre_to(feet.right, 0.1, by_the_wheel(model, wing, feet.right))
    assert_allclose(ours, theirs, rtol=0, atol=0.001)  # points of tyre and wing stand up to 10 mm apart


def test_less_springing_stands_higher(model: Model) -> None:
    g = model.ground
    assert g is not None
    heights = []
    for part in (0.0, 0.5, 1.0):
        soft = tuple(replace(s, tyre=part * s.tyre, leg=part * s.leg) for s in g.springing)
        feet = stood(replace(model, ground=replace(g, springing=soft))).rest
        assert feet is not None
        heights.append(propeller_height(level(feet), model.propeller))
    main: Springing = next(s for s in g.springing if s.name == "main")
    assert_allclose(np.diff(heights), -(main.tyre + main.leg) / 2, rtol=1e-9)


def test_nothing_is_taken_for_granted(model: Model) -> None:
    assert model.ground is not None
    for ground, says in ((None, "main.tyre"), (Ground(bank=0.1), "main.leg"),
                         (replace(model.ground, springing=model.ground.springing[:1]), "tail.tyre")):  # fmt: skip
        on = stood(replace(model, ground=ground))
        assert on.rest is None and on.flat is None and says in on.why and says in on.why_flat
    no_rim = tuple(replace(s, rim=None) for s in model.ground.springing)
    on = stood(replace(model, ground=replace(model.ground, springing=no_rim)))
    assert on.rest is not None and on.flat is None and "main.rim" in on.why_flat and "stop" not in on.why_flat
