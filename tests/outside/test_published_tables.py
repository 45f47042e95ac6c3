"""The published tables beside this file agree with themselves: what was copied is what was printed.

Sources: the head lines of published/*.csv. A pressure distribution is integrated and held against the force its own
report prints; a lift-drag ratio against the printed one; a boundary-layer number is worked out again. So a slip of
the pen in a table shows here and not as a miss of some method.
"""

from __future__ import annotations

import csv
import math
import tomllib
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from clark_y import FLAT, clark_y, clark_y_printed
from numpy.testing import assert_allclose
from scipy.integrate import solve_bvp

import sparwright
from sparwright.shape.section import curve, sides

HERE = Path(__file__).parent / "published"
KEYS = tomllib.loads((Path(sparwright.__file__).parent / "data" / "sources.toml").read_text(encoding="utf-8"))
Rows = list[dict[str, str]]


def rows(name: str) -> Rows:
    """The rows of one table, without its head lines."""
    lines = [x for x in (HERE / f"{name}.csv").read_text(encoding="utf-8").splitlines() if not x.startswith("#")]
    return list(csv.DictReader(lines))


def column(table: Rows, name: str) -> npt.NDArray[np.float64]:
    return np.array([float(r[name]) if r[name] else math.nan for r in table])


def round_the_section(x: npt.NDArray[np.float64], y: npt.NDArray[np.float64], cp: npt.NDArray[np.float64]) -> float:
    """Normal force from pressures taken from the lower trailing edge round the nose, closed at the trailing edge."""
    x, y, cp = np.append(x, x[0]), np.append(y, y[0]), np.append(cp, cp[0])
    return float(-np.sum(0.5 * (cp[1:] + cp[:-1]) * np.diff(x)))


@pytest.mark.parametrize("path", sorted(HERE.glob("*.csv")), ids=lambda p: p.stem)
def test_every_table_says_where_it_is_from(path: Path) -> None:
    head = [x for x in path.read_text(encoding="utf-8").splitlines() if x.startswith("#")]
    assert head[0].startswith("# source: ")
    key = head[0].removeprefix("# source: ").split()[0]
    assert key in KEYS, key
    assert path.stem.startswith(key)
    assert any(x.startswith("# mark: ") for x in head)
    table = rows(path.stem)
    assert len(table) >= 3
    assert all(None not in r and None not in r.values() for r in table), "a row is too short or too long"


@pytest.mark.parametrize("cp, cn", [("cp_minus2", 0.146), ("cp_0", 0.338), ("cp_plus2", 0.501)])
def test_pressures_of_the_4412_give_its_normal_force(cp: str, cn: float) -> None:
    """NACA TR 563, tables I and II; 54 orifices by straight lines lose up to 0.01."""
    t = rows("naca-tr-563-pressures")
    got = round_the_section(column(t, "x_c"), column(t, "y_c"), column(t, cp))
    assert_allclose(got, cn, rtol=0, atol=0.01)


def test_forces_of_the_4412_belong_together() -> None:
    """cl = cn cos alpha - ca sin alpha; three printed digits of each, one row (16 deg) is out by 0.0016."""
    t = rows("naca-tr-563-forces")
    alpha = np.radians(column(t, "alpha_deg"))
    assert_allclose(
        column(t, "cn") * np.cos(alpha) - column(t, "ca") * np.sin(alpha), column(t, "cl"), rtol=0, atol=0.002
    )


def test_pressures_of_the_4412_at_greatest_lift() -> None:
    """NASA CR 152263: the authors give 1.67."""
    t = rows("nasa-cr-152263")
    x, y, cp = column(t, "x_c"), column(t, "y_c"), column(t, "cp")
    normal = round_the_section(x, y, cp)
    along = float(np.sum(0.5 * (cp[1:] + cp[:-1]) * np.diff(y)))
    alpha = math.radians(13.87)
    assert_allclose(normal * math.cos(alpha) - along * math.sin(alpha), 1.67, rtol=0, atol=0.005)


def test_pressures_of_the_4415_are_those_before_the_wall_correction() -> None:
    """NREL/TP-442-7815 run 57: cl 1.410 and cdp 0.09092 at 14.04 deg, uncorrected."""
    t = rows("nrel-tp-442-7815")
    side = {
        s: np.array([(float(r["x_c"]), float(r["cp"])) for r in t if r["surface"] == s]).T for s in ("upper", "lower")
    }
    got = np.trapezoid(side["lower"][1], side["lower"][0]) - np.trapezoid(side["upper"][1], side["upper"][0])
    alpha = math.radians(14.04)
    assert_allclose(got, 1.410 * math.cos(alpha) + 0.09092 * math.sin(alpha), rtol=0, atol=0.002)


def test_the_printed_ratios_of_the_0012() -> None:
    """NASA TM 4074, table I: the last column is printed to 0.01 from coefficients rounded to four digits."""
    t = rows("nasa-tm-4074-free")
    ratio, printed = column(t, "cl") / column(t, "cd"), column(t, "lift_drag_printed")
    there = np.isfinite(printed)
    assert there.sum() == 41
    assert_allclose(ratio[there], printed[there], rtol=0, atol=0.05)


def test_the_printed_factors_of_the_two_wing_cell() -> None:
    """Rathbun 1918: three printed digits of Ky make the factor good to 0.006."""
    t = rows("hunsaker-1916-cell")
    assert_allclose(column(t, "bi_Ky") / column(t, "mono_Ky"), column(t, "bi_lift_factor"), rtol=0, atol=0.006)


def wall_shear(beta: float) -> float:
    """f''(0) of f''' + f f'' + beta (1 - f'^2) = 0, f(0) = f'(0) = 0, f'(inf) = 1 (falkner-skan), forward flow."""
    eta = np.linspace(0.0, 10.0, 201)
    first = np.array([eta - 1.0 + np.exp(-eta), 1.0 - np.exp(-eta), np.exp(-eta)])
    out = solve_bvp(
        lambda _, f: np.array([f[1], f[2], -f[0] * f[2] - beta * (1.0 - f[1] ** 2)]),
        lambda a, b: np.array([a[0], a[1], b[1] - 1.0]),
        eta,
        first,
        tol=1e-9,
        max_nodes=20000,
    )
    assert out.success
    return float(out.sol(0.0)[2])


@pytest.mark.parametrize("beta, printed", [(float(r["beta"]), float(r["f2_wall"])) for r in rows("inglis-1962")[1:]])
def test_wall_shear_of_wedge_flows_worked_out_again(beta: float, printed: float) -> None:
    """Inglis 1962 prints eight digits; the last two or three move with his outer edge."""
    assert_allclose(wall_shear(beta), printed, rtol=5e-6, atol=2e-7)


def test_friction_of_the_plate_follows_its_authors_law() -> None:
    """NACA TM 986: cf = 0.370 (log10 Re_x)^-2.584; the digitised points lie within 1.4 %."""
    t = rows("naca-tm-986")
    law = 0.370 * np.log10(column(t, "re_x")) ** -2.584
    assert_allclose(column(t, "cf"), law, rtol=0.014, atol=0)


@pytest.mark.parametrize(
    "re, alpha, cl",
    [(0.06, 4.99, 0.838), (0.1, 5.01, 0.873), (0.2, 5.05, 0.896), (0.3, 5.0, 0.901), (0.46, 5.01, 0.914)],
)
def test_pressures_of_the_eppler_387_give_its_lift(re: float, alpha: float, cl: float) -> None:
    """NASA TM 4062: appendix D against appendix B; the tail beyond x/c 0.95 is drawn straight, hence 0.012."""
    t = [r for r in rows("nasa-tm-4062-pressures") if (float(r["re_million"]), float(r["alpha_deg"])) == (re, alpha)]
    side = {
        s: np.array([(float(r["x_c"]), float(r["cp"])) for r in t if r["surface"] == s]).T for s in ("upper", "lower")
    }
    tail = 0.5 * (side["upper"][1, -1] + side["lower"][1, -1])
    upper, lower = (np.trapezoid(np.append(side[s][1], tail), np.append(side[s][0], 1.0)) for s in ("upper", "lower"))
    assert_allclose((lower - upper) * math.cos(math.radians(alpha)), cl, rtol=0, atol=0.012)


@pytest.mark.parametrize(
    "lift, drag", [("uiuc-lsat-2-lift", "uiuc-lsat-2-drag"), ("uiuc-lsat-3-lift", "uiuc-lsat-3-drag")]
)
def test_lift_of_the_drag_runs_is_that_of_the_lift_runs(lift: str, drag: str) -> None:
    """Two separate sweeps of one model: within 0.06 from 0.1 million up, before the stall (runs differ by 0.03)."""
    curves = rows(lift)
    for r in rows(drag):
        re = float(r["re_million"])
        if re < 0.09:
            continue
        t = [c for c in curves if c["section"] == r["section"] and abs(float(c["re_million"]) - re) < 0.004]
        angle, value = column(t, "alpha_deg"), column(t, "cl")
        assert len(t) > 20
        assert (np.diff(angle) > 0).all()
        assert_allclose(np.interp(float(r["alpha_deg"]), angle, value), float(r["cl"]), rtol=0, atol=0.06)


def test_transition_brackets_are_one_orifice_wide() -> None:
    """NASA TP 1861: orifices every 5 % of the chord; on the upper side the change moves forward as lift rises."""
    t = rows("nasa-tp-1861-transition")
    first, last = column(t, "x_first_turbulent"), column(t, "x_last_laminar")
    assert_allclose(first - last, 0.05, rtol=0, atol=1e-9)
    for re in ("1", "2", "3", "4"):
        upper = [r for r in t if r["re_million"] == re and r["surface"] == "upper"]
        assert (np.diff(column(upper, "cl")) > 0).all()
        assert (np.diff(column(upper, "x_last_laminar")) <= 1e-9).all()


@pytest.mark.parametrize(
    "name, thick",
    [("nasa-tm-4062-section", 0.0907), ("nasa-tp-1861-section", 0.16), ("nrel-sr-500-34515-section", 0.137)],
)
def test_thickness_of_the_tabled_sections(name: str, thick: float) -> None:
    """The thickness that the name or the report gives, to its last digit."""
    t = rows(name)
    x, y = column(t, "x_c"), column(t, "y_c")
    nose = int(np.argmin(x))
    at = np.linspace(0.02, 0.98, 193)
    upper = np.interp(at, x[: nose + 1][::-1], y[: nose + 1][::-1])
    lower = np.interp(at, x[nose:], y[nose:])
    assert_allclose(np.max(upper - lower), thick, rtol=0, atol=0.0006)


def test_lift_shares_of_three_wings() -> None:
    """Rathbun 1918: the shares follow from the printed ratios."""
    t = rows("rathbun-1918-triplane")
    total = 1.0 + column(t, "upper_over_middle") + column(t, "lower_over_middle")
    assert_allclose(column(t, "upper_share"), column(t, "upper_over_middle") / total, rtol=0, atol=5e-4)
    assert_allclose(column(t, "lower_share"), column(t, "lower_over_middle") / total, rtol=0, atol=5e-4)
    assert_allclose(column(t, "middle_share"), 1.0 / total, rtol=0, atol=5e-4)


def test_two_tables_of_the_clark_y_are_one_section() -> None:
    """Thickness 11.7 % in both, alike within 1e-4 chords (printed to 1e-4); their chords lie 0.13 deg apart."""
    x = np.linspace(0.01, 0.99, 99)
    (up, low), (up_printed, low_printed) = (sides(curve(s), x) for s in (clark_y(), clark_y_printed()))
    assert_allclose(np.max(up - low), 0.117, rtol=0, atol=2e-4)
    assert_allclose(up - low, up_printed - low_printed, rtol=0, atol=1e-4)
    lean = np.polyfit(x[60:90], low_printed[60:90], 1)[0]
    apart = low - (low_printed + x * (math.tan(FLAT) - lean))
    assert_allclose(apart, np.mean(apart), rtol=0, atol=1e-4)


def test_lower_side_of_the_clark_y_is_flat() -> None:
    """Smooth table, from 0.6 of the chord to the tail, to its last digits; so the angle `FLAT` is the table's own."""
    t = rows("uiuc-coordinates-clark-y")
    x, lower = column(t, "x_c"), column(t, "lower")
    aft = x >= 0.6
    assert_allclose(lower[aft], lower[-1] + math.tan(FLAT) * (x[aft] - 1), rtol=0, atol=5e-6)


def test_one_figure_read_twice() -> None:
    """Clark Y wing: other examples of the book against example 16.1, straight lines between its angles."""
    curve_read, again = rows("jones-aerodynamics"), rows("jones-aerodynamics-readings")
    alpha, lift, drag = (column(curve_read, c) for c in ("alpha_deg", "cl", "cd"))
    at, cl, cd = (column(again, c) for c in ("alpha_deg", "cl", "cd"))
    told = np.isfinite(at)
    both = told & np.isfinite(cl)
    assert_allclose(np.interp(at[both], alpha, lift), cl[both], rtol=0, atol=0.011)
    by_angle, by_lift = told & np.isfinite(cd), ~told
    assert_allclose(np.interp(at[by_angle], alpha, drag), cd[by_angle], rtol=0, atol=0.0021)
    assert_allclose(np.interp(cl[by_lift], lift, drag), cd[by_lift], rtol=0, atol=0.0051)
    best = next(r for r in again if r["example"] == "8.9")
    assert_allclose(float(best["cl"]) / float(best["cd"]), 21.5, rtol=0, atol=0.05)  # example 8.7 prints it


def test_wing_sail_rises_straight_and_its_drag_leaves_a_profile() -> None:
    """Graf 2014: straight within 0.006 up to 7 deg; less lift^2/(9 pi) the drag rises steadily, by 0.007 at 6 deg."""
    t = rows("graf-2014")
    alpha, lift, drag = (column(t, c) for c in ("alpha_deg", "CL", "CD"))
    low = alpha <= 7
    assert_allclose(lift[low], np.polyval(np.polyfit(alpha[low], lift[low], 1), alpha[low]), rtol=0, atol=0.006)
    left = drag - lift**2 / (9 * np.pi)
    assert (np.diff(left[1:]) > 0).all() and abs(left[1] - left[0]) < 3e-4
    assert_allclose(left[6] - left[0], 0.0072, rtol=0, atol=0.001)
    assert alpha[np.argmax(lift)] == 12


def test_usa_5_is_its_old_table_turned() -> None:
    """Ordinates of 0.01 % sheared by 0.0003 x: at every twentieth of the chord the fifth digit follows from x."""
    t = rows("uiuc-coordinates-usa-5")
    x = column(t, "x_c")
    twentieth = np.abs(x * 20 - np.round(x * 20)) < 1e-9
    assert twentieth.sum() == 14
    for side in ("upper", "lower"):
        old = (column(t, side) - 0.0003 * x)[twentieth] * 1e4
        assert_allclose(old, np.round(old), rtol=0, atol=0.06)


def test_raf_6_stands_on_a_flat() -> None:
    """Lower side straight to its last digit; heights above it are whole tenths of a per cent of its thickness, bent."""
    t = rows("uiuc-coordinates-raf-6")
    x, lower = column(t, "x_lower")[1:], column(t, "lower")[1:]
    assert_allclose(lower, -0.0015 - 0.0036 * (1 - x), rtol=0, atol=1.1e-5)
    height = (column(t, "upper") + 0.0015 + 0.0036 * (1 - column(t, "x_upper")))[1:-1]
    assert_allclose(height * 1e4, np.round(height * 1e4), rtol=0, atol=0.15)
    assert_allclose(height.max(), 0.0998, rtol=0, atol=2e-5)
    bend = np.diff(height[2:], 2)  # from 0.1 to 0.9 of the chord, alike spaced: hollow nowhere, bent nowhere sharply
    assert (bend < -0.0025).all() and (bend > -0.012).all()
