"""What the pilot's hand and foot do, and what the surface holds against them.

    hinge moment     H = F/g          F at the hand or foot, g surface over hand (controls/motion.py), virtual work

The pilot sits in the aeroplane: what presses on the stick presses on the seat the other way. These loads are the
control system's: they are held where it ends, at the horn of elevator and rudder (14 CFR 23 appendix A, A23.13(a)(2),
read; 395 of cs-vla in the same sense, from memory), as a couple about the hinge line, so that the horn bears them and
the surface's own tubes do not: those have their loads from the air. Ailerons hold against each other, where their air
is. Friction is left out: all of the force arrives. Forces of data/controls.toml. Range: within the travel.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from sparwright.controls.motion import Motion
from sparwright.data.controls import RULES
from sparwright.family.model import Model
from sparwright.loads.case import Pushes
from sparwright.loads.halves import Cut
from sparwright.loads.together import MIRROR, joined, push

WAYS = {"elevator": (1.0, 0.0, 0.0), "aileron": (0.0, 1.0, 0.0), "rudder": (-1.0, 0.0, 0.0)}  # pull, right, right foot


def hand_force(model: Model, control: str, force: float | None = None) -> Pushes:
    """A force (N) on the stick, pulled aft or to the right, or on the right pedal, and the seat against it.

    control: elevator, aileron or rudder; force: the rule's where none is given. ValueError where the file does not say
    where hand or foot are.
    """
    seat = model.seat
    grip = seat.pedals if seat and control == "rudder" else seat.stick if seat else None
    if seat is None or grip is None:
        raise ValueError("the file does not say where stick and pedals are")
    size = RULES[f"{control}_force"].value if force is None else force
    way = size * np.array(WAYS[control])
    on = "pedals" if control == "rudder" else "stick"
    return joined([push(on, grip.place, way), push("seat", seat.place, -way)])


def gearing(motion: Motion) -> float:
    """rad/m, surface over hand with the control in neutral."""
    return abs(float(motion.gearing[motion.neutral]))


def held_by_surface(cut: Mapping[str, Cut], control: str, force: float, motions: Sequence[Motion], tail: str) -> Pushes:
    """The couples at horns or on ailerons that hold against a force (N) at hand or foot, about each half's hinge line.

    A pull on the stick turns the elevator up: the air holds it, trailing edge down. A stick to the right turns the
    right aileron up: its air turns it down, and the left one's up. A right foot turns the rudder to the right: held to
    the left. Several wings' ailerons hold alike. cut: strips by surface, "fin" among them for a rudder. ValueError for
    a control without motion.
    """
    moved = [m for m in motions if control in m.name]
    if not moved:
        raise ValueError(f"no control moves the {control}")
    if control == "rudder":
        return _couple(cut["fin"], "", -force / gearing(moved[0]), "horn:rudder")
    wings = [tail] if control == "elevator" else [
        n for n, c in cut.items() if not c.is_tail and n != "fin" and c.hinged.any()]  # fmt: skip
    pieces = []
    for name in wings:
        own = next((m for m in moved if name in m.surface), moved[0])
        moment = force / gearing(own) / 2 / len(wings)
        if not math.isfinite(moment):
            raise ValueError(f"gearing of {control} is not known")
        right, left = ("horn:elevator",) * 2 if control == "elevator" else (f"aileron:{name}:R", f"aileron:{name}:L")
        other = moment if control == "elevator" else -moment
        pieces += [_couple(cut[name], "R", moment, right), _couple(cut[name], "L", other, left)]
    return joined(pieces)


def wind_on(
    cut: Mapping[str, Cut], control: str, moment: float, tail: str, wing: str = "", other: float = 1.0
) -> Pushes:
    """The hinge moment (N m, trailing edge down, a rudder's to the right) that a wind on the ground puts on surfaces.

    All of it on a rudder, half on either half of the elevator, on each aileron of a wing; other: the left aileron's
    part. KeyError for a wing that is not there.
    """
    if control == "rudder":
        return _couple(cut["fin"], "", moment, "rudder")
    name = tail if control == "elevator" else wing
    each = moment / 2 if control == "elevator" else moment
    on = "elevator" if control == "elevator" else f"aileron:{name}"
    return joined([_couple(cut[name], "R", each, f"{on}:R"), _couple(cut[name], "L", each * other, f"{on}:L")])


def _couple(c: Cut, side: str, moment: float, on: str) -> Pushes:
    """A couple about the hinge line at its middle, trailing edge down; of a rudder, to the right."""
    at = np.flatnonzero(c.hinged)
    middle, axis = c.at_hinge[:, at].mean(1), c.axis[:, at].mean(1)
    flip = MIRROR if side == "L" else np.ones(3)
    turn = moment * axis / np.linalg.norm(axis) * flip * (-1.0 if side == "L" else 1.0)
    return push(on, middle * flip, moment=turn)
