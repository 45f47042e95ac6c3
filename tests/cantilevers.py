"""A uniform cantilever wing as a frame with strips and lumps: root at y = 0, elastic axis on x = 0."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.sparse import csr_matrix

from sparwright.aeroelastic.strip import Motion, Strips, airs, two_dimensional
from sparwright.aeroelastic.swept import Shaken, Swept, swept
from sparwright.maths.frame.record import Frame
from sparwright.maths.frame.spread_modes import spread_modes
from sparwright.maths.frame.stiff import prepare
from sparwright.structure.spread import spread


@dataclass(frozen=True)
class Wing:
    """A uniform wing: places along the chord as fractions of it."""

    span: float = 6.096  # m, root to tip
    chord: float = 1.8288  # m
    axis: float = 0.33  # elastic axis
    centre: float = 0.43  # centre of mass
    mass: float = 35.71  # kg/m
    inertia: float = 8.64  # kg m about the elastic axis
    bending: float = 9.77e6  # N m2
    torsion: float = 0.987e6  # N m2
    slope: float = 2 * np.pi
    parts: int = 24


def frame(w: Wing) -> Frame:
    """Its elastic axis in equal bars, held at the root."""
    y = np.linspace(0.0, w.span, w.parts + 1)
    m, one = w.parts, np.ones(w.parts)
    held = np.zeros((m + 1, 6), bool)
    held[0] = True
    youngs, shear = 70e9, 27e9
    return Frame(
        np.column_stack([0 * y, y, 0 * y]), np.column_stack([np.arange(m), np.arange(1, m + 1)]),
        np.tile([0.0, 0.0, 1.0], (m, 1)), one, w.bending / youngs * one, 1e3 * w.bending / youngs * one,
        w.torsion / shear * one, youngs * one, shear * one, np.full((m, 2), np.inf), np.zeros((m, 2, 3)),
        np.zeros((m, 12), bool), np.zeros(m, bool), np.zeros(m), held,
    )  # fmt: skip


def strips(w: Wing, hinge: float = 1.0) -> Strips:
    """One strip a bar."""
    n = w.parts
    y = (np.arange(n) + 0.5) * w.span / n
    one = np.ones(n)
    return Strips(
        np.column_stack([(0.5 - w.axis) * w.chord * one, y, 0 * y]), np.tile([1.0, 0.0, 0.0], (n, 1)),
        np.tile([0.0, 0.0, 1.0], (n, 1)), w.chord * one, w.span / n * one, hinge * one,
        two_dimensional(w.chord * one, w.slope),
    )  # fmt: skip


def laid(w: Wing, at: float, way: int) -> csr_matrix:
    """(6 n, strips) loads on the nodes of a unit force (way 2: up) or moment (4: nose up) at a part of the chord."""
    place = frame(w).place
    out = np.zeros((6 * len(place), w.parts))
    for i in range(w.parts):
        point = np.array([(at - w.axis) * w.chord, (i + 0.5) * w.span / w.parts, 0.0])
        out[6 * i : 6 * i + 12, i] = spread(place[i : i + 2], point)[:, :, way].ravel()
    return csr_matrix(out)


def shaken(w: Wing, count: int = 8, density: float = 1.225) -> Shaken:
    """Its natural modes in moving air."""
    width = w.span / w.parts
    own = w.inertia - w.mass * ((w.centre - w.axis) * w.chord) ** 2
    root = np.hstack([np.sqrt(w.mass * width) * laid(w, w.centre, 0).toarray(),
                      np.sqrt(w.mass * width) * laid(w, w.centre, 2).toarray(),
                      np.sqrt(own * width) * laid(w, w.centre, 4).toarray()])  # fmt: skip
    omega, shapes = spread_modes(prepare(frame(w)), csr_matrix(root), count)
    flat = shapes.reshape(count, -1)
    motion = Motion(laid(w, 0.5, 2).T @ flat.T, laid(w, 0.5, 4).T @ flat.T, np.zeros((w.parts, count)))
    return Shaken(np.eye(count), np.diag(omega**2), airs(strips(w), motion), density)


def flutter(w: Wing, count: int = 8, density: float = 1.225, most: float = 200.0) -> Swept:
    """Its flutter."""
    return swept(shaken(w, count, density), np.linspace(5.0, most, 40))


def changed(w: Wing, **to: float) -> Wing:
    """Another wing."""
    return replace(w, **to)
