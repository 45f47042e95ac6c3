"""A thin-walled section, open or with any number of cells: its axes, shear flows, shear centre and torsion constant.

A section is nodes, straight walls between them, and booms at nodes. Nothing says which walls make a cell: the warping
of the nodes is solved for, so that an open channel, a box, a nose with a box spar behind it and a whole skin with
three webs are one sum (the continuity of twist round each cell comes out by itself).

Symbols: s along a wall from its start to its end, L its length, t thickness, a = t times the share that carries
bending, B boom areas, p the distance of the wall's line from the origin (p L = x_i y_j - x_j y_i), w warping of a node,
theta' twist per length, q shear flow (force per length, from start to end), G shear modulus over that of reference n_G.

    q_mean = G t [(w_j - w_i)/L + theta' p]                      shear law of a wall, mean along it
    q(s) = q_i - int_0^s f a ds,  f = A x + C y about the centroid
    A = (V_x I_xx - V_y I_xy)/(I_xx I_yy - I_xy^2),  C = (V_y I_yy - V_x I_xy)/(I_xx I_yy - I_xy^2)
    sum out of a node = -f B                                     equilibrium of a node
    G J = sum q_mean p L at theta' = 1,  + sum G L t^3/3 of the walls as thin strips

Range: walls thin against the cells they bound (t under about a tenth of it), the shape of the section kept by ribs,
warping free. Source: megson (chapters on open and closed thin-walled beams; the formulas from memory, high).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sparwright.base.record import locked, number


@dataclass(frozen=True)
class ThinSection:
    """Nodes, walls and booms of a thin-walled section; `section` makes one and looks whether it hangs together."""

    nodes: np.ndarray  # (2, n) m, x aft and y up
    ends: np.ndarray  # (2, m) start and end node of each wall
    thickness: np.ndarray  # (m,) m
    bends: np.ndarray  # (m,) share of each wall that carries bending, 0 to 1, over the modulus of reference
    shear: np.ndarray  # (m,) shear modulus of each wall over that of reference
    booms: np.ndarray  # (n,) m2, areas that carry bending, over the modulus of reference

    @cached_property
    def length(self) -> np.ndarray:
        """(m,) m, length of each wall."""
        return np.asarray(np.hypot(*(self.nodes[:, self.ends[1]] - self.nodes[:, self.ends[0]])))

    @cached_property
    def areas(self) -> np.ndarray:
        """(m,) m2, what of each wall carries bending."""
        return np.asarray(self.thickness * self.length * self.bends)

    @cached_property
    def swept(self) -> np.ndarray:
        """(m,) m2, p L: twice the area a wall sweeps about the origin, against the clock positive."""
        (xi, yi), (xj, yj) = self.nodes[:, self.ends[0]], self.nodes[:, self.ends[1]]
        return np.asarray(xi * yj - xj * yi)


@dataclass(frozen=True)
class Axes:
    """Area, centroid and second moments of what carries bending."""

    area: float = number("m2", "walls that carry bending, and booms")
    x: float = number("m", "centroid, aft")
    y: float = number("m", "centroid, up")
    xx: float = number("m4", "I_xx = int y^2 dA about the centroid")
    yy: float = number("m4", "I_yy = int x^2 dA about the centroid")
    xy: float = number("m4", "I_xy = int x y dA about the centroid")

    @property
    def principal(self) -> tuple[float, float, float]:
        """(greater I, lesser I, angle of the greater one's axis to x, rad).

        tan 2 angle = -2 I_xy/(I_xx - I_yy); I = (I_xx + I_yy)/2 +- sqrt(((I_xx - I_yy)/2)^2 + I_xy^2).
        """
        middle, half = (self.xx + self.yy) / 2, (self.xx - self.yy) / 2
        reach = float(np.hypot(half, self.xy))
        return middle + reach, middle - reach, float(0.5 * np.arctan2(-2 * self.xy, self.xx - self.yy))

    def stress(self, x: np.ndarray, y: np.ndarray, mx: float, my: float, pull: float = 0.0) -> np.ndarray:
        """Direct stress at (x, y), Pa: N/A + [(M_x I_yy - M_y I_xy) y + (M_y I_xx - M_x I_xy) x]/(I_xx I_yy - I_xy^2).

        mx, my in N m, positive where they pull on the positive side of y and of x; pull in N at the centroid.
        """
        det = self.xx * self.yy - self.xy**2
        u, v = np.asarray(x) - self.x, np.asarray(y) - self.y
        bent = (mx * self.yy - my * self.xy) * v + (my * self.xx - mx * self.xy) * u
        return np.asarray(pull / self.area + bent / det)


def section(nodes: Sequence[Sequence[float]] | np.ndarray, ends: Sequence[tuple[int, int]] | np.ndarray,
            thickness: Sequence[float] | np.ndarray, booms: Sequence[float] | np.ndarray | float = 0.0,
            bends: Sequence[float] | np.ndarray | float = 1.0,
            shear: Sequence[float] | np.ndarray | float = 1.0) -> ThinSection:  # fmt: skip
    """A section out of nodes (n, 2) m, walls as pairs of node numbers, their thickness (m,) m and boom areas (n,) m2.

    ValueError where walls do not all hang together, have no length, or a number is not positive and finite.

    >>> box = section([(0, 0), (2, 0), (2, 1), (0, 1)], [(0, 1), (1, 2), (2, 3), (3, 0)], [0.01] * 4)
    >>> round(torsion_constant(box), 6)   # 4 A^2/(sum L/t) + sum L t^3/3
    0.026669
    """
    at, pairs = np.asarray(nodes, float).T, np.asarray(ends, int).T
    m, n = pairs.shape[1], at.shape[1]
    of_walls = [locked(np.broadcast_to(np.asarray(v, float), (m,))) for v in (thickness, bends, shear)]
    made = ThinSection(locked(at), pairs, of_walls[0], of_walls[1], of_walls[2], locked(np.broadcast_to(booms, (n,))))
    if not (np.all(made.thickness > 0) and np.all(made.shear > 0) and np.all(made.length > 0)):
        raise ValueError("walls of a thin section need a thickness, a shear modulus and a length above nought")
    if np.any(made.bends < 0) or np.any(made.booms < 0) or not np.all(np.isfinite(at)):
        raise ValueError("booms and what a wall carries in bending cannot be negative; places must be numbers")
    if _reached(pairs, n) < n:
        raise ValueError("the walls of a thin section do not all hang together")
    return made


def _reached(pairs: np.ndarray, n: int) -> int:
    """How many nodes are reached from the first along walls."""
    seen = np.zeros(n, bool)
    seen[0] = True
    for _ in range(n):
        i, j = seen[pairs[0]], seen[pairs[1]]
        seen[pairs[1][i]] = seen[pairs[0][j]] = True
    return int(seen.sum())


def axes(made: ThinSection) -> Axes:
    """Centroid and second moments; each wall by its exact integral L a (x_i^2 + x_i x_j + x_j^2)/3.

    ValueError where nothing carries bending.
    """
    (xi, yi), (xj, yj) = made.nodes[:, made.ends[0]], made.nodes[:, made.ends[1]]
    (xb, yb), a, b = made.nodes, made.areas, made.booms
    area = float(a.sum() + b.sum())
    if area <= 0:
        raise ValueError("nothing of the section carries bending")
    x = float(((xi + xj) / 2 @ a + xb @ b) / area)
    y = float(((yi + yj) / 2 @ a + yb @ b) / area)

    def second(ui: np.ndarray, uj: np.ndarray, ub: np.ndarray, vi: np.ndarray, vj: np.ndarray, vb: np.ndarray) -> float:
        wall = (2 * ui * vi + 2 * uj * vj + ui * vj + uj * vi) / 6
        return float(wall @ a + (ub * vb) @ b)

    u, v = (xi - x, xj - x, xb - x), (yi - y, yj - y, yb - y)
    return Axes(area, x, y, second(*v, *v), second(*u, *u), second(*u, *v))


def _laplacian(made: ThinSection) -> np.ndarray:
    """(n, n) sum of G t/L between the nodes, over the shear modulus of reference."""
    n, (i, j) = made.nodes.shape[1], made.ends
    k = made.shear * made.thickness / made.length
    full = np.zeros((n, n))
    for a, b, sign in ((i, i, 1), (j, j, 1), (i, j, -1), (j, i, -1)):
        np.add.at(full, (a, b), sign * k)
    return full


def _warped(made: ThinSection, push: np.ndarray) -> np.ndarray:
    """(n, ...) warping of the nodes under what flows out of each, first node held."""
    w = np.zeros_like(push)
    w[1:] = np.linalg.solve(_laplacian(made)[1:, 1:], push[1:])
    return w


def twisted(made: ThinSection) -> np.ndarray:
    """(m,) mean shear flow of each wall over G at a twist of one radian a metre, m: Bredt's flow, no strips."""
    own = made.shear * made.thickness * made.swept / made.length
    push = np.zeros(made.nodes.shape[1])
    np.add.at(push, made.ends[0], own)
    np.add.at(push, made.ends[1], -own)
    w = _warped(made, push)
    k = made.shear * made.thickness / made.length
    return np.asarray(k * (w[made.ends[1]] - w[made.ends[0]]) + own)


def strips(made: ThinSection) -> float:
    """sum n_G L t^3/3, m4: what the walls do as open strips."""
    return float((made.shear * made.length * made.thickness**3).sum() / 3)


def torsion_constant(made: ThinSection) -> float:
    """J, m4, by Bredt-Batho for every cell together, and the walls' own strips; G J = G of reference times J."""
    return float(twisted(made) @ made.swept) + strips(made)


def torsion_flow(made: ThinSection) -> np.ndarray:
    """(m,) shear flow of each wall for a torque of 1 N m, against the clock (x aft, y up), 1/m.

    The strips' share of the torque is left out, so that the cells carry it all (safe side). NaN where there is
    no cell: an open section carries torque by its strips and by held warping, not by shear flow.
    """
    q = twisted(made)
    closed = float(q @ made.swept)
    if closed <= 1e-9 * float((made.shear * made.thickness * made.swept**2 / made.length).sum() + 1e-300):
        return np.full(q.shape, np.nan)
    return np.asarray(q / closed)


def shear_flow(made: ThinSection, vx: float, vy: float) -> np.ndarray:
    """(3, m) shear flow at start, middle and end of each wall, N/m, of forces through the shear centre, without twist.

    vx aft, vy up, N. q at the middle is the value there, not the mean along the wall.
    """
    about = axes(made)
    det = about.xx * about.yy - about.xy**2
    if det <= 1e-12 * max(about.xx, about.yy) ** 2:
        raise ValueError("what carries bending lies on one line: the section cannot be bent both ways")
    slope = np.array([vx * about.xx - vy * about.xy, vy * about.yy - vx * about.xy]) / det
    f = slope @ (made.nodes - np.array([[about.x], [about.y]]))
    fi, fj = f[made.ends[0]], f[made.ends[1]]
    first, last = made.areas * (2 * fi + fj) / 6, made.areas * (fi + 2 * fj) / 6
    push = -f * made.booms
    np.add.at(push, made.ends[0], -first)
    np.add.at(push, made.ends[1], -last)
    w = _warped(made, -push)
    mean = made.shear * made.thickness / made.length * (w[made.ends[1]] - w[made.ends[0]])
    start = mean + first
    return np.array([start, start - made.areas * (3 * fi + fj) / 8, mean - last])


def shear_centre(made: ThinSection) -> tuple[float, float]:
    """(x, y) m: where a force bends the section without twisting it."""
    found = []
    for vx, vy in ((0.0, 1.0), (1.0, 0.0)):
        start, middle, end = shear_flow(made, vx, vy)
        found.append(float((start + 4 * middle + end) / 6 @ made.swept))
    return found[0], -found[1]


def flow(made: ThinSection, torque: np.ndarray, vx: np.ndarray, vy: np.ndarray,
         at: tuple[float, float] | None = None) -> np.ndarray:  # fmt: skip
    """(3, m, k) shear flow at start, middle and end of each wall under k loads, N/m.

    torque (k,) N m against the clock about `at` (m; the shear centre where left out); vx aft and vy up (k,), N,
    through `at`. NaN for torque on an open section.
    """
    x, y = shear_centre(made)
    px, py = at if at is not None else (x, y)
    vx, vy = np.asarray(vx, float), np.asarray(vy, float)
    whole = np.asarray(torque) + (px - x) * vy - (py - y) * vx
    turned = torsion_flow(made)
    level, upright = shear_flow(made, 1.0, 0.0), shear_flow(made, 0.0, 1.0)
    by_torque = np.where(whole == 0.0, 0.0, np.multiply.outer(turned, whole))
    return np.asarray(by_torque[None] + np.multiply.outer(level, vx) + np.multiply.outer(upright, vy))
