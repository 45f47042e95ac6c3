"""What every teller reads of a model that was worked out: its names, its results, its checks."""

from __future__ import annotations

from typing import Protocol

from sparwright.base.check import Check, Result


class Ran(Protocol):
    """What is told of a run whoever tells it; run.RunResult has it. A room that reads more extends it."""

    @property
    def family(self) -> str: ...
    @property
    def model(self) -> str: ...
    @property
    def program(self) -> str: ...
    @property
    def file_sha256(self) -> str: ...
    @property
    def results(self) -> tuple[Result, ...]: ...
    @property
    def checks(self) -> tuple[Check, ...]: ...
