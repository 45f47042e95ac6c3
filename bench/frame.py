"""Speed of the frame solver: python bench/frame.py

The invented braced frame of the tests, small (12 cases) and large (40 cases). Least of several tries in milliseconds of
processor time: the bare sparse factorisation with one solve for one load, preparing, all cases in first and in second
order, buckling of one case, ten natural modes; as a ratio, times the bare factorisation and solve. With a
general-purpose frame library (see tests/outside/test_frame_general_library.py) where it is installed. Times belong to
the machine. Set OMP_NUM_THREADS=1 and OPENBLAS_NUM_THREADS=1 for one core; --profile says where the time goes.
"""

from __future__ import annotations

import argparse
import cProfile
import pstats
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "src"))
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests"))
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests/outside"))

from frames import braced

from sparwright.maths.frame.buckling import buckling
from sparwright.maths.frame.modes import modes
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import decomposed, prepare

TRIES = 5


def least(work: Callable[[], Any], tries: int = TRIES) -> float:
    """Least milliseconds of processor time."""
    taken = []
    for _ in range(tries):
        start = time.process_time()
        work()
        taken.append(1000 * (time.process_time() - start))
    return min(taken)


def many(loads: np.ndarray, count: int) -> np.ndarray:
    """`count` cases out of some: each again, somewhat less."""
    return np.array([loads[c % len(loads)] * (1 - 0.6 * c / count) for c in range(count)])


def library(frame: Any, loads: np.ndarray) -> None:
    """The library's times, where there is one."""
    try:
        from test_frame_general_library import other
    except BaseException as skipped:
        if type(skipped).__name__ not in ("Skipped", "ModuleNotFoundError"):
            raise
        return
    for second in (False, True):
        taken = least(lambda: other(frame, loads, second), 1)  # noqa: B023
        print(f"  general library, {'second' if second else 'first'} order{taken:8.0f} ms")


def main() -> None:
    """Print the table."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--profile", action="store_true")
    asked = words.parse_args()
    for shape, cases in (({}, 12), ({"bays": 36, "rib_bays": 20, "divided": 2}, 40)):
        frame, loads = braced(**shape)
        loads = many(loads, cases)
        p = prepare(frame)
        one = np.ones(p.open.size)
        bare = least(lambda: decomposed(p.plain.matrix).solve(one))  # noqa: B023
        s = solve(p, loads)
        n, m = frame.place.shape[0], frame.ends.shape[0]
        print(f"{n} nodes, {m} elements, {int(frame.wire.sum())} wires, {cases} cases, {int(s.good.sum())} good")
        print(f"  at most {s.turns.max()} turns, {s.slack.sum(1).max()} slack")
        rows: dict[str, Callable[[], Any]] = {
            "factorised, one solve": lambda: decomposed(p.plain.matrix).solve(one),  # noqa: B023
            "prepared": lambda: prepare(frame),  # noqa: B023
            "first order": lambda: solve(p, loads, False),  # noqa: B023
            "second order": lambda: solve(p, loads),  # noqa: B023
            "buckling": lambda: buckling(p, s, 0),  # noqa: B023
            "ten modes": lambda: modes(p, np.ones(n), np.tile(np.eye(3), (n, 1, 1)), 10),  # noqa: B023
        }
        for what, work in rows.items():
            ms = least(work)
            print(f"  {what:24}{ms:10.1f} ms{ms / bare:9.1f}")
        if not shape:
            library(frame, loads)
        if asked.profile:
            seen = cProfile.Profile()
            seen.runcall(solve, p, loads)
            pstats.Stats(seen).sort_stats("tottime").print_stats(12)


if __name__ == "__main__":
    main()
