"""Fabric: the class that is asked for, the pull on ribs and lacing, and what its tightness bends; mostly not said yet.

    class     by wing loading and never-exceed speed, ac-43-13-1b table 2-1 (read)
    p(x)      n/c (2/pi) sqrt((1 - s)/s) and n/c (8/pi) sqrt(s (1 - s)), as on ribs (rib_loads.py); all of it as suction
              on one surface, where the cover begins: the safe side for the cover's pull
    stitch    p b s <= what one bears: the greatest spacing s on a rib of bay b
    edge      by the cloth's tightness T_0: nobody has said it

Which cloth it is, how tight it is left and how it is laced the family file does not say: those checks are unknown, with
what would be wanted. Sources: strength/members/fabric.py; glauert-1926 ch. VII.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Check, Step
from sparwright.base.quantity import to
from sparwright.base.source import Source
from sparwright.data.loader import material
from sparwright.data.thin_walls import THIN
from sparwright.family.model import Model, Panel, Skin, Wing
from sparwright.margins.rib_loads import Spans
from sparwright.margins.worst import Worst, told
from sparwright.parts.number import part_number
from sparwright.parts.skins import skin_number
from sparwright.parts.stations import bay
from sparwright.shape.lifting import planforms
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.members import fabric
from sparwright.structure.answered import ULTIMATE, Answered

NEVER_EXCEED = 0.9  # of the dive speed, where the designer says none: 14 CFR 23.1505 (memory, high)
CLASS, LACING = "strength.fabric.class", "strength.fabric.lacing."  # ids of checks, and below titles of their steps
NEW, WORN, FASTEST = "strength wanted when new", "least in service", "never-exceed speed"
SPACING = "greatest spacing of stitches"
METHOD = "class by wing loading and speed; pull of the air on the cover"
RULE = "ac-43-13-1b table 2-1"


def fabric_checks(model: Model, answer: Answered, spans: Spans) -> Iterator[Check]:
    """Class of the cloth, lacing and edges of every wing covered with it, edges of every tail surface."""
    covers = [(w, s) for w in model.wings for s in w.skins if material(s.material).kind == "fabric"]
    tails = [(n, t) for n, t in (("tailplane", model.tailplane), ("fin", model.fin)) if t.frame is not None]
    if covers or tails:
        first = skin_number(model, covers[0][0], _outer(covers[0][0]), covers[0][1]) if covers else ""
        yield _class(model, answer, first)
    for wing, skin in covers:
        number = skin_number(model, wing, _outer(wing), skin)
        yield _lacing(wing, skin, answer, spans, number)
        yield _edge(wing.name, f"{_name(wing)}: tail bar and last ribs bent by the cloth's tightness", answer, number)
    for name, tail in tails:
        assert tail.frame is not None
        part = part_number(model.name, name, "SPAR", "", "")
        yield _edge(name, f"{name}: tubes bowed by the cloth's tightness", answer, part)


def _outer(wing: Wing) -> Panel:
    return wing.panels[-1]


def _name(wing: Wing) -> str:
    return wing.name if "wing" in wing.name else f"{wing.name} wing"


def _unsaid(why: str) -> Allowable:
    return not_known("cover", "fabric", why, Source("ac-43-13-1b", "chapter 2", "read"))


def wing_loading(model: Model) -> float:
    """Pa: the greatest weight over all wings' area, carried through the fuselage."""
    names = {w.name for w in model.wings}
    return model.limits.max_mass * GRAVITY / sum(p.area for p in planforms(model) if p.name in names)


def never_exceed(model: Model, answer: Answered) -> float:
    """m/s: what the designer says, or nine tenths of the fastest case."""
    return model.limits.never_exceed or NEVER_EXCEED * max(x.case.speed for x in answer.laid)


def _class(model: Model, answer: Answered, part: str) -> Check:
    loading, fast = wing_loading(model), never_exceed(model, answer)
    new, worn = (float(v) for v in fabric.needed(loading, fast))
    k = int(np.argmax([x.case.speed for x in answer.laid]))
    pounds = [f"{to(v, 'lbf') * 0.0254:.0f} lb/in" for v in (new, worn)]
    steps = (
        Step("wing loading", "W/S", (("m", model.limits.max_mass, "kg"),), loading, "Pa", "definition"),
        Step(FASTEST, "said, or 0.9 VD", (), fast, "m/s", "limits.never_exceed"),
        Step(NEW, "80 lb/in from 9 lb/ft2 or 160 mph, else 65",
             (("W/S", loading, "Pa"), ("VNE", fast, "m/s")), new, "N/m", RULE),
        Step(WORN, "70 % of it", (), worn, "N/m", RULE),
    )  # fmt: skip
    why = f"which cloth it is the file does not say: it must bear {pounds[0]} when new and {pounds[1]} in service"
    return told(CLASS, "fabric: strength of the cloth", Worst(np.nan, 0, k), answer, part,
                [_unsaid(why)], steps, method=METHOD, rule=RULE)  # fmt: skip


def suction(skin: Skin, chord: np.ndarray, normal: np.ndarray, torsion: np.ndarray) -> np.ndarray:
    """(m,) Pa where a cover begins, of strips' normal force N/m and torsion about the quarter chord N m/m."""
    s = np.clip(skin.start, 0.02, 0.98)
    middle = -4 * torsion / chord
    ahead = normal - middle
    return np.asarray(np.abs(ahead / chord * 2 / np.pi * np.sqrt((1 - s) / s)
                             + middle / chord * 8 / np.pi * np.sqrt(s * (1 - s))))  # fmt: skip


def _lacing(wing: Wing, skin: Skin, answer: Answered, spans: Spans, number: str) -> Check:
    best = (0.0, 0, 0.0, 0.0)  # pull, case, pressure, bay
    tip = wing.panels[-1].tip_buttline
    for k, laid in enumerate(answer.laid):
        level = 1.0 if laid.case.level == "ultimate" else ULTIMATE
        for s in spans.get(laid.case.key, ()):
            if s.surface == wing.name:
                p = level * suction(skin, s.chord, s.normal, s.torsion)
                root = wing.panels[0].root_buttline
                pitch = np.array([bay(wing, float(np.clip(y, root, tip))) for y in s.y])
                i = int(np.argmax(p * pitch))
                best = max(best, (float(p[i] * pitch[i]), k, float(p[i]), float(pitch[i])))
    pull, k, pressure, pitch_ = best
    spacing = float(fabric.lacing(pressure, pitch_))
    most = (
        f"at most {to(spacing, 'in'):.1f} in from stitch to stitch by the pull of the air" if pull else "no air known"
    )
    why = f"how it is laced the file does not say: {most}, and no more than the chart of ac-43-13-1b, not in hand"
    steps = (
        Step("suction where the cover begins, ultimate", "n and t of the strip", (("s", skin.start, "1"),), pressure,
             "Pa", "glauert-1926"),
        Step("pull on a rib", "p b", (("p", pressure, "Pa"), ("b", pitch_, "m")), pull, "N/m", "statics"),
        Step(SPACING, "S/(p b)", (("S", THIN["fabric_stitch"].value, "N"),), spacing, "m",
             "ac-43-13-1b"),
    )  # fmt: skip
    return told(f"{LACING}{wing.name}", f"{_name(wing)}: lacing of the fabric to the ribs",
                Worst(np.nan, 0, k), answer, number, [_unsaid(why)], steps, method=METHOD,
                rule="ac-43-13-1b 2-8")  # fmt: skip


def _edge(name: str, title: str, answer: Answered, part: str) -> Check:
    why = (
        "how tight the finished cloth is left the file does not say, nor how it stretches: no maker's figure was found"
    )
    formula = Step("moment of an edge by the cloth's tightness", "2 T_0 L^2/12", (), np.nan, "N m", "statics")
    return told(f"strength.fabric.edge.{name}", title, Worst(np.nan), answer, part, [_unsaid(why)], (formula,),
                method=METHOD, rule="cfr-23-2014 23.305")  # fmt: skip
