"""Elevator trim: a spring from a lug on the stick to a lever at the pilot's side, as parts and joints.

The lever is a bell-crank like the others, held by friction between the plates of its bracket.
"""

from __future__ import annotations

import numpy as np

from sparwright.base.quantity import inches
from sparwright.family.controls import Controls, Trim
from sparwright.family.model import Model
from sparwright.parts.control_bodies import bought_rod, number
from sparwright.parts.control_links import Made


def lever_of(c: Controls, trim: Trim) -> tuple[str, np.ndarray, np.ndarray, np.ndarray]:
    """(its bell-crank, (3,) pivot, (3,) hole of the spring, (3,) where it is held), the lever in the middle."""
    name, _, hole = trim.lever.partition(".")
    crank = next(k for k in c.cranks if k.name == name)
    return name, np.array(crank.pivot), np.array(crank.holes[hole]), np.array(crank.holes["grip"])


def spring_line(c: Controls, trim: Trim, hook: np.ndarray, hole: np.ndarray) -> np.ndarray:
    """(2, 3) where the spring begins and ends: beside the lug and the lever, on the sides that face each other."""
    name, _, _, _ = lever_of(c, trim)
    crank = next(k for k in c.cranks if k.name == name)
    along = (hole - hook) / np.linalg.norm(hole - hook)
    side = np.array([0.0, 1.0 if along[1] > 0 else -1.0, 0.0])
    round_ = trim.outside / 2 * np.sqrt(1 - along[1] ** 2)  # how far its flat end reaches sideways
    return np.array(
        [hook + (trim.lug.thickness / 2 + round_) * side, hole - (crank.sheet.thickness / 2 + round_) * side]
    )


def trim_parts(model: Model, c: Controls, made: Made) -> None:
    """The spring and how it is held; the lug is the stick's, the lever a bell-crank."""
    trim = c.trim
    if trim is None:
        return
    name, _, hole, _ = lever_of(c, trim)
    ends = spring_line(c, trim, np.array(trim.hook), hole)
    stock = f"spring {inches(trim.outside)}, {inches(trim.slack)} slack, hook to hook"
    spring = bought_rod(model, "TRIM-SPRING", "", "spring of the trim", ends, trim.outside, trim.mass, stock)
    made.parts.append(spring)
    made.join("bolt", (number(model, "STICK-TRIM-LUG"), spring.number), ends[0], None, "hook in the lug")
    made.join("bolt", (number(model, "CRANK", name), spring.number), ends[1], None, "hook in the lever")
