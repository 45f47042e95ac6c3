"""What measuring the parts of W3 costs, against what the library of solids takes for the pairs that truly meet.

    python bench/bodies.py [--model W3]

The floor of measuring is the intersection of each pair of bodies that shares some space: those cannot be left out. The
floor of a control's travel is one gap for each body that moves, at each stance, to what it comes nearest. Both are
taken in the same process, on bodies already in the library; `again` is the same with what was kept.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from sparwright.base.remembered import forget
from sparwright.controls import clearance
from sparwright.controls.chain import moving
from sparwright.family.reader import load
from sparwright.parts import measured, solids
from sparwright.parts.layout import lay_out

FILE = Path(__file__).resolve().parent.parent / "examples/whinchat/whinchat.toml"


def seconds(work: Callable[[], Any]) -> float:
    """Seconds of one call."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def main() -> None:
    """Print the table."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--model", default="W3")
    model = load(str(FILE)).models[words.parse_args().model]
    laid = seconds(lambda: lay_out(model))
    assembly = lay_out(model)

    pairs = []
    shared = measured._shared

    def noted(one: Any, other: Any) -> Any:
        common = shared(one, other)
        if common.volume > 0:
            pairs.append((one.exact, other.exact))
        return common

    measured._shared = noted
    measured.measure(assembly)
    measured._shared = shared
    floor = seconds(lambda: [(a ^ b).volume() for a, b in pairs])
    again = seconds(lambda: measured.measure(assembly))
    forget()
    solids._EXACT.clear()
    fresh = seconds(lambda: measured.measure(assembly))

    assert model.controls is not None
    driven = seconds(lambda: moving(model, model.controls))  # type: ignore[arg-type]
    _, motions = moving(model, model.controls)
    around = clearance.still(assembly)
    nearest, gaps, stances = 0.0, 0.0, 0
    for motion in motions:
        nearest += seconds(lambda m=motion: clearance.nearest(model, model.controls, m, assembly, around))  # type: ignore[misc, arg-type]
        found = [n for n in clearance.nearest(model, model.controls, motion, assembly, around) if n.other]
        both = [(_body(assembly, n.one), _body(assembly, n.other)) for n in found]
        gaps += len(motion.stances) * seconds(lambda b=both: [x.min_gap(y, clearance.LOOK) for x, y in b])  # type: ignore[misc]
        stances += len(motion.stances)

    print(f"{model.name}: {len(assembly.parts)} parts, {len(pairs)} pairs share space, {stances} stances")
    print(f"{'':44}{'seconds':>9}{'ratio':>8}")
    for name, taken, bound in (
        ("intersections of those pairs", floor, floor),
        ("all measuring, fresh", fresh, floor),
        ("all measuring, again", again, floor),
        ("parts and joints", laid, floor),
        ("gaps of nearest pairs at each stance", gaps, gaps),
        ("clearance through the controls' travel", nearest, gaps),
        ("controls as a mechanism, all stances", driven, gaps),
    ):
        print(f"{name:44}{taken:9.3f}{taken / bound:8.1f}")


def _body(assembly: Any, number: str) -> Any:
    return solids.exact(solids.solids(assembly.part(number))[0])


if __name__ == "__main__":
    main()
