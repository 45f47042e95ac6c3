"""Wooden box spars of the frame: caps, webs, glue and the ply nose that shares their torsion, in the case that decides.

    q = V Q/(n I) + T_box/(2 A_box)      one web; T_box = T GJ_box/GJ, the rest of T is the skin's
    q_skin = (T - T_box)/(2 A_nose)      the skin from the nose to the spar, closed by its web

Bending and thrust at ultimate load are held against rupture, at limit load against the proportional limit (no lasting
set). A ply web stays flat up to ultimate load, since nothing readable says what a buckled one bears. Right and left are
one check, the worse. Sources: strength/members wood_box, ply, ply_buckling, glue.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.family.model import Model, Spar, Wing
from sparwright.margins.spar_run import Run, Strengths, run_of
from sparwright.margins.taken import USED, Taken
from sparwright.margins.worst import Worst, ends_of, force_steps, told, worst_of
from sparwright.strength.members import glue, ply, ply_buckling, wood_box, wood_section
from sparwright.structure.answered import Answered

METHOD = "frame in second order; box of wood"
CROSSED = 90.0  # degrees: one face of the web's plies runs across the cap's grain


def wood_spar_checks(model: Model, answer: Answered, wing: Wing, spar: Spar, strengths: Strengths,
                     taken: Taken = USED) -> Iterator[Check]:  # fmt: skip
    """Caps at ultimate and limit load, webs, webs flat, glue, of one spar."""
    run = run_of(model, answer, wing, spar, taken)
    inner, limit = ends_of(answer.force[:, :, run.bars]), ends_of(answer.limit_force[:, :, run.bars])
    yield _caps(run, answer, inner, strengths, True)
    yield _caps(run, answer, limit, strengths, False)
    flow = web_flow(run, inner)
    yield _webs(run, answer, inner, flow, strengths)
    yield _flat(run, answer, inner, flow, strengths, taken.plies)
    yield _glue(run, answer, inner, strengths)


def _caps(run: Run, answer: Answered, inner: np.ndarray, strengths: Strengths, rupture: bool) -> Check:
    cap = run.spar.cap
    names = ("bending", "compression", "tension") if rupture else ("bending_limit", "compression_limit", "tension")
    found = [strengths(cap.material, n, cap.depth, 0.0) for n in names]
    strength = wood_box.CapStrength(*(a.value for a in found))
    use = wood_box.use(shape_of(run), _cap_loads(inner), strength, rupture)
    at = worst_of(use, run.bars)
    here = run.there(inner, at)
    steps = wood_box.working(shape_at(run, at), _cap_loads(here), strength, rupture)
    kind = "caps" if rupture else "caps_at_limit"
    words = "caps in bending and thrust" if rupture else "caps at limit load, no lasting set"
    return told(f"strength.{run.name}.{kind}", run.title(words), at, answer, run.cap(at), found,
                (*force_steps(here, run.where(at), "ultimate" if rupture else "limit"), *steps), method=METHOD,
                rule="cfr-23-2014 23.303, 23.305" if rupture else "cfr-23-2014 23.305(a)")  # fmt: skip


def _cap_loads(inner: np.ndarray) -> wood_box.CapLoads:
    return wood_box.CapLoads(inner[..., 4], -inner[..., 0], inner[..., 5])


def web_flow(run: Run, inner: np.ndarray) -> np.ndarray:
    """(v, c, b, 2) N/m in the more loaded web: shear and the box's torque together."""
    v = wood_section.values(shape_of(run))
    by_shear = np.abs(inner[..., 2]) * v.first_upper / v.inertia / run.spar.webs
    turned = np.abs(inner[..., 3]) * run.most[:, None]
    return np.asarray(by_shear + (turned / (2 * v.cell) if run.spar.webs == 2 else 0.0))


def _webs(run: Run, answer: Answered, inner: np.ndarray, flow: np.ndarray, strengths: Strengths) -> Check:
    web = run.spar.web
    strength = strengths(web.material, "shear", web.thickness, web.grain)
    at = worst_of(ply.use(flow, web.thickness, strength.value), run.bars)
    q = float(run.there(flow, at))
    steps = ply.working(q, web.thickness, strength.value, source=str(strength.source))
    return told(f"strength.{run.name}.webs", run.title("webs in shear"), at, answer, run.web(at), [strength],
                (*force_steps(run.there(inner, at), run.where(at)), *_flow_steps(run, inner, q, at), *steps),
                method=METHOD)  # fmt: skip


def _flat(run: Run, answer: Answered, inner: np.ndarray, flow: np.ndarray, strengths: Strengths, plies: int) -> Check:
    web = run.spar.web
    youngs = strengths(web.material, "youngs", web.thickness, 0.0)
    bending = ply_bending(web.material, youngs.value, web.thickness, web.grain, plies)
    high = run.depth.mean(axis=1) - 2 * run.spar.cap.depth
    critical = _critical(bending, run.bays, high)
    at = worst_of(ply_buckling.use(flow, critical[:, None]), run.bars)
    q = float(run.there(flow, at))
    steps = ply_buckling.working(
        q, bending, round(float(run.bays[run.which(at)]), 4), round(float(high[run.which(at)]), 4)
    )
    return told(f"strength.{run.name}.buckling", run.title("webs flat up to ultimate load"), at, answer,
                run.web(at), [youngs],
                (*force_steps(run.there(inner, at), run.where(at)), *_flow_steps(run, inner, q, at), *steps),
                method="orthotropic plate between caps and ribs, edges simply held",
                caveat=f"{plies} plies of one thickness are taken")  # fmt: skip


def ply_bending(key: str, youngs: float, thickness: float, grain: float, count: int = USED.plies) -> np.ndarray:
    """D, (3, 3) N m, of a ply web; its veneers' E so that the sheet has `youngs` along its face grain."""
    return ply.stiffness(ply.veneer_of(key, youngs, count), ply.crossed(thickness, count, grain))[1]


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
    v = wood_section.values(shape_of(run))
    flow = np.abs(inner[..., 2]) * v.first_upper / v.inertia + run.spar.webs * _turned(run, inner, v)
    at = worst_of(glue.use(flow, cap.depth, strength.value, CROSSED, run.spar.webs), run.bars)
    q = float(run.there(flow, at))
    steps = glue.working(q, cap.depth, strength.value, CROSSED, run.spar.webs)
    return told(f"strength.{run.name}.glue", run.title("glue of cap to web"), at, answer, run.cap(at), [strength],
                (*force_steps(run.there(inner, at), run.where(at)), *steps), method=METHOD)  # fmt: skip


def _turned(run: Run, inner: np.ndarray, v: wood_section.SparValues) -> np.ndarray | float:
    if run.spar.webs != 2:
        return 0.0
    return np.asarray(np.abs(inner[..., 3]) * run.most[:, None] / (2 * v.cell))


def shape_of(run: Run) -> wood_section.SparShape:
    """Its sections, (b, 2)."""
    return _shape(run, run.depth)


def shape_at(run: Run, at: Worst) -> wood_section.SparShape:
    """The section where something is worst."""
    return _shape(run, run.deep(at))


def _shape(run: Run, depth: float | np.ndarray) -> wood_section.SparShape:
    cap, web = run.spar.cap, run.spar.web
    return wood_section.SparShape(depth, cap.width, cap.depth, cap.depth, web.thickness, run.spar.webs)


def _flow_steps(run: Run, inner: np.ndarray, q: float, at: Worst) -> tuple[Step, ...]:
    shape, here = shape_at(run, at), run.there(inner, at)
    v = wood_section.values(shape)
    given = (
        ("V", float(here[2]), "N"), ("Q", float(v.first_upper), "m3"), ("I", float(v.inertia), "m4"),
        ("n", float(run.spar.webs), "1"), ("T", float(here[3]), "N m"),
        ("box's share", float(run.most[run.which(at)]), "1"), ("A_box", float(v.cell), "m2"),
    )  # fmt: skip
    return (Step("shear flow of one web", "|V| Q/(n I) + |T| share/(2 A_box)", given, q, "N/m", "megson"),)


def uses(run: Run, answer: Answered, strengths: Strengths) -> dict[str, np.ndarray]:
    """(v, c, b, 2) what is used of each strength along a spar, by the last word of its check's id."""
    cap, web = run.spar.cap, run.spar.web
    inner, limit = ends_of(answer.force[:, :, run.bars]), ends_of(answer.limit_force[:, :, run.bars])

    def of_cap(names: tuple[str, ...]) -> wood_box.CapStrength:
        return wood_box.CapStrength(*(strengths(cap.material, n, cap.depth, 0.0).value for n in names))

    broken, lasting = (
        of_cap(("bending", "compression", "tension")),
        of_cap(("bending_limit", "compression_limit", "tension")),
    )
    flow = web_flow(run, inner)
    youngs = strengths(web.material, "youngs", web.thickness, 0.0).value
    bending = ply_bending(web.material, youngs, web.thickness, web.grain)
    critical = _critical(bending, run.bays, run.depth.mean(axis=1) - 2 * cap.depth)
    sheared, split = (
        strengths(web.material, "shear", web.thickness, web.grain).value,
        strengths(cap.material, "shear", cap.depth, 0.0).value,
    )
    return {
        "caps": wood_box.use(shape_of(run), _cap_loads(inner), broken, True),
        "caps_at_limit": wood_box.use(shape_of(run), _cap_loads(limit), lasting, False),
        "webs": ply.use(flow, web.thickness, sheared),
        "buckling": ply_buckling.use(flow, critical[:, None]),
        "glue": glue.use(run.spar.webs * flow, cap.depth, split, CROSSED, run.spar.webs),
    }
