"""Published figures for fabric and thin walls, from thin_walls.toml.

>>> THIN["fabric_stitch"].unit
'N'
"""

from __future__ import annotations

from sparwright.data.limit import limits

THIN = limits("thin_walls.toml")
