"""Drag of everything that is neither wing nor tail, item by item, as drag areas with bands.

An item is D/q in square metres: a coefficient times the area it stands on. Coefficients, their bands and
their sources are in data/drag_items.toml, the round cylinder in data/cylinder.csv. The slipstream is not
in here.
"""

from __future__ import annotations

import csv
import math
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any, Literal

import numpy as np

from sparwright.air.atmosphere import Air
from sparwright.base.source import Band, Source
from sparwright.family.model import Body, Fuselage, Model, Place, Wheel

Shape = Literal["round", "streamline", "wire"]
StrutForDrag = tuple[str, float, float, Shape, int]  # name, length m, width across the wind m, shape, how many
CLEAR = 0.05  # m, how far outside the body's box a tube's end must be to count as out in the wind


@dataclass(frozen=True)
class DragItem:
    """One item of parasite drag."""

    name: str
    area: Band  # m2, D/q; NaN where its table does not reach
    source: Source
    note: str = ""


def parasite(model: Model, air: Air, speed: float, struts: Iterable[StrutForDrag] = ()) -> tuple[DragItem, ...]:
    """Every item of parasite drag of a model at a speed (m/s).

    struts: struts and wires out in the wind, both sides counted in `how many`; gear legs are found among
    the fuselage tubes. Range: each item's own; an item outside its table is NaN with a note.
    """
    struts = tuple(struts)
    bracing = [strut(s, air, speed) for s in struts]
    legs = [strut(s, air, speed) for s in outside_tubes(model.fuselage)]
    wheels = [wheel(w) for w in model.wheels]
    parts = [*bracing, *([_part("strut and wire ends", "strut_ends", bracing)] if bracing else [])]
    parts += [
        *wheels,
        *legs,
        *([_part("gear fittings and interference", "gear_joints", wheels + legs)] if wheels else []),
    ]
    parts += fuselage(model.fuselage, air, speed)
    return (*parts, _part("gaps, hinges and small parts", "small_parts", parts))


def strut(item: StrutForDrag, air: Air, speed: float) -> DragItem:
    """A strut, tube or wire across the wind: CD(Re) l d when round, CD l w when streamlined.

    Re = V d/nu. NaN with a note where the cylinder table does not reach. Source: naca-tn-84 (round);
    jones-aerodynamics ex. 13.1 and rathbun-1918 ch. XVI (streamlined). Swept struts are taken square to
    the wind, which is on the safe side.
    """
    name, length, width, shape, count = item
    frontal = length * width * count
    if shape == "streamline":
        return DragItem(
            name, _times(_coefficient("streamline"), frontal), _source("streamline"), f"{frontal:.4f} m2 frontal"
        )
    reynolds = speed * width / air.kinematic
    drag, row = cylinder_drag(reynolds), _items()["cylinder"]
    rough = row["cable"] if shape == "wire" else 1.0
    band = Band(drag * (1 + rough) / 2, drag * (1 - row["band"]), drag * rough * (1 + row["band"]))
    note = f"{frontal:.4f} m2 frontal, Re {reynolds:,.0f}"
    return DragItem(
        name, _times(band, frontal), _source("cylinder"), note if math.isfinite(drag) else f"{note}: outside the table"
    )


def cylinder_drag(reynolds: float) -> float:
    """Drag coefficient of an endless round cylinder on its frontal area, straight in log Re; NaN outside.

    Range: Re 892 to 810,000. Source: naca-tn-84.

    >>> round(cylinder_drag(30300.0), 2)
    1.16
    """
    at, drag = _cylinder()
    if not at[0] <= reynolds <= at[-1]:
        return math.nan
    return float(np.interp(math.log(reynolds), np.log(at), drag))


def wheel(item: Wheel) -> DragItem:
    """A wheel (a pair when off the centreline), on diameter times width."""
    key = "spatted_wheel" if item.faired else "wheel"
    count = 2 if item.place[1] else 1
    return DragItem(
        f"wheel {item.name}",
        _times(_coefficient(key), item.diameter * item.width * count),
        _source(key),
        f"{count} of them",
    )


def fuselage(item: Fuselage, air: Air, speed: float) -> list[DragItem]:
    """Skin, open cockpit and engine of a fuselage.

    Skin: D/q = Cf (1 + 1.5 (d/l)^1.5 + 7 (d/l)^3) S_wet, Cf = 0.455/(log10 Re)^2.58. Source: friction
    schlichting-bl (Prandtl and Schlichting); the form factor for bodies of revolution hoerner-drag (memory).
    """
    length, frontal, wetted = body_sizes(item.body)
    reynolds = speed * length / air.kinematic
    thickness = math.sqrt(4 * frontal / math.pi) / length
    friction = 0.455 / math.log10(reynolds) ** 2.58 * (1 + 1.5 * thickness**1.5 + 7 * thickness**3) * wetted
    source = Source("schlichting-bl", "Prandtl-Schlichting", "computed")
    note = f"{wetted:.2f} m2 wetted, Re {reynolds:,.0f}"
    skin = DragItem("fuselage skin", _times(_coefficient("skin"), friction), source, note)
    open_items = [("open cockpit", "cockpit")] if item.open_cockpit else []
    return [skin, *(
        DragItem(name, _times(_coefficient(key), frontal), _source(key), f"{frontal:.3f} m2 frontal")
        for name, key in [*open_items, ("engine and its cooling", "engine")]
    )]  # fmt: skip


def body_sizes(body: tuple[Body, ...]) -> tuple[float, float, float]:
    """(length m, greatest cross-section m2, wetted area m2) of ovals in the boxes of `body`, straight between.

    Perimeter of an ellipse by Ramanujan's first formula; ends open. Raises ValueError for fewer than two.
    """
    if len(body) < 2:
        raise ValueError("a fuselage needs two cross-sections at least")
    x = np.array([b.station for b in body])
    a, b = np.array([b.width / 2 for b in body]), np.array([(b.top - b.bottom) / 2 for b in body])
    around = math.pi * (3 * (a + b) - np.sqrt((3 * a + b) * (a + 3 * b)))
    return float(x[-1] - x[0]), float(np.max(math.pi * a * b)), float(np.trapezoid(around, x))


def outside_tubes(item: Fuselage) -> tuple[StrutForDrag, ...]:
    """Stretches of fuselage tube with an end clear of the body: gear legs. Whole stretches, both sides."""
    found: list[StrutForDrag] = []
    for run in item.tubes:
        for start, end in zip(run.run[:-1], run.run[1:], strict=True):
            a, b = _node(item.nodes, start), _node(item.nodes, end)
            if not (_outside(item.body, a) or _outside(item.body, b)):
                continue
            count = 1 if start not in item.nodes or end not in item.nodes or a[1] == b[1] == 0 else 2
            found.append((f"{run.name} {start} to {end}", math.dist(a, b), run.tube.outside, "round", count))
    return tuple(found)


def _node(nodes: Mapping[str, Place], name: str) -> Place:
    if name in nodes:
        return nodes[name]
    x, y, z = nodes[name[:-1]]
    return (x, -y if name.endswith("L") else y, z)


def _outside(body: tuple[Body, ...], place: Place) -> bool:
    x = [b.station for b in body]
    half, top, bottom = (float(np.interp(place[0], x, v)) for v in
                         ([b.width / 2 for b in body], [b.top for b in body], [b.bottom for b in body]))  # fmt: skip
    return abs(place[1]) > half + CLEAR or place[2] > top + CLEAR or place[2] < bottom - CLEAR


def _part(name: str, key: str, of: list[DragItem]) -> DragItem:
    """An item that is a fraction of others, low with low and high with high."""
    share = _coefficient(key)
    value, low, high = (sum(getattr(i.area, end) for i in of) * getattr(share, end) for end in ("value", "low", "high"))
    return DragItem(name, Band(value, low, high), _source(key), f"{share.low:g} to {share.high:g} of {len(of)} items")


def _times(band: Band, area: float) -> Band:
    return Band(band.value * area, band.low * area, band.high * area)


def _coefficient(key: str) -> Band:
    row = _items()[key]
    return Band(row["value"], row["low"], row["high"])


def _source(key: str) -> Source:
    row = _items()[key]
    return Source(row["source"], row["place"], row["mark"])


@lru_cache(maxsize=1)
def _items() -> dict[str, dict[str, Any]]:
    return tomllib.loads(files("sparwright.data").joinpath("drag_items.toml").read_text(encoding="utf-8"))


@lru_cache(maxsize=1)
def _cylinder() -> tuple[np.ndarray, np.ndarray]:
    text = files("sparwright.data").joinpath("cylinder.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))
    return np.array([float(r["reynolds"]) for r in rows]), np.array([float(r["drag"]) for r in rows])
