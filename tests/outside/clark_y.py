"""The Clark Y as a section, for the wings measured with it; not a test itself.

Sources: uiuc-coordinates (61 smooth stations), clark-1922 (17 printed stations).
"""

from __future__ import annotations

import csv
import math
from functools import cache
from pathlib import Path

import numpy as np

from sparwright.family.model import Section

PUBLISHED = Path(__file__).parent / "published"
FLAT = math.atan2(0.0152893 - 0.0042718, 0.3)  # rad, 2.10 deg: the flat's angle to the chord, stations 0.6 and 0.9


def _columns(name: str) -> np.ndarray:
    """Station, upper and lower side of one table, (3, k)."""
    lines = [x for x in (PUBLISHED / name).read_text(encoding="utf-8").splitlines() if not x.startswith("#")]
    return np.array(list(csv.reader(lines))[1:], dtype=float).T


def _section(name: str, x: np.ndarray, upper: np.ndarray, lower: np.ndarray) -> Section:
    """Upper tail to nose to lower tail."""
    around = np.hstack([np.array([x, upper])[:, ::-1], np.array([x, lower])[:, 1:]])
    return Section(name=name, points=tuple((float(a), float(b)) for a, b in around.T))


@cache
def clark_y() -> Section:
    """The smooth table, its chord from nose to tail: angle of the chord = angle of the flat + `FLAT`."""
    return _section("Clark Y", *_columns("uiuc-coordinates-clark-y.csv"))


@cache
def clark_y_printed() -> Section:
    """The printed stations turned so that nose and middle of the tail lie on y = 0, a chord long."""
    x, upper, lower = _columns("clark-1922.csv") / 100
    rise = upper[0] - (upper[-1] + lower[-1]) / 2
    size, turn = math.hypot(1, rise), math.atan(rise)

    def turned(y: np.ndarray) -> np.ndarray:
        over = y - upper[0]
        return np.array([x * math.cos(turn) - over * math.sin(turn), x * math.sin(turn) + over * math.cos(turn)]) / size

    around = np.hstack([turned(upper)[:, ::-1], turned(lower)[:, 1:]])
    return Section(name="Clark Y as printed", points=tuple((float(a), float(b)) for a, b in around.T))
