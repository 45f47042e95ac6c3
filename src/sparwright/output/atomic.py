"""Files written whole or not at all: a good file is never replaced by half of another."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from sparwright.base.problem import refusal


class CannotWrite(Exception):
    """A file or folder that cannot be written; a sentence for the user, exit code 2."""

    def __init__(self, path: Path, error: OSError):
        self.path = path
        super().__init__(f"{path} cannot be written: {refusal(error)}; what was there before is unchanged")


def folder(path: Path) -> Path:
    """The folder, made with its parents when it is not there. Raises CannotWrite."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise CannotWrite(path, error) from None
    return path


def write(path: Path, content: bytes) -> None:
    """Write one file: beside it first, to the disk, then in its place. Raises CannotWrite."""
    write_all({path: content})


def write_all(files: Mapping[Path, bytes]) -> None:
    """Write several files: all beside their places first, then each in its place, in the order given.

    A disk that fills up while the first step runs leaves every old file as it was. Raises CannotWrite.
    """
    staged: list[tuple[Path, Path]] = []
    path = Path()
    try:
        for path, content in files.items():
            beside = path.with_name(f".{path.name}.{os.getpid()}.part")
            staged.append((beside, path))
            _to_disk(beside, content)
        for beside, path in staged:
            os.replace(beside, path)
    except OSError as error:
        raise CannotWrite(path, error) from None
    finally:
        for beside, _ in staged:
            beside.unlink(missing_ok=True)


def _to_disk(path: Path, content: bytes) -> None:
    with path.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
