"""Who sits in the cockpit: linkage by hand, what is measured by hand, results, checks and what is not said."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
import shapely
from families import DEMO_FILE, told
from numpy.testing import assert_allclose

from sparwright.base.check import Check, Result
from sparwright.base.source import Band
from sparwright.data.occupant import bodies, rule, rules
from sparwright.family.model import Family, Model
from sparwright.family.occupant import Coaming, Seat
from sparwright.flight.fly import Flight
from sparwright.occupant import cockpit
from sparwright.occupant.fit import LARGEST, Fit, fits, settle, worst
from sparwright.occupant.person import links
from sparwright.occupant.sit import Cushions, leg, sit
from sparwright.occupant.told import MEASURES, NO_SEAT, OccupantTold, _seen, occupant_told
from sparwright.run import RunResult

DEMO = DEMO_FILE.read_text("utf-8")
WHO = links(bodies()["male_50"])
MODELS = ("W1", "W2", "W3")
GIVE = 4 * 0.0254


@pytest.fixture
def w1(whinchat: Family) -> Model:
    return whinchat.models["W1"]


def seated(model: Model, **changes: Any) -> Model:
    """The model with another seat."""
    assert model.seat is not None
    return replace(model, seat=replace(model.seat, **changes))


def told_of(ran: Callable[[str], RunResult], model: Model) -> OccupantTold:
    """What is said of a model that flies as W1 does."""
    done = ran("W1")
    flight: Flight = replace(done.flight, flown=replace(done.flight.flown, model=model))
    return occupant_told(flight, tuple(r for r in done.results if r.id.startswith("ground.")))


def by_id(told: OccupantTold) -> dict[str, Result]:
    return {r.id: r for r in told.results}


def checked(told: OccupantTold, id: str) -> Check:
    return next(c for c in told.checks if c.id == id)


# ------------------------------------------------------------------ linkage


def test_upright_on_a_flat_seat_by_hand() -> None:
    p = sit(WHO, (1.0, 0.5), 0.0, 0.0)
    assert_allclose(p.hip, (1.0 - 0.134, 0.5 + 0.098), atol=1e-12)
    assert_allclose(p.neck, (1.0, 0.5 + 0.595), atol=1e-12)
    assert_allclose(p.eye, (1.0 - 0.174, 0.5 + 0.790), atol=1e-12)
    assert_allclose(p.top[1], 0.5 + 0.910, atol=1e-12)
    assert_allclose(p.head[1], 0.5 + 0.910 - 0.066 * 1.74, atol=1e-12)


def test_leaning_back_by_hand() -> None:
    """30 deg: the shoulder goes back by half of its height, the head stays upright on it."""
    p = sit(WHO, (0.0, 0.0), math.radians(30), 0.0)
    assert_allclose(p.neck, (0.595 / 2, 0.595 * math.sqrt(3) / 2), atol=1e-12)
    assert_allclose(p.eye[1] - p.neck[1], 0.790 - 0.595, atol=1e-12)
    assert_allclose(p.hip[1], 0.098, atol=1e-12)
    assert_allclose(-p.hip[0] * math.sqrt(3) / 2 + p.hip[1] / 2, 0.134, atol=1e-12)


def test_slumping_lowers_shoulder_and_eye_alike() -> None:
    a, b = (sit(WHO, (0.0, 0.0), 0.0, 0.0, slump=s) for s in (0.0, 0.04))
    assert_allclose((a.eye[1] - b.eye[1], a.neck[1] - b.neck[1], a.hip[1] - b.hip[1]), (0.04, 0.04, 0.0), atol=1e-12)


def test_a_leg_of_three_four_five_by_hand() -> None:
    """Thigh 0.4, shin 0.3, no foot, pedal 0.5 ahead: a right angle at (-0.32, 0.24)."""
    who = replace(WHO, thigh=0.4, shank=0.3, ankle=0.0, ball=0.0, heel=0.0)
    of = leg(who, (0.0, 0.0), (-0.5, 0.0), 0.0)
    assert_allclose(of.angle, math.pi / 2, atol=1e-12)
    assert_allclose(of.knee, (-0.32, 0.24), atol=1e-12)
    assert_allclose(of.ankle, (-0.5, 0.0), atol=1e-12)


def test_a_foot_square_to_an_upright_shin() -> None:
    """Shin straight down: the ball is as far ahead of the ankle as the foot says, and the sole below it."""
    who = replace(WHO, thigh=0.4, shank=0.4)
    of = leg(who, (0.0, 0.0), (-0.4 - who.ball, -0.4 - who.ankle - 0.025), 0.025)
    assert_allclose(of.knee, (-0.4, 0.0), atol=1e-9)
    assert_allclose(of.ankle, (-0.4, -0.4), atol=1e-9)
    assert_allclose(of.heel, (-0.4 + who.heel, -0.4 - who.ankle - 0.025), atol=1e-9)
    assert_allclose(of.angle, math.pi / 2, atol=1e-9)


def test_a_pedal_out_of_reach_has_no_knee() -> None:
    of = leg(WHO, (0.0, 0.0), (-1.2, 0.0), 0.025)
    assert math.isnan(of.angle) and math.isnan(of.knee[0]) and of.length == pytest.approx(1.2)


# ------------------------------------------------------------------ the choice of cushions


def test_the_largest_takes_no_cushion_to_sit_on_and_others_come_up_to_that_eye(w1: Model) -> None:
    assert w1.seat is not None
    high = replace(w1.seat, cushion=0.5)
    eye = sit(links(bodies()[LARGEST]), (high.place[0], high.place[2]), high.back, high.pan, slump=0.02).eye[1]
    for key, body in bodies().items():
        c = settle(high, links(body), eye)
        p = sit(links(body), (high.place[0], high.place[2]), high.back, high.pan, Cushions(c.under), 0.02)
        if key == LARGEST:
            assert c.under == 0.0
        assert_allclose(p.eye[1], eye, atol=1e-9)


def test_pedals_are_set_for_the_knee_that_is_wanted(w1: Model) -> None:
    for f in fits(w1).values():
        if 0.0 < f.cushions.nearer < w1.seat.pedals.adjust:  # type: ignore[union-attr]
            assert_allclose(f.straight.value, rule("knee_wanted").value, atol=1e-6)


def test_a_cushion_behind_brings_the_hand_to_the_stick(w1: Model) -> None:
    """Of those who take some but not all of it, either arm or leg is just long enough."""
    assert w1.seat is not None
    some = [f for f in fits(w1).values() if 0.0 < f.cushions.behind < w1.seat.behind]
    assert some
    for f in some:
        assert_allclose(min(f.stick.low, f.throttle.low), 0.0, atol=1e-6)


# ------------------------------------------------------------------ what surrounds


def test_the_nose_by_hand(w1: Model) -> None:
    """Eye 50 mm over the body's crown, 0.5 m behind it; from 0.2 m over it the nose ahead is what hides."""
    crown = next(b for b in w1.fuselage.body if abs(b.station - 34 * 0.0254) < 1e-9)
    angle, at = cockpit.nose(w1, (crown.station + 0.5, crown.top + 0.05))
    assert_allclose(angle, math.atan2(0.05, 0.5), atol=1e-12)
    assert at == (crown.station, crown.top)
    tip = min(w1.fuselage.body, key=lambda b: b.station)
    angle, at = cockpit.nose(w1, (crown.station + 0.5, crown.top + 0.2))
    assert_allclose(angle, math.atan2(crown.top + 0.2 - tip.top, crown.station + 0.5 - tip.station), atol=1e-12)
    assert at == (tip.station, tip.top)


def test_width_between_tubes_by_hand(w1: Model) -> None:
    """All at buttline 12 in: longerons 3/4 in thick, the diagonal 5/8 in; station 50 in, 4 in over the diagonal."""
    diagonal, longeron = -16 + 26.5 * 4 / 24, 11 - 0.5 * 4 / 24
    width = 23.375 - 0.125 * 4 / (longeron - diagonal)
    assert_allclose(cockpit.between_tubes(w1, 50 * 0.0254, (diagonal + 4) * 0.0254), width * 0.0254, rtol=1e-9)
    assert math.isnan(cockpit.between_tubes(w1, 50 * 0.0254, 2.0))


def test_the_opening_by_hand() -> None:
    c = Coaming(front=(1.0, 0.2, 0.4), aft=(2.0, 0.3, 0.4))
    assert_allclose(cockpit.opening(c, 1.5), 0.5, rtol=1e-12)
    assert math.isnan(cockpit.opening(c, 0.9))


def test_a_wing_lower_over_the_cockpit_leaves_less_way_out(w1: Model) -> None:
    """By what it is lowered, where the wing bounds it; a door gives it back."""
    assert w1.seat is not None and w1.seat.coaming is not None
    size, which = cockpit.way_out(w1, w1.seat.coaming)
    wing = w1.wings[0]
    x, y, z = wing.leading_edge
    low = replace(w1, wings=(replace(wing, leading_edge=(x, y, z - 0.05)),))
    assert which == "the wing above"
    assert_allclose(cockpit.way_out(low, w1.seat.coaming)[0], size - 0.05, atol=2e-4)
    door = replace(w1.seat.coaming, door=w1.seat.coaming.door + 0.05)
    assert_allclose(cockpit.way_out(low, door)[0], size, atol=1e-9)


def test_only_wings_that_pass_over_are_above(whinchat: Family) -> None:
    assert {n: list(cockpit.wings_over(m)) for n, m in whinchat.models.items()} == {
        "W1": ["wing"],
        "W2": ["upper"],
        "W3": ["upper"],
    }


def test_a_head_over_the_line_is_outside(w1: Model) -> None:
    assert w1.seat is not None and w1.seat.turnover is not None
    x, y, _ = w1.seat.turnover
    f, g, h = (fits(seated(w1, turnover=(x, y, z)))["male_95"] for z in (1.5, 0.6, 0.5))
    assert f.upside_down.low > 0.1 > -0.05 > g.upside_down.high
    assert h.upside_down.value < g.upside_down.value - 0.05  # the lower it is, the farther the head stands out


def test_a_lower_panel_takes_the_knees_room(w1: Model) -> None:
    """Down to the shins it stands in them, and says how deep."""
    assert w1.seat is not None and w1.seat.panel is not None
    for key in bodies():
        f, low, deep = (
            fits(seated(w1, panel=replace(w1.seat.panel, lower=z)))[key].knees.value for z in (0.18, 0.05, -0.15)
        )
        assert f > low > deep
    assert deep < 0


def test_belly_widths_and_head_by_hand(w1: Model) -> None:
    """Upright on a flat seat without cushions: the largest man's own sizes off what surrounds him."""
    seat = w1.seat
    assert seat is not None and seat.stick is not None and seat.coaming is not None
    bolt = seated(w1, back=0.0, pan=0.0, cushion=0.0, behind=0.0)
    f, x = fits(bolt)[LARGEST], seat.place[0]
    assert_allclose(f.stick_back.value, x - seat.stick.place[0] - seat.stick.aft - 0.325 - 0.05, atol=1e-12)
    assert_allclose(f.shoulders.value, cockpit.opening(seat.coaming, x - 0.055 * 1.855) - 0.510 - 0.040, atol=1e-12)
    hip = (x - 0.134 / 1.74 * 1.855, seat.place[2] + 0.098 / 1.74 * 1.855)
    assert_allclose(f.hips.value, cockpit.between_tubes(w1, *hip) - 0.405, atol=1e-12)
    head = shapely.Point(x - (0.100 - 0.052) * 1.855, seat.place[2] + 0.965 - 0.02 - 0.066 * 1.855)
    (wing,) = cockpit.wings_over(w1).values()
    assert_allclose(f.above.value, wing.distance(head) - 0.066 * 1.855 - 0.035, atol=1e-12)
    bare = fits(replace(bolt, seat=replace(bolt.seat, helmet=False)))[LARGEST]
    assert_allclose(bare.above.value - f.above.value, 0.035, atol=1e-12)
    assert_allclose(bare.head_held.value - f.head_held.value, 0.035, atol=1e-12)


# ------------------------------------------------------------------ straps and crash


def test_straps_by_hand(w1: Model) -> None:
    """Anchors laid where the angles are known: square to the back, and at 50 deg below the crease of the hip."""
    seat = w1.seat
    assert seat is not None and seat.harness is not None
    for key, f in fits(w1).items():
        b, top = seat.back, f.sitting.neck
        x, z = top[0] + 0.02 * math.sin(b), top[1] + 0.02 * math.cos(b)
        hip = f.sitting.hip
        shoulder = (x + 0.5 * math.cos(b), 0.1, z - 0.5 * math.sin(b))
        a = math.radians(50)
        lap = (hip[0] - 0.05 + 0.3 * math.cos(a), 0.2, hip[1] + 0.07 - 0.3 * math.sin(a))
        found = fits(seated(w1, harness=replace(seat.harness, shoulder=shoulder, lap=lap)))[key]
        assert_allclose(found.strap.value, 0.0, atol=1e-9)
        assert_allclose(found.lap.value, a, atol=1e-9)


def test_the_head_goes_round_the_hip_in_a_lap_strap(w1: Model) -> None:
    """Farthest from the seat: hip to head, what the strap gives, and the head itself at most; and more than held."""
    seat = w1.seat
    assert seat is not None and seat.harness is not None
    f = fits(w1)["male_95"]
    arc = math.dist(f.sitting.hip, f.sitting.head)
    from_seat = math.dist(f.sitting.hip, (seat.place[0], seat.place[2]))
    assert arc < f.head_reach < arc + from_seat + seat.harness.give + f.who.head
    assert f.head_lap.value < f.head_held.value
    more = fits(seated(w1, harness=replace(seat.harness, give=2 * GIVE)))["male_95"]
    assert (
        0.5 * GIVE < f.knees_crash.value - more.knees_crash.value <= GIVE
    )  # below the edge: nearer by less than moved
    assert more.head_held.value < f.head_held.value
    assert more.head_reach > f.head_reach + 0.02 and more.head_lap.value < f.head_lap.value


# ------------------------------------------------------------------ told


def test_every_measure_of_the_demo_is_known_and_says_how(ran: Callable[[str], RunResult]) -> None:
    for name in MODELS:
        done = ran(name)
        mine = [r for r in done.results if r.id.startswith("occupant.")]
        assert len({r.id for r in mine}) == len(mine) > 40
        for r in mine:
            assert r.band.known and r.low <= r.value <= r.high and "trial sit" in r.caveat, r.id
        held = {c.id: c for c in done.checks if c.id.startswith("occupant.")}
        assert len(held) == len(MEASURES) + 3 + 6  # five of the seat that is drawn, one of turning over
        ids = {r.id for r in done.results}
        assert all(set(c.parents) <= ids for c in held.values())
        assert {c.verdict for c in held.values()} == {"pass"}


def test_working_gives_the_value(ran: Callable[[str], RunResult]) -> None:
    done = {r.id: r for r in ran("W1").results}
    line = done["occupant.view.female_5"].steps[0]
    x, z, px, pz = (g[1] for g in line.given)
    assert_allclose(math.atan((z - pz) / (x - px)), done["occupant.view.female_5"].value, rtol=1e-9)
    s, a = (g[1] for g in done["occupant.view.climb.male_95"].steps[0].given)
    assert_allclose(s - a, done["occupant.view.climb.male_95"].value, rtol=1e-12)


def test_on_three_wheels_the_ground_ahead_is_hidden(ran: Callable[[str], RunResult]) -> None:
    r = by_id(told_of(ran, ran("W1").flight.flown.model))["occupant.view.ground.female_5"]
    attitude = next(x for x in ran("W1").results if x.id == "ground.attitude").value
    level = by_id(told_of(ran, ran("W1").flight.flown.model))["occupant.view.female_5"]
    assert_allclose(r.value, level.value - attitude, rtol=1e-12)
    assert r.value < 0 and "not seen at all" in r.caveat


def test_where_the_ground_is_first_seen_by_hand(w1: Model) -> None:
    """Eye over the wheels' lowest point, as the aeroplane stands, over the tangent of the line of sight."""
    f, up, down = fits(w1)["female_5"], math.radians(4.0), math.radians(8.0)
    x, z = f.sitting.eye
    low = min(w.place[2] * math.cos(up) - w.place[0] * math.sin(up) - w.diameter / 2 for w in w1.wheels)
    far = (z * math.cos(up) - x * math.sin(up) - low) / math.tan(down)
    assert f"about {far:.0f} m" in _seen(w1, f, Band.exact(down), Band.exact(up)) and 5 < far < 50


def test_a_higher_seat_sees_the_ground_ahead(ran: Callable[[str], RunResult], w1: Model) -> None:
    assert w1.seat is not None
    x, y, z = w1.seat.place
    r = by_id(told_of(ran, seated(w1, place=(x, y, z + 0.25))))["occupant.view.ground.male_95"]
    assert r.value > 0 and "first seen about" in r.caveat


def test_without_a_seat_one_check_is_unknown_and_says_why(ran: Callable[[str], RunResult], w1: Model) -> None:
    told = told_of(ran, replace(w1, seat=None))
    assert told.results == () and len(told.checks) == 1
    assert told.checks[0].verdict == "unknown" and told.checks[0].caveat == NO_SEAT


@pytest.mark.parametrize(
    ("left_out", "ids"),
    [
        ("stick", ("reach.stick", "belly")),
        ("throttle", ("reach.throttle",)),
        ("pedals", ("legs", "knees", "heels", "knees_crash")),
        ("panel", ("knees", "knees_crash", "head.crash")),
        ("harness", ("harness.shoulder_least", "harness.lap_most", "knees_crash", "head.crash")),
        ("coaming", ("shoulders", "way_out")),
        ("turnover", ("head.turnover",)),
    ],
)
def test_what_is_left_out_is_unknown_and_named(
    left_out: str, ids: tuple[str, ...], ran: Callable[[str], RunResult], w1: Model
) -> None:
    told = told_of(ran, seated(w1, **{left_out: None}))
    for id in ids:
        c = checked(told, f"occupant.{id}")
        assert c.verdict == "unknown" and left_out in c.caveat, c


def test_a_lap_strap_alone_lets_the_head_to_the_panel(ran: Callable[[str], RunResult], w1: Model) -> None:
    assert w1.seat is not None and w1.seat.harness is not None
    told = told_of(ran, seated(w1, harness=replace(w1.seat.harness, shoulder=None)))
    c = checked(told, "occupant.head.crash")
    assert c.verdict == "fail" and "lap strap alone" in c.title
    assert checked(told, "occupant.harness.shoulder_least").verdict == "unknown"


def test_pedals_too_far_fail_and_are_not_unknown(ran: Callable[[str], RunResult], w1: Model) -> None:
    assert w1.seat is not None and w1.seat.pedals is not None
    told = told_of(ran, seated(w1, pedals=replace(w1.seat.pedals, adjust=0.0)))
    c = checked(told, "occupant.legs")
    assert c.verdict == "fail" and c.case == "5th percentile female" and c.value < 0


def test_the_worst_is_the_nearest_to_failing(w1: Model) -> None:
    found: dict[str, Fit] = fits(w1)
    assert worst(found, "stick")[0].low == min(f.stick.low for f in found.values())
    assert worst(found, "lap", most=True)[0].high == max(f.lap.high for f in found.values())


def test_rules_say_where_they_stand() -> None:
    for key, r in rules().items():
        assert r.title and r.source.key and (r.source.place or r.source.key == "common practice"), key
    assert_allclose(rule("way_out").value, 0.4826, rtol=1e-12)
    assert rule("lap_most").unit == "rad"


def test_the_leg_has_an_outline(w1: Model) -> None:
    from sparwright.occupant.fit import outline

    f = fits(w1)["male_95"]
    assert f.reached is not None
    shape = outline(f.who, f.sitting.hip, f.reached)
    assert shape.contains(shapely.LineString([f.sitting.hip, f.reached.knee, f.reached.ankle]))


# ------------------------------------------------------------------ bad input


@pytest.mark.parametrize(
    ("old", "new", "key", "says"),
    [
        ("upper = \"16-1/2 in\"", "upper = \"6 in\"", "seat.panel.upper", "above its lower edge"),
        ("station = \"34 in\"\nlower", "station = \"84 in\"\nlower", "seat.panel.station", "ahead of the seat"),
        ("place = [\"22 in\", \"5 in\"", "place = [\"62 in\", \"5 in\"", "seat.pedals.place", "ahead of the seat"),
        ('place = ["49 in", "0 in", "6 in"]', 'place = ["63 in", "0 in", "6 in"]', "seat.stick.place", "of the seat"),
        ("shoulder = [\"97 in\"", "shoulder = [\"60 in\"", "seat.harness.shoulder", "behind the seat"),
        ("aft = [\"70 in\", \"11-1/2 in\"", "aft = [\"40 in\", \"11-1/2 in\"", "seat.coaming.aft", "behind its front"),
        ("front = [\"42 in\", \"8 in\"", "front = [\"42 in\", \"-8 in\"", "seat.coaming.front", "on the right side"),
        ("place = [\"64-1/2 in\", \"0 in\", \"-9 in\"]", "place = [\"64-1/2 in\", \"0 in\", \"-29 in\"]", "seat.place",
         "in the body"),
        ("back = \"15 deg\"", "back = \"95 deg\"", "seat.back", "at most 60 deg"),
    ],
)  # fmt: skip
def test_a_seat_that_cannot_be_is_told(old: str, new: str, key: str, says: str) -> None:
    assert DEMO.count(old) == 1, old
    told(DEMO.replace(old, new), new.split("\n")[0], key, says)


def test_a_seat_is_a_record(w1: Model) -> None:
    assert isinstance(w1.seat, Seat)
