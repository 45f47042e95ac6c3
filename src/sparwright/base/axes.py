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

GRAVITY = 9.80665  # m/s2, exact: standard gravity, ISO 80000-3

__all__ = ["GRAVITY"]
