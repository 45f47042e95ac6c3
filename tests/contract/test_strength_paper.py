"""The strength report of the demo: what the run says is what the paper says, page by page."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from hashlib import sha256
from io import BytesIO
from pathlib import Path

import numpy as np
import pdfplumber
import pytest

from sparwright.base.safety import CAUTION
from sparwright.charts.frame_margins import member, spoken
from sparwright.charts.of_strength import strength_pictures
from sparwright.charts.spar_reserve import profile
from sparwright.cli.main import main
from sparwright.family.model import Family
from sparwright.margins.along import along_spars, used_by_bars
from sparwright.margins.by_hand import estimates
from sparwright.margins.estimate import at_limit
from sparwright.margins.tubes import right_of
from sparwright.output.report import report
from sparwright.output.set_words import amount
from sparwright.output.typeset import strength_pdf
from sparwright.plans.drawing import Line, Text
from sparwright.reports.asked import Asked
from sparwright.reports.page import Link, Mark, Paper, Steps, Table, Working
from sparwright.reports.strength import strength_paper
from sparwright.reports.weakest import weakest_section
from sparwright.run import RunResult

pytestmark = pytest.mark.long
RATIOS = {  # of the frame's answer over the estimate by hand: how far what it leaves out may go
    "pull": (0.85, 1.15), "moment": (0.65, 1.25), "tip": (0.65, 1.7), "longeron": (0.8, 1.25), "mount": (0.85, 1.15),
}  # fmt: skip


@dataclass(frozen=True)
class Made:
    ran: RunResult
    asked: Asked
    paper: Paper
    pdf: bytes
    pages: tuple[str, ...]

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.pages).split())


@pytest.fixture(scope="module")
def made(whinchat: Family, ran: Callable[[str], RunResult]) -> Made:
    run = with_fails(ran("W1"))
    asked = Asked(whinchat.models["W1"], run, "inch")
    paper = strength_paper(asked)
    pdf = strength_pdf(paper)
    with pdfplumber.open(BytesIO(pdf)) as document:
        pages = tuple((p.extract_text() or "").replace("\u00a0", " ").replace("\u200b", "") for p in document.pages)
    return Made(run, asked, paper, pdf, pages)


def with_fails(run: RunResult) -> RunResult:
    """The run with three of its checks held against half of what they use, so that the paper has fails to tell."""
    real = [c for c in run.checks if c.id.startswith("strength.") and c.sense == "<=" and 0.3 < c.value < 1 and c.steps]
    chosen = {c.id: c for c in (real[0], real[len(real) // 2], real[-1])}
    turned = [
        replace(c, limit=c.value / 2, margin=-1.0 - 0.1 * i, verdict="fail") for i, c in enumerate(chosen.values())
    ]
    by_id = {c.id: c for c in turned}
    return replace(run, checks=tuple(by_id.get(c.id, c) for c in run.checks))


def squeezed(text: str) -> str:
    return re.sub(r"[\s\u200b\u00a0]+", "", text)


def test_every_fail_of_the_run_is_there_with_its_number_and_its_working(made: Made) -> None:
    fails = [c for c in made.ran.checks if c.id.startswith(("strength.", "proof.")) and c.verdict == "fail"]
    text = squeezed(made.text)
    assert len(fails) >= 3
    for c in fails:
        assert squeezed(c.id) in text and squeezed(c.title).lower() in text.lower()
        assert squeezed(amount(c.value, c.unit, made.paper.units).split(" (")[0]) in text, c.id
        for step in c.steps:
            assert squeezed(step.title).lower() in text.lower(), (c.id, step.title)
    told = [b.check for b in made.paper.blocks() if isinstance(b, Working)]
    assert {c.id for c in fails} <= {c.id for c in told}


def test_fails_are_ranked_and_every_unknown_is_told_once(made: Made) -> None:
    fails, unknown, *_ = weakest_section(made.asked).sections
    (table,) = fails.blocks
    assert isinstance(table, Table)
    ids = [next(c.id for c in row if isinstance(c, Link)) for row in table.rows]
    by_id = {c.id: c for c in made.asked.checks}
    margins = [by_id[i].margin for i in ids]
    assert margins == sorted(margins) and all(isinstance(r[0], Mark) and r[0].verdict == "fail" for r in table.rows)
    listed = [c.id for b in unknown.blocks if isinstance(b, Table) for r in b.rows for c in r if isinstance(c, Link)]
    assert sorted(listed) == sorted(c.id for c in made.asked.checks if c.verdict == "unknown")


def test_ids_that_are_named_exist(made: Made) -> None:
    ids = {c.id for c in made.ran.checks} | {r.id for r in made.ran.results}
    links = [
        c.id for b in made.paper.blocks() if isinstance(b, Table) for r in b.rows for c in r if isinstance(c, Link)
    ]
    assert links and set(links) <= ids
    answer = made.ran.margins.answer
    assert answer is not None
    beside = {i for e in estimates(made.asked.model, answer) for i in e.beside}
    assert beside and beside <= ids


def test_the_caution_is_on_every_page_and_no_date_anywhere(made: Made) -> None:
    for text in made.pages:
        assert squeezed(CAUTION[:60]) in squeezed(text)
    assert b"/CreationDate" not in made.pdf and b"/ModDate" not in made.pdf


def test_same_run_same_bytes(made: Made) -> None:
    assert strength_pdf(strength_paper(made.asked)) == made.pdf


def test_every_section_is_there_in_order_and_in_the_contents(made: Made) -> None:
    titles = [s.title for s in made.paper.sections]
    assert len(titles) == 10 and titles[0] == "What is weakest" and titles[-1] == "Sources cited"
    for n, title in enumerate(titles, 1):
        assert squeezed(f"{n}{title}") in squeezed(made.pages[1])
        assert any(re.search(rf"^{n} {re.escape(title)}$", p, re.MULTILINE) for p in made.pages[2:])


def test_no_word_runs_over_another_or_off_the_page(made: Made) -> None:
    with pdfplumber.open(BytesIO(made.pdf)) as document:
        for page in document.pages:
            words = [w for w in page.extract_words(use_text_flow=True) if w["text"].strip()]
            box = np.array([[w["x0"], w["top"], w["x1"], w["bottom"]] for w in words])
            assert (box[:, 0] > 20).all() and (box[:, 2] < page.width - 20).all(), page.page_number
            low, high = box[:, None], box[None]
            across = np.minimum(low[..., 2], high[..., 2]) - np.maximum(low[..., 0], high[..., 0])
            down = np.minimum(low[..., 3], high[..., 3]) - np.maximum(low[..., 1], high[..., 1])
            tall = np.minimum(low[..., 3] - low[..., 1], high[..., 3] - high[..., 1])
            over = (across > 1.5) & (down > 0.55 * tall) & ~np.eye(len(box), dtype=bool)
            clashes = [(words[i]["text"], words[j]["text"]) for i, j in np.argwhere(over) if i < j]
            assert not clashes, (page.page_number, clashes[:5])


def test_every_case_is_in_the_table_or_among_those_not_worked_out(made: Made) -> None:
    answer = made.ran.margins.answer
    assert answer is not None
    cases = next(s for s in made.paper.sections if s.title == "Load cases")
    (table,) = (b for b in cases.blocks if isinstance(b, Table))
    done = {squeezed(str(r[0])).split(":")[0] for r in table.rows}
    lost = {squeezed(str(r[0])) for b in cases.sections[0].blocks if isinstance(b, Table) for r in b.rows}
    assert done == {x.case.key for x in answer.laid} and not done & lost
    assert done | lost == {x.case.key for x in made.ran.margins.laid}


def test_estimates_by_hand_are_near_what_the_frame_gives(made: Made) -> None:
    answer = made.ran.margins.answer
    assert answer is not None
    found = estimates(made.asked.model, answer)
    made_ones = [e for e in found if not e.why]
    assert {e.id.split(".")[1] for e in made_ones} == set(RATIOS)
    for e in made_ones:
        low, high = RATIOS[e.id.split(".")[1]]
        assert low < e.ratio < high, (e.id, e.ratio)
        assert e.steps[-1].value == pytest.approx(e.ratio) and e.steps[-2].value == pytest.approx(e.by_hand)
    titles = {b.title for b in made.paper.blocks() if isinstance(b, Steps)}
    assert {f"{e.title}, case {e.case}" for e in made_ones} <= titles


def test_a_case_laid_as_ultimate_is_taken_at_two_thirds(made: Made) -> None:
    answer = made.ran.margins.answer
    assert answer is not None
    i = next(i for i, x in enumerate(answer.laid) if x.case.level == "ultimate" and not x.why)
    assert np.allclose(at_limit(answer, i) * 1.5, answer.laid[i].loads)


def test_plans_put_it_into_the_set_and_its_manifest(
    made: Made, whinchat: Family, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    told = report(made.ran, "one wing", "inch")
    monkeypatch.setattr("sparwright.cli.plans.report_and_run", lambda *_: (told, made.ran))
    assert main(["plans", whinchat.path, "--model", "W1", "--paper", "A1", "--out", str(tmp_path)]) == 0
    content = (tmp_path / "W1-strength.pdf").read_bytes()
    listed = json.loads((tmp_path / "manifest.json").read_text(encoding="utf-8"))["files"]
    (row,) = (f for f in listed if f["file"] == "W1-strength.pdf")
    assert row["sha256"] == sha256(content).hexdigest() and "strength report" in row["shows"]
    assert content == made.pdf


# ------------------------------------------------------------------ pictures


def test_what_a_bar_uses_is_what_its_check_says(made: Made) -> None:
    answer = made.ran.margins.answer
    assert answer is not None
    spars = along_spars(made.asked.model, answer)
    used = used_by_bars(answer, made.ran.margins.checks, spars)
    by_id = {c.id: c for c in made.ran.margins.checks}
    for i, bar in enumerate(answer.skeleton.bars):
        own = by_id.get(f"strength.tube.{right_of(bar.part).partition('-')[2]}")
        if own and bar.what in ("tube", "strut"):
            assert used[i] == own.value
    for spar in spars:
        for what, use in spar.used.items():
            assert float(np.nanmax(use)) == pytest.approx(by_id[f"strength.{spar.wing}.{spar.spar}.{what}"].value)
            assert float(np.nanmax(profile(spar, what)[1])) == pytest.approx(float(np.nanmax(use)))


def test_pictures_name_the_worst_and_hatch_only_what_fails(made: Made) -> None:
    answer = made.ran.margins.answer
    assert answer is not None
    drawn = strength_pictures(made.asked.model, made.ran.margins, "Whinchat", "inch")
    assert list(drawn) == ["frame-margins", "frame-margins-above", "deflected", "spar-reserve"]
    used = used_by_bars(answer, made.ran.margins.checks, along_spars(made.asked.model, answer))
    worst = int(np.nanargmax(used))
    name = f"{spoken(answer.skeleton.bars[worst])} {used[worst]:.0%}".replace("%", " %")
    for picture in (drawn["frame-margins"], drawn["frame-margins-above"]):
        assert name in [s.content for s in picture.strokes if isinstance(s, Text)]
        sample = [s for s in member(np.array([[0.0, 0.0], [11.0, 0.0]]), 3) if s.layer == "hatch"]  # of the key
        assert (len(picture.on("hatch")) > len(sample)) == (used[worst] > 1)
    for picture in drawn.values():
        for s in picture.strokes:
            for x, y in (s.start, s.end) if isinstance(s, Line) else ():
                assert -1e-6 <= x <= picture.width and -1e-6 <= y <= picture.height
