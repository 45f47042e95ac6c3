"""The proof once more, with one thing changed: what the study of the assumptions asks for each end of a range.

Members, ribs, skins, hinges and the controls under hand and foot are looked at, in the cases that decide one of them
as proved: a case that decides nothing today could decide something then, so a change of the least margin is at least
what is told for a worse end, never less.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from sparwright.base.check import Check
from sparwright.controls.motion import Motion
from sparwright.family.model import Model
from sparwright.loads.laid_out import LaidOut
from sparwright.margins.chain import Margins, members
from sparwright.margins.controls import control_checks
from sparwright.margins.sources import strengths
from sparwright.margins.taken import USED, Taken
from sparwright.margins.wrinkled import with_wrinkles
from sparwright.maths.frame.record import Frame
from sparwright.parts.part import Assembly
from sparwright.structure.answered import Answered, answered
from sparwright.structure.bar import Skeleton
from sparwright.structure.laid import Laid, laid
from sparwright.structure.masses import NEAREST, Carriers, lumps

Stiffness = Callable[[Model, Skeleton], Frame]


def as_built(model: Model, bones: Skeleton) -> Frame:
    """The frame as it is."""
    return bones.frame


@dataclass(frozen=True)
class Trial:
    """What one proof is made with."""

    model: Model
    assembly: Assembly
    bones: Skeleton
    cases: tuple[LaidOut, ...]
    motions: tuple[Motion, ...] = ()
    taken: Taken = USED
    frame: Stiffness = as_built
    second_order: bool = True
    near: int = NEAREST
    pads: int | None = None


@dataclass(frozen=True)
class Proof:
    """What a trial gave."""

    trial: Trial
    on_frame: tuple[Laid, ...]
    answer: Answered
    checks: tuple[Check, ...]

    @property
    def margins(self) -> dict[str, float]:
        """By id of check; what is not known is left out."""
        return {c.id: c.margin for c in self.checks if math.isfinite(c.margin)}


def first_trial(model: Model, assembly: Assembly, found: Margins) -> Trial:
    """The proof as it was made, in the cases that decide. ValueError where no case is worked out."""
    if found.answer is None:
        raise ValueError("no load case is worked out, so nothing can be varied")
    titles = {c.case for c in found.checks}
    deciding = {x.case.key for x in found.answer.laid if any(t.startswith(f"{x.case.title}, ") for t in titles)}
    cases = tuple(x for x in found.laid if x.case.key in deciding)
    return Trial(model, assembly, found.answer.skeleton, cases, found.motions)


def prove(trial: Trial, like: Proof | None = None) -> Proof:
    """Lay the cases out, solve, hold every member; what the trial shares with `like` is taken from there."""
    same = like is not None and _loads_of(like.trial) == _loads_of(trial)
    on_frame = like.on_frame if like is not None and same else _on_frame(trial)
    if like is not None and same and _frame_of(like.trial) == _frame_of(trial):
        answer = like.answer
    else:
        bones = replace(trial.bones, frame=trial.frame(trial.model, trial.bones))
        flat = answered(trial.model, bones, on_frame, trial.second_order)
        answer = with_wrinkles(trial.model, flat, trial.second_order)
    spans = {x.case.key: x.spans for x in trial.cases}
    held = members(trial.model, answer, trial.taken, spans)
    pushed = control_checks(trial.model, answer, trial.motions, strengths(trial.model), trial.taken)
    return Proof(trial, on_frame, answer, (*held, *pushed))


def _loads_of(trial: Trial) -> tuple[object, ...]:
    return (id(trial.cases), trial.near, trial.pads)


def _frame_of(trial: Trial) -> tuple[object, ...]:
    return (trial.frame, trial.second_order)


def _on_frame(trial: Trial) -> tuple[Laid, ...]:
    carriers = Carriers(trial.model, trial.bones, trial.near, trial.pads)
    masses = lumps(trial.model, trial.assembly, trial.bones, carriers)
    rows = (laid(trial.bones, carriers, masses, replace(x.case, caveat=x.outside), x.pushes) for x in trial.cases)
    return tuple(x for x in rows if not x.why)
