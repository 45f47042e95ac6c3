"""Trim: lift equals weight and no moment about the centre of gravity, with the elevator.

Symbols: CL lift coefficient on the area of all wings, CM moment about the centre of gravity on the mean chord,
a angle of attack of the thrust line, e elevator angle, trailing edge down positive.

    CL(a, e) = CL wanted
    CM(a, e) + CM_body a = 0

Lift and section loads of the lattice are straight in a and e, moment and induced drag are quadratic; six states give
all of them exactly. Neglected: the upward part of the thrust, the moment of the thrust line and of parasite drag off
the centre of gravity, the slipstream over the tail.
Source: anderson-flight ch. 7 (the two conditions); the solution is worked out here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import locked
from sparwright.flight.aeroplane import SAMPLES, STEP, Aeroplane

Cg = tuple[float, float]  # station, waterline, m
ROUNDS = 12


@dataclass(frozen=True)
class Quadratic:
    """f(a, e) = f0 + fa a + fe e + faa a^2 + fee e^2 + fae a e, angles in rad."""

    terms: tuple[float, float, float, float, float, float]

    def at(self, a: np.ndarray, e: np.ndarray) -> np.ndarray:
        """f at angles of one shape."""
        f0, fa, fe, faa, fee, fae = self.terms
        return np.asarray(f0 + fa * a + fe * e + faa * a * a + fee * e * e + fae * a * e)

    def slopes(self, a: np.ndarray, e: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(df/da, df/de) at angles of one shape."""
        _, fa, fe, faa, fee, fae = self.terms
        return np.asarray(fa + 2 * faa * a + fae * e), np.asarray(fe + 2 * fee * e + fae * a)


@dataclass(frozen=True)
class States:
    """Angles along a line of CL, with the loads that go with them; n values of CL."""

    lift: np.ndarray  # (n,) CL
    alpha: np.ndarray  # (n,) rad
    elevator: np.ndarray  # (n,) rad, by the lattice, before its lost effectiveness is allowed for


@dataclass(frozen=True)
class Line:
    """A line of states: lift, drag and section loads as functions of the two angles, and what the elevator is for."""

    lift: Quadratic
    induced: Quadratic
    strips: Mapping[str, np.ndarray]  # by surface (3, m): section lift at no angle, per rad of a, per rad of e
    nought: Quadratic  # what the elevator keeps at nought: the moment, or the tail's lift

    def states(self, CL: np.ndarray | float) -> States:
        """The states at lift coefficients; NaN where no trim is found."""
        wanted = np.atleast_1d(np.asarray(CL, dtype=float))
        L0, La, Le = self.lift.terms[:3]
        e = np.zeros_like(wanted)
        for _ in range(ROUNDS):
            a = (wanted - L0 - Le * e) / La
            by_a, by_e = self.nought.slopes(a, e)
            e = e - self.nought.at(a, e) / (by_e - by_a * Le / La)
        a = (wanted - L0 - Le * e) / La
        good = np.abs(self.nought.at(a, e)) < 1e-9
        return States(locked(wanted), locked(np.where(good, a, np.nan)), locked(np.where(good, e, np.nan)))

    def section_lift(self, name: str, at: States) -> np.ndarray:
        """(n, m) section lift coefficients of a surface's strips."""
        start, by_a, by_e = self.strips[name]
        return np.asarray(start + np.outer(at.alpha, by_a) + np.outer(at.elevator, by_e))


def trimmed(plane: Aeroplane, cg: Cg) -> Line:
    """The trimmed states at a centre of gravity. ValueError when the elevator moves nothing."""
    states = plane.sampled
    moment = _fit([s.moment_about(*cg) + plane.body_slopes[0] * a for s, (a, _) in zip(states, SAMPLES, strict=True)])
    if abs(moment.terms[2]) < 1e-6:
        raise ValueError(f"{plane.name}: the elevator does not turn the aeroplane, it cannot be trimmed")
    return _line(plane, moment)


def untrimmed(plane: Aeroplane) -> Line:
    """The states with no lift on the tail, the moment left to itself: what trim drag is counted from."""
    return _line(plane, _fit([s.surface_lift(plane.tail) / plane.area for s in plane.sampled]))


def _line(plane: Aeroplane, nought: Quadratic) -> Line:
    states, h = plane.sampled, STEP
    loads = {name: np.array([s.strips[name].lift_coefficient for s in states]) for name in plane.strips}
    strips = {n: locked([v[0], (v[1] - v[2]) / (2 * h), (v[3] - v[4]) / (2 * h)]) for n, v in loads.items()}
    return Line(_fit([s.lift for s in states]), _fit([s.induced_drag for s in states]), strips, nought)


def _fit(f: Sequence[float]) -> Quadratic:
    """The quadratic through the six samples, exactly."""
    h = STEP
    f0, up, down, tail_down, tail_up, both = f
    fa, fe = (up - down) / (2 * h), (tail_down - tail_up) / (2 * h)
    faa, fee = (up + down - 2 * f0) / (2 * h * h), (tail_down + tail_up - 2 * f0) / (2 * h * h)
    fae = (both - f0) / (h * h) - (fa + fe) / h - faa - fee
    return Quadratic((f0, fa, fe, faa, fee, fae))
