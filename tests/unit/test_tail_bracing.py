"""Struts and wires on the tail: where their pins lie, what holds them, that nothing is in the way; by hand."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose
from shapely import Point

from sparwright.base.problem import DesignProblem
from sparwright.family.model import Family, Model, Strut, StrutEnd, Wire
from sparwright.flight.in_the_wind import in_the_wind
from sparwright.mass.compared import belongs
from sparwright.mass.weigh import ledger
from sparwright.parts.ends import CLEAR, ONE_PLANE
from sparwright.parts.ends_told import end_results
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Assembly, Plate
from sparwright.parts.struts import pinned
from sparwright.parts.tail import tail_not_drawn
from sparwright.parts.tail_bracing import plate_outline
from sparwright.parts.tail_ends import Clamp, clamps
from sparwright.parts.travel import travel_checks
from sparwright.run import RunResult
from sparwright.shape.flat_frame import tail_spot
from sparwright.shape.frame import end_place

INCH = 0.0254
MODELS = ("W1", "W2", "W3")


@pytest.fixture(scope="module")
def laid(ran: Callable[[str], RunResult]) -> dict[str, Assembly]:
    return {m: ran(m).assembly for m in MODELS}


def _of(model: Model) -> tuple[Clamp, Clamp]:
    tailplane, fin = (c for c in clamps(model) if c.tube == "spar")  # W1 has one more on the leading edge
    return tailplane, fin


def changed(model: Model, **ends: StrutEnd) -> Model:
    """A model with the tail's strut (`strut`) or wire (`wire`) ending elsewhere, at its second end."""
    struts = tuple(replace(s, ends=(s.ends[0], ends["strut"])) if s.name == "tail" and "strut" in ends else s
                   for s in model.struts)  # fmt: skip
    wires = tuple(replace(w, ends=(w.ends[0], ends["wire"])) if w.name == "fin" and "wire" in ends else w
                  for w in model.wires)  # fmt: skip
    return replace(model, struts=struts, wires=wires)


def test_a_place_on_the_spar_by_hand(whinchat: Family) -> None:
    """W3: hinge line 0.45 x 44 in aft all along, half gap and tube before it; the plane 5-1/4 deg nose down.

    The fin's hinge line leans: 39 (tan 15 deg - 0.45 x 13.375/52) in at 39 in over 0.45 x 45-3/8 in.
    """
    model = whinchat.models["W3"]
    end = next(s for s in model.struts if s.name == "tail").ends[1]
    u, lean = 0.45 * 44 - 0.25 - 0.5, math.radians(5.25)
    by_hand = np.array([154 + u * math.cos(lean), 46.75, 6.75 + u * math.sin(lean)])
    assert_allclose(np.array(end_place(model, end)) / INCH, by_hand, rtol=0, atol=2e-4)  # the file's sweep has 3 places
    spot = tail_spot(model, end)
    assert_allclose(spot.along, (0, 1, 0), rtol=0, atol=1e-5)
    assert_allclose(spot.aft, (math.cos(lean), 0, math.sin(lean)), rtol=0, atol=1e-5)
    slope = math.tan(math.radians(15)) - 0.45 * 13.375 / 52
    fin = tail_spot(model, next(w for w in model.wires if w.name == "fin").ends[1])
    assert_allclose(fin.place / INCH, (151.75 + 0.45 * 45.375 + 39 * slope - 0.75 * math.hypot(1, slope), 0, 45),
                    rtol=0, atol=1e-9)  # fmt: skip


@pytest.mark.parametrize("name", MODELS)
def test_pins_lie_on_their_lines_off_the_tube_and_between_or_before_the_plates(whinchat: Family, name: str) -> None:
    for spot in _of(whinchat.models[name]):
        assert_allclose((spot.normal @ spot.at.along, spot.normal @ spot.out), 0.0, rtol=0, atol=1e-12)
        for lugs in spot.lugs:
            for h, pin in zip(lugs.held, lugs.pins, strict=True):
                off = pin - spot.at.place
                wire = isinstance(h.thing, Wire)
                ahead = -(1.0 / 2 * INCH + spot.fitting.lug.thickness / 2) if wire else 0.0
                assert_allclose(off @ spot.normal, ahead, rtol=0, atol=1e-12)
                assert abs(h.away @ spot.normal) <= math.sin(ONE_PLANE)
                assert abs(off @ spot.out) == pytest.approx(0.5 * INCH + spot.fitting.edge + CLEAR, abs=1e-9)
                on_line = off - ahead * spot.normal
                along = h.away - (h.away @ spot.normal) * spot.normal
                assert np.linalg.norm(np.cross(on_line, along)) < 1e-12 and on_line @ h.away > 0


def test_what_a_clamp_is_made_of(whinchat: Family, laid: dict[str, Assembly]) -> None:
    """Two plates and two bushed bolts a side, on either side; one set on the fin, its fore plate its own mirror."""
    model, number = whinchat.models["W3"], "W3-tailplane-CLAMP-spar-46+48"
    parts = {p.number: p for p in laid["W3"].parts}
    names = ("FORE", "AFT", "BUSH-IN", "BUSH-OUT", "BOLT-IN", "BOLT-OUT")
    assert all(parts[f"{number}-{n}"].count == 2 and parts[f"{number}-{n}"].group == "tail" for n in names)
    assert all(parts[f"W3-fin-CLAMP-spar-39-{n}"].count == 1 for n in names)
    fore, aft = (parts[f"{number}-{n}"].shape for n in ("FORE", "AFT"))
    assert isinstance(fore, Plate) and isinstance(aft, Plate)
    assert (len(fore.holes), len(aft.holes)) == (4, 3)  # two bolts, the strut's pin; the wire's before the tube alone
    tailplane, fin = _of(model)
    outline = plate_outline(fin, False)
    assert outline.area == pytest.approx(outline.union(outline).area)
    for x, y in np.array(outline.exterior.coords):
        assert outline.buffer(1e-6).contains(Point(x, -y))
    bush = parts[f"{number}-BUSH-IN"]
    by_hand = math.pi / 4 * (0.25**2 - 0.194**2) * 1.0 * INCH**3 * 7833.0
    assert bush.mass == pytest.approx(by_hand, rel=0.01)  # density of 4130 to three places
    joint = next(j for j in laid["W3"].joints if j.number == f"{number}-JOINT")
    assert (
        joint.parts[0] == "W3-tailplane-SPAR"
        and joint.count == 2
        and joint.bolt
        and "not the hollow" in joint.bolt.limit
    )
    ends = pinned(model)
    assert ends["tail", 1].plates == (f"{number}-FORE", f"{number}-AFT")
    assert ends["fin", 0].plates == (f"{number}-FORE",)
    assert tailplane.along == pytest.approx(46.75 * INCH)


@pytest.mark.parametrize("name", ["W1", *(pytest.param(n, marks=pytest.mark.long) for n in ("W2", "W3"))])
def test_nothing_is_in_the_way_and_everything_is_held(laid: dict[str, Assembly], name: str) -> None:
    found = measure(laid[name])
    assert not [c for c in found.clashes if c.drawn] and not found.apart and not found.adrift and not found.loose


def test_elevator_and_rudder_go_through_their_travels_clear_of_it(whinchat: Family, laid: dict[str, Assembly]) -> None:
    """W2's pin lies furthest in, where the elevator's hinge straps are."""
    found = {c.id: c for c in travel_checks(whinchat.models["W2"], laid["W2"])}
    assert found["parts.travel.elevator"].verdict == "pass" and found["parts.travel.rudder"].verdict == "pass"


def test_a_bolt_in_the_elevators_way_is_found(whinchat: Family) -> None:
    """Beside the hinge at 36-5/8 in the aft plate would lie in the elevator's straps."""
    model = whinchat.models["W2"]
    near = replace(next(s for s in model.struts if s.name == "tail").ends[1], along=38 * INCH)
    wire = next(w for w in model.wires if w.name == "fin")
    moved = changed(model, strut=near)
    moved = replace(moved, wires=tuple(replace(w, ends=(replace(w.ends[0], along=near.along), w.ends[1]))
                                       if w is wire else w for w in moved.wires))  # fmt: skip
    found = measure(lay_out(moved))
    assert any("CLAMP" in f"{c.one} {c.other}" and "HINGE" in f"{c.one} {c.other}" for c in found.clashes)


@pytest.mark.parametrize("name", MODELS)
def test_right_and_left_foot_lugs_meet_on_the_centreline(laid: dict[str, Assembly], name: str) -> None:
    lug = laid[name].part(f"{name}-fuselage-LUG-S4-TAIL-A")
    assert lug.count == 2 and isinstance(lug.shape, Plate)
    body = lug.shape.solid().placed(lug.poses[0])
    assert -1e-9 < body.points[:, 1].min() < 1e-3  # W1's two struts part a hair's breadth off it


def test_a_line_along_the_tube_or_out_of_the_plates_is_told(whinchat: Family) -> None:
    model = whinchat.models["W3"]
    strut = next(s for s in model.struts if s.name == "tail")
    with pytest.raises(DesignProblem, match=r"fin leans .* out of the plates"):
        lay_out(changed(model, wire=replace(strut.ends[1], tail="fin", tube="leading", along=30 * INCH, fitting="fin",
                                            piece="fork")))  # fmt: skip
    low = replace(model, struts=tuple(_from(s, "S1") if s.name == "tail" else s for s in model.struts))
    with pytest.raises(DesignProblem, match="tail runs along the spar of the tailplane"):
        clamps(low)


def _from(strut: Strut, node: str) -> Strut:
    return replace(strut, ends=(replace(strut.ends[0], node=node), strut.ends[1]))


@pytest.mark.parametrize("name", MODELS)
def test_it_is_weighed_blown_on_and_told(whinchat: Family, laid: dict[str, Assembly], name: str) -> None:
    model, assembly = whinchat.models[name], laid[name]
    seen = {s.name: s for s in in_the_wind(model, assembly)}
    assert (seen["tail"].count, seen["tail"].shape, seen["tail"].on_wings) == (2, "streamline", 1)
    assert (seen["fin"].count, seen["fin"].shape, seen["fin"].on_wings) == (2, "wire", 2)
    lines = {x.name.split(" ", 1)[0]: belongs(model, x) for x in ledger(model, assembly)}
    assert lines[f"{name}-struts-TAIL"] == lines[f"{name}-wires-FIN"] == "tail"
    assert not any("bracing" in words for words in tail_not_drawn(model))
    off = next(r for r in end_results(model) if r.id == "ends.offset.lines")
    assert 0.53 < off.value / INCH < 0.61  # the wires, half the tube and half a plate ahead of its middle
