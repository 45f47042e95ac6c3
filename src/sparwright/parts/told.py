"""What was measured on the parts, as checks: each says which parts by number."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sparwright.base.check import Check, Step, check
from sparwright.base.quantity import inches
from sparwright.base.source import Band
from sparwright.parts.measured import DEPTH, TOUCH, WELD, Apart, Clash, Measured
from sparwright.parts.part import Assembly, Place

METHOD = "measured on the bodies of the parts; depths and gaps allowed are common practice, no source"
NAMED = 6  # parts named in a sentence; the rest are counted


def part_checks(assembly: Assembly, found: Measured) -> Iterator[Check]:
    """No two parts in one place, every joint touches what it holds, every part is held."""
    clashes, open_ = [c for c in found.clashes if c.drawn], [c for c in found.clashes if not c.drawn]
    missing = f"{len(open_)} pairs at strut and wire ends wait for their fittings: {_some(map(_pair, open_))}"
    yield check(
        "parts.clash", "pairs of parts that run into each other", Band.exact(len(clashes)), 0, "<=", "1",
        rule=f"a mean depth of {DEPTH * 1e3:.1f} mm at most", method=METHOD, caveat=_some(map(_pair, clashes)),
        outside_range=_either(missing if open_ and not clashes else "", _not_closed(found)),
        steps=tuple(Step(f"{c.one} in {c.other}, {_at(c.place)}", "2 V/A", (("V", c.volume, "m3"),), c.depth, "m")
                    for c in clashes[:NAMED]),
    )  # fmt: skip
    waits = f"{len(found.waiting)} joints wait for a fitting or a part: {_some(found.waiting)}" if found.waiting else ""
    nothing = "" if found.joints else "none measured"
    counted = f"{found.joints} of {len(assembly.joints)} joints measured; fabric is not"
    yield check(
        "parts.touch", "joints whose parts do not touch", Band.exact(len({a.joint for a in found.apart})), 0, "<=", "1",
        rule=f"a gap of {TOUCH * 1e3:.1f} mm at most, of a weld {WELD * 1e3:.1f}", method=METHOD,
        caveat=_either(_some(map(_gap, found.apart)), counted),
        outside_range=_either(_not_closed(found), "" if found.apart else _either(waits, nothing)),
    )  # fmt: skip
    yield check(
        "parts.adrift", "pieces that touch nothing of what they are joined to", Band.exact(len(found.adrift)), 0, "<=",
        "1", rule="as for joints that touch", method=METHOD, caveat=_some(found.adrift),
        outside_range=_either(_not_closed(found), "" if found.adrift else _either(waits, nothing)),
    )  # fmt: skip
    held = {n: assembly.part(n).shape is not None for n in found.loose}
    loose = [n for n, drawn in held.items() if drawn]
    waiting = [n for n, drawn in held.items() if not drawn]
    yield check(
        "parts.held", "parts that no joint holds", Band.exact(len(loose)), 0, "<=", "1", rule="each part by a joint",
        method="counted", caveat=_some(loose),
        outside_range=f"not drawn yet, with what holds it: {_some(waiting)}" if waiting and not loose else "",
    )  # fmt: skip


def _not_closed(found: Measured) -> str:
    return f"bodies that are not closed: {_some(found.not_closed)}" if found.not_closed else ""


def _either(*words: str) -> str:
    return "; ".join(w for w in words if w)


def _pair(c: Clash) -> str:
    return f"{c.one} and {c.other} by {c.depth * 1e3:.2f} mm at {_at(c.place)}"


def _gap(a: Apart) -> str:
    far = "further apart than was looked at" if a.gap == float("inf") else f"{a.gap * 1e3:.2f} mm apart"
    return f"{a.joint}: {a.one} and {a.other} are {far}"


def _at(place: Place) -> str:
    return ", ".join(f"{word} {inches(v)}" for word, v in zip(("station", "buttline", "waterline"), place, strict=True))


def _some(names: Sequence[str] | Iterator[str]) -> str:
    every = list(names)
    more = f" and {len(every) - NAMED} more" if len(every) > NAMED else ""
    return "; ".join(every[:NAMED]) + more
