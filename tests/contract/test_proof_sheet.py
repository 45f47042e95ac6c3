"""The proof-load sheet on paper says what the results say, carries its cautions, and nothing runs into anything."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader

from sparwright.base.check import Check, Result
from sparwright.base.look import LOOK
from sparwright.base.safety import CAUTION
from sparwright.family.model import Model
from sparwright.output.planset import Pages, write_plans
from sparwright.output.proof_tables import bags, proof_sheet
from sparwright.output.shown import figure, unit_of
from sparwright.parts.part import Part, Plate
from sparwright.plans.clash import clashes
from sparwright.plans.cutlist import cut_list
from sparwright.plans.drawing import Sheet, Text
from sparwright.plans.paper import TitleBlock
from sparwright.plans.proof_page import proof_pages
from sparwright.plans.proof_words import NEVER
from sparwright.plans.templates import templates
from sparwright.proof.chain import proof_told
from sparwright.proof.record import Proof
from sparwright.run import RunResult

Ran = Callable[[str], RunResult]
TITLE = TitleBlock("Whinchat", "T/1", "Sparwright 0.1.0", "ab" * 32)
MODELS = pytest.mark.parametrize("name", ["W1", "W2", "W3"])
UNITS = pytest.mark.parametrize("units", ["inch", "millimetre"])


@pytest.fixture(scope="module")
def told(ran: Ran) -> Callable[[str], tuple[Model, Proof]]:
    def work(name: str) -> tuple[Model, Proof]:
        run = ran(name)
        model = run.flight.flown.model
        return model, run.proof

    return cache(work)


def pages(told: Callable[[str], tuple[Model, Proof]], name: str, units: str = "inch", checks: tuple[Check, ...] = ()
          ) -> tuple[Sheet, ...]:  # fmt: skip
    model, proof = told(name)
    model = replace(model, drawing_units=units)
    return proof_pages(proof_sheet(model, {r.id: r for r in proof.results}, checks), TITLE, units)


def words(sheets: tuple[Sheet, ...] | list[Sheet]) -> str:
    return " ".join(s.content for sheet in sheets for s in sheet.strokes if isinstance(s, Text))


@MODELS
@UNITS
def test_nothing_runs_into_anything_and_all_is_large(told: Callable, name: str, units: str) -> None:
    for sheet in pages(told, name, units):
        assert clashes(sheet) == (), sheet.number
        assert min(s.size for s in sheet.strokes if isinstance(s, Text)) >= LOOK.small


@MODELS
def test_every_page_says_never_beyond_limit_and_the_first_says_it_large(told: Callable, name: str) -> None:
    sheets = pages(told, name)
    for sheet in sheets:
        said = words([sheet])
        assert NEVER[0] in said and CAUTION.split(".")[0] in said and TITLE.file_sha256[:12] in said
    first = [s for s in sheets[0].strokes if isinstance(s, Text) and s.size == LOOK.large]
    large = " ".join(s.content for s in first)
    assert "never flies" in large and "never beyond" in large
    for place in ("Serial", "Date", "In charge", "Measured by", "Witness", "Signature"):
        assert place in words(sheets[:1])


def cells(results: dict[str, Result], test: str, surface: str, line: str) -> list[Result]:
    start = f"proof.{test}.cell.{surface}.{line}."
    return [r for k, r in results.items() if k.startswith(start)]


def test_each_cell_has_the_bags_of_its_result_at_every_step(told: Callable) -> None:
    """Read off the paper column by column: what stands under each other between two ribs, front line over rear."""
    results = {r.id: r for r in told("W1")[1].results}
    sheet = next(
        s for s in pages(told, "W1") if "wings, air from below" in words([s]) and "front line at" in words([s])
    )
    front, rear = (cells(results, "wings_up", "wing", line) for line in ("front", "rear"))
    texts = [
        s
        for s in sheet.strokes
        if isinstance(s, Text) and s.align == "middle" and s.content.strip("½").isdigit() | (s.content == "½")
    ]
    columns: dict[float, list[Text]] = {}
    for t in texts:
        columns.setdefault(round(t.anchor[0], 3), []).append(t)
    assert len(columns) == len(front)
    for x, a, b in zip(sorted(columns), front, rear, strict=True):
        down = [t.content for t in sorted(columns[x], key=lambda t: -t.anchor[1])]
        assert down == [bags(s.value) for r in (a, b) for s in r.steps[1:]]


@UNITS
def test_predictions_and_totals_are_those_of_the_results(told: Callable, units: str) -> None:
    results = {r.id: r for r in told("W1")[1].results}
    said = words(pages(told, "W1", units))
    whole = results["proof.wings_up.bags"]
    kg, length = unit_of("kg", units), unit_of("m", units)
    assert f"at limit load {figure(whole.value * kg.factor, 0)} {kg.name} in all" in said
    tip = results["proof.wings_up.move.wing.front.tip"]
    for step in tip.steps:
        low, high = (v for n, v, _ in step.given if n in ("least", "most"))
        row = [figure(v * length.factor, 1 if units == "millimetre" else 2) for v in (step.value, low, high)]
        out = next(v for n, v, _ in step.given if n == "buttline") * length.factor
        assert f"front spar, BL {figure(out, 0)}, {length.name} {' '.join(row)}" in said


def test_what_a_check_forbids_is_written_on_the_test(told: Callable) -> None:
    proof = told("W1")[1]
    bad = next(c for c in proof.checks if c.id == "proof.wings_up.tested")
    forbidden = words(pages(told, "W1", checks=(replace(bad, verdict="fail"),)))
    assert "NOT TO BE LOADED TO THE LAST STEP" in forbidden
    assert "NOT TO BE LOADED TO THE LAST STEP" not in words(pages(told, "W1", checks=(replace(bad, verdict="pass"),)))


def test_boards_ropes_and_what_is_proved_are_on_the_sheet(told: Callable) -> None:
    proof = told("W2")[1]
    results, said = {r.id: r for r in proof.results}, words(pages(told, "W2"))
    boards = [r for k, r in results.items() if k.startswith("proof.wings_down.board.")]
    assert len(boards) == 6 and "Nobody stands under a hanging bag" in said
    for r in boards:
        ahead = next(v for n, v, _ in r.steps[0].given if n == "ahead of the leading edge") / 0.0254
        assert figure(ahead, 1) in said
    assert "upper tip of the tailplane's spar" in said
    assert "No test here proves these" in said and results["proof.unproved"].steps[0].title in said
    assert results["proof.wings_up.proves"].steps[0].title in said


def test_without_results_there_is_no_sheet(told: Callable) -> None:
    model = told("W1")[0]
    assert proof_sheet(model, {}) is None and proof_pages(None, TITLE, "inch") == ()


def test_a_model_that_does_not_stand_says_which_tests_are_not_told(told: Callable, ran: Ran) -> None:
    model, run = told("W3")[0], ran("W3")
    proof = proof_told(model, run.assembly, None, ())
    sheets = proof_pages(proof_sheet(model, {r.id: r for r in proof.results}, proof.checks), TITLE, "inch")
    said = words(sheets[:1])
    assert "Not told here" in said and "wings, air from below" in said


def test_it_goes_into_the_plan_set_and_its_manifest(told: Callable, tmp_path: Path) -> None:
    sheets = pages(told, "W1")
    rib = Part(number="P", name="rib", group="wing", purpose="rib", material="m", stock="ply", form="plate", mass=0.1,
               places=((0.0, 0.0, 0.0),), at="BL 12″",
               shape=Plate(outline=np.array([[0, 0], [0.3, 0], [0.2, 0.1]]), holes=(), thickness=0.0015))  # fmt: skip
    write_plans(templates((rib,), "A1", TITLE), cut_list((rib,)), tmp_path, TITLE,
                printed=(Pages("proof-load", sheets, "proof-load sheet"),))  # fmt: skip
    record = json.loads((tmp_path / "manifest.json").read_text(encoding="utf-8"))
    (named,) = [f for f in record["files"] if f["file"] == "T-1-proof-load.pdf"]
    assert named["shows"] == "proof-load sheet of Whinchat T/1, paper letter"
    found = PdfReader(BytesIO((tmp_path / "T-1-proof-load.pdf").read_bytes())).pages
    assert len(found) == len(sheets) and "never beyond" in found[0].extract_text()
