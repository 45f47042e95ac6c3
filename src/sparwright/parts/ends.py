"""Where the ends of struts and wires are held: the line of each from place to place, and its pin on that line.

A line runs between the middles of two spars, or a spar's middle and a node, so that the loads of all that meet at one
place go through one point. Each pin lies on its line as near to that point as lugs, tubes and foot allow:

    on a spar  outside the foot by the most of its edge, its bush, and r sin a, r the tube's radius, a its angle to
               the spar's depth
    at a node  (R + clear + r cos a)/sin a from it, over every tube there of radius R at an angle a below a right one;
               the strut's bush in place of r cos a where that is more

and CLEAR more. Lugs stand in the plane of the line and the spar's depth, so each pin is square to its strut; at a node
in the plane of two lines, or of a line and its mirror where the node is on the centreline; for one line with the pin as
near along the longeron as it is square to the line, so that the plates stand across the longeron, unless the line runs
along it: then the pin lies across. On tubes of the tail: tail_ends.py.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.data.hardware import WireEnd, wire_end
from sparwright.data.loader import fasteners
from sparwright.family.fittings import Fitting, StrutPiece
from sparwright.family.model import Model, Spar, Strut, StrutEnd, Wing, Wire
from sparwright.parts.frame import at_node, reaches
from sparwright.shape.frame import ON_CENTRE, end_place, nodes, runs
from sparwright.shape.spar import SparAxes, panel_of, spar_axes
from sparwright.shape.tube import Fitted

CLEAR = 3e-3  # m between what is not to touch (common practice, no source)
SEARCHED = 0.15  # m along a line for a place clear of the tubes
ONE_PLANE = 0.05  # rad: lines nearer than this to one plane share a pair of lugs (common practice, no source)


@dataclass(frozen=True)
class Held:
    """One end of a strut or wire that a fitting holds."""

    thing: Strut | Wire
    piece: StrutPiece | WireEnd
    which: int = number("1", "0 for its first end, 1 for its second")
    away: np.ndarray = number("1", "(3,) from the place where it is held along its line")

    @property
    def end(self) -> StrutEnd:
        """Where it is held, in the file."""
        return self.thing.ends[self.which]

    @property
    def pin(self) -> str:
        """Key of its bolt."""
        return self.piece.pin

    @property
    def radius(self) -> float:
        """Of the tube, or half the fork's width, m."""
        return self.thing.tube.outside / 2 if isinstance(self.thing, Strut) else self.round_pin

    @property
    def round_pin(self) -> float:
        """Radius of what turns on the pin, m."""
        return self.piece.bush.outside / 2 if isinstance(self.piece, StrutPiece) else self.piece.half


@dataclass(frozen=True)
class Lugs:
    """The plates that hold one strut or wire, or several in one plane: a pair for struts, one for a wire."""

    held: tuple[Held, ...]
    normal: np.ndarray = number("1", "(3,) along the pins")
    across: np.ndarray = number("1", "(3,) in the plates, along the foot")
    out: np.ndarray = number("1", "(3,) in the plates, away from what they stand on")
    origin: np.ndarray = number("m", "(3,) where out begins: on the foot's face, or at the node")
    pins: tuple[np.ndarray, ...] = field(default=(), metadata={"unit": "m", "meaning": "(3,) each pin, as held"})
    offsets: tuple[float, ...] = number("m", "of the plates' middles along the pins", ())

    def flat(self, place: np.ndarray) -> tuple[float, float]:
        """A place in the plates' own axes, m."""
        off = place - self.origin
        return float(off @ self.across), float(off @ self.out)


@dataclass(frozen=True)
class SparSpot:
    """A place on a spar where struts and wires are held."""

    wing: Wing
    spar: Spar
    fitting: Fitting
    axes: SparAxes
    buttline: float = number("m", "buttline")
    lugs: tuple[tuple[int, Lugs], ...] = ()  # 1 for above the spar, -1 for below; its lugs

    def outside(self, side: int) -> float:
        """From the spar's middle to the outer face of the foot, m."""
        assert self.fitting.plate is not None and self.fitting.reach is not None
        return self.axes.depth / 2 + self.fitting.reach + self.fitting.plate.thickness


@dataclass(frozen=True)
class NodeSpot:
    """A node of the fuselage, the right one of a pair, where struts and wires are held."""

    name: str
    place: np.ndarray = number("m", "(3,) the node")
    tubes: tuple[Fitted, ...] = ()
    fitting: Fitting | None = None
    lugs: tuple[Lugs, ...] = ()


def pieces(model: Model, thing: Strut | Wire, end: StrutEnd) -> StrutPiece | WireEnd | None:
    """What an end of a strut or wire ends in; None where the file does not say."""
    if isinstance(thing, Strut):
        return next((p for p in model.strut_pieces if p.name == end.piece), None)
    return wire_end(end.piece, thing.diameter) if end.piece else None


def middle_of_end(model: Model, end: StrutEnd) -> np.ndarray:
    """(3,) the node, or the middle of a spar's box or a tail's tube, where the line of a strut or wire begins."""
    if end.node or end.tail:
        return np.array(end_place(model, end))
    wing, spar = wing_spar(model, end)
    return spar_axes(model, wing, panel_of(wing, end.buttline), spar, end.buttline).middle


def wing_spar(model: Model, end: StrutEnd) -> tuple[Wing, Spar]:
    """The wing and spar an end lies on."""
    wing = model.wing(end.wing)
    return wing, next(s for s in wing.spars if s.name == end.spar)


Spot = tuple[str, str, float]  # node; wing, spar, buttline; or tail, tube, height or buttline


def _held(model: Model) -> Iterator[tuple[Spot, Held]]:
    """Every end that a fitting holds, by its place."""
    things: tuple[Strut | Wire, ...] = (*model.struts, *model.wires)
    for thing in things:
        for which, end in enumerate(thing.ends):
            piece = pieces(model, thing, end)
            if end.fitting and piece is not None:
                line = middle_of_end(model, thing.ends[1 - which]) - middle_of_end(model, end)
                place = (end.wing, end.spar, round(end.buttline, 6)) if end.wing else (end.node, "", 0.0)
                place = (end.tail, end.tube, round(end.along, 6)) if end.tail else place
                yield place, Held(thing, piece, which, line / np.linalg.norm(line))


def by_spot(model: Model) -> dict[Spot, list[Held]]:
    """Every end that a fitting holds, those of one place together."""
    found: dict[Spot, list[Held]] = {}
    for place, held in _held(model):
        found.setdefault(place, []).append(held)
    return found


def spots(model: Model) -> tuple[tuple[SparSpot, ...], tuple[NodeSpot, ...]]:
    """Every place on spars and every node where struts and wires are held. DesignProblem for what cannot be."""
    return _spots(_Key(model))


class _Key:
    """A model by identity, so that its spots are worked out once."""

    def __init__(self, model: Model):
        self.model = model

    def __hash__(self) -> int:
        return id(self.model)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Key) and other.model is self.model


@lru_cache(maxsize=8)
def _spots(key: _Key) -> tuple[tuple[SparSpot, ...], tuple[NodeSpot, ...]]:
    model, every = key.model, by_spot(key.model)
    on_spars = tuple(_spar_spot(model, held) for held in every.values() if held[0].end.wing)
    at_nodes = tuple(_node_spot(model, place[0], held) for place, held in every.items() if held[0].end.node)
    return on_spars, at_nodes


def fitting_of(model: Model, held: Sequence[Held]) -> Fitting:
    """The one fitting of a place."""
    names = dict.fromkeys(h.end.fitting for h in held)
    if len(names) > 1:
        things = ", ".join(h.thing.name for h in held)
        raise DesignProblem(f"{model.name}: {things} end in one place with fittings {', '.join(names)}; one is wanted")
    wanted = next(iter(names))
    found = next((f for f in model.fittings if f.name == wanted), None)
    if found is None:
        raise DesignProblem(f"{model.name}: no fitting {wanted or 'is named'} for {held[0].thing.name}")
    return found


# ------------------------------------------------------------------ on spars


def _spar_spot(model: Model, held: Sequence[Held]) -> SparSpot:
    wing, spar = wing_spar(model, held[0].end)
    at = held[0].end.buttline
    bare = SparSpot(wing, spar, fitting_of(model, held), spar_axes(model, wing, panel_of(wing, at), spar, at), at)
    sides = [(side, [h for h in held if (h.away @ bare.axes.up > 0) == (side > 0)]) for side in (1, -1)]
    lugs = tuple((side, lug) for side, here in sides for lug in _on_foot(bare, side, here))
    return replace(bare, lugs=lugs)


def _on_foot(spot: SparSpot, side: int, held: Sequence[Held]) -> Iterator[Lugs]:
    """Struts in one plane share a pair; each wire has a lug of its own."""
    out = side * spot.axes.up
    groups: list[list[Held]] = []
    for h in held:
        mine = next((g for g in groups if _alike(g[0], h, out)), None)
        if mine is None:
            groups.append([h])
        else:
            mine.append(h)
    for group in groups:
        normal = _level(group[0], out)
        origin = spot.axes.middle + spot.outside(side) * out
        pins = tuple(_pin_on_spar(spot, side, h) for h in group)
        yield Lugs(tuple(group), normal, np.cross(out, normal), out, origin, pins, offsets(group, spot.fitting))


def _level(h: Held, out: np.ndarray) -> np.ndarray:
    """(3,) square to a line and to out."""
    normal = np.cross(h.away, out)
    return np.asarray(normal / np.linalg.norm(normal))


def _alike(a: Held, b: Held, out: np.ndarray) -> bool:
    both = isinstance(a.thing, Strut) and isinstance(b.thing, Strut)
    return bool(both and abs(_level(a, out) @ _level(b, out)) > np.cos(ONE_PLANE))


def offsets(held: Sequence[Held], fitting: Fitting) -> tuple[float, ...]:
    """Where the middles of the plates lie along the pins, m: a pair round the bush, or one in the middle."""
    widths = {h.piece.width for h in held if isinstance(h.piece, StrutPiece)}
    if len(widths) > 1:
        raise DesignProblem(
            f"{', '.join(h.thing.name for h in held)}: struts on one pair of lugs have bushes of one width"
        )
    half = next(iter(widths), -fitting.lug.thickness) / 2 + fitting.lug.thickness / 2
    return (-half, half) if half else (0.0,)


def _pin_on_spar(spot: SparSpot, side: int, h: Held) -> np.ndarray:
    rise = float(h.away @ spot.axes.up) * side
    lean = float(np.sqrt(max(1 - rise**2, 0.0)))
    over = max(spot.fitting.edge, h.round_pin, h.radius * lean) + CLEAR
    return np.asarray(spot.axes.middle + h.away * (spot.outside(side) + over) / rise)


# ------------------------------------------------------------------ at nodes


def _node_spot(model: Model, name: str, held: Sequence[Held]) -> NodeSpot:
    place, tubes = node_tubes_at(model, name)
    if not tubes:
        raise DesignProblem(f"{held[0].thing.name} ends at node {name}, where no tube of the fuselage ends")
    fitting = fitting_of(model, held)
    kinds = [[h for h in held if isinstance(h.thing, k)] for k in (Strut, Wire)]
    lugs = tuple(_at_node(name, place, tubes, here, held, fitting) for here in kinds if here)
    return NodeSpot(name, place, tubes, fitting, lugs)


def node_tubes_at(model: Model, name: str) -> tuple[np.ndarray, tuple[Fitted, ...]]:
    """(place, tubes) of a node, the right one of a pair, with the tubes of its left one mirrored among them."""
    known = {n: np.array(p) for n, p in nodes(model.fuselage).items()}
    right = name if name in known else f"{name}R"
    return known[right], tuple(_both_sides(model, right, known))


def _both_sides(model: Model, right: str, known: Mapping[str, np.ndarray]) -> Iterator[Fitted]:
    """Every tube at a node of the right, and the mirror of every tube at its left one: one lug serves on both sides."""
    every, seen = runs(model.fuselage), set[tuple[float, ...]]()
    left = f"{right[:-1]}L" if right[:-1] + "L" in known and right.endswith("R") else ""
    for name, over in ((right, 1.0), (left, -1.0)) if left else ((right, 1.0),):
        for run in at_node(every, name):
            for f in reaches(run, name, known):
                x, y, z = f.along
                key = (*np.round((x, over * y, z), 6).tolist(), f.radius)
                if key not in seen:
                    seen.add(key)
                    yield Fitted((x, over * y, z), f.radius)


def _at_node(name: str, at: np.ndarray, tubes: Sequence[Fitted], here: Sequence[Held], every: Sequence[Held],
             fitting: Fitting) -> Lugs:  # fmt: skip
    first, both = here[0].away, np.cross(here[0].away, mirror(here[0].away))
    if len(here) == 1 and abs(at[1]) < ON_CENTRE < np.linalg.norm(both):
        normal = both if both[0] < 0 else -both  # right and left in one plane
    elif len(here) == 1:
        through, across = np.array(tubes[0].along), np.array([0.0, 1.0, 0.0])
        far = through if abs(float(through @ first)) < np.sqrt(0.5) else across
        normal = far - (far @ first) * first
    else:
        normal = np.cross(first, here[1].away)
    normal = normal / np.linalg.norm(normal)
    if any(abs(float(h.away @ normal)) > np.sin(ONE_PLANE) for h in here):
        raise DesignProblem(f"{', '.join(h.thing.name for h in here)} do not lie in one plane at node {name}")
    offs = offsets(here, fitting)
    left = [mirror(h.away) for h in every if abs(at[1]) < ON_CENTRE < abs(h.away[1])]
    pins = tuple(
        at + h.away * _far(h, tubes, [o for o in every if o is not h], fitting, offs, normal, left) for h in here
    )
    out = sum((h.away for h in here), np.zeros(3))
    out = out - (out @ normal) * normal
    out = out / np.linalg.norm(out)
    return Lugs(tuple(here), normal, np.cross(out, normal), out, at, pins, offs)


def mirror(way: np.ndarray) -> np.ndarray:
    """(3,) a place or direction of the other side."""
    return np.asarray(way * np.array([1.0, -1.0, 1.0]))


def _far(h: Held, tubes: Sequence[Fitted], others: Sequence[Held], fitting: Fitting, offs: Sequence[float],
         normal: np.ndarray, across: Sequence[np.ndarray] = ()) -> float:  # fmt: skip
    """How far from the node its pin, the tube on it and its head and nut clear tubes and other struts, m.

    across: (3,) the ways of those on the left that end at the same node.
    """
    round_ = [(np.array(t.along), t.radius) for t in tubes]
    round_ += [(o.away, max(o.radius, o.round_pin)) for o in others]
    round_ += [(way, max(h.radius, h.round_pin)) for way in across]
    wide, least = max(h.radius, h.round_pin), 0.0
    bush = h.round_pin if isinstance(h.thing, Strut) else 0.0  # of a strut nearly square to a tube it comes nearest
    for way, radius in round_:
        c = float(np.clip(h.away @ way, -1, 1))
        s = float(np.sqrt(1 - c * c))
        if c > 0 and s < 0.05:
            raise DesignProblem(f"{h.thing.name} runs along a tube or another strut at its node")
        least = max(least, (radius + CLEAR + max(wide * c, bush)) / s if c > 0 else radius + CLEAR + h.round_pin)
    d = pin_diameter(h)
    outer = (max(offs) + fitting.lug.thickness / 2 + d, min(offs) - fitting.lug.thickness / 2 - d)
    for far in np.arange(least, least + SEARCHED, 0.5e-3):
        heads = [far * h.away + o * normal for o in (*offs, *outer)]
        if all(_off(q, np.array(t.along)) >= t.radius + d + CLEAR for q in heads for t in tubes):
            return float(far)
    raise DesignProblem(f"{h.thing.name}: no place on its line at node {h.end.node} is clear of the tubes there")


def _off(point: np.ndarray, way: np.ndarray) -> float:
    """Distance of a point from a tube's middle line, which begins at nought, m."""
    return float(np.linalg.norm(point - max(float(point @ way), 0.0) * way))


def pin_places(model: Model) -> dict[tuple[str, int], tuple[np.ndarray, np.ndarray]]:
    """(pin, direction of its bolt) by name of strut or wire and which end, for ends that are held."""
    on_spars, at_nodes = spots(model)
    every = [lug for s in on_spars for _, lug in s.lugs] + [lug for n in at_nodes for lug in n.lugs]
    return {(h.thing.name, h.which): (p, lug.normal) for lug in every for h, p in zip(lug.held, lug.pins, strict=True)}


def pin_diameter(h: Held) -> float:
    """Of its bolt, m."""
    return fasteners()[h.pin].diameter
