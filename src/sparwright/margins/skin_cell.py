"""A stiff skin's cell on a spar: its size, the flow in it, how the spar's bending presses it, when it wrinkles.

    T_skin = T (1 - share of the box)      q = T_skin/(2 A)      A ahead of the spar, or of the whole section
    the skin follows the spar: N = E_skin t strain      all over it press/(E A) +- |M_y| h/(2 E I_y)
                                                        at its edges besides |M_z| w/(2 E I_z)

The torque is that of the frame about the spar's middle; the spar's shear is left to its webs. Skins that close on one
spar are each taken to bear all. Sources: strength/members d_nose, web, glass, ply_buckling.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.model import Skin
from sparwright.margins.spar_run import Run, Strengths
from sparwright.margins.wood_spars import ply_bending
from sparwright.margins.worst import RULE, Worst, force_steps, told
from sparwright.parts.skins import sheets_at
from sparwright.parts.stations import bay, nose_bay
from sparwright.shape.lifting import cut
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.members import d_nose, glass, ply, ply_buckling, web
from sparwright.structure.answered import Answered

METALS = ("aluminium", "steel")
METHOD = "frame in second order; Bredt's flow in the skin's cell"
LIMIT_RULE = "cfr-23-2014 23.305"


@dataclass(frozen=True)
class Cell:
    """A skin's cell at the middle of each of a spar's b bars."""

    skin: Skin
    area: np.ndarray = number("m2", "(b,) enclosed")
    girth: np.ndarray = number("m", "(b,) from the spar round the nose to the spar, or all round")
    half: np.ndarray = number("m", "(b,) the wider of upper and lower surface")
    radius: np.ndarray = number("m", "(b,) of the flatter surface's rear half, by its rise over a straight line")
    ribs: np.ndarray = number("m", "(b,) distance between ribs under it")


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
        between = nose_bay(run.wing, y) if skin.end < 1 else bay(run.wing, y)
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


@dataclass(frozen=True)
class Strains:
    """By which a skin is pressed along the span by following its spar, each (v, c, b, 2) and nought where pulled."""

    more: np.ndarray = number("1", "all over the surface that the spar's bending up or down presses")
    less: np.ndarray = number("1", "all over the other one")
    edge: np.ndarray = number("1", "at the worse edge of both, by the spar's bending fore and aft")


def strains(run: Run, cell: Cell, answer: Answered, inner: np.ndarray, stiff: float) -> Strains:
    """How a skin is pressed under the forces (v, c, b, 2, 6) of its spar. stiff: E t, N/m."""
    s = [answer.skeleton.bars[int(i)].section for i in run.bars]
    E, A, up, along = (np.array([getattr(x, n) for x in s])[:, None] for n in ("youngs", "area", "about_y", "about_z"))
    wide = (cell.half if cell.skin.end < 1 else cell.girth / 2)[:, None]
    counted = material(cell.skin.material).kind in (*METALS, "glass")  # in the frame's bars already
    both = E * along + (0.0 if counted else 2 * stiff * wide**3 / 12)
    bent, thrust = np.abs(inner[..., 4]) * run.depth / 2 / (E * up), -inner[..., 0] / (E * A)
    return Strains(np.maximum(thrust + bent, 0.0), np.maximum(thrust - bent, 0.0),
                   np.asarray(np.abs(inner[..., 5]) * wide / 2 / both))  # fmt: skip


# ------------------------------------------------------------------ telling


def told_of(run: Run, cell: Cell, at: Worst, answer: Answered, inner: np.ndarray, kind: str, words: str,
            found: Sequence[Allowable], steps: tuple[Step, ...], doubt: Allowable | None = None,
            caveat: str = "") -> Check:  # fmt: skip
    """The check of a skin. inner: forces at the level the words name; doubt: why a use over one is no failure."""
    skin, past = cell.skin, doubt is not None and at.use > 1
    shown = replace(at, use=np.nan) if past else at
    more, level = (doubt,) if past and doubt else (), "limit" if "limit" in words else "ultimate"
    lines = (*force_steps(run.there(inner, at), run.where(at), level), *steps)
    return told(f"strength.{run.name}.{kind}.{skin.name}", run.title(f"skin {skin.name}, {words}"), shown, answer,
                _part(run, skin, at), (*found, *more), lines, method=METHOD,
                rule=LIMIT_RULE if level == "limit" else RULE, caveat=caveat)  # fmt: skip


def _part(run: Run, skin: Skin, at: Worst) -> str:
    """Number of the sheet there: the right one, the upper of two."""
    y = [abs(float(n.split(".", 3)[3])) * 0.0254 for n in run.ends[run.which(at)]]
    root = max(max(y), run.wing.panels[0].root_buttline + 1e-3)  # a strap's bar lies inside the root
    return sheets_at(run.model, run.wing, skin, (min(y), root), "upper" if skin.laid else "")[0].number


def flow_steps(run: Run, cell: Cell, inner: np.ndarray, at: Worst) -> tuple[float, tuple[Step, ...]]:
    """(q N/m, its lines): from the frame's torque to the flow in the skin."""
    i, T = run.which(at), float(run.there(inner, at)[3])
    mine, A = abs(T) * (1 - float(run.share[i])), float(cell.area[i])
    q = float(d_nose.flow(mine, A))
    return q, (
        Step("torque of the skin", "|T| (1 - share of the box)",
             (("T", T, "N m"), ("share of the box", float(run.share[i]), "1")), mine, "N m", "megson"),
        Step("shear flow", "q = T/(2 A)", (("T", mine, "N m"), ("A", A, "m2")), q, "N/m", "timoshenko-gere"),
    )  # fmt: skip


# ------------------------------------------------------------------ wrinkling


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


def critical(run: Run, cell: Cell, strengths: Strengths, kind: str) -> Critical:
    """When a skin of a kind of material wrinkles in shear alone and pressed alone."""
    skin, t = cell.skin, cell.skin.thickness
    youngs = strengths(skin.material, "youngs", t, skin.grain if kind not in METALS else 0.0)
    if kind in METALS:
        args = (t, cell.radius, cell.half, cell.ribs, youngs.value)
        return Critical(web.curved_shear(*args) * t, web.curved_compression(*args) * t, youngs.value * t, (youngs,),
                        "t times the greater of flat sheet and 0.075 E t/R, R/t to 1500",
                        "t times the greater of flat sheet and cylinder, R/t to 1500",
                        "timoshenko-gere; naca-tn-343")  # fmt: skip
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


def size(run: Run, cell: Cell, at: Worst) -> tuple[tuple[str, float, str], ...]:
    """What a skin's wrinkling hangs on where something is worst, as it goes into a step."""
    i = run.which(at)
    return (("t", cell.skin.thickness, "m"), ("bay", float(cell.ribs[i]), "m"), ("girth", float(cell.girth[i]), "m"),
            ("width of one surface", float(cell.half[i]), "m"), ("R", float(cell.radius[i]), "m"))  # fmt: skip


def unknown_of(skin: Skin, why: str) -> Allowable:
    """That something of a skin is not known, and why."""
    return not_known("wrinkled skin", skin.material, why)
