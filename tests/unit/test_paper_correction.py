"""A printer's error told plainly: what is refused, and with which sentence; what a corrected sheet says."""

from __future__ import annotations

import math

import pytest

from sparwright.base.problem import DesignProblem
from sparwright.plans.clash import clashes
from sparwright.plans.correction import MOST_SKEW, Measured, corrected, correction, said
from sparwright.plans.drawing import Circle, Sheet, Text
from sparwright.plans.measured_lengths import measured
from sparwright.plans.paper import PAPERS, TitleBlock, check_sides, furniture
from sparwright.plans.templates import corrected_sheets, told

W, H = check_sides(PAPERS["24x36"])
D = math.hypot(W, H)
ON = "24 × 36 in sheet"
RULED = {ON: (W, H), "A1 sheet": check_sides(PAPERS["A1"])}
TITLE = TitleBlock("Whinchat", "T1", "Sparwright 0.1.0", "0" * 64)


def lengths(ab: float = W, ad: float = H, ac: float = D, bd: float = D) -> Measured:
    return Measured(ON, "plotter", "2026-05-04", W, H, ab, ad, ac, bd)


def read(text: str, on: str = ON) -> Measured:
    return measured(text, on, RULED, "plotter", "2026-05-04")


def test_a_true_print_is_left_as_it_is() -> None:
    undo = correction(lengths())
    assert undo.small
    (a, b), (c, d) = undo.inverse
    assert (a, b, c, d) == pytest.approx((1, 0, 0, 1), abs=1e-12)
    assert "less than a rule can tell" in said(undo)


def test_the_error_by_hand() -> None:
    """AC 1048.0 and BD 1044.4 mm on 876.3 by 571.5: cos t = (1048.0^2 - 1044.4^2) / (4 x 876.3 x 571.5) = 0.003760."""
    undo = correction(lengths(ac=1.0480, bd=1.0444))
    assert math.sin(undo.skew) == pytest.approx(0.0037602, abs=2e-7)
    assert "corner A 89.78°" in said(undo)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (lengths(ab=0.985 * W, ad=0.9855 * H), "print scaled to fit its page"),
        (lengths(ab=1.012 * W), "more than 1 % is no error of paper"),
        (lengths(ad=0.98 * H), r"A–D −2.00 %"),
        (lengths(ac=D + 0.003), "do not agree"),
        (lengths(ac=D + 0.0075, bd=D - 0.0075), "more than 0.5°"),
        (lengths(ac=W + H, bd=abs(W - H)), "out of square"),
        (lengths(ab=0.0), "more than nought"),
        (lengths(ad=float("nan")), "more than nought"),
    ],
)
def test_what_is_no_error_of_paper_is_refused(given: Measured, words: str) -> None:
    with pytest.raises(DesignProblem, match=words):
        correction(given)


def test_the_limit_of_skew_is_where_it_is_said_to_be() -> None:
    def askew(angle: float) -> Measured:
        s = 2 * W * H * math.sin(angle)
        return lengths(ac=math.sqrt(D**2 + s), bd=math.sqrt(D**2 - s))

    assert correction(askew(0.999 * MOST_SKEW)).skew == pytest.approx(0.999 * MOST_SKEW)
    with pytest.raises(DesignProblem, match="print again"):
        correction(askew(1.001 * MOST_SKEW))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("A-B 876 in; A-D 571 mm; A-C 1046 mm; B-D 1046 mm", "looks like millimetres: write 876 mm"),
        ("A-B 34.5 mm; A-D 571 mm; A-C 1046 mm; B-D 1046 mm", "looks like inches: write 34.5 in"),
        ("A-B 87.6 mm; A-D 571 mm; A-C 1046 mm; B-D 1046 mm", "looks like centimetres: write 87.6 cm"),
        ("A-B 876 mm; A-D 571; A-C 1046 mm; B-D 1046 mm", "'571' has no unit.*millimetres: write 571 mm"),
        ("A-B 876 mm; A-D 571 kg; A-C 1046 mm; B-D 1046 mm", "'kg' is a unit of mass"),
        ("A-B 876,3 mm; A-D 571 mm; A-C 1046 mm; B-D 1046 mm", "decimals take a point"),
        ("A-B 876 mm; A-D -571 mm; A-C 1046 mm; B-D 1046 mm", "not more than nought"),
        ("A-B 876 mm; A-D nan mm; A-C 1046 mm; B-D 1046 mm", "not a finite number"),
        ("A-B 571 mm; A-D 876 mm; A-C 1046 mm; B-D 1046 mm", "look exchanged"),
        ("A-B 800 mm; A-D 546 mm; A-C 968.6 mm; B-D 968.6 mm", "the lengths of A1 sheet, not of 24 × 36 in sheet"),
        ("A-B 876 mm; A-D 571 mm; A-C 1046 mm", "B–D missing"),
        ("876 mm 571 mm 1046 mm 1046 mm", "A–B and A–D and A–C and B–D missing"),
        ("A-B 876 mm; A-D 571 mm; A-C 1046 mm; B-D 1046 mm; C-D 876 mm", "C–D is not one of"),
        ("A-B 876 mm; A-B 571 mm; A-C 1046 mm; B-D 1046 mm", "A–B is given twice"),
        ("5 A-B 876 mm; A-D 571 mm; A-C 1046 mm; B-D 1046 mm", "'5' has no name"),
        ("", "missing"),
    ],
)
def test_lengths_that_cannot_be_are_told(text: str, words: str) -> None:
    with pytest.raises(DesignProblem, match=words):
        read(text)


@pytest.mark.parametrize(
    "text",
    [
        "A-B 876.3 mm; A-D 571.5 mm; A-C 1046.2 mm; B-D 1046.2 mm",
        "B–D: 1046.2 mm, C-A: 1046.2 mm, DA = 571.5 mm, AB 87.63 cm",
        "A-B 34-1/2 in A-D 22 1/2″ A-C 3 ft 5.189 in B-D 41.189 in",
    ],
)
def test_ways_to_write_them(text: str) -> None:
    m = read(text)
    assert (m.ab, m.ad, m.ac, m.bd) == pytest.approx((W, H, D, D), abs=1e-4)
    assert correction(m).small


def test_a_corrected_sheet_says_what_was_measured_when_and_where_and_nothing_clashes_at_the_limits() -> None:
    p = PAPERS["24x36"]
    own = furniture(p, TITLE, 1, 1)
    sheet = Sheet(1, 1, "t", p.name, p.width, p.height, own, furniture=len(own))
    for along, across, skew in ((0.0099, 0.0099, 0.0087), (-0.0099, -0.0099, -0.0087), (0.0099, -0.0099, 0.0)):
        ab, ad = W * (1 + along), H * (1 + across)
        s = 2 * ab * ad * math.sin(skew)
        undo = correction(lengths(ab, ad, math.sqrt(ab**2 + ad**2 + s), math.sqrt(ab**2 + ad**2 - s)))
        (drawn,) = corrected_sheets((sheet,), TITLE, undo)
        assert clashes(drawn) == ()
        words = " ".join(x.content for x in drawn.strokes if isinstance(x, Text))
        for wanted in ("Corrected for one printer", "plotter alone", "2026-05-04", "Error undone", "never copy a copy"):
            assert wanted in words
    assert any("A–B 34" in line and "B–D" in line for line in told(undo))


def test_a_circle_becomes_the_oval_that_prints_round() -> None:
    undo = correction(lengths(ab=1.008 * W, ac=math.hypot(1.008 * W, H), bd=math.hypot(1.008 * W, H)))
    (oval,) = corrected((Circle((100.0, 50.0), 30.0),), undo.inverse, (0.0, 0.0))
    for x, y in oval.points:
        assert math.hypot(1.008 * x - 100.0, y - 50.0) == pytest.approx(30.0, abs=0.006)  # the chord's error
