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
from numpy.testing import assert_allclose
from scipy.integrate import solve_bvp

import sparwright

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
