"""How the tank is held: pads, straps, tabs and screws by hand, what is told when wrong."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from families import DEMO_FILE
from numpy.testing import assert_allclose

from sparwright.base.problem import DesignProblem, FileProblems
from sparwright.data.loader import material
from sparwright.family.model import Family, Model
from sparwright.family.reader import read
from sparwright.parts.frame import frame_tubes
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Assembly, Part
from sparwright.parts.solids import solids
from sparwright.parts.tank_hold import hold_parts

DEMO = DEMO_FILE.read_text("utf-8")
INCH = 0.0254


@pytest.fixture
def w1(whinchat: Family) -> Model:
    return whinchat.models["W1"]


def held(model: Model, **changes: Any) -> Model:
    """The model with its tank held otherwise."""
    assert model.fuel is not None and model.fuel.tank.hold is not None
    tank = replace(model.fuel.tank, hold=replace(model.fuel.tank.hold, **changes))
    return replace(model, fuel=replace(model.fuel, tank=tank))


def moved(model: Model, node: str, by: tuple[float, float, float]) -> Model:
    """The model with a node of its frame elsewhere."""
    nodes = dict(model.fuselage.nodes)
    x, y, z = nodes[node]
    nodes[node] = (x + by[0], y + by[1], z + by[2])
    return replace(model, fuselage=replace(model.fuselage, nodes=nodes))


def parts(model: Model) -> dict[str, Part]:
    return {p.number: p for p in hold_parts(model, frame_tubes(model))}


def tank_only(model: Model) -> Assembly:
    """The tank, what holds it, and its bearers."""
    whole = lay_out(model)
    words = ("-fuel-TANK", "TUBE-N1R-N1L", "TUBE-N2R-N2L")
    kept = tuple(p for p in whole.parts if any(w in p.number for w in words))
    names = {p.number for p in kept}
    return replace(whole, parts=kept, joints=tuple(j for j in whole.joints if set(j.parts) <= names))


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_every_piece_touches_what_it_is_joined_to(whinchat: Family, name: str) -> None:
    whole = tank_only(whinchat.models[name])
    found = measure(whole)
    assert not found.clashes and not found.apart and not found.adrift and not found.not_closed
    assert sum(1 for p in whole.parts if "-STRAP-N" in p.number) == 2
    assert sum(1 for p in whole.parts if "-TAB-" in p.number) == 4


def test_a_strap_by_hand(w1: Model) -> None:
    """1 in wide, 0.032 in thick; over 19.1 in of tank and 1/8 in of lining a side, down to tab and screw.

    The bearer's top is at -3.425 in; left end 2 mm over it, right end 2-1/2 in; top of the lining 9.425 in.
    """
    one = parts(w1)["W1-fuel-TANK-STRAP-N1R-N1L"]
    across, top = 19.1 + 0.25 + 0.032, 9.3 + 0.125 + 0.016
    left, right = -3.425 + 2 / 25.4, -3.425 + 2.5
    long = across + 2 * top - left - right
    assert_allclose(one.mass, long * 0.032 * INCH**3 * material("5052-H32").density, rtol=1e-3)
    box = solids(one)[0].box / INCH
    assert_allclose(box[0], [15.0, -(9.55 + 0.157), left], atol=1e-6)
    assert_allclose(box[1], [16.0, 9.55 + 0.157, 9.3 + 0.157], atol=1e-6)


def test_a_pad_lies_between_tank_and_bearer(w1: Model) -> None:
    box = solids(parts(w1)["W1-fuel-TANK-PAD-N2R-N2L"])[0].box / INCH
    assert_allclose(box, [[21.5, -9.55, -3.425], [22.5, 9.55, -3.3]], atol=1e-6)


def test_the_screw_stands_on_the_right_tab_and_reaches_the_strap(w1: Model) -> None:
    found = parts(w1)
    screw, tab = (solids(found[f"W1-fuel-TANK-{k}"])[0].box for k in ("SCREW-N1R-N1L", "TAB-N1R-N1L-R"))
    strap = solids(found["W1-fuel-TANK-STRAP-N1R-N1L"])[0]
    right = strap.points[strap.points[:, 1] > 0][:, 2].min()
    assert_allclose(screw[0, 2], tab[1, 2], atol=1e-9)
    assert_allclose([right - tab[1, 2], screw[1, 2] - right], [1.25 * INCH, 0.02], atol=1e-9)
    assert np.all(screw[:, 1] > 0)


@pytest.mark.parametrize(
    ("node", "by", "said"),
    [
        ("N1", (0.0, 0.0, -0.5 * INCH), r"bearer N1R-N1L, W1-fuselage-TUBE-N1R-N1L, leaves 5/8. for a pad of 1/8"),
        ("N1", (0.0, 0.0, 0.1 * INCH), r"W1-fuselage-TUBE-N1R-N1L, leaves"),
        ("N2", (3 * INCH, 0.0, 0.0), r"W1-fuselage-TUBE-N2R-N2L, does not run beneath the tank"),
    ],
)
def test_a_bearer_that_is_not_where_it_is_wanted_is_told(
    w1: Model, node: str, by: tuple[float, float, float], said: str
) -> None:
    with pytest.raises(DesignProblem, match=said):
        parts(moved(w1, node, by))


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"bearers": ("N4-N3",)}, "bearer N4-N3 is no tube that runs across"),
        ({"take_up": 0.4}, "tab and take-up are higher than the tank"),
    ],
)
def test_what_cannot_be_is_told(w1: Model, changes: dict[str, Any], said: str) -> None:
    with pytest.raises(DesignProblem, match=said):
        parts(held(w1, **changes))


def test_without_it_the_tank_is_said_to_be_loose(w1: Model) -> None:
    assert w1.fuel is not None
    bare = lay_out(replace(w1, fuel=replace(w1.fuel, tank=replace(w1.fuel.tank, hold=None))))
    assert any("no joint holds the tank" in u for u in bare.unknowns)
    assert not any("no joint holds the tank" in u for u in lay_out(w1).unknowns)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('bearers = ["N1R-N1L", "N2R-N2L"]', 'bearers = ["N1R-N1L", "N2R-N9L"]', "fuel.tank.hold.bearers.1"),
        ('bearers = ["N1R-N1L", "N2R-N2L"]', 'bearers = ["N1R-N1L"]', "two bearers at least"),
        ('take_up = "1-1/4 in", bolt = "AN3"', 'take_up = "1-1/4 in", bolt = "AN33"', "fuel.tank.hold.bolt"),
        ('tab_height = "1-1/4 in"', 'tab_height = "1/2 in"', "fuel.tank.hold.tab_height"),
    ],
)
def test_what_is_wrong_is_told_by_key(old: str, new: str, said: str) -> None:
    assert DEMO.count(old) == 1
    with pytest.raises(FileProblems) as told:
        read(DEMO.replace(old, new).encode(), str(DEMO_FILE))
    assert said in str(told.value)
