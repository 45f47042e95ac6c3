"""The frame on its trestles under the bags: inner forces, movements, what the trestles carry; second order.

Each step is solved with the weight of the whole aeroplane besides the bags, nothing aboard. Movements are those from
the state without bags, as the builder reads them. The band is that of the stiffness: everything solved again with the
softest and the stiffest material.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.record import locked, number
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.maths.frame.record import Frame, Solved
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare
from sparwright.proof.bays import Bays
from sparwright.proof.trestles import Trestles
from sparwright.structure.answered import by_name
from sparwright.structure.bar import Skeleton
from sparwright.structure.laid import amounts, takers
from sparwright.structure.masses import Carriers, Lumps
from sparwright.structure.spread import spread_all

WOOD, METAL = 0.15, 0.05  # of Young's and shear modulus, give or take; common practice, no source
PIECE = 0.05  # m: what lies evenly along a bay is laid on the frame in pieces no longer than this
METALS = ("steel", "aluminium")


@dataclass(frozen=True)
class Loaded:
    """s steps of a test, the first without bags; three stiffnesses."""

    limit: Solved  # (s,) as calculated
    moved: np.ndarray = number("m and rad", "(3, s, n, 6) from the state without bags; as calculated, soft, stiff")
    reaction: np.ndarray = number("N", "(s, 4) on the trestles' nodes against the way down, pushing positive")
    why: str = ""  # why it is not worked out; all NaN then


def laid_bags(skeleton: Skeleton, carriers: Carriers, surfaces: Sequence[Bays], counts: Sequence[np.ndarray],
              bag: float, down: np.ndarray) -> np.ndarray:  # fmt: skip
    """(s, n, 6) what the nodes get of the bags at each step: those beside each, as of the air's forces there.

    counts: of each surface (s, b, 2); bag: N; down: (3,) unit vector. Both sides of what has two.
    """
    found = np.zeros((len(counts[0]), len(skeleton.names), 6))
    push = np.concatenate([down * bag, np.zeros(3)])
    for surface, count in zip(surfaces, counts, strict=True):
        o = surface.outline
        along = evenly(o.width)
        for line, out, side in product((0, 1), along, ("R", "L") if o.across == 1 else ("",)):
            places = o.place(surface.lines[line], out) * np.array([1.0, -1.0 if side == "L" else 1.0, 1.0])
            word = takers_word(o.name, line)
            given = on_each(skeleton, carriers, f"{word}:{side}" if side else word, places, push / len(along))
            found += np.einsum("sb,bni->sni", count[:, :, line], given)
    return found


def evenly(width: np.ndarray) -> tuple[float, ...]:
    """Parts of a bay's width, 0 to 1, at which its bags are laid on the frame. width: (b,) m.

    >>> evenly(np.array([0.1, 0.2]))
    (0.125, 0.375, 0.625, 0.875)
    """
    count = int(np.ceil(float(width.max()) / PIECE - 1e-9))
    return tuple((i + 0.5) / count for i in range(count))


def on_each(skeleton: Skeleton, carriers: Carriers, on: str, places: np.ndarray, push: np.ndarray) -> np.ndarray:
    """(b, n, 6) what the nodes get of the same force and moment (6,), or one of each (b, 6), at b places (b, 3)."""
    found, push = np.zeros((len(places), len(skeleton.names), 6)), np.broadcast_to(push, (len(places), 6))
    for i, place in enumerate(places):
        nodes = takers(skeleton, carriers, on, place)
        given = spread_all(np.asarray(skeleton.frame.place[nodes])[None], place[None], push[i : i + 1])[0]
        np.add.at(found[i], nodes, given)
    return found


def takers_word(surface: str, line: int) -> str:
    """What takes a bag on the front or the rear line of a surface."""
    own = {"tailplane": ("tailplane", "elevator"), "fin": ("fin", "rudder")}
    return own[surface][line] if surface in own else f"wing:{surface}"


def own_weight(lumps: Lumps, down: np.ndarray, wings_off: bool) -> np.ndarray:
    """(n, 6) N the weight of the empty aeroplane on its nodes; without its wings where they are off."""
    assert lumps.laid is not None
    weights = empty(lumps)
    if wings_off:
        weights = np.where([g.startswith("wing") for g in lumps.group], 0.0, weights)
    force = weights[:, None] * GRAVITY * down
    return np.asarray((lumps.laid @ np.hstack([force, np.zeros_like(force)]).ravel()).reshape(-1, 6))


def empty(lumps: Lumps) -> np.ndarray:
    """(L,) kg of every lump with nothing aboard."""
    return amounts(lumps, dict.fromkeys(set(lumps.load) - {""}, 0.0))


def loaded(model: Model, skeleton: Skeleton, on: Trestles, loads: np.ndarray, down: np.ndarray) -> Loaded:
    """Every step solved. loads: (s, n, 6) N and N m, the first without bags."""
    frame = replace(skeleton.frame, held=on.held(skeleton))
    found = [solve(prepare(f), loads) for f in (frame, *scaled(model, skeleton, frame))]
    limit, why = found[0], next((w for s in found for w in s.why if w), "")
    moved = np.array([s.moved - s.moved[:1] for s in found])
    at = [skeleton.node[n] for n in on.nodes]
    push = -limit.reaction[:, at, on.across] * np.sign(down[on.across])
    return Loaded(limit, locked(moved), locked(push), by_name(why, skeleton) if why else "")


def scaled(model: Model, skeleton: Skeleton, frame: Frame) -> tuple[Frame, Frame]:
    """The frame of the softest and of the stiffest material."""
    soft = {w.name for w in model.wings if any(material(s.cap.material).kind not in METALS for s in w.spars)}
    part = np.array([WOOD if b.what in ("spar", "rib") and b.at[0] in soft else METAL for b in skeleton.bars])
    low, high = (
        replace(frame, youngs=locked(frame.youngs * (1 + s * part)), shear=locked(frame.shear * (1 + s * part)))
        for s in (-1, 1)
    )
    return low, high
