"""Traces of wakes drawn by hand, for tests of what lies far behind."""

from __future__ import annotations

import numpy as np

from sparwright.air.farwake import Trace, trace_of
from sparwright.air.grid import strip_edges


def trace(ends: np.ndarray, strips: int = 60) -> Trace:
    """The trace of a wing through the points `ends`, (2, k): y rising from nought, z; `strips` per half."""
    y, z = np.asarray(ends, dtype=float)
    edges, middle = strip_edges(y, strips)
    return trace_of(np.array([edges, np.interp(edges, y, z)]), np.array([middle, np.interp(middle, y, z)]))


def widths(traces: list[Trace]) -> np.ndarray:
    """(strips,) along y, all traces: L/q = 4 Sum Gamma dy."""
    return np.concatenate([np.diff(t.edge[0]) for t in traces])
