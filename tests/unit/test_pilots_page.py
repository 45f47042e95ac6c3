"""The pilot's sheet on paper: every line of the table is on it, large, clear of everything, with room to write."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader

from sparwright.base.look import LOOK
from sparwright.base.problem import DesignProblem
from sparwright.base.safety import CAUTION
from sparwright.output.pdf import pdf
from sparwright.output.pilots_tables import numbers, pilots_sections
from sparwright.output.planset import Pages, write_plans
from sparwright.output.shown import unit_of
from sparwright.parts.part import Part, Plate
from sparwright.plans.clash import clashes
from sparwright.plans.cutlist import cut_list
from sparwright.plans.drawing import Line, Sheet, Text
from sparwright.plans.form import PAGES, Column, FormTable
from sparwright.plans.paper import TitleBlock
from sparwright.plans.performance import PilotRow, pilots_sheet
from sparwright.plans.pilots_page import Section, pilots_pages
from sparwright.plans.templates import templates
from sparwright.run import RunResult

Ran = Callable[[str], RunResult]
MODELS = pytest.mark.parametrize("model", ["W1", "W2", "W3"])
UNITS = pytest.mark.parametrize("units", ["inch", "millimetre"])
TITLE = TitleBlock("Whinchat", "T/1", "Sparwright 0.1.0", "ab" * 32)


def told(ran: Ran, name: str, units: str) -> tuple[tuple[PilotRow, ...], tuple[Section, ...]]:
    run = ran(name)
    model = replace(run.flight.flown.model, drawing_units=units)
    rows = pilots_sheet(model, {r.id: r for r in run.results})
    return rows, pilots_sections(model, rows)


def words(sheet: Sheet) -> str:
    return " ".join(s.content for s in sheet.strokes if isinstance(s, Text))


@MODELS
@UNITS
def test_pages_are_large_clear_and_carry_caution_and_places_to_write(ran: Ran, model: str, units: str) -> None:
    sections = told(ran, model, units)[1]
    sheets, paper = pilots_pages(sections, TITLE, units), PAGES[units]
    assert len(sheets) == 3, "two for the standard day, one for the hills"
    for i, sheet in enumerate(sheets, 1):
        assert clashes(sheet) == ()
        assert (sheet.width, sheet.height, sheet.total) == (paper.width, paper.height, 3)
        assert min(s.size for s in sheet.strokes if isinstance(s, Text)) >= LOOK.small
        said = words(sheet)
        for wanted in (CAUTION, f"Sheet {i} of 3.", "Serial", "Date", "abababababab", "calculated", "plan with"):
            assert wanted in said, wanted
    lines = [s for sheet in sheets for s in sheet.on("hand") if isinstance(s, Line)]
    cells = sum(len(t.rows) * sum(c.hand for c in t.columns) for s in sections for t in s.tables)
    assert len(lines) == 7 * len(sheets) + cells and cells > 40
    assert min(s.end[0] - s.start[0] for s in lines) > 12.0, "room for a figure"


@MODELS
@UNITS
def test_every_figure_of_the_table_is_on_paper(ran: Ran, model: str, units: str) -> None:
    """Each line of the sheet in the tables of its day; engine speeds of which nothing is known are left out."""
    rows, sections = told(ran, model, units)
    assert [s.title for s in sections] == [f"Whinchat {model}", f"Whinchat {model}: hills"]
    cells = [[c for t in s.tables for row in t.rows for c in row[1:]] for s in sections]
    seen = 0
    for row in rows:
        likely, plan, unit = numbers(row, units)
        if not math.isfinite(row.likely):
            continue
        day = cells[1 if row.id.startswith("flight.day.") else 0]
        goes = ".range" in row.id and "cruise" not in row.id or row.id.endswith("endurance")
        assert (f"{likely} {unit}" if goes else likely) in day, row.id
        if not row.id.endswith((".rpm", "speed")):  # an economical speed has no end to plan with
            assert (f"{plan} {unit}" if goes and plan != "—" else plan) in day, row.id
        seen += 1
    assert seen > 60


@MODELS
@UNITS
def test_the_end_to_plan_with_is_never_rounded_to_the_better_side(ran: Ran, model: str, units: str) -> None:
    rounded = 0
    for row in told(ran, model, units)[0]:
        shown = unit_of(row.unit, units, row.id)
        plan, likely = row.plan * shown.factor, row.likely * shown.factor
        if not math.isfinite(plan) or plan == likely:
            continue
        figure = float(numbers(row, units)[1].replace(",", "").replace("−", "-"))
        assert (figure - plan) * math.copysign(1.0, plan - likely) >= -1e-4, row.id
        step = 10.0 ** (math.floor(math.log10(abs(plan))) - 2) if row.unit == "m" and plan >= 1000 else 1.0
        assert abs(figure - plan) < step + 1e-4, row.id
        rounded += abs(figure - plan) > 1e-3
    assert rounded > 20


def test_what_is_not_known_is_a_dash() -> None:
    row = PilotRow(group="climb", what="best rate", id="flight.climb.rate", unit="m/s", likely=math.nan, plan=math.nan)
    assert numbers(row, "inch") == ("—", "—", "ft/min") and numbers(None, "inch") == ("", "", "")


def test_a_line_without_words_of_its_own_is_told_by_its_title(ran: Ran) -> None:
    model = ran("W1").flight.flown.model
    row = PilotRow(group="climb", what="a new thing", id="flight.climb.novel", unit="m/s", likely=1.0, plan=0.5)
    ((table,),) = [s.tables for s in pilots_sections(model, [row])]
    assert table.rows == (("a new thing", "kt", "2", "0"),), table.rows


def test_a_long_name_takes_more_lines_and_no_other_room(ran: Ran) -> None:
    model = ran("W1").flight.flown.model
    long = "a thing that is told by a title much longer than any column of a page of this paper is wide"
    rows = [PilotRow(group="climb", what=w, id=f"flight.climb.novel{i}", unit="m/s", likely=1.0, plan=0.5)
            for i, w in enumerate((long, "short"))]  # fmt: skip
    (sheet,) = pilots_pages(pilots_sections(model, rows), TITLE, "inch")
    assert clashes(sheet) == () and long.split()[-1] in words(sheet)


def test_an_indicated_stall_is_told_beside_the_calibrated(ran: Ran) -> None:
    model = ran("W1").flight.flown.model
    rows = [PilotRow(group="stall", what="", id=f"flight.stall.{x}heaviest", unit="m/s", likely=16.0, plan=17.0)
            for x in ("", "indicated.")]  # fmt: skip
    ((found,),) = [s.tables for s in pilots_sections(model, rows)]
    assert [r[0] for r in found.rows] == ["heaviest loading", "heaviest, indicated"]


def table(rows: int, name: str = "Trial") -> FormTable:
    columns = (Column("likely"), Column("flown", hand=True))
    return FormTable(name, columns, tuple((f"line {i}", str(i)) for i in range(rows)))


def test_tables_run_over_pages_and_one_too_tall_is_refused() -> None:
    section = Section("Whinchat T/1", "In some state.", (table(18, "one"), table(18, "two")))
    sheets = pilots_pages([section], TITLE, "millimetre")
    assert [("one" in words(s), "two" in words(s)) for s in sheets] == [(True, False), (False, True)]
    assert all(clashes(s) == () for s in sheets)
    with pytest.raises(DesignProblem, match="'Trial' with 40 rows is too tall for A4"):
        pilots_pages([replace(section, tables=(table(40),))], TITLE, "millimetre")


def test_it_goes_into_the_plan_set_and_its_manifest(ran: Ran, tmp_path: Path) -> None:
    sheets = pilots_pages(told(ran, "W1", "inch")[1], TITLE, "inch")
    rib = Part(number="P", name="rib", group="wing", purpose="rib", material="m", stock="ply", form="plate", mass=0.1,
               places=((0.0, 0.0, 0.0),), at="BL 12″",
               shape=Plate(outline=np.array([[0, 0], [0.3, 0], [0.2, 0.1]]), holes=(), thickness=0.0015))  # fmt: skip
    write_plans(templates((rib,), "A1", TITLE), cut_list((rib,)), tmp_path, TITLE,
                printed=(Pages("performance", sheets, "pilot's sheet"),))  # fmt: skip
    record = json.loads((tmp_path / "manifest.json").read_text(encoding="utf-8"))
    (named,) = [f for f in record["files"] if f["file"] == "T-1-performance.pdf"]
    assert named["shows"] == "pilot's sheet of Whinchat T/1, paper letter"
    content = (tmp_path / "T-1-performance.pdf").read_bytes()
    assert content == pdf(sheets, sheets[0].title, TITLE.program), "same sheets, same bytes"
    pages = PdfReader(BytesIO(content)).pages
    assert len(pages) == 3 and "take-off, short grass" in pages[1].extract_text()
    assert [round(float(x) / 72, 3) for x in pages[0].mediabox[2:]] == [8.5, 11.0]
