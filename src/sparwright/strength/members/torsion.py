"""The torsion stiffness of a wing along its span: nose box, box spar and full skin as cells of one section.

A wing's section is its walked curve with skins on it, webs across it and caps under the skin between webs; each is
shear-stiff by G t. What is not covered (fabric) is no wall. A bay's stiffness lets twist add up along it:

    1/(GJ)_bay = (1/l) int dy/(GJ)        straight between the bay's ends: (GJ_2 - GJ_1)/ln(GJ_2/GJ_1)

Range: ribs keep the section's shape at the ends of each bay, and skins do not buckle; one that does goes in softened
(see tension_field.shear_modulus). Openings are not in it. Source: megson (memory, high).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.strength.members.cell import ThinSection, section, strips, torsion_constant
from sparwright.strength.members.web import Many

SAME = 1e-7  # m: two nodes nearer than this are one


@dataclass(frozen=True, kw_only=True)
class Cover:
    """A skin, or a cap as a sheet under it, on both sides of the section."""

    start: float = number("m", "begins here, from the nose along the chord")
    end: float = number("m", "ends here")
    thickness: float = number("m", "thickness")
    shear: float = number("Pa", "shear modulus")


@dataclass(frozen=True, kw_only=True)
class Web:
    """A web right across the section."""

    at: float = number("m", "where it stands, from the nose along the chord")
    thickness: float = number("m", "thickness")
    shear: float = number("Pa", "shear modulus")


def wing_section(points: np.ndarray, covers: Sequence[Cover], webs: Sequence[Web], shear: float) -> ThinSection:
    """The thin-walled section of a wing.

    points (2, n) m, walked from the upper tail round the nose to the lower tail, x aft from the nose, y up. Covers
    that lie over each other add their G t. shear: modulus of reference, Pa. Bending areas: the covers' and webs' own
    thickness; whoever asks for bending gives moduli and booms to `cell.section` himself.
    ValueError where nothing hangs together: a web beyond the section, or no cover at all.
    """
    xs = sorted({float(v) for c in covers for v in (c.start, c.end)} | {w.at for w in webs})
    walk = _with_cuts(np.asarray(points, float), [x for x in xs if points[0].min() < x])
    nodes = [tuple(p) for p in walk.T]
    walls = [w for w in map(_wall(walk, covers), range(walk.shape[1] - 1)) if w is not None]
    for web in webs:
        upper, lower = (_node(walk, web.at, side) for side in (1, -1))
        walls.append((upper, lower, web.thickness, web.shear))
    tail = float(np.hypot(*(walk[:, 0] - walk[:, -1])))
    cover = _covering(covers, float(walk[0, 0]) - SAME)
    if cover is not None and tail > SAME:
        walls.append((walk.shape[1] - 1, 0, *cover))
    return _made(nodes, walls, shear)


def _made(nodes: list[tuple[float, ...]], walls: Sequence[tuple[int, int, float, float]], shear: float) -> ThinSection:
    """The section with nodes that lie on each other made one, and nodes without a wall left out."""
    places = np.array(nodes)
    own = [int(np.argmin(np.hypot(*(places - p).T) > SAME)) for p in places]
    kept = [(own[i], own[j], t, g) for i, j, t, g in walls if own[i] != own[j]]
    used = sorted({k for i, j, *_ in kept for k in (i, j)})
    if not used:
        raise ValueError("nothing covers the wing's section here")
    number_of = {k: n for n, k in enumerate(used)}
    ends = [(number_of[i], number_of[j]) for i, j, *_ in kept]
    return section(places[used], ends, [t for *_, t, _ in kept], shear=[g / shear for *_, g in kept])


def _with_cuts(points: np.ndarray, xs: Sequence[float]) -> np.ndarray:
    """The walk with a node at every x of both sides."""
    nose = int(np.argmin(points[0]))
    upper, lower = points[:, : nose + 1], points[:, nose:]
    parts = []
    for side, turn in ((upper[:, ::-1], -1), (lower, 1)):
        x = np.unique(np.concatenate([side[0], [v for v in xs if v <= side[0].max()]]))
        x = x[np.concatenate([[True], np.diff(x) > SAME])]
        parts.append(np.array([x, np.interp(x, side[0], side[1])])[:, ::turn])
    return np.concatenate([parts[0], parts[1][:, 1:]], axis=1)


def _covering(covers: Sequence[Cover], x: float) -> tuple[float, float] | None:
    """(thickness, shear modulus) of all that covers a place together; None where nothing does."""
    here = [c for c in covers if c.start < x < c.end]
    thick = sum(c.thickness for c in here)
    return (thick, sum(c.thickness * c.shear for c in here) / thick) if thick > 0 else None


def _wall(walk: np.ndarray, covers: Sequence[Cover]):  # type: ignore[no-untyped-def]
    def wall(i: int) -> tuple[int, int, float, float] | None:
        cover = _covering(covers, float(walk[0, i] + walk[0, i + 1]) / 2)
        return (i, i + 1, *cover) if cover is not None else None

    return wall


def _node(walk: np.ndarray, x: float, side: int) -> int:
    nose = int(np.argmin(walk[0]))
    here = np.arange(nose + 1) if side > 0 else np.arange(nose, walk.shape[1])
    nearest = int(here[np.argmin(np.abs(walk[0, here] - x))])
    if abs(float(walk[0, nearest]) - x) > SAME:
        raise ValueError(f"a web at {x:.4f} m stands outside the wing's section")
    return nearest


def torsion(stations: Sequence[ThinSection], shear: float) -> tuple[np.ndarray, np.ndarray]:
    """(G J at each station (n,), of each bay between two (n - 1,)), N m2; shear: modulus of reference, Pa."""
    there = shear * np.array([torsion_constant(s) for s in stations])
    return there, between(there[:-1], there[1:])


def between(one: Many, other: Many) -> np.ndarray:
    """The stiffness that twists as much as one that goes straight from `one` to `other`: their logarithmic mean.

    >>> round(float(between(np.array(1.0), np.array(4.0))), 4)
    2.164
    """
    a, b = np.asarray(one, float), np.asarray(other, float)
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = (b - a) / np.log(b / a)
    return np.asarray(np.where(np.isclose(a, b, rtol=1e-6, atol=0.0), (a + b) / 2, mean))


def twist(torque: Many, gj: Many, bay: Many) -> np.ndarray:
    """(n + 1,) rad, twist from the first station out, of bays (n,) with mean torque N m, G J N m2 and length m."""
    return np.concatenate([[0.0], np.cumsum(np.asarray(torque) * np.asarray(bay) / np.asarray(gj))])


def working(made: ThinSection, shear: float) -> tuple[Step, ...]:
    """How G J of one station comes about."""
    j, open_part = torsion_constant(made), strips(made)
    walls = (("walls", float(made.length.size), "1"), ("sum L t^3/3", open_part, "m4"))
    return (
        Step(
            "torsion constant of all cells together",
            "J = sum q_mean p L/G + sum L t^3/3 at theta' = 1",
            walls,
            j,
            "m4",
            "megson",
        ),
        Step("torsion stiffness", "G J", (("G", shear, "Pa"), ("J", j, "m4")), shear * j, "N m2", "megson"),
    )
