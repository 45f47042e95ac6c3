"""Published aeroplanes as families of our own, by one rule for all; not a test itself.

aeroplanes/geometry.toml has what the reports print (area, span, overall length, weight, power) and what is recalled
besides. Whatever else a family wants is taken by the rule below, decided before any of them was flown here and the
same for all; nothing of it was changed to meet a measurement.

The rule. Chord: area over the sum of the spans (the reports do not say what part of a lower wing they count). Body:
four ovals by kind of aeroplane (BODIES) on the printed length. Tail: 0.14 and 0.063 of the wings' area, aspect ratios
3.5 and 1.5, at the end of the body. Wheels 26 x 4 in on a vee of struts a side (tandem, rotary), 17.5 x 6.3 in on one
streamlined leg a side (cabins), spats and a nose wheel where the geometry says so. Struts 1.25 in wide, wires 5/32 in,
four flying and two landing wires a bay and side; lift struts 2 in wide to half the span. No incidence or overhang
wires, king posts, radiators or guns. All wings 2 deg to the thrust line, no twist; centre of gravity 0.28 of the mean
chord. Propeller: two blades; diameter from P = 0.045 rho n^3 D^5, the power coefficient of the one propeller whose
diameter was read (76 in, 180 hp, 2700 rev/min); pitch such that the engine turns its rated speed in the fastest level
flight at sea level. Engine: torque as at its rated speed below it, power as there above it (to 1.15). Exposed engine,
cooling and cockpit: the coarse rows of the drag data.

Sources: fales-1917, nasa-sp-468, faa-tcds-2a13 (what is printed); the rule is common practice, no source.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from clark_y import clark_y
from families import reading
from section_flow import rows

from sparwright.family.model import Model

HERE = Path(__file__).parent / "aeroplanes"
FOOT, POUND, HORSEPOWER = 0.3048, 0.45359237, 745.699872
MASS_CENTRE = 0.28  # of the mean chord, common practice
LOADING = 0.045  # CP of the propeller that was read
BODIES = {  # full width, top and bottom from the thrust line, m, at 0, 0.12, 0.35 and 1 of the length; common practice
    "tandem": ((0.55, 0.35, 0.35), (0.70, 0.40, 0.50), (0.75, 0.50, 0.50), (0.06, 0.10, 0.10)),
    "rotary": ((0.95, 0.48, 0.48), (0.98, 0.50, 0.50), (0.75, 0.50, 0.50), (0.06, 0.10, 0.10)),
    "narrow cabin": ((0.45, 0.20, 0.25), (0.70, 0.30, 0.50), (0.75, 0.70, 0.50), (0.06, 0.10, 0.10)),
    "cabin": ((0.60, 0.30, 0.35), (1.00, 0.40, 0.50), (1.10, 0.75, 0.50), (0.06, 0.15, 0.10)),
}
AT = (0.0, 0.12, 0.35, 1.0)
UNDER = (
    0.06  # m, the lowest of several wings under the body: no row of the drag data holds a corner of a section under 8 %
)
CELL_AT = 0.22  # of the length from the nose to the leading edge of the foremost wing


@cache
def geometry() -> Mapping[str, Mapping[str, Any]]:
    """What was read and recalled of each aeroplane, by our name for it."""
    return tomllib.loads((HERE / "geometry.toml").read_text("utf-8"))


def chord(g: Mapping[str, Any]) -> float:
    """m."""
    return float(g["area"] / sum(w["span"] for w in g["wings"]) * FOOT)


def model(name: str, pitch: float = 1.5) -> Model:
    """One of them as a model of our own."""
    return reading(family_text(name, pitch)).models["X"]


def family_text(name: str, pitch: float) -> str:
    """The family file of one of them."""
    g = geometry()[name]
    return "\n".join((_head(g), _body(g), _tail(g), _wheels(g), _cell(g), _bracing(g), _power(g, pitch)))


def _head(g: Mapping[str, Any]) -> str:
    return f"""
[family]
name = "Published"
categories = ["uk-microlight-600"]
drawing_units = "inch"
[limits]
forward_cg = {MASS_CENTRE}
aft_cg = {MASS_CENTRE + 0.01}
least_static_margin = 0.05
n_positive = 3.8
n_negative = -1.5
[sections.wing]
{_section(g["section"])}
[sections.tail]
naca = "0009"
[loads.pilot]
kind = "pilot"
least = "160 lb"
most = "180 lb"
place = ["2 m", "0 in", "0 in"]
[loads.fuel]
kind = "fuel"
least = "6 lb"
most = "60 lb"
place = ["1.5 m", "0 in", "0 in"]
[models.X]
title = "one of them"
[models.X.limits]
max_mass = "{g["mass"]} lb"
"""


def _section(name: str) -> str:
    if name.isdigit():
        return f'naca = "{name}"'
    points = clark_y().points if name == "clark-y" else _printed(name)
    return "points = [" + ", ".join(f"[{x}, {y}]" for x, y in points) + "]"


def _printed(name: str) -> tuple[tuple[float, float], ...]:
    """Upper tail to nose to lower tail of a published table."""
    table = rows(f"uiuc-coordinates-{name}.csv")
    x = [k for k in ("x_upper", "x_lower") if k in table[0]] or ["x_c", "x_c"]
    upper, lower = ([(float(r[a]), float(r[b])) for r in table] for a, b in zip(x, ("upper", "lower"), strict=True))
    return (*reversed(upper), *lower[1:])


def _body(g: Mapping[str, Any]) -> str:
    length, kind = g["length"] * FOOT, g["body"]
    open_cockpit = "true" if kind in ("tandem", "rotary") else "false"
    cuts = "\n".join(
        f's{i} = {{ station = "{at * length:.4f} m", width = "{w} m", top = "{t} m", bottom = "{-b} m" }}'
        for i, (at, (w, t, b)) in enumerate(zip(AT, BODIES[kind], strict=True))
    )
    front, rear = (spar_station(g, at) for at in (0.2, 0.66))
    wide, top, bottom = (0.68 * x for x in (BODIES[kind][2][0] / 2, BODIES[kind][2][1], BODIES[kind][2][2]))
    ground = -bottom / 0.68 - 0.75
    return f"""
[fuselage]
open_cockpit = {open_cockpit}
covering = "0.07 lb/ft2"
covering_band = 0.3
[fuselage.body]
{cuts}
[fuselage.nodes]
B1 = ["{front:.4f} m", "{wide:.4f} m", "{top:.4f} m"]
C1 = ["{rear:.4f} m", "{wide:.4f} m", "{top:.4f} m"]
B2 = ["{front:.4f} m", "{wide:.4f} m", "{-bottom:.4f} m"]
C2 = ["{rear:.4f} m", "{wide:.4f} m", "{-bottom:.4f} m"]
AX = ["{front:.4f} m", "0.8 m", "{ground:.4f} m"]
[fuselage.tubes.sides]
run = [["B1", "C1", "C2", "B2", "B1"]]
tube = {{ material = "4130N", outside = "3/4 in", wall = "0.035 in" }}
"""


def spar_station(g: Mapping[str, Any], at: float) -> float:
    """m, of a spar of the foremost wing."""
    return g["length"] * FOOT * CELL_AT + at * chord(g)


def _tail(g: Mapping[str, Any]) -> str:
    length, area = g["length"] * FOOT, g["area"] * FOOT**2
    flat, fin = 0.14 * area, 0.063 * area
    span, high = math.sqrt(3.5 * flat), math.sqrt(1.5 * fin)
    level, upright = flat / span, fin / high
    return f"""
[tailplane]
leading_edge = ["{length - level:.4f} m", "0 in", "0.05 m"]
span = "{span:.4f} m"
root_chord = "{level:.4f} m"
tip_chord = "{level:.4f} m"
section = "tail"
incidence = "0 deg"
hinge = 0.55
up = "28 deg"
down = "20 deg"
areal = "0.62 lb/ft2"
areal_band = 0.1
[fin]
leading_edge = ["{length - upright:.4f} m", "0 in", "0.08 m"]
span = "{high:.4f} m"
root_chord = "{upright:.4f} m"
tip_chord = "{upright:.4f} m"
section = "tail"
hinge = 0.5
up = "25 deg"
down = "25 deg"
areal = "0.62 lb/ft2"
areal_band = 0.1
"""


def _wheels(g: Mapping[str, Any]) -> str:
    old = g["body"] in ("tandem", "rotary")
    size = ("26 in", "4 in") if old else ("17.5 in", "6.3 in")
    front, ground = spar_station(g, 0.2), -BODIES[g["body"]][2][2] - 0.75
    spat = "true" if g.get("spats") else "false"
    third = ("nose", "0.3 m", size, spat) if g.get("nose_wheel") else ("tail", f"{g['length'] * FOOT - 0.3:.4f} m",
                                                                      ("6 in", "2 in"), "false")  # fmt: skip
    return f"""
[wheels.main]
diameter = "{size[0]}"
width = "{size[1]}"
mass = "10 lb"
faired = {spat}
place = ["{front:.4f} m", "0.9 m", "{ground:.4f} m"]
[wheels.{third[0]}]
diameter = "{third[2][0]}"
width = "{third[2][1]}"
mass = "4 lb"
faired = {third[3]}
place = ["{third[1]}", "0 m", "{ground:.4f} m"]
"""


def wing_places(g: Mapping[str, Any]) -> list[tuple[str, float, float, float, float]]:
    """(name, station, waterline of the leading edge, buttline of the root, half span) of each wing, m."""
    wide, top, bottom = BODIES[g["body"]][2]
    first = g["length"] * FOOT * CELL_AT
    if len(g["wings"]) == 1:
        level = top - 0.08 if g["place"] == "high" else -bottom + 0.12
        return [("wing", first, level, wide / 2, g["wings"][0]["span"] * FOOT / 2)]
    found, half = [], wide / 2
    for i, w in enumerate(g["wings"]):
        level = w["z"] * FOOT - bottom - UNDER
        root = half if -bottom < level < top else 0.0
        found.append((f"w{i}", first + w["x"] * FOOT, level, root, w["span"] * FOOT / 2))
    return found


def _cell(g: Mapping[str, Any]) -> str:
    return "".join(_wing(g, *place) for place in wing_places(g))


def _wing(g: Mapping[str, Any], name: str, x: float, z: float, root: float, tip: float) -> str:
    c = f"{chord(g):.4f} m"
    return f"""
[models.X.wings.{name}]
leading_edge = ["{x:.4f} m", "{root:.4f} m", "{z:.4f} m"]
incidence = "2 deg"
[models.X.wings.{name}.panels.all]
root_buttline = "{root:.4f} m"
tip_buttline = "{tip:.4f} m"
root_chord = "{c}"
tip_chord = "{c}"
root_section = "wing"
tip_section = "wing"
[models.X.wings.{name}.spars]
front = {{ at = 0.2, {CAP} }}
rear = {{ at = 0.66, {CAP} }}
[models.X.wings.{name}.skins]
cover = {{ start = 0.0, end = 1.0, material = "fabric", areal = "0.07 lb/ft2" }}
[models.X.wings.{name}.ribs]
pitch = "14 in"
sheet = {{ material = "okoume-ply", thickness = "4 mm" }}
"""


CAP = (
    'cap = { material = "spruce", width = "1 in", depth = "1/2 in" }, '
    'web = { material = "birch-ply", thickness = "2 mm" }'
)
TUBE = (
    'tube = {{ material = "4130N", outside = "{0} in", wall = "0.049 in" }}, '
    'fairing = "streamline", faired_width = "{0} in"'
)


def _end(wing: str, spar: str, buttline: float) -> str:
    return f'{{ wing = "{wing}", spar = "{spar}", buttline = "{buttline:.4f} m" }}'


def _bracing(g: Mapping[str, Any]) -> str:
    struts, wires = list(_legs(g)), []
    places = wing_places(g)
    if len(places) == 1:
        struts += _lift_struts(g, places[0])
    else:
        struts += [
            (f"cabane_{s}", f'{{ node = "{n}" }}', _end(places[0][0], s, 0.35))
            for s, n in (("front", "B1"), ("rear", "C1"))
        ]
        for upper, lower in zip(places[:-1], places[1:], strict=True):
            s, w = _bays(g, upper, lower)
            struts, wires = struts + s, wires + w
    width = "2" if len(places) == 1 else "1.25"
    told = "".join(
        f"{n} = {{ ends = [{a}, {b}], {TUBE.format('1.25' if n.startswith('leg') else width)} }}\n"
        for n, a, b in struts
    )
    lines = "".join(f'{n} = {{ ends = [{a}, {b}], diameter = "5/32 in", tension = "200 lbf" }}\n' for n, a, b in wires)
    return f"\n[models.X.struts]\n{told}\n" + (f"[models.X.wires]\n{lines}" if lines else "")


Line = tuple[str, str, str]


def _legs(g: Mapping[str, Any]) -> list[Line]:
    """Landing gear: a vee a side on the old ones, one leg a side on the cabins."""
    nodes = ("B2", "C2") if g["body"] in ("tandem", "rotary") else ("B2",)
    return [(f"leg_{n}", f'{{ node = "{n}" }}', '{ node = "AX" }') for n in nodes]


def _lift_struts(g: Mapping[str, Any], place: tuple[str, float, float, float, float]) -> list[Line]:
    spars = (("front", "B2"), ("rear", "C2"))[: g["lift_struts"]]
    return [(f"lift_{s}", f'{{ node = "{n}" }}', _end(place[0], s, place[4] / 2)) for s, n in spars]


def _bays(g: Mapping[str, Any], upper: Sequence[Any], lower: Sequence[Any]) -> tuple[list[Line], list[Line]]:
    """Struts and wires between two wings: bays end at equal parts of 0.8 of the shorter half span."""
    struts, wires = [], []
    ends = [0.8 * min(upper[4], lower[4]) * (i + 1) / g["bays"] for i in range(g["bays"])]
    inner = [0.4, *ends[:-1]]
    for i, (near, far) in enumerate(zip(inner, ends, strict=True)):
        for spar in ("front", "rear"):
            tag = f"{lower[0]}_{i}_{spar}"
            struts.append((f"strut_{tag}", _end(lower[0], spar, far), _end(upper[0], spar, far)))
            if not g.get("wires", True):
                continue
            for k in (0.0, 0.03):
                wires.append(
                    (
                        f"flying_{tag}_{int(100 * k)}",
                        _end(lower[0], spar, near + k),
                        _end(upper[0], spar, far - 0.05 - k),
                    )
                )
            wires.append((f"landing_{tag}", _end(upper[0], spar, near), _end(lower[0], spar, far - 0.05)))
    return struts, wires


def _power(g: Mapping[str, Any], pitch: float) -> str:
    rated, most = g["speed"], g["power"]
    points = ((0.4, 0.4), (1.0, 1.0), (1.15, 1.0))
    curve = "\n".join(
        f'  {{ speed = "{a * rated:.1f} rpm", power = "{b * most:.3f} hp", consumption = "0.30 kg/kWh" }},'
        for a, b in points
    )
    return f"""
[models.X.engine]
name = "published"
strokes = 4
cylinders = 4
mass = "{2 * most} lb"
mass_band = 0.1
place = ["0.4 m", "0 in", "0 in"]
mark = "read"
curve = [
{curve}
]
[models.X.propeller]
diameter = "{diameter(g):.4f} m"
pitch = "{pitch:.5f} m"
mass = "20 lb"
place = ["-0.1 m", "0 in", "0 in"]
"""


def diameter(g: Mapping[str, Any]) -> float:
    """m, of the propeller: read, else P = 0.045 rho n^3 D^5."""
    n = g["speed"] / 60
    return float(
        g["diameter"] * FOOT if "diameter" in g else (g["power"] * HORSEPOWER / (LOADING * 1.225 * n**3)) ** 0.2
    )
