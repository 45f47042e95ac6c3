"""The numbers of the code a model is designed to, with what of them nobody here has seen in print."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sparwright.base.check import Step
from sparwright.base.quantity import parse
from sparwright.data.loads import RULES, Rule
from sparwright.family.model import Limits, Model

Given = tuple[tuple[str, float, str], ...]
KT, FT, PSF = parse("1 kt", "speed"), 0.3048, parse("1 psf", "pressure")


@dataclass(frozen=True)
class Code:
    """The rows of one code, and the paragraphs of it that the designer has read."""

    key: str
    rows: Mapping[str, Rule]
    confirmed: frozenset[str] = frozenset()

    @property
    def imperial(self) -> bool:
        """Whether its laws are printed in feet, knots and lb/ft2; else in SI."""
        return self.key == "cfr-23-2014"

    def has(self, key: str) -> bool:
        """Whether the code says it."""
        return key in self.rows

    def __getitem__(self, key: str) -> float:
        """The number; NaN where the code has none."""
        return self.rows[key].value if key in self.rows else math.nan

    def cite(self, *keys: str) -> str:
        """The code and the paragraphs of rows, each once: "cs-vla 335(a), 341"."""
        by_source: dict[str, list[str]] = {}
        for row in (self.rows[k] for k in keys if k in self.rows):
            key, paragraph = str(row).split(" ", 1)
            by_source.setdefault(key, []).append(paragraph)
        return "; ".join(f"{k} {', '.join(dict.fromkeys(found))}" for k, found in by_source.items())

    def recalled(self, *keys: str) -> str:
        """What is to be said of rows that are recalled and that the designer has not confirmed; empty for none."""
        open_ = [r for k in keys if (r := self.rows.get(k)) and r.recalled and r.section not in self.confirmed]
        numbers = ", ".join(f'"{x}"' for x in dict.fromkeys(r.section for r in open_))
        cited = self.cite(*(r.key for r in open_))
        return (
            f"{cited} recalled, nobody here has read it; [[confirmed]] with "
            f'category = "{self.key}", row = {numbers} settles it'
            if open_
            else ""
        )

    def step(self, title: str, formula: str, given: Given, value: float, unit: str, *keys: str) -> Step:
        """A line of working under the paragraphs of rows."""
        return Step(title, formula, given, value, unit, self.cite(*keys))

    def printed(self, title: str, row: str, unit: str, sign: float = 1.0, how: str = "as printed") -> Step:
        """A line of working that is a row's number as it stands; sign: -1 for the other way."""
        return self.step(title, how, (), sign * self[row], unit, row)

    def of_loading(self, loading: float, unit: float, power: float = 0.5) -> float:
        """(W/S)^power m/s in the units its laws are printed in. loading: W/S, Pa; unit: m/s of its unit of speed."""
        return float((loading / PSF) ** power * unit if self.imperial else loading**power)


def code_of(model: Model) -> Code:
    """The code of a model's loads."""
    key = model.limits.code
    rows = {**RULES["common"], **RULES[key]}
    return Code(key, rows, frozenset(c.row for c in model.confirmed if c.category == key))


def limit_factors(code: Code, limits: Limits) -> tuple[float, float]:
    """(positive, negative) limit manoeuvring load factors that the code asks for at least.

    cs-vla 337: as printed. 14 CFR 23.337: n = 2.1 + 24000/(W + 10000), W lb, need not be over 3.8; -0.4 n.
    """
    if not code.has("positive_base"):
        return code["positive"], code["negative"]
    formula = code["positive_base"] + code["positive_rise"] / (limits.max_mass + code["positive_over"])
    positive = min(code["positive"], formula)
    return positive, -code["negative_part"] * max(positive, limits.n_positive)


def both(*said: str) -> str:
    """Sentences together, each once, empty ones left out."""
    return "; ".join(dict.fromkeys(x for x in said if x))


def asked(steps: Iterable[Step], title: str, otherwise: float = math.nan) -> float:
    """The value of the line of working of that title; another where there is none."""
    return next((s.value for s in steps if s.title == title), otherwise)
