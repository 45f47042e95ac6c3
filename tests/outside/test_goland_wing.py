"""A uniform cantilever wing whose flutter is published.

Source: goland-1945 and goland-luke-1948 (second-hand: quoted alike in several open validation studies): span 20 ft,
chord 6 ft, elastic axis at 33 %, centre of mass at 43 %, 35.71 kg/m, 8.64 kg m about the elastic axis, EI 9.77e6,
GJ 0.987e6 N m2, sea level; strip theory with the two-dimensional slope: 137.2 m/s, 70.7 rad/s. Held to 1 %: the
quoted figures go back to 450 ft/s, two digits; EI and GJ are rounded. The bending and torsion frequencies without
coupling are closed forms, held to what 24 bars leave.
"""

from __future__ import annotations

import numpy as np
import pytest
from cantilevers import Wing, changed, flutter, shaken


def test_flutter_speed_and_frequency() -> None:
    """137.2 m/s at 70.7 rad/s."""
    found = flutter(Wing())
    assert found.flutter == pytest.approx(137.2, rel=0.01)
    assert found.frequency == pytest.approx(70.7, rel=0.015)


def test_frequencies_without_coupling() -> None:
    """1.8751^2 sqrt(EI/(m s^4)) and pi/2 sqrt(GJ/(I s^2)) with the centre of mass on the axis."""
    w = changed(Wing(), centre=0.33)
    omega = np.sqrt(np.diag(shaken(w, 8).stiffness))
    bending = 1.87510407**2 * np.sqrt(w.bending / (w.mass * w.span**4))
    torsion = np.pi / 2 * np.sqrt(w.torsion / (w.inertia * w.span**2))
    assert np.min(np.abs(omega / bending - 1)) < 2e-3
    assert np.min(np.abs(omega / torsion - 1)) < 2e-3
