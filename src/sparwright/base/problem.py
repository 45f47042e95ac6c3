"""Problems of a user's file: where, which key, what was read, what is wanted, an example that works."""

from __future__ import annotations

from dataclasses import dataclass


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
