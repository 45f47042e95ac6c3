"""House rules: docstrings, size, names, no machine's own paths, and CI that runs what the README says."""

from __future__ import annotations

import ast
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from house import ROOT, modules, said, tree

LONGEST = 450
NO_NAME = re.compile(r"(^|_)(utils?|helpers?|managers?|misc|common)(_|$)")
FORBIDDEN = re.compile(r"/wor" + r"k/|/tm" + r"p/|/hom" + r"e/[a-z]|/roo" + r"t/|[A-Z]:\\\\Users")


def undocumented(module: ast.Module) -> Iterator[tuple[int, str]]:
    """(line, name) of public functions, methods and classes without a docstring; `...` bodies need none."""
    if not ast.get_docstring(module):
        yield 1, "the module"
    for node in ast.walk(module):
        for child in ast.iter_child_nodes(node) if isinstance(node, ast.Module | ast.ClassDef) else ():
            if isinstance(child, ast.FunctionDef | ast.ClassDef) and not child.name.startswith("_"):
                if not ast.get_docstring(child) and not _is_shape_only(child):
                    yield child.lineno, child.name


def _is_shape_only(node: ast.FunctionDef | ast.ClassDef) -> bool:
    body = node.body[0]
    return isinstance(body, ast.Expr) and isinstance(body.value, ast.Constant) and body.value.value is ...


def committed() -> list[Path]:
    """Every text file that git has."""
    try:
        names = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True).stdout
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("not a git checkout")
    files = [ROOT / n for n in names.decode().split("\0") if n]
    return [f for f in files if f.is_file() and b"\0" not in f.read_bytes()[:4096]]


def test_public_things_say_what_they_give() -> None:
    faults = [f"{said(p, line)}: {name}" for p in modules() for line, name in undocumented(tree(p))]
    assert not faults, "\n".join(faults)


def test_no_file_is_too_long() -> None:
    files = [*modules(), ROOT / "go.py", *(ROOT / "tests").rglob("*.py"), *(ROOT / "bench").rglob("*.py")]
    faults = {p.name: n for p in files if (n := len(p.read_text(encoding="utf-8").splitlines())) > LONGEST}
    assert not faults


def test_no_file_has_a_name_that_says_nothing() -> None:
    faults = [p.name for p in (*modules(), *(ROOT / "tests").rglob("*.py")) if NO_NAME.search(p.stem)]
    assert not faults


def test_no_machines_own_path_is_committed() -> None:
    faults = [
        said(path, n)
        for path in committed()
        for n, line in enumerate(path.read_text(encoding="utf-8", errors="replace").splitlines(), 1)
        if FORBIDDEN.search(line)
    ]
    assert not faults, "\n".join(faults)


def test_the_lock_has_hashes_and_no_address() -> None:
    lock = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    assert "://" not in lock and " @ " not in lock
    heads = re.findall(r"^[a-z0-9].*?(?=^[a-z0-9]|\Z)", lock, re.MULTILINE | re.DOTALL)
    assert heads and all("--hash=sha256:" in h and "==" in h for h in heads)


def test_the_lock_holds_what_is_asked_for() -> None:
    def names(file: str) -> set[str]:
        lines = (ROOT / file).read_text(encoding="utf-8").splitlines()
        return {re.split(r"[<>=;\s]", x)[0] for x in lines if x and x[0].isalnum()}

    assert names("requirements.in") <= names("requirements.lock")
    project = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    needed = {re.split(r"[<>=]", d)[0] for d in re.findall(r'^  "([a-z0-9<>=.-]+)",$', project, re.MULTILINE)}
    assert "numpy" in needed and needed <= names("requirements.in")


def test_ci_runs_what_the_readme_says() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    block = re.search(r"```\n(python3 go\.py.*?)```", readme, re.DOTALL)
    assert block
    commands = block[1].strip().splitlines()
    assert commands == ["python3 go.py demo", "python3 go.py test"]
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert set(commands) <= set(ci)
    assert "set -eu" in ci
    assert ci.index("python3 go.py test") < ci.index("python3 go.py ready -m long")  # every test once
    assert "python3 go.py ready\n" in (ROOT / "CONTRIBUTING.md").read_text(encoding="utf-8")


def test_the_rules_find_faults() -> None:
    bad = ast.parse(
        '"""Doc."""\ndef f(): return 1\nclass C:\n    """Doc."""\n    def g(self): return 1\n    def _h(self): return 1'
    )
    assert [name for _, name in undocumented(bad)] == ["f", "g"]
    assert FORBIDDEN.search("see /tm" + "p/x")
    assert NO_NAME.search("plan_utils") and not NO_NAME.search("commonest")
