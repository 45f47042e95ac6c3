"""Which wires go slack: exactly, for many cases, with the stiffness factorised once.

Symbols: b a wire's stretch out of the movements times the root of k = EA/L, G = K^-1 B (K with all wires pulling),
N0 forces of the wires over the root of k as if each could also push, s >= 0 how much slack a wire has times that root,
M = I - B^T G. Then N = N0 + M s with N >= 0, s >= 0 and N s = 0 for each wire: a linear complementarity problem with M
symmetric and not negative, which has one N where the frame stands at all. K less the slack wires, inverted (Woodbury):
K^-1 + G_S M_SS^-1 G_S^T. M's smallest value is what share of a wire's stiffness is held by the rest of the frame.

Solved by flipping all that are wrong at once; where their number stops falling, the last one that is wrong alone
(Murty's rule, which ends for such M); where a set of wires cannot be slack without a mechanism, by least squares'
active set, one wire at a time (Lawson and Hanson), which ends by itself.
Sources: judice-pires-1994, murty-1974, lawson-hanson-1974 (memory, high).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.maths.frame.stiff import Factor, Prepared

NOUGHT = 1e-11  # of the largest force: less than that is none
SINGULAR = 1e-10  # a smaller share than this and nothing but the wires holds
PATIENCE = 6  # flips of all at once that may not lessen the number of wrong wires


@dataclass(frozen=True)
class Wires:
    """w wires of a prepared frame; empty arrays where there are none."""

    which: np.ndarray  # (w,) elements
    root: np.ndarray  # (w,) root of k
    pulling: np.ndarray  # (u, w) B
    gain: np.ndarray  # (u, w) G
    left: np.ndarray  # (w, w) M

    def inverse(self, slack: np.ndarray) -> np.ndarray:
        """(w, w) M_SS^-1 of the slack wires (w,) bool, nought elsewhere. LinAlgError where the frame does not stand."""
        at = np.ix_(slack, slack)
        out = np.zeros(self.left.shape)
        out[at] = _inverted(self.left[at])
        return out


def wires(prepared: Prepared, on: Factor) -> Wires:
    """The wires of a frame on one of its factors."""
    which = np.flatnonzero(prepared.frame.wire)
    root = np.sqrt(prepared.parts.axial[which])
    pulling = prepared.stretch[which].T.toarray() * root
    gain = on.back(pulling) if which.size else np.zeros((prepared.open.size, 0))
    left = np.eye(which.size) - pulling.T @ gain
    return Wires(which, root, pulling, gain, (left + left.T) / 2)


def slackened(left: np.ndarray, force: np.ndarray, first: np.ndarray | None = None) -> np.ndarray:
    """Slack s (w,) of wires. left: (w, w) M. force: (w,) N0. first: (w,) bool, a guess of which are slack.

    Raises LinAlgError where no set of pulling wires can hold the load.

    >>> slackened(np.array([[0.5, -0.25], [-0.25, 0.5]]), np.array([-2.0, 5.0])).tolist()
    [4.0, 0.0]
    """
    if not np.any(first) and np.all(force >= 0):
        return np.zeros(force.size)
    try:
        found = _flipped(left, force, np.zeros(force.size, bool) if first is None else first.copy())
    except np.linalg.LinAlgError:
        found = None
    return _one_by_one(left, force) if found is None else found


def slackened_together(left: np.ndarray, force: np.ndarray, first: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """`slackened` of c cases at once: (s (w, c), known (c,)). force: (w, c). first: (w, c) bool, a guess.

    All wrong wires are flipped, PATIENCE times; the cases that are not right by then go one by one. What is not known
    is nought: no set of pulling wires holds the load.

    >>> slackened_together(np.array([[0.5, -0.25], [-0.25, 0.5]]), np.array([[-2.0], [5.0]]), np.zeros((2, 1), bool))
    (array([[4.],
           [0.]]), array([ True]))
    """
    s, slack, known = np.zeros(force.shape), first.copy(), np.ones(force.shape[1], bool)
    todo = np.arange(force.shape[1])
    for _ in range(PATIENCE):
        s[:, todo], wrong = _wrong_together(left, force[:, todo], slack[:, todo])
        off = np.any(wrong, axis=0)
        slack[:, todo] ^= wrong
        todo = todo[off]
        if not todo.size:
            break
    for c in todo.tolist():
        try:
            s[:, c] = slackened(left, force[:, c], first[:, c])
            _inverted(left[np.ix_(s[:, c] > 0, s[:, c] > 0)])
        except np.linalg.LinAlgError:
            s[:, c], known[c] = 0.0, False
    return np.maximum(s, 0.0), known


def _wrong_together(left: np.ndarray, force: np.ndarray, slack: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(s (w, k), which are wrong (w, k)) of a set of slack wires each; every wire of a mechanism's set is wrong."""
    s = np.zeros(force.shape)
    sets, of = np.unique(slack, axis=1, return_inverse=True)
    lost = np.zeros(force.shape[1], bool)
    for i, one in enumerate(sets.T):
        mine, at = np.flatnonzero(of.ravel() == i), np.flatnonzero(one)
        if at.size:
            try:
                s[np.ix_(at, mine)] = -_inverted(left[np.ix_(at, at)]) @ force[np.ix_(at, mine)]
            except np.linalg.LinAlgError:
                lost[mine] = True
    pull, least = force + left @ s, NOUGHT * np.max(np.abs(force), axis=0, initial=0.0)
    return s, np.where(lost, slack, np.where(slack, s < -least, pull < -least))


def _wrong(left: np.ndarray, force: np.ndarray, slack: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(s, which are wrong) of one set of slack wires."""
    s = np.zeros(force.size)
    at = np.flatnonzero(slack)
    s[at] = -_inverted(left[np.ix_(at, at)]) @ force[at]
    pull = force + left @ s
    least = NOUGHT * np.max(np.abs(force))
    return s, np.where(slack, s < -least, pull < -least)


def _flipped(left: np.ndarray, force: np.ndarray, slack: np.ndarray) -> np.ndarray | None:
    """Flip all wrong ones, or by Murty's rule the last of them, until none is wrong; None where it does not end."""
    fewest, patience = force.size + 1, PATIENCE
    for _ in range(50 + 10 * force.size):
        s, wrong = _wrong(left, force, slack)
        count = int(np.sum(wrong))
        if not count:
            return np.asarray(np.maximum(s, 0.0))
        patience = PATIENCE if count < fewest else patience - 1
        fewest = min(fewest, count)
        if patience > 0:
            slack = slack ^ wrong
        else:
            slack[np.flatnonzero(wrong)[-1]] ^= True
    return None


def _one_by_one(left: np.ndarray, force: np.ndarray) -> np.ndarray:
    """The same, one wire at a time, s never negative on the way. Raises LinAlgError where slack grows without end."""
    s, slack = np.zeros(force.size), np.zeros(force.size, bool)
    least = NOUGHT * np.max(np.abs(force))
    for _ in range(20 * force.size + 20):
        pull = force + left @ s
        candidate = np.where(slack, 0.0, pull)
        if np.min(candidate, initial=0.0) >= -least:
            return s
        slack[np.argmin(candidate)] = True
        s, slack = _inwards(left, force, s, slack)
    raise np.linalg.LinAlgError("wires do not settle")


def _inwards(left: np.ndarray, force: np.ndarray, s: np.ndarray, slack: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Least energy over the slack set without a negative s, dropping wires on the way."""
    for _ in range(force.size + 1):
        at = np.flatnonzero(slack)
        step, bounded = _downhill(left[np.ix_(at, at)], (force + left @ s)[at])
        falling = step < 0
        room = np.where(falling, -s[at] / np.where(falling, step, -1.0), np.inf)
        far = min(float(np.min(room, initial=np.inf)), 1.0 if bounded else np.inf)
        if np.isinf(far):
            raise np.linalg.LinAlgError("nothing holds the load")
        s = s.copy()
        s[at] += far * step
        if bounded and far >= 1.0:
            return s, slack
        gone = at[room <= far]
        s[gone], slack = 0.0, slack.copy()
        slack[gone] = False
    raise np.linalg.LinAlgError("wires do not settle")


def _downhill(m: np.ndarray, slope: np.ndarray) -> tuple[np.ndarray, bool]:
    """(step, True) to the least of 1/2 s M s + slope s, or (direction, False) along which it falls without end."""
    value, vector = np.linalg.eigh(m)
    flat = value <= SINGULAR
    along = vector.T @ slope
    if np.any(np.abs(along[flat]) > 1e-8 * np.max(np.abs(slope))):
        return -vector[:, flat] @ along[flat], False
    safe = np.where(flat, 1.0, value)
    return -vector @ np.where(flat, 0.0, along / safe), True


def _inverted(m: np.ndarray) -> np.ndarray:
    """The inverse; LinAlgError where a wire of the set alone kept the frame from moving."""
    if not m.size:
        return m
    inverse = np.linalg.inv(m)
    if np.max(np.diag(inverse)) > 1 / SINGULAR or np.min(np.diag(inverse)) <= 0:
        raise np.linalg.LinAlgError("a mechanism")
    return np.asarray(inverse)
