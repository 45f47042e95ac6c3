"""How two thick cambered sections share the lift, against a panel method that lays panels on both surfaces.

Source: J. L. Hess, A. M. O. Smith, Calculation of Potential Flow about Arbitrary Bodies (1967): constant sources on
each panel, one vortex strength for each body, equal speeds at both panels of a trailing edge. Written here in two
dimensions for two bodies; the lattice is laid at aspect ratio 100 and read in the middle. The sections' own thickness
lifts both alike and is not the lattice's affair, so shares are compared.

Source: hess-smith-1967.
"""

from __future__ import annotations

import numpy as np
import pytest
from air_wings import four_digit_line, rectangle
from numpy.testing import assert_allclose
from sections_like import four_digit_thickness

from sparwright.air.turned import turned

GAP, PANELS = 1.2, 160


def outline(camber: float, thickness: float) -> np.ndarray:
    """(2, PANELS + 1) from the trailing edge along the underside round the nose and back; thickness straight up."""
    theta = np.linspace(0, 2 * np.pi, PANELS + 1)
    x = (1 + np.cos(theta)) / 2
    side = np.where(theta <= np.pi, -0.5, 0.5)
    line, thick = four_digit_line(camber, 0.4), four_digit_thickness(thickness)
    y = np.interp(x, *line) + side * (np.interp(x, *thick) - thick[1, -1] * x)
    return np.array([x, y])


def lifts(bodies: list[np.ndarray], alpha: float) -> np.ndarray:
    """Lift coefficient of each body from its pressures."""
    a, b = np.hstack([p[:, :-1] for p in bodies]), np.hstack([p[:, 1:] for p in bodies])
    body = np.repeat(np.arange(len(bodies)), PANELS)
    long = np.hypot(*(b - a))
    t = (b - a) / long
    n = np.array([-t[1], t[0]])
    dx, dy = ((a + b) / 2)[:, :, None] - a[:, None, :]
    along, off = dx * t[0] + dy * t[1], dy * t[0] - dx * t[1]
    stream = np.log(np.hypot(along, off) / np.hypot(along - long, off)) / (2 * np.pi)
    across = np.arctan2(off * long, off**2 + along * (along - long)) / (2 * np.pi)
    np.fill_diagonal(across, 0.5)
    source = np.array([stream * t[0] - across * t[1], stream * t[1] + across * t[0]])
    vortex = np.array([source[1], -source[0]])
    swirl = np.array([[vortex[i][:, body == k].sum(1) for k in range(len(bodies))] for i in range(2)])
    free = np.array([np.cos(alpha), np.sin(alpha)])
    rows = [np.hstack([source[0] * n[0][:, None] + source[1] * n[1][:, None], (swirl[0] * n[0] + swirl[1] * n[1]).T])]
    asked = [-(free @ n)]
    for k in range(len(bodies)):
        ends = np.flatnonzero(body == k)[[0, -1]]
        kutta = sum(np.concatenate([source[0][i] * t[0][i] + source[1][i] * t[1][i],
                                    swirl[0][:, i] * t[0][i] + swirl[1][:, i] * t[1][i]]) for i in ends)  # fmt: skip
        rows.append(kutta[None])
        asked.append(-(free @ t[:, ends].sum(1))[None])
    found = np.linalg.solve(np.vstack(rows), np.concatenate(asked))
    total = body.size
    v = free[:, None] + np.array([source[i] @ found[:total] + found[total:] @ swirl[i] for i in range(2)])
    force = -(1 - (v**2).sum(0)) * n * long
    up = force[1] * np.cos(alpha) - force[0] * np.sin(alpha)
    return np.array([up[body == k].sum() for k in range(len(bodies))])


def test_the_panel_method_gives_a_thin_plate_its_lift() -> None:
    assert_allclose(lifts([outline(0.0, 0.01)], 0.1), 2 * np.pi * np.sin(0.1) * (1 + 0.77 * 0.01), rtol=0.01)


@pytest.mark.parametrize(("camber", "thickness"), [(0.0, 0.068), (0.03, 0.068), (0.03, 0.12)])
@pytest.mark.parametrize("degrees", [4, 8, 12])
def test_share_of_the_upper_section(camber: float, thickness: float, degrees: int) -> None:
    """0.005: what the lattice leaves out, the vortices' places on the mean line and third order."""
    alpha = np.radians(degrees)
    shape = outline(max(camber, 1e-12), thickness)
    exact = lifts([shape, shape + np.array([[0.0], [GAP]])], alpha)
    pair = (rectangle("lower", 100, section="s"), rectangle("upper", 100, z=GAP, section="s"))
    company = turned(pair, {"s": four_digit_line(max(camber, 1e-12), 0.4)}, {"s": four_digit_thickness(thickness)},
                     [alpha], spanwise=10)  # fmt: skip
    lift = np.array([s.lift[0] / s.area[0] for s in company.state(alpha).strips.values()])
    assert_allclose(lift[1] / lift.sum(), exact[1] / exact.sum(), rtol=0, atol=0.005)


def test_two_thick_sections_at_no_angle_draw_together() -> None:
    shape = outline(1e-12, 0.068)
    exact = lifts([shape, shape + np.array([[0.0], [GAP]])], 0.0)
    flat = {"s": four_digit_line(1e-12, 0.4)}
    pair = (rectangle("lower", 100, section="s"), rectangle("upper", 100, z=GAP, section="s"))
    state = turned(pair, flat, {"s": four_digit_thickness(0.068)}, [0.0], spanwise=10).state(0.0)
    lift = np.array([s.lift[0] / s.area[0] for s in state.strips.values()])
    assert exact[0] > 0 > exact[1]
    assert_allclose(lift, exact, rtol=0, atol=0.002)  # a tenth: third order in thickness over gap
