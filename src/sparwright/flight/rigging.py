"""What each tolerance of the rigging does: to the roll, to the stall, to the trim, to the elevator's travel; ranked.

One side of a wing set t nose up (or twisted) against the other rolls the aeroplane, and the ailerons hold it:

    t Int c y dy  =  2 tau k d Int c y dy over the ailerons      d each aileron's angle, up on the side that is high

Both sides of the balance are strip loads of one lift slope in the same stream, so slope and speed fall out: the flow
that the strips make for each other is taken alike for both (worked out here; FLOW by lifting-line theory). tau is the
part of a flap's angle that counts as angle of attack (glauert-1926 ch. IX), k what a real one does of it (EFFECTIVE:
common practice, no source). Attached flow only: near the stall the side set higher lets go first, by t, and how far it
rolls is not known.

Stall by decalage and stagger: the gain in greatest lift of flight/wings_stall.py, taken as straight; V goes as the root
of 1/CL. Trim by one wing or the tailplane: the lattice without friction, trimmed again at a lift of TRIM_CL.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import numpy as np

from sparwright.air import thin
from sparwright.base.check import Result, Step
from sparwright.base.source import Band
from sparwright.family.model import Model, spoken
from sparwright.family.rigging import Rigging
from sparwright.flight.aeroplane import EFFECTIVE, turned_in_truth
from sparwright.flight.trim import attached, decalage
from sparwright.flight.wings_stall import CASE, DEGREE, FURTHER
from sparwright.flight.work import Flown, place
from sparwright.shape.lifting import wing_planform
from sparwright.shape.planform import Planform

TRIM_CL = 0.6
FLOW = Band(1.0, 0.92, 1.18)  # what the strips' flow for each other makes of it (tests/outside/test_rigging_roll.py)
FINE = 2000  # points of an integral along the span
ROLL = "strips, worked out here; glauert-1926 ch. IX (flap)"
STALL = "flight.stall.decalage and flight.stall.stagger, taken as straight"
TRIM = "anderson-flight ch. 7, by the lattice"
NONE_GIVEN = "the file's [rigging] gives no tolerance: "


def flap_part(hinge: float) -> float:
    """tau: angle of attack that a flap's angle is worth, thin aerofoil. Source: glauert-1926 ch. IX.

    >>> round(flap_part(0.75), 4)
    0.609
    """
    return thin.lift_and_moment(thin.flap_line(hinge))[0] / (2 * math.pi)


def lever(p: Planform, start: float, end: float, angle: np.ndarray | None = None) -> float:
    """Int c y t dy from one buttline to another on the right side, m3 rad; t is 1, or straight between two values."""
    y = np.linspace(start, end, FINE)
    c = np.interp(y, p.leading_edge[1], p.chord)
    t = np.ones(FINE) if angle is None else np.linspace(angle[0], angle[1], FINE)
    return float(np.trapezoid(c * y * t, y))


def held_by(model: Model, turning: float) -> Band:
    """rad, angle of each aileron that holds strips' `turning`, Int c y t dy of one side; NaN without ailerons."""
    at_hand = sum(
        2 * flap_part(p.hinge) * lever(p, p.hinge_from, p.hinge_to)
        for p in map(wing_planform, model.wings) if p.hinge < 1 and p.hinge_to > p.hinge_from
    )  # fmt: skip
    if not at_hand:
        return Band.exact(math.nan)
    value = turning / at_hand
    return Band(value / EFFECTIVE.value, value * FLOW.low / EFFECTIVE.high, value * FLOW.high / EFFECTIVE.low)


def rigging_results(flown: Flown, by_id: Mapping[str, Result]) -> Iterator[Result]:
    """Every effect, then their rank. by_id: the flight's results."""
    allowed = flown.model.rigging or Rigging()
    found = [*_rolls(flown, allowed), *_stalls(flown, allowed, by_id), *_trims(flown, allowed),
             *_reaches(flown, allowed, by_id)]  # fmt: skip
    yield from (r for r, _ in found)
    yield _rank([(r, share) for r, share in found if math.isfinite(share)])


Effect = tuple[Result, float]  # and the part it takes of what is at hand


def _unsaid(key: str, value: float | None) -> str:
    return "" if value is not None else NONE_GIVEN + key


def _rolls(flown: Flown, allowed: Rigging) -> Iterator[Effect]:
    model = flown.model
    travel = min((min(w.aileron.up, w.aileron.down) for w in model.wings if w.aileron), default=math.nan)
    none = "" if math.isfinite(travel) else "no wing has ailerons"
    for wing in model.wings:
        p, outer = wing_planform(wing), wing.panels[-1]
        one = lever(p, p.side, float(p.leading_edge[1, -1]))
        twisted = lever(p, outer.root_buttline, outer.tip_buttline, np.array([0.0, 1.0]))
        for key, value, arm, words in (
            ("sides", allowed.sides, one, "one side nose up by its tolerance"),
            ("washout", allowed.washout, twisted, "one side's outer panel twisted nose up by its tolerance"),
        ):
            t = math.nan if value is None else value
            band = held_by(model, t * arm)
            steps = (Step("turning of one side", "t Int c y dy", (("t", t, "rad"), ("Int c y dy", arm, "m3")),
                          t * arm, "m3 rad", ROLL),
                     Step("each aileron", "t Int c y dy/(2 tau k Int c y dy)", (("turning", t * arm, "m3 rad"),
                          ("k", EFFECTIVE.value, "1")), band.value, "rad", ROLL))  # fmt: skip
            note = "; ".join(x for x in (_unsaid(key, value), none, "at any speed with the flow attached; near the "
                             "stall that side lets go first, and how far it rolls is not known") if x)  # fmt: skip
            yield (Result(f"rigging.roll.{key}.{wing.name}", f"aileron that holds the {spoken(wing.name)}, {words}",
                          band.value, "rad", band.low, band.high, ROLL, note, steps), band.value / travel)  # fmt: skip
            yield _moment(flown, p, key, wing.name, t * arm, _unsaid(key, value)), math.nan


def _moment(flown: Flown, p: Planform, key: str, wing: str, turning: float, unsaid: str) -> Result:
    """Rolling moment at the fastest level speed: q a Int c y t dy, a = 2 pi A/(A + 4) of a load that is odd."""
    speed = flown.performance.top.speed.value
    aspect = p.span**2 / p.area
    slope, q = 2 * math.pi * aspect / (aspect + 4), 0.5 * flown.air.density * speed**2
    moment = q * slope * turning
    step = Step("rolling moment", "q 2 pi A/(A + 4) t Int c y dy",
                (("q", q, "Pa"), ("A", aspect, "1"), ("turning", turning, "m3 rad")), moment, "N m", ROLL)  # fmt: skip
    note = "; ".join(x for x in (unsaid, "slope of an elliptic wing's odd load (memory), the other wings' flow left "
                     "out: in company it is less") if x)  # fmt: skip
    return Result(f"rigging.roll.moment.{key}.{wing}", f"rolling moment of that at the fastest level speed, "
                  f"{spoken(wing)}, {key}", moment, "N m", source=ROLL, caveat=note, steps=(step,),
                  parents=("flight.speed.max",))  # fmt: skip


def _stalls(flown: Flown, allowed: Rigging, by_id: Mapping[str, Result]) -> Iterator[Effect]:
    case = flown.cases[CASE]
    speed, most = case.stall.speed.value, case.stall.section_end
    top = max(flown.model.wings, key=lambda w: w.leading_edge[2]).name
    rows = [("incidence", allowed.incidence, DEGREE, f"flight.stall.decalage.greatest.{w}", w,
             f"the {spoken(w)} set off by its tolerance") for w in flown.plane.wings]  # fmt: skip
    rows.append(("stagger", allowed.stagger, FURTHER * flown.plane.chord, "flight.stall.stagger", top,
                 f"the {spoken(top)} ahead or behind by its tolerance"))  # fmt: skip
    for key, value, per, parent, wing, words in rows if len(flown.plane.wings) > 1 else ():
        t = math.nan if value is None else value
        gain = by_id[parent].value * t / per
        change = abs(speed * gain / (2 * most))
        step = Step("change", "V/2 gain/CL t/per", (("V", speed, "m/s"), ("CL", most, "1"), ("gain", gain, "1")),
                    change, "m/s", STALL)  # fmt: skip
        note = "; ".join(x for x in (_unsaid(key, value), case.stall.reason, "either way, taken as straight") if x)
        yield (Result(f"rigging.stall.{key}.{wing}", f"stalling speed: change by {words}", change, "m/s",
                      source=STALL, caveat=note, steps=(step,), parents=(parent,)), change / speed)  # fmt: skip


def _trims(flown: Flown, allowed: Rigging) -> Iterator[Effect]:
    plane, case = flown.plane, flown.cases[CASE]
    tail = flown.model.tailplane
    line = attached(plane, place(case.loading), case.line.mass, flown.air)
    before = float(line.states(TRIM_CL).elevator[0])
    named = [("incidence", allowed.incidence, w, spoken(w)) for w in plane.wings]
    for key, value, name, said in (*named, ("tailplane", allowed.tailplane, plane.tail, "tailplane")):
        t = math.nan if value is None else value
        change = math.nan
        if value is not None:
            moved = decalage(line, name, t)
            change = abs(float(moved.states(TRIM_CL).elevator[0]) - before)
        band = turned_in_truth(change)
        step = Step("elevator", "e with it - e before", (("before", before, "rad"), ("change", change, "rad")),
                    band.value, "rad", TRIM)  # fmt: skip
        note = "; ".join(x for x in (_unsaid(key, value), f"at a lift coefficient of {TRIM_CL}, either way") if x)
        share = band.value / min(tail.up, tail.down)
        yield (Result(f"rigging.trim.{key}.{name}", f"elevator to trim the {said} set off by its tolerance", band.value,
                      "rad", band.low, band.high, TRIM, note, (step,)), share)  # fmt: skip


def _reaches(flown: Flown, allowed: Rigging, by_id: Mapping[str, Result]) -> Iterator[Effect]:
    """What is left of up elevator over what the stall wants, the travel at its short end."""
    up, t = flown.model.tailplane.up, math.nan if allowed.travels is None else allowed.travels
    for name in ("foremost", CASE):
        wanted = by_id[f"flight.elevator.wake.{name}"]
        most = max(abs(min(wanted.low, wanted.high)), 0.0) if wanted.band.known else math.nan
        spare, share = up - t - most, t / (up - most) if up > most else math.nan
        step = Step("left", "up - t - wanted", (("up", up, "rad"), ("t", t, "rad"), ("wanted", most, "rad")), spare,
                    "rad", TRIM)  # fmt: skip
        note = "; ".join(x for x in (_unsaid("travels", allowed.travels), "" if up > most else "nothing is left "
                         "even of the full travel", wanted.caveat) if x)  # fmt: skip
        yield (Result(f"rigging.travel.elevator.{name}", f"up elevator left at the stall, travel short by its "
                      f"tolerance, {name.replace('_', ' ')}", spare, "rad", source=TRIM, caveat=note, steps=(step,),
                      parents=(wanted.id,)), share)  # fmt: skip


def _rank(found: list[Effect]) -> Result:
    """The tolerances by the part each takes of what is at hand: aileron travel, elevator travel, stalling speed."""
    ranked = sorted(found, key=lambda pair: -pair[1])
    steps = tuple(Step(f"{i}. {r.title}", "part of what is at hand", ((r.id, r.value, r.unit),), share, "1")
                  for i, (r, share) in enumerate(ranked, 1))  # fmt: skip
    first = f"most: {ranked[0][0].title}, {100 * ranked[0][1]:.1f} %" if ranked else "no tolerance has a known effect"
    said = "worked out here: of aileron or elevator travel, of the stalling speed, of the elevator left at the stall"
    return Result("rigging.rank", "greatest part that one tolerance takes of what is at hand",
                  ranked[0][1] if ranked else math.nan, "1", source=said, caveat=first, steps=steps,
                  parents=tuple(r.id for r, _ in ranked))  # fmt: skip
