"""An aeroplane in natural modes: its frame free in the air with every mass where it lies, its strips and ailerons.

Coordinates x: r natural modes of the free frame (six of them rigid), ailerons as heavy parts of the wing; after them a
turn of each aileron about its hinge.

    M = L^T L over lumps      L how each lump moves for a unit of each coordinate, times the root of its mass
    K = the modes' w^2, and the circuit's stiffness between the ailerons
    strips: heave, turn, flap of a unit of each coordinate

Mass is spread: a lump on its nodes as a stiff body on equal springs, M = sum S m S^T (structure/spread.py), not lumped
at nodes. Wires that are slack in level flight are out; what rigging pulls in the bars changes the elastic modes.
Sources: przemieniecki-1968 ch. 12 (memory, high); statics.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from scipy.sparse import csr_matrix

from sparwright.aeroelastic.ailerons import Aileron
from sparwright.aeroelastic.on_frame import Laced
from sparwright.aeroelastic.strip import Airs, Motion, airs
from sparwright.base.record import locked
from sparwright.maths.frame.record import Frame
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.spread_modes import spread_modes
from sparwright.maths.frame.stiff import prepare
from sparwright.structure.bar import Skeleton
from sparwright.structure.laid import amounts
from sparwright.structure.masses import Lumps

RIGID = 6
FREE = 1e-3  # of the highest frequency asked for: a movement slower than that has no stiffness


@dataclass(frozen=True)
class Moving:
    """An aeroplane that shakes: m coordinates, the modes' first."""

    skeleton: Skeleton = field(repr=False)
    laced: Laced = field(repr=False)
    omega: np.ndarray  # (r,) rad/s, natural frequencies of the frame, ailerons held to the wing; six rigid ones first
    shapes: np.ndarray  # (r, n, 6), v M v = 1 kg
    mass: np.ndarray  # (m, m) generalised mass, kg
    stiffness: np.ndarray  # (m, m) generalised stiffness, N/m
    motion: Motion
    hinged: tuple[Aileron, ...] = ()  # the last coordinates, radians

    @property
    def air(self) -> Airs:
        """The air's forces in these coordinates."""
        return airs(self.laced.strips, self.motion)


def freed(frame: Frame, slack: np.ndarray) -> Frame:
    """A frame that nothing holds, without its slack wires (m,) bool, stiffened by what rigging pulls in every bar.

    The pulls are those at rest without loads, so that they balance and turn with the frame. ValueError where it does
    not stand as it is held.
    """
    held = without_slack(frame, slack)
    at_rest = solve(prepare(held), np.zeros((1, *frame.held.shape)), second_order=False)
    if not at_rest.good[0]:
        raise ValueError(at_rest.why[0])
    return replace(held, tension=locked(at_rest.pull[0]), held=np.zeros_like(frame.held))


def without_slack(frame: Frame, slack: np.ndarray) -> Frame:
    """A frame with its slack wires (m,) bool as thin as nothing."""
    area, tension = np.where(slack, frame.area * 1e-9, frame.area), np.where(slack, 0.0, frame.tension)
    return replace(frame, area=locked(area), tension=locked(tension))


def moving(skeleton: Skeleton, lumps: Lumps, aboard: Mapping[str, float], laced: Laced, hinged: Sequence[Aileron],
           circuit: np.ndarray, slack: np.ndarray, count: int = 20) -> Moving:  # fmt: skip
    """The aeroplane with so much of each load aboard, kg. circuit: (k, k) N m/rad, NaN: the ailerons stand still.

    count: elastic modes. ValueError where the frame does not stand (its free modes would be more than six).
    """
    weights = amounts(lumps, aboard)
    root = roots(lumps, weights)
    omega, shapes = natural_modes(freed(skeleton.frame, slack), root, count)
    hinged = tuple(hinged) if np.isfinite(circuit).all() else ()
    flat = shapes.reshape(len(shapes), -1)
    of_lumps = np.vstack([(root.T @ flat.T).T, *(_turned(lumps, weights, h) for h in hinged)])
    mass = of_lumps @ of_lumps.T
    for i, h in enumerate(hinged):
        mass[len(flat) + i, len(flat) + i] += h.paint * h.paint_aft**2
    stiffness = np.zeros(mass.shape)
    stiffness[: len(flat), : len(flat)] = np.diag(omega**2)
    if hinged:
        stiffness[len(flat) :, len(flat) :] = circuit
    return Moving(skeleton, laced, locked(omega), shapes, mass, stiffness, _motion(laced, flat, hinged), hinged)


def natural_modes(frame: Frame, root: csr_matrix, count: int) -> tuple[np.ndarray, np.ndarray]:
    """(omega (6 + count,) rad/s, shapes (6 + count, n, 6) with v M v = 1 kg) of a free frame, six rigid ones first.

    What rigging's pull adds is worked in the elastic modes alone: of axial forces in bars that also bend it would hold
    what is rigid, a little. ValueError where other than six movements have no stiffness, or the rigging buckles it.
    """
    prepared = prepare(frame)
    omega, shapes = spread_modes(replace(prepared, rigged=prepared.plain), root, RIGID + count)
    if not np.all(np.isfinite(omega)) or np.sum(omega < FREE * omega[-1]) != RIGID:
        raise ValueError("the frame does not stand: free in the air it has other than six movements without stiffness")
    flat = shapes[RIGID:].reshape(count, -1)
    inner = flat[:, prepared.open] * prepared.scale
    pulled = inner @ ((prepared.rigged.matrix - prepared.plain.matrix) @ inner.T)
    square, turn = np.linalg.eigh(np.diag(omega[RIGID:] ** 2) + (pulled + pulled.T) / 2)
    if square[0] <= 0:
        raise ValueError("its rigging alone buckles the frame")
    flat = np.vstack([shapes[:RIGID].reshape(RIGID, -1), turn.T @ flat])
    return np.concatenate([np.zeros(RIGID), np.sqrt(square)]), flat.reshape(RIGID + count, -1, 6)


def roots(lumps: Lumps, weights: np.ndarray) -> csr_matrix:
    """(6 n, 6 L): L, how loads on lumps come to nodes, times the root of each lump's mass and inertia."""
    assert lumps.laid is not None
    return (lumps.laid @ _block(lumps, weights)).tocsr()


def _block(lumps: Lumps, weights: np.ndarray) -> csr_matrix:
    """(6 L, 6 L) root of each lump's mass and inertia."""
    count = len(weights)
    scale = weights / np.where(lumps.mass > 0, lumps.mass, 1.0)
    value, vector = np.linalg.eigh(lumps.inertia * scale[:, None, None])
    turn = vector * np.sqrt(np.maximum(value, 0.0))[:, None, :]
    at = 6 * np.arange(count)
    i = np.concatenate([(at[:, None] + np.arange(3)).ravel(), (at[:, None] + 3 + np.repeat(np.arange(3), 3)).ravel()])
    j = np.concatenate([(at[:, None] + np.arange(3)).ravel(), (at[:, None] + 3 + np.tile(np.arange(3), 3)).ravel()])
    values = np.concatenate([np.repeat(np.sqrt(weights), 3), turn.ravel()])
    return csr_matrix((values, (i, j)), (6 * count, 6 * count))


def _turned(lumps: Lumps, weights: np.ndarray, of: Aileron) -> np.ndarray:
    """(6 L,) how the lumps move for a radian of an aileron, times the root of mass."""
    over = 1.0 if of.side == "R" else -1.0
    mine = np.array([n.startswith(of.start) and over * y > 0 for n, y in zip(lumps.names, lumps.place[:, 1],
                                                                             strict=True)])  # fmt: skip
    move = np.zeros((len(mine), 6))
    move[mine, :3] = np.cross(of.axis, lumps.place[mine] - of.place)
    move[mine, 3:] = of.axis
    return np.asarray(_block(lumps, weights).T @ move.ravel())


def _motion(laced: Laced, flat: np.ndarray, hinged: Sequence[Aileron]) -> Motion:
    heave, turn, flap = (m.T @ flat.T for m in (laced.heave, laced.turn, laced.flap))
    own = own_strips(laced, hinged)
    none = np.zeros(own.shape)
    return Motion(np.hstack([heave, none]), np.hstack([turn, none]), np.hstack([flap, own]))


def own_strips(laced: Laced, hinged: Sequence[Aileron]) -> np.ndarray:
    """(s, k) part of each strip that each aileron stands in."""
    where = list(zip(laced.strips.surface, laced.strips.side, strict=True))
    rows = [[part if at == (a.wing, a.side) else 0.0 for at, part in zip(where, laced.aileron, strict=True)]
            for a in hinged]  # fmt: skip
    return np.array(rows).reshape(len(rows), len(where)).T


def held_rigged(frame: Frame, slack: np.ndarray) -> Frame:
    """The same frame as `freed`, held at its datum."""
    return replace(freed(frame, slack), held=frame.held)
