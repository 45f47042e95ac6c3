"""The assumptions a strength report rests on, in the words of the modules that make them.

Each row names a module and how a sentence of its own words begins, so that the register says what the program does: a
module that says it no longer is a fault that the reading raises. A result `sensitivity.KEY` fills the last column.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib import import_module

from sparwright.base.check import Result
from sparwright.data.factors import table
from sparwright.margins.wood_spars import CROSSED, PLIES
from sparwright.reports.asked import Asked
from sparwright.reports.page import Cell, Column, Paragraph, Section, Table
from sparwright.structure.answered import ULTIMATE
from sparwright.structure.masses import NEAREST

SENTENCE = re.compile(r"(?<=\.)\s+(?=[A-Z])")


@dataclass(frozen=True)
class Assumption:
    """One assumption: what it is about, where its words are, how they begin."""

    key: str
    about: str
    module: str  # below sparwright
    begins: str


REGISTER = (
    Assumption("balance", "loads", "structure.laid", "Weight is part of it"),
    Assumption("spinning", "loads", "structure.laid", "Centrifugal forces"),
    Assumption("carriers", "loads", "structure.masses", "Each lump lies on the nodes that carry it"),
    Assumption("gust", "loads", "loads.gust", "Several wings are taken as one"),
    Assumption("wire_gone", "loads", "structure.answered", "One wire or its fitting gone"),
    Assumption("second_order", "frame", "structure.answered", "Every case is solved twice"),
    Assumption("welded", "frame", "structure.fuselage", "Tubes are welded where they meet"),
    Assumption("feet", "frame", "structure.fuselage", "The mount's feet"),
    Assumption("axle", "frame", "structure.fuselage", "The axle rises in its guides"),
    Assumption("pinned", "frame", "structure.bracing", "A strut's pin lets it turn about one line"),
    Assumption("wires", "frame", "structure.bracing", "A wire carries tension only"),
    Assumption("roots", "frame", "structure.bracing", "A root is held by its pin"),
    Assumption("ribs", "frame", "structure.wings", "A rib is held stiffly to the spars"),
    Assumption("splices", "frame", "structure.wings", "At a splice the spar runs on"),
    Assumption("datum", "frame", "structure.whole", "Every case is balanced by its own inertia"),
    Assumption("near_weld", "tubes", "margins.tubes", "A welded tube is taken at"),
    Assumption("no_amplifier", "tubes", "margins.tubes", "Moments are the frame's at ultimate load"),
    Assumption("sides", "tubes", "margins.tubes", "Right and left are one check"),
    Assumption("torque_share", "spars", "margins.spar_run", "The spar's box and the skin"),
    Assumption("flat_web", "spars", "margins.wood_spars", "A ply web stays flat"),
    Assumption("set", "spars", "margins.wood_spars", "Bending and thrust at ultimate load"),
    Assumption("metal_flat", "spars", "margins.metal_spars", "Nothing may be buckled at limit load"),
    Assumption("glue_line", "glue", "strength.members.glue", "Wood, not glue, is taken as the weaker"),
    Assumption("fitting", "joints", "margins.braces", "Loads are the frame's pulls at ultimate load"),
    Assumption("shares", "joints", "margins.braces", "A pair of lugs"),
    Assumption("bolts", "joints", "margins.braces", "At a spar all that ends there"),
)


def sentence(module: str, begins: str) -> str:
    """The sentence of a module's own words that begins so. KeyError where the module does not say it.

    >>> sentence("structure.bracing", "A wire carries")
    'A wire carries tension only.'
    """
    said = (import_module(f"sparwright.{module}").__doc__ or "").split("\n\n")
    for one in (s for paragraph in said for s in SENTENCE.split(" ".join(paragraph.split()))):
        if one.startswith(begins):
            return one
    raise KeyError(f"{module} does not say '{begins} ...'")


def values() -> tuple[tuple[str, str, str, str], ...]:
    """(key, what, number, source) of the factors and shares that are numbers."""
    found = [
        ("ultimate", "ultimate load over limit load", f"{ULTIMATE:g}", "cfr-23-2014 23.303 (read)"),
        ("plies", "plies of a web", f"{PLIES}", "common practice, no source"),
        (
            "crossed",
            "degrees from the web's face grain to the cap's, at the glue",
            f"{CROSSED:g}",
            "margins/wood_spars",
        ),
        ("nearest", "nodes that carry a thing nobody says the holder of", f"{NEAREST}", "common practice, no source"),
    ]
    for kind, words in (
        ("fixity", "end fixity c"),
        ("special", "factor besides 1.5"),
        ("cable_end", "efficiency of a cable's end"),
    ):
        found += [
            (f"{kind}.{f.key}", f"{words}: {f.title}", f"{f.used:g}", str(f.source)) for f in table(kind).values()
        ]
    return tuple(found)


def assumptions_section(asked: Asked) -> Section:
    """The register: what is assumed, in the modules' own words, and the numbers that are assumed."""
    effects = {r.id.removeprefix("sensitivity."): r for r in asked.ran.results if r.id.startswith("sensitivity.")}
    words: list[tuple[str, ...]] = [
        (a.about, sentence(a.module, a.begins), a.module.replace(".", "/"), _effect(effects, a.key)) for a in REGISTER
    ]
    numbers: list[tuple[str, ...]] = [
        (what, value, source, _effect(effects, key)) for key, what, value, source in values()
    ]
    if not effects:
        words, numbers = [w[:-1] for w in words], [n[:-1] for n in numbers]
    last = (Column("what it changes", share=1.2),) if effects else ()
    return Section(
        "Assumptions",
        (
            Paragraph(
                "What the frame and the checks take for granted. Whoever disagrees with one knows which result to "
                "ask about."
            ),
            Table(
                (Column("about", share=0.7), Column("what is assumed", share=4.0), Column("where", share=1.4), *last),
                _rows(words),
            ),
            Table(
                (
                    Column("factor or share", share=2.4),
                    Column("value", share=0.0, figures=True),
                    Column("source", share=2.0),
                    *last,
                ),
                _rows(numbers),
                "assumed numbers",
            ),
            *(Paragraph(f"Not in the frame: {u}", "note") for u in _left_out(asked)),
        ),
    )


def _rows(rows: Sequence[tuple[str, ...]]) -> tuple[tuple[Cell, ...], ...]:
    return tuple(tuple(r) for r in rows)


def _left_out(asked: Asked) -> tuple[str, ...]:
    return asked.ran.margins.answer.skeleton.unknowns if asked.ran.margins.answer else ()


def _effect(effects: Mapping[str, Result], key: str) -> str:
    r = effects.get(key)
    return f"{r.title}: {r.value:.3g} {'' if r.unit == '1' else r.unit}".strip() if r else ""
