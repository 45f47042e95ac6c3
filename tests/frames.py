"""Frames for the tests of the frame solver: lines of elements, portals, and the invented fuselage with braced wings."""

from __future__ import annotations

from typing import Any

import numpy as np

from sparwright.maths.frame.record import Frame

ALL, PIN, BALL = (0, 1, 2, 3, 4, 5), (0, 1, 2, 3), (0, 1, 2)
FLAT = (1, 3, 5)  # what a frame in the x-z plane does not do


def frame(place: Any, ends: Any, held: dict[int, tuple[int, ...]], **values: Any) -> Frame:
    """A frame out of places, ends and held movements; every other field 1 or as told, for all elements or each."""
    place, ends = np.array(place, float), np.array(ends, int)
    m = len(ends)
    kept = np.zeros((len(place), 6), bool)
    for node, which in held.items():
        kept[node, list(which)] = True
    x = place[ends[:, 1]] - place[ends[:, 0]]
    usual = {
        "up": np.where(np.hypot(x[:, 0], x[:, 1])[:, None] < 1e-9 * np.abs(x).max(), [[1.0, 0, 0]], [[0.0, 0, 1]]),
        "area": 1.0, "about_y": 1.0, "about_z": 1.0, "twist": 1.0, "youngs": 1.0, "shear": 1.0,
        "shear_area": np.inf, "arm": 0.0, "free": False, "wire": False, "tension": 0.0,
    }  # fmt: skip
    tail = {"up": (3,), "shear_area": (2,), "arm": (2, 3), "free": (12,)}
    kinds = {"free": bool, "wire": bool}
    full = {
        k: np.array(np.broadcast_to(np.array(values.get(k, v), kinds.get(k, float)), (m, *tail.get(k, ()))))
        for k, v in usual.items()
    }
    return Frame(place=place, ends=ends, held=kept, **full)


def line(length: float, count: int, held: dict[int, tuple[int, ...]], way: Any = (1, 0, 0), **values: Any) -> Frame:
    """`count` equal elements from the origin along `way`."""
    place = np.linspace(0, length, count + 1)[:, None] * np.array(way, float)
    return frame(place, [(i, i + 1) for i in range(count)], held, **values)


def flat(count: int, held: dict[int, tuple[int, ...]]) -> dict[int, tuple[int, ...]]:
    """`held` and everything out of the x-z plane, for `count` nodes."""
    return {n: tuple(sorted({*FLAT, *held.get(n, ())})) for n in range(count)}


def point(f: Frame, *loads: tuple[int, int, float]) -> np.ndarray:
    """(1, n, 6) loads at (node, direction, value)."""
    out = np.zeros((1, *f.held.shape))
    for node, way, value in loads:
        out[0, node, way] += value
    return out


def even(f: Frame, q: Any) -> np.ndarray:
    """(1, m, 3) the same load on each metre of all elements."""
    return np.broadcast_to(np.array(q, float), (1, len(f.ends), 3)).copy()


def portal(height: float, width: float, count: int, foot: tuple[int, ...], **values: Any) -> Frame:
    """A portal in the x-z plane, `count` elements a member: feet at nodes 0 and 3 count, corners at count, 2 count."""
    up = np.linspace(0, height, count + 1)
    over = np.linspace(0, width, count + 1)[1:]
    place = [(0, 0, z) for z in up] + [(x, 0, height) for x in over] + [(width, 0, z) for z in up[::-1][1:]]
    held = flat(len(place), {0: foot, 3 * count: foot})
    return frame(place, [(i, i + 1) for i in range(3 * count)], held, **values)


def braced(bays: int = 9, divided: int = 1, rib_bays: int = 5) -> tuple[Frame, np.ndarray]:
    """An invented tube fuselage with two strut- and wire-braced wings, in N and mm, and 12 cases of loads.

    bays: of the fuselage. rib_bays: of each wing. divided: each tube into so many elements.
    """
    place: list[tuple[float, float, float]] = []
    members: list[tuple[int, int, float, float, bool]] = []

    def node(*at: float) -> int:
        place.append((at[0], at[1], at[2]))
        return len(place) - 1

    def tube(i: int, j: int, r: float = 15, t: float = 1.5, wire: bool = False) -> None:
        area, second = np.pi * (r * r - (r - t) ** 2), np.pi / 4 * (r**4 - (r - t) ** 4)
        members.append((i, j, np.pi * 1.5**2 if wire else area, 1e-3 if wire else second, wire))

    step = 4500 / bays
    rings = [[node(x * step, y, z) for y, z in ((-300, 0), (300, 0), (300, 700), (-300, 700))] for x in range(bays + 1)]
    for b, (a, c) in enumerate(zip(rings, rings[1:], strict=False)):
        for k in range(4):
            tube(a[k], c[k])
        tube(a[0] if b % 2 else a[3], c[3] if b % 2 else c[0], r=10)
        tube(a[1] if b % 2 else a[2], c[2] if b % 2 else c[1], r=10)
    for b, ring in enumerate(rings):
        for k in range(4):
            if b < 5 or k % 2 == 0:
                tube(ring[k], ring[(k + 1) % 4], r=10)
    front, rear = round(2 * bays / 9), round(3 * bays / 9)
    wings = [_wing(node, tube, rings[front], rings[rear], side, rib_bays) for side in (-1, 1)]
    held = {rings[r][k]: ALL for r in (front, rear) for k in (0, 1)}
    count = len(place)
    f = _divided(place, members, divided, held)
    loads = np.zeros((12, len(f.place), 6))
    loads[:, :count] = _flown(count, wings, rings[-1], rib_bays)
    return f, loads


def _wing(node: Any, tube: Any, front: list[int], rear: list[int], side: int, bays: int) -> list[tuple[int, int]]:
    """Two spars, ribs, crossed wires in every bay, two struts."""
    step = 3500 / bays
    ribs = []
    for k in range(bays + 1):
        y = side * (300 + k * step)
        ribs.append((node(1000, y, 720), node(1500, y, 720)))
    top, low = (2, 1) if side > 0 else (3, 0)
    tube(ribs[0][0], front[top], r=12)
    tube(ribs[0][1], rear[top], r=12)
    for a, c in zip(ribs, ribs[1:], strict=False):
        tube(a[0], c[0], r=32, t=2)
        tube(a[1], c[1], r=32, t=2)
        tube(a[0], c[1], wire=True)
        tube(a[1], c[0], wire=True)
    for a, c in ribs:
        tube(a, c, r=12)
    at = round(0.6 * bays)
    tube(front[low], ribs[at][0], r=22, t=2)
    tube(rear[low], ribs[at][1], r=22, t=2)
    return ribs


def _flown(count: int, wings: list[list[tuple[int, int]]], tail: list[int], bays: int) -> np.ndarray:
    """(12, count, 6) lift, drag one way or the other, tail load."""
    loads = np.zeros((12, count, 6))
    for c in range(12):
        n, less = 4 - c * 0.55, 1 if c % 3 else 0.7
        for w, ribs in enumerate(wings):
            for k, (a, b) in enumerate(ribs):
                f = n * 330 * (1 if k not in (0, bays) else 0.5) * (less if w else 1) * 5 / bays
                loads[c, a, 2] += 0.65 * f
                loads[c, b, 2] += 0.35 * f
                loads[c, a, 0] -= 0.12 * f * (1 if c % 2 else -0.6)
        loads[c, tail[2:], 2] -= 250 * n / 4
        loads[c, tail[2:], 1] += 80 * (c % 4)
    return loads


def _divided(place: Any, members: Any, divided: int, held: dict[int, tuple[int, ...]]) -> Frame:
    """The frame with every tube in `divided` elements."""
    place, ends, of = [np.array(p, float) for p in place], [], []
    for e, (i, j, *_, wire) in enumerate(members):
        chain = [i]
        for k in range(1, 1 if wire else divided):
            place.append(place[i] + (place[j] - place[i]) * k / divided)
            chain.append(len(place) - 1)
        chain.append(j)
        ends += list(zip(chain, chain[1:], strict=False))
        of += [e] * (len(chain) - 1)
    area, second = (np.array([members[e][k] for e in of]) for k in (2, 3))
    return frame(
        place, ends, held, area=area, about_y=second, about_z=second, twist=2 * second, youngs=70000.0, shear=26000.0,
        wire=np.array([members[e][4] for e in of]),
    )  # fmt: skip
