"""What moves in a mode: the part of the aeroplane with most of its energy, which way, and alike or opposite by side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.aeroelastic.moving import Moving
from sparwright.base.record import number
from sparwright.family.model import Model, spoken
from sparwright.structure.masses import Lumps

WAYS = ("fore and aft", "sideways", "up and down")
TAILS = ("elevator", "tailplane", "rudder", "fin")
TWIST = 1.0  # half a chord's turn over heave at mid-chord past which a wing's mode is called a twist


@dataclass(frozen=True)
class Name:
    """A mode in words."""

    part: str  # "upper wing", "tailplane", "fuselage"
    way: str  # "up and down", "twist"
    sides: str  # "both sides alike", "sides opposite", empty in the middle
    share: float = number("1", "that part's share of the energy")

    def __str__(self) -> str:
        return ", ".join(x for x in (f"{self.part} {self.way}", self.sides) if x)


def names(model: Model, moving: Moving, lumps: Lumps, weights: np.ndarray) -> tuple[Name, ...]:
    """A name for each natural mode, rigid ones too."""
    assert lumps.laid is not None
    flat = moving.shapes.reshape(len(moving.shapes), -1)
    move = (lumps.laid.T @ flat.T).reshape(-1, 6, len(flat))[:, :3]  # (L, 3, r)
    energy = weights[:, None, None] * move**2
    parts = np.array([_part(model, n, g) for n, g in zip(lumps.names, lumps.group, strict=True)])
    found = []
    for r in range(len(flat)):
        by = {p: energy[parts == p, :, r].sum(axis=0) for p in dict.fromkeys(parts)}
        part = max(by, key=lambda p: float(by[p].sum()))
        mine = parts == part
        way = WAYS[int(np.argmax(by[part]))]
        if way != WAYS[0] and _twists(moving, part, r):  # along the chord a strip neither heaves nor turns
            way = "twist"
        elif part in ("elevator", "rudder"):
            way = "turn about the hinge"
        found.append(Name(part, way, _sides(lumps.place[mine], move[mine, :, r], weights[mine]),
                          float(by[part].sum() / energy[:, :, r].sum())))  # fmt: skip
    return tuple(found)


def _part(model: Model, name: str, group: str) -> str:
    word = name.removeprefix(f"{model.name}-").split("-")[0]
    if word in TAILS:
        return word
    return spoken(group[5:]) if group.startswith("wing ") else "fuselage"


def _twists(moving: Moving, part: str, r: int) -> bool:
    s = moving.laced.strips
    mine = np.array([spoken(n) == part for n in s.surface])
    if not mine.any():
        return False
    turn, heave = moving.motion.turn[mine, r] * s.half[mine], moving.motion.heave[mine, r]
    return bool(np.sum(s.width[mine] * turn**2) > TWIST * np.sum(s.width[mine] * heave**2))


def _sides(place: np.ndarray, move: np.ndarray, weights: np.ndarray) -> str:
    """Alike or opposite: the sign of what right and left do upwards or along, weighed."""
    way = int(np.argmax((weights[:, None] * move**2).sum(axis=0)))
    if way == 1 or not np.any(place[:, 1] < -0.1):
        return ""
    right, left = place[:, 1] > 0.1, place[:, 1] < -0.1
    order = [np.argsort(np.abs(place[side, 1])) for side in (right, left)]
    values = [np.interp(np.linspace(0, 1, 9), np.linspace(0, 1, len(o)), move[side, way][o])
              for side, o in zip((right, left), order, strict=True)]  # fmt: skip
    return "both sides alike" if float(values[0] @ values[1]) > 0 else "sides opposite"
