"""What take-off and landing are reckoned with, from field.toml.

>>> FIELD["over_speed"].value
1.3
"""

from __future__ import annotations

from sparwright.data.limit import limits

FIELD = limits("field.toml")
