"""Local crippling of thin legs in compression: formed sections, flanges of ribs, angles.

Symbols: t thickness, A area, g number of cuts and flanges of the section, b' = (a + b)/2 mean leg of an angle,
C_e by how its edges are held.

    Gerard, angles and tubes:     F_cc/F_cy = 0.56 [(g t^2/A)(E/F_cy)^(1/2)]^0.85      no more than 0.7 (angle), 0.8
    Gerard, T, cruciform, H:      F_cc/F_cy = 0.67 [(g t^2/A)(E/F_cy)^(1/2)]^0.40      no more than 0.8
    Gerard, Z, J, channel:        F_cc/F_cy = 3.2 [(t^2/A)(E/F_cy)^(1/3)]^0.75         no more than 0.9
    Needham, one angle:           F_cc/sqrt(F_cy E) = C_e/(b'/t)^0.75                  no more than F_cy
        C_e 0.316 both edges free, 0.342 one, 0.366 none

Range: g t^2/A and t^2/A such that F_cc/F_cy is above 0.1; b'/t from 4 to 100; NaN outside. A solid bar of a
cap does not cripple: it yields (common practice). Sources: gerard-1958, needham-1954, both by way of bruhn C7 (memory,
high).
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np

from sparwright.base.check import Step
from sparwright.strength.members.web import Many, margin

Shape = Literal["angle", "tube", "tee", "channel"]
GERARD = {"angle": (0.56, 0.85, 0.7), "tube": (0.56, 0.85, 0.8), "tee": (0.67, 0.40, 0.8), "channel": (3.2, 0.75, 0.9)}
NEEDHAM = {"both free": 0.316, "one free": 0.342, "none free": 0.366}
LEAST = 0.1  # F_cc/F_cy under which nobody tested


def gerard(shape: Shape, thickness: Many, area: Many, parts: int, youngs: float, yielding: float) -> np.ndarray:
    """F_cc, Pa. parts: g, cuts plus flanges (angle 2, tee 3); not asked for with Z, J and channels.

    >>> round(float(gerard("channel", 0.025, 0.025 * 2.0, 0, 9.9e6, 34e3)))   # psi, legs 0.5, back 1
    16802
    """
    c, power, most = GERARD[shape]
    lean = np.asarray(thickness, float) ** 2 / np.asarray(area)
    held = lean * (youngs / yielding) ** (1 / 3) if shape == "channel" else parts * lean * math.sqrt(youngs / yielding)
    part = np.minimum(c * held**power, most)
    return np.asarray(np.where(part >= LEAST, part * yielding, np.nan))


def needham(
    first: Many, second: Many, thickness: Many, youngs: float, yielding: float, edges: str = "both free"
) -> np.ndarray:
    """F_cc of an angle with legs a and b along their middle lines, m; Pa, NaN outside b'/t of 4 to 100."""
    lean = (np.asarray(first, float) + second) / 2 / thickness
    found = np.minimum(NEEDHAM[edges] * math.sqrt(yielding * youngs) / lean**0.75, yielding)
    return np.asarray(np.where((lean >= 4) & (lean <= 100), found, np.nan))


def together(stresses: Many, areas: Many) -> np.ndarray:
    """F_cc of angles that make one section: sum F_cc A/sum A, along the first axis."""
    a = np.asarray(areas, float)
    return np.asarray((np.asarray(stresses) * a).sum(axis=0) / a.sum(axis=0))


def use(pressed: Many, crippling: Many) -> np.ndarray:
    """Use by a compressive stress at ultimate load, Pa; tension (negative) uses nothing."""
    return np.asarray(np.maximum(pressed, 0.0) / np.asarray(crippling))


def working(
    pressed: float,
    first: float,
    second: float,
    thickness: float,
    youngs: float,
    yielding: float,
    edges: str = "both free",
) -> tuple[Step, ...]:
    """One angle (a rib's flange with the web beside it) under a compressive stress, Pa, by Needham."""
    f = float(needham(first, second, thickness, youngs, yielding, edges))
    given = (
        ("a", first, "m"),
        ("b", second, "m"),
        ("t", thickness, "m"),
        ("E", youngs, "Pa"),
        ("F_cy", yielding, "Pa"),
        ("C_e", NEEDHAM[edges], "1"),
    )
    return (
        Step("crippling stress", "F_cc = C_e sqrt(F_cy E)/(b'/t)^0.75", given, f, "Pa", "needham-1954 by way of bruhn"),
        *margin("crippling", float(use(np.asarray(pressed), np.asarray(f)))),
    )
