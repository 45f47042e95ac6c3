"""Body dimensions from bodies.csv, and what a sitting person is held to from occupant.toml.

>>> round(bodies()["male_50"].stature, 3)
1.74
>>> rule("way_out").sense
'>='
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.files import rows
from sparwright.data.limit import Limit, limits

PERCENTILES = ("female_5", "female_50", "female_95", "male_5", "male_50", "male_95")


@dataclass(frozen=True, kw_only=True)
class Body:
    """Somebody at one percentile in every dimension, unclothed, sitting erect."""

    key: str
    stature: float = number("m", "standing height")
    sitting_height: float = number("m", "seat to the crown of the head")
    eye_height: float = number("m", "seat to the eye")
    shoulder_height: float = number("m", "seat to the bony point of the shoulder")
    thigh_thickness: float = number("m", "seat to the top of the thigh")
    buttock_knee: float = number("m", "back of the buttock to the front of the knee")
    buttock_popliteal: float = number("m", "back of the buttock to the back of the knee")
    knee_height: float = number("m", "floor to the top of the knee")
    shoulder_breadth: float = number("m", "over the shoulders' muscles")
    biacromial_breadth: float = number("m", "from one shoulder's bony point to the other's")
    hip_breadth: float = number("m", "hips, sitting")
    abdominal_depth: float = number("m", "back to the front of the belly")
    shoulder_elbow: float = number("m", "bony point of the shoulder to the elbow")
    shoulder_grip: float = number("m", "bony point of the shoulder to the middle of what the hand holds, arm straight")
    foot_length: float = number("m", "length of the foot")
    mass: float = number("kg", "mass")

    @property
    def title(self) -> str:
        """Percentile and sex in words."""
        sex, percentile = self.key.split("_")
        return f"{percentile}th percentile {sex}"


@lru_cache(maxsize=1)
def bodies() -> Mapping[str, Body]:
    """The six people by key, smallest woman first."""
    found = rows("bodies.csv")
    return MappingProxyType({key: Body(key=key, **{r["dimension"]: _si(r, key) for r in found}) for key in PERCENTILES})


@lru_cache(maxsize=1)
def dimension_sources() -> Mapping[str, Source]:
    """Where each dimension comes from."""
    return MappingProxyType({r["dimension"]: Source(r["source"], r["place"], r["mark"]) for r in rows("bodies.csv")})


def _si(row: Mapping[str, str], key: str) -> float:
    return float(row[key]) if row["dimension"] == "mass" else float(row[key]) / 1000.0


def rules() -> Mapping[str, Limit]:
    """Every row of occupant.toml by its key."""
    return limits("occupant.toml")


def rule(key: str) -> Limit:
    """The row of that key; KeyError for another."""
    return rules()[key]
