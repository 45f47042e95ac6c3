"""What the house rules read: every module of the package, parsed, with the room it stands in."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "src" / "sparwright"
NO_ROOM = ("__init__.py", "__main__.py")  # the package's own doors


@cache
def rooms() -> tuple[str, ...]:
    """The rooms in order, as docs/architecture.md lists them."""
    page = (ROOT / "docs" / "architecture.md").read_text(encoding="utf-8")
    block = re.search(r"```\n(.*?)```", page, re.DOTALL)
    assert block, "docs/architecture.md has no list of rooms"
    return tuple(line.split()[0].removesuffix(".py") for line in block[1].splitlines() if line.strip())


@cache
def modules() -> tuple[Path, ...]:
    """Every Python file of the package."""
    return tuple(sorted(PACKAGE.rglob("*.py")))


@cache
def tree(path: Path) -> ast.Module:
    """A file, parsed."""
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


def room(path: Path) -> str:
    """The room a file stands in; empty for the package's own doors."""
    first = path.relative_to(PACKAGE).parts[0]
    return "" if first in NO_ROOM else first.removesuffix(".py")


def imported(module: ast.Module) -> Iterator[tuple[int, str]]:
    """(line, dotted name) of every import, those inside functions too."""
    for node in ast.walk(module):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, a.name) for a in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"relative import in line {node.lineno}"
            yield node.lineno, node.module or ""
            yield from ((node.lineno, f"{node.module}.{a.name}") for a in node.names)


def said(path: Path, line: int) -> str:
    """Where a fault is, for the message."""
    return f"{path.relative_to(ROOT).as_posix()}:{line}"
