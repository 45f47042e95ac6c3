"""Controls in the bent frame: whether they still go through full travel at limit load, without slack and without jam.

    d = sum S_k^T m_k                what moves at a place: S_k what each node gets of a force there (structure/spread)
    J x = -(l' - l)                  x turns of free levers, and the loop's strain, the hand held; l' in the bent frame
    T = T_0 + E A e                  tension of a loop's cables by its strain e

Levers, pulleys and rings stand on the nodes nearest to them, those in a wing on its spars beside them, horns on the
surface their hinges stand on. By the first-order sum the cases that slacken, turn the surface up and turn it down most
are found; in those the mechanism is stood and swung again (parts/linkage.py), exact, each lever turned with what it
stands on. Rods and cables keep their lengths; the surface's own bending between hinges, friction and heat are not in
it. As rigged, cases of flight and engine. Rule: 23.305(a), up to limit loads no deformation may interfere with safe
operation. Sources: statics (virtual work), worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.check import Check, Step, check
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.controls.motion import Motion, cables, reached, stiffness
from sparwright.family.controls import ControlCable
from sparwright.family.model import Model
from sparwright.parts.control_runs import Lever, Link, aileron_key
from sparwright.parts.linkage import Locks, Run, slopes_of, stand, swing
from sparwright.shape.cable import Wheel
from sparwright.structure.answered import Answered
from sparwright.structure.masses import Carriers
from sparwright.structure.spread import spread

RULE = "cfr-23-2014 23.305(a)"
METHOD = "mechanism stood in the frame as it bends at limit load, hand held; links keep their lengths"
IN_FLIGHT = ("manoeuvre", "gust", "roll", "yaw", "tail", "engine")
NEAREST = 4  # nodes of the fuselage that a thing stands on


@dataclass(frozen=True)
class Case:
    """A control in one case."""

    title: str
    strain: float = number("1", "of the loop's cables with the hand in neutral; nought without a loop")
    turned: float = number("rad", "by the surface with the hand in neutral, right-handed about its hinge line")


def bent_control_checks(model: Model, answer: Answered, motions: Sequence[Motion]) -> Iterator[Check]:
    """For each control: whether its loop stays tight, and how far the surface goes each way, in the worst cases."""
    carriers, level = Carriers(model, answer.skeleton), answer.limit[0]
    rows = [i for i, x in enumerate(answer.laid) if x.case.kind in IN_FLIGHT]
    done = [i for i in rows if level.good[i] and np.isfinite(level.moved[i]).all()]
    lost = f"{len(rows) - len(done)} of {len(rows)} cases are not worked out" if len(done) < len(rows) else ""
    if not done:
        lost = "no case of flight is worked out"
    moved = level.moved[done]
    for m in motions:
        every = Moves(carriers, m.run, moved)
        first = [_first_order(m, every, k, answer.laid[i].case.title) for k, i in enumerate(done)]
        yield from _of_one(m, every, first, lost)


class Moves:
    """What levers and pulleys of a run move in each case."""

    def __init__(self, carriers: Carriers, run: Run, moved: np.ndarray) -> None:
        """moved (c, n, 6) m and rad, of the frame's nodes."""
        self.run, self._moved, self._carriers = run, moved, carriers
        self._levers = {k: self._at(stands_on(carriers, k, v.pivot), v.pivot) for k, v in run.levers.items()}
        self._over = {k.key: [self._at(stands_on(carriers, n, c), c) for n, c in zip(k.names, _middles(k), strict=True)]
                      for k in run.links}  # fmt: skip

    def _at(self, nodes: np.ndarray, place: np.ndarray) -> np.ndarray:
        """(c, 6) m and rad."""
        each = spread(self._carriers.place[nodes], place)
        return np.asarray(np.einsum("kij,cki->cj", each, self._moved[:, nodes]))

    def link(self, link: Link, case: int) -> Link:
        """A link with its ends and pulleys where they are in a case, all levers in neutral on what they stand on."""
        bases = [(self._levers[n][case], self.run.levers[n].pivot) for n in link.levers]
        ends = np.array([_rigid(p, d, pivot) for p, (d, pivot) in zip(link.ends, bases, strict=True)])
        over = tuple(_moved(o, d[case]) for o, d in zip(link.over, self._over[link.key], strict=True))
        return replace(link, ends=ends, over=over)

    def bent(self, case: int) -> Run:
        """The run in a case: the same lengths between places that have moved."""
        levers = {k: _lever(v, self._levers[k][case]) for k, v in self.run.levers.items()}
        return Run(levers, tuple(self.link(k, case) for k in self.run.links), self.run.lengths)


def stands_on(carriers: Carriers, name: str, place: np.ndarray) -> np.ndarray:
    """The nodes a lever or pulley stands on: of the surface ahead of a hinge, of a wing beside it, else the nearest."""
    model = carriers.model
    for wing in model.wings:
        if name.startswith(aileron_key(wing.name, "")) or _on_wing(model, name, wing.name):
            return carriers.beside(wing.name, place)
    if name in ("elevator", "rudder"):
        return carriers.on_tail("tailplane" if name == "elevator" else "fin", "", place)
    return carriers.nearest(carriers.frame, place, NEAREST)


def _on_wing(model: Model, name: str, wing: str) -> bool:
    """Whether a crank, pulley, ring or lug stands on a part of a wing."""
    c = model.controls
    if c is None:
        return False
    on = {x.name: x.on for x in c.cranks} | {x.name: x.on for x in c.pulleys} | {x.name: x.on for x in c.fairleads}
    return (on | {x.name: x.on for x in c.lugs}).get(name.split("-")[0], "").startswith(f"{wing}-")


def _middles(link: Link) -> list[np.ndarray]:
    return [o.centre if isinstance(o, Wheel) else o for o in link.over]


def _rigid(point: np.ndarray, moves: np.ndarray, about: np.ndarray) -> np.ndarray:
    """(3,) a point carried by what moves and turns so about a place."""
    return np.asarray(point + moves[:3] + np.cross(moves[3:], point - about))


def _moved(over: Wheel | np.ndarray, moves: np.ndarray) -> Wheel | np.ndarray:
    if not isinstance(over, Wheel):
        return np.asarray(over + moves[:3])
    normal = over.normal + np.cross(moves[3:], over.normal)
    return Wheel(over.centre + moves[:3], normal / np.linalg.norm(normal), over.radius)


def _lever(lever: Lever, moves: np.ndarray) -> Lever:
    axis = lever.axis + np.cross(moves[3:], lever.axis)
    return Lever(lever.key, lever.pivot + moves[:3], axis / np.linalg.norm(axis))


# ------------------------------------------------------------------ first the sum, then the mechanism


def _first_order(m: Motion, every: Moves, case: int, title: str) -> Case:
    """Strain and the surface's turn with the hand held, by the slopes in neutral."""
    names, slopes, _ = slopes_of(m.run, m.lever, m.stances[m.neutral])
    there = [every.link(k, case) for k in m.run.links]
    longer = np.array([k.length(k.ends) for k in there]) - m.run.lengths
    x = np.linalg.solve(slopes, -longer)
    return Case(title, float(x[-1]) if m.run.loop else 0.0, float(x[names.index(m.surface)]))


def _of_one(m: Motion, every: Moves, first: Sequence[Case], lost: str) -> Iterator[Check]:
    if not first:
        worst: list[int] = []
    else:
        turns, strains = [c.turned for c in first], [c.strain for c in first]
        worst = [int(k) for k in dict.fromkeys((np.argmin(strains), np.argmax(turns), np.argmin(turns)))]
    runs = {k: every.bent(k) for k in worst}
    name = m.name.replace("_", " ")
    if m.run.loop:
        yield _tight(m, name, runs, first, lost)
    for end in m.ends:
        far = {k: reached(r, m.surface, end.lever, end.full, _way(m, end.word)) for k, r in runs.items()}
        k = min(far, key=lambda i: _unknown_first(far[i])) if far else -1
        steps = tuple(_turn_step(m, runs[i], first[i]) for i in far)
        value = Band.exact(far[k]) if far and math.isfinite(far[k]) else UNKNOWN
        yield check(f"strength.control.bent.{m.name}.{end.word}",
                    f"{name} {end.word} in the bent frame, {end.hand} as far as there is room", value, end.travel, ">=",
                    "rad", case=first[k].title if far else "", rule=RULE, method=METHOD, steps=steps,
                    outside_range=lost or ("" if value.known else "the hand's way is short of its room"))  # fmt: skip


def _unknown_first(x: float) -> float:
    return x if math.isfinite(x) else -math.inf


def _way(m: Motion, word: str) -> float:
    """Sign of the surface's travel for an end's word: the first is positive."""
    return 1.0 if word == m.ends[0].word else -1.0


def _turn_step(m: Motion, run: Run, first: Case) -> Step:
    """How far the surface has turned with the hand where it was."""
    try:
        turned = stand(run, m.lever, 0.0).angles[m.surface]
    except Locks:
        turned = math.nan
    given = (("by first order", first.turned, "rad"),)
    return Step(f"{first.title}: turned with the hand in neutral", "stand(lengths, bent frame)", given, turned, "rad",
                METHOD)  # fmt: skip


def _tight(m: Motion, name: str, runs: Mapping[int, Run], first: Sequence[Case], lost: str) -> Check:
    """The rigging tension of a loop against what the bent frame takes off it, most through the travel."""
    made = [k.made for k in cables(m) if isinstance(k.made, ControlCable)]
    found = {k: float(np.min(_strains(m, r))) for k, r in runs.items()}
    k = min(found, key=lambda i: _unknown_first(found[i])) if found else -1
    least = found[k] if found else math.nan
    loose = min(made, key=lambda c: c.tension)
    ea = stiffness(loose)
    known = ea.known and math.isfinite(least)
    gone = ea.high * max(-least, 0.0)  # the stiffer cable slackens sooner
    given = (("by first order, in neutral", first[k].strain if found else math.nan, "1"),)
    steps = (
        Step("strain of the loop, least through the travel", "stand(lengths, bent frame)", given, least, "1", METHOD),
        Step("taken off its tension", "E A |e|", (("E A", ea.high, "N"), ("e", least, "1")), gone, "N", METHOD),
    )
    return check(f"strength.control.bent.{m.name}.slack",
                 f"{name}: tension its cables are rigged to, and what the bent frame takes off it",
                 Band.exact(loose.tension) if known else UNKNOWN, gone if known else 0.0, ">=", "N",
                 case=first[k].title if found else "", rule=RULE, method=METHOD, steps=steps,
                 outside_range=lost or ("" if known else "the cables' stretch is not known"))  # fmt: skip


def _strains(m: Motion, run: Run) -> list[float]:
    """Of the loop, in neutral and through the room of the hand either way, as far as it does not lock.

    NaN among them where it locks in neutral, or nobody knows how far the hand's room takes the lever.
    """
    try:
        found = [stand(run, m.lever, 0.0).strain]
    except Locks:
        return [math.nan]
    for end in m.ends:
        found += [s.strain for s in swing(run, m.lever, end.full)[1:]] if math.isfinite(end.full) else [math.nan]
    return found
