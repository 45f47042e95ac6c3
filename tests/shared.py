"""What one test process has worked out, for every process of the same test run.

Each of pytest-xdist's processes has fixtures of its own: without this each would work out every model of the demo.
"""

from __future__ import annotations

import pickle
import shutil
import tempfile
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeVar

import numpy as np
import pytest

from sparwright.cli.alone import alone

T = TypeVar("T")
_FOLDER: list[Path] = []  # of this test run


def begin(config: pytest.Config) -> None:
    """The folder of this test run: made by the process that starts the others, and taken away at its end."""
    if hasattr(config, "workerinput"):
        _FOLDER.append(Path(config.workerinput["shared"]))
        return
    mine = Path(tempfile.mkdtemp(prefix="sparwright-tests-"))
    _FOLDER.append(mine)
    config.add_cleanup(lambda: shutil.rmtree(mine, ignore_errors=True))


def folder() -> Path:
    """The folder that all processes of this test run share."""
    return _FOLDER[-1]


def once(name: str, make: Callable[[str], T], others: Iterable[str] = (), where: Path | None = None) -> T:
    """What `make` gives for a name, made by the first process that asks; those that come after read it.

    others: names to be asked for later. A process that would only wait makes one of them that nobody has begun.
    """
    room = where or folder()

    def meanwhile() -> bool:
        free = next((o for o in others if not (room / o).exists()), None)
        if free is not None:
            once(free, make, (), room)
        return True

    with alone(room / name, meanwhile):
        file = room / name / "made"
        if file.exists():
            with file.open("rb") as read:
                return pickle.load(read)  # type: ignore[no-any-return]
        made = make(name)
        part = file.with_suffix(".part")
        with part.open("wb") as written:
            _Pickler(written, pickle.HIGHEST_PROTOCOL).dump(made)
        part.rename(file)
        return made


class _Pickler(pickle.Pickler):
    """Keeps what is locked locked: arrays, and mappings that are only looked at."""

    def reducer_override(self, thing: Any) -> Any:
        if isinstance(thing, MappingProxyType):
            return _looked_at, (dict(thing),)
        if type(thing) is np.ndarray and not thing.flags.writeable:
            return _locked, (thing.copy(),)
        return NotImplemented


def _looked_at(found: dict[Any, Any]) -> Mapping[Any, Any]:
    return MappingProxyType(found)


def _locked(array: np.ndarray) -> np.ndarray:
    array.setflags(write=False)
    return array
