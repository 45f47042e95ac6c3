"""The beam by hand against the frame's own solver on rigid supports, loads and places at random."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.margins.by_hand import Beam
from sparwright.maths.frame.record import Frame
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare

EI = 7e4


def solved(beam: Beam, y: np.ndarray, load: np.ndarray) -> tuple[float, float]:
    """(reaction at the outer support downwards, rise of the tip) of a plane frame of stiff supports."""
    n = len(y)
    held = np.zeros((n, 6), dtype=bool)
    held[:, [0, 1, 3, 5]] = True  # moves along z and turns about x alone; the beam lies along y
    held[:, 3] = False
    held[:, 4] = True
    i, o = (int(np.argmin(np.abs(y - s))) for s in (beam.inner, beam.outer))
    held[[i, o], 2] = True
    if beam.through:
        held[0, 3] = True  # the other half is the mirror of this one
    m = n - 1
    frame = Frame(
        place=np.column_stack([np.zeros(n), y, np.zeros(n)]), ends=np.column_stack([np.arange(m), np.arange(1, n)]),
        up=np.tile([0.0, 0.0, 1.0], (m, 1)), area=np.full(m, 1e-3), about_y=np.full(m, 1e-6),
        about_z=np.full(m, 1e-6), twist=np.full(m, 1e-6), youngs=np.full(m, EI / 1e-6), shear=np.full(m, 1e10),
        shear_area=np.full((m, 2), np.inf), arm=np.zeros((m, 2, 3)), free=np.zeros((m, 12), dtype=bool),
        wire=np.zeros(m, dtype=bool), tension=np.zeros(m), held=held,
    )  # fmt: skip
    loads = np.zeros((1, n, 6))
    loads[0, :, 2] = load
    found = solve(prepare(frame), loads, second_order=False)
    return -float(found.reaction[0, o, 2]), float(found.moved[0, -1, 2])


@pytest.mark.parametrize("through", [True, False])
@pytest.mark.parametrize("seed", range(6))
def test_lift_and_tip_are_those_of_the_frame(seed: int, through: bool) -> None:
    random = np.random.default_rng(seed)
    inner, outer = 0.1 + random.random(), 1.5 + random.random()
    tip = outer + 0.3 + random.random()
    start = 0.0 if through else inner
    y = np.unique(np.concatenate([[start, inner, outer, tip], start + (tip - start) * random.random(9)]))
    load = 400 * random.standard_normal(len(y))
    beam = Beam(y, load, inner, outer, EI, through)
    lift, rise = solved(beam, y, load)
    # what lies on a support goes straight into it: the beam counts it at the outer one
    assert_allclose(beam.outer_lift, lift, rtol=1e-6, atol=1e-6 * np.abs(load).max())
    assert_allclose(beam.tip(), rise, rtol=1e-6, atol=1e-9)
