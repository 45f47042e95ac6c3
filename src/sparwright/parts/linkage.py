"""Levers, rods and cables as a mechanism: where everything stands when one lever is held at an angle.

A rod keeps its length, a cable its length over pulleys and through rings; both are found with every lever turned about
its own line. With as many links as free levers each angle follows. One link more is a closed loop of cable: then all
cables of the run are longer by one strain e, which nothing but their stretch can take up,

    rod     |p - q| = L
    cable   l = L (1 + e)

found by Newton's method from the stance before. Neither friction nor the frame's give is in it. Equal strain stands for
equal tension: a pulley without friction, and levers whose two arms are alike.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from sparwright.base.record import number
from sparwright.family.controls import ControlCable
from sparwright.parts.control_runs import Layout, Lever, Link

STEP = 1e-5  # rad, step of a derivative
EXACT = 1e-12  # m
ROUNDS = 30
PACE = math.radians(2)  # from one stance to the next
LOCKED = "it locks"


class Locks(ValueError):
    """The run cannot stand so: a lever would have to pass its dead centre, or a cable would run into a pulley."""


@dataclass(frozen=True)
class Run:
    """What moves with one control: its levers, and the links between them."""

    levers: Mapping[str, Lever]
    links: tuple[Link, ...]
    lengths: tuple[float, ...] = number("m", "of each link: what a rod keeps, and a cable but for its stretch")

    def __post_init__(self) -> None:
        """Locks the levers."""
        object.__setattr__(self, "levers", MappingProxyType(dict(self.levers)))

    @property
    def links_by_key(self) -> Mapping[str, Link]:
        """Its links by their keys."""
        return {link.key: link for link in self.links}

    @property
    def loop(self) -> bool:
        """Whether its cables are a closed loop: one link more than free levers."""
        return len(self.links) == len(self.levers)


@dataclass(frozen=True)
class Stance:
    """Where the levers of a run stand."""

    angles: Mapping[str, float] = number("rad", "of each lever, nought in neutral")
    strain: float = number("1", "of its cables, over that in neutral; nought without a closed loop", 0.0)

    def __post_init__(self) -> None:
        """Locks the angles."""
        object.__setattr__(self, "angles", MappingProxyType(dict(self.angles)))


def run_of(layout: Layout, lever: str) -> Run:
    """Everything that is joined to a lever by links, one to another.

    ValueError where links and levers do not make one mechanism: a lever that nothing holds, or one held twice.
    """
    known, links = {lever}, []
    while len(more := [k for k in layout.links if k not in links and known & set(k.levers)]):
        links += more
        known |= {n for k in more for n in k.levers}
    free = len(known) - 1
    cables = any(isinstance(k.made, ControlCable) for k in links)
    if not links or len(links) < free or len(links) > free + cables:
        count = f"{len(links)} rods and cables hold {free} levers"
        raise ValueError(f"{count}: one for each is wanted, or one cable more where a loop is closed")
    lengths = tuple(k.length(k.ends) for k in links)
    return Run({k: v for k, v in layout.levers.items() if k in known}, tuple(links), lengths)


def ends(run: Run, link: Link, angles: Mapping[str, float]) -> np.ndarray:
    """(2, 3) the ends of a link with its levers at their angles, m."""
    return np.array([run.levers[n].turned(p, angles[n]) for n, p in zip(link.levers, link.ends, strict=True)])


def stand(run: Run, lever: str, angle: float, near: Stance | None = None) -> Stance:
    """Where the run stands with one lever held at an angle, rad; `near`: a stance close to it, neutral without.

    Raises Locks where there is no such stance.
    """
    names = [n for n in run.levers if n != lever]
    start = near or Stance(dict.fromkeys(run.levers, 0.0))
    x = np.array([*(start.angles[n] for n in names), *([start.strain] if run.loop else [])])
    try:
        for _ in range(ROUNDS):
            at = Stance(_angles(names, lever, angle, x), float(x[-1]) if run.loop else 0.0)
            now, slopes = _off(run, at, names)
            if np.abs(now).max() < EXACT:
                return at
            step = np.linalg.solve(slopes, now)
            if not np.abs(step).max() < 1.0:
                break
            x = x - step
    except (ValueError, np.linalg.LinAlgError):
        pass
    raise Locks(f"{LOCKED} with {lever} at {math.degrees(angle):.0f} deg")


def _angles(names: Sequence[str], lever: str, angle: float, values: np.ndarray) -> dict[str, float]:
    return {lever: angle, **{n: float(v) for n, v in zip(names, values[: len(names)], strict=True)}}


def _off(run: Run, at: Stance, names: Sequence[str]) -> tuple[np.ndarray, np.ndarray]:
    """((k,) by how much each link is longer than it is, m; (k, n) how fast that grows with levers and strain).

    A link grows by its end's way along its straight part there: for a cable that comes askew to a pulley that is short
    by 1 - cos of the angle, which costs a round more and moves no stance.
    """
    off, slopes = np.empty(len(run.links)), np.zeros((len(run.links), len(names) + run.loop))
    for i, (link, wanted) in enumerate(zip(run.links, run.lengths, strict=True)):
        points = ends(run, link, at.angles)
        cable = isinstance(link.made, ControlCable)
        long, *pulls = link.grown(points)
        off[i] = long - wanted * (1 + at.strain * cable)
        for name, point, pull in zip(link.levers, points, pulls, strict=True):
            if name in names:
                slopes[i, names.index(name)] += float(run.levers[name].speed(point) @ pull)
        if run.loop:
            slopes[i, -1] = -wanted * cable
    return off, slopes


def swing(run: Run, lever: str, to: float, count: int = 0) -> tuple[Stance, ...]:
    """Stances from neutral to an angle of one lever, evenly, `count` or steps of PACE; fewer where it locks."""
    steps = count or max(1, math.ceil(abs(to) / PACE))
    found = [Stance(dict.fromkeys(run.levers, 0.0))]
    for i in range(1, steps + 1):
        try:
            found.append(stand(run, lever, to * i / steps, found[-1]))
        except Locks:
            break
    return tuple(found)


def slope(run: Run, lever: str, at: Stance, other: str) -> float:
    """How fast another lever turns for one, rad/rad, at a stance; ZeroDivisionError at a dead centre.

    By the lengths of all links, which stay: sum of dl/d(angle) d(angle) = dl/d(strain) d(strain).
    """
    if other == lever:
        return 1.0
    names, slopes, own = slopes_of(run, lever, at)
    try:
        return float(np.linalg.solve(slopes, -own)[names.index(other)])
    except np.linalg.LinAlgError as fault:
        raise Locks(f"{LOCKED} with {lever} at {math.degrees(at.angles[lever]):.0f} deg") from fault


def slopes_of(run: Run, lever: str, at: Stance) -> tuple[list[str], np.ndarray, np.ndarray]:
    """How fast links grow at a stance: (k other levers, (l, k) m/rad with their angles, (l,) with the held one's).

    With a closed loop of cable one column more, m: each cable's wanted length with the strain, which takes it off.
    """
    names = [n for n in run.levers if n != lever]
    slopes, own = np.zeros((len(run.links), len(names) + run.loop)), np.zeros(len(run.links))
    for i, (link, length) in enumerate(zip(run.links, run.lengths, strict=True)):
        for name, grows in zip(link.levers, growth(run, link, at), strict=True):
            if name == lever:
                own[i] += grows
            else:
                slopes[i, names.index(name)] += grows
        if run.loop and isinstance(link.made, ControlCable):
            slopes[i, -1] = -length
    return names, slopes, own


def growth(run: Run, link: Link, at: Stance) -> tuple[float, float]:
    """How fast a link would grow with the angle of each of its two levers, m/rad, at a stance."""
    found = []
    for near in link.levers:
        both = (link.length(ends(run, link, {**at.angles, near: at.angles[near] + d})) for d in (STEP, -STEP))
        found.append(next(both) - next(both))
    return found[0] / (2 * STEP), found[1] / (2 * STEP)
