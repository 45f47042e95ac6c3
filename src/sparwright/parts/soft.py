"""Wires and flexible lines as parts: soft things from place to place that yield, clipped to what is beside them.

They have a length and a mass but no body, since how they hang between two clips is the builder's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.record import locked
from sparwright.family.model import Model, Place
from sparwright.parts.flat_sheets import sheet_number, tube_numbers
from sparwright.parts.part import Joint, Part, Run
from sparwright.parts.struts import strut_number
from sparwright.shape.solid import as_place

CLIP = "clipped with a cushioned clamp every 10 in or less, a hand's slack at its ends"  # common practice, no source


def laid_run(places: Sequence[Place], outside: float) -> tuple[Run, Place]:
    """A run from place to place and the middle of its length."""
    path = np.array(places)
    steps = np.linalg.norm(np.diff(path, axis=0), axis=1)
    middle = steps @ ((path[1:] + path[:-1]) / 2) / steps.sum()
    return Run(path=locked(path), outside=outside), as_place(middle)


def holders(model: Model, names: Sequence[str], tubes: Sequence[Part]) -> Iterator[str]:
    """Part numbers of flat sheets and struts by name, of tubes by their end nodes."""
    known, sheets = {t.number: t for t in tubes}, {s.name for s in model.sheets}
    struts = {s.name: s for s in model.struts}
    for name in names:
        if name in sheets:
            yield sheet_number(model, name)
        elif name in struts:
            yield strut_number(model, struts[name])
        else:
            yield from tube_numbers(model, name, known)


def clips(model: Model, part: Part, names: Sequence[str], tubes: Sequence[Part], note: str = CLIP) -> Iterator[Joint]:
    """A joint of a soft thing with each of its holders."""
    for holder in holders(model, names, tubes):
        key = holder.removeprefix(f"{model.name}-")
        yield Joint(number=f"{part.number}-{key}-JOINT", kind="bolt", parts=(holder, part.number),
                    place=part.places[0], primary=False, fastener="unknown", note=note)  # fmt: skip
