"""Where the ends of struts and wires are held on the tubes of a tail surface: plates, pins, bolts.

Two flat plates lie on the fore and the aft face of the tube, in the plane of the tube and the first strut (or wire)
that ends there. Two bolts go across tube and plates, each in a bush through the tube, so that they clamp bush and
plates and not the tube's walls; nothing is welded to the tube and the bushes' holes lie where its bending in the plane
of the plates is least. The plates are lugs as well: a strut's bush is as long as the tube is thick and lies between
them, a wire's fork goes over the fore one alone. All lines meet on the tube's middle, but that a wire pulls half the
tube's thickness ahead of it. Each pin lies on its line as near to the tube as what turns on it leaves room for:

    over = max(edge, bush or fork, r sin a) + clear,   pin = middle + (R + over)/sin a along the line

R the tube's radius, r the strut's, a the angle of line and tube. Common practice, no source; worked out here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.family.fittings import Fitting
from sparwright.family.model import Model, Strut
from sparwright.parts.ends import CLEAR, ONE_PLANE, Held, Lugs, by_spot, fitting_of, mirror, offsets
from sparwright.shape.flat_frame import TailSpot, tail_spot
from sparwright.shape.frame import ON_CENTRE

WORDS = {"spar": "spar", "leading": "leading edge"}
LEAST_RISE = 0.15  # sine of the least angle between a strut or wire and its tube: flatter, its pin is nowhere near


@dataclass(frozen=True)
class Clamp:
    """A place on a tail's tube where struts and wires are held, the right one of a pair."""

    tail: str
    tube: str
    at: TailSpot
    fitting: Fitting
    along: float = number("m", "buttline or height")
    normal: np.ndarray = number("1", "(3,) along bolts and pins, aft")
    out: np.ndarray = number("1", "(3,) in the plates, square to the tube")
    lugs: tuple[Lugs, ...] = ()

    @property
    def radius(self) -> float:
        """Of the tube, m."""
        return self.at.tube.outside / 2

    @property
    def over(self) -> float:
        """From the tube's middle to the middle of a plate, m."""
        return self.radius + self.fitting.lug.thickness / 2

    @property
    def in_the_middle(self) -> bool:
        """Whether it lies in the plane of symmetry: right and left are held by the same plates."""
        return bool(abs(self.at.place[1]) < ON_CENTRE)

    def flat(self, place: np.ndarray) -> tuple[float, float]:
        """A place in the plates' own axes: along the tube and out, m."""
        off = place - self.at.place
        return float(off @ self.at.along), float(off @ self.out)


def clamps(model: Model) -> tuple[Clamp, ...]:
    """Every place on tail surfaces where struts and wires are held. DesignProblem for what cannot be."""
    return tuple(_clamp(model, held) for held in by_spot(model).values() if held[0].end.tail)


def _clamp(model: Model, held: Sequence[Held]) -> Clamp:
    end, at = held[0].end, tail_spot(model, held[0].end)
    normal = _normal(at, held)
    bare = Clamp(end.tail, end.tube, at, fitting_of(model, held), end.along, normal, np.cross(normal, at.along))
    _told(bare, held)
    struts = [h for h in held if isinstance(h.thing, Strut)]
    groups = ([struts] if struts else []) + [[h] for h in held if not isinstance(h.thing, Strut)]
    return Clamp(bare.tail, bare.tube, at, bare.fitting, bare.along, normal, bare.out,
                 tuple(_lugs(bare, group) for group in groups))  # fmt: skip


def _normal(at: TailSpot, held: Sequence[Held]) -> np.ndarray:
    """(3,) aft, square to the tube: in the plane of symmetry where it is on the centreline, else to the first line."""
    first = min(held, key=lambda h: not isinstance(h.thing, Strut))
    if abs(at.place[1]) < ON_CENTRE:
        return at.aft
    normal = np.cross(at.along, first.away)
    size = float(np.linalg.norm(normal))
    if size < LEAST_RISE:
        _too_flat(first)
    return np.asarray(normal / size * np.sign(normal @ at.aft))


def _too_flat(h: Held) -> None:
    tube = f"{WORDS[h.end.tube]} of the {h.end.tail}"
    raise DesignProblem(f"{h.thing.name} runs along the {tube}: no pin on its line is near; "
                        "end it where it stands off the tube at 9 degrees or more")  # fmt: skip


def _told(spot: Clamp, held: Sequence[Held]) -> None:
    """DesignProblem for a line along the tube, or out of the plates' plane."""
    for h in held:
        if abs(float(h.away @ spot.out)) < LEAST_RISE:
            _too_flat(h)
        if abs(float(h.away @ spot.normal)) > np.sin(ONE_PLANE):
            lean = np.degrees(np.arcsin(abs(float(h.away @ spot.normal))))
            others = ", ".join(o.thing.name for o in held if o is not h) or "its mirror"
            raise DesignProblem(
                f"{h.thing.name} leans {lean:.1f} deg out of the plates it shares on the {spot.tail} with {others}; "
                f"{np.degrees(ONE_PLANE):.1f} at most: move its other end, or give it a place of its own"
            )


def _lugs(spot: Clamp, group: Sequence[Held]) -> Lugs:
    """Struts between both plates, a wire on the fore one."""
    struts = isinstance(group[0].thing, Strut)
    offs = offsets(group, spot.fitting) if struts else (-spot.over,)
    pins = tuple(_pin(spot, h) + (0.0 if struts else offs[0]) * spot.normal for h in group)
    return Lugs(tuple(group), spot.normal, spot.at.along, spot.out, spot.at.place, pins, offs)


def _pin(spot: Clamp, h: Held) -> np.ndarray:
    """(3,) on its line, in the plane of the tube."""
    way = h.away - (h.away @ spot.normal) * spot.normal
    way = way / np.linalg.norm(way)
    rise = abs(float(way @ spot.out))
    over = max(spot.fitting.edge, h.round_pin, h.radius * np.sqrt(max(1 - rise**2, 0.0))) + CLEAR
    return np.asarray(spot.at.place + way * (spot.radius + over) / rise)


def pins_of(spot: Clamp, aft: bool) -> tuple[tuple[np.ndarray, Held], ...]:
    """(place, end) of every pin through the fore or the aft plate, both sides where it is in the middle."""
    every = [(p, h) for lugs in spot.lugs for h, p in zip(lugs.held, lugs.pins, strict=True)]
    mine = [(p, h) for p, h in every if isinstance(h.thing, Strut) or not aft]
    over = [(mirror(p), h) for p, h in mine] if spot.in_the_middle else []
    return (*mine, *over)
