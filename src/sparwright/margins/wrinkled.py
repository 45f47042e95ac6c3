"""The frame once more with its wrinkled metal skins as soft in torsion as their diagonal tension leaves them.

    GJ = GJ_spar + GJ_skin G_k/G    of each bar whose skin is wrinkled at ultimate load in the case that twists it most

A skin that the spar's bending wrinkles while hardly any torque is on it may be softer still: not published in anything
that could be read, and little hangs on it there. As rigged. So every member is held with the skins as stiff as flat
ones and as soft as these, and so are the aeroelastics. Where the method's range does not reach, how soft the skin is is
not known: G_k/G is NaN there, the frame keeps it as stiff as flat and says so, the share of the torque that the spar's
box takes is NaN with it, and nothing that leans on either passes. Source: strength/members/curved_tension.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from sparwright.base.record import locked
from sparwright.data.loader import material
from sparwright.family.model import Model, Skin, Spar, Wing, spoken
from sparwright.margins.metal_skins import pulled
from sparwright.margins.skin_cell import METALS, cell_of
from sparwright.margins.sources import grained
from sparwright.margins.spar_run import Run, run_of
from sparwright.margins.worst import ends_of
from sparwright.structure.answered import Answered, with_another
from sparwright.structure.bar import Skeleton
from sparwright.structure.sections import skin_twist, stiff_skins
from sparwright.structure.wings import axes_at

SOFT = "wrinkled skins"
NOT_SOFT = "how soft the wrinkled skin on the {} is: outside the range of the published method, or its load not known"


def with_wrinkles(model: Model, answer: Answered, second_order: bool = True) -> Answered:
    """The same answer, with one more variant where a metal skin wrinkles."""
    kept = wrinkled(model, answer)
    if not kept:
        return answer
    return with_another(answer, SOFT, softened(model, answer.skeleton, kept).frame, kept, second_order)


def wrinkled(model: Model, answer: Answered) -> dict[int, float]:
    """By bar of a spar the least G_k/G of the skin on it, NaN where not known; bars whose skin stays flat are left
    out. Both sides alike."""
    found: dict[int, float] = {}
    for wing in model.wings:
        for spar in wing.spars:
            skins = _metal(wing, spar)
            if skins:
                run = run_of(model, answer, wing, spar)
                found |= _both_sides(answer, run, np.min([_kept(run, answer, s) for s in skins], axis=0))
    return found


def _metal(wing: Wing, spar: Spar) -> list[Skin]:
    return [s for s in stiff_skins(wing, spar) if material(s.material).kind in METALS]


def _kept(run: Run, answer: Answered, skin: Skin) -> np.ndarray:
    """(b,) G_k/G where its flow is greatest; NaN where that or a flow is not known."""
    x = pulled(run, cell_of(run, skin), answer, ends_of(answer.force[:, :, run.bars]), grained(run.model))
    flow, kept = (np.moveaxis(v, 2, 0).reshape(len(run.bars), -1) for v in (x.flow, x.kept))
    there = kept[np.arange(len(kept)), flow.argmax(axis=1)]
    return np.asarray(np.where(np.isnan(flow).any(axis=1), np.nan, there))


def _both_sides(answer: Answered, run: Run, kept: np.ndarray) -> Mapping[int, float]:
    """Each bar with the lesser of its own and its mirror's; NaN where one of them is."""
    at = np.array([round(answer.skeleton.bars[int(i)].at[3], 6) for i in run.bars])
    least = {float(y): float(np.min(kept[at == y])) for y in set(at)}
    return {int(i): least[float(y)] for i, y in zip(run.bars, at, strict=True) if not least[float(y)] >= 1}


def softened(model: Model, bones: Skeleton, kept: Mapping[int, float]) -> Skeleton:
    """The frame with the skins of some bars softened. kept: by bar; NaN: as stiff as flat, and among its unknowns."""
    twist, lost = np.array(bones.frame.twist), dict[str, None]()
    for i, part in kept.items():
        if math.isnan(part):
            lost[NOT_SOFT.format(f"{spoken(bones.bars[i].at[0])}, {bones.bars[i].at[1]} spar")] = None
            continue
        name, spar_name, _, y = bones.bars[i].at
        wing = model.wing(name)
        spar = next(s for s in wing.spars if s.name == spar_name)
        y = max(y, wing.panels[0].root_buttline)
        skin = skin_twist(model, wing, spar, y, axes_at(model, wing, spar, y).depth)
        twist[i] -= (1 - part) * skin / bones.frame.shear[i]
    return replace(bones, frame=replace(bones.frame, twist=locked(twist)), unknowns=(*bones.unknowns, *lost))
