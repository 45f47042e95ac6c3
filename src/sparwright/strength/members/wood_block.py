"""Blocks under fittings, edge bars and stringers: wood pressed across its grain, split, or bent between ribs.

    block: P/(A F_cp)             pressed across the grain; strength at the proportional limit, as the tables print it
    split: P_t/(b L F_tp)         pulled across the grain by a bolt, over the length L that holds it together
    bar:   6 M/(b d^2 F_br), M = w L^2/8 between ribs as if it ended at each, or w L^2/12 where it runs through
           1.5 V/(b d F_s),  V = w L/2

F_cp compression across the grain, F_tp tension across it: no aircraft table that we could read has F_tp, so it comes
from the designer's tests. Source: timoshenko-gere (memory, high). Range: rectangles; wood without checks.
"""

from __future__ import annotations

import numpy as np

from sparwright.base.check import Step
from sparwright.strength.members.wood_margin import STATICS, Floats, margin_step


def bearing_use(load: Floats, area: Floats, across: Floats) -> np.ndarray:
    """P/(A F_cp): load N, area m2 of plate or washer, across Pa.

    >>> float(bearing_use(1000.0, 4e-4, 5e6))
    0.5
    """
    return np.asarray(np.abs(load) / (np.asarray(area) * across))


def split_use(pull: Floats, width: Floats, length: Floats, across: Floats) -> np.ndarray:
    """P_t/(b L F_tp): the pull across the grain, N, evenly over the width and the length along the grain, m."""
    return np.asarray(np.abs(pull) / (np.asarray(width) * np.asarray(length) * across))


def bar_use(running: Floats, span: Floats, width: Floats, depth: Floats, bending: Floats, shear: Floats,
            through: bool = False) -> np.ndarray:  # fmt: skip
    """The worse of bending and shear of a bar under `running` N/m over `span` m, bent across its depth.

    through: over many equal spans, M = w L^2/12, at a rib; the first and last span of such a bar are not in it.
    """
    w, long, b, d = (np.asarray(v, dtype=float) for v in (np.abs(running), span, width, depth))
    moment = w * long**2 / (12 if through else 8)
    return np.asarray(np.maximum(6 * moment / (b * d**2) / bending, 0.75 * w * long / (b * d) / shear))


def working(load: float, area: float, across: float, source: str = "") -> tuple[Step, ...]:
    """The lines of a block under a plate."""
    found = float(bearing_use(load, area, across))
    given = (("P", load, "N"), ("A", area, "m2"), ("F_cp", across, "Pa"))
    return (
        Step("pressure across the grain", "P/A", given[:2], abs(load) / area, "Pa", STATICS),
        Step("use", "P/(A F_cp)", given, found, "1", source or STATICS),
        margin_step(found),
    )


def bar_working(running: float, span: float, width: float, depth: float, bending: float, shear: float,
                through: bool = False) -> tuple[Step, ...]:  # fmt: skip
    """The lines of an edge bar or stringer between ribs."""
    found = float(bar_use(running, span, width, depth, bending, shear, through))
    moment, cut = abs(running) * span**2 / (12 if through else 8), abs(running) * span / 2
    given = (("w", running, "N/m"), ("L", span, "m"), ("b", width, "m"), ("d", depth, "m"))
    return (
        Step("bending moment", "w L^2/12" if through else "w L^2/8", given[:2], moment, "N m", "timoshenko-gere"),
        Step("bending stress", "6 M/(b d^2)", given, 6 * moment / (width * depth**2), "Pa", "timoshenko-gere"),
        Step("shear stress", "1.5 V/(b d)", given, 1.5 * cut / (width * depth), "Pa", "timoshenko-gere"),
        Step("use", "max(f/F_br, tau/F_s)", (("F_br", bending, "Pa"), ("F_s", shear, "Pa")), found, "1", STATICS),
        margin_step(found),
    )
