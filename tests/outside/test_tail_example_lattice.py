"""The textbook's neutral point against the lattice's. Source: J. D. Anderson, Introduction to Flight, ch. 7, eq. 7.30.

hn = hac + VH at/a (1 - d eps/d alpha), the arm of VH from the neutral point, so that the tail's lift is not
counted twice. Wing slope and aerodynamic centre from the wings laid alone, tail slope from the tail laid alone, its
share of the flow from the tail's load among the wings. The textbook leaves out the tail's upwash on the wing and
the heights, so 0.03 of the chord is asked for.
"""

from dataclasses import replace

import pytest

from sparwright.air.lattice import lay
from sparwright.family.reader import load
from sparwright.flight.tail import neutral_point, tail_volume
from sparwright.shape.lifting import camber, planforms

FAMILY = load("examples/whinchat/whinchat.toml")


@pytest.mark.parametrize("name", sorted(FAMILY.models))
def test_neutral_point(name):
    model = FAMILY.models[name]
    surfaces, lines = planforms(model), camber(model)
    whole, wings = lay(surfaces, lines), lay(tuple(p for p in surfaces if not p.is_tail), lines)
    tail = next(p for p in surfaces if p.is_tail)
    alone = lay((replace(tail, is_tail=False),), lines)
    ref = whole.reference
    slope = (whole.state(0.1).surface_lift(tail.name) - whole.state(0.0).surface_lift(tail.name)) / 0.1 / tail.area
    hac = (wings.neutral_point() - ref.station) / ref.chord
    chord, edge, _ = tail.mean_chord
    quarter = alone.neutral_point()
    assert edge < quarter < edge + chord / 2
    hn = 0.4
    for _ in range(40):
        VH = tail_volume(tail.area, quarter - ref.station - hn * ref.chord, ref.area, ref.chord)
        hn = neutral_point(hac, wings.lift_slope, VH, alone.lift_slope, 1 - slope / alone.lift_slope)
    assert abs(hn - (whole.neutral_point() - ref.station) / ref.chord) < 0.03
