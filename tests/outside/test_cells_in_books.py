"""Cells and booms out of books.

Sources: megson, Introduction to Aircraft Structural Analysis, example 20.2 p. 572 (six booms, read); his three-cell
wing (data and answers from memory, high: three answers out of seventeen numbers agree to the digit);
Bredt-Batho's box and the channel's shear centre by their closed forms. Tolerance: the digits printed, one in the last.
"""

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.strength.members.cell import (
    axes,
    flow,
    section,
    shear_centre,
    shear_flow,
    strips,
    torsion_constant,
    torsion_flow,
)


def test_bredts_box():
    """24 x 6 in between middles, skins 0.025, webs 0.040, 20,000 lb in, G 4e6: printed to five digits."""
    box = section([(0, 0), (24, 0), (24, 6), (0, 6)], [(0, 1), (1, 2), (2, 3), (3, 0)], [0.025, 0.040, 0.025, 0.040])
    q = 20_000 * torsion_flow(box)
    j = torsion_constant(box) - strips(box)
    assert_allclose(q, 69.444, rtol=0, atol=5e-4)
    assert_allclose(q[:2] / box.thickness[:2], [2777.8, 1736.1], rtol=0, atol=0.05)
    assert_allclose(j, 37.362, rtol=0, atol=5e-4)
    assert_allclose(math.degrees(20_000 / 4e6 / j * 100), 0.76676, rtol=0, atol=1e-5)


@pytest.mark.parametrize(
    ("depth", "moment", "inertia", "corner", "middle"),
    [(590, 190e6, 5.22e8, 96_642, 128_856), (610, 210e6, 5.58e8, 103_212, 137_616)],
)
def test_six_booms(depth, moment, inertia, corner, middle):
    """mm and N mm. The book divides by its rounded I (5.22, 5.58e8), 0.05 % off: boom loads are held to 0.1 %."""
    nodes = [(x, y) for y in (-depth / 2, depth / 2) for x in (0, 600, 1200)]
    walls = [(0, 1), (1, 2), (2, 5), (5, 4), (4, 3), (3, 0), (1, 4)]
    made = section(nodes, walls, [1.0] * 7, booms=[900, 1200, 900] * 2, bends=0.0)
    about = axes(made)
    stress = about.stress(made.nodes[0], made.nodes[1], moment, 0.0)
    assert_allclose(about.xx, inertia, rtol=0, atol=0.005e8)
    assert_allclose((stress * made.booms)[3:], [corner, middle, corner], rtol=1e-3, atol=0)
    assert_allclose((stress * made.booms).sum(), 0.0, rtol=0, atol=1e-6)


def arched(a, b, rise, n=40):
    """Points of a parabola from a to b, its rise to the left."""
    s = np.linspace(0, 1, n + 1)[:, None]
    a, b = np.array(a, float), np.array(b, float)
    along = b - a
    left = np.array([-along[1], along[0]]) / np.hypot(*along)
    return a + s * along + 4 * rise * s * (1 - s) * left


def test_a_wing_of_three_cells():
    """Torque 11.3 kN m; walls (length, thickness, G): nose 1650, 1.22, 24200; front web 508, 2.03, 27600; skins 775,
    1.22, 24200; middle web 380, 1.63, 27600; skins 508, 0.92, 20700; rear web 254, 0.92, 20700; cells 258, 355 and
    161e3 mm2. Answers: q 7.1, 8.9 and 4.2 N/mm in the outer walls of the three. Areas and L/(G t) are all that counts
    in torsion, so the curved walls are parabolas of the right area and their thickness makes up the length."""
    reference = 27_600.0
    corners = {"1": (0, 254), "2": (0, -254), "3": (770, 190), "4": (770, -190), "5": (1274, 127), "6": (1274, -127)}
    flat = [(508 + 380) / 2 * 770, (380 + 254) / 2 * 504]

    def rise(i, over):
        span = math.dist(corners[over[0]], corners[over[1]])
        return ([355e3, 161e3][i] - flat[i]) / 2 / (2 / 3 * span)

    paths = [
        (arched(corners["1"], corners["2"], -258e3 / (2 / 3 * 508)), 1650 / 1.22 / 24_200),
        ([corners["1"], corners["2"]], 508 / 2.03 / 27_600),
        (arched(corners["1"], corners["3"], rise(0, "13")), 775 / 1.22 / 24_200),
        (arched(corners["2"], corners["4"], -rise(0, "24")), 775 / 1.22 / 24_200),
        ([corners["3"], corners["4"]], 380 / 1.63 / 27_600),
        (arched(corners["3"], corners["5"], rise(1, "35")), 508 / 0.92 / 20_700),
        (arched(corners["4"], corners["6"], -rise(1, "46")), 508 / 0.92 / 20_700),
        ([corners["5"], corners["6"]], 254 / 0.92 / 20_700),
    ]
    nodes, ends, thick, first = [], [], [], []
    known = {}
    for path, give in paths:
        path = np.asarray(path, float)
        t = np.hypot(*np.diff(path, axis=0).T).sum() / give / reference
        first.append(len(ends))
        for a, b in zip(path[:-1], path[1:], strict=True):
            pair = [known.setdefault(tuple(np.round(p, 6)), len(known)) for p in (a, b)]
            ends.append(tuple(pair))
            thick.append(t)
    nodes = list(known)
    q = 11.3e6 * torsion_flow(section(nodes, ends, thick))[first]
    assert_allclose(np.abs(q[[0, 2, 5]]), [7.1, 8.9, 4.2], rtol=0, atol=0.05)


@pytest.mark.parametrize(("height", "width"), [(4.0, 2.0), (6.0, 1.0)])
def test_a_channels_shear_centre(height, width):
    """e = 3 b^2/(h + 6 b) behind the web, one thickness; q in the web's middle by V Q/I."""
    c = section([(width, height / 2), (0, height / 2), (0, -height / 2), (width, -height / 2)],
                [(0, 1), (1, 2), (2, 3)], [0.05] * 3)  # fmt: skip
    x, y = shear_centre(c)
    assert_allclose((x, y), (-3 * width**2 / (height + 6 * width), 0.0), rtol=1e-12, atol=1e-12)
    inertia = 0.05 * (height**3 / 12 + 2 * width * (height / 2) ** 2)
    first = 0.05 * (width * height / 2 + height**2 / 8)
    assert_allclose(abs(shear_flow(c, 0.0, 1.0)[1][1]), first / inertia, rtol=1e-12, atol=0)
    assert_allclose(torsion_constant(c), 0.05**3 * (height + 2 * width) / 3, rtol=1e-9, atol=0)


def test_a_box_of_four_booms_under_an_offset_shear():
    """Booms alone: each web's basic flow is V/h shared by stiffness; a force in one web's plane twists by V d."""
    box = section([(0, 0), (0.2, 0), (0.2, 0.1), (0, 0.1)], [(0, 1), (1, 2), (2, 3), (3, 0)], [1e-3] * 4,
                  booms=4e-4, bends=0.0)  # fmt: skip
    q = flow(box, np.array([0.0]), np.array([0.0]), np.array([1000.0]), at=(0.2, 0.0))[1, :, 0]
    by_torque = 1000 * 0.1 / (2 * 0.02)
    assert_allclose(q, [by_torque, 5000 + by_torque, by_torque, -5000 + by_torque], rtol=1e-9, atol=1e-9)
