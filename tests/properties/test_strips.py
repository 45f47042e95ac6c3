"""What must hold of a lattice whose strips carry what their sections do, with sections made up for the purpose."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.air.behaviour import Behaviour, behaviour
from sparwright.air.polars import ANGLES, Asked, Table, surfaces
from sparwright.air.raised import lift_of, raised
from sparwright.air.stance import stances
from sparwright.air.strips import NEAR, Fitted, Settled, fitted, plain
from sparwright.air.thin import lift_and_moment
from sparwright.air.turned import turned
from sparwright.family.model import Section
from sparwright.flight.trim import _ended
from sparwright.shape.planform import Planform
from sparwright.shape.section import mean_line

RE = 1.22e6
SECTION = Section(name="s", naca="4412")
LINE = {"s": mean_line(SECTION)}
THICK = {"s": np.array([[0.0, 0.3, 1.0], [0.0, 0.12, 0.0]])}
OWN = lift_and_moment(LINE["s"])[0]
ANGLE = np.array(ANGLES)
UP = np.radians(np.arange(-4.0, 28.0))
Lift = Callable[[np.ndarray], np.ndarray]


def mean_lines_own(alpha: np.ndarray) -> np.ndarray:
    """The section of the lattice: thin, no friction."""
    return np.asarray(2 * np.pi * np.sin(alpha) + OWN * np.cos(alpha))


def stalling(alpha: np.ndarray) -> np.ndarray:
    """Nine tenths of that, bent over to 1.5 at 15 degrees and down by 1.2 a radian behind."""
    y = 0.9 * mean_lines_own(alpha)
    top, at = 1.5, np.radians(15.0)
    knee = np.radians(9.0)
    start, slope = 0.9 * float(mean_lines_own(np.array(knee))), 0.9 * 2 * np.pi * np.cos(knee)
    s = np.clip((alpha - knee) / (at - knee), 0, 1)
    h = at - knee
    bent = start + s * h * slope + s**2 * (3 * (top - start) - 2 * slope * h) + s**3 * (slope * h - 2 * (top - start))
    return np.asarray(np.where(alpha < knee, y, np.where(alpha <= at, bent, top - 1.2 * (alpha - at))))


def section(lift: Lift, angles: np.ndarray = ANGLE) -> Behaviour:
    """A section that lifts so at every Reynolds number."""
    flat = np.full(angles.size, 0.01)
    table = Table(angles, lift(angles), flat, flat, flat, flat, flat, flat, flat, flat)
    asked = {Asked(SECTION, name, re): table for name in surfaces() for re in (1e5, 9e6)}
    return behaviour(SECTION, asked)


def wing(name: str = "wing", z: float = 0.0, chord: float = 1.0, angle: float = 0.0, x: float = 0.0) -> Planform:
    edge = np.array([[x, x], [0.0, 3.0], [z, z]])
    return Planform(name, edge, np.full(2, chord), np.full(2, angle), ("s", "s"))


def company(*wings: Planform, lift: Lift = stalling, spanwise: int = 14) -> Fitted:
    return fitted(stances(turned(wings, LINE, THICK, spanwise=spanwise)), LINE, {"s": section(lift)})


def climb(f: Fitted, angles: np.ndarray = UP) -> list[Settled]:
    return raised(f, None, lambda CL: RE, angles, f.stances.at(float(angles[0])).amounts())


def most(f: Fitted) -> float:
    """Greatest CL, which must have been passed."""
    lifts = [lift_of(s) for s in climb(f)]
    assert max(lifts) > lifts[-1] and len(lifts) > 8
    return max(lifts)


@pytest.mark.parametrize("wings", [(wing(),), (wing("upper", 1.2), wing("lower", 0.0, x=0.4)),
                                   (wing("upper", 1.6), wing("middle", 0.8), wing("lower"))])  # fmt: skip
def test_sections_without_friction_leave_the_lattice_as_it_is(wings: tuple[Planform, ...]) -> None:
    """To 0.2 %, whole and each wing: the flow that close wings impose on each other is kept."""
    f = company(*wings, lift=mean_lines_own)
    angles = np.radians(np.arange(-4.0, 17.0, 4.0))
    for real, still in zip(climb(f, angles), climb(plain(f), angles), strict=True):
        assert_allclose(real.stance.surface_lift(real.amounts), still.stance.surface_lift(still.amounts), rtol=2e-3)
        assert_allclose(lift_of(real), lift_of(still), rtol=2e-3)
        assert np.abs(real.amounts[1:]).max() < 1e-4


def test_every_strip_carries_what_its_section_does() -> None:
    f = company(wing("upper", 1.2), wing("lower", 0.0, x=0.4))
    for s in climb(f):
        cl = s.stance.section_lift(s.amounts)
        assert_allclose(cl, f.behaviours[0].lift(s.works, np.full(cl.shape, RE))[0], rtol=0, atol=2 * NEAR)


def test_lift_of_strips_that_stall_follows_the_section() -> None:
    """A section that is scaled scales the greatest lift of the cell, though its slope is scaled as well: to 1.5 %.

    That is what lets the band of section lift go straight through to the stall.
    """
    cells = ((wing(),), (wing("upper", 1.2), wing("lower", 0.0, x=0.4)))
    for wings in cells:
        one = most(company(*wings))
        for by in (0.9, 1.05):
            other = most(company(*wings, lift=lambda a, by=by: by * stalling(a)))  # type: ignore[misc]
            assert_allclose(other / one, by, rtol=0.015)


def test_a_wing_far_away_is_alone() -> None:
    one, two = most(company(wing())), most(company(wing("upper", 300.0), wing("lower")))
    assert_allclose(two, one, rtol=2e-3)


def test_close_wings_lift_less_each_than_one_alone_at_an_angle_and_stall_later() -> None:
    alone, pair = company(wing()), company(wing("upper", 1.0), wing("lower"))
    single, both = climb(alone), climb(pair)
    assert lift_of(both[10]) < 0.9 * lift_of(single[10])
    tops = [s.stance.alpha for run in (single, both) for s in [max(run, key=lift_of)]]
    assert tops[1] > tops[0] + np.radians(2.0)


def test_a_third_wing_of_no_chord_changes_nothing() -> None:
    pair = (wing("upper", 1.2), wing("lower"))
    two, three = company(*pair), company(*pair, wing("slip", 0.6, chord=1e-3, x=0.5))
    for a, b in zip(climb(two), climb(three), strict=False):
        assert_allclose(b.stance.surface_lift(b.amounts)[:2], a.stance.surface_lift(a.amounts), rtol=2e-3)


def test_size_does_not_matter_at_one_reynolds_number() -> None:
    def times(k: float, p: Planform) -> Planform:
        return replace(p, leading_edge=p.leading_edge * k, chord=p.chord * k)

    pair = (wing("upper", 1.2), wing("lower", 0.0, x=0.4))
    small, large = climb(company(*pair)), climb(company(*(times(3.0, p) for p in pair)))
    assert_allclose([lift_of(s) for s in large], [lift_of(s) for s in small], rtol=1e-6)


def test_upside_down_is_the_same_with_the_other_sign() -> None:
    flat = {"s": np.array([[0.0, 1.0], [0.0, 0.0]])}
    odd = section(lambda a: np.sign(a) * np.minimum(6.0 * np.abs(a), 1.4 - 0.5 * np.abs(a)))
    f = fitted(stances(turned((wing("upper", 1.0), wing("lower")), flat, THICK)), flat, {"s": odd})
    other = fitted(stances(turned((wing("lower", -1.0), wing("upper")), flat, THICK)), flat, {"s": odd})
    up, down = (climb(g, np.radians(np.arange(1.0, 11.0)) * sign) for g, sign in ((f, 1), (other, -1)))
    assert_allclose([lift_of(s) for s in down], [-lift_of(s) for s in up], rtol=1e-6)


def test_finer_strips_settle_on_one_greatest_lift() -> None:
    found = [most(company(wing("upper", 1.2), wing("lower", 0.0, x=0.4), spanwise=n)) for n in (8, 14, 26)]
    assert_allclose(found[:2], found[2], rtol=0.01)
    assert abs(found[1] - found[2]) < abs(found[0] - found[2])


def test_the_part_that_is_set_steeper_lets_go_first() -> None:
    """Decalage: the wing with the greater angle is past its section's greatest lift before the other."""
    for steep in ("upper", "lower"):
        f = company(*(wing(n, z, angle=0.06 if n == steep else 0.0) for n, z in (("upper", 1.2), ("lower", 0.0))))
        limit = np.radians(15.0)
        for s in climb(f):
            over = {n: float(s.works[here].max()) for n, here in f.stances.company.strip_slices.items()}
            if max(over.values()) > limit:
                assert max(over, key=lambda n: over[n]) == steep
                break
        else:
            pytest.fail("nothing let go")


def test_where_a_section_is_unknown_the_climb_ends() -> None:
    """No lift is made up past the last angle on file."""
    short = ANGLE[np.degrees(ANGLE) < 8.5]
    f = fitted(stances(turned((wing(),), LINE, THICK)), LINE, {"s": section(mean_lines_own, short)})
    found = climb(f)
    assert np.degrees(found[-1].works.max()) < 8.0 + 1e-6 and found[-1].stance.alpha < np.radians(14)


def ended(limit: float) -> tuple[str, str]:
    """(why unknown, what is said) of a pair: the lower wing stalls at 5 deg, the upper section ends at `limit` deg."""
    top = np.radians(5.0)
    early = section(lambda a: np.where(a < top, mean_lines_own(a), mean_lines_own(np.array(top)) - (a - top)))
    known = section(stalling, ANGLE[np.degrees(ANGLE) < limit + 0.5])
    wings = (replace(wing("upper", 5.0), sections=("late",) * 2), replace(wing("lower"), sections=("early",) * 2))
    lines, thick = ({n: v["s"] for n in ("early", "late")} for v in (LINE, THICK))
    f = fitted(stances(turned(wings, lines, thick)), lines, {"early": early, "late": known})
    plane = SimpleNamespace(company=f.stances.company, wings=("upper", "lower"))
    return _ended(plane, f, climb(f), lambda CL: RE)  # type: ignore[arg-type]


def test_a_line_cut_off_while_the_lift_rises_has_no_greatest_lift() -> None:
    """One wing has let go in both: where the other's section ends on the slope nothing is taken, near its top it is."""
    why, said = ended(8.0)
    assert "still rises" in why and not said
    why, said = ended(14.0)
    assert not why
