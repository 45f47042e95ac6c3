"""What one run of a model costs: first, again, and after a change, against the bare solves of its lattice matrices.

    python bench/chain.py [--model W3] [--times 5] [--bodies]

Processor time of this process, the least of several rounds, kernels compiled and polars on file: other work on the
machine is not counted, waiting for it is. `first` is with every memory emptied (base/remembered.py), `again` the same
model once more, then the same with one number changed, each round another. The ratio's floor is the LAPACK solve of a
matrix of the lattice's size at every angle: the part of the work that cannot be avoided. --bodies: with the parts
measured against each other too, which takes longer.
"""

from __future__ import annotations

import argparse
import math
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
from scipy.linalg import lu_factor, lu_solve

import sparwright as sw
from sparwright.air.turned import NODES, turned
from sparwright.base.remembered import forget
from sparwright.cli.polars import kept
from sparwright.family.model import Family, Model
from sparwright.family.reader import load
from sparwright.parts import solids
from sparwright.shape.lifting import camber, planforms, thickness

FILE = Path(__file__).resolve().parent.parent / "examples/whinchat/whinchat.toml"
SLOWEST = 3
Stages = dict[str, float]


def least(times: int, work: Callable[[], Any]) -> float:
    """Least milliseconds of processor time of some calls, after one that does not count."""
    work()
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append(1000 * (time.process_time() - start))
    return min(taken)


def ran(family: Family, model: str, bodies: bool) -> Stages:
    """Milliseconds of each stage of one run, and of the `whole`."""
    marks: list[tuple[str, float]] = []
    sw.run(family, model, lambda _, stage: marks.append((stage, time.process_time())), kept, bodies)
    marks.append(("", time.process_time()))
    found: Stages = {"whole": 1000 * (marks[-1][1] - marks[0][1])}
    for (stage, start), (_, end) in zip(marks, marks[1:], strict=False):
        found[stage] = found.get(stage, 0.0) + 1000 * (end - start)
    return found


def fresh(family: Family, model: str, bodies: bool) -> Stages:
    """As `ran`, of a first run in a process."""
    forget()
    solids._EXACT.clear()
    return ran(family, model, bodies)


def wing(model: Model, by: int) -> Model:
    """The first wing set by hundredths of a degree more."""
    first, *rest = model.wings
    return replace(model, wings=(replace(first, incidence=first.incidence + math.radians(0.01 * by)), *rest))


def engine(model: Model, by: int) -> Model:
    """The engine's fuel thicker by a ten-thousandth."""
    return replace(model, engine=replace(model.engine, fuel_density=model.engine.fuel_density * (1 + 1e-4 * by)))


def changed(family: Family, name: str, by: int, change: Callable[[Model, int], Model]) -> Family:
    """The family with one number of a model changed."""
    return replace(family, models={**family.models, name: change(family.models[name], by)})


def floor(model: Model, times: int) -> tuple[int, float]:
    """(unknowns of the lattice, milliseconds of the bare solves)."""
    n = turned(planforms(model), camber(model), thickness(model)).mesh.panels
    matrix, right = np.random.default_rng(1).normal(size=(n, n)) + n * np.eye(n), np.ones((n, 4))
    return n, least(times, lambda: [lu_solve(lu_factor(matrix), right) for _ in NODES])


def main() -> None:
    """Print the table."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--model", default="W3")
    words.add_argument("--times", type=int, default=5)
    words.add_argument("--bodies", action="store_true")
    args = words.parse_args()
    family, name = load(str(FILE)), args.model
    n, solve = floor(family.models[name], args.times)
    print(f"{n} unknowns at {len(NODES)} angles, LAPACK alone: {solve:.1f} ms; the file read: "
          f"{least(args.times, lambda: load(str(FILE))):.1f} ms")  # fmt: skip
    print(f"{'':44}{'ms':>8}{'times the solve':>17}  slowest steps, ms")
    ran(family, name, False)  # kernels
    for bodies in (False, True) if args.bodies else (False,):
        rows: dict[str, Callable[[int], Stages]] = {
            "first": lambda _, b=bodies: fresh(family, name, b),  # type: ignore[misc]
            "again": lambda _, b=bodies: ran(family, name, b),  # type: ignore[misc]
            "a wing's incidence changed": lambda i, b=bodies: ran(changed(family, name, i, wing), name, b),  # type: ignore[misc]
            "an engine's number changed": lambda i, b=bodies: ran(changed(family, name, i, engine), name, b),  # type: ignore[misc]
        }
        for what, work in rows.items():
            best = min((work(i) for i in range(1, args.times + 1)), key=lambda s: s["whole"])
            whole = best.pop("whole")
            slow = sorted(best.items(), key=lambda s: -s[1])[:SLOWEST]
            said = ", ".join(f"{stage} {taken:.0f}" for stage, taken in slow)
            title = f"{name} {what}{', bodies measured' if bodies else ''}"
            print(f"{title:44}{whole:8.0f}{whole / solve:17.0f}  {said}")


if __name__ == "__main__":
    main()
