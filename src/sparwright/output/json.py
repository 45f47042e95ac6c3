"""JSON: the contract others lean on (docs/json.md), and the exact form in which reports are kept.

The contract writes SI values in full precision and `null` for what is not finite. The kept form writes
everything, working included, and reads back to an equal report.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from sparwright.base.check import Check, Result, Step
from sparwright.output.report import Report

RESULT = ("id", "title", "value", "unit", "low", "high", "source")
CHECK = ("id", "title", "value", "limit", "sense", "unit", "margin", "verdict", "part", "case", "rule", "method",
         "caveat")  # fmt: skip


def told(reports: Sequence[Report]) -> str:
    """The contract's text: one object for one report, a list under "models" for several."""
    bodies = [body(r) for r in reports]
    whole = bodies[0] if len(bodies) == 1 else _together(bodies)
    return json.dumps(whole, indent=2, allow_nan=False) + "\n"


def body(report: Report) -> dict[str, Any]:
    """One report as the contract has it."""
    return {
        "family": report.family,
        "model": report.model,
        "program": report.program,
        "file_sha256": report.file_sha256,
        "results": [{k: plainly(getattr(r, k)) for k in RESULT} for r in report.results],
        "checks": [{k: plainly(getattr(c, k)) for k in CHECK} for c in report.checks],
    }


def _together(bodies: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    shared = ("family", "program", "file_sha256")
    return {k: bodies[0][k] for k in shared} | {
        "models": [{k: v for k, v in b.items() if k not in shared} for b in bodies]
    }


def plainly(value: Any) -> Any:
    """Text as it is, numbers as floats, None for what is not finite."""
    if isinstance(value, str):
        return value
    number = float(value)  # numpy's floats too
    return number if math.isfinite(number) else None


def kept(report: Report) -> str:
    """The report with all its working, to read back with `read`. NaN stays NaN."""
    return json.dumps(asdict(report), default=float)


def read(text: str) -> Report:
    """The report that `kept` wrote. Raises ValueError, KeyError or TypeError for anything else."""
    raw = json.loads(text)
    results = tuple(Result(**(r | _working(r))) for r in raw.pop("results"))
    checks = tuple(Check(**(c | _working(c))) for c in raw.pop("checks"))
    return Report(**(raw | {"results": results, "checks": checks, "unknowns": tuple(raw["unknowns"])}))


def _working(raw: Mapping[str, Any]) -> dict[str, Any]:
    steps = tuple(Step(**(s | {"given": tuple(_given(*g) for g in s["given"])})) for s in raw["steps"])
    return {"steps": steps, "parents": tuple(raw["parents"])}


def _given(name: str, value: float, unit: str) -> tuple[str, float, str]:
    return name, value, unit
