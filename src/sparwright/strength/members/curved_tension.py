"""What a curved metal skin does after it wrinkles in shear: incomplete diagonal tension between ribs and edges.

Symbols: tau = q/t, R ratio of the load to that at which it wrinkles, k part of the shear carried by diagonal tension,
alpha its angle to the span, h girth from edge to edge, d between ribs, r radius, A_R a rib's flange, A_E an edge.

    k = tanh[(0.5 + 300 t/r d/h) log10 R]          R > 1, else 0;  h/d for d/h where h > d, and no more than 2
    sigma_R = -k tau tan alpha/(A_R/(d t) + 0.5 (1 - k))                                     rib, round the section
    sigma_E = -k tau cot alpha/(A_E/(h t) + 0.5 (1 - k))                                     edge, along the span
    e E/tau = 2 k/sin 2alpha + (1 - k)(1 + nu) sin 2alpha
    tan^2 alpha = (e - e_E)/(e - e_R + (h/r)^2/24)   for d >= h, else   ... + (d/r)^2 tan^2 alpha/8)
    sigma_x = k tau cot alpha,  sigma_y = k tau tan alpha,  tau_xy = tau        (1 - k) sheared, k pulled at alpha
    E/G_k = (1 - k) 2 (1 + nu) + k [4/sin^2 2alpha + tan^2 alpha/(A_R/(d t) + 0.5 (1 - k))
                                                     + cot^2 alpha/(A_E/(h t) + 0.5 (1 - k))]

The skin's stress is Mises' of these; edges are taken not to bow between ribs. Flat (r without end) it is
what tension_field.py does. Range: h/t and d/t to 1500, R to 800; NaN outside. Sources: naca-tn-2661 (curved webs and
G_k from memory, high); the flat formulas megson (read where another quotes it); the stresses of both parts together are
statics.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.strength.members.tension_field import LOADED, SLENDER
from sparwright.strength.members.web import Many, given

REPORT = "naca-tn-2661"
TURNS = 80  # of the sum for the angle; it halves its error in each
LONGEST = 2.0  # of d/h or h/d in k
STEEPEST = 0.05  # rad, of the angle from either side


@dataclass(frozen=True, kw_only=True)
class Panel:
    """A bay of skin between two ribs and two edges; floats or arrays of one shape."""

    thickness: Many = number("m", "skin")
    radius: Many = number("m", "of curvature; infinite where it is flat")
    girth: Many = number("m", "from edge to edge across the span")
    spacing: Many = number("m", "between ribs")
    rib: Many = number("m2", "flange of a rib that the skin is held by")
    edge: Many = number("m2", "what runs along the span at an edge; of two unlike edges see `like_edges`")
    youngs: Many = number("Pa", "of the skin")
    poisson: Many = number("1", "of the skin", 0.33)

    @property
    def held(self) -> tuple[np.ndarray, np.ndarray]:
        """(A_R/(d t), A_E/(h t))."""
        t = np.asarray(self.thickness, float)
        return np.asarray(self.rib / (self.spacing * t)), np.asarray(self.edge / (self.girth * t))


@dataclass(frozen=True)
class Tense:
    """What a panel does, arrays of the shear's shape; NaN outside the range."""

    k: np.ndarray
    angle: np.ndarray  # rad
    mises: np.ndarray  # Pa
    rib: np.ndarray  # Pa, pressing negative
    edge: np.ndarray  # Pa, pressing negative
    thrust: np.ndarray  # N, k q h cot alpha: what both edges and the skin between bear along the span
    kept: np.ndarray  # G_k over E/(2 (1 + nu))


def factor(ratio: Many, p: Panel) -> np.ndarray:
    """k, from 0 (flat) towards 1 (all diagonal tension). ratio: R, shear over what wrinkles it.

    >>> flat = Panel(thickness=1e-3, radius=np.inf, girth=0.2, spacing=0.3, rib=1e-5, edge=1e-5, youngs=70e9)
    >>> float(factor(1.0, flat)), round(float(factor(100.0, flat)), 4)
    (0.0, 0.7616)
    """
    long = np.maximum(np.asarray(p.spacing) / p.girth, np.asarray(p.girth) / p.spacing)
    round_ = 300 * np.asarray(p.thickness) / p.radius * np.minimum(long, LONGEST)
    R = np.maximum(np.asarray(ratio, float), 1.0)
    return np.asarray(np.where(in_range(R, p), np.tanh((0.5 + round_) * np.log10(R)), np.nan))


def in_range(ratio: Many, p: Panel) -> np.ndarray:
    """Whether a panel and its load are such as the method was tried on; what is flat always is."""
    wide = np.maximum(np.asarray(p.girth), p.spacing) / np.asarray(p.thickness)
    return np.asarray((np.asarray(ratio) <= 1.0) | ((np.asarray(ratio) <= LOADED) & (wide <= SLENDER[1])))


def tense(shear: Many, ratio: Many, p: Panel) -> Tense:
    """A panel under a shear flow q, N/m, that is `ratio` times what wrinkles it (pressing counted in)."""
    q = np.abs(np.asarray(shear, float))
    tau = q / p.thickness
    k = np.broadcast_to(factor(ratio, p), tau.shape)
    a = np.where(np.isfinite(k), _angle(k, tau, p), np.nan)
    rib, edge = _stresses(k, a, p)
    along, round_ = k / np.tan(a), k * np.tan(a)
    return Tense(k, a, tau * np.sqrt(along**2 - along * round_ + round_**2 + 3), rib * tau, edge * tau,
                 k * q * p.girth / np.tan(a), _kept(k, a, p))  # fmt: skip


def _stresses(k: np.ndarray, a: np.ndarray, p: Panel) -> tuple[np.ndarray, np.ndarray]:
    """(sigma_R, sigma_E) over tau."""
    rib, edge = (held + 0.5 * (1 - k) for held in p.held)
    return np.asarray(-k * np.tan(a) / rib), np.asarray(-k / np.tan(a) / edge)


def _angle(k: np.ndarray, tau: np.ndarray, p: Panel) -> np.ndarray:
    """alpha by bisection."""
    low, high = np.full_like(k, STEEPEST), np.full_like(k, np.pi / 2 - STEEPEST)
    stiff = p.youngs / np.maximum(tau, 1e-9)  # strains below are over tau/E
    long = np.asarray(p.spacing) >= p.girth
    for _ in range(TURNS):
        a = (low + high) / 2
        rib, edge = _stresses(k, a, p)
        strain = 2 * k / np.sin(2 * a) + (1 - k) * (1 + p.poisson) * np.sin(2 * a)
        sags = np.where(long, (np.asarray(p.girth) / p.radius) ** 2 / 24,
                        (np.asarray(p.spacing) / p.radius) ** 2 * np.tan(a) ** 2 / 8)  # fmt: skip
        steep = np.tan(a) ** 2 * (strain - rib + sags * stiff) > strain - edge
        low, high = np.where(steep, low, a), np.where(steep, a, high)
    return np.asarray((low + high) / 2)


def _kept(k: np.ndarray, a: np.ndarray, p: Panel) -> np.ndarray:
    """G_k/G."""
    rib, edge = (held + 0.5 * (1 - k) for held in p.held)
    pulled = 4 / np.sin(2 * a) ** 2 + np.tan(a) ** 2 / rib + 1 / np.tan(a) ** 2 / edge
    flat = 2 * (1 + np.asarray(p.poisson))
    return np.asarray(flat / ((1 - k) * flat + k * pulled))


def like_edges(shared: float, own: float) -> float:
    """A_E, m2, of two like edges that give as much as a shared one and one that this panel has to itself.

    Each gets half of k q h cot alpha, the shared one as much again from the panel beyond: 2/A_E = 1/A_s + 1/(2 A_o).
    Nought where either is none. Source: statics.
    """
    return 2 / (1 / shared + 1 / (2 * own)) if shared > 0 and own > 0 else 0.0


def edge_stress(x: Tense, shear: Many, p: Panel, area: Many) -> np.ndarray:
    """Stress of an edge of its own area, m2, shared by two like panels, Pa, pressing negative."""
    tau = np.abs(np.asarray(shear, float)) / p.thickness
    return np.asarray(-x.k * tau / np.tan(x.angle) / (area / (p.girth * np.asarray(p.thickness)) + 0.5 * (1 - x.k)))


def rivet_flow(shear: Many, k: Many) -> np.ndarray:
    """What a straight edge hands over by its rivets, N/m: q (1 + 0.414 k)."""
    return np.asarray(np.abs(shear) * (1 + 0.414 * np.asarray(k)))


def working(shear: float, ratio: float, p: Panel) -> tuple[Step, ...]:
    """How much of the shear is pulled, at what angle, and what skin, rib and edge feel."""
    x = tense(np.asarray(shear), np.asarray(ratio), p)
    size = given(("t", p.thickness, "m"), ("h", p.girth, "m"), ("d", p.spacing, "m"), ("r", p.radius, "m"))
    kk, ta = ("k", float(x.k), "1"), ("tau", abs(shear) / float(p.thickness), "Pa")
    areas = given(("A_R", p.rib, "m2"), ("A_E", p.edge, "m2"))
    return (
        Step("part carried by diagonal tension", "k = tanh[(0.5 + 300 t/r d/h) log10 R]", (("R", ratio, "1"), *size),
             float(x.k), "1", REPORT),
        Step("angle of the tension to the span", "tan^2 alpha = (e - e_E)/(e - e_R + sag)", (kk, *areas),
             float(x.angle), "rad", REPORT),
        Step("stress of the skin", "Mises of k tau cot alpha along the span, k tau tan alpha round it, shear tau",
             (ta, kk), float(x.mises), "Pa", "statics"),
    )  # fmt: skip
