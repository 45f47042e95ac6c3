"""One side of the fuselage's frame laid flat on a table, and both sides stood on a bench: figures for the jigs.

A side is upright or nearly so, and drawn in bay by bay: seen from above it follows a line that turns at the uprights.
Laid flat along that line every tube within a bay keeps its length. What stands off the line is told by how far.

    along   the length of that line from the foremost upright, s = sum sqrt(dx^2 + dy^2), aft positive
    up      the waterline
    off     how far outboard of that line, square to the middle of the fuselage

Common practice, no source: order of welding, how far blocks stand from the flame.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.family.model import Model
from sparwright.shape.frame import ON_CENTRE, Run, nodes, runs, within_body

UPRIGHT = 0.05  # of its length that an upright may lean fore and aft
LEAN = 0.35  # and across
OFF = 0.012  # m that a node of a side may stand off its line
LEVEL = 2e-4  # m: a node nearer to the plane than this lies in it


@dataclass(frozen=True)
class Spot:
    """A node of the right side on the table."""

    node: str
    along: float = number("m", "from the foremost upright, aft, on the table")
    up: float = number("m", "over the base line, which is waterline nought")
    off: float = number("m", "outboard of the side's own surface: over the table's plane of middle lines", 0.0)
    order: int = number("1", "its turn to be welded out, 1 first", 0)


@dataclass(frozen=True)
class Turn:
    """Where the side is drawn in after it is welded."""

    upright: str  # its upper and lower node
    along: float = number("m", "where, on the table")
    angle: float = number("rad", "how far, inwards positive")


@dataclass(frozen=True)
class Side:
    """The right side of the frame, laid flat."""

    spots: tuple[Spot, ...]
    tubes: tuple[Run, ...]
    turns: tuple[Turn, ...]
    uprights: tuple[tuple[str, str], ...]  # upper and lower node, from ahead aft

    def spot(self, node: str) -> Spot:
        """The node's; KeyError where it is not of the side."""
        return {s.node: s for s in self.spots}[node]

    @property
    def largest(self) -> float:
        """The greatest outside diameter of its tubes, m."""
        return max(r.tube.outside for r in self.tubes)

    @property
    def plane(self) -> float:
        """How high over the table its middle lines lie, m: no tube is lower than the table."""
        return self.largest / 2 + max(0.0, *(-s.off for s in self.spots if abs(s.off) > LEVEL), 0.0)

    def packing(self, outside: float, off: float = 0.0) -> float:
        """What lies under a tube of that outside diameter, m."""
        return self.plane + off - outside / 2

    def apart(self, a: str, b: str) -> float:
        """From node to node on the table, m."""
        p, q = self.spot(a), self.spot(b)
        return float(np.hypot(p.along - q.along, p.up - q.up))

    @property
    def diagonals(self) -> tuple[tuple[str, str, float], ...]:
        """Both diagonals of every bay, and both of the whole: node, node, length m."""
        found = [(a, b) for (u, v), (p, q) in pairwise(self.uprights) for a, b in ((u, q), (v, p))]
        (u, v), (p, q) = self.uprights[0], self.uprights[-1]
        return tuple((a, b, self.apart(a, b)) for a, b in (*found, (u, q), (v, p)))


def side_frame(model: Model) -> Side:
    """The right side. DesignProblem where the frame has no two uprights."""
    known = {n: np.array(p) for n, p in nodes(model.fuselage).items() if p[1] > -ON_CENTRE}
    inner = [r for r in runs(model.fuselage) if all(n in known for n in r.nodes)
             and all(within_body(model.fuselage.body, tuple(known[n])) for n in r.nodes)]  # fmt: skip
    uprights = _uprights(inner, known)
    if len(uprights) < 2:
        raise DesignProblem(f"{model.name}: the fuselage has no two uprights, so its sides cannot be laid flat")
    line = np.array([(known[r.nodes[0]] + known[r.nodes[-1]])[:2] / 2 for r in uprights])
    places = {n: _laid(p, line) for n, p in known.items()}
    tubes = tuple(r for r in inner if _laid_here(r, known, places))
    mine = dict.fromkeys(n for r in tubes for n in r.nodes)
    order = _order([(n, places[n][0], places[n][1]) for n in mine])
    spots = tuple(
        Spot(n, *places[n], order[n]) for n in sorted(mine, key=lambda n: (round(places[n][0], 4), -places[n][1]))
    )
    held = tuple((u, v) for u, v in (_held(r, mine, known) for r in uprights) if u != v)
    turns = _turns([f"{r.nodes[0]}–{r.nodes[-1]}" for r in uprights], line)
    return Side(spots, tubes, tuple(turns), held)


def _laid_here(run: Run, known: dict[str, np.ndarray], places: dict[str, tuple[float, float, float]]) -> bool:
    """Whether a tube is laid on the table: in the side, not on the middle line, longer than it is thick."""
    long = float(np.linalg.norm(known[run.nodes[-1]] - known[run.nodes[0]]))
    aside = any(known[n][1] > ON_CENTRE for n in run.nodes)
    return aside and long > run.tube.outside and all(abs(places[n][2]) < OFF for n in run.nodes)


def _held(run: Run, mine: dict[str, None], known: dict[str, np.ndarray]) -> tuple[str, str]:
    """The upper and lower node of an upright that the side reaches."""
    here = sorted((n for n in run.nodes if n in mine), key=lambda n: -known[n][2])
    return (here[0], here[-1]) if here else ("", "")


def _uprights(inner: list[Run], known: dict[str, np.ndarray]) -> tuple[Run, ...]:
    """The longest upright at each station, from ahead aft."""
    found: dict[float, tuple[float, Run]] = {}
    for r in inner:
        a, b = known[r.nodes[0]], known[r.nodes[-1]]
        long = float(np.linalg.norm(b - a))
        if abs(b - a)[0] > UPRIGHT * long or abs(b - a)[1] > LEAN * long:
            continue
        x = round(float(a[0] + b[0]) / 2, 3)
        if x not in found or long > found[x][0]:
            found[x] = (long, r)
    tall = max((v[0] for v in found.values()), default=0.0)
    return tuple(r for _, (long, r) in sorted(found.items()) if long > 0.2 * tall)


def _laid(place: np.ndarray, line: np.ndarray) -> tuple[float, float, float]:
    """(along, up, off) of a place; beyond the line's ends it goes straight on, fore and aft."""
    x, y = line.T
    step = np.hypot(np.diff(x), np.diff(y))
    along = np.concatenate([[0.0], np.cumsum(step)])
    beyond = min(0.0, place[0] - x[0]) + max(0.0, place[0] - x[-1])
    return (float(np.interp(place[0], x, along) + beyond), float(place[2]),
            float(place[1] - np.interp(place[0], x, y)))  # fmt: skip


def _turns(uprights: list[str], line: np.ndarray) -> Iterator[Turn]:
    step = np.diff(line, axis=0)
    angle = np.arctan2(step[:, 1], step[:, 0])
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*step.T))])
    for i in range(1, len(line) - 1):
        turn = float(angle[i - 1] - angle[i])
        if abs(turn) > np.radians(0.05):
            yield Turn(uprights[i], float(along[i]), turn)


def _order(spots: list[tuple[str, float, float]]) -> dict[str, int]:
    """Turns of welding: from the middle out, ahead and aft of it by turns, and above and below by turns."""
    middle = float(np.median([x for _, x, _ in spots]))
    ahead = sorted((s for s in spots if s[1] < middle), key=lambda s: (round(middle - s[1], 3), -s[2]))
    aft = sorted((s for s in spots if s[1] >= middle), key=lambda s: (round(s[1] - middle, 3), s[2]))
    found: list[str] = []
    for i in range(max(len(ahead), len(aft))):
        found += [s[i][0] for s in (aft, ahead) if i < len(s)]
    return {n: i for i, n in enumerate(found, 1)}


@dataclass(frozen=True)
class Stood:
    """A cross frame as it is held when both sides stand on the bench."""

    upper: str
    lower: str
    station: float = number("m", "aft of the datum")
    half_upper: float = number("m", "from the middle line to the upper node")
    half_lower: float = number("m", "and to the lower one")
    high_upper: float = number("m", "upper node over the bench")
    high_lower: float = number("m", "lower node over the bench")
    diagonal: float = number("m", "upper right to lower left, the same the other way")
    next_upper: float = number("m", "upper right to the next frame's upper left; NaN at the last")
    next_lower: float = number("m", "lower right to the next frame's lower left; NaN at the last")


def stood(model: Model, side: Side, clear: float) -> tuple[Stood, ...]:
    """Every cross frame over a bench that lies `clear`, m, below the lowest node of the side, thrust line level."""
    known = {n: np.array(p) for n, p in nodes(model.fuselage).items()}
    bench = min(known[s.node][2] for s in side.spots) - clear
    left = np.array([1.0, -1.0, 1.0])
    found = []
    for i, (u, v) in enumerate(side.uprights):
        p, q = known[u], known[v]
        after = side.uprights[i + 1] if i + 1 < len(side.uprights) else None
        across = [float(np.linalg.norm(a - left * known[b])) if b else np.nan
                  for a, b in zip((p, q), after or ("", ""), strict=True)]  # fmt: skip
        found.append(Stood(u, v, float((p[0] + q[0]) / 2), float(p[1]), float(q[1]), float(p[2] - bench),
                           float(q[2] - bench), float(np.linalg.norm(p - left * q)), *across))  # fmt: skip
    return tuple(found)
