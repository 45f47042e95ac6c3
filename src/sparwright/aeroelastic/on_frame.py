"""The strips of a model's lattice, both sides and the fin, and how they move with the nodes of its frame.

A strip is laid on the nodes that take its load (structure/laid.py) as a stiff body on equal springs (structure/
spread.py), S the matrix from its force and moment to loads on the nodes. Its own movement is the other way about, so
that the air's work on strips and nodes is the same:

    heave z = n . (S^T u)_move,   turn al = a . (S^T u)_turn,   flap be = a . (turn of the movable nodes - of the fixed)

n the strip's normal, a its axis, nose up. A strip inside the fuselage moves with the fuselage's nodes. An aileron's be
is no movement of a node: it has a coordinate of its own (ailerons.py). Source: virtual work.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from scipy.linalg import block_diag
from scipy.sparse import csr_matrix

from sparwright.aeroelastic.response import both_sides, of_fin
from sparwright.aeroelastic.strip import Strips
from sparwright.air.turned import Company
from sparwright.family.model import Model
from sparwright.flight.sides import fin_of
from sparwright.loads.halves import Cut, cuts
from sparwright.shape.lifting import camber
from sparwright.structure.bar import Skeleton
from sparwright.structure.laid import takers
from sparwright.structure.masses import Carriers
from sparwright.structure.spread import spread

FIN = "fin"
MOVABLE = {"tailplane": "elevator", FIN: "rudder"}
MIRROR = np.array([1.0, -1.0, 1.0])


@dataclass(frozen=True)
class Laced:
    """Strips laid on a frame: movements of strips out of those of nodes."""

    strips: Strips
    heave: csr_matrix  # (6 n, s): loads on the nodes of a unit lift at each mid-chord
    turn: csr_matrix  # (6 n, s): of a unit moment, nose up
    flap: csr_matrix  # (6 n, s): of a unit moment on the movable part, against the fixed; nought where it is no node's
    aileron: np.ndarray  # (s,) part of the strip that an aileron stands in
    inside: np.ndarray  # (s,) bool: in the fuselage


def strips_of(model: Model, company: Company, alpha: float) -> tuple[Strips, np.ndarray, np.ndarray]:
    """(strips of all surfaces at an angle of the thrust line, rad; part of each that is hinged; which are inside)."""
    right = list(cuts(company, camber(model)).values())
    fin, fin_at = fin_of(model, company.mesh.chordwise), _fin_cut(model, company.mesh.chordwise)
    rows = [_side(c, "R") for c in right], [_side(c, "L") for c in right], [fin_at]
    flat = [r for group in rows for r in group]
    whole = {k: np.concatenate([r[k] for r in flat]) for k in ("middle", "along", "normal", "chord", "width", "hinge",
                                                               "part", "inside")}  # fmt: skip
    wings, alone = both_sides(company, alpha), of_fin(fin)
    turned, flapped = (block_diag(w, a) for w, a in zip(wings, alone, strict=True))
    flapped = flapped / np.where(whole["part"] > 0, whole["part"], 1.0)  # of a part's radian; the part is in `be`
    names = [(c.name, side) for side in ("R", "L") for c in right for _ in c.chord] + [(FIN, "")] * fin.strips
    strips = Strips(
        middle=whole["middle"], along=whole["along"], normal=whole["normal"], chord=whole["chord"],
        width=whole["width"], hinge=whole["hinge"], response=turned, by_flap=flapped,
        surface=tuple(n for n, _ in names), side=tuple(s for _, s in names),
    )  # fmt: skip
    return strips, whole["part"], whole["inside"].astype(bool)


def _side(c: Cut, side: str) -> dict[str, np.ndarray]:
    over = MIRROR if side == "L" else np.ones(3)
    middle = (c.quarter + 0.25 * c.chord * c.along).T * over
    part = c.hinged if 0 < c.hinge < 1 else 0 * c.chord
    return {"middle": middle, "along": c.along.T * over, "normal": c.normal.T * over, "chord": c.chord,
            "width": c.width, "hinge": np.where(part > 0, min(c.hinge, 1.0), 1.0), "part": part,
            "inside": c.inside}  # fmt: skip


def _fin_cut(model: Model, rows: int) -> dict[str, np.ndarray]:
    fin = fin_of(model, rows)
    k, one = fin.strips, np.ones(fin.strips)
    first, last = fin.bound[:, :k], fin.control[:, -k:]
    chord = np.linalg.norm(last - first, axis=0) * rows / (rows - 0.5)
    along = (last - first) / np.linalg.norm(last - first, axis=0)
    middle = first + (0.5 - 0.25 / rows) * chord * along
    part = one * (0 < model.fin.hinge < 1)
    return {"middle": middle.T, "along": along.T, "normal": np.tile([0.0, 1.0, 0.0], (k, 1)), "chord": chord,
            "width": np.abs(fin.segment[2, :k]), "hinge": np.where(part > 0, model.fin.hinge, 1.0), "part": part,
            "inside": 0 * one}  # fmt: skip


def laced(model: Model, company: Company, skeleton: Skeleton, carriers: Carriers, alpha: float) -> Laced:
    """A model's strips on its frame. KeyError where nothing takes a strip's load."""
    strips, part, inside = strips_of(model, company, alpha)
    wing = np.array([n in carriers.spars for n in strips.surface])
    held = np.array([not w and not _moves(carriers, n) for w, n in zip(wing, strips.surface, strict=True)])
    strips = replace(strips, hinge=np.where(held, 1.0, strips.hinge))  # a movable part without nodes stands still
    columns = [_column(strips, i, skeleton, carriers, bool(inside[i])) for i in range(len(part))]
    heave, turn, flap = (csr_matrix(np.array(c).T) for c in zip(*columns, strict=True))
    return Laced(strips, heave, turn, flap, np.where(wing & ~inside, part, 0.0), inside)


def _moves(carriers: Carriers, surface: str) -> bool:
    return bool(carriers.surfaces.get(MOVABLE.get(surface, ""), np.array([])).size)


def _column(s: Strips, i: int, skeleton: Skeleton, carriers: Carriers, inside: bool) -> Iterator[np.ndarray]:
    """Loads on all nodes (6 n,) of a unit lift, a unit moment, a unit moment of the flap."""
    name, side, axis = s.surface[i], s.side[i], s.axis[i]
    word = name if name == FIN else f"wing:{name}:{side}" if name in carriers.spars else f"{name}:{side}"
    on = takers(skeleton, carriers, "body" if inside else word, s.middle[i])
    nought = np.zeros(3)
    yield _laid(skeleton, on, s.middle[i], np.concatenate([s.normal[i], nought]))
    yield _laid(skeleton, on, s.middle[i], np.concatenate([nought, axis]))
    if s.hinge[i] < 1 and name in MOVABLE:
        movable = takers(skeleton, carriers, f"{MOVABLE[name]}:{side}" if side else MOVABLE[name], s.middle[i])
        turn = np.concatenate([nought, axis])
        yield _laid(skeleton, movable, s.middle[i], turn) - _laid(skeleton, on, s.middle[i], turn)
    else:
        yield np.zeros(6 * len(skeleton.names))


def _laid(skeleton: Skeleton, nodes: np.ndarray, place: np.ndarray, wrench: np.ndarray) -> np.ndarray:
    out = np.zeros((len(skeleton.names), 6))
    np.add.at(out, nodes, spread(np.asarray(skeleton.frame.place[nodes]), place) @ wrench)
    return out.ravel()
