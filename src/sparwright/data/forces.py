"""What the forces on stick and pedals are held to, from forces.toml.

>>> FORCES["limit_least"].sense
'>='
"""

from __future__ import annotations

from sparwright.data.limit import limits

FORCES = limits("forces.toml")
