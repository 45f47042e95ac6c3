"""Any distortion a printer may make of a sheet, measured, undone, made again: the templates lie where they belong."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sparwright.base.problem import DesignProblem
from sparwright.parts.part import Part, Plate
from sparwright.plans.correction import CLOSES, MOST_SCALE, MOST_SKEW, Measured, correction
from sparwright.plans.drawing import Line, Polyline, Sheet
from sparwright.plans.paper import PAPERS, TitleBlock, check_corners, check_sides, checks
from sparwright.plans.templates import corrected_sheets, templates

TITLE = TitleBlock("Whinchat", "T1", "Sparwright 0.1.0", "0" * 64)
ALLOWED = 0.1  # mm, allowed after correction
WITHIN = 0.9  # of the limits, so that rounding to a tenth of a millimetre refuses nothing


def plate(number: str, long: float, deep: float) -> Part:
    ring = np.array([[0, 0], [long, 0.02], [0.9 * long, deep], [0.2 * long, 0.8 * deep]])
    hole = np.array([[0.5, 0.3], [0.4, 0.6], [0.6, 0.6]]) * (long, deep)
    return Part(number=number, name="plate", form="plate", group="g", purpose="p", material="birch-ply", stock="ply",
                places=((0, 0, 0),), mass=0.1, shape=Plate(outline=ring, holes=(hole,), thickness=0.003))  # fmt: skip


SHEETS = {name: templates((plate("P1", 0.7, 0.2), plate("P2", 0.5, 0.1)), name, TITLE) for name in PAPERS}


def points(sheet: Sheet) -> np.ndarray:
    """Every point of a line that is cut, and both ends of each check line, mm."""
    cut = [p for s in sheet.on("cut") if isinstance(s, Polyline) for p in s.points]
    check = [p for s in sheet.on("check") if isinstance(s, Line) for p in (s.start, s.end)]
    return np.array(cut + check)


def printed(
    xy: np.ndarray, along: float, across: float, skew: float, turn: float, at: tuple[float, float]
) -> np.ndarray:
    """What a printer that is off by so much makes of points, mm: written with sines, not with the module's matrix."""
    x, y = np.asarray(xy, float).T
    u, v = x * (1 + along) + y * (1 + across) * math.sin(skew), y * (1 + across) * math.cos(skew)
    c, s = math.cos(turn), math.sin(turn)
    return np.column_stack((c * u - s * v + at[0], s * u + c * v + at[1]))


def measured(name: str, digits: int, *distortion) -> Measured:
    """The four lengths of the printed check rectangle, read to so many digits of a millimetre."""
    a, b, c, d = printed(np.array(check_corners(PAPERS[name])), *distortion)
    read = [round(float(np.hypot(*(q - p))), digits) / 1000 for p, q in ((a, b), (a, d), (a, c), (b, d))]
    return Measured("sheet", "printer", "2026-05-04", *check_sides(PAPERS[name]), *read)


def apart(one: np.ndarray, other: np.ndarray) -> float:
    """The largest distance after one set of points is laid on the other by moving and turning only."""
    p, q = one - one.mean(axis=0), other - other.mean(axis=0)
    u, _, vt = np.linalg.svd(p.T @ q)
    flip = np.diag([1.0, np.sign(np.linalg.det(u @ vt))])
    return float(np.hypot(*(p @ u @ flip @ vt - q).T).max())


share = st.floats(-WITHIN * MOST_SCALE, WITHIN * MOST_SCALE)
distortions = st.tuples(share, share, st.floats(-WITHIN * MOST_SKEW, WITHIN * MOST_SKEW), st.floats(-3.0, 3.0),
                        st.tuples(st.floats(-500, 500), st.floats(-500, 500)))  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(distortions, st.sampled_from(sorted(PAPERS)))
def test_corrected_and_distorted_again_every_point_is_true(distortion, name):
    """Lengths read to 0.1 mm; the sheet laid beside the true one without stretching it."""
    undo = correction(measured(name, 1, *distortion))
    for sheet, drawn in zip(SHEETS[name], corrected_sheets(SHEETS[name], TITLE, undo), strict=True):
        again = printed(points(drawn), *distortion)
        assert apart(again, points(sheet)) < ALLOWED


@settings(max_examples=40, deadline=None)
@given(distortions, st.sampled_from(sorted(PAPERS)))
def test_with_exact_lengths_nothing_is_left_and_the_error_is_told_as_it_was_made(distortion, name):
    along, across, skew = distortion[:3]
    undo = correction(measured(name, 12, *distortion))
    np.testing.assert_allclose((undo.along, undo.across), (along, across), rtol=0, atol=1e-9)
    assert undo.skew == pytest.approx(skew, abs=1e-9) and abs(undo.closure) < 1e-9
    sheet = SHEETS[name][0]
    again = printed(points(corrected_sheets((sheet,), TITLE, undo)[0]), *distortion)
    assert apart(again, points(sheet)) < 1e-6


@settings(max_examples=30, deadline=None)
@given(distortions, st.sampled_from(sorted(PAPERS)))
def test_the_corrected_print_measures_as_drawn(distortion, name):
    """So the check lines tell on a corrected sheet what they tell on every other."""
    undo = correction(measured(name, 1, *distortion))
    (sheet,) = corrected_sheets(SHEETS[name][:1], TITLE, undo)
    a, b, d = (np.array(s) for s in _ends(sheet))
    p = printed(np.vstack((a, b, d)), *distortion)
    w, h = check_sides(PAPERS[name])
    np.testing.assert_allclose((math.dist(p[0], p[1]), math.dist(p[0], p[2])), (1000 * w, 1000 * h), rtol=0, atol=0.06)


def _ends(sheet: Sheet):
    """A, B and D of the drawn check lines."""
    first, second = [s for s in sheet.on("check") if isinstance(s, Line)][:2]
    return first.start, first.end, second.end


@settings(max_examples=60, deadline=None)
@given(distortions, st.sampled_from(("ab", "ad", "ac", "bd")), st.sampled_from((-1.0, 1.0)))
def test_one_length_read_wrong_by_an_eighth_of_a_per_cent_of_the_diagonal_and_more_is_found(distortion, which, way):
    """A side's mistake moves the closure by less than itself: times its share of the diagonal; a diagonal's by half."""
    true = measured("24x36", 12, *distortion)
    diagonal = math.hypot(true.width, true.height)
    weight = {"ab": true.ab / diagonal, "ad": true.ad / diagonal, "ac": 0.5, "bd": 0.5}[which]
    wrong = replace(true, **{which: getattr(true, which) + way * 1.25 * CLOSES * diagonal / weight})
    with pytest.raises(DesignProblem):
        correction(wrong)


def test_frame_and_title_stay_and_templates_move():
    undo = correction(measured("A1", 12, 0.005, -0.004, 0.004, 0.0, (0.0, 0.0)))
    sheet = SHEETS["A1"][0]
    (drawn,) = corrected_sheets((sheet,), TITLE, undo)
    lines = [s for s in sheet.on("frame") if isinstance(s, Line | Polyline)]
    assert set(lines[:9]) <= set(drawn.on("frame"))  # border and corner marks
    assert len(drawn.on("cut")) == len(sheet.on("cut")) and not set(drawn.on("cut")) & set(sheet.on("cut"))
    assert len(drawn.drawn) == len(sheet.drawn) and len(drawn.on("check")) == len(checks(PAPERS["A1"]))
