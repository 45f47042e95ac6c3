"""What a test with bags says as results: its case, tilt, bags in every cell, movements, trestles. All with working.

Ids: proof.KEY.bags, .tilt, .cell.SURFACE.LINE.BAY (bags on one side, the steps in the working), .rib.SURFACE.BAY (what
whole bags miss in shear and moment), .board.SURFACE.N, .rope.N, .along.MEMBER, .move.POINT, .twist.WING,
.trestle.NODE, .proves (members in the working); proof.unproved over all. Paper and screen read the same results.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.check import Result, Step, by_hand
from sparwright.proof.bags import at_part, bag_weight, beyond
from sparwright.proof.bays import Bays
from sparwright.proof.boards import BEHIND
from sparwright.proof.points import line_words, surface_words
from sparwright.proof.proved import Standing, standing
from sparwright.proof.record import BagTest

STATICS = "statics, worked out here"
FRAME = "frame of all bars on its trestles, second order; maths/frame"
LINES = ("front", "rear")
BEAMS = "a wing runs through beneath: on two beams fore and aft in the gap, on trestles ahead of and behind that wing"
UNSEEN = "play in pins and the settling of glued and riveted joints are not in it: the first loading shows them"


def test_results(test: BagTest) -> Iterator[Result]:
    """Everything of one test; nothing where there is none."""
    if not test.surfaces:
        return
    yield _whole(test)
    yield _tilt(test)
    for bays, count in zip(test.surfaces, test.counts, strict=True):
        yield from _cells(test, bays, count)
        yield from _ribs(test, bays, count)
    if test.why:
        return
    yield from _boards(test)
    yield from _ropes(test)
    yield from _along(test)
    yield from _moved(test)
    yield from _twist(test)
    yield from _trestles(test)


def parts(test: BagTest) -> tuple[tuple[str, float, str], ...]:
    """Parts of limit load of the steps as given of a line of working."""
    return tuple((f"step {i}", p, "1") for i, p in enumerate(test.parts, 1))


def _whole(test: BagTest) -> Result:
    last = float(test.total[-1])
    air = sum(float(b.air.sum()) for b in test.surfaces) * test.sides
    structure = sum(float(b.weight.sum()) for b in test.surfaces) * test.sides
    n = test.factor
    given = (("air less inertia", structure + test.wanted, "N"), ("structure", structure, "N"))
    steps = [Step("bags at limit load", "net - structure", given, test.wanted, "N", STATICS)]
    if np.isfinite(n):
        hand = (("n", n, "1"), ("air at one g", air / n, "N"), ("structure", structure, "N"))
        steps += by_hand(
            "n x air - (n + 1) x structure",
            hand,
            bag_weight(n, air / n, structure),
            test.wanted,
            "N",
            "common practice, no source",
        )
    steps += [
        Step(
            f"step {i}: bags of {test.bag:.3g} kg, both sides",
            "bags and halves",
            (("part of limit", p, "1"),),
            float(m),
            "kg",
            STATICS,
        )
        for i, (p, m) in enumerate(zip(test.parts, test.total, strict=True), 1)
    ]
    assert test.case is not None
    return Result(
        f"proof.{test.plan.key}.bags",
        f"proof load, {test.plan.title}: bags at limit load",
        last,
        "kg",
        source=f"case {test.case.key}: {test.case.title}; {test.case.rule}",
        caveat=test.case.caveat,
        steps=tuple(steps),
    )


def _tilt(test: BagTest) -> Result:
    d = test.down
    given = (("down, aft", float(d[0]), "1"), ("down, up", float(d[2]), "1"))
    step = Step("direction of air less inertia of what is loaded", "atan(-g_x/|g_z|)", given, test.tilt, "rad", STATICS)
    return Result(
        f"proof.{test.plan.key}.tilt",
        f"proof load, {test.plan.title}: nose lower than level",
        test.tilt,
        "rad",
        source=STATICS,
        steps=(step,),
    )


def _cells(test: BagTest, bays: Bays, count: np.ndarray) -> Iterator[Result]:
    o = bays.outline
    wanted = np.array([at_part(bays.net, bays.weight, p) for p in test.parts])
    for line, name in enumerate(LINES):
        for k in range(len(o.width)):
            steps = tuple(
                Step(
                    f"step {i}",
                    "bags and halves, no station more than a quarter of a bag out",
                    (
                        ("part of limit", p, "1"),
                        ("wanted", float(wanted[i - 1, k, line]), "N"),
                        ("one bag", test.bag_force, "N"),
                    ),
                    float(count[i - 1, k, line]),
                    "1",
                    STATICS,
                )
                for i, p in enumerate(test.parts, 1)
            )
            place = Step(
                "chord line",
                "fraction of the chord",
                (("inner rib", float(o.edges[k]), "m"), ("outer rib", float(o.edges[k + 1]), "m")),
                float(bays.lines[line, k]),
                "1",
                STATICS,
            )
            yield Result(
                f"proof.{test.plan.key}.cell.{o.name}.{name}.{k + 1:02d}",
                f"{surface_words(o.name)}, bay {k + 1}, {name} line: bags on one side",
                float(count[-1, k, line]),
                "1",
                source=STATICS,
                steps=(place, *steps),
            )


def _boards(test: BagTest) -> Iterator[Result]:
    """Each board: bags on either end, where they hang, the couple they make."""
    count: dict[str, int] = {}
    for b in test.boards:
        count[b.surface] = count.get(b.surface, 0) + 1
        given = (
            ("rib", b.rib, "m"),
            ("ahead of the leading edge", b.ahead, "m"),
            ("behind the trailing edge", BEHIND, "m"),
            ("between the loads", b.arm, "m"),
            ("wanted", abs(b.couple), "N m"),
            ("one bag", test.bag_force, "N"),
        )
        couple = Step(
            "couple", "bags x one bag x distance", given, b.counts[-1] * test.bag_force * b.arm, "N m", STATICS
        )
        steps = tuple(Step(f"step {i}", "bags and halves", (("part of limit", p, "1"),), float(n), "1", STATICS)
                      for i, (p, n) in enumerate(zip(test.parts, b.counts, strict=True), 1))  # fmt: skip
        yield Result(f"proof.{test.plan.key}.board.{b.surface}.{count[b.surface]}",
                     f"{surface_words(b.surface)}, board {count[b.surface]}: bags on its {b.pressed} end, as many on "
                     "the rope from the other", float(b.counts[-1]), "1", source=STATICS, caveat=b.pressed,
                     steps=(couple, *steps))  # fmt: skip


def _ropes(test: BagTest) -> Iterator[Result]:
    for i, r in enumerate(test.ropes, 1):
        given = (("weight", r.weight, "N"), ("inertia in the case", r.inertia, "N"), ("one bag", test.bag_force, "N"))
        pull = Step("pull at limit load", "weight + inertia", given, r.weight + r.inertia, "N", STATICS)
        steps = tuple(Step(f"step {k}", "bags and halves", (("part of limit", p, "1"),), float(n), "1", STATICS)
                      for k, (p, n) in enumerate(zip(test.parts, r.counts, strict=True), 1))  # fmt: skip
        yield Result(f"proof.{test.plan.key}.rope.{i}", f"rope from the {r.words} over a beam: bags on its other end",
                     float(r.counts[-1]), "1", source=STATICS, steps=(pull, *steps))  # fmt: skip


def proved_results(tests: Sequence[BagTest]) -> Iterator[Result]:
    """What each test proves, member by member, and what none does: that relies on calculation."""
    every = standing([(t.plan.key, t.members) for t in tests])
    for t in tests:
        mine = [s for s in every if s.proved and s.test == t.plan.key]
        if t.members:
            steps = tuple(_stands(s) for s in mine)
            yield Result(f"proof.{t.plan.key}.proves", f"proof load, {t.plan.title}: members that it proves",
                         float(len(mine)), "1", source=FRAME, steps=steps)  # fmt: skip
    if every:
        left = [s for s in every if not s.proved]
        worst = f"{left[0].member.title} uses most of them" if left else ""
        yield Result("proof.unproved", "proof load: members that no test proves, they rely on calculation",
                     float(len(left)), "1", source=FRAME, caveat="; ".join(x for x in (worst, SYMMETRIC) if x),
                     steps=tuple(_stands(s) for s in left))  # fmt: skip


SYMMETRIC = "against the cases that tests may stand for: both sides alike, the fin from the side"


def _stands(s: Standing) -> Step:
    given = (("in the test", s.member.test, "1"), ("greatest in flight", s.flight, "1"))
    return Step(s.member.title, "use of limit strength in the test/greatest in flight", given, s.ratio, "1", s.where)


def _ribs(test: BagTest, bays: Bays, count: np.ndarray) -> Iterator[Result]:
    o = bays.outline
    want, have = (beyond(x, o.width) for x in (bays.bags.sum(1), count[-1].sum(1) * test.bag_force))
    for k in range(len(o.width)):
        off = [float(h[k] - w[k]) for w, h in zip(want, have, strict=True)]
        moment = Step(
            "moment missed",
            "bags' - wanted",
            (("wanted", float(want[1][k]), "N m"), ("by whole bags", float(have[1][k]), "N m")),
            off[1],
            "N m",
            STATICS,
        )
        shear = Step(
            "shear missed",
            "bags' - wanted",
            (("wanted", float(want[0][k]), "N"), ("by whole bags", float(have[0][k]), "N")),
            off[0],
            "N",
            STATICS,
        )
        yield Result(
            f"proof.{test.plan.key}.rib.{o.name}.{k + 1:02d}",
            f"{surface_words(o.name)}, inner rib of bay {k + 1}: what whole bags miss in shear",
            off[0],
            "N",
            source=STATICS,
            steps=(shear, moment),
        )


def _along(test: BagTest) -> Iterator[Result]:
    """Bending over the case's where it is greatest, with the least and the most of shear and bending anywhere."""
    for one in test.along:
        i, ratio = int(np.argmax(np.abs(one.case[:, 1]))), one.ratio
        given = (("test", float(one.test[i, 1]), "N m"), ("case", float(one.case[i, 1]), "N m"),
                 ("from the middle", float(one.at[i]), "m"))  # fmt: skip
        step = Step("bending where it is greatest", "test/case", given, float(ratio[i, 1]), "1", FRAME)
        yield Result(f"proof.{test.plan.key}.along.{one.name}",
                     f"{line_words(one.name)}: inner forces of the test over the case's", float(ratio[i, 1]), "1",
                     float(ratio.min()), float(ratio.max()), FRAME, steps=(step,))  # fmt: skip


def _moved(test: BagTest) -> Iterator[Result]:
    for p in test.points:
        low, high = p.moved.min(axis=0), p.moved.max(axis=0)
        steps = tuple(
            Step(
                f"step {i}",
                "movement the way down, from the reading without bags",
                (
                    ("part of limit", part, "1"),
                    ("least", float(a), "m"),
                    ("most", float(b), "m"),
                    ("buttline", abs(float(p.place[1])), "m"),
                ),
                float(v),
                "m",
                FRAME,
            )
            for i, (part, v, a, b) in enumerate(zip(test.parts, p.moved[0], low, high, strict=True), 1)
        )
        yield Result(
            f"proof.{test.plan.key}.move.{p.key}",
            f"{p.title}: moves at limit load",
            float(p.moved[0, -1]),
            "m",
            float(low[-1]),
            float(high[-1]),
            FRAME,
            UNSEEN,
            steps,
        )


def _twist(test: BagTest) -> Iterator[Result]:
    """The tip's turn from front to rear spar, nose the way down positive."""
    for bays in test.surfaces:
        tips = [p for p in test.points if p.key.startswith(f"{bays.outline.name}.") and p.key.endswith(".tip")]
        if len(tips) != 2:
            continue
        apart = float(np.hypot(*(tips[1].place - tips[0].place)[[0, 2]]))
        turn = (tips[0].moved - tips[1].moved) / apart
        low, high = turn.min(axis=0), turn.max(axis=0)
        steps = tuple(
            Step(
                f"step {i}",
                "(front - rear)/distance",
                (("part of limit", part, "1"), ("least", float(a), "rad"), ("most", float(b), "rad")),
                float(v),
                "rad",
                FRAME,
            )
            for i, (part, v, a, b) in enumerate(zip(test.parts, turn[0], low, high, strict=True), 1)
        )
        yield Result(
            f"proof.{test.plan.key}.twist.{bays.outline.name}",
            f"{surface_words(bays.outline.name)}, tip: turns at limit load, nose the way down",
            float(turn[0, -1]),
            "rad",
            float(low[-1]),
            float(high[-1]),
            FRAME,
            UNSEEN,
            steps,
        )


def _trestles(test: BagTest) -> Iterator[Result]:
    assert test.trestles is not None and test.loaded is not None
    for k, node in enumerate(test.trestles.nodes):
        each = test.loaded.reaction[:, k]
        steps = tuple(
            Step(f"step {i}" if i else "without bags", "reaction", (), float(v), "N", FRAME) for i, v in enumerate(each)
        )
        strap = "less than nought: strap the fuselage down to this trestle" if float(each.min()) < 0 else ""
        beams = BEAMS if test.trestles.beams else ""
        yield Result(
            f"proof.{test.plan.key}.trestle.{node}",
            f"trestle under {node}: presses at limit load",
            float(each[-1]),
            "N",
            source=FRAME,
            caveat="; ".join(x for x in (strap, beams) if x),
            steps=steps,
        )
