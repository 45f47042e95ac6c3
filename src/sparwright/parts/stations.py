"""Where the ribs of a wing stand, and which of them make way for the aileron."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from sparwright.base.record import number
from sparwright.family.model import Wing

SAME = 1e-4  # m: two stations nearer than this are one


@dataclass(frozen=True)
class RibStation:
    """One rib of the right wing; both sides unless it stands on the centreline."""

    buttline: float = number("m", "buttline")
    kind: str = "wing"  # or "nose"; or of the aileron alone: "aileron end", or "aileron nose", ahead of its spar only
    hinged: bool = False  # parted for the aileron
    inward: bool = False  # a bent flange points to the root: beside the gap at an aileron's end, or a notch


@dataclass(frozen=True)
class Notch:
    """Where the nose of an aileron is open for a hinge or the horn: nose ribs stand on both sides."""

    buttline: float = number("m", "its middle")
    half: float = number("m", "from there to the middle of a nose rib")
    horn: bool = False

    @property
    def ribs(self) -> tuple[float, float]:
        """Buttlines of the nose ribs beside it, m."""
        return self.buttline - self.half, self.buttline + self.half


def notches(wing: Wing) -> tuple[Notch, ...]:
    """Every notch of an aileron's nose, from the inside out; none of a plain nose."""
    frame = wing.aileron.frame if wing.aileron else None
    if frame is None or frame.nose is None:
        return ()
    rib = wing.ribs.sheet.thickness
    found = [Notch(y, frame.notch(rib)) for y in frame.hinges.places]
    found.append(Notch(frame.horn.along, frame.notch(rib, frame.horn.sheet), True))
    found += [Notch(w.along, frame.notch(rib, w.arm), True) for w in frame.weights]
    return tuple(sorted(found, key=lambda n: n.buttline))


def nosed(wing: Wing, where: RibStation) -> bool:
    """Whether a rib station of the aileron has a piece ahead of its spar: not in a notch nor hard beside its ribs."""
    clear = 2 * (wing.ribs.sheet.thickness + wing.ribs.flange)
    return where.kind != "wing" or all(abs(where.buttline - n.buttline) > n.half + clear for n in notches(wing))


def rib_stations(wing: Wing) -> tuple[RibStation, ...]:
    """Rib stations from the root out: panel ends, evenly between them at the pitch or less, extra ribs, aileron ends.

    The wing ribs at the aileron's ends stay whole; the aileron's own end ribs stand one gap inside them.
    """
    at = _spread(wing)
    count = wing.ribs.nose_ribs + 1
    noses = [RibStation(a + (b - a) * i / count, "nose") for a, b in pairwise(at) for i in range(1, count)]
    if wing.aileron is None:
        return tuple(sorted((*(RibStation(y) for y in at), *noses), key=lambda r: r.buttline))
    inner, outer, gap = wing.aileron.inboard, wing.aileron.outboard, wing.aileron.gap
    found = [RibStation(y, "wing", inner + SAME < y < outer - SAME, abs(y - inner) < SAME) for y in at]
    hinged = [r.buttline for r in found if r.hinged]
    ends = [y for y in (inner + gap, outer - gap) if all(abs(y - h) > SAME for h in hinged)]
    found += [RibStation(y, "aileron end", True, y > (inner + outer) / 2) for y in ends]
    found += [RibStation(y, "aileron nose", True, y < n.buttline) for n in notches(wing) for y in n.ribs]
    return tuple(sorted((*found, *noses), key=lambda r: r.buttline))


def bay(wing: Wing, buttline: float) -> float:
    """Distance between the ribs on both sides of a buttline, m; at a rib, the wider of its two bays."""
    lines = _spread(wing)
    near = [b - a for a, b in pairwise(lines) if a - SAME <= buttline <= b + SAME]
    return max(near)


def _spread(wing: Wing) -> list[float]:
    fixed = {p.root_buttline for p in wing.panels} | {p.tip_buttline for p in wing.panels} | set(wing.ribs.extra)
    if wing.aileron is not None:
        fixed |= {wing.aileron.inboard, wing.aileron.outboard}
    ends = _distinct(sorted(fixed))
    found: list[float] = []
    for a, b in pairwise(ends):
        bays = max(1, math.ceil((b - a) / wing.ribs.pitch - 1e-6))
        found += [a + (b - a) * i / bays for i in range(bays)]
    return [*found, ends[-1]]


def _distinct(values: list[float]) -> list[float]:
    kept = values[:1]
    for v in values[1:]:
        if v - kept[-1] > SAME:
            kept.append(v)
    return kept
