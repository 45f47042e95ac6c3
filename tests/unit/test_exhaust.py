"""The exhaust: pipes by hand, gaps by hand, ends, what is told of a bad one; the demo's three."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from families import DEMO_FILE, PROBE, problems, reading
from numpy.testing import assert_allclose

from sparwright.base.check import Check
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.family.reader import load
from sparwright.parts.exhaust import exhaust_joints, exhaust_parts, outlets
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Assembly, Part, Run, Straight
from sparwright.shape.frame import mirrored
from sparwright.systems.exhaust import exhaust_checks

INCH = 0.0254
SAID = """
[models.P1.exhaust.pipes]
port = { run = { port = ["-20 in", "4 in", "0 in"], out = ["-20 in", "10 in", "0 in"] }, ends = "can", outside = "1-1/2 in", wall = "0.049 in", pair = true }
tail = { begins = "can", run = { can = ["-20 in", "0 in", "-20 in"], open = ["-20 in", "0 in", "-40 in"] }, outside = "2 in", wall = "0.049 in" }

[models.P1.exhaust.silencers]
can = { place = ["-20 in", "0 in", "-14 in"], size = ["6 in", "20 in", "12 in"], form = "box", mass = "4 lb" }
"""  # noqa: E501


def model(said: str = SAID) -> Model:
    return reading(PROBE + said).models["P1"]


def bar(number: str, place: tuple[float, float, float], stuff: str = "spruce", group: str = "fuselage") -> Part:
    """A cube of an inch about a place in inches."""
    x, y, z = (v * INCH for v in place)
    ring = np.array(
        [(x - INCH / 2, y + a * INCH / 2, z + b * INCH / 2) for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    )
    shape = Straight(start=(x, y, z), end=(x, y, z), section="1 in x 1 in", rings=np.array([ring, ring + (INCH, 0, 0)]))
    return Part(number=number, name=number, form="bar", group=group, purpose="bar", material=stuff, stock="",
                places=((x, y, z),), mass=1.0, shape=shape)  # fmt: skip


def checked(*others: Part, said: str = SAID) -> dict[str, Check]:
    one = model(said)
    assembly = Assembly(model="P1", parts=(*exhaust_parts(one), *others), joints=())
    return {c.id.removeprefix("exhaust."): c for c in exhaust_checks(one, assembly)}


def test_a_pipe_by_hand() -> None:
    """Six inches of 1-1/2 by 0.049 steel, one on either side, each a part of its own."""
    parts = {p.number: p for p in exhaust_parts(model())}
    right, left = (parts[f"P1-power-EXHAUST-PIPE-PORT-{h}"] for h in "RL")
    area = math.pi / 4 * (1.5**2 - (1.5 - 0.098) ** 2) * INCH**2
    assert_allclose(right.mass, area * 6 * INCH * material("1025").density, rtol=1e-3)
    assert_allclose(left.places[0], mirrored(right.places[0]), atol=1e-12)
    assert left.hand == "L" and right.hand == "R" and math.isclose(left.mass, right.mass)
    assert parts["P1-power-SILENCER-CAN"].mass == pytest.approx(4 * 0.45359237)


def test_each_end_is_a_joint_and_the_open_one_none() -> None:
    joints = {j.number.removeprefix("P1-power-EXHAUST-PIPE-"): j for j in exhaust_joints(model())}
    assert set(joints) == {
        "PORT-R-START-JOINT", "PORT-R-END-JOINT", "PORT-L-START-JOINT", "PORT-L-END-JOINT", "TAIL-START-JOINT",
    }  # fmt: skip
    assert joints["PORT-L-START-JOINT"].parts == ("P1-power-ENGINE", "P1-power-EXHAUST-PIPE-PORT-L")
    assert joints["PORT-L-START-JOINT"].place[1] == -4 * INCH
    assert joints["TAIL-START-JOINT"].parts[0] == "P1-power-SILENCER-CAN"
    ((name, end),) = outlets(model().exhaust)  # type: ignore[arg-type]
    assert name == "tail" and _close(end, (-20, 0, -40))


def _close(place: np.ndarray, inches: tuple[float, float, float]) -> bool:
    return bool(np.allclose(place, np.array(inches) * INCH, atol=1e-12))


def test_gaps_by_hand() -> None:
    """A cube whose near face is 3 in right of the can's side, and another 1/2 in behind it."""
    wood, line = bar("WOOD", (-20, 13.5, -14)), bar("LINE", (-16, 0, -14), "5052-H32", "fuel")
    told = checked(wood, line)
    assert_allclose(told["burns"].value, 3 * INCH, rtol=1e-9)
    assert told["burns"].verdict == "pass"
    assert_allclose(told["fuel"].value, 0.5 * INCH, rtol=1e-9)
    assert told["fuel"].verdict == "fail" and "LINE" in told["fuel"].caveat
    metal = checked(bar("METAL", (-16, 0, -14), "4130N"))
    assert metal["burns"].verdict == "unknown" and metal["fuel"].verdict == "unknown"


def test_a_wire_counts_along_its_way() -> None:
    path = np.array([(-20.0, 12.0, -30.0), (-20.0, 12.0, 10.0)]) * INCH
    wire = replace(bar("WIRE", (0, 0, 0), "bought"), shape=Run(path=path, outside=0.5 * INCH))
    assert_allclose(checked(wire)["burns"].value, 1.75 * INCH, rtol=1e-3)


def test_an_end_in_the_body_or_near_the_drain_fails() -> None:
    one = model()
    body, fuel = one.fuselage.body, one.fuel
    told = checked()
    assert told["outside"].verdict == "pass"
    inside = SAID.replace('open = ["-20 in", "0 in", "-40 in"]', 'open = ["30 in", "0 in", "0 in"]')
    assert body and checked(said=inside)["outside"].verdict == "fail"
    assert (told["drain"].verdict == "unknown") == (fuel is None)


def test_without_one_it_is_unknown() -> None:
    bare = replace(model(), exhaust=None)
    (only,) = exhaust_checks(bare, Assembly(model="P1", parts=(), joints=()))
    assert only.verdict == "unknown" and "[exhaust]" in only.caveat


@pytest.mark.parametrize(
    ("old", "new", "key", "says"),
    [
        ('ends = "can"', 'ends = "kan"', "pipes.port.ends", "nearest known"),
        ('begins = "can"', 'begins = "motor"', "pipes.tail.begins", "engine"),
        (', open = ["-20 in", "0 in", "-40 in"]', "", "pipes.tail.run", "at least two"),
        ('["-20 in", "10 in", "0 in"]', '["-20 in", "4 in", "0 in"]', "pipes.port.run", "are one"),
        ('wall = "0.049 in", pair', 'wall = "0.75 in", pair', "pipes.port.wall", "half the outside"),
        ('port = ["-20 in", "4 in"', 'port = ["-20 in", "-4 in"', "pipes.port.pair", "positive"),
        ('begins = "can", run', 'begins = "can", ends = "can", run', "pipes", "no pipe ends open"),
    ],
)
def test_bad_ones_are_told_at_their_key(old: str, new: str, key: str, says: str) -> None:
    found = problems(PROBE + SAID.replace(old, new, 1))
    assert [p.key for p in found] == [f"models.P1.exhaust.{key}"]
    assert says in found[0].wanted


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_those_of_the_demo_keep_off(name: str) -> None:
    one = load(DEMO_FILE).models[name]
    told = {c.id: c for c in exhaust_checks(one, lay_out(one))}
    assert {c.verdict for c in told.values()} == {"pass"} and len(told) == 4
    assert all(len(c.steps) > 1 for i, c in told.items() if i in ("exhaust.fuel", "exhaust.burns"))
