"""The set of full-size sheets of the demo: everything has its place, nothing clashes, same bytes, a true manifest."""

from __future__ import annotations

import json
import re
from functools import cache
from hashlib import sha256

import pytest
from demo import whinchat

from sparwright.cli.plans import full_size
from sparwright.output.dxf import dxf
from sparwright.output.planset import write_plans
from sparwright.output.svg import svg
from sparwright.parts.alike import flat_parts
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Assembly, Formed
from sparwright.parts.tube_ends import fitted, tube_ends
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import Sheet, Text
from sparwright.plans.flat_parts import flat_sheets
from sparwright.plans.paper import PAPERS, TitleBlock, field_of
from sparwright.plans.tube_ends import end_sheets

MODELS = ("W1", "W2", "W3")


def title(model: str) -> TitleBlock:
    return TitleBlock("Whinchat", model, "Sparwright 0.1.0", "0" * 64)


@cache
def assembly(model: str) -> Assembly:
    return lay_out(whinchat().models[model])


@cache
def ends(model: str) -> tuple[Sheet, ...]:
    return end_sheets(*tube_ends(assembly(model).parts), list(PAPERS), title(model))


@cache
def flats(model: str) -> tuple[Sheet, ...]:
    return flat_sheets(assembly(model).parts, list(PAPERS), title(model))


@pytest.mark.parametrize("model", MODELS)
def test_nothing_runs_into_anything_and_nothing_leaves_the_field(model: str) -> None:
    for sheet in (*ends(model), *flats(model)):
        assert clashes(sheet) == (), (sheet.kind, sheet.paper, sheet.number)
        clear = field_of(PAPERS[sheet.paper])
        inside = [s for s in sheet.strokes if isinstance(s, Text) and s.layer in ("note", "mark", "match")]
        assert min(t.size for t in inside) >= 3.5
        assert all(clear.left - 1 <= t.anchor[0] <= clear.right + 1 for t in inside)


@pytest.mark.parametrize("model", MODELS)
def test_every_coped_end_has_one_pattern_and_every_fitted_tube_one_row(model: str) -> None:
    patterns, rows = tube_ends(assembly(model).parts)
    served = [(s.part, s.which) for p in patterns for s in p.served]
    assert len(served) == len(set(served))
    assert sum(s.drawn + s.turned for p in patterns for s in p.served) == sum(
        r.part.count for r in rows for e in r.ends if e != "square")  # fmt: skip
    assert [r.part.number for r in rows] == [p.number for p, _ in fitted(assembly(model).parts)]
    for paper in PAPERS:
        here = [s for s in ends(model) if s.paper == paper]
        shown = [n for s in here for n in s.shows]
        assert all(shown.count(p.number) == 1 for p in patterns)
        texts = [t.content for s in here for t in s.strokes if isinstance(t, Text)]
        assert all(texts.count(r.part.number) >= 1 for r in rows)
        marks = {m[1]: int(m[2]) for t in texts if (m := re.fullmatch(r"(P\d+) s(\d+)( o)?", t))}
        for sheet in here:  # the table names the sheet that each pattern is on
            for t in sheet.strokes:
                if isinstance(t, Text) and t.bold and (m := re.match(r"(P\d+) · ", t.content)):
                    assert marks[m[1]] == sheet.number


@pytest.mark.parametrize("model", MODELS)
def test_every_flat_part_is_drawn_or_named(model: str) -> None:
    wanted = {part.number for part, _ in flat_parts(assembly(model).parts)}
    formed = {p.number for p in assembly(model).parts if p.form == "plate" and isinstance(p.shape, Formed)}
    for paper in PAPERS:
        here = [s for s in flats(model) if s.paper == paper]
        assert wanted <= {n for s in here for n in s.shows}
        said = " ".join(t.content for s in here for t in s.strokes if isinstance(t, Text))
        assert all(n in said for n in wanted | formed if len(n) < 24)  # a long number may be broken over two lines


def test_files_are_named_by_what_they_hold_and_the_manifest_tells_each(tmp_path) -> None:
    sheets = full_size(assembly("W1").parts, ["24x36"], title("W1"))
    assert {s.kind for s in sheets} == {"templates", "tube-ends", "flat-parts"}
    some = [s for s in sheets if s.number <= 2]
    write_plans(some, (), tmp_path, title("W1"))
    record = json.loads((tmp_path / "manifest.json").read_text(encoding="utf-8"))
    told = {f["file"]: f for f in record["files"]}
    for kind in ("templates", "tube-ends", "flat-parts"):
        for name in (f"W1-{kind}-24x36.pdf", f"W1-{kind}-24x36-02.dxf", f"W1-{kind}-24x36-02.svg"):
            content = (tmp_path / name).read_bytes()
            assert told[name]["sha256"] == sha256(content).hexdigest() and told[name]["shows"]
    assert "Tube ends, full size" in json.dumps(told["W1-tube-ends-24x36.pdf"]["shows"]) or told[
        "W1-tube-ends-24x36.pdf"]["shows"].startswith("Whinchat W1: tube ends")  # fmt: skip


def test_same_design_same_bytes() -> None:
    again = lay_out(whinchat().models["W3"])
    once, twice = (
        [*end_sheets(*tube_ends(a.parts), ["A1"], title("W3")), *flat_sheets(a.parts, ["A1"], title("W3"))]
        for a in (assembly("W3"), again)
    )
    assert once == twice
    for a, b in list(zip(once, twice, strict=True))[::9]:
        assert dxf(a) == dxf(b) and svg(a) == svg(b)
