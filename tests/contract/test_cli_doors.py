"""The terminal's doors: exit codes, sentences instead of tracebacks, the store. The engine is a run made by hand."""

from __future__ import annotations

import errno
import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest
from reports import CHECKS, Ran

from sparwright.base.problem import DesignProblem
from sparwright.cli import store
from sparwright.cli.answers import read, report_and_run
from sparwright.cli.main import main

ROOT = Path(__file__).parents[2]
FAMILY = str(ROOT / "examples" / "whinchat" / "whinchat.toml")
Engine = Callable[..., Ran]


class Engines:
    """Stands where the engine stands and counts how often it is asked."""

    def __init__(self) -> None:
        self.asked: list[str] = []
        self.measured: list[bool] = []
        self.checks = CHECKS
        self.fault: BaseException | None = None

    def run(
        self, family: object, name: str, progress: object = None, polars: object = None, measured: bool = True
    ) -> Ran:
        self.asked.append(name)
        self.measured.append(measured)
        if self.fault:
            raise self.fault
        return Ran(family="Whinchat", model=name, checks=self.checks)


@pytest.fixture
def engine(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Engines:
    made, module = Engines(), ModuleType("sparwright.run")
    module.run = made.run  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "sparwright.run", module)
    monkeypatch.setenv(store.FOLDER, str(tmp_path / "store"))
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    return made


def told(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = main(words)
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return code, out, err


def test_check_is_1_while_one_fails_or_is_unknown_and_0_when_all_pass(
    engine: Engines, capsys: pytest.CaptureFixture[str]
) -> None:
    assert told(capsys, "check", FAMILY, "--model", "W1")[0] == 1
    engine.checks = CHECKS[2:3]  # unknown
    assert told(capsys, "check", FAMILY, "--model", "W1", "--fresh")[0] == 1
    engine.checks = CHECKS[:1]  # pass
    assert told(capsys, "check", FAMILY, "--model", "W1", "--fresh")[0] == 0
    engine.checks = ()
    assert told(capsys, "check", FAMILY, "--model", "W1", "--fresh")[0] == 1


def test_check_tells_all_models_when_none_is_named(engine: Engines, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = told(capsys, "check", FAMILY, "--json")
    assert code == 1
    assert [m["model"] for m in json.loads(out)["models"]] == ["W1", "W2", "W3"] == engine.asked


def test_a_question_asked_again_is_answered_from_the_store_in_the_same_words(
    engine: Engines, capsys: pytest.CaptureFixture[str]
) -> None:
    first = told(capsys, "check", FAMILY, "--model", "W1")
    assert told(capsys, "check", FAMILY, "--model", "W1") == first
    assert told(capsys, "why", FAMILY, "flight.stall", "--model", "W1")[0] == 0
    assert engine.asked == ["W1"]
    assert told(capsys, "check", FAMILY, "--model", "W1", "--fresh") == first
    assert engine.asked == ["W1", "W1"]


def test_plans_run_again_for_what_a_kept_report_does_not_hold(engine: Engines) -> None:
    family = read(FAMILY)
    first, ran = report_and_run(family, "W1")
    again, _ = report_and_run(family, "W1")
    assert repr(first) == repr(again) and ran.model == "W1" and first.checks == engine.checks
    assert engine.measured == [True, False]  # the second time nobody asks what is measured on the bodies


def test_a_changed_file_is_another_question(
    engine: Engines, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    copy = tmp_path / "f.toml"
    copy.write_bytes(Path(FAMILY).read_bytes())
    told(capsys, "check", str(copy), "--model", "W1")
    copy.write_bytes(Path(FAMILY).read_bytes() + b"# a word more\n")
    told(capsys, "check", str(copy), "--model", "W1")
    assert engine.asked == ["W1", "W1"]


def test_other_sources_of_ours_or_another_library_are_another_question(monkeypatch: pytest.MonkeyPatch) -> None:
    before = store.key("aa", "W1")
    assert before == store.key("aa", "W1") and before != store.key("aa", "W2") != store.key("ab", "W1")
    store.program.cache_clear()
    monkeypatch.setattr(store, "_version", lambda name: "9.9")
    assert store.key("aa", "W1") != before
    store.program.cache_clear()
    monkeypatch.undo()
    assert store.key("aa", "W1") == before


@pytest.mark.parametrize("hurt", [b"", b"rubbish", b"\xff\xfe\x00", None])
def test_a_damaged_entry_is_worked_out_again(
    engine: Engines, capsys: pytest.CaptureFixture[str], tmp_path: Path, hurt: bytes | None
) -> None:
    first = told(capsys, "check", FAMILY, "--model", "W1")
    (entry,) = (tmp_path / "store").glob("*.json")
    whole = entry.read_bytes()
    entry.write_bytes(whole.replace(b"19.130594", b"19.130595") if hurt is None else hurt)
    assert entry.read_bytes() != whole
    assert told(capsys, "check", FAMILY, "--model", "W1") == first
    assert engine.asked == ["W1", "W1"]
    assert entry.read_bytes() == whole


def test_a_sealed_entry_of_another_shape_is_worked_out_again(
    engine: Engines, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    told(capsys, "check", FAMILY, "--model", "W1")
    (entry,) = (tmp_path / "store").glob("*.json")
    store.put(entry.stem, '{"results": [], "checks": []}')
    assert told(capsys, "check", FAMILY, "--model", "W1")[0] == 1
    assert engine.asked == ["W1", "W1"]


def test_a_store_that_cannot_be_written_is_gone_without(
    engine: Engines, capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "in_the_way").write_text("a file", encoding="utf-8")
    for place in (str(tmp_path / "in_the_way"), ""):
        monkeypatch.setenv(store.FOLDER, place)
        assert told(capsys, "check", FAMILY, "--model", "W1")[0] == 1
    assert engine.asked == ["W1", "W1"]


def test_a_full_disk_leaves_no_half_entry(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(store.FOLDER, str(tmp_path / "s"))

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    store.put("a", "text")
    assert store.get("a") is None and not list((tmp_path / "s").iterdir())


def test_the_store_does_not_grow_for_ever(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(store.FOLDER, str(tmp_path / "s"))
    monkeypatch.setitem(store.MOST, store.REPORTS, 3)
    for n in range(6):
        store.put(f"k{n}", "text")
        os.utime(tmp_path / "s" / f"k{n}.json", (n, n))
    assert sorted(p.name for p in (tmp_path / "s").iterdir()) == ["k3.json", "k4.json", "k5.json"]


# ---------------------------------------------------------------- what goes wrong


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("check", "no such file.toml"), "there is no such file"),
        (("check", str(ROOT)), "is a folder"),
        (("check", FAMILY, "--model", "W9"), "has no model 'W9'; it has W1, W2, W3"),
        (
            ("why", FAMILY, "flight.stal", "--model", "W1"),
            "no result or check 'flight.stal'; the nearest are flight.stall",
        ),
        (("plans", FAMILY, "--model", "W9", "--out", "x"), "has no model 'W9'"),
        (("check", "nul\0byte.toml"), "cannot be read"),
        (("check", "\udcff.toml"), "there is no such file"),
        (("chekc", FAMILY), "invalid choice: 'chekc'"),
        ((), "the following arguments are required: COMMAND"),
        (("plans", FAMILY, "--model", "W1"), "the following arguments are required: --out"),
    ],
)
def test_what_a_user_types_wrong_is_2_and_a_sentence(
    engine: Engines, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], sentence: str
) -> None:
    code, out, err = told(capsys, *words)
    assert (code, out) == (2, "")
    assert sentence in err


def test_all_problems_of_a_file_are_told_and_counted(
    engine: Engines, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    bad = tmp_path / "bad.toml"
    text = Path(FAMILY).read_text(encoding="utf-8")
    text = re.sub(r'(\[models\.W2\.limits\]\nmax_mass = )"[^"]*"', r'\1"980 ft"', text)
    text = re.sub(r'(\[models\.W2\.propeller\][^[]*?pitch = )"[^"]*"', r"\g<1>28", text)
    bad.write_text(text, encoding="utf-8")
    code, _, err = told(capsys, "check", str(bad))
    assert code == 2
    assert "models.W2.limits.max_mass" in err and "models.W2.propeller.pitch" in err and "2 problems" in err


def test_a_design_that_cannot_be_built_is_2(engine: Engines, capsys: pytest.CaptureFixture[str]) -> None:
    engine.fault = DesignProblem("the rib at 12 in has no room for its spar")
    code, _, err = told(capsys, "check", FAMILY, "--model", "W1")
    assert (code, err) == (2, "the rib at 12 in has no room for its spar.\n")


def test_our_fault_is_3_with_a_trace_in_a_file(
    engine: Engines, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    engine.fault = ZeroDivisionError("division by zero")
    code, _, err = told(capsys, "check", FAMILY, "--model", "W1")
    assert code == 3 and "our fault" in err and err.count("\n") == 1
    (trace,) = tmp_path.glob("sparwright-fault-*.txt")
    assert str(trace) in err and "Traceback" in trace.read_text(encoding="utf-8")
    assert main(["check", FAMILY, "--model", "W1", "--debug"]) == 3
    assert "Traceback" in capsys.readouterr().err


def test_ctrl_c_is_130_and_a_sentence(engine: Engines, capsys: pytest.CaptureFixture[str]) -> None:
    engine.fault = KeyboardInterrupt()
    code, _, err = told(capsys, "check", FAMILY, "--model", "W1")
    assert code == 130 and "Stopped" in err


def test_a_full_disk_is_2_and_a_sentence(engine: Engines, capsys: pytest.CaptureFixture[str]) -> None:
    engine.fault = OSError(errno.ENOSPC, "No space left on device", "rib.pdf")
    code, _, err = told(capsys, "check", FAMILY, "--model", "W1")
    assert (code, err) == (2, "rib.pdf cannot be written: the disk is full.\n")


def test_new_writes_a_file_that_reads_and_leaves_a_good_one_alone(
    engine: Engines, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    code, out, _ = told(capsys, "new", str(tmp_path / "mine"))
    assert code == 0 and str(tmp_path / "mine" / "family.toml") in out
    assert told(capsys, "check", str(tmp_path / "mine" / "family.toml"))[0] == 1
    before = (tmp_path / "mine" / "family.toml").read_bytes()
    code, _, err = told(capsys, "new", str(tmp_path / "mine"))
    assert code == 2 and "there already" in err
    assert (tmp_path / "mine" / "family.toml").read_bytes() == before


@pytest.mark.parametrize("words", [("plans", FAMILY, "--model", "W1", "--out"), ("demo", "--out"), ("new",)])
def test_a_folder_that_cannot_be_written_is_2(
    engine: Engines, capsys: pytest.CaptureFixture[str], tmp_path: Path, words: tuple[str, ...]
) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    code, _, err = told(capsys, *words, str(tmp_path / "file" / "out"))
    assert code == 2 and str(tmp_path / "file") in err
    assert (tmp_path / "file").read_text(encoding="utf-8") == "in the way"


# ---------------------------------------------------------------- whole processes


def process(*words: str, **named: object) -> subprocess.CompletedProcess[bytes]:
    env = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONUTF8": "0"} | named.pop("env", {})  # type: ignore[operator]
    return subprocess.run(
        [sys.executable, "-m", "sparwright", *words], capture_output=True, env=env, check=False, **named
    )  # type: ignore[call-overload, no-any-return]


GONE = "import os, sys; r, w = os.pipe(); os.close(r); os.dup2(w, 1); from sparwright.cli.main import main; "


def python(code: str, *words: str) -> subprocess.CompletedProcess[str]:
    env = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    return subprocess.run([sys.executable, "-c", code, *words], capture_output=True, text=True, env=env, check=False)


def test_help_names_every_door_and_loads_no_engine() -> None:
    heavy = "[m for m in ('numpy', 'scipy', 'tomllib') if m in sys.modules]"
    done = python(f"import sys; from sparwright.cli.main import main; main(['--help']); print({heavy})")
    for word in ("check", "why", "fits", "plans", "new", "demo", "exit codes", "begin here"):
        assert word in done.stdout
    assert done.stdout.strip().endswith("[]")


@pytest.mark.parametrize("word", ["check", "why", "fits", "plans", "new", "demo"])
def test_every_command_has_help_with_examples(word: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = told(capsys, word, "--help")
    assert code == 0 and "examples:" in out and f"sparwright {word}" in out and "exit codes" in out


def test_version() -> None:
    assert process("--version").stdout.decode().startswith("Sparwright ")


def test_a_terminal_without_utf_8_gets_plain_marks() -> None:
    done = process("check", "no°file″.toml", env={"PYTHONIOENCODING": "ascii"})
    assert done.returncode == 2 and done.stderr.isascii() and b"there is no such file" in done.stderr


@pytest.mark.skipif(os.name == "nt", reason="pipes of POSIX")
def test_a_reader_that_goes_away_is_quiet(tmp_path: Path) -> None:
    done = python(GONE + "sys.exit(main(['new', sys.argv[1]]))", str(tmp_path / "x"))
    assert (done.returncode, done.stderr) == (141, "")
