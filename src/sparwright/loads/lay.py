"""A load case laid out, by its kind and the words of its key.

    kind                       words of the key, parted by full stops        what is done
    manoeuvre                                                                balanced at its CL (air_forces.py)
    gust                                                                     elevator of level flight held, its CL
    tail                       one_side: the left half carries less          elevator turned, or balanced
                               gust: as a gust
    roll                       steady: with the roll that follows            ailerons turned
                               one_side: 100 and a part, no ailerons
    yaw                                                                      rudder, sideslip (fin_forces.py)
    engine                     torque; left: propeller turns to the left     with limit torque (engine_forces.py)
                               side: on the mount alone
    control                    elevator, aileron, rudder                     hand or foot (hand_forces.py)
    landing, ground            a kind of ground_forces.py
    crash                      forward, up, side, down                       the pilot alone (point_forces.py)

`deflection`: "elevator" trailing edge down, "aileron" up on the right, "rudder" to the right, "sideslip" wind from the
right, real angles in radians. A handling case has its own places and is made of point_forces.py. What cannot be laid
out comes back with forces that are not numbers, and why.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from sparwright.controls.motion import Motion
from sparwright.loads.air_forces import elevator_turned, gust, manoeuvre
from sparwright.loads.case import LoadCase
from sparwright.loads.engine_forces import side_load, torque
from sparwright.loads.fin_forces import fin_cut, yawing
from sparwright.loads.ground_forces import KINDS, landed
from sparwright.loads.hand_forces import hand_force, held_by_surface
from sparwright.loads.laid_out import LaidOut, unknown
from sparwright.loads.point_forces import THROWN, pilot_thrown
from sparwright.loads.ready import Ready
from sparwright.loads.roll_forces import ailerons_turned, one_side_less, tail_one_side_less
from sparwright.loads.together import joined

CONTROLS = ("elevator", "aileron", "rudder")


def laid_out(case: LoadCase, ready: Ready, thrust: float = 0.0, motions: Sequence[Motion] = ()) -> LaidOut:
    """A case's forces. thrust: N, of the propeller, along its axis; motions: the controls' (controls/chain.py).

    Never raises for what the case asks: an unknown case comes back with `outside` saying why, its forces not numbers.
    """
    words = case.key.split(".")
    try:
        found = _by_kind(case, ready, thrust, motions, words)
    except KeyError as fault:
        return unknown(case, f"neither case nor model says {fault}")
    except ValueError as fault:
        return unknown(case, str(fault))
    return replace(found, outside="; ".join(x for x in (found.outside, case.caveat) if x))


def _by_kind(case: LoadCase, ready: Ready, thrust: float, motions: Sequence[Motion], words: list[str]) -> LaidOut:
    flying: dict[str, Callable[[Ready, LoadCase, float], LaidOut]] = {
        "manoeuvre": manoeuvre,
        "gust": gust,
        "tail": _tail(words),
        "yaw": yawing,
    }
    if case.kind in flying:
        return flying[case.kind](ready, case, thrust)
    if case.kind == "roll":
        return one_side_less(ready, case, thrust) if "one_side" in words else ailerons_turned(
            ready, case, thrust, "steady" in words)  # fmt: skip
    if case.kind == "engine":
        if "side" in words:
            return LaidOut(case, side_load(ready, ready.model.limits.n_positive))
        return torque(ready, case, thrust, "left" not in words)
    if case.kind == "control":
        return _hand(case, ready, motions, _one_of(words, CONTROLS))
    if case.kind in ("landing", "ground"):
        return landed(ready, case, _one_of(words, KINDS))
    if case.kind == "crash":
        return LaidOut(case, pilot_thrown(ready.model, _one_of(words, tuple(THROWN)), case.factor))
    raise ValueError(f"a case of kind {case.kind} has its own places")


def _tail(words: list[str]) -> Callable[[Ready, LoadCase, float], LaidOut]:
    if "one_side" in words:
        return partial(tail_one_side_less, in_gust="gust" in words)
    return gust if "gust" in words else elevator_turned


def _one_of(words: list[str], known: tuple[str, ...]) -> str:
    found = [w for w in words if w in known]
    if len(found) != 1:
        raise ValueError(f"the key {'.'.join(words)} has none of {', '.join(known)}")
    return found[0]


def _hand(case: LoadCase, ready: Ready, motions: Sequence[Motion], control: str) -> LaidOut:
    """Hand or foot, and the surface that holds; without motions the hand alone."""
    hand = hand_force(ready.model, control)
    if not motions:
        return LaidOut(case, hand, notes=("the surface that holds is not laid out: no controls",))
    size, cut = math.dist(hand.force[0], (0.0, 0.0, 0.0)), dict(ready.upper.cut)
    cut["fin"] = fin_cut(ready.fin, ready.model.fin.hinge)
    return LaidOut(case, joined([hand, held_by_surface(cut, control, size, motions, ready.plane.tail)]))
