"""The lattice on the wings' own chords, in body axes, ready to be turned into the stream at any angle.

The strips are those of grid.py; each row of bound vortices lies on the chords themselves, at a quarter of its panel,
the control points at three quarters. The legs follow the chord to the trailing edge and go on, in air/inflow.py, along
x of the turned axes.

Thickness is a row of line sources on the same segments. A section of thickness t(x) is a source sheet of strength
V dt/dx; gathered on segments at x_r = (r + 1/4) h, with r from 0 to n - 1 and h = 1/n of the chord,

    m_r = t(x_r + h/2) - t(x_r - h/2),   t taken as nought ahead of x_0 and behind x_(n-1)

times the one factor that gives the row the section's own doublet, Sum m_r x_r = -Int t dx. Their sum is nought. An open
trailing edge is closed along a straight line. One row alone carries no thickness.

Symbols: e along the chord, d along the bound segment, k square to the chord in the plane of x and z; n = e x d/|e x d|
the normal of the chord's plane, m = k x d/|e x d|: a slope s of the mean line makes the normal n + s m.

Sources: weissinger-1942, falkner-1943 (the two points along the chord); glauert-1926 ch. VII (boundary condition on the
chord); thin sections as sources: glauert-1926 ch. XI (the body of fineness), worked out here for a row of lines.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from sparwright.air import thin
from sparwright.air.grid import Surface, lay_out
from sparwright.shape.planform import Planform

RANGE = np.linspace(-0.21, 0.35, 33)  # rad, angles at which wakes may meet surfaces


@dataclass(frozen=True)
class Mesh:
    """n panels, surface by surface, row by row from the nose, strip by strip from the root; body axes, right half."""

    surfaces: tuple[Surface, ...]
    chordwise: int
    corners: np.ndarray  # (3, c) m, ends of the bound vortices row by row, then the trailing edge, by surface
    bound: np.ndarray  # (3, n) m, a point on each
    control: np.ndarray  # (3, n) m
    segment: np.ndarray  # (3, n) m, each bound vortex from its inner to its outer end
    normal: np.ndarray  # (3, n) of the chord's plane
    tilt: np.ndarray  # (3, n) what a unit slope of the mean line adds to the normal
    slope: np.ndarray  # (n,) of the mean line
    hinges: Mapping[str, np.ndarray]  # by surface (n,): slope that one radian of deflection adds
    source: np.ndarray  # (n,) m, thickness: strength of each segment over the speed, a metre of its length

    @property
    def panels(self) -> int:
        """Unknowns."""
        return int(self.slope.size)

    @cached_property
    def strip(self) -> np.ndarray:
        """(n,) which strip, counted over all surfaces, a panel belongs to."""
        first, found = 0, []
        for s in self.surfaces:
            found.append(np.tile(np.arange(first, first + s.chord.size), self.chordwise))
            first += s.chord.size
        return np.concatenate(found)

    @cached_property
    def surface(self) -> np.ndarray:
        """(n,) which surface a panel belongs to."""
        return np.repeat(np.arange(len(self.surfaces)), [self.chordwise * s.chord.size for s in self.surfaces])

    @cached_property
    def counts(self) -> np.ndarray:
        """(surfaces,) strips of each."""
        return np.array([s.chord.size for s in self.surfaces])

    def blocks(self) -> list[slice]:
        """The panels of each surface."""
        ends = np.cumsum([0, *(self.chordwise * self.counts)]).tolist()
        return [slice(a, b) for a, b in pairwise(ends)]

    def edges(self) -> list[np.ndarray]:
        """(3, rows + 1, strips + 1) corners of each surface."""
        sizes = (self.chordwise + 1) * (self.counts + 1)
        parts = np.split(self.corners, np.cumsum(sizes)[:-1], axis=1)
        return [p.reshape(3, self.chordwise + 1, -1) for p in parts]

    def on_legs(self, circulation: np.ndarray, sidewash: np.ndarray, alpha: float) -> np.ndarray:
        """(2, n) m2, force over rho V^2 along the stream and up that a sidewash puts on the legs of each panel.

        v x l = v_y (l_z, -l_x) at the outer leg less the same at the inner, times the circulation from the nose to the
        row. circulation (n,) m, sidewash (n,) over flight speed at the control points.
        """
        return np.asarray(self.carried(circulation) * self.pulls(sidewash, alpha))

    def carried(self, circulation: np.ndarray) -> np.ndarray:
        """(..., n) circulation from the nose to each row, of (..., n)."""
        parts = [circulation[..., b].reshape(*circulation.shape[:-1], self.chordwise, -1) for b in self.blocks()]
        return np.concatenate([np.cumsum(p, axis=-2).reshape(*p.shape[:-2], -1) for p in parts], axis=-1)

    def pulls(self, sidewash: np.ndarray, alpha: float) -> np.ndarray:
        """(2, ..., n) of `on_legs` for each unit of circulation carried, of sidewash (..., n)."""
        found = []
        for s, here, corner in zip(self.surfaces, self.blocks(), self.edges(), strict=True):
            legs = np.diff(turned_by(corner, alpha)[::2], axis=1)  # (2, rows, strips + 1)
            v = sidewash[..., here].reshape(*sidewash.shape[:-1], self.chordwise, -1) @ _to_edges(s).T
            pull = np.array([v * legs[1], -v * legs[0]])
            found.append(np.diff(pull, axis=-1).reshape(2, *sidewash.shape[:-1], -1))
        return np.concatenate(found, axis=-1)

    @cached_property
    def scale(self) -> float:
        """The greatest chord, m."""
        return max(float(s.edge_chord.max()) for s in self.surfaces)

    @cached_property
    def strength(self) -> np.ndarray:
        """(n,) m2, strength of each source over the speed."""
        return np.asarray(self.source * np.sqrt((self.segment**2).sum(0)))

    def by_strip(self, panel_values: np.ndarray) -> np.ndarray:
        """(..., strips): sum over the rows of each strip of (..., n)."""
        parts, start = [], 0
        for s in self.surfaces:
            block = panel_values[..., start : start + self.chordwise * s.chord.size]
            parts.append(block.reshape(*panel_values.shape[:-1], self.chordwise, s.chord.size).sum(axis=-2))
            start += block.shape[-1]
        return np.concatenate(parts, axis=-1)


def _to_edges(s: Surface) -> np.ndarray:
    """(strips + 1, strips) from values at the control stations, odd in y, to the strip edges; straight, tip too."""
    y = np.concatenate([[-s.middle[1, 0]], s.middle[1]])
    at = s.edge[1]
    i = np.clip(np.searchsorted(y, at) - 1, 0, y.size - 2)
    part = (at - y[i]) / (y[i + 1] - y[i])
    found = np.zeros((at.size, y.size))
    found[np.arange(at.size), i] = 1 - part
    found[np.arange(at.size), i + 1] += part
    found[:, 1] -= found[:, 0]
    return found[:, 1:]


def turned_by(points: np.ndarray, alpha: float) -> np.ndarray:
    """(3, ...) in stream axes: x along the stream, z square to it upwards. alpha: rad, nose up."""
    x, y, z = points
    c, s = np.cos(alpha), np.sin(alpha)
    return np.array([x * c + z * s, y, z * c - x * s])


def mesh(planforms: tuple[Planform, ...], camber: Mapping[str, np.ndarray], thickness: Mapping[str, np.ndarray], *,
         chordwise: int = 6, spanwise: int = 14, angles: Sequence[float] | np.ndarray = RANGE) -> Mesh:  # fmt: skip
    """The lattice of all surfaces. camber, thickness: section name -> (2, m) mean line, full thickness, in chords.

    Surfaces that come into each other's wake at one of `angles` (rad) are cut at the same buttlines. Raises KeyError
    for a section without mean line or thickness, ValueError without panels or with two surfaces of one name.
    """
    if chordwise < 1 or spanwise < 1:
        raise ValueError("the lattice needs at least one panel along the chord and one strip along the span")
    if len({p.name for p in planforms}) < len(planforms):
        raise ValueError("every surface of the lattice needs a name of its own")
    surfaces = lay_out(planforms, spanwise, tuple(angles))
    parts = [_surface(s, p, camber, thickness, chordwise) for s, p in zip(surfaces, planforms, strict=True)]
    joined = [np.ascontiguousarray(np.concatenate(v, axis=-1)) for v in zip(*parts, strict=True)]
    corners, bound, control, segment, normal, tilt, slope, flap, source = joined
    panel_owner = np.repeat(np.arange(len(surfaces)), [chordwise * s.chord.size for s in surfaces])
    hinges = {p.name: np.where(panel_owner == i, flap, 0.0) for i, p in enumerate(planforms) if p.hinge < 1}
    return Mesh(surfaces, chordwise, corners, bound, control, segment, normal, tilt, slope, hinges, source)


def _surface(s: Surface, p: Planform, camber: Mapping[str, np.ndarray], thickness: Mapping[str, np.ndarray],
             rows: int) -> tuple[np.ndarray, ...]:  # fmt: skip
    """Corners, bound, control, segment, normal, tilt, slope, flap slope, source of one surface."""
    angle = np.interp(s.edge[1], p.leading_edge[1], p.angle)
    chord = s.edge_chord * np.array([np.cos(angle), 0 * angle, -np.sin(angle)])  # (3, m+1) nose to tail
    part = (s.middle[1] - s.edge[1, :-1]) / s.width

    def at(fraction: float) -> np.ndarray:
        return np.asarray(s.edge + fraction * chord)

    def within(edge: np.ndarray) -> np.ndarray:
        return np.asarray(edge[:, :-1] * (1 - part) + edge[:, 1:] * part)

    quarters = [at((r + 0.25) / rows) for r in range(rows)]
    thirds = [at((r + 0.75) / rows) for r in range(rows)]
    segment = np.concatenate([np.diff(q, axis=1) for q in quarters], axis=1)
    along = within(chord)
    e = np.tile(along / np.sqrt((along**2).sum(0)), rows)
    k = np.array([-e[2], 0 * e[0], e[0]])
    d = np.concatenate([np.diff(q, axis=1) for q in thirds], axis=1)
    n, m = (np.cross(v, d, axis=0) for v in (e, k))
    size = np.sqrt((n**2).sum(0))
    slopes = np.array([thin.control_slopes(np.asarray(camber[name]), rows) for name in p.sections]).T @ s.blend.T
    flap = np.zeros((rows, s.chord.size))
    if p.hinge < 1:
        flap = np.outer(thin.control_slopes(thin.flap_line(p.hinge), rows), s.hinged)
    lines = np.array([source_rows(np.asarray(thickness[name]), rows) for name in p.sections]).T @ s.blend.T
    across = np.hypot(np.diff(s.edge[1]), np.diff(s.edge[2]))
    source = (lines * s.chord * across).ravel() / np.sqrt((segment**2).sum(0))
    return (
        np.concatenate([*quarters, at(1.0)], axis=1), np.concatenate([within(q) for q in quarters], axis=1),
        np.concatenate([within(t) for t in thirds], axis=1), segment, n / size, m / size, slopes.ravel(), flap.ravel(),
        source,
    )  # fmt: skip


def source_rows(thickness: np.ndarray, rows: int) -> np.ndarray:
    """(rows,) strength of each row's line source over V and chord, from a full thickness (2, m) in chords.

    See the head of this file for the formula. The sum is nought; sum of m_r x_r is less the section's area.
    """
    x, t = thickness
    t = t - t[-1] * x
    h = 1 / rows
    between = np.interp(h * (np.arange(rows - 1) + 0.75), x, t)
    total = float(np.sum(between))
    if total == 0:
        return np.zeros(rows)
    between = between * float(np.trapezoid(t, x)) / (h * total)
    return np.diff(np.concatenate([[0.0], between, [0.0]]))
