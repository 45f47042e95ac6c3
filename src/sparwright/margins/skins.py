"""Stiff skins of a wing that close a cell on a spar: the share of the torque they take, flat or not, and their edge.

Shear strength at ultimate load; those of metal are looked at by metal_skins.py, past wrinkling too. Ply and glass are
to be flat in shear up to ultimate, because what a wrinkled one bears is not published in anything that could be read:
past it the answer is unknown, not a failure. Pressed by the spar's bending besides: past it unknown too. The edge:
glued on the spar's caps, or riveted as the file says; a skin over a land has nothing drawn between it and the spar, so
that its cell is not closed. Sources: strength/members d_nose, glass, ply_buckling, glue; skin_cell.py.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.quantity import inches
from sparwright.data.loader import material
from sparwright.family.model import Model, Skin, Spar, Wing
from sparwright.margins.metal_skins import metal_skin_checks
from sparwright.margins.skin_cell import (
    METALS,
    Cell,
    Strains,
    cell_of,
    critical,
    flow,
    flow_steps,
    size,
    strains,
    told_of,
    unknown_of,
)
from sparwright.margins.spar_run import Run, Strengths, run_of
from sparwright.margins.taken import USED, Taken
from sparwright.margins.wood_spars import CROSSED
from sparwright.margins.worst import ends_of, worst_of
from sparwright.strength.members import glue, ply, web
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered
from sparwright.structure.sections import stiff_skins

WRINKLED = "what a wrinkled {} skin bears is not published in anything that could be read"
PRESSED = "what a skin wrinkled by the spar's bending still bears in torque is not worked out"


def skin_checks(model: Model, answer: Answered, wing: Wing, spar: Spar, strengths: Strengths,
                taken: Taken = USED) -> Iterator[Check]:  # fmt: skip
    """Shear, flatness, pressing and edge of every stiff skin that ends on a spar or goes round the chord with it."""
    skins = stiff_skins(wing, spar)
    if not skins:
        return
    run = run_of(model, answer, wing, spar, taken)
    inner = ends_of(answer.force[:, :, run.bars])
    for skin in skins:
        cell, kind = cell_of(run, skin), material(skin.material).kind
        if kind in METALS:
            yield from metal_skin_checks(run, cell, answer, strengths)
        else:
            yield _shear(run, cell, answer, inner, strengths)
            yield from _flat(run, cell, answer, inner, strengths, kind)
            yield _edge(run, cell, answer, inner, strengths)


def _pressed(s: Strains) -> np.ndarray:
    """(v, c, b, 2) the strain at the worst edge, taken all over the skin: on the safe side."""
    return np.asarray(np.maximum(s.more, 0.0) + s.edge)


def _shear(run: Run, cell: Cell, answer: Answered, inner: np.ndarray, strengths: Strengths) -> Check:
    skin = cell.skin
    strength = strengths(skin.material, "shear", skin.thickness, skin.grain)
    at = worst_of(ply.use(flow(run, cell, inner), skin.thickness, strength.value), run.bars)
    q, lines = flow_steps(run, cell, inner, at)
    given = (("q", q, "N/m"), ("t", skin.thickness, "m"), ("F_s", strength.value, "Pa"))
    steps = verdict(float(ply.use(q, skin.thickness, strength.value)), "q/(t F_s)", given)
    return told_of(
        run, cell, at, answer, inner, "skin_shear", "in shear while it is flat", [strength], (*lines, *steps)
    )


def _flat(run: Run, cell: Cell, answer: Answered, inner: np.ndarray, strengths: Strengths, kind: str
          ) -> Iterator[Check]:  # fmt: skip
    """Flat in shear, and pressed besides."""
    known = critical(run, cell, strengths, kind)
    q, N = flow(run, cell, inner), known.stiff * _pressed(strains(run, cell, answer, inner, known.stiff))
    at = worst_of(q / known.shear[:, None], run.bars)
    there, lines = flow_steps(run, cell, inner, at)
    q_cr = float(known.shear[run.which(at)])
    steps = (*lines, Step("flow at which it wrinkles, ultimate load", known.how, size(run, cell, at), q_cr, "N/m",
                          known.source),
             *verdict(there / q_cr, "q/q_cr", (("q", there, "N/m"), ("q_cr", q_cr, "N/m"))))  # fmt: skip
    doubt = unknown_of(cell.skin, WRINKLED.format(kind))
    yield told_of(
        run, cell, at, answer, inner, "skin_flat", "flat in shear at ultimate load", known.found, steps, doubt
    )
    at = worst_of(web.use_together(q, known.shear[:, None], N, known.pressed[:, None]), run.bars)
    there, lines = flow_steps(run, cell, inner, at)
    i, pressed = run.which(at), float(run.there(N, at))
    R_s, R_c = there / float(known.shear[i]), pressed / float(known.pressed[i])
    steps = (*lines,
             Step("pressed by the spar's bending", "N = E t strain", (("E t", known.stiff, "N/m"),), pressed, "N/m",
                  "statics"),
             Step("pressing at which it wrinkles", known.how_pressed, size(run, cell, at), float(known.pressed[i]),
                  "N/m", known.source),
             Step("flow at which it wrinkles", known.how, size(run, cell, at), float(known.shear[i]), "N/m",
                  known.source),
             *verdict(float(web.use_together(R_s, 1.0, R_c, 1.0)), "(R_c + sqrt(R_c^2 + 4 R_s^2))/2",
                      (("R_c", R_c, "1"), ("R_s", R_s, "1")), source="bruhn (memory)"))  # fmt: skip
    words = "sheared and pressed, flat at ultimate load"
    yield told_of(run, cell, at, answer, inner, "skin_pressed", words, known.found, steps,
                  unknown_of(cell.skin, PRESSED))  # fmt: skip


# ------------------------------------------------------------------ its edge on the spar


def _edge(run: Run, cell: Cell, answer: Answered, inner: np.ndarray, strengths: Strengths) -> Check:
    """Glue on the caps; nothing over a land; the tape of a skin all round."""
    skin, cap = cell.skin, run.spar.cap
    q = flow(run, cell, inner)
    shear = strengths(cap.material, "shear", cap.depth, 0.0)
    use = glue.use(q, cap.width, shear.value, CROSSED)
    at = worst_of(use, run.bars)
    there, lines = flow_steps(run, cell, inner, at)
    why = _why(run, skin)
    if why:
        found, steps = (
            [unknown_of(skin, why), shear],
            (*lines, Step("flow that its edge hands over", "q", (), there, "N/m")),
        )
        return told_of(run, cell, replace(at, use=np.nan), answer, inner, "skin_edge", "its edge", found, steps)
    steps = (*lines, *glue.working(there, cap.width, shear.value, CROSSED))
    return told_of(run, cell, at, answer, inner, "skin_edge", "glue on the spar's caps", [shear], steps)


def _why(run: Run, skin: Skin) -> str:
    """Why the strength of an edge is not known; empty where it is glued to the spar."""
    if skin.end >= 1:
        return "no test of the bond of tape at the nose and of the skin at the trailing edge: break coupons"
    if run.spar.land > 0:
        return (f"the skin lies over a land of {inches(run.spar.land)} clear of the spar and nothing is drawn between "
                "them: its flow would bend the ribs' lands sideways, and the cell is not closed")  # fmt: skip
    return ""
