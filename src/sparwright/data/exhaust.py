"""What an exhaust is held to, from exhaust.toml.

>>> RULES["fuel"].sense
'>='
"""

from __future__ import annotations

from sparwright.data.limit import limits

RULES = limits("exhaust.toml")
