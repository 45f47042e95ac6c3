"""A free corner beside a shape on paper: a rectangle clear of all that is drawn, the whole no larger for it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from sparwright.plans.drawing import Point

STEP = 4.0  # mm between the places tried


def free_corner(size: tuple[float, float], taken: Sequence[shapely.Geometry], gap: float) -> Point | None:
    """Upper left corner, mm, for a rectangle (width, height) within the bounds of `taken` and so far clear of it all.

    The highest place, of those the one farthest to the right; None where there is none.
    """
    left, low, right, top = shapely.total_bounds(np.array(taken, dtype=object))
    w, h = size
    if right - left < w or top - low < h:
        return None
    grid = np.meshgrid(np.arange(right - w, left - 1e-9, -STEP), np.arange(top, low + h - 1e-9, -STEP))
    x, y = (axis.ravel() for axis in grid)
    boxes = shapely.box(x - gap, y - h - gap, x + w + gap, y + gap)
    hit = shapely.STRtree(list(taken)).query(boxes, predicate="intersects")[0]
    free = np.setdiff1d(np.arange(len(x)), hit)
    return (float(x[free[0]]), float(y[free[0]])) if free.size else None
