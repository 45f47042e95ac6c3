"""Spar caps, webs, glue and braces held against their materials: the checks of the strength room."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from sparwright.base.check import Check, Step, check
from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.loader import cable_strength, material
from sparwright.family.model import Model, Spar, Strut, Wing, Wire
from sparwright.loads.spanwise import WingLoad
from sparwright.parts.frame import tube_area
from sparwright.parts.stations import bay
from sparwright.parts.struts import strut_number, wire_number
from sparwright.parts.wing import cap_number, web_number
from sparwright.shape.lifting import panel_at
from sparwright.strength import beam_box
from sparwright.strength.bracing import joined
from sparwright.strength.spars import Brace, SparRun, run_all

METHOD = "beam on rigid supports, load by the lattice, 1.5 on limit load"
STATICS = "statics; the load of joined wings comes together here"
RULE = "cfr-23-2014 23.303, 23.305"
OPEN = (
    "first check: secondary bending under thrust, sinking supports, torsion, local crippling, rivets of cap to web, "
    "cabane struts, negative, gust-down and landing cases are not in it"
)
GLUE_SHARE = 1 / 3  # of the wood's shear along the grain where one face's grain crosses, FPL Report 1522 (read)
T = TypeVar("T")
WORST = ("fail", "unknown", "pass")


@dataclass(frozen=True)
class Found:
    """What one face of a spar comes to where it is worst in one case."""

    node: int  # of the beam
    value: float = number("SI", "what is there")
    limit: float = number("SI", "what the material can do")
    steps: tuple[Step, ...] = ()
    caveat: str = ""
    why_unknown: str = ""


@dataclass(frozen=True)
class Face:
    """One way a spar is looked at."""

    key: str
    title: str
    unit: str
    part: str  # "cap" or "web"
    find: Callable[[SparRun], Found]
    rule: str = RULE
    method: str = METHOD


def prove(model: Model, loads: Sequence[Mapping[str, WingLoad]], why_none: str = "") -> tuple[Check, ...]:
    """The worst case of each spar's caps, webs, web buckling and glue, and of each brace.

    loads: one mapping by wing for each case. Without a case, or where a spar's beam is not worked out, every
    check is there and unknown; why_none says why there is none.
    """
    if not loads:
        return tuple(_unknown(model, why_none or "no load case is known"))
    try:
        solved = [run_all(model, case) for case in loads]
    except DesignProblem as fault:
        return tuple(_unknown(model, str(fault)))
    runs = _by_name((f"{run.wing.name}.{run.spar.name}", run) for found, _ in solved for run in found)
    braces = _by_name((brace.thing.name, brace) for _, found in solved for brace in found)
    checks = [
        worst(_spar_check(model, face, run) for run in of_spar)
        for of_spar in runs.values()
        for face in faces(of_spar[0].spar)
    ]
    return (*checks, *(worst(_brace_check(model, b) for b in of_one) for of_one in braces.values()))


def _by_name(pairs: Iterable[tuple[str, T]]) -> dict[str, list[T]]:
    found: dict[str, list[T]] = {}
    for name, value in pairs:
        found.setdefault(name, []).append(value)
    return found


def worst(checks: Iterable[Check]) -> Check:
    """The check that decides: a failed one before an unknown one before a passed one, then the least margin."""
    return min(checks, key=lambda c: (WORST.index(c.verdict), -math.inf if math.isnan(c.margin) else c.margin))


def faces(spar: Spar) -> tuple[Face, ...]:
    """How a spar is looked at; glue only where the caps are of wood."""
    glued = (Face("glue", "glue of cap to web", "Pa", "cap", _glue, "cfr-23-2014 23.303"),)
    return (
        Face("caps", "spar caps in bending and thrust", "1", "cap", _caps),
        Face("webs", "spar webs in shear", "Pa", "web", _webs),
        Face(
            "buckling",
            "spar webs flat at limit load",
            "Pa",
            "web",
            _buckling,
            "cfr-23-2014 23.305",
            "timoshenko-gere, edges simply held",
        ),
        *(glued if material(spar.cap.material).kind == "wood" else ()),
    )


def _unknown(model: Model, why: str) -> Iterator[Check]:
    for wing in model.wings:
        for spar in wing.spars:
            for face in faces(spar):
                yield check(
                    _id(face, wing, spar),
                    _title(face, wing, spar),
                    UNKNOWN,
                    math.nan,
                    "<=",
                    face.unit,
                    rule=face.rule,
                    method=face.method,
                    outside_range=why,
                )
    for name in dict.fromkeys(h.thing.name for g in joined(model) for h in g.holders if h.leans):
        yield check(
            f"strength.brace.{name}",
            f"{name.replace('_', ' ')} in tension",
            UNKNOWN,
            math.nan,
            "<=",
            "N",
            rule="cfr-23-2014 23.303",
            method=STATICS,
            outside_range=why,
        )


def _id(face: Face, wing: Wing, spar: Spar) -> str:
    return f"strength.{wing.name}.{spar.name}.{face.key}"


def _title(face: Face, wing: Wing, spar: Spar) -> str:
    return f"{face.title}, {wing.name} {spar.name}"


def _parents(case: str, wings: Iterable[str]) -> tuple[str, ...]:
    return (f"loads.{case}.speed", f"loads.{case}.factor", *(f"loads.{case}.share.{w}" for w in wings))


def _spar_check(model: Model, face: Face, run: SparRun) -> Check:
    found, case = face.find(run), run.load.case
    y = float(run.bent.y[found.node])
    panel, _ = panel_at(run.wing, y)
    cap = cap_number(model, run.wing, panel, run.spar, "upper")
    return check(
        _id(face, run.wing, run.spar),
        _title(face, run.wing, run.spar),
        Band.exact(found.value),
        found.limit,
        "<=",
        face.unit,
        part=cap if face.part == "cap" else web_number(model, run.wing, panel, run.spar),
        case=f"case {case.key} ({case.title}, n {case.factor:.2f}), buttline {y / 0.0254:.1f} in",
        rule=face.rule,
        method=face.method,
        caveat=found.caveat,
        outside_range="; ".join(x for x in (run.unclear, run.load.outside, found.why_unknown) if x),
        steps=(*case.steps, *_beam_steps(run, found.node), *found.steps),
        parents=_parents(case.key, [run.wing.name]),
    )


def _beam_steps(run: SparRun, i: int) -> tuple[Step, ...]:
    case, y = run.load.case, ("y", float(run.bent.y[i]), "m")
    carried = (("n", case.factor, "1"), ("m", case.mass, "kg"), ("share of the wings' lift", run.load.share, "1"))
    shear = float(run.bent.greatest_shear[i])
    return (
        Step("lift of this wing, both sides", "L = sum q cl c dy", carried, run.load.total, "N", "lattice, trimmed"),
        *_moment_steps(run, i, y),
        Step("shear, the larger side", "beam on rigid supports", (y,), shear, "N", "przemieniecki-1968"),
        Step("thrust", "P = sum pull run/length", (y,), float(run.thrust[i]), "N", "common practice: statics"),
    )


def _moment_steps(run: SparRun, i: int, y: tuple[str, float, str]) -> tuple[Step, ...]:
    """The moment by statics from the tip in: load outboard times its arm, less what the supports outboard hold."""
    load, arm = run.bent.outboard(i)
    held = [(b, float(r)) for b, r in zip(run.supports, run.bent.reactions, strict=True) if b > y[1] + 1e-6]
    by_supports = sum(r * (b - y[1]) for b, r in held)
    ends = tuple((f"R at buttline {b / 0.0254:.1f} in", r, "N") for b, r in held)
    given = (("W", load, "N"), ("a", arm, "m"), ("sum R (y_R - y)", by_supports, "N m"))
    return (
        Step(
            "this spar's load outboard of it",
            "W = sum w dy",
            (y, *ends),
            load,
            "N",
            "lattice; reactions: beam on rigid supports",
        ),
        Step(
            "bending moment", "M = W a + sum R (y_R - y)", given, float(run.bent.moment[i]), "N m", "przemieniecki-1968"
        ),
    )


def _caps(run: SparRun) -> Found:
    stuff, rows = material(run.spar.cap.material), range(run.depth.size)
    boxes = [beam_box.box(run.spar, float(h)) for h in run.depth]
    strengths = [beam_box.bending_strength(stuff, run.spar, float(h)) for h in run.depth]
    use = np.array(
        [
            float(beam_box.use_of_caps(run.bent.moment[k], run.thrust[k], boxes[k], strengths[k][0], stuff.compression))
            for k in rows
        ]
    )
    i = int(np.argmax(use)) if np.all(np.isfinite(use)) else int(np.argmax(np.abs(run.bent.moment)))
    b, (strength, cited) = boxes[i], strengths[i]
    moment, thrust = float(run.bent.moment[i]), float(run.thrust[i])
    size = (("b", run.spar.cap.width, "m"), ("d", run.spar.cap.depth, "m"), ("h", b.depth, "m"))
    given = (("M", moment, "N m"), ("P", thrust, "N"), ("A", b.area, "m2"), ("F_c", stuff.compression, "Pa"))
    steps = (
        Step("inertia of the caps", "I = 2 (b d^3/12 + b d (h - d)^2/4)", size, b.inertia, "m4", "webs left out"),
        Step("bending strength", "F_b", (("h", b.depth, "m"),), strength, "Pa", cited),
        Step("use", "1.5 (M h/(2 I F_b) + P/(A F_c))", given, float(use[i]), "1", "common practice, no source"),
    )
    why = "" if math.isfinite(strength) else f"the bending strength is unknown: {cited}"
    if not math.isfinite(stuff.compression):
        why = f"the crushing strength of {stuff.key} is unknown"
    return Found(i, float(use[i]), 1.0, steps, OPEN, why)


def _flows(run: SparRun) -> np.ndarray:
    """(n,) shear flow along the beam, N/m."""
    boxes = [beam_box.box(run.spar, float(h)) for h in run.depth]
    return np.array([float(beam_box.shear_flow(v, b)) for v, b in zip(run.bent.greatest_shear, boxes, strict=True)])


def _flow(run: SparRun) -> tuple[int, float, Step]:
    """(node, shear flow N/m, its step) where the webs carry most."""
    q = _flows(run)
    i = int(np.argmax(q))
    return i, float(q[i]), _flow_step(run, i, float(q[i]))


def _flow_step(run: SparRun, i: int, q: float) -> Step:
    b, shear = beam_box.box(run.spar, float(run.depth[i])), float(run.bent.greatest_shear[i])
    given = (("V", shear, "N"), ("Q", b.first, "m3"), ("I", b.inertia, "m4"))
    return Step("shear flow", "q = V Q/I", given, q, "N/m", "common practice: caps carry the bending")


def _webs(run: SparRun) -> Found:
    stuff, (i, q, flow) = material(run.spar.web.material), _flow(run)
    thick = run.spar.webs * run.spar.web.thickness
    stress = beam_box.FACTOR * q / thick
    given = (("n", run.spar.webs, "1"), ("t", run.spar.web.thickness, "m"))
    steps = (flow, Step("web stress at 1.5 limit", "1.5 q/(n t)", given, stress, "Pa", "common practice, no source"))
    known = math.isfinite(stuff.shear)
    why = "" if known else f"the shear strength of {stuff.key} is unknown"
    return Found(i, stress, stuff.shear, steps, f"{stuff.sources['shear']}; {OPEN}" if known else OPEN, why)


def _buckling(run: SparRun) -> Found:
    stuff, web, flows = material(run.spar.web.material), run.spar.web, _flows(run)
    heights, bays = run.depth - 2 * run.spar.cap.depth, [bay(run.wing, float(y)) for y in run.bent.y]
    limits = np.array([beam_box.shear_buckling(stuff, web.thickness, h, a) for h, a in zip(heights, bays, strict=True)])
    i = int(np.argmax(flows / limits if np.all(np.isfinite(limits)) else flows))
    height, spacing, limit = float(heights[i]), bays[i], float(limits[i])
    flow = _flow_step(run, i, float(flows[i]))
    stress = float(flows[i]) / (run.spar.webs * web.thickness)
    given = (
        ("t", run.spar.web.thickness, "m"),
        ("clear height", height, "m"),
        ("rib bay", spacing, "m"),
        ("E", stuff.youngs, "Pa"),
    )
    formula = "k pi^2 E/(12 (1 - nu^2)) (t/b)^2, k = 5.34 + 4 (b/a)^2"
    steps = (flow, Step("buckling stress", formula, given, limit, "Pa", "timoshenko-gere (memory, high)"))
    if math.isnan(limit):
        why = f"buckling of a web of {stuff.key}: its stiffness in both directions is not on file"
    elif stress > limit:
        why = "the web buckles below limit load and works in diagonal tension, which is not worked out yet"
    else:
        why = ""
    return Found(i, stress, limit, steps, "", why)


def _glue(run: SparRun) -> Found:
    cap, web = material(run.spar.cap.material), material(run.spar.web.material)
    i, q, flow = _flow(run)
    stress = beam_box.FACTOR * q / (run.spar.webs * run.spar.cap.depth)
    strength = cap.shear * GLUE_SHARE
    given = (("n", run.spar.webs, "1"), ("d", run.spar.cap.depth, "m"))
    source = f"fpl-report-1522; {cap.sources.get('shear', 'shear unknown')}"
    steps = (
        flow,
        Step("glue stress at 1.5 limit", "1.5 q/(n d)", given, stress, "Pa", "common practice, no source"),
        Step("glue strength", "shear along the grain/3", (("shear", cap.shear, "Pa"),), strength, "Pa", source),
    )
    across = web.title.split(",")[0].lower()
    caveat = f"sound glue, grain of {across} across the cap; heat and damp not in it"
    return Found(i, stress, strength, steps, caveat, "" if math.isfinite(strength) else "the shear strength is unknown")


def _brace_check(model: Model, brace: Brace) -> Check:
    thing, pull = brace.thing, beam_box.FACTOR * brace.pull
    strength, cited = _pull_strength(thing)
    rigging = thing.tension if isinstance(thing, Wire) else 0.0
    given = (("R length/rise", brace.pull - rigging, "N"), ("rigging", rigging, "N"))
    return check(
        f"strength.brace.{thing.name}",
        f"{thing.name.replace('_', ' ')} in tension",
        Band.exact(pull),
        strength,
        "<=",
        "N",
        part=wire_number(model, thing) if isinstance(thing, Wire) else strut_number(model, thing),
        case=f"case {brace.case}",
        rule="cfr-23-2014 23.303",
        method=STATICS,
        caveat=f"{cited}; compression, end fittings and a missing wire are not in it",
        outside_range=brace.unclear or ("" if math.isfinite(strength) else f"its strength is unknown: {cited}"),
        steps=(
            Step("pull at 1.5 limit", "1.5 (R length/rise + rigging)", given, pull, "N", "common practice: statics"),
        ),
        parents=_parents(brace.case, [w.name for w in model.wings]),
    )


def _pull_strength(thing: Strut | Wire) -> tuple[float, str]:
    """(N, source) least strength of a strut beside its weld, or of a cable."""
    if isinstance(thing, Wire):
        strength, source = cable_strength(thing.construction, thing.diameter)
        cited = f"breaking strength {source}" if source else "no breaking strength on file"
        return strength, f"{cited}; the end fitting's efficiency is not on file and not taken off"
    stuff = material(thing.tube.material)
    welded = math.isfinite(stuff.tension_near_weld)
    weak = stuff.tension_near_weld if welded else stuff.tension
    where = "beside the weld" if welded else "no weld"
    return weak * tube_area(thing.tube), f"{where}: {stuff.sources.get('tension_near_weld') or stuff.source}"
