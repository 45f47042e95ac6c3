"""One process at a time: the system's file lock, which it lets go of when a process dies."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

NAP = 0.3  # s between looks whether the other is done


@contextmanager
def alone(folder: Path | None, wait: Callable[[], bool]) -> Iterator[None]:
    """Hold the lock of a folder; without one where there is no folder, or no lock can be had in it.

    wait: called while another holds it; False when there is nothing left to wait for.
    """
    try:
        file = _opened(folder) if folder else None
    except OSError:
        file = None
    if file is None:
        yield
        return
    with file:
        while not _held(file.fileno()) and wait():
            time.sleep(NAP)
        yield  # closing the file lets go


def _opened(folder: Path) -> IO[bytes]:
    folder.mkdir(parents=True, exist_ok=True)
    return (folder / "busy").open("a+b")


def _held(handle: int) -> bool:
    """Whether the lock is ours now, or there is none to be had."""
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    except OSError:
        return True
    return True
