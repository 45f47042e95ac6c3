"""go.py on a bare folder: made once, made again when it must, one sentence for each way it cannot. No network.

A stub `uv` on the path stands where the installer stands, so every failure can be had at will; it makes a real
environment without packages when it is to succeed.
"""

from __future__ import annotations

import ast
import importlib.util
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
SENTENCES = {
    "ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device": "The disk is full",
    "error: Failed to write to the client cache: No space left on device (os error 28)": "The disk is full",
    "ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE.": "(its hash differs)",
    "error: Hash mismatch for `scipy==1.17.1`": "(its hash differs)",
    "WARNING: Retrying (Retry(total=4)) after connection broken by 'NewConnectionError'\n"
    "ERROR: No matching distribution found for numpy==2.4.6": "The package index cannot be reached",
    "error: dns error: failed to lookup address information: Name or service not known": "cannot be reached",
    "ERROR: No matching distribution found for numba==0.68.1": "no ready-made build for Python",
    "The virtual environment was not created successfully because ensurepip is not available.": "venv or ensurepip",
    "/usr/bin/python3: No module named venv": "venv or ensurepip",
    "error: Permission denied (os error 13)": "not allowed",
}
STUB = """\
import os, subprocess, sys, time
here = os.environ["STUB"]
open(os.path.join(here, "asked"), "a").write(" ".join(sys.argv[1:3]) + "\\n")
said = os.path.join(here, "say")
if os.path.exists(said):
    sys.stderr.write(open(said).read())
    sys.exit(1)
if sys.argv[1] == "pip":
    time.sleep(float(os.environ.get("STUB_SLOW", "0")))
else:
    sys.exit(subprocess.call([sys.executable, "-m", "venv", "--without-pip", "--clear", sys.argv[-1]]))
"""


class Clone:
    """A clone with nothing but go.py, a lock and a package that says what it was asked, and a stub installer."""

    def __init__(self, home: Path):
        self.home, self.stub = home / "cl öne", home / "stub"
        package = self.home / "src" / "sparwright"
        package.mkdir(parents=True)
        self.stub.mkdir()
        shutil.copy(ROOT / "go.py", self.home)
        (self.home / "requirements.lock").write_text("numpy==1 --hash=sha256:00\n", encoding="utf-8")
        (package / "__init__.py").touch()
        (package / "__main__.py").write_text(
            "import os, sys\nprint(sys.argv[1:], os.environ.get('SPARWRIGHT_AS'))\n"
            "sys.exit(7 if sys.argv[1] == 'seven' else 0)\n", encoding="utf-8")  # fmt: skip
        (self.stub / "uv.py").write_text(STUB, encoding="utf-8")
        run = self.stub / "uv"
        run.write_text(f'#!/bin/sh\nexec "{sys.executable}" "{self.stub / "uv.py"}" "$@"\n', encoding="utf-8")
        run.chmod(0o755)

    def start(self, *words: str, **env: str) -> subprocess.Popen[str]:
        """Start go.py; only the stub's folder is on the path."""
        settings = {"PATH": str(self.stub), "STUB": str(self.stub), "PYTHONUTF8": "1", "PIP_NO_INDEX": "1", **env}
        keep = {k: v for k, v in os.environ.items() if k in ("SYSTEMROOT", "LD_LIBRARY_PATH")}
        return subprocess.Popen([base(), str(self.home / "go.py"), *words], stdout=subprocess.PIPE, text=True,
                                stderr=subprocess.PIPE, env=keep | settings)  # fmt: skip

    def go(self, *words: str, **env: str) -> tuple[int, str, str]:
        """Run go.py to its end."""
        child = self.start(*words, **env)
        out, err = child.communicate(timeout=120)
        assert "Traceback" not in err
        return child.returncode, out, err

    @property
    def asked(self) -> int:
        """How often an environment was begun."""
        return self.said.count("venv")

    @property
    def said(self) -> str:
        """What the installer was asked, a line each time."""
        path = self.stub / "asked"
        return path.read_text(encoding="utf-8") if path.exists() else ""


def base() -> str:
    """The Python this one's environment was made from, so that a stub environment does not stand on another."""
    return str(getattr(sys, "_base_executable", sys.executable))


def module(clone: Clone) -> Any:
    """go.py itself, to ask its functions."""
    spec = importlib.util.spec_from_file_location("go", clone.home / "go.py")
    assert spec and spec.loader
    go = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(go)
    return go


@pytest.fixture
def clone(tmp_path: Path) -> Clone:
    if os.name == "nt":
        pytest.skip("the stub installer is a shell script")
    return Clone(tmp_path)


def test_it_parses_on_an_old_python() -> None:
    ast.parse((ROOT / "go.py").read_text(encoding="utf-8"), feature_version=(3, 6))


def test_it_makes_the_environment_once_and_hands_on_words_and_exit_code(clone: Clone) -> None:
    code, out, err = clone.go("check", "a file.toml", "--model", "W1")
    assert (code, out) == (0, "['check', 'a file.toml', '--model', 'W1'] python3 go.py\n")
    assert "installing" in err
    assert clone.go("seven") == (7, "['seven'] python3 go.py\n", "")
    assert clone.asked == 1


def test_a_second_start_costs_little(clone: Clone) -> None:
    clone.go("x")
    began = time.perf_counter()
    clone.go("x")
    assert time.perf_counter() - began < 2.0  # the promise; measured 0.1 s, so a slow machine has room


def test_another_lock_makes_it_again(clone: Clone) -> None:
    clone.go("x")
    (clone.home / "requirements.lock").write_text("numpy==2 --hash=sha256:00\n", encoding="utf-8")
    clone.go("x")
    clone.go("x")
    assert clone.asked == 2


def test_another_python_makes_it_again(clone: Clone) -> None:
    clone.go("x")
    mark = clone.home / ".venv" / "made-from"
    mark.write_text(mark.read_text(encoding="utf-8").replace("3.", "2.", 1), encoding="utf-8")
    clone.go("x")
    assert clone.asked == 2


def test_a_python_that_has_gone_makes_it_again(clone: Clone) -> None:
    clone.go("x")
    (clone.home / ".venv" / "bin" / "python").unlink()
    assert clone.go("x")[0] == 0
    assert clone.asked == 2


@pytest.mark.long
def test_an_interrupted_installation_is_made_again(clone: Clone) -> None:
    (clone.stub / "say").write_text("stopped half way", encoding="utf-8")
    assert clone.go("x")[0] == 4
    assert not (clone.home / ".venv" / "made-from").exists()
    (clone.stub / "say").unlink()
    assert clone.go("x")[0] == 0


@pytest.mark.parametrize("said", SENTENCES)
def test_each_failure_has_its_sentence(clone: Clone, said: str) -> None:
    go = module(clone)
    text = go.explain(said)
    assert SENTENCES[said] in text
    assert "\n" not in text and "{" not in text
    assert (clone.home / ".venv-install.log").read_text(encoding="utf-8") == said


def test_a_failure_we_do_not_know_shows_the_installers_last_words(clone: Clone) -> None:
    go = module(clone)
    assert go.explain("line 1\nsomething odd").startswith("line 1\nsomething odd\n")


@pytest.mark.long
def test_a_failing_installer_ends_with_a_sentence_and_4(clone: Clone) -> None:
    # uv says that it cannot reach the index, then pip, which is told to look nowhere, has nothing to add
    (clone.stub / "say").write_text("error: dns error: failed to lookup address information", encoding="utf-8")
    code, out, err = clone.go("x")
    assert (code, out) == (4, "")
    assert "The package index cannot be reached" in err.splitlines()[-1]


@pytest.mark.long
def test_pip_without_an_index_to_reach_ends_with_a_sentence_and_4(clone: Clone) -> None:
    (clone.stub / "uv").unlink()
    nowhere = {"PIP_NO_INDEX": "0", "PIP_INDEX_URL": "http://127.0.0.1:9/", "PIP_RETRIES": "1"}
    code, out, err = clone.go("x", PIP_CONFIG_FILE=os.devnull, **nowhere)
    assert (code, out) == (4, "")
    assert "The package index cannot be reached" in err.splitlines()[-1]


def test_no_venv_module_is_a_sentence_and_4(clone: Clone) -> None:
    (clone.stub / "uv").unlink()
    bare = clone.stub / "python"  # a Python without ensurepip, as Debian ships one
    bare.write_text(f'#!/bin/sh\ncase "$*" in *"-m venv"*) echo "ensurepip is not available"; exit 1;; esac\n'
                    f'exec "{base()}" "$@"\n', encoding="utf-8")  # fmt: skip
    bare.chmod(0o755)
    go = (clone.home / "go.py").read_text(encoding="utf-8")
    (clone.home / "go.py").write_text(go.replace("[sys.executable, ", f"[{str(bare)!r}, "), encoding="utf-8")
    code, _, err = clone.go("x")
    assert code == 4 and "its venv or ensurepip module is missing" in err.splitlines()[-1]


def test_two_starts_at_once_make_it_once(clone: Clone) -> None:
    children = [clone.start("x", STUB_SLOW="0.7") for _ in range(3)]
    ends = [(child.communicate(timeout=60), child.returncode) for child in children]
    assert [code for _, code in ends] == [0, 0, 0]
    assert [out for (out, _), _ in ends] == ["['x'] python3 go.py\n"] * 3
    assert clone.asked == 1


def test_a_start_that_was_killed_is_made_again_and_leaves_no_lock_behind(clone: Clone) -> None:
    child = clone.start("x", STUB_SLOW="5")
    deadline = time.monotonic() + 20
    while "pip" not in clone.said and time.monotonic() < deadline:
        time.sleep(0.05)
    child.kill()
    child.communicate(timeout=20)
    assert clone.go("x")[0] == 0


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_of_someone_elses_is_a_sentence_and_4(clone: Clone) -> None:
    clone.home.chmod(0o555)
    try:
        code, _, err = clone.go("x")
    finally:
        clone.home.chmod(0o755)
    assert code == 4 and "not allowed" in err


def test_no_words_tell_how_to_begin(clone: Clone) -> None:
    code, out, _ = clone.go()
    assert code == 2 and "python3 go.py demo" in out
    assert clone.go("--help")[0] == 0
    assert clone.asked == 0


@pytest.mark.parametrize("name", ["python3.6", "python3.7", "python3.8", "python3.9", "python3.10"])
def test_an_old_python_gets_a_sentence(clone: Clone, name: str) -> None:
    old = shutil.which(name)
    if old is None or subprocess.run([old, "-c", ""], capture_output=True, check=False).returncode:
        pytest.skip(f"{name} is not on this machine")
    done = subprocess.run([old, str(clone.home / "go.py"), "demo"], capture_output=True, text=True, check=False)
    assert done.returncode == 4 and "needs Python 3.11 or newer; this is Python 3." in done.stderr
    assert "Traceback" not in done.stderr and done.stderr.count("\n") == 1


def test_compiled_kernels_belong_to_the_sources_they_were_made_of(clone: Clone) -> None:
    """Another line in any file of the air room is another folder, and the old one goes."""
    go, file = module(clone), clone.home / "src" / "sparwright" / "air" / "flow" / "closure.py"
    file.parent.mkdir(parents=True)
    file.write_text("A = 1\n", encoding="utf-8")
    first = Path(go.kernels())
    assert first == Path(go.kernels()) and first.is_relative_to(clone.home / ".venv")
    first.mkdir(parents=True)
    file.write_text("A = 2\n", encoding="utf-8")
    assert Path(go.kernels()) != first and not first.exists()
