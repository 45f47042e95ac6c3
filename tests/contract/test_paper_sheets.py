"""What a sheet must carry, and that nothing written on it runs into anything else."""

from __future__ import annotations

from functools import cache

import pytest
from paper_parts import TITLE, parts, rib, small

from sparwright.base.problem import DesignProblem
from sparwright.base.safety import CAUTION
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import Polyline, Sheet, Text
from sparwright.plans.lettering import box
from sparwright.plans.paper import PAPERS, TitleBlock, field_of
from sparwright.plans.templates import templates


@cache
def sheets(paper: str) -> tuple[Sheet, ...]:
    return templates(parts(), paper, TITLE)


def words(sheet: Sheet) -> str:
    return " ".join(s.content for s in sheet.strokes if isinstance(s, Text))


@pytest.mark.parametrize("paper", PAPERS)
def test_no_lettering_runs_into_lettering_or_lines(paper):
    for sheet in sheets(paper):
        assert clashes(sheet) == ()


def test_clash_is_found():
    base = sheets("24x36")[0]
    text = next(s for s in base.strokes if isinstance(s, Text))
    twice = Sheet(1, 1, "t", "24x36", 914.4, 609.6, (text, text))
    x, y = text.anchor
    struck = Sheet(1, 1, "t", "24x36", 914.4, 609.6, (text, Polyline(((x - 5, y - 5), (x + 5, y + 5)), "cut")))
    off = Sheet(1, 1, "t", "24x36", 100.0, 100.0, (Text("far off", (99.0, 5.0), 3.5),))
    assert len(clashes(twice)) == 1 and len(clashes(struck)) == 1 and len(clashes(off)) == 1


@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_is_lettered_smaller_than_three_and_a_half_millimetres(paper):
    assert min(s.size for sheet in sheets(paper) for s in sheet.strokes if isinstance(s, Text)) >= 3.5


@pytest.mark.parametrize("paper", PAPERS)
def test_every_sheet_carries_checks_caution_title_and_its_number(paper):
    for i, sheet in enumerate(sheets(paper), start=1):
        text = words(sheet)
        for wanted in (
            "Check line A–B",
            "Check line A–D",
            "100 mm square",
            "4″ square",
            "All four corner marks",
            "Figures govern over lines",
            CAUTION.split(".")[0],
            "Whinchat T1",
            "Scale 1 : 1",
            TITLE.program,
            TITLE.file_sha256[:12],
            f"Sheet {i} of {len(sheets(paper))}",
            "Date",
            "Initials",
        ):
            assert wanted in text, wanted


@pytest.mark.parametrize("paper", PAPERS)
def test_each_template_says_what_it_is(paper):
    text = " ".join(map(words, sheets(paper)))
    for part in parts():
        alone, shared = f"{part.number} · {part.name} · make {part.count}", f"{part.number}: make {part.count}"
        assert (alone in text) != (shared in text), part.number
    for wanted in (
        "front spar",
        "chord line",
        "greatest depth",
        "overall",
        "Grain along the chord",
        "lange bent towards you",
        "right hand",
        "left hand",
        "until the line is gone",
        "This side up",
        "thickness 0.059 in = 1.50 mm",
    ):
        assert wanted in text, wanted


@pytest.mark.parametrize("paper", PAPERS)
def test_pieces_name_each_others_sheets_and_share_lettered_crosses(paper):
    where = {(p.part, p.piece): s for s in sheets(paper) for p in s.placements}
    pieces = [key for key in where if key[0] == "T1-fuselage-SIDE"]
    assert len(pieces) >= 3
    for name, first, second in zip("PQR", range(1, len(pieces)), range(2, len(pieces) + 1), strict=False):
        one, two = where["T1-fuselage-SIDE", first], where["T1-fuselage-SIDE", second]
        for sheet, other, piece in ((one, two, second), (two, one, first)):
            text = words(sheet)
            assert f"Match line {name}: piece {piece} is on sheet {other.number}." in text
            assert f"{name}1" in text and f"{name}2" in text


def test_bent_rib_shows_blank_solid_and_mould_line_dashed():
    (sheet,) = templates((rib("T1-upper-RIB-12-R", 0.6, hand="R", flange=0.0159),), "A1", TITLE)
    (bend,) = sheet.on("bend")
    blank = next(s for s in sheet.on("cut") if isinstance(s, Polyline) and s.closed)
    assert bend.closed and bend.dash == "dash" and blank.dash == "solid"
    assert min(x for x, _ in blank.points) < min(x for x, _ in bend.points) - 15


def test_no_template_reaches_into_the_title_strip_or_the_check_lines():
    for paper, p in PAPERS.items():
        clear = field_of(p)
        for sheet in sheets(paper):
            for layer in ("cut", "bend", "mark", "measure", "match", "note"):
                for s in sheet.on(layer):
                    points = box(s) if isinstance(s, Text) else getattr(s, "points", None) or (s.start, s.end)
                    for x, y in points:
                        assert (
                            clear.left - 0.01 <= x <= clear.right + 0.01
                            and clear.bottom - 0.01 <= y <= clear.top + 0.01
                        )


def test_same_parts_same_sheets_and_order_of_a_set_does_not_depend_on_names_of_others():
    assert templates(parts(), "A1", TITLE) == sheets("A1")


def test_parts_without_plates_give_no_sheets():
    assert templates((), "A1", TITLE) == ()


def test_wrong_paper_deep_part_unknown_letter_and_hole_in_the_numbers_are_sentences():
    with pytest.raises(DesignProblem, match="no paper 'A0'; choose one of 24x36, A1"):
        templates(parts(), "A0", TITLE)
    with pytest.raises(DesignProblem, match="T1-BIG needs"):
        templates((rib("T1-BIG", 6.0),), "A1", TITLE)
    with pytest.raises(DesignProblem, match="lettering has no"):
        templates((small("T1-Ж"),), "A1", TITLE)
    broken = rib("T1-NAN", 0.5)
    outline = broken.shape.outline.copy()
    outline[3, 1] = float("nan")
    from dataclasses import replace

    with pytest.raises(DesignProblem, match="T1-NAN"):
        templates((replace(broken, shape=replace(broken.shape, outline=outline)),), "A1", TITLE)


def test_long_names_stay_in_the_title_block():
    long = TitleBlock(
        "A family with a very long name indeed", "Model one hundred and one", "Sparwright 0.1.0", "a" * 64
    )
    for paper in PAPERS:
        (sheet,) = templates((small("T1-S"),), paper, long)
        assert clashes(sheet) == ()
