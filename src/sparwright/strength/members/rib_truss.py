"""Ribs built up of strip and gussets: a plane frame of pinned strips, its strips and its glue.

    sum of forces at each joint = 0                    two lines a joint, statically determinate
    strip pressed: wood_column; pulled: P/(A F_t)      a cap between joints bends besides: M = w L^2/8
    gusset: P/(faces A_g share F_s)                    A_g glued on one face of the strip
    by sections: cap N = M/z, diagonal S = V/sin a     z between cap middles, a from a cap to the diagonal
    at a spar, between its two posts, no diagonal: each cap bears V/2 over the gap g, m = V g/4

Source: timoshenko-gere (statics). Pins where gussets are stiff lie on the safe side for loads at joints; bending that
stiff joints bring in is left out (secondary, common practice). Range: as many strips and supports as lines.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sparwright.base.check import Step
from sparwright.strength.members import glue, wood_column
from sparwright.strength.members.wood_margin import Floats, margin_step

FACES = 2  # gussets on both faces
FLAT = 1e-9  # a frame whose lines are nearer than this to one another cannot stand


def forces(joints: np.ndarray, strips: Sequence[tuple[int, int]], held: Sequence[tuple[int, float]],
           loads: np.ndarray) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """(strip forces (..., k), plus where pulled; reactions (..., r)), N.

    joints (j, 2) m; strips pairs of joints; held: (joint, angle of the reaction to x, rad); loads (..., j, 2) N.
    ValueError unless k + r = 2 j and the frame stands.

    >>> corners = np.array([[0.0, 0.0], [1.0, 0.0], [0.5, 0.5]])
    >>> n, r = forces(corners, [(0, 1), (0, 2), (1, 2)], [(0, 0.0), (0, np.pi / 2), (1, np.pi / 2)],
    ...               np.array([[0.0, 0.0], [0.0, 0.0], [0.0, -100.0]]))
    >>> n.round(3), r[1:].round(3)
    (array([ 50.   , -70.711, -70.711]), array([50., 50.]))
    """
    joints = np.asarray(joints, dtype=float)
    lines = len(strips) + len(held)
    if lines != 2 * len(joints):
        raise ValueError(f"{len(joints)} joints want {2 * len(joints)} strips and reactions, there are {lines}")
    matrix = np.zeros((2 * len(joints), lines))
    for k, (a, b) in enumerate(strips):
        away = (joints[b] - joints[a]) / np.linalg.norm(joints[b] - joints[a])
        matrix[2 * a : 2 * a + 2, k] += away
        matrix[2 * b : 2 * b + 2, k] -= away
    for k, (joint, angle) in enumerate(held, len(strips)):
        matrix[2 * joint : 2 * joint + 2, k] += (np.cos(angle), np.sin(angle))
    if np.linalg.svd(matrix, compute_uv=False)[-1] < FLAT:
        raise ValueError("the frame of the rib falls over: a strip or a support is missing")
    push = np.asarray(loads, dtype=float).reshape(*np.shape(loads)[:-2], 2 * len(joints))
    found = -np.linalg.solve(matrix, push[..., None])[..., 0]
    return found[..., : len(strips)], found[..., len(strips) :]


def strip_use(force: Floats, width: Floats, depth: Floats, length: Floats, youngs: Floats, crushing: Floats,
              tension: Floats, running: Floats = 0.0, bending: Floats = np.inf) -> np.ndarray:  # fmt: skip
    """Use of a strip width by depth, m, between joints `length` apart.

    force N, plus pulled; running: air load on a cap between its joints, N/m, bent across its depth, M = w L^2/8 as if
    it ended at each joint (on the safe side of a cap that runs through); bending: modulus of rupture, Pa. A pressed
    and bent cap's moment is made larger by 1/(1 - P/P_E); NaN where it is past P_E, Euler's load in that plane.
    """
    b, d, n = (np.asarray(v, dtype=float) for v in (width, depth, force))
    area, long = b * d, np.asarray(length, dtype=float)
    pressed = wood_column.use(-n, area, np.minimum(b, d) / np.sqrt(12), long, youngs, crushing)
    pulled = np.maximum(n, 0) / (area * np.asarray(tension))
    euler = np.pi**2 * np.asarray(youngs) * b * d**3 / 12 / long**2
    grows = 1 - np.maximum(-n, 0) / euler
    moment = np.abs(running) * long**2 / 8 / np.where(grows > 0, grows, np.where(np.asarray(running) == 0, 1.0, np.nan))
    return np.asarray(pressed + pulled + 6 * moment / (b * d**2) / np.asarray(bending))


def by_sections(moment: Floats, shear: Floats, between: Floats, angle: Floats) -> tuple[np.ndarray, np.ndarray]:
    """(cap force, diagonal force), N, without sign, where the frame is not laid out joint by joint.

    moment and shear at the bay's worse end (wood_rib.beam), between z m, angle a rad. Slope of the caps left out: it
    relieves the diagonals where the rib grows deeper towards its spar, as ribs do. Plane statics of parallel caps.

    >>> [float(v.round(3)) for v in by_sections(10.0, 60.0, 0.08, np.pi / 4)]
    [125.0, 84.853]
    """
    return np.asarray(np.abs(moment) / np.asarray(between)), np.asarray(np.abs(shear) / np.sin(angle))


def gap_use(force: Floats, shear: Floats, gap: Floats, width: Floats, depth: Floats, bending: Floats, along: Floats
            ) -> np.ndarray:  # fmt: skip
    """A cap where no diagonal stands, over a spar: N/(b d F_a) + 6 (V g/4)/(b d^2 F_b).

    force of the cap and shear of the rib N, gap g, cap width b and depth d m; along F_a the lower of its tension and
    crushing, bending F_b its modulus of rupture, Pa. Range: gaps short enough that the cap does not buckle in them.
    """
    b, d = np.asarray(width, dtype=float), np.asarray(depth, dtype=float)
    bent = 6 * np.abs(shear) * np.asarray(gap) / 4 / (b * d**2) / np.asarray(bending)
    return np.asarray(np.abs(force) / (b * d * np.asarray(along)) + bent)


def gusset_use(force: Floats, area: Floats, shear: Floats, angle: float = 90.0) -> np.ndarray:
    """P/(2 A_g share F_s): the end of a strip in its gussets, A_g glued on one face; angle between the grains."""
    return glue.area_use(force, FACES * np.asarray(area), shear, angle)


def working(force: float, width: float, depth: float, length: float, youngs: float, crushing: float, tension: float
            ) -> tuple[Step, ...]:  # fmt: skip
    """The lines of one strip without load between its joints."""
    radius, area = min(width, depth) / np.sqrt(12), width * depth
    if force < 0:
        return wood_column.working(-force, area, radius, length, youngs, crushing)
    found = float(strip_use(force, width, depth, length, youngs, crushing, tension))
    given = (("P", force, "N"), ("b", width, "m"), ("d", depth, "m"), ("F_t", tension, "Pa"))
    return (Step("use", "P/(b d F_t)", given, found, "1", "common practice: statics"), margin_step(found))
