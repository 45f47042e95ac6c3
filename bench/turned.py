"""Speed of the lattice turned into the stream: python bench/turned.py

One table for the models of the demonstration family, least of several tries: the velocities of all horseshoes at one
angle and the bare solve of a matrix of that size (LAPACK), laying and solving eight angles, what is worked out of them
on first use, a state with and without twists of the strips, and the stall of one loading. Times belong to the machine.
Set OMP_NUM_THREADS=1 for one core.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
from scipy.linalg import lu_factor, lu_solve

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "src"))

from sparwright.air.atmosphere import atmosphere
from sparwright.air.inflow import inflow
from sparwright.air.turned import turned
from sparwright.cli.polars import kept
from sparwright.family.reader import load
from sparwright.flight.aeroplane import aeroplane
from sparwright.flight.stall import stall
from sparwright.flight.trim import trimmed
from sparwright.shape.lifting import camber, planforms, thickness

ALPHAS = np.radians(np.linspace(-12, 20, 8)).tolist()
TRIES, MASS = 8, 350.0
ROOT = Path(__file__).resolve().parents[1]


def main() -> None:
    """Print the table."""
    for name, model in load(str(ROOT / "examples/whinchat/whinchat.toml")).models.items():
        best: dict[str, float] = {}

        def timed(what: str, task: Callable[[], Any], best: dict[str, float] = best) -> Any:
            start = time.perf_counter()
            found = task()
            best[what] = min(best.get(what, np.inf), time.perf_counter() - start)
            return found

        surfaces, line, thick = planforms(model), camber(model), thickness(model)
        lattice = turned(surfaces, line, thick, ALPHAS[:1]).mesh
        points = np.ascontiguousarray(np.hstack([lattice.control, lattice.bound]))
        kept_apart = np.ones((len(lattice.surfaces), points.shape[1]))
        given = lattice.corners, lattice.chordwise, lattice.counts, lattice.source, points, kept_apart
        matrix = np.asfortranarray(inflow(*given)[0][:, 2, : lattice.panels])
        for _ in range(TRIES):
            timed("LAPACK", lambda: lu_solve(lu_factor(matrix), np.ones(len(matrix))))  # noqa: B023
            timed("air", lambda: inflow(*given))  # noqa: B023
            company = timed("lay", lambda: turned(surfaces, line, thick, ALPHAS))  # noqa: B023
            timed("velocities, far wake", lambda: [(n.plain, n.far_form) for n in company.nodes])  # noqa: B023
            timed("twists", lambda: [(n.twists, n.far_twists) for n in company.nodes])  # noqa: B023
            twist = np.zeros(company.chords.size)
            timed("state with twists", lambda: company.state(0.11, {}, twist))  # noqa: B023
            timed("state", lambda: company.state(0.11))  # noqa: B023
            plane = aeroplane(model, (), atmosphere(0.0), kept)
            cg = (plane.chord_station + 0.25 * plane.chord, 0.1)
            timed("stall", lambda: stall(trimmed(plane, cg, MASS, atmosphere(0.0))))  # noqa: B023
        told = ", ".join(f"{what} {1e3 * t:.2f} ms" for what, t in best.items())
        print(f"{name}, {company.mesh.panels} unknowns: {told}")


if __name__ == "__main__":
    main()
