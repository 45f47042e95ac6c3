"""The register of assumptions with what each does to the proof: the least margin and the margin it touches most.

Each end of a range is proved again (trial.py) in the cases that decide a member. It takes some seconds an end, so it is
made when asked for, not in every run.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from sparwright.base.check import Result, Step
from sparwright.base.record import number
from sparwright.data.assumptions import Assumption, assumptions
from sparwright.family.model import Model
from sparwright.margins.chain import Margins
from sparwright.margins.trial import Proof, first_trial, prove
from sparwright.margins.turns import TURNS
from sparwright.parts.part import Assembly

Told = Callable[[float, str], None]
METHOD = "proved again with this end; cases that decide a member as proved"


@dataclass(frozen=True)
class End:
    """One end of a range, proved."""

    value: float = number("1", "what is taken instead")
    least: float = number("1", "least margin then; NaN where a case could not be solved")
    least_id: str = ""  # check that has it
    margins: Mapping[str, float] = field(default_factory=dict)  # every margin then, by id of check
    note: str = ""  # what could not be solved


@dataclass(frozen=True)
class Studied:
    """One assumption with its ends."""

    assumption: Assumption
    least: float = number("1", "least margin as proved")
    least_id: str = ""
    margins: Mapping[str, float] = field(default_factory=dict)  # every margin as proved, by id of check
    ends: tuple[End, ...] = ()
    unknown: int = number("1", "checks of members whose margin is not known as proved", 0)

    @property
    def change(self) -> float:
        """Of the least margin at the worse end; nought where it only gains; NaN where nothing is varied or known."""
        changes = [e.least - self.least for e in self.ends]
        return math.nan if not changes or any(math.isnan(c) for c in changes) else min(0.0, *changes)

    @property
    def touched(self) -> str:
        """Id of the check whose margin changes most at either end; empty where none does."""
        most = max(self.margins, key=lambda k: (self.moves(k), k), default="")
        return most if self.moves(most) > 0 else ""

    def moves(self, id: str) -> float:
        """How far a margin moves at either end at most."""
        moves = [abs(e.margins[id] - self.margins[id]) for e in self.ends if id in e.margins and id in self.margins]
        return max(moves, default=0.0)


def study(model: Model, assembly: Assembly, found: Margins, told: Told | None = None,
          keys: Sequence[str] = ()) -> tuple[Studied, ...]:  # fmt: skip
    """Every assumption of the register, in its order, or those of `keys`.

    ValueError where no load case is worked out; KeyError for a key that is not in the register.
    """
    rows = [assumptions()[k] for k in keys] if keys else list(assumptions().values())
    base = prove(first_trial(model, assembly, found))
    done = []
    for i, row in enumerate(rows):
        if told:
            told(i / len(rows), row.title)
        done.append(_studied(row, base))
    return tuple(done)


def _studied(row: Assumption, base: Proof) -> Studied:
    which, least = least_of(base)
    values = [v for v in (row.low, row.high) if math.isfinite(v) and v != row.used]
    return Studied(row, least, which, base.margins, tuple(_end(row.key, v, base) for v in values),
                   len(base.checks) - len(base.margins))  # fmt: skip


def _end(key: str, value: float, base: Proof) -> End:
    proof = prove(TURNS[key](base.trial, value), base)
    which, least = least_of(proof)
    lost = [w for w in proof.answer.why if w not in base.answer.why]
    if lost:
        return End(value, math.nan, note=f"with {value:g} it does not stand or settle: {lost[0]}")
    gone = len(base.margins.keys() - proof.margins.keys())
    return End(value, least, which, proof.margins, f"{gone} margins are not known with {value:g}" if gone else "")


def least_of(proof: Proof) -> tuple[str, float]:
    """(id of the check with the least margin, that margin)."""
    known = proof.margins
    which = min(known, key=lambda k: (known[k], k), default="")
    return which, known.get(which, math.nan)


def assumption_results(studied: Iterable[Studied]) -> tuple[Result, ...]:
    """One result for each: the change of the least margin at the worse end."""
    return tuple(_result(s) for s in studied)


def _result(s: Studied) -> Result:
    row = s.assumption
    steps = [Step("used in the proof", row.enters, (), row.used, "1", str(row.source)),
             Step(f"least margin as proved: {s.least_id}", "1 - use", (), s.least, "1", METHOD)]  # fmt: skip
    for e in s.ends:
        given = (("taken instead", e.value, "1"),)
        steps.append(Step(f"least margin then: {e.least_id}", "1 - use", given, e.least, "1", METHOD))
        was = ("margin as proved", s.margins.get(s.touched, math.nan), "1")
        then = e.margins.get(s.touched, math.nan)
        steps.append(Step(f"touched most: {s.touched}", "margin then", (*given, was), then, "1", METHOD))
    lows = [e.least - s.least for e in s.ends]
    band = (min(lows), max(lows)) if lows and all(map(math.isfinite, lows)) else (math.nan, math.nan)
    notes = [row.why, f"range: {row.range or 'judgement, no source'}" if s.ends else "", *(e.note for e in s.ends)]
    return Result(f"assumption.{row.key}", f"{row.title}: change of the least margin", s.change, "1", *band,
                  source=str(row.source), caveat="; ".join(n for n in notes if n), steps=tuple(steps))  # fmt: skip


HEAD = ("key", "assumption", "used", "from", "to", "least margin", "least from", "least to", "touched most",
        "margin as proved", "margin from", "margin to", "enters", "source", "remark")  # fmt: skip


def assumption_rows(studied: Iterable[Studied]) -> tuple[tuple[str, ...], ...]:
    """The register as a table, one row for each assumption under HEAD, as `worst_first`."""
    return tuple(_row(s) for s in worst_first(studied))


def worst_first(studied: Iterable[Studied]) -> tuple[Studied, ...]:
    """What does not even stand, then by what is taken off the least margin, then by what moves most; the rest last."""
    return tuple(sorted(studied, key=lambda s: (not s.ends, *_place(s))))


def _place(s: Studied) -> tuple[float, float]:
    return (s.change, -s.moves(s.touched)) if math.isfinite(s.change) else (-math.inf, 0.0)


def _row(s: Studied) -> tuple[str, ...]:
    row, by = s.assumption, {e.value: e for e in s.ends}
    low, high = by.get(row.low), by.get(row.high)
    remark = "; ".join(n for n in (row.why, row.range, *(e.note for e in s.ends)) if n)
    then = [shown(e.margins.get(s.touched, math.nan)) if e else "" for e in (low, high)]
    return (
        row.key, row.title, shown(row.used), shown(row.low), shown(row.high), shown(s.least),
        *(shown(e.least) if e else "" for e in (low, high)), s.touched,
        shown(s.margins.get(s.touched, math.nan)) if s.ends else "", *then, row.enters, str(row.source), remark,
    )  # fmt: skip


def shown(value: float) -> str:
    """A number as the table has it; empty where unknown.

    >>> shown(0.01234), shown(6.0), shown(float("nan"))
    ('0.012', '6', '')
    """
    return f"{value:.3f}".rstrip("0").rstrip(".") if math.isfinite(value) else ""


__all__ = ["HEAD", "End", "Studied", "assumption_results", "assumption_rows", "least_of", "shown", "study",
           "worst_first"]  # fmt: skip
