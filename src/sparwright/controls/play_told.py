"""Free play told: `controls.NAME.play`, in degrees at the surface, and `controls.NAME.play.edge` at its trailing edge.

For comparison what military practice asks of a surface behind a wing or tail, by where it ends along the span: memory,
so no verdict. Source: mil-a-8870 (memory, high).
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.base.check import Result, Step
from sparwright.controls.motion import Motion
from sparwright.controls.play import FreePlay, free_play, held_by_cables, left, unknown
from sparwright.family.controls import Controls
from sparwright.family.model import Model
from sparwright.parts.aileron import ailerons

METHOD = "statics: growth of rods and cables by the turns of their levers (parts/linkage.py)"
NOT_SAID = "the file does not say how loose a joint may be; [controls.play] would settle it"
LOCKED = "the run is at a dead centre in neutral"
ASKED = ((0.75, 0.13), (0.5, 0.57), (0.0, 1.15))  # (past this part of the span, degrees)
WAY = math.radians(1.0)  # to either side, for what a loose circuit still does
TAUT = "taut cables hold it: no play while they are taut"


def play_results(model: Model, controls: Controls, found: tuple[Motion, ...]) -> Iterator[Result]:
    """Free play of every surface that the controls move."""
    for motion in found:
        why = NOT_SAID if controls.play is None else ""
        try:
            loose = free_play(motion, controls.play) if controls.play else unknown(motion.name)
        except np.linalg.LinAlgError:
            loose, why = unknown(motion.name), LOCKED
        except ValueError as fault:
            loose, why = unknown(motion.name), str(fault)
        yield from _told(model, motion, loose, why)


def _told(model: Model, motion: Motion, loose: FreePlay, why: str) -> Iterator[Result]:
    said = motion.name.replace("_", " ")
    chord, out = reach(model, motion.name)
    steps = tuple(Step(x.said, "play times d surface/d play", (), x.angle, "rad") for x in loose.loose if not why)
    held = TAUT if not why and held_by_cables(motion) else ""
    told = "; ".join(x for x in (why, held, "" if why else _asked(out)) if x)
    yield Result(f"controls.{motion.name}.play", f"free play of the {said}, hand held, from one end to the other",
                 loose.angle, "rad", source=METHOD, caveat=told, outside_range=why,
                 steps=(*steps, Step("together", "sum of all", (), loose.angle, "rad", METHOD)))  # fmt: skip
    edge = loose.edge(chord)
    given = (("angle", loose.angle, "rad"), ("behind the hinge line", chord, "m"), ("hinges", loose.hinge, "m"))
    swung = (("p", loose.angle, "rad"), ("x", WAY, "rad"))
    yield Result(f"controls.{motion.name}.play.edge", f"the same at the {said}'s trailing edge where it is deepest",
                 edge, "m", source=METHOD, caveat=why, outside_range=why,
                 steps=(Step("at the edge", "angle c + play of the hinges", given, edge, "m"),
                        Step("part of the circuit's stiffness that acts when it swings 1 deg to either side",
                             "1 - 2/pi (asin s + s sqrt(1 - s^2)), s = p/(2 x)", swung,
                             math.nan if why else left(loose.angle, WAY), "1", METHOD)))  # fmt: skip


def _asked(out: float) -> str:
    """What is asked of a surface that ends there, part of the span."""
    most = next(d for part, d in ASKED if out >= part)
    return (f"for comparison, no verdict: MIL-A-8870 asks for {most:g} deg at most of a surface that ends {out:.0%} "
            "out (memory, high; for fast military aeroplanes)")  # fmt: skip


def reach(model: Model, name: str) -> tuple[float, float]:
    """(how deep a surface is behind its hinge line where it is deepest, m; part of the span it ends at)."""
    tail = {"elevator": model.tailplane, "rudder": model.fin}.get(name)
    if tail is not None:
        return (1 - tail.hinge) * max(tail.root_chord, tail.tip_chord), 1.0
    for h in ailerons(model):
        if f"{h.wing.name}_aileron" == name:
            deep = max(s.chord - p.hinge[0] for s, p in map(h.at, (h.root, h.tip)))
            return deep, h.tip / h.wing.panels[-1].tip_buttline
    return math.nan, 0.0
