"""Plates and gussets: bearing on bolts by edge distance, net section, spread of load, tearing of a block.

Symbols: e edge distance from the hole's middle, D hole or bolt, t thickness, F_br2 and F_br1.5 bearing strengths at
e/D 2 and 1.5, W width, n holes side by side, w first row's width, L length of the fastener group along the load,
A_gv, A_nv, A_nt areas whole in shear, net in shear, net in tension.

    bearing    F_br2 from e/D 2 on; straight to F_br1.5 at 1.5; below F_br1.5 (e/D - 1/2) down to e/D 1, as
               affdl-tr-69-42 9.3 has it (memory, medium); MIL-HDBK-5's values hold for t/D 0.18 or more (read)
    hole wide  C_r = 1 - 0.275 sqrt(1 - (D_p/D_h)^2), 1 from D_p/D_h 0.9 on         asme-bth-1 3-3.3.1 (part read)
    net        P = F_tu (W - n D) t
    spread     b = w + 2 L tan 30 deg                                                 whitmore-1952 (memory, high)
    pressed    a strip b wide, L long between its last fasteners and the next support, ends free to turn: Johnson, Euler
    block      P = 0.6 F_tu A_nv + F_tu A_nt, at most 0.6 F_ty A_gv + F_tu A_nt       aisc-360 J4.3 (memory, high)

Where no source gives F_br1.5, 0.75 F_br2 stands in: under every published pair on file (0.76 to 0.81; held in
tests/outside/test_joint_strengths.py), common practice.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sparwright.base.check import Step
from sparwright.strength.members.column import johnson
from sparwright.strength.members.margin import finite, first, verdict, within, worst

CLOSE = 1.0  # e/D below which nothing is said
STANDS_IN = 0.75  # of F_br2, for an F_br1.5 that is not known
SHEET = 0.18  # t/D below which MIL-HDBK-5's bearing strengths do not hold
LOOSE = 0.8  # D_p/D_h below which nothing is said


def bearing_strength(edge: ArrayLike, at_two: ArrayLike, at_close: ArrayLike = np.nan) -> np.ndarray:
    """F_br at an edge distance e/D, Pa: the price of a hole out of place. Range: e/D 1 or more; below it NaN.

    at_two: F_br at e/D 2; at_close: at e/D 1.5, NaN where no source gives one.

    >>> [round(float(bearing_strength(r, 88.0, 67.0)), 1) for r in (2.5, 2.0, 1.75, 1.5, 1.0)]
    [88.0, 88.0, 77.5, 67.0, 33.5]
    """
    r, two, close = (np.asarray(a, dtype=float) for a in (edge, at_two, at_close))
    close = np.where(np.isfinite(close), close, STANDS_IN * two)
    between = close + (two - close) * (np.minimum(r, 2.0) - 1.5) / 0.5
    return within(r >= CLOSE, np.where(r < 1.5, close * (r - 0.5), between))


def loose_hole(pin: ArrayLike, hole: ArrayLike) -> np.ndarray:
    """C_r, what is left of a lug's strength when the hole is wider than the pin. Range: D_p/D_h 0.8 to 1, else NaN.

    >>> loose_hole([1.0, 0.85], 1.0).round(4).tolist()
    [1.0, 0.8551]
    """
    r = np.asarray(pin, dtype=float) / np.asarray(hole, dtype=float)
    gone = 0.275 * np.sqrt(np.maximum(1 - r**2, 0.0))
    return within((r >= LOOSE) & (r <= 1 + 1e-9), np.where(r >= 0.9, 1.0, 1 - gone))


def bearing_use(load: ArrayLike, diameter: ArrayLike, thickness: ArrayLike, strength: ArrayLike) -> np.ndarray:
    """P/(D t F_br). load N; diameter of bolt, thickness m; strength F_br, Pa. NaN for t/D below 0.18."""
    D, t = np.asarray(diameter, dtype=float), np.asarray(thickness, dtype=float)
    P = np.abs(np.asarray(load, dtype=float))
    return within(t / D >= SHEET, P / (D * t * np.asarray(strength, dtype=float)))


def net_use(load: ArrayLike, width: ArrayLike, thickness: ArrayLike, hole: ArrayLike, strength: ArrayLike,
            holes: ArrayLike = 1) -> np.ndarray:  # fmt: skip
    """P/(F_tu (W - n D) t). load N, pull positive; a push uses nothing. NaN where the holes take all of the width."""
    left = np.asarray(width, dtype=float) - np.asarray(holes) * np.asarray(hole, dtype=float)
    P = worst(np.asarray(load, dtype=float), 0.0)
    area = within(left > 0, left) * np.asarray(thickness, dtype=float)
    return np.asarray(P / (area * np.asarray(strength, dtype=float)))


def spread_width(first_row: ArrayLike, length: ArrayLike) -> np.ndarray:
    """b = w + 2 L tan 30 deg, m: width of a gusset that counts where its fasteners end; never more than the plate has.

    >>> round(float(spread_width(4.0, 9.0)), 3)
    14.392
    """
    L = np.asarray(length, dtype=float)
    return np.asarray(np.asarray(first_row, dtype=float) + 2 * within(L >= 0, L) * np.tan(np.pi / 6))


def strip_use(load: ArrayLike, width: ArrayLike, thickness: ArrayLike, length: ArrayLike, youngs: ArrayLike,
              crush: ArrayLike) -> np.ndarray:  # fmt: skip
    """P/(b t F): a gusset pressed, as a strip of `spread_width` b and free length L, m, with rho = t/sqrt(12), c = 1.

    load N, push positive; a pull uses nothing. youngs, crush F_cy in Pa. Its neighbours hold it better: the safe end.
    """
    P, b, t = worst(np.asarray(load, dtype=float), 0.0), np.asarray(width, dtype=float), np.asarray(thickness)
    F = johnson(np.asarray(length, dtype=float) * np.sqrt(12) / t, youngs, crush)
    return np.asarray(P / (b * t * F))


def block_strength(whole_shear: ArrayLike, net_shear: ArrayLike, net_tension: ArrayLike, ultimate: ArrayLike,
                   yields: ArrayLike) -> np.ndarray:  # fmt: skip
    """Load, N, at which a block tears out of a plate; areas m2, F_tu and F_ty Pa, the pull even across the block."""
    gv, nv, nt, u, y = (
        np.asarray(a, dtype=float) for a in (whole_shear, net_shear, net_tension, ultimate, yields)
    )  # fmt: skip
    return np.asarray(np.minimum(0.6 * u * nv, 0.6 * y * gv) + u * nt)


def outside_range(edge: float, diameter: float, thickness: float) -> str:
    """Why bearing is NaN; empty where it is not. edge e, diameter D, thickness t, m."""
    return first(
        finite(edge=edge, diameter=diameter, thickness=thickness),
        "" if edge / diameter >= CLOSE else f"edge distance {edge / diameter:.2f} diameters is below {CLOSE:g}",
        "" if thickness / diameter >= SHEET else f"t/D {thickness / diameter:.2f} is below {SHEET}: not in MIL-HDBK-5",
    )


def caveat(edge: float, diameter: float) -> str:
    """What an edge distance under two diameters costs; empty from two on (rule: ac-43-13-1b, read)."""
    r = edge / diameter
    return f"edge distance {r:.2f} diameters; two are the rule" if CLOSE <= r < 2 else ""


def working(load: float, edge: float, diameter: float, thickness: float, at_two: float,
            at_close: float = np.nan) -> tuple[Step, ...]:  # fmt: skip
    """Bearing of one bolt in a plate, line by line."""
    F = float(bearing_strength(edge / diameter, at_two, at_close))
    given = (("P", load, "N"), ("D", diameter, "m"), ("t", thickness, "m"), ("F_br", F, "Pa"))
    return (
        Step("bearing strength at this edge distance", "F_br2; straight to F_br1.5; then F_br1.5 (e/D - 1/2)",
             (("e/D", edge / diameter, "1"), ("F_br2", at_two, "Pa"), ("F_br1.5", at_close, "Pa")), F, "Pa",
             "mil-hdbk-5; affdl-tr-69-42"),
        *verdict(float(bearing_use(load, diameter, thickness, F)), "P/(D t F_br)", given,
                 outside_range(edge, diameter, thickness)),
    )  # fmt: skip
