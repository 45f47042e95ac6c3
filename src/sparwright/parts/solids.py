"""Parts as bodies in space: each drawn once, and where its pieces stand."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from manifold3d import Error, Manifold, Mesh64, OpType

from sparwright.base.record import locked
from sparwright.base.remembered import remembered
from sparwright.parts.part import Part, Plate
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.solid import CORNERS, Pose, Solid

KEPT = 10_000  # bodies kept in memory
_EXACT: dict[bytes, Manifold] = {}
HERE = Pose((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


@remembered(4000)
def solids(part: Part, coarse: float = 0.0) -> tuple[Solid, ...]:
    """One body for each of a part's places; none for what has no drawn shape. coarse: see `drawn`."""
    found = drawn(part, coarse)
    if found is None:
        return ()
    body, stands = found
    mirror = body.mirrored() if any(left for _, left in stands) else body
    return tuple((mirror if left else body) if pose is HERE else body.placed(pose) for pose, left in stands)


def exact(solid: Solid) -> Manifold:
    """A body in the library of solids; ask `closed` before what it says is believed.

    Kept for the process by its corners and sides: a model is measured in several ways, and most of it stands still.
    """
    if solid.digest not in _EXACT:
        if len(_EXACT) >= KEPT:
            _EXACT.clear()
        _EXACT[solid.digest] = moved(solid)
    return _EXACT[solid.digest]


@remembered(2)
def moved(solid: Solid) -> Manifold:
    """As `exact`, of a body that will not be asked for again: one that has turned or moved along."""
    return Manifold(Mesh64(np.array(solid.points), np.array(solid.faces, dtype=np.uint64)))


@remembered(100_000)
def gap(one: Solid, other: Solid, reach: float, moves: bool = False) -> float:
    """The gap between two bodies, m, looked for up to a reach; nought where they share any space.

    moves: whether the first is one that has turned or moved along, and will stand elsewhere the next time.
    """
    return float((moved(one) if moves else exact(one)).min_gap(exact(other), reach))


def united(parts: Sequence[Solid]) -> Solid:
    """Several closed bodies, which may run into each other, as one."""
    whole = Manifold.batch_boolean([exact(p) for p in parts], OpType.Add)
    return _solid(whole)


def ball(middle: Sequence[float], radius: float) -> Solid:
    """A ball about its middle; its corners lie on the radius."""
    return _solid(Manifold.sphere(radius, CORNERS).translate(list(middle)))


def _solid(body: Manifold) -> Solid:
    mesh = body.to_mesh64()
    return Solid(locked(np.asarray(mesh.vert_properties)[:, :3]), np.asarray(mesh.tri_verts, dtype=int))


def closed(body: Manifold) -> bool:
    """Whether a body has no gap; the library takes one that has for nothing at all."""
    return bool(body.status() == Error.NoError)


@remembered(4000)
def drawn(part: Part, coarse: float = 0.0) -> tuple[Solid, tuple[tuple[Pose, bool], ...]] | None:
    """(its body, where each one stands and whether it is the mirror), or None for what has no drawn shape.

    A plate is drawn in its own axes. A bar, skin or tube is drawn where it is, right or in the middle; one whose place
    is on the left is its mirror. coarse: m by which outlines of plates may be simplified, for pictures.
    """
    body = part.shape.solid(coarse) if isinstance(part.shape, Plate) else part.shape.solid() if part.shape else None
    if body is None:
        return None
    if isinstance(part.shape, Plate):
        return body, tuple((pose, False) for pose in part.poses)
    own = float(body.centre[1])
    return body, tuple((HERE, own * y < 0 and abs(own) >= ON_CENTRE) for _, y, _ in part.places)
