"""What holds a wing up: the points where a spar is held, the wings that struts join, the struts and wires below them.

Only upward loads are followed. A wire holds a wing up when its other end is lower; a strut holds both ways. Points
that wing-to-wing struts join share one load, carried down by the struts and wires that lean outwards from a node of
the fuselage, in equal parts where there are several (their stiffness is not asked: common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number
from sparwright.family.model import Model, Spar, Strut, StrutEnd, Wing, Wire
from sparwright.shape.frame import ON_CENTRE, end_place

Point = tuple[str, str, float]  # wing, spar, buttline
LEANS = 0.5  # run over rise: a strut that stands more upright is a cabane strut, its pull is not worked out
UPRIGHT = 0.1  # run over rise of an interplane strut, beyond which it presses or pulls the spars along


@dataclass(frozen=True)
class Holder:
    """A strut or wire from a node of the fuselage up to a spar, right side."""

    thing: Strut | Wire
    point: Point
    run: float = number("m", "outwards from foot to top")
    rise: float = number("m", "upwards from foot to top")
    length: float = number("m", "foot to top")

    @property
    def leans(self) -> bool:
        """Whether it slopes enough outwards to be a lift strut or flying wire."""
        return self.run > LEANS * self.rise


@dataclass(frozen=True)
class Joined:
    """Points of spars that go up and down together, and what holds them."""

    points: frozenset[Point]
    holders: tuple[Holder, ...]
    unclear: str = ""  # why the way of the load down to the fuselage is not worked out


def bracing(model: Model) -> tuple[Strut | Wire, ...]:
    """Every strut and wire of a model."""
    return (*model.struts, *model.wires)


def supports(model: Model, wing: Wing, spar: Spar) -> tuple[float, ...]:
    """Buttlines where the spar is held up: the fuselage side for a wing that begins there, struts, wires from below."""
    at = {round(wing.leading_edge[1], 6)} if wing.leading_edge[1] > ON_CENTRE else set()
    for thing in bracing(model):
        for end, other in (thing.ends, thing.ends[::-1]):
            if end.wing == wing.name and end.spar == spar.name and _holds_up(model, thing, end, other):
                at.add(round(end.buttline, 6))
    return tuple(sorted(at))


def _holds_up(model: Model, thing: Strut | Wire, end: StrutEnd, other: StrutEnd) -> bool:
    return isinstance(thing, Strut) or end_place(model, other)[2] < end_place(model, end)[2]


def point(end: StrutEnd) -> Point:
    """Where an end lies on a spar."""
    return (end.wing, end.spar, round(end.buttline, 6))


def joined(model: Model) -> tuple[Joined, ...]:
    """All points of support, those that wing-to-wing struts join together in one."""
    groups = [{(w.name, s.name, b)} for w in model.wings for s in w.spars for b in supports(model, w, s)]
    for strut in model.struts:
        a, b = strut.ends
        if a.wing and b.wing:
            pair = {point(a), point(b)}
            together: set[Point] = set().union(*(g for g in groups if g & pair))
            groups = [g for g in groups if not g & pair] + [together]
    return tuple(_joined(model, frozenset(g)) for g in groups)


def _joined(model: Model, points: frozenset[Point]) -> Joined:
    below = tuple(_holders(model, points))
    at_side = any(abs(b - model.wing(w).leading_edge[1]) < ON_CENTRE and b > ON_CENTRE for w, _, b in points)
    first = "{} {} spar BL {:.1f} in".format(*min(points)[:2], min(points)[2] / 0.0254)
    if not below and not at_side:
        return Joined(points, (), f"nothing leads from below to {first} from a node of the fuselage")
    leaning = [s.name for s in model.struts if _pushes_along(model, s, points)]
    why = f"strut {leaning[0]} leans, its push along the spars is not worked out" if leaning else ""
    return Joined(points, tuple(h for h in below if h.leans) or below, why)


def _pushes_along(model: Model, strut: Strut, points: frozenset[Point]) -> bool:
    a, b = strut.ends
    if not (a.wing and b.wing and point(a) in points):
        return False
    _, y, z = np.subtract(end_place(model, b), end_place(model, a))
    return bool(abs(y) > UPRIGHT * abs(z))


def _holders(model: Model, points: frozenset[Point]) -> Iterator[Holder]:
    for thing in bracing(model):
        for end, other in (thing.ends, thing.ends[::-1]):
            if end.wing and other.node and point(end) in points:
                d = np.subtract(end_place(model, end), end_place(model, other))
                if d[2] > 0:
                    yield Holder(thing, point(end), float(d[1]), float(d[2]), float(np.linalg.norm(d)))
