"""The tests without bags of their own on a surface: controls, seat and harness, gear. Loads from the cases.

Each is the greatest force that any case lays on that thing, with its parts aft, right and up. What a case gives as
ultimate is told as that: nothing that has borne it flies.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Result, Step
from sparwright.family.model import Model
from sparwright.loads.laid_out import LaidOut

ON = {"controls": ("stick", "pedals"), "seat": ("seat", "harness"), "gear": ("wheel",)}
KINDS = {"controls": ("control",), "seat": ("crash",), "gear": ("landing", "ground")}
WORDS = {
    "stick": "stick, the surface held",
    "pedals": "one pedal, the rudder held",
    "seat": "seat",
    "harness": "harness",
    "wheel": "wheel",
}
LITTLE = 1.0  # N: less is no test
ELSEWHERE = ("along_hinge", "wind", "cabin")  # words of cases that load a surface or things, not the hand or the pilot


def static_results(model: Model, laid: Sequence[LaidOut]) -> Iterator[Result]:
    """The greatest force of every way of loading each thing; a kind of which nothing is known is told as unknown."""
    for group, things in ON.items():
        rows = [r for one in laid if one.case.kind in KINDS[group] for r in _rows(one, things)]
        if group == "seat":
            yield _sat(model)
        if not rows:
            yield Result(
                f"proof.static.{group}",
                f"proof load, {group}: greatest force",
                np.nan,
                "N",
                outside_range="no case says it",
            )
        best: dict[tuple[str, str], tuple[float, LaidOut, np.ndarray]] = {}
        for thing, way, force, one in rows:
            size = float(np.linalg.norm(force))
            if size > best.get((thing, way), (LITTLE, one, force))[0]:
                best[thing, way] = (size, one, force)
        for (thing, way), (size, one, force) in best.items():
            yield _told(group, thing, way, size, one, force)


def _sat(model: Model) -> Result:
    """The heaviest pilot at the limit load factor, pressed into the seat."""
    mass = max((x.most for x in model.loads if x.kind == "pilot"), default=np.nan)
    n = model.limits.n_positive
    given = (("n", n, "1"), ("heaviest pilot", mass, "kg"), ("g", GRAVITY, "m/s2"))
    return Result(
        "proof.static.seat.seat.pressed",
        "proof load, seat: heaviest pilot at the limit load factor",
        n * mass * GRAVITY,
        "N",
        source="designer",
        caveat="limit",
        steps=(Step("down on the seat", "n m g", given, n * mass * GRAVITY, "N", "designer"),),
    )


def _rows(one: LaidOut, things: Sequence[str]) -> Iterator[tuple[str, str, np.ndarray, LaidOut]]:
    """(thing, way, force (3,), case) of what a case lays on each thing of the right side, all its pushes together."""
    words = one.case.key.split(".")
    if any(w in words for w in ELSEWHERE):
        return
    way = ".".join(w for w in words[1:] if not w.startswith("max_")) or words[0]
    found: dict[str, np.ndarray] = {}
    for on, force in zip(one.pushes.on, one.pushes.force, strict=True):
        kind, *rest = on.split(":")
        if kind in things and np.isfinite(force).all() and rest[-1:] != ["L"]:
            name = ":".join([kind, *rest[:1]]) if kind == "wheel" else kind
            found[name] = found.get(name, np.zeros(3)) + force
    yield from ((name, way, force, one) for name, force in found.items())


def _told(group: str, thing: str, way: str, size: float, one: LaidOut, force: np.ndarray) -> Result:
    kind, _, which = thing.partition(":")
    level = "limit" if one.case.level == "limit" else "ultimate: not on an article that flies"
    each = tuple(
        Step(name, "of the case", (), float(v), "N", one.case.rule)
        for name, v in zip(("aft", "right", "up"), force, strict=True)
    )
    words = f"{which} {WORDS[kind]}".strip()
    return Result(
        f"proof.static.{group}.{thing.replace(':', '.')}.{way}",
        f"proof load, {words}: {one.case.title}",
        size,
        "N",
        source=f"case {one.case.key}, {one.case.rule}",
        steps=each,
        caveat="; ".join(x for x in (level, one.outside) if x),
    )
