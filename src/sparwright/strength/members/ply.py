"""Plywood as a plate: stiffness in its plane and in bending summed over its plies, and its strength in shear.

    Q_11 = E_L/(1 - nu_LT nu_TL)   Q_22 = E_T/(...)   Q_12 = nu_LT Q_22   Q_66 = G_LT      nu_TL = nu_LT E_T/E_L
    Q' = T(-a) Q T(-a)^T           turned by the angle a of its grain to x
    A = sum Q' (z_k - z_k-1)       D = sum Q' (z_k^3 - z_k-1^3)/3       z from the middle
    E_x = 1/(t a_11), G_xy = 1/(t a_66), a = A^-1
    1/G' = cos^2 2a/G + sin^2 2a t (a_11 + a_22 - 2 a_12)      a sheet turned by a, G as printed for a = 0

Source: lekhnitskii-1968, timoshenko-woinowsky (memory, high). Range: plies the same above and below the middle.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.data.loader import plywood_shear
from sparwright.data.wood import elastic
from sparwright.strength.members.wood_margin import Floats, margin_step

PLIES = 3  # of a thin sheet where nobody says how many (common practice, no source)
SAME = 1e-9  # of the thickness: plies nearer than this are alike


@dataclass(frozen=True)
class Veneer:
    """One ply in its own axes."""

    along: float = number("Pa", "E_L")
    across: float = number("Pa", "E_T, E in the sheet across the grain")
    shear: float = number("Pa", "G_LT")
    poisson: float = number("1", "nu_LT, strain across for one along")


@dataclass(frozen=True)
class Ply:
    """One ply of a sheet."""

    thickness: float = number("m", "thickness")
    angle: float = number("rad", "of its grain to x, from x towards y", 0.0)


def veneer(species: str, youngs: float) -> Veneer:
    """Rotary-cut veneer of a species on file (data/wood.toml): E_L = youngs, Pa, and the published ratios to it.

    >>> v = veneer("birch", 10e9)
    >>> round(v.across / 1e6), round(v.shear / 1e6)
    (500, 680)
    """
    e = elastic(species)
    return Veneer(youngs, e.tangential * youngs, e.shear_lt * youngs, e.poisson_lt)


def veneer_of(key: str, youngs: float, count: int = PLIES) -> Veneer:
    """Veneer of which a sheet of `count` like plies has E = youngs, Pa, along its face grain.

    key: of a plywood of data/materials.toml, whose wood is on file (data/wood.toml); KeyError for another.

    >>> v = veneer_of("birch-ply", 10e9)
    >>> round(moduli(stiffness(v, crossed(0.0015, PLIES))[0], 0.0015)[0] / 1e9, 6)
    10.0
    """
    species = key.removesuffix("-ply")
    unit = moduli(stiffness(veneer(species, 1.0), crossed(1.0, count))[0], 1.0)[0]
    return veneer(species, youngs / unit)


def crossed(thickness: float, plies: int, face: float = 0.0, shares: Sequence[float] = ()) -> tuple[Ply, ...]:
    """The plies of a sheet, each at right angles to the next; face: angle of the outer grain to x, rad.

    shares: part of the thickness of each ply; alike where left out (common practice; thin sheets differ: measure).
    ValueError for an even number of plies, or shares that do not mirror about the middle and add up to 1.
    """
    parts = tuple(shares) or (1 / plies,) * plies
    if plies % 2 == 0 or len(parts) != plies or abs(sum(parts) - 1) > 1e-6:
        raise ValueError("an odd number of plies is wanted, whose shares of the thickness add up to 1")
    if any(abs(a - b) > 1e-6 for a, b in zip(parts, parts[::-1], strict=True)):
        raise ValueError("the shares of the plies must be the same above and below the middle")
    return tuple(Ply(s * thickness, face + (np.pi / 2 if i % 2 else 0.0)) for i, s in enumerate(parts))


def reduced(wood: Veneer, angle: float) -> np.ndarray:
    """Q', (3, 3) Pa, of a ply whose grain is at an angle, rad, to x; order xx, yy, xy (engineering shear)."""
    back = wood.poisson * wood.across / wood.along
    share = 1 - wood.poisson * back
    q = np.array([[wood.along, wood.poisson * wood.across, 0], [wood.poisson * wood.across, wood.across, 0],
                  [0, 0, wood.shear * share]]) / share  # fmt: skip
    c, s = np.cos(angle), np.sin(angle)
    turn = np.array([[c * c, s * s, -2 * c * s], [s * s, c * c, 2 * c * s], [c * s, -c * s, c * c - s * s]])
    return np.asarray(turn @ q @ turn.T)


def stiffness(wood: Veneer | Sequence[Veneer], plies: Sequence[Ply]) -> tuple[np.ndarray, np.ndarray]:
    """(A, D): (3, 3) N/m in the plane and (3, 3) N m in bending.

    wood: one veneer for all plies, or one for each. ValueError where the plies do not mirror about the middle.

    >>> A, D = stiffness(Veneer(12e9, 0.6e9, 0.8e9, 0.4), crossed(0.0015, 3))
    >>> round(float(D[0, 0] / D[1, 1]), 2)     # stiff along the face grain
    11.33
    """
    woods = [wood] * len(plies) if isinstance(wood, Veneer) else list(wood)
    t = np.array([p.thickness for p in plies])
    z = np.concatenate([[0.0], np.cumsum(t)]) - t.sum() / 2
    q = np.array([reduced(w, p.angle) for w, p in zip(woods, plies, strict=True)])
    lopsided = np.einsum("kij,k->ij", q, (z[1:] ** 2 - z[:-1] ** 2) / 2)
    if np.max(np.abs(lopsided)) > SAME * np.max(np.abs(q)) * t.sum() ** 2:
        raise ValueError("plies that do not mirror about the middle bend when they are pulled: not worked out")
    return np.einsum("kij,k->ij", q, t), np.einsum("kij,k->ij", q, (z[1:] ** 3 - z[:-1] ** 3) / 3)


def moduli(in_plane: np.ndarray, thickness: float) -> tuple[float, float, float]:
    """(E_x, E_y, G_xy), Pa, of a sheet from its A, N/m, and thickness, m."""
    a = np.linalg.inv(in_plane) * thickness
    return float(1 / a[0, 0]), float(1 / a[1, 1]), float(1 / a[2, 2])


def turned_shear(in_plane: np.ndarray, thickness: float, angle: float, shear: float) -> float:
    """G', Pa, of a sheet whose face grain is at an angle, rad, to the edge it is sheared along.

    in_plane: its A, N/m, with the grain along the edge; shear: G as printed for that. At 45 degrees only what the plies
    do along and across their grain counts.

    >>> square = np.array([[2.0, 0.6, 0.0], [0.6, 2.0, 0.0], [0.0, 0.0, 0.7]])     # alike in all directions
    >>> round(turned_shear(square, 1.0, 0.6, 0.7), 9)
    0.7
    """
    a = np.linalg.inv(in_plane) * thickness
    tilted = a[0, 0] + a[1, 1] - 2 * a[0, 1]
    return float(1 / (np.cos(2 * angle) ** 2 / shear + np.sin(2 * angle) ** 2 * tilted))


def panel_shear(plies: int, thickness: Floats, wood_shear: Floats) -> np.ndarray:
    """Shear strength through the thickness, Pa, face grain at 0 or 90 degrees to the shear: data.loader.plywood_shear.

    thickness m, wood_shear of the solid wood along its grain, Pa; arrays that go together. NaN outside its range, and
    nothing for 45 degrees: no readable published value, so it comes from the designer's own tests.
    """
    each = np.vectorize(lambda t, s: plywood_shear(plies, float(t), float(s))[0], otypes=[float])
    return np.asarray(each(thickness, wood_shear))


def use(flow: Floats, thickness: Floats, strength: Floats, buckles: Floats = np.inf) -> np.ndarray:
    """q/(t F): ultimate shear flow q of one web, N/m, over what it bears, thickness t m, strength F Pa.

    NaN where the flow is past the buckling flow (`buckles`, N/m): what a buckled ply web bears is not published in
    anything we could read. A negative flow is the same the other way.
    """
    q = np.abs(np.asarray(flow, dtype=float))
    return np.asarray(np.where(q <= buckles, q / (np.asarray(thickness) * strength), np.nan))


def working(flow: float, thickness: float, strength: float, buckles: float = np.inf, source: str = ""
            ) -> tuple[Step, ...]:  # fmt: skip
    """The lines of one web in shear; source: of its strength."""
    found = float(use(flow, thickness, strength, buckles))
    given = (("q", flow, "N/m"), ("t", thickness, "m"))
    return (
        Step("shear stress of the web", "q/t", given, abs(flow) / thickness, "Pa", "common practice: statics"),
        Step("shear strength", "F", (), strength, "Pa", source or "the designer's tests"),
        Step("use", "q/(t F); unknown past buckling", (*given, ("q_cr", float(buckles), "N/m")), found, "1",
             "common practice: statics"),
        margin_step(found),
    )  # fmt: skip
