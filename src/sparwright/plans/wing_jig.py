"""The jig of a wing: how high its spars stand over a level bench, and lengths between points that prove it true.

The bench lies along the first spar of the innermost panel and square to its depth: along that spar y, aft x, up z.
Spars stand plumb on it, because every spar of a wing is square to the incidence of its root (shape/spar.py). Washout
is in the heights: the second spar's rise or fall against the first. Panels that are one piece, or are spliced for good,
lie on one bench with their dihedral; others each on their own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.family.model import Model, Panel, Wing
from sparwright.family.rib_lines import rib_lines
from sparwright.parts.part import Part
from sparwright.parts.solids import solids
from sparwright.shape.lifting import cut
from sparwright.shape.spar import SparAxes, panel_of, spar_axes

INCH = 0.0254
ROOM = 0.0254  # m that whatever hangs lowest stays clear of the bench, at least; a free choice
HALF = 0.025  # m, half of a block's width along the spar: drawn so, free
SHARES = (0.25, 0.5, 0.75)  # of a bay, where blocks may stand
APART = 0.9  # m from stand to stand at most, where ribs and fittings let; a free choice


@dataclass(frozen=True)
class Stand:
    """A pair of blocks: one under each spar."""

    name: str
    buttline: float = number("m", "buttline of the middle of its blocks")
    along: float = number("m", "on the bench from the innermost rib, along the first spar")
    heights: tuple[float, ...] = ()  # m, underside of each spar over the bench
    aft: tuple[float, ...] = ()  # m, middle of each spar's underside aft of the first spar at the root
    twist: float = number("rad", "chord against the root's, nose up positive", 0.0)


@dataclass(frozen=True)
class Point:
    """A place on the upper face of a spar, in the middle of its width, at a rib."""

    name: str
    spar: str
    buttline: float = number("m", "buttline")
    place: tuple[float, float, float] = (0.0, 0.0, 0.0)  # m, on the bench: x aft, y along, z up


@dataclass(frozen=True)
class Jig:
    """One bench of a wing, right half."""

    wing: Wing
    panels: tuple[Panel, ...]
    axes: SparAxes  # of the first spar at the root: the bench's directions
    base: float = number("m", "underside of the first spar at the root over the bench")
    stands: tuple[Stand, ...] = ()
    points: tuple[Point, ...] = ()
    lean: float = number("rad", "a rib's plane off square to the bench, outboard at the top positive", 0.0)
    slant: float = number("rad", "a rib's plane off square to the first spar in plan, aft end outboard positive", 0.0)

    @property
    def checks(self) -> tuple[tuple[str, str, float], ...]:
        """Every two points and how far apart they are, m: sides and diagonals."""
        return tuple((a.name, b.name, float(np.linalg.norm(np.subtract(a.place, b.place))))
                     for a, b in combinations(self.points, 2))  # fmt: skip

    def way(self, vector: np.ndarray) -> np.ndarray:
        """(..., 3) a direction of the aeroplane in those of the bench."""
        return np.asarray(vector @ np.column_stack([self.axes.aft, self.axes.along, self.axes.up]))

    def on_bench(self, places: np.ndarray) -> np.ndarray:
        """(..., 3) x aft, y along, z over the bench of places of the aeroplane, m."""
        return np.asarray(self.way(places - self.axes.middle) + [0.0, 0.0, self.base + self.axes.depth / 2])


def wing_jigs(model: Model, wing: Wing, parts: Sequence[Part]) -> tuple[Jig, ...]:
    """The benches of a wing from the root out."""
    whole = wing.one_piece or wing.splice is not None
    groups = [wing.panels] if whole else [(p,) for p in wing.panels]
    return tuple(_jig(model, wing, g, parts) for g in groups)


def _jig(model: Model, wing: Wing, panels: tuple[Panel, ...], parts: Sequence[Part]) -> Jig:
    root, tip = panels[0].root_buttline, panels[-1].tip_buttline
    axes = spar_axes(model, wing, panels[0], wing.spars[0], root)
    bare = Jig(wing, panels, axes, 0.0, lean=math.atan2(-axes.up[1], axes.along[1]),
               slant=math.atan2(-axes.aft[1], axes.along[1]))  # fmt: skip
    hangs = _hanging(model, bare, parts, root, tip)
    low = min((float(p[:, 2].min()) for p in hangs), default=0.0)
    base = math.ceil((ROOM - min(low, 0.0)) / INCH - 1e-9) * INCH
    jig = Jig(wing, panels, axes, base, (), (), bare.lean, bare.slant)
    lines = _free(jig, model, rib_lines(wing), [p + [0.0, 0.0, base] for p in hangs], root, tip)
    stands = tuple(_stand(model, jig, str(i), y) for i, y in enumerate(lines, 1))
    return Jig(wing, panels, axes, base, stands, tuple(_points(model, jig, root, tip)), bare.lean, bare.slant)


def spar_at(model: Model, jig: Jig, spar: int, buttline: float) -> SparAxes:
    """A spar at a buttline, within the bench's own panels."""
    panel = panel_of(jig.wing, buttline)
    panel = panel if panel in jig.panels else jig.panels[0]
    return spar_axes(model, jig.wing, panel, jig.wing.spars[spar], buttline)


def _hanging(model: Model, jig: Jig, parts: Sequence[Part], root: float, tip: float) -> list[np.ndarray]:
    """Points on the bench, (n, 3), of every body of the wing on the right between two buttlines."""
    own = f"{model.name}-{jig.wing.name}-"
    found = []
    for p in parts:
        if not p.number.startswith(own) or p.form == "skin" or p.purpose in ("spar cap", "spar web"):
            continue
        for s in solids(p, 2e-4):
            y = s.points[:, 1]
            if y.min() > root - 0.05 and y.max() < tip + 0.05:
                found.append(jig.on_bench(s.points))
    return found


def _free(jig: Jig, model: Model, ribs: Sequence[float], bodies: Sequence[np.ndarray], root: float, tip: float
          ) -> list[float]:  # fmt: skip
    """Buttlines for stands: in bays between ribs, clear of what lies under a spar, about as far apart as APART lets.

    DesignProblem where no bay has a free place.
    """
    inside = [y for y in ribs if root - 1e-6 <= y <= tip + 1e-6]
    wanted = [a + f * (b - a) for a, b in pairwise(inside) for f in SHARES]
    free = [y for y in wanted if not any(_under(jig, model, y, b) for b in bodies)]
    if not free:
        raise DesignProblem(f"{jig.wing.name}: no place under its spars is free for the jig's blocks")
    count = math.ceil((free[-1] - free[0]) / APART)
    even = np.linspace(free[0], free[-1], count + 1)
    return sorted({free[int(np.abs(np.array(free) - at).argmin())] for at in even})


def _under(jig: Jig, model: Model, buttline: float, body: np.ndarray) -> bool:
    """Whether a body stands lower than a spar where a block would hold it."""
    for i in range(len(jig.wing.spars)):
        axes = spar_at(model, jig, i, buttline)
        x, y, z = jig.on_bench(axes.middle - axes.depth / 2 * axes.up)
        half = axes.width / 2 + 0.005
        if (body[:, 2].min() < z - 1e-3 and body[:, 1].min() < y + HALF and body[:, 1].max() > y - HALF
                and body[:, 0].min() < x + half and body[:, 0].max() > x - half):  # fmt: skip
            return True
    return False


def _stand(model: Model, jig: Jig, name: str, buttline: float) -> Stand:
    along = float(jig.on_bench(spar_at(model, jig, 0, buttline).middle)[1])
    feet = [_foot(jig, spar_at(model, jig, i, buttline), along) for i in range(len(jig.wing.spars))]
    root = jig.panels[0].root_buttline
    turn = cut(jig.wing, model.sections, buttline).angle - cut(jig.wing, model.sections, root).angle
    return Stand(name, buttline, along, tuple(float(f[2]) for f in feet), tuple(float(f[0]) for f in feet), turn)


def _foot(jig: Jig, axes: SparAxes, along: float) -> np.ndarray:
    """(3,) on the bench, of the middle of a spar's underside over one square line."""
    low, way = jig.on_bench(axes.middle - axes.depth / 2 * axes.up), jig.way(axes.along)
    return np.asarray(low + (along - low[1]) / way[1] * way)


def _points(model: Model, jig: Jig, root: float, tip: float) -> Iterator[Point]:
    """On the first and the last spar at the innermost and outermost rib, P1 to P4; of one spar, two."""
    ends = sorted({0, len(jig.wing.spars) - 1})
    for n, (i, y) in enumerate(((i, y) for i in ends for y in (root, tip)), 1):
        axes = spar_at(model, jig, i, y)
        top = axes.middle + axes.depth / 2 * axes.up
        x, along, z = jig.on_bench(top + (y - top[1]) / axes.along[1] * axes.along)  # where the rib's plane meets it
        yield Point(f"P{n}", jig.wing.spars[i].name, y, (float(x), float(along), float(z)))
