"""The forces of air/sideways.py panel by panel: the same equations, kept where each force acts.

There the small odd motions and hinges are summed to moments; here the force of a unit of each stays on its panel, for
what it bends and twists. The leg between two strips is parted between them as each strip's own circulation has it; the
two legs of a panel are told as a force at its control point with the couple they make about it. In the plane of
symmetry the two halves' legs cancel; each half keeps its own, or the strip next to it would have one leg only.
Symbols, axes, range and sources: air/sideways.py, air/node.py.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from sparwright.air.mesh import turned_by
from sparwright.air.sideways import at_edges, odd_flows
from sparwright.air.turned import CompanyState
from sparwright.air.upright import Upright


@dataclass(frozen=True)
class OddPanels:
    """By motion ("sideslip", "roll", "yaw"), hinged surface and "rudder": what a unit does on the right half's panels.

    On the left half it is the same with the other sign. Body axes; over q, m2.
    """

    circulation: Mapping[str, np.ndarray] = field(default_factory=dict)  # (n,) m
    bound: Mapping[str, np.ndarray] = field(default_factory=dict)  # (3, n) on bound vortices
    legs: Mapping[str, np.ndarray] = field(default_factory=dict)  # (3, n) on the legs, at the control points
    couples: Mapping[str, np.ndarray] = field(default_factory=dict)  # (3, n) m3, of the legs about the control points
    fin: Mapping[str, np.ndarray] = field(default_factory=dict)  # (k,) m, circulation of the fin's panels


def odd_panels(state: CompanyState, centre: tuple[float, float], fin: Upright | None,
               slopes: np.ndarray | None = None, spread: bool = True) -> OddPanels:  # fmt: skip
    """Forces of every motion and hinge about a state; arguments as of air/sideways.py."""
    about = turned_by(np.array([centre[0], 0.0, centre[1]]), state.alpha)[:, None]
    rows: dict[str, dict[str, np.ndarray]] = {k: {} for k in ("circulation", "bound", "legs", "couples", "fin")}
    for name, g, f, flow in odd_flows(state, about, fin, slopes, spread):
        rows["circulation"][name], rows["fin"][name] = g, f
        for kind, values in zip(("bound", "legs", "couples"), _forces(state, g, flow), strict=True):
            rows[kind][name] = turned_by(values, -state.alpha)
    return OddPanels(**rows)


def _forces(state: CompanyState, g: np.ndarray, flow: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(3, n) each, over q in stream axes: on the bound vortices, on the legs, and the couple of the legs."""
    mesh, n = state.company.mesh, state.company.mesh.panels
    d, v0, v1 = turned_by(mesh.segment, state.alpha), state.values[1:4], flow[:, n : 2 * n]
    bound = g * np.cross(v0, d, axis=0) + state.circulation * np.cross(v1, d, axis=0)
    old, new, at = mesh.carried(state.circulation), mesh.carried(g), turned_by(mesh.control, state.alpha)
    legs, couples = np.zeros((3, n)), np.zeros((3, n))
    for s, here, corner in zip(mesh.surfaces, mesh.blocks(), mesh.edges(), strict=True):
        corners, shape = turned_by(corner, state.alpha), (mesh.chordwise, s.chord.size)
        lead, middle = np.diff(corners, axis=1), (corners[:, 1:] + corners[:, :-1]) / 2
        still = at_edges(state.values[7][here], s, mesh.chordwise, True)
        moved = at_edges(flow[1, :n][here], s, mesh.chordwise, False)
        for sign, edge in ((1.0, slice(1, None)), (-1.0, slice(None, -1))):
            pull = sign * (new[here].reshape(shape) * still[:, edge] + old[here].reshape(shape) * moved[:, edge])
            force = np.array([pull * lead[2][:, edge], 0 * pull, -pull * lead[0][:, edge]]).reshape(3, -1)
            legs[:, here] += force
            couples[:, here] += np.cross(middle[:, :, edge].reshape(3, -1) - at[:, here], force, axis=0)
    return 2 * bound, 2 * legs, 2 * couples
