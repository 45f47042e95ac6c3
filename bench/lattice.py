"""Speed of the vortex lattice: python bench/lattice.py

One run, one table. For cells of growing size it times, each as the least of many tries taken in turns, so
that all see the same machine:

    matrix     the influence matrix, compiled and plain
    LAPACK     lu_factor and lu_solve of that same matrix with the same right-hand sides, nothing else
    both       matrix (compiled) and LAPACK together, and their ratio to LAPACK alone: aim 2, at most 3
    lay        the whole of `lay`: strips, slopes, matrix, solve
    state      one state of flight with lift, drag and strips, after laying

and how the cost grows with panels. The first compile is told apart. Ratios hold within one run; the times
themselves belong to the machine.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from scipy.linalg import lu_factor, lu_solve

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "src"))

from sparwright.air.grid import lay_out, panels
from sparwright.air.lattice import lay
from sparwright.air.wash import compiled, plain
from sparwright.shape.planform import Planform

SIZES = [(5, 15), (6, 25), (8, 25), (10, 30), (10, 60)]  # rows, strips for four surfaces: 300 to 2400 unknowns
FLAT = {"flat": np.array([[0.0, 1.0], [0.0, 0.0]])}
SIDES = 7  # right-hand sides: shape, alpha, four hinges, pitch
TRIES = 25


def surfaces() -> tuple[Planform, ...]:
    """Three staggered wings and a tail, all hinged."""

    def plate(name: str, half: float, x: float, z: float, tail: bool = False) -> Planform:
        edge = np.array([[x, x], [0.0, half], [z, z + 0.03 * half]])
        return Planform(name, edge, np.ones(2), np.zeros(2), ("flat", "flat"), 0.0, 0.7, 0.5 * half, half, tail)

    return (plate("lower", 2.9, 0.6, 0.0), plate("middle", 3.0, 0.3, 0.8), plate("upper", 3.2, 0.0, 1.6),
            plate("tail", 1.4, 4.0, -0.9, True))  # fmt: skip


def least(tasks: dict[str, Callable[[], object]], tries: int) -> dict[str, float]:
    """Least time of each task, s, tasks taken in turns."""
    best = dict.fromkeys(tasks, float("inf"))
    for _ in range(tries):
        for name, task in tasks.items():
            start = time.perf_counter()
            task()
            best[name] = min(best[name], time.perf_counter() - start)
    return best


def measured(rows: int, strips: int) -> tuple[int, dict[str, float]]:
    """Unknowns, and the times of one size."""
    grid = panels(lay_out(surfaces(), strips), rows)
    given = (grid.corners, grid.rows, grid.control, grid.normal)
    same = compiled()(*given)
    assert np.array_equal(same, plain(*given)), "compiled and plain twins must give the same bits"
    asked = np.ones((grid.panels, SIDES))
    spare = np.empty_like(same)
    cell = lay(surfaces(), FLAT, chordwise=rows, spanwise=strips, kernel="compiled")

    def lapack(m: np.ndarray) -> None:
        lu_solve(lu_factor(m.T, overwrite_a=True, check_finite=False), asked, check_finite=False)

    def state() -> None:
        s = cell.state(0.05, {"tail": 0.02})
        _ = s.lift, s.induced_drag, s.strips

    tasks: dict[str, Callable[[], object]] = {
        "copy": lambda: np.copyto(spare, same),
        "copy and LAPACK": lambda: (np.copyto(spare, same), lapack(spare)),
        "matrix": lambda: compiled()(*given),
        "both": lambda: lapack(compiled()(*given)),
        "plain": lambda: plain(*given),
        "lay": lambda: lay(surfaces(), FLAT, chordwise=rows, spanwise=strips, kernel="compiled"),
        "state": state,
    }
    best = least(tasks, TRIES if grid.panels < 1500 else 5)
    return grid.panels, best | {"LAPACK": best["copy and LAPACK"] - best["copy"]}


def main() -> None:
    """Print the table."""
    start = time.perf_counter()
    tiny = panels(lay_out(surfaces(), 2), 1)
    compiled()(tiny.corners, tiny.rows, tiny.control, tiny.normal)
    print(f"loading the compiler and the compiled kernel: {time.perf_counter() - start:.2f} s (once a process)\n")
    heads = ("LAPACK", "matrix", "both", "plain", "lay", "state")
    print("unknowns " + "".join(f"{h + ' ms':>11}" for h in heads) + "   both/LAPACK   lay/LAPACK   ns a pair")
    found = []
    for rows, strips in SIZES:
        n, t = measured(rows, strips)
        found.append((n, t))
        cells = "".join(f"{t[h] * 1e3:11.2f}" for h in heads)
        ratios = f"{t['both'] / t['LAPACK']:14.2f}{t['lay'] / t['LAPACK']:13.2f}{t['matrix'] / n**2 * 1e9:12.2f}"
        print(f"{n:8d} {cells}{ratios}")
    print("\ncost grows with panels as n to the power of")
    for (n, t), (m, u) in zip(found[:-1], found[1:], strict=True):
        powers = "".join(f"  {h} {np.log(u[h] / t[h]) / np.log(m / n):5.2f}" for h in ("matrix", "LAPACK", "lay"))
        print(f"{n:6d} to {m:5d}: {powers}")


if __name__ == "__main__":
    main()
