from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from sparwright.family.model import Family
from sparwright.loads.besides import empty
from sparwright.loads.case import LoadCase, Pushes
from sparwright.mass.record import Balance
from sparwright.mass.weigh import weigh
from sparwright.parts.layout import lay_out
from sparwright.structure.bar import Skeleton
from sparwright.structure.laid import Laid, amounts, laid, masses_of, whole
from sparwright.structure.masses import Carriers, Lumps, lumps
from sparwright.structure.spread import spread
from sparwright.structure.whole import skeleton

MODELS = ("W1", "W2", "W3")
Built = tuple[Skeleton, Carriers, Lumps, Balance]


@pytest.fixture(scope="module")
def built(whinchat: Family) -> object:
    """Frame, carriers, lumps and balance of a model, once."""

    @cache
    def make(name: str) -> Built:
        model = whinchat.models[name]
        assembly, bones = lay_out(model), skeleton(model)
        return bones, Carriers(model, bones), lumps(model, assembly, bones), weigh(model, assembly)

    return make


def case_of(balance: Balance, mass: float | None = None, station: float | None = None) -> LoadCase:
    """A case at the heaviest loading, or at another mass and centre of gravity."""
    heavy = max(balance.cases, key=lambda c: c.mass)
    return LoadCase(key="x", title="x", kind="manoeuvre", rule="none", loading=heavy.name, mass=mass or heavy.mass,
                    station=station or heavy.station, waterline=heavy.waterline)  # fmt: skip


def one_push(on: str, place: tuple[float, float, float], force: tuple[float, float, float]) -> Pushes:
    """A single force."""
    return Pushes(place=np.array([place]), force=np.array([force]), moment=np.zeros((1, 3)), on=(on,))


@pytest.mark.parametrize("count", [1, 2, 3, 7])
def test_what_is_spread_keeps_its_force_and_moment(count: int) -> None:
    rng = np.random.default_rng(count)
    nodes, place, wrench = rng.normal(size=(count, 3)), rng.normal(size=3), rng.normal(size=6)
    on = spread(nodes, place) @ wrench
    moment = (np.cross(nodes - place, on[:, :3]) + on[:, 3:]).sum(axis=0)
    np.testing.assert_allclose(on[:, :3].sum(axis=0), wrench[:3], rtol=0, atol=1e-12)
    np.testing.assert_allclose(moment, wrench[3:], rtol=0, atol=1e-11)


def test_a_force_between_two_nodes_is_shared_by_lever() -> None:
    on = spread(np.array([[0.0, 0.0, 0.0], [0.0, 4.0, 0.0]]), np.array([0.0, 1.0, 0.0]))
    np.testing.assert_allclose(on[:, 2, 2], [0.75, 0.25], rtol=0, atol=1e-4)  # the weak turning springs take the rest


@pytest.mark.parametrize("name", MODELS)
def test_lumps_weigh_what_the_ledger_weighs(built: object, name: str) -> None:
    assert callable(built)
    _, carriers, found, balance = built(name)
    weights = masses_of(carriers.model, found, case_of(balance))
    assert weights is not None
    mass, centre, inertia = whole(found, weights)
    heavy = max(balance.cases, key=lambda c: c.mass)
    assert mass == pytest.approx(heavy.mass, rel=1e-9)
    assert centre[0] == pytest.approx(heavy.station, abs=1e-9)
    assert centre[2] == pytest.approx(heavy.waterline, abs=1e-9)
    # long parts are cut into pieces that lie in a line, so their breadth is lost: half a per cent
    np.testing.assert_allclose(np.diag(inertia), np.diag(heavy.inertia), rtol=0.006)


@pytest.mark.parametrize("name", MODELS)
def test_a_case_reaches_its_mass_and_centre_without_touching_the_wings(built: object, name: str) -> None:
    assert callable(built)
    _, carriers, found, balance = built(name)
    case = case_of(balance, carriers.model.limits.max_mass, case_of(balance).station - 0.02)
    weights = masses_of(carriers.model, found, case)
    assert weights is not None
    assert weights.sum() == pytest.approx(case.mass, rel=1e-12)
    assert weights @ found.place[:, 0] / case.mass == pytest.approx(case.station, abs=1e-12)
    wings = np.array([g.startswith("wing") for g in found.group])
    np.testing.assert_array_equal(weights[wings], found.mass[wings])


@pytest.mark.parametrize("name", MODELS)
def test_an_empty_aeroplane_has_nobody_and_nothing_aboard(built: object, name: str) -> None:
    assert callable(built)
    _, carriers, found, balance = built(name)
    x = empty(balance)
    case = replace(case_of(balance, x.mass, x.station), loading="empty")
    weights = masses_of(carriers.model, found, case)
    assert weights is not None
    loads = np.array([bool(n) for n in found.load])
    assert loads.any() and np.all(weights[loads] == 0)
    np.testing.assert_allclose(weights[~loads], found.mass[~loads], rtol=1e-6)  # it weighs what its parts do


def test_a_case_that_cannot_be_loaded_says_so(built: object) -> None:
    assert callable(built)
    bones, carriers, found, balance = built("W1")
    case = case_of(balance, 60.0)
    told = laid(bones, carriers, found, case, one_push("body", (1.0, 0.0, 0.0), (0.0, 0.0, 100.0)))
    assert "no loading reaches 60 kg" in told.why
    assert np.isnan(told.loads).all()


PUSHES = [
    ("wing", (1.2, 2.3, 0.9), (-40.0, 3.0, 500.0)),
    ("wheel:main:R", (0.6, 0.8, -1.1), (300.0, 200.0, 4000.0)),
    ("wheel:tail", (4.5, 0.0, -0.4), (0.0, 50.0, 900.0)),
    ("propeller", (-0.84, 0.0, 0.0), (-900.0, 0.0, 0.0)),
    ("elevator:L", (4.4, -0.6, 0.2), (0.0, 0.0, -700.0)),
    ("fin", (4.3, 0.0, 0.8), (0.0, 600.0, 0.0)),
    ("seat", (1.4, 0.0, 0.0), (0.0, 0.0, -2000.0)),
    ("node:C1R", (1.2, 0.3, 0.3), (10.0, 20.0, 30.0)),
    ("held:R", (1.2, 0.4, 0.1), (10.0, 20.0, -900.0)),
]


def pushed(built: object, name: str, row: tuple[str, tuple[float, float, float], tuple[float, float, float]]) -> Laid:
    """One force on a model."""
    assert callable(built)
    bones, carriers, found, balance = built(name)
    on, place, force = row
    on = f"wing:{carriers.model.wings[0].name}:R" if on == "wing" else on
    return laid(bones, carriers, found, case_of(balance), one_push(on, place, force))


@pytest.mark.parametrize("name", MODELS)
@pytest.mark.parametrize("row", PUSHES, ids=[p[0] for p in PUSHES])
def test_inertia_balances_every_force(built: object, name: str, row: tuple) -> None:
    told = pushed(built, name, row)
    assert callable(built)
    place = built(name)[0].frame.place
    size = np.abs(told.loads[:, :3]).sum()
    np.testing.assert_allclose(told.loads[:, :3].sum(axis=0), 0, atol=1e-12 * size)
    moment = (np.cross(place, told.loads[:, :3]) + told.loads[:, 3:]).sum(axis=0)
    np.testing.assert_allclose(moment, 0, atol=1e-11 * size)
    heavy = max(built(name)[3].cases, key=lambda c: c.mass)
    np.testing.assert_allclose(told.acceleration, np.array(row[2]) / heavy.mass, rtol=1e-9, atol=1e-12)


@pytest.mark.parametrize("name", MODELS)
def test_the_mirror_of_a_force_loads_the_mirror_of_the_frame(built: object, name: str) -> None:
    assert callable(built)
    place = built(name)[0].frame.place
    right = pushed(built, name, ("wing", (1.2, 2.3, 0.9), (-40.0, 3.0, 500.0)))
    left = pushed(built, name, ("wing", (1.2, -2.3, 0.9), (-40.0, -3.0, 500.0)))
    other = [int(np.argmin(np.linalg.norm(place - p * [1, -1, 1], axis=1))) for p in place]
    swap = np.array([1, -1, 1, -1, 1, -1])
    # what hangs on the right only (battery, pipes) is no mirror: one or two parts in a hundred of the largest
    np.testing.assert_allclose(left.loads[other], right.loads * swap, atol=0.02 * np.abs(right.loads).max())


def test_a_force_on_nothing_is_refused(built: object) -> None:
    with pytest.raises(KeyError, match="rudder bar"):
        pushed(built, "W1", ("rudder bar", (0.0, 0.0, 0.0), (1.0, 0.0, 0.0)))


@pytest.mark.parametrize("name", MODELS)
def test_bars_have_stiffness_and_length(built: object, name: str) -> None:
    assert callable(built)
    frame = built(name)[0].frame
    ends = frame.place[frame.ends] + frame.arm
    assert np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1).min() > 5e-3
    for stiff in (frame.area, frame.youngs, frame.shear):
        assert np.isfinite(stiff).all() and (stiff > 0).all()


@pytest.mark.parametrize("name", MODELS)
def test_what_is_aboard_lump_by_lump(built: object, name: str) -> None:
    bones, _, lump, _ = built(name)  # type: ignore[operator]
    draw = np.random.default_rng(2)
    loads = sorted(set(lump.load) - {""})
    for count in range(len(loads) + 1):
        aboard = {x: float(draw.uniform(0, 90)) for x in loads[:count]}
        slow = [m * aboard.get(x, 1.0) if x else m for m, x in zip(lump.mass, lump.load, strict=True)]
        assert amounts(lump, aboard).tolist() == slow
    assert not np.shares_memory(amounts(lump, {}), lump.mass)
    for head, places in bones.beginning.items():
        assert len(head) == 3
        assert list(places) == [i for i, n in enumerate(bones.names) if n.startswith(".".join(head) + ".")]
    assert {i for those in bones.beginning.values() for i in those} == {
        i for i, n in enumerate(bones.names) if n.count(".") >= 3
    }
