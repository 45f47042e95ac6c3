"""What trimming costs at each speed, and what moving the wings, setting the tail or changing the area would save.

At a trimmed state the elevator is turned by d and all wings by t together so that the lift stays what it is: another
share of the same lift on the tailplane. Symbols: c amounts of stance.py, x = c + d (e - (l_e/l_w) w) with e, w the
elevator and all wing strips, l_e, l_w their slopes of the lift.

    D(d)/q = S CDi(x) + sum of cd(works(x)) (1 + u)^2 c dy + elevator's own (drag.py)
    trim drag = D(0) - least of D(d)              the same lift, whatever the moment

The tail's lift changes by d E_d (E_d its slope along x). Moving all wings ahead by a length m against the centre of
gravity asks of the tail m L/l less or more lift, l the arm of the elevator's lift: a place on the same curve. Setting
the tailplane by i more turns the elevator by -i A'/E' at the same lift: only its own drag changes. Chords k times as
long at the same span and lift: induced drag stays, sections carry 1/k of the lift coefficient on k times the area,
trim and the rest as they were (first order).
Sources: naca-tr-121 (far wake), section data of air/behaviour.py; the balance is worked out here. Range: attached flow,
small shares; a least that does not lie within d of -0.2 to 0.2 rad, or where sections are known, is unknown. Power
off; slipstream and wake loss are not in it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from sparwright.air.stance import Stance, slopes_of
from sparwright.base.check import Result, Step, by_hand
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.drag import INDUCED, elevator_drag, tail_area
from sparwright.flight.fast import cruise_speed
from sparwright.flight.power_told import CLIMB, SLOW, WORDS
from sparwright.flight.slow import TITLES, told
from sparwright.flight.trim import Line, hinge_of
from sparwright.flight.with_power import Tailplane, tailplane
from sparwright.flight.work import Flown, place

REACH, STEPS = 0.2, 11  # rad either way, values of d a quartic is laid through
MOVED, LONGER = 0.1, 1.1  # of the mean chord; of all chords


@dataclass(frozen=True)
class TrimCost:
    """One speed; drags in N."""

    speed: float = number("m/s", "speed")
    total: float = number("N", "drag of what the share of the tail changes, trimmed")
    cost: float = number("N", "trim drag: that less the least at the same lift")
    carries: float = number("N", "lift of the tailplane, trimmed")
    best: float = number("N", "lift of the tailplane at the least drag")
    elevator: float = number("rad", "trimmed, what a real elevator loses counted")
    own: float = number("N", "of it the elevator's own drag")
    setting: float = number("rad", "nose up, by which the tailplane is best set for the elevator's own drag")
    by_setting: float = number("N", "what that saves")
    ahead: float = number("m", "way of the wings ahead at which the trim drag is nought; less than nought: aft")
    by_moving: float = number("N", "what moving the wings ahead by a tenth of the mean chord saves")
    by_area: float = number("N", "what chords a tenth longer save")


def trim_cost(line: Line, speed: float, cg: tuple[float, float]) -> TrimCost:
    """The cost of trim of a line at a level speed, m/s; NaN where there is no trim or a section is not known."""
    t = tailplane(line, speed, cg)
    if not math.isfinite(t.alpha):
        return TrimCost(speed, *(math.nan,) * 11)
    curve = _Curve.of(line, t)
    q = line.air.density * speed**2 / 2
    fit = curve.fit()
    least = _least(fit)
    lift = t.lift * line.plane.area
    asked = MOVED * line.plane.chord * lift / t.arm / curve.tail_slope  # d of the move
    setting, saved = curve.setting()
    return TrimCost(
        speed, q * fit(0.0), q * (fit(0.0) - fit(least)), q * t.carries, q * (t.carries + least * curve.tail_slope),
        t.elevator / EFFECTIVE.value, q * curve.own(0.0), setting, q * saved,
        least * curve.tail_slope * t.arm / lift, q * (fit(0.0) - fit(asked)), q * curve.longer(LONGER),
    )  # fmt: skip


Fit = Callable[[float], float]


def _least(fit: Fit) -> float:
    """Where a curve over d is least; NaN at an end of its reach."""
    fine = np.linspace(-REACH, REACH, 401)
    each = np.array([fit(float(x)) for x in fine])
    known = np.flatnonzero(np.isfinite(each))
    if not known.size:
        return math.nan
    i = int(known[np.argmin(each[known])])
    return float(fine[i]) if known[0] < i < known[-1] else math.nan


@dataclass(frozen=True)
class _Curve:
    """The drag over q of one state as the share of the tail changes."""

    line: Line
    tail: Tailplane
    stance: Stance
    amounts: np.ndarray  # (b,)
    along: np.ndarray  # (b,) for each radian of d
    works: np.ndarray  # (strips,) rad
    tail_slope: float = number("m2/rad", "lift of the tailplane for each radian of d")
    turned: float = number("1", "angle the wings are turned by for each radian of d")

    @staticmethod
    def of(line: Line, t: Tailplane) -> _Curve:
        """The curve through a trimmed state."""
        plane, at = line.plane, line.states(t.lift)
        stance, hinge = line.fitted.stances.at(t.alpha), hinge_of(plane)
        c = stance.amounts({plane.tail: t.elevator}, at.twist[0])
        skip = 1 + len(line.company.hinged)
        wing = np.zeros(c.size)
        wing[skip:] = 1.0
        here = line.company.strip_slices[plane.tail]
        wing[skip + here.start : skip + here.stop] = 0.0
        lifts = slopes_of(stance.up.sum(0), c)
        turned = -float(lifts[hinge] / (lifts @ wing))
        along = turned * wing
        along[hinge] += 1.0
        which = line.company.place_of(plane.tail)
        return _Curve(line, t, stance, c, along, at.works[0], float(slopes_of(stance.up[which], c) @ along), turned)

    def fit(self) -> Fit:
        """D/q, m2, of all that changes with the share, over d in rad; NaN outside where sections are known."""
        d = np.linspace(-REACH, REACH, STEPS)
        c = self.amounts + d[:, None] * self.along
        induced = self.line.plane.area * INDUCED[0] * np.array([self.stance.induced_drag(x) for x in c])
        each = induced + self._sections(c, 1.0) + np.array([self.own(float(x)) for x in d])
        known = np.isfinite(each)
        if known.sum() < 6 or not known[STEPS // 2]:
            return lambda d: math.nan
        curve = np.polynomial.Polynomial.fit(d[known], each[known], 4)
        low, high = d[known][0], d[known][-1]
        return lambda d: float(curve(d)) if low <= d <= high else math.nan

    def own(self, d: float, set_by: float = 0.0) -> float:
        """The elevator's own D/q, m2, with the tailplane set by an angle, rad, more and the elevator less for it.

        The aeroplane turns with its wings, and the tailplane with it: the elevator is less for that too.
        """
        t, S = self.tail, tail_area(self.line.plane)
        e = (t.elevator + d - (set_by + self.turned * d) * t.slope / t.elevator_slope) / EFFECTIVE.value
        return S * float(elevator_drag(np.array(e), np.array((t.carries + d * self.tail_slope) / S)))

    def setting(self) -> tuple[float, float]:
        """(angle, rad, nose up, the tailplane is best set by, what it saves, m2) at the same lift."""
        t, angles = self.tail, np.linspace(-0.3, 0.3, 601)
        own = np.array([self.own(0.0, float(i)) for i in angles])
        i = int(np.argmin(own))
        if not 0 < i < angles.size - 1 or not math.isfinite(t.slope):
            return math.nan, math.nan
        return float(angles[i]), self.own(0.0) - float(own[i])

    def longer(self, k: float) -> float:
        """D/q, m2, saved by chords k times as long, the lift the same."""
        c = self.amounts[None]
        return float((self._sections(c, 1.0) - self._sections(c, k))[0])

    def _sections(self, c: np.ndarray, k: float) -> np.ndarray:
        """(n,) Sum of cd (1 + u)^2 c dy over all strips outside the body, m2; wings' chords k as long; c (n, b)."""
        plane, fitted, stance = self.line.plane, self.line.fitted, self.stance
        skip, lift = 1 + len(self.line.company.hinged), stance.section_lift(c)
        twist = self.amounts[skip:]  # what the sections take off; turning the wings is an angle and not of it
        now, _ = fitted.effective(lift, twist)
        then, _ = fitted.effective(stance.section_lift(self.amounts), twist)
        onset, total = c @ stance.onset, np.zeros(len(c))
        for name, strips in plane.strips.items():
            here, long = self.line.company.strip_slices[name], k if name != plane.tail else 1.0
            works = (self.works + now - then)[:, here] - (1 - 1 / long) * lift[:, here] / (2 * math.pi)
            re = np.broadcast_to(self.line.per_metre(self.tail.lift) * strips.chord * long, works.shape)
            cd = strips.drag(works, re)[0]
            total += 2 * long * (cd * onset[:, here] ** 2 * strips.area)[:, strips.outside].sum(1)
        return total


# ------------------------------------------------------------------ told

SOURCE = "naca-tr-121 (far wake) and section data at the same lift (flight/trim_drag.py)"
AT = "power off, level; slipstream and the wings' wakes on the tail are not in it"
CASE = "max_mass"


def trim_drag_results(flown: Flown) -> Iterator[Result]:
    """`flight.trim_drag.<slow, climb, cruise, top>` and `flight.trim_drag.save.*`; greatest mass, forward limit."""
    case, plane = flown.cases[CASE], flown.plane
    stall, top = case.stall.speed.value, flown.performance.top.speed.value
    speeds = {"slow": SLOW * stall, "climb": CLIMB * stall, "cruise": cruise_speed(flown), "top": top}
    found = {k: trim_cost(case.line, V, place(case.loading)) for k, V in speeds.items() if math.isfinite(V)}
    for key, words in WORDS.items():
        title = f"trim drag at {words}, {TITLES[CASE]}"
        yield _cost(flown, f"flight.trim_drag.{key}", title, found.get(key))
    at = found.get("cruise")
    turned = plane.model.tailplane.incidence
    saves = (
        ("setting", "what the best setting of the tailplane would save", "by_setting",
         "the elevator then stands nearer to its tailplane; as much more up travel is wanted at the stall",
         lambda t: (("set by, nose up", t.setting, "rad"), ("set now", turned, "rad"), ("e", t.elevator, "rad"))),
        ("moving", f"what moving all wings ahead by {MOVED:g} of the mean chord would save", "by_moving",
         "as much comes off every static margin; wings' own weight moves with them and is not counted",
         lambda t: (("move", MOVED * plane.chord, "m"), ("trim drag is nought when moved by", t.ahead, "m"))),
        ("area", "what chords a tenth longer would save, span and lift the same", "by_area",
         "less than nought: it costs that; the stall gains, weight and trim are left as they are",
         lambda t: (("chords", LONGER, "1"),)),
    )  # fmt: skip
    for key, words, name, note, given in saves:
        value = getattr(at, name) if at else math.nan
        steps = (Step("saved", "D(now) - D(then), same lift and speed", given(at), value, "N", SOURCE),) if at else ()
        why = "" if math.isfinite(value) else f"a section is not known there, or the least lies out of reach; {AT}"
        yield told(Band.exact(value), f"flight.trim_drag.save.{key}", f"{words}, cruise, {TITLES[CASE]}", "N", SOURCE,
                   why or f"{note}; {AT}", steps, ("flight.trim_drag.cruise",))  # fmt: skip


def _cost(flown: Flown, id: str, title: str, found: TrimCost | None) -> Result:
    """The cost at one speed with the estimate by hand: the tail's lift as that of a plane by itself."""
    if found is None or not math.isfinite(found.cost):
        why = "no trim there, or a section is not known where the drag is least"
        return told(UNKNOWN, id, title, "N", SOURCE, why)
    q, span = flown.air.density * found.speed**2 / 2, 2 * _half_span(flown)
    rest = found.cost - found.own
    ends = sorted((0.98 * rest + min(0.0, 2 * found.own), 1.10 * rest + max(0.0, 2 * found.own)))
    given = (("D of what changes, trimmed", found.total, "N"), ("least", found.total - found.cost, "N"),
             ("tail", found.carries, "N"), ("at the least", found.best, "N"), ("elevator", found.elevator, "rad"),
             ("its own drag", found.own, "N"))  # fmt: skip
    step = Step("trim drag", "D trimmed - least D at the same lift", given, found.cost, "N", SOURCE)
    alone = (found.carries - found.best) ** 2 / (math.pi * q * span**2)
    formula = "(L - L_best)^2/(pi q b^2) of the tail by itself"
    hand = by_hand(formula, (("L", found.carries, "N"), ("L_best", found.best, "N"),
                   ("q", q, "Pa"), ("b", span, "m")), alone, rest, "N", "glauert-1926 ch. XI")  # fmt: skip
    return told(Band(found.cost, *ends), id, title, "N", SOURCE, AT, (step, *hand))


def _half_span(flown: Flown) -> float:
    return next(float(p.leading_edge[1, -1]) for p in flown.plane.company.planforms if p.is_tail)
