"""What must hold of the angle at which a nose lets go, whatever the section: by potential flow, as in the source."""

from __future__ import annotations

from functools import cache
from types import SimpleNamespace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.air.behaviour import behaviour
from sparwright.air.flow.contour import contour
from sparwright.air.flow.potential import potential
from sparwright.air.nose_stall import ends, most_difference
from sparwright.air.polars import ANGLES, Asked, Table, surfaces
from sparwright.air.raised import EDGE, lift_of, past_the_nose, raised
from sparwright.air.stance import stances
from sparwright.air.strips import Fitted, Settled, fitted
from sparwright.air.thin import lift_and_moment
from sparwright.air.turned import turned
from sparwright.family.model import Section
from sparwright.flight.trim import _ended
from sparwright.shape.planform import Planform
from sparwright.shape.section import mean_line

ANGLE = np.radians(np.arange(-150, 221) / 10.0)


@cache
def flow(naca: str) -> tuple[np.ndarray, np.ndarray]:
    """(lift, pressure at the tail less the least one) at ANGLE."""
    p = potential(contour(Section(name=naca, naca=naca), 160, 1.0, 0.0))
    pressure = np.array([1 - p.speeds(a) ** 2 for a in ANGLE])
    return np.array([p.lift(a) for a in ANGLE]), (pressure[:, 0] + pressure[:, -1]) / 2 - pressure.min(axis=1)


def upper(naca: str, reynolds: float) -> float:
    return ends(ANGLE, *flow(naca), reynolds)[1]


@pytest.mark.parametrize("family", ["00{}", "24{}", "44{}"])
@pytest.mark.parametrize("reynolds", [1e6, 3e6, 9e6])
def test_a_thicker_nose_lets_go_later(family: str, reynolds: float) -> None:
    angles = [upper(family.format(t), reynolds) for t in ("06", "08", "10", "12")]
    assert np.all(np.diff(angles) > np.radians(0.3)), np.degrees(angles)


@pytest.mark.parametrize("naca", ["0006", "0009", "2408", "4410"])
def test_a_higher_reynolds_number_lets_it_go_no_earlier(naca: str) -> None:
    angles = [upper(naca, re) for re in (2e5, 9e5, 1e6, 1.5e6, 3e6, 6e6, 9e6)]
    assert np.all(np.diff(angles) >= 0) and angles[-1] > angles[0] + np.radians(1.0), np.degrees(angles)


def test_camber_lets_it_go_later_on_the_upper_side_and_earlier_on_the_lower() -> None:
    plain, bent = (ends(ANGLE, *flow(n), 3e6) for n in ("0009", "4409"))
    assert bent[1] > plain[1] + np.radians(0.3) and bent[0] > plain[0] + np.radians(0.3)


def test_a_symmetrical_section_lets_go_alike_on_both_sides() -> None:
    low, high = ends(ANGLE, *flow("0009"), 3e6)
    assert_allclose(-low, high, rtol=0, atol=np.radians(0.02))


RE = 2e6
NOSE = np.radians(9.0)  # where the made-up section's nose lets go, its lift still rising


def climbed(*heights: float) -> tuple[Fitted, list[Settled]]:
    """Wings of a thin section without friction, one above the other, raised as far as it goes."""
    thin, angles = Section(name="s", naca="2409", surface="smooth"), np.array(ANGLES)
    line = {"s": mean_line(thin)}
    own, flat = lift_and_moment(line["s"])[0], np.full(angles.size, 0.01)
    lift = 2 * np.pi * np.sin(angles) + own * np.cos(angles)
    peak = most_difference(RE) * (angles / NOSE) ** 2
    table = Table(angles, lift, flat, flat, flat, flat, flat, flat, flat, peak)
    behaviours = {"s": behaviour(thin, {Asked(thin, n, re): table for n in surfaces() for re in (RE / 2, RE)})}
    wings = [Planform(f"wing {z:g}", np.array([[0.0, 0.0], [0.0, 3.0], [z, z]]), np.ones(2), np.zeros(2), ("s", "s"))
             for z in heights]  # fmt: skip
    thick = {"s": np.array([[0.0, 0.3, 1.0], [0.0, 0.09, 0.0]])}
    f = fitted(stances(turned(tuple(wings), line, thick)), line, behaviours)
    up = np.radians(np.arange(-2.0, 28.0))
    return f, raised(f, None, lambda CL: RE, up, f.stances.at(float(up[0])).amounts())


def test_between_two_sections_the_end_is_mixed_with_the_stall_of_the_same_side() -> None:
    """Thin: its nose lets go at 9 deg either way. Thick: greatest lift at 16 deg, least at -10 deg."""
    angles, flat = np.array(ANGLES), np.full(len(ANGLES), 0.01)
    high, low = np.radians(16.0), np.radians(-10.0)
    lift = 6 * np.clip(angles, low, high) - np.clip(angles - high, 0, None) + np.clip(low - angles, 0, None)
    tables = {"s": ("0009", 6 * angles, most_difference(RE) * (angles / NOSE) ** 2), "t": ("0015", lift, flat)}
    behaviours = {}
    for name, (naca, cl, peak) in tables.items():
        section = Section(name=name, naca=naca, surface="smooth")
        table = Table(angles, cl, flat, flat, flat, flat, flat, flat, flat, peak)
        behaviours[name] = behaviour(section, {Asked(section, n, re): table for n in surfaces() for re in (RE / 2, RE)})
    wing = Planform("wing", np.array([[0.0, 0.0], [0.0, 3.0], [0.0, 0.0]]), np.ones(2), np.zeros(2), ("s", "t"))
    line, thick = ({n: np.array([[0.0, 0.3, 1.0], [0.0, y, 0.0]]) for n in "st"} for y in (0.0, 0.09))
    f = fitted(stances(turned((wing,), line, thick)), line, behaviours)
    stance = f.stances.at(0.0)
    still = Settled(stance, stance.amounts(), np.zeros(len(f.shares)), 0.0)
    below, above = f.beyond(still, lambda CL: RE)
    thin = f.shares[f.real, [b.name for b in f.behaviours].index("s")]
    assert thin.min() < 0.2 and thin.max() > 0.8
    assert_allclose(-above, thin * NOSE + (1 - thin) * high, rtol=0, atol=np.radians(0.06))
    assert_allclose(-below, thin * NOSE - (1 - thin) * low, rtol=0, atol=np.radians(0.06))


@pytest.mark.parametrize("heights", [(0.0,), (1.2, 0.0)])
def test_a_company_ends_where_its_first_strip_lets_go_and_that_is_its_greatest_lift(heights: tuple[float, ...]) -> None:
    f, found = climbed(*heights)
    past = [past_the_nose(f, s, lambda CL: RE) for s in found]
    assert -EDGE <= past[-1] <= 0 and max(past[:-1]) < past[-1], np.degrees(past)
    assert_allclose(found[-1].works.max(), NOSE, rtol=0, atol=2 * EDGE)
    lifts = [lift_of(s) for s in found]
    assert np.all(np.diff(lifts) > 0)
    plane = SimpleNamespace(company=f.stances.company, wings=tuple(s.name for s in f.stances.company.mesh.surfaces))
    why, said = _ended(plane, f, found, lambda CL: RE)  # type: ignore[arg-type]
    assert not why and "the thin nose of a section lets go" in said and "28 %" not in said
