"""What plain ailerons and rudders do of a thin aerofoil's lift, from aileron.toml.

>>> effect(0.0).value
0.88
"""

from __future__ import annotations

import math

import numpy as np

from sparwright.base.quantity import parse
from sparwright.base.source import Band, Source
from sparwright.data.files import tables


def effect(turned: float) -> Band:
    """Lift of a real flap over a thin one's, both sides turned by an angle (rad); NaN past the table's end."""
    return _at("effect", turned)


def more_drag(turned: float) -> Band:
    """Section drag of the half that goes down less that of the half that goes up; NaN past the table's end."""
    return _at("drag", turned)


def source(name: str = "effect") -> Source:
    """Where a table comes from."""
    row = tables("aileron.toml")[name]
    return Source(row["source"], row["place"], row["mark"])


def _at(name: str, turned: float) -> Band:
    row, angle = tables("aileron.toml")[name], abs(turned)
    at = [parse(a, "angle") for a in row["turned"]]
    if not angle <= at[-1]:
        return Band.exact(math.nan)
    return Band(*(float(np.interp(angle, at, row[end])) for end in ("likely", "low", "high")))
