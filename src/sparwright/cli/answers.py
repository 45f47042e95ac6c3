"""Reports of a family's models: taken from the store when the same question was answered before, else worked out."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from sparwright.base.problem import DesignProblem
from sparwright.cli import store
from sparwright.cli.progress import Progress
from sparwright.family.model import Family
from sparwright.output import json
from sparwright.output.report import Report, report

if TYPE_CHECKING:
    from sparwright.air.polars import Polars
    from sparwright.run import RunResult

Told = Callable[[float, str], None]


def read(file: str) -> Family:
    """The family in a file. Raises FileProblems."""
    from sparwright.family.reader import load

    return load(file)


def models(family: Family, wanted: str | None) -> tuple[str, ...]:
    """The wanted model, or all. Raises DesignProblem for one the family has not."""
    if wanted is None:
        return tuple(family.models)
    if wanted not in family.models:
        known = ", ".join(family.models)
        raise DesignProblem(f"{Path(family.path).name} has no model {wanted!r}; it has {known}")
    return (wanted,)


def reports(family: Family, wanted: str | None, fresh: bool = False) -> list[Report]:
    """The reports of the wanted model, or of all. Raises DesignProblem."""
    polars = _fresh_polars() if fresh else None
    return [_one(family, name, polars) for name in models(family, wanted)]


def report_and_run(family: Family, name: str) -> tuple[Report, RunResult]:
    """A model's report, kept where it is, and its run with all that a report does not hold. Raises DesignProblem.

    Where the report is kept, the run leaves out what is measured on the parts' bodies: nobody asks it for that.
    """
    model, key = family.models[name], store.key(family.sha256, name)
    kept = _kept(key)
    with Progress(f"working out {name}") as bar:
        ran = run(family, name, bar, measured=kept is None)
    if kept is not None:
        return kept, ran
    made = report(ran, model.title, model.drawing_units, family.unknowns)
    store.put(key, json.kept(made))
    return made, ran


def _fresh_polars() -> Polars:
    """Polars that are worked out again, each once."""
    from sparwright.cli.polars import Kept

    return Kept(fresh=True)


def _one(family: Family, name: str, polars: Polars | None) -> Report:
    """polars: those to use in place of what is on file, reports too; None for what is on file."""
    key = store.key(family.sha256, name)
    kept = None if polars else _kept(key)
    if kept is not None:
        return kept
    made = work_out(family, name, polars)
    store.put(key, json.kept(made))
    return made


def run(family: Family, name: str, progress: Told | None = None, polars: Polars | None = None,
        measured: bool = True) -> RunResult:  # fmt: skip
    """Work out one model, with polars kept on file unless others are given; `sparwright.run` is this door."""
    from sparwright.cli.polars import kept
    from sparwright.run import run

    return run(family, name, progress, polars or kept, measured)


def work_out(family: Family, name: str, polars: Polars | None = None) -> Report:
    """Run one model through the whole chain."""
    model = family.models[name]
    with Progress(f"working out {name}") as bar:
        ran = run(family, name, bar, polars)
    return report(ran, model.title, model.drawing_units, family.unknowns)


def _kept(key: str) -> Report | None:
    text = store.get(key)
    if text is None:
        return None
    try:
        return json.read(text)
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None
