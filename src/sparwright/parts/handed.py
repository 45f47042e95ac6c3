"""Right and left as parts of their own, where one cannot serve as the other.

A bar or skin is drawn for the right wing and stands on both. Its mirror is the same part only where

    it runs square to the plane of symmetry, all its corners by the same length, or
    it rises all along by the same length, and is the same ahead of its middle as behind: turned about, it fits

Any other becomes two parts with a number each, and each joint of it one on either side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from sparwright.parts.part import Hand, Joint, Part, Skin, Straight
from sparwright.shape.frame import ON_CENTRE, mirrored

ALIKE = 1e-6  # m
SIDES: tuple[tuple[Hand, int], ...] = (("R", 1), ("L", -1))


def handed(parts: Sequence[Part], joints: Sequence[Joint]) -> tuple[list[Part], list[Joint]]:
    """Parts and joints with right and left parted where they are not alike."""
    parted = {p.number: p for p in parts if _has_hand(p)}
    sides = {p.number: {int(np.sign(y)) if abs(y) > ON_CENTRE else 0 for _, y, _ in p.places} for p in parts}
    found = [q for p in parts for q in ((_side(p, h, s) for h, s in SIDES) if p.number in parted else (p,))]
    held = [k for j in joints for k in (_joints(j, parted, sides) if parted.keys() & set(j.parts) else (j,))]
    return found, held


def _has_hand(part: Part) -> bool:
    if part.hand or part.count != 2 or abs(part.places[0][1]) < ON_CENTRE:
        return False
    match part.shape:
        case Straight():
            return not _own_mirror(part.shape.rings)
        case Skin():
            return part.shape.thickness > 0 and not all(map(_own_mirror, part.shape.rings))
    return False


def _own_mirror(rings: np.ndarray) -> bool:
    """Whether a body between two rings (2, n, 3) is its own mirror, by being moved or turned about an upright line.

    One that is bent is not taken for one.
    """
    if len(rings) > 2:
        return False
    step = rings[1] - rings[0]
    if np.abs(step - step[0]).max() > ALIKE or abs(step[0, 0]) > ALIKE:
        return False
    if abs(step[0, 2]) <= ALIKE:
        return True
    ring = rings[0][:, [0, 2]]
    turned = np.column_stack([ring[:, 0].min() + ring[:, 0].max() - ring[:, 0], ring[:, 1]])
    apart = np.linalg.norm(turned[:, None] - ring[None], axis=2).min(axis=1)
    return bool(apart.max() <= ALIKE)


def _side(part: Part, hand: Hand, side: int) -> Part:
    """The part of one side; the left one's corners are the mirror of the right one's."""
    shape = part.shape
    if side < 0:
        over = np.array([1.0, -1.0, 1.0])
        if isinstance(shape, Straight):
            shape = replace(shape, start=mirrored(shape.start), end=mirrored(shape.end), rings=shape.rings * over)
        elif isinstance(shape, Skin):
            cut = tuple(o.mirrored() for o in shape.openings)
            shape = replace(shape, rings=tuple(r * over for r in shape.rings), openings=cut)
    places = tuple(p for p in part.places if p[1] * side > 0)
    return replace(part, number=f"{part.number}-{hand}", hand=hand, shape=shape, places=places)


def _joints(joint: Joint, parted: dict[str, Part], sides: dict[str, set[int]]) -> Iterator[Joint]:
    """A joint of both sides as one on the right and one on the left, with what stands there."""
    for hand, side in SIDES:
        there = [n for n in joint.parts if sides[n] & {side, 0}]
        x, y, z = joint.place
        yield replace(
            joint,
            number=f"{joint.number}-{hand}",
            parts=tuple(f"{n}-{hand}" if n in parted else n for n in there),
            place=(x, side * abs(y), z),
            count=(joint.count + 1) // 2,  # one on the centreline is on either side
        )
