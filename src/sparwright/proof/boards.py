"""Boards across a wing that turn it where bags on its skin cannot, and a rope that holds up what hangs.

    M = sum of what bags on their chord lines leave over, nose the way down positive
    n bags on one end of a board, n on a rope from its other end over a beam: a couple n w a = M, no force
    n = M/(w a0) to the nearest half, a0 = 1.5 chords;  a = M/(n w): where the bags hang makes the couple right

A half wing's leftover is cut into three equal parts along the span, each on a board at the rib nearest to its middle,
strapped over both spars. w N of one bag. Three boards a half wing and 1.5 chords: ours, no source; ropes over pulleys
to a loading platform instead of turning a wing over: faa-bgch-1962 p. 74 (read). Source: statics, worked out here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from sparwright.base.record import locked, number
from sparwright.proof.bays import Bays, Outline
from sparwright.proof.loaded import on_each, takers_word
from sparwright.structure.bar import Skeleton
from sparwright.structure.masses import Carriers

MANY = 3  # boards on half a wing
ARM = 1.5  # chords from rope to bags, about
BEHIND = 0.10  # m: the end on the tail side is this far behind the trailing edge


@dataclass(frozen=True)
class Board:
    """One board, right side; the left is its mirror."""

    surface: str
    rib: float = number("m", "buttline of the rib it lies on")
    nose: np.ndarray = number("m", "(3,) leading edge there")
    along: np.ndarray = number("1", "(3,) from nose to tail")
    chord: float = number("m", "of the wing there")
    couple: float = number("N m", "at limit load, nose the way down positive")
    arm: float = number("m", "from the end on the tail side, where one load acts, forward to where the other does")
    counts: tuple[float, ...] = number("1", "(s,) bags at either end at each step, in halves")

    @property
    def ahead(self) -> float:
        """M ahead of the leading edge where the front load acts; less than nought: behind it."""
        return self.arm - BEHIND - self.chord

    @property
    def pressed(self) -> str:
        """Which end carries bags; the other is pulled up."""
        return "front" if self.couple > 0 else "rear"

    def ends(self) -> tuple[np.ndarray, np.ndarray]:
        """(3,) m, where the front load acts, and the rear one."""
        return self.nose - self.ahead * self.along, self.nose + (self.chord + BEHIND) * self.along


def boards(bays: Bays, parts: Sequence[float], bag: float) -> tuple[Board, ...]:
    """The boards of half a wing; none where its bags leave nothing over. parts: (s,) of limit load; bag: N."""
    if not np.any(bays.torque):
        return ()
    return tuple(_boards(bays, parts, bag))


def _boards(bays: Bays, parts: Sequence[float], bag: float) -> Iterator[Board]:
    o, turn = bays.outline, np.asarray(bays.torque)
    for k, whole in by_rib(o, turn):
        chord = float(o.chords[k])
        n = max(1.0, round(2 * abs(whole) / (bag * ARM * chord)) / 2)
        counts = tuple(float(np.floor(2 * p * n + 0.5) / 2) for p in parts)
        yield Board(o.name, float(o.edges[k]), o.nose[k], o.along[min(k, len(o.along) - 1)], chord, whole,
                    abs(whole) / (n * bag), counts)  # fmt: skip


def by_rib(o: Outline, turn: np.ndarray) -> Iterator[tuple[int, float]]:
    """(place of the rib, N m) of each board. turn: (b,) N m left over in each bay."""
    whole = float(turn.sum())
    if not whole:
        return
    upto = np.cumsum(turn) - turn / 2
    group = np.clip(np.floor(MANY * upto / whole), 0, MANY - 1).astype(int)
    found: dict[int, float] = {}
    for g in range(MANY):
        mine = group == g
        if mine.any() and turn[mine].sum():
            at = float((o.middle[mine] * turn[mine]).sum() / turn[mine].sum())
            k = int(np.argmin(np.abs(o.edges - np.clip(at, o.edges[0], o.edges[-1]))))
            found[k] = found.get(k, 0.0) + float(turn[mine].sum())
    yield from found.items()


def laid_boards(skeleton: Skeleton, carriers: Carriers, every: Sequence[Board], bag: float, down: np.ndarray,
                steps: int) -> np.ndarray:  # fmt: skip
    """(s, n, 6) what the nodes get of the boards at each step, both sides. bag: N; down: (3,) unit vector."""
    found = np.zeros((steps, len(skeleton.names), 6))
    for board, side in product(every, ("R", "L")):
        mirror = np.array([1.0, -1.0 if side == "L" else 1.0, 1.0])
        places = np.array(board.ends()) * mirror
        way = np.sign(board.couple) * bag * np.array([1.0, -1.0])[:, None] * down
        push = np.hstack([way, np.zeros((2, 3))])
        given = on_each(skeleton, carriers, f"{takers_word(board.surface, 0)}:{side}", places, push).sum(axis=0)
        found += np.array(board.counts)[:, None, None] * given
    return found


@dataclass(frozen=True)
class Rope:
    """A rope from a node up over a beam, with bags on its other end."""

    node: str
    words: str
    weight: float = number("N", "what hangs, its own weight")
    inertia: float = number("N", "what its inertia relieves in the case at limit load")
    counts: tuple[float, ...] = number("1", "(s,) bags on the rope at each step, in halves")


def rope(node: str, words: str, weight: float, inertia: float, parts: Sequence[float], bag: float) -> Rope:
    """A rope that carries a weight and, at each step, that part of an inertia, to the nearest half bag.

    >>> rope("N", "tip", 100.0, 100.0, (0.25, 1.0), 50.0).counts
    (2.5, 4.0)
    """
    counts = tuple(float(np.floor(2 * (weight + p * inertia) / bag + 0.5) / 2) for p in parts)
    return Rope(node, words, weight, inertia, counts)


def laid_ropes(skeleton: Skeleton, ropes: Sequence[Rope], bag: float, down: np.ndarray, steps: int) -> np.ndarray:
    """(s, n, 6) N what ropes lift at each step. bag: N."""
    found = np.zeros((steps, len(skeleton.names), 6))
    for r in ropes:
        found[:, skeleton.node[r.node], :3] -= np.outer(r.counts, bag * down)
    return np.asarray(locked(found))
