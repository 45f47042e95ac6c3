"""Whatever the frame hands over: twice the forces, twice the use; either side of the aeroplane the same."""

from __future__ import annotations

import numpy as np
import pytest
from handmade import answer_of

from sparwright.family.model import Family, Model
from sparwright.margins import sources
from sparwright.margins.roots import own_axes, root_checks
from sparwright.margins.skins import skin_checks
from sparwright.margins.tail_joints import tail_joint_checks
from sparwright.structure.answered import Answered
from sparwright.structure.whole import skeleton

SEEDS = range(4)


def uses(model: Model, answer: Answered) -> dict[str, float]:
    """Of roots, tail and skins: those that go with the load, or faster."""
    of, grained = sources.strengths(model), sources.grained(model)
    found = [*root_checks(model, answer, of), *tail_joint_checks(model, answer, of)]
    found += [c for w in model.wings for s in w.spars for c in skin_checks(model, answer, w, s, grained)]
    return {c.id: c.value for c in found if np.isfinite(c.value)}


@pytest.mark.parametrize("seed", SEEDS)
def test_twice_the_forces_twice_the_use(whinchat: Family, seed: int) -> None:
    model = whinchat.models["W2"]
    bones, rng = skeleton(model), np.random.default_rng(seed)
    force = {i: rng.normal(size=12) * 20 for i in range(len(bones.bars))}
    once = uses(model, answer_of(model, force, bones))
    twice = uses(model, answer_of(model, {i: 2 * f for i, f in force.items()}, bones))
    assert len(once) > 25
    for id, use in once.items():
        if "strap_neck" in id or ".bolts" in id or ".skin_" in id:  # Johnson's parabola, the sign of what is added,
            # metal skins that wrinkle: no less than twice
            assert twice[id] >= 2 * use * (1 - 1e-9)
        else:
            assert twice[id] == pytest.approx(2 * use, rel=1e-9), id


@pytest.mark.parametrize("seed", SEEDS)
def test_a_root_is_the_same_on_either_side(whinchat: Family, seed: int) -> None:
    """A force and moment, and their mirror on the other side."""
    model = whinchat.models["W2"]
    bones, rng = skeleton(model), np.random.default_rng(seed)
    bare = answer_of(model, {}, bones)
    bars = bones.which(lambda b: b.what == "link" and b.part == "W2-LOWER-ROOT-FRONT")
    F, M, over = rng.normal(size=3) * 3000, rng.normal(size=3) * 30, np.array([1.0, -1.0, 1.0])
    found = []
    for i in bars:
        left = bones.frame.place[bones.frame.ends[i, 0], 1] < 0
        axes = own_axes(bare, int(i))
        f, m = (F * over, -M * over) if left else (F, M)
        found.append(uses(model, answer_of(model, {int(i): [*(axes @ f), *(axes @ m), *np.zeros(6)]}, bones)))
    right, left_ = ({k: v for k, v in x.items() if ".root." in k} for x in found)
    assert right == pytest.approx(left_, rel=1e-6) and max(right.values()) > 0
