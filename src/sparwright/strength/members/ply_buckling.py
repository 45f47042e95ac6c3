"""When a flat panel of ply buckles: shear, compression along either edge, or all together, edges simply held.

    U = (1/2) int D_11 w_xx^2 + 2 D_12 w_xx w_yy + D_22 w_yy^2 + 4 D_66 w_xy^2 + 4 (D_16 w_xx + D_26 w_yy) w_xy
    V = (1/2) int N_x w_x^2 + N_y w_y^2 + 2 N_xy w_x w_y          N_x, N_y plus where they press
    w = sum a_mn sin(m pi x/a) sin(n pi y/b)                      panel a by b
    w = sum c_n sin(n pi y/b) exp(i k x)                          strip of width b without end, least over k
    (K - lambda G) a = 0                                          lambda: how many times the loads it bears

Ritz's method, so `panel` and `strip` lie above the truth, by less the more terms. With grain along the edges 8 terms
each way are enough (the isotropic square 0.05 % high). With grain at an angle (D_16, D_26) the sines do not meet the
edges' condition and the excess falls as 1/terms, measured from 8 to 30 terms; `shear_flow` takes that out:

    q = 2 q(16 terms) - q(8 terms)

One way of the shear then buckles such a sheet far sooner than the other; `shear_flow` tells the sooner.

Source: timoshenko-gere, lekhnitskii-1968 (memory, high) for the energies. That a panel bears no less than a strip of
the same width: fpl-report-1316 (read). Range: side ratios up to 5 as panels, longer ones as strips; plates thin enough
for no shear through the thickness. Webs' bending stress in their own plane is not in it: the caps take the bending.
"""

from __future__ import annotations

import numpy as np

from sparwright.base.check import Step
from sparwright.base.remembered import remembered
from sparwright.strength.members.ply import Ply, Veneer, crossed, stiffness
from sparwright.strength.members.wood_margin import Floats, margin_step

TERMS = 8  # half waves each way
LONGEST = 5.0  # side ratio of a panel; longer ones are strips
ALONG = 1e-9  # D_16 under this part of D_11 is rounding
LIMIT = 1.5  # ultimate over limit
LAYUPS = ((1 / 3,) * 3, (0.25, 0.5, 0.25), (0.2,) * 5)  # shares of the thickness a thin sheet may have
KEPT = 4000  # sizes of sheet kept in memory: an aeroplane asks for the same ones in every case
SOURCE = "lekhnitskii-1968 by Ritz's method; fpl-report-1316 for strips"


@remembered(KEPT)
def panel(bending: np.ndarray, a: float, b: float, loads: tuple[float, float, float], terms: int = TERMS) -> float:
    """How many times the loads (N_x, N_y, N_xy), N/m, a panel a along x by b along y, m, bears before it buckles.

    bending: D, (3, 3) N m. Infinite where the loads cannot buckle it. NaN for side ratios past LONGEST.

    >>> D = np.diag([1.0, 1.0, 0.35]); D[0, 1] = D[1, 0] = 0.3      # nu = 0.3
    >>> round(panel(D, 1.0, 1.0, (0.0, 0.0, 1.0)) / np.pi**2, 2)    # 9.34 in any text
    9.33
    >>> round(panel(D, 1.0, 1.0, (1.0, 0.0, 0.0)) / np.pi**2, 4)
    4.0
    """
    if not 1 / LONGEST <= a / b <= LONGEST or not np.all(np.isfinite(bending)):
        return float("nan")
    along = int(np.ceil(terms * max(1.0, a / b) ** 0.5))
    up = int(np.ceil(terms * max(1.0, b / a) ** 0.5))
    m, n = (x.ravel() for x in np.meshgrid(np.arange(1, along + 1), np.arange(1, up + 1), indexing="ij"))
    alpha, beta = m * np.pi / a, n * np.pi / b
    sx, sy = _sin_cos(m, a), _sin_cos(n, b)
    d11, d12, d22, d66, d16, d26 = _six(bending)
    # int w_xx,i w_xy,j and int w_yy,i w_xy,j
    twist = -(np.outer(d16 * alpha**2 + d26 * beta**2, alpha * beta)) * sx * sy
    stiff = np.diag(a * b / 4 * (d11 * alpha**4 + 2 * (d12 + 2 * d66) * alpha**2 * beta**2 + d22 * beta**4))
    stiff += 2 * (twist + twist.T)
    nx, ny, nxy = loads
    slide = np.outer(alpha, beta) * sx.T * sy
    load = np.diag(a * b / 4 * (nx * alpha**2 + ny * beta**2)) + nxy * (slide + slide.T)
    return float(_least(stiff, load))


def strip(bending: np.ndarray, b: float, loads: tuple[float, float, float], terms: int = TERMS) -> float:
    """The same of a strip along x without end, b wide, edges simply held.

    >>> D = np.diag([1.0, 1.0, 0.35]); D[0, 1] = D[1, 0] = 0.3
    >>> round(strip(D, 1.0, (0.0, 0.0, 1.0)) / np.pi**2, 3)         # 5.34 in any text
    5.337
    """
    if not np.all(np.isfinite(bending)):
        return float("nan")
    natural = (bending[1, 1] / bending[0, 0]) ** 0.25 * np.pi / b
    waves = natural * np.geomspace(0.003, 6.0, 80)
    for _ in range(3):
        found = _of_waves(bending, b, loads, waves, terms)
        i = int(np.argmin(found))
        waves = np.linspace(waves[max(i - 1, 0)], waves[min(i + 1, len(waves) - 1)], 15)
    return float(np.min(found))


def _of_waves(
    bending: np.ndarray, b: float, loads: tuple[float, float, float], waves: np.ndarray, terms: int
) -> np.ndarray:
    """(k,) how many times the loads a strip bears in each of k wave numbers, 1/m."""
    n, k, whole = np.arange(1, terms + 1), waves[:, None, None], np.eye(terms)
    beta, s = n * np.pi / b, _sin_cos(n, b)
    d11, d12, d22, d66, d16, d26 = _six(bending)
    nx, ny, nxy = loads
    half = b / 2
    stiff = half * (d11 * k**4 + 2 * (d12 + 2 * d66) * k**2 * beta**2 + d22 * beta**4) * whole + 0j
    odd = -1j * k * (d16 * k**2 + d26 * beta[:, None] ** 2) * beta * s  # conj(w_xx) or conj(w_yy), times w_xy
    stiff += 2 * (odd + odd.conj().swapaxes(1, 2))
    slide = -1j * k * beta * s  # conj(w_x) w_y
    load = half * (nx * k**2 + ny * beta**2) * whole + nxy * (slide + slide.conj().swapaxes(1, 2))
    return _least(stiff, load)


def _six(d: np.ndarray) -> tuple[float, float, float, float, float, float]:
    return d[0, 0], d[0, 1], d[1, 1], d[2, 2], d[0, 2], d[1, 2]


def _sin_cos(m: np.ndarray, length: float) -> np.ndarray:
    """(i, j): int sin(m_i pi x/L) cos(m_j pi x/L) dx over the length."""
    i, j = m[:, None], m[None, :]
    gap = np.where((i + j) % 2, i**2 - j**2, 1)
    return np.where((i + j) % 2, 2 * i * length / np.pi / gap, 0.0)


def _least(stiff: np.ndarray, load: np.ndarray) -> np.ndarray:
    """Least lambda > 0 of stiff a = lambda load a, of one pair or a stack of them."""
    root = np.linalg.inv(np.linalg.cholesky(stiff))
    most = np.linalg.eigvalsh(root @ load @ root.conj().swapaxes(-1, -2))[..., -1]
    with np.errstate(divide="ignore"):
        return np.asarray(np.where(most > 1e-12, 1 / most, np.inf))


def shear_flow(bending: np.ndarray, a: Floats, b: Floats) -> np.ndarray:
    """q_cr, N/m, of panels a along x by b along y (numbers or arrays, m), for the worse way of the shear.

    bending: D, (3, 3) N m, of one sheet. Panels longer than LONGEST times their width are strips. A panel takes some
    2 ms with grain along the edges, 0.1 s with grain at an angle: ask once for a size.
    """
    each = np.vectorize(lambda x, y: _shear_flow(bending, float(x), float(y)), otypes=[float])
    with np.errstate(invalid="ignore"):
        return np.asarray(each(a, b))


@remembered(KEPT)
def _shear_flow(d: np.ndarray, a: float, b: float) -> float:
    if not (a > 0 and b > 0):
        return float("nan")
    if b > LONGEST * a:
        d, a, b = turned(d), b, a
    if max(abs(d[0, 2]), abs(d[1, 2])) < ALONG * d[0, 0]:
        return _sooner(d, a, b, TERMS)
    return 2 * _sooner(d, a, b, 2 * TERMS) - _sooner(d, a, b, TERMS)


def _sooner(d: np.ndarray, a: float, b: float, terms: int) -> float:
    ways = ((0.0, 0.0, 1.0), (0.0, 0.0, -1.0))
    return min(strip(d, b, w, terms) if a > LONGEST * b else panel(d, a, b, w, terms) for w in ways)


def turned(bending: np.ndarray) -> np.ndarray:
    """D of the same sheet seen with x and y changed over: rows and columns swapped."""
    swap = [1, 0, 2]
    return np.asarray(bending[np.ix_(swap, swap)])


def least(wood: Veneer, thickness: float, face: float, a: float, b: float) -> tuple[float, tuple[Ply, ...]]:
    """(q_cr, N/m, the plies that give it): the least of LAYUPS, for a sheet of which the thickness alone is known.

    face: angle of the outer grain to x, rad. Common practice, no source: three plies alike or with a thicker core, or
    five alike. Count and measure the plies of the sheet and ask `shear_flow`.
    """
    sheets = [crossed(thickness, len(s), face, s) for s in LAYUPS]
    flows = [float(shear_flow(stiffness(wood, plies)[1], a, b)) for plies in sheets]
    i = int(np.argmin(flows))
    return flows[i], sheets[i]


def use(flow: Floats, critical: Floats) -> np.ndarray:
    """q/q_cr at ultimate load: at or under 1 the web is flat all the way up and nothing else is open."""
    return np.asarray(np.abs(flow) / np.asarray(critical))


def together(bending: np.ndarray, a: float, b: float, loads: tuple[float, float, float]) -> float:
    """Use of a panel under (N_x, N_y, N_xy), N/m at ultimate load, plus where they press: 1/`panel`.

    A skin that is pressed by the wing's bending and sheared by its torque. NaN for side ratios past LONGEST.

    >>> D = np.diag([1.0, 1.0, 0.35]); D[0, 1] = D[1, 0] = 0.3
    >>> round(together(D, 1.0, 1.0, (2 * np.pi**2, 0.0, 0.0)), 4)
    0.5
    """
    return 1 / panel(bending, a, b, loads)


def use_at_limit(flow: Floats, critical: Floats) -> np.ndarray:
    """q/(1.5 q_cr), q at ultimate load: at or under 1 the web is flat at limit load."""
    return np.asarray(np.abs(flow) / (LIMIT * np.asarray(critical)))


def working(flow: float, bending: np.ndarray, a: float, b: float) -> tuple[Step, ...]:
    """The lines of one web panel in shear, flat up to ultimate load."""
    critical = float(shear_flow(bending, a, b))
    names = ("D_11", "D_12", "D_22", "D_66", "D_16", "D_26")
    given = tuple((k, float(x), "N m") for k, x in zip(names, _six(bending), strict=True))
    mean = float((bending[0, 0] * bending[1, 1] ** 3) ** 0.25)
    found = float(use(flow, critical))
    return (
        Step("buckling flow", "least lambda of (K - lambda G) a = 0", (*given, ("a", a, "m"), ("b", b, "m")), critical,
             "N/m", SOURCE),
        Step("its coefficient, to hold beside a table", "q_cr b^2/(pi^2 (D_11 D_22^3)^(1/4))",
             (("q_cr", critical, "N/m"), ("b", b, "m")), critical * b**2 / (np.pi**2 * mean), "1", "timoshenko-gere"),
        Step("use", "q/q_cr", (("q", flow, "N/m"), ("q_cr", critical, "N/m")), found, "1", "common practice: statics"),
        margin_step(found),
    )  # fmt: skip
