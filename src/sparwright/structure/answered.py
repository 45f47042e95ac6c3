"""The frame under every case: as rigged, with the loosest and the tightest wires, with one wire gone.

Where a metal skin wrinkles, margins/wrinkled.py asks for one more variant.

Every case is solved twice, at limit load and at ultimate, because in second order the one is not 1.5 times the other.
A case that the rule gives as ultimate is taken at two thirds of it for limit load. One wire or its fitting gone is
looked at under a part of limit load that the designer says (common practice, no source).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from sparwright.base.record import locked
from sparwright.family.model import Model
from sparwright.maths.frame.record import Frame, Solved
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare
from sparwright.structure.bar import Skeleton
from sparwright.structure.laid import Laid

ULTIMATE = 1.5  # over limit; cfr-23-2014 23.303 (read)
FLIGHT = ("manoeuvre", "gust")  # kinds of case looked at with a wire gone
RIGGED, LOOSE, TIGHT = "as rigged", "loosest wires", "tightest wires"


@dataclass(frozen=True)
class Answered:
    """v variants of the frame, c cases, m bars. Everything at the level it is named for."""

    skeleton: Skeleton
    laid: tuple[Laid, ...]  # (c,)
    variants: tuple[str, ...]  # (v,)
    limit: tuple[Solved, ...]  # (v,)
    ultimate: tuple[Solved, ...]  # (v,)
    kept: Mapping[int, float] = field(default_factory=dict)  # by bar of a spar: least part a wrinkled skin keeps of G;
    # NaN where that is not known

    @property
    def force(self) -> np.ndarray:
        """(v, c, m, 12) N and N m at ultimate load, on the bars' ends, their own axes."""
        return np.array([s.force for s in self.ultimate])

    @property
    def limit_force(self) -> np.ndarray:
        """(v, c, m, 12) the same at limit load."""
        return np.array([s.force for s in self.limit])

    @cached_property
    def why(self) -> tuple[str, ...]:
        """Why some cases are not worked out; empty where all are."""
        told = dict.fromkeys(f"{x.case.key}: {x.why}" for x in self.laid if x.why)
        for variant, level in ((v, s) for v, s in zip(self.variants, self.ultimate, strict=True)):
            lost = [(x, w) for x, w, ok in zip(self.laid, level.why, level.good, strict=True) if not ok and not x.why]
            told |= dict.fromkeys(f"{x.case.key}, {variant}: {w}" for x, w in lost)
        return tuple(by_name(w, self.skeleton) for w in told)


def by_name(why: str, skeleton: Skeleton) -> str:
    """A reason of the solver's with its nodes by name; no more than four of them."""
    head, words, rest = why.partition("nodes ")
    numbers, _, tail = rest.partition(" move")
    if not words:
        return why
    names = [skeleton.names[int(n)] for n in re.findall(r"\d+", numbers)]
    return f"{head}{', '.join(names[:4])}{' and more' if len(names) > 4 else ''} move{tail}"


def answered(model: Model, skeleton: Skeleton, laid: Sequence[Laid], second_order: bool = True) -> Answered:
    """Solve every case with every tension of the wires."""
    rows = [(name, *_both(frame, laid, 1.0, second_order)) for name, frame in tensions(model, skeleton)]
    names, limit, ultimate = zip(*rows, strict=True)
    return Answered(skeleton, tuple(laid), names, limit, ultimate)


def with_another(answer: Answered, name: str, frame: Frame, kept: Mapping[int, float],
                 second_order: bool = True) -> Answered:  # fmt: skip
    """The same cases on one more variant of the frame. kept: as of `Answered`."""
    limit, ultimate = _both(frame, answer.laid, 1.0, second_order)
    return replace(answer, variants=(*answer.variants, name), limit=(*answer.limit, limit),
                   ultimate=(*answer.ultimate, ultimate), kept=kept)  # fmt: skip


def wires_gone(model: Model, skeleton: Skeleton, laid: Sequence[Laid]) -> Iterator[tuple[str, Answered]]:
    """The flight cases, at the part of their loads that the designer says, with each wire of the right side gone."""
    flown = tuple(x for x in laid if x.case.kind in FLIGHT)
    part = model.limits.wire_gone
    for i in wires_to_lose(skeleton) if part and flown else ():
        limit, ultimate = _both(without(skeleton.frame, i), flown, part, True)
        yield skeleton.bars[i].part, Answered(skeleton, flown, ("right one gone",), (limit,), (ultimate,))


def _both(frame: Frame, laid: Sequence[Laid], part: float, second_order: bool) -> tuple[Solved, Solved]:
    """The cases at limit and at ultimate load."""
    limit = np.array([x.loads * (1 / ULTIMATE if x.case.level == "ultimate" else 1.0) for x in laid]) * part
    both, half = solve(prepare(frame), np.concatenate([limit, ULTIMATE * limit]), second_order), len(laid)
    return _some(both, slice(0, half)), _some(both, slice(half, 2 * half))


def _some(s: Solved, which: slice) -> Solved:
    return Solved(s.moved[which], s.force[which], s.pull[which], s.slack[which], s.reaction[which], s.good[which],
                  s.why[which], s.turns[which])  # fmt: skip


def tensions(model: Model, skeleton: Skeleton) -> Iterator[tuple[str, Frame]]:
    """The frame as rigged, and with all wires as loose and as tight as the rigging may be."""
    frame = skeleton.frame
    yield RIGGED, frame
    play = model.rigging.tensions if model.rigging and np.any(frame.tension) else 0.0
    for name, scale in ((LOOSE, 1 - play), (TIGHT, 1 + play)) if play else ():
        yield name, replace(frame, tension=locked(frame.tension * scale))


def wires_to_lose(skeleton: Skeleton) -> list[int]:
    """Places of the wires of the right side between wings or to the fuselage."""
    return [i for i, b in enumerate(skeleton.bars) if b.what == "wire" and b.at[2] == "R"]


def without(frame: Frame, bar: int) -> Frame:
    """The frame with a bar that carries nothing: as thin as nothing, no tension."""
    area, tension = np.array(frame.area), np.array(frame.tension)
    area[bar], tension[bar] = area[bar] * 1e-9, 0.0
    return replace(frame, area=locked(area), tension=locked(tension))
