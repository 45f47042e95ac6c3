"""Estimates by hand beside what the frame gives: statics and a beam on rigid supports, from the case's loads alone.

    P load at a node, up; a, b buttlines of the inner and the outer support, L = b - a; u = y - a
    overhang         M_b = -sum P (y - b)
    spar through     Clapeyron's three moments at a, the two halves of the aeroplane alike:
                     (6 a + 2 L) M_a + L M_b = -3 sum P (a^2 - y^2) - sum P u (L - u) (2 L - u)/L
    spar pinned      M_a = 0
    lift of strut    R = sum P (outboard) + sum P u/L + (M_a - M_b)/L, pull N = R/|u_z|
    tip              d = sum P d^2 (3 c - d)/(6 EI) + t_b c + s (c + L)/L
                     t_b = L (M_a + 2 M_b)/(6 EI) + sum P u (L^2 - u^2)/(6 L EI), taken with its sign

Loads are those that the case lays on the nodes, inertia in them, at limit load. Left out: thrust of the struts times
sag, shear, ribs and skin that share between the spars, how the frame beneath gives. One step a line, so that each can
be followed. Source: statics; Clapeyron's theorem (timoshenko-gere ch. 1).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Step, by_hand
from sparwright.base.record import number
from sparwright.family.model import Model, Spar, Wing
from sparwright.margins.by_hand_frame import longeron_by_hand, mount_by_hand
from sparwright.margins.estimate import LEAST, STATICS, Estimate, alike, along, at_limit, length
from sparwright.shape.frame import nodes
from sparwright.structure.answered import FLIGHT, Answered
from sparwright.structure.named import called
from sparwright.structure.wings import spar_node, stations

BEAM = "timoshenko-gere ch. 1"


def estimates(model: Model, answer: Answered) -> tuple[Estimate, ...]:
    """Every estimate that this model's shape allows, and the reason for each that it does not."""
    if not answer.laid or not np.isfinite(answer.limit[0].pull).any():
        return ()
    found = [e for wing in model.wings for spar in wing.spars for e in _of_spar(model, answer, wing, spar)]
    return (*found, *longeron_by_hand(answer), *mount_by_hand(answer))


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
        return float(
            over.sum() + p @ (y - self.inner) / self.long + (self.inner_moment - self.outer_moment) / self.long
        )

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
    case = _worstalike(answer, strut)
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
    if not set(answer.skeleton.bars[outer[0]].ends) & set(nodes(model.fuselage)):
        return "its outer strut stands on another wing, which gives"
    return places[0], places[1], not roots, outer[0]


def _worstalike(answer: Answered, strut: int) -> int:
    """The manoeuvre or gust that pulls a strut most, of those alike on both sides, as rigged at limit load."""
    bar = answer.skeleton.bars[strut]
    other = next((i for i, b in enumerate(answer.skeleton.bars) if b.part == bar.part and i != strut), strut)
    pull = answer.limit[0].pull
    flown = np.array([x.case.kind in FLIGHT for x in answer.laid])
    return int(np.nanargmax(np.where(alike(pull, strut, other) & flown, pull[:, strut], -np.inf)))


def _beam(model: Model, answer: Answered, wing: Wing, spar: Spar, case: int, held: tuple[float, float, bool]) -> Beam:
    y = np.array(stations(model, wing, spar))
    nodes = [answer.skeleton.node[spar_node(wing.name, spar.name, "R", s)] for s in y]
    load = at_limit(answer, case)[nodes, 2]
    if held[2] and y[0] < LEAST:
        load = np.array([load[0] / 2, *load[1:]])
    bars = [b for b in answer.skeleton.bars if b.what == "spar" and b.at[:3] == (wing.name, spar.name, "R")]
    stiff = float(np.mean([b.section.youngs * b.section.about_y for b in bars if b.at[3] > held[0]]))
    return Beam(y, load, held[0], held[1], stiff, held[2])


def _pull(answer: Answered, wing: Wing, spar: Spar, beam: Beam, case: int, strut: int) -> Estimate:
    up = abs(float(along(answer, strut)[2]))
    lift, ours = beam.outer_lift, float(answer.limit[0].pull[case, strut])
    value = lift / up
    _, p = beam.at(beam.inner, beam.outer)
    _, over = beam.at(beam.outer, np.inf)
    given = (
        ("P outboard", float(over.sum()), "N"),
        ("P between", float(p.sum()), "N"),
        ("L", beam.long, "m"),
        ("M_a", beam.inner_moment, "N m"),
        ("M_b", beam.outer_moment, "N m"),
    )
    steps = (
        *_moments_over(beam),
        Step("lift at the outer support", "R = sum P outboard + sum P u/L + (M_a - M_b)/L", given, lift, "N", STATICS),
        *by_hand("N = R/|u_z|", (("R", lift, "N"), ("u_z", up, "1")), value, ours, "N", STATICS),
    )
    part = answer.skeleton.bars[strut].part
    return Estimate(
        f"by_hand.pull.{part.split('-', 1)[1]}",
        f"pull of {called(part)}",
        answer.laid[case].case.key,
        value,
        ours,
        "N",
        steps,
        "sharing between spars by ribs; the cabane's give",
        beside=(f"strength.tube.{part.split('-', 1)[1]}",),
    )


def _moments_over(beam: Beam) -> tuple[Step, ...]:
    y, p = beam.at(beam.outer, np.inf)
    arm = float(p @ (y - beam.outer) / p.sum()) if p.sum() else 0.0
    over = Step(
        "moment over the outer support",
        "M_b = -sum P (y - b)",
        (("P outboard", float(p.sum()), "N"), ("its lever", arm, "m")),
        beam.outer_moment,
        "N m",
        STATICS,
    )
    if not beam.through:
        return (over, Step("moment at the pin of the root", "M_a = 0", (), 0.0, "N m", STATICS))
    given = (("a", beam.inner, "m"), ("L", beam.long, "m"), ("M_b", beam.outer_moment, "N m"))
    formula = "(6 a + 2 L) M_a + L M_b = -3 sum P (a^2 - y^2) - sum P u (L - u)(2 L - u)/L"
    return (over, Step("moment over the inner support, three moments", formula, given, beam.inner_moment, "N m", BEAM))


def _spar_moment(model: Model, answer: Answered, wing: Wing, spar: Spar, beam: Beam, case: int) -> Estimate:
    """The moment over the outer strut; farther in it is the small rest of large numbers, and none is made."""
    ours = _about_y(model, answer, wing, spar, case)
    checks = (f"strength.{wing.name}.{spar.name}.caps",)
    at = int(np.argmin(np.abs(beam.y - beam.outer)))
    over = _moments_over(beam)[0]
    return Estimate(
        f"by_hand.moment.{wing.name}.{spar.name}.outer",
        f"{spar.name} spar's moment at the strut",
        answer.laid[case].case.key,
        abs(beam.outer_moment),
        abs(float(ours[at])),
        "N m",
        (
            over,
            *by_hand(
                "|M_b|",
                (("M_b", beam.outer_moment, "N m"),),
                abs(beam.outer_moment),
                abs(float(ours[at])),
                "N m",
                STATICS,
            ),
        ),
        "strut's pin off the spar's middle; ribs that share",
        beside=checks,
    )


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
        Step(
            "rise of the outer support by the strut's stretch",
            "s = R l/(E A u_z^2)",
            (
                ("R", lift, "N"),
                ("l", long, "m"),
                ("E", bar.section.youngs, "Pa"),
                ("A", bar.section.area, "m2"),
                ("u_z", up, "1"),
            ),
            stretch,
            "m",
            STATICS,
        ),
        *by_hand(
            "d = sum P d^2 (3 c - d)/(6 EI) - t_b c + s (c + L)/L, t_b = [L (M_a + 2 M_b) + sum P u (L^2 - "
            "u^2)/L]/(6 EI)",
            (
                ("EI", beam.stiff, "N m2"),
                ("c", float(beam.y[-1]) - beam.outer, "m"),
                ("L", beam.long, "m"),
                ("M_a", beam.inner_moment, "N m"),
                ("M_b", beam.outer_moment, "N m"),
                ("s", stretch, "m"),
            ),
            value,
            ours,
            "m",
            BEAM,
        ),
    )
    return Estimate(
        f"by_hand.tip.{wing.name}.{spar.name}",
        f"{spar.name} spar's tip, rise",
        answer.laid[case].case.key,
        value,
        ours,
        "m",
        steps,
        "bending by shear; what fuselage and cabane give; the frame's own turning",
    )
