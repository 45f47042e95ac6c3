"""Drag items one by one: what an item says, leaning, shelter, cockpit, cooling, corners, and the ranked table."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from demo import ran, whinchat
from numpy.testing import assert_allclose

from sparwright.air.atmosphere import atmosphere
from sparwright.air.drag import cooling_drag, fuselage, junction, parasite
from sparwright.air.item import DragItem, rows
from sparwright.air.struts import StrutForDrag, sheltered, strut, wake_of
from sparwright.base.source import MARKS
from sparwright.flight.drag_table import drag_table
from sparwright.run import RunResult

AIR = atmosphere(0.0)
FAMILY = whinchat()


def leaning(degrees: float, shape: str = "round", length: float = 1.0) -> StrutForDrag:
    a = math.radians(degrees)
    ends = ((0.0, 0.5, 0.0), (length * math.cos(a), 0.5, length * math.sin(a)))
    return StrutForDrag("s", length, 0.02, shape, 1, ends)  # type: ignore[arg-type]


def test_every_row_says_where_it_comes_from() -> None:
    for key, row in rows().items():
        assert row["title"] and row["on"] and row["reach"] and row["source"], key
        assert row["mark"] in MARKS, key
        if "value" in row:
            assert row["low"] < row["value"] < row["high"], key


@pytest.mark.parametrize("name", sorted(FAMILY.models))
def test_an_item_is_its_coefficient_times_its_area(name: str) -> None:
    items = parasite(FAMILY.models[name], AIR, 35.0, [leaning(60.0), replace(leaning(80.0, "wire"), on_wings=1)])
    assert len({i.name for i in items}) > 15
    for i in items:
        for end in ("value", "low", "high"):
            assert_allclose(getattr(i.area, end), getattr(i.coefficient, end) * i.stands_on, rtol=1e-12, atol=0)
        assert i.on and i.group and i.reach and i.source.key, i.name
        assert 0 <= i.area.low <= i.area.value <= i.area.high, i.name


def test_a_leaning_tube_worked_by_hand() -> None:
    """60 deg to the wind at 35 m/s: Re 41,502 across it, CD 1.164; sin^3 0.64952, cos^3 0.125 times 0.02."""
    item = strut(leaning(60.0), AIR, 35.0)
    assert_allclose(item.area.value, 0.02 * (1.164 * 0.64952 + 0.0025), rtol=1e-3, atol=0)


def test_a_square_strut_drags_as_one_without_ends() -> None:
    for shape in ("round", "streamline", "wire"):
        square = strut(leaning(90.0, shape), AIR, 35.0).area
        bare = strut(replace(leaning(90.0, shape), ends=None), AIR, 35.0).area
        assert_allclose([square.low, square.value, square.high], [bare.low, bare.value, bare.high], rtol=1e-12, atol=0)


def test_leaning_eases_and_a_streamlined_strut_less() -> None:
    def left(shape: str) -> float:
        return strut(leaning(45.0, shape), AIR, 35.0).area.value / strut(leaning(90.0, shape), AIR, 35.0).area.value

    assert 0.3 < left("round") < 0.45 < left("streamline") < 0.8


def test_past_thirty_degrees_the_high_end_is_square() -> None:
    for shape in ("round", "streamline"):
        flat, square = (strut(leaning(d, shape), AIR, 60.0).area for d in (20.0, 90.0))
        assert flat.value < 0.6 * square.value
        assert flat.high > 0.9 * square.high


def test_a_strut_along_the_wind_has_its_friction_left() -> None:
    low = strut(replace(leaning(15.0), width=0.1), AIR, 60.0)
    assert low.area.value > 0.02 * 0.1 * 0.9 * math.cos(math.radians(15)) ** 3


def test_the_far_wake_holds_the_drag() -> None:
    """To first order CD d = 2 Int u1/U dy; sqrt(left) = 1 - u1/U. Constants to three digits, so 0.2 %."""
    drag, d, x = 1.2, 0.004, 2.0
    y = np.linspace(-0.2, 0.2, 20001)
    loss = [1 - math.sqrt(wake_of(drag, d, x, float(v))) for v in y]
    assert_allclose(2 * np.trapezoid(loss, y), drag * d, rtol=2e-3, atol=0)


def test_shelter_eases_the_low_end_of_the_rear_one_only() -> None:
    def upright(x: float, y: float) -> StrutForDrag:
        return StrutForDrag(f"at {x:g}", 1.0, 0.004, "wire", 2, ((x, y, 0.0), (x, y, 1.0)))

    def shared(second: StrutForDrag) -> tuple[DragItem, DragItem, DragItem]:
        things = [upright(0.0, 0.5), second]
        alone = [strut(t, AIR, 35.0) for t in things]
        front, rear = sheltered(things, alone)
        assert front == alone[0]
        return front, rear, alone[1]

    _, rear, alone = shared(upright(0.5, 0.5))
    assert (rear.area.value, rear.area.high) == (alone.area.value, alone.area.high)
    assert 0.7 * alone.area.low < rear.area.low < 0.9 * alone.area.low
    assert_allclose(rear.coefficient.low * rear.stands_on, rear.area.low, rtol=1e-12, atol=0)
    _, rear, alone = shared(upright(0.5, 0.8))
    assert rear == alone
    _, rear, _ = shared(upright(0.05, 0.5))
    assert rear.area.low == 0 and "behind at 0" in rear.note


def test_no_outlet_can_cost_more_than_half_its_area_when_it_points_aft() -> None:
    r = np.linspace(0, 1, 101)
    best = max(cooling_drag(float(v)) for v in r)
    assert_allclose(best, 0.5, rtol=0, atol=1e-12)
    assert cooling_drag(0.0) == cooling_drag(1.0) == 0
    row = rows()["cooling"]
    assert_allclose([row["value"], row["low"], row["high"]],
                    [cooling_drag(0.5), cooling_drag(0.2), cooling_drag(0.6, 0.0)], rtol=1e-12, atol=0)  # fmt: skip
    with pytest.raises(ValueError, match="between 0 and 1"):
        cooling_drag(1.2)


def test_what_the_file_does_not_say_is_not_nought() -> None:
    model = FAMILY.models["W1"]
    body = model.fuselage
    names = {i.name for i in parasite(model, AIR, 35.0)}
    assert {"windscreen and head", "cockpit opening", "exposed engine", "cooling air"} <= names
    for unsaid in (replace(body, windscreen=None), replace(body, cockpit_opening=None)):
        coarse = next(i for i in fuselage(unsaid, AIR, 35.0) if i.name == "open cockpit")
        assert coarse.area.value > 0.02
    for engine in (replace(model.engine, exposed=None), replace(model.engine, cooling_outlet=None)):
        found = {i.name: i.area.value for i in parasite(replace(model, engine=engine), AIR, 35.0)}
        assert found["engine and its cooling"] > 0.02 and "cooling air" not in found
    none = {i.name: i.area for i in fuselage(replace(body, windscreen=0.0, cockpit_opening=0.0), AIR, 35.0)}
    assert none["windscreen and head"].high == 0
    assert len(fuselage(replace(body, open_cockpit=False), AIR, 35.0)) == 1


def test_corners() -> None:
    """c 1 m, t/c 0.12: 0.8 x 0.001728 - 0.0003 = 0.0010824 a corner."""
    assert_allclose(junction("x", 1.0, 0.12, 2).area.value, 2 * 0.0010824, rtol=1e-10, atol=0)
    assert not junction("x", 1.0, 0.06, 2).area.known
    low = FAMILY.models["W1"].wings[0]
    through = replace(FAMILY.models["W1"], wings=(replace(low, leading_edge=(0.8, 0.0, 0.0)),))
    names = {i.name for i in parasite(through, AIR, 35.0)}
    assert "wing on the body" not in names, "drawn through the body its section drag counts right through"
    on_body = {i.name for i in parasite(FAMILY.models["W3"], AIR, 35.0) if i.name.endswith("on the body")}
    assert on_body == {"middle on the body", "lower on the body", "tailplane on the body", "fin on the body"}


@pytest.fixture(scope="module", params=sorted(FAMILY.models))
def result(request: pytest.FixtureRequest) -> RunResult:
    return ran(request.param)


def test_the_table_is_ranked_complete_and_adds_up(result: RunResult) -> None:
    flown = result.flight.flown
    table = drag_table(flown)
    areas = [r.area.value for r in table.rows]
    assert areas == sorted(areas, reverse=True)
    assert_allclose(sum(areas), table.total.value, rtol=1e-12, atol=0)
    assert_allclose(sum(r.part for r in table.rows), 1.0, rtol=1e-12, atol=0)
    names = {r.name for r in table.rows}
    assert {"induced", "trim", "fin", "tailplane", *flown.plane.wings} <= names
    assert {i.name for i in flown.plane.parasite(table.speed, flown.air)} <= names
    for r in table.rows:
        if math.isfinite(r.stands_on):
            assert_allclose(r.area.value, r.coefficient.value * r.stands_on, rtol=1e-9, atol=0)
    told = result.result("flight.drag.total")  # straight between speeds a metre per second apart: 1e-3
    assert_allclose(table.total.value * table.pressure, told.value, rtol=1e-3, atol=0)


def test_the_table_is_told_in_results(result: RunResult) -> None:
    total = result.result("drag.total")
    parts = [result.result(p) for p in total.parents]
    assert_allclose(sum(p.value for p in parts), total.value, rtol=1e-12, atol=0)
    assert all(p.unit == "m2" and p.source and p.low <= p.value <= p.high for p in parts)
    assert result.result("drag.struts_on_wings").parents
    assert math.isfinite(result.result("drag.trim").value)


def test_groups_of_the_table_hold_every_row(result: RunResult) -> None:
    table = drag_table(result.flight.flown)
    groups = {r.group for r in table.rows}
    assert_allclose(sum(table.of(g).value for g in groups), table.total.value, rtol=1e-12, atol=0)


def test_outside_the_speeds_flown_the_table_is_unknown(result: RunResult) -> None:
    assert not drag_table(result.flight.flown, 120.0).total.known
