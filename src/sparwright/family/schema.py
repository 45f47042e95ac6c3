"""What a family file may hold, worked out from the records of family/model.py and nowhere written twice.

The reader, the JSON Schema and docs/family-file.md all walk these keys.
"""

from __future__ import annotations

import math
from dataclasses import MISSING, dataclass, fields, is_dataclass
from functools import lru_cache
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from sparwright.base.quantity import EXAMPLES, UNITS
from sparwright.base.record import number
from sparwright.family import controls as c
from sparwright.family import model as m
from sparwright.family.balance import AileronWeight
from sparwright.family.brakes import BrakeLine
from sparwright.family.cowling import CowlOpening
from sparwright.family.days import Day
from sparwright.family.electrics import Circuit
from sparwright.family.exhaust import ExhaustPipe, Silencer
from sparwright.family.fitted import FlatSheet, Lump, MountFoot, SheetHole
from sparwright.family.fittings import Fitting, Root, StrutPiece
from sparwright.family.formers import Former, Stringer
from sparwright.family.fuel import FuelLine
from sparwright.family.ground import Springing
from sparwright.family.model import words
from sparwright.family.pitot import AirLine
from sparwright.family.rigging import LevelPoint
from sparwright.family.tail_frame import TailAttach

Form = Literal[
    "quantity", "ratio", "count", "flag", "words", "choice", "place", "quantities", "ratios", "names", "points",
    "run", "table", "tables", "list", "places",
]  # fmt: skip

DIMENSION_OF = {
    "m": "length", "kg": "mass", "rad": "angle", "N": "force", "W": "power", "kg/J": "consumption",
    "rev/s": "turning", "kg/m3": "density", "kg/m2": "areal", "kg/m": "linear", "m/s": "speed", "m2": "area",
    "m3": "volume", "m3/s": "flow", "Pa": "pressure",
    "K": "temperature", "s": "time", "A": "current", "V": "voltage", "C": "charge",
}  # fmt: skip


@dataclass(frozen=True)
class Bounds:
    """The values a key may have, SI; `open_low` and `open_high` leave the end itself out."""

    low: float = number("SI unit of the key", "least value", -math.inf)
    high: float = number("SI unit of the key", "greatest value", math.inf)
    open_low: bool = False
    open_high: bool = False

    def hold(self, value: float) -> bool:
        """Whether a value lies within."""
        above = value > self.low if self.open_low else value >= self.low
        return above and (value < self.high if self.open_high else value <= self.high)


@dataclass(frozen=True)
class Key:
    """One key of a table of the file."""

    name: str
    form: Form
    meaning: str
    default: Any
    dimension: str = ""
    record: type | None = None
    choices: tuple[str, ...] = ()
    size: int = 0
    bounds: Bounds = Bounds()

    @property
    def required(self) -> bool:
        """Whether a complete model must have it."""
        return self.default is MISSING

    @property
    def example(self) -> str:
        """A value that works, as it is written in the file."""
        return _EXAMPLE_OF.get(self.name) or _example(self)


@dataclass(frozen=True, kw_only=True)
class Head:
    """The [family] table."""

    name: str = words("name of the family")
    note: str = words("remark", "")
    drawing_units: Literal["inch", "millimetre"] = words("units of dimensions on drawings")
    market: Literal["inch", "metric"] | None = words(
        "whose stock is offered in place of what is written; left out: that of the drawing units", None
    )
    categories: tuple[str, ...] = words("keys of the licence categories to check against")
    unknown: tuple[str, ...] = words("what is not known yet, in your words; shown with every result", ())
    cut_outside: tuple[str, ...] = words(
        "keys of the materials whose flat plates a shop cuts from a file; left out: every flat plate", ()
    )


SHARED = (
    "limits", "sections", "wings", "tailplane", "fin", "fuselage", "struts", "wires", "fittings",
    "strut_pieces", "roots", "engine", "propeller", "wheels", "loads", "items", "sheets", "formers", "stringers",
    "mount", "cowling", "undercarriage",
    "allowances", "fuel", "exhaust", "days", "paint", "ground", "parked", "rigging", "test_pieces", "proof", "seat",
    "controls", "electrics", "pitot", "confirmed", "strengths", "measured_sheets",
)  # fmt: skip
# Keys of a model besides what it shares and `without`.
OWN = ("title", "note", "drawing_units", "market", "categories", "weighed", "proof_measured")

POSITIVE, NOT_NEGATIVE = Bounds(0, open_low=True), Bounds(0)
FRACTION, WITHIN = Bounds(0, 1), Bounds(0, 1, True, True)
TRAVEL, SETTING = Bounds(0, math.pi / 2, open_high=True), Bounds(-math.pi / 9, math.pi / 9)
SIZES = 100.0  # m: no light aeroplane has a dimension beyond this

# Bounds by key, or by record and key where one key means different things.
BOUNDS: dict[str, Bounds] = {
    **dict.fromkeys(
        ("thickness", "width", "depth", "outside", "wall", "root_chord", "tip_chord", "span", "pitch", "diameter",
         "power", "consumption", "fuel_density", "gear", "max_mass", "n_positive", "rim"), POSITIVE),
    **dict.fromkeys(
        ("land", "nose_cut", "tail_cut", "fit", "web_left", "hole_radius", "flange", "bend_radius", "gap", "areal",
         "covering", "faired_width", "tension", "mass", "low", "high", "least", "most", "root_buttline",
         "tip_buttline", "buttline", "inboard", "outboard", "extra", "least_static_margin", "windscreen",
         "cockpit_opening", "exposed", "cooling_outlet", "tyre", "leg", "stop"), NOT_NEGATIVE),
    **dict.fromkeys(("NoScarf.start", "NoScarf.end", "trim"), NOT_NEGATIVE),
    **dict.fromkeys(("start", "end", "mass_band", "band", "areal_band", "covering_band"), FRACTION),
    **dict.fromkeys(("at", "hinge"), WITHIN),
    **dict.fromkeys(("up", "down"), TRAVEL),
    **dict.fromkeys(("incidence", "twist"), SETTING),
    **dict.fromkeys(("forward_cg", "aft_cg"), Bounds(-1, 2)),
    "Skin.thickness": NOT_NEGATIVE,
    "StouterRib.at": NOT_NEGATIVE,
    **dict.fromkeys(("Splice.reach", "Truss.reach", "Inspection.rim", "longest", "notch", "tape"), POSITIVE),
    **dict.fromkeys(("CurvePoint.speed", "PartPoint.speed", "greatest_speed", "never_exceed",
                     "design_manoeuvring", "design_cruise", "design_dive", "foot", "hand", "propeller_pull",
                     "BladeStation.chord"), POSITIVE),
    "BladeStation.radius": Bounds(0, 1, open_low=True),
    "BladeStation.angle": Bounds(0, math.radians(80)),
    "BladeStation.thickness": Bounds(0.08, 0.21),
    "Engine.mass": POSITIVE,
    **dict.fromkeys(("Weighed.mass", "MeasuredSheet.measured"), POSITIVE),
    **dict.fromkeys(("bag", "small_bag"), Bounds(0.1, 50.0)),
    "ProofMeasured.step": Bounds(0, 1, open_low=True),
    **dict.fromkeys(("scale", "Parked.wind"), POSITIVE),
    "ceiling": Bounds(0, 6096.0),
    "least_margin": Bounds(0, 10),
    "least_gauge": POSITIVE,
    "hoist": Bounds(1, 10),
    "Ground.bank": Bounds(0, math.pi / 6, True, True),
    **dict.fromkeys(("Rigging.incidence", "sides", "washout", "Rigging.dihedral", "Rigging.tailplane", "travels"),
                    Bounds(0, math.radians(5), open_low=True)),
    **dict.fromkeys(("stagger", "Rigging.gap"), POSITIVE),
    "tensions": WITHIN,
    "sweep": Bounds(-math.pi / 3, math.pi / 3),
    "dihedral": Bounds(-math.pi / 6, math.pi / 6),
    "n_negative": Bounds(high=0, open_high=True),
    "reynolds": Bounds(5e4, 9e6),
    "give_or_take": WITHIN,
    "Measured.angle": Bounds(-math.pi / 2, math.pi / 2),
    "Measured.lift": Bounds(-4, 4),
    "Measured.drag": Bounds(0, 2, open_low=True),
    "Measured.moment": Bounds(-1, 1),
    "nose_ribs": Bounds(0, 4),
    "webs": Bounds(1, 2),
    "cylinders": Bounds(1, 12),
    "blades": Bounds(2, 8),
    "count": Bounds(1, 100),
    "strokes": Bounds(2, 4),
    **dict.fromkeys(("length", "height", "mesh", "wire", "bore", "seat", "flow"), POSITIVE),
    **dict.fromkeys(("sump", "bowl", "loss", "pressure", "shut", "extra"), NOT_NEGATIVE),
    **dict.fromkeys(("elbows", "bends", "half_bends", "tees", "side_tees", "baffles"), Bounds(0, 100)),
    "bank": Bounds(0, math.pi / 4),
    **dict.fromkeys(
        ("edge", "lap", "arm", "play", "hole", "setback", "AileronHinges.foot", "TailFrame.gap", "TailFrame.covering"),
        POSITIVE),
    **dict.fromkeys(("root", "root_aft", "foot", "along", "places", "ribs"), NOT_NEGATIVE),
    **dict.fromkeys(("ClosedStretch.start", "ClosedStretch.end"), NOT_NEGATIVE),
    **dict.fromkeys(("back", "pan"), Bounds(0, math.pi / 3)),
    **dict.fromkeys(
        ("cushion", "behind", "StickGrip.forward", "StickGrip.aft", "travel", "adjust", "give", "door"), NOT_NEGATIVE),
    **dict.fromkeys(("Throttle.shut", "Harness.lap"), Bounds()),
    **dict.fromkeys(("Former.half", "ring"), POSITIVE),
    **dict.fromkeys(("SeatAngle.leg", "SeatStiffener.leg", "tang", "SeatTunnel.flange"), POSITIVE),
    **dict.fromkeys(("front_height", "rear_height", "strap_width", "tab_height", "take_up"), POSITIVE),
    **dict.fromkeys(("SeatAngle.inner", "SeatAngle.outer", "SeatStiffener.buttline"), NOT_NEGATIVE),
    "SeatAngle.bolts": Bounds(2, 20),
    **dict.fromkeys(("eye", "turns", "side", "guard", "shaft", "stretch", "turnbuckle", "CableEnd.outside"), POSITIVE),
    **dict.fromkeys(("ReturnSpring.force", "ControlCable.turnbuckle", "SideStop.arm"), POSITIVE),
    **dict.fromkeys(("opening", "opening_edge", "drawn", "longest"), POSITIVE),
    **dict.fromkeys(("Trim.slack", "Trim.pull", "Trim.forward", "Trim.aft"), POSITIVE),
    **dict.fromkeys(
        ("Stick.arm", "Lug.hole", "Lug.foot", "Pulley.axis", "TorqueTube.holes", "RudderPedals.cable",
         "RudderPedals.spring"), Bounds()),
    "turns": Bounds(0, math.pi / 4, open_low=True),
    "settings": Bounds(1, 10),
    **dict.fromkeys(("reach", "Root.buttline"), POSITIVE),
    **dict.fromkeys(("rivets", "fasteners"), Bounds(1, 20)),
    "arms": Bounds(1, 2),
    **dict.fromkeys(("cord", "strand", "stretched", "beside"), POSITIVE),
    **dict.fromkeys(("AxleGuide.fit", "Propeller.hub", "size"), POSITIVE),
    **dict.fromkeys(("Leaf.start", "Leaf.end"), Bounds()),
    "Rubber.turns": Bounds(1, 50),
    "leaves": Bounds(1, 10),
    "Rubber.stretch": Bounds(0, 5),
    "pull": NOT_NEGATIVE,
    "Rubber.density": Bounds(500, 2000),
    **dict.fromkeys(("voltage", "capacity", "current", "rating", "oil_use"), POSITIVE),
    **dict.fromkeys(("Generator.speed", "straight", "Antenna.height"), POSITIVE),
    **dict.fromkeys(("usable", "share"), Bounds(0, 1, open_low=True)),
    "cooling_inlet": NOT_NEGATIVE,
    "mix": Bounds(10, 200),
    **dict.fromkeys(("leg", "short", "CowlEnd.half"), POSITIVE),
    "Day.balance": Bounds(-1, 2),
    "altitude": Bounds(-500, 5000),
    "warmer": Bounds(-60, 40),
    "gauge": Bounds(0, 24),
    **dict.fromkeys(("results", "forces"), POSITIVE),
    **dict.fromkeys(("CouponSeries.temperature", "KnockDown.temperature"), Bounds(200, 500)),
    **dict.fromkeys(("CouponSeries.moisture", "KnockDown.moisture"), Bounds(0, 0.4)),
    "grain": Bounds(0, math.pi / 2),
    "KnockDown.factor": Bounds(0, 1, open_low=True),
    **dict.fromkeys(("TailWeight.ahead", "TailWeight.behind", "TailWeight.off", "AileronWeight.along",
                     "AileronWeight.ahead"), POSITIVE),
    **dict.fromkeys(("ControlPlay.rod_end", "ControlPlay.pivot", "ControlPlay.hinge"), Bounds(0, 0.01)),
}  # fmt: skip

_EXAMPLE_OF = {
    "ceiling": '"10000 ft"', "hoist": "2.0", "least_margin": "0.1",
    "reason": '"least gauge, against dents"', "altitude": '"3000 ft"', "warmer": '"20 K"',
    "part": '"W1-wing-RIB-0"', "category": '"us-sport-pilot-2025"', "row": '"seats"', "who": '"A. Builder"',
    "when": '"2026-03-01"', "read": '"ecfr.gov, 14 CFR 61.316 as printed that day"', "scale": '"0.01 lb"',
    "n_negative": "-1.5", "n_positive": "3.8", "material": '"4130N"', "run": '["A1", "B1"]', "naca": '"4412"',
    "mark": '"measured"', "categories": '["cs-vla"]', "cut_outside": '["4130N", "birch-ply"]',
    "gear": "2.6", "strokes": "4", "cylinders": "2",
    "node": '"B1"', "title": '"one parasol wing, wood"', "sweep": '"2 deg"', "thickness": '"1.5 mm"',
    "areal": '"0.07 lb/ft2"', "covering": '"0.07 lb/ft2"', "construction": '"1x19"', "tension": '"200 lbf"',
    "measured": '"3.8 mm"', "wall": '"0.035 in"', "outside": '"3/4 in"', "twist": '"-1.5 deg"', "max_mass": '"820 lb"',
    "fuel_density": '"6 lb/gal"', "windscreen": '"1 ft2"', "cockpit_opening": '"3 ft2"', "exposed": '"0.3 ft2"',
    "cooling_outlet": '"0.4 ft2"', "aft_cg": "0.32", "least_static_margin": "0.05",
    "position_error": '["-2 kt", "3 kt"]',
    "reynolds": "1e6", "give_or_take": "0.05", "source": '"who measured it, where it is printed"', "surface": '"built"',
    "angle": '["-4 deg", "0 deg", "4 deg", "8 deg", "12 deg"]', "lift": "[-0.02, 0.40, 0.83, 1.20, 1.38]",
    "tensions": "0.1", "on": '"A1R-D1R"', "travels": '"1 deg"', "washout": '"0.25 deg"', "sides": '"0.1 deg"',
    "rim": '"8 in"', "tyre": '"1 in"', "leg": '"1-1/2 in"', "stop": '"4 in"', "bank": '"5 deg"',
    "rivet": '"blind-aluminium-1/8"', "fastener": '"AN3"', "pin": '"AN3"', "bolt": '"AN3"', "play": '"0.5 mm"',
    "places": '["8 in", "40 in"]', "reach": '"1/2 in"', "fitting": '"cabane"', "piece": '"cabane"', "edge": '"1/2 in"',
    "back": '"15 deg"', "pan": '"8 deg"', "give": '"4 in"', "travel": '"3 in"',
    "phases": '["cruise", "night"]', "feeds": '"radio"', "gauge": "20", "usable": "0.75", "mix": "50",
    "oil_use": '"0.1 L/h"', "item": '"battery"', "cooled": '"ram"',
    "property": '"shear"', "results": '["61 MPa", "58 MPa"]', "forces": '["255 lbf", "262 lbf"]', "grain": '"45 deg"',
    "values": '["tension"]', "edition": '"anc-18-1951"', "of": '["spruce", "birch-ply"]', "cable": '"1x19"',
    "batch": '"sheet 1"', "factor": "0.8", "moisture": "0.12", "temperature": '"296 K"',
    "drag": "[0.009, 0.008, 0.009, 0.012, 0.020]", "moment": "[-0.09, -0.09, -0.09, -0.08, -0.07]",
}  # fmt: skip


@lru_cache(maxsize=64)
def keys(record: type) -> tuple[Key, ...]:
    """The keys of a record's table. A record in a named table has its name there, so `name` is no key of it."""
    hints = get_type_hints(record)
    left_out = {"name"} if record in NAMED else set()
    return tuple(_key(record, f.name, hints[f.name], f) for f in fields(record) if f.name not in left_out)


@lru_cache(maxsize=1)
def top() -> tuple[Key, ...]:
    """The tables a family shares and a model may say anew."""
    return tuple(k for k in keys(m.Model) if k.name in SHARED)


@lru_cache(maxsize=1)
def own() -> tuple[Key, ...]:
    """The keys only a model has."""
    return tuple(k for k in keys(m.Model) if k.name in OWN)


NAMED = frozenset(
    (
        m.Section,
        m.Panel,
        m.Spar,
        m.Skin,
        m.StouterRib,
        m.Wing,
        m.FrameTube,
        m.Strut,
        m.Wire,
        m.Wheel,
        m.Item,
        m.Allowance,
        m.Load,
        FlatSheet,
        Former,
        Stringer,
        FuelLine,
        Lump,
        MountFoot,
        SheetHole,
        Springing,
        LevelPoint,
        TailAttach,
        AileronWeight,
        *c.NAMED,
        Fitting,
        StrutPiece,
        Root,
        Circuit,
        AirLine,
        BrakeLine,
        ExhaustPipe,
        Silencer,
        CowlOpening,
        Day,
    )
)


def _key(record: type, name: str, hint: Any, field: Any) -> Key:
    unit, meaning = field.metadata["unit"], field.metadata["meaning"]
    form, extra = _form(name, hint, unit)
    bounds = BOUNDS.get(f"{record.__name__}.{name}") or BOUNDS.get(name) or Bounds()
    if unit == "m" and name not in ("altitude", "ceiling"):
        bounds = Bounds(max(bounds.low, -SIZES), SIZES, bounds.open_low, bounds.open_high)
    return Key(name, form, meaning, field.default, bounds=bounds, **extra)


def _form(name: str, hint: Any, unit: str) -> tuple[Form, dict[str, Any]]:
    """How a field of that type is written in the file."""
    dimension = {"dimension": DIMENSION_OF.get(unit, "")}
    if get_origin(hint) in (UnionType, Union):
        hint = next(a for a in get_args(hint) if a is not NoneType)
    floats: tuple[Form, dict[str, Any]] = ("quantities", dimension) if dimension["dimension"] else ("ratios", {})
    plain: dict[Any, tuple[Form, dict[str, Any]]] = {
        float: ("quantity", dimension) if dimension["dimension"] else ("ratio", {}),
        int: ("count", {}), bool: ("flag", {}), str: ("words", {}), m.Place: ("place", dimension),
        tuple[float, ...]: floats, tuple[tuple[float, float], ...]: ("points", {}),
        tuple[str, ...]: ("run" if name == "run" else "names", {}),
    }  # fmt: skip
    if hint in plain:
        return plain[hint]
    if get_origin(hint) is Literal:
        return "choice", {"choices": get_args(hint)}
    if is_dataclass(hint):
        return "table", {"record": hint}
    inner = get_args(hint)
    if inner[0] is str:  # a mapping by name
        return ("places", dimension) if inner[1] == m.Place else ("tables", {"record": inner[1]})
    if inner[0] in NAMED or inner[0] is m.Body:
        return "tables", {"record": inner[0]}
    return "list", {"record": inner[0], "size": 2 if len(inner) == 2 and inner[1] is not Ellipsis else 0}


def _example(key: Key) -> str:
    if key.form == "quantity":
        return EXAMPLES[key.dimension].split(" or ")[0]
    if key.form == "choice":
        return f'"{key.choices[0]}"'
    return {
        "ratio": "0.2", "count": "2", "flag": "true", "words": '"front"', "place": '["20 in", "0 in", "-2 in"]',
        "quantities": '["96 in"]', "ratios": "[0.2, 0.4]", "names": '["front"]', "run": "",
        "points": "[[1.0, 0.001], [0.9, 0.02]]", "table": "{ ... }", "tables": "{ ... }",
        "list": "[{ ... }, { ... }]", "places": "{ ... }",
    }[key.form]  # fmt: skip


def units_of(dimension: str) -> tuple[str, ...]:
    """The units a quantity may be written in."""
    return tuple(UNITS[dimension])
