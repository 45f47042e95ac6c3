"""Problems of a user's file: where, which key, what was read, what is wanted, an example; and why a disk refuses."""

from __future__ import annotations

import errno
from dataclasses import dataclass

_REFUSALS = {
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


def refusal(error: OSError) -> str:
    """Why a file could not be written, in a builder's words.

    >>> refusal(OSError(errno.ENOSPC, "No space left on device"))
    'the disk is full'
    """
    return _REFUSALS.get(error.errno or 0) or (error.strerror or str(error)).lower()


@dataclass(frozen=True, order=True)
class Problem:
    """One fault of a file, worded for the person who wrote it."""

    file: str
    line: int
    key: str
    read: str
    wanted: str
    example: str = ""

    def __str__(self) -> str:
        key = f"{self.key}: " if self.key else ""
        text = f"{self.file}:{self.line}: {key}{self.wanted}"
        if self.read:
            text += f"; the file says {self.read}"
        return text + (f". Example: {self.example}" if self.example else "")


class FileProblems(Exception):
    """All the problems of one file together; leads to exit code 2."""

    def __init__(self, problems: list[Problem] | tuple[Problem, ...]):
        self.problems = tuple(sorted(problems))
        super().__init__("\n".join(map(str, self.problems)))


class DesignProblem(Exception):
    """A design that can be read but not built as a shape; a sentence for the designer, exit code 2."""
