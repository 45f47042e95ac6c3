"""Speed of the section flow: python bench/section_flow.py

One run, one table. For each section and Reynolds number a polar of 33 angles, warm, on one core, as the least of three,
and as a ratio to the least it could cost: one dense solve (LAPACK, as many unknowns as stations) for each angle and
sweep, six sweeps an angle. The first polar with nothing compiled is told apart.
"""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "src"))

import numpy as np

from sparwright.air.flow.polar import ANGLES, polar, prepared
from sparwright.family.model import Section

CASES = [("4412", 3e6), ("4415", 1e6), ("0012", 3e6), ("2412", 9e6), ("23012", 1e6), ("2415", 2e5)]
SWEEPS = 6


def bare(unknowns: int) -> float:
    """Seconds of the bare solves of one polar."""
    rng = np.random.default_rng(1)
    matrix, right = rng.standard_normal((unknowns, unknowns)), rng.standard_normal(unknowns)
    best = 1e9
    for _ in range(20):
        start = time.perf_counter()
        np.linalg.solve(matrix, right)
        best = min(best, time.perf_counter() - start)
    return best * SWEEPS * len(ANGLES)


def main() -> None:
    """Print the table."""
    start = time.perf_counter()
    ready = prepared(Section(name="4412", naca="4412"))
    polar(ready, 1e6)
    print(f"first polar, compiling or loading what is compiled: {time.perf_counter() - start:.1f} s")
    least = bare(ready.outer.panels + len(ready.steps))
    print(f"bare solves of a polar: {least:.3f} s\nsection   Reynolds   seconds   ratio   settled")
    for naca, reynolds in CASES:
        ready, best = prepared(Section(name=naca, naca=naca)), 1e9
        for _ in range(3):
            start = time.perf_counter()
            found = polar(ready, reynolds)
            best = min(best, time.perf_counter() - start)
        print(f"{naca:7s} {reynolds:10,.0f} {best:9.2f} {best / least:7.1f} {found.settled:9.2f}", flush=True)


if __name__ == "__main__":
    main()
