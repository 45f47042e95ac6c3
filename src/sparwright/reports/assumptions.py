"""The assumptions a strength report rests on, in the words of the modules that make them.

Each row names a module and how a sentence of its own words begins, so that the register says what the program does: a
module that says it no longer is a fault that the reading raises. Their numbers are data/assumptions.toml's.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from importlib import import_module

from sparwright.data.assumptions import assumptions
from sparwright.margins.assumed import shown
from sparwright.reports.asked import Asked
from sparwright.reports.page import Column, Paragraph, Section, Table

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


def values() -> tuple[tuple[str, ...], ...]:
    """(key, what, used, low, high, where it enters, source) of the register; empty where there is no number."""
    found = (r for r in assumptions().values())
    return tuple((r.key, r.title, *map(shown, (r.used, r.low, r.high)), r.enters, str(r.source)) for r in found)


def assumptions_section(asked: Asked) -> Section:
    """What is assumed in the modules' own words, then the register with its numbers and their ranges."""
    said = tuple((a.about, sentence(a.module, a.begins), a.module.replace(".", "/")) for a in REGISTER)
    return Section(
        "Assumptions",
        (
            Paragraph(
                "What the frame and the checks take for granted. Whoever disagrees with one knows which result to "
                "ask about. The command `assumptions` proves the model again with each end of each range."
            ),
            Table((Column("about", share=0.7), Column("what is assumed", share=4.0), Column("where", share=1.4)), said),
            Table(
                (
                    Column("assumption", share=2.6),
                    *(Column(head, share=0.0, figures=True) for head in ("used", "from", "to")),
                    Column("where it enters", share=2.4),
                    Column("source", share=1.6),
                ),
                tuple(v[1:] for v in values()),
                "register of assumptions",
            ),
            *(Paragraph(f"Not in the frame: {u}", "note") for u in _left_out(asked)),
        ),
    )


def _left_out(asked: Asked) -> tuple[str, ...]:
    return asked.ran.margins.answer.skeleton.unknowns if asked.ran.margins.answer else ()
