"""The aeroplane tied down in a wind: the air's forces, less the weight, on ropes that pull and wheels that push.

    sum of air, weight, ropes, wheels = 0, force and moment           ropes s >= 0 towards their pegs, wheels s >= 0 up

The wheels roll and slide freely: only ropes hold along the ground (on the safe side for the ropes: brakes and friction
would help). Of all ways to stand still the one with the least sum of squares is taken (supports.py): ropes and wheels
give alike, ropes are not drawn tight beforehand. Pegs lie in level ground, by the attitude on three wheels. Where no
pull of ropes alone can hold it the case is unknown and says what is left. The air's forces: ground_wind.py. What each
rope pulls is told. Source: statics; 14 CFR 23.415(c) (read) for the wind.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.family.model import Model
from sparwright.family.parked import Rope
from sparwright.ground.pose import contact
from sparwright.loads.besides import FROM, REVERSED
from sparwright.loads.case import LoadCase, Pushes
from sparwright.loads.code import asked
from sparwright.loads.ground_forces import Standing, standing
from sparwright.loads.ground_wind import from_ahead, from_behind, from_side
from sparwright.loads.laid_out import LaidOut
from sparwright.loads.parked import parked, points, unit
from sparwright.loads.places import Taken
from sparwright.loads.ready import Ready
from sparwright.loads.supports import borne
from sparwright.loads.together import joined, pushes, resultant


def tied_down(ready: Ready, case: LoadCase) -> LaidOut:
    """Tied down in the wind of the case. ValueError where the ropes are not known or cannot hold it."""
    ropes = parked(ready.model, "ropes").ropes
    on = standing(ready.model, case, True)
    air = blown(ready, case, on)
    found = [x for rope in ropes for x in strung(ready.model, rope, on)]
    wheels = list(_wheels(on))
    held, pull = _held(case, on, air.pushes, [*found, *wheels])
    told = ", ".join(f"{_called(t)} {s:.0f} N" for (t, _), s in zip(found, pull, strict=False))
    notes = (*air.notes, *((on.note,) if on.note else ()), f"ropes pull: {told}")
    return LaidOut(case, joined([air.pushes, held]), air.spans, notes, "", air.alpha, air.elevator)


def blown(ready: Ready, case: LoadCase, on: Standing) -> LaidOut:
    """The air alone, from the side that the case says (rad off the nose, right positive). ValueError for another."""
    off = asked(case.steps, FROM)
    if math.isclose(abs(off), math.pi / 2):
        return from_side(ready, case, off < 0)
    if math.isclose(off, math.pi):
        return from_behind(ready, case, on, asked(case.steps, REVERSED))
    if off == 0:
        return from_ahead(ready, case, on)
    raise ValueError("wind on the ground is worked out from ahead, from behind and from either side only")


def strung(model: Model, rope: Rope, on: Standing) -> Iterator[tuple[Taken, np.ndarray]]:
    """(where it holds, unit vector to its peg) of a rope and its twin. ValueError for a point that is under ground."""
    found = list(points(model, rope))
    if len(found) == 1 and rope.outwards:
        found *= 2
    for i, (name, at) in enumerate(found):
        place, out = np.array(at), 1.0 if i == 0 else -1.0
        height = float(on.up @ place) - on.pose.ground
        if height <= 0:
            raise ValueError(f"a rope's point, {_called((name, at))}, is not above the ground")
        to_peg = -height * on.up - rope.ahead * on.aft + out * rope.outwards * np.array([0.0, 1.0, 0.0])
        yield (name, at), unit(to_peg)


def _wheels(on: Standing) -> Iterator[tuple[Taken, np.ndarray]]:
    for wheel in (on.feet.right, on.feet.left, on.feet.tail):
        side = "" if wheel.place[1] == 0 else ":R" if wheel.place[1] > 0 else ":L"
        x, y, z = contact(wheel, on.up)
        yield (f"wheel:{wheel.name}{side}", (float(x), float(y), float(z))), on.up


def _held(case: LoadCase, on: Standing, air: Pushes, by: list[tuple[Taken, np.ndarray]]) -> tuple[Pushes, np.ndarray]:
    """(forces of ropes and wheels, how hard each)."""
    place, way = np.array([at for (_, at), _ in by]), np.array([w for _, w in by])
    weight = -case.mass * GRAVITY * on.up
    force, moment = resultant(air)
    centre = np.array([case.station, 0.0, case.waterline])
    s = borne(place, way, force + weight, moment + np.cross(centre, weight), "ropes and wheels")
    pulls = s[:, None] * way
    return pushes(place, pulls, 0 * pulls, [name for (name, _), _ in by]), s


def _called(taken: Taken) -> str:
    kind, *rest = taken[0].split(":")
    return " ".join(rest).replace("_", " ") if kind in ("node", "spar") else taken[0].replace(":", " ")
