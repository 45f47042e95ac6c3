"""Torsion of a metal box spar against finite elements of the whole cross-section.

Saint-Venant's problem, -lap phi = 2 in the metal, phi nought outside and even over the hole, J = 2 int phi over all, by
a general library of finite elements (scikit-fem, where it is installed). The spar is W2's upper front one: caps 3/4 x
1/4 in, webs 0.032 in. Bredt's sum lies low by what thick caps and corners add; how much is said at each assertion.
"""

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import spsolve

from sparwright.strength.members.cell import section, torsion_constant, torsion_flow

fem = pytest.importorskip("skfem")

CAP, DEEP, WEB = 0.75, 0.25, 0.032


def by_elements(depth, cap=CAP, deep=DEEP, thick=WEB, fine=6):
    """(J, phi over the hole) in inches."""
    from skfem.helpers import dot, grad

    def lines(wall, inside, many):
        return np.concatenate([np.linspace(0, wall, fine + 1)[:-1], wall + np.linspace(0, inside, many + 1)[:-1],
                               wall + inside + np.linspace(0, wall, fine + 1)])  # fmt: skip

    x, y = lines(thick, cap, 24), lines(deep, depth - 2 * deep, 48)
    mesh = fem.MeshQuad.init_tensor(x, y)
    basis = fem.Basis(mesh, fem.ElementQuad2())
    stiff = fem.BilinearForm(lambda u, v, w: dot(grad(u), grad(v))).assemble(basis)
    load = fem.LinearForm(lambda v, w: 2.0 * v).assemble(basis)
    px, py = basis.doflocs
    edge = (px < 1e-9) | (px > x[-1] - 1e-9) | (py < 1e-9) | (py > y[-1] - 1e-9)
    hole = (px > thick - 1e-9) & (px < thick + cap + 1e-9) & (py > deep - 1e-9) & (py < depth - deep + 1e-9)
    free = np.flatnonzero(~edge & ~hole)
    rows = np.concatenate([free, np.flatnonzero(hole)])
    columns = np.concatenate([np.arange(free.size), np.full(int(hole.sum()), free.size)])
    tie = csc_matrix((np.ones(rows.size), (rows, columns)), (px.size, free.size + 1))
    phi = tie @ spsolve((tie.T @ stiff @ tie).tocsc(), tie.T @ load)
    return float(2 * fem.Functional(lambda w: w["phi"]).assemble(basis, phi=basis.interpolate(phi))), float(
        phi[hole][0]
    )


def box(depth, cap=CAP, deep=DEEP, thick=WEB):
    w, h = cap + thick, depth - deep
    return section([(0, 0), (w, 0), (w, h), (0, h)], [(0, 1), (1, 2), (2, 3), (3, 0)], [deep, thick, deep, thick])


def test_the_elements_themselves():
    """A box with walls a fortieth of its side: nothing but Bredt is left, to the corners (under 1.5 %)."""
    whole, phi = by_elements(2.0, cap=1.9, deep=0.05, thick=0.05)
    made = box(2.0, cap=1.9, deep=0.05, thick=0.05)
    assert_allclose(torsion_constant(made), whole, rtol=0.015, atol=0)
    assert_allclose(np.abs(torsion_flow(made)), phi / whole, rtol=0.01, atol=0)


@pytest.mark.parametrize("depth", [4.0, 5.5])
def test_the_box_spar_of_two_wings(depth):
    whole, phi = by_elements(depth)
    made = box(depth)
    miss = torsion_constant(made) / whole - 1
    assert -0.02 < miss < 0.0  # measured: 1.8 % and 1.3 % low
    assert_allclose(np.abs(torsion_flow(made)), phi / whole, rtol=0.04, atol=0)  # 3.7 % and 2.7 % high


def test_finer_elements_change_nothing():
    assert_allclose(by_elements(4.0, fine=3)[0], by_elements(4.0, fine=6)[0], rtol=2e-3, atol=0)
