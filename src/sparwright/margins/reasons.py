"""Why each part is as stout as it is: the case that decides, the way it would fail, or the designer's own reason.

So that whoever wants to put another size or another stock in its place sees what that must carry.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from sparwright.base.check import Check
from sparwright.base.record import number
from sparwright.family.model import Model
from sparwright.margins.sizes import kept_for
from sparwright.parts.part import Assembly

TWICE = 0.5  # use up to which a part carries twice its ultimate load: no load case asks for its size
OTHERS = ("cases", "frame", "gone")  # checks of the whole, not of a part


@dataclass(frozen=True)
class SizeReason:
    """One part with the check of strength that has its least margin."""

    part: str
    name: str
    stock: str
    check: str  # id
    mode: str  # what would fail: the check's title
    case: str
    margin: float = number("1", "least margin of its checks; NaN where none is known")
    verdict: str = ""
    reason: str = ""  # in words


def reasons(model: Model, assembly: Assembly, checks: Iterable[Check]) -> tuple[SizeReason, ...]:
    """A row for every part that a check of strength names, in the order of the parts."""
    by_part: dict[str, list[Check]] = {}
    for c in checks:
        if c.id.startswith("strength.") and c.id.split(".")[1] not in OTHERS and c.part:
            by_part.setdefault(assembly.right(c.part), []).append(c)
    return tuple(_reason(model, p.number, p.name, p.stock, by_part[p.number]) for p in assembly.parts
                 if p.number in by_part)  # fmt: skip


def _reason(model: Model, part: str, name: str, stock: str, checks: list[Check]) -> SizeReason:
    """The check with the least margin; one without a number only where none has any."""
    worst = min(checks, key=lambda c: (not math.isfinite(c.margin), c.margin))
    return SizeReason(part, name, stock, worst.id, worst.title, worst.case, worst.margin, worst.verdict,
                      _words(worst, kept_for(model, part)))  # fmt: skip


def _words(c: Check, kept: str) -> str:
    if kept:
        return f"kept by the designer: {kept}"
    if not math.isfinite(c.margin):
        return "not known"
    if c.margin < 0:
        return "too weak: another size is wanted"
    if 1 - c.margin <= TWICE:
        return "no load case asks for this size: it carries twice its ultimate load"
    return "asked for by this case"


__all__ = ["SizeReason", "reasons"]
