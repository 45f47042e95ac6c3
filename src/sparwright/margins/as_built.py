"""What faults of the material and the work cost, in margin: of every wooden spar and of the members with least margin.

    use then = use as proved/price     wood: slope of grain, moisture, time under load (strength/members/wood_state.py)
    R_axial times the bow's price      a tube that is crooked (column.py), all cases looked at again
    the lug with its edge nearer       a hole out of place: its own function with less edge

No credit is taken for wood better than the printed strengths are for. A knot in the strained part has no published
price: unknown. Sources: those of the members' own functions; sizes of the faults are common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from sparwright.base.check import Check, Result, Step
from sparwright.data.loader import fasteners, material
from sparwright.family.model import Model, RoundTube, Spar, Wing
from sparwright.margins import braces
from sparwright.margins.crushed import crushed
from sparwright.margins.one_g import at_one_g
from sparwright.margins.sources import grained, strengths
from sparwright.margins.spar_run import Run, Strengths, run_of
from sparwright.margins.taken import USED
from sparwright.margins.tubes import WELDED, edition, fixed, groups, lengths, stuff_of, uses
from sparwright.margins.wood_spars import shape_of
from sparwright.margins.worst import ends_of
from sparwright.parts.struts import pinned
from sparwright.strength.members import column, tube, wood_box
from sparwright.strength.members.wood_state import WoodState, price
from sparwright.structure.answered import Answered

FEW = 3  # members of a kind that are looked at: those with least margin
STEEP = (15.0, 12.0, 10.0)  # slope of grain, 1 in
MOIST = (8.0, 12.0, 15.0, 20.0)  # per cent
BOWED = (400.0, 200.0)  # length over bow
MOVED = (0.0254 / 32, 0.0254 / 16)  # m, hole out of place towards the edge
LASTS = 3.156e8  # s, ten years
LONG = "ten years under its load at one g"
PROPERTIES = ("bending", "compression", "tension")
NO_CREDIT = "no credit is taken for better wood than strengths are printed for"


def as_built_results(model: Model, answer: Answered, checks: Sequence[Check]) -> Iterator[Result]:
    """Margins of wooden spars, tubes, lugs and wires with one fault each."""
    known = sorted((c for c in checks if math.isfinite(c.margin)), key=lambda c: c.margin)
    for wing in model.wings:
        for spar in wing.spars:
            if material(spar.cap.material).kind == "wood":
                yield from _spar(model, wing, spar, answer, known)
    yield from _tubes(model, answer, known)
    yield from _lugs(model, answer, known)
    yield from _wires(known)


# ------------------------------------------------------------------ wood


def _spar(model: Model, wing: Wing, spar: Spar, answer: Answered, known: Sequence[Check]) -> Iterator[Result]:
    """Its caps, the worse of ultimate and limit load."""
    name = f"{wing.name}.{spar.name}"
    worst = next((c for c in known if c.id in (f"strength.{name}.caps", f"strength.{name}.caps_at_limit")), None)
    if worst is None:
        return
    for run in STEEP:
        yield _wood(worst, spar, f"{name}.grain_1_in_{run:.0f}", f"grain 1 in {run:.0f}", WoodState(grain_run=run))
    for wet in MOIST:
        yield _wood(worst, spar, f"{name}.moisture_{wet:.0f}", f"{wet:.0f} % moisture", WoodState(moisture=wet))
    yield _wood(worst, spar, f"{name}.knot", "a knot in the strained part", WoodState(knots=True))
    yield _lasting(worst, run_of(model, answer, wing, spar), name, answer, grained(model))


def _wood(worst: Check, spar: Spar, id: str, words: str, state: WoodState) -> Result:
    """The property that loses most decides: which of them the check stands on is not asked, on the safe side."""
    left = [price(spar.cap.material, p, state) for p in PROPERTIES]
    at = next((i for i, x in enumerate(left) if math.isnan(x[0])), int(np.argmin([x[0] for x in left])))
    factor, steps = left[at]
    why = f"strength by its {PROPERTIES[at]}; {NO_CREDIT}"
    if math.isnan(factor):
        why = "no published price: unknown" if state.knots else f"outside the range of the price of {PROPERTIES[at]}"
    return _becomes(worst, id, words, worst.value / factor, (*steps,), why)


def _lasting(worst: Check, run: Run, name: str, answer: Answered, of: Strengths) -> Result:
    """What steady flight at one g uses of the caps, as if it stayed on for ten years."""
    inner, cap = ends_of(answer.limit_force[:, :, run.bars]), run.spar.cap
    steady = at_one_g(answer, inner)
    if not np.isfinite(steady).any():
        return _becomes(worst, f"{name}.ten_years", LONG, math.nan, (), "no pull-up is worked out")
    strength = wood_box.CapStrength(*(of(cap.material, p, cap.depth, 0.0).value for p in PROPERTIES))
    loads = wood_box.CapLoads(steady[..., 4], -steady[..., 0], steady[..., 5])
    one = _most(wood_box.use(shape_of(run), loads, strength), steady)
    factor, steps = min((price(cap.material, p, WoodState(duration=LASTS)) for p in PROPERTIES), key=lambda x: x[0])
    line = Step("use of the caps at one g", "pull-ups at limit load over n", (), one, "1",
                "common practice: in proportion to the load factor")  # fmt: skip
    return _becomes(worst, f"{name}.ten_years", LONG, one / factor, (line, *steps), "no factor on the load")


def _most(use: np.ndarray, forces: np.ndarray) -> float:
    """The greatest use where forces (..., 6) are known; NaN where one of these is not, or none is known."""
    known = np.isfinite(forces).all(axis=-1)
    return float(np.max(use[known])) if known.any() else math.nan


# ------------------------------------------------------------------ tubes


def _tubes(model: Model, answer: Answered, known: Sequence[Check]) -> Iterator[Result]:
    worst = [c for c in known if c.id.startswith("strength.tube.")][:FEW]
    struts = [c for c in known if c.id.startswith("strength.tube.struts-")][:FEW]
    by_id = {f"strength.tube.{n.split('-', 1)[1].replace('+', '_')}": np.array(b) for n, b in groups(answer).items()}
    for c in dict.fromkeys((*worst, *struts)):
        for part in BOWED:
            yield _bowed(model, answer, c, by_id[c.id], part)
    for c in struts:
        yield crushed(model, answer, c, by_id[c.id])


def _bowed(model: Model, answer: Answered, c: Check, bars: np.ndarray, part: float) -> Result:
    """Bowed by its length over `part` in the middle: what it uses as a column goes up by the bow's price."""
    bar = answer.skeleton.bars[int(bars[0])]
    made = bar.made
    assert isinstance(made, RoundTube)
    stuff, long = stuff_of(made, bar.what in WELDED, strengths(model).material), lengths(answer, bars)
    loads = ends_of(answer.force[:, :, bars])
    parts = uses(made, bar, stuff, loads, long[:, None], USED)
    eta = column.bow(long, made.outside, made.wall, part)
    x = column.slenderness(long, made.outside, made.wall, fixed(bar.what))
    dear = column.price(x, made.outside, made.wall, edition(made), stuff.youngs.value, stuff.crush.value, eta)
    axial = np.where(loads[..., 0] < 0, parts.axial * dear[:, None], parts.axial)
    use = np.asarray(tube.together(axial, parts.bending, parts.twist))
    step = Step("price of the bow", "F straight/F bowed", (("eta", float(eta[0]), "1"), ("L'/rho", float(x[0]), "1")),
                float(dear[0]), "1", "robertson-1925")  # fmt: skip
    return _becomes(c, f"{c.id.split('.', 2)[2]}.bowed_{part:.0f}", f"bowed by its length over {part:.0f}",
                    _most(use, loads), (step,), "")  # fmt: skip


# ------------------------------------------------------------------ lugs, wires


def _lugs(model: Model, answer: Answered, known: Sequence[Check]) -> Iterator[Result]:
    pulls, of = braces.pulls_of(model, answer), strengths(model)
    ends = {
        f"strength.lug.{n}.{braces.where_of(e)}".replace("+", "_"): (n, w, e) for (n, w), e in pinned(model).items()
    }
    for c in [c for c in known if c.id.startswith("strength.lug.")][:FEW]:
        name, which, end = ends[c.id]
        for off in MOVED:
            nearer = replace(end, edge=end.edge - off)
            then = braces.lug_check(model, name, which, nearer, pulls[name], answer, of, USED)
            d = fasteners()[end.held.pin].diameter
            step = Step("edge distance then", "(e - off)/d", (("e", end.edge, "m"), ("off", off, "m"), ("d", d, "m")),
                        nearer.edge / d, "1", "statics")  # fmt: skip
            words = f"hole 1/{round(0.0254 / off)} in nearer its edge"
            yield _becomes(c, f"{c.id.split('.', 1)[1]}.hole_1_{round(0.0254 / off)}", words, then.value, (step,),
                           then.caveat)  # fmt: skip


def _wires(known: Sequence[Check]) -> Iterator[Result]:
    """The proof lets one wire carry all, so losing its fellow costs nothing more."""
    for c in [c for c in known if c.id.startswith("strength.wire.")][:FEW]:
        yield _becomes(c, f"{c.id.split('.', 1)[1]}.alone", "one of two side by side carrying all", c.value, (),
                       "as proved: no wire is counted on to share with a fellow")  # fmt: skip


def _becomes(c: Check, id: str, words: str, use: float, steps: Sequence[Step], why: str) -> Result:
    before = Step(f"margin as proved, {c.id}", "1 - use", (("use", c.value, "1"),), c.margin, "1")
    after = Step("margin becomes", "1 - use then", (("use then", use, "1"),), 1 - use, "1")
    return Result(f"as_built.{id}", f"{c.title}, {words}: margin becomes", 1 - use, "1",
                  source="common practice, sizes of faults; prices by their own sources",
                  caveat="; ".join(x for x in (f"decided by {c.case}", why) if x), steps=(before, *steps, after),
                  parents=(c.id,))  # fmt: skip
