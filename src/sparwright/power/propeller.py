"""Propeller by blade elements in the momentum of their own rings, with Prandtl's tip loss.

Symbols: V speed, W whole speed at the element, Om angular speed, phi inflow angle, B blades, c chord, beta
blade angle, sigma = B c/(2 pi r) solidity, cn and ct force coefficients along the axis and round it, F tip
loss, k = sigma cn/(4 F sin phi), k' = sigma ct/(4 F sin phi), J = V/(nD), CT = T/(rho n^2 D^4),
CP = P/(rho n^3 D^5).

    W sin phi = V + W k,  W cos phi = Om r - W k'
    R(phi) = (sin^2 phi - sigma cn/4F) Om r - (sin phi cos phi + sigma ct/4F) V = 0

R is below nought at phi = 0 and above it at phi = pi/2 for a blade that lifts, also at V = 0.
Sources: glauert-1935 (blade element and momentum theory; Prandtl's tip loss, ch. VII); the idea of one bracketed
unknown per element is ning-2014's (memory); the residual above is worked out here from the two lines before it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.interpolate import PchipInterpolator

from sparwright.base.record import locked, number
from sparwright.power.blade import ELEMENTS as ELEMENTS
from sparwright.power.blade import Blade as Blade
from sparwright.power.blade import blade_of as blade_of
from sparwright.power.blade import standard_blade as standard_blade
from sparwright.power.blade_section import MOST_ADVANCE, SectionData
from sparwright.power.gas import Gas as Gas

HALVINGS, STRAIGHT = 7, 7  # steps to an element's inflow angle: to 1e-8 of the coefficients
FASTEST_TIP = 0.9  # helical Mach number of the tip, naca-tr-302 (memory): no loss measured up to about 0.9
WINDMILL = -0.4  # u/V below which the momentum of the slipstream no longer holds (glauert-1935, memory)


@dataclass(frozen=True)
class PropellerPoint:
    """A propeller at work; NaN where the theory or the section data do not reach."""

    thrust: float = number("N", "thrust")
    power: float = number("W", "power put in at the hub")
    torque: float = number("N m", "torque at the hub")
    efficiency: float = number("1", "thrust times speed over power; NaN when standing")
    advance: float = number("1", "J = V/(nD)")
    thrust_coefficient: float = number("1", "CT = T/(rho n^2 D^4)")
    power_coefficient: float = number("1", "CP = P/(rho n^3 D^5)")


@dataclass(frozen=True)
class PropellerMap:
    """CT and CP over J, computed once for a propeller; monotone cubics between, NaN outside."""

    diameter: float = number("m", "diameter")
    advance: np.ndarray = None  # type: ignore[assignment]  # (m,)
    thrust: np.ndarray = None  # type: ignore[assignment]  # (m,)
    power: np.ndarray = None  # type: ignore[assignment]  # (m,)
    tip: float = number("1", "greatest helical tip Mach number the map is used at", FASTEST_TIP)

    def coefficients(self, advance: np.ndarray | float) -> tuple[np.ndarray, np.ndarray]:
        """(CT, CP) at J; NaN outside the map."""
        ct, cp = _curves(self)
        return ct(advance), cp(advance)

    def at(self, speed: float, turning: float, air: Gas) -> PropellerPoint:
        """The propeller at a speed (m/s) and turning rate (rev/s) in some air."""
        ct, cp = self.coefficients(speed / (turning * self.diameter))
        fast = math.hypot(speed, math.pi * turning * self.diameter) > self.tip * air.sound
        return _point(math.nan if fast else float(ct), float(cp), speed, turning, air.density, self.diameter)


def tip_loss(blades: int, r: np.ndarray, tip: float, phi: np.ndarray) -> np.ndarray:
    """F = (2/pi) acos exp(-B (R - r)/(2 r sin phi)). Source: glauert-1935 ch. VII, after Prandtl 1919."""
    outside: np.ndarray = blades / 2 * (tip - r) / (r * np.maximum(np.sin(phi), 1e-12))
    return np.asarray(2 / np.pi * np.arccos(np.exp(-outside)))


def run(blade: Blade, speed: float, turning: float, air: Gas, section: SectionData) -> PropellerPoint:
    """Thrust and power at a speed (m/s, nought or more) and turning rate (rev/s).

    Range: momentum theory, so not past light windmilling (u/V -0.4) and helical tip Mach 0.9; low aspect
    and stalled blades are its known weakness (a standing two-blade rotor of wide blades comes out 18 to 33 %
    high in thrust, nasa-tm-81232). Outside: NaN.
    """
    forces = _sweep(blade, np.array([speed]), turning, air, section)
    return _point(float(forces[0][0]), float(forces[1][0]), speed, turning, air.density, blade.diameter)


def propeller_map(blade: Blade, turning: float, air: Gas, section: SectionData,
                  most: float = MOST_ADVANCE, steps: int = 65) -> PropellerMap:  # fmt: skip
    """CT and CP from J = 0 up to where the theory ends, at one turning rate (it sets the Reynolds numbers)."""
    advance = np.linspace(0.0, most, steps)
    ct, cp = _sweep(blade, advance * turning * blade.diameter, turning, air, section)
    good = int(np.argmin(np.isfinite(ct + cp))) or (steps if np.all(np.isfinite(ct + cp)) else 0)
    return PropellerMap(blade.diameter, locked(advance[:good]), locked(ct[:good]), locked(cp[:good]))


@lru_cache(maxsize=64)
def _fitted(advance: bytes, thrust: bytes, power: bytes) -> tuple[PchipInterpolator, PchipInterpolator]:
    j, ct, cp = (np.frombuffer(v) for v in (advance, thrust, power))
    return PchipInterpolator(j, ct, extrapolate=False), PchipInterpolator(j, cp, extrapolate=False)


def _curves(chart: PropellerMap) -> tuple[PchipInterpolator, PchipInterpolator]:
    return _fitted(chart.advance.tobytes(), chart.thrust.tobytes(), chart.power.tobytes())


def _sweep(blade: Blade, speed: np.ndarray, turning: float, air: Gas,
           section: SectionData) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """(CT, CP) at many speeds of one turning rate: all elements of all speeds halved together."""
    r, dr, c, beta = blade.elements()
    tip = blade.diameter / 2
    V, omr = speed[:, None], 2 * np.pi * turning * r
    reynolds = air.density * np.hypot(V, omr) * c / air.viscosity
    sigma = blade.blades * c / (2 * np.pi * r)
    lift_drag = section.at(reynolds)

    def forces(phi: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        cl, cd = lift_drag(beta - phi)
        s, k = np.sin(phi), np.cos(phi)
        return cl * k - cd * s, cl * s + cd * k, 4 * tip_loss(blade.blades, r, tip, phi)

    def residual(phi: np.ndarray) -> np.ndarray:
        cn, ct, F4 = forces(phi)
        s, k = np.sin(phi), np.cos(phi)
        return np.asarray((s * s - sigma * cn / F4) * omr - (s * k + sigma * ct / F4) * V)

    phi, held = _root(residual, np.broadcast_to(1e-6, reynolds.shape), np.broadcast_to(np.pi / 2, reynolds.shape))
    cn, ct, F4 = forces(phi)
    W = omr / (np.cos(phi) + sigma * ct / (F4 * np.sin(phi)))
    sound = (
        held
        & (W * np.sin(phi) - V >= WINDMILL * V)
        & (np.hypot(V, np.pi * turning * blade.diameter) <= FASTEST_TIP * air.sound)
    )
    push = np.where(sound, blade.blades * c * W**2 / 2 * dr, np.nan)
    scale = turning**2 * blade.diameter**4
    return (push * cn).sum(1) / scale, 2 * np.pi * (push * ct * r).sum(1) / (scale * blade.diameter)


def _root(f, low: np.ndarray, high: np.ndarray) -> tuple[np.ndarray, np.ndarray]:  # type: ignore[no-untyped-def]
    """Where f changes sign between low and high, each element for itself, and whether it does at all.

    Halved first, then by false position, the value of an end that stands twice halved (Illinois), in the bracket still.
    """
    below, above = f(low), f(high)
    held, before = (below <= 0) & (above >= 0), np.zeros(below.shape, dtype=int)
    for i in range(HALVINGS + STRAIGHT):
        if i < HALVINGS:
            x = (low + high) / 2
        else:
            with np.errstate(divide="ignore", invalid="ignore"):
                x = (low * above - high * below) / (above - below)
            x = np.where((x > low) & (x < high), x, (low + high) / 2)
        at = f(x)
        up = at < 0
        again = before == np.where(up, 1, -1)
        low, below = np.where(up, x, low), np.where(up, at, np.where(again, below / 2, below))
        high, above = np.where(up, high, x), np.where(up, np.where(again, above / 2, above), at)
        before = np.where(up, 1, -1) * (i >= HALVINGS)
    return np.where(np.abs(below) < np.abs(above), low, high), held


def _point(ct: float, cp: float, V: float, n: float, rho: float, D: float) -> PropellerPoint:
    T, P = ct * rho * n**2 * D**4, cp * rho * n**3 * D**5
    good = math.isfinite(T + P)
    if not good:
        T = P = ct = cp = math.nan
    eta = T * V / P if V > 0 and P > 0 else math.nan
    return PropellerPoint(T, P, P / (2 * math.pi * n), eta, V / (n * D), ct, cp)
