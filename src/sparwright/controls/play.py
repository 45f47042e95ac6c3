"""Free play of each surface with stick or pedals held: what play in rod ends, pivots and hinges lets it turn.

Symbols: G growth of links by the turns of the free levers, m/rad, with a closed loop's strain as one more unknown; J
the surface's row of its inverse, rad/m; u the unit vector of a link's end along its straight part; c, r play, all the
way from one end to the other.

    rod i          2 r |J_i|                       two rod ends
    pivot of k     c |sum J_i u_i| square to its line     over the rods on lever k: its line moved by p lengthens
                                                          each by u . p
    its hinges     the same, of the surface itself
    surface        their sum                       all are taken up in turn, as a hand at the trailing edge finds it

A taut cable has no play, and a lever it pulls is seated on its bolt: neither counts, nor do the hinges of a surface
that cables alone hold. A circuit of stiffness K whose surface swings by x to either side of the middle of its play p
acts, by the first harmonic of its force, as

    K (1 - 2/pi (asin s + s sqrt(1 - s^2))),   s = p/(2 x)        nought within the play

Small turns about neutral; what bends is not in it. Source: statics, worked out here; the harmonic by its integral.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number
from sparwright.controls.motion import Motion
from sparwright.family.controls import ControlCable, Rod
from sparwright.family.play import ControlPlay
from sparwright.parts.linkage import Stance, ends, slopes_of


@dataclass(frozen=True)
class Loose:
    """What one joint adds."""

    said: str  # "elevator_rear, its two rod ends"
    angle: float = number("rad", "of the surface, from one end to the other")


@dataclass(frozen=True)
class FreePlay:
    """The free play of one surface, the hand held."""

    name: str
    loose: tuple[Loose, ...]
    hinge: float = number("m", "play of its hinges, by which it shifts besides")

    @property
    def angle(self) -> float:
        """All together, rad."""
        return sum(x.angle for x in self.loose)

    def edge(self, chord: float) -> float:
        """At a trailing edge so far behind the hinge line, m: turned, and shifted with its hinges."""
        return self.angle * chord + self.hinge


def free_play(motion: Motion, play: ControlPlay) -> FreePlay:
    """The free play of a motion's surface in neutral.

    ValueError where a closed loop of cable is rigged to no tension, LinAlgError at a dead centre.
    """
    still, run = motion.stances[motion.neutral], motion.run
    if run.loop and any(isinstance(k.made, ControlCable) and not k.made.tension for k in run.links):
        raise ValueError("its cables are rigged to no tension: they hang loose by what nobody has said")
    names, slopes, _ = slopes_of(run, motion.lever, still)
    turns = np.linalg.inv(slopes)[names.index(motion.surface)]
    rods = [i for i, k in enumerate(run.links) if isinstance(k.made, Rod)]
    found = [Loose(f"{run.links[i].key.replace('_', ' ')}: its two rod ends", 2 * play.rod_end * abs(float(turns[i])))
             for i in rods]  # fmt: skip
    found += [Loose(_said(motion, k), (play.hinge if k == motion.surface else play.pivot) * _by_pivot(motion, k, turns))
              for k in run.levers if not _seated(motion, k)]  # fmt: skip
    return FreePlay(motion.name, tuple(x for x in found if x.angle > 0), play.hinge)


def _said(motion: Motion, lever: str) -> str:
    word = lever.replace("_", " ")
    return f"{word}: its hinges" if lever == motion.surface else f"{word}: what it turns on"


def _seated(motion: Motion, lever: str) -> bool:
    """Whether a taut cable pulls at a lever."""
    return any(isinstance(k.made, ControlCable) and lever in k.levers for k in motion.run.links)


def _by_pivot(motion: Motion, lever: str, turns: Sequence[float]) -> float:
    """How far the surface turns for the play of a lever's pivot, rad/m."""
    still, run = motion.stances[motion.neutral], motion.run
    line = run.levers[lever].axis / np.linalg.norm(run.levers[lever].axis)
    whole = np.zeros(3)
    for i, link in enumerate(run.links):
        for n, pull in zip(link.levers, _pulls(motion, i, still), strict=True):
            whole += turns[i] * pull * (n == lever)
    return float(np.linalg.norm(whole - (whole @ line) * line))


def _pulls(motion: Motion, i: int, still: Stance) -> tuple[np.ndarray, np.ndarray]:
    link = motion.run.links[i]
    _, first, last = link.grown(ends(motion.run, link, still.angles))
    return first, last


def held_by_cables(motion: Motion) -> bool:
    """Whether nothing but cables holds the surface."""
    return all(isinstance(k.made, ControlCable) for k in motion.run.links if motion.surface in k.levers)


def unknown(name: str) -> FreePlay:
    """Of a surface whose joints' play the file does not say."""
    return FreePlay(name, (Loose("", math.nan),), math.nan)


def left(play: float, way: float) -> float:
    """Part of a circuit's stiffness that acts: play, and way to either side of its middle, in one unit.

    >>> left(0.4, 0.2), round(left(0.4, 0.4), 4), left(0.0, 0.1)
    (0.0, 0.391, 1.0)
    """
    s = play / (2 * way)
    return 1 - 2 / math.pi * (math.asin(s) + s * math.sqrt(1 - s * s)) if s < 1 else 0.0
