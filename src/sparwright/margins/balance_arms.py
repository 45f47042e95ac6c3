"""Arms of the weights ahead of hinges: 24 g square to the surface, 12 g fore and aft, 12 g along the hinge line.

Symbols: P = n g m ultimate load, m slug, bolt and half the arm; l from the arm's hold to the slug's bolt, b how far it
hangs under the hold or stands over it, e from the arm's middle to the slug's; h = 4 d - d the arm's width less the
bolt's hole, t its thickness.

    tail     square   M = P l, T = P e      fore and aft   M' = P e      along the hinge   M' = P l
    aileron  square   M = P l, T = P e      fore and aft   M = P b, M' = P e      along   M' = P b, T = P l
    use      sqrt((6 M/(t h^2) + 6 M'/(h t^2) + P/(h t))^2/F_tu^2 + (3 T/(h t^2) + 3 P/(2 h t))^2/F_su^2)

the load on all of the section at once, on the safe side; elastic, plate thin against its width. An aileron's leg is
taken as wide as its elbow. Limit loads (23.301: prescribed loads are limit), times 1.5 and the fitting factor. What
holds the arm on the surface, and the surface itself, are not in it. Source: cfr-23-2014 23.659 (read); statics.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from sparwright.base.check import Check, Step, check
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.factors import highest, table
from sparwright.data.loader import fasteners
from sparwright.family.balance import AileronWeight, TailWeight
from sparwright.family.model import Model, spoken
from sparwright.margins.braces import Strengths
from sparwright.parts.aileron import Hinged, ailerons
from sparwright.parts.aileron_fittings import faces
from sparwright.parts.balance import arm_bolts, balance_parts
from sparwright.parts.tail_fittings import HALF_HOLE
from sparwright.parts.tail_frame import surfaces
from sparwright.strength.members.margin import verdict

GRAVITY, ULTIMATE = 9.80665, 1.5
RULE = "cfr-23-2014 23.659"
LOADS = {"square to the surface": 24.0, "fore and aft": 12.0, "along the hinge line": 12.0}  # g, limit
NOT_IN = "what holds the arm on the surface is not in it"


@dataclass(frozen=True)
class Held:
    """A slug on its arm, as the loads find it."""

    name: str
    said: str
    part: str
    weight: TailWeight | AileronWeight
    mass: float = number("kg", "slug, bolt and half the arm")
    reach: float = number("m", "from the arm's hold forward to the slug's bolt")
    below: float = number("m", "how far the slug hangs under the arm's hold", 0.0)

    @property
    def off(self) -> float:
        """From the arm's middle to the slug's, m."""
        return (self.weight.arm.thickness + self.weight.length) / 2


def balance_arm_checks(model: Model, strengths: Strengths) -> Iterator[Check]:
    """Every arm of a weight, its worst direction."""
    mass = {p.number: p.mass for p in balance_parts(model)}
    for s in surfaces(model):
        w = s.frame.weight
        if w is not None:
            hand = "R" if s.flat else ""
            numbers = {k: s.number("movable", f"BALANCE-{k}", "", hand) for k in ("WEIGHT", "BOLT", "ARM")}
            slug, first, _ = arm_bolts(s, w)
            yield _told(Held(s.name("movable"), f"the {s.name('movable')}", numbers["ARM"], w, _mass(mass, numbers),
                             first - slug), strengths)  # fmt: skip
    for h in ailerons(model):
        for a in h.frame.weights:
            yield _told(_of_aileron(h, a, mass), strengths)


def _of_aileron(h: Hinged, a: AileronWeight, mass: dict[str, float]) -> Held:
    key = a.name.upper().replace("_", "-")
    numbers = {k: h.number(f"BALANCE-{k}", key, "R") for k in ("WEIGHT", "BOLT", "ARM")}
    return Held(f"{h.wing.name}.aileron.{a.name}", f"the aileron, {spoken(h.wing.name)}", numbers["ARM"], a,
                _mass(mass, numbers), a.ahead + faces(h, a.along)[1], abs(a.below))  # fmt: skip


def _mass(mass: dict[str, float], numbers: dict[str, str]) -> float:
    return mass[numbers["WEIGHT"]] + mass[numbers["BOLT"]] + mass[numbers["ARM"]] / 2


def moments(held: Held, way: str, load: float) -> tuple[float, float, float]:
    """(M in the arm's plane, M' out of it, T), N m, of a load, N."""
    if way == "square to the surface":
        return load * held.reach, 0.0, load * held.off
    if way == "fore and aft":
        return load * held.below, load * held.off, 0.0
    return (0.0, load * held.below, load * held.reach) if held.below else (0.0, load * held.reach, 0.0)


def arm_use(load: float, bent: tuple[float, float, float], width: float, thickness: float, pulled: float, sheared: float
            ) -> float:  # fmt: skip
    """Use of a plate's strength: load N; bent M, M', T, N m; width net and thickness m; F_tu, F_su Pa.

    >>> round(arm_use(0.0, (6.0, 0.0, 0.0), 0.1, 0.01, 1e6, 1e6), 3)
    0.36
    """
    m, across, torque = bent
    h, t = width, thickness
    direct = 6 * m / (t * h**2) + 6 * across / (h * t**2) + load / (h * t)
    shear = 3 * torque / (h * t**2) + 3 * load / (2 * h * t)
    return math.hypot(direct / pulled, shear / sheared)


def _told(held: Held, strengths: Strengths) -> Check:
    w = held.weight
    d, t = fasteners()[w.bolt].diameter, w.arm.thickness
    width = 2 * HALF_HOLE * d - d
    found = [strengths.material(w.arm.material, of, t) for of in ("tension", "shear")]
    factor, key = highest(["fitting"])
    steps = [Step(table("special")[key].title, "factor on the load besides 1.5", (), factor, "1")]
    uses = {}
    for way, n in LOADS.items():
        load = n * GRAVITY * held.mass * ULTIMATE * factor
        bent = moments(held, way, load)
        uses[way] = arm_use(load, bent, width, t, float(found[0].value), float(found[1].value))
        given = (("n", n, "1"), ("m", held.mass, "kg"), ("P", load, "N"), ("M", bent[0], "N m"), ("M'", bent[1], "N m"),
                 ("T", bent[2], "N m"), ("h", width, "m"), ("t", t, "m"))  # fmt: skip
        steps.append(Step(f"{n:g} g {way}", "direct and shear stress over strength", given, uses[way], "1", RULE))
    worst = max(uses, key=lambda k: uses[k] if math.isfinite(uses[k]) else math.inf)
    use = uses[worst]
    opens = dict.fromkeys(f"{a.name} of {a.material}: {a.open or 'not known'}" for a in found
                          if a.open or not math.isfinite(float(a.value)))  # fmt: skip
    fails = math.isfinite(use) and use > 1
    return check(
        f"strength.balance.{held.name}", f"arm of the balance weight of {held.said}: {worst}",
        Band.exact(use) if math.isfinite(use) else UNKNOWN, 1.0, "<=", "1", part=held.part, rule=RULE,
        method="elastic, plate thin against its width", caveat=NOT_IN, outside_range="" if fails else "; ".join(opens),
        steps=(*steps, *verdict(use, "the worst direction", (), source=RULE)),
    )  # fmt: skip
