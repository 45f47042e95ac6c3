"""Wooden box spars of the frame: caps, webs, glue and the ply nose that shares their torsion, in the case that decides.

    q = V Q/(n I) + T_box/(2 A_box)      one web; T_box = T GJ_box/GJ, the rest of T is the skin's
    q_skin = (T - T_box)/(2 A_nose)      the skin from the nose to the spar, closed by its web

Bending and thrust at ultimate load are held against rupture, at limit load against the proportional limit (no lasting
set). A ply web stays flat up to ultimate load, since nothing readable says what a buckled one bears. Right and left are
one check, the worse. Sources: strength/members wood_box, ply, ply_buckling, glue.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.model import Model, Spar, Wing
from sparwright.margins.worst import Worst, ends_of, force_steps, told, worst_of
from sparwright.parts.stations import bay
from sparwright.parts.wing import cap_number, web_number
from sparwright.shape.spar import panel_of
from sparwright.strength.allowable import Allowable
from sparwright.strength.members import glue, ply, ply_buckling, wood_box, wood_section
from sparwright.structure.answered import Answered
from sparwright.structure.bar import Bar
from sparwright.structure.sections import own_twist, skin_twist
from sparwright.structure.wings import axes_at

Strengths = Callable[[str, str, float, float], Allowable]  # material, property, thickness m, grain rad
METHOD = "frame in second order; box of wood"
PLIES = 3  # of a web: thin birch ply has three (common practice, no source)
CROSSED = 90.0  # degrees: one face of the web's plies runs across the cap's grain


@dataclass(frozen=True)
class Run:
    """One spar of a wing, both sides: its bars and what they are."""

    model: Model
    wing: Wing
    spar: Spar
    bars: np.ndarray = number("1", "(b,) places in the frame")
    depth: np.ndarray = number("m", "(b, 2) over the caps at both ends")
    bays: np.ndarray = number("m", "(b,) distance between the ribs beside each")
    share: np.ndarray = number("1", "(b,) part of the torque the box itself takes")

    @property
    def name(self) -> str:
        """As in the ids of its checks."""
        return f"{self.wing.name}.{self.spar.name}"

    @property
    def shape(self) -> wood_section.SparShape:
        """Its sections, (b, 2)."""
        c, w = self.spar.cap, self.spar.web
        return wood_section.SparShape(self.depth, c.width, c.depth, c.depth, w.thickness, self.spar.webs)

    def shape_at(self, at: Worst) -> wood_section.SparShape:
        """The section where something is worst."""
        c, w = self.spar.cap, self.spar.web
        i = int(np.flatnonzero(self.bars == at.bar)[0])
        deep = float(self.depth[i, at.end])
        return wood_section.SparShape(deep, c.width, c.depth, c.depth, w.thickness, self.spar.webs)

    def at_bar(self, values: np.ndarray, at: Worst) -> float:
        """The value of a bar."""
        return float(values[int(np.flatnonzero(self.bars == at.bar)[0])])


def run_of(model: Model, answer: Answered, wing: Wing, spar: Spar) -> Run:
    """A spar of the frame."""
    bars = answer.skeleton.which(lambda b: b.what == "spar" and b.at[:2] == (wing.name, spar.name))
    found = [answer.skeleton.bars[int(i)] for i in bars]
    deep = np.array([[axes_at(model, wing, spar, y).depth for y in _ends(b)] for b in found])
    root, tip = wing.panels[0].root_buttline, wing.panels[-1].tip_buttline
    at = [float(np.clip(b.at[3], root, tip)) for b in found]
    own = [own_twist(spar, float(d.mean())) for d in deep]
    skin = [skin_twist(model, wing, spar, y, float(d.mean())) for y, d in zip(at, deep, strict=True)]
    return Run(model, wing, spar, bars, deep, np.array([bay(wing, y) for y in at]),
               np.array(own) / (np.array(own) + np.array(skin)))  # fmt: skip


def _ends(bar: Bar) -> tuple[float, float]:
    a, b = (float(n.rsplit(".", 2)[1] + "." + n.rsplit(".", 1)[1]) * 0.0254 for n in bar.ends)
    return a, b


def wood_spar_checks(model: Model, answer: Answered, wing: Wing, spar: Spar, strengths: Strengths) -> Iterator[Check]:
    """Caps at ultimate and limit load, webs, webs flat, glue, of one spar."""
    run = run_of(model, answer, wing, spar)
    inner, limit = ends_of(answer.force[:, :, run.bars]), ends_of(answer.limit_force[:, :, run.bars])
    yield _caps(run, answer, inner, strengths, True)
    yield _caps(run, answer, limit, strengths, False)
    flow = web_flow(run, inner)
    yield _webs(run, answer, inner, flow, strengths)
    yield _flat(run, answer, inner, flow, strengths)
    yield _glue(run, answer, inner, strengths)


def _caps(run: Run, answer: Answered, inner: np.ndarray, strengths: Strengths, rupture: bool) -> Check:
    cap = run.spar.cap
    names = ("bending", "compression", "tension") if rupture else ("bending_limit", "compression_limit", "tension")
    found = [strengths(cap.material, n, cap.depth, 0.0) for n in names]
    strength = wood_box.CapStrength(*(a.value for a in found))
    use = wood_box.use(run.shape, _cap_loads(inner), strength, rupture)
    at = worst_of(use, run.bars)
    here = _at(run, inner, at)
    steps = wood_box.working(run.shape_at(at), _cap_loads(here), strength, rupture)
    kind = "caps" if rupture else "caps_at_limit"
    words = "caps in bending and thrust" if rupture else "caps at limit load, no lasting set"
    return told(f"strength.{run.name}.{kind}", _title(run, words), at, answer, _cap(run, at), found,
                (*force_steps(here, _where(run, at)), *steps), method=METHOD,
                rule="cfr-23-2014 23.303, 23.305" if rupture else "cfr-23-2014 23.305(a)")  # fmt: skip


def _cap_loads(inner: np.ndarray) -> wood_box.CapLoads:
    return wood_box.CapLoads(inner[..., 4], -inner[..., 0], inner[..., 5])


def web_flow(run: Run, inner: np.ndarray) -> np.ndarray:
    """(v, c, b, 2) N/m in the more loaded web: shear and the box's torque together."""
    v = wood_section.values(run.shape)
    by_shear = np.abs(inner[..., 2]) * v.first_upper / v.inertia / run.spar.webs
    turned = np.abs(inner[..., 3]) * run.share[:, None]
    return np.asarray(by_shear + (turned / (2 * v.cell) if run.spar.webs == 2 else 0.0))


def _webs(run: Run, answer: Answered, inner: np.ndarray, flow: np.ndarray, strengths: Strengths) -> Check:
    web = run.spar.web
    strength = strengths(web.material, "shear", web.thickness, web.grain)
    at = worst_of(ply.use(flow, web.thickness, strength.value), run.bars)
    q = _flow_at(run, flow, at)
    steps = ply.working(q, web.thickness, strength.value, source=str(strength.source))
    return told(f"strength.{run.name}.webs", _title(run, "webs in shear"), at, answer, _web(run, at), [strength],
                (*force_steps(_at(run, inner, at), _where(run, at)), *_flow_steps(run, inner, q, at), *steps),
                method=METHOD)  # fmt: skip


def _flat(run: Run, answer: Answered, inner: np.ndarray, flow: np.ndarray, strengths: Strengths) -> Check:
    web = run.spar.web
    youngs = strengths(web.material, "youngs", web.thickness, 0.0)
    bending = _ply_bending(web.material, youngs.value, web.thickness, web.grain)
    high = run.depth.mean(axis=1) - 2 * run.spar.cap.depth
    critical = _critical(bending, run.bays, high)
    at = worst_of(ply_buckling.use(flow, critical[:, None]), run.bars)
    q = _flow_at(run, flow, at)
    steps = ply_buckling.working(q, bending, run.at_bar(run.bays, at), run.at_bar(high, at))
    return told(f"strength.{run.name}.buckling", _title(run, "webs flat up to ultimate load"), at, answer,
                _web(run, at), [youngs],
                (*force_steps(_at(run, inner, at), _where(run, at)), *_flow_steps(run, inner, q, at), *steps),
                method="orthotropic plate between caps and ribs, edges simply held",
                caveat=f"{PLIES} plies of one thickness are taken")  # fmt: skip


def _ply_bending(key: str, youngs: float, thickness: float, grain: float) -> np.ndarray:
    """D, (3, 3) N m, of a ply web; its veneers' E so that the sheet has `youngs` along its face grain."""
    species = key.removesuffix("-ply")
    plies = ply.crossed(thickness, PLIES)
    unit = ply.moduli(ply.stiffness(ply.veneer(species, 1.0), plies)[0], thickness)[0]
    wood = ply.veneer(species, youngs / unit)
    return ply.stiffness(wood, ply.crossed(thickness, PLIES, grain))[1]


def _critical(bending: np.ndarray, bays: np.ndarray, high: np.ndarray) -> np.ndarray:
    """(b,) N/m; each size asked once."""
    known: dict[tuple[float, float], float] = {}
    for a, b in zip(bays, high, strict=True):
        size = (round(float(a), 4), round(float(b), 4))
        if size not in known:
            known[size] = float(ply_buckling.shear_flow(bending, *size))
    return np.array([known[round(float(a), 4), round(float(b), 4)] for a, b in zip(bays, high, strict=True)])


def _glue(run: Run, answer: Answered, inner: np.ndarray, strengths: Strengths) -> Check:
    cap = run.spar.cap
    strength = strengths(cap.material, "shear", cap.depth, 0.0)
    v = wood_section.values(run.shape)
    flow = np.abs(inner[..., 2]) * v.first_upper / v.inertia + run.spar.webs * _turned(run, inner, v)
    at = worst_of(glue.use(flow, cap.depth, strength.value, CROSSED, run.spar.webs), run.bars)
    q = _flow_at(run, flow, at)
    steps = glue.working(q, cap.depth, strength.value, CROSSED, run.spar.webs)
    return told(f"strength.{run.name}.glue", _title(run, "glue of cap to web"), at, answer, _cap(run, at), [strength],
                (*force_steps(_at(run, inner, at), _where(run, at)), *steps), method=METHOD)  # fmt: skip


def _turned(run: Run, inner: np.ndarray, v: wood_section.SparValues) -> np.ndarray | float:
    if run.spar.webs != 2:
        return 0.0
    return np.asarray(np.abs(inner[..., 3]) * run.share[:, None] / (2 * v.cell))


# ------------------------------------------------------------------ telling


def _at(run: Run, inner: np.ndarray, at: Worst) -> np.ndarray:
    return np.asarray(inner[at.variant, at.case, int(np.flatnonzero(run.bars == at.bar)[0]), at.end])


def _flow_at(run: Run, flow: np.ndarray, at: Worst) -> float:
    return float(flow[at.variant, at.case, int(np.flatnonzero(run.bars == at.bar)[0]), at.end])


def _flow_steps(run: Run, inner: np.ndarray, q: float, at: Worst) -> tuple[Step, ...]:
    shape, here = run.shape_at(at), _at(run, inner, at)
    v = wood_section.values(shape)
    given = (
        ("V", float(here[2]), "N"), ("Q", float(v.first_upper), "m3"), ("I", float(v.inertia), "m4"),
        ("n", float(run.spar.webs), "1"), ("T", float(here[3]), "N m"), ("box's share", run.at_bar(run.share, at), "1"),
        ("A_box", float(v.cell), "m2"),
    )  # fmt: skip
    return (Step("shear flow of one web", "|V| Q/(n I) + |T| share/(2 A_box)", given, q, "N/m", "megson-2010"),)


def _title(run: Run, words: str) -> str:
    wing = run.wing.name if "wing" in run.wing.name else f"{run.wing.name} wing"
    return f"{wing}, {run.spar.name} spar: {words}"


def _where(run: Run, at: Worst) -> str:
    i = int(np.flatnonzero(run.bars == at.bar)[0])
    return f"{run.spar.name} spar, depth {run.depth[i, at.end] / 0.0254:.2f} in"


def _buttline(run: Run, at: Worst, bars: Sequence[Bar]) -> float:
    return _ends(bars[at.bar])[at.end]


def _cap(run: Run, at: Worst) -> str:
    return cap_number(run.model, run.wing, panel_of(run.wing, run.wing.panels[0].tip_buttline), run.spar, "upper")


def _web(run: Run, at: Worst) -> str:
    return web_number(run.model, run.wing, panel_of(run.wing, run.wing.panels[0].tip_buttline), run.spar)


__all__ = ["Run", "material", "run_of", "web_flow", "wood_spar_checks"]
