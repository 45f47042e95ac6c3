"""A section like the R.A.F. 6 for tests of cells: its ordinates were not found in print.

R.A.F. 6 is 6.8 % thick with a nearly flat underside (hunsaker-1916 and rathbun-1918 print forces only); a four-digit
section of 3 % camber at 40 % and 6.8 % thickness has a flat underside too. The zero-lift angle of thin-aerofoil theory
is then -3.1 deg; the single wing measured lifts nothing at -2.5 deg to its underside.
"""

from __future__ import annotations

import numpy as np
from air_wings import four_digit_line


def four_digit_thickness(ratio: float) -> np.ndarray:
    """Full thickness of a four-digit section as TR 460 prints it, (2, 401)."""
    x = (1 - np.cos(np.linspace(0, np.pi, 401))) / 2
    y = 0.2969 * np.sqrt(x) - 0.1260 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4
    return np.array([x, 10 * ratio * y])


LIKE_RAF_6 = ({"raf": four_digit_line(0.03, 0.4)}, {"raf": four_digit_thickness(0.068)})
