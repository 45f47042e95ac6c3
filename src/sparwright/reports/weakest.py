"""What is weakest: fails by how far they fail, unknowns by what they wait for, passes from the least margin.

An unknown waits for reasons: strengths that were recalled and not read, cases that are not worked out, a method out of
its range. Those that wait for the same are told together, with the greatest use that is known so far.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from sparwright.base.check import Check
from sparwright.margins.along import check_of
from sparwright.margins.tubes import right_of
from sparwright.reports.asked import Asked
from sparwright.reports.page import Amount, Cell, Column, Link, Mark, Paragraph, Section, Table

RECALLED = "recalled, not read"
LOST = "not worked out: "
MORE = " and more; "
STRENGTH = re.compile(r"^[^:;]{2,60} of [^:;]{2,40}: ")  # how a strength's pedigree begins in a caveat
ORDER = {"fail": 0, "unknown": 1, "pass": 2}
UNREAD = re.compile(r"^([a-z][a-z0-9-]+) (.+) recalled, nobody here has read it$")
SETTLED = (
    "A paragraph of the code or a strength that was recalled decides nothing until somebody has read it and says so "
    "in the file, in [[confirmed]] or [[strengths.confirmed]], or coupons stand for it. What is neither is told as it "
    "stands."
)
WAITS = {
    "code": "paragraphs of the code to be read",
    "strength": "strengths to be read or tested",
    "cases": "cases to be worked out",
    "other": "other things",
}
MOST = 25  # least margins that are shown
KINDS = {
    "tube": "tubes and struts",
    "caps": "caps",
    "caps_at_limit": "caps",
    "webs": "webs",
    "buckling": "buckling",
    "glue": "glue",
    "wire": "wires",
    "lug": "lugs",
    "pin": "pins",
    "bolts": "bolts",
    "frame": "whole frame",
    "cases": "cases",
    "gone": "a wire gone",
}


@dataclass(frozen=True)
class Reason:
    """One thing that an unknown check waits for, or that is said of it."""

    kind: Literal["code", "strength", "cases", "other"]
    item: str


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


def reasons(check: Check) -> tuple[Reason, ...]:
    """What stands in the caveat of an unknown check, each reason once: what it waits for, and what else is said of it.

    >>> from sparwright.base.check import Check
    >>> said = "shear of ash: book; 99: recalled, not read: read; cs-vla 473, 497 recalled, nobody here has read it"
    >>> [r.item for r in reasons(Check("x", "", 0.5, 1.0, caveat=said))]
    ['shear of ash', 'cs-vla 473', 'cs-vla 497']
    """
    text, _, lost = check.caveat.partition(LOST)
    found: dict[Reason, None] = {}
    held: list[str] = []
    for piece in (p.strip() for p in text.split("; ")):
        held.append(piece)
        if RECALLED in piece:
            first = max((i for i, h in enumerate(held) if STRENGTH.match(h)), default=0)
            found |= dict.fromkeys(_said(held[:first]))
            found[Reason("strength", held[first].split(":", 1)[0])] = None
            held = []
    found |= dict.fromkeys(_said(held))
    if lost:
        found[Reason("cases", "cases that are not worked out")] = None
        _, _, after = lost.partition(MORE)
        found |= dict.fromkeys(_said(after.split("; ")))
    return tuple(found) or (Reason("other", "the value or the limit is not known"),)


def _said(pieces: Iterable[str]) -> Iterator[Reason]:
    """Pieces of a caveat that tell no strength: paragraphs nobody has read one by one; anything else as it stands."""
    for piece in (p.strip() for p in pieces):
        unread = UNREAD.match(piece)
        if unread:
            yield from (Reason("code", f"{unread[1]} {x.strip()}") for x in unread[2].split(","))
        elif piece and not piece.startswith("[[confirmed]]"):
            yield Reason("other", piece)


def waiting(checks: Iterable[Check]) -> Mapping[tuple[str, ...], list[Check]]:
    """Unknown checks by the kinds of what they wait for, largest group first, each from the least margin.

    What is of no kind makes a group of its own only where nothing else is waited for.
    """
    found: dict[tuple[str, ...], list[Check]] = {}
    for c in ranked(c for c in checks if c.verdict == "unknown"):
        kinds = {r.kind for r in reasons(c)}
        key = tuple(WAITS[k] for k in WAITS if k in kinds and (k != "other" or kinds == {"other"}))
        found.setdefault(key, []).append(c)
    return dict(sorted(found.items(), key=lambda kv: (-len(kv[1]), kv[0])))


def missing(checks: Iterable[Check]) -> Mapping[Reason, list[Check]]:
    """By each thing that is missing or said, the unknown checks that wait for it; by kind, most waited for first."""
    found: dict[Reason, list[Check]] = {}
    for c in ranked(c for c in checks if c.verdict == "unknown"):
        for reason in reasons(c):
            found.setdefault(reason, []).append(c)
    order = list(WAITS)
    return dict(sorted(found.items(), key=lambda kv: (order.index(kv[0].kind), -len(kv[1]), kv[0].item)))


def weakest_section(asked: Asked) -> Section:
    """Section 1."""
    checks = ranked(asked.checks)
    fails, passes = ([c for c in checks if c.verdict == v] for v in ("fail", "pass"))
    known = sorted((c for c in checks if c.verdict == "unknown" and math.isfinite(c.margin)), key=lambda c: c.margin)
    parts = (
        Section("What fails", _fails(fails)),
        Section("What is not known yet, and what it waits for", tuple(_unknowns(checks, asked))),
        Section(
            "Unknown, nearest to their limits on what is known",
            (_table(known[:MOST], f"the {len(known[:MOST])} least margins") if known else Paragraph("None."),),
        ),
        Section("What passes", (_table(passes),) if passes else (Paragraph("No check passes yet."),)),
        Section("What no check looks at", tuple(_bare(asked))),
    )
    words = (
        "The margin is what is left of the limit: 1 less the part of its strength that a member uses at ultimate load. "
        "A check whose strength or case is not settled is unknown even when its number looks good; one that fails "
        "on what is known fails. A page behind a check is that of its working; `why ID` tells the working of any other."
    )
    return Section("What is weakest", (Paragraph(words),), parts)


def _bare(asked: Asked) -> Iterator[Paragraph | Table]:
    """Members of the frame that no check is of."""
    answer = asked.ran.margins.answer
    if answer is None:
        yield Paragraph("The frame has no answer, so nothing of it is looked at.", "note")
        return
    ids = {c.id for c in asked.checks}
    found: dict[str, dict[str, None]] = {}
    for bar in answer.skeleton.bars:
        begins = check_of(bar)
        if begins not in ids and not (begins.endswith((".", "_")) and any(id.startswith(begins) for id in ids)):
            found.setdefault(bar.what, {})[right_of(bar.part).partition("-")[2]] = None
    if not found:
        yield Paragraph("Every member of the frame has its check.")
        return
    yield Paragraph(
        "These are in the frame and carry load there, but no check of this run holds them against their strength:",
        "note",
    )
    yield Table(
        (Column("what", share=0.7), Column("parts", share=0.0, figures=True), Column("which", share=4.0)),
        tuple((what, f"{len(parts)}", ", ".join(parts)) for what, parts in found.items()),
    )


def _fails(fails: Sequence[Check]) -> tuple[Paragraph | Table, ...]:
    return (_table(fails, "furthest beyond its limit first"),) if fails else (Paragraph("No check fails."),)


COLUMNS = (
    Column("", share=0.0),
    Column("part and check", share=2.2),
    Column("value", figures=True, share=0.0),
    Column("limit", figures=True, share=0.0),
    Column("margin", "%", 0.0, True),
    Column("case", share=1.7),
    Column("rule", share=1.3),
)


def _table(checks: Sequence[Check], caption: str = "") -> Table:
    return Table(COLUMNS, tuple(_row(c) for c in checks), caption)


def _row(c: Check) -> tuple[Cell, ...]:
    sense = {"<=": "at most", ">=": "at least", "<": "under"}[c.sense]
    return (
        Mark(c.verdict),
        Link(c.title, c.id, c.part),
        Amount(c.value, c.unit),
        Amount(c.limit, c.unit, sense),
        Amount(c.margin),
        c.case,
        c.rule,
    )


def _unknowns(checks: Sequence[Check], asked: Asked) -> Iterator[Paragraph | Table]:
    groups = waiting(checks)
    if not groups:
        yield Paragraph("Nothing.")
        return
    yield Paragraph(SETTLED)
    lost = asked.lost
    if lost:
        yield Paragraph(f"{len(lost)} cases or variants are not worked out; section 4 says why, one by one.", "note")
    heads = (
        Column("what is missing", share=2.4),
        Column("kind", share=1.3),
        Column("checks", share=0.0, figures=True),
        Column("nearest to its limit on what is known", share=2.0),
    )
    yield Table(
        heads, tuple((r.item, WAITS[r.kind], f"{len(those)}", _worst(those)) for r, those in missing(checks).items())
    )
    for kinds, those in groups.items():
        yield _listed(those, f"waiting for {' and '.join(kinds)}: {len(those)}")


def _listed(checks: Sequence[Check], caption: str) -> Table:
    """Checks with what they use, two in a row."""
    one = (Column("check", share=3.0), Column("used", share=0.0, figures=True))
    cells = [(Link(c.title, c.id), _use(c)) for c in checks]
    half = -(-len(cells) // 2)
    rows = tuple(
        (*a, "", *(cells[half + i] if half + i < len(cells) else ("", ""))) for i, a in enumerate(cells[:half])
    )
    return Table((*one, Column("", share=0.2), *one), rows, caption)


def _worst(checks: Sequence[Check]) -> str:
    least = next((c for c in checks if math.isfinite(c.margin)), None)
    return f"{least.title}, {_use(least)} used" if least else "nothing is known of them"


def _use(c: Check) -> str:
    if not math.isfinite(c.value):
        return "unknown"
    return f"{c.value:.2f}" if c.limit == 1.0 and c.sense == "<=" else f"{c.value:.3g} of {c.limit:.3g}"
