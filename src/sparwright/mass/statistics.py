"""What statistics of built aeroplanes want to know of a model, and what their equations then say.

Everything here is in the units the books print. A wing of several is taken by itself, with its share of the weight
by area.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from sparwright.base.quantity import to
from sparwright.data.weights import Equation, equations
from sparwright.family.model import Model, TailSurface, Wing
from sparwright.mass.record import Balance
from sparwright.maths.formula import evaluated, names
from sparwright.shape.frame import ON_CENTRE, outside_area, perimeter
from sparwright.shape.lifting import planforms, wing_planform
from sparwright.shape.planform import Planform
from sparwright.shape.section import thickness_ratio

ULTIMATE = 1.5  # on the limit load
LANDING = 5.7  # ultimate load factor of landing (roskam-5, memory)
SYMBOLS = {
    "W": ("lb", "greatest take-off weight; of one of several wings its share by area"),
    "Wempty": ("lb", "empty weight, from the parts"),
    "n": ("1", "ultimate load factor: 1.5 of the limit"),
    "nl": ("1", "ultimate load factor of landing"),
    "VH": ("kt", "fastest level speed at sea level"),
    "q": ("lb/ft2", "dynamic pressure at it, sea level"),
    "S": ("ft2", "area of the wing, carried through the fuselage"),
    "A": ("1", "its aspect ratio"),
    "b": ("ft", "its span"),
    "bmax": ("ft", "the greatest span"),
    "taper": ("1", "its tip chord over its root chord"),
    "tc": ("1", "greatest thickness of its root section, in chords"),
    "tr": ("ft", "greatest thickness of its root"),
    "Wfw": ("lb", "fuel in the wings; 1 for none, which leaves the factor out"),
    "Sh": ("ft2", "area of the tailplane with elevators"),
    "Ah": ("1", "its aspect ratio"),
    "bh": ("ft", "its span"),
    "trh": ("ft", "greatest thickness of its root section"),
    "tch": ("1", "the same in chords"),
    "taperh": ("1", "tip chord over root chord"),
    "lh": ("ft", "quarter chord of the wings to that of the tailplane"),
    "Sv": ("ft2", "area of the fin with rudder"),
    "Av": ("1", "its aspect ratio"),
    "bv": ("ft", "its height"),
    "trv": ("ft", "greatest thickness of its root section"),
    "tcv": ("1", "the same in chords"),
    "taperv": ("1", "tip chord over root chord"),
    "cosv": ("1", "cosine of its sweep at the quarter chord"),
    "lf": ("ft", "length of the fuselage aft of the firewall"),
    "wf": ("ft", "greatest width of the fuselage"),
    "hf": ("ft", "greatest depth of the fuselage"),
    "p": ("ft", "greatest circumference of the fuselage"),
    "Sf": ("ft2", "outside area of the fuselage aft of the firewall"),
    "lm": ("in", "bottom of the fuselage down to the axle of the main wheels"),
    "We": ("lb", "the engine"),
    "Wf": ("lb", "the most fuel carried"),
    "gal": ("gal", "the same"),
    "pax": ("1", "people aboard"),
}


@dataclass(frozen=True)
class Said:
    """What one equation says."""

    equation: Equation
    given: tuple[tuple[str, Mapping[str, float], float], ...]  # which wing or "", its symbols, lb
    outside: str  # how the aeroplane lies outside what it was made for; empty for not

    @property
    def pounds(self) -> float:
        """lb, all wings together."""
        return sum(lb for _, _, lb in self.given)


def said(model: Model, balance: Balance, fastest: float) -> Iterator[Said]:
    """What each equation that is for a model's shape says. fastest: level speed, m/s; NaN for unknown."""
    whole = symbols(model, balance, fastest)
    for e in equations().values():
        if e.when and e.when != (_bracing(model) if e.when in ("braced", "cantilever") else _mounting(model)):
            continue
        sets = of_wings(model, whole) if e.each_wing else [("", whole)]
        given = tuple((name, {k: v[k] for k in names(e.formula)}, evaluated(e.formula, v)) for name, v in sets)
        yield Said(e, given, _outside(e, model, fastest))


def symbols(model: Model, balance: Balance, fastest: float) -> dict[str, float]:
    """Every symbol but those of a single wing, in the printed units."""
    fuel = sum(load.most for load in model.loads if load.kind == "fuel")
    found = {
        "W": to(model.limits.max_mass, "lb"), "Wempty": to(balance.empty.value, "lb"),
        "n": ULTIMATE * model.limits.n_positive, "nl": LANDING, "VH": to(fastest, "kt"),
        "q": to(0.5 * 1.225 * fastest**2, "psf"), "Wfw": 1.0, "We": to(model.engine.mass, "lb"),
        "Wf": to(fuel, "lb"), "gal": to(fuel / model.engine.fuel_density, "gal"),
        "pax": float(sum(load.kind == "pilot" for load in model.loads)),
        "bmax": max(to(wing_planform(w).span, "ft") for w in model.wings),
        "lm": to(_leg(model), "in"),
    }  # fmt: skip
    return {**found, **_fuselage(model), **_tail(model, model.tailplane, "h"), **_tail(model, model.fin, "v"),
            "lh": to(_tail_arm(model), "ft")}  # fmt: skip


def of_wings(model: Model, whole: Mapping[str, float]) -> list[tuple[str, dict[str, float]]]:
    """Each wing's name, and its symbols with those of the whole aeroplane."""
    plans = [wing_planform(w) for w in model.wings]
    area = sum(p.area for p in plans)
    return [(w.name, {**whole, **_wing(model, w, p, p.area / area * whole["W"])})
            for w, p in zip(model.wings, plans, strict=True)]  # fmt: skip


def _wing(model: Model, wing: Wing, p: Planform, share: float) -> dict[str, float]:
    ratio = thickness_ratio(model.sections[wing.panels[0].root_section])
    return {"W": share, "S": to(p.area, "ft2"), "A": p.span**2 / p.area, "b": to(p.span, "ft"),
            "taper": float(p.chord[-1] / p.chord[0]), "tc": ratio,
            "tr": to(ratio * float(p.chord[0]), "ft")}  # fmt: skip


def _tail(model: Model, t: TailSurface, letter: str) -> dict[str, float]:
    area = t.span * (t.root_chord + t.tip_chord) / 2
    ratio = thickness_ratio(model.sections[t.section])
    half = t.span / 2 if letter == "h" else t.span
    slope = math.tan(t.sweep) + (t.tip_chord - t.root_chord) / 4 / half
    found = {"S": to(area, "ft2"), "A": t.span**2 / area, "b": to(t.span, "ft"), "tr": to(ratio * t.root_chord, "ft"),
             "tc": ratio, "taper": t.tip_chord / t.root_chord, "cos": math.cos(math.atan(slope))}  # fmt: skip
    return {key + letter: value for key, value in found.items()}


def _tail_arm(model: Model) -> float:
    """Quarter of the wings' mean chord, by area, to that of the tailplane, m."""
    plans = planforms(model)
    places = [(p.area, p.mean_chord[1] + p.mean_chord[0] / 4) for p in plans if not p.is_tail]
    tail = next(p for p in plans if p.is_tail)
    wings = sum(a * x for a, x in places) / sum(a for a, _ in places)
    return tail.mean_chord[1] + tail.mean_chord[0] / 4 - wings


def _fuselage(model: Model) -> dict[str, float]:
    body = model.fuselage.body
    aft = [b for b in body if b.station >= 0] or list(body)
    around = max(perimeter(b.width, b.top - b.bottom) for b in aft)
    return {"lf": to(max(b.station for b in body) - max(0.0, min(b.station for b in body)), "ft"),
            "wf": to(max(b.width for b in aft), "ft"), "hf": to(max(b.top - b.bottom for b in aft), "ft"),
            "p": to(around, "ft"), "Sf": to(outside_area(body, 0.0), "ft2")}  # fmt: skip


def _leg(model: Model) -> float:
    """Bottom of the fuselage at the main wheels down to their axle, m; NaN where it does not lie below."""
    mains = [w for w in model.wheels if abs(w.place[1]) > ON_CENTRE]
    if not mains:
        return math.nan
    x, _, z = max(mains, key=lambda w: w.mass).place
    body = sorted(model.fuselage.body, key=lambda b: b.station)
    under = float(np.interp(x, [b.station for b in body], [b.bottom for b in body])) - z
    return under if under > 0 else math.nan


def _bracing(model: Model) -> str:
    ends = [s.ends for s in model.struts] + [w.ends for w in model.wires]
    held = any(end.wing for pair in ends for end in pair)
    return "braced" if held else "cantilever"


def _mounting(model: Model) -> str:
    """Whether the highest wing lies above the middle of the fuselage under it."""
    top = max(model.wings, key=lambda w: w.leading_edge[2]).leading_edge
    body = sorted(model.fuselage.body, key=lambda b: b.station)
    middle = np.interp(top[0], [b.station for b in body], [(b.top + b.bottom) / 2 for b in body])
    return "high" if top[2] > middle else "low"


def tail_wheel(model: Model) -> bool:
    """Whether the single wheel lies behind the pair."""
    single = [w.place[0] for w in model.wheels if abs(w.place[1]) <= ON_CENTRE]
    pair = [w.place[0] for w in model.wheels if abs(w.place[1]) > ON_CENTRE]
    return bool(single and pair) and min(single) > max(pair)


def _outside(e: Equation, model: Model, fastest: float) -> str:
    count = len(model.wings)
    each = ", each taken by itself with its share of the weight" if e.each_wing else ""
    told = (
        (e.wings and e.wings != count, f"made for {e.wings} wing{'s' * (e.wings > 1)}, here are {count}{each}"),
        (model.limits.max_mass < e.least, f"lighter than any its book shows ({to(e.least, 'lb'):.0f} lb)"),
        (fastest > e.speed, f"faster than {to(e.speed, 'kt'):.0f} kt"),
        (e.wheel == "nose" and tail_wheel(model), "made for a nose wheel; the tail wheel is left out"),
    )
    return "; ".join(words for true, words in told if true)
