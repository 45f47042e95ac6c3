"""Special factors, end fixities, ends of cables, seams: rows of factors.toml, each with its source.

>>> highest(["fitting", "hinge"])[0]
6.67
>>> table("cable_end")["sleeve"].used
0.849
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Literal

from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.files import tables
from sparwright.data.loader import source_of

Kind = Literal["special", "fixity", "cable_end", "cable_stretch", "rivet_head", "weld"]


@dataclass(frozen=True, kw_only=True)
class Factor:
    """One row."""

    key: str
    title: str
    value: float = number("1", "as the source gives it; psi for a weld, per cent in2/lbf for a cable's stretch")
    low: float = number("1", "the worst that was measured or told; NaN where none is")
    source: Source

    @property
    def used(self) -> float:
        """The low end where there is one."""
        return self.value if math.isnan(self.low) else self.low


@lru_cache(maxsize=8)
def table(kind: Kind) -> Mapping[str, Factor]:
    """All rows of a kind by key."""
    return MappingProxyType(
        {
            k: Factor(key=k, title=r["title"], value=r["value"], low=r.get("low", math.nan), source=source_of(r))
            for k, r in tables("factors.toml")[kind].items()
        }
    )


def highest(keys: Iterable[str]) -> tuple[float, str]:
    """(factor, its key): of the special factors that apply the highest; 14 CFR 23.619 (read) multiplies with one.

    (1.0, "none") where none applies. KeyError for a key that is not on file.
    """
    found = [table("special")[k] for k in ("none", *keys)]
    worst = max(found, key=lambda f: f.value)
    return worst.value, worst.key
