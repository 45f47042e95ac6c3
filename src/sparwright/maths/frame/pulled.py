"""Axial forces of many cases out of their movements, and what their geometric stiffness pushes."""

from __future__ import annotations

import numpy as np

from sparwright.maths.frame.stiff import Prepared
from sparwright.maths.frame.wires import Wires


def pulls(prepared: Prepared, wires: Wires, moved: np.ndarray, slack: np.ndarray) -> np.ndarray:
    """(m, c) axial forces out of scaled movements (u, c); nought in slack wires (w, c)."""
    pull = prepared.stretch @ moved
    pull *= prepared.parts.axial[:, None]
    pull += prepared.frame.tension[:, None]
    pull[wires.which] = np.where(slack, 0.0, np.maximum(pull[wires.which], 0.0))
    return np.asarray(pull)


def added(prepared: Prepared, pull: np.ndarray, moved: np.ndarray) -> np.ndarray:
    """(u, c) Kg(pull) moved; pull (m, c), moved (u, c)."""
    turned = prepared.rows @ moved
    turned *= prepared.parts.weight[:, None] * pull[prepared.parts.of]
    return np.asarray(prepared.rows_turned @ turned)


def tight(prepared: Prepared, wires: Wires) -> np.ndarray:
    """(w, 1) rigging tension of the wires over their roots."""
    return np.asarray(prepared.frame.tension[wires.which, None] / wires.root[:, None])


def dots(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """(k,) products column by column."""
    return np.asarray(np.einsum("uk,uk->k", a, b))
