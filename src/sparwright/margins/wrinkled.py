"""The frame once more with its wrinkled metal skins as soft in torsion as their diagonal tension leaves them.

    GJ = GJ_spar + GJ_skin G_k/G    of each bar whose skin is wrinkled at ultimate load in the case that twists it most

A skin that the spar's bending wrinkles while hardly any torque is on it may be softer still: not published in anything
that could be read, and little hangs on it there. As rigged. So every member is held with the skins as stiff as flat
ones and as soft as these, and so are the aeroelastics. Source: strength/members/curved_tension.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from sparwright.base.record import locked
from sparwright.data.loader import material
from sparwright.family.model import Model, Skin, Spar, Wing
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


def with_wrinkles(model: Model, answer: Answered, second_order: bool = True) -> Answered:
    """The same answer, with one more variant where a metal skin wrinkles."""
    kept = wrinkled(model, answer)
    if not kept:
        return answer
    return with_another(answer, SOFT, softened(model, answer.skeleton, kept).frame, kept, second_order)


def wrinkled(model: Model, answer: Answered) -> dict[int, float]:
    """By bar of a spar the least G_k/G of the skin on it; bars whose skin stays flat are left out. Both sides alike."""
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
    """(b,) G_k/G where its flow is greatest; 1 where nothing is known of it, as its own check then says."""
    x = pulled(run, cell_of(run, skin), answer, ends_of(answer.force[:, :, run.bars]), grained(run.model))
    flow, kept = (np.moveaxis(v, 2, 0).reshape(len(run.bars), -1) for v in (x.flow, x.kept))
    there = kept[np.arange(len(kept)), flow.argmax(axis=1)]
    return np.asarray(np.where(np.isfinite(there), there, 1.0))


def _both_sides(answer: Answered, run: Run, kept: np.ndarray) -> Mapping[int, float]:
    """Each bar with the lesser of its own and its mirror's."""
    at = [round(answer.skeleton.bars[int(i)].at[3], 6) for i in run.bars]
    least = {y: min(k for k, other in zip(kept, at, strict=True) if other == y) for y in set(at)}
    return {int(i): float(least[y]) for i, y in zip(run.bars, at, strict=True) if least[y] < 1}


def softened(model: Model, bones: Skeleton, kept: Mapping[int, float]) -> Skeleton:
    """The frame with the skins of some bars softened. kept: by bar."""
    twist = np.array(bones.frame.twist)
    for i, part in kept.items():
        name, spar_name, _, y = bones.bars[i].at
        wing = model.wing(name)
        spar = next(s for s in wing.spars if s.name == spar_name)
        y = max(y, wing.panels[0].root_buttline)
        skin = skin_twist(model, wing, spar, y, axes_at(model, wing, spar, y).depth)
        twist[i] -= (1 - part) * skin / bones.frame.shear[i]
    return replace(bones, frame=replace(bones.frame, twist=locked(twist)))
