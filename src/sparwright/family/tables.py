"""Tables of a family file read into the records of family/model.py, each key in its own form.

A key that cannot be read gives BAD and a problem; reading goes on, so that all problems come at once.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable
from types import MappingProxyType
from typing import Any

from sparwright.base.quantity import EXAMPLES, SI_NAME, QuantityError, parse
from sparwright.family.entry import Entry, Faults, hint, shown
from sparwright.family.model import FrameTube
from sparwright.family.schema import NAMED, Bounds, Key, keys

NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]*")


class _Bad:
    """Stands for a value that could not be read."""

    def __repr__(self) -> str:
        return "BAD"


BAD = _Bad()


def record(kind: type, entry: Entry, faults: Faults, name: str = "") -> Any:
    """A table as a record; BAD, with the problems noted, when a key of it cannot be read."""
    if not is_table(entry, faults):
        return BAD
    known = keys(kind)
    no_strangers(entry, [k.name for k in known], faults)
    values = {k.name: value(k, entry, faults) for k in known}
    if any(v is BAD for v in values.values()):
        return BAD
    if name and kind in NAMED:
        values["name"] = name
    return kind(**values)


def value(key: Key, table: Entry, faults: Faults) -> Any:
    """The value of one key of a table: as read, its default, or BAD."""
    entry = table.value.get(key.name)
    if entry is not None:
        return _FORMS[key.form](key, entry, faults)
    if key.required:
        example = f"{key.name} = {key.example}" if key.example else ""
        full = f"{table.key}.{key.name}" if table.key else key.name
        faults.add(table, f"is missing ({key.meaning})", example=example, key=full)
        return BAD
    return key.default


def is_table(entry: Entry, faults: Faults) -> bool:
    """Whether an entry is a table; a problem when not."""
    if isinstance(entry.value, dict):
        return True
    faults.wrong(entry, "is a table of keys and values")
    return False


def no_strangers(entry: Entry, known: Iterable[str], faults: Faults) -> None:
    """A problem for each key that is not known, with the nearest that is."""
    names = list(known)
    for key, child in entry.value.items():
        if key not in names:
            faults.add(child, f"is not a key known here{hint(key, names)}")


def well_named(name: str, entry: Entry, faults: Faults) -> bool:
    """Whether a name can go into part numbers and file names; a problem when not."""
    if NAME.fullmatch(name) and len(name) <= 40:
        return True
    wanted = "a name begins with a letter and has letters, digits and underscores"
    faults.add(entry, wanted, repr(name)[:60], "front_spar")
    return False


def _bounded(key: Key, number: float, entry: Entry, faults: Faults) -> Any:
    if key.bounds.hold(number):
        return number
    faults.wrong(entry, f"must be {in_words(key.bounds, key.dimension)}", f"{key.name} = {key.example}")
    return BAD


def in_words(bounds: Bounds, dimension: str = "") -> str:
    """Bounds as a builder says them."""
    unit = f" {SI_NAME[dimension]}" if dimension else ""
    scale = 1.0
    if dimension == "angle":
        unit, scale = " deg", 180 / math.pi
    low, high = (f"{x:,.0f}{unit}" if 1e4 <= abs(x) < math.inf else f"{x:.4g}{unit}"
                 for x in (bounds.low * scale, bounds.high * scale))  # fmt: skip
    said = []
    if math.isfinite(bounds.low):
        zero = "positive" if bounds.open_low else "nought or more"
        said.append(zero if bounds.low == 0 else f"{'more than' if bounds.open_low else 'at least'} {low}")
    if math.isfinite(bounds.high):
        below = "less than" if bounds.open_high else "at most"
        said.append("negative" if bounds.high == 0 and bounds.open_high else f"{below} {high}")
    return " and ".join(said)


def _quantity(key: Key, entry: Entry, faults: Faults) -> Any:
    number = _parsed(key, entry, faults)
    return BAD if number is BAD else _bounded(key, number, entry, faults)


def _parsed(key: Key, entry: Entry, faults: Faults) -> Any:
    if isinstance(entry.value, str):
        try:
            return parse(entry.value, key.dimension)
        except QuantityError as error:
            faults.add(entry, str(error))
            return BAD
    of = f"text with a unit ({key.meaning})"
    faults.add(entry, f"is {of}, not a bare number" if _is_number(entry) else f"is {of}", shown(entry),
               f"{key.name} = {EXAMPLES[key.dimension].split(' or ')[0]}")  # fmt: skip
    return BAD


def _is_number(entry: Entry) -> bool:
    return isinstance(entry.value, (int, float)) and not isinstance(entry.value, bool)


def _ratio(key: Key, entry: Entry, faults: Faults) -> Any:
    if not _is_number(entry):
        faults.wrong(entry, f"is a bare number ({key.meaning})", f"{key.name} = {key.example}")
        return BAD
    try:
        number = float(entry.value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        faults.wrong(entry, "must be a finite number", f"{key.name} = {key.example}")
        return BAD
    return _bounded(key, number, entry, faults)


def _count(key: Key, entry: Entry, faults: Faults) -> Any:
    if isinstance(entry.value, bool) or not isinstance(entry.value, int):
        faults.wrong(entry, f"is a whole number ({key.meaning})", f"{key.name} = {key.example}")
        return BAD
    return _bounded(key, entry.value, entry, faults)


def _flag(key: Key, entry: Entry, faults: Faults) -> Any:
    if isinstance(entry.value, bool):
        return entry.value
    faults.wrong(entry, f"is true or false, without quotes ({key.meaning})", f"{key.name} = true")
    return BAD


def _words(key: Key, entry: Entry, faults: Faults) -> Any:
    if isinstance(entry.value, str) and (entry.value.strip() or not key.required):
        return entry.value
    faults.wrong(entry, f"is text in quotes ({key.meaning})", f"{key.name} = {key.example}")
    return BAD


def _choice(key: Key, entry: Entry, faults: Faults) -> Any:
    if entry.value in key.choices:
        return entry.value
    known = " or ".join(f'"{c}"' for c in key.choices)
    faults.wrong(entry, f"is {known} ({key.meaning})", f"{key.name} = {key.example}")
    return BAD


def _place(key: Key, entry: Entry, faults: Faults) -> Any:
    example = f"{key.name} = {key.example}" if key.form == "place" else f"{entry.key.split('.')[-1]} = {key.example}"
    if not isinstance(entry.value, list) or len(entry.value) != 3:
        faults.wrong(entry, "is a list of three lengths: station, buttline, waterline", example)
        return BAD
    found = [_quantity(key, e, faults) for e in entry.value]
    return BAD if any(v is BAD for v in found) else tuple(found)


def _quantities(key: Key, entry: Entry, faults: Faults) -> Any:
    if not isinstance(entry.value, list):
        faults.wrong(entry, f"is a list of texts with units ({key.meaning})", f"{key.name} = {key.example}")
        return BAD
    found = [_quantity(key, e, faults) for e in entry.value]
    return BAD if any(v is BAD for v in found) else tuple(found)


def _ratios(key: Key, entry: Entry, faults: Faults) -> Any:
    if not isinstance(entry.value, list):
        faults.wrong(entry, f"is a list of bare numbers ({key.meaning})", f"{key.name} = {key.example}")
        return BAD
    found = [_ratio(key, e, faults) for e in entry.value]
    return BAD if any(v is BAD for v in found) else tuple(found)


def _names(key: Key, entry: Entry, faults: Faults) -> Any:
    if isinstance(entry.value, list) and all(isinstance(e.value, str) for e in entry.value):
        return tuple(e.value for e in entry.value)
    faults.wrong(entry, f"is a list of texts ({key.meaning})", f"{key.name} = {key.example}")
    return BAD


def _points(key: Key, entry: Entry, faults: Faults) -> Any:
    pairs = entry.value if isinstance(entry.value, list) else [entry]
    for pair in pairs:
        if not (isinstance(pair.value, list) and len(pair.value) == 2 and all(map(_is_finite, pair.value))):
            wanted = "is a list of [x, y] pairs of bare numbers, in chords"
            faults.wrong(pair, wanted, f"points = {key.example}")
            return BAD
    return tuple((float(p.value[0].value), float(p.value[1].value)) for p in pairs)


def _is_finite(entry: Entry) -> bool:
    return _is_number(entry) and abs(entry.value) < 1e6  # also refuses NaN and infinity


def _run(key: Key, entry: Entry, faults: Faults) -> Any:
    """One run or several, always as a tuple of runs."""
    several = isinstance(entry.value, list) and bool(entry.value) and isinstance(entry.value[0].value, list)
    runs = entry.value if several else [entry]
    for run in runs:
        good = isinstance(run.value, list) and len(run.value) > 1 and all(isinstance(e.value, str) for e in run.value)
        if not good:
            wanted = "is a list of two or more node names, or a list of such lists"
            faults.wrong(run, wanted, 'run = ["A1", "B1"]')
            return BAD
    found = tuple(tuple(e.value for e in run.value) for run in runs)
    return _Several(found) if several else found


class _Several(tuple[tuple[str, ...], ...]):
    """Runs that were written as a list of lists."""


def _table(key: Key, entry: Entry, faults: Faults) -> Any:
    assert key.record is not None
    return record(key.record, entry, faults)


def _tables(key: Key, entry: Entry, faults: Faults) -> Any:
    """Named tables as a tuple of records, those that could be read; a mapping for the sections."""
    assert key.record is not None
    if not is_table(entry, faults):
        return BAD
    found: list[Any] = []
    for name, child in entry.value.items():
        one = record(key.record, child, faults, name) if well_named(name, child, faults) else BAD
        if one is not BAD:
            found += _stretched(one) if key.record is FrameTube else [one]
    if key.name == "sections":
        return MappingProxyType({s.name: s for s in found})
    return tuple(found)


def _stretched(tube: Any) -> list[FrameTube]:
    """One record a run. Of several, each is named `name:first-last`, so that it keeps its name when others change."""
    runs = tube.run
    if not isinstance(runs, _Several):
        return [FrameTube(name=tube.name, run=runs[0], tube=tube.tube)]
    ends = [(r[0], r[-1]) for r in runs]
    names = ["-".join(r if ends.count((r[0], r[-1])) > 1 else (r[0], r[-1])) for r in runs]
    return [FrameTube(name=f"{tube.name}:{n}", run=r, tube=tube.tube) for n, r in zip(names, runs, strict=True)]


def _list(key: Key, entry: Entry, faults: Faults) -> Any:
    assert key.record is not None
    if not isinstance(entry.value, list) or (key.size and len(entry.value) != key.size):
        many = f"a list of {key.size} tables" if key.size else "a list of tables"
        faults.wrong(entry, f"is {many} ({key.meaning})", f"{key.name} = {key.example}")
        return BAD
    found = [record(key.record, e, faults) for e in entry.value]
    return BAD if any(v is BAD for v in found) else tuple(found)


def _places(key: Key, entry: Entry, faults: Faults) -> Any:
    if not is_table(entry, faults):
        return BAD
    found = {n: _place(key, e, faults) for n, e in entry.value.items() if well_named(n, e, faults)}
    return MappingProxyType({n: p for n, p in found.items() if p is not BAD})


_FORMS: dict[str, Callable[[Key, Entry, Faults], Any]] = {
    "quantity": _quantity, "ratio": _ratio, "count": _count, "flag": _flag, "words": _words, "choice": _choice,
    "place": _place, "quantities": _quantities, "ratios": _ratios, "names": _names, "points": _points, "run": _run,
    "table": _table, "tables": _tables, "list": _list, "places": _places,
}  # fmt: skip
