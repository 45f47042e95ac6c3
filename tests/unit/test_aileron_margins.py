"""Ailerons' own structure: loads, torque, notches, ribs and false spar of W1 and the probe's metal one by hand."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest
from ailerons import aileron, hinged
from handmade import CASE, answer_of

from sparwright.base.check import Check, Step
from sparwright.family.aileron import ClosedStretch
from sparwright.family.model import Family, Model
from sparwright.loads.laid_out import SpanLoad
from sparwright.loads.on_controls import HINGE
from sparwright.margins import aileron_ribs, sources
from sparwright.margins.aileron_loads import borne, to_hinges
from sparwright.margins.aileron_ribs import aileron_checks
from sparwright.margins.ailerons import looked
from sparwright.margins.edge_spars import section_of
from sparwright.margins.rib_loads import Spans
from sparwright.margins.spar_run import Strengths
from sparwright.parts.aileron import ailerons
from sparwright.parts.stations import notches
from sparwright.structure.answered import Answered

INCH = 0.0254


@pytest.fixture(scope="module")
def w1(whinchat: Family) -> Model:
    """A model whose aileron has a web with strips and a ply nose under fabric."""
    return whinchat.models["W1"]


def air(model: Model, normal: float = 120.0, hinge: float = 6.0, side: str = "R") -> Spans:
    """The same load behind the hinge all along an aileron of the first wing that has one."""
    wing = next(w for w in model.wings if w.aileron)
    a = wing.aileron
    assert a is not None
    y = (np.arange(400) + 0.5) * wing.panels[-1].tip_buttline / 400
    one, inside = np.ones(400), ((y > a.inboard - INCH) & (y < a.outboard + INCH)).astype(float)
    return {CASE.key: (SpanLoad(surface=wing.name, side=side, case=CASE.key, y=y, width=one * y[0] * 2, chord=one,
                                normal=0 * one, chordwise=0 * one, torsion=0 * one, hinged=normal * inside,
                                hinge=hinge * inside),)}  # fmt: skip


def found(model: Model, answer: Answered, spans: Spans) -> Mapping[str, Check]:
    """By the last word of the id."""
    checks = list(aileron_checks(model, answer, spans, (), sources.grained(model)))
    return {c.id.rsplit(".", 1)[1]: c for c in checks if c.id.startswith(f"strength.{ailerons(model)[0].wing.name}.")}


def test_torque_and_push_by_hand(w1: Model) -> None:
    """1.5 times 6 N m/m: from both free ends to the horn, all of it over the horn's arm."""
    h = ailerons(w1)[0]
    b = borne(w1, h, answer_of(w1, {}), air(w1), ())
    horn = h.frame.horn.along
    assert float(b.torque[0, b.horn]) == pytest.approx(9.0 * (horn - h.root), rel=1e-6)
    assert float(b.torque[0, b.horn + 1]) == pytest.approx(9.0 * (h.tip - b.y[b.horn + 1]), rel=1e-6)
    assert float(b.torque[0, -1]) == pytest.approx(0, abs=1e-9) and float(b.torque[0, 0]) == pytest.approx(0, abs=1e-9)
    assert float(b.push[0]) == pytest.approx(9.0 * (h.tip - h.root) / h.frame.horn.arm, rel=1e-6)


def test_the_horn_between_its_hinges(w1: Model) -> None:
    """123-3/4, 129-3/4, 135-3/4 in: a b/l, and what each of the two gets."""
    b = borne(w1, ailerons(w1)[0], answer_of(w1, {}), air(w1), ())
    lever, shares = to_hinges(b)
    assert lever == pytest.approx(6.0 * 6.0 / 12.0 * INCH)
    assert shares == ((0, pytest.approx(0.5)), (1, pytest.approx(0.5)))


def test_a_wind_on_the_ground_is_a_triangle(w1: Model) -> None:
    """H of the case's own line, 1.5 times, even along it; three times it over the chord behind the hinge."""
    h = ailerons(w1)[0]
    step = Step(HINGE, "H = K c S q", (), 40.0, "N m", "made")
    case = replace(CASE, key=f"control.wind.aileron.{h.wing.name}.middle", kind="control", steps=(step,))
    bare = answer_of(w1, {})
    answer = replace(bare, laid=(replace(bare.laid[0], case=case),))
    b = borne(w1, h, answer, {}, ())
    assert float((b.hinge[0] * np.diff(b.y)).sum()) == pytest.approx(60.0)
    s, _ = h.at(h.root)
    assert float(b.normal[0, 0]) == pytest.approx(3 * 60.0 / (h.tip - h.root) / (0.25 * s.chord), rel=1e-3)
    assert not b.lost
    nobody = replace(case, key="control.aileron.right")
    lost = borne(w1, h, replace(bare, laid=(replace(bare.laid[0], case=nobody),)), {}, ())
    assert lost.lost, "no motion tells what the hand does"


def test_the_spar_follows_its_wing(w1: Model) -> None:
    """A wing that bends by y^2 takes its aileron along: E I times its curvature over the middle hinge, no air."""
    bare = answer_of(w1, {})
    bones, level = bare.skeleton, bare.ultimate[0]
    y = bones.frame.place[:, 1]
    moved = np.zeros((1, len(bones.names), 6))
    moved[0, :, 2], moved[0, :, 3] = 0.01 * y**2, 0.02 * y
    answer = replace(bare, ultimate=(replace(level, moved=moved),))
    look = looked(w1, ailerons(w1)[0], answer, air(w1, 0.0, 0.0), (), sources.grained(w1))
    b, at = look.b, look.b.y[look.b.hinges]
    np.testing.assert_allclose(np.diff(b.moved[0], n=1), np.diff(0.01 * at**2), rtol=0.1)
    middle = abs(float(look.moment[0, b.hinges[1]]))
    EI = sources.grained(w1)("spruce", "youngs", 0.003, 0.0).value * float(look.section.inertia.mean())
    assert middle == pytest.approx(1.5 * 0.02 * EI, rel=0.15)  # three points of a parabola: 3/2 of its curvature
    assert found(w1, answer, air(w1, 0.0, 0.0))["aileron_spar"].value > 0


def test_double_the_air_double_the_use(w1: Model) -> None:
    once, twice = found(w1, answer_of(w1, {}), air(w1)), found(w1, answer_of(w1, {}), air(w1, 240.0, 12.0))
    kinds = ("aileron_spar", "aileron_web", "aileron_nose", "aileron_notch", "aileron_horn", "false_spar",
             "false_spar_web")  # fmt: skip
    for kind in kinds:
        assert once[kind].value > 0
        assert twice[kind].value == pytest.approx(2 * once[kind].value, rel=1e-6), kind
    left = found(w1, answer_of(w1, {}), air(w1, side="L"))
    assert left["aileron_spar"].value == pytest.approx(once["aileron_spar"].value)


def with_closed(model: Model, *stretches: tuple[float, float]) -> Model:
    """The first aileron with its spar closed behind between buttlines, m."""
    at = next(i for i, w in enumerate(model.wings) if w.aileron)
    a = model.wings[at].aileron
    assert a is not None and a.frame is not None
    frame = replace(a.frame, closed=tuple(ClosedStretch(start=x, end=y) for x, y in stretches))
    wings = list(model.wings)
    wings[at] = replace(wings[at], aileron=replace(a, frame=frame))
    return replace(model, wings=tuple(wings))


def test_the_open_notch_by_hand(w1: Model) -> None:
    """T g/(2 d) on a strip 7/8 in wide and 3/8 in deep, at the horn's notch, where T is greatest."""
    bare = with_closed(w1)
    h = ailerons(bare)[0]
    check = found(bare, answer_of(bare, {}), air(bare))["aileron_notch"]
    given = {k: v for s in check.steps for k, v, _ in s.given}
    assert given["Z of one edge"] == pytest.approx(0.375 * 0.875**2 / 6 * INCH**3)
    T = next(s.value for s in check.steps if s.title.startswith("torque"))
    assert T == pytest.approx(9.0 * (h.tip - h.frame.horn.along), rel=0.02)
    F = given["F"]
    assert check.value == pytest.approx(T * given["g"] / 2 / given["d"] / (given["Z of one edge"] * F))


def test_the_notch_past_a_block_by_hand(w1: Model) -> None:
    """A bar 7/8 in wide and as deep as the spar, twisted; a block that stops at the notch's ribs counts for nothing."""
    h = ailerons(w1)[0]
    check = found(w1, answer_of(w1, {}), air(w1))["aileron_notch"]
    given = {k: v for s in check.steps for k, v, _ in s.given}
    T = next(s.value for s in check.steps if s.title.startswith("torque"))
    H, w = given["H"], 0.875 * INCH
    assert check.value == pytest.approx(T * (3 * H + 1.8 * w) / (H * w) ** 2 / given["F_s"])
    notch = next(n for n in notches(h.wing) if n.buttline == h.frame.horn.along)
    others = tuple((c.start, c.end) for c in h.frame.closed if not c.start < h.frame.horn.along < c.end)
    bare = found(with_closed(w1), answer_of(w1, {}), air(w1))
    for reach, same in ((notch.half - 1e-4, True), (notch.half + 1e-4, False)):
        model = with_closed(w1, *others, (notch.buttline - reach, notch.buttline + reach))
        some = found(model, answer_of(model, {}), air(model))
        assert (some["aileron_notch"].value == bare["aileron_notch"].value) is same
        assert (some["aileron_horn"].value == bare["aileron_horn"].value) is same


def test_a_horn_on_a_block_by_hand(w1: Model) -> None:
    check = found(w1, answer_of(w1, {}), air(w1))["aileron_horn"]
    given = {k: v for s in check.steps for k, v, _ in s.given}
    h = ailerons(w1)[0]
    deep = float(section_of(h, h.frame.spar, np.array([h.frame.horn.along]), True).depth[0])
    assert given["Z"] == pytest.approx(deep * (0.875 * INCH) ** 2 / 6)
    assert check.value == pytest.approx(given["P"] * given["a b/l"] / (given["Z"] * given["F"]))


def test_a_box_of_two_channels_by_hand() -> None:
    """Bredt's flow in H - t by f - t; fore and aft both webs and four flanges about their own middle."""
    model = hinged("P2")
    h = ailerons(model)[0]
    closed = with_closed(model, (h.frame.horn.along - 2 * INCH, h.frame.horn.along + 2 * INCH))
    checks = [found(m, answer_of(m, {}), air(m)) for m in (model, closed)]
    H = float(section_of(h, h.frame.spar, np.array([h.frame.horn.along]), True).depth[0])
    t, f = 0.025 * INCH, 0.5 * INCH
    notch = checks[1]["aileron_notch"]
    horn = {k: v for s in checks[1]["aileron_horn"].steps for k, v, _ in s.given}
    own = f - t - 3 / 32 * INCH
    areas = [(H * t, t / 2, 0.0), ((H - 2 * t) * t, f - t / 2, 0.0), (2 * (f - t) * t, (f + t) / 2, f - t),
             (2 * (own - t) * t, f - (own + t) / 2, own - t)]  # fmt: skip
    middle = sum(a * x for a, x, _ in areas) / sum(a for a, _, _ in areas)
    inertia = sum(a * ((x - middle) ** 2 + b**2 / 12) for a, x, b in areas)
    assert horn["Z"] == pytest.approx(inertia / max(middle, f - middle), rel=1e-3)
    assert checks[1]["aileron_horn"].value < checks[0]["aileron_horn"].value / 5
    assert notch.value <= checks[0]["aileron_notch"].value


def test_box_flow_by_hand() -> None:
    """The way past the horn's notch alone."""
    model = with_closed(hinged("P2"), (0.0, 9.0))
    check = found(model, answer_of(model, {}), air(model))["aileron_notch"]
    h, t, f = ailerons(model)[0], 0.025 * INCH, 0.5 * INCH
    given = {k: v for s in check.steps for k, v, _ in s.given}
    T = next(s.value for s in check.steps if s.title.startswith("torque"))
    q = next(s.value for s in check.steps if s.title == "shear flow")
    ends = section_of(h, h.frame.spar, np.array([h.root, h.tip]), True).depth
    assert (float(ends.min()) - t) * (f - t) * 0.999 <= given["A"] <= (float(ends.max()) - t) * (f - t) * 1.001
    assert q == pytest.approx(T / (2 * given["A"]))
    F_s = sources.grained(model)("6061-T6", "shear", t, 0.0).value
    assert given["sheared"] == pytest.approx(q / (t * F_s)) and check.value == max(given["sheared"], given["flat"])


def test_a_hinge_at_a_rib_leaves_the_false_spar_its_feet(w1: Model) -> None:
    """Half of the hinge's force on a foot 1-1/4 in wide, its bolts 0.4 in from its edge."""
    check = found(w1, answer_of(w1, {}), air(w1))["false_spar"]
    given = {k: v for s in check.steps for k, v, _ in s.given}
    assert given["e"] == pytest.approx((1.25 - 0.4) * INCH)
    assert next(s.value for s in check.steps if s.title.startswith("from rib")) == pytest.approx(given["e"] / 2)
    assert given["fore and aft"] > given["up and down"] > 0


def test_sections_by_hand() -> None:
    """A plank of the probe's P1, channels of P2, webs with strips of P3."""
    plank, bent, webbed = (aileron(n) for n in ("P1", "P2", "P3"))
    y = np.array([plank.root])
    s = section_of(plank, plank.frame.spar, y, True)
    H, t = float(s.depth[0]), 0.5 * INCH
    assert float(s.inertia[0]) == pytest.approx(t * H**3 / 12) and float(s.aft[0]) == pytest.approx(H * t**2 / 6)
    s = section_of(bent, bent.frame.spar, np.array([bent.root]), True)
    H, t, f = float(s.depth[0]), 0.025 * INCH, 0.5 * INCH
    parts = [(t, H, t / 2, 0.0), (f - t, t, (f + t) / 2, (H - t) / 2), (f - t, t, (f + t) / 2, -(H - t) / 2)]
    up = sum(w * d**3 / 12 + w * d * z**2 for w, d, _, z in parts)
    assert float(s.inertia[0]) == pytest.approx(up, rel=1e-3)
    middle = sum(w * d * x for w, d, x, _ in parts) / sum(w * d for w, d, _, _ in parts)
    aft = sum(d * w**3 / 12 + w * d * (x - middle) ** 2 for w, d, x, _ in parts)
    assert float(s.aft[0]) == pytest.approx(aft / (f - middle))
    s = section_of(webbed, webbed.frame.spar, np.array([webbed.root]), True)
    w, d = 0.375 * INCH, 0.25 * INCH
    assert float(s.inertia[0]) == pytest.approx(2 * (w * d**3 / 12 + w * d * ((float(s.depth[0]) - d) / 2) ** 2))


def test_metal_and_glass_ailerons_have_all_their_checks() -> None:
    for name in ("P2", "P3"):
        model = hinged(name)
        checks = list(aileron_checks(model, answer_of(model, {}), air(model), (), sources.grained(model)))
        kinds = {c.id.rsplit(".", 1)[1] for c in checks}
        assert {"aileron_spar", "aileron_web", "aileron_nose", "aileron_nose_flat", "aileron_notch", "aileron_horn",
                "aileron_ribs", "false_spar", "false_spar_web"} == kinds  # fmt: skip
        assert all(c.part for c in checks)


def test_no_case_and_no_strength_do_not_pass(w1: Model) -> None:
    assert {c.verdict for c in found(w1, answer_of(w1, {}), {}).values()} == {"unknown"}
    known = sources.grained(w1)

    def lost(*a: object) -> object:
        return replace(known(*a), value=math.nan)  # type: ignore[arg-type]

    checks = list(aileron_checks(w1, answer_of(w1, {}), air(w1), (), lost))  # type: ignore[arg-type]
    assert {c.verdict for c in checks} == {"unknown"}


def test_the_torque_of_an_aileron_without_a_nose_is_not_nothing(w1: Model) -> None:
    """Its spar bears what the air does in shear; what takes the torque to the horn is unknown, and is said."""
    at = next(i for i, w in enumerate(w1.wings) if w.aileron)
    a = w1.wings[at].aileron
    assert a is not None and a.frame is not None
    plain = replace(
        w1.wings[at], aileron=replace(a, gap=0.75 * INCH, frame=replace(a.frame, nose=None, weights=(), closed=()))
    )
    model = replace(w1, wings=(*w1.wings[:at], plain, *w1.wings[at + 1 :]))
    known = sources.grained(model)
    strong = lambda *x: replace(known(*x), value=1e12, open="")  # noqa: E731
    checks = {c.id.rsplit(".", 1)[1]: c
              for c in aileron_checks(model, answer_of(model, {}), air(model), (), strong)}  # fmt: skip
    assert checks["aileron_spar"].verdict == "pass" and "aileron_nose" not in checks
    assert checks["aileron_web"].verdict == "unknown" and "no cell" in checks["aileron_web"].caveat


def strong(model: Model) -> Strengths:
    """Strengths that nothing gets near to, none of them open."""
    known = sources.grained(model)
    return lambda *x: replace(known(*x), value=1e12, open="")


def passing(model: Model) -> Mapping[str, Check]:
    """By the last word of the id, of strong stuff."""
    checks = aileron_checks(model, answer_of(model, {}), air(model), (), strong(model))
    return {c.id.rsplit(".", 1)[1]: c for c in checks}


def test_one_rib_whose_use_is_not_known_keeps_all_from_passing(w1: Model, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whichever of them: the others' greatest says nothing of it."""
    assert passing(w1)["aileron_ribs"].verdict == "pass"
    plain, calls = aileron_ribs.use_of, []

    def first_lost(*given: object) -> np.ndarray:
        calls.append(given)
        return plain(*given) * (math.nan if len(calls) == 1 else 1.0)  # type: ignore[arg-type]

    monkeypatch.setattr(aileron_ribs, "use_of", first_lost)
    told = passing(w1)["aileron_ribs"]
    assert len(calls) > 1 and told.verdict == "unknown" and "not worked out" in told.caveat


def test_ribs_built_up_of_strip_among_others_are_said(w1: Model, monkeypatch: pytest.MonkeyPatch) -> None:
    calls: list[object] = []

    def first(wing: object, group: object) -> bool:
        calls.append(group)
        return group is calls[0]

    monkeypatch.setattr(aileron_ribs, "trussed", first)
    told = passing(w1)["aileron_ribs"]
    assert told.verdict == "unknown" and "built up" in told.caveat


@pytest.mark.parametrize(("way", "word"), [(1, "outboard"), (-1, "inboard")])
def test_a_hinge_past_the_last_rib_is_not_held_by_it(
    w1: Model, monkeypatch: pytest.MonkeyPatch, way: int, word: str
) -> None:
    """All ribs of the wing beyond the outermost or innermost hinge taken away; at a rib of its own it is held."""
    assert passing(w1)["false_spar"].verdict == "pass"
    h = ailerons(w1)[0]
    last = max(h.frame.hinges.places, key=lambda y: way * y)
    plain = aileron_ribs.rib_stations
    for beyond, verdict in ((1e-4, "pass"), (-1e-4, "unknown")):
        monkeypatch.setattr(aileron_ribs, "rib_stations", lambda w, b=beyond: [
            s for s in plain(w) if way * s.buttline < way * last + b])  # fmt: skip
        for kind in ("false_spar", "false_spar_web"):
            told = passing(w1)[kind]
            assert told.verdict == verdict, (kind, beyond)
            if told.verdict == "unknown":
                assert f"no rib of the wing stands {word}" in told.caveat
