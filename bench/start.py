"""How long a person waits for the terminal: `python3 bench/start.py` prints a table. Whole processes, wall clock.

Never a test: figures of a machine. The last column is the ratio to a Python that does nothing.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[1]
FAMILY = str(ROOT / "examples" / "whinchat" / "whinchat.toml")
PYTHON = [sys.executable]
SPARWRIGHT = [sys.executable, "-m", "sparwright"]


def seconds(command: list[str], store: str, times: int) -> float:
    """The middle of several runs, s."""
    env = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "SPARWRIGHT_STORE": store}
    spent = []
    for _ in range(times):
        began = time.perf_counter()
        done = subprocess.run(command, env=env, capture_output=True, check=False)
        spent.append(time.perf_counter() - began)
        if done.returncode not in (0, 1):
            sys.exit(f"{' '.join(command)} ended with {done.returncode}: {done.stderr.decode()}")
    return statistics.median(spent)


def table() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as store:
        check = [*SPARWRIGHT, "check", FAMILY, "--model", "W3"]
        rows = [
            ("a Python that does nothing", [*PYTHON, "-c", ""], 9),
            ("sparwright --help", [*SPARWRIGHT, "--help"], 9),
            ("check, empty store", [*check, "--fresh"], 3),
            ("check, store filled", check, 9),
            ("check, three models, store filled", check[:-2], 5),
            ("why, store filled", [*SPARWRIGHT, "why", FAMILY, "mass.empty", "--model", "W3"], 5),
        ]
        seconds(check[:-2], store, 1)  # fill the store, and what is compiled once for ever
        idle = 0.0
        for name, command, times in rows:
            spent = seconds(command, store, times)
            idle = idle or spent
            print(f"{name:36} {spent:8.3f} s {spent / idle:8.1f}")


if __name__ == "__main__":
    table()
