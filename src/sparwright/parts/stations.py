"""Where the ribs of a wing stand, and which of them make way for the aileron."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.base.record import number
from sparwright.family.model import Wing
from sparwright.family.rib_lines import SAME as SAME
from sparwright.family.rib_lines import rib_lines
from sparwright.shape.rib import flange_reach

NEAR = 1e-3  # m: a nose rib is named by its buttline as nearly as this


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
    at = rib_lines(wing)
    noses = [RibStation(y, "nose") for y in nose_lines(wing)]
    if wing.aileron is None:
        return tuple(sorted((*(RibStation(y) for y in at), *noses), key=lambda r: r.buttline))
    inner, outer, gap = wing.aileron.inboard, wing.aileron.outboard, wing.aileron.gap
    found = [RibStation(y, "wing", inner + SAME < y < outer - SAME, abs(y - inner) < SAME) for y in at]
    hinged = [r.buttline for r in found if r.hinged]
    ends = [y for y in (inner + gap, outer - gap) if all(abs(y - h) > SAME for h in hinged)]
    found += [RibStation(y, "aileron end", True, y > (inner + outer) / 2) for y in ends]
    found += [RibStation(y, "aileron nose", True, y < n.buttline) for n in notches(wing) for y in n.ribs]
    return tuple(sorted((*found, *noses), key=lambda r: r.buttline))


def nose_lines(wing: Wing) -> list[float]:
    """Buttlines of the ribs that reach from the nose to the first spar only, m, but for those left out.

    DesignProblem for one left out that is none.
    """
    count = wing.ribs.nose_ribs + 1
    every = [a + (b - a) * i / count for a, b in pairwise(rib_lines(wing)) for i in range(1, count)]
    for out in wing.ribs.no_nose_ribs:
        if all(abs(y - out) > NEAR for y in every):
            said = ", ".join(inches(y) for y in every) or "nowhere"
            raise DesignProblem(f"{wing.name}: no_nose_ribs names {inches(out)}, but nose ribs stand at {said}")
    return [y for y in every if all(abs(y - out) > NEAR for out in wing.ribs.no_nose_ribs)]


def nose_bay(wing: Wing, buttline: float) -> float:
    """Distance between the ribs that hold the nose on both sides of a buttline, m; at one, the wider of its bays."""
    lines = sorted([*rib_lines(wing), *nose_lines(wing)])
    return max(b - a for a, b in pairwise(lines) if a - SAME <= buttline <= b + SAME)


def rib_reach(wing: Wing, where: RibStation) -> tuple[float, float]:
    """How far a station's ribs reach inwards and outwards of their buttline, m: half a sheet, one, or with a flange."""
    whole = where.kind == "wing"
    made = wing.rib_at(where.buttline) if whole else wing.ribs
    two = whole and wing.rib_sheets(where.buttline) == 2
    web = made.sheet.thickness * (1.0 if two else 0.5)
    bent = web + flange_reach(made) if made.flange else web
    if two:
        return bent, bent
    return (bent, web) if where.inward else (web, bent)


def bay(wing: Wing, buttline: float) -> float:
    """Distance between the ribs on both sides of a buttline, m; at a rib, the wider of its two bays."""
    lines = rib_lines(wing)
    near = [b - a for a, b in pairwise(lines) if a - SAME <= buttline <= b + SAME]
    return max(near)
