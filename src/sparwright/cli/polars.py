"""Polars kept by content: found on file, or worked out on all cores and kept the moment each is there.

    kept([Asked(section, "built", KNOTS[7])])     a `Polars`, as the chain wants it
    Kept(fresh=True)                              one that works each out again, once

A polar's key is made of what it hangs on and nothing else: the section's number or points, the trips of its surface,
the Reynolds number, the angles, the section flow's own files, the libraries that do the sums, the Python, the machine.
A section's name and what the designer measured are not in it, so models and families share polars. An interrupted run
has lost only what was on the benches. Of two runs at once the second waits and takes what the first has worked out.
"""

from __future__ import annotations

import hashlib
import inspect
import json
import math
import time
from collections.abc import Callable, Mapping, Sequence
from contextlib import closing
from functools import lru_cache
from pathlib import Path

from sparwright.air import polars
from sparwright.air.flow.polar import polar, prepared
from sparwright.air.polars import ANGLES, COLUMNS, Asked, Table, Told, surfaces, table
from sparwright.base.record import locked
from sparwright.cli import crew, store
from sparwright.cli.alone import alone
from sparwright.family.model import Section

SHELF = store.POLARS
SUMS = ("numpy", "scipy", "numba", "llvmlite")
SLOW = 2.0  # s without an answer, then the bar says why: kernels are compiled once after an update


class Kept:
    """Gives polars: those of this process, those on file, and the rest worked out; `fresh` leaves out those on file."""

    def __init__(self, fresh: bool = False):
        self.fresh = fresh
        self.here: dict[str, Table] = {}

    def __call__(self, asked: Sequence[Asked], told: Told | None = None) -> Mapping[Asked, Table]:
        """Every one asked for. Raises KeyError for a surface that is not known, ValueError outside the range."""
        names = {one: key(one) for one in asked}
        missing = {name: one for one, name in names.items() if not self._found(name)}
        if missing:
            self._work_out(missing, told or _silent)
        return {one: self.here[name] for one, name in names.items()}

    def _found(self, name: str) -> bool:
        """Whether the polar of a key is there, here or on file."""
        if name not in self.here and not self.fresh:
            found = read(store.get(name, SHELF) or "")
            if found is not None:
                self.here[name] = found
        return name in self.here

    def _work_out(self, missing: dict[str, Asked], told: Told) -> None:
        def tell(what: str) -> None:
            told(sum(name in self.here for name in missing) / len(missing), what)

        def left() -> dict[str, Asked]:
            return {name: one for name, one in missing.items() if not self._found(name)}

        def wait() -> bool:
            tell("another run is at it")
            return bool(left())

        with alone(store.folder(SHELF), wait):
            self._by_the_crew(left(), tell)
            for name, one in left().items():  # no hand could; here it is worked out, or why not is said
                tell(said(one))
                self._keep(name, written(table(one)))

    def _by_the_crew(self, left: dict[str, Asked], tell: Callable[[str], None]) -> None:
        """Work out what the hands can, keeping each as it comes."""
        names, began, count = sorted(left, key=lambda name: hard(left[name])), time.monotonic(), 0
        with closing(crew.answers([question(left[name]) for name in names])) as coming:
            for got in coming:
                if got is not None:
                    count += 1
                    self._keep(names[got[0]], got[1])
                    tell(f"{count} of {len(names)} polars")
                elif not count and time.monotonic() - began > SLOW:
                    tell(f"starting {time.monotonic() - began:.0f} s (new version 1 min)")

    def _keep(self, name: str, text: str) -> None:
        found = read(text)
        if found is not None:
            self.here[name] = found
            store.put(name, text, SHELF)


def _silent(done: float, what: str) -> None:
    """For nobody."""


def hard(one: Asked) -> tuple[int, float]:
    """Sorts those that take long to the front, so that no core is left with a long one at the end.

    Thin sections settle slowly past their stall, those given by points slowest; measured by bench/polars.py.
    """
    return int(one.section.naca[-2:] or 0), one.reynolds


def said(one: Asked) -> str:
    """A polar in a few words."""
    return f"{one.section.name} at Re {one.reynolds / 1e6:.2g} million, {one.surface}"


def key(one: Asked) -> str:
    """The name of a polar: hexadecimal, 64 characters. Raises KeyError for a surface that is not known."""
    trips = surfaces()[one.surface].surface
    parts = (one.section.naca, one.section.points, trips.waves, trips.upper, trips.lower, one.reynolds, program())
    return hashlib.sha256(json.dumps(parts).encode()).hexdigest()


@lru_cache(maxsize=1)
def program() -> str:
    """What works out a polar: our files, the angles and columns, the libraries, the Python, the machine."""
    home = Path(__file__).parents[1]
    digest = hashlib.sha256()
    for path in (*sorted((home / "air" / "flow").glob("*.py")), home / "shape" / "section.py"):
        digest.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    for function in (polars.table, polars.columns):
        digest.update(inspect.getsource(function).encode())
    return "\n".join((digest.hexdigest(), repr((ANGLES, COLUMNS)), *store.libraries(SUMS)))


def written(found: Table) -> str:
    """A polar as a line of JSON; every float whole, null for NaN.

    >>> import numpy as np
    >>> written(Table(*[np.array([0.1, np.nan, np.inf])] * len(COLUMNS)))[:35]
    '{"alpha": [0.1, null, "inf"], "lift'
    """
    return json.dumps({name: [_plain(x) for x in getattr(found, name).tolist()] for name in COLUMNS})


def _plain(x: float) -> float | str | None:
    return x if math.isfinite(x) else None if math.isnan(x) else repr(x)


def read(text: str) -> Table | None:
    """The polar of a line of JSON; None when it is not one."""
    try:
        raw = json.loads(text)
        rows = [[math.nan if x is None else float(x) for x in raw[name]] for name in COLUMNS]
    except (ValueError, KeyError, TypeError, RecursionError):
        return None
    return Table(*map(locked, rows)) if all(len(row) == len(ANGLES) for row in rows) else None


def question(one: Asked) -> str:
    """A polar as a hand is asked for it."""
    return json.dumps((one.section.naca, one.section.points, one.surface, one.reynolds))


def answer(asked: str) -> str:
    """What a hand answers: the polar as JSON; empty where it cannot be had. The empty question makes it ready."""
    if asked == crew.WARM:
        polar(prepared(Section(name="any", naca="0012")), 1e6, angles=ANGLES[14:15])
        return "ready"
    try:
        naca, points, surface, reynolds = json.loads(asked)
        section = Section(name="any", naca=naca, points=tuple((x, y) for x, y in points))
        return written(table(Asked(section, surface, reynolds)))
    except Exception:  # the process that asks works it out itself then, and says why it cannot be had
        return ""


kept = Kept()
