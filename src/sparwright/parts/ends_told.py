"""What is told of ends: how far lines of load miss what they go to, and how long wires are."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.base.check import Result, Step
from sparwright.data.hardware import WireEnd
from sparwright.family.model import Model, Wire
from sparwright.parts.ends import middle_of_end
from sparwright.parts.roots import root_spots
from sparwright.parts.struts import Pinned, ends_not_drawn, pinned

METHOD = "measured on the pins as they lie; geometry, worked out here"
ORDER = ("first", "second")


def end_results(model: Model) -> Iterator[Result]:
    """Greatest offset of struts, wires and roots; each wire from pin to pin and as cut."""
    ends = pinned(model)
    if ends:
        lines = {f"{n}, {ORDER[i]} end": _off_line(model, ends, n, i) for n, i in ends}
        title = "line of a strut or wire to the middle of its spar or node, greatest"
        yield _greatest("ends.offset.lines", title, lines, "; ".join(ends_not_drawn(model)))
    if model.roots:
        roots = {s.root.name: _past(s.node, s.pin, s.axes.along) for s in root_spots(model)}
        yield _greatest("ends.offset.roots", "middle line of a spar to the node its root is bolted to, greatest", roots)
    for wire in model.wires:
        yield from _wire(wire, ends)


def _greatest(id: str, title: str, found: dict[str, float], caveat: str = "") -> Result:
    worst = max(found, key=lambda n: found[n])
    steps = tuple(Step(name, "least distance of the two lines", (), value, "m") for name, value in found.items())
    told = "; ".join(x for x in (f"{worst.replace('_', ' ')}", caveat) if x)
    return Result(id, title, found[worst], "m", found[worst], found[worst], METHOD, told, steps)


def _past(point: np.ndarray, on: np.ndarray, way: np.ndarray) -> float:
    """Distance of a point from a line, m."""
    off = point - on
    return float(np.linalg.norm(off - (off @ way) * way))


def _off_line(model: Model, ends: dict[tuple[str, int], Pinned], name: str, which: int) -> float:
    """How far the line from pin to pin misses the middle of its spar or its node, m."""
    p, other = ends[name, which], ends.get((name, 1 - which))
    way = p.held.away if other is None else (other.pin - p.pin) / np.linalg.norm(other.pin - p.pin)
    return _past(middle_of_end(model, p.held.end), p.pin, way)


def _wire(wire: Wire, ends: dict[tuple[str, int], Pinned]) -> Iterator[Result]:
    held = [ends[wire.name, i] for i in (0, 1) if (wire.name, i) in ends]
    name = wire.name.replace("_", " ")
    if len(held) < 2:
        why = "one of its ends is not drawn"
        yield Result(f"ends.wire.{wire.name}.cut", f"{name} wire, cut length", math.nan, "m", source=METHOD, caveat=why)
        return
    pieces = [p.held.piece for p in held if isinstance(p.held.piece, WireEnd)]
    pins = float(np.linalg.norm(held[1].pin - held[0].pin))
    cut = pins - sum(e.length - e.socket for e in pieces)
    give = sum(e.take_up for e in pieces)
    caveat = "as rigged, at its tension; sizes of its ends from memory: hold them against the maker's sheet"
    steps = (
        Step("cut length", "P - (l - s)", (("P", pins, "m"), ("l", sum(e.length for e in pieces), "m"),
                                           ("s", sum(e.socket for e in pieces), "m")), cut, "m"),
    )  # fmt: skip
    yield Result(f"ends.wire.{wire.name}.pins", f"{name} wire, pin to pin", pins, "m", pins - give, pins + give,
                 METHOD, f"the band is what its turnbuckle takes up; {caveat}")  # fmt: skip
    yield Result(f"ends.wire.{wire.name}.cut", f"{name} wire, cut length", cut, "m", cut, cut, METHOD, caveat, steps,
                 (f"ends.wire.{wire.name}.pins",))  # fmt: skip
