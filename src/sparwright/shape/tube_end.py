"""The end of a tube as it is cut: how far at each angle, laid out flat to wrap round it.

A tube's end is sawn and filed square through the wall, so at one angle it is cut to one depth. There the lines along
its outside and along its bore leave the tubes it is fitted to at different depths; it is cut to the latest one, lines
within the wall among them (on an oblique tube those may be later than both edges, by up to half a wall):

    cut(a) = max cope of the lines at radius r - t .. r     a from the zero line, m from the node

The edge that says so touches, the other stands clear. An ear narrower and taller than EAR, which stands where a line
just misses one tube and has not met the next, is cut away: it would burn off in the weld.

Laid out at the outside radius: x = r a. Angles run anticlockwise as one looks at the cut end, so they run opposite
ways at the two ends, and the zero line is one line. It is the one nearest to up, or nearest to forward on a tube that
stands steeper than STEEP. Source: geometry, worked out here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import locked, number
from sparwright.shape.tube import Fitted, Tube, cope, directions

STEPS = 1440  # lines round the tube: a quarter of a degree, 0.08 mm round a tube of 38 mm
THROUGH = 9  # lines through the wall at each angle
STEEP = math.radians(60.0)  # from level
UP, FORWARD = (0.0, 0.0, 1.0), (-1.0, 0.0, 0.0)
SQUARE = 0.1e-3  # m
EAR = 1e-3  # m
BESIDE = 1e-6  # of a tube's direction off another's: it runs alongside


@dataclass(frozen=True)
class TubeEnd:
    """A tube's end: from the node along the tube to where each line begins. Angles as in `angles`."""

    radius: float = number("m", "outside radius")
    wall: float = number("m", "wall")
    outer: np.ndarray = number("m", "(n,) from the node to where the outside line leaves what it is fitted to")
    inner: np.ndarray = number("m", "(n,) the same of the bore's line")
    cut: np.ndarray = number("m", "(n,) from the node to the edge: the latest through the wall")
    touch: np.ndarray = number("m", "(n,) from the tube's middle line to the line that says so")

    @property
    def girth(self) -> float:
        """Length round the outside, m: 2 pi r."""
        return 2 * math.pi * self.radius

    @property
    def square(self) -> bool:
        """Whether it is sawn square: nowhere further off than a template may be."""
        return bool(np.ptp(self.cut) < SQUARE)

    def at(self, angle: float) -> float:
        """Depth from the node at an angle, rad, m."""
        n = len(self.outer)
        return float(self.cut[round(angle / (2 * math.pi) * n) % n])


def angles(steps: int = STEPS) -> np.ndarray:
    """(steps,) rad, from the zero line on."""
    return np.asarray(2 * np.pi * np.arange(steps) / steps)


def flipped(cut: np.ndarray) -> np.ndarray:
    """(n,) depths of the mirror image: the angles run the other way, the zero line stays."""
    return np.roll(cut[::-1], 1)


def zero_lines(path: np.ndarray) -> tuple[str, np.ndarray, np.ndarray]:
    """What the zero line is nearest to, and its direction from the middle line at start and end, (3,) unit vectors.

    On a bent tube the line goes on over each bend, which turns it as it turns the tube:
    w' = w - (w . b) / (1 + a . b) (a + b), a and b along the tube before and after.
    """
    along = directions(path)
    steep = abs(float(along[0][2])) > math.sin(STEEP)
    word, wanted = ("forward", FORWARD) if steep else ("up", UP)
    first = np.array(wanted) - float(np.array(wanted) @ along[0]) * along[0]
    line = first = first / np.linalg.norm(first)
    for a, b in zip(along[:-1], along[1:], strict=True):
        line = line - float(line @ b) / (1 + float(a @ b)) * (a + b)
    return word, first, line


def looking(away: np.ndarray, zero: np.ndarray, angle: np.ndarray) -> np.ndarray:
    """(n, 3) unit vectors from the middle line at angles, anticlockwise to who looks along `away` at the cut end."""
    return np.asarray(np.outer(np.cos(angle), zero) - np.outer(np.sin(angle), np.cross(away, zero)))


def tube_end(tube: Tube, which: int, steps: int = STEPS) -> TubeEnd:
    """The start (0) or the end (1) of a tube as it is cut. ValueError where it runs alongside what it is fitted to."""
    away = (directions(tube.path)[0], -directions(tube.path)[-1])[which]
    _, *zeros = zero_lines(tube.path)
    fits, node = tube.fits[which], tube.path[-which]
    if any(_alongside(f, away) for f in fits):
        raise ValueError("runs inside or alongside a tube it is fitted to")
    way, radius = looking(away, zeros[which], angles(steps)), tube.outside / 2
    radii = np.linspace(radius, max(radius - tube.wall, 0.0), THROUGH)
    depth = np.array([cope(node + r * way, node, away, fits) for r in radii])
    return TubeEnd(radius, tube.wall, locked(depth[0]), locked(depth[-1]),
                   locked(_without_ears(depth.max(axis=0), radius)), locked(radii[depth.argmax(axis=0)]))  # fmt: skip


def _without_ears(cut: np.ndarray, radius: float) -> np.ndarray:
    """Depths with each ear cut down to the deeper of its two sides."""
    half = max(1, round(EAR / 2 / (2 * math.pi * radius / len(cut))))
    beside = range(-half, half + 1)
    deepest = np.max([np.roll(cut, i) for i in beside], axis=0)
    closed = np.min([np.roll(deepest, i) for i in beside], axis=0)
    return np.where(closed - cut > EAR, closed, cut)


def _alongside(other: Fitted, away: np.ndarray) -> bool:
    """Whether a tube begins at the node and goes the same way."""
    m = np.array(other.along)
    return float(m @ away) > 0 and float(np.linalg.norm(m - float(m @ away) * away)) < BESIDE
