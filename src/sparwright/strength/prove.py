"""Spar caps, webs, glue and braces held against their materials: the checks of the strength room."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from sparwright.base.check import Check, Step, check
from sparwright.base.source import Band
from sparwright.data.loader import cable_strength, material
from sparwright.family.model import Model
from sparwright.loads.spanwise import WingLoad
from sparwright.parts.wing import cap_number, web_number
from sparwright.shape.lifting import panel_at
from sparwright.strength import beam_box
from sparwright.strength.spars import Brace, SparRun, bay, run_all

METHOD = "beam on rigid supports, load by the lattice, 1.5 on limit load"
OPEN = (
    "first check: secondary bending under thrust, sinking supports, torsion, local crippling, negative, gust-down "
    "and landing cases are not in it"
)
GLUE_SHARE = 1 / 3  # of the wood's shear along the grain where one face's grain crosses, FPL Report 1522 (read)


def prove(model: Model, loads: Sequence[Mapping[str, WingLoad]]) -> tuple[Check, ...]:
    """The worst case of each spar's caps, webs, web buckling and glue, and of each brace.

    loads: one mapping by wing for each case. Without a case every check is unknown.
    """
    if not loads:
        return tuple(_unknown(model))
    solved = [run_all(model, case) for case in loads]
    runs: dict[tuple[str, str], list[SparRun]] = {}
    for found, _ in solved:
        for run in found:
            runs.setdefault((run.wing.name, run.spar.name), []).append(run)
    braces: dict[str, list[Brace]] = {}
    for _, found_braces in solved:
        for brace in found_braces:
            braces.setdefault(brace.name, []).append(brace)
    made: list[Check] = []
    for of_spar in runs.values():
        for face in (_caps, _webs, _buckling, _glue):
            rows = [c for run in of_spar for c in face(model, run)]
            if rows:
                made.append(min(rows, key=lambda c: -math.inf if math.isnan(c.margin) else c.margin))
    made += [_brace(model, max(of_one, key=lambda b: b.pull)) for of_one in braces.values()]
    return tuple(made)


def _unknown(model: Model) -> Iterator[Check]:
    nan = Band.exact(math.nan)
    for wing in model.wings:
        for spar in wing.spars:
            yield check(
                f"strength.{wing.name}.{spar.name}.caps",
                f"spar caps, {wing.name} {spar.name}",
                nan,
                1.0,
                "<=",
                "1",
                method=METHOD,
                outside_range="no load case: the stalling speed is unknown",
            )


def _where(run: SparRun, i: int) -> str:
    return f"case {run.load.case.key} ({run.load.case.title}, n {run.load.case.factor:.2f}), buttline {run.bent.y[i] / 0.0254:.1f} in"


def _panel(run: SparRun, i: int) -> tuple[object, ...]:
    return panel_at(run.wing, float(run.bent.y[i]))


def _caps(model: Model, run: SparRun) -> Iterator[Check]:
    stuff = material(run.spar.cap.material)
    use = np.zeros_like(run.bent.y)
    for k, depth in enumerate(run.depth):
        b = beam_box.box(run.spar, float(depth))
        strength, _ = beam_box.bending_strength(stuff, run.spar, float(depth))
        use[k] = beam_box.use_of_caps(
            run.bent.moment[k : k + 1], run.thrust[k : k + 1], b, strength, stuff.compression
        )[0]
    i = int(np.argmax(use)) if np.all(np.isfinite(use)) else int(np.argmax(np.abs(run.bent.moment)))
    b, depth = beam_box.box(run.spar, float(run.depth[i])), float(run.depth[i])
    strength, cited = beam_box.bending_strength(stuff, run.spar, depth)
    panel, _ = panel_at(run.wing, float(run.bent.y[i]))
    steps = (
        *run.load.case.steps,
        Step(
            "lift carried by this wing, both sides",
            "L = sum q cl c dy",
            (
                ("n", run.load.case.factor, "1"),
                ("m", run.load.case.mass, "kg"),
                ("share of the wings' lift", run.load.share, "1"),
            ),
            run.load.total,
            "N",
            "lattice, trimmed",
        ),
        Step(
            "bending moment",
            "beam on rigid supports",
            (("y", float(run.bent.y[i]), "m"), ("V", float(run.bent.greatest_shear[i]), "N")),
            float(run.bent.moment[i]),
            "N m",
            "direct stiffness",
        ),
        Step(
            "thrust from the bracing",
            "P = pull run/length, summed",
            (("y", float(run.bent.y[i]), "m"),),
            float(run.thrust[i]),
            "N",
            "statics",
        ),
        Step(
            "inertia of the caps",
            "I = 2 (b d^3/12 + b d (h - d)^2/4)",
            (("b", run.spar.cap.width, "m"), ("d", run.spar.cap.depth, "m"), ("h", depth, "m")),
            b.inertia,
            "m4",
            "webs left out",
        ),
        Step("bending strength", "F_b", (("h", depth, "m"),), strength, "Pa", cited),
        Step(
            "use of strength",
            "1.5 (M h/(2 I F_b) + P/(A F_c))",
            (
                ("M", float(run.bent.moment[i]), "N m"),
                ("P", float(run.thrust[i]), "N"),
                ("A", b.area, "m2"),
                ("F_c", stuff.compression, "Pa"),
            ),
            float(use[i]),
            "1",
            "common practice, no source",
        ),
    )
    yield check(
        f"strength.{run.wing.name}.{run.spar.name}.caps",
        f"spar caps in bending and thrust, {run.wing.name} {run.spar.name}",
        Band.exact(float(use[i])),
        1.0,
        "<=",
        "1",
        part=cap_number(model, run.wing, panel, run.spar, "upper"),
        case=_where(run, i),
        rule="cfr-23-2014 23.303, 23.305",
        method=METHOD,
        caveat=OPEN,
        steps=steps,
        parents=("flight.stall.max_mass",),
    )


def _flow(run: SparRun) -> tuple[np.ndarray, int]:
    q = np.array(
        [
            beam_box.shear_flow(v, beam_box.box(run.spar, float(h)))
            for v, h in zip(run.bent.greatest_shear, run.depth, strict=True)
        ]
    )
    return q, int(np.argmax(q))


def _shear_steps(run: SparRun, i: int, q: float, b: beam_box.Box) -> tuple[Step, ...]:
    return (
        *run.load.case.steps,
        Step(
            "shear flow",
            "q = V Q/I",
            (("V", float(run.bent.greatest_shear[i]), "N"), ("Q", b.first, "m3"), ("I", b.inertia, "m4")),
            q,
            "N/m",
            "caps carry the bending",
        ),
    )


def _webs(model: Model, run: SparRun) -> Iterator[Check]:
    stuff = material(run.spar.web.material)
    q, i = _flow(run)
    b = beam_box.box(run.spar, float(run.depth[i]))
    stress = float(q[i]) / (run.spar.webs * run.spar.web.thickness)
    panel, _ = panel_at(run.wing, float(run.bent.y[i]))
    steps = (
        *_shear_steps(run, i, float(q[i]), b),
        Step(
            "web stress at 1.5 limit",
            "1.5 q/(n t)",
            (("n", run.spar.webs, "1"), ("t", run.spar.web.thickness, "m")),
            beam_box.FACTOR * stress,
            "Pa",
            "",
        ),
    )
    yield check(
        f"strength.{run.wing.name}.{run.spar.name}.webs",
        f"spar webs in shear, {run.wing.name} {run.spar.name}",
        Band.exact(beam_box.FACTOR * stress),
        stuff.shear,
        "<=",
        "Pa",
        part=web_number(model, run.wing, panel, run.spar),
        case=_where(run, i),
        rule="cfr-23-2014 23.303, 23.305",
        method=METHOD,
        steps=steps,
        caveat=f"{stuff.sources.get('shear', 'shear strength unknown')}; {OPEN}",
    )


def _buckling(model: Model, run: SparRun) -> Iterator[Check]:
    stuff = material(run.spar.web.material)
    q, i = _flow(run)
    depth = float(run.depth[i])
    stress = float(q[i]) / (run.spar.webs * run.spar.web.thickness)
    height = depth - 2 * run.spar.cap.depth
    spacing = bay(model, run.wing, float(run.bent.y[i]))
    limit = beam_box.shear_buckling(stuff, run.spar.web.thickness, height, spacing)
    panel, _ = panel_at(run.wing, float(run.bent.y[i]))
    if math.isnan(limit):
        why = "buckling of a plywood web: its stiffness across the grain is not on file"
    elif stress > limit:
        why = "the web buckles below limit load and works in diagonal tension, which is not worked out yet"
    else:
        why = ""
    steps = (
        *_shear_steps(run, i, float(q[i]), beam_box.box(run.spar, depth)),
        Step(
            "buckling stress",
            "k pi^2 E/(12 (1 - nu^2)) (t/b)^2, k = 5.34 + 4 (b/a)^2",
            (
                ("t", run.spar.web.thickness, "m"),
                ("clear height", height, "m"),
                ("rib bay", spacing, "m"),
                ("E", stuff.youngs, "Pa"),
            ),
            limit,
            "Pa",
            "timoshenko-gere (memory, high)",
        ),
    )
    yield check(
        f"strength.{run.wing.name}.{run.spar.name}.buckling",
        f"spar webs flat at limit load, {run.wing.name} {run.spar.name}",
        Band.exact(stress),
        limit,
        "<=",
        "Pa",
        part=web_number(model, run.wing, panel, run.spar),
        case=_where(run, i),
        rule="cfr-23-2014 23.305",
        method="timoshenko-gere, edges simply held",
        outside_range=why,
        steps=steps,
    )


def _glue(model: Model, run: SparRun) -> Iterator[Check]:
    cap, web = material(run.spar.cap.material), material(run.spar.web.material)
    if cap.kind != "wood":
        return
    q, i = _flow(run)
    b = beam_box.box(run.spar, float(run.depth[i]))
    stress = beam_box.FACTOR * float(q[i]) / (run.spar.webs * run.spar.cap.depth)
    panel, _ = panel_at(run.wing, float(run.bent.y[i]))
    steps = (
        *_shear_steps(run, i, float(q[i]), b),
        Step(
            "glue stress at 1.5 limit",
            "1.5 q/(n d)",
            (("n", run.spar.webs, "1"), ("d", run.spar.cap.depth, "m")),
            stress,
            "Pa",
            "",
        ),
        Step(
            "glue strength",
            "shear along the grain/3",
            (("shear", cap.shear, "Pa"),),
            cap.shear * GLUE_SHARE,
            "Pa",
            f"fpl-report-1522; {cap.sources.get('shear')}",
        ),
    )
    yield check(
        f"strength.{run.wing.name}.{run.spar.name}.glue",
        f"glue of cap to web, {run.wing.name} {run.spar.name}",
        Band.exact(stress),
        cap.shear * GLUE_SHARE,
        "<=",
        "Pa",
        part=cap_number(model, run.wing, panel, run.spar, "upper"),
        case=_where(run, i),
        rule="cfr-23-2014 23.303",
        method=METHOD,
        steps=steps,
        caveat=f"sound glue, grain of {web.title.split(',')[0].lower()} across the cap; heat and damp not in it",
    )


def _brace(model: Model, brace: Brace) -> Check:
    wire = next((w for w in model.wires if w.name == brace.name), None)
    pull = beam_box.FACTOR * brace.pull
    if wire is not None:
        strength, source = cable_strength(wire.construction, wire.diameter)
        cited = f"breaking strength {source}" if source else "no breaking strength on file"
        cited += "; the end fitting's efficiency is not on file and not taken off"
        number = f"{model.name}-wires-{wire.name.upper()}"
    else:
        strut = next(s for s in model.struts if s.name == brace.name)
        stuff = material(strut.tube.material)
        weak = stuff.tension_near_weld if math.isfinite(stuff.tension_near_weld) else stuff.tension
        strength, cited = (
            weak * brace.area,
            f"beside the weld: {stuff.sources.get('tension_near_weld') or stuff.source}",
        )
        number = f"{model.name}-struts-{strut.name.upper()}"
    steps = (
        Step(
            "pull at 1.5 limit",
            "1.5 (R length/rise + rigging)",
            (("case pull", brace.pull, "N"),),
            pull,
            "N",
            "statics",
        ),
    )
    return check(
        f"strength.brace.{brace.name}",
        f"{brace.name.replace('_', ' ')} in tension",
        Band.exact(pull),
        strength,
        "<=",
        "N",
        part=number,
        case=f"case {brace.case}",
        rule="cfr-23-2014 23.303",
        method="statics; the load of joined wings comes together here",
        caveat=f"{cited}; compression, end fittings and a missing wire are not in it",
        steps=steps,
    )
