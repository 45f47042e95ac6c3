"""The outside of what is not drawn as parts yet, as bodies: tail, body.

From the outlines of the family file, so that a picture shows the whole aeroplane. They weigh nothing and hold nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.family.model import Body, Model, TailSurface
from sparwright.parts.part import Part
from sparwright.parts.solids import solids
from sparwright.shape import section as sections
from sparwright.shape.solid import Solid, between, joined, through

ROUND = 96  # corners of an oval
BETWEEN = 10  # rings from one oval to the next
STEP = 10  # of the stored points of a section, one is kept


@dataclass(frozen=True)
class Shell:
    """One outline as a body."""

    name: str
    kind: str  # "fabric", "metal"
    solid: Solid


def shells(model: Model, parts: Sequence[Part]) -> tuple[Shell, ...]:
    """Tail and body of a model; without tail surfaces that are drawn as frames and what of the body is a cowling."""
    cowled = [float(s.box[1, 0]) for p in parts if p.purpose == "cowling" for s in solids(p)]
    return (
        *(() if model.tailplane.frame else (Shell("tailplane", "fabric", _tailplane(model)),)),
        *(() if model.fin.frame else (Shell("fin", "fabric", _fin(model)),)),
        Shell("body", "fabric", _body(model.fuselage.body, max(cowled, default=-np.inf))),
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


def _body(body: tuple[Body, ...], begins: float) -> Solid:
    """Ovals joined station by station, with more between them: a wide one turns into a narrow one over its length.

    begins: station, m, ahead of which there is none of it.
    """
    given = sorted(body, key=lambda b: b.station)
    part = np.linspace(0, len(given) - 1, BETWEEN * (len(given) - 1) + 1)
    first = np.interp(begins, [b.station for b in given], range(len(given)))
    part = np.append(first, part[part > first + 1e-9])
    columns = ([getattr(b, key) for b in given] for key in ("station", "width", "top", "bottom"))
    angle = 2 * np.pi * np.arange(ROUND) / ROUND
    rings = [
        np.column_stack([np.full(ROUND, x), wide / 2 * np.cos(angle), (top + low + (top - low) * np.sin(angle)) / 2])
        for x, wide, top, low in zip(*(np.interp(part, range(len(given)), c) for c in columns), strict=True)
    ]
    return through(rings)
