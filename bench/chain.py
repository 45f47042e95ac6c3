"""What one warm run of W3 costs, stage by stage, against the bare solves of its own lattice matrices.

    python bench/chain.py [--model W3] [--times 7]

Medians of several rounds in one process, after one round that is thrown away. The ratio's floor is the LAPACK
solve of a matrix of the same size at every angle: the part of the work that cannot be avoided.
"""

from __future__ import annotations

import argparse
import statistics
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
from scipy.linalg import lu_factor, lu_solve

import sparwright as sw
from sparwright.air.turned import NODES, turned
from sparwright.cli.polars import kept
from sparwright.family.reader import load
from sparwright.mass.weigh import weigh
from sparwright.parts.layout import lay_out
from sparwright.shape.lifting import camber, planforms, thickness

FILE = Path(__file__).resolve().parent.parent / "examples/whinchat/whinchat.toml"


def median(times: int, work: Callable[[], Any]) -> float:
    """Median milliseconds of `times` calls, after one that does not count."""
    work()
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append(1000 * (time.perf_counter() - start))
    return statistics.median(taken)


def main() -> None:
    """Print the table."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--model", default="W3")
    words.add_argument("--times", type=int, default=7)
    args = words.parse_args()
    family = load(str(FILE))
    model = family.models[args.model]
    assembly = lay_out(model)
    given = planforms(model), camber(model), thickness(model)
    n = turned(*given).mesh.panels
    matrix = np.random.default_rng(1).normal(size=(n, n)) + n * np.eye(n)
    right = np.ones((n, 4))
    floor = median(args.times, lambda: [lu_solve(lu_factor(matrix), right) for _ in NODES])
    rows = (
        (f"LAPACK, {n} unknowns, {len(NODES)} angles", floor),
        ("read the family file", median(args.times, lambda: load(str(FILE)))),
        ("parts and joints", median(args.times, lambda: lay_out(model))),
        ("weights", median(args.times, lambda: weigh(model, assembly))),
        ("lattice laid and solved", median(args.times, lambda: turned(*given))),
        (f"whole run of {args.model}", median(args.times, lambda: sw.run(family, args.model, polars=kept))),
    )
    print(f"{'':32}{'ms':>10}{'times the solve':>18}")
    for name, taken in rows:
        print(f"{name:32}{taken:10.2f}{taken / floor:18.1f}")


if __name__ == "__main__":
    main()
