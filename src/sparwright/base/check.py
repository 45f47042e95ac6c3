"""One Result and one Check, with many faces: terminal, JSON, PDF and page show the same record."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

from sparwright.base.record import number
from sparwright.base.source import Band

Verdict = Literal["pass", "fail", "unknown"]
Sense = Literal["<=", ">=", "<"]


@dataclass(frozen=True)
class Step:
    """One line of working: what it gives, the formula as the source prints it, the numbers put in."""

    title: str
    formula: str
    given: tuple[tuple[str, float, str], ...]
    value: float = number("SI", "result of the line, in `unit`")
    unit: str = ""
    source: str = ""


@dataclass(frozen=True)
class Result:
    """A number we give, with its band, its source and its working."""

    id: str
    title: str
    value: float = number("SI", "best estimate, in `unit`; NaN when unknown")
    unit: str = ""
    low: float = number("SI", "lower end of the band, in `unit`", math.nan)
    high: float = number("SI", "upper end of the band, in `unit`", math.nan)
    source: str = ""
    caveat: str = ""
    steps: tuple[Step, ...] = ()
    parents: tuple[str, ...] = field(default=())
    outside_range: str = ""  # how the method left its stated range; a check of this number is then unknown

    @property
    def band(self) -> Band:
        """Value, low and high together."""
        return Band(self.value, self.low, self.high)


@dataclass(frozen=True)
class Check:
    """A value held against a limit. The end of the band nearest to failure decides."""

    id: str
    title: str
    value: float = number("SI", "the end of the band that decides, in `unit`; NaN when unknown")
    limit: float = number("SI", "limit, in `unit`; NaN when unknown")
    sense: Sense = "<="
    unit: str = ""
    margin: float = number("1", "how far on the safe side, as a part of the limit; negative fails", math.nan)
    verdict: Verdict = "unknown"
    part: str = ""
    case: str = ""
    rule: str = ""
    method: str = ""
    caveat: str = ""
    steps: tuple[Step, ...] = ()
    parents: tuple[str, ...] = field(default=())


def check(id: str, title: str, band: Band, limit: float, sense: Sense, unit: str, *, part: str = "", case: str = "",
          rule: str = "", method: str = "", caveat: str = "", outside_range: str = "",
          steps: tuple[Step, ...] = (), parents: tuple[str, ...] = ()) -> Check:  # fmt: skip
    """Hold a band against a limit.

    The worst end decides: the high one for "<=" and "<", the low one for ">=". A value or limit that is
    not finite, or a method used outside its stated range (`outside_range` says how), is unknown.

    margin = (limit - value)/|limit| for "<=", (value - limit)/|limit| for ">=". A limit of nought gives
    the plain difference.

    >>> check("v", "speed", Band(9, 8, 10), 9.5, "<=", "m/s").verdict
    'fail'
    >>> check("v", "speed", Band.exact(float("nan")), 9.5, "<=", "m/s").verdict
    'unknown'
    """
    value = band.high if sense in ("<=", "<") else band.low
    gap = (limit - value) if sense in ("<=", "<") else (value - limit)
    margin = gap / (abs(limit) or 1.0)
    finite = math.isfinite(value) and math.isfinite(limit)
    if outside_range or not finite:
        verdict: Verdict = "unknown"
    else:
        verdict = "pass" if (gap > 0 or (gap == 0 and sense != "<")) else "fail"
    note = "; ".join(x for x in (outside_range, caveat) if x)
    return Check(id, title, value, limit, sense, unit, margin if finite else math.nan, verdict, part, case, rule,
                 method, note, steps, parents)  # fmt: skip


def by_hand(formula: str, given: tuple[tuple[str, float, str], ...], value: float, ours: float, unit: str,
            source: str) -> tuple[Step, Step]:  # fmt: skip
    """Two lines of working for a number nobody can follow through its solution: an estimate by hand, and the ratio.

    The estimate must not use the solution itself, only its inputs and closed forms; value and ours in `unit`.

    >>> [s.value for s in by_hand("2 pi A/(A + 2)", (("A", 6.0, "1"),), 4.0, 4.2, "1/rad", "x")]
    [4.0, 1.05]
    """
    ratio = ours / value if value else math.nan
    return (
        Step("independent estimate by hand", formula, given, value, unit, source),
        Step("ours over the estimate by hand", "ours/by hand", (("ours", ours, unit), ("by hand", value, unit)), ratio,
             "1"),
    )  # fmt: skip


def overall(checks: tuple[Check, ...] | list[Check]) -> Verdict:
    """The verdict of many: fail before unknown before pass; none at all is unknown."""
    verdicts = {c.verdict for c in checks}
    if "fail" in verdicts:
        return "fail"
    return "pass" if verdicts == {"pass"} else "unknown"
