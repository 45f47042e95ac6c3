"""The family file read into records: all its problems together, or a Family without one.

>>> load("no such file.toml")
Traceback (most recent call last):
...
sparwright.base.problem.FileProblems: no such file.toml:1: there is no such file
"""

from __future__ import annotations

import hashlib
import os
import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from sparwright.base.problem import FileProblems, Problem
from sparwright.family.entry import Entry, Faults, entries, hint, merged, without
from sparwright.family.measured_sheets import as_measured, check_used
from sparwright.family.model import Family, Model
from sparwright.family.places import scan
from sparwright.family.schema import SHARED, Head, own, top
from sparwright.family.sense import check_categories, check_cut_outside, check_model
from sparwright.family.tables import BAD, is_table, no_strangers, record, value, well_named

LARGEST = 4_000_000  # bytes: a family file is some tens of kilobytes
LIKE = "like"
DEEPEST = 50  # tables or lists within one another: a family file has eight


def load(path: str | os.PathLike[str]) -> Family:
    """The family in a file, every model complete.

    Raises FileProblems with every problem of the file: place, key, what was read, what is wanted, an example.
    """
    file = os.fspath(path)
    raw = _bytes(file)
    return read(raw, file)


def read(raw: bytes, file: str) -> Family:
    """The family in the bytes of a file; `file` is the name messages use. Raises FileProblems."""
    text = _text(raw, file)
    faults = Faults(file)
    root = entries(_parsed(text, file), scan(text), text)
    head = _head(root, faults)
    models, whole = _models(root, head, faults)
    check_used(models, whole, faults)
    if faults.found or head is None:
        raise FileProblems(sorted(faults.found))
    return Family(
        path=file,
        name=head.name,
        sha256=hashlib.sha256(raw).hexdigest(),
        models=MappingProxyType({n: as_measured(m) for n, m in models.items()}),
        unknowns=head.unknown,
        cut_outside=head.cut_outside,
    )


def _bytes(file: str) -> bytes:
    path = Path(file)
    try:
        if not file:
            raise FileProblems([Problem('""', 1, "", "", "the name of a family file is wanted")])
        if path.is_dir():
            raise FileProblems([Problem(file, 1, "", "", "is a folder; the name of a family file in it is wanted")])
        if path.exists() and path.stat().st_size > LARGEST:
            raise FileProblems([Problem(file, 1, "", "", "is too large for a family file")])
        return path.read_bytes()
    except FileNotFoundError:
        raise FileProblems([Problem(file, 1, "", "", "there is no such file")]) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise FileProblems([Problem(file, 1, "", "", f"cannot be read: {reason}")]) from None


def _text(raw: bytes, file: str) -> str:
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        wanted = "a family file is text in UTF-8; this is something else, or was saved in another encoding"
        raise FileProblems([Problem(file, line, "", f"byte 0x{raw[error.start]:02x}", wanted)]) from None
    text = text.removeprefix("\ufeff")
    if "\0" in text:
        wanted = "a family file is text; this is something else"
        raise FileProblems([Problem(file, text.count("\n", 0, text.index("\0")) + 1, "", "byte 0x00", wanted)])
    if not re.sub(r"#.*", "", text).strip():
        wanted = "the file is empty; `sparwright new DIR` writes a commented one to start from"
        raise FileProblems([Problem(file, 1, "", "", wanted)])
    return text


def _parsed(text: str, file: str) -> dict[str, Any]:
    try:
        data = tomllib.loads(text)
        if _deeper(data, DEEPEST):
            raise RecursionError
        return data
    except RecursionError:
        raise FileProblems([Problem(file, 1, "", "", "lists or tables are nested too deep")]) from None
    except ValueError as error:  # TOMLDecodeError is one; a number of thousands of digits is another
        said = str(error)
        place = re.search(r"\(at line (\d+), column (\d+)\)", said)
        line = int(place[1]) if place else text.count("\n") + 1
        lines = text.split("\n")
        read = lines[line - 1].strip()[:60] if place and line <= len(lines) else ""
        plain = re.sub(r" \(at .*\)", "", said)
        reason = next((ours for theirs, ours in _SAID.items() if re.match(theirs, plain)), plain)
        raise FileProblems([Problem(file, line, "", repr(read) if read else "", reason)]) from None


def _deeper(data: dict[str, Any], most: int) -> bool:
    """Whether tables and lists lie deeper in one another than that."""
    layer: list[Any] = [data]
    for _ in range(most):
        inner = [v.values() if isinstance(v, dict) else v for v in layer]
        layer = [v for values in inner for v in values if isinstance(v, (dict, list))]
    return bool(layer)


_SAID = {  # what the TOML reader says, in a builder's words
    r"Cannot overwrite a value|Duplicate inline table key": "this key is written twice, the second time here",
    r"Cannot declare .* twice": "this table is opened twice, the second time here; put its keys together",
    r"Invalid value|Unexpected": 'this value cannot be read; text goes in quotes, like chord = "56 in"',
    r"Invalid statement": "this line cannot be read; a line is a [table], key = value, or a # comment",
    r"Unterminated string|Expected \"'": "the file ends inside a text in quotes",
    r"Illegal character '\\n'": "a text in quotes goes over the end of the line; inches inside quotes are written in",
    r"Illegal character": "there is a character here that no text file has",
    r"Expected '=' after a key": 'an equals sign is wanted after the key, like span = "112 in"',
    r"Expected newline or end of document": "one key = value to a line; something follows the value",
    r"Unclosed array": "a list [ ... ] is not closed, or a comma is missing in it",
    r"Unclosed inline table": "a table { ... } is not closed on its line, or a comma is missing in it",
    r"Invalid initial character": "a key is wanted here: letters, digits and underscores",
    r"Expected '\]'": "a [table] is not closed on its line",
    r"Unescaped": "a backslash in a text in double quotes is written twice",
    r"Exceeds the limit": "a number of thousands of digits cannot be meant",
}


def _head(root: Entry, faults: Faults) -> Head | None:
    """The [family] table, and the tables at the top."""
    known = ("family", "models", *SHARED)
    for name, entry in root.value.items():
        if name not in known:
            faults.add(entry, f"is not a table of a family file{hint(name, known)}")
    if "family" not in root:
        faults.add(root, "the table [family] is missing", example='[family]\nname = "Wren"', key="family")
        return None
    head = record(Head, root["family"], faults)
    check_categories(root["family"], faults)
    check_cut_outside(root["family"], faults)
    return None if head is BAD else head


def _models(root: Entry, head: Head | None, faults: Faults) -> tuple[dict[str, Model], dict[str, Entry]]:
    """Every model that can be read, and its tables with those it shares."""
    models = root.value.get("models")
    if models is None or not isinstance(models.value, dict) or not models.value:
        faults.add(models or root, "at least one model is wanted", example="[models.W1]", key="models")
        return {}, {}
    base = Entry({k: v for k, v in root.value.items() if k in SHARED}, 1, "")
    whole = {name: _whole(name, entry, models.value, base, faults) for name, entry in models.value.items()}
    tables = {name: entry for name, entry in whole.items() if entry is not None}
    found = {n: _model(models.value[n], e, _other(n, models.value[n], models.value, faults), n, head, faults)
             for n, e in tables.items()}  # fmt: skip
    return {name: model for name, model in found.items() if model is not None}, tables


def written(raw: bytes, file: str) -> dict[str, Entry]:
    """The tables of every model with those it shares, each value with the key it is written at. Raises FileProblems."""
    faults = Faults(file)
    text = _text(raw, file)
    root = entries(_parsed(text, file), scan(text), text)
    _, found = _models(root, _head(root, faults), faults)
    if faults.found:
        raise FileProblems(sorted(faults.found))
    return found


def _whole(name: str, entry: Entry, models: Mapping[str, Entry], base: Entry, faults: Faults) -> Entry | None:
    """The tables of the family, or of the model it is like, with a model's own laid over them."""
    if not well_named(name, entry, faults) or not is_table(entry, faults):
        return None
    mine = {k.name for k in own()}
    no_strangers(entry, (*mine, "without", LIKE, *SHARED), faults)
    other = _other(name, entry, models, faults)
    if LIKE in entry and other is None:
        return None
    if other is not None:
        base = _over(base, other, faults)
    return _over(base, entry, faults)


def _model(entry: Entry, whole: Entry, other: Entry | None, name: str, head: Head | None, faults: Faults
           ) -> Model | None:  # fmt: skip
    """One model out of its own table, all its tables, and the model it is like."""
    values = {k.name: value(k, whole, faults) for k in top()}
    values |= {k.name: value(k, entry, faults) for k in own() if k.name in entry or k.name == "title"}
    check_model(values, whole, faults)
    if faults.found or head is None:
        return None
    inherited = {
        "note": head.note,
        "drawing_units": head.drawing_units,
        "market": head.market,
        "categories": head.categories,
    }
    if other is not None:
        inherited |= {k.name: value(k, other, faults) for k in own() if k.name in inherited and k.name in other}
    return Model(**(inherited | values | {"family": head.name, "name": name}))


def _over(base: Entry, entry: Entry, faults: Faults) -> Entry:
    """A model's tables laid over others, without what it takes away of them."""
    whole = merged(without(base, entry.value.get("without"), faults), entry)
    assert whole is not None
    return whole


def _other(name: str, entry: Entry, models: Mapping[str, Entry], faults: Faults) -> Entry | None:
    """The model that one is like; None where it is like none, or names none that it can be like."""
    said = entry.value.get(LIKE)
    if said is None:
        return None
    possible = [n for n, m in models.items() if n != name and isinstance(m.value, dict) and LIKE not in m]
    if said.value not in possible:
        known = hint(str(said.value), possible)
        faults.wrong(said, f"names another model of the file that is like none itself{known}", f'{LIKE} = "W1"')
        return None
    return models[said.value]
