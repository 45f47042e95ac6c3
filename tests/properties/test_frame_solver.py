"""The frame solver: turned in space, mirrored, doubled, balanced, divided, and its slow twin as a textbook prints it.

The frame is the invented braced one (tests/frames.py), the twin a dense loop over elements and cases.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from frames import ALL, braced, frame, line, point
from numpy.testing import assert_allclose
from scipy.spatial.transform import Rotation

from sparwright.maths.frame.along import along
from sparwright.maths.frame.buckling import buckling, ranked
from sparwright.maths.frame.record import Frame
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.spread import uniform
from sparwright.maths.frame.stiff import prepare

FORCE = 1e-9  # of the largest; measured 6e-11 in second order


def odd(seed: int, count: int = 9) -> tuple[Frame, np.ndarray]:
    """A frame of odd values in SI: arms, releases, bending by shear, rigged wires."""
    r = np.random.default_rng(seed)
    place = r.normal(size=(count, 3)) + 2 * np.arange(count)[:, None] * [0.5, 0, 0]
    ends = [(i, i + 1) for i in range(count - 1)] + [(i, i + 2) for i in range(count - 2)]
    ends += [(i, i + 3) for i in range(count - 3)]
    m, wire = len(ends), np.arange(len(ends)) >= 2 * count - 3
    free = np.zeros((m, 12), bool)
    free[2, [4, 5]] = free[4, [10]] = free[10, [4, 5, 10, 11]] = free[12, [3]] = True
    f = frame(
        place, ends, {0: ALL, count - 1: (0, 1, 2)}, up=r.normal(size=(m, 3)), area=1e-4 * r.uniform(1, 3, m),
        about_y=1e-8 * r.uniform(1, 3, m), about_z=1e-8 * r.uniform(1, 3, m), twist=2e-8, youngs=2e11, shear=8e10,
        shear_area=5e-5, arm=0.03 * r.normal(size=(m, 2, 3)) * ~wire[:, None, None], free=free, wire=wire,
        tension=np.where(wire, 300.0, 0.0),
    )  # fmt: skip
    return f, 10 * r.normal(size=(4, count, 6)) * [1, 1, 1, 0.1, 0.1, 0.1]


def turned(f: Frame, load: np.ndarray, by: np.ndarray) -> tuple[Frame, np.ndarray]:
    """All of it by a 3 x 3 matrix (a turn); supports only where all three movements of a kind are held."""
    g = replace(f, place=f.place @ by.T, up=f.up @ by.T, arm=f.arm @ by.T)
    return g, np.concatenate([load[..., :3] @ by.T, load[..., 3:] @ by.T], axis=-1)


@pytest.mark.parametrize("second", [False, True])
@pytest.mark.parametrize("which", ["odd", "braced"])
def test_turned_in_space(which: str, second: bool) -> None:
    f, load = odd(3) if which == "odd" else braced()
    by = Rotation.from_rotvec([0.4, -1.1, 2.3]).as_matrix()
    g, turned_load = turned(f, load, by)
    a, b = solve(prepare(f), load, second), solve(prepare(g), turned_load, second)
    assert a.good.all()
    assert_allclose(b.force, a.force, rtol=0, atol=FORCE * np.abs(a.force).max())
    assert_allclose(b.moved[..., :3], a.moved[..., :3] @ by.T, rtol=0, atol=FORCE * np.abs(a.moved).max())
    assert np.array_equal(a.slack, b.slack) and a.slack.any()


def test_mirrored() -> None:
    """y to -y: forces along, Vz, My the same; Vy, torsion and Mz of the element change sign with its y axis."""
    f, load = odd(5)
    flip = np.diag([1.0, -1.0, 1.0])
    g, other = turned(f, load, flip)
    other[..., 3:] *= -1
    a, b = solve(prepare(f), load), solve(prepare(g), other)
    sign = np.array([1, -1, 1, -1, 1, -1] * 2)
    assert_allclose(b.force, a.force * sign, rtol=0, atol=FORCE * np.abs(a.force).max())
    assert_allclose(b.moved[..., 1], -a.moved[..., 1], rtol=0, atol=1e-9 * np.abs(a.moved).max())


def test_doubled() -> None:
    """First order without rigging: double the load, double the forces, the same wires slack; second order: not."""
    f, load = braced()
    p = prepare(f)
    for second in (False, True):
        one, two = solve(p, load, second), solve(p, 2 * load, second)
        off = np.abs(two.force - 2 * one.force).max() / np.abs(one.force).max()
        assert (off < 1e-9) != second
        assert np.array_equal(one.slack, two.slack)


@pytest.mark.parametrize("second", [False, True])
def test_wires_pull_or_hang(second: bool) -> None:
    f, load = braced()
    s = solve(prepare(f), load, second)
    wires = s.pull[:, f.wire]
    assert (wires >= 0).all() and (wires[s.slack[:, f.wire]] == 0).all()
    assert s.slack.any(axis=1).all() and not s.slack[:, ~f.wire].any()
    along_wire = s.moved[:, f.ends[f.wire]][..., :3]
    x = f.place[f.ends[f.wire]]
    way = (x[:, 1] - x[:, 0]) / np.linalg.norm(x[:, 1] - x[:, 0], axis=1)[:, None]
    stretch = np.einsum("cwi,wi->cw", along_wire[:, :, 1] - along_wire[:, :, 0], way)
    assert (stretch[s.slack[:, f.wire]] <= 1e-9).all()
    without = replace(
        f, wire=np.zeros_like(f.wire), free=f.free | f.wire[:, None] & np.isin(np.arange(12), (3, 4, 5, 9, 10, 11))
    )
    area = np.where(s.slack[0], 1e-9, 1.0) * f.area
    alone = solve(prepare(replace(without, area=area)), load[:1], second)
    assert_allclose(alone.pull[0], s.pull[0], rtol=0, atol=1e-5 * np.abs(s.pull[0]).max())


@pytest.mark.parametrize("second", [False, True])
def test_balance(second: bool) -> None:
    """Loads and reactions about an odd point. Second order: each axial force N sits on its moved chord, so what the
    unmoved frame is off by is the sum of N x d, d how much the element's ends have moved apart."""
    f, load = odd(3)
    f = replace(f, arm=np.zeros_like(f.arm))
    spread = np.random.default_rng(1).normal(size=(4, len(f.ends), 3)) * 4 * ~f.wire[:, None]
    s = solve(prepare(f), load, second, spread=spread)
    assert s.good.all()
    every = load + np.array([uniform(f, q) for q in spread]) + s.reaction
    size = np.abs(every).max()
    assert_allclose(every[..., :3].sum(1), 0, rtol=0, atol=1e-8 * size)
    moment = every[..., 3:].sum(1) + np.cross(f.place - [0.3, 2.0, -1.0], every[..., :3]).sum(1)
    ends = f.place[f.ends]
    way = (ends[:, 1] - ends[:, 0]) / np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)[:, None]
    apart = s.moved[:, f.ends[:, 1], :3] - s.moved[:, f.ends[:, 0], :3]
    moved = np.sum(s.pull[..., None] * np.cross(way, apart), axis=1)
    assert np.abs(moved).max() > 1e-3 * size
    assert_allclose(moment, moved if second else 0, rtol=0, atol=1e-7 * size)


def test_balance_of_a_column_in_second_order() -> None:
    """No shear along: a column's base moment is H h + P d to the last digit, whatever the number of elements."""
    for count in (1, 3):
        f = line(2, count, {0: ALL}, way=(0, 0, 1), area=1e6)
        s = solve(prepare(f), point(f, (count, 0, 0.1), (count, 2, -0.3)))
        d = s.moved[0, count, 0]
        assert_allclose(-s.reaction[0, 0, 4], 0.1 * 2 + 0.3 * d, rtol=1e-7)


def test_along_meets_the_ends() -> None:
    f, load = odd(3)
    p, spread = prepare(f), np.random.default_rng(1).normal(size=(4, len(f.ends), 3)) * 4 * ~f.wire[:, None]
    for second in (False, True):
        s = solve(p, load, second, spread=spread)
        for c in range(4):
            inner = along(p, s, c, np.array([0.0, 1.0]), second, spread[c])
            assert_allclose(inner[:, 0], -s.force[c, :, :6], rtol=0, atol=1e-9 * np.abs(s.force[c]).max())
            assert_allclose(inner[:, 1], s.force[c, :, 6:], rtol=0, atol=1e-8 * np.abs(s.force[c]).max())


def test_divided_elements_change_nothing_in_first_order() -> None:
    one, three = braced(), braced(divided=3)
    a, b = (solve(prepare(f), load, False) for f, load in (one, three))
    n = len(one[0].place)
    assert_allclose(b.moved[:, :n], a.moved, rtol=0, atol=1e-8 * np.abs(a.moved).max())


def test_divided_elements_in_second_order_have_an_order() -> None:
    """Error of the fourth power of the element's length."""
    p = {}
    for n in (2, 4, 8, 16):
        f, load = braced(divided=n)
        p[n] = buckling(prepare(f), solve(prepare(f), load[:1], False), 0)[0]
    order = np.log2((p[4] - p[16]) / (p[8] - p[16]))
    assert 3.5 < order < 4.5 and p[2] > p[4] > p[8] > p[16]


def test_the_estimate_ranks_cases_as_their_factors() -> None:
    """With no wire slack never under the true one and nearly it; what only pulls never buckles; lost stays lost."""
    f, load = braced()
    stiff = replace(f, wire=np.zeros(len(f.ends), bool))
    p = prepare(stiff)
    s = solve(p, load, False)
    true = np.array([buckling(p, s, k)[0] for k in range(len(load))])
    found = ranked(p, s.pull)
    assert np.all(found >= true * (1 - 1e-9)) and np.all(found <= true * 1.05)
    assert np.argmin(found) == np.argmin(true)
    assert_allclose(ranked(p, 2 * s.pull), found / 2, rtol=1e-9)
    odd_ones = ranked(p, np.stack([np.ones(len(f.ends)), np.full(len(f.ends), np.nan), s.pull[0]]))
    assert odd_ones[0] == np.inf and np.isnan(odd_ones[1]) and odd_ones[2] == pytest.approx(found[0], rel=1e-12)


def test_a_wire_that_does_not_bend_is_one_that_hardly_does() -> None:
    """Rigged, in second order: a section of nought and one of a hair's give the same forces."""
    f, load = braced()
    forces = []
    for second in (0.0, 1e-9):
        limp = replace(f, about_y=np.where(f.wire, second, f.about_y), about_z=np.where(f.wire, second, f.about_z),
                       tension=np.where(f.wire, 300.0, 0.0))  # fmt: skip
        s = solve(prepare(limp), load)
        assert s.good.all()
        forces.append(s.force)
    assert_allclose(forces[0], forces[1], rtol=0, atol=1e-9 * np.abs(forces[0]).max())


@pytest.mark.parametrize("second", [False, True])
@pytest.mark.parametrize("seed", [0, 3])
def test_slow_twin(seed: int, second: bool) -> None:
    f, load = odd(seed)
    load = load * (1 + seed % 3)
    s = solve(prepare(f), load, second)
    assert s.good.sum() > 2
    for c in np.flatnonzero(s.good):
        moved, pull, slack = twin(f, load[c], second)
        assert_allclose(s.moved[c], moved, rtol=0, atol=1e-7 * np.abs(moved).max())
        assert_allclose(s.pull[c], pull, rtol=0, atol=1e-7 * np.abs(pull).max())
        assert s.slack[c].tolist() == slack.tolist()
        assert_allclose((s.force[c, :, 6] - s.force[c, :, 0]) / 2, pull, rtol=0, atol=1e-7 * np.abs(pull).max())


def twin(f: Frame, load: np.ndarray, second: bool) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """One case as printed: element by element, all matrices again until axial forces and slack wires stay."""
    n, m = len(f.place), len(f.ends)
    pull, slack = f.tension.copy(), np.zeros(m, bool)
    turning = [arms(f, e) for e in range(m)]
    for _ in range(200):
        k, right = np.zeros((6 * n, 6 * n)), load.ravel().copy()
        kept = []
        for e in range(m):
            at, local, x = printed(f, e, pull[e] if second else 0.0)
            kept.append((at, x))
            if not slack[e]:
                k[np.ix_(at, at)] += x.T @ local @ x + (pull[e] * turning[e] if second else 0.0)
                right[at] -= f.tension[e] * (x[6] - x[0])
        free = np.flatnonzero(~f.held.ravel())
        u = np.zeros(6 * n)
        u[free] = np.linalg.lstsq(k[np.ix_(free, free)], right[free], rcond=1e-15)[0]
        length = np.array([np.linalg.norm(tip(f, e)) for e in range(m)])
        new = np.array(
            [
                f.tension[e] + f.youngs[e] * f.area[e] / length[e] * (x[6] - x[0]) @ u[at]
                for e, (at, x) in enumerate(kept)
            ]
        )
        wrong = f.wire & ((new < 0) != slack)
        now = slack.copy()
        if wrong.any():  # one at a time: all at once may go round for ever
            now[np.argmax(np.abs(new) * wrong)] ^= True
        new[now | (f.wire & (new < 0))] = 0.0
        settled = np.abs(new - pull).max() < 1e-9 * np.abs(new).max() and (now == slack).all()
        pull, slack = ((pull + new) / 2 if second else new), now  # half way: all the way may go to and fro
        if settled:
            return u.reshape(n, 6), new, slack
    raise AssertionError("the twin does not settle")


def tip(f: Frame, e: int) -> np.ndarray:
    i, j = f.ends[e]
    return f.place[j] + f.arm[e, 1] - f.place[i] - f.arm[e, 0]


def printed(f: Frame, e: int, n: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(places, 12 x 12 elastic and geometric stiffness released, 12 x 12 movements of its ends out of the nodes')."""
    i, j = f.ends[e]
    d = tip(f, e)
    l = float(np.linalg.norm(d))
    ex = d / l
    ey = np.cross(f.up[e], ex)
    ey = ey / np.linalg.norm(ey)
    axes = np.array([ex, ey, np.cross(ex, ey)])
    x = np.kron(np.eye(4), axes)
    for end in (0, 1):
        a = f.arm[e, end]
        x[6 * end : 6 * end + 3, 6 * end + 3 : 6 * end + 6] = axes @ np.array(
            [[0, a[2], -a[1]], [-a[2], 0, a[0]], [a[1], -a[0], 0]]
        )
    k, g = np.zeros((12, 12)), np.zeros((12, 12))
    for p, stiff in ((0, f.youngs[e] * f.area[e] / l), (3, f.shear[e] * f.twist[e] / l)):
        k[np.ix_([p, p + 6], [p, p + 6])] = stiff * np.array([[1, -1], [-1, 1]])
    for at, second_moment, area, s in (
        ([1, 5, 7, 11], f.about_z[e], f.shear_area[e, 0], 1),
        ([2, 4, 8, 10], f.about_y[e], f.shear_area[e, 1], -1),
    ):
        ei = f.youngs[e] * second_moment
        h = 12 * ei / (f.shear[e] * area * l * l)
        k[np.ix_(at, at)] = ei / (l**3 * (1 + h)) * np.array([
            [12, s * 6 * l, -12, s * 6 * l], [s * 6 * l, (4 + h) * l * l, -s * 6 * l, (2 - h) * l * l],
            [-12, -s * 6 * l, 12, -s * 6 * l], [s * 6 * l, (2 - h) * l * l, -s * 6 * l, (4 + h) * l * l]])  # fmt: skip
        o = 1 / (1 + h) ** 2
        a, b, c = l / 10 * o, l * l * (1 / 12 + o / 20), l * l * (o / 20 - 1 / 12)
        q = 1 + o / 5
        g[np.ix_(at, at)] = n / l * np.array([
            [q, s * a, -q, s * a], [s * a, b, -s * a, c], [-q, -s * a, q, -s * a], [s * a, c, -s * a, b]])  # fmt: skip
    out = np.flatnonzero(f.free[e] | (f.wire[e] & np.isin(np.arange(12), (3, 4, 5, 9, 10, 11))))
    stay = np.setdiff1d(np.arange(12), out)
    follow = np.zeros((12, 12))
    follow[stay, stay] = 1
    if out.size:
        follow[np.ix_(out, stay)] = -np.linalg.pinv(k[np.ix_(out, out)]) @ k[np.ix_(out, stay)]
    return np.r_[6 * i : 6 * i + 6, 6 * j : 6 * j + 6], follow.T @ (k + g) @ follow, x


def arms(f: Frame, e: int) -> np.ndarray:
    """The second-order stretch by the turning of the arms, t x (t x a)/2 along the element, as a matrix."""
    g = np.zeros((12, 12))
    ex = tip(f, e) / np.linalg.norm(tip(f, e))
    for end in (0, 1):
        a, unit = f.arm[e, end], np.eye(3)
        form = np.array(
            [[ex @ (np.cross(p, np.cross(q, a)) + np.cross(q, np.cross(p, a))) / 2 for q in unit] for p in unit]
        )
        g[6 * end + 3 : 6 * end + 6, 6 * end + 3 : 6 * end + 6] = (2 * end - 1) * form
    return g
