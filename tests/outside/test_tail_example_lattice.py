"""The textbook's neutral point against the lattice's. Source: J. D. Anderson, Introduction to Flight, ch. 7, eq. 7.30.

hn = hac + VH at/a (1 - d eps/d alpha), the arm of VH from the neutral point, so that the tail's lift is not
counted twice. Wing slope and aerodynamic centre from the wings laid alone, tail slope from the tail laid alone, its
share of the flow from the tail's load among the wings. The textbook leaves out the tail's upwash on the wing and
the heights, so 0.03 of the chord is asked for.
"""

from dataclasses import replace

import pytest

from sparwright.air.turned import Company, turned
from sparwright.family.reader import load
from sparwright.flight.tail import neutral_point, tail_volume
from sparwright.shape.lifting import camber, planforms, thickness

FAMILY = load("examples/whinchat/whinchat.toml")
ANGLES = (-0.01, 0.01)  # rad; slopes at no angle


def slope_of(c: Company) -> float:
    low, high = (c.state(a).lift for a in ANGLES)
    return (high - low) / (ANGLES[1] - ANGLES[0])


def point(c: Company) -> float:
    """Station, m, at the quarter's waterline about which the moment does not change with the angle, hinges held."""
    x, z = c.reference_point
    (m1, f1), (m2, f2) = ((s.moment_about(x, z), s.body_force[1]) for s in map(c.state, ANGLES))
    return x - (m2 - m1) / (f2 - f1) * c.reference.chord


@pytest.mark.parametrize("name", sorted(FAMILY.models))
def test_neutral_point(name):
    model = FAMILY.models[name]
    surfaces, lines = planforms(model), (camber(model), thickness(model), ANGLES)
    whole, wings = turned(surfaces, *lines), turned(tuple(p for p in surfaces if not p.is_tail), *lines)
    tail = next(p for p in surfaces if p.is_tail)
    alone = turned((replace(tail, is_tail=False),), *lines)
    ref = whole.reference
    low, high = (whole.state(a).surface_lift(tail.name) / tail.area for a in ANGLES)
    slope = (high - low) / (ANGLES[1] - ANGLES[0])
    hac = (point(wings) - ref.station) / ref.chord
    chord, edge, _ = tail.mean_chord
    quarter = point(alone)
    assert edge < quarter < edge + chord / 2
    hn = 0.4
    for _ in range(40):
        VH = tail_volume(tail.area, quarter - ref.station - hn * ref.chord, ref.area, ref.chord)
        hn = neutral_point(hac, slope_of(wings), VH, slope_of(alone), 1 - slope / slope_of(alone))
    assert abs(hn - (point(whole) - ref.station) / ref.chord) < 0.03
