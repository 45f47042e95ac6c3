"""Landing and rolling: the wheels' loads and what the wings still carry.

Symbols: W weight, n load factor of the inertia at the centre of gravity, L lift over weight, K drag over n W, a along
the ground from the main wheels' line to the centre of gravity, b from there to the tail wheel, d both.

    level            both mains (n - L) W, drag K n W aft at the axle; spring_back: the drag forward
    tail_down        mains (n - L) W b/d, tail wheel (n - L) W a/d, square to the ground in the three-point attitude
    one_wheel        the right main wheel of the level landing alone
    side             mains 1.33 W/2 each, 0.5 W on the wheel pushed inward, 0.33 W on the other, level, at the ground
    braked           mains 1.33 W/2 each and 0.8 of that aft at the ground, level
    tail_obstacle    the tail wheel's load of tail_down, up and aft at 45 degrees through its axle
    tail_side        the tail wheel's static load, and as much to the right at the ground

Axle or ground is where the force is laid; a side load or brake acts at the ground. Lift: strips of the wings as they
carry at the attitude on the ground, elevator neutral, scaled to L W square to the ground; nought when rolling. Tyres
and legs as they stand still at the greatest mass where the file says how far they give, else hanging (noted).
Sources: cs-vla appendix C (the table of basic landing conditions), 473, 479, 481, 483, 485, 493, 497; data/pushes.toml.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.data.pushes import PARTS
from sparwright.family.model import Model, Wheel
from sparwright.ground.pose import Feet, Pose, contact, level, stood, tail_down
from sparwright.loads.air_forces import names
from sparwright.loads.case import LoadCase, Pushes
from sparwright.loads.code import asked
from sparwright.loads.halves import even, laid
from sparwright.loads.laid_out import LaidOut
from sparwright.loads.landing import ASIDE, DRAG, IN, LIFT, MAIN, OUT, TAIL, TAIL_AFT
from sparwright.loads.ready import Ready, at_angle
from sparwright.loads.together import joined, nothing, push, pushes

KINDS = ("level", "spring_back", "tail_down", "one_wheel", "side", "braked", "tail_obstacle", "tail_side")
HANGING = "legs and tyres as they hang: the file does not say how far they give"


@dataclass(frozen=True)
class Standing:
    """Wheels and ground of one attitude."""

    feet: Feet
    pose: Pose
    note: str = ""
    ahead: float = number("m", "a: along the ground from the mains to the centre of gravity", math.nan)
    behind: float = number("m", "b: from there to the tail wheel", math.nan)

    @property
    def up(self) -> np.ndarray:
        """(3,) square to the ground."""
        return self.pose.up

    @property
    def aft(self) -> np.ndarray:
        """(3,) along the ground."""
        return np.array([self.up[2], 0.0, -self.up[0]])

    @property
    def to_tail(self) -> float:
        """Part of a load that the tail wheel takes, a/d."""
        return self.ahead / (self.ahead + self.behind)


def standing(model: Model, case: LoadCase, down: bool) -> Standing:
    """Level on the main wheels, or on all three. ValueError where the wheels do not stand so."""
    on = stood(model)
    if on.hanging is None:
        raise ValueError(on.why)
    feet, note = (on.rest, "") if on.rest else (on.hanging, HANGING)
    pose = tail_down(feet) if down else level(feet)
    flat = Standing(feet, pose)
    at = np.array([case.station, 0.0, case.waterline])
    main, tail = (contact(w, flat.up) for w in (feet.right, feet.tail))
    return Standing(feet, pose, note, float(flat.aft @ (at - main)), float(flat.aft @ (tail - at)))


def landed(ready: Ready, case: LoadCase, kind: str, sign: float = 1.0) -> LaidOut:
    """A ground case of one of KINDS; sign: -1 for wheels pushed to the left. ValueError for another kind, or where the
    wheels are not known.
    """
    if kind not in KINDS:
        raise ValueError(f"no ground case {kind}")
    on = standing(ready.model, case, kind in ("tail_down", "tail_obstacle", "tail_side"))
    flies = kind in ("level", "spring_back", "tail_down", "one_wheel", "tail_obstacle")
    part = asked(case.steps, LIFT, PARTS["lift_landing"].value) if flies else 0.0
    lift = wing_lift(ready, on, part * case.mass * GRAVITY) if flies else nothing()
    return LaidOut(case, joined([wheels(on, case, kind, part, sign), lift]), notes=(on.note,) if on.note else ())


def wheels(on: Standing, case: LoadCase, kind: str, lift: float, sign: float = 1.0) -> Pushes:
    """The wheels' loads of a kind; lift over weight. The case's own numbers stand before those of this file's head."""
    W, n, f = case.mass * GRAVITY, case.factor, on.feet
    down = (n - lift) * W
    if kind in ("level", "spring_back"):
        drag = asked(case.steps, DRAG, PARTS["drag_level"].value * n * W * (-1 if kind == "spring_back" else 1))
        main = asked(case.steps, MAIN, down)
        return joined([_at(on, w, main / 2, drag / 2, axle=True) for w in (f.right, f.left)])
    if kind == "one_wheel":
        main, drag = asked(case.steps, MAIN, down / 2), asked(case.steps, DRAG, PARTS["drag_level"].value * n * W / 2)
        return _at(on, f.right, main, drag, axle=True)
    if kind == "tail_down":
        main, tail = asked(case.steps, MAIN, down * (1 - on.to_tail)), asked(case.steps, TAIL, down * on.to_tail)
        return joined([_at(on, w, load, 0.0, axle=True) for w, load in _three(f, main, tail)])
    if kind == "tail_obstacle":
        turn, load = PARTS["tail_wheel_aft"].value, down * on.to_tail
        up, aft = load * math.cos(turn), load * math.sin(turn)
        return _at(on, f.tail, asked(case.steps, TAIL, up), asked(case.steps, TAIL_AFT, aft), axle=True)
    if kind == "tail_side":
        still = asked(case.steps, TAIL, W * on.to_tail)
        return _at(on, f.tail, still, 0.0, asked(case.steps, ASIDE, sign * still))
    each = asked(case.steps, MAIN, PARTS["side_vertical"].value * W) / 2
    if kind == "braked":
        drag = asked(case.steps, DRAG, 2 * PARTS["braking"].value * each) / 2
        return joined([_at(on, w, each, drag) for w in (f.right, f.left)])
    inward, outward = (
        asked(case.steps, IN, PARTS["side_inward"].value * W),
        asked(case.steps, OUT, PARTS["side_outward"].value * W),
    )
    sides = (outward, inward) if sign > 0 else (-inward, -outward)
    return joined([_at(on, w, each, 0.0, s) for w, s in zip((f.right, f.left), sides, strict=True)])


def _three(f: Feet, main: float, tail: float) -> tuple[tuple[Wheel, float], ...]:
    return (f.right, main / 2), (f.left, main / 2), (f.tail, tail)


def _at(on: Standing, wheel: Wheel, up: float, aft: float, right: float = 0.0, axle: bool = False) -> Pushes:
    """A wheel's load in the ground's directions, N, at its axle or where it touches."""
    place = np.array(wheel.place) if axle else contact(wheel, on.up)
    side = "" if wheel.place[1] == 0 else ":R" if wheel.place[1] > 0 else ":L"
    return push(f"wheel:{wheel.name}{side}", place, up * on.up + aft * on.aft + right * np.array([0.0, 1.0, 0.0]))


def wing_lift(ready: Ready, on: Standing, total: float) -> Pushes:
    """The wings' strips as they carry at the attitude on the ground, scaled to a lift (N) square to it."""
    at = at_angle(ready, on.pose.attitude, 0.0)
    wings = {k: h for k, h in even(at.state, at.lattice.cut, at.turned).items() if not h.cut.is_tail}
    whole = joined([laid(h, side, 1.0, *names(h, side)) for h in wings.values() for side in ("R", "L")])
    along = whole.force @ on.up
    sum_ = float(along.sum())
    if not sum_ > 0:
        raise ValueError("the wings do not lift at the attitude on the ground")
    k = total / sum_
    return pushes(whole.place, k * np.outer(along, on.up), k * whole.moment, whole.on)
