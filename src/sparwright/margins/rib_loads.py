"""What one whole rib gets: the air of its bay spread along the chord, and its shear and moment between the spars.

Symbols: n running normal force, t torsion about the quarter chord nose up, c chord, x_e where the rib ends (false spar
or tail), h and m_h what the hinged part carries and its moment about the hinge, x_h the hinge, b bay, phi by
x = x_e (1 - cos phi)/2.

    ahead   the thin aerofoil's load at an angle of attack     P(x) = N_a (phi + sin phi)/pi,         about x_e/4
    middle  that of a mean line                                P(x) = N_m (phi - sin phi cos phi)/pi, about x_e/2
    N_a + N_m = (n - h) b,  N_a (x_e/4 - c/4) + N_m (x_e/2 - c/4) = -(t + h (x_h - c/4) + m_h) b
    hinge   all of one hinge's reaction at x_e
    V(x) = P - R_f [x > x_f] - R_r [x > x_r],  M(x) = int V dx

So each rib's load has the normal force and the torsion that the frame was loaded with. On the safe side: the load ahead
has the thin aerofoil's peak at the nose, no skin carries any of it to a spar by itself, a hinge's whole reaction comes
on every rib of the aileron's bay, and the frame's own moments are added without sign. Sources: glauert-1926 ch. VII
(the two loads); statics.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sparwright.base.record import number
from sparwright.family.model import Wing
from sparwright.loads.laid_out import SpanLoad
from sparwright.structure.answered import ULTIMATE, Answered

ON_THE_GROUND = "cases of wind and hand on the ground are not in it"  # of what has its load from the air along the span

Spans = Mapping[str, tuple[SpanLoad, ...]]  # by key of a case


@dataclass(frozen=True)
class Beam:
    """Where a rib is held and ends."""

    x: np.ndarray = number("m", "(k,) places along it, from the nose aft")
    chord: float = number("m", "of the wing there")
    end: float = number("m", "where its load ends")
    spars: tuple[float, ...] = number("m", "one or two, from the nose aft")


def carried(b: Beam) -> tuple[np.ndarray, np.ndarray]:
    """((3, k) N, (3, k) N m): shear and moment of 1 N ahead, 1 N in the middle, 1 N at its end.

    ValueError for no spar or more than two. One spar alone takes the moment as torque.

    >>> V, M = carried(Beam(np.linspace(0, 1, 1001), 1.0, 1.0, (0.25, 0.65)))
    >>> round(float(V[0, -1]), 6), abs(round(float(M[0, -1]), 4))
    (0.0, 0.0)
    """
    if not 1 <= len(b.spars) <= 2:
        raise ValueError("a rib is held by one spar or two")
    phi = np.arccos(np.clip(1 - 2 * b.x / b.end, -1, 1))
    P = np.array([(phi + np.sin(phi)) / np.pi, (phi - np.sin(phi) * np.cos(phi)) / np.pi, 0 * phi])
    far = b.end - np.array([0.25, 0.5, 1.0]) * b.end  # of each load's middle ahead of the end
    at = b.end - far
    Q = np.array([_ahead(phi, b.end), _middle(phi, b.end), 0 * phi])
    past = b.x > b.end - 1e-9
    P[2], Q[2] = np.where(past, 1.0, 0.0), np.maximum(b.x - b.end, 0.0)
    Q[:2] += np.where(past, np.maximum(b.x - b.end, 0.0), 0.0)
    first, last = b.spars[0], b.spars[-1]
    if len(b.spars) == 2:
        ahead = (last - at) / (last - first)
        holds, couple = [(first, ahead), (last, 1 - ahead)], np.zeros(3)
    else:
        holds, couple = [(first, np.ones(3))], first - at
    for x, r in holds:
        P = P - r[:, None] * (b.x > x + 1e-9)
        Q = Q - r[:, None] * np.maximum(b.x - x, 0.0)
    return P, Q - couple[:, None] * (b.x > first + 1e-9)


def _ahead(phi: np.ndarray, end: float) -> np.ndarray:
    """int P dx of the load ahead: (end/2 pi) int (phi + sin phi) sin phi dphi."""
    return np.asarray(end / (2 * np.pi) * (np.sin(phi) - phi * np.cos(phi) + phi / 2 - np.sin(2 * phi) / 4))


def _middle(phi: np.ndarray, end: float) -> np.ndarray:
    """int P dx of the load in the middle: (end/2 pi) int (phi - sin phi cos phi) sin phi dphi."""
    return np.asarray(end / (2 * np.pi) * (np.sin(phi) - phi * np.cos(phi) - np.sin(phi) ** 3 / 3))


def amounts(wing: Wing, b: Beam, y: float, width: float, hinged: bool, answer: Answered, spans: Spans, side: str
            ) -> np.ndarray:  # fmt: skip
    """(3, c) N of the three loads on a rib at a buttline at ultimate load; nought in cases without air on the wing."""
    found = np.zeros((3, len(answer.laid)))
    for k, laid in enumerate(answer.laid):
        level = 1.0 if laid.case.level == "ultimate" else ULTIMATE
        for s in spans.get(laid.case.key, ()):
            if s.surface == wing.name and s.side == side:
                found[:, k] += level * _of(wing, b, s, y, width, hinged)
    return found


def _of(wing: Wing, b: Beam, s: SpanLoad, y: float, width: float, hinged: bool) -> np.ndarray:
    n, t = (float(np.interp(y, s.y, v)) for v in (s.normal, s.torsion))
    hinge = 0.0
    if hinged and wing.aileron:
        h, m = (float(np.interp(y, s.y, v)) for v in (s.hinged, s.hinge))
        n, t = n - h, t + h * (wing.aileron.hinge - 0.25) * b.chord + m
        hinge = hinge_share(wing, s)
    quarter = b.chord / 4
    N = np.linalg.solve([[1.0, 1.0], [b.end / 4 - quarter, b.end / 2 - quarter]], [n * width, -t * width])
    return np.array([*N, hinge])


def hinge_share(wing: Wing, s: SpanLoad) -> float:
    """N on the hinge of an aileron that gets most of its normal force, each from half way to half way; signed."""
    a = wing.aileron
    if a is None or a.frame is None:
        return 0.0
    return max(hinge_forces(a.frame.hinges.places, a.inboard, a.outboard, s), key=abs)


def hinge_forces(places: Sequence[float], inboard: float, outboard: float, s: SpanLoad) -> list[float]:
    """N on each hinge of a part: what lies from half way to half way to its neighbours."""
    at = sorted(places)
    cuts = [inboard, *((a + b) / 2 for a, b in pairwise(at)), outboard]
    edges = np.concatenate([[s.y[0] - s.width[0] / 2], s.y + s.width / 2])
    summed = np.concatenate([[0.0], np.cumsum(s.hinged * s.width)])
    upto = np.interp(cuts, edges, summed)
    return [float(v) for v in np.diff(upto)]
