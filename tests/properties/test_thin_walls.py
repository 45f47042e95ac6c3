"""What must hold of every thin-walled section, whatever its numbers."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.strength.members import torsion
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

SIZE = st.floats(0.05, 1.0)
THIN = st.floats(2e-4, 3e-3)
NEARLY = {"rtol": 1e-8, "atol": 1e-12}


def two_cells(a, b, h, t1, t2, t3, lean=0.0, booms=1e-4):
    """A nose triangle-ish cell and a box behind it."""
    nodes = [(0, 0.1 * h), (a, -h / 2), (a + b, -h / 2), (a + b, h / 2 - lean), (a, h / 2)]
    walls = [(0, 1), (1, 2), (2, 3), (3, 4), (4, 0), (1, 4)]
    return section(nodes, walls, [t1, t2, t3, t2, t1, t3], booms=booms)


def whole(made, q):
    """Force and moment about the origin of a shear flow (3, m)."""
    mean = (q[0] + 4 * q[1] + q[2]) / 6
    along = made.nodes[:, made.ends[1]] - made.nodes[:, made.ends[0]]
    return along @ mean, mean @ made.swept


@settings(max_examples=60, deadline=None)
@given(SIZE, SIZE, SIZE, THIN, THIN, THIN, st.floats(-1e4, 1e4), st.floats(-1e4, 1e4), st.floats(-1e3, 1e3))
def test_flow_balances_the_load(a, b, h, t1, t2, t3, vx, vy, torque):
    """The flows add up to the forces, and about any point to torque and force times arm."""
    made = two_cells(a, b, h, t1, t2, t3, lean=h / 4)
    at = (0.3, -0.1)
    q = flow(made, np.array([torque]), np.array([vx]), np.array([vy]), at=at)[:, :, 0]
    force, moment = whole(made, q)
    big = max(abs(vx), abs(vy), 1.0)
    assert_allclose(force, (vx, vy), rtol=0, atol=1e-8 * big)
    assert_allclose(moment, torque + at[0] * vy - at[1] * vx, rtol=0, atol=1e-7 * (big + abs(torque)))


@settings(max_examples=40, deadline=None)
@given(SIZE, SIZE, SIZE, THIN, THIN, THIN)
def test_a_mirror_changes_sides_only(a, b, h, t1, t2, t3):
    made = two_cells(a, b, h, t1, t2, t3, lean=h / 4)
    other = section((made.nodes * [[-1.0], [1.0]]).T, made.ends.T, made.thickness, booms=made.booms)
    assert_allclose(torsion_constant(other), torsion_constant(made), **NEARLY)
    assert_allclose(np.multiply(shear_centre(other), (-1, 1)), shear_centre(made), rtol=1e-6, atol=1e-9)
    assert_allclose(axes(other).xy, -axes(made).xy, rtol=1e-8, atol=1e-15)
    assert_allclose(torsion_flow(other), -torsion_flow(made), rtol=1e-6, atol=1e-9)


@settings(max_examples=40, deadline=None)
@given(SIZE, SIZE, SIZE, THIN, THIN, st.floats(0.2, 5.0))
def test_twice_as_large_is_sixteen_times_as_stiff(a, b, h, t1, t2, grown):
    made, large = (two_cells(*(v * k for v in (a, b, h, t1, t2, t1)), booms=1e-4 * k**2) for k in (1.0, grown))
    assert_allclose(torsion_constant(large), torsion_constant(made) * grown**4, **NEARLY)
    assert_allclose(axes(large).xx, axes(made).xx * grown**4, **NEARLY)
    assert_allclose(shear_centre(large), np.multiply(shear_centre(made), grown), rtol=1e-6, atol=1e-9)


@settings(max_examples=40, deadline=None)
@given(SIZE, SIZE, SIZE, THIN, THIN, THIN)
def test_closing_a_section_and_adding_a_web_make_it_stiffer(a, b, h, t1, t2, t3):
    """An open strip is hundreds of times softer; a web between two cells never takes stiffness away."""
    made = two_cells(a, b, h, t1, t2, t3)
    pairs, thick = made.ends.T, made.thickness
    no_web = section(made.nodes.T, pairs[:5], thick[:5])
    cut = section(made.nodes.T, pairs[1:5], thick[1:5])
    assert torsion_constant(made) - strips(made) >= (torsion_constant(no_web) - strips(no_web)) * (1 - 1e-9)
    assert torsion_constant(no_web) > 20 * torsion_constant(cut)
    assert np.isnan(torsion_flow(cut)).all()


@settings(max_examples=30, deadline=None)
@given(SIZE, SIZE, SIZE, THIN, THIN, THIN)
def test_splitting_walls_changes_nothing(a, b, h, t1, t2, t3):
    """Every wall in three: the sum is exact at any number of nodes."""
    made = two_cells(a, b, h, t1, t2, t3, lean=h / 3)
    nodes, walls, thick, booms = [tuple(p) for p in made.nodes.T], [], [], list(made.booms)
    for (i, j), t in zip(made.ends.T, made.thickness, strict=True):
        p, r = np.array(nodes[i]), np.array(nodes[j])
        nodes += [tuple(p + (r - p) / 3), tuple(p + (r - p) * 2 / 3)]
        booms += [0.0, 0.0]
        n = len(nodes)
        walls += [(i, n - 2), (n - 2, n - 1), (n - 1, j)]
        thick += [t] * 3
    fine = section(nodes, walls, thick, booms=booms)
    assert_allclose(torsion_constant(fine), torsion_constant(made), **NEARLY)
    assert_allclose(shear_centre(fine), shear_centre(made), rtol=1e-7, atol=1e-9)
    assert_allclose(shear_flow(fine, 3.0, 5.0)[0][::3], shear_flow(made, 3.0, 5.0)[0], rtol=1e-6, atol=1e-7)


@settings(max_examples=40, deadline=None)
@given(SIZE, SIZE, SIZE, THIN, THIN)
def test_principal_axes_are_eigenvectors(a, b, h, t1, t2):
    about = axes(two_cells(a, b, h, t1, t2, t1, lean=h / 2))
    tensor = np.array([[about.xx, -about.xy], [-about.xy, about.yy]])
    greater, lesser, angle = about.principal
    along = np.array([np.cos(angle), np.sin(angle)])
    assert_allclose(tensor @ along, greater * along, rtol=0, atol=1e-9 * greater)
    assert_allclose(greater + lesser, about.xx + about.yy, **NEARLY)


def bredt(made, cells):
    """Cell by cell as books do it: (J, q of each cell at T = 1). cells: for each, its walls with sign, and its area."""
    n = len(cells)
    give = made.length / made.thickness / made.shear
    kept = np.zeros((n, n))
    for r, (walls, _) in enumerate(cells):
        for s, (others, _) in enumerate(cells):
            kept[r, s] = sum(give[w] * one * others[w] for w, one in walls.items() if w in others)
    area = np.array([c for _, c in cells])
    q = np.linalg.solve(kept, 2 * area)
    return 2 * area @ q, q / (2 * area @ q)


@settings(max_examples=40, deadline=None)
@given(SIZE, SIZE, SIZE, THIN, THIN, THIN)
def test_warping_of_nodes_is_bredts_cells(a, b, h, t1, t2, t3):
    """The twin: continuity of twist round each cell, set up by hand."""
    made = two_cells(a, b, h, t1, t2, t3)
    cells = [({0: 1, 5: 1, 4: 1}, a * h / 2), ({1: 1, 2: 1, 3: 1, 5: -1}, b * h)]
    j, q = bredt(made, cells)
    assert_allclose(torsion_constant(made) - strips(made), j, **NEARLY)
    flows = torsion_flow(made)
    assert_allclose([flows[0], flows[1], flows[5]], [q[0], q[1], q[0] - q[1]], rtol=1e-6, atol=1e-8 * abs(q).max())


def aerofoil(chord=1.2, n=121):
    """A plain thick section, walked."""
    x = (1 - np.cos(np.linspace(0, np.pi, n))) / 2
    y = 0.6 * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    return chord * np.array([np.concatenate([x[::-1], x[1:]]), np.concatenate([y[::-1], -y[1:]])])


def wing(at=0.24, cover=0.5e-3, web=0.8e-3, end=None, more=()):
    return torsion.wing_section(
        aerofoil(),
        [torsion.Cover(start=-1.0, end=at if end is None else end, thickness=cover, shear=26e9)],
        [torsion.Web(at=at, thickness=web, shear=26e9), *more],
        26e9,
    )


def test_a_wings_nose_is_bredts_cell():
    """The nose of a wing by its polygon's area and perimeter."""
    made = wing()
    assert made.ends.shape[1] == made.nodes.shape[1]
    skin, web = made.thickness < 0.6e-3, made.thickness > 0.6e-3
    area = abs(made.swept[skin].sum() - made.swept[web].sum()) / 2
    alternative = abs(made.swept[skin].sum() + made.swept[web].sum()) / 2
    closed = max(area, alternative)
    j = 4 * closed**2 / (made.length[skin].sum() / 0.5e-3 + made.length[web].sum() / 0.8e-3)
    assert_allclose(torsion_constant(made) - strips(made), j, rtol=1e-9, atol=0)


def test_more_skin_more_stiffness_and_the_tail_closes():
    nose, full = wing(), wing(end=2.0)
    box = wing(end=2.0, more=(torsion.Web(at=0.36, thickness=0.8e-3, shear=26e9),))
    assert torsion_constant(nose) < torsion_constant(full) < torsion_constant(box)
    assert_allclose(
        torsion_constant(wing(end=0.6)), torsion_constant(nose), rtol=1e-4, atol=0
    )  # loose ends bear nothing


def test_covers_that_lie_on_each_other_add():
    half = [torsion.Cover(start=-1.0, end=0.24, thickness=0.25e-3, shear=26e9)] * 2
    twice = torsion.wing_section(aerofoil(), half, [torsion.Web(at=0.24, thickness=0.8e-3, shear=26e9)], 26e9)
    assert_allclose(torsion_constant(twice), torsion_constant(wing()), rtol=1e-12, atol=0)


def test_a_softer_reference_changes_the_constant_and_not_the_stiffness():
    args = (
        [torsion.Cover(start=-1.0, end=0.24, thickness=0.5e-3, shear=26e9)],
        [torsion.Web(at=0.24, thickness=0.8e-3, shear=4e9)],
    )
    one, other = (torsion.wing_section(aerofoil(), *args, g) for g in (26e9, 4e9))
    assert_allclose(torsion.torsion([one], 26e9)[0], torsion.torsion([other], 4e9)[0], rtol=1e-12, atol=0)


@pytest.mark.parametrize(("first", "last"), [(1.0, 1.0), (5.0, 1.0), (1.0, 40.0)])
def test_a_bay_twists_as_its_stations_between_do(first, last):
    y = np.linspace(0, 1, 20_001)
    by_sum = 1 / np.trapezoid(1 / (first + (last - first) * y), y)
    assert_allclose(torsion.between(first, last), by_sum, rtol=1e-6, atol=0)
    turned = torsion.twist(np.full(4, 10.0), np.full(4, 100.0), np.full(4, 0.3))
    assert_allclose(turned, [0.0, 0.03, 0.06, 0.09, 0.12], rtol=1e-12, atol=1e-15)
