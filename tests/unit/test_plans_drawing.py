"""Strokes, curves, lettering, packing, splitting: each alone."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.base.look import LOOK, contrast
from sparwright.base.problem import DesignProblem
from sparwright.parts.part import Mark, Plate
from sparwright.plans import outside
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import CHORD_ERROR, LAYERS, Line, Polyline, Sheet, Text, arc, moved
from sparwright.plans.flags import Flag, Measure, hoisted, measured
from sparwright.plans.inside import label_inside
from sparwright.plans.lettering import box, width, wrapped
from sparwright.plans.packing import packed
from sparwright.plans.split import CLEAR, LAP, Span, ring_on, spans
from sparwright.plans.template import grain_angle
from sparwright.plans.views import SIDE, TOP, Thing, seen


def plate(x: float, y: float = 0.1, **more: object) -> Plate:
    return Plate(outline=np.array([[0, 0], [x, 0], [x, y], [0, y]]), holes=(), thickness=0.003, **more)  # type: ignore[arg-type]


def test_look_can_be_read_and_its_lines_are_two_to_one():
    assert LOOK.thick == 2 * LOOK.thin and LOOK.small >= 3.5
    for ground in (LOOK.ground, "#ffffff"):
        assert (
            contrast(LOOK.ink, ground) >= 7
            and contrast(LOOK.accent, ground) >= 7
            and contrast(LOOK.rule, ground) >= 4.5
        )


@pytest.mark.parametrize("radius", [0.001, 1.0, 50.0, 3000.0])
def test_arc_keeps_its_chords_within_the_one_tolerance(radius):
    p = np.array(arc((3.0, 4.0), radius, 0.3, 0.3 + math.tau))
    assert_allclose(np.hypot(*(p - (3.0, 4.0)).T), radius, rtol=1e-12, atol=0)
    middles = (p[1:] + p[:-1]) / 2
    assert (radius - np.hypot(*(middles - (3.0, 4.0)).T)).max() <= CHORD_ERROR * (1 + 1e-9)


def test_moved_moves_every_kind():
    assert moved(Line((0, 0), (1, 1), "cut"), 2, 3) == Line((2, 3), (3, 4), "cut")
    assert moved(Text("a", (1, 1), 3.5), 1, 0).anchor == (2, 1)
    assert moved(Polyline(((0, 0), (1, 0)), "cut"), 0, 1).points == ((0, 1), (1, 1))


def test_text_box_turns_with_the_text():
    flat = np.array(box(Text("Abc", (10, 20), 5.0)))
    turned = np.array(box(Text("Abc", (10, 20), 5.0, 90.0)))
    back = (turned - (10, 20)) @ np.array([[0, -1], [1, 0]])
    assert_allclose(back + np.array([10, 20]), flat, rtol=0, atol=1e-9)
    assert_allclose(np.ptp(flat[:, 0]), width("Abc", 5.0), rtol=0, atol=1e-9)


def test_wrapping_keeps_every_letter_and_the_room():
    words = "W1-wing-upper-RIB-36+32-and-a-very-long-number-indeed then some more words"
    lines = wrapped(words, 3.5, 40.0)
    assert "".join(lines).replace(" ", "") == words.replace(" ", "")
    assert max(width(line, 3.5) for line in lines) <= 40.0


def test_a_figure_is_not_parted_from_its_fraction_or_unit():
    for room in range(20, 60):
        for line in wrapped("front to rear spar 25 49/64″ = 654.3 mm, sheet 3 in thick", 3.5, float(room)):
            assert not line.endswith(("25", "654.3", " 3")) and not line.startswith(("49/64", "mm", "in "))


def test_flags_close_together_do_not_run_into_each_other():
    flags = [Flag(f"mark number {i}", (x, 0.0)) for i, x in enumerate((0.0, 0.0, 3.0, 5.0, 40.0, 44.0, 300.0))]
    strokes = tuple(moved(s, 50, 50) for s in hoisted(flags, 10.0))
    assert clashes(Sheet(1, 1, "t", "A1", 841.0, 594.0, strokes)) == ()
    assert len([s for s in strokes if isinstance(s, Text)]) == 7


def test_dimension_line_is_as_long_as_its_figure_says_even_when_it_slopes():
    strokes, left_out, _ = measured([Measure("x", (0.0, 0.0), (400.0, 30.0))], -10.0)
    ticks = [s for s in strokes if isinstance(s, Line) and s.weight == "thick"]
    a, b = (((t.start[0] + t.end[0]) / 2, (t.start[1] + t.end[1]) / 2) for t in ticks)
    assert_allclose(math.dist(a, b), math.hypot(400, 30), rtol=0, atol=1e-9)
    assert not left_out


def test_dimension_text_moves_aside_for_the_longer_ones_lines():
    strokes, left_out, _ = measured(
        [Measure("short one", (100.0, 0.0), (300.0, 0.0)), Measure("long one", (200.0, 0.0), (800.0, 0.0))], 0.0
    )
    assert (
        clashes(Sheet(1, 1, "t", "A1", 841.0, 594.0, tuple(moved(s, 10, 100) for s in strokes))) == () and not left_out
    )


def test_packing_ties_go_by_order_and_too_large_a_block_is_named():
    spots = packed([(100, 50), (100, 50), (100, 80)], 220, 200, 10)
    assert [(s.sheet, s.x, s.y) for s in spots] == [(1, 110.0, 0.0), (1, 0.0, 90.0), (1, 0.0, 0.0)]
    with pytest.raises(DesignProblem, match="RIB-7 needs 300"):
        packed([(300, 50)], 220, 200, 10, ["RIB-7"])


@pytest.mark.parametrize("long", [0.85, 1.5, 2.2, 5.0])
def test_pieces_fit_the_room_cover_the_part_and_overlap(long):
    found = spans(plate(long), 700.0)
    assert found[0].left == 0 and found[-1].right == pytest.approx(long * 1000)
    assert all(s.right - s.left <= 700.0 + 1e-9 for s in found)
    for a, b in pairwise(found):
        assert a.right - b.left == 50.0 and a.matches[-1] == b.matches[0]
    assert len(found) == math.ceil((long * 1000 - 2 * LAP) / (700 - 2 * LAP))


def test_match_line_keeps_clear_of_marks():
    middle = Mark(label="spar", points=((0.5, 0.0), (0.5, 0.1)))
    one, _ = spans(plate(1.0, marks=(middle,)), 700.0)
    assert abs(one.matches[0][1] - 500.0) >= CLEAR


def test_ring_cut_by_a_window_leaves_two_lines_with_all_their_points():
    lines = ring_on(plate(1.0).outline, Span(1, 2, 200.0, 600.0))
    assert [closed for _, closed in lines] == [False, False]
    assert sorted(p for line, _ in lines for p in line) == [(200.0, 0.0), (200.0, 100.0), (600.0, 0.0), (600.0, 100.0)]


def test_label_inside_is_clear_or_absent():
    assert label_inside("W1-RIB-1", plate(0.006, 0.006), Span(1, 1, 0, 6.0), []) == ()
    texts = label_inside("W1-RIB-1", plate(0.2), Span(1, 1, 0, 200.0), [])
    outline = Polyline(((0, 0), (200.0, 0), (200.0, 100.0), (0, 100.0)), "cut", True)
    assert [t.content for t in texts] == ["W1-RIB-1", "this side up"]
    assert clashes(Sheet(1, 1, "t", "A1", 841.0, 594.0, (outline, *texts))) == ()


@pytest.mark.parametrize(
    ("words", "angle"),
    [
        ("along the chord", 0.0),
        ("across", 90.0),
        ("45 deg to the chord", 45.0),
        ("30° up", 30.0),
        ("any", None),
        ("", None),
    ],
)
def test_grain_is_read_from_its_words(words, angle):
    found = grain_angle(words)
    assert found == (None if angle is None else pytest.approx(math.radians(angle)))


def test_every_layer_has_a_meaning_and_one_name():
    assert len({layer.name for layer in LAYERS}) == len(LAYERS) and all(layer.meaning for layer in LAYERS)


def test_ailerons_are_seen_from_above_and_nowhere_else(whinchat) -> None:
    """W2's upper ones whole, its lower ones where they stand out behind the upper wing; none from the side."""
    model = whinchat.models["W2"]
    wings = tuple(t for w in model.wings for t in outside._wing(model, w))
    above = [s.points for s in seen(wings, TOP)]
    upper, lower = (w.aileron for w in model.wings)
    whole = [p for p in above if np.allclose(sorted(set(np.abs(p[0]).round(6))), [upper.inboard, upper.outboard])]
    assert len(whole) == 2 and all(p.shape == (2, 4) for p in whole)
    for y in (lower.inboard, lower.outboard):
        behind = [p for p in above if p.shape[1] == 2 and np.allclose(np.abs(p[0]), y, atol=1e-6)]
        assert len(behind) == 2 and all(p[1].min() > 1.7 for p in behind)
    bare = tuple(Thing(faces=t.faces) for t in wings)
    assert len(seen(wings, SIDE)) == len(seen(bare, SIDE)) and len(seen(wings, TOP)) > len(seen(bare, TOP))
