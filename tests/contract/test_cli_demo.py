"""The demo and the real engine behind the doors: what is told is whole, kept and fresh are the same."""

from __future__ import annotations

import hashlib
import json
import re
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from test_cli_doors import FAMILY, ROOT

import sparwright as sw
from sparwright.base.check import Result, Step
from sparwright.cli import store
from sparwright.cli.demo import example
from sparwright.cli.main import main
from sparwright.data.loader import sources
from sparwright.output.report import Report, report
from sparwright.output.text import told
from sparwright.output.why import ids, why

KEY = re.compile(r"(?<![\w.-])[a-z]+(?:-[a-z0-9]+)*-\d[a-z0-9]*(?:-[a-z0-9]+)*(?![\w-])")


@pytest.fixture(scope="module")
def reports() -> tuple[Report, ...]:
    family = sw.load(FAMILY)
    return tuple(report(sw.run(family, m), family.models[m].title, "inch", family.unknowns) for m in family.models)


@pytest.fixture(autouse=True)
def own_store(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv(store.FOLDER, str(tmp_path / "store"))


@pytest.mark.long
def test_the_demo_does_all_it_says(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo", "--out", str(tmp_path / "out")]) == 0
    out, err = capsys.readouterr()
    assert err == "" and out.count("\n") <= 25
    for model in ("W1", "W2", "W3"):
        assert re.search(rf"^{model}: \d+ pass, \d+ fail, \d+ unknown\.", out, re.MULTILINE)
        folder = tmp_path / "out" / model
        listed = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))["files"]
        assert {f["file"] for f in listed} == {
            p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()
        } - {"manifest.json"}
        assert f"{model}-strength.pdf" in {f["file"] for f in listed}
        for f in listed:
            assert hashlib.sha256((folder / f["file"]).read_bytes()).hexdigest() == f["sha256"]
    first = re.search(r"Look first at (.*\.pdf)", out)
    assert first and Path(first[1]).is_file()
    asked = re.search(r"why \S+ (\S+) --model W1", out)
    assert asked and main(["why", str(tmp_path / "out" / "whinchat.toml"), asked[1], "--model", "W1"]) == 0


@pytest.mark.long
def test_kept_and_fresh_are_told_in_the_same_bytes(capsys: pytest.CaptureFixture[str]) -> None:
    said = []
    for fresh in ([], [], ["--fresh"]):
        main(["check", FAMILY, "--model", "W3", "--json", *fresh])
        said.append(capsys.readouterr().out)
    assert said[0] == said[1] == said[2]


def test_the_example_is_where_the_demo_looks() -> None:
    assert (example() / "diary.md").is_file()


@pytest.mark.long
def test_every_id_is_one_and_can_be_asked_about(reports: tuple[Report, ...]) -> None:
    for r in reports:
        for kind in (r.results, r.checks):
            names = [x.id for x in kind]
            assert len(names) == len(set(names)), sorted(n for n in names if names.count(n) > 1)
        for id in ids(r):
            assert re.fullmatch(r"[a-z_]+(\.[A-Za-z0-9_-]+)+", id)
            assert id in why(r, id)


@pytest.mark.long
def test_every_parent_is_a_number_that_is_told(reports: tuple[Report, ...]) -> None:
    faults = {(x.id, p) for r in reports for x in (*r.results, *r.checks) for p in x.parents if p not in ids(r)}
    assert not faults


@pytest.mark.long
def test_every_unknown_says_what_is_missing(reports: tuple[Report, ...]) -> None:
    for r in reports:
        bare = [x.id for x in r.results if x.value != x.value and not x.caveat]
        bare += [c.id for c in r.checks if c.verdict == "unknown" and not c.caveat]
        assert not bare


@pytest.mark.long
def test_every_source_told_is_known(reports: tuple[Report, ...]) -> None:
    """What looks like a key of sources.toml (lower case, hyphens, a number) is one."""
    texts = {x.source for r in reports for x in r.results}
    texts |= {s.source for r in reports for x in (*r.results, *r.checks) for s in x.steps}
    texts |= {t for r in reports for c in r.checks for t in (c.rule, c.method, c.caveat)}
    keys = {key for t in texts for key in KEY.findall(t)}
    assert len(keys) > 8
    assert keys <= set(sources()), keys - set(sources())


@pytest.mark.long
def test_every_number_has_a_source_and_its_working_is_whole(reports: tuple[Report, ...]) -> None:
    for r in reports:
        assert all(x.source for x in r.results if x.value == x.value), [x.id for x in r.results if not x.source]
        for step in (s for x in (*r.results, *r.checks) for s in x.steps):
            assert step.title and (step.formula or step.given) and (step.unit or step.value != step.value), step


@pytest.mark.long
def test_the_screen_tells_every_number(reports: tuple[Report, ...]) -> None:
    for r in reports:
        said = told(r, 120)
        for x in (x for x in r.results if not x.id.startswith("compared.")):  # these stand in a table of their own
            assert re.search(rf"\b{re.escape(x.id)}$", said, re.MULTILINE), x.id
        assert max(map(len, said.splitlines())) <= 120


def test_a_step_has_the_fields_that_why_tells() -> None:
    assert set(Step.__dataclass_fields__) == {"title", "formula", "given", "value", "unit", "source"}
    assert "band" in dir(Result)


@pytest.mark.long
def test_the_python_of_the_readme_runs(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    block = re.search(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)
    assert block
    names: dict[str, object] = {}
    exec(block[1], names)
    assert getattr(names["result"], "model", "") == "W1"


@pytest.mark.long
def test_the_wheel_holds_the_example_the_data_and_the_command(tmp_path: Path) -> None:
    words = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)]
    subprocess.run(words, cwd=ROOT, check=True, capture_output=True)
    (wheel,) = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as file:
        held = set(file.namelist())
        command = next(file.read(n).decode() for n in held if n.endswith("entry_points.txt"))
    ours = {p.relative_to(ROOT / "src").as_posix() for p in (ROOT / "src" / "sparwright").rglob("*") if p.is_file()}
    assert {p for p in ours if "__pycache__" not in p} <= held
    assert "sparwright/examples/whinchat/whinchat.toml" in held
    assert "sparwright = sparwright.cli.main:main" in command
