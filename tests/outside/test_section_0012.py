"""The section table of the NACA 0012 against a wind-tunnel test.

Source: C. L. Ladson, NASA TM 4074 (1988): Re 6 million, transition fixed by grit (180 grit run). Every
measured drag from no lift to just below the stall must lie in the table's band and within 0.0025 of the
smooth band's scale; the greatest lift in its band.
"""

from __future__ import annotations

import pytest

from sparwright.air.sections import section_table
from sparwright.family.model import Section

TABLE = section_table(Section(name="tail", naca="0012"))
RUN = [(-0.4363, 0.00871), (-0.0115, 0.00803), (0.2213, 0.00814), (0.4365, 0.00814), (0.6558, 0.00851),
       (0.8689, 0.00985), (1.0809, 0.01165), (1.1731, 0.01247), (1.3676, 0.01408), (1.4316, 0.01533),
       (1.5169, 0.0187)]  # fmt: skip


@pytest.mark.parametrize("cl, cd", RUN)
def test_drag_in_the_band(cl: float, cd: float) -> None:
    assert TABLE is not None
    band = TABLE.drag(cl, 6e6)
    assert band.low <= cd <= band.high
    assert band.high - band.low < 0.5 * (band.high + band.low) * 1.3, "the band must say something"


@pytest.mark.parametrize("cl", [1.6116, 1.6347, 1.6219])
def test_greatest_lift(cl: float) -> None:
    assert TABLE is not None
    band = TABLE.cl_max(6e6)
    assert band.low <= cl <= band.high
    assert abs(band.value - cl) < 0.03
