"""What rods and cables do to each lever of a control under the pilot's greatest force, stance by stance.

    P_k = 1.5 F k            of each link, k its pull for each newton at the hand (controls/motion.py)
    rod                      P_k, pulling or pressing
    cable in a loop          T = max(T_0 + P_k/2, P_k) on the side that pulls, max(T_0 - P_k/2, 0) on the other
    pivot                    R = -sum of a lever's forces

A link that comes from the hand turns the lever one way, those that lead on to the surface hold it: so each gets its
sign. Both ways of turning are looked at, through the whole travel. A lever's forces are told in its own axes, as it
stands in neutral. The surface is taken as held and friction left out, as for the links themselves. Source: statics.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.base.record import locked, number
from sparwright.controls.motion import Motion, pull
from sparwright.data.controls import RULES
from sparwright.family.controls import ControlCable
from sparwright.parts.control_runs import Hole, Lever, Link
from sparwright.parts.linkage import Stance, ends
from sparwright.shape.solid import turning
from sparwright.structure.answered import ULTIMATE

WAYS = (1.0, -1.0)  # the lever turned one way and the other


@dataclass(frozen=True)
class Acting:
    """One link on one lever."""

    link: Link
    hole: Hole
    comes: bool  # from the hand; else it leads on to the surface
    force: np.ndarray = number("N", "(n, 3) at ultimate load on the lever, its own axes; stance by stance, both ways")

    @property
    def off(self) -> float:
        """How far its line lies from the middle of the hole's plate, m, along the plate's normal."""
        at = self.link.ends[1 if self.comes else 0]
        return float((at - self.hole.place) @ self.hole.normal)


def acting(motion: Motion, lever: str) -> tuple[Acting, ...]:
    """Every link of a control on one of its levers."""
    own = motion.run.levers[lever]
    return tuple(
        Acting(link, link.holes[i], i == 1, locked(_forces(motion, own, link, i)))
        for link in motion.run.links
        for i in (0, 1)
        if link.levers[i] == lever
    )


def _forces(motion: Motion, lever: Lever, link: Link, end: int) -> np.ndarray:
    return np.array([_force(motion, lever, link, end, s, way) for s in motion.stances for way in WAYS])


def _force(motion: Motion, lever: Lever, link: Link, end: int, stance: Stance, way: float) -> np.ndarray:
    """(3,) N in the lever's axes of neutral."""
    out = link.grown(ends(motion.run, link, stance.angles))[1 + end]
    along = turning(lever.axis, -stance.angles[lever.key]) @ -out  # the way a pull draws the lever
    turns = float(np.cross(link.ends[end] - lever.pivot, along) @ lever.axis)
    wanted = way if end == 1 else -way
    P = most(motion) * pull(motion, link, stance)
    if not isinstance(link.made, ControlCable):
        return np.asarray(P * np.sign(turns) * wanted * along)
    tight, slack = tensions(motion, link, P)
    return np.asarray((tight if turns * wanted > 0 else slack) * along)


def most(motion: Motion) -> float:
    """The pilot's greatest force at ultimate load, N."""
    return ULTIMATE * RULES[f"{motion.force}_force"].value


def tensions(motion: Motion, cable: Link, force: float) -> tuple[float, float]:
    """(N in the cable that pulls, N where it is the one that is let go)."""
    assert isinstance(cable.made, ControlCable)
    rigged = cable.made.tension
    if not motion.run.loop:
        return force + rigged, rigged
    return max(rigged + force / 2, force), max(rigged - force / 2, 0.0)


def on_pivot(found: tuple[Acting, ...]) -> np.ndarray:
    """(n, 3) N that a lever does to what it turns on."""
    return np.asarray(sum((a.force for a in found), np.zeros(3)))


def couple(found: tuple[Acting, ...], normal: np.ndarray, place: np.ndarray) -> np.ndarray:
    """(n, 3) N m that a lever's links do to its pivot about lines in its plane: each force, as far as it lies off it.

    normal: the pivot's line; place: the middle of what holds it.
    """
    total = np.zeros(3)
    for a in found:
        at = a.link.ends[1 if a.comes else 0] - place
        turned = np.cross(at, a.force)
        total = total + turned - np.outer(turned @ normal, normal)
    return np.asarray(total)
