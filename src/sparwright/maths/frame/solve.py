"""Many cases of loads on a prepared frame: first or second order, wires that go slack.

What second order promises. Each element's axial force N acts along its chord in the moved frame, the loads keep their
direction: the balance of forces holds, and the balance of moments about any point holds with N at its moved place, both
to SETTLED. Shear at an element's end moved along the element, moments and torsion that turn with it, stretch by bowing
and turns that are not small are left out: so lateral-torsional buckling of a beam and large movements are not in it.
N is one number an element: its mean where it is loaded along itself. A rigging tension given for an element is that of
the unmoved frame; what is left of it when the frame has yielded comes out. In second order the rigging tensions
stiffen the frame from the start. An element pinned at both ends and not divided does not bow: its own buckling as a
column is seen by whoever checks it, not here (three nodes between its ends and it is).
"""

from __future__ import annotations

import numpy as np

from sparwright.maths.frame.pulled import pulls, tight
from sparwright.maths.frame.record import Frame, Solved
from sparwright.maths.frame.second import Cases, settle, slacken
from sparwright.maths.frame.spread import fixed, uniform
from sparwright.maths.frame.stiff import Factor, Prepared
from sparwright.maths.frame.wires import Wires, wires


def solve(prepared: Prepared, loads: np.ndarray, second_order: bool = True, spread: np.ndarray | None = None) -> Solved:
    """Movements, forces and reactions of all cases at once.

    loads: (c, n, 6) N and N m at the nodes, in the frame's axes. spread: (c, m, 3) N/m along the elements as well, in
    the frame's axes; where it is told here the forces at the elements' ends are the true ones (a load that has been
    turned into nodal loads by `uniform` leaves its fixed-end forces out of them). A case that is past its buckling
    load, meets a mechanism or does not settle is not good, all NaN, and says why. Raises ValueError for a load of
    another shape or that is no number.
    """
    frame = prepared.frame
    load = _loads(frame, prepared, loads, spread)
    on = prepared.rigged if second_order else prepared.plain
    cases = Cases(
        np.zeros((prepared.open.size, load.shape[1])), np.zeros((len(frame.ends), load.shape[1])),
        np.zeros((int(np.sum(frame.wire)), load.shape[1]), bool), np.ones(load.shape[1], int),
        _turned_freely(prepared, load),
    )  # fmt: skip
    if on.lu is None:
        cases.why[:] = [standing(on)] * load.shape[1]
        return _out(prepared, cases, load, spread, second_order)
    ropes = wires(prepared, on)
    inner = (load - prepared.stretch_all.T @ frame.tension[:, None])[prepared.open] / prepared.scale[:, None]
    _first(prepared, on, ropes, inner, cases)
    if second_order:
        settle(prepared, on, ropes, inner, cases)
    return _out(prepared, cases, load, spread, second_order)


def standing(on: Factor) -> str:
    """Why a stiffness has no factor; empty where it has one.

    >>> standing(Factor(None, None, (3, 4), False))
    'a mechanism: nodes 3, 4 move without resistance'
    """
    if on.falls:
        return "rigged past the frame's buckling load"
    nodes = ", ".join(map(str, on.loose[:12])) + (" and more" if len(on.loose) > 12 else "")
    return f"a mechanism: nodes {nodes} move without resistance" if on.lu is None else ""


def _loads(frame: Frame, prepared: Prepared, loads: np.ndarray, spread: np.ndarray | None) -> np.ndarray:
    """(6 n, c) nodal loads with those of `spread`."""
    loads = np.asarray(loads, dtype=float)
    if not len(loads) or loads.shape[1:] != frame.held.shape or not np.all(np.isfinite(loads)):
        raise ValueError(f"loads are (cases, {len(frame.place)}, 6) numbers")
    if spread is not None:
        if spread.shape != (len(loads), len(frame.ends), 3) or not np.all(np.isfinite(spread)):
            raise ValueError(f"spread loads are ({len(loads)}, {len(frame.ends)}, 3) numbers")
        loads = loads + np.array([uniform(frame, s, prepared.parts) for s in spread])
    return np.ascontiguousarray(loads.reshape(len(loads), -1).T)


def _turned_freely(prepared: Prepared, load: np.ndarray) -> list[str]:
    """Why of each case: a moment about a direction that nothing holds. Rounding there is taken off the load."""
    why = [""] * load.shape[1]
    biggest = np.max(np.abs(load), axis=0, initial=0.0)
    for node, way in prepared.spun:
        turns = slice(6 * node + 3, 6 * node + 6)
        moment = way @ load[turns]
        load[turns] -= way[:, None] * moment
        for c in np.flatnonzero(np.abs(moment) > 1e-9 * biggest):
            why[c] = f"node {node} turns freely and carries a moment"
    return why


def _first(prepared: Prepared, on: Factor, ropes: Wires, load: np.ndarray, cases: Cases) -> None:
    """First order, with the slack wires."""
    cases.moved[:] = on.back(load)
    if ropes.which.size:
        slack = slacken(ropes, tight(prepared, ropes) + ropes.gain.T @ load, cases, np.arange(load.shape[1]))
        cases.moved[:] -= ropes.gain @ slack
    cases.pull[:] = pulls(prepared, ropes, cases.moved, cases.slack)


def _out(prepared: Prepared, cases: Cases, load: np.ndarray, spread: np.ndarray | None, second: bool) -> Solved:
    """The record; what is not good is NaN."""
    frame, count = prepared.frame, load.shape[1]
    moved = np.zeros((frame.held.size, count))
    moved[prepared.open] = cases.moved / prepared.scale[:, None]
    slack = np.zeros((len(frame.ends), count), bool)
    slack[frame.wire] = cases.slack
    good = np.array([not why for why in cases.why])
    fixed_end = None if spread is None else np.array([fixed(frame, s, prepared.parts) for s in spread])
    force = _forces(prepared, moved, cases.pull, slack, second)
    if fixed_end is not None:
        force -= fixed_end
    reaction = np.where(frame.held.ravel()[:, None], _held_by(prepared, moved, cases.pull, slack, second) - load, 0.0)
    out = [a.reshape(count, len(frame.place), 6) for a in (moved.T.copy(), reaction.T.copy())]
    pull = np.where(slack, 0.0, cases.pull).T.copy()
    for array in (*out, force, pull):
        array[~good] = np.nan
    slack = slack.T & good[:, None]
    for array in (*out, force, pull, slack, good, cases.turns):
        array.setflags(write=False)
    return Solved(out[0], force, pull, slack, out[1], good, tuple(cases.why), cases.turns)


def _forces(prepared: Prepared, moved: np.ndarray, pull: np.ndarray, slack: np.ndarray, second: bool) -> np.ndarray:
    """(c, m, 12) end forces without those of loads along the elements."""
    parts, frame = prepared.parts, prepared.frame
    at = (6 * frame.ends[:, :, None] + np.arange(6)).reshape(-1, 12)
    ends = parts.reach @ moved[at]
    force = parts.stiff @ ends
    if second:
        force += (parts.bow @ ends) * pull[:, None]
    force[:, 0] -= frame.tension[:, None]
    force[:, 6] += frame.tension[:, None]
    return np.ascontiguousarray(np.where(slack[:, None], 0.0, force).transpose(2, 0, 1))


def _held_by(prepared: Prepared, moved: np.ndarray, pull: np.ndarray, slack: np.ndarray, second: bool) -> np.ndarray:
    """(6 n, c) what the elements take up at the nodes."""
    parts, frame = prepared.parts, prepared.frame
    lost = frame.tension[:, None] + parts.axial[:, None] * (prepared.stretch_all @ moved)
    tension = np.where(slack, frame.tension[:, None] - lost, frame.tension[:, None])
    taken = prepared.stiff_all @ moved + prepared.stretch_all.T @ tension
    if second:
        taken += prepared.rows_all.T @ ((parts.weight[:, None] * pull[parts.of]) * (prepared.rows_all @ moved))
    return np.asarray(taken)
