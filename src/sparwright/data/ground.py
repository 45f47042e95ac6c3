"""Rules for an aeroplane on the ground, from ground.toml.

>>> rule("propeller_tail_wheel").value
0.23
>>> rule("braking").unit
'1'
"""

from __future__ import annotations

from collections.abc import Mapping

from sparwright.data.limit import Limit, limits


def rules() -> Mapping[str, Limit]:
    """Every row by its key."""
    return limits("ground.toml")


def rule(key: str) -> Limit:
    """The rule of that key; KeyError for another."""
    return rules()[key]
