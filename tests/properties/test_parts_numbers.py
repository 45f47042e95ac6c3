"""Part numbers: each once, and unchanged when something else changes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sparwright.base.problem import DesignProblem
from sparwright.family.model import Family, Model, Place
from sparwright.family.reader import read
from sparwright.family.writer import set_value
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Assembly, Straight
from sparwright.parts.stations import notches, rib_stations
from sparwright.run import RunResult
from sparwright.shape.tube import Tube

AT_GAPS = (60.0, 101.625, 81.25, 149.625)  # in, W2: ribs beside the gaps at the ailerons' ends, lower and upper
FILE = Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml"


@pytest.fixture(scope="module")
def text() -> str:
    return FILE.read_text(encoding="utf-8")


def changed(text: str, model: str, key: str, value: str) -> Model:
    return read(set_value(text, key, value).encode(), "changed.toml").models[model]


def described(assembly: Assembly, but: str = "") -> dict[str, tuple[object, ...]]:
    """What the builder sees of every part whose number does not hold `but`."""
    return {
        p.number: (p.name, p.material, p.stock, p.count, p.places, p.mass)
        for p in assembly.parts
        if not but or but not in p.number
    }


@pytest.mark.parametrize("model", ["W1", "W2", "W3"])
def test_each_number_once(ran: Callable[[str], RunResult], model: str) -> None:
    assembly = ran(model).assembly
    for things in (assembly.parts, assembly.joints):
        numbers = [t.number for t in things]
        assert len(numbers) == len(set(numbers)) > 20
    known = {p.number for p in assembly.parts}
    assert all(set(j.parts) <= known and len(j.parts) >= 2 and j.count >= 1 for j in assembly.joints)
    assert all(p.count >= 1 and p.mass > 0 for p in assembly.parts)


@pytest.mark.parametrize(
    ("key", "value", "touches"),
    [
        ("models.W2.wings.lower.ribs.pitch", "13 in", "W2-lower-"),
        ("models.W2.struts.interplane_rear.tube.outside", "1.26 in", "INTERPLANE_REAR"),
        ("items.battery.mass", "9 lb", "BATTERY"),
    ],
)
def test_numbers_stay_when_others_change(
    ran: Callable[[str], RunResult], text: str, key: str, value: str, touches: str
) -> None:
    before = described(ran("W2").assembly, touches)
    after = described(lay_out(changed(text, "W2", key, value)), touches)
    assert before == after
    assert len(before) > 50


def test_two_parts_of_one_number_are_refused(whinchat: Family) -> None:
    model = whinchat.models["W1"]
    twins = (*model.items, replace(model.items[0], name=model.items[0].name.upper()))
    with pytest.raises(DesignProblem, match="two parts would have the number W1-systems-"):
        lay_out(replace(model, items=twins))


def test_a_rib_that_stands_where_the_aileron_ends_is_one(whinchat: Family) -> None:
    """An extra rib exactly at the aileron's own end rib is that rib, not a second one."""
    wing = next(w for w in whinchat.models["W1"].wings if w.aileron)
    assert wing.aileron
    end = wing.aileron.inboard + wing.aileron.gap
    there = [
        r for r in rib_stations(replace(wing, ribs=replace(wing.ribs, extra=(end,)))) if abs(r.buttline - end) < 1e-6
    ]
    assert [(r.kind, r.hinged) for r in there] == [("wing", True)]


def rounded(places: Sequence[Place]) -> set[Place]:
    """Places to a micrometre; the last digit hangs on the machine."""
    return {(round(x, 6) + 0.0, round(y, 6) + 0.0, round(z, 6) + 0.0) for x, y, z in places}


def mirror(places: Sequence[Place]) -> set[Place]:
    return rounded([(x, -y, z) for x, y, z in places])


@pytest.mark.parametrize("model", ["W1", "W2", "W3"])
def test_both_sides_mirror(ran: Callable[[str], RunResult], model: str) -> None:
    """Parts stand in pairs or on the centreline; diagonals, horns, holes, lines, exhausts, instruments on one side.

    A part with a hand has its mirror under the other hand.
    """
    parts = {p.number: p for p in ran(model).assembly.parts}
    for p in parts.values():
        if p.hand == "R" and p.group == "fuel":
            assert mirror(p.places) == rounded(parts[p.number[:-1] + "L"].places), p.number
        elif (
            p.purpose not in ("frame", "exhaust", "draws a brake")
            and p.group not in ("fuel", "tail", "systems", "controls", "electrics", "pitot")
            and "-SHEET-" not in p.number
            and not p.hand
        ):
            assert mirror(p.places) == rounded(p.places), p.number
        if isinstance(p.shape, (Straight, Tube)):
            assert p.shape.length > 0


def test_hands_pair_up(ran: Callable[[str], RunResult], whinchat: Family) -> None:
    """Every bent rib off the centreline has as many left as right; one on the centreline is a right one.

    Flanges point to the tip, a right hand's on the right wing; at an aileron's ends and at the inner side of a notch
    they point to the root, and there the right hand is on the left wing.
    """
    parts = {p.number: p for p in ran("W2").assembly.parts if p.purpose == "rib"}
    wings = whinchat.models["W2"].wings
    inside = [round(n.ribs[0] / 0.0254, 3) for w in wings for n in notches(w)]
    assert len(inside) == 8
    for number, p in parts.items():
        if p.hand == "R":
            left = parts.get(number[:-1] + "L")
            off = [p.places[i] for i, pose in enumerate(p.poses) if abs(pose.origin[1]) > 1e-6]
            across = {(round(x, 9), round(-y, 9), round(z, 9)) for x, y, z in off}
            assert across == {tuple(round(v, 9) for v in q) for q in (left.places if left else ())}
            for pose in p.poses:
                outward = (pose.origin[1] > -1e-6) == (np.cross(pose.x, pose.y)[1] * p.shape.flange > 0)
                assert outward or round(abs(pose.origin[1]) / 0.0254, 3) in (*AT_GAPS, *inside), p.number
