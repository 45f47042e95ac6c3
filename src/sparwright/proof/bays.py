"""A surface in rib bays: what air and inertia ask of each in a case, what its own structure weighs, and where both act.

    net = (N n + C a - m acc) . g          acc = a + w' x r of the bay's mass
    d = -(t + m (acc . n) x)/(net (g . n)),  f = 1/4 + d/c
    front line net (f2 - f)/(f2 - f1), rear line the rest;  bags = net - m g, both lines likewise

N, C N along the chord's normal n and along the chord a; t N m about the quarter chord, nose up; m kg of the structure,
x m of its middle behind the quarter chord; g unit vector, where down is in the shop, in the aeroplane's axes. A hinged
surface without a wing's ribs has a line on each part: the front one carries what is ahead of the hinge. Source:
statics, worked out here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.record import locked, number
from sparwright.loads.laid_out import SpanLoad
from sparwright.structure.laid import Laid

QUARTER = 0.25
FRONT, REAR = 0.15, 0.50  # chord lines to begin with: bags spread over the ribs; common practice, no source
LITTLE = 0.1  # of the greatest bay: where less lies its centre does not move a line
TURN = 0.10  # of the load on a spar, missed or too much, from which boards turn the wing; ours, no source
STEP, FIRST, LAST = 0.05, 0.05, 0.70  # they move by this, no further than these


@dataclass(frozen=True)
class Outline:
    """One half of a surface as a builder sees it: bays from the root out."""

    name: str  # wing's name, "tailplane", "fin"
    across: int  # axis along which its bays follow: 1 buttline, 2 waterline
    edges: np.ndarray = number("m", "(b + 1,) ribs, from the root out")
    nose: np.ndarray = number("m", "(b + 1, 3) leading edge there, right side")
    chords: np.ndarray = number("m", "(b + 1,) there")
    along: np.ndarray = number("1", "(b, 3) from nose to tail")
    normal: np.ndarray = number("1", "(b, 3) of the chord's plane, to the side that a positive normal force points")
    hinge: float = number("1", "fraction of the chord where a part with bags of its own begins; 1 for none", 1.0)
    spars: tuple[float, ...] = number("1", "fractions of the chord where its spars are, from the nose", ())

    @property
    def middle(self) -> np.ndarray:
        """(b,) m, middle of each bay."""
        return np.asarray((self.edges[1:] + self.edges[:-1]) / 2)

    @property
    def width(self) -> np.ndarray:
        """(b,) m."""
        return np.diff(self.edges)

    @property
    def chord(self) -> np.ndarray:
        """(b,) m, in the middle of each bay."""
        return np.asarray((self.chords[1:] + self.chords[:-1]) / 2)

    def place(self, fraction: float | np.ndarray, out: float = 0.5) -> np.ndarray:
        """(b, 3) m, places on a chord line, right side; fraction: of the chord, one or (b,); out: 0 to 1 in a bay."""
        nose = (1 - out) * self.nose[:-1] + out * self.nose[1:]
        chord = (1 - out) * self.chords[:-1] + out * self.chords[1:]
        return np.asarray(nose + (fraction * chord)[:, None] * self.along)


@dataclass(frozen=True)
class Own:
    """The structure's own mass in each bay, the parts ahead of and behind a hinge apart."""

    mass: np.ndarray = number("kg", "(b, 2) ahead and behind; all ahead where nothing is hinged")
    aft: np.ndarray = number("m", "(b, 2) middle behind the quarter chord")


@dataclass(frozen=True)
class Bays:
    """What one half of a surface asks for in its test, all at limit load."""

    outline: Outline
    lines: np.ndarray = number("1", "(2, b) chord lines of the bags, front and rear, fractions in each bay")
    net: np.ndarray = number("N", "(b, 2) air less inertia, on each line")
    weight: np.ndarray = number("N", "(b, 2) the structure's own weight, on each line")
    air: np.ndarray = number("N", "(b,) air along the way the bags press")
    centre: np.ndarray = number("1", "(b,) where the bags' weight has to act, fraction of the chord")
    torque: np.ndarray = number("N m", "(b,) what boards have to turn it by, nose the way down positive")

    @property
    def bags(self) -> np.ndarray:
        """(b, 2) N, what has to lie there at limit load."""
        return np.asarray(self.net - self.weight)

    @property
    def reached(self) -> bool:
        """Whether every bay's centre that matters lies between the chord lines."""
        whole = self.bags.sum(axis=1)
        some = whole > LITTLE * max(float(whole.max()), 1e-9)
        low, high = self.lines[:, some]
        return bool(((self.centre[some] >= low - STEP) & (self.centre[some] <= high + STEP)).all())


def outside(span: SpanLoad, outline: Outline) -> SpanLoad:
    """A wing's span load without the strips inboard of its innermost rib: the body carries those, not the wing.

    A strip counts where its middle is, as when the case is laid on the frame.
    """
    if outline.across != 1 or outline.hinge < 1:
        return span
    mine = np.asarray(span.y) > outline.edges[0]
    return replace(
        span, y=locked(span.y[mine]), width=locked(span.width[mine]), chord=locked(span.chord[mine]),
        normal=locked(span.normal[mine]), chordwise=locked(span.chordwise[mine]), torsion=locked(span.torsion[mine]),
        hinged=locked(span.hinged[mine]), hinge=locked(span.hinge[mine]),
    )  # fmt: skip


def in_bays(y: np.ndarray, width: np.ndarray, running: np.ndarray, edges: np.ndarray) -> np.ndarray:
    """(b,) what of a running load on strips lies in each bay; what is outside the bays goes to the nearest.

    y, width: (m,) m, strips' middles and widths; running: (m,) N/m, even over a strip; edges: (b + 1,) m.

    >>> in_bays(np.array([0.5, 1.5]), np.ones(2), np.array([2.0, 4.0]), np.array([0.25, 1.0, 1.5])).tolist()
    [2.0, 4.0]
    """
    low, high = y - width / 2, y + width / 2
    open_ends = np.concatenate([[-np.inf], edges[1:-1], [np.inf]])
    share = np.minimum(high, open_ends[1:, None]) - np.maximum(low, open_ends[:-1, None])
    return np.asarray(np.maximum(share, 0.0) @ running)


def own_mass(outline: Outline, pieces: Sequence[tuple[np.ndarray, np.ndarray]]) -> Own:
    """The mass in each bay of the right half.

    pieces: places (p, 3) m and masses (p,) kg of both sides, of what is ahead of and what is behind the hinge.
    """
    mass, aft = np.zeros((len(outline.width), 2)), np.zeros((len(outline.width), 2))
    quarter = outline.place(QUARTER)
    for k, (places, masses) in enumerate(pieces):
        at = np.abs(places[:, outline.across])
        here = np.clip(np.searchsorted(outline.edges, at, side="right") - 1, 0, len(mass) - 1)
        kg = masses / (2 if outline.across == 1 else 1)
        np.add.at(mass[:, k], here, kg)
        np.add.at(aft[:, k], here, kg * ((places - quarter[here]) * outline.along[here]).sum(1))
    return Own(locked(mass), locked(np.divide(aft, mass, out=np.zeros_like(aft), where=mass > 0)))


def acceleration(outline: Outline, laid: Laid, centre: np.ndarray) -> np.ndarray:
    """(b, 3) m/s2 of each bay in a case, weight left out. centre: (3,) m, centre of gravity.

    Of both sides together: what rolling and yawing do to one side they take off the other.
    """
    arm = outline.place(0.4) - centre
    if outline.across == 1:
        arm = arm * np.array([1.0, 0.0, 1.0])
    return np.asarray(laid.acceleration + np.cross(laid.turning, arm))


def bays(outline: Outline, span: SpanLoad, own: Own, acc: np.ndarray, down: np.ndarray) -> Bays:
    """Net load and weight of each bay on its two chord lines. acc (b, 3) m/s2, down (3,) unit vector."""
    n, along = outline.normal, outline.along
    normal, chordwise, turned, hinged = (
        in_bays(span.y, span.width, v, outline.edges) for v in (span.normal, span.chordwise, span.torsion, span.hinged)
    )
    mass = own.mass.sum(1)
    air = (normal[:, None] * n + chordwise[:, None] * along) @ down
    net = air - mass * (acc @ down)
    square, own_n = n @ down, (acc * n).sum(1)
    moment = turned + own_n * (own.mass * own.aft).sum(1)
    weight = own.mass * GRAVITY
    if outline.hinge < 1:
        behind = hinged * square - own.mass[:, 1] * (acc @ down)
        away = (outline.hinge - QUARTER) * outline.chord + _behind(outline, span)
        fixed = -(moment + behind * square * away) / np.where(net - behind, (net - behind) * square, 1.0)
        some = (np.abs(v) > LITTLE * np.abs(v).max() for v in (net - behind, behind))
        parted = (_rounded(QUARTER + fixed / outline.chord, next(some)),
                  _rounded(QUARTER + away / outline.chord, next(some), outline.hinge))  # fmt: skip
        on = np.stack([net - behind, behind], axis=1)
        middle = _middle(on - weight, parted)
        return Bays(outline, locked(np.array(parted)), locked(on), locked(weight), locked(air), locked(middle),
                    locked(np.zeros(len(on))))  # fmt: skip
    at = QUARTER - moment / np.where(net, net * square, 1.0) / outline.chord
    heavy = QUARTER + (weight * own.aft).sum(1) / np.where(mass > 0, mass, 1.0) / GRAVITY / outline.chord
    left = net - weight.sum(1)
    centre = (net * at - weight.sum(1) * heavy) / np.where(left, left, 1.0)
    lines = chord_lines(centre, left)
    if turned_by_boards(outline, left, centre, lines):
        lines = FRONT, REAR
        bags, torque = on_skin(left, centre, lines, outline.chord)
    else:
        bags, torque = shared(*reached(left, centre, lines, outline.spars), lines), 0 * left
    own_weight = shared(weight.sum(1), heavy, lines)
    everywhere = np.outer(lines, np.ones(len(left)))
    return Bays(outline, locked(everywhere), locked(bags + own_weight), locked(own_weight), locked(air), locked(centre),
                locked(torque))  # fmt: skip


def turned_by_boards(o: Outline, load: np.ndarray, centre: np.ndarray, lines: tuple[float, float]) -> bool:
    """Whether bags on their lines miss so much of the moment that spars would carry a tenth of the load more or less.

    load (b,) N of the bags, centre (b,) fractions of the chord.
    """
    if len(o.spars) < 2:
        return False
    missed = abs(float((load * (centre - np.clip(centre, *lines)) * o.chord).sum()))
    gap = (o.spars[-1] - o.spars[0]) * float(o.chord.mean())
    return missed > TURN * gap * float(load.sum())


def on_skin(load: np.ndarray, centre: np.ndarray, lines: tuple[float, float], chord: np.ndarray
            ) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """(bags (b, 2) N, torque (b,) N m): the whole load as near to its centre as bags can lie; what is left to turn.

    Bays that would have to be lifted get none, the others as much less.

    >>> bags, torque = on_skin(np.array([100.0]), np.array([-0.35]), (0.15, 0.5), np.array([2.0]))
    >>> bags.round(6).tolist(), torque.round(6).tolist()
    ([[100.0, 0.0]], [100.0])
    """
    some = np.clip(load, 0.0, None)
    some = some * max(float(load.sum()), 0.0) / max(float(some.sum()), 1e-9)
    at = np.clip(centre, *lines)
    return shared(some, at, lines), np.asarray((some * at - load * centre) * chord)


def reached(load: np.ndarray, centre: np.ndarray, lines: tuple[float, float], spars: tuple[float, ...]
            ) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """(load (b,) N, centre (b,)) that bags can lie for: what is beyond a line comes onto it.

    With two spars as much more lies there as keeps the moment about the far spar, so that the near one carries what
    it does in the case and the far one less. With one spar the load stays and the torque is short.

    >>> [v.round(3).tolist() for v in reached(np.array([100.0]), np.array([-0.05]), (0.05, 0.5), (0.2, 0.6))]
    [[118.182], [0.05]]
    """
    at = np.clip(centre, *lines)
    if len(spars) < 2:
        return load, at
    far = np.where(centre < lines[0], spars[-1], spars[0])
    beyond = (centre != at) & (load > 0)
    more = np.where(beyond, (far - centre) / np.where(beyond, far - at, 1.0), 1.0)
    return np.asarray(load * more), at


def shared(load: np.ndarray, at: np.ndarray, lines: tuple[float, float]) -> np.ndarray:
    """(b, 2) a load (b,) N at a fraction of the chord (b,), by lever on two lines.

    >>> shared(np.array([100.0]), np.array([0.3]), (0.2, 0.6)).round(6).tolist()
    [[75.0, 25.0]]
    """
    front = load * (lines[1] - at) / (lines[1] - lines[0])
    return np.stack([front, load - front], axis=1)


def chord_lines(centre: np.ndarray, load: np.ndarray) -> tuple[float, float]:
    """Two chord lines that hold the centre of every bay between them: 15 and 50 %, moved apart by steps of 5 %.

    centre (b,) fractions, load (b,) N, of the bags. A bay whose centre lies beyond 5 or 70 % is not reached.

    >>> chord_lines(np.array([0.3, 0.53]), np.ones(2))
    (0.15, 0.55)
    """
    some = centre[load > LITTLE * max(float(load.max()), 1e-9)]
    if not some.size:
        return FRONT, REAR
    front = min(FRONT, STEP * np.floor(some.min() / STEP + 1e-9))
    rear = max(REAR, STEP * np.ceil(some.max() / STEP - 1e-9))
    return round(float(max(front, FIRST)), 2), round(float(min(rear, LAST)), 2)


def _middle(on: np.ndarray, lines: tuple[np.ndarray, np.ndarray]) -> np.ndarray:
    whole = on.sum(1)
    return np.asarray((on * np.stack(lines, axis=1)).sum(1) / np.where(whole, whole, 1.0))


def _behind(outline: Outline, span: SpanLoad) -> np.ndarray:
    """(b,) m, how far behind the hinge the load of the hinged part acts."""
    force = in_bays(span.y, span.width, span.hinged, outline.edges)
    moment = in_bays(span.y, span.width, span.hinge, outline.edges)
    far = np.abs(moment) / np.where(np.abs(force) > 0, np.abs(force), 1.0)
    return np.asarray(np.minimum(far, (1 - outline.hinge) * outline.chord / 2))


def _rounded(at: np.ndarray, some: np.ndarray, least: float = 0.0) -> np.ndarray:
    """(b,) a line on its own part, to a thousandth, between 5 % of the chord and the hinge, or behind the hinge.

    some: (b,) bool, the bays that carry enough to say where; the others take the nearest one's.
    """
    far = np.abs(np.arange(len(at))[:, None] - np.flatnonzero(some)[None]) if some.any() else None
    near = at if far is None else at[np.flatnonzero(some)[far.argmin(axis=1)]]
    return np.asarray(np.round(np.clip(near, max(FIRST, least + STEP / 2), 0.9), 3))
