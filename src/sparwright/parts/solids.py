"""Parts as bodies in space: one for each place where a part stands."""

from __future__ import annotations

import numpy as np
from shapely import Polygon

from sparwright.parts.part import Part, Place, Plate, Skin, Straight
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.solid import Solid, between, joined, plate
from sparwright.shape.tube import Tube


def solids(part: Part) -> tuple[Solid, ...]:
    """One body for each of a part's places; none for what has no thickness or no drawn shape.

    A bar, skin or tube is drawn for the right side or the middle; one whose place is on the left is its mirror.
    """
    match part.shape:
        case Plate():
            flat = plate_solid(part.shape)
            return tuple(flat.placed(pose) for pose in part.poses)
        case Tube():
            return _sides(part.shape.solid(), part.places)
        case Straight():
            return _sides(between(*part.shape.rings), part.places)
        case Skin():
            sheets = [between(*rings) for rings in part.shape.rings]
            return _sides(joined(sheets), part.places) if sheets else ()
    return ()


def _sides(drawn: Solid, places: tuple[Place, ...]) -> tuple[Solid, ...]:
    """The body at each place: as drawn, or its mirror where the place is on the other side."""
    own = float(drawn.centre[1])
    return tuple(drawn if own * y >= 0 or abs(own) < ON_CENTRE else drawn.mirrored() for _, y, _ in places)


def plate_solid(flat: Plate) -> Solid:
    """A plate with its bent edge in its own axes."""
    half = flat.thickness / 2
    sheet = plate(flat.outline, flat.holes, -half, half)
    if not flat.flange:
        return sheet
    lean = np.array(flat.lean) * abs(flat.flange)
    inner = np.array(Polygon(flat.outline).buffer(-flat.thickness, join_style="mitre").exterior.coords)[:-1]
    near, far = float(np.copysign(half, flat.flange)), flat.flange + float(np.copysign(half, flat.flange))
    rings = [
        (np.column_stack([ring, np.full(len(ring), near)]), np.column_stack([ring + lean, np.full(len(ring), far)]))
        for ring in (flat.outline, inner)
    ]
    return joined([sheet, between(*rings[0], [np.array(rings[1])])])
