"""Formers as flat sheets on cross tubes, and stringers as strips let into their edges.

A former's edge is half an ellipse, y = half sin(a), z = feet + (crown - feet) cos(a), a from the top; its ring is the
like less its width. A stringer lies flush in a notch at a = share 90 deg, its width along the edge; the notch is wider
by what the strip runs across and up within the former's thickness. Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from itertools import pairwise

import numpy as np
from shapely import Polygon, box
from shapely.geometry.polygon import orient

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import decimal_inches, inches
from sparwright.base.record import locked
from sparwright.data.loader import material
from sparwright.family.fitted import FlatSheet
from sparwright.family.formers import Former, Stringer
from sparwright.family.model import Model, Place
from sparwright.parts.number import part_number
from sparwright.parts.part import Hand, Joint, Part, Straight
from sparwright.shape.frame import nodes
from sparwright.shape.solid import as_place, through

GROUP = "fuselage"
CORNERS = 24  # of a quarter of the edge
STEPS = 8  # of a stringer between two formers: keeps a strip that twists within half a hundredth of its volume
HANDS: tuple[tuple[Hand, float], ...] = (("R", 1.0), ("L", -1.0))
PURPOSE = "shapes the deck beneath its fabric"


def at_share(former: Former, share: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """((2,) buttline and waterline on a former's edge, (2,) unit out of it, (2,) unit along it, down)."""
    a, high = share * math.pi / 2, former.crown - former.feet
    point = np.array([former.half * math.sin(a), former.feet + high * math.cos(a)])
    out = np.array([math.sin(a) / former.half, math.cos(a) / high])
    out = out / np.linalg.norm(out)
    return point, out, np.array([out[1], -out[0]])


def former_sheets(model: Model) -> tuple[FlatSheet, ...]:
    """Every former as the flat sheet it is."""
    return tuple(_sheet(model, f) for f in model.formers)


def _station(model: Model, former: Former) -> float:
    known = nodes(model.fuselage)
    return known[former.on.split("-")[0]][0]


def _sheet(model: Model, former: Former) -> FlatSheet:
    x, half = _station(model, former), _half(model, former)
    corners: dict[str, Place] = {f"{i}": (x, float(y), float(z)) for i, (y, z) in enumerate(half)}
    return FlatSheet(name=former.name, purpose=PURPOSE, sheet=former.sheet, corners=corners, to=former.to,
                     held=(former.on,), bolt=former.bolt, pitch=former.pitch)  # fmt: skip


def _half(model: Model, former: Former) -> np.ndarray:
    """(n, 2) its right half from the centreline round to it. DesignProblem where notches leave it in pieces."""
    whole = _quarter(former.half, former.crown, former.feet)
    inner = former.crown - former.ring
    if inner > former.feet:
        whole = whole.difference(_quarter(former.half - former.ring, inner, former.feet))
    for stringer in model.stringers:
        if former.name in stringer.formers:
            whole = whole.difference(_notch(model, former, stringer))
    if not isinstance(whole, Polygon):
        raise DesignProblem(f"{model.name} formers.{former.name}: its notches leave it in pieces")
    ring = np.array(orient(whole, -1.0).exterior.coords)[:-1]
    middle = np.abs(ring[:, 0]) < 1e-9
    top = int(np.argmax(np.where(middle, ring[:, 1], -np.inf)))
    return np.roll(ring, -top, axis=0)


def _quarter(half: float, crown: float, feet: float) -> Polygon:
    a = np.linspace(0.0, math.pi / 2, CORNERS + 1)
    edge = np.column_stack([half * np.sin(a), feet + (crown - feet) * np.cos(a)])
    edge[0, 0] = 0.0
    return Polygon([*edge, (0.0, feet)])


def _notch(model: Model, former: Former, stringer: Stringer) -> Polygon:
    """What a stringer takes out of a former's edge; wider by its slope within the sheet."""
    point, out, along = at_share(former, stringer.share)
    slack = former.sheet.thickness / 2 * _slope(model, former, stringer)
    wide, deep = stringer.bar.width / 2 + slack, stringer.bar.depth + slack
    flat = box(-wide, -deep, wide, 1.0).exterior.coords
    return Polygon([point + s * along + n * out for s, n in flat])


def _slope(model: Model, former: Former, stringer: Stringer) -> float:
    """The steepest a stringer runs across or up at a former."""
    known = {f.name: f for f in model.formers}
    run = [known[n] for n in stringer.formers]
    i = stringer.formers.index(former.name)
    found = [0.0]
    for a, b in pairwise(run[max(i - 1, 0) : i + 2]):
        step = at_share(b, stringer.share)[0] - at_share(a, stringer.share)[0]
        found.append(float(np.linalg.norm(step)) / abs(_station(model, b) - _station(model, a)))
    return max(found)


# ------------------------------------------------------------------ stringers


def _number(model: Model, stringer: Stringer, hand: Hand) -> str:
    return part_number(model.name, GROUP, "STRINGER", stringer.name.upper().replace("_", "-"), hand)


def _sections(model: Model, stringer: Stringer, planes: Mapping[str, float]) -> np.ndarray:
    """(k, 4, 3) its corners in the middle of each former, and at the far faces of the first and last; right hand.

    Each bay is parted in STEPS, since the strip turns with the edges it lies in.
    """
    known, rings = {f.name: f for f in model.formers}, []
    wide, deep = stringer.bar.width / 2, stringer.bar.depth
    for name in stringer.formers:
        point, out, along = at_share(known[name], stringer.share)
        flat = np.array([point + s * along - n * out for s, n in ((-wide, 0), (wide, 0), (wide, deep), (-wide, deep))])
        rings.append(np.column_stack([np.full(4, planes[name]), flat]))
    made = np.array(rings)
    for i, j, name in ((0, 1, stringer.formers[0]), (-1, -2, stringer.formers[-1])):
        way = made[i] - made[j]
        made[i] = made[i] + way * (known[name].sheet.thickness / 2 / np.abs(way[:, :1]))
    parted = [a + (b - a) * t for a, b in pairwise(made) for t in np.arange(STEPS) / STEPS]
    return np.array([*parted, made[-1]])


def stringer_parts(model: Model, planes: Mapping[str, float]) -> Iterator[Part]:
    """Every stringer, right and left. planes: station of the middle of each former, m, by name.

    DesignProblem for formers that do not follow one another aft.
    """
    for stringer in model.stringers:
        stations = [planes[n] for n in stringer.formers]
        if stations != sorted(stations):
            raise DesignProblem(f"{model.name} stringers.{stringer.name}: its formers must follow one another aft")
        right, stuff = _sections(model, stringer, planes), material(stringer.bar.material)
        section = f"{inches(stringer.bar.width)} x {inches(stringer.bar.depth)}"
        for hand, side in HANDS:
            rings = right * (1.0, side, 1.0)
            body = through(list(rings))
            ends = [as_place(r.mean(axis=0)) for r in (rings[0], rings[-1])]
            yield Part(
                number=_number(model, stringer, hand), name=f"stringer, {stringer.name.replace('_', ' ')}", form="bar",
                group=GROUP, purpose=PURPOSE, material=stringer.bar.material, stock=f"{stuff.title}, {section}",
                hand=hand, places=(as_place(body.centre),), mass=body.volume * stuff.density,
                note="bent over the formers as it is glued" if len(stringer.formers) > 2 else "",
                shape=Straight(start=ends[0], end=ends[1], section=section, rings=locked(rings)),
            )  # fmt: skip


def stringer_joints(model: Model, planes: Mapping[str, float], sheets: Mapping[str, str]) -> Iterator[Joint]:
    """Each stringer in each of its formers. sheets: part number of each former by name."""
    known = {f.name: f for f in model.formers}
    for stringer in model.stringers:
        for name in stringer.formers:
            former = known[name]
            (y, z), _, _ = at_share(former, stringer.share)
            area = (stringer.bar.width + 2 * stringer.bar.depth) * former.sheet.thickness
            for hand, side in HANDS:
                own = _number(model, stringer, hand)
                yield Joint(number=f"{own}-{name.upper().replace('_', '-')}-JOINT", kind="glue", primary=False,
                            parts=(sheets[name], own), place=(planes[name], side * float(y), float(z)), area=area,
                            note=f"let in flush, {decimal_inches(stringer.bar.depth)} deep")  # fmt: skip
