"""Weights and balance: twice the density twice the weight, all moved moves the centre, inertia obeys its laws."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.base.source import Band
from sparwright.data import loader
from sparwright.family.fitted import Undercarriage
from sparwright.family.model import Family, Model, Place
from sparwright.mass.weigh import centre_of, extremes, own_inertia, points_inertia, sum_band, weigh
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Part, Plate, Skin
from sparwright.run import RunResult
from sparwright.shape.solid import Pose
from sparwright.shape.tube import Tube

MODELS = ["W1", "W2", "W3"]


def test_double_density_doubles_the_weight(whinchat: Family, monkeypatch: pytest.MonkeyPatch) -> None:
    model = whinchat.models["W1"]
    before = {p.number: p.mass for p in lay_out(model).parts if p.material != "bought"}
    rooms = [m for n, m in sys.modules.items() if n.startswith("sparwright.parts.") and hasattr(m, "material")]
    assert {"struts", "lugs", "wing", "ribs"} <= {m.__name__.rpartition(".")[2] for m in rooms}
    for room in rooms:
        monkeypatch.setattr(
            room, "material", lambda key: replace(loader.material(key), density=2 * loader.material(key).density)
        )
    after = {p.number: p.mass for p in lay_out(model).parts if p.material != "bought"}
    fabric = {p.number for p in lay_out(model).parts if p.material == "fabric"}
    assert before.keys() == after.keys() and len(before) > 50
    for number, mass in before.items():
        assert_allclose(after[number], mass * (1 if number in fabric else 2), rtol=1e-12)


def moved(model: Model, by: float) -> Model:
    """Everything moved aft."""

    def at(p: tuple[float, float, float]) -> tuple[float, float, float]:
        return (p[0] + by, p[1], p[2])

    return replace(
        model,
        wings=tuple(replace(w, leading_edge=at(w.leading_edge)) for w in model.wings),
        tailplane=replace(model.tailplane, leading_edge=at(model.tailplane.leading_edge)),
        fin=replace(model.fin, leading_edge=at(model.fin.leading_edge)),
        fuselage=replace(model.fuselage, nodes={k: at(v) for k, v in model.fuselage.nodes.items()}, covering=0.0),
        engine=replace(model.engine, place=at(model.engine.place)),
        propeller=replace(model.propeller, place=at(model.propeller.place)),
        wheels=tuple(replace(x, place=at(x.place)) for x in model.wheels),
        items=tuple(replace(x, place=at(x.place)) for x in model.items),
        allowances=tuple(replace(x, place=at(x.place)) for x in model.allowances),
        loads=tuple(replace(x, place=at(x.place)) for x in model.loads),
        sheets=tuple(
            replace(
                s,
                corners=moved_places(s.corners, by),
                holes=tuple(replace(h, place=at(h.place)) for h in s.holes),
            )
            for s in model.sheets
        ),
        mount=model.mount and replace(model.mount, nodes=moved_places(model.mount.nodes, by)),
        undercarriage=model.undercarriage and moved_springs(model.undercarriage, by),
    )


def moved_places(places: Mapping[str, Place], by: float) -> dict[str, Place]:
    return {k: (x + by, y, z) for k, (x, y, z) in places.items()}


def moved_springs(gear: Undercarriage, by: float) -> Undercarriage:
    leaf = gear.tail
    assert leaf is not None
    ends = moved_places({"start": leaf.start, "rest": leaf.rest, "end": leaf.end}, by)
    return replace(gear, tail=replace(leaf, **ends), brakes=None)


def test_moving_everything_moves_the_centre_and_nothing_else(whinchat: Family) -> None:
    """By 1 m aft; left out: covering, weighed from the firewall at station nought; what has places of its own."""
    bare = dict.fromkeys(("fuel", "controls", "electrics", "pitot", "exhaust", "seat", "cowling"))
    model = moved(replace(whinchat.models["W3"], **bare), 0.0)
    further = moved(model, 1.0)
    a, b = weigh(model, lay_out(model)), weigh(further, lay_out(further))
    assert_allclose(b.empty.value, a.empty.value, rtol=1e-12)
    assert_allclose(b.empty_station, a.empty_station + 1, rtol=1e-12)
    for one, two in zip(a.cases, b.cases, strict=True):
        assert_allclose(two.station, one.station + 1, rtol=1e-12)
        assert_allclose([two.fraction, two.fraction_low], [one.fraction, one.fraction_low], rtol=1e-9)
        assert_allclose(two.inertia, one.inertia, rtol=1e-9, atol=1e-6)


@pytest.mark.parametrize("model", MODELS)
def test_inertia(ran: Callable[[str], RunResult], model: str) -> None:
    """Symmetric, positive, no product with the span (the frame's one-sided diagonals apart), and the triangle rule."""
    for case in ran(model).balance.cases:
        tensor = case.inertia
        assert_allclose(tensor, tensor.T, rtol=0, atol=1e-9)
        assert_allclose(tensor[1, [0, 2]], 0, rtol=0, atol=0.02 * tensor[0, 0])
        assert np.all(np.linalg.eigvalsh(tensor) > 0)
        x, y, z = np.diag(tensor)
        assert x < y + z and y < x + z and z < x + y


def test_a_dumb_bell() -> None:
    """Two points of 3 kg, 2 m to either side, 1 m up: Ixx 2 m (y^2 + z^2), Iyy 2 m z^2, Izz 2 m y^2."""
    tensor = points_inertia([3, 3], [(0, 2, 1), (0, -2, 1)], np.zeros(3))
    assert_allclose(tensor, np.diag([30, 6, 24]), rtol=0, atol=1e-12)
    one = points_inertia([3], [(1, 2, 0)], np.zeros(3))
    assert_allclose(one[0, 1], -6, rtol=0, atol=1e-12)


def rod(places: tuple[tuple[float, float, float], ...], end: tuple[float, float, float]) -> Part:
    """A rod of 12 kg and next to no thickness from the origin to `end`."""
    return Part(
        number="R", name="rod", form="tube", group="g", purpose="strut", material="4130N", stock="", places=places,
        mass=12.0, shape=Tube(path=np.array([(0, 0, 0), end], dtype=float), outside=1e-4, wall=0),
    )  # fmt: skip


def test_rods_and_plates() -> None:
    """m L^2/12 across a rod, nothing along it; a left rod is the mirror of the right one, so products with y cancel."""
    assert_allclose(own_inertia(rod(((0, 1, 0),), (0, 2, 0))), np.diag([4, 0, 4]), rtol=0, atol=1e-7)
    pair = own_inertia(rod(((0, 1, 0), (0, -1, 0)), (1, 2, 3)))
    assert_allclose(pair[1, [0, 2]], 0, rtol=0, atol=1e-6)
    assert pair[0, 2] < -1
    plate = Plate(outline=np.array([[0, 0], [4, 0], [4, 2.0], [0, 2.0]]), holes=(), thickness=1e-4)
    web = replace(rod(((0, 0, 0),), (1, 0, 0)), shape=plate, poses=(Pose((0, 0, 0), (0, 1, 0), (0, 0, 1)),))
    assert_allclose(own_inertia(web), np.diag([20, 4, 16]), rtol=0, atol=1e-7)
    rib = replace(web, poses=(Pose((0, 0, 0), (1, 0, 0), (0, 0, 1)),))
    assert_allclose(own_inertia(rib), np.diag([4, 20, 16]), rtol=0, atol=1e-7)
    ring = np.array([[-1, 0, 0], [1, 0, 0], [1, 0, 1e-4], [-1, 0, 1e-4]])
    skin = replace(web, shape=Skin(length=4.0, width=2.0, thickness=1e-4, rings=(np.array([ring, ring + (0, 4, 0)]),)))
    assert_allclose(own_inertia(skin), np.diag([16, 4, 20]), rtol=0, atol=1e-7)
    assert own_inertia(replace(web, shape=None)).sum() == 0


@pytest.mark.parametrize("model", MODELS)
def test_bands_and_extremes(ran: Callable[[str], RunResult], model: str) -> None:
    balance = ran(model).balance
    found = extremes(balance)
    assert balance.empty.low < balance.empty.value < balance.empty.high
    assert sum(x.mass.value for x in balance.lines) == pytest.approx(balance.empty.value, rel=1e-12)
    for case in balance.cases:
        assert case.fraction_low < case.fraction < case.fraction_high
        assert found["lightest"].mass <= case.mass <= found["heaviest"].mass
        assert found["foremost"].fraction_low <= case.fraction_low
        assert case.fraction_high <= found["aftmost"].fraction_high


@pytest.mark.parametrize("model", MODELS)
def test_a_share_of_each_load_stays_within_the_corners(
    ran: Callable[[str], RunResult], whinchat: Family, model: str
) -> None:
    """Least and most of each load bound the balance of anything between, also halfway."""
    result, loads = ran(model), whinchat.models[model].loads
    balance = result.balance
    lines = [(x.mass.value, x.place) for x in balance.lines]
    for part in (0.2, 0.5, 0.9):
        masses = [m for m, _ in lines] + [x.least + part * (x.most - x.least) for x in loads]
        _, centre = centre_of(masses, [p for _, p in lines] + [x.place for x in loads])
        at = (centre[0] - balance.mean_chord_station) / balance.mean_chord
        assert min(c.fraction for c in balance.cases) <= at <= max(c.fraction for c in balance.cases)


@given(st.lists(st.tuples(st.floats(0.1, 10), st.floats(0, 1), st.floats(0, 1)), min_size=1, max_size=8))
def test_a_sum_is_surer_than_its_parts(rows: list[tuple[float, float, float]]) -> None:
    bands = [Band(v, v - d, v + u) for v, d, u in rows]
    total = sum_band(bands)
    assert total.value == pytest.approx(sum(b.value for b in bands))
    widest, straight = max(b.high - b.value for b in bands), sum(b.high - b.value for b in bands)
    assert widest - 1e-9 <= total.high - total.value <= straight + 1e-9
