"""Forces put together: rows into one record, several records into one, and what they come to about a point.

Symbols: F force, M moment of its own, r place from the point.

    sum F        sum (M + r x F)

Axes of base/axes.py, which are right-handed: a moment about +x lifts the right wing, about +y the nose, about +z turns
the nose left. Range: any. Source: statics.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from sparwright.base.record import locked
from sparwright.loads.case import Pushes

MIRROR = np.array([1.0, -1.0, 1.0])  # of a place or a force, from side to side; of a moment less this
Vector = Sequence[float] | np.ndarray


def pushes(place: np.ndarray, force: np.ndarray, moment: np.ndarray, on: Sequence[str]) -> Pushes:
    """A locked record of k rows (k, 3). ValueError where the rows do not match."""
    arrays = [np.asarray(v, dtype=float).reshape(-1, 3) for v in (place, force, moment)]
    if {len(v) for v in arrays} != {len(on)}:
        raise ValueError(f"{len(on)} names for {', '.join(str(len(v)) for v in arrays)} places, forces and moments")
    return Pushes(place=locked(arrays[0]), force=locked(arrays[1]), moment=locked(arrays[2]), on=tuple(on))


def nothing() -> Pushes:
    """No forces."""
    return pushes(np.zeros((0, 3)), np.zeros((0, 3)), np.zeros((0, 3)), ())


def push(on: str, place: Vector, force: Vector = (0.0, 0.0, 0.0), moment: Vector = (0.0, 0.0, 0.0)) -> Pushes:
    """One force at one place.

    >>> push("wheel:main:R", (0.6, 0.8, -1.0), (0.0, 0.0, 100.0)).on
    ('wheel:main:R',)
    """
    return pushes(np.array(place), np.array(force), np.array(moment), (on,))


def joined(parts: Sequence[Pushes]) -> Pushes:
    """All of them in one, in their order."""
    if not parts:
        return nothing()
    place, force, moment = (np.concatenate([getattr(p, v) for p in parts]) for v in ("place", "force", "moment"))
    return pushes(place, force, moment, [name for p in parts for name in p.on])


def scaled(p: Pushes, factor: float) -> Pushes:
    """Every force and moment by a factor, places as they are."""
    return replace(p, force=locked(p.force * factor), moment=locked(p.moment * factor))


def mirrored(p: Pushes) -> Pushes:
    """The same on the other side: places and forces mirrored, right and left in the names exchanged."""
    middle = p.place[:, 1] == 0
    names = [n if at and n.startswith("node:") else other_side(n) for n, at in zip(p.on, middle, strict=True)]
    return pushes(p.place * MIRROR, p.force * MIRROR, p.moment * -MIRROR, names)


def other_side(on: str) -> str:
    """The name of what takes a force on the other side.

    >>> other_side("aileron:upper:R"), other_side("node:B1L"), other_side("fin")
    ('aileron:upper:L', 'node:B1R', 'fin')
    """
    swap = {"R": "L", "L": "R"}
    if ":" not in on or on[-1] not in swap:
        return on
    return on[:-1] + swap[on[-1]]


def resultant(p: Pushes, about: Vector = (0.0, 0.0, 0.0)) -> tuple[np.ndarray, np.ndarray]:
    """(force (3,) N, moment (3,) N m about a point, m) of all of them.

    >>> f, m = resultant(push("body", (1.0, 0.0, 0.0), (0.0, 0.0, 10.0)))
    >>> f.tolist(), m.tolist()
    ([0.0, 0.0, 10.0], [0.0, -10.0, 0.0])
    """
    arm = p.place - np.asarray(about, dtype=float)
    return p.force.sum(0), (p.moment + np.cross(arm, p.force)).sum(0)


def on_those(p: Pushes, *starts: str) -> Pushes:
    """Only what is taken by things whose name begins with one of these."""
    at = [i for i, name in enumerate(p.on) if name.startswith(starts)]
    return pushes(p.place[at], p.force[at], p.moment[at], [p.on[i] for i in at])
