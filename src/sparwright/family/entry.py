"""A family file as a tree of entries, each with its value, its line and its full key; a model laid over the family."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import Any

from sparwright.base.problem import Problem
from sparwright.family.places import Spot


@dataclass(frozen=True, slots=True)
class Entry:
    """A value of the file: a dict or list of entries, or a plain value."""

    value: Any
    line: int
    key: str

    def __getitem__(self, name: str | int) -> Entry:
        return self.value[name]  # type: ignore[no-any-return]

    def __contains__(self, name: str) -> bool:
        return isinstance(self.value, dict) and name in self.value

    def nearest(self, *path: str | int) -> Entry:
        """The deepest entry written along a path; itself when nothing of it is."""
        here = self
        for name in path:
            value = here.value
            if isinstance(value, dict) and name in value:
                here = value[name]
            elif isinstance(value, list) and isinstance(name, int) and 0 <= name < len(value):
                here = value[name]
            else:
                break
        return here

    def walk(self) -> Iterator[Entry]:
        """Itself and everything below."""
        yield self
        if isinstance(self.value, (dict, list)):
            for child in self.value.values() if isinstance(self.value, dict) else self.value:
                yield from child.walk()


class Faults:
    """The problems found so far; one said twice counts once."""

    def __init__(self, file: str):
        self.file = file
        self.found: set[Problem] = set()

    def add(self, entry: Entry, wanted: str, read: str = "", example: str = "", key: str = "") -> None:
        """Note a problem of an entry; `key` when it is about something below it that is not there."""
        self.found.add(Problem(self.file, entry.line, key or entry.key, read, wanted, example))

    def wrong(self, entry: Entry, wanted: str, example: str = "") -> None:
        """Note a problem of the value an entry has, and show it."""
        self.add(entry, wanted, shown(entry), example)


def entries(data: dict[str, Any], spots: Spot, text: str) -> Entry:
    """Parsed TOML and its places as one tree."""
    breaks = [i for i, c in enumerate(text) if c == "\n"]

    def made(value: Any, spot: Spot | None, key: str, line: int) -> Entry:
        line = bisect_right(breaks, spot.key - 1) + 1 if spot else line
        places = spot.children if spot else {}
        prefix = f"{key}." if key else ""
        if isinstance(value, dict):
            value = {k: made(v, places.get(k), prefix + k, line) for k, v in value.items()}
        elif isinstance(value, list):
            value = [made(v, places.get(i), f"{prefix}{i}", line) for i, v in enumerate(value)]
        return Entry(value, line, key)

    return made(data, spots, "", 1)


def merged(base: Entry | None, over: Entry | None) -> Entry | None:
    """A model's entry laid over the family's: tables go together key by key, everything else is replaced."""
    if base is None or over is None:
        return over or base
    if not (isinstance(base.value, dict) and isinstance(over.value, dict)):
        return over
    names = dict.fromkeys((*base.value, *over.value))
    return replace(over, value={n: merged(base.value.get(n), over.value.get(n)) for n in names})


def without(base: Entry, targets: Entry | None, faults: Faults) -> Entry:
    """The family's entries without those a model takes away, named by dotted keys."""
    if targets is None:
        return base
    if not isinstance(targets.value, list):
        faults.wrong(targets, "is a list of dotted keys of the family", 'without = ["struts.jury"]')
        return base
    for target in targets.value:
        if not isinstance(target.value, str):
            faults.wrong(target, "is a dotted key of the family, as text", 'without = ["struts.jury"]')
            continue
        base = _less(base, target.value.split("."), target, faults)
    return base


def _less(base: Entry, path: list[str], target: Entry, faults: Faults) -> Entry:
    name, rest = path[0], path[1:]
    if name not in base:
        faults.wrong(target, f"names something of the family{hint(name, base)}", 'without = ["struts.jury"]')
        return base
    table = dict(base.value)
    if rest:
        table[name] = _less(table[name], rest, target, faults)
    else:
        del table[name]
    return replace(base, value=table)


def hint(word: str, known: Any) -> str:
    """ ", did you mean ..." or the list of what is known; empty when nothing is."""
    names = list(known.value) if isinstance(known, Entry) and isinstance(known.value, dict) else []
    names = names if isinstance(known, Entry) else [str(k) for k in known]
    close = get_close_matches(word, names, n=1, cutoff=0.5)
    if close:
        return f"; the nearest known is {close[0]!r}"
    return f"; known are {', '.join(names[:12])}{' ...' if len(names) > 12 else ''}" if names else ""


def shown(entry: Entry) -> str:
    """What was read, short enough for a message."""
    value = entry.value
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if isinstance(value, bool):
        return "true" if value else "false"
    text = repr(value) if isinstance(value, (str, int, float)) else str(value)
    return text if len(text) <= 60 else text[:57] + "..."
