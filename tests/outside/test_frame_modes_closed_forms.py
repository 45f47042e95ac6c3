"""Natural frequencies of beams and of a tight string.

Source: Timoshenko, Vibration Problems in Engineering (memory, high): (b L)^2 times root(E I/(m L^4)), b L 1.875104,
4.694091, 7.854757 of a cantilever, 4.730041, 7.853205, 10.995608 of a free beam; a string pi n root(T/(m L^2)); and the
string of n equal links of lumped mass, 2 root(T/(m L^2)) n sin(pi k/(2 n)), exactly. Elements: lumped mass errs with
the square of the element's length; 40 give 0.16 % of the third frequency of a cantilever, 0.46 % of a free beam's.
"""

from __future__ import annotations

import numpy as np
import pytest
from frames import ALL, braced, flat, line
from numpy.testing import assert_allclose

from sparwright.maths.frame.modes import modes
from sparwright.maths.frame.stiff import prepare


def lumped(count: int, total: float) -> np.ndarray:
    mass = np.full(count + 1, total / count)
    mass[[0, -1]] /= 2
    return mass


def beam(count: int, held: dict[int, tuple[int, ...]], wanted: int) -> np.ndarray:
    """Frequencies bending in the x-z plane of a beam of E I 2, length 3, mass 5."""
    f = line(3, count, flat(count + 1, held), area=1e3, about_y=2.0)
    omega, shapes = modes(prepare(f), lumped(count, 5.0), np.zeros((count + 1, 3, 3)), wanted)
    kept = np.einsum("kni,n,lni->kl", shapes[..., :3], lumped(count, 5.0), shapes[..., :3])
    assert_allclose(kept, np.eye(wanted), rtol=0, atol=1e-6)
    return omega / np.sqrt(2 / (5 / 3 * 3**4))


def test_cantilever() -> None:
    wanted = np.array([1.875104, 4.694091, 7.854757]) ** 2
    forty, eighty = (beam(n, {0: ALL}, 3) / wanted - 1 for n in (40, 80))
    assert_allclose(forty, 0, rtol=0, atol=2e-3)
    assert_allclose(np.log2(forty / eighty), 2, rtol=0, atol=0.1)


def test_free_beam() -> None:
    """Three rigid movements in the plane, then bending."""
    omega = beam(80, {}, 6)
    assert np.all(omega[:3] == 0)
    assert_allclose(omega[3:], np.array([4.730041, 7.853205, 10.995608]) ** 2, rtol=1.2e-3)
    coarse = beam(40, {}, 6)[3:] / np.array([4.730041, 7.853205, 10.995608]) ** 2 - 1
    fine = omega[3:] / np.array([4.730041, 7.853205, 10.995608]) ** 2 - 1
    assert_allclose(np.log2(coarse / fine), 2, rtol=0, atol=0.15)


@pytest.mark.parametrize("count", [10, 60])
def test_string(count: int) -> None:
    """Links that are pinned, tight: the rigging alone holds them. 60 links are more movements than one matrix takes."""
    f = line(
        4,
        count,
        {n: (1,) for n in range(1, count)} | {0: ALL, count: ALL},
        area=1e3,
        youngs=1e3,
        wire=True,
        tension=7.0,
    )
    omega, _ = modes(prepare(f), lumped(count, 3.0), np.zeros((count + 1, 3, 3)), 3)
    k = np.arange(1, 4)
    links = 2 * np.sqrt(7.0 / (3.0 * 4)) * count * np.sin(np.pi * k / (2 * count))
    assert_allclose(omega, links, rtol=1e-7)
    if count == 60:
        assert_allclose(omega, np.pi * k * np.sqrt(7.0 / (3.0 * 4)), rtol=1.1e-3)


@pytest.mark.parametrize("divided", [1, 3])
def test_a_free_frame_has_six_rigid_movements(divided: int) -> None:
    f, _ = braced(divided=divided)
    f.held[:] = False
    n = len(f.place)
    omega, shapes = modes(prepare(f), np.full(n, 1e-3), np.tile(np.eye(3), (n, 1, 1)), 8)
    assert np.all(omega[:6] == 0) and np.all(omega[6:] > 0)
    stretch = np.abs(np.einsum("mi,kmi->km", prepare(f).parts.stretch, shapes[:, f.ends].reshape(8, -1, 12)))
    assert stretch[:6].max() < 1e-6 * stretch[6:].max()


def test_a_wheel_on_a_shaft() -> None:
    """Twisting: omega^2 = G J/(L I), the inertia about the shaft out of a full matrix in the frame's axes."""
    way = np.array([0.6, 0.0, 0.8])
    f = line(2, 1, {0: ALL, 1: (0, 1, 2)}, way=way, twist=3.0, shear=4.0, about_y=1e6, about_z=1e6)
    inertia = np.zeros((2, 3, 3))
    inertia[1] = 0.5 * np.outer(way, way) + 1e-3 * np.eye(3)
    omega, shapes = modes(prepare(f), np.zeros(2), inertia, 1)
    assert_allclose(omega, np.sqrt(4 * 3 / (2 * 0.501)), rtol=1e-7)
    assert_allclose(np.abs(shapes[0, 1, 3:]), way / np.sqrt(0.501), rtol=0, atol=1e-6)
