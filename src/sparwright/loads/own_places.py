"""Cases whose forces act at places of their own: things thrown in the cabin, an aeroplane on its back, hands and feet.

    cabin      each thing behind the firewall, fuel and baggage included: n m g where it is held
    turned     the ground's push and drag at the point that keeps the head off it, on the wing or the frame there
    tip        a hand that lifts the right tip of the widest wing by its front spar
    tail       a hand that lifts the tail at the frame's last node
    propeller  a hand that pulls the blade down, at the hub
    foot       a foot on the lowest wing's rear spar, a hand's breadth outside its root
    strut      a hand that pushes forward by the middle of the longest strut, half of it at either end
    jacked     parked.py
    hoisted    parked.py

Where the file does not say how it is jacked or lifted, the case is not laid out and says so.
Sources: cs-vla 561 for the first two; the rest common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.family.model import Model
from sparwright.loads.besides import ALONG, FORCE, FORWARD, SIDE, UP
from sparwright.loads.case import LoadCase, Pushes
from sparwright.loads.code import asked
from sparwright.loads.parked import hoisted, jacked
from sparwright.loads.places import HAND, stepped_on, taken_at
from sparwright.loads.point_forces import at_spar
from sparwright.loads.together import joined, push
from sparwright.shape.frame import nodes

WAYS: Mapping[str, tuple[str, tuple[float, float, float]]] = {
    "up": (UP, (0.0, 0.0, 1.0)), "forward": (FORWARD, (-1.0, 0.0, 0.0)), "side": (SIDE, (0.0, 1.0, 0.0)),
}  # fmt: skip


def own_place(case: LoadCase, model: Model, words: Sequence[str]) -> Pushes:
    """The forces of such a case. ValueError, with what the file does not say, where they are not known."""
    if "cabin" in words:
        return _cabin(case, model, words)
    if "jacked" in words:
        return jacked(case, model, words)
    laid: Mapping[str, Callable[[LoadCase, Model], Pushes]] = {
        "turned_over": _turned, "tip": _tip, "tail": _tail, "propeller": _propeller, "foot": _foot, "strut": _strut,
        "hoisted": hoisted,
    }  # fmt: skip
    for word, of in laid.items():
        if word in words:
            return of(case, model)
    raise ValueError(f"{case.key}: the file does not say where it is held")


def in_cabin(model: Model) -> Iterator[tuple[str, tuple[float, float, float], float]]:
    """(name, place m, mass kg) of what lies behind the firewall and is not the pilot: items, fuel, oil, baggage."""
    behind = model.engine.place[0]
    for item in model.items:
        if item.place[0] > max(behind, 0.0) and item.mass > 0:
            yield item.name, item.place, item.mass
    for load in model.loads:
        if load.kind in ("fuel", "baggage") and load.place[0] > max(behind, 0.0):
            yield load.name, load.place, load.most


def _cabin(case: LoadCase, model: Model, words: Sequence[str]) -> Pushes:
    way = next(w for w in WAYS if w in words)
    title, to = WAYS[way]
    factor = asked(case.steps, title)
    things = list(in_cabin(model))
    if not things:
        raise ValueError("nothing lies in the cabin")
    return joined([push(f"item:{n}", at, factor * m * GRAVITY * np.array(to)) for n, at, m in things])


def _turned(case: LoadCase, model: Model) -> Pushes:
    """The ground pushes towards the belly and along, either way would do: aft is taken."""
    seat = model.seat
    if seat is None or seat.turnover is None:
        raise ValueError("the file does not say what keeps the head off the ground (seat.turnover)")
    n, along, weight = asked(case.steps, UP), asked(case.steps, ALONG), case.mass * GRAVITY
    return push("turnover", seat.turnover, n * weight * np.array([along, 0.0, -1.0]))


def _force(case: LoadCase) -> float:
    found = asked(case.steps, FORCE)
    if not np.isfinite(found):
        raise ValueError(case.caveat or f"{case.key}: no force")
    return found


def _tip(case: LoadCase, model: Model) -> Pushes:
    wing = max(model.wings, key=lambda w: w.panels[-1].tip_buttline)
    return at_spar(
        model,
        wing.name,
        min(wing.spars, key=lambda s: s.at).name,
        wing.panels[-1].tip_buttline,
        (0.0, 0.0, _force(case)),
    )


def _tail(case: LoadCase, model: Model) -> Pushes:
    force, known = _force(case), nodes(model.fuselage)
    last = max(known, key=lambda n: known[n][0])
    return push(f"node:{last}", known[last], (0.0, 0.0, force))


def _propeller(case: LoadCase, model: Model) -> Pushes:
    x, y, z = model.propeller.place
    arm, force = model.propeller.diameter / 4, _force(case)
    return push("mount", (x, y, z), (0.0, 0.0, -force), (force * arm, 0.0, 0.0))


def _foot(case: LoadCase, model: Model) -> Pushes:
    force = _force(case)
    wing = stepped_on(model)
    if wing is None:
        raise ValueError("no wing of it can be stepped on: none begins at the fuselage's side")
    rear = max(wing.spars, key=lambda s: s.at).name
    return at_spar(model, wing.name, rear, wing.panels[0].root_buttline + HAND, (0.0, 0.0, -force))


def _strut(case: LoadCase, model: Model) -> Pushes:
    force = np.array([-_force(case), 0.0, 0.0])
    if not model.struts:
        raise ValueError("it has no strut")
    ends = [[next(iter(taken_at(model, e))) for e in s.ends] for s in model.struts]
    a, b = max(ends, key=lambda x: float(np.linalg.norm(np.subtract(x[0][1], x[1][1]))))
    return joined([push(on, at, force / 2) for on, at in (a, b)])
