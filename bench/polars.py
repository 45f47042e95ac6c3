"""Cost of a model's polars with an empty store: python bench/polars.py

What W3 asks for: the 4412 of its wings and the 0009 of its tail, three surfaces, seven Reynolds numbers. Kernels are
compiled before the clock starts. Told: on all cores into an empty store (hands started, polars written); the same one
after the other in one process with one thread, and the ratio; the longest; everything again out of the store.
The least the crew could take is the serial sum over the cores.
"""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "src"))

from sparwright.air.behaviour import needed
from sparwright.air.polars import KNOTS, table
from sparwright.cli import crew, store
from sparwright.cli.polars import Kept, answer, said
from sparwright.family.model import Section

SECTIONS = (Section(name="lifting", naca="4412"), Section(name="tail", naca="0009"))
ASKED = needed([(one, KNOTS[6], KNOTS[12]) for one in SECTIONS])


def main() -> None:
    """Print the table."""
    answer(crew.WARM)
    with TemporaryDirectory() as empty:
        os.environ[store.FOLDER] = empty
        start, before = time.perf_counter(), os.times()
        Kept()(ASKED)
        crewed, after = time.perf_counter() - start, os.times()
        spent = after.children_user + after.children_system - before.children_user - before.children_system
        start = time.perf_counter()
        Kept()(ASKED)
        loaded = time.perf_counter() - start
        size = sum(file.stat().st_size for file in Path(empty).rglob("*.json"))
    taken = []
    began = time.process_time()
    for one in ASKED:
        start = time.perf_counter()
        table(one)
        taken.append((time.perf_counter() - start, said(one)))
    alone = time.process_time() - began
    serial, cores = sum(t for t, _ in taken), min(crew.cores(), crew.MOST)
    print(f"{len(ASKED)} polars on {cores} cores into an empty store: {crewed:.1f} s")
    print(f"one after the other: {serial:.1f} s, {serial / crewed:.2f} times that; at best {cores} times")
    print(f"processor time: {spent:.1f} s of the hands (0 where the system does not tell), {alone:.1f} s one by one")
    for seconds, what in sorted(taken, reverse=True)[:3]:
        print(f"    {seconds:5.1f} s  {what}")
    print(f"out of the store: {1000 * loaded:.0f} ms, {size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
