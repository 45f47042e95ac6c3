"""A box spar of two spruce caps 1.25 x 0.75 in, depth 6 in, two 1/16 in webs, M 20,000 lb in, V 600 lb; a printed box.

Source: NACA TR 181 (Newlin and Trayer, 1924) for the form factors (memory, high), the flexure and shear formulas of
any text, and Bredt's formula on a box 24 x 6 in with skins 0.025 and webs 0.040 in, G 4e6 psi, T 20,000 lb in; worked
out by hand from them, printed digits as given there.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.strength.members import d_nose, glue, ply, wood_box, wood_section
from sparwright.strength.members.wood_box import CapLoads, CapStrength
from sparwright.strength.members.wood_section import SparShape

SPAR = SparShape(depth=6.0, width=1.25, upper=0.75, lower=0.75, web=0.0625)
M, V = 20000.0, 600.0


def test_inertia_and_stress() -> None:
    """I 13.0078 in4, f_b 4612.6 psi: half the last digit each."""
    v = wood_section.values(SPAR)
    assert_allclose(v.inertia, 13.0078, rtol=0, atol=5e-5)
    pressed, pulled, across, along = wood_box.stresses(SPAR, CapLoads(M))
    assert_allclose([pressed, pulled], 4612.6, rtol=0, atol=0.05)
    assert (across, along) == (0, 0)


def test_form_factors() -> None:
    """F_E 0.6483 and F_U 0.5813: half the last digit."""
    p, q = 0.125, 0.125 / 1.375
    assert_allclose(wood_box.form_factor(p, q), 0.5813, rtol=0, atol=5e-5)
    assert_allclose(wood_box.form_factor(p, q, rupture=False), 0.6483, rtol=0, atol=5e-5)


def test_margin_of_the_caps() -> None:
    """MS +0.18 against 9,400 psi: half the last digit."""
    steps = wood_box.working(SPAR, CapLoads(M), CapStrength(9400.0, 5000.0, 9400.0))
    assert_allclose(steps[-1].value, 0.18, rtol=0, atol=5e-3)


def test_flows() -> None:
    """q 113.51 lb/in in all, 908.1 psi in two 1/16 in webs, 75.68 psi on two faces of 0.75 in: half the last digit."""
    line, web = wood_section.flows(SPAR, V)
    assert_allclose(2 * line, 113.51, rtol=0, atol=5e-3)
    assert_allclose(ply.use(web, 0.0625, 1.0), 908.1, rtol=0, atol=0.05)
    assert_allclose(glue.use(line, 0.75, 1.0, 0.0), 75.68, rtol=0, atol=5e-3)
    assert_allclose(glue.use(line, 0.75, 990.0, 90.0), 75.68 / 330, rtol=1e-4)  # 990/3 = 330 psi, read


def test_a_printed_box_in_torsion() -> None:
    """q 69.444 lb/in, 2,777.8 and 1,736.1 psi, J 37.362 in4, 0.7668 degrees in 100 in: half the last digit."""
    q = d_nose.flow(20000.0, 144.0)
    assert_allclose(q, 69.444, rtol=0, atol=5e-4)
    assert_allclose([q / 0.025, q / 0.040], [2777.8, 1736.1], rtol=0, atol=0.05)
    walls = np.array([24.0, 24.0, 6.0, 6.0]), np.full(4, 4e6), np.array([0.025, 0.025, 0.04, 0.04])
    turn = float(d_nose.twist(20000.0, 144.0, *walls))
    assert_allclose(np.degrees(turn) * 100, 0.7668, rtol=0, atol=5e-5)
    assert_allclose(20000.0 / (4e6 * turn), 37.362, rtol=0, atol=5e-4)


def test_the_same_box_as_a_spar() -> None:
    """Caps 0.025 deep and webs 0.040 thick about the same middle lines; G J = 37.362 x 4e6."""
    box = SparShape(depth=6.025, width=24.0 - 0.04, upper=0.025, lower=0.025, web=0.04)
    assert_allclose(wood_section.torsion(box, 4e6, 4e6) / 4e6, 37.362, rtol=0, atol=5e-4)
    assert_allclose(wood_section.torsion_flow(20000.0, box), 69.444, rtol=0, atol=5e-4)


@pytest.mark.parametrize(("ratio", "beta"), [(1.0, 0.1406), (2.0, 0.229), (4.0, 0.281), (10.0, 0.312)])
def test_caps_alone_in_torsion(ratio: float, beta: float) -> None:
    """J = beta b d^3 of a rectangle (timoshenko-gere's table, memory, high); the formula comes within 0.4 %."""
    open_ = SparShape(depth=10.0, width=ratio, upper=1.0, lower=1.0, web=1e-6, webs=1)
    assert_allclose(wood_section.torsion(open_, 1.0, 1.0), 2 * beta * ratio, rtol=4e-3)


def test_shear_centre_of_a_channel() -> None:
    """Thin channel, flanges c, height h, one thickness t: 3 c^2/(h + 6 c) outside the web (any text, e.g. Timoshenko).

    Thin walls of 0.001 to 1: the text takes walls as lines, so a thousandth.
    """
    c, h, t = 1.0, 2.0, 0.001
    shape = SparShape(depth=h + t, width=c - t / 2, upper=t, lower=t, web=t, webs=1, ratio=1.0)
    e = float(wood_section.values(shape).ahead) - (c - t / 2) / 2 - t / 2
    assert_allclose(e, 3 * c**2 / (h + 6 * c), rtol=3e-3)
