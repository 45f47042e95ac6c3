"""What the frame says besides margins: how far wings move, what braces pull, how near the whole is to buckling."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sparwright.base.check import Result, Step
from sparwright.family.model import Model, Wing, spoken
from sparwright.structure.answered import Answered
from sparwright.structure.named import called
from sparwright.structure.wings import spar_node, stations

SOURCE = "frame of all bars, second order; maths/frame"


def frame_results(model: Model, answer: Answered) -> Iterator[Result]:
    """Datum's reaction, every wing's tip, every brace's pulls."""
    if not answer.laid:
        return
    yield _datum(answer)
    for wing in model.wings:
        yield from _tip(model, answer, wing)
    yield from _braces(answer)


def _datum(answer: Answered) -> Result:
    """Greatest reaction of the datum over the greatest force on a node, as rigged at limit load."""
    reaction = np.nanmax(np.abs(answer.limit[0].reaction), initial=0.0)
    force = np.nanmax(np.abs([x.loads[:, :3] for x in answer.laid]), initial=0.0)
    ratio = float(reaction / force) if force else np.nan
    given = (("largest reaction", float(reaction), "N"), ("largest force on a node", float(force), "N"))
    step = Step("what the datum carries", "reaction/force", given, ratio, "1", SOURCE)
    return Result("structure.datum", "what the frame's datum carries, of the largest force on a node", ratio, "1",
                  source=SOURCE, steps=(step,),
                  caveat="every case is balanced by its own inertia; in second order the balance is that of the frame "
                  "before it moves")  # fmt: skip


def _tip(model: Model, answer: Answered, wing: Wing) -> Iterator[Result]:
    """How far the tip rises and sinks at limit load, and how it turns, over all cases as rigged."""
    bones, moved = answer.skeleton, answer.limit[0].moved
    ordered = sorted(wing.spars, key=lambda s: s.at)
    tips = [bones.node[spar_node(wing.name, s.name, "R", stations(model, wing, s)[-1])] for s in ordered]
    rise = moved[:, tips[0], 2]
    for word, pick in (("up", np.nanargmax), ("down", np.nanargmin)):
        if np.isfinite(rise).any():
            case = int(pick(rise))
            key = answer.laid[case].case.key
            step = Step(f"case {key}", "front spar's tip, limit load", (), float(rise[case]), "m", SOURCE)
            yield Result(f"structure.tip.{wing.name}.{word}",
                         f"{spoken(wing.name)}: tip, furthest {word} at limit load",
                         float(rise[case]), "m", source=SOURCE, steps=(step,))  # fmt: skip
    if len(tips) > 1 and np.isfinite(rise).any():
        apart = bones.frame.place[tips[-1], 0] - bones.frame.place[tips[0], 0]
        turn = (moved[:, tips[0], 2] - moved[:, tips[-1], 2]) / apart
    else:
        turn = -moved[:, tips[0], 4]
    if np.isfinite(turn).any():
        case = int(np.nanargmax(np.abs(turn)))
        step = Step(f"case {answer.laid[case].case.key}", "(z_front - z_rear)/(x_rear - x_front)", (),
                    float(turn[case]), "rad", SOURCE)  # fmt: skip
        yield Result(f"structure.twist.{wing.name}",
                     f"{spoken(wing.name)}: most that the tip turns at limit load, nose up",
                     float(turn[case]), "rad", source=SOURCE, steps=(step,))  # fmt: skip


def _braces(answer: Answered) -> Iterator[Result]:
    """Greatest pull and greatest push of every strut and wire of the right side at limit load."""
    for i, bar in enumerate(answer.skeleton.bars):
        if bar.what not in ("strut", "wire") or bar.at[2] == "L":
            continue
        name = bar.part.split("-", 1)[1].replace("+", "_")
        pull = np.array([s.pull[:, i] for s in answer.limit])
        if not np.isfinite(pull).any():
            continue
        for word, pick in (("most", np.nanargmax), ("least", np.nanargmin)):
            v, c = np.unravel_index(int(pick(pull)), pull.shape)
            where = f"case {answer.laid[int(c)].case.key}, {answer.variants[int(v)]}"
            step = Step(where, "axial force, pull positive", (), float(pull[v, c]), "N", SOURCE)
            yield Result(f"structure.pull.{name}.{word}", f"{called(bar.part)}: {word} pull at limit load",
                         float(pull[v, c]), "N", source=SOURCE, steps=(step,))  # fmt: skip
