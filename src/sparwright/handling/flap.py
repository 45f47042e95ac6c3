"""A hinged surface in the company: what its hinge feels of the stream there and of its own angle.

Symbols: H moment about the hinge line of one side, trailing edge down positive, q dynamic pressure, 1 + u flow along
the stream at a strip, cf chord behind the hinge, a and b angle and curve of the stream along the chord
(air/hinge.py), e angle of the flap, k parts of a real flap's moment (data/hinge.toml).

    H/q = Sum over strips (1 + u)^2 cf^2 dy [ka (Ca a + Cb b + C0) + ke Ce e]

a and b come from the trimmed lattice, so downwash, the finite span and the neighbours are in them; C0 is the section's
own camber. Where a root tube slants (tail frames) the part cut away is left out, weighed by a load that falls straight
from hinge to tail. Not in it: balance ahead of the hinge (the family's surfaces have none), gaps, the boundary layers
but for k. Sources: glauert-1926 ch. IX; k soderman-2009, hoerner-lift.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from sparwright.air import hinge as thin_hinge
from sparwright.air import thin
from sparwright.air.hinge import Slopes, slopes, stream_of
from sparwright.air.turned import Company
from sparwright.base.record import number
from sparwright.data.hinge import MEASURED

KEY = "soderman-2009, hoerner-lift (measured, second-hand)"
OPEN = "no balance, no gap; a real flap's moment over a thin aerofoil's"


@dataclass(frozen=True)
class Real:
    """What a real flap's moment is of thin-aerofoil theory's."""

    angle: float = number("1", "ka: of what the angle of attack does")
    flap: float = number("1", "ke: of what the flap's own angle does")

    def ends(self, together: float = 1.0, ratio: float = 1.0) -> Real:
        """The same with both, and the angle's part besides, by factors; never past theory."""
        return Real(min(1.0, self.angle * together * ratio), min(1.0, self.flap * together))


@dataclass(frozen=True)
class Parts:
    """H/q of one side, m3, before k."""

    angle: float = number("m3", "of the stream's angle and curve and of camber")
    flap: float = number("m3", "for each radian of the flap")


@dataclass(frozen=True)
class Flap:
    """One hinged surface, its right side."""

    company: Company = field(repr=False)
    name: str
    slopes: Slopes
    real: Real
    weight: np.ndarray = field(repr=False)  # (m,) m3, cf^2 dy of what is hinged
    own: np.ndarray = field(repr=False)  # (r, m) slopes of the sections' mean lines
    still: np.ndarray = field(repr=False)  # (m,) C0
    circulation: np.ndarray = field(repr=False)  # (nodes, amounts, panels) m
    others: np.ndarray = field(repr=False)  # (nodes, amounts, panels) flow from all but the surface itself
    hinge: float = number("1", "hinge, fraction of the chord", math.nan)
    area: float = number("m2", "behind the hinge line, one side", math.nan)

    @property
    def place(self) -> int:
        """The place of its angle among the amounts."""
        return 1 + self.company.hinged.index(self.name)

    def at(self, alpha: float) -> Here:
        """The same at an angle of the thrust line, rad, ready for any amounts."""
        weights, rows = self.company.weights(alpha), self.company.mesh.chordwise
        flow = np.asarray(sum(w * self.others[i] for w, i in weights))
        flow = flow.reshape(flow.shape[0], rows, -1)
        return Here(self, np.asarray(sum(w * self.circulation[i] for w, i in weights)),
                    np.asarray(np.einsum("brm,r->bm", flow, thin.plate_rows(rows))))  # fmt: skip

    @cached_property
    def hinged(self) -> np.ndarray:
        """(m,) 1 where the hinged part is."""
        return np.asarray(self.company.mesh.surfaces[self.company.place_of(self.name)].hinged)


@dataclass(frozen=True)
class Here:
    """A hinged surface with the company at one angle."""

    flap: Flap = field(repr=False)
    circulation: np.ndarray = field(repr=False)  # (amounts, panels) m
    onset: np.ndarray = field(repr=False)  # (amounts, m) 1 + u

    def parts(self, c: np.ndarray, curve: float = 0.0, added: np.ndarray | None = None, turned: float = 0.0) -> Parts:
        """H/q of the right side at amounts of the company (air/stance.py).

        curve: rad a metre, by which the stream turns along the chord because the aeroplane does; the amounts hold it at
        three quarters of the chord. added: (panels,) m, circulation besides (odd loads), with the flap turned by
        `turned` (rad, down) in the lattice for it.
        """
        f = self.flap
        chord, onset = f.company.chords[f.company.strip_slices[f.name]], c @ self.onset
        gamma = c @ self.circulation if added is None else c @ self.circulation + added
        down = (float(c[f.place]) + turned) * f.hinged
        a, b = stream_of(gamma.reshape(f.own.shape) / (onset * chord), down, f.hinge, f.own)
        a, b = a - 0.25 * curve * chord, b + curve * chord
        s, w = f.slopes, f.weight * onset**2
        return Parts(float(w @ (s.angle * a + s.curve * b + f.still)), float(w.sum() * s.flap))


Lines = Mapping[str, np.ndarray]  # section -> (2, m) chords


def flap(company: Company, lines: Lines, thick: Lines, name: str, root: tuple[float, float] = (0.0, 0.0)) -> Flap:
    """The hinged surface of that name. lines, thick: mean line and thickness of each section.

    root: buttlines where it begins, at the hinge and at the trailing edge, m.
    """
    p = next(x for x in company.planforms if x.name == name)
    s = company.mesh.surfaces[company.place_of(name)]
    here, rows = company.mesh.blocks()[company.place_of(name)], company.mesh.chordwise
    own = np.array([thin.control_slopes(np.asarray(lines[k]), rows) for k in p.sections]).T @ s.blend.T
    each = {k: thin_hinge.of_line(np.asarray(lines[k]), p.hinge) for k in set(p.sections)}
    still = s.blend @ np.array([each[k] for k in p.sections])
    chords = s.edge_chord[:-1], s.edge_chord[1:]
    square = (chords[0] ** 2 + chords[0] * chords[1] + chords[1] ** 2) / 3
    left, part = kept(s.middle[1], *root), 1 - p.hinge
    thickest = float(np.mean([np.max(thick[k][1]) for k in p.sections]))
    both = [[np.concatenate([n.plain.values[:, i, here], n.twists.values[:, i, here]]) for n in company.nodes]
            for i in (0, 4)]  # fmt: skip
    return Flap(
        company, name, slopes(p.hinge), real(part, thickest), square * part**2 * s.width * s.hinged * left, own, still,
        np.array(both[0]), np.array(both[1]), p.hinge,
        float(np.sum((chords[0] + chords[1]) / 2 * s.width * s.hinged * kept(s.middle[1], *root, area=True)) * part),
    )  # fmt: skip


def kept(y: np.ndarray, at_hinge: float, at_tail: float, area: bool = False) -> np.ndarray:
    """(m,) part of the hinge moment, or of the area, left where the root slants from one buttline to another, m."""
    reach = np.clip((y - at_hinge) / max(at_tail - at_hinge, 1e-9), 0, 1)
    return reach if area else 3 * reach**2 - 2 * reach**3


def with_chord(f: Flap, factor: float) -> Flap:
    """The same with the chord behind the hinge longer by a factor, the whole chord as it is."""
    part = (1 - f.hinge) * factor
    changed = slopes(1 - part)
    return replace(f, hinge=1 - part, slopes=changed, weight=f.weight * factor**2, area=f.area * factor)


def real(part: float, thick: float) -> Real:
    """What a real flap of a part of the chord, on a section so thick, gives of thin-aerofoil moments.

    Between the measured rows straight in the flap's chord and in thickness, outside them the nearest; the sealed and
    the open one of the thick section by their mean.
    """
    found = []
    for which in ("angle", "flap"):
        ratio = {id(r): getattr(r, which) / getattr(slopes(1 - r.chord), which) for r in MEASURED}
        thin_rows = sorted((r for r in MEASURED if r.section == "0009"), key=lambda r: r.chord)
        thick_rows = [r for r in MEASURED if r.section == "0015"]
        slim = float(np.interp(part, [r.chord for r in thin_rows], [ratio[id(r)] for r in thin_rows]))
        stout = float(np.mean([ratio[id(r)] for r in thick_rows]))
        found.append(float(np.interp(thick, (thin_rows[0].thickness, thick_rows[0].thickness), (slim, stout))))
    return Real(*found)
