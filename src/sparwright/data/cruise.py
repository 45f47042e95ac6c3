"""Fuel that is not for cruise, from cruise.toml.

>>> CRUISE["reserve"].value
1800.0
"""

from __future__ import annotations

from sparwright.data.limit import limits

CRUISE = limits("cruise.toml")
