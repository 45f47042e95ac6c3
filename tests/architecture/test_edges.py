"""Only the edges touch the world: files, clock, environment, terminal."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

from house import PACKAGE, imported, modules, room, said, tree

FILES = {"output", "cli", "data", ""}  # rooms that may touch files; in family only these:
FAMILY = {"reader.py", "writer.py", "starter.py", "page.py"}
WORLD = {"os", "pathlib", "shutil", "tempfile", "io", "socket", "subprocess", "urllib", "sqlite3"}
CLOCK = {"time", "datetime", "random", "secrets", "uuid"}
CALLS = {"open", "input"}


def world(path: Path) -> set[str]:
    """What a file may not import."""
    if room(path) == "cli":
        return set()
    may_touch = room(path) in FILES or (room(path) == "family" and path.name in FAMILY)
    return CLOCK if may_touch else CLOCK | WORLD


def calls(module: ast.Module) -> Iterator[tuple[int, str]]:
    """(line, name) of every call of a plain name."""
    for node in ast.walk(module):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            yield node.lineno, node.func.id


def environment(module: ast.Module) -> Iterator[int]:
    """Lines that read the environment."""
    for node in ast.walk(module):
        if isinstance(node, ast.Attribute) and node.attr in ("environ", "getenv"):
            yield node.lineno


def test_only_the_edges_import_the_world() -> None:
    faults = [
        f"{said(path, line)}: {room(path)} imports {name}"
        for path in modules()
        for line, name in imported(tree(path))
        if name.split(".")[0] in world(path)
    ]
    assert not faults, "\n".join(faults)


def test_nobody_but_the_terminal_prints_or_asks() -> None:
    faults = [
        f"{said(path, line)}: {name}()"
        for path in modules()
        for line, name in calls(tree(path))
        if (name == "print" and room(path) != "cli") or (name in CALLS and room(path) not in FILES | {"family"})
    ]
    assert not faults, "\n".join(faults)


def test_nobody_but_the_terminal_reads_the_environment() -> None:
    faults = [said(p, line) for p in modules() if room(p) != "cli" for line in environment(tree(p))]
    assert not faults, "\n".join(faults)


def test_the_rules_find_faults() -> None:
    bad = ast.parse("import time\nprint(1)\nopen('x')\nimport os\nos.environ['A']")
    air = PACKAGE / "air" / "made_up.py"
    assert [n for _, n in imported(bad) if n in world(air)] == ["time", "os"]
    assert [n for _, n in calls(bad)] == ["print", "open"]
    assert list(environment(bad)) == [5]
