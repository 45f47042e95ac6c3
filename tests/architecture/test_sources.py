"""Every source that is cited is in data/sources.toml, sorted, with author, title and year."""

from __future__ import annotations

import ast
import csv
import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from house import PACKAGE, modules, said, tree

DATA = PACKAGE / "data"
NO_SOURCE = ("common practice", "invented", "designer")
NAMES = {"Source"}


@cache
def known() -> dict[str, dict[str, object]]:
    return tomllib.loads((DATA / "sources.toml").read_text(encoding="utf-8"))


def cited(module: ast.Module) -> Iterator[tuple[int, str]]:
    """(line, key) of every Source("key", ...) with a written key."""
    for node in ast.walk(module):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in NAMES and node.args:
            first = node.args[0]
            if isinstance(first, ast.Constant) and isinstance(first.value, str):
                yield node.lineno, first.value


def in_data(path: Path) -> Iterator[str]:
    """Every source text of a data file: the keys source and source_... of TOML, the columns of that name of CSV."""
    if path.suffix == ".toml":
        yield from _walk(tomllib.loads(path.read_text(encoding="utf-8")))
        return
    lines = [x for x in path.read_text(encoding="utf-8").splitlines() if x.strip() and not x.startswith("#")]
    for row in csv.DictReader(lines):
        yield from (v for k, v in row.items() if k and k.strip() == "source" and v and v.strip())


def _walk(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for k, v in value.items():
            if k == "source" and isinstance(v, str):
                yield v
            else:
                yield from _walk(v)
    elif isinstance(value, list):
        for v in value:
            yield from _walk(v)


def missing(text: str) -> bool:
    """Whether a source text leads with a key that is not known; an unknown number has no source at all."""
    return (
        bool(text)
        and not text.startswith(NO_SOURCE)
        and re.split(r"[\s,;:(]", text.strip(), maxsplit=1)[0] not in known()
    )


def test_sources_are_whole_and_sorted() -> None:
    assert list(known()) == sorted(known())
    for key, source in known().items():
        assert {"author", "title", "year"} <= set(source), key
        assert isinstance(source["year"], int), key


def test_every_source_in_the_code_is_known() -> None:
    faults = [f"{said(p, line)}: {key}" for p in modules() for line, key in cited(tree(p)) if missing(key)]
    assert not faults, "\n".join(faults)


def test_every_source_in_the_data_is_known() -> None:
    files = [p for p in DATA.iterdir() if p.suffix in (".toml", ".csv") and p.name != "sources.toml"]
    texts = [(p.name, text) for p in files for text in in_data(p)]
    assert len(texts) > 20
    faults = sorted({f"{name}: {text}" for name, text in texts if missing(text)})
    assert not faults, "\n".join(faults)


def test_every_source_is_cited() -> None:
    everything = "\n".join(
        p.read_text(encoding="utf-8")
        for folder in (PACKAGE, PACKAGE.parents[1] / "tests", PACKAGE.parents[1] / "examples")
        for p in folder.rglob("*")
        if p.suffix in (".py", ".toml", ".csv", ".md") and p.name != "sources.toml"
    )
    written = everything.lower().replace(" ", "-")  # "NACA TR 460" in a docstring is naca-tr-460
    idle = [key for key in known() if key not in written]
    assert not idle, f"in sources.toml, cited nowhere: {idle}"


def test_the_rule_finds_an_unknown_key() -> None:
    assert [k for _, k in cited(ast.parse('Source("no-such-key", "p. 1")')) if missing(k)] == ["no-such-key"]
    assert not missing("common practice, no source")
