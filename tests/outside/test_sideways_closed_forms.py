"""The lattice sideways against closed forms of wing theory.

H. Glauert, The Elements of Aerofoil and Airscrew Theory (1926) ch. XI, for an elliptic wing of aspect ratio A. In yaw
the air's speed makes half of CL/4, circulation the other half by (A + 2)/(A + 4): Clr = CL/8 (1 + (A + 2)/(A + 4)). In
roll Cnp = -CL/8 + 3 CL |Clp|/(pi A): the lift leans forward on the falling wing, its induced drag grows, from the
second and first coefficient, Cn = 3 CL Cl/(pi A); a rolling moment made by twist has -3 CL Cl/(pi A) alone. That is
lifting line; our lifting surface at aspect ratio 8 must come within 3 and 4 %, a turned half within 6 %.
Dihedral: a wing with dihedral G in a sideslip B meets the air as one whose halves are turned by +-G B. A plane
rectangular fin alone: lift slopes of plane wings by accurate lifting surface, 1.460 and 2.474 at aspect ratio 1 and 2
(E. O. Tuck, memory; computed again by independent code).
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from air_wings import FLAT, rectangle
from numpy.testing import assert_allclose

from sparwright.air.rolling import odd
from sparwright.air.sideways import Sideways, sideways
from sparwright.air.turned import Company, turned
from sparwright.air.upright import upright
from sparwright.flight.pitching import rate
from sparwright.shape.planform import Planform

ASPECT = 8.0


def ellipse(aspect: float) -> Planform:
    """Elliptic chords of an area of `aspect`, quarter line straight; the very tip keeps 2 % of the chord."""
    t = np.linspace(0, np.pi / 2, 15)
    y, chord = aspect / 2 * np.sin(t), 4 / np.pi * np.maximum(np.cos(t), 0.02)
    edge = np.array([-chord / 4, y, 0 * y])
    return Planform("wing", edge, chord, 0 * y, ("flat",) * y.size)


@pytest.fixture(scope="module")
def elliptic() -> tuple[Company, Sideways, float]:
    wing = ellipse(ASPECT)
    company = turned((wing,), FLAT, FLAT, [0.1], spanwise=28)
    state = company.state(0.1)
    return company, sideways(state, (0.0, 0.0), None), state.lift


def per_turn(moment: float, company: Company) -> float:
    """A coefficient for p b/2V."""
    return moment * 2 / company.reference.span / (company.reference.area * company.reference.span)


def test_yaw_of_an_ellipse(elliptic: tuple[Company, Sideways, float]) -> None:
    company, found, CL = elliptic
    A = company.reference.span**2 / company.reference.area
    assert_allclose(per_turn(found.both("yaw").roll, company), CL / 8 * (1 + (A + 2) / (A + 4)), rtol=0.03)


def test_roll_of_an_ellipse(elliptic: tuple[Company, Sideways, float]) -> None:
    company, found, CL = elliptic
    roll, yaw = (per_turn(getattr(found.both("roll"), k), company) for k in ("roll", "yaw"))
    A = company.reference.span**2 / company.reference.area
    assert_allclose(yaw, -CL / 8 - 3 * CL * roll / (math.pi * A), rtol=0.04)


def test_yaw_by_twist_of_an_ellipse() -> None:
    wing = replace(ellipse(ASPECT), hinge=1e-6, hinge_from=0.0, hinge_to=ASPECT / 2)
    company = turned((wing,), FLAT, FLAT, [0.1], spanwise=28)
    state = company.state(0.1)
    both = sideways(state, (0.0, 0.0), None).both("wing")
    A = company.reference.span**2 / company.reference.area
    share = both.yaw / both.roll  # the same scale on both
    # halves turned are no pure second coefficient: A4 and A6 add (2n + 1) A_n A_(n+1) only next to a first one, so none
    assert_allclose(share, -3 * state.lift / (math.pi * A), rtol=0.06)


@pytest.mark.parametrize("aspect", [5.0, 8.0])
def test_dihedral_is_a_twist_of_the_halves(aspect: float) -> None:
    G, alpha = math.radians(3.0), 1e-4
    flat = rectangle("wing", aspect)
    bent = replace(flat, leading_edge=flat.leading_edge + np.array([[0, 0], [0, 0], [0, aspect / 2 * math.tan(G)]]))
    state = turned((bent,), FLAT, FLAT, [alpha], spanwise=20).state(alpha)
    found = sideways(state, (0.25, 0.0), None).both("sideslip").roll / G
    halves = replace(flat, hinge=1e-6, hinge_from=0.0, hinge_to=aspect / 2)
    twisted = odd(
        turned((halves,), FLAT, FLAT, [alpha], spanwise=20).mesh, alpha
    ).aileron  # up on the right: down it goes
    assert_allclose(-found, twisted, rtol=0.01)


@pytest.mark.parametrize("aspect, slope", [(1.0, 1.460), (2.0, 2.474)])
def test_a_fin_alone(aspect: float, slope: float) -> None:
    far = (40.0, 0.0, 40.0)
    fin = upright(far, aspect, (1.0, 1.0), 0.0, 1.0, None, 6)
    state = turned((rectangle("wing", 6.0),), FLAT, FLAT, [1e-6]).state(1e-6)
    m = sideways(state, (0.0, 0.0), fin).fin["sideslip"]
    assert_allclose(-m.side / fin.area, slope, rtol=0.01)
    assert_allclose(m.yaw, -m.side * 40.25, rtol=0.01)  # at its quarter chord, roughly


def test_roll_is_that_of_the_odd_lattice() -> None:
    """One wing alone at a small angle: damping as rolling.py has it, by another sum of forces."""
    wing = rectangle("wing", 6.0)
    company = turned((wing,), FLAT, FLAT, [1e-3], spanwise=20)
    found = sideways(company.state(1e-3), (0.0, 0.0), None)
    assert_allclose(found.both("roll").roll, odd(company.mesh, 1e-3).damping, rtol=1e-6)


def test_pitching_of_a_long_wing() -> None:
    """Thin aerofoil (Glauert ch. VII): a turning plate lifts as the angle at three quarters of its chord has it."""
    wing = rectangle("wing", 40.0)
    company = turned((wing,), FLAT, FLAT, [-1e-2, 1e-2])
    state = company.state(0.0)
    for h in (0.0, 0.25, 1.0):
        lift, _ = rate(state, (h, 0.0), np.zeros(company.mesh.panels))
        assert_allclose(lift / 40.0, company.lift_slope(0.0) * (0.75 - h), rtol=0.005, atol=1e-3)


def test_pitching_damps_by_a_tail() -> None:
    """-2 at St/S (lt/c)^2, with the tail too far from the wing's wake to feel it."""
    wing, tail = rectangle("wing", 6.0), rectangle("tail", 4.0, 30.0, 15.0, is_tail=True)
    company = turned((wing, tail), FLAT, FLAT, [-1e-2, 1e-2])
    alone = turned((rectangle("tail", 4.0),), FLAT, FLAT, [-1e-2, 1e-2]).lift_slope(0.0)
    lift, moment = rate(company.state(0.0), (0.25, 0.0), np.zeros(company.mesh.panels))
    assert_allclose(moment, -alone * 4.0 * 30.25 * 30.5, rtol=0.02)  # met at three quarters, pulled at a quarter
    assert_allclose(lift, alone * 4.0 * 30.5 + company.reference.area * 0.5 * 4.2, rtol=0.02)


def test_pitching_far_under_a_wing() -> None:
    """Nose up about a point z under it the wing goes back: less speed by Q z, and it sinks less."""
    alpha, under = 0.1, 5.0
    company = turned((rectangle("wing", 6.0),), FLAT, FLAT, [0.08, alpha, 0.12])
    state, none = company.state(alpha), np.zeros(company.mesh.panels)
    changed = rate(state, (0.25, -under), none)[0] - rate(state, (0.25, 0.0), none)[0]
    a = (company.state(0.12).lift - company.state(0.08).lift) / 0.04
    aft, up = under * math.sin(alpha), under * math.cos(alpha)
    assert_allclose(changed / company.reference.area, a * aft - 2 * up * state.lift, rtol=0.02)


def test_twice_the_size() -> None:
    """Forces over q go with the square of the size, moments with the cube, and once more for a rate over the speed."""
    found = []
    for k in (1.0, 2.0):
        wing = rectangle("wing", 5.0, chord=k)
        fin = upright((4.0 * k, 0.0, 0.3 * k), k, (k, 0.7 * k), 0.2, 0.6, None, 6)
        state = turned((wing,), FLAT, FLAT, [0.1], spanwise=8).state(0.1)
        found.append(sideways(state, (0.3 * k, -0.2 * k), fin))
    for name, rate_power in (("sideslip", 0), ("roll", 1), ("yaw", 1), ("rudder", 0)):
        one, two = (f.both(name) for f in found)
        assert_allclose(two.side, one.side * 2 ** (2 + rate_power), rtol=1e-6, atol=1e-9)
        assert_allclose(two.roll, one.roll * 2 ** (3 + rate_power), rtol=1e-6, atol=1e-9)
        assert_allclose(two.yaw, one.yaw * 2 ** (3 + rate_power), rtol=1e-6, atol=1e-9)
