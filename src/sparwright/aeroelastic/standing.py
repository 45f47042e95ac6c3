"""Divergence, and what is left of the ailerons: air and frame at rest, the fuselage held at the frame's datum.

Symbols: d heave, turn and flap of every strip, f lift, moment and hinge moment of every strip; G give: d = G f of the
held frame; T air: f = 2 q T d (strip.py at rest, rho V^2 = 2 q); e what the pilot asks for, d of the ailerons' turn.

    d = G f + e,   (I - 2 q G T) d = e        divergence: the least q at which this has no answer, 1/(2 lam), lam the
                                              greatest real value of G T
    rolling moment   r . 2 q T (I - 2 q G T)^-1 e     over r . 2 q T e: effectiveness; nought: reversal

G T = X lam X^-1 once, then every speed is a sum. Held so, the fuselage neither pitches nor rolls as it would in the
air: what it does by itself is stability (flight/), and in the free aeroplane flutter's slow end (swept.py). The circuit
gives in G where it holds the ailerons. Sources: bisplinghoff-1955 ch. 8 (memory, high); megson (divergence).
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import brentq
from scipy.sparse import csr_matrix

from sparwright.aeroelastic.on_frame import Laced
from sparwright.aeroelastic.strip import Motion, Strips, airs
from sparwright.maths.frame.record import Frame
from sparwright.maths.frame.solve import standing as why_not
from sparwright.maths.frame.stiff import prepare

REAL = 1e-6  # of a value: an imaginary part less than that is none
STEPS = 400  # of speed in which a sign is looked for
BESIDE = 1e-6  # of a dynamic pressure of divergence: looked at on either side too


@dataclass(frozen=True)
class Standing:
    """Air on a frame that gives, at rest."""

    strips: Strips = field(repr=False)
    values: np.ndarray  # (3 s,) lam of G T, m2/N, complex
    shapes: np.ndarray  # (3 s, 3 s) X
    air: np.ndarray  # (3 s, 3 s) T

    @property
    def divergence(self) -> float:
        """q at which it diverges, Pa; infinite where it does not."""
        return 1 / (2 * self._worst[0]) if self._worst[0] > 0 else np.inf

    @property
    def diverged(self) -> np.ndarray:
        """(3 s,) heave, turn and flap as it diverges; noughts where it does not."""
        return self._worst[1]

    @property
    def _worst(self) -> tuple[float, np.ndarray]:
        scale = np.abs(self.values).max(initial=0.0)
        real = np.abs(self.values.imag) <= REAL * scale
        at = np.where(real, self.values.real, 0.0)
        i = int(np.argmax(at))
        return (float(at[i]), self.shapes[:, i].real) if at[i] > REAL * scale else (0.0, np.zeros(len(at)))

    def moved(self, asked: np.ndarray, pressure: float) -> np.ndarray:
        """(3 s,) d at a dynamic pressure, Pa, for what is asked (3 s,)."""
        part = np.linalg.solve(self.shapes, asked.astype(complex))
        return np.asarray((self.shapes @ (part / (1 - 2 * pressure * self.values))).real)

    def kept(self, asked: np.ndarray, row: np.ndarray, pressures: np.ndarray) -> np.ndarray:
        """(p,) part of row . f that is left of what stiff strips would have, at dynamic pressures (p,), Pa."""
        part = np.linalg.solve(self.shapes, asked.astype(complex))
        by = (row @ self.air @ self.shapes) * part
        found = (by / (1 - 2 * np.asarray(pressures)[:, None] * self.values)).sum(axis=1).real
        return np.asarray(found / (row @ self.air @ asked))

    def reversal(self, asked: np.ndarray, row: np.ndarray, most: float) -> float:
        """Least q past which row . f has the other sign, Pa; infinite where there is none up to `most`, Pa.

        NaN where what is left is not known at some q before.

        Through nought, or through divergence of the movement that is asked for; what diverges without it is passed by.
        """
        real = self.values.real[(np.abs(self.values.imag) <= REAL * np.abs(self.values)) & (self.values.real > 0)]
        beside = np.outer(1 / (2 * real), [1 - BESIDE, 1 + BESIDE]).ravel()
        at = np.unique(np.concatenate([np.linspace(0.0, np.sqrt(most), STEPS) ** 2, beside[beside < most]]))
        left = self.kept(asked, row, at)
        below = np.flatnonzero(~(left > 0))
        if not below.size:
            return np.inf
        i = int(below[0])
        if np.isnan(left[i]):
            return np.nan
        return float(brentq(lambda q: self.kept(asked, row, np.array([q]))[0], at[i - 1], at[i], xtol=1e-9 * at[i]))


def standing(strips: Strips, give: np.ndarray) -> Standing:
    """Strips on something that gives: (3 s, 3 s) heave m, turn rad and flap rad by lift N, moment and hinge moment N m.

    >>> from sparwright.aeroelastic.strip import two_dimensional
    >>> one, x, z = np.ones(1), np.array([[1.0, 0, 0]]), np.array([[0.0, 0, 1]])
    >>> s = Strips(0 * x, x, z, one, one, one, two_dimensional(one))
    >>> spring = np.diag([0.0, 1e-3, 0.0])           # turns about mid-chord, a quarter behind the lift
    >>> round(standing(s, spring).divergence, 3)     # K/(2 pi S e)
    636.62
    """
    s = len(strips.chord)
    one, none = np.eye(s), np.zeros((s, s))
    air = airs(strips, Motion(np.hstack([one, none, none]), np.hstack([none, one, none]),
                              np.hstack([none, none, one]))).steady()  # fmt: skip
    values, shapes = np.linalg.eig(give @ air + 0j)
    return Standing(strips, values, shapes, air)


def give_of(frame: Frame, heave: csr_matrix, turn: csr_matrix, flap: csr_matrix) -> np.ndarray:
    """(3 s, 3 s) how a held frame gives to unit loads on strips, (6 n, s) each. ValueError where it does not stand."""
    prepared = prepare(frame)
    if prepared.rigged.lu is None:
        raise ValueError(why_not(prepared.rigged))
    loads = np.hstack([heave.toarray(), turn.toarray(), flap.toarray()])
    moved = np.zeros(loads.shape)
    inner = loads[prepared.open] / prepared.scale[:, None]
    moved[prepared.open] = prepared.rigged.back(np.ascontiguousarray(inner)) / prepared.scale[:, None]
    return np.asarray(loads.T @ moved)


def with_ailerons(give: np.ndarray, own: np.ndarray, circuit: np.ndarray) -> np.ndarray:
    """The give with that of the circuit: own (s, k) part of a strip each aileron stands in, circuit (k, k) N m/rad."""
    s = len(own)
    found = give.copy()
    found[2 * s :, 2 * s :] += own @ np.linalg.inv(circuit) @ own.T
    return found


def rolled(laced: Laced, place: np.ndarray) -> np.ndarray:
    """(3 s,) rolling moment about the thrust line, right wing down, of f. place (n, 3) m of the nodes."""
    turn = np.zeros((len(place), 6))
    turn[:, 3] = -1.0  # about x aft: right wing down
    turn[:, :3] = np.cross(np.array([-1.0, 0.0, 0.0]), place)
    s = len(laced.strips.chord)
    return np.concatenate([laced.heave.T @ turn.ravel(), laced.turn.T @ turn.ravel(), np.zeros(s)])
