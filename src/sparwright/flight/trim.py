"""Trim: lift equals weight and no moment about the centre of gravity, with the elevator.

Symbols: CL lift coefficient on the area of all wings, square to the stream, CM moment about the centre of gravity on
the mean chord, a angle of attack of the thrust line, e elevator angle, trailing edge down positive.

    CL(a, e) = CL wanted
    CM(a, e) + CM_body a = 0

Both are smooth curves through the lattice turned into the stream (flight/curve.py). Range: the lattice's own angles;
what would lie outside is NaN. Neglected: the upward part of the thrust, the moment of the thrust line and of parasite
drag off the centre of gravity, the slipstream over the tail.
Source: anderson-flight ch. 7 (the two conditions); the solution is worked out here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sparwright.air.turned import Company
from sparwright.base.record import locked
from sparwright.flight.aeroplane import Aeroplane
from sparwright.flight.curve import Curve

Cg = tuple[float, float]  # station, waterline, m
ROUNDS, NEAR = 30, 1e-9


@dataclass(frozen=True)
class States:
    """Angles along a line of CL, with the loads that go with them; n values of CL."""

    lift: np.ndarray  # (n,) CL
    alpha: np.ndarray  # (n,) rad
    elevator: np.ndarray  # (n,) rad, by the lattice, before its lost effectiveness is allowed for


@dataclass(frozen=True)
class Line:
    """A line of states: lift, drag and section loads as functions of the two angles, and what the elevator is for."""

    company: Company
    lift: Curve
    induced: Curve
    strips: Mapping[str, Curve]  # by surface: lift coefficients of its sections in their own onset flow
    nought: Curve  # what the elevator keeps at nought: the moment, or the tail's lift

    @cached_property
    def most(self) -> float:
        """The CL at the greatest angle of the lattice's range."""
        return self._at_end(self.company.range[1])

    def states(self, CL: np.ndarray | float) -> States:
        """The states at lift coefficients; NaN where no trim is found within the lattice's range."""
        wanted = np.atleast_1d(np.asarray(CL, dtype=float))
        low, high = self.company.range
        a, e = np.full_like(wanted, (low + high) / 2), np.zeros_like(wanted)
        for _ in range(ROUNDS):
            short, off = wanted - self.lift.at(a, e), -self.nought.at(a, e)
            if np.all(self._settled(short, off)):
                break
            (La, Le), (Na, Ne) = self.lift.slopes(a, e), self.nought.slopes(a, e)
            det = La * Ne - Le * Na
            a, e = np.clip(a + (short * Ne - off * Le) / det, low, high), e + (off * La - short * Na) / det
        good = self._settled(wanted - self.lift.at(a, e), self.nought.at(a, e))
        return States(locked(wanted), locked(np.where(good, a, np.nan)), locked(np.where(good, e, np.nan)))

    @staticmethod
    def _settled(short: np.ndarray, off: np.ndarray) -> np.ndarray:
        return np.asarray((np.abs(short) < NEAR) & (np.abs(off) < NEAR))

    def _at_end(self, alpha: float) -> float:
        a, e = np.array([alpha]), np.zeros(1)
        for _ in range(ROUNDS):
            e = e - self.nought.at(a, e) / self.nought.slopes(a, e)[1]
        return float(self.lift.at(a, e)[0])

    def section_lift(self, name: str, at: States) -> np.ndarray:
        """(n, m) lift coefficients of a surface's sections, each in its own onset flow."""
        return self.strips[name].at(at.alpha, at.elevator)


def trimmed(plane: Aeroplane, cg: Cg) -> Line:
    """The trimmed states at a centre of gravity. ValueError when the elevator moves nothing."""
    moment = plane.curve(lambda state: state.moment_about(*cg)).plus_straight(plane.body_slopes[0])
    if np.max(np.abs(moment.slopes(np.zeros(1), np.zeros(1))[1])) < 1e-6:
        raise ValueError(f"{plane.name}: the elevator does not turn the aeroplane, it cannot be trimmed")
    return _line(plane, moment)


def untrimmed(plane: Aeroplane) -> Line:
    """The states with no lift on the tail, the moment left to itself: what trim drag is counted from."""
    return _line(plane, plane.curve(lambda state: state.surface_lift(plane.tail) / plane.area))


def _line(plane: Aeroplane, nought: Curve) -> Line:
    return Line(plane.company, plane.lift, plane.induced, plane.section_lifts, nought)
