"""Margins of the whole frame: each number is that of its own working; what is not known never passes."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from sparwright.base.check import Check
from sparwright.data.columns import curves
from sparwright.family.model import Family, RoundTube
from sparwright.margins import chain, sources
from sparwright.margins.tubes import groups, lengths, right_of
from sparwright.margins.worst import ends_of, worst_of
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare
from sparwright.run import RunResult
from sparwright.strength.members import column
from sparwright.structure.answered import RIGGED, Answered, by_name

Ran = Callable[[str], RunResult]


@pytest.fixture(scope="module")
def w1(ran: Ran) -> RunResult:
    """W1, worked out."""
    return ran("W1")


@pytest.fixture(scope="module")
def answer(w1: RunResult) -> Answered:
    """What W1's frame answers."""
    assert w1.margins.answer is not None
    return w1.margins.answer


def of_strength(result: RunResult) -> list[Check]:
    """The checks of strength that hold a use against one."""
    return [c for c in result.checks if c.id.startswith("strength.") and c.unit == "1" and c.sense == "<="]


def test_each_check_ends_in_its_own_working(w1: RunResult) -> None:
    checks = [c for c in of_strength(w1) if math.isfinite(c.value)]
    assert len(checks) > 60
    for c in checks:
        uses = [s.value for s in c.steps if s.unit == "1" and ("use" in s.title or "Use" in s.title)]
        near = min((abs(u / c.value - 1) if c.value else abs(u) for u in uses), default=math.inf)
        assert near < 1e-6, (c.id, c.value, uses)
        assert any(s.title.startswith("case ") for s in c.steps), c.id
        assert c.case and c.method and c.rule, c.id


def test_every_part_a_check_names_is_there(w1: RunResult) -> None:
    numbers = {p.number for p in w1.assembly.parts}
    lost = [(c.id, c.part) for c in of_strength(w1) if c.part and c.part not in numbers]
    assert not lost


def test_every_tube_of_the_frame_has_a_check(w1: RunResult, answer: Answered) -> None:
    ids = {c.id for c in w1.checks}
    for name in groups(answer):
        assert f"strength.tube.{name.split('-', 1)[1]}".replace("+", "_") in ids


def test_a_wing_hangs_on_what_holds_it(answer: Answered) -> None:
    """The loads on the wing's nodes are what its struts carry away, in every case, every way; first forces at limit."""
    bones, solved = answer.skeleton, answer.limit[0]
    mine = np.array([n.startswith("wing.") for n in bones.names])
    held = [i for i, b in enumerate(bones.bars) if sum(mine[bones.node[e]] for e in b.ends) == 1]
    frame = bones.frame
    ends = frame.place[frame.ends[held]] + frame.arm[held]
    way = (ends[:, 1] - ends[:, 0]) / np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)[:, None]
    out = np.array([1.0 if mine[frame.ends[i, 0]] else -1.0 for i in held])  # from the wing along the bar
    for k, laid in enumerate(answer.laid):
        level = 2 / 3 if laid.case.level == "ultimate" else 1.0
        load = level * laid.loads[mine, :3].sum(axis=0)
        carried = (solved.pull[k, held] * out) @ way
        size = np.abs(laid.loads[mine, :3]).sum()
        np.testing.assert_allclose(load + carried, 0, atol=0.02 * size, err_msg=laid.case.key)  # second order


def test_the_lift_struts_pull_is_that_of_statics(w1: RunResult, answer: Answered) -> None:
    """Front strut, pulled up at VA: lever between the spars, moments about the cabane; by hand within a fifth."""
    k = next(i for i, x in enumerate(answer.laid) if x.case.key == "A.max_forward")
    bones, laid = answer.skeleton, answer.laid[k]
    front = [i for i, n in enumerate(bones.names) if n.startswith("wing.front.R.")]
    y, up = bones.frame.place[front, 1], laid.loads[front, 2]
    strut = next(i for i, b in enumerate(bones.bars) if b.part.endswith("LIFT_FRONT") and b.at[2] == "R")
    frame = bones.frame
    ends = frame.place[frame.ends[strut]] + frame.arm[strut]
    d = ends[1] - ends[0]
    cabane, held = 0.3048, ends[1, 1]
    at_strut = float(((y - cabane) * up).sum() / (held - cabane))  # one span with an overhang, hinged at the cabane
    by_hand = at_strut * np.linalg.norm(d) / d[2]
    assert answer.limit[0].pull[k, strut] == pytest.approx(by_hand, rel=0.2)


def test_the_datum_carries_nothing(answer: Answered) -> None:
    """In first order nothing; in second order what the frame's own movements unbalance, of all forces together."""
    loads = np.array([x.loads for x in answer.laid])
    plain = solve(prepare(answer.skeleton.frame), loads, second_order=False)
    for k, laid in enumerate(answer.laid):
        most = np.abs(laid.loads[:, :3]).sum()
        assert np.abs(plain.reaction[k]).max() < 1e-7 * most, laid.case.key
        assert np.abs(answer.limit[0].reaction[k]).max() < 0.02 * most, laid.case.key
        assert laid.left < 1e-9


def test_a_column_check_can_be_redone(w1: RunResult, answer: Answered) -> None:
    """A strut that is pressed: P, L, D, t out of the frame, the published curve; the check's own use again."""
    c = next(x for x in w1.checks if x.id == "strength.tube.struts-LIFT_FRONT")
    bars = np.array(groups(answer)["W1-struts-LIFT_FRONT"])
    made = answer.skeleton.bars[int(bars[0])].made
    assert isinstance(made, RoundTube)
    long = float(lengths(answer, bars)[0])
    press = -np.array([s.pull[:, bars] for s in answer.ultimate]).min()
    E, F = 29000e3 * 6894.757, 75e3 * 6894.757
    use = float(column.use(press, long, made.outside, made.wall, 1.0, curves("4130N"), E, F))
    assert c.value == pytest.approx(use, rel=0.05)  # besides: its own weight bends it a little


def test_a_strength_that_is_not_known_never_passes(
    whinchat: Family, w1: RunResult, monkeypatch: pytest.MonkeyPatch
) -> None:
    plain = sources.allowable
    monkeypatch.setattr(sources, "allowable", lambda *a, **k: replace(plain(*a, **k), value=math.nan))
    some = _again(whinchat, w1)
    assert {c.verdict for c in some.checks if c.id.startswith(("strength.tube.", "strength.wing."))} == {"unknown"}


def test_a_strength_that_is_open_is_unknown_unless_it_fails(
    whinchat: Family, w1: RunResult, monkeypatch: pytest.MonkeyPatch
) -> None:
    plain = sources.allowable
    monkeypatch.setattr(sources, "allowable", lambda *a, **k: replace(plain(*a, **k), open="recalled, not read"))
    some = [c for c in _again(whinchat, w1).checks if c.id.startswith(("strength.tube.", "strength.wing."))]
    assert {c.verdict for c in some} <= {"unknown", "fail"}
    assert all("recalled, not read" in c.caveat for c in some)
    weak = lambda *a, **k: replace(plain(*a, **k), open="recalled", value=plain(*a, **k).value / 50)  # noqa: E731
    monkeypatch.setattr(sources, "allowable", weak)
    failed = [c for c in _again(whinchat, w1).checks if c.id.startswith("strength.wing.front.caps")]
    assert {c.verdict for c in failed} == {"fail"}


def _again(whinchat: Family, w1: RunResult) -> chain.Margins:
    """The margins of W1 in a few of its cases."""
    few = [x for x in w1.margins.laid if x.case.key.startswith(("A.max", "landing.level.max_aft"))]
    return chain.margins(whinchat.models["W1"], w1.assembly, few)


def test_no_case_is_unknown(whinchat: Family, w1: RunResult) -> None:
    none = chain.margins(whinchat.models["W1"], w1.assembly, [])
    assert none.answer is None
    assert {c.id: c.verdict for c in none.checks} == {"strength.frame.buckling": "unknown", "strength.cases": "unknown"}


def test_what_is_lost_is_never_the_greatest() -> None:
    use = np.full((1, 2, 1, 2), 0.3)
    use[0, 1, 0, 1] = np.nan
    at = worst_of(use, np.array([7]))
    assert (at.use, at.bar, at.lost) == (0.3, 7, True)
    assert math.isnan(worst_of(use * np.nan, np.array([7])).use)


def test_inner_forces_read_alike_at_both_ends() -> None:
    """A bar pulled, bent alike along it: the same tension and moment at both ends."""
    force = np.zeros((1, 12))
    force[0, [0, 6]], force[0, [4, 10]] = (-5.0, 5.0), (-2.0, 2.0)
    np.testing.assert_array_equal(ends_of(force)[0, 0], ends_of(force)[0, 1])


def test_right_and_left_are_one() -> None:
    assert right_of("W1-mount-TUBE-UL-VL") == "W1-mount-TUBE-UR-VR"
    assert right_of("W1-struts-LIFT_FRONT") == "W1-struts-LIFT_FRONT"


def test_nodes_that_move_are_named(answer: Answered) -> None:
    said = by_name("a mechanism: nodes 0, 1 move without resistance", answer.skeleton)
    assert said == f"a mechanism: {answer.skeleton.names[0]}, {answer.skeleton.names[1]} move without resistance"


def test_loosest_and_tightest_wires_are_looked_at(answer: Answered) -> None:
    assert answer.variants == (RIGGED, "loosest wires", "tightest wires")
