"""Exhaust: how near it comes to fuel and to what burns, and where its gas leaves. Gaps are measured on the bodies.

Wires and lines that have no body count as round rods of their size along the way they are said to go; fabric, and
what the exhaust is bolted to, is left out. Heat is not worked out: a shield may make less do, and the engine's maker
may want more.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

import numpy as np

from sparwright.base.check import Check, Step, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.exhaust import RULES
from sparwright.data.loader import material, materials
from sparwright.family.model import Model
from sparwright.parts.beside import boxes
from sparwright.parts.exhaust import outlets
from sparwright.parts.fuel import GROUP as FUEL
from sparwright.parts.part import Assembly, Part, Run, Skin
from sparwright.parts.solids import gap, solids
from sparwright.shape.frame import within_body
from sparwright.shape.solid import Solid
from sparwright.shape.tube import Tube

LOOK = 0.3  # m: no further is looked
BURNS = ("wood", "plywood", "glass", "rubber", "plastic")
NO_EXHAUST = "the file has no exhaust; [exhaust] with its pipes would settle it"
COLD = "at rest and cold; an engine on rubbers moves, and heat is not worked out"


def exhaust_checks(model: Model, assembly: Assembly) -> Iterator[Check]:
    """`exhaust.fuel`, `exhaust.burns`, `exhaust.drain`, `exhaust.outside`; one unknown where the file has none."""
    if model.exhaust is None:
        yield check("exhaust.fuel", RULES["fuel"].title, UNKNOWN, math.nan, ">=", "m", method="none", caveat=NO_EXHAUST)
        return
    hot = [p for p in assembly.parts if p.purpose == "exhaust"]
    yield _gap("fuel", hot, assembly, lambda p: p.group == FUEL)
    yield _gap("burns", hot, assembly, _burns)
    yield _drain(model)
    yield _outside(model)


def _burns(part: Part) -> bool:
    kind = material(part.material).kind if part.material in materials() else ""
    return part.group != FUEL and (kind in BURNS or isinstance(part.shape, Run))


def _gap(key: str, hot: Sequence[Part], assembly: Assembly, wanted: Callable[[Part], bool]) -> Check:
    """The least gap between the exhaust and the parts that are wanted; unknown where none of them has a body."""
    others = [(p.number, s) for p in assembly.parts if wanted(p) for s in _bodies(p)]
    places, near = boxes([s for _, s in others]), []
    for part in hot:
        for body in solids(part):
            least, name = LOOK, ""
            for i, floor in places.near(body, least):
                if floor >= least:
                    break
                off = gap(body, others[i][1], least)
                least, name = (off, others[i][0]) if off < least else (least, name)
            near.append((least, part.number, name))
    near.sort()
    rule, known = RULES[key], bool(others and near)
    said = f"{near[0][1]} and {near[0][2]}" if known and near[0][2] else f"nothing within {LOOK * 1e3:.0f} mm"
    return check(
        f"exhaust.{key}", rule.title, Band.exact(near[0][0]) if known else UNKNOWN, rule.value, rule.sense, "m",
        part=near[0][1] if known else "", rule=str(rule.source), method="measured on the bodies of the parts",
        caveat=f"{said}; {COLD}" if known else "no body to measure to",
        steps=tuple(Step(f"{a} to {b or 'nothing near'}", "least gap", (), gap, "m") for gap, a, b in near),
    )  # fmt: skip


def _bodies(part: Part) -> Sequence[Solid]:
    if isinstance(part.shape, Run):
        return (Tube(path=part.shape.path, outside=part.shape.outside, wall=0.0).solid(),)
    return () if isinstance(part.shape, Skin) and not part.shape.thickness else solids(part)


def _drain(model: Model) -> Check:
    """From each open end to the fuel's drain and the vent's opening."""
    fuel, rule = model.fuel, RULES["drain"]
    assert model.exhaust is not None
    places = {"drain": fuel.tank.drain, **({"vent": fuel.vent.opening} if fuel.vent else {})} if fuel else {}
    steps = tuple(
        Step(f"{pipe} to the {word}", "|a - b|", (), float(np.linalg.norm(end - np.array(place))), "m")
        for pipe, end in outlets(model.exhaust) for word, place in places.items()
    )  # fmt: skip
    least = min(steps, key=lambda s: s.value, default=None)
    return check(
        "exhaust.drain", rule.title, Band.exact(least.value) if least else UNKNOWN, rule.value, rule.sense, "m",
        rule=str(rule.source), method="geometry", caveat=least.title if least else "the file has no fuel system",
        steps=steps,
    )  # fmt: skip


def _outside(model: Model) -> Check:
    """How many open ends lie within the box round the body at their station."""
    assert model.exhaust is not None
    ends = outlets(model.exhaust)
    within = [name for name, (x, y, z) in ends if within_body(model.fuselage.body, (float(x), float(y), float(z)))]
    return check(
        "exhaust.outside", "exhaust ends that open within the body", Band.exact(len(within)), 0, "<=", "1",
        rule="cs-vla 1121(a) (memory): no carbon monoxide where the pilot sits", method="counted",
        caveat=", ".join(within) or "where the gas goes is seen with tufts in flight, in the cockpit with a detector",
    )  # fmt: skip
