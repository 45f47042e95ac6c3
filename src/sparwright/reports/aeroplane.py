"""The aeroplane as weighed, and the code and envelope it is designed to."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sparwright.charts.envelope import envelope_picture
from sparwright.charts.page import Heading
from sparwright.charts.units import UNITS
from sparwright.loads.diagram import Envelope
from sparwright.loads.gust import gust_steps
from sparwright.mass.record import Loading
from sparwright.reports.asked import Asked
from sparwright.reports.page import PART, Amount, Block, Column, Figure, Paragraph, Section, Steps, Table

LETTERS = {"A": "VA, manoeuvring", "C": "VC, cruise", "D": "VD, dive"}
_LOADINGS = (
    Column("loading", share=2.2),
    Column("mass", "kg", 0.0, True),
    Column("station", "m", 0.0, True),
    Column("waterline", "m", 0.0, True),
    Column("of chord", PART, 0.0, True),
)
_INERTIAS = (
    Column("loading", share=2.2),
    Column("roll", "kg m2", 0.0, True),
    Column("pitch", "kg m2", 0.0, True),
    Column("yaw", "kg m2", 0.0, True),
)
_GROUPS = (
    Column("group", share=2.0),
    Column("mass", "kg", 0.0, True),
    Column("low", "kg", 0.0, True),
    Column("high", "kg", 0.0, True),
)


def weighed_section(asked: Asked) -> Section:
    """Section 2."""
    loadings = [(b.laden.words, b.laden.loading) for b in asked.ran.envelope.bounds.values()]
    loadings += [(c.name, c) for c in asked.ran.balance.cases]
    seen: dict[str, Loading] = {}
    for words, loading in loadings:
        seen.setdefault(words, loading)
    return Section(
        "The aeroplane as weighed",
        (
            Paragraph(
                "Masses are summed part by part, each with its band. Stations count aft, waterlines up from the "
                "thrust line; the last column is the centre of gravity behind the leading edge of the mean chord."
            ),
            Table(_LOADINGS, tuple(_placed(w, x) for w, x in seen.items()), "masses and centres of gravity"),
            Table(
                _INERTIAS,
                tuple(_turned(w, x) for w, x in seen.items()),
                "inertia about each centre of gravity; what is bought, allowed for or aboard counts as points",
            ),
            Table(_GROUPS, tuple(_groups(asked)), "the empty aeroplane by group, with bands"),
        ),
    )


def _placed(words: str, x: Loading) -> tuple[str | Amount, ...]:
    return words, Amount(x.mass), Amount(x.station), Amount(x.waterline), Amount(x.fraction)


def _turned(words: str, x: Loading) -> tuple[str | Amount, ...]:
    return words, *(Amount(float(x.inertia[i, i])) for i in range(3))


def _groups(asked: Asked) -> Iterator[tuple[str | Amount, ...]]:
    for r in asked.ran.results:
        if r.id.startswith("mass.group.") or r.id == "mass.empty":
            yield r.title.removeprefix("mass, "), Amount(r.value), Amount(r.low), Amount(r.high)


def envelope_section(asked: Asked) -> Section:
    """Section 3."""
    e = asked.ran.envelope
    blocks: list[Block] = [Paragraph(f"Load cases are those of {e.code.key}, paragraphs as cited with each number.")]
    if e.why:
        blocks.append(Paragraph(f"Unknown: {e.why}.", "note"))
        return Section("Code and envelope", tuple(blocks))
    if e.caveat:
        blocks.append(Paragraph(f"Outside the methods' range: {e.caveat}.", "note"))
    heading = Heading(f"{asked.model.name}: load factor over speed", "", asked.origin)
    blocks += [
        Figure(envelope_picture(e, heading, UNITS[asked.units]), "What must be borne, all loadings together."),
        Table(
            (
                Column("limit load factor", share=2.0),
                Column("designed to", figures=True),
                Column("code asks for", figures=True),
            ),
            (
                ("upwards", f"{e.positive:.2f}", f"{e.asked[0]:.2f}"),
                ("downwards", f"{e.negative:.2f}".replace("-", "−"), f"{e.asked[1]:.2f}".replace("-", "−")),
            ),
        ),
        Table(
            (
                Column("design speed, equivalent", share=2.0),
                Column("value", "m/s", 0.0, True),
                Column("least by the code", "m/s", 0.0, True),
                Column("stands on", share=2.0),
            ),
            tuple(_speeds(e)),
        ),
        *(Steps(LETTERS[k], s.steps) for k, s in e.speeds.items() if s.steps),
        Table(
            (
                Column("gust, loading", share=2.0),
                Column("at VC up", figures=True),
                Column("down", figures=True),
                Column("at VD up", figures=True),
                Column("down", figures=True),
            ),
            tuple(_gusts(e)),
            "load factors in gusts, before the stall cuts them off",
        ),
    ]
    first = next(iter(e.bounds.values()), None)
    if first:
        blocks.append(Steps(f"Gust at VC, {first.laden.words}", gust_steps(e.code, e.cell, first.cruise)))
    return Section("Code and envelope", tuple(blocks))


def _speeds(e: Envelope) -> Iterator[tuple[str | Amount, ...]]:
    for key, s in e.speeds.items():
        stands = "the designer's choice" if s.chosen else "the least the code allows"
        yield LETTERS[key], Amount(s.value), Amount(s.least), f"{stands}; {e.code.cite(*s.keys)}"
    if math.isfinite(e.level):
        yield "VH, greatest level", Amount(e.level), Amount(math.nan), "performance"


def _gusts(e: Envelope) -> Iterator[tuple[str, ...]]:
    for b in e.bounds.values():
        values = (b.cruise.up, b.cruise.down, b.dive.up, b.dive.down)
        yield b.laden.words, *(f"{v:.2f}".replace("-", "−") for v in values)
