"""Speed of the frame solver: python bench/frame.py

The invented braced frame of the tests, small (12 cases) and large (40 cases), and W3's own frame with all its cases at
ultimate load (the demo is run once for it; --small leaves it out). Least of several tries in milliseconds of processor
time: the bare sparse factorisation with one solve for one load, preparing, all cases in first and in second order,
buckling of one case, ten natural modes; as a ratio, times the bare factorisation and solve. With a general-purpose
frame library (see tests/outside/test_frame_general_library.py) where it is installed; W3 is held against it in two
cases at limit load on the frame that both can take: `plain`. Times belong to the machine. Set OMP_NUM_THREADS=1 and
OPENBLAS_NUM_THREADS=1 for one core; --profile says where the time goes.
"""

from __future__ import annotations

import argparse
import cProfile
import pstats
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "src"))
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests"))
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests/outside"))

from frames import braced
from shelf import shelf

import sparwright as sw
from sparwright.maths.frame.buckling import buckling
from sparwright.maths.frame.modes import modes
from sparwright.maths.frame.record import Frame
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import decomposed, prepare
from sparwright.structure.answered import ULTIMATE

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


def library(frame: Frame, loads: np.ndarray) -> None:
    """The library's times and how far its answers are from ours, where there is one."""
    try:
        from test_frame_general_library import other
    except BaseException as skipped:
        if type(skipped).__name__ not in ("Skipped", "ModuleNotFoundError"):
            raise
        return
    for second in (False, True):
        found: list[Any] = []
        taken = least(lambda: found.append(other(frame, loads, second)), 1)  # noqa: B023
        ours = least(lambda: solve(prepare(frame), loads, second))  # noqa: B023
        moved, pull = found[0]
        s = solve(prepare(frame), loads, second)
        off = [float(np.abs(a - b).max() / np.abs(b).max()) for a, b in ((s.moved[..., :3], moved), (s.pull, pull))]
        print(
            f"  {'second' if second else 'first'} order, {len(loads)} cases: library {taken:8.0f} ms, ours {ours:6.1f},"
        )
        print(f"    {taken / ours:.0f} times; movements {off[0]:.0e}, forces {off[1]:.0e} apart")


def plain(frame: Frame) -> Frame:
    """A frame that the library can take too: no arms, no rigging, no bending by shear, no wire without a section, and
    no node on another member, to which the library would join it: all moved by up to 0.1 mm."""
    hair = np.random.default_rng(1).uniform(-1e-4, 1e-4, frame.place.shape)
    few = 1e-4 * frame.area**2
    return replace(frame, arm=0 * frame.arm, tension=0 * frame.tension, place=frame.place + hair,
                   shear_area=np.full(frame.shear_area.shape, np.inf), about_y=np.maximum(frame.about_y, few),
                   about_z=np.maximum(frame.about_z, few), twist=np.maximum(frame.twist, few))  # fmt: skip


def of_w3() -> tuple[Frame, np.ndarray, np.ndarray]:
    """(frame, limit loads, ultimate loads) of W3's cases."""
    family = sw.load(Path(__file__).resolve().parents[1] / "examples/whinchat/whinchat.toml")
    answer = sw.run(family, "W3", polars=shelf, measured=False).margins.answer
    limit = np.array([x.loads / (ULTIMATE if x.case.level == "ultimate" else 1.0) for x in answer.laid])
    return answer.skeleton.frame, limit, ULTIMATE * limit


def table(name: str, frame: Frame, loads: np.ndarray, profile: bool) -> None:
    """The rows of one frame."""
    p = prepare(frame)
    one = np.ones(p.open.size)
    bare = least(lambda: decomposed(p.plain.matrix).solve(one))
    s = solve(p, loads)
    n, m, cases = frame.place.shape[0], frame.ends.shape[0], len(loads)
    print(f"{name}: {n} nodes, {m} elements, {int(frame.wire.sum())} wires, {cases} cases, {int(s.good.sum())} good")
    print(f"  {p.open.size} unknowns, {s.turns.mean():.1f} turns, most {s.turns.max()}; {s.slack.sum(1).max()} slack")
    rows: dict[str, Callable[[], Any]] = {
        "factorised, one solve": lambda: decomposed(p.plain.matrix).solve(one),
        "prepared": lambda: prepare(frame),
        "first order": lambda: solve(p, loads, False),
        "second order": lambda: solve(p, loads),
        "buckling": lambda: buckling(p, s, 0),
        "ten modes": lambda: modes(p, np.ones(n), np.tile(np.eye(3), (n, 1, 1)), 10),
    }
    for what, work in rows.items():
        ms = least(work)
        print(f"  {what:24}{ms:10.1f} ms{ms / bare:9.1f}")
    if profile:
        seen = cProfile.Profile()
        seen.runcall(solve, p, loads)
        pstats.Stats(seen).sort_stats("tottime").print_stats(12)


def main() -> None:
    """Print the tables."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--profile", action="store_true")
    words.add_argument("--small", action="store_true")
    asked = words.parse_args()
    for name, shape, cases in (("small", {}, 12), ("large", {"bays": 36, "rib_bays": 20, "divided": 2}, 40)):
        frame, loads = braced(**shape)
        table(name, frame, many(loads, cases), asked.profile)
        if not shape:
            library(frame, loads)
    if not asked.small:
        frame, limit, ultimate = of_w3()
        table("W3", frame, ultimate, asked.profile)
        library(plain(frame), limit[:2])


if __name__ == "__main__":
    main()
