"""How an aeroplane must roll, from roll.toml.

>>> ROLL["helix"].value
0.07
"""

from __future__ import annotations

from sparwright.data.limit import limits

ROLL = limits("roll.toml")
