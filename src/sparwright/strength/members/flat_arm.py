"""Arms, horns and bracket plates: a flat bar cut out of sheet, bent, pulled, sheared and twisted at one cut.

Symbols: t thickness, w width of a piece of the cut, A area, I second moment in the plate's plane, c from its middle to
the far edge, N along the arm, V across it in the plane, Q out of the plane, M in the plane, M_o out of it, T torque,
F strength in tension or compression, F_s in shear.

    pulled, bent      R = N/(A F) + M c/(I F) + 6 M_o/(sum w t^2 F)
    twisted           tau = T (3 w + 1.8 t)/(w^2 t^2), w the greater side; of two pieces beside a hole each its part by
                      its stiffness w t^3/3 (1 - 0.63 t/w)
    sheared           tau = 1.5 sqrt(V^2 + Q^2)/A
    all               u = (R + sqrt(R^2 + 4 R_s^2))/2, R_s = (tau_T + tau_V)/F_s

Elastic: what a flat bar bears beyond yield at its edges (up to 1.5) is left out, on the safe side. Each greatest
stress is taken as if all lay in one point. Range: a bar no thicker than wide; a taper of up to 30 deg either side, as
a bar's beam theory wants (common practice). Sources: timoshenko-gere (bar, memory, high); shigley (torsion of a
rectangle within 4 %, memory, high).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.strength.members.margin import finite, verdict, within
from sparwright.strength.members.tube import together

EDGE_PEAK = 1.5  # greatest shear of a rectangle over its mean


@dataclass(frozen=True, kw_only=True)
class FlatCut:
    """One cut through a plate, square to its arm."""

    pieces: tuple[float, ...] = number("m", "width of each piece, one or more with holes between")
    thickness: float = number("m", "t")
    area: float = number("m2", "A")
    inertia: float = number("m4", "I in the plate's plane")
    far: float = number("m", "c, to the further edge")


@dataclass(frozen=True, kw_only=True)
class ArmLoads:
    """What acts at a cut; all of one shape."""

    along: ArrayLike = 0.0  # N
    across: ArrayLike = 0.0  # N, in the plane
    out: ArrayLike = 0.0  # N, out of the plane
    moment: ArrayLike = 0.0  # N m, in the plane
    moment_out: ArrayLike = 0.0  # N m, out of it
    torque: ArrayLike = 0.0  # N m, about the arm


def flat_cut(pieces: Sequence[tuple[float, float]], thickness: float) -> FlatCut:
    """A cut by where each piece of it begins and ends along the cut, m. ValueError for none.

    >>> c = flat_cut([(-0.01, 0.01)], 0.002)
    >>> round(c.inertia / (0.002 * 0.02**3 / 12), 9), round(c.far, 9)
    (1.0, 0.01)
    """
    if not pieces or thickness <= 0:
        raise ValueError("a cut has a piece at least, and a thickness")
    low, high = np.asarray(pieces, dtype=float).T
    w, middle = high - low, (high + low) / 2
    area = thickness * float(w.sum())
    axis = float((w * middle).sum() / w.sum())
    inertia = thickness * float((w**3 / 12 + w * (middle - axis) ** 2).sum())
    far = max(float(high.max()) - axis, axis - float(low.min()))
    return FlatCut(pieces=tuple(map(float, w)), thickness=thickness, area=area, inertia=inertia, far=far)


def twist_stress(torque: ArrayLike, cut: FlatCut) -> np.ndarray:
    """tau, Pa, of a torque, N m, on all pieces together.

    >>> c = flat_cut([(0.0, 0.1)], 0.01)        # thin: 3 T/(w t^2) with 6 % on it
    >>> round(float(twist_stress(1.0, c)) / (3 / (0.1 * 0.01**2)), 3)
    1.06
    """
    w, t = np.array(cut.pieces), cut.thickness
    wide, thin = np.maximum(w, t), np.minimum(w, t)
    stiff = wide * thin**3 / 3 * (1 - 0.63 * thin / wide)
    each = stiff / stiff.sum() * (3 * wide + 1.8 * thin) / (wide * thin) ** 2
    return np.asarray(np.abs(np.asarray(torque, dtype=float)) * each.max())


def uses(loads: ArmLoads, cut: FlatCut, strength: ArrayLike, shear: ArrayLike) -> tuple[np.ndarray, ...]:
    """(pulled, bent in the plane, bent out of it, twisted, sheared): uses of their own; strength F, shear F_s, Pa."""
    N, V, Q, M, M_o, T = (
        np.abs(np.asarray(v, dtype=float))
        for v in (loads.along, loads.across, loads.out, loads.moment, loads.moment_out, loads.torque)
    )
    F, F_s, t = np.asarray(strength, dtype=float), np.asarray(shear, dtype=float), cut.thickness
    wide = sum(cut.pieces)
    fits = wide >= t
    return (
        N / (cut.area * F),
        M * cut.far / (cut.inertia * F),
        within(fits, 6 * M_o / (wide * t**2 * F)),
        within(fits, twist_stress(T, cut) / F_s),
        EDGE_PEAK * np.hypot(V, Q) / (cut.area * F_s),
    )


def use(loads: ArmLoads, cut: FlatCut, strength: ArrayLike, shear: ArrayLike) -> np.ndarray:
    """(R + sqrt(R^2 + 4 R_s^2))/2: goes with the load. NaN for a bar thicker than wide.

    >>> bar = flat_cut([(-0.01, 0.01)], 0.003)
    >>> round(float(use(ArmLoads(moment=20.0), bar, 400e6, 200e6)), 6)      # 6 M/(t w^2) = 100 MPa
    0.25
    """
    pulled, bent, bowed, twisted, sheared = uses(loads, cut, strength, shear)
    return together(pulled + bent, bowed, twisted + sheared)


def working(loads: ArmLoads, cut: FlatCut, strength: float, shear: float) -> tuple[Step, ...]:
    """One cut, line by line."""
    R = [float(r) for r in uses(loads, cut, strength, shear)]
    size = (("A", cut.area, "m2"), ("I", cut.inertia, "m4"), ("c", cut.far, "m"), ("t", cut.thickness, "m"))
    wide, (N, V, Q, M, M_o, T) = sum(cut.pieces), _numbers(loads)
    given = tuple((f"R_{k}", r, "1") for k, r in enumerate(R, 1))
    return (
        Step(
            "pulled or pressed", "R_1 = N/(A F)", (("N", N, "N"), size[0], ("F", strength, "Pa")), R[0], "1", "statics"
        ),
        Step("bent in its plane", "R_2 = M c/(I F)", (("M", M, "N m"), size[1], size[2]), R[1], "1", "timoshenko-gere"),
        Step(
            "bent out of it",
            "R_3 = 6 M_o/(w t^2 F)",
            (("M_o", M_o, "N m"), ("w", wide, "m"), size[3]),
            R[2],
            "1",
            "timoshenko-gere",
        ),
        Step(
            "twisted",
            "R_4 = T (3 w + 1.8 t)/(w^2 t^2 F_s)",
            (("T", T, "N m"), ("w", wide, "m"), size[3], ("F_s", shear, "Pa")),
            R[3],
            "1",
            "shigley",
        ),
        Step(
            "sheared", "R_5 = 1.5 sqrt(V^2 + Q^2)/(A F_s)", (("V", V, "N"), ("Q", Q, "N")), R[4], "1", "timoshenko-gere"
        ),
        *verdict(
            float(use(loads, cut, strength, shear)),
            "(R + sqrt(R^2 + 4 R_s^2))/2, R = R_1 + R_2 + R_3, R_s = R_4 + R_5",
            given,
            finite(strength=strength, shear=shear),
        ),
    )


def _numbers(loads: ArmLoads) -> tuple[float, ...]:
    values = (loads.along, loads.across, loads.out, loads.moment, loads.moment_out, loads.torque)
    return tuple(abs(float(np.asarray(v))) for v in values)
