"""Work on many sheets by as many processes as there are cores: what one library takes long for, sheet by sheet.

The answers are the same bytes in the same order as without. Where no process can be started, or one dies, this process
does what is left by itself; little work is not handed out at all.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from typing import TypeVar

from sparwright.plans.drawing import Sheet

Answer = TypeVar("Answer")
ENOUGH = 15_000  # strokes: from so many on starting processes pays
MOST = 8  # processes
EACH = 3  # sheets handed out at a time


def by_sheet(work: Callable[[Sheet], Answer], sheets: Sequence[Sheet]) -> Iterator[Answer]:
    """`work` of each sheet, in order. `work` can be pickled."""
    done = 0
    if workers() > 1 and sum(len(s.strokes) for s in sheets) >= ENOUGH:
        try:
            with ProcessPoolExecutor(workers(), get_context("spawn")) as pool:
                for answer in pool.map(work, sheets, chunksize=EACH):
                    yield answer
                    done += 1
        except (OSError, BrokenProcessPool):
            pass
    for sheet in sheets[done:]:
        yield work(sheet)


def workers() -> int:
    """Processes worth starting: one a core this process may use."""
    free = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    return min(free, MOST)
