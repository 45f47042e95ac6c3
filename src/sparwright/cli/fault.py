"""How a command ends when it does not end well: one clear sentence, the right exit code, no traceback."""

from __future__ import annotations

import errno
import os
import sys
import tempfile
import traceback

from sparwright import __version__
from sparwright.base.problem import DesignProblem, FileProblems
from sparwright.cli.main import FILE, OURS, PIPE, STOPPED
from sparwright.cli.screen import complain

REPORT = "the issue tracker of the place you had Sparwright from"


def ended(fault: BaseException, debug: bool) -> int:
    """Say what happened; gives the exit code."""
    if isinstance(fault, BrokenPipeError):
        return _pipe()
    if isinstance(fault, KeyboardInterrupt):
        complain("\nStopped. No file was left half written.")
        return STOPPED
    try:
        return _told(fault, debug)
    except BrokenPipeError:
        return _pipe()


def _told(fault: BaseException, debug: bool) -> int:
    if isinstance(fault, FileProblems):
        complain("\n".join(map(str, fault.problems)))
        many = len(fault.problems)
        complain("The file has a problem, nothing was worked out." if many == 1 else
                 f"The file has {many} problems, nothing was worked out.")  # fmt: skip
        return FILE
    if isinstance(fault, DesignProblem) or _is_sentence(fault):
        complain(f"{fault}.".replace("..", "."))
        return FILE
    if isinstance(fault, OSError) and fault.errno is not None:
        complain(_of_the_system(fault))
        return FILE
    return _ours(fault, debug)


def _is_sentence(fault: BaseException) -> bool:
    """Whether it is one of the writers' own sentences."""
    names = [c.__qualname__ for c in type(fault).__mro__ if c.__module__.startswith("sparwright.")]
    return "CannotWrite" in names


def _of_the_system(fault: OSError) -> str:
    """A sentence for what the system refused."""
    what = fault.filename or "a file"
    if fault.errno == errno.ENOSPC:
        return f"{what} cannot be written: the disk is full."
    return f"{what}: {(fault.strerror or str(fault)).lower()}."


def _ours(fault: BaseException, debug: bool) -> int:
    trace = "".join(traceback.format_exception(fault))
    if debug:
        complain(trace)
    words = str(fault).strip().splitlines()
    said = f"{type(fault).__name__}{': ' + words[0][:200] if words else ''}"
    complain(f"This is our fault, not yours ({said}). Please report it to {REPORT}, with {_filed(trace, debug)}.")
    return OURS


def _filed(trace: str, debug: bool) -> str:
    if debug:
        return "the lines above"
    text = f"Sparwright {__version__}, Python {sys.version}, {sys.platform}\n\n{trace}"
    try:
        with tempfile.NamedTemporaryFile(
            "w", encoding="utf-8", errors="replace", prefix="sparwright-fault-", suffix=".txt", delete=False
        ) as file:
            file.write(text)
    except OSError:
        return "what --debug prints"
    return f"the file {file.name}"


def _pipe() -> int:
    """The reader of our output has gone (`| head`): end quietly, and keep the interpreter quiet at its end."""
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError):
        pass
    return PIPE
