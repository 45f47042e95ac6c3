"""Hinges and horn of an aileron, as parts and joints.

A hinge is four plates cut from sheet, each with a foot bent square: two back to back on the web of the false spar,
round a bush on the hinge line, and one on either side of them on the front face of the aileron's spar, round the pin,
which clamps these on the bush. The horn is such a plate too. Where a spar is a web with strips, a block between these
backs each pair of feet. A plate is the hull of its foot and a disc about its hole; two holes, two hulls

    radius of a disc   two diameters of its hole (ac-43-13-1b chapter 4, of rivets, read second hand)
    height of a foot   (n - 1) pitch + 2 edge, n fasteners one over another

in a plane square to the hinge line, x aft of it and y over it. The hinge line is straight: from the hinge point at one
end of the aileron to that at the other. Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from shapely import MultiPoint, Point, Polygon, unary_union

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, place_key
from sparwright.base.record import locked, number
from sparwright.data.loader import fasteners, material
from sparwright.family.aileron import EdgeSpar
from sparwright.family.model import Model, Place
from sparwright.family.stock import Sheet
from sparwright.parts.aileron import Hinged, ailerons, run
from sparwright.parts.bolts import bolt_for
from sparwright.parts.frame import tube_section, tube_stock
from sparwright.parts.part import Bolt, Foot, Hand, Joint, JointKind, Mark, Part, Plate
from sparwright.parts.tail_fittings import HALF_HOLE
from sparwright.parts.tail_frame import BOLT_OVER, RIVET_OVER, ring_of
from sparwright.parts.wing import placed, sheet_stock
from sparwright.shape.frame import mirrored
from sparwright.shape.parted import aileron_inside, spar_rings
from sparwright.shape.rib import bend_allowance, inside
from sparwright.shape.solid import CORNERS, Pose, as_place, round_radius
from sparwright.shape.tube import Tube


@dataclass(frozen=True)
class Axes:
    """The hinge line of a right aileron and the directions square to it."""

    start: np.ndarray = number("m", "(3,) its inner end")
    along: np.ndarray = number("1", "(3,) outward along it")
    aft: np.ndarray = number("1", "(3,) aft, along the chord")
    over: np.ndarray = number("1", "(3,) up")

    def at(self, buttline: float) -> np.ndarray:
        """(3,) its point at a buttline."""
        return np.asarray(self.start + self.along * (buttline - self.start[1]) / self.along[1])


def hinge_axes(h: Hinged) -> Axes:
    """The hinge line of an aileron, right side."""
    (s, p), (t, q) = h.at(h.root), h.at(h.tip)
    a, b = np.array(s.place(*p.hinge)), np.array(t.place(*q.hinge))
    along = (b - a) / np.linalg.norm(b - a)
    chord = np.array([math.cos(s.angle), 0.0, -math.sin(s.angle)])
    aft = chord - (chord @ along) * along
    aft = aft / np.linalg.norm(aft)
    return Axes(locked(a), locked(along), locked(aft), locked(np.cross(aft, along)))


def horn_hole(model: Model, wing: str, lower: bool = True) -> tuple[float, float, float]:
    """Where the hole of a right aileron's horn is at rest. KeyError for a wing without an aileron's frame."""
    for h in ailerons(model):
        if h.wing.name == wing:
            axes, horn = hinge_axes(h), h.frame.horn
            return as_place(axes.at(horn.along) + (-horn.arm if lower else horn.arm) * axes.over)
    raise KeyError(wing)


# ------------------------------------------------------------------ plates with a foot


def footed(h: Hinged, sheet: Sheet, face: float, discs: dict[tuple[float, float], float], side: float) -> Plate:
    """A plate of the hinge's axes with its foot at x = face.

    discs: middle of each hole to its diameter, the hinge line at the origin; side: 1 for a foot along z, -1 against.
    """
    half = h.frame.hinges.height / 2
    corners = MultiPoint([(face, -half), (face, half)])
    each = [corners.union(disc(c, d)).convex_hull for c, d in discs.items()]
    return on_foot(h, sheet, face, unary_union(each), discs, side)


def disc(middle: tuple[float, float], diameter: float) -> Polygon:
    """What stays round a hole of some diameter, m."""
    return Point(middle).buffer(HALF_HOLE * diameter, quad_segs=CORNERS // 4)


def on_foot(h: Hinged, sheet: Sheet, face: float, shape: Polygon, discs: dict[tuple[float, float], float], side: float
            ) -> Plate:  # fmt: skip
    """A plate of some shape with holes and a foot, as `footed`."""
    k, t = h.frame.hinges, sheet.thickness
    half = k.height / 2
    behind = Polygon([(face, -9), (face, 9), (-math.copysign(9, face), 9), (-math.copysign(9, face), -9)])
    outline = ring_of(shape.intersection(behind))
    way = math.copysign(1.0, face)
    foot = Foot(start=(face, -half * way), end=(face, half * way), height=side * (k.foot - t),
                radius=k.bend_radius)  # fmt: skip
    flat = k.foot - 2 * (k.bend_radius + t) + bend_allowance(k.bend_radius, t)
    strip = Polygon([(face, -half), (face + way * flat, -half), (face + way * flat, half), (face, half)])
    blank = ring_of(Polygon(outline).union(strip.buffer(1e-9, join_style="mitre")))
    x = face + way * (flat - k.edge)
    holes = tuple((x, (i - (k.fasteners - 1) / 2) * k.pitch) for i in range(k.fasteners))
    return Plate(
        outline=locked(outline), holes=tuple(locked(_hole(c, d)) for c, d in discs.items()), thickness=t, blank=blank,
        foot=foot, marks=tuple(Mark(label=k.fastener, points=(q,)) for q in holes),
        bend=f"foot bent square {'towards' if side > 0 else 'away from'} you, {inches(k.bend_radius)} inside radius",
    )  # fmt: skip


def _hole(middle: tuple[float, float], diameter: float) -> np.ndarray:
    angle = np.linspace(0, 2 * np.pi, CORNERS, endpoint=False)
    ring = round_radius(diameter / 2) * np.array([np.cos(angle), -np.sin(angle)]).T
    return np.asarray(np.array(middle) + ring)


def plate_part(h: Hinged, number: str, name: str, purpose: str, sheet: Sheet, shape: Plate, poses: tuple[Pose, ...],
                hand: Hand, at: float) -> Part:  # fmt: skip
    """A plate with a foot as a part; at: its buttline, m; poses: where each of it stands."""
    stuff, body = material(sheet.material), shape.solid()
    return Part(
        number=number, name=f"{name}, {h.wing.name}", form="plate", group=f"wing {h.wing.name}", purpose=purpose,
        material=sheet.material, stock=sheet_stock(sheet, stuff), poses=poses, hand=hand, shape=shape,
        places=tuple(as_place(p.at(body.centre[None])[0]) for p in poses), mass=body.volume * stuff.density,
        at=f"BL {inches(at, 10**6)}",
    )  # fmt: skip


def across(place: np.ndarray) -> np.ndarray:
    """A place or direction (3,) on the other side."""
    return np.asarray(place * (1.0, -1.0, 1.0))


def _pair(axes: Axes, at: np.ndarray, off: float) -> tuple[Pose, ...]:
    """Where one plate stands on either side of a place of the hinge line, feet outward; on both wings."""
    found = []
    for side in (1.0, -1.0):
        origin, x, y = at + side * off * axes.along, axes.aft, -side * axes.over
        found.append(Pose(as_place(origin), as_place(x), as_place(y)))
        found.append(Pose(as_place(across(origin)), as_place(across(x)), as_place(-across(y))))
    return tuple(found)


# ------------------------------------------------------------------ hinges and horn as parts


def _numbers(h: Hinged, y: float) -> dict[str, str]:
    kinds = {"fork": "HINGE-PLATE", "bush": "HINGE-BUSH", "pin": "HINGE-PIN"}
    return {"eye": h.of_wing("HINGE-PLATE", place_key(y))} | {k: h.number(v, place_key(y)) for k, v in kinds.items()}


def faces(h: Hinged, y: float) -> tuple[float, float]:
    """x from the hinge line of what the feet stand on: the false spar's web, or block, and the aileron's spar.

    DesignProblem for a foot too high.
    """
    s, p = h.at(y)
    spar, k = h.frame.false_spar, h.frame.hinges
    rings = spar_rings(inside(s, h.wing.skins), p.wing_end, spar, h.wing.name)
    low, high = (float(f(rings[""][:, 1])) - p.hinge[1] for f in (np.min, np.max))
    taken = spar.thickness + spar.bend_radius if spar.flange else 0.0
    room = 2 * min(high - taken, -low - taken)
    if k.height > room:
        raise DesignProblem(
            f"wing {h.wing.name}, aileron.frame.hinges: a foot is {inches(k.height)} high and the false "
            f"spar leaves {inches(room)} at buttline {inches(y)}; fewer fasteners or a smaller pitch"
        )
    return (p.skin_end if spar.strip else p.wing_end + spar.thickness) - p.hinge[0], p.face - p.hinge[0]


def fitting_parts(h: Hinged) -> Iterator[Part]:
    """Every hinge, the horn, and what fastens their feet."""
    axes, k = hinge_axes(h), h.frame.hinges
    for y in k.places:
        yield from _hinge(h, axes, y)
    yield from _horn(h, axes)
    for name, spar, y in _backed(h):
        yield _block(h, name, spar, y)
    feet = 2 * len(k.places)
    yield _fasteners(h, h.of_wing("HINGE-FASTENERS"), 2 * feet * k.fasteners, _through(h.frame.false_spar), 0)
    yield _fasteners(
        h, h.number("FASTENERS"), 2 * (feet + 1 + len(h.frame.weights)) * k.fasteners, _through(h.frame.spar), 1
    )


def _through(spar: EdgeSpar) -> float:
    """Thickness a foot's fasteners go through, m."""
    return spar.thickness if spar.strip is None else spar.width


def _hinge(h: Hinged, axes: Axes, y: float) -> Iterator[Part]:
    k, n, at = h.frame.hinges, _numbers(h, y), axes.at(y)
    pin, t = fasteners()[k.pin].diameter, k.sheet.thickness
    wing, aileron = faces(h, y)
    bush = 2 * t + 2 * k.play
    eye = footed(h, k.sheet, wing, {(0.0, 0.0): k.bush.outside}, 1.0)
    yield plate_part(h, n["eye"], "hinge plate", "hinge", k.sheet, eye, _pair(axes, at, t / 2), "", y)
    fork = footed(h, k.sheet, aileron, {(0.0, 0.0): pin}, 1.0)
    yield plate_part(h, n["fork"], "aileron hinge plate", "hinge", k.sheet, fork, _pair(axes, at, (bush + t) / 2), "",
                      y)  # fmt: skip
    yield _rod(h, n["bush"], "hinge bush", k.bush.material, tube_stock(k.bush), axes, y, bush / 2, k.bush.outside,
               k.bush.wall, tube_section(k.bush))  # fmt: skip
    grip = bush + 2 * t
    yield _rod(h, n["pin"], f"hinge pin {k.pin}, nut and washers", "bought", f"{k.pin}, grip {inches(grip)}", axes, y,
               grip / 2 + pin, pin, 0.0, k.pin)  # fmt: skip


def _rod(h: Hinged, number: str, name: str, key: str, stock: str, axes: Axes, y: float, half: float, outside: float,
         wall: float, section: str) -> Part:  # fmt: skip
    at = axes.at(y)
    shape = Tube(path=locked([at - half * axes.along, at + half * axes.along]), outside=outside, wall=wall,
                 section=section)  # fmt: skip
    bolt = math.pi / 4 * outside**2 * (2 * half + (BOLT_OVER - 2) * outside) * material("4130N").density
    mass = bolt if key == "bought" else shape.solid().volume * material(key).density
    return Part(
        number=number, name=f"{name}, {h.wing.name}", form="tube", group=f"wing {h.wing.name}", purpose="hinge",
        material=key, stock=stock, places=(as_place(at), mirrored(as_place(at))), mass=mass, shape=shape,
        at=f"BL {inches(y, 10**6)}", band=0.2 if key == "bought" else 0.05,
    )  # fmt: skip


def _horn(h: Hinged, axes: Axes) -> Iterator[Part]:
    """A plate on either side, each the mirror of the other."""
    horn, at = h.frame.horn, axes.at(h.frame.horn.along)
    _, face = faces(h, horn.along)
    ends = (-horn.arm,) if horn.arms == 1 else (-horn.arm, horn.arm)
    hands: tuple[tuple[Hand, float], ...] = (("R", 1.0), ("L", -1.0))
    for hand, side in hands:
        shape = footed(h, horn.sheet, face, {(0.0, w): horn.hole for w in ends}, side)
        origin, x, y = (v if side > 0 else across(v) for v in (at, axes.aft, axes.over))
        pose = Pose(as_place(origin), as_place(x), as_place(y))
        yield plate_part(h, h.number("HORN", "", hand), "aileron horn", "control", horn.sheet, shape, (pose,), hand,
                          horn.along)  # fmt: skip


def _backed(h: Hinged) -> Iterator[tuple[str, EdgeSpar, float]]:
    """(number of a spar, the spar, buttline) wherever feet stand on a web with strips."""
    f = h.frame
    for name, spar, places in (
        (h.of_wing("FALSE-SPAR"), f.false_spar, f.hinges.places),
        (h.number("SPAR"), f.spar, (*f.hinges.places, f.horn.along, *(w.along for w in f.weights))),
    ):
        if spar.strip is not None:
            closed = f.closed_at if spar is f.spar and name == h.number("SPAR") else (lambda y: False)
            yield from ((name, spar, y) for y in places if not closed(y))


def _block(h: Hinged, name: str, spar: EdgeSpar, y: float) -> Part:
    """Fills the space between the strips behind a pair of feet."""
    assert spar.strip is not None
    rings = []
    for at in (y - h.frame.hinges.half, y + h.frame.hinges.half):
        s, p = h.at(at)
        false = name == h.of_wing("FALSE-SPAR")
        body, x = (inside(s, h.wing.skins), p.wing_end) if false else (aileron_inside(s, h.wing, p), p.face)
        found = spar_rings(body, x, spar, h.wing.name)
        low, up = found["lower"], found["upper"]
        rings.append(placed(s, map(tuple, [low[3], low[2], up[1], up[0]])))
    section = f"{inches(float(np.ptp(rings[0][:, 2])))} x {inches(spar.strip.width)}"
    key = spar.strip.material
    stock = f"{material(key).title}, {section}"
    number = f"{name}-BLOCK-{place_key(y)}"
    return run(h, number, "block behind hinge feet", "edge spar", key, stock, section, rings)


def _fasteners(h: Hinged, number: str, count: int, through: float, which: int) -> Part:
    """All that fastens the feet on one spar, both sides, as one lot; their holes are marks on the feet."""
    k = h.frame.hinges
    one = fasteners()[k.fastener]
    long = k.sheet.thickness + through + (BOLT_OVER if one.kind == "bolt" else RIVET_OVER) * one.diameter
    key = "6061-T6" if "aluminium" in k.fastener or one.kind == "solid rivet" else "4130N"
    places = [hinge_axes(h).at(y) + faces(h, y)[which] * hinge_axes(h).aft for y in k.places]
    x, _, z = np.mean(places, axis=0)
    return Part(
        number=number, name=f"{count} {k.fastener} of hinges, {h.wing.name}", form="item", group=f"wing {h.wing.name}",
        purpose="bought", material="bought", stock=f"{count} {k.fastener}", places=((float(x), 0.0, float(z)),),
        mass=count * math.pi / 4 * one.diameter**2 * long * material(key).density, band=0.5,
    )  # fmt: skip


# ------------------------------------------------------------------ joints


def fitting_joints(h: Hinged) -> Iterator[Joint]:
    """Feet on both spars, pin and bush, horn."""
    k, axes = h.frame.hinges, hinge_axes(h)
    for name, spar, y in _backed(h):
        long, number = 2 * k.half, f"{name}-BLOCK-{place_key(y)}"
        assert spar.strip is not None
        yield Joint(
            number=f"{number}-JOINT", kind="glue", place=as_place(axes.at(y)), primary=True, count=2, length=long,
            parts=(number, name, f"{name}-UPPER-STRIP", f"{name}-LOWER-STRIP"),
            area=long * (k.height + 2 * spar.strip.width), note="on web and both strips; area at least",
        )  # fmt: skip
    for y in k.places:
        n, place = _numbers(h, y), as_place(axes.at(y))
        stand = h.of_wing(f"FALSE-SPAR-BLOCK-{place_key(y)}" if h.frame.false_spar.strip else "FALSE-SPAR")
        yield foot_joint(h, f"{n['eye']}-JOINT", stand, (n["eye"],), h.of_wing("HINGE-FASTENERS"), place, 2,
                    h.frame.false_spar)  # fmt: skip
        yield foot_joint(h, f"{n['fork']}-JOINT", h.number("SPAR"), (n["fork"],), h.number("FASTENERS"), place, 2,
                    h.frame.spar)  # fmt: skip
        yield Joint(
            number=f"{n['pin']}-JOINT", kind="hinge", place=place, primary=True, fastener=k.pin, fasteners=1, count=2,
            parts=(n["bush"], n["eye"], n["fork"], n["pin"]), bolt=_pin_bolt(h),
            note="castellated nut and cotter; tight on the bush, the wing's two plates turn freely",
        )  # fmt: skip
    number, place = h.number("HORN-JOINT"), as_place(axes.at(h.frame.horn.along))
    pair = (h.number("HORN", "", "R"), h.number("HORN", "", "L"))
    yield foot_joint(h, number, h.number("SPAR"), pair, h.number("FASTENERS"), place, 1, h.frame.spar)


def _pin_bolt(h: Hinged) -> Bolt:
    k = h.frame.hinges
    t = k.sheet.thickness
    under = [("plate", t), ("bush", 2 * t + 2 * k.play), ("plate", t)]
    return bolt_for(k.pin, under, "outboard", turns=True, limit="clamps the bush, not the wing's two plates")


def foot_joint(h: Hinged, number: str, spar: str, plates: tuple[str, ...], lot: str, place: Place, feet: int,
          on: EdgeSpar) -> Joint:  # fmt: skip
    """Feet on a spar; feet: how many on one side; on: the spar as the file says it."""
    k = h.frame.hinges
    kind = fasteners()[k.fastener].kind
    behind = on.strip.width if on.strip else 0.0
    under = [("foot", k.sheet.thickness), ("web" + (" and block" if behind else ""), on.thickness + behind)]
    bolt = bolt_for(k.fastener, under, "forward", limit="large washers on wood; the block takes the clamping")
    how: JointKind = "bolt" if kind == "bolt" else "rivet"
    pulled = "; common pulled rivets are not for certificated structure (AC 43.13-1B 4-57)" if "blind" in kind else ""
    return Joint(
        number=number, kind=how, parts=(spar, *plates, lot), place=place, primary=True, fastener=k.fastener,
        fasteners=feet * k.fasteners, count=2, note=f"{inches(k.edge)} to every edge{pulled}",
        bolt=bolt if kind == "bolt" else None,
    )  # fmt: skip
