"""What the strength report is made of: rank, reasons, workings, register, sources, and how it is set."""

from __future__ import annotations

import math
from dataclasses import replace
from io import BytesIO
from types import SimpleNamespace

import numpy as np
import pdfplumber
import pytest

from sparwright.base.check import Check, Result, Step, check
from sparwright.base.safety import CAUTION
from sparwright.base.source import Band
from sparwright.charts.frame_margins import member, step_of
from sparwright.charts.page import Heading, page
from sparwright.data.loader import sources
from sparwright.output.set_words import amount, formula, number, quoted, steps
from sparwright.output.shown import Unit
from sparwright.output.typeset import strength_pdf
from sparwright.plans.drawing import Area, Line
from sparwright.reports.asked import Asked
from sparwright.reports.assumptions import REGISTER, sentence, values
from sparwright.reports.later import later_section
from sparwright.reports.page import (
    Amount,
    Column,
    Figure,
    Link,
    Mark,
    Paper,
    Paragraph,
    Section,
    Steps,
    Table,
    Working,
)
from sparwright.reports.sources import sources_section
from sparwright.reports.weakest import kind_of, missing, ranked, reasons, waiting
from sparwright.reports.working import critical, gap

STEP = Step(
    "use of its ultimate strength", "P/(A F_cy)", (("P", 900.0, "N"), ("F_cy", 5e8, "Pa")), 1.2, "1", "bruhn C4"
)


def held(id: str, use: float, caveat: str = "", doubt: str = "", steps: tuple[Step, ...] = ()) -> Check:
    return check(id, id.rsplit(".", 1)[-1], Band.exact(use), 1.0, "<=", "1", caveat=caveat, outside_range=doubt,
                 steps=steps)  # fmt: skip


CHECKS = (
    held("strength.tube.A", 0.4), held("strength.tube.B", 1.2, steps=(STEP,)),
    held("strength.tube.C", 0.9, doubt="why"),
    held("strength.tube.D", 3.0), held("strength.tube.E", math.nan), held("strength.glue.F", 0.2),
    held("strength.tube.G", 0.3, doubt="why"), held("strength.tube.H", 0.5),
)  # fmt: skip


def test_fails_first_then_unknowns_then_passes_each_from_the_least_margin() -> None:
    assert [c.id[-1] for c in ranked(CHECKS)] == ["D", "B", "C", "G", "E", "H", "A", "F"]


def test_unknowns_are_told_together_by_what_they_wait_for() -> None:
    unread = "cs-vla 473, 497 recalled, nobody here has read it; [[confirmed]] with category = 1 settles it"
    strength = "shear of ash: a book, recalled (memory): recalled, not read: read it"
    these = (held("strength.tube.A", 0.4, doubt=unread), held("strength.tube.B", 0.8, doubt=unread),
             held("strength.glue.C", 0.5, doubt=f"three plies; {strength}; {unread}"),
             held("strength.tube.D", 0.1, doubt="out of range"), held("strength.tube.E", math.nan))  # fmt: skip
    groups = waiting((*these, held("strength.tube.F", 3.0)))
    code, read = "paragraphs of the code to be read", "strengths to be read or tested"
    assert {k: [c.id[-1] for c in v] for k, v in groups.items()} == {
        (code,): ["B", "A"], ("other things",): ["D", "E"], (code, read): ["C"]
    }  # fmt: skip
    found = {r.item: [c.id[-1] for c in v] for r, v in missing(these).items()}
    assert list(found.items()) == [
        ("cs-vla 473", ["B", "C", "A"]), ("cs-vla 497", ["B", "C", "A"]), ("shear of ash", ["C"]),
        ("out of range", ["D"]), ("the value or the limit is not known", ["E"]), ("three plies", ["C"]),
    ]  # fmt: skip


def test_a_pedigree_with_semicolons_is_one_reason() -> None:
    said = (
        "3 plies are taken; shear of spruce: spruce: anc-18-1944 Table 2-3; 990 in 1951, recalled with high confidence "
        "(memory): recalled, not read: read it and say so; not worked out: A: because; B: because and more; "
        "cs-vla 473 recalled, nobody here has read it"
    )
    assert [(r.kind, r.item) for r in reasons(held("x", 0.4, doubt=said))] == [
        ("other", "3 plies are taken"), ("strength", "shear of spruce"), ("cases", "cases that are not worked out"),
        ("code", "cs-vla 473"),
    ]  # fmt: skip


def test_every_fail_and_the_lowest_two_of_a_kind() -> None:
    chosen = critical(CHECKS)
    assert [c.id[-1] for c in chosen["tubes"]] == ["D", "B"]
    assert [c.id[-1] for c in chosen["glue"]] == ["F"]
    few = critical(c for c in CHECKS if c.verdict != "fail")
    assert [c.id[-1] for c in few["tubes"]] == ["C", "H"]
    assert kind_of(held("strength.wing.front.glue", 0.1)) == "glue"


def test_a_working_that_does_not_end_at_the_checks_number_says_so() -> None:
    assert gap(held("strength.tube.B", 1.2, steps=(STEP,))) == ""
    assert "1.200" in gap(held("strength.tube.B", 1.35, steps=(STEP,))) and "1.350" in gap(
        held("strength.tube.B", 1.35, steps=(STEP,))
    )
    assert gap(held("strength.tube.B", 1.35)) == ""


@pytest.mark.parametrize("row", REGISTER, ids=lambda r: r.key)
def test_every_assumption_is_in_its_modules_own_words(row) -> None:
    assert len(sentence(row.module, row.begins)) > 20


def test_an_assumption_that_nobody_makes_is_a_fault() -> None:
    with pytest.raises(KeyError):
        sentence("structure.bracing", "A wire carries thrust")
    keys = [a.key for a in REGISTER] + [v[0] for v in values()]
    assert len(keys) == len(set(keys))


def test_sources_are_those_that_stand_in_the_report() -> None:
    section = sources_section((Paragraph("as bruhn says"), Steps("", (replace(STEP, source="cs-vla 337(a)"),)),
                               Working(replace(CHECKS[1], rule="cfr-23-2014 23.305"))))  # fmt: skip
    (table,) = section.blocks
    assert isinstance(table, Table)
    assert [r[0] for r in table.rows] == ["bruhn", "cfr-23-2014", "cs-vla"]
    assert table.rows[0][2] == sources()["bruhn"].title


def test_numbers_are_in_the_designers_units_with_si_behind() -> None:
    plain = str.maketrans("\u00a0", " ")
    assert amount(1e-4, "m2", "inch").translate(plain) == "0.155 in² (100 mm²)"
    assert amount(5e8, "Pa", "millimetre").translate(plain) == "500 MPa"
    assert amount(113.0, "N m", "inch").translate(plain) == "1,000 lbf in (113 N m)"
    assert amount(math.nan, "N", "inch") == "unknown" and amount(math.inf, "N", "inch") == "∞"
    assert number(-3.2e-9, Unit("m4", 1.0)) == "−3.2 × 10⁻⁹"


def test_formulas_keep_every_sign() -> None:
    text = formula("sqrt(D^2 + d^2)/4 <= F_cy^(1/2) - 0.6")
    for piece in ("√", '#super("2")', ")", "≤", '#sub("cy")', '#super("1/2")', "−"):
        assert piece in text
    assert "D^2" not in text and "^" not in text
    assert formula("limits.wire_gone") == '#"limits"#"."#"wire_gone"'


@pytest.mark.parametrize(("use", "hatched", "band", "weight"), [
    (0.3, 0, "", "thin"), (0.6, 0, "light", "thick"), (0.9, 0, "middle", "thick"), (1.3, 6, "middle", "thick"),
    (math.nan, 0, "", "thin")])  # fmt: skip
def test_a_member_reads_in_black_and_white(use: float, hatched: int, band: str, weight: str) -> None:
    strokes = list(member(np.array([[0.0, 0.0], [10.0, 0.0]]), step_of(use)))
    assert len([s for s in strokes if s.layer == "hatch"]) >= hatched and bool(hatched) == any(
        s.layer == "hatch" for s in strokes
    )
    assert [s.tone for s in strokes if isinstance(s, Area)] == ([band] if band else [])
    (line,) = (s for s in strokes if isinstance(s, Line) and s.layer == "line")
    assert line.weight == weight and line.dash == ("dots" if math.isnan(use) else "solid")


def test_words_cannot_be_taken_for_markup() -> None:
    assert quoted('a "b" \\ #c') == '"a \\"b\\" \\\\ #c"'
    assert "".join(steps((replace(STEP, title='#panic("x") *bold*'),), "inch")).count('\\"x\\"') == 1


def paper(**more: object) -> Paper:
    line = Line((10.0, 10.0), (90.0, 30.0), "line")
    figure = Figure(page(Heading("A picture"), 100.0, [line], 0.0, 40.0, "a line"), "What it shows.")
    columns = (Column("", share=0.0), Column("check"), Column("force", "N", 0.0, True))
    rows = tuple(
        (Mark(c.verdict), Link(f"{c.id} #{i} [x] $y$", c.id), Amount(100.0 * i)) for i, c in enumerate(CHECKS * 12)
    )
    sections = (
        Section("First", (Paragraph("Plain *words* #here."), Table(columns, rows, "rows"), figure)),
        Section("Second", (), (Section("Inside", (Working(CHECKS[1], note="a note"),)),)),
    )
    fields = dict(family="Wren", model="W1", title="one wing", state="It does not hold.", verdict="fail", units="inch",
                  facts=(("greatest mass", Amount(369.7), "kg"), ("code", "cs-vla", "")), program="Sparwright 0.0.0",
                  file_sha256="ab" * 32, sections=sections)  # fmt: skip
    return Paper(**(fields | more))  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def pages() -> list[str]:
    with pdfplumber.open(BytesIO(strength_pdf(paper()))) as document:
        return [p.extract_text() or "" for p in document.pages]


def test_the_caution_is_on_every_page(pages: list[str]) -> None:
    for text in pages:
        assert CAUTION[:40] in " ".join(text.split())


def test_heads_of_tables_are_repeated_and_words_come_through(pages: list[str]) -> None:
    of_table = [t for t in pages if "force, lbf" in t.replace("\u00a0", " ")]
    assert len(of_table) == 2
    whole = " ".join(" ".join(pages).split())
    assert "Plain *words* #here." in whole and "#95 [x] $y$" in whole and "a note" in whole
    assert "1.2, at most 1" in whole and "What it shows." in whole and "815 lb" in whole


def test_contents_name_pages_and_lead_there() -> None:
    with pdfplumber.open(BytesIO(strength_pdf(paper()))) as document:
        contents = document.pages[1]
        assert "Contents" in contents.extract_text() and len(contents.annots) >= 3
        assert document.metadata.get("Title") == "Wren W1: strength report"
        assert not any("Date" in key for key in document.metadata)


def test_same_report_same_bytes() -> None:
    assert strength_pdf(paper()) == strength_pdf(paper())
    assert strength_pdf(paper()) != strength_pdf(paper(model="W2"))


def test_paper_is_the_designers() -> None:
    with pdfplumber.open(BytesIO(strength_pdf(paper()))) as document:
        assert np.allclose((document.pages[0].width, document.pages[0].height), (612, 792), atol=0.5)
    with pdfplumber.open(BytesIO(strength_pdf(paper(units="millimetre")))) as document:
        assert np.allclose((document.pages[0].width, document.pages[0].height), (595.28, 841.89), atol=0.5)


def test_proof_load_and_aeroelastics_stand_there_when_they_are_worked_out() -> None:
    steps_of = (Step("load on the wing", "n W/2", (("n", 3.8, "1"), ("W", 3600.0, "N")), 6840.0, "N", "statics"),)
    results = (Result("proof.wing.load", "load on one wing", 6840.0, "N", steps=steps_of),
               Result("proof.wing.tip", "rise of the tip", 0.06, "m"),
               Result("mass.empty", "empty", 230.0, "kg"))  # fmt: skip
    checks = (held("aeroelastic.flutter.wing", 0.7), held("strength.tube.A", 0.4))
    asked = Asked(None, SimpleNamespace(results=results, checks=checks), "inch")  # type: ignore[arg-type]
    proof, aeroelastic = later_section(asked).sections
    tables = [b for b in proof.blocks if isinstance(b, Table)]
    assert [[r[0] for r in t.rows] for t in tables] == [["load on one wing"], ["rise of the tip"]]
    assert any(isinstance(b, Paragraph) and "why ID" in b.text for b in proof.blocks)
    (flutter,) = (b for b in aeroelastic.blocks if isinstance(b, Table))
    assert flutter.rows[0][:2] == (Mark("pass"), Link("wing", "aeroelastic.flutter.wing"))
    assert "aeroelastic" in critical(asked.checks)
    none = replace(asked, ran=SimpleNamespace(results=(), checks=()))  # type: ignore[arg-type]
    for part in later_section(none).sections:
        (said,) = part.blocks
        assert isinstance(said, Paragraph) and "nothing here says" in said.text
