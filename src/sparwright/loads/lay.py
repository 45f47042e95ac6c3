"""A load case laid out, by its kind and the words of its key.

    kind                words of the key, parted by full stops            what is done
    manoeuvre                                                             balanced at its CL (air_forces.py)
    gust                                                                  elevator of level flight held, its CL
                        from_behind                                       on the wings alone (ground_wind.py)
                        side                                              as yaw
    tail                thrown                                            elevator turned at once
                        checked                                           with a pitching acceleration (tail_forces.py)
                        gust                                              with a load added to the tail
                        together                                          as yaw, its elevator too
                        one_half                                          the left half carries less
    roll                steady: with the roll that follows                ailerons turned (roll_forces.py)
                        unsymmetrical                                     the left half of the wings carries less
    yaw                                                                   rudder, sideslip (fin_forces.py)
    engine              turning; side; else torque                        engine_forces.py; left_hand: turns to the left
    control             elevator, aileron, rudder; wind                   hand or foot, or wind (hand_forces.py)
    landing, ground     level, springback, tail_down, one_wheel, side,    ground_forces.py; left: pushed to the left
                        braked, tail_wheel
                        tied                            in a wind, on ropes and wheels (tied.py)
    crash               forward, up, side, down; left                     the pilot alone (point_forces.py)

Angles of a case, rad: "elevator" trailing edge down, "aileron" up on the right, "rudder" trailing edge left, "sideslip"
wind from the right, all of the real surfaces. Numbers without a field of their own (a torque, a wheel's load) are read
from the lines of the case's working by their titles; where there is none the rule's of data/pushes.toml stands. Other
cases (people who lift and push, jacks, slings) have their own places (own_places.py). What cannot be
laid out comes back with forces that are not numbers, and why.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from sparwright.controls.motion import Motion
from sparwright.loads import besides
from sparwright.loads.air_forces import elevator_turned, gust, manoeuvre
from sparwright.loads.case import LoadCase
from sparwright.loads.code import asked, both
from sparwright.loads.engine import SIDE, THRUST
from sparwright.loads.engine_forces import least_side, side_load, torque, turning
from sparwright.loads.fin_forces import fin_cut, yawing
from sparwright.loads.ground_forces import KINDS, landed
from sparwright.loads.ground_wind import on_truss
from sparwright.loads.hand_forces import hand_force, held_by_surface, wind_on
from sparwright.loads.laid_out import LaidOut, unknown
from sparwright.loads.on_controls import HINGE, PEDAL, STICK
from sparwright.loads.own_places import own_place
from sparwright.loads.point_forces import THROWN, pilot_thrown
from sparwright.loads.ready import Ready
from sparwright.loads.roll_forces import ailerons_turned, one_side_less
from sparwright.loads.tail import ADDED, OTHER, PITCHING
from sparwright.loads.tail_forces import checked, gust_on_tail, left_half_less, other_tail
from sparwright.loads.tied import tied_down
from sparwright.loads.together import joined, mirrored

CONTROLS = ("elevator", "aileron", "rudder")
OWN = ("jacked", "two", "cabin", "turned_over")
THROWN_BY = {"forward": besides.FORWARD, "up": besides.UP, "side": besides.SIDE}


def laid_out(
    case: LoadCase, ready: Ready, thrust: float = 0.0, motions: Sequence[Motion] = (), inertia: float = math.nan
) -> LaidOut:
    """A case's forces. thrust: N, of the propeller, along its axis, where the case has none of its own; motions: the
    controls' (controls/chain.py); inertia: kg m2, of the aeroplane in pitch, for checked manoeuvres.

    Never raises for what the case asks: an unknown case comes back with `outside` saying why, its forces not numbers.
    """
    words = case.key.split(".")
    pull = asked(case.steps, THRUST, thrust)
    try:
        if any(w in OWN for w in words) or case.kind == "handling":
            return replace(LaidOut(case, own_place(case, ready.model, words)), outside=case.caveat)
        if "tied" in words:
            found = tied_down(ready, case)
            return replace(found, outside=both(found.outside, case.caveat))
        if "from_behind" in words:
            found = on_truss(ready, case, asked(case.steps, besides.REVERSED))
            return replace(found, outside=both(found.outside, case.caveat))
        if not math.isfinite(pull):
            raise ValueError("the thrust is not known")
        found = _by_kind(case, ready, pull, words, motions, inertia)
    except KeyError as fault:
        return unknown(case, f"neither case nor model says {fault}")
    except ValueError as fault:
        return unknown(case, str(fault))
    return replace(found, outside=both(found.outside, case.caveat))


def _by_kind(
    case: LoadCase, ready: Ready, thrust: float, words: list[str], motions: Sequence[Motion], inertia: float
) -> LaidOut:
    if case.kind == "control":
        return _hand(case, ready, motions, words)
    if case.kind in ("landing", "ground"):
        return landed(ready, case, _on_ground(case, words), -1.0 if "left" in words else 1.0)
    if case.kind == "crash":
        way = _one_of(words, tuple(THROWN))
        factor = abs(asked(case.steps, THROWN_BY.get(way, ""), case.factor)) * (-1 if "left" in words else 1)
        return LaidOut(case, pilot_thrown(ready.model, way, factor))
    if case.kind == "tail":
        return _tail(case, ready, thrust, words, inertia)
    return _flying(case, words)(ready, case, thrust)


Flying = Callable[[Ready, LoadCase, float], LaidOut]


def _flying(case: LoadCase, words: list[str]) -> Flying:
    if case.kind == "roll":
        if "unsymmetrical" in words:
            return one_side_less
        return lambda ready, c, thrust: ailerons_turned(ready, c, thrust, "steady" in words)
    if case.kind == "engine":
        if "side" in words:
            return lambda ready, c, thrust: LaidOut(
                c, side_load(ready, asked(c.steps, SIDE, least_side(ready.model.limits.n_positive)))
            )
        turns = turning if "turning" in words else torque
        return lambda ready, c, thrust: turns(ready, c, thrust, "left_hand" not in words)
    sideways = case.kind == "yaw" or "side" in words
    return yawing if sideways else gust if case.kind == "gust" else manoeuvre


def _tail(case: LoadCase, ready: Ready, thrust: float, words: list[str], inertia: float) -> LaidOut:
    if "together" in words:
        found = yawing(ready, case, thrust)
    elif "checked" in words:
        found = checked(ready, case, asked(case.steps, PITCHING), inertia, thrust)
    elif "gust" in words:
        found = gust_on_tail(ready, case, asked(case.steps, ADDED), thrust)
    else:
        found = elevator_turned(ready, case, thrust)
    if "one_half" not in words:
        return found
    part = asked(case.steps, OTHER, other_tail(ready.model.limits.n_positive))
    return left_half_less(found, ready.plane.tail, part)


def _on_ground(case: LoadCase, words: list[str]) -> str:
    if "tail_wheel" in words:
        return "tail_obstacle" if case.kind == "landing" else "tail_side"
    return _one_of(["spring_back" if w == "springback" else w for w in words], KINDS)


def _one_of(words: list[str], known: tuple[str, ...]) -> str:
    found = [w for w in words if w in known]
    if len(found) != 1:
        raise ValueError(f"the key {'.'.join(words)} has none of {', '.join(known)}")
    return found[0]


def _hand(case: LoadCase, ready: Ready, motions: Sequence[Motion], words: list[str]) -> LaidOut:
    """Hand or foot, and the surface that holds; without motions the hand alone. Or the wind on a surface."""
    control, cut = _one_of(words, CONTROLS), dict(ready.upper.cut)
    cut["fin"] = fin_cut(ready.fin, ready.model.fin.hinge)
    tail = ready.plane.tail
    if "wind" in words:
        wing = next((w for w in words if w in cut), "")
        other = -1.0 if "thrown" in words else 1.0
        return LaidOut(case, wind_on(cut, control, asked(case.steps, HINGE), tail, wing, other))
    given = asked(case.steps, PEDAL if control == "rudder" else STICK)
    hand = hand_force(ready.model, control, given if math.isfinite(given) else None)
    size = float(hand.force[0] @ (-1.0, 1.0, 0.0)) if control == "rudder" else float(hand.force[0].sum())
    notes = () if motions else ("the surface that holds is not laid out: no controls",)
    held = [held_by_surface(cut, control, size, motions, tail)] if motions else []
    whole = joined([hand, *held])
    return LaidOut(case, mirrored(whole) if control == "rudder" and "left" in words else whole, notes=notes)
