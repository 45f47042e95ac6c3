"""Estimates by hand beside what the frame's solution gives: statics and a beam on rigid supports, from the case's loads.

    P load at a node, up; a, b buttlines of the inner and the outer support, L = b - a; u = y - a
    overhang         M_b = -sum P (y - b)
    spar through     Clapeyron's three moments at a, the two halves of the aeroplane alike:
                     (6 a + 2 L) M_a + L M_b = -3 sum P (a^2 - y^2) - sum P u (L - u) (2 L - u)/L
    spar pinned      M_a = 0
    lift of strut    R = sum P (outboard) + sum P u/L + (M_a - M_b)/L, pull N = R/|u_z|
    tip              d = sum P d^2 (3 c - d)/(6 EI) + t_b c + s (c + L)/L
                     t_b = L (M_a + 2 M_b)/(6 EI) + sum P u (L^2 - u^2)/(6 L EI), taken with its sign
    longeron         N = F_x/4 +- M_y/(2 h), cases alike on both sides
    mount            sum N_x of the upper feet = M_y/h

Loads are those that the case lays on the nodes, inertia in them, at limit load. Left out: thrust of the struts times
sag, shear, ribs and skin that share between the spars, how the frame beneath gives. One step a line, so that each can
be followed. Source: statics; Clapeyron's theorem (timoshenko-gere ch. 1).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Step, by_hand
from sparwright.base.record import number
from sparwright.family.model import Model, Spar, Wing
from sparwright.parts.mount import GROUP as MOUNT
from sparwright.structure.answered import ULTIMATE, Answered
from sparwright.structure.bar import Bar
from sparwright.structure.wings import INCH, spar_node, stations

STATICS = "statics"
BEAM = "timoshenko-gere ch. 1"
LEAST = 1e-3  # m


@dataclass(frozen=True)
class Estimate:
    """An estimate and what the frame gives, at limit load, as rigged."""

    id: str
    title: str
    case: str
    by_hand: float = number("SI", "the estimate, in `unit`; NaN where none is made")
    ours: float = number("SI", "what the frame gives, in `unit`")
    unit: str = "N"
    steps: tuple[Step, ...] = ()
    leaves_out: str = ""
    why: str = ""  # why none is made
    beside: tuple[str, ...] = ()  # ids of the checks it stands beside

    @property
    def ratio(self) -> float:
        """Ours over the estimate; NaN where there is none."""
        return self.ours / self.by_hand if self.by_hand else math.nan


def estimates(model: Model, answer: Answered) -> tuple[Estimate, ...]:
    """Every estimate that this model's shape allows, and the reason for each that it does not."""
    if not answer.laid or not np.isfinite(answer.limit[0].pull).any():
        return ()
    found = [e for wing in model.wings for spar in wing.spars for e in _of_spar(model, answer, wing, spar)]
    return (*found, *_longeron(answer), *_mount(answer))


# ------------------------------------------------------------------ a spar on two supports


@dataclass(frozen=True)
class Beam:
    """Half of a spar: loads at nodes, two supports, and whether it runs through the centreline."""

    y: np.ndarray = number("m", "(k,) buttlines of the loads, from the centre or the root out")
    load: np.ndarray = number("N", "(k,) up; on the centreline the half of it")
    inner: float = number("m", "buttline of the inner support")
    outer: float = number("m", "buttline of the outer support")
    stiff: float = number("N m2", "E I")
    through: bool = True

    @property
    def long(self) -> float:
        """From support to support, m."""
        return self.outer - self.inner

    def at(self, low: float, high: float) -> tuple[np.ndarray, np.ndarray]:
        """(buttlines, loads) between two places."""
        these = (self.y > low + LEAST) & (self.y <= high + LEAST)
        return self.y[these], self.load[these]

    @property
    def outer_moment(self) -> float:
        """Over the outer support, N m; sagging under load from above is positive, so lift outboard makes it less."""
        y, p = self.at(self.outer, np.inf)
        return float(-p @ (y - self.outer))

    @property
    def inner_moment(self) -> float:
        """Over the inner support, N m: Clapeyron's three moments; nought where the spar is pinned there."""
        if not self.through:
            return 0.0
        a, long = self.inner, self.long
        y, p = self.y[self.y < a - LEAST], self.load[self.y < a - LEAST]
        between, q = self.at(a, self.outer)
        u = between - a
        term = 3 * float(p @ (a**2 - y**2)) + float(q @ (u * (long - u) * (2 * long - u))) / long
        return -(term + long * self.outer_moment) / (6 * a + 2 * long)

    @property
    def outer_lift(self) -> float:
        """What the outer support holds down, N."""
        y, p = self.at(self.inner, self.outer)
        _, over = self.at(self.outer, np.inf)
        return float(over.sum() + p @ (y - self.inner) / self.long + (self.inner_moment - self.outer_moment) / self.long)

    def tip(self, stretch: float = 0.0) -> float:
        """Rise of the tip, m; stretch: how far the outer support rises, m."""
        long, c = self.long, float(self.y[-1]) - self.outer
        y, p = self.at(self.outer, np.inf)
        d = y - self.outer
        bent = float(p @ (d**2 * (3 * c - d))) / 6
        between, q = self.at(self.inner, self.outer)
        u = between - self.inner
        turned = long * (self.inner_moment + 2 * self.outer_moment) / 6 + float(q @ (u * (long**2 - u**2))) / (6 * long)
        return (bent - turned * c) / self.stiff + stretch * (c + long) / long


def _of_spar(model: Model, answer: Answered, wing: Wing, spar: Spar) -> Iterator[Estimate]:
    name = f"{wing.name}, {spar.name} spar"
    held = _supports(model, answer, wing, spar)
    if isinstance(held, str):
        yield Estimate(f"by_hand.{wing.name}.{spar.name}", name, "", math.nan, math.nan, "N", why=held)
        return
    inner, outer, through, strut = held
    case = _worst_alike(answer, strut)
    beam = _beam(model, answer, wing, spar, case, (inner, outer, through))
    yield _pull(answer, wing, spar, beam, case, strut)
    yield _spar_moment(model, answer, wing, spar, beam, case)
    yield _tip(model, answer, wing, spar, beam, case, strut)


def _supports(model: Model, answer: Answered, wing: Wing, spar: Spar) -> tuple[float, float, bool, int] | str:
    """(inner, outer buttline m, runs through, place of the outer strut's bar) or why the spar is no such beam."""
    ends: dict[float, list[int]] = {}
    for y in stations(model, wing, spar):
        node = spar_node(wing.name, spar.name, "R", y)
        for i, bar in enumerate(answer.skeleton.bars):
            if node in bar.ends and bar.what in ("strut", "wire") and not bar.at[0]:
                ends.setdefault(y, []).append(i)
    roots = [r.buttline for r in model.roots if r.wing == wing.name and r.spar == spar.name]
    places = sorted({*ends, *roots})
    if len(places) != 2:
        return f"held at {len(places)} places on each side, and the beam by hand has two"
    outer = ends.get(places[1], [])
    if len(outer) != 1 or answer.skeleton.bars[outer[0]].what != "strut":
        return "held at the outer place by more than one strut or by wires: no statics of one pull"
    return places[0], places[1], not roots, outer[0]


def _worst_alike(answer: Answered, strut: int) -> int:
    """The case that pulls a strut most of those that are alike on both sides, as rigged at limit load."""
    bar = answer.skeleton.bars[strut]
    other = next((i for i, b in enumerate(answer.skeleton.bars) if b.part == bar.part and i != strut), strut)
    pull = answer.limit[0].pull
    return int(np.nanargmax(np.where(_alike(pull, strut, other), pull[:, strut], -np.inf)))


def _alike(pull: np.ndarray, one: int, other: int) -> np.ndarray:
    """(c,) whether a case pulls both sides alike."""
    return np.asarray(np.abs(pull[:, one] - pull[:, other]) < 0.02 * np.abs(pull[:, one]) + 1.0)


def _beam(model: Model, answer: Answered, wing: Wing, spar: Spar, case: int, held: tuple[float, float, bool]) -> Beam:
    y = np.array(stations(model, wing, spar))
    nodes = [answer.skeleton.node[spar_node(wing.name, spar.name, "R", s)] for s in y]
    load = at_limit(answer, case)[nodes, 2]
    if held[2] and y[0] < LEAST:
        load = np.array([load[0] / 2, *load[1:]])
    bars = [b for b in answer.skeleton.bars if b.what == "spar" and b.at[:3] == (wing.name, spar.name, "R")]
    stiff = float(np.mean([b.section.youngs * b.section.about_y for b in bars if b.at[3] > held[0]]))
    return Beam(y, load, held[0], held[1], stiff, held[2])


def at_limit(answer: Answered, case: int) -> np.ndarray:
    """(n, 6) loads on the nodes at limit load."""
    x = answer.laid[case]
    return np.asarray(x.loads / (ULTIMATE if x.case.level == "ultimate" else 1.0))


def _pull(answer: Answered, wing: Wing, spar: Spar, beam: Beam, case: int, strut: int) -> Estimate:
    up = abs(float(along(answer, strut)[2]))
    lift, ours = beam.outer_lift, float(answer.limit[0].pull[case, strut])
    value = lift / up
    y, p = beam.at(beam.inner, beam.outer)
    _, over = beam.at(beam.outer, np.inf)
    given = (("P outboard", float(over.sum()), "N"), ("P between", float(p.sum()), "N"), ("L", beam.long, "m"),
             ("M_a", beam.inner_moment, "N m"), ("M_b", beam.outer_moment, "N m"))  # fmt: skip
    steps = (*_moments_over(beam),
             Step("lift at the outer support", "R = sum P outboard + sum P u/L + (M_a - M_b)/L", given, lift, "N", STATICS),
             *by_hand("N = R/|u_z|", (("R", lift, "N"), ("u_z", up, "1")), value, ours, "N", STATICS))  # fmt: skip
    part = answer.skeleton.bars[strut].part
    return Estimate(f"by_hand.pull.{part.split('-', 1)[1]}", f"pull of {_spoken(part)}", answer.laid[case].case.key, value,
                    ours, "N", steps, "sharing between spars by ribs; the cabane's give",
                    beside=(f"strength.tube.{part.split('-', 1)[1]}",))  # fmt: skip


def _moments_over(beam: Beam) -> tuple[Step, ...]:
    y, p = beam.at(beam.outer, np.inf)
    arm = float(p @ (y - beam.outer) / p.sum()) if p.sum() else 0.0
    over = Step("moment over the outer support", "M_b = -sum P (y - b)",
                (("P outboard", float(p.sum()), "N"), ("its lever", arm, "m")), beam.outer_moment, "N m", STATICS)  # fmt: skip
    if not beam.through:
        return (over, Step("moment at the pin of the root", "M_a = 0", (), 0.0, "N m", STATICS))
    given = (("a", beam.inner, "m"), ("L", beam.long, "m"), ("M_b", beam.outer_moment, "N m"))
    formula = "(6 a + 2 L) M_a + L M_b = -3 sum P (a^2 - y^2) - sum P u (L - u)(2 L - u)/L"
    return (over, Step("moment over the inner support, three moments", formula, given, beam.inner_moment, "N m", BEAM))


def _spoken(part: str) -> str:
    return part.split("-", 1)[1].replace("struts-", "").replace("_", " ").lower()


def _spar_moment(model: Model, answer: Answered, wing: Wing, spar: Spar, beam: Beam, case: int) -> Estimate:
    """The moment over the outer strut. Between the supports it is the small rest of large numbers: none is made there."""
    ours = _about_y(model, answer, wing, spar, case)
    checks = (f"strength.{wing.name}.{spar.name}.caps",)
    at = int(np.argmin(np.abs(beam.y - beam.outer)))
    over = _moments_over(beam)[0]
    return Estimate(f"by_hand.moment.{wing.name}.{spar.name}.outer", f"{spar.name} spar's moment at the strut",
                   answer.laid[case].case.key, abs(beam.outer_moment), abs(float(ours[at])), "N m",
                   (over, *by_hand("|M_b|", (("M_b", beam.outer_moment, "N m"),), abs(beam.outer_moment),
                                   abs(float(ours[at])), "N m", STATICS)),
                   "strut's pin off the spar's middle; ribs that share", beside=checks)  # fmt: skip


def _about_y(model: Model, answer: Answered, wing: Wing, spar: Spar, case: int) -> np.ndarray:
    """(k,) N m, the frame's bending moment of the right half at its nodes, the greater of both sides of a node."""
    y, force = stations(model, wing, spar), answer.limit[0].force[case]
    found = np.zeros(len(y))
    for k, s in enumerate(y):
        node = spar_node(wing.name, spar.name, "R", s)
        for i, b in enumerate(answer.skeleton.bars):
            if b.what == "spar" and b.at[:3] == (wing.name, spar.name, "R") and node in b.ends:
                found[k] = max(found[k], abs(float(force[i, 4 + 6 * b.ends.index(node)])))
    return found


def _tip(model: Model, answer: Answered, wing: Wing, spar: Spar, beam: Beam, case: int, strut: int) -> Estimate:
    bar, way = answer.skeleton.bars[strut], along(answer, strut)
    lift, up, long = beam.outer_lift, abs(float(way[2])), length(answer, strut)
    stretch = lift * long / (bar.section.area * bar.section.youngs * up**2)
    value = beam.tip(stretch)
    node = answer.skeleton.node[spar_node(wing.name, spar.name, "R", stations(model, wing, spar)[-1])]
    ours = float(answer.limit[0].moved[case, node, 2])
    steps = (
        Step("rise of the outer support by the strut's stretch", "s = R l/(E A u_z^2)",
             (("R", lift, "N"), ("l", long, "m"), ("E", bar.section.youngs, "Pa"), ("A", bar.section.area, "m2"), ("u_z", up, "1")),
             stretch, "m", STATICS),
        *by_hand("d = sum P d^2 (3 c - d)/(6 EI) - t_b c + s (c + L)/L, t_b = [L (M_a + 2 M_b) + sum P u (L^2 - u^2)/L]/(6 EI)",
                 (("EI", beam.stiff, "N m2"), ("c", float(beam.y[-1]) - beam.outer, "m"), ("L", beam.long, "m"),
                  ("M_a", beam.inner_moment, "N m"), ("M_b", beam.outer_moment, "N m"), ("s", stretch, "m")),
                 value, ours, "m", BEAM),
    )  # fmt: skip
    return Estimate(f"by_hand.tip.{wing.name}.{spar.name}", f"{spar.name} spar's tip, rise", answer.laid[case].case.key, value,
                    ours, "m", steps, "bending by shear; what fuselage and cabane give; the frame's own turning")  # fmt: skip


# ------------------------------------------------------------------ longeron and mount


def along(answer: Answered, i: int) -> np.ndarray:
    """(3,) from a bar's first end to its second, of length 1."""
    frame = answer.skeleton.frame
    ends = frame.place[frame.ends[i]] + frame.arm[i]
    return np.asarray((ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0]))


def length(answer: Answered, i: int) -> float:
    """Of a bar, m."""
    frame = answer.skeleton.frame
    ends = frame.place[frame.ends[i]] + frame.arm[i]
    return float(np.linalg.norm(ends[1] - ends[0]))


def _longeron(answer: Answered) -> Iterator[Estimate]:
    """The most loaded longeron of the aft fuselage: a box of four longerons under the moments at its bay's middle."""
    frame, bars = answer.skeleton.frame, answer.skeleton.bars
    aft = max((float(frame.place[frame.ends[i], 0].max()) for i, b in enumerate(bars)
               if b.what in ("strut", "link") and _to_wing(b)), default=-math.inf)  # fmt: skip
    those = [i for i, b in enumerate(bars) if _runs_aft(answer, i, b) and frame.place[frame.ends[i], 0].min() > aft - LEAST]
    pull = np.array([_both_sides(answer, i) for i in those]).T
    if not pull.size or not np.isfinite(pull).any():
        yield Estimate("by_hand.longeron", "longeron", "", math.nan, math.nan, "N", why="no longeron behind the wings is found")
        return
    case, k = (int(v) for v in np.unravel_index(int(np.nanargmax(np.abs(pull))), pull.shape))
    i = those[k]
    middle = float(frame.place[frame.ends[i], 0].mean())
    box = _corners(answer, [j for j, b in enumerate(bars) if b.what == "tube" and _spans(answer, j, middle)], middle)
    title = f"longeron {'-'.join(bars[i].ends).lower()}"
    if i not in box or len(box) != 4:
        yield Estimate("by_hand.longeron", title, answer.laid[case].case.key, math.nan, float(pull[case, k]), "N",
                       why=f"{len(box)} corners are found there, and the box by hand has four")  # fmt: skip
        return
    yield _box(answer, case, i, box, middle, title)


def _both_sides(answer: Answered, i: int) -> np.ndarray:
    """(c,) N, what a bar of the right carries at limit load in the cases that are alike on both sides; else NaN."""
    ends = {f"{e[:-1]}L" for e in answer.skeleton.bars[i].ends}
    other = next((j for j, b in enumerate(answer.skeleton.bars) if set(b.ends) == ends and b.what == "tube"), i)
    pull = answer.limit[0].pull
    return np.asarray(np.where(_alike(pull, i, other), pull[:, i], np.nan))


def _box(answer: Answered, case: int, i: int, box: Sequence[int], middle: float, title: str) -> Estimate:
    cut = np.array([_place_at(answer, j, middle) for j in box])
    centre, mine = cut.mean(axis=0), _place_at(answer, i, middle)
    loads, place = at_limit(answer, case), answer.skeleton.frame.place
    behind = place[:, 0] > middle
    arm = place[behind] - centre
    turn = (np.cross(arm, loads[behind, :3]) + loads[behind, 3:]).sum(axis=0)
    axial = float(loads[behind, 0].sum())
    high, up = float(2 * np.abs(cut[:, 2] - centre[2]).mean()), np.sign(mine[2] - centre[2])
    value = float(axial / 4 + up * turn[1] / (2 * high))
    ours = float(answer.limit[0].pull[case, i])
    given = (("F_x", axial, "N"), ("M_y", float(turn[1]), "N m"), ("h", high, "m"))
    steps = by_hand("N = F_x/4 +- M_y/(2 h), upper +, lower -", given, value, ours, "N", STATICS)
    part = answer.skeleton.bars[i].part
    return Estimate("by_hand.longeron", title, answer.laid[case].case.key, value, ours, "N", steps,
                    "at which end of the bay the diagonals meet; bending of welded joints",
                    beside=(f"strength.tube.{part.split('-', 1)[1]}",))  # fmt: skip


def _corners(answer: Answered, crossing: Sequence[int], x: float) -> list[int]:
    """Of the bars that cross a station the outermost in each quarter about their middle: diagonals lie between them."""
    places = np.array([_place_at(answer, j, x) for j in crossing]).reshape(-1, 3)
    centre = (places.min(axis=0) + places.max(axis=0)) / 2 if len(places) else np.zeros(3)
    found: dict[tuple[float, float], int] = {}
    for j, off in sorted(zip(crossing, places - centre, strict=True), key=lambda x: float(np.abs(x[1][1:]).sum())):
        found[float(np.sign(off[1])), float(np.sign(off[2]))] = j
    return [j for (side, up), j in found.items() if side and up]


def _to_wing(bar: Bar) -> bool:
    return any("." in e and not e.startswith((MOUNT, "tailplane", "fin", "elevator", "rudder")) for e in bar.ends)


def _long(answer: Answered, i: int) -> bool:
    return abs(float(along(answer, i)[0])) > 0.9


def _runs_aft(answer: Answered, i: int, bar: Bar) -> bool:
    return bar.what == "tube" and _long(answer, i) and all(e.endswith("R") for e in bar.ends)


def _spans(answer: Answered, i: int, x: float) -> bool:
    ends = answer.skeleton.frame.place[answer.skeleton.frame.ends[i], 0]
    return bool(ends.min() < x < ends.max())


def _place_at(answer: Answered, i: int, x: float) -> np.ndarray:
    a, b = answer.skeleton.frame.place[answer.skeleton.frame.ends[i]]
    return np.asarray(a + (b - a) * (x - a[0]) / (b[0] - a[0]))


def _mount(answer: Answered) -> Iterator[Estimate]:
    """The couple at the mount's feet: what its upper feet carry along, by the moment of all ahead over their height."""
    bars, frame = answer.skeleton.bars, answer.skeleton.frame
    mount = [i for i, b in enumerate(bars) if b.what == "mount"]
    feet = sorted({e for i in mount for e in bars[i].ends if not e.startswith(f"{MOUNT}:")})
    if len(feet) < 3:
        yield Estimate("by_hand.mount", "engine's mount", "", math.nan, math.nan, "N",
                       why=f"{len(feet)} feet, and the couple by hand needs an upper and a lower pair")  # fmt: skip
        return
    place = answer.skeleton.places(feet)
    level = float(place[:, 2].mean())
    upper = {f for f, p in zip(feet, place, strict=True) if p[2] > level}
    ahead = np.array([n.startswith(f"{MOUNT}:") for n in answer.skeleton.names])
    top, low = (np.array([p for f, p in zip(feet, place, strict=True) if (f in upper) == u]).mean(axis=0) for u in (True, False))
    ends = [(i, 0 if bars[i].ends[0] in upper else 1) for i in mount if set(bars[i].ends) & upper]
    ways = np.array([along(answer, i)[0] * (1 if e == 0 else -1) for i, e in ends])
    found = answer.limit[0].pull[:, [i for i, _ in ends]] @ ways  # along x on the feet, aft positive
    case = int(np.nanargmax(np.abs(found)))
    loads = at_limit(answer, case)[ahead]
    turn = float((np.cross(frame.place[ahead] - low, loads[:, :3]) + loads[:, 3:]).sum(axis=0)[1])
    high, value = float(top[2] - low[2]), turn / float(top[2] - low[2])
    steps = by_hand("sum N_x = M_y/h, about the lower feet", (("M_y", turn, "N m"), ("h", high, "m")), abs(value),
                    abs(float(found[case])), "N", STATICS)  # fmt: skip
    parts = tuple(dict.fromkeys(f"strength.tube.{bars[i].part.split('-', 1)[1]}" for i, _ in ends))
    yield Estimate("by_hand.mount", "engine's mount, both upper feet fore and aft", answer.laid[case].case.key, abs(value),
                   abs(float(found[case])), "N", steps, "bending of the mount's tubes, lean of the feet", beside=parts)  # fmt: skip
