"""Everything of a model on the ground worked out, before it is told in results and checks."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import partial

import numpy as np

from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.model import Model
from sparwright.ground.balance import Lever, Stands, lever, parked, stands
from sparwright.ground.clearance import all_heights, bank_at_touch, by_the_wheel, clouds, tyre_to
from sparwright.ground.pose import Feet, Pose, Stood, lame, level, stood, tail_down, tilted_down, tilted_level
from sparwright.mass.record import Balance
from sparwright.mass.weigh import extremes

CORNERS = ("heaviest", "lightest", "foremost", "aftmost")
POSES = ("level", "tail_down", "flat", "banked")


@dataclass(frozen=True)
class Parked:
    """Standing with nobody aboard and all that lies ahead of the main wheels filled up."""

    mass: float = number("kg", "mass")
    station: float = number("m", "centre of gravity, station")
    lever: Lever | None = None


@dataclass(frozen=True)
class Touch:
    """The tilt at which something but a wheel first touches."""

    bank: float = number("rad", "tilt over one main wheel; NaN where nothing touches before 80 deg", math.nan)
    what: str = ""


@dataclass(frozen=True)
class OnGround:
    """A model on the ground. `why` says why nothing is known; `why_flat` and `why_bank` why those poses are not."""

    model: Model
    stood: Stood
    poses: Mapping[str, Pose] = field(default_factory=dict)  # rest, and `flat`
    heights: Mapping[str, Mapping[str, Band]] = field(default_factory=dict)  # pose, then what: m
    touches: Mapping[str, Touch] = field(default_factory=dict)  # level, tail_down
    tyre: tuple[float, str] = (math.nan, "")  # m to the nearest wing, its name
    corners: Mapping[str, Stands] = field(default_factory=dict)
    parked: Parked | None = None
    why: str = ""
    why_flat: str = ""
    why_bank: str = ""

    def height(self, pose: str, what: str) -> Band:
        """Lowest height of something in a pose, m; unknown where the pose is."""
        return self.heights.get(pose, {}).get(what, UNKNOWN)


def work_out(model: Model, balance: Balance) -> OnGround:
    """A model on the ground; without springing in the file nothing is known and `why` names the key."""
    on = stood(model)
    if on.why or on.hanging is None or on.rest is None:
        return OnGround(model, on, why=on.why, why_flat=on.why, why_bank=on.why)
    rest, hanging = on.rest, on.hanging
    bank = model.ground.bank if model.ground else None
    why_bank = "" if bank is not None else "the file does not say ground.bank"
    poses = {"level": level(rest), "tail_down": tail_down(rest), **({"flat": lame(on.flat)} if on.flat else {})}
    both = ((rest, poses["level"], poses["tail_down"]), (hanging, level(hanging), tail_down(hanging)))
    corners = {name: stands(model, balance, x, both) for name, x in extremes(balance).items()}
    return OnGround(model, on, poses, _heights(model, rest, hanging, poses, bank), _touches(model, rest),
                    _tyre(model, hanging), corners, _parked(model, balance, rest, poses["tail_down"]),
                    why_flat=on.why_flat, why_bank=why_bank)  # fmt: skip


def _heights(
    model: Model, rest: Feet, hanging: Feet, poses: Mapping[str, Pose], bank: float | None
) -> dict[str, dict[str, Band]]:
    """Under weight, up to what they are with nothing on the wheels; banked: the lower of level and tail down."""
    shapes, propeller = clouds(model), model.propeller
    light = {"level": level(hanging), "tail_down": tail_down(hanging)}
    found = {}
    for name, pose in poses.items():
        here = all_heights(pose, shapes, propeller)
        there = all_heights(light[name], shapes, propeller) if name in light else here
        found[name] = {what: _span(here[what], there[what]) for what in here}
    if bank is not None:
        tilted = [all_heights(f(rest, bank), shapes, propeller) for f in (tilted_level, tilted_down)]
        found["banked"] = {what: Band.exact(min(t[what] for t in tilted)) for what in tilted[0]}
    return found


def _span(here: float, there: float) -> Band:
    return Band(here, min(here, there), max(here, there))


def _touches(model: Model, rest: Feet) -> dict[str, Touch]:
    shapes = clouds(model)
    ways = {"level": tilted_level, "tail_down": tilted_down}
    return {name: Touch(*bank_at_touch(partial(f, rest), shapes, model.propeller)) for name, f in ways.items()}


def _tyre(model: Model, hanging: Feet) -> tuple[float, str]:
    """(least distance of the main tyre to a wing, which); up to the leg's stop where it is said."""
    stops = {s.name: s.stop for s in model.ground.springing} if model.ground else {}
    stop = stops.get(hanging.right.name)
    if stop is None:
        return math.nan, ""
    right, shapes = hanging.right, clouds(model)
    clear = {w.name: np.hstack([shapes[w.name], by_the_wheel(model, w, right)]) for w in model.wings}
    found = {name: tyre_to(right, stop, points) for name, points in clear.items()}
    nearest = min(found, key=lambda n: found[n])
    return found[nearest], nearest


def _parked(model: Model, balance: Balance, rest: Feet, down: Pose) -> Parked:
    mass, x, z = parked(model, balance, rest.right.place[0])
    return Parked(mass, x, lever(down, rest, x, z, model.propeller.place[2]))
