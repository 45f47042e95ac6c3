"""Drag of a biplane predicted from its single wing, against a wind-tunnel test.

Source: J. C. Hunsaker, M.I.T., Aviation and Aeronautical Engineering, 1 November 1916, as printed in
J. B. Rathbun, Aeroplane Construction and Operation (1918) ch. VII: R.A.F. 6, aspect ratio 6 each, gap 1.2
chords, no stagger. The single wing's drag less its induced drag is its profile drag; with that and the
lattice's induced drag of the pair the measured drag at 4 and 8 deg comes out within 0.001, the reading error.

Source: hunsaker-1916.
"""

from __future__ import annotations

import pytest
from air_wings import FLAT, rectangle
from numpy.testing import assert_allclose

from sparwright.air.turned import Company, turned

ANGLES = [0.0, 0.1, 0.2, 0.3]
ALONE = turned((rectangle("wing", 6),), FLAT, FLAT, ANGLES)
PAIR = turned((rectangle("lower", 6), rectangle("upper", 6, z=1.2)), FLAT, FLAT, ANGLES)


def induced(cell: Company, lift: float) -> float:
    return cell.state(cell.angle_of(lift)).induced_drag


@pytest.mark.parametrize("mono, pair", [((0.5701, 0.0339), (0.4836, 0.0350)), ((0.8572, 0.0621), (0.7313, 0.0647))])
def test_drag_of_the_pair(mono: tuple[float, float], pair: tuple[float, float]) -> None:
    profile = mono[1] - induced(ALONE, mono[0])
    assert_allclose(profile + induced(PAIR, pair[0]), pair[1], rtol=0, atol=0.001)
    assert abs(mono[1] - induced(ALONE, mono[0]) + induced(ALONE, pair[0]) - pair[1]) > 0.002, "interference matters"
