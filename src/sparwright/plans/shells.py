"""The outside of what is not drawn as parts yet, as bodies: tail, body, wheels, propeller.

From the outlines of the family file, so that a picture shows the whole aeroplane. They weigh nothing and hold nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.family.model import Body, Model, Propeller, TailSurface
from sparwright.power.propeller import standard_blade
from sparwright.shape import section as sections
from sparwright.shape.frame import ON_CENTRE, mirrored
from sparwright.shape.solid import Solid, between, cylinder, joined, through

ROUND = 96  # corners of an oval
BETWEEN = 10  # rings from one oval to the next
STEP = 10  # of the stored points of a section, one is kept
BLADE = 0.12  # thickness of a blade in chords; only for the picture
HUB = 0.08  # of the propeller's radius; only for the picture


@dataclass(frozen=True)
class Shell:
    """One outline as a body."""

    name: str
    kind: str  # "fabric", "metal", "wood", "rubber"
    solid: Solid


def shells(model: Model) -> tuple[Shell, ...]:
    """Tail, body, wheels and propeller of a model; without tail surfaces that are drawn as frames."""
    return (
        *(() if model.tailplane.frame else (Shell("tailplane", "fabric", _tailplane(model)),)),
        *(() if model.fin.frame else (Shell("fin", "fabric", _fin(model)),)),
        Shell("body", "fabric", _body(model.fuselage.body)),
        *(Shell(f"{w.name} wheel", "rubber", _wheel(w.place, w.diameter, w.width)) for w in model.wheels),
        Shell("propeller", "wood", _propeller(model.propeller)),
    )


def _profile(model: Model, tail: TailSurface) -> np.ndarray:
    """(2, n) the surface's section, a closed ring in chords."""
    ring = sections.curve(model.sections[tail.section])[:, ::STEP]
    return ring[:, :-1] if np.allclose(ring[:, 0], ring[:, -1]) else ring


def _tailplane(model: Model) -> Solid:
    tail = model.tailplane
    c, s = np.cos(tail.incidence), np.sin(tail.incidence)
    x, y = _profile(model, tail)
    half, back = tail.span / 2, tail.span / 2 * np.tan(tail.sweep)
    along, up = x * c + y * s, y * c - x * s
    rings = [
        np.array(tail.leading_edge) + np.column_stack([out[1] + chord * along, np.full(x.size, out[0]), chord * up])
        for chord, out in ((tail.root_chord, (0.0, 0.0)), (tail.tip_chord, (half, back)))
    ]
    right = between(rings[0], rings[1])
    return joined([right, right.mirrored()])


def _fin(model: Model) -> Solid:
    fin = model.fin
    x, y = _profile(model, fin)
    back = fin.span * np.tan(fin.sweep)
    rings = [
        np.array(fin.leading_edge) + np.column_stack([aft + chord * x, chord * y, np.full(x.size, up)])
        for chord, aft, up in ((fin.root_chord, 0.0, 0.0), (fin.tip_chord, back, fin.span))
    ]
    return between(rings[0], rings[1])


def _body(body: tuple[Body, ...]) -> Solid:
    """Ovals joined station by station, with more between them: a wide one turns into a narrow one over its length."""
    given = sorted(body, key=lambda b: b.station)
    part = np.linspace(0, len(given) - 1, BETWEEN * (len(given) - 1) + 1)
    columns = ([getattr(b, key) for b in given] for key in ("station", "width", "top", "bottom"))
    angle = 2 * np.pi * np.arange(ROUND) / ROUND
    rings = [
        np.column_stack([np.full(ROUND, x), wide / 2 * np.cos(angle), (top + low + (top - low) * np.sin(angle)) / 2])
        for x, wide, top, low in zip(*(np.interp(part, range(len(given)), c) for c in columns), strict=True)
    ]
    return through(rings)


def _wheel(place: tuple[float, float, float], diameter: float, width: float) -> Solid:
    at = (place,) if abs(place[1]) < ON_CENTRE else (place, mirrored(place))
    return joined([cylinder(p, (0.0, 1.0, 0.0), diameter / 2, width) for p in at])


def _propeller(propeller: Propeller) -> Solid:
    """The standard blade's chord and angle, the first blade upright, and a hub."""
    radius = propeller.diameter / 2
    hub = cylinder(propeller.place, (1.0, 0.0, 0.0), HUB * radius, 2 * HUB * radius)
    turns = 2 * np.pi * np.arange(propeller.blades) / propeller.blades
    return joined([hub, *(_blade(propeller, float(turn)) for turn in turns)])


def _blade(propeller: Propeller, turn: float) -> Solid:
    """From the hub out: at the hub the blade's first chord and angle."""
    blade = standard_blade(propeller)
    rings = []
    chords, angles = ((v[0], *v) for v in (blade.chord, blade.angle))
    for r, chord, angle in zip((HUB * propeller.diameter / 2, *blade.r), chords, angles, strict=True):
        across, thick = chord / 2, BLADE * chord / 2
        flat = np.array([[-across, -thick], [across, -thick], [across, thick], [-across, thick]])
        aft = flat[:, 0] * np.sin(angle) + flat[:, 1] * np.cos(angle)
        side = flat[:, 0] * np.cos(angle) - flat[:, 1] * np.sin(angle)
        y, z = side * np.cos(turn) + r * np.sin(turn), -side * np.sin(turn) + r * np.cos(turn)
        rings.append(np.array(propeller.place) + np.column_stack([aft, y, z]))
    return through(rings)
