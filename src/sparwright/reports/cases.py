"""The load cases as a table, what is not worked out and why, and the air's load along each wing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.charts.page import Heading
from sparwright.charts.units import UNITS
from sparwright.charts.wing_loads import wing_loads_picture
from sparwright.family.model import spoken
from sparwright.loads.laden import WORDS
from sparwright.loads.laid_out import LaidOut
from sparwright.reports.asked import Asked
from sparwright.reports.page import Amount, Block, Cell, Column, Figure, Paragraph, Section, Table
from sparwright.structure.laid import Laid

_COLUMNS = (
    Column("case", share=2.6),
    Column("paragraph", share=1.2),
    Column("mass", "kg", 0.0, True),
    Column("station", "m", 0.0, True),
    Column("V", "m/s", 0.0, True),
    Column("n asked", figures=True, share=0.45),
    Column("n found", figures=True, share=0.45),
    Column("p, q, r dot, rad/s²", share=1.2, figures=True),
)


WORDS_OF = (
    "Every case is balanced by the aeroplane's own inertia: what the forces from outside give is its acceleration, and "
    "every mass presses against it. n found is what the laid out forces give along z in units of g; it differs from n "
    "asked where the rule asks for something else (a force on one surface alone, a landing). Angular accelerations are "
    "of roll, pitch and yaw. Forces are limit loads, times 1.5 for ultimate, but where a case says ultimate."
)
GONE = (
    "Each case is solved as rigged and, where that is part of the model, with: {0}. With one wire or its fitting gone "
    "the flight cases are looked at under the part {1:g} of limit load."
)


def cases_section(asked: Asked) -> Section:
    """Section 4."""
    answer = asked.ran.margins.answer
    done = [x for x in answer.laid if not x.why] if answer else []
    table = Table(_COLUMNS, tuple(_row(x) for x in done), f"{len(done)} cases worked out")
    variants = ", ".join(answer.variants[1:]) if answer else ""
    parts = (
        Section("Not worked out, and why", (_lost(asked),)),
        Section("Cases with a caveat", (_caveats(asked, len(done)),)),
        Section("Variants", (Paragraph(GONE.format(variants or "nothing else", asked.model.limits.wire_gone)),)),
    )
    why = Paragraph("No case is answered: the frame has no answer, and section 1 says why.", "note")
    return Section("Load cases", (Paragraph(WORDS_OF), table if done else why), parts)


def _lost(asked: Asked) -> Table | Paragraph:
    cases = {x.case.key: x.case for x in asked.ran.margins.laid}
    rows = []
    for line in asked.lost:
        head, _, why = line.partition(": ")
        case = cases.get(head.split(",")[0])
        rows.append(
            (
                broken(head),
                case.title if case else "",
                case.rule if case else "",
                broken(_plain(why.removeprefix(f"{head}: "))),
            )
        )
    columns = (Column("case", share=1.4), Column("", share=1.6), Column("paragraph"), Column("why", share=2.0))
    return Table(columns, tuple(rows)) if rows else Paragraph("Every case is worked out.")


def _caveats(asked: Asked, done: int) -> Table | Paragraph:
    doubts = _doubts(asked.ran.margins.laid, {line.partition(": ")[0] for line in asked.lost})
    columns = (Column("caveat", share=2.0), Column("of", share=0.0, figures=True), Column("cases", share=2.0))
    rows = tuple((why, f"{len(keys)}", _some(keys, done)) for why, keys in doubts.items())
    return Table(columns, rows) if rows else Paragraph("None.")


def _doubts(laid: Sequence[LaidOut], lost: set[str]) -> Mapping[str, list[str]]:
    """By each thing that is to be said of a case, the keys of the cases it is said of; not those that are lost."""
    found: dict[str, list[str]] = {}
    for x in laid:
        whole = "; ".join((x.case.caveat, x.outside)).replace("; [[", ", [[")  # what settles it stays with what is open
        said = dict.fromkeys(p for p in whole.split("; ") if p)
        for piece in said if x.case.key not in lost else ():
            found.setdefault(piece, []).append(x.case.key)
    return dict(sorted(found.items(), key=lambda kv: -len(kv[1])))


def _some(keys: Sequence[str], of: int) -> str:
    """Keys told short: those that differ by their loading alone are one, with how many they are."""
    if len(keys) == of:
        return "every case"
    found: dict[str, int] = {}
    for key in keys:
        stem, _, last = key.rpartition(".")
        short = stem if last in WORDS else key
        found[short] = found.get(short, 0) + 1
    return ", ".join(broken(k) + (f" ({n} loadings)" if n > 1 else "") for k, n in found.items())


def broken(key: str) -> str:
    """A key that may be broken at its points."""
    return key.replace(".", ".\u200b").replace("_", "_\u200b")


def _plain(why: str) -> str:
    return why[:1].upper() + why[1:]


def _row(x: Laid) -> tuple[Cell, ...]:
    c = x.case
    turning = ", ".join(f"{v:.1f}".replace("-", "−") if abs(v) >= 0.05 else "0" for v in x.turning)
    found = float(x.acceleration[2]) / GRAVITY
    level = "" if c.level == "limit" else " (ultimate)"
    return (
        f"{broken(c.key)}: {c.title}{level}",
        c.rule,
        Amount(c.mass),
        Amount(c.station),
        Amount(c.speed) if c.speed else "",
        _two(c.factor),
        _two(found),
        turning,
    )


def _two(value: float) -> str:
    return f"{value + 0.0 if abs(value) >= 0.005 else 0.0:.2f}".replace("-", "−") if np.isfinite(value) else ""


def loads_section(asked: Asked) -> Section:
    """Section 5."""
    titles = {x.case.key: x.case.title for x in asked.ran.margins.laid}
    return Section("Air loads", tuple(_loads(asked, titles)))


def _loads(asked: Asked, titles: Mapping[str, str]) -> Iterator[Block]:
    yield Paragraph(
        "What the air does along each wing in the cases that govern: most and least load square to the chord, along "
        "it, and in torsion "
        "about the quarter chord. The lattice of all surfaces together gives the load, so one wing's wash on "
        "another is in it."
    )
    wings = [w.name for w in asked.model.wings]
    for name in wings:
        spans = [s for x in asked.ran.margins.laid for s in x.spans if s.surface == name and not x.outside]
        heading = Heading(f"{asked.model.name}: air loads, {spoken(name)}", "Limit loads.", asked.origin)
        picture = wing_loads_picture(heading, spans, UNITS[asked.units], titles)
        yield Figure(picture, f"Air loads along the {spoken(name)}.")
    yield Table(
        (
            Column("half", share=1.2),
            Column("case", share=2.4),
            Column("square to chord", "N", 0.0, True),
            Column("along chord, aft", "N", 0.0, True),
            Column("torsion, nose up", "N m", 0.0, True),
        ),
        tuple(_halves(asked, titles)),
        "greatest and least of each surface, one half, limit loads",
    )


def _halves(asked: Asked, titles: Mapping[str, str]) -> Iterator[tuple[Cell, ...]]:
    spans = [s for x in asked.ran.margins.laid for s in x.spans if np.isfinite(s.normal).all()]
    for surface in dict.fromkeys(s.surface for s in spans):
        own = [s for s in spans if s.surface == surface]
        totals = np.array([float(s.normal @ s.width) for s in own])
        for word, i in (("most", int(totals.argmax())), ("least", int(totals.argmin()))):
            s = own[i]
            yield (
                f"{surface.replace('_', ' ')}, {word}",
                f"{broken(s.case)}: {titles.get(s.case, '')}",
                Amount(totals[i]),
                Amount(float(s.chordwise @ s.width)),
                Amount(float(s.torsion @ s.width)),
            )
