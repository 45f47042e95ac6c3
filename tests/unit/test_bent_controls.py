"""Controls in a frame that moves: what rigid motion, stretch and a bend do to a loop and to a surface."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from handmade import answer_of
from numpy.testing import assert_allclose

from sparwright.base.check import Check
from sparwright.controls.chain import moving
from sparwright.controls.motion import Motion, cables, stiffness
from sparwright.family.controls import ControlCable
from sparwright.family.model import Family, Model
from sparwright.margins import bent_controls
from sparwright.margins.bent_controls import bent_control_checks
from sparwright.parts.linkage import Locks, Run, Stance
from sparwright.structure.answered import Answered
from sparwright.structure.bar import Skeleton
from sparwright.structure.whole import skeleton

ID = "strength.control.bent."


@pytest.fixture(scope="module")
def w1(whinchat: Family) -> Model:
    """A model with controls."""
    return whinchat.models["W1"]


@pytest.fixture(scope="module")
def bones(w1: Model) -> Skeleton:
    """Its frame."""
    return skeleton(w1)


@pytest.fixture(scope="module")
def motions(w1: Model) -> Sequence[Motion]:
    """Its controls through their travel."""
    assert w1.controls is not None
    return moving(w1, w1.controls)[1]


def moved_by(model: Model, bones: Skeleton, moved: np.ndarray, good: bool = True) -> Answered:
    """One case, a gust, whose nodes have moved so: (n, 6)."""
    bare = answer_of(model, {}, bones)
    case = replace(bare.laid[0].case, key="gust", kind="gust")
    level = replace(bare.limit[0], moved=moved[None], good=np.array([good]))
    return replace(bare, laid=(replace(bare.laid[0], case=case),), limit=(level,))


def told(model: Model, bones: Skeleton, motions: Sequence[Motion], moved: np.ndarray) -> dict[str, Check]:
    """By what follows the common beginning."""
    found = bent_control_checks(model, moved_by(model, bones, moved), motions)
    return {c.id.removeprefix(ID): c for c in found}


def rigid(bones: Skeleton, shift: Sequence[float], turn: Sequence[float]) -> np.ndarray:
    """(n, 6) of a frame that does not bend."""
    place = np.asarray(bones.frame.place)
    return np.hstack([np.array(shift) + np.cross(np.array(turn), place), np.tile(turn, (len(place), 1))])


def strain(check: Check) -> float:
    """Of the loop, least through the travel."""
    return next(s.value for s in check.steps if s.title.startswith("strain"))


def in_neutral(check: Check) -> float:
    """The same by first order, with the hand in neutral."""
    return next(s.given[0][1] for s in check.steps if s.title.startswith("strain"))


def test_a_frame_that_moves_as_one_leaves_the_controls_as_they_are(
    w1: Model, bones: Skeleton, motions: Sequence[Motion]
) -> None:
    """Turned by a fifth of a degree: what is left is of second order, 6e-6 of 5 m over an arm of 2 in."""
    still = told(w1, bones, motions, rigid(bones, (0, 0, 0), (0, 0, 0)))
    there = told(w1, bones, motions, rigid(bones, (0.3, -0.2, 0.1), (2e-3, -2.5e-3, 1.5e-3)))
    for name, check in still.items():
        if name.endswith(".slack"):
            assert abs(strain(there[name]) - strain(check)) < 2e-5
        else:
            assert_allclose(there[name].value, check.value, atol=5e-4)
    for m in motions:
        for end in m.ends:
            assert_allclose(still[f"{m.name}.{end.word}"].value, end.reached, atol=1e-9)


def by_cables(w1: Model) -> tuple[Motion, ...]:
    """Its controls with a loop of cables between the elevator's bell-cranks in place of the rod."""
    c = w1.controls
    assert c is not None
    made = replace(next(k for k in c.cables if k.name == "aileron"), over=(), pair=False, opening=None, tension=500.0)
    loop = tuple(replace(made, name=n, ends=(f"front.{n}", f"rear.{n}")) for n in ("up", "down"))
    holes = {
        "front": ((2.54, 0.03175, -0.19), (2.54, 0.03175, -0.35)),
        "rear": ((3.72, 0.03175, 0.05), (3.72, 0.03175, -0.1)),
    }
    cranks = tuple(replace(k, holes={**k.holes, **dict(zip(("up", "down"), holes[k.name], strict=True))})
                   if k.name in holes else k for k in c.cranks)  # fmt: skip
    rods = tuple(r for r in c.rods if r.name != "elevator_long")
    return tuple(moving(w1, replace(c, rods=rods, cables=(*c.cables, *loop), cranks=cranks))[1])


def test_a_tail_that_comes_nearer_slackens_the_loop_by_as_much_as_two_levers_say(w1: Model, bones: Skeleton) -> None:
    """All behind the seat 0.01 mm forward. By hand, with the front crank still: each cable is shorter by d cos a and
    grows by its hole's way about the rear pivot; of both together e = (d1 g2 - d2 g1)/(L1 g2 - L2 g1).
    """
    motions = by_cables(w1)
    d, moved, place = 1e-5, np.zeros((len(bones.names), 6)), np.asarray(bones.frame.place)
    moved[:, 0] = np.where(place[:, 0] > 2.6, -d, 0.0)
    m = next(x for x in motions if x.name == "elevator")
    rear = m.run.levers["rear"]
    shorter, grows, long = [], [], []
    for k in cables(m):
        assert not k.over and k.levers == ("front", "rear")
        way = (k.ends[1] - k.ends[0]) / np.linalg.norm(k.ends[1] - k.ends[0])
        shorter.append(-d * way[0])
        grows.append(way @ np.cross(rear.axis, k.ends[1] - rear.pivot))
        long.append(np.linalg.norm(k.ends[1] - k.ends[0]))
    by_hand = (shorter[0] * grows[1] - shorter[1] * grows[0]) / (long[0] * grows[1] - long[1] * grows[0])
    assert -1e-5 < by_hand < -1e-6
    there, still = (told(w1, bones, motions, k * moved)["elevator.slack"] for k in (1, 0))
    assert_allclose(in_neutral(there), by_hand, rtol=1e-6)
    assert_allclose(strain(there) - strain(still), by_hand, rtol=1e-2)  # through the travel the arms change

    far = told(w1, bones, motions, 400 * moved)["elevator.slack"]
    made = cables(m)[0].made
    assert isinstance(made, ControlCable)
    ea = stiffness(made)
    assert far.value == made.tension
    assert_allclose(far.limit, -ea.high * strain(far), rtol=1e-9)  # the stiffer slackens sooner
    assert far.verdict == "fail" and far.case and still.verdict == "pass"


def test_a_tip_that_rises_alone_turns_its_aileron_and_takes_travel_from_one_side(
    w1: Model, bones: Skeleton, motions: Sequence[Motion]
) -> None:
    moved = np.zeros((len(bones.names), 6))
    for i, (name, place) in enumerate(zip(bones.names, np.asarray(bones.frame.place), strict=True)):
        if name.startswith("wing.") and place[1] > 0:
            moved[i, 2] = 0.01 * (place[1] / 3) ** 2
    still, there = (told(w1, bones, motions, k * moved) for k in (0, 1))
    up, down = (there[f"wing_aileron.{w}"].value - still[f"wing_aileron.{w}"].value for w in ("up", "down"))
    assert abs(up) > 0.01 and up * down < 0
    assert_allclose(there["elevator.up"].value, still["elevator.up"].value, atol=1e-12)


def test_nothing_passes_without_its_cases(w1: Model, bones: Skeleton, motions: Sequence[Motion]) -> None:
    """Neither where none is of flight, nor where one is not worked out."""
    still = np.zeros((len(bones.names), 6))
    lost = list(bent_control_checks(w1, moved_by(w1, bones, np.full_like(still, np.nan), good=False), motions))
    none = list(bent_control_checks(w1, answer_of(w1, {}, bones), ()))
    assert lost and not none and {c.verdict for c in lost} == {"unknown"}
    both = moved_by(w1, bones, still)
    level = replace(both.limit[0], moved=np.array([still, np.full_like(still, np.nan)]), good=np.array([True, False]))
    half = list(bent_control_checks(w1, replace(both, laid=both.laid * 2, limit=(level,)), motions))
    assert {c.verdict for c in half} == {"unknown"} and "1 of 2" in half[0].caveat


def test_a_loop_that_locks_in_one_case_does_not_pass(
    w1: Model, bones: Skeleton, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The tail up or down: where the mechanism does not stand in one worst case nothing is known of its loop."""
    moved = np.zeros((2, len(bones.names), 6))
    moved[0, :, 2] = np.where(np.asarray(bones.frame.place)[:, 0] > 2.6, 1e-3, 0.0)
    moved[1] = -moved[0]
    one = moved_by(w1, bones, moved[0])
    both = replace(one, laid=one.laid * 2, limit=(replace(one.limit[0], moved=moved, good=np.ones(2, bool)),))
    m = next(x for x in by_cables(w1) if x.name == "elevator")
    assert next(iter(bent_control_checks(w1, both, [m]))).verdict == "pass"
    plain = bent_controls.stand

    def locked(run: Run, lever: str, angle: float) -> Stance:
        if run.levers["rear"].pivot[2] > m.run.levers["rear"].pivot[2]:
            raise Locks("it locks")
        return plain(run, lever, angle)

    monkeypatch.setattr(bent_controls, "stand", locked)
    assert next(iter(bent_control_checks(w1, both, [m]))).verdict == "unknown"


def test_a_loop_whose_hand_s_way_is_not_known_is_not_known_to_stay_tight(
    w1: Model, bones: Skeleton, motions: Sequence[Motion]
) -> None:
    """How far one end's room takes the lever is lost: what the loop does on the way there is not looked at."""
    still = rigid(bones, (0, 0, 0), (0, 0, 0))
    m = next(x for x in motions if x.run.loop)
    assert told(w1, bones, [m], still)[f"{m.name}.slack"].verdict == "pass"
    for end in (0, 1):
        ends = tuple(replace(e, full=np.nan) if i == end else e for i, e in enumerate(m.ends))
        lost = told(w1, bones, [replace(m, ends=ends)], still)[f"{m.name}.slack"]
        assert lost.verdict == "unknown"
