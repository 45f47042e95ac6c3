"""What holds an aeroplane on the ground, against two printed numbers.

FAA-H-8083-1 (faa-h-8083-1), a tail wheel aeroplane weighed, recalled, not seen: main wheels 7.5 in behind the datum,
tail wheel 222 in behind them, centre of gravity at 19.7 in: 67 lb of 1,218 on the tail wheel. Three digits of the
place: 0.28 lb.

AC 20-35C (ac-20-35c), Tiedown Sense, read in a copy: a rope that ties a light aeroplane down is to bear about 3,000 lb
at least. That is no answer of a sum but a size that held in storms: the pulls worked out for three light aeroplanes in
the 65 kt of 23.415(c), times the factor of safety, lie under it and are no small part of it. One digit, so 10 %.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from aloft import MODELS, case, made
from numpy.testing import assert_allclose

from sparwright.base.check import Step
from sparwright.base.quantity import parse
from sparwright.loads.besides import FROM, REVERSED
from sparwright.loads.lay import laid_out
from sparwright.loads.supports import borne
from sparwright.loads.together import on_those

SAFETY = 1.5  # 23.303


def test_three_wheels_of_the_handbook() -> None:
    place = np.array([[7.5, 36.0, -40.0], [7.5, -36.0, -40.0], [229.5, 0.0, -44.0]])
    weight = np.array([0.0, 0.0, -1218.0])
    found = borne(place, np.tile([0.0, 0.0, 1.0], (3, 1)), weight, np.cross([19.7, 0.0, 0.0], weight), "wheels")
    assert_allclose(found[2], 67, rtol=0, atol=0.28)
    assert_allclose(found[:2], (1218 - found[2]) / 2, rtol=1e-9)


@pytest.mark.parametrize("name", MODELS)
def test_no_rope_pulls_more_than_ropes_are_to_bear(name: str) -> None:
    of, most = made(name), 0.0
    for off in (0.0, math.pi / 2, -math.pi / 2, math.pi):
        steps = (Step(FROM, "", (), off, "rad"), Step(REVERSED, "", (), -0.8, "1"))
        c = replace(case(of, "ground.tied", "ground", 1.0, parse("65 kt", "speed")), steps=steps)
        found = laid_out(c, of[0])
        assert not found.outside
        at = next(n for n in found.notes if n.startswith("ropes pull"))
        pulls = [float(x.rsplit(" ", 2)[1]) for x in at.split(", ")]
        assert len(on_those(found.pushes, "node:S3").on) >= 2
        most = max(most, *pulls)
    bears = parse("3000 lbf", "force")
    assert 0.1 * bears < SAFETY * most < 1.1 * bears
