"""What `plans` is asked of paper, from the command line to the files: sentences, exit codes, manifest, same bytes."""

from __future__ import annotations

import json
from argparse import Namespace
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest
from paper_parts import TITLE, rib, small

from sparwright.base.problem import DesignProblem
from sparwright.cli.main import main, parser
from sparwright.cli.paper import NOTHING, on_paper, said, undone, wished
from sparwright.output.planset import write_plans
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import Sheet
from sparwright.plans.first_page import first_page, first_sides
from sparwright.plans.paper import PAPERS
from sparwright.plans.templates import templates, told
from sparwright.plans.tiles import TILE_PAPERS, tiling

WHINCHAT = Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml"
BOTH = tuple(PAPERS)
TRUE = "A-B 877.0 mm; A-D 571.2 mm; A-C 1046.4 mm; B-D 1046.9 mm"
WHO = ("--printer", "copy shop", "--date", "2026-05-04")


def args(*more: str) -> Namespace:
    return parser().parse_args(["plans", "f.toml", "--model", "T1", "--out", "o", *more])


def measured(on: str, lengths: str, *more: str) -> tuple[str, ...]:
    return ("--measured-on", on, "--measured", lengths, *WHO, *more)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (("--measured", TRUE), "needs --measured-on and --printer and --date"),
        (("--printer", "p"), "needs --measured and --measured-on and --date"),
        (measured("A0", TRUE), "'A0' is not known"),
        (measured("letter-0", TRUE), "'letter-0' is not known"),
        (measured("24x36", TRUE, "--paper", "A1"), "needs --paper 24x36 or both"),
        (measured("A1", TRUE, "--paper", "both"), "these are the lengths of 24 × 36 in sheet"),
        (measured("letter", TRUE), "these are the lengths of 24 × 36 in sheet"),
        (measured("24x36", TRUE.replace("877.0 mm", "877 in")), "looks like millimetres"),
        (measured("24x36", TRUE.replace("1046.9", "1040")), "do not agree"),
        (("--measured-on", "24x36", "--measured", TRUE, "--printer", "p", "--date", "4 May"), "not a day"),
        (("--measured-on", "24x36", "--measured", TRUE, "--printer", "p", "--date", "20260504"), "not a day"),
        (("--measured-on", "24x36", "--measured", TRUE, "--printer", "p" * 70, "--date", "2026-05-04"), "too long"),
        (("--measured-on", "24x36", "--measured", TRUE, "--printer", "принтер", "--date", "2026-05-04"), "no 'п'"),
    ],
)
def test_what_cannot_be_is_told_in_a_sentence_before_anything_is_worked_out(
    given, words, capsys, monkeypatch, tmp_path
):
    monkeypatch.setattr("sparwright.cli.plans.report_and_run", lambda *_: pytest.fail("worked out first"))
    assert main(["plans", str(WHINCHAT), "--model", "W1", "--out", str(tmp_path / "o"), *given]) == 2
    told_ = capsys.readouterr().err
    assert words in " ".join(told_.split()) and "Traceback" not in told_
    assert not (tmp_path / "o").exists()


def test_nothing_asked_is_nothing_done():
    assert wished(args(), BOTH) == NOTHING
    assert on_paper(NOTHING, SHEETS, TITLE) == ([], []) and said(NOTHING, ()) == ""


PARTS = (rib("T1-wing-RIB-36", 0.7), small("T1-G"))
SHEETS = (*templates(PARTS, "24x36", TITLE), *templates(PARTS, "A1", TITLE))


def written(out: Path, *more: str) -> dict[str, bytes]:
    wish = wished(args(*more), BOTH)
    pages, documents = on_paper(wish, SHEETS, TITLE)
    paths = write_plans(SHEETS, (), out, TITLE, printed=pages, documents=documents)
    shown = json.loads((out / "manifest.json").read_text(encoding="utf-8"))["files"]
    assert {f["file"] for f in shown} | {"manifest.json"} == {p.name for p in paths}
    (out / "said.txt").write_text(said(wish, paths), encoding="utf-8")
    return {p.name: p.read_bytes() for p in out.iterdir()}


def test_corrected_sheets_come_beside_the_true_ones_and_only_as_pdf(tmp_path):
    plain = written(tmp_path / "plain")
    trued = written(tmp_path / "trued", *measured("24x36", TRUE))
    new = set(trued) - set(plain)
    assert new == {"T1-templates-24x36-for-copy-shop.pdf"}
    assert all(trued[n] == plain[n] for n in set(plain) - {"manifest.json", "said.txt"})
    size = [s for s in SHEETS if s.paper == "24x36"]
    assert len(pypdf.PdfReader(tmp_path / "trued" / "T1-templates-24x36-for-copy-shop.pdf").pages) == len(size)
    shows = {f["file"]: f["shows"] for f in json.loads(trued["manifest.json"])["files"]}
    assert "corrected for copy shop alone, measured 2026-05-04" in shows[new.pop()]
    assert "Corrected for copy shop alone: T1-templates-24x36-for-copy-shop.pdf" in trued["said.txt"].decode()
    written(tmp_path / "trued")  # asked without it, the corrected file of the set before goes
    assert not list((tmp_path / "trued").glob("*copy-shop*"))


def test_pages_of_both_papers_and_a_correction_measured_on_one(tmp_path):
    w, h = (1000 * v for v in first_sides(TILE_PAPERS["A4"]))
    d = (w**2 + h**2) ** 0.5
    lengths = f"A-B {w:.1f} mm; A-D {1.002 * h:.2f} mm; A-C {d + 0.35:.2f} mm; B-D {d + 0.35:.2f} mm"
    files = written(tmp_path / "o", "--tiles", "letter", *measured("A4", lengths))
    assert {n for n in files if "tiles" in n} == {
        "T1-tiles-letter.pdf",
        "T1-tiles-A4.pdf",
        "T1-tiles-A4-for-copy-shop.pdf",
    }
    shows = {f["file"]: f["shows"] for f in json.loads(files["manifest.json"])["files"]}
    assert "24x36" in shows["T1-tiles-letter.pdf"] and "A1" in shows["T1-tiles-A4.pdf"]
    assert files["said.txt"].decode().count("print its first page first") == 2


def test_a_sheet_put_together_is_measured_by_its_own_check_lines(tmp_path):
    of = [s for s in SHEETS if s.paper == "24x36"]
    w, h = (1000 * v for v in tiling(of[0], TILE_PAPERS["letter"]).sides)
    d = ((1.003 * w) ** 2 + h**2) ** 0.5
    lengths = f"A-B {1.003 * w:.1f} mm; A-D {h:.1f} mm; A-C {d:.1f} mm; B-D {d:.1f} mm"
    undo = undone(wished(args(*measured("letter-1", lengths)), BOTH), of)
    assert undo.along == pytest.approx(0.003, abs=0.05 / w) and abs(undo.across) < 0.05 / h  # a tenth read
    with pytest.raises(DesignProblem, match="there are 1 sheets"):
        on_paper(wished(args(*measured("letter-7", lengths)), BOTH), SHEETS, TITLE)


def test_same_wish_same_bytes(tmp_path):
    more = ("--tiles", "both", *measured("24x36", TRUE))
    assert written(tmp_path / "a", *more) == written(tmp_path / "b", *more)


def test_the_page_printed_first_says_what_to_do_and_nothing_clashes():
    undo = undone(wished(args(*measured("24x36", TRUE)), BOTH), ())
    for p in TILE_PAPERS.values():
        for words in ((), told(undo)):
            leaf = first_page(p, TITLE, words)
            assert clashes(Sheet(1, 1, "", "", p.width, p.height, (*leaf.true, *leaf.fixed))) == ()


def test_a_sheet_that_two_sets_have_is_asked_for_by_its_set():
    from sparwright.plans.flat_parts import flat_sheets

    of = [s for s in SHEETS if s.paper == "24x36"]
    both = [*of, *flat_sheets((replace(small("T1-G"), material="birch-ply"),), ("24x36",), TITLE)]
    w, h = (1000 * v for v in tiling(both[-1], TILE_PAPERS["letter"]).sides)
    d = (w**2 + h**2) ** 0.5
    lengths = f"A-B {w:.1f} mm; A-D {h:.1f} mm; A-C {d:.1f} mm; B-D {d:.1f} mm"
    with pytest.raises(DesignProblem, match="letter-templates-1, letter-flat-parts-1"):
        undone(wished(args(*measured("letter-1", lengths)), BOTH), both)
    undo = undone(wished(args(*measured("letter-flat-parts-1", lengths)), BOTH), both)
    assert abs(undo.along) < 1e-3, "measured against its own check lines, not the rib's"
