"""Plain wings for the tests of the air: rectangles, in flat plates or with a mean line."""

from __future__ import annotations

import numpy as np

from sparwright.shape.planform import Planform

FLAT = {"flat": np.array([[0.0, 1.0], [0.0, 0.0]])}


def rectangle(name: str, aspect: float, x: float = 0.0, z: float = 0.0, chord: float = 1.0, *, section: str = "flat",
              hinge: float = 1.0, is_tail: bool = False) -> Planform:  # fmt: skip
    """A flat rectangular wing, leading edge at station x and waterline z, hinged over its whole span."""
    half = aspect * chord / 2
    edge = np.array([[x, x], [0.0, half], [z, z]])
    return Planform(
        name, edge, np.full(2, chord), np.zeros(2), (section, section), 0.0, hinge, 0.0, half, is_tail
    )  # fmt: skip


def four_digit_line(camber: float, place: float) -> np.ndarray:
    """Mean line of a NACA four-digit section as TR 460 prints it, (2, 401)."""
    x = (1 - np.cos(np.linspace(0, np.pi, 401))) / 2
    ahead = camber / place**2 * (2 * place * x - x * x)
    behind = camber / (1 - place) ** 2 * (1 - 2 * place + 2 * place * x - x * x)
    return np.array([x, np.where(x < place, ahead, behind)])


def five_digit_line() -> np.ndarray:
    """Mean line 230 as TR 537 prints it, m = 0.2025, k1 = 15.957, (2, 401)."""
    x = (1 - np.cos(np.linspace(0, np.pi, 401))) / 2
    m, k1 = 0.2025, 15.957
    return np.array([x, k1 / 6 * np.where(x < m, x**3 - 3 * m * x * x + m * m * (3 - m) * x, m**3 * (1 - x))])
