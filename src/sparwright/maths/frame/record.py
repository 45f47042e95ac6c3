"""A frame in space as the solver takes it, and what comes out. It knows nothing of aeroplanes. SI throughout.

An element runs from end 1 to end 2, each at its node or a rigid arm (`arm`) away from it. Its own axes: x from end 1 to
end 2; z in the plane of x and `up`, on the side of `up`; y = z x x. Its twelve forces and movements are Fx Fy Fz Mx My
Mz at end 1, then at end 2. N is tension positive.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class Frame:
    """n nodes, m straight elements. Arrays locked."""

    place: np.ndarray  # (n, 3) m
    ends: np.ndarray  # (m, 2) whole numbers: nodes of ends 1 and 2
    up: np.ndarray  # (m, 3) any vector not along the element
    area: np.ndarray  # (m,) m2
    about_y: np.ndarray  # (m,) m4, bending in the element's x-z plane
    about_z: np.ndarray  # (m,) m4, bending in its x-y plane
    twist: np.ndarray  # (m,) m4, torsion constant
    youngs: np.ndarray  # (m,) Pa
    shear: np.ndarray  # (m,) Pa
    shear_area: np.ndarray  # (m, 2) m2 along y and along z; infinite: no bending by shear
    arm: np.ndarray  # (m, 2, 3) m, rigid, from the node to the element's end, in the frame's axes
    free: np.ndarray  # (m, 12) bool: end forces that are nought (pins)
    wire: np.ndarray  # (m,) bool: carries tension only; its ends turn freely
    tension: np.ndarray  # (m,) N, tension of an element when nothing has moved (rigging)
    held: np.ndarray  # (n, 6) bool: movements that are kept nought


@dataclass(frozen=True)
class Solved:
    """c cases of loads on a frame."""

    moved: np.ndarray  # (c, n, 6) m and rad
    force: np.ndarray  # (c, m, 12) N and N m on the element's ends, in its own axes
    pull: np.ndarray  # (c, m) N, axial force, tension positive, mean of both ends
    slack: np.ndarray  # (c, m) bool: wires that carry nothing
    reaction: np.ndarray  # (c, n, 6) N and N m at held movements, else nought
    good: np.ndarray  # (c,) bool: settled and stable; where not, all of the case is NaN
    why: tuple[str, ...]  # (c,) why a case is not good; empty where it is
    turns: np.ndarray  # (c,) how often it was solved until it settled
