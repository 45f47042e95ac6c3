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
_KEY = pytest.StashKey[Path]()


def begin(config: pytest.Config) -> None:
    """The folder of this test run: made by the process that starts the others, and taken away at its end."""
    if hasattr(config, "workerinput"):
        config.stash[_KEY] = Path(config.workerinput["shared"])
        return
    config.stash[_KEY] = Path(tempfile.mkdtemp(prefix="sparwright-tests-"))
    config.add_cleanup(lambda: shutil.rmtree(config.stash[_KEY], ignore_errors=True))


def folder_of(config: pytest.Config) -> Path:
    """The folder that all processes of a test run share."""
    return config.stash[_KEY]


def once(folder: Path, name: str, make: Callable[[str], T], others: Iterable[str] = ()) -> T:
    """What `make` gives for a name, made by the first process that asks; those that come meanwhile read it.

    others: names to be asked for later. A process that would only wait makes one of them that nobody has begun.
    """

    def meanwhile() -> bool:
        free = next((o for o in others if not (folder / o).exists()), None)
        if free is not None:
            once(folder, free, make)
        return True

    with alone(folder / name, meanwhile):
        file = folder / name / "made"
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
