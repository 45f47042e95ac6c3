"""A model against every category on file, also those its family does not name: what passes, what misses and how far."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from sparwright.base.check import Check, Result, Verdict
from sparwright.base.record import number
from sparwright.data.categories import Category, Condition, Limit, categories
from sparwright.family.model import Model
from sparwright.rules.categories import as_written, in_words, limit_check
from sparwright.rules.conditions import met


@dataclass(frozen=True, kw_only=True)
class FitRow:
    """One limit of a category held against a model, in the unit of its paragraph."""

    limit: Limit
    check: Check
    value: float = number("unit of the paragraph", "the end of the band that decides; NaN when unknown")
    allowed: float = number("unit of the paragraph", "what the paragraph allows this model; NaN when it says nothing")


@dataclass(frozen=True, kw_only=True)
class Met:
    """One condition of a category, and whether the model meets it."""

    condition: Condition
    verdict: Verdict
    why: str


@dataclass(frozen=True, kw_only=True)
class Fit:
    """One model against one category."""

    model: str
    category: Category
    named: bool  # the family names it, so `check` counts it
    rows: tuple[FitRow, ...]
    conditions: tuple[Met, ...]

    @property
    def verdict(self) -> Verdict:
        """A fail before an unknown before a pass; a category that is no longer in force is never passed."""
        verdicts = {*(r.check.verdict for r in self.rows), *(c.verdict for c in self.conditions)}
        if "fail" in verdicts:
            return "fail"
        return "pass" if verdicts == {"pass"} and not self.category.until else "unknown"

    @property
    def nearest(self) -> FitRow | None:
        """The limit that fails by most, or where none fails the one with the least margin; None without numbers."""
        known = [r for r in self.rows if math.isfinite(r.check.margin)]
        failing = [r for r in known if r.check.verdict == "fail"]
        return min(failing or known, key=lambda r: r.check.margin, default=None)


def fits(model: Model, results: Mapping[str, Result]) -> tuple[Fit, ...]:
    """The model against each category, in the order they are on file."""
    return tuple(_fit(model, category, results) for category in categories().values())


def _fit(model: Model, category: Category, results: Mapping[str, Result]) -> Fit:
    return Fit(
        model=model.name,
        category=category,
        named=category.key in model.categories,
        rows=tuple(_row(model, category, limit, results) for limit in category.limits),
        conditions=tuple(_met(model, category, c) for c in category.conditions),
    )


def _row(model: Model, category: Category, limit: Limit, results: Mapping[str, Result]) -> FitRow:
    check = limit_check(model, category, limit, results)
    allowed = as_written(model, limit)
    value = allowed if check.value == check.limit else in_words(check.value, limit)
    return FitRow(limit=limit, check=check, value=value, allowed=allowed)


def _met(model: Model, category: Category, condition: Condition) -> Met:
    verdict, why = met(model, category, condition)
    return Met(condition=condition, verdict=verdict, why=why)
