"""Whether an exhaust makes sense: pipes that begin and end at something, and one end that is open."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.exhaust import ENGINE, OPEN, Exhaust
from sparwright.family.tables import BAD

RUN = 'run = { port = ["-16 in", "4 in", "3 in"], end = ["-16 in", "9 in", "3 in"] }'


def check_exhaust(values: Mapping[str, Any], whole: Entry, faults: Faults) -> None:
    """Note what is wrong with the exhaust of a model."""
    exhaust = values.get("exhaust")
    if exhaust is None or exhaust is BAD:
        return
    assert isinstance(exhaust, Exhaust)
    table, names = whole.nearest("exhaust"), [s.name for s in exhaust.silencers]
    for pipe in exhaust.pipes:
        spot = table["pipes"][pipe.name]
        for key, others in (("begins", ENGINE), ("ends", OPEN)):
            said = getattr(pipe, key)
            if said not in (others, *names):
                faults.wrong(
                    spot.nearest(key), f"is {others}, or a silencer of the exhaust{hint(said, [others, *names])}"
                )
        if len(pipe.run) < 2:
            faults.add(spot.nearest("run"), "a pipe has at least two places", f"{len(pipe.run)}", RUN)
        elif len(set(pipe.run.values())) < len(pipe.run):
            faults.add(spot.nearest("run"), "two of its places are one", example=RUN)
        if pipe.wall >= pipe.outside / 2:
            faults.wrong(spot.nearest("wall"), "must be less than half the outside diameter")
        if pipe.pair and any(y <= 0 for _, y, _ in list(pipe.run.values())[:1]):
            faults.wrong(spot.nearest("pair"), "is of a pipe that begins on the right: its first buttline is positive")
    if all(p.ends != OPEN for p in exhaust.pipes):
        faults.add(table.nearest("pipes"), "no pipe ends open: the exhaust leads nowhere", example='ends = "open"')
