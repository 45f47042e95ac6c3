"""Which parts keep the head off the ground when it lies on its back: marked, so that nobody takes them for less."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from sparwright.family.model import Model
from sparwright.parts.flat_sheets import tube_numbers
from sparwright.parts.frame import frame_tubes
from sparwright.parts.part import Part
from sparwright.parts.struts import strut_number

TURNOVER = "keeps the head off the ground upside down"


def turnover_numbers(model: Model) -> tuple[str, ...]:
    """Part numbers of the struts and tubes of the frame that the file names for it, in its order."""
    if model.seat is None:
        return ()
    struts, known = {s.name: s for s in model.struts}, {t.number: t for t in frame_tubes(model)}
    found = []
    for name in model.seat.turnover_on:
        found += [strut_number(model, struts[name])] if name in struts else tube_numbers(model, name, known)
    return tuple(found)


def turnover_marked(model: Model, parts: Iterable[Part]) -> Iterator[Part]:
    """Every part, those of the turnover structure with a note that says so."""
    numbers = set(turnover_numbers(model))
    for part in parts:
        marked = part.number in numbers
        yield replace(part, note="; ".join(x for x in (part.note, TURNOVER) if x)) if marked else part
