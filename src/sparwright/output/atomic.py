"""Files written whole or not at all: a good file is never replaced by half of another."""

from __future__ import annotations

import errno
import os
from collections.abc import Mapping
from pathlib import Path

_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the disk quota is used up",
    errno.EACCES: "permission is refused",
    errno.EPERM: "permission is refused",
    errno.EROFS: "the disk can only be read",
    errno.ENAMETOOLONG: "the name is too long",
    errno.ENOENT: "there is no such folder",
    errno.ENOTDIR: "a part of that path is a file, not a folder",
    errno.EEXIST: "a file of that name is in the way",
    errno.EISDIR: "a folder of that name is in the way",
    errno.EFBIG: "the file is too large for the disk",
}


class CannotWrite(Exception):
    """A file or folder that cannot be written; a sentence for the user, exit code 2."""

    def __init__(self, path: Path, error: OSError):
        self.path = path
        reason = _REASONS.get(error.errno or 0) or (error.strerror or str(error)).lower()
        super().__init__(f"{path} cannot be written: {reason}; what was there before is unchanged")


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
