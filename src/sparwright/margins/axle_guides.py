"""Guides of the undercarriage: the slotted plates the axle rises in, under what the frame puts on them.

    P_x, P_z   across the slot and along it, of the axle's force on its guide
    P_y        sideways: both guides' together, on the one that its collar leans on
    u          how far the axle stands up its slot: where the cord, as hard as it may be, holds P_z at limit load;
               nought where no cord is said. For P_y it is the lower of both guides'
    sides      two strips beside the slot, tied by its ends, l its length, the axle at x = (l - u)/l from the upper end:
               M = P_x l (x (1 - x)^2 + x^2 (3 - 2 x)/4) on the one it leans on, N = P_x x^2 (3 - 2 x) l/2/(w + b);
               P_x l/4 and P_x l/2/(w + b) at its lower end. The flange is left out
               out of the plane M_o = P_y (l - u) on both, with their flanges as two angles: M_o/(Z F) at the plate,
               M_o/(Z' min(F, F_cr)) at the flange's free edge, F_cr = 0.388 E (t/h)^2
    upper end  a strip over the slot, straight, held on both sides: M = P_z w/8, w the slot's width and a strip's; it is
               as deep as the plate is there, up to the round about the legs' node
    bearing    P/(D t F_cy): t/D is far below what MIL-HDBK-5's bearing strengths are for
    weld       of the legs' ends on the plate, as the ring of the strongest one, an ellipse as it comes in aslant:
               q = P/L + M s/J + M_o z/I, M = P_x (d - u) and M_o = P_y (d - u) about its middle;  q/(F_w t), t its wall

With the fitting factor. The frame takes a guide to be as stiff as the axle: what it then hands from leg to leg through
the axle, one guide against the other, the legs take where the plates give, and it is left out. What the cord's strands
do to the plate's lower edge, the ear that holds a brake's link, and how plate and flange hand M_o to the legs between
the slot and their rings, are not in it. Sources: statics; strength/joints; F_cr of a plate with one edge free, pressed
evenly, k = 0.43 (timoshenko-gere).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.family.fitted import AxleGuide, Rubber
from sparwright.family.model import Model, Place
from sparwright.ground.springs import cord_pull
from sparwright.margins.braces import Strengths
from sparwright.margins.control_pivots import seam
from sparwright.margins.control_told import special
from sparwright.margins.roots import own_axes
from sparwright.margins.worst import told, worst_of
from sparwright.parts.number import part_number
from sparwright.parts.undercarriage import main_wheel, stop
from sparwright.shape.frame import Run, nodes, runs
from sparwright.strength.members import tube
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered

METHOD = "frame in second order; strips of the guide's plate, held at both ends"
CAVEAT = "the cord's strands on its lower edge, the ear of the brake's link, the plate from slot to legs are not in it"
FREE_EDGE = 0.388  # 0.43 pi^2/(12 (1 - 0.3^2))
FINE = 200  # pieces of the cord's way, and of a ring


def guide_checks(model: Model, answer: Answered, strengths: Strengths) -> Iterator[Check]:
    """Metal round the slot, weld on the legs; right and left are one check, the worse."""
    gear, wheel = model.undercarriage, main_wheel(model)
    bars = answer.skeleton.which(lambda b: b.part == f"{model.name}-gear-GUIDE")
    if gear is None or gear.guide is None or wheel is None or not bars.size:
        return
    factor, first = special("fitting")
    force = factor * np.stack([answer.force[:, :, int(i), 6:9] @ own_axes(answer, int(i)) for i in bars], axis=2)
    force[..., 1] = force[..., 1].sum(axis=2, keepdims=True)
    axle = next(r for r in runs(model.fuselage) if set(gear.axle.split("-")) <= set(r.nodes)).tube.outside
    part, long = part_number(model.name, "gear", "GUIDE", "", "R"), stop(model, wheel)
    held = np.stack([answer.limit_force[:, :, int(i), 6:9] @ own_axes(answer, int(i)) for i in bars], axis=2)[..., 2]
    up = _rise(gear.rubber, np.maximum(held, 0.0), long)
    size = (axle, long, _over(model, gear.guide, wheel.place, long + (axle + gear.guide.fit) / 2))
    yield _slot(answer, gear.guide, force, up, bars, size, strengths, part, first)
    i = int(bars[0])
    down = float(np.abs(np.diff(answer.skeleton.frame.place[answer.skeleton.frame.ends[i]], axis=0))[0, 2])
    yield _weld(model, answer, gear.guide, force, up, bars, down, part, first)


def _legs(model: Model, g: AxleGuide) -> list[Run]:
    ends = [{f"{n}R" for n in h.split("-")} for h in g.held]
    return [r for r in runs(model.fuselage) if {r.nodes[0], r.nodes[-1]} in ends]


def _over(model: Model, g: AxleGuide, axle: Place, top: float) -> float:
    """How deep the plate is over its slot, m. axle: its middle; top: from there to the slot's upper end."""
    legs, known = _legs(model, g), nodes(model.fuselage)
    foot = known[next(iter(set.intersection(*({r.nodes[0], r.nodes[-1]} for r in legs))))]
    r, aside = max(leg.tube.outside for leg in legs) / 2 + g.edge / 2, foot[0] - axle[0]
    return max(g.edge, foot[2] + float(np.sqrt(max(r**2 - aside**2, 0.0))) - axle[2] - top)


def _rise(rubber: Rubber | None, load: np.ndarray, stop: float) -> np.ndarray:
    """How far a load on one guide, N, lifts the axle at least, m: by the cord at the hard end of its band.

    Nought without a cord; NaN where how it pulls is not known.
    """
    if rubber is None:
        return np.zeros_like(load)
    ways = np.linspace(0.0, stop, FINE + 1)
    pulls = np.array([cord_pull(rubber, float(u), 1 + rubber.band) for u in ways])
    return np.full_like(load, np.nan) if np.isnan(pulls).any() else np.asarray(np.interp(load, pulls, ways))


@dataclass(frozen=True)
class Angles:
    """The strips beside the slot with their flanges, both sides together, bent out of the plate's plane."""

    plate: float = number("m3", "section modulus at the plate's face")
    edge: float = number("m3", "at the flange's free edge; the plate's where there is none")
    pressed: float = number("1", "what the free edge buckles at over E; infinite where there is none")


def angles(b: float, t: float, flange: float) -> Angles:
    """b strip's width with the flange, t sheet, flange its depth from the plate's face, m.

    >>> a = angles(0.0127, 0.003175, 0.0)
    >>> round(a.plate / (2 * 0.0127 * 0.003175**2 / 6), 6), a.plate == a.edge
    (1.0, True)
    """
    if not flange:
        return Angles(b * t**2 / 3, b * t**2 / 3, np.inf)
    A_1, A_2, apart = b * t, t * flange, (t + flange) / 2
    at = A_2 * apart / (A_1 + A_2)
    I = (b * t**3 + t * flange**3) / 12 + A_1 * at**2 + A_2 * (apart - at) ** 2
    return Angles(2 * I / (at + t / 2), 2 * I / (t / 2 + flange - at), FREE_EDGE * (t / flange) ** 2)


def _slot(
    answer: Answered,
    g: AxleGuide,
    force: np.ndarray,
    up: np.ndarray,
    bars: np.ndarray,
    size: tuple[float, float, float],
    strengths: Strengths,
    part: str,
    first: Step,
) -> Check:
    axle, long, over = size
    t, b, wide = g.sheet.thickness, g.edge, axle + g.fit + g.edge
    names = ("tension_near_weld", "shear", "yield_compression", "youngs")
    found = [strengths.material(g.sheet.material, n, t) for n in names]
    F, F_s, crush, E = (a.value for a in found)
    both = angles(b, t, g.flange or 0.0)
    borne_at = min(both.plate * F, both.edge * min(F, both.pressed * E))
    P_x, P_y, P_z = (np.abs(force[..., k]) for k in range(3))
    x = (long - up) / long
    sway = x**2 * (3 - 2 * x)  # what the strip hands to the slot's lower end, as part of P_x
    M, N = P_x * long * (x * (1 - x) ** 2 + sway / 4), P_x * sway * long / 2 / wide
    bent = 6 * M / (t * b**2 * F) + N / (b * t * F)
    bowed = P_y * (long - up.min(axis=-1, keepdims=True)) / borne_at
    end = 6 * P_z * wide / 8 / (t * over**2 * F)
    cut, borne = 0.75 * np.hypot(np.maximum(P_x, P_z), P_y) / (t * b * F_s), np.hypot(P_x, P_z) / (axle * t * crush)
    use = np.maximum(tube.together(0.0, np.maximum(bent + bowed, end), cut), borne)
    at = worst_of(use[..., None], bars)
    k = int(np.flatnonzero(bars == at.bar)[0]) if np.isfinite(at.use) else 0
    here = (at.variant, at.case, k)
    sheet = (("t", t, "m"), ("b", b, "m"), ("F", F, "Pa"))
    steps = (
        first,
        *(
            Step(f"{w}, with the factor", n, (), float(P[here]), "N", "maths/frame")
            for w, n, P in (
                ("across the slot", "P_x", P_x),
                ("sideways, both guides' together", "P_y", P_y),
                ("along it", "P_z", P_z),
            )
        ),
        Step(
            "strips beside the slot, in the plane",
            "6 M/(t b^2 F) + N/(b t F), x = (l - u)/l",
            (
                ("l", long, "m"),
                ("u", float(up[here]), "m"),
                ("w + b", wide, "m"),
                *sheet,
                ("M", float(M[here]), "N m"),
                ("N", float(N[here]), "N"),
            ),
            float(bent[here]),
            "1",
            "portal of two stiff ends",
        ),
        Step(
            "the same, out of it",
            "P_y (l - u)/min(Z F, Z' min(F, F_cr))",
            (
                ("l", long, "m"),
                ("u", float(up[here[:2]].min()), "m"),
                ("Z", both.plate, "m3"),
                ("Z'", both.edge, "m3"),
                ("F", F, "Pa"),
                *((("F_cr", both.pressed * E, "Pa"),) if g.flange else ()),
            ),
            float(bowed[here]),
            "1",
            "timoshenko-gere",
        ),
        Step(
            "strip over its end",
            "6 (P_z (w + b)/8)/(t d^2 F)",
            (("w + b", wide, "m"), ("d", over, "m"), *sheet),
            float(end[here]),
            "1",
            "timoshenko-gere",
        ),
        Step("sheared", "R_s = 1.5 (P/2)/(t b F_s)", (("F_s", F_s, "Pa"),), float(cut[here]), "1", "timoshenko-gere"),
        Step(
            "bearing of the axle, as yield alone",
            "P/(D t F_cy)",
            (("D", axle, "m"), ("F_cy", crush, "Pa")),
            float(borne[here]),
            "1",
            "statics",
        ),
        *verdict(at.use, "(R + sqrt(R^2 + 4 R_s^2))/2 of the sides or the end, or bearing", ()),
    )
    return told(
        "strength.guide.slot",
        "guides of the axle: metal round the slot",
        at,
        answer,
        part,
        found,
        steps,
        method=METHOD,
        caveat=CAVEAT,
    )


@dataclass(frozen=True)
class Ring:
    """A leg's seam on the plate, an ellipse."""

    wall: float = number("m", "of the leg")
    long: float = number("m", "L, all round")
    turned: float = number("m2", "J/s, against what turns it in the plate's plane")
    bowed: float = number("m2", "I/z, against what bows the plate sideways")


def ring_of(outside: float, wall: float, way: np.ndarray) -> Ring:
    """way: (3,) along the leg; the plate stands square to the buttline.

    >>> round(ring_of(2.0, 0.1, np.array([0.0, 1.0, 0.0])).bowed, 3)
    3.142
    """
    way = way / np.linalg.norm(way)
    flat, slant = way[[0, 2]], 1 / abs(way[1])
    size = float(np.linalg.norm(flat))
    e = flat / size if size > 1e-9 else np.array([1.0, 0.0])
    a = np.linspace(0.0, 2 * np.pi, 4 * FINE, endpoint=False) + np.pi / (4 * FINE)
    x = outside / 2 * (slant * np.outer(np.cos(a), e) + np.outer(np.sin(a), (-e[1], e[0])))
    step = np.linalg.norm(np.roll(x, -1, axis=0) - np.roll(x, 1, axis=0), axis=1) / 2
    far, off = float(np.hypot(x[:, 0], x[:, 1]).max()), float(np.abs(x[:, 1]).max())
    I_z, I_x = float(step @ x[:, 1] ** 2), float(step @ x[:, 0] ** 2)
    return Ring(wall, float(step.sum()), (I_z + I_x) / far, I_z / off)


def _weld(
    model: Model,
    answer: Answered,
    g: AxleGuide,
    force: np.ndarray,
    up: np.ndarray,
    bars: np.ndarray,
    down: float,
    part: str,
    first: Step,
) -> Check:
    """down: from the legs' node to the axle at its lowest, m. The legs end at one node: the strongest's ring alone."""
    legs, known, F_w = _legs(model, g), nodes(model.fuselage), seam(model, g.sheet.material)
    low = up.min(axis=-1, keepdims=True)  # the lower axle's, for both
    P, (M, M_o) = np.linalg.norm(force, axis=-1), np.moveaxis(np.abs(force[..., :2]) * (down - low)[..., None], -1, 0)
    rows = []
    for leg in legs:
        ring = ring_of(leg.tube.outside, leg.tube.wall, np.subtract(known[leg.nodes[-1]], known[leg.nodes[0]]))
        q, t = P / ring.long + M / ring.turned + M_o / ring.bowed, min(g.sheet.thickness, leg.tube.wall)
        rows.append((worst_of((q / (F_w.value * t))[..., None], bars), q, t, ring))
    at, q, t, ring = min(rows, key=lambda r: r[0].use if np.isfinite(r[0].use) else np.inf)
    k = int(np.flatnonzero(bars == at.bar)[0]) if np.isfinite(at.use) else 0
    here = (at.variant, at.case, k)
    given = (
        ("P", float(P[here]), "N"),
        ("M", float(M[here]), "N m"),
        ("M_o", float(M_o[here]), "N m"),
        ("u", float(up[here[:2]].min()), "m"),
        ("L", ring.long, "m"),
        ("J/s", ring.turned, "m2"),
        ("I/z", ring.bowed, "m2"),
    )
    steps = (
        first,
        Step("flow in the seam", "q = P/L + M/(J/s) + M_o/(I/z)", given, float(q[here]), "N/m", "statics"),
        *verdict(at.use, "q/(F_w t)", (("F_w", F_w.value, "Pa"), ("t", t, "m")), source=str(F_w.source)),
    )
    return told(
        "strength.guide.weld",
        "guides of the axle: weld on the legs",
        at,
        answer,
        part,
        [F_w],
        steps,
        method=METHOD,
        caveat="one leg's ring for all of it: the others and the flange's ends help",
    )
