"""Propeller blade plan forms and the section the standard blade is made with."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from sparwright.base.record import locked
from sparwright.data.files import rows


@lru_cache(maxsize=4)
def planform(blade: str = "5868-9") -> np.ndarray:
    """(3, n): radius over tip radius, chord over tip radius, blade angle in rad; KeyError for another blade."""
    found = [r for r in rows("blades.csv") if r["blade"] == blade]
    if not found:
        raise KeyError(f"no blade {blade!r} in data/blades.csv")
    r, c, beta = np.array([[float(row[k]) for k in ("r_over_R", "c_over_R", "beta_deg")] for row in found]).T
    return locked([r, c, np.radians(beta)])


@lru_cache(maxsize=1)
def clark_y_sides() -> np.ndarray:
    """(3, n): stations, upper and lower ordinates of the Clark Y in chords, nose to tail."""
    return locked(np.array([[float(row[k]) for k in ("x_c", "upper", "lower")] for row in rows("clark_y.csv")]).T)
