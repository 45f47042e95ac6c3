"""What is left of a rib round its openings for cables and rods, measured on the rib as it is drawn.

An opening that runs into a lightening hole is one hole with it; what is left is then taken round both.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import Point, Polygon

from sparwright.base.check import Check, Step, check
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.controls import Controls
from sparwright.parts.part import Assembly, Plate
from sparwright.parts.ribs import OPENING

METHOD = "measured on the outline and holes of the ribs as they are cut"


@dataclass(frozen=True)
class Left:
    """What is left of a rib at one opening."""

    part: str
    what: str
    edge: float = number("m", "least from the hole to the rib's edge or to another hole of it")


def left_round(assembly: Assembly) -> Iterator[Left]:
    """What is left at each opening of each rib."""
    for part in assembly.parts:
        if not isinstance(part.shape, Plate):
            continue
        for mark in (m for m in part.shape.marks if m.label.startswith(OPENING)):
            holes = [Polygon(h) for h in part.shape.holes]
            own = next(h for h in holes if h.contains(Point(mark.points[0])))
            others = [Polygon(part.shape.outline).exterior, *(h for h in holes if h is not own)]
            yield Left(part.number, mark.label, min(float(own.distance(o)) for o in others))


def opening_checks(controls: Controls, assembly: Assembly) -> Iterator[Check]:
    """The least that is left, against what the designer keeps; none where there is no opening."""
    found = sorted(left_round(assembly), key=lambda f: f.edge)
    if not found:
        return
    kept = controls.opening_edge
    yield check(
        "controls.openings.edge",
        "least of a rib left between an opening for a cable and its edge or another hole",
        Band.exact(found[0].edge) if kept else UNKNOWN,
        kept or 0.0,
        ">=",
        "m",
        part=found[0].part,
        rule="controls.opening_edge (designer's); common practice, no source",
        method=METHOD,
        caveat=found[0].what,
        outside_range="" if kept else "controls.opening_edge says what is kept",
        steps=tuple(Step(f"{f.part}: {f.what}", "least distance", (), f.edge, "m") for f in found[:12]),
    )
