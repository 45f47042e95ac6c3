"""An aileron's own structure: spar between its hinges, nose cell from the horn to the ends.

    spar     M of hinged_beam.py, air and hinges' way together:  strips M (H/2)/(I F), a plank 6 M/(t H^2 F_b), a
             channel against crippling of its pressed flange;  web q = V/H + T/(2 A)
    nose     q = T/(2 A), A of nose sheet and web; q/(t F_s) and q/q_cr, the curved sheet from rib to rib

What parts the nose, its notches and the horn, is aileron_notches.py. The wing bends its aileron as far as it bends
itself: the frame's displacement of each hinge is part of the load, and the spar's own stress from it hangs on its depth
alone. The nose sheet is not counted in bending nor the skin behind in torsion (safe side). Unknown: whatever wrinkled
wood or glass bears, and what takes the torque of an aileron without a nose. Right and left are one check, the worse.
Sources: strength/members hinged_beam, d_nose, web, ply, ply_buckling; timoshenko-gere, megson.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.controls.motion import Motion
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.margins.aileron_loads import Borne, bent, borne
from sparwright.margins.edge_spars import METALS, EdgeSection, between_ends, edge_strength, section_of, web_uses
from sparwright.margins.rib_loads import Spans
from sparwright.margins.spar_run import Strengths
from sparwright.margins.wood_spars import ply_bending
from sparwright.margins.worst import Worst, told
from sparwright.parts.aileron import Hinged, nose_number, noses
from sparwright.parts.stations import bay
from sparwright.shape.parted import wrapped
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.members import d_nose, glass, ply, ply_buckling, web
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered

METHOD = "continuous beam on hinges that move with the wing; Bredt's flow in the nose"
NO_NOSE = "without a nose it has no cell: what carries its torque to the horn is not worked out"
GROUND = "a case of hand or wind on the ground could not be laid on it"


@dataclass(frozen=True)
class Looked:
    """An aileron with its loads and sections."""

    h: Hinged
    answer: Answered
    b: Borne
    section: EdgeSection
    moment: np.ndarray = number("N m", "(r, n) in the spar")
    shear: np.ndarray = number("N", "(r, n)")
    reactions: np.ndarray = number("N", "(r, h) of the hinges")
    cell: np.ndarray = number("m2", "(n,) A of the nose; nought without one")

    def worst(self, use: np.ndarray) -> tuple[int, int, Worst]:
        """(row, station, how it is told) of the greatest use (r, n)."""
        flat = int(np.argmax(np.where(np.isnan(use), -1.0, use)))
        r, i = (int(v) for v in np.unravel_index(flat, use.shape))
        known = bool(np.isfinite(use).any())
        return (
            r,
            i,
            Worst(float(use[r, i]) if known else np.nan, 0, int(self.b.case[r]), 0, 0, bool(np.isnan(use).any())),
        )

    @property
    def doubts(self) -> list[Allowable]:
        """Why what would pass is unknown."""
        return [not_known("aileron", self.h.wing.name, GROUND)] if self.b.lost else []


def spar_checks(look: Looked, grained: Strengths) -> Iterator[Check]:
    """Spar, web and nose of an aileron."""
    yield _bending(look, grained)
    yield _web(look, grained)
    if look.h.frame.nose is not None:
        yield from _nose(look, grained)


def looked(
    model: Model, h: Hinged, answer: Answered, spans: Spans, motions: Sequence[Motion], grained: Strengths
) -> Looked:
    """An aileron's loads, sections and moments."""
    b = borne(model, h, answer, spans, motions)
    section = section_of(h, h.frame.spar, b.y, True)
    key = h.frame.spar.strip.material if h.frame.spar.strip else h.frame.spar.material
    E = grained(key, "youngs", h.frame.spar.thickness, 0.0).value
    M, V, R = bent(b, E * float(section.inertia.mean()))
    return Looked(h, answer, b, section, M, V, R, _cells(h, b.y))


def _cells(h: Hinged, y: np.ndarray) -> np.ndarray:
    if h.frame.nose is None:
        return np.zeros(len(y))
    areas = [d_nose.enclosed(wrapped(*h.at(v), h.at(v)[1].face)) for v in (h.root, h.tip)]
    return between_ends(h, y, (areas[0], areas[1]))


def _girth(h: Hinged) -> float:
    s, p = h.at(h.root)
    return d_nose.girth(wrapped(s, p, p.face))


def _name(h: Hinged) -> str:
    return f"aileron of the {h.wing.name}" + ("" if "wing" in h.wing.name else " wing")


def told_here(
    look: Looked,
    kind: str,
    words: str,
    at: Worst,
    found: Sequence[Allowable],
    steps: tuple[Step, ...],
    caveat: str = "",
    part: str = "",
) -> Check:
    """A check of an aileron, with what cannot be laid on it among its doubts."""
    return told(
        f"strength.{look.h.wing.name}.{kind}",
        f"{_name(look.h)}: {words}",
        at,
        look.answer,
        part or look.h.number("SPAR"),
        [*found, *look.doubts],
        steps,
        method=METHOD,
        caveat=caveat,
    )


def there(look: Looked, r: int, i: int) -> tuple[Step, ...]:
    """Moment, shear and torque of a row at a station."""
    b = look.b
    return (
        Step(
            f"at BL {b.y[i] / 0.0254:.1f} in: moment in the spar",
            "continuous beam, hinges moved",
            (),
            float(look.moment[r, i]),
            "N m",
            "strength/members/hinged_beam.py",
        ),
        Step("shear", "the same", (), float(look.shear[r, i]), "N", "strength/members/hinged_beam.py"),
        Step("torque from the free end", "T = int m dy", (), float(b.torque[r, i]), "N m", "statics"),
    )


# ------------------------------------------------------------------ spar


def _bending(look: Looked, grained: Strengths) -> Check:
    s = look.section
    F, found, how = edge_strength(s.spar, s, grained)
    r, i, at = look.worst(np.abs(look.moment) * s.depth / 2 / s.inertia / F)
    given = (("H", float(s.depth[i]), "m"), ("I", float(s.inertia[i]), "m4"), ("F", F, "Pa"))
    steps = (
        *there(look, r, i),
        Step("strength of its edge", how, (), F, "Pa", str(found[0].source)),
        *verdict(at.use, "M (H/2)/(I F)", given, source="timoshenko-gere"),
    )
    return told_here(
        look,
        "aileron_spar",
        "spar bent between its hinges",
        at,
        found,
        steps,
        "nose and skin are not counted; a strip's web neither",
    )


def _web(look: Looked, grained: Strengths) -> Check:
    s, b = look.section, look.b
    closed = look.h.frame.nose is not None
    flow = b.torque / (2 * look.cell) if closed else np.zeros_like(b.torque)
    doubt = [] if closed else [not_known("torque", look.h.number("SPAR"), NO_NOSE)]
    torn, flat, found = web_uses(look.shear, flow, s, bay(look.h.wing, float(b.y.mean())), grained)
    r, i, at = look.worst(np.maximum(torn, flat))
    steps = (
        *there(look, r, i),
        Step(
            "sheared",
            "q/(t F_s), 1.5 times in a plank or channel",
            (("t", s.spar.thickness, "m"),),
            float(torn[r, i]),
            "1",
            str(found[0].source),
        ),
        Step("flat from rib to rib", "q/q_cr", (), float(flat[r, i]), "1", "strength/members/web, ply_buckling"),
        *verdict(at.use, "the worse of both", (("sheared", float(torn[r, i]), "1"), ("flat", float(flat[r, i]), "1"))),
    )
    return told_here(
        look,
        "aileron_web",
        "web of its spar, shear and torque" if closed else "web of its spar in shear, and its torque",
        at,
        [*found, *doubt],
        steps,
        "at ultimate load; nose sheet and web share Bredt's flow" if closed else "at ultimate load; by its shear alone",
    )


# ------------------------------------------------------------------ nose


def _nose(look: Looked, grained: Strengths) -> Iterator[Check]:
    nose, b, h = look.h.frame.nose, look.b, look.h
    assert nose is not None
    q, t, kind = b.torque / (2 * look.cell), nose.thickness, material(nose.material).kind
    part = nose_number(h, _starts(h))
    shear = grained(nose.material, "shear", t, nose.grain)
    r, i, at = look.worst(ply.use(q, t, shear.value))
    cell = Step(
        "shear flow", "q = T/(2 A)", (("A", float(look.cell[i]), "m2"),), float(q[r, i]), "N/m", "timoshenko-gere"
    )
    steps = (*there(look, r, i)[2:], cell, *verdict(at.use, "q/(t F_s)", (("t", t, "m"), ("F_s", shear.value, "Pa"))))
    yield told_here(look, "aileron_nose", "nose sheet in shear", at, [shear], steps, part=part)
    q_cr, found, how = flat_flow(h, nose.material, t, nose.grain, grained)
    r, i, at = look.worst(q / q_cr)
    wrinkled = at.use > 1 and kind not in METALS
    doubt = [not_known("wrinkled nose", nose.material, "what a wrinkled sheet bears is not published in anything read")]
    cell = Step(
        "shear flow", "q = T/(2 A)", (("A", float(look.cell[i]), "m2"),), float(q[r, i]), "N/m", "timoshenko-gere"
    )
    steps = (
        *there(look, r, i)[2:],
        cell,
        Step("flow at which it wrinkles", how, (), q_cr, "N/m"),
        *verdict(at.use, "q/q_cr", (("q_cr", q_cr, "N/m"),)),
    )
    shown = Worst(np.nan, at.variant, at.case, 0, 0, at.lost) if wrinkled else at
    yield told_here(
        look,
        "aileron_nose_flat",
        "nose sheet flat up to ultimate load",
        shown,
        [*found, *(doubt if wrinkled else [])],
        steps,
        part=part,
    )


def _starts(h: Hinged) -> float:
    return noses(h)[0][0]


def flat_flow(h: Hinged, key: str, t: float, grain: float, grained: Strengths) -> tuple[float, list[Allowable], str]:
    """(N/m at which the nose sheet wrinkles between two ribs, strengths, how)."""
    kind, ribs, girth = material(key).kind, bay(h.wing, (h.root + h.tip) / 2) / (h.wing.ribs.nose_ribs + 1), _girth(h)
    youngs = grained(key, "youngs", t, 0.0 if kind == "plywood" else grain)
    if kind in METALS:
        radius = h.at(h.root)[1].radius
        tau = float(web.curved_shear(t, radius, girth / 2, ribs, youngs.value))
        return tau * t, [youngs], "t times the greater of flat sheet and 0.1 E t/R"
    if kind == "plywood":
        D = ply_bending(key, youngs.value, t, grain)
        return (
            float(ply_buckling.shear_flow(D, round(ribs, 3), round(girth, 3))),
            [youngs],
            "as a flat panel, rib by girth",
        )
    G = grained(key, "shear_modulus", t, grain)
    made = glass.Laminate(
        thickness=t,
        tension=np.nan,
        compression=np.nan,
        bending=np.nan,
        shear=np.nan,
        youngs=youngs.value,
        youngs_bent=youngs.value,
        shear_modulus=G.value,
    )
    return float(glass.shear_buckling(made, min(ribs, girth / 2))), [youngs, G], "long flat panel of woven cloth"
