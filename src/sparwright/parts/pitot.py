"""Pitot head and its lines as parts. The lines yield.

The head is one tube: straight aft from its nose, then by the shortest way to the strut or tube that holds it, square to
it, and up to its face. Its clamp is in its mass and not drawn.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import decimal_inches
from sparwright.base.record import locked
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.family.pitot import AirLine, Pitot
from sparwright.parts.number import part_number
from sparwright.parts.part import Joint, Part
from sparwright.parts.soft import clips, holders, laid_run
from sparwright.shape.solid import as_place
from sparwright.shape.tube import Tube

GROUP = "pitot"
PITOT_NOT_DRAWN = ("pitot: clamp of its head, tees and fittings of its lines",)


def _head(model: Model) -> str:
    return part_number(model.name, GROUP, "HEAD")


def _line(model: Model, line: AirLine) -> str:
    return part_number(model.name, GROUP, "LINE", line.name.upper().replace("_", "-"))


def pitot_parts(model: Model, beside: Sequence[Part]) -> Iterator[Part]:
    """The head and each line; beside: the parts that may hold it. DesignProblem where its holder is not there."""
    pitot = model.pitot
    if pitot is None:
        return
    tube = _tube(model, pitot, beside)
    yield Part(
        number=_head(model), name="pitot head", form="item", group=GROUP, purpose="pressure for the airspeed",
        material="bought", stock=tube.section, places=(as_place(tube.path.mean(axis=0)),), mass=pitot.mass, band=0.1,
        mark="designer", shape=tube,
    )  # fmt: skip
    for line in pitot.lines:
        run, middle = laid_run(list(line.run.values()), line.outside)
        section = math.pi / 4 * (line.outside**2 - line.bore**2)
        sizes = f"{decimal_inches(line.outside)} outside, {decimal_inches(line.bore)} bore"
        yield Part(
            number=_line(model, line), name=f"{line.name.replace('_', ' ')} line", form="soft", group=GROUP,
            purpose="air to the instruments", material=line.material,
            stock=f"{material(line.material).title}, {sizes}", places=(middle,),
            mass=section * run.length * material(line.material).density, band=0.15, shape=run,
            note=f"{' to '.join(line.run)}; falls all the way to a low point with a drain",
        )  # fmt: skip


def _tube(model: Model, pitot: Pitot, beside: Sequence[Part]) -> Tube:
    """Its way: nose, knee, face of the holder's first or last tube nearest to the knee."""
    numbers = set(holders(model, [pitot.held], beside))
    lines = [p.shape for p in beside if p.number in numbers and isinstance(p.shape, Tube)]
    knee = np.array(pitot.head) + np.array([pitot.straight, 0.0, 0.0])
    ends = [_face(line, knee) for line in lines]
    if not ends:
        raise DesignProblem(f"{model.name}: pitot.held names {pitot.held!r}, which is no tube and no strut here")
    end = min(ends, key=lambda e: float(np.linalg.norm(e - knee)))
    section = f"{decimal_inches(pitot.outside)} tube, from its nose to its clamp"
    return Tube(path=locked([pitot.head, knee, end]), outside=pitot.outside, wall=0.0, section=section)


def _face(line: Tube, knee: np.ndarray) -> np.ndarray:
    """Where the shortest way from the knee to a straight tube's middle line meets its face, or its mirror's."""
    side = -1.0 if knee[1] * float(line.path[:, 1].mean()) < 0 else 1.0
    a, b = line.path[0] * (1, side, 1), line.path[-1] * (1, side, 1)
    share = float(np.clip((knee - a) @ (b - a) / ((b - a) @ (b - a)), 0.0, 1.0))
    middle = a + share * (b - a)
    away = (knee - middle) / np.linalg.norm(knee - middle)
    return np.asarray(middle + line.outside / 2 * away)


def pitot_joints(model: Model, beside: Sequence[Part]) -> Iterator[Joint]:
    """The head on what it is clamped to, each line on the head or the holes and in its clips."""
    pitot, parts = model.pitot, {p.number: p for p in pitot_parts(model, beside)}
    if pitot is None:
        return
    head = parts[_head(model)]
    yield from clips(model, head, [pitot.held], beside, "clamped, the nose into the wind")
    for line in pitot.lines:
        part = parts[_line(model, line)]
        yield from clips(model, part, line.held, beside)
        yield Joint(number=f"{part.number}-HEAD-JOINT", kind="bolt", parts=(head.number, part.number),
                    place=next(iter(line.run.values())), primary=False, fastener="unknown",
                    note="pushed on and clamped; blown through softly, away from the instruments")  # fmt: skip
