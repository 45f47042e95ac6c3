"""The air's forces on every strip of every surface out of one state of the lattice, with what its hinged part carries.

One half of a surface is kept in the right half's own axes, so that the same arrays stand for either side: an even state
is the same on both, an odd change is taken off on the left (`sided`). Everything is over q until it is laid out.

Symbols as in air/node.py: F force on a bound vortex, source and legs of a panel; r its place from the quarter of its
strip's chord; cd drag coefficient of the section there, A area of the strip, 1 + u the flow it meets.

    strip       force sum F + cd (1 + u)^2 A along the stream         moment sum r x F about the quarter chord
    hinged      N (1 + u)^2 A along the chord's normal, at the hinge, with its moment about the hinge (behind.py)

The lattice's force has the pull at the nose in it: with the chord at an angle to the stream the force along the chord
is forward by lift times the sine of what is left of the angle after the downwash. What the hinged part carries is
taken off the rest of the strip, so that both together are the strip's. Range: the lattice's own (air/turned.py); the
section's moment is that of its mean line. Sources: falkner-1943; glauert-1926 ch. VII, IX.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from sparwright.air import hinge as hinge_moment
from sparwright.air import thin
from sparwright.air.grid import Surface
from sparwright.air.mesh import Mesh, turned_by
from sparwright.air.odd_panels import OddPanels
from sparwright.air.turned import Company, CompanyState
from sparwright.base.record import number
from sparwright.loads.behind import behind, of_line
from sparwright.loads.case import Pushes
from sparwright.loads.together import MIRROR, pushes
from sparwright.shape.planform import Planform


@dataclass(frozen=True)
class Cut:
    """The strips of one surface as forces are laid on them: right half, m strips, body axes."""

    name: str
    is_tail: bool
    quarter: np.ndarray  # (3, m) m, quarter of each chord
    at_hinge: np.ndarray  # (3, m) m, hinge line
    along: np.ndarray  # (3, m) unit vectors from nose to tail
    normal: np.ndarray  # (3, m) of the chord's plane
    axis: np.ndarray  # (3, m) along the hinge line, outwards
    chord: np.ndarray  # (m,) m
    width: np.ndarray  # (m,) m, along y (a fin: along z)
    area: np.ndarray  # (m,) m2
    square: np.ndarray  # (m,) m3, chord squared over the width
    hinged: np.ndarray  # (m,) 1 where the hinged part is
    own: np.ndarray  # (r, m) slopes of the mean lines, as the lattice asks for them
    still: tuple[np.ndarray, np.ndarray]  # (m,) what the mean lines do behind the hinge at no angle
    inside: np.ndarray  # (m,) True where the fuselage stands in its place
    hinge: float = number("1", "hinge, fraction of the chord; 1 for none", 1.0)

    @property
    def y(self) -> np.ndarray:
        """(m,) m, control stations."""
        return np.asarray(self.quarter[1])


@dataclass(frozen=True)
class Half:
    """What the air does to the strips of half a surface, in the right half's axes."""

    cut: Cut = field(repr=False)
    force: np.ndarray  # (3, m) whole strip
    moment: np.ndarray  # (3, m) about the quarter chord, whole strip
    behind: np.ndarray  # (m,) of it what the hinged part carries, along the normal
    hinge: np.ndarray  # (m,) moment of that about the hinge, trailing edge down

    def __add__(self, other: Half) -> Half:
        return Half(self.cut, self.force + other.force, self.moment + other.moment, self.behind + other.behind,
                    self.hinge + other.hinge)  # fmt: skip

    def times(self, k: float) -> Half:
        """The same by a factor."""
        return replace(self, **{n: getattr(self, n) * k for n in ("force", "moment", "behind", "hinge")})

    @property
    def normal(self) -> np.ndarray:
        """(m,) force along the chord's normal."""
        return np.asarray((self.force * self.cut.normal).sum(0))

    @property
    def chordwise(self) -> np.ndarray:
        """(m,) force along the chord, aft positive."""
        return np.asarray((self.force * self.cut.along).sum(0))

    @property
    def torsion(self) -> np.ndarray:
        """(m,) moment about the quarter chord, along the span, nose up."""
        return np.asarray((self.moment * self.cut.axis).sum(0))


Halves = Mapping[str, Half]


def cuts(company: Company, camber: Mapping[str, np.ndarray]) -> dict[str, Cut]:
    """The strips of every surface by name. camber: mean line of each section (shape/lifting.py)."""
    return {p.name: _cut(company.mesh, p, i, camber) for i, p in enumerate(company.planforms)}


def _cut(mesh: Mesh, p: Planform, i: int, camber: Mapping[str, np.ndarray]) -> Cut:
    s, here, rows = mesh.surfaces[i], mesh.blocks()[i], mesh.chordwise
    first = slice(here.start, here.start + s.chord.size)
    along = np.array([np.cos(s.angle), 0 * s.angle, -np.sin(s.angle)])
    axis = mesh.segment[:, first] if p.hinge >= 1 else _hinge_line(s, p)
    own = np.array([thin.control_slopes(np.asarray(camber[k]), rows) for k in p.sections]).T @ s.blend.T
    still = np.zeros((2, s.chord.size))
    if p.hinge < 1:
        each = [(of_line(np.asarray(camber[k]), p.hinge), hinge_moment.of_line(np.asarray(camber[k]), p.hinge))
                for k in p.sections]  # fmt: skip
        still = (s.blend @ np.array(each)).T
    a, b = s.edge_chord[:-1], s.edge_chord[1:]
    return Cut(
        p.name, p.is_tail, s.middle + 0.25 * s.chord * along, s.middle + min(p.hinge, 1.0) * s.chord * along, along,
        mesh.normal[:, first], axis / np.sqrt((axis**2).sum(0)), s.chord, s.width, (a + b) / 2 * s.width,
        (a * a + a * b + b * b) / 3 * s.width, s.hinged, own, (still[0], still[1]), s.middle[1] < p.side, p.hinge,
    )  # fmt: skip


def _hinge_line(s: Surface, p: Planform) -> np.ndarray:
    """(3, m) along the hinge from each strip's inner edge to its outer one."""
    angle = np.interp(s.edge[1], p.leading_edge[1], p.angle)
    at = s.edge + p.hinge * s.edge_chord * np.array([np.cos(angle), 0 * angle, -np.sin(angle)])
    return np.diff(at, axis=1)


def even(state: CompanyState, cut: Mapping[str, Cut], turned: Mapping[str, float]) -> dict[str, Half]:
    """Every surface in a state that is alike on both sides, over q: m2, m3. turned: rad by hinged surface, down."""
    legs = np.array([state.leg_force[0], 0 * state.leg_force[0], state.leg_force[1]])
    forces = [turned_by(f, -state.alpha) for f in (state.bound_force, legs)]
    return on_strips(state, cut, forces[0], forces[1], state.circulation, turned, 1.0)


def odd(state: CompanyState, cut: Mapping[str, Cut], panels: OddPanels, amounts: Mapping[str, float],
        ) -> dict[str, Half]:  # fmt: skip
    """What small odd motions and hinges add on the right half and take off on the left, over q: m2, m3.

    amounts: by name of `panels`, in its units. A surface's own hinge goes up on the right (air/sideways.py).
    """

    def summed(of: Mapping[str, np.ndarray]) -> np.ndarray:
        return np.asarray(sum(k * of[name] for name, k in amounts.items()))

    turned = {name: -k for name, k in amounts.items() if name in state.company.hinged}
    given = (summed(panels.bound), summed(panels.legs), summed(panels.circulation))
    return on_strips(state, cut, *given, turned, 0.0, summed(panels.couples))


def on_strips(state: CompanyState, cut: Mapping[str, Cut], bound: np.ndarray, legs: np.ndarray, circulation: np.ndarray,
              turned: Mapping[str, float], camber: float, couples: np.ndarray | float = 0.0,
              ) -> dict[str, Half]:  # fmt: skip
    """Panels' forces gathered by strip. bound, legs: (3, n) m2 in body axes, at the bound vortices and the controls.

    circulation: (n,) m, that goes with them; camber: 1 where the sections' own mean lines are in it, 0 for a change.
    couples: (3, n) m3, of the legs about the controls.
    """
    mesh, company = state.company.mesh, state.company
    quarter = np.concatenate([cut[s.name].quarter for s in mesh.surfaces], axis=1)[:, mesh.strip]
    moments = np.cross(mesh.bound - quarter, bound, axis=0) + np.cross(mesh.control - quarter, legs, axis=0) + couples
    force, moment = mesh.by_strip(bound + legs), mesh.by_strip(moments)
    found = {}
    for s, here in zip(mesh.surfaces, mesh.blocks(), strict=True):
        c, strips = cut[s.name], company.strip_slices[s.name]
        part, at = hinged_part(c, circulation[here], state.onset[strips], turned.get(s.name, 0.0), camber)
        found[s.name] = Half(c, force[:, strips], moment[:, strips], part, at)
    return found


def hinged_part(c: Cut, circulation: np.ndarray, onset: np.ndarray, turned: float, camber: float,
                ) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """(force m2, hinge moment m3) over q of the hinged part of each strip, nought where there is none."""
    if not 0 < c.hinge < 1:
        return np.zeros(c.chord.size), np.zeros(c.chord.size)
    rows = circulation.reshape(c.own.shape) / (onset * c.chord)
    still = camber * c.still[0], camber * c.still[1]
    found = behind(rows, turned * c.hinged, c.hinge, camber * c.own, still)
    q = onset**2 * c.hinged
    return np.asarray(q * c.area * found.force), np.asarray(q * c.square * (1 - c.hinge) ** 2 * found.hinge)


def with_drag(half: Half, drag: np.ndarray, alpha: float) -> Half:
    """The same with a drag area (m,) m2 of each strip along the stream, at the quarter chord."""
    along = turned_by(np.array([1.0, 0.0, 0.0]), -alpha)
    return replace(half, force=half.force + along[:, None] * drag)


def laid(half: Half, side: str, pressure: float, named: str | None = None, flap: str = "") -> Pushes:
    """The strips of one side as forces, N: the fixed part at its quarter chord, the hinged part at its hinge.

    side: R or L, "" for a fin. named: what takes the fixed part, "wing:upper:R"; flap: what takes the hinged part.
    Strips inside the fuselage push on the body.
    """
    c, h = half.cut, half.times(pressure)
    flips = MIRROR if side == "L" else np.ones(3)
    off = h.behind * c.normal
    turn = h.hinge * c.axis
    moved = np.cross(c.at_hinge - c.quarter, off, axis=0) + turn
    on = ["body" if i else str(named) for i in c.inside]
    rows = [(c.quarter, h.force - off, h.moment - moved, on)]
    at = np.flatnonzero(c.hinged * (0 < c.hinge < 1))
    if at.size:
        rows.append((c.at_hinge[:, at], off[:, at], turn[:, at], [flap] * at.size))
    place, force, moment = (np.concatenate([r[i] for r in rows], axis=1).T for i in range(3))
    turn_back = 1.0 if side != "L" else -1.0
    return pushes(place * flips, force * flips, moment * flips * turn_back, [n for r in rows for n in r[3]])
