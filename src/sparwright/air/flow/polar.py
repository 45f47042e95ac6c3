"""The polar of a section: what it does at each angle, worked out one angle from the next.

    ready = prepared(section)                     panels, once
    polar(ready, reynolds, rough=...)             33 angles

An angle that does not settle is NaN, with the change that was left in it; nothing is put in its place.

Range: Reynolds number 50 thousand to 9 million, angles -12 to 20 degrees, low Mach number, tails up to 1.5 % thick.
Past greatest lift the layers are followed as if the flow stayed steady and two-dimensional; that is an indication.
Drag from the wake's end: cd = 2 theta U^((5 + H)/2) (squire-young-1938). Symbols as in closure.py.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from sparwright.air.flow.closure import WAKE
from sparwright.air.flow.contour import PANELS, contour, wake_steps
from sparwright.air.flow.potential import Flow, Potential, potential, with_wake
from sparwright.air.flow.settle import BOLD, BOLD_IN_TIME, IN_TIME, PATIENT, PLAIN, friction, solve
from sparwright.air.flow.stations import Layers, Setting, chain_of
from sparwright.base.record import locked, number
from sparwright.family.model import Section

REYNOLDS = (5e4, 9e6)
ANGLES = tuple(math.radians(a) for a in range(-12, 21))
ENOUGH = 1e-4  # greatest relative change in the last sweep
MOST = 120  # sweeps
WAVES = 9.0  # n at which a quiet stream turns turbulent: flight and low-turbulence tunnels, drela-giles-1987
WAYS = (  # tried in turn: walk down first, way, most sweeps
    (False, PLAIN, 30), (False, BOLD, 30), (True, PLAIN, 30), (False, IN_TIME, 100), (False, BOLD_IN_TIME, 100),
    (True, BOLD_IN_TIME, 100), (False, PATIENT, 120),
)  # fmt: skip
LAST = 0.97  # chords: a layer still laminar there is taken to turn; laminar up to a sharp tail has no steady answer
LOWER = (0.6, 0.3)  # parts of the Reynolds number by way of which an angle is tried
FLAP_STEP = math.radians(2.5)  # a flap is turned in steps no longer than this
FINEST = math.radians(0.4)  # an angle is reached by halves no shorter than this


@dataclass(frozen=True)
class Surface:
    """How smooth a section is: where its layers turn turbulent."""

    name: str
    waves: float = number("1", "exponent of wave growth at which the flow turns turbulent by itself", WAVES)
    upper: float = number("1", "trip on the upper side, chords from the nose; at most LAST", 0.97)
    lower: float = number("1", "trip on the lower side, chords; at most LAST", 0.97)


SMOOTH = Surface("smooth")


@dataclass(frozen=True)
class Ready:
    """A section's panels, with what is the same at every angle."""

    section: Section
    outer: Potential
    steps: np.ndarray  # (w,) lengths of the wake's panels
    apart: np.ndarray  # (n + 1,) from middle to middle
    away: np.ndarray  # (w + 1,)
    hinge: float = number("1", "hinge of a plain flap, chords; 1 for none", 1.0)
    deflection: float = number("rad", "its angle, trailing edge down", 0.0)


@dataclass(frozen=True)
class Point:
    """The flow at one angle."""

    alpha: float = number("rad", "angle of the chord to the stream")
    lift: float = number("1", "section lift coefficient")
    drag: float = number("1", "section drag coefficient")
    moment: float = number("1", "moment coefficient about the quarter chord, nose up")
    hinge_moment: float = number("1", "flap's moment on its own chord squared, trailing edge down", math.nan)
    turns: tuple[float, float] = (math.nan, math.nan)  # chords: upper, lower
    parts: tuple[float, float] = (math.nan, math.nan)  # chords: where it separates for good; 1 when it does not
    left: float = number("1", "greatest relative change in the last sweep", math.inf)
    settled: bool = False
    x: np.ndarray = field(default_factory=lambda: np.zeros(0))  # (n,) middles, chords
    pressure: np.ndarray = field(default_factory=lambda: np.zeros(0))  # (n,) coefficient


@dataclass(frozen=True)
class Polar:
    """A section at one Reynolds number and surface: arrays over k angles, NaN where the flow did not settle."""

    reynolds: float = number("1", "on the chord")
    surface: Surface = SMOOTH
    points: tuple[Point, ...] = ()

    def column(self, name: str) -> np.ndarray:
        """(k,) one number of every point."""
        values = [getattr(p, name) if p.settled or name in ("alpha", "left") else math.nan for p in self.points]
        return locked(np.array(values, dtype=float))

    @property
    def settled(self) -> float:
        """Part of the angles that settled."""
        return sum(p.settled for p in self.points) / len(self.points)


@dataclass(frozen=True)
class _Start:
    """The layers at one angle: what the next one starts from."""

    alpha: float
    layers: Layers
    k: int  # the last station of the upper layer, next to the stagnation point


@dataclass(frozen=True)
class _Run:
    """One polar being worked out: what is asked, the best point so far at each angle, and the starts that settled."""

    ready: Ready
    reynolds: float
    surface: Surface
    points: dict[float, Point]
    starts: dict[float, _Start]


def prepared(section: Section, *, panels: int = PANELS, hinge: float = 1.0, deflection: float = 0.0) -> Ready:
    """A section's panels and wake spacing. ValueError for a tail too thick (contour.contour)."""
    outer = potential(contour(section, panels, hinge, deflection))
    length = outer.length
    n, last = len(length), (length[0] + length[-1]) / 2
    steps = wake_steps(last)
    apart, away = np.zeros(n + 1), np.zeros(len(steps) + 1)
    apart[1:n] = (length[1:] + length[:-1]) / 2
    away[0], away[1:-1] = (last + steps[0]) / 2, (steps[1:] + steps[:-1]) / 2
    return Ready(section, outer, steps, apart, away, hinge, deflection)


def polar(ready: Ready, reynolds: float, surface: Surface = SMOOTH, angles: Sequence[float] = ANGLES) -> Polar:
    """The section at each of the angles (rad, rising). ValueError for a Reynolds number outside the range."""
    if not REYNOLDS[0] <= reynolds <= REYNOLDS[1]:
        raise ValueError(f"section flow is good from Reynolds number {REYNOLDS[0]:,.0f} to {REYNOLDS[1]:,.0f}")
    run = _Run(ready, reynolds, surface, {}, {})
    first = min(angles, key=lambda a: abs(a - math.radians(2)))
    start = _turned(run, first)
    up, down = [a for a in angles if a >= first], [a for a in reversed(angles) if a < first]
    _along(run, up, start)
    _along(run, down, run.starts.get(first, start))
    for before, a in zip(angles[:0:-1], angles[-2::-1], strict=True):  # from the other side
        if a not in run.starts and before in run.starts:
            _reach(run, a, run.starts[before])
    return Polar(reynolds, surface, tuple(run.points[a] for a in angles))


def _along(run: _Run, angles: Sequence[float], start: _Start | None) -> None:
    """Each angle from the last one that settled."""
    for a in angles:
        start = _reach(run, a, start) or start


def _turned(run: _Run, alpha: float) -> _Start | None:
    """The layers of the same section with its flap less turned, reached in steps; None where no step is needed."""
    ready = run.ready
    steps = math.ceil(abs(ready.deflection) / FLAP_STEP) if ready.hinge < 1 else 0
    start = None
    for i in range(steps):
        turn = ready.deflection * i / steps
        part = prepared(ready.section, panels=ready.outer.panels, hinge=ready.hinge, deflection=turn)
        start = _reach(replace(run, ready=part, points={}, starts={}), alpha, start) or start
    return start


def _reach(run: _Run, alpha: float, start: _Start | None) -> _Start | None:
    """Settle one angle from a neighbour's layers; if that is too far, by way of lower Reynolds numbers or by halves."""
    found = _settled(run, alpha, start)
    if found is not None or start is None:
        return found
    for part in LOWER:
        low = replace(run, reynolds=run.reynolds * part, points={}, starts={})
        if low.reynolds >= REYNOLDS[0] and (there := _settled(low, start.alpha, start)) is not None:
            turned = _settled(low, alpha, there)
            if turned is not None and (found := _settled(run, alpha, turned)) is not None:
                return found
    if abs(alpha - start.alpha) > 2 * FINEST:
        nearer = _settled(replace(run, points={}, starts={}), (alpha + start.alpha) / 2, start)
        if nearer is not None:
            return _settled(run, alpha, nearer)
    return None


def _settled(run: _Run, alpha: float, start: _Start | None) -> _Start | None:
    """One angle from a neighbour's layers in each of the ways, until one settles; None when none does."""
    flow = with_wake(run.ready.outer, alpha, run.ready.steps)
    for walk, way, most in WAYS if start else [w for w in WAYS if w[0]]:
        point, state = _at(run, flow, start, walk, way, min(most, MOST))
        if alpha not in run.points or point.left < run.points[alpha].left:
            run.points[alpha] = point
        if point.settled:
            run.points[alpha], run.starts[alpha] = point, state
            return state
    return None


def _at(run: _Run, flow: Flow, start: _Start | None, walk: bool, way: int, most: int) -> tuple[Point, _Start]:
    """One angle from a neighbour's layers (None: from none)."""
    ready, size = run.ready, len(flow.base)
    x = np.concatenate([ready.outer.middle.real, ((flow.wake[1:] + flow.wake[:-1]) / 2).real])
    trips = np.minimum([run.surface.upper, run.surface.lower], LAST)
    setting = Setting(
        ready.outer.panels, x, ready.apart, ready.away, flow.base, flow.source, run.reynolds, run.surface.waves, trips
    )
    layers = Layers(*(a.copy() for a in start.layers)) if start else _no_layers(size, ready.outer.panels)
    k = start.k if start else 0
    k, _, left, _, places = solve(layers, k, setting, start is None, walk, way, most, ENOUGH)
    return _point(run, flow.alpha, layers, k, x, places, float(left)), _Start(flow.alpha, layers, k)


def _no_layers(size: int, panels: int) -> Layers:
    kinds = np.zeros(size, np.int64)
    kinds[panels:] = WAKE
    return Layers(np.zeros((size, 4)), np.zeros(size), kinds)


def _point(run: _Run, alpha: float, layers: Layers, k: int, x: np.ndarray, places: np.ndarray, left: float) -> Point:
    outer = run.ready.outer
    n = outer.panels
    pressure = 1 - layers.state[:n, 3] ** 2
    push = 1j * pressure * np.diff(outer.nodes)
    lift = float((push.sum() * np.exp(-1j * alpha)).imag)
    theta, star, _, speed = layers.state[-1]
    drag = float(2 * theta * speed ** ((5 + star / theta) / 2))
    up, low = chain_of(0, k, n), chain_of(1, k, n)
    rubbed = friction(layers, run.reynolds)
    return Point(
        alpha=alpha, lift=lift, drag=drag, moment=_moment(outer.middle, push, 0.25),
        hinge_moment=_hinge(run.ready, push), turns=(_turning(x[up], places[0]), _turning(x[low], places[1])),
        parts=(_parting(rubbed[up], x[up]), _parting(rubbed[low], x[low])), left=left,
        settled=left < ENOUGH and 0 < drag and math.isfinite(lift), x=locked(x[:n].copy()), pressure=locked(pressure),
    )  # fmt: skip


def _moment(at: np.ndarray, push: np.ndarray, about: float) -> float:
    """Moment of pressures about a point of the chord, nose up positive."""
    return -float(np.sum(((at - about).conj() * push).imag))


def _turning(x: np.ndarray, first: int) -> float:
    return float(x[first]) if first < len(x) else 1.0


def _parting(friction: np.ndarray, x: np.ndarray) -> float:
    """Where friction turns back and stays so up to the tail; 1 when the flow keeps to the surface."""
    forward = np.flatnonzero(friction > 0)
    last = int(forward[-1]) if len(forward) else 0
    return float(x[last]) if last < len(x) - 1 else 1.0


def _hinge(ready: Ready, push: np.ndarray) -> float:
    """Moment of the pressure behind the hinge about it, trailing edge down positive, on the flap's chord squared."""
    if ready.hinge >= 1:
        return math.nan
    behind = ready.outer.middle.real > ready.hinge
    return _moment(ready.outer.middle[behind], push[behind], ready.hinge) / (1 - ready.hinge) ** 2
