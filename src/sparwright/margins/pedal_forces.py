"""What foot and cable do to a pedal's shaft and its rails, at ultimate load, stance by stance.

    F        1.5 times the pilot's greatest force; both at once where the code asks for it (CS-VLA 397(c), recalled;
             14 CFR 23.397 has nothing of it, read), each then with its own cable
    shaft    each hub presses it at its two ends, as foot and cable ask; it lies in two rails; M from there
    aside    what cable and foot have along the shaft goes by its washer and collar to one rail alone

Source: statics.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number
from sparwright.controls.motion import Motion
from sparwright.family.controls import Controls
from sparwright.family.model import Model
from sparwright.loads.code import code_of
from sparwright.margins.control_forces import acting, most
from sparwright.parts.control_hand import WASHER
from sparwright.strength.allowable import Allowable, not_known
from sparwright.structure.answered import ULTIMATE


@dataclass(frozen=True)
class Pressed:
    """A pedal under the foot, at ultimate load, in n stances."""

    motion: Motion
    doubts: tuple[Allowable, ...]
    words: str
    both: bool  # whether the other one is pressed as well
    foot: float = number("N", "F")
    arm: float = number("m", "r, from the shaft to the foot")
    reactions: np.ndarray = number("N", "(n, 2, 3) on the shaft at the hub's inner and outer end")

    @property
    def aside(self) -> np.ndarray:
        """(n,) N along the shaft, on one rail; the other pedal's is its mirror."""
        return np.asarray(self.reactions.sum(axis=1)[:, 1])


def pressed(model: Model, c: Controls, m: Motion) -> tuple[Pressed, ...]:
    """One pedal, and both where the code asks for it."""
    assert model.seat is not None and model.seat.pedals is not None
    lever, F = m.run.levers["pedal-R"], most(m)
    foot = np.array(model.seat.pedals.place)
    arm = m.arm
    code = code_of(model)
    found: list[tuple[str, float, bool, tuple[Allowable, ...]]] = [
        ("the pilot's greatest force on one pedal", F, False, ())
    ]
    if code.has("both_pedals"):
        why = code.recalled("both_pedals")
        doubts = (not_known("both pedals", "the code", why),) if why else ()
        found.append(("both pedals pressed at once", ULTIMATE * code["both_pedals"], True, doubts))
    cable = acting(m, "pedal-R")
    way = np.cross(lever.axis, foot - lever.pivot)  # pedal forward
    way = way / np.linalg.norm(way)
    pulls = np.max([np.abs(a.force).max(axis=1) for a in cable], axis=0)
    rows = ~(pulls < np.median(pulls))  # the stances and ways in which the cable pulls against the foot
    made = []
    for words, size, both, said in found:
        forces = [(size * np.tile(way, (int(rows.sum()), 1)), float(foot[1]))]
        forces += [(size / F * a.force[rows], float(a.hole.place[1])) for a in cable]
        low, high = c.pedals.pivot[1] - c.pedals.width / 2, c.pedals.pivot[1] + c.pedals.width / 2
        total = sum(f for f, _ in forces)
        turning = sum(f * y for f, y in forces)
        outer = (turning - low * total) / (high - low)
        made.append(Pressed(m, said, words, both, size, arm, np.stack([total - outer, outer], axis=1)))
    return tuple(made)


def on_rails(c: Controls, p: Pressed) -> tuple[np.ndarray, np.ndarray]:
    """((n,) N m most that bends the shaft, (n, 3) N on the right rail): a beam in two rails under both hubs' ends."""
    half = c.pedals.width / 2
    y = abs(c.pedals.pivot[1])
    rail = y + half + c.pedals.rail.thickness / 2 + WASHER
    at = np.array([y - half, y + half, -(y - half), -(y + half)])
    load = np.concatenate([p.reactions, p.reactions if p.both else np.zeros_like(p.reactions)], axis=1)
    right = np.einsum("nkj,k->nj", load, (at + rail) / (2 * rail))
    bent = []
    for place in at:
        beyond = at > place + 1e-9
        M = right * (rail - place) - np.einsum("nkj,k->nj", load, np.where(beyond, at - place, 0.0))
        bent.append(np.linalg.norm(M, axis=1))
    return np.max(bent, axis=0), right
