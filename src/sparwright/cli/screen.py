"""What the terminal can show: width, weight of type, and marks it can write."""

from __future__ import annotations

import os
import shutil
import sys
from typing import TextIO

PLAIN = str.maketrans({
    "■": "#", "□": "?", "·": ".", "′": "'", "″": '"', "−": "-", "—": "-", "–": "-", "×": "x", "°": " deg",
    "…": "...", "₂": "2", "²": "2", "³": "3", "½": "1/2", "Ø": "dia ", "█": "#", "░": ".",
})  # fmt: skip
CODES = {"strong": "1", "faint": "2"}


def writable(text: str, encoding: str | None) -> str:
    """The text with every character the encoding lacks changed for a plain one, and "?" where we have none.

    >>> writable("■ 9′ 3″ ±", "ascii")
    '# 9\\' 3" ?'
    """
    if encoding is None:  # a stream in memory takes every letter
        return text
    try:
        text.encode(encoding)
        return text
    except UnicodeEncodeError:
        return text.translate(PLAIN).encode(encoding, "replace").decode(encoding)


def say(text: str, stream: TextIO | None = None) -> None:
    """Write to the terminal (standard output when not told), never failing over a letter."""
    out = stream or sys.stdout
    out.write(writable(text, getattr(out, "encoding", None)))


def complain(text: str) -> None:
    """Write a line to standard error."""
    say(text.rstrip("\n") + "\n", sys.stderr)


def width() -> int:
    """Columns to fill: the terminal's, between 60 and 132; 120 when the output is not a terminal."""
    if not sys.stdout.isatty():
        return 120
    return min(max(shutil.get_terminal_size().columns, 60), 132)


def ink(words: str, how: str) -> str:
    """The words strong or faint where the terminal can and the user has not set NO_COLOR; meaning never hangs on it."""
    code = CODES.get(how)
    if not code or not words or not _inked():
        return words
    return f"\x1b[{code}m{words}\x1b[0m"


def _inked() -> bool:
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
