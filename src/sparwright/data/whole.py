"""How far published aeroplanes stayed below the likely value, from whole.toml.

>>> WHOLE["top"].value
0.73
"""

from __future__ import annotations

from sparwright.data.limit import limits

WHOLE = limits("whole.toml")
