"""The air on strips that move: steady and unsteady, as matrices in any coordinates the strips move by.

Symbols: z heave at mid-chord along the strip's normal, al turn nose up, be flap trailing edge down, b half chord, w
width, V speed, rho density, T of theodorsen.py, C(k) its lag, R lattice: circulation over V of strip i for a radian at
strip j (2 pi b on the diagonal in two dimensions); dots are rates.

    angle met      g = al - z./V + b al./(2 V) + T10 be/pi + T11 b be./(2 pi V)
    lift           w (rho V^2 C R g + rho b^2 (pi V al. - pi z.. - V T4 be. - T1 b be..))
    about middle   w (rho V^2 C R g b/2 - rho b^2 (pi V b al./2 + pi b^2 al../8 + (T4 + T10) V^2 be
                     + (T1 - T8 - c T4 + T11/2) V b be. - (T7 + c T1) b^2 be..))
    about hinge    w (-rho V^2 C R g b T12/(2 pi) - rho b^2 ((-2 T9 - T1 - T4/2) V b al. + 2 T13 b^2 al..
                     + (T5 - T4 T10) V^2 be/pi - T4 T11 V b be./(2 pi) - T3 b^2 be../pi + T1 b z..))

R T10 be/pi is the lattice's own where it has a flap. In coordinates x with z = Z x, al = A x, be = B x the generalised
force is rho (V^2 S + V D d/dt + M d^2/dt^2) x.
Theodorsen's strip with R in the place of 2 pi b: finite span and neighbours as in steady flow, no lag from strip to
strip (a tail behind a wing meets its downwash at once). Sources: naca-tr-496 (memory, high); air/node.py for R.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from sparwright.aeroelastic.theodorsen import Flap, flap, lag
from sparwright.base.record import number


@dataclass(frozen=True)
class Strips:
    """s strips of all surfaces, both sides."""

    middle: np.ndarray = number("m", "(s, 3) mid-chord")
    along: np.ndarray = number("1", "(s, 3) from nose to tail")
    normal: np.ndarray = number("1", "(s, 3) the way lift is counted")
    chord: np.ndarray = number("m", "(s,) chord")
    width: np.ndarray = number("m", "(s,) width")
    hinge: np.ndarray = number("1", "(s,) hinge, fraction of the chord; 1 without a flap")
    response: np.ndarray = number("m", "(s, s) circulation over speed for a radian: row by strip loaded")
    by_flap: np.ndarray | None = None  # (s, s) m, the same for a radian of flap; None: T10/pi of a turn
    surface: tuple[str, ...] = ()  # (s,) its surface
    side: tuple[str, ...] = ()  # (s,) R, L, empty for a fin

    @property
    def half(self) -> np.ndarray:
        """(s,) m, half chords."""
        return np.asarray(self.chord / 2)

    @property
    def axis(self) -> np.ndarray:
        """(s, 3) about which a turn is nose up."""
        return np.cross(self.normal, self.along)

    @cached_property
    def halves(self) -> tuple[np.ndarray, np.ndarray]:
        """(half chords that differ, m; which of them each strip has): the lag is worked out once for each."""
        found, which = np.unique(self.half, return_inverse=True)
        return found, which

    @cached_property
    def flap(self) -> Flap:
        """Theodorsen's functions of the hinges."""
        return flap(self.hinge)


def two_dimensional(chord: np.ndarray, slope: float = 2 * np.pi) -> np.ndarray:
    """(s, s) m, response of strips that know nothing of each other: slope c/2 on the diagonal.

    >>> two_dimensional(np.array([2.0]), 3.0).tolist()
    [[3.0]]
    """
    return np.diag(slope * np.asarray(chord) / 2)


@dataclass(frozen=True)
class Motion:
    """How the strips move in m coordinates."""

    heave: np.ndarray  # (s, m) z
    turn: np.ndarray  # (s, m) al
    flap: np.ndarray  # (s, m) be


@dataclass(frozen=True)
class Airs:
    """The air's generalised forces in m coordinates, over the density: what is without lag, and the two with it."""

    strips: Strips = field(repr=False)
    given: np.ndarray  # (m, s) force of a unit circulation on each strip: (Z + b/2 A - b T12/(2 pi) B)^T w
    met: np.ndarray  # (s, m) R g for coordinates
    met_rate: np.ndarray  # (s, m) R g for rates, times V
    still: np.ndarray  # (m, m) V^2, without lag
    rate: np.ndarray  # (m, m) V d/dt, without lag
    mass: np.ndarray  # (m, m) d^2/dt^2

    def steady(self) -> np.ndarray:
        """(m, m) generalised force over rho V^2 of coordinates that stand still."""
        return np.asarray(self.given @ self.met + self.still)

    def lagged(self, over_speed: float) -> tuple[np.ndarray, np.ndarray]:
        """(m, m) complex twice, of V^2 and V d/dt, at w/V rad/m."""
        half, which = self.strips.halves
        late = self.given * lag(over_speed * half)[which]
        both = late @ self._both
        m = self.met.shape[1]
        return both[:, :m] + self.still, both[:, m:] + self.rate

    @cached_property
    def _both(self) -> np.ndarray:
        """(s, 2 m) complex: both of what is met side by side, for one product."""
        return np.hstack([self.met, self.met_rate]).astype(complex)


def airs(strips: Strips, motion: Motion) -> Airs:
    """The forces of strips that move so."""
    f, b, w = strips.flap, strips.half[:, None], strips.width[:, None]
    t = {name: getattr(f, name)[:, None] for name in ("t1", "t3", "t4", "t5", "t7", "t8", "t9", "t10", "t11", "t12",
                                                      "t13")}  # fmt: skip
    c, z, al, be = f.hinge[:, None], motion.heave, motion.turn, motion.flap
    given = (w * (z + b / 2 * al - b * t["t12"] / (2 * np.pi) * be)).T
    steady = strips.response @ (t["t10"] / np.pi * be) if strips.by_flap is None else strips.by_flap @ be
    angle_rate = -z + b / 2 * al + b * t["t11"] / (2 * np.pi) * be
    rho = w * b**2  # what every force without lag has
    still = -al.T @ (rho * (t["t4"] + t["t10"]) * be) - be.T @ (rho * (t["t5"] - t["t4"] * t["t10"]) / np.pi * be)
    lift_rate = np.pi * al - t["t4"] * be
    turn_rate = -b * (np.pi / 2 * al + (t["t1"] - t["t8"] - c * t["t4"] + t["t11"] / 2) * be)
    flap_rate = -b * ((-2 * t["t9"] - t["t1"] - t["t4"] / 2) * al - t["t4"] * t["t11"] / (2 * np.pi) * be)
    lift_mass = -np.pi * z - t["t1"] * b * be
    turn_mass = -(b**2) * (np.pi / 8 * al - (t["t7"] + c * t["t1"]) * be)
    flap_mass = -b * (2 * t["t13"] * b * al - t["t3"] / np.pi * b * be + t["t1"] * z)
    rate = z.T @ (rho * lift_rate) + al.T @ (rho * turn_rate) + be.T @ (rho * flap_rate)
    mass = z.T @ (rho * lift_mass) + al.T @ (rho * turn_mass) + be.T @ (rho * flap_mass)
    return Airs(strips, given, strips.response @ al + steady, strips.response @ angle_rate, still, rate, mass)
