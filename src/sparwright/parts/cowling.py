"""A cowling of flat panels: top, bottom and two sides between a nose plate and the firewall, on angles inside.

Every section across is a rectangle whose sides go straight from the nose to the firewall, so that each panel is flat
and is cut from sheet. Angles lie in its four corners and round both ends (rims, on the nose plate and the firewall);
the panels are screwed to them. Openings are cut out of what they meet; the area that air has is what they took away.
Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.check import Check, Step, check
from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.base.record import number
from sparwright.base.source import Band
from sparwright.data.loader import material
from sparwright.family.cowling import CowlEnd, Cowling
from sparwright.family.model import Model, Sheet
from sparwright.parts.bought import both_sides, lump
from sparwright.parts.flat_sheets import Laid, sheet_number
from sparwright.parts.number import part_number
from sparwright.parts.part import Formed, Hand, Joint, Part
from sparwright.parts.wing import sheet_stock
from sparwright.shape.solid import Solid, as_place, between, less

GROUP = "fuselage"
HANDS: tuple[tuple[Hand, float], ...] = (("R", 1.0), ("L", -1.0))
AGREE = 0.1  # of the area the engine's cooling was reckoned with
Corner = tuple[float, float]


@dataclass(frozen=True)
class Shell:
    """A cowling between its two ends."""

    cowl: Cowling
    rear: float = number("m", "station of the firewall's forward face")

    @property
    def front(self) -> float:
        """Station of the nose plate's rear face, where the panels begin, m."""
        return self.cowl.nose + self.cowl.sheet.thickness

    def at(self, x: float) -> CowlEnd:
        """The outside rectangle at a station."""
        f = (x - self.front) / (self.rear - self.front)
        a, b = self.cowl.front, self.cowl.rear
        return CowlEnd(half=a.half + f * (b.half - a.half), top=a.top + f * (b.top - a.top),
                       bottom=a.bottom + f * (b.bottom - a.bottom))  # fmt: skip


def shell(model: Model, laid: Sequence[Laid]) -> Shell | None:
    """The cowling of a model where it lies; None for none. DesignProblem where it stands on no firewall."""
    cowl = model.cowling
    if cowl is None:
        return None
    wall = next((one for one in laid if one.sheet.name == cowl.firewall), None)
    if wall is None:
        raise DesignProblem(f"{model.name} cowling.firewall: no flat sheet is called {cowl.firewall}")
    rear = float(wall.pose.origin[0]) - wall.sheet.sheet.thickness / 2
    if cowl.nose + cowl.sheet.thickness >= rear:
        raise DesignProblem(f"{model.name} cowling.nose: it lies ahead of the firewall, station {inches(rear)}")
    return Shell(cowl, rear)


def _number(model: Model, kind: str, hand: str = "") -> str:
    return part_number(model.name, GROUP, f"COWL-{kind}", "", hand)


def _cutters(model: Model, air: str | None = None) -> list[Solid]:
    openings = model.cowling.openings if model.cowling else ()
    return [lump(p, o.size, o.form) for o in openings if air in (None, o.air) for p in both_sides(o.place)]


def _meets(body: Solid, cutters: Sequence[Solid]) -> list[Solid]:
    low, high = body.box
    return [c for c in cutters if np.all(c.box[0] < high) and np.all(c.box[1] > low)]


def _ring(x: float, corners: Sequence[Corner]) -> np.ndarray:
    return np.array([(x, y, z) for y, z in corners])


def _panels(s: Shell) -> Mapping[str, Solid]:
    """Panels and nose plate before anything is cut out, by kind and hand; sides lie between top and bottom."""
    t, found = s.cowl.sheet.thickness, dict[str, Solid]()
    ends = [(x, s.at(x)) for x in (s.front, s.rear)]

    def swept(corners: Mapping[float, Sequence[Corner]]) -> Solid:
        (a, p), (b, q) = corners.items()
        return between(_ring(a, p), _ring(b, q))

    found["TOP"] = swept({x: _box(-e.half, e.half, e.top - t, e.top) for x, e in ends})
    found["BOTTOM"] = swept({x: _box(-e.half, e.half, e.bottom, e.bottom + t) for x, e in ends})
    for hand, side in HANDS:
        rings = []
        for x, e in ends:
            left, right = sorted((side * (e.half - t), side * e.half))
            rings.append(_ring(x, _box(left, right, e.bottom + t, e.top - t)))
        found[f"SIDE-{hand}"] = between(rings[0], rings[1])
    e = s.cowl.front
    face = _box(-e.half, e.half, e.bottom, e.top)
    found["NOSE"] = between(_ring(s.cowl.nose, face), _ring(s.front, face))
    return found


def _box(left: float, right: float, low: float, high: float) -> list[Corner]:
    """Anticlockwise seen from behind, y to the right and z up: outwards for a body that grows aft."""
    return [(left, low), (left, high), (right, high), (right, low)]


def _corners(s: Shell) -> Mapping[str, Solid]:
    """The angles in the four corners, beneath two panels each, from nose plate to firewall."""
    t, a, leg, found = s.cowl.sheet.thickness, s.cowl.angle.thickness, s.cowl.leg, dict[str, Solid]()
    for level, up in (("UPPER", 1.0), ("LOWER", -1.0)):
        for hand, side in HANDS:
            rings = []
            for x in (s.front, s.rear):
                e = s.at(x)
                y, z = e.half - t, (e.top if up > 0 else -e.bottom) - t
                l_ = [(y, z), (y - leg, z), (y - leg, z - a), (y - a, z - a), (y - a, z - leg), (y, z - leg)]
                rings.append(_ring(x, [(side * p, up * q) for p, q in l_]))
            found[f"CORNER-{level}-{hand}"] = _solid(rings)
    return found


def _rims(s: Shell) -> Mapping[str, Solid]:
    """Angles on the nose plate and on the firewall, beneath the panels, short of the corners."""
    t, a, leg, found = s.cowl.sheet.thickness, s.cowl.angle.thickness, s.cowl.leg, dict[str, Solid]()
    f, r, short, long = s.cowl.front, s.cowl.rear, s.cowl.short, s.rear - s.front
    for end, x, way, e in (("FRONT", s.front, 1.0, f), ("REAR", s.rear, -1.0, r)):

        def profile(out: float, slope: float, x: float = x, way: float = way) -> list[Corner]:
            """(station, outwards) of an L: one leg on the plate, one beneath a panel that goes outwards so much aft."""
            back, rise = out - t, way * slope
            tip = back + rise * leg
            return [(x, back), (x + way * leg, tip), (x + way * leg, tip - a), (x + way * a, back + rise * a - a),
                    (x + way * a, back - leg), (x, back - leg)]  # fmt: skip

        for key, out, slope, up in (("TOP", e.top, (r.top - f.top) / long, 1.0),
                                    ("BOTTOM", -e.bottom, (f.bottom - r.bottom) / long, -1.0)):  # fmt: skip
            flat, half = profile(out, slope), e.half - short
            found[f"RIM-{end}-{key}"] = _solid([np.array([(x, y, up * z) for x, z in flat]) for y in (-half, half)])
        flat = profile(e.half, (r.half - f.half) / long)
        for hand, side in HANDS:
            reach = (e.bottom + short, e.top - short)
            found[f"RIM-{end}-SIDE-{hand}"] = _solid([np.array([(x, side * y, z) for x, y in flat]) for z in reach])
    return found


def _solid(rings: Sequence[np.ndarray]) -> Solid:
    """A body between two rings, turned so that its sides look outwards."""
    body = between(rings[0], rings[1])
    return body if body.volume > 0 else between(rings[0][::-1], rings[1][::-1])


def cowling_parts(model: Model, laid: Sequence[Laid]) -> Iterator[Part]:
    """Panels, nose plate and angles; none where the file has no cowling."""
    s = shell(model, laid)
    if s is None:
        return
    cutters = _cutters(model)
    angles = {**_corners(s), **_rims(s)}
    flat = "its width is both legs laid flat; trimmed after bending"
    made = ((_panels(s), s.cowl.sheet, "cowling panel", ""), (angles, s.cowl.angle, "angle of the cowling", flat))
    sizes = _sizes(s)
    for bodies, sheet, name, note in made:
        for key, whole in bodies.items():
            yield replace(_part(model, key, name, sheet, whole, cutters, sizes[_kind(key)]), note=note)


def _kind(key: str) -> str:
    """What both hands are called."""
    return key.removesuffix("-R").removesuffix("-L")


def _sizes(s: Shell) -> Mapping[str, tuple[float, float]]:
    """Length and width of the piece that each is cut from, m, by kind: along the panels' slopes, angles laid flat."""
    f, r, t, long = s.cowl.front, s.cowl.rear, s.cowl.sheet.thickness, s.rear - s.front
    both = 2 * s.cowl.leg
    out, up, down = r.half - f.half, r.top - f.top, r.bottom - f.bottom
    wide, tall = 2 * max(f.half, r.half), max(f.top - f.bottom, r.top - r.bottom) - 2 * t
    found = {
        "TOP": (math.hypot(long, up), wide),
        "BOTTOM": (math.hypot(long, down), wide),
        "SIDE": (math.hypot(long, out), tall),
        "NOSE": (2 * f.half, f.top - f.bottom),
        "CORNER-UPPER": (math.hypot(long, out, up), both),
        "CORNER-LOWER": (math.hypot(long, out, down), both),
    }
    for end, e in (("FRONT", f), ("REAR", r)):
        across, high = 2 * (e.half - s.cowl.short), e.top - e.bottom - 2 * s.cowl.short
        found |= {
            f"RIM-{end}-TOP": (across, both),
            f"RIM-{end}-BOTTOM": (across, both),
            f"RIM-{end}-SIDE": (high, both),
        }
    return {key: (max(size), min(size)) for key, size in found.items()}


def _part(model: Model, key: str, name: str, sheet: Sheet, whole: Solid, cutters: Sequence[Solid],
          size: tuple[float, float]) -> Part:  # fmt: skip
    hand: Hand = "R" if key.endswith("-R") else "L" if key.endswith("-L") else ""
    kind = _kind(key)
    here = _meets(whole, cutters)
    body, stuff = less(whole, here) if here else whole, material(sheet.material)
    return Part(
        number=_number(model, kind, hand), name=f"{name}, {kind.lower().replace('-', ' ')}", form="plate", group=GROUP,
        purpose="cowling", material=sheet.material, stock=sheet_stock(sheet, stuff), hand=hand,
        places=(as_place(body.centre),), mass=body.volume * stuff.density,
        shape=Formed(body=body, length=size[0], outside=size[1]),
    )  # fmt: skip


def cowling_joints(model: Model, laid: Sequence[Laid]) -> Iterator[Joint]:
    """Panels to the angles beneath them; the angles at the ends to the nose plate and to the firewall."""
    s = shell(model, laid)
    if s is None:
        return
    middle, long = (s.front + s.rear) / 2, s.rear - s.front
    e = s.at(middle)
    for level, panel, z in (("UPPER", "TOP", e.top), ("LOWER", "BOTTOM", e.bottom)):
        for hand, side in HANDS:
            angle = _number(model, f"CORNER-{level}", hand)
            for other in (_number(model, panel), _number(model, "SIDE", hand)):
                yield _joint(s, angle, other, (middle, side * e.half, z), long)
    for end, x, plate in (
        ("FRONT", s.front, _number(model, "NOSE")),
        ("REAR", s.rear, sheet_number(model, s.cowl.firewall)),
    ):
        e = s.at(x)
        across, up, z = 2 * (e.half - s.cowl.short), e.top - e.bottom - 2 * s.cowl.short, (e.top + e.bottom) / 2
        for key, on, place, run in (
            ("TOP", "", (x, 0.0, e.top), across),
            ("BOTTOM", "", (x, 0.0, e.bottom), across),
            *(("SIDE", hand, (x, side * e.half, z), up) for hand, side in HANDS),
        ):
            for other in (plate, _number(model, key, on)):
                yield _joint(s, _number(model, f"RIM-{end}-{key}", on), other, place, run)


def _joint(s: Shell, angle: str, other: str, place: tuple[float, float, float], long: float) -> Joint:
    return Joint(number=f"{angle}-TO-{other.split('-', 2)[2]}", kind="bolt", parts=(other, angle), place=place,
                 primary=False, fastener=s.cowl.fastener, fasteners=1 + math.ceil(long / s.cowl.pitch - 1e-9),
                 length=long, note="screws into anchor nuts, or quarter-turn fasteners")  # fmt: skip


def cowling_checks(model: Model, laid: Sequence[Laid]) -> Iterator[Check]:
    """`cowling.in` and `cowling.out`: the area that is open against that the cooling was reckoned with, if it was.

    `cowling.angles`: whether an opening cuts an angle.
    """
    s = shell(model, laid)
    if s is not None:
        yield _angles_whole(model, s)
    for air, said in (("in", model.engine.cooling_inlet), ("out", model.engine.cooling_outlet)):
        if s is None:
            continue
        cutters, t = _cutters(model, air), s.cowl.sheet.thickness
        open_ = sum((w.volume - less(w, here).volume) / t for w in _panels(s).values() if (here := _meets(w, cutters)))
        wanted = said or math.nan
        steps = (Step("open", "what was cut out over the sheet's thickness", (), open_, "m2"),
                 Step("reckoned with", f"engine.cooling_{air}let", (), wanted, "m2"))  # fmt: skip
        yield check(f"cowling.{air}", f"cooling air {air}: area open against that reckoned with, part of it",
                    Band.exact(abs(open_ - wanted) / wanted), AGREE, "<=", "1", rule=f"within {AGREE:.0%} (designer's)",
                    method="measured on the bodies of the parts", steps=steps,
                    caveat="openings that pipes and cylinders fill are not counted")  # fmt: skip


def _angles_whole(model: Model, s: Shell) -> Check:
    cutters = _cutters(model)
    cut = [
        key
        for key, whole in {**_corners(s), **_rims(s)}.items()
        if (here := _meets(whole, cutters)) and less(whole, here).volume < whole.volume * (1 - 1e-6)
    ]
    return check("cowling.angles", "angles of the cowling that an opening cuts", Band.exact(float(len(cut))), 0.0, "<=",
                 "1", part=", ".join(_number(model, key) for key in cut), rule="none (common practice, no source)",
                 method="measured on the bodies of the parts")  # fmt: skip
