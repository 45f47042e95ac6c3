"""Nests kept with the design, beside the family file, so that they repeat: NAME.nests.MODEL.json.

For each stock its sheets, for each sheet its pieces: part number, turn in degrees, whether turned over, and the lower
left corner of its upright box in millimetres from the sheet's. What is read is not believed: a nest that does not hold
its pieces, clear of one another, is made anew (stock/nests.py).
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

from sparwright.base.problem import FileProblems, Problem
from sparwright.maths.nesting import Way
from sparwright.output.planset import plain_name
from sparwright.stock.nests import Kept, Nests


def nest_path(family: str | Path, model: str) -> Path:
    """Where the nests of a model are kept."""
    path = Path(family)
    return path.with_name(f"{path.stem}.nests.{plain_name(model)}.json")


def nest_json(found: Nests) -> bytes:
    """The nests as they are kept: the same nests give the same bytes."""
    said = {
        nest.stock.words: [
            [[p.blank.name, p.way.turn, p.way.over, round(p.x, 3), round(p.y, 3)] for p in sheet]
            for sheet in nest.sheets
        ]
        for nest in found.nests
    }
    lines = []
    for name, sheets in said.items():
        inside = ",\n".join(
            "  [\n" + ",\n".join(f"   {json.dumps(p, ensure_ascii=False)}" for p in s) + "\n  ]" for s in sheets
        )
        lines.append(f" {json.dumps(name, ensure_ascii=False)}: [\n{inside}\n ]")
    return ("{\n" + ",\n".join(lines) + "\n}\n").encode("utf-8")


def read_nests(path: Path) -> Kept:
    """The nests kept in a file; none where there is no file. Raises FileProblems for one that cannot be read."""
    try:
        said = json.loads(path.read_bytes())
    except FileNotFoundError:
        return {}
    except (OSError, ValueError):
        raise FileProblems([_fault(path, "cannot be read as kept nests")]) from None
    try:
        return {str(name): tuple(tuple(_piece(*p) for p in s) for s in sheets) for name, sheets in said.items()}
    except (AttributeError, TypeError, ValueError):
        raise FileProblems([_fault(path, "does not hold nests as they are kept")]) from None


def _fault(path: Path, wanted: str) -> Problem:
    return Problem(path.name, 1, "", "", f"{wanted}; delete the file, and the sheets are nested anew")


def _piece(name: Any, turn: Any, over: Any, x: Any, y: Any) -> tuple[str, Way, float, float]:
    numbers = [float(v) for v in (turn, x, y)]
    if not all(map(math.isfinite, numbers)) or not isinstance(over, bool):
        raise ValueError("not a place")
    return str(name), Way(numbers[0], over), numbers[1], numbers[2]
