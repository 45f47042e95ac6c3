"""What must hold of any wing in moving air, whatever its numbers."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from cantilevers import Wing, changed, flutter, frame, laid, shaken, strips
from hypothesis import given, settings
from hypothesis import strategies as st

from sparwright.aeroelastic.standing import give_of, standing
from sparwright.aeroelastic.strip import Motion, airs
from sparwright.aeroelastic.swept import Shaken, swept


@settings(max_examples=6, deadline=None)
@given(st.floats(1.1, 3.0))
def test_stiffer_all_over_is_faster_by_the_root(k: float) -> None:
    """Frequencies and speeds grow alike: the air's lag hangs on their ratio."""
    w = Wing(parts=10)
    stiff = changed(w, bending=w.bending * k**2, torsion=w.torsion * k**2)
    assert flutter(stiff, 4, most=700.0).flutter == pytest.approx(k * flutter(w, 4).flutter, rel=1e-4)


def test_stiffer_in_torsion_is_faster() -> None:
    """For the wing whose bending and torsion meet."""
    found = [flutter(changed(Wing(parts=10), torsion=g), 4, most=400.0).flutter for g in (0.6e6, 1e6, 1.5e6)]
    assert found[0] < found[1] < found[2]


def test_centre_of_mass_forward_is_faster() -> None:
    """Ahead of the elastic axis by enough nothing flutters."""
    found = [flutter(changed(Wing(parts=10), centre=x), 4).flutter for x in (0.45, 0.40, 0.36)]
    assert found[0] < found[1] < found[2]
    assert flutter(changed(Wing(parts=10), centre=0.25), 4).flutter == np.inf


def test_more_modes_settle() -> None:
    """From four modes on the flutter speed moves by less than a part in a hundred, then in a thousand."""
    speeds = [flutter(Wing(parts=16), n).flutter for n in (3, 6, 12)]
    assert abs(speeds[2] - speeds[1]) < abs(speeds[1] - speeds[0]) + 1e-9
    assert speeds[1] == pytest.approx(speeds[2], rel=2e-3)


def test_thin_air_is_faster() -> None:
    """At a half of the density."""
    assert flutter(Wing(parts=10), 4, 0.6).flutter > flutter(Wing(parts=10), 4, 1.225).flutter


def test_damping_is_on_the_safe_side() -> None:
    """Structural damping puts flutter off."""
    on = shaken(Wing(parts=10), 4)
    speeds = np.linspace(5, 200, 40)
    assert swept(replace(on, damping=0.03), speeds).flutter > swept(on, speeds).flutter


def test_divergence_is_where_the_slowest_movement_stops() -> None:
    """Standing air and modes agree: det(K - rho V^2 A) changes sign at the speed of divergence."""
    w = changed(Wing(parts=12), axis=0.45, centre=0.45)
    q = standing(strips(w), give_of(frame(w), laid(w, 0.5, 2), laid(w, 0.5, 4), 0 * laid(w, 0.5, 4))).divergence
    on = shaken(w, 14)
    assert np.isfinite(q)
    signs = [np.linalg.slogdet(on.stiffness - 2 * q * f * on.air.steady())[0] for f in (0.98, 1.02)]
    assert sorted(signs) == [-1.0, 1.0]


def _with_flap(unbalance: float) -> float:
    """Flutter speed of a section that heaves, with a flap on a spring that is tail heavy by kg m."""
    w = Wing(parts=1, span=1.0)
    unit = np.eye(2)
    air = airs(strips(w, 0.75), Motion(unit[:1], np.zeros((1, 2)), unit[1:]))
    inertia = 0.4
    mass = np.array([[36.0, -unbalance], [-unbalance, inertia]])
    stiffness = np.diag([36.0 * 70.0**2, inertia * 50.0**2])
    return swept(Shaken(mass, stiffness, air, 1.225), np.linspace(2, 160, 60)).flutter


def test_heavier_behind_the_hinge_is_slower() -> None:
    """A balanced flap does not flutter with the heave; the heavier its tail, the sooner it does."""
    found = [_with_flap(u) for u in (0.0, 0.2, 0.6, 1.2)]
    assert found[0] == np.inf
    assert found[1] > found[2] > found[3]
