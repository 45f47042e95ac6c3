"""Sections of the 1910s that were tested as wings and cells, where ordinates were found; not a test itself.

Sources: uiuc-coordinates.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from section_flow import rows

from sparwright.family.model import Section


def _section(name: str, upper: np.ndarray, lower: np.ndarray) -> Section:
    """From both sides nose to tail, (2, k) each, to upper tail, nose, lower tail."""
    around = np.hstack([upper[:, ::-1], lower[:, 1:]])
    return Section(name=name, points=tuple((float(x), float(y)) for x, y in around.T))


@cache
def usa_5() -> Section:
    """U.S.A. 5, measured by M.I.T. as a wing of aspect ratio 6 at 70 thousand (rathbun-1918-sections.csv)."""
    t = np.array([[float(r[c]) for c in ("x_c", "upper", "lower")] for r in rows("uiuc-coordinates-usa-5.csv")]).T
    return _section("U.S.A. 5", t[[0, 1]], t[[0, 2]])


@cache
def raf_6(thick: float = 0.1) -> Section:
    """The table of the R.A.F. 6 with its heights above the flat scaled from 0.1 to `thick` chords.

    Only 0.1 is printed; the wing of 1916 at 0.068 is a guess by scale, said to be nearly flat below.
    """
    columns = ("x_upper", "upper", "x_lower", "lower")
    t = np.array([[float(r[c]) for c in columns] for r in rows("uiuc-coordinates-raf-6.csv")]).T
    return _section("R.A.F. 6", t[:2] * [[1], [thick / 0.1]], t[2:] * [[1], [thick / 0.1]])
