"""Processes that work side by side, each on one core, so that a family's polars take seconds on a machine of many.

Each hand is a Python of its own that runs cli/hand.py: it reads a question and writes the answer, a line each. One
thread to a hand for linear algebra: the last digits of an answer hang on the number of threads, so answers are the
same on every machine of a kind. No hand outlives the work: when this process is interrupted they are stopped, when it
is killed they find nothing more to read and end.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Generator, Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from queue import Empty, Queue
from threading import Event, Thread

MOST = 8  # hands
BEAT = 0.5  # s between signs of life
ONE_THREAD = (
    "OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS", "NUMBA_NUM_THREADS",
)  # fmt: skip
WARM = ""  # the question that makes a hand ready: what is compiled is compiled, or loaded

Answer = tuple[int, str] | None
Hand = tuple[subprocess.Popen[str], Thread]


def cores() -> int:
    """Cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def answers(questions: Sequence[str], command: Sequence[str] | None = None) -> Generator[Answer, None, None]:
    """(which question, its answer) as they come, and None every half second in which none came.

    Questions are handed out in their order. The first hand gets ready before any question is handed out, so that
    what must be compiled is compiled once. A question whose hand died, and all when no hand can be started, are left
    out; an answer may be empty. Closing the iterator stops the work.
    """
    hands: list[Hand] = []
    todo: Queue[tuple[int, str]] = Queue()
    done: Queue[Answer] = Queue()
    for pair in enumerate(questions):
        todo.put(pair)
    try:
        ready = Event()
        with suppress(OSError, RuntimeError):  # then with as many as there are
            for i in range(min(cores(), MOST, len(questions))):
                hand = _hand(command or (sys.executable, "-P", "-m", "sparwright.cli.hand"))
                thread = Thread(target=_work, args=(hand, i == 0, ready, todo, done), daemon=True)
                hands.append((hand, thread))
                thread.start()
        yield from _coming(done, sum(thread.ident is not None for _, thread in hands))
    finally:
        for each in hands:
            _stop(*each)


def _coming(done: Queue[Answer], hands: int) -> Iterator[Answer]:
    """Answers until every hand has gone home."""
    while hands:
        try:
            answer = done.get(timeout=BEAT)
        except Empty:
            yield None
            continue
        if answer is None:
            hands -= 1
        else:
            yield answer


def _hand(command: Sequence[str]) -> subprocess.Popen[str]:
    home = str(Path(__file__).parents[2])
    path = os.pathsep.join(p for p in (home, os.environ.get("PYTHONPATH", "")) if p)
    return subprocess.Popen(
        command,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,  # what a hand cannot do, this process does again and says why
        env={**os.environ, **dict.fromkeys(ONE_THREAD, "1"), "PYTHONPATH": path},
        encoding="utf-8",
        creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
    )


def _work(
    hand: subprocess.Popen[str], first: bool, ready: Event, todo: Queue[tuple[int, str]], done: Queue[Answer]
) -> None:
    """Hand questions to one hand until there are none, or it dies."""
    try:
        if first:
            _ask(hand, WARM)
            ready.set()
        ready.wait()
        while True:
            which, question = todo.get_nowait()
            done.put((which, _ask(hand, question)))
    except (Empty, OSError, ValueError):  # ValueError: stopped, so its pipes are closed
        pass
    finally:
        ready.set()
        done.put(None)


def _ask(hand: subprocess.Popen[str], question: str) -> str:
    """The answer. Raises OSError when the hand has died."""
    assert hand.stdin and hand.stdout
    hand.stdin.write(question + "\n")
    hand.stdin.flush()
    line = hand.stdout.readline()
    if not line.endswith("\n"):
        raise BrokenPipeError("the hand has died")
    return line[:-1]


def _stop(hand: subprocess.Popen[str], thread: Thread) -> None:
    with suppress(OSError):
        hand.kill()
    hand.wait()
    if thread.ident is not None:
        thread.join()
    for pipe in (hand.stdin, hand.stdout):
        with suppress(OSError):  # what was not read
            if pipe:
                pipe.close()
