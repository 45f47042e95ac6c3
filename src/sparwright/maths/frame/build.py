"""Elements of a frame: their axes, stiffness, releases, rigid arms, and the rows that make their geometric stiffness.

Symbols: L length, EI bending stiffness, Phi = 12 EI/(G As L^2) of bending with shear, K an element's stiffness in its
own axes after its releases, X its end movements (12) out of its nodes' (12), E the movements of its released ends out
of those of its ends (condensation), psi turn of the chord, a = (phi1 - phi2)/2 and b = (phi1 + phi2)/2 turns of the
ends against the chord. Bending in one plane holds 1/2 (4 EI/L a^2 + 12 EI/(L (1 + Phi)) b^2); an axial force N works
on the way N L/2 (psi^2 + a^2/3 + b^2/(5 (1 + Phi)^2)), which is the consistent geometric stiffness (with shear N goes
along the whole slope of the axis, Engesser's way). A released end follows by the elastic stiffness, u_r = -K_rr^-1
K_rs u_s, so an element pinned at both ends is a string: N L/2 psi^2 and nothing else. An arm that turns with its node
by t moves its end by t x a + t x (t x a)/2; the second term times N is the arm's geometric stiffness.
Source: przemieniecki-1968, ch. 5 and 15 (memory, high); with shear and arms: worked out here, proved in the tests.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.maths.frame.record import Frame

TURNS = [3, 4, 5, 9, 10, 11]


@dataclass(frozen=True)
class Elements:
    """m elements ready to be put together. Rows of geometric stiffness: g of them, each weight N row row^T."""

    length: np.ndarray  # (m,) m
    axes: np.ndarray  # (m, 3, 3) unit vectors x, y, z in the frame's axes, as rows
    axial: np.ndarray  # (m,) N/m, EA/L, nought where released along x
    stiff: np.ndarray  # (m, 12, 12) in own axes, released
    follow: np.ndarray  # (m, 12, 12) E: all end movements out of those of the ends' places
    reach: np.ndarray  # (m, 12, 12) X
    bow: np.ndarray  # (m, 12, 12) m: geometric stiffness for N = 1, own axes, released, without arms
    stretch: np.ndarray  # (m, 12) dL = stretch . movements of its nodes
    rows: np.ndarray  # (g, 12) on movements of its nodes
    weight: np.ndarray  # (g,) m
    of: np.ndarray  # (g,) which element

    @property
    def whole(self) -> np.ndarray:
        """(m, 12, 12) stiffness on the movements of the nodes."""
        return np.asarray(self.reach.transpose(0, 2, 1) @ self.stiff @ self.reach)


def elements(frame: Frame) -> Elements:
    """The elements of a frame. Raises ValueError for one without length, with `up` along it, or tight and released."""
    length, axes = _axes(frame)
    free = frame.free.copy()
    free[:, TURNS] |= frame.wire[:, None]
    stiff, shear = _stiffness(frame, length, _bending(frame, length, free))
    if np.any(frame.wire & (free[:, 0] | free[:, 6])):
        raise ValueError("a wire released along its length is none")
    if np.any((frame.tension != 0) & (free[:, 0] | free[:, 6])):
        raise ValueError("an element released along its length cannot be rigged tight")
    stiff, follow = released(stiff, free)
    reach = _reach(frame, axes)
    rows, weight = _rows(length, shear)
    rows = rows @ follow
    bow = np.einsum("mg,mgi,mgj->mij", weight, rows, rows)
    axial = np.where(free[:, 0] | free[:, 6], 0.0, frame.youngs * frame.area / length)
    pulled = np.zeros((length.size, 1, 12))
    pulled[:, 0, 0], pulled[:, 0, 6] = -1.0, 1.0
    bent, of = rows @ reach, np.repeat(np.arange(length.size), rows.shape[1])
    arms, arm_weight, arm_of = _arm_rows(frame, axes)
    flat, heavy = np.concatenate([bent.reshape(-1, 12), arms]), np.concatenate([weight.ravel(), arm_weight])
    there = np.any(np.abs(flat) * np.abs(heavy)[:, None] ** 0.5 > 1e-13, axis=1)
    return Elements(
        length, axes, axial, stiff, follow, reach, bow, (pulled @ reach)[:, 0],
        flat[there], heavy[there], np.concatenate([of, arm_of])[there],
    )  # fmt: skip


def _axes(frame: Frame) -> tuple[np.ndarray, np.ndarray]:
    """Lengths (m,) and axes (m, 3, 3) between the ends of the arms."""
    at = frame.place[frame.ends] + frame.arm
    x = at[:, 1] - at[:, 0]
    length = np.linalg.norm(x, axis=1)
    if np.any(length <= 0):
        raise ValueError(f"element {int(np.argmin(length))} has no length")
    x = x / length[:, None]
    y = np.cross(frame.up, x)
    across = np.linalg.norm(y, axis=1)
    flat = across <= 1e-6 * np.linalg.norm(frame.up, axis=1)
    if np.any(flat):
        raise ValueError(f"element {int(np.argmax(flat))}: `up` lies along it")
    y = y / across[:, None]
    return length, np.stack([x, y, np.cross(x, y)], axis=1)


def _bending(frame: Frame, length: np.ndarray, free: np.ndarray) -> np.ndarray:
    """EI (m, 2) of bending in x-y and in x-z.

    Of a string, whose section does not bend and which is pinned at both ends, that of a rod of a hundredth of its
    length: its ends follow its chord whatever it is, and all of it goes with the releases.
    """
    ei = frame.youngs[:, None] * np.stack([frame.about_z, frame.about_y], axis=1)
    pinned = free[:, [[5, 11], [4, 10]]].all(axis=2)
    rod = (frame.youngs * frame.area * (length / 100) ** 2)[:, None]
    return np.asarray(np.where((ei == 0) & pinned, rod, ei))


def _stiffness(frame: Frame, length: np.ndarray, ei: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Stiffness (m, 12, 12) without releases, and Phi (m, 2) of bending in x-y and in x-z."""
    k = np.zeros((length.size, 12, 12))
    for first, value in ((0, frame.youngs * frame.area), (3, frame.shear * frame.twist)):
        for i, j, sign in ((0, 0, 1), (6, 6, 1), (0, 6, -1), (6, 0, -1)):
            k[:, first + i, first + j] = sign * value / length
    stiff = np.isinf(frame.shear_area)
    phi = (
        12
        * ei
        / np.where(stiff, 1.0, frame.shear[:, None] * np.where(stiff, 1.0, frame.shear_area) * length[:, None] ** 2)
    )
    phi = np.where(stiff, 0.0, phi)
    rows, _ = _rows(length, phi)
    for plane in (0, 1):
        a, b = rows[:, 3 * plane + 1], rows[:, 3 * plane + 2]
        bend, shear = 4 * ei[:, plane] / length, 12 * ei[:, plane] / (length * (1 + phi[:, plane]))
        k += bend[:, None, None] * a[:, :, None] * a[:, None] + shear[:, None, None] * b[:, :, None] * b[:, None]
    return k, phi


def _rows(length: np.ndarray, phi: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Rows (m, 6, 12) psi, a, b of both planes on the end movements, and their weights (m, 6) in the work of N."""
    rows, weight = np.zeros((length.size, 6, 12)), np.zeros((length.size, 6))
    for plane, (side, turn, sign) in enumerate(((1, 5, 1.0), (2, 4, -1.0))):
        psi, a, b = 3 * plane, 3 * plane + 1, 3 * plane + 2
        for at, way in ((side, -1), (side + 6, 1)):
            rows[:, psi, at] = way * sign / length
            rows[:, b, at] = -way * sign / length
        rows[:, a, turn], rows[:, a, turn + 6] = 0.5, -0.5
        rows[:, b, turn], rows[:, b, turn + 6] = 0.5, 0.5
        weight[:, psi], weight[:, a] = length, length / 3
        weight[:, b] = length / (5 * (1 + phi[:, plane]) ** 2)
    return rows, weight


def released(stiff: np.ndarray, free: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Stiffness with released end forces nought, and how the released movements follow the others.

    One after the other: u_r = -K_r. u/K_rr. Where nothing is left to hold it (K_rr nought) it stays.
    stiff: (m, 12, 12). free: (m, 12) bool. Gives both (m, 12, 12).
    """
    stiff, follow = stiff.copy(), np.tile(np.eye(12), (len(stiff), 1, 1))
    biggest = np.einsum("mii->mi", stiff).copy()
    for r in range(12):
        which = np.flatnonzero(free[:, r])
        if not which.size:
            continue
        k = stiff[which]
        pivot = k[:, r, r]
        held = pivot > 1e-12 * biggest[which, r]
        step = np.tile(np.eye(12), (which.size, 1, 1))
        step[:, r] = -k[:, r] * np.where(held, 1 / np.where(held, pivot, 1.0), 0.0)[:, None]
        step[:, r, r] = 0.0
        stiff[which] = step.transpose(0, 2, 1) @ k @ step
        stiff[which, r], stiff[which, :, r] = 0.0, 0.0
        follow[which] = follow[which] @ step
    return stiff, follow


def _reach(frame: Frame, axes: np.ndarray) -> np.ndarray:
    """X (m, 12, 12): an end moves by u + turn x arm, in the element's axes."""
    x = np.zeros((len(axes), 12, 12))
    for end in (0, 1):
        i = 6 * end
        x[:, i : i + 3, i : i + 3] = x[:, i + 3 : i + 6, i + 3 : i + 6] = axes
        x[:, i : i + 3, i + 3 : i + 6] = -axes @ cross(frame.arm[:, end])
    return x


def cross(a: np.ndarray) -> np.ndarray:
    """(..., 3, 3) that makes a x b out of b."""
    z = np.zeros(a.shape[:-1])
    x, y, w = a[..., 0], a[..., 1], a[..., 2]
    rows = [np.stack(r, axis=-1) for r in ((z, -w, y), (w, z, -x), (-y, x, z))]
    return np.stack(rows, axis=-2)


def _arm_rows(frame: Frame, axes: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Rows (g, 12), weights (g,) and elements (g,) of the arms: N ((x a^T + a x^T)/2 - x.a I), minus at end 1."""
    rows, weights, of = [np.zeros((0, 12))], [np.zeros(0)], [np.zeros(0, dtype=int)]
    for end in (0, 1):
        which = np.flatnonzero(np.any(frame.arm[:, end] != 0, axis=1))
        if not which.size:
            continue
        x, a = axes[which, 0], frame.arm[which, end]
        both = x[:, :, None] * a[:, None]
        form = (both + both.transpose(0, 2, 1)) / 2 - np.sum(x * a, axis=1)[:, None, None] * np.eye(3)
        value, vector = np.linalg.eigh((2 * end - 1) * form)
        row = np.zeros((which.size, 3, 12))
        row[:, :, 6 * end + 3 : 6 * end + 6] = vector.transpose(0, 2, 1)
        rows.append(row.reshape(-1, 12))
        weights.append(value.ravel())
        of.append(np.repeat(which, 3))
    return np.concatenate(rows), np.concatenate(weights), np.concatenate(of)
