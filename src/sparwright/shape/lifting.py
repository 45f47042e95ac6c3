"""Wings and tail surfaces in space: chord, place and angle at any buttline, and what the air sees of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import locked, number
from sparwright.family.model import Model, Panel, Section, TailSurface, Wing
from sparwright.shape import section as sections
from sparwright.shape.planform import Planform

ALIKE = 1e-9  # m: chords nearer than this are one


@dataclass(frozen=True)
class Station:
    """A wing cut at one buttline, right side."""

    buttline: float = number("m", "buttline")
    leading_edge: tuple[float, float, float] = (0.0, 0.0, 0.0)
    chord: float = number("m", "chord", 0.0)
    angle: float = number("rad", "chord line to the thrust line", 0.0)
    points: np.ndarray | None = None  # (2, n) walked section curve, chords

    def place(self, x: float, y: float) -> tuple[float, float, float]:
        """Where a point of the rib's own axes (x aft on the chord line, y up, m) lies in the aeroplane."""
        c, s = np.cos(self.angle), np.sin(self.angle)
        sx, sy, sz = self.leading_edge
        return (float(sx + x * c + y * s), sy, float(sz - x * s + y * c))


def breaks(wing: Wing) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(leading edge (3, k), chord (k,), angle (k,)) at the panels' ends from the root out."""
    at = np.array(wing.leading_edge)
    edge, chord, angle = [at.copy()], [wing.panels[0].root_chord], [wing.incidence]
    for panel in wing.panels:
        run = panel.tip_buttline - panel.root_buttline
        at = at + np.array([run * np.tan(panel.sweep), run, run * np.tan(panel.dihedral)])
        edge.append(at.copy())
        chord.append(panel.tip_chord)
        angle.append(angle[-1] + panel.twist)
    return np.array(edge).T, np.array(chord), np.array(angle)


def panel_at(wing: Wing, buttline: float) -> tuple[Panel, float]:
    """The panel that holds a buttline, and how far along it (0 to 1). A shared end belongs to the inner one."""
    for panel in wing.panels:
        if buttline <= panel.tip_buttline + 1e-9:
            return panel, (buttline - panel.root_buttline) / (panel.tip_buttline - panel.root_buttline)
    return wing.panels[-1], 1.0


def cut(wing: Wing, named: Mapping[str, Section], buttline: float) -> Station:
    """The wing cut at a buttline of its right half.

    A panel is ruled: each point of the root's section is joined to the same point of the tip's by a straight
    line, so that spars and edges are straight however the panel tapers and twists. A panel of one section and
    one chord keeps both and turns evenly, so that its ribs are alike; its edges then leave the straight line by
    c (twist)^2/8 at most, 0.1 mm for 1.4 m and 1.5 degrees.
    """
    edge, chord, angle = breaks(wing)
    panel, f = panel_at(wing, buttline)
    i = wing.panels.index(panel)
    x, _, z = (1 - f) * edge[:, i] + f * edge[:, i + 1]
    place = (float(x), buttline, float(z))
    root, tip = named[panel.root_section], named[panel.tip_section]
    if root == tip and abs(panel.tip_chord - panel.root_chord) < ALIKE:
        turn = float((1 - f) * angle[i] + f * angle[i + 1])
        return Station(buttline, place, panel.root_chord, turn, sections.curve(root))
    return Station(buttline, place, *_ruled(chord[i : i + 2], angle[i : i + 2], (root, tip), f))


def _ruled(
    chord: np.ndarray, angle: np.ndarray, ends: tuple[Section, Section], f: float
) -> tuple[float, float, np.ndarray]:
    """(chord, angle, curve) part of the way from the root's section to the tip's."""
    a, b = (1 - f) * chord[0] * _turned(angle[0]), f * chord[1] * _turned(angle[1])
    along, down = a[:, 0] + b[:, 0]
    length, turn = float(np.hypot(along, down)), float(np.arctan2(-down, along))
    blended = a @ sections.curve(ends[0]) + b @ sections.curve(ends[1])
    return length, turn, locked(_turned(turn).T @ blended / length)


def _turned(angle: float) -> np.ndarray:
    """(2, 2) that takes a rib's x and y to station and waterline, nose up by `angle`."""
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, s], [-s, c]])


def wing_planform(wing: Wing) -> Planform:
    """What the air sees of a wing: carried through to the centreline when it begins at the fuselage side."""
    edge, chord, angle = breaks(wing)
    names = [wing.panels[0].root_section, *(p.tip_section for p in wing.panels)]
    side = float(edge[1, 0])
    if side > 1e-9:
        centre = edge[:, :1] * np.array([[1.0], [0.0], [1.0]])
        edge = np.hstack([centre, edge])
        chord, angle = np.concatenate([chord[:1], chord]), np.concatenate([angle[:1], angle])
        names = [names[0], *names]
    hinged = wing.aileron
    return Planform(
        wing.name,
        locked(edge),
        locked(chord),
        locked(angle),
        tuple(names),
        side,
        hinged.hinge if hinged else 1.0,
        hinged.inboard if hinged else 0.0,
        hinged.outboard if hinged else 0.0,
    )


def tail_planform(tail: TailSurface, name: str = "tailplane") -> Planform:
    """What the air sees of the tailplane, elevator over the whole span."""
    half = tail.span / 2
    x, _, z = tail.leading_edge
    edge = np.array([[x, x + half * np.tan(tail.sweep)], [0.0, half], [z, z]])
    angle = np.full(2, tail.incidence)
    return Planform(
        name,
        locked(edge),
        locked([tail.root_chord, tail.tip_chord]),
        locked(angle),
        (tail.section, tail.section),
        0.0,
        tail.hinge,
        0.0,
        half,
        True,
    )


def planforms(model: Model) -> tuple[Planform, ...]:
    """Every lifting surface of the model: the wings in the file's order, then the tailplane."""
    return (*(wing_planform(w) for w in model.wings), tail_planform(model.tailplane))


def thickness(model: Model) -> dict[str, np.ndarray]:
    """Full thickness (2, 101) of every section of the model, both sides straight up at x, in chords."""
    x = (1 - np.cos(np.linspace(0, np.pi, 101))) / 2
    both = {name: sections.sides(sections.curve(s), x) for name, s in model.sections.items()}
    return {name: locked([x, upper - lower]) for name, (upper, lower) in both.items()}


def camber(model: Model) -> dict[str, np.ndarray]:
    """Mean line (2, 101) of every section of the model."""
    return {name: sections.mean_line(s) for name, s in model.sections.items()}
