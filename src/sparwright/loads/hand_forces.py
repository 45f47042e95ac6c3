"""What the pilot's hand and foot do, and what the surface holds against them.

    hinge moment     H = F/g          F at the hand or foot, g surface over hand (controls/motion.py), virtual work

The pilot sits in the aeroplane: what presses on the stick presses on the seat the other way. The surface holds by the
air, or at its stop: as a couple about its hinge line, on both halves alike (an aileron against the other one). Friction
is left out: all of the force arrives. Forces of data/controls.toml. Range: within the travel.
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
from sparwright.loads.together import joined, nothing, push

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
    """The couples on elevator or ailerons that hold against a force (N) at the hand, about each half's hinge line.

    A pull on the stick turns the elevator up: the air holds it down, trailing edge down. A stick to the right turns the
    right aileron up: its air turns it down, and the left one's up. ValueError for a control that has no motion.
    """
    moved = [m for m in motions if control in m.name]
    if not moved or control == "rudder":
        raise ValueError(f"no hinge to hold {control}")
    wings = [tail] if control == "elevator" else [n for n, c in cut.items() if not c.is_tail and c.hinged.any()]
    pieces = []
    for name in wings:
        own = next((m for m in moved if name in m.surface), moved[0])
        moment = force / gearing(own) / 2 / len(wings)
        if not math.isfinite(moment):
            raise ValueError(f"gearing of {control} is not known")
        pieces += [_couple(cut[name], side, moment, control) for side in ("R", "L")]
    return joined(pieces) if pieces else nothing()


def _couple(c: Cut, side: str, moment: float, control: str) -> Pushes:
    """A couple about the hinge line at its middle: trailing edge down on the right."""
    at = np.flatnonzero(c.hinged)
    middle, axis = c.at_hinge[:, at].mean(1), c.axis[:, at].mean(1)
    axis = axis / np.linalg.norm(axis)
    left = side == "L"
    sign = -1.0 if left and control == "aileron" else 1.0
    flip = np.array([1.0, -1.0, 1.0]) if left else np.ones(3)
    turn = sign * moment * axis * flip * (-1.0 if left else 1.0)
    name = f"elevator:{side}" if control == "elevator" else f"aileron:{c.name}:{side}"
    return push(name, middle * flip, moment=turn)
