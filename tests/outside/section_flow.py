"""Sections worked out once for all tests of the section flow; not a test itself."""

from __future__ import annotations

import csv
import math
from functools import cache
from pathlib import Path

import numpy as np

from sparwright.air.flow.polar import SMOOTH, Polar, Ready, Surface, polar, prepared
from sparwright.family.model import Section

PUBLISHED = Path(__file__).parent / "published"
GRIT = Surface("grit at 0.05 chord", upper=0.05, lower=0.05)


@cache
def ready(naca: str) -> Ready:
    """The panels of a NACA section."""
    return prepared(Section(name=naca, naca=naca))


@cache
def worked(naca: str, reynolds: float, surface: Surface = SMOOTH, last: int = 20) -> Polar:
    """Its polar from -4 deg up to `last`."""
    return polar(ready(naca), reynolds, surface, tuple(math.radians(a) for a in range(-4, last + 1)))


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a published table."""
    lines = (PUBLISHED / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(x for x in lines if not x.startswith("#")))


def slope(p: Polar, low: float, high: float) -> float:
    """Lift slope per deg between two angles, deg, by least squares."""
    alpha, lift = np.degrees(p.column("alpha")), p.column("lift")
    use = (alpha >= low) & (alpha <= high) & np.isfinite(lift)
    return float(np.polyfit(alpha[use], lift[use], 1)[0])
