"""Openings for cables and rods in the plate ribs they go through.

A rib stands square to the span, so a cable or rod meets its plane where it crosses the rib's buttline. It moves there
as the control goes through its travel; the hole is round, of the size the file says, about the middle of where it has
been. The right wing's is the left one's mirror. Built-up ribs are not cut: between their strips there is room or there
is none, which is measured. Source: geometry, worked out here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from shapely import Point, Polygon

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.family.controls import Fairlead
from sparwright.family.model import Model, Wing
from sparwright.parts.control_runs import Layout, Link, aileron_key, layout
from sparwright.parts.linkage import Run, Stance, ends, run_of, swing
from sparwright.parts.ribs import Opening, RibGroup, RibPlace, trussed

STEPS = 4  # stances each way
SAME = 1e-3  # m between a fairlead's middle and the rib it stands in


@dataclass(frozen=True)
class Passing:
    """A cable or rod that has openings in ribs or fairleads bonded in them, and where it lies through its travel."""

    link: Link
    rings: tuple[Fairlead, ...] = ()  # its fairleads in ribs
    lines: tuple[np.ndarray, ...] = number("m", "(k, 3) its way at each stance", ())


def passings(model: Model) -> tuple[Passing, ...]:
    """What goes through plate ribs by an opening, right or across. DesignProblem where it is no mechanism."""
    c = model.controls
    if c is None:
        return ()
    rings: Mapping[str, Fairlead] = {f.name: f for f in c.fairleads if f.strip is None}
    if not rings and not any(k.opening for k in c.rods) and not any(k.opening for k in c.cables):
        return ()
    runs, found = layout(model, c), []
    for link in (k for k in runs.links if k.hand != "L"):
        mine = tuple(rings[n] for n in dict.fromkeys(link.names) if n in rings)
        if link.made.opening or mine:
            run = _run(model, runs, link)
            lines = tuple(link.way(ends(run, link, s.angles)).line for s in _stances(model, run))
            found.append(Passing(link, mine, lines))
    return tuple(found)


def _run(model: Model, runs: Layout, link: Link) -> Run:
    try:
        return run_of(runs, link.levers[0])
    except ValueError as fault:
        raise DesignProblem(f"{model.name}: controls at {link.levers[0]}: {fault}") from fault


def _stances(model: Model, run: Run) -> tuple[Stance, ...]:
    """Neutral, and every surface of a run to both ends of its travel."""
    travels = [("elevator", model.tailplane.up, model.tailplane.down), ("rudder", model.fin.up, model.fin.down)]
    travels += [(aileron_key(w.name, "R"), w.aileron.up, w.aileron.down) for w in model.wings if w.aileron]
    moved = [(k, to) for k, up, down in travels if k in run.levers for to in (up, -down)]
    return (Stance(dict.fromkeys(run.levers, 0.0)), *(s for k, to in moved for s in swing(run, k, to, STEPS)[1:]))


def opened(wing: Wing, groups: Sequence[RibGroup], found: Sequence[Passing]) -> tuple[RibGroup, ...]:
    """The ribs of the right wing with the openings they want; shapes that become unlike are parted."""
    if not found:
        return tuple(groups)
    return tuple(g for group in groups for g in _parted(wing, group, found))


def _parted(wing: Wing, group: RibGroup, found: Sequence[Passing]) -> Iterator[RibGroup]:
    if trussed(wing, group):
        yield group
        return
    shapes: dict[tuple[Opening, ...], list[RibPlace]] = {}
    for place in group:
        holes = tuple(h for p in found if (h := opening_at(place, p)) is not None)
        near = next((k for k in shapes if _alike(k, holes)), holes)
        shapes.setdefault(near, []).append(replace(place, openings=near))
    yield from (tuple(places) for places in shapes.values())


def _alike(a: Sequence[Opening], b: Sequence[Opening]) -> bool:
    return [(o.name, o.diameter) for o in a] == [(o.name, o.diameter) for o in b] and bool(
        np.allclose([o.at for o in a], [o.at for o in b], rtol=0, atol=1e-5) if a else True
    )


def opening_at(place: RibPlace, passing: Passing) -> Opening | None:
    """The opening of a cable or rod in a rib's axes; None where it does not go through, or through a hole it has.

    Round a fairlead in the rib it has the fairlead's outside diameter.
    """
    ring = next((r for r in passing.rings if abs(r.place[1] - place.where.buttline) < SAME), None)
    name, size = (ring.name, ring.outside) if ring else (passing.link.name, passing.link.made.opening)
    points = [q for line in passing.lines for q in crossings(line, place.where.buttline)]
    points = [np.array(ring.place)] if ring else points
    if not points or not size:
        return None
    flat = _in_rib(place, np.array(points))
    x, y = (flat.max(axis=0) + flat.min(axis=0)) / 2
    hole = Point(x, y).buffer(size / 2)
    through = Polygon(place.piece.outline).contains(Point(x, y))
    free = any(Polygon(h).contains(hole) for h in place.piece.holes)
    return Opening(name, size, (float(x), float(y))) if through and not free else None


def _in_rib(place: RibPlace, points: np.ndarray) -> np.ndarray:
    """Points (n, 3) in a rib's own axes, (n, 2)."""
    c, s = float(np.cos(place.station.angle)), float(np.sin(place.station.angle))
    return np.asarray((points - np.array(place.station.leading_edge)) @ np.array([[c, 0.0, -s], [s, 0.0, c]]).T)


def crossings(line: np.ndarray, buttline: float) -> Iterator[np.ndarray]:
    """(3,) where a line (k, 3) goes through the plane at a buttline."""
    for a, b in zip(line, line[1:], strict=False):
        if (a[1] - buttline) * (b[1] - buttline) <= 0 and a[1] != b[1]:
            yield a + (buttline - a[1]) / (b[1] - a[1]) * (b - a)
