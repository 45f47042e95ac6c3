"""A made-up cell of two swept, twisted, kinked wings and a tail, and what may be done to it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from sparwright.shape.planform import Planform

X = np.linspace(0, 1, 41)
LINES = {"flat": np.array([X, 0 * X]), "bent": np.array([X, 0.16 * X * (1 - X)])}


def wing(name: str, x: float, z: float, *, span: float = 8.0, root: float = 1.3, tip: float = 0.9, sweep: float = 0.1,
         rise: float = 0.05, twist: float = -0.03, section: str = "bent", tail: bool = False) -> Planform:  # fmt: skip
    y = np.array([0.0, 0.25, 1.0]) * span / 2
    edge = np.array([x + sweep * y, y, z + rise * y])
    chord = np.array([root, root, tip])
    return Planform(
        name, edge, chord, 0.03 + twist * y / y[-1], (section,) * 3, 0.0, 0.7, 0.3 * span, 0.45 * span, tail
    )


def scaled(p: Planform, by: float) -> Planform:
    return replace(
        p, leading_edge=p.leading_edge * by, chord=p.chord * by, hinge_from=p.hinge_from * by, hinge_to=p.hinge_to * by
    )


def biplane() -> tuple[Planform, ...]:
    return (
        wing("lower", 0.4, 0.0, span=7),
        wing("upper", 0.0, 1.4),
        wing("tail", 5.0, 0.5, span=3, root=0.8, tip=0.7, tail=True),
    )


def upside_down(p: Planform) -> Planform:
    edge = p.leading_edge * np.array([[1.0], [1.0], [-1.0]])
    return replace(p, leading_edge=edge, angle=-p.angle, sections=tuple(s + " down" for s in p.sections))
