"""Parts as bodies in space: each drawn once, and where its pieces stand."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from shapely import Polygon

from sparwright.parts.part import Part, Place, Plate, Skin, Straight
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.solid import Pose, Solid, between, joined, plate
from sparwright.shape.tube import Tube

HERE = Pose((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


def solids(part: Part, coarse: float = 0.0) -> tuple[Solid, ...]:
    """One body for each of a part's places; none for what has no drawn shape. coarse: see `drawn`."""
    found = drawn(part, coarse)
    if found is None:
        return ()
    body, stands = found
    mirror = body.mirrored() if any(left for _, left in stands) else body
    return tuple((mirror if left else body) if pose is HERE else body.placed(pose) for pose, left in stands)


def drawn(part: Part, coarse: float = 0.0) -> tuple[Solid, tuple[tuple[Pose, bool], ...]] | None:
    """(its body, where each one stands and whether it is the mirror), or None for what has no drawn shape.

    A plate is drawn in its own axes. A bar, skin or tube is drawn where it is, right or in the middle; one whose place
    is on the left is its mirror. coarse: m by which outlines of plates may be simplified, for pictures.
    """
    match part.shape:
        case Plate():
            return plate_solid(part.shape, coarse), tuple((pose, False) for pose in part.poses)
        case Tube():
            body = part.shape.solid()
        case Straight():
            body = between(*part.shape.rings)
        case Skin():
            body = joined([between(*rings) for rings in part.shape.rings])
        case None:
            return None
    return body, tuple(_sides(body, part.places))


def _sides(body: Solid, places: tuple[Place, ...]) -> Iterator[tuple[Pose, bool]]:
    """As drawn, or its mirror where the place is on the other side."""
    own = float(body.centre[1])
    for _, y, _ in places:
        yield HERE, own * y < 0 and abs(own) >= ON_CENTRE


def plate_solid(flat: Plate, coarse: float = 0.0) -> Solid:
    """A plate with its bent edge in its own axes."""
    half = flat.thickness / 2
    outline, holes = _simple(flat.outline, coarse), [_simple(hole, coarse) for hole in flat.holes]
    sheet = plate(outline, holes, -half, half)
    if not flat.flange:
        return sheet
    lean = np.array(flat.lean) * abs(flat.flange)
    inner = np.array(Polygon(outline).buffer(-flat.thickness, join_style="mitre").exterior.coords)[:-1]
    near, far = float(np.copysign(half, flat.flange)), flat.flange + float(np.copysign(half, flat.flange))
    rings = [
        (np.column_stack([ring, np.full(len(ring), near)]), np.column_stack([ring + lean, np.full(len(ring), far)]))
        for ring in (outline, inner)
    ]
    return joined([sheet, between(*rings[0], [np.array(rings[1])])])


def _simple(ring: np.ndarray, coarse: float) -> np.ndarray:
    """A closed ring with fewer points, by at most that much off."""
    return np.array(Polygon(ring).simplify(coarse).exterior.coords)[:-1] if coarse > 0 else ring
