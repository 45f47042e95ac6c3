"""The strength report of a model: what is weakest, and all that a licensed engineer needs to follow it by hand."""

from __future__ import annotations

from sparwright.base.check import overall
from sparwright.margins.by_hand import estimates
from sparwright.mass.record import Loading
from sparwright.reports.aeroplane import envelope_section, weighed_section
from sparwright.reports.allowables import allowables_section
from sparwright.reports.asked import Asked
from sparwright.reports.cases import cases_section, loads_section
from sparwright.reports.frame import frame_section
from sparwright.reports.later import later_section
from sparwright.reports.page import Amount, Cell, Paper, Section
from sparwright.reports.sources import sources_section
from sparwright.reports.weakest import ranked, weakest_section
from sparwright.reports.working import working_section


def strength_paper(asked: Asked) -> Paper:
    """The report. Every number of it is of the run; nothing is worked out here but the estimates by hand."""
    answer = asked.ran.margins.answer
    by_hand = estimates(asked.model, answer) if answer else ()
    sections = (
        weakest_section(asked),
        weighed_section(asked),
        envelope_section(asked),
        cases_section(asked),
        loads_section(asked),
        frame_section(asked),
        allowables_section(asked),
        working_section(asked, by_hand),
        later_section(asked),
    )
    cited = sources_section(b for s in sections for b in s.all_blocks())
    return _paper(asked, (*sections, cited))


def _paper(asked: Asked, sections: tuple[Section, ...]) -> Paper:
    r = asked.ran
    return Paper(
        family=r.family,
        model=r.model,
        title=asked.model.title,
        state=in_words(asked),
        verdict=overall(asked.checks),
        facts=_facts(asked),
        units=asked.units,
        program=r.program,
        file_sha256=r.file_sha256,
        sections=sections,
    )


def in_words(asked: Asked) -> str:
    """The verdict in a few sentences."""
    checks = asked.checks
    count = {v: sum(c.verdict == v for c in checks) for v in ("pass", "fail", "unknown")}
    if not checks:
        return "No check of strength was made, so nothing is known to hold."
    counts = f"Of {len(checks)} checks {count['pass']} pass, {count['fail']} fail, {count['unknown']} are unknown."
    first = ranked(checks)[0]
    if first.verdict == "fail":
        return f"It does not hold as drawn. {counts} Furthest beyond its limit: {first.title}."
    if count["unknown"]:
        return f"It is not known to hold. {counts} Section 1 says what is missing."
    return f"It holds in every case that is worked out. {counts} Least margin: {first.title}."


def _facts(asked: Asked) -> tuple[tuple[str, Cell, str], ...]:
    limits, e, b = asked.model.limits, asked.ran.envelope, asked.ran.balance
    corners: list[Loading] = sorted(b.cases, key=lambda c: c.mass)
    facts: list[tuple[str, Cell, str]] = [
        ("greatest take-off mass", Amount(limits.max_mass), "kg"),
        ("empty mass, as designed", Amount(b.empty.value), "kg"),
        *((f"lightest loading, {corners[0].name}", Amount(corners[0].mass), "kg") for _ in corners[:1]),
        ("centre of gravity, of the mean chord", f"{limits.forward_cg:.1%} to {limits.aft_cg:.1%}", ""),
        ("limit load factors", f"{limits.n_positive:+.2f} and {limits.n_negative:+.2f}".replace("-", "−"), ""),
        ("code of the load cases", e.code.key, ""),
        *((f"V{k}, equivalent", Amount(s.value), "m/s") for k, s in e.speeds.items()),
        ("program", asked.ran.program, ""),
        ("design file, sha256", " ".join(asked.ran.file_sha256[i : i + 16] for i in range(0, 64, 16)), ""),
    ]
    return tuple(facts)
