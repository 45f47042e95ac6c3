"""Metal spars of the frame: caps and their yield, webs in shear, webs flat, in the case that decides.

    q = V Q/(n I) + T_box/(2 A_box)      one web, two webs making a box; a single web takes no torque

A web that is flat at ultimate load is held against its shear strength; one that has buckled against diagonal tension,
where that method's range allows. Nothing may be buckled at limit load (the designer's own rule here: skins and webs
that buckle early work rivets loose; common practice, no source). Right and left are one check, the worse.
Sources: strength/members metal_box, web, tension_field.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.family.model import Model, Spar, Wing
from sparwright.margins.metal_skins import edge_thrust
from sparwright.margins.spar_run import Run, Strengths, run_of
from sparwright.margins.taken import USED, Taken
from sparwright.margins.worst import ends_of, force_steps, told, worst_of
from sparwright.strength.allowable import Allowable
from sparwright.strength.members import metal_box, tension_field, web
from sparwright.structure.answered import Answered

METHOD = "frame in second order; metal box"
NU = 0.33


def metal_spar_checks(model: Model, answer: Answered, wing: Wing, spar: Spar, strengths: Strengths,
                      taken: Taken = USED) -> Iterator[Check]:  # fmt: skip
    """Caps, webs at ultimate load, webs flat at limit load, of one spar."""
    run = run_of(model, answer, wing, spar, taken)
    inner, limit = ends_of(answer.force[:, :, run.bars]), ends_of(answer.limit_force[:, :, run.bars])
    yield _caps(run, answer, inner, strengths)
    yield _webs(run, answer, inner, strengths)
    yield _flat(run, answer, limit, strengths)


def spar_of(run: Run, depth: float | np.ndarray) -> metal_box.MetalSpar:
    """Its sections at depths."""
    cap, sheet = run.spar.cap, run.spar.web
    return metal_box.MetalSpar(width=cap.width, cap=cap.depth, depth=depth, web=sheet.thickness, webs=run.spar.webs)


def _metal(key: str, thick: float, strengths: Strengths) -> tuple[metal_box.Metal, list[Allowable]]:
    found = [strengths(key, n, thick, 0.0) for n in ("tension", "yield_tension", "yield_compression", "youngs")]
    pull, yields, crush, youngs = (a.value for a in found)
    return metal_box.Metal(tension=pull, yield_tension=yields, yield_compression=crush, youngs=youngs), found


def _free(run: Run) -> np.ndarray | float:
    """How far the pressed cap is free sideways: from rib to rib with one web, not at all between two."""
    return run.bays[:, None] if run.spar.webs == 1 else 0.0


def _caps(run: Run, answer: Answered, inner: np.ndarray, strengths: Strengths) -> Check:
    metal, found = _metal(run.spar.cap.material, run.spar.cap.depth, strengths)
    skins = edge_thrust(run, answer, inner, strengths)
    use = metal_box.use(inner[..., 4], skins - inner[..., 0], spar_of(run, run.depth), metal, _free(run)).max(axis=0)
    at = worst_of(use, run.bars)
    here = run.there(inner, at)
    free = float(run.bays[run.which(at)]) if run.spar.webs == 1 else 0.0
    pressed = float(run.there(skins, at))
    thrust = Step("thrust with what wrinkled skins press it by", "k q h cot alpha - N", (("N", float(here[0]), "N"),),
                  pressed - float(here[0]), "N", "naca-tn-2661")  # fmt: skip
    own = metal_box.working(float(here[4]), pressed - float(here[0]), spar_of(run, run.deep(at)), metal, free)
    steps = (thrust, *own) if pressed > 0 else own
    return told(f"strength.{run.name}.caps", run.title("caps in bending and thrust"), at, answer, run.cap(at), found,
                (*force_steps(here, run.where(at)), *steps), method=METHOD)  # fmt: skip


def _flow(run: Run, inner: np.ndarray) -> np.ndarray:
    """(v, c, b, 2) N/m of the more loaded web."""
    s = spar_of(run, run.depth)
    q = metal_box.flow(inner[..., 2], s)
    if run.spar.webs == 2:
        cell = (run.spar.cap.width + run.spar.web.thickness) * (run.depth - run.spar.cap.depth)
        q = q + np.abs(inner[..., 3]) * run.most[:, None] / (2 * cell)
    return np.asarray(q)


def _critical(run: Run, youngs: float, yields: float) -> np.ndarray:
    """(b,) Pa, at which the web between two ribs buckles."""
    high = run.depth.mean(axis=1) - 2 * run.spar.cap.depth
    return web.shear_buckling(run.spar.web.thickness, high, run.bays, youngs, yields / math.sqrt(3))


def _webs(run: Run, answer: Answered, inner: np.ndarray, strengths: Strengths) -> Check:
    sheet, q = run.spar.web, _flow(run, inner)
    found = [
        strengths(sheet.material, n, sheet.thickness, 0.0) for n in ("shear", "tension", "youngs", "yield_tension")
    ]
    shear, pull, youngs, yields = (a.value for a in found)
    critical = _critical(run, youngs, yields)
    flat = q / sheet.thickness <= critical[:, None]
    pulled = tension_field.use(q, critical[:, None], _bay(run, youngs), pull, shear)
    at = worst_of(np.where(flat, web.use(q, sheet.thickness, shear), pulled), run.bars)
    here, i = run.there(inner, at), run.which(at)
    high = float(run.depth[i].mean() - 2 * run.spar.cap.depth)
    steps = web.working(float(run.there(q, at)), sheet.thickness, high, float(run.bays[i]), youngs, shear,
                        yields / math.sqrt(3))  # fmt: skip
    return told(f"strength.{run.name}.webs", run.title("webs in shear"), at, answer, run.web(at), found,
                (*force_steps(here, run.where(at)), *steps), method=METHOD,
                caveat="" if bool(run.there(flat, at)) else "buckled at ultimate: by diagonal tension")  # fmt: skip


def _bay(run: Run, youngs: float) -> tension_field.Bay:
    """The web between two ribs; a rib's flange is not counted as an upright."""
    cap = run.spar.cap
    area = cap.width * cap.depth / run.spar.webs
    return tension_field.Bay(
        thickness=run.spar.web.thickness, height=run.depth - cap.depth, spacing=run.bays[:, None], flange=area,
        flange_inertia=2 * cap.width * cap.depth**3 / 12 / run.spar.webs, upright=0.0, youngs=youngs, poisson=NU,
    )  # fmt: skip


def _flat(run: Run, answer: Answered, limit: np.ndarray, strengths: Strengths) -> Check:
    sheet, q = run.spar.web, _flow(run, limit)
    found = [strengths(sheet.material, n, sheet.thickness, 0.0) for n in ("youngs", "yield_tension")]
    youngs, yields = (a.value for a in found)
    at = worst_of(q / sheet.thickness / _critical(run, youngs, yields)[:, None], run.bars)
    here, i = run.there(limit, at), run.which(at)
    high = float(run.depth[i].mean() - 2 * run.spar.cap.depth)
    steps = web.working(float(run.there(q, at)), sheet.thickness, high, float(run.bays[i]), youngs, np.inf,
                        yields / math.sqrt(3))  # fmt: skip
    return told(f"strength.{run.name}.buckling", run.title("webs flat at limit load"), at, answer, run.web(at), found,
                (*force_steps(here, run.where(at), "limit"), *steps), method="flat sheet between caps and ribs",
                rule="cfr-23-2014 23.305")  # fmt: skip


def uses(run: Run, answer: Answered, strengths: Strengths) -> dict[str, np.ndarray]:
    """(v, c, b, 2) what is used of each strength along a spar, by the last word of its check's id."""
    sheet = run.spar.web
    inner, limit = ends_of(answer.force[:, :, run.bars]), ends_of(answer.limit_force[:, :, run.bars])
    metal, _ = _metal(run.spar.cap.material, run.spar.cap.depth, strengths)
    names = ("shear", "tension", "youngs", "yield_tension")
    shear, pull, youngs, yields = (strengths(sheet.material, n, sheet.thickness, 0.0).value for n in names)
    q, critical = _flow(run, inner), _critical(run, youngs, yields)
    pulled = tension_field.use(q, critical[:, None], _bay(run, youngs), pull, shear)
    flat = q / sheet.thickness <= critical[:, None]
    thrust = edge_thrust(run, answer, inner, strengths) - inner[..., 0]
    caps = metal_box.use(inner[..., 4], thrust, spar_of(run, run.depth), metal, _free(run))
    return {
        "caps": caps.max(axis=0),
        "webs": np.where(flat, web.use(q, sheet.thickness, shear), pulled),
        "buckling": _flow(run, limit) / sheet.thickness / critical[:, None],
    }
