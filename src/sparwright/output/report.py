"""What is told of one model, whoever tells it: screen, JSON and `why` read this record and nothing else.

It holds what `check` and `why` need, so that a kept one can be told again without the engine.
"""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.check import Check, Result
from sparwright.base.ran import Ran


@dataclass(frozen=True, kw_only=True)
class Report:
    """Every result and check of one model, with what the screen needs to tell them."""

    family: str
    model: str
    title: str
    units: str  # "inch" or "millimetre": what the designer draws in
    program: str
    file_sha256: str
    results: tuple[Result, ...]
    checks: tuple[Check, ...]
    unknowns: tuple[str, ...] = ()  # what the file says is not known yet

    def entry(self, id: str) -> tuple[Result | None, Check | None]:
        """The result and the check of that id; either may be None."""
        return (
            next((r for r in self.results if r.id == id), None),
            next((c for c in self.checks if c.id == id), None),
        )


def report(ran: Ran, title: str, units: str, unknowns: tuple[str, ...] = ()) -> Report:
    """The report of a run."""
    return Report(family=ran.family, model=ran.model, title=title, units=units, program=ran.program,
                  file_sha256=ran.file_sha256, results=ran.results, checks=ran.checks, unknowns=unknowns)  # fmt: skip
