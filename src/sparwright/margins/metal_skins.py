"""Stiff skins of metal on a spar, wrinkled or not: their stress, ribs and nose bar under them, their rivets.

A metal skin may wrinkle before limit load: no more is asked than that nothing yields there (cfr-23-2014 23.305). The
load at which it wrinkles is told with each working. What is pulled diagonally presses on the ribs round the section and
on nose bar and spar along the span: k q h cot alpha on each, of which the spar's check of its caps takes its own. A
spar bent up or down presses one surface and pulls the other: the skin is held where it is pressed, and is as soft in
torsion as both together. Right and left are one check, the worse. Sources: strength/members curved_tension, crippling,
column.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.data.loader import fasteners, material
from sparwright.margins.skin_cell import (
    METALS,
    Cell,
    Critical,
    cell_of,
    critical,
    flow,
    flow_steps,
    size,
    strains,
    told_of,
    unknown_of,
)  # fmt: skip
from sparwright.margins.spar_run import Run, Strengths
from sparwright.margins.worst import Worst, ends_of, worst_of
from sparwright.strength.allow import joint_allowable
from sparwright.strength.allowable import Allowable
from sparwright.strength.joints import rivet
from sparwright.strength.members import column, curved_tension, metal_rib, rivet_pitch, web
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered
from sparwright.structure.sections import stiff_skins

EDGE = "cfr-23-2014 23.305: wrinkles that go away with the load are no failure"


@dataclass(frozen=True)
class Pulled:
    """A metal skin along its spar: v variants, c cases, b bars, both ends."""

    known: Critical
    panel: curved_tension.Panel  # arrays (b, 1)
    flow: np.ndarray = number("N/m", "(v, c, b, 2)")
    ratio: np.ndarray = number("1", "(v, c, b, 2) load over what wrinkles it, shear and pressing together")
    other: np.ndarray = number("1", "(v, c, b, 2) the same of the surface that is pressed less")

    @cached_property
    def tense(self) -> curved_tension.Tense:
        """What the surface does that is pressed more."""
        return curved_tension.tense(self.flow, self.ratio, self.panel)

    @cached_property
    def less(self) -> curved_tension.Tense:
        """What the other one does."""
        return curved_tension.tense(self.flow, self.other, self.panel)

    @property
    def thrust(self) -> np.ndarray:
        """(v, c, b, 2) N on the spar along the span: half of each surface's."""
        return np.asarray((self.tense.thrust + self.less.thrust) / 2)

    @property
    def kept(self) -> np.ndarray:
        """(v, c, b, 2) G_k/G of both surfaces together, one behind the other round the cell."""
        return np.asarray(2 / (1 / self.tense.kept + 1 / self.less.kept))

    def there(self, run: Run, at: Worst) -> tuple[float, curved_tension.Panel]:
        """(ratio, panel) where something is worst."""
        i, p = run.which(at), self.panel
        one = curved_tension.Panel(thickness=p.thickness, radius=float(np.ravel(p.radius)[i]), rib=p.rib, edge=p.edge,
                                   girth=float(np.ravel(p.girth)[i]), spacing=float(np.ravel(p.spacing)[i]),
                                   youngs=p.youngs)  # fmt: skip
        return float(run.there(self.ratio, at)), one


def metal_skin_checks(run: Run, cell: Cell, answer: Answered, strengths: Strengths) -> Iterator[Check]:
    """Stress at ultimate load, yield at limit load, ribs and nose bar pressed, edge on the spar."""
    inner, limit = ends_of(answer.force[:, :, run.bars]), ends_of(answer.limit_force[:, :, run.bars])
    at_last, at_limit = (pulled(run, cell, answer, x, strengths) for x in (inner, limit))
    yield _stress(run, cell, answer, inner, at_last, strengths, ("shear", "tension"), "skin_shear",
                  "in shear, wrinkled or not")  # fmt: skip
    yield _stress(run, cell, answer, limit, at_limit, strengths, ("yield_tension",), "skin_yield",
                  "no lasting set at limit load")  # fmt: skip
    yield _ribs(run, cell, answer, inner, at_last, strengths)
    if run.wing.nose_bar is not None and cell.skin.start <= 0:
        yield _bar(run, cell, answer, inner, at_last, strengths)
    yield _edge(run, cell, answer, inner, at_last, strengths)


def pulled(run: Run, cell: Cell, answer: Answered, inner: np.ndarray, strengths: Strengths) -> Pulled:
    """A metal skin under the forces (v, c, b, 2, 6) of its spar."""
    skin, bar = cell.skin, run.wing.nose_bar
    known = critical(run, cell, strengths, material(skin.material).kind)
    q, s, N_cr = flow(run, cell, inner), strains(run, cell, answer, inner, known.stiff), known.pressed[:, None]
    bent_cr = skin.thickness * web.bending_buckling(skin.thickness, cell.half, known.found[0].value)[:, None]
    ratio, other = (web.use_together(q, known.shear[:, None], known.stiff * e, N_cr, known.stiff * s.edge, bent_cr)
                    for e in (s.more, s.less))  # fmt: skip
    cap = run.spar.cap
    edge = curved_tension.like_edges(bar.width * bar.depth if bar else 0.0, cap.width * cap.depth)
    panel = curved_tension.Panel(thickness=skin.thickness, radius=cell.radius[:, None], girth=cell.half[:, None],
                                 spacing=cell.ribs[:, None], rib=_flange(run), edge=edge,
                                 youngs=known.found[0].value)  # fmt: skip
    return Pulled(known, panel, q, ratio, other)


def _flange(run: Run) -> float:
    """Area of a rib's bent flange, m2; nought where its ribs are not of metal or flat."""
    ribs = run.wing.ribs
    return ribs.flange * ribs.sheet.thickness if material(ribs.sheet.material).kind in METALS else 0.0


def edge_thrust(run: Run, answer: Answered, inner: np.ndarray, strengths: Strengths) -> np.ndarray:
    """(v, c, b, 2) N that the wrinkled metal skins on a spar press it with along the span."""
    found = np.zeros(inner.shape[:-1])
    for skin in stiff_skins(run.wing, run.spar):
        if material(skin.material).kind in METALS:
            found += pulled(run, cell_of(run, skin), answer, inner, strengths).thrust
    return found


# ------------------------------------------------------------------ checks


def _lines(run: Run, cell: Cell, inner: np.ndarray, x: Pulled, at: Worst) -> tuple[Step, ...]:
    """From the frame's torque to what the skin does with it."""
    q, lines = flow_steps(run, cell, inner, at)
    i, (ratio, panel) = run.which(at), x.there(run, at)
    return (
        *lines,
        Step("flow at which it wrinkles", x.known.how, size(run, cell, at), float(x.known.shear[i]), "N/m",
             x.known.source),
        Step("load over what wrinkles it, pressing by the spar's bending counted in",
             "R = (R_c + sqrt(R_c^2 + 4 (R_s^2 + R_b^2)))/2",
             (("q", q, "N/m"), ("q_cr", float(x.known.shear[i]), "N/m")), ratio, "1", "bruhn (memory)"),
        *curved_tension.working(q, ratio, panel),
    )  # fmt: skip


def _stress(run: Run, cell: Cell, answer: Answered, inner: np.ndarray, x: Pulled, strengths: Strengths,
            names: tuple[str, ...], kind: str, words: str) -> Check:  # fmt: skip
    """Mises' stress of the skin against a tensile strength, and while it is flat q/t against that in shear."""
    skin = cell.skin
    found = [strengths(skin.material, n, skin.thickness, 0.0) for n in names]
    mises, tau = x.tense.mises, x.flow / skin.thickness
    uses = [(tau if n == "shear" else mises) / a.value for n, a in zip(names, found, strict=True)]
    at = worst_of(np.max(uses, axis=0), run.bars)
    there, which = at.use, int(np.argmax([run.there(u, at) for u in uses]))
    given = (("f", there * found[which].value, "Pa"), ("F", found[which].value, "Pa"))
    steps = (*_lines(run, cell, inner, x, at), *verdict(there, "f/F", given))
    return told_of(run, cell, at, answer, inner, kind, words, found, steps, caveat=_wrinkles(run, x, at))


def _wrinkles(run: Run, x: Pulled, at: Worst) -> str:
    ratio = float(run.there(x.ratio, at))
    return f"wrinkled from {1 / ratio:.2f} of that load; {EDGE}" if ratio > 1 else ""


def _ribs(run: Run, cell: Cell, answer: Answered, inner: np.ndarray, x: Pulled, strengths: Strengths) -> Check:
    """The ribs' flanges, pressed round the section by what is pulled."""
    ribs, deep = run.wing.ribs, run.depth.mean(axis=1)
    sheet, names = ribs.sheet, ("tension", "yield_compression", "shear", "youngs")
    found = [strengths(sheet.material, n, sheet.thickness, 0.0) for n in names]
    made = metal_rib.RibMetal(**{n: a.value for n, a in zip(names, found, strict=True)})
    rib = metal_rib.SheetRib(depth=deep, thickness=sheet.thickness, flange=ribs.flange, left=ribs.web_left or deep / 4,
                             hole=1.0 if ribs.web_left else 0.0)  # fmt: skip
    bears = metal_rib.flange_crippling(rib, made)
    pressed = np.where(x.ratio <= 1, 0.0, -x.tense.rib)  # not known where the ratio is not
    at = worst_of(pressed / bears[:, None], run.bars)
    if _flange(run) == 0:
        found = [*found, unknown_of(cell.skin, f"how ribs of {sheet.material} hold a metal skin is not worked out")]
    there, F = float(run.there(pressed, at)), float(bears[run.which(at)])
    steps = (*_lines(run, cell, inner, x, at),
             Step("flange of a rib, pressed", "sigma_R = k tau tan alpha/(A_R/(d t) + 0.5 (1 - k))",
                  (("A_R", _flange(run), "m2"),), there, "Pa", curved_tension.REPORT),
             Step("at which it cripples", "F_cc = 0.316 to 0.342 sqrt(F_cy E)/(b'/t)^0.75",
                  (("f", ribs.flange, "m"), ("t", sheet.thickness, "m")), F, "Pa", "needham-1954 by way of bruhn"),
             *verdict(there / F, "sigma_R/F_cc", (("sigma_R", there, "Pa"), ("F_cc", F, "Pa"))))  # fmt: skip
    return told_of(run, cell, at, answer, inner, "skin_ribs", "ribs under it pressed by its wrinkles", found, steps)


def _bar(run: Run, cell: Cell, answer: Answered, inner: np.ndarray, x: Pulled, strengths: Strengths) -> Check:
    """The nose bar as a column between two ribs, pinned, about its weaker side."""
    bar = run.wing.nose_bar
    assert bar is not None
    thin = min(bar.width, bar.depth)
    found = [strengths(bar.material, n, thin, 0.0) for n in ("youngs", "yield_compression")]
    slim = cell.ribs / (thin / np.sqrt(12.0))
    bears = column.johnson(slim, found[0].value, found[1].value)
    own = -curved_tension.edge_stress(x.tense, x.flow, x.panel, bar.width * bar.depth)
    pressed = np.where(x.ratio <= 1, 0.0, own)
    at = worst_of(pressed / bears[:, None], run.bars)
    if material(bar.material).kind not in METALS:
        found = [
            *found,
            unknown_of(cell.skin, f"how a nose bar of {bar.material} holds a metal skin is not worked out"),
        ]
    there, i = float(run.there(pressed, at)), run.which(at)
    steps = (*_lines(run, cell, inner, x, at),
             Step("nose bar, pressed", "sigma_E = k tau cot alpha/(A_E/(h t) + 0.5 (1 - k))",
                  (("A_E", bar.width * bar.depth, "m2"),), there, "Pa", curved_tension.REPORT),
             Step("what it bears from rib to rib", "Johnson's parabola to F_cy/2, then pi^2 E/x^2; x = d sqrt(12)/b",
                  (("x", float(slim[i]), "1"), ("E", found[0].value, "Pa"), ("F_cy", found[1].value, "Pa")),
                  float(bears[i]), "Pa", "common practice"),
             *verdict(there / float(bears[i]), "sigma_E/F",
                      (("sigma_E", there, "Pa"), ("F", float(bears[i]), "Pa"))))  # fmt: skip
    return told_of(run, cell, at, answer, inner, "skin_bar", "nose bar pressed by its wrinkles", found, steps)


def _edge(run: Run, cell: Cell, answer: Answered, inner: np.ndarray, x: Pulled, strengths: Strengths) -> Check:
    """The rivets along the spar, single shear, one row on each cap; unknown where none are said."""
    skin = cell.skin
    handed = curved_tension.rivet_flow(x.flow, x.tense.k)
    at = worst_of(handed, run.bars)
    there = float(run.there(handed, at))
    lines = (*_lines(run, cell, inner, x, at),
             Step("flow that its edge hands over", "q (1 + 0.414 k)", (), there, "N/m",
                  curved_tension.REPORT))  # fmt: skip
    if not skin.fastener:
        lost = Worst(np.nan, at.variant, at.case, at.bar, at.end)
        why = unknown_of(skin, "which rivets hold it to the spar, at which pitch, is not said")
        return told_of(run, cell, lost, answer, inner, "skin_edge", "its edge", [why], lines)
    one: Allowable = joint_allowable(run.model, "rivet", "shear", fastener=skin.fastener,
                                     of=(skin.material, run.spar.cap.material), thickness=skin.thickness)  # fmt: skip
    crush = strengths(skin.material, "bearing", skin.thickness, 0.0)
    d = fasteners()[skin.fastener].diameter
    each = float(rivet.strength(one.value, d, skin.thickness, crush.value))
    at = worst_of(rivet_pitch.load(handed, skin.pitch) / each, run.bars)
    given = (("q", there, "N/m"), ("p", skin.pitch, "m"), ("P_1", each, "N"))
    size = (("P_s", one.value, "N"), ("F_br", crush.value, "Pa"), ("D", d, "m"), ("t", skin.thickness, "m"))
    steps = (*lines, Step("what one rivet bears", "least of P_s and F_br D t; t/D from 0.18", size, each, "N",
             "mil-hdbk-5"),
             *verdict(there * skin.pitch / each, "q p/P_1", given))  # fmt: skip
    words = f"rivets {skin.fastener} on the spar's caps"
    return told_of(run, cell, at, answer, inner, "skin_edge", words, [one, crush], steps)
