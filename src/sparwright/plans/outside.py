"""The aeroplane's outside as things to be seen: wings, tail, body, wheels, propeller, struts and wires."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from sparwright.family.model import Model, Place, TailSurface, Wing
from sparwright.plans.views import TOP, Thing
from sparwright.shape.frame import ON_CENTRE, end_place, mirrored, nodes, stretches, within_body
from sparwright.shape.lifting import Station, cut

ROUND = 48  # sides of a circle
STEP = 12  # points of a section kept for a view


def outside(model: Model) -> tuple[Thing, ...]:
    """Everything that is seen from outside."""
    return (
        *(t for w in model.wings for t in _wing(model, w)),
        *_tailplane(model.tailplane),
        *_fin(model.fin),
        *_body(model),
        *_wheels(model),
        *_propeller(model),
        *_sticks(model),
    )


def both(line: np.ndarray) -> Iterator[np.ndarray]:
    """A line and its mirror on the left."""
    yield line
    yield line * np.array([[1.0], [-1.0], [1.0]])


def _rim(station: Station) -> np.ndarray:
    """(3, n) the section's outline in space."""
    assert station.points is not None
    p = station.points[:, ::STEP] * station.chord
    return np.array([station.place(float(x), float(y)) for x, y in p.T]).T


def _wing(model: Model, wing: Wing) -> Iterator[Thing]:
    """Plan, profile and front of each panel; the aileron's edges as lines on the outermost, seen from above."""
    ends = [wing.panels[0].root_buttline, *(p.tip_buttline for p in wing.panels)]
    cuts = [cut(wing, model.sections, y) for y in ends]
    edges = [both(_aileron(model, wing))] if wing.aileron else []
    for a, b in pairwise(cuts):
        for rims in zip(both(_rim(a)), both(_rim(b)), strict=True):
            lines = tuple(next(e) for e in edges) if b is cuts[-1] else ()
            yield Thing(faces=tuple(_skin(*rims)), lines=lines, only=TOP.name)


def _skin(a: np.ndarray, b: np.ndarray) -> Iterator[np.ndarray]:
    """Faces between two section rims: both ends, and the ring of quads between them as plan and front shadows."""
    yield a
    yield b
    lead, trail = int(np.argmin(a[0])), 0
    top, low = int(np.argmax(a[2])), int(np.argmin(a[2]))
    for i, j in ((lead, trail), (top, low)):
        yield np.array([a[:, i], b[:, i], b[:, j], a[:, j]]).T


def _aileron(model: Model, wing: Wing) -> np.ndarray:
    """(3, 4) trailing edge, in along the inner end, out along the hinge, back."""
    assert wing.aileron is not None
    points = []
    for y, x in ((wing.aileron.inboard, 1.0), (wing.aileron.inboard, wing.aileron.hinge),
                 (wing.aileron.outboard, wing.aileron.hinge), (wing.aileron.outboard, 1.0)):  # fmt: skip
        station = cut(wing, model.sections, y)
        points.append(station.place(x * station.chord, 0.0))
    return np.array(points).T


def _tailplane(tail: TailSurface) -> Iterator[Thing]:
    x, _, z = tail.leading_edge
    half = tail.span / 2
    sweep = half * np.tan(tail.sweep)
    for side in (1.0, -1.0):
        plan = np.array(
            [[x, x + sweep, x + sweep + tail.tip_chord, x + tail.root_chord], [0, side * half, side * half, 0], [z] * 4]
        )
        hinge = np.array(
            [[x + tail.hinge * tail.root_chord, x + sweep + tail.hinge * tail.tip_chord], [0, side * half], [z, z]]
        )
        yield Thing(faces=(plan,), lines=(hinge,))


def _fin(fin: TailSurface) -> Iterator[Thing]:
    x, y, z = fin.leading_edge
    sweep = fin.span * np.tan(fin.sweep)
    side = np.array(
        [[x, x + sweep, x + sweep + fin.tip_chord, x + fin.root_chord], [y] * 4, [z, z + fin.span, z + fin.span, z]]
    )
    hinge = np.array(
        [[x + fin.hinge * fin.root_chord, x + sweep + fin.hinge * fin.tip_chord], [y, y], [z, z + fin.span]]
    )
    yield Thing(faces=(side,), lines=(hinge,))


def _body(model: Model) -> Iterator[Thing]:
    """Top and side outlines and the ovals, as one thing."""
    body = sorted(model.fuselage.body, key=lambda b: b.station)
    x = np.array([b.station for b in body])
    half = np.array([b.width / 2 for b in body])
    top, low = np.array([b.top for b in body]), np.array([b.bottom for b in body])
    middle = (top + low) / 2
    around = np.linspace(0, 2 * np.pi, ROUND, endpoint=False)
    faces = [
        np.array([np.r_[x, x[::-1]], np.r_[half, -half[::-1]], np.r_[middle, middle[::-1]]]),
        np.array([np.r_[x, x[::-1]], np.zeros(2 * x.size), np.r_[top, low[::-1]]]),
    ]
    for b in body:
        rise = (b.top + b.bottom) / 2 + (b.top - b.bottom) / 2 * np.sin(around)
        faces.append(np.array([np.full(ROUND, b.station), b.width / 2 * np.cos(around), rise]))
    yield Thing(faces=tuple(faces))


def _wheels(model: Model) -> Iterator[Thing]:
    around = np.linspace(0, 2 * np.pi, ROUND, endpoint=False)
    for wheel in model.wheels:
        places = (wheel.place,) if abs(wheel.place[1]) < ON_CENTRE else (wheel.place, mirrored(wheel.place))
        for x, y, z in places:
            r, w = wheel.diameter / 2, wheel.width / 2
            disc = np.array([x + r * np.cos(around), np.full(ROUND, y), z + r * np.sin(around)])
            flat = np.array([[x - r, x + r, x + r, x - r], [y - w, y - w, y + w, y + w], [z] * 4])
            up = np.array([[x] * 4, [y - w, y + w, y + w, y - w], [z - r, z - r, z + r, z + r]])
            yield Thing(faces=(disc, flat, up))


def _propeller(model: Model) -> Iterator[Thing]:
    around = np.linspace(0, 2 * np.pi, ROUND + 1)
    x, y, z = model.propeller.place
    r = model.propeller.diameter / 2
    yield Thing(lines=(np.array([np.full(ROUND + 1, x), y + r * np.cos(around), z + r * np.sin(around)]),), dashed=True)


def _sticks(model: Model) -> Iterator[Thing]:
    """Struts, wires, and the tubes of the frame that run out of the body."""
    for strut in model.struts:
        yield from _stick(
            end_place(model, strut.ends[0]), end_place(model, strut.ends[1]), strut.faired_width or strut.tube.outside
        )
    for wire in model.wires:
        yield from _stick(end_place(model, wire.ends[0]), end_place(model, wire.ends[1]), 0.0)
    known = nodes(model.fuselage)
    for s in stretches(model.fuselage):
        a, b = known[s.start], known[s.end]
        if not all(within_body(model.fuselage.body, end) for end in (a, b)):
            yield Thing(lines=(np.array([a, b]).T,), width=s.tube.outside)


def _stick(a: Place, b: Place, width: float) -> Iterator[Thing]:
    right = np.array([a, b]).T
    yield from (
        Thing(lines=(line,), width=width)
        for line in (both(right) if max(abs(a[1]), abs(b[1])) > ON_CENTRE else [right])
    )


def extent(things: tuple[Thing, ...]) -> tuple[np.ndarray, np.ndarray]:
    """Least and greatest of station, buttline and waterline over all faces and lines, m."""
    every = np.concatenate([p for t in things for p in (*t.faces, *t.lines)], axis=1)
    return every.min(axis=1), every.max(axis=1)
