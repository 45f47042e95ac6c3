"""A strut-braced wing, first order: hinge at the root, strut at 90 in, tip at 150 in, strut foot 45 in below the hinge.

Source: statics, worked by hand: w 20 lb/in gives 2500 lb up at the strut, 5590.17 lb in the strut, 5000 lb pressing the
inner bay, 36,000 lb in over the strut, 6250 lb in in the inner bay 25 in from the root (second order, which is not
worked out here, gives 6383). The wing here stands one inch further out, where the fuselage side holds it.
Tolerance: the beam has a node every 20 mm, so the greatest moment between nodes is caught within 0.1 %.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.family.model import Family, FrameTube, Model, Panel, RoundTube, Section, Strut, StrutEnd
from sparwright.loads.envelope import Case
from sparwright.loads.spanwise import WingLoad
from sparwright.shape.frame import end_place
from sparwright.strength.spars import Brace, SparRun, run_all

IN, LB = 0.0254, 0.45359237 * 9.80665
TUBE = RoundTube(material="4130N", outside=1.25 * IN, wall=0.049 * IN)


@pytest.fixture(scope="module")
def model(whinchat: Family) -> Model:
    """The demo's W1 with the wing of the example and one strut."""
    return strutted(whinchat.models["W1"])


def strutted(base: Model) -> Model:
    """`base` with a straight untwisted wing of one spar, fuselage side at 1 in, and a strut at 91 in."""
    panel = Panel(
        name="only", root_buttline=1 * IN, tip_buttline=151 * IN, root_chord=60 * IN, tip_chord=60 * IN,
        root_section="even", tip_section="even",
    )  # fmt: skip
    wing = base.wings[0]
    wing = replace(
        wing, leading_edge=(0.5, 1 * IN, 0.8), incidence=0.0, panels=(panel,), spars=(wing.spars[0],), aileron=None
    )
    top = StrutEnd(wing=wing.name, spar=wing.spars[0].name, buttline=91 * IN)
    built = replace(
        base, sections={"even": Section(name="even", naca="0015"), **base.sections}, wings=(wing,), struts=()
    )
    x, _, z = end_place(built, top)
    nodes = {**base.fuselage.nodes, "FOOT": (x, 1 * IN, z - 45 * IN), "HEEL": (x, 1 * IN, z - 60 * IN)}
    tubes = (*base.fuselage.tubes, FrameTube(name="heel", run=("HEEL", "FOOT"), tube=TUBE))
    frame = replace(base.fuselage, nodes=nodes, tubes=tubes)
    return replace(
        built, fuselage=frame, struts=(Strut(name="lift", ends=(StrutEnd(node="FOOT"), top), tube=TUBE),), wires=()
    )


def uniform(model: Model, w: float) -> dict[str, WingLoad]:
    """w N/m over the whole half of the only wing."""
    y = np.linspace(0, 151 * IN, 31)
    one = np.ones_like(y)
    case = Case("T", "test", 40.0, 4.0, 300.0, 1.0)
    total = 2 * w * 150 * IN
    wing = model.wings[0].name
    return {wing: WingLoad(wing, case, y, one, w * one, 0.3 * w * one, 1.5 * one, total, 1.0)}


@pytest.fixture(scope="module")
def solved(model: Model) -> tuple[SparRun, Brace]:
    runs, braces = run_all(model, uniform(model, 20 * LB / IN))
    (run,), (brace,) = runs, braces
    return run, brace


def test_strut(solved: tuple[SparRun, Brace]) -> None:
    run, brace = solved
    assert_allclose(run.bent.reactions / LB, [-500, -2500], rtol=1e-7)
    assert_allclose(brace.pull / LB, 5590.17, rtol=0, atol=0.005)
    assert brace.unclear == ""


def test_thrust_inboard_only(solved: tuple[SparRun, Brace]) -> None:
    run, _ = solved
    inside = run.bent.y < 91 * IN + 1e-9
    assert_allclose(run.thrust[inside] / LB, 5000, rtol=1e-7)
    assert_allclose(run.thrust[~inside], 0, rtol=0, atol=0)


def test_moments(solved: tuple[SparRun, Brace]) -> None:
    run, _ = solved
    over = int(np.argmin(abs(run.bent.y - 91 * IN)))
    assert_allclose(run.bent.moment[over] / (LB * IN), 36000, rtol=1e-7)
    inner = run.bent.moment[: over + 1]
    assert_allclose(inner.min() / (LB * IN), -6250, rtol=1e-3)
    assert_allclose(run.bent.y[inner.argmin()] / IN, 26, rtol=0, atol=0.5)


def test_load_down_leaves_the_strut_unknown(model: Model) -> None:
    """Pressed, a strut may buckle, which is not worked out: no pass."""
    _, (brace,) = run_all(model, uniform(model, -20 * LB / IN))
    assert brace.pull < 0 and "pressed" in brace.unclear
