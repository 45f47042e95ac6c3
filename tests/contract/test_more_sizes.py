"""Sizes of ribs, skins, hinges and controls: each margin is that of the proof with it written into the model."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from sparwright.family.model import Family, Model, Wing
from sparwright.margins.chain import members
from sparwright.margins.controls import control_checks
from sparwright.margins.rib_candidates import deciding
from sparwright.margins.sizes import Sized, sizes
from sparwright.margins.sources import strengths
from sparwright.parts.layout import lay_out
from sparwright.run import RunResult

pytestmark = pytest.mark.long
Ran = Callable[[str], RunResult]
INCH = 0.0254


@pytest.fixture(scope="module")
def w2(ran: Ran) -> RunResult:
    """W2, worked out."""
    return ran("W2")


@pytest.fixture(scope="module")
def model(whinchat: Family) -> Model:
    """Its model."""
    return whinchat.models["W2"]


def find(w2: RunResult, model: Model, wanted: str) -> Sized:
    """The first member of a name."""
    return sizes(model, w2.assembly, w2.balance, w2.margins, wanted)[0]


def proved(w2: RunResult, model: Model, *starts: str) -> float:
    """Least margin of the checks that begin so."""
    assert w2.margins.answer is not None
    held = members(model, w2.margins.answer, spans=w2.margins.spans)
    return min(c.margin for c in held if c.id.startswith(starts) and math.isfinite(c.margin))


def with_wing(model: Model, wing: Wing) -> Model:
    return replace(model, wings=tuple(wing if w.name == wing.name else w for w in model.wings))


def test_a_stouter_rib_of_another_sheet(w2: RunResult, model: Model) -> None:
    ribs = find(w2, model, "rib_middle.cabane")
    assert ribs.stock == "0.063 in, no holes"
    choice = next(c for c in ribs.choices if c.stock == "0.080 in")
    wing = model.wing("upper")
    stout = tuple(replace(s, sheet=replace(s.sheet, thickness=0.080 * INCH)) if s.name == "cabane" else s
                  for s in wing.stouter_ribs)  # fmt: skip
    other = with_wing(model, replace(wing, stouter_ribs=stout))
    ids = ("strength.upper.rib_nose.cabane", "strength.upper.rib_middle.cabane")
    assert choice.margin == pytest.approx(proved(w2, other, *ids), abs=1e-9)
    was, then = (sum(p.mass * p.count for p in a.parts if p.name.startswith("stouter")) for a in
                 (w2.assembly, lay_out(other)))  # fmt: skip
    assert choice.mass == pytest.approx(then - was, rel=0.05)  # the bend's own length is not followed


def test_ribs_that_hold_an_aileron_have_no_size_known(w2: RunResult, model: Model) -> None:
    """Wind and hand on its hinges are not laid on other sizes, so none is known to pass, with holes or without."""
    for name in ("lower.rib_nose", "lower.rib_middle"):
        ribs = find(w2, model, name)
        assert ribs.choices == () and ribs.why == "cases of wind and hand on the ground are not in it"


def test_a_skin_of_another_sheet_and_the_least_gauge(w2: RunResult, model: Model) -> None:
    skin = find(w2, model, "lower.front.skin_shear.metal")
    assert not skin.short and skin.choices
    choice = next(c for c in skin.choices if c.mass > 0)
    wing = model.wing("lower")
    thick = float(choice.stock.split()[0]) * INCH
    skins = tuple(replace(s, thickness=thick) if s.name == "metal" else s for s in wing.skins)
    margin = proved(w2, with_wing(model, replace(wing, skins=skins)), *(f"strength.lower.front.skin_{k}" for k in
                                                                       ("shear", "yield", "ribs", "bar")))  # fmt: skip
    assert choice.margin == pytest.approx(margin, abs=1e-9) and choice.mass > 0
    stout = replace(model, limits=replace(model.limits, least_gauge=thick + 1e-4))
    assert all(float(c.stock.split()[0]) * INCH > thick for c in find(w2, stout, "lower.front.skin_shear").choices)


def test_a_hinge_of_another_sheet_and_pin(w2: RunResult, model: Model) -> None:
    wing = model.wing("upper")
    assert wing.aileron and wing.aileron.frame
    frame = wing.aileron.frame
    plates, pins = (find(w2, model, f"hinge.upper.aileron.{k}") for k in ("bearing", "pin"))
    choice = next(c for c in plates.choices if c.stock == "0.080 in")
    sheet = replace(frame.hinges.sheet, thickness=0.080 * INCH)
    thicker = replace(frame, hinges=replace(frame.hinges, sheet=sheet))
    other = with_wing(model, replace(wing, aileron=replace(wing.aileron, frame=thicker)))
    ids = ("strength.hinge.upper.aileron.bearing", "strength.hinge.upper.aileron.held")
    assert choice.margin == pytest.approx(proved(w2, other, *ids), abs=1e-9)
    now = sum(p.mass * p.count for p in w2.assembly.parts if "-upper-" in p.number and "HINGE-PLATE" in p.number)
    assert choice.mass == pytest.approx(now * (0.080 / 0.063 - 1))
    bolt = next(c for c in pins.choices if c.stock == "AN5")
    bolted = replace(frame, hinges=replace(frame.hinges, pin="AN5"))
    other = with_wing(model, replace(wing, aileron=replace(wing.aileron, frame=bolted)))
    assert bolt.margin == pytest.approx(proved(w2, other, "strength.hinge.upper.aileron.pin"), abs=1e-9)


@pytest.mark.parametrize(
    ("id", "stock"), [("cable.rudder", "7x19 5/32 in"), ("rod.elevator_rear", "3/4 in x 0.028 in")]
)
def test_a_cable_and_a_rod_of_another_size(w2: RunResult, model: Model, id: str, stock: str) -> None:
    choice = next(c for c in find(w2, model, f"strength.control.{id}").choices if c.stock == stock)
    found = {c.id: c.margin for c in w2.margins.checks}
    assert choice.margin > found[f"strength.control.{id}"] - 1e-9 and math.isfinite(choice.mass)
    if id.startswith("cable"):
        return
    assert model.controls and w2.margins.answer
    slim = replace(next(r for r in model.controls.rods if r.name == "elevator_rear").tube, outside=0.75 * INCH,
                   wall=0.028 * INCH)  # fmt: skip
    motions = tuple(replace(m, run=replace(m.run, links=tuple(
        replace(k, made=replace(k.made, tube=slim)) if k.name == "elevator_rear" else k  # type: ignore[call-arg]
        for k in m.run.links))) for m in w2.margins.motions)  # fmt: skip
    held = control_checks(model, w2.margins.answer, motions, strengths(model))
    assert choice.margin == pytest.approx(next(c.margin for c in held if c.id.endswith(id)), abs=1e-9)


def test_the_deciding_cases_give_every_greatest_sum() -> None:
    rng = np.random.default_rng(5)
    V, M = rng.random((3, 40, 2, 7)), rng.random((3, 40, 2, 7))
    V[0, 0, 0, 0] = math.nan
    few, less = deciding(V, M)
    assert few.shape[0] < 25
    for a, b in ((1.0, 0.0), (0.0, 1.0), (0.3, 0.7), (2.0, 0.1)):
        whole = np.nanmax((a * V + b * M).reshape(-1, 7), axis=0)
        np.testing.assert_allclose((a * few + b * less).max(axis=0), whole, rtol=1e-12)
