"""Every mass of the aeroplane as lumps that lie on nodes of its frame, so that inertia acts where the weight is.

The lumps are those of the weight ledger: parts, what stands for parts not drawn, and what comes and goes. A long part
is cut along its length into equal pieces. Each lump lies on the nodes that carry it: a tube on its own ends, a wing's
on the spars beside it, the engine's on the mount's pads, pilot and fuel on the tubes that hold seat and tank; the rest
on the nearest nodes of the frame (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.sparse import csr_matrix

from sparwright.base.record import locked, number
from sparwright.family.model import Model
from sparwright.mass.weigh import ledger, own_inertia
from sparwright.parts.mount import GROUP as MOUNT
from sparwright.parts.part import Assembly
from sparwright.parts.solids import solids
from sparwright.parts.tail_frame import surfaces
from sparwright.structure.bar import Skeleton
from sparwright.structure.spread import spread

PIECE = 0.25  # m, longest piece of a long part
NEAREST = 6  # nodes of the fuselage that carry a thing nobody says the holder of
WINGS, FRAME, TAIL = "wings", "frame", "tail"
NEAR_TAIL = 3  # nodes of a tail surface that carry a gusset, a hinge or a piece of its fabric
LONG_TUBES = ("LE", "SP", "FR", "TE")  # of a tail surface


@dataclass(frozen=True)
class Lumps:
    """All that has mass, L lumps; what comes and goes is there with a mass of 1 kg a lump."""

    names: tuple[str, ...]
    mass: np.ndarray = number("kg", "(L,) mass; of what comes and goes its share of one kilogram")
    place: np.ndarray = number("m", "(L, 3) where it is")
    inertia: np.ndarray = number("kg m2", "(L, 3, 3) about its own middle; per kilogram of what comes and goes")
    load: tuple[str, ...] = ()  # (L,) name of the load it belongs to; empty for the empty aeroplane
    group: tuple[str, ...] = ()  # (L,) "wing upper", "fuselage", "load"
    laid: csr_matrix | None = None  # (6 n, 6 L) what the frame's nodes get of a force and moment on each lump

    @cached_property
    def of_load(self) -> Mapping[str, np.ndarray]:
        """(k,) places of the lumps of each load."""
        return {x: np.flatnonzero(np.array(self.load) == x) for x in dict.fromkeys(self.load) if x}


def lumps(model: Model, assembly: Assembly, skeleton: Skeleton, carriers: Carriers | None = None) -> Lumps:
    """The lumps of a model on its frame. carriers: who carries what, where it is not the frame's own answer."""
    rows = [*_of_parts(assembly), *_of_allowances(model, assembly), *_of_loads(model)]
    carriers = carriers or Carriers(model, skeleton)
    on = [carriers.of(r) for r in rows]
    return Lumps(
        names=tuple(r.name for r in rows), mass=locked([r.mass for r in rows]), place=locked([r.place for r in rows]),
        inertia=locked([r.inertia for r in rows]), load=tuple(r.load for r in rows),
        group=tuple(r.group for r in rows), laid=_laid(skeleton, [r.place for r in rows], on),
    )  # fmt: skip


def _laid(skeleton: Skeleton, places: Sequence[np.ndarray], on: Sequence[np.ndarray]) -> csr_matrix:
    """The sparse matrix from wrenches on lumps to loads on nodes."""
    values, rows, columns, known = [], [], [], dict[tuple[bytes, bytes], np.ndarray]()
    for i, (place, nodes) in enumerate(zip(places, on, strict=True)):
        key = (np.asarray(place).tobytes(), nodes.tobytes())
        if key not in known:
            known[key] = spread(np.asarray(skeleton.frame.place[nodes]), np.asarray(place))
        r = (6 * nodes[:, None] + np.arange(6)).ravel()
        values.append(known[key].reshape(-1, 6).ravel())
        rows.append(np.repeat(r, 6))
        columns.append(np.tile(6 * i + np.arange(6), len(r)))
    shape = (6 * len(skeleton.names), 6 * len(places))
    return csr_matrix((np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))), shape)


@dataclass(frozen=True)
class _Row:
    name: str
    mass: float
    place: np.ndarray
    inertia: np.ndarray
    group: str
    load: str = ""


# ------------------------------------------------------------------ rows


def _of_parts(assembly: Assembly) -> Iterator[_Row]:
    for part in assembly.parts:
        bodies = solids(part)
        own = own_inertia(part) / max(len(part.places), 1)
        for i, place in enumerate(part.places):
            pieces = _pieces(bodies[i].points, np.array(place)) if i < len(bodies) else None
            if pieces is None:
                yield _Row(part.number, part.mass, np.array(place), own, part.group)
                continue
            for at in pieces:
                yield _Row(part.number, part.mass / len(pieces), at, np.zeros((3, 3)), part.group)


def _pieces(points: np.ndarray, centre: np.ndarray) -> np.ndarray | None:
    """(k, 3) middles of equal pieces along a long body; None for one that is short."""
    off = points - centre
    _, _, ways = np.linalg.svd(off - off.mean(axis=0), full_matrices=False)
    along = off @ ways[0]
    low, high = float(along.min()), float(along.max())
    if high - low < 2 * PIECE:
        return None
    count = int(np.ceil((high - low) / PIECE))
    at = low + (np.arange(count) + 0.5) * (high - low) / count
    return np.asarray(centre + (at - at.mean())[:, None] * ways[0])  # the whole keeps its centre of mass


def _of_allowances(model: Model, assembly: Assembly) -> Iterator[_Row]:
    groups = {a.name.replace("_", " "): a.group for a in model.allowances}
    for line in ledger(model, assembly):
        if line.kind != "part" and line.mass.value > 0:
            group = {"wings": WINGS, "tail": TAIL}.get(groups.get(line.name, line.group), FRAME)
            yield _Row(line.name, line.mass.value, np.array(line.place), np.zeros((3, 3)), group)


def _of_loads(model: Model) -> Iterator[_Row]:
    for load in model.loads:
        yield _Row(load.name, 1.0, np.array(load.place), np.zeros((3, 3)), "load", load.name)


# ------------------------------------------------------------------ who carries


class Carriers:
    """Which nodes carry what; worked out once for a frame."""

    def __init__(self, model: Model, skeleton: Skeleton, near: int = NEAREST, carrying: int | None = None):
        """near: nodes that carry a thing nobody says the holder of. carrying: pads of the engine that carry; all."""
        self.near = near
        self.model, self.place, self.names = model, np.asarray(skeleton.frame.place), skeleton.names
        self.by_part = _by_part(skeleton)
        known = set(skeleton.names)
        self.spars = {w.name: self._where(lambda n, w=w: n.startswith(f"{w.name}.")) for w in model.wings}
        self.lines = {wing: self._lines(mine) for wing, mine in self.spars.items()}
        self.all_wings = np.concatenate(list(self.spars.values()))
        self.mount = self._where(lambda n: n.startswith(f"{MOUNT}:"))
        frame = [n for n in known if "." not in n and ":" not in n]
        self.frame = self._where(lambda n: n in frame)
        pads = model.mount.pads if model.mount else ()
        self.pads = self.named([f"{MOUNT}:{p}{s}" for p in pads for s in ("", "R", "L")])[:carrying]
        self.tail = self.named([a.node for t in (model.tailplane, model.fin) if t.frame for a in t.frame.attach])
        words = [s.name(f) for s in surfaces(model) for f in ("fixed", "movable")]
        self.surfaces = {w: self._where(lambda n, w=w: n.startswith(f"{w}.")) for w in words}

    def _where(self, wanted: object) -> np.ndarray:
        assert callable(wanted)
        return np.array([i for i, n in enumerate(self.names) if wanted(n)], dtype=int)

    def named(self, names: Sequence[str]) -> np.ndarray:
        """Places of nodes by name; those that are not there are left out."""
        return np.array([self.names.index(n) for n in dict.fromkeys(names) if n in self.names], dtype=int)

    def of(self, row: _Row) -> np.ndarray:
        """Places of the nodes that carry a lump."""
        if row.load:
            return self._load(row)
        if row.name in self.by_part and not self._another(row):
            return self.nearest(self.by_part[row.name], row.place, 2)
        if row.group == WINGS:
            return self.all_wings
        if row.group == FRAME:
            return self.frame
        if row.group == TAIL and self.tail.size:
            return self._tail(row)
        if row.group == "power" and self.pads.size:
            return self.pads
        if row.group.startswith("wing ") and row.group[5:] in self.spars:
            return self.beside(row.group[5:], row.place)
        if row.group in ("struts", "fittings", "pitot"):
            return self.nearest(np.arange(len(self.names)), row.place, 3)
        return self.nearest(self.frame, row.place, 4 if row.group == "gear" else self.near)

    def _another(self, row: _Row) -> bool:
        """Whether a wing's part, a rib, stands elsewhere along the span than those of its number that are bars."""
        apart = np.abs(self.place[self.by_part[row.name], 1] - row.place[1])
        return row.group.startswith("wing ") and float(apart.min()) > PIECE

    def beside(self, wing: str, place: np.ndarray) -> np.ndarray:
        """The nodes of each spar of a wing on both sides of a place along the span."""
        found = list[int]()
        for y, nodes in self.lines[wing]:
            k = min(max(int(np.searchsorted(y, place[1])), 1), len(y) - 1)
            found += [nodes[k - 1], nodes[k]]
        return np.array(found, dtype=int)

    def _lines(self, mine: np.ndarray) -> tuple[tuple[np.ndarray, np.ndarray], ...]:
        """(buttlines m, places of nodes) from left to right along each spar of a wing."""
        by_spar: dict[str, list[int]] = {}
        for i in mine:
            by_spar.setdefault(self.names[i].split(".")[1], []).append(int(i))
        nodes = [np.array(own, dtype=int) for own in by_spar.values()]
        orders = [np.argsort(self.place[own, 1]) for own in nodes]
        return tuple((self.place[own, 1][k], own[k]) for own, k in zip(nodes, orders, strict=True))

    def _tail(self, row: _Row) -> np.ndarray:
        """Nodes of the surface a part of the tail is of; of what is on none, those it is bolted on with."""
        word = row.name.removeprefix(f"{self.model.name}-").split("-")[0]
        if row.name.endswith("-RIVETS"):
            return self.surfaces[word]
        if word in self.surfaces:
            return self.nearest(self.surfaces[word], row.place, NEAR_TAIL)
        if word in ("struts", "wires"):
            return self.nearest(np.arange(len(self.names)), row.place, NEAR_TAIL)
        return self.nearest(self.tail, row.place, 2) if word == TAIL else self.tail  # a tab, or an allowance

    def on_tail(self, word: str, side: str, place: np.ndarray) -> np.ndarray:
        """The nodes of a tail surface on both of its long tubes, to either side of a place along it.

        word: tailplane, elevator, fin, rudder. side: R, L or empty for both. Those it is bolted on with where it has
        no frame.
        """
        mine = self.surfaces.get(word, np.array([], dtype=int))
        across = 1 if word in ("tailplane", "elevator") else 2  # buttline, or waterline
        over = {"R": 1.0, "L": -1.0}.get(side, 0.0)
        mine = np.array([i for i in mine if self.place[i, 1] * over >= 0], dtype=int) if over else mine
        found: list[int] = []
        for line in LONG_TUBES:
            own = np.array([i for i in mine if self.names[i].split(".")[1].startswith(line)], dtype=int)
            if len(own) > 1:
                v = self.place[own, across]
                order = np.argsort(v)
                k = int(np.clip(np.searchsorted(v[order], place[across]), 1, len(order) - 1))
                found += [int(own[order[k - 1]]), int(own[order[k]])]
        return np.array(found, dtype=int) if found else self.tail

    @property
    def seat(self) -> np.ndarray:
        """The nodes at the ends of the tubes that hold the seat."""
        on = [h for s in self.model.sheets if s.name in seat_sheets(self.model) for h in s.held]
        return self.named([n for h in on for n in h.split("-")])

    def _load(self, row: _Row) -> np.ndarray:
        model, names = self.model, list[str]()
        kind = next(x.kind for x in model.loads if x.name == row.load)
        if kind == "pilot" and self.seat.size >= 3:
            return self.seat
        if kind == "fuel" and model.fuel and model.fuel.tank.hold:
            names = [n for h in model.fuel.tank.hold.bearers for n in h.split("-")]
        elif kind == "oil" and self.pads.size:
            return self.pads
        found = self.named(names)
        return found if found.size >= 3 else self.nearest(self.frame, row.place, self.near)

    def nearest(self, among: np.ndarray, place: np.ndarray, count: int) -> np.ndarray:
        """The nearest of some nodes to a place."""
        far = np.linalg.norm(self.place[among] - place, axis=1)
        return np.sort(among[np.argsort(far, kind="stable")[:count]])


def seat_sheets(model: Model) -> tuple[str, ...]:
    """The flat sheets the pilot sits on and leans against; none where there is no seat."""
    shell = model.seat.shell if model.seat else None
    return (shell.pan, shell.back) if shell else ()


def _by_part(skeleton: Skeleton) -> Mapping[str, np.ndarray]:
    """The nodes of each part that is bars of the frame, spars left out: they are caps, webs and blocks."""
    found: dict[str, set[int]] = {}
    for bar in skeleton.bars:
        if bar.what != "spar":
            found.setdefault(bar.part, set()).update(skeleton.node[e] for e in bar.ends)
    return {part: np.array(sorted(nodes), dtype=int) for part, nodes in found.items()}
