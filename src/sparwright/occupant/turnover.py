"""What keeps the head off the ground upside down: the struts and tubes the file names for it, `occupant.turnover`.

    off what carries it     least distance, seen from the side, of the turnover point to the named struts and tubes and
                            to the sections of the wings that the named struts end on; nought within them

By geometry; nothing is said of their strength upside down.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sparwright.base.check import Check, check
from sparwright.base.source import Band
from sparwright.data.occupant import rule
from sparwright.family.model import Model
from sparwright.occupant.cockpit import wings_over
from sparwright.parts.frame import frame_tubes
from sparwright.parts.struts import strut_parts
from sparwright.parts.turnover import turnover_numbers
from sparwright.shape.tube import Tube

METHOD = "bodies of the named parts seen from the side (occupant/turnover.py)"
WEAK = "the strength of these parts upside down is not proved"


def carried_by(model: Model) -> BaseGeometry:
    """Everything that carries the turnover point, from the side, station and waterline in m."""
    seat = model.seat
    assert seat is not None
    numbers = turnover_numbers(model)
    tubes = [p.shape for p in (*strut_parts(model), *frame_tubes(model)) if p.number in numbers]
    lines = [shapely.LineString(t.path[:, [0, 2]]).buffer(t.outside / 2) for t in tubes if isinstance(t, Tube)]
    ends = {e.wing for s in model.struts if s.name in seat.turnover_on for e in s.ends if e.wing}
    return shapely.union_all([*lines, *(w for name, w in wings_over(model).items() if name in ends)])


def turnover_checks(model: Model) -> Iterator[Check]:
    """Whether the turnover point stands on what the file names; nothing where it names nothing."""
    seat = model.seat
    if seat is None or seat.turnover is None or not seat.turnover_on:
        return
    at = np.array(seat.turnover)
    off = float(carried_by(model).distance(shapely.Point(at[0], at[2])))
    names = turnover_numbers(model)
    yield check("occupant.turnover", rule("turnover").title, Band.exact(off), rule("turnover").value,
                rule("turnover").sense, "m", part=names[0], rule=str(rule("turnover").source), method=METHOD,
                caveat=f"carried by {', '.join(names)}; {WEAK}")  # fmt: skip
