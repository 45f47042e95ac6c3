"""What is weakest: fails by how far they fail, unknowns by what they wait for, passes from the least margin.

An unknown waits for reasons: strengths that were recalled and not read, cases that are not worked out, a method out of
its range. Those that wait for the same are told together, with the greatest use that is known so far.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from sparwright.base.check import Check
from sparwright.reports.asked import Asked
from sparwright.reports.page import Amount, Cell, Column, Link, Mark, Paragraph, Section, Table

RECALLED = "recalled, not read"
LOST = "not worked out: "
ORDER = {"fail": 0, "unknown": 1, "pass": 2}
KINDS = {
    "tube": "tubes and struts", "caps": "caps", "caps_at_limit": "caps", "webs": "webs", "buckling": "buckling",
    "glue": "glue", "wire": "wires", "lug": "lugs", "pin": "pins", "bolts": "bolts", "frame": "whole frame",
}  # fmt: skip


def ranked(checks: Iterable[Check]) -> list[Check]:
    """Fails by how far they fail, then unknowns and passes from the least margin known so far."""
    return sorted(checks, key=lambda c: (ORDER[c.verdict], c.margin if math.isfinite(c.margin) else math.inf, c.id))


def kind_of(check: Check) -> str:
    """What kind of thing a check is of, in the words of the report.

    >>> from sparwright.base.check import Check
    >>> kind_of(Check("strength.wing.front.glue", "", 0.0, 1.0)), kind_of(Check("strength.tube.struts-A", "", 0, 1))
    ('glue', 'struts')
    """
    words = check.id.split(".")
    if words[0] != "strength":
        return words[0]
    if words[1] == "tube":
        return "struts" if words[2].startswith("struts-") else "tubes"
    return KINDS.get(words[1]) or KINDS.get(words[-1], "other")


def reasons(check: Check) -> tuple[str, ...]:
    """What an unknown check waits for, each reason once; what lies behind "not worked out" is told apart.

    >>> from sparwright.base.check import Check
    >>> reasons(Check("x", "", 0.5, 1.0, caveat="shear of spruce: a book: recalled, not read: read it; not worked out: A: b"))
    ('recalled, not read: shear of spruce', 'cases not worked out')
    """
    found: dict[str, None] = {}
    text, _, lost = check.caveat.partition(LOST)
    for piece in (p.strip() for p in text.split("; ")):
        if RECALLED in piece:
            found[f"{RECALLED}: {piece.split(':', 1)[0]}"] = None
        elif piece and not _goes_on(piece):
            found[piece] = None
    if lost:
        found["cases not worked out"] = None
    return tuple(found) or ("the value or the limit is not known",)


def _goes_on(piece: str) -> bool:
    """Whether a piece between semicolons is the rest of a pedigree and no reason of its own."""
    return piece[:1].isdigit() or "recalled with" in piece


def waiting(checks: Iterable[Check]) -> Mapping[tuple[str, ...], list[Check]]:
    """Unknown checks by the reasons they wait for, largest group first, each from the least margin."""
    found: dict[tuple[str, ...], list[Check]] = {}
    for c in ranked(c for c in checks if c.verdict == "unknown"):
        found.setdefault(reasons(c), []).append(c)
    return dict(sorted(found.items(), key=lambda kv: (-len(kv[1]), kv[0])))


def weakest_section(asked: Asked) -> Section:
    """Section 1."""
    checks = ranked(asked.checks)
    fails, passes = ([c for c in checks if c.verdict == v] for v in ("fail", "pass"))
    known = [c for c in checks if math.isfinite(c.margin)]
    parts = (
        Section("What fails", _fails(fails)),
        Section("The least margins, whatever the verdict", (_table(known[:25], "the twenty-five least margins"),)),
        Section("What is not known yet, and what it waits for", tuple(_unknowns(checks, asked))),
        Section("What passes", (_table(passes),) if passes else (Paragraph("No check passes yet."),)),
    )
    return Section("What is weakest", (Paragraph(
        "The margin is what is left of the limit: 1 less the part of its strength that a member uses at ultimate load. "
        "A check whose strength or case is not settled is unknown even when its number looks good; one that fails on what is "
        "known fails."),), parts)  # fmt: skip


def _fails(fails: Sequence[Check]) -> tuple[Paragraph | Table, ...]:
    return (_table(fails, "furthest beyond its limit first"),) if fails else (Paragraph("No check fails."),)


COLUMNS = (Column("", share=0.0), Column("part and check", share=2.2), Column("value", figures=True, share=0.0),
           Column("limit", figures=True, share=0.0), Column("margin", "%", 0.0, True), Column("case", share=1.7),
           Column("rule", share=1.3))  # fmt: skip


def _table(checks: Sequence[Check], caption: str = "") -> Table:
    return Table(COLUMNS, tuple(_row(c) for c in checks), caption)


def _row(c: Check) -> tuple[Cell, ...]:
    sense = {"<=": "at most", ">=": "at least", "<": "under"}[c.sense]
    return (Mark(c.verdict), Link(c.title, c.id), Amount(c.value), f"{sense} {c.limit:g}", Amount(c.margin),
            c.case, c.rule)  # fmt: skip


def _unknowns(checks: Sequence[Check], asked: Asked) -> Iterator[Paragraph | Table]:
    groups = waiting(checks)
    if not groups:
        yield Paragraph("Nothing.")
        return
    rows = tuple((", and ".join(why), f"{len(those)}", _worst(those)) for why, those in groups.items())
    yield Table((Column("waits for", share=2.0), Column("checks", share=0.0, figures=True),
                 Column("nearest to its limit on what is known", share=2.0)), rows)  # fmt: skip
    lost = asked.ran.margins.answer.why if asked.ran.margins.answer else ()
    if lost:
        yield Paragraph(f"{len(lost)} cases are not worked out; section Cases says why, one by one.", "note")
    for why, those in groups.items():
        names = ", ".join(f"{c.title} {_use(c)}" for c in those)
        yield Paragraph(f"Wait for {', and '.join(why)}: {names}.")


def _worst(checks: Sequence[Check]) -> str:
    least = next((c for c in checks if math.isfinite(c.margin)), None)
    return f"{least.title}, {_use(least)}" if least else "nothing is known of them"


def _use(c: Check) -> str:
    return f"{c.value:.2f}" if math.isfinite(c.value) else "unknown"
