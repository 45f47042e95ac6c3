"""A progress bar on standard error, shown only to a person at a terminal and only for what takes over a second."""

from __future__ import annotations

import sys
import time
from types import TracebackType
from typing import TextIO

from sparwright.cli.screen import writable

PATIENCE = 1.0  # s before anything is shown
CELLS = 24


class Progress:
    """Call it with the part done (0 to 1) and what is being done; use it in a `with`, which wipes the bar."""

    def __init__(self, title: str, stream: TextIO | None = None):
        self.title, self.stream = title, stream or sys.stderr
        self.began, self.shown = time.monotonic(), 0

    def __call__(self, done: float, what: str = "") -> None:
        """Show the bar, when there is a terminal and the work has taken over a second."""
        if not self.stream.isatty() or time.monotonic() - self.began < PATIENCE:
            return
        cells = round(CELLS * min(max(done, 0.0), 1.0))
        line = f"{self.title} {'█' * cells}{'░' * (CELLS - cells)} {done:4.0%} {what}"[:79]
        self._write("\r" + line.ljust(self.shown))
        self.shown = len(line)

    def count(self, done: int, of: int) -> None:
        """The same for counted pieces."""
        self(done / max(of, 1), f"{done} of {of}")

    def __enter__(self) -> Progress:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self.shown:
            self._write("\r" + " " * self.shown + "\r")

    def _write(self, text: str) -> None:
        self.stream.write(writable(text, getattr(self.stream, "encoding", None)))
        self.stream.flush()
