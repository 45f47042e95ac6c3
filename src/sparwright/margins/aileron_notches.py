"""Past the notches of an aileron's nose, and the horn's push fore and aft.

    notch    the nose is open there: the torque goes on as a couple of the spar's two edges, T/d apart, each bent to
             and fro over the gap g:  M = T g/(2 d); of a plank by its own torsion; in the closed skin behind; or where
             the spar is closed behind: of a block by its torsion, T (3 H + 1.8 w)/(H^2 w^2); of two channels by
             Bredt's flow in their box, q = T/(2 A), against shear and buckling of its web
    horn     its push fore and aft between the hinges beside it, as a beam: P a b/l. Open: the spar whole, or its strips
             alone. Closed behind past the horn's notch: a block H w^2/6; a box, both webs and four flanges, against
             crippling of its corners. Beyond the stretch the nose is closed and, two or three inches deep, much stiffer

A block that stops short of the notch's ribs counts for nothing: over what is left only strips are there. The nose sheet
and fabric are not counted. Sources: timoshenko-gere; needham-1954 by way of bruhn C7 (memory, high).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.margins.aileron_loads import to_hinges
from sparwright.margins.ailerons import Looked, there, told_here
from sparwright.margins.edge_spars import METALS, edge_strength
from sparwright.margins.spar_run import Strengths
from sparwright.parts.aileron import covers
from sparwright.parts.stations import Notch, notches
from sparwright.shape.parted import wrapped
from sparwright.strength.allowable import Allowable
from sparwright.strength.members import crippling, d_nose, flat_arm, web
from sparwright.strength.members.margin import verdict

NEAR = 1e-6  # m


def notch_checks(look: Looked, grained: Strengths) -> Iterator[Check]:
    """Past the notches of a nose, and the horn's push fore and aft."""
    if look.h.frame.nose is not None:
        yield _notch(look, grained)
    yield _horn(look, grained)


def _aft_cell(look: Looked) -> tuple[float, float, str] | None:
    """(least area m2, thickness m, material) of the closed stiff skin behind the spar; None under fabric."""
    stiff = [k for k in covers(look.h) if k.thickness > 0 and k.end >= 1 - 1e-6]
    if not stiff:
        return None
    areas = []
    for v in (look.h.root, look.h.tip):
        s, p = look.h.at(v)
        areas.append(d_nose.enclosed(wrapped(s, p, s.chord)) - d_nose.enclosed(wrapped(s, p, p.face)))
    return min(areas), min(k.thickness for k in stiff), stiff[0].material


@dataclass(frozen=True)
class Way:
    """One way torque goes past the notches: its use in r rows at n stations, nought where it is another's."""

    found: tuple[Allowable, ...]
    steps: Callable[[int, int], tuple[Step, ...]]
    words: str
    use: np.ndarray = number("1", "(r, n)")
    caveat: str = ""


def _notch(look: Looked, grained: Strengths) -> Check:
    b, spar = look.b, look.h.frame.spar
    T, gap, closed = np.zeros_like(b.torque), np.zeros(len(b.y)), np.zeros(len(b.y), dtype=bool)
    for n in notches(look.h.wing):
        inside = np.abs(b.y - n.buttline) <= n.half + 0.01
        T[:, inside], gap[inside] = b.torque[:, inside], 2 * n.half
        closed[inside] = _past(look, n)
    if (aft := _aft_cell(look)) is not None:
        ways = [_by_skin(T, aft, grained)]
    else:
        plank = spar.flange == 0 and spar.strip is None
        rest = _by_plank if plank else _by_edges
        ways = [rest(look, np.where(closed, 0.0, T), gap, grained)]
        if closed.any():
            box = _by_box if spar.flange > 0 else _by_block
            ways.append(box(look, np.where(closed, T, 0.0), gap, grained))
    way = max(ways, key=lambda w: (bool(np.isnan(w.use).any()), float(np.max(w.use))))
    r, i, at = look.worst(way.use)
    steps = (*there(look, r, i)[2:], *way.steps(r, i))
    return told_here(look, "aileron_notch", f"past the notches, {way.words}", at, way.found, steps, way.caveat)


def _past(look: Looked, n: Notch) -> bool:
    """Whether the spar is closed behind from beyond one rib of a notch to beyond the other."""
    return any(c.start <= n.ribs[0] and n.ribs[1] <= c.end for c in look.h.frame.closed)


def _by_skin(T: np.ndarray, aft: tuple[float, float, str], grained: Strengths) -> Way:
    area, t, key = aft
    shear = grained(key, "shear", t, 0.0)
    use = T / (2 * area) / (t * shear.value)
    given = (("A", area, "m2"), ("t", t, "m"), ("F_s", shear.value, "Pa"))
    return Way((shear,), lambda r, i: verdict(float(use[r, i]), "T/(2 A t F_s)", given), "by the skin behind the spar",
               use, "whether that skin stays flat is not in it")  # fmt: skip


def _twisted(look: Looked, T: np.ndarray, key: str, thick: float, grained: Strengths, letter: str, words: str,
             caveat: str) -> Way:  # fmt: skip
    """A plank or block as deep as the spar, by its own torsion; letter: what its thickness is called."""
    deep, shear = look.section.depth, grained(key, "shear", thick, 0.0)
    each = [
        flat_arm.twist_stress(T[:, i], flat_arm.flat_cut([(0.0, float(d))], thick)) / shear.value
        for i, d in enumerate(deep)
    ]
    use = np.array(each).T

    def steps(r: int, i: int) -> tuple[Step, ...]:
        given = (("H", float(deep[i]), "m"), (letter, thick, "m"), ("F_s", shear.value, "Pa"))
        return verdict(
            float(use[r, i]), f"T (3 H + 1.8 {letter})/(H^2 {letter}^2 F_s)", given, source="timoshenko-gere"
        )

    return Way((shear,), steps, words, use, caveat)


def _by_plank(look: Looked, T: np.ndarray, gap: np.ndarray, grained: Strengths) -> Way:
    spar = look.h.frame.spar
    return _twisted(look, T, spar.material, spar.thickness, grained, "t", "by the plank's torsion", "")


def _by_block(look: Looked, T: np.ndarray, gap: np.ndarray, grained: Strengths) -> Way:
    strip = look.h.frame.spar.strip
    assert strip is not None
    return _twisted(look, T, strip.material, strip.width, grained, "w", "by the block between its strips",
                    "block and strips as one piece, their web not counted")  # fmt: skip


def _by_edges(look: Looked, T: np.ndarray, gap: np.ndarray, grained: Strengths) -> Way:
    s = look.section
    F, found, how = edge_strength(s.spar, s, grained)
    use = T * gap / (2 * s.apart) / (s.edge * F)

    def steps(r: int, i: int) -> tuple[Step, ...]:
        given = (("g", float(gap[i]), "m"), ("d", float(s.apart[i]), "m"), ("Z of one edge", s.edge, "m3"),
                 ("F", F, "Pa"))  # fmt: skip
        strength = Step("strength of its edge", how, (), F, "Pa", str(found[0].source))
        return (strength, *verdict(float(use[r, i]), "(T g/(2 d))/(Z F)", given, source="statics"))

    return Way(tuple(found), steps, "by the spar's edges bent to and fro", use,
               "what stops short of a notch's ribs is not counted; ribs on both sides hold the edges")  # fmt: skip


def _by_box(look: Looked, T: np.ndarray, gap: np.ndarray, grained: Strengths) -> Way:
    """Two channels of one sheet as a box, by Bredt's flow; its webs flat from rib to rib of the notch."""
    s, t, key = look.section, look.h.frame.spar.thickness, look.h.frame.spar.material
    shear, youngs, yields = (grained(key, n, t, 0.0) for n in ("shear", "youngs", "yield_tension"))
    area = (s.depth - t) * (s.spar.flange - t)
    wide = np.where(gap > 0, gap, 1.0)
    tau = web.shear_buckling(t, s.depth, wide, youngs.value, yields.value / math.sqrt(3))
    q = T / (2 * area)
    torn, flat = q / (t * shear.value), q / (t * tau)
    use = np.maximum(torn, flat)

    def steps(r: int, i: int) -> tuple[Step, ...]:
        return (
            Step("shear flow", "q = T/(2 A)", (("A", float(area[i]), "m2"),), float(q[r, i]), "N/m", "timoshenko-gere"),
            *verdict(
                float(use[r, i]),
                "the worse of q/(t F_s) and q/q_cr",
                (("sheared", float(torn[r, i]), "1"), ("flat", float(flat[r, i]), "1"), ("t", t, "m")),
                source="timoshenko-gere",
            ),
        )

    return Way((shear, youngs, yields), steps, "by the box of both channels", use,
               "the rivets along its flanges are not in it")  # fmt: skip


def _horn_by_skin(look: Looked, aft: tuple[float, float, str], lever: float, grained: Strengths) -> Check:
    """A stiff skin behind the spar bends in its own plane as a deep beam, upper and lower; no notch is in it."""
    b, (_, t, key) = look.b, aft
    a = look.h.wing.aileron
    assert a is not None
    c = min((1 - a.hinge) * look.h.at(v)[0].chord for v in (look.h.root, look.h.tip)) - look.h.frame.setback
    found = [
        grained(key, n, t, 0.0)
        for n in ("tension", "compression" if material(key).kind not in METALS else "yield_compression")
    ]
    F = float(np.minimum(found[0].value, found[1].value))
    r, _, at = look.worst(np.repeat((b.push * lever / (t * c**2 / 3 * F))[:, None], len(b.y), axis=1))
    given = (("P", float(b.push[r]), "N"), ("a b/l", lever, "m"), ("t", t, "m"), ("c", c, "m"), ("F", F, "Pa"))
    steps = (
        Step("push on the horn", "H/arm", (("arm", look.h.frame.horn.arm, "m"),), float(b.push[r]), "N", "statics"),
        *verdict(at.use, "3 P (a b/l)/(t c^2 F)", given, source="timoshenko-gere"),
    )
    return told_here(
        look,
        "aileron_horn",
        "bent fore and aft by the horn's push, by the skin behind the spar",
        at,
        found,
        steps,
        "whether that skin stays flat is not in it",
    )


def _horn(look: Looked, grained: Strengths) -> Check:
    """The horn's push bends the spar fore and aft; closed behind past the horn's notch it is a block or a box."""
    b = look.b
    lever, _ = to_hinges(b)
    if (aft := _aft_cell(look)) is not None:
        return _horn_by_skin(look, aft, lever, grained)
    notch = next((n for n in notches(look.h.wing) if n.horn and abs(n.buttline - look.h.frame.horn.along) < NEAR), None)
    closed = notch is not None and _past(look, notch)
    Z, F, found, how, caveat = _closed_bent(look, grained) if closed else _open_bent(look, grained)
    r, _, at = look.worst(np.repeat((b.push * lever / (Z * F))[:, None], len(b.y), axis=1))
    given = (("P", float(b.push[r]), "N"), ("a b/l", lever, "m"), ("Z", Z, "m3"), ("F", F, "Pa"))
    steps = (
        Step("push on the horn", "H/arm", (("arm", look.h.frame.horn.arm, "m"),), float(b.push[r]), "N", "statics"),
        Step("strength of its edge", how, (), F, "Pa", str(found[0].source)),
        *verdict(at.use, "P (a b/l)/(Z F)", given, source="timoshenko-gere"),
    )
    return told_here(
        look,
        "aileron_horn",
        "spar bent fore and aft by the horn's push",
        at,
        found,
        steps,
        f"from hinge to hinge; {caveat}",
    )


Bent = tuple[float, float, Sequence[Allowable], str, str]


def _open_bent(look: Looked, grained: Strengths) -> Bent:
    """(Z m3, F Pa, strengths, how, caveat) of the spar alone, its strips alone where it has them."""
    F, found, how = edge_strength(look.h.frame.spar, look.section, grained)
    return float(look.section.aft[look.b.horn]), F, found, how, "the nose and the skin behind not counted"


def _closed_bent(look: Looked, grained: Strengths) -> Bent:
    """The same of a spar closed behind: a block as wide as its strips, or a box of two channels."""
    spar, s = look.h.frame.spar, look.section
    H, caveat = float(s.depth[look.b.horn]), "beyond the closed stretch the nose is closed and is not asked"
    if spar.strip is not None:
        F, found, how = edge_strength(spar, s, grained)
        return H * spar.strip.width**2 / 6, F, found, how, caveat
    t, f, own = spar.thickness, spar.flange, spar.flange - spar.thickness - spar.bend_radius
    names = ("tension", "yield_compression", "youngs")
    found = [grained(spar.material, n, t, 0.0) for n in names]
    tension, crush, E = (a.value for a in found)
    F_cc = float(crippling.needham((f - t) / 2, (H - t) / 2, t, E, crush, "none free"))
    pieces = [(H * t, t / 2, H * t**3), ((H - 2 * t) * t, f - t / 2, (H - 2 * t) * t**3)]
    pieces += [
        (2 * (f - t) * t, (f + t) / 2, 2 * t * (f - t) ** 3),
        (2 * (own - t) * t, f - (own + t) / 2, 2 * t * (own - t) ** 3),
    ]
    area = sum(a for a, _, _ in pieces)
    middle = sum(a * x for a, x, _ in pieces) / area
    inertia = sum(a * (x - middle) ** 2 + i / 12 for a, x, i in pieces)
    how = "F_cc = 0.366 sqrt(F_cy E)/(b'/t)^0.75 of a corner, or F_tu"
    return inertia / max(middle, f - middle), float(np.minimum(tension, F_cc)), found, how, caveat
