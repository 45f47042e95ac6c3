"""The ends of push-pull rods: what the rod end is rated for, its bolt on one side of a plate, its plug in the tube.

    rated   1.15 P against what its maker says it bears (23.693: ratings may not be exceeded)
    bolt    R_s = P/P_s in one plane;  T = P (w/2)/(f/2) of pull: the ball, w wide, is clamped on the plate by its
            flat of diameter f, and would roll off over its edge;  R_s^3 + R_t^2 = 1                  joints/pin.py
    plug    welded round the tube's end: P/(pi D t F_w) and, pulled, P/(A F_near)                     joints/weld.py
            riveted: P/(2 n P_s) in two planes, P/(2 n d t F_br) in both walls, P/(A_net F_tu)

P is the rod's force with the fitting factor. What the file does not say (rating, flat, plug) is unknown. Of right and
left the right one is told. Sources: statics; strength/joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.controls.motion import Motion, pull
from sparwright.data.loader import fasteners
from sparwright.family.controls import WELD, Controls, Rod
from sparwright.family.model import Model
from sparwright.margins.braces import Strengths
from sparwright.margins.control_forces import most
from sparwright.margins.control_pivots import seam
from sparwright.margins.control_told import RULE, special, told_of
from sparwright.parts.control_bodies import number as part_of
from sparwright.parts.control_runs import Link
from sparwright.strength.allow import joint_allowable
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.joints import pin, plate
from sparwright.strength.members import section
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered

ENDS_RULE = f"{RULE}; 23.625, 23.693"


def rod_end_checks(model: Model, answer: Answered, motions: Sequence[Motion], strengths: Strengths) -> Iterator[Check]:
    """Rated end, bolt and plug of every rod of the right side."""
    c, seen = model.controls, set()
    for m in motions if c else ():
        for link in m.run.links:
            if link.hand != "L" and link.name not in seen and isinstance(link.made, Rod):
                seen.add(link.name)
                assert c is not None
                P = most(m) * float(np.max(np.abs([pull(m, link, s) for s in m.stances])))
                yield _rated(model, answer, m, c, link, P)
                yield _bolt(model, answer, m, c, link, P, strengths)
                yield _plug(model, answer, m, link, P, strengths)


def _load(P: float) -> tuple[float, tuple[Step, ...]]:
    factor, first = special("fitting")
    return factor * P, (first, Step("of the rod, with the factor", "1.15 P", (("P", P, "N"),), factor * P, "N", RULE))


def _words(link: Link) -> str:
    return link.name.replace("_", " ")


def _end(model: Model, link: Link) -> str:
    return part_of(model, "ROD-END-FIRST", link.name, link.hand)


def _rated(model: Model, answer: Answered, m: Motion, c: Controls, link: Link, P: float) -> Check:
    load, lines = _load(P)
    rated = np.nan if c.rod_end.rated is None else c.rod_end.rated
    found = (
        []
        if np.isfinite(rated)
        else [
            not_known(
                "rating", "the rod end", "what its maker says it bears is not in the file: [controls] rod_end.rated"
            )
        ]
    )
    steps = (*lines, *verdict(load / rated, "P/P_rated", (("P_rated", rated, "N"),), source="cfr-23-2014 23.693"))
    return told_of(
        answer,
        m,
        f"rod_end.{link.name}",
        f"rod ends of the control rod {_words(link)}",
        load / rated,
        _end(model, link),
        found,
        steps,
        rule=ENDS_RULE,
    )


def bolt_use(load: float, width: float, face: float, shear: float, tension: float) -> tuple[float, float, float]:
    """(use, R_s, R_t) of the bolt that clamps a ball of a width, m, by its flat of diameter face, m, on a plate."""
    R_s, R_t = load / shear, load * width / face / tension
    return float(pin.shear_and_tension(R_s, R_t)), R_s, R_t


def _bolt(model: Model, answer: Answered, m: Motion, c: Controls, link: Link, P: float, strengths: Strengths) -> Check:
    load, lines = _load(P)
    e, sheared = c.rod_end, strengths.fastener(c.rod_end.bolt, "shear")
    pulled = strengths.fastener(e.bolt, "tension")
    found: list[Allowable] = [sheared, pulled]
    if e.face is None:
        found.append(
            not_known(
                "flat of the ball",
                "the rod end",
                "[controls] rod_end.face is not in the file: by how much the bolt is pulled is not known",
            )
        )
    face = np.nan if e.face is None else e.face
    use, R_s, R_t = bolt_use(load, e.width, face, sheared.value, pulled.value)
    use = use if e.face is not None else R_s
    steps = (
        *lines,
        Step("sheared in one plane", "R_s = P/P_s", (("P_s", sheared.value, "N"),), R_s, "1", str(sheared.source)),
        Step(
            "pulled, the ball rolling over its flat's edge",
            "R_t = P (w/f)/P_t",
            (("w", e.width, "m"), ("f", face, "m"), ("P_t", pulled.value, "N")),
            R_t,
            "1",
            "statics",
        ),
        *verdict(use, "u of (R_s/u)^3 + (R_t/u)^2 = 1", (("R_s", R_s, "1"), ("R_t", R_t, "1")), source="mil-hdbk-5"),
    )
    return told_of(
        answer,
        m,
        f"rod_bolt.{link.name}",
        f"bolts {e.bolt} of the rod ends of {_words(link)}",
        use,
        _end(model, link),
        found,
        steps,
        "on one side of the plate; the nut drawn up so that the ball stays on it",
        ENDS_RULE,
    )


def _plug(model: Model, answer: Answered, m: Motion, link: Link, P: float, strengths: Strengths) -> Check:
    assert isinstance(link.made, Rod)
    load, lines = _load(P)
    found: list[Allowable]
    if link.made.plug == WELD:
        use, found, steps = _welded(model, link.made, load, strengths)
    elif link.made.plug in fasteners() and link.made.plugs > 0:
        use, found, steps = _riveted(model, link.made, load, strengths)
    else:
        use, steps = np.nan, ()
        found = [
            not_known(
                "plug",
                f"rod {_words(link)}",
                "what holds the threaded plug in its ends is not in the file: plug of the rod",
            )
        ]
    return told_of(
        answer,
        m,
        f"rod_plug.{link.name}",
        f"control rod {_words(link)}: plugs in its ends",
        use,
        part_of(model, "ROD", link.name, link.hand),
        found,
        (*lines, *steps),
        rule=ENDS_RULE,
    )


Found = tuple[float, list[Allowable], tuple[Step, ...]]


def _welded(model: Model, rod: Rod, load: float, strengths: Strengths) -> Found:
    t, F_w = rod.tube, seam(model, rod.tube.material)
    near = strengths.material(t.material, "tension_near_weld", t.wall)
    A = float(section.area(t.outside, t.wall))
    by = (load / (np.pi * t.outside * t.wall * F_w.value), load / (A * near.value))
    steps = (
        Step(
            "seam round the end",
            "P/(pi D t F_w)",
            (("D", t.outside, "m"), ("t", t.wall, "m"), ("F_w", F_w.value, "Pa")),
            by[0],
            "1",
            str(F_w.source),
        ),
        Step(
            "tube beside it", "P/(A F_near)", (("A", A, "m2"), ("F_near", near.value, "Pa")), by[1], "1", "mil-hdbk-5"
        ),
        *verdict(max(by), "the worse of both", (("seam", by[0], "1"), ("tube", by[1], "1"))),
    )
    return float(np.maximum(*by)), [F_w, near], steps


def _riveted(model: Model, rod: Rod, load: float, strengths: Strengths) -> Found:
    t, n, one = rod.tube, rod.plugs, fasteners()[rod.plug]
    kind = "bolt" if one.kind == "bolt" else "rivet"
    sheared = joint_allowable(model, kind, "shear", fastener=rod.plug)
    bears, pulls = (strengths.material(t.material, k, t.wall) for k in ("bearing", "tension"))
    F = float(plate.bearing_strength(2.0, bears.value))
    net = float(section.net_area(t.outside, t.wall, one.diameter))
    by = (load / (2 * n * sheared.value), load / (2 * n * one.diameter * t.wall * F), load / (net * pulls.value))
    steps = (
        Step(
            f"{n} of {rod.plug} in two planes each",
            "P/(2 n P_s)",
            (("n", n, "1"), ("P_s", sheared.value, "N")),
            by[0],
            "1",
            str(sheared.source),
        ),
        Step(
            "borne on in both walls",
            "P/(2 n d t F_br)",
            (("d", one.diameter, "m"), ("t", t.wall, "m"), ("F_br", F, "Pa")),
            by[1],
            "1",
            "mil-hdbk-5",
        ),
        Step(
            "tube beside the first hole",
            "P/(A_net F_tu)",
            (("A_net", net, "m2"), ("F_tu", pulls.value, "Pa")),
            by[2],
            "1",
            "geometry",
        ),
        *verdict(
            float(np.max(by)),
            "the worst of them",
            tuple(zip(("sheared", "borne", "pulled"), by, ("1",) * 3, strict=True)),
        ),
    )
    return float(np.max(by)), [sheared, bears, pulls], steps
