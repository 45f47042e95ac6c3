"""What the trim's spring does to the stick, through the lever's travel and the stick's.

    T = P (l - l0)/d        l from hook to hook, l0 slack, P its pull when drawn by d; nought when slack
    F = T (k/r)             k: moment about the stick's bolt of a pull of one, r from there to the grip

The spring's line is that between its two holes. Springs are not all alike; the file says what
was weighed. Source: geometry, worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Result, Step, check
from sparwright.base.record import locked, number
from sparwright.base.source import UNKNOWN, Band
from sparwright.controls.clearance import LOOK, Near, Still, nearer, still
from sparwright.controls.motion import Motion
from sparwright.data.controls import RULES
from sparwright.family.controls import Controls, Trim
from sparwright.family.model import Model
from sparwright.parts.control_bodies import number as named
from sparwright.parts.control_trim import lever_of, spring_line
from sparwright.parts.part import Assembly, Part
from sparwright.parts.solids import solids
from sparwright.shape.solid import Solid, turning
from sparwright.shape.tube import Tube

METHOD = "spring as a straight line between its holes; stick and lever turned (controls/trim.py)"
ACROSS, AHEAD = np.array([0.0, 1.0, 0.0]), np.array([-1.0, 0.0, 0.0])


@dataclass(frozen=True)
class Set:
    """The spring at one place of stick and lever."""

    word: str  # of the stick: "stick in the middle"
    hook: np.ndarray = number("m", "(3,) hole in the stick's lug")
    hole: np.ndarray = number("m", "(3,) hole in the lever")
    lever: float = number("rad", "of the lever, aft")
    length: float = number("m", "from hole to hole")
    tension: float = number("N", "of the spring")
    stick: float = number("N", "at the grip, drawing it aft")
    hand: float = number("N", "at the lever's grip, to hold it")


def sets(model: Model, c: Controls, trim: Trim, elevator: Motion) -> tuple[Set, ...]:
    """The spring with the stick in the middle, full aft and forward, and to the side, at three places of the lever."""
    assert model.seat is not None and model.seat.stick is not None
    pivot, grip = np.array(c.stick.pivot), np.array(model.seat.stick.place)
    side = math.asin(min(1.0, c.stick.side / float(grip[2] - pivot[2])))
    at = {e.hand: e.stance.angles["stick"] for e in elevator.ends if e.stance}
    ways = [("stick in the middle", 0.0, 0.0), *((w, a, 0.0) for w, a in at.items())]
    ways += [("stick to the right", 0.0, side), ("stick to the left", 0.0, -side)]
    return tuple(
        _set(c, trim, word, float(np.linalg.norm(grip - pivot)), pitch, roll, lever)
        for word, pitch, roll in ways
        for lever in (-trim.forward, 0.0, trim.aft)
    )


def stick_force(model: Model, c: Controls, trim: Trim) -> Callable[[float, float], float]:
    """What the spring draws the stick aft with, N, by the stick's and the lever's angle aft, rad; stick in the middle.

    The same as `sets`, in the plane fore and aft, for whoever asks often.
    """
    assert model.seat is not None and model.seat.stick is not None
    pivot, grip = np.array(c.stick.pivot), np.array(model.seat.stick.place)
    _, axle, hole, _ = lever_of(c, trim)
    arm, rate = float(np.linalg.norm(grip - pivot)), trim.pull / trim.drawn
    (hx, _, hz), (gx, _, gz) = (np.array(trim.hook) - pivot).tolist(), (hole - axle).tolist()
    (ax, _, az), across = (axle - pivot).tolist(), float(hole[1] - trim.hook[1])

    def force(stick: float, lever: float) -> float:
        cs, ss, cl, sl = math.cos(stick), math.sin(stick), math.cos(lever), math.sin(lever)
        x, z = hx * cs + hz * ss, hz * cs - hx * ss
        lx, lz = ax + gx * cl + gz * sl - x, az + gz * cl - gx * sl - z
        length = math.sqrt(lx * lx + lz * lz + across * across)
        return float((z * lx - x * lz) / length * max(0.0, rate * (length - trim.slack)) / arm)

    return force


def _set(c: Controls, trim: Trim, word: str, arm: float, pitch: float, roll: float, lever: float) -> Set:
    pivot = np.array(c.stick.pivot)
    turn = turning(AHEAD, roll) @ turning(ACROSS, pitch)
    hook = pivot + turn @ (np.array(trim.hook) - pivot)
    _, axle, hole, held = lever_of(c, trim)
    hole = axle + turning(ACROSS, lever) @ (hole - axle)
    line = hole - hook
    length = float(np.linalg.norm(line))
    tension = max(0.0, trim.pull * (length - trim.slack) / trim.drawn)
    about = turning(AHEAD, roll) @ ACROSS
    stick = float(np.cross(hook - pivot, line / length) @ about) * tension / arm
    back = float(np.cross(hole - axle, -line / length) @ ACROSS) * tension
    return Set(word, hook, hole, lever, length, tension, stick, abs(back) / float(np.linalg.norm(held - axle)))


def trim_results(found: Sequence[Set]) -> Iterator[Result]:
    """The range of stick force that the trim gives, and what holds its lever."""
    for word in dict.fromkeys(s.word for s in found if "right" not in s.word and "left" not in s.word):
        mine = [s for s in found if s.word == word]
        forces = [s.stick for s in mine]
        name = word.rpartition(" ")[2]
        yield Result(
            f"controls.trim.force.{name}",
            f"stick force that the trim gives, drawing aft: {word}",
            mine[1].stick,
            "N",
            min(forces),
            max(forces),
            METHOD,
            "lever in the middle; band: lever forward to aft. Friction left out; the spring's pull is the designer's",
            tuple(_step(s) for s in mine),
        )
    most = max(s.hand for s in found)
    yield Result("controls.trim.lever", "force at the trim lever's grip to hold it, greatest", most, "N", most, most,
                 METHOD, "the friction of its bracket must give it; not computed")  # fmt: skip


def _step(s: Set) -> Step:
    given = (("l", s.length, "m"), ("T", s.tension, "N"))
    return Step(f"lever {math.degrees(s.lever):+.0f} deg", "T k/r", given, s.stick, "N")


def trim_checks(model: Model, trim: Trim, found: Sequence[Set]) -> Iterator[Check]:
    """A spring that is never slack, nor drawn further than it may be."""
    spring = named(model, "TRIM-SPRING")
    least, most = (f(found, key=lambda s: s.length) for f in (min, max))
    yield check(
        "controls.trim.taut", "how far the trim's spring is drawn, least", Band.exact(least.length - trim.slack), 0.0,
        ">=", "m", part=spring, method=METHOD, caveat=_where(least),
        rule="a slack spring hangs into what moves; common practice, no source",
    )  # fmt: skip
    yield check(
        "controls.trim.drawn", "how far the trim's spring is drawn, greatest, over its slack length",
        Band.exact((most.length - trim.slack) / trim.slack), trim.longest, "<=", "1", part=spring, method=METHOD,
        caveat=_where(most), rule="controls.trim.longest (designer's)",
    )  # fmt: skip


def _where(s: Set) -> str:
    return f"{s.word}, lever {math.degrees(s.lever):+.0f} deg"


def trim_clear(model: Model, c: Controls, trim: Trim, found: Sequence[Set], assembly: Assembly) -> Check:
    """Least gap of spring and lever to what stands, the other controls in neutral."""
    around = still(assembly)
    near = nearest_of_trim(model, c, trim, found, assembly, around)
    told = f"{near.one} and {near.other}, {near.where}" if near.other else f"nothing within {LOOK * 1e3:.0f} mm"
    return check(
        "controls.trim.clear", "least gap of the trim's spring and lever, through their travel",
        Band.exact(near.gap) if near.one else UNKNOWN, RULES["clear"].value, RULES["clear"].sense, "m", part=near.one,
        rule=str(RULES["clear"].source), method=METHOD, caveat=f"{told}; other controls in neutral",
        outside_range=f"bodies that are not closed: {', '.join(around.open[:6])}" if around.open else "",
    )  # fmt: skip


def nearest_of_trim(
    model: Model, c: Controls, trim: Trim, found: Sequence[Set], assembly: Assembly, around: Still
) -> Near:
    """Where spring or lever come nearest to anything."""
    name, axle, _, _ = lever_of(c, trim)
    spring, plate = assembly.part(named(model, "TRIM-SPRING")), assembly.part(named(model, "CRANK", name))
    own = {spring.number, plate.number, *(named(model, k) for k in ("STICK", "STICK-LUG", "STICK-TRIM-LUG"))}
    keep = np.array([n not in own for n in around.numbers])
    beside = {k: around.joined.get(k, set()) for k in (spring.number, plate.number)}
    beside[plate.number] |= around.joined.get(named(model, "CRANK-HUB", name), set())
    least = [Near(LOOK, spring.number), Near(LOOK, plate.number)]
    for s in found:
        bodies = (_spring_at(c, trim, spring, s), *_lever_at(plate, axle, s))
        for i, (part, body) in enumerate(zip((spring, plate), bodies, strict=True)):
            least[i] = nearer(least[i], body, around, keep, beside[part.number], part.passes, _where(s))
    return min(least, key=lambda n: n.gap)


def _spring_at(c: Controls, trim: Trim, spring: Part, s: Set) -> Solid:
    shape = spring.shape
    assert isinstance(shape, Tube)
    return Tube(path=locked(spring_line(c, trim, s.hook, s.hole)), outside=shape.outside, wall=0.0,
                section=shape.section).solid()  # fmt: skip


def _lever_at(plate: Part, axle: np.ndarray, s: Set) -> tuple[Solid, ...]:
    turn = turning(ACROSS, s.lever)
    return tuple(Solid(locked((b.points - axle) @ turn.T + axle), b.faces) for b in solids(plate))
