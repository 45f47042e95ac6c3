"""A room imports only from rooms above it in the list of docs/architecture.md."""

from __future__ import annotations

import ast

from house import PACKAGE, imported, modules, room, rooms, said, tree


def wrong_way(name: str, here: str) -> str:
    """The room an import reaches into although it may not; empty when it may."""
    parts = name.split(".")
    if parts[0] != "sparwright" or len(parts) < 2 or parts[1] not in rooms():
        return ""
    there = parts[1]
    return there if there != here and rooms().index(there) > rooms().index(here) else ""


def test_the_list_names_every_room_and_no_other() -> None:
    real = {room(p) for p in modules()} - {""}
    empty = {p.name for p in PACKAGE.iterdir() if (p / "__init__.py").exists() and len(list(p.glob("*.py"))) == 1}
    assert real - empty <= set(rooms()), "a room is not in docs/architecture.md"
    assert set(rooms()) <= real, "docs/architecture.md names a room that is not there"
    assert len(set(rooms())) == len(rooms())


def test_imports_go_one_way() -> None:
    faults = [
        f"{said(path, line)}: {room(path)} may not import from {wrong_way(name, room(path))}"
        for path in modules()
        if room(path)
        for line, name in imported(tree(path))
        if wrong_way(name, room(path))
    ]
    assert not faults, "\n".join(faults)


def test_the_rule_finds_a_wrong_import() -> None:
    found = [name for _, name in imported(ast.parse("def f():\n    from sparwright.cli import main"))]
    assert any(wrong_way(name, "base") == "cli" for name in found)
    assert not any(wrong_way(name, "cli") for name in found)
    assert wrong_way("sparwright.base.check", "air") == ""
