"""The lattice in roll, yaw and sideslip, fin and rudder with it: small odd motions about the flow of a trimmed state.

Circulation G on a panel of the right half and -G on its mirror (rolling.py), F on a panel of the fin, which stands in
the plane of symmetry and carries none in straight flight. Stream axes: x along the stream, y right, z up, about the
centre of gravity; speeds over V. Symbols as in node.py; 0 the trimmed state, 1 the small change.

    motion      v1 of the air                      unit
    sideslip    (0, -1, 0)                         1 rad, wind from the right
    roll        (0, -z, y)                         p/V = 1 rad/m, right wing down
    yaw         (-y, x, 0)                         r/V = 1 rad/m, nose right
    hinges      a slope f of the mean line         1 rad, aileron up on the right; rudder to the right

    wings   (n + s m) . (v1 + air of G, F + skew) = 0, for a hinge f m . v0        s with the state's elevator and twist
    fin     the same along y
    force   F1/(rho V^2) = G1 v0 x d + G0 v1 x d + H1 (v0 x l) + H0 (v1 x l);  on the fin F v0 x d, v0 the stream's

In a sideslip the wakes lie along the stream, which now comes from the side: `skew` is what an endless leg's velocity
changes by when it is turned,  e x b/(4 pi r (r - e . b)),  e its direction, b from its corner to the point, r = |b|.
The legs on the chord keep their places. Legs act where they lie, so that their couples count in the rolling moment.
The sources (thickness) are in v0 and in no change of it.

A wake is a sheet. Where one passes through the fin, or a turned one close to the tail, its legs as lines would throw
single points about: there they are `spread` over the strips they stand for. The leg in the plane of symmetry stands for
a strip of half-width w; at a height h over it the sidewash of the sheet is that of the line times (h/w) atan(w/h). A
turned leg has p + w^2 for p = by^2 + bz^2 at points behind it on other surfaces, w half the way to its neighbours.

Range: node.py; small motions, slow against the time in which the air passes (the wakes are those of steady motion and
straight); attached flow. Not in it: the body, struts and wires, the propeller; the fin's section is thin, its flow
that of the free stream.
Sources: falkner-1943; glauert-1926 ch. XI, XII; the odd flow and the turned legs are worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np
from scipy.linalg import lu_factor, lu_solve

from sparwright.air.grid import Surface
from sparwright.air.mesh import Mesh, turned_by
from sparwright.air.turned import CompanyState
from sparwright.air.upright import Upright
from sparwright.base.record import number

MOTIONS = ("sideslip", "roll", "yaw")
MIRROR = np.array([[1.0], [-1.0], [1.0]])
CLEAR = 1e-4  # of the greatest chord: a turned leg, not spread, does nothing to points nearer to its line than this


@dataclass(frozen=True)
class Moments:
    """Force to the right over q, m2, and moments over q, m3: right wing down, nose right; of a unit change."""

    side: float = number("m2", "force to the right over q")
    roll: float = number("m3", "rolling moment over q, right wing down")
    yaw: float = number("m3", "yawing moment over q, nose right")

    def __add__(self, other: Moments) -> Moments:
        return Moments(self.side + other.side, self.roll + other.roll, self.yaw + other.yaw)


NOTHING = Moments(0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Sideways:
    """What each motion and hinge does, on wings and tailplane and on the fin; areas and spans of the whole."""

    wings: Mapping[str, Moments] = field(default_factory=dict)
    fin: Mapping[str, Moments] = field(default_factory=dict)

    def both(self, name: str) -> Moments:
        """Wings, tailplane and fin together."""
        return self.wings[name] + self.fin[name]


@dataclass(frozen=True)
class Air:
    """Velocity of unit circulations, (unknowns, 3, points): points at wing controls, wing bounds, fin controls."""

    of: np.ndarray
    n: int
    m: int

    @property
    def control(self) -> np.ndarray:
        """(unknowns, 3, n) at the wings' control points."""
        return self.of[:, :, : self.n]

    @property
    def bound(self) -> np.ndarray:
        """(unknowns, 3, n) at the wings' bound vortices."""
        return self.of[:, :, self.n : 2 * self.n]

    @property
    def fin(self) -> np.ndarray:
        """(unknowns, 3, m) at the fin's control points."""
        return self.of[:, :, 2 * self.n :]


def sideways(state: CompanyState, centre: tuple[float, float], fin: Upright | None,
             slopes: np.ndarray | None = None, spread: bool = True) -> Sideways:  # fmt: skip
    """Forces and moments of every motion and hinge about a state.

    centre: station and waterline of the centre of gravity, m. slopes: (n,) slope that the state's deflections and
    twists add to the mean line; none when not given. spread: see the head; without it legs are lines.
    """
    about = turned_by(np.array([centre[0], 0.0, centre[1]]), state.alpha)[:, None]
    wings, upright = {}, {}
    for name, g, f, flow in odd_flows(state, about, fin, slopes, spread):
        wings[name] = _on_wings(state, g, flow, about)
        upright[name] = _on_fin(fin, f, state.alpha, about) if fin else NOTHING
    return Sideways(wings, upright)


def odd_flows(state: CompanyState, about: np.ndarray, fin: Upright | None, slopes: np.ndarray | None, spread: bool
              ) -> Iterator[tuple[str, np.ndarray, np.ndarray, np.ndarray]]:  # fmt: skip
    """For each motion and hinge: (name, G (n,) m, F (m,) m, change of the air at controls, bound vortices and fin).

    about: (3, 1) m, centre of gravity in stream axes; the rest as of `sideways`.
    """
    mesh, alpha = state.company.mesh, state.alpha
    points = [turned_by(p, alpha) for p in (mesh.control, mesh.bound, *((fin.control,) if fin else ()))]
    air = _air(mesh, alpha, fin, np.hstack(points))
    if spread and fin:
        _spread_root(mesh, alpha, points[2], air)
    met = turned_by(mesh.normal, alpha) + (mesh.slope + (0.0 if slopes is None else slopes)) * turned_by(
        mesh.tilt, alpha
    )
    ahead = sum(met[i] * air.control[:, i] for i in range(3))
    matrix = lu_factor(np.concatenate([ahead, air.fin[:, 1]], axis=1).T, check_finite=False)
    moved, asked = _motions(state, np.hstack(points), about, spread), {}
    for name, v in moved.items():
        asked[name] = -np.concatenate([(met * v[:, : air.n]).sum(0), v[1, 2 * air.n :]])
    tilting = sum(w * n.tilting for w, n in state.company.near(alpha))
    for name, slope in mesh.hinges.items():
        asked[name] = np.concatenate([slope * tilting, np.zeros(air.m)])
    if fin:
        asked["rudder"] = np.concatenate([np.zeros(air.n), -fin.flap])
    solved = lu_solve(matrix, np.array(list(asked.values())).T, check_finite=False).T
    flows = (solved @ air.of.reshape(solved.shape[1], -1)).reshape(len(asked), 3, -1)
    for name, g, flow in zip(asked, solved * mesh.scale, flows, strict=True):
        yield name, g[: air.n], g[air.n :], flow + moved.get(name, 0.0)


def _air(mesh: Mesh, alpha: float, fin: Upright | None, points: np.ndarray) -> Air:
    """What each unknown does to the points (stream axes, m), the mirrored half with the other sign."""
    from sparwright.air.inflow import inflow  # loads the compiler

    scale, n = mesh.scale, mesh.panels
    here, odd = np.ascontiguousarray(points / scale), -1.0
    none = np.ones((len(mesh.surfaces), here.shape[1]))
    air, _ = inflow(turned_by(mesh.corners, alpha) / scale, mesh.chordwise, mesh.counts, np.zeros(n), here, none, odd)
    if fin is None:
        return Air(air, n, 0)
    corners, strips = turned_by(fin.corners, alpha) / scale, np.array([fin.strips])
    twice, _ = inflow(corners, mesh.chordwise, strips, np.zeros(fin.panels), here, none[:1], odd)  # is its own mirror
    return Air(np.concatenate([air, twice / 2]), n, fin.panels)


def _spread_root(mesh: Mesh, alpha: float, points: np.ndarray, air: Air) -> None:
    """Take the wings' legs in the plane of symmetry for sheets in what they do to the fin; changes `air`."""
    for s, here, edge in zip(mesh.surfaces, mesh.blocks(), mesh.edges(), strict=True):
        if s.is_tail:
            continue
        bx, _, bz = points - turned_by(edge[:, -1, :1], alpha)
        w, h, r = s.middle[1, 0], np.abs(bz) + 1e-12, np.hypot(bx, bz)
        less = h / w * np.arctan2(w, h) - 1
        line = -2 * -bz * np.where(bx > 0, (r + bx) / (4 * math.pi * r * h**2), 0.0)  # both halves', inner leg
        air.fin[here.start : here.stop : s.chord.size, 1] += less * line * mesh.scale


def _motions(state: CompanyState, points: np.ndarray, about: np.ndarray, spread: bool) -> dict[str, np.ndarray]:
    """(3, points) velocity of the air by motion."""
    x, y, z = points - about
    none, one = np.zeros(x.size), np.ones(x.size)
    skew = turned_legs(state, points, spread)
    return {
        "sideslip": np.array([none, -one, none]) + skew,
        "roll": np.array([none, -z, y]),
        "yaw": np.array([-y, x, none]),
    }


def turned_legs(state: CompanyState, points: np.ndarray, spread: bool = True) -> np.ndarray:
    """(3, points) what the endless legs do more for each radian of sideslip; points in stream axes, m: those of
    `sideways`, controls, bound vortices, fin.

    With e = (1, -t, 0), de/dt = (0, -1, 0):
    d/dt [e x b/(r (r - e . b))] = (-bz, 0, bx)/(r (r - bx)) - by (0, -bz, by)/(r (r - bx)^2)
    """
    mesh = state.company.mesh
    owner = np.concatenate([mesh.surface, mesh.surface, np.full(points.shape[1] - 2 * mesh.panels, -1)])
    found = np.zeros(points.shape)
    for i, (s, here, edge) in enumerate(zip(mesh.surfaces, mesh.blocks(), mesh.edges(), strict=True)):
        total = state.circulation[here].reshape(mesh.chordwise, s.chord.size).sum(0)
        at, g = turned_by(edge[:, -1], state.alpha), -np.diff(np.concatenate([[0.0], total, [0.0]]))
        wide = np.gradient(s.edge[1]) if spread else np.zeros(g.size)
        at, g, w = np.hstack([at, at * MIRROR]), np.concatenate([g, -g]), np.concatenate([wide, wide]) / 2
        bx, by, bz = points[:, None, :] - at[:, :, None]
        square = by**2 + bz**2 + np.where((owner != i) & (bx > 0), w[:, None] ** 2, 0.0)
        r = np.sqrt(bx**2 + square)
        less = np.where(bx > 0, square / (r + np.abs(bx)), r - bx)  # r - bx, to the last digit
        clear = (square > (CLEAR * mesh.scale) ** 2) | (bx < 0)
        k = np.where(clear, g[:, None] / (4 * math.pi * r * np.where(clear, less, 1.0)), 0.0)
        j = k * by / np.where(clear, less, 1.0)
        found += np.array([-(k * bz).sum(0), (j * bz).sum(0), (k * bx - j * by).sum(0)])
    return found


def _on_wings(state: CompanyState, g: np.ndarray, flow: np.ndarray, about: np.ndarray) -> Moments:
    """Both halves: g (n,) m; flow (3, points) the change of the air at controls and bound vortices."""
    mesh, n = state.company.mesh, state.company.mesh.panels
    d, v0, v1 = turned_by(mesh.segment, state.alpha), state.values[1:4], flow[:, n : 2 * n]
    force = g * np.cross(v0, d, axis=0) + state.circulation * np.cross(v1, d, axis=0)
    found = _moments(turned_by(mesh.bound, state.alpha) - about, force)
    for s, here, corner in zip(mesh.surfaces, mesh.blocks(), mesh.edges(), strict=True):
        legs, at = _legs(corner, state.alpha)
        old, new = (_carried(c[here], s, mesh.chordwise) for c in (state.circulation, g))
        still, moved = (
            at_edges(v[here], s, mesh.chordwise, odd) for v, odd in ((state.values[7], True), (flow[1, :n], False))
        )
        pull = new * still + old * moved
        force = np.array([pull * legs[2], 0 * pull, -pull * legs[0]]).reshape(3, -1)
        found += _moments(at.reshape(3, -1) - about, force)
    return Moments(4 * found.side, 4 * found.roll, 4 * found.yaw)


def _on_fin(fin: Upright, f: np.ndarray, alpha: float, about: np.ndarray) -> Moments:
    d = turned_by(fin.segment, alpha)
    force = np.array([0 * f, -f * d[2], 0 * f])
    found = _moments(turned_by(fin.bound, alpha) - about, force)
    return Moments(2 * found.side, 2 * found.roll, 2 * found.yaw)


def _moments(at: np.ndarray, force: np.ndarray) -> Moments:
    """Sums over points (3, k) of forces (3, k); right wing down and nose right are against x and z."""
    (x, y, z), (fx, fy, fz) = at, force
    return Moments(float(fy.sum()), float(z @ fy - y @ fz), float(y @ fx - x @ fy))


def _legs(corner: np.ndarray, alpha: float) -> tuple[np.ndarray, np.ndarray]:
    """(3, rows, strips + 1) length vectors of the legs on the chord, from the nose, and their middles."""
    at = turned_by(corner, alpha)
    return np.diff(at, axis=1), (at[:, 1:] + at[:, :-1]) / 2


def _carried(g: np.ndarray, s: Surface, rows: int) -> np.ndarray:
    """(rows, strips + 1) circulation of each leg along +x; none in the plane of symmetry, where both halves' cancel."""
    whole = np.cumsum(g.reshape(rows, s.chord.size), axis=0)
    legs = np.zeros((rows, s.chord.size + 1))
    legs[:, 1:] = whole
    legs[:, 1:-1] -= whole[:, 1:]
    return legs


def at_edges(v: np.ndarray, s: Surface, rows: int, odd: bool) -> np.ndarray:
    """(rows, strips + 1) sidewash at the strips' edges from that at the control points; odd or even in y."""
    whole, y = v.reshape(rows, s.chord.size), s.middle[1]
    sign = -1.0 if odd else 1.0
    at = np.concatenate([[-y[0]], y])
    values = np.concatenate([sign * whole[:, :1], whole], axis=1)
    i = np.clip(np.searchsorted(at, s.edge[1]) - 1, 0, at.size - 2)
    part = (s.edge[1] - at[i]) / (at[i + 1] - at[i])
    return np.asarray(values[:, i] * (1 - part) + values[:, i + 1] * part)
