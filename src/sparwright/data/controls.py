"""What controls are held to, from controls.toml.

>>> RULES["fairlead"].sense
'<='
"""

from __future__ import annotations

from sparwright.data.limit import limits

RULES = limits("controls.toml")
