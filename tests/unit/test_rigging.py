"""Rigging sheet and what its tolerances do: figures by hand, straight in the tolerance, unknown where none is given."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from families import PROBE, reading, told
from numpy.testing import assert_allclose

from sparwright.base.check import Result
from sparwright.family.model import Family
from sparwright.family.rigging import Rigging
from sparwright.family.rigging_sense import frame_lines
from sparwright.flight.rigging import lever, rigging_results
from sparwright.flight.work import Flown
from sparwright.output.csv import rigging_csv
from sparwright.plans.rigging import Setting, rigging_sheet, setting_results
from sparwright.run import RunResult
from sparwright.shape.lifting import wing_planform

NAMES = ("W1", "W2", "W3")


def sheet(family: Family, name: str) -> dict[str, Setting]:
    found = rigging_sheet(family.models[name])
    assert len({s.id for s in found}) == len(found)
    return {s.id: s for s in found}


def effects(run: RunResult, allowed: Rigging | None) -> dict[str, Result]:
    flown: Flown = run.flight.flown
    there = replace(flown, model=replace(flown.model, rigging=allowed))
    return {r.id: r for r in rigging_results(there, {r.id: r for r in run.flight.results})}


def test_two_wings_by_hand(whinchat: Family) -> None:
    """W2: the upper wing 12 in ahead, 48 in over the lower one; half a degree over its chord in inches."""
    found = sheet(whinchat, "W2")
    assert_allclose(found["stagger.upper.lower"].nominal, 12 * 0.0254, rtol=1e-9)
    assert_allclose(found["gap.upper.lower"].nominal, 48 * 0.0254, rtol=1e-9)
    one = found["incidence.upper"]
    assert_allclose(one.rise, one.over * math.sin(math.radians(2.0)), rtol=1e-12)
    assert_allclose(one.rise_tolerance, one.over * math.cos(math.radians(2.0)) * math.radians(0.25), rtol=1e-12)


@pytest.mark.parametrize("name", NAMES)
def test_the_frame_first_then_the_top_wing(whinchat: Family, name: str) -> None:
    ids = list(sheet(whinchat, name))
    assert ids[0].startswith("level.")
    wings = [i.split(".")[1] for i in ids if i.startswith("incidence.") and "tailplane" not in i]
    high = sorted(whinchat.models[name].wings, key=lambda w: -w.leading_edge[2])
    assert wings == [w.name for w in high]


@pytest.mark.parametrize("name", NAMES)
def test_paper_and_results_tell_the_same(whinchat: Family, name: str) -> None:
    model = whinchat.models[name]
    rows = list(csv.DictReader(io.StringIO(rigging_csv(rigging_sheet(model)).decode())))
    results = list(setting_results(model))
    assert [r["what"] for r in rows] == [r.title.replace("′", " ft") for r in results]
    for row, r in zip(rows, results, strict=True):
        factor = {"rad": 57.29578, "m": 39.37008, "N": 0.2248089}[r.unit]
        assert_allclose(float(row["nominal"]), r.value * factor, atol=0.51, rtol=0)


def test_without_tolerances_all_is_unknown(whinchat: Family) -> None:
    for r in setting_results(replace(whinchat.models["W2"], rigging=None)):
        assert math.isnan(r.low) and math.isnan(r.high), r.id
        assert not r.id.startswith("rigging.set.incidence.upper") or "[rigging] has no incidence" in r.caveat


def test_a_lever_by_hand(whinchat: Family) -> None:
    """Constant chord: c (b^2 - a^2)/2; straight from nought at a to 1 at b: c (b - a)(2b + a)/6."""
    p = wing_planform(whinchat.models["W3"].wing("lower"))
    c, a, b = float(p.chord[-1]), 0.5, 2.5
    assert_allclose(lever(p, a, b), c * (b * b - a * a) / 2, rtol=1e-6)
    assert_allclose(lever(p, a, b, (0.0, 1.0)), c * (b - a) * (2 * b + a) / 6, rtol=1e-6)  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ["W1", "W2"])
def test_twice_the_tolerance_is_twice_the_effect(ran: Callable[[str], RunResult], name: str) -> None:
    run = ran(name)
    allowed = run.flight.flown.model.rigging
    assert allowed and allowed.incidence and allowed.sides and allowed.washout and allowed.stagger
    double = replace(allowed, incidence=2 * allowed.incidence, sides=2 * allowed.sides, washout=2 * allowed.washout,
                     stagger=2 * allowed.stagger)  # fmt: skip
    once, twice = effects(run, allowed), effects(run, double)
    for id, r in once.items():
        if id.startswith(("rigging.roll", "rigging.stall")):
            assert_allclose(twice[id].value, 2 * r.value, rtol=1e-9, err_msg=id)
        if id.startswith("rigging.trim.incidence"):
            assert_allclose(twice[id].value, 2 * r.value, rtol=0.02, err_msg=id)
        assert r.value > 0, id


def test_both_wings_are_the_whole(ran: Callable[[str], RunResult]) -> None:
    """All wings a little nose up want nearly what the tailplane and the body the other way want."""
    found = effects(ran("W2"), ran("W2").flight.flown.model.rigging)
    wings = found["rigging.trim.incidence.upper"].value + found["rigging.trim.incidence.lower"].value
    assert_allclose(wings, found["rigging.trim.tailplane.tailplane"].value, rtol=0.35)


def test_nothing_given_nothing_known(ran: Callable[[str], RunResult]) -> None:
    found = effects(ran("W2"), None)
    assert all(math.isnan(r.value) for r in found.values())
    assert "gives no tolerance: sides" in found["rigging.roll.sides.upper"].caveat
    assert found["rigging.rank"].caveat == "no tolerance has a known effect"


def test_no_elevator_left_is_told(ran: Callable[[str], RunResult]) -> None:
    flown = ran("W2").flight.flown
    short = replace(flown.model, tailplane=replace(flown.model.tailplane, up=math.radians(5.0)))
    by_id = {r.id: r for r in ran("W2").flight.results}
    found = {r.id: r for r in rigging_results(replace(flown, model=short), by_id)}
    one = found["rigging.travel.elevator.max_mass"]
    assert one.value < 0 and "nothing is left even of the full travel" in one.caveat
    assert one.id not in found["rigging.rank"].parents


def test_the_rank_falls(ran: Callable[[str], RunResult]) -> None:
    steps = ran("W2").result("rigging.rank").steps
    shares = [s.value for s in steps]
    assert len(shares) > 8
    assert shares == sorted(shares, reverse=True)


# ---------------------------------------------------------------- bad files


def tube_of_probe() -> tuple[str, tuple[float, float, float]]:
    name, (corners, _) = next(iter(frame_lines(reading(PROBE).models["P1"].fuselage).items()))
    return name, tuple(sum(x) / 2 for x in zip(*corners[:2], strict=True))  # type: ignore[return-value]


def rigged(place: tuple[float, float, float], on: str) -> str:
    written = ", ".join(f'"{1000 * x:.4f} mm"' for x in place)
    return f'{PROBE}\n[rigging.points]\nmark_1 = {{ place = [{written}], on = "{on}" }}\n'


def test_a_point_on_its_tube_is_taken() -> None:
    name, middle = tube_of_probe()
    found = reading(rigged(middle, name)).models["P1"].rigging
    assert found and found.points[0].on == name


def test_a_point_off_its_tube_is_told() -> None:
    name, (x, y, z) = tube_of_probe()
    told(rigged((x, y, z + 0.1), name), "mark_1 = {", "rigging.points.mark_1.place", "off the surface of")


def test_a_tube_that_is_not_there_is_told() -> None:
    _, middle = tube_of_probe()
    told(rigged(middle, "A9R-Z9R"), "mark_1 = {", "rigging.points.mark_1.on", "names a tube by its first and last node")


@pytest.mark.parametrize("key, value", [("incidence", '"9 deg"'), ("sides", '"0 deg"'), ("stagger", '"-1 in"'),
                                        ("tensions", "1.5"), ("travels", '"1 in"')])  # fmt: skip
def test_a_tolerance_that_is_none(key: str, value: str) -> None:
    text = PROBE + f"\n[rigging]\n{key} = {value}\n"
    told(text, f"{key} = {value}", f"rigging.{key}", "")
