"""Metal skins on a spar by hand: flat they are Bredt's flow, wrinkled they press what holds them and soften it."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose
from test_skin_margins import of, twisted

from sparwright.family.model import Family, Model, Skin
from sparwright.margins import sources
from sparwright.margins.chain import Margins
from sparwright.margins.metal_skins import edge_thrust, pulled
from sparwright.margins.metal_spars import metal_spar_checks
from sparwright.margins.skin_cell import cell_of
from sparwright.margins.spar_run import Run, run_of
from sparwright.margins.worst import ends_of
from sparwright.margins.wrinkled import SOFT, softened, with_wrinkles, wrinkled
from sparwright.parts.stations import nose_bay, nose_lines
from sparwright.strength.members import curved_tension
from sparwright.structure.answered import Answered
from sparwright.structure.sections import skin_twist

LITTLE, MUCH = 1.0, 400.0  # N m at ultimate load


def lower(model: Model, torque: float) -> tuple[Answered, Run]:
    """W2's lower front spar, twisted all along."""
    answer, _ = twisted(model, "lower", "front", torque)
    wing = model.wing("lower")
    return answer, run_of(model, answer, wing, wing.spars[0])


def test_flat_by_hand(whinchat: Family) -> None:
    """q/(t F_su) at ultimate load and sqrt 3 q/(t F_ty) at two thirds of it; nothing presses ribs or bar."""
    model = whinchat.models["W2"]
    answer, run = lower(model, LITTLE)
    t = run.wing.skins[0].thickness
    tau = (LITTLE * (1 - run.share) / (2 * cell_of(run, run.wing.skins[0]).area)).max() / t
    found = of(model, "lower", "front", answer)
    strength = {n: sources.grained(model)("6061-T6", n, t, 0.0).value for n in ("shear", "tension", "yield_tension")}
    both = max(tau / strength["shear"], math.sqrt(3) * tau / strength["tension"])
    assert found["skin_shear"].value == pytest.approx(both, rel=1e-9)
    assert found["skin_yield"].value == pytest.approx(math.sqrt(3) * tau / 1.5 / strength["yield_tension"], rel=1e-9)
    assert found["skin_ribs"].value == found["skin_bar"].value == 0
    assert "wrinkled" not in found["skin_shear"].caveat


def test_when_it_wrinkles_by_hand(whinchat: Family) -> None:
    """k_s pi^2 E/(12 (1 - nu^2)) (t/b)^2, or 0.075 E t/R where it is round enough."""
    model = whinchat.models["W2"]
    answer, run = lower(model, MUCH)
    cell, t = cell_of(run, run.wing.skins[0]), run.wing.skins[0].thickness
    E = sources.grained(model)("6061-T6", "youngs", t, 0.0).value
    short, long = np.minimum(cell.half, cell.ribs), np.maximum(cell.half, cell.ribs)
    flat = (5.34 + 4 * (short / long) ** 2) * math.pi**2 * E / (12 * (1 - 0.33**2)) * (t / short) ** 2
    round_ = np.where(cell.radius / t <= 1500, 0.075 * E * t / cell.radius, 0.0)
    x = pulled(run, cell, answer, ends_of(answer.force[:, :, run.bars]), sources.grained(model))
    alone = x.flow / (t * np.maximum(flat, round_))[:, None]
    assert_allclose(x.ratio, alone, rtol=1e-9)  # twisted only: nothing presses it
    assert_allclose(x.other, x.ratio, rtol=1e-12)


def test_wrinkled_it_presses_what_holds_it(whinchat: Family) -> None:
    """Ribs, bar and spar get what curved_tension says, the spar's caps the thrust of both surfaces."""
    model = whinchat.models["W2"]
    answer, run = lower(model, MUCH)
    found = of(model, "lower", "front", answer)
    assert found["skin_ribs"].value > 0 and found["skin_bar"].value > 0
    assert "wrinkled from 0." in found["skin_shear"].caveat
    cell, inner = cell_of(run, run.wing.skins[0]), ends_of(answer.force[:, :, run.bars])
    x = pulled(run, cell, answer, inner, sources.grained(model))
    thrust = edge_thrust(run, answer, inner, sources.grained(model))
    assert_allclose(thrust, x.tense.k * x.flow * cell.half[:, None] / np.tan(x.tense.angle), rtol=1e-12)
    held = {c.id: c for c in metal_spar_checks(model, answer, run.wing, run.spar, sources.grained(model))}
    area = 2 * run.spar.cap.width * run.spar.cap.depth
    crush = sources.grained(model)("6061-T6", "yield_compression", run.spar.cap.depth, 0.0).value
    assert held["strength.lower.front.caps"].value >= thrust.max() / area / crush * 0.999
    assert any("wrinkled" in s.title for s in held["strength.lower.front.caps"].steps)


def test_rivets_by_hand(whinchat: Family) -> None:
    """q (1 + 0.414 k) p over the lesser of the rivet's shear and F_br D t; unsaid, or too thick for it: unknown."""
    model = whinchat.models["W2"]
    answer, run = lower(model, MUCH)
    skin = run.wing.skins[0]
    found = of(model, "lower", "front", answer)["skin_edge"]
    x = pulled(run, cell_of(run, skin), answer, ends_of(answer.force[:, :, run.bars]), sources.grained(model))
    q = curved_tension.rivet_flow(x.flow, x.tense.k).max()
    bears = sources.grained(model)("6061-T6", "bearing", skin.thickness, 0.0).value
    least = min(217 * 4.4482216, bears * 3 / 32 * 0.0254 * skin.thickness)
    assert found.value == pytest.approx(q * skin.pitch / least, rel=1e-4)
    for other, word in (
        (replace(skin, fastener=""), "not said"),
        (replace(skin, fastener="MS20470AD6"), "outside its method"),
    ):
        said = of(with_skin(model, other), "lower", "front", answer)["skin_edge"]
        assert said.verdict == "unknown" and math.isnan(said.value)
        assert word in said.caveat


def with_skin(model: Model, skin: Skin) -> Model:
    """The same with another first skin on the lower wing."""
    wings = tuple(replace(w, skins=(skin, *w.skins[1:])) if w.name == "lower" else w for w in model.wings)
    return replace(model, wings=wings)


def test_ribs_of_wood_do_not_hold_metal(whinchat: Family) -> None:
    model = whinchat.models["W2"]
    sheet = whinchat.models["W1"].wings[0].ribs.sheet
    wings = tuple(replace(w, ribs=replace(w.ribs, sheet=sheet)) for w in model.wings)
    answer, _ = twisted(model, "lower", "front", MUCH)
    found = of(replace(model, wings=wings), "lower", "front", answer)["skin_ribs"]
    assert found.verdict == "unknown"


def test_the_frame_softens_where_it_wrinkles_and_nowhere_else(whinchat: Family) -> None:
    """Each bar's torsion loses what its skin loses; a torque that wrinkles nothing changes nothing."""
    model = whinchat.models["W2"]
    flat, _ = lower(model, LITTLE)
    assert wrinkled(model, flat) == {}
    hard, run = lower(model, MUCH)
    kept = wrinkled(model, hard)
    assert set(kept) <= set(map(int, run.bars)) and kept
    both = with_wrinkles(model, hard)
    assert both.variants == ("as rigged", SOFT) and both.kept == kept
    assert with_wrinkles(model, flat) is flat
    i, part = next(iter(kept.items()))
    y = max(hard.skeleton.bars[i].at[3], run.wing.panels[0].root_buttline)
    lost = hard.skeleton.frame.twist[i] - softened(model, hard.skeleton, kept).frame.twist[i]
    depth = float(run.depth[list(run.bars).index(i)].mean())
    gone = (1 - part) * skin_twist(model, run.wing, run.spar, y, depth) / hard.skeleton.frame.shear[i]
    assert lost == pytest.approx(gone, rel=0.02)
    softer = run_of(model, replace(hard, kept=kept), run.wing, run.spar)
    assert (softer.most >= softer.share).all() and (softer.most > softer.share).any()
    assert_allclose(softer.share, run.share, rtol=1e-12)


def test_how_soft_a_skin_is_outside_the_method_is_not_known(whinchat: Family) -> None:
    """So thin that girth over thickness is past 1500: the box's share, and with it the web, are unknown; so is the air.

    The frame keeps it as stiff as flat, and says so.
    """
    drawn = whinchat.models["W2"]
    thin = with_skin(drawn, replace(drawn.wing("lower").skins[0], thickness=1e-4))
    answer, run = lower(thin, MUCH / 10)
    kept = wrinkled(thin, answer)
    assert set(kept) == set(map(int, run.bars)) and all(map(math.isnan, kept.values()))
    both = with_wrinkles(thin, answer)
    soft = run_of(thin, both, run.wing, run.spar)
    assert np.isnan(soft.most).all() and np.isfinite(soft.share).all()
    held = {
        c.id.rpartition(".")[2]: c for c in metal_spar_checks(thin, both, run.wing, run.spar, sources.grained(thin))
    }
    assert held["webs"].verdict == held["buckling"].verdict == "unknown" and math.isnan(held["webs"].value)
    bones = Margins(both, (), ()).wrinkled(thin)
    assert bones is not None
    assert_allclose(bones.frame.twist, answer.skeleton.frame.twist, rtol=0)
    (said,) = set(bones.unknowns) - set(answer.skeleton.unknowns)
    assert "lower" in said and "how soft" in said


def test_a_case_whose_torque_is_not_known_hides_no_other(whinchat: Family) -> None:
    """One bar of one case lost: that bar and its mirror are not known, the others as soft as they were."""
    model = whinchat.models["W2"]
    hard, run = lower(model, MUCH)
    known = wrinkled(model, hard)
    lost = wrinkled(model, replace(hard, ultimate=(replace(hard.ultimate[0], force=_without(
        hard.ultimate[0].force, int(run.bars[3]))),)))  # fmt: skip
    gone = {i for i, k in lost.items() if math.isnan(k)}
    at = hard.skeleton.bars[int(run.bars[3])].at[3]
    assert gone == {int(i) for i in run.bars if hard.skeleton.bars[int(i)].at[3] == pytest.approx(at)}
    assert {i: k for i, k in lost.items() if i not in gone} == {i: k for i, k in known.items() if i not in gone}


def test_a_nose_rib_left_out_widens_its_bay(whinchat: Family) -> None:
    wing = whinchat.models["W2"].wing("upper")
    every = replace(wing, ribs=replace(wing.ribs, no_nose_ribs=()))
    left = set(np.round(nose_lines(every), 6)) - set(np.round(nose_lines(wing), 6))
    assert len(left) == len(wing.ribs.no_nose_ribs)
    y = min(left)
    assert nose_bay(wing, y) == pytest.approx(2 * nose_bay(every, y + 1e-3))
    with pytest.raises(Exception, match=r"no_nose_ribs names .* but nose ribs stand at"):
        nose_lines(replace(wing, ribs=replace(wing.ribs, no_nose_ribs=(1.2345,))))


@pytest.mark.parametrize("torque", [LITTLE, MUCH])
def test_one_bar_that_is_not_known_keeps_every_check_from_passing(whinchat: Family, torque: float) -> None:
    """Whatever the others use, and though a flat skin presses nothing."""
    model = whinchat.models["W2"]
    answer, run = lower(model, torque)
    assert {"pass"} <= {c.verdict for c in of(model, "lower", "front", answer).values()}
    lost = [replace(s, force=_without(s.force, int(run.bars[3]))) for s in (*answer.limit, *answer.ultimate)]
    found = of(model, "lower", "front", replace(answer, limit=(lost[0],), ultimate=(lost[1],)))
    assert {"skin_shear", "skin_yield", "skin_ribs", "skin_bar", "skin_edge"} == set(found)
    assert "pass" not in {c.verdict for c in found.values()}, {k: c.verdict for k, c in found.items()}
    assert all("not worked out" in c.caveat for c in found.values() if c.verdict == "unknown")


def _without(force: np.ndarray, bar: int) -> np.ndarray:
    found = np.array(force)
    found[:, bar] = math.nan
    return found
