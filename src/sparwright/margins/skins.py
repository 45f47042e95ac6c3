"""Stiff skins of a wing that close a cell on a spar: the share of the torque they take, flat or not, and their edge.

    T_skin = T (1 - share of the box)      q = T_skin/(2 A)      A ahead of the spar, or of the whole section
    strain = |M_y| h/(2 E I_y) + |M_z| w/(2 E I_z) + press/(E A)     the skin follows the spar: N = E_skin t strain

Shear strength at ultimate load. Flat in shear: metal at limit load (the designer's own rule, as for webs), ply and
glass up to ultimate, because what a wrinkled one bears is not published in anything that could be read: past it the
answer is unknown, not a failure. Pressed by the spar's bending besides: past it unknown too. Skins that close on one
spar are each taken to bear all. The edge: glued on the spar's caps, or rivets that nobody has said; a skin over a land
has nothing drawn between it and the spar, so that its cell is not closed. The torque is that of the frame about the
spar's middle; the spar's shear is left to its webs. Sources: strength/members d_nose, web, glass, ply_buckling, glue.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.quantity import inches
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.model import Model, Skin, Spar, Wing
from sparwright.margins.spar_run import Run, Strengths, run_of
from sparwright.margins.taken import USED, Taken
from sparwright.margins.wood_spars import CROSSED, ply_bending
from sparwright.margins.worst import RULE, Worst, ends_of, force_steps, told, worst_of
from sparwright.parts.skins import sheets_at
from sparwright.parts.stations import bay
from sparwright.shape.lifting import cut
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.members import d_nose, glass, glue, ply, ply_buckling, web
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered
from sparwright.structure.sections import stiff_skins

METALS = ("aluminium", "steel")
METHOD = "frame in second order; Bredt's flow in the skin's cell"
LIMIT_RULE = "cfr-23-2014 23.305"
WRINKLED = "what a wrinkled {} skin bears is not published in anything that could be read"
PRESSED = "what a skin wrinkled by the spar's bending still bears in torque is not worked out"


@dataclass(frozen=True)
class Cell:
    """A skin's cell at the middle of each of a spar's b bars."""

    skin: Skin
    area: np.ndarray = number("m2", "(b,) enclosed")
    girth: np.ndarray = number("m", "(b,) from the spar round the nose to the spar, or all round")
    half: np.ndarray = number("m", "(b,) the wider of upper and lower surface")
    radius: np.ndarray = number("m", "(b,) of the flatter surface's rear half, by its rise over a straight line")
    ribs: np.ndarray = number("m", "(b,) distance between ribs under it")


def skin_checks(model: Model, answer: Answered, wing: Wing, spar: Spar, strengths: Strengths,
                taken: Taken = USED) -> Iterator[Check]:  # fmt: skip
    """Shear, flatness, pressing and edge of every stiff skin that ends on a spar or goes round the chord with it."""
    skins = stiff_skins(wing, spar)
    if not skins:
        return
    run = run_of(model, answer, wing, spar, taken)
    for skin in skins:
        cell, kind = cell_of(run, skin), material(skin.material).kind
        inner, limit = ends_of(answer.force[:, :, run.bars]), ends_of(answer.limit_force[:, :, run.bars])
        flown = limit if kind in METALS else inner
        yield _shear(run, cell, answer, inner, strengths)
        yield from _flat(run, cell, answer, flown, strengths, kind)
        yield _edge(run, cell, answer, inner, strengths)


def cell_of(run: Run, skin: Skin) -> Cell:
    """The cell of a skin along a spar."""
    root, tip = run.wing.panels[0].root_buttline, run.wing.panels[-1].tip_buttline
    middles = [float(np.clip(sum(abs(float(n.split(".", 3)[3])) for n in e) / 2 * 0.0254, root, tip)) for e in run.ends]
    rows = []
    for y in middles:
        station = cut(run.wing, run.model.sections, y)
        assert station.points is not None
        ring = (station.points[:, station.points[0] <= skin.end + 1e-9] * station.chord).T
        nose = int(np.argmin(ring[:, 0]))
        sides = (ring[: nose + 1], ring[nose:][::-1])  # each from its rear edge to the nose
        between = bay(run.wing, y) / (run.wing.ribs.nose_ribs + 1 if skin.end < 1 else 1)
        rows.append((d_nose.enclosed(ring), d_nose.girth(ring), max(d_nose.girth(s) for s in sides),
                     max(_radius(s) for s in sides), between))  # fmt: skip
    area, girth, half, radius, ribs = np.array(rows).T
    return Cell(skin, area, girth, half, radius, ribs)


def _radius(side: np.ndarray) -> float:
    """R = l^2/(8 f) + f/2 of the half of a surface (n, 2) nearer to its first point; endless where it is straight."""
    walked = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(side, axis=0).T))])
    part = side[walked <= walked[-1] / 2]
    if len(part) < 3:
        return math.inf
    line = part[-1] - part[0]
    long = float(np.hypot(*line))
    rise = float(np.abs(line[0] * (part[:, 1] - part[0, 1]) - line[1] * (part[:, 0] - part[0, 0])).max()) / long
    return long**2 / (8 * rise) + rise / 2 if rise > 0 else math.inf


def flow(run: Run, cell: Cell, inner: np.ndarray) -> np.ndarray:
    """(v, c, b, 2) N/m in the skin."""
    return d_nose.flow(inner[..., 3] * (1 - run.share)[:, None], cell.area[:, None])


def strain(run: Run, cell: Cell, answer: Answered, inner: np.ndarray, stiff: float) -> np.ndarray:
    """(v, c, b, 2) most that the skin is pressed by following the spar, up or down, fore or aft. stiff: E t, N/m."""
    s = [answer.skeleton.bars[int(i)].section for i in run.bars]
    E, A, up, along = (np.array([getattr(x, n) for x in s])[:, None] for n in ("youngs", "area", "about_y", "about_z"))
    wide = (cell.half if cell.skin.end < 1 else cell.girth / 2)[:, None]
    counted = material(cell.skin.material).kind in (*METALS, "glass")  # in the frame's bars already
    both = E * along + (0.0 if counted else 2 * stiff * wide**3 / 12)
    bent = np.abs(inner[..., 4]) * run.depth / 2 / (E * up) + np.abs(inner[..., 5]) * wide / 2 / both
    return np.asarray(bent + np.maximum(-inner[..., 0], 0.0) / (E * A))


# ------------------------------------------------------------------ checks


def _told(run: Run, cell: Cell, at: Worst, answer: Answered, inner: np.ndarray, kind: str, words: str,
          found: Sequence[Allowable], steps: tuple[Step, ...], doubt: Allowable | None = None) -> Check:  # fmt: skip
    """doubt: why a use over one is unknown and not a failure."""
    skin, past = cell.skin, doubt is not None and at.use > 1
    shown = replace(at, use=np.nan) if past else at
    more = (doubt,) if past and doubt else ()
    return told(f"strength.{run.name}.{kind}.{skin.name}", run.title(f"skin {skin.name}, {words}"), shown, answer,
                _part(run, skin, at), (*found, *more), (*force_steps(run.there(inner, at), run.where(at)), *steps),
                method=METHOD, rule=LIMIT_RULE if "limit" in words else RULE)  # fmt: skip


def _part(run: Run, skin: Skin, at: Worst) -> str:
    """Number of the sheet there: the right one, the upper of two."""
    y = [abs(float(n.split(".", 3)[3])) * 0.0254 for n in run.ends[run.which(at)]]
    root = max(max(y), run.wing.panels[0].root_buttline + 1e-3)  # a strap's bar lies inside the root
    return sheets_at(run.model, run.wing, skin, (min(y), root), "upper" if skin.laid else "")[0].number


def _flow_steps(run: Run, cell: Cell, inner: np.ndarray, at: Worst) -> tuple[float, tuple[Step, ...]]:
    i, T = run.which(at), float(run.there(inner, at)[3])
    mine, A = abs(T) * (1 - float(run.share[i])), float(cell.area[i])
    q = float(d_nose.flow(mine, A))
    return q, (
        Step("torque of the skin", "|T| (1 - share of the box)",
             (("T", T, "N m"), ("share of the box", float(run.share[i]), "1")), mine, "N m", "megson"),
        Step("shear flow", "q = T/(2 A)", (("T", mine, "N m"), ("A", A, "m2")), q, "N/m", "timoshenko-gere"),
    )  # fmt: skip


def _shear(run: Run, cell: Cell, answer: Answered, inner: np.ndarray, strengths: Strengths) -> Check:
    skin = cell.skin
    strength = strengths(skin.material, "shear", skin.thickness, skin.grain)
    at = worst_of(ply.use(flow(run, cell, inner), skin.thickness, strength.value), run.bars)
    q, lines = _flow_steps(run, cell, inner, at)
    given = (("q", q, "N/m"), ("t", skin.thickness, "m"), ("F_s", strength.value, "Pa"))
    steps = verdict(float(ply.use(q, skin.thickness, strength.value)), "q/(t F_s)", given)
    return _told(run, cell, at, answer, inner, "skin_shear", "in shear while it is flat", [strength], (*lines, *steps))


def _flat(run: Run, cell: Cell, answer: Answered, inner: np.ndarray, strengths: Strengths, kind: str
          ) -> Iterator[Check]:  # fmt: skip
    """Flat in shear, and pressed besides."""
    known = _critical(run, cell, strengths, kind)
    q, N = flow(run, cell, inner), known.stiff * strain(run, cell, answer, inner, known.stiff)
    metal, level = kind in METALS, "limit" if kind in METALS else "ultimate"
    at = worst_of(q / known.shear[:, None], run.bars)
    there, lines = _flow_steps(run, cell, inner, at)
    q_cr = float(known.shear[run.which(at)])
    steps = (*lines, Step(f"flow at which it wrinkles, {level} load", known.how, _size(run, cell, at), q_cr, "N/m",
                          known.source),
             *verdict(there / q_cr, "q/q_cr", (("q", there, "N/m"), ("q_cr", q_cr, "N/m"))))  # fmt: skip
    doubt = None if metal else _open(cell.skin, WRINKLED.format(kind))
    yield _told(run, cell, at, answer, inner, "skin_flat", f"flat in shear at {level} load", known.found, steps, doubt)
    at = worst_of(web.use_together(q, known.shear[:, None], N, known.pressed[:, None]), run.bars)
    there, lines = _flow_steps(run, cell, inner, at)
    i, pressed = run.which(at), float(run.there(N, at))
    R_s, R_c = there / float(known.shear[i]), pressed / float(known.pressed[i])
    steps = (*lines,
             Step("pressed by the spar's bending", "N = E t strain", (("E t", known.stiff, "N/m"),), pressed, "N/m",
                  "statics"),
             Step("pressing at which it wrinkles", known.how_pressed, _size(run, cell, at), float(known.pressed[i]),
                  "N/m", known.source),
             Step("flow at which it wrinkles", known.how, _size(run, cell, at), float(known.shear[i]), "N/m",
                  known.source),
             *verdict(float(web.use_together(R_s, 1.0, R_c, 1.0)), "(R_c + sqrt(R_c^2 + 4 R_s^2))/2",
                      (("R_c", R_c, "1"), ("R_s", R_s, "1")), source="bruhn (memory)"))  # fmt: skip
    yield _told(run, cell, at, answer, inner, "skin_pressed", f"sheared and pressed, flat at {level} load", known.found,
                steps, _open(cell.skin, PRESSED))  # fmt: skip


@dataclass(frozen=True)
class Critical:
    """When a skin wrinkles along a spar."""

    shear: np.ndarray = number("N/m", "(b,) flow")
    pressed: np.ndarray = number("N/m", "(b,) pressing along the span")
    stiff: float = number("N/m", "E t along the span")
    found: tuple[Allowable, ...] = ()
    how: str = ""
    how_pressed: str = ""
    source: str = ""


def _critical(run: Run, cell: Cell, strengths: Strengths, kind: str) -> Critical:
    skin, t = cell.skin, cell.skin.thickness
    youngs = strengths(skin.material, "youngs", t, skin.grain if kind not in METALS else 0.0)
    if kind in METALS:
        args = (t, cell.radius, cell.half, cell.ribs, youngs.value)
        return Critical(web.curved_shear(*args) * t, web.curved_compression(*args) * t, youngs.value * t, (youngs,),
                        "t times the greater of flat sheet and 0.1 E t/R, R/t to 1500",
                        "t times the greater of flat sheet and cylinder, R/t to 1500", "bruhn")  # fmt: skip
    if kind == "plywood":
        face = strengths(skin.material, "youngs", t, 0.0)  # of the face grain; the lay-up turns it
        bending = ply_bending(skin.material, face.value, t, skin.grain)
        both = np.array([_ply(bending, a, b) for a, b in zip(cell.ribs, cell.girth, strict=True)]).T
        return Critical(both[0], both[1], _along(skin, face.value), (face,), "as a flat panel, bay by girth",
                        "as a flat panel, bay by girth", ply_buckling.SOURCE)  # fmt: skip
    names = ("youngs", "shear_modulus")
    found = tuple(strengths(skin.material, n, t, skin.grain) for n in names)
    made = glass.Laminate(thickness=t, tension=np.nan, compression=np.nan, bending=np.nan, shear=np.nan,
                          youngs=found[0].value, youngs_bent=found[0].value, shear_modulus=found[1].value)  # fmt: skip
    short = np.minimum(cell.ribs, cell.half)
    column = math.pi**2 * glass.plate(made)[0] / cell.ribs**2  # a wide plate pressed from rib to rib
    return Critical(glass.shear_buckling(made, short), column, found[0].value * t, found,
                    "long flat panel of woven cloth, as wide as its shorter side", "pi^2 D_1/b^2, from rib to rib",
                    "seydel-1933; lekhnitskii")  # fmt: skip


def _ply(bending: np.ndarray, a: float, b: float) -> tuple[float, float]:
    """(q_cr, N_cr), N/m, of a flat panel of ply a along the span by b."""
    a, b = round(a, 3), round(b, 3)
    return float(ply_buckling.shear_flow(bending, a, b)), ply_buckling.panel(bending, a, b, (1.0, 0.0, 0.0))


def _along(skin: Skin, youngs: float) -> float:
    """E t along the span of a ply whose E along its face grain is known."""
    plies = ply.crossed(skin.thickness, ply.PLIES, skin.grain)
    in_plane = ply.stiffness(ply.veneer_of(skin.material, youngs), plies)[0]
    return ply.moduli(in_plane, skin.thickness)[0] * skin.thickness


def _size(run: Run, cell: Cell, at: Worst) -> tuple[tuple[str, float, str], ...]:
    i = run.which(at)
    return (("t", cell.skin.thickness, "m"), ("bay", float(cell.ribs[i]), "m"), ("girth", float(cell.girth[i]), "m"),
            ("width of one surface", float(cell.half[i]), "m"), ("R", float(cell.radius[i]), "m"))  # fmt: skip


def _open(skin: Skin, why: str) -> Allowable:
    return not_known("wrinkled skin", skin.material, why)


# ------------------------------------------------------------------ its edge on the spar


def _edge(run: Run, cell: Cell, answer: Answered, inner: np.ndarray, strengths: Strengths) -> Check:
    """Glue on the caps; rivets that are not said; nothing over a land; the tape of a skin all round."""
    skin, cap = cell.skin, run.spar.cap
    q = flow(run, cell, inner)
    shear = strengths(cap.material, "shear", cap.depth, 0.0)
    use = glue.use(q, cap.width, shear.value, CROSSED)
    at = worst_of(use, run.bars)
    there, lines = _flow_steps(run, cell, inner, at)
    why = _why(run, skin)
    if why:
        found, steps = [_open(skin, why), shear], (*lines, Step("flow that its edge hands over", "q", (), there, "N/m"))
        return _told(run, cell, replace(at, use=np.nan), answer, inner, "skin_edge", "its edge", found, steps)
    steps = (*lines, *glue.working(there, cap.width, shear.value, CROSSED))
    return _told(run, cell, at, answer, inner, "skin_edge", "glue on the spar's caps", [shear], steps)


def _why(run: Run, skin: Skin) -> str:
    """Why the strength of an edge is not known; empty where it is glued to the spar."""
    kind = material(skin.material).kind
    if skin.end >= 1:
        return "no test of the bond of tape at the nose and of the skin at the trailing edge: break coupons"
    if run.spar.land > 0:
        return (f"the skin lies over a land of {inches(run.spar.land)} clear of the spar and nothing is drawn between "
                "them: its flow would bend the ribs' lands sideways, and the cell is not closed")  # fmt: skip
    if kind in METALS:
        return "which rivets hold it to the spar, at which pitch, is not said"
    return ""
