"""Axes and signs, said once.

x aft (station), y to the right wing (buttline), z up (waterline), metres, origin at the family's datum.
Angles in radians: incidence, twist and angle of attack nose up positive; elevator trailing edge down
positive; dihedral tip up positive; sweep tip aft positive. Moments: nose up positive. Forces: lift up,
drag aft.

        z up (waterline)
        |    y to the right wing (buttline)
        |   /
        |  /
        | /
        +------------ x aft (station)
"""

from __future__ import annotations

import math

GRAVITY = 9.80665  # m/s2, exact: standard gravity, ISO 80000-3


def up(nose: float, bank: float = 0.0) -> tuple[float, float, float]:
    """The unit vector up in the aeroplane's axes, thrust line nose up by `nose` and right wing down by `bank`, rad.

    (-sin a, -cos a sin b, cos a cos b): first banked about its own axis, then pitched. Source: geometry.

    >>> [round(x, 3) for x in up(0.1, 0.0)]
    [-0.1, -0.0, 0.995]
    """
    return -math.sin(nose), -math.cos(nose) * math.sin(bank), math.cos(nose) * math.cos(bank)


__all__ = ["GRAVITY", "up"]
