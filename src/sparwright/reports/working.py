"""The working of each critical check: every one that fails, and the lowest two of each kind, step by step."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from sparwright.base.check import Check
from sparwright.margins.estimate import Estimate
from sparwright.reports.asked import Asked
from sparwright.reports.cases import broken
from sparwright.reports.page import Amount, Block, Column, Paragraph, Section, Steps, Table, Working
from sparwright.reports.weakest import kind_of, ranked

EACH = 2
SAME = 2e-3
KINDS = ("tubes", "struts", "caps", "webs", "buckling", "glue", "wires", "lugs", "pins", "bolts", "whole frame")


def critical(checks: Iterable[Check], each: int = EACH) -> Mapping[str, list[Check]]:
    """By kind: every check that fails, and of the rest as many as make the lowest `each`, least margin first."""
    found: dict[str, list[Check]] = {}
    for c in sorted(ranked(checks), key=lambda c: (c.verdict != "fail", c.margin if c.margin == c.margin else 9e9)):
        own = found.setdefault(kind_of(c), [])
        if c.verdict == "fail" or len(own) < each:
            own.append(c)
    order = [*KINDS, *(k for k in found if k not in KINDS)]
    return {k: found[k] for k in order if k in found}


def working_section(asked: Asked, estimates: tuple[Estimate, ...]) -> Section:
    """Section 8."""
    beside = {id: e for e in estimates for id in e.beside}
    parts = [Section("By hand", tuple(_by_hand(estimates)))]
    for kind, checks in critical(asked.checks).items():
        held = (Working(c, beside[c.id].steps[-2:] if c.id in beside else (), gap(c)) for c in checks)
        parts.append(Section(kind.capitalize(), tuple(held)))
    words = Paragraph(
        "Each line gives its formula as the source prints it, the numbers put in, and the result; numbers in the "
        "designer's units, SI in brackets. "
        "Inner forces are the frame's at the place named, at ultimate load unless a line says limit. What one line "
        "gives, the next ones use."
    )
    return Section("Working of the critical checks", (words,), tuple(parts))


def gap(c: Check) -> str:
    """What is to be said where the working's last use is not the check's number; empty where it is, or has none."""
    last = next((s.value for s in reversed(c.steps) if s.title.startswith("use of its")), math.nan)
    if not (math.isfinite(last) and math.isfinite(c.value)) or abs(last - c.value) <= SAME * abs(c.value):
        return ""
    return (
        f"The working ends at {last:.3f} and the check stands at {c.value:.3f}: something that the check counts is not "
        "among these lines."
    )


def _by_hand(estimates: tuple[Estimate, ...]) -> Iterable[Block]:
    yield Paragraph(
        "Nobody can follow a frame's solution by hand, so beside what it gives stands an estimate that any engineer "
        "can work out: statics and "
        "beams on rigid supports, from the loads of the case alone. It leaves out what the frame does besides, so a "
        "ratio near 1 says that "
        "nothing is grossly wrong, not that either is exact."
    )
    if not estimates:
        yield Paragraph("No estimate is made for this model.", "note")
    for unit in dict.fromkeys(e.unit for e in estimates):
        own = tuple(
            (
                e.title,
                broken(e.case),
                Amount(e.by_hand),
                Amount(e.ours),
                f"{e.ratio:.2f}" if e.ratio == e.ratio else "",
                e.why or e.leaves_out,
            )
            for e in estimates
            if e.unit == unit
        )
        yield Table(
            (
                Column("what", share=1.6),
                Column("case", share=1.4),
                Column("by hand", unit, 0.0, True),
                Column("frame", unit, 0.0, True),
                Column("ratio", share=0.0, figures=True),
                Column("left out, or why there is none", share=2.0),
            ),
            own,
        )
    yield from (Steps(f"{e.title}, case {e.case}", e.steps) for e in estimates if e.steps)
