"""Same design, same bytes: also from another process, where Python shuffles its sets in another order."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "src"
DRAW = """
import hashlib
import numpy as np
from sparwright.output.dxf import dxf
from sparwright.output.svg import svg
from sparwright.parts.part import Part, Plate
from sparwright.plans.paper import TitleBlock
from sparwright.plans.templates import templates
plate = Plate(outline=np.array([(0.0, 0.0), (0.5, 0.0), (0.1, 0.1)]), holes=(), thickness=0.003)
part = Part(number="T1-P", name="plate", form="plate", group="g", purpose="p", material="m", stock="ply",
            places=((0, 0, 0),), mass=0.1, shape=plate)
for sheet in templates((part,), "A1", TitleBlock("T", "T1", "Sparwright", "0" * 64)):
    print(hashlib.sha256(dxf(sheet)).hexdigest())
    print(hashlib.sha256(svg(sheet)).hexdigest())
"""


def drawn(seed: int) -> str:
    env = {**os.environ, "PYTHONHASHSEED": str(seed), "PYTHONPATH": str(PACKAGE)}
    done = subprocess.run([sys.executable, "-c", DRAW], env=env, capture_output=True, text=True, check=True)
    return done.stdout


def test_sheets_do_not_depend_on_the_order_of_sets() -> None:
    first = drawn(0)
    assert len(first.splitlines()) == 2
    assert all(drawn(seed) == first for seed in (4, 7))
