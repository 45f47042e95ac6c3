"""Ailerons: the cut by geometry, bodies by hand, what is held and what turns; and designs that cannot be made."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, radians

import numpy as np
import pytest
from ailerons import aileron, hinged
from numpy.testing import assert_allclose
from shapely import Polygon, box

from sparwright.base.problem import DesignProblem
from sparwright.data.loader import material
from sparwright.family.aileron import AileronFrame, ClosedStretch, EdgeSpar, Paint
from sparwright.family.model import Model, Wing
from sparwright.family.stock import Bar
from sparwright.mass.hinged import arms, balance_of, hinge_results
from sparwright.parts.aileron import Hinged, aileron_parts, ailerons, noses
from sparwright.parts.aileron_closed import closing_joints, closing_parts
from sparwright.parts.aileron_fittings import hinge_axes, horn_hole
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Assembly, Foot, Part, Plate, Skin
from sparwright.parts.ribs import rib_groups
from sparwright.parts.stations import notches, rib_stations
from sparwright.parts.travel import movable, travel_checks
from sparwright.shape.parted import aileron_inside, parting, spar_rings, wrapped
from sparwright.shape.rib import pieces
from sparwright.shape.section import half_thickness
from sparwright.shape.tube import Tube

MODELS = ("P1", "P2", "P3")


def with_frame(model: Model, **new: object) -> Model:
    """The model with something of its first framed aileron changed."""
    h = ailerons(model)[0]
    return with_aileron(model, frame=replace(h.frame, **new))  # type: ignore[arg-type]


def with_aileron(model: Model, **new: object) -> Model:
    wing = ailerons(model)[0].wing
    assert wing.aileron
    other = replace(wing, aileron=replace(wing.aileron, **new))  # type: ignore[arg-type]
    return replace(model, wings=tuple(other if w is wing else w for w in model.wings))


# ------------------------------------------------------------------ geometry


@pytest.mark.parametrize("name", MODELS)
def test_the_nose_touches_both_surfaces_and_goes_through_neither(name: str) -> None:
    h = aileron(name)
    for y in (h.root, h.tip):
        s, p = h.at(y)
        assert s.points is not None
        far = np.hypot(*(s.points * s.chord - np.array(p.hinge)[:, None]))
        half = s.points.shape[1] // 2
        assert_allclose([far[:half].min(), far[half:].min()], p.radius, rtol=0, atol=4e-5)  # points 3 mm apart
        assert p.hinge[0] == pytest.approx(h.wing.aileron.hinge * s.chord)  # type: ignore[union-attr]


def test_the_nose_of_an_even_section_by_the_printed_thickness() -> None:
    """NACA TR 460: the least distance from a point of the chord line to y_t(x) of a 0012."""
    h = aileron("P1")
    even = replace(h.model.sections["lifting"], naca="0012")
    model = replace(h.model, sections={**h.model.sections, "lifting": even})
    s, p = ailerons(model)[0].at(h.root)
    x = np.linspace(0.5, 1.0, 200_001)
    least = np.hypot(x - 0.75, half_thickness(0.12, x)).min() * s.chord
    assert_allclose(p.radius, least, rtol=1e-4)
    assert_allclose(p.hinge[1], 0, rtol=0, atol=1e-9)


@pytest.mark.parametrize("name", MODELS)
def test_wing_and_aileron_stand_the_gap_apart_however_it_is_turned(name: str) -> None:
    """The web's rear face is one gap ahead of the circle, and the circle is its own image."""
    h = aileron(name)
    s, p = h.at(h.root)
    outside = wrapped(s, p, s.chord)
    rear = p.wing_end + h.frame.false_spar.thickness
    gap = h.wing.aileron.gap  # type: ignore[union-attr]
    for angle in np.radians([-20, -7, 0, 11, 22]):
        turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
        turned = (outside - p.hinge) @ turn.T + p.hinge
        assert_allclose(turned[:, 0].min() - rear, gap, rtol=0, atol=5e-5)


@pytest.mark.parametrize("name", MODELS)
def test_ribs_spar_and_sheets_fill_the_aileron(name: str) -> None:
    """Areas at one station: nose rib, spar, rib behind it, what the tail bar takes, and the clearance round strips."""
    h = aileron(name)
    s, p = h.at((h.root + h.tip) / 2)
    inside = aileron_inside(s, h.wing, p)
    mine = {q.name: Polygon(q.outline) for q in pieces(s, h.wing, True) if q.name.startswith("aileron")}
    rings = {n: Polygon(r) for n, r in spar_rings(inside, p.face, h.frame.spar, "").items()}
    tail = inside.intersection(box(s.chord - h.wing.ribs.tail_cut, -1, s.chord, 1)).area
    fit = h.wing.ribs.fit * (2 * h.frame.spar.width if h.frame.spar.strip else 0)
    whole = sum(q.area for q in (*mine.values(), *rings.values())) + tail + fit
    assert_allclose(whole, inside.area, rtol=2e-3)
    assert mine["aileron nose rib"].bounds[2] == pytest.approx(p.face)
    assert mine["aileron rib"].bounds[0] == pytest.approx(p.face + h.frame.spar.thickness)


def test_edge_spars_by_hand() -> None:
    """A body of 60 by 50 mm: plank 10 x 50; web 2 x 50 and strips 12 x 8; channel 2 (50 + 2 x 18)."""
    body = box(0, -0.02, 0.06, 0.03)
    stock = Bar(material="spruce", width=0.012, depth=0.008)
    for spar, areas in (
        (EdgeSpar(material="spruce", thickness=0.01), {"": 500}),
        (EdgeSpar(material="birch-ply", thickness=0.002, strip=stock), {"": 100, "upper": 96, "lower": 96}),
        (EdgeSpar(material="6061-T6", thickness=0.002, flange=0.02), {"": 2 * (50 + 2 * 18)}),
    ):
        found = {n: Polygon(r).area * 1e6 for n, r in spar_rings(body, 0.02, spar, "").items()}
        assert found == pytest.approx(areas, rel=1e-4)
    with pytest.raises(DesignProblem, match="leave nothing between"):
        spar_rings(body, 0.02, replace(spar, flange=0.0, strip=replace(stock, depth=0.025)), "spar")
    with pytest.raises(DesignProblem, match="outside the section"):
        spar_rings(body, 0.055, EdgeSpar(material="spruce", thickness=0.02), "spar")


def test_a_foot_by_hand() -> None:
    """A plate 40 x 30 x 2 mm with a foot 20 mm over it along its short edge, and 5 mm the other way."""
    ring = np.array([[0.0, 0.0], [0.04, 0.0], [0.04, 0.03], [0.0, 0.03]])
    for high, z in ((0.02, (-0.001, 0.021)), (-0.005, (-0.006, 0.001))):
        foot = Foot(start=(0.04, 0.0), end=(0.04, 0.03), height=high)
        body = Plate(outline=ring, holes=(), thickness=0.002, foot=foot).solid()
        assert_allclose(body.volume, 0.04 * 0.03 * 0.002 + abs(high) * 0.03 * 0.002, rtol=1e-9)
        assert_allclose((body.points[:, 2].min(), body.points[:, 2].max()), z, rtol=0, atol=1e-12)
        assert body.points[np.abs(body.points[:, 2]) > 0.0011, 0].min() == pytest.approx(0.038)


# ------------------------------------------------------------------ parts


@pytest.mark.parametrize("name", MODELS)
def test_everything_touches_and_nothing_runs_into_anything(name: str) -> None:
    assembly = lay_out(hinged(name))
    mine = {p.number for p in assembly.parts if any(w in p.number for w in ("AILERON", "FALSE-SPAR", "HINGE"))}
    found = measure(assembly)
    assert not [c for c in found.clashes if {c.one, c.other} & mine]
    assert not [a for a in found.apart if {a.one, a.other} & mine]
    assert not [n for n in (*found.adrift, *found.waiting, *found.not_closed) if any(m in n for m in mine)]
    assert not set(found.loose) & mine
    assert len(mine) > 30


@pytest.mark.parametrize("name", MODELS)
def test_every_hinge_lies_on_one_straight_line(name: str) -> None:
    h = aileron(name)
    axes = hinge_axes(h)
    parts = {p.number: p for p in lay_out(h.model).parts}
    for y in h.frame.hinges.places:
        point = axes.at(y)
        assert point[1] == pytest.approx(y)
        s, p = h.at(y)
        assert np.linalg.norm(np.array(s.place(*p.hinge)) - point) < 2e-4
    pins = [p.shape.path for n, p in parts.items() if "HINGE-PIN" in n and isinstance(p.shape, Tube)]
    assert len(pins) == len(h.frame.hinges.places)
    for path in pins:
        assert_allclose(np.cross(path - axes.start, axes.along), 0, rtol=0, atol=1e-9)
    for n, p in parts.items():
        if "HINGE-PLATE" in n:
            assert p.count == 4
            middles = np.array([q.origin for q in p.poses if q.origin[1] > 0])
            assert_allclose(np.cross(middles - axes.start, axes.along), 0, rtol=0, atol=1e-9)


def test_the_horn_s_hole_is_an_arm_below_the_hinge_line() -> None:
    h = aileron("P2")
    axes, place = hinge_axes(h), np.array(horn_hole(h.model, "lower"))
    assert_allclose(np.linalg.norm(np.cross(place - axes.start, axes.along)), h.frame.horn.arm, rtol=1e-9)
    assert place[2] < axes.at(h.frame.horn.along)[2] - 0.99 * h.frame.horn.arm
    horns = {p.hand: p for p in lay_out(h.model).parts if "AILERON-HORN" in p.number}
    (right,), (left,) = horns["R"].places, horns["L"].places
    assert_allclose(np.array(right) * (1, -1, 1), left, rtol=0, atol=1e-9)
    with pytest.raises(KeyError):
        horn_hole(h.model, "upper")


@pytest.mark.parametrize("name", MODELS)
def test_the_nose_is_closed_between_notches_with_a_rib_on_both_sides(name: str) -> None:
    h = aileron(name)
    ends = [y for pair in noses(h) for y in pair]
    assert ends == sorted(ends) and len(noses(h)) == len(notches(h.wing)) + 1
    beside = {round(r.buttline, 6) for r in rib_stations(h.wing) if r.kind != "wing"}
    assert {round(y, 6) for y in ends} <= beside


@pytest.mark.parametrize("name", MODELS)
def test_the_wing_s_skin_and_tail_bar_stop_at_the_aileron(name: str) -> None:
    """No point of a wing's sheet lies behind the false spar between the aileron's ends."""
    h = aileron(name)
    a = h.wing.aileron
    assert a
    s, p = h.at((a.inboard + a.outboard) / 2)
    for part in lay_out(h.model).parts:
        if not part.number.startswith(f"{h.model.name}-{h.wing.name}-") or "AILERON" in part.number:
            continue
        rings = part.shape.rings if isinstance(part.shape, Skin) else ()
        for ring in rings:
            mid = ring.mean(axis=0)
            if a.inboard < ring[:, :, 1].mean() < a.outboard:
                x = (mid - np.array(s.leading_edge))[:, 0]
                assert x.max() < p.skin_end + 0.01
        if "TAIL-BAR" in part.number and part.shape is not None:
            y = np.abs(part.shape.solid().points[:, 1])  # type: ignore[union-attr]
            assert y.max() < a.inboard + 1e-6 or y.min() > a.outboard - 1e-6


def test_skins_lose_what_the_gap_takes() -> None:
    """W of the fabric: framed, wing and aileron together, against the whole wing's less the open slot."""
    h = aileron("P1")
    bare = with_aileron(h.model, frame=None)
    number = "P1-wing-SKIN-COVER-outer"
    whole = next(p for p in lay_out(bare).parts if p.number.startswith(number))
    framed = {p.number: p for p in lay_out(h.model).parts}
    left = sum(p.mass * p.count for n, p in framed.items() if n.startswith(number))
    own = sum(p.mass * p.count for n, p in framed.items() if "AILERON-SKIN-COVER" in n)
    assert left < whole.mass * whole.count
    s, p = h.at(h.root)
    slot = 2 * (h.tip - h.root) * 2 * (p.hinge[0] - p.skin_end) * h.wing.skins[1].areal
    nose = 2 * (h.tip - h.root) * np.pi * p.radius * h.wing.skins[1].areal
    ends = 4 * (h.root - h.wing.aileron.inboard) * 2 * 0.25 * s.chord * h.wing.skins[1].areal  # type: ignore[union-attr]
    assert_allclose(left + own, whole.mass * whole.count - slot + nose - ends, rtol=0.01)


# ------------------------------------------------------------------ travel


@pytest.mark.parametrize("name", ["P1", *(pytest.param(n, marks=pytest.mark.long) for n in ("P2", "P3"))])
def test_ailerons_are_free_through_their_travel(name: str) -> None:
    model = hinged(name)
    found = list(travel_checks(model, lay_out(model)))
    assert found and all(c.verdict == "pass" and c.id.startswith("parts.travel.aileron.") for c in found)


def test_the_nearest_of_metal_is_the_wing_s_plate_to_the_spar() -> None:
    """Setback less two diameters of the bush, at neutral: everything else is further."""
    model = hinged("P2")
    check = next(iter(travel_checks(model, lay_out(model))))
    assert_allclose(check.value, 0.0254 * (0.7 - 2 * 0.25), rtol=0, atol=5e-5)
    assert "P2-lower-AILERON-SPAR-R and P2-lower-HINGE-PLATE-" in check.caveat


def test_a_horn_too_long_meets_what_stands_below() -> None:
    """A rod where the horn's end comes with the aileron full down is met, and told by number."""
    model = hinged("P2")
    h, whole = ailerons(model)[0], lay_out(model)
    axes, turn = hinge_axes(h), radians(16)
    at = axes.at(h.frame.horn.along) - h.frame.horn.arm * (np.cos(turn) * axes.over + np.sin(turn) * axes.aft)
    shape = Tube(path=np.array([at - 0.1 * axes.along, at + 0.1 * axes.along]), outside=0.006, wall=0.0)
    stray = Part(number="P2-stray", name="rod", form="tube", group="g", purpose="test", material="4130N", stock="",
                 places=(tuple(shape.solid().centre),), mass=1.0, shape=shape)  # type: ignore[arg-type]  # fmt: skip
    check = next(iter(travel_checks(model, replace(whole, parts=(*whole.parts, stray)))))
    assert check.verdict == "fail" and check.value == 0 and "P2-lower-AILERON-HORN-R and P2-stray" in check.caveat


# ------------------------------------------------------------------ what cannot be made


def framed(wing: Wing, **new: object) -> Wing:
    assert wing.aileron and wing.aileron.frame
    frame: AileronFrame = replace(wing.aileron.frame, **new)  # type: ignore[arg-type]
    return replace(wing, aileron=replace(wing.aileron, frame=frame))


def test_a_plain_front_that_would_hit_the_false_spar_is_told_with_the_gap_it_wants() -> None:
    model = with_frame(hinged("P3"), nose=None, setback=0.006)
    with pytest.raises(DesignProblem, match=r"aileron\.gap is .*turned full up its plain front") as told:
        lay_out(model)
    assert "a gap of more than" in str(told.value)


def test_a_plain_front_with_the_gap_that_is_asked_is_laid_out_and_free() -> None:
    """Half depth h over the hinge line, arm a: the corner comes h sin t - a cos t ahead of it."""
    base = hinged("P3")
    h = ailerons(base)[0]
    s, p = h.at(h.root)
    over, arm = p.radius * 1.02, 0.014
    ahead = over * np.sin(radians(24)) - arm * np.cos(radians(24))
    model = with_aileron(with_frame(base, nose=None, setback=arm), gap=float(ahead + arm + 0.006))
    q = parting(s, ailerons(model)[0].wing)
    assert q.radius == 0 and q.face - q.skin_end == pytest.approx(ahead + arm + 0.006)
    with pytest.raises(DesignProblem, match="plain front"):
        lay_out(with_aileron(model, gap=float(ahead + arm - 0.004)))


def test_a_spar_within_the_nose_s_round_is_told() -> None:
    with pytest.raises(DesignProblem, match=r"aileron\.frame\.setback"):
        lay_out(with_frame(hinged("P1"), setback=0.0005))


def test_a_rear_spar_behind_the_false_spar_is_told() -> None:
    model = hinged("P1")
    wing = model.wings[0]
    late = replace(wing, spars=(wing.spars[0], replace(wing.spars[1], at=0.72)))
    with pytest.raises(DesignProblem, match="spar rear reaches into the aileron, its gap or the false spar"):
        lay_out(replace(model, wings=(late,)))


def test_feet_higher_than_the_false_spar_are_told() -> None:
    model = hinged("P2")
    tall = replace(ailerons(model)[0].frame.hinges, fasteners=9)
    with pytest.raises(DesignProblem, match=r"aileron\.frame\.hinges: a foot is"):
        lay_out(with_frame(model, hinges=tall))


# ------------------------------------------------------------------ balance


def test_moment_by_hand() -> None:
    """2 kg 0.3 m aft, 0.5 kg 0.1 m ahead; 0.2 m2 of covering 0.25 m aft, 0.4 kg, paint 0.1 (0.05 to 0.3) kg/m2."""
    t = replace(movable(hinged("P1"))[0], start="X-", along=np.array([0.0, 1.0, 0.0]), place=np.array([1.0, 0.0, 0.0]))

    def part(number: str, x: float, mass: float, **more: object) -> Part:
        return Part(number=number, name="", form="item", group="g", purpose="skin", material="m", stock="",
                    places=((1 + x, 2.0, 0.0), (1 + x, -2.0, 0.0)), mass=mass, band=0.1, **more)  # type: ignore[arg-type]  # fmt: skip

    cover = part("X-c", 0.25, 0.4, shape=Skin(length=0.5, width=0.4, thickness=0.0))
    found = arms(t, (part("X-a", 0.3, 2.0), part("X-b", -0.1, 0.5), cover, part("Y-a", 9.0, 9.0)))
    parts, paint = balance_of(found, Paint(areal=0.1, low=0.05, high=0.3))
    assert_allclose(parts.value, 2 * 0.3 - 0.5 * 0.1 + 0.4 * 0.25, rtol=1e-12)
    assert_allclose(parts.high - parts.value, 0.1 * hypot(0.6, 0.05, 0.1), rtol=1e-12)
    assert_allclose((paint.value, paint.low, paint.high), np.array([0.1, 0.05, 0.3]) * 0.2 * 0.25, rtol=1e-12)
    assert balance_of(found, None)[1].value == 0


@pytest.mark.parametrize("name", MODELS)
def test_the_moment_of_a_model_is_that_of_its_bodies(name: str) -> None:
    """Worked out again from volumes and places, without a word of the parts' own masses or centres."""
    model = hinged(name)
    h, whole = ailerons(model)[0], lay_out(model)
    result = next(r for r in hinge_results(model, whole) if r.id == f"mass.hinge.aileron.{h.wing.name}")
    axes = hinge_axes(h)
    given = dict((n, v) for n, v, _ in result.steps[-1].given)
    drawn = moment = 0.0
    for p in aileron_parts(h):
        body = p.shape.solid() if p.shape else None
        if "AILERON" in p.number and body is not None and "SKIN" not in p.number:
            mass = body.volume * material(p.material).density
            moment += mass * float((body.centre - axes.start) @ axes.aft)
            drawn += mass
    assert 0 < drawn < given["mass"]
    assert result.low < result.value < result.high and result.value > moment


def test_without_paint_it_says_so() -> None:
    model = replace(hinged("P1"), paint=None)
    told = next(hinge_results(model, lay_out(model)))
    painted = next(hinge_results(hinged("P1"), lay_out(hinged("P1"))))
    assert "without paint" in told.caveat and told.value < painted.value
    assert painted.high - painted.value > told.high - told.value


def test_an_aileron_without_a_frame_is_told_as_not_drawn() -> None:
    bare = with_aileron(hinged("P1"), frame=None)
    assembly: Assembly = lay_out(bare)
    assert any("spar, hinges and false spar of the ailerons (wing)" in u for u in assembly.unknowns)
    assert not any("ailerons" in u for u in lay_out(hinged("P1")).unknowns)
    assert list(travel_checks(bare, assembly)) == []
    assert isinstance(aileron("P1"), Hinged)


def test_what_closes_a_spar_behind() -> None:
    """A channel between the flanges and a block between the strips by hand; the rib there ends behind them."""
    for name, length in (("P2", 4.0), ("P3", 3.0)):
        model = hinged(name)
        rib = next(s.buttline for s in rib_stations(ailerons(model)[0].wing) if s.hinged and s.kind == "wing")
        half = length / 2 * 0.0254
        h = ailerons(with_frame(model, closed=(ClosedStretch(start=rib - half, end=rib + half),)))[0]
        (part,) = closing_parts(h)
        spar, (s, p) = h.frame.spar, h.at(rib)
        H = float(np.ptp(spar_rings(aileron_inside(s, h.wing, p), p.face, spar, "")[""][:, 1]))
        if spar.strip:
            area = (H - 2 * spar.strip.depth) * spar.strip.width
        else:
            own, t = spar.flange - spar.thickness - spar.bend_radius, spar.thickness
            area = (H - 2 * t) * t + 2 * (own - t) * t
        density = material(spar.strip.material if spar.strip else spar.material).density
        assert part.mass == pytest.approx(area * 2 * half * density, rel=0.06)  # the section tapers aft
        behind = [q for g in rib_groups(h.model, h.wing) for q in g if q.piece.name == "aileron rib"]
        for q in behind:
            short = abs(q.where.buttline - rib) < half
            reach = float(q.piece.outline[:, 0].min()) - h.at(q.where.buttline)[1].face
            assert (reach >= spar.width - 1e-6) is short
        joints = {j.number.rsplit("-", 1)[0]: j for j in closing_joints(h, rib_groups(h.model, h.wing))}
        assert any(n.endswith("RIB") for n in joints) and all(j.primary for j in joints.values())
