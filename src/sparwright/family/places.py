"""Where each key and value of a TOML text stands: offsets for exact edits, lines for messages.

The text must already have been accepted by tomllib; this walk only finds places, it does not judge.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_BASIC = re.compile(r'"(?:[^"\\\n]|\\.)*"')
_LITERAL = re.compile(r"'[^'\n]*'")
_LONG_BASIC = re.compile(r'"""(?:[^"\\]|\\.|"(?!""))*"{3,5}', re.DOTALL)
_LONG_LITERAL = re.compile(r"'''(?:[^']|'(?!''))*'{3,5}", re.DOTALL)
_SCALAR = re.compile(r"[^,\]}#\n\r]*[^,\]}#\n\r \t]")


@dataclass(frozen=True, slots=True)
class Spot:
    """A key's place: `key` where the key begins, `start` to `end` its value, `last` where a new key may follow."""

    key: int
    start: int
    end: int
    last: int
    inline: bool
    children: Mapping[Any, Spot]


@dataclass(slots=True)
class _Walked:
    """A Spot while the walk goes on: a table may be opened again further down."""

    key: int
    start: int = -1
    end: int = -1
    last: int = -1
    inline: bool = False
    children: dict[Any, _Walked] = field(default_factory=dict)


def scan(text: str) -> Spot:
    """The places of every key and value of a TOML text, as a tree with the shape of its data."""
    return _settled(_walk(text))


def _settled(walked: _Walked) -> Spot:
    children = {name: _settled(child) for name, child in walked.children.items()}
    return Spot(walked.key, walked.start, walked.end, walked.last, walked.inline, MappingProxyType(children))


def _walk(text: str) -> _Walked:
    root = _Walked(0, last=0)
    table, at = root, _BLANK.match(text, 0).end()  # type: ignore[union-attr]
    while at < len(text):
        if text[at] == "[":
            table, at = _header(text, at, root)
        else:
            at = _pair(text, at, table)
            table.last = at
        at = _BLANK.match(text, at).end()  # type: ignore[union-attr]
    return root


def _header(text: str, at: int, root: _Walked) -> tuple[_Walked, int]:
    double = text.startswith("[[", at)
    begin, at = at, at + (2 if double else 1)
    keys, at = _keys(text, at)
    at = text.index("]", at) + (2 if double else 1)
    spot = root
    for key, _ in keys[:-1]:
        spot = _into(spot, key, begin)
    last = keys[-1][0]
    if double:
        many = spot.children.setdefault(last, _Walked(begin))
        table = many.children.setdefault(len(many.children), _Walked(begin))
    else:
        table = spot.children.setdefault(last, _Walked(begin))
        table.key = begin if table.last < 0 and not table.inline else table.key
    table.last = at
    return table, at


def _into(spot: _Walked, key: str, offset: int) -> _Walked:
    """The child table of that name, made when it is new; the newest one of an array of tables."""
    child = spot.children.setdefault(key, _Walked(offset))
    many = isinstance(next(iter(child.children), None), int)
    return child.children[max(child.children)] if many else child


def _pair(text: str, at: int, table: _Walked) -> int:
    keys, at = _keys(text, at)
    for key, offset in keys[:-1]:
        table = _into(table, key, offset)
    key, offset = keys[-1]
    at = _SPACE.match(text, text.index("=", at) + 1).end()  # type: ignore[union-attr]
    table.children[key] = spot = _Walked(offset)
    return _value(text, at, spot)


def _keys(text: str, at: int) -> tuple[list[tuple[str, int]], int]:
    """The parts of a dotted key with their offsets, and where it ends."""
    found: list[tuple[str, int]] = []
    while True:
        at = _SPACE.match(text, at).end()  # type: ignore[union-attr]
        form = _BASIC if text[at] == '"' else _LITERAL if text[at] == "'" else _BARE
        token = form.match(text, at).group()  # type: ignore[union-attr]
        plain = next(iter(tomllib.loads(f"{token}=0"))) if token[0] in "\"'" else token
        found.append((plain, at))
        at = _SPACE.match(text, at + len(token)).end()  # type: ignore[union-attr]
        if text[at] != ".":
            return found, at
        at += 1


def _value(text: str, at: int, spot: _Walked) -> int:
    """Record a value that begins at `at`; gives where it ends."""
    spot.start = at
    if text[at] == "[":
        at = _array(text, at + 1, spot)
    elif text[at] == "{":
        at = _inline(text, at + 1, spot)
    else:
        at = _scalar_form(text, at).match(text, at).end()  # type: ignore[union-attr]
    spot.end = at
    return at


def _scalar_form(text: str, at: int) -> re.Pattern[str]:
    if text[at] == '"':
        return _LONG_BASIC if text.startswith('"""', at) else _BASIC
    if text[at] == "'":
        return _LONG_LITERAL if text.startswith("'''", at) else _LITERAL
    return _SCALAR


def _array(text: str, at: int, spot: _Walked) -> int:
    while True:
        at = _BLANK.match(text, at).end()  # type: ignore[union-attr]
        if text[at] == "]":
            return at + 1
        child = _Walked(at)
        at = _BLANK.match(text, _value(text, at, child)).end()  # type: ignore[union-attr]
        spot.children[len(spot.children)] = child
        at += text[at] == ","


def _inline(text: str, at: int, spot: _Walked) -> int:
    spot.inline, spot.last = True, at
    while True:
        at = _BLANK.match(text, at).end()  # type: ignore[union-attr]
        if text[at] == "}":
            return at + 1
        spot.last = _pair(text, at, spot)
        at = _BLANK.match(text, spot.last).end()  # type: ignore[union-attr]
        at += text[at] == ","
