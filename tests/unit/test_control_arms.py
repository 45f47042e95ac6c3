"""Arms, pivots, brackets, rod ends and pedals of the probe's controls: balance, sums by hand, what is not said."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from handmade import CASE, answer_of
from shapely import Point, box
from steered import controls_alone, steered

from sparwright.base.check import Check
from sparwright.controls.chain import moving
from sparwright.controls.motion import Motion, pull
from sparwright.family.controls import ControlCable
from sparwright.family.model import Model
from sparwright.margins import sources
from sparwright.margins.braces import Strengths
from sparwright.margins.control_arms import arm_checks, arms, cuts, loads_at, pieces
from sparwright.margins.control_brackets import on_pulley, pivot_and_bracket_checks
from sparwright.margins.control_forces import acting, on_pivot, tensions
from sparwright.margins.control_pivots import pivots
from sparwright.margins.control_rods import rod_end_checks
from sparwright.margins.pedal_forces import on_rails, pressed
from sparwright.margins.pedal_rails import Rail, rail_uses, tabs_of
from sparwright.margins.pedals import pedal_checks
from sparwright.parts.control_bodies import frame_tube
from sparwright.parts.part import Part, Plate
from sparwright.shape.frame import nodes
from sparwright.strength.members.column import overhung
from sparwright.structure.answered import Answered

POUND, INCH = 4.4482216152605, 0.0254
HAND = 1.5 * 167 * POUND


@pytest.fixture(scope="module")
def model() -> Model:
    """The probe with controls."""
    return steered()


@pytest.fixture(scope="module")
def motions(model: Model) -> Sequence[Motion]:
    """Its controls through their travel."""
    assert model.controls is not None
    return moving(model, model.controls)[1]


@pytest.fixture(scope="module")
def parts() -> dict[str, Part]:
    """Its parts."""
    return {p.number: p for p in controls_alone().parts}


@pytest.fixture(scope="module")
def answer(model: Model) -> Answered:
    """One case, of the elevator."""
    bare = answer_of(model, {})
    return replace(bare, laid=(replace(bare.laid[0], case=replace(CASE, key="control.elevator.pull")),))


def every(model: Model, answer: Answered, motions: Sequence[Motion], parts: dict[str, Part],
          strengths: Strengths | None = None) -> dict[str, Check]:  # fmt: skip
    """By what follows strength.control."""
    of = strengths or sources.strengths(model)
    found = [*arm_checks(model, answer, motions, of, parts), *rod_end_checks(model, answer, motions, of),
             *pivot_and_bracket_checks(model, answer, motions, of, parts),
             *pedal_checks(model, answer, motions, of, parts)]  # fmt: skip
    assert len({c.id for c in found}) == len(found)
    return {c.id.removeprefix("strength.control."): c for c in found}


@pytest.fixture(scope="module")
def checks(model: Model, answer: Answered, motions: Sequence[Motion], parts: dict[str, Part]) -> dict[str, Check]:
    """Of the probe as it is."""
    return every(model, answer, motions, parts)


def elevator(motions: Sequence[Motion]) -> Motion:
    """Its motion."""
    return next(m for m in motions if m.name == "elevator")


# ------------------------------------------------------------------ forces


def test_a_crank_is_in_balance_about_its_pivot(motions: Sequence[Motion]) -> None:
    """In every stance and both ways the links that come and those that go on turn it as much, to 1e-4 of the steps."""
    m = elevator(motions)
    lever, found = m.run.levers["middle"], acting(m, "middle")
    assert len(found) == 2 and {a.comes for a in found} == {True, False}
    turns = [np.cross(a.link.ends[1 if a.comes else 0] - lever.pivot, a.force) @ lever.axis for a in found]
    assert np.abs(turns[0]).min() > 10
    np.testing.assert_allclose(turns[0] + turns[1], 0.0, atol=1e-4 * np.abs(turns[0]).max())
    np.testing.assert_allclose(on_pivot(found), found[0].force + found[1].force)


def test_a_link_carries_the_hands_force_by_virtual_work(motions: Sequence[Motion]) -> None:
    m = elevator(motions)
    for a in acting(m, "middle"):
        sizes = np.linalg.norm(a.force, axis=1)[::2]
        np.testing.assert_allclose(sizes, [HAND * pull(m, a.link, s) for s in m.stances])


def test_cables_of_a_loop_and_a_single_one(motions: Sequence[Motion]) -> None:
    """A loop rigged to 200 N under 300: 350 and 50; under 900: 900 and slack. Alone: on top of its spring's."""
    m = next(x for x in motions if x.name == "rudder")
    cable = next(k for k in m.run.links if isinstance(k.made, ControlCable))
    assert isinstance(cable.made, ControlCable) and not m.run.loop
    rigged = replace(cable, made=replace(cable.made, tension=200.0))
    assert tensions(m, rigged, 300.0) == (500.0, 200.0)
    loop = replace(m, run=replace(m.run, links=(*m.run.links, *m.run.links)[: len(m.run.levers)]))
    assert loop.run.loop
    assert tensions(loop, rigged, 300.0) == (350.0, 50.0)
    assert tensions(loop, rigged, 900.0) == (900.0, 0.0)


def test_a_pulley_has_both_runs_of_its_cable(motions: Sequence[Motion]) -> None:
    """2 T sin(half the turn), towards the inside of the bend."""
    m = next(x for x in motions if x.name == "rudder")
    link = next(k for k in m.run.links if k.hand == "R")
    i = link.names.index("low")
    before, after = link.way(link.ends).straights[i : i + 2]
    a, b = (d / np.linalg.norm(d) for d in (before[1] - before[0], after[1] - after[0]))
    T = max(1.5 * 200 * POUND * pull(m, link, s) for s in m.stances)
    force = on_pulley(m, link, i)
    assert float(np.linalg.norm(force)) == pytest.approx(T * float(np.linalg.norm(b - a)))
    np.testing.assert_allclose(force, T * (b - a), atol=1e-6 * T)


# ------------------------------------------------------------------ arms


def test_the_cut_of_a_plate() -> None:
    """A strip with a hole in it and another beside it: two pieces of the first, nothing of the other."""
    body = box(0, -0.01, 0.1, 0.01).difference(Point(0.05, 0.0).buffer(0.004)).union(box(0, 0.02, 0.1, 0.03))
    whole = max(body.geoms, key=lambda g: g.area)
    found = pieces(whole, np.array([0.05, 0.0]), np.array([0.0, 1.0]))
    np.testing.assert_allclose(sorted(found), [(-0.01, -0.004), (0.004, 0.01)], atol=2e-5)
    assert pieces(whole, np.array([0.02, 0.0]), np.array([0.0, 1.0])) == [pytest.approx((-0.01, 0.01))]


def test_an_arm_by_hand(
    model: Model, motions: Sequence[Motion], parts: dict[str, Part], checks: dict[str, Check]
) -> None:
    """The arm of the rod that comes: M d/(t w^2/6), and the rod beside it twists it; no less than any."""
    found = next(v for k, v in arms(model, motions, parts).items() if "CRANK-MIDDLE" in k)
    near = sources.strengths(model).material("4130N", "tension_near_weld", found[0].arm.thick).value
    worst = 0.0
    for x in found:
        away = x.on.link.ends[1 if x.on.comes else 0] - x.on.hole.place
        e, F = abs(float(away @ x.on.hole.normal)), 1.15 * float(np.linalg.norm(x.on.force, axis=1).max())
        assert e == pytest.approx((0.080 + 0.250) / 2 * INCH)
        place = cuts(x.arm)[0]
        w, t, d = sum(place.cut.pieces), 0.080 * INCH, x.arm.long - place.way
        worst = max(worst, 0.9 * F * d * 6 / (t * w**2) / near)  # the rod is not quite square to its arm
    assert checks["arm.crank_middle"].value > worst
    assert checks["arm.crank_middle"].part == "P1-controls-CRANK-MIDDLE"


def test_every_hole_of_a_plate_is_taken_out_of_its_arms(
    model: Model, motions: Sequence[Motion], parts: dict[str, Part]
) -> None:
    """Those for other links too, which are named by them and not by a bolt."""
    looked = 0
    for number, found in arms(model, motions, parts).items():
        if "CRANK" in number:
            for x in found:
                shape = parts[number].shape
                assert isinstance(shape, Plate)
                holes = [Point(m.points[0]) for m in shape.marks if len(m.points) == 1]
                away = [h for h in holes if h.distance(Point(x.arm.base)) > x.arm.start]
                assert not any(x.arm.body.buffer(-1e-6).contains(h) for h in away), number
                looked += len(away)
    assert looked > 4


def test_what_a_link_does_to_a_cut(model: Model, motions: Sequence[Motion], parts: dict[str, Part]) -> None:
    """The moment of its force about the cut's middle, in the cut's own axes: a cross product."""
    for x in next(v for k, v in arms(model, motions, parts).items() if "CRANK-MIDDLE" in k):
        for place in cuts(x.arm)[::3]:
            u, v = np.array(x.arm.pose.x), np.array(x.arm.pose.y)
            a, n = place.normal[0] * u + place.normal[1] * v, np.cross(u, v)
            b = np.cross(n, a)
            at = np.array(x.arm.pose.place(*place.middle))
            end = x.on.link.ends[1 if x.on.comes else 0]
            moment = np.cross(end - at, x.on.force)
            loads = loads_at(x, place, 1.0)
            for found, way in ((loads.torque, a), (loads.moment_out, b), (loads.moment, n)):
                np.testing.assert_allclose(np.abs(found), np.abs(moment @ way), rtol=1e-6, atol=1e-6)
            assert float(np.abs(loads.torque).max()) > 1.0


def test_a_thicker_plate_is_used_less(model: Model, answer: Answered, motions: Sequence[Motion], parts: dict[str, Part],
                                      checks: dict[str, Check]) -> None:  # fmt: skip
    part = parts["P1-controls-CRANK-MIDDLE"]
    thick = replace(part, shape=replace(part.shape, thickness=2 * part.shape.thickness))  # type: ignore[union-attr]
    mine = {**parts, part.number: thick}
    more = {c.id: c for c in arm_checks(model, answer, motions, sources.strengths(model), mine)}
    assert more["strength.control.arm.crank_middle"].value < checks["arm.crank_middle"].value / 2
    assert more["strength.control.eye.crank_middle"].value == pytest.approx(
        checks["eye.crank_middle"].value / 2, rel=0.05
    )


# ------------------------------------------------------------------ pivots, brackets


def test_a_pivots_plates_balance_force_and_couple(
    model: Model, motions: Sequence[Motion], parts: dict[str, Part]
) -> None:
    assert model.controls is not None
    p = next(x for x in pivots(model, model.controls, motions, parts) if x.key == "crank_middle")
    one, other = p.on_plates
    np.testing.assert_allclose(one + other, p.force, atol=1e-9)
    apart = p.width + p.plate.thickness
    np.testing.assert_allclose(apart / 2 * np.cross(p.normal, other - one), p.couple, atol=1e-9)
    assert float(np.abs(p.couple).max()) > 1.0, "rods lie beside the crank"
    stick = next(x for x in pivots(model, model.controls, motions, parts) if x.key == "stick")
    rod = acting(elevator(motions), "stick")[0].force
    np.testing.assert_allclose(np.linalg.norm(stick.force - rod, axis=1), HAND)


def test_every_member_of_the_controls_has_its_checks(checks: dict[str, Check]) -> None:
    wanted = {
        *(f"{k}.crank_middle" for k in ("arm", "eye", "pivot", "bush", "hub", "bracket", "bracket_eye")),
        "foot.crank_middle", "stand.crank_middle",
        *(f"{k}.{n}" for k in ("arm", "eye") for n in ("stick_lug", "pedal_arm", "elevator_horn", "rudder_horn")),
        *(f"{k}.pulley_{n}" for k in ("bracket", "bracket_eye", "foot", "stand") for n in ("low", "high")),
        *(f"{k}.{n}" for k in ("rod_end", "rod_bolt", "rod_plug") for n in ("front", "rear")),
        *(f"pedal.{k}" for k in ("bar", "upright", "hub", "shaft", "bearing", "rail", "rail_bearing", "tab_bolt")),
        "pivot.stick", "bracket.stick", "foot.stick", "bracket.pedal_tab",
    }  # fmt: skip
    assert wanted <= set(checks)
    assert all(c.part and c.rule and c.steps for c in checks.values() if not math.isnan(c.value))
    seams = [c for k, c in checks.items() if k.startswith(("foot.", "hub.")) and c.verdict != "fail"]
    assert seams and all(c.verdict == "unknown" and "recalled" in c.caveat for c in seams)


def test_a_stand_by_hand(
    model: Model, motions: Sequence[Motion], parts: dict[str, Part], checks: dict[str, Check]
) -> None:
    """The tube under the crank is bent by its whole force: F a b/l over what it bears, twisted besides."""
    assert model.controls is not None
    p = next(x for x in pivots(model, model.controls, motions, parts) if x.key == "crank_middle")
    run = frame_tube(model, "E2R-E2L")
    known = nodes(model.fuselage)
    a, b = (np.array(known[n]) for n in run.nodes)
    long, y, t = abs(a[1] - b[1]), p.place[1], run.tube
    lever = (long / 2 - y) * (long / 2 + y) / long
    Z = math.pi * (t.outside**4 - (t.outside - 2 * t.wall) ** 4) / 32 / t.outside
    across = 1.15 * float(np.hypot(p.force[:, 0], p.force[:, 2]).max())
    of = sources.strengths(model).material
    near, crush = (of(t.material, n, t.wall).value for n in ("tension_near_weld", "yield_compression"))
    pull = of(t.material, "tension", t.wall).value
    value = checks["stand.crank_middle"].value
    assert value > across * lever / (1.5 * Z * crush * near / pull)
    bent = next(s.value for s in checks["stand.crank_middle"].steps if s.title == "bent from node to node")
    assert across * lever / (1.5 * Z * crush * near / pull) < bent <= value


# ------------------------------------------------------------------ rod ends


def test_what_the_file_does_not_say_of_rod_ends_is_unknown(checks: dict[str, Check]) -> None:
    for kind, key in (("rod_end", "rated"), ("rod_plug", "plug"), ("rod_bolt", "face")):
        assert checks[f"{kind}.front"].verdict == "unknown" and key in checks[f"{kind}.front"].caveat


def test_rod_ends_that_are_said(model: Model, answer: Answered, motions: Sequence[Motion]) -> None:
    """6061 tube 3/4 x 0.035 in with three 1/8 in rivets across it; 2,000 lbf rated; a flat as wide as its ball."""
    c = model.controls
    assert c is not None
    said = replace(c, rod_end=replace(c.rod_end, rated=2000 * POUND, face=0.25 * INCH))
    riveted = replace(model, controls=said)
    runs = [replace(m, run=replace(m.run, links=tuple(
        replace(k, made=replace(k.made, plug="MS20470AD4", plugs=3)) if k.name == "front" else
        replace(k, made=replace(k.made, plug="weld")) if k.name == "rear" else k for k in m.run.links)))
        for m in motions]  # fmt: skip
    of = sources.strengths(model)
    found = {c.id.removeprefix("strength.control."): c for c in rod_end_checks(riveted, answer, runs, of)}
    m = elevator(motions)
    link = next(k for k in m.run.links if k.name == "front")
    P = 1.15 * HAND * max(pull(m, link, s) for s in m.stances)
    assert found["rod_end.front"].value == pytest.approx(P / (2000 * POUND))
    rivet = of.fastener("MS20470AD4", "shear").value
    d, wall = 0.125 * INCH, 0.035 * INCH
    bears = of.material("6061-T6", "bearing", wall).value
    assert found["rod_plug.front"].value >= max(P / (6 * rivet), P / (6 * d * wall * bears)) * 0.99
    R_s, R_t = P / of.fastener("AN3", "shear").value, P / of.fastener("AN3", "tension").value
    u = found["rod_bolt.front"].value
    assert (R_s / u) ** 3 + (R_t / u) ** 2 == pytest.approx(1.0)
    assert math.isnan(found["rod_plug.rear"].value) or found["rod_plug.rear"].verdict in ("unknown", "fail")


# ------------------------------------------------------------------ pedals


def test_a_pedal_is_in_balance(model: Model, motions: Sequence[Motion]) -> None:
    """Foot, cable and the shaft's two reactions; the rail's load of both pedals is one pedal's, by symmetry."""
    assert model.controls is not None
    m = next(x for x in motions if x.name == "rudder")
    cases = pressed(model, model.controls, m)
    one = cases[0]
    assert one.foot == pytest.approx(1.5 * 200 * POUND)
    total = one.reactions.sum(axis=1)
    cable = max(float(np.linalg.norm(a.force, axis=1).max()) for a in acting(m, "pedal-R"))
    assert np.linalg.norm(total, axis=1).max() < one.foot + cable
    both = replace(one, both=True)
    bent, rail = on_rails(model.controls, both)
    np.testing.assert_allclose(rail, total, rtol=1e-9)
    alone, other = on_rails(model.controls, replace(one, both=False))
    c = model.controls.pedals
    rail_at = c.pivot[1] + c.width / 2 + c.rail.thickness / 2 + 0.3e-3  # the washer
    ends = c.pivot[1] + np.array([-0.5, 0.5]) * c.width
    about_left = np.einsum("nkj,k->nj", one.reactions, ends + rail_at)
    np.testing.assert_allclose(other * 2 * rail_at, about_left, rtol=1e-9)
    assert (bent > 0).all() and (alone > 0).all()


def test_both_pedals_only_where_the_code_asks(model: Model, motions: Sequence[Motion]) -> None:
    """CS-VLA 397(c), recalled: 1,000 N each, and it is open; 14 CFR 23.397 has none."""
    m = next(x for x in motions if x.name == "rudder")
    for code, count in (("cs-vla", 2), ("cfr-23-2014", 1)):
        mine = replace(model, limits=replace(model.limits, code=code))
        assert mine.controls is not None
        cases = pressed(mine, mine.controls, m)
        assert len(cases) == count
        if count == 2:
            assert cases[1].foot == pytest.approx(1500.0) and cases[1].both and cases[1].doubts


def test_an_upright_by_hand(model: Model, motions: Sequence[Motion], checks: dict[str, Check]) -> None:
    """F (r - D/2) on 1/2 x 0.035 in of 4130, twisted besides; between yield and the plastic moment beside a weld."""
    assert model.controls is not None
    m = next(x for x in motions if x.name == "rudder")
    F, t = max(p.foot for p in pressed(model, model.controls, m)), model.controls.pedals.tube
    M = F * (m.arm - model.controls.pedals.hub.outside / 2)
    Z = math.pi * (t.outside**4 - (t.outside - 2 * t.wall) ** 4) / 32 / t.outside
    near = sources.strengths(model).material("4130N", "tension_near_weld", t.wall).value
    assert 0.6 * M / (Z * near) < checks["pedal.upright"].value < 1.6 * M / (Z * near)


@pytest.fixture(scope="module")
def rail(model: Model, parts: dict[str, Part]) -> Rail:
    """The right one."""
    assert model.controls is not None
    part = parts["P1-controls-PEDAL-RAIL-R"]
    return Rail(model.controls, part, tabs_of(model, model.controls, part))


def test_a_rail_is_bent_aside_by_hand(model: Model, rail: Rail) -> None:
    """100 N along the shaft on what is left beside its hole, 6 M/((h - D) t^2); along, what is off its tab's middle."""
    p, F, crush, E = rail.c.pedals, 300e6, 250e6, 70e9
    t, left = p.rail.thickness, p.depth - p.shaft.outside
    a, l = rail.settings, rail.long
    assert (a[:2] < 0).all() and 0 < a[2] < l, "two settings ahead of the front tab"
    np.testing.assert_allclose(rail.levers, [-a[0], -a[1], a[2] * (l - a[2]) / l])
    assert l == pytest.approx(rail.free[2]) and rail.free[0] > rail.free[1] > l
    pulled, pressed, bent, aside = rail_uses(rail, np.array([[0.0, 0.0, 100.0]]), F, crush, E)
    assert not pulled.any() and not pressed.any() and not bent.any()
    np.testing.assert_allclose(aside[0], 6 * 100 * rail.levers / (left * t**2 * F))
    slim = 0.1 * math.pi**2 * E * p.depth * t**3 / 12 / rail.free[0] ** 2  # a tenth of what bows it without end
    pulled, pressed, bent, aside = rail_uses(rail, np.array([[slim, 0.0, 0.0]]), F, crush, E)
    off = (p.rail.thickness + p.arm.thickness) / 2
    assert aside[0, 0] == pytest.approx(6 * slim * off / (left * t**2 * F) / 0.9) and aside[0, 2] < aside[0, 0]
    assert pressed[0, 0] == pytest.approx(0.1), "so slim that Euler's load is its strength"
    _, _, bent, _ = rail_uses(rail, np.array([[0.0, 50.0, 0.0]]), F, crush, E)
    inertia = t * (p.depth**3 - p.shaft.outside**3) / 12
    np.testing.assert_allclose(bent[0], 50 * rail.levers * p.depth / 2 / inertia / F)


def test_what_a_rail_bears_aside_is_in_its_check(
    model: Model, motions: Sequence[Motion], checks: dict[str, Check]
) -> None:
    """All that foot and cable have along the shaft, and the strip that is pressed; a thinner one bows more."""
    assert model.controls is not None
    told = checks["pedal.rail"]
    by = {s.title: s for s in told.steps}
    m = next(x for x in motions if x.name == "rudder")
    most = max(float(np.abs(p.aside).max()) for p in pressed(model, model.controls, m))
    given = {k: v for k, v, _ in by["bent aside and bowed"].given}
    assert 0 < given["P_s"] <= 1.15 * most + 1e-9
    sums = max(by["pulled along beside the hole"].value, by["pressed as a strip"].value)
    assert told.value == pytest.approx(sums + by["bent in its plane"].value + by["bent aside and bowed"].value)
    assert by["bent aside and bowed"].value > 0


@pytest.mark.parametrize("beyond", [0.0, 0.1, 0.5, 1.0, 3.0])
def test_a_bar_pressed_past_its_pin_by_finite_elements(beyond: float) -> None:
    """Cubic beam elements with the load's own stiffness: the load at which a pinned bar with an overhang buckles."""
    n, E, I, span = 40, 1.0, 1.0, 2.0
    steps = [span / n] * n + ([beyond * span / n] * n if beyond else [])
    K, G = np.zeros((2 * len(steps) + 2,) * 2), np.zeros((2 * len(steps) + 2,) * 2)
    for i, h in enumerate(steps):
        k = E * I / h**3 * np.array([[12, 6*h, -12, 6*h], [6*h, 4*h*h, -6*h, 2*h*h], [-12, -6*h, 12, -6*h],
                                     [6*h, 2*h*h, -6*h, 4*h*h]])  # fmt: skip
        g = 1 / 30 / h * np.array([[36, 3*h, -36, 3*h], [3*h, 4*h*h, -3*h, -h*h], [-36, -3*h, 36, -3*h],
                                   [3*h, -h*h, -3*h, 4*h*h]])  # fmt: skip
        at = slice(2 * i, 2 * i + 4)
        K[at, at] += k
        G[at, at] += g
    free = [i for i in range(len(K)) if i not in (0, 2 * n)]
    loads = np.linalg.eigvals(np.linalg.solve(K[np.ix_(free, free)], G[np.ix_(free, free)])).real
    assert math.pi**2 / overhung(span, beyond * span) ** 2 == pytest.approx(1 / loads.max(), rel=1e-4)


def test_an_overhang_outside_its_range_is_not_known() -> None:
    assert all(math.isnan(overhung(*x)) for x in ((0.0, 1.0), (1.0, -0.1), (math.nan, 0.1), (1.0, math.inf)))


# ------------------------------------------------------------------ unknowns


def test_without_a_case_or_a_strength_nothing_passes(
    model: Model, answer: Answered, motions: Sequence[Motion], parts: dict[str, Part]
) -> None:
    none = every(model, answer_of(model, {}), motions, parts)
    assert {c.verdict for c in none.values()} <= {"unknown", "fail"}
    known = sources.strengths(model)
    lost = replace(known, material=lambda *a: replace(known.material(*a), value=math.nan),
                   fastener=lambda *a: replace(known.fastener(*a), value=math.nan))  # fmt: skip
    assert {c.verdict for k, c in every(model, answer, motions, parts, lost).items() if not k.startswith("foot.")} == {
        "unknown"
    }
