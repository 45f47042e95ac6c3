"""Spar roots on the fuselage: pin, straps, lugs and the four bolts through the spar, under what the frame hands over.

The pin frees the spar about its own line only; the other two moments go over it as pairs of forces in the two straps:

    f_along = F_along/2 +- M_up/s        f_up = F_up/2 -+ M_along/s        s between the straps' middles
    pin     each strap against its lug: R_s = f/P_s, R_b = f (t_strap + t_lug)/2/M_u
    strap   as a lug at the pin; neck and first row of bolts bent by f_up, the neck sideways by F_aft as an S besides
    lug     as a lug at the pin; its foot pulled, bent in its plane and sideways as a cantilever, half of F_aft each
    bolts   four in a square: f and f_up times the way from the pin, F_aft and M_up carried to them as a pair

Ultimate loads of the frame times the fitting factor. Elastic, no plastic bending: the safe side. Right and left are one
check, the worse; of the two straps the worse as well. Sources: strength/joints; statics.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.data.factors import highest, table
from sparwright.data.loader import fasteners, material
from sparwright.family.model import Model
from sparwright.family.stock import Sheet
from sparwright.margins.braces import BOLT_PULL, Materials, Strengths, leaned_on
from sparwright.margins.under_bolts import under_bolts
from sparwright.margins.worst import Worst, told, worst_of
from sparwright.parts.inside_spar import spar_bolts
from sparwright.parts.lugs import ROUND_NODE
from sparwright.parts.number import part_number
from sparwright.parts.roots import RootSpot, root_spots, waist
from sparwright.parts.tail_fittings import HALF_HOLE
from sparwright.strength.allowable import Allowable
from sparwright.strength.joints import group, lug, pin, plate, wood
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered
from sparwright.structure.wings import MIRROR

METHOD = "frame in second order; root's moments as pairs in both straps"
STATICS = "statics"
SIDES = ("FORE", "AFT")


@dataclass(frozen=True)
class RootLoads:
    """One root at ultimate load with its factor; last axis: right fore, right aft, left fore, left aft strap."""

    bars: np.ndarray = number("1", "(4,) places of the frame's bars")
    along: np.ndarray = number("N", "(v, c, 4) on a strap at the pin, outwards along the spar: plus presses it")
    up: np.ndarray = number("N", "(v, c, 4) up the spar")
    aft: np.ndarray = number("N", "(v, c, 4) along the pin, of both straps")

    @property
    def size(self) -> np.ndarray:
        """(v, c, 4) N in the plane of the strap."""
        return np.asarray(np.hypot(self.along, self.up))

    def there(self, at: Worst) -> tuple[float, float, float]:
        """(along, up, aft) where something is worst; at.end holds the strap."""
        return tuple(float(v[at.variant, at.case, at.end]) for v in (self.along, self.up, self.aft))  # type: ignore[return-value]


def root_checks(model: Model, answer: Answered, strengths: Strengths) -> Iterator[Check]:
    """Pin, straps, lugs and bolts of every root."""
    for spot in root_spots(model):
        loads = root_loads(model, spot, answer)
        if loads.bars.size:
            for made in (_pin, _strap_eye, _neck, _first_row, _lugs, _foot, _bolts):
                yield made(model, spot, loads, answer, strengths)


def root_loads(model: Model, spot: RootSpot, answer: Answered) -> RootLoads:
    """What each strap gets at the pin, from the frame's bar between spar and node."""
    part = f"{model.name}-{spot.root.wing}-ROOT-{spot.root.spar}".upper()
    bars = answer.skeleton.which(lambda b: b.what == "link" and b.part == part)
    factor = highest(["fitting"])[0]
    own = np.array([spot.axes.along, spot.axes.up, spot.axes.aft])
    found = []
    for i in sorted(bars, key=lambda i: -answer.skeleton.frame.place[answer.skeleton.frame.ends[i, 0], 1]):
        axes = own_axes(answer, int(i))
        left = answer.skeleton.frame.place[answer.skeleton.frame.ends[i, 0], 1] < 0
        turn = MIRROR if left else np.ones(3)
        F = -factor * (answer.force[:, :, i, 0:3] @ axes) * turn  # on the spar's straps
        M = -factor * (answer.force[:, :, i, 3:6] @ axes) * (-turn if left else turn)  # a moment mirrors the other way
        found.append(shared(F @ own.T, M @ own.T, spot.axes.width + spot.root.strap.thickness))
    if not found:
        none = np.zeros((len(answer.variants), len(answer.laid), 0))
        return RootLoads(bars, none, none, none)
    both = np.concatenate(found, axis=2)  # (v, c, 4, 3)
    order = sorted(bars, key=lambda i: -answer.skeleton.frame.place[answer.skeleton.frame.ends[i, 0], 1])
    return RootLoads(np.repeat(order, 2), both[..., 0], both[..., 1], both[..., 2])


def shared(force: np.ndarray, moment: np.ndarray, apart: float) -> np.ndarray:
    """(..., 2, 3) N on the fore and the aft strap of force and moment (..., 3) at the pin: along, up, aft.

    The third is all of what goes along the pin, told with both.

    >>> shared(np.array([0.0, 200.0, 0.0]), np.array([0.0, 5.0, 0.0]), 0.05).tolist()
    [[-100.0, 100.0, 0.0], [100.0, 100.0, 0.0]]
    """
    pair = np.stack([moment[..., 1], -moment[..., 0], 0 * moment[..., 2]], axis=-1) / apart
    half = np.stack([force[..., 0] / 2, force[..., 1] / 2, force[..., 2]], axis=-1)
    return np.stack([half - pair, half + pair], axis=-2)


def own_axes(answer: Answered, i: int) -> np.ndarray:
    """(3, 3) a bar's own x, y, z in the aeroplane, as the frame's solver has them."""
    frame = answer.skeleton.frame
    a, b = frame.place[frame.ends[i]] + frame.arm[i]
    x = (b - a) / np.linalg.norm(b - a)
    y = np.cross(frame.up[i], x)
    y = y / np.linalg.norm(y)
    return np.array([x, y, np.cross(x, y)])


# ------------------------------------------------------------------ one check of each kind


def _told(model: Model, spot: RootSpot, loads: RootLoads, use: np.ndarray, answer: Answered, kind: str, words: str,
          part: str, found: tuple[Allowable, ...], steps: Callable[[float, float, float], tuple[Step, ...]],
          caveat: str = "") -> Check:  # fmt: skip
    """The check of uses (v, c, 4)."""
    at = worst_of(use[..., None], np.arange(4))
    at = Worst(at.use, at.variant, at.case, int(loads.bars[at.bar]), at.bar, at.lost)
    factor, key = highest(["fitting"])
    row = table("special")[key]
    here = loads.there(at)
    lines = (
        Step(row.title, "factor on the load besides 1.5", (), factor, "1", str(row.source)),
        *(Step(f"force on the strap {w}, at the pin", "F/2 and the moment's pair M/s, with the factor", (), v, "N",
               "frame, second order") for w, v in zip(("along the spar", "up it"), here[:2], strict=True)),
        Step("force along the pin, both straps", "frame, with the factor", (), here[2], "N", "frame, second order"),
    )  # fmt: skip
    name = f"{spot.wing.name} {spot.spar.name} spar's root"
    number = part_number(model.name, spot.wing.name, "ROOT", spot.spar.name, part)
    return told(f"strength.root.{spot.wing.name}.{spot.spar.name}.{kind}", f"{name}: {words}", at, answer, number,
                found, (*lines, *steps(*here)), method=METHOD, caveat=caveat)  # fmt: skip


def _pin(model: Model, spot: RootSpot, loads: RootLoads, answer: Answered, strengths: Strengths) -> Check:
    sheared, d = strengths.fastener(spot.root.pin, "shear"), spot.round_pin
    lever, M_u = (spot.root.strap.thickness + spot.root.lug.thickness) / 2, float(pin.moment_strength(d, BOLT_PULL))
    use = pin.shear_and_bending(loads.size / sheared.value, loads.size * lever / M_u)

    def steps(along: float, up: float, aft: float) -> tuple[Step, ...]:
        f = float(np.hypot(along, up))
        R_s, R_b = f / sheared.value, f * lever / M_u
        return (
            Step("one shear plane", "R_s = f/P_s", (("f", f, "N"), ("P_s", sheared.value, "N")), R_s, "1",
                 str(sheared.source)),
            Step("bending between strap and lug", "R_b = f (t_s + t_l)/2/M_u, M_u = pi d^3 F_b/32",
                 (("f", f, "N"), ("(t_s + t_l)/2", lever, "m"), ("M_u", M_u, "N m")), R_b, "1", STATICS),
            *verdict(float(np.hypot(R_s, R_b)), "sqrt(R_s^2 + R_b^2)", (("R_s", R_s, "1"), ("R_b", R_b, "1")),
                     source="en-1993-1-8 Table 3.10"),
        )  # fmt: skip

    return _told(model, spot, loads, np.asarray(use), answer, "pin", f"pin {spot.root.pin} in shear and bending", "PIN",
                 (sheared,), steps, "force along the pin is left to head and nut")  # fmt: skip


def eye(spot: RootSpot, sheet: Sheet, strengths: Materials) -> tuple[lug.Lug, tuple[Allowable, ...]]:
    """Strap or lug round the pin."""
    names = ("tension", "yield_tension", "shear", "bearing", "bearing_close")
    found = [strengths(sheet.material, n, sheet.thickness) for n in names]
    pull, yields, shear, bears, close = (a.value for a in found)
    d, e = spot.round_pin, spot.root.edge
    made = lug.Lug(width=min(2 * e, 5 * d), hole=d, pin=d, edge=e, thickness=sheet.thickness, tension=pull,
                   yields=yields, shear=shear, bearing=bears, bearing_close=close)  # fmt: skip
    return made, leaned_on(made, found)


def _strap_eye(model: Model, spot: RootSpot, loads: RootLoads, answer: Answered, strengths: Strengths) -> Check:
    made, found = eye(spot, spot.root.strap, strengths.material)
    use = lug.use(loads.size, np.arctan2(np.abs(loads.up), np.abs(loads.along)), made)

    def steps(along: float, up: float, aft: float) -> tuple[Step, ...]:
        return lug.working(float(np.hypot(along, up)), float(np.arctan2(abs(up), abs(along))), made)

    return _told(model, spot, loads, use, answer, "strap_eye", "strap at the pin", "STRAP-FORE", found, steps,
                 lug.outside_range(made))  # fmt: skip


def _neck(model: Model, spot: RootSpot, loads: RootLoads, answer: Answered, strengths: Strengths) -> Check:
    sheet, b = spot.root.strap, 2 * spot.root.edge
    found = tuple(strengths.material(sheet.material, n, sheet.thickness) for n in ("tension", "yield_compression",
                                                                                   "youngs"))  # fmt: skip
    F, crush, youngs = (a.value for a in found)
    long = waist(spot) - spot.flat_pin[0]
    t = sheet.thickness

    def parts(along: np.ndarray, up: np.ndarray, aft: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        pulled = np.maximum(-along, 0.0) / (b * t * F)
        direct = np.maximum(pulled, plate.strip_use(along, b, t, long, youngs, crush))
        return direct, 6 * np.abs(up) * long / (t * b**2 * F), 6 * np.abs(aft) / 2 * long / 2 / (b * t**2 * F)

    def steps(along: float, up: float, aft: float) -> tuple[Step, ...]:
        R = [float(v) for v in parts(np.asarray(along), np.asarray(up), np.asarray(aft))]
        size = (("b", b, "m"), ("t", t, "m"), ("l", long, "m"), ("F_tu", F, "Pa"))
        return (
            Step("pulled, or pressed as a strip with free ends", "R_1 = f/(b t F)", (("f", along, "N"), *size), R[0],
                 "1", STATICS),
            Step("bent in its plane", "R_2 = 6 f_up l/(t b^2 F_tu)", (("f_up", up, "N"), *size), R[1], "1", STATICS),
            Step("bent sideways as an S", "R_3 = 6 (F_aft/2) (l/2)/(b t^2 F_tu)", (("F_aft", aft, "N"), *size), R[2],
                 "1", STATICS),
            *verdict(sum(R), "R_1 + R_2 + R_3", tuple((f"R_{k}", r, "1") for k, r in enumerate(R, 1))),
        )  # fmt: skip

    return _told(model, spot, loads, np.asarray(sum(parts(loads.along, loads.up, loads.aft))), answer, "strap_neck",
                 "neck of the strap between pin and bolts", "STRAP-FORE", found, steps,
                 "straps share what goes along the pin; as wide as the eye at its narrowest")  # fmt: skip


def _first_row(model: Model, spot: RootSpot, loads: RootLoads, answer: Answered, strengths: Strengths) -> Check:
    sheet, d, p = spot.root.strap, fasteners()[spot.root.bolt].diameter, spot.root.pitch
    pull = strengths.material(sheet.material, "tension", sheet.thickness)
    t, W = sheet.thickness, p + 2 * HALF_HOLE * d
    area, modulus = t * (W - 2 * d), t * (W**3 / 12 - 2 * (d**3 / 12 + d * (p / 2) ** 2)) / (W / 2)
    long = -p / 2 - spot.flat_pin[0]

    def parts(along: np.ndarray, up: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return np.abs(along) / (area * pull.value), np.abs(up) * long / (modulus * pull.value)

    def steps(along: float, up: float, aft: float) -> tuple[Step, ...]:
        R = [float(v) for v in parts(np.asarray(along), np.asarray(up))]
        return (
            Step("net section at two bolts", "R_1 = f/((W - 2 d) t F_tu)",
                 (("f", along, "N"), ("W", W, "m"), ("d", d, "m"), ("t", t, "m"), ("F_tu", pull.value, "Pa")), R[0],
                 "1", STATICS),
            Step("bent there", "R_2 = f_up l/(Z F_tu), Z of the net section",
                 (("f_up", up, "N"), ("l", long, "m"), ("Z", modulus, "m3"), ("F_tu", pull.value, "Pa")), R[1], "1",
                 STATICS),
            *verdict(R[0] + R[1], "R_1 + R_2", (("R_1", R[0], "1"), ("R_2", R[1], "1"))),
        )  # fmt: skip

    return _told(model, spot, loads, np.asarray(sum(parts(loads.along, loads.up))), answer, "strap_row",
                 "strap at its first two bolts", "STRAP-FORE", (pull,), steps)  # fmt: skip


def _away(spot: RootSpot) -> tuple[np.ndarray, float]:
    """((2,) direction from the node to the pin in the straps' plane, along and up; its length m)."""
    off = spot.pin - spot.node
    flat = np.array([off @ spot.axes.along, off @ spot.axes.up])
    return flat / np.linalg.norm(flat), float(np.linalg.norm(flat))


def _in_lug(spot: RootSpot, along: np.ndarray, up: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(out of the node, across) of a force on the strap: the lug gets the opposite, which is as hard on it."""
    (x, y), _ = _away(spot)
    return np.abs(along * x + up * y), np.abs(up * x - along * y)


def _lugs(model: Model, spot: RootSpot, loads: RootLoads, answer: Answered, strengths: Strengths) -> Check:
    made, found = eye(spot, spot.root.lug, strengths.material)
    out, across = _in_lug(spot, loads.along, loads.up)

    def steps(along: float, up: float, aft: float) -> tuple[Step, ...]:
        o, a = (float(v) for v in _in_lug(spot, np.asarray(along), np.asarray(up)))
        return lug.working(float(np.hypot(o, a)), float(np.arctan2(a, o)), made)

    return _told(model, spot, loads, lug.use(loads.size, np.arctan2(across, out), made), answer, "lugs",
                 f"lugs on node {spot.root.node} at the pin", "LUG-FORE", found, steps,
                 lug.outside_range(made))  # fmt: skip


def _foot(model: Model, spot: RootSpot, loads: RootLoads, answer: Answered, strengths: Strengths) -> Check:
    sheet = spot.root.lug
    near = strengths.material(sheet.material, "tension_near_weld", sheet.thickness)
    radius = max(t.radius for t in spot.tubes)
    t, b, F = sheet.thickness, 2 * min(spot.root.edge, ROUND_NODE * 2 * radius), near.value
    high = max(_away(spot)[1] - radius, 0.0)

    def parts(along: np.ndarray, up: np.ndarray, aft: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        out, across = _in_lug(spot, along, up)
        side = np.abs(aft) / 2
        return out / (b * t * F), 6 * across * high / (t * b**2 * F), 6 * side * high / (b * t**2 * F)

    def steps(along: float, up: float, aft: float) -> tuple[Step, ...]:
        R = [float(v) for v in parts(np.asarray(along), np.asarray(up), np.asarray(aft))]
        out, across = (float(v) for v in _in_lug(spot, np.asarray(along), np.asarray(up)))
        size = (("b", b, "m"), ("t", t, "m"), ("h", high, "m"), ("F_near", F, "Pa"))
        return (
            Step("pulled off the node", "R_1 = f_out/(b t F_near)", (("f_out", out, "N"), *size), R[0], "1", STATICS),
            Step("bent in its plane", "R_2 = 6 f_across h/(t b^2 F_near)", (("f_across", across, "N"), *size), R[1],
                 "1", STATICS),
            Step("bent sideways", "R_3 = 6 (F_aft/2) h/(b t^2 F_near)", (("F_aft", aft, "N"), *size), R[2], "1",
                 STATICS),
            *verdict(sum(R), "R_1 + R_2 + R_3", tuple((f"R_{k}", r, "1") for k, r in enumerate(R, 1))),
        )  # fmt: skip

    return _told(model, spot, loads, np.asarray(sum(parts(loads.along, loads.up, loads.aft))), answer, "lug_foot",
                 f"foot of the lugs on node {spot.root.node}", "LUG-FORE", (near,), steps,
                 "as broad as the narrower of its two round ends; its seams are not in it")  # fmt: skip


def _bolts(model: Model, spot: RootSpot, loads: RootLoads, answer: Answered, strengths: Strengths) -> Check:
    r, d = spot.root, fasteners()[spot.root.bolt].diameter
    sheared, stuff = strengths.fastener(r.bolt, "shear"), material(spot.spar.cap.material)
    places, apart, wooden = np.array(spar_bolts(r.pitch)), spot.axes.width + r.strap.thickness, stuff.kind == "wood"
    x, y = spot.flat_pin

    def plane(along: np.ndarray, up: np.ndarray, aft: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        more = np.abs(along) + np.abs(aft) * -x / apart  # what goes along the pin bends the spar by its way from it
        return np.sign(along) * more, up, x * up - y * along

    def worst(along: np.ndarray, up: np.ndarray, aft: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        a, u, M = plane(along, up, aft)
        each = group.loads(places, (a, u), M)
        size = np.hypot(each[0], each[1])
        k = size.argmax(axis=0)[None]
        turned = np.arctan2(np.abs(each[1]), np.abs(each[0]))
        return np.take_along_axis(size, k, 0)[0], np.take_along_axis(turned, k, 0)[0]

    def used(f: np.ndarray, angle: np.ndarray) -> np.ndarray:
        one = pin.shear_use(f, sheared.value)
        grain = wood.use(2 * f, angle, d, spot.axes.width, stuff.density, BOLT_PULL) if wooden else one
        return np.asarray(np.maximum(one, grain))

    def steps(along: float, up: float, aft: float) -> tuple[Step, ...]:
        a, u, M = (float(v) for v in plane(np.asarray(along), np.asarray(up), np.asarray(aft)))
        f, angle = (float(v) for v in worst(np.asarray(along), np.asarray(up), np.asarray(aft)))
        own = (Step("along the spar, with what bends it fore and aft", "f + F_aft l/s",
                    (("f", along, "N"), ("F_aft", aft, "N"), ("l", -x, "m"), ("s", apart, "m")), a, "N", STATICS),
               *group.working(places, (a, u), M, sheared.value))  # fmt: skip
        if not wooden:
            return own
        return (*own, *wood.working(2 * f, angle, d, spot.axes.width, stuff.density, BOLT_PULL),
                *verdict(float(used(np.asarray(f), np.asarray(angle))), "the worse of bolt and wood",
                         (("f of one face", f, "N"),)))  # fmt: skip

    use = used(*worst(loads.along, loads.up, loads.aft))
    return _told(model, spot, loads, use, answer, "bolts", f"bolts {r.bolt} of the straps through the spar", "BOLTS",
                 (sheared, under_bolts(spot.spar, "straps")), steps,
                 "wood on both faces loaded as the worse one" if wooden else "")  # fmt: skip
