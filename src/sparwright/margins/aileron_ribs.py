"""Ribs of an aileron as cantilevers from its spar, and the wing's false spar that its hinges stand on.

    rib         h b and m b of its bay b as a triangle and an even load from hinge to tail, c_f long:
                N_t + N_e = h b,  N_t/3 + N_e/2 = m b/c_f,  xi from the hinge over c_f
                V = N_t (1 - xi)^2 + N_e (1 - xi),  M = c_f (N_t (1 - xi)^3/3 + N_e (1 - xi)^2/2)
    false spar  each hinge's force as on a beam from rib to rib:  M = P a b/l,  up and down and, the horn's push by its
                share, fore and aft; in its web P/H. At a rib the rib takes it: what is left is its feet, one on
                either side, their fasteners e from the hinge's middle:  M = P e/2

Ribs are cut and held against their sheet as a wing's whole ribs are (ribs.py); those built up of strip are not worked
out. Joints of ribs on the spar are not in it. A hinge with no rib on one side of it stands on an end of the false spar
that nothing holds: not worked out. Right and left are one check, the worse. Sources: statics; members wood_rib,
metal_rib.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.controls.motion import Motion
from sparwright.family.model import Model
from sparwright.margins.aileron_loads import Borne, to_hinges
from sparwright.margins.aileron_notches import notch_checks
from sparwright.margins.ailerons import Looked, looked, spar_checks, told_here
from sparwright.margins.edge_spars import edge_strength, section_of, web_uses
from sparwright.margins.rib_loads import Spans
from sparwright.margins.ribs import Cut, cut_of, metal_of, rib_working, sheet_of, use_of
from sparwright.margins.spar_run import Strengths
from sparwright.margins.worst import Worst
from sparwright.parts.aileron import Hinged, ailerons
from sparwright.parts.passages import opened, passings
from sparwright.parts.ribs import AILERON_RIB, RibPlace, hands, rib_groups, rib_number, trussed
from sparwright.parts.stations import bay, rib_stations
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered

BUILT_UP = "not worked out yet"
NO_RIB = "no rib of the wing stands {} of it: the false spar's free end there is not worked out"


def aileron_checks(
    model: Model, answer: Answered, spans: Spans, motions: Sequence[Motion], grained: Strengths
) -> Iterator[Check]:
    """Spar, nose, notches, ribs of every aileron with a frame, and the false spar ahead of it."""
    for h in ailerons(model):
        look = looked(model, h, answer, spans, motions, grained)
        yield from spar_checks(look, grained)
        yield from notch_checks(look, grained)
        yield _ribs(model, look, grained)
        yield from _false_spar(look, grained)


def along_rib(xi: np.ndarray, chord: float, normal: np.ndarray, hinge: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """((r, k) N, (r, k) N m) shear and moment of a rib at xi (k,) of c_f behind the hinge; normal N, hinge N m (r,).

    >>> V, M = along_rib(np.array([0.0, 1.0]), 0.3, np.array([90.0]), np.array([9.0]))     # a triangle: a third
    >>> V.tolist(), M.round(9).tolist()
    ([[90.0, 0.0]], [[9.0, 0.0]])
    """
    even = 6 * (hinge / chord - normal / 3)
    falling = normal - even
    left = 1 - xi
    V = np.outer(falling, left**2) + np.outer(even, left)
    M = chord * (np.outer(falling, left**3) / 3 + np.outer(even, left**2) / 2)
    return np.abs(V), np.abs(M)


def _ribs(model: Model, look: Looked, grained: Strengths) -> Check:
    h, b, wing = look.h, look.b, look.h.wing
    groups = opened(wing, rib_groups(model, wing), passings(model))
    found = [(g, p) for g in groups for p in g if p.piece.name == AILERON_RIB]
    made = [(g, p) for g, p in found if not trussed(wing, g)]
    doubts = [not_known("ribs built up of strip", wing.ribs.sheet.material, BUILT_UP)] if len(made) < len(found) else []
    if not made:
        why = doubts or [not_known("ribs", wing.name, "its aileron has none behind its spar")]
        return told_here(look, "aileron_ribs", "its ribs", Worst(np.nan), why, ())
    lines = sorted({p.where.buttline for _, p in found})
    rows = []
    for g, p in made:
        cut, shear, moment = _borne_by(h, b, p, lines)
        every = use_of(wing.ribs, cut, shear, moment, grained)
        flat = int(np.argmax(np.where(np.isnan(every), -1.0, every)))
        r, k = (int(v) for v in np.unravel_index(flat, every.shape))
        lost = bool(np.isnan(every).any())
        rows.append((float(every[r, k]), g, p, cut, r, k, float(shear[r, k]), float(moment[r, k]), lost))
    use, g, p, cut, r, k, V, M, _ = max(rows, key=lambda x: (np.isfinite(x[0]), x[0]))
    stuff = (metal_of if wing.ribs.flange > 0 else sheet_of)(wing.ribs, grained)
    steps = (
        Step(
            f"rib at BL {p.where.buttline / 0.0254:.1f} in, {cut.x[k] / 0.0254:.1f} in behind the nose: shear",
            "N_t (1 - xi)^2 + N_e (1 - xi)",
            (),
            V,
            "N",
            "statics",
        ),
        Step("moment there", "c_f (N_t (1 - xi)^3/3 + N_e (1 - xi)^2/2)", (), M, "N m", "statics"),
        *rib_working(wing.ribs, cut, k, V, M, stuff[0], use),
    )
    at = Worst(use, 0, int(b.case[r]), 0, 0, any(row[-1] for row in rows))
    return told_here(
        look,
        "aileron_ribs",
        "its ribs behind the spar",
        at,
        [*stuff[1], *doubts],
        steps,
        "their joints on the spar are not in it",
        rib_number(model, wing, g, hands(wing)[0]),
    )


def _borne_by(h: Hinged, b: Borne, p: RibPlace, lines: Sequence[float]) -> tuple[Cut, np.ndarray, np.ndarray]:
    """(a rib behind the spar, (r, k) N, (r, k) N m)."""
    y = p.where.buttline
    at = list(lines).index(y)
    low = (lines[at - 1] + y) / 2 if at else b.y[0]
    high = (lines[at + 1] + y) / 2 if at + 1 < len(lines) else b.y[-1]
    middle, long = (b.y[1:] + b.y[:-1]) / 2, np.diff(b.y)
    weight = long * ((middle >= low) & (middle <= high))
    station, part = h.at(float(np.clip(y, h.root, h.tip)))
    cut = cut_of(p, [(-1.0, -0.5)])
    behind = cut.x > part.face + h.frame.spar.width
    cut = Cut(*(getattr(cut, n)[behind] for n in ("x", "depth", "chord", "hole")))
    chord = station.chord - part.hinge[0]
    xi = np.clip((cut.x - part.hinge[0]) / chord, 0.0, 1.0)
    V, M = along_rib(xi, chord, b.normal @ weight, b.hinge @ weight)
    return cut, V, M


# ------------------------------------------------------------------ false spar


def _false_spar(look: Looked, grained: Strengths) -> Iterator[Check]:
    h, b, wing, spar = look.h, look.b, look.h.wing, look.h.frame.false_spar
    a = wing.aileron
    assert a is not None
    ribs = [
        s.buttline
        for s in rib_stations(wing)
        if s.kind == "wing" and a.inboard - 1e-4 <= s.buttline <= a.outboard + 1e-4
    ]
    places = b.y[b.hinges]
    section = section_of(h, spar, places, False)
    low, high = _beside(ribs, places)
    doubts = _unheld(look, places, low, high)
    off = (h.frame.hinges.foot - h.frame.hinges.edge) / 2  # half of it on a foot either side of a rib
    at_rib = np.isclose(places, low, rtol=0, atol=1e-6)
    lever = np.where(at_rib, off, np.maximum((places - low) * (high - places) / (high - low), off))
    _, shares = to_hinges(b)
    push = np.zeros_like(look.reactions)
    for k, part in shares:
        push[:, k] = part * b.push
    up = np.abs(look.reactions)
    F, found, how = edge_strength(spar, section, grained)
    bent, bowed = up * lever * section.depth / 2 / section.inertia / F, push * lever / (section.aft * F)
    use = bent + bowed
    r, i, at = look.worst(use)
    steps: tuple[Step, ...] = (
        Step(
            f"hinge at BL {places[i] / 0.0254:.1f} in: up",
            "continuous beam",
            (),
            float(up[r, i]),
            "N",
            "strength/members/hinged_beam.py",
        ),
        Step("fore and aft, its share of the horn's push", "P b/l", (), float(push[r, i]), "N", "statics"),
        Step(
            "from rib to rib, or from a rib to its feet",
            "a b/l, e/2 at least",
            (("l", float(high[i] - low[i]), "m"), ("e", 2 * off, "m")),
            float(lever[i]),
            "m",
            "geometry",
        ),
        Step("strength of its edge", how, (), F, "Pa", str(found[0].source)),
        Step(
            "bent up and down",
            "P (a b/l) (H/2)/(I F)",
            (("H", float(section.depth[i]), "m"),),
            float(bent[r, i]),
            "1",
            "timoshenko-gere",
        ),
        Step(
            "bent fore and aft",
            "P (a b/l)/(Z F)",
            (("Z", float(section.aft[i]), "m3"),),
            float(bowed[r, i]),
            "1",
            "timoshenko-gere",
        ),
        *verdict(at.use, "both", (("up and down", float(bent[r, i]), "1"), ("fore and aft", float(bowed[r, i]), "1"))),
    )
    number_ = h.of_wing("FALSE-SPAR")
    yield told_here(
        look,
        "false_spar",
        "the false spar that its hinges stand on, bent",
        at,
        [*found, *doubts],
        steps,
        "blocks behind feet and the wing's skin are not counted; what a rib at a hinge bears fore and aft is not asked",
        number_,
    )
    torn, flat, made = web_uses(up, np.zeros_like(up), section, _widest(h, low, high), grained)
    r, i, at = look.worst(np.maximum(torn, flat))
    steps = (
        Step(
            f"hinge at BL {places[i] / 0.0254:.1f} in: all of it on one side", "P", (), float(up[r, i]), "N", "statics"
        ),
        *verdict(
            at.use,
            "the worse of q/(t F_s) and q/q_cr, q = P/H",
            (("sheared", float(torn[r, i]), "1"), ("flat", float(flat[r, i]), "1")),
        ),
    )
    yield told_here(look, "false_spar_web", "web of the false spar", at, [*made, *doubts], steps, "", number_)


def _beside(ribs: Sequence[float], places: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """((h,) m, (h,) m) the rib at or inboard of each hinge, and the next one outboard; NaN where there is none."""
    low = [max((r for r in ribs if r <= y + 1e-6), default=np.nan) for y in places]
    high = [min((r for r in ribs if r > y + 1e-6), default=np.nan) for y in places]
    return np.array(low), np.array(high)


def _widest(h: Hinged, low: np.ndarray, high: np.ndarray) -> float:
    """The widest bay that a hinge stands in, m; the wing's own there where none is between two ribs."""
    known = (high - low)[np.isfinite(high - low)]
    return float(known.max()) if known.size else bay(h.wing, (h.root + h.tip) / 2)


def _unheld(look: Looked, places: np.ndarray, low: np.ndarray, high: np.ndarray) -> list[Allowable]:
    """Why a hinge's place on the false spar is not known to hold: at no rib, with none on one side of it."""
    found = []
    for y, a, b in zip(places, low, high, strict=True):
        if np.isnan(a) or (np.isnan(b) and y > a + 1e-6):
            name = f"hinge at BL {y / 0.0254:.1f} in"
            found.append(
                not_known(name, look.h.of_wing("FALSE-SPAR"), NO_RIB.format("inboard" if np.isnan(a) else "outboard"))
            )
    return found
